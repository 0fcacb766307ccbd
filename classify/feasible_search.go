package classify

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"sixteen/ghs"
)

// problem is a program over one space, with the extremes of its conditions worked out once each. In a proof some
// statements may be set aside: the reasons of terms then count or not as suits, and facts without terms are free.
type problem struct {
	mu        sync.Mutex // held while an envelope that is shared works out its words
	p         *Program
	s         *space
	f         *finder
	conds     []*Condition
	first     [][]int   // first[o][a] is the index in conds of the first condition of alternative a of outcome o
	firstOpen [][]int   // the same for its open alternatives
	form      []int     // by condition: conditions of the same terms have the same form
	bounds    []bounds  // by form
	loose     *loosened // nil when every statement is taken as given
	exact     bool      // decide joint conditions in fractions only
}

// bounds are the extremes of one sum over the space.
type bounds struct {
	known    bool
	min, max extreme
}

// loosened names what is not taken as given: per condition and term the number of its reason, which reasons and facts
// are set aside, and the share the remainder must have to cause a hazard by itself.
type loosened struct {
	reason [][]int
	aside  []bool                 // by reason
	facts  map[string]bool        // those set aside
	hidden map[ghs.Hazard]float64 // nil when the remainder is taken to add nothing
}

// doubtful tells whether the alternative rests on a fact that is set aside.
func (l *loosened) doubtful(a *Alternative) bool {
	return slices.ContainsFunc(a.Facts, func(f string) bool { return l.facts[f] })
}

func newProblem(p *Program, s *space) *problem {
	pr := &problem{p: p, s: s, f: newFinder(s)}
	for o := range p.Outcomes {
		pr.first = append(pr.first, pr.list(p.Outcomes[o].AnyOf))
		pr.firstOpen = append(pr.firstOpen, pr.list(p.Outcomes[o].Open))
	}
	pr.form = formsOf(pr.conds)
	pr.bounds = make([]bounds, len(pr.conds))
	return pr
}

// formsOf numbers conditions by their terms: the form of a condition is the first condition that has the same terms.
func formsOf(conds []*Condition) []int {
	form := make([]int, len(conds))
	seen := make(map[uint64][]int, len(conds))
	for c, cond := range conds {
		h := termsHash(cond.Terms)
		form[c] = c
		for _, k := range seen[h] {
			if sameTerms(conds[k].Terms, cond.Terms) {
				form[c] = k
				break
			}
		}
		if form[c] == c {
			seen[h] = append(seen[h], c)
		}
	}
	return form
}

// termsHash is the FNV-1a hash of what makes terms equal.
func termsHash(terms []Term) uint64 {
	h := uint64(14695981039346656037)
	for i := range terms {
		t := &terms[i]
		for _, v := range [...]uint64{uint64(t.Ingredient), math.Float64bits(t.Weight), math.Float64bits(t.Cutoff), uint64(one(t.CutoffOpen))} {
			h = (h ^ v) * 1099511628211
		}
	}
	return h
}

func sameTerms(a, b []Term) bool { return slices.Equal(a, b) }

// list adds the conditions of alternatives to the problem and tells where those of each begin.
func (pr *problem) list(alternatives []Alternative) (first []int) {
	for a := range alternatives {
		first = append(first, len(pr.conds))
		all := alternatives[a].AllOf
		for c := range all {
			pr.conds = append(pr.conds, &all[c])
		}
	}
	return first
}

// over is the same problem on another space, with other statements set aside.
func (pr *problem) over(s *space, loose *loosened) *problem {
	return &problem{p: pr.p, s: s, f: newFinder(s), conds: pr.conds, first: pr.first, firstOpen: pr.firstOpen, form: pr.form,
		bounds: make([]bounds, len(pr.conds)), loose: loose}
}

// extremes of condition c over the whole space.
func (pr *problem) extremes(c int) *bounds {
	b := &pr.bounds[pr.form[c]]
	if !b.known {
		states := pr.states(c, nil)
		b.max = pr.f.extreme(pr.conds[c].Terms, states, true)
		b.min = pr.f.extreme(pr.conds[c].Terms, states, false)
		b.known = true
	}
	return b
}

