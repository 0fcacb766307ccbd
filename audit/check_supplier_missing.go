package audit

func checkSupplierMissing() Check {
	return item{
		ID: "supplier-missing", Title: "No supplier is named", Section: 1, Harm: HarmPaper,
		Could: "Nobody answers for the product.", What: "who supplies the product", Term: "@supplier",
		Clauses: contents("1(d)", "1.3", "item 1(d): initial supplier identifier", "section 1"),
		Example: "Section 1 gives a brand and a web address.", Do: "Do not buy what nobody answers for.",
		Present: func(c *Case) bool { return c.Sheet.Identification.Supplier.Known() },
	}.check()
}
