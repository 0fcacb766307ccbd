package audit

func checkUsesMissing() Check {
	return item{
		ID: "uses-missing", Title: "No intended use is stated", Section: 1, Harm: HarmPaper,
		Could: "Nobody can tell whether spraying, heating or thick pours were thought of.", What: "what the product is meant for", Term: "@uses",
		Clauses: contents("1(c)", "1.2 (from memory)", "item 1(c)", "section 1"),
		Example: "Section 1 goes from the name to the supplier.", Do: "Ask whether your way of using it is intended.",
		Present: func(c *Case) bool {
			id := c.Sheet.Identification
			return answered(id.Uses) || answered(id.UsesAgainst)
		},
	}.check()
}
