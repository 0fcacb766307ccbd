package compare_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sixteen/compare"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/substance"
)

// Every hazard of the vocabulary stands on exactly one axis, so that none is left out of a comparison.
func TestEveryHazardHasItsAxis(t *testing.T) {
	for _, h := range ghs.AllHazards() {
		on := 0
		for _, a := range compare.Axes() {
			k := plan.Known{RuleSet: ghs.EUCLP, Declared: ghs.SetOf(h), Classified: true}
			if s := compare.HazardScore(a, k, substance.Embedded()); s.Lo > 0 {
				on++
			}
		}
		if on != 1 {
			t.Errorf("%s stands on %d axes, want 1", h, on)
		}
	}
}

// randomScores draws a product: known figures, ranges and open ends on every axis, from few values so that ties occur.
func randomScores(r *rand.Rand) []compare.Score {
	var out []compare.Score
	for _, a := range compare.Axes() {
		lo := float64(r.IntN(3))
		s := compare.Score{Axis: a, Lo: lo, Hi: lo, Open: r.IntN(12) == 0}
		if r.IntN(4) == 0 {
			s.Hi += float64(r.IntN(2))
		}
		out = append(out, s)
	}
	return out
}

// nudged makes a variant that is likely to dominate or be dominated.
func nudged(r *rand.Rand, s []compare.Score) []compare.Score {
	out := slices.Clone(s)
	for i := range out {
		if r.IntN(3) == 0 {
			out[i].Lo, out[i].Open = out[i].Hi, false
			if r.IntN(2) == 0 {
				out[i].Lo, out[i].Hi = out[i].Lo+1, out[i].Hi+1
			}
		}
	}
	return out
}

// Dominance is a strict partial order: no product dominates itself, never both each other, and it carries over.
func TestDominanceIsAPartialOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 16))
	found, chained := 0, 0
	for range 20000 {
		a := randomScores(r)
		b := nudged(r, a)
		c := nudged(r, b)
		if compare.Dominates(a, a) {
			t.Fatalf("dominates itself: %v", a)
		}
		ab, bc := compare.Dominates(a, b), compare.Dominates(b, c)
		if ab {
			found++
			if compare.Dominates(b, a) {
				t.Fatalf("both dominate: %v %v", a, b)
			}
		}
		if ab && bc {
			chained++
			if !compare.Dominates(a, c) {
				t.Fatalf("does not carry over: %v %v %v", a, b, c)
			}
		}
	}
	if found < 100 || chained < 20 {
		t.Errorf("only %d dominances and %d chains drawn: the test says little", found, chained)
	}
}

// Knowing less about a product on any axis never makes it dominate, and never makes it better on that axis.
func TestAnUnknownNeverWins(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 16))
	lost := 0
	for range 20000 {
		a := randomScores(r)
		b := nudged(r, a)
		i := r.IntN(len(a))
		less := slices.Clone(a)
		less[i] = less[i].Widened()
		if compare.Dominates(less, b) {
			t.Fatalf("dominates with %s unknown: %v over %v", a[i].Axis, less, b)
		}
		if slices.Contains([]compare.Verdict{compare.Better, compare.Same, compare.NotWorse}, compare.Weigh(less[i], b[i])) {
			t.Fatalf("%s unknown and yet better: %v than %v", a[i].Axis, less[i], b[i])
		}
		if compare.Dominates(a, b) {
			lost++
		}
	}
	if lost < 100 {
		t.Errorf("only %d dominances were there to lose", lost)
	}
}

func inline(name, cas string, percent float64, more ...exposure.Ingredient) exposure.Product {
	return exposure.Product{Name: name, Complete: true, PricePerKg: 5, Ingredients: append([]exposure.Ingredient{{Name: name + " solvent", CAS: cas, Percent: exposure.Exactly(percent)}}, more...)}
}

