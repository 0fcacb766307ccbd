package classify

import (
	"fmt"
	"math"
	"math/big"
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

// system is a space with further inequalities, brought into the form A·y + c·t ≤ b with y ≥ 0: one variable is
// replaced by 100 minus the others, shares are counted from their lower ends in hundredths, and t is the common
// distance to the sides that matter.
type system struct {
	s       *space
	vars    []int // variables of the space behind the columns
	lump    []int // variables that no row tells apart, moved together; they replace the one that 100 determines
	ratio   bool  // lump moves between its ends; else it is the single variable lump[0]
	lumpLo  float64
	lumpHi  float64
	base    float64 // what 100 leaves for the lump when every column is zero
	rows    [][]float64
	bounds  []float64
	strict  []bool
	literal []bool // the row is one of the added inequalities
}

// scale is the size to which each row is brought.
const scale = whole

func newSystem(s *space, rows []row) *system {
	sys := &system{s: s}
	sys.chooseColumns(rows)
	sys.addEnds()
	for i := range rows {
		sys.addRow(&rows[i])
	}
	return sys
}

// chooseColumns keeps the variables that rows tell apart and that can move; all the rest is lumped together.
func (sys *system) chooseColumns(rows []row) {
	s := sys.s
	widest := -1
	for i := range s.lo {
		used := false
		for k := range rows {
			used = used || rows[k].coef[i] != 0
		}
		if !used {
			sys.lump = append(sys.lump, i)
			sys.lumpLo += s.lo[i]
			sys.lumpHi += s.hi[i]
			continue
		}
		if s.hi[i] > s.lo[i] {
			sys.vars = append(sys.vars, i)
			if widest < 0 || s.hi[i]-s.lo[i] > s.hi[widest]-s.lo[widest] {
				widest = i
			}
		}
	}
	sys.ratio = sys.lumpHi > sys.lumpLo
	if !sys.ratio && widest >= 0 {
		sys.lump, sys.lumpLo, sys.lumpHi = []int{widest}, s.lo[widest], s.hi[widest]
		sys.vars = without(sys.vars, widest)
	}
	sys.base = whole
	in := make([]bool, len(s.lo))
	for _, i := range sys.lump {
		in[i] = true
	}
	for i := range s.lo {
		if !in[i] {
			sys.base -= s.lo[i]
		}
	}
}

func without(list []int, v int) []int {
	out := list[:0]
	for _, x := range list {
		if x != v {
			out = append(out, x)
		}
	}
	return out
}

// addEnds adds the upper ends, the open lower ends and the two ends of the lump.
func (sys *system) addEnds() {
	s := sys.s
	for k, i := range sys.vars {
		sys.add(unit(len(sys.vars), k, 1), (s.hi[i]-s.lo[i])/scale, s.hiOpen[i], false)
		if s.loOpen[i] {
			sys.add(unit(len(sys.vars), k, -1), 0, true, false)
		}
	}
	loOpen, hiOpen := false, false
	for _, i := range sys.lump {
		loOpen, hiOpen = loOpen || s.loOpen[i], hiOpen || s.hiOpen[i]
	}
	all := make([]float64, len(sys.vars))
	for k := range all {
		all[k] = 1
	}
	sys.add(all, (sys.base-sys.lumpLo)/scale, loOpen, false)
	if sys.base > sys.lumpHi-sumTolerance {
		neg := make([]float64, len(sys.vars))
		for k := range neg {
			neg[k] = -1
		}
		sys.add(neg, (sys.lumpHi-sys.base)/scale, hiOpen, false)
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
	lumpCoef := 0.0
	if !sys.ratio && len(sys.lump) == 1 {
		lumpCoef = r.coef[sys.lump[0]]
	}
	size := math.Abs(r.bound)
	rest := r.bound - lumpCoef*sys.base
	for i, w := range r.coef {
		size = max(size, math.Abs(w)*s.hi[i])
		if len(sys.lump) != 1 || i != sys.lump[0] || sys.ratio {
			rest -= w * s.lo[i]
		}
	}
	if size == 0 {
		size = 1
	}
	a := make([]float64, len(sys.vars))
	for k, i := range sys.vars {
		a[k] = -(r.coef[i] - lumpCoef) * scale / size
	}
	sys.add(a, -rest/size, r.strict, true)
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
	if len(sys.vars) > 0 && !exact {
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
	n, m := len(sys.vars), len(sys.rows)+1
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
	return sys.point(tab.solution(len(sys.vars))), true, nil
}

// point turns columns back into a composition with the remainder as its last value.
func (sys *system) point(y []float64) []float64 {
	s := sys.s
	x := append([]float64(nil), s.lo...)
	left := sys.base
	for k, i := range sys.vars {
		v := min(s.lo[i]+y[k]*scale, s.hi[i])
		x[i] = v
		left -= v - s.lo[i]
	}
	f := 0.0
	if sys.lumpHi > sys.lumpLo {
		f = min(max((left-sys.lumpLo)/(sys.lumpHi-sys.lumpLo), 0), 1)
	}
	for _, i := range sys.lump {
		x[i] = s.lo[i] + f*(s.hi[i]-s.lo[i])
	}
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
	n, m := len(sys.vars), len(sys.rows)+1
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
