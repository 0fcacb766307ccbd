package classify

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: got %g, want %g within %g of it", what, got, want, relative)
	}
}

// Published and recalled examples of equivalent weights and mixing ratios.
func TestEquivalentWeights(t *testing.T) {
	// Trade technical note "Calculating equivalent weight of epoxy mixtures" (2020), example 1: 80 g of a resin of
	// 189 g/eq, 10 g of a diluent of 183 g/eq and 10 g of filler have 209 g/eq.
	blend, err := BlendEquivalent(Blend{80, 189}, Blend{10, 183}, Blend{10, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "EEW of the filled blend", blend, 209, 0.003)
	for _, c := range []struct {
		source                  string
		mass, groups, ahew, eew float64
		wantAHEW, wantPHR       float64
		tolerance               float64
	}{
		{"the same note, example 2: AHEW 43 with EEW 209", 0, 0, 43, 209, 43, 20.6, 0.003},
		{"coatings handbook extract on epoxy hardener stoichiometry: diethylenetriamine with EEW 200", 103, 5, 0, 200, 20.6, 10.3, 0.001},
		{"cure kinetics of DGEBA with triethylenetetramine, abstract: 13 phr (EEW 188 assumed)", 146.2, 6, 0, 188, 24.3667, 13, 0.02},
		{"cure of DGEBA with m-phenylenediamine, abstract: 15 phr (EEW 182 assumed)", 108.1, 4, 0, 182, 27.025, 15, 0.02},
		{"from memory: isophorone diamine has an AHEW of 42.6 (170.3/4)", 170.3, 4, 0, 190, 42.6, 22.42, 0.002},
		{"from memory: m-xylylenediamine has an AHEW of 34.1 (136.2/4)", 136.2, 4, 0, 190, 34.1, 17.94, 0.002},
	} {
		ahew := c.ahew
		if c.groups > 0 {
			if ahew, err = EquivalentWeight(c.mass, c.groups); err != nil {
				t.Fatal(err)
			}
		}
		near(t, c.source+": AHEW", ahew, c.wantAHEW, 0.002)
		phr, err := PerHundredResin(ahew, c.eew)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.source+": phr", phr, c.wantPHR, c.tolerance)
	}
}

