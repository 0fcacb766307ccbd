package exposure

import (
	"context"
	"errors"
	"math"
	"slices"
)

// source is one open liquid. Masses are in mg, so that mass over molar mass is in mmol.
type source struct {
	zone               int
	task               int
	from, fed, covered float64   // min: opened, wholly applied (fed = from: at once), covered or +Inf
	area               float64   // m², when wholly applied
	capture            float64   // share taken by a local exhaust
	ingredients        []int     // vapour index of each row below
	mass               []float64 // mg of each ingredient that gets on to the surface
	airMass            []float64 // mg of each ingredient that goes straight into the air while it is applied (overspray)
	inert              float64   // mmol of dissolved non-volatile ingredients
	k                  []float64 // m/min
	pull               [][]float64
	pullEvery          float64 // min between the columns of pull; 0 when the temperature stays
}

// pullAt is γ·p°/(R·T) in mmol/m³ of ingredient row at a time: the concentration over the pure liquid.
func (s *source) pullAt(row int, t float64) float64 {
	p := s.pull[row]
	if s.pullEvery == 0 || len(p) == 1 {
		return p[0]
	}
	x := math.Max(0, (t-s.from)/s.pullEvery)
	i := int(x)
	if i >= len(p)-1 {
		return p[len(p)-1]
	}
	return p[i] + (x-float64(i))*(p[i+1]-p[i])
}

// period is a time in which the air flows stay as they are.
type period struct {
	from, until float64
	flow        [][]float64 // m³/min from zone to zone
	out         []float64   // m³/min from zone to the outside
}

// airModel is all that the solver needs: zones, vapours, sources and periods.
type airModel struct {
	volume   []float64 // m³ per zone
	molar    []float64 // g/mol per vapour
	sources  []source
	periods  []period
	accuracy float64 // relative error per step
}

// airTrace is the solution at the accepted steps. Concentrations in mg/m³ and their time integrals in mg·min/m³ are
// indexed [step][vapour·zones + zone].
type airTrace struct {
	zones, vapours int
	times          []float64
	conc, integral [][]float64
	left           [][]float64 // [source][row] mg on the surface at the end
	gone           []float64   // mg per vapour that left the rooms
	start          []float64   // mg per vapour that was brought in
	arena          []float64
}

func (tr *airTrace) at(step, vapour, zone int) float64 {
	return tr.conc[step][vapour*tr.zones+zone]
}

// mostSteps is far above what any followed job needs (some hundred).
const mostSteps = 100000

// errSteps tells that the step size fell below what numbers can hold.
var errSteps = errors.New("the air model does not settle: a flow or vapour pressure is beyond what it can follow")

// stepper holds the state and the scratch space of one run.
type stepper struct {
	m        *airModel
	z, n     int
	state    airState
	sub      [3]airState
	base     [3][]float64
	tmp, rhs []float64
	peakC    []float64
	links    []link // of every source
	open     []int
	oneZone  int          // the zone of every open source, -1 when they lie in several
	pass     [3][]float64 // per number of parts: inverse of base times diag(volume), row by row
	answer   [3][]float64 // per number of parts: how the zones answer to 1 mg put into oneZone
	perMole  []float64    // 1/molar
}

type airState struct {
	conc, integral []float64
	left           [][]float64
	gone           []float64
}

func newState(m *airModel) airState {
	z, n := len(m.volume), len(m.molar)
	flat := make([]float64, 2*z*n+n)
	st := airState{conc: flat[:z*n], integral: flat[z*n : 2*z*n], gone: flat[2*z*n:]}
	for i := range m.sources {
		st.left = append(st.left, make([]float64, len(m.sources[i].mass)))
	}
	return st
}

func (a *airState) copyFrom(b *airState) {
	copy(a.conc, b.conc)
	copy(a.integral, b.integral)
	copy(a.gone, b.gone)
	for i := range a.left {
		copy(a.left[i], b.left[i])
	}
}

