package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkTransportFlash() Check {
	return Check{
		ID: "transport-flash", Title: "Transport says not flammable, the flash point says flammable", Group: With14, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmDeath,
		Could:    "A flammable liquid travels unmarked, by post or in a passenger cabin.",
		Compares: "Section 14 with the flash point of section 9, as a range, and with the flammable category of section 2.",
		Clauses: Clauses{
			ghs.USHCS2024: "49 CFR 173.120(a), 173.121(a) (class boundary read; viscous liquids 173.121(b))",
			ghs.USHCS2012: "49 CFR 173.120(a), 173.121(a)",
			"":            "UN Model Regulations 2.3.1.2, ADR 2.2.3.1 (from memory)",
		},
		Example: "Flash point 13 °C and “not dangerous goods”.",
		Do:      "Do not post it or take it into a cabin.",
		Run: func(c *Case, e *Emit) {
			flash, ok := c.only(sheet.FlashPoint)
			if !ok || !allAtMost(flash.Value.Interval, 60) || c.notLiquid() || len(c.Sheet.Transport) == 0 {
				return
			}
			for _, f := range c.Sheet.Transport {
				if !f.Known() || (f.Value.Regulated && f.Value.Class == "") || hasClass(f.Value, "3") || (f.Value.Regulated && f.Value.Class != "" && f.Value.Class != "9") {
					continue
				}
				kind, why := Contradiction, "class 3 holds liquids with a flash point of 60 °C or less"
				if !allBelow(flash.Value.Interval, 23) {
					kind, why = Doubt, why+"; viscous liquids, liquids that do not sustain combustion and, on US roads, combustible liquids from 37.8 °C can be outside it"
				}
				e.Report(Fault{
					Kind: kind, Section: 14, Title: "Flash point " + printed(flash.Value) + ", and section 14 does not give class 3" + mode(f.Value),
					Says:    []Side{says(9, "Flash point "+printed(flash.Value), flash), says(14, transportText(f.Value), f)},
					Follows: []Side{follows(why)}, Ask: ask("state", "@transport", "14"), Key: []string{f.Value.Mode, printed(flash.Value)},
				})
			}
		},
	}
}

func hasClass(t sheet.Transport, class string) bool {
	if strings.HasPrefix(t.Class, class) {
		return true
	}
	for _, s := range t.Subsidiary {
		if strings.HasPrefix(s, class) {
			return true
		}
	}
	return false
}

func mode(t sheet.Transport) string {
	if t.Mode == "" {
		return ""
	}
	return " (" + t.Mode + ")"
}

// transportAsk is an entry without words, for a question in any language.
func transportAsk(t sheet.Transport) string {
	if !t.Regulated {
		return "not regulated"
	}
	return fmt.Sprintf("UN%s, %s, %s", t.UN, t.Class, t.PackingGroup)
}

func transportText(t sheet.Transport) string {
	if !t.Regulated {
		return "Not regulated" + mode(t)
	}
	return strings.TrimSpace(fmt.Sprintf("UN%s class %s packing group %s", t.UN, t.Class, t.PackingGroup)) + mode(t)
}
