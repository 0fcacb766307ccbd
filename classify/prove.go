package classify

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// ProofStatus is the outcome of a proof.
type ProofStatus uint8

// Statuses.
const (
	Contradicted   ProofStatus = iota // no composition fits, whatever the undisclosed remainder is
	NeedsRemainder                    // fits only if the undisclosed remainder brings hazards of its own
	Consistent                        // some composition of the disclosed ingredients fits exactly
)

// String is the status in words.
func (s ProofStatus) String() string {
	return [...]string{"contradicted", "needs the undisclosed remainder", "consistent"}[s]
}

// Proof says whether a declared classification can be exactly right for a mixture: with a composition for which it is,
// or with the smallest set of statements that cannot all be true.
type Proof struct {
	Status    ProofStatus
	Witness   *Composition // a composition that has the declared hazards and no others; nil unless Consistent
	Clash     []Statement  // irreducible: leave out any one of them and the others can be true; nil when Consistent
	NotJudged []ghs.Hazard // declared hazards that the rules cannot judge from ingredients; they were left out
}

// StatementKind tells what a statement speaks of.
type StatementKind uint8

// Kinds of statement.
const (
	SaysShare       StatementKind = iota // the range of an ingredient
	SaysIngredient                       // a property of an ingredient, by which it counts
	SaysWhole                            // the ingredients listed are the whole product
	SaysRemainder                        // what is not disclosed adds nothing
	SaysFact                             // a fact about the product, such as a measured property
	SaysDeclared                         // the product has a hazard
	SaysNotDeclared                      // the product does not have a hazard
)

// Statement is one of the statements weighed against each other in a proof.
type Statement struct {
	Kind       StatementKind
	Ingredient int        // index into Mixture.Ingredients, -1 when it speaks of none
	Hazard     ghs.Hazard // for SaysDeclared and SaysNotDeclared
	Text       string     // "A makes up 10 – 30 %", "A is Skin Corr. 1B", "the product is not Skin Corr. 1B"
}

// ProofOptions refine a proof. The zero value takes each declared hazard literally.
type ProofOptions struct {
	// MeantBy lists further hazards that fulfil a declared one: a sheet that says "Skin Corr. 1" is right when the
	// rules give 1A, 1B or 1C.
	MeantBy map[ghs.Hazard][]ghs.Hazard
	// Judged are hazards that the rules can judge beside those the program has outcomes for: declared, they are
	// contradicted when no ingredient gives rise to them.
	Judged ghs.HazardSet
	// RemainderLimits is, per hazard, the lowest share (percent) at which an undisclosed ingredient could cause it;
	// nil means that nothing hidden is allowed for.
	RemainderLimits map[ghs.Hazard]float64
}

// Prove decides whether some composition within the stated ranges has exactly the declared hazards, among those that
// the rules can judge. It returns a witness, or else an irreducible set of statements that cannot hold together.
func (p *Program) Prove(ctx context.Context, declared []ghs.Hazard, opts ProofOptions) (*Proof, error) {
	s, err := newSpace(&p.Mixture)
	if err != nil {
		return nil, err
	}
	d := newDeclaration(p, newProblem(p, s), declared, opts)
	proof := &Proof{NotJudged: d.notJudged}
	x, err := d.pr.find(ctx, d.goal(d.pr, d.claims))
	if err != nil {
		return nil, err
	}
	if x != nil {
		x = d.pr.rounded(x, d.goal(d.pr, d.claims))
		proof.Status, proof.Witness = Consistent, composition(x)
		return proof, d.verify(x)
	}
	proof.Status, proof.Clash, err = d.clash(ctx)
	return proof, err
}

// Words tells the result in one sentence.
func (pf *Proof) Words(m *Mixture) string {
	if pf.Status == Consistent {
		return "Exactly the declared classification follows, for example, from " + pf.Witness.Words(m) + "."
	}
	texts := make([]string, len(pf.Clash))
	for i, s := range pf.Clash {
		texts[i] = s.Text
	}
	return "These statements cannot all be true: " + strings.Join(texts, "; ") + "."
}

// Words lists the shares: "A 12 %, B 30 %, not disclosed 58 %".
func (c *Composition) Words(m *Mixture) string {
	var parts []string
	for i, v := range c.Percent {
		parts = append(parts, m.Ingredients[i].Name+" "+number(v)+" %")
	}
	if c.Remainder > sumTolerance {
		parts = append(parts, "not disclosed "+number(c.Remainder)+" %")
	}
	return strings.Join(parts, ", ")
}

// declaration is the declared classification as claims about the outcomes of a program.
type declaration struct {
	p         *Program
	pr        *problem
	opts      ProofOptions
	claims    []claim
	notJudged []ghs.Hazard
}

// claim is that the product has a hazard, or does not.
type claim struct {
	hazard   ghs.Hazard
	declared bool
	outcomes []int // that give the hazard, or one that is meant by it
}

func newDeclaration(p *Program, pr *problem, declared []ghs.Hazard, opts ProofOptions) *declaration {
	d := &declaration{p: p, pr: pr, opts: opts}
	groups := p.byHazard()
	var taken ghs.HazardSet
	for _, h := range declared {
		meant := append([]ghs.Hazard{h}, opts.MeantBy[h]...)
		c := claim{hazard: h, declared: true}
		judged := opts.Judged.Has(h)
		for _, g := range groups {
			if k := p.Outcomes[g[0]].Hazard; slices.Contains(meant, k) {
				c.outcomes = append(c.outcomes, g...)
				taken.Add(k)
			}
		}
		if len(c.outcomes) == 0 && !judged {
			d.notJudged = append(d.notJudged, h)
			continue
		}
		d.claims = append(d.claims, c)
	}
	for _, g := range groups {
		if h := p.Outcomes[g[0]].Hazard; !taken.Has(h) {
			d.claims = append(d.claims, claim{hazard: h, outcomes: g})
		}
	}
	return d
}

// formula of a claim over a problem.
func (c *claim) formula(pr *problem) *formula {
	if len(c.outcomes) == 0 {
		return pr.hidden(c.hazard)
	}
	f := pr.hazard(c.outcomes, c.declared)
	if c.declared {
		f = join(opSome, []*formula{f, pr.hidden(c.hazard)})
	}
	return f
}

// hidden is the formula for the remainder causing h by itself: no unless that is allowed for.
func (pr *problem) hidden(h ghs.Hazard) *formula {
	if pr.loose == nil || pr.loose.hidden == nil {
		return formulaNo
	}
	limit, ok := pr.loose.hidden[h]
	if !ok {
		return formulaNo
	}
	return pr.isLiteral(literal{pr.remainderAtLeast(limit), AtLeast})
}

// goal is the formula for all the claims holding together.
func (d *declaration) goal(pr *problem, claims []claim) *formula {
	parts := make([]*formula, 0, len(claims))
	for i := range claims {
		f := claims[i].formula(pr)
		if f.op == opNo {
			return f
		}
		parts = append(parts, f)
	}
	return join(opAll, parts)
}

// errWitness is returned when a witness does not stand up to the evaluation of its composition: a defect of this
// package, never of the input.
var errWitness = errors.New("a witness composition does not stand up to evaluation")

// verify evaluates the witness as any composition is evaluated.
func (d *declaration) verify(x []float64) error {
	for _, c := range d.claims {
		has := false
		for _, o := range c.outcomes {
			has = has || d.p.outcomeHolds(o, x[:len(x)-1])
		}
		if has != c.declared {
			return fmt.Errorf("%w: hazard %v at %v", errWitness, c.hazard, x)
		}
	}
	return nil
}
