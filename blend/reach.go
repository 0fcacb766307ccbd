package blend

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// Change is how far one ingredient alone has to go down for a target.
type Change struct {
	Ingredient int            `json:"ingredient"` // index into Mix.Mixture.Ingredients
	Name       string         `json:"name"`
	From       sheet.Interval `json:"from"`
	Instead    string         `json:"instead"` // what takes its place, in words
	Reached    bool           `json:"reached"` // false: even without the ingredient the target is not reached
	Share      float64        `json:"share"`   // percent: the target is reached up to here
	Below      bool           `json:"below"`   // only below Share, not at it
	Practical  float64        `json:"practical"`
	Binding    Why            `json:"binding"` // what stands against more
}

// Words tells the change in a sentence.
func (c Change) Words() string {
	switch {
	case !c.Reached:
		return fmt.Sprintf("%s: not reached by this ingredient alone, not even without it (in its place: %s)", c.Name, c.Instead)
	case c.Practical == 0:
		return fmt.Sprintf("%s: leave it out (now %s %%; in its place: %s)", c.Name, c.From, c.Instead)
	case c.Below:
		return fmt.Sprintf("%s: below %s %% (now %s %%; in its place: %s)", c.Name, short(c.Share), c.From, c.Instead)
	}
	return fmt.Sprintf("%s: at most %s %% (now %s %%; in its place: %s)", c.Name, short(c.Share), c.From, c.Instead)
}

func short(v float64) string { return fmt.Sprintf("%.6g", v) }

// proportion is the way to fill up that keeps the others' proportions.
const proportion = "the others in proportion"

// Under is the mix under the rule set of a target: its own, or the model regulations for transport.
func (m *Mix) Under(t Target, stock Stock) (*Mix, error) {
	if t.RuleSet == m.RuleSet {
		return m, nil
	}
	return makeMix(m.Recipe, stock, t.RuleSet)
}

// Met tells whether the target is reached: no composition of the recipe has a class of it, and the flash point is known to
// lie where it has to. It lists the classes that some composition has.
func (m *Mix) Met(t Target) (bool, []ghs.Hazard) {
	var left []ghs.Hazard
	for _, h := range t.Hazards {
		if m.Envelope.Of(h).Verdict != classify.RuledOut {
			left = append(left, h)
		}
	}
	return len(left) == 0 && m.flashMet(t), left
}

