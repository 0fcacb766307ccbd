package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func dropCode(h *sheet.Hazards, code ghs.Code) {
	h.Statements = slices.DeleteFunc(h.Statements, func(f sheet.Fact[sheet.Statement]) bool { return f.Value.Code == code })
}

func dropClass(h *sheet.Hazards, x ghs.Hazard) {
	h.Classification = slices.DeleteFunc(h.Classification, func(f sheet.Fact[sheet.ClassStatement]) bool { return f.Value.Hazard == x })
}

func addStatement(h *sheet.Hazards, code ghs.Code, phrase string) {
	h.Statements = append(h.Statements, stated(2, sheet.Statement{Code: code, Phrase: phrase}, string(code)+" "+phrase))
}

func addClass(h *sheet.Hazards, x ghs.Hazard, code ghs.Code) {
	h.Classification = append(h.Classification, stated(2, sheet.ClassStatement{Hazard: x, Printed: x.String(), Code: code}, x.String()))
}

func dropSymbol(h *sheet.Hazards, p ghs.Pictogram) {
	h.Pictograms = slices.DeleteFunc(h.Pictograms, func(f sheet.Fact[ghs.Pictogram]) bool { return f.Value == p })
}

// instead declares other hazards in section 2, with everything that goes with them.
func instead(hazards ...ghs.Hazard) func(*Case) {
	return func(c *Case) { declare(c.Sheet, c.RuleSet, hazards...) }
}

