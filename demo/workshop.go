package demo

import (
	"fmt"

	"sixteen/audit"
	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
)

// Place is the invented workshop: who works where.
type Place struct {
	Name     string   `json:"name"`
	Where    string   `json:"where"`
	About    string   `json:"about"`
	Rooms    []Room   `json:"rooms"`
	People   []string `json:"people"`
	Products []Item   `json:"products"`
	Kits     []Kit    `json:"kits"`
}

// Room is one room of the workshop. Volume in m3, air changes per hour with closed doors.
type Room struct {
	Name       string  `json:"name"`
	VolumeM3   float64 `json:"volume_m3"`
	AirChanges float64 `json:"air_changes_per_h"`
	Notes      string  `json:"notes"`
}

// Item is one product with its papers. Files are relative to the folder that Write fills; empty means there is none.
type Item struct {
	ID      string         `json:"id"`
	Name    string         `json:"name"`
	Sheet   string         `json:"sheet"`
	Label   string         `json:"label"`
	Picture string         `json:"label_picture"`
	Claims  string         `json:"claims,omitempty"`
	Before  string         `json:"previous_sheet,omitempty"` // the revision before
	Rules   ghs.RuleSet    `json:"rule_set"`
	Lang    ghs.Lang       `json:"language"`
	Scan    bool           `json:"scan,omitempty"`
	Where   string         `json:"stored_in"`
	Amount  string         `json:"amount"`
	Planted []PlantedFault `json:"-"` // in the sheet alone
	Beside  []PlantedFault `json:"-"` // shown by the sheet beside its label, its claims or the revision before
	Clean   bool           `json:"-"` // no contradiction may be found in its sheet

	build func() (sheetprint.Spec, error)
	fault []string // kinds of invent.Faults planted in the sheet
	extra func(*sheetprint.Spec)

	before    string // date of the revision before, "" when there is none; it has no planted fault
	layout    int
	labelDrop func(*audit.Label) PlantedFault
	claims    string
	boasts    bool // the claims do not survive the papers
}

// Kit is a product of parts that are mixed by mass.
type Kit struct {
	Name  string    `json:"name"`
	Parts []KitPart `json:"parts"`
}

// KitPart is a product of the workshop with its share of the fresh mixture, percent by mass.
type KitPart struct {
	Product string  `json:"product"`
	Percent float64 `json:"percent"`
}

// PlantedFault is one thing that is wrong on purpose. Checks names the checks of package audit of which at least one
// must notice it.
type PlantedFault struct {
	File   string   `json:"file"`
	Kind   string   `json:"kind"`
	Says   string   `json:"says"`
	Checks []string `json:"checks"`
}

func house(name, street, town, phone, mail string) sheetprint.Supplier {
	return sheetprint.Supplier{Name: name, Address: []string{street, town}, Phone: phone, Email: mail}
}

var (
	skerryholt = house("Skerryholt Resin House", "14 Tidewall Lane", "Wrackhaven", "+00 555 310 220", "sheets@skerryholt.example")
	oxwrack    = house("Oxwrack Marine Supply", "2 Slipway Yard", "Port Ostrel", "+00 555 420 118", "papers@oxwrack.example")
	dunlin     = house("Dunlincroft Composites", "88 Ropewalk", "Low Marram", "+00 555 640 075", "sds@dunlincroft.example")
	foamwick   = house("Foamwick & Daughters", "31 Lantern Street", "Tarn Quay", "+00 555 730 912", "office@foamwick.example")
	watter     = house("Watterglanz Lackhaus", "Am Netzboden 9", "Schilfmünde", "+00 555 880 404", "blatt@watterglanz.example")
	goelette   = house("Vernis Goëlbrume", "5 quai des Lentes", "Brumeport", "+00 555 960 331", "fiches@goelbrume.example")
)

// share is a disclosed ingredient with a range; polymer one without a CAS number.
func share(cas string, percent, lo, hi float64) invent.Share {
	return invent.Share{CAS: cas, Percent: percent, Range: sheet.Between(lo, hi)}
}

func polymer(name string, percent, lo, hi float64) invent.Share {
	return invent.Share{Polymer: name, Percent: percent, Range: sheet.Between(lo, hi)}
}

// named makes a product and gives it its invented name, house and dates.
func named(kind, name, code string, by sheetprint.Supplier, revised, version string, lang ghs.Lang, rules ghs.RuleSet, shares ...invent.Share) func() (sheetprint.Spec, error) {
	return func() (sheetprint.Spec, error) {
		s, err := invent.Product(kind, shares, lang, rules, uint64(len(name)))
		if err != nil {
			return s, fmt.Errorf("%s: %w", name, err)
		}
		s.Product, s.Code, s.Supplier = name, code, by
		s.Revision, s.Version, s.Supersedes, s.Printed, s.RevisionsList = revised, version, "", "", false
		s.Emergency = "+00 555 112 112"
		return s, nil
	}
}

