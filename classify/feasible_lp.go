package classify

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// row is one linear inequality Σ coef·x ≥ bound over the variables of a space, or > when strict.
type row struct {
	coef   []float64
	bound  float64
	strict bool
}

// The two differences, relative to the size of a row, that separate noise of arithmetic from a real distance.
const (
	clearly = 1e-7 // a float solution this far inside or outside is taken as it is; nearer ones are decided in fractions
	barely  = 5e-10
)

// system is a space with further inequalities, brought into the form A·y + c·t ≤ b with y ≥ 0. Shares that no row tells
// apart move together as one group; one group is replaced by 100 minus the others, the groups are counted from their
// lower ends in hundredths, and t is the common distance to the sides that matter.
type system struct {
	s       *space
	groups  []shares // the columns
	rest    shares   // the group that 100 and the others determine
	base    float64  // what 100 leaves for it when every column is zero
	rows    [][]float64
	bounds  []float64
	strict  []bool
	literal []bool // the row is one of the added inequalities
}

// shares are variables of the space that move together, each the same part of its range above its lower end. Any sum
// that the single variables can have, their group can have.
type shares struct {
	members        []int
	lo, hi         float64 // sums of the ends
	loOpen, hiOpen bool    // whether any end is open
}

func (g *shares) add(s *space, i int) {
	g.members = append(g.members, i)
	g.lo += s.lo[i]
	g.hi += s.hi[i]
	g.loOpen = g.loOpen || s.loOpen[i]
	g.hiOpen = g.hiOpen || s.hiOpen[i]
}

// spread gives the members their parts of a sum.
func (g *shares) spread(s *space, x []float64, sum float64) {
	part := 0.0
	if g.hi > g.lo {
		part = min(max((sum-g.lo)/(g.hi-g.lo), 0), 1)
	}
	for _, i := range g.members {
		x[i] = s.lo[i] + part*(s.hi[i]-s.lo[i])
	}
}

// scale is the size to which each row is brought.
const scale = whole

func newSystem(s *space, rows []row) *system {
	sys := &system{s: s, base: whole}
	sys.group(rows)
	sys.addEnds()
	for i := range rows {
		sys.addRow(&rows[i])
	}
	return sys
}

// group puts together the variables that no row tells apart, and chooses the group to be determined by the others: the
// one that no row mentions, or else the widest.
func (sys *system) group(rows []row) {
	s := sys.s
	var all []shares
	for i := range s.lo {
		at := slices.IndexFunc(all, func(g shares) bool { return alike(rows, g.members[0], i) })
		if at < 0 {
			at = len(all)
			all = append(all, shares{})
		}
		all[at].add(s, i)
	}
	rest := 0
	for k := range all {
		free, was := unmentioned(rows, all[k].members[0]), unmentioned(rows, all[rest].members[0])
		width, widest := all[k].hi-all[k].lo, all[rest].hi-all[rest].lo
		if width > 0 && free || width > widest && !(was && widest > 0) {
			rest = k
		}
	}
	sys.rest = all[rest]
	for k := range all {
		if k == rest {
			continue
		}
		sys.base -= all[k].lo
		if all[k].hi > all[k].lo {
			sys.groups = append(sys.groups, all[k])
		}
	}
}

func alike(rows []row, i, k int) bool {
	for r := range rows {
		if rows[r].coef[i] != rows[r].coef[k] {
			return false
		}
	}
	return true
}

func unmentioned(rows []row, i int) bool {
	for r := range rows {
		if rows[r].coef[i] != 0 {
			return false
		}
	}
	return true
}

// addEnds adds the upper ends, the open lower ends and the two ends of the group that is determined.
func (sys *system) addEnds() {
	n := len(sys.groups)
	for k := range sys.groups {
		g := &sys.groups[k]
		sys.add(unit(n, k, 1), (g.hi-g.lo)/scale, g.hiOpen, false)
		if g.loOpen {
			sys.add(unit(n, k, -1), 0, true, false)
		}
	}
	sys.add(slices.Repeat([]float64{1}, n), (sys.base-sys.rest.lo)/scale, sys.rest.loOpen, false)
	if sys.base > sys.rest.hi-sumTolerance {
		sys.add(slices.Repeat([]float64{-1}, n), (sys.rest.hi-sys.base)/scale, sys.rest.hiOpen, false)
	}
}

func unit(n, k int, v float64) []float64 {
	u := make([]float64, n)
	u[k] = v
	return u
}

