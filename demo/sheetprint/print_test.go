package sheetprint

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

// exampleSpec is an invented solvent-borne varnish with something in every section.
func exampleSpec(lang ghs.Lang, rules ghs.RuleSet) Spec {
	at := func(lo, hi float64) sheet.Interval {
		return sheet.Interval{Lo: lo, Hi: hi, HasLo: true, HasHi: true, HiOpen: true}
	}
	s := Spec{Lang: lang, Rules: rules, Product: "Brinefell Deck Varnish", Code: "BF-210", UFI: "A1B2-C3D4-E5F6-G7H8",
		Use: "Clear varnish for decks", UseAgainst: "Food contact",
		Supplier: Supplier{Name: "Ostrel Quay Coatings", Address: []string{"4 Capstan Row", "Port Ostrel"}, Phone: "+00 555 010 200",
			Email: "sheets@ostrelquay.example"},
		Emergency: "+00 555 010 911", Revision: "2024-03-18", Supersedes: "2021-06-02", Version: "3.1", Printed: "2024-05-01",
		Classes: []Class{{Name: "Flam. Liq. 3", Code: "H226"}, {Name: "Acute Tox. 4", Route: "inhalation", Code: "H332"}, {Name: "Skin Irrit. 2", Code: "H315"},
			{Name: "Skin Sens. 1", Code: "H317"}},
		Statements: []ghs.Code{"H226", "H315", "H317", "H332"}, Precautions: []ghs.Code{"P210", "P280", "P302+P352", "P333+P313", "P403+P235", "P501"},
		Pictograms: []ghs.Pictogram{ghs.Flame, ghs.ExclamationMark}, SignalWord: "Warning", Contains: []string{"xylene"},
		Unknown: []UnknownShare{{Percent: 12, Route: "oral"}},
		Ingredients: []Ingredient{
			{Name: "xylene (mixed isomers)", CAS: "1330-20-7", EC: "215-535-7", Percent: at(10, 25), Classes: []Class{{"Flam. Liq. 3", "", "H226"}, {"Skin Irrit. 2", "", "H315"}, {"Acute Tox. 4", "dermal", "H312"}, {"Acute Tox. 4", "inhalation", "H332"}}},
			{Name: "methyl ethyl ketoxime", CAS: "96-29-7", EC: "202-496-6", Percent: sheet.Interval{Hi: 1, HasHi: true, HiOpen: true}, Classes: []Class{{"Skin Sens. 1", "", "H317"}}},
			{Name: "alkyd resin", Secret: true},
		},
		WithheldNote: true,
		Limits: []Limit{{Name: "xylene", CAS: "1330-20-7", Authority: "OSHA PEL", Kind: sheet.TWA, PPM: 100, MgM3: 435},
			{Name: "xylene", CAS: "1330-20-7", Authority: "WEL", Kind: sheet.STEL, PPM: 100, MgM3: 441, Skin: true}},
		Gloves: Gloves{"nitrile", 0.4, 240, "EN 374"}, Respirator: "A2",
		State: "liquid", Colour: "amber", Odour: "solvent",
		Properties: map[sheet.Property]Value{
			sheet.FlashPoint: {Interval: sheet.Exactly(27), Cup: "closed", Method: "ISO 3679"}, sheet.BoilingPoint: {Interval: sheet.Between(137, 143)},
			sheet.Density: {Interval: sheet.Exactly(952), AtC: 20}, sheet.VapourPressure: {Interval: sheet.Exactly(890), AtC: 20},
			sheet.PH: {NoData: true}, sheet.VOC: {Interval: sheet.Exactly(430)}, sheet.LowerFlammable: {Interval: sheet.Exactly(1.1)},
			sheet.UpperFlammable: {Interval: sheet.Exactly(7)}, sheet.AutoIgnition: {Interval: sheet.Exactly(465)},
			sheet.KinematicViscosity: {Interval: sheet.Interval{Lo: 20.5, HasLo: true, LoOpen: true}}, sheet.WaterSolubility: {Interval: sheet.Exactly(0.2)},
		},
		Tox:       []Tox{{"xylene", "1330-20-7", "LD50", "oral", "rat", 3523, false, "mg/kg", 0}, {"xylene", "1330-20-7", "LD50", "dermal", "rabbit", 2000, true, "mg/kg", 0}},
		Eco:       []Eco{{"xylene", "1330-20-7", "LC50", "fish", 2.6, 96}},
		Transport: Transport{UN: "1263", ProperName: "PAINT", Class: "3", PackingGroup: "III", Modes: []string{"ADR", "IMDG", "IATA"}},
		NFPA:      &Ratings{Health: 2, Flammability: 3, Instability: 0}, HMIS: &Ratings{Health: 2, Flammability: 3, Instability: 0, Chronic: true, PPE: "G"},
		RevisionsList: true,
	}
	return s
}
