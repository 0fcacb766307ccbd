package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

func checkRespiratorLowBoiling() Check {
	return Check{
		ID: "respirator-low-boiling", Title: "Filter type A named for a vapour that boils at 65 °C or below", Group: Protect8, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Could:    "The filter lets the vapour through after minutes, and without warning where it has no smell.",
		Compares: "The gas filter named in section 8 with the boiling points of the ingredients.",
		Clauses: Clauses{
			ghs.EUCLP: "EN 14387 (summaries read): type A above 65 °C, type AX at or below", ghs.GBCLP: "EN 14387 (summaries read): type A above 65 °C, type AX at or below",
			ghs.AUWHS: "AS/NZS 1716 (from memory): AX for low-boiling organic vapour",
		},
		Example: "50 % acetone (boils at 56 °C) and “filter A2”.",
		Do:      "Use AX, for one shift and one use, or supplied air; better, ventilate.",
		Run: func(c *Case, e *Emit) {
			r := c.Sheet.Control.Respiratory
			if !r.Known() || len(r.Value.Filters) == 0 || r.Value.SuppliedAir {
				return
			}
			if k := readFilters(r.Value.Filters); !k.organic || k.lowBoiling || !typeA(r.Value.Filters) {
				return
			}
			for _, v := range c.vapours(1) {
				if !v.row.BoilingPointC.Known || v.row.BoilingPointC.V > 65 {
					continue
				}
				side := looked(fmt.Sprintf("%s boils at %s °C", nameOf(v.ing), number(v.row.BoilingPointC.V)), v.row.BoilingPointC.Source)
				e.Report(Fault{
					Kind: Contradiction, Section: 8, Title: "Filter " + strings.Join(r.Value.Filters, ", ") + " does not hold " + nameOf(v.ing),
					Says: []Side{says(8, strings.Join(r.Value.Filters, ", "), r), says(3, nameOf(v.ing)+" "+printed(v.ing.Percent.Value), v.ing.Percent)}, Follows: []Side{side},
					Ask: ask("state", "@filter", "8"), Key: []string{v.ing.CAS.Value},
				})
			}
		},
	}
}

// typeA tells whether a filter is named by the mark A of EN 14387.
func typeA(filters []string) bool {
	return slices.ContainsFunc(filters, func(f string) bool { return strings.HasPrefix(strings.ToUpper(strings.TrimSpace(f)), "A") })
}
