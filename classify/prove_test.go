package classify

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// because gives each term of the condition the same reason.
func because(c Condition, reason string) Condition {
	for i := range c.Terms {
		c.Terms[i].Because = reason
	}
	return c
}

// skinProgram follows the additive skin rules (29 CFR 1910.1200 App. A, Table A.2.3): 5 % of corrosives are corrosive,
// 1 % of them or ten times corrosives plus irritants at 10 % irritate. Ingredient A is corrosive, B irritant.
func skinProgram(m Mixture) *Program {
	corrosive, irritant := "is Skin Corr. 1B", "is Skin Irrit. 2"
	both := sum(AtLeast, 10, 10, 1)
	both.Terms[0].Because, both.Terms[1].Because = corrosive, irritant
	return &Program{Mixture: m, Outcomes: []Outcome{
		{Hazard: ghs.SkinCorr1B, AnyOf: []Alternative{when(because(sum(AtLeast, 5, 1), corrosive))}},
		{Hazard: ghs.SkinIrrit2, Unless: []int{0}, AnyOf: []Alternative{
			when(because(sum(AtLeast, 1, 1), corrosive)), when(because(sum(AtLeast, 10, 0, 1), irritant)), when(both)}},
	}}
}

func prove(t *testing.T, p *Program, opts ProofOptions, declared ...ghs.Hazard) *Proof {
	t.Helper()
	proof, err := p.Prove(context.Background(), declared, opts)
	if err != nil {
		t.Fatal(err)
	}
	return proof
}

func texts(pf *Proof) []string {
	return clashTexts(pf.Clashes[0])
}

func clashTexts(c Clash) []string {
	var out []string
	for _, s := range c.Statements {
		out = append(out, s.Text)
	}
	return out
}

// A declared irritant with 10 – 30 % of a corrosive in it cannot be right: a corrosive it must be.
func TestClashNamesTheStatements(t *testing.T) {
	p := skinProgram(mix(false, sheet.Between(10, 30), sheet.Between(1, 5), sheet.Between(20, 60)))
	proof := prove(t, p, ProofOptions{}, ghs.SkinIrrit2)
	if proof.Status != Contradicted {
		t.Fatalf("status %v, want contradicted", proof.Status)
	}
	want := []string{"A makes up 10 – 30 %", "A is Skin Corr. 1B", "the product is Skin Irrit. 2"}
	if got := texts(proof); !slices.Equal(got, want) {
		t.Errorf("clash %q, want %q", got, want)
	}
}

func TestConsistentDeclarationHasWitness(t *testing.T) {
	p := skinProgram(mix(false, sheet.Between(1, 30), sheet.Between(1, 5), sheet.Between(20, 60)))
	for _, h := range []ghs.Hazard{ghs.SkinCorr1B, ghs.SkinIrrit2} {
		proof := prove(t, p, ProofOptions{}, h)
		if proof.Status != Consistent {
			t.Fatalf("status %v, want consistent: %s", proof.Status, proof.Words(&p.Mixture))
		}
		for o := range p.Outcomes {
			if got, want := p.outcomeHolds(o, proof.Witness.Percent), p.Outcomes[o].Hazard == h; got != want {
				t.Errorf("the witness %v is %v: %v", *proof.Witness, p.Outcomes[o].Hazard, got)
			}
		}
	}
}

// A declared hazard that no disclosed ingredient brings may come from what is not disclosed, when that is enough.
func TestRemainderMayExplain(t *testing.T) {
	limits := ProofOptions{RemainderLimits: map[ghs.Hazard]float64{ghs.SkinCorr1B: 5, ghs.SkinIrrit2: 1}}
	enough := skinProgram(mix(false, sheet.Between(0, 0.5), sheet.Between(0, 5), sheet.Between(60, 90)))
	proof := prove(t, enough, limits, ghs.SkinCorr1B)
	if proof.Status != NeedsRemainder {
		t.Errorf("status %v, want that the remainder is needed", proof.Status)
	}
	if got := strings.Join(texts(proof), "; "); !strings.Contains(got, "what is not disclosed (up to 40 %) adds no hazard of its own") {
		t.Errorf("the clash %q does not name the remainder", got)
	}
	tooLittle := skinProgram(mix(false, sheet.Between(0, 0.5), sheet.Between(0, 5), sheet.Between(96, 99)))
	if proof := prove(t, tooLittle, limits, ghs.SkinCorr1B); proof.Status != Contradicted {
		t.Errorf("a remainder of 4 %%: status %v, want contradicted", proof.Status)
	}
	whole := skinProgram(mix(true, sheet.Between(0, 0.5), sheet.Between(0, 5), sheet.Between(60, 100)))
	if proof := prove(t, whole, limits, ghs.SkinCorr1B); proof.Status != Contradicted {
		t.Errorf("no remainder: status %v, want contradicted", proof.Status)
	}
}

