package blend

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// The range of an ingredient that comes in by several lines is the same as by trying all corners of the shares that make
// 100 %: of a sum of products the extremes lie there.
func TestSharesOfOneIngredientFromSeveralLinesAreExact(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 16))
	narrower := 0
	for round := range 3000 {
		n := 2 + random.IntN(4)
		shares := make([]sheet.Interval, n)
		var lo, hi float64
		for i := range shares {
			a := float64(random.IntN(40))
			b := a + float64(random.IntN(60))
			shares[i] = sheet.Between(a, min(100, b))
			lo, hi = lo+a, hi+shares[i].Hi
		}
		if lo > 100 || hi < 100 {
			continue
		}
		var comes []incoming
		have := sheet.Between(0, 0)
		for i := range n {
			if random.IntN(3) > 0 {
				a := float64(random.IntN(50))
				b := a + float64(random.IntN(50))
				comes = append(comes, incoming{i, a, b})
				have.Lo, have.Hi = have.Lo+shares[i].Lo*a/100, have.Hi+shares[i].Hi*b/100
			}
		}
		if len(comes) == 0 {
			continue
		}
		least, most := math.Inf(1), math.Inf(-1)
		corners(shares, func(s []float64) {
			var a, b float64
			for _, c := range comes {
				a, b = a+s[c.line]*c.from/100, b+s[c.line]*c.to/100
			}
			least, most = min(least, a), max(most, b)
		})
		got := narrowed(have, shares, comes)
		if math.Abs(got.Lo-least) > 1e-6 || math.Abs(got.Hi-most) > 1e-6 {
			t.Fatalf("round %d: %v of %v with %v, want %v – %v", round, got, shares, comes, least, most)
		}
		if got.Hi < have.Hi-1e-6 {
			narrower++
		}
	}
	if narrower < 100 {
		t.Errorf("only %d ranges were narrower than the plain sum", narrower)
	}
}

// corners hands out the corners of the shares that make 100 %: all but one at an end of their ranges.
func corners(shares []sheet.Interval, f func([]float64)) {
	n := len(shares)
	for free := range n {
		for bits := range 1 << n {
			if bits>>free&1 == 1 {
				continue
			}
			s, left := make([]float64, n), 100.0
			for i, r := range shares {
				if i == free {
					continue
				}
				if s[i] = r.Lo; bits>>i&1 == 1 {
					s[i] = r.Hi
				}
				left -= s[i]
			}
			if s[free] = left; left >= shares[free].Lo-1e-9 && left <= shares[free].Hi+1e-9 {
				f(s)
			}
		}
	}
}

// Over ranges the least change is the least that a grid of upper ends finds, each asked of the envelope: here not all ranges
// can be at their upper ends at once, so that less has to go than the plain sum of the ends says.
func TestCombineOverRangesIsTheLeast(t *testing.T) {
	for _, c := range []struct {
		text, target string
		steps        [2]float64
		want         float64 // 0: only the grid is asked
	}{
		{"product: X\nform: liquid\ningredients: [{name: I, percent: 2 - 12, own: {hazards: Skin Irrit. 2}}, {name: J, percent: 1 - 9, own: {hazards: Skin Irrit. 2}}, {cas: 7732-18-5, percent: 85 - 97}]", "no H315", [2]float64{0.5, 0.5}, 0},
		{"product: X\nform: liquid\ningredients: [{name: I, percent: 0 - 8, own: {hazards: Skin Irrit. 2}}, {name: C, percent: 0 - 4, own: {hazards: Skin Corr. 1B}}, {cas: 7732-18-5, percent: 92 - 99}]", "no H315", [2]float64{0.5, 0.25}, 0},
		{"product: X\nform: liquid\ningredients: [{name: I, percent: 4 - 9, own: {hazards: Eye Irrit. 2}}, {name: J, percent: 3 - 8, own: {hazards: Eye Irrit. 2}}, {cas: 7732-18-5, percent: 86 - 93}]", "no H319", [2]float64{0.5, 0.5}, 0},
		// 10·C + I < 25 (CLP Annex I Table 4.1.2) with I + C ≤ 20, as there is 80 % of water at least: 20 + 9·C < 25.
		{"product: X\nform: liquid\ningredients: [{name: I, percent: 0 - 20, own: {hazards: Aquatic Chronic 2}}, {name: C, percent: 0 - 3, own: {hazards: Aquatic Chronic 1}}, {cas: 7732-18-5, percent: 80 - 99}]", "no H411", [2]float64{1, 0.05}, 3 - 5.0/9},
	} {
		m := mix(t, c.text, ghs.EUCLP)
		target, err := ParseTarget(c.target, ghs.EUCLP)
		if err != nil {
			t.Fatal(err)
		}
		if met, _ := m.Met(target); met {
			t.Errorf("%s: met without a change", c.text)
			continue
		}
		got, err := m.Combine(target)
		if err != nil {
			t.Fatalf("%s: %v", c.text, err)
		}
		k := &combiner{m: m, t: target}
		_, a := m.Mixture.Ingredients[0].Bounds()
		_, b := m.Mixture.Ingredients[1].Bounds()
		_, w := m.Mixture.Ingredients[2].Bounds()
		least := math.Inf(1)
		for u := 0.0; u <= a; u += c.steps[0] {
			for v := 0.0; v <= b; v += c.steps[1] {
				if moved := a - u + b - v; moved < least {
					k.x = []float64{u, v, w}
					if k.confirm() == nil {
						least = moved
					}
				}
			}
		}
		if got.Moved > least+1e-6 || got.Moved < least-c.steps[0]-c.steps[1]-0.05 || c.want > 0 && math.Abs(got.Moved-c.want) > 0.01 {
			t.Errorf("%s: %v moved (%v), the grid finds %v, by hand %v", c.text, got.Moved, got.Words, least, c.want)
		}
	}
}

// What takes the place of a sensitiser is water rather than another hazardous ingredient, and what a change brings is said.
func TestCombineSaysWhatItBrings(t *testing.T) {
	const text = "product: X\nform: liquid\ningredients: [{name: S, percent: 20, own: {hazards: Skin Sens. 1A}}, {name: C, percent: 0.5, own: {hazards: Skin Corr. 1B}}, {cas: 7732-18-5, percent: 79.5}]"
	m := mix(t, text, ghs.EUCLP)
	target, _ := ParseTarget("no H317", ghs.EUCLP)
	got, err := m.Combine(target)
	if err != nil {
		t.Fatal(err)
	}
	if got.Percent[1] != 0.5 || got.Percent[2] < 99 || len(got.Brings) != 0 || !slices.Contains(got.Takes, ghs.SkinSens1A) {
		t.Errorf("%+v", got)
	}
	got, err = m.Combine(target, "C")
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(got.Brings, ghs.SkinCorr1B) {
		t.Errorf("20 %% of a corrosive in place of the sensitiser: %+v", got)
	}
	if w := towards(0.000999, 35); w != "0.000999" {
		t.Errorf("just below a limit of 0.001 %% is printed as %s", w)
	}
}
