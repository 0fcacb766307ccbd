package classify

import (
	"context"
	"fmt"
	"slices"

	"sixteen/ghs"
)

// subject is a statement that can be set aside in looking for the smallest clash, other than a claim.
type subject struct{ Statement }

// clashes finds irreducible sets of statements that cannot hold together, given that all of them cannot: a first one,
// then others among the claims that do not occur in it, until the claims left can hold.
func (d *declaration) clashes(ctx context.Context) ([]Clash, error) {
	var out []Clash
	var hidden map[ghs.Hazard]float64
	for left := d.claims; len(left) > 0; {
		r := &reduction{d: d, ctx: ctx, claims: left, hidden: hidden}
		r.collect()
		if len(out) > 0 {
			pr := r.problem()
			if x, err := pr.find(ctx, d.goal(pr, left)); x != nil || err != nil {
				return out, err
			}
		}
		c, err := r.clash()
		if err != nil {
			return nil, err
		}
		out, hidden = append(out, c), r.hidden
		left = slices.DeleteFunc(slices.Clone(left), func(c claim) bool {
			return slices.ContainsFunc(r.claims, func(k claim) bool { return k.hazard == c.hazard })
		})
	}
	return out, nil
}

// clash finds one irreducible set. A statement is left out whenever the others clash without it (deletion filter);
// whole groups are tried first.
func (r *reduction) clash() (Clash, error) {
	status, err := r.weighRemainder()
	if err != nil {
		return Clash{}, err
	}
	if err := r.reduceSubjects(); err != nil {
		return Clash{}, err
	}
	return Clash{Status: status, Statements: r.statements()}, r.confirm()
}

// reduction is the state of the deletion filter.
type reduction struct {
	d       *declaration
	ctx     context.Context
	claims  []claim // those kept
	subject []subject
	aside   []bool  // by subject
	reason  [][]int // by condition and term: the subject that makes the term count
	hidden  map[ghs.Hazard]float64
	exact   bool
}

// collect lists the statements beside the claims: ranges, reasons of terms, facts, the whole and the remainder.
func (r *reduction) collect() {
	m := &r.d.p.Mixture
	s := r.d.pr.s
	for i := range m.Ingredients {
		stated := &space{lo: []float64{0}, hi: []float64{whole}, loOpen: []bool{false}, hiOpen: []bool{false}}
		_ = stated.setRange(0, &m.Ingredients[i]) // newSpace has accepted it
		r.add(subject{Statement: Statement{Kind: SaysShare, Ingredient: i,
			Text: m.Ingredients[i].Name + " makes up " + rangeWords(stated, 0)}})
	}
	r.collectReasons()
	r.collectFacts()
	if m.Complete {
		r.add(subject{Statement: Statement{Kind: SaysWhole, Ingredient: -1, Text: "the ingredients listed are the whole product"}})
	} else if last := len(s.lo) - 1; s.hi[last] > 0 {
		r.add(subject{Statement: Statement{Kind: SaysRemainder, Ingredient: -1,
			Text: "what is not disclosed (up to " + number(s.hi[last]) + " %) adds no hazard of its own"}})
	}
}

func (r *reduction) add(sub subject) int {
	r.subject = append(r.subject, sub)
	r.aside = append(r.aside, false)
	return len(r.subject) - 1
}

// collectReasons numbers what is said of ingredients that makes their terms count.
func (r *reduction) collectReasons() {
	type key struct {
		ingredient int
		because    string
	}
	seen := map[key]int{}
	for _, c := range r.d.pr.conds {
		list := make([]int, len(c.Terms))
		for k := range c.Terms {
			t := &c.Terms[k]
			because := t.Because
			if because == "" {
				because = "counts toward " + c.What
			}
			id, ok := seen[key{t.Ingredient, because}]
			if !ok {
				name := "what is not disclosed"
				if t.Ingredient >= 0 {
					name = r.d.p.Mixture.Ingredients[t.Ingredient].Name
				}
				id = r.add(subject{Statement: Statement{Kind: SaysIngredient, Ingredient: t.Ingredient, Text: name + " " + because}})
				seen[key{t.Ingredient, because}] = id
			}
			list[k] = id
		}
		r.reason = append(r.reason, list)
	}
}

// collectFacts lists the facts that alternatives rest on.
func (r *reduction) collectFacts() {
	seen := map[string]bool{}
	for o := range r.d.p.Outcomes {
		for _, alt := range r.d.p.Outcomes[o].AnyOf {
			for _, fact := range alt.Facts {
				if !seen[fact] {
					seen[fact] = true
					r.add(subject{Statement: Statement{Kind: SaysFact, Ingredient: -1, Text: fact}})
				}
			}
		}
	}
}

