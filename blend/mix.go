package blend

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Stock is what a recipe is worked out with: the substance table, and the supplier sheets by the file names that the
// recipe uses (Recipe.Files).
type Stock struct {
	Table  *substance.Table
	Sheets map[string]*sheet.Sheet
}

// Mix is a recipe under one rule set: its ingredients, what it is classified as, and its label.
type Mix struct {
	Recipe   *Recipe
	RuleSet  ghs.RuleSet
	Mixture  classify.Mixture
	Parts    []Part // beside Mixture.Ingredients, index by index
	Program  *classify.Program
	Envelope *classify.Envelope
	Declared ghs.HazardSet // what the sheet declares: of every class the severest category that some composition has
	Cautious []ghs.Hazard  // declared, though some composition within the ranges does not have it
	Label    classify.LabelElements

	questions []Question
	points    []classify.Classification // compositions at the ends of the ranges, the recipe's own when it is exact
}

// Part is what is known of one ingredient beside its hazards.
type Part struct {
	Row     *substance.Substance // nil when the table does not hold it
	EC      string
	REACH   string
	From    []string // where it comes in, in words
	Choices []audit.Choice
	Secret  *Secret
	Unknown bool // neither table, nor sheet, nor author says anything of its hazards
	Hidden  bool // the undisclosed part of a supplier's product, with the hazards only its section 2 tells
	Own     bool // the hazards are the author's own data

	comes []incoming // the lines of the recipe it comes in by
}

// Make works a recipe out under a rule set. It fails when shares do not make a whole, when an ingredient is not known and
// nothing is said of it, and when a supplier sheet is missing from the stock.
func Make(r *Recipe, stock Stock, rs ghs.RuleSet) (*Mix, error) {
	if !slices.Contains(Drafted(), rs) {
		return nil, fmt.Errorf("no sheet can be drafted for %s yet: use %v", rs, Drafted())
	}
	return makeMix(r, stock, rs)
}

// makeMix is Make for any rule set that has rules.
func makeMix(r *Recipe, stock Stock, rs ghs.RuleSet) (*Mix, error) {
	m := &Mix{Recipe: r, RuleSet: rs}
	m.Mixture = classify.Mixture{Name: r.Product, Complete: true, ForPublic: r.ForPublic, Use: r.Kinds}
	m.Mixture.Form = r.form()
	m.Mixture.Tested = r.tested()
	if r.given != nil {
		m.takeGiven(r.given, stock.Table)
	} else if err := m.takeLines(stock); err != nil {
		return nil, err
	}
	m.orderLimits()
	m.noGas()
	if err := m.Mixture.Check(); err != nil {
		return nil, fmt.Errorf("the recipe does not add up: %w", err)
	}
	return m, m.classify()
}

func (r *Recipe) form() classify.Form {
	f, _ := classify.ParseForm(r.Form)
	if f != classify.FormUnknown {
		return f
	}
	switch r.Appearance.State {
	case "liquid", "paste":
		return classify.Liquid
	case "solid":
		return classify.Solid
	case "powder":
		return classify.Powder
	}
	return f
}

// tested are the test data on the product. Of a range the end counts that gives the stricter class.
func (r *Recipe) tested() classify.Tested {
	t := classify.Tested{NoFlashPoint: r.Tested.NoFlash, Sustains: r.Tested.Sustains, BufferReserveHigh: r.Tested.Buffered}
	end := func(p sheet.Property) *float64 {
		q, ok := r.Measured[p]
		if !ok {
			return nil
		}
		v, err := parseInterval(string(q.Value))
		if err != nil {
			return nil
		}
		low := v.Lo
		switch {
		case !v.HasLo:
			low = v.Hi
		case v.LoOpen:
			low = math.Nextafter(v.Lo, math.Inf(1))
		}
		if p == sheet.PH && v.HasHi && v.Hi >= 11.5 && low > 2 {
			low = v.Hi
		}
		return &low
	}
	t.FlashPointC, t.BoilingPointC, t.PH = end(sheet.FlashPoint), end(sheet.BoilingPoint), end(sheet.PH)
	if q := r.Measured[sheet.KinematicViscosity]; q.AtC == nil || *q.AtC == 40 {
		t.Viscosity40MM2S = end(sheet.KinematicViscosity)
	}
	for route, text := range r.Tested.ATE {
		var in classify.Ingredient
		if in.Set("ate "+route, string(text)) == nil {
			for q := range in.ATE {
				if in.ATE[q].Status == classify.ATEValue {
					v := in.ATE[q].Value
					t.ATE[q] = &v
				}
			}
		}
	}
	for _, h := range r.Tested.Hazards {
		p, _ := ghs.ParseHazard(h)
		t.Hazards.Add(p)
	}
	for _, h := range r.Tested.NotHazards {
		p, _ := ghs.ParseHazard(h)
		t.NotHazards.Add(p)
	}
	return t
}

