package classify

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Standing is what became of one class.
type Standing uint8

// Standings. They are different answers and stay different everywhere.
const (
	Classified    Standing = iota // the mixture is classified
	NotClassified                 // the rules were applied and give no category: not classified
	NoData                        // cannot be worked out: nothing is known that the rules could use
	OutOfScope                    // the rule set has no such class
)

var standingWords = [...]string{Classified: "classified", NotClassified: "not classified", NoData: "no data", OutOfScope: "not in this rule set"}

// String is the standing in words: "classified", "not classified", "no data", "not in this rule set".
func (s Standing) String() string { return standingWords[s] }

// MarshalText writes the standing in words.
func (s Standing) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Reason is one step of a trace: the clause, and the arithmetic in words and numbers.
type Reason struct {
	Text   string `json:"text"` // "2 % × 10 + 10 % = 30 % ≥ 10 % → Skin Irrit. 2"
	Clause string `json:"clause"`
	Rule   string `json:"rule"`             // file and line of the rule table
	Memory bool   `json:"memory,omitempty"` // the rule was recalled and not read in the law
}

// ClassResult is the answer for one class (and route or effect) with its trace.
type ClassResult struct {
	Class     ghs.Class     `json:"class"`
	Qualifier ghs.Qualifier `json:"qualifier,omitempty"`
	Standing  Standing      `json:"standing"`
	Hazard    ghs.Hazard    `json:"hazard,omitempty"` // the category given
	Why       []Reason      `json:"why"`
	Open      []Reason      `json:"open,omitempty"` // what would follow if a fact were known to hold
}

// Results is the answer for every class of the standard, in its order, with the trace.
func (c *Classification) Results() []ClassResult {
	var out []ClassResult
	for _, g := range groups() {
		out = append(out, c.result(g))
	}
	return out
}

// groups lists every class by route or effect, in the order of the standard.
func groups() []group {
	var all []group
	seen := map[group]bool{}
	for _, h := range ghs.AllHazards() {
		if g := groupOf(h); !seen[g] && h.String() != "STOT SE 3" {
			seen[g] = true
			all = append(all, g)
		}
	}
	return all
}

func (c *Classification) result(g group) ClassResult {
	r := ClassResult{Class: g.class, Qualifier: g.qualifier, Standing: NotClassified}
	p := c.Program
	var last *Outcome
	for i := range p.Outcomes {
		o := &p.Outcomes[i]
		if groupOf(o.Hazard) != g {
			continue
		}
		last = o
		c.addOpen(&r, o)
		if c.Hazards.Has(o.Hazard) {
			r.Standing, r.Hazard = Classified, o.Hazard
			for k := range o.AnyOf {
				if o.AnyOf[k].Holds(c.X) {
					r.Why = append(r.Why, c.reason(&o.AnyOf[k], o.Hazard.String()))
				}
			}
		}
	}
	if r.Standing == Classified {
		return r
	}
	if s := p.settledFor(g); s != nil {
		r.Standing, r.Why = s.standing, []Reason{{Text: s.why, Clause: s.clause}}
		return r
	}
	switch {
	case last != nil && len(last.AnyOf) > 0:
		r.Why = []Reason{c.missed(last, last.AnyOf)}
	case last != nil && len(r.Open) > 0:
		r.Standing, r.Why = NoData, []Reason{r.Open[0]}
		r.Why[0].Text = "cannot be worked out: " + r.Why[0].Text
	case last != nil:
		r.Why = []Reason{c.missed(last, last.Open)}
	default:
		c.absent(&r, g)
	}
	return r
}

func (p *Program) settledFor(g group) *settled {
	for i := range p.settled {
		if s := &p.settled[i]; s.class == g.class && s.qualifier == g.qualifier {
			return s
		}
	}
	return nil
}

