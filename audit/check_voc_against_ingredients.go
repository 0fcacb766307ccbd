package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkVOCAgainstIngredients() Check {
	return Check{
		ID: "voc-against-ingredients", Title: "The VOC figure is less than the ingredients give off", Group: Reference, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Could:    "Ventilation is planned for less vapour than there is.",
		Compares: "The VOC figure of section 9 with the smallest shares of the evaporating ingredients, by density.",
		Clauses: Clauses{
			ghs.EUCLP: "Directive 2004/42/EC article 2(5): boiling up to 250 °C; Directive 2010/75/EU article 3(45): 0.01 kPa at 20 °C (from memory)",
			"":        "common practice: exempt solvents and figures after mixing differ by law, so that a low figure asks for its basis",
		},
		Example: "“VOC 5 g/l” and 30 % butyl acetate.",
		Do:      "Plan ventilation by the ingredients and not by the figure.",
		Run: func(c *Case, e *Emit) {
			voc, ok := c.only(sheet.VOC)
			if !ok || !voc.Value.HasHi {
				return
			}
			vs := c.vapours(0.1)
			mass := 0.0
			var sides []Side
			for _, v := range vs {
				mass += lowest(v.ing.Percent.Value.Interval)
				sides = append(sides, v.side())
			}
			least := mass
			text := fmt.Sprintf("at least %s %% by mass evaporates", share(mass))
			if strings.HasPrefix(voc.Value.Unit, "g/") {
				d, ok := c.only(sheet.Density)
				if !ok || !d.Value.HasLo {
					e.Cannot("the density is not stated, so that a VOC figure in g/l cannot be compared")
					return
				}
				least = mass / 100 * d.Value.Lo
				text += fmt.Sprintf(", %s %% × %s kg/m³ = %s g/l", share(mass), number(d.Value.Lo), number(least))
			}
			if least <= voc.Value.Hi*1.1+1 {
				return
			}
			e.Report(Fault{
				Kind: Doubt, Section: 9, Title: "VOC " + printed(voc.Value) + " is less than the ingredients give off",
				Says: []Side{says(9, "VOC "+printed(voc.Value), voc)}, Follows: append(sides, follows(text, text)), Ask: ask("state", "@basis", "9"), Key: []string{printed(voc.Value)},
			})
		},
	}
}
