package audit

import (
	"fmt"
)

func checkSignalWord() Check {
	return Check{
		ID: "signal-word", Title: "The signal word does not fit the classes", Group: Inside2, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "The signal word of section 2 with the one that its classes ask for.",
		Clauses:  signalClauses(),
		Example:  "Eye Dam. 1 and “Warning”.",
		Do:       "Act on the sterner word.",
		Run: func(c *Case, e *Emit) {
			s := c.Sheet.Hazards.SignalWord
			word, h := c.required()
			if !s.Known() || s.Value == word || !c.understood() || len(c.declares().All()) == 0 {
				return
			}
			kind, title := Contradiction, fmt.Sprintf("%s asks for %s, section 2 prints %s", h, word, s.Value)
			if s.Value > word {
				kind, title = Doubt, fmt.Sprintf("Section 2 prints %s, which none of its classes asks for", s.Value)
			}
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 2, Title: title,
				Says: []Side{says(2, "Signal word "+s.Value.String(), s), {Section: 2, Text: c.summary(), Evidence: c.declaredAt(h)}},
				Ask:  ask("clash", "2", s.Value.String(), "2", c.summary()), Key: []string{s.Value.String(), word.String()},
			})
		},
	}
}
