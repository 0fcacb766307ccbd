package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkIsocyanateTraining() Check {
	return Check{
		ID: "isocyanate-training", Title: "Diisocyanate, and no word that training is required", Group: With3, Kinds: []Kind{Gap}, Harm: HarmDeath,
		Could:    "Somebody sprays it without having learnt what asthma it brings.",
		Compares: "Diisocyanates among the ingredients with the sentence on training in sections 2, 8, 15 and 16.",
		Clauses: Clauses{
			ghs.EUCLP: "REACH Annex XVII entry 74 (from memory): from 0.1 % of monomers, training since 2023-08-24, and a statement on the packaging",
		},
		Example: "40 % MDI and no such sentence.",
		Do:      "Nobody works with it before the training; nobody with asthma works with it at all.",
		Run: func(c *Case, e *Emit) {
			if hasAny(c.text(2, 7, 8, 15, 16), "training", "schulung", "formation adéquate", "formation appropriée", "formación", "august 2023", "août 2023", "agosto de 2023") {
				return
			}
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				if row == nil || !strings.Contains(strings.ToLower(row.Family+" "+row.Name), "isocyanate") || lowest(ing.Percent.Value.Interval) < 0.1 || hasAny(strings.ToLower(row.Name), "polymer", "oligomer", "trimer", "prepolymer", "biuret") {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Hazard: ghs.RespSens1, Section: 15, Title: nameOf(ing) + ": the required training is not mentioned",
					Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent), silent(15, "that training is required")}, Ask: ask("state", "@supplementary", "2"), Key: []string{ing.CAS.Value},
				})
				return
			}
		},
	}
}