func job(t *testing.T) *exposure.Job {
	t.Helper()
	j, err := exposure.ParseJob([]byte(`
name: Wipe down a bench
jurisdiction: us
products: [{name: wipe, complete: true, ingredients: [{name: acetone, cas: 67-64-1, percent: 100}]}]
rooms: [{name: bay, volume_m3: 80, floor_m2: 30, air_changes_per_hour: [1, 2], near_field: {radius_m: 0.8}}]
tasks: [{name: wipe, kind: clean, room: bay, start_min: 0, duration_min: 15, product: wipe, surface: film, amount_g: 200, area_m2: 1}]
people: [{name: Osei, stays: [{room: bay, near: true, from_min: 0, until_min: 30}]}]
`))
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// Toluene may harm the unborn child and organs (Repr. 2, STOT RE 2: CLP Annex VI, entry of toluene) and acetone does not: the axis says so whichever is named first. With
// the same grams in the same job, toluene is further over its limit (OSHA PEL 200 ppm against 1000 ppm).
func TestTolueneAgainstAcetone(t *testing.T) {
	a, b := inline("toluene wipe", "108-88-3", 100), inline("acetone wipe", "67-64-1", 100)
	for _, products := range [][]exposure.Product{{a, b}, {b, a}} {
		c, err := compare.Make(context.Background(), compare.Request{Products: products, Job: job(t), Rules: ghs.EUCLP}, substance.Embedded())
		if err != nil {
			t.Fatal(err)
		}
		of := map[string]compare.Product{c.Products[0].Name: c.Products[0], c.Products[1].Name: c.Products[1]}
		tol, ace := of["toluene wipe"], of["acetone wipe"]
		for _, axis := range []compare.Axis{compare.Cancer, compare.Organs, compare.Air} {
			if v := compare.Weigh(ace.Score(axis), tol.Score(axis)); v != compare.Better {
				t.Errorf("%s: acetone is %q against toluene (%+v, %+v), want better", axis, v, ace.Score(axis), tol.Score(axis))
			}
		}
		if tol.Cost == nil || *tol.Cost != 1 {
			t.Errorf("200 g at 5 a kilogram cost %v, want 1", tol.Cost)
		}
		if !strings.Contains(strings.Join(c.Headline, " "), "acetone wipe is better on: cancer") {
			t.Errorf("headline %q", c.Headline)
		}
	}
}

// Without a job the axes that need one are open and say so; the other axes still compare.
func TestWithoutAJob(t *testing.T) {
	c, err := compare.Make(context.Background(), compare.Request{Products: []exposure.Product{inline("a", "108-88-3", 100), inline("b", "67-64-1", 100)}}, substance.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Products {
		for _, a := range []compare.Axis{compare.Air, compare.Burden} {
			if s := p.Score(a); !s.Open || !strings.Contains(s.Words, "without a job") {
				t.Errorf("%s %s: %+v", p.Name, a, s)
			}
		}
		if s := p.Score(compare.Papers); !s.Open {
			t.Errorf("%s: papers %+v without a sheet", p.Name, s)
		}
	}
	if len(c.Leading) != 2 {
		t.Errorf("leading %v: with open axes none can dominate", c.Leading)
	}
}

// An ingredient of which nothing is held opens the hazard axes of a recipe and counts on the axis of what is not known.
func TestUnknownIngredient(t *testing.T) {
	known := inline("known", "67-64-1", 100)
	unknown := inline("guess", "67-64-1", 90, exposure.Ingredient{Name: "quay secret", Percent: exposure.Exactly(10)})
	c, err := compare.Make(context.Background(), compare.Request{Products: []exposure.Product{known, unknown}}, substance.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	if s := c.Products[1].Score(compare.Allergy); !s.Open || !strings.Contains(s.Words, "quay secret") {
		t.Errorf("allergy of a recipe with an unknown ingredient: %+v", s)
	}
	if s := c.Products[1].Score(compare.Unknowns); s.Hi != 10 {
		t.Errorf("unknowns %+v, want 10 %%", s)
	}
	if v := compare.Weigh(c.Products[1].Score(compare.Allergy), c.Products[0].Score(compare.Allergy)); v == compare.Better || v == compare.Same {
		t.Errorf("the unknown product is %q on allergy", v)
	}
}

// The three forms hold every product and every axis; a question about the request says what to do.
func TestFormsAndQuestions(t *testing.T) {
	c, err := compare.Make(context.Background(), compare.Request{Products: []exposure.Product{inline("a", "108-88-3", 100), inline("a", "67-64-1", 100)}, Job: job(t)}, substance.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	var text, page, raw bytes.Buffer
	if err := errors.Join(c.WriteText(&text), c.WriteHTML(&page), c.WriteJSON(&raw)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"a (2)", "ALLERGY", "FIRE AND REACTION", "Not dominated"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the text lacks %q", want)
		}
	}
	if n := strings.Count(page.String(), `class="cell"`); n != 2*len(compare.Axes()) {
		t.Errorf("%d cells on the page, want %d", n, 2*len(compare.Axes()))
	}
	var back map[string]any
	if err := json.Unmarshal(raw.Bytes(), &back); err != nil || len(back["products"].([]any)) != 2 {
		t.Errorf("JSON: %v", err)
	}
	for _, q := range []struct {
		req  compare.Request
		want string
	}{
		{compare.Request{Products: []exposure.Product{inline("a", "67-64-1", 100)}}, "at least two"},
		{compare.Request{Products: []exposure.Product{inline("a", "67-64-1", 100), inline("b", "67-64-1", 100)}, Job: job(t), Role: "paint"}, "no task of the job uses"},
		{compare.Request{Products: []exposure.Product{inline("a", "67-64-1", 100), {Name: "b", File: "b.pdf"}}}, plan.ErrNoSource.Error()},
	} {
		if _, err := compare.Make(context.Background(), q.req, substance.Embedded()); err == nil || !strings.Contains(err.Error(), q.want) {
			t.Errorf("error %v, want %q", err, q.want)
		}
	}
}
