package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkCarcinogenListing() Check {
	return Check{
		ID: "carcinogen-listing", Title: "A listed carcinogen and no word of cancer", Group: With11, Kinds: []Kind{Doubt, Gap}, Harm: HarmDeath,
		Compares: "Listings by IARC and NTP, in section 11 and of the ingredients in the substance table, with section 2 and section 11.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. D, Table D.1, 11(f); App. A, A.6.4 (point number from memory)",
			ghs.USHCS2012: "29 CFR 1910.1200 App. D, Table D.1, 11(f)",
			"":            "common practice: a listing is not a classification, but a sheet that passes over it owes a reason",
		},
		Example: "Titanium dioxide powder, IARC group 2B, and “contains no carcinogens”.",
		Do:      "Keep dust and vapour down as for a carcinogen until the supplier has answered.",
		Run: func(c *Case, e *Emit) {
			declared := coversAny(c.declares(), ghs.Carc2)
			for i, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				if row == nil || !cancerGroup(row.IARC) || highest(ing.Percent.Value.Interval) < 0.1 || declared {
					continue
				}
				if c.quotesCancer(ing, row.Name) {
					continue
				}
				kind := Doubt
				if c.american() && lowest(ing.Percent.Value.Interval) >= 0.1 && !row.IARCSource.Memory {
					kind = Gap
				}
				e.Report(Fault{
					Kind: kind, Hazard: ghs.Carc2, Section: 11, Title: nameOf(ing) + " is listed by IARC in group " + row.IARC + "; the sheet does not say so",
					Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent), silent(11, "this listing")}, Follows: []Side{looked("IARC group "+row.IARC, row.IARCSource)},
					Ask: ask("state", "@carcinogen", "11"), Key: []string{fmt.Sprint(ing.CAS.Value, row.IARC), fmt.Sprint(ing.CAS.Known() || i >= 0)},
				})
			}
			for _, f := range c.Sheet.Toxicology.Carcinogens {
				if !f.Known() || declared || !cancerGroup(f.Value.Group) || strings.EqualFold(f.Value.Group, "2B") {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Hazard: ghs.Carc1B, Section: 2, Title: f.Value.Ingredient + ": " + f.Value.Agency + " " + f.Value.Group + " in section 11, nothing in section 2",
					Says: []Side{says(11, f.Value.Agency+" "+f.Value.Group, f)}, Follows: []Side{follows("Listings of groups 1 and 2A usually go with Carc. 1A or 1B")},
					Ask: ask("possible", ghs.Carc1B.String(), "H350"), Key: []string{f.Value.Ingredient, f.Value.CAS, f.Value.Group},
				})
			}
		},
	}
}

// cancerGroup tells whether a group stands for a known, probable or possible cause of cancer.
func cancerGroup(g string) bool {
	switch strings.ToUpper(strings.TrimPrefix(strings.TrimSpace(strings.ToLower(g)), "group ")) {
	case "1", "2A", "2B":
		return true
	}
	return false
}

// quotesCancer tells whether section 11 (or 2, 3, 8, 15) names the ingredient beside an agency or a cancer class.
func (c *Case) quotesCancer(ing sheet.Ingredient, name string) bool {
	for _, f := range c.Sheet.Toxicology.Carcinogens {
		if namesIngredient(f.Value.Ingredient, f.Value.CAS, ing) || strings.EqualFold(f.Value.Ingredient, name) {
			return true
		}
	}
	for _, h := range statedFor(ing, c.RuleSet).All() {
		if h.Class() == ghs.Carcinogenicity {
			return true
		}
	}
	return hasAny(c.text(11), "iarc") && (c.namesAnIngredient(c.text(11)) || hasAny(c.text(11), strings.ToLower(name)))
}
