package audit

import (
	"fmt"
	"time"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Sheets for the tests are built by hand: invented products of invented suppliers, complete and without fault. A trial
// takes one of them and changes one thing.

// stated is a fact with its place: the page is the section's number.
func stated[T any](section int, v T, words string) sheet.Fact[T] {
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Evidence: at(section, words), Confidence: 1}
}

func at(section int, words string) []sheet.Evidence {
	return []sheet.Evidence{{Page: section, Words: words, How: sheet.ByText, Box: sheet.Rect{X0: 50, Y0: 100, X1: 300, Y1: 112}}}
}

func text(section int, s string) sheet.Fact[string] { return stated(section, s, s) }

func quantity(section int, v sheet.Interval, unit, printed string) sheet.Fact[sheet.Quantity] {
	return stated(section, sheet.Quantity{Interval: v, Unit: unit, Printed: printed}, printed)
}

func percent(lo, hi float64) sheet.Fact[sheet.Quantity] {
	return quantity(3, sheet.Between(lo, hi), "%", fmt.Sprintf("%v – %v %%", lo, hi))
}

func line(section int, s string) sheet.Line { return sheet.Line{Text: s, Page: section} }

// blank is a sheet with sixteen headings, one neutral line each, and complete sections 1, 8 and 16.
func blank(rs ghs.RuleSet, name string) *sheet.Sheet {
	s := &sheet.Sheet{
		Language: stated(1, ghs.English, "SAFETY DATA SHEET"), Jurisdiction: stated(1, rs, "according to the law"),
		Identification: sheet.Identification{
			ProductName: text(1, name), Uses: text(1, "Laminating and coating of boats"), UsesAgainst: text(1, "Contact with food"),
			UFI: text(1, "QN00-V0RX-D00W-5J3K"), Supplier: text(1, "Quay Nine Supply"), SupplierAddress: text(1, "9 Ropewalk, Port Anders"),
			SupplierPhone: text(1, "+00 123 456"), SupplierEmail: text(1, "sheets@quaynine.example"), EmergencyPhone: text(1, "+00 123 999"),
			RevisionDate: text(16, "2025-06-01"), Version: text(16, "3.0"), SupersedesDate: text(16, "2023-02-01"),
		},
	}
	for n := 1; n <= 16; n++ {
		text := "Details of " + headings()[n] + "."
		s.Sections[n] = sheet.Section{Found: true, Heading: at(n, fmt.Sprintf("SECTION %d", n))[0], Text: []sheet.Line{line(n, text)}}
	}
	add := func(n int, text string) { s.Sections[n].Text = append(s.Sections[n].Text, line(n, text)) }
	add(2, "Holds no PBT or vPvB substance and no endocrine disruptor.")
	add(4, "Inhalation: fresh air. Eyes: rinse with water for 15 minutes. Skin: wash. Swallowed: rinse the mouth, do not induce vomiting.")
	add(5, "Suitable extinguishing media: foam, carbon dioxide, powder.")
	add(11, "No ingredient is listed as a carcinogen by NTP, IARC or OSHA.")
	s.Control = sheet.Control{
		Engineering: text(8, "Local exhaust ventilation at the bench."), Eyes: text(8, "Tightly fitting goggles (EN 166)."),
		Skin: text(8, "Closed work clothes."),
		Hands: stated(8, sheet.Gloves{Text: "Nitrile rubber 0.4 mm, breakthrough > 480 min (EN ISO 374-1)", Materials: []string{"nitrile rubber"},
			ThicknessMM: sheet.Exactly(0.4), BreakthroughMin: sheet.Interval{Lo: 480, HasLo: true, LoOpen: true}}, "Nitrile rubber 0.4 mm, > 480 min"),
		Respiratory: stated(8, sheet.Respirator{Text: "In vapour: filter type A2-P2 (EN 14387).", Filters: []string{"A2", "P2"}}, "filter type A2-P2"),
	}
	s.Physical = sheet.Physical{State: text(9, "liquid"), Colour: text(9, "clear"), Odour: text(9, "faint"), Quantities: map[sheet.Property][]sheet.Fact[sheet.Quantity]{}}
	s.Toxicology.Endpoints = map[string]sheet.Fact[string]{}
	return s
}

