package audit

import (
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
)

func checkFlashBelowClass() Check {
	return Check{
		ID: "flash-below-class", Title: "The flash point asks for a flammability class that section 2 does not state", Group: With9,
		Kinds: []Kind{Contradiction, Gap, Doubt}, Harm: HarmDeath,
		Compares: "The flash point and boiling point of section 9, as ranges, with the flammable liquid category of section 2.",
		Clauses:  flammableClauses(),
		Example:  "Flash point 27 °C (closed cup); section 2 states no flammable liquid category.",
		Do:       "Treat the product as flammable at the stricter category: no ignition sources, extraction, limited amounts at the bench.",
		Run: func(c *Case, e *Emit) {
			possible, flash, ok := c.flammablePossible()
			if !ok || c.notLiquid() || len(possible) == 0 {
				return
			}
			declared := c.flammableDeclared()
			mildest := possible[len(possible)-1]
			if declared <= mildest {
				return
			}
			kind := c.against()
			trace := "flash point " + printed(flash.Value) + " leads to category " + strings.Join(possible, " or ")
			if mildest == "3" && declared == "none" && !allAtMost(flash.Value.Interval, 35) {
				kind, trace = Doubt, trace+"; above 35 °C a negative test of sustained combustibility would lift it"
			}
			if c.Mixture().Form == classify.FormUnknown {
				kind = Doubt
			}
			h := flammableHazard(mildest)
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 2, Title: "The flash point makes the product " + h.String() + "; section 2 states " + flammableName(declared),
				Says: []Side{says(9, "Flash point "+printed(flash.Value), flash)}, Follows: []Side{follows(h.Title(ghs.English), trace)},
				Ask: ask("clash", "2", flammableName(declared), "9", printed(flash.Value)), Key: []string{declared, mildest, printed(flash.Value)},
			})
		},
	}
}

func flammableName(category string) string {
	if category == "none" {
		return "no flammable liquid category"
	}
	return flammableHazard(category).String()
}

func flammableClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200 App. B, B.6.2, Table B.6.1",
		ghs.USHCS2012: "29 CFR 1910.1200 App. B, B.6.2, Table B.6.1",
		ghs.EUCLP:     "CLP Annex I Table 2.6.1, 2.6.4.5 (from memory)",
		ghs.GBCLP:     "GB CLP Annex I Table 2.6.1 (from memory)",
		ghs.CAHPR:     "Hazardous Products Regulations s. 7.6.1(2)",
		ghs.AUWHS:     "GHS Table 2.6.1 as adopted (from memory)",
		ghs.UNGHS:     "UN GHS Table 2.6.1 (from memory)",
	}
}
