package blend

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// Combination is the smallest change of a recipe that reaches a target: how much of each ingredient goes and what takes its
// place. Of a recipe with ranges Percent holds their new upper ends; what takes the place of what goes must then be
// something that counts for no class of the target.
type Combination struct {
	Percent []float64 `json:"percent"`        // the new composition, or the new upper ends
	Ends    bool      `json:"ends,omitempty"` // Percent holds upper ends
	Moved   float64   `json:"moved"`          // percent of the product that is exchanged
	Words   []string  `json:"words"`

	Brings []ghs.Hazard `json:"brings,omitempty"` // classes that the new composition has and the recipe has not
	Takes  []ghs.Hazard `json:"takes,omitempty"`  // classes that it no longer has
}

// ErrNoCombination is wrapped when no composition of the ingredients reaches the target.
var ErrNoCombination = errors.New("no change of the shares reaches the target")

// margin keeps a sum clear of its limit, relative to the limit: 0.1 %, far more than scales and rounding lose.
const margin = 1e-3

// mostBranches bounds the ways of breaking the rules that are tried.
const mostBranches = 16384

// Combine finds the composition nearest to the recipe (least mass exchanged) that has no class of the target. Only
// ingredients that count in no condition of the target may grow, or the named ones; among those, the ones without hazards
// first. Every way to break the rules is tried: a rule of several conditions is broken by any one of them, and an ingredient
// stops counting below its cut-off; each way is one linear program. Over ranges the upper ends are lowered until no
// composition within them meets a rule, with something that counts for nothing in place of what went; see overAll. It fails
// with ErrNoCombination.
func (m *Mix) Combine(t Target, grow ...string) (*Combination, error) {
	x0, exact := m.Program.Point()
	lows := make([]float64, len(m.Mixture.Ingredients))
	if !exact {
		x0 = make([]float64, len(lows))
		for i, in := range m.Mixture.Ingredients {
			lows[i], x0[i] = in.Bounds()
		}
	}
	c := &combiner{m: m, t: t, x0: x0, lows: lows, ends: !exact, best: math.Inf(1)}
	for i, in := range m.Mixture.Ingredients {
		named := slices.ContainsFunc(grow, func(g string) bool { return g == in.CAS || strings.EqualFold(g, in.Name) })
		c.mayGrow = append(c.mayGrow, exact && (named || len(grow) == 0 && !m.counts(i, t)))
	}
	for _, o := range m.outcomes(t) {
		for _, a := range o.AnyOf {
			if len(a.AllOf) == 0 {
				return nil, fmt.Errorf("%w %q: %s follows from what was measured, whatever the shares (%s; %s)", ErrNoCombination, t.Words, o.Hazard, strings.Join(a.Facts, ", "), a.Clause)
			}
			c.rules = append(c.rules, a)
		}
	}
	if err := c.branch(nil, nil); err != nil {
		return nil, err
	}
	if c.x == nil {
		return nil, fmt.Errorf("%w %q with these ingredients", ErrNoCombination, t.Words)
	}
	if c.ends {
		if err := c.confirm(); err != nil {
			return nil, err
		}
	}
	return c.result()
}

// confirm asks the envelope whether the new upper ends rule the target out, with anything harmless in place of what went.
func (c *combiner) confirm() error {
	mix := c.m.Mixture
	mix.Complete = false
	mix.Ingredients = slices.Clone(mix.Ingredients)
	for i := range mix.Ingredients {
		lo, _ := mix.Ingredients[i].Bounds()
		mix.Ingredients[i].Percent = sheet.Between(min(lo, c.x[i]), c.x[i])
	}
	p, err := classify.Compile(mix, c.m.RuleSet)
	if err != nil {
		return err
	}
	e, err := p.Envelope()
	if err != nil {
		return err
	}
	for _, h := range c.t.Hazards {
		if e.Of(h).Verdict != classify.RuledOut {
			return fmt.Errorf("%w %q: %s stays possible", ErrNoCombination, c.t.Words, h)
		}
	}
	return nil
}

// bound is Σ coef·x ≤ most.
type bound struct {
	coef []float64
	most float64
}

type combiner struct {
	m        *Mix
	t        Target
	x0, lows []float64
	ends     bool // x0 holds the upper ends of ranges, lows the lower ones
	mayGrow  []bool
	rules    []classify.Alternative
	branches int
	best     float64
	x        []float64
}

