package classify

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// compileSkinCascade gives the categories of skin corrosion from added corrosive ingredients. How subcategories of a
// mixture follow from those of its ingredients differs between the laws:
//
//	cascade  1A when 1A reaches the limit, else 1B when 1A+1B does, else 1C when 1A+1B+1C does; plain category 1 when
//	         a relevant ingredient has no subcategory
//	pure     a subcategory only when it alone reaches the limit and no other corrosive ingredient is there, else plain
//	         category 1
//	none     plain category 1
func (c *compiler) compileSkinCascade() {
	r := c.t.first("skin-cascade", "")
	subs := []ghs.Hazard{ghs.SkinCorr1A, ghs.SkinCorr1B, ghs.SkinCorr1C}
	all := append([]ghs.Hazard{ghs.SkinCorr1}, subs...)
	total := c.corrosiveTerms(r, all)
	if len(total) == 0 {
		return
	}
	plain := c.plainTerms(r)
	for i, sub := range subs {
		members := subs[:i+1]
		if r.Input == "pure" {
			members = subs[i : i+1]
		}
		terms := c.corrosiveTerms(r, members)
		if r.Input == "none" || len(terms) == 0 {
			continue
		}
		a := alternative(r, corrosiveSum(r, terms, members))
		if others := c.otherCorrosives(sub); r.Input == "pure" && len(others) > 0 {
			a.AllOf = append(a.AllOf, Condition{Terms: others, Cmp: AtMost, Bound: 0, What: "corrosive ingredients that are not " + sub.String(), Unit: "%"})
		}
		if r.Input == "cascade" && len(plain) > 0 {
			a.AllOf = append(a.AllOf, Condition{Terms: plain, Cmp: AtMost, Bound: 0, What: "relevant ingredients of Skin Corr. 1 without a subcategory", Unit: "%"})
		}
		c.give(sub, a)
	}
	if r.Input != "cascade" || len(plain) > 0 {
		c.give(ghs.SkinCorr1, alternative(r, corrosiveSum(r, total, all)))
	}
	c.p.Quantities = append(c.p.Quantities, Quantity{Name: r.Number, Unit: "%", Terms: unweighted(total)})
}

func corrosiveSum(r *RuleRow, terms []Term, members []ghs.Hazard) Condition {
	names := make([]string, len(members))
	for i, h := range members {
		names[i] = h.String()
	}
	return Condition{Terms: terms, Cmp: compareOf(r.Op), Bound: r.limit(), What: strings.Join(names, " + "), Unit: "%"}
}

// corrosiveTerms are the terms of the ingredients that are one of the members, or have a specific limit for one.
func (c *compiler) corrosiveTerms(r *RuleRow, members []ghs.Hazard) []Term {
	var terms []Term
	set := ghs.SetOf(members...)
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		hit := in.Hazards.Intersect(set)
		limit, has := 0.0, false
		for _, h := range members {
			if l, ok := c.specificLimit(i, h.String(), 1, r.limit()); ok && (!has || l < limit) {
				limit, has = l, true
			}
		}
		switch {
		case has && limit > 0:
			terms = append(terms, Term{Ingredient: i, Weight: r.limit() / limit, Cutoff: min(r.cutoff(), limit), Because: fmt.Sprintf("has a specific limit of %s %% for skin corrosion", number(limit))})
		case !hit.Empty() && in.additive():
			terms = append(terms, Term{Ingredient: i, Weight: 1, Cutoff: r.cutoff(), Because: "is " + hit.All()[0].String()})
		}
	}
	return terms
}

// plainTerms are the corrosive ingredients without a subcategory.
func (c *compiler) plainTerms(r *RuleRow) []Term {
	var terms []Term
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		sub := in.Hazards.Has(ghs.SkinCorr1A) || in.Hazards.Has(ghs.SkinCorr1B) || in.Hazards.Has(ghs.SkinCorr1C)
		if in.Hazards.Has(ghs.SkinCorr1) && !sub && in.additive() {
			terms = append(terms, Term{Ingredient: i, Weight: 1, Cutoff: r.cutoff(), Because: "is Skin Corr. 1 without a subcategory"})
		}
	}
	return terms
}

// otherCorrosives are the corrosive ingredients that are not of the subcategory, whatever their share.
func (c *compiler) otherCorrosives(sub ghs.Hazard) []Term {
	var terms []Term
	for i := range c.m.Ingredients {
		if hit := c.m.Ingredients[i].Hazards.Intersect(hazardGroups()["Skin Corr. *"]); !hit.Empty() && !hit.Has(sub) {
			terms = append(terms, Term{Ingredient: i, Weight: 1, Because: "is " + hit.All()[0].String()})
		}
	}
	return terms
}

