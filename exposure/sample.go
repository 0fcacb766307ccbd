package exposure

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"
)

// Uncertainty is what sampling the ranges gave: percentiles stand beside the figures, what moves them stands here.
type Uncertainty struct {
	Samples int      `json:"samples"` // worked out
	Asked   int      `json:"asked"`
	Drivers []Driver `json:"drivers,omitempty"` // strongest first, per person the vapour nearest to a limit
	// Batches are the finished batches of BatchSize draws, each scrambled on its own; the spread between them gives the standard
	// errors of the percentiles. ErrorP50 and ErrorP95 are the largest relative standard errors of any 8 h mean.
	Batches   int      `json:"batches"`
	BatchSize int      `json:"batch_size"`
	ErrorP50  *float64 `json:"largest_relative_error_p50,omitempty"`
	ErrorP95  *float64 `json:"largest_relative_error_p95,omitempty"`
}

// Driver is how an input moves a figure: Spearman's rank correlation.
type Driver struct {
	Figure string  `json:"figure"`
	Input  string  `json:"input"`
	Rank   float64 `json:"rank_correlation"`
}

// sampling is the frame of a run of draws.
type sampling struct {
	p      *plan
	names  []string        // of the inputs that have a range
	comps  []*Compositions // per product
	dims   int
	seed   uint64
	size   int         // draws of a batch
	rows   [][]float64 // per finished sample: figures, then inputs
	ranked [][]float64 // ranks of the inputs, once they were asked for
	starts []int       // where in rows the whole batches begin, and where the last of them ends
	failed atomic.Int64
}

// sample draws from the ranges by scrambled Halton sequences, uniform within each range and, for compositions, uniform on
// all that add up. Percentiles and chances are put beside the figures of r. The draws come in batches of a power of two, each
// scrambled on its own from the seed and its number, made only when its turn comes: randomised quasi-Monte Carlo, whose
// batches are independent and so tell the error of what they give (Owen, SIAM J. Numer. Anal. 34 (1997) 1884). A run that is
// stopped keeps what it finished; the same seed and number of draws give the same figures whatever the number of workers.
func (p *plan) sample(ctx context.Context, r *Result, opt Options) {
	s := &sampling{p: p, seed: opt.Seed, size: batchSize(opt.Samples)}
	s.frame()
	r.Uncertainty = &Uncertainty{Asked: opt.Samples, BatchSize: s.size}
	if s.dims == 0 || len(p.job.People) == 0 || len(p.vapours) == 0 {
		r.Assumptions = append(r.Assumptions, "nothing to sample: no ranges, no people or no vapours")
		return
	}
	s.rows = make([][]float64, opt.Samples)
	s.work(ctx, opt)
	s.gather()
	r.Uncertainty.Samples, r.Uncertainty.Batches = len(s.rows), max(0, len(s.starts)-1)
	if n := s.failed.Load(); n > 0 {
		r.Assumptions = append(r.Assumptions, "some draws could not be followed and are left out")
	}
	if len(s.rows) > 1 {
		s.report(r)
	}
}

// batchSize is the largest power of two that leaves sixteen batches, from 64 to 512 draws.
func batchSize(samples int) int {
	size := 64
	for size < 512 && 32*size <= samples {
		size *= 2
	}
	return size
}

// gather drops what was not finished and notes where the whole batches lie.
func (s *sampling) gather() {
	done := s.rows[:0]
	for from := 0; from < len(s.rows); from += s.size {
		batch := s.rows[from:min(from+s.size, len(s.rows))]
		began := len(done)
		for _, row := range batch {
			if row != nil {
				done = append(done, row)
			}
		}
		if len(done)-began == s.size && (len(s.starts) == 0 || s.starts[len(s.starts)-1] == began) {
			if len(s.starts) == 0 {
				s.starts = append(s.starts, began)
			}
			s.starts = append(s.starts, len(done))
		}
	}
	s.rows = done
}

// sampleAccuracy is the relative error per step allowed in draws: figures then stay within 0.5 % of fine steps, which a test
// holds, far below the spread of the draws.
const sampleAccuracy = 2e-2

// frame counts dimensions: one per range, and one less than the free ingredients per product.
func (s *sampling) frame() {
	s.p.draw(func(name string, lo, hi float64, _ int) float64 {
		s.names = append(s.names, name)
		s.dims++
		return (lo + hi) / 2
	}, composeMiddle)
	for i := range s.p.blends {
		c, ok := NewCompositions(s.p.blends[i].lo, s.p.blends[i].hi)
		if !ok {
			c, _ = NewCompositions([]float64{1}, []float64{1})
		}
		s.comps = append(s.comps, c)
		s.dims += c.Dims()
	}
}

