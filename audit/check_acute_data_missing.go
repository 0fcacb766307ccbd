package audit

import (
	"sixteen/ghs"
)

func checkAcuteDataMissing() Check {
	return Check{
		ID: "acute-data-missing", Title: "An acute toxicity class without a figure", Group: With11, Kinds: []Kind{Gap}, Harm: HarmDeath,
		Compares: "Acute toxicity categories of section 2 with the doses and estimates of section 11.",
		Clauses:  contents("11(d)", "11.1 (from memory)", "item 11(d)", "section 11"),
		Example:  "H302 and “no data available”.",
		Do:       "Ask for the estimate; a doctor needs it.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 11) || len(c.Sheet.Toxicology.Values) > 0 {
				return
			}
			for _, h := range c.declares().All() {
				if h.Class() != ghs.AcuteToxicity {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Hazard: h, Section: 11, Title: "Section 2 states " + h.String() + ", section 11 gives no figure",
					Says: []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, silent(11, "a dose or an estimate")},
					Ask:  ask("state", "@toxicity", "11"), Key: []string{"figure"},
				})
				return
			}
		},
	}
}
