package exposure

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/substance"
)

// Options of a run. The zero value works out the middle and the high case, no sampling, ventilation for half the limits.
type Options struct {
	Samples  int     // draws from the ranges; 0 for none
	Seed     uint64  // of the scrambled Halton sequence
	Fraction float64 // of the limits that the needed ventilation keeps; 0: 0.5
	Workers  int     // goroutines for sampling; 0: number of processors
	Progress func(done, of int)
}

// Run works out a job. An error joins the questions of Check, or tells that the model could not follow the job. When ctx
// ends early the answer holds what was finished and is marked Partial, without an error, once the middle case is there.
func Run(ctx context.Context, job *Job, table *substance.Table, opt Options) (*Result, error) {
	p, err := newPlan(job, table)
	if err != nil {
		return nil, err
	}
	mid, high := p.draw(middle, composeMiddle), p.draw(worst, composeWorst)
	var trMid, trHigh airTrace
	modelMid := p.model(mid, p.end)
	if err := modelMid.solve(ctx, &trMid); err != nil {
		return nil, err
	}
	if err := p.model(high, p.end).solve(ctx, &trHigh); err != nil {
		if ctx.Err() == nil {
			return nil, err
		}
		trHigh = trMid
	}
	r := &Result{Job: job.Name, Jurisdiction: job.Jurisdiction, ShiftHours: orElse(job.ShiftHours, 8), NotAssessed: p.omitted, Assumptions: p.assumed}
	r.Partial = ctx.Err() != nil
	p.vapourResults(r, modelMid, &trMid)
	p.peopleResults(r, &trMid, &trHigh)
	p.roomResults(r, mid, high, &trMid, &trHigh)
	p.heatResults(r, mid)
	r.Particles = p.particleTasks(mid, high)
	if !r.Partial {
		p.later(ctx, r, mid, high, opt)
	}
	if opt.Samples > 0 && ctx.Err() == nil {
		p.sample(ctx, r, opt)
	}
	r.Partial = r.Partial || ctx.Err() != nil
	p.correlationNotes(r, mid)
	r.headline()
	r.Headline = append(r.Headline, r.cautions(p)...)
	return r, nil
}

func (p *plan) vapourResults(r *Result, m *airModel, tr *airTrace) {
	for i, v := range p.vapours {
		out := VapourResult{Name: v.name, CAS: v.cas, PressurePa20: v.pressure.Pa, PressureMethod: string(v.pressure.Method), PressureMemory: v.pressure.Source.Memory, Balance: tr.balance(m, i)}
		out.Limits = p.limits(i)
		if len(out.Limits) == 0 || out.Limits[0].Borrowed {
			b := p.bandOf(v)
			out.Band = &b
		}
		for _, l := range out.Limits {
			if ppm, _, ok := l.InPPM(substance.Value{Known: true, V: v.molar}); ok && l.Kind == substance.TWA && out.HazardRatio == 0 {
				out.HazardRatio = VapourHazardRatio(SaturatedPPM(1, v.pressure.Pa, 1, oneAtm), ppm)
			}
		}
		r.Vapours = append(r.Vapours, out)
	}
}

// limits are what a vapour is held against.
func (p *plan) limits(vapour int) []substance.Limit { return p.vapours[vapour].limits }

// limitsOf are the limits of the place that a vapour can be held against; where it has none, the strictest of other places.
func limitsOf(v vapour, place substance.Jurisdiction) []substance.Limit {
	if v.entry == nil {
		return nil
	}
	molar := substance.Value{Known: true, V: v.molar}
	var out []substance.Limit
	for _, l := range v.entry.LimitsFor(place) {
		if _, _, ok := l.InMgM3(molar); ok {
			out = append(out, l)
		}
	}
	if len(out) == 0 {
		return v.entry.Borrowed(place, molar)
	}
	return out
}

func (p *plan) limitMgM3(vapour int, l substance.Limit) float64 {
	mg, _, _ := l.InMgM3(substance.Value{Known: true, V: p.vapours[vapour].molar})
	return mg
}

