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

// Statuses, from the worst.
const (
	Contradicted   ProofStatus = iota // no composition fits, whatever the undisclosed remainder is
	NeedsRemainder                    // fits only if the undisclosed remainder brings hazards of its own
	NeedsFacts                        // fits only if facts hold that are not known, such as a viscosity
	Consistent                        // some composition of the disclosed ingredients fits exactly
)

// String is the status in words.
func (s ProofStatus) String() string {
	return [...]string{"contradicted", "needs the undisclosed remainder", "needs facts not known", "consistent"}[s]
}

// MarshalText writes the status in words.
func (s ProofStatus) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Proof says whether a declared classification can be exactly right for a mixture: with a composition for which it is,
// or with the sets of statements that cannot all be true.
type Proof struct {
	Status    ProofStatus
	Witness   *Composition // a composition that has the declared hazards and no others; nil unless Consistent or NeedsFacts
	Needs     []string     // the facts not known that the witness needs
	Clashes   []Clash      // none when there is a witness; no hazard occurs in two of them
	Clash     []Statement  // the statements of the first clash
	NotJudged []ghs.Hazard // declared hazards that the rules cannot judge from what is known; they were left out
}

// Clash is a set of statements that cannot all be true. It is irreducible: leave out any one of them and the others can.
type Clash struct {
	Status     ProofStatus // Contradicted or NeedsRemainder
	Statements []Statement
}

// String is the clash in one sentence.
func (c Clash) String() string {
	texts := make([]string, len(c.Statements))
	for i, s := range c.Statements {
		texts[i] = s.Text
	}
	return "These statements cannot all be true: " + strings.Join(texts, "; ") + "."
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

// ProofOptions refine a proof. The zero value suits a sheet.
type ProofOptions struct {
	// MeantBy lists further hazards that fulfil a declared one. It is not needed for sub-categories: "Skin Corr. 1" is
	// right when the rules give 1A, 1B or 1C, and 1B is when they give category 1 undivided.
	MeantBy map[ghs.Hazard][]ghs.Hazard
	// RemainderLimits is, per hazard, the lowest share (percent) at which an undisclosed ingredient could cause it. Nil
	// stands for the generic limits of the rule set, see [Program.RemainderCouldHide].
	RemainderLimits map[ghs.Hazard]float64
}

// Prove decides whether some composition within the stated ranges has exactly the declared hazards, among those that
// the rules can judge. It returns a witness, or else irreducible sets of statements that cannot hold together. It fails with [ErrImpossibleComposition] when no composition fits the ranges, and when ctx is done.
func (p *Program) Prove(ctx context.Context, declared []ghs.Hazard, opts ProofOptions) (*Proof, error) {
	s, err := newSpace(&p.Mixture)
	if err != nil {
		return nil, err
	}
	d := newDeclaration(p, newProblem(p, s), declared, opts)
	proof := &Proof{NotJudged: d.notJudged}
	for _, d.allowOpen = range []bool{false, true} {
		goal := d.goal(d.pr, d.claims)
		x, err := d.pr.find(ctx, goal)
		if err != nil {
			return nil, err
		}
		if x != nil {
			x = d.pr.rounded(x, goal)
			proof.Witness = composition(x)
			proof.Needs, err = d.verify(proof.Witness)
			proof.Status = Consistent
			if len(proof.Needs) > 0 {
				proof.Status = NeedsFacts
			}
			return proof, err
		}
	}
	proof.Clashes, err = d.clashes(ctx)
	if len(proof.Clashes) > 0 {
		proof.Clash = proof.Clashes[0].Statements
	}
	proof.Status = NeedsRemainder
	for _, c := range proof.Clashes {
		proof.Status = min(proof.Status, c.Status)
	}
	return proof, err
}

// Words tells the result, one sentence for a witness or for each clash.
func (pf *Proof) Words(m *Mixture) string {
	if pf.Witness != nil {
		words := "Exactly the declared classification follows, for example, from " + pf.Witness.Words(m)
		if len(pf.Needs) > 0 {
			words += ", if these facts hold, which are not known: " + strings.Join(pf.Needs, "; ")
		}
		return words + "."
	}
	sentences := make([]string, len(pf.Clashes))
	for i, c := range pf.Clashes {
		sentences[i] = c.String()
	}
	return strings.Join(sentences, " ")
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
	meant     ghs.HazardSet // hazards that fulfil a declared one
	allowOpen bool          // facts that are not known may be as they suit the declaration
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
	for _, h := range declared {
		c := claim{hazard: h, declared: true}
		for _, g := range groups {
			if k := p.Outcomes[g[0]].Hazard; d.means(h, k) {
				c.outcomes = append(c.outcomes, g...)
				d.meant.Add(k)
			}
		}
		if len(c.outcomes) == 0 && !p.judges(h, pr) {
			d.notJudged = append(d.notJudged, h)
			continue
		}
		d.claims = append(d.claims, c)
	}
	for _, g := range groups {
		if h := p.Outcomes[g[0]].Hazard; !d.meant.Has(h) {
			d.claims = append(d.claims, claim{hazard: h, outcomes: g})
		}
	}
	return d
}

// means tells whether a declared hazard is right when the rules give the other: the same, or of the same class and one
// of them a finer division of the other.
func (d *declaration) means(declared, given ghs.Hazard) bool {
	if declared == given || slices.Contains(d.opts.MeantBy[declared], given) {
		return true
	}
	a, b := declared.String(), given.String()
	return declared.Class() == given.Class() && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a))
}