// takeGiven takes over the ingredients of a recipe that was read as a table.
func (m *Mix) takeGiven(given *classify.Mixture, table *substance.Table) {
	filled, _ := given.Fill(table, m.RuleSet)
	m.Mixture.Ingredients, m.Mixture.Complete, m.Mixture.Tested, m.Mixture.Form = filled.Ingredients, filled.Complete, filled.Tested, filled.Form
	for _, in := range m.Mixture.Ingredients {
		row, _ := table.ByCAS(in.CAS)
		p := Part{Row: row, From: []string{"the recipe"}, Own: row == nil}
		if row != nil {
			p.EC = row.EC
		}
		m.Parts = append(m.Parts, p)
	}
}

// takeLines takes the ingredients from the recipe's lines, each with its share of the whole.
func (m *Mix) takeLines(stock Stock) error {
	shares, err := m.Recipe.shares()
	if err != nil {
		return err
	}
	for i, l := range m.Recipe.Ingredients {
		if l.Sheet != "" {
			if err := m.takeSheet(l, i, shares[i], stock); err != nil {
				return fmt.Errorf("ingredient %d (%s): %w", i+1, l.called(), err)
			}
			continue
		}
		if err := m.takeSubstance(l, i, shares[i], stock.Table); err != nil {
			return fmt.Errorf("ingredient %d (%s): %w", i+1, l.called(), err)
		}
	}
	for i := range m.Parts {
		m.Mixture.Ingredients[i].Percent = narrowed(m.Mixture.Ingredients[i].Percent, shares, m.Parts[i].comes)
	}
	return nil
}

const whole = 100.0

// slack is how far shares written with a few digits may miss the whole, percent.
const slack = 0.05

// shares are the shares of the recipe's lines; the line that is the rest gets what the others leave.
func (r *Recipe) shares() ([]sheet.Interval, error) {
	out := make([]sheet.Interval, len(r.Ingredients))
	var lo, hi float64
	rest := -1
	for i, l := range r.Ingredients {
		if l.Percent == "rest" {
			rest = i
			continue
		}
		var in classify.Ingredient
		if err := in.Set("percent", string(l.Percent)); err != nil {
			return nil, err
		}
		out[i] = in.Percent
		a, b := in.Bounds()
		lo, hi = lo+a, hi+b
	}
	switch {
	case lo > whole+slack:
		return nil, fmt.Errorf("the shares make %.4g %% or more: lower some of them until they make 100 %%", lo)
	case rest >= 0:
		out[rest] = sheet.Between(max(0, whole-hi), whole-min(lo, whole))
	case hi < whole-slack:
		return nil, fmt.Errorf("the shares make no more than %.4g %%: name what is missing, or write percent: rest for the ingredient that fills up to 100 %%", hi)
	case lo == hi && lo != whole: // digits were rounded
		for i := range out {
			out[i] = sheet.Exactly(out[i].Lo * whole / lo)
		}
	}
	return out, nil
}

