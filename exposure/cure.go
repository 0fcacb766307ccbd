package exposure

import (
	"fmt"
	"math"
)

// Cure is what heats a two-part mix. Either HeatJG or EEW and PHR (then 100 kJ per mole of epoxide is taken, from memory).
type Cure struct {
	HeatJG          float64 `yaml:"heat_j_g" json:"heat_j_g,omitempty"`
	EEW             float64 `yaml:"epoxide_equivalent_g_eq" json:"epoxide_equivalent_g_eq,omitempty"`
	PHR             float64 `yaml:"hardener_phr" json:"hardener_phr,omitempty"`
	PotLifeMin      float64 `yaml:"pot_life_min" json:"pot_life_min"`
	PotLifeMassG    float64 `yaml:"pot_life_mass_g" json:"pot_life_mass_g"`
	PotLifeC        float64 `yaml:"pot_life_c" json:"pot_life_c"`
	HeatCapacityJGK float64 `yaml:"heat_capacity_j_g_k" json:"heat_capacity_j_g_k,omitempty"` // 2.0 when not given
	DensityKgM3     float64 `yaml:"mixed_density_kg_m3" json:"mixed_density_kg_m3,omitempty"` // 1100 when not given
}

func (c *Cure) check(k *checker, at string) {
	if c.HeatJG == 0 && (c.EEW == 0 || c.PHR == 0) {
		k.ask(at+".heat_j_g", "how much heat does the cure give? State J per gram mixed, or epoxide equivalent and phr")
	}
	if c.HeatJG < 0 || c.HeatJG > 2000 {
		k.ask(at+".heat_j_g", "%g J/g is beyond any resin", c.HeatJG)
	}
	if c.HeatJG == 0 && (c.EEW < 0 || c.EEW > 5000 || c.PHR < 0 || c.PHR > 1000) {
		k.ask(at+".epoxide_equivalent_g_eq", "%g g/eq and %g phr are not plausible", c.EEW, c.PHR)
	}
	if !(c.PotLifeMin >= 1 && c.PotLifeMin <= 2880) {
		k.ask(at+".pot_life_min", "how long is the pot life in minutes (1 to 2880)?")
	}
	if !(c.PotLifeMassG >= 1 && c.PotLifeMassG <= 1e5) {
		k.ask(at+".pot_life_mass_g", "for which mass is the pot life stated? Often 100 g")
	}
	if c.PotLifeC < 0 || c.PotLifeC > 60 {
		k.ask(at+".pot_life_c", "%g °C is no temperature for a pot life; often 20 or 25 (0: 25)", c.PotLifeC)
	}
}

func (c *Cure) heat() float64 {
	if c.HeatJG > 0 {
		return c.HeatJG
	}
	return CureHeat(100, c.EEW, c.PHR)
}

func (c *Cure) capacity() float64 { return orElse(c.HeatCapacityJGK, 2.0) }
func (c *Cure) density() float64  { return orElse(c.DensityKgM3, 1100) }

func orElse(v, other float64) float64 {
	if v == 0 {
		return other
	}
	return v
}

const (
	// activation is the activation energy of amine and epoxide, J/mol: Thermochimica Acta 447 (2006) 167, abstract.
	activation = 57000
	// seed is the share of product that starts the autocatalysis, and gelAt the conversion at the gel point of a diepoxide
	// with an amine of four hydrogens, 1/√3 (Flory and Stockmayer). The seed is an assumption.
	seed  = 0.02
	gelAt = 0.577
	// surfaceLoss is the heat that a surface near room temperature loses to still air by convection and radiation,
	// W/(m² K), and resinConductivity the conduction inside, W/(m K): usual textbook figures, from memory.
	surfaceLoss       = 10.0
	resinConductivity = 0.2
	profileMin        = 2.0 // min between the points of a temperature curve
)