// solve follows the model from the first to the last period. The method is extrapolated linearly implicit Euler: three
// solutions of one step with 1, 2 and 3 parts, combined to third order (Deuflhard, SIAM Review 27 (1985) 505). Each part
// solves the air and all liquids of one vapour together, with the number of moles in a liquid held; it keeps every
// mass balance exactly and positive values positive, whatever the step.
func (m *airModel) solve(ctx context.Context, tr *airTrace) error {
	return m.solveWith(ctx, &stepper{}, tr)
}

// solveWith is solve with the scratch space of an earlier run, or a zero one.
func (m *airModel) solveWith(ctx context.Context, w *stepper, tr *airTrace) error {
	w.prepare(m)
	tr.begin(m)
	tr.record(m.periods[0].from, &w.state)
	h, tries := 0.05, 0
	for i := range m.periods {
		p := &m.periods[i]
		w.enter(p)
		t := p.from
		h = math.Min(h, 0.1)
		for t < p.until-1e-9 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if tries++; tries > mostSteps {
				return errSteps
			}
			h = math.Min(h, p.until-t)
			if left := p.until - t - h; left > 0 && left < 0.1*h {
				h = (p.until - t) / 2
			}
			e := w.step(p, t, h)
			if e <= 1 || h < 1e-7 {
				if h < 1e-7 && e > 1e6 {
					return errSteps
				}
				w.accept()
				t += h
				tr.record(t, &w.state)
			}
			h *= math.Min(4, math.Max(0.2, 0.85*math.Pow(e+1e-12, -1.0/3)))
		}
	}
	tr.finish(&w.state)
	return nil
}

// prepare makes the space, or clears that of an earlier run of a model of the same shape.
func (w *stepper) prepare(m *airModel) {
	if w.fits(m) {
		w.m = m
		w.state.clear()
		for i := range w.sub {
			w.sub[i].clear()
		}
		clear(w.peakC)
		return
	}
	*w = stepper{m: m, z: len(m.volume), n: len(m.molar)}
	w.state = newState(m)
	for i := range w.sub {
		w.sub[i] = newState(m)
		w.base[i] = make([]float64, w.z*w.z)
		w.pass[i], w.answer[i] = make([]float64, w.z*w.z), make([]float64, w.z)
	}
	for _, molar := range m.molar {
		w.perMole = append(w.perMole, 1/molar)
	}
	w.tmp, w.rhs = make([]float64, w.z*w.z), make([]float64, w.z)
	w.peakC = make([]float64, w.n)
	for i := range m.sources {
		w.links = append(w.links, newLink(&m.sources[i], w.n))
	}
}

// fits tells whether a model has the vapours, zones and sources of the run before.
func (w *stepper) fits(m *airModel) bool {
	return w.m != nil && w.z == len(m.volume) && slices.Equal(w.m.molar, m.molar) &&
		slices.EqualFunc(w.m.sources, m.sources, func(a, b source) bool { return slices.Equal(a.ingredients, b.ingredients) })
}

func (a *airState) clear() {
	clear(a.conc)
	clear(a.integral)
	clear(a.gone)
	for _, x := range a.left {
		clear(x)
	}
}

// enter drops covered liquids: what is left in them takes no further part but stays in the balance.
func (w *stepper) enter(p *period) {
	w.open, w.oneZone = w.open[:0], 0
	for i := range w.m.sources {
		if s := &w.m.sources[i]; s.from < p.until && s.covered > p.from {
			w.open = append(w.open, i)
		}
	}
	for i, si := range w.open {
		if zone := w.m.sources[si].zone; i == 0 {
			w.oneZone = zone
		} else if zone != w.oneZone {
			w.oneZone = -1
		}
	}
}

// step computes the three solutions and gives the error in units of what is allowed.
func (w *stepper) step(p *period, t, h float64) float64 {
	for parts := 1; parts <= 3; parts++ {
		st := &w.sub[parts-1]
		st.copyFrom(&w.state)
		w.matrix(p, h/float64(parts), w.base[parts-1])
		if w.oneZone >= 0 {
			w.invert(parts - 1)
		}
		for k := range parts {
			at, long := t+h*float64(k)/float64(parts), h/float64(parts)
			if w.oneZone >= 0 {
				w.eulerOne(p, st, parts-1, at, long)
			} else {
				w.euler(p, st, w.base[parts-1], at, long)
			}
		}
	}
	return w.combine()
}

