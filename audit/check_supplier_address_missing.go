package audit

func checkSupplierAddressMissing() Check {
	return item{
		ID: "supplier-address-missing", Title: "The supplier's address is missing", Section: 1, Harm: HarmPaper,
		Could: "Letters and liability have nowhere to go.", What: "an address of the supplier", Term: "@address",
		Clauses: contents("1(d)", "1.3", "item 1(d): initial supplier identifier is name, address and telephone (definition from memory)", "section 1: an Australian address"),
		Example: "“Sold by Gull & Daughters” with no street or town.", Do: "Ask for the address in your country.",
		When: func(c *Case) bool { return c.Sheet.Identification.Supplier.Known() },
		Present: func(c *Case) bool {
			return c.Sheet.Identification.SupplierAddress.Known() || c.contactLine(postcode, nil) || c.namedAddress()
		},
	}.check()
}
