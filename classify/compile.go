package classify

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Compile works the rules of a rule set into conditions on the composition of m. It fails when m's numbers make no
// sense (see Mixture.Check) or when no rules are held for rs.
func Compile(m Mixture, rs ghs.RuleSet) (*Program, error) {
	t, err := tableOf(rs)
	if err != nil {
		return nil, err
	}
	if err := m.Check(); err != nil {
		return nil, err
	}
	c := &compiler{m: &m, t: t, p: &Program{RuleSet: rs, Mixture: m, rules: t}, found: map[ghs.Hazard]*Outcome{}}
	c.compileRows()
	c.compileAcute()
	c.compileSkinCascade()
	c.compileEyeIrritants()
	c.compileAquatic()
	c.compileGases()
	c.compileAerosol()
	c.compilePeroxide()
	c.compileLooseLimits()
	c.corrosiveMeansEyeDamage()
	c.applyTests()
	c.order()
	c.note("bridging from similar tested mixtures is not done: it needs a person's judgement")
	return c.p, nil
}

// compiler gathers the outcomes of one program.
type compiler struct {
	m     *Mixture
	t     *ruleTable
	p     *Program
	found map[ghs.Hazard]*Outcome
	used  map[limitKey]bool // specific limits that a rule row has taken up
}

// limitKey is one specific limit of one ingredient.
type limitKey struct{ ingredient, limit int }

func (c *compiler) outcome(h ghs.Hazard) *Outcome {
	o := c.found[h]
	if o == nil {
		o = &Outcome{Hazard: h}
		c.found[h] = o
	}
	return o
}

func (c *compiler) give(h ghs.Hazard, a Alternative) {
	o := c.outcome(h)
	o.AnyOf = append(o.AnyOf, a)
}

func (c *compiler) open(h ghs.Hazard, a Alternative) {
	o := c.outcome(h)
	o.Open = append(o.Open, a)
}

func (c *compiler) note(s string) { c.p.Notes = append(c.p.Notes, s) }

func (c *compiler) settle(s settled) { c.p.settled = append(c.p.settled, s) }

// alternative starts an alternative of a row with the conditions given.
func alternative(r *RuleRow, conditions ...Condition) Alternative {
	return Alternative{AllOf: conditions, Rule: r.name(), Clause: r.Clause, Memory: r.Memory}
}

// compileRows takes up the rows that need no procedure of their own.
func (c *compiler) compileRows() {
	for i := range c.t.rows {
		r := &c.t.rows[i]
		switch r.Kind {
		case "fact":
			c.compileFact(r)
		case "sum":
			c.compileSum(r)
		case "each":
			c.compileEach(r)
		case "elicit":
			c.compileElicitation(r)
		case "carry":
			c.compileCarried(r)
		case "open-each":
			c.compileOpenEach(r)
		}
	}
}

// place puts an alternative of a row where its facts allow: into the outcome when they hold, open when one is not
// known, nowhere when one does not hold. ingredient is the one to name in a statement, or -1.
func (c *compiler) place(r *RuleRow, w ruledWhen, ingredient int, a Alternative) {
	if w.holds == no {
		return
	}
	a.Facts = append(slices.Clone(a.Facts), w.facts...)
	a.Needs = append(slices.Clone(a.Needs), w.needs...)
	if isStatement(r.Result) {
		c.placeStatement(r, ingredient, a)
		return
	}
	h := hazardNamed(r.Result)
	if len(a.Needs) > 0 {
		c.open(h, a)
		return
	}
	c.give(h, a)
}

func (c *compiler) placeStatement(r *RuleRow, ingredient int, a Alternative) {
	code := ghs.Code(r.Result)
	i := slices.IndexFunc(c.p.Statements, func(s StatementOutcome) bool { return s.Code == code })
	if i < 0 {
		i = len(c.p.Statements)
		c.p.Statements = append(c.p.Statements, StatementOutcome{
			Code: code, OnlyUnclassified: code == "EUH210", OptionalIfNamed: strings.Contains(r.Note, "already named"),
		})
	}
	s := &c.p.Statements[i]
	if len(a.Needs) > 0 {
		s.Open = append(s.Open, a)
		return
	}
	s.AnyOf = append(s.AnyOf, a)
	s.Ingredients = append(s.Ingredients, ingredient)
}

