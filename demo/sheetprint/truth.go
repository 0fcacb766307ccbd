package sheetprint

import (
	"bytes"
	"encoding/json"

	"sixteen/ghs"
)

// Truth is what a reader must find in a printed sheet, as printed: values are rounded as the page shows them.
// Its JSON is what the sheet scorer reads. Nil and null mean that the sheet does not say.
type Truth struct {
	ID               string           `json:"id"`
	Kind             string           `json:"kind"` // text or scan
	Language         string           `json:"language"`
	Jurisdiction     string           `json:"jurisdiction"` // rule set
	Format           string           `json:"format"`       // name of the layout
	Pages            int              `json:"pages"`
	Product          string           `json:"product_name"`
	Supplier         string           `json:"supplier"`
	EmergencyPhone   string           `json:"emergency_phone,omitempty"`
	RevisionDate     *string          `json:"revision_date"`
	SupersedesDate   *string          `json:"supersedes_date,omitempty"`
	Version          string           `json:"version,omitempty"`
	SignalWord       *string          `json:"signal_word"` // in English
	SignalPrinted    string           `json:"signal_printed,omitempty"`
	Pictograms       []string         `json:"pictograms"`
	HCodes           []string         `json:"h_codes"`
	FromPhrases      bool             `json:"from_phrases"`
	EUHCodes         []string         `json:"euh_codes,omitempty"`
	RPhrases         []string         `json:"r_phrases,omitempty"`
	Classification   []string         `json:"classification"`
	PCodes           []string         `json:"p_codes"`
	UnknownToxicity  []UnknownTruth   `json:"unknown_toxicity,omitempty"`
	Ingredients      []IngredientTrue `json:"ingredients"`
	FlashPointC      *QuantityTrue    `json:"flash_point_c"`
	BoilingPointC    *QuantityTrue    `json:"boiling_point_c"`
	Density          *QuantityTrue    `json:"density"`
	VapourPressure   *QuantityTrue    `json:"vapour_pressure"`
	PH               *QuantityTrue    `json:"ph"`
	VOC              *QuantityTrue    `json:"voc"`
	LowerFlammable   *QuantityTrue    `json:"lower_flammable,omitempty"`
	UpperFlammable   *QuantityTrue    `json:"upper_flammable,omitempty"`
	AutoIgnitionC    *QuantityTrue    `json:"auto_ignition_c,omitempty"`
	KinematicVisc    *QuantityTrue    `json:"kinematic_viscosity,omitempty"`
	DynamicVisc      *QuantityTrue    `json:"dynamic_viscosity,omitempty"`
	ToxValues        []ToxTrue        `json:"tox_values,omitempty"`
	Carcinogens      []CarcinogenTrue `json:"carcinogens,omitempty"`
	UN               *string          `json:"un_number"`
	TransportClass   *string          `json:"transport_class"`
	PackingGroup     *string          `json:"packing_group"`
	TransportClear   bool             `json:"not_regulated,omitempty"`
	Ratings          RatingsTrue      `json:"ratings"`
	ExposureLimits   []LimitTrue      `json:"exposure_limits"`
	GloveMaterials   []string         `json:"glove_materials,omitempty"`
	SectionsFound    []SectionTrue    `json:"sections_found"`
	HeadingNumbers   string           `json:"heading_numbers"` // arabic, roman, none
	PictogramsDrawn  bool             `json:"pictograms_drawn"`
	PlantedFaultKind string           `json:"planted_fault,omitempty"`
	Notes            string           `json:"notes,omitempty"`
}

// SectionTrue is one heading: its number as printed (or its place where headings carry no number), the page, and the
// number that the same subject has in the present order.
type SectionTrue struct {
	Section int `json:"section"`
	Page    int `json:"page"`
	Means   int `json:"means"`
}

// IngredientTrue is one ingredient as printed.
type IngredientTrue struct {
	Name       string   `json:"name"`
	CAS        *string  `json:"cas"`
	EC         string   `json:"ec,omitempty"`
	PercentMin *float64 `json:"percent_min"`
	MinOp      string   `json:"percent_min_op,omitempty"`
	PercentMax *float64 `json:"percent_max"`
	MaxOp      string   `json:"percent_max_op,omitempty"`
	HCodes     []string `json:"h_codes,omitempty"`
	Secret     bool     `json:"secret,omitempty"`
}

// QuantityTrue is one quantity as printed. Either Value or Min and Max are given.
type QuantityTrue struct {
	Value   *float64 `json:"value,omitempty"`
	Op      string   `json:"op,omitempty"`
	Min     *float64 `json:"min,omitempty"`
	Max     *float64 `json:"max,omitempty"`
	Unit    string   `json:"unit,omitempty"`
	Cup     string   `json:"cup,omitempty"`
	Method  string   `json:"method,omitempty"`
	AtC     *float64 `json:"at_c,omitempty"`
	Printed string   `json:"printed"`
}

// LimitTrue is one exposure limit in one unit.
type LimitTrue struct {
	CAS    string  `json:"cas"`
	Name   string  `json:"name_of_limit"`
	Type   string  `json:"type"` // TWA, STEL, C
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Remark string  `json:"remark,omitempty"`
}

// ToxTrue is one acute toxicity value as printed.
type ToxTrue struct {
	CAS     string  `json:"cas,omitempty"`
	Measure string  `json:"measure"`
	Route   string  `json:"route"`
	Op      string  `json:"op,omitempty"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
}

// CarcinogenTrue is one listing by an agency as printed.
type CarcinogenTrue struct {
	CAS    string `json:"cas"`
	Agency string `json:"agency"`
	Group  string `json:"group"`
}

// UnknownTruth is one sentence on unknown acute toxicity.
type UnknownTruth struct {
	Percent float64 `json:"percent"`
	Route   string  `json:"route,omitempty"`
}

// RatingsTrue are the 0–4 ratings as printed.
type RatingsTrue struct {
	NFPA *NFPATrue `json:"nfpa"`
	HMIS *HMISTrue `json:"hmis"`
}

// NFPATrue is the four-field diamond without its special field.
type NFPATrue struct {
	H int `json:"h"`
	F int `json:"f"`
	R int `json:"r"`
}

// HMISTrue is the bar rating; H is a number, or text where an asterisk follows it.
type HMISTrue struct {
	H   any     `json:"h"`
	F   int     `json:"f"`
	P   int     `json:"p"`
	PPE *string `json:"ppe"`
}

// JSON is the truth record, indented, with a line end.
func (t Truth) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(t)
	return b.Bytes(), err
}

func codeStrings(cs []ghs.Code) []string {
	out := make([]string, 0, len(cs))
	for _, c := range cs {
		out = append(out, string(c))
	}
	return out
}
