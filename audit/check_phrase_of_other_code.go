package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

func checkPhraseOfOtherCode() Check {
	return Check{
		ID: "phrase-of-other-code", Title: "A statement's words belong to another code", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The words printed beside each H code with the standard's words for that code and for all others.",
		Clauses:  classCodeClauses(),
		Example:  "“H317 Causes skin irritation”.",
		Do:       "Act on the worse of the two.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Statements {
				s := f.Value
				if !f.Known() || s.Code == "" || s.Phrase == "" || s.FromPhrase || strings.Contains(string(s.Code), "+") {
					continue
				}
				own := likeness(s.Phrase, s.Code)
				other, best := closest(s.Phrase)
				if own >= 0.75 || best < 0.9 || stem(other) == stem(s.Code) {
					continue
				}
				h := mildest(stem(s.Code), c.RuleSet)
				if o := mildest(stem(other), c.RuleSet); o != ghs.NoHazard && (h == ghs.NoHazard || HarmOf(o) < HarmOf(h)) {
					h = o
				}
				e.Report(Fault{
					Kind: Contradiction, Hazard: h, Section: 2, Title: fmt.Sprintf("%s is printed with the words of %s", s.Code, other),
					Says: []Side{says(2, string(s.Code)+" "+s.Phrase, f)}, Follows: []Side{follows(string(s.Code) + ": " + phraseOf(s.Code, ghs.English))},
					Ask: ask("clash", "2", string(s.Code), "2", s.Phrase), Key: []string{string(s.Code), string(other)},
				})
			}
		},
	}
}
