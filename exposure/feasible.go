package exposure

import (
	"math"
	"slices"
	"sort"
)

// tighten narrows boxes so that every end can be reached by shares that sum to 1.
func tighten(lo, hi []float64) {
	sumLo, sumHi := 0.0, 0.0
	for i := range lo {
		sumLo, sumHi = sumLo+lo[i], sumHi+hi[i]
	}
	newLo, newHi := slices.Clone(lo), slices.Clone(hi)
	for i := range lo {
		newLo[i] = math.Max(lo[i], 1-(sumHi-hi[i]))
		newHi[i] = math.Min(hi[i], 1-(sumLo-lo[i]))
	}
	copy(lo, newLo)
	copy(hi, newHi)
}

// Compositions draws mass fractions uniformly from all that lie in given boxes and sum to 1. The zero value is not usable.
type Compositions struct {
	lo, width []float64
	order     []int // boxes from narrow to wide; the last one is what is left
	mirrored  bool
	rest      float64        // what the widths have to fill
	sums      []sumOfUniform // of order[k:], k ≥ 1
}

// sumOfUniform is the distribution function of a sum of uniform numbers from 0 to their widths, up to a constant factor,
// on 0 to a highest value, tabulated with its slope. One box is exact without a table.
type sumOfUniform struct {
	step   float64
	f, df  []float64
	single float64 // width when there is only one
}

const sumNodes = 1024

// NewCompositions prepares the boxes lo to hi (mass fractions). ok is false when no composition lies in them. The marginal
// of each box given those before it is the ratio of two distributions of sums of uniform numbers; these are made by
// repeated exact integration of a box and tabulated at 1024 points, which is all the error there is.
func NewCompositions(lo, hi []float64) (c *Compositions, ok bool) {
	lo, hi = slices.Clone(lo), slices.Clone(hi)
	tighten(lo, hi)
	c = &Compositions{lo: lo, rest: 1}
	total := 0.0
	for i := range lo {
		if hi[i] < lo[i]-1e-12 {
			return nil, false
		}
		c.width = append(c.width, math.Max(0, hi[i]-lo[i]))
		c.rest -= lo[i]
		total += c.width[i]
	}
	if c.rest < -1e-9 || c.rest > total+1e-9 {
		return nil, false
	}
	if c.rest > total/2 { // fill from the high ends instead, where the numbers keep their digits
		c.mirrored, c.rest = true, total-c.rest
		for i := range lo {
			c.lo[i] = hi[i]
		}
	}
	for i, w := range c.width {
		if w > 1e-12 {
			c.order = append(c.order, i)
		}
	}
	sort.SliceStable(c.order, func(a, b int) bool { return c.width[c.order[a]] < c.width[c.order[b]] })
	c.tabulate()
	return c, true
}

// Dims is the count of numbers from 0 to 1 that At takes.
func (c *Compositions) Dims() int { return max(0, len(c.order)-1) }

func (c *Compositions) tabulate() {
	n := len(c.order)
	c.sums = make([]sumOfUniform, n)
	for k := n - 1; k >= 1; k-- {
		w := c.width[c.order[k]]
		if k == n-1 {
			c.sums[k] = sumOfUniform{single: w}
			continue
		}
		next := &c.sums[k+1]
		s := sumOfUniform{step: c.rest / sumNodes, f: make([]float64, sumNodes+1), df: make([]float64, sumNodes+1)}
		for i := range s.df { // the density of one more box is the difference of the distribution over its width
			x := float64(i) * s.step
			s.df[i] = (next.at(x) - next.at(x-w)) / w
		}
		for i := 1; i <= sumNodes; i++ {
			mid := (float64(i) - 0.5) * s.step
			s.f[i] = s.f[i-1] + s.step/6*(s.df[i-1]+4*(next.at(mid)-next.at(mid-w))/w+s.df[i])
		}
		c.sums[k] = s
	}
}

// at is the distribution function at x.
func (s *sumOfUniform) at(x float64) float64 {
	if x <= 0 {
		return 0
	}
	if s.f == nil {
		return math.Min(x, s.single) / s.single
	}
	i := min(int(x/s.step), sumNodes-1)
	t := math.Min(x/s.step-float64(i), 1)
	h00, h10 := (1+2*t)*(1-t)*(1-t), t*(1-t)*(1-t)
	return h00*s.f[i] + h10*s.step*s.df[i] + t*t*(3-2*t)*s.f[i+1] + t*t*(t-1)*s.step*s.df[i+1]
}

// At gives the composition that belongs to numbers u from 0 to 1, one per dimension: uniform u give uniform compositions.
func (c *Compositions) At(u []float64) []float64 {
	out := slices.Clone(c.lo)
	put := func(i int, x float64) {
		if c.mirrored {
			x = -x
		}
		out[i] += x
	}
	rest := c.rest
	for k, i := range c.order {
		w := c.width[i]
		if k == len(c.order)-1 {
			put(i, math.Min(math.Max(rest, 0), w))
			break
		}
		s := &c.sums[k+1]
		high, low := s.at(rest), s.at(rest-w)
		want := high - u[k]*(high-low) // the sum of the wider boxes that is left
		left := s.where(want, math.Max(0, rest-w), rest)
		x := math.Min(math.Max(rest-left, 0), w)
		put(i, x)
		rest -= x
	}
	return out
}

// where is the x from a to b at which the distribution function is want: false position with the retained end halved
// (Illinois), which keeps it between two ends and needs about eight steps.
func (s *sumOfUniform) where(want, a, b float64) float64 {
	fa, fb := s.at(a)-want, s.at(b)-want
	if fa >= 0 {
		return a
	}
	if fb <= 0 {
		return b
	}
	x, side := b, 0
	enough := 1e-13 * (fb - fa)
	for range 60 {
		x = b - fb*(b-a)/(fb-fa)
		f := s.at(x) - want
		if math.Abs(f) <= enough || b-a <= 1e-14*b {
			break
		}
		if f < 0 {
			if a, fa = x, f; side < 0 {
				fb /= 2
			}
			side = -1
			continue
		}
		if b, fb = x, f; side > 0 {
			fa /= 2
		}
		side = 1
	}
	return x
}
