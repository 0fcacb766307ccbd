package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkSignalMissing() Check {
	return Check{
		ID: "signal-missing", Title: "The signal word is missing", Group: Inside2, Kinds: []Kind{Gap, Contradiction}, Harm: HarmLasting,
		Compares: "The signal word of section 2 with the one that its classes ask for.",
		Clauses:  signalClauses(),
		Example:  "H314 and no signal word.",
		Do:       "Read it as if the word stood there.",
		Run: func(c *Case, e *Emit) {
			s := c.Sheet.Hazards
			word, h := c.required()
			if word == ghs.NoSignalWord || s.SignalWord.Known() || s.SignalPrinted.Known() || !c.has(e, 2) {
				return
			}
			kind := Gap
			if s.SignalWord.State == sheet.NoneStated {
				kind = Contradiction
			}
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 2, Title: "No signal word; " + h.String() + " asks for " + word.String(),
				Says: []Side{says(2, "Signal word: none", s.SignalWord), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Ask:  ask("state", "@signal", "2"), Key: []string{word.String()},
			})
		},
	}
}

func signalClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.1 and C.4",
		ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.1 and C.4",
		ghs.EUCLP:     "CLP Article 20 and Annex I (from memory)",
		ghs.GBCLP:     "GB CLP Article 20 (from memory)",
		ghs.CAHPR:     "Hazardous Products Regulations s. 3(1)(d) to (f) and 3.6(1)",
		ghs.AUWHS:     "model WHS Regulations schedule 9 (from memory)",
		ghs.UNGHS:     "UN GHS 1.4.10.5.3.2",
	}
}
