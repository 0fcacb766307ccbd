package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkWrongMarket() Check {
	return Check{
		ID: "wrong-market", Title: "The sheet is written for another country's law", Group: Paper, Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "Classes, limits and telephone numbers are those of another country.",
		Compares: "The law that the sheet names with the law you judge it by.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(1) and (g)(2)",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(1) and (g)(2)",
			ghs.EUCLP:     "REACH Article 31(1) and (5) (from memory)",
			ghs.GBCLP:     "UK REACH Article 31 (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 4(1)",
			ghs.AUWHS:     "model WHS Regulations r. 330 (from memory)",
		},
		Example: "A sheet that cites 29 CFR 1910.1200 for a tin bought in Lyon.",
		Do:      "Ask for the sheet of your country; use this one meanwhile, with your own limits and emergency number.",
		Run: func(c *Case, e *Emit) {
			j := c.Sheet.Jurisdiction
			if !j.Known() || j.Value == c.RuleSet || (c.american() && strings.HasPrefix(string(j.Value), "us-")) {
				return
			}
			e.Report(Fault{
				Kind: Gap, Section: 1, Title: "The sheet is written for " + j.Value.Name() + ", not for " + c.RuleSet.Name(),
				Says: []Side{says(1, "Written for "+j.Value.Name(), j)}, Ask: ask("market", c.RuleSet.Law()),
				Key: []string{string(j.Value)},
			})
		},
	}
}