// ingredient is one row of section 3 with classes and codes.
func ingredient(rs ghs.RuleSet, name, cas string, lo, hi float64, hazards ...ghs.Hazard) sheet.Ingredient {
	i := sheet.Ingredient{Name: text(3, name), CAS: text(3, cas), Percent: percent(lo, hi), REACH: text(3, "01-2119456619-26-0000")}
	for _, h := range hazards {
		i.Hazards = append(i.Hazards, stated(3, sheet.ClassStatement{Hazard: h, Printed: h.String(), Code: codeOf(h, rs)}, h.String()))
	}
	return i
}

// declare fills section 2 with classes and everything that the law asks for beside them.
func declare(s *sheet.Sheet, rs ghs.RuleSet, hazards ...ghs.Hazard) {
	h := &s.Hazards
	*h = sheet.Hazards{Classified: sheet.Stated}
	if len(hazards) == 0 {
		h.Classified = sheet.NoneStated
	}
	for _, x := range hazards {
		if x = localised(x, rs); x == ghs.NoHazard {
			continue
		}
		code := codeOf(x, rs)
		cl := sheet.ClassStatement{Hazard: x, Printed: x.String(), Code: code}
		phrase, _ := rs.Phrase(code, ghs.English, ghs.Blanks{Organs: "the hearing organs"})
		h.Classification = append(h.Classification, stated(2, cl, x.String()))
		h.Statements = append(h.Statements, stated(2, sheet.Statement{Code: code, Phrase: phrase}, string(code)+" "+phrase))
		for _, p := range precautionsOfTest(x, rs) {
			h.Precautions = append(h.Precautions, stated(2, sheet.Statement{Code: p, Phrase: phraseOf(p, ghs.English)}, string(p)))
		}
	}
	c := &Case{Sheet: s, RuleSet: rs}
	if word, _ := c.required(); word != ghs.NoSignalWord {
		h.SignalWord, h.SignalPrinted = stated(2, word, word.String()), stated(2, word.String(), word.String())
	}
	for _, n := range c.pictograms() {
		h.Pictograms = append(h.Pictograms, stated(2, n.symbol, n.symbol.String()))
		h.PictogramState = sheet.Stated
	}
}

func precautionsOfTest(h ghs.Hazard, rs ghs.RuleSet) []ghs.Code {
	e, _ := rs.Elements(h)
	return append(append([]ghs.Code{}, e.Prevention...), e.Response...)
}

// euh adds a supplemental statement to section 2.
func euh(s *sheet.Sheet, code ghs.Code) {
	s.Hazards.Statements = append(s.Hazards.Statements, stated(2, sheet.Statement{Code: code, Phrase: phraseOf(code, ghs.English)}, string(code)))
}

