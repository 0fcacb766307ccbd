package audit

import (
	"sixteen/ghs"
)

func checkFlashAboveClass() Check {
	return Check{
		ID: "flash-above-class", Title: "Section 2 states a flammability category that the flash point does not reach", Group: With9,
		Kinds: []Kind{Contradiction}, Harm: HarmDeath,
		Compares: "The flammable liquid category of section 2 with the flash point and boiling point of section 9, as ranges.",
		Clauses:  flammableClauses(),
		Example:  "Flam. Liq. 2 beside a flash point of 65 °C.",
		Do:       "One of the two is wrong; until it is known which, treat the product as the stricter says.",
		Run: func(c *Case, e *Emit) {
			possible, flash, ok := c.flammablePossible()
			declared := c.flammableDeclared()
			if !ok || declared == "none" || c.notLiquid() || len(possible) == 0 || declared >= possible[0] {
				return
			}
			if declared == "3" && (c.european() || c.in(ghs.UNGHS, ghs.AUWHS)) && allAtMost(flash.Value.Interval, 75) && hasAny(c.text(1, 3), "diesel", "gas oil", "heating oil") {
				return
			}
			h := flammableHazard(declared)
			e.Report(Fault{
				Kind: Contradiction, Hazard: h, Section: 9, Title: "Section 2 states " + h.String() + ", the flash point does not reach it",
				Says:    []Side{says(9, "Flash point "+printed(flash.Value), flash), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Follows: []Side{follows("The flash point leads to " + flammableName(possible[0]))},
				Ask:     ask("clash", "2", h.String(), "9", printed(flash.Value)), Key: []string{declared, possible[0], printed(flash.Value)},
			})
		},
	}
}
