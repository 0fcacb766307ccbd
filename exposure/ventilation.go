package exposure

import "math"

// DilutionAir is the clean air in m³/min that keeps a vapour released at vapourM3Min (m³/min at room conditions) at
// limitPPM in a room, mixing times the ideal amount: Q = K·q/C. mixing runs from 1 (ideal) to 10 (poor). For supply air
// that carries the substance, limitPPM is the limit less what the supply carries. Valid for steady release. Reference:
// Industrial Ventilation, chapter on dilution.
func DilutionAir(vapourM3Min, limitPPM, mixing float64) float64 {
	return mixing * vapourM3Min * 1e6 / limitPPM
}

// DilutionAirMass is DilutionAir by mass: m³/min of supply air that carries supply mg/m³ and keeps generation mg/min at
// limit mg/m³, Q = K·G/(C−C₀). It is +Inf when the supply is not below the limit.
func DilutionAirMass(generation, limit, supply, mixing float64) float64 {
	if supply >= limit {
		return math.Inf(1)
	}
	return mixing * generation / (limit - supply)
}

// HoodFlow is the air in m³/min that an open face of areaM2 square metres draws at faceMMin metres per minute.
// Reference: continuity; Industrial Ventilation, chapter on enclosing hoods.
func HoodFlow(areaM2, faceMMin float64) float64 { return areaM2 * faceMMin }

// WellMixed is one room whose air is alike everywhere.
type WellMixed struct {
	VolumeM3   float64
	AirM3Min   float64 // effective air, that is the real flow over the mixing factor; 0 for a sealed room
	Generation float64 // amount per minute, constant: mg/min for mg/m³, m³/min·10⁶ for ppm
	Supply     float64 // what the supply air carries, in the unit of the concentration
}

// Steady is the concentration after a long time, Cs + G/Q. It is +Inf for a sealed room with a source.
func (r WellMixed) Steady() float64 {
	if r.Generation == 0 {
		return r.Supply
	}
	return r.Supply + r.Generation/r.AirM3Min
}

// At is the concentration after minutes from a start concentration: C₀·e^(−t/τ) + (Cs + G/Q)·(1 − e^(−t/τ)), τ = V/Q;
// sealed rooms rise as C₀ + G·t/V. Reference: mass balance of a well mixed room, fluid flow textbooks.
func (r WellMixed) At(start, minutes float64) float64 {
	if r.AirM3Min == 0 {
		return start + r.Generation*minutes/r.VolumeM3
	}
	gone := -math.Expm1(-minutes * r.AirM3Min / r.VolumeM3)
	return start*(1-gone) + r.Steady()*gone
}

// TimeTo is the time in minutes until the concentration has gone from start to target. ok is false when it never does.
// Reference: At solved for the time; purge t = (V/Q)·ln(C₁/C₂), CDC guideline 2003 table B.1.
func (r WellMixed) TimeTo(start, target float64) (minutes float64, ok bool) {
	if r.AirM3Min == 0 {
		if r.Generation == 0 {
			return 0, target == start
		}
		minutes = (target - start) * r.VolumeM3 / r.Generation
		return minutes, minutes >= 0
	}
	steady := r.Steady()
	ratio := (start - steady) / (target - steady)
	if !(ratio >= 1) || math.IsInf(ratio, 1) {
		return 0, start == target
	}
	return r.VolumeM3 / r.AirM3Min * math.Log(ratio), true
}

// PurgeMinutes is the time in minutes until airChanges per hour have removed share (0 to below 1) of what is in the air:
// −60·ln(1−share)/n. Perfect mixing, no source. Reference: CDC guideline 2003, table B.1.
func PurgeMinutes(airChanges, share float64) float64 { return -60 * math.Log1p(-share) / airChanges }

// TwoZoneSteady gives the far and near field concentrations in mg/m³ of a source of generation mg/min, with airM3Min
// through the room, beta m³/min between near and far field, and the source on for a share onShare (0 to 1) of the time:
// far = γ·G/Q, near = far + γ·G/β. Valid for long steady work. Reference: Ann. Work Expo. Health 68 (2024) 78.
func TwoZoneSteady(generation, airM3Min, beta, onShare float64) (far, near float64) {
	far = onShare * generation / airM3Min
	return far, far + onShare*generation/beta
}

// NearFieldHalfSphere gives the air exchange β in m³/min and the volume in m³ of a near field shaped as half a sphere of
// radiusM metres on a surface, with random air speed in m/min: half the free surface times the speed; ⅔·π·r³. Reference:
// two-box model of Nicas, from memory.
func NearFieldHalfSphere(radiusM, speedMMin float64) (beta, volumeM3 float64) {
	return 0.5 * 2 * math.Pi * radiusM * radiusM * speedMMin, 2.0 / 3 * math.Pi * radiusM * radiusM * radiusM
}
