package exposure

import (
	"fmt"
	"math"
	"slices"

	"sixteen/substance"
)

// vapour is one substance that the air model follows.
type vapour struct {
	name, cas string
	molar     float64
	lower     float64 // lower flammable limit in percent, 0 unknown
	entry     *substance.Substance
	pressure  substance.Pressure // at 20 °C, for the report
	hazards   []string
	limits    []substance.Limit // what it is held against
}

// blend is how a product's ingredients take part: vapour index, or -1 for what gives none.
type blend struct {
	lo, hi   []float64 // mass fractions, the last one for what the list leaves open
	vapour   []int
	pressure []*substance.Substance // gives the vapour pressure over temperature
	tabled   []*pressures           // the same, tabled; nil for what gives no vapour
	gamma    []float64
	inert    []float64 // g/mol of dissolved non-volatile ingredients, 0 for solids and unknowns
}

// plan is a job made ready: everything that does not depend on a draw from the ranges.
type plan struct {
	job      *Job
	table    *substance.Table
	vapours  []vapour
	blends   []blend
	zones    []zone
	far      []int // zone of each room
	near     []int // zone of its near field or far
	omitted  []NotAssessed
	assumed  []string
	cuts     []float64 // times at which flows, sources or stays change
	end      float64
	lastTask float64
	profile  [][]float64 // per task: temperature over that of the room, kelvin, every profileMin minutes
	accuracy float64
}

type zone struct {
	room int
	near bool
}

// NotAssessed names a substance whose vapour the estimate leaves out, and why.
type NotAssessed struct {
	Product string `json:"product"`
	Name    string `json:"name"`
	CAS     string `json:"cas,omitempty"`
	Percent string `json:"percent"`
	Why     string `json:"why"`
	Benign  bool   `json:"benign,omitempty"` // gives no vapour worth naming, as stated in the job
}

func newPlan(j *Job, table *substance.Table) (*plan, error) {
	if err := j.Check(); err != nil {
		return nil, err
	}
	p := &plan{job: j, table: table, accuracy: 7e-3}
	for i := range j.Products {
		p.addProduct(&j.Products[i], table)
	}
	for i, r := range j.Rooms {
		p.far = append(p.far, len(p.zones))
		p.near = append(p.near, len(p.zones))
		p.zones = append(p.zones, zone{room: i})
		if r.NearField != nil {
			p.near[i] = len(p.zones)
			p.zones = append(p.zones, zone{room: i, near: true})
		}
		if !r.TemperatureC.Given() {
			p.assume("%s: temperature not stated, 18 to 25 °C taken", r.Name)
		}
		if !r.AirSpeedMS.Given() {
			p.assume("%s: air speed not stated, 0.05 to 0.15 m/s taken", r.Name)
		}
	}
	p.clock()
	p.heat()
	return p, nil
}

func (p *plan) assume(format string, args ...any) {
	p.assumed = append(p.assumed, fmt.Sprintf(format, args...))
}

func (p *plan) addProduct(pr *Product, table *substance.Table) {
	var b blend
	for _, ing := range pr.Ingredients {
		lo, hi := ing.Percent.within(0, 100)
		b.lo, b.hi = append(b.lo, lo/100), append(b.hi, hi/100)
		v, source, inert, why := p.vapourOf(ing, table)
		gamma := ing.Activity
		if gamma == 0 {
			gamma = 1
		}
		b.vapour, b.pressure, b.inert, b.gamma = append(b.vapour, v), append(b.pressure, source), append(b.inert, inert), append(b.gamma, gamma)
		if v < 0 {
			p.omitted = append(p.omitted, NotAssessed{Product: pr.Name, Name: nameOf(ing, table), CAS: ing.CAS, Percent: percentWords(ing.Percent), Why: why, Benign: ing.Solid || ing.NonVolatile})
		}
	}
	if !pr.Complete {
		b.lo, b.hi = append(b.lo, 0), append(b.hi, 1)
		b.vapour, b.pressure, b.inert, b.gamma = append(b.vapour, -1), append(b.pressure, nil), append(b.inert, 0), append(b.gamma, 1)
		p.omitted = append(p.omitted, NotAssessed{Product: pr.Name, Name: "what the list leaves open", Percent: restWords(b), Why: "not named by the supplier"})
	}
	for _, source := range b.pressure {
		var t *pressures
		if source != nil {
			t = newPressures(source)
		}
		b.tabled = append(b.tabled, t)
	}
	tighten(b.lo, b.hi)
	p.blends = append(p.blends, b)
}