// states gives how each term of condition c counts, with the choices made so far; nil when all count as stated.
func (pr *problem) states(c int, chosen map[int]optional) []optional {
	if pr.loose == nil {
		return nil
	}
	var states []optional
	for k, r := range pr.loose.reason[c] {
		if !pr.loose.aside[r] {
			continue
		}
		if states == nil {
			states = make([]optional, len(pr.conds[c].Terms))
		}
		states[k] = onOrOff
		if st, ok := chosen[r]; ok {
			states[k] = st
		}
	}
	return states
}

// literal is a condition of the problem or, with another comparison, its opposite.
type literal struct {
	cond int // index into problem.conds
	cmp  Compare
}

// canHold tells whether some composition fulfils the literal, canFail whether some does not.
func (pr *problem) canHold(l literal) bool {
	c := pr.conds[l.cond]
	b := pr.extremes(l.cond)
	if upward(l.cmp) {
		return b.max.reaches(l.cmp, c.Bound)
	}
	return b.min.reaches(l.cmp, c.Bound)
}

func (pr *problem) canFail(l literal) bool {
	return pr.canHold(literal{l.cond, opposite(l.cmp)})
}

// formula is a condition put together with "and" and "or".
type formula struct {
	op   operator
	kids []*formula
	lit  literal
}

type operator uint8

const (
	opYes operator = iota
	opNo
	opIs   // the literal
	opAll  // every kid
	opSome // any kid
)

var (
	formulaYes = &formula{op: opYes}
	formulaNo  = &formula{op: opNo}
)

// isLiteral is the literal as a formula, or yes or no when the space already decides it.
func (pr *problem) isLiteral(l literal) *formula {
	if !pr.canHold(l) {
		return formulaNo
	}
	if !pr.canFail(l) {
		return formulaYes
	}
	return &formula{op: opIs, lit: l}
}

// join puts formulas together, leaving out what is decided.
func join(op operator, kids []*formula) *formula {
	neutral, decisive := formulaYes, formulaNo
	if op == opSome {
		neutral, decisive = formulaNo, formulaYes
	}
	var kept []*formula
	for _, k := range kids {
		switch k.op {
		case decisive.op:
			return decisive
		case neutral.op:
		case op:
			kept = append(kept, k.kids...)
		default:
			kept = append(kept, k)
		}
	}
	switch len(kept) {
	case 0:
		return neutral
	case 1:
		return kept[0]
	}
	return &formula{op: op, kids: kept}
}

// outcome is the formula for outcome o holding (want) or not: any of its alternatives, and none of those of an outcome
// that takes its place.
func (pr *problem) outcome(o int, want bool) *formula {
	raw := pr.alternatives(o, want)
	if want && raw.op == opNo || !want && raw.op == opYes {
		return raw
	}
	parts := []*formula{raw}
	for _, u := range pr.p.Outcomes[o].Unless {
		parts = append(parts, pr.alternatives(u, !want))
	}
	if want {
		return join(opAll, parts)
	}
	return join(opSome, parts)
}

// alternatives is the formula for any alternative of outcome o holding (want), or none, whatever takes its place.
func (pr *problem) alternatives(o int, want bool) *formula {
	alts := make([]*formula, 0, len(pr.first[o]))
	for a, c := range pr.first[o] {
		alt := &pr.p.Outcomes[o].AnyOf[a]
		f := pr.alternative(c, len(alt.AllOf), want)
		if !want && pr.loose != nil && pr.loose.doubtful(alt) {
			f = formulaYes
		}
		alts = append(alts, f)
		if want && f.op == opYes || !want && f.op == opNo {
			return f
		}
	}
	if want {
		return join(opSome, alts)
	}
	return join(opAll, alts)
}

// open is the formula for an alternative of outcome o holding that asks for facts which are not known.
func (pr *problem) open(o int) *formula {
	alts := make([]*formula, 0, len(pr.firstOpen[o]))
	for a, c := range pr.firstOpen[o] {
		alts = append(alts, pr.alternative(c, len(pr.p.Outcomes[o].Open[a].AllOf), true))
	}
	return join(opSome, alts)
}

// alternative is the formula for the n conditions from c on holding together (want), or not.
func (pr *problem) alternative(c, n int, want bool) *formula {
	if n == 1 {
		return pr.wish(c, want)
	}
	conds := make([]*formula, 0, n)
	for k := range n {
		f := pr.wish(c+k, want)
		if want && f.op == opNo || !want && f.op == opYes {
			return f
		}
		conds = append(conds, f)
	}
	if want {
		return join(opAll, conds)
	}
	return join(opSome, conds)
}