// addOpen tells what would follow from facts that are not known, where the composition allows it.
func (c *Classification) addOpen(r *ClassResult, o *Outcome) {
	if c.Hazards.Has(o.Hazard) || r.Standing == Classified {
		return
	}
	for k := range o.Open {
		if o.Open[k].Holds(c.X) {
			reason := c.reason(&o.Open[k], o.Hazard.String())
			reason.Text = "if known: " + strings.Join(o.Open[k].Needs, "; ") + ": " + reason.Text
			r.Open = append(r.Open, reason)
		}
	}
}

// missed says why the mildest category was not reached: by the alternative that came nearest, which is the one with
// the fewest conditions unfulfilled and of those the one most nearly so.
func (c *Classification) missed(o *Outcome, alternatives []Alternative) Reason {
	best, fewest, nearest := 0, len(alternatives[0].AllOf)+1, -1.0
	for k := range alternatives {
		failing, worst := 0, 1.0
		for j := range alternatives[k].AllOf {
			if cond := &alternatives[k].AllOf[j]; !cond.Holds(c.X) {
				failing++
				worst = min(worst, cond.reached(c.X))
			}
		}
		if failing < fewest || failing == fewest && worst > nearest {
			best, fewest, nearest = k, failing, worst
		}
	}
	a := &alternatives[best]
	reason := c.reason(a, o.Hazard.String())
	for j := range a.AllOf {
		if cond := &a.AllOf[j]; !cond.Holds(c.X) {
			reason.Text = "ruled out because " + c.conditionText(cond) + " (" + o.Hazard.String() + ")"
			break
		}
	}
	return reason
}

// reached is the part of the bound that the sum reaches, 0 to 1.
func (c *Condition) reached(x []float64) float64 {
	v := c.Value(x)
	if c.Cmp == AtMost || c.Cmp == LessThan {
		v, c = c.Bound, &Condition{Bound: v}
	}
	if c.Bound == 0 {
		return 0
	}
	return max(0, v/c.Bound)
}

// absent answers for a class that no rule of the program speaks of.
func (c *Classification) absent(r *ClassResult, g group) {
	p := c.Program
	if !p.hasClass(g) {
		r.Standing, r.Why = OutOfScope, []Reason{{Text: "the rule set has no such class", Clause: p.scopeClause(g)}}
		return
	}
	if forms := classForms[g.class]; forms != nil && p.Mixture.Form != FormUnknown && !slices.Contains(forms, p.Mixture.Form) {
		r.Why = []Reason{{Text: "the class is for another form (" + p.Mixture.Form.String() + ")"}}
		return
	}
	if row := p.testOnly(g); row != nil {
		r.Standing, r.Why = NoData, []Reason{{Text: row.Note + p.carriers(g), Clause: row.Clause, Rule: row.name(), Memory: row.Memory}}
		return
	}
	if g.class == ghs.FlammableLiquids {
		c.absentFlammable(r)
		return
	}
	if g.class.Group() == ghs.PhysicalGroup && g.class != ghs.OrganicPeroxides {
		r.Standing, r.Why = NoData, []Reason{{Text: "no data on the mixture" + p.carriers(g)}}
		return
	}
	if g.class == ghs.AcuteToxicity {
		c.absentAcute(r, g.qualifier)
		return
	}
	var silent []string
	for i := range p.Mixture.Ingredients {
		if p.Mixture.Ingredients[i].silent() {
			silent = append(silent, fmt.Sprintf("%s (%s %%)", p.Mixture.Ingredients[i].Name, number(c.X[i])))
		}
	}
	switch {
	case len(silent) == len(p.Mixture.Ingredients):
		r.Standing, r.Why = NoData, []Reason{{Text: "cannot be worked out: no hazard of any ingredient is known"}}
	case len(silent) > 0:
		r.Why = []Reason{{Text: "no ingredient is in this class; nothing is said of " + strings.Join(silent, ", ")}}
	default:
		r.Why = []Reason{{Text: "no ingredient is in this class"}}
	}
}

