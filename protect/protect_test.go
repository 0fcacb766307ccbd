package protect

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/substance"
)

func sub(t *testing.T, cas string) *substance.Substance {
	t.Helper()
	s, ok := substance.Embedded().ByCAS(cas)
	if !ok {
		t.Fatalf("%s is not in the substance table", cas)
	}
	return s
}

// Every row of every table: parses, has a source, and its figures make sense.
func TestTablesAreConsistent(t *testing.T) {
	tb, err := load()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range tb.respirators {
		if r.Factor < 4 || r.Factor > 10000 || !r.Gas && !r.Particles || r.Scheme != US && r.Scheme != EN {
			t.Errorf("respirator %s: factor %g gas %v particles %v scheme %q", r.name(), r.Factor, r.Gas, r.Particles, r.Scheme)
		}
		if !slices.Contains([]string{"filter", "powered", "supplied", "self-contained"}, r.Air) {
			t.Errorf("respirator %s: air %q", r.name(), r.Air)
		}
	}
	for _, g := range tb.gloves {
		if g.CAS != "" && !substance.ValidCAS(g.CAS) {
			t.Errorf("glove row %s: CAS %s has a wrong check digit", g.Chemical, g.CAS)
		}
		if g.Source.Memory && (g.MinMinutes != 0 || g.MaxMinutes != 0) {
			t.Errorf("glove row %s/%s: a recalled time is carried", g.Chemical, g.Material)
		}
		if g.MinMinutes > 0 && g.Test == "" {
			t.Errorf("glove row %s/%s: a time without its test", g.Chemical, g.Material)
		}
		if g.Source.Memory && !strings.Contains(g.text(), "from memory, check the maker's chart") {
			t.Errorf("glove row %s/%s: shown without saying that it is recalled: %s", g.Chemical, g.Material, g.text())
		}
		if !g.Source.Memory && strings.Contains(g.text(), "minutes") && g.MinMinutes+g.MaxMinutes > 0 && !strings.Contains(g.text(), glovesCaveat) {
			t.Errorf("glove row %s/%s: a time without its caveat: %s", g.Chemical, g.Material, g.text())
		}
	}
	for cas, c := range tb.carbon {
		s := sub(t, cas)
		if c.RefractiveIndex < 1.3 || c.RefractiveIndex > 1.7 {
			t.Errorf("%s: refractive index %g", s.Name, c.RefractiveIndex)
		}
	}
	for _, r := range tb.rules {
		if !slices.Contains(Kinds(), r.Kind) {
			t.Errorf("rule %q: no kind %q", r.What, r.Kind)
		}
		if r.What == "" && len(r.Codes) == 0 {
			t.Errorf("a rule of kind %q says nothing", r.Kind)
		}
	}
}

// Every precautionary statement of a rule belongs by law (some rule set) to a hazard that triggers the rule; a rule whose
// statements no rule set gives would never show them.
func TestRuleStatementsAreTheLaws(t *testing.T) {
	for _, r := range embedded().rules {
		for _, c := range r.Codes {
			found := false
			for _, rs := range ghs.RuleSets() {
				for _, h := range r.When.All() {
					if e, ok := rs.Elements(h); ok && slices.Contains(e.Precautions(), c) {
						found = true
					}
				}
			}
			if !found {
				t.Errorf("%s, %q: no rule set gives %s to any of %s", r.Kind, r.What, c, r.When)
			}
		}
	}
}

// NIOSH pocket guide steps (limit × factor, capped by the concentration immediately dangerous to life or health).
func TestMaximumUse(t *testing.T) {
	for _, c := range []struct{ factor, limit, idlh, want float64 }{
		{10, 0.05, 100, 0.5}, {25, 0.05, 100, 1.25}, {50, 0.05, 100, 2.5}, {1000, 0.05, 100, 50}, {2000, 0.05, 100, 100},
		{10, 0.05, 2, 0.5}, {50, 0.05, 2, 2},
		{10, 0.3, 50, 3}, {25, 0.3, 50, 7.5}, {50, 0.3, 50, 15}, {1000, 0.3, 50, 50},
	} {
		if got := MaximumUse(c.factor, c.limit, c.idlh, 0); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("factor %g × %g, at most %g: %g, want %g", c.factor, c.limit, c.idlh, got, c.want)
		}
	}
	if got := MaximumUse(50, 100, 0, 1000); got != 1000 { // 42 CFR 84.190: organic vapour cartridge to 1000 ppm
		t.Errorf("filter cap: %g", got)
	}
}