// resin is an epoxy resin: irritant and sensitising, hard to ignite.
func resin(rs ghs.RuleSet) *sheet.Sheet {
	s := blank(rs, "Slipway Clear A")
	s.Composition.Ingredients = []sheet.Ingredient{
		ingredient(rs, "Bisphenol A epoxy resin, number average molecular weight ≤ 700", "25068-38-6", 75, 80, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2),
		ingredient(rs, "Oxirane, mono[(C12-14-alkyloxy)methyl] derivs.", "68609-97-2", 20, 25, ghs.SkinIrrit2, ghs.SkinSens1),
	}
	declare(s, rs, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2)
	if rs == ghs.EUCLP || rs == ghs.GBCLP {
		euh(s, "EUH205")
	}
	q := s.Physical.Quantities
	q[sheet.FlashPoint] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Interval{Lo: 150, HasLo: true, LoOpen: true}, "°C", "> 150 °C")}
	q[sheet.BoilingPoint] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Interval{Lo: 200, HasLo: true, LoOpen: true}, "°C", "> 200 °C")}
	q[sheet.Density] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(1120), "kg/m3", "1.12 g/cm³")}
	s.Toxicology.Endpoints = map[string]sheet.Fact[string]{
		"skin": text(11, "Causes skin irritation."), "eye": text(11, "Causes serious eye irritation."),
		"skin_sens": text(11, "May cause an allergic skin reaction."), "carc": text(11, "Based on available data, the classification criteria are not met."),
	}
	s.Toxicology.Values = []sheet.Fact[sheet.ToxValue]{dose("25068-38-6", "LD50", ghs.Oral, sheet.Interval{Lo: 2000, HasLo: true, LoOpen: true}, "> 2000 mg/kg")}
	s.Ecology.Values = []sheet.Fact[sheet.EcoValue]{stated(12, sheet.EcoValue{CAS: "25068-38-6", Measure: "LC50", Group: "fish", Hours: 96,
		Quantity: sheet.Quantity{Interval: sheet.Exactly(2), Unit: "mg/l", Printed: "2 mg/l"}}, "LC50 fish 2 mg/l")}
	s.Transport = []sheet.Fact[sheet.Transport]{stated(14, sheet.Transport{Mode: "IMDG", Regulated: true, UN: "3082", Class: "9", PackingGroup: "III", MarinePollutant: sheet.Stated}, "UN3082, 9, III")}
	return s
}

func dose(cas, measure string, route ghs.Qualifier, v sheet.Interval, printed string) sheet.Fact[sheet.ToxValue] {
	return stated(11, sheet.ToxValue{CAS: cas, Measure: measure, Route: route, Species: "rat", Quantity: sheet.Quantity{Interval: v, Unit: "mg/kg", Printed: printed}}, printed)
}

// hardener is an amine: corrosive, sensitising and harmful if swallowed.
func hardener(rs ghs.RuleSet) *sheet.Sheet {
	s := blank(rs, "Slipway Clear B")
	s.Composition.Ingredients = []sheet.Ingredient{
		ingredient(rs, "3-Aminomethyl-3,5,5-trimethylcyclohexylamine", "2855-13-2", 60, 65, ghs.AcuteTox4Oral, ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1A),
		ingredient(rs, "Polyoxypropylenediamine", "9046-10-0", 35, 40, ghs.SkinCorr1B, ghs.EyeDam1, ghs.AquaticChronic3),
	}
	s.Composition.Ingredients[0].ATE = []sheet.Fact[sheet.ToxValue]{dose("2855-13-2", "ATE", ghs.Oral, sheet.Exactly(1030), "1030 mg/kg")}
	declare(s, rs, ghs.AcuteTox4Oral, ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1, ghs.AquaticChronic3)
	q := s.Physical.Quantities
	q[sheet.FlashPoint] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Interval{Lo: 110, HasLo: true, LoOpen: true}, "°C", "> 110 °C")}
	q[sheet.Density] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(930), "kg/m3", "0.93 g/cm³")}
	q[sheet.PH] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(11.8), "", "11.8")}
	s.Toxicology.Values = []sheet.Fact[sheet.ToxValue]{dose("2855-13-2", "LD50", ghs.Oral, sheet.Exactly(1030), "1030 mg/kg")}
	s.Toxicology.Endpoints = map[string]sheet.Fact[string]{"skin": text(11, "Causes severe skin burns."), "skin_sens": text(11, "May cause an allergic skin reaction.")}
	s.Ecology.Values = []sheet.Fact[sheet.EcoValue]{stated(12, sheet.EcoValue{CAS: "9046-10-0", Measure: "EC50", Group: "algae", Hours: 72,
		Quantity: sheet.Quantity{Interval: sheet.Exactly(15), Unit: "mg/l", Printed: "15 mg/l"}}, "EC50 algae 15 mg/l")}
	s.Transport = []sheet.Fact[sheet.Transport]{stated(14, sheet.Transport{Regulated: true, UN: "2735", Class: "8", PackingGroup: "II", MarinePollutant: sheet.NoneStated}, "UN2735, 8, II")}
	return s
}