// takeSubstance adds a substance of the table or one that the author describes.
func (m *Mix) takeSubstance(l Line, line int, share sheet.Interval, table *substance.Table) error {
	var own classify.Ingredient
	for column, text := range l.Own {
		if err := own.Set(column, string(text)); err != nil {
			return err
		}
	}
	row, err := m.find(l, table)
	if err != nil {
		return err
	}
	ing := sheet.Ingredient{Name: stated(l.Name), Percent: stated(sheet.Quantity{Interval: share, Unit: "%"})}
	part := Part{Row: row, EC: l.EC, REACH: l.REACH, Secret: l.Secret, Own: row == nil || len(l.Own) > 0, From: []string{"the recipe"}}
	if l.Source != "" {
		part.From = []string{l.Source}
	}
	cas := l.CAS
	if row != nil {
		cas = row.CAS
		part.EC = cmp.Or(l.EC, row.EC)
		if l.Name == "" {
			ing.Name = stated(row.Name)
		}
	}
	if cas != "" {
		ing.CAS = stated(cas)
	}
	for _, h := range own.Hazards.All() {
		ing.Hazards = append(ing.Hazards, stated(sheet.ClassStatement{Hazard: h, Printed: h.String()}))
	}
	for _, x := range own.Limits {
		ing.Limits = append(ing.Limits, stated(sheet.SpecificLimit{Hazard: x.Hazard, Percent: x.Percent}))
	}
	one := &sheet.Sheet{Composition: sheet.Composition{Ingredients: []sheet.Ingredient{ing}}}
	built, choices := audit.BuildMixture(one, table, m.RuleSet)
	in := built.Ingredients[0]
	in.Name, in.Percent = ing.Name.Value, share
	giveOwn(&in, &own)
	fromRow(&in, row)
	part.Choices = choices
	part.comes = []incoming{{line, 100, 100}}
	part.Unknown = row == nil && len(l.Own) == 0
	m.join(in, part)
	return nil
}

func (m *Mix) find(l Line, table *substance.Table) (*substance.Substance, error) {
	if l.CAS != "" {
		if _, ok := substance.NormaliseCAS(l.CAS); !ok || !substance.ValidCAS(mustCAS(l.CAS)) {
			return nil, fmt.Errorf("%q is no valid CAS number: check its digits", l.CAS)
		}
		row, ok := table.ByCAS(l.CAS)
		if !ok {
			return nil, nil
		}
		return row, nil
	}
	hits := table.Search(l.Name, 3)
	if len(hits) > 0 && hits[0].Exact {
		return hits[0].Substance, nil
	}
	if len(l.Own) > 0 {
		return nil, nil
	}
	var like []string
	for _, h := range hits {
		like = append(like, h.Name+" (CAS "+h.CAS+")")
	}
	if len(like) > 0 {
		return nil, fmt.Errorf("no substance is called so; perhaps %s: give the CAS number, or what you know under own", strings.Join(like, ", "))
	}
	return nil, errors.New("no substance is called so: give its CAS number, the sheet it comes with, or what you know under own")
}

func mustCAS(s string) string { c, _ := substance.NormaliseCAS(s); return c }

// giveOwn adds what the author states beyond hazards and limits. A dose of the author counts beside a class, by the
// stricter of both.
func giveOwn(in *classify.Ingredient, own *classify.Ingredient) {
	for q := range own.ATE {
		if own.ATE[q].Status != classify.ATEFromClass {
			in.ATE[q] = own.ATE[q]
		}
	}
	in.MAcute, in.MChronic = max(in.MAcute, own.MAcute), max(in.MChronic, own.MChronic)
	in.Statements = append(in.Statements, own.Statements...)
	in.ActiveOxygenPct = max(in.ActiveOxygenPct, own.ActiveOxygenPct)
	in.MolarMassGMol = max(in.MolarMassGMol, own.MolarMassGMol)
	for k, v := range own.Properties {
		property(in, k, v)
	}
}

func property(in *classify.Ingredient, name string, v float64) {
	if in.Properties == nil {
		in.Properties = map[string]float64{}
	}
	in.Properties[name] = v
}

// stated is a fact without a document behind it: typed by the author or concluded by this package.
func stated[T any](v T) sheet.Fact[T] {
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Confidence: 1, Evidence: []sheet.Evidence{{Page: 1, How: sheet.ByPerson}}}
}

