package classify

import (
	"math"
	"slices"

	"sixteen/ghs"
)

// Distance says at which share of one ingredient a class of the mixture changes, the other shares staying as they are
// (the remainder gives way).
type Distance struct {
	Class      ghs.Class
	Qualifier  ghs.Qualifier
	Ingredient int        // index into Program.Mixture.Ingredients
	From, To   ghs.Hazard // the category now and beyond the threshold; NoHazard for none
	Percent    float64    // the threshold, percent of the ingredient
	AtOnce     bool       // the change comes at the threshold itself, not only beyond it
	Change     float64    // how far away it is: Percent less the share now, negative when less would do it
	More       bool       // more of the ingredient does it; false: less
}

// Distances lists, for every class and ingredient, the nearest thresholds above and below the composition x at which the
// class changes when that ingredient alone does. They are exact: each condition of a class is linear in one share but for
// its cut-off, so that its answer changes only at the cut-off and where the sum meets the bound. An ingredient can grow
// until the remainder is used up; where the mixture has none, by what the other ingredients would have to leave.
func (p *Program) Distances(x []float64) []Distance {
	var out []Distance
	for lo := 0; lo < len(p.Outcomes); {
		hi := lo + 1
		for hi < len(p.Outcomes) && groupOf(p.Outcomes[hi].Hazard) == groupOf(p.Outcomes[lo].Hazard) {
			hi++
		}
		for i := range p.Mixture.Ingredients {
			out = append(out, p.distancesOf(x, i, p.Outcomes[lo:hi])...)
		}
		lo = hi
	}
	return out
}

// distancesOf finds the nearest change of one group of outcomes above and below the share of ingredient i.
func (p *Program) distancesOf(x []float64, i int, group []Outcome) []Distance {
	y := slices.Clone(x)
	now := severest(group, y)
	steps := thresholds(group, x, i)
	at := func(share float64) ghs.Hazard {
		y[i] = share
		return severest(group, y)
	}
	var out []Distance
	add := func(share float64, to ghs.Hazard, once, more bool) {
		g := groupOf(group[0].Hazard)
		out = append(out, Distance{Class: g.class, Qualifier: g.qualifier, Ingredient: i, From: now, To: to, Percent: share, AtOnce: once, Change: share - x[i], More: more})
	}
	// upwards: at each threshold (unless the share is on it now), and between it and the next
	for k, s := range steps {
		if s < x[i]*(1-Tolerance) {
			continue
		}
		if to := at(s); s > x[i]*(1+Tolerance) && to != now {
			add(s, to, true, true)
			break
		}
		if to := at(between(s, next(steps, k+1, 100))); to != now {
			add(s, to, false, true)
			break
		}
	}
	for k := len(steps) - 1; k >= 0; k-- {
		s := steps[k]
		if s > x[i]*(1+Tolerance) {
			continue
		}
		if s < x[i]*(1-Tolerance) {
			if to := at(s); to != now {
				add(s, to, true, false)
				break
			}
		}
		below := 0.0
		if k > 0 {
			below = steps[k-1]
		}
		if s > 0 {
			if to := at(between(below, s)); to != now {
				add(s, to, false, false)
				break
			}
		}
	}
	return out
}

func next(steps []float64, k int, end float64) float64 {
	if k < len(steps) {
		return steps[k]
	}
	return end
}

func between(a, b float64) float64 { return a + (b-a)/2 }

// severest is the category that a group of outcomes gives at x.
func severest(group []Outcome, x []float64) ghs.Hazard {
	for k := range group {
		if group[k].firing(x) >= 0 {
			return group[k].Hazard
		}
	}
	return ghs.NoHazard
}

// thresholds lists the shares of ingredient i, from 0 to 100, at which some condition of the group may change its
// answer, in rising order.
func thresholds(group []Outcome, x []float64, i int) []float64 {
	steps := []float64{0}
	y := slices.Clone(x)
	for _, o := range group {
		for _, a := range o.AnyOf {
			for j := range a.AllOf {
				steps = a.AllOf[j].thresholds(steps, y, i)
				y[i] = x[i]
			}
		}
	}
	slices.Sort(steps)
	steps = slices.DeleteFunc(steps, func(s float64) bool { return !(s >= 0 && s <= 100) })
	return slices.CompactFunc(steps, func(a, b float64) bool { return math.Abs(a-b) <= Tolerance*max(1, math.Abs(b)) })
}

// thresholds adds the shares of ingredient i at which the condition may change: its cut-off, and where the sum meets
// the bound. The remainder, when it is a term, shrinks as the ingredient grows.
func (c *Condition) thresholds(steps []float64, y []float64, i int) []float64 {
	weight := 0.0
	for _, t := range c.Terms {
		switch t.Ingredient {
		case i:
			weight += t.Weight
			steps = append(steps, t.Cutoff)
		case -1:
			weight -= t.Weight
			y[i] = 0
			steps = append(steps, shareOf(y, -1)-t.Cutoff, shareOf(y, -1))
		}
	}
	if weight == 0 {
		return steps
	}
	y[i] = 0
	return append(steps, (c.Bound-c.Value(y))/weight)
}

// Words tells the distance in a sentence: "Skin Irrit. 2 from 10 % of amine (now 8 %)", "no Skin Sens. 1 below 1 % of
// resin (now 3 %)".
func (d Distance) Words(p *Program) string {
	in := p.Mixture.Ingredients[d.Ingredient]
	now := d.Percent - d.Change
	what := d.To.String()
	if d.To == ghs.NoHazard {
		what = "no " + d.From.String()
	}
	where := "above"
	switch {
	case d.AtOnce && d.More:
		where = "from"
	case d.AtOnce:
		where = "down from"
	case !d.More:
		where = "below"
	}
	return what + " " + where + " " + number(d.Percent) + " % of " + in.Name + " (now " + number(now) + " %)"
}
