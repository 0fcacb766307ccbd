package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
	"slices"
)

func checkTransportPackingGroup() Check {
	return Check{
		ID: "transport-packing-group", Title: "The packing group does not fit the category", Group: With14, Kinds: []Kind{Doubt}, Harm: HarmPaper,
		Could:    "The packaging is weaker than the contents ask for.",
		Compares: "The packing group of section 14 with the category of section 2, for class 3 and class 8.",
		Clauses: Clauses{
			ghs.USHCS2024: "49 CFR 173.121(a) for class 3 (read), 173.137 for class 8 (from memory)",
			ghs.USHCS2012: "49 CFR 173.121(a) for class 3 (read), 173.137 for class 8 (from memory)",
			"":            "UN Model Regulations 2.3.2.6 and 2.8.2 (from memory)",
		},
		Example: "Skin Corr. 1A and packing group III.",
		Do:      "Ask which of the two holds.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.transport() {
				t := f.Value
				if !t.Regulated || t.PackingGroup == "" || len(t.Subsidiary) > 0 {
					continue
				}
				want, h := c.packingGroup(t.Class)
				if want == "" || t.PackingGroup == want || c.viscousPaint(t, want) {
					continue // viscous liquids of group II may go as III
				}
				e.Report(Fault{
					Kind: Doubt, Section: 14, Title: "Packing group " + t.PackingGroup + " beside " + h.String() + mode(t),
					Says:    []Side{says(14, transportText(t), f), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
					Follows: []Side{follows(h.String() + " usually means packing group " + want)}, Ask: ask("clash", "2", h.String(), "14", transportAsk(t)),
					Key: []string{t.Mode, t.PackingGroup, h.String()},
				})
			}
		},
	}
}

// packingGroup is the group that the declared category leads to, "" when it leads to none.
func (c *Case) packingGroup(class string) (string, ghs.Hazard) {
	groups := map[ghs.Hazard]string{}
	switch class {
	case "3":
		groups = map[ghs.Hazard]string{ghs.FlamLiq1: "I", ghs.FlamLiq2: "II", ghs.FlamLiq3: "III"}
	case "8":
		groups = map[ghs.Hazard]string{ghs.SkinCorr1A: "I", ghs.SkinCorr1B: "II", ghs.SkinCorr1C: "III"}
	}
	for _, h := range c.declares().All() {
		if g, ok := groups[h]; ok && c.hasClass(h) {
			return g, h
		}
	}
	return "", ghs.NoHazard
}

// viscousPaint tells whether the rule for viscous liquids may let group II go as III: for the entries of paints, adhesives,
// resins, inks and tars (49 CFR 173.121(b), ADR 2.2.3.1.4; the list from memory), unless the sheet says that it flows thinly.
func (c *Case) viscousPaint(t sheet.Transport, want string) bool {
	if want != "II" || t.PackingGroup != "III" || t.Class != "3" {
		return false
	}
	if visc, ok := c.viscosity40(); ok && allAtMost(visc.Value.Interval, 20.5) {
		return false
	}
	return slices.Contains([]string{"1133", "1139", "1169", "1197", "1210", "1263", "1266", "1286", "1287", "1306", "1866", "1999", "3065", "3269"}, t.UN)
}
