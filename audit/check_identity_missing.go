package audit

import "strings"

func checkIdentityMissing() Check {
	return Check{
		ID: "identity-missing", Title: "An ingredient without number and without a claim of trade secret", Group: Section3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "The ingredient cannot be looked up.",
		Compares: "Each row of section 3 with the identifiers that it owes.",
		Clauses:  contents("3, mixture a and trade secret", "3.2 (from memory): name and identifier as CLP article 18(2) asks", "item 3(2)(c)", "section 3"),
		Example:  "“Proprietary amine blend, 20 – 40 %”.",
		Do:       "Treat it as the worst of its kind.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				if statedFor(ing, c.RuleSet).Empty() && !hasAny(strings.ToLower(ing.Name.Value), "proprietary", "blend", "confidential", "secret") || ing.CAS.Known() || ing.EC.Known() || ing.Index.Known() || ing.REACH.Known() || (ing.Secret.Known() && ing.Secret.Value) {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: 3, Title: "No number for " + nameOf(ing), Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Name, ing.CAS)},
					Ask: ask("state", "@identity", "3"), Key: []string{nameOf(ing)},
				})
			}
		},
	}
}