func (p *plan) bandOf(v vapour) Band {
	var codes []ghs.Code
	var hazards []ghs.Hazard
	for _, h := range v.hazards {
		if c, ok := ghs.NormaliseCode(h); ok {
			codes, hazards = append(codes, c), append(hazards, ghs.NoHazard)
		}
	}
	if v.entry != nil {
		for _, c := range v.entry.Classifications {
			if !c.NotClassified && c.Code != "" {
				codes, hazards = append(codes, c.Code), append(hazards, c.Hazard)
			}
		}
	}
	return BandOf(codes, hazards)
}

// measured are the figures of one person and vapour in one case.
type measured struct{ peak15, highest, integral float64 }

func (p *plan) measure(tr *airTrace, person, vapour int, c *curve) measured {
	p.track(tr, person, vapour, c)
	return measured{peak15: c.highest(15), highest: c.peak, integral: c.total()}
}

// against is exposure over a limit with the reduction for long shifts.
func (p *plan) against(m measured, l substance.Limit, mg float64) float64 {
	switch l.Kind {
	case substance.TWA:
		return m.integral / 480 / mg * p.lengthen()
	case substance.STEL:
		return m.peak15 / mg
	}
	return m.highest / mg
}

// lengthen turns the 8 h mean over the limit into the shift mean over the reduced limit: (8/h)/RF; 1 up to 8 h.
func (p *plan) lengthen() float64 {
	h := orElse(p.job.ShiftHours, 8)
	if h <= 8 {
		return 1
	}
	if f := BriefScala(h); f > 0 {
		return 8 / h / f
	}
	return math.Inf(1)
}

func (p *plan) peopleResults(r *Result, mid, high *airTrace) {
	var c curve
	for i, person := range p.job.People {
		body, _ := bodyOf(person)
		out := PersonResult{Name: person.Name, Age: body.Age, Child: body.Child}
		out.BodyNote = fmt.Sprintf("%.3g m³/h, %g kg: %s", body.BreathingM3H, body.BodyMassKg, body.Source)
		if body.Memory {
			out.BodyNote += " (from memory)"
		}
		for _, s := range person.Stays {
			out.HoursIn += (s.UntilMin - s.FromMin) / 60
		}
		for v := range p.vapours {
			a, tasksA := p.measure(mid, i, v, &c), p.taskMeans(i, &c)
			b, tasksB := p.measure(high, i, v, &c), p.taskMeans(i, &c)
			out.Exposures = append(out.Exposures, p.exposure(v, a, b, tasksA, tasksB, body))
		}
		out.Indices = p.indices(out)
		r.People = append(r.People, out)
	}
}

// taskMeans are the means over each task of the person whose curve is c.
func (p *plan) taskMeans(person int, c *curve) []float64 {
	out := make([]float64, len(p.job.Tasks))
	for i, t := range p.job.Tasks {
		out[i] = (c.upTo(t.StartMin+t.DurationMin) - c.upTo(t.StartMin)) / t.DurationMin
	}
	return out
}

func (p *plan) exposure(v int, a, b measured, tasksA, tasksB []float64, body Body) Exposure {
	x := p.vapours[v]
	dose := body.BreathingM3H / 60 / body.BodyMassKg
	e := Exposure{Vapour: x.name, CAS: x.cas, Peak15: Estimate{Middle: a.peak15, High: b.peak15}, Highest: Estimate{Middle: a.highest, High: b.highest},
		TWA8: Estimate{Middle: a.integral / 480, High: b.integral / 480}, Day: Estimate{Middle: a.integral / 1440, High: b.integral / 1440},
		DoseMgKg: Estimate{Middle: a.integral * dose, High: b.integral * dose}, PPMFactor: substance.MolarVolume25C / x.molar}
	for i, t := range p.job.Tasks {
		e.Tasks = append(e.Tasks, TaskMean{Task: t.Name, Mean: Estimate{Middle: tasksA[i], High: tasksB[i]}})
	}
	for _, l := range p.limits(v) {
		mg, reduction := p.limitMgM3(v, l), 1.0
		if l.Kind == substance.TWA {
			reduction = BriefScala(orElse(p.job.ShiftHours, 8))
		}
		e.Limits = append(e.Limits, LimitFraction{Limit: l, MgM3: mg, Reduction: reduction,
			Fraction: Estimate{Middle: p.against(a, l, mg), High: p.against(b, l, mg)}})
	}
	return e
}

