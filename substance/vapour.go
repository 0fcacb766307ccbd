package substance

import (
	"fmt"
	"math"
)

const (
	zeroC       = 273.15
	gasConstant = 8.314462618 // J/(mol K)
	oneAtm      = 101325.0    // Pa

	// estimateCeiling is where estimates end, Pa: liquids near their critical point no longer follow a straight line.
	estimateCeiling = 3e6
)

// Method tells how a vapour pressure was found.
type Method string

// Methods, best first.
const (
	ByAntoine     Method = "Antoine equation inside its range"
	ByPoint       Method = "value held at 20 °C"
	ByAntoineEnd  Method = "Clausius–Clapeyron from the end of the Antoine range"
	ByTwoPoints   Method = "modified Watson correlation through the value at 20 °C and the boiling point"
	BySinglePoint Method = "modified Watson correlation from the value at 20 °C"
	ByBoiling     Method = "modified Watson correlation from the boiling point"
	ByNothing     Method = "none"
)

// Pressure is a vapour pressure with the way it was found. Known false means that nothing held allows one; Reason then
// says what is missing. Estimate marks everything but a published equation in its range or a value held.
type Pressure struct {
	Pa       float64 `json:"pa"`
	Known    bool    `json:"known"`
	Estimate bool    `json:"estimate,omitempty"`
	Method   Method  `json:"method"`
	Reason   string  `json:"reason"`
	Source   Source  `json:"source"`
}

// VapourPressure is the vapour pressure of the pure substance at a temperature in °C, from −120 to 400 °C. Inside the
// range of the Antoine equation it is log10(p/Pa) = A − B/(T/K + C). Outside it, ln p goes on as a straight line in 1/T from
// the end of the range (Clausius–Clapeyron). Without an equation it follows the modified Watson correlation (watson)
// from what is held of the boiling point and the value at 20 °C. All but the first are estimates and say so; estimates
// from the boiling point alone read high for alcohols, amines and acids.
func (s *Substance) VapourPressure(tempC float64) Pressure {
	if !(tempC >= -120 && tempC <= 400) {
		return Pressure{Method: ByNothing, Reason: fmt.Sprintf("%g °C lies outside −120 to 400 °C", tempC)}
	}
	k := tempC + zeroC
	p := s.pressure(k)
	if p.Known && p.Estimate && p.Pa > estimateCeiling {
		return Pressure{Method: ByNothing, Reason: fmt.Sprintf("%g °C lies far above the boiling point; an estimate there means nothing", tempC)}
	}
	if p.Known && p.Estimate && s.MeltingPointC.Known && tempC < s.MeltingPointC.V {
		p.Reason += "; the substance is solid at this temperature and its vapour pressure is lower"
	}
	return p
}

func (s *Substance) pressure(k float64) Pressure {
	a, at20, boil := s.Antoine, s.VapourPressurePa, s.BoilingPointC
	const t20 = 20 + zeroC
	switch {
	case a != nil && k >= a.TminK && k <= a.TmaxK:
		return Pressure{Pa: a.at(k), Known: true, Method: ByAntoine, Source: a.Source,
			Reason: fmt.Sprintf("range %.0f to %.0f °C", a.TminK-zeroC, a.TmaxK-zeroC)}
	case at20.Known && math.Abs(k-t20) < 0.01:
		return Pressure{Pa: at20.V, Known: true, Method: ByPoint, Source: at20.Source, Reason: "value at 20 °C"}
	case a != nil:
		end := math.Min(math.Max(k, a.TminK), a.TmaxK)
		slope := math.Ln10 * a.B * end * end / ((end + a.C) * (end + a.C)) // heat of vaporisation over R at that end
		return Pressure{Pa: line(k, end, a.at(end), slope), Known: true, Estimate: true, Method: ByAntoineEnd, Source: a.Source,
			Reason: fmt.Sprintf("%.0f K outside the range %.0f to %.0f °C", math.Abs(k-end), a.TminK-zeroC, a.TmaxK-zeroC)}
	case at20.Known && at20.V > 0 && boil.Known && boil.V > 25:
		tb := boil.V + zeroC
		factor := math.Log(at20.V/oneAtm) / watson(t20, tb)
		return Pressure{Pa: oneAtm * math.Exp(factor*watson(k, tb)), Known: true, Estimate: true, Method: ByTwoPoints, Source: worse(at20.Source, boil.Source),
			Reason: fmt.Sprintf("no Antoine equation held; value at 20 °C and boiling point %g °C", boil.V)}
	case at20.Known && at20.V > 0 && at20.V < oneAtm:
		return Pressure{Pa: oneAtm * math.Exp(watson(k, boilingFrom(t20, at20.V))), Known: true, Estimate: true, Method: BySinglePoint, Source: at20.Source,
			Reason: "no Antoine equation and no boiling point held; only the value at 20 °C"}
	case boil.Known:
		return Pressure{Pa: oneAtm * math.Exp(watson(k, boil.V+zeroC)), Known: true, Estimate: true, Method: ByBoiling, Source: boil.Source,
			Reason: "no Antoine equation and no vapour pressure held; reads high for liquids with hydrogen bonds"}
	}
	return Pressure{Method: ByNothing, Reason: "neither Antoine equation nor vapour pressure nor boiling point held: take the vapour pressure from section 9 of the sheet"}
}

// at is the Antoine equation, Pa at k kelvin, whatever its range.
func (a *Antoine) at(k float64) float64 { return math.Pow(10, a.A-a.B/(k+a.C)) }

// line is the straight line of ln p in 1/T through p0 at t0 with the given slope in kelvin.
func line(k, t0, p0, slope float64) float64 { return p0 * math.Exp(slope*(1/t0-1/k)) }

// watson is ln(p/atm) at t kelvin of a liquid that boils at tb kelvin, by the modified Watson correlation of Grain for
// liquids (exponent 0.19, compressibility change 0.97): Lyman, Reehl and Rosenblatt, Handbook of Chemical Property
// Estimation Methods, chapter 14, from memory; a test holds it against the Antoine equations of the table. t is cut
// off at 1.4 times tb, where the correlation ends.
func watson(t, tb float64) float64 {
	const m, dz = 0.19, 0.97
	x := math.Min(t/tb, 1.4)
	y := 3 - 2*x
	return math.Log(82.06*tb) / dz * (1 - math.Pow(y, m)/x - 2*m*math.Pow(y, m-1)*math.Log(x))
}

// boilingFrom is the boiling point in kelvin at which watson gives the pressure p at t, by halving an interval.
func boilingFrom(t, p float64) float64 {
	low, high := t, 2500.0
	for range 60 {
		mid := (low + high) / 2
		if watson(t, mid) > math.Log(p/oneAtm) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// worse picks the recalled source of two.
func worse(a, b Source) Source {
	if b.Memory && !a.Memory {
		return b
	}
	return a
}
