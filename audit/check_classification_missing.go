package audit

import (
	"sixteen/sheet"
)

func checkClassificationMissing() Check {
	return item{
		ID: "classification-missing", Title: "Section 2 neither classifies the product nor says that it is not classified", Section: 2, Harm: HarmLasting,
		Could: "Silence is taken for harmlessness.", What: "a classification, or that there is none", Term: "@class",
		Clauses: contents("2(a)", "2.1 (from memory)", "item 2(a)", "section 2"),
		Example: "“May be irritating. Handle with care.”", Do: "Treat the product as unknown, not as harmless.",
		When: func(c *Case) bool { return len(c.Sheet.Hazards.RiskPhrases) == 0 && !c.Sheet.PreGHS.Value },
		Present: func(c *Case) bool {
			h := c.Sheet.Hazards
			return h.Classified != sheet.NotStated || len(h.Classification) > 0 || len(h.Statements) > 0
		},
	}.check()
}