// unweighted is the terms with weight 1: the plain percentage of the ingredients.
func unweighted(terms []Term) []Term {
	plain := append([]Term(nil), terms...)
	for i := range plain {
		plain[i].Weight = 1
	}
	return plain
}

// compileEyeIrritants gives eye irritation from added ingredients. Where the law has 2A and 2B the mixture is 2B when
// every relevant ingredient is, and 2A otherwise; in Canada it is plainly 2 unless all are of one subcategory.
func (c *compiler) compileEyeIrritants() {
	r := c.t.first("eye-irritant", "")
	pieces, err := parseSum(r.Input)
	if err != nil {
		panic("classify: rule " + r.name() + ": " + err.Error())
	}
	terms := c.sumTerms(r, pieces, r.limit(), r.cutoff())
	if len(terms) == 0 {
		return
	}
	c.p.Quantities = append(c.p.Quantities, Quantity{Name: r.Number, Unit: "%", Terms: terms})
	sum := Condition{Terms: terms, Cmp: compareOf(r.Op), Bound: r.limit(), What: sumWords(pieces), Unit: "%"}
	if r.Which == "pure" {
		c.pureEyeIrritants(r, sum)
		return
	}
	worse := c.moreThan2B(terms)
	switch {
	case r.Which != "2A 2B" || len(worse) == len(terms):
		c.give(hazardNamed(r.Result), alternative(r, sum))
	case len(worse) == 0:
		c.give(ghs.EyeIrrit2B, alternative(r, sum))
	default:
		other := Condition{Terms: worse, Bound: 0, What: "relevant ingredients other than Eye Irrit. 2B", Unit: "%"}
		other.Cmp = MoreThan
		c.give(hazardNamed(r.Result), alternative(r, sum, other))
		other.Cmp = AtMost
		c.give(ghs.EyeIrrit2B, alternative(r, sum, other))
	}
}

// pureEyeIrritants gives 2A or 2B when ingredients of that subcategory alone reach the limit and no other eye irritant
// is there, and else plain category 2.
func (c *compiler) pureEyeIrritants(r *RuleRow, sum Condition) {
	for _, sub := range []ghs.Hazard{ghs.EyeIrrit2A, ghs.EyeIrrit2B} {
		alone := Condition{Cmp: sum.Cmp, Bound: sum.Bound, What: "sum of " + sub.String(), Unit: "%"}
		others := Condition{Cmp: AtMost, Bound: 0, What: "eye irritants that are not " + sub.String(), Unit: "%"}
		for _, t := range sum.Terms {
			hit := c.m.Ingredients[t.Ingredient].Hazards.Intersect(hazardGroups()["Eye Irrit. *"])
			switch {
			case hit.Has(sub):
				t.Weight = min(t.Weight, 1)
				alone.Terms = append(alone.Terms, t)
			case !hit.Empty():
				t.Weight, t.Cutoff = 1, 0
				others.Terms = append(others.Terms, t)
			}
		}
		if len(alone.Terms) == 0 {
			continue
		}
		a := alternative(r, alone)
		if len(others.Terms) > 0 {
			a.AllOf = append(a.AllOf, others)
		}
		c.give(sub, a)
	}
	c.give(ghs.EyeIrrit2, alternative(r, sum))
}

// moreThan2B are the terms of ingredients that are not Eye Irrit. 2B only, with weight 1.
func (c *compiler) moreThan2B(terms []Term) []Term {
	var worse []Term
	rest := hazardGroups()["Eye Irrit. *"].Union(hazardGroups()["Skin Corr. *"]).Union(ghs.SetOf(ghs.EyeDam1)).Minus(ghs.SetOf(ghs.EyeIrrit2B))
	for _, t := range terms {
		if !c.m.Ingredients[t.Ingredient].Hazards.Intersect(rest).Empty() {
			t.Weight = 1
			worse = append(worse, t)
		}
	}
	return worse
}

// corrosiveMeansEyeDamage carries skin corrosion over to the eye where the eye's own sums might not: a corrosive
// ingredient with a specific limit below the eye's generic limit.
func (c *compiler) corrosiveMeansEyeDamage() {
	specific := false
	for _, in := range c.m.Ingredients {
		for _, l := range in.Limits {
			specific = specific || strings.HasPrefix(l.Hazard.String(), "Skin Corr.")
		}
	}
	if !specific {
		return
	}
	for _, h := range []ghs.Hazard{ghs.SkinCorr1A, ghs.SkinCorr1B, ghs.SkinCorr1C, ghs.SkinCorr1} {
		if o := c.found[h]; o != nil {
			for _, a := range o.AnyOf {
				a.Clause += "; what corrodes the skin damages the eye"
				c.give(ghs.EyeDam1, a)
			}
		}
	}
}
