package audit

import (
	"slices"

	"sixteen/classify"
	"sixteen/ghs"
)

func checkLabelPictogramMissing() Check {
	return labelCheck(Check{
		ID: "label-pictogram-missing", Title: "The label lacks a pictogram", Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Compares: "The pictograms of the label with those that the classes of section 2 ask for, precedence and size respected.",
		Example:  "Section 2 with H314; the tin shows the exclamation mark only.",
		Do:       "Act by the sheet; put the missing sign on the tin and on every jar you fill from it.",
	}, func(c *Case, l *Label, e *Emit) {
		for _, x := range c.elements().Pictograms {
			if x.Need != classify.Required || slices.Contains(l.Pictograms, x.Value) || len(x.From) == 0 {
				continue
			}
			kind := Contradiction
			if !l.Complete {
				kind = Doubt
			}
			h := gravest(x.From)
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 2, Title: x.Value.String() + " (" + x.Value.Name(ghs.English) + ") is not on the label",
				Says:    []Side{l.side("pictograms " + symbolText(l.Pictograms)), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Follows: []Side{follows(x.Value.String()+" for "+h.String(), x.Why+" ("+x.Clause+")")}, Ask: ask("label", x.Value.String()), Key: []string{x.Value.String()},
			})
		}
	})
}
