package blend

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Listed is one ingredient as section 3 prints it.
type Listed struct {
	Index   int            `json:"index"` // into Mix.Mixture.Ingredients
	Name    string         `json:"name"`
	CAS     string         `json:"cas"`
	EC      string         `json:"ec,omitempty"`
	Percent sheet.Interval `json:"percent"`
	// SecretName and SecretShare tell that name and number, or the share, are withheld.
	SecretName  bool  `json:"secret_name,omitempty"`
	SecretShare bool  `json:"secret_share,omitempty"`
	Why         []Why `json:"why"`
}

// threshold is the share from which an ingredient of some hazards has to be listed.
type threshold struct {
	rules   ghs.RuleSet
	hazards []string
	percent float64
	why     Why
}

var thresholds = sync.OnceValue(func() []threshold {
	var out []threshold
	for _, r := range table("disclosure.csv") {
		p, err := strconv.ParseFloat(r[2], 64)
		if err != nil {
			panic("blend: disclosure.csv: " + err.Error())
		}
		out = append(out, threshold{ghs.RuleSet(r[0]), list(r[1]), p, Why{Clause: r[3], Memory: r[4] != "read"}})
	}
	return out
})

// band is a range in which a share may be told.
type band struct {
	rules    ghs.RuleSet
	letter   string
	from, to float64
	why      Why
}

var bands = sync.OnceValue(func() []band {
	var out []band
	for _, r := range table("bands.csv") {
		from, err1 := strconv.ParseFloat(r[2], 64)
		to, err2 := strconv.ParseFloat(r[3], 64)
		if err1 != nil || err2 != nil {
			panic("blend: bands.csv: a bound is no number")
		}
		out = append(out, band{ghs.RuleSet(r[0]), r[1], from, to, Why{Rule: fmt.Sprintf("range %s – %s %%", r[2], r[3]), Clause: r[4], Memory: r[5] != "read"}})
	}
	return out
})

// Disclosed are the ingredients that the rule set wants listed, largest share first. l chooses their names.
func (m *Mix) Disclosed(l ghs.Lang) []Listed {
	var out []Listed
	for i := range m.Mixture.Ingredients {
		in := &m.Mixture.Ingredients[i]
		why, listed := m.mustList(i)
		if !listed || m.Parts[i].Hidden {
			continue
		}
		e := Listed{Index: i, Name: m.nameOf(i, l), CAS: in.CAS, EC: m.Parts[i].EC, Percent: rounded(in.Percent), Why: []Why{why}}
		m.withhold(&e, l)
		out = append(out, e)
	}
	slices.SortStableFunc(out, func(a, b Listed) int {
		_, x := m.Mixture.Ingredients[a.Index].Bounds()
		_, y := m.Mixture.Ingredients[b.Index].Bounds()
		return cmp.Compare(y, x)
	})
	return out
}

// rounded keeps four significant digits, outward, so that the printed range holds the true one.
func rounded(v sheet.Interval) sheet.Interval {
	if s, ok := v.Single(); ok {
		return sheet.Exactly(significant(s, math.Round))
	}
	v.Lo, v.Hi = significant(v.Lo, math.Floor), significant(v.Hi, math.Ceil)
	return v
}

func significant(v float64, round func(float64) float64) float64 { return digits(v, 4, round) }

// digits keeps n significant digits; a number written with fewer stays as it is.
func digits(v float64, n int, round func(float64) float64) float64 {
	if v == 0 {
		return 0
	}
	p := math.Pow(10, float64(n-1)-math.Floor(math.Log10(math.Abs(v))))
	near := math.Round(v*p) / p
	if math.Abs(near-v) <= 1e-9*math.Abs(v) { // written with fewer digits than that
		return near
	}
	return round(v*p) / p
}

// nameOf is an ingredient's name in a language, where the table holds one.
func (m *Mix) nameOf(i int, l ghs.Lang) string {
	in, row := m.Mixture.Ingredients[i], m.Parts[i].Row
	if row == nil || l == ghs.English || !strings.EqualFold(in.Name, row.Name) {
		return in.Name
	}
	for _, s := range row.Synonyms {
		if s.Lang == l {
			return strings.ReplaceAll(s.Text, ": ", " ") // a colon would part label and value
		}
	}
	return in.Name
}