// addRow adds Σ coef·x ≥ bound as its negative.
func (sys *system) addRow(r *row) {
	s := sys.s
	restCoef := r.coef[sys.rest.members[0]]
	size := math.Abs(r.bound)
	need := r.bound - restCoef*sys.base
	for i, w := range r.coef {
		size = max(size, math.Abs(w)*s.hi[i])
		need -= w * s.lo[i]
	}
	for _, i := range sys.rest.members {
		need += restCoef * s.lo[i]
	}
	if size == 0 {
		size = 1
	}
	a := make([]float64, len(sys.groups))
	for k := range sys.groups {
		a[k] = -(r.coef[sys.groups[k].members[0]] - restCoef) * scale / size
	}
	sys.add(a, -need/size, r.strict, true)
}

func (sys *system) add(a []float64, b float64, strict, literal bool) {
	sys.rows = append(sys.rows, a)
	sys.bounds = append(sys.bounds, b)
	sys.strict = append(sys.strict, strict)
	sys.literal = append(sys.literal, literal)
}

// solve looks for a composition of the space that fulfils the rows. It asks the floating-point solver first; when that
// fails or finds less than a clear distance either way, fractions decide. The answer is exact up to differences of
// 5e-10 of the size of a row, which are taken for rounding of the input. With exact, fractions decide at once.
func solve(s *space, rows []row, exact bool) (x []float64, found bool, err error) {
	if !s.nonempty() {
		return nil, false, nil
	}
	sys := newSystem(s, rows)
	if len(sys.groups) > 0 && !exact {
		y, t, err := sys.float()
		switch {
		case err == nil && t > clearly:
			return sys.point(y), true, nil
		case err == nil && t < -clearly:
			return nil, false, nil
		}
	}
	return sys.fractions()
}

// float maximises the common distance t to the open ends and the added inequalities, t ≤ 1. The start, all columns at
// zero and t low enough, is a vertex that the solver gets handed, so that it needs no first phase.
func (sys *system) float() (y []float64, t float64, err error) {
	defer func() { // the solver panics on input it finds ill-formed; to us that is one more kind of failure
		if r := recover(); r != nil {
			err = fmt.Errorf("linear solver: %v", r)
		}
	}()
	n, m := len(sys.groups), len(sys.rows)+1
	lift := 1.0
	for i, b := range sys.bounds {
		if sys.withDistance(i) {
			lift = max(lift, 1-b)
		}
	}
	a := mat.NewDense(m, n+1+m, nil)
	b := make([]float64, m)
	basis := make([]int, m)
	for i, r := range sys.rows {
		for k, v := range r {
			a.Set(i, k, v)
		}
		b[i] = max(sys.bounds[i], 0)
		if sys.withDistance(i) {
			a.Set(i, n, 1)
			b[i] = sys.bounds[i] + lift
		}
		a.Set(i, n+1+i, 1)
		basis[i] = n + 1 + i
	}
	a.Set(m-1, n, 1)
	a.Set(m-1, n+m, 1)
	b[m-1], basis[m-1] = 1+lift, n+m
	c := make([]float64, n+1+m)
	c[n] = -1
	_, sol, err := lp.Simplex(c, a, b, 1e-12, basis)
	if err != nil {
		return nil, 0, fmt.Errorf("linear solver: %w", err)
	}
	return sol[:n], sol[n] - lift, nil
}

// withDistance tells whether row i must be kept at the distance t.
func (sys *system) withDistance(i int) bool {
	return sys.literal[i] || sys.strict[i] || sys.bounds[i] < 0
}

// fractions decides in exact fractions: first the least amount s by which all rows must give way, then, with that
// amount, the largest distance t to the strict rows.
func (sys *system) fractions() (x []float64, found bool, err error) {
	tab := newTableau(sys)
	give, distance := tab.run()
	if give > barely {
		return nil, false, nil
	}
	for _, strict := range sys.strict {
		if strict && distance < 10*barely {
			return nil, false, nil
		}
	}
	return sys.point(tab.solution(len(sys.groups))), true, nil
}

// point turns columns back into a composition with the remainder as its last value.
func (sys *system) point(y []float64) []float64 {
	x := append([]float64(nil), sys.s.lo...)
	left := sys.base
	for k := range sys.groups {
		g := &sys.groups[k]
		sum := min(g.lo+y[k]*scale, g.hi)
		g.spread(sys.s, x, sum)
		left -= sum - g.lo
	}
	sys.rest.spread(sys.s, x, left)
	return x
}