// effects are the words by which vapours are added up: the organs or effects of their classifications.
func effects(v vapour) []string {
	out := []string{"all vapours together"}
	if v.entry == nil {
		return out
	}
	add := func(s string) {
		if s = strings.TrimSpace(s); s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	for _, c := range v.entry.Classifications {
		switch code := c.Code.Base(); {
		case c.NotClassified:
		case code == "H336":
			add("central nervous system (drowsiness, H336)")
		case code == "H335":
			add("airways (irritation, H335)")
		case code == "H370" || code == "H371" || code == "H372" || code == "H373":
			for _, organ := range strings.FieldsFunc(c.Detail, func(r rune) bool { return r == ',' || r == ';' }) {
				add(strings.ToLower(organ))
			}
		}
	}
	return out
}

// indices adds up a person's vapours by effect, with the strictest shift limit of each.
func (p *plan) indices(person PersonResult) []Index {
	var out []Index
	for v, x := range p.vapours {
		var best *LimitFraction
		for i, l := range person.Exposures[v].Limits {
			if l.Limit.Kind == substance.TWA && (best == nil || l.MgM3 < best.MgM3) {
				best = &person.Exposures[v].Limits[i]
			}
		}
		for _, effect := range effects(x) {
			i := slices.IndexFunc(out, func(o Index) bool { return o.Effect == effect })
			if i < 0 {
				i = len(out)
				out = append(out, Index{Effect: effect})
			}
			if best == nil {
				out[i].Without = append(out[i].Without, x.name)
				continue
			}
			out[i].Vapours = append(out[i].Vapours, x.name)
			out[i].Value.Middle += best.Fraction.Middle
			out[i].Value.High += best.Fraction.High
		}
	}
	return out
}

func (p *plan) roomResults(r *Result, mid, high values, a, b *airTrace) {
	for i, room := range p.job.Rooms {
		out := RoomResult{Name: room.Name, TimesMin: slices.Clone(a.times)}
		out.Far = p.series(a, p.far[i])
		if room.NearField != nil {
			out.Near = p.series(a, p.near[i])
		}
		out.Flammable = Estimate{Middle: p.flammable(a, p.near[i], mid.temp[i]), High: p.flammable(b, p.near[i], high.temp[i])}
		for t, task := range p.job.Tasks {
			if task.Room == room.Name && task.Opens() {
				out.OverLiquid = math.Max(out.OverLiquid, p.overLiquid(t, high))
			}
		}
		for _, v := range p.vapours {
			if v.lower == 0 {
				out.WithoutLower = append(out.WithoutLower, v.name)
			}
		}
		r.Rooms = append(r.Rooms, out)
	}
}

func (p *plan) series(tr *airTrace, zone int) []Series {
	var out []Series
	for v, x := range p.vapours {
		s := Series{Vapour: x.name}
		for k := range tr.times {
			s.MgM3 = append(s.MgM3, math.Max(0, tr.at(k, v, zone)))
		}
		out = append(out, s)
	}
	return out
}

// flammable is the highest fraction of the lower flammable limit in a zone, by Le Chatelier, of the vapours whose limit is
// held.
func (p *plan) flammable(tr *airTrace, zone int, tempC float64) float64 {
	highest := 0.0
	for k := range tr.times {
		sum := 0.0
		for v, x := range p.vapours {
			if x.lower > 0 {
				sum += PPMFromMgM3(tr.at(k, v, zone), x.molar, tempC+zeroC, oneAtm) / 1e4 / x.lower
			}
		}
		highest = math.Max(highest, sum)
	}
	return highest
}

// overLiquid is the fraction of the lower flammable limit right over the fresh liquid of a task, in equilibrium.
func (p *plan) overLiquid(task int, v values) float64 {
	s := p.source(task, v)
	total := s.inert
	for row, i := range s.ingredients {
		total += (s.mass[row] + s.airMass[row]) / p.vapours[i].molar
	}
	room := p.roomOf(p.job.Tasks[task])
	sum := 0.0
	for row, i := range s.ingredients {
		if x := p.vapours[i]; x.lower > 0 && total > 0 {
			share := (s.mass[row] + s.airMass[row]) / x.molar / total
			pa := s.pullAt(row, s.from) / 1000 * gasConstant * (v.temp[room] + zeroC)
			sum += SaturatedPPM(share, pa, 1, oneAtm) / 1e4 / x.lower
		}
	}
	return sum
}

func (p *plan) correlationNotes(r *Result, mid values) {
	c := p.correlation()
	r.Assumptions = append(r.Assumptions, "evaporation by "+string(c)+": "+c.Range())
	for i, t := range p.job.Tasks {
		if !t.Opens() {
			continue
		}
		if l, u := math.Sqrt(mid.area[i]), mid.speed[p.roomOf(t)]; !c.inRange(u, l) {
			r.Assumptions = append(r.Assumptions, fmt.Sprintf("%s: %s m/s over %s m lies outside the range of %s", t.Name, Amount(u), Amount(l), c))
		}
	}
	r.Assumptions = append(r.Assumptions, "Raoult's law, activity 1 unless stated; ingredients are not used up by the cure and do not hide in a drying film; liquids are not cooled by evaporation")
}

// headline says the most important in a few lines; what is not assessed is always among them.
func (r *Result) headline() {
	var open []string
	for _, n := range r.NotAssessed {
		if !n.Benign {
			open = append(open, fmt.Sprintf("%s (%s of %s)", n.Name, n.Percent, n.Product))
		}
	}
	if len(open) > 0 {
		r.Headline = append(r.Headline, "Not assessed: "+strings.Join(open, "; "))
	}
	for _, person := range r.People {
		name, worstOf := "", LimitFraction{}
		for _, e := range person.Exposures {
			for _, l := range e.Limits {
				if l.Fraction.High > worstOf.Fraction.High {
					name, worstOf = e.Vapour, l
				}
			}
		}
		if name != "" {
			r.Headline = append(r.Headline, fmt.Sprintf("%s: %s reaches %s times the %s %s (middle of the ranges to their high ends)", person.Name, name, Spread(worstOf.Fraction.Middle, worstOf.Fraction.High), worstOf.Limit.Who(), worstOf.Limit.Kind))
		}
	}
	for _, v := range r.Vapours {
		if v.Band != nil {
			text := v.Name + ": no limit on record here"
			if len(v.Limits) > 0 {
				text += ", so it is held against the strictest of other places, which is not the law here: " + v.Limits[0].Authority
				r.Headline = append(r.Headline, text)
				continue
			}
			if v.Band.Letter != "" {
				text += ", band " + v.Band.Letter + " by hazard statements" + r.besideBand(v)
			} else {
				text += " and no hazard statement bands it: unknown is not harmless"
			}
			r.Headline = append(r.Headline, text)
		}
	}
	for _, room := range r.Rooms {
		if room.Flammable.High > 0.1 {
			r.Headline = append(r.Headline, fmt.Sprintf("%s: vapour near the work reaches %.0f %% of the lower flammable limit: no ignition source", room.Name, 100*room.Flammable.High))
		}
	}
	for _, h := range r.Heat {
		if len(h.Warnings) > 0 {
			r.Headline = append(r.Headline, h.Where+": "+strings.Join(h.Warnings, "; "))
		}
	}
	if r.Partial {
		r.Headline = append(r.Headline, "Partial answer: the calculation was stopped before its end")
	}
}

// besideBand holds the highest 8 h mean of anybody beside the upper end of a vapour's band.
func (r *Result) besideBand(v VapourResult) string {
	worst, factor := Estimate{}, 0.0
	for _, person := range r.People {
		for _, e := range person.Exposures {
			if e.Vapour == v.Name && e.CAS == v.CAS && e.TWA8.High >= worst.High {
				worst, factor = e.TWA8, e.PPMFactor
			}
		}
	}
	end, ok := v.Band.UpperPPM()
	if !ok || factor == 0 {
		return ""
	}
	side := "below"
	if worst.High*factor < end/1000 {
		return fmt.Sprintf(": 8 h means stay far below the band's upper end of %g ppm", end)
	}
	if worst.High*factor > end {
		side = "above"
	}
	return fmt.Sprintf(": an 8 h mean of up to %s ppm is %s the band's upper end of %g ppm", Amount(worst.High*factor), side, end)
}

// cautions are what the headline adds of mist, dust and children.
func (r *Result) cautions(p *plan) []string {
	var out []string
	for _, d := range r.Particles {
		out = append(out, d.Says())
	}
	for _, person := range p.job.People {
		if b, _ := bodyOf(person); b.Child {
			out = append(out, person.Name+": the limits are made for healthy adults at work; staying below them says little about a child")
		}
	}
	return out
}
