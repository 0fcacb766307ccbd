package audit

import (
	"slices"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func checkLimitMissing() Check {
	return Check{
		ID: "limit-missing", Title: "An ingredient has an exposure limit that section 8 does not give", Group: Limits8,
		Kinds: []Kind{Contradiction, Gap, Doubt}, Harm: HarmLasting,
		Could:    "Nobody can tell when the air is too full of it.",
		Compares: "The exposure limits that the law sets for each listed ingredient with those of section 8.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. D, Table D.1, 8(a); 29 CFR 1910.1000 Tables Z-1 to Z-3",
			ghs.USHCS2012: "29 CFR 1910.1200 App. D, Table D.1, 8(a); 29 CFR 1910.1000 Tables Z-1 to Z-3",
			ghs.EUCLP:     "REACH Annex II 8.1.1 (from memory)",
			ghs.GBCLP:     "UK REACH Annex II 8.1.1 (from memory); EH40",
			ghs.CAHPR:     "Hazardous Products Regulations, schedule 1, item 8(a); Ontario R.R.O. 1990 Reg. 833 as one province's limits",
			"":            "common practice: a sheet that gives an authority's limit for one ingredient gives it for all",
		},
		Example: "Styrene in section 3, “no limits” in section 8.",
		Do:      "Use the limit named here to judge ventilation.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 8) {
				return
			}
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				limits := c.legalLimits(row)
				if len(limits) == 0 || len(c.statedLimits(ing, row)) > 0 || highest(ing.Percent.Value.Interval) < 0.1 || minor(c, limits) {
					continue
				}
				kind := Gap
				switch {
				case limits[0].Source.Memory || c.RuleSet == ghs.CAHPR || !slices.Contains(c.authorities(), limits[0].Authority):
					kind = Doubt
				case c.Sheet.Control.LimitsState == sheet.NoneStated && len(c.Sheet.Control.Limits) == 0:
					kind = Contradiction
				}
				e.Report(Fault{
					Kind: kind, Section: 8, Title: "Section 8 gives no limit for " + nameOf(ing),
					Says:    []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Name, ing.CAS), silent(8, "its exposure limit")},
					Follows: []Side{looked(limitText(limits[0]), limits[0].Source)},
					Ask:     ask("limit", nameOf(ing), limitText(limits[0])), Key: []string{ing.CAS.Value, limits[0].Authority},
				})
			}
		},
	}
}

// minor tells whether the limits are of dust and mist only while the product gives off neither as supplied: the nuisance
// dust of a filler in a liquid.
func minor(c *Case, limits []substance.Limit) bool {
	form := c.Mixture().Form
	if form != classify.Liquid {
		return false
	}
	return !slices.ContainsFunc(limits, func(l substance.Limit) bool { return l.PPM > 0 })
}