// The other ingredients' ranges clash too when they leave no room.
func TestClashOverTheSum(t *testing.T) {
	p := skinProgram(mix(false, sheet.Between(1, 30), sheet.Between(1, 5), sheet.Between(96, 98)))
	proof := prove(t, p, ProofOptions{}, ghs.SkinCorr1B)
	if got := strings.Join(texts(proof), "; "); proof.Status != Contradicted || !strings.Contains(got, "C makes up 96 – 98 %") {
		t.Errorf("%v: clash %q, want it to name the range of C", proof.Status, got)
	}
}

func TestFactsOfTheProductClash(t *testing.T) {
	flash := Alternative{Facts: []string{"flash point 22.9 °C < 23 °C"}}
	p := &Program{Mixture: mix(false, sheet.Between(1, 2)), Outcomes: []Outcome{{Hazard: ghs.SkinCorr1B, AnyOf: []Alternative{flash}}}}
	got := texts(prove(t, p, ProofOptions{}))
	if len(got) != 2 || got[0] != flash.Facts[0] {
		t.Errorf("clash %q, want the flash point against the class not declared", got)
	}
}

func TestUnjudgedHazardsAreLeftOut(t *testing.T) {
	p := skinProgram(mix(false, sheet.Between(1, 2), sheet.Between(1, 5)))
	proof := prove(t, p, ProofOptions{}, ghs.SkinIrrit2, ghs.SkinSens1)
	if proof.Status != Consistent || !slices.Equal(proof.NotJudged, []ghs.Hazard{ghs.SkinSens1}) {
		t.Errorf("%v, not judged %v; want consistent, with the unknown hazard left out", proof.Status, proof.NotJudged)
	}
}

func TestDeclaredClassMeansItsSubcategories(t *testing.T) {
	p := skinProgram(mix(false, sheet.Between(10, 30), sheet.Between(1, 5)))
	if proof := prove(t, p, ProofOptions{}, ghs.SkinCorr1); proof.Status != Consistent {
		t.Errorf("%v: %s", proof.Status, proof.Words(&p.Mixture))
	}
	if proof := prove(t, p, ProofOptions{}, ghs.SkinCorr1A); proof.Status != Contradicted {
		t.Errorf("1A for 1B: %v: %s", proof.Status, proof.Words(&p.Mixture))
	}
	opts := ProofOptions{MeantBy: map[ghs.Hazard][]ghs.Hazard{ghs.SkinCorr1A: {ghs.SkinCorr1B}}}
	if proof := prove(t, p, opts, ghs.SkinCorr1A); proof.Status != Consistent {
		t.Errorf("%v: %s", proof.Status, proof.Words(&p.Mixture))
	}
}

func TestProveStopsWhenAsked(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := skinProgram(mix(false, atLeast(1), atLeast(1))).Prove(ctx, nil, ProofOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want canceled", err)
	}
}

// Whatever a random composition is classified as can be declared, and a declaration found impossible never turns up.
func TestProofAgreesWithPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	counts := map[ProofStatus]int{}
	for range 1500 {
		p := randomProgram(r, 1+r.IntN(5), 1+r.IntN(4))
		s, err := newSpace(&p.Mixture)
		if err != nil {
			continue
		}
		if x := randomPoint(r, s, []float64{0, 5, 10}); x != nil {
			proof := prove(t, p, ProofOptions{}, classesAt(p, x)...)
			if proof.Status != Consistent {
				t.Fatalf("at %v it is exactly %v, but: %s\n%+v", x, classesAt(p, x), proof.Words(&p.Mixture), *p)
			}
		}
		var declared []ghs.Hazard
		for o := range p.Outcomes {
			if r.IntN(2) == 0 {
				declared = append(declared, p.Outcomes[o].Hazard)
			}
		}
		proof := prove(t, p, ProofOptions{}, declared...)
		counts[proof.Status]++
		for range 20 {
			x := randomPoint(r, s, []float64{0, 5, 10})
			if x != nil && proof.Status == Contradicted && slices.Equal(classesAt(p, x), declared) {
				t.Fatalf("at %v it is exactly %v, but: %s\n%+v", x, declared, proof.Words(&p.Mixture), *p)
			}
		}
		for _, c := range proof.Clashes {
			checkClash(t, r, p, declared, c)
		}
	}
	if counts[Contradicted] < 200 || counts[Consistent] < 200 {
		t.Errorf("the draws are one-sided: %v", counts)
	}
}

func classesAt(p *Program, x []float64) []ghs.Hazard {
	var out []ghs.Hazard
	for o := range p.Outcomes {
		if p.outcomeHolds(o, x[:len(x)-1]) {
			out = append(out, p.Outcomes[o].Hazard)
		}
	}
	return out
}

