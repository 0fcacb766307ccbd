package exposure

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"sixteen/ghs"
	"sixteen/substance"
)

// FieldError is a question about, or refusal of, one field of a job.
type FieldError struct {
	Field    string // as in the job file: "rooms[0].volume_m3"
	Question string // what is wrong and what to state
}

// Error gives field and question.
func (e *FieldError) Error() string { return e.Field + ": " + e.Question }

// mostAirChanges is above every ventilated room that people work in; booths reach some hundred only by face velocity.
const mostAirChanges = 200

// checker collects the questions about a job.
type checker struct{ errs []error }

func (c *checker) ask(field, question string, args ...any) {
	c.errs = append(c.errs, &FieldError{Field: field, Question: fmt.Sprintf(question, args...)})
}

// number asks when the range is given and lies outside lo to hi, both included.
func (c *checker) number(field string, r Range, lo, hi float64, unit string) {
	if !r.Given() {
		return
	}
	a, b := r.within(lo, hi)
	if !(a >= lo && b <= hi && a <= b) {
		c.ask(field, "%g to %g %s is not plausible (%g to %g %s): is the unit right?", a, b, unit, lo, hi, unit)
	}
}

// Check looks for what is missing or implausible. The error joins one *FieldError per question; nil means the job can run.
func (j *Job) Check() error {
	var c checker
	if !slices.Contains(substance.Jurisdictions(), j.Jurisdiction) {
		c.ask("jurisdiction", "whose limits count? One of %v", substance.Jurisdictions())
	}
	if !(j.ShiftHours >= 0 && j.ShiftHours <= 20) {
		c.ask("shift_hours", "a shift of %g h: state up to 20 (0 stands for 8); nobody works on until no time is left to recover", j.ShiftHours)
	}
	if !(j.EndMin >= 0 && j.EndMin <= 14*24*60) {
		c.ask("end_min", "%g min: the clock runs up to 14 days (20160 min)", j.EndMin)
	}
	if j.Rules != "" && !j.Rules.Known() {
		c.ask("rules", "%q is no rule set that is held; one of %v", j.Rules, ghs.RuleSets())
	}
	if j.Respirators != "" && j.Respirators != "US" && j.Respirators != "EN" {
		c.ask("respirators", "%q is no scheme; US or EN", j.Respirators)
	}
	if !(j.HumidityPct >= 0 && j.HumidityPct <= 100) {
		c.ask("humidity_percent", "%g %% is no relative humidity (0 to 100; 0 stands for 50)", j.HumidityPct)
	}
	if j.Correlation != "" && !slices.Contains(Correlations(), j.Correlation) {
		c.ask("correlation", "%q is not known; one of %v", j.Correlation, Correlations())
	}
	for i := range j.Products {
		j.Products[i].check(&c, fmt.Sprintf("products[%d]", i))
	}
	for i := range j.Rooms {
		j.Rooms[i].check(&c, fmt.Sprintf("rooms[%d]", i))
	}
	j.checkUnique(&c)
	j.checkAir(&c)
	if len(j.Tasks) == 0 {
		c.ask("tasks", "what is done? State at least one task")
	}
	for i := range j.Tasks {
		j.checkTask(&c, fmt.Sprintf("tasks[%d]", i), j.Tasks[i])
	}
	for i, p := range j.People {
		j.checkPerson(&c, fmt.Sprintf("people[%d]", i), p)
	}
	return errors.Join(c.errs...)
}

func (j *Job) checkUnique(c *checker) {
	if len(j.Rooms) == 0 {
		c.ask("rooms", "where is it done? State at least one room")
	}
	seen := map[string]bool{}
	for i, r := range j.Rooms {
		if seen[r.Name] {
			c.ask(fmt.Sprintf("rooms[%d].name", i), "two rooms are called %q", r.Name)
		}
		seen[r.Name] = true
	}
	products := map[string]bool{}
	for i, p := range j.Products {
		if products[p.Name] {
			c.ask(fmt.Sprintf("products[%d].name", i), "two products are called %q", p.Name)
		}
		products[p.Name] = true
	}
}

