package classify

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// acuteRoute is what is known of the ingredients by one route.
type acuteRoute struct {
	route   ghs.Qualifier
	known   []Term // weight 1/ATE
	unknown []Term // weight 1
	silent  []Term // ingredients of which nothing is said by this route, the undisclosed remainder included
	names   []string
}

// compileAcute adds up the acute toxicity route by route.
//
// ATEmix ≤ T with ATEmix = 100/Σ(x/ATE) is Σ(x/ATE) ≥ 100/T. Where more than 10 % are of unknown toxicity,
// ATEmix = (100 − unknown)/Σ(x/ATE), which is Σ(x/ATE) + unknown/T ≥ 100/T: both are linear in x.
func (c *compiler) compileAcute() {
	for _, route := range routes {
		if p := c.m.Tested.ATE[route]; p != nil {
			c.compileTestedATE(route, *p)
			continue
		}
		a := c.gatherAcute(route)
		if len(a.known) > 0 {
			c.compileATE(a)
		}
		if len(a.unknown) > 0 || len(a.known) > 0 {
			c.p.Quantities = append(c.p.Quantities, Quantity{Name: "unknown_percent_" + route.String(), Unit: "%", Terms: a.unknown})
		}
	}
}

// compileTestedATE classifies by a dose measured on the mixture itself.
func (c *compiler) compileTestedATE(route ghs.Qualifier, dose float64) {
	test := c.t.first("acute-test", "")
	for _, r := range c.acuteBounds(route) {
		one := Condition{Cmp: AtMost, Bound: r.limit()}
		if one.compare(dose, 0) {
			a := alternative(test)
			a.Clause += "; " + r.Clause
			a.Facts = []string{fmt.Sprintf("tested on the mixture: %s %s ≤ %s %s", number(dose), RouteUnit(route), r.Limit, RouteUnit(route))}
			c.give(hazardNamed(r.Result), a)
			return
		}
	}
	c.settle(settled{class: ghs.AcuteToxicity, qualifier: route, standing: NotClassified, clause: test.Clause,
		why: fmt.Sprintf("tested on the mixture: %s %s is above every category", number(dose), RouteUnit(route))})
}

func (c *compiler) acuteBounds(route ghs.Qualifier) []*RuleRow {
	var rows []*RuleRow
	for _, r := range c.t.of("acute-bound") {
		if r.Input == route.String() {
			rows = append(rows, r)
		}
	}
	return rows
}

// gatherAcute sorts the ingredients into known, unknown and silent.
func (c *compiler) gatherAcute(route ghs.Qualifier) acuteRoute {
	a := acuteRoute{route: route}
	relevant := c.t.first("acute-unknown", "").cutoff()
	counted := c.t.first("acute-counted", route.String()).limit()
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		ate, because, status := c.estimate(in, route)
		switch status {
		case ATEValue:
			one := Condition{Cmp: AtMost, Bound: counted}
			if one.compare(ate, 0) {
				a.known = append(a.known, Term{Ingredient: i, Weight: 1 / ate, Cutoff: c.acuteCutoff(route, ate), Because: because})
			}
		case ATEUnknown:
			a.unknown = append(a.unknown, Term{Ingredient: i, Weight: 1, Cutoff: relevant, Because: "is of unknown acute toxicity (" + route.String() + ")"})
		case ATEFromClass:
			a.silent = append(a.silent, Term{Ingredient: i, Weight: 1, Cutoff: relevant, Because: "has no acute toxicity data (" + route.String() + ")"})
			a.names = append(a.names, in.Name)
		}
	}
	if !c.m.Complete {
		a.silent = append(a.silent, Term{Ingredient: -1, Weight: 1, Cutoff: relevant, Because: "is not disclosed"})
		a.names = append(a.names, "the undisclosed remainder")
	}
	return a
}

// estimate is the ingredient's acute toxicity estimate: its value, else the point estimate of its category. The status
// ATEFromClass means that neither is known.
func (c *compiler) estimate(in *Ingredient, route ghs.Qualifier) (ate float64, because string, status ATEStatus) {
	given := in.ATE[route]
	switch given.Status {
	case ATEValue:
		return given.Value, fmt.Sprintf("has an ATE (%s) of %s %s", route, number(given.Value), RouteUnit(route)), ATEValue
	case ATENotToxic:
		return 0, "", ATENotToxic
	}
	for _, r := range c.t.of("acute-point") {
		if h := hazardNamed(r.Input); h.Qualifier() == route && in.Hazards.Has(h) {
			return r.limit(), fmt.Sprintf("is %s, point estimate %s %s (%s)", r.Input, r.Limit, r.Unit, r.Clause), ATEValue
		}
	}
	if given.Status == ATEFromClass && in.CAS == water {
		return 0, "", ATENotToxic
	}
	return 0, "", given.Status
}

