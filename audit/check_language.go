package audit

import (
	"sixteen/ghs"
)

func checkLanguage() Check {
	return Check{
		ID: "language", Title: "The sheet is not in a language the law asks for", Group: Paper, Kinds: []Kind{Gap}, Harm: HarmPaper,
		Could:    "Those who work with it cannot read it.",
		Compares: "The language of the sheet with that of the country.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200(g)(2): in English",
			ghs.USHCS2012: "29 CFR 1910.1200(g)(2): in English",
			ghs.GBCLP:     "UK REACH Article 31(5): in English (from memory)",
			ghs.CAHPR:     "Hazardous Products Regulations: in English and French (from memory)",
			ghs.AUWHS:     "model WHS Regulations schedule 7: in English (read in the text of one state)",
		},
		Example: "A German sheet for a tin sold in Ohio.",
		Do:      "Ask for the sheet in your language.",
		Run: func(c *Case, e *Emit) {
			l := c.Sheet.Language
			if !l.Known() || l.Value == ghs.English || (c.RuleSet == ghs.CAHPR && l.Value == ghs.French) {
				return
			}
			e.Report(Fault{
				Kind: Gap, Section: 1, Title: "The sheet is in another language than " + c.RuleSet.Name() + " asks for",
				Says: []Side{says(1, "Language: "+string(l.Value), l)}, Ask: ask("state", "@language", "1"), Key: []string{string(l.Value)},
			})
		},
	}
}
