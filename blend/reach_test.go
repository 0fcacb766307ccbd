package blend

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// changed is the mix with one ingredient at a share; the others keep their proportions, or with makes room.
func changed(m *Mix, i, with int, share float64) []float64 {
	x, _ := m.Program.Point()
	return m.line(x, i, with).at(share)
}

// For recipes of single shares: at the share that is returned no class of the target is left, and a little above it there
// is one; both judged by classify.Program.At, which Reach does not use to decide.
func TestReachIsExactForSingleShares(t *testing.T) {
	found := 0
	for _, c := range []struct {
		file   string
		rs     ghs.RuleSet
		target string
		with   string
	}{
		{"epoxy-a.yaml", ghs.EUCLP, "no H317", ""},
		{"epoxy-a.yaml", ghs.USHCS2024, "no H315", ""},
		{"epoxy-a.yaml", ghs.EUCLP, "no H411", ""},
		{"hardener-b.yaml", ghs.EUCLP, "below corrosive", ""},
		{"hardener-b.yaml", ghs.EUCLP, "no Skin Sens. 1A", "100-51-6"},
		{"hardener-b.yaml", ghs.CAHPR, "signal word Warning at most", "9046-10-0"},
		{"isocyanate.yaml", ghs.USHCS2024, "no H334", "123-86-4"},
		{"isocyanate.yaml", ghs.EUCLP, "no H335", "123-86-4"},
		{"filler.yaml", ghs.EUCLP, "no H350", ""},
		{"filler.yaml", ghs.USHCS2024, "no STOT RE 1", ""},
		{"peroxide.yaml", ghs.EUCLP, "below corrosive", "131-11-3"},
		{"peroxide.yaml", ghs.EUCLP, "no H332", ""},
		{"varnish.yaml", ghs.EUCLP, "no H350", ""},
		{"varnish.yaml", ghs.EUCLP, "no H336", ""},
	} {
		m := mix(t, withoutPH(file(t, c.file)), c.rs)
		target, err := ParseTarget(c.target, c.rs)
		if err != nil {
			t.Fatal(err)
		}
		changes, err := m.Reach(target, c.with)
		if err != nil {
			t.Fatal(err)
		}
		if len(changes) == 0 {
			t.Errorf("%s %s: no ingredient counts for %q", c.file, c.rs, c.target)
		}
		with := slices.IndexFunc(m.Mixture.Ingredients, func(in classify.Ingredient) bool { return in.CAS == c.with && c.with != "" })
		left := func(x []float64) []ghs.Hazard {
			at := m.Program.At(x)
			return at.Hazards.Intersect(ghs.SetOf(target.Hazards...)).All()
		}
		for _, ch := range changes {
			if !ch.Reached {
				if len(left(changed(m, ch.Ingredient, with, 0))) == 0 {
					t.Errorf("%s %q: %s is said not to help, without it the target is reached", c.file, c.target, ch.Name)
				}
				continue
			}
			found++
			if h := left(changed(m, ch.Ingredient, with, ch.Practical)); len(h) > 0 {
				t.Errorf("%s %s %q: %s: %v is left", c.file, c.rs, c.target, ch.Words(), h)
			}
			above := ch.Share + 1e-6
			if ch.Below {
				above = ch.Share
			}
			if now := ch.From.Lo; ch.Share < now && len(left(changed(m, ch.Ingredient, with, min(now, above)))) == 0 {
				t.Errorf("%s %s %q: %s: a little more does not bring the class back", c.file, c.rs, c.target, ch.Words())
			}
			if ch.Share < ch.From.Lo && ch.Binding.Clause == "" {
				t.Errorf("%s %q: %s names no clause", c.file, c.target, ch.Words())
			}
		}
	}
	if found < 9 {
		t.Errorf("only %d changes reach a target", found)
	}
}

