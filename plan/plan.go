package plan

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/protect"
	"sixteen/substance"
)

// Options of a plan. The zero value works out the middle and the high case without sampling.
type Options struct {
	Exposure exposure.Options
	Source   Source // reads the products that the job names by file; may be nil when none is
}

// Plan is the whole answer for one job.
type Plan struct {
	Name        string           `json:"name"`
	RuleSet     ghs.RuleSet      `json:"rule_set"`
	Headline    []string         `json:"headline"`               // the most important first; what was not assessed is among it
	NotAssessed []string         `json:"not_assessed,omitempty"` // everything that no figure or measure covers
	Job         *exposure.Job    `json:"job"`                    // with the ingredients it was worked out from
	Products    []Known          `json:"products"`
	Exposure    *exposure.Result `json:"exposure"` // heat of cure among it
	Protection  protect.Plan     `json:"protection"`
	Bystanders  []Bystander      `json:"bystanders,omitempty"`
	Partial     bool             `json:"partial,omitempty"` // stopped before everything was worked out
}

// Make plans a job. Questions about the job come back as joined *exposure.FieldError. When ctx ends after the middle case
// is there, the plan holds what was finished and is marked Partial, without an error.
func Make(ctx context.Context, job *exposure.Job, table *substance.Table, opt Options) (*Plan, error) {
	if err := questions(job); err != nil {
		return nil, err
	}
	filled, known, err := Fill(ctx, job, table, opt.Source)
	if err != nil {
		return nil, err
	}
	r, err := exposure.Run(ctx, filled, table, opt.Exposure)
	if err != nil {
		return nil, err
	}
	p := &Plan{Name: job.Name, RuleSet: RulesFor(job), Job: filled, Products: known, Exposure: r, Partial: r.Partial}
	if p.Protection, err = protect.Make(p.protectJob(table)); err != nil {
		return nil, fmt.Errorf("the protection cannot be planned: %w", err)
	}
	p.Bystanders = p.bystanders()
	p.NotAssessed = p.notAssessed()
	p.Headline = p.headline()
	return p, nil
}

// questions are those of Check that reading files cannot answer, so that nobody waits for a sheet to learn of a typing error.
func questions(job *exposure.Job) error {
	bare := *job
	bare.Products = slices.Clone(job.Products)
	for i := range bare.Products {
		if p := &bare.Products[i]; len(p.Ingredients) == 0 && (p.File != "" || len(p.Parts) > 0) {
			p.Ingredients = []exposure.Ingredient{{Name: "to be read", Percent: exposure.Between(0, 100)}}
			if p.DensityKgM3 == 0 {
				p.DensityKgM3 = 1000
			}
		}
	}
	return bare.Check()
}

// SchemeFor is whose respirators a job is planned with: the stated scheme, or that of the place.
func SchemeFor(j *exposure.Job) protect.Scheme {
	switch {
	case j.Respirators != "":
		return protect.Scheme(j.Respirators)
	case slices.Contains([]substance.Jurisdiction{substance.UnitedStates, substance.California, substance.Ontario}, j.Jurisdiction):
		return protect.US
	}
	return protect.EN
}

// protectJob is the job as package protect sees it: the hazards and ingredients of every product that is used, and what the
// most exposed person at the work meets.
func (p *Plan) protectJob(table *substance.Table) protect.Job {
	j := protect.Job{Scheme: SchemeFor(p.Job), RuleSet: p.RuleSet, Bed: protect.ReferenceBed(), Exposures: Exposures(p.Job, p.Exposure, table)}
	if p.Job.HumidityPct > 0 {
		j.Bed.HumidityPercent = p.Job.HumidityPct
	}
	for i, product := range p.Job.Products {
		if !p.used(product.Name) {
			continue
		}
		j.Hazards = j.Hazards.Union(p.Products[i].Acting())
		for _, ing := range product.Ingredients {
			s, _ := table.ByCAS(ing.CAS)
			j.Ingredients = append(j.Ingredients, protect.Ingredient{CAS: ing.CAS, Name: ing.Name, Part: product.Name, Share: ing.Percent.Interval, Substance: s})
		}
	}
	return j
}

