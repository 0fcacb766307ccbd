package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// classCase is one worked example of classification.
type classCase struct {
	ID              string          `json:"id"`
	RuleSet         string          `json:"ruleset"`
	Origin          string          `json:"origin"`
	Source          json.RawMessage `json:"source"`
	LimitBasis      string          `json:"limit_basis"`
	Ingredients     []caseIngr      `json:"ingredients"`
	Mixture         caseMixture     `json:"mixture_data"`
	Expected        caseExpected    `json:"expected"`
	PublishedAnswer json.RawMessage `json:"published_answer"`
	Note            string          `json:"note"`
	Verified        string          `json:"verified"`
}

// share is a percentage: a number, or words such as "< 10", ">= 1" and "10 - 30".
type share struct {
	sheet.Interval
	given bool
}

func (s *share) UnmarshalJSON(data []byte) error {
	s.given = true
	var v float64
	if json.Unmarshal(data, &v) == nil {
		s.Interval = sheet.Exactly(v)
		return nil
	}
	var words string
	if err := json.Unmarshal(data, &words); err != nil {
		return fmt.Errorf("a percentage is a number or words such as \"< 10\": %s", data)
	}
	iv, err := parseShare(words)
	s.Interval = iv
	return err
}

// parseShare reads "5", "< 10", "≥ 1" or "10 - < 30".
func parseShare(words string) (sheet.Interval, error) {
	words = strings.NewReplacer("%", "", "–", "-", "≤", "<=", "≥", ">=", ",", ".").Replace(words)
	if lo, hi, ok := strings.Cut(words, "-"); ok && strings.TrimSpace(lo) != "" {
		a, err := parseShare(lo)
		if err != nil {
			return a, err
		}
		b, err := parseShare(hi)
		if err != nil {
			return b, err
		}
		if !b.HasHi {
			return b, fmt.Errorf("%q is not a range", words)
		}
		return sheet.Interval{Lo: a.Lo, HasLo: true, LoOpen: a.LoOpen, Hi: b.Hi, HasHi: true, HiOpen: b.HiOpen}, nil
	}
	op, digits := splitOperator(words)
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return sheet.Interval{}, fmt.Errorf("%q is not a percentage", words)
	}
	return byOperator(op, v)
}

func splitOperator(words string) (op, rest string) {
	words = strings.TrimSpace(words)
	rest = strings.TrimLeft(words, "<>=")
	return words[:len(words)-len(rest)], strings.TrimSpace(rest)
}

func byOperator(op string, v float64) (sheet.Interval, error) {
	switch op {
	case "", "=":
		return sheet.Exactly(v), nil
	case "<":
		return sheet.Interval{Hi: v, HasHi: true, HiOpen: true}, nil
	case "<=":
		return sheet.Interval{Hi: v, HasHi: true}, nil
	case ">":
		return sheet.Interval{Lo: v, HasLo: true, LoOpen: true}, nil
	case ">=":
		return sheet.Interval{Lo: v, HasLo: true}, nil
	}
	return sheet.Interval{}, fmt.Errorf("no comparison is written %q", op)
}

// percentFields are the ways a case may give a share, also used for specific limits.
type percentFields struct {
	Percent     share  `json:"percent"`
	PercentMin  share  `json:"percent_min"`
	PercentMax  share  `json:"percent_max"`
	MinOpen     bool   `json:"percent_min_open"`
	MaxOpen     bool   `json:"percent_max_open"`
	MinOperator string `json:"percent_min_operator"`
	MaxOperator string `json:"percent_max_operator"`
	Operator    string `json:"operator"`
}

func (p percentFields) interval() (sheet.Interval, error) {
	if p.Percent.given {
		v, single := p.Percent.Single()
		if p.Operator == "" || !single {
			return p.Percent.Interval, nil
		}
		return byOperator(p.Operator, v)
	}
	var iv sheet.Interval
	if m := p.PercentMin; m.given {
		iv.Lo, iv.HasLo, iv.LoOpen = m.Lo, true, m.LoOpen || p.MinOpen || p.MinOperator == ">"
	}
	if m := p.PercentMax; m.given {
		iv.Hi, iv.HasHi, iv.HiOpen = m.Hi, true, m.HiOpen || p.MaxOpen || p.MaxOperator == "<"
	}
	return iv, nil
}

// caseIngr is one ingredient of a case.
type caseIngr struct {
	Name           string   `json:"name"`
	CAS            string   `json:"cas"`
	Classification []string `json:"classification"`
	percentFields
	ATE        map[string]caseATE         `json:"ate"`
	SCL        []caseLimit                `json:"scl"`
	M          caseM                      `json:"m_factor"`
	Properties map[string]json.RawMessage `json:"properties"`
	Statements []ghs.Code                 `json:"statements"`
}

type caseM struct{ Acute, Chronic float64 }

type caseLimit struct {
	Class string `json:"class"`
	percentFields
}

