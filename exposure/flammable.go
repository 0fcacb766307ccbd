package exposure

import (
	"errors"
	"math"
)

// LeChatelier is the flammability limit of a fuel mixture, 1/Σ(yᵢ/Lᵢ), in the unit of the single limits, which are all
// lower or all upper. shares are of the fuel only and sum to 1. Good for lower limits of like fuels; rough for upper ones.
// Reference: Crowl and Louvar, Chemical Process Safety, chapter 6.
func LeChatelier(shares, limits []float64) float64 { return 1 / AdditiveIndex(shares, limits) }

// Inert is a gas that does not burn: its mole fraction in the mixture and its nitrogen equivalence (N₂ 1, CO₂ 1.5 …).
type Inert struct{ Share, NitrogenEquivalence float64 }

// LeChatelierInert is the lower limit, as mole fraction in air, of a gas mixture of fuels and inerts. fuelShares and the
// shares of inerts are mole fractions of the whole mixture and sum to 1; limits are mole fractions. With L the limit of the
// fuel alone, A its share, I that of the inerts and K their mean nitrogen equivalence,
// L' = L/A · (1 − L + (K−1)·(I/A)·L)/(1 − L). Reference: ISO 10156:2017, lower limits of mixtures with inerts.
func LeChatelierInert(fuelShares, limits []float64, inerts []Inert) float64 {
	fuel, excess := 0.0, 0.0
	for _, y := range fuelShares {
		fuel += y
	}
	for _, g := range inerts {
		excess += g.Share * (g.NitrogenEquivalence - 1)
	}
	l := LeChatelier(fuelShares, limits) * fuel
	return l / fuel * (1 - l + excess/fuel*l) / (1 - l)
}

// StoichiometricFlammability estimates the lower and upper flammable limits, as mole fractions in air, of a molecule
// CₘHₓOᵧ: 0.55 and 3.5 times the stoichiometric share 1/(1 + z/0.21), z = m + x/4 − y/2 moles of oxygen. Reference:
// Jones; Crowl and Louvar, Chemical Process Safety, chapter 6. Within about 25 % for common solvents' lower limits.
func StoichiometricFlammability(carbon, hydrogen, oxygen float64) (lower, upper float64) {
	z := carbon + hydrogen/4 - oxygen/2
	share := 1 / (1 + z/0.21)
	return 0.55 * share, 3.5 * share
}

// CombustionFlammability estimates the lower flammable limit as mole fraction from the heat of combustion in J/mol
// (negative): −3.42/h + 0.569·h + 0.0538·h² + 1.80 percent with h in MJ/mol, h negative. Valid for organic
// molecules of up to about 10 MJ/mol. Reference: Suzuki, Fire and Materials 18 (1994) 333.
func CombustionFlammability(heatJMol float64) float64 {
	h := heatJMol / 1e6
	return (-3.42/h + 0.569*h + 0.0538*h*h + 1.80) / 100
}

// FlammableDilutionAir is the air in m³/min, at the temperature of the vapour rate, that keeps vapourM3Min m³/min of vapour
// at 1/safety of its lower limit lowerPct percent. hot is 1 up to 120 °C and 0.7 above, where limits fall. Reference:
// Industrial Ventilation, dilution for fire and explosion, from memory.
func FlammableDilutionAir(vapourM3Min, lowerPct, safety, hot float64) float64 {
	return vapourM3Min * 100 * safety / (lowerPct * hot)
}

// QuarterLELAir is the volume of air, in the unit of vapour, that keeps a volume of vapour at a quarter of its lower limit
// lowerPct percent: 4·(100 − LEL)·v/LEL. Reference: 29 CFR 1910.94(c)(6)(ii), from memory.
func QuarterLELAir(vapour, lowerPct float64) float64 { return 4 * (100 - lowerPct) * vapour / lowerPct }

// FlammableFraction is the share of the lower flammable limit that a vapour mixture in air has reached, Σ(yᵢ/Lᵢ), both in
// percent by volume. At 1 it can burn. Reference: Le Chatelier.
func FlammableFraction(percents, lowerPct []float64) float64 {
	return AdditiveIndex(percents, lowerPct)
}

// VanLaar gives the activity coefficients of a pair of liquids from the constants a12 and a21 and the mole fraction x1 of
// the first. Reference: Perry's Chemical Engineers' Handbook. Not for pairs that separate into two layers.
func VanLaar(a12, a21, x1 float64) (gamma1, gamma2 float64) {
	x2 := 1 - x1
	if x1 == 0 {
		return math.Exp(a12), 1
	}
	if x2 == 0 {
		return 1, math.Exp(a21)
	}
	r := a12 * x1 / (a21 * x2)
	return math.Exp(a12 / ((1 + r) * (1 + r))), math.Exp(a21 / ((1 + 1/r) * (1 + 1/r)))
}

// EthanolWater holds the van Laar constants of ethanol (1) with water (2) as Perry's handbook prints them.
func EthanolWater() (a12, a21 float64) { return 1.6798, 0.9227 }

// FuelInLiquid is one burning ingredient of a liquid: mole fraction, activity coefficient (1 = ideal), flash point in °C
// and vapour pressure in pascal at a temperature in °C.
type FuelInLiquid struct {
	X, Gamma, FlashC float64
	Pressure         func(tempC float64) (pa float64, known bool)
}

// MixtureFlashPoint estimates the closed cup flash point in °C of a liquid: the temperature at which Σ xᵢ·γᵢ·pᵢ(T)/pᵢ(Tfᵢ)
// is 1, ingredients that do not burn left out. Valid for −50 to 250 °C; ideal mixtures within about 4 K, water mixtures
// only with activity coefficients. Reference: Liaw et al., J. Loss Prev. Process Ind. 15 (2002) 429, after Le Chatelier.
func MixtureFlashPoint(fuels []FuelInLiquid) (float64, error) {
	at := func(t float64) (float64, bool) {
		sum := 0.0
		for _, f := range fuels {
			p, ok1 := f.Pressure(t)
			pf, ok2 := f.Pressure(f.FlashC)
			if !ok1 || !ok2 || pf <= 0 {
				return 0, false
			}
			sum += f.X * f.Gamma * p / pf
		}
		return sum, true
	}
	lo, hi := -50.0, 250.0
	for range 60 {
		mid := (lo + hi) / 2
		sum, ok := at(mid)
		if !ok {
			return 0, errors.New("flash point of the mixture: vapour pressure missing for an ingredient that burns")
		}
		if sum < 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	if hi > 249.9 || lo < -49.9 {
		return 0, errors.New("flash point of the mixture: none between -50 and 250 °C")
	}
	return (lo + hi) / 2, nil
}
