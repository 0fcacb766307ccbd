package exposure

import (
	"fmt"
	"io"
	"strings"
)

// WriteText writes the result as plain text. It gives the first error of w.
func (r *Result) WriteText(w io.Writer) error {
	p := &printer{w: w}
	p.line("%s", r.Job)
	p.line("Limits of: %s. Shift of %g h. Every figure is an estimate: middle of all ranges to their high ends; only a measurement tells what is in the air.", r.Jurisdiction, r.ShiftHours)
	for _, h := range r.Headline {
		p.line("* %s", h)
	}
	r.writeDetail(p)
	return p.err
}

// WriteDetail writes everything below the headline.
func (r *Result) WriteDetail(w io.Writer) error {
	p := &printer{w: w}
	r.writeDetail(p)
	return p.err
}

func (r *Result) writeDetail(p *printer) {
	r.writePeople(p)
	r.writeRooms(p)
	r.writeVapours(p)
	r.writeHeat(p)
	r.writeParticles(p)
	r.writeUncertainty(p)
	if len(r.NotAssessed) > 0 {
		p.line("\nNot followed as vapour")
		for _, n := range r.NotAssessed {
			p.line("  %s, %s of %s: %s", n.Name, n.Percent, n.Product, n.Why)
		}
	}
	if len(r.Assumptions) > 0 {
		p.line("\nAssumed")
		for _, a := range r.Assumptions {
			p.line("  %s", a)
		}
	}
}

// printer remembers the first error.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (r *Result) writePeople(p *printer) {
	for _, x := range r.People {
		p.line("\n%s (%s, %s in the rooms; breathes and weighs %s)", x.Name, x.Age, Duration(60*x.HoursIn), x.BodyNote)
		for _, e := range x.Exposures {
			p.line("  %s", e.Vapour)
			p.line("    highest 15 min mean %s mg/m³ = %s ppm", e.Peak15.Words(1), e.Peak15.Words(e.PPMFactor))
			p.line("    8 h mean %s mg/m³; 24 h mean %s mg/m³; breathed in %s mg/kg", e.TWA8.Words(1), e.Day.Words(1), e.DoseMgKg.Words(1))
			for _, l := range e.Limits {
				p.line("    %s", l.words())
			}
			if len(e.Limits) == 0 {
				p.line("    no limit on record here")
			}
		}
		for _, i := range x.Indices {
			text := fmt.Sprintf("  sum over shift limits, %s: %s", i.Effect, i.Value.Words(1))
			if len(i.Vapours) == 0 {
				text = fmt.Sprintf("  sum over shift limits, %s: cannot be formed", i.Effect)
			}
			if len(i.Without) > 0 {
				text += "; without limit and not in it: " + strings.Join(i.Without, ", ")
			}
			p.line("%s", text)
		}
	}
}

func (l LimitFraction) words() string {
	s := fmt.Sprintf("%s of the %s %s (%s mg/m³", l.Fraction.Words(1), l.Limit.Who(), l.Limit.Kind, Figure(l.MgM3))
	if l.Reduction < 1 {
		s += fmt.Sprintf(", times %.2g for the long shift", l.Reduction)
	}
	if l.Limit.Basis != "" {
		s += ", " + l.Limit.Basis
	}
	if l.Limit.Source.Memory {
		s += ", limit from memory"
	}
	if l.Limit.Borrowed {
		s += ", not the law here"
	} else if !l.Limit.Binding() {
		s += ", recommended or indicative"
	}
	s += ")"
	if l.Limit.Skin {
		s += ", also through the skin"
	}
	if l.Exceeding != nil {
		s += fmt.Sprintf("; chance of exceeding %.0f %%", 100**l.Exceeding)
	}
	return s
}

func (r *Result) writeRooms(p *printer) {
	for _, x := range r.Rooms {
		p.line("\nRoom %s", x.Name)
		p.line("  highest share of the lower flammable limit: %s in the air; %s right over the fresh liquid", x.Flammable.Words(1), Amount(x.OverLiquid))
		if len(x.WithoutLower) > 0 {
			p.line("  lower flammable limit not held, not in it: %s", strings.Join(x.WithoutLower, ", "))
		}
		p.line("  use again after the last task: %s; with children: %s. %s", Reentry(x.ReuseMiddle, x.ReuseHours), Reentry(x.ReuseChildrenMiddle, x.ReuseChildren), x.ReuseNote)
		if v := x.Ventilation; v != nil && v.Reached {
			p.line("  air for %.2g of every limit: %s air changes an hour = %s m³/min (%s)", v.Fraction, Amount(v.AirChanges), Amount(v.AirM3Min), v.Note)
		} else if v != nil {
			p.line("  air for %.2g of every limit: %s", v.Fraction, v.Note)
		}
	}
}

func (r *Result) writeVapours(p *printer) {
	p.line("\nVapours")
	for _, v := range r.Vapours {
		memory := ""
		if v.PressureMemory {
			memory = ", from memory"
		}
		p.line("  %s: %s Pa at 20 °C (%s%s); of %s g brought %s g left, %s g in the air, %s g exhausted", v.Name, Amount(v.PressurePa20), v.PressureMethod, memory,
			Amount(v.Balance.BroughtMg/1000), Amount(v.Balance.LeftMg/1000), Amount(v.Balance.InAirMg/1000), Amount(v.Balance.ExhaustedMg/1000))
		if v.HazardRatio > 0 {
			p.line("    saturated vapour is %s times the shift limit", Amount(v.HazardRatio))
		}
		if b := v.Band; b != nil && b.Letter != "" {
			memory = ""
			if b.Memory {
				memory = ", table from memory: check before use"
			}
			p.line("    no limit here: band %s, %s (%s; %s%s)", b.Letter, b.Air, strings.Join(b.Because, ", "), b.Source, memory)
		}
	}
}

func (r *Result) writeHeat(p *printer) {
	for _, h := range r.Heat {
		p.line("\nHeat of cure (estimate), %s: up to %.0f °C after %.0f min, never above %.0f °C", h.Where, h.PeakC, h.PeakMin, h.CeilingC)
		for _, x := range append(append([]string(nil), h.Warnings...), h.SpreadOut) {
			if x != "" {
				p.line("  %s", x)
			}
		}
	}
}

func (r *Result) writeParticles(p *printer) {
	for _, d := range r.Particles {
		p.line("\nParticles, %s", d.Says())
		p.line("  from: %s", d.Basis)
		for _, c := range d.Holds {
			p.line("  %s: %s of it", c.Name, Spread(c.Low, c.High))
		}
	}
}

func (r *Result) writeUncertainty(p *printer) {
	u := r.Uncertainty
	if u == nil {
		return
	}
	p.line("\n%d of %d samples of the ranges worked out. What moves the result (rank correlation):", u.Samples, u.Asked)
	for _, d := range u.Drivers {
		p.line("  %s: %s %+.2f", d.Figure, d.Input, d.Rank)
	}
	if says := u.ErrorWords(); says != "" {
		p.line("  %s", says)
	}
}
