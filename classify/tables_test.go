package classify

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// kinds are the kinds of rows and what each must fill in.
var kinds = map[string][]string{
	"extends": {"input"}, "drop": {"input"}, "specific": {"input", "clause"}, "acute-bound": {"input", "limit", "result", "clause"},
	"acute-point": {"input", "limit", "clause"}, "acute-counted": {"input", "limit", "clause"}, "acute-cutoff": {"input", "limit", "clause"},
	"acute-sum": {"clause"}, "acute-unknown": {"limit", "cutoff", "clause"}, "acute-test": {"clause"}, "airways": {"result", "clause", "note"}, "label-optional": {"input", "limit", "result", "clause", "note"}, "unknown-statement": {"limit", "clause", "note"},
	"skin-cascade": {"input", "limit", "cutoff", "clause"}, "eye-irritant": {"input", "limit", "result", "clause"},
	"sum": {"input", "limit", "op", "result", "clause"}, "each": {"input", "limit", "op", "result", "clause"},
	"elicit": {"input", "limit", "result", "clause"}, "carry": {"input", "result", "clause", "note"}, "fact": {"when", "result", "clause"},
	"open-each": {"input", "when", "result", "clause", "note"}, "aquatic": {"input", "limit", "result", "number?", "clause"},
	"aquatic-relevance": {"input", "limit", "clause"}, "m-acute": {"limit", "result", "clause"}, "m-chronic": {"limit", "result", "which", "clause"},
	"gas-flammable": {"when", "result", "clause"}, "gas-oxidising": {"limit", "when", "result", "clause"},
	"limit": {"input", "limit", "clause"}, "test-only": {"input", "clause", "note"}, "out-of-scope": {"input", "clause"},
}

func field(r *RuleRow, name string) string {
	return map[string]string{"input": r.Input, "limit": r.Limit, "op": r.Op, "result": r.Result, "clause": r.Clause, "note": r.Note, "when": r.When, "which": r.Which, "cutoff": r.Cutoff}[name]
}

// Every row is of a known kind, filled in, readable, and says how we know.
func TestTablesAreWellFormed(t *testing.T) {
	sets := RuleSets()
	if len(sets) != 8 {
		t.Fatalf("%d rule sets, want 8: %v", len(sets), sets)
	}
	for _, rs := range sets {
		rows, err := Rules(rs)
		if err != nil {
			t.Fatal(err)
		}
		for i := range rows {
			checkRow(t, &rows[i])
		}
	}
	for _, rs := range ghs.RuleSets() {
		if !slices.Contains(sets, rs) {
			t.Errorf("no rules for %s", rs)
		}
	}
}

func checkRow(t *testing.T, r *RuleRow) {
	t.Helper()
	must, ok := kinds[r.Kind]
	if !ok {
		t.Errorf("%s: no kind is called %q", r.name(), r.Kind)
	}
	for _, f := range must {
		if !strings.HasSuffix(f, "?") && field(r, f) == "" {
			t.Errorf("%s (%s): column %s is empty", r.name(), r.Kind, f)
		}
	}
	if r.Source == "" {
		t.Errorf("%s: column source is empty", r.name())
	}
	if recalled := strings.Contains(r.Source, "recalled"); recalled && !r.Memory {
		t.Errorf("%s: recalled, but not marked memory", r.name())
	}
	for _, l := range strings.Split(r.Limit, ";") {
		if l = strings.TrimSpace(l); l != "" {
			mustNumber(l, r)
		}
	}
	if r.Result != "" && !isStatement(r.Result) && !slices.Contains([]string{"m-acute", "m-chronic", "skin-cascade"}, r.Kind) {
		hazardNamed(r.Result)
	}
	if slices.Contains([]string{"sum", "eye-irritant", "aquatic"}, r.Kind) {
		for _, s := range strings.Split(r.Input, ";") {
			if _, err := parseSum(strings.TrimSpace(s)); err != nil {
				t.Errorf("%s: %v", r.name(), err)
			}
		}
	}
	if r.Kind == "each" || r.Kind == "open-each" {
		if _, err := hazardSetOf(r.Input); err != nil {
			t.Errorf("%s: %v", r.name(), err)
		}
	}
	if r.When != "" {
		(&Mixture{}).evalWhen(r.When)
	}
	if r.Which != "" && r.Kind != "eye-irritant" {
		(&Ingredient{}).is(r.Which)
	}
}

// Every row that asks for a single ingredient gives its result at its limit, and no result of its own below.
func TestEachRowGivesItsResultAtItsLimit(t *testing.T) {
	for _, rs := range RuleSets() {
		rows, err := Rules(rs)
		if err != nil {
			t.Fatal(err)
		}
		tried := 0
		for i := range rows {
			r := &rows[i]
			if r.Kind != "each" || isStatement(r.Result) || r.Which != "" || strings.Contains(r.Input, "*") {
				continue
			}
			tried++
			eachRow(t, rs, r)
		}
		if tried < 20 {
			t.Errorf("%s: only %d rows tried", rs, tried)
		}
	}
}

