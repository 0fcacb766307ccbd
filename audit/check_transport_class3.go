package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkTransportClass3() Check {
	return Check{
		ID: "transport-class3", Title: "Transport class 3, and section 2 knows no flammable liquid", Group: With14, Kinds: []Kind{Contradiction, Gap, Doubt}, Harm: HarmDeath,
		Compares: "Class 3 of section 14 with the flammable liquid category of section 2.",
		Clauses: Clauses{
			ghs.USHCS2024: "49 CFR 173.120(a) beside 29 CFR 1910.1200 App. B Table B.6.1",
			ghs.USHCS2012: "49 CFR 173.120(a) beside 29 CFR 1910.1200 App. B Table B.6.1",
			"":            "UN Model Regulations 2.3.1.2 beside GHS Table 2.6.1 (from memory): both end at 60 °C",
		},
		Example: "UN1263, class 3, and section 2 without H225 or H226.",
		Do:      "Treat the product as flammable.",
		Run: func(c *Case, e *Emit) {
			if d := c.flammableDeclared(); (d != "none" && d != "4") || c.notLiquid() {
				return
			}
			for _, f := range c.transport() {
				if !f.Value.Regulated || !strings.HasPrefix(f.Value.Class, "3") {
					continue
				}
				kind := Doubt
				if flash, ok := c.only(sheet.FlashPoint); ok && allAtMost(flash.Value.Interval, 35) {
					kind = c.against()
				}
				e.Report(Fault{
					Kind: kind, Hazard: ghs.FlamLiq3, Section: 2, Title: "Section 14 gives class 3, section 2 no flammable liquid",
					Says: []Side{says(14, transportText(f.Value), f), {Section: 2, Text: "Section 2: " + c.summary()}},
					Ask:  ask("clash", "2", "H225/H226 –", "14", transportAsk(f.Value)), Key: []string{"class 3"},
				})
				return
			}
		},
	}
}
