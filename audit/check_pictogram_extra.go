package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkPictogramExtra() Check {
	return Check{
		ID: "pictogram-extra", Title: "A pictogram that no class asks for", Group: Inside2, Kinds: []Kind{Doubt}, Harm: HarmPaper,
		Could:    "Either a class is missing, or the symbol is wrong.",
		Compares: "The pictograms of section 2 with those that its classes ask for, precedence respected.",
		Clauses:  pictogramClauses(),
		Example:  "GHS08 and no class that brings it.",
		Do:       "Take the symbol seriously until the supplier has answered.",
		Run: func(c *Case, e *Emit) {
			h := c.Sheet.Hazards
			if !c.understood() || len(c.classesOf2()) == 0 && len(c.codes()) == 0 {
				return
			}
			for _, f := range h.Pictograms {
				if !f.Known() || c.asksFor(f.Value) || f.Value == ghs.Environment && c.environmentUnasked(ghs.AquaticAcute1) {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Section: 2, Title: f.Value.String() + " (" + f.Value.Name(ghs.English) + ") is shown, no class of section 2 asks for it",
					Says: []Side{says(2, f.Value.Name(ghs.English), f), {Section: 2, Text: "Section 2: " + c.summary()}},
					Ask:  ask("clash", "2", f.Value.String(), "2", c.summary()), Key: []string{f.Value.String()},
				})
			}
		},
	}
}

// asksFor tells whether any declared class brings a symbol, before precedence: a symbol that precedence would drop is no
// reason to think that a class is missing.
func (c *Case) asksFor(p ghs.Pictogram) bool {
	return slices.ContainsFunc(c.declares().All(), func(h ghs.Hazard) bool { return slices.Contains(pictogramsFor(h, c.RuleSet), p) })
}