func restWords(b blend) string {
	lo, hi := 1.0, 1.0
	for i := range len(b.lo) - 1 {
		lo, hi = lo-b.hi[i], hi-b.lo[i]
	}
	return fmt.Sprintf("%.3g–%.3g %%", 100*math.Max(0, lo), 100*math.Max(0, hi))
}

func percentWords(r Range) string {
	switch v, single := r.Single(); {
	case single:
		return fmt.Sprintf("%g %%", v)
	case r.HasLo && r.HasHi:
		return fmt.Sprintf("%g–%g %%", r.Lo, r.Hi)
	case r.HasHi:
		return fmt.Sprintf("up to %g %%", r.Hi)
	}
	return fmt.Sprintf("%g %% and more", r.Lo)
}

func nameOf(ing Ingredient, table *substance.Table) string {
	if ing.Name != "" {
		return ing.Name
	}
	if s, ok := table.ByCAS(ing.CAS); ok {
		return s.Name
	}
	return ing.CAS
}

// vapourOf finds or adds the vapour of an ingredient: its index, where its pressure comes from, or its molar mass as a
// dissolved inert, or why it is not followed.
func (p *plan) vapourOf(ing Ingredient, table *substance.Table) (v int, pressure *substance.Substance, inert float64, why string) {
	entry, known := table.ByCAS(ing.CAS)
	molar := ing.MolarMass
	if molar == 0 && known && entry.MolarMassGMol.Known {
		molar = entry.MolarMassGMol.V
	}
	switch {
	case ing.Solid:
		return -1, nil, 0, "stated as solid: gives no vapour; dust and skin contact are not covered here"
	case ing.NonVolatile:
		return -1, nil, molar, "stated as not volatile: no vapour; skin contact, mist and dust are not covered here"
	}
	s := &substance.Substance{}
	if known {
		copied := *entry
		s = &copied
	}
	if ing.VapourPressurePa > 0 {
		s.Antoine = nil
		s.VapourPressurePa = substance.Value{Known: true, V: ing.VapourPressurePa, Source: substance.Source{Text: "stated in the job"}}
	}
	at20 := s.VapourPressure(20)
	switch {
	case !at20.Known:
		return -1, nil, molar, "no vapour pressure held: take it from section 9 or 3 of the sheet (vapour_pressure_pa_20c)"
	case molar == 0:
		return -1, nil, 0, "no molar mass held: state molar_mass_g_mol"
	}
	name := nameOf(ing, table)
	i := slices.IndexFunc(p.vapours, func(o vapour) bool { return o.name == name && o.cas == ing.CAS || ing.CAS != "" && o.cas == ing.CAS })
	if i < 0 {
		i = len(p.vapours)
		n := vapour{name: name, cas: ing.CAS, molar: molar, lower: ing.LowerFlammable, pressure: at20, hazards: ing.Hazards}
		if known {
			n.entry = entry
			if n.lower == 0 && entry.LowerFlammablePct.Known {
				n.lower = entry.LowerFlammablePct.V
			}
		}
		n.limits = limitsOf(n, p.job.Jurisdiction)
		p.vapours = append(p.vapours, n)
	}
	return i, s, 0, ""
}

