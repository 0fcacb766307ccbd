package paper

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"sixteen/compare"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/protect"
)

// PaperOptions are what a paper of figures needs to know beside its content.
type PaperOptions struct {
	Date time.Time // of printing
	Page PageSize
	Link string // of the QR code, "" for none
}

// JobPlan is the plan of a job on paper: what comes first, what to do and wear in the order of controls, who stays away,
// the figures for each person, and the charts. It is in English, as the plan is.
func JobPlan(p *plan.Plan, o PaperOptions) (Document, error) {
	d := Document{
		Title: p.Name, Lang: ghs.English, Date: o.Date, Page: o.Page, Size: 9.5, MarginMM: 17,
		Head: Running{Left: "Job plan", Right: dateText(o.Date)}, Foot: Running{Left: p.Name, Right: "{page} / {pages}"},
	}
	add := func(b ...Block) { d.Blocks = append(d.Blocks, b...) }
	title := []Block{Heading{1, p.Name}, Paragraph{Weight: Small, Text: Plain(fmt.Sprintf("Limits of: %s. Products judged by: %s. Shift of %g h. Every figure is an estimate, from the middle of all ranges to their high ends; only a measurement tells what is in the air.", p.Exposure.Jurisdiction, p.RuleSet.Name(), p.Exposure.ShiftHours))}}
	if o.Link != "" {
		title = []Block{Columns{Parts: []Part{{Width: 5, Blocks: title}, {Width: 1, Blocks: []Block{QR{Content: o.Link, SizeMM: 24}}}}}}
	}
	add(title...)
	add(Box{Tone: Caution, Title: "First", Blocks: []Block{List{Items: plains(p.Headline)}}})
	add(Heading{2, "In short"}, brief(p), Paragraph{Weight: Small, Text: Plain("Why, and by which source, stands with every measure in the last part.")})
	add(Heading{2, "Products"}, products(p.Products))
	if len(p.Bystanders) > 0 {
		var rows []Pair
		for _, b := range p.Bystanders {
			rows = append(rows, Pair{b.Name, Plain(strings.Join(b.Says, ". "))})
		}
		add(Heading{2, "Others in the rooms"}, Pairs{Rows: rows})
	}
	if len(p.NotAssessed) > 0 {
		add(Box{Title: "Not assessed: no figure and no measure covers it", Blocks: []Block{List{Items: plains(p.NotAssessed)}}})
	}
	add(Heading{2, "Figures for each person"})
	add(people(p.Exposure)...)
	if t := rooms(p.Exposure); len(t.Rows) > 0 {
		add(Heading{2, "Rooms"}, t)
		for i, x := range p.Exposure.Rooms {
			if same := i > 0 && x.ReuseNote == p.Exposure.Rooms[i-1].ReuseNote; x.ReuseNote != "" && !same {
				add(Paragraph{Text: Plain(x.ReuseNote), Weight: Small})
			}
		}
	}
	charts := p.Charts()
	if len(charts) > 0 {
		add(Heading{2, "Charts"})
	}
	for _, c := range charts {
		drawing, err := ParseSVG([]byte(c.SVG))
		if err != nil {
			return d, fmt.Errorf("chart of %s: %w", c.About, err)
		}
		caption := strings.ToUpper(c.Says[:1]) + c.Says[1:] + "."
		add(Figure{Drawing: drawing, Alt: caption, Caption: caption, Width: 0.78})
	}
	add(Heading{2, "What to do, in the order of controls"})
	add(measures(p.Protection)...)
	if len(p.Exposure.Assumptions) > 0 {
		list := List{Items: plains(p.Exposure.Assumptions), Weight: Small}
		add(Heading{2, "Assumed"}, list)
	}
	return d, nil
}

func plains(list []string) []Text {
	var out []Text
	for _, s := range list {
		out = append(out, Plain(s))
	}
	return out
}

// products is a table of products with the hazards acted on.
func products(known []plan.Known) Table {
	t := Table{RowHeads: true, Columns: []Column{{Title: "Product", Width: 2}, {Title: "Acted on", Width: 4}, {Title: "Possible besides", Width: 3}, {Title: "Not disclosed", Width: 1.4}}}
	for _, k := range known {
		hidden := "nothing"
		if k.Hidden[1] >= 0.05 {
			hidden = exposure.Spread(k.Hidden[0], k.Hidden[1]) + " %"
		}
		t.Rows = append(t.Rows, []Text{Plain(k.Name), Plain(hazardNames(k.Acting())), Plain(hazardNames(k.Possible)), Plain(hidden)})
	}
	return t
}

func hazardNames(s ghs.HazardSet) string {
	if s.Empty() {
		return "none declared or following"
	}
	return s.String()
}

