package audit

import (
	"sixteen/sheet"
)

func checkPhysicalOrder() Check {
	return Check{
		ID: "physical-order", Title: "Two physical values exclude each other", Group: Inside9, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmDeath,
		Could:    "A figure used to judge fire or explosion is wrong, and nobody knows which.",
		Compares: "Flash point with auto-ignition and boiling point, lower with upper flammable limit, melting with boiling, as ranges.",
		Clauses:  common("a liquid does not ignite by itself below the temperature at which its vapour can be lit; lower limits lie below upper ones; solids melt before they boil"),
		Example:  "Lower flammable limit 7 %, upper 1.2 %.",
		Do:       "Do not use either figure until the supplier has corrected them.",
		Run: func(c *Case, e *Emit) {
			for _, p := range []struct {
				low, high sheet.Property
				lowText   string
				highText  string
			}{
				{sheet.FlashPoint, sheet.AutoIgnition, "flash point", "auto-ignition temperature"},
				{sheet.LowerFlammable, sheet.UpperFlammable, "lower flammable limit", "upper flammable limit"},
				{sheet.FlashPoint, sheet.BoilingPoint, "flash point", "boiling point"},
				{sheet.MeltingPoint, sheet.BoilingPoint, "melting point", "boiling point"},
			} {
				a, ok1 := c.only(p.low)
				b, ok2 := c.only(p.high)
				if p.low == sheet.FlashPoint && p.high == sheet.BoilingPoint && a.Value.Cup == "open" {
					continue
				}
				if !ok1 || !ok2 || !b.Value.HasHi || !allAbove(a.Value.Interval, b.Value.Hi) {
					continue
				}
				kind := Contradiction
				if p.high == sheet.BoilingPoint && p.low == sheet.FlashPoint {
					kind = Doubt // a small share of something that boils early and does not burn can explain it
				}
				e.Report(Fault{
					Kind: kind, Section: 9, Title: "The " + p.lowText + " lies above the " + p.highText,
					Says: []Side{says(9, p.lowText+" "+printed(a.Value), a), says(9, p.highText+" "+printed(b.Value), b)},
					Ask:  ask("clash", "9", printed(a.Value), "9", printed(b.Value)), Key: []string{string(p.low), printed(a.Value), printed(b.Value)},
				})
			}
		},
	}
}