// branch breaks rule after rule, each in every way, and keeps the best solution that meets none. A rule that is not met at
// the best solution under the bounds so far needs no bound yet.
func (c *combiner) branch(broken []int, bounds []bound) error {
	if c.branches++; c.branches > mostBranches {
		return errors.New("the target can be reached in too many ways to try all: name fewer ingredients or a narrower target")
	}
	x, cost, ok, err := c.solve(bounds)
	if err != nil || !ok || cost >= c.best-1e-9 {
		return err
	}
	for k, rule := range c.rules {
		if !slices.Contains(broken, k) && rule.Holds(x) {
			return c.breakRule(k, broken, bounds)
		}
	}
	c.best, c.x = cost, x
	return nil
}

// breakRule tries every condition of the rule, with every choice of which ingredients count.
func (c *combiner) breakRule(k int, broken []int, bounds []bound) error {
	for _, cond := range c.rules[k].AllOf {
		for _, choice := range c.waysToBreak(cond) {
			if err := c.branch(append(slices.Clone(broken), k), slices.Concat(bounds, choice)); err != nil {
				return err
			}
		}
	}
	return nil
}

// waysToBreak are the sets of bounds that each break a condition: the sum below its limit with all ingredients counted,
// and, per ingredient with a cut-off, that ingredient below it.
func (c *combiner) waysToBreak(cond classify.Condition) [][]bound {
	var cut []classify.Term
	for _, t := range cond.Terms {
		if t.Ingredient >= 0 && t.Cutoff > 0 {
			cut = append(cut, t)
		}
	}
	var out [][]bound
	for choice := range 1 << min(len(cut), 8) {
		set := bound{coef: make([]float64, len(c.x0)), most: cond.Bound - margin*math.Abs(cond.Bound)}
		if cond.Cmp == classify.AtMost || cond.Cmp == classify.LessThan {
			set.most = -(cond.Bound + margin*math.Abs(cond.Bound))
		}
		sign := 1.0
		if cond.Cmp == classify.AtMost || cond.Cmp == classify.LessThan {
			sign = -1
		}
		var bounds []bound
		for _, t := range cond.Terms {
			if t.Ingredient < 0 {
				continue
			}
			at := slices.IndexFunc(cut, func(x classify.Term) bool { return x.Ingredient == t.Ingredient })
			if at >= 0 && at < 8 && choice>>at&1 == 1 { // below its cut-off
				one := make([]float64, len(c.x0))
				one[t.Ingredient] = 1
				bounds = append(bounds, bound{one, t.Cutoff * (1 - margin)})
				continue
			}
			set.coef[t.Ingredient] += sign * t.Weight
		}
		out = append(out, append(bounds, set))
		if c.ends && sign > 0 {
			out = append(out, c.overAll(set, bounds)...)
		}
	}
	return out
}

// overAll are further ways to keep a sum below its limit, over ranges: not every ingredient can be at its upper end at once,
// because all together make 100 %. The largest sum Σ w·y over lo ≤ y ≤ u and Σ y ≤ 100 is, by duality of linear programs,
// the least over λ ≥ 0 of 100·λ + Σ (w−λ)⁺·u − Σ (λ−w)⁺·lo, and the least lies at λ = 0 or at one of the weights. So the sum
// stays below the limit if and only if it does so for one of these λ, each of which is one bound on the upper ends u. An
// upper end that is lowered below the lower end of its range takes that along.
func (c *combiner) overAll(set bound, bounds []bound) [][]bound {
	var weights []float64
	for _, w := range set.coef {
		if w > 0 && !slices.Contains(weights, w) {
			weights = append(weights, w)
		}
	}
	var out [][]bound
	for _, lambda := range weights {
		over := bound{coef: make([]float64, len(c.x0)), most: set.most - whole*lambda}
		room := over.most
		var lowered []int // could be lowered below their lower ends
		for i, w := range set.coef {
			switch {
			case w >= lambda:
				over.coef[i] = w - lambda
			case c.m.counts(i, c.t) && c.lows[i] > 0 && len(lowered) < 6:
				lowered = append(lowered, i)
				room += (lambda - w) * c.lows[i]
			case !c.m.counts(i, c.t): // never lowered
				over.most += (lambda - w) * c.lows[i]
				room += (lambda - w) * c.lows[i]
			}
		}
		if room < 0 {
			continue
		}
		for below := range 1 << len(lowered) {
			way := bound{slices.Clone(over.coef), over.most}
			all := slices.Clone(bounds)
			for k, i := range lowered {
				one, gain := make([]float64, len(c.x0)), lambda-set.coef[i]
				if below>>k&1 == 1 {
					one[i], way.coef[i] = 1, -gain
					all = append(all, bound{one, c.lows[i]})
				} else {
					one[i] = -1
					way.most += gain * c.lows[i]
					all = append(all, bound{one, -c.lows[i]})
				}
			}
			out = append(out, append(all, way))
		}
	}
	return out
}