// wish is the formula for condition c holding (want), or not.
func (pr *problem) wish(c int, want bool) *formula {
	l := literal{c, pr.conds[c].Cmp}
	if !want {
		l.cmp = opposite(l.cmp)
	}
	return pr.isLiteral(l)
}

// remainderAtLeast adds the condition that the undisclosed remainder has at least the given share.
func (pr *problem) remainderAtLeast(percent float64) int {
	pr.conds = append(pr.conds[:len(pr.conds):len(pr.conds)], &Condition{
		Terms: []Term{{Ingredient: -1, Weight: 1}}, Cmp: AtLeast, Bound: percent, What: "undisclosed remainder", Unit: "%",
	})
	pr.form = append(pr.form[:len(pr.form):len(pr.form)], len(pr.conds)-1)
	pr.bounds = append(pr.bounds, bounds{})
	loose := *pr.loose
	loose.reason = append(loose.reason[:len(loose.reason):len(loose.reason)], nil)
	pr.loose = &loose
	return len(pr.conds) - 1
}

// searchLimit bounds the cases one question may fall into; real mixtures need a few dozen.
const searchLimit = 100_000

// ErrTooManyCases is wrapped when a question about the compositions falls into more cases than can be tried.
var ErrTooManyCases = errors.New("the question falls into too many cases; narrow the ranges")

// search looks for a composition that fulfils a formula: literals are asserted, a composition that fulfils all of them
// is found by linear programming, and only where it misses an "or" or a cut-off the search splits into cases.
type search struct {
	*problem
	ctx      context.Context
	asserted []literal
	chosen   map[int]optional
	cases    int
}

// find returns a composition (with the remainder as its last value) that fulfils the formula, or nil when none does.
func (pr *problem) find(ctx context.Context, goal *formula) ([]float64, error) {
	q := &search{problem: pr, ctx: ctx, chosen: map[int]optional{}}
	return q.run([]*formula{goal}, nil)
}

// run asserts the goals on top of what is asserted and tries to fulfil the pending alternatives.
func (q *search) run(goals, pending []*formula) ([]float64, error) {
	q.cases++
	if q.cases > searchLimit {
		return nil, fmt.Errorf("deciding %q: %w", q.p.Mixture.Name, ErrTooManyCases)
	}
	if err := q.ctx.Err(); err != nil {
		return nil, err
	}
	mark := len(q.asserted)
	defer func() { q.asserted = q.asserted[:mark] }()
	pending = append([]*formula(nil), pending...)
	for len(goals) > 0 {
		g := goals[0]
		goals = goals[1:]
		switch g.op {
		case opNo:
			return nil, nil
		case opIs:
			if !q.assert(g.lit) {
				return nil, nil
			}
		case opAll:
			goals = append(append([]*formula(nil), g.kids...), goals...)
		case opSome:
			pending = append(pending, g)
		}
	}
	x, err := q.candidate()
	if x == nil || err != nil {
		return nil, err
	}
	return q.refine(x, pending)
}

// assert adds a literal unless it is there already; false when it contradicts the space or another literal outright.
func (q *search) assert(l literal) bool {
	for _, a := range q.asserted {
		if a == l {
			return true
		}
		if q.form[a.cond] == q.form[l.cond] && q.excludes(a, l) {
			return false
		}
	}
	q.asserted = append(q.asserted, l)
	return q.withinReach(l)
}

// excludes tells whether two literals about the same sum leave no value for it.
func (q *search) excludes(a, b literal) bool {
	if upward(a.cmp) == upward(b.cmp) {
		return false
	}
	if upward(b.cmp) {
		a, b = b, a
	}
	floor, ceiling := q.conds[a.cond].Bound, q.conds[b.cond].Bound
	tol := Tolerance * max(math.Abs(floor), math.Abs(ceiling))
	return floor > ceiling+tol || floor >= ceiling-tol && (a.cmp == MoreThan || b.cmp == LessThan)
}

// withinReach tells whether the literal alone can hold on the current space with the choices made.
func (q *search) withinReach(l literal) bool {
	e := q.best(l)
	return e.reaches(l.cmp, q.conds[l.cond].Bound)
}

func (q *search) best(l literal) extreme {
	return q.f.extreme(q.conds[l.cond].Terms, q.states(l.cond, q.chosen), upward(l.cmp))
}