// matrix fills diag(V) + h·flows.
func (w *stepper) matrix(p *period, h float64, b []float64) {
	for i := range w.z {
		loss := p.out[i]
		for j := range w.z {
			if i != j {
				loss += p.flow[i][j]
				b[i*w.z+j] = -h * p.flow[j][i]
			}
		}
		b[i*w.z+i] = w.m.volume[i] + h*loss
	}
}

// invert fills pass and answer from base, by solving for one unit vector after the other.
func (w *stepper) invert(part int) {
	if w.z == 3 {
		w.invert3(part)
		return
	}
	for col := range w.z {
		copy(w.tmp, w.base[part])
		clear(w.rhs)
		w.rhs[col] = 1
		eliminate(w.tmp, w.rhs, w.z)
		for row, x := range w.rhs {
			w.pass[part][row*w.z+col] = x * w.m.volume[col]
		}
		if col == w.oneZone {
			copy(w.answer[part], w.rhs)
		}
	}
}

// invert3 is invert for three zones, by cofactors.
func (w *stepper) invert3(part int) {
	a, pass, v := w.base[part], w.pass[part], w.m.volume
	c0, c1, c2 := a[4]*a[8]-a[5]*a[7], a[5]*a[6]-a[3]*a[8], a[3]*a[7]-a[4]*a[6]
	d := 1 / (a[0]*c0 + a[1]*c1 + a[2]*c2)
	inverse := [9]float64{c0 * d, (a[2]*a[7] - a[1]*a[8]) * d, (a[1]*a[5] - a[2]*a[4]) * d,
		c1 * d, (a[0]*a[8] - a[2]*a[6]) * d, (a[2]*a[3] - a[0]*a[5]) * d,
		c2 * d, (a[1]*a[6] - a[0]*a[7]) * d, (a[0]*a[4] - a[1]*a[3]) * d}
	for i, x := range inverse {
		pass[i] = x * v[i%3]
	}
	for i := range 3 {
		w.answer[part][i] = inverse[3*i+w.oneZone]
	}
}

// eulerOne is euler for liquids that all lie in one zone: the equations of the air are those without liquid, which pass and
// answer solve, changed at one place of the diagonal (Sherman and Morrison, Ann. Math. Stat. 21 (1950) 124).
func (w *stepper) eulerOne(p *period, st *airState, part int, t, h float64) {
	for _, si := range w.open {
		w.ready(&w.m.sources[si], &w.links[si], st.left[si], t, h)
	}
	pass, answer, zone, z := w.pass[part], w.answer[part], w.oneZone, w.z
	for v := range w.n {
		conc := st.conc[v*z : v*z+z]
		taken, given := 0.0, 0.0
		for _, si := range w.open {
			s, l := &w.m.sources[si], &w.links[si]
			if row := l.row[v]; row >= 0 {
				taken += (1 - s.capture) * l.exchange[row]
				given += (1 - s.capture) * (l.exchange[row]*l.over[row] + l.share*s.airMass[row])
			}
		}
		next := w.rhs
		if z == 3 {
			a, b, c := conc[0], conc[1], conc[2]
			next[0], next[1], next[2] = pass[0]*a+pass[1]*b+pass[2]*c, pass[3]*a+pass[4]*b+pass[5]*c, pass[6]*a+pass[7]*b+pass[8]*c
		} else {
			for i := range z {
				next[i] = 0
				for k, c := range conc {
					next[i] += pass[i*z+k] * c
				}
			}
		}
		if taken != 0 || given != 0 {
			at := (next[zone] + given*answer[zone]) / (1 + taken*answer[zone])
			for i := range z {
				next[i] += (given - taken*at) * answer[i]
			}
			next[zone] = at
			w.release(st, v, at)
		}
		integral := st.integral[v*z : v*z+z]
		for i, c := range next {
			conc[i] = c
			integral[i] += h * c
			st.gone[v] += h * c * p.out[i]
		}
	}
}

