package plan

import (
	"cmp"
	"slices"

	"sixteen/exposure"
)

// Chart is one drawing of a plan.
type Chart struct {
	Kind  string `json:"kind"`  // air, vapours, share, heat
	About string `json:"about"` // the vapour, room or person
	Says  string `json:"says"`  // what it shows, in words
	SVG   string `json:"svg"`   // a document of its own that may also stand inside a page
}

// mostAirCharts bounds how many vapours get a drawing of their own; the rest stand in the charts of the rooms.
const mostAirCharts = 6

// Charts draws the plan: for each person at the work the share of the limits by ingredient, for each vapour (nearest to its
// limit first, at most six) the air of all rooms with the limits, for each room all vapours, and the heat of cure.
func (p *Plan) Charts() []Chart {
	var out []Chart
	r := p.Exposure
	add := func(kind, about, says string, svg []byte, ok bool) {
		if ok {
			out = append(out, Chart{Kind: kind, About: about, Says: says, SVG: string(svg)})
		}
	}
	for i, person := range r.People {
		if AtWork(p.Job, p.Job.People[i]) {
			svg, ok := r.ShareChart(person.Name)
			add("share", person.Name, "what each ingredient adds to the exposure of "+person.Name, svg, ok)
		}
	}
	for _, v := range p.nearestFirst() {
		svg, ok := r.AirChart(v)
		add("air", v, "concentration of "+v+" over time in every room, with the limits", svg, ok)
	}
	for _, room := range r.Rooms {
		svg, ok := r.ContributionChart(room.Name)
		add("vapours", room.Name, "all vapours over time in "+room.Name, svg, ok)
	}
	svg, ok := r.HeatChart()
	add("heat", "cure", "temperature of the curing mix over time, estimate", svg, ok)
	return out
}

// nearestFirst names the vapours by their highest share of any limit for anybody.
func (p *Plan) nearestFirst() []string {
	type near struct {
		name  string
		share float64
	}
	var all []near
	for v, vapour := range p.Exposure.Vapours {
		n := near{name: vapour.Name}
		for _, person := range p.Exposure.People {
			for _, l := range person.Exposures[v].Limits {
				n.share = max(n.share, l.Fraction.Worst())
			}
		}
		all = append(all, n)
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(b.share, a.share) })
	var out []string
	for _, n := range all[:min(mostAirCharts, len(all))] {
		out = append(out, n.name)
	}
	return out
}

// Heat is the temperature of every curing mass of the plan.
func (p *Plan) Heat() []exposure.HeatCurve { return p.Exposure.Heat }
