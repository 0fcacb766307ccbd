package audit

import (
	"sixteen/ghs"
	"strings"
)

func checkSecretClassMissing() Check {
	return Check{
		ID: "secret-class-missing", Title: "A withheld ingredient, and no word on what it does", Group: Section3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Neither name nor hazard is known; nobody can protect themselves.",
		Compares: "Each ingredient whose name or number is withheld with the hazards that are stated for it.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(i)(1)(ii): properties and effects are disclosed all the same (paragraph from memory)",
			ghs.USHCS2012: "29 CFR 1910.1200(i)(1)(ii) (paragraph from memory)",
			"":            "common practice: a name may be a secret, a hazard may not",
		},
		Example: "“Trade secret amine adduct, 10 – 30 %”, without a class.",
		Do:      "Treat it as the worst of its kind.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				if !ing.Secret.Known() || !ing.Secret.Value || ing.CAS.Known() || !statedFor(ing, c.RuleSet).Empty() || hasAny(strings.ToLower(ing.Name.Value), "polymer", "polymère", "polímero", "copolym") {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: 3, Title: nameOf(ing) + " is withheld, and its hazards are not stated", Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)},
					Ask: ask("state", "@ingrclass", "3"), Key: []string{nameOf(ing), printed(ing.Percent.Value)},
				})
			}
		},
	}
}