// fromRow adds the properties that follow from the table's row: what family the substance is of, and whether the Union
// has a workplace limit for it.
func fromRow(in *classify.Ingredient, row *substance.Substance) {
	if row == nil {
		return
	}
	switch row.Family {
	case "isocyanate":
		property(in, classify.PropIsocyanate, 1)
	case "epoxy resin":
		property(in, classify.PropEpoxy, 1)
	}
	if slices.ContainsFunc(row.Limits, func(l substance.Limit) bool { return strings.HasPrefix(l.Authority, "EU ") }) {
		property(in, classify.PropWorkplaceLimit, 1)
	}
}

// takeSheet adds the ingredients of a supplier's product at its share of the whole; their ranges stay ranges. Hazards that
// the supplier declares and the listed ingredients do not explain go with the undisclosed part.
func (m *Mix) takeSheet(l Line, line int, share sheet.Interval, stock Stock) error {
	s, ok := stock.Sheets[l.Sheet]
	if !ok || s == nil {
		return fmt.Errorf("the sheet %s was not read: put the file where the recipe says", l.Sheet)
	}
	product, choices := audit.BuildMixture(s, stock.Table, m.RuleSet)
	called := cmp.Or(l.Name, s.Identification.ProductName.Value, l.Sheet)
	if len(product.Ingredients) == 0 && s.Composition.State != sheet.NoneStated {
		m.ask("ingredients", func(w dictionary) string { return w.say("ask.sheetempty", "x", called) })
	}
	lowest, highest := 0.0, 0.0
	for _, in := range product.Ingredients {
		lo, hi := in.Bounds()
		lowest, highest = lowest+lo, highest+hi
	}
	for i, in := range product.Ingredients {
		lo, hi := in.Bounds()
		from := fmt.Sprintf("%s, section 3 of its sheet", called)
		part := Part{From: []string{from}, EC: s.Composition.Ingredients[i].EC.Value, REACH: s.Composition.Ingredients[i].REACH.Value}
		part.Row, _ = stock.Table.ByCAS(in.CAS)
		for _, c := range choices {
			if c.Ingredient == i {
				part.Choices = append(part.Choices, c)
			}
		}
		if s.Composition.Ingredients[i].Secret.Value {
			part.Secret = &Secret{Name: Words{"": in.Name}}
			m.ask("ingredients", func(w dictionary) string { return w.say("ask.supplier", "x", in.Name, "y", called) })
		}
		part.Unknown = part.Row == nil && in.Hazards.Empty()
		part.comes = []incoming{{line, lo, max(lo, min(hi, whole-(lowest-lo)))}}
		in.Percent = portion(share, in.Percent)
		fromRow(&in, part.Row)
		m.join(in, part)
	}
	m.takeRemainder(s, stock, called, line, share, max(0, whole-highest), max(0, whole-lowest), product)
	return nil
}

// takeRemainder adds what a supplier's sheet leaves undisclosed, with the declared hazards that nothing listed explains.
func (m *Mix) takeRemainder(s *sheet.Sheet, stock Stock, called string, line int, share sheet.Interval, least, most float64, product classify.Mixture) {
	if most < slack {
		return
	}
	m.Mixture.Complete = false
	m.ask("ingredients", func(w dictionary) string { return w.say("ask.remainder", "x", called, "n", fmt.Sprintf("%.3g", most)) })
	declared := (&audit.Case{Sheet: s, RuleSet: m.RuleSet, Substances: stock.Table}).Declared()
	var unexplained ghs.HazardSet
	p, err := classify.Compile(product, m.RuleSet)
	if err != nil {
		return
	}
	e, err := p.Envelope()
	if err != nil {
		return
	}
	for _, h := range declared.All() {
		if h.Class().Group() != ghs.PhysicalGroup && m.RuleSet.Exists(h) && e.Of(h).OrSeverer == classify.RuledOut {
			unexplained.Add(h)
		}
	}
	if unexplained.Empty() {
		return
	}
	in := classify.Ingredient{Name: "undisclosed part of " + called, Percent: portion(share, sheet.Between(least, most)), Hazards: unexplained}
	m.join(in, Part{Hidden: true, comes: []incoming{{line, least, most}}, From: []string{called + ", section 2 of its sheet"}})
	m.ask("ingredients", func(w dictionary) string { return w.say("ask.unexplained", "x", called, "h", unexplained.String()) })
}