// compileFact takes up a row that asks for facts of the mixture only. A row none of whose measured facts is known to
// hold is not kept open: nothing points to it.
func (c *compiler) compileFact(r *RuleRow) {
	w := c.m.evalWhen(r.When)
	if w.holds == unknown && w.measured == 0 {
		return
	}
	c.place(r, w, -1, alternative(r))
}

// compileSum takes up a row of weighted sums. Several sums separated by ";" must all hold.
func (c *compiler) compileSum(r *RuleRow) {
	w := c.m.evalWhen(r.When)
	if w.holds == no {
		return
	}
	inputs, ops, limits, units := strings.Split(r.Input, ";"), strings.Split(r.Op, ";"), strings.Split(r.Limit, ";"), strings.Split(r.Unit, ";")
	var conditions []Condition
	for i, input := range inputs {
		pieces, err := parseSum(strings.TrimSpace(input))
		if err != nil {
			panic("classify: rule " + r.name() + ": " + err.Error())
		}
		bound := mustNumber(strings.TrimSpace(limits[i]), r)
		terms := c.sumTerms(r, pieces, bound, r.cutoff())
		if len(terms) == 0 {
			return
		}
		conditions = append(conditions, Condition{
			Terms: terms, Cmp: compareOf(strings.TrimSpace(ops[i])), Bound: bound, What: sumWords(pieces),
			Unit: strings.TrimSpace(units[min(i, len(units)-1)]),
		})
	}
	c.place(r, w, -1, alternative(r, conditions...))
	if r.Number != "" {
		c.p.Quantities = append(c.p.Quantities, Quantity{Name: r.Number, Unit: "%", Terms: conditions[0].Terms})
	}
}

// sumWords names a sum: "10 × Skin Corr. + Skin Irrit. 2".
func sumWords(pieces []piece) string {
	words := make([]string, len(pieces))
	for i, p := range pieces {
		words[i] = strings.ReplaceAll(strings.ReplaceAll(p.words, " *", ""), " | ", " or ")
		switch {
		case p.timesM && p.weight != 1:
			words[i] = number(p.weight) + " × M × " + words[i]
		case p.timesM:
			words[i] = "M × " + words[i]
		case p.weight != 1:
			words[i] = number(p.weight) + " × " + words[i]
		}
	}
	return strings.Join(words, " + ")
}

// sumTerms are the terms of one sum. An ingredient counts once, with its greatest weight; with a specific limit for the
// row's result it counts as limit/specific limit.
func (c *compiler) sumTerms(r *RuleRow, pieces []piece, bound, cutoff float64) []Term {
	var terms []Term
	skinOrEye := !isStatement(r.Result) && isSkinOrEye(hazardNamed(r.Result))
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		if r.Kind == "sum" && !in.is(r.Which) {
			continue
		}
		weight, because := in.pieceWeight(pieces)
		specific, has := c.specificLimit(i, r.Result, weight, bound)
		switch {
		case has:
			t := Term{Ingredient: i, Weight: bound / specific, Cutoff: min(cutoff, specific), Because: fmt.Sprintf("has a specific limit of %s %% for %s", number(specific), r.Result)}
			if specific == 0 {
				t.Weight, t.Cutoff, t.CutoffOpen = bound*1e12, 0, true
			}
			terms = append(terms, t)
		case weight == 0, skinOrEye && !in.additive():
		default:
			terms = append(terms, Term{Ingredient: i, Weight: weight, Cutoff: cutoff, Because: because})
		}
	}
	return terms
}

// pieceWeight is the greatest weight any piece gives the ingredient, and why.
func (in *Ingredient) pieceWeight(pieces []piece) (weight float64, because string) {
	for _, p := range pieces {
		w, why := 0.0, ""
		if p.property != "" {
			if v, ok := in.property(p.property); ok {
				w, why = v, p.property+" "+number(v)
				if strings.HasSuffix(p.property, "_pct") || p.property == PropHeatKJG {
					w = v / 100 // a property of the ingredient, in proportion to its share
				}
			}
		} else if hit := in.Hazards.Intersect(p.hazards); !hit.Empty() {
			w, why = p.weight, "is "+hit.All()[0].String()
		}
		if w > weight {
			weight, because = w, why
		}
	}
	return weight, because
}

func isSkinOrEye(h ghs.Hazard) bool {
	return h.Class() == ghs.SkinCorrosion || h.Class() == ghs.EyeDamage
}

