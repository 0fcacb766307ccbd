package exposure

import (
	"math"
	"sort"
)

// curve is what one person breathes of one vapour: time, concentration and its integral over what has passed.
type curve struct {
	t, sum []float64 // min, mg·min/m³
	peak   float64   // highest concentration at a step, mg/m³
}

// track follows a person through the zones.
func (p *plan) track(tr *airTrace, person, vapour int, c *curve) {
	c.t, c.sum, c.peak = append(c.t[:0], tr.times...), c.sum[:0], 0
	total := 0.0
	c.sum = append(c.sum, 0)
	for k := 1; k < len(tr.times); k++ {
		if z, inside := p.whereabouts(person, (tr.times[k-1]+tr.times[k])/2); inside {
			i := vapour*tr.zones + z
			total += tr.integral[k][i] - tr.integral[k-1][i]
			c.peak = math.Max(c.peak, math.Max(tr.conc[k][i], tr.conc[k-1][i]))
		}
		c.sum = append(c.sum, total)
	}
}

// whereabouts is the zone a person is in at a time.
func (p *plan) whereabouts(person int, t float64) (zone int, inside bool) {
	for _, s := range p.job.People[person].Stays {
		if t >= s.FromMin && t < s.UntilMin {
			room, _ := p.job.room(s.Room)
			if s.Near {
				return p.near[room], true
			}
			return p.far[room], true
		}
	}
	return 0, false
}

// upTo is the integral up to a time, by monotone interpolation between steps.
func (c *curve) upTo(t float64) float64 {
	n := len(c.t)
	if n == 0 || t <= c.t[0] {
		return 0
	}
	if t >= c.t[n-1] {
		return c.sum[n-1]
	}
	return c.between(sort.SearchFloat64s(c.t, t), t)
}

// between interpolates in the step that ends at index k: a cubic whose slopes are those of the neighbouring steps
// (Fritsch and Carlson), so that no mean is negative.
func (c *curve) between(k int, t float64) float64 {
	h := c.t[k] - c.t[k-1]
	if h <= 0 {
		return c.sum[k]
	}
	d := (c.sum[k] - c.sum[k-1]) / h
	m0, m1 := c.slope(k-1, d), c.slope(k, d)
	x := (t - c.t[k-1]) / h
	return c.sum[k-1] + h*(m0*x*(1-x)*(1-x)-m1*x*x*(1-x)) + (c.sum[k]-c.sum[k-1])*x*x*(3-2*x)
}

// slope is the limited slope at a point, d that of the step asked about.
func (c *curve) slope(k int, d float64) float64 {
	if k == 0 || k == len(c.t)-1 {
		return d
	}
	h0, h1 := c.t[k]-c.t[k-1], c.t[k+1]-c.t[k]
	if h0 <= 0 || h1 <= 0 {
		return d
	}
	d0, d1 := (c.sum[k]-c.sum[k-1])/h0, (c.sum[k+1]-c.sum[k])/h1
	if d0 <= 0 || d1 <= 0 {
		return 0
	}
	w0, w1 := 2*h1+h0, h1+2*h0
	return (w0 + w1) / (w0/d0 + w1/d1)
}

// highest is the highest mean over a window of minutes: windows that end or begin at a step are tried.
func (c *curve) highest(window float64) float64 {
	best, lo, hi := 0.0, 1, 1
	n := len(c.t)
	if n < 2 {
		return 0
	}
	at := func(k *int, t float64) float64 {
		if t <= c.t[0] {
			return 0
		}
		for *k < n-1 && c.t[*k] < t {
			*k++
		}
		if t >= c.t[n-1] {
			return c.sum[n-1]
		}
		return c.between(*k, t)
	}
	for i := range c.t {
		best = math.Max(best, c.sum[i]-at(&lo, c.t[i]-window))
		best = math.Max(best, at(&hi, c.t[i]+window)-c.sum[i])
	}
	return best / window
}

// total is the whole integral in mg·min/m³.
func (c *curve) total() float64 {
	if len(c.sum) == 0 {
		return 0
	}
	return c.sum[len(c.sum)-1]
}

// Balance is where a vapour went, mg. Relative is the part of what was brought in that is not accounted for.
type Balance struct {
	BroughtMg   float64 `json:"brought_mg"`
	LeftMg      float64 `json:"left_mg"` // still in the liquid, dried-in or covered
	InAirMg     float64 `json:"in_air_mg"`
	ExhaustedMg float64 `json:"exhausted_mg"`
	Relative    float64 `json:"relative"`
}

// balance adds up one vapour at the end.
func (tr *airTrace) balance(m *airModel, vapour int) Balance {
	b := Balance{ExhaustedMg: tr.gone[vapour]}
	fedUp := tr.times[len(tr.times)-1]
	for i := range m.sources {
		s := &m.sources[i]
		for row, v := range s.ingredients {
			if v != vapour {
				continue
			}
			share := 1.0
			switch {
			case fedUp <= s.from:
				share = 0
			case fedUp < s.fed:
				share = (fedUp - s.from) / (s.fed - s.from)
			}
			b.BroughtMg += share * (s.mass[row] + s.airMass[row])
			b.LeftMg += tr.left[i][row]
		}
	}
	for z, vol := range m.volume {
		b.InAirMg += vol * tr.conc[len(tr.conc)-1][vapour*tr.zones+z]
	}
	if b.BroughtMg > 0 {
		b.Relative = math.Abs(b.BroughtMg-b.LeftMg-b.InAirMg-b.ExhaustedMg) / b.BroughtMg
	}
	return b
}
