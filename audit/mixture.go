package audit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Basis says on whose word an ingredient carries a hazard.
type Basis string

// Bases.
const (
	OfSheet Basis = "sheet" // section 3 (or 11) of the sheet says so
	OfTable Basis = "table" // the substance table says so, the sheet does not, or says something milder
	OfBoth  Basis = "both"
)

// Choice records how one hazard of one ingredient was chosen.
type Choice struct {
	Ingredient int                 `json:"ingredient"` // index into sheet.Composition.Ingredients
	Name       string              `json:"name"`
	CAS        string              `json:"cas"`
	Hazard     ghs.Hazard          `json:"hazard"`
	Basis      Basis               `json:"basis"`
	Authority  substance.Authority `json:"authority,omitempty"`
	Source     substance.Source    `json:"source,omitzero"`
	Binding    bool                `json:"binding,omitempty"` // the table's entry is law under the rule set
	Why        string              `json:"why"`
}

// Firm tells whether the hazard rests on the sheet's own word or on a published entry that is law under the rule set, and
// not only on what notifiers, suppliers or another country's law state, or on what was recalled.
func (c Choice) Firm() bool { return c.Basis != OfTable || (c.Binding && !c.Source.Memory) }

// Mixture is the product as the sheet describes it, with every ingredient's hazards by the stricter of the sheet and the
// substance table.
func (c *Case) Mixture() classify.Mixture {
	c.build()
	return c.mixture
}

// Choices tells how each hazard of the mixture's ingredients was chosen.
func (c *Case) Choices() []Choice {
	c.build()
	return c.choices
}

func (c *Case) build() {
	c.once.mixture.Do(func() { c.mixture, c.choices = BuildMixture(c.Sheet, c.Substances, c.RuleSet) })
}

// BuildMixture turns a sheet into the mixture that package classify works on. Shares keep the ranges of section 3; a
// missing share is 0 to 100 %. Each ingredient has the hazards that the sheet states for it and those of the substance
// table; where both answer the same question the stricter holds, and the choice says so. What is known of acute toxicity
// comes from the sheet's estimates, then the table's; an ingredient of which neither says anything is unknown. A nil
// table leaves the sheet's own word. Ingredients keep their order and index.
func BuildMixture(s *sheet.Sheet, t *substance.Table, rs ghs.RuleSet) (classify.Mixture, []Choice) {
	m := classify.Mixture{Name: s.Identification.ProductName.Value, Form: formOf(s), Tested: testedOf(s)}
	var all []Choice
	for i, ing := range s.Composition.Ingredients {
		var row *substance.Substance
		if t != nil && ing.CAS.Known() {
			row, _ = t.ByCAS(ing.CAS.Value)
		}
		choices := chooseHazards(i, ing, row, rs)
		all = append(all, choices...)
		m.Ingredients = append(m.Ingredients, ingredientOf(s, ing, row, choices, rs))
	}
	m.Complete = complete(s, m)
	return m, all
}

// firmOnly is the mixture with only those hazards that Firm choices give.
func firmOnly(m classify.Mixture, choices []Choice) classify.Mixture {
	m.Ingredients = slices.Clone(m.Ingredients)
	for i := range m.Ingredients {
		m.Ingredients[i].Hazards = ghs.HazardSet{}
	}
	for _, c := range choices {
		if c.Firm() {
			m.Ingredients[c.Ingredient].Hazards.Add(c.Hazard)
		}
	}
	return m
}

func ingredientOf(s *sheet.Sheet, ing sheet.Ingredient, row *substance.Substance, choices []Choice, rs ghs.RuleSet) classify.Ingredient {
	out := classify.Ingredient{
		Name: nameOf(ing), CAS: ing.CAS.Value, Percent: shareOf(s, ing),
		MAcute: ing.MAcute.Value, MChronic: ing.MChronic.Value,
	}
	for _, c := range choices {
		out.Hazards.Add(c.Hazard)
	}
	if row != nil {
		if row.MolarMassGMol.Known {
			out.MolarMassGMol = row.MolarMassGMol.V
		}
		for _, c := range row.ForRuleSet(rs).Use() {
			if c.Hazard == ghs.NoHazard && c.Code.Kind() == ghs.SupplementalStatement {
				out.Statements = append(out.Statements, c.Code)
			}
			if out.MAcute == 0 && c.Hazard.Class() == ghs.AquaticAcute {
				out.MAcute = c.MFactor
			}
			if out.MChronic == 0 && c.Hazard.Class() == ghs.AquaticChronic {
				out.MChronic = c.MFactor
			}
		}
	}
	out.Limits = limitsOf(ing, row, rs)
	for _, q := range routes() {
		out.ATE[q] = ateOf(s, ing, row, out.Hazards, q)
	}
	return out
}