// caseATE is what a case says of acute toxicity by one route.
type caseATE struct {
	Value     *float64    `json:"value"`
	Range     *[2]float64 `json:"range"`
	ValueUsed *float64    `json:"value_used"`
	Unit      string      `json:"unit"`
	Operator  string      `json:"operator"`
	Status    string      `json:"status"`
}

// caseMixture is what a case says of the mixture itself.
type caseMixture struct {
	Form       string          `json:"form"`
	ForPublic  bool            `json:"for_public"`
	Use        []classify.Use  `json:"use"`
	PH         *float64        `json:"ph"`
	Reserve    *bool           `json:"buffer_reserve_high"`
	FlashC     *float64        `json:"flash_point_c"`
	BoilingC   *float64        `json:"initial_boiling_point_c"`
	Viscosity  *float64        `json:"viscosity_mm2_s_40c"`
	Sustains   *bool           `json:"sustains_combustion"`
	Complete   *bool           `json:"composition_complete"`
	GivenClass []string        `json:"given_classes"`
	Tested     json.RawMessage `json:"tested"`
}

// caseExpected is the answer a case expects.
type caseExpected struct {
	Classes       []string           `json:"classes"`
	NotClassified []string           `json:"not_classified"`
	AllowedExtra  []string           `json:"allowed_extra"`
	Numbers       map[string]float64 `json:"numbers"`
	Label         *caseLabel         `json:"label"`
	Certain       []string           `json:"certain"`
	Possible      []string           `json:"possible"`
	CertainAnyOf  json.RawMessage    `json:"certain_any_of"`
}

// caseLabel is the label a case expects.
type caseLabel struct {
	SignalWord         *string  `json:"signal_word"`
	Pictograms         []string `json:"pictograms"`
	HCodes             []string `json:"h_codes"`
	HCodesAlsoAccepted []string `json:"h_codes_also_accepted"`
	EUH                []string `json:"euh"`
	EUHMayBeOmitted    []string `json:"euh_may_be_omitted"`
	EUHOptionalIfNamed []string `json:"euh_optional_if_named"`
}

// notCoveredError says that a case asks for something that sixteen does not do.
type notCoveredError string

func (e notCoveredError) Error() string { return string(e) }

// mixture makes the case's mixture.
func (c *classCase) mixture(rs ghs.RuleSet) (classify.Mixture, error) {
	d := c.Mixture
	form, err := classify.ParseForm(d.Form)
	if err != nil {
		return classify.Mixture{}, err
	}
	m := classify.Mixture{Name: c.ID, Form: form, ForPublic: d.ForPublic, Use: d.Use, Complete: d.Complete != nil && *d.Complete}
	m.Tested.PH, m.Tested.FlashPointC, m.Tested.BoilingPointC = d.PH, d.FlashC, d.BoilingC
	m.Tested.Viscosity40MM2S, m.Tested.BufferReserveHigh, m.Tested.Sustains = d.Viscosity, d.Reserve, d.Sustains
	if err := d.readTested(&m.Tested); err != nil {
		return m, err
	}
	for _, ci := range c.Ingredients {
		in, err := ci.ingredient(rs)
		if err != nil {
			return m, fmt.Errorf("ingredient %q: %w", ci.Name, err)
		}
		m.Ingredients = append(m.Ingredients, in)
	}
	return m, nil
}

func (ci *caseIngr) ingredient(rs ghs.RuleSet) (classify.Ingredient, error) {
	in := classify.Ingredient{Name: ci.Name, CAS: ci.CAS, MAcute: ci.M.Acute, MChronic: ci.M.Chronic, Statements: ci.Statements, Properties: map[string]float64{}}
	var err error
	if in.Percent, err = ci.interval(); err != nil {
		return in, err
	}
	for _, name := range ci.Classification {
		h, err := hazardOf(name)
		if err != nil {
			return in, err
		}
		in.Hazards.Add(h)
	}
	for route, a := range ci.ATE {
		if err := a.put(&in, route, rs); err != nil {
			return in, err
		}
	}
	for _, l := range ci.SCL {
		h, err := hazardOf(l.Class)
		if err != nil {
			return in, err
		}
		iv, err := l.interval()
		if err != nil {
			return in, err
		}
		in.Limits = append(in.Limits, classify.SpecificLimit{Hazard: h, Percent: iv})
	}
	return in, ci.readProperties(&in)
}

// hazardOf reads a class as cases write it. "Carc. 2 inhalation" is Carc. 2: the class has no routes.
func hazardOf(name string) (ghs.Hazard, error) {
	var h ghs.Hazard
	if err := h.UnmarshalText([]byte(strings.TrimSuffix(name, " inhalation"))); err == nil && h != ghs.NoHazard {
		return h, nil
	}
	if h, ok := ghs.ParseHazard(name); ok {
		return h, nil
	}
	return 0, notCoveredError(fmt.Sprintf("no hazard class is called %q", name))
}