// classForms are the forms of a mixture that a class is for, where it is not for all.
var classForms = map[ghs.Class][]Form{
	ghs.FlammableGases: {Gas}, ghs.PyrophoricGases: {Gas}, ghs.OxidisingGases: {Gas}, ghs.GasesUnderPressure: {Gas}, ghs.SimpleAsphyxiants: {Gas},
	ghs.Aerosols: {Aerosol}, ghs.ChemicalsUnderPressure: {UnderPressure},
	ghs.FlammableLiquids: {Liquid}, ghs.PyrophoricLiquids: {Liquid}, ghs.OxidisingLiquids: {Liquid},
	ghs.FlammableSolids: {Solid, Powder}, ghs.PyrophoricSolids: {Solid, Powder}, ghs.OxidisingSolids: {Solid, Powder}, ghs.CombustibleDusts: {Powder, Solid},
}

// absentAcute answers for a route by which no ingredient is known to be acutely toxic. Where more than the share that
// the law lets one leave aside has no data, nothing can be worked out.
func (c *Classification) absentAcute(r *ClassResult, route ghs.Qualifier) {
	p := c.Program
	row := p.rules.first("acute-unknown", "")
	share := Condition{Cmp: MoreThan, Bound: row.limit()}
	var without []string
	for i := range p.Mixture.Ingredients {
		in := &p.Mixture.Ingredients[i]
		if s := in.ATE[route].Status; s == ATEFromClass || s == ATEUnknown {
			share.Terms = append(share.Terms, Term{Ingredient: i, Weight: 1, Cutoff: row.cutoff()})
			if c.X[i] >= row.cutoff() {
				without = append(without, fmt.Sprintf("%s (%s %%)", in.Name, number(c.X[i])))
			}
		}
	}
	reason := Reason{Text: "no ingredient is acutely toxic by this route", Clause: row.Clause}
	if len(without) > 0 {
		reason.Text += "; no data on " + strings.Join(without, ", ")
	}
	if share.Holds(c.X) || len(p.Mixture.Ingredients) == 0 {
		r.Standing = NoData
		reason.Text = "cannot be worked out: no acute toxicity data (" + route.String() + ") on " + strings.Join(without, ", ")
	}
	r.Why = []Reason{reason}
}

// absentFlammable answers for flammable liquids, which the flash point decides.
func (c *Classification) absentFlammable(r *ClassResult) {
	p := c.Program
	clause := ""
	for _, row := range p.rules.of("fact") {
		if strings.HasPrefix(row.Result, "Flam. Liq.") {
			clause = row.Clause
		}
	}
	switch t := p.Mixture.Tested; {
	case t.NoFlashPoint:
		r.Why = []Reason{{Text: "ruled out because it has no flash point", Clause: clause}}
	case t.FlashPointC == nil:
		r.Standing, r.Why = NoData, []Reason{{Text: "cannot be worked out: no flash point of the mixture is given; no rule adds up ingredients" + p.carriers(group{class: ghs.FlammableLiquids}), Clause: clause}}
	default:
		r.Why = []Reason{{Text: fmt.Sprintf("ruled out because the flash point, %s °C, is in no category", number(*t.FlashPointC)), Clause: clause}}
	}
}

// silent tells whether nothing at all is said of the ingredient's hazards.
func (in *Ingredient) silent() bool {
	if !in.Hazards.Empty() {
		return false
	}
	for _, r := range routes {
		if in.ATE[r].Status != ATEFromClass && in.ATE[r].Status != ATEUnknown {
			return false
		}
	}
	return true
}

func (p *Program) hasClass(g group) bool {
	law := p.lawOf()
	for _, h := range g.class.Hazards() {
		if groupOf(h) == g && law.Exists(h) {
			return g.class.Group() != ghs.EnvironmentGroup || p.rules.first("out-of-scope", "environment") == nil
		}
	}
	return false
}

func (p *Program) scopeClause(g group) string {
	if row := p.rules.first("out-of-scope", string(g.class.Group())); row != nil {
		return row.Clause
	}
	return p.lawOf().Law()
}

