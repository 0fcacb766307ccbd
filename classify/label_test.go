package classify

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func printed[T fmt.Stringer](list []T) string {
	var out []string
	for _, x := range list {
		out = append(out, x.String())
	}
	return strings.Join(out, " ")
}

func codes(list []ghs.Code) string {
	var out []string
	for _, c := range list {
		out = append(out, string(c))
	}
	return strings.Join(out, " ")
}

// Whole labels. The first two answers are printed in the Safe Work Australia GHS classification training answer sheet; the
// others follow from the clause named.
func TestLabel(t *testing.T) {
	for _, c := range []struct {
		name    string
		rs      ghs.RuleSet
		hazards []ghs.Hazard
		signal  ghs.SignalWord
		symbols string
		codes   string
	}{
		{"training sheet: acid-base indicator", ghs.AUWHS, []ghs.Hazard{ghs.AcuteTox3Oral, ghs.Carc2}, ghs.Danger, "GHS06 GHS08", "H301 H351"},
		{"training sheet: oxidising disinfectant", ghs.AUWHS, []ghs.Hazard{ghs.OxSol2, ghs.AcuteTox4Oral, ghs.AquaticAcute1, ghs.AquaticChronic1}, ghs.Danger, "GHS03 GHS07 GHS09", "H272 H302 H410"},
		{"Art. 26(1)(b): the skull drops the exclamation mark altogether", ghs.EUCLP, []ghs.Hazard{ghs.AcuteTox3Oral, ghs.SkinIrrit2, ghs.SkinSens1}, ghs.Danger, "GHS06", "H301 H315 H317"},
		{"C.2.1.2: the skull drops the exclamation mark only for acute toxicity", ghs.USHCS2024, []ghs.Hazard{ghs.AcuteTox3Oral, ghs.AcuteTox4Dermal, ghs.SkinSens1}, ghs.Danger, "GHS06 GHS07", "H301 H312 H317"},
		{"C.2.1.2: acute toxicity alone", ghs.USHCS2024, []ghs.Hazard{ghs.AcuteTox3Oral, ghs.AcuteTox4Dermal}, ghs.Danger, "GHS06", "H301 H312"},
		{"s. 3.6(3): corrosion keeps the exclamation mark for harmful", ghs.CAHPR, []ghs.Hazard{ghs.SkinCorr1B, ghs.EyeDam1, ghs.AcuteTox4Oral}, ghs.Danger, "GHS05 GHS07", "H302 H314"},
		{"Art. 26(1)(c): corrosion drops it for eye irritation", ghs.EUCLP, []ghs.Hazard{ghs.MetCorr1, ghs.EyeIrrit2}, ghs.Warning, "GHS05", "H290 H319"},
		{"s. 3.6(3): respiratory sensitisation drops it for skin", ghs.CAHPR, []ghs.Hazard{ghs.RespSens1, ghs.SkinSens1, ghs.SkinIrrit2}, ghs.Danger, "GHS08", "H315 H317 H334"},
		{"C.2.1.4: a health hazard symbol for other reasons drops nothing", ghs.USHCS2012, []ghs.Hazard{ghs.Carc2, ghs.SkinSens1}, ghs.Warning, "GHS07 GHS08", "H317 H351"},
		{"Annex III: one sentence for one degree", ghs.EUCLP, []ghs.Hazard{ghs.AcuteTox4Oral, ghs.AcuteTox4Dermal, ghs.AcuteTox4InhalationVapour}, ghs.Warning, "GHS07", "H302+H312+H332"},
		{"Annex III: different degrees stay apart", ghs.EUCLP, []ghs.Hazard{ghs.AcuteTox4Oral, ghs.AcuteTox3Dermal}, ghs.Danger, "GHS06", "H302 H311"},
		{"Art. 27: H410 absorbs H400", ghs.EUCLP, []ghs.Hazard{ghs.AquaticAcute1, ghs.AquaticChronic1}, ghs.Warning, "GHS09", "H410"},
		{"Annex III: H411 does not absorb H400", ghs.EUCLP, []ghs.Hazard{ghs.AquaticAcute1, ghs.AquaticChronic2}, ghs.Warning, "GHS09", "H400 H411"},
		{"C.2.2.1: no clause drops H318 beside H314", ghs.USHCS2024, []ghs.Hazard{ghs.SkinCorr1, ghs.EyeDam1}, ghs.Danger, "GHS05", "H314 H318"},
		{"Table 3.3.5 note (a): H314 says H318", ghs.EUCLP, []ghs.Hazard{ghs.SkinCorr1, ghs.EyeDam1}, ghs.Danger, "GHS05", "H314"},
		{"Annex I 4.1: no signal word for chronic 2", ghs.EUCLP, []ghs.Hazard{ghs.AquaticChronic2}, ghs.NoSignalWord, "GHS09", "H411"},
		{"Table 2.6.2: flammable liquid 3", ghs.GBCLP, []ghs.Hazard{ghs.FlamLiq3}, ghs.Warning, "GHS02", "H226"},
		{"App. C: combustible dust has words without code", ghs.USHCS2024, []ghs.Hazard{ghs.CombustibleDust}, ghs.Warning, "", "combustible-dust"},
		{"Regulation (EU) 2023/707: endocrine disruption without symbol", ghs.EUCLP, []ghs.Hazard{ghs.EDHH1}, ghs.Danger, "", "EUH380"},
		{"nothing classified", ghs.EUCLP, nil, ghs.NoSignalWord, "", ""},
	} {
		l := Label(ghs.SetOf(c.hazards...), c.rs, LabelOptions{})
		if got := l.SignalWord.Value; got != c.signal {
			t.Errorf("%s: signal word %q, want %q", c.name, got, c.signal)
		}
		if got := printed(l.PrintedPictograms()); got != c.symbols {
			t.Errorf("%s: pictograms %s, want %s", c.name, got, c.symbols)
		}
		if got := codes(l.PrintedStatements()); got != c.codes {
			t.Errorf("%s: statements %s, want %s", c.name, got, c.codes)
		}
	}
}