// thermal is a mass that cures: lumped, with one temperature.
type thermal struct {
	cure        *Cure
	rate        float64 // 1/min at 25 °C, times (seed+α)(1−α)
	lossPerGram float64 // W/(g K)
}

// cupLoss is the heat loss of a cup as high as wide that holds massG grams, W/(g K); the resistance inside is that of a
// cylinder, R/(4·k).
func (c *Cure) cupLoss(massG float64) float64 {
	volume := massG / 1000 / c.density()
	r := math.Cbrt(volume / (2 * math.Pi))
	area := 2*math.Pi*r*2*r + 2*math.Pi*r*r
	return area / (1/surfaceLoss + r/(4*resinConductivity)) / massG
}

// pourLoss is that of a layer of thicknessM metres that loses heat on both faces; inside, half the thickness over 3·k.
func (c *Cure) pourLoss(thicknessM float64) float64 {
	perM2 := 2 / (1/surfaceLoss + thicknessM/2/(3*resinConductivity))
	return perM2 / (thicknessM * c.density() * 1000)
}

// calibrate finds the rate at which the stated mass gels in a cup after its pot life.
func (c *Cure) calibrate() float64 {
	lo, hi := math.Log(1e-6), math.Log(10.0)
	for range 50 {
		mid := (lo + hi) / 2
		th := thermal{cure: c, rate: math.Exp(mid), lossPerGram: c.cupLoss(c.PotLifeMassG)}
		_, gel := th.run(orElse(c.PotLifeC, 25), c.PotLifeMin*1.5+1)
		if gel > c.PotLifeMin {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Exp((lo + hi) / 2)
}

// run gives the temperature in °C every profileMin minutes from a start and room temperature roomC, and the minute of the gel
// point (+Inf when it is not reached). Heat balance: cp·dT/dt = H·dα/dt − loss·(T−room); dα/dt = k(T)·(seed+α)·(1−α).
// Steps shrink so that no step warms by more than half a kelvin.
func (th thermal) run(roomC, minutes float64) (temps []float64, gel float64) {
	alpha, temp, gel := 0.0, roomC, math.Inf(1)
	cp, heat := th.cure.capacity(), th.cure.heat()
	constant := func(t float64) float64 {
		return th.rate * math.Exp(activation/gasConstant*(1/298.15-1/(t+zeroC)))
	}
	slope := func(a, t float64) (da, dt float64) {
		da = constant(t) * (seed + a) * (1 - a)
		return da, (heat*da - 60*th.lossPerGram*(t-roomC)) / cp
	}
	next := 0.0
	for t := 0.0; t <= minutes; {
		if t >= next-1e-9 {
			temps = append(temps, temp)
			next += profileMin
		}
		da, dt := slope(alpha, temp)
		h := math.Min(next-t, 0.5/(math.Abs(dt)+1e-9))
		h = math.Min(math.Max(h, 1e-5), math.Min(0.02/(da+1e-9), 0.5/(constant(temp)+1e-9))) // the last keeps the end of the cure stable
		mid, warm := slope(alpha+h/2*da, temp+h/2*dt)
		before := alpha
		alpha, temp, t = alpha+h*mid, temp+h*warm, t+h
		if alpha > 0.9999 { // done: nothing stiff is left
			alpha, th.rate = 1, 0
		}
		if before < gelAt && alpha >= gelAt {
			gel = t - h*(alpha-gelAt)/(alpha-before)
		}
		if next-t < 1e-9 {
			t = next
		}
	}
	return temps, gel
}

// HeatCurve is the estimated temperature of a curing mass over time.
type HeatCurve struct {
	Where     string    `json:"where"`
	EveryMin  float64   `json:"every_min"`
	TempC     []float64 `json:"temp_c"`
	PeakC     float64   `json:"peak_c"`
	PeakMin   float64   `json:"peak_min"`
	GelMin    float64   `json:"gel_min,omitempty"` // 0: not within the time
	CeilingC  float64   `json:"ceiling_c"`         // adiabatic
	MassG     float64   `json:"mass_g"`
	Warnings  []string  `json:"warnings,omitempty"`
	SpreadOut string    `json:"spread_out,omitempty"`
}

// EstimateCup is the temperature in a cup as high as wide, massG grams, in a room of roomC °C over minutes. An estimate:
// one temperature for the whole mass, rate calibrated from the stated pot life, no loss of hardener or heat of boiling.
func (c *Cure) EstimateCup(massG, roomC, minutes float64) HeatCurve {
	return c.curve(fmt.Sprintf("cup of %.0f g", massG), c.calibrate(), c.cupLoss(massG), massG, roomC, minutes)
}

// EstimatePour is EstimateCup for a layer of thicknessMM millimetres, massG grams in all.
func (c *Cure) EstimatePour(thicknessMM, massG, roomC, minutes float64) HeatCurve {
	return c.curve(fmt.Sprintf("layer of %.1f mm", thicknessMM), c.calibrate(), c.pourLoss(thicknessMM/1000), massG, roomC, minutes)
}

func (c *Cure) curve(where string, rate, loss, massG, roomC, minutes float64) HeatCurve {
	th := thermal{cure: c, rate: rate, lossPerGram: loss}
	temps, gel := th.run(roomC, minutes)
	h := HeatCurve{Where: where, EveryMin: profileMin, TempC: temps, CeilingC: roomC + AdiabaticRise(c.heat(), c.capacity()), MassG: massG}
	for i, t := range temps {
		if t > h.PeakC {
			h.PeakC, h.PeakMin = t, float64(i)*profileMin
		}
	}
	if !math.IsInf(gel, 1) {
		h.GelMin = gel
	}
	return h
}

// spreadThickness is the thickest layer in millimetres whose peak stays at or below limitC, 0 when even 1 mm does not.
func (c *Cure) spreadThickness(roomC, limitC float64) float64 {
	rate, best := c.calibrate(), 0.0
	minutes := math.Min(2880, 6*c.PotLifeMin+120)
	lo, hi := 1.0, 200.0
	for range 14 {
		mid := math.Sqrt(lo * hi)
		if c.curve("", rate, c.pourLoss(mid/1000), 1, roomC, minutes).PeakC <= limitC {
			best, lo = mid, mid
		} else {
			hi = mid
		}
	}
	return best
}

// heat fills the temperature curves of tasks whose product cures, as rise over the room.
func (p *plan) heat() {
	mid := p.draw(middle, composeMiddle)
	p.profile = make([][]float64, len(p.job.Tasks))
	for i := range p.job.Tasks {
		h, ok := p.heatCurve(i, mid)
		if !ok {
			continue
		}
		room, _ := p.job.room(p.job.Tasks[i].Room)
		for _, t := range h.TempC {
			p.profile[i] = append(p.profile[i], t-mid.temp[room])
		}
	}
}

// heatCurve is the temperature of the mix of a task, in the shape that its surface gives it.
func (p *plan) heatCurve(task int, v values) (HeatCurve, bool) {
	t := p.job.Tasks[task]
	product, ok := p.job.product(t.Product)
	if !ok || !t.Opens() || p.job.Products[product].Cure == nil {
		return HeatCurve{}, false
	}
	c, room := p.job.Products[product].Cure, p.roomOf(t)
	minutes := math.Min(p.end-t.StartMin, 2880)
	var h HeatCurve
	if t.Surface == Cup {
		h = c.EstimateCup(v.amount[task], v.temp[room], minutes)
	} else {
		mm := v.amount[task] / 1000 / c.density() / v.area[task] * 1000
		h = c.EstimatePour(mm, v.amount[task], v.temp[room], minutes)
	}
	h.Where = t.Name + ": " + h.Where
	return h, true
}

func (p *plan) roomOf(t Task) int { i, _ := p.job.room(t.Room); return i }