// mustList tells whether and by which clause an ingredient has to be listed. The largest share of its range counts.
func (m *Mix) mustList(i int) (Why, bool) {
	in := &m.Mixture.Ingredients[i]
	_, most := in.Bounds()
	if most <= 0 {
		return Why{}, false
	}
	for _, t := range thresholds() {
		if t.rules != m.RuleSet {
			continue
		}
		limit := t.percent
		for _, name := range t.hazards {
			h, ok := m.matches(i, name)
			if !ok {
				continue
			}
			limit = min(limit, specific(in, h))
			limit /= mFactor(in, h)
			if most >= limit-1e-12 {
				w := t.why
				w.Fact = fmt.Sprintf("%s, at most %s %%", cmp.Or(h.String(), name), short(most))
				w.Rule = fmt.Sprintf("listed from %s %%", short(limit))
				return w, true
			}
		}
	}
	return m.contributes(i)
}

// matches tells whether an ingredient falls under a row of the table: a class with its category, all health or
// environmental classes, or a workplace limit of the Union.
func (m *Mix) matches(i int, name string) (ghs.Hazard, bool) {
	in := &m.Mixture.Ingredients[i]
	if name == "workplace limit" {
		return ghs.NoHazard, in.Properties[classify.PropWorkplaceLimit] == 1
	}
	for _, h := range in.Hazards.All() {
		group := h.Class().Group()
		if !m.RuleSet.Exists(h) && !slices.ContainsFunc(h.Class().Hazards(), func(o ghs.Hazard) bool { return m.RuleSet.Exists(o) && o.Class() == h.Class() }) {
			continue
		}
		if name == string(group) || name == h.String() || strings.HasPrefix(h.String(), name+" ") {
			return h, true
		}
	}
	return ghs.NoHazard, false
}

// specific is the lowest specific limit of an ingredient for a class, infinite when it has none.
func specific(in *classify.Ingredient, h ghs.Hazard) float64 {
	least := math.Inf(1)
	for _, l := range in.Limits {
		if l.Hazard.Class() == h.Class() && l.Percent.HasLo && l.Percent.Lo > 0 {
			least = min(least, l.Percent.Lo)
		}
	}
	return least
}

func mFactor(in *classify.Ingredient, h ghs.Hazard) float64 {
	switch h.Class() {
	case ghs.AquaticAcute:
		return max(1, in.MAcute)
	case ghs.AquaticChronic:
		return max(1, in.MChronic)
	}
	return 1
}

// contributes tells whether an ingredient below its threshold still counts in a condition that gives the mixture a class:
// "hazardous below it".
func (m *Mix) contributes(i int) (Why, bool) {
	for _, o := range m.Program.Outcomes {
		if !m.Declared.Has(o.Hazard) || o.Hazard.Class().Group() == ghs.PhysicalGroup {
			continue
		}
		for _, a := range o.AnyOf {
			for _, p := range m.points {
				if a.Holds(p.X) && slices.ContainsFunc(a.AllOf, func(c classify.Condition) bool {
					return slices.ContainsFunc(c.Terms, func(t classify.Term) bool {
						return t.Ingredient == i && t.Weight > 0 && t.Counts(p.X[i]) && p.X[i] > 0
					})
				}) {
					return Why{Fact: "counts toward " + o.Hazard.String(), Rule: "listed because it makes the mixture hazardous", Clause: a.Clause, Memory: a.Memory}, true
				}
			}
		}
	}
	return Why{}, false
}

// withhold replaces name and share where the author wants it and the law allows it. What it does not allow stays printed,
// with a question.
func (m *Mix) withhold(e *Listed, l ghs.Lang) {
	s := m.Parts[e.Index].Secret
	if s == nil {
		return
	}
	if generic, _ := s.Name.In(l); generic != "" {
		if ok, _ := m.mayHideName(); ok {
			e.Name, e.CAS, e.EC, e.SecretName = generic, "", "", true
		}
	}
	if !s.Share {
		return
	}
	if v, why, ok := m.bandFor(m.Mixture.Ingredients[e.Index].Percent); ok && m.sameClasses(e.Index, v) {
		e.Percent, e.SecretShare = v, true
		e.Why = append(e.Why, why)
	}
}

