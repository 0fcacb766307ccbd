package classify

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"sixteen/sheet"
)

// EquivalentWeight is the mass that carries one reactive group, g/eq: molar mass (g/mol) over the number of groups per
// molecule; epoxide groups give the EEW of a resin, hydrogens on amine nitrogen the AHEW of a hardener.
// Source: handbook extract on epoxy hardener stoichiometry; diethylenetriamine, 103 g/mol with five hydrogens, has 20.6.
func EquivalentWeight(molarMassGMol, groups float64) (float64, error) {
	if !(molarMassGMol > 0 && groups > 0) {
		return 0, fmt.Errorf("%w: a molar mass of %v g/mol and %v groups: both must be above 0", ErrKit, molarMassGMol, groups)
	}
	return molarMassGMol / groups, nil
}

// Blend is one component of a resin or hardener blend. EquivalentGEq 0 means that it carries no reactive groups, as
// fillers and solvents do.
type Blend struct {
	Mass          float64 // in the unit of the others
	EquivalentGEq float64
}

// BlendEquivalent is the equivalent weight of a blend, g/eq: total mass over Σ mass/equivalent weight. Components
// without reactive groups add mass only. Source: trade technical note on epoxy equivalent weights, example 1.
func BlendEquivalent(components ...Blend) (float64, error) {
	var mass, groups float64
	for _, c := range components {
		if !(c.Mass >= 0 && c.EquivalentGEq >= 0) {
			return 0, fmt.Errorf("%w: a component of mass %v and %v g/eq: neither can be negative", ErrKit, c.Mass, c.EquivalentGEq)
		}
		mass += c.Mass
		if c.EquivalentGEq > 0 {
			groups += c.Mass / c.EquivalentGEq
		}
	}
	if groups == 0 {
		return 0, fmt.Errorf("%w: no component carries reactive groups; give an equivalent weight of at least one", ErrKit)
	}
	return mass / groups, nil
}

// PerHundredResin is the mass of hardener for 100 parts by mass of resin that brings one amine hydrogen for each
// epoxide (phr): 100·AHEW/EEW, both in g/eq. Source: trade technical note on epoxy equivalent weights, example 2.
func PerHundredResin(ahew, eew float64) (float64, error) {
	if !(ahew > 0 && eew > 0) {
		return 0, fmt.Errorf("%w: AHEW %v and EEW %v g/eq: both must be above 0", ErrKit, ahew, eew)
	}
	return 100 * ahew / eew, nil
}

// Balance is, for a kit of two parts with known equivalent weights, the reactive groups of the second part for each of
// the first: 1 is balanced, more leaves the second part (the hardener, by custom) in excess. Unreacted groups stay in
// the cured material.
func (k *Kit) Balance() (sheet.Interval, error) {
	if len(k.Parts) != 2 {
		return sheet.Interval{}, fmt.Errorf("%w: a balance of groups is for two parts, kit %q has %d", ErrKit, k.Name, len(k.Parts))
	}
	masses, err := k.masses()
	if err != nil {
		return sheet.Interval{}, err
	}
	first, second := k.Parts[0].EquivalentGEq, k.Parts[1].EquivalentGEq
	if !positive(first) || !positive(second) {
		return sheet.Interval{}, fmt.Errorf("%w: a balance of groups needs the equivalent weights of both parts in g/eq", ErrKit)
	}
	if k.Basis == ByEquivalent { // the equivalent weights cancel
		return over(k.Parts[1].Amount, k.Parts[0].Amount), nil
	}
	return over(over(masses[1], second), over(masses[0], first)), nil
}

// over is the quotient of two intervals of positive numbers.
func over(a, b sheet.Interval) sheet.Interval {
	return sheet.Interval{Lo: a.Lo / b.Hi, Hi: a.Hi / b.Lo, HasLo: true, HasHi: true,
		LoOpen: a.LoOpen || b.HiOpen, HiOpen: a.HiOpen || b.LoOpen}
}

// ParseRatio reads a mixing ratio as tins print it: "100:32", "2 : 1 by volume", "100 : 30-35 by weight". Without a
// word for it the basis is by mass.
func ParseRatio(s string) (amounts []sheet.Interval, basis Basis, err error) {
	bad := func() error {
		return fmt.Errorf("%w: %q is no mixing ratio; write it like 100:32 or 2:1 by volume", ErrKit, s)
	}
	text := strings.ToLower(strings.TrimSpace(s))
	for word, b := range map[string]Basis{"by volume": ByVolume, "by weight": ByMass, "by mass": ByMass, "by equivalents": ByEquivalent} {
		if rest, ok := strings.CutSuffix(text, word); ok {
			text, basis = strings.TrimSpace(rest), b
			break
		}
	}
	for _, part := range strings.Split(text, ":") {
		ends := strings.Split(strings.ReplaceAll(part, "–", "-"), "-")
		if len(ends) > 2 {
			return nil, 0, bad()
		}
		var v [2]float64
		for i, e := range []string{ends[0], ends[len(ends)-1]} {
			if v[i], err = strconv.ParseFloat(strings.TrimSpace(e), 64); err != nil || !(v[i] > 0) || math.IsInf(v[i], 0) {
				return nil, 0, bad()
			}
		}
		if v[0] > v[1] {
			return nil, 0, bad()
		}
		amounts = append(amounts, sheet.Between(v[0], v[1]))
	}
	if len(amounts) < 2 {
		return nil, 0, bad()
	}
	return amounts, basis, nil
}