// tableau is a simplex tableau in fractions with two objectives: least give s, then largest distance t. It chooses the
// lowest-numbered column that helps (Bland), so it always ends. Columns: y, s, t, slacks, right side.
type tableau struct {
	cell  [][]*big.Rat
	basis []int
	goals [2][]*big.Rat // reduced gains; a positive entry helps
	s, t  int
	cols  int
}

func newTableau(sys *system) *tableau {
	n, m := len(sys.groups), len(sys.rows)+1
	tb := &tableau{s: n, t: n + 1, cols: n + 2 + m}
	for i := range m {
		line := make([]*big.Rat, tb.cols+1)
		for k := range line {
			line[k] = new(big.Rat)
		}
		if i == m-1 { // t ≤ 1
			line[tb.t].SetInt64(1)
			line[tb.cols].SetInt64(1)
		} else {
			for k, v := range sys.rows[i] {
				setDecimal(line[k], v)
			}
			line[tb.s].SetInt64(-1)
			if sys.strict[i] {
				line[tb.t].SetInt64(1)
			}
			setDecimal(line[tb.cols], sys.bounds[i])
		}
		line[n+2+i].SetInt64(1)
		tb.cell = append(tb.cell, line)
		tb.basis = append(tb.basis, n+2+i)
	}
	for g := range tb.goals {
		tb.goals[g] = make([]*big.Rat, tb.cols+1)
		for k := range tb.goals[g] {
			tb.goals[g][k] = new(big.Rat)
		}
	}
	tb.goals[0][tb.s].SetInt64(-1)
	tb.goals[1][tb.t].SetInt64(1)
	return tb
}

// setDecimal reads v as the shortest decimal fraction that rounds to it: 0.1 is one tenth.
func setDecimal(r *big.Rat, v float64) {
	if _, ok := r.SetString(strconv.FormatFloat(v, 'g', 15, 64)); !ok {
		r.SetFloat64(v)
	}
}

// run makes the start feasible by giving way on the worst row, then improves the goals in turn.
func (tb *tableau) run() (give, distance float64) {
	worst := 0
	for i := range tb.cell {
		if tb.cell[i][tb.cols].Cmp(tb.cell[worst][tb.cols]) < 0 {
			worst = i
		}
	}
	if tb.cell[worst][tb.cols].Sign() < 0 {
		tb.pivot(worst, tb.s)
	}
	for {
		col := tb.entering()
		if col < 0 {
			break
		}
		line := tb.leaving(col)
		if line < 0 {
			break // cannot happen: s falls to 0 and t to its cap
		}
		tb.pivot(line, col)
	}
	x := tb.solution(tb.cols)
	return x[tb.s], x[tb.t]
}

func (tb *tableau) entering() int {
	for k := range tb.cols {
		first := tb.goals[0][k].Sign()
		if first > 0 || first == 0 && tb.goals[1][k].Sign() > 0 {
			return k
		}
	}
	return -1
}

func (tb *tableau) leaving(col int) int {
	best := -1
	var ratio, least big.Rat
	for i, line := range tb.cell {
		if line[col].Sign() <= 0 {
			continue
		}
		ratio.Quo(line[tb.cols], line[col])
		c := -1
		if best >= 0 {
			c = ratio.Cmp(&least)
		}
		if c < 0 || c == 0 && tb.basis[i] < tb.basis[best] {
			best = i
			least.Set(&ratio)
		}
	}
	return best
}

func (tb *tableau) pivot(line, col int) {
	p := new(big.Rat).Inv(tb.cell[line][col])
	for _, c := range tb.cell[line] {
		c.Mul(c, p)
	}
	tb.basis[line] = col
	for i := range tb.cell {
		if i != line {
			eliminate(tb.cell[i], tb.cell[line], col)
		}
	}
	for g := range tb.goals {
		eliminate(tb.goals[g], tb.cell[line], col)
	}
}

func eliminate(target, source []*big.Rat, col int) {
	if target[col].Sign() == 0 {
		return
	}
	f := new(big.Rat).Set(target[col])
	var part big.Rat
	for k, c := range source {
		if c.Sign() != 0 {
			part.Mul(f, c)
			target[k].Sub(target[k], &part)
		}
	}
}

// solution reads off the first n variables.
func (tb *tableau) solution(n int) []float64 {
	x := make([]float64, n)
	for i, k := range tb.basis {
		if k < n {
			x[k], _ = tb.cell[i][tb.cols].Float64()
		}
	}
	return x
}