// acuteCutoff is the share from which an ingredient of the given estimate is relevant.
func (c *compiler) acuteCutoff(route ghs.Qualifier, ate float64) float64 {
	category := ""
	for _, r := range c.acuteBounds(route) {
		if ate <= r.limit() {
			category = hazardNamed(r.Result).Category()
			break
		}
	}
	if r := c.t.first("acute-cutoff", category); category != "" && r != nil {
		return r.limit()
	}
	return c.t.first("acute-cutoff", "*").limit()
}

// compileATE makes the alternatives of every category of a route.
func (c *compiler) compileATE(a acuteRoute) {
	share := c.t.first("acute-unknown", "")
	for _, r := range c.acuteBounds(a.route) {
		h := hazardNamed(r.Result)
		plain := c.acuteCondition(a, r, nil)
		if len(a.unknown) == 0 {
			c.give(h, c.acuteAlternative(r, "acute-sum", plain))
		} else {
			c.give(h, c.acuteAlternative(r, "acute-sum", unknownShare(a.unknown, AtMost, share.limit()), plain))
			c.give(h, c.acuteAlternative(r, "acute-unknown", unknownShare(a.unknown, MoreThan, share.limit()), c.acuteCondition(a, r, a.unknown), anyKnown(a)))
		}
		if len(a.silent) > 0 {
			all := append(append([]Term(nil), a.unknown...), a.silent...)
			o := c.acuteAlternative(r, "acute-unknown", unknownShare(all, MoreThan, share.limit()), c.acuteCondition(a, r, all), anyKnown(a))
			o.Needs = []string{fmt.Sprintf("acute toxicity (%s) of %s: counted here as unknown", a.route, strings.Join(a.names, ", "))}
			c.open(h, o)
		}
	}
	c.p.Quantities = append(c.p.Quantities,
		Quantity{Name: "ate_mix_" + a.route.String(), Unit: RouteUnit(a.route), Terms: a.known, Inverse: true, Unknown: a.unknown, Above: share.limit()})
}

func (c *compiler) acuteAlternative(bound *RuleRow, formula string, conditions ...Condition) Alternative {
	f := c.t.first(formula, "")
	a := alternative(bound, conditions...)
	a.Clause = f.Clause + "; " + bound.Clause
	a.Memory = a.Memory || f.Memory
	return a
}

// acuteCondition is Σ x/ATE + Σ unknown/T ≥ 100/T.
func (c *compiler) acuteCondition(a acuteRoute, r *RuleRow, unknown []Term) Condition {
	bound := r.limit()
	terms := append([]Term(nil), a.known...)
	for _, u := range unknown {
		u.Weight = 1 / bound
		terms = append(terms, u)
	}
	return Condition{Terms: terms, Cmp: AtLeast, Bound: 100 / bound, What: "Σ share/ATE (" + a.route.String() + ")", Unit: "% per " + RouteUnit(a.route), Route: a.route, KnownTerms: len(a.known)}
}

func unknownShare(terms []Term, cmp Compare, limit float64) Condition {
	return Condition{Terms: terms, Cmp: cmp, Bound: limit, What: "share of unknown acute toxicity", Unit: "%"}
}

// anyKnown holds when some ingredient of known toxicity is there: a mixture of unknowns only has no estimate.
func anyKnown(a acuteRoute) Condition {
	return Condition{Terms: a.known, Cmp: MoreThan, Bound: 0, What: "Σ share/ATE (" + a.route.String() + ")", Unit: "% per " + RouteUnit(a.route)}
}

// PointEstimate converts an experimental range lo to hi (mg/kg, ppm, mg/l) of an ingredient to the estimate that a rule
// set calculates with: the point estimate of the category when the range lies within one, else its low end.
func PointEstimate(rs ghs.RuleSet, route ghs.Qualifier, lo, hi float64) (float64, error) {
	t, err := tableOf(rs)
	if err != nil {
		return 0, err
	}
	if !(lo > 0 && hi >= lo) {
		return 0, fmt.Errorf("the range %v to %v is not a range of doses", lo, hi)
	}
	above := 0.0
	for _, r := range t.of("acute-bound") {
		if r.Input != route.String() {
			continue
		}
		if lo >= above && hi <= r.limit() {
			if p := t.first("acute-point", r.Result); p != nil {
				return p.limit(), nil
			}
		}
		above = r.limit()
	}
	return lo, nil
}
