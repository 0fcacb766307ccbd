package audit

import (
	"sixteen/ghs"
)

func checkRangeWide() Check {
	return Check{
		ID: "range-wide", Title: "A share so wide that it says little", Group: Section3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Neither the class nor the air can be worked out.",
		Compares: "The width of each stated share with its size.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. D, Table D.1, 3, mixture b: a range only for batch variation, similar mixtures or a trade secret",
			ghs.USHCS2012: "29 CFR 1910.1200 App. D, Table D.1, 3, mixture b",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4.5(1)",
			"":            "common practice: a range wider than 40 % of the whole does not describe one product",
		},
		Example: "“Xylene 10 – 100 %”.",
		Do:      "Reckon with the upper end.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				p := ing.Percent.Value.Interval
				if !ing.Percent.Known() || highest(p)-lowest(p) <= 40 {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Section: 3, Title: nameOf(ing) + ": " + printed(ing.Percent.Value) + " is too wide to judge by",
					Says: []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)},
					Ask:  ask("range", nameOf(ing), printed(ing.Percent.Value)), Key: []string{nameOf(ing), printed(ing.Percent.Value)},
				})
			}
		},
	}
}
