package classify_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// resultOf is the answer for the class that the short name belongs to.
func resultOf(t *testing.T, c classify.Classification, class ghs.Class, q ghs.Qualifier) classify.ClassResult {
	t.Helper()
	for _, r := range c.Results() {
		if r.Class == class && r.Qualifier == q {
			return r
		}
	}
	t.Fatalf("no answer for %v", class)
	return classify.ClassResult{}
}

func why(r classify.ClassResult) string {
	var b strings.Builder
	for _, w := range r.Why {
		b.WriteString(w.Text + " [" + w.Clause + "]\n")
	}
	return b.String()
}

// The trace carries the arithmetic in words and numbers, and the clause.
func TestTraceTellsTheArithmetic(t *testing.T) {
	for _, s := range []struct {
		mix, rs  string
		class    ghs.Class
		q        ghs.Qualifier
		standing classify.Standing
		say      []string
	}{
		{"10 Skin Irrit. 2 / 2 Skin Corr. 1B / 88 inert", "eu-clp", ghs.SkinCorrosion, 0, classify.Classified, []string{"10 % + 2 % × 10 = 30 % ≥ 10 % → Skin Irrit. 2", "Table 3.2.3"}},
		{"9 Skin Irrit. 2 / 91 inert", "us-hcs-2024", ghs.SkinCorrosion, 0, classify.NotClassified, []string{"ruled out because", "9 % < 10 %", "Table A.2.3"}},
		{"20 oral=500 / 5 oral=100 / 75 not toxic", "eu-clp", ghs.AcuteToxicity, ghs.Oral, classify.Classified, []string{"100 / (20 / 500 + 5 / 100) = 1111.11 mg/kg ≤ 2000 mg/kg → Acute Tox. 4 oral", "3.1.3.6.1"}},
		{"24 oral=500 / 20 unknown oral / 56 not toxic", "us-hcs-2012", ghs.AcuteToxicity, ghs.Oral, classify.Classified, []string{"20 % > 10 %", "(100 − 20) / (24 / 500) = 1666.67 mg/kg ≤ 2000", "A.1.3.6.2.4"}},
		{"54 Acute Tox. 4 dermal / 46 not toxic", "eu-clp", ghs.AcuteToxicity, ghs.Dermal, classify.NotClassified, []string{"ruled out because ATEmix (dermal) = 100 / (54 / 1100) = 2037.04 mg/kg > 2000 mg/kg"}},
		{"24 oral=500 / 76 not toxic", "eu-clp", ghs.AcuteToxicity, ghs.InhalationGas, classify.NoData, []string{"cannot be worked out", "24 %"}},
		{"50 Skin Irrit. 2 / 50 inert", "ca-hpr", ghs.AquaticAcute, 0, classify.OutOfScope, []string{"no such class", "Part 8"}},
		{"50 Skin Irrit. 2 / 50 inert", "eu-clp", ghs.FlammableLiquids, 0, classify.NoData, []string{"no flash point"}},
		{"50 Skin Irrit. 2 / 50 inert / @flash 70", "eu-clp", ghs.FlammableLiquids, 0, classify.NotClassified, []string{"70 °C"}},
		{"50 Skin Irrit. 2 / 50 inert / @no flash point", "eu-clp", ghs.FlammableLiquids, 0, classify.NotClassified, []string{"no flash point"}},
		{"50 Skin Irrit. 2 / 50 inert / @form powder", "eu-clp", ghs.FlammableLiquids, 0, classify.NotClassified, []string{"for another form (powder)"}},
		{"100 inert / @flash 22.9 / @boil 80", "eu-clp", ghs.FlammableLiquids, 0, classify.Classified, []string{"flash point 22.9 °C < 23 °C; initial boiling point 80 °C > 35 °C → Flam. Liq. 2", "Table 2.6.1"}},
		{"50 Ox. Sol. 1 / 50 inert", "eu-clp", ghs.OxidisingSolids, 0, classify.NoData, []string{"tests on the mixture decide", "Ox. Sol. 1 is Ox. Sol. 1"}},
		{"50 Skin Irrit. 2 / 50 not toxic", "eu-clp", ghs.Carcinogenicity, 0, classify.NotClassified, []string{"no ingredient is in this class"}},
		{"50 Skin Irrit. 2 / 50 inert", "eu-clp", ghs.Carcinogenicity, 0, classify.NotClassified, []string{"nothing is said of inert (50 %)"}},
		{"50 inert / 50 inert", "eu-clp", ghs.Carcinogenicity, 0, classify.NoData, []string{"no hazard of any ingredient is known"}},
		{"30 Asp. Tox. 1 / 70 inert", "eu-clp", ghs.AspirationHazard, 0, classify.NoData, []string{"cannot be worked out", "kinematic viscosity at 40 °C ≤ 20.5 mm²/s", "30 % ≥ 10 %", "3.10.3.3"}},
		{"9 Asp. Tox. 1 / 91 inert", "eu-clp", ghs.AspirationHazard, 0, classify.NotClassified, []string{"ruled out because Asp. Tox. 1: 9 % < 10 %"}},
		{"20 Acute Tox. 4 dermal / 4 unknown dermal / 76 not toxic", "eu-clp", ghs.AcuteToxicity, ghs.Dermal, classify.NotClassified, []string{"100 / (20 / 1100) = 5500 mg/kg > 2000 mg/kg"}},
		{"50 Skin Irrit. 2 / 50 not toxic", "eu-clp", ghs.OrganicPeroxides, 0, classify.NotClassified, []string{"no ingredient is in this class"}},
		{"50 Skin Irrit. 2 / 50 not toxic / @form liquid", "eu-clp", ghs.FlammableSolids, 0, classify.NotClassified, []string{"for another form (liquid)"}},
		{"100 oral=3000", "eu-clp", ghs.AcuteToxicity, ghs.Oral, classify.NotClassified, []string{"no ingredient is acutely toxic by this route"}},
		{"100 not toxic / @tested oral 6000", "eu-clp", ghs.AcuteToxicity, ghs.Oral, classify.NotClassified, []string{"tested on the mixture: 6000 mg/kg"}},
		{"10 Skin Corr. 1B / 90 not toxic / @tested not Skin Corr. 1 / @tested not Skin Irrit. 2", "eu-clp", ghs.SkinCorrosion, 0, classify.NotClassified, []string{"tests on the mixture exclude"}},
		{"0.9 Skin Irrit. 2 / 11 Skin Irrit. 2 / 88 inert", "eu-clp", ghs.SkinCorrosion, 0, classify.Classified, []string{"11 % ≥ 10 %", "1 below the cut-off left out"}},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		r := resultOf(t, c, s.class, s.q)
		if r.Standing != s.standing {
			t.Errorf("%s %s: %s is %q, want %q", s.rs, s.mix, s.class, r.Standing, s.standing)
		}
		for _, say := range s.say {
			if !strings.Contains(why(r), say) {
				t.Errorf("%s %s: the trace does not say %q but\n%s", s.rs, s.mix, say, why(r))
			}
		}
	}
}

