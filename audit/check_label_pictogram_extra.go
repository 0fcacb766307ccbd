package audit

import (
	"sixteen/ghs"
)

func checkLabelPictogramExtra() Check {
	return labelCheck(Check{
		ID: "label-pictogram-extra", Title: "The label shows a pictogram that section 2 gives no reason for", Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Could:    "The label may know of a hazard that the sheet does not.",
		Compares: "The pictograms of the label with those that the classes of section 2 bring.",
		Example:  "The tin shows the health hazard sign; section 2 says irritant.",
		Do:       "Act by the label, and ask which of the two is newer.",
	}, func(c *Case, l *Label, e *Emit) {
		for _, p := range l.Pictograms {
			if p == ghs.NoPictogram || c.asksFor(p) || p == ghs.Environment && c.environmentUnasked(ghs.AquaticAcute1) {
				continue
			}
			e.Report(Fault{
				Kind: Doubt, Section: 2, Title: p.String() + " (" + p.Name(ghs.English) + ") is on the label; no class of section 2 asks for it",
				Says: []Side{l.side(p.String()), {Section: 2, Text: "Section 2: " + c.summary()}}, Ask: ask("label", p.String()), Key: []string{p.String()},
			})
		}
	})
}