// put fills in the estimate by one route. A value with ">" and the status not_toxic are known and left out; a range
// takes the value that the case used, else the rule set's own way.
func (a caseATE) put(in *classify.Ingredient, route string, rs ghs.RuleSet) error {
	var q ghs.Qualifier
	if err := q.UnmarshalText([]byte(route)); err != nil {
		return err
	}
	switch {
	case a.Status == "unknown":
		in.ATE[q] = classify.ATE{Status: classify.ATEUnknown}
	case a.Status == "not_toxic", a.Operator == ">", a.Operator == ">=":
		in.ATE[q] = classify.ATE{Status: classify.ATENotToxic}
	case a.Status != "" && a.Status != "known":
		return fmt.Errorf("no status of acute toxicity is called %q: write unknown or not_toxic", a.Status)
	case a.ValueUsed != nil:
		in.ATE[q] = classify.ATE{Status: classify.ATEValue, Value: *a.ValueUsed}
	case a.Value != nil:
		in.ATE[q] = classify.ATE{Status: classify.ATEValue, Value: *a.Value}
	case a.Range != nil:
		v, err := classify.PointEstimate(rs, q, a.Range[0], a.Range[1])
		if err != nil {
			return err
		}
		in.ATE[q] = classify.ATE{Status: classify.ATEValue, Value: v}
	}
	return nil
}

// readProperties takes over the properties that rules ask for; a property they do not know is not covered.
func (ci *caseIngr) readProperties(in *classify.Ingredient) error {
	known := map[string]bool{}
	for _, n := range classify.PropertyNames() {
		known[n] = true
	}
	for name, raw := range ci.Properties {
		var v float64
		var b bool
		switch {
		case json.Unmarshal(raw, &v) == nil:
		case json.Unmarshal(raw, &b) == nil:
			v = map[bool]float64{true: 1}[b]
		default:
			return notCoveredError(fmt.Sprintf("property %q is neither a number nor true or false", name))
		}
		switch {
		case known[name]:
			in.Properties[name] = v
		case name == "additive" || name == "additivity" || name == "additivity_applies":
			in.Properties[classify.PropNonAdditive] = 1 - v
		case name == "active_oxygen_pct" || name == "available_oxygen_pct":
			in.ActiveOxygenPct = v
		case name == "molar_mass":
			in.MolarMassGMol = v
		case name == "acid" || name == "strong_acid":
			in.Properties[classify.PropPH] = 7 - 6*v
		case name == "base" || name == "strong_base":
			in.Properties[classify.PropPH] = 7 + 6*v
		case name == "aldehyde" || name == "phenol" || name == "surfactant" || name == "inorganic_salt":
			in.Properties[classify.PropNonAdditive] = max(v, in.Properties[classify.PropNonAdditive])
		default:
			return notCoveredError(fmt.Sprintf("property %q is asked for by no rule", name))
		}
	}
	return nil
}

// testedDose says how a field of tested data is read: the route and what a shorter test is divided by.
var testedDoses = map[string]struct {
	route ghs.Qualifier
	by    float64
}{
	"ld50_oral_mg_kg": {ghs.Oral, 1}, "ld50_dermal_mg_kg": {ghs.Dermal, 1}, "ate_oral_mg_kg": {ghs.Oral, 1}, "ate_dermal_mg_kg": {ghs.Dermal, 1},
	"lc50_gas_ppm_4h": {ghs.InhalationGas, 1}, "lc50_gas_ppm_1h": {ghs.InhalationGas, 2},
	"lc50_vapour_mg_l_4h": {ghs.InhalationVapour, 1}, "lc50_vapour_mg_l_1h": {ghs.InhalationVapour, 2},
	"lc50_mist_mg_l_4h": {ghs.InhalationDust, 1}, "lc50_mist_mg_l_1h": {ghs.InhalationDust, 4},
	"lc50_dust_mg_l_4h": {ghs.InhalationDust, 1}, "lc50_dust_mg_l_1h": {ghs.InhalationDust, 4},
}

// readTested reads data measured on the mixture: doses, and lists of classes found and excluded.
func (d *caseMixture) readTested(t *classify.Tested) error {
	if d.Tested == nil {
		return nil
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(d.Tested, &fields); err != nil {
		return fmt.Errorf("tested: %w", err)
	}
	for name, raw := range fields {
		if dose, ok := testedDoses[name]; ok {
			var v float64
			if err := json.Unmarshal(raw, &v); err != nil {
				return fmt.Errorf("tested, %s: %w", name, err)
			}
			v /= dose.by
			t.ATE[dose.route] = &v
			continue
		}
		set := map[string]*ghs.HazardSet{"classes": &t.Hazards, "not_classified": &t.NotHazards}[name]
		if set == nil {
			return fmt.Errorf("unknown field %q in tested", name)
		}
		var names []string
		if err := json.Unmarshal(raw, &names); err != nil {
			return fmt.Errorf("tested, %s: %w", name, err)
		}
		for _, n := range names {
			h, err := hazardOf(n)
			if err != nil {
				return err
			}
			set.Add(h)
		}
	}
	return nil
}