// What a fact that is not known would change stands open, and is not given.
func TestOpenAlternatives(t *testing.T) {
	for _, s := range []struct {
		mix, rs string
		class   ghs.Class
		q       ghs.Qualifier
		say     string
	}{
		{"30 Asp. Tox. 1 / 70 inert", "eu-clp", ghs.AspirationHazard, 0, "kinematic viscosity at 40 °C ≤ 20.5 mm²/s"},
		{"100 inert / @flash 10", "eu-clp", ghs.FlammableLiquids, 0, "initial boiling point ≤ 35 °C"},
		{"24 oral=500 / 76 inert", "eu-clp", ghs.AcuteToxicity, ghs.Oral, "acute toxicity (oral) of inert: counted here as unknown"},
		{"24 oral=500 / @incomplete", "eu-clp", ghs.AcuteToxicity, ghs.Oral, "the undisclosed remainder"},
		{"20 Org. Perox. D / 80 inert", "us-hcs-2024", ghs.OrganicPeroxides, 0, "available oxygen of Org. Perox. D"},
		{"50 Simple Asphyx. / 50 inert / @form gas", "us-hcs-2024", ghs.SimpleAsphyxiants, 0, "displaces enough oxygen"},
		{"50 Comb. Dust / 50 inert / @form powder", "us-hcs-2012", ghs.CombustibleDusts, 0, "dust explosion test"},
		{"50 Flam. Liq. 2 / 50 inert / @form aerosol", "eu-clp", ghs.Aerosols, 0, ""},
		{"1 Flam. Liq. 2 / 99 inert / @form aerosol", "eu-clp", ghs.Aerosols, 0, "heat of combustion of Flam. Liq. 2"},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		r := resultOf(t, c, s.class, s.q)
		text := ""
		for _, o := range r.Open {
			text += o.Text + "\n"
		}
		if s.say == "" {
			if text != "" {
				t.Errorf("%s: stands open: %s", s.mix, text)
			}
			continue
		}
		if !strings.Contains(text, s.say) {
			t.Errorf("%s %s: %q does not stand open, but %q", s.rs, s.mix, s.say, text)
		}
	}
}

