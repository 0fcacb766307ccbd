package audit

import (
	"sixteen/sheet"
)

func checkIngredientTwice() Check {
	return Check{
		ID: "ingredient-twice", Title: "One substance stands in section 3 twice", Group: Section3, Kinds: []Kind{Doubt}, Harm: HarmPaper,
		Could:    "Its share is taken for less than it is.",
		Compares: "The CAS numbers of section 3 with each other.",
		Clauses:  common("shares of one substance count together against the limits of the law"),
		Example:  "Xylene 5 – 9 % and again xylene 3 – 6 %.",
		Do:       "Add the shares.",
		Run: func(c *Case, e *Emit) {
			seen := map[string]sheet.Ingredient{}
			for _, ing := range c.Sheet.Composition.Ingredients {
				if !ing.CAS.Known() {
					continue
				}
				first, twice := seen[ing.CAS.Value]
				seen[ing.CAS.Value] = ing
				if !twice || len(c.Sheet.Parts) > 0 {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Section: 3, Title: "CAS " + ing.CAS.Value + " is listed twice",
					Says: []Side{says(3, nameOf(first)+" "+printed(first.Percent.Value), first.CAS), says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.CAS)},
					Ask:  ask("state", "@percent", "3"), Key: []string{ing.CAS.Value},
				})
			}
		},
	}
}
