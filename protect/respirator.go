package protect

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/exposure"
	"sixteen/substance"
)

// Need is the factor by which a respirator has to lower an exposure. Known is false when no limit or no exposure is known.
type Need struct {
	Known  bool    `json:"known"`
	Factor float64 `json:"factor"` // exposure/limit, the largest over all limits; at most 1: none needed
	Limit  Limit   `json:"limit"`
	Why    string  `json:"why"`
	// Missing is the comparison that could not be made, "" when all were.
	Missing string `json:"missing,omitempty"`
}

// Required is the largest exposure/limit over the limits of an exposure: the 8-hour mean against shift limits, the 15-minute
// peak against short-term limits and ceilings. Limits in the other unit are converted with the molar mass at 25 °C. A limit
// whose exposure is unknown makes the need unknown unless another limit is already exceeded.
//
// 29 CFR 1910.134(d)(3)(i)(B): the maximum use concentration is the assigned factor times the limit.
func Required(e Exposure, s *substance.Substance) Need {
	var n Need
	missing := ""
	for _, l := range e.Limits {
		met := e.Peak
		if l.Kind == substance.TWA {
			met = e.Mean
		}
		v, ok := inUnit(l, e.Unit, s)
		switch {
		case !ok:
			missing = fmt.Sprintf("the limit of %s is in %s and the molar mass is not held", e.Name, l.Unit)
		case !met.Known:
			missing = fmt.Sprintf("the exposure to compare with the %s of %s is not known", l.Kind, e.Name)
		case met.V/v > n.Factor || !n.Known:
			n = Need{Known: true, Factor: met.V / v, Limit: l,
				Why: fmt.Sprintf("%s: %s %s met, %s %s %s %s", e.Name, exposure.Amount(met.V), e.Unit, l.Authority, l.Kind, exposure.Figure(l.Value), l.Unit)}
		}
	}
	switch {
	case len(e.Limits) == 0:
		return Need{Why: "no exposure limit of " + e.Name + " is on record"}
	case missing != "" && n.Factor <= 1:
		return Need{Why: missing, Missing: missing}
	}
	n.Missing = missing
	return n
}

// inUnit is a limit's value in ppm or mg/m3.
func inUnit(l Limit, unit string, s *substance.Substance) (float64, bool) {
	if l.Unit == unit {
		return l.Value, true
	}
	if s == nil || !s.MolarMassGMol.Known {
		return 0, false
	}
	switch unit {
	case "ppm":
		return substance.PPMFromMgM3(l.Value, s.MolarMassGMol.V, substance.MolarVolume25C), true
	default:
		return substance.MgM3FromPPM(l.Value, s.MolarMassGMol.V, substance.MolarVolume25C), true
	}
}

// Respirator is one kind of device held against all exposures of a job.
type Respirator struct {
	Device   string   `json:"device"`
	Factor   float64  `json:"factor"`
	Supplied bool     `json:"supplied"` // brings its own air
	Filters  []string `json:"filters,omitempty"`
	Adequate bool     `json:"adequate"`
	Reasons  []string `json:"reasons,omitempty"` // why not
	Source   Source   `json:"source"`
	// LeastUse is the smallest maximum use concentration over exposure (above 1: margin left); 0 when none is known.
	LeastUse float64 `json:"least_use"`
}

// MaximumUse is the highest concentration a device may be used in for one limit: factor × limit, never above idlh and
// never above the highest concentration of the filter, all in one unit (0: none known).
func MaximumUse(factor, limit, idlh, filterMax float64) float64 {
	m := exposure.MaxUseConcentration(factor, limit, idlh)
	if filterMax > 0 {
		m = math.Min(m, filterMax)
	}
	return m
}

// DangerPPM is the concentration of a vapour that NIOSH gives as immediately dangerous to life or health (IDLH). ok is false
// for substances of which none was read.
func DangerPPM(cas string) (ppm float64, source Source, ok bool) {
	d, ok := embedded().danger[cas]
	return d.PPM, d.Source, ok
}