// work shares the batches among goroutines until all are done or ctx ends.
func (s *sampling) work(ctx context.Context, opt Options) {
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next, done atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			w := &drawer{}
			for {
				from := int(next.Add(int64(s.size))) - s.size
				if from >= opt.Samples || ctx.Err() != nil {
					return
				}
				rows := s.rows[from:min(from+s.size, opt.Samples)]
				u := s.batch(from/s.size, len(rows))
				for i := range rows {
					if ctx.Err() != nil {
						return
					}
					rows[i] = s.one(ctx, u.RawRowView(i), w)
					if n := done.Add(1); opt.Progress != nil && n%500 == 0 {
						opt.Progress(int(n), opt.Samples)
					}
				}
			}
		})
	}
	wg.Wait()
}

// batch is the first n draws of a batch, by number.
func (s *sampling) batch(number, n int) *mat.Dense {
	u := mat.NewDense(n, s.dims, nil)
	src := rand.NewPCG(s.seed, 6+uint64(number))
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(s.dims, nil), Src: src}.Sample(u)
	return u
}

// drawer is the scratch space of a worker.
type drawer struct {
	tr    airTrace
	c     curve
	steps stepper
}

// one works out a draw: per person and vapour peak, highest and integral, then the inputs.
func (s *sampling) one(ctx context.Context, u []float64, w *drawer) []float64 {
	k := 0
	var inputs []float64
	used := len(s.names)
	v := s.p.draw(func(_ string, lo, hi float64, _ int) float64 {
		x := lo + u[k]*(hi-lo)
		k++
		inputs = append(inputs, x)
		return x
	}, func(product int, b *blend) []float64 {
		d := s.comps[product].Dims()
		out := s.comps[product].At(u[used : used+d])
		used += d
		return out
	})
	m := s.p.model(v, s.p.end)
	m.accuracy = sampleAccuracy
	if err := m.solveWith(ctx, &w.steps, &w.tr); err != nil {
		if ctx.Err() == nil {
			s.failed.Add(1)
		}
		return nil
	}
	row := make([]float64, 0, 3*len(s.p.job.People)*len(s.p.vapours)+len(inputs)+16)
	for person := range s.p.job.People {
		for x := range s.p.vapours {
			m := s.p.measure(&w.tr, person, x, &w.c)
			row = append(row, m.peak15, m.highest, m.integral)
		}
	}
	row = append(row, inputs...)
	for product := range v.share {
		for i, share := range v.share[product] {
			if s.p.blends[product].hi[i] > s.p.blends[product].lo[i] {
				row = append(row, share)
			}
		}
	}
	return row
}

// inputNames are the names of the inputs in the order of one's rows.
func (s *sampling) inputNames() []string {
	names := slices.Clone(s.names)
	for i := range s.p.blends {
		b := &s.p.blends[i]
		for k := range b.lo {
			if b.hi[k] > b.lo[k] {
				name := "unnamed part"
				if k < len(s.p.job.Products[i].Ingredients) {
					ing := s.p.job.Products[i].Ingredients[k]
					name = ing.Name
					if name == "" {
						name = ing.CAS
					}
				}
				names = append(names, s.p.job.Products[i].Name+": "+name)
			}
		}
	}
	return names
}

func (s *sampling) column(i int) []float64 {
	out := make([]float64, len(s.rows))
	for k, row := range s.rows {
		out[k] = row[i]
	}
	return out
}

// report puts percentiles, chances and drivers into r.
func (s *sampling) report(r *Result) {
	nv := len(s.p.vapours)
	for person := range r.People {
		nearest, most := -1, -1.0
		for v := range nv {
			at := 3 * (person*nv + v)
			peak, highest, integral := s.column(at), s.column(at+1), s.column(at+2)
			e := &r.People[person].Exposures[v]
			whole := s.percentiles(integral)
			e.Peak15.put(s.percentiles(peak), 1)
			e.Highest.put(s.percentiles(highest), 1)
			e.TWA8.put(whole, 1.0/480)
			e.Day.put(whole, 1.0/1440)
			if e.TWA8.High > 0 {
				e.DoseMgKg.put(whole, e.DoseMgKg.High/(480*e.TWA8.High))
			}
			r.Uncertainty.widen(whole)
			for i := range e.Limits {
				l := &e.Limits[i]
				s.fractions(l, at)
				if l.Fraction.High > most {
					most, nearest = l.Fraction.High, v
				}
			}
		}
		s.indexPercentiles(&r.People[person], person)
		if nearest >= 0 {
			s.drivers(r, person, nearest)
		}
	}
}