// Workshop describes the demo: the boat and board co-operative on Lantern Quay, its products and what is wrong with
// their papers. Everything in it is invented.
func Workshop() Place {
	return Place{
		Name:  "Lantern Quay Boat & Board Co-operative",
		Where: "Shed 3, Lantern Quay, Tarn Quay",
		About: "Seven people repair wooden and glass-fibre boats and shape surfboards in two rooms over the water.",
		Rooms: []Room{
			{"hull bay", 240, 2, "roller door to the slip, mostly open in summer"},
			{"board room", 62, 0.8, "shaping and glassing; one window; door to the loft stair"},
			{"loft", 48, 0.5, "office; two children and a parrot are here after school"},
		},
		People: []string{"Marit", "Osei", "Ludo", "Pilar", "Hanne", "Tomasz", "Ines"},
		Kits: []Kit{
			{"Murrelam laminating epoxy", []KitPart{{"murrelam-a", 76.9}, {"murrelam-b", 23.1}}},
			{"Pontufoam flotation foam", []KitPart{{"pontufoam-a", 51}, {"pontufoam-b", 49}}},
			{"Kelphull polyester with catalyst", []KitPart{{"kelphull", 98.5}, {"kelphull-catalyst", 1.5}}},
		},
		Products: items(),
	}
}

