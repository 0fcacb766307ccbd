package classify

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

// Form is the physical form a mixture is supplied in.
type Form uint8

// Forms.
const (
	FormUnknown Form = iota
	Liquid
	Solid
	Powder
	Gas
	Aerosol
)

// Mixture is what is known of a product: its disclosed ingredients with their ranges, and data measured on the product
// itself. Data on the product beats calculation where the law says so.
type Mixture struct {
	Name        string
	Ingredients []Ingredient
	Complete    bool // the ingredients make up the whole: no undisclosed remainder
	Form        Form
	ForPublic   bool // sold to the general public (EU supplemental statements)
	Tested      Tested
}

// Ingredient is one component. Percent is its share by mass with open or closed ends; missing ends mean 0 and 100.
type Ingredient struct {
	Name     string
	CAS      string
	Percent  sheet.Interval
	Hazards  ghs.HazardSet
	ATE      [8]ATE  // indexed by ghs.Qualifier: Oral, Dermal, InhalationGas, InhalationVapour, InhalationDust
	MAcute   float64 // 0 when none is given; the law then uses 1
	MChronic float64
	Limits   []SpecificLimit
	// further properties the rules ask for; zero Interval-like values mean unknown
	ActiveOxygenPct float64 // organic peroxides: available oxygen, %
	MolarMassGMol   float64
	Properties      map[string]float64 // rarely needed numbers, named as in docs/rules.md
}

// ATEStatus tells what is known of an acute toxicity.
type ATEStatus uint8

// Statuses. The zero status is: take it from the ingredient's classification if it has one for the route, else unknown
// data about an ingredient that nobody classifies as acutely toxic.
const (
	ATEFromClass ATEStatus = iota
	ATEValue               // Value holds
	ATENotToxic            // known not to be acutely toxic by this route: left out of the sum, not unknown
	ATEUnknown             // no usable data: counts toward the unknown share
)

// ATE is an acute toxicity estimate: mg/kg (oral, dermal), ppm (gas), mg/l (vapour, dust or mist).
type ATE struct {
	Status ATEStatus
	Value  float64
}

// SpecificLimit is a specific concentration limit of an ingredient: within Percent the mixture has Hazard.
type SpecificLimit struct {
	Hazard  ghs.Hazard
	Percent sheet.Interval
}

// Tested holds data measured on the mixture itself. Nil pointers mean not known.
type Tested struct {
	FlashPointC       *float64
	BoilingPointC     *float64
	PH                *float64
	BufferReserveHigh *bool // acid or alkaline reserve supports the extreme pH
	Viscosity40MM2S   *float64
	ATE               [8]*float64   // indexed by route
	Hazards           ghs.HazardSet // classes established by test on the mixture
	NotHazards        ghs.HazardSet // classes excluded by test on the mixture
}
