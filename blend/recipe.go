package blend

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/goccy/go-yaml"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// Example is a commented recipe that shows every field.
//
//go:embed example.yaml
var Example string

// Words is a text of the author, either one for all languages or one per language.
type Words map[ghs.Lang]string

// In is the text in a language; ok is false when it had to be taken from another language.
func (w Words) In(l ghs.Lang) (text string, ok bool) {
	if t, ok := w[l]; ok {
		return t, true
	}
	if t, ok := w[""]; ok {
		return t, true
	}
	for _, other := range ghs.Langs() {
		if t, ok := w[other]; ok {
			return t, false
		}
	}
	return "", true
}

// UnmarshalYAML reads a text, or a text per language.
func (w *Words) UnmarshalYAML(b []byte) error {
	var one string
	if yaml.Unmarshal(b, &one) == nil {
		*w = Words{"": strings.TrimSpace(one)}
		return nil
	}
	var many map[string]string
	if err := yaml.Unmarshal(b, &many); err != nil {
		return errors.New("write a text, or one text per language: {en: …, fr: …, de: …, es: …}")
	}
	*w = Words{}
	for l, text := range many {
		if !slices.Contains(ghs.Langs(), ghs.Lang(l)) {
			return fmt.Errorf("no language is called %q: use en, fr, de, es", l)
		}
		(*w)[ghs.Lang(l)] = strings.TrimSpace(text)
	}
	return nil
}

// Text is a scalar of a recipe kept as it is written: 5, "10 - 30", rest.
type Text string

// UnmarshalYAML takes numbers and texts alike.
func (t *Text) UnmarshalYAML(b []byte) error {
	var s string
	if err := yaml.Unmarshal(b, &s); err == nil {
		*t = Text(strings.TrimSpace(s))
		return nil
	}
	var v any
	if err := yaml.Unmarshal(b, &v); err != nil {
		return err
	}
	switch v.(type) {
	case map[string]any, []any:
		return errors.New("write one value here")
	}
	*t = Text(fmt.Sprint(v))
	return nil
}

// Recipe is what the author says of the product. Fields left empty become open questions of the draft.
type Recipe struct {
	Product     string                          `yaml:"product"`
	Code        string                          `yaml:"code"`
	UFI         string                          `yaml:"ufi"`
	Uses        Words                           `yaml:"uses"`
	UsesAgainst Words                           `yaml:"uses_against"`
	Kinds       []classify.Use                  `yaml:"kinds"`
	ForPublic   bool                            `yaml:"for_public"`
	Form        string                          `yaml:"form"`
	Rules       []string                        `yaml:"rules"`
	Languages   []ghs.Lang                      `yaml:"languages"`
	Supplier    Supplier                        `yaml:"supplier"`
	Emergency   Emergency                       `yaml:"emergency"`
	Revision    Revision                        `yaml:"revision"`
	Ingredients []Line                          `yaml:"ingredients"`
	Measured    map[sheet.Property]Measured     `yaml:"measured"`
	Appearance  Appearance                      `yaml:"appearance"`
	Tested      Tested                          `yaml:"tested"`
	Organs      map[string]Words                `yaml:"organs"` // by H370 to H373, with article: the lungs
	NoData      []string                        `yaml:"no_data"`
	NotApplies  []string                        `yaml:"not_applicable"`
	Gloves      *Gloves                         `yaml:"gloves"`
	Respirator  string                          `yaml:"respirator"`
	Limits      []Limit                         `yaml:"limits"`
	Transport   *Transport                      `yaml:"transport"`
	Texts       map[string]Words                `yaml:"texts"`
	Secrets     map[ghs.RuleSet]SecretAuthority `yaml:"secret_authority"`

	given *classify.Mixture // ingredients read from a table, see Of
}

// Supplier is who answers for the product.
type Supplier struct {
	Name    string   `yaml:"name"`
	Address []string `yaml:"address"`
	Phone   string   `yaml:"phone"`
	Email   string   `yaml:"email"`
}

// Emergency is the telephone for emergencies and the hours it is answered.
type Emergency struct {
	Phone string `yaml:"phone"`
	Hours Words  `yaml:"hours"`
}

// Revision is the state of the document. Dates are ISO 8601.
type Revision struct {
	Version string    `yaml:"version"`
	Date    string    `yaml:"date"`
	History []Earlier `yaml:"history"` // newest first
}

