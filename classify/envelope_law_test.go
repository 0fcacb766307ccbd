package classify

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// sheetRanges are ranges as sheets print them (common practice; the US trade-secret ranges of 29 CFR 1910.1200(i)
// among them).
var sheetRanges = []sheet.Interval{
	sheet.Between(0.1, 1), sheet.Between(0.5, 1.5), sheet.Between(1, 5), sheet.Between(3, 7), sheet.Between(5, 10),
	sheet.Between(7, 13), sheet.Between(10, 30), sheet.Between(15, 40), sheet.Between(30, 60), sheet.Between(45, 70),
	below(0.1), below(1), below(3), below(5), below(10), sheet.Exactly(2.5), sheet.Exactly(12), atLeast(50), moreThan(0.1),
	{Lo: 10, Hi: 25, HasLo: true, HasHi: true, HiOpen: true}, {Lo: 2.5, Hi: 10, HasLo: true, HasHi: true, HiOpen: true},
	{Lo: 0.0015, Hi: 0.06, HasLo: true, HasHi: true, HiOpen: true}, {Lo: 5, Hi: 20, HasLo: true, HasHi: true, LoOpen: true},
	{},
}

// randomMixture draws a mixture of up to most ingredients with hazards, estimates, factors and limits as a sheet may
// state them.
func randomMixture(r *rand.Rand, most int) Mixture {
	m := Mixture{Name: "random", Complete: r.IntN(3) == 0, Form: Liquid, ForPublic: r.IntN(2) == 0}
	for i := range 1 + r.IntN(most) {
		m.Ingredients = append(m.Ingredients, randomIngredient(r, i))
	}
	if r.IntN(3) == 0 {
		v := float64(r.IntN(80)) - 10
		m.Tested.FlashPointC = &v
	}
	if r.IntN(4) == 0 {
		v := float64(r.IntN(15))
		m.Tested.PH = &v
	}
	if r.IntN(4) == 0 {
		v := float64(r.IntN(40))
		m.Tested.Viscosity40MM2S = &v
	}
	return m
}

func randomIngredient(r *rand.Rand, i int) Ingredient {
	in := Ingredient{Name: fmt.Sprintf("I%d", i), Percent: sheetRanges[r.IntN(len(sheetRanges))]}
	hazards := ghs.AllHazards()
	for range r.IntN(5) {
		in.Hazards.Add(hazards[r.IntN(len(hazards))])
	}
	for _, q := range routes {
		switch r.IntN(6) {
		case 0:
			in.ATE[q] = ATE{Status: ATEValue, Value: []float64{5, 50, 100, 300, 500, 1100, 2000, 0.5, 1.5, 11, 20}[r.IntN(11)]}
		case 1:
			in.ATE[q] = ATE{Status: ATEUnknown}
		case 2:
			in.ATE[q] = ATE{Status: ATENotToxic}
		}
	}
	if r.IntN(6) == 0 {
		in.MAcute, in.MChronic = []float64{1, 10, 100}[r.IntN(3)], []float64{1, 10}[r.IntN(2)]
	}
	if all := in.Hazards.All(); len(all) > 0 && r.IntN(4) == 0 {
		in.Limits = append(in.Limits, SpecificLimit{Hazard: all[r.IntN(len(all))], Percent: atLeast([]float64{0.01, 0.5, 1, 5, 20, 25}[r.IntN(6)])})
	}
	return in
}

// specialShares are the shares at which something changes in the program.
func specialShares(e *Envelope) []float64 {
	special := []float64{0, 0.1, 1}
	for _, c := range e.problem.conds {
		for _, t := range c.Terms {
			if v := c.Bound / t.Weight; v > 0 && v <= 100 {
				special = append(special, v)
			}
			special = append(special, t.Cutoff)
		}
	}
	return special
}

