package substance

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sixteen/ghs"
)

// Every test in this file runs over every row of the embedded table. A row that breaks a rule for a known reason stands
// in exceptions with that reason; an exception that no longer applies fails too, so that the list stays true.

type checker struct {
	t    *testing.T
	used map[string]bool
	list map[string]string // what → reason
}

func check(t *testing.T, list map[string]string) *checker {
	return &checker{t: t, used: map[string]bool{}, list: list}
}

func (c *checker) fail(id, format string, args ...any) {
	if _, known := c.list[id]; known {
		c.used[id] = true
		return
	}
	c.t.Errorf("%q: %s", id, fmt.Sprintf(format, args...))
}

func (c *checker) done() {
	for id, reason := range c.list {
		if !c.used[id] {
			c.t.Errorf("exception %q (%s) no longer applies", id, reason)
		}
		if reason == "" {
			c.t.Errorf("exception %q has no reason", id)
		}
	}
}

func known(vs ...Value) bool {
	for _, v := range vs {
		if !v.Known {
			return false
		}
	}
	return true
}

// An Antoine equation whose range reaches the boiling point must give one atmosphere there: within 3 K, which is about
// 10 % of the pressure.
func TestAntoineGivesOneAtmosphereAtTheBoilingPoint(t *testing.T) {
	c := check(t, nil)
	n := 0
	for _, s := range Embedded().All() {
		if s.Antoine == nil || !s.BoilingPointC.Known {
			continue
		}
		k := s.BoilingPointC.V + zeroC
		if k < s.Antoine.TminK || k > s.Antoine.TmaxK {
			continue
		}
		n++
		if p := s.VapourPressure(s.BoilingPointC.V); math.Abs(p.Pa/101325-1) > 0.11 || p.Estimate {
			c.fail(s.CAS, "%s: %.0f Pa at the boiling point %g °C", s.Name, p.Pa, s.BoilingPointC.V)
		}
	}
	c.done()
	if n < 60 {
		t.Errorf("only %d equations reach the boiling point", n)
	}
}

// The value at 20 °C and the equation must agree within 6 % where the range reaches 20 °C.
func TestAntoineAgreesWithTheValueHeld(t *testing.T) {
	n := 0
	for _, s := range Embedded().All() {
		if s.Antoine == nil || !s.VapourPressurePa.Known || s.Antoine.TminK > 293.15 || s.Antoine.TmaxK < 293.15 {
			continue
		}
		n++
		if p := s.VapourPressure(20); math.Abs(p.Pa/s.VapourPressurePa.V-1) > 0.06 {
			t.Errorf("%s %s: %.4g Pa by the equation, %.4g Pa held", s.CAS, s.Name, p.Pa, s.VapourPressurePa.V)
		}
	}
	if n < 60 {
		t.Errorf("only %d equations reach 20 °C", n)
	}
}

// Molar mass between ppm and mg/m³: the pair of a limit must fit within 6 % at the molar volume of its authority.
func TestLimitPairsFitTheMolarMass(t *testing.T) {
	c := check(t, pairExceptions)
	n := 0
	for _, s := range Embedded().All() {
		for _, l := range s.Limits {
			if l.PPM == 0 || l.MgM3 == 0 || !s.MolarMassGMol.Known {
				continue
			}
			n++
			want := MgM3FromPPM(l.PPM, s.MolarMassGMol.V, authorityNamed(l.Authority).molar)
			doubted := strings.Contains(l.Check, "by the molar mass")
			if off := math.Abs(l.MgM3/want-1) > 0.06; off != doubted {
				t.Errorf("%s %s %s: off = %v, but the row says so = %v", s.CAS, l.Authority, l.Kind, off, doubted)
			} else if off {
				c.fail(fmt.Sprintf("%s %s %s %g ppm", s.CAS, l.Authority, l.Kind, l.PPM), "%s: %g mg/m³ held, %.3g by the molar mass", s.Name, l.MgM3, want)
			}
		}
	}
	c.done()
	if n < 800 {
		t.Errorf("only %d pairs", n)
	}
}

