package exposure

import "math"

// SaturatedPPM is the vapour share in ppm over a liquid at equilibrium: 10⁶·γ·x·p°/p, with mole fraction x, pure vapour
// pressure purePa pascal, activity coefficient gamma (1 = ideal, Raoult) and total pressure pressurePa. Valid below the
// boiling point; capped at 10⁶. Reference: Raoult's law.
func SaturatedPPM(x, purePa, gamma, pressurePa float64) float64 {
	return 1e6 * math.Min(1, x*purePa*gamma/pressurePa)
}

// VapourHazardRatio is the saturated vapour in ppm over the limit in ppm: how many times the limit a closed space over the
// liquid holds. Reference: IChemE Symposium Series 151 (2006).
func VapourHazardRatio(saturatedPPM, limitPPM float64) float64 { return saturatedPPM / limitPPM }

// RelativeEvaporation is the evaporation of a pure liquid relative to n-butyl acetate, estimated as the ratio of pressure
// times molar mass, both pressures in pascal at one temperature, molar masses in g/mol. Within a factor of about 1.4 of
// measured film rates; fast solvents evaporate slower than it says because the film cools.
func RelativeEvaporation(purePa, molarMass, butylAcetatePa, butylAcetateMolarMass float64) float64 {
	return purePa * molarMass / (butylAcetatePa * butylAcetateMolarMass)
}

// EvaporationFlux is the mass flux in g/(m²·min) of a liquid with partial pressure partialPa pascal into clean air at a
// mass transfer velocity k in m/min: k·M·p/(R·T). Valid well below the boiling point. Reference: Crowl and Louvar,
// Chemical Process Safety, chapter 3.
func EvaporationFlux(k, molarMass, partialPa, tempK float64) float64 {
	return k * molarMass * partialPa / (gasConstant * tempK)
}

// Correlation is a published relation for the mass transfer velocity over a liquid.
type Correlation string

// Correlations. Auto takes the larger of StillPool and FlatPlate, since models under-predict evaporation at low air speed.
const (
	Auto       Correlation = "auto"
	StillPool  Correlation = "still-pool" // indoor air at rest
	MolarMass  Correlation = "molar-mass" // from that of water, no air speed
	WindPool   Correlation = "wind-pool"  // outdoor spill in wind
	FlatPlate  Correlation = "flat-plate" // laminar air flow along a surface
	waterK                 = 0.83e-2 * 60 // m/min, water: Crowl and Louvar, chapter 3
	airKinVisc             = 1.5e-5       // m²/s, air near 20 °C
	waterDiff              = 2.4e-5       // m²/s, water vapour in air near 20 °C
)

// Correlations lists the choices.
func Correlations() []Correlation {
	return []Correlation{Auto, StillPool, MolarMass, WindPool, FlatPlate}
}

// Range says in words where a correlation holds, with its reference.
func (c Correlation) Range() string {
	switch c {
	case Auto:
		return "larger of still-pool and flat-plate"
	case StillPool:
		return "pools in still indoor air, below about 0.1 m/s; Environ. Sci. Technol. 48 (2014)"
	case MolarMass:
		return "moderate air movement, no air speed in it; Crowl and Louvar, Chemical Process Safety, chapter 3"
	case WindPool:
		return "spills in wind of 1.5 m/s and more; US EPA guidance for offsite consequence analysis (1999), from memory"
	case FlatPlate:
		return "laminar flow along 0.05–5 m of surface, 0.05–2 m/s, Reynolds number below 500 000; Sh = 0.664·Re^½·Sc^⅓ of heat and mass transfer textbooks"
	}
	return ""
}

// inRange tells whether an air speed (m/s) and a length of surface (m) lie where the correlation holds.
func (c Correlation) inRange(speed, length float64) bool {
	switch c {
	case StillPool:
		return speed <= 0.1
	case WindPool:
		return speed >= 1.5
	case FlatPlate:
		return speed >= 0.05 && speed <= 2 && length >= 0.05 && length <= 5 && speed*length/airKinVisc < 5e5
	}
	return true
}

// TransferVelocity is the mass transfer velocity in m/min for a substance of molarMass g/mol into air that moves at
// speedMS metres per second over a surface lengthM metres long, at tempK kelvin. See Correlation.Range for validity.
func (c Correlation) TransferVelocity(molarMass, speedMS, lengthM, tempK float64) float64 {
	switch c {
	case StillPool:
		return StillPoolFlux(1, 1) / 60 * gasConstant * tempK
	case MolarMass:
		return TransferFromWater(molarMass)
	case WindPool:
		return windVelocity(molarMass, speedMS)
	case FlatPlate:
		d := waterDiff * math.Sqrt(18.015/molarMass)
		re, sc := speedMS*lengthM/airKinVisc, airKinVisc/d
		return 60 * 0.664 * math.Sqrt(re) * math.Cbrt(sc) * d / lengthM
	}
	return math.Max(StillPool.TransferVelocity(molarMass, speedMS, lengthM, tempK), FlatPlate.TransferVelocity(molarMass, speedMS, lengthM, tempK))
}

// TransferFromWater is the mass transfer velocity in m/min of a substance of molarMass g/mol from that of water,
// 0.83·(18/M)^⅓ cm/s. Reference: Crowl and Louvar, Chemical Process Safety, chapter 3.
func TransferFromWater(molarMass float64) float64 { return waterK * math.Cbrt(18/molarMass) }

// StillPoolFlux is the evaporation in g/(m²·h) of a pool in still air from its vapour pressure in pascal and molar mass in
// g/mol: 1464·10⁻⁶·p·M. Reference: Environ. Sci. Technol. 48 (2014), correlation of evaporation with vapour pressure.
func StillPoolFlux(vapourPa, molarMass float64) float64 { return 1464e-6 * vapourPa * molarMass }

// WindPoolRate is the evaporation in g/min of a spill of areaM2 square metres in wind of speedMS metres per second:
// 0.284·U^0.78·M^⅔·A·p/(82.05·T) lb/min with A in ft² and p in mmHg. From 1.5 m/s. Reference: US EPA guidance for
// offsite consequence analysis (1999), appendix D, from memory.
func WindPoolRate(molarMass, vapourPa, tempK, speedMS, areaM2 float64) float64 {
	const lb, ft2 = 453.59237, 0.09290304
	return lb * math.Pow(speedMS, 0.78) * LiquidFactor(molarMass, vapourPa, tempK) * areaM2 / ft2
}

// LiquidFactor is the factor of WindPoolRate for one liquid in lb/(min·ft²) at 1 m/s: 0.284·M^⅔·p/(82.05·T), vapourPa in
// pascal (the equation takes mmHg). The guidance tabulates it as "liquid factor ambient".
func LiquidFactor(molarMass, vapourPa, tempK float64) float64 {
	return 0.284 * math.Pow(molarMass, 2.0/3) * vapourPa / 133.322 / (82.05 * tempK)
}

// windVelocity is WindPoolRate as a mass transfer velocity in m/min.
func windVelocity(molarMass, speedMS float64) float64 {
	const t = 298.15
	perPa := WindPoolRate(molarMass, 1, t, speedMS, 1) // g/(min m² Pa)
	return perPa * gasConstant * t / molarMass
}