// Reach tells, for every ingredient that counts for the target, up to which share of it the target is reached when it
// gives way to the others in proportion, and when it gives way to the named substitute (an ingredient's name or number; ""
// for none). A recipe of single shares is decided along the line of its compositions, one with ranges by the envelope over
// all compositions in which the ingredient has no more than that share. It fails when the substitute is not in the recipe.
func (m *Mix) Reach(t Target, substitute string) ([]Change, error) {
	with := -1
	if substitute != "" {
		with = slices.IndexFunc(m.Mixture.Ingredients, func(in classify.Ingredient) bool {
			return in.CAS == substitute || strings.EqualFold(in.Name, substitute)
		})
		if with < 0 {
			return nil, fmt.Errorf("no ingredient of the recipe is called %q: name one of them, or add it with percent: 0", substitute)
		}
	}
	var out []Change
	for i := range m.Mixture.Ingredients {
		if !m.counts(i, t) || i == with {
			continue
		}
		c, err := m.reachAlone(i, with, t)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// counts tells whether an ingredient stands in a condition of the target's classes.
func (m *Mix) counts(i int, t Target) bool {
	if _, hi := m.Mixture.Ingredients[i].Bounds(); hi <= 0 {
		return false
	}
	for _, o := range m.outcomes(t) {
		for _, a := range o.AnyOf {
			for _, c := range a.AllOf {
				if slices.ContainsFunc(c.Terms, func(t classify.Term) bool { return t.Ingredient == i && t.Weight > 0 }) {
					return true
				}
			}
		}
	}
	return false
}

// outcomes are the outcomes of the program that the target forbids.
func (m *Mix) outcomes(t Target) []classify.Outcome {
	var out []classify.Outcome
	for _, o := range m.Program.Outcomes {
		if slices.Contains(t.Hazards, o.Hazard) {
			out = append(out, o)
		}
	}
	return out
}

func (m *Mix) reachAlone(i, with int, t Target) (Change, error) {
	c := Change{Ingredient: i, Name: m.Mixture.Ingredients[i].Name, From: m.Mixture.Ingredients[i].Percent, Instead: proportion}
	if with >= 0 {
		c.Instead = m.Mixture.Ingredients[with].Name
	}
	if x, ok := m.Program.Point(); ok {
		m.alongLine(&c, m.line(x, i, with), t)
		return c, nil
	}
	return c, m.overRanges(&c, with, t)
}

// line is the line of compositions in which ingredient i has the share s and the others make room or fill up: at(s) =
// from + s·step.
type line struct{ from, step []float64 }

func (l line) at(s float64) []float64 {
	x := make([]float64, len(l.from))
	for k := range x {
		x[k] = max(0, l.from[k]+s*l.step[k])
	}
	return x
}

func (m *Mix) line(x []float64, i, with int) line {
	l := line{make([]float64, len(x)), make([]float64, len(x))}
	others := 0.0
	for k := range x {
		if k != i {
			others += x[k]
		}
	}
	for k := range x {
		switch {
		case k == i:
			l.step[k] = 1
		case with >= 0 && k == with:
			l.from[k], l.step[k] = x[k]+x[i], -1
		case with >= 0 || others == 0:
			l.from[k] = x[k]
		default: // the others keep their proportions and the sum stays
			l.from[k], l.step[k] = x[k]/others*(others+x[i]), -x[k]/others
		}
	}
	return l
}

// has tells which class of the target the composition has, and by which rule.
func (m *Mix) has(x []float64, t Target) (Why, bool) {
	for _, o := range m.outcomes(t) {
		for _, a := range o.AnyOf {
			if a.Holds(x) {
				why := Why{Rule: o.Hazard.String(), Clause: a.Clause, Memory: a.Memory}
				for _, f := range a.Facts {
					why.Rule += ": " + f
				}
				for _, c := range a.AllOf {
					why.Rule += fmt.Sprintf(": %s %s %s %s", c.What, c.Cmp, short(c.Bound), c.Unit)
				}
				return why, true
			}
		}
	}
	return Why{}, false
}

// alongLine finds the largest share up to the present one at which the target is reached. Between the shares at which a
// cut-off or a limit is met nothing changes, so that looking at these and between them is exact.
func (m *Mix) alongLine(c *Change, l line, t Target) {
	now := c.From.Lo
	if _, has := m.has(l.at(now), t); !has {
		c.Reached, c.Share, c.Practical = true, now, now
		return
	}
	marks := m.marks(l, now, t)
	for k := len(marks) - 1; k >= 0; k-- {
		s := marks[k]
		if _, has := m.has(l.at(s), t); !has {
			c.found(m, l, s, false, t)
			return
		}
		if k == 0 {
			break
		}
		between := (marks[k-1] + s) / 2
		if _, has := m.has(l.at(between), t); !has {
			c.found(m, l, s, true, t)
			return
		}
	}
	c.Binding, _ = m.has(l.at(0), t)
}

// found records a share; the practical one is the next thousandth of a percent at or below it that holds.
func (c *Change) found(m *Mix, l line, s float64, below bool, t Target) {
	c.Reached, c.Share, c.Below = true, s, below
	c.Binding, _ = m.has(l.at(s+1e-6*max(1, s)), t)
	if below {
		c.Binding, _ = m.has(l.at(s), t)
	}
	c.Practical = math.Floor(s*1000+1e-9) / 1000
	if below && c.Practical >= s-1e-9 {
		c.Practical = max(0, c.Practical-0.001)
	}
	if _, has := m.has(l.at(c.Practical), t); has { // the span is narrower than a thousandth
		c.Practical = s * (1 - 1e-6)
	}
}

// marks are the shares from 0 to now at which a condition of the target can change, in rising order.
func (m *Mix) marks(l line, now float64, t Target) []float64 {
	marks := []float64{0, now}
	add := func(s float64) {
		if s > 0 && s < now {
			marks = append(marks, s)
		}
	}
	var conditions []classify.Condition
	for _, o := range m.outcomes(t) {
		for _, a := range o.AnyOf {
			conditions = append(conditions, a.AllOf...)
		}
	}
	for _, c := range conditions {
		for _, term := range c.Terms {
			if term.Ingredient >= 0 && term.Cutoff > 0 && l.step[term.Ingredient] != 0 {
				add((term.Cutoff - l.from[term.Ingredient]) / l.step[term.Ingredient])
			}
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	for k := len(marks) - 1; k > 0; k-- { // within a span every sum is linear
		lo, hi := marks[k-1], marks[k]
		a, b := lo+(hi-lo)/3, lo+2*(hi-lo)/3
		for _, c := range conditions {
			va, vb := c.Value(l.at(a)), c.Value(l.at(b))
			if va == vb {
				continue
			}
			if s := a + (c.Bound-va)*(b-a)/(vb-va); s > lo && s < hi {
				add(s)
			}
		}
	}
	slices.Sort(marks)
	return slices.Compact(marks)
}

// overRanges finds the largest upper end of an ingredient's range with which the envelope rules the target out. Less of
// the ingredient leaves fewer compositions, so that the answer changes once; halving finds where, to a millionth of a
// percent, and every step is decided exactly.
func (m *Mix) overRanges(c *Change, with int, t Target) error {
	c.Instead = "the others within their ranges"
	if with >= 0 {
		c.Instead = m.Mixture.Ingredients[with].Name
	}
	_, now := m.Mixture.Ingredients[c.Ingredient].Bounds()
	clear, err := m.ruledOut(c.Ingredient, with, now, t)
	if err != nil || clear {
		c.Reached, c.Share, c.Practical = clear, now, now
		return err
	}
	if clear, err = m.ruledOut(c.Ingredient, with, 0, t); err != nil || !clear {
		return err
	}
	lo, hi := 0.0, now
	for hi-lo > 1e-6 {
		mid := (lo + hi) / 2
		if clear, err = m.ruledOut(c.Ingredient, with, mid, t); err != nil {
			return err
		}
		if clear {
			lo = mid
		} else {
			hi = mid
		}
	}
	c.Reached, c.Share = true, math.Round(lo*1e4)/1e4
	at, err := m.ruledOut(c.Ingredient, with, c.Share, t)
	if err != nil {
		return err
	}
	c.Below = !at
	c.Practical = math.Floor(c.Share*1000+1e-9) / 1000
	if c.Below && c.Practical >= c.Share-1e-9 {
		c.Practical = max(0, c.Practical-0.001)
	}
	c.Binding = m.binding(t)
	return nil
}

// binding is the first rule that makes a class of the target possible now.
func (m *Mix) binding(t Target) Why {
	for _, h := range t.Hazards {
		if m.Envelope.Of(h).Verdict == classify.RuledOut {
			continue
		}
		for _, r := range m.Envelope.Why(h) {
			return Why{Rule: h.String() + ": " + r.Text, Clause: r.Clause, Memory: r.Memory}
		}
	}
	return Why{}
}

// ruledOut asks the envelope with ingredient i at no more than s; the substitute may then be as much as it takes.
func (m *Mix) ruledOut(i, with int, s float64, t Target) (bool, error) {
	mix := m.Mixture
	mix.Ingredients = slices.Clone(mix.Ingredients)
	in := &mix.Ingredients[i]
	lo, _ := in.Bounds()
	in.Percent = sheet.Between(min(lo, s), s)
	switch {
	case with >= 0:
		from, _ := mix.Ingredients[with].Bounds()
		mix.Ingredients[with].Percent = sheet.Between(from, whole)
	case mix.Complete: // the others may go up by what this one leaves
		_, now := m.Mixture.Ingredients[i].Bounds()
		for k := range mix.Ingredients {
			if k != i {
				a, b := mix.Ingredients[k].Bounds()
				mix.Ingredients[k].Percent = sheet.Between(a, min(whole, b*(1+(now-s)/max(whole-now, 1e-9))))
			}
		}
	}
	p, err := classify.Compile(mix, m.RuleSet)
	if err != nil {
		return false, err
	}
	e, err := p.Envelope()
	if err != nil {
		return false, err
	}
	return !slices.ContainsFunc(t.Hazards, func(h ghs.Hazard) bool { return e.Of(h).Verdict != classify.RuledOut }), nil
}
