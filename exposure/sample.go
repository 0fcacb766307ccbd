package exposure

import (
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
	rows   [][]float64 // per finished sample: figures, then inputs
	failed atomic.Int64
}

// sample draws from the ranges by a scrambled Halton sequence (Owen), uniform within each range and, for compositions,
// uniform on all that add up. Percentiles and chances are put beside the figures of r.
func (p *plan) sample(ctx context.Context, r *Result, opt Options) {
	s := &sampling{p: p}
	s.frame()
	r.Uncertainty = &Uncertainty{Asked: opt.Samples}
	if s.dims == 0 || len(p.job.People) == 0 || len(p.vapours) == 0 {
		r.Assumptions = append(r.Assumptions, "nothing to sample: no ranges, no people or no vapours")
		return
	}
	u := mat.NewDense(opt.Samples, s.dims, nil)
	samplemv.Halton{Kind: samplemv.Owen, Q: distmv.NewUnitUniform(s.dims, nil), Src: rand.NewPCG(opt.Seed, 6)}.Sample(u)
	s.rows = make([][]float64, opt.Samples)
	s.work(ctx, u, opt)
	done := s.rows[:0]
	for _, row := range s.rows {
		if row != nil {
			done = append(done, row)
		}
	}
	s.rows, r.Uncertainty.Samples = done, len(done)
	if n := s.failed.Load(); n > 0 {
		r.Assumptions = append(r.Assumptions, "some draws could not be followed and are left out")
	}
	if len(done) > 1 {
		s.report(r)
	}
}

// sampleAccuracy is the relative error per step allowed in draws: figures then stay within 0.5 % of fine steps, which a test
// holds, far below the spread of the draws.
const sampleAccuracy = 1.5e-2

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

// work shares the samples among goroutines until all are done or ctx ends.
func (s *sampling) work(ctx context.Context, u *mat.Dense, opt Options) {
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next, done atomic.Int64
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			var tr airTrace
			var c curve
			for {
				i := int(next.Add(1)) - 1
				if i >= opt.Samples || ctx.Err() != nil {
					return
				}
				s.rows[i] = s.one(ctx, u.RawRowView(i), &tr, &c)
				if n := done.Add(1); opt.Progress != nil && n%500 == 0 {
					opt.Progress(int(n), opt.Samples)
				}
			}
		})
	}
	wg.Wait()
}

// one works out a draw: per person and vapour peak, highest and integral, then the inputs.
func (s *sampling) one(ctx context.Context, u []float64, tr *airTrace, c *curve) []float64 {
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
	if err := m.solve(ctx, tr); err != nil {
		if ctx.Err() == nil {
			s.failed.Add(1)
		}
		return nil
	}
	row := make([]float64, 0, 3*len(s.p.job.People)*len(s.p.vapours)+len(inputs)+16)
	for person := range s.p.job.People {
		for x := range s.p.vapours {
			m := s.p.measure(tr, person, x, c)
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
			e.Peak15.percentiles(peak, 1)
			e.Highest.percentiles(highest, 1)
			e.TWA8.percentiles(integral, 1.0/480)
			e.Day.percentiles(integral, 1.0/1440)
			if e.TWA8.High > 0 {
				e.DoseMgKg.percentiles(integral, e.DoseMgKg.High/(480*e.TWA8.High))
			}
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
	l.Fraction.percentiles(f, 1)
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
		person.Indices[i].Value.percentiles(sum, 1)
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

// percentiles sets P50 and P95 of figures times factor. The figures are sorted in place.
func (e *Estimate) percentiles(x []float64, factor float64) {
	sort.Float64s(x)
	p50 := factor * stat.Quantile(0.5, stat.Empirical, x, nil)
	p95 := factor * stat.Quantile(0.95, stat.Empirical, x, nil)
	e.P50, e.P95 = &p50, &p95
}

// drivers lists the inputs whose rank goes with that of a person's whole exposure to a vapour, |ρ| from 0.1, at most six.
func (s *sampling) drivers(r *Result, person, vapour int) {
	nv := len(s.p.vapours)
	figure := ranks(s.column(3*(person*nv+vapour) + 2))
	first := 3 * len(s.p.job.People) * nv
	var out []Driver
	for i, name := range s.inputNames() {
		rho := stat.Correlation(figure, ranks(s.column(first+i)), nil)
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
	sort.Slice(order, func(a, b int) bool { return x[order[a]] < x[order[b]] })
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