// compileEach takes up a row that asks of each single ingredient whether it reaches a limit.
func (c *compiler) compileEach(r *RuleRow) {
	w := c.m.evalWhen(r.When)
	if w.holds == no {
		return
	}
	set, err := hazardSetOf(r.Input)
	if err != nil {
		panic("classify: rule " + r.name() + ": " + err.Error())
	}
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		hit := in.Hazards.Intersect(set)
		if (set.Empty() || !hit.Empty()) && in.is(r.Which) {
			c.placeEach(r, w, i, eachBecause(hit, r.Which))
		}
	}
}

func eachBecause(hit ghs.HazardSet, which string) string {
	if hit.Empty() {
		return "is " + strings.ReplaceAll(which, ";", " and")
	}
	return "is " + hit.All()[0].String()
}

func hazardSetOf(input string) (ghs.HazardSet, error) {
	var set ghs.HazardSet
	for _, name := range strings.Split(input, " | ") {
		s, err := hazardGroup(name)
		if err != nil {
			return set, err
		}
		set = set.Union(s)
	}
	return set, nil
}

func (c *compiler) placeEach(r *RuleRow, w ruledWhen, i int, because string) {
	limit, cmp := r.limit(), compareOf(r.Op)
	if specific, has := c.specificLimit(i, r.Result, 1, limit); has {
		if r.Which != "" && isSkinOrEye(hazardNamed(r.Result)) {
			return // the weighted sum takes it up
		}
		limit, because = specific, fmt.Sprintf("has a specific limit of %s %% for %s", number(specific), r.Result)
	}
	c.place(r, w, i, alternative(r, c.single(i, cmp, limit, because)))
}

// single is the condition that one ingredient's share reaches a limit.
func (c *compiler) single(i int, cmp Compare, limit float64, because string) Condition {
	return Condition{
		Terms: []Term{{Ingredient: i, Weight: 1, Because: because}}, Cmp: cmp, Bound: limit,
		What: c.m.Ingredients[i].Name + " (" + because + ")", Unit: "%",
	}
}

// compileElicitation takes up the rows about sensitisers that do not make the mixture one: at or above the elicitation
// limit (a tenth of a specific limit), below the limit of classification.
func (c *compiler) compileElicitation(r *RuleRow) {
	w := c.m.evalWhen(r.When)
	h := hazardNamed(r.Input)
	for i := range c.m.Ingredients {
		if !c.m.Ingredients[i].Hazards.Has(h) {
			continue
		}
		limit, because := r.limit(), "is "+r.Input
		class, has := c.specificLimit(i, r.Input, 1, 100)
		if has {
			limit, because = class/10, fmt.Sprintf("is %s, a tenth of its specific limit of %s %%", r.Input, number(class))
		} else if row := c.classRow(r.Input); row != nil {
			class = row.limit()
		}
		a := alternative(r, c.single(i, AtLeast, limit, because))
		if r.Result == "EUH208" && class > 0 {
			a.AllOf = append(a.AllOf, c.single(i, LessThan, class, because))
		}
		c.place(r, w, i, a)
	}
}

// classRow is the row that classifies a mixture by a single ingredient of the given class, in the mixture's form.
func (c *compiler) classRow(result string) *RuleRow {
	for _, r := range c.t.of("each") {
		if r.Result == result && r.Input == result && c.m.evalWhen(r.When).holds != no {
			return r
		}
	}
	return nil
}

// compileCarried takes up supplemental statements that an ingredient carries: whether the mixture shows the effect too
// stays open.
func (c *compiler) compileCarried(r *RuleRow) {
	for i := range c.m.Ingredients {
		if slices.Contains(c.m.Ingredients[i].Statements, ghs.Code(r.Input)) {
			a := alternative(r, c.single(i, MoreThan, 0, "carries "+r.Input))
			a.Needs = []string{r.Note}
			c.place(r, ruledWhen{holds: unknown}, i, a)
		}
	}
}

// compileOpenEach takes up classes that an ingredient points to and only a fact outside the rules decides.
func (c *compiler) compileOpenEach(r *RuleRow) {
	w := c.m.evalWhen(r.When)
	set, err := hazardSetOf(r.Input)
	if err != nil {
		panic("classify: rule " + r.name() + ": " + err.Error())
	}
	for i := range c.m.Ingredients {
		if !c.m.Ingredients[i].Hazards.Intersect(set).Empty() {
			a := alternative(r, c.single(i, MoreThan, 0, "is "+r.Input))
			a.Needs = []string{r.Note}
			c.place(r, w, i, a)
		}
	}
}
