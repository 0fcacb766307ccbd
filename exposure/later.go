package exposure

import (
	"context"
	"fmt"
	"math"

	"sixteen/substance"
)

const (
	reuseDays = 7.0
	// workdayM3 and workweek are the air a worker breathes in a shift and the days a week of it, which a shift limit allows for.
	workdayM3, workweek, workerKg = 10.0, 5.0 / 7, 80.0
)

// later works out what lies after the job: when rooms may be used again and which ventilation would have been needed.
func (p *plan) later(ctx context.Context, r *Result, mid, high values, opt Options) {
	var tr, trMid airTrace
	end := p.lastTask + reuseDays*1440
	if err := p.modelTo(high, end).solve(ctx, &tr); err != nil {
		r.Partial = r.Partial || ctx.Err() != nil
		return
	}
	if err := p.modelTo(mid, end).solve(ctx, &trMid); err != nil {
		trMid = tr
	}
	share, who := childShare()
	for i := range p.job.Rooms {
		out := &r.Rooms[i]
		adult, known := p.reuse(&tr, p.far[i], 1)
		child, _ := p.reuse(&tr, p.far[i], share)
		if !known {
			out.ReuseNote = "no shift limit is held for any vapour here: the time cannot be given"
			continue
		}
		out.ReuseHours, out.ReuseChildren = adult, child
		out.ReuseMiddle, _ = p.reuse(&trMid, p.far[i], 1)
		out.ReuseChildrenMiddle, _ = p.reuse(&trMid, p.far[i], share)
		out.ReuseNote = fmt.Sprintf("until the sum over shift limits is below 1 (high case, ventilation as in the last period); children: below %s, the same dose per body mass as a shift limit allows a worker, for a %s in the room all day: an estimate, not a limit for children. Animals that sit low and small birds are more exposed. Vapours without limit are not in it", Amount(share), who)
	}
	for i, room := range p.job.Rooms {
		for _, t := range p.job.Tasks {
			if t.Room == room.Name && t.Opens() && ctx.Err() == nil {
				r.Rooms[i].Ventilation = p.needed(ctx, high, i, orElse(opt.Fraction, 0.5))
				break
			}
		}
	}
}

// modelTo is the model carried on after the last cut with its last flows.
func (p *plan) modelTo(v values, end float64) *airModel {
	m := p.model(v, p.end)
	if end > p.end {
		last := p.flows(v, p.end, end)
		m.periods = append(m.periods, last)
	}
	return m
}

// childShare is the part of a worker's shift limit at which the most exposed age group, all day, takes in no more per body
// mass than a worker at the limit.
func childShare() (share float64, who Age) {
	worker := workdayM3 * workweek / workerKg
	share = math.Inf(1)
	for _, b := range bodies() {
		if s := worker / (24 * b.BreathingM3H / b.BodyMassKg); b.Child && s < share {
			share, who = s, b.Age
		}
	}
	return share, who
}

// reuse is the hours after the last task from which on Σ C/L in a zone stays below share; nil when it does not within
// the time followed. known is false when no vapour has a shift limit.
func (p *plan) reuse(tr *airTrace, zone int, share float64) (hours *float64, known bool) {
	limits := make([]float64, len(p.vapours))
	for v := range p.vapours {
		for _, l := range p.limits(v) {
			if mg := p.limitMgM3(v, l); l.Kind == substance.TWA && (limits[v] == 0 || mg < limits[v]) {
				limits[v], known = mg, true
			}
		}
	}
	after := 0.0
	for k, t := range tr.times {
		sum := 0.0
		for v, l := range limits {
			if l > 0 {
				sum += tr.at(k, v, zone) / l
			}
		}
		if sum >= share {
			after = math.Inf(1)
			if k+1 < len(tr.times) {
				after = tr.times[k+1]
			}
		}
		_ = t
	}
	if math.IsInf(after, 1) || !known {
		return nil, known
	}
	h := math.Max(0, after-p.lastTask) / 60
	return &h, known
}