func nameOf(ing sheet.Ingredient) string {
	switch {
	case ing.Name.Known():
		return ing.Name.Value
	case ing.CAS.Known():
		return "CAS " + ing.CAS.Value
	}
	return "unnamed ingredient"
}

// shareOf is the ingredient's share. A product that the sheet calls one substance, with one ingredient and no share,
// is all of it.
func shareOf(s *sheet.Sheet, ing sheet.Ingredient) sheet.Interval {
	if ing.Percent.Known() {
		return ing.Percent.Value.Interval
	}
	if s.Composition.Substance.Known() && s.Composition.Substance.Value && len(s.Composition.Ingredients) == 1 {
		return sheet.Exactly(100)
	}
	return sheet.Interval{}
}

// complete tells whether the shares leave no room for anything undisclosed.
func complete(s *sheet.Sheet, m classify.Mixture) bool {
	if s.Composition.Substance.Known() && s.Composition.Substance.Value {
		return true
	}
	low := 0.0
	for _, i := range m.Ingredients {
		if i.Percent.HasLo {
			low += i.Percent.Lo
		}
	}
	return low >= 100
}

// statedFor lists the hazards that the sheet states for one ingredient: its classes, then what its H codes add.
func statedFor(ing sheet.Ingredient, rs ghs.RuleSet) ghs.HazardSet {
	var set ghs.HazardSet
	var codes []ghs.Code
	for _, f := range ing.Statements {
		if f.Known() {
			codes = append(codes, f.Value.Code)
		}
	}
	for _, f := range namedClasses(ing.Hazards, codes) {
		set.Add(f.Value.Hazard)
	}
	for _, f := range ing.Statements {
		if !f.Known() {
			continue
		}
		for _, code := range split(f.Value.Code) {
			addCode(&set, code, rs)
		}
	}
	return set
}

// chooseHazards sets the sheet's word beside the table's, question by question, and takes the stricter.
func chooseHazards(index int, ing sheet.Ingredient, row *substance.Substance, rs ghs.RuleSet) []Choice {
	var out []Choice
	base := Choice{Ingredient: index, Name: nameOf(ing), CAS: ing.CAS.Value}
	for _, h := range statedFor(ing, rs).All() {
		c := base
		c.Hazard, c.Basis, c.Why = h, OfSheet, "section 3 states it"
		out = append(out, c)
	}
	if row == nil {
		return out
	}
	basis := row.ForRuleSet(rs)
	for _, r := range slices.Concat(basis.Use(), basis.Stricter()) {
		h := r.Hazard
		if h == ghs.NoHazard || r.NotClassified || r.OnlyByLimit {
			continue
		}
		same := slices.IndexFunc(out, func(c Choice) bool { return kin(c.Hazard, h) })
		c := base
		c.Hazard, c.Basis, c.Authority, c.Source = h, OfTable, r.Authority, r.Source
		c.Binding = basis.Binding && (r.Authority == substance.Harmonised || r.Authority == substance.Imported)
		switch {
		case same >= 0 && out[same].Hazard == ghs.STOTSE3 && h.Qualifier() != ghs.NoQualifier && h.Category() == "3":
			// the sheet leaves open which effect, the table tells
			out[same].Hazard, out[same].Basis, out[same].Authority, out[same].Source = h, OfBoth, r.Authority, r.Source
		case same < 0:
			c.Why = fmt.Sprintf("section 3 does not state it; %s does (%s)", r.Authority, r.Source.Text)
			out = append(out, c)
		case covers(out[same].Hazard, h) && !h.Severer(out[same].Hazard):
			if out[same].Basis == OfSheet {
				out[same].Basis, out[same].Authority, out[same].Source = OfBoth, r.Authority, r.Source
			}
		case out[same].Basis == OfTable:
			if h.Severer(out[same].Hazard) {
				c.Why = fmt.Sprintf("the stricter of two entries of the substance table: %s (%s)", r.Authority, r.Source.Text)
				out[same] = c
			}
		case !covers(out[same].Hazard, h):
			c.Why = fmt.Sprintf("section 3 states %s; %s has the stricter %s (%s)", out[same].Hazard, r.Authority, h, r.Source.Text)
			out[same] = c
		}
	}
	return out
}