func (p *Product) check(c *checker, at string) {
	if p.Name == "" {
		c.ask(at+".name", "what is the product called?")
	}
	if p.DensityKgM3 != 0 && !(p.DensityKgM3 >= 400 && p.DensityKgM3 <= 8000) {
		c.ask(at+".density_kg_m3", "%g kg/m³ is not the density of a liquid or paste (400 to 8000): was it given in g/ml?", p.DensityKgM3)
	}
	switch {
	case len(p.Ingredients) > 0:
	case p.File != "" || len(p.Parts) > 0:
		c.ask(at+".file", "the file or the parts have not been read yet: plan the job instead of running it bare")
	default:
		c.ask(at+".ingredients", "what is in it? List the ingredients of section 3 of the sheet")
	}
	low, high := 0.0, 0.0
	for i, ing := range p.Ingredients {
		in := fmt.Sprintf("%s.ingredients[%d]", at, i)
		if ing.Name == "" && ing.CAS == "" {
			c.ask(in+".name", "which substance is it? State name or CAS number")
		}
		if ing.CAS != "" && !substance.ValidCAS(ing.CAS) {
			c.ask(in+".cas", "%q is not a valid CAS number", ing.CAS)
		}
		if !ing.Percent.Given() {
			c.ask(in+".percent", "how much of it, in percent by mass? A range will do")
		}
		c.number(in+".percent", ing.Percent, 0, 100, "%")
		a, b := ing.Percent.within(0, 100)
		low, high = low+a, high+b
		if ing.MolarMass < 0 || ing.MolarMass > 1e6 || ing.VapourPressurePa < 0 || ing.VapourPressurePa > 2e7 || ing.Activity < 0 || ing.Activity > 1e4 || ing.LowerFlammable < 0 || ing.LowerFlammable > 100 {
			c.ask(in, "a property is negative or beyond any liquid: molar mass %g g/mol, vapour pressure %g Pa, activity %g, lower limit %g %%", ing.MolarMass, ing.VapourPressurePa, ing.Activity, ing.LowerFlammable)
		}
	}
	if low > 100+1e-9 {
		c.ask(at+".ingredients", "the lowest percentages already add up to %g %%", low)
	}
	if p.Complete && high < 100-1e-9 {
		c.ask(at+".complete", "the highest percentages add up to %g %% only: what is the rest?", high)
	}
	if p.Cure != nil {
		p.Cure.check(c, at+".cure")
	}
}

func (r *Room) check(c *checker, at string) {
	if r.Name == "" {
		c.ask(at+".name", "what is the room called?")
	}
	if !r.VolumeM3.Given() {
		c.ask(at+".volume_m3", "how large is the room? Length × width × height in metres")
	} else if lo, _ := r.VolumeM3.within(0, 0); lo <= 0 {
		c.ask(at+".volume_m3", "a room of %g m³ holds no air: state length × width × height in metres", lo)
	}
	c.number(at+".volume_m3", r.VolumeM3, 0, 1e6, "m³")
	if lo, _ := r.VolumeM3.within(0, 0); r.FloorM2 < 0 || (r.FloorM2 > 0 && lo > 0 && (lo/r.FloorM2 < 0.3 || lo/r.FloorM2 > 60)) {
		c.ask(at+".floor_m2", "a floor of %g m² under %g m³ gives a height of %.1f m: which is wrong?", r.FloorM2, lo, lo/r.FloorM2)
	}
	if r.AirChanges.Given() && (r.SupplyM3Min.Given() || r.ExhaustM3Min.Given()) {
		c.ask(at+".air_changes_per_hour", "state air changes or supply and exhaust, not both")
	}
	if !r.AirChanges.Given() && !r.SupplyM3Min.Given() && !r.ExhaustM3Min.Given() {
		c.ask(at+".air_changes_per_hour", "how is it aired? 0 for a sealed room, about 0.5 for a closed home, see docs/exposure.md")
	}
	c.number(at+".air_changes_per_hour", r.AirChanges, 0, mostAirChanges, "1/h")
	c.number(at+".supply_m3_min", r.SupplyM3Min, 0, 1e5, "m³/min")
	c.number(at+".exhaust_m3_min", r.ExhaustM3Min, 0, 1e5, "m³/min")
	c.number(at+".temperature_c", r.TemperatureC, -30, 60, "°C")
	c.number(at+".air_speed_m_s", r.AirSpeedMS, 0.01, 10, "m/s")
	if nf := r.NearField; nf != nil {
		c.number(at+".near_field.exchange_m3_min", nf.ExchangeM3M, 0.01, 1e4, "m³/min")
		_, v := NearFieldHalfSphere(nf.RadiusM, 1)
		if lo, _ := r.VolumeM3.within(0, 0); !(nf.RadiusM > 0) || v > lo/2 {
			c.ask(at+".near_field.radius_m", "a near field of %g m takes %.1f m³ of the room's %g m³: usual is 0.8", nf.RadiusM, v, lo)
		}
		if nf.CaptureShare < 0 || nf.CaptureShare > 1 {
			c.ask(at+".near_field.capture_share", "%g is not a share of 0 to 1", nf.CaptureShare)
		}
	}
}