// portion is a share of a share, percent.
func portion(whole, part sheet.Interval) sheet.Interval {
	in := classify.Ingredient{Percent: part}
	lo, hi := in.Bounds()
	a := classify.Ingredient{Percent: whole}
	from, to := a.Bounds()
	return sheet.Interval{Lo: from * lo / 100, HasLo: true, Hi: to * hi / 100, HasHi: true,
		LoOpen: part.LoOpen || whole.LoOpen, HiOpen: part.HiOpen || whole.HiOpen, Approx: part.Approx || whole.Approx}
}

// join adds an ingredient, or its share to the same ingredient that came in before; of differing data the stricter counts.
func (m *Mix) join(in classify.Ingredient, part Part) {
	same := func(have classify.Ingredient) bool {
		return in.CAS != "" && have.CAS == in.CAS || in.CAS == "" && have.CAS == "" && strings.EqualFold(have.Name, in.Name)
	}
	at := slices.IndexFunc(m.Mixture.Ingredients, same)
	if at < 0 {
		m.Mixture.Ingredients, m.Parts = append(m.Mixture.Ingredients, in), append(m.Parts, part)
		return
	}
	have, old := &m.Mixture.Ingredients[at], &m.Parts[at]
	a, b := have.Percent, in.Percent
	have.Percent = sheet.Interval{Lo: a.Lo + b.Lo, HasLo: true, Hi: min(whole, a.Hi+b.Hi), HasHi: true, LoOpen: a.LoOpen || b.LoOpen, HiOpen: a.HiOpen || b.HiOpen}
	have.Hazards = have.Hazards.Union(in.Hazards)
	for _, l := range in.Limits {
		if !slices.Contains(have.Limits, l) {
			have.Limits = append(have.Limits, l)
		}
	}
	for q := range in.ATE {
		if in.ATE[q].Status == classify.ATEValue && (have.ATE[q].Status != classify.ATEValue || in.ATE[q].Value < have.ATE[q].Value) {
			have.ATE[q] = in.ATE[q]
		}
	}
	have.MAcute, have.MChronic = max(have.MAcute, in.MAcute), max(have.MChronic, in.MChronic)
	old.From = append(old.From, part.From...)
	old.comes = append(old.comes, part.comes...)
	old.Choices = append(old.Choices, part.Choices...)
	old.EC, old.REACH = cmp.Or(old.EC, part.EC), cmp.Or(old.REACH, part.REACH)
	old.Secret = cmp.Or(old.Secret, part.Secret)
	old.Unknown = old.Unknown && part.Unknown
}

// orderLimits puts the specific limits of each ingredient in the order of the standard, so that sheets come out alike.
func (m *Mix) orderLimits() {
	for i := range m.Mixture.Ingredients {
		in := &m.Mixture.Ingredients[i]
		slices.SortStableFunc(in.Limits, func(a, b classify.SpecificLimit) int { return cmp.Compare(a.Hazard, b.Hazard) })
	}
}

// noGas leaves the gas route out for a product that is no gas: that nobody knows its toxicity by that route says nothing.
func (m *Mix) noGas() {
	if m.Mixture.Form == classify.Gas {
		return
	}
	for i := range m.Mixture.Ingredients {
		if a := &m.Mixture.Ingredients[i].ATE[ghs.InhalationGas]; a.Status == classify.ATEUnknown {
			a.Status = classify.ATEFromClass
		}
	}
}

// classify works out the classes, what is declared, and the label.
func (m *Mix) classify() error {
	var err error
	if m.Program, err = classify.Compile(m.Mixture, m.RuleSet); err != nil {
		return err
	}
	if m.Envelope, err = m.Program.Envelope(); err != nil {
		return fmt.Errorf("the shares cannot be right together: %w", err)
	}
	for _, c := range m.Envelope.Classes() {
		severest := c.Possible[0]
		m.Declared.Add(severest)
		if m.Envelope.Of(severest).OrSeverer != classify.Certain {
			m.Cautious = append(m.Cautious, severest)
			m.ask("classification", func(w dictionary) string { return w.say("ask.cautious", "x", w.hazard(severest)) })
		}
	}
	m.findPoints()
	m.label()
	m.askOpen()
	return nil
}

