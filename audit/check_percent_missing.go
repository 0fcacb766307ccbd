package audit

func checkPercentMissing() Check {
	return Check{
		ID: "percent-missing", Title: "An ingredient without a share", Group: Section3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Nobody can work out what the product is classified as.",
		Compares: "Each row of section 3 with the share that it owes.",
		Clauses:  contents("3, mixture b", "3.2 (from memory)", "item 3(2)(d)", "section 3"),
		Example:  "“Epoxy resin – CAS 25068-38-6” and an empty column.",
		Do:       "Take the share as anything up to 100 %.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				if ing.Percent.Known() || shareOf(c.Sheet, ing).HasLo {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: 3, Title: "No share of " + nameOf(ing), Says: []Side{says(3, nameOf(ing), ing.Name, ing.CAS)},
					Ask: ask("state", "@percent", "3"), Key: []string{ing.CAS.Value, ing.Name.Value},
				})
			}
		},
	}
}
