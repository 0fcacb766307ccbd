package audit

import (
	"fmt"

	"sixteen/ghs"
)

func checkIngredientDose() Check {
	return Check{
		ID: "ingredient-dose", Title: "A toxic dose of an ingredient asks for a class that section 3 does not state", Group: With11,
		Kinds: []Kind{Doubt}, Harm: HarmDeath,
		Compares: "LD50 and LC50 of section 11 for an ingredient with its class in section 3.",
		Clauses:  acuteClauses(),
		Example:  "An amine with LD50 oral 1030 mg/kg in section 11 and no Acute Tox. 4 in section 3.",
		Do:       "Work out the product's class with the stricter figure.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				stated := statedFor(ing, c.RuleSet)
				if stated.Empty() {
					continue
				}
				for _, f := range c.Sheet.Toxicology.Values {
					v := f.Value
					if !f.Known() || !namesIngredient(v.Ingredient, v.CAS, ing) || (v.Hours != 0 && v.Hours != 4) || !v.Quantity.HasHi || v.Route == ghs.NoQualifier || !plausibleDose(v) {
						continue
					}
					_, mildest := doseCategories(v.Route, v.Quantity.Interval)
					h := acuteHazard(v.Route, mildest)
					if h == ghs.NoHazard || coversAny(stated, h) {
						continue
					}
					e.Report(Fault{
						Kind: Doubt, Hazard: h, Section: 3, Title: nameOf(ing) + ": section 11 leads to " + h.String() + ", section 3 does not state it",
						Says:    []Side{says(11, fmt.Sprintf("%s %s %s", v.Measure, v.Route.Title(ghs.English), printed(v.Quantity)), f), says(3, nameOf(ing), ing.Name)},
						Follows: []Side{follows(h.Title(ghs.English))},
						Ask:     ask("ingredient", nameOf(ing), ing.CAS.Value, h.String(), printed(v.Quantity)), Key: []string{ing.CAS.Value, nameOf(ing), h.String()},
					})
				}
			}
		},
	}
}
