package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkTransportEnvironment() Check {
	return Check{
		ID: "transport-environment", Title: "Hazardous to water, and not marked so in transport", Group: With14, Kinds: []Kind{Doubt}, Harm: HarmEnvironment,
		Compares: "Aquatic Acute 1, Chronic 1 and Chronic 2 of section 2 with section 14.",
		Clauses: Clauses{
			ghs.EUCLP: "ADR 2.2.9.1.10 and 5.2.1.8, IMDG 2.9.3 (from memory); packages up to 5 l are freed by special provision 375",
			ghs.GBCLP: "ADR 2.2.9.1.10, IMDG 2.9.3 (from memory)",
			ghs.UNGHS: "UN Model Regulations 2.9.3 (from memory)",
		},
		Example: "H411 and “not regulated” by sea.",
		Do:      "Ask how the product is to be sent by sea.",
		Run: func(c *Case, e *Emit) {
			var worst ghs.Hazard
			for _, h := range []ghs.Hazard{ghs.AquaticChronic2, ghs.AquaticChronic1, ghs.AquaticAcute1} {
				if c.declares().Has(h) {
					worst = h
				}
			}
			if worst == ghs.NoHazard {
				return
			}
			for _, f := range c.transport() {
				t := f.Value
				if t.MarinePollutant == sheet.Stated || (t.UN == "3082" || t.UN == "3077") && t.MarinePollutant == sheet.NotStated || (t.Regulated && t.MarinePollutant == sheet.NotStated) {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Hazard: worst, Section: 14, Title: "Section 2 states " + worst.String() + ", section 14 no environmental hazard" + mode(t),
					Says: []Side{{Section: 2, Text: worst.Title(ghs.English), Evidence: c.declaredAt(worst)}, says(14, transportText(t), f)},
					Ask:  ask("clash", "2", worst.String(), "14", transportAsk(t)), Key: []string{t.Mode},
				})
			}
		},
	}
}