// candidate finds a composition that fulfils the asserted literals, taking undecided terms in the way that suits each.
func (q *search) candidate() ([]float64, error) {
	switch len(q.asserted) {
	case 0:
		if !q.s.nonempty() {
			return nil, nil
		}
		return q.s.centre(make([]float64, len(q.s.lo))), nil
	case 1:
		return q.single(q.asserted[0]), nil
	}
	if x := q.guess(); x != nil {
		return x, nil
	}
	rows := make([]row, 0, len(q.asserted))
	for _, l := range q.asserted {
		rows = append(rows, q.relaxed(l))
	}
	x, _, err := solve(q.s, rows, q.exact)
	return x, err
}

// guess tries compositions between the middle of the space and the best points of the asserted literals, which often
// spares the linear program.
func (q *search) guess() []float64 {
	if _, torn := q.torn(); torn {
		return nil
	}
	n := len(q.s.lo)
	middle := q.s.centre(make([]float64, n))
	if q.suits(middle) {
		return middle
	}
	x, mean := make([]float64, n), make([]float64, n)
	for _, l := range q.asserted {
		e := q.best(l)
		if e.none {
			return nil
		}
		for i := range x {
			x[i] = (e.point[i] + e.inner[i]) / 2
			mean[i] += x[i] / float64(len(q.asserted))
		}
		if q.suits(x) {
			return x
		}
	}
	if q.suits(mean) {
		return mean
	}
	return nil
}

// suits tells whether x lies in the space and fulfils every asserted literal.
func (q *search) suits(x []float64) bool {
	if !q.s.has(x) {
		return false
	}
	for _, l := range q.asserted {
		if !q.fulfils(x, l) {
			return false
		}
	}
	return true
}

// single finds a composition for one literal, as far from the bound as the middle of the ranges allows.
func (q *search) single(l literal) []float64 {
	e := q.best(l)
	if !e.reaches(l.cmp, q.conds[l.cond].Bound) {
		return nil
	}
	x := make([]float64, len(e.point))
	for part := 1.0; part > 1e-12; part /= 2 {
		for i := range x {
			x[i] = e.point[i] + part*(e.inner[i]-e.point[i])
		}
		if q.fulfils(x, l) {
			return x
		}
	}
	copy(x, e.point)
	return x
}

// relaxed is the literal as a linear row, with undecided terms counted in the way that helps.
func (q *search) relaxed(l literal) row {
	c := q.conds[l.cond]
	up := upward(l.cmp)
	q.f.load(c.Terms, q.states(l.cond, q.chosen), up)
	q.f.relax()
	r := row{coef: append([]float64(nil), q.f.weight...), bound: c.Bound, strict: l.cmp == MoreThan || l.cmp == LessThan}
	if !up {
		for i := range r.coef {
			r.coef[i] = -r.coef[i]
		}
		r.bound = -r.bound
	}
	return r
}

// refine checks a candidate against what it must really fulfil and splits into cases at the first miss.
func (q *search) refine(x []float64, pending []*formula) ([]float64, error) {
	if r, ok := q.torn(); ok {
		return q.splitReason(r, pending)
	}
	for _, l := range q.asserted {
		if !q.fulfils(x, l) {
			k := q.culprit(x, l)
			if k < 0 {
				if y := q.mend(); y != nil {
					x = y
					continue
				}
				k = q.undecided(l)
			}
			if k >= 0 {
				return q.splitCutoff(&q.conds[l.cond].Terms[k], pending)
			}
			return nil, fmt.Errorf("deciding %q: arithmetic too inexact near %q", q.p.Mixture.Name, q.conds[l.cond].What)
		}
	}
	for i, g := range pending {
		if q.satisfied(x, g) {
			continue
		}
		rest := append(append([]*formula(nil), pending[:i]...), pending[i+1:]...)
		for _, kid := range g.kids {
			y, err := q.run([]*formula{kid}, rest)
			if y != nil || err != nil {
				return y, err
			}
		}
		return nil, nil
	}
	return x, nil
}

// undecided is a term of the literal whose cut-off lies inside the range of its ingredient, or -1.
func (q *search) undecided(l literal) int {
	q.f.load(q.conds[l.cond].Terms, q.states(l.cond, q.chosen), upward(l.cmp))
	if len(q.f.jumps) == 0 {
		return -1
	}
	return q.f.jumps[0].term
}

