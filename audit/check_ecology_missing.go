package audit

import (
	"sixteen/ghs"
)

func checkEcologyMissing() Check {
	return Check{
		ID: "ecology-missing", Title: "An aquatic class without data", Group: With12, Kinds: []Kind{Gap}, Harm: HarmEnvironment,
		Compares: "The aquatic classes of section 2 with the data of section 12.",
		Clauses: Clauses{
			ghs.EUCLP: "REACH Annex II 12.1 (from memory)", ghs.GBCLP: "UK REACH Annex II 12.1 (from memory)", ghs.UNGHS: "UN GHS Annex 4 A4.3.12 (from memory)",
		},
		Example: "H411 and an empty section 12.",
		Do:      "Keep it out of drains; ask for the data.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 12) || len(c.Sheet.Ecology.Values) > 0 {
				return
			}
			for _, h := range c.declares().All() {
				if h.Class() == ghs.AquaticAcute || h.Class() == ghs.AquaticChronic {
					e.Report(Fault{
						Kind: Gap, Hazard: h, Section: 12, Title: "Section 2 states " + h.String() + ", section 12 gives no figure",
						Says: []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, silent(12, "a figure of ecotoxicity")},
						Ask:  ask("state", "@ecotoxicity", "12"), Key: []string{"figure"},
					})
					return
				}
			}
		},
	}
}