func (j *Job) room(name string) (int, bool) {
	i := slices.IndexFunc(j.Rooms, func(r Room) bool { return r.Name == name })
	return i, i >= 0
}

func (j *Job) product(name string) (int, bool) {
	i := slices.IndexFunc(j.Products, func(p Product) bool { return p.Name == name })
	return i, i >= 0
}

func (j *Job) checkAir(c *checker) {
	for i, d := range j.Doors {
		at := fmt.Sprintf("doors[%d]", i)
		if len(d.Between) != 2 || d.Between[0] == d.Between[1] {
			c.ask(at+".between", "a door joins two different rooms")
			continue
		}
		for _, name := range d.Between {
			if _, ok := j.room(name); !ok {
				c.ask(at+".between", "no room is called %q", name)
			}
		}
		if !d.AirM3Min.Given() {
			c.ask(at+".air_m3_min", "how much air passes each way?")
		}
		c.number(at+".air_m3_min", d.AirM3Min, 0, 1e4, "m³/min")
	}
	for i, p := range j.Purges {
		at := fmt.Sprintf("purges[%d]", i)
		if _, ok := j.room(p.Room); !ok {
			c.ask(at+".room", "no room is called %q", p.Room)
		}
		if !(p.FromMin >= 0 && p.UntilMin > p.FromMin) {
			c.ask(at+".until_min", "from %g to %g min is no time", p.FromMin, p.UntilMin)
		}
		if !p.AirChanges.Given() {
			c.ask(at+".air_changes_per_hour", "how many air changes an hour?")
		}
		c.number(at+".air_changes_per_hour", p.AirChanges, 0, mostAirChanges, "1/h")
	}
}

