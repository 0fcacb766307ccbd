package substance

import (
	"cmp"
	"slices"
)

// Jurisdiction is where an exposure limit applies.
type Jurisdiction string

// The jurisdictions that limits are held for.
const (
	UnitedStates  Jurisdiction = "us"
	California    Jurisdiction = "us-ca"
	Ontario       Jurisdiction = "ca-on"
	EuropeanUnion Jurisdiction = "eu"
	UnitedKingdom Jurisdiction = "gb"
	Germany       Jurisdiction = "de"
	OtherPlace    Jurisdiction = "other"
)

// authorityOf ties the authorities of limits to places. Law tells whether the figure binds an employer there by itself:
// NIOSH recommends, and directives bind through national law.
type limitAuthority struct {
	name  string
	place Jurisdiction
	law   bool
	molar float64 // litres per mole its tables are printed with
}

var limitAuthorities = []limitAuthority{
	{"OSHA PEL", UnitedStates, true, MolarVolume25C},
	{"NIOSH REL", UnitedStates, false, MolarVolume25C},
	{"Cal/OSHA PEL", California, true, MolarVolume25C},
	{"Ontario OEL", Ontario, true, MolarVolume25C},
	{"EU BOELV", EuropeanUnion, true, MolarVolume20C},
	{"EU IOELV", EuropeanUnion, false, MolarVolume20C},
	{"UK WEL", UnitedKingdom, true, MolarVolume20C},
	{"DE AGW", Germany, true, MolarVolume20C},
}

func authorityNamed(name string) limitAuthority {
	for _, a := range limitAuthorities {
		if a.name == name {
			return a
		}
	}
	return limitAuthority{name: name, place: OtherPlace, law: true, molar: MolarVolume25C}
}

// Jurisdictions lists the places in the order that limits are shown.
func Jurisdictions() []Jurisdiction {
	return []Jurisdiction{UnitedStates, California, Ontario, EuropeanUnion, UnitedKingdom, Germany, OtherPlace}
}

// Jurisdiction tells where the limit applies.
func (l Limit) Jurisdiction() Jurisdiction { return authorityNamed(l.Authority).place }

// Who is whose limit it is, in words; a borrowed one says so.
func (l Limit) Who() string {
	if l.Borrowed {
		return "foreign " + l.Authority
	}
	return l.Authority
}

// Borrowed are the strictest shift limit and the strictest short-term limit or ceiling held for other places than j, for a
// place that has none: another country's figure says more than no figure. Only limits whose mg/m³ are known are compared;
// molar is the substance's molar mass.
func (s *Substance) Borrowed(j Jurisdiction, molar Value) []Limit {
	var best [2]*Limit
	var least [2]float64
	for i := range s.Limits {
		l := &s.Limits[i]
		mg, _, ok := l.InMgM3(molar)
		if !ok || l.Jurisdiction() == j || l.Basis != "" {
			continue
		}
		k := 1
		if l.Kind == TWA {
			k = 0
		}
		if best[k] == nil || mg < least[k] {
			best[k], least[k] = l, mg
		}
	}
	var out []Limit
	for _, l := range best {
		if l != nil {
			b := *l
			b.Borrowed = true
			out = append(out, b)
		}
	}
	return out
}

// Binding tells whether the limit is law of its own where it applies; others are recommendations or, for the indicative
// limits of the EU, bind through national law.
func (l Limit) Binding() bool { return !l.Borrowed && authorityNamed(l.Authority).law }

// LimitsFor lists the limits of a place, binding ones first, then in the order shift mean, short term, ceiling.
func (s *Substance) LimitsFor(j Jurisdiction) []Limit {
	var out []Limit
	for _, l := range s.Limits {
		if l.Jurisdiction() == j {
			out = append(out, l)
		}
	}
	order := map[string]int{TWA: 0, STEL: 1, Ceiling: 2}
	slices.SortStableFunc(out, func(a, b Limit) int {
		if a.Binding() != b.Binding() {
			if a.Binding() {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(a.Authority, b.Authority), cmp.Compare(order[a.Kind], order[b.Kind]))
	})
	return out
}

// Molar volumes of a vapour in litres per mole at 101.325 kPa, as exposure tables use them: 29 CFR 1910.1000 Table Z-1
// note b works at 25 °C and 760 torr, European tables at 20 °C.
const (
	MolarVolume25C = 24.45
	MolarVolume20C = 24.06
)

// MolarVolume is the volume of one mole of ideal gas in litres at a temperature in °C and 101.325 kPa. It is NaN-free:
// temperatures at or below absolute zero give 0.
func MolarVolume(tempC float64) float64 {
	k := tempC + zeroC
	if k <= 0 {
		return 0
	}
	return gasConstant * k / 101.325
}

// MgM3FromPPM turns parts per million by volume into mg/m³: ppm · M / V, with M in g/mol and V in litres per mole.
func MgM3FromPPM(ppm, molarMass, molarVolume float64) float64 { return ppm * molarMass / molarVolume }

// PPMFromMgM3 is the reverse of MgM3FromPPM.
func PPMFromMgM3(mgM3, molarMass, molarVolume float64) float64 { return mgM3 * molarVolume / molarMass }

// InMgM3 is the limit in mg/m³: as printed, or worked out from ppm with the molar volume its authority uses, which
// computed tells. known is false when neither is possible.
func (l Limit) InMgM3(molarMass Value) (mgM3 float64, computed, known bool) {
	switch {
	case l.MgM3 > 0:
		return l.MgM3, l.Computed, true
	case l.PPM > 0 && molarMass.Known && molarMass.V > 0:
		return MgM3FromPPM(l.PPM, molarMass.V, authorityNamed(l.Authority).molar), true, true
	}
	return 0, false, false
}

// InPPM is the limit in ppm, as InMgM3 is in mg/m³. Limits on dusts, fumes and mists have none: a limit with a Basis
// that is not a vapour is not turned into ppm.
func (l Limit) InPPM(molarMass Value) (ppm float64, computed, known bool) {
	switch {
	case l.PPM > 0:
		return l.PPM, false, true
	case l.MgM3 > 0 && l.Basis == "" && molarMass.Known && molarMass.V > 0:
		return PPMFromMgM3(l.MgM3, molarMass.V, authorityNamed(l.Authority).molar), true, true
	}
	return 0, false, false
}