// mayHideName tells whether a name may be withheld without more ado, and by which clause.
func (m *Mix) mayHideName() (bool, Why) {
	a := m.Recipe.Secrets[m.RuleSet]
	switch m.RuleSet {
	case ghs.USHCS2024:
		return true, Why{Rule: "a specific identity may be withheld as a trade secret when the sheet says so and its properties are told", Clause: "29 CFR 1910.1200(i)(1)"}
	case ghs.CAHPR:
		return a.Number != "" && a.Date != "", Why{Rule: "an identity may be withheld only under a claim with its registry number and date on the sheet", Clause: "Hazardous Materials Information Review Act; SOR/2015-17 s. 5.7", Memory: true}
	}
	return a.Number != "" && a.Date != "", Why{Rule: "another name may be used only with the agency's permission", Clause: "Regulation (EC) No 1272/2008 Art. 24", Memory: true}
}

// bandFor is the narrowest range of the law that holds the whole share; up to 30 % two neighbouring ranges of the first
// seven may be joined when neither lies wholly outside the share (29 CFR 1910.1200(i)(1)(v); SOR/2015-17 s. 4.5(1)(c)).
func (m *Mix) bandFor(share sheet.Interval) (sheet.Interval, Why, bool) {
	in := classify.Ingredient{Percent: share}
	lo, hi := in.Bounds()
	var own []band
	for _, b := range bands() {
		if b.rules == m.RuleSet {
			own = append(own, b)
		}
	}
	best, found := band{}, false
	for _, b := range own {
		if lo >= b.from && hi <= b.to && (!found || b.to-b.from < best.to-best.from) {
			best, found = b, true
		}
	}
	if found {
		return sheet.Between(best.from, best.to), best.why, true
	}
	if european(m.RuleSet) || hi > 30 {
		return sheet.Interval{}, Why{}, false
	}
	for k := 0; k+1 < min(7, len(own)); k++ {
		a, b := own[k], own[k+1]
		if lo >= a.from && hi <= b.to && lo <= a.to && hi >= b.from {
			return sheet.Between(a.from, b.to), Why{Rule: "two neighbouring ranges joined", Clause: a.why.Clause + " with (v)"}, true
		}
	}
	return sheet.Interval{}, Why{}, false
}

// sameClasses tells whether the printed range leaves the declared classes as they are. In the Union the hazards have to
// be those of the highest concentration printed, so that a range that would make another class possible is not used.
func (m *Mix) sameClasses(i int, v sheet.Interval) bool {
	if !european(m.RuleSet) {
		return true
	}
	mix := m.Mixture
	mix.Ingredients = slices.Clone(mix.Ingredients)
	mix.Ingredients[i].Percent = v
	mix.Complete = false
	for k := range mix.Ingredients {
		if k != i {
			_, hi := mix.Ingredients[k].Bounds()
			mix.Ingredients[k].Percent = sheet.Interval{Lo: 0, HasLo: true, Hi: hi, HasHi: true}
		}
	}
	p, err := classify.Compile(mix, m.RuleSet)
	if err != nil {
		return false
	}
	e, err := p.Envelope()
	if err != nil {
		return false
	}
	for _, c := range e.Classes() {
		h := c.Possible[0]
		if !m.Declared.Has(h) && !slices.ContainsFunc(m.Declared.All(), func(d ghs.Hazard) bool { return d.Severer(h) }) {
			return false
		}
	}
	return true
}

// LimitsOf are the exposure limits of an ingredient where the rule set is law, with those that the author adds.
func (m *Mix) LimitsOf(i int, l ghs.Lang) []substance.Limit {
	var out []substance.Limit
	if row := m.Parts[i].Row; row != nil {
		for _, j := range m.places(l) {
			out = append(out, row.LimitsFor(j)...)
		}
	}
	for _, x := range m.Recipe.Limits {
		if x.CAS == m.Mixture.Ingredients[i].CAS {
			out = append(out, substance.Limit{Authority: x.Authority, Kind: x.Kind, PPM: x.PPM, MgM3: x.MgM3, Skin: x.Skin, Source: substance.Source{Text: cmp.Or(x.Source, "the author")}})
		}
	}
	return slices.DeleteFunc(out, func(x substance.Limit) bool { return x.Authority == "Cal/OSHA PEL" })
}

// places are where the limits of a sheet hold.
func (m *Mix) places(l ghs.Lang) []substance.Jurisdiction {
	switch {
	case m.RuleSet == ghs.CAHPR:
		return []substance.Jurisdiction{substance.Ontario}
	case european(m.RuleSet) && l == ghs.German:
		return []substance.Jurisdiction{substance.EuropeanUnion, substance.Germany}
	case european(m.RuleSet):
		return []substance.Jurisdiction{substance.EuropeanUnion}
	}
	return []substance.Jurisdiction{substance.UnitedStates}
}
