package audit

func checkIngredientCode() Check {
	return Check{
		ID: "ingredient-code", Title: "An ingredient's H code does not belong to its class", Group: Section3, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The H code printed beside each class of section 3 with the code of that class.",
		Clauses:  classCodeClauses(),
		Example:  "“Skin Sens. 1; H315”.",
		Do:       "Act on the stricter of the two.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				for _, f := range ing.Hazards {
					reportCode(c, e, f, 3, nameOf(ing)+": ", ing.CAS.Value+nameOf(ing))
				}
			}
		},
	}
}
