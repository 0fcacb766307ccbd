package audit

import (
	"sixteen/ghs"
)

func checkTransportClass8() Check {
	return Check{
		ID: "transport-class8", Title: "Class 8 in transport, and nothing corrosive in section 2", Group: With14, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Compares: "Class 8 of section 14 with the corrosive classes of section 2.",
		Clauses:  Clauses{"": "UN Model Regulations 2.8.2, ADR 2.2.8.1, 49 CFR 173.136 (from memory): class 8 is corrosive to skin or to metal"},
		Example:  "UN2735, class 8, and section 2 with Skin Irrit. 2 only.",
		Do:       "Treat the product as corrosive: goggles, gloves, water within reach.",
		Run: func(c *Case, e *Emit) {
			d := c.declares()
			if coversAny(d, ghs.SkinCorr1) || d.Has(ghs.MetCorr1) {
				return
			}
			for _, f := range c.transport() {
				if !f.Value.Regulated || !hasClass(f.Value, "8") {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Hazard: ghs.SkinCorr1, Section: 2, Title: "Section 14 gives class 8, section 2 says nothing corrosive",
					Says: []Side{says(14, transportText(f.Value), f), {Section: 2, Text: "Section 2: " + c.summary()}},
					Ask:  ask("clash", "2", "H314/H290 –", "14", transportAsk(f.Value)), Key: []string{"class 8"},
				})
				return
			}
		},
	}
}