func pictogramNeed(l LabelElements, p ghs.Pictogram) (Need, string) {
	for _, e := range l.Pictograms {
		if e.Value == p {
			return e.Need, e.Clause
		}
	}
	return Omitted, ""
}

func statementNeed(l LabelElements, c ghs.Code) (Need, string) {
	for _, e := range l.Hazard {
		if e.Value == c {
			return e.Need, e.Clause
		}
	}
	return Omitted, ""
}

// Art. 26(1)(a) and (e): symbols that become optional, and the case in which both are compulsory.
func TestOptionalPictograms(t *testing.T) {
	for _, c := range []struct {
		hazards []ghs.Hazard
		symbol  ghs.Pictogram
		need    Need
		clause  string
	}{
		{[]ghs.Hazard{ghs.Expl11, ghs.FlamLiq2}, ghs.Flame, Optional, "26(1)(a)"},
		{[]ghs.Hazard{ghs.OrgPeroxB}, ghs.Flame, Required, ""},
		{[]ghs.Hazard{ghs.FlamGas1A, ghs.PressGasLiquefied}, ghs.GasCylinder, Optional, "26(1)(e)"},
		{[]ghs.Hazard{ghs.OxGas1, ghs.PressGasCompressed}, ghs.GasCylinder, Required, ""},
	} {
		need, clause := pictogramNeed(Label(ghs.SetOf(c.hazards...), ghs.EUCLP, LabelOptions{}), c.symbol)
		if need != c.need || !strings.Contains(clause, c.clause) {
			t.Errorf("%v: %s is %s by %q, want %s by %s", c.hazards, c.symbol, need, clause, c.need, c.clause)
		}
	}
	if need, _ := pictogramNeed(Label(ghs.SetOf(ghs.FlamGas1A, ghs.PressGasLiquefied), ghs.USHCS2024, LabelOptions{}), ghs.GasCylinder); need != Required {
		t.Errorf("29 CFR 1910.1200 App. C has no rule like Art. 26(1)(e): the cylinder is %s", need)
	}
}