// needed solves for the air through a room that keeps every person at fraction of every limit, by halving.
func (p *plan) needed(ctx context.Context, v values, room int, fraction float64) *VentilationBy {
	out := &VentilationBy{Fraction: fraction}
	try := func(changes float64) float64 {
		w := v
		w.supply = append([]float64(nil), v.supply...)
		w.exhaust = append([]float64(nil), v.exhaust...)
		w.supply[room] = v.volume[room] / 60 * changes
		w.exhaust[room] = w.supply[room]
		return p.worstFraction(ctx, w)
	}
	hasLimit := false
	for i := range p.vapours {
		hasLimit = hasLimit || len(p.limits(i)) > 0
	}
	if !hasLimit || len(p.job.People) == 0 {
		out.Note = "no limit or no person to hold it against"
		return out
	}
	if least := try(mostAirChanges); least > fraction {
		out.Note = fmt.Sprintf("even %d air changes leave %s times the limit at the work: room ventilation alone does not do it; capture at the source, another product or less of it", mostAirChanges, Amount(least))
		return out
	}
	lo, hi := 0.0, float64(mostAirChanges)
	if try(0) <= fraction {
		hi = 0
	}
	for range 22 {
		if hi-lo <= 0.01*hi {
			break
		}
		mid := (lo + hi) / 2
		if try(mid) > fraction {
			lo = mid
		} else {
			hi = mid
		}
	}
	out.Reached, out.AirChanges, out.AirM3Min = true, hi, hi*v.volume[room]/60
	out.Note = "high case, all people and all limits held; well mixed clean air"
	return out
}

// worstFraction is the highest fraction of any limit, and of the sum over shift limits, that anybody meets.
func (p *plan) worstFraction(ctx context.Context, v values) float64 {
	var tr airTrace
	var c curve
	if p.model(v, p.end).solve(ctx, &tr) != nil {
		return math.Inf(1)
	}
	highest := 0.0
	for i := range p.job.People {
		sum := 0.0
		for x := range p.vapours {
			m, shift := p.measure(&tr, i, x, &c), 0.0
			for _, l := range p.limits(x) {
				f := p.against(m, l, p.limitMgM3(x, l))
				highest = math.Max(highest, f)
				if l.Kind == substance.TWA {
					shift = math.Max(shift, f)
				}
			}
			sum += shift
		}
		highest = math.Max(highest, sum)
	}
	return highest
}

// heatResults adds the temperature curves with what follows from them.
func (p *plan) heatResults(r *Result, v values) {
	for i, t := range p.job.Tasks {
		h, ok := p.heatCurve(i, v)
		if !ok {
			continue
		}
		product, _ := p.job.product(t.Product)
		pr := &p.job.Products[product]
		room := v.temp[p.roomOf(t)]
		if f := pr.FlashPointC; f != nil && h.PeakC >= *f {
			h.Warnings = append(h.Warnings, fmt.Sprintf("the mix may reach %.0f °C, above its flash point of %g °C", h.PeakC, *f))
		}
		for n, ing := range p.blends[product].pressure {
			if ing != nil && ing.BoilingPointC.Known && h.PeakC >= ing.BoilingPointC.V {
				h.Warnings = append(h.Warnings, fmt.Sprintf("%s may boil (%g °C)", nameOf(pr.Ingredients[n], substance.Embedded()), ing.BoilingPointC.V))
			}
		}
		if h.PeakC >= 100 {
			h.Warnings = append(h.Warnings, fmt.Sprintf("the mix may reach %.0f °C after %.0f min: it can foam, smoke and crack, and melt its cup (common practice: above about 100 °C)", h.PeakC, h.PeakMin))
		}
		if limit := 60.0; h.PeakC > limit {
			mm := pr.Cure.spreadThickness(room, limit)
			h.SpreadOut = spreadWords(mm, limit, h.MassG, pr.Cure)
		}
		r.Heat = append(r.Heat, h)
	}
}

func spreadWords(mm, limit, massG float64, c *Cure) string {
	if mm == 0 {
		return fmt.Sprintf("even a layer of 1 mm may pass %g °C: mix less at a time", limit)
	}
	area := massG / 1000 / c.density() / (mm / 1000)
	return fmt.Sprintf("spread out: layers up to %.0f mm stay below %g °C (estimate); %.0f g then cover %s m²", mm, limit, massG, Amount(area))
}
