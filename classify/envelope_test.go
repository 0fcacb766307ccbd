package classify

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Hazards of the hand-made programs below; only their being different matters.
const (
	hazardA ghs.Hazard = iota + 1
	hazardB
	hazardC
)

func below(hi float64) sheet.Interval {
	return sheet.Interval{Hi: hi, HasHi: true, HiOpen: true}
}

func atLeast(lo float64) sheet.Interval { return sheet.Interval{Lo: lo, HasLo: true} }

func moreThan(lo float64) sheet.Interval { return sheet.Interval{Lo: lo, HasLo: true, LoOpen: true} }

// mix is a mixture of ingredients "A", "B", … with the given ranges.
func mix(complete bool, ranges ...sheet.Interval) Mixture {
	m := Mixture{Name: "test mix", Complete: complete}
	for i, r := range ranges {
		m.Ingredients = append(m.Ingredients, Ingredient{Name: string(rune('A' + i)), Percent: r})
	}
	return m
}

// sum is the condition Σ weights·x cmp bound; a weight of 0 leaves the ingredient out.
func sum(cmp Compare, bound float64, weights ...float64) Condition {
	c := Condition{Cmp: cmp, Bound: bound, What: "sum", Unit: "%"}
	for i, w := range weights {
		if w != 0 {
			c.Terms = append(c.Terms, Term{Ingredient: i, Weight: w})
		}
	}
	return c
}

func when(conds ...Condition) Alternative {
	return Alternative{AllOf: conds, Rule: "test", Clause: "none"}
}

func verdictOf(t *testing.T, m Mixture, alternatives ...Alternative) Answer {
	t.Helper()
	p := &Program{Mixture: m, Outcomes: []Outcome{{Hazard: hazardA, AnyOf: alternatives}}}
	e, err := p.Envelope()
	if err != nil {
		t.Fatal(err)
	}
	checkWitnesses(t, p, e)
	return e.Of(hazardA)
}

// checkWitnesses evaluates every witness with the comparison that classifies a composition.
func checkWitnesses(t testing.TB, p *Program, e *Envelope) {
	t.Helper()
	for _, a := range e.Answers {
		for _, w := range []struct {
			c        *Composition
			verdict  Verdict
			absent   Verdict
			severer  bool
			expected bool
		}{
			{a.For, a.Verdict, RuledOut, false, true}, {a.Against, a.Verdict, Certain, false, false},
			{a.OrSevererFor, a.OrSeverer, RuledOut, true, true}, {a.OrSevererAgainst, a.OrSeverer, Certain, true, false},
		} {
			if (w.c == nil) != (w.verdict == w.absent) {
				t.Fatalf("hazard %d: verdict %v (or severer %v), witness present: %v", a.Hazard, w.verdict, w.severer, w.c != nil)
			}
			if w.c == nil {
				continue
			}
			s, _ := newSpace(&p.Mixture)
			if !s.has(append(slices.Clone(w.c.Percent), w.c.Remainder)) {
				t.Fatalf("hazard %d: witness %v lies outside the ranges", a.Hazard, *w.c)
			}
			if got := holdsAny(p, a, w.severer, w.c.Percent); got != w.expected {
				t.Fatalf("hazard %d (or severer %v): witness %v gives %v, want %v", a.Hazard, w.severer, *w.c, got, w.expected)
			}
		}
	}
}

func holdsAny(p *Program, a Answer, severer bool, x []float64) bool {
	for _, o := range a.outcomes {
		if p.outcomeHolds(o, x) {
			return true
		}
		if severer && slices.ContainsFunc(p.orSeverer(o), func(u int) bool { return p.Outcomes[u].firing(x) >= 0 }) {
			return true
		}
	}
	return false
}

