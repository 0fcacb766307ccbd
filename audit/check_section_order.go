package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSectionOrder() Check {
	return Check{
		ID: "section-order", Title: "Sections stand out of order", Group: Paper, Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "Who looks for first aid under 4 loses time.",
		Compares: "The order of the sixteen headings on the pages with the order of their numbers.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(2): numbered headings in this order",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(2)",
			ghs.EUCLP:     "REACH Annex II part B (from memory)",
			ghs.GBCLP:     "UK REACH Annex II part B (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4(1)(a)",
			ghs.AUWHS:     "model WHS Regulations schedule 7 (from memory)",
			ghs.UNGHS:     "UN GHS 1.5.3.2.1 (from memory)",
		},
		Example: "Section 3 stands before section 2.",
		Do:      "Read all pages before concluding that something is not stated.",
		Run: func(c *Case, e *Emit) {
			last := 0
			for n := 1; n <= 16; n++ {
				s := c.Sheet.Sections[n]
				if !s.Found || s.Heading.Page == 0 {
					continue
				}
				if last > 0 && above(s.Heading, c.Sheet.Sections[last].Heading) {
					e.Report(Fault{
						Kind: Gap, Section: n, Title: fmt.Sprintf("Section %d stands before section %d", n, last),
						Says: []Side{{Section: n, Text: s.Heading.Words, Evidence: []sheet.Evidence{s.Heading, c.Sheet.Sections[last].Heading}}},
						Key:  []string{fmt.Sprint(n), fmt.Sprint(last)},
					})
				}
				last = n
			}
		},
	}
}

// above tells whether a stands on an earlier page than b. Within a page columns make the order uncertain, so that only
// pages are compared.
func above(a, b sheet.Evidence) bool { return a.Page < b.Page }
