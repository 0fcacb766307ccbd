package audit

import (
	"fmt"
	"strings"
)

func checkLabelProduct() Check {
	return labelCheck(Check{
		ID: "label-product", Title: "The label names another product than the sheet", Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Could:    "The sheet belongs to another tin.",
		Compares: "The product name of the label with that of section 1.",
		Example:  "“Slipway Clear A” on the tin, “Slipway Fast A” on the sheet.",
		Do:       "Find the sheet that belongs to the tin before you go on.",
	}, func(c *Case, l *Label, e *Emit) {
		name := c.Sheet.Identification.ProductName
		if !name.Known() || l.Product == "" || alike(name.Value, l.Product) {
			return
		}
		e.Report(Fault{
			Kind: Contradiction, Section: 1, Title: fmt.Sprintf("The label names %q, the sheet %q", l.Product, name.Value),
			Says: []Side{l.side(l.Product), says(1, name.Value, name)}, Ask: ask("label", l.Product+" / "+name.Value), Key: []string{l.Product, name.Value},
		})
	})
}

// alike compares two names by their words: one may leave out words of the other, but none may differ.
func alike(a, b string) bool {
	x, y := strings.Fields(strings.ToLower(a)), strings.Fields(strings.ToLower(b))
	if len(x) > len(y) {
		x, y = y, x
	}
	joined := letters(strings.Join(y, ""))
	for _, w := range x {
		if l := letters(w); !strings.Contains(joined, l) {
			return false
		}
	}
	return true
}
