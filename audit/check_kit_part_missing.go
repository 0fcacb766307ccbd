package audit

import (
	"sixteen/ghs"
)

func checkKitPartMissing() Check {
	return kitCheck(Check{
		ID: "kit-part-missing", Title: "A part of the kit has no sheet", Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Half of what is mixed is unknown.",
		Compares: "The parts of the kit with the sheets at hand.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(1): a sheet for each hazardous chemical", ghs.USHCS2012: "29 CFR 1910.1200(g)(1): a sheet for each hazardous chemical",
			"": "common practice: each part of a kit has a sheet of its own, or a section of its own in a common one",
		},
		Example: "A sheet for the resin and none for the hardener.",
		Do:      "Do not mix before you have read both.",
	}, func(c *Case, k *Kit, e *Emit) {
		for _, p := range k.Parts {
			if p.Sheet != nil {
				continue
			}
			e.Report(Fault{
				Kind: Gap, Section: 1, Title: "No sheet for part " + p.Name + " of " + k.Name, Says: []Side{{Text: "Kit " + k.Name + ": part " + p.Name}},
				Ask: ask("market", c.RuleSet.Law()+" – "+p.Name), Key: []string{k.Name, p.Name},
			})
		}
	})
}
