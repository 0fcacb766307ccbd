package sheetprint

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Spec is what a sheet says, independent of how it is laid out. Dates are ISO 8601. Fields left empty are not printed.
type Spec struct {
	Lang   ghs.Lang
	Rules  ghs.RuleSet
	PreGHS bool // an old sheet: no H codes, no pictograms, no signal word, RiskPhrases instead

	Product, Code, UFI string
	Use, UseAgainst    string
	Supplier           Supplier
	Emergency          string // telephone
	Revision           string
	Supersedes         string
	Printed            string // the date of printing, which is not the revision date
	Version            string

	Classes       []Class // what section 2 states; empty means "not classified"
	Statements    []ghs.Code
	Supplemental  []ghs.Code // EUH statements
	Precautions   []ghs.Code
	Pictograms    []ghs.Pictogram
	SignalWord    string              // "Danger", "Warning", "", or any other word, which is then printed as it is
	Contains      []string            // names on the label
	Organs        map[ghs.Code]string // filled into H370 to H373: "the lungs"
	Unknown       []UnknownShare
	RiskPhrases   []string // of sheets before GHS: "R36/38", "R43"
	ExtraPhrases  []string // sentences printed under the hazard statements as they are, without a code
	OtherHazards  string
	Ingredients   []Ingredient
	WithheldNote  bool // print the sentence about trade secrets below the ingredients
	Limits        []Limit
	Gloves        Gloves
	Respirator    string // "" none needed, "supplied", or a filter such as "A2"
	Properties    map[sheet.Property]Value
	State         string // liquid, paste, solid
	Colour        string // clear, yellow, amber, white
	Odour         string // mild, amine, solvent, sweet
	Tox           []Tox
	Eco           []Eco
	Carcinogens   []Carcinogen
	Transport     Transport
	NFPA          *Ratings
	HMIS          *Ratings
	Sentences     map[string]string // replaces a stock sentence by its key in words.txt
	OmitSections  []int             // sections that are left out, in the present order
	RevisionsList bool              // list the changed sections in section 16, a trap for finders of headings
}

// Supplier is who answers for the sheet.
type Supplier struct {
	Name, Phone, Email string
	Address            []string
}

// Class is one hazard class with its category as the law abbreviates it, "Acute Tox. 4", its route or effect where the
// class has one, and the code of its statement.
type Class struct {
	Name  string // "Skin Irrit. 2"
	Route string // "", oral, dermal, inhalation (form not named), gas, vapour, dust, narcotic, respiratory
	Code  ghs.Code
}

// String is the class as the truth records it: "Acute Tox. 4 (inhalation)", "STOT SE 3".
func (c Class) String() string {
	switch c.Route {
	case "", "narcotic", "respiratory":
		return c.Name
	case "gas", "vapour", "dust":
		return c.Name + " (inhalation)"
	}
	return c.Name + " (" + c.Route + ")"
}

// Hazard is the class in the standard's terms, or NoHazard where its route leaves open which one is meant.
func (c Class) Hazard() ghs.Hazard {
	route := c.Route
	if route == "gas" || route == "vapour" || route == "dust" {
		route = "inhalation " + route
	}
	h, _ := ghs.ParseHazard(strings.TrimSpace(c.Name + " " + route))
	return h
}

// UnknownShare is the share (percent) of ingredients whose acute toxicity is not known. Route is "" for all routes.
type UnknownShare struct {
	Percent float64
	Route   string
}

// Ingredient is one row of section 3.
type Ingredient struct {
	Name, CAS, EC string
	Percent       sheet.Interval
	Secret        bool // the share is withheld
	Classes       []Class
}

// Limit is one exposure limit of section 8. A zero value is not printed.
type Limit struct {
	Name, CAS string
	Authority string // as printed: "OSHA PEL", "AGW (TRGS 900)"
	Kind      sheet.LimitKind
	PPM, MgM3 float64
	Skin      bool
}

// Gloves is the advice on hand protection. An empty Material prints a sentence that names none.
type Gloves struct {
	Material    string // nitrile, butyl, neoprene
	ThicknessMM float64
	MinutesOver int
	Standard    string // "EN 374", "ASTM F739"
}

// Value is one physical property in the unit that package sheet gives for it.
type Value struct {
	sheet.Interval
	Cup    string // flash point: closed, open
	Method string
	AtC    float64 // temperature the value belongs to; 0 when none is printed
	Unit   string  // only where the property allows two: VOC "%" or "g/l"
	NoData bool    // the sheet says that there is no data
}

// Tox is one acute toxicity value; Name is "" for the product itself.
type Tox struct {
	Name, CAS string
	Measure   string // LD50, LC50, ATE
	Route     string // oral, dermal, inhalation
	Species   string // rat, rabbit, ""
	Value     float64
	MoreThan  bool
	Unit      string // mg/kg, mg/l
	Hours     float64
}

// Carcinogen is the listing of an ingredient by an agency: IARC group 2A.
type Carcinogen struct {
	Name, CAS, Agency, Group string
}

// Eco is one ecotoxicity value of an ingredient.
type Eco struct {
	Name, CAS string
	Measure   string // LC50, EC50
	Group     string // fish, crustacea, algae
	Value     float64
	Hours     float64
}

// Transport is section 14. Modes names the regimes printed; an empty UN means not regulated.
type Transport struct {
	UN, ProperName, Class, PackingGroup string
	Modes                               []string
	MarinePollutant                     bool
}

// Ratings are 0–4 ratings, higher is worse. Chronic prints the asterisk beside health.
type Ratings struct {
	Health, Flammability, Instability int
	Chronic                           bool
	PPE                               string
}
