package protect

import (
	"fmt"
	"math"
	"strings"

	"sixteen/exposure"
	"sixteen/substance"
)

// Filter is what an air-purifying respirator needs for one exposure. None is the reason why no filter may be used.
type Filter struct {
	Marks      []string `json:"marks"`
	Gas        bool     `json:"gas"`
	Particles  bool     `json:"particles"`
	HighestPPM float64  `json:"highest_ppm"` // highest use concentration of the gas filter of the lowest class, 0: none held
	None       string   `json:"none,omitempty"`
	Why        string   `json:"why"`
	Source     Source   `json:"source"`
}

// Gases with a filter type of their own, by CAS number. Organic vapours go by boiling point.
var gasTypes = map[string]struct{ en, us string }{
	"7664-41-7": {"K", "ammonia cartridge"},
	"1336-21-6": {"K", "ammonia cartridge"},
	"74-89-5":   {"K", "methylamine cartridge"},
	"7647-01-0": {"E", "hydrogen chloride cartridge"},
	"7446-09-5": {"E", "sulphur dioxide cartridge"},
	"7782-50-5": {"B", "chlorine cartridge"},
}

// FilterFor chooses the filter type for a substance: ammonia and amines K, acid gases E, chlorine B, organic vapours A above
// 65 °C boiling point and AX up to it (EN 14387); cartridges of 42 CFR 84.190 in the United States, with P100 (42 CFR 84)
// for mist and dust. The particle class of EN 143 belongs to the device (see respirators.csv). Isocyanates, methanol and substances nobody identified get none.
func FilterFor(s *substance.Substance, e Exposure, scheme Scheme) Filter {
	f := Filter{Gas: e.Task != DustTask, Particles: e.Task != VapourTask}
	switch {
	case isIsocyanate(s):
		f.None = e.Name + " is an isocyanate: no warning smell, no filter; supplied air only"
		f.Source = hseIsocyanate()
		return f
	case s != nil && s.CAS == "67-56-1":
		f.None = "carbon holds methanol for no more than a few minutes; supplied air only"
		f.Source = Source{Text: "OSHA change-schedule comparison table, measured (Nelson and Correia 1976)"}
		return f
	}
	if f.Particles {
		f.particles(scheme)
	}
	if f.Gas {
		f.gas(s, e, scheme)
	}
	return f
}

func (f *Filter) particles(scheme Scheme) {
	f.Why = "mist and dust"
	if scheme == EN { // the class of particle filter is named by the device, with its own factor
		f.Source = Source{Text: "public summaries of EN 143"}
		return
	}
	f.Source = Source{Text: "public summary of 42 CFR 84 classes"}
	f.Marks = append(f.Marks, "P100")
}

func (f *Filter) gas(s *substance.Substance, e Exposure, scheme Scheme) {
	if s == nil {
		f.None = "which filter holds " + e.Name + " is not known: ask the maker of the filter"
		f.Source = commonPractice("no filter without knowing the substance")
		return
	}
	en, us := organicType(s)
	if g, ok := gasTypes[s.CAS]; ok {
		en, us = g.en, g.us
	}
	mark := us
	if scheme == EN {
		mark = en
	}
	row, ok := filterRow(scheme, mark)
	if mark == "" || !ok {
		f.None = f.whyNone(s, e, scheme)
		f.Source = Source{Text: "EN 14387 by public summaries; 42 CFR 84.190(a)"}
		return
	}
	f.Marks = append([]string{marked(row, scheme)}, f.Marks...)
	f.Source = row.Source
	f.Why = strings.TrimPrefix(f.Why+"; "+row.Kind+": "+row.Against, "; ")
	f.HighestPPM = row.Number
	if scheme == EN && mark != "AX" {
		if class, ok := filterRow(EN, "class 1"); ok {
			f.HighestPPM = class.Number
		}
	}
}

func (f *Filter) whyNone(s *substance.Substance, e Exposure, scheme Scheme) string {
	if !s.BoilingPointC.Known {
		return "the boiling point of " + e.Name + " is not held: ask the maker of the filter"
	}
	if scheme == US && s.BoilingPointC.V <= 65 {
		return fmt.Sprintf("%s boils at %s °C: an organic vapour cartridge lets it through early; supplied air, or data of the maker for this substance", e.Name, exposure.Figure(s.BoilingPointC.V))
	}
	return "no filter type of the standard names " + e.Name + ": ask the maker of the filter"
}