// findPoints are the compositions that decide what else the label needs: the recipe's own, or those in which one
// ingredient after the other has its largest share.
func (m *Mix) findPoints() {
	if x, ok := m.Program.Point(); ok {
		m.points = append(m.points, m.Program.At(x))
		return
	}
	for i := range m.Mixture.Ingredients {
		if x, ok := m.most(i); ok {
			m.points = append(m.points, m.Program.At(x))
		}
	}
	for _, a := range m.Envelope.Answers {
		if a.For != nil {
			m.points = append(m.points, m.Program.At(a.For.Percent))
		}
	}
}

// most is a composition in which ingredient i has the largest share that the others leave it.
func (m *Mix) most(i int) ([]float64, bool) {
	x := make([]float64, len(m.Mixture.Ingredients))
	left := whole
	for k, in := range m.Mixture.Ingredients {
		x[k], _ = in.Bounds()
		left -= x[k]
	}
	raise := func(k int) {
		_, hi := m.Mixture.Ingredients[k].Bounds()
		add := max(0, min(hi-x[k], left))
		x[k], left = x[k]+add, left-add
	}
	raise(i)
	if m.Mixture.Complete {
		for k := range x {
			raise(k)
		}
	}
	return x, m.Program.CheckPoint(x) == nil
}

// label works out the label of the declared classes, with the supplemental statements that some composition calls for.
func (m *Mix) label() {
	opt := classify.LabelOptions{ForPublic: m.Recipe.ForPublic}
	if x, ok := m.Program.Point(); ok {
		at := m.Program.At(x)
		m.Label = at.Label(opt)
		return
	}
	m.Label = classify.Label(m.Declared, m.RuleSet, opt)
	for i := range m.points {
		other := m.points[i].Label(opt)
		for _, e := range other.Hazard {
			had := slices.ContainsFunc(m.Label.Hazard, func(h classify.LabelElement[ghs.Code]) bool { return h.Value == e.Value })
			if !had && e.Value.Kind() == ghs.SupplementalStatement {
				m.Label.Hazard = append(m.Label.Hazard, e)
			}
		}
		for _, s := range other.Supplements {
			m.addSupplement(s)
		}
		for _, u := range other.Unknown {
			m.addUnknown(u)
		}
	}
}

func (m *Mix) addSupplement(s classify.Supplement) {
	i := slices.IndexFunc(m.Label.Supplements, func(h classify.Supplement) bool { return h.Code == s.Code })
	if i < 0 {
		m.Label.Supplements = append(m.Label.Supplements, s)
		return
	}
	for _, n := range s.Ingredients {
		if have := m.Label.Supplements[i].Ingredients; !slices.Contains(have, n) {
			m.Label.Supplements[i].Ingredients = append(slices.Clone(have), n)
		}
	}
}

func (m *Mix) addUnknown(u classify.UnknownToxicity) {
	for i := range m.Label.Unknown {
		if m.Label.Unknown[i].Route == u.Route {
			m.Label.Unknown[i].Percent = max(m.Label.Unknown[i].Percent, u.Percent)
			return
		}
	}
	m.Label.Unknown = append(m.Label.Unknown, u)
}

// askOpen asks for the facts on which further classes hang.
func (m *Mix) askOpen() {
	seen := map[string]bool{}
	for _, a := range m.Envelope.Answers {
		for _, o := range a.Open {
			needs := strings.Join(o.Needs, ", ")
			if key := needs + a.Hazard.Class().String(); !seen[key] {
				seen[key] = true
				h := a.Hazard
				m.askWhy("classification", Why{Rule: needs, Clause: o.Clause}, func(w dictionary) string {
					return w.say("ask.open", "x", w.hazard(h), "n", needs)
				})
			}
		}
	}
	for i := range m.Mixture.Ingredients {
		if m.Parts[i].Unknown {
			name := m.Mixture.Ingredients[i].Name
			m.ask("ingredients", func(w dictionary) string { return w.say("ask.hazards", "x", name) })
		}
	}
}
