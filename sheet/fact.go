package sheet

import "time"

// Rect is a rectangle on a page in points (1/72 inch), origin at the top left of the page as it is shown,
// X0 ≤ X1 rightwards and Y0 ≤ Y1 downwards.
type Rect struct {
	X0 float64 `json:"x0"`
	Y0 float64 `json:"y0"`
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
}

// Union is the smallest rectangle around r and s. An empty (zero) rectangle adds nothing.
func (r Rect) Union(s Rect) Rect {
	if r == (Rect{}) {
		return s
	}
	if s == (Rect{}) {
		return r
	}
	return Rect{min(r.X0, s.X0), min(r.Y0, s.Y0), max(r.X1, s.X1), max(r.Y1, s.Y1)}
}

// How says by what means a fact was read.
type How string

// The means.
const (
	ByText      How = "text"     // from the text layer of the document
	ByOCR       How = "ocr"      // from a picture of text
	ByPicture   How = "picture"  // from a picture that is not text, such as a pictogram
	ByPerson    How = "person"   // typed by a person
	ByInference How = "inferred" // concluded from other words of the sheet, which are the evidence
)

// AskBelow is the confidence below which a person is asked to look at the place.
const AskBelow = 0.85

// Evidence is one place in the document that supports a fact. Page counts from 1. Box encloses exactly the words.
// Documents without pages (HTML, text) have page 1 and a zero Box.
type Evidence struct {
	Page  int    `json:"page"`
	Box   Rect   `json:"box"`
	Words string `json:"words"`
	How   How    `json:"how"`

	// Recognised is what character recognition gave where Words or the value is a repair of it: a lost decimal point put back, a
	// sign of a unit, a Roman number, a digit of a CAS number. Empty where nothing was repaired.
	Recognised string `json:"recognised,omitempty"`
}

// State tells what kind of answer the sheet gives to one question.
type State uint8

// States. The zero State is NotStated: the sheet is silent.
const (
	NotStated     State = iota // the sheet says nothing about it
	Stated                     // the sheet gives a value
	NoData                     // the sheet says that it has no data ("no data available", "not determined")
	NotApplicable              // the sheet says that it does not apply
	NoneStated                 // the sheet says there is none ("not classified", "no pictogram", "not regulated")
)

// Fact is one value read from a sheet with its evidence. Value counts only when State is Stated.
// Confidence is the probability, 0 to 1, that the value is what the page says; 0 means not measured.
type Fact[T any] struct {
	State       State        `json:"state"`
	Value       T            `json:"value"`
	Evidence    []Evidence   `json:"evidence,omitempty"`
	Confidence  float64      `json:"confidence,omitempty"`
	Corrections []Correction `json:"corrections,omitempty"` // oldest first
}

// Known tells whether the fact holds a value.
func (f Fact[T]) Known() bool { return f.State == Stated }

// Where is the first place the fact was read, or a zero Evidence.
func (f Fact[T]) Where() Evidence {
	if len(f.Evidence) == 0 {
		return Evidence{}
	}
	return f.Evidence[0]
}

// Correction records that a person changed or added a fact: who, when, why, and the state and value (as JSON) before.
type Correction struct {
	Who      string    `json:"who"`
	When     time.Time `json:"when"`
	Why      string    `json:"why"`
	Added    bool      `json:"added,omitempty"` // the fact is of a row that the person added, since the reader missed it
	WasState State     `json:"was_state"`
	Was      string    `json:"was"` // JSON of the value before
}

// Interval is a range of numbers with two ends, each present or absent, open or closed. "< 10" has no lower end and an
// open upper end; "≥ 10 – < 25" has a closed lower and an open upper end; a single value has equal closed ends.
type Interval struct {
	Lo     float64 `json:"lo"`
	Hi     float64 `json:"hi"`
	HasLo  bool    `json:"has_lo"`
	HasHi  bool    `json:"has_hi"`
	LoOpen bool    `json:"lo_open,omitempty"`
	HiOpen bool    `json:"hi_open,omitempty"`
	Approx bool    `json:"approx,omitempty"` // "ca.", "approximately"
}

// Exactly is the interval of one number.
func Exactly(v float64) Interval { return Interval{Lo: v, Hi: v, HasLo: true, HasHi: true} }

// Between is the closed interval from lo to hi.
func Between(lo, hi float64) Interval { return Interval{Lo: lo, Hi: hi, HasLo: true, HasHi: true} }

// Single tells whether the interval is one number and returns it.
func (v Interval) Single() (float64, bool) {
	return v.Lo, v.HasLo && v.HasHi && v.Lo == v.Hi
}

// Quantity is a number or range with a unit, normalised, beside what the sheet printed.
type Quantity struct {
	Interval
	Unit    string   `json:"unit"`           // normalised unit, see Property
	Printed string   `json:"printed"`        // the words of the sheet
	Method  string   `json:"method"`         // test method as printed, "" when none
	Cup     string   `json:"cup"`            // flash point: "closed", "open" or ""
	AtC     *float64 `json:"at_c,omitempty"` // temperature the value belongs to, °C
}
