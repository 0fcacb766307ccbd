package compare

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/protect"
	"sixteen/substance"
)

// Request names what is compared. Without a Job the axes that need one say so.
type Request struct {
	Products []exposure.Product // candidates: files, kits at their ratio, or ingredients given inline
	Rules    ghs.RuleSet        // judged under one law, so that classes mean the same; empty: that of the job, or the UN model rules
	Job      *exposure.Job      // the job they would do; may be nil
	Role     string             // name of the job's product they stand in for; empty when the job uses only one
	Options  plan.Options       // of the plans; Source reads files
}

// Product is one candidate with its scores.
type Product struct {
	Name   string     `json:"name"`
	Known  plan.Known `json:"known"`
	Scores []Score    `json:"scores"` // in the order of Axes
	Cost   *float64   `json:"cost_of_job,omitempty"`
	Plan   *plan.Plan `json:"-"` // of the job with this product; nil without a job
	Failed string     `json:"failed,omitempty"`
}

// Score is the product's score on an axis.
func (p Product) Score(a Axis) Score {
	i := slices.IndexFunc(p.Scores, func(s Score) bool { return s.Axis == a })
	if i < 0 {
		return Score{Axis: a, Open: true, Words: "not assessed"}
	}
	return p.Scores[i]
}

// Comparison is the whole answer.
type Comparison struct {
	Job      string      `json:"job,omitempty"`
	Role     string      `json:"role,omitempty"`
	RuleSet  ghs.RuleSet `json:"rule_set"`
	Headline []string    `json:"headline"`
	Products []Product   `json:"products"`
	Pairs    []Pair      `json:"pairs"`
	Leading  []string    `json:"not_dominated"` // candidates that no other dominates
	Notes    []string    `json:"notes,omitempty"`
	Partial  bool        `json:"partial,omitempty"`
}

// Make compares at least two products. When ctx ends early the products worked out so far are compared and the answer is
// marked Partial, as long as two are there.
func Make(ctx context.Context, req Request, table *substance.Table) (*Comparison, error) {
	if len(req.Products) < 2 {
		return nil, fmt.Errorf("name at least two products to compare, not %d", len(req.Products))
	}
	c := &Comparison{RuleSet: req.Rules}
	if req.Job != nil {
		role, err := roleIn(req.Job, req.Role)
		if err != nil {
			return nil, err
		}
		c.Job, c.Role = req.Job.Name, role
		if c.RuleSet == "" {
			c.RuleSet = plan.RulesFor(req.Job)
		}
	}
	if c.RuleSet == "" {
		c.RuleSet = ghs.UNGHS
	}
	for _, p := range req.Products {
		if ctx.Err() != nil {
			break
		}
		product, err := c.assess(ctx, req, p, table)
		if err != nil {
			if ctx.Err() != nil {
				break
			}
			return nil, err
		}
		if slices.ContainsFunc(c.Products, func(o Product) bool { return o.Name == product.Name }) {
			product.Name = fmt.Sprintf("%s (%d)", product.Name, len(c.Products)+1)
		}
		c.Products = append(c.Products, product)
		c.Partial = c.Partial || product.Plan != nil && product.Plan.Partial
	}
	if c.Partial = c.Partial || ctx.Err() != nil; len(c.Products) < 2 {
		return nil, ctx.Err()
	}
	c.conclude()
	return c, nil
}

// roleIn finds the product of the job that the candidates stand in for.
func roleIn(j *exposure.Job, role string) (string, error) {
	var used []string
	for _, t := range j.Tasks {
		if t.Product != "" && !slices.Contains(used, t.Product) {
			used = append(used, t.Product)
		}
	}
	switch {
	case role != "" && slices.Contains(used, role):
		return role, nil
	case role != "":
		return "", fmt.Errorf("no task of the job uses a product called %q; it uses: %s", role, strings.Join(used, ", "))
	case len(used) == 1:
		return used[0], nil
	}
	return "", fmt.Errorf("the job uses %d products (%s): say which one the candidates stand in for", len(used), strings.Join(used, ", "))
}

// assess reads a candidate, plans the job with it and places it on every axis.
func (c *Comparison) assess(ctx context.Context, req Request, p exposure.Product, table *substance.Table) (Product, error) {
	filled := p
	known, err := plan.FillProduct(ctx, &filled, table, req.Options.Source, c.RuleSet)
	if err != nil {
		if p.Name != "" { // an error of a file names the file
			err = fmt.Errorf("%s: %w", p.Name, err)
		}
		return Product{}, err
	}
	if filled.Name == "" {
		filled.Name = known.Name
	}
	known.Name = filled.Name
	out := Product{Name: filled.Name, Known: known}
	if req.Job != nil {
		if err := out.inJob(ctx, req, c, filled, table); err != nil {
			return out, err
		}
	}
	out.place(table)
	return out, nil
}

