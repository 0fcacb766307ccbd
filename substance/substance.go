// Package substance holds reference facts about single substances by CAS number, EC number and name: physical data,
// classifications and exposure limits, every value with its source.
//
//	data/*.csv (embedded) ──┐
//	user's own tables ──────┴─► Table ─► ByCAS, ByEC, Search
package substance

import "sixteen/ghs"

// Source names where a value comes from. Memory marks a value that was recalled and not looked up in a publication; it
// must be shown as such.
type Source struct {
	Text   string `json:"text"`
	Memory bool   `json:"memory,omitempty"`
}

// Value is one number with its source. The zero Value is unknown.
type Value struct {
	Known  bool    `json:"known"`
	V      float64 `json:"v"`
	Source Source  `json:"source"`
}

// Substance is one row of the table. Units are in the names; densities at 20 °C, vapour pressure at 20 °C.
type Substance struct {
	CAS      string   `json:"cas"`
	EC       string   `json:"ec,omitempty"`
	Name     string   `json:"name"`
	Synonyms []string `json:"synonyms,omitempty"`
	Family   string   `json:"family"`
	Formula  string   `json:"formula,omitempty"`

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
	A, B, C, TminK, TmaxK float64
	Source                Source
}

// Authority tells who stands behind a classification. Harmonised entries are law where their rule set applies; the
// others are what suppliers or notifiers commonly state.
type Authority string

// Authorities.
const (
	Harmonised Authority = "harmonised" // EU Annex VI
	Notified   Authority = "notified"   // consensus of notifiers
	Supplier   Authority = "supplier"   // typical supplier data
	Imported   Authority = "imported"   // from a user's own official table
)

// Classification is one hazard of a substance by one authority. Hazard zero with NotClassified set states that the
// authority typically gives none.
type Classification struct {
	Authority     Authority       `json:"authority"`
	Hazard        ghs.Hazard      `json:"hazard"`
	NotClassified bool            `json:"not_classified,omitempty"`
	Code          ghs.Code        `json:"code"`
	Limits        []SpecificLimit `json:"limits,omitempty"`
	MFactor       float64         `json:"m_factor,omitempty"` // 0 when none
	ATE           []ATE           `json:"ate,omitempty"`
	OnlyByLimit   bool            `json:"only_by_limit,omitempty"` // applies only through the specific limit
	Source        Source          `json:"source"`
	Check         string          `json:"check,omitempty"` // what is still doubtful
}

// SpecificLimit: the mixture is classified Hazard when the share lies between From and To percent by mass. To is 100
// when only a lower limit is given; open ends exclude the number itself.
type SpecificLimit struct {
	Hazard           ghs.Hazard
	From, To         float64
	FromOpen, ToOpen bool
	Printed          string
}

// ATE is an acute toxicity estimate by route: mg/kg, or mg/l for vapour, dust and mist, or ppm for gases.
type ATE struct {
	Route ghs.Qualifier
	Value float64
}

// Limit is one workplace exposure limit. Zero means that unit is not given.
type Limit struct {
	Authority  string  `json:"authority"` // "OSHA PEL", "NIOSH REL", "EU IOELV", "UK WEL", "DE AGW", "Ontario"
	Kind       string  `json:"kind"`      // TWA, STEL, ceiling
	PPM        float64 `json:"ppm"`
	MgM3       float64 `json:"mg_m3"`
	Skin       bool    `json:"skin,omitempty"`
	Sensitiser bool    `json:"sensitiser,omitempty"`
	Source     Source  `json:"source"`
	Check      string  `json:"check,omitempty"`
}
