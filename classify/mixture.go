package classify

import (
	"fmt"
	"math"

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
	UnderPressure // chemical under pressure: liquid or solid under 200 kPa or more in a receptacle that is no aerosol
)

var formNames = [...]string{"", "liquid", "solid", "powder", "gas", "aerosol", "chemical under pressure"}

// String is the form's name in files: "liquid", "powder"; "" when it is unknown.
func (f Form) String() string {
	if int(f) >= len(formNames) {
		return ""
	}
	return formNames[f]
}

// ParseForm reads a form's name. The empty text is FormUnknown.
func ParseForm(s string) (Form, error) {
	for f, n := range formNames {
		if n == s {
			return Form(f), nil
		}
	}
	return FormUnknown, fmt.Errorf("no form is called %q: write liquid, solid, powder, gas, aerosol or chemical under pressure", s)
}

// Mixture is what is known of a product: its disclosed ingredients with their ranges, and data measured on the product
// itself. Data on the product beats calculation where the law says so.
type Mixture struct {
	Name        string
	Ingredients []Ingredient
	Complete    bool // the ingredients make up the whole: no undisclosed remainder
	Form        Form
	ForPublic   bool // sold to the general public (EU supplemental statements)
	Use         []Use
	Tested      Tested
}

// Use is a kind of product that a supplemental statement of the EU asks about.
type Use string

// Uses.
const (
	Paint         Use = "paint"         // paint or varnish
	Cyanoacrylate Use = "cyanoacrylate" // adhesive based on cyanoacrylate
	Cement        Use = "cement"        // cement or cement mixture
	Brazing       Use = "brazing"       // alloy for brazing or soldering
	PlantProtect  Use = "plant protection product"
	GasOil        Use = "gas oil" // gas oil, diesel or light heating oil
)

// Ingredient is one component. Percent is its share by mass (by volume in a gas) with open or closed ends; missing ends
// mean 0 and 100.
type Ingredient struct {
	Name       string
	CAS        string
	Percent    sheet.Interval
	Hazards    ghs.HazardSet
	Statements []ghs.Code // supplemental statements of the ingredient itself, such as EUH066
	ATE        [8]ATE     // indexed by ghs.Qualifier: Oral, Dermal, InhalationGas, InhalationVapour, InhalationDust
	MAcute     float64    // 0 when none is given; the law then uses 1
	MChronic   float64
	Limits     []SpecificLimit
	// further properties the rules ask for; zero Interval-like values mean unknown
	ActiveOxygenPct float64 // organic peroxides: available oxygen of the pure peroxide, %
	MolarMassGMol   float64
	Properties      map[string]float64 // rarely needed numbers, named as in docs/rules.md
}

// ATEStatus tells what is known of an acute toxicity.
type ATEStatus uint8

// Statuses. The zero status is: take it from the ingredient's classification if it has one for the route. When it has
// none the ingredient is left out of the sum, and the trace says that nothing is known of it; what would follow if it
// were counted as unknown is an open alternative.
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
	NoFlashPoint      bool // a test found none up to boiling
	BoilingPointC     *float64
	PH                *float64
	BufferReserveHigh *bool // false: tests show that the acid or alkaline reserve does not support the extreme pH
	Viscosity40MM2S   *float64
	Sustains          *bool         // the liquid sustains combustion (test L.2)
	ATE               [8]*float64   // indexed by route
	Hazards           ghs.HazardSet // classes established by test on the mixture
	NotHazards        ghs.HazardSet // classes excluded by test on the mixture
}

// routes are the qualifiers that acute toxicity has.
var routes = [...]ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust}

// RouteUnit is the unit of an acute toxicity estimate by route.
func RouteUnit(route ghs.Qualifier) string {
	switch route {
	case ghs.Oral, ghs.Dermal:
		return "mg/kg"
	case ghs.InhalationGas:
		return "ppm"
	case ghs.InhalationVapour, ghs.InhalationDust:
		return "mg/l"
	}
	return ""
}

// Bounds are the least and greatest share of the ingredient, with missing ends filled in as 0 and 100.
func (in Ingredient) Bounds() (lo, hi float64) {
	hi = 100
	if in.Percent.HasLo {
		lo = in.Percent.Lo
	}
	if in.Percent.HasHi {
		hi = in.Percent.Hi
	}
	return lo, hi
}

// Check says what is wrong with the mixture's numbers, or nil. Package classify works with a mixture that passes only.
func (m Mixture) Check() error {
	least := 0.0
	for i, in := range m.Ingredients {
		if err := in.check(); err != nil {
			return fmt.Errorf("ingredient %d (%s): %w", i+1, in.Name, err)
		}
		lo, _ := in.Bounds()
		least += lo
	}
	if least > 100*(1+Tolerance) {
		return fmt.Errorf("the ingredients add up to at least %s %%, which is more than 100: correct the shares", number(least))
	}
	return m.Tested.check()
}

func (in Ingredient) check() error {
	lo, hi := in.Bounds()
	if !(lo >= 0) || !(hi <= 100) || lo > hi {
		return fmt.Errorf("its share %s to %s %% is not a range within 0 to 100", number(lo), number(hi))
	}
	for _, r := range routes {
		if a := in.ATE[r]; a.Status == ATEValue && !(a.Value > 0 && !math.IsInf(a.Value, 1)) {
			return fmt.Errorf("its acute toxicity estimate (%s) is %v: give a positive number of %s", r, a.Value, RouteUnit(r))
		}
	}
	if in.MAcute < 0 || in.MChronic < 0 || math.IsNaN(in.MAcute+in.MChronic) {
		return fmt.Errorf("its M-factor is negative: give 1 or more, or none")
	}
	for _, l := range in.Limits {
		if l.Percent.HasLo && !(l.Percent.Lo >= 0 && l.Percent.Lo <= 100) {
			return fmt.Errorf("its specific limit for %s is %v %%: give a share within 0 to 100", l.Hazard, l.Percent.Lo)
		}
	}
	return nil
}

func (t Tested) check() error {
	for _, v := range []struct {
		name string
		p    *float64
	}{{"flash point", t.FlashPointC}, {"boiling point", t.BoilingPointC}, {"pH", t.PH}, {"viscosity", t.Viscosity40MM2S}} {
		if v.p != nil && (math.IsNaN(*v.p) || math.IsInf(*v.p, 0)) {
			return fmt.Errorf("the mixture's %s is not a number", v.name)
		}
	}
	for _, r := range routes {
		if p := t.ATE[r]; p != nil && !(*p > 0) {
			return fmt.Errorf("the mixture's tested acute toxicity (%s) is %v: give a positive number of %s", r, *p, RouteUnit(r))
		}
	}
	return nil
}
