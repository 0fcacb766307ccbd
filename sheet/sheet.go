package sheet

import (
	"sixteen/ghs"
)

// Sheet is one safety data sheet document in one revision. Percentages are percent by mass unless the sheet says
// otherwise. Slices hold facts in reading order.
type Sheet struct {
	Source   Source        `json:"source"`
	Sections [17]Section   `json:"sections"` // index 1 … 16; index 0 is what stands before the first heading
	Problems []ReadProblem `json:"problems"` // what could not be read, said plainly

	Language     Fact[ghs.Lang]    `json:"language"`
	Jurisdiction Fact[ghs.RuleSet] `json:"jurisdiction"` // the rule set the sheet appears to be written for, with the words that say so
	PreGHS       Fact[bool]        `json:"pre_ghs"`      // written under law older than GHS (R-phrases, old symbols, MSDS)

	Identification Identification    `json:"identification"` // section 1 and the document's own dates
	Hazards        Hazards           `json:"hazards"`        // section 2, of the product only
	Composition    Composition       `json:"composition"`    // section 3
	Control        Control           `json:"control"`        // section 8
	Physical       Physical          `json:"physical"`       // section 9
	Toxicology     Toxicology        `json:"toxicology"`     // section 11
	Ecology        Ecology           `json:"ecology"`        // section 12
	Transport      []Fact[Transport] `json:"transport"`      // section 14, one per mode or one for all
	Ratings        []Fact[Rating]    `json:"ratings"`        // 0–4 ratings wherever printed

	Parts []*Sheet `json:"parts,omitempty"` // when one document covers several parts of a kit; the top level is the first part
}

// Source describes the document a sheet was read from.
type Source struct {
	Name   string     `json:"name"`   // file name, no folders
	SHA256 string     `json:"sha256"` // of the document's bytes, hex
	Format string     `json:"format"` // pdf, html, docx, text, image
	Pages  []PageSize `json:"pages"`
	Kind   string     `json:"kind"` // text, scan, mixed
}

// PageSize is the size of one page as shown, in points.
type PageSize struct {
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	OCR    bool    `json:"ocr,omitempty"`  // its words come from optical character recognition
	Lost   string  `json:"lost,omitempty"` // why the page could not be read, "" when it was
}

// Section is one of the sixteen sections as found in the document. Text keeps its lines in reading order.
type Section struct {
	Found   bool     `json:"found"`
	Heading Evidence `json:"heading"`
	Text    []Line   `json:"text,omitempty"`
}

// Line is one line of a section's text in reading order, with its place.
type Line struct {
	Text string `json:"text"`
	Page int    `json:"page"`
	Box  Rect   `json:"box"`
}

// ReadProblem says what could not be read and what a person can do about it.
type ReadProblem struct {
	Section int    `json:"section"` // 0 when it concerns the whole document
	Page    int    `json:"page"`    // 0 when it concerns no page in particular
	What    string `json:"what"`
	Do      string `json:"do"`
}

// Identification is section 1 and the document's dates. Dates are ISO 8601 (YYYY-MM-DD).
type Identification struct {
	ProductName     Fact[string] `json:"product_name"`
	ProductCode     Fact[string] `json:"product_code"`
	UFI             Fact[string] `json:"ufi"`
	Uses            Fact[string] `json:"uses"`
	UsesAgainst     Fact[string] `json:"uses_against"`
	Supplier        Fact[string] `json:"supplier"` // name
	SupplierAddress Fact[string] `json:"supplier_address"`
	SupplierPhone   Fact[string] `json:"supplier_phone"`
	SupplierEmail   Fact[string] `json:"supplier_email"`
	EmergencyPhone  Fact[string] `json:"emergency_phone"`
	RevisionDate    Fact[string] `json:"revision_date"`
	IssueDate       Fact[string] `json:"issue_date"`
	PrintDate       Fact[string] `json:"print_date"`
	SupersedesDate  Fact[string] `json:"supersedes_date"`
	Version         Fact[string] `json:"version"`
}

// Hazards is section 2: the product's own classification and label elements, never those of its ingredients.
type Hazards struct {
	Classified      State                  `json:"classified"` // Stated, NoneStated ("not classified") or NotStated
	ClassifiedAt    []Evidence             `json:"classified_at,omitempty"`
	Classification  []Fact[ClassStatement] `json:"classification"`
	Statements      []Fact[Statement]      `json:"statements"`   // H and EUH statements
	Precautions     []Fact[Statement]      `json:"precautions"`  // P statements
	RiskPhrases     []Fact[Statement]      `json:"risk_phrases"` // R-phrases and old danger symbols of sheets before GHS
	SignalWord      Fact[ghs.SignalWord]   `json:"signal_word"`
	SignalPrinted   Fact[string]           `json:"signal_printed"` // the word as printed, also when it is not one of the standard's ("Caution")
	Pictograms      []Fact[ghs.Pictogram]  `json:"pictograms"`
	PictogramState  State                  `json:"pictogram_state"`
	UnknownToxicity []Fact[UnknownShare]   `json:"unknown_toxicity"`
	OtherHazards    Fact[string]           `json:"other_hazards"`
}

