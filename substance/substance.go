package substance

import "sixteen/ghs"

// Source names where a value comes from. Memory marks a value that was recalled and not looked up in a publication; it
// must be shown as such.
//
// ID is the row of data/sources.csv (see docs/sources.md), empty for imported tables. Evidence counts what stands behind
// this one value ("27 sheets of 5 issuers, 2015-2025"). CheckAt tells where a recalled value can be looked up.
type Source struct {
	ID       string `json:"id,omitempty"`
	Text     string `json:"text"`
	Evidence string `json:"evidence,omitempty"`
	Memory   bool   `json:"memory,omitempty"`
	CheckAt  string `json:"check_at,omitempty"`
}

// Value is one number with its source. The zero Value is unknown. AtLeast marks a number the true value lies above.
type Value struct {
	Known   bool    `json:"known"`
	V       float64 `json:"v"`
	AtLeast bool    `json:"at_least,omitempty"`
	Source  Source  `json:"source"`
}

// Synonym is another name of a substance. Lang is empty for names used in every language: short names and formulas.
type Synonym struct {
	Text string   `json:"text"`
	Lang ghs.Lang `json:"lang,omitempty"`
}

// Substance is one row of the table. Units are in the names; densities at 20 °C, vapour pressure at 20 °C.
type Substance struct {
	CAS      string    `json:"cas"`
	EC       string    `json:"ec,omitempty"`
	ECSource Source    `json:"ec_source"`
	Name     string    `json:"name"`
	Synonyms []Synonym `json:"synonyms,omitempty"`
	Family   string    `json:"family"`
	Formula  string    `json:"formula,omitempty"`

	MolarMassGMol     Value    `json:"molar_mass_g_mol"`
	DensityKgM3       Value    `json:"density_kg_m3"`
	BoilingPointC     Value    `json:"boiling_point_c"`
	MeltingPointC     Value    `json:"melting_point_c"`
	VapourPressurePa  Value    `json:"vapour_pressure_pa"`
	FlashPointC       Value    `json:"flash_point_c"`
	LowerFlammablePct Value    `json:"lower_flammable_pct"`
	UpperFlammablePct Value    `json:"upper_flammable_pct"`
	AutoIgnitionC     Value    `json:"auto_ignition_c"`
	LogKow            Value    `json:"log_kow"`
	HansenD           Value    `json:"hansen_d"` // MPa^0.5
	HansenP           Value    `json:"hansen_p"`
	HansenH           Value    `json:"hansen_h"`
	Antoine           *Antoine `json:"antoine,omitempty"`
	IARC              string   `json:"iarc,omitempty"`
	IARCSource        Source   `json:"iarc_source"`
	NTP               string   `json:"ntp,omitempty"`
	NTPSource         Source   `json:"ntp_source"`

	Classifications []Classification `json:"classifications,omitempty"`
	Limits          []Limit          `json:"limits,omitempty"`
}

// Antoine is log10(p/Pa) = A − B/(T/K + C), valid from TminK to TmaxK.
type Antoine struct {
	A      float64 `json:"a"`
	B      float64 `json:"b"`
	C      float64 `json:"c"`
	TminK  float64 `json:"tmin_k"`
	TmaxK  float64 `json:"tmax_k"`
	Source Source  `json:"source"`
}

// Authority tells who stands behind a classification. Harmonised entries are law where their rule set applies; the
// others are what suppliers or notifiers commonly state.
type Authority string

// Authorities.
const (
	Harmonised Authority = "harmonised" // EU Annex VI
	Notified   Authority = "notified"   // consensus of notifiers
	Supplier   Authority = "supplier"   // typical supplier data
	Derived    Authority = "derived"    // criteria of the standard applied to data held, where nobody's statement is held
	Imported   Authority = "imported"   // from a user's own official table
)

// Classification is one hazard of a substance by one authority. Hazard zero with NotClassified set states that the
// authority typically gives none; hazard zero with a Code is a supplemental statement ("EUH066").
//
// Source speaks of the class. DetailSource speaks of Limits, MFactor and ATE, which may be recalled where the class is
// not. RuleSets says where an imported entry applies; it is empty for embedded entries, where Harmonised applies in
// the rule sets that adopt Annex VI.
type Classification struct {
	Authority     Authority       `json:"authority"`
	Hazard        ghs.Hazard      `json:"hazard"`
	NotClassified bool            `json:"not_classified,omitempty"`
	Code          ghs.Code        `json:"code"`
	Limits        []SpecificLimit `json:"limits,omitempty"`
	MFactor       float64         `json:"m_factor,omitempty"` // 0 when none
	ATE           []ATE           `json:"ate,omitempty"`
	OnlyByLimit   bool            `json:"only_by_limit,omitempty"` // applies only through the specific limit
	Detail        string          `json:"detail,omitempty"`        // organ or route: "central nervous system"
	Note          string          `json:"note,omitempty"`          // letters of Annex VI notes that condition the class, see NoteText
	RuleSets      []ghs.RuleSet   `json:"rule_sets,omitempty"`
	Source        Source          `json:"source"`
	DetailSource  Source          `json:"detail_source"`
	Check         string          `json:"check,omitempty"` // what is still doubtful
}

// SpecificLimit: the mixture is classified Hazard when the share lies between From and To percent by mass. To is 100
// when only a lower limit is given; open ends exclude the number itself.
type SpecificLimit struct {
	Hazard   ghs.Hazard `json:"hazard"`
	From     float64    `json:"from"`
	To       float64    `json:"to"`
	FromOpen bool       `json:"from_open,omitempty"`
	ToOpen   bool       `json:"to_open,omitempty"`
	Printed  string     `json:"printed"`
}

// ATE is an acute toxicity estimate by route: mg/kg, or mg/l for vapour, dust and mist, or ppm for gases.
type ATE struct {
	Route ghs.Qualifier `json:"route"`
	Value float64       `json:"value"`
	Unit  string        `json:"unit"` // "mg/kg", "mg/l" or "ppm"
}

// Kinds of exposure limit.
const (
	TWA     = "TWA"     // mean over a shift of 8 h
	STEL    = "STEL"    // mean over 15 min
	Ceiling = "ceiling" // never to be exceeded
)

// Limit is one workplace exposure limit. Zero means that unit is not given. Basis is the fraction or the "as ..." basis
// the figure is stated for ("respirable fraction", "as Cu"). Computed marks an MgM3 that was worked out from PPM at
// 25 °C and is not printed in the table. Skin and Sensitiser false mean "not recorded", not "no notation".
type Limit struct {
	Authority  string  `json:"authority"` // "OSHA PEL", "NIOSH REL", "EU IOELV", "UK WEL", "DE AGW", "Ontario OEL"
	Kind       string  `json:"kind"`      // TWA, STEL, ceiling
	PPM        float64 `json:"ppm"`
	MgM3       float64 `json:"mg_m3"`
	Skin       bool    `json:"skin,omitempty"`
	Sensitiser bool    `json:"sensitiser,omitempty"`
	Basis      string  `json:"basis,omitempty"`
	Computed   bool    `json:"computed,omitempty"`
	Source     Source  `json:"source"`
	Check      string  `json:"check,omitempty"`
	Borrowed   bool    `json:"borrowed,omitempty"` // of another place than was asked for; see Substance.Borrowed
}
