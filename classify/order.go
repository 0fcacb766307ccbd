package classify

import (
	"cmp"
	"slices"
	"strings"

	"sixteen/ghs"
)

// group is what a mixture gets one category of: a class, by route or effect where the standard keeps those apart.
type group struct {
	class     ghs.Class
	qualifier ghs.Qualifier
}

func groupOf(h ghs.Hazard) group {
	switch h.Class() {
	case ghs.FlammableGases, ghs.GasesUnderPressure: // the qualifier is a kind of the category, not a separate effect
		return group{class: h.Class()}
	}
	return group{h.Class(), h.Qualifier()}
}

// applyTests lets classes found or excluded by tests on the mixture take the place of calculated ones.
func (c *compiler) applyTests() {
	for h := range c.found {
		if excluded(c.m.Tested.NotHazards, h) {
			c.settle(settled{class: h.Class(), qualifier: groupOf(h).qualifier, standing: NotClassified, why: "tests on the mixture exclude " + h.String(), clause: "data on the mixture come first"})
			delete(c.found, h)
		}
	}
	law := c.p.lawOf()
	for _, h := range c.m.Tested.Hazards.All() {
		if !law.Exists(h) {
			c.note(h.String() + " was found by test, but this rule set has no such category")
			continue
		}
		for other := range c.found {
			if groupOf(other) == groupOf(h) && !c.m.Tested.Hazards.Has(other) {
				delete(c.found, other)
			}
		}
		c.found[h] = &Outcome{Hazard: h, AnyOf: []Alternative{{Facts: []string{"tested on the mixture"}, Rule: "tested", Clause: "data on the mixture come first"}}}
		if strings.HasPrefix(h.String(), "Skin Corr.") && !excluded(c.m.Tested.NotHazards, ghs.EyeDam1) {
			c.found[ghs.EyeDam1] = &Outcome{Hazard: ghs.EyeDam1, AnyOf: []Alternative{{Facts: []string{"tested on the mixture: corrosive to skin"}, Rule: "tested", Clause: "what corrodes the skin damages the eye"}}}
			delete(c.found, ghs.EyeIrrit2)
			delete(c.found, ghs.EyeIrrit2A)
			delete(c.found, ghs.EyeIrrit2B)
		}
	}
}

// excluded tells whether a set of excluded classes covers h; a category covers its subcategories.
func excluded(set ghs.HazardSet, h ghs.Hazard) bool {
	for _, x := range set.All() {
		if x == h || x.Category() != "" && x.Class() == h.Class() && x.Qualifier() == h.Qualifier() && strings.HasPrefix(h.String(), x.String()) {
			return true
		}
	}
	return false
}

// order lists the outcomes in the order of the standard and lets the severest of each group take the place of the
// others. Hazards that the rule set does not know are left out.
func (c *compiler) order() {
	law := c.p.lawOf()
	for h, o := range c.found {
		if law.Exists(h) && (len(o.AnyOf) > 0 || len(o.Open) > 0) {
			c.p.Outcomes = append(c.p.Outcomes, *o)
		}
	}
	slices.SortFunc(c.p.Outcomes, func(a, b Outcome) int { return compareOutcomes(a.Hazard, b.Hazard) })
	slices.SortStableFunc(c.p.settled, func(a, b settled) int { return cmp.Compare(a.class, b.class) })
	for i := range c.p.Outcomes {
		for j := range i {
			if groupOf(c.p.Outcomes[j].Hazard) == groupOf(c.p.Outcomes[i].Hazard) {
				c.p.Outcomes[i].Unless = append(c.p.Outcomes[i].Unless, j)
			}
		}
	}
}

// compareOutcomes orders by class, then route or effect, then severity, then the standard's own order. Skin Corr. 1 and
// Eye Irrit. 2 without a subcategory come after their subcategories: those say more.
func compareOutcomes(a, b ghs.Hazard) int {
	ga, gb := groupOf(a), groupOf(b)
	if d := cmp.Or(cmp.Compare(ga.class, gb.class), cmp.Compare(ga.qualifier, gb.qualifier)); d != 0 {
		return d
	}
	for _, plain := range [...]ghs.Hazard{ghs.SkinCorr1, ghs.EyeIrrit2} {
		if a == plain && strings.HasPrefix(b.String(), a.String()) && a != b {
			return 1
		}
		if b == plain && strings.HasPrefix(a.String(), b.String()) && a != b {
			return -1
		}
	}
	switch {
	case a.Severer(b):
		return -1
	case b.Severer(a):
		return 1
	}
	if a.Class() == b.Class() && a.Qualifier() != b.Qualifier() && a.Category() == b.Category() {
		return cmp.Compare(b.Qualifier(), a.Qualifier()) // "1A pyrophoric" says more than "1A"
	}
	return cmp.Compare(a, b)
}
