package classify

import (
	"math"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Hidden is a hazard that the undisclosed remainder could cause all by itself.
type Hidden struct {
	Hazard ghs.Hazard
	From   ghs.Hazard // class of an undisclosed ingredient that would cause it at the lowest share
	Limit  float64    // that share, percent by mass: the generic limit of the rule set
}

// RemainderCouldHide lists the hazards that an undisclosed ingredient could give the mixture at the generic limits of
// the rule set, given the largest remainder that the ranges leave; each with the share from which it could. It says
// nothing of what is disclosed, and specific limits, M-factors and unusually toxic substances, which nobody can know of
// an undisclosed ingredient, could only add to it.
func (p *Program) RemainderCouldHide() ([]Hidden, error) {
	s, err := newSpace(&p.Mixture)
	if err != nil {
		return nil, err
	}
	return p.hiddenUpTo(s.hi[len(s.hi)-1]), nil
}

// remainderLimits is the same as a map from hazard to lowest share.
func (p *Program) remainderLimits(most float64) map[ghs.Hazard]float64 {
	limits := map[ghs.Hazard]float64{}
	for _, h := range p.hiddenUpTo(most) {
		limits[h.Hazard] = h.Limit
	}
	return limits
}

// hiddenUpTo compiles the rules once for a mixture that has one ingredient of every class, and looks from which share on
// each of them, alone, gives which hazard.
func (p *Program) hiddenUpTo(most float64) []Hidden {
	if most <= 0 || p.rules == nil {
		return nil
	}
	m := p.Mixture
	m.Complete = true
	m.Ingredients = nil
	law := p.lawOf()
	var from []ghs.Hazard
	for _, h := range ghs.AllHazards() {
		if law.Exists(h) {
			from = append(from, h)
			m.Ingredients = append(m.Ingredients, Ingredient{Name: "undisclosed", Percent: sheet.Between(0, most), Hazards: ghs.SetOf(h)})
		}
	}
	probe, err := Compile(m, p.RuleSet)
	if err != nil {
		return nil // cannot happen: the mixture itself compiled, and the probe has no numbers of its own
	}
	x := make([]float64, len(from))
	var out []Hidden
	for o := range probe.Outcomes {
		if i, limit := probe.lowestShare(o, most, x); i >= 0 {
			out = append(out, Hidden{Hazard: probe.Outcomes[o].Hazard, From: from[i], Limit: math.Round(limit*1e9) / 1e9})
		}
	}
	return out
}

// lowestShare is the ingredient that alone, and with the least share up to most, makes an alternative of outcome o
// hold, and that share; -1 when none does. x is scratch memory, all zero.
func (p *Program) lowestShare(o int, most float64, x []float64) (ingredient int, least float64) {
	ingredient = -1
	for a := range p.Outcomes[o].AnyOf {
		alt := &p.Outcomes[o].AnyOf[a]
		for c := range alt.AllOf {
			cond := &alt.AllOf[c]
			for _, t := range cond.Terms {
				if t.Ingredient < 0 {
					continue
				}
				for _, v := range [...]float64{t.Cutoff, t.Cutoff * (1 + 1e-6), cond.Bound / t.Weight, cond.Bound / t.Weight * (1 + 1e-6)} {
					if !(v > 0 && v <= most*(1+Tolerance)) || ingredient >= 0 && v >= least {
						continue
					}
					if x[t.Ingredient] = v; alt.Holds(x) {
						ingredient, least = t.Ingredient, v
					}
					x[t.Ingredient] = 0
				}
			}
		}
	}
	return ingredient, least
}