// What a label leaves off stays listed with the reason and the clause.
func TestOmittedElementsAreExplained(t *testing.T) {
	for _, rs := range ghs.RuleSets() {
		var all ghs.HazardSet
		for _, h := range rs.Hazards().All() {
			all.Add(h)
			l := Label(ghs.SetOf(h, ghs.SkinCorr1B, ghs.EyeDam1, ghs.AcuteTox2Oral, ghs.SkinSens1, ghs.RespSens1), rs, LabelOptions{})
			checkExplained(t, l)
		}
		checkExplained(t, Label(all, rs, LabelOptions{ForPublic: true, Millilitres: 50, CorrosiveToAirways: true}))
	}
}

func checkExplained(t *testing.T, l LabelElements) {
	t.Helper()
	for _, e := range l.Pictograms {
		if e.Why == "" || e.Clause == "" || len(e.From) == 0 {
			t.Errorf("%s: %s %s: why %q, clause %q, from %v", l.RuleSet, e.Value, e.Need, e.Why, e.Clause, e.From)
		}
	}
	for _, list := range [][]LabelElement[ghs.Code]{l.Hazard, l.Precautionary} {
		for _, e := range list {
			if e.Why == "" || e.Clause == "" || !e.Value.Known() {
				t.Errorf("%s: %s %s: why %q, clause %q, known %v", l.RuleSet, e.Value, e.Need, e.Why, e.Clause, e.Value.Known())
			}
		}
	}
	if len(l.Short) > shortCount {
		t.Errorf("%s: %d statements in the short set", l.RuleSet, len(l.Short))
	}
}

// UN GHS 1.4.10.5.3.3 lets repetitions be omitted; it does not order it. The environment is outside 29 CFR 1910.1200.
func TestOptionalStatements(t *testing.T) {
	for _, c := range []struct {
		rs      ghs.RuleSet
		hazards []ghs.Hazard
		code    ghs.Code
		need    Need
		clause  string
	}{
		{ghs.UNGHS, []ghs.Hazard{ghs.SkinCorr1, ghs.EyeDam1}, "H318", Optional, "1.4.10.5.3.3"},
		{ghs.UNGHS, []ghs.Hazard{ghs.AquaticAcute2, ghs.AquaticChronic2}, "H401", Optional, "1.4.10.5.3.3"},
		{ghs.CAHPR, []ghs.Hazard{ghs.SkinCorr1, ghs.EyeDam1}, "H318", Optional, "3.6(2)"},
		{ghs.USHCS2024, []ghs.Hazard{ghs.AquaticChronic2}, "H411", Optional, "outside"},
		{ghs.EUCLP, []ghs.Hazard{ghs.SkinCorr1, ghs.EyeDam1}, "H318", Optional, "Table 3.3.5 note (a)"},
		{ghs.EUCLP, []ghs.Hazard{ghs.AquaticAcute1, ghs.AquaticChronic1}, "H400", Omitted, "Art. 27"},
	} {
		need, clause := statementNeed(Label(ghs.SetOf(c.hazards...), c.rs, LabelOptions{}), c.code)
		if need != c.need || !strings.Contains(clause, c.clause) {
			t.Errorf("%s: %s is %s by %q, want %s by %s", c.rs, c.code, need, clause, c.need, c.clause)
		}
	}
}

// 29 CFR 1910.1200 App. A, A.1.2.4.1 (2024) and Regulation (EC) No 1272/2008 Annex II 1.2.6: toxicity by corrosion.
func TestCorrosiveToAirways(t *testing.T) {
	set := ghs.SetOf(ghs.AcuteTox3InhalationVapour)
	us := Label(set, ghs.USHCS2024, LabelOptions{CorrosiveToAirways: true})
	if codes(us.PrintedStatements()) != "H331 corrosive-airways" || printed(us.PrintedPictograms()) != "GHS05 GHS06" {
		t.Errorf("United States: %v %v", us.PrintedStatements(), us.PrintedPictograms())
	}
	eu := Label(set.Union(ghs.SetOf(ghs.STOTSE3Respiratory)), ghs.EUCLP, LabelOptions{CorrosiveToAirways: true})
	if codes(eu.PrintedStatements()) != "H331 EUH071" {
		t.Errorf("European Union: %v", eu.PrintedStatements())
	}
}

