package audit

import (
	"sixteen/classify"
	"sixteen/ghs"
)

func checkLabelPrecautions() Check {
	return labelCheck(Check{
		ID: "label-precautions", Title: "The label gives no precaution", Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Nobody is told at the tin what to wear or do.",
		Compares: "The precautionary statements of the label with those that the classes of section 2 ask for.",
		Example:  "Pictograms and hazard statements, and nothing to do about them.",
		Do:       "Write the precautions of section 2 on the tin.",
	}, func(c *Case, l *Label, e *Emit) {
		if !l.Complete || len(l.Precautions) > 0 {
			return
		}
		for _, x := range c.elements().Precautionary {
			if x.Need == classify.Required {
				e.Report(Fault{
					Kind: Gap, Section: 2, Title: "No precautionary statement is on the label", Says: []Side{l.side("no precautions")},
					Follows: []Side{follows("For example "+string(x.Value)+": "+phraseOf(x.Value, ghs.English), x.Clause)}, Ask: ask("label", "@labelprecautions"), Key: []string{"none"},
				})
				return
			}
		}
	})
}