// clock collects every time at which something changes.
func (p *plan) clock() {
	cuts := []float64{0}
	for _, t := range p.job.Tasks {
		end := t.StartMin + t.DurationMin
		cuts = append(cuts, t.StartMin, end)
		p.lastTask = math.Max(p.lastTask, end)
		if t.CoveredAtMin > 0 {
			cuts = append(cuts, t.CoveredAtMin)
		}
	}
	p.end = math.Max(p.lastTask, p.job.EndMin)
	for _, person := range p.job.People {
		for _, s := range person.Stays {
			cuts = append(cuts, s.FromMin, s.UntilMin)
			p.end = math.Max(p.end, s.UntilMin)
		}
	}
	for _, g := range p.job.Purges {
		cuts = append(cuts, g.FromMin, g.UntilMin)
	}
	cuts = append(cuts, p.end)
	slices.Sort(cuts)
	p.cuts = slices.Compact(cuts)
}

// values are one draw from all ranges of a job.
type values struct {
	share                                  [][]float64 // per product, mass fraction of each ingredient
	volume, temp, speed, beta              []float64   // per room; beta 0: from the air speed
	supply, exhaust                        []float64   // m³/min per room
	door, purge, amount, area, ventilation []float64   // per door, purge (air changes), task; ventilation scales per room
}

// pick chooses a number between lo and hi; worse tells which end raises exposure: +1 the high one, -1 the low one, 0 either.
type pick func(name string, lo, hi float64, worse int) float64

// draw walks over all ranges.
func (p *plan) draw(choose pick, compose func(product int, b *blend) []float64) values {
	var v values
	for i := range p.blends {
		v.share = append(v.share, compose(i, &p.blends[i]))
	}
	of := func(name string, r Range, lo, hi float64, worse int) float64 {
		lo, hi = r.within(lo, hi)
		if lo == hi {
			return lo
		}
		return choose(name, lo, hi, worse)
	}
	for _, r := range p.job.Rooms {
		vol := of(r.Name+": volume", r.VolumeM3, 0, 0, -1)
		v.volume = append(v.volume, vol)
		v.temp = append(v.temp, of(r.Name+": temperature", r.TemperatureC, 18, 25, 1))
		v.speed = append(v.speed, of(r.Name+": air speed", r.AirSpeedMS, 0.05, 0.15, 1))
		beta := 0.0
		if r.NearField != nil && r.NearField.ExchangeM3M.Given() {
			beta = of(r.Name+": near field exchange", r.NearField.ExchangeM3M, 0.01, 100, -1)
		}
		v.beta = append(v.beta, beta)
		supply, exhaust := 0.0, 0.0
		if r.AirChanges.Given() {
			supply = vol / 60 * of(r.Name+": ventilation", r.AirChanges, 0, mostAirChanges, -1)
			exhaust = supply
		} else {
			supply = of(r.Name+": supply air", r.SupplyM3Min, 0, 0, -1)
			exhaust = of(r.Name+": exhaust air", r.ExhaustM3Min, 0, 0, -1)
		}
		v.supply, v.exhaust, v.ventilation = append(v.supply, supply), append(v.exhaust, exhaust), append(v.ventilation, 1)
	}
	for _, d := range p.job.Doors {
		v.door = append(v.door, of(d.Between[0]+" – "+d.Between[1]+": door air", d.AirM3Min, 0, 0, 0))
	}
	for _, g := range p.job.Purges {
		v.purge = append(v.purge, of(g.Room+": purge", g.AirChanges, 0, mostAirChanges, -1))
	}
	for _, t := range p.job.Tasks {
		v.amount = append(v.amount, p.amount(t, of))
		v.area = append(v.area, of(t.Name+": area", t.AreaM2, 0, 0, 1))
	}
	return v
}

// amount is the grams of a task.
func (p *plan) amount(t Task, of func(string, Range, float64, float64, int) float64) float64 {
	if t.AmountG.Given() || !t.Opens() {
		return of(t.Name+": amount", t.AmountG, 0, 0, 1)
	}
	i, _ := p.job.product(t.Product)
	return of(t.Name+": amount", t.AmountML, 0, 0, 1) * p.job.Products[i].DensityKgM3 / 1000
}

