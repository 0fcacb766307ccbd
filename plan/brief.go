package plan

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/exposure"
	"sixteen/protect"
)

// Line is one line of the plan in short: what it is about, and what there is to do. Why and by which source stands with
// the measures and figures of the plan.
type Line struct {
	About string   `json:"about"`
	Says  []string `json:"says"`
}

// Brief is the plan on half a page, for the wall: what to wear, the air, who stays out and for how long, and what to do
// while working. Nothing stands in it that is not in the measures and figures.
func (p *Plan) Brief() []Line {
	var out []Line
	add := func(about string, says ...string) {
		if len(says) > 0 {
			out = append(out, Line{about, says})
		}
	}
	add("do not do it this way", p.own(protect.Stop)...)
	add("instead", append(p.own(protect.Substitute), p.own(protect.Enclose)...)...)
	add("air", append(p.own(protect.Ventilate), p.airNeeded()...)...)
	add("breathing", p.mask())
	add("hands", p.gloves()...)
	add("eyes", p.own(protect.Eyes)...)
	add("skin", p.own(protect.Skin)...)
	add("while working", append(p.own(protect.Schedule), p.spread()...)...)
	add("stay out", append(p.own(protect.KeepAway), p.again()...)...)
	add("if it goes wrong", slices.Concat(p.own(protect.FirstAid), p.own(protect.Fire), p.own(protect.Spill))...)
	return out
}

// own are the measures of a kind in our own words.
func (p *Plan) own(k protect.Kind) []string {
	var out []string
	for _, m := range p.Protection.Measures {
		if m.Kind == k && m.Code == "" {
			out = append(out, m.What)
		}
	}
	return out
}

// mask is the respirator, or why none is named.
func (p *Plan) mask() string {
	if all := p.own(protect.Breathing); len(all) > 0 {
		return all[0]
	}
	switch {
	case len(p.Protection.NotAssessed) > 0 || p.open():
		return "no mask is named, because the vapours that could be worked out stay below the limits held; what was not assessed is not in this"
	case len(p.Exposure.Vapours) == 0 && len(p.Exposure.Particles) == 0:
		return "nothing was worked out for the air"
	}
	return "no mask is asked for by the vapours worked out, as long as the air of the plan is there"
}

// open tells whether some ingredient is not assessed.
func (p *Plan) open() bool {
	return slices.ContainsFunc(p.Exposure.NotAssessed, func(n exposure.NotAssessed) bool { return !n.Benign })
}

func (p *Plan) gloves() []string {
	g := p.Protection.Gloves
	var out []string
	memory := ""
	if g.Memory {
		memory = " (from memory, check the maker's chart)"
	}
	if len(g.Ask) > 0 {
		out = append(out, "gloves: ask the maker for "+strings.Join(g.Ask, ", or ")+memory)
	}
	if len(g.Splash) > 0 {
		out = append(out, "not for more than a splash: "+strings.Join(g.Splash, ", ")+memory)
	}
	if len(g.Unknown) > 0 {
		out = append(out, "no glove test is held against "+strings.Join(g.Unknown, ", ")+": ask the maker of the gloves; until then change at once after a splash")
	}
	return out
}

// airNeeded is the ventilation each room needs.
func (p *Plan) airNeeded() []string {
	var out []string
	for _, r := range p.Exposure.Rooms {
		if v := r.Ventilation; v != nil && v.Reached && v.AirChanges > 0 {
			out = append(out, fmt.Sprintf("%s: %s m³ of fresh air a minute (%s times the room's air an hour) keep everybody below %s of every limit held", r.Name, exposure.Amount(v.AirM3Min), exposure.Amount(v.AirChanges), exposure.Amount(v.Fraction)))
		} else if v != nil && !v.Reached {
			out = append(out, r.Name+": "+v.Note)
		}
	}
	return out
}

// spread is the advice against the heat of cure.
func (p *Plan) spread() []string {
	var out []string
	for _, h := range p.Exposure.Heat {
		if h.SpreadOut != "" {
			out = append(out, h.Where+": "+h.SpreadOut)
		}
	}
	return out
}

// again is when each room may be used again.
func (p *Plan) again() []string {
	var out []string
	for _, r := range p.Exposure.Rooms {
		out = append(out, fmt.Sprintf("%s, before it is used again after the last task: %s. With children: %s", r.Name, exposure.Reentry(r.ReuseMiddle, r.ReuseHours), exposure.Reentry(r.ReuseChildrenMiddle, r.ReuseChildren)))
	}
	return out
}