// fractions fills percentiles and the chance of exceeding one limit from the figures that start at column at.
func (s *sampling) fractions(l *LimitFraction, at int) {
	f := make([]float64, len(s.rows))
	over := 0.0
	for k, row := range s.rows {
		f[k] = s.p.against(measured{peak15: row[at], highest: row[at+1], integral: row[at+2]}, l.Limit, l.MgM3)
		if f[k] > 1 {
			over++
		}
	}
	l.Fraction.put(s.percentiles(f), 1)
	chance := over / float64(len(f))
	l.Exceeding = &chance
}

func (s *sampling) indexPercentiles(person *PersonResult, number int) {
	nv := len(s.p.vapours)
	for i := range person.Indices {
		sum := make([]float64, len(s.rows))
		for v, x := range s.p.vapours {
			if !slices.Contains(person.Indices[i].Vapours, x.name) {
				continue
			}
			mg := strictestShift(person.Exposures[v])
			for k, row := range s.rows {
				sum[k] += row[3*(number*nv+v)+2] / 480 / mg * s.p.lengthen()
			}
		}
		person.Indices[i].Value.put(s.percentiles(sum), 1)
	}
}

// strictestShift is the lowest shift limit in mg/m³, +Inf when there is none.
func strictestShift(e Exposure) float64 {
	mg := math.Inf(1)
	for _, l := range e.Limits {
		if l.Limit.Kind == "TWA" {
			mg = math.Min(mg, l.MgM3)
		}
	}
	return mg
}

// quantiles are the median and the 95th percentile with their standard errors, NaN when fewer than four batches are whole.
type quantiles struct{ p50, p95, error50, error95 float64 }

// fewestBatches is from how many batches on a standard error is given.
const fewestBatches = 4

// percentiles are the quantiles of a column. x is put in another order.
func (s *sampling) percentiles(x []float64) quantiles {
	q := quantiles{error50: math.NaN(), error95: math.NaN()}
	if n := len(s.starts) - 1; n >= fewestBatches {
		low, high := make([]float64, n), make([]float64, n)
		for i := range n {
			low[i], high[i] = twoQuantiles(x[s.starts[i]:s.starts[i+1]])
		}
		root := math.Sqrt(float64(n))
		q.error50, q.error95 = stat.StdDev(low, nil)/root, stat.StdDev(high, nil)/root
	}
	q.p50, q.p95 = twoQuantiles(x)
	return q
}

// twoQuantiles sorts x and gives its median and 95th percentile.
func twoQuantiles(x []float64) (p50, p95 float64) {
	slices.Sort(x)
	return stat.Quantile(0.5, stat.Empirical, x, nil), stat.Quantile(0.95, stat.Empirical, x, nil)
}

// put sets the percentiles of a figure that is factor times the column, with their standard errors.
func (e *Estimate) put(q quantiles, factor float64) {
	p50, p95 := factor*q.p50, factor*q.p95
	e.P50, e.P95 = &p50, &p95
	if !math.IsNaN(q.error50) {
		a, b := factor*q.error50, factor*q.error95
		e.P50Error, e.P95Error = &a, &b
	}
}

// widen keeps the largest relative standard errors.
func (u *Uncertainty) widen(q quantiles) {
	keep := func(to **float64, off, of float64) {
		if x := off / of; of > 0 && !math.IsNaN(x) && (*to == nil || x > **to) {
			*to = &x
		}
	}
	keep(&u.ErrorP50, q.error50, q.p50)
	keep(&u.ErrorP95, q.error95, q.p95)
}

// drivers lists the inputs whose rank goes with that of a person's whole exposure to a vapour, |ρ| from 0.1, at most six.
func (s *sampling) drivers(r *Result, person, vapour int) {
	nv := len(s.p.vapours)
	figure := ranks(s.column(3*(person*nv+vapour) + 2))
	names := s.inputNames()
	if s.ranked == nil {
		first := 3 * len(s.p.job.People) * nv
		for i := range names {
			s.ranked = append(s.ranked, ranks(s.column(first+i)))
		}
	}
	var out []Driver
	for i, name := range names {
		rho := stat.Correlation(figure, s.ranked[i], nil)
		if math.Abs(rho) >= 0.1 {
			out = append(out, Driver{Figure: strings.Join([]string{r.People[person].Name, s.p.vapours[vapour].name, "whole exposure"}, ", "), Input: name, Rank: rho})
		}
	}
	sort.SliceStable(out, func(a, b int) bool { return math.Abs(out[a].Rank) > math.Abs(out[b].Rank) })
	r.Uncertainty.Drivers = append(r.Uncertainty.Drivers, out[:min(6, len(out))]...)
}

// ranks gives the rank of each number, ties sharing their mean rank.
func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	out := make([]float64, len(x))
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && x[order[j]] == x[order[i]] {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j-1) / 2
		}
		i = j
	}
	return out
}
