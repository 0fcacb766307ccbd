package audit

func checkRevisionMilder() Check {
	return Check{
		ID: "revision-milder", Title: "The newer revision drops a hazard, and section 3 is as before", Group: Revision, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Compares: "The classes of the sheet with those of the revision before, and the ingredients with the ingredients.",
		Clauses:  common("a hazard goes away with its ingredient, by new data or by mistake; the sheet owes the reason"),
		Example:  "H317 in 2022, none in 2025, the same resin in both.",
		Do:       "Keep acting on the older revision until the supplier has said why.",
		Run: func(c *Case, e *Emit) {
			if c.Previous == nil {
				return
			}
			old := &Case{Sheet: c.Previous, RuleSet: c.RuleSet}
			if len(reviseIngredients(old, c)) > 0 {
				return
			}
			for _, x := range reviseClasses(old, c) {
				if x.Direction != Milder {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Section: 2, Title: "No longer stated: " + x.Was.Text + "; the ingredients are as before", Says: []Side{x.Was, x.Is}, Could: x.Means,
					Ask: ask("changed", c.Sheet.Identification.RevisionDate.Value, x.Was.Text, c.Previous.Identification.RevisionDate.Value), Key: []string{x.Was.Text},
				})
			}
		},
	}
}