// ClassStatement is one class and category as the sheet states it. Hazard is zero when the words were not understood or
// leave open which hazard they mean; Possible then lists what they may mean ("Acute Tox. 4" without a route).
type ClassStatement struct {
	Hazard   ghs.Hazard   `json:"hazard"`
	Possible []ghs.Hazard `json:"possible,omitempty"`
	Printed  string       `json:"printed"`
	Organs   string       `json:"organs,omitempty"`
	Code     ghs.Code     `json:"code,omitempty"` // the H code printed beside it, "" when none
}

// Statement is one hazard or precautionary statement. Code is "" when the phrase matched none; Phrase is as printed and
// "" when only the code is printed. FromPhrase tells that the code was concluded from the phrase.
type Statement struct {
	Code       ghs.Code `json:"code"`
	Phrase     string   `json:"phrase"`
	FromPhrase bool     `json:"from_phrase,omitempty"`
	Detail     string   `json:"detail,omitempty"` // organs, names or the like filled into the statement
}

// UnknownShare is "x % of the mixture consists of ingredients of unknown acute toxicity (route)".
type UnknownShare struct {
	Percent float64       `json:"percent"`
	Route   ghs.Qualifier `json:"route"` // NoQualifier when no route is named
	Aquatic bool          `json:"aquatic,omitempty"`
}

// Composition is section 3.
type Composition struct {
	Substance   Fact[bool]   `json:"substance"` // the sheet says that the product is one substance
	Ingredients []Ingredient `json:"ingredients"`
	State       State        `json:"state"` // NoneStated: the sheet says that nothing needs to be listed
}

// Ingredient is one row of section 3.
type Ingredient struct {
	Name        Fact[string]           `json:"name"`
	CAS         Fact[string]           `json:"cas"`                    // as printed, normalised to digits and hyphens; may fail its check digit
	CASRepaired string                 `json:"cas_repaired,omitempty"` // what was printed or recognised, when CAS was repaired by its check digit
	EC          Fact[string]           `json:"ec"`
	Index       Fact[string]           `json:"index"`
	REACH       Fact[string]           `json:"reach"`
	Percent     Fact[Quantity]         `json:"percent"` // unit "%" (mass), "% vol"
	Secret      Fact[bool]             `json:"secret"`  // name, number or share withheld
	Hazards     []Fact[ClassStatement] `json:"hazards"`
	Statements  []Fact[Statement]      `json:"statements"`
	Limits      []Fact[SpecificLimit]  `json:"limits"`
	MAcute      Fact[float64]          `json:"m_acute"`
	MChronic    Fact[float64]          `json:"m_chronic"`
	ATE         []Fact[ToxValue]       `json:"ate"`
}

// SpecificLimit is a specific concentration limit: within Percent the mixture is classified Hazard.
type SpecificLimit struct {
	Hazard  ghs.Hazard `json:"hazard"`
	Percent Interval   `json:"percent"`
	Printed string     `json:"printed"`
}

// Control is section 8.
type Control struct {
	Limits      []Fact[ExposureLimit] `json:"limits"`
	LimitsState State                 `json:"limits_state"`
	Engineering Fact[string]          `json:"engineering"`
	Eyes        Fact[string]          `json:"eyes"`
	Hands       Fact[Gloves]          `json:"hands"`
	Skin        Fact[string]          `json:"skin"`
	Respiratory Fact[Respirator]      `json:"respiratory"`
}

// LimitKind is the averaging rule of an exposure limit.
type LimitKind string

// Kinds of exposure limit.
const (
	TWA     LimitKind = "TWA"
	STEL    LimitKind = "STEL"
	Ceiling LimitKind = "ceiling"
)

// ExposureLimit is one workplace limit as printed in section 8.
type ExposureLimit struct {
	Substance  string    `json:"substance"`
	CAS        string    `json:"cas"`
	Authority  string    `json:"authority"` // "OSHA PEL", "EU IOELV", "UK WEL", … as far as understood, else as printed
	Kind       LimitKind `json:"kind"`
	Value      float64   `json:"value"`
	Unit       string    `json:"unit"` // ppm, mg/m3, f/cm3
	Skin       bool      `json:"skin,omitempty"`
	Sensitiser bool      `json:"sensitiser,omitempty"`
	Fraction   string    `json:"fraction,omitempty"` // inhalable, respirable, vapour, total dust
	Vacated    bool      `json:"vacated,omitempty"`
	Printed    string    `json:"printed"`
}

// Gloves is what the sheet says of hand protection. Empty strings mean not stated.
type Gloves struct {
	Text            string   `json:"text"`
	Materials       []string `json:"materials"`
	ThicknessMM     Interval `json:"thickness_mm"`
	BreakthroughMin Interval `json:"breakthrough_min"`
	Standard        string   `json:"standard"`
}

