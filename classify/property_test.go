package classify_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// healthClasses are hazards that random ingredients may have.
func randomHazards() []ghs.Hazard {
	var hs []ghs.Hazard
	for _, h := range ghs.AllHazards() {
		if g := h.Class().Group(); g == ghs.HealthGroup || g == ghs.EnvironmentGroup {
			hs = append(hs, h)
		}
	}
	return hs
}

// drawMixture draws a complete mixture of three to eight ingredients whose shares add up to 100.
func drawMixture(t *rapid.T, hazards []ghs.Hazard) classify.Mixture {
	n := rapid.IntRange(3, 8).Draw(t, "ingredients")
	m := classify.Mixture{Complete: true}
	left := 100.0
	for i := range n {
		share := left
		if i < n-1 {
			share = left * rapid.Float64Range(0.01, 0.9).Draw(t, "share")
		}
		left -= share
		in := classify.Ingredient{Name: string(rune('A' + i)), Percent: sheet.Exactly(share)}
		for range rapid.IntRange(0, 4).Draw(t, "hazards") {
			in.Hazards.Add(rapid.SampledFrom(hazards).Draw(t, "hazard"))
		}
		for _, q := range []ghs.Qualifier{ghs.Oral, ghs.Dermal} {
			switch rapid.IntRange(0, 4).Draw(t, "ate") {
			case 0:
				in.ATE[q] = classify.ATE{Status: classify.ATEValue, Value: rapid.Float64Range(1, 6000).Draw(t, "dose")}
			case 1:
				in.ATE[q] = classify.ATE{Status: classify.ATEUnknown}
			case 2:
				in.ATE[q] = classify.ATE{Status: classify.ATENotToxic}
			}
		}
		m.Ingredients = append(m.Ingredients, in)
	}
	return m
}

func hazardsOf(t *rapid.T, m classify.Mixture, rs ghs.RuleSet) ghs.HazardSet {
	c, err := classify.Classify(m, rs)
	if err != nil {
		t.Fatal(err)
	}
	return c.Hazards
}

// The order in which ingredients are listed does not matter.
func TestOrderOfIngredientsDoesNotMatter(t *testing.T) {
	hazards := randomHazards()
	rapid.Check(t, func(t *rapid.T) {
		m := drawMixture(t, hazards)
		rs := rapid.SampledFrom(classify.RuleSets()).Draw(t, "rule set")
		want := hazardsOf(t, m, rs)
		m.Ingredients = slices.Clone(m.Ingredients)
		rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed"))).Shuffle(len(m.Ingredients), func(i, j int) {
			m.Ingredients[i], m.Ingredients[j] = m.Ingredients[j], m.Ingredients[i]
		})
		if got := hazardsOf(t, m, rs); got != want {
			t.Fatalf("%s: %s in one order, %s in another", rs, want, got)
		}
	})
}

// additiveClasses are the classes in which shares add up.
var additiveClasses = []ghs.Class{ghs.AcuteToxicity, ghs.SkinCorrosion, ghs.EyeDamage, ghs.AquaticAcute, ghs.AquaticChronic, ghs.AspirationHazard}

// Where shares add up, an ingredient listed in two halves is the same as listed once, as long as the halves stay
// relevant (at or above the greatest cut-off, 1 %).
func TestSplittingAnIngredientDoesNotMatter(t *testing.T) {
	hazards := randomHazards()
	rapid.Check(t, func(t *rapid.T) {
		m := drawMixture(t, hazards)
		rs := rapid.SampledFrom(classify.RuleSets()).Draw(t, "rule set")
		v := 10.0
		m.Tested.Viscosity40MM2S = &v
		i := rapid.IntRange(0, len(m.Ingredients)-1).Draw(t, "which")
		share, _ := m.Ingredients[i].Percent.Single()
		if share < 2 {
			t.Skip("the halves would fall below the cut-off")
		}
		want := hazardsOf(t, m, rs)
		half := m.Ingredients[i]
		half.Percent = sheet.Exactly(share / 2)
		m.Ingredients = append(slices.Clone(m.Ingredients), half)
		m.Ingredients[i] = half
		got := hazardsOf(t, m, rs)
		for _, h := range want.Union(got).All() {
			if slices.Contains(additiveClasses, h.Class()) && want.Has(h) != got.Has(h) {
				t.Fatalf("%s: %s whole, %s in halves", rs, want, got)
			}
		}
	})
}

