package protect

import (
	"fmt"
	"math"

	"sixteen/substance"
)

// Bed is the carbon of a respirator and the air drawn through it. Areas, masses and flow are of all cartridges together.
type Bed struct {
	CarbonG         float64 // mass of carbon, g
	BulkGPerCM3     float64 // packed density of the carbon, g/cm³
	AreaCM2         float64 // cross-section the air meets, cm²
	MicroporeCM3G   float64 // micropore volume of the carbon, cm³/g
	FlowLMin        float64 // breathing rate averaged over time, L/min
	TemperatureC    float64
	HumidityPercent float64 // relative humidity of the air
}

// ReferenceBed is the bed behind the table of service lives that OSHA publishes for the Wood model: two cartridges of 26 g,
// 53.3 L/min (moderate to heavy work), 22 °C, up to 50 % relative humidity. The table does not print micropore volume,
// packed density and cross-section; 0.46 cm³/g, 0.40 g/cm³ and 50 cm² are our fit to its rows (a test shows how well).
func ReferenceBed() Bed {
	return Bed{CarbonG: 52, BulkGPerCM3: 0.40, AreaCM2: 50, MicroporeCM3G: 0.46, FlowLMin: 53.3, TemperatureC: 22, HumidityPercent: 50}
}

func (b Bed) check() error {
	for _, f := range []struct {
		name   string
		v      float64
		lo, hi float64
	}{
		{"carbon mass (g)", b.CarbonG, 5, 1000}, {"packed density (g/cm³)", b.BulkGPerCM3, 0.2, 0.8}, {"bed area (cm²)", b.AreaCM2, 5, 500},
		{"micropore volume (cm³/g)", b.MicroporeCM3G, 0.1, 1.5}, {"breathing rate (L/min)", b.FlowLMin, 5, 200},
		{"temperature (°C)", b.TemperatureC, -10, 50}, {"relative humidity (%)", b.HumidityPercent, 0, 100},
	} {
		if !(f.v >= f.lo && f.v <= f.hi) {
			return fmt.Errorf("cartridge: %s is %g; give a value from %g to %g", f.name, f.v, f.lo, f.hi)
		}
	}
	return nil
}

// Vapour is what the service-life equation needs of a substance.
type Vapour struct {
	MolarMassGMol   float64
	DensityGCM3     float64 // of the liquid
	RefractiveIndex float64 // sodium D line, 20 °C
	PressurePa      float64 // saturated vapour pressure at the bed's temperature
}

// Breakthrough is the minutes until the air behind the carbon holds the fraction of the concentration before it, by
//
//	t = We·W/(C·Q) − We·ρ/(kv·C) · ln((1−x)/x)
//	We = W0·d·exp(−3.56e-5·W0·Pe^−1.8·(R·T·ln(p/psat))²)      R = 1.987 cal/(mol·K)
//	Pe = (n²−1)/(n²+2)·M/d
//	1/kv = (1/v + 0.027)·(0.000825 + (0.063 − 0.0055·ln((1−x)/x))/Pe)   kv in 1/min, v in cm/s
//
// The concentration is from 1 to 10 000 ppm, the fraction from 0.01 to 0.1. A time of 0 means that the bed does not hold
// the vapour at all. The equation knows no humidity: see [HumidityFactor].
//
// Wood, Am. Ind. Hyg. Assoc. J. 55 (1994) 11–15; constants recalled, checked by the published table they reproduce.
func (b Bed) Breakthrough(v Vapour, ppm, fraction float64) (minutes float64, err error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	if !(ppm >= 1 && ppm <= 10000) {
		return 0, fmt.Errorf("cartridge: concentration is %g ppm; the equation is used from 1 to 10000 ppm", ppm)
	}
	if !(fraction >= 0.01 && fraction <= 0.1) {
		return 0, fmt.Errorf("cartridge: breakthrough fraction is %g; the equation holds from 0.01 to 0.1", fraction)
	}
	if !(v.MolarMassGMol > 0 && v.DensityGCM3 > 0 && v.RefractiveIndex > 1 && v.PressurePa > 0) {
		return 0, fmt.Errorf("cartridge: molar mass, density, refractive index and vapour pressure must all be known")
	}
	p := ppm * 1e-6 * 101325
	if p >= v.PressurePa {
		return 0, fmt.Errorf("cartridge: %g ppm is more than saturated vapour", ppm)
	}
	const calorieR = 1.987
	kelvin := b.TemperatureC + 273.15
	n2 := v.RefractiveIndex * v.RefractiveIndex
	pe := (n2 - 1) / (n2 + 2) * v.MolarMassGMol / v.DensityGCM3
	potential := calorieR * kelvin * math.Log(p/v.PressurePa)
	capacity := b.MicroporeCM3G * v.DensityGCM3 * math.Exp(-3.56e-5*b.MicroporeCM3G*math.Pow(pe, -1.8)*potential*potential)
	conc := p * v.MolarMassGMol / (8.314462618 * kelvin) * 1e-6 // g/cm³
	odds := math.Log((1 - fraction) / fraction)
	velocity := b.FlowLMin * 1000 / 60 / b.AreaCM2
	perKV := (1/velocity + 0.027) * (0.000825 + (0.063-0.0055*odds)/pe)
	t := capacity*b.CarbonG/(conc*b.FlowLMin*1000) - capacity*b.BulkGPerCM3*perKV/conc*odds
	return math.Max(0, t), nil
}

// HumidityFactor is what a service life for up to 50 % relative humidity is multiplied by. Up to 65 % it stays; above, it is
// halved. The OSHA change-schedule pages ask for a correction above 65 % and print the rule of thumb "half above 85 %"; that
// the half is taken from 65 % on is our caution. At low concentrations water takes even more of the carbon.
func HumidityFactor(relativeHumidityPercent float64) float64 {
	if relativeHumidityPercent > 65 {
		return 0.5
	}
	return 1
}

// CarbonVapour is what is held of a substance for the service-life equation, at a temperature in °C. It is false when the
// refractive index or another figure is not held: then there is no estimate.
func CarbonVapour(s *substance.Substance, tempC float64) (Vapour, bool) {
	if s == nil {
		return Vapour{}, false
	}
	row, ok := embedded().carbon[s.CAS]
	p := s.VapourPressure(tempC)
	if !ok || !s.MolarMassGMol.Known || !s.DensityKgM3.Known || !p.Known {
		return Vapour{}, false
	}
	return Vapour{MolarMassGMol: s.MolarMassGMol.V, DensityGCM3: s.DensityKgM3.V / 1000, RefractiveIndex: row.RefractiveIndex, PressurePa: p.Pa}, true
}

// ServiceLife is the estimated minutes until a bed has to be changed for one substance, with the humidity counted in. The
// fraction let through is limit/concentration, at most 0.1. It is false, with the reason, when no estimate is possible.
func ServiceLife(b Bed, s *substance.Substance, ppm, limitPPM float64) (minutes float64, why string, ok bool) {
	v, held := CarbonVapour(s, b.TemperatureC)
	if !held {
		return 0, "refractive index not held from a source that reproduces the published table", false
	}
	if !(limitPPM > 0) {
		return 0, "no limit in ppm: no concentration behind the carbon to change at", false
	}
	fraction := math.Min(0.1, limitPPM/ppm)
	t, err := b.Breakthrough(v, ppm, fraction)
	if err != nil {
		return 0, err.Error(), false
	}
	return t * HumidityFactor(b.HumidityPercent), "", true
}
