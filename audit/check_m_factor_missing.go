package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func checkMFactorMissing() Check {
	return Check{
		ID: "m-factor-missing", Title: "Very toxic to water life, and no M-factor", Group: Section3, Kinds: []Kind{Gap, Note}, Harm: HarmEnvironment,
		Compares: "Aquatic Acute 1 and Chronic 1 of the ingredients with their M-factors.",
		Clauses: Clauses{
			ghs.EUCLP: "REACH Annex II 3.2.3 as amended by Regulation (EU) 2020/878: M-factors where set", ghs.GBCLP: "CLP Annex I 4.1.3.5.5.5 as kept (from memory); the sheet need not print it: common practice",
		},
		Example: "A biocide with H410 and no M-factor.",
		Do:      "Reckon with a factor of at least 1; it may be 10 or 100.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				stated := statedFor(ing, c.RuleSet)
				for _, x := range []struct {
					hazard ghs.Hazard
					known  bool
				}{{ghs.AquaticAcute1, ing.MAcute.Known()}, {ghs.AquaticChronic1, ing.MChronic.Known()}} {
					if !stated.Has(x.hazard) || x.known {
						continue
					}
					kind := Note
					if c.factorAboveOne(ing, x.hazard) {
						kind = Gap
					}
					e.Report(Fault{
						Kind: kind, Hazard: x.hazard, Section: 3, Title: nameOf(ing) + " is " + x.hazard.String() + " without an M-factor",
						Says: []Side{says(3, nameOf(ing), ing.Name)}, Ask: ask("state", "@mfactor", "3"), Key: []string{nameOf(ing), x.hazard.String()},
					})
				}
			}
		},
	}
}

// factorAboveOne tells whether the substance table knows an M-factor above 1, which changes the class of the product.
func (c *Case) factorAboveOne(ing sheet.Ingredient, h ghs.Hazard) bool {
	row := c.known(ing.CAS.Value)
	return row != nil && slices.ContainsFunc(row.ForRuleSet(c.RuleSet).Use(), func(x substance.Classification) bool {
		return x.Hazard.Class() == h.Class() && x.MFactor > 1
	})
}