// release takes from every open liquid what it gave to air of the concentration at, and adds what a local exhaust took.
func (w *stepper) release(st *airState, v int, at float64) {
	for _, si := range w.open {
		s, l := &w.m.sources[si], &w.links[si]
		if row := l.row[v]; row >= 0 {
			gave := l.exchange[row] * (l.over[row] - at)
			st.left[si][row] += l.share*s.mass[row] - gave
			st.gone[v] += s.capture * (gave + l.share*s.airMass[row])
		}
	}
}

// euler advances every vapour by one linearly implicit step of h minutes from t.
func (w *stepper) euler(p *period, st *airState, base []float64, t, h float64) {
	for _, si := range w.open {
		w.ready(&w.m.sources[si], &w.links[si], st.left[si], t, h)
	}
	for v := range w.n {
		copy(w.tmp, base)
		for z := range w.z {
			w.rhs[z] = w.m.volume[z] * st.conc[v*w.z+z]
		}
		for _, si := range w.open {
			if row := w.links[si].row[v]; row >= 0 {
				s, l := &w.m.sources[si], &w.links[si]
				w.tmp[s.zone*w.z+s.zone] += (1 - s.capture) * l.exchange[row]
				w.rhs[s.zone] += (1 - s.capture) * (l.exchange[row]*l.over[row] + l.share*s.airMass[row])
			}
		}
		eliminate(w.tmp, w.rhs, w.z)
		for _, si := range w.open {
			if row := w.links[si].row[v]; row >= 0 {
				s, l := &w.m.sources[si], &w.links[si]
				gave := l.exchange[row] * (l.over[row] - w.rhs[s.zone])
				st.left[si][row] += l.share*s.mass[row] - gave
				st.gone[v] += s.capture * (gave + l.share*s.airMass[row])
			}
		}
		for z, c := range w.rhs {
			st.conc[v*w.z+z] = c
			st.integral[v*w.z+z] += h * c
			st.gone[v] += h * c * p.out[z]
		}
	}
}

// link ties the equations of an open liquid to those of the air for one step.
type link struct {
	row      []int     // of each vapour in the source, -1 for none
	share    float64   // of the whole amount that is fed during the step
	exchange []float64 // m³ of air that take up vapour during the step, what leaves the liquid meanwhile allowed for
	over     []float64 // mg/m³ over the liquid if nothing left it
}

func newLink(s *source, vapours int) link {
	l := link{row: make([]int, vapours), exchange: make([]float64, len(s.mass)), over: make([]float64, len(s.mass))}
	for v := range l.row {
		l.row[v] = -1
	}
	for row, v := range s.ingredients {
		l.row[v] = row
	}
	return l
}

// ready fills a link for a step of h minutes from t.
func (w *stepper) ready(s *source, l *link, left []float64, t, h float64) {
	l.share = s.feed(t, h)
	moles := s.inert
	if t+h < s.fed {
		moles *= math.Max(0, (t+h-s.from)/(s.fed-s.from))
	}
	for row, m := range left {
		l.over[row] = m + l.share*s.mass[row]
		if l.over[row] > 0 {
			moles += l.over[row] * w.perMole[s.ingredients[row]]
		}
	}
	area := s.areaAt(t + h)
	for row := range left {
		g := 0.0
		if moles > 0 {
			g = s.pullAt(row, t+h) / moles
		}
		a := h * area * s.k[row]
		l.exchange[row] = a / (1 + a*g)
		l.over[row] *= g
	}
}

// feed is the share of the whole amount that comes between t and t+h.
func (s *source) feed(t, h float64) float64 {
	switch {
	case t+h <= s.from:
		return 0
	case s.fed <= s.from:
		if t < s.from+1e-9 {
			return 1
		}
		return 0
	case t >= s.fed:
		return 0
	}
	return (math.Min(t+h, s.fed) - math.Max(t, s.from)) / (s.fed - s.from)
}

func (s *source) areaAt(t float64) float64 {
	if t >= s.fed {
		return s.area
	}
	return s.area * math.Max(0, (t-s.from)/(s.fed-s.from))
}