// thinner is a solvent blend: flammable, an aspiration hazard, with exposure limits.
func thinner(rs ghs.RuleSet) *sheet.Sheet {
	s := blank(rs, "Tidewrack Thinner")
	s.Composition.Ingredients = []sheet.Ingredient{
		ingredient(rs, "n-Butyl acetate", "123-86-4", 60, 65, ghs.FlamLiq3, ghs.STOTSE3Narcotic),
		ingredient(rs, "Xylene, mixed isomers", "1330-20-7", 35, 40, ghs.FlamLiq3, ghs.AcuteTox4Dermal, ghs.AcuteTox4InhalationVapour, ghs.SkinIrrit2,
			ghs.EyeIrrit2, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AspTox1, ghs.AquaticChronic3),
	}
	declare(s, rs, ghs.FlamLiq3, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AspTox1, ghs.AquaticChronic3)
	q := s.Physical.Quantities
	q[sheet.FlashPoint] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(25), "°C", "25 °C (closed cup)")}
	q[sheet.BoilingPoint] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Between(124, 145), "°C", "124 – 145 °C")}
	q[sheet.AutoIgnition] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(415), "°C", "415 °C")}
	q[sheet.LowerFlammable] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(1.1), "%", "1.1 %")}
	q[sheet.UpperFlammable] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(7.5), "%", "7.5 %")}
	q[sheet.Density] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(875), "kg/m3", "0.875 g/cm³")}
	q[sheet.VOC] = []sheet.Fact[sheet.Quantity]{quantity(9, sheet.Exactly(875), "g/l", "875 g/l")}
	forty := 40.0
	visc := quantity(9, sheet.Interval{Hi: 1, HasHi: true, HiOpen: true}, "mm2/s", "< 1 mm²/s at 40 °C")
	visc.Value.AtC = &forty
	q[sheet.KinematicViscosity] = []sheet.Fact[sheet.Quantity]{visc}
	c := &Case{Sheet: s, RuleSet: rs, Substances: substance.Embedded()}
	for _, i := range s.Composition.Ingredients {
		for _, l := range c.legalLimits(c.known(i.CAS.Value)) {
			s.Control.Limits = append(s.Control.Limits, stated(8, sheet.ExposureLimit{Substance: i.Name.Value, CAS: i.CAS.Value, Authority: l.Authority,
				Kind: sheet.LimitKind(l.Kind), Value: l.PPM, Unit: "ppm", Printed: limitText(l)}, limitText(l)))
		}
	}
	s.Toxicology.Values = []sheet.Fact[sheet.ToxValue]{dose("1330-20-7", "LD50", ghs.Dermal, sheet.Exactly(1700), "1700 mg/kg")}
	s.Toxicology.Carcinogens = []sheet.Fact[sheet.CancerListing]{stated(11, sheet.CancerListing{Ingredient: "xylene", CAS: "1330-20-7", Agency: "IARC", Group: "3"}, "IARC 3")}
	s.Ecology.Values = []sheet.Fact[sheet.EcoValue]{stated(12, sheet.EcoValue{CAS: "1330-20-7", Measure: "LC50", Group: "fish", Hours: 96,
		Quantity: sheet.Quantity{Interval: sheet.Exactly(2.6), Unit: "mg/l", Printed: "2.6 mg/l"}}, "LC50 fish 2.6 mg/l")}
	s.Transport = []sheet.Fact[sheet.Transport]{stated(14, sheet.Transport{Regulated: true, UN: "1263", Class: "3", PackingGroup: "III", MarinePollutant: sheet.NoneStated}, "UN1263, 3, III")}
	return s
}

var day = time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)

// caseOf is the case of a sheet with the embedded substance table, judged on a fixed day.
func caseOf(s *sheet.Sheet, rs ghs.RuleSet) *Case {
	return &Case{Sheet: s, RuleSet: rs, Substances: substance.Embedded(), Today: day}
}
