package invent

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"sixteen/sheet"
	"sixteen/substance"
)

// Part is one substance of a blend with its real share and the range that the sheet discloses (% by mass).
// Substance is nil for a polymer of which no more than its trade description is known.
type Part struct {
	Substance *substance.Substance
	Name      string
	Share     float64
	Range     sheet.Interval
}

// Blend is an invented product with its real composition.
type Blend struct {
	recipe recipe
	given  bool // the ranges are given and stay
	Parts  []Part
}

// Rest is the share of what is not disclosed, in percent.
func (b Blend) Rest() float64 {
	rest := 100.0
	for _, p := range b.Parts {
		rest -= p.Share
	}
	return math.Max(0, rest)
}

// known are the parts that the substance table holds.
func (b Blend) known() []Part {
	return slices.DeleteFunc(slices.Clone(b.Parts), func(p Part) bool { return p.Substance == nil })
}

// polymers is the share of the listed parts that the substance table does not hold.
func (b Blend) polymers() float64 {
	sum := 0.0
	for _, p := range b.Parts {
		if p.Substance == nil {
			sum += p.Share
		}
	}
	return sum
}

// mix draws a composition for a recipe.
func mix(r recipe, table *substance.Table, rng *rand.Rand) (Blend, error) {
	b := Blend{recipe: r}
	left := 99.5
	for _, s := range r.slots {
		if s.chance > 0 && rng.Float64() > s.chance {
			continue
		}
		cas := s.cas[rng.IntN(len(s.cas))]
		if b.holds(cas) {
			continue
		}
		sub, ok := table.ByCAS(cas)
		if !ok {
			return Blend{}, fmt.Errorf("recipe %q: %s is not in the substance table", r.kind, cas)
		}
		share := math.Min(s.lo+(s.hi-s.lo)*rng.Float64(), left)
		share = round(share)
		if share < s.lo || share > left {
			continue // the parts before it leave no room
		}
		left -= share
		b.Parts = append(b.Parts, Part{Substance: sub, Name: sub.Name, Share: share})
	}
	for _, cas := range r.fill {
		if !b.holds(cas) && left > 2 {
			sub, ok := table.ByCAS(cas)
			if !ok {
				return Blend{}, fmt.Errorf("recipe %q: %s is not in the substance table", r.kind, cas)
			}
			b.Parts = append(b.Parts, Part{Substance: sub, Name: sub.Name, Share: round(left)})
			break
		}
	}
	if r.polymer != "" && left > 12 && rng.IntN(2) == 0 {
		b.Parts = append(b.Parts, Part{Name: r.polymer, Share: round(left * (0.4 + 0.5*rng.Float64()))})
	}
	return b, nil
}

func (b Blend) holds(cas string) bool {
	for _, p := range b.Parts {
		if p.Substance != nil && p.Substance.CAS == cas {
			return true
		}
	}
	return false
}

func round(v float64) float64 {
	switch {
	case v >= 10:
		return math.Round(v)
	case v >= 1:
		return math.Round(v*10) / 10
	}
	return math.Round(v*100) / 100
}

// bands are the ladders of ranges that sheets use, by habit, from coarse to fine.
var bands = [][]float64{
	{0.1, 1, 5, 10, 30, 60, 100},
	{0.1, 1, 2.5, 5, 10, 25, 50, 75, 100},
	{0.1, 0.5, 1, 3, 5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100},
}

// disclose gives every part a range that holds its real share, on one of the ladders; beyond the last ladder the exact
// shares are disclosed.
func (b *Blend) disclose(ladder int) {
	for i := range b.Parts {
		p := &b.Parts[i]
		if ladder >= len(bands) {
			p.Range = sheet.Exactly(p.Share)
			continue
		}
		p.Range = band(bands[ladder], p.Share)
	}
}

// band is the step of a ladder that holds the share: its lower end belongs to it, its upper end does not.
func band(ladder []float64, share float64) sheet.Interval {
	for i := 0; i+1 < len(ladder); i++ {
		if share >= ladder[i] && share < ladder[i+1] {
			return sheet.Interval{Lo: ladder[i], Hi: ladder[i+1], HasLo: true, HasHi: true, HiOpen: ladder[i+1] < 100}
		}
	}
	if share < ladder[0] {
		return sheet.Interval{Hi: ladder[0], HasHi: true, HiOpen: true}
	}
	return sheet.Exactly(share)
}