// middle takes the middle of every range, with compositions moved alike from their low to their high ends until they
// add up.
func middle(_ string, lo, hi float64, _ int) float64 { return (lo + hi) / 2 }

func composeMiddle(_ int, b *blend) []float64 {
	sumLo, sumHi := 0.0, 0.0
	for i := range b.lo {
		sumLo, sumHi = sumLo+b.lo[i], sumHi+b.hi[i]
	}
	t := 0.0
	if sumHi > sumLo {
		t = (1 - sumLo) / (sumHi - sumLo)
	}
	out := make([]float64, len(b.lo))
	for i := range out {
		out[i] = b.lo[i] + t*(b.hi[i]-b.lo[i])
	}
	return out
}

// worst takes the end of every range that raises exposure, and composeWorst the most of what gives vapour.
func worst(_ string, lo, hi float64, worse int) float64 {
	switch worse {
	case 1:
		return hi
	case -1:
		return lo
	}
	return (lo + hi) / 2
}

func composeWorst(_ int, b *blend) []float64 {
	out := slices.Clone(b.lo)
	rest := 1.0
	for _, x := range out {
		rest -= x
	}
	for _, volatile := range []bool{true, false} {
		room := 0.0
		for i := range out {
			if (b.vapour[i] >= 0) == volatile {
				room += b.hi[i] - b.lo[i]
			}
		}
		t := 1.0
		if room > rest {
			t = math.Max(0, rest/room)
		}
		for i := range out {
			if (b.vapour[i] >= 0) == volatile {
				out[i] += t * (b.hi[i] - b.lo[i])
				rest -= t * (b.hi[i] - b.lo[i])
			}
		}
	}
	return out
}

// model builds the equations for one draw, from the first minute to end.
func (p *plan) model(v values, end float64) *airModel {
	m := &airModel{accuracy: p.accuracy}
	for _, x := range p.vapours {
		m.molar = append(m.molar, x.molar)
	}
	m.volume = make([]float64, len(p.zones))
	for i, r := range p.job.Rooms {
		m.volume[p.far[i]] = v.volume[i]
		if r.NearField != nil {
			_, vol := NearFieldHalfSphere(r.NearField.RadiusM, 1)
			m.volume[p.near[i]] = vol
			m.volume[p.far[i]] -= vol
		}
	}
	for i := range p.job.Tasks {
		if p.job.Tasks[i].Opens() {
			m.sources = append(m.sources, p.source(i, v))
		}
	}
	for i, from := range p.cuts {
		until := end
		if i+1 < len(p.cuts) {
			until = math.Min(end, p.cuts[i+1])
		}
		if until > from {
			m.periods = append(m.periods, p.flows(v, from, until))
		}
	}
	return m
}

// flows are the air flows between from and until. What supply and exhaust leave unbalanced leaks in or out.
func (p *plan) flows(v values, from, until float64) period {
	n := len(p.zones)
	pd := period{from: from, until: until, out: make([]float64, n)}
	for range n {
		pd.flow = append(pd.flow, make([]float64, n))
	}
	for i, r := range p.job.Rooms {
		supply, exhaust := v.supply[i], v.exhaust[i]
		for g, purge := range p.job.Purges {
			if purge.Room == r.Name && purge.FromMin <= from && purge.UntilMin >= until {
				supply = v.volume[i] / 60 * v.purge[g]
				exhaust = supply
			}
		}
		pd.out[p.far[i]] = v.ventilation[i] * math.Max(supply, exhaust)
		if r.NearField != nil {
			beta := v.beta[i]
			if beta == 0 {
				beta, _ = NearFieldHalfSphere(r.NearField.RadiusM, 60*v.speed[i])
			}
			pd.flow[p.near[i]][p.far[i]], pd.flow[p.far[i]][p.near[i]] = beta, beta
		}
	}
	for d, door := range p.job.Doors {
		a, _ := p.job.room(door.Between[0])
		b, _ := p.job.room(door.Between[1])
		pd.flow[p.far[a]][p.far[b]] += v.door[d]
		pd.flow[p.far[b]][p.far[a]] += v.door[d]
	}
	return pd
}

