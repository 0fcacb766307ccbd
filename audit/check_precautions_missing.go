package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkPrecautionsMissing() Check {
	return item{
		ID: "precautions-missing", Title: "No precautionary statement for a classified product", Section: 2, Harm: HarmLasting,
		Could: "Nobody is told what to do.", What: "a precautionary statement", Term: "@pstatements",
		Clauses: contents("2(b)", "2.2 (from memory)", "item 2(b)", "section 2"),
		Example: "Hazard statements and, below them, nothing.", Do: "Take the precautions from the classes.",
		When: func(c *Case) bool {
			return slices.ContainsFunc(c.declares().All(), func(h ghs.Hazard) bool { return len(precautionsFor(h, c.RuleSet)) > 0 })
		},
		Present: func(c *Case) bool { return len(c.Sheet.Hazards.Precautions) > 0 },
	}.check()
}
