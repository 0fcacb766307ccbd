package substance

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"sixteen/ghs"
)

// Card is everything held about one substance, laid out for showing.
type Card struct {
	CAS      string    `json:"cas"`
	EC       string    `json:"ec,omitempty"`
	Name     string    `json:"name"`
	Family   string    `json:"family,omitempty"`
	Formula  string    `json:"formula,omitempty"`
	Synonyms []Synonym `json:"synonyms,omitempty"`

	Groups     []CardGroup    `json:"groups"`           // classification by authority, official first
	EU         string         `json:"eu_basis"`         // what a classification in the EU rests on, in words
	US         string         `json:"us_basis"`         // the same for the United States
	Cancer     []CardCancer   `json:"cancer,omitempty"` // IARC and NTP
	Limits     []CardLimits   `json:"limits,omitempty"` // by place
	Properties []Property     `json:"properties"`       // unknown ones too
	Pressures  []CardPressure `json:"pressures"`        // vapour pressure at 20, 25 and 40 °C
	Doubts     []string       `json:"doubts,omitempty"` // everything still to be checked, each once
	CheckAt    []string       `json:"check_at,omitempty"`
	Values     int            `json:"values"`   // how many values the card shows
	Recalled   int            `json:"recalled"` // how many of them are from memory
}

// CardGroup is the classification by one authority.
type CardGroup struct {
	Authority Authority        `json:"authority"`
	Title     string           `json:"title"`
	Entries   []Classification `json:"entries"`
}

// CardLimits is the limits of one place.
type CardLimits struct {
	Place  Jurisdiction `json:"place"`
	Limits []Limit      `json:"limits"`
}

// CardCancer is one programme's group.
type CardCancer struct {
	Programme string `json:"programme"`
	Group     string `json:"group"`
	Source    Source `json:"source"`
}

// CardPressure is a vapour pressure at a temperature, with the concentration of air saturated with it.
type CardPressure struct {
	TempC        float64  `json:"temp_c"`
	Pressure     Pressure `json:"pressure"`
	SaturatedPPM float64  `json:"saturated_ppm"` // parts per million by volume at 101.325 kPa; 0 when unknown
}

var groupTitles = []struct {
	authority Authority
	title     string
}{
	{Imported, "Official, from an imported table"},
	{Harmonised, "Harmonised in the EU (Annex VI; law in the EU and, as far as its list has not parted from it, in Great Britain)"},
	{Notified, "Typical: what most notifiers state"},
	{Supplier, "Typical: what supplier sheets state"},
	{Derived, "Derived from the data held, where no statement is held"},
}

// NewCard lays a substance out.
func NewCard(s *Substance) Card {
	c := Card{CAS: s.CAS, EC: s.EC, Name: s.Name, Family: s.Family, Formula: s.Formula, Synonyms: s.Synonyms, Properties: s.Properties(),
		EU: s.ForRuleSet(ghs.EUCLP).Statement, US: s.ForRuleSet(ghs.USHCS2024).Statement}
	for _, g := range groupTitles {
		var list []Classification
		for _, x := range s.Classifications {
			if x.Authority == g.authority {
				list = append(list, x)
				c.note(x.Source, x.Check, string(x.Code)+" "+x.Hazard.String())
				if x.DetailSource.Text != "" {
					c.note(x.DetailSource, "", "")
				}
			}
		}
		if len(list) > 0 {
			c.Groups = append(c.Groups, CardGroup{g.authority, g.title, list})
		}
	}
	for _, j := range Jurisdictions() {
		if l := s.LimitsFor(j); len(l) > 0 {
			c.Limits = append(c.Limits, CardLimits{j, l})
			for _, x := range l {
				c.note(x.Source, doubtOf(x), x.Authority+" "+x.Kind)
			}
		}
	}
	c.addCancer("IARC", s.IARC, s.IARCSource)
	c.addCancer("NTP Report on Carcinogens", s.NTP, s.NTPSource)
	for _, p := range c.Properties {
		if p.Value.Known {
			c.note(p.Value.Source, "", "")
		}
	}
	for _, t := range []float64{20, 25, 40} {
		p := s.VapourPressure(t)
		c.Pressures = append(c.Pressures, CardPressure{t, p, min(1e6, p.Pa/oneAtm*1e6)})
	}
	return c
}

// doubtOf drops remarks that only add support.
func doubtOf(l Limit) string {
	if strings.HasPrefix(l.Check, "also stated") && !strings.Contains(l.Check, ";") {
		return ""
	}
	return l.Check
}

func (c *Card) addCancer(programme, group string, src Source) {
	if group != "" {
		c.Cancer = append(c.Cancer, CardCancer{programme, group, src})
		c.note(src, "", "")
	}
}