// OSHA's published table of the Wood model: 10 % breakthrough at five concentrations, 1 % at 1000 ppm (comparison table).
// Within 2 % for hydrocarbons and butanol, within 14 % for the smaller alcohols, whose inputs the table does not print.
func TestServiceLifeReproducesThePublishedTable(t *testing.T) {
	bed := ReferenceBed()
	for cas, row := range embedded().carbon {
		v, ok := CarbonVapour(sub(t, cas), bed.TemperatureC)
		if !ok {
			t.Fatalf("%s: no figures", row.Name)
		}
		tolerance := 0.02
		if slices.Contains([]string{"64-17-5", "67-63-0", "71-23-8"}, cas) {
			tolerance = 0.14
		}
		for ppm, want := range row.Published {
			got, err := bed.Breakthrough(v, ppm, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%-12s %4g ppm 10 %%: %5.0f min, published %5.0f, ratio %.3f", row.Name, ppm, got, want, got/want)
			if math.Abs(got/want-1) > tolerance {
				t.Errorf("%s at %g ppm: %.0f min, published %.0f", row.Name, ppm, got, want)
			}
		}
		got, err := bed.Breakthrough(v, 1000, 0.01)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got/row.PublishedOnePct-1) > 0.05 {
			t.Errorf("%s at 1000 ppm, 1 %%: %.1f min, published %.0f", row.Name, got, row.PublishedOnePct)
		}
	}
}

