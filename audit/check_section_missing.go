package audit

import (
	"fmt"
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSectionMissing() Check {
	return Check{
		ID: "section-missing", Title: "A section is missing", Group: Paper, Kinds: []Kind{Gap, Note}, Harm: HarmPaper,
		Could:    "Whoever needs this section in an emergency or at the bench finds nothing.",
		Compares: "The headings of the document with the sixteen that the law prescribes.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(2), its notes 1 and 2, and App. D",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(2) and App. D",
			ghs.EUCLP:     "REACH Article 31(6) and Annex II part B (from memory)",
			ghs.GBCLP:     "UK REACH Article 31(6) (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4(1) and schedule 1",
			ghs.AUWHS:     "model WHS Regulations schedule 7 (list of sections 1 to 9 read)",
			ghs.UNGHS:     "UN GHS 1.5.3.2.1 (from memory)",
		},
		Example: "The document goes from section 10 to section 12.",
		Do:      "Ask for a complete sheet; do not work with the product on half of one.",
		Run: func(c *Case, e *Emit) {
			for n := 1; n <= 16; n++ {
				if c.Sheet.Sections[n].Found || c.Sheet.PreGHS.Value {
					continue
				}
				if i := slices.IndexFunc(c.Sheet.Problems, func(p sheet.ReadProblem) bool { return p.Section == n }); i >= 0 {
					e.Cannot(fmt.Sprintf("section %d could not be read: %s", n, c.Sheet.Problems[i].What))
					continue
				}
				kind := Gap
				if c.american() && n >= 12 && n <= 15 {
					kind = Note
				}
				e.Report(Fault{
					Kind: kind, Section: n, Title: fmt.Sprintf("Section %d (%s) is missing", n, headings()[n]),
					Says: []Side{silent(n, fmt.Sprintf("a section %d", n))},
					Ask:  ask("state", "@section", fmt.Sprint(n)), Key: []string{fmt.Sprint(n)},
				})
			}
		},
	}
}

// headings are the names of the sixteen sections.
func headings() [17]string {
	return [17]string{"", "identification", "hazards", "composition", "first aid", "fire", "spills", "handling and storage",
		"exposure and protection", "physical and chemical properties", "stability and reactivity", "toxicology", "ecology",
		"disposal", "transport", "regulation", "other information"}
}