func (p *Plan) used(product string) bool {
	return slices.ContainsFunc(p.Job.Tasks, func(t exposure.Task) bool { return t.Product == product })
}

// Bystander is somebody in the rooms who does not do the work.
type Bystander struct {
	Name  string   `json:"name"`
	Child bool     `json:"child,omitempty"`
	Says  []string `json:"says"`
}

// bystanders tells for everybody who is not at the work whether a limit is passed; masks are no answer for them.
func (p *Plan) bystanders() []Bystander {
	var out []Bystander
	for i, person := range p.Exposure.People {
		if AtWork(p.Job, p.Job.People[i]) {
			continue
		}
		b := Bystander{Name: person.Name, Child: person.Child}
		for _, e := range person.Exposures {
			for _, l := range e.Limits {
				if f := l.Fraction.Worst(); f > 1 {
					b.Says = append(b.Says, fmt.Sprintf("%s reaches up to %s times the %s %s: stay out of %s, or change the work, until the rooms may be used again", e.Vapour, exposure.Amount(f), l.Limit.Who(), l.Limit.Kind, rooms(p.Job.People[i])))
					break
				}
			}
		}
		if person.Child {
			b.Says = append(b.Says, "a child: limits for workers say little; keep children out of "+rooms(p.Job.People[i])+" until the time for children has passed")
		}
		if len(b.Says) == 0 {
			b.Says = append(b.Says, "no limit on record is passed by the vapours that were assessed; what was not assessed is not in this")
		}
		out = append(out, b)
	}
	return out
}

func rooms(person exposure.Person) string {
	var names []string
	for _, s := range person.Stays {
		if !slices.Contains(names, s.Room) {
			names = append(names, s.Room)
		}
	}
	return strings.Join(names, ", ")
}

// notAssessed gathers what neither figures nor measures cover.
func (p *Plan) notAssessed() []string {
	var out []string
	for _, n := range p.Exposure.NotAssessed {
		if !n.Benign {
			out = append(out, fmt.Sprintf("%s, %s of %s: %s", n.Name, n.Percent, n.Product, n.Why))
		}
	}
	for _, n := range p.Protection.NotAssessed {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, v := range p.Exposure.Vapours {
		if _, ok := bandEnd(v); ok && len(v.Limits) == 0 {
			out = append(out, v.Name+": no limit on record; held against its band, which is guidance and no limit")
		} else if len(v.Limits) > 0 && v.Limits[0].Borrowed {
			out = append(out, v.Name+": no limit of this place on record; held against that of another, "+v.Limits[0].Authority)
		}
	}
	for _, k := range p.Products {
		for _, n := range k.Notes {
			if strings.HasPrefix(n, "nothing can be worked out") {
				out = append(out, k.Name+": "+n)
			}
		}
	}
	return out
}

// headline is the result's headline, led by whether the job can be done this way at all.
func (p *Plan) headline() []string {
	var out []string
	if p.Partial {
		out = append(out, "Partial answer: the calculation was stopped before its end")
	}
	if !p.Protection.Adequate {
		for _, m := range p.Protection.Measures {
			if m.Kind == protect.Stop {
				out = append(out, "Do not do it this way: "+m.What)
			}
		}
	}
	for _, h := range p.Exposure.Headline {
		if !strings.HasPrefix(h, "Partial answer") {
			out = append(out, h)
		}
	}
	if n := len(p.Protection.NotAssessed); n > 0 {
		out = append(out, fmt.Sprintf("No respirator could be held against %d of the exposures: %s", n, strings.Join(p.Protection.NotAssessed, "; ")))
	}
	return out
}

// WriteJSON writes the whole plan, indented.
func (p *Plan) WriteJSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(p)
}
