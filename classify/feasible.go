package classify

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ErrImpossibleComposition is wrapped by the error for ranges that no composition can fulfil.
var ErrImpossibleComposition = errors.New("no composition fits the stated ranges")

// Composition is one concrete composition, percent by mass. Percent follows the order of the mixture's ingredients and
// is what [Program.At] takes; Remainder is what is left of 100.
type Composition struct {
	Percent   []float64 `json:"percent"`
	Remainder float64   `json:"remainder"`
}

// whole is the sum of all shares, in percent.
const whole = 100.0

// sumTolerance is the difference, in percentage points, below which a sum of shares counts as the whole.
const sumTolerance = whole * Tolerance

// space is the set {x : lo ≤ x ≤ hi, Σx = 100}, with "<" where an end is open. The last variable is the undisclosed
// remainder, 0 to 100 or exactly 0. Every set of compositions this package reasons about is one such space or a
// finite union of them.
type space struct {
	lo, hi         []float64
	loOpen, hiOpen []bool
}

// newSpace reads the stated ranges. It fails when a range is no range, or when no composition fits.
func newSpace(m *Mixture) (*space, error) {
	n := len(m.Ingredients)
	s := &space{
		lo: make([]float64, n+1), hi: make([]float64, n+1),
		loOpen: make([]bool, n+1), hiOpen: make([]bool, n+1),
	}
	for i := range m.Ingredients {
		if err := s.setRange(i, &m.Ingredients[i]); err != nil {
			return nil, err
		}
	}
	if !m.Complete {
		s.hi[n] = whole
	}
	if err := s.possible(m); err != nil {
		return nil, err
	}
	s.tighten()
	return s, nil
}

func (s *space) setRange(i int, g *Ingredient) error {
	p := g.Percent
	s.lo[i], s.hi[i] = 0, whole
	if p.HasLo && p.Lo > 0 {
		s.lo[i], s.loOpen[i] = p.Lo, p.LoOpen
	} else if p.HasLo && p.Lo == 0 {
		s.loOpen[i] = p.LoOpen
	}
	if p.HasHi && p.Hi < whole {
		s.hi[i], s.hiOpen[i] = p.Hi, p.HiOpen
	} else if p.HasHi && p.Hi == whole {
		s.hiOpen[i] = p.HiOpen
	}
	lo, hi := s.lo[i], s.hi[i]
	switch {
	case math.IsNaN(p.Lo) || math.IsNaN(p.Hi):
		return fmt.Errorf("ingredient %q: its share is not a number; give a range in percent, or none", g.Name)
	case lo > whole || hi < 0:
		return fmt.Errorf("%w: ingredient %q has a share of %s; give a range within 0 to 100 %%",
			ErrImpossibleComposition, g.Name, rangeWords(s, i))
	case lo > hi || lo == hi && (s.loOpen[i] || s.hiOpen[i]):
		return fmt.Errorf("%w: the range of ingredient %q is empty (%s); correct its ends",
			ErrImpossibleComposition, g.Name, rangeWords(s, i))
	}
	return nil
}

// possible checks that some composition adds up to the whole, and tells the sum in words when none does.
func (s *space) possible(m *Mixture) error {
	lo, hi, loOpen, hiOpen := s.totals()
	switch {
	case lo > whole+sumTolerance:
		return fmt.Errorf("%w: the lowest shares add up to more than 100 %% (%s = %s %%)",
			ErrImpossibleComposition, s.sumWords(m, s.lo), number(lo))
	case lo > whole-sumTolerance && loOpen:
		return fmt.Errorf("%w: the lowest shares already add up to 100 %% (%s), and at least one share is more than its lowest",
			ErrImpossibleComposition, s.sumWords(m, s.lo))
	case hi < whole-sumTolerance:
		return fmt.Errorf("%w: the ingredients are said to be the whole, but their highest shares add up to less than 100 %% (%s = %s %%)",
			ErrImpossibleComposition, s.sumWords(m, s.hi), number(hi))
	case hi < whole+sumTolerance && hiOpen:
		return fmt.Errorf("%w: the ingredients are said to be the whole, their highest shares add up to just 100 %% (%s), and at least one share is less than its highest",
			ErrImpossibleComposition, s.sumWords(m, s.hi))
	}
	return nil
}

// nonempty tells whether any composition lies in the space.
func (s *space) nonempty() bool {
	for i := range s.lo {
		if s.lo[i] > s.hi[i] || s.lo[i] == s.hi[i] && (s.loOpen[i] || s.hiOpen[i]) {
			return false
		}
	}
	lo, hi, loOpen, hiOpen := s.totals()
	return !(lo > whole+sumTolerance || lo > whole-sumTolerance && loOpen ||
		hi < whole-sumTolerance || hi < whole+sumTolerance && hiOpen)
}