// eliminate solves the M-matrix system in place, without pivoting.
func eliminate(a, b []float64, n int) {
	if n == 3 { // near and far field and one more room: the usual case, written out
		eliminate3((*[9]float64)(a), (*[3]float64)(b))
		return
	}
	for i := range n {
		d := 1 / a[i*n+i]
		for r := i + 1; r < n; r++ {
			f := a[r*n+i] * d
			if f == 0 {
				continue
			}
			for c := i + 1; c < n; c++ {
				a[r*n+c] -= f * a[i*n+c]
			}
			b[r] -= f * b[i]
		}
	}
	for i := n - 1; i >= 0; i-- {
		sum := b[i]
		for c := i + 1; c < n; c++ {
			sum -= a[i*n+c] * b[c]
		}
		b[i] = sum / a[i*n+i]
	}
}

// eliminate3 is eliminate for three zones.
func eliminate3(a *[9]float64, b *[3]float64) {
	f, g := a[3]/a[0], a[6]/a[0]
	a11, a12, b1 := a[4]-f*a[1], a[5]-f*a[2], b[1]-f*b[0]
	a21, a22, b2 := a[7]-g*a[1], a[8]-g*a[2], b[2]-g*b[0]
	h := a21 / a11
	b[2] = (b2 - h*b1) / (a22 - h*a12)
	b[1] = (b1 - a12*b[2]) / a11
	b[0] = (b[0] - a[1]*b[1] - a[2]*b[2]) / a[0]
}

// combine writes the third order solution into sub[2] and gives the scaled difference to second order.
func (w *stepper) combine() float64 {
	a, b, c := &w.sub[0], &w.sub[1], &w.sub[2]
	worst := 0.0
	for v := range w.n {
		for z := range w.z {
			i := v*w.z + z
			x, e := extrapolate(a.conc[i], b.conc[i], c.conc[i])
			if x > w.peakC[v] {
				w.peakC[v] = x
			}
			if off := math.Abs(e) / (1e-2*w.peakC[v] + math.Abs(x) + 1e-12); off > worst {
				worst = off
			}
			c.conc[i] = x
			c.integral[i], _ = extrapolate(a.integral[i], b.integral[i], c.integral[i])
		}
		c.gone[v], _ = extrapolate(a.gone[v], b.gone[v], c.gone[v])
	}
	for _, si := range w.open {
		s := &w.m.sources[si]
		total := 0.0
		for _, m := range s.mass {
			total += m
		}
		for row := range s.mass {
			x, e := extrapolate(a.left[si][row], b.left[si][row], c.left[si][row])
			if off := math.Abs(e) / (math.Abs(x) + 1e-2*s.mass[row] + 1e-4*total + 1e-9); off > worst {
				worst = off
			}
			c.left[si][row] = x
		}
	}
	return worst / w.m.accuracy
}

// extrapolate combines solutions with 1, 2 and 3 parts to third order and gives the difference to second order.
func extrapolate(one, two, three float64) (value, diff float64) {
	diff = 0.5*one - 2*two + 1.5*three
	return 3*three - 2*two + diff, diff
}

func (w *stepper) accept() { w.state, w.sub[2] = w.sub[2], w.state }

func (tr *airTrace) begin(m *airModel) {
	tr.zones, tr.vapours = len(m.volume), len(m.molar)
	tr.times, tr.conc, tr.integral, tr.arena = tr.times[:0], tr.conc[:0], tr.integral[:0], tr.arena[:0]
	tr.start = make([]float64, tr.vapours)
	for _, s := range m.sources {
		for row, v := range s.ingredients {
			tr.start[v] += s.mass[row] + s.airMass[row]
		}
	}
}

func (tr *airTrace) record(t float64, st *airState) {
	tr.times = append(tr.times, t)
	tr.conc = append(tr.conc, tr.keep(st.conc))
	tr.integral = append(tr.integral, tr.keep(st.integral))
}

// keep copies a slice into the arena; full arenas are left to the collector.
func (tr *airTrace) keep(x []float64) []float64 {
	if cap(tr.arena)-len(tr.arena) < len(x) {
		tr.arena = make([]float64, 0, max(8192, len(x)))
	}
	n := len(tr.arena)
	tr.arena = append(tr.arena, x...)
	return tr.arena[n:len(tr.arena):len(tr.arena)]
}

func (tr *airTrace) finish(st *airState) { tr.left, tr.gone = st.left, st.gone }
