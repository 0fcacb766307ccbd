package audit

import (
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkNotClassifiedBut() Check {
	return Check{
		ID: "not-classified-but", Title: "“Not classified”, beside classes, statements or pictograms", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The sentence that the product is not classified with the other words of section 2.",
		Clauses:  classCodeClauses(),
		Example:  "“Not a hazardous mixture” and, below it, H317.",
		Do:       "Take the product for classified.",
		Run: func(c *Case, e *Emit) {
			h := c.Sheet.Hazards
			if h.Classified != sheet.NoneStated {
				return
			}
			word, worst := c.required()
			pictogram := slices.ContainsFunc(h.Pictograms, func(f sheet.Fact[ghs.Pictogram]) bool { return f.Known() })
			if worst == ghs.NoHazard && !(pictogram || h.SignalWord.Known()) {
				return
			}
			e.Report(Fault{
				Kind: Contradiction, Hazard: worst, Section: 2, Title: "Section 2 says not classified, and states hazards all the same",
				Says: []Side{{Section: 2, Text: "Not classified", Evidence: h.ClassifiedAt},
					{Section: 2, Text: strings.TrimSpace(c.declares().String() + " " + word.String()), Evidence: c.declaredAt(worst)}},
				Ask: ask("state", "@class", "2"), Key: []string{"not classified"},
			})
		},
	}
}