func section2Trials() []trial {
	eu, us, un := ghs.EUCLP, ghs.USHCS2024, ghs.UNGHS
	h := func(f func(*sheet.Hazards)) func(*Case) { return func(c *Case) { f(&c.Sheet.Hazards) } }
	phrase := func(code ghs.Code, words string) func(*Case) {
		return h(func(s *sheet.Hazards) { dropCode(s, code); addStatement(s, code, words) })
	}
	return []trial{
		finds("not-classified-but", Contradiction, "not classified, and H317", eu, resin, h(func(s *sheet.Hazards) { s.Classified = sheet.NoneStated })),
		passes("not-classified-but", "not classified, and nothing else", eu, resin, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{Classified: sheet.NoneStated} }),
		finds("class-code", Contradiction, "Skin Sens. 1 beside H315", eu, resin, h(func(s *sheet.Hazards) { addClass(s, ghs.SkinSens1A, "H315") })),
		passes("class-code", "Carc. 1B beside H350i", eu, resin, h(func(s *sheet.Hazards) { addClass(s, ghs.Carc1B, "H350i") })),
		finds("class-without-statement", Contradiction, "Skin Sens. 1 and no H317", eu, resin, h(func(s *sheet.Hazards) { dropCode(s, "H317") })),
		finds("statements-missing", Gap, "codes on the lines of the classes, and no statement", eu, resin, h(func(s *sheet.Hazards) {
			s.Statements = nil
			for _, f := range s.Classification {
				s.Statements = append(s.Statements, sheet.Fact[sheet.Statement]{State: sheet.Stated, Value: sheet.Statement{Code: f.Value.Code}, Evidence: f.Evidence})
			}
		})),
		finds("class-without-statement", Gap, "H317 in the table of classes only, the other statements written out", eu, resin, h(func(s *sheet.Hazards) {
			for i, f := range s.Classification { // each class on a line of its own, as in a table
				s.Classification[i].Evidence[0].Box = sheet.Rect{X0: 50, X1: 300, Y0: 100 + 20*float64(i), Y1: 112 + 20*float64(i)}
				if f.Value.Hazard == ghs.SkinSens1 {
					dropCode(s, "H317")
					s.Statements = append(s.Statements, sheet.Fact[sheet.Statement]{State: sheet.Stated, Value: sheet.Statement{Code: "H317"}, Evidence: s.Classification[i].Evidence})
				}
			}
			for i := range s.Statements {
				if s.Statements[i].Value.Code != "H317" {
					s.Statements[i].Evidence[0].Box = sheet.Rect{X0: 50, X1: 300, Y0: 400 + 20*float64(i), Y1: 412 + 20*float64(i)}
				}
			}
		})),
		finds("class-without-statement", Gap, "H317 beside its class only, the other codes in one row of codes", eu, resin, h(func(s *sheet.Hazards) {
			for i, f := range s.Classification {
				s.Classification[i].Evidence[0].Box = sheet.Rect{X0: 50, X1: 300, Y0: 100 + 20*float64(i), Y1: 112 + 20*float64(i)}
				if f.Value.Hazard == ghs.SkinSens1 {
					dropCode(s, "H317")
					s.Statements = append(s.Statements, sheet.Fact[sheet.Statement]{State: sheet.Stated, Value: sheet.Statement{Code: "H317"}, Evidence: s.Classification[i].Evidence})
				}
			}
			for i := range s.Statements {
				if s.Statements[i].Value.Phrase = ""; s.Statements[i].Value.Code != "H317" {
					s.Statements[i].Evidence[0].Box = sheet.Rect{X0: 50, X1: 300, Y0: 400, Y1: 412}
				}
			}
		})),
		passes("class-without-statement", "codes beside the classes, and no statement written out in section 2", eu, resin, h(func(s *sheet.Hazards) {
			for i := range s.Statements {
				s.Statements[i].Value.Phrase = ""
			}
		})),
		passes("class-without-statement", "H318 may be left off beside H314", eu, hardener, h(func(s *sheet.Hazards) { dropCode(s, "H318") })),
		finds("statement-without-class", Contradiction, "H334 and no such class", eu, resin, h(func(s *sheet.Hazards) { addStatement(s, "H334", "") })),
		passes("statement-without-class", "a class that was not understood may be it", eu, resin, h(func(s *sheet.Hazards) {
			addStatement(s, "H334", "")
			s.Classification = append(s.Classification, stated(2, sheet.ClassStatement{Printed: "Atemwege 1"}, "Atemwege 1"))
		})),
		passes("statement-without-class", "H242 belongs to organic peroxides as well as to self-reactives", eu, resin, h(func(s *sheet.Hazards) {
			addClass(s, ghs.OrgPeroxD, "H242")
			addStatement(s, "H242", "")
		})),
		finds("statement-milder", Contradiction, "Acute Tox. 3 and H302", eu, hardener, h(func(s *sheet.Hazards) {
			dropClass(s, ghs.AcuteTox4Oral)
			addClass(s, ghs.AcuteTox3Oral, "")
		})),
		passes("statement-milder", "Acute Tox. 4 and H302", eu, hardener, nil),
		finds("categories-clash", Contradiction, "Flam. Liq. 2 and 3", eu, thinner, h(func(s *sheet.Hazards) { addClass(s, ghs.FlamLiq2, "") })),
		passes("categories-clash", "STOT RE 1 for one organ and 2 for another", eu, thinner, h(func(s *sheet.Hazards) { addClass(s, ghs.STOTRE1, "") })),
		finds("phrase-of-other-code", Contradiction, "H317 with the words of H315", eu, resin, phrase("H317", "Causes skin irritation.")),
		passes("phrase-of-other-code", "H317 in French", eu, resin, phrase("H317", "Peut provoquer une allergie cutanée.")),
		finds("phrase-reworded", Gap, "a softened H317", eu, resin, phrase("H317", "Sensitive persons might notice some discomfort.")),
		finds("phrase-reworded", Gap, "a phrase that is none of the standard's", eu, resin, h(func(s *sheet.Hazards) { addStatement(s, "", "Slightly unpleasant to the touch.") })),
		passes("phrase-reworded", "H373 with the organ filled in", eu, thinner, phrase("H373", "May cause damage to the hearing organs through prolonged or repeated exposure if inhaled.")),
		finds("code-foreign", Gap, "H227 in the European Union", eu, resin, h(func(s *sheet.Hazards) { addStatement(s, "H227", "") })),
		finds("code-foreign", Gap, "H399 does not exist", us, resin, h(func(s *sheet.Hazards) { addStatement(s, "H399", "") })),
		finds("code-foreign", Note, "EUH066 on a US sheet", us, resin, h(func(s *sheet.Hazards) { addStatement(s, "EUH066", "") })),
		passes("code-foreign", "H227 in the United States", us, resin, h(func(s *sheet.Hazards) { addStatement(s, "H227", "") })),
		finds("category-foreign", Gap, "Flam. Liq. 4 in the European Union", eu, resin, h(func(s *sheet.Hazards) { addClass(s, ghs.FlamLiq4, "") })),
		passes("category-foreign", "Acute Tox. 5 under the model regulation", un, resin, h(func(s *sheet.Hazards) { addClass(s, ghs.AcuteTox5Oral, "") })),
		finds("signal-missing", Gap, "no signal word", eu, resin, h(func(s *sheet.Hazards) {
			s.SignalWord, s.SignalPrinted = sheet.Fact[ghs.SignalWord]{}, sheet.Fact[string]{}
		})),
		finds("signal-missing", Contradiction, "signal word: none", eu, resin, h(func(s *sheet.Hazards) {
			s.SignalWord, s.SignalPrinted = sheet.Fact[ghs.SignalWord]{State: sheet.NoneStated}, sheet.Fact[string]{}
		})),
		passes("signal-missing", "a word that is no signal word is another fault", eu, resin, h(func(s *sheet.Hazards) {
			s.SignalWord, s.SignalPrinted = sheet.Fact[ghs.SignalWord]{}, text(2, "CAUTION")
		})),
		finds("signal-word", Contradiction, "Warning for burns", eu, hardener, h(func(s *sheet.Hazards) { s.SignalWord = stated(2, ghs.Warning, "Warning") })),
		finds("signal-word", Doubt, "Danger for irritation", eu, resin, h(func(s *sheet.Hazards) { s.SignalWord = stated(2, ghs.Danger, "Danger") })),
		passes("signal-word", "Danger for burns", eu, hardener, nil),
		finds("signal-nonstandard", Gap, "Caution", us, resin, h(func(s *sheet.Hazards) {
			s.SignalWord, s.SignalPrinted = sheet.Fact[ghs.SignalWord]{}, text(2, "CAUTION!")
		})),
		passes("signal-nonstandard", "Achtung is the German signal word", us, resin, h(func(s *sheet.Hazards) {
			s.SignalWord, s.SignalPrinted = sheet.Fact[ghs.SignalWord]{}, text(2, "ACHTUNG")
		})),
		finds("pictogram-missing", Contradiction, "burns without GHS05", eu, hardener, h(func(s *sheet.Hazards) { dropSymbol(s, ghs.Corrosion) })),
		finds("pictogram-missing", Gap, "no symbol at all", eu, hardener, h(func(s *sheet.Hazards) { s.Pictograms, s.PictogramState = nil, sheet.NotStated })),
		passes("pictogram-missing", "the environment symbol is not owed in the United States", us, resin, h(func(s *sheet.Hazards) { dropSymbol(s, ghs.Environment) })),
		passes("pictogram-missing", "EU: skull and crossbones takes the place of the exclamation mark altogether", eu, resin, func(c *Case) {
			instead(ghs.SkinSens1, ghs.AcuteTox3Oral)(c)
			dropSymbol(&c.Sheet.Hazards, ghs.ExclamationMark)
		}),
		finds("pictogram-missing", Contradiction, "US: it does not for an allergy", us, resin, func(c *Case) {
			instead(ghs.SkinSens1, ghs.AcuteTox3Oral)(c)
			dropSymbol(&c.Sheet.Hazards, ghs.ExclamationMark)
		}),
		finds("pictogram-extra", Doubt, "GHS08 and no class for it", eu, resin, h(func(s *sheet.Hazards) { s.Pictograms = append(s.Pictograms, stated(2, ghs.HealthHazard, "GHS08")) })),
		passes("pictogram-extra", "GHS07 beside GHS05 for an irritant", eu, hardener, h(func(s *sheet.Hazards) { s.Pictograms = append(s.Pictograms, stated(2, ghs.ExclamationMark, "GHS07")) })),
		finds("pictogram-dropped", Note, "GHS06 and GHS07 for acute toxicity", eu, resin, func(c *Case) {
			instead(ghs.AcuteTox3Oral, ghs.AcuteTox4Dermal)(c)
			c.Sheet.Hazards.Pictograms = append(c.Sheet.Hazards.Pictograms, stated(2, ghs.ExclamationMark, "GHS07"))
		}),
		passes("pictogram-dropped", "GHS05 and, for the allergy, GHS07", eu, hardener, nil),
		finds("precaution-for-hazard", Gap, "an allergy and only “read the label”", eu, resin, h(func(s *sheet.Hazards) {
			s.Precautions = []sheet.Fact[sheet.Statement]{stated(2, sheet.Statement{Code: "P103"}, "P103")}
		})),
		passes("precaution-for-hazard", "gloves answer the allergy", eu, resin, h(func(s *sheet.Hazards) {
			s.Precautions = []sheet.Fact[sheet.Statement]{stated(2, sheet.Statement{Code: "P280"}, "P280")}
		})),
		finds("organs-missing", Gap, "H373 and no organ", eu, thinner, phrase("H373", "May cause damage to organs through prolonged or repeated exposure.")),
		passes("organs-missing", "the class names the organ", eu, thinner, func(c *Case) {
			phrase("H373", "May cause damage to organs through prolonged or repeated exposure.")(c)
			addClass(&c.Sheet.Hazards, ghs.STOTRE2, "")
			n := len(c.Sheet.Hazards.Classification) - 1
			c.Sheet.Hazards.Classification[n].Value.Organs = "liver"
		}),
		finds("reproductive-effect", Gap, "H361 with both effects left open", us, resin, h(func(s *sheet.Hazards) {
			addStatement(s, "H361", "Suspected of damaging fertility or the unborn child.")
		})),
		passes("reproductive-effect", "H361d", us, resin, h(func(s *sheet.Hazards) { addStatement(s, "H361d", "Suspected of damaging the unborn child.") })),
		finds("allergy-symbol", Note, "the exclamation mark for an allergy", eu, resin, nil),
		passes("allergy-symbol", "no sensitiser", eu, thinner, nil),
	}
}