// Earlier is one earlier revision and what changed in it.
type Earlier struct {
	Version string `yaml:"version"`
	Date    string `yaml:"date"`
	Changes Words  `yaml:"changes"`
}

// Line is one ingredient: a substance of the table by CAS number or name, a supplier's product by its sheet, or a
// substance described by the author's own data. Percent is a share, a range, or "rest".
type Line struct {
	Name    string          `yaml:"name"`
	CAS     string          `yaml:"cas"`
	EC      string          `yaml:"ec"`
	REACH   string          `yaml:"reach"`
	Percent Text            `yaml:"percent"`
	Sheet   string          `yaml:"sheet"` // file of the supplier's sheet
	Own     map[string]Text `yaml:"own"`   // columns of classify.ReadRecipe: hazards, limits, ate oral, m acute …
	Source  string          `yaml:"source"`
	Secret  *Secret         `yaml:"secret"`
}

// Secret is what the author wants to keep back of an ingredient. Whether the law allows it is told by the draft.
type Secret struct {
	Name  Words `yaml:"name"`  // generic name to print in place of name and number
	Share bool  `yaml:"share"` // print one of the law's ranges in place of the share
}

// SecretAuthority is the permission that a law asks for before a name is withheld: the registry number of the claim with
// its date (Canada), or the decision of the agency (EU).
type SecretAuthority struct {
	Number string `yaml:"number"`
	Date   string `yaml:"date"`
}

// Measured is one measured property in the unit of package sheet (docs/blend.md), with its method.
type Measured struct {
	Value  Text     `yaml:"value"`
	Method string   `yaml:"method"`
	Cup    string   `yaml:"cup"` // flash point: closed or open
	AtC    *float64 `yaml:"at_c"`
}

// Appearance is what anybody can see and smell.
type Appearance struct {
	State     string `yaml:"state"` // liquid, paste, solid, powder
	Colour    Words  `yaml:"colour"`
	Odour     Words  `yaml:"odour"`
	Particles Words  `yaml:"particles"`
}

// Tested is what tests on the product itself found.
type Tested struct {
	Hazards    []string        `yaml:"hazards"`     // classes established by test
	NotHazards []string        `yaml:"not_hazards"` // classes excluded by test
	ATE        map[string]Text `yaml:"ate"`         // oral, dermal, gas, vapour, dust
	Sustains   *bool           `yaml:"sustains_combustion"`
	Buffered   *bool           `yaml:"buffer_reserve_high"`
	NoFlash    bool            `yaml:"no_flash_point"`
}

// Gloves are the gloves that the author had tested or that the maker vouches for.
type Gloves struct {
	Material        string  `yaml:"material"` // nitrile, butyl, neoprene, natural rubber, PVC, PVA, fluoroelastomer, laminate
	ThicknessMM     float64 `yaml:"thickness_mm"`
	BreakthroughMin float64 `yaml:"breakthrough_min"`
	Standard        string  `yaml:"standard"`
}

// Limit is an exposure limit that the substance table does not hold.
type Limit struct {
	CAS       string  `yaml:"cas"`
	Authority string  `yaml:"authority"`
	Kind      string  `yaml:"kind"` // TWA, STEL, ceiling
	PPM       float64 `yaml:"ppm"`
	MgM3      float64 `yaml:"mg_m3"`
	Skin      bool    `yaml:"skin"`
	Source    string  `yaml:"source"`
}

// Transport is the classification for transport as a trained person decided it; it takes the place of the proposal.
type Transport struct {
	UN           string   `yaml:"un"` // "" with NotRegulated
	NotRegulated bool     `yaml:"not_regulated"`
	Name         Words    `yaml:"name"`
	Class        string   `yaml:"class"`
	Subsidiary   []string `yaml:"subsidiary"`
	PackingGroup string   `yaml:"packing_group"`
	Environment  bool     `yaml:"environment"`
	By           string   `yaml:"by"`
}

// Read reads a recipe. Mistakes are told with line, field and what to write instead.
func Read(r io.Reader) (*Recipe, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var out Recipe
	if err := yaml.NewDecoder(bytes.NewReader(data), yaml.Strict()).Decode(&out); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("the recipe cannot be read: %w (sixteen blend --example prints one with every field)", err)
	}
	if err := out.check(); err != nil {
		return nil, err
	}
	return &out, nil
}