// judges tells whether the rules say of every composition that it has no hazard of the class of h, though the program
// has no outcome for it: the class lies within the rule set and the data suffice.
func (p *Program) judges(h ghs.Hazard, pr *problem) bool {
	g := groupOf(h)
	for i := range p.Outcomes {
		if groupOf(p.Outcomes[i].Hazard) == g {
			return true
		}
	}
	if p.rules == nil { // made by hand
		return false
	}
	return p.standing(pr, g).Standing == NotClassified
}

// standing is the answer on a class without outcomes. What is silent about a route of acute toxicity grows with the
// shares of ingredients without data, so the composition with the most of them decides.
func (p *Program) standing(pr *problem, g group) ClassResult {
	var silent []Term
	for i := range p.Mixture.Ingredients {
		if st := p.Mixture.Ingredients[i].ATE[g.qualifier].Status; st == ATEFromClass || st == ATEUnknown {
			silent = append(silent, Term{Ingredient: i, Weight: 1})
		}
	}
	most := pr.f.extreme(silent, nil, true)
	c := p.At(most.point[:len(most.point)-1])
	return c.result(g)
}

// formula of a claim over a problem.
func (d *declaration) formula(pr *problem, c *claim) *formula {
	parts := make([]*formula, 0, len(c.outcomes)+1)
	for _, o := range c.outcomes {
		parts = append(parts, d.outcome(pr, o, c.declared))
	}
	if c.declared {
		return join(opSome, append(parts, pr.hidden(c.hazard)))
	}
	return join(opAll, parts)
}

// outcome is the formula for outcome o, with facts that are not known taken as they suit when that is allowed: a
// declared hazard may come from an open alternative, and then takes the place of milder ones.
func (d *declaration) outcome(pr *problem, o int, want bool) *formula {
	f := pr.outcome(o, want)
	if !d.allowOpen || f.op == opYes {
		return f
	}
	unless := d.p.Outcomes[o].Unless
	if !want {
		parts := []*formula{f}
		for _, u := range unless {
			if d.meant.Has(d.p.Outcomes[u].Hazard) {
				parts = append(parts, pr.open(u))
			}
		}
		return join(opSome, parts)
	}
	parts := []*formula{pr.open(o)}
	for _, u := range unless {
		parts = append(parts, pr.alternatives(u, false))
	}
	return join(opSome, []*formula{f, join(opAll, parts)})
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
		f := d.formula(pr, &claims[i])
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

// verify classifies the witness as any composition is classified, and tells which facts that are not known it needs.
func (d *declaration) verify(w *Composition) (needs []string, err error) {
	at := d.p.At(w.Percent)
	for i := range d.claims {
		c := &d.claims[i]
		has := false
		for _, o := range c.outcomes {
			has = has || at.Hazards.Has(d.p.Outcomes[o].Hazard)
		}
		if has == c.declared {
			continue
		}
		if !d.allowOpen {
			return nil, fmt.Errorf("%w: %v at %v", errWitness, c.hazard, w.Percent)
		}
		if c.declared {
			facts := d.openFacts(c, w.Percent)
			if facts == nil {
				return nil, fmt.Errorf("%w: %v at %v", errWitness, c.hazard, w.Percent)
			}
			needs = append(needs, facts...)
		}
	}
	return needs, nil
}

// openFacts are the facts that an open alternative of the claim needs at x, of the first that holds there.
func (d *declaration) openFacts(c *claim, x []float64) []string {
	for _, o := range c.outcomes {
		for k := range d.p.Outcomes[o].Open {
			if alt := &d.p.Outcomes[o].Open[k]; alt.Holds(x) {
				return alt.Needs
			}
		}
	}
	return nil
}
