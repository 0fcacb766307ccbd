package audit

import (
	"strings"

	"sixteen/sheet"
)

func checkLabelSupplier() Check {
	return labelCheck(Check{
		ID: "label-supplier", Title: "The label does not say who answers for the product", Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "In an emergency nobody can be asked.",
		Compares: "Name, address and telephone on the label with what the law asks for.",
		Example:  "A brand and a web address.",
		Do:       "Write the supplier's telephone number from section 1 on the tin.",
	}, func(c *Case, l *Label, e *Emit) {
		if !l.Complete {
			return
		}
		small := l.CapacityML > 0 && (c.american() && l.CapacityML <= 100)
		var lacks []string
		if l.Supplier == "" {
			lacks = append(lacks, "name")
		}
		if l.Address == "" && !small {
			lacks = append(lacks, "address")
		}
		if l.Phone == "" {
			lacks = append(lacks, "telephone")
		}
		if len(lacks) == 0 || c.Sheet.Hazards.Classified == sheet.NoneStated {
			return
		}
		e.Report(Fault{
			Kind: Gap, Section: 1, Title: "On the label is no " + strings.Join(lacks, ", no ") + " of the supplier", Says: []Side{l.side(orNone(l.Supplier))},
			Ask: ask("label", "@labelsupplier"), Key: lacks,
		})
	})
}