// Why the rows of ethanol, isopropanol and propanol differ: the published rows follow from this very equation and bed, within
// 1.5 % at every concentration, but only with constants that handbooks do not give: 10 % and 12 % more vapour pressure for
// ethanol and isopropanol, a refractive index of 1.3642 in place of 1.385 for propanol. The table prints no constants. We
// keep the handbook's.
func TestWhyTheLightAlcoholsDiffer(t *testing.T) {
	bed := ReferenceBed()
	for _, c := range []struct {
		cas      string
		pressure float64 // times that of the table
		index    float64 // 0: that of the table
	}{{"64-17-5", 1.098, 0}, {"67-63-0", 1.124, 0}, {"71-23-8", 1, 1.3642}} {
		v, ok := CarbonVapour(sub(t, c.cas), bed.TemperatureC)
		if !ok {
			t.Fatal(c.cas)
		}
		held := v
		v.PressurePa *= c.pressure
		if c.index > 0 {
			v.RefractiveIndex = c.index
		}
		row := embedded().carbon[c.cas]
		worst := 0.0
		for ppm, want := range row.Published {
			got, err := bed.Breakthrough(v, ppm, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			worst = math.Max(worst, math.Abs(got/want-1))
		}
		if worst > 0.015 {
			t.Errorf("%s: %.1f %% off with pressure %.0f Pa (held %.0f) and index %.4f (held %.4f)", row.Name, 100*worst, v.PressurePa, held.PressurePa, v.RefractiveIndex, held.RefractiveIndex)
		}
	}
}

// Why allyl alcohol comes out short of the table OSHA publishes: with 2560 Pa at 22 °C (NIOSH pocket guide: 17 mmHg at 20 °C) and
// the handbook's index the row is missed by up to 24 %; it follows within 1 % with a refractive index of 1.468.
func TestWhyAllylAlcoholIsShort(t *testing.T) {
	published := map[float64]float64{50: 789, 100: 495, 200: 303, 500: 152, 1000: 87}
	for _, c := range []struct{ index, least, most float64 }{{1.4135, 0.20, 0.25}, {1.468, 0, 0.012}} {
		worst := 0.0
		for ppm, want := range published {
			got, err := ReferenceBed().Breakthrough(Vapour{MolarMassGMol: 58.08, DensityGCM3: 0.854, RefractiveIndex: c.index, PressurePa: 2560}, ppm, 0.1)
			if err != nil {
				t.Fatal(err)
			}
			worst = math.Max(worst, math.Abs(got/want-1))
		}
		if worst < c.least || worst > c.most {
			t.Errorf("index %g: %.1f %% off", c.index, 100*worst)
		}
	}
}

// The half above 65 % humidity, and nothing estimated without figures.
func TestServiceLifeHumidityAndUnknowns(t *testing.T) {
	bed := ReferenceBed()
	toluene := sub(t, "108-88-3")
	dry, _, ok := ServiceLife(bed, toluene, 200, 20)
	if !ok {
		t.Fatal("no estimate for toluene")
	}
	bed.HumidityPercent = 90
	if wet, _, _ := ServiceLife(bed, toluene, 200, 20); wet != dry/2 {
		t.Errorf("at 90 %% humidity %g of %g minutes", wet, dry)
	}
	if _, why, ok := ServiceLife(bed, sub(t, "100-42-5"), 200, 20); ok || why == "" {
		t.Error("styrene has no figures held, yet a service life comes out")
	}
	bed.CarbonG = 0
	if _, err := bed.Breakthrough(Vapour{92, 0.87, 1.5, 3000}, 100, 0.1); err == nil || !strings.Contains(err.Error(), "carbon mass") {
		t.Errorf("no carbon: %v", err)
	}
}

func job(e ...Exposure) Job { return Job{Scheme: EN, RuleSet: ghs.EUCLP, Exposures: e} }

func TestRequiredFactorTakesTheWorstLimit(t *testing.T) {
	e := Exposure{Name: "toluene", Unit: "ppm", Task: VapourTask, Peak: Known(300), Mean: Known(40), Limits: []Limit{
		{Value: 50, Unit: "ppm", Kind: substance.TWA}, {Value: 100, Unit: "ppm", Kind: substance.STEL}}}
	if n := Required(e, nil); !n.Known || n.Factor != 3 {
		t.Errorf("peak 300 over 100: %+v", n)
	}
	e.Peak = Amount{}
	if n := Required(e, nil); n.Known {
		t.Errorf("an unknown peak cannot pass a short-term limit: %+v", n)
	}
	e.Limits = nil
	if n := Required(e, nil); n.Known || !strings.Contains(n.Why, "no exposure limit") {
		t.Errorf("no limit: %+v", n)
	}
}

// EN 14387: A above 65 °C, AX up to it; 42 CFR 84.190: organic vapour cartridge; acid gas and ammonia types; HSE: no filter
// for isocyanates; OSHA comparison: none for methanol.
func TestFilterTypes(t *testing.T) {
	for _, c := range []struct {
		cas    string
		scheme Scheme
		task   Task
		want   string
	}{
		{"108-88-3", EN, VapourTask, "A1 (brown)"},
		{"67-64-1", EN, VapourTask, "AX (brown)"},
		{"108-88-3", US, MistTask, "organic vapour cartridge (black), P100"},
		{"108-88-3", US, DustTask, "P100"},
		{"2855-13-2", EN, VapourTask, "K1 (green)"},
	} {
		f := FilterFor(sub(t, c.cas), Exposure{Name: c.cas, Unit: "ppm", Task: c.task}, c.scheme)
		if got := strings.Join(f.Marks, ", "); !strings.HasPrefix(got, c.want) || f.None != "" {
			t.Errorf("%s %s %s: %q (%s), want %q", c.cas, c.scheme, c.task, got, f.None, c.want)
		}
	}
	for _, cas := range []string{"822-06-0", "67-56-1"} {
		if f := FilterFor(sub(t, cas), Exposure{Name: cas, Task: MistTask}, EN); f.None == "" {
			t.Errorf("%s: a filter is offered: %v", cas, f.Marks)
		}
	}
	if f := FilterFor(sub(t, "67-64-1"), Exposure{Name: "acetone", Task: VapourTask}, US); f.None == "" {
		t.Error("acetone boils below 65 °C: no plain organic vapour cartridge without the maker's data")
	}
	if f := FilterFor(nil, Exposure{Name: "something", Task: VapourTask}, EN); f.None == "" {
		t.Error("a filter for an unknown substance")
	}
}

func TestIsocyanateSprayNeedsSuppliedAir(t *testing.T) {
	j := job(Exposure{CAS: "822-06-0", Name: "HDI", Unit: "mg/m3", Task: MistTask, Peak: Known(0.1), Mean: Known(0.05), Hours: 2,
		Limits: []Limit{{Value: 0.07, Unit: "mg/m3", Kind: substance.STEL}}})
	j.Ingredients = []Ingredient{{CAS: "822-06-0", Part: "hardener", Substance: sub(t, "822-06-0")}}
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	adequate := 0
	for _, r := range p.Respirators {
		if r.Adequate {
			adequate++
			if !r.Supplied || r.Factor < 20 {
				t.Errorf("%s with factor %g is called adequate", r.Device, r.Factor)
			}
		}
	}
	if adequate == 0 {
		t.Error("no supplied air device is adequate")
	}
}

func TestNothingAdequateMeansDoNotDoIt(t *testing.T) {
	j := job(Exposure{CAS: "108-88-3", Name: "toluene", Unit: "ppm", Task: VapourTask, Peak: Known(900000), Mean: Known(900000), IDLH: Known(500),
		Limits: []Limit{{Value: 20, Unit: "ppm", Kind: substance.TWA}}})
	j.Ingredients = []Ingredient{{CAS: "108-88-3", Substance: sub(t, "108-88-3")}}
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	if p.Adequate || p.Measures[0].Kind != Stop {
		t.Errorf("45000 times the limit: %+v", p.Measures[0])
	}
	var b bytes.Buffer
	if err := p.WriteText(&b); err != nil || !strings.HasPrefix(b.String(), "DO NOT DO THE JOB") {
		t.Errorf("text starts %.40q, %v", b.String(), err)
	}
}

// 29 CFR 1910.1000(d)(2): three substances at 0.8 of their limits are 2.4 times the limit together.
func TestExposuresAddUp(t *testing.T) {
	var es []Exposure
	var is []Ingredient
	for _, cas := range []string{"108-88-3", "100-41-4", "108-38-3"} {
		es = append(es, Exposure{CAS: cas, Name: cas, Unit: "ppm", Task: VapourTask, Peak: Known(40), Mean: Known(40),
			Limits: []Limit{{Value: 50, Unit: "ppm", Kind: substance.TWA}}})
		is = append(is, Ingredient{CAS: cas, Substance: sub(t, cas)})
	}
	j := job(es...)
	j.Ingredients = is
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Respirators) == 0 || !p.Respirators[0].Adequate {
		t.Errorf("three at 0.8 of their limits: no respirator: %+v", p.Respirators)
	}
	j.Exposures = es[:1]
	if p, _ := Make(j); len(p.Respirators) != 0 {
		t.Error("one at 0.8 of its limit needs none")
	}
}