// Published: UN Sub-Committee of Experts on the GHS, ST/SG/AC.10/C.4/2008/23, annex 2 (three examples read in public
// copies), the two-solvent example of an article (its own figure of 2770 is a misprint, the sum gives 2748), and the
// agency helpdesk's slides of 2012.
func TestPublishedNumbers(t *testing.T) {
	for _, s := range []struct {
		what, mix, rs, classes string
		numbers                map[string]float64
	}{
		{"2008/23 annex 2, example 1", "16 oral=1600 / 4 oral=200 / 80 oral=3450", "un-ghs", "Acute Tox. 4 oral", map[string]float64{"ate_mix_oral": 1880}},
		{"2008/23 annex 2, example 3", "4 oral=1737 / 5 not toxic / 5 oral=5400 / 86 not toxic", "un-ghs", "", map[string]float64{"ate_mix_oral": 43425}},
		{"2008/23, example with 11 % of unknown inhalation toxicity (printed as 6.6)", "26 oral=2737, vapour=11, dermal=6480 / 23 oral=4500, vapour=19, dermal=6001 / 11 oral=5001, unknown dermal, unknown vapour / 40 oral=400, vapour=4, dermal=2001", "un-ghs",
			"Acute Tox. 4 oral, Acute Tox. 3 inhalation_vapour", map[string]float64{"ate_mix_oral": 873, "ate_mix_inhalation_vapour": 6.56, "unknown_percent_inhalation_vapour": 11}},
		{"article with two solvents", "60 oral=4000 / 40 oral=1870", "us-hcs-2012", "", map[string]float64{"ate_mix_oral": 2748}},
		{"Italian exercise, 10 × 2 + 10", "10 Skin Irrit. 2 / 10 inert / 2 Skin Corr. 1B / 78 inert", "eu-clp", "Skin Irrit. 2, Eye Irrit. 2", map[string]float64{"skin_weighted_sum": 30}},
		{"helpdesk slides, 0.8 % under the cut-off", "0.8 Skin Irrit. 2 / 99.2 not toxic", "eu-clp", "", nil},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		var names []string
		for _, h := range c.Hazards.All() {
			if !(s.what[:4] == "2008" && strings.Contains(h.String(), "dermal")) {
				names = append(names, h.String())
			}
		}
		if got := strings.Join(names, ", "); got != s.classes {
			t.Errorf("%s: %q, want %q", s.what, got, s.classes)
		}
		for n, want := range s.numbers {
			if got := c.Numbers()[n]; math.Abs(got-want) > 0.006*want {
				t.Errorf("%s: %s = %v, want %v", s.what, n, got, want)
			}
		}
	}
}

// Every class of the standard has an answer, each with a reason, under every rule set.
func TestEveryClassHasAnAnswer(t *testing.T) {
	for _, rs := range classify.RuleSets() {
		c := classification(t, mix(t, coating), rs)
		given := 0
		for _, r := range c.Results() {
			if len(r.Why) == 0 || r.Why[0].Text == "" {
				t.Errorf("%s: %s %s has no reason", rs, r.Class, r.Qualifier)
			}
			if r.Standing == classify.Classified {
				given++
				if r.Why[0].Clause == "" {
					t.Errorf("%s: %s has no clause", rs, r.Hazard)
				}
			}
		}
		if given < 8 {
			t.Errorf("%s: only %d classes given", rs, given)
		}
	}
}

