package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkLabelIngredients() Check {
	return labelCheck(Check{
		ID: "label-ingredients", Title: "The label does not name what makes the product hazardous", Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Who is allergic to it cannot see that it is in there.",
		Compares: "The substances that the label names with the ingredients that bring the grave classes of section 2.",
		Clauses: Clauses{
			ghs.EUCLP: "CLP Article 18(3)(b) (from memory): at most four names as a rule", ghs.GBCLP: "GB CLP Article 18(3)(b) (from memory)",
		},
		Example: "H317 and no “contains …”.",
		Do:      "Write the names from section 3 on the tin.",
	}, func(c *Case, l *Label, e *Emit) {
		if !l.Complete || len(l.Ingredients) > 0 {
			return
		}
		h := c.worst(func(h ghs.Hazard) bool {
			return HarmOf(h) <= HarmLasting && h.Class().Group() == ghs.HealthGroup || h.Class() == ghs.AcuteToxicity
		})
		if h == ghs.NoHazard || len(c.blame(h)) == 0 || c.namesAnIngredient(strings.ToLower(l.Text)) {
			return
		}
		e.Report(Fault{
			Kind: Gap, Hazard: h, Section: 2, Title: "The label names no ingredient beside " + h.String(), Says: append([]Side{l.side("no substance is named")}, c.blame(h)...),
			Ask: ask("label", "@labelcontains"), Key: []string{h.String()},
		})
	})
}