// remainder is the statement that what is not disclosed adds nothing, or -1.
func (r *reduction) remainder() int {
	return slices.IndexFunc(r.subject, func(s subject) bool { return s.Kind == SaysRemainder })
}

// weighRemainder finds the claims that clash and whether the undisclosed remainder could resolve it. The remainder can
// only bring hazards, so where claims clash of which none is that the product has one, it cannot.
func (r *reduction) weighRemainder() (ProofStatus, error) {
	all := r.claims
	if err := r.reduceClaims(); err != nil {
		return Contradicted, err
	}
	k := r.remainder()
	if k < 0 {
		return Contradicted, nil
	}
	if !slices.ContainsFunc(r.claims, func(c claim) bool { return c.declared }) {
		r.aside[k] = true
		return Contradicted, nil
	}
	if r.hidden == nil {
		r.hidden = r.d.opts.RemainderLimits
	}
	if r.hidden == nil {
		r.hidden = r.d.p.remainderLimits(r.d.pr.s.hi[len(r.d.pr.s.hi)-1])
	}
	found := r.claims
	r.claims = all
	feasible, err := r.feasibleWithout([]int{k})
	if feasible || err != nil {
		r.claims = found
		return NeedsRemainder, err
	}
	r.aside[k] = true
	return Contradicted, r.reduceClaims()
}

// reduceClaims drops claims while the others still clash with the ranges and reasons as they are. Single claims that
// fail by themselves come first, for they are the commonest.
func (r *reduction) reduceClaims() error {
	pr := r.problem()
	var open []claim
	for _, c := range r.claims {
		switch r.d.formula(pr, &c).op {
		case opNo:
			r.claims = []claim{c}
			return nil
		case opYes:
		default:
			open = append(open, c)
		}
	}
	r.claims = open
	return r.filterClaims(pr)
}

// filterClaims tries to drop claims, first by halves and at last one by one.
func (r *reduction) filterClaims(pr *problem) error {
	kept := r.claims
	for size := max(len(kept)/2, 1); size >= 1; size /= 2 {
		for at := 0; at < len(kept); {
			end := min(at+size, len(kept))
			rest := append(slices.Clone(kept[:at]), kept[end:]...)
			x, err := pr.find(r.ctx, r.d.goal(pr, rest))
			if err != nil {
				return err
			}
			if x == nil {
				kept = rest
			} else {
				at = end
			}
		}
	}
	r.claims = kept
	return nil
}

// reduceSubjects drops the statements beside the claims in turn: first all that concern no condition of the claims
// kept, then one group after another.
func (r *reduction) reduceSubjects() error {
	conds, ingredients := r.concerned()
	var unconcerned, facts, reasons, ranges, others []int
	for i := range r.subject {
		sub := &r.subject[i]
		switch {
		case r.aside[i]:
		case sub.Kind == SaysShare && !ingredients[sub.Ingredient], sub.Kind == SaysIngredient && !r.used(i, conds):
			unconcerned = append(unconcerned, i)
		case sub.Kind == SaysFact:
			facts = append(facts, i)
		case sub.Kind == SaysIngredient:
			reasons = append(reasons, i)
		case sub.Kind == SaysShare:
			ranges = append(ranges, i)
		default:
			others = append(others, i)
		}
	}
	for _, group := range [][]int{unconcerned, facts, ranges, reasons, others} {
		if err := r.filter(group); err != nil {
			return err
		}
	}
	return nil
}

// filter drops the group when the rest clashes without it, or else each half of it by the same rule.
func (r *reduction) filter(group []int) error {
	if len(group) == 0 {
		return nil
	}
	feasible, err := r.feasibleWithout(group)
	switch {
	case err != nil:
		return err
	case !feasible:
		for _, i := range group {
			r.aside[i] = true
		}
		return nil
	case len(group) == 1:
		return nil
	}
	if err := r.filter(group[:len(group)/2]); err != nil {
		return err
	}
	return r.filter(group[len(group)/2:])
}

// feasibleWithout tells whether what is kept can hold together once the group is set aside too.
func (r *reduction) feasibleWithout(group []int) (bool, error) {
	for _, i := range group {
		r.aside[i] = true
	}
	defer func() {
		for _, i := range group {
			r.aside[i] = false
		}
	}()
	pr := r.problem()
	x, err := pr.find(r.ctx, r.d.goal(pr, r.claims))
	return x != nil, err
}