// Spray mist: the lowest particle class is never chosen, and a device for particles alone never for vapour.
func TestMistNeedsGasAndParticles(t *testing.T) {
	for _, scheme := range []Scheme{EN, US} {
		j := job(Exposure{CAS: "108-88-3", Name: "toluene", Unit: "ppm", Task: MistTask, Peak: Known(60), Mean: Known(60), IDLH: Known(500),
			Limits: []Limit{{Value: 20, Unit: "ppm", Kind: substance.TWA}}})
		j.Scheme = scheme
		j.Ingredients = []Ingredient{{CAS: "108-88-3", Substance: sub(t, "108-88-3")}}
		p, err := Make(j)
		if err != nil || !p.Adequate {
			t.Fatalf("%s: %v, adequate %v", scheme, err, p.Adequate)
		}
		for _, r := range p.Respirators {
			if r.Adequate && (strings.Contains(r.Device, "P1") || strings.HasPrefix(r.Device, "filtering") || strings.HasPrefix(r.Device, "P")) {
				t.Errorf("%s: %s for spray mist", scheme, r.Device)
			}
		}
	}
}

// 29 CFR 1910.134(d)(2): in immediate danger only self-contained apparatus with full facepiece and positive pressure.
func TestImmediateDangerNeedsSelfContained(t *testing.T) {
	j := job(Exposure{CAS: "108-88-3", Name: "toluene", Unit: "ppm", Task: VapourTask, Peak: Known(600), Mean: Known(600), IDLH: Known(500),
		Limits: []Limit{{Value: 200, Unit: "ppm", Kind: substance.TWA}}})
	j.Scheme = US
	j.Ingredients = []Ingredient{{CAS: "108-88-3", Substance: sub(t, "108-88-3")}}
	p, err := Make(j)
	if err != nil || !p.Adequate {
		t.Fatalf("%v, adequate %v", err, p.Adequate)
	}
	for _, r := range p.Respirators {
		if want := r.Device == "self-contained, pressure-demand, full facepiece"; r.Adequate != want {
			t.Errorf("%s: adequate %v (%v)", r.Device, r.Adequate, r.Reasons)
		}
	}
}

