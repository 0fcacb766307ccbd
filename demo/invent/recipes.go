package invent

// slot is one place in a recipe: one of several substances, present with some probability, in a span of shares (% by
// mass).
type slot struct {
	cas    []string
	lo, hi float64
	chance float64 // 0 means always
}

// recipe is a kind of product of the trade. Spans are typical of the trade ("common practice"), no maker's formula.
type recipe struct {
	kind     string
	words    []string // of the invented product name
	use      map[string]string
	slots    []slot
	fill     []string // CAS of what makes up the rest; none leaves an undisclosed remainder
	polymer  string   // what part of the remainder is called when it is listed
	state    string
	colour   string
	odour    string
	ph       float64 // 0 when no pH is stated
	thin     bool    // kinematic viscosity below the aspiration bound
	peroxide string  // type of an organic peroxide mixture, "D"
	un       string  // UN entry when the class of the mixture alone does not tell
	shipping string
}

var recipes = []recipe{
	{kind: "epoxy resin", words: []string{"Laminating Resin A", "Casting Resin", "Part A"},
		use:   map[string]string{"en": "Epoxy resin for laminating", "fr": "Résine époxyde à stratifier", "de": "Epoxidharz zum Laminieren", "es": "Resina epoxi para laminar"},
		slots: []slot{{[]string{"1675-54-3", "25068-38-6"}, 55, 85, 0}, {[]string{"9003-36-5"}, 5, 20, .4}, {[]string{"68609-97-2", "16096-31-4", "2425-79-8"}, 5, 20, .7}, {[]string{"100-51-6"}, 2, 8, .3}},
		state: "liquid", colour: "clear", odour: "mild", un: "3082", shipping: "ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S. (epoxy resin)"},
	{kind: "amine hardener", words: []string{"Hardener B", "Slow Hardener", "Part B"},
		use:     map[string]string{"en": "Hardener for epoxy resin", "fr": "Durcisseur pour résine époxyde", "de": "Härter für Epoxidharz", "es": "Endurecedor para resina epoxi"},
		slots:   []slot{{[]string{"2855-13-2", "1477-55-0", "112-24-3", "1761-71-3"}, 10, 45, 0}, {[]string{"9046-10-0"}, 15, 45, .6}, {[]string{"100-51-6"}, 15, 40, .7}, {[]string{"90-72-2"}, 1, 8, .3}},
		polymer: "polyamine adduct, polymer", state: "liquid", colour: "yellow", odour: "amine", ph: 11.2, un: "2735", shipping: "AMINES, LIQUID, CORROSIVE, N.O.S."},
	{kind: "polyester resin", words: []string{"Hull Resin", "Layup Resin"},
		use:     map[string]string{"en": "Polyester resin for hulls", "fr": "Résine polyester pour coques", "de": "Polyesterharz für Rümpfe", "es": "Resina poliéster para cascos"},
		slots:   []slot{{[]string{"100-42-5"}, 30, 45, 0}, {[]string{"136-52-7"}, 0.1, 0.8, .7}, {[]string{"112945-52-5"}, 0.5, 2, .4}},
		polymer: "unsaturated polyester, polymer", state: "liquid", colour: "amber", odour: "sweet", un: "1866", shipping: "RESIN SOLUTION"},
	{kind: "gelcoat", words: []string{"Gelcoat White", "Topcoat"},
		use:   map[string]string{"en": "Gelcoat for boats", "fr": "Gelcoat pour bateaux", "de": "Gelcoat für Boote", "es": "Gelcoat para barcos"},
		slots: []slot{{[]string{"100-42-5"}, 20, 35, 0}, {[]string{"80-62-6"}, 2, 10, .7}, {[]string{"13463-67-7"}, 8, 20, .7}, {[]string{"136-52-7"}, 0.1, 0.5, .5}, {[]string{"14807-96-6"}, 3, 12, .5}},
		state: "paste", colour: "white", odour: "sweet", un: "1866", shipping: "RESIN SOLUTION"},
	{kind: "peroxide catalyst", words: []string{"Catalyst P", "Curing Agent M"},
		use:   map[string]string{"en": "Catalyst for polyester resin", "fr": "Catalyseur pour résine polyester", "de": "Härter für Polyesterharz", "es": "Catalizador para resina poliéster"},
		slots: []slot{{[]string{"1338-23-4"}, 30, 38, 0}, {[]string{"131-11-3", "84-66-2"}, 45, 60, 0}, {[]string{"78-93-3"}, 1, 4, .7}},
		state: "liquid", colour: "clear", odour: "mild", peroxide: "D", un: "3105", shipping: "ORGANIC PEROXIDE TYPE D, LIQUID"},
	{kind: "solvent cleaner", words: []string{"Wash Thinner", "Brush Cleaner", "Degreaser"},
		use:   map[string]string{"en": "Cleaning solvent", "fr": "Solvant de nettoyage", "de": "Reinigungsmittel", "es": "Disolvente de limpieza"},
		slots: []slot{{[]string{"67-64-1", "78-93-3", "141-78-6", "67-63-0"}, 40, 70, 0}, {[]string{"108-88-3", "123-86-4", "1330-20-7", "108-65-6", "64-17-5"}, 10, 28, 0}},
		fill:  []string{"67-63-0", "123-86-4"}, state: "liquid", colour: "clear", odour: "solvent", thin: true, un: "1993", shipping: "FLAMMABLE LIQUID, N.O.S."},
	{kind: "polyurethane varnish", words: []string{"Deck Varnish", "Spar Varnish"},
		use:     map[string]string{"en": "Varnish for wood", "fr": "Vernis pour bois", "de": "Klarlack für Holz", "es": "Barniz para madera"},
		slots:   []slot{{[]string{"64742-95-6", "1330-20-7"}, 8, 20, 0}, {[]string{"123-86-4", "108-65-6"}, 8, 25, 0}, {[]string{"100-41-4"}, 1, 4, .5}, {[]string{"71-36-3"}, 4, 9, .4}, {[]string{"96-29-7"}, 0.1, 0.8, .4}},
		polymer: "alkyd resin, polymer", state: "liquid", colour: "amber", odour: "solvent", un: "1263", shipping: "PAINT"},
	{kind: "isocyanate part", words: []string{"Foam Part A", "Iso Component"},
		use:   map[string]string{"en": "Isocyanate part of a foam", "fr": "Composant isocyanate d'une mousse", "de": "Isocyanat-Komponente für Schaum", "es": "Componente isocianato de una espuma"},
		slots: []slot{{[]string{"9016-87-9"}, 45, 60, 0}, {[]string{"101-68-8"}, 35, 48, 0}},
		state: "liquid", colour: "amber", odour: "mild"},
	{kind: "ultraviolet resin", words: []string{"Ding Resin UV", "Clear Coat UV"},
		use:     map[string]string{"en": "Coating cured by ultraviolet light", "fr": "Revêtement durcissant aux UV", "de": "UV-härtende Beschichtung", "es": "Recubrimiento de curado UV"},
		slots:   []slot{{[]string{"13048-33-4", "42978-66-5"}, 15, 35, 0}, {[]string{"5888-33-5", "868-77-9"}, 10, 30, 0}, {[]string{"75980-60-8"}, 0.5, 3, .8}, {[]string{"15625-89-5"}, 2, 10, .4}},
		polymer: "urethane acrylate, polymer", state: "liquid", colour: "clear", odour: "mild"},
	{kind: "white spirit paint", words: []string{"Topside Enamel", "Bilge Paint"},
		use:   map[string]string{"en": "Alkyd enamel", "fr": "Laque alkyde", "de": "Alkydlack", "es": "Esmalte alquídico"},
		slots: []slot{{[]string{"64742-82-1", "64742-48-9"}, 20, 38, 0}, {[]string{"96-29-7"}, 0.1, 0.8, .6}, {[]string{"13463-67-7"}, 5, 20, .6}, {[]string{"136-52-7"}, 0.1, 0.4, .5}},
		state: "liquid", colour: "white", odour: "solvent", un: "1263", shipping: "PAINT"},
	{kind: "contact adhesive", words: []string{"Contact Glue", "Pad Glue"},
		use:     map[string]string{"en": "Contact adhesive", "fr": "Colle de contact", "de": "Kontaktklebstoff", "es": "Adhesivo de contacto"},
		slots:   []slot{{[]string{"142-82-5", "110-82-7"}, 15, 35, 0}, {[]string{"78-93-3", "141-78-6", "67-64-1"}, 15, 35, 0}, {[]string{"108-88-3"}, 5, 15, .5}},
		polymer: "chloroprene rubber, polymer", state: "liquid", colour: "amber", odour: "solvent", un: "1133", shipping: "ADHESIVES"},
	{kind: "polyester filler", words: []string{"Fairing Filler", "Keel Filler"},
		use:   map[string]string{"en": "Filler for fairing", "fr": "Mastic de lissage", "de": "Spachtelmasse", "es": "Masilla de alisado"},
		slots: []slot{{[]string{"100-42-5"}, 12, 22, 0}, {[]string{"14807-96-6"}, 20, 40, 0}, {[]string{"471-34-1"}, 8, 20, .5}},
		state: "paste", colour: "white", odour: "sweet", un: "1866", shipping: "RESIN SOLUTION"},
	{kind: "alkaline cleaner", words: []string{"Hull Wash", "Bilge Cleaner"},
		use:   map[string]string{"en": "Alkaline cleaner", "fr": "Nettoyant alcalin", "de": "Alkalischer Reiniger", "es": "Limpiador alcalino"},
		slots: []slot{{[]string{"1310-73-2"}, 2.5, 8, 0}, {[]string{"111-76-2"}, 2, 8, .7}},
		state: "liquid", colour: "yellow", odour: "mild", ph: 13.2, un: "1824", shipping: "SODIUM HYDROXIDE SOLUTION"},
	{kind: "rust remover", words: []string{"Rust Dip", "Chrome Bath"},
		use:   map[string]string{"en": "Acid rust remover", "fr": "Dérouillant acide", "de": "Saurer Rostentferner", "es": "Desoxidante ácido"},
		slots: []slot{{[]string{"7664-38-2"}, 26, 40, 0}, {[]string{"112-34-5"}, 1, 5, .5}},
		state: "liquid", colour: "clear", odour: "mild", ph: 1.1, un: "1805", shipping: "PHOSPHORIC ACID SOLUTION"},
	{kind: "water-based glue", words: []string{"Mould Release W", "Wood Glue W"},
		use:   map[string]string{"en": "Water-based adhesive", "fr": "Colle en phase aqueuse", "de": "Klebstoff auf Wasserbasis", "es": "Adhesivo al agua"},
		slots: []slot{{[]string{"57-55-6"}, 2, 6, 0}, {[]string{"471-34-1"}, 5, 20, .6}},
		state: "liquid", colour: "white", odour: "mild", ph: 7.6},
	{kind: "polyol part", words: []string{"Foam Part B", "Polyol Component"},
		use:     map[string]string{"en": "Polyol part of a foam", "fr": "Composant polyol d'une mousse", "de": "Polyol-Komponente für Schaum", "es": "Componente poliol de una espuma"},
		slots:   []slot{{[]string{"13674-84-5"}, 10, 24, 0}, {[]string{"102-71-6", "111-46-6"}, 2, 8, .8}, {[]string{"3033-62-3"}, 0.1, 0.9, .3}},
		polymer: "polyether polyol, polymer", state: "liquid", colour: "yellow", odour: "amine"},
}

// firstNames and lastNames make product and house names that are nobody's: invented compounds.
var (
	firstNames = []string{"Brine", "Kelp", "Tarn", "Skerry", "Ostrel", "Murre", "Halyen", "Dunlin", "Crake", "Thwart", "Windle", "Samphi", "Lugwort", "Pintle", "Garbo", "Marram", "Sprat", "Eddy", "Quill", "Wrack"}
	lastNames  = []string{"fell", "mere", "holt", "wick", "garth", "combe", "stead", "nook", "bourne", "thorpe", "lund", "haven", "croft", "dene"}
	houseNames = []string{"Coatings Works", "Resin House", "Boat Stores", "Chemical Supply", "Finishes", "Marine Paint Works"}
	streets    = []string{"4 Capstan Row", "17 Tidewall Lane", "2 Slipway Yard", "88 Ropewalk", "31 Lantern Street", "9 Netloft Court"}
	towns      = []string{"Port Ostrel", "Wrackhaven", "Low Marram", "Skerrymouth", "Tarn Quay"}
)
