package classify

import (
	"cmp"
	"math"
	"slices"
)

// segment is a stretch of one variable's range over which the bound of a sum rises evenly.
type segment struct {
	slope    float64
	room     float64
	variable int
	jump     int // index of the jump it belongs to, or -1
}

// slopes are those of a variable's first and last segment, and its jump or -1.
type slopes struct {
	first, last float64
	jump        int
}

// split is the jump to decide next, and the side to try first.
type split struct {
	term       int
	upperFirst bool
}

// bound bounds the extreme of the loaded sum with its jumps: each jump is replaced by the tightest straight or bent line
// on the favourable side of it (the convex or concave envelope), after which filling up by slope is exact. It returns
// the jump that the filling leaves furthest from the truth. Reached is false only when no composition can take the
// bound.
func (f *finder) bound(up bool) (extreme, split) {
	f.cut()
	slices.SortFunc(f.segments, func(a, b segment) int {
		if up {
			return cmp.Compare(b.slope, a.slope)
		}
		return cmp.Compare(a.slope, b.slope)
	})
	e := extreme{reached: true}
	left := whole
	for i, lo := range f.s.lo {
		f.point[i] = lo
		left -= lo
		e.value += f.weight[i] * lo
		e.size += math.Abs(f.weight[i] * lo)
	}
	last, partly := 0, false
	for k := range f.segments {
		g := &f.segments[k]
		if g.room <= 0 {
			continue
		}
		if left <= 0 {
			break
		}
		take := min(left, g.room)
		e.value += g.slope * take
		e.size += math.Abs(g.slope * take)
		f.point[g.variable] += take
		left -= take
		last, partly = k, take < g.room
	}
	e.reached = !f.stuck(f.segments[last].slope, up)
	return e, f.choose(&f.segments[last], partly)
}

// stuck tells whether every best filling, which stops at segments of slope edge, leaves a share at an open end, or just
// at a cut-off where counting sets in to the disadvantage of the extreme. The bound is then only come near.
func (f *finder) stuck(edge float64, up bool) bool {
	better := func(slope float64) bool { return slope != edge && (slope > edge) == up }
	worse := func(slope float64) bool { return slope != edge && (slope > edge) != up }
	for i := range f.s.lo {
		if f.s.hi[i] > f.s.lo[i] && (f.s.hiOpen[i] && better(f.slopes[i].last) || f.s.loOpen[i] && worse(f.slopes[i].first)) {
			return true
		}
		if k := f.slopes[i].jump; k >= 0 && !f.jumps[k].helps && !f.jumps[k].open && f.s.hi[i] > f.jumps[k].cutoff &&
			better(f.slopes[i].first) && worse(f.slopes[i].last) {
			return true
		}
	}
	return false
}

// choose picks the jump at which the filling stopped half-way, where it differs most from the truth; else any, with the
// side first that the filling took.
func (f *finder) choose(last *segment, partly bool) split {
	k := 0
	if partly && last.jump >= 0 {
		k = last.jump
	}
	j := &f.jumps[k]
	x := f.point[j.variable]
	if j.helps {
		return split{j.term, x > j.cutoff-sumTolerance || partly && k == last.jump}
	}
	return split{j.term, x > j.cutoff+sumTolerance}
}

// cut lays out the segments of every variable: one, or one below and one above its cut-off. Both envelopes start at the
// lower end with nothing counted; the lower one stays there up to the cut-off and then climbs to the upper end, the
// upper one climbs to the cut-off and then goes along.
func (f *finder) cut() {
	f.segments = f.segments[:0]
	for i := range f.s.lo {
		lo, hi := f.s.lo[i], f.s.hi[i]
		k := f.jumpOf(i)
		if k >= 0 && f.jumps[k].helps && f.jumps[k].cutoff <= lo { // counts from just above the lower end on
			f.weight[i] += f.jumps[k].weight
			k = -1
		}
		if k < 0 {
			f.segments = append(f.segments, segment{slope: f.weight[i], room: hi - lo, variable: i, jump: -1})
			f.slopes[i] = slopes{f.weight[i], f.weight[i], -1}
			continue
		}
		j := &f.jumps[k]
		first, second := 0.0, 0.0
		switch {
		case j.helps:
			first, second = j.weight*j.cutoff/(j.cutoff-lo), j.weight
		case hi > j.cutoff:
			second = j.weight * hi / (hi - j.cutoff)
		}
		f.slopes[i] = slopes{f.weight[i] + first, f.weight[i] + second, k}
		if hi <= j.cutoff {
			f.slopes[i].last = f.slopes[i].first
		}
		f.segments = append(f.segments,
			segment{slope: f.weight[i] + first, room: max(j.cutoff-lo, 0), variable: i, jump: k},
			segment{slope: f.weight[i] + second, room: max(hi-j.cutoff, 0), variable: i, jump: k})
	}
}

// jumpOf is the jump of variable i, or -1. A second jump of the same variable is loaded as if it had no cut-off when
// that favours the extreme, and left out when it does not; both bound it.
func (f *finder) jumpOf(i int) int {
	found := -1
	for k := range f.jumps {
		j := &f.jumps[k]
		if j.variable != i {
			continue
		}
		if found < 0 {
			found = k
		} else if j.helps {
			f.weight[i] += j.weight
		}
	}
	return found
}