// A form of the statement that is known to fit better takes the general one's place: Regulation (EC) No 1272/2008
// Annex VI 1.1.2.1.2.
func TestSpecificStatements(t *testing.T) {
	l := Label(ghs.SetOf(ghs.Repr1B, ghs.Carc1B), ghs.EUCLP, LabelOptions{Specific: []ghs.Code{"H360FD", "H350i", "H361d"}})
	if codes(l.PrintedStatements()) != "H350i H360FD" {
		t.Errorf("got %v", l.PrintedStatements())
	}
}

// Regulation (EC) No 1272/2008 Art. 28: at most six statements, one of them on disposal for the public.
func TestShortPrecautions(t *testing.T) {
	for _, c := range []struct {
		hazards []ghs.Hazard
		public  bool
		want    string
	}{
		{[]ghs.Hazard{ghs.SkinCorr1B, ghs.EyeDam1}, false, "P260 P280 P301+P330+P331 P303+P361+P353 P305+P351+P338 P310"},
		{[]ghs.Hazard{ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1}, true, "P102 P280 P302+P352 P305+P351+P338 P333+P313 P501"},
		{[]ghs.Hazard{ghs.FlamLiq2}, false, "P210 P233 P280 P303+P361+P353 P370+P378 P403+P235"},
	} {
		l := Label(ghs.SetOf(c.hazards...), ghs.EUCLP, LabelOptions{ForPublic: c.public})
		got := slices.Clone(l.Short)
		if len(got) > 6 {
			t.Errorf("%v: %d statements", c.hazards, len(got))
		}
		if c.public && !slices.Contains(got, "P501") {
			t.Errorf("%v: Art. 28(2) asks for a statement on disposal: %v", c.hazards, got)
		}
		if codes(got) != c.want {
			t.Errorf("%v: got %s, want %s", c.hazards, codes(got), c.want)
		}
	}
	us := Label(ghs.SetOf(ghs.SkinCorr1B), ghs.USHCS2024, LabelOptions{})
	if us.ShortClause != "" {
		t.Errorf("29 CFR 1910.1200 has no limit on precautionary statements, got %q", us.ShortClause)
	}
}

// 29 CFR 1910.1200 App. C, C.2.4.8: of similar statements the most stringent is printed.
func TestStricterPrecautionCovers(t *testing.T) {
	l := Label(ghs.SetOf(ghs.AcuteTox2InhalationVapour, ghs.STOTSE3Narcotic, ghs.AcuteTox4Oral), ghs.USHCS2024, LabelOptions{})
	got := codes(l.PrintedPrecautions())
	for _, c := range []string{"P260", "P310"} {
		if !strings.Contains(got, c) {
			t.Errorf("%s is missing in %s", c, got)
		}
	}
	for _, c := range []ghs.Code{"P261", "P312"} {
		if x := l.PrintedPrecautions(); slices.Contains(x, c) {
			t.Errorf("%s is printed beside the stricter one: %s", c, got)
		}
	}
}

