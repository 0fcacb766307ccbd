package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkPictogramMissing() Check {
	return Check{
		ID: "pictogram-missing", Title: "A pictogram is missing", Group: Inside2, Kinds: []Kind{Contradiction, Gap}, Harm: HarmLasting,
		Compares: "The pictograms of section 2 with those that its classes ask for, precedence respected.",
		Clauses:  pictogramClauses(),
		Example:  "H314 and GHS07 only.",
		Do:       "Act as if the pictogram were there.",
		Run: func(c *Case, e *Emit) {
			h := c.Sheet.Hazards
			if !c.has(e, 2) || h.Classified == sheet.NoneStated {
				return
			}
			shown := pictogramsOf(h.Pictograms)
			if len(shown) == 0 && h.PictogramState != sheet.NoneStated {
				if need := c.pictograms(); len(need) > 0 {
					c.reportNoPictogram(e, need)
				}
				return
			}
			for _, n := range c.pictograms() {
				if slices.Contains(shown, n.symbol) || n.optional {
					continue
				}
				e.Report(Fault{
					Kind: Contradiction, Hazard: n.of, Section: 2, Title: n.symbol.String() + " (" + n.symbol.Name(ghs.English) + ") is missing for " + n.of.String(),
					Says: []Side{says(2, "Pictograms: "+symbolText(shown), h.Pictograms...), {Section: 2, Text: n.of.Title(ghs.English), Evidence: c.declaredAt(n.of)}},
					Ask:  ask("state", n.symbol.String(), "2"), Key: []string{n.symbol.String()},
				})
			}
		},
	}
}

func pictogramClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.1.2 to C.2.1.4 and C.2.3",
		ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.1.2 to C.2.1.4 and C.2.3",
		ghs.EUCLP:     "CLP Articles 19 and 26 (from memory)",
		ghs.GBCLP:     "GB CLP Articles 19 and 26 (from memory)",
		ghs.CAHPR:     "Hazardous Products Regulations s. 3(1)(d) to (f) and 3.6(3)",
		ghs.AUWHS:     "model WHS Regulations schedule 9; GHS 1.4.10.5.3.1 (from memory)",
		ghs.UNGHS:     "UN GHS 1.4.10.5.3.1",
	}
}

// reportNoPictogram reports that section 2 neither shows nor names a pictogram.
func (c *Case) reportNoPictogram(e *Emit, need []symbolNeed) {
	worst := need[0]
	for _, n := range need {
		if HarmOf(n.of) < HarmOf(worst.of) {
			worst = n
		}
	}
	if worst.optional {
		return
	}
	e.Report(Fault{
		Kind: Gap, Hazard: worst.of, Section: 2, Title: "No pictogram was found, by name, code or picture", Says: []Side{silent(2, "a pictogram")},
		Follows: []Side{follows("The classes ask for " + needText(need))}, Ask: ask("state", "@pictograms", "2"), Key: []string{"none"},
	})
}