// solve finds the composition with the least mass exchanged under the bounds: x = x0 − down + up with Σ down = Σ up. The
// columns are the parts that go down, those that may go up, and one slack per inequality.
func (c *combiner) solve(bounds []bound) (x []float64, total float64, ok bool, err error) {
	n := len(c.x0)
	var up []int
	for i, may := range c.mayGrow {
		if may {
			up = append(up, i)
		}
	}
	rows := n + len(bounds)
	if !c.ends {
		rows++ // what goes is made up for
	}
	columns := n + len(up) + n + len(bounds)
	a, b, cost := mat.NewDense(rows, columns, nil), make([]float64, rows), make([]float64, columns)
	for i := range n { // no more can go than is there
		cost[i] = 1
		a.Set(i, i, 1)
		a.Set(i, n+len(up)+i, 1)
		b[i] = c.x0[i]
		if !c.ends {
			a.Set(rows-1, i, 1)
		}
	}
	for k, i := range up { // what has no hazards grows first; far less than what any exchange costs
		a.Set(rows-1, n+k, -1)
		if !c.m.Mixture.Ingredients[i].Hazards.Empty() || c.m.Parts[i].Unknown {
			cost[n+k] = 1e-6
		}
	}
	for j, limit := range bounds {
		r := n + j
		b[r] = limit.most
		for i, v := range limit.coef {
			a.Set(r, i, -v)
			b[r] -= v * c.x0[i]
		}
		for k, i := range up {
			a.Set(r, n+k, limit.coef[i])
		}
		a.Set(r, n+len(up)+r, 1)
	}
	total, sol, err := lp.Simplex(cost, a, b, 1e-10, nil)
	if errors.Is(err, lp.ErrInfeasible) {
		return nil, 0, false, nil
	}
	if err != nil {
		return nil, 0, false, fmt.Errorf("the linear program was not solved: %w", err)
	}
	x = slices.Clone(c.x0)
	for i := range n {
		x[i] -= sol[i]
	}
	for k, i := range up {
		x[i] += sol[n+k]
	}
	for i := range x {
		x[i] = max(0, x[i])
	}
	return x, total, true, nil
}

func (c *combiner) result() (*Combination, error) {
	out := &Combination{Percent: c.x, Ends: c.ends}
	for i, v := range c.x {
		out.Moved += max(0, c.x0[i]-v)
		if math.Abs(v-c.x0[i]) > 1e-6 {
			to := "to"
			if c.ends {
				to = "to at most"
			}
			out.Words = append(out.Words, fmt.Sprintf("%s from %s %s %s %%", c.m.Mixture.Ingredients[i].Name, short(c.x0[i]), to, towards(v, c.x0[i])))
		}
	}
	if c.ends {
		return out, nil
	}
	var err error
	out.Brings, out.Takes, err = c.m.differs(c.x)
	return out, err
}

// towards is a share with few digits, rounded away from the one it came from, so that what is printed holds as well.
func towards(v, from float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(max(v, 1e-9)))-3)
	if v < from {
		return short(math.Floor(v/unit*(1+1e-12)) * unit)
	}
	return short(math.Ceil(v/unit*(1-1e-12)) * unit)
}

// differs lists the classes that another composition has and the recipe has not, and those it no longer has.
func (m *Mix) differs(x []float64) (brings, takes []ghs.Hazard, err error) {
	mix := m.Mixture
	mix.Ingredients = slices.Clone(mix.Ingredients)
	for i := range mix.Ingredients {
		mix.Ingredients[i].Percent = sheet.Exactly(x[i])
	}
	p, err := classify.Compile(mix, m.RuleSet)
	if err != nil {
		return nil, nil, err
	}
	e, err := p.Envelope()
	if err != nil {
		return nil, nil, err
	}
	var now ghs.HazardSet
	for _, c := range e.Classes() {
		if len(c.Possible) > 0 {
			now.Add(c.Possible[0])
		}
	}
	return now.Minus(m.Declared).All(), m.Declared.Minus(now).All(), nil
}