// Of one authority and one basis the shift mean is not above the short-term limit and that not above the ceiling.
func TestLimitsRise(t *testing.T) {
	c := check(t, orderExceptions)
	order := []string{TWA, STEL, Ceiling}
	for _, s := range Embedded().All() {
		for i, a := range s.Limits {
			for _, b := range s.Limits[i+1:] {
				basis := func(l Limit) string { return strings.ReplaceAll(l.Basis, "from AGW x peak factor", "") }
				if a.Authority != b.Authority || basis(a) != basis(b) || a.Kind == b.Kind {
					continue
				}
				low, high := a, b
				if indexOf(order, low.Kind) > indexOf(order, high.Kind) {
					low, high = high, low
				}
				if (low.PPM > 0 && high.PPM > 0 && low.PPM > high.PPM) || (low.MgM3 > 0 && high.MgM3 > 0 && low.MgM3 > high.MgM3) {
					c.fail(fmt.Sprintf("%s %s %s %s", s.CAS, a.Authority, low.Kind, high.Kind), "%s: %g ppm %g mg/m³ above %g ppm %g mg/m³", s.Name, low.PPM, low.MgM3, high.PPM, high.MgM3)
				}
			}
		}
	}
	c.done()
}

func indexOf(list []string, s string) int {
	for i, x := range list {
		if x == s {
			return i
		}
	}
	return -1
}

// No limit stands twice for one authority, kind and basis.
func TestNoLimitTwice(t *testing.T) {
	for _, s := range Embedded().All() {
		seen := map[string]bool{}
		for _, l := range s.Limits {
			id := l.Authority + "|" + l.Kind + "|" + l.Basis
			if seen[id] {
				t.Errorf("%s %s: %s stands twice", s.CAS, s.Name, id)
			}
			seen[id] = true
			if authorityNamed(l.Authority).place == OtherPlace {
				t.Errorf("%s: authority %q has no place", s.CAS, l.Authority)
			}
		}
	}
}

// Flash point against the category for flammable liquids (29 CFR 1910.1200 B.6.2, CLP Annex I 2.6.2): category 1 flash
// < 23 °C and boiling ≤ 35 °C, 2 flash < 23 °C and boiling > 35 °C, 3 flash 23 to 60 °C.
func TestFlashPointFitsTheFlammableCategory(t *testing.T) {
	c := check(t, flashExceptions)
	n := 0
	for _, s := range Embedded().All() {
		if !s.FlashPointC.Known {
			continue
		}
		for _, x := range s.Classifications {
			f, low := s.FlashPointC.V, s.BoilingPointC.Known && s.BoilingPointC.V <= 35
			ok := true
			switch x.Hazard {
			case ghs.FlamLiq1:
				ok = f < 23 && (low || !s.BoilingPointC.Known)
			case ghs.FlamLiq2:
				ok = f < 23 && !low
			case ghs.FlamLiq3:
				ok = f >= 23 && f <= 60
			default:
				continue
			}
			n++
			if !ok {
				c.fail(s.CAS+" "+x.Hazard.String(), "%s (%s): flash point %g °C, boiling point %g °C", s.Name, x.Authority, f, s.BoilingPointC.V)
			}
		}
	}
	c.done()
	if n < 90 {
		t.Errorf("only %d flammable liquids with a flash point", n)
	}
}

// A liquid whose flash point is at or below 60 °C and that carries a classification must be classified flammable.
func TestLowFlashPointIsClassified(t *testing.T) {
	c := check(t, unclassifiedFlash)
	for _, s := range Embedded().All() {
		if !s.FlashPointC.Known || s.FlashPointC.V > 60 || (s.MeltingPointC.Known && s.MeltingPointC.V > 25) || (s.BoilingPointC.Known && s.BoilingPointC.V < 20) {
			continue
		}
		found := false
		for _, x := range s.Classifications {
			switch x.Hazard.Class() {
			case ghs.FlammableLiquids, ghs.FlammableGases, ghs.OrganicPeroxides:
				found = true
			}
		}
		if !found {
			c.fail(s.CAS, "%s: flash point %g °C and not classified as flammable", s.Name, s.FlashPointC.V)
		}
	}
	c.done()
}

var (
	minerals = map[string]bool{"filler": true, "pigment": true, "metal powder": true}
	mineral  = map[string]bool{"1310-73-2": true, "1310-58-3": true, "1305-62-0": true, "1305-78-8": true, "497-19-8": true, "6834-92-0": true, "1309-64-4": true}
)

