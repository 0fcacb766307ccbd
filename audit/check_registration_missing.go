package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkRegistrationMissing() Check {
	return Check{
		ID: "registration-missing", Title: "No REACH registration number", Group: Paper, Kinds: []Kind{Note}, Harm: HarmPaper,
		Could:    "Nobody can look up the data that were registered.",
		Compares: "The substances of sections 1 and 3 with their registration numbers.",
		Clauses:  Clauses{ghs.EUCLP: "REACH Annex II 1.1 for substances; 3.2.4 for ingredients, where known (from memory)"},
		Example:  "An EU sheet whose ingredients carry CAS numbers only.",
		Do:       "Nothing at the bench; ask when you need the data.",
		Run: func(c *Case, e *Emit) {
			ings := c.Sheet.Composition.Ingredients
			if len(ings) == 0 || slices.ContainsFunc(ings, func(i sheet.Ingredient) bool { return answered(i.REACH) }) || hasAny(c.text(1, 3), "01-21", "reach registration", "registration number", "registrierungsnummer", "enregistrement") {
				return
			}
			e.Report(Fault{
				Kind: Note, Section: 3, Title: "No registration number is given", Says: []Side{silent(3, "a registration number")}, Ask: ask("state", "@reach", "3"), Key: []string{"reach"},
			})
		},
	}
}
