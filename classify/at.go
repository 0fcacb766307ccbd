package classify

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Classification is what a mixture of one composition is classified as. Its trace is worked out when asked for.
type Classification struct {
	Program *Program
	X       []float64     // percent of each ingredient, as in Program.Mixture.Ingredients
	Hazards ghs.HazardSet // the classes given

	fired []int16 // per outcome: the alternative that gave it, or -1
}

// At classifies the composition x, percent of each ingredient in the order of Program.Mixture.Ingredients. What is
// missing from 100 is the undisclosed remainder. x must pass CheckPoint; At panics when it has the wrong length.
func (p *Program) At(x []float64) Classification {
	if len(x) != len(p.Mixture.Ingredients) {
		panic(fmt.Sprintf("classify: composition of %d shares for a mixture of %d ingredients", len(x), len(p.Mixture.Ingredients)))
	}
	c := Classification{Program: p, X: slices.Clone(x), fired: make([]int16, len(p.Outcomes))}
	for i := range p.Outcomes {
		c.fired[i] = p.Outcomes[i].firing(x)
	}
	for i := range p.Outcomes {
		if c.fired[i] >= 0 && !slices.ContainsFunc(p.Outcomes[i].Unless, func(j int) bool { return c.fired[j] >= 0 }) {
			c.Hazards.Add(p.Outcomes[i].Hazard)
		}
	}
	return c
}

// firing is the index of the first alternative that holds at x, or -1.
func (o *Outcome) firing(x []float64) int16 {
	for k := range o.AnyOf {
		if o.AnyOf[k].Holds(x) {
			return int16(k)
		}
	}
	return -1
}

// CheckPoint says what is wrong with a composition, or nil: wrong number of shares, a share below 0, a sum above 100.
func (p *Program) CheckPoint(x []float64) error {
	if len(x) != len(p.Mixture.Ingredients) {
		return fmt.Errorf("the composition has %d shares, the mixture %d ingredients: give one share for each", len(x), len(p.Mixture.Ingredients))
	}
	sum := 0.0
	for i, v := range x {
		if !(v >= 0) || math.IsInf(v, 1) {
			return fmt.Errorf("the share of %s is %v: give a percentage from 0 to 100", p.Mixture.Ingredients[i].Name, v)
		}
		sum += v
	}
	if sum > 100*(1+Tolerance) {
		return fmt.Errorf("the shares add up to %s %%: reduce them to 100 or less", number(sum))
	}
	return nil
}

// Point is the composition when every ingredient's share is a single number; false when some are ranges.
func (p *Program) Point() ([]float64, bool) { return p.Mixture.Point() }

// Point is the composition when every ingredient's share is a single number; false when some are ranges.
func (m *Mixture) Point() ([]float64, bool) {
	x := make([]float64, len(m.Ingredients))
	for i, in := range m.Ingredients {
		v, ok := in.Percent.Single()
		if !ok {
			return nil, false
		}
		x[i] = v
	}
	return x, true
}

// Classify compiles a mixture whose shares are single numbers and classifies it.
func Classify(m Mixture, rs ghs.RuleSet) (Classification, error) {
	x, ok := m.Point()
	if !ok {
		return Classification{}, fmt.Errorf("some ingredients have ranges: use Envelope, or give single shares")
	}
	p, err := Compile(m, rs)
	if err != nil {
		return Classification{}, err
	}
	return p.At(x), nil
}

// Value is the quantity's value at x: false when it has none there (an estimate without toxic ingredients).
func (q *Quantity) Value(x []float64) (float64, bool) {
	sum := Condition{Terms: q.Terms}
	v := sum.Value(x)
	if !q.Inverse {
		return v, true
	}
	if v <= 0 {
		return 0, false
	}
	u := Condition{Terms: q.Unknown, Cmp: MoreThan, Bound: q.Above}
	if !u.Holds(x) {
		return 100 / v, true
	}
	return (100 - u.Value(x)) / v, true
}

// Numbers are the program's quantities at this composition, by name.
func (c *Classification) Numbers() map[string]float64 {
	numbers := make(map[string]float64, len(c.Program.Quantities))
	for i := range c.Program.Quantities {
		if v, ok := c.Program.Quantities[i].Value(c.X); ok {
			numbers[c.Program.Quantities[i].Name] = v
		}
	}
	return numbers
}

