package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkIngredientClassMissing() Check {
	return Check{
		ID: "ingredient-class-missing", Title: "Ingredients without a classification", Group: Section3, Kinds: []Kind{Gap, Note}, Harm: HarmLasting,
		Could:    "Nobody can see which ingredient makes the product hazardous.",
		Compares: "Each row of section 3 with the classification that it owes.",
		Clauses: Clauses{
			ghs.EUCLP: "REACH Annex II 3.2.3 (from memory)", ghs.GBCLP: "UK REACH Annex II 3.2.3 (from memory)",
		},
		Example: "A table with name, number and share only.",
		Do:      "Look the ingredients up; the substance table names what it knows.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				if len(ing.Hazards) > 0 || len(ing.Statements) > 0 || harmless(c, ing) {
					continue
				}
				kind := Gap
				if c.known(ing.CAS.Value) == nil {
					kind = Note // it may be listed for completeness
				}
				e.Report(Fault{
					Kind: kind, Section: 3, Title: "No classification of " + nameOf(ing), Says: []Side{says(3, nameOf(ing), ing.Name, ing.CAS)},
					Ask: ask("state", "@ingrclass", "3"), Key: []string{ing.CAS.Value, nameOf(ing)},
				})
			}
		},
	}
}

// harmless tells whether nothing is known against an ingredient, so that it is listed for another reason, such as its
// exposure limit or completeness.
func harmless(c *Case, ing sheet.Ingredient) bool {
	row := c.known(ing.CAS.Value)
	if row == nil {
		return false
	}
	for _, x := range row.Classifications {
		if !x.NotClassified && x.Hazard != ghs.NoHazard && c.RuleSet.Exists(x.Hazard) {
			return false
		}
	}
	return true
}
