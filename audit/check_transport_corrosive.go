package audit

import (
	"sixteen/ghs"
)

func checkTransportCorrosive() Check {
	return Check{
		ID: "transport-corrosive", Title: "Corrosive to skin, and not class 8 in transport", Group: With14, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Could:    "Leaking parcels burn those who handle them.",
		Compares: "Skin Corr. 1 of section 2 with the class and subsidiary hazards of section 14.",
		Clauses:  Clauses{"": "UN Model Regulations 2.8.2, ADR 2.2.8.1, 49 CFR 173.136 (from memory): classes 1A, 1B and 1C answer to packing groups I, II and III"},
		Example:  "H314 and “not regulated”.",
		Do:       "Do not send it by post; ask for the UN number.",
		Run: func(c *Case, e *Emit) {
			if !coversAny(c.declares(), ghs.SkinCorr1) {
				return
			}
			for _, f := range c.transport() {
				if hasClass(f.Value, "8") || hasAny(f.Value.Class, "5.2", "4.1", "2.", "1.") || (f.Value.Regulated && f.Value.Class == "") {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Section: 14, Title: "Section 2 says corrosive to skin, section 14 does not give class 8" + mode(f.Value),
					Says: []Side{{Section: 2, Text: "Skin Corr. 1", Evidence: c.declaredAt(ghs.SkinCorr1)}, says(14, transportText(f.Value), f)},
					Ask:  ask("clash", "2", "H314", "14", transportAsk(f.Value)), Key: []string{f.Value.Mode},
				})
			}
		},
	}
}
