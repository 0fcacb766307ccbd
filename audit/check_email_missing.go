package audit

func checkEmailMissing() Check {
	return item{
		ID: "email-missing", Title: "No e-mail address of the person competent for the sheet", Section: 1, Harm: HarmPaper,
		Could: "Questions about the sheet reach a sales desk.", What: "an e-mail address of the person competent for the sheet", Term: "@email",
		Clauses: contents("", "1.3", "", ""), Example: "A general telephone number only.", Do: "Ask who wrote the sheet.",
		When:    func(c *Case) bool { return c.european() },
		Present: func(c *Case) bool { return c.Sheet.Identification.SupplierEmail.Known() },
	}.check()
}
