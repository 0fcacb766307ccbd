package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkPHAgainstCorrosive() Check {
	return Check{
		ID: "ph-against-corrosive", Title: "An extreme pH without a corrosive classification", Group: With9, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Compares: "The pH of section 9 with the skin and eye classification of section 2.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.2.2.2, A.2.4.1 and A.3.3.1 (point numbers from memory)",
			ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.2.2 and A.3.3 (point numbers from memory)",
			ghs.EUCLP:     "CLP Annex I 3.2.3.1.2",
			ghs.GBCLP:     "GB CLP Annex I 3.2.3.1.2",
			ghs.CAHPR:     "Hazardous Products Regulations subpart 2 of part 8 (section number from memory)",
			ghs.AUWHS:     "GHS 3.2.3.1.2 as adopted (from memory)",
			ghs.UNGHS:     "UN GHS 3.2.3.1.2 (from memory)",
		},
		Example: "pH 13 and “not classified”.",
		Do:      "Treat the product as corrosive: goggles, gloves, an eye wash within reach.",
		Run: func(c *Case, e *Emit) {
			ph, ok := c.only(sheet.PH)
			if !ok || !(allAtMost(ph.Value.Interval, 2) || allAtLeast(ph.Value.Interval, 11.5)) {
				return
			}
			d := c.declares()
			if coversAny(d, ghs.EyeDam1) || hasAny(c.text(9, 11), "reserve", "buffer", "réserve", "puffer") {
				return
			}
			e.Report(Fault{
				Kind: Doubt, Hazard: ghs.SkinCorr1, Section: 2, Title: "pH " + printed(ph.Value) + " and no corrosive class",
				Says:    []Side{says(9, "pH "+printed(ph.Value), ph)},
				Follows: []Side{follows("A pH of 2 or less, or 11.5 or more, makes a product Skin Corr. 1 and Eye Dam. 1 unless its acid or alkaline reserve or a test shows otherwise")},
				Ask:     ask("state", "@ph", "9"), Key: []string{printed(ph.Value)},
			})
		},
	}
}