func TestEquivalentWeightErrors(t *testing.T) {
	for name, err := range map[string]error{
		"no groups":         second(EquivalentWeight(100, 0)),
		"no mass":           second(EquivalentWeight(math.NaN(), 3)),
		"fillers only":      second(BlendEquivalent(Blend{10, 0})),
		"negative mass":     second(BlendEquivalent(Blend{-1, 100})),
		"no EEW":            second(PerHundredResin(43, 0)),
		"ratio of one part": third(ParseRatio("100")),
		"ratio of words":    third(ParseRatio("two to one")),
		"ratio with a zero": third(ParseRatio("100:0")),
		"ratio upside down": third(ParseRatio("100:35-30")),
	} {
		if !errors.Is(err, ErrKit) {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

func second(_ float64, err error) error                  { return err }
func third(_ []sheet.Interval, _ Basis, err error) error { return err }
func approx(v sheet.Interval, lo, hi float64) bool {
	return math.Abs(v.Lo-lo) < 1e-9 && math.Abs(v.Hi-hi) < 1e-9
}
func mustRatio(t *testing.T, s string) ([]sheet.Interval, Basis) {
	t.Helper()
	amounts, basis, err := ParseRatio(s)
	if err != nil {
		t.Fatal(err)
	}
	return amounts, basis
}

func TestRatios(t *testing.T) {
	for s, want := range map[string]struct {
		lo, hi float64
		basis  Basis
	}{
		"100:32": {32, 32, ByMass}, "100 : 30-35 by weight": {30, 35, ByMass}, "2:1 by volume": {1, 1, ByVolume}, "1 : 1 by equivalents": {1, 1, ByEquivalent},
		"100:30–35": {30, 35, ByMass},
	} {
		amounts, basis := mustRatio(t, s)
		if last := amounts[len(amounts)-1]; basis != want.basis || !approx(last, want.lo, want.hi) {
			t.Errorf("%q: %v %v", s, amounts, basis)
		}
	}
}

// boatKit is an invented laminating kit: a resin part with a reactive diluent and an amine hardener.
func boatKit(amounts []sheet.Interval, basis Basis) Kit {
	resin := Mixture{Name: "part A", Form: Liquid, Ingredients: []Ingredient{
		{Name: "epoxy resin", CAS: "1675-54-3", Percent: sheet.Between(60, 80), Hazards: ghs.SetOf(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1)},
		{Name: "diluent", Percent: sheet.Between(10, 20), Hazards: ghs.SetOf(ghs.SkinIrrit2, ghs.SkinSens1)},
		{Name: "benzyl alcohol", CAS: "100-51-6", Percent: sheet.Between(1, 5), Hazards: ghs.SetOf(ghs.AcuteTox4Oral, ghs.EyeIrrit2)},
	}}
	hardener := Mixture{Name: "part B", Form: Liquid, Ingredients: []Ingredient{
		{Name: "amine", Percent: sheet.Between(20, 40), Hazards: ghs.SetOf(ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1A, ghs.AcuteTox4Oral)},
		{Name: "Benzyl alcohol (plasticiser)", CAS: "100-51-6", Percent: sheet.Interval{Lo: 30, Hi: 50, HasLo: true, HasHi: true, HiOpen: true}, Hazards: ghs.SetOf(ghs.AcuteTox4Oral, ghs.EyeIrrit2, ghs.SkinSens1B)},
	}}
	return Kit{Name: "laminating kit", Basis: basis, Parts: []Part{
		{Name: "A", Mixture: resin, Amount: amounts[0], DensityGML: sheet.Exactly(1.14), EquivalentGEq: sheet.Exactly(190)},
		{Name: "B", Mixture: hardener, Amount: amounts[1], DensityGML: sheet.Between(1.00, 1.04), EquivalentGEq: sheet.Between(57, 63)},
	}}
}

func TestFractions(t *testing.T) {
	for _, c := range []struct {
		ratio  string
		lo, hi float64 // of part B, percent by mass
	}{
		{"100:25", 20, 20},
		{"100:25-100", 20, 50},
		{"2:1 by volume", 100 * 1.00 / (2*1.14 + 1.00), 100 * 1.04 / (2*1.14 + 1.04)},
		{"1:1 by equivalents", 100 * 57 / (190 + 57.0), 100 * 63 / (190 + 63.0)},
	} {
		kit := boatKit(mustRatio(t, c.ratio))
		f, err := kit.Fractions()
		if err != nil {
			t.Fatal(err)
		}
		if !approx(f[1], c.lo, c.hi) || !approx(f[0], 100-c.hi, 100-c.lo) {
			t.Errorf("%s: %v, want part B %g to %g", c.ratio, f, c.lo, c.hi)
		}
	}
}

// A ratio of 100:30 by mass with EEW 190 and AHEW 57 to 63 brings 0.9 to 1 hydrogen for each epoxide.
func TestBalance(t *testing.T) {
	kit := boatKit(mustRatio(t, "100:30"))
	b, err := kit.Balance()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least hydrogens per epoxide", b.Lo, 30.0/63/(100.0/190), 1e-12)
	near(t, "most hydrogens per epoxide", b.Hi, 1, 1e-12)
	kit = boatKit(mustRatio(t, "1:1 by equivalents"))
	if b, err = kit.Balance(); err != nil || !approx(b, 1, 1) {
		t.Errorf("by equivalents: %v %v", b, err)
	}
}

// The same ingredient in both parts is one ingredient of the mix, its open end kept.
func TestFreshMixMergesIngredients(t *testing.T) {
	kit := boatKit(mustRatio(t, "100:25"))
	m, notes, err := kit.Fresh()
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Ingredients) != 4 {
		t.Fatalf("%d ingredients, want 4", len(m.Ingredients))
	}
	alcohol := m.Ingredients[2]
	if !approx(alcohol.Percent, 0.8*1+0.2*30, 0.8*5+0.2*50) || alcohol.Percent.LoOpen || !alcohol.Percent.HiOpen {
		t.Errorf("benzyl alcohol is %+v, want 6.8 to less than 14", alcohol.Percent)
	}
	if !alcohol.Hazards.Has(ghs.SkinSens1B) || len(notes) != 1 || !strings.Contains(notes[0], "differently") {
		t.Errorf("hazards %v, notes %q: want the class of either part, and a note", alcohol.Hazards.All(), notes)
	}
	if m.Complete || m.Form != Liquid || m.Tested != (Tested{}) {
		t.Errorf("complete %v, form %v, tested %+v", m.Complete, m.Form, m.Tested)
	}
}

func TestKitClassification(t *testing.T) {
	kit := boatKit(mustRatio(t, "100:10"))
	c, err := kit.Classify(ghs.EUCLP)
	if err != nil {
		t.Fatal(err)
	}
	// 100:10 leaves 1.8 to 3.6 % of the corrosive in the mix: below the 5 % of CLP Annex I, Table 3.2.3.
	if c.Mix.Possible.Has(ghs.SkinCorr1B) || !c.Mix.Certain.Has(ghs.SkinIrrit2) {
		t.Errorf("the mix: certain %v, possible %v", c.Mix.Certain.All(), c.Mix.Possible.All())
	}
	if !c.Parts[1].Certain.Has(ghs.SkinCorr1B) {
		t.Errorf("part B: certain %v", c.Parts[1].Certain.All())
	}
	if !c.Rule.Reacts || !c.Rule.Certain.Has(ghs.SkinCorr1B) || c.Rule.Certain.Has(ghs.SkinIrrit2) {
		t.Errorf("until cured: %v, want the corrosive part to rule", c.Rule.Certain.All())
	}
	if !strings.Contains(c.Rule.Text, "reacts") || !strings.Contains(c.Rule.Text, "strictest of the parts and the mix") {
		t.Errorf("rule %q", c.Rule.Text)
	}
	kit.Inert = true
	if c, err = kit.Classify(ghs.EUCLP); err != nil || c.Rule.Reacts || c.Rule.Certain != c.Mix.Certain {
		t.Errorf("an inert kit: %v %+v", err, c)
	}
}

func TestKitErrors(t *testing.T) {
	one := boatKit(mustRatio(t, "100:25"))
	one.Parts = one.Parts[:1]
	noDensity := boatKit(mustRatio(t, "2:1 by volume"))
	noDensity.Parts[1].DensityGML = sheet.Interval{}
	noWeight := boatKit(mustRatio(t, "1:1 by equivalents"))
	noWeight.Parts[0].EquivalentGEq = sheet.Interval{}
	noAmount := boatKit(mustRatio(t, "100:25"))
	noAmount.Parts[0].Amount = below(100)
	for want, kit := range map[string]Kit{"at least two": one, "density of part": noDensity, "equivalent weight of part": noWeight, "amount": noAmount} {
		if _, err := kit.Classify(ghs.EUCLP); !errors.Is(err, ErrKit) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v", want, err)
		}
	}
	broken := boatKit(mustRatio(t, "100:25"))
	broken.Parts[0].Mixture.Ingredients[0].Percent = atLeast(95)
	if _, err := broken.Classify(ghs.EUCLP); !errors.Is(err, ErrImpossibleComposition) || !strings.Contains(err.Error(), `part "A"`) {
		t.Errorf("an impossible part: error %v", err)
	}
}

// Any composition of the parts, mixed at any ratio within the stated one, lies within the ranges of the fresh mix and
// is classified within its envelope; and the ends of the ranges are come near.
func TestFreshMixHoldsEveryMix(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	for range 150 {
		kit := boatKit([]sheet.Interval{sheet.Between(90, 90+20*r.Float64()), sheet.Between(20, 20+30*r.Float64())}, Basis(r.IntN(3)))
		c, err := kit.Classify(RuleSets()[r.IntN(len(RuleSets()))])
		if err != nil {
			t.Fatal(err)
		}
		masses, err := kit.masses()
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			x := randomMix(r, &kit, masses, c.Program)
			if x == nil {
				continue
			}
			for i, v := range x {
				if p := c.Program.Mixture.Ingredients[i].Percent; v < p.Lo-1e-9 || v > p.Hi+1e-9 {
					t.Fatalf("%s is %g %%, outside %+v", c.Program.Mixture.Ingredients[i].Name, v, p)
				}
			}
			at := c.Program.At(x)
			if !at.Hazards.Minus(c.Mix.Possible).Empty() || !c.Mix.Certain.Minus(at.Hazards).Empty() {
				t.Fatalf("at %v it is %v; certain %v, possible %v", x, at.Hazards.All(), c.Mix.Certain.All(), c.Mix.Possible.All())
			}
		}
	}
}