// severest is the rank of the severest hazard of a class and route in a set: lower is severer, 99 none.
func severest(set ghs.HazardSet, class ghs.Class, q ghs.Qualifier) int {
	rank := 99
	for _, h := range set.All() {
		if h.Class() == class && h.Qualifier() == q {
			n := 0
			for _, o := range ghs.AllHazards() {
				if o.Class() == class && o.Severer(h) {
					n++
				}
			}
			rank = min(rank, n)
		}
	}
	return rank
}

// More of a hazardous ingredient in place of an inert one never makes a class milder, where the law is monotone: all
// health and environmental classes whose sums only grow. (Subcategories of skin corrosion are not: a category 1
// ingredient without a subcategory takes the subcategory away. Acute toxicity is when nothing is unknown.)
func TestMoreHazardIsNeverMilder(t *testing.T) {
	hazards := slices.DeleteFunc(randomHazards(), func(h ghs.Hazard) bool { return h == ghs.SkinCorr1 })
	rapid.Check(t, func(t *rapid.T) {
		m := drawMixture(t, hazards)
		for i := range m.Ingredients {
			for q := range m.Ingredients[i].ATE {
				if m.Ingredients[i].ATE[q].Status == classify.ATEUnknown {
					m.Ingredients[i].ATE[q].Status = classify.ATENotToxic
				}
			}
		}
		last := len(m.Ingredients) - 1
		m.Ingredients[last].Hazards, m.Ingredients[last].ATE = ghs.HazardSet{}, [8]classify.ATE{}
		rs := rapid.SampledFrom(classify.RuleSets()).Draw(t, "rule set")
		p, err := classify.Compile(m, rs)
		if err != nil {
			t.Fatal(err)
		}
		x, _ := m.Point()
		before := p.At(x)
		i := rapid.IntRange(0, last-1).Draw(t, "which")
		more := x[last] * rapid.Float64Range(0, 1).Draw(t, "part")
		x[i], x[last] = x[i]+more, x[last]-more
		after := p.At(x)
		for _, h := range before.Hazards.All() {
			if severest(after.Hazards, h.Class(), h.Qualifier()) > severest(before.Hazards, h.Class(), h.Qualifier()) && rs != ghs.CAHPR {
				t.Fatalf("%s: %s becomes %s with %v %% more of ingredient %d", rs, before.Hazards, after.Hazards, more, i)
			}
		}
	})
}

// The distance that is told is exact: just on this side the class is as it was, just beyond it is what was told.
func TestDistancesAreExact(t *testing.T) {
	hazards := randomHazards()
	rapid.Check(t, func(t *rapid.T) {
		m := drawMixture(t, hazards)
		m.Complete = false
		rs := rapid.SampledFrom(classify.RuleSets()).Draw(t, "rule set")
		p, err := classify.Compile(m, rs)
		if err != nil {
			t.Fatal(err)
		}
		x, _ := m.Point()
		for _, d := range p.Distances(x) {
			if !changesTo(p, x, d) {
				t.Fatalf("%s: not %v beyond %v of ingredient %d", rs, d.To, d.Percent, d.Ingredient)
			}
			y := slices.Clone(x)
			back := 1e-3 * max(1, d.Percent) // an ingredient of little weight turns the tolerance of sums into more of its own share
			if back >= math.Abs(d.Change) {
				continue // nearer than the tolerance of comparisons
			}
			y[d.Ingredient] = d.Percent - math.Copysign(back, d.Change)
			if got := categoryOf(p, y, d); got != d.From {
				t.Fatalf("%s: before %v of ingredient %d: already %v, told %v; %+v at %v", rs, d.Percent, d.Ingredient, got, d.From, d, x)
			}
		}
	})
}

// changesTo tells whether the class is what was told at the threshold, or as close beyond it as the tolerance of
// comparisons lets one look: another threshold may lie near.
func changesTo(p *classify.Program, x []float64, d classify.Distance) bool {
	y := slices.Clone(x)
	sign := 1.0
	if !d.More {
		sign = -1
	}
	for _, step := range []float64{0, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 3e-8, 1e-8, 3e-9} {
		if d.AtOnce != (step == 0) {
			continue
		}
		y[d.Ingredient] = d.Percent + sign*step*max(1, d.Percent)
		if categoryOf(p, y, d) == d.To {
			return true
		}
	}
	return false
}

func categoryOf(p *classify.Program, x []float64, d classify.Distance) ghs.Hazard {
	c := p.At(x)
	for _, h := range c.Hazards.All() {
		if h.Class() == d.Class && (h.Qualifier() == d.Qualifier || d.Qualifier == ghs.NoQualifier && h.Class() != ghs.STOTSingleExposure) {
			return h
		}
	}
	return ghs.NoHazard
}
