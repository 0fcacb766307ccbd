package classify

import (
	"fmt"

	"sixteen/ghs"
)

// compileAquatic adds up the aquatic classes with their M-factors, and takes ingredients that have toxicity data but no
// class into the sum as one part (the additivity formula): the part's L(E)C50 is ΣC/Σ(C/L(E)C50), so that
// "L(E)C50 of the part ≤ T" is Σ C·(1/L(E)C50 − 1/T) ≥ 0.
func (c *compiler) compileAquatic() {
	for _, r := range c.t.of("aquatic") {
		pieces, err := parseSum(r.Input)
		if err != nil {
			panic("classify: rule " + r.name() + ": " + err.Error())
		}
		h := hazardNamed(r.Result)
		terms := c.aquaticTerms(h, pieces)
		sum := Condition{Terms: terms, Cmp: compareOf(r.Op), Bound: r.limit(), What: sumWords(pieces), Unit: "%"}
		if len(terms) > 0 {
			c.give(h, alternative(r, sum))
			c.p.Quantities = append(c.p.Quantities, Quantity{Name: r.Number, Unit: "%", Terms: terms})
		}
		for _, part := range c.measuredParts(h, pieces) {
			whole := sum
			whole.Terms = append(append([]Term(nil), terms...), part.terms...)
			a := alternative(r, whole)
			a.AllOf = append(a.AllOf, part.toxic)
			a.Facts = []string{part.words}
			c.give(h, a)
		}
	}
}

// aquaticTerms are the terms of classified ingredients. Category 1 counts from 0.1/M %, the others from 1 %.
func (c *compiler) aquaticTerms(result ghs.Hazard, pieces []piece) []Term {
	var terms []Term
	rows := c.t.of("aquatic-relevance")
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		best := Term{Ingredient: i}
		for _, p := range pieces {
			hit := in.Hazards.Intersect(p.hazards)
			if hit.Empty() {
				continue
			}
			h := hit.All()[0]
			m := c.mFactor(in, result.Class())
			t := Term{Ingredient: i, Weight: p.weight, Cutoff: rows[1].limit(), Because: "is " + h.String()}
			if h == ghs.AquaticAcute1 || h == ghs.AquaticChronic1 {
				t.Cutoff = rows[0].limit() / m
			}
			if p.timesM {
				t.Weight *= m
				t.Because += fmt.Sprintf(", M = %s", number(m))
			}
			if t.Weight > best.Weight {
				best = t
			}
		}
		if best.Weight > 0 {
			terms = append(terms, best)
		}
	}
	return terms
}

// mFactor is the ingredient's M-factor: the one given, else that of its toxicity data, else 1.
func (c *compiler) mFactor(in *Ingredient, class ghs.Class) float64 {
	given, kind, prop := in.MAcute, "m-acute", PropEC50
	if class == ghs.AquaticChronic {
		given, kind, prop = in.MChronic, "m-chronic", PropNOEC
	}
	if given > 0 {
		return given
	}
	m := 1.0
	if dose, ok := in.property(prop); ok {
		for _, r := range c.t.of(kind) {
			one := Condition{Cmp: AtMost, Bound: r.limit()}
			if in.is(r.Which) && one.compare(dose, 0) {
				m = max(m, mustNumber(r.Result, r))
			}
		}
	}
	return m
}

// measuredPart is the ingredients that have toxicity data and no class, taken as one.
type measuredPart struct {
	toxic Condition // the part is at least this toxic
	terms []Term    // its terms in the sum
	words string
}

// measuredParts are the ways in which the measured part may enter a sum: per band of its toxicity.
func (c *compiler) measuredParts(result ghs.Hazard, pieces []piece) []measuredPart {
	if result.Class() == ghs.AquaticAcute {
		return c.partsOf(ghs.AquaticAcute, PropEC50, pieces, c.t.of("m-acute"), []band{{ghs.AquaticAcute2, 10}, {ghs.AquaticAcute3, 100}})
	}
	var rapid []*RuleRow
	for _, r := range c.t.of("m-chronic") {
		if r.Which == "rapidly_degradable = 1" {
			rapid = append(rapid, r)
		}
	}
	return c.partsOf(ghs.AquaticChronic, PropNOEC, pieces, rapid, []band{{ghs.AquaticChronic2, 0.1}, {ghs.AquaticChronic3, 1}})
}

// band is a category below 1 and the greatest dose that gives it, mg/l. The equivalent chronic dose takes a tenth for
// what does not degrade rapidly and so is compared with the bands for rapidly degradable substances (4.1.3.5.2(b)).
type band struct {
	hazard ghs.Hazard
	dose   float64
}

func (c *compiler) partsOf(class ghs.Class, prop string, pieces []piece, mRows []*RuleRow, lower []band) []measuredPart {
	members := c.measuredMembers(class, prop)
	if len(members) == 0 {
		return nil
	}
	var parts []measuredPart
	category1 := ghs.AquaticAcute1
	if class == ghs.AquaticChronic {
		category1 = ghs.AquaticChronic1
	}
	for _, p := range pieces {
		if p.hazards.Has(category1) {
			for _, r := range mRows {
				weight := p.weight
				if p.timesM {
					weight *= mustNumber(r.Result, r)
				}
				parts = append(parts, members.part(r.limit(), weight, category1))
			}
		}
		for _, b := range lower {
			if p.hazards.Has(b.hazard) {
				parts = append(parts, members.part(b.dose, p.weight, b.hazard))
			}
		}
	}
	return parts
}

// measured is an ingredient and its dose, mg/l.
type measured struct {
	ingredient int
	dose       float64
}

type measuredSet []measured

func (c *compiler) measuredMembers(class ghs.Class, prop string) measuredSet {
	var set measuredSet
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		classified := false
		for _, h := range in.Hazards.All() {
			classified = classified || h.Class() == class
		}
		dose, ok := in.property(prop)
		if classified || !ok || dose <= 0 {
			continue
		}
		if slow, known := in.property(PropRapidlyDegradable); class == ghs.AquaticChronic && (!known || slow == 0) {
			dose /= 10
		}
		set = append(set, measured{i, dose})
	}
	return set
}

// part is the set as one ingredient of toxicity at most limit.
func (s measuredSet) part(limit, weight float64, as ghs.Hazard) measuredPart {
	p := measuredPart{
		toxic: Condition{Cmp: AtLeast, Bound: 0, What: "toxicity of the measured part", Unit: "% per mg/l"},
		words: fmt.Sprintf("ingredients with toxicity data count together as %s when their joint toxicity is ≤ %s mg/l", as, number(limit)),
	}
	for _, m := range s {
		p.toxic.Terms = append(p.toxic.Terms, Term{Ingredient: m.ingredient, Weight: 1/m.dose - 1/limit, Because: fmt.Sprintf("has a toxicity of %s mg/l", number(m.dose))})
		p.terms = append(p.terms, Term{Ingredient: m.ingredient, Weight: weight, Because: "belongs to the measured part"})
	}
	return p
}
