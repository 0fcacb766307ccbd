package classify

import "sixteen/ghs"

// Program is a mixture compiled for one rule set: for every hazard that the rules can give, the conditions on the
// composition under which they give it. It is read-only once built.
type Program struct {
	RuleSet    ghs.RuleSet
	Mixture    Mixture
	Outcomes   []Outcome          // classes in the order of the standard; the severest category of a class comes first
	Statements []StatementOutcome // supplemental statements (EUH) that the rule set has
	Quantities []Quantity         // the sums and estimates that a classifier quotes
	Notes      []string           // what this program leaves out or assumed, in words

	settled []settled // classes decided without looking at the composition, and why
	rules   *ruleTable
}

// Outcome says: the mixture has Hazard when any of the alternatives holds and no outcome listed in Unless does.
type Outcome struct {
	Hazard ghs.Hazard
	AnyOf  []Alternative
	Unless []int // indexes of outcomes (severer categories of the class) that take its place
	// Open are further alternatives that hold in law only if a fact holds which is not known (Needs). They never give
	// the hazard; they say what stands open. An outcome with only open alternatives has an empty AnyOf.
	Open []Alternative
}

// Alternative holds when every one of its conditions holds. Without conditions it always holds.
type Alternative struct {
	AllOf  []Condition
	Facts  []string // known facts about the mixture that the rule also needed, in words: "flash point 22.9 °C < 23 °C"
	Needs  []string // facts not known (only in Outcome.Open): "kinematic viscosity at 40 °C ≤ 20.5 mm²/s"
	Rule   string   // name of the rule table and row
	Clause string   // where the law says so, e.g. "29 CFR 1910.1200 App. A, A.2.3.3"
	Memory bool     // the row was recalled and not read in the law
}

// Compare is the comparison of a Condition.
type Compare uint8

// Comparisons. Two numbers that differ by no more than Tolerance count as equal in all four, so that a sum that should
// be exactly on a limit is on it whatever the rounding of binary numbers; at the limits of the law (≥ for sums, ≤ for
// estimates) that is the stricter side.
const (
	AtLeast  Compare = iota // ≥
	MoreThan                // >
	AtMost                  // ≤
	LessThan                // <
)

// Condition is one linear comparison: Σ weight·x over its terms, compared with Bound. A term counts only while the
// ingredient's share lies at or above its cut-off ("relevant ingredients"). A condition without terms compares zero.
type Condition struct {
	Terms []Term
	Cmp   Compare
	Bound float64
	What  string // the quantity in words, for the trace: "sum of Skin Corr. 1 ingredients"
	Unit  string
	// Route is set on the conditions of acute toxicity, whose sum is Σ x/ATE and is told as its estimate, 100/Σ.
	// The first KnownTerms terms are then of known toxicity and the others of unknown.
	Route      ghs.Qualifier
	KnownTerms int
}

// Term is one ingredient's part of a sum.
type Term struct {
	Ingredient int // index into Mixture.Ingredients; -1 is the undisclosed remainder
	Weight     float64
	Cutoff     float64 // percent; 0 when every amount counts
	CutoffOpen bool    // counts only above the cut-off
	Because    string  // what is said of the ingredient that makes it count: "is Skin Corr. 1B", "has an oral ATE of 500 mg/kg"
}

// StatementOutcome says: the label needs the supplemental statement Code when any of the alternatives holds.
// Ingredients tells, per alternative, the ingredient to name in the statement, or -1.
type StatementOutcome struct {
	Code             ghs.Code
	AnyOf            []Alternative
	Ingredients      []int
	Open             []Alternative
	OnlyUnclassified bool // needed only when the mixture has no class (EUH210)
	OptionalIfNamed  bool // not needed when the ingredient is already named on the label (EUH204, EUH205)
}

// Quantity is one number that classifiers quote: a sum, a share or an acute toxicity estimate.
type Quantity struct {
	Name    string // "skin_weighted_sum", "ate_mix_oral", "unknown_percent_oral"
	Unit    string
	Terms   []Term
	Inverse bool    // the number is (100 − unknown)/Σ, unknown being counted only above UnknownAbove
	Unknown []Term  // shares of unknown acute toxicity, of an estimate
	Above   float64 // the unknown share that is not yet subtracted, percent
}

// settled is a class decided when the program was compiled.
type settled struct {
	class     ghs.Class
	qualifier ghs.Qualifier
	standing  Standing
	why       string
	clause    string
}