// A result can be written as JSON, with words for the standing.
func TestResultsAsJSON(t *testing.T) {
	c := classification(t, mix(t, "9 Skin Irrit. 2 / 91 inert"), "eu-clp")
	data, err := json.Marshal(resultOf(t, c, ghs.SkinCorrosion, 0))
	if err != nil {
		t.Fatal(err)
	}
	for _, say := range []string{`"standing":"not classified"`, `"clause":"CLP Annex I, 3.2.3.3.3, Table 3.2.3"`, `9 % \u003c 10 %`} {
		if !strings.Contains(string(data), strings.ReplaceAll(say, `\\`, `\`)) {
			t.Errorf("%s is not in %s", say, data)
		}
	}
}

// What is wrong with a composition or a range is told, and At does not take the wrong number of shares.
func TestRangesAreNoPoint(t *testing.T) {
	m := mix(t, "50 Skin Irrit. 2 / 50 inert")
	m.Ingredients[0].Percent = sheet.Between(10, 50)
	if _, err := classify.Classify(m, ghs.EUCLP); err == nil || !strings.Contains(err.Error(), "ranges") {
		t.Errorf("a range is classified as a point: %v", err)
	}
	if _, err := classify.Classify(mix(t, "50 Skin Irrit. 2"), "xx"); err == nil {
		t.Error("an unknown rule set is taken")
	}
	p, err := classify.Compile(m, ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if recover() == nil {
			t.Error("At takes a composition of the wrong length")
		}
	}()
	p.At([]float64{1})
}

func TestWrongCompositionsAreRefused(t *testing.T) {
	p, err := classify.Compile(mix(t, "50 Skin Irrit. 2 / 50 inert"), "eu-clp")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][]float64{{50}, {-1, 50}, {60, 50}, {math.NaN(), 1}} {
		if p.CheckPoint(x) == nil {
			t.Errorf("%v is accepted", x)
		}
	}
	if err := p.CheckPoint([]float64{10, 20}); err != nil {
		t.Errorf("a composition with a remainder is refused: %v", err)
	}
}

// A.1.3.6.2.3 and App. C C.3.3; CLP Annex I 3.1.3.6.2.2: from 1 % of one ingredient, route by route, not where tested.
func TestUnknownToxicityIsStated(t *testing.T) {
	for _, s := range []struct {
		mix, rs string
		want    map[ghs.Qualifier]float64
		route   bool
	}{
		{"5 unknown oral / 7 unknown oral, unknown dermal / 88 not toxic", "us-hcs-2024", map[ghs.Qualifier]float64{ghs.Oral: 12, ghs.Dermal: 7}, true},
		{"5 unknown oral / 95 not toxic", "us-hcs-2012", map[ghs.Qualifier]float64{ghs.Oral: 5}, false},
		{"0.9 unknown oral / 99.1 not toxic", "us-hcs-2024", nil, true},
		{"5 unknown oral / 95 not toxic / @tested oral 3000", "eu-clp", nil, true},
		{"5 unknown oral, Acute Tox. 4 oral / 95 not toxic", "eu-clp", nil, true},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		got := c.UnknownToxicity()
		if len(got) != len(s.want) {
			t.Errorf("%s %s: %v", s.rs, s.mix, got)
		}
		for _, u := range got {
			if math.Abs(u.Percent-s.want[u.Route]) > 1e-9 || u.TellsHow != s.route || u.Clause == "" {
				t.Errorf("%s %s: %+v", s.rs, s.mix, u)
			}
		}
	}
}

// The unknown share is told even where nothing is known to be toxic.
func TestUnknownShareWithoutAnEstimate(t *testing.T) {
	c := classification(t, mix(t, "30 unknown oral / 70 not toxic"), "eu-clp")
	if n := c.Numbers(); n["unknown_percent_oral"] != 30 {
		t.Errorf("numbers %v", n)
	}
	if _, ok := c.Numbers()["ate_mix_oral"]; ok {
		t.Error("a mixture of unknowns has an estimate")
	}
}

// Every number a classifier quotes is there under its name.
func TestNumbers(t *testing.T) {
	c := classification(t, mix(t, coating+" / @visc 10"), "eu-clp")
	for name, want := range map[string]float64{
		"skin_corrosive_percent": 17, "eye_category_1_percent": 17, "stot_se3_narcotic_percent": 9, "stot_se3_respiratory_percent": 2,
		"aspiration_percent": 11, "aquatic_acute_sum": 5, "aquatic_chronic1_sum": 5, "aquatic_chronic2_sum": 90, "aquatic_chronic3_sum": 912,
		"unknown_percent_oral": 4, "skin_weighted_sum": 258,
	} {
		if got, ok := c.Numbers()[name]; !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s = %v (%v), want %v", name, got, ok, want)
		}
	}
}

// 29 CFR 1910.1200 App. A, Table A.6.1 note; it is for Carc. 2 only.
func TestCarcinogenBelowOnePercentMayStayOffTheLabel(t *testing.T) {
	for _, s := range []struct{ mix, rs, want string }{
		{"0.5 Carc. 2 / 99.5 inert", "us-hcs-2024", "Carc. 2"},
		{"0.5 Carc. 2 / 99.5 inert", "us-hcs-2012", "Carc. 2"},
		{"1 Carc. 2 / 99 inert", "us-hcs-2024", ""},
		{"0.5 Carc. 2 / 2 Carc. 2 / 97.5 inert", "us-hcs-2024", ""},
		{"0.5 Carc. 2 / 99.5 inert", "ca-hpr", ""},
		{"0.5 Repr. 2 / 99.5 inert", "us-hcs-2024", ""},
		{"99 inert / 0.5 Carc. 2 / @tested Carc. 2", "us-hcs-2024", ""},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		got := ""
		for _, h := range c.OptionalOnLabel().All() {
			got += h.String()
		}
		if got != s.want {
			t.Errorf("%s %s: %q may stay off the label, want %q", s.rs, s.mix, got, s.want)
		}
	}
}

// CLP Annex II 1.2.4, 1.2.6: no limit in the law, so the statement stays open; with the words of what must be known.
func TestStatementsThatStayOpen(t *testing.T) {
	for _, s := range []struct{ mix, rs, want string }{
		{"15 EUH066 / 85 not toxic", "eu-clp", "EUH066"},
		{"6 Skin Corr. 1B, Acute Tox. 2 inhalation_dust / 94 not toxic", "eu-clp", "EUH071"},
		{"6 Skin Corr. 1B, EUH071, Acute Tox. 2 inhalation_dust / 94 not toxic", "gb-clp", "EUH071"},
		{"6 Skin Corr. 1B / 94 not toxic", "eu-clp", ""},
		{"6 Skin Corr. 1B, Acute Tox. 2 inhalation_dust / 94 not toxic", "us-hcs-2024", ""},
	} {
		c := classification(t, mix(t, s.mix), ghs.RuleSet(s.rs))
		got := ""
		for _, o := range c.OpenSupplements() {
			got += string(o.Code)
			if !strings.HasPrefix(o.Why[0].Text, "if known: whether") || o.Why[0].Clause == "" {
				t.Errorf("%s: told as %+v", s.mix, o.Why)
			}
		}
		if got != s.want {
			t.Errorf("%s %s: %q stays open, want %q", s.rs, s.mix, got, s.want)
		}
		if supplements(t, mix(t, s.mix+" / @public"), ghs.RuleSet(s.rs)) != "" {
			t.Errorf("%s: an open statement is given", s.mix)
		}
	}
	if c := classification(t, mix(t, "6 Skin Corr. 1B, Acute Tox. 2 inhalation_dust / 94 not toxic"), "us-hcs-2024"); !c.MayCorrodeAirways() {
		t.Error("A.1.2.4: corrosive and toxic by inhalation is not noticed")
	}
}

// No recipe, however broken, makes the reader or the engine panic.
func FuzzReadRecipe(f *testing.F) {
	f.Add(recipeCSV, "csv")
	f.Add(patchingPaste, "csv")
	f.Add(`{"form": "gas", "ingredients": [{"name": "A", "percent": "1 - 5", "limits": ["Skin Irrit. 2 >= 5"]}]}`, "json")
	f.Add("name;percent\nA;>= 1 - < 5\n", "csv")
	f.Fuzz(func(t *testing.T, text, format string) {
		m, err := classify.ReadRecipe(strings.NewReader(text), format)
		if err != nil {
			return
		}
		p, err := classify.Compile(m, ghs.EUCLP)
		if err != nil {
			t.Fatalf("a recipe that reads well does not compile: %v", err)
		}
		x := make([]float64, len(m.Ingredients))
		for i, in := range m.Ingredients {
			x[i], _ = in.Bounds()
		}
		c := p.At(x)
		c.Results()
		p.Distances(x)
	})
}

// HPR s. 8.1.7(2); ST/SG/AC.10/C.4/2008/23 annex 2 example 1: a range over several categories counts as its low end, one
// within a category as the category's point estimate (Table 3.1.2, A.1.2).
func TestPointEstimateOfARange(t *testing.T) {
	for _, s := range []struct {
		rs           ghs.RuleSet
		route        ghs.Qualifier
		lo, hi, want float64
	}{
		{ghs.UNGHS, ghs.Oral, 200, 2000, 200}, {ghs.CAHPR, ghs.Oral, 400, 1500, 500}, {ghs.EUCLP, ghs.Oral, 300, 2000, 500},
		{ghs.EUCLP, ghs.InhalationVapour, 11, 19, 11}, {ghs.EUCLP, ghs.InhalationDust, 0.06, 0.4, 0.05}, {ghs.UNGHS, ghs.Oral, 2100, 4900, 2500},
		{ghs.EUCLP, ghs.Oral, 2100, 4900, 2100},
	} {
		got, err := classify.PointEstimate(s.rs, s.route, s.lo, s.hi)
		if err != nil || got != s.want {
			t.Errorf("%s %s %v to %v: %v (%v), want %v", s.rs, s.route, s.lo, s.hi, got, err, s.want)
		}
	}
	if _, err := classify.PointEstimate(ghs.EUCLP, ghs.Oral, 30, 20); err == nil {
		t.Error("a range that runs backwards is taken")
	}
	if _, err := classify.PointEstimate("xx", ghs.Oral, 3, 20); err == nil {
		t.Error("an unknown rule set is taken")
	}
}
