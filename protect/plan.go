package protect

import (
	"errors"
	"fmt"
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Kind groups measures. Kinds has them in the order of controls: what takes the hazard away comes before what is worn.
type Kind string

// Kinds of measures.
const (
	Stop       Kind = "do not do it"
	Substitute Kind = "substitute"
	Enclose    Kind = "enclose"
	Ventilate  Kind = "ventilate"
	Schedule   Kind = "schedule"
	KeepAway   Kind = "keep away"
	Breathing  Kind = "breathing"
	Hands      Kind = "hands"
	Eyes       Kind = "eyes and face"
	Skin       Kind = "skin and clothing"
	Hygiene    Kind = "hygiene"
	FirstAid   Kind = "first aid"
	Fire       Kind = "fire"
	Spill      Kind = "spill"
	Waste      Kind = "waste"
)

// Kinds lists the kinds in the order a plan shows them.
func Kinds() []Kind {
	return []Kind{Stop, Substitute, Enclose, Ventilate, Schedule, KeepAway, Breathing, Hands, Eyes, Skin, Hygiene, FirstAid, Fire, Spill, Waste}
}

// Measure is one thing to do.
type Measure struct {
	Kind   Kind   `json:"kind"`
	What   string `json:"what"`
	Why    string `json:"why"`
	Source Source `json:"source"`

	Code ghs.Code `json:"code,omitempty"` // of the precautionary statement whose words What are
}

// Task is the form in which a substance gets into the air.
type Task string

// Tasks.
const (
	VapourTask Task = "vapour"
	MistTask   Task = "mist" // spraying: droplets and vapour
	DustTask   Task = "dust"
)

// Amount is a concentration that may be unknown.
type Amount struct {
	V     float64 `json:"v"`
	Known bool    `json:"known"`
}

// Known is a known amount.
func Known(v float64) Amount { return Amount{V: v, Known: true} }

// Limit is one exposure limit to hold.
type Limit struct {
	Value     float64 `json:"value"`
	Unit      string  `json:"unit"` // ppm or mg/m3
	Kind      string  `json:"kind"` // TWA, STEL or ceiling
	Authority string  `json:"authority"`
	Source    Source  `json:"source"`
}

// Exposure is what a person meets of one substance while doing the job, without a respirator. Peak is the highest 15-minute
// mean, Mean the 8-hour mean, both in Unit.
type Exposure struct {
	CAS    string  `json:"cas"`
	Name   string  `json:"name"`
	Unit   string  `json:"unit"` // ppm or mg/m3
	Peak   Amount  `json:"peak"`
	Mean   Amount  `json:"mean"`
	Limits []Limit `json:"limits"`
	IDLH   Amount  `json:"idlh"` // immediately dangerous to life or health, in Unit
	Task   Task    `json:"task"`
	Hours  float64 `json:"hours"` // of the task in one shift
}

// Ingredient is one substance of a product. Part tells the parts of a kit apart ("resin", "hardener").
type Ingredient struct {
	CAS, Name string
	Part      string
	Share     sheet.Interval // percent by mass
	Substance *substance.Substance
}

// name is how the ingredient is called in a measure.
func (i Ingredient) name() string {
	switch {
	case i.Name != "":
		return i.Name
	case i.Substance != nil:
		return i.Substance.Name
	case i.CAS != "":
		return "CAS " + i.CAS
	}
	return "an undisclosed ingredient"
}

func (i Ingredient) isocyanate() bool {
	return i.Substance != nil && i.Substance.Family == "isocyanate"
}

// Job is what a plan is made for.
type Job struct {
	Hazards     ghs.HazardSet // of the product, or of all parts of a kit together
	Ingredients []Ingredient
	Exposures   []Exposure
	Scheme      Scheme
	RuleSet     ghs.RuleSet // whose wording of precautionary statements is shown
	Bed         Bed         // zero: no change schedule is estimated
	OxygenPct   Amount      // of the air at the place; unknown is told
}

// Plan is the measures in the order of controls. Adequate is false when a Stop measure stands in it; true says nothing
// about the exposures in NotAssessed.
type Plan struct {
	Measures    []Measure    `json:"measures"`
	Respirators []Respirator `json:"respirators,omitempty"`
	Gloves      Gloves       `json:"gloves"`
	NotAssessed []string     `json:"not_assessed,omitempty"` // exposures no respirator could be held against, and why
	Adequate    bool         `json:"adequate"`
}

// Make plans the protection for a job. The error names the field that has to be mended.
func Make(j Job) (Plan, error) {
	if err := j.check(); err != nil {
		return Plan{}, err
	}
	var p Plan
	t := embedded()
	p.add(t.fromHazards(j)...)
	p.add(fromIngredients(j)...)
	p.add(fromExposure(j)...)
	p.breathing(j)
	p.Gloves = glovesFor(j)
	p.add(gloves(j)...)
	p.sort()
	p.Adequate = !slices.ContainsFunc(p.Measures, func(m Measure) bool { return m.Kind == Stop })
	return p, nil
}

func (j Job) check() error {
	if j.Scheme != US && j.Scheme != EN {
		return fmt.Errorf("scheme is %q: give US or EN", j.Scheme)
	}
	if !j.RuleSet.Known() {
		return fmt.Errorf("rule set %q is not known: give one of %v", j.RuleSet, ghs.RuleSets())
	}
	if j.Bed != (Bed{}) {
		if err := j.Bed.check(); err != nil {
			return err
		}
	}
	if o := j.OxygenPct; o.Known && !(o.V > 0 && o.V <= 100) {
		return fmt.Errorf("oxygen is %g %%: give a share of the air, 20.9 in the open", o.V)
	}
	for _, e := range j.Exposures {
		if err := e.check(); err != nil {
			return fmt.Errorf("exposure to %s: %w", e.Name, err)
		}
	}
	return nil
}

func (e Exposure) check() error {
	if e.Unit != "ppm" && e.Unit != "mg/m3" {
		return fmt.Errorf("unit is %q: give ppm or mg/m3", e.Unit)
	}
	switch e.Task {
	case VapourTask, MistTask, DustTask:
	default:
		return fmt.Errorf("task is %q: give vapour, mist or dust", e.Task)
	}
	for _, a := range []Amount{e.Peak, e.Mean, e.IDLH} {
		if a.Known && !(a.V >= 0) {
			return fmt.Errorf("a concentration (peak, mean or idlh) is %g: it cannot be negative", a.V)
		}
	}
	if !(e.Hours >= 0 && e.Hours <= 24) {
		return fmt.Errorf("hours is %g: give 0 to 24", e.Hours)
	}
	for _, l := range e.Limits {
		if !(l.Value > 0) {
			return errors.New("a limit is zero or less: leave out limits that are not known")
		}
		if l.Kind != substance.TWA && l.Kind != substance.STEL && l.Kind != substance.Ceiling {
			return fmt.Errorf("limit kind is %q: give TWA, STEL or ceiling", l.Kind)
		}
	}
	return nil
}

// add takes measures in, each what once.
func (p *Plan) add(ms ...Measure) {
	for _, m := range ms {
		if !slices.ContainsFunc(p.Measures, func(o Measure) bool { return o.Kind == m.Kind && o.What == m.What }) {
			p.Measures = append(p.Measures, m)
		}
	}
}

func (p *Plan) sort() {
	order := Kinds()
	slices.SortStableFunc(p.Measures, func(a, b Measure) int { return slices.Index(order, a.Kind) - slices.Index(order, b.Kind) })
}

// fromHazards are the rules of data/rules.csv whose hazards the product has, each code with the standard's words.
func (t *tables) fromHazards(j Job) []Measure {
	var out []Measure
	for _, r := range t.rules {
		hit := r.When.Intersect(j.Hazards)
		if hit.Empty() {
			continue
		}
		why := r.Why
		if why == "" {
			why = "the product is classified " + hit.String()
		}
		if r.What != "" {
			out = append(out, Measure{Kind: r.Kind, What: r.What, Why: why, Source: r.Source})
		}
		for _, c := range r.Codes {
			if m, ok := statement(j.RuleSet, r.Kind, c, hit); ok {
				out = append(out, m)
			}
		}
	}
	return out
}

// statement is a precautionary statement the rule set gives to one of the hazards, as a measure.
func statement(rs ghs.RuleSet, k Kind, c ghs.Code, hit ghs.HazardSet) (Measure, bool) {
	for _, h := range hit.All() {
		e, ok := rs.Elements(h)
		if !ok || !slices.Contains(e.Precautions(), c) {
			continue
		}
		words, ok := rs.Phrase(c, ghs.English, ghs.Blanks{})
		if !ok {
			return Measure{}, false
		}
		return Measure{Kind: k, What: words, Why: "the product is classified " + h.String(),
			Source: Source{Text: fmt.Sprintf("%s, %s", c.Printed(), rs.Law()), Memory: e.Memory}, Code: c}, true
	}
	return Measure{}, false
}

func commonPractice(text string) Source { return Source{Text: "common practice: " + text} }

// fromIngredients are measures that hang on who the ingredients are.
func fromIngredients(j Job) []Measure {
	var out []Measure
	for _, i := range j.Ingredients {
		if i.CAS == "" && i.Substance == nil {
			out = append(out, Measure{Kind: Schedule, What: "ask the supplier what " + i.name() + " is before the work is planned",
				Why: "gloves and filters cannot be chosen against a substance nobody names", Source: commonPractice("choice of gloves and filters needs the substance")})
		}
		if i.isocyanate() {
			out = append(out,
				Measure{Kind: KeepAway, What: "people with asthma, or who ever reacted to isocyanates, do not do this work or stay near it",
					Why: i.name() + " is an isocyanate: once sensitised, very little is enough", Source: hseIsocyanate()},
				Measure{Kind: Schedule, What: "lung function is checked before the first job and regularly after it (health surveillance)",
					Why: i.name() + " is an isocyanate", Source: Source{Text: "HSE, asthma pages on two-pack paints in vehicle repair"}})
		}
	}
	return out
}

func hseIsocyanate() Source {
	return Source{Text: "HSE, working with isocyanate paints in vehicle repair: respiratory protective equipment"}
}

// fromExposure are the measures that bring the air below the limit before anything is worn.
func fromExposure(j Job) []Measure {
	var out []Measure
	for _, e := range j.Exposures {
		n := Required(e, find(j, e.CAS))
		if e.Task == MistTask {
			out = append(out, Measure{Kind: Substitute, What: "brush, roll or dip instead of spraying " + e.Name,
				Why: "spraying makes mist that is breathed in and spreads; without it only the vapour remains", Source: commonPractice("no mist where a brush does it")})
		}
		if e.Task == DustTask {
			out = append(out, Measure{Kind: Enclose, What: "sand wet, or with a tool whose dust is drawn off at the disc",
				Why: "dust of " + e.Name + " is held back where it is made", Source: commonPractice("dust is caught at the source")})
		}
		if e.Task != VapourTask {
			out = append(out, airborneEyes(e))
		}
		if n.Known && n.Factor > 1 {
			out = append(out,
				Measure{Kind: Ventilate, What: fmt.Sprintf("lower %s in the air by a factor of at least %s, with extraction at the source or more fresh air", e.Name, least(n.Factor)),
					Why: n.Why, Source: Source{Text: "29 CFR 1910.134(a)(1): enclosure, ventilation and substitution before respirators"}},
				Measure{Kind: Schedule, What: "smaller batches and shorter spells with airing between them",
					Why: n.Why, Source: commonPractice("less at a time, less in the air")})
		}
		if !n.Known {
			out = append(out, Measure{Kind: Schedule, What: "have the air measured or the exposure to " + e.Name + " estimated before the work is done without extraction",
				Why: n.Why, Source: Source{Text: "29 CFR 1910.134(d)(1)(iii): evaluate the hazard; what cannot be estimated counts as immediately dangerous", Memory: true}})
		}
	}
	return out
}

// airborneEyes is the eye protection that dust and mist ask for, whatever the product is classified.
func airborneEyes(e Exposure) Measure {
	m := Measure{Kind: Eyes, What: "goggles against droplets (EN 166 field 3), or a full face mask", Why: "mist of " + e.Name + " in the air",
		Source: Source{Text: "public summaries of EN 166"}}
	if e.Task == DustTask {
		m.What, m.Why = "sealed goggles against fine dust (EN 166 field 5), or a full face mask", "dust of "+e.Name+" in the air"
	}
	return m
}

func find(j Job, cas string) *substance.Substance {
	for _, i := range j.Ingredients {
		if i.CAS == cas && cas != "" {
			return i.Substance
		}
	}
	return nil
}
