package classify

import "sixteen/ghs"

// Program is a mixture compiled for one rule set: for every hazard that the rules can give, the conditions on the
// composition under which they give it. It is read-only once built.
type Program struct {
	RuleSet  ghs.RuleSet
	Mixture  Mixture
	Outcomes []Outcome // in the order of the rule tables; the severest category of a class comes first
}

// Outcome says: the mixture has Hazard when any of the alternatives holds and no outcome listed in Unless does.
type Outcome struct {
	Hazard ghs.Hazard
	AnyOf  []Alternative
	Unless []int // indexes of outcomes (severer categories of the class) that take its place
}

// Alternative holds when every one of its conditions holds.
type Alternative struct {
	AllOf  []Condition
	Rule   string // name of the rule table and row
	Clause string // where the law says so, e.g. "29 CFR 1910.1200 App. A, A.2.3.3"
}

// Compare is the comparison of a Condition.
type Compare uint8

// Comparisons.
const (
	AtLeast  Compare = iota // ≥
	MoreThan                // >
	AtMost                  // ≤
	LessThan                // <
)

// Condition is one linear comparison: Σ weight·x over its terms, compared with Bound. A term counts only while the
// ingredient's share lies at or above its cut-off ("relevant ingredients"). A condition without terms compares zero, so
// that constants (flash point, tested data) are conditions that always or never hold.
type Condition struct {
	Terms []Term
	Cmp   Compare
	Bound float64
	What  string // the quantity in words, for the trace: "sum of Skin Corr. 1 ingredients"
	Unit  string
}

// Term is one ingredient's part of a sum.
type Term struct {
	Ingredient int // index into Mixture.Ingredients; -1 is the undisclosed remainder
	Weight     float64
	Cutoff     float64 // percent; 0 when every amount counts
	CutoffOpen bool    // counts only above the cut-off
	Because    string  // what is said of the ingredient that makes it count: "is Skin Corr. 1B", "has an oral ATE of 500 mg/kg"
}
