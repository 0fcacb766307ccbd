package classify

import (
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

// hiddenUpTo compiles, for every hazard, the rules for a mixture whose only classified ingredient has that hazard.
func (p *Program) hiddenUpTo(most float64) []Hidden {
	if most <= 0 || p.rules == nil {
		return nil
	}
	lowest := map[ghs.Hazard]Hidden{}
	law := p.lawOf()
	for _, from := range ghs.AllHazards() {
		if !law.Exists(from) {
			continue
		}
		m := p.Mixture
		m.Complete = true
		m.Ingredients = []Ingredient{{Name: "undisclosed", Percent: sheet.Between(0, most), Hazards: ghs.SetOf(from)}}
		probe, err := Compile(m, p.RuleSet)
		if err != nil {
			continue // the mixture itself compiled; a hazard the rules refuse cannot be caused
		}
		for o := range probe.Outcomes {
			h := probe.Outcomes[o].Hazard
			limit, ok := probe.lowestShare(o, most)
			if best, seen := lowest[h]; ok && (!seen || limit < best.Limit) {
				lowest[h] = Hidden{Hazard: h, From: from, Limit: limit}
			}
		}
	}
	var out []Hidden
	for _, h := range ghs.AllHazards() {
		if v, ok := lowest[h]; ok {
			out = append(out, v)
		}
	}
	return out
}

// lowestShare is the least share, up to most, of the only ingredient at which an alternative of outcome o with a
// condition on it holds.
func (p *Program) lowestShare(o int, most float64) (least float64, found bool) {
	for a := range p.Outcomes[o].AnyOf {
		alt := &p.Outcomes[o].AnyOf[a]
		for _, v := range alt.turningPoints() {
			if v > 0 && v <= most*(1+Tolerance) && (!found || v < least) && alt.Holds([]float64{v}) {
				least, found = v, true
			}
		}
	}
	return least, found
}

// turningPoints are the shares of a single ingredient at which a condition of the alternative may begin to hold.
func (a *Alternative) turningPoints() (shares []float64) {
	for _, c := range a.AllOf {
		for _, t := range c.Terms {
			for _, v := range []float64{t.Cutoff, c.Bound / t.Weight} {
				shares = append(shares, v, v*(1+1e-6))
			}
		}
	}
	return shares
}