func (p *Program) testOnly(g group) *RuleRow {
	return p.rules.first("test-only", g.class.Short())
}

// carriers names the ingredients that are in the class themselves: they do not decide, but point to what to test.
func (p *Program) carriers(g group) string {
	var names []string
	for i := range p.Mixture.Ingredients {
		for _, h := range p.Mixture.Ingredients[i].Hazards.All() {
			if h.Class() == g.class {
				names = append(names, p.Mixture.Ingredients[i].Name+" is "+h.String())
				break
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + strings.Join(names, ", ") + ": have the mixture tested)"
}

// reason writes one alternative with its numbers.
func (c *Classification) reason(a *Alternative, result string) Reason {
	var parts []string
	for i := range a.AllOf {
		if cond := &a.AllOf[i]; !cond.merelyPresent() || len(a.AllOf) == 1 {
			parts = append(parts, c.conditionText(cond))
		}
	}
	parts = append(parts, a.Facts...)
	return Reason{Text: strings.Join(parts, "; ") + " → " + result, Clause: a.Clause, Rule: a.Rule, Memory: a.Memory}
}

// merelyPresent tells whether the condition only asks that something be there: it says nothing in a trace.
func (c *Condition) merelyPresent() bool { return c.Cmp == MoreThan && c.Bound == 0 }

// conditionText writes a condition with its numbers: "2 % × 10 + 10 % = 30 % ≥ 10 %".
func (c *Classification) conditionText(cond *Condition) string {
	if cond.Route != ghs.NoQualifier {
		return c.estimateText(cond)
	}
	var terms []string
	left := 0
	for i := range cond.Terms {
		t := &cond.Terms[i]
		share := shareOf(c.X, t.Ingredient)
		if share <= 0 {
			continue
		}
		if !t.Counts(share) {
			left++
			continue
		}
		if t.Weight == 1 {
			terms = append(terms, number(share)+" %")
		} else {
			terms = append(terms, number(share)+" % × "+number(t.Weight))
		}
	}
	value := cond.Value(c.X)
	sign := cond.Cmp.String()
	if !cond.Holds(c.X) {
		sign = [...]string{AtLeast: "<", MoreThan: "≤", AtMost: ">", LessThan: "≥"}[cond.Cmp]
	}
	sum := ""
	if len(terms) > 1 || len(terms) == 1 && strings.Contains(terms[0], "×") {
		sum = strings.Join(terms, " + ") + " = "
	}
	text := fmt.Sprintf("%s: %s%s %s %s %s %s", cond.What, sum, number(value), cond.Unit, sign, number(cond.Bound), cond.Unit)
	if left > 0 {
		text += fmt.Sprintf(" (%d below the cut-off left out)", left)
	}
	return text
}

// estimateText writes an acute toxicity condition as its estimate: "100 / (20 / 500 + 5 / 100) = 1111.1 mg/kg ≤ 2000".
func (c *Classification) estimateText(cond *Condition) string {
	limit := 100 / cond.Bound
	unit := RouteUnit(cond.Route)
	var terms []string
	known, unknown := 0.0, 0.0
	for i := range cond.Terms {
		t := &cond.Terms[i]
		share := shareOf(c.X, t.Ingredient)
		if !t.Counts(share) || share <= 0 {
			continue
		}
		if i < cond.KnownTerms {
			known += t.Weight * share
			terms = append(terms, number(share)+" / "+number(1/t.Weight))
		} else {
			unknown += share
		}
	}
	if known == 0 {
		return "no relevant ingredient of known acute toxicity (" + cond.Route.String() + ")"
	}
	top := "100"
	if unknown > 0 {
		top = "(100 − " + number(unknown) + ")"
	}
	sign := "≤"
	if !cond.Holds(c.X) {
		sign = ">"
	}
	return fmt.Sprintf("ATEmix (%s) = %s / (%s) = %s %s %s %s %s", cond.Route, top, strings.Join(terms, " + "), number((100-unknown)/known), unit, sign, number(limit), unit)
}
