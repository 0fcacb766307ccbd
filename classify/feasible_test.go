package classify

import (
	"math"
	"math/rand/v2"
	"testing"

	"sixteen/sheet"
)

// everyPiece finds the extreme of a sum by trying both sides of every cut-off, without any bound.
func everyPiece(f *finder, terms []Term, up bool) extreme {
	best := extreme{none: true}
	var walk func(k int)
	walk = func(k int) {
		if k < len(terms) {
			if f.counts(&terms[k], f.variable(&terms[k])) == sometimes {
				f.withPiece(&terms[k], true, func() { walk(k + 1) })
				f.withPiece(&terms[k], false, func() { walk(k + 1) })
				return
			}
			walk(k + 1)
			return
		}
		if !f.s.nonempty() {
			return
		}
		f.load(terms, nil, up)
		e := f.linear(up)
		d := e.value - best.value
		if !up {
			d = -d
		}
		if best.none || d > 1e-9 || d > -1e-9 && e.reached && !best.reached {
			best = e
		}
	}
	walk(0)
	return best
}

// The bounds that spare most cases never cost the extreme, nor the knowledge whether it is reached.
func TestExtremesAgreeWithEveryPiece(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 15))
	reached := [2]int{}
	for range 20000 {
		m := Mixture{Name: "random", Complete: r.IntN(2) == 0}
		step := 1 + 9*r.IntN(2) // coarse draws make ties
		for range 1 + r.IntN(5) {
			m.Ingredients = append(m.Ingredients, Ingredient{Percent: roomyRange(r, step)})
		}
		s, err := newSpace(&m)
		if err != nil {
			continue
		}
		f := newFinder(s)
		var terms []Term
		for i := -1; i < len(m.Ingredients); i++ {
			if r.IntN(4) > 0 {
				terms = append(terms, Term{Ingredient: i, Weight: []float64{1, 1, 1, 0.5, 2, -1}[r.IntN(6)], Cutoff: float64(r.IntN(24/step+1) * step), CutoffOpen: r.IntN(4) == 0})
			}
		}
		for _, up := range []bool{false, true} {
			want := everyPiece(f, terms, up)
			got := f.extreme(terms, nil, up)
			if math.Abs(got.value-want.value) > 1e-9 || got.reached != want.reached {
				t.Fatalf("up %v: got %g (reached %v), every piece gives %g (%v)\n%+v\n%+v", up, got.value, got.reached, want.value, want.reached, *s, terms)
			}
			reached[one(got.reached)]++
		}
	}
	if reached[0] < 500 || reached[1] < 500 {
		t.Errorf("the draws are one-sided: %v", reached)
	}
}

// roomyRange is a range wide enough for the others' ends to matter.
func roomyRange(r *rand.Rand, step int) sheet.Interval {
	lo := r.IntN(20/step) * step
	return sheet.Interval{Lo: float64(lo), Hi: float64(lo + step + r.IntN(60/step)*step), HasLo: true, HasHi: true, LoOpen: r.IntN(3) == 0, HiOpen: r.IntN(3) == 0}
}

// Thirty ingredients with cut-offs inside open ranges take a bounded number of cases, not two to the thirtieth.
func TestManyCutoffsStayCheap(t *testing.T) {
	var ranges []sheet.Interval
	for i := range 30 {
		ranges = append(ranges, below(float64(2+i%9)))
	}
	for _, complete := range []bool{false, true} {
		m := mix(complete, ranges...)
		s, err := newSpace(&m)
		if err != nil {
			t.Fatal(err)
		}
		var terms []Term
		for i := range ranges {
			terms = append(terms, Term{Ingredient: i, Weight: 1 + float64(i%3), Cutoff: 1})
		}
		f := newFinder(s)
		f.extreme(terms, nil, true)
		f.extreme(terms, nil, false)
		if f.nodes > 5000 {
			t.Errorf("complete %v: %d cases", complete, f.nodes)
		}
	}
}