// lawAgrees compares random compositions of a mixture, classified one by one, with its envelope, and the witnesses of
// the envelope with their classification. It returns the number of compositions compared.
func lawAgrees(t testing.TB, r *rand.Rand, m Mixture, rs ghs.RuleSet, points int) int {
	p, err := Compile(m, rs)
	if err != nil {
		return 0 // shares that cannot be
	}
	e, err := p.Envelope()
	if errors.Is(err, ErrImpossibleComposition) {
		return 0
	}
	if err != nil {
		t.Fatalf("%s: %v\n%+v", rs, err, m)
	}
	witnessesStandUp(t, p, e)
	special := specialShares(e)
	compared := 0
	for range points {
		x := randomPoint(r, e.problem.s, special)
		if x == nil {
			continue
		}
		compared++
		at := p.At(x[:len(x)-1])
		if extra := at.Hazards.Minus(e.Possible); !extra.Empty() {
			t.Fatalf("%s: at %v it is %v, which the envelope rules out\n%+v", rs, x, extra.All(), m)
		}
		if missing := e.Certain.Minus(at.Hazards); !missing.Empty() {
			t.Fatalf("%s: at %v it is not %v, which the envelope says is certain\n%+v", rs, x, missing.All(), m)
		}
		for _, a := range e.Answers {
			has := holdsAny(p, a, true, x[:len(x)-1])
			if has && a.OrSeverer == RuledOut || !has && a.OrSeverer == Certain {
				t.Fatalf("%s: at %v, %v or severer is %v, but the envelope says %v\n%+v", rs, x, a.Hazard, has, a.OrSeverer, m)
			}
		}
	}
	return compared
}

// witnessesStandUp classifies every witness of the envelope.
func witnessesStandUp(t testing.TB, p *Program, e *Envelope) {
	t.Helper()
	checkWitnesses(t, p, e)
	for _, a := range e.Answers {
		if a.For != nil {
			if c := p.At(a.For.Percent); !c.Hazards.Has(a.Hazard) {
				t.Fatalf("the witness %v for %v does not have it\n%+v", a.For.Percent, a.Hazard, p.Mixture)
			}
		}
		if a.Against != nil {
			if c := p.At(a.Against.Percent); c.Hazards.Has(a.Hazard) {
				t.Fatalf("the witness %v against %v has it\n%+v", a.Against.Percent, a.Hazard, p.Mixture)
			}
		}
		for _, op := range a.Open {
			if !slices.ContainsFunc(a.outcomes, func(o int) bool {
				return slices.ContainsFunc(p.Outcomes[o].Open, func(alt Alternative) bool { return alt.Holds(op.For.Percent) })
			}) {
				t.Fatalf("the witness %v for what would open %v does not fulfil it\n%+v", op.For.Percent, a.Hazard, p.Mixture)
			}
		}
	}
}

// compareLaws draws mixtures until the given number of compositions has been compared.
func compareLaws(t testing.TB, seed uint64, compositions, perMixture int) {
	r := rand.New(rand.NewPCG(seed, 11))
	sets := RuleSets()
	told := 0
	for compared := 0; compared < compositions; {
		compared += lawAgrees(t, r, randomMixture(r, 12), sets[r.IntN(len(sets))], perMixture)
		if compared >= told+50_000 {
			told = compared
			t.Logf("%d compositions compared", told)
		}
	}
}

// Every class a composition gets is among those possible for its mixture, and it gets every certain one: random
// mixtures of up to twelve ingredients under all the rule sets, four random compositions each.
func TestTwentyThousandCompositions(t *testing.T) { compareLaws(t, 1, 20_000, 4) }