func eachRow(t *testing.T, rs ghs.RuleSet, r *RuleRow) {
	t.Helper()
	law := (&Program{RuleSet: rs}).lawOf()
	if !law.Exists(hazardNamed(r.Result)) {
		t.Errorf("%s %s: the rule set has no %s", r.name(), r.Clause, r.Result)
		return
	}
	m := Mixture{Complete: true, Ingredients: []Ingredient{{Name: r.Input, Hazards: ghs.SetOf(hazardNamed(r.Input))}, {Name: "inert"}}}
	if strings.Contains(r.When, "form = gas") {
		m.Form = Gas
	}
	p, err := Compile(m, rs)
	if err != nil {
		t.Fatal(err)
	}
	limit := r.limit()
	if c := p.At([]float64{limit, 100 - limit}); !c.Hazards.Has(hazardNamed(r.Result)) {
		if !strictlyBetter(&c, r.Result) {
			t.Errorf("%s %s: %v %% of %s does not give %s", r.name(), r.Clause, limit, r.Input, r.Result)
		}
	}
	below := limit * (1 - 1e-6)
	if c := p.At([]float64{below, 100 - below}); c.Hazards.Has(hazardNamed(r.Result)) {
		t.Errorf("%s %s: %v %% of %s still gives %s", r.name(), r.Clause, below, r.Input, r.Result)
	}
}

// strictlyBetter tells whether a severer category took the result's place.
func strictlyBetter(c *Classification, result string) bool {
	for _, h := range c.Hazards.All() {
		if h.Severer(hazardNamed(result)) {
			return true
		}
	}
	return false
}

// Sums are exact at the limits of the law whatever the rounding: 100/Σ of 2000, 300, 5 and so on.
func TestEstimatesAreExactAtTheirBounds(t *testing.T) {
	for _, rs := range RuleSets() {
		for _, r := range mustTable(t, rs).of("acute-bound") {
			for _, share := range []float64{0.3, 1.1, 7, 33, 55, 99.9} {
				h := hazardNamed(r.Result)
				// an ingredient whose share makes the estimate exactly the bound: ATE = bound × share / 100
				in := Ingredient{Name: "A"}
				in.ATE[h.Qualifier()] = ATE{Status: ATEValue, Value: r.limit() * share / 100}
				m := Mixture{Complete: true, Ingredients: []Ingredient{in}}
				p, err := Compile(m, rs)
				if err != nil {
					t.Fatal(err)
				}
				c := p.At([]float64{share})
				if share >= 1 && !c.Hazards.Has(h) {
					t.Errorf("%s: %s at exactly %v by %v %%: %s", rs, r.Result, r.Limit, share, c.Hazards)
				}
			}
		}
	}
}

func mustTable(t *testing.T, rs ghs.RuleSet) *ruleTable {
	t.Helper()
	tab, err := tableOf(rs)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// The engine knows no case file: rule sets, classes and numbers come from the tables.
func TestUnknownRuleSetIsToldWithTheKnownOnes(t *testing.T) {
	_, err := Compile(Mixture{}, "xx-none")
	if err == nil || !strings.Contains(err.Error(), "us-hcs-2024") {
		t.Errorf("error %v does not list the rule sets", err)
	}
}

func TestMixturesWithImpossibleNumbersAreRefused(t *testing.T) {
	half := func(lo, hi float64) Mixture {
		return Mixture{Ingredients: []Ingredient{{Name: "A", Percent: sheet.Between(lo, hi)}}}
	}
	negative := Mixture{Ingredients: []Ingredient{{Name: "A", Percent: sheet.Exactly(5)}}}
	negative.Ingredients[0].ATE[ghs.Oral] = ATE{Status: ATEValue, Value: -3}
	two := Mixture{Ingredients: []Ingredient{{Name: "A", Percent: sheet.Exactly(60)}, {Name: "B", Percent: sheet.Exactly(50)}}}
	for name, m := range map[string]Mixture{"backwards": half(20, 10), "above 100": half(5, 101), "below 0": half(-1, 5), "negative dose": negative, "sum above 100": two} {
		if _, err := Compile(m, ghs.EUCLP); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// docs/rules.md is generated: UPDATE=1 go test ./classify -run RulesPage writes it.
func TestRulesPageIsUpToDate(t *testing.T) {
	const page = "../docs/rules.md"
	want, err := RulesPage()
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(page, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatalf("%v: write it with UPDATE=1 go test ./classify -run RulesPage", err)
	}
	if string(got) != want {
		t.Error("docs/rules.md is out of date: UPDATE=1 go test ./classify -run RulesPage")
	}
	for _, rs := range RuleSets() {
		rows, err := Rules(rs)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			if !slices.ContainsFunc(kindTitles, func(k struct{ kind, title, text string }) bool { return k.kind == r.Kind }) {
				t.Errorf("%s: rows of the kind %q have no heading on the page", r.name(), r.Kind)
			}
		}
	}
	for _, p := range PropertyNames() {
		if !regexp.MustCompile("`" + p + "`").MatchString(want) {
			t.Errorf("docs/rules.md does not explain the property %s", p)
		}
	}
}
