package audit

import (
	"sixteen/substance"
)

func checkCASCheckDigit() Check {
	return Check{
		ID: "cas-check-digit", Title: "A CAS number fails its check digit", Group: Section3, Kinds: []Kind{Contradiction}, Harm: HarmPaper,
		Could:    "The ingredient cannot be looked up, or is taken for another.",
		Compares: "The last digit of each CAS number with the sum over the others.",
		Clauses:  Clauses{"": "CAS Registry: check digit of CAS numbers"},
		Example:  "108-88-5 (toluene is 108-88-3).",
		Do:       "Ask for the number; do not guess it.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				if !ing.CAS.Known() || substance.ValidCAS(ing.CAS.Value) || ing.CASRepaired != "" {
					continue
				}
				e.Report(Fault{
					Kind: Contradiction, Section: 3, Title: "CAS " + ing.CAS.Value + " of " + nameOf(ing) + " cannot be right",
					Says: []Side{says(3, ing.CAS.Value, ing.CAS)}, Follows: []Side{follows("The check digit does not fit")},
					Ask: ask("number", ing.CAS.Value, nameOf(ing), "check digit"), Key: []string{ing.CAS.Value},
				})
			}
		},
	}
}