// What a composition is classified as can be declared for its mixture; and of random declarations found impossible no
// composition turns up.
func TestProofAgreesWithTheLaw(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 13))
	sets := RuleSets()
	counts := map[ProofStatus]int{}
	for range 400 {
		p, err := Compile(randomMixture(r, 6), sets[r.IntN(len(sets))])
		if err != nil {
			continue
		}
		e, err := p.Envelope()
		if err != nil {
			continue
		}
		x := randomPoint(r, e.problem.s, specialShares(e))
		if x == nil {
			continue
		}
		at := p.At(x[:len(x)-1])
		proof, err := p.Prove(context.Background(), at.Hazards.All(), ProofOptions{})
		if err != nil || proof.Status != Consistent {
			t.Fatalf("at %v it is exactly %v, but: %v %v\n%+v", x, at.Hazards.All(), proof, err, p.Mixture)
		}
		declared := at.Hazards
		if possible := e.Possible.All(); len(possible) > 0 {
			h := possible[r.IntN(len(possible))]
			if declared.Has(h) {
				declared.Remove(h)
			} else {
				declared.Add(h)
			}
		}
		if proof, err = p.Prove(context.Background(), declared.All(), ProofOptions{}); err != nil {
			t.Fatalf("%v\n%+v", err, p.Mixture)
		}
		counts[proof.Status]++
		if proof.Status == Contradicted || proof.Status == NeedsRemainder {
			noneTurnsUp(t, r, p, e, declared, proof)
		}
	}
	if counts[Contradicted] < 20 || counts[Consistent] < 20 {
		t.Errorf("the draws are one-sided: %v", counts)
	}
}

func noneTurnsUp(t *testing.T, r *rand.Rand, p *Program, e *Envelope, declared ghs.HazardSet, proof *Proof) {
	t.Helper()
	for range 20 {
		x := randomPoint(r, e.problem.s, specialShares(e))
		if x != nil && p.At(x[:len(x)-1]).Hazards == declared {
			t.Fatalf("at %v it is exactly %v, but: %s\n%+v", x, declared.All(), proof.Words(&p.Mixture), p.Mixture)
		}
	}
	if len(proof.Clashes) == 0 {
		t.Fatalf("no clash is named\n%+v", p.Mixture)
	}
}

// What the remainder could hide, asked of each class of an undisclosed ingredient one at a time.
func TestRemainderCouldHideAgreesWithProbes(t *testing.T) {
	for _, rs := range RuleSets() {
		p, err := Compile(mix(false, sheet.Between(60, 80)), rs)
		if err != nil {
			t.Fatal(err)
		}
		hidden, err := p.RemainderCouldHide()
		if err != nil {
			t.Fatal(err)
		}
		limits := map[ghs.Hazard]float64{}
		for _, h := range hidden {
			limits[h.Hazard] = h.Limit
			probe := probeOf(t, rs, h.From, h.Limit)
			if at := probe.At([]float64{h.Limit}); !has(probe, h.Hazard, at) {
				t.Errorf("%s: %g %% of %v gives %v, not %v", rs, h.Limit, h.From, at.Hazards.All(), h.Hazard)
			}
		}
		for _, from := range ghs.AllHazards() {
			for _, share := range []float64{0.01, 0.1, 0.25, 1, 3, 5, 10, 20, 40} {
				probe := probeOf(t, rs, from, share)
				at := probe.At([]float64{share})
				for _, h := range at.Hazards.All() {
					if limit, ok := limits[h]; !ok || limit > share {
						t.Errorf("%s: %g %% of %v gives %v, but the limit is said to be %g", rs, share, from, h, limit)
					}
				}
			}
		}
	}
}

func probeOf(t *testing.T, rs ghs.RuleSet, from ghs.Hazard, share float64) *Program {
	t.Helper()
	m := mix(true, sheet.Exactly(share))
	m.Ingredients[0].Hazards = ghs.SetOf(from)
	p, err := Compile(m, rs)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// has tells whether the hazard or a severer one that takes its place is given.
func has(p *Program, h ghs.Hazard, at Classification) bool {
	for o := range p.Outcomes {
		if p.Outcomes[o].Hazard == h {
			return slices.ContainsFunc(p.orSeverer(o), func(u int) bool { return at.Hazards.Has(p.Outcomes[u].Hazard) })
		}
	}
	return false
}
