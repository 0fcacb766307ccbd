package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSectionEmpty() Check {
	return Check{
		ID: "section-empty", Title: "A section has a heading and nothing below it", Group: Paper, Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "Silence is taken for harmlessness.",
		Compares: "Each heading with the text below it. Where there is no information the sheet has to say so.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(3) and App. D",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(3) and App. D",
			ghs.EUCLP:     "REACH Annex II 0.3.1 and part B (from memory): no subsection may be blank",
			ghs.GBCLP:     "UK REACH Annex II (from memory): no subsection may be blank",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4(1), schedule 1 (from memory that absence must be stated)",
			ghs.AUWHS:     "model WHS Regulations schedule 7 (from memory)",
			ghs.UNGHS:     "UN GHS 1.5.3.3 (from memory)",
		},
		Example: "“11. Toxicological information” is followed at once by “12. Ecological information”.",
		Do:      "Treat the answer as unknown, not as none.",
		Run: func(c *Case, e *Emit) {
			for n := 1; n <= 16; n++ {
				s := c.Sheet.Sections[n]
				if !s.Found || !c.has(e, n) || len(s.Text) > 0 || (c.american() && n >= 12 && n <= 15) {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: n, Title: fmt.Sprintf("Section %d (%s) is empty", n, headings()[n]),
					Says: []Side{{Section: n, Text: "Nothing stands below the heading.", Evidence: []sheet.Evidence{s.Heading}}},
					Ask:  ask("state", "@content", fmt.Sprint(n)), Key: []string{fmt.Sprint(n)},
				})
			}
		},
	}
}
