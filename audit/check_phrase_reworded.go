package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkPhraseReworded() Check {
	return Check{
		ID: "phrase-reworded", Title: "A hazard statement is printed in other words than the standard's", Group: Inside2, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Softer words hide what the standard phrase says plainly.",
		Compares: "The words of each hazard statement with the standard's.",
		Clauses:  classCodeClauses(),
		Example:  "“H317 May be unpleasant for sensitive people”; “may cause slight irritation” without a code.",
		Do:       "Read the standard phrase of the code.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Statements {
				s := f.Value
				if !f.Known() || s.Phrase == "" || s.FromPhrase || strings.HasPrefix(string(s.Code), "P") || strings.Contains(string(s.Code), "+") {
					continue
				}
				other, best := closest(s.Phrase)
				switch {
				case s.Code == "" && best < 0.9:
					e.Report(Fault{
						Kind: Gap, Section: 2, Title: "“" + s.Phrase + "” is no statement of the standard", Says: []Side{says(2, s.Phrase, f)},
						Ask: ask("print", "@hstatements", s.Phrase), Key: []string{s.Phrase},
					})
				case s.Code != "" && phraseOf(s.Code, ghs.English) != "" && likeness(s.Phrase, s.Code) < 0.5 && (best < 0.9 || stem(other) == stem(s.Code)):
					e.Report(Fault{
						Kind: Gap, Hazard: mildest(stem(s.Code), c.RuleSet), Section: 2, Title: string(s.Code) + " is printed in other words than the standard's",
						Says: []Side{says(2, string(s.Code)+" "+s.Phrase, f)}, Follows: []Side{follows(string(s.Code) + ": " + phraseOf(s.Code, ghs.English))},
						Ask: ask("print", string(s.Code)+": "+phraseOf(s.Code, ghs.English), s.Phrase), Key: []string{string(s.Code), s.Phrase},
					})
				}
			}
		},
	}
}