// inJob plans the job with the candidate in the role: same grams on the same surface, its own cure or none.
func (p *Product) inJob(ctx context.Context, req Request, c *Comparison, filled exposure.Product, table *substance.Table) error {
	job := *req.Job
	job.Products = slices.Clone(job.Products)
	job.Rules = c.RuleSet
	i := slices.IndexFunc(job.Products, func(o exposure.Product) bool { return o.Name == c.Role })
	price := filled.PricePerKg
	if old := job.Products[i]; price == 0 && filled.File != "" && filled.File == old.File {
		price = old.PricePerKg
	}
	stand := exposure.Product{Name: c.Role, File: standIn, DensityKgM3: filled.DensityKgM3, FlashPointC: filled.FlashPointC, Complete: filled.Complete, Cure: filled.Cure, PricePerKg: price}
	job.Products[i] = stand
	opt := req.Options
	opt.Source = known{p.Known, req.Options.Source}
	made, err := plan.Make(ctx, &job, table, opt)
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		p.Failed = "the job cannot be worked out with it: " + err.Error()
		return nil
	}
	p.Plan = made
	if price > 0 {
		cost := price * kilograms(&job, c.Role)
		p.Cost = &cost
	}
	return nil
}

// standIn is the file name under which a candidate stands in a job; no file system gives it.
const standIn = "\x00candidate"

// known gives a candidate that was read already, and asks next for everything else.
type known struct {
	candidate plan.Known
	next      plan.Source
}

// Product gives the candidate or asks on.
func (k known) Product(ctx context.Context, file string, rules ghs.RuleSet) (plan.Known, error) {
	if file == standIn {
		return k.candidate, nil
	}
	if k.next == nil {
		return plan.Known{}, plan.ErrNoSource
	}
	return k.next.Product(ctx, file, rules)
}

// kilograms is how much of a product the tasks use, middle of ranges.
func kilograms(j *exposure.Job, product string) float64 {
	sum := 0.0
	for _, t := range j.Tasks {
		if t.Product != product {
			continue
		}
		if t.AmountG.Given() {
			sum += (t.AmountG.Lo + t.AmountG.Hi) / 2000
			continue
		}
		for _, p := range j.Products {
			if p.Name == product {
				sum += (t.AmountML.Lo + t.AmountML.Hi) / 2 * p.DensityKgM3 / 1e6
			}
		}
	}
	return sum
}

// place gives the product its score on every axis.
func (p *Product) place(table *substance.Table) {
	for _, a := range Axes() {
		switch a {
		case Air:
			p.Scores = append(p.Scores, p.air())
		case Burden:
			p.Scores = append(p.Scores, p.burden())
		case Unknowns:
			p.Scores = append(p.Scores, unknowns(p.Known, table))
		case Papers:
			p.Scores = append(p.Scores, papers(p.Known))
		default:
			p.Scores = append(p.Scores, HazardScore(a, p.Known, table))
		}
	}
}

// air is the highest share of any limit that anybody meets, from the middle to the high case. A vapour without limit is
// held against the upper end of its band; what gives vapour and was not assessed leaves the score open.
func (p *Product) air() Score {
	s := Score{Axis: Air}
	if p.Plan == nil {
		s.Open, s.Words = true, "not assessed without a job"
		if p.Failed != "" {
			s.Words = p.Failed
		}
		return s
	}
	name := ""
	for _, person := range p.Plan.Exposure.People {
		for i, e := range person.Exposures {
			mid, high, by := share(e, p.Plan.Exposure.Vapours[i])
			if high > s.Hi {
				s.Hi, name = high, fmt.Sprintf("%s for %s, %s", e.Vapour, person.Name, by)
			}
			s.Lo = max(s.Lo, mid)
		}
	}
	s.Words = exposure.Spread(s.Lo, s.Hi) + " of the limit or band that is nearest"
	if name == "" {
		s.Words = "no vapour that could be followed"
	} else {
		s.Why = append(s.Why, name)
	}
	if n := openVapours(p.Plan); len(n) > 0 {
		s.Open = true
		s.Words += "; not assessed: " + strings.Join(n, ", ")
	}
	return s
}

