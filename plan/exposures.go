package plan

import (
	"math"
	"slices"

	"sixteen/exposure"
	"sixteen/protect"
	"sixteen/substance"
)

// AtWork tells whether a person is in the room of a task that opens or wears a product while it lasts, or near any work.
func AtWork(j *exposure.Job, person exposure.Person) bool {
	for _, s := range person.Stays {
		if s.Near {
			return true
		}
		for _, t := range j.Tasks {
			if t.Product != "" && t.Room == s.Room && s.FromMin < t.StartMin+t.DurationMin && t.StartMin < s.UntilMin {
				return true
			}
		}
	}
	return false
}

// Exposures are what the most exposed person at the work meets of each vapour, without a respirator, in ppm at 25 °C: the
// high case, or the 95th percentile where that is higher. Peak is the highest 15 min mean, or the highest value where a
// ceiling limit is on record. Limits carry the reduction for a long shift. Where nobody is at the work the answer is empty.
// A vapour without any limit is held against the upper end of its band, which is guidance and no limit. Ingredients of a sprayed product come as mist whose droplets are not in the figure.
func Exposures(j *exposure.Job, r *exposure.Result, table *substance.Table) []protect.Exposure {
	var out []protect.Exposure
	for v, vapour := range r.Vapours {
		var worst *exposure.Exposure
		hours := 0.0
		for i, person := range r.People {
			e := &person.Exposures[v]
			if AtWork(j, j.People[i]) {
				if worst == nil || e.TWA8.Worst() > worst.TWA8.Worst() {
					worst = e
				}
				hours = math.Max(hours, math.Min(24, person.HoursIn))
			}
		}
		if worst == nil {
			continue
		}
		out = append(out, exposureOf(*worst, vapour, hours, mistOf(j, vapour.Name, vapour.CAS)))
	}
	return append(out, particleExposures(j, r, table)...)
}

// particleExposures are the mist and dust of a job: the whole of it, against the limit of dust in general where one is held,
// and every ingredient in it that has a limit of its own in mg/m³ for the whole dust. The high end counts.
func particleExposures(j *exposure.Job, r *exposure.Result, table *substance.Table) []protect.Exposure {
	var out []protect.Exposure
	for _, d := range r.Particles {
		task := protect.DustTask
		if d.Kind == "mist" {
			task = protect.MistTask
		}
		whole := protect.Exposure{Name: d.Kind + " of " + d.Task, Unit: "mg/m3", Task: task, Hours: d.Minutes / 60, Limits: dustLimits(j.Jurisdiction)}
		if d.Known {
			whole.Peak, whole.Mean = protect.Known(d.HighMgM3), protect.Known(d.HighMgM3*d.Minutes/480)
		}
		out = append(out, whole)
		for _, c := range d.Holds {
			s, ok := table.ByCAS(c.CAS)
			if !ok {
				continue
			}
			if e, ok := contentExposure(whole, c, s, j.Jurisdiction); ok {
				out = append(out, e)
			}
		}
	}
	return out
}

// contentExposure is what is met of one ingredient of mist or dust; ok is false where it has no limit that the whole dust
// can be held against and is no isocyanate.
func contentExposure(whole protect.Exposure, c exposure.Content, s *substance.Substance, place substance.Jurisdiction) (protect.Exposure, bool) {
	e := protect.Exposure{CAS: c.CAS, Name: c.Name + " in " + whole.Name, Unit: "mg/m3", Task: whole.Task, Hours: whole.Hours}
	for _, l := range s.LimitsFor(place) {
		if mg, _, ok := l.InMgM3(s.MolarMassGMol); ok && l.Basis == "" {
			e.Limits = append(e.Limits, protect.Limit{Value: mg, Unit: "mg/m3", Kind: l.Kind, Authority: l.Authority, Source: protect.Source{Text: l.Source.Text, Memory: l.Source.Memory}})
		}
	}
	if whole.Peak.Known {
		e.Peak, e.Mean = protect.Known(whole.Peak.V*c.High), protect.Known(whole.Mean.V*c.High)
	}
	return e, len(e.Limits) > 0 || s.Family == "isocyanate"
}

// dustLimits is the limit of dust that is not listed otherwise. It says nothing of what the dust holds.
func dustLimits(place substance.Jurisdiction) []protect.Limit {
	if place != substance.UnitedStates && place != substance.California {
		return nil
	}
	return []protect.Limit{{Value: 15, Unit: "mg/m3", Kind: substance.TWA, Authority: "OSHA PEL for dust not otherwise listed,",
		Source: protect.Source{Text: "29 CFR 1910.1000 table Z-1, particulates not otherwise regulated, total dust", Memory: true}}}
}

func exposureOf(e exposure.Exposure, v exposure.VapourResult, hours float64, task protect.Task) protect.Exposure {
	out := protect.Exposure{CAS: v.CAS, Name: v.Name, Unit: "ppm", Task: task, Hours: hours,
		Mean: protect.Known(e.TWA8.Worst() * e.PPMFactor), Peak: protect.Known(e.Peak15.Worst() * e.PPMFactor)}
	if ppm, _, ok := protect.DangerPPM(v.CAS); ok {
		out.IDLH = protect.Known(ppm)
	}
	for _, l := range e.Limits {
		if l.Limit.Kind == substance.Ceiling {
			out.Peak = protect.Known(e.Highest.Worst() * e.PPMFactor)
		}
		out.Limits = append(out.Limits, protect.Limit{Value: l.MgM3 * l.Reduction * e.PPMFactor, Unit: "ppm", Kind: l.Limit.Kind, Authority: l.Limit.Who(),
			Source: protect.Source{Text: l.Limit.Source.Text, Memory: l.Limit.Source.Memory}})
	}
	if end, ok := bandEnd(v); ok && len(out.Limits) == 0 {
		out.Limits = []protect.Limit{{Value: end, Unit: "ppm", Kind: substance.TWA, Authority: "no limit on record; upper end of band " + v.Band.Letter + ",",
			Source: protect.Source{Text: v.Band.Source, Memory: v.Band.Memory}}}
	}
	return out
}

// bandEnd is the upper end of the band of a vapour without limit, in ppm.
func bandEnd(v exposure.VapourResult) (float64, bool) {
	if v.Band == nil || v.Band.Letter == "" {
		return 0, false
	}
	return v.Band.UpperPPM()
}

// mistOf is mist when a product that holds the substance is sprayed, else vapour.
func mistOf(j *exposure.Job, name, cas string) protect.Task {
	for _, t := range j.Tasks {
		if t.Surface != exposure.Spray && t.Kind != "spray" {
			continue
		}
		for _, p := range j.Products {
			if p.Name == t.Product && slices.ContainsFunc(p.Ingredients, func(i exposure.Ingredient) bool {
				return i.Name == name || cas != "" && i.CAS == cas
			}) {
				return protect.MistTask
			}
		}
	}
	return protect.VapourTask
}
