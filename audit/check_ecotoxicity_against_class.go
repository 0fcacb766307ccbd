package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

func checkEcotoxicityAgainstClass() Check {
	return Check{
		ID: "ecotoxicity-against-class", Title: "The ecotoxicity of the product does not fit its aquatic class", Group: With12,
		Kinds: []Kind{Contradiction, Gap}, Harm: HarmEnvironment,
		Compares: "LC50 and EC50 of section 12 for the product itself with the aquatic classes of section 2.",
		Clauses: Clauses{
			ghs.EUCLP: "CLP Annex I 4.1.3.3 and Table 4.1.0 (from memory)",
			ghs.GBCLP: "GB CLP Annex I Table 4.1.0 (from memory)",
			ghs.UNGHS: "UN GHS Table 4.1.1 (from memory)",
		},
		Example: "LC50 fish 0.4 mg/l of the product and no H400 or H410.",
		Do:      "Keep it out of drains whatever the label shows.",
		Run: func(c *Case, e *Emit) {
			d := c.declares()
			for _, f := range c.Sheet.Ecology.Values {
				v := f.Value
				if !f.Known() || v.Ingredient != "" || v.CAS != "" || strings.EqualFold(v.Measure, "NOEC") || v.Group == "bacteria" || !allAtMost(v.Quantity.Interval, 1) {
					continue
				}
				if coversAny(d, ghs.AquaticAcute1) || slices.Contains(c.codes(), "H410") {
					return
				}
				e.Report(Fault{
					Kind: c.against(), Hazard: ghs.AquaticAcute1, Section: 2, Title: "Section 12 makes the product Aquatic Acute 1, section 2 does not say so",
					Says:    []Side{says(12, fmt.Sprintf("%s %s %s", v.Measure, v.Group, printed(v.Quantity)), f)},
					Follows: []Side{follows("Aquatic Acute 1 up to 1 mg/l")}, Ask: ask("classify", ghs.AquaticAcute1.String(), "H400"), Key: []string{"acute"},
				})
				return
			}
		},
	}
}