// breathing adds the respirators of the scheme and the measures that follow from them.
func (p *Plan) breathing(j Job) {
	needed := exposuresNeeding(j)
	for _, e := range j.Exposures {
		if n := Required(e, find(j, e.CAS)); !n.Known {
			p.NotAssessed = append(p.NotAssessed, e.Name+": "+n.Why)
		} else if n.Missing != "" {
			p.NotAssessed = append(p.NotAssessed, e.Name+": "+n.Missing)
		}
	}
	if oxygenLow(j) {
		p.add(Measure{Kind: Stop, What: "do not enter: the air holds too little oxygen for any filter",
			Why: fmt.Sprintf("%s %% oxygen, less than 19.5 %%", exposure.Figure(j.OxygenPct.V)), Source: Source{Text: "29 CFR 1910.134(b), oxygen-deficient atmosphere", Memory: true}})
	}
	if len(needed) == 0 {
		return
	}
	for _, r := range embedded().respirators {
		if r.Scheme == j.Scheme {
			p.Respirators = append(p.Respirators, judge(r, j, needed))
		}
	}
	slices.SortStableFunc(p.Respirators, func(a, b Respirator) int {
		switch {
		case a.Adequate != b.Adequate:
			return map[bool]int{true: -1, false: 1}[a.Adequate]
		case a.Factor < b.Factor:
			return -1
		case a.Factor > b.Factor:
			return 1
		}
		return 0
	})
	p.add(breathingMeasures(j, needed, p.Respirators)...)
}

func oxygenLow(j Job) bool { return j.OxygenPct.Known && j.OxygenPct.V < 19.5 }

// negligible is the share of a limit below which a substance asks for no filter of its own where others together are above
// theirs: a choice of ours, so that a trace does not rule out every filter.
const negligible = 1e-3

// exposuresNeeding are the exposures that are above a limit, alone or all together, or of an isocyanate in the air. What cannot be compared with a
// limit is listed as not assessed.
func exposuresNeeding(j Job) []Exposure {
	var out []Exposure
	for _, e := range j.Exposures {
		n := Required(e, find(j, e.CAS))
		if n.Known && (n.Factor > 1 || n.Factor >= negligible && together(j) > 1) || isIsocyanate(find(j, e.CAS)) && e.Peak != Known(0) {
			out = append(out, e)
		}
	}
	return out
}

// together is the sum of exposure/limit over all exposures that can be compared with a limit, as if all harmed the same
// organ: 29 CFR 1910.1000(d)(2) sums those that do, so this is on the careful side.
func together(j Job) float64 {
	sum := 0.0
	for _, e := range j.Exposures {
		if n := Required(e, find(j, e.CAS)); n.Known {
			sum += n.Factor
		}
	}
	return sum
}

func isIsocyanate(s *substance.Substance) bool { return s != nil && s.Family == "isocyanate" }

// judge holds one device against the exposures.
func judge(r respirator, j Job, needed []Exposure) Respirator {
	out := Respirator{Device: r.name(), Factor: r.Factor, Supplied: r.supplied(), Source: r.Source, Adequate: true}
	for _, e := range needed {
		s := find(j, e.CAS)
		need := Required(e, s)
		f := FilterFor(s, e, j.Scheme)
		if !r.supplied() {
			out.Filters = appendNew(out.Filters, f.Marks...)
		}
		out.note(r, e, f, s)
		out.use(r, e, need, f, s)
	}
	if sum := together(j); sum > r.Factor {
		out.refuse(fmt.Sprintf("all substances together are %s times their limits", least(sum)))
	}
	if oxygenLow(j) && !r.supplied() {
		out.refuse("a filter adds no oxygen")
	}
	return out
}

func (out *Respirator) refuse(reason string) {
	out.Adequate = false
	out.Reasons = appendNew(out.Reasons, reason)
}

// note refuses the device for what the substance is.
func (out *Respirator) note(r respirator, e Exposure, f Filter, s *substance.Substance) {
	switch {
	case r.supplied():
	case f.None != "":
		out.refuse(f.None)
	case f.Gas && !r.Gas:
		out.refuse(r.name() + " holds back particles, not the vapour of " + e.Name)
	case f.Particles && !r.Particles:
		out.refuse(r.name() + " holds back vapour, not the mist or dust of " + e.Name)
	}
	if f.Particles && r.lowParticleClass() {
		out.refuse("the lowest particle class is for coarse dust that does little harm, not for " + e.Name)
	}
	if isIsocyanate(s) && e.Task == MistTask && r.Factor < 20 {
		out.refuse("for isocyanate spray a factor of 20 or more is asked for")
	}
}