func items() []Item {
	return []Item{
		{ID: "murrelam-a", Name: "Murrelam Resin A", Rules: ghs.EUCLP, Lang: ghs.English, Where: "board room", Amount: "12 kg", layout: 9, Clean: true,
			build: named("epoxy resin", "Murrelam Resin A", "ML-100", skerryholt, "2025-11-04", "5.1", ghs.English, ghs.EUCLP,
				share("1675-54-3", 78, 70, 80), share("68609-97-2", 14, 10, 20)),
			labelDrop: dropPictogram(ghs.Environment),
			boasts:    true, claims: "Murrelam Resin A\nClear as a rock pool. 100 % solids. Odourless, so the family can stay in the room.\n"},
		{ID: "murrelam-b", Name: "Murrelam Hardener B", Rules: ghs.EUCLP, Lang: ghs.English, Where: "board room", Amount: "4 kg", layout: 15,
			build: named("amine hardener", "Murrelam Hardener B", "ML-200", skerryholt, "2025-11-04", "5.0", ghs.English, ghs.EUCLP,
				share("2855-13-2", 44, 40, 50), share("9046-10-0", 27, 25, 30), share("100-51-6", 24, 20, 27)),
			fault:  []string{"corrosive-as-irritant"},
			before: "2023-02-10",
			boasts: true, claims: "Murrelam Hardener B\nThe gentle hardener: only mildly irritating, no special gloves needed.\n"},
		{ID: "brinequick", Name: "Brinequick Clear Penetrant", Rules: ghs.USHCS2024, Lang: ghs.English, Where: "hull bay", Amount: "2 gal", layout: 2,
			build: named("epoxy resin", "Brinequick Clear Penetrant", "BQ-7", oxwrack, "2025-02-19", "2", ghs.English, ghs.USHCS2024,
				share("25068-38-6", 62, 60, 70), share("100-51-6", 22, 20, 24), share("16096-31-4", 12, 10, 15)),
			fault:  []string{"missed-skin-sensitiser"},
			boasts: true, claims: "Brinequick Clear Penetrant\nNo VOC! No solvents, no fumes. Soaks into tired timber and is food safe once cured.\n"},
		{ID: "kelphull", Name: "Kelphull Layup Resin", Rules: ghs.CAHPR, Lang: ghs.English, Where: "hull bay", Amount: "60 kg", layout: 14, Clean: true,
			build: named("polyester resin", "Kelphull Layup Resin", "KH-40", dunlin, "2025-06-30", "3.2", ghs.English, ghs.CAHPR,
				share("100-42-5", 38, 35, 40), share("136-52-7", 0.4, 0.3, 0.5), polymer("unsaturated polyester, polymer", 60, 55, 65)),
			extra:  hearing,
			before: "2022-03-14",
			claims: "Kelphull Layup Resin\nLow odour laminating resin. Use with plenty of fresh air.\n"},
		{ID: "kelphull-catalyst", Name: "Kelphull Catalyst M", Rules: ghs.CAHPR, Lang: ghs.English, Where: "peroxide cupboard", Amount: "3 l", layout: 1,
			build: named("peroxide catalyst", "Kelphull Catalyst M", "KH-49", dunlin, "2025-06-30", "3.0", ghs.English, ghs.CAHPR,
				share("1338-23-4", 34, 30, 40), share("131-11-3", 60, 55, 65), share("78-93-3", 2, 1, 3)),
			fault: []string{"cas-check-digit"}},
		{ID: "halyen-wash", Name: "Halyenwick Brush Wash", Rules: ghs.USHCS2024, Lang: ghs.English, Where: "flammables cabinet", Amount: "5 gal", layout: 11, Scan: true,
			build: named("solvent cleaner", "Halyenwick Brush Wash", "HB-3", oxwrack, "2024-09-12", "4", ghs.English, ghs.USHCS2024,
				share("67-64-1", 55, 50, 60), share("123-86-4", 25, 20, 30), share("67-63-0", 20, 15, 25)),
			fault:  []string{"flash-above-class"},
			boasts: true, claims: "Halyenwick Brush Wash\nNon-flammable formula, biodegradable. No respirator needed.\n"},
		{ID: "pontufoam-a", Name: "Pontufoam Part A", Rules: ghs.USHCS2024, Lang: ghs.English, Where: "hull bay", Amount: "20 kg", layout: 3,
			build: named("isocyanate part", "Pontufoam Part A", "PF-A", foamwick, "2025-04-07", "6", ghs.English, ghs.USHCS2024,
				share("9016-87-9", 56, 50, 60), share("101-68-8", 42, 40, 45)),
			fault: []string{"signal-caution"}},
		{ID: "pontufoam-b", Name: "Pontufoam Part B", Rules: ghs.USHCS2024, Lang: ghs.English, Where: "hull bay", Amount: "20 kg", layout: 13, Clean: true,
			build: named("polyol part", "Pontufoam Part B", "PF-B", foamwick, "2025-04-07", "6", ghs.English, ghs.USHCS2024,
				share("13674-84-5", 15, 12, 16), share("102-71-6", 4, 3, 5), polymer("polyether polyol, polymer", 78, 75, 80)),
			claims: "Pontufoam Part B\nFills buoyancy tanks in minutes.\n"},
		{ID: "strandlicht-uv", Name: "Watterglanz UV-Lack", Rules: ghs.EUCLP, Lang: ghs.German, Where: "board room", Amount: "3 kg", layout: 5,
			build: named("ultraviolet resin", "Watterglanz UV-Lack", "WG-12", watter, "2025-08-21", "1.4", ghs.German, ghs.EUCLP,
				share("42978-66-5", 30, 25, 35), share("5888-33-5", 22, 20, 24), share("75980-60-8", 1.5, 1, 2.5), polymer("urethane acrylate, polymer", 44, 40, 50)),
			fault:  []string{"range-over-wide"},
			boasts: true, claims: "Watterglanz UV-Lack\nLösemittelfrei, geruchsneutral, ungiftig.\n"},
		{ID: "goelbrume", Name: "Goëlbrume Vernis Espar", Rules: ghs.EUCLP, Lang: ghs.French, Where: "flammables cabinet", Amount: "6 l", layout: 12, Clean: true,
			build: named("polyurethane varnish", "Goëlbrume Vernis Espar", "VE-5", goelette, "2025-01-15", "2.3", ghs.French, ghs.EUCLP,
				share("1330-20-7", 14, 12, 16), share("123-86-4", 17, 15, 19), polymer("alkyd resin, polymer", 60, 55, 65)),
			claims: "Goëlbrume Vernis Espar\nPour mâts et espars. Sans plomb.\n"},
		{ID: "tarnwick-fairing", Name: "Tarnwick Fairing Compound", Rules: ghs.USHCS2012, Lang: ghs.English, Where: "hull bay", Amount: "8 kg", layout: 6,
			build: named("polyester filler", "Tarnwick Fairing Compound", "TF-2", house("Tarnwick Paint Works", "4 Capstan Row", "Skerrymouth", "+00 555 270 016", ""),
				"2003-05-12", "", ghs.English, ghs.USHCS2012, share("100-42-5", 17, 15, 19), share("14807-96-6", 35, 30, 40)),
			extra: beforeGHS, fault: []string{"revision-old"},
			claims: "Tarnwick Fairing Compound\nSpreads like butter, sands in an hour. CAUTION: irritant.\n"},
	}
}

// hearing names the organ that repeated exposure to styrene harms (harmonised entry of styrene, from memory).
func hearing(s *sheetprint.Spec) { s.Organs = map[ghs.Code]string{"H372": "the hearing organs"} }

// beforeGHS turns a sheet into one written before GHS: risk phrases and an overview in sentences.
func beforeGHS(s *sheetprint.Spec) {
	s.PreGHS, s.RiskPhrases = true, []string{"R10", "R20", "R36/38"}
	s.ExtraPhrases = []string{"CAUTION! Flammable paste. Harmful by inhalation. Irritating to eyes and skin."}
	s.Classes, s.Statements, s.Pictograms, s.Precautions, s.SignalWord = nil, nil, nil, nil, ""
	s.Unknown = nil
}