// problem is the one in which only the statements kept are given.
func (r *reduction) problem() *problem {
	s := r.d.pr.s
	last := len(s.lo) - 1
	wide := &space{lo: make([]float64, last+1), hi: make([]float64, last+1), loOpen: make([]bool, last+1), hiOpen: make([]bool, last+1)}
	if !r.d.p.Mixture.Complete {
		wide.hi[last] = whole
	}
	for i := range last {
		wide.hi[i] = whole
	}
	loose := &loosened{reason: r.reason, aside: r.aside, facts: map[string]bool{}}
	for i := range r.subject {
		sub := &r.subject[i]
		switch {
		case sub.Kind == SaysShare && !r.aside[i]:
			_ = wide.setRange(sub.Ingredient, &r.d.p.Mixture.Ingredients[sub.Ingredient]) // newSpace has accepted it
		case sub.Kind == SaysWhole && r.aside[i]:
			wide.hi[last] = whole
		case sub.Kind == SaysRemainder && r.aside[i]:
			loose.hidden = r.hidden
		case sub.Kind == SaysFact && r.aside[i]:
			loose.facts[sub.Text] = true
		}
	}
	wide.tighten()
	pr := r.d.pr.over(wide, loose)
	pr.exact = r.exact
	return pr
}

// concerned lists the conditions that the claims kept depend on, and their ingredients.
func (r *reduction) concerned() (conds []bool, ingredients []bool) {
	conds = make([]bool, len(r.d.pr.conds))
	ingredients = make([]bool, len(r.d.p.Mixture.Ingredients))
	mark := func(first, n int) {
		for c := first; c < first+n; c++ {
			conds[c] = true
			for _, t := range r.d.pr.conds[c].Terms {
				if t.Ingredient >= 0 {
					ingredients[t.Ingredient] = true
				}
			}
		}
	}
	for _, c := range r.claims {
		for _, o := range c.outcomes {
			for _, u := range r.d.p.orSeverer(o) {
				for a, first := range r.d.pr.first[u] {
					mark(first, len(r.d.p.Outcomes[u].AnyOf[a].AllOf))
				}
				for a, first := range r.d.pr.firstOpen[u] {
					mark(first, len(r.d.p.Outcomes[u].Open[a].AllOf))
				}
			}
		}
	}
	return conds, ingredients
}

// used tells whether reason i makes a term of any of the conditions count.
func (r *reduction) used(i int, conds []bool) bool {
	for c := range conds {
		if conds[c] && slices.Contains(r.reason[c], i) {
			return true
		}
	}
	return false
}

// statements lists what is kept: ingredients first, the product's declaration last.
func (r *reduction) statements() []Statement {
	var out []Statement
	for i := range r.subject {
		if !r.aside[i] {
			out = append(out, r.subject[i].Statement)
		}
	}
	slices.SortStableFunc(out, func(a, b Statement) int {
		if a.Ingredient >= 0 && b.Ingredient >= 0 {
			return a.Ingredient - b.Ingredient
		}
		return one(a.Ingredient < 0) - one(b.Ingredient < 0)
	})
	for _, c := range r.claims {
		if len(c.outcomes) == 0 {
			out = append(out, r.absence(c.hazard))
		}
		st := Statement{Kind: SaysNotDeclared, Ingredient: -1, Hazard: c.hazard, Text: fmt.Sprintf("the product is not %v", c.hazard)}
		if c.declared {
			st.Kind, st.Text = SaysDeclared, fmt.Sprintf("the product is %v", c.hazard)
		}
		out = append(out, st)
	}
	return out
}

// confirm decides the clash once more in exact fractions.
func (r *reduction) confirm() error {
	r.exact = true
	pr := r.problem()
	x, err := pr.find(r.ctx, r.d.goal(pr, r.claims))
	if err == nil && x != nil {
		err = fmt.Errorf("proof about %q: arithmetic too inexact to tell whether its statements clash", r.d.p.Mixture.Name)
	}
	return err
}

// absence is the fact that decides against a hazard for which the program has no outcome: what a test showed, or that
// no ingredient brings it.
func (r *reduction) absence(h ghs.Hazard) Statement {
	p, g := r.d.p, groupOf(h)
	st := Statement{Kind: SaysFact, Ingredient: -1, Text: "nothing that is disclosed gives " + h.String()}
	if p.rules == nil {
		return st
	}
	if s := p.settledFor(g); s != nil {
		st.Text = s.why
	} else if g.class == ghs.FlammableLiquids {
		st.Text = p.standing(r.d.pr, g).Why[0].Text
	}
	return st
}
