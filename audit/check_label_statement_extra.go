package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkLabelStatementExtra() Check {
	return labelCheck(Check{
		ID: "label-statement-extra", Title: "The label states a hazard that section 2 does not", Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The hazard statements of the label with the classes and statements of section 2.",
		Example:  "H334 on the tin, nothing of asthma in section 2.",
		Do:       "Act by the label, and ask which of the two is newer.",
	}, func(c *Case, l *Label, e *Emit) {
		codes, _ := codesOn(l.Statements)
		for _, code := range codes {
			h := mildest(code, c.RuleSet)
			if h == ghs.NoHazard || coversAny(c.declares(), h) || c.states(code) || slices.ContainsFunc(hazardsOf(code, c.RuleSet), func(m ghs.Hazard) bool { return coversAny(c.declares(), m) }) {
				continue
			}
			e.Report(Fault{
				Kind: Contradiction, Hazard: h, Section: 2, Title: string(code) + " is on the label, not in section 2",
				Says: []Side{l.side(string(code) + " " + phraseOf(code, ghs.English)), {Section: 2, Text: "Section 2: " + c.summary()}}, Ask: ask("label", string(code)), Key: []string{string(code)},
			})
		}
	})
}