// source is the open liquid of a task.
func (p *plan) source(task int, v values) source {
	t := p.job.Tasks[task]
	room, _ := p.job.room(t.Room)
	product, _ := p.job.product(t.Product)
	b := &p.blends[product]
	s := source{zone: p.near[room], task: task, from: t.StartMin, fed: t.StartMin, covered: math.Inf(1), area: v.area[task]}
	if t.Surface == Film || t.Surface == Spray {
		s.fed = t.StartMin + t.DurationMin
	}
	if t.CoveredAtMin > 0 {
		s.covered = t.CoveredAtMin
	}
	if nf := p.job.Rooms[room].NearField; nf != nil {
		s.capture = nf.CaptureShare
	}
	lands := 1.0
	if t.Surface == Spray {
		lands = t.lands()
	}
	grams := v.amount[task]
	for i, share := range v.share[product] {
		mg := 1000 * grams * share
		if b.vapour[i] < 0 {
			if b.inert[i] > 0 {
				s.inert += lands * mg / b.inert[i]
			}
			continue
		}
		if row := slices.Index(s.ingredients, b.vapour[i]); row >= 0 { // listed twice
			s.mass[row], s.airMass[row] = s.mass[row]+lands*mg, s.airMass[row]+(1-lands)*mg
			continue
		}
		s.ingredients = append(s.ingredients, b.vapour[i])
		s.mass, s.airMass = append(s.mass, lands*mg), append(s.airMass, (1-lands)*mg)
		k := p.correlation().TransferVelocity(p.vapours[b.vapour[i]].molar, v.speed[room], math.Sqrt(s.area), v.temp[room]+zeroC)
		s.k = append(s.k, k)
		s.pull = append(s.pull, p.pulls(task, b.tabled[i], b.gamma[i], v.temp[room]))
	}
	if p.profile[task] != nil {
		s.pullEvery = profileMin
	}
	return s
}

func (p *plan) correlation() Correlation {
	if p.job.Correlation == "" {
		return Auto
	}
	return p.job.Correlation
}

// pressures holds ln p° of one substance at whole kelvins from −40 to 390 °C. Between them ln p° is
// taken as straight, which is off by less than 0.02 %.
type pressures struct{ lnPa []float64 }

const (
	coldest = -40 // °C
	hottest = 390
)

func newPressures(s *substance.Substance) *pressures {
	t := &pressures{}
	for c := coldest; c <= hottest; c++ {
		pr := s.VapourPressure(float64(c))
		pa := math.Min(pr.Pa, oneAtm)
		if !pr.Known {
			pa = oneAtm // far above the boiling point
		}
		t.lnPa = append(t.lnPa, math.Log(math.Max(pa, 1e-300)))
	}
	return t
}

func (t *pressures) at(c float64) float64 {
	x := math.Min(math.Max(c, coldest), hottest-1e-9) - coldest
	i := int(x)
	return math.Exp(t.lnPa[i] + (x-float64(i))*(t.lnPa[i+1]-t.lnPa[i]))
}

// pulls gives γ·p°/(R·T) in mmol/m³ along the temperature of the task.
func (p *plan) pulls(task int, s *pressures, gamma, roomC float64) []float64 {
	rises := p.profile[task]
	if rises == nil {
		rises = []float64{0}
	}
	out := make([]float64, len(rises))
	for i, rise := range rises {
		c := math.Min(roomC+rise, hottest)
		out[i] = gamma * s.at(c) * 1000 / (gasConstant * (c + zeroC))
	}
	return out
}
