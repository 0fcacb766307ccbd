package audit

import (
	"sixteen/ghs"
)

func checkVentilationMissing() Check {
	return Check{
		ID: "ventilation-missing", Title: "Vapour or a breathing hazard, and no word on ventilation", Group: Protect8, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Work is done in a closed room.",
		Compares: "Breathing hazards and evaporating ingredients with the engineering controls of section 8.",
		Clauses:  contents("8(b)", "8.2.1 (from memory)", "item 8(b)", "section 8"),
		Example:  "60 % butyl acetate and no word on ventilation.",
		Do:       "Ventilate as for the ingredient with the lowest limit.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 8) || c.Sheet.Control.Engineering.Known() || hasAny(c.text(7, 8), "ventilat", "lüft", "absaug", "aération", "extraction", "exhaust", "ventila") {
				return
			}
			h, vs := c.breathingHazard(), c.vapours(5)
			if h == ghs.NoHazard && len(vs) == 0 {
				return
			}
			f := Fault{
				Kind: Gap, Hazard: h, Section: 8, Title: "No ventilation is asked for",
				Says: []Side{silent(8, "engineering controls")}, Ask: ask("state", "@ventilation", "8"), Key: []string{"ventilation"},
			}
			if len(vs) > 0 {
				f.Follows = []Side{vs[0].side()}
			}
			e.Report(f)
		},
	}
}