// Regulation (EC) No 1272/2008 Annex I 1.5.2.1.1 and 29 CFR 1910.1200(f)(12)(ii): small packages.
func TestSmallPackages(t *testing.T) {
	set := ghs.SetOf(ghs.FlamLiq3, ghs.SkinSens1)
	eu := Label(set, ghs.EUCLP, LabelOptions{Millilitres: 100})
	if need, _ := statementNeed(eu, "H226"); need != Optional {
		t.Errorf("H226 on 100 ml is %s", need)
	}
	if need, _ := statementNeed(eu, "H317"); need != Required {
		t.Errorf("H317 on 100 ml is %s", need)
	}
	if need, _ := statementNeed(Label(set, ghs.EUCLP, LabelOptions{Millilitres: 250}), "H226"); need != Required {
		t.Errorf("H226 on 250 ml is %s", need)
	}
	harmful := ghs.SetOf(ghs.AcuteTox4Oral)
	for _, c := range []struct {
		public bool
		need   Need
	}{{true, Required}, {false, Optional}} {
		if need, _ := statementNeed(Label(harmful, ghs.EUCLP, LabelOptions{Millilitres: 100, ForPublic: c.public}), "H302"); need != c.need {
			t.Errorf("H302 on 100 ml, for the public %v: %s", c.public, need)
		}
	}
	us := Label(set, ghs.USHCS2024, LabelOptions{Millilitres: 100})
	if need, clause := statementNeed(us, "H317"); need != Optional || !strings.Contains(clause, "(f)(12)(ii)") {
		t.Errorf("H317 on 100 ml in the United States is %s by %s", need, clause)
	}
	if len(us.PrintedPictograms()) == 0 || us.SignalWord.Need != Required {
		t.Error("a small label still shows pictograms and signal word")
	}
}

// A hazard that the law does not know gives nothing and is listed.
func TestHazardOutsideRuleSet(t *testing.T) {
	l := Label(ghs.SetOf(ghs.FlamLiq4, ghs.SkinSens1), ghs.EUCLP, LabelOptions{})
	if len(l.NotInRuleSet) != 1 || l.NotInRuleSet[0] != ghs.FlamLiq4 {
		t.Errorf("not in the rule set: %v", l.NotInRuleSet)
	}
	if codes(l.PrintedStatements()) != "H317" {
		t.Errorf("statements: %v", l.PrintedStatements())
	}
}

func TestLabelJSON(t *testing.T) {
	data, err := json.Marshal(Label(ghs.SetOf(ghs.SkinSens1), ghs.EUCLP, LabelOptions{}))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"rule_set":"eu-clp"`, `"value":"Warning","need":"required"`, `"value":"GHS07"`, `"value":"H317"`, `"from":["Skin Sens. 1"]`} {
		if !strings.Contains(string(data), want) {
			t.Errorf("%s is missing in %s", want, data)
		}
	}
}

// Regulation (EC) No 1272/2008 Annex II 2.8: a mixture that is not a sensitiser itself names the sensitiser it holds; the
// European statement of unknown acute toxicity (Annex I 3.1.3.6.2.2) comes with it.
func TestLabelOfMixture(t *testing.T) {
	m := Mixture{Name: "varnish", Complete: true, Form: Liquid, ForPublic: true, Ingredients: []Ingredient{
		{Name: "sensitiser", Percent: sheet.Exactly(0.5), Hazards: ghs.SetOf(ghs.SkinSens1)},
		{Name: "solvent", Percent: sheet.Exactly(99.5), Hazards: ghs.SetOf(ghs.STOTSE3Narcotic)},
	}}
	m.Ingredients[0].ATE[ghs.Oral].Status = ATENotToxic
	m.Ingredients[1].ATE[ghs.Oral].Status = ATEUnknown
	p, err := Compile(m, ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	c := p.At([]float64{0.5, 99.5})
	l := c.Label(LabelOptions{ForPublic: true})
	if need, clause := statementNeed(l, "EUH208"); need != Required || !strings.Contains(clause, "2.8") {
		t.Errorf("EUH208 is %s by %q", need, clause)
	}
	if len(l.Supplements) == 0 || !slices.Contains(l.Supplements[0].Ingredients, "sensitiser") {
		t.Errorf("supplements: %+v", l.Supplements)
	}
	if need, _ := statementNeed(l, "H336"); need != Required {
		t.Errorf("H336 is %s", need)
	}
	if !slices.ContainsFunc(l.Unknown, func(u UnknownToxicity) bool { return u.Route == ghs.Oral }) {
		t.Errorf("unknown toxicity: %+v", l.Unknown)
	}
}