// mend looks for a composition with more distance to the bounds by exact fractions, for a candidate that misses a
// literal by rounding.
func (q *search) mend() []float64 {
	rows := make([]row, 0, len(q.asserted))
	for _, l := range q.asserted {
		r := q.relaxed(l)
		rows = append(rows, r)
	}
	y, found, err := newSystem(q.s, rows).fractions()
	if err != nil || !found {
		return nil
	}
	for _, l := range q.asserted {
		if !q.fulfils(y, l) {
			return nil
		}
	}
	return y
}

// torn finds a reason set aside that one asserted literal wants to count and another does not.
func (q *search) torn() (int, bool) {
	if q.loose == nil {
		return 0, false
	}
	wish := map[int]bool{}
	for _, l := range q.asserted {
		for k, st := range q.states(l.cond, q.chosen) {
			if st != onOrOff {
				continue
			}
			r := q.loose.reason[l.cond][k]
			helps := (q.conds[l.cond].Terms[k].Weight > 0) == upward(l.cmp)
			if w, seen := wish[r]; seen && w != helps {
				return r, true
			}
			wish[r] = helps
		}
	}
	return 0, false
}

func (q *search) splitReason(r int, pending []*formula) ([]float64, error) {
	defer delete(q.chosen, r)
	for _, st := range []optional{asStated, off} {
		q.chosen[r] = st
		if x, err := q.again(pending); x != nil || err != nil {
			return x, err
		}
	}
	return nil, nil
}

func (q *search) splitCutoff(t *Term, pending []*formula) (x []float64, err error) {
	for _, upper := range []bool{true, false} {
		q.f.withPiece(t, upper, func() { x, err = q.again(pending) })
		if x != nil || err != nil {
			return x, err
		}
	}
	return nil, nil
}

// again runs the search on what is asserted after the space or the choices have narrowed.
func (q *search) again(pending []*formula) ([]float64, error) {
	if !q.s.nonempty() {
		return nil, nil
	}
	for _, l := range q.asserted {
		if !q.withinReach(l) {
			return nil, nil
		}
	}
	return q.run(nil, pending)
}

// culprit is the term of a missed literal whose cut-off the relaxed row left out of account and that differs most at x.
func (q *search) culprit(x []float64, l literal) int {
	c := q.conds[l.cond]
	states := q.states(l.cond, q.chosen)
	worst, size := -1, -1.0
	for k := range c.Terms {
		t := &c.Terms[k]
		v := q.f.variable(t)
		if states != nil && states[k] == off || q.f.counts(t, v) != sometimes {
			continue
		}
		helps := (t.Weight > 0) == upward(l.cmp)
		if states != nil && states[k] == onOrOff && !helps {
			continue
		}
		if gap := math.Abs(t.Weight * x[v]); t.Counts(x[v]) != helps && gap > size {
			worst, size = k, gap
		}
	}
	return worst
}

// fulfils evaluates a literal at x by the comparison every classification uses, with reasons that are set aside
// counting in the way that helps.
func (q *search) fulfils(x []float64, l literal) bool {
	c := *q.conds[l.cond]
	c.Cmp = l.cmp
	states := q.states(l.cond, q.chosen)
	if states == nil {
		return c.Holds(x[:len(x)-1])
	}
	var terms []Term
	for k, t := range c.Terms {
		if states[k] == asStated || states[k] == onOrOff && q.countsFor(l.cond, k) {
			terms = append(terms, t)
		}
	}
	c.Terms = terms
	return c.Holds(x[:len(x)-1])
}

// countsFor tells whether an undecided term counts: as the asserted literals wish, or as stated when none of them cares.
func (q *search) countsFor(cond, term int) bool {
	r := q.loose.reason[cond][term]
	for _, a := range q.asserted {
		for k, other := range q.loose.reason[a.cond] {
			if other == r {
				return (q.conds[a.cond].Terms[k].Weight > 0) == upward(a.cmp)
			}
		}
	}
	return true
}

// satisfied evaluates a formula at x.
func (q *search) satisfied(x []float64, g *formula) bool {
	switch g.op {
	case opIs:
		return q.fulfils(x, g.lit)
	case opAll:
		for _, k := range g.kids {
			if !q.satisfied(x, k) {
				return false
			}
		}
		return true
	case opSome:
		for _, k := range g.kids {
			if q.satisfied(x, k) {
				return true
			}
		}
		return false
	}
	return g.op == opYes
}
