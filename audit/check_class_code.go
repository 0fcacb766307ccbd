package audit

func checkClassCode() Check {
	return Check{
		ID: "class-code", Title: "An H code does not belong to the class it stands beside", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The H code printed beside each class of section 2 with the code of that class.",
		Clauses:  classCodeClauses(),
		Example:  "“Skin Sens. 1 – H315”.",
		Do:       "Act on the stricter of the two.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Classification {
				reportCode(c, e, f, 2, "", "product")
			}
		},
	}
}