// Of makes a recipe of a mixture that classify.ReadRecipe read: everything but ingredients and test data stays open.
func Of(m classify.Mixture) *Recipe {
	r := &Recipe{Product: m.Name, Form: m.Form.String(), ForPublic: m.ForPublic, Kinds: m.Use, given: &m}
	return r
}

// RuleSets are the rule sets that the recipe asks for, or the United States, the Union and Canada.
func (r *Recipe) RuleSets() []ghs.RuleSet {
	var out []ghs.RuleSet
	for _, s := range r.Rules {
		rs, _ := ghs.ParseRuleSet(s)
		out = append(out, rs)
	}
	if len(out) == 0 {
		out = Drafted()
	}
	return out
}

// Files are the supplier sheets that the recipe names, each once.
func (r *Recipe) Files() []string {
	var out []string
	for _, l := range r.Ingredients {
		if l.Sheet != "" && !slices.Contains(out, l.Sheet) {
			out = append(out, l.Sheet)
		}
	}
	return out
}

func (r *Recipe) check() error {
	if strings.TrimSpace(r.Product) == "" {
		return errors.New("the recipe has no product name: write product: …")
	}
	if len(r.Ingredients) == 0 {
		return errors.New("the recipe has no ingredients: list them under ingredients, each with cas, sheet or own, and percent")
	}
	for _, s := range r.Rules {
		rs, err := ghs.ParseRuleSet(s)
		if err != nil {
			return fmt.Errorf("rules: %w", err)
		}
		if !slices.Contains(Drafted(), rs) {
			return fmt.Errorf("rules: no sheet can be drafted for %s yet: use %v", rs, Drafted())
		}
	}
	for _, l := range r.Languages {
		if !slices.Contains(ghs.Langs(), l) {
			return fmt.Errorf("languages: no language is called %q: use en, fr, de, es", l)
		}
	}
	if _, err := classify.ParseForm(r.Form); err != nil {
		return fmt.Errorf("form: %w", err)
	}
	for _, check := range []func() error{r.checkLines, r.checkMeasured, r.checkDates, r.checkNames} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

func (r *Recipe) checkLines() error {
	rests := 0
	for i, l := range r.Ingredients {
		at := fmt.Sprintf("ingredient %d (%s)", i+1, l.called())
		if l.CAS == "" && l.Name == "" && l.Sheet == "" {
			return fmt.Errorf("ingredient %d: give its cas number, its name, or the sheet of the product it is", i+1)
		}
		if l.Sheet != "" && len(l.Own) > 0 {
			return fmt.Errorf("%s: either a sheet or own data, not both", at)
		}
		switch {
		case l.Percent == "":
			return fmt.Errorf("%s: percent is missing; write a number, a range such as 10 - 30, or rest", at)
		case l.Percent == "rest":
			rests++
		default:
			var in classify.Ingredient
			if err := in.Set("percent", string(l.Percent)); err != nil {
				return fmt.Errorf("%s: %w", at, err)
			}
		}
		for column, text := range l.Own {
			var in classify.Ingredient
			if column == "name" || column == "percent" || column == "cas" {
				return fmt.Errorf("%s: %s stands beside own, not under it", at, column)
			}
			if err := in.Set(column, string(text)); err != nil {
				return fmt.Errorf("%s: own: %w", at, err)
			}
		}
	}
	if rests > 1 {
		return errors.New("two ingredients are the rest: only one can fill up to 100 %")
	}
	return nil
}

// called is how an ingredient is named in messages.
func (l Line) called() string {
	for _, s := range []string{l.Name, l.CAS, l.Sheet} {
		if s != "" {
			return s
		}
	}
	return "unnamed"
}

func (r *Recipe) checkMeasured() error {
	for p, m := range r.Measured {
		if !slices.Contains(sheet.Properties(), p) {
			return fmt.Errorf("measured: no property is called %q: use %v", p, sheet.Properties())
		}
		if _, err := parseInterval(string(m.Value)); err != nil {
			return fmt.Errorf("measured %s: %w", p, err)
		}
		if m.Cup != "" && m.Cup != "closed" && m.Cup != "open" {
			return fmt.Errorf("measured %s: cup is %q: write closed or open", p, m.Cup)
		}
	}
	for route, v := range r.Tested.ATE {
		var in classify.Ingredient
		if err := in.Set("ate "+route, string(v)); err != nil {
			return fmt.Errorf("tested ate %s: %w", route, err)
		}
	}
	for _, list := range [][]string{r.Tested.Hazards, r.Tested.NotHazards} {
		for _, h := range list {
			if _, ok := ghs.ParseHazard(h); !ok {
				return fmt.Errorf("tested: no hazard class is called %q: write as in Skin Irrit. 2", h)
			}
		}
	}
	return nil
}

func (r *Recipe) checkDates() error {
	dates := []string{r.Revision.Date}
	for _, e := range r.Revision.History {
		dates = append(dates, e.Date)
	}
	for _, d := range dates {
		if d == "" {
			continue
		}
		if _, err := time.Parse(time.DateOnly, d); err != nil {
			return fmt.Errorf("revision: %q is no date: write as in 2026-03-31", d)
		}
	}
	return nil
}

// checkNames looks at the names that are keys of tables: fields said to have no data, texts, gloves, states.
func (r *Recipe) checkNames() error {
	known := fieldNames()
	for _, list := range [][]string{r.NoData, r.NotApplies} {
		for _, f := range list {
			if !slices.Contains(known, f) {
				return fmt.Errorf("no_data, not_applicable: no field is called %q: docs/blend.md lists them", f)
			}
		}
	}
	for f := range r.Texts {
		if !slices.Contains(known, f) {
			return fmt.Errorf("texts: no field is called %q: docs/blend.md lists them", f)
		}
	}
	for code := range r.Organs {
		if !slices.Contains([]string{"H370", "H371", "H372", "H373"}, code) {
			return fmt.Errorf("organs: %q names no organs: use H370, H371, H372 or H373", code)
		}
	}
	if g := r.Gloves; g != nil && !slices.Contains(gloveMaterials, g.Material) {
		return fmt.Errorf("gloves: no material is called %q: use %s", g.Material, strings.Join(gloveMaterials, ", "))
	}
	if s := r.Appearance.State; s != "" && !slices.Contains(states, s) {
		return fmt.Errorf("appearance: state is %q: use %s", s, strings.Join(states, ", "))
	}
	for _, l := range r.Limits {
		if !slices.Contains([]string{"TWA", "STEL", "ceiling"}, l.Kind) || l.PPM <= 0 && l.MgM3 <= 0 || l.CAS == "" || l.Authority == "" {
			return fmt.Errorf("limits: %s needs cas, authority, kind (TWA, STEL or ceiling) and ppm or mg_m3 above 0", l.CAS)
		}
	}
	return nil
}

var (
	gloveMaterials = []string{"nitrile", "butyl", "neoprene", "natural rubber", "PVC", "PVA", "fluoroelastomer", "laminate"}
	states         = []string{"liquid", "paste", "solid", "powder"}
)

var intervalForm = regexp.MustCompile(`^([<>≤≥]=?)?\s*(-?[0-9]+(?:[.,][0-9]+)?)(?:\s*(?:-|–|to)\s*(-?[0-9]+(?:[.,][0-9]+)?))?$`)

// parseInterval reads "27", "> 93", "120 - 128".
func parseInterval(s string) (sheet.Interval, error) {
	m := intervalForm.FindStringSubmatch(strings.TrimSpace(s))
	if m == nil {
		return sheet.Interval{}, fmt.Errorf("%q is no number: write as in 27, > 93 or 120 - 128, without a unit", s)
	}
	number := func(t string) float64 {
		v, _ := strconv.ParseFloat(strings.Replace(t, ",", ".", 1), 64)
		return v
	}
	v := number(m[2])
	switch {
	case m[3] != "" && m[1] != "" || m[3] != "" && number(m[3]) < v:
		return sheet.Interval{}, fmt.Errorf("%q is no range: write as in 120 - 128", s)
	case m[3] != "":
		return sheet.Between(v, number(m[3])), nil
	case strings.HasPrefix(m[1], "<") || strings.HasPrefix(m[1], "≤"):
		return sheet.Interval{Hi: v, HasHi: true, HiOpen: m[1] == "<"}, nil
	case m[1] != "":
		return sheet.Interval{Lo: v, HasLo: true, LoOpen: m[1] == ">"}, nil
	}
	return sheet.Exactly(v), nil
}
