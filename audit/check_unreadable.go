package audit

import (
	"fmt"

	"sixteen/sheet"
)

func checkUnreadable() Check {
	return Check{
		ID: "unreadable", Title: "Part of the sheet could not be read", Group: Paper, Kinds: []Kind{Note}, Harm: HarmPaper,
		Could:    "A hazard may stand in the part that was not read.",
		Compares: "The pages of the document with what could be read of them.",
		Clauses:  common("what was not read is said, and is not taken for absent"),
		Example:  "A scanned page too dark for character recognition.",
		Do:       "Look at the page yourself and type in what it says.",
		Run: func(c *Case, e *Emit) {
			for _, p := range c.Sheet.Problems {
				e.Report(Fault{
					Kind: Note, Section: p.Section, Title: "Not read: " + p.What,
					Says: []Side{{Section: p.Section, Text: p.What, Evidence: []sheet.Evidence{{Page: p.Page, Words: p.What}}}},
					Do:   p.Do, Key: []string{fmt.Sprint(p.Section), fmt.Sprint(p.Page), p.What},
				})
			}
		},
	}
}