// organicType is the filter for an organic substance, "" when its boiling point leaves it open.
func organicType(s *substance.Substance) (en, us string) {
	if s.Formula != "" && !strings.Contains(s.Formula, "C") {
		return "", ""
	}
	if s.Family == "amine hardener" {
		return "K", ""
	}
	switch bp := s.BoilingPointC; {
	case !bp.Known:
		return "", ""
	case bp.V > 65:
		return "A", "organic vapour cartridge"
	default:
		return "AX", ""
	}
}

func filterRow(scheme Scheme, mark string) (filter, bool) {
	for _, f := range embedded().filters {
		if f.Scheme == scheme && f.Mark == mark {
			return f, true
		}
	}
	return filter{}, false
}

// marked is a filter's mark with the colour of the standard.
func marked(f filter, scheme Scheme) string {
	name := f.Mark
	if scheme == EN && f.Mark != "AX" {
		name += "1"
	}
	if f.Colour == "" {
		return name
	}
	return name + " (" + f.Colour + ")"
}

// filterMeasures are the change schedule and what else belongs to a filter.
func filterMeasures(j Job, needed []Exposure, r Respirator) []Measure {
	if r.Supplied {
		return []Measure{{Kind: Breathing, What: "the air is of breathing quality: compressor with filters, intake away from the work, low-flow alarm",
			Why: "supplied air is only as good as where it is drawn", Source: Source{Text: "29 CFR 1910.134(i)", Memory: true}}}
	}
	var out []Measure
	gas := false
	for _, e := range needed {
		f := FilterFor(find(j, e.CAS), e, j.Scheme)
		gas = gas || f.Gas
		if strings.Contains(strings.Join(f.Marks, " "), "AX") {
			out = append(out, Measure{Kind: Breathing, What: "AX filter: fresh from the packing, used once, never again after a pause",
				Why: e.Name + " boils low and wanders through the carbon while it rests", Source: f.Source})
		}
		if f.Particles {
			out = append(out, Measure{Kind: Breathing, What: "particle filter changed when breathing gets hard, and at the end of the shift when marked NR",
				Why: "mist and dust clog it", Source: Source{Text: "public summaries of EN 149 and EN 143"}})
		}
	}
	if gas {
		out = append(out, changeSchedule(j, needed))
	}
	return out
}

// changeSchedule estimates when the cartridge is changed: all vapours counted as if they were the one with the shortest
// life. It is no estimate when one of them has no figures.
func changeSchedule(j Job, needed []Exposure) Measure {
	fresh := Measure{Kind: Breathing, What: "gas filter: change interval from the maker of the filter for these substances; until then a new one for every spell of work",
		Source: Source{Text: "29 CFR 1910.134(d)(3)(iii)(B)(2): change schedule on objective data", Memory: true}}
	if j.Bed == (Bed{}) {
		fresh.Why = "no cartridge was described: no service life is estimated"
		return fresh
	}
	total := 0.0
	for _, e := range needed {
		if e.Task != DustTask {
			if e.Unit != "ppm" || !e.Peak.Known {
				fresh.Why = "the peak of " + e.Name + " in ppm is not known: no service life is estimated"
				return fresh
			}
			total += e.Peak.V
		}
	}
	shortest := math.Inf(1)
	for _, e := range needed {
		if e.Task == DustTask {
			continue
		}
		s := find(j, e.CAS)
		limit, ok := inUnit(Required(e, s).Limit, "ppm", s)
		if !ok {
			fresh.Why = "the limit of " + e.Name + " in ppm is not known: no service life is estimated"
			return fresh
		}
		t, why, ok := ServiceLife(j.Bed, s, total, limit)
		if !ok {
			fresh.Why = e.Name + ": " + why
			return fresh
		}
		shortest = math.Min(shortest, t)
	}
	return Measure{Kind: Breathing,
		What: fmt.Sprintf("gas filter: estimated to last %.0f minutes of use; change at half of that (%.0f minutes), and at the end of every shift", shortest, shortest/2),
		Why: fmt.Sprintf("%s ppm of vapour, %s L/min, %s %% relative humidity, %s g of carbon; an estimate for planning, the maker's figure goes before it",
			exposure.Figure(total), exposure.Figure(j.Bed.FlowLMin), exposure.Figure(j.Bed.HumidityPercent), exposure.Figure(j.Bed.CarbonG)),
		Source: Source{Text: "Wood, Am. Ind. Hyg. Assoc. J. 55 (1994) 11, checked by the table OSHA publishes; the half is common practice", Memory: true}}
}
