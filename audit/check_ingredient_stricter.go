package audit

import (
	"sixteen/ghs"
	"sixteen/substance"
)

func checkIngredientStricter() Check {
	return Check{
		ID: "ingredient-stricter", Title: "An ingredient is elsewhere classified more strictly than in section 3", Group: Reference, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "The classification of each ingredient in section 3 with the entries of the substance table.",
		Clauses: Clauses{
			ghs.EUCLP: "CLP Article 4(3) and Annex VI: harmonised entries bind (from memory)",
			ghs.GBCLP: "GB CLP Article 4(3): mandatory entries bind (from memory)",
			"":        "the reader's own official table where one was imported, else common practice: a published classification that the supplier does not share asks for a reason",
		},
		Example: "A hardener amine with H314 only, whose harmonised entry adds H317.",
		Do:      "Act on the stricter until the supplier has shown data.",
		Run: func(c *Case, e *Emit) {
			for _, ch := range c.Choices() {
				ing := c.Sheet.Composition.Ingredients[ch.Ingredient]
				if ch.Basis != OfTable || statedFor(ing, c.RuleSet).Empty() || !c.RuleSet.Exists(ch.Hazard) || c.environmentUnasked(ch.Hazard) {
					continue
				}
				kind := Doubt
				if ch.Firm() && ch.Authority == substance.Imported {
					kind = Contradiction
				}
				e.Report(Fault{
					Kind: kind, Hazard: ch.Hazard, Section: 3, Title: ch.Name + ": " + ch.Hazard.String() + " is not stated in section 3",
					Says:    []Side{says(3, ch.Name+": "+statedFor(ing, c.RuleSet).String(), ing.Hazards...)},
					Follows: []Side{looked(ch.Hazard.Title(ghs.English)+" ("+string(ch.Authority)+")", ch.Source)},
					Ask:     ask("ingredient", ch.Name, ch.CAS, ch.Hazard.String(), string(ch.Authority)), Key: []string{ch.CAS, ch.Hazard.String()},
				})
			}
		},
	}
}

// environmentUnasked tells whether the rule set does not ask sheets for a class although its tables know it.
func (c *Case) environmentUnasked(h ghs.Hazard) bool {
	return h.Class().Group() == ghs.EnvironmentGroup && (c.american() || c.in(ghs.CAHPR, ghs.AUWHS))
}
