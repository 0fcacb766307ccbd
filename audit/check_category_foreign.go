package audit

import (
	"sixteen/ghs"
)

func checkCategoryForeign() Check {
	return Check{
		ID: "category-foreign", Title: "A category that the jurisdiction does not have", Group: Inside2, Kinds: []Kind{Gap, Note}, Harm: HarmPaper,
		Could:    "The sheet was written for another law; its other classes may be too mild for this one.",
		Compares: "Each class and category of section 2 with those of the rule set.",
		Clauses:  classCodeClauses(),
		Example:  "Flam. Liq. 4 on a sheet for the European Union; Acute Tox. 5 anywhere but under the model regulation.",
		Do:       "Ask for a sheet under your law.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.classesOf2() {
				h := f.Value.Hazard
				if c.RuleSet.Exists(h) || localised(h, c.RuleSet) != ghs.NoHazard {
					continue
				}
				kind := Gap
				if h.Class().Group() == ghs.EnvironmentGroup {
					kind = Note
				}
				e.Report(Fault{
					Kind: kind, Section: 2, Title: h.String() + " does not exist under " + c.RuleSet.Law(), Says: []Side{says(2, f.Value.Printed, f)},
					Ask: ask("remove", h.String(), "2"), Key: []string{h.String()},
				})
			}
		},
	}
}