// 29 CFR 1910.134(b): below 19.5 % oxygen no filter.
func TestLowOxygenStops(t *testing.T) {
	j := job()
	j.OxygenPct = Known(18)
	p, err := Make(j)
	if err != nil || p.Adequate {
		t.Errorf("18 %% oxygen: adequate %v, %v", p.Adequate, err)
	}
}

func TestNoLimitIsNotAssessedAndNotDropped(t *testing.T) {
	p, err := Make(job(Exposure{Name: "diglycidyl ether", Unit: "ppm", Task: VapourTask, Peak: Known(1), Mean: Known(1)}))
	if err != nil || len(p.NotAssessed) != 1 {
		t.Fatalf("%v %v", p.NotAssessed, err)
	}
}

// EN 166: field 5 for fine dust, field 3 for droplets.
func TestDustAndMistReachTheEyes(t *testing.T) {
	for task, want := range map[Task]string{DustTask: "field 5", MistTask: "field 3"} {
		p, err := Make(job(Exposure{Name: "cured resin", Unit: "mg/m3", Task: task}))
		if err != nil || !slices.ContainsFunc(p.Measures, func(m Measure) bool { return m.Kind == Eyes && strings.Contains(m.What, want) }) {
			t.Errorf("%s: no %s, %v", task, want, err)
		}
	}
}

// EN ISO 374-1: level 6 above 480 minutes, level 1 above 10.
func TestGloveLevels(t *testing.T) {
	for minutes, want := range map[float64]int{5: 0, 10: 0, 11: 1, 31: 2, 61: 3, 121: 4, 241: 5, 481: 6} {
		if got := Level(minutes); got != want {
			t.Errorf("%g minutes: level %d, want %d", minutes, got, want)
		}
	}
}

// A kit takes the stricter part: nitrile stands diacrylate (read) and is rated fair for styrene (recalled), so it is only for splashes.
func TestKitTakesTheStricterGlove(t *testing.T) {
	j := job()
	j.Ingredients = []Ingredient{{CAS: "13048-33-4", Name: "HDDA", Part: "resin"}}
	good, bad, _ := materials(j)
	if !hasMaterial(good, "nitrile rubber") || hasMaterial(bad, "nitrile rubber") {
		t.Fatalf("HDDA alone: %v / %v", good, bad)
	}
	j.Ingredients = append(j.Ingredients, Ingredient{CAS: "100-42-5", Name: "styrene", Part: "thinner"})
	good, bad, _ = materials(j)
	if hasMaterial(good, "nitrile rubber") || !hasMaterial(bad, "nitrile rubber") {
		t.Errorf("with styrene: %v / %v", good, bad)
	}
}

func hasMaterial(vs []materialView, name string) bool {
	return slices.ContainsFunc(vs, func(v materialView) bool { return v.material == name })
}

