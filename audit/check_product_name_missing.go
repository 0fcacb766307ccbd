package audit

import "strings"

func checkProductNameMissing() Check {
	return item{
		ID: "product-name-missing", Title: "The sheet names no product", Section: 1, Harm: HarmPaper,
		Could: "The sheet may belong to another tin.", What: "the product name", Term: "@name",
		Clauses: contents("1(a)", "1.1 (from memory)", "item 1(a)", "section 1"),
		Example: "Section 1 holds the supplier's name only.", Do: "Do not file the sheet under a product by guess.",
		Present: func(c *Case) bool { // where section 1 gives none, the name at the head of the page may be the supplier's
			id := c.Sheet.Identification
			return id.ProductName.Known() && !strings.EqualFold(id.ProductName.Value, id.Supplier.Value)
		},
	}.check()
}
