package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkSignalNonstandard() Check {
	return Check{
		ID: "signal-nonstandard", Title: "The signal word is not one of the standard's two", Group: Inside2, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "“Caution” sounds milder than the word the law prescribes.",
		Compares: "The printed signal word with Danger and Warning.",
		Clauses:  signalClauses(),
		Example:  "“CAUTION!”",
		Do:       "Read it as the word that the classes ask for.",
		Run: func(c *Case, e *Emit) {
			p := c.Sheet.Hazards.SignalPrinted
			if !p.Known() || strings.TrimSpace(p.Value) == "" || c.Sheet.Hazards.SignalWord.Known() {
				return
			}
			if _, ok := ghs.ParseSignalWord(p.Value); ok {
				return
			}
			word, h := c.required()
			e.Report(Fault{
				Kind: Gap, Hazard: h, Section: 2, Title: "“" + p.Value + "” is no signal word of the standard", Says: []Side{says(2, p.Value, p)},
				Follows: []Side{follows("The classes ask for: " + orNone(word.String()))}, Ask: ask("print", orNone(word.String()), p.Value), Key: []string{strings.ToLower(p.Value)},
			})
		},
	}
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}