// share is an exposure over its limits, or where none is on record over the upper end of its band.
func share(e exposure.Exposure, v exposure.VapourResult) (mid, high float64, by string) {
	for _, l := range e.Limits {
		if f := l.Fraction.Worst(); f > high {
			high, by = f, l.Limit.Who()+" "+l.Limit.Kind
		}
		mid = max(mid, l.Fraction.Middle)
	}
	if len(e.Limits) > 0 || v.Band == nil {
		return mid, high, by
	}
	if end, ok := v.Band.UpperPPM(); ok && v.Band.Letter != "" {
		return e.TWA8.Middle * e.PPMFactor / end, e.TWA8.Worst() * e.PPMFactor / end, "upper end of band " + v.Band.Letter + ", no limit on record"
	}
	return 0, 0, ""
}

// openVapours lists what may be in the air and is in no figure.
func openVapours(p *plan.Plan) []string {
	var out []string
	for _, n := range p.Exposure.NotAssessed {
		if !n.Benign {
			out = append(out, n.Name+" ("+n.Percent+")")
		}
	}
	for _, v := range p.Exposure.Vapours {
		if len(v.Limits) == 0 && (v.Band == nil || v.Band.Letter == "") {
			out = append(out, v.Name+" (neither limit nor band)")
		}
	}
	return out
}

// Rungs of the protection burden.
const (
	burdenGloves = iota
	burdenEyes
	burdenAir
	burdenMask
	burdenSupplied
	burdenStop
)

func burdenWords(n int) string {
	return []string{"gloves and glasses as for any work", "goggles, face shield or protective clothing", "more air or extraction than the job has", "a filter mask with fit and filter changes", "supplied air", "nothing held is adequate: do not do it this way"}[n]
}

// burden is the heaviest thing the plan asks people to do or wear.
func (p *Product) burden() Score {
	s := Score{Axis: Burden}
	if p.Plan == nil {
		s.Open, s.Words = true, "not assessed without a job"
		return s
	}
	level := burdenGloves
	for _, m := range p.Plan.Protection.Measures {
		switch m.Kind {
		case protect.Stop:
			level = max(level, burdenStop)
		case protect.Breathing:
			level = max(level, burdenMask)
			for _, r := range p.Plan.Protection.Respirators {
				if r.Adequate && r.Supplied {
					level = max(level, map[bool]int{true: burdenSupplied, false: burdenMask}[onlySupplied(p.Plan.Protection.Respirators)])
				}
			}
		case protect.Eyes, protect.Skin:
			level = max(level, burdenEyes)
		case protect.Ventilate:
			if strings.HasPrefix(m.What, "lower ") {
				level = max(level, burdenAir)
			}
		}
	}
	s.Lo, s.Hi, s.Words = float64(level), float64(level), burdenWords(level)
	if n := len(p.Plan.Protection.NotAssessed); n > 0 {
		s.Open = true
		s.Words += fmt.Sprintf("; no mask could be held against %d exposures", n)
		s.Why = p.Plan.Protection.NotAssessed
	}
	return s
}

func onlySupplied(rs []protect.Respirator) bool {
	return !slices.ContainsFunc(rs, func(r protect.Respirator) bool { return r.Adequate && !r.Supplied })
}

// unknowns is the percent of a product of which nobody says anything: the undisclosed share and ingredients without any
// classification held. It is a known amount of not knowing, so it is never open, except where no ingredient is known at all.
func unknowns(k plan.Known, table *substance.Table) Score {
	s := Score{Axis: Unknowns, Lo: k.Hidden[0], Hi: k.Hidden[1]}
	var names []string
	for _, i := range k.Mixture.Ingredients {
		if i.Hazards.Empty() && unclassified(i.CAS, table) {
			lo, hi := i.Bounds()
			s.Lo, s.Hi = s.Lo+lo, s.Hi+hi
			names = append(names, i.Name)
		}
	}
	s.Lo, s.Hi = math.Min(s.Lo, 100), math.Min(s.Hi, 100)
	s.Words = fmt.Sprintf("%.3g to %.3g %% of the product", s.Lo, s.Hi)
	if len(k.Mixture.Ingredients) == 0 {
		s.Lo, s.Hi, s.Words = 100, 100, "no ingredient is known"
	}
	if len(names) > 0 {
		s.Why = append(s.Why, "nothing is held of "+strings.Join(names, ", "))
	}
	return s
}

// papers counts what its sheet has to answer for: contradictions and gaps. A product without a sheet has none to judge.
func papers(k plan.Known) Score {
	if !k.FromSheet {
		return Score{Axis: Papers, Open: true, Words: "no sheet: a recipe or ingredients given by hand"}
	}
	n := float64(k.Contradictions + k.Gaps)
	return Score{Axis: Papers, Lo: n, Hi: n, Words: fmt.Sprintf("%d contradictions, %d gaps, %d doubts", k.Contradictions, k.Gaps, k.Doubts), Why: k.Findings}
}

// WriteJSON writes the whole comparison, indented.
func (c *Comparison) WriteJSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(c)
}