// note counts a value and keeps its doubt and, when it is recalled, where to check it.
func (c *Card) note(src Source, doubt, what string) {
	c.Values++
	if src.Memory {
		c.Recalled++
		if src.CheckAt != "" && !slices.Contains(c.CheckAt, src.CheckAt) {
			c.CheckAt = append(c.CheckAt, src.CheckAt)
		}
	}
	if doubt == "" {
		return
	}
	if d := strings.TrimSpace(what) + ": " + doubt; !slices.Contains(c.Doubts, d) {
		c.Doubts = append(c.Doubts, d)
	}
}

// WriteCard writes the card of a substance as plain text, about 100 columns wide. Every value carries the number of its
// source, listed at the end, and the words "from memory" where it was recalled. It gives the first error of w.
func WriteCard(w io.Writer, s *Substance) error {
	p := &printer{w: w}
	c := NewCard(s)
	p.line("%s", c.Name)
	p.line("%s", strings.Join(nonEmpty("CAS "+orNotHeld(c.CAS), "EC "+orNotHeld(c.EC), c.Formula, c.Family), " · "))
	if n := synonymLine(c.Synonyms); n != "" {
		p.wrapped("also: ", n)
	}
	p.line("")
	p.classification(c)
	p.limits(c)
	p.properties(c)
	p.line("Vapour pressure (pure substance)")
	for _, v := range c.Pressures {
		p.pressure(v)
	}
	p.line("")
	if len(c.Doubts) > 0 {
		p.line("Still to be checked")
		for _, d := range c.Doubts {
			p.wrapped("  - ", d)
		}
		p.line("")
	}
	p.line("Sources (%d of %d values are from memory)", c.Recalled, c.Values)
	for i, src := range p.sources {
		text := src.Text
		if src.Memory {
			text = "from memory: " + text
			if src.CheckAt != "" {
				text += " – check at " + src.CheckAt
			}
		}
		p.wrapped(fmt.Sprintf("  [%d] ", i+1), text)
	}
	p.line("")
	p.line("Reference facts do not replace the supplier's sheet; what is not held here is unknown, not absent.")
	return p.err
}

type printer struct {
	w       io.Writer
	err     error
	sources []Source // cited so far, without evidence
}

// cite gives the mark of a source: its number, "from memory", and what stands behind this value.
func (p *printer) cite(s Source) string {
	evidence := s.Evidence
	s.Evidence = ""
	i := slices.Index(p.sources, s)
	if i < 0 {
		i = len(p.sources)
		p.sources = append(p.sources, s)
	}
	mark := "[" + strconv.Itoa(i+1)
	if s.Memory {
		mark += ", from memory"
	}
	if evidence != "" {
		mark += ": " + evidence
	}
	return mark + "]"
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, strings.TrimRight(format, " ")+"\n", args...)
	}
}

// wrapped writes text behind a head, continuing lines under its end.
func (p *printer) wrapped(head, text string) {
	const width = 100
	pad := strings.Repeat(" ", len([]rune(head)))
	line := head
	for i, word := range strings.Fields(text) {
		if i > 0 && len([]rune(line))+1+len([]rune(word)) > width {
			p.line("%s", line)
			line = pad + word
			continue
		}
		if i > 0 {
			line += " "
		}
		line += word
	}
	p.line("%s", line)
}

func (p *printer) classification(c Card) {
	p.line("Classification")
	if len(c.Groups) == 0 {
		p.line("  none held; that is not a statement that there is no hazard")
	}
	for _, g := range c.Groups {
		p.line("  %s", g.Title)
		for _, x := range g.Entries {
			p.wrapped("    ", x.text()+"  "+p.cite(x.Source)+p.detailCite(x))
		}
	}
	p.wrapped("  EU: ", c.EU)
	p.wrapped("  US: ", c.US)
	for _, k := range c.Cancer {
		p.line("  %s: %s  %s", k.Programme, k.Group, p.cite(k.Source))
	}
	p.line("")
}

func (p *printer) limits(c Card) {
	p.line("Workplace exposure limits")
	if len(c.Limits) == 0 {
		p.line("  none held; that is not a statement that there is none")
	}
	for _, g := range c.Limits {
		p.line("  %s", placeNames[g.Place])
		for _, l := range g.Limits {
			p.wrapped("    ", l.text()+"  "+p.cite(l.Source))
		}
	}
	p.line("")
}