// CLP Annex I Table 3.4.5: 1 % of a skin sensitiser of category 1 classifies the mixture. What is below 1 % does not.
func TestReachByTheBook(t *testing.T) {
	m := mix(t, "product: X\nform: liquid\ningredients: [{cas: 7732-18-5, percent: rest}, {name: S, percent: 3, own: {hazards: Skin Sens. 1}}]", ghs.EUCLP)
	target, err := ParseTarget("no H317", ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	changes, err := m.Reach(target, "")
	if err != nil {
		t.Fatal(err)
	}
	if len(changes) != 1 || !changes[0].Reached || !changes[0].Below || math.Abs(changes[0].Share-1) > 1e-9 || changes[0].Practical >= 1 {
		t.Errorf("below 1 %%, got %+v", changes)
	}
	if met, _ := m.Met(target); met {
		t.Error("3 % of a sensitiser is said to meet the target")
	}
}

// Over ranges: with the ingredient at no more than the share that is returned the envelope rules every class of the target
// out; with a hundredth of a percent more it does not.
func TestReachOverRanges(t *testing.T) {
	m := mix(t, file(t, "corrosive-amine.yaml"), ghs.EUCLP)
	target, err := ParseTarget("no H332", ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	text := "product: X\nform: liquid\ningredients: [{name: S, percent: 0.5 - 3, own: {hazards: Skin Sens. 1}}, {name: I, percent: 5 - 30, own: {hazards: Skin Irrit. 2}}, {cas: 7732-18-5, percent: 60 - 95}]"
	for _, c := range []struct {
		m      *Mix
		target string
		share  float64
		below  bool
	}{
		{mix(t, text, ghs.EUCLP), "no H317", 1, true},       // CLP Annex I Table 3.4.5
		{mix(t, text, ghs.EUCLP), "no H315", 10, true},      // CLP Annex I Table 3.2.3
		{mix(t, text, ghs.USHCS2024), "no H317", 0.1, true}, // 29 CFR 1910.1200 App. A Table A.4.5
	} {
		target, err := ParseTarget(c.target, c.m.RuleSet)
		if err != nil {
			t.Fatal(err)
		}
		changes, err := c.m.Reach(target, "")
		if err != nil {
			t.Fatal(err)
		}
		if len(changes) != 1 || !changes[0].Reached || math.Abs(changes[0].Share-c.share) > 2e-4 || changes[0].Binding.Clause == "" {
			t.Errorf("%s: %+v, want %v", c.target, changes, c.share)
			continue
		}
		for _, s := range []struct {
			share float64
			want  bool
		}{{changes[0].Practical, true}, {c.share + 0.01, false}} {
			if got, err := c.m.ruledOut(changes[0].Ingredient, -1, s.share, target); err != nil || got != s.want {
				t.Errorf("%s at %v %%: ruled out %v (%v), want %v", c.target, s.share, got, err, s.want)
			}
		}
	}
	if _, err := m.Reach(target, "no such thing"); err == nil {
		t.Error("a substitute that is not in the recipe is no error")
	}
}

// The least change of several ingredients together reaches the target by classify.Program.At, and moves no more than the
// best change of one ingredient alone does.
func TestCombine(t *testing.T) {
	for _, c := range []struct {
		file, target string
		rs           ghs.RuleSet
		grow         []string
	}{
		{"hardener-b.yaml", "below corrosive", ghs.EUCLP, nil},
		{"epoxy-a.yaml", "no H411", ghs.EUCLP, []string{"100-51-6"}},
		{"isocyanate.yaml", "no H335", ghs.EUCLP, []string{"123-86-4"}},
		{"peroxide.yaml", "no H302", ghs.EUCLP, []string{"131-11-3"}},
		{"filler.yaml", "no H372", ghs.USHCS2024, nil},
	} {
		m := mix(t, withoutPH(file(t, c.file)), c.rs)
		target, err := ParseTarget(c.target, c.rs)
		if err != nil {
			t.Fatal(err)
		}
		got, err := m.Combine(target, c.grow...)
		if err != nil {
			t.Errorf("%s %q: %v", c.file, c.target, err)
			continue
		}
		at := m.Program.At(got.Percent)
		if left := at.Hazards.Intersect(ghs.SetOf(target.Hazards...)); !left.Empty() {
			t.Errorf("%s %q: %v left in %v", c.file, c.target, left, got.Words)
		}
		sum := 0.0
		for _, v := range got.Percent {
			sum += v
		}
		if math.Abs(sum-100) > 1e-6 || got.Moved <= 0 {
			t.Errorf("%s %q: shares make %v, %v moved", c.file, c.target, sum, got.Moved)
		}
		if len(c.grow) == 1 {
			changes, err := m.Reach(target, c.grow[0])
			if err != nil {
				t.Fatal(err)
			}
			for _, ch := range changes {
				if alone := ch.From.Lo - ch.Practical; ch.Reached && alone < got.Moved-0.2 {
					t.Errorf("%s %q: %s moves less (%v) than the combination (%v)", c.file, c.target, ch.Words(), alone, got.Moved)
				}
			}
		}
	}
	m := mix(t, "product: X\nform: liquid\ningredients: [{name: S, percent: 60, own: {hazards: Skin Sens. 1}}, {name: T, percent: 40, own: {hazards: Skin Sens. 1}}]", ghs.EUCLP)
	target, _ := ParseTarget("no H317", ghs.EUCLP)
	if _, err := m.Combine(target); !errors.Is(err, ErrNoCombination) {
		t.Errorf("two sensitisers alone: %v", err)
	}
}

// Over ranges the new upper ends rule the target out by the envelope, and half a percent more of what had to go does not.
func TestCombineOverRanges(t *testing.T) {
	const text = "product: X\nform: liquid\ningredients: [{name: S, percent: 0.5 - 3, own: {hazards: Skin Sens. 1}}, {name: T, percent: 1 - 4, own: {hazards: Skin Sens. 1}}, {name: I, percent: 5 - 30, own: {hazards: Skin Irrit. 2}}, {cas: 7732-18-5, percent: 60 - 95}]"
	m := mix(t, text, ghs.EUCLP)
	for _, c := range []struct {
		target string
		moved  float64 // what has to go at least: to below 1 % each (CLP Annex I Table 3.4.5); the sum below 10 % (Table 3.2.3)
	}{{"no H317", 2 + 3}, {"no H315", 20}} {
		target, err := ParseTarget(c.target, ghs.EUCLP)
		if err != nil {
			t.Fatal(err)
		}
		got, err := m.Combine(target)
		if err != nil {
			t.Fatalf("%s: %v", c.target, err)
		}
		if !got.Ends || got.Moved < c.moved || got.Moved > c.moved+0.1 {
			t.Errorf("%s: %+v, want %v moved", c.target, got, c.moved)
		}
		holds := func(extra float64) bool {
			k := &combiner{m: m, t: target, x: slices.Clone(got.Percent)}
			for i, v := range k.x {
				if _, hi := m.Mixture.Ingredients[i].Bounds(); v < hi {
					k.x[i] = min(hi, v+extra)
				}
			}
			return k.confirm() == nil
		}
		if !holds(0) || holds(0.5) {
			t.Errorf("%s: holds at the ends %v, half a percent above %v", c.target, holds(0), holds(0.5))
		}
	}
}

// withoutPH leaves the measured pH out of a recipe: at 11.5 and above it alone makes a product corrosive.
func withoutPH(text string) string {
	return strings.Replace(text, "  ph: {value: 11.8, at_c: 20}\n", "", 1)
}

// A pH of 11.5 or more makes a product corrosive whatever its shares (CLP Annex I 3.2.3.1.2): no change of shares helps, and
// the answer says so.
func TestMeasuredPHStandsInTheWay(t *testing.T) {
	m := mix(t, file(t, "hardener-b.yaml"), ghs.EUCLP)
	target, err := ParseTarget("below corrosive", ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := m.Combine(target); !errors.Is(err, ErrNoCombination) || !strings.Contains(err.Error(), "pH") {
		t.Errorf("%v", err)
	}
	changes, err := m.Reach(target, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range changes {
		if c.Reached || c.Binding.Clause == "" {
			t.Errorf("%s; because of %s", c.Words(), c.Binding)
		}
	}
}

// Targets in words.
func TestParseTarget(t *testing.T) {
	has := func(s string, rs ghs.RuleSet, want ...ghs.Hazard) {
		t.Helper()
		got, err := ParseTarget(s, rs)
		if err != nil {
			t.Errorf("%q: %v", s, err)
			return
		}
		for _, h := range want {
			if !slices.Contains(got.Hazards, h) {
				t.Errorf("%q lacks %v: %v", s, h, got.Hazards)
			}
		}
	}
	has("no H317", ghs.EUCLP, ghs.SkinSens1, ghs.SkinSens1A, ghs.SkinSens1B)
	has("no Skin Sens. 1A", ghs.EUCLP, ghs.SkinSens1A)
	has("below corrosive", ghs.EUCLP, ghs.SkinCorr1, ghs.SkinCorr1A, ghs.SkinCorr1B, ghs.SkinCorr1C)
	has("signal word Warning at most", ghs.EUCLP, ghs.EyeDam1, ghs.SkinCorr1B, ghs.FlamLiq2)
	has("no transport class 8", ghs.EUCLP, ghs.SkinCorr1B)
	has("not dangerous goods", ghs.EUCLP, ghs.SkinCorr1B, ghs.AquaticChronic2, ghs.AquaticAcute1)
	if got, _ := ParseTarget("no Skin Sens. 1A", ghs.EUCLP); slices.Contains(got.Hazards, ghs.SkinSens1B) {
		t.Error("1B is milder than 1A and no part of the target")
	}
	if got, _ := ParseTarget("signal word Warning at most", ghs.EUCLP); slices.Contains(got.Hazards, ghs.SkinIrrit2) {
		t.Error("Skin Irrit. 2 has the signal word Warning")
	}
	for _, bad := range []string{"", "greener", "no H999", "no transport class 12", "below nice"} {
		if _, err := ParseTarget(bad, ghs.EUCLP); err == nil || !strings.Contains(err.Error(), "target") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

// Transport, by the criteria of the UN Model Regulations: flash and boiling point (2.3.2.6), corrosivity (2.8.3), hazards to
// waters (2.9.3), precedence (2.0.3.3), and what cannot be decided.
func TestTransportProposals(t *testing.T) {
	solvent := "product: X\nform: liquid\nkinds: [%k]\nmeasured: {flash_point: {value: %f}, boiling_point: {value: %b}}\ningredients: [{cas: 123-86-4, percent: 100}]"
	for _, c := range []struct {
		name, text     string
		un, class, pg  string
		sub            string
		env, regulated bool
		decided        bool
	}{
		{"boiling at 30 °C", strings.NewReplacer("%k", "", "%f", "-20", "%b", "30").Replace(solvent), "1993", "3", "I", "", false, true, true},
		{"flash point 22 °C", strings.NewReplacer("%k", "paint", "%f", "22", "%b", "126").Replace(solvent), "1263", "3", "II", "", false, true, true},
		{"flash point 23 °C", strings.NewReplacer("%k", "adhesive", "%f", "23", "%b", "126").Replace(solvent), "1133", "3", "III", "", false, true, true},
		{"flash point 60 °C", strings.NewReplacer("%k", "resin", "%f", "60", "%b", "126").Replace(solvent), "1866", "3", "III", "", false, true, true},
		{"flash point 61 °C", strings.NewReplacer("%k", "", "%f", "61", "%b", "126").Replace(solvent), "", "", "", "", false, false, true},
		{"no flash point known", "product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: 100}]", "", "", "", "", false, false, false},
		{"amine hardener", file(t, "hardener-b.yaml"), "2735", "8", "II", "", false, true, true},
		{"epoxy resin", file(t, "epoxy-a.yaml"), "3082", "9", "III", "", true, true, true},
		{"peroxide", file(t, "peroxide.yaml"), "3105", "5.2", "", "8", false, true, true},
		{"powder", file(t, "filler.yaml"), "", "", "", "", false, false, true},
		{"varnish", file(t, "varnish.yaml"), "1263", "3", "III", "", true, true, true},
		{"flammable and corrosive", "product: X\nform: liquid\nmeasured: {flash_point: {value: 40}, boiling_point: {value: 100}}\ningredients: [{name: A, percent: 100, own: {hazards: Skin Corr. 1B}}]", "2920", "8", "II", "3", false, true, true},
		{"flammable and weakly corrosive", "product: X\nform: liquid\nmeasured: {flash_point: {value: 10}, boiling_point: {value: 100}}\ningredients: [{name: A, percent: 100, own: {hazards: Skin Corr. 1C}}]", "2924", "3", "II", "8", false, true, true},
	} {
		text := strings.Replace(c.text, "kinds: []", "", 1)
		m, err := makeMix(recipe(t, text), stock(), ghs.UNGHS)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		p := propose(m)
		if p.Decided != c.decided || p.Regulated != c.regulated || p.UN != c.un || p.Class != c.class || p.PackingGroup != c.pg || strings.Join(p.Subsidiary, ",") != c.sub || p.Environment != c.env {
			t.Errorf("%s: %+v, want UN %s %s (%s) %s, environment %v", c.name, p, c.un, c.class, c.sub, c.pg, c.env)
		}
		if len(p.Why) == 0 {
			t.Errorf("%s: no reason", c.name)
		}
	}
}

// A target on transport class 3 is reached only when the flash point is known to lie above 60 °C (2.3.1.2).
func TestFlashPointTarget(t *testing.T) {
	target, err := ParseTarget("no transport class 3", ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	for flash, want := range map[string]bool{"": false, "measured: {flash_point: {value: 39}}": false, "measured: {flash_point: {value: 60}}": false,
		"measured: {flash_point: {value: 61}}": true, "measured: {flash_point: {value: \"> 93\"}}": true, "tested: {no_flash_point: true}": true} {
		m, err := mix(t, "product: X\nform: liquid\n"+flash+"\ningredients: [{cas: 123-86-4, percent: 100}]", ghs.EUCLP).Under(target, stock())
		if err != nil {
			t.Fatal(err)
		}
		if met, _ := m.Met(target); met != want {
			t.Errorf("%q: reached %v, want %v", flash, met, want)
		}
		if words := m.FlashWords(target); !want && !strings.Contains(words, "n-butyl acetate") {
			t.Errorf("%q does not name the flammable ingredient: %s", flash, words)
		}
	}
}

// The author's own classification for transport takes the place of the proposal.
func TestTransportByATrainedPerson(t *testing.T) {
	m, err := makeMix(recipe(t, "product: X\nform: liquid\ntransport: {not_regulated: true, by: I. Quaymaster}\ningredients: [{cas: 123-86-4, percent: 100}]"), stock(), ghs.UNGHS)
	if err != nil {
		t.Fatal(err)
	}
	if p := propose(m); !p.Decided || p.Regulated || p.By != "I. Quaymaster" {
		t.Errorf("%+v", p)
	}
}

// A shop's range is declared by its severest end, and the author is told.
func TestRangesAreDeclaredByTheirSevererEnd(t *testing.T) {
	m := mix(t, "product: X\nform: liquid\ningredients: [{name: A, percent: 0.5 - 2, own: {hazards: Skin Sens. 1}}, {cas: 7732-18-5, percent: rest}]", ghs.EUCLP)
	if !m.Declared.Has(ghs.SkinSens1) || !slices.Contains(m.Cautious, ghs.SkinSens1) {
		t.Errorf("declared %v, of which possible only %v", m.Declared, m.Cautious)
	}
	if m.Mixture.Ingredients[0].Percent != sheet.Between(0.5, 2) {
		t.Errorf("the range did not stay a range: %v", m.Mixture.Ingredients[0].Percent)
	}
}
