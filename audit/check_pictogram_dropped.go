package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkPictogramDropped() Check {
	return Check{
		ID: "pictogram-dropped", Title: "A pictogram that precedence leaves off", Group: Inside2, Kinds: []Kind{Note}, Harm: HarmPaper,
		Could:    "Nobody is hurt; the label is not as the law has it.",
		Compares: "The pictograms of section 2 with the rules on precedence.",
		Clauses:  pictogramClauses(),
		Example:  "GHS06 and GHS07 both, where GHS07 stands for acute toxicity only.",
		Do:       "Nothing; the sterner symbol counts.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Pictograms {
				if !f.Known() || !c.asksFor(f.Value) || slices.ContainsFunc(c.pictograms(), func(n symbolNeed) bool { return n.symbol == f.Value }) {
					continue
				}
				e.Report(Fault{
					Kind: Note, Section: 2, Title: f.Value.String() + " is shown beside a symbol that takes its place", Says: []Side{says(2, f.Value.Name(ghs.English), f)},
					Key: []string{f.Value.String()},
				})
			}
		},
	}
}