func (p *printer) properties(c Card) {
	p.line("Physical data")
	var unknown []string
	for _, x := range c.Properties {
		if !x.Value.Known {
			unknown = append(unknown, x.Name)
			continue
		}
		p.wrapped("  ", x.Name+": "+strings.TrimSpace(x.Value.figure()+" "+x.Unit)+"  "+p.cite(x.Value.Source))
	}
	if len(unknown) > 0 {
		p.wrapped("  not held: ", strings.Join(unknown, ", "))
	}
	p.line("")
}

var placeNames = map[Jurisdiction]string{
	UnitedStates: "United States", California: "California", Ontario: "Ontario", EuropeanUnion: "European Union",
	UnitedKingdom: "United Kingdom", Germany: "Germany", OtherPlace: "Other",
}

func (v Value) figure() string {
	f := strconv.FormatFloat(v.V, 'g', 6, 64)
	if v.AtLeast {
		return "above " + f
	}
	return f
}

func (c Classification) text() string {
	if c.NotClassified {
		return "not classified (as typically stated)"
	}
	var out string
	if c.Hazard == ghs.NoHazard {
		out = string(c.Code)
	} else {
		out = strings.TrimSpace(strings.ReplaceAll(c.Hazard.String(), "_", " ") + " " + string(c.Code))
	}
	if c.Detail != "" {
		out += " (" + c.Detail + ")"
	}
	if t := NoteText(c.Note); t != "" {
		out += ", " + t
	}
	if c.OnlyByLimit {
		out += ", only through its specific limit"
	}
	var more []string
	for _, l := range c.Limits {
		more = append(more, l.Printed)
	}
	if c.MFactor > 0 {
		more = append(more, "M = "+strconv.FormatFloat(c.MFactor, 'g', -1, 64))
	}
	for _, a := range c.ATE {
		more = append(more, fmt.Sprintf("acute toxicity estimate, %s: %g %s", strings.ReplaceAll(routeName(a.Route), "dust", "dust or mist"), a.Value, a.Unit))
	}
	if len(more) > 0 {
		out += "; " + strings.Join(more, "; ")
	}
	return out
}

func (l Limit) text() string {
	var figures []string
	if l.PPM > 0 {
		figures = append(figures, fmt.Sprintf("%g ppm", l.PPM))
	}
	if l.MgM3 > 0 {
		f := fmt.Sprintf("%g mg/m³", l.MgM3)
		if l.Computed {
			f += " (computed at 25 °C)"
		}
		figures = append(figures, f)
	}
	kind := map[string]string{TWA: "8 h mean", STEL: "15 min mean", Ceiling: "ceiling"}[l.Kind]
	out := l.Authority + " " + kind + ": " + strings.Join(figures, " = ")
	if l.Basis != "" {
		out += ", " + l.Basis
	}
	if l.Skin {
		out += ", skin"
	}
	if l.Sensitiser {
		out += ", sensitiser"
	}
	if !l.Binding() {
		out += " (recommended or indicative)"
	}
	return out
}

func (p *printer) pressure(v CardPressure) {
	if !v.Pressure.Known {
		p.wrapped("  ", fmt.Sprintf("%g °C: unknown; %s", v.TempC, v.Pressure.Reason))
		return
	}
	kind := ""
	if v.Pressure.Estimate {
		kind = "estimate: "
	}
	p.wrapped("  ", fmt.Sprintf("%g °C: %s Pa, saturated air %s ppm  %s%s; %s  %s", v.TempC, threeFigures(v.Pressure.Pa), threeFigures(v.SaturatedPPM), kind,
		v.Pressure.Method, v.Pressure.Reason, p.cite(v.Pressure.Source)))
}

// threeFigures writes a number with three figures and, from 0.001 to 10 million, without a power of ten.
func threeFigures(v float64) string {
	if v != 0 && (math.Abs(v) < 1e-3 || math.Abs(v) >= 1e7) {
		return strconv.FormatFloat(v, 'g', 3, 64)
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 2, 64), 64)
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// detailCite marks the source of limits, M-factor and estimates where it is another than that of the class.
func (p *printer) detailCite(c Classification) string {
	if c.DetailSource.Text == "" || c.DetailSource.Text == c.Source.Text {
		return ""
	}
	return "; figures " + p.cite(c.DetailSource)
}

func synonymLine(list []Synonym) string {
	var out []string
	for _, n := range list {
		if n.Lang == "" {
			out = append(out, n.Text)
		} else {
			out = append(out, n.Text+" ("+string(n.Lang)+")")
		}
	}
	return strings.Join(out, "; ")
}

func orNotHeld(s string) string {
	if s == "" {
		return "not held"
	}
	return s
}

func nonEmpty(list ...string) []string {
	return slices.DeleteFunc(list, func(s string) bool { return s == "" })
}