// brief is the plan in short, one row for each thing it is about.
func brief(p *plan.Plan) Table {
	t := Table{RowHeads: true, Dense: true, Columns: []Column{{Title: "About", Width: 1}, {Title: "What to do", Width: 5.5}}}
	for _, l := range p.Brief() {
		t.Rows = append(t.Rows, []Text{Plain(strings.ToUpper(l.About[:1]) + l.About[1:]), Plain("– " + strings.Join(l.Says, "\n– "))})
	}
	return t
}

// measures are what to do in the order of controls: a table of our own measures with the number of their source, the
// standard's words in one paragraph a kind, then the sources.
func measures(p protect.Plan) []Block {
	var out []Block
	l := p.Listing()
	t := Table{Columns: []Column{{Title: "", Width: 1.2}, {Title: "What", Width: 5}, {Title: "Why", Width: 4}, {Title: "Source", Width: 0.7}}, Dense: true}
	var words []Text
	for _, g := range l.Groups {
		name := strings.ToUpper(string(g.Kind[:1])) + string(g.Kind[1:])
		for i, m := range g.Own {
			first := name
			if i > 0 {
				first = ""
			}
			t.Rows = append(t.Rows, []Text{Strong(first), Plain(m.What), Plain(m.Why), Plain(fmt.Sprintf("[%d]", m.Number))})
		}
		var said []string
		for _, m := range g.Words {
			said = append(said, m.Words())
		}
		if len(said) > 0 {
			words = append(words, Plain(name+": "+strings.Join(said, " · ")))
		}
	}
	out = append(out, t)
	if len(words) > 0 {
		out = append(out, Heading{3, "Precautionary statements of the rule set"}, List{Items: words, Weight: Small})
	}
	if len(p.NotAssessed) > 0 {
		out = append(out, Paragraph{Text: Strong("No respirator could be held against:")}, List{Items: plains(p.NotAssessed)})
	}
	var sources []Text
	for i, s := range l.Sources {
		sources = append(sources, Plain(fmt.Sprintf("[%d] %s", i+1, s)))
	}
	return append(out, Heading{3, "Sources"}, List{Items: sources, Weight: Small})
}

