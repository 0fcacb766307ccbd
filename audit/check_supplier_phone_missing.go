package audit

func checkSupplierPhoneMissing() Check {
	return item{
		ID: "supplier-phone-missing", Title: "The supplier's telephone number is missing", Section: 1, Harm: HarmPaper,
		Could: "Questions cannot be asked before work starts.", What: "a telephone number of the supplier", Term: "@phone",
		Clauses: contents("1(d)", "1.3", "item 1(d): initial supplier identifier is name, address and telephone (definition from memory)", "section 1"),
		Example: "Only a web form is given.", Do: "Ask for a number that is answered.",
		When: func(c *Case) bool { return c.Sheet.Identification.Supplier.Known() },
		Present: func(c *Case) bool {
			return c.Sheet.Identification.SupplierPhone.Known() || c.otherTelephone()
		},
	}.check()
}
