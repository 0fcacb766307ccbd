package exposure

import "math"

// Constants of the ideal gas and of the units that ventilation engineering uses.
const (
	gasConstant = 8.314462618 // J/(mol K)
	zeroC       = 273.15      // K
	oneAtm      = 101325.0    // Pa
)

// MolarVolumeL is the volume in litres of one mole of ideal gas at tempK kelvin and pressurePa pascal: 1000·R·T/p.
func MolarVolumeL(tempK, pressurePa float64) float64 { return 1000 * gasConstant * tempK / pressurePa }

// MgM3FromPPM turns a volume share in ppm into mg/m³ for a substance of molarMass g/mol: ppm·M·p/(R·T)/1000. Ideal gas,
// tempK kelvin, pressurePa pascal. Reference: Industrial Ventilation manual, 23rd ed.; 29 CFR 1910.1000 Table Z-1 note b
// uses 25 °C.
func MgM3FromPPM(ppm, molarMass, tempK, pressurePa float64) float64 {
	return ppm * molarMass / MolarVolumeL(tempK, pressurePa)
}

// PPMFromMgM3 is the reverse of MgM3FromPPM.
func PPMFromMgM3(mgM3, molarMass, tempK, pressurePa float64) float64 {
	return mgM3 * MolarVolumeL(tempK, pressurePa) / molarMass
}

// VapourVolumeRate is the volume of vapour in m³/min that a liquid gives off which evaporates at massG grams per minute:
// m·R·T/(M·p). Ideal gas. Reference: fluid flow textbooks for chemical engineers; Industrial
// Ventilation, chapter on general ventilation.
func VapourVolumeRate(massG, molarMass, tempK, pressurePa float64) float64 {
	return massG / molarMass * MolarVolumeL(tempK, pressurePa) / 1000
}

// SpilledMgM3 is the concentration in mg/m³ when massG grams evaporate wholly into roomM3 cubic metres that no air
// enters or leaves: an upper bound of a spill. It is valid while the result stays below saturation (SaturatedPPM).
func SpilledMgM3(massG, roomM3 float64) float64 { return massG * 1000 / roomM3 }

// EightHourMean is the time weighted mean over a shift of 8 h, Σ(Cᵢ·tᵢ)/8, of concentrations (any unit) met for hours h
// each: 29 CFR 1910.1000(d)(1)(i). Time not listed counts as free of exposure. The two lists are of one length.
func EightHourMean(concentrations, hours []float64) float64 {
	sum := 0.0
	for i, c := range concentrations {
		sum += c * hours[i]
	}
	return sum / 8
}

// AdditiveIndex is Σ(Cᵢ/Lᵢ) of substances that act alike, concentrations and limits in one unit per pair; above 1 the
// mixture exceeds its limit: 29 CFR 1910.1000(d)(2)(i). The two lists are of one length.
func AdditiveIndex(concentrations, limits []float64) float64 {
	sum := 0.0
	for i, c := range concentrations {
		sum += c / limits[i]
	}
	return sum
}

// VapourMixtureLimit is the limit of a vapour mixture as a whole, ΣC/Σ(C/L), in the unit of its concentrations. Valid
// while the mixture keeps its composition. Reference: 29 CFR 1910.1000(d)(2) rearranged.
func VapourMixtureLimit(concentrations, limits []float64) float64 {
	sum := 0.0
	for _, c := range concentrations {
		sum += c
	}
	return sum / AdditiveIndex(concentrations, limits)
}

// LiquidMixtureLimit is the limit in mg/m³ of the vapour of a liquid whose mass fractions are known, when the air has the
// composition of the liquid (it evaporates wholly): 1/Σ(fᵢ/Lᵢ), limits in mg/m³. Reference: common practice of hygiene.
func LiquidMixtureLimit(massFractions, limitsMgM3 []float64) float64 {
	return 1 / AdditiveIndex(massFractions, limitsMgM3)
}

// BriefScala is the factor by which an 8 h limit is multiplied for a daily shift of hours h, (8/h)·((24−h)/16): less time
// to clear the body and more to take up. Valid above 8 and below 24 h; shorter shifts give 1. Reference: Brief and Scala,
// Am. Ind. Hyg. Assoc. J. 36 (1975) 467. Not meant for irritants, ceilings or limits that already speak of long shifts.
func BriefScala(hours float64) float64 {
	if hours <= 8 {
		return 1
	}
	return math.Max(0, 8/hours*(24-hours)/16)
}

// LeadLimit is the shift limit of lead in µg/m³ for more than 8 h of exposure a day, 400/hours: 29 CFR 1910.1025(c)(2).
// No other substance has such a rule in US law. Up to 8 h it is 50.
func LeadLimit(hours float64) float64 {
	if hours <= 8 {
		return 50
	}
	return 400 / hours
}

// MaxUseConcentration is the highest concentration a respirator may be used in: assigned protection factor × limit, never
// above idlh, all in one unit: 29 CFR 1910.134(d)(3)(i). An idlh of 0 or less means none is known and no cap is applied.
func MaxUseConcentration(apf, limit, idlh float64) float64 {
	if idlh > 0 {
		return math.Min(apf*limit, idlh)
	}
	return apf * limit
}
