package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkPrecautionForHazard() Check {
	return Check{
		ID: "precaution-for-hazard", Title: "No precaution answers a grave hazard", Group: Inside2, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Compares: "The precautionary statements of section 2 with those that the law assigns to each of its grave classes; one of them is enough.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.4 and C.4 (assignment from memory)", ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.4 and C.4 (assignment from memory)",
			ghs.EUCLP: "CLP Articles 22 and 28, Annex IV (assignment from memory)", ghs.GBCLP: "GB CLP Articles 22 and 28 (from memory)",
			ghs.CAHPR: "Hazardous Products Regulations s. 3(1)(d) to (f); GHS Annex 3 section 3 (from memory)", ghs.AUWHS: "GHS Annex 3 section 3 (from memory)", ghs.UNGHS: "UN GHS Annex 3 section 3 (from memory)",
		},
		Example: "H318 and none of P280, P305+P351+P338, P310.",
		Do:      "Take the precautions from the class.",
		Run: func(c *Case, e *Emit) {
			have := c.precautions()
			if len(have) == 0 {
				return
			}
			for _, h := range c.declares().All() {
				if HarmOf(h) > HarmLasting {
					continue
				}
				want := precautionsFor(h, c.RuleSet)
				if len(want) == 0 || slices.ContainsFunc(want, func(p ghs.Code) bool { return slices.Contains(have, p) }) {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Hazard: h, Section: 2, Title: "No precaution answers " + h.String(),
					Says:    []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, {Section: 2, Text: "Precautions: " + joinCodes(have)}},
					Follows: []Side{follows("One of: " + joinCodes(want))}, Ask: ask("state", "@pstatements", "2"), Key: []string{h.String()},
				})
			}
		},
	}
}

// precautions are the single P codes that the sheet states, or that its P phrases were matched to.
func (c *Case) precautions() []ghs.Code {
	var out []ghs.Code
	for _, f := range c.Sheet.Hazards.Precautions {
		if !f.Known() {
			continue
		}
		if f.Value.Code == "" {
			return nil // a phrase that was not matched may be the one
		}
		for _, p := range f.Value.Code.Parts() {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}
