package classify

import "math"

// extreme is the largest or smallest value a sum takes over a space. Reached is false when compositions only come as
// close as one likes to it, because an open end lies in the way.
type extreme struct {
	value   float64
	size    float64 // Σ|weight·share| there, for the tolerance of comparisons
	reached bool
	none    bool      // the space is empty
	point   []float64 // a composition that takes the value, or that others come close to when it is not reached
	inner   []float64 // a composition of the space on the same side of every cut-off, away from the ends
}

// reaches tells whether some composition fulfils the comparison, for an extreme taken on the side that helps it: the
// maximum for "at least" and "more than", the minimum for the others.
func (e *extreme) reaches(cmp Compare, bound float64) bool {
	if e.none {
		return false
	}
	tol := Tolerance * max(math.Abs(bound), e.size)
	switch cmp {
	case AtLeast:
		return e.value > bound+tol || e.value >= bound-tol && e.reached
	case MoreThan:
		return e.value > bound+tol
	case AtMost:
		return e.value < bound-tol || e.value <= bound+tol && e.reached
	case LessThan:
		return e.value < bound-tol
	}
	return false
}

// opposite is the comparison that holds exactly when cmp does not.
func opposite(cmp Compare) Compare {
	switch cmp {
	case AtLeast:
		return LessThan
	case MoreThan:
		return AtMost
	case AtMost:
		return MoreThan
	}
	return AtLeast
}

// upward tells whether a larger value helps the comparison.
func upward(cmp Compare) bool { return cmp == AtLeast || cmp == MoreThan }

// optional says how a term whose reason is not taken as given enters a sum.
type optional uint8

const (
	asStated optional = iota // the term counts from its cut-off on
	onOrOff                  // it may or may not count
	off                      // it does not count
)

// finder works out extremes of sums over spaces. It keeps its scratch memory between calls and is not safe for
// concurrent use.
type finder struct {
	s        *space
	weight   []float64
	order    []int
	point    []float64
	jumps    []jump
	segments []segment
	slopes   []slopes
	nodes    int
}

// jump is a term whose cut-off lies inside the range of its ingredient: below it the term adds nothing, from it on
// weight·share.
type jump struct {
	term, variable int
	weight, cutoff float64
	open           bool
	helps          bool // counting favours the extreme
}

func newFinder(s *space) *finder {
	n := len(s.lo)
	return &finder{s: s, weight: make([]float64, n), order: make([]int, n), point: make([]float64, n), slopes: make([]slopes, n)}
}

// extreme finds the maximum (up) or minimum of Σ weight·share over the space. States gives how each term counts; nil
// means all as stated. Terms with a cut-off inside the range of their ingredient are decided by exact branching: either
// the share stays below the cut-off and adds nothing, or it reaches it and counts.
func (f *finder) extreme(terms []Term, states []optional, up bool) extreme {
	best := extreme{none: true}
	f.branch(terms, states, up, &best)
	return best
}

func (f *finder) branch(terms []Term, states []optional, up bool, best *extreme) {
	f.nodes++
	if !f.s.nonempty() {
		return
	}
	f.load(terms, states, up)
	if len(f.jumps) == 0 {
		if e := f.linear(up); best.none || better(&e, best, up) {
			f.keep(&e, best)
		}
		return
	}
	bound, split := f.bound(up)
	if !best.none && !better(&bound, best, up) {
		return
	}
	t := &terms[split.term]
	for _, upper := range [...]bool{split.upperFirst, !split.upperFirst} {
		f.withPiece(t, upper, func() { f.branch(terms, states, up, best) })
	}
}

func (f *finder) keep(e, best *extreme) {
	e.point = append(best.point[:0], f.point...)
	if len(best.inner) == 0 {
		best.inner = make([]float64, len(f.point))
	}
	e.inner = f.s.centre(best.inner)
	*best = *e
}

// better tells whether e improves on best, counting a value that is reached above the same value that is not.
func better(e, best *extreme, up bool) bool {
	tol := Tolerance * 1e-3 * max(math.Abs(e.value), math.Abs(best.value), e.size, best.size)
	d := e.value - best.value
	if !up {
		d = -d
	}
	return d > tol || d >= -tol && e.reached && !best.reached
}

// load fills the weights for the current space, and the jumps, which the space leaves undecided.
func (f *finder) load(terms []Term, states []optional, up bool) {
	clear(f.weight)
	f.jumps = f.jumps[:0]
	for i := range terms {
		t := &terms[i]
		state := asStated
		if states != nil {
			state = states[i]
		}
		helps := (t.Weight > 0) == up
		if state == off || state == onOrOff && !helps {
			continue
		}
		v := f.variable(t)
		switch f.counts(t, v) {
		case sometimes:
			f.jumps = append(f.jumps, jump{term: i, variable: v, weight: t.Weight, cutoff: t.Cutoff, open: t.CutoffOpen, helps: helps})
		case always:
			f.weight[v] += t.Weight
		}
	}
}

