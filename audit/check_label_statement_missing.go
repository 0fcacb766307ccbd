package audit

import (
	"sixteen/classify"
	"sixteen/ghs"
)

func checkLabelStatementMissing() Check {
	return labelCheck(Check{
		ID: "label-statement-missing", Title: "The label lacks a hazard statement", Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "The hazard statements of the label with those that section 2 asks for, precedence and size respected.",
		Example:  "H317 in section 2, and no word of allergy on the tin.",
		Do:       "Act by the sheet; write the statement on the tin.",
	}, func(c *Case, l *Label, e *Emit) {
		codes, understood := codesOn(l.Statements)
		for _, x := range c.elements().Hazard {
			if x.Need != classify.Required || c.statementOn(codes, x.Value) || len(x.From) == 0 {
				continue
			}
			kind := Contradiction
			if !l.Complete || !understood {
				kind = Doubt
			}
			h := gravest(x.From)
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 2, Title: string(x.Value) + " (" + phraseOf(x.Value, ghs.English) + ") is not on the label",
				Says:    []Side{l.side("statements " + orNone(joinCodes(codes))), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Follows: []Side{follows(string(x.Value), x.Why+" ("+x.Clause+")")}, Ask: ask("label", string(x.Value)), Key: []string{string(x.Value)},
			})
		}
	})
}