func TestPhysicalDataAreOrdered(t *testing.T) {
	c := check(t, physicalExceptions)
	for _, s := range Embedded().All() {
		if known(s.LowerFlammablePct, s.UpperFlammablePct) && s.LowerFlammablePct.V >= s.UpperFlammablePct.V {
			c.fail(s.CAS+" flammable limits", "%s: %g not below %g", s.Name, s.LowerFlammablePct.V, s.UpperFlammablePct.V)
		}
		if known(s.MeltingPointC, s.BoilingPointC) && s.MeltingPointC.V >= s.BoilingPointC.V {
			c.fail(s.CAS+" melting", "%s: melts at %g, boils at %g °C", s.Name, s.MeltingPointC.V, s.BoilingPointC.V)
		}
		if known(s.FlashPointC, s.BoilingPointC) && s.FlashPointC.V >= s.BoilingPointC.V {
			c.fail(s.CAS+" flash", "%s: flashes at %g, boils at %g °C", s.Name, s.FlashPointC.V, s.BoilingPointC.V)
		}
		if known(s.FlashPointC, s.AutoIgnitionC) && s.FlashPointC.V >= s.AutoIgnitionC.V {
			c.fail(s.CAS+" ignition", "%s: flashes at %g, ignites at %g °C", s.Name, s.FlashPointC.V, s.AutoIgnitionC.V)
		}
		low, high := 480.0, 2000.0 // kg/m³: liquids, resins, organic solids
		if minerals[s.Family] || mineral[s.CAS] {
			low, high = 1000, 12000 // minerals, metals, salts
		}
		if s.DensityKgM3.Known && (s.DensityKgM3.V < low || s.DensityKgM3.V > high) {
			c.fail(s.CAS+" density", "%s: %g kg/m³", s.Name, s.DensityKgM3.V)
		}
		if s.MolarMassGMol.Known && (s.MolarMassGMol.V < 16 || s.MolarMassGMol.V > 1500) {
			c.fail(s.CAS+" molar mass", "%s: %g g/mol", s.Name, s.MolarMassGMol.V)
		}
		if s.LowerFlammablePct.Known && (s.LowerFlammablePct.V <= 0 || s.UpperFlammablePct.V > 100) {
			c.fail(s.CAS+" flammable limits", "%s: outside 0 to 100 %%", s.Name)
		}
		if s.VapourPressurePa.Known && s.BoilingPointC.Known && (s.VapourPressurePa.V > oneAtm) != (s.BoilingPointC.V < 20) {
			c.fail(s.CAS+" vapour pressure", "%s: %g Pa at 20 °C, boils at %g °C", s.Name, s.VapourPressurePa.V, s.BoilingPointC.V)
		}
		h := []Value{s.HansenD, s.HansenP, s.HansenH}
		if s.HansenD.Known && (h[0].V < 12 || h[0].V > 23 || h[1].V < 0 || h[1].V > 27 || h[2].V < 0 || h[2].V > 45) {
			c.fail(s.CAS+" hansen", "%s: %g %g %g", s.Name, h[0].V, h[1].V, h[2].V)
		}
	}
	c.done()
}

// The air saturated with a liquid at its flash point must be near its lower flammable limit: within a factor of three,
// since closed-cup flash points are measured where the vapour just reaches it (common practice, for example in the
// estimation of flash points from vapour pressure).
func TestFlashPointFitsTheLowerFlammableLimit(t *testing.T) {
	c := check(t, flashVapourExceptions)
	n := 0
	for _, s := range Embedded().All() {
		if !known(s.FlashPointC, s.LowerFlammablePct) || s.FlashPointC.AtLeast || s.Antoine == nil {
			continue
		}
		p := s.VapourPressure(s.FlashPointC.V)
		if !p.Known {
			continue
		}
		n++
		if ratio := p.Pa / oneAtm * 100 / s.LowerFlammablePct.V; ratio < 1/3. || ratio > 3 {
			c.fail(s.CAS, "%s: air saturated at the flash point %g °C holds %.2g %%, lower flammable limit %g %%", s.Name, s.FlashPointC.V, p.Pa/oneAtm*100, s.LowerFlammablePct.V)
		}
	}
	c.done()
	if n < 60 {
		t.Errorf("only %d substances compared", n)
	}
}