// people are the exposures, one table per person.
func people(r *exposure.Result) []Block {
	figure := func(e exposure.Estimate, k float64) string {
		return exposure.Spread(k*e.Middle, k*e.Worst())
	}
	var out []Block
	for _, x := range r.People {
		t := Table{Dense: true, RowHeads: true, Caption: fmt.Sprintf("%s, %s in the rooms", x.Name, exposure.Duration(60*x.HoursIn)), Columns: []Column{
			{Title: "Vapour", Width: 2.4}, {Title: "Highest 15 min, ppm", Width: 1.5}, {Title: "8 h mean, ppm", Width: 1.5}, {Title: "Limit", Width: 3}, {Title: "Share of the limit, %", Width: 1.7}}}
		for v, e := range x.Exposures {
			row := []Text{Plain(e.Vapour), Plain(figure(e.Peak15, e.PPMFactor)), Plain(figure(e.TWA8, e.PPMFactor)), Plain(withoutLimit(r.Vapours, v)), Plain("not known")}
			for i, l := range e.Limits {
				row[3], row[4] = Plain(limitWords(l)), Plain(figure(l.Fraction, 100))
				if i > 0 { // one row a limit, so that each share stands beside its own
					row = []Text{Plain(e.Vapour), Plain("as above"), Plain("as above"), row[3], row[4]}
				}
				if i < len(e.Limits)-1 {
					t.Rows = append(t.Rows, slices.Clone(row))
				}
			}
			t.Rows = append(t.Rows, row)
		}
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	if len(out) == 0 {
		out = append(out, Paragraph{Text: Plain("No vapour was followed.")})
	}
	return out
}

// withoutLimit is what stands in place of a limit: the band by hazard statements, which is guidance.
func withoutLimit(vapours []exposure.VapourResult, v int) string {
	s := "no limit on record here"
	if v >= len(vapours) || vapours[v].Band == nil || vapours[v].Band.Letter == "" {
		return s
	}
	b := vapours[v].Band
	s += fmt.Sprintf("; guidance: band %s, %s", b.Letter, b.Air)
	if b.Memory {
		s += " (table from memory, check it)"
	}
	return s
}

// limitWords is a limit with what has to be known about it.
func limitWords(l exposure.LimitFraction) string {
	s := fmt.Sprintf("%s %s: %s mg/m³", l.Limit.Who(), l.Limit.Kind, exposure.Figure(l.MgM3))
	if l.Reduction < 1 {
		s += fmt.Sprintf(", times %.2g for the long shift", l.Reduction)
	}
	if l.Limit.Source.Memory {
		s += ", from memory"
	}
	if l.Limit.Borrowed {
		s += ", not the law here"
	} else if !l.Limit.Binding() {
		s += ", recommended or indicative"
	}
	if l.Limit.Skin {
		s += ", also through the skin"
	}
	return s
}

// rooms is a table of the rooms: fire, when they may be used again, and the air they need.
func rooms(r *exposure.Result) Table {
	t := Table{Dense: true, RowHeads: true, Columns: []Column{{Title: "Room", Width: 1.4}, {Title: "Use again after the last task", Width: 1.6}, {Title: "With children", Width: 1.3}, {Title: "Highest share of the lower flammable limit", Width: 1.8}, {Title: "Air needed", Width: 3}}}
	for _, x := range r.Rooms {
		air := "not worked out"
		if v := x.Ventilation; v != nil {
			air = v.Note
			if v.Reached {
				air = fmt.Sprintf("%s air changes an hour, %s m³/min, for %.2g of every limit. %s", exposure.Amount(v.AirChanges), exposure.Amount(v.AirM3Min), v.Fraction, v.Note)
			}
		}
		t.Rows = append(t.Rows, []Text{Plain(x.Name), Plain(exposure.Reentry(x.ReuseMiddle, x.ReuseHours)), Plain(exposure.Reentry(x.ReuseChildrenMiddle, x.ReuseChildren)), Plain(fmt.Sprintf("%s in the air; %s over the fresh liquid", exposure.Spread(x.Flammable.Middle, x.Flammable.Worst()), exposure.Amount(x.OverLiquid))), Plain(air)})
	}
	return t
}

// Comparison is products beside each other on paper: one table per axis, then the pairs. It is in English, as the
// comparison is. No product is praised and there is no sum.
func Comparison(c *compare.Comparison, o PaperOptions) Document {
	title := "Comparison"
	if c.Job != "" {
		title += " for: " + c.Job
	}
	d := Document{
		Title: title, Lang: ghs.English, Date: o.Date, Page: o.Page, Size: 9.5, MarginMM: 17,
		Head: Running{Left: "Comparison", Right: dateText(o.Date)}, Foot: Running{Left: title, Right: "{page} / {pages}"},
	}
	add := func(b ...Block) { d.Blocks = append(d.Blocks, b...) }
	add(Heading{1, title}, Paragraph{Weight: Small, Text: Plain(fmt.Sprintf("Judged by: %s. The axes are kept apart; there is no sum. Higher figures are worse.", c.RuleSet.Name()))})
	if c.Partial {
		add(Box{Tone: Caution, Title: "Partial answer", Blocks: []Block{Paragraph{Text: Plain("The comparison was stopped before its end.")}}})
	}
	add(Box{Tone: Caution, Title: "What follows", Blocks: []Block{List{Items: plains(append(slices.Clone(c.Headline), "Not dominated by another: "+strings.Join(c.Leading, ", ")))}}})
	add(Heading{2, "On each axis"})
	for i, axis := range compare.Axes() {
		t := Table{Dense: true, RowHeads: true, Caption: strings.ToUpper(axis.Title()[:1]) + axis.Title()[1:], Columns: []Column{{Title: "Product", Width: 2}, {Title: "Figure", Width: 0.9, Align: Right}, {Title: "In words", Width: 3}, {Title: "Why", Width: 4}}}
		for _, p := range c.Products {
			s := p.Scores[i]
			t.Rows = append(t.Rows, []Text{Plain(p.Name), Plain(s.Range()), Plain(s.Words), Plain(strings.Join(s.Why, "; "))})
		}
		add(t)
	}
	add(pairs(c)...)
	if len(c.Notes) > 0 {
		add(Heading{2, "Notes"}, List{Items: plains(c.Notes), Weight: Small})
	}
	return d
}

// pairs are the products two by two.
func pairs(c *compare.Comparison) []Block {
	if len(c.Pairs) == 0 {
		return nil
	}
	out := []Block{Heading{2, "Two by two"}}
	for _, p := range c.Pairs {
		t := Table{Dense: true, RowHeads: true, Columns: []Column{{Title: "Axis", Width: 1}, {Title: p.First + " beside " + p.Second, Width: 1}}}
		for i, v := range p.Verdicts {
			t.Rows = append(t.Rows, []Text{Plain(compare.Axes()[i].Title()), Plain(string(v))})
		}
		blocks := []Block{Heading{3, p.First + " or " + p.Second}}
		if p.TradeOff != "" {
			blocks = append(blocks, Paragraph{Text: Plain(p.TradeOff)})
		}
		out = append(out, Keep{append(blocks, t)})
	}
	return out
}