func TestVerdictsOnOneSum(t *testing.T) {
	five := when(sum(AtLeast, 5, 1))
	for _, c := range []struct {
		name string
		m    Mixture
		alt  Alternative
		want Verdict
	}{
		{"1 – 3 % never reaches 5 %", mix(false, sheet.Between(1, 3)), five, RuledOut},
		{"1 – 5 % may reach 5 %", mix(false, sheet.Between(1, 5)), five, Possible},
		{"less than 5 % never reaches 5 %", mix(false, below(5)), five, RuledOut},
		{"less than 5.001 % may reach 5 %", mix(false, below(5.001)), five, Possible},
		{"less than 5 % may exceed 4.999 %", mix(false, below(5)), when(sum(MoreThan, 4.999, 1)), Possible},
		{"5 % and more is certain at 5 %", mix(false, atLeast(5)), five, Certain},
		{"5 % and more is not certain to exceed 5 %", mix(false, atLeast(5)), when(sum(MoreThan, 5, 1)), Possible},
		{"more than 5 % is certain to exceed 5 %", mix(false, moreThan(5)), when(sum(MoreThan, 5, 1)), Certain},
		{"two shares below 2.5 % never sum to 5 %", mix(false, below(2.5), below(2.5)), when(sum(AtLeast, 5, 1, 1)), RuledOut},
		{"below 2.5 % and up to 2.5 % never sum to 5 %", mix(false, below(2.5), sheet.Between(0, 2.5)), when(sum(AtLeast, 5, 1, 1)), RuledOut},
		{"the others leave no room", mix(false, sheet.Between(1, 10), sheet.Between(96, 98)), five, RuledOut},
		{"the others leave just enough room", mix(false, sheet.Between(1, 10), sheet.Between(95, 98)), five, Possible},
		{"the others leave less than enough room", mix(false, sheet.Between(1, 10), moreThan(95)), five, RuledOut},
		{"as the whole, the others force it", mix(true, sheet.Between(1, 10), sheet.Between(90, 95)), five, Certain},
		{"as the whole, the others barely do not", mix(true, sheet.Between(1, 10), sheet.Between(90, 95.1)), five, Possible},
		{"three tenths are three tenths", mix(false, sheet.Exactly(0.1), sheet.Exactly(0.2)), when(sum(AtLeast, 0.3, 1, 1)), Certain},
		{"three tenths are not more than three tenths", mix(false, sheet.Exactly(0.1), sheet.Exactly(0.2)), when(sum(MoreThan, 0.3, 1, 1)), RuledOut},
	} {
		if got := verdictOf(t, c.m, c.alt).Verdict; got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// A cut-off makes the sum jump: an ingredient below it does not count at all.
func TestCutoffsJump(t *testing.T) {
	cut := func(cutoff float64, weights ...float64) Alternative {
		c := sum(AtLeast, 5, weights...)
		for i := range c.Terms {
			c.Terms[i].Cutoff = cutoff
		}
		return when(c)
	}
	for _, c := range []struct {
		name string
		m    Mixture
		alt  Alternative
		want Verdict
	}{
		{"six ingredients below 1 % do not count", mix(false, below(1), below(1), below(1), below(1), below(1), below(1)), cut(1, 1, 1, 1, 1, 1, 1), RuledOut},
		{"six ingredients up to 1 % may count", mix(false, sheet.Between(0, 1), sheet.Between(0, 1), sheet.Between(0, 1), sheet.Between(0, 1), sheet.Between(0, 1), sheet.Between(0, 1)), cut(1, 1, 1, 1, 1, 1, 1), Possible},
		{"the whole in shares that always count", mix(true, sheet.Between(1, 3), sheet.Between(2.5, 4), sheet.Between(94, 97)), cut(1, 1, 1, 0), Possible},
		{"the smaller share may fall below the cut-off", mix(false, sheet.Between(0.5, 3), sheet.Between(4.5, 5)), cut(1, 1, 1), Possible},
	} {
		if got := verdictOf(t, c.m, c.alt).Verdict; got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// Two conditions that can each hold need not be able to hold together.
func TestConditionsTogether(t *testing.T) {
	half := mix(true, sheet.Between(0, 100), sheet.Between(0, 100))
	for _, c := range []struct {
		name string
		m    Mixture
		alts []Alternative
		want Verdict
	}{
		{"60 % of each does not fit", half, []Alternative{when(sum(AtLeast, 60, 1), sum(AtLeast, 60, 0, 1))}, RuledOut},
		{"50 % of each fits exactly", half, []Alternative{when(sum(AtLeast, 50, 1), sum(AtLeast, 50, 0, 1))}, Possible},
		{"more than 50 % of each does not fit", half, []Alternative{when(sum(MoreThan, 50, 1), sum(AtLeast, 50, 0, 1))}, RuledOut},
		{"one of two is always at least half", half, []Alternative{when(sum(AtLeast, 50, 1)), when(sum(AtLeast, 50, 0, 1))}, Certain},
		{"neither need be more than half", half, []Alternative{when(sum(MoreThan, 50, 1)), when(sum(MoreThan, 50, 0, 1))}, Possible},
		{"with a remainder neither need be half", mix(false, sheet.Between(0, 100), sheet.Between(0, 100)), []Alternative{when(sum(AtLeast, 50, 1)), when(sum(AtLeast, 50, 0, 1))}, Possible},
	} {
		if got := verdictOf(t, c.m, c.alts...).Verdict; got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// "Some sub-category is certain, which one is possible."
func TestSubcategories(t *testing.T) {
	p := &Program{
		Mixture: mix(false, sheet.Between(0, 10), sheet.Between(5, 10)),
		Outcomes: []Outcome{
			{Hazard: hazardA, AnyOf: []Alternative{when(sum(AtLeast, 5, 1))}},
			{Hazard: hazardB, AnyOf: []Alternative{when(sum(AtLeast, 5, 1, 1))}, Unless: []int{0}},
			{Hazard: hazardC, AnyOf: []Alternative{when(sum(AtLeast, 1, 1, 1))}, Unless: []int{0, 1}},
		},
	}
	e, err := p.Envelope()
	if err != nil {
		t.Fatal(err)
	}
	checkWitnesses(t, p, e)
	if a := e.Of(hazardA); a.Verdict != Possible {
		t.Errorf("the severest: %v, want possible", a.Verdict)
	}
	if b := e.Of(hazardB); b.Verdict != Possible || b.OrSeverer != Certain {
		t.Errorf("the next: %v (or severer %v), want possible (certain)", b.Verdict, b.OrSeverer)
	}
	if c := e.Of(hazardC); c.Verdict != RuledOut || c.OrSeverer != Certain {
		t.Errorf("the mildest: %v (or severer %v), want ruled out (certain)", c.Verdict, c.OrSeverer)
	}
}

func TestImpossibleCompositions(t *testing.T) {
	for _, c := range []struct {
		name, words string
		m           Mixture
	}{
		{"too much", "40 + 35 + 30 = 105 %", mix(false, atLeast(40), atLeast(35), atLeast(30))},
		{"too little for the whole", "40 + 35 = 75 %", mix(true, sheet.Between(0, 40), sheet.Between(0, 35))},
		{"lowest shares fill the whole but one is more", "60 + 40", mix(false, atLeast(60), moreThan(40))},
		{"highest shares just fill the whole but one is less", "60 + 40", mix(true, below(60), sheet.Between(0, 40))},
		{"ends swapped", "empty", mix(false, sheet.Between(30, 10))},
	} {
		p := &Program{Mixture: c.m}
		_, err := p.Envelope()
		if !errors.Is(err, ErrImpossibleComposition) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: error %v, want an impossible composition that says %q", c.name, err, c.words)
		}
	}
	for _, m := range []Mixture{
		mix(false, atLeast(60), atLeast(40)), mix(true, sheet.Between(0, 60), sheet.Between(0, 40)), mix(true, sheet.Exactly(33.3), sheet.Exactly(66.7)),
	} {
		if _, err := (&Program{Mixture: m}).Envelope(); err != nil {
			t.Errorf("%v: %v", m.Ingredients, err)
		}
	}
}

// randomProgram draws a mixture and a program whose limits lie in the reach of its ranges, ends and limits often equal.
func randomProgram(r *rand.Rand, ingredients, outcomes int) *Program {
	p := &Program{Mixture: Mixture{Name: "random", Complete: r.IntN(3) == 0}}
	for i := range ingredients {
		p.Mixture.Ingredients = append(p.Mixture.Ingredients, Ingredient{Name: fmt.Sprintf("I%d", i), Percent: randomRange(r, ingredients)})
	}
	for o := range outcomes {
		out := Outcome{Hazard: ghs.Hazard(o + 1)}
		for range 1 + r.IntN(3) {
			var alt Alternative
			for range 1 + r.IntN(2) {
				alt.AllOf = append(alt.AllOf, randomCondition(r, ingredients))
			}
			out.AnyOf = append(out.AnyOf, alt)
		}
		if o > 0 && r.IntN(2) == 0 {
			out.Unless = append(out.Unless, r.IntN(o))
			if u := p.Outcomes[out.Unless[0]].Unless; r.IntN(2) == 0 {
				out.Unless = append(out.Unless, u...)
			}
		}
		p.Outcomes = append(p.Outcomes, out)
	}
	return p
}

func randomRange(r *rand.Rand, ingredients int) sheet.Interval {
	top := 200 / ingredients
	lo := r.IntN(top)
	hi := lo + r.IntN(top)
	v := sheet.Interval{Lo: float64(lo) / 2, Hi: float64(min(hi, 200)) / 2, HasLo: r.IntN(4) > 0, HasHi: r.IntN(8) > 0}
	if hi > lo {
		v.LoOpen, v.HiOpen = v.HasLo && r.IntN(3) == 0, v.HasHi && r.IntN(3) == 0
	}
	return v
}

func randomCondition(r *rand.Rand, ingredients int) Condition {
	c := Condition{Cmp: Compare(r.IntN(4)), What: "sum", Unit: "%", Bound: float64(r.IntN(80)) / 2}
	if r.IntN(3) > 0 {
		c.Cmp = AtLeast
	}
	weights := []float64{1, 1, 1, 1, 10, 0.5, 1.0 / 300, -1}
	for i := range ingredients {
		if r.IntN(3) > 0 {
			continue
		}
		w := weights[r.IntN(len(weights))]
		t := Term{Ingredient: i, Weight: w}
		if r.IntN(3) == 0 {
			t.Cutoff, t.CutoffOpen = float64(r.IntN(20))/2, r.IntN(4) == 0
		}
		c.Terms = append(c.Terms, t)
	}
	if r.IntN(10) == 0 {
		c.Terms = append(c.Terms, Term{Ingredient: -1, Weight: 1})
	}
	return c
}

// randomPoint draws a composition of the space: shares filled in random order to a random height or to one of the
// values where something changes, then mended to sum to 100. It returns nil when that fails.
func randomPoint(r *rand.Rand, s *space, special []float64) []float64 {
	n := len(s.lo)
	x := make([]float64, n)
	for attempt := 0; attempt < 8; attempt++ {
		left := whole
		lo, hi := 0.0, 0.0
		for i := range s.lo {
			lo += s.lo[i]
			hi += s.hi[i]
		}
		for _, i := range r.Perm(n) {
			lo -= s.lo[i]
			hi -= s.hi[i]
			from, to := max(s.lo[i], left-hi), min(s.hi[i], left-lo)
			switch v := special[r.IntN(len(special))]; {
			case r.IntN(4) == 0 && v >= from && v <= to:
				x[i] = v
			case r.IntN(4) == 0:
				x[i] = from
			case r.IntN(4) == 0:
				x[i] = to
			default:
				x[i] = from + r.Float64()*(to-from)
			}
			left -= x[i]
		}
		if s.has(x) && clearOfOpenEnds(s, x) {
			return x
		}
	}
	return nil
}

// clearOfOpenEnds leaves out points nearer to an open end than the tolerance of comparisons: they stand for the end.
func clearOfOpenEnds(s *space, x []float64) bool {
	for i, v := range x {
		if s.loOpen[i] && v < s.lo[i]+1e-6 || s.hiOpen[i] && v > s.hi[i]-1e-6 {
			return false
		}
	}
	return true
}

// agree checks that random compositions of p never contradict its envelope; it returns how many were compared.
func agree(t testing.TB, r *rand.Rand, p *Program, points int) int {
	e, err := p.Envelope()
	if errors.Is(err, ErrImpossibleComposition) {
		return 0
	}
	if err != nil {
		t.Fatalf("%v\n%+v", err, *p)
	}
	checkWitnesses(t, p, e)
	special := []float64{0}
	for _, c := range e.problem.conds {
		special = append(special, c.Bound)
		for _, term := range c.Terms {
			special = append(special, term.Cutoff, c.Bound/term.Weight)
		}
	}
	special = slices.DeleteFunc(special, func(v float64) bool { return math.IsNaN(v) || v < 0 || v > 100 })
	compared := 0
	for range points {
		x := randomPoint(r, e.problem.s, special)
		if x == nil {
			continue
		}
		compared++
		for _, a := range e.Answers {
			has := holdsAny(p, a, false, x[:len(x)-1])
			orSeverer := holdsAny(p, a, true, x[:len(x)-1])
			if has && a.Verdict == RuledOut || !has && a.Verdict == Certain ||
				orSeverer && a.OrSeverer == RuledOut || !orSeverer && a.OrSeverer == Certain {
				t.Fatalf("hazard %d is %v (or severer %v), but at %v it is %v (%v)\n%+v",
					a.Hazard, a.Verdict, a.OrSeverer, x, has, orSeverer, *p)
			}
		}
	}
	return compared
}

// No composition within the ranges contradicts the envelope, on hand-made rules far odder than the law's.
func TestEnvelopeAgreesWithPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	compared := 0
	for range 3000 {
		compared += agree(t, r, randomProgram(r, 1+r.IntN(5), 1+r.IntN(4)), 20)
	}
	if compared < 20000 {
		t.Errorf("only %d compositions were compared", compared)
	}
}

func TestEnvelopeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		r := rand.New(rand.NewPCG(seed, 7))
		p := randomProgram(r, 1+r.IntN(5), 1+r.IntN(3))
		e, err := p.Envelope()
		if err != nil {
			return
		}
		permutation(t, r, p, e)
		narrowing(t, r, p, e)
		scaling(t, p, e)
	})
}

// permutation: the order in which ingredients are listed does not matter.
func permutation(t *rapid.T, r *rand.Rand, p *Program, e *Envelope) {
	perm := r.Perm(len(p.Mixture.Ingredients))
	q := *p
	q.Mixture.Ingredients = make([]Ingredient, len(perm))
	for i, k := range perm {
		q.Mixture.Ingredients[k] = p.Mixture.Ingredients[i]
	}
	q.Outcomes = mapConditions(p.Outcomes, func(c *Condition) {
		for i := range c.Terms {
			if k := c.Terms[i].Ingredient; k >= 0 {
				c.Terms[i].Ingredient = perm[k]
			}
		}
	})
	sameVerdicts(t, "permuted", e, &q)
}

// scaling: a sum and its bound may be given in any unit.
func scaling(t *rapid.T, p *Program, e *Envelope) {
	q := *p
	q.Outcomes = mapConditions(p.Outcomes, func(c *Condition) {
		c.Bound *= 1024
		for i := range c.Terms {
			c.Terms[i].Weight *= 1024
		}
	})
	sameVerdicts(t, "scaled", e, &q)
}

func sameVerdicts(t *rapid.T, how string, e *Envelope, q *Program) {
	f, err := q.Envelope()
	if err != nil {
		t.Fatalf("%s: %v", how, err)
	}
	for i := range e.Answers {
		if a, b := e.Answers[i], f.Answers[i]; a.Verdict != b.Verdict || a.OrSeverer != b.OrSeverer {
			t.Fatalf("%s: hazard %d was %v (%v), is %v (%v)", how, a.Hazard, a.Verdict, a.OrSeverer, b.Verdict, b.OrSeverer)
		}
	}
}

// narrowing: a narrower range never makes a hazard more open: what was ruled out or certain stays so.
func narrowing(t *rapid.T, r *rand.Rand, p *Program, e *Envelope) {
	q := *p
	q.Mixture.Ingredients = slices.Clone(p.Mixture.Ingredients)
	i := r.IntN(len(q.Mixture.Ingredients))
	x := e.problem.s.centre(make([]float64, len(e.problem.s.lo)))
	q.Mixture.Ingredients[i].Percent = sheet.Exactly(x[i])
	f, err := q.Envelope()
	if err != nil {
		return // the middle of a range is not always attainable exactly
	}
	for k := range e.Answers {
		if a, b := e.Answers[k].Verdict, f.Answers[k].Verdict; a != Possible && a != b {
			t.Fatalf("narrowed: hazard %d was %v, is %v", e.Answers[k].Hazard, a, b)
		}
	}
}

func mapConditions(outcomes []Outcome, change func(*Condition)) []Outcome {
	out := slices.Clone(outcomes)
	for o := range out {
		out[o].AnyOf = slices.Clone(out[o].AnyOf)
		for a := range out[o].AnyOf {
			alt := &out[o].AnyOf[a]
			alt.AllOf = slices.Clone(alt.AllOf)
			for c := range alt.AllOf {
				alt.AllOf[c].Terms = slices.Clone(alt.AllOf[c].Terms)
				change(&alt.AllOf[c])
			}
		}
	}
	return out
}
