package audit

import (
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
)

func checkLegacyWording() Check {
	return Check{
		ID: "legacy-wording", Title: "The sheet is written in the language of repealed law", Group: Paper, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Whole classes of hazard that came later, and categories, are missing.",
		Compares: "Risk phrases, old danger symbols and old headings with the classes of the present law.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(2) and App. D: the sixteen-section sheet replaced earlier formats (date of 2015-06-01 from memory)",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(2) and App. D",
			ghs.EUCLP:     "CLP Articles 60 and 61 (from memory): R-phrases ended for mixtures on 2015-06-01, stock until 2017-06-01",
			ghs.GBCLP:     "GB CLP as EU CLP (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations s. 19: the earlier regulations ended with the transition",
			ghs.AUWHS:     "model WHS Regulations: GHS compulsory since 2017-01-01 (from memory)",
			ghs.UNGHS:     "UN GHS 1.5 (from memory)",
		},
		Example: "“R43 May cause sensitisation by skin contact”, “Xi”.",
		Do:      "Ask for a sheet under present law; do not translate the old phrases yourself.",
		Run: func(c *Case, e *Emit) {
			h := c.Sheet.Hazards
			for _, f := range h.RiskPhrases {
				if f.Known() {
					e.Report(Fault{
						Kind: Gap, Section: 2, Title: "Section 2 uses the risk phrases of repealed law",
						Says: []Side{says(2, strings.TrimSpace(string(f.Value.Code)+" "+f.Value.Phrase), f)},
						Ask:  ask("state", "@class", "2"), Key: []string{"risk"},
					})
					return
				}
			}
			for _, f := range h.Statements {
				if f.Known() && f.Value.Code == "" && quotesRisk(f.Value.Phrase) {
					e.Report(Fault{
						Kind: Gap, Section: 2, Title: "Section 2 uses the risk phrases of repealed law", Says: []Side{says(2, f.Value.Phrase, f)},
						Ask: ask("state", "@class", "2"), Key: []string{"risk"},
					})
					return
				}
			}
			if c.Sheet.PreGHS.Known() && c.Sheet.PreGHS.Value {
				e.Report(Fault{
					Kind: Gap, Section: 2, Title: "The sheet was written before the present system",
					Says: []Side{says(0, "Older than the globally harmonised system", c.Sheet.PreGHS)},
					Ask:  ask("state", "@class", "2"), Key: []string{"before"},
				})
			}
		},
	}
}

var riskPhrase = regexp.MustCompile(`\bR ?\d{1,2}(/\d{1,2})*\b`)

// quotesRisk tells whether a text quotes a risk phrase by its number.
func quotesRisk(text string) bool {
	return slices.ContainsFunc(riskPhrase.FindAllString(text, -1), func(r string) bool {
		_, ok := ghs.Legacy(r)
		return ok
	})
}