// Controls stand before what is worn, every measure has why and source, and the text never says "safe".
func TestPlanOrderAndSources(t *testing.T) {
	j := job(Exposure{CAS: "108-88-3", Name: "toluene", Unit: "ppm", Task: MistTask, Peak: Known(150), Mean: Known(60), IDLH: Known(500), Hours: 3,
		Limits: []Limit{{Value: 50, Unit: "ppm", Kind: substance.TWA, Authority: "EU IOELV"}, {Value: 100, Unit: "ppm", Kind: substance.STEL, Authority: "EU IOELV"}}})
	j.Hazards = ghs.SetOf(ghs.FlamLiq2, ghs.SkinSens1, ghs.EyeDam1, ghs.RespSens1, ghs.AquaticChronic2)
	j.Ingredients = []Ingredient{{CAS: "108-88-3", Substance: sub(t, "108-88-3")}, {}}
	j.Bed = ReferenceBed()
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	seen := map[Kind]bool{}
	for _, m := range p.Measures {
		at := slices.Index(Kinds(), m.Kind)
		if at < last {
			t.Errorf("%s stands after a later kind", m.Kind)
		}
		last, seen[m.Kind] = at, true
		if m.What == "" || m.Why == "" || m.Source.Text == "" || m.Source.Text == "regulation" {
			t.Errorf("incomplete: %+v", m)
		}
		if strings.Contains(strings.ToLower(m.What), "is safe") {
			t.Errorf("says safe: %q", m.What)
		}
	}
	for _, k := range Kinds()[1:] {
		if !seen[k] {
			t.Errorf("nothing of kind %q", k)
		}
	}
	var b bytes.Buffer
	if err := p.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	t.Log("\n" + b.String())
	for _, want := range []string{"P210", "P305+P351+P338", "estimated to last", "A1 (brown)"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("text lacks %q", want)
		}
	}
}

func TestBadInputNamesTheField(t *testing.T) {
	for want, j := range map[string]Job{
		"scheme":   {RuleSet: ghs.EUCLP},
		"rule set": {Scheme: EN},
		"unit":     job(Exposure{Name: "x", Task: VapourTask}),
		"task":     job(Exposure{Name: "x", Unit: "ppm"}),
		"negative": job(Exposure{Name: "x", Unit: "ppm", Task: DustTask, Peak: Known(-1)}),
		"hours":    job(Exposure{Name: "x", Unit: "ppm", Task: DustTask, Hours: 30}),
		"limit":    job(Exposure{Name: "x", Unit: "ppm", Task: DustTask, Limits: []Limit{{}}}),
	} {
		if _, err := Make(j); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// NIOSH IDLH documentation, May 1994: 700 ppm for styrene. A half mask with factor 10 may be used to the lower of 10 times the
// limit and that. Nothing is held of a substance that was not read.
func TestDangerCapsTheUse(t *testing.T) {
	ppm, source, ok := DangerPPM("100-42-5")
	if !ok || ppm != 700 || source.Memory || source.Text == "" {
		t.Fatalf("styrene: %g ppm, %v, %v", ppm, source, ok)
	}
	if got := MaximumUse(10, 100, ppm, 0); got != 700 {
		t.Errorf("10 × 100 ppm capped at %g, want 700", got)
	}
	if _, _, ok := DangerPPM("2855-13-2"); ok {
		t.Error("a value for isophorone diamine came from nowhere")
	}
	for cas, d := range embedded().danger {
		if !substance.ValidCAS(cas) || d.PPM < 10 || d.Source.Text == "" {
			t.Errorf("%s: %+v", cas, d)
		}
	}
}

// A trace of a substance for which no filter is known does not rule out the filters against the one that is over its limit.
func TestATraceRulesOutNoFilter(t *testing.T) {
	limit := []Limit{{Value: 50, Unit: "ppm", Kind: substance.TWA, Authority: "test"}}
	over := Exposure{CAS: "108-88-3", Name: "toluene", Unit: "ppm", Task: VapourTask, Hours: 4, Peak: Known(200), Mean: Known(200), Limits: limit}
	trace := Exposure{Name: "nameless", Unit: "ppm", Task: VapourTask, Hours: 4, Peak: Known(0.01), Mean: Known(0.01), Limits: limit}
	j := job(over, trace)
	j.Ingredients = []Ingredient{{CAS: "108-88-3", Name: "toluene", Substance: sub(t, "108-88-3")}}
	filters := func(j Job) bool {
		p, err := Make(j)
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(p.Respirators, func(r Respirator) bool { return r.Adequate && !r.Supplied })
	}
	if !filters(j) {
		t.Error("0.0002 of a limit rules out every filter")
	}
	trace.Peak, trace.Mean = Known(10), Known(10)
	j.Exposures[1] = trace
	if filters(j) {
		t.Error("a fifth of a limit of a nameless substance is passed to a filter nobody knows")
	}
}
