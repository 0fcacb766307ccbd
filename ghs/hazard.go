package ghs

import "math/bits"

// Class is a hazard class of the standard, for example SkinCorrosion.
type Class uint8

// Qualifier tells apart entries of one class and category that the standard treats separately: the route of acute
// toxicity, or the effect of single exposure category 3.
type Qualifier uint8

// Routes and effects.
const (
	NoQualifier Qualifier = iota
	Oral
	Dermal
	InhalationGas
	InhalationVapour
	InhalationDust // dust or mist
	Narcotic
	Respiratory
)

// Hazard is one class with its category and, where the standard separates them, its route or effect: "Skin Corr. 1B",
// "Acute Tox. 4 oral", "STOT SE 3 narcotic". The zero Hazard is none. Hazards are small numbers that index a table,
// so that sets of them are cheap; the numbers are not stable between versions, the names (String) are.
type Hazard uint16

// MaxHazards bounds the number of hazards the table can hold.
const MaxHazards = 256

// HazardSet is a set of hazards. The zero value is empty and ready to use; sets are comparable values.
type HazardSet [MaxHazards / 64]uint64

// Add puts h into the set.
func (s *HazardSet) Add(h Hazard) { s[h>>6] |= 1 << (h & 63) }

// Remove takes h out of the set.
func (s *HazardSet) Remove(h Hazard) { s[h>>6] &^= 1 << (h & 63) }

// Has tells whether h is in the set.
func (s HazardSet) Has(h Hazard) bool { return s[h>>6]&(1<<(h&63)) != 0 }

// Len counts the hazards of the set.
func (s HazardSet) Len() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// Empty tells whether the set holds nothing.
func (s HazardSet) Empty() bool { return s == HazardSet{} }

// Union is every hazard that is in s or in t.
func (s HazardSet) Union(t HazardSet) HazardSet {
	for i := range s {
		s[i] |= t[i]
	}
	return s
}

// Minus is every hazard of s that is not in t.
func (s HazardSet) Minus(t HazardSet) HazardSet {
	for i := range s {
		s[i] &^= t[i]
	}
	return s
}

// Intersect is every hazard that is in s and in t.
func (s HazardSet) Intersect(t HazardSet) HazardSet {
	for i := range s {
		s[i] &= t[i]
	}
	return s
}

// All lists the hazards of the set in table order.
func (s HazardSet) All() []Hazard {
	out := make([]Hazard, 0, s.Len())
	for i, w := range s {
		for w != 0 {
			out = append(out, Hazard(i*64+bits.TrailingZeros64(w)))
			w &= w - 1
		}
	}
	return out
}

// SetOf makes a set of the given hazards.
func SetOf(hs ...Hazard) HazardSet {
	var s HazardSet
	for _, h := range hs {
		s.Add(h)
	}
	return s
}