// checkClash builds the mixture and program that only the statements of the clash leave, with what is not stated drawn
// at random, and sees that none of it fulfils the claims kept; and that it can be fulfilled once any one is set aside.
func checkClash(t *testing.T, r *rand.Rand, p *Program, declared []ghs.Hazard, clash Clash) {
	t.Helper()
	said := clashTexts(clash)
	loose := *p
	loose.Mixture.Complete = slices.Contains(said, "the ingredients listed are the whole product")
	loose.Mixture.Ingredients = slices.Clone(p.Mixture.Ingredients)
	for i := range loose.Mixture.Ingredients {
		if !slices.ContainsFunc(clash.Statements, func(s Statement) bool { return s.Kind == SaysShare && s.Ingredient == i }) {
			loose.Mixture.Ingredients[i].Percent = sheet.Interval{}
		}
	}
	s, err := newSpace(&loose.Mixture)
	if err != nil {
		t.Fatal(err)
	}
	for range 30 {
		dropped := map[string]bool{}
		loose.Outcomes = mapConditions(p.Outcomes, func(c *Condition) {
			c.Terms = slices.DeleteFunc(c.Terms, func(term Term) bool { return dropTerm(r, p, c, term, said, dropped) })
		})
		x := randomPoint(r, s, []float64{0, 5, 10})
		if x == nil {
			continue
		}
		if fulfilsClaims(&loose, clash, x) {
			t.Fatalf("the clash %q holds at %v\n%+v", said, x, *p)
		}
	}
	checkIrreducible(t, p, declared, clash)
}

func dropTerm(r *rand.Rand, p *Program, c *Condition, term Term, said []string, dropped map[string]bool) bool {
	name := "what is not disclosed"
	if term.Ingredient >= 0 {
		name = p.Mixture.Ingredients[term.Ingredient].Name
	}
	text := name + " counts toward " + c.What
	if slices.Contains(said, text) {
		return false
	}
	if _, seen := dropped[text]; !seen {
		dropped[text] = r.IntN(2) == 0
	}
	return dropped[text]
}

func fulfilsClaims(p *Program, clash Clash, x []float64) bool {
	has := classesAt(p, x)
	for _, s := range clash.Statements {
		if s.Kind == SaysDeclared && !slices.Contains(has, s.Hazard) || s.Kind == SaysNotDeclared && slices.Contains(has, s.Hazard) {
			return false
		}
	}
	return true
}

// checkIrreducible sees that all but one statement of the clash can be true together, whichever is the one.
func checkIrreducible(t *testing.T, p *Program, declared []ghs.Hazard, clash Clash) {
	t.Helper()
	s, _ := newSpace(&p.Mixture)
	d := newDeclaration(p, newProblem(p, s), declared, ProofOptions{})
	red := &reduction{d: d, ctx: context.Background()}
	red.collect()
	for _, c := range d.claims {
		if slices.ContainsFunc(clash.Statements, func(s Statement) bool { return s.Hazard != 0 && s.Hazard == c.hazard }) {
			red.claims = append(red.claims, c)
		}
	}
	var kept []int
	for i := range red.subject {
		red.aside[i] = !slices.Contains(clash.Statements, red.subject[i].Statement)
		if !red.aside[i] {
			kept = append(kept, i)
		}
	}
	if len(kept)+len(red.claims) != len(clash.Statements) {
		t.Fatalf("the clash %q has statements that do not occur in the program", clashTexts(clash))
	}
	for _, i := range kept {
		if feasible, err := red.feasibleWithout([]int{i}); err != nil || !feasible {
			t.Fatalf("the clash %q stands without %q (%v)\n%+v", clashTexts(clash), red.subject[i].Text, err, *p)
		}
	}
	claims := red.claims
	for i := range claims {
		red.claims = slices.Delete(slices.Clone(claims), i, i+1)
		if feasible, err := red.feasibleWithout(nil); err != nil || !feasible {
			t.Fatalf("the clash %q stands without hazard %d (%v)\n%+v", clashTexts(clash), claims[i].hazard, err, *p)
		}
	}
}

// The solver in floating point and the one in fractions give the same answer.
func TestFractionsAgreeWithFloats(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	both := [2]int{}
	for range 400 {
		p := randomProgram(r, 2+r.IntN(5), 1)
		s, err := newSpace(&p.Mixture)
		if err != nil {
			continue
		}
		var rows []row
		for range 2 + r.IntN(3) {
			w := row{coef: make([]float64, len(s.lo)), strict: r.IntN(2) == 0, bound: float64(r.IntN(60))}
			for i := range w.coef {
				w.coef[i] = float64(r.IntN(4)) / 2
			}
			if r.IntN(2) == 0 {
				for i := range w.coef {
					w.coef[i] *= -1
				}
				w.bound *= -1
			}
			rows = append(rows, w)
		}
		x, fast, err1 := solve(s, rows, false)
		_, slow, err2 := solve(s, rows, true)
		if err1 != nil || err2 != nil || fast != slow {
			t.Fatalf("floats: %v (%v), fractions: %v (%v)\n%+v\n%+v", fast, err1, slow, err2, *s, rows)
		}
		both[one(fast)]++
		if !fast {
			continue
		}
		for _, w := range rows {
			v := -w.bound
			for i := range x {
				v += w.coef[i] * x[i]
			}
			if v < -1e-7 || w.strict && v <= 0 || math.IsNaN(v) {
				t.Fatalf("row %+v is missed by %g at %v", w, v, x)
			}
		}
	}
	if both[0] < 50 || both[1] < 50 {
		t.Errorf("the draws are one-sided: %v", both)
	}
}
