package classify

import (
	"math"
	"slices"
)

// Tolerance is the relative difference below which a sum and its bound, or a share and its cut-off, count as equal, so
// that binary rounding never decides on which side of a limit of the law a mixture lies: three tenths are three tenths
// however they were added up, and "at least" then holds while "more than" does not.
const Tolerance = 1e-9

// Value is the weighted sum of the condition at composition x, in percent by mass per ingredient of the mixture. The
// undisclosed remainder is what x leaves of 100.
func (c *Condition) Value(x []float64) float64 {
	v, _ := c.sum(x)
	return v
}

// Holds tells whether the condition is fulfilled at composition x. It is the one comparison behind the classification
// of a composition, the envelope and the proof.
func (c *Condition) Holds(x []float64) bool {
	v, size := c.sum(x)
	return c.compare(v, size)
}

// Margin is how far, in the condition's own unit, the value at x lies on the fulfilled side of the bound; negative
// when it lies on the other side.
func (c *Condition) Margin(x []float64) float64 {
	v := c.Value(x)
	if c.Cmp == AtMost || c.Cmp == LessThan {
		return c.Bound - v
	}
	return v - c.Bound
}

// sum adds up the terms and, for the tolerance, their sizes.
func (c *Condition) sum(x []float64) (value, size float64) {
	for i := range c.Terms {
		t := &c.Terms[i]
		share := shareOf(x, t.Ingredient)
		if t.Counts(share) {
			part := t.Weight * share
			value += part
			size += math.Abs(part)
		}
	}
	return value, size
}

func (c *Condition) compare(value, size float64) bool {
	tol := Tolerance * max(math.Abs(c.Bound), size)
	switch c.Cmp {
	case AtLeast:
		return value >= c.Bound-tol
	case MoreThan:
		return value > c.Bound+tol
	case AtMost:
		return value <= c.Bound+tol
	case LessThan:
		return value < c.Bound-tol
	}
	return false
}

// Counts tells whether an ingredient of the given share (percent by mass) enters the sum.
func (t *Term) Counts(share float64) bool {
	if t.CutoffOpen {
		return share > t.Cutoff*(1+Tolerance)
	}
	return share >= t.Cutoff*(1-Tolerance)
}

// shareOf is the share of ingredient i at x; i = -1 is the undisclosed remainder.
func shareOf(x []float64, i int) float64 {
	if i >= 0 {
		return x[i]
	}
	rest := 100.0
	for _, v := range x {
		rest -= v
	}
	return max(rest, 0)
}

// Holds tells whether every condition of the alternative is fulfilled at x.
func (a *Alternative) Holds(x []float64) bool {
	for i := range a.AllOf {
		if !a.AllOf[i].Holds(x) {
			return false
		}
	}
	return true
}

// outcomeHolds tells whether outcome o holds at x, as [Program.At] decides it: any of its alternatives does, and none of
// an outcome that takes its place.
func (p *Program) outcomeHolds(o int, x []float64) bool {
	out := &p.Outcomes[o]
	return out.firing(x) >= 0 && !slices.ContainsFunc(out.Unless, func(u int) bool { return p.Outcomes[u].firing(x) >= 0 })
}

// orSeverer lists outcome o and all that take its place.
func (p *Program) orSeverer(o int) []int { return append([]int{o}, p.Outcomes[o].Unless...) }