// totals sums the lower and upper ends and tells whether any of them is open.
func (s *space) totals() (lo, hi float64, loOpen, hiOpen bool) {
	for i := range s.lo {
		lo += s.lo[i]
		hi += s.hi[i]
		loOpen = loOpen || s.loOpen[i]
		hiOpen = hiOpen || s.hiOpen[i]
	}
	return lo, hi, loOpen, hiOpen
}

// tighten moves each end to the last value the other shares leave room for. It keeps the set of compositions as it is.
func (s *space) tighten() {
	sumLo, sumHi, _, _ := s.totals()
	openLo, openHi := count(s.loOpen), count(s.hiOpen)
	lo, hi := append([]float64(nil), s.lo...), append([]float64(nil), s.hi...)
	loOpen, hiOpen := append([]bool(nil), s.loOpen...), append([]bool(nil), s.hiOpen...)
	for i := range s.lo {
		if top := whole - (sumLo - lo[i]); top < hi[i]-sumTolerance {
			s.hi[i] = max(top, lo[i])
			s.hiOpen[i] = openLo-one(loOpen[i]) > 0
		}
		if bottom := whole - (sumHi - hi[i]); bottom > lo[i]+sumTolerance {
			s.lo[i] = min(bottom, s.hi[i])
			s.loOpen[i] = openHi-one(hiOpen[i]) > 0
		}
	}
}

// has tells whether x (with the remainder as last value) lies in the space.
func (s *space) has(x []float64) bool {
	sum := 0.0
	for i, v := range x {
		slack := Tolerance * max(1, math.Abs(v))
		if v < s.lo[i]-slack || v > s.hi[i]+slack ||
			s.loOpen[i] && v <= s.lo[i] || s.hiOpen[i] && v >= s.hi[i] {
			return false
		}
		sum += v
	}
	return math.Abs(sum-whole) <= 10*sumTolerance
}

// centre is a composition with every share the same fraction of its range above its lower end.
func (s *space) centre(dst []float64) []float64 {
	lo, hi, _, _ := s.totals()
	f := 0.0
	if hi > lo {
		f = min(max((whole-lo)/(hi-lo), 0), 1)
	}
	for i := range s.lo {
		dst[i] = s.lo[i] + f*(s.hi[i]-s.lo[i])
	}
	return dst
}

// composition splits a point of the space into shares and remainder.
func composition(x []float64) *Composition {
	n := len(x) - 1
	return &Composition{Percent: append([]float64(nil), x[:n]...), Remainder: x[n]}
}

// sumWords is "30 + 40 + 50", leaving out zeros.
func (s *space) sumWords(m *Mixture, ends []float64) string {
	var parts []string
	for _, v := range ends[:len(m.Ingredients)] {
		if v != 0 {
			parts = append(parts, number(v))
		}
	}
	if len(parts) == 0 {
		return "no shares"
	}
	return strings.Join(parts, " + ")
}

// rangeWords is the range of variable i: "10 – 30 %", "< 10 %", "≥ 10 %", "exactly 5 %".
func rangeWords(s *space, i int) string {
	lo, hi := s.lo[i], s.hi[i]
	switch {
	case lo == hi:
		return number(lo) + " %"
	case !s.loOpen[i] && !s.hiOpen[i] && lo > 0 && hi < whole:
		return number(lo) + " – " + number(hi) + " %"
	case lo == 0 && !s.loOpen[i]:
		return pick(s.hiOpen[i], "< ", "≤ ") + number(hi) + " %"
	case hi == whole && !s.hiOpen[i]:
		return pick(s.loOpen[i], "> ", "≥ ") + number(lo) + " %"
	}
	return pick(s.loOpen[i], "> ", "≥ ") + number(lo) + " – " + pick(s.hiOpen[i], "< ", "≤ ") + number(hi) + " %"
}

func pick(cond bool, yes, no string) string {
	if cond {
		return yes
	}
	return no
}

// number prints a value to six significant figures without an exponent where it can.
func number(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		r = v
	}
	if a := math.Abs(r); a != 0 && (a < 1e-5 || a >= 1e9) {
		return strconv.FormatFloat(r, 'g', -1, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func count(flags []bool) (n int) {
	for _, f := range flags {
		n += one(f)
	}
	return n
}

func one(f bool) int {
	if f {
		return 1
	}
	return 0
}
