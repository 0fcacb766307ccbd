package classify

import (
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// specificLimit is the specific concentration limit of ingredient i for a result, where the rule set lets it count in
// place of the generic limit generic/weight (weight 0: the row alone does not count the ingredient).
func (c *compiler) specificLimit(i int, result string, weight, generic float64) (float64, bool) {
	if isStatement(result) {
		return 0, false
	}
	limit, at, ok := c.m.Ingredients[i].lowestLimit(hazardNamed(result))
	if !ok {
		return 0, false
	}
	if r := c.t.first("specific", ""); r != nil && r.Input == "lower" && weight > 0 && limit >= generic/weight {
		return 0, false
	}
	for _, k := range at {
		c.take(limitKey{i, k})
	}
	return limit, true
}

func (c *compiler) take(k limitKey) {
	if c.used == nil {
		c.used = map[limitKey]bool{}
	}
	c.used[k] = true
}

// lowestLimit is the lowest specific limit the ingredient has for h, and which of Limits it came from. A limit for a
// class counts for the names a class has in different rule sets (Eye Irrit. 2 and 2A), and one for a whole category for
// its subcategories. Where only eye irritation has a limit with an upper end, eye damage begins at that end.
func (in *Ingredient) lowestLimit(h ghs.Hazard) (limit float64, at []int, ok bool) {
	for k, l := range in.Limits {
		if sameLimit(l.Hazard, h) {
			at = append(at, k)
			if lo := lowerEnd(l.Percent); !ok || lo < limit {
				limit, ok = lo, true
			}
		}
	}
	if ok || h != ghs.EyeDam1 {
		return limit, at, ok
	}
	for _, l := range in.Limits {
		if l.Percent.HasHi && l.Percent.Hi < 100 && strings.HasPrefix(l.Hazard.String(), "Eye Irrit.") {
			return l.Percent.Hi, nil, true
		}
	}
	return 0, nil, false
}

func lowerEnd(v sheet.Interval) float64 {
	if v.HasLo {
		return v.Lo
	}
	return 0
}

// sameLimit tells whether a specific limit given for one hazard is meant by another.
func sameLimit(given, wanted ghs.Hazard) bool {
	if given == wanted {
		return true
	}
	a, b := given.String(), wanted.String()
	for _, class := range []string{"Eye Irrit.", "Skin Sens.", "Resp. Sens."} {
		if strings.HasPrefix(a, class) && strings.HasPrefix(b, class) {
			return true
		}
	}
	if a == "STOT SE 3" {
		return strings.HasPrefix(b, "STOT SE 3")
	}
	return wanted == ghs.SkinCorr1 && strings.HasPrefix(a, "Skin Corr.")
}

// compileLooseLimits takes up the specific limits that no row asked for: a class the ingredient has through its limit
// alone.
func (c *compiler) compileLooseLimits() {
	row := c.t.first("specific", "")
	if row == nil {
		return
	}
	for i := range c.m.Ingredients {
		for k, l := range c.m.Ingredients[i].Limits {
			h := l.Hazard
			if c.used[limitKey{i, k}] || h == ghs.NoHazard || strings.HasPrefix(h.String(), "Acute Tox.") || !c.p.lawOf().Exists(h) {
				continue
			}
			if c.found[h] != nil && isSkinOrEye(h) {
				continue
			}
			lo := lowerEnd(l.Percent)
			a := alternative(row, c.single(i, AtLeast, lo, fmt.Sprintf("has a specific limit of %s %% for %s", number(lo), h)))
			c.give(h, a)
		}
	}
}

// lawOf is the rule set whose hazards the program's rule set knows: itself, or for an earlier text the present one.
func (p *Program) lawOf() ghs.RuleSet {
	if p.RuleSet.Known() {
		return p.RuleSet
	}
	rs, err := ghs.ParseRuleSet(string(p.RuleSet))
	if err != nil {
		return p.RuleSet
	}
	return rs
}