// localised is a hazard as the rule set names it: Eye Irrit. 2 is 2A where 2 alone does not exist, and the other way
// round. A hazard that the rule set does not know at all gives NoHazard.
func localised(h ghs.Hazard, rs ghs.RuleSet) ghs.Hazard {
	if h == ghs.NoHazard || rs.Exists(h) {
		return h
	}
	for _, other := range h.Class().Hazards() {
		if rs.Exists(other) && other.Qualifier() == h.Qualifier() && base(other) == base(h) {
			return other
		}
	}
	return ghs.NoHazard
}

// limitsOf takes the specific limits that the sheet states and, for hazards it states none for, the table's. They bind
// where the rule set knows them: the Union, Great Britain, Australia and the model regulation.
func limitsOf(ing sheet.Ingredient, row *substance.Substance, rs ghs.RuleSet) []classify.SpecificLimit {
	var out []classify.SpecificLimit
	for _, f := range ing.Limits {
		if f.Known() {
			out = append(out, classify.SpecificLimit{Hazard: f.Value.Hazard, Percent: f.Value.Percent})
		}
	}
	if row == nil || !slices.Contains([]ghs.RuleSet{ghs.EUCLP, ghs.GBCLP, ghs.AUWHS, ghs.UNGHS}, rs) {
		return out
	}
	stated := len(out)
	for _, c := range row.ForRuleSet(rs).Use() {
		for _, l := range c.Limits {
			h := localised(l.Hazard, rs)
			if h == ghs.NoHazard || slices.ContainsFunc(out[:stated], func(s classify.SpecificLimit) bool { return kin(s.Hazard, h) }) {
				continue
			}
			p := sheet.Interval{Lo: l.From, HasLo: true, LoOpen: l.FromOpen, Hi: l.To, HasHi: true, HiOpen: l.ToOpen}
			if !slices.Contains(out, classify.SpecificLimit{Hazard: h, Percent: p}) {
				out = append(out, classify.SpecificLimit{Hazard: h, Percent: p})
			}
		}
	}
	return out
}

// routes are the qualifiers that acute toxicity is known by.
func routes() []ghs.Qualifier {
	return []ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust}
}

// ateOf is what is known of an ingredient's acute toxicity by one route. Of several values the lowest holds. A class
// stricter than the value wins, so that the status stays "from class".
func ateOf(s *sheet.Sheet, ing sheet.Ingredient, row *substance.Substance, hazards ghs.HazardSet, q ghs.Qualifier) classify.ATE {
	least, nontoxic := math.Inf(1), false
	take := func(v sheet.Interval) {
		switch {
		case v.HasLo && !v.HasHi && v.Lo >= acuteCeiling(q):
			nontoxic = true
		case v.HasLo && v.HasHi:
			least = min(least, v.Lo)
		}
	}
	for _, f := range ing.ATE {
		if f.Known() && f.Value.Route == q {
			take(f.Value.Quantity.Interval)
		}
	}
	for _, f := range s.Toxicology.Values {
		if f.Known() && f.Value.Route == q && namesIngredient(f.Value.Ingredient, f.Value.CAS, ing) {
			take(f.Value.Quantity.Interval)
		}
	}
	if math.IsInf(least, 1) && row != nil {
		for _, c := range row.Classifications {
			for _, a := range c.ATE {
				if a.Route == q {
					least = min(least, a.Value)
				}
			}
		}
	}
	classed := slices.ContainsFunc(hazards.All(), func(h ghs.Hazard) bool {
		return h.Class() == ghs.AcuteToxicity && h.Qualifier() == q && (math.IsInf(least, 1) || base(h) < acuteCategory(q, least))
	})
	switch {
	case classed:
		return classify.ATE{}
	case !math.IsInf(least, 1):
		return classify.ATE{Status: classify.ATEValue, Value: least}
	case nontoxic:
		return classify.ATE{Status: classify.ATENotToxic}
	case row == nil && hazards.Empty():
		return classify.ATE{Status: classify.ATEUnknown}
	}
	return classify.ATE{}
}