// The statement code of every entry is one that some rule set gives to its hazard.
func TestCodesFitTheirHazards(t *testing.T) {
	n := 0
	for _, s := range Embedded().All() {
		for _, c := range s.Classifications {
			if c.NotClassified {
				if c.Code != "" || c.Hazard != ghs.NoHazard {
					t.Errorf("%s: not classified, and yet %s %s", s.CAS, c.Hazard, c.Code)
				}
				continue
			}
			if c.Hazard == ghs.NoHazard {
				if !strings.HasPrefix(string(c.Code), "EUH") {
					t.Errorf("%s: code %s without hazard", s.CAS, c.Code)
				}
				continue
			}
			n++
			fits := false
			for _, rs := range ghs.RuleSets() {
				fits = fits || slices.Contains(rs.HazardsOf(c.Code), c.Hazard)
			}
			if !fits {
				t.Errorf("%s %s: %s does not carry %s", s.CAS, s.Name, c.Hazard, c.Code)
			}
		}
	}
	if n < 1500 {
		t.Errorf("only %d entries", n)
	}
}

// Specific limits name ranges that do not overlap within a class, an M-factor stands only at category 1 of the aquatic
// hazards and is a power of ten, and an acute toxicity estimate lies in the category it stands at (29 CFR 1910.1200
// Table A.1.1; CLP Annex I Table 3.1.1).
func TestDetailsFitTheirEntries(t *testing.T) {
	upper := map[ghs.Qualifier][4]float64{ghs.Oral: {5, 50, 300, 2000}, ghs.Dermal: {50, 200, 1000, 2000}, ghs.InhalationGas: {100, 500, 2500, 20000},
		ghs.InhalationVapour: {0.5, 2, 10, 20}, ghs.InhalationDust: {0.05, 0.5, 1, 5}}
	c := check(t, estimateExceptions)
	limits, estimates := 0, 0
	for _, s := range Embedded().All() {
		var all []SpecificLimit
		for _, x := range s.Classifications {
			all = append(all, x.Limits...)
			if x.MFactor != 0 && (x.Hazard != ghs.AquaticAcute1 && x.Hazard != ghs.AquaticChronic1 || math.Mod(math.Log10(x.MFactor), 1) != 0) {
				t.Errorf("%s %s: M-factor %g", s.CAS, x.Hazard, x.MFactor)
			}
			for _, a := range x.ATE {
				estimates++
				if x.Hazard.Class() != ghs.AcuteToxicity || x.Hazard.Qualifier() != a.Route {
					t.Errorf("%s: estimate for %s stands at %s", s.CAS, routeName(a.Route), x.Hazard)
					continue
				}
				i := int(x.Hazard.Category()[0] - '1')
				low := 0.0
				if i > 0 {
					low = upper[a.Route][i-1]
				}
				if a.Value <= low || a.Value > upper[a.Route][i] {
					c.fail(s.CAS+" "+x.Hazard.String(), "%s: estimate %g %s lies outside %g to %g", s.Name, a.Value, a.Unit, low, upper[a.Route][i])
				}
			}
		}
		for i, a := range all {
			limits++
			for _, b := range all[i+1:] {
				if a.Hazard.Class() == b.Hazard.Class() && a.Hazard.Qualifier() == b.Hazard.Qualifier() && a.Hazard != b.Hazard && max(a.From, b.From) < min(a.To, b.To) && !subset(a, b) {
					t.Errorf("%s: %q and %q overlap", s.CAS, a.Printed, b.Printed)
				}
			}
		}
	}
	c.done()
	if limits < 120 || estimates < 45 {
		t.Errorf("%d limits and %d estimates", limits, estimates)
	}
}

// subset: two ranges without upper end, of which the severer begins higher, are read one after the other.
func subset(a, b SpecificLimit) bool { return a.To == 100 && b.To == 100 && a.From != b.From }