// Supplement is a supplemental statement that the label needs.
type Supplement struct {
	Code        ghs.Code
	Ingredients []string // to name in the statement
	Optional    bool     // not needed when the ingredients are already named on the label
	Why         []Reason
}

// Supplements lists the supplemental statements of this composition, in the order of the rule table.
func (c *Classification) Supplements() []Supplement {
	var out []Supplement
	for i := range c.Program.Statements {
		s := &c.Program.Statements[i]
		if s.OnlyUnclassified && !c.Hazards.Empty() {
			continue
		}
		if s.Code == "EUH203" && (c.Hazards.Has(ghs.SkinSens1) || c.Hazards.Has(ghs.SkinSens1A) || c.Hazards.Has(ghs.SkinSens1B)) {
			continue // the label already says H317
		}
		sup := Supplement{Code: s.Code, Optional: s.OptionalIfNamed}
		for k := range s.AnyOf {
			if !s.AnyOf[k].Holds(c.X) {
				continue
			}
			sup.Why = append(sup.Why, c.reason(&s.AnyOf[k], string(s.Code)))
			if j := s.Ingredients[k]; j >= 0 && !slices.Contains(sup.Ingredients, c.Program.Mixture.Ingredients[j].Name) {
				sup.Ingredients = append(sup.Ingredients, c.Program.Mixture.Ingredients[j].Name)
			}
		}
		if len(sup.Why) > 0 {
			out = append(out, sup)
		}
	}
	return out
}

// OpenSupplements lists the supplemental statements that the composition points to and that only a person's judgement or
// a fact that is not known can decide: those that an ingredient carries, and EUH071 where the mixture both corrodes the
// skin and is toxic by inhalation.
func (c *Classification) OpenSupplements() []Supplement {
	var out []Supplement
	for i := range c.Program.Statements {
		s := &c.Program.Statements[i]
		sup := Supplement{Code: s.Code}
		for k := range s.Open {
			if a := &s.Open[k]; a.Holds(c.X) {
				reason := c.reason(a, string(s.Code))
				reason.Text = "if known: " + strings.Join(a.Needs, "; ") + ": " + reason.Text
				sup.Why = append(sup.Why, reason)
			}
		}
		if len(sup.Why) > 0 {
			out = append(out, sup)
		}
	}
	row := c.Program.rules.first("airways", "")
	if row != nil && c.MayCorrodeAirways() && !slices.ContainsFunc(out, func(s Supplement) bool { return string(s.Code) == row.Result }) {
		out = append(out, Supplement{Code: ghs.Code(row.Result), Why: []Reason{{Text: "if known: " + row.Note, Clause: row.Clause, Rule: row.name(), Memory: row.Memory}}})
	}
	return out
}

// MayCorrodeAirways tells whether the mixture is classified both as corrosive to skin and as toxic by inhalation: whether
// the toxicity comes from corrosion of the airways must then be judged (CLP Annex I 3.1.2.3.3; 29 CFR 1910.1200 App. A,
// A.1.2.4), and label and sheet may need to say so.
func (c *Classification) MayCorrodeAirways() bool {
	corrosive, inhaled := false, false
	for _, h := range c.Hazards.All() {
		corrosive = corrosive || strings.HasPrefix(h.String(), "Skin Corr.")
		inhaled = inhaled || h.Class() == ghs.AcuteToxicity && h.Qualifier() >= ghs.InhalationGas
	}
	return corrosive && inhaled
}

// OptionalOnLabel is the classes given whose warning the law lets one leave off the label at this composition, though
// not off the sheet (29 CFR 1910.1200 App. A, Table A.6.1 note: Carc. 2 below 1 %).
func (c *Classification) OptionalOnLabel() ghs.HazardSet {
	var set ghs.HazardSet
	for _, r := range c.Program.rules.of("label-optional") {
		h := hazardNamed(r.Result)
		if !c.Hazards.Has(h) {
			continue
		}
		optional := true
		for i := range c.Program.Mixture.Ingredients {
			one := Condition{Terms: []Term{{Ingredient: i, Weight: 1}}, Cmp: compareOf(r.Op), Bound: r.limit()}
			optional = optional && (!c.Program.Mixture.Ingredients[i].Hazards.Has(h) || one.Holds(c.X))
		}
		if optional && !c.Program.Mixture.Tested.Hazards.Has(h) {
			set.Add(h)
		}
	}
	return set
}