// randomMix mixes random compositions of the parts in random masses.
func randomMix(r *rand.Rand, kit *Kit, masses []sheet.Interval, fresh *Program) []float64 {
	x := make([]float64, len(fresh.Mixture.Ingredients))
	total := 0.0
	for i := range kit.Parts {
		s, err := newSpace(&kit.Parts[i].Mixture)
		if err != nil {
			return nil
		}
		y := randomPoint(r, s, []float64{0})
		if y == nil {
			return nil
		}
		m := masses[i].Lo + r.Float64()*(masses[i].Hi-masses[i].Lo)
		total += m
		for g := range kit.Parts[i].Mixture.Ingredients {
			id := kit.Parts[i].Mixture.Ingredients[g].identity()
			at := slices.IndexFunc(fresh.Mixture.Ingredients, func(in Ingredient) bool { return in.identity() == id })
			x[at] += m * y[g]
		}
	}
	for i := range x {
		x[i] /= total
	}
	return x
}

// The ends of an ingredient's range in the mix are taken by corners of the masses (checked against a fine grid).
func TestMeanIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 11))
	for range 200 {
		n := 2 + r.IntN(2)
		masses, shares := make([]sheet.Interval, n), make([]sheet.Interval, n)
		for i := range n {
			lo, a := 1+10*r.Float64(), 50*r.Float64()
			masses[i], shares[i] = sheet.Between(lo, lo+5*r.Float64()), sheet.Between(a, a+40*r.Float64())
		}
		got := mean(masses, shares)
		least, most := math.Inf(1), math.Inf(-1)
		for grid := range 1 << (2 * n) {
			var m, lo, hi float64
			for i := range n {
				w := masses[i].Lo + float64(grid>>(2*i)&3)/3*(masses[i].Hi-masses[i].Lo)
				m, lo, hi = m+w, lo+w*shares[i].Lo, hi+w*shares[i].Hi
			}
			least, most = min(least, lo/m), max(most, hi/m)
		}
		if math.Abs(got.Lo-least) > 1e-9 || math.Abs(got.Hi-most) > 1e-9 {
			t.Fatalf("%v of %v: got %g to %g, the grid finds %g to %g", masses, shares, got.Lo, got.Hi, least, most)
		}
	}
}