func (j *Job) checkTask(c *checker, at string, t Task) {
	r, okRoom := j.room(t.Room)
	if !okRoom {
		c.ask(at+".room", "no room is called %q", t.Room)
	}
	if !(t.StartMin >= 0) || math.IsInf(t.StartMin, 1) {
		c.ask(at+".start_min", "%g min is no time on the clock", t.StartMin)
	}
	if !(t.DurationMin > 0) || t.DurationMin > 14*24*60 {
		c.ask(at+".duration_min", "how long does it take? %g min is not plausible", t.DurationMin)
	}
	if t.Product == "" {
		return
	}
	p, okProduct := j.product(t.Product)
	if !okProduct {
		c.ask(at+".product", "no product is called %q", t.Product)
	}
	if !t.Opens() {
		return
	}
	if !slices.Contains([]Surface{Film, Pool, Cup, Spray}, t.Surface) {
		c.ask(at+".surface", "how does it lie open: film, pool, cup or spray?")
	}
	switch {
	case t.AmountG.Given() && t.AmountML.Given():
		c.ask(at+".amount_g", "state grams or millilitres, not both")
	case !t.AmountG.Given() && !t.AmountML.Given():
		c.ask(at+".amount_g", "how much is used?")
	case t.AmountML.Given() && okProduct && j.Products[p].DensityKgM3 == 0:
		c.ask(fmt.Sprintf("products[%d].density_kg_m3", p), "the amount is in millilitres: what is the density (section 9 of the sheet)?")
	}
	c.number(at+".amount_g", t.AmountG, 0, 1e7, "g")
	c.number(at+".amount_ml", t.AmountML, 0, 1e7, "ml")
	if !t.AreaM2.Given() {
		c.ask(at+".area_m2", "how large is the open surface?")
		return
	}
	c.number(at+".area_m2", t.AreaM2, 1e-6, 1e5, "m²")
	if _, hi := t.AreaM2.within(0, 0); okRoom && t.Surface == Pool && j.Rooms[r].FloorM2 > 0 && hi > j.Rooms[r].FloorM2 {
		c.ask(at+".area_m2", "a pool of %g m² is larger than the floor of %g m²", hi, j.Rooms[r].FloorM2)
	} else if okRoom && j.Rooms[r].FloorM2 > 0 && hi > 6*j.Rooms[r].FloorM2 {
		c.ask(at+".area_m2", "%g m² is more than floor, walls and ceiling over a floor of %g m²", hi, j.Rooms[r].FloorM2)
	}
	if t.CoveredAtMin != 0 && t.CoveredAtMin < t.StartMin+t.DurationMin {
		c.ask(at+".covered_at_min", "%g min lies before the end of the task", t.CoveredAtMin)
	}
	if t.Surface == Spray {
		checkSpray(c, at, t)
	}
}

func checkSpray(c *checker, at string, t Task) {
	switch _, _, _, held := TransferOf(t.Gun); {
	case t.Gun != "" && !held:
		c.ask(at+".gun", "%q is no gun that a transfer efficiency is held for; one of %v", t.Gun, Guns())
	case t.TransferEfficiency < 0 || t.TransferEfficiency > 1:
		c.ask(at+".transfer_efficiency", "%g is not a share of 0 to 1", t.TransferEfficiency)
	case t.Gun == "" && t.TransferEfficiency == 0:
		c.ask(at+".transfer_efficiency", "which share of the spray lands on the work (0 to 1)? The gun's maker states it; or name the gun: %v", Guns())
	}
}

func (j *Job) checkPerson(c *checker, at string, p Person) {
	if p.Name == "" {
		c.ask(at+".name", "who is it?")
	}
	if _, ok := bodyOf(p); !ok {
		c.ask(at+".age", "%q is no age group; one of %v", p.Age, Ages())
	}
	if p.BreathingM3H < 0 || p.BreathingM3H > 8 {
		c.ask(at+".breathing_m3_h", "%g m³/h is not what a person breathes", p.BreathingM3H)
	}
	if p.BodyMassKg < 0 || p.BodyMassKg > 400 {
		c.ask(at+".body_mass_kg", "%g kg is not the mass of a person", p.BodyMassKg)
	}
	for i, s := range p.Stays {
		in := fmt.Sprintf("%s.stays[%d]", at, i)
		r, ok := j.room(s.Room)
		if !ok {
			c.ask(in+".room", "no room is called %q", s.Room)
		} else if s.Near && j.Rooms[r].NearField == nil {
			c.ask(in+".near", "the room %q has no near_field", s.Room)
		}
		if !(s.FromMin >= 0 && s.UntilMin > s.FromMin) {
			c.ask(in+".until_min", "from %g to %g min is no time", s.FromMin, s.UntilMin)
		}
		for k, o := range p.Stays[:i] {
			if s.FromMin < o.UntilMin && o.FromMin < s.UntilMin {
				c.ask(in+".from_min", "overlaps with stays[%d]: nobody is in two places", k)
			}
		}
	}
}
