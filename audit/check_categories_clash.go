package audit

import (
	"fmt"

	"sixteen/ghs"
)

func checkCategoriesClash() Check {
	return Check{
		ID: "categories-clash", Title: "Two categories of one class", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The categories of section 2 with each other, class by class and route by route.",
		Clauses:  classCodeClauses(),
		Example:  "Flam. Liq. 2 and Flam. Liq. 3.",
		Do:       "Act on the stricter.",
		Run: func(c *Case, e *Emit) {
			fs := c.classesOf2()
			for i, a := range fs {
				for _, b := range fs[i+1:] {
					x, y := a.Value.Hazard, b.Value.Hazard
					if x.Class() != y.Class() || x.Qualifier() != y.Qualifier() || base(x) == base(y) || organClass(x) || inhaled(x) {
						continue
					}
					worse := x
					if y.Severer(x) {
						worse = y
					}
					e.Report(Fault{
						Kind: Contradiction, Hazard: worse, Section: 2, Title: fmt.Sprintf("Section 2 states %s and %s", x, y),
						Says: []Side{says(2, a.Value.Printed, a), says(2, b.Value.Printed, b)}, Ask: ask("clash", "2", x.String(), "2", y.String()),
						Key: []string{x.String(), y.String()},
					})
				}
			}
		},
	}
}

// organClass tells whether a class may be stated in two categories, for two organs or effects.
func organClass(h ghs.Hazard) bool {
	return h.Class() == ghs.STOTSingleExposure || h.Class() == ghs.STOTRepeatedExposure || h.Class() == ghs.ReproductiveToxicity ||
		h.Class() == ghs.GasesUnderPressure || h.Class() == ghs.Explosives || h.Class() == ghs.PersistentBioaccumulative || h.Class() == ghs.PersistentMobile
}