// namesIngredient tells whether a row of another section speaks of an ingredient of section 3.
func namesIngredient(name, cas string, ing sheet.Ingredient) bool {
	if cas != "" && ing.CAS.Known() {
		return cas == ing.CAS.Value
	}
	return name != "" && ing.Name.Known() && strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(ing.Name.Value))
}

// acuteBounds are the upper ends of categories 1 to 4 (mg/kg; ppm for gas; mg/l for vapour and for dust or mist).
// GHS Table 3.1.1; CLP Annex I Table 3.1.1; 29 CFR 1910.1200 App. A Table A.1.1; HPR s. 8.1.1 tables 1 to 3 (the US and
// Canadian texts were read, the others are from memory).
func acuteBounds(q ghs.Qualifier) [4]float64 {
	switch q {
	case ghs.Oral:
		return [4]float64{5, 50, 300, 2000}
	case ghs.Dermal:
		return [4]float64{50, 200, 1000, 2000}
	case ghs.InhalationGas:
		return [4]float64{100, 500, 2500, 20000}
	case ghs.InhalationVapour:
		return [4]float64{0.5, 2, 10, 20}
	case ghs.InhalationDust:
		return [4]float64{0.05, 0.5, 1, 5}
	}
	return [4]float64{}
}

func acuteCeiling(q ghs.Qualifier) float64 { return acuteBounds(q)[3] }

// acuteCategory is the category, "1" to "4", of a dose, or "none" above them all. "none" sorts behind the digits.
func acuteCategory(q ghs.Qualifier, dose float64) string {
	for i, b := range acuteBounds(q) {
		if dose <= b {
			return string(rune('1' + i))
		}
	}
	return "none"
}

// formOf reads the physical form from section 9.
func formOf(s *sheet.Sheet) classify.Form {
	state := strings.ToLower(s.Physical.State.Value)
	switch {
	case hasAny(state, "aerosol", "aérosol"):
		return classify.Aerosol
	case hasAny(state, "liquid", "flüssig", "líquido", "paste", "pâte", "pasta", "gel", "viscous", "cream"):
		return classify.Liquid
	case hasAny(state, "powder", "poudre", "pulver", "polvo", "dust", "granul"):
		return classify.Powder
	case hasAny(state, "solid", "solide", "fest", "sólido"):
		return classify.Solid
	case hasAny(state, "gas", "gaz"):
		return classify.Gas
	}
	return classify.FormUnknown
}

// testedOf takes over data measured on the product where one number holds for every value the sheet allows. Flash points
// are judged apart, as ranges.
func testedOf(s *sheet.Sheet) classify.Tested {
	var t classify.Tested
	t.PH = decided(s.Physical.Quantities[sheet.PH], 2, 11.5)
	var at40 []sheet.Fact[sheet.Quantity]
	for _, f := range s.Physical.Quantities[sheet.KinematicViscosity] {
		if f.Known() && f.Value.AtC != nil && math.Abs(*f.Value.AtC-40) < 0.5 {
			at40 = append(at40, f)
		}
	}
	t.Viscosity40MM2S = decided(at40, 20.5, 20.5)
	return t
}

// decided gives one number that stands for a stated quantity when all its values fall on one side of the bounds: at or
// below low, at or above high, or wholly between. Otherwise nothing is decided.
func decided(facts []sheet.Fact[sheet.Quantity], low, high float64) *float64 {
	if len(facts) != 1 || !facts[0].Known() {
		return nil
	}
	v := facts[0].Value.Interval
	switch {
	case v.HasHi && v.Hi <= low:
		return &v.Hi
	case v.HasLo && v.Lo >= high && (v.Lo > low || v.LoOpen):
		n := v.Lo
		if n == low {
			n = math.Nextafter(n, math.Inf(1))
		}
		return &n
	case v.HasLo && v.HasHi && v.Lo > low && v.Hi < high:
		return &v.Lo
	}
	return nil
}
