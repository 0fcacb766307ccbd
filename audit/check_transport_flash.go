package audit

import (
	"fmt"
	"slices"
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
			if !ok || !allAtMost(flash.Value.Interval, 60) || c.notLiquid() || len(c.transport()) == 0 {
				return
			}
			for _, f := range c.transport() {
				if (f.Value.Regulated && f.Value.Class == "") || hasClass(f.Value, "3") || (f.Value.Regulated && f.Value.Class != "" && f.Value.Class != "9") {
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

// transport lists the entries of section 14 that say something: goods that are regulated, and goods that the sheet calls
// not regulated or for which it calls a UN number not applicable. Of entries for several modes and one for none in
// particular, the latter is left out when it only denies.
func (c *Case) transport() []sheet.Fact[sheet.Transport] {
	var out []sheet.Fact[sheet.Transport]
	regulated := slices.ContainsFunc(c.Sheet.Transport, func(f sheet.Fact[sheet.Transport]) bool { return f.Known() && f.Value.Regulated })
	for _, f := range c.Sheet.Transport {
		denied := f.State == sheet.NoneStated || f.State == sheet.NotApplicable
		if f.Known() || denied && !(regulated && f.Value.Mode == "") {
			out = append(out, f)
		}
	}
	return out
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