// relax loads, after load, the jumps too, each in the way that favours the extreme, so that the sum bounds the truth.
func (f *finder) relax() {
	for i := range f.jumps {
		if j := &f.jumps[i]; j.helps {
			f.weight[j.variable] += j.weight
		}
	}
}

type counting uint8

const (
	never counting = iota
	sometimes
	always
)

func (f *finder) variable(t *Term) int {
	if t.Ingredient < 0 {
		return len(f.s.lo) - 1
	}
	return t.Ingredient
}

// counts tells whether the term's ingredient lies at or above the cut-off all over the space, nowhere or somewhere.
func (f *finder) counts(t *Term, v int) counting {
	if t.Cutoff <= 0 && !t.CutoffOpen {
		return always
	}
	lo, hi := f.s.lo[v], f.s.hi[v]
	slack := t.Cutoff * Tolerance
	switch {
	case lo > t.Cutoff+slack || lo >= t.Cutoff-slack && (!t.CutoffOpen || f.s.loOpen[v]):
		return always
	case hi < t.Cutoff-slack || hi <= t.Cutoff+slack && (t.CutoffOpen || f.s.hiOpen[v]):
		return never
	}
	return sometimes
}

// withPiece runs do on the part of the space in which the term counts (upper) or does not, then restores the space.
func (f *finder) withPiece(t *Term, upper bool, do func()) {
	v, s := f.variable(t), f.s
	lo, hi, loOpen, hiOpen := s.lo[v], s.hi[v], s.loOpen[v], s.hiOpen[v]
	if upper {
		s.lo[v], s.loOpen[v] = t.Cutoff, t.CutoffOpen
	} else {
		s.hi[v], s.hiOpen[v] = t.Cutoff, !t.CutoffOpen
	}
	do()
	s.lo[v], s.hi[v], s.loOpen[v], s.hiOpen[v] = lo, hi, loOpen, hiOpen
}

// linear finds the extreme of the loaded weights over the space: every share at its lower end, and what is missing of
// 100 filled in order of weight, the best first (the continuous knapsack). The point is the middle of all best points,
// so that it avoids open ends whenever any best point does.
func (f *finder) linear(up bool) extreme {
	s := f.s
	f.sortByWeight(up)
	rest := whole
	for i := range s.lo {
		rest -= s.lo[i]
	}
	k := 0
	for ; k < len(f.order)-1; k++ {
		room := s.hi[f.order[k]] - s.lo[f.order[k]]
		if rest <= room+sumTolerance*1e-3 {
			break
		}
		rest -= room
	}
	return f.fill(f.weight[f.order[k]])
}

// fill builds the extreme for the weight at which the filling stopped: heavier shares are full, lighter ones at their
// lower end, those of the very weight share what is left in proportion to their room.
func (f *finder) fill(edge float64) extreme {
	s := f.s
	first, last := -1, -1
	left, groupLo, groupHi := whole, 0.0, 0.0
	reached := true
	loOpen, hiOpen := false, false
	past := true // still before the group in the order
	for k, i := range f.order {
		switch {
		case f.weight[i] == edge:
			if first < 0 {
				first = k
			}
			last, past = k, false
			groupLo += s.lo[i]
			groupHi += s.hi[i]
			loOpen = loOpen || s.loOpen[i]
			hiOpen = hiOpen || s.hiOpen[i]
		case past:
			f.point[i] = s.hi[i]
			left -= s.hi[i]
			reached = reached && !s.hiOpen[i]
		default:
			f.point[i] = s.lo[i]
			left -= s.lo[i]
			reached = reached && !s.loOpen[i]
		}
	}
	if left <= groupLo+sumTolerance {
		reached = reached && !loOpen
	}
	if left >= groupHi-sumTolerance {
		reached = reached && !hiOpen
	}
	part := 0.0
	if groupHi > groupLo {
		part = min(max((left-groupLo)/(groupHi-groupLo), 0), 1)
	}
	for k := first; k <= last; k++ {
		i := f.order[k]
		f.point[i] = s.lo[i] + part*(s.hi[i]-s.lo[i])
	}
	e := extreme{reached: reached, point: f.point}
	for i, w := range f.weight {
		if w != 0 {
			e.value += w * f.point[i]
			e.size += math.Abs(w * f.point[i])
		}
	}
	return e
}

// sortByWeight orders the variables by weight, the one to fill first at the front. The lists are short and often
// nearly in order, so insertion is the quickest way.
func (f *finder) sortByWeight(up bool) {
	for i := range f.order {
		w := f.weight[i]
		k := i
		for ; k > 0 && (up && f.weight[f.order[k-1]] < w || !up && f.weight[f.order[k-1]] > w); k-- {
			f.order[k] = f.order[k-1]
		}
		f.order[k] = i
	}
}
