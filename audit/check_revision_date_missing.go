package audit

func checkRevisionDateMissing() Check {
	return item{
		ID: "revision-date-missing", Title: "The sheet carries no date", Section: 16, Harm: HarmPaper,
		Could: "Nobody can tell whether newer knowledge is missing.", What: "when it was prepared or last revised", Term: "@date",
		Clauses: contents("16", "0.2.5 and 16 (from memory)", "item 16", "date of last review"),
		Example: "“Version 3” without a date.", Do: "Ask for the date, or treat the sheet as out of date.",
		Present: func(c *Case) bool {
			id := c.Sheet.Identification
			return id.RevisionDate.Known() || id.IssueDate.Known()
		},
	}.check()
}