// use refuses the device when a concentration met is above its maximum use concentration.
func (out *Respirator) use(r respirator, e Exposure, need Need, f Filter, s *substance.Substance) {
	if !need.Known {
		return
	}
	idlh := 0.0
	if e.IDLH.Known && !r.forImmediateDanger() {
		idlh = e.IDLH.V
	}
	highest := 0.0
	if !r.supplied() && e.Unit == "ppm" && r.Air == "filter" {
		highest = f.HighestPPM
	}
	for _, l := range e.Limits {
		met := e.Peak
		if l.Kind == substance.TWA {
			met = e.Mean
		}
		v, ok := inUnit(l, e.Unit, s)
		if !ok || !met.Known || met.V == 0 {
			continue
		}
		limit := MaximumUse(r.Factor, v, idlh, highest)
		if margin := limit / met.V; out.LeastUse == 0 || margin < out.LeastUse {
			out.LeastUse = margin
		}
		if met.V > limit {
			out.refuse(fmt.Sprintf("%s: %s %s met, highest use %s %s", e.Name, exposure.Amount(met.V), e.Unit, exposure.Figure(limit), e.Unit))
		}
	}
	if idlh > 0 && e.Peak.Known && e.Peak.V >= idlh {
		out.refuse(fmt.Sprintf("%s: the peak of %s %s is immediately dangerous to life or health", e.Name, exposure.Amount(e.Peak.V), e.Unit))
	}
}

func appendNew(to []string, more ...string) []string {
	for _, m := range more {
		if !slices.Contains(to, m) {
			to = append(to, m)
		}
	}
	return to
}

// breathingMeasures turns the judged devices into what to wear, or into "do not do it".
func breathingMeasures(j Job, needed []Exposure, devices []Respirator) []Measure {
	var why []string
	for _, e := range needed {
		why = append(why, Required(e, find(j, e.CAS)).Why)
	}
	reason := strings.Join(why, "; ")
	i := slices.IndexFunc(devices, func(r Respirator) bool { return r.Adequate })
	if i < 0 {
		return []Measure{{Kind: Stop, What: "do not do the job this way: no respirator of the tables is adequate", Why: reason,
			Source: Source{Text: "29 CFR 1910.134(d)(3)(i): a respirator must be adequate to protect, and its highest use concentration must not be exceeded", Memory: true}}}
	}
	r := devices[i]
	what := fmt.Sprintf("%s (assigned factor %g)", r.Device, r.Factor)
	if len(r.Filters) > 0 {
		what += ", filter " + strings.Join(r.Filters, " + ")
	}
	out := []Measure{{Kind: Breathing, What: what, Why: reason, Source: r.Source}}
	out = append(out, filterMeasures(j, needed, r)...)
	return append(out, wearing(j, needed, r)...)
}

// wearing are the cautions without which an assigned factor does not hold.
func wearing(j Job, needed []Exposure, r Respirator) []Measure {
	out := []Measure{
		{Kind: Breathing, What: "a doctor agrees that the person may wear it, before the first use",
			Why: "breathing through a mask strains heart and lungs", Source: Source{Text: "29 CFR 1910.134(e)", Memory: true}},
		{Kind: Breathing, What: "tight masks: fit test with this very model and size, clean-shaven, seal checked each time it is put on",
			Why: "the assigned factor counts only for a mask that seals", Source: Source{Text: "29 CFR 1910.134(f) and (g)(1); EN 529", Memory: true}},
		{Kind: Breathing, What: "never go by smell: change by schedule",
			Why: "noses tire and many vapours harm below what can be smelt", Source: Source{Text: "29 CFR 1910.134(d)(3)(iii) and the OSHA change-schedule pages: warning properties are no primary basis"}},
	}
	if !r.Supplied && !j.OxygenPct.Known {
		out = append(out, Measure{Kind: Breathing, What: "only in air with at least 19.5 % oxygen; not in tanks, bilges and closed spaces",
			Why: "a filter adds no oxygen", Source: Source{Text: "29 CFR 1910.134(b) and (d)(2)", Memory: true}})
	}
	for _, e := range needed {
		if !e.IDLH.Known {
			out = append(out, Measure{Kind: Breathing, What: "look up the concentration of " + e.Name + " that is immediately dangerous to life or health",
				Why: "it caps the use of every device and none was given", Source: Source{Text: "29 CFR 1910.134(d)(3)(i)(B)", Memory: true}})
		}
	}
	return out
}
