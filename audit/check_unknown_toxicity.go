package audit

import (
	"fmt"

	"sixteen/classify"
	"sixteen/ghs"
)

func checkUnknownToxicity() Check {
	return Check{
		ID: "unknown-toxicity", Title: "The share of unknown acute toxicity is not stated", Group: With3, Kinds: []Kind{Gap}, Harm: HarmDeath,
		Could:    "“Not classified as toxic” is read where it should say “nobody knows”.",
		Compares: "The ingredients of which neither the sheet nor the substance table knows anything with the sentence that section 2 owes.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.1.3.6.2.3; App. C, C.3.3; App. D, Table D.1, 2(e)",
			ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.1.3.6.2.3; App. C, C.3.3; App. D, Table D.1, 2(e)",
			ghs.EUCLP:     "CLP Annex I 3.1.3.6.2.2 (from memory)", ghs.GBCLP: "GB CLP Annex I 3.1.3.6.2.2 (from memory)", ghs.UNGHS: "UN GHS 3.1.3.6.2.2 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations s. 3(1) and schedule 1, item 2(b) (paragraph from memory)",
		},
		Example: "30 % of a resin without any toxicity data, and no such sentence.",
		Do:      "Take acute toxicity as unknown.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 2) || len(c.Sheet.Hazards.UnknownToxicity) > 0 || hasAny(c.text(2, 11), "unknown acute", "unknown toxicity", "unbekannter", "toxicité aiguë inconnue", "toxicidad aguda desconocida") {
				return
			}
			total := 0.0
			var names []string
			var sides []Side
			for i, ing := range c.Mixture().Ingredients {
				if ing.ATE[ghs.Oral].Status != classify.ATEUnknown || ing.ATE[ghs.Dermal].Status != classify.ATEUnknown || ing.ATE[ghs.InhalationVapour].Status != classify.ATEUnknown || lowest(ing.Percent) < 1 {
					continue
				}
				total += lowest(ing.Percent)
				names = append(names, ing.Name)
				src := c.Sheet.Composition.Ingredients[i]
				sides = append(sides, says(3, ing.Name+" "+printed(src.Percent.Value), src.Percent))
			}
			if len(names) == 0 || len(c.productDoses(ghs.Oral)) > 0 {
				return
			}
			e.Report(Fault{
				Kind: Gap, Section: 2, Title: fmt.Sprintf("At least %s %% of unknown acute toxicity, and section 2 does not say so", share(total)),
				Says: append([]Side{silent(2, "the share of unknown acute toxicity")}, sides...), Ask: ask("state", "@unknown", "2"), Key: names,
			})
		},
	}
}