// Respirator is what the sheet says of breathing protection.
type Respirator struct {
	Text        string   `json:"text"`
	Filters     []string `json:"filters"` // A2, AX, ABEK1, P3, OV, P100 …
	SuppliedAir bool     `json:"supplied_air,omitempty"`
}

// Property is one physical property of section 9 and the unit its quantities are normalised to.
type Property string

// Properties with their normalised units.
const (
	FlashPoint         Property = "flash_point"         // °C
	BoilingPoint       Property = "boiling_point"       // °C, initial boiling point and range
	MeltingPoint       Property = "melting_point"       // °C
	AutoIgnition       Property = "auto_ignition"       // °C
	Decomposition      Property = "decomposition"       // °C
	LowerFlammable     Property = "lower_flammable"     // % vol
	UpperFlammable     Property = "upper_flammable"     // % vol
	VapourPressure     Property = "vapour_pressure"     // Pa
	VapourDensity      Property = "vapour_density"      // air = 1
	Density            Property = "density"             // kg/m3
	PH                 Property = "ph"                  // 1
	KinematicViscosity Property = "kinematic_viscosity" // mm2/s
	DynamicViscosity   Property = "dynamic_viscosity"   // mPa·s
	VOC                Property = "voc"                 // g/l, or % where the sheet gives a mass share
	LogKow             Property = "log_kow"             // 1
	EvaporationRate    Property = "evaporation_rate"    // relative, reference in Method
	WaterSolubility    Property = "water_solubility"    // g/l
	SolidsContent      Property = "solids_content"      // %
)

// Physical is section 9 (and the flash point where only section 5 prints it).
type Physical struct {
	State      Fact[string]                  `json:"state"` // liquid, solid, gas, paste, powder, aerosol
	Colour     Fact[string]                  `json:"colour"`
	Odour      Fact[string]                  `json:"odour"`
	Quantities map[Property][]Fact[Quantity] `json:"quantities"` // a property may be printed more than once
}

// Toxicology is section 11.
type Toxicology struct {
	Values      []Fact[ToxValue]        `json:"values"`
	Endpoints   map[string]Fact[string] `json:"endpoints"` // what is said per effect: skin, eye, skin_sens, resp_sens, muta, carc, repr, stot_se, stot_re, asp
	Carcinogens []Fact[CancerListing]   `json:"carcinogens"`
}

// ToxValue is one dose or concentration of acute toxicity. Ingredient is "" for the product itself.
type ToxValue struct {
	Ingredient string        `json:"ingredient"`
	CAS        string        `json:"cas"`
	Measure    string        `json:"measure"` // LD50, LC50, ATE
	Route      ghs.Qualifier `json:"route"`
	Species    string        `json:"species"`
	Quantity   Quantity      `json:"quantity"` // mg/kg, mg/l, ppm
	Hours      float64       `json:"hours,omitempty"`
}

// CancerListing is a listing by IARC, NTP or OSHA quoted in the sheet.
type CancerListing struct {
	Ingredient string `json:"ingredient"`
	CAS        string `json:"cas"`
	Agency     string `json:"agency"`
	Group      string `json:"group"`
}

// Ecology is section 12.
type Ecology struct {
	Values           []Fact[EcoValue] `json:"values"`
	Biodegradability Fact[string]     `json:"biodegradability"`
}

// EcoValue is one ecotoxicity value. Ingredient is "" for the product itself.
type EcoValue struct {
	Ingredient string   `json:"ingredient"`
	CAS        string   `json:"cas"`
	Measure    string   `json:"measure"` // LC50, EC50, ErC50, NOEC
	Group      string   `json:"group"`   // fish, crustacea, algae, bacteria
	Species    string   `json:"species"`
	Quantity   Quantity `json:"quantity"` // mg/l
	Hours      float64  `json:"hours,omitempty"`
}

// Transport is one mode's entry of section 14. Regulated is false when the sheet says that the product is not regulated.
type Transport struct {
	Mode            string   `json:"mode"` // ADR, IMDG, IATA, DOT, TDG, or "" when one entry covers all
	Regulated       bool     `json:"regulated"`
	UN              string   `json:"un"` // four digits
	ProperName      string   `json:"proper_name"`
	Class           string   `json:"class"`
	Subsidiary      []string `json:"subsidiary,omitempty"`
	PackingGroup    string   `json:"packing_group"` // I, II, III
	MarinePollutant State    `json:"marine_pollutant"`
}

// Rating is a 0–4 rating (higher is worse, the reverse of GHS categories). -1 means not printed.
type Rating struct {
	System       string `json:"system"` // NFPA, HMIS, or "" when the sheet names none
	Health       int    `json:"health"`
	Flammability int    `json:"flammability"`
	Instability  int    `json:"instability"`
	Chronic      bool   `json:"chronic,omitempty"` // the asterisk beside the health digit
	Special      string `json:"special,omitempty"`
	Protection   string `json:"protection,omitempty"`
}
