package audit

import (
	"sixteen/ghs"
)

func checkUFIMissing() Check {
	return Check{
		ID: "ufi-missing", Title: "No unique formula identifier", Group: Paper, Kinds: []Kind{Note}, Harm: HarmLasting,
		Could:    "The poison centre cannot find the recipe in an emergency.",
		Compares: "Section 1 of a mixture classified for health or physical hazards with the identifier that poison centres ask for.",
		Clauses:  Clauses{ghs.EUCLP: "REACH Annex II 1.1; CLP Annex VIII part A 5 (read in summaries): on the label, on the sheet only for unpackaged and industrial mixtures"},
		Example:  "A consumer adhesive with H317 and no UFI on the sheet.",
		Do:       "Look for the sixteen characters on the label and write them on the bench card.",
		Run: func(c *Case, e *Emit) {
			id := c.Sheet.Identification
			if !c.has(e, 1) || answered(id.UFI) || (c.Sheet.Composition.Substance.Known() && c.Sheet.Composition.Substance.Value) || hasAny(c.text(1, 2, 15, 16), "ufi") {
				return
			}
			if c.Label != nil && c.Label.UFI != "" {
				return
			}
			h := c.worst(func(h ghs.Hazard) bool { return h.Class().Group() != ghs.EnvironmentGroup })
			if h == ghs.NoHazard {
				return
			}
			e.Report(Fault{
				Kind: Note, Section: 1, Title: "The sheet gives no unique formula identifier (UFI)", Says: []Side{silent(1, "the identifier")},
				Ask: ask("state", "@ufi", "1"), Key: []string{"ufi"},
			})
		},
	}
}