// The form of inhalation in the data follows from vapour pressure and boiling point as the import derives it, wherever
// the row says that it was derived.
func TestDerivedFormOfInhalation(t *testing.T) {
	n := 0
	for _, s := range Embedded().All() {
		for _, c := range s.Classifications {
			if strings.Contains(c.Check, "form of inhalation not stated") {
				n++
				if want := inhalationForm(s, c.Hazard.Category()); c.Hazard.Qualifier() != want {
					t.Errorf("%s %s: %s, by its vapour pressure %s", s.CAS, s.Name, c.Hazard, routeName(want))
				}
			}
		}
	}
	if n < 70 {
		t.Errorf("only %d derived forms", n)
	}
}

// atomicWeights are standard atomic weights (IUPAC 2021, abridged to five digits).
var atomicWeights = map[string]float64{"H": 1.008, "B": 10.81, "C": 12.011, "N": 14.007, "O": 15.999, "F": 18.998, "Na": 22.990, "Al": 26.982, "Si": 28.085,
	"P": 30.974, "S": 32.06, "Cl": 35.45, "K": 39.098, "Ca": 40.078, "Ti": 47.867, "V": 50.942, "Cr": 51.996, "Fe": 55.845, "Co": 58.933, "Ni": 58.693,
	"Cu": 63.546, "Zn": 65.38, "Br": 79.904, "Sr": 87.62, "Cd": 112.41, "Sn": 118.71, "Sb": 121.76, "I": 126.90, "Ba": 137.33, "Pb": 207.2, "Bi": 208.98}

var atoms = regexp.MustCompile(`([A-Z][a-z]?)(\d*)`)

// The molar mass of the formula is the molar mass held, within 0.2 %.
func TestMolarMassOfTheFormula(t *testing.T) {
	n := 0
	for _, s := range Embedded().All() {
		if s.Formula == "" {
			continue
		}
		n++
		sum, length := 0.0, 0
		for _, m := range atoms.FindAllStringSubmatch(s.Formula, -1) {
			w, ok := atomicWeights[m[1]]
			if !ok {
				t.Fatalf("%s: no atomic weight of %s", s.CAS, m[1])
			}
			count := 1.0
			if m[2] != "" {
				count, _ = strconv.ParseFloat(m[2], 64)
			}
			sum += w * count
			length += len(m[0])
		}
		if length != len(s.Formula) || !s.MolarMassGMol.Known || math.Abs(sum/s.MolarMassGMol.V-1) > 0.002 {
			t.Errorf("%s %s: %s weighs %.2f, held %g", s.CAS, s.Name, s.Formula, sum, s.MolarMassGMol.V)
		}
	}
	if n < 340 {
		t.Errorf("only %d formulas", n)
	}
}

// Substances whose entry was changed by a recent adaptation, recalled with doubt, or on which sheets and the recalled entry
// differ: each must say so in Check of at least one row (docs/substances.md, "What is doubtful").
func TestDoubtsAreCarried(t *testing.T) {
	for cas, word := range map[string]string{
		"4098-71-9": "2025/1222", "3173-72-6": "615-049-00-9", "75980-60-8": "letters after H360", "99-97-8": "route from memory", "2425-79-8": "check first",
		"2855-13-2": "specific limit", "2634-33-5": "check first", "96-29-7": "check first", "98-54-4": "check first", "7440-50-8": "check first", "136-52-7": "check first",
		"22464-99-9": "check first", "136-53-8": "check first", "301-10-0": "check first", "84-69-5": "check first", "822-06-0": "check first",
		"28064-14-4": "check first", "1477-55-0": "check first", "121-44-8": "not settled", "5989-27-5": "not settled", "15520-10-2": "not settled", "111-77-3": "not settled",
		"127-18-4": "not settled", "123-91-1": "not settled", "90-72-2": "not settled", "28182-81-2": "not settled", "872-50-4": "not settled", "101-68-8": "not settled",
		"7647-01-0": "solution", "55965-84-9": "M-factor", "50-00-0": "2024/2564", "64-18-6": "2024/2564", "7697-37-2": "70 %", "64742-48-9": "benzene",
	} {
		found := false
		for _, c := range byCAS(t, cas).Classifications {
			for _, w := range strings.Split(word, "|") {
				found = found || strings.Contains(c.Check, w)
			}
		}
		if !found {
			t.Errorf("%s: no row says %q in its check", cas, word)
		}
	}
}
