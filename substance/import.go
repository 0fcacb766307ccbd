package substance

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
)

// Action is what an import would do with one row of the table.
type Action string

// Actions. Missing marks an official entry held for a substance that a complete table does not name.
const (
	Added   Action = "added"
	Changed Action = "changed"
	Same    Action = "same"
	Ignored Action = "ignored"
	Missing Action = "missing"
)

// RowReport is one line of the report of an import. Line is the line of the file, 0 for Missing. Reason says why a row
// is ignored or what is doubtful about it; Before and After say the entry in words.
type RowReport struct {
	Line   int      `json:"line,omitempty"`
	CAS    string   `json:"cas,omitempty"`
	EC     string   `json:"ec,omitempty"`
	Name   string   `json:"name"`
	Action Action   `json:"action"`
	Reason string   `json:"reason,omitempty"`
	Before []string `json:"before,omitempty"`
	After  []string `json:"after,omitempty"`
}

// Plan is an import that has been worked out and not yet done: the report of every row, and the layer that would be laid
// over the table.
type Plan struct {
	Mapping Mapping        `json:"mapping"`
	Rows    []RowReport    `json:"rows"`
	Counts  map[Action]int `json:"counts"`
	Layer   Layer          `json:"layer"`
}

// Import reads a user's copy of an official table and works out what it would change in t. Nothing is changed: the plan
// is applied with Overlay.Apply and taken back with Overlay.Undo. A mapping with no Columns is completed by GuessMapping;
// Kind, Edition, RuleSets and Authority must be given, since no header states them.
func (t *Table) Import(r io.Reader, m Mapping) (Plan, error) {
	g, err := ReadGrid(r, m.Sheet)
	if err != nil {
		return Plan{}, err
	}
	return t.PlanImport(g, m)
}

// PlanImport is Import for a table already read.
func (t *Table) PlanImport(g Grid, m Mapping) (Plan, error) {
	if len(m.Columns) == 0 {
		guess, err := GuessMapping(g)
		if err != nil {
			return Plan{}, err
		}
		if m.Kind != "" && m.Kind != guess.Kind {
			return Plan{}, fmt.Errorf("the header is that of a %s table, not of a %s table; give the columns by hand if that is wrong", guess.Kind, m.Kind)
		}
		m.Kind, m.Columns, m.FirstLine = guess.Kind, guess.Columns, guess.FirstLine
	}
	if err := m.check(); err != nil {
		return Plan{Mapping: m}, err
	}
	p := planner{table: t, m: m, seen: map[string]int{}, plan: Plan{Mapping: m, Counts: map[Action]int{}}}
	p.source = Source{Text: m.Edition + " (imported)"}
	p.plan.Layer = Layer{Kind: m.Kind, Edition: m.Edition, RuleSets: m.RuleSets, Authority: m.Authority, Complete: m.Complete}
	for i, row := range g.Rows {
		if g.Lines[i] >= m.FirstLine {
			p.row(g.Lines[i], row)
		}
	}
	p.missing()
	return p.plan, nil
}

type planner struct {
	table  *Table
	m      Mapping
	source Source
	seen   map[string]int // key → line
	plan   Plan
}

func (p *planner) cell(row []string, f Field) string {
	if i, ok := p.m.Columns[f]; ok && i >= 0 && i < len(row) {
		return row[i]
	}
	return ""
}

func (p *planner) report(r RowReport) {
	p.plan.Rows = append(p.plan.Rows, r)
	p.plan.Counts[r.Action]++
}

var (
	casInText = regexp.MustCompile(`\d{2,7}\s?[-–—‑]\s?\d{2}\s?[-–—‑]\s?\d(?:\D|$)`)
	ecInText  = regexp.MustCompile(`\b\d{3}\s?[-–—‑]\s?\d{3}\s?[-–—‑]\s?\d(?:\D|$)`)
)

// numbersIn lists the numbers in a cell, which may hold several ("95-47-6 [1] 106-42-3 [2]"). bad holds what looks like
// a number and has a wrong check digit.
func numbersIn(cell string, pattern *regexp.Regexp, normalise func(string) (string, bool), valid func(string) bool) (good, bad []string) {
	found := pattern.FindAllString(cell, -1)
	if len(found) == 0 && strings.TrimSpace(cell) != "" {
		found = []string{cell}
	}
	for _, f := range found {
		n, ok := normalise(strings.TrimRight(f, " [(/,;\n\t*"))
		switch {
		case ok && valid(n):
			if !slices.Contains(good, n) {
				good = append(good, n)
			}
		case ok:
			bad = append(bad, n)
		}
	}
	return good, bad
}

// row works out one row: one entry for every substance it names.
func (p *planner) row(line int, row []string) {
	name := oneLine(p.cell(row, FieldName))
	cas, badCAS := numbersIn(p.cell(row, FieldCAS), casInText, NormaliseCAS, ValidCAS)
	ec, badEC := numbersIn(p.cell(row, FieldEC), ecInText, NormaliseEC, ValidEC)
	ignore := func(reason string) {
		p.report(RowReport{Line: line, CAS: strings.Join(append(cas, badCAS...), ", "), EC: strings.Join(append(ec, badEC...), ", "), Name: name, Action: Ignored, Reason: reason})
	}
	if len(badCAS) > 0 {
		ignore(p.wrongDigit(badCAS[0]))
		return
	}
	if len(cas) == 0 && len(ec) == 0 {
		if len(badEC) > 0 {
			ignore("EC number " + badEC[0] + " has a wrong check digit and no CAS number stands beside it")
			return
		}
		ignore("no CAS or EC number: a heading, or a group entry that must be looked up by its name")
		return
	}
	for i := range max(len(cas), 1) {
		e := Entry{Line: line, Index: oneLine(p.cell(row, FieldIndex)), Name: name}
		if i < len(cas) {
			e.CAS = cas[i]
		}
		if len(ec) == len(cas) || (len(cas) == 0 && len(ec) > 0) || (len(ec) == 1 && len(cas) == 1) {
			e.EC = ec[i]
		}
		p.entry(e, row)
	}
}

func (p *planner) wrongDigit(cas string) string {
	reason := "CAS number " + cas + " has a wrong check digit"
	if near := p.table.RepairCAS(cas); len(near) > 0 {
		reason += "; perhaps " + near[0].CAS + " (" + near[0].Name + ")"
	}
	return reason
}

// entry reads the values of one substance and reports what they change.
func (p *planner) entry(e Entry, row []string) {
	held := p.find(e)
	var reason string
	switch p.m.Kind {
	case ClassificationTable:
		e.Classifications, reason = p.classifications(held, row)
		if len(e.Classifications) == 0 && reason == "" {
			reason = "the row states no hazard class"
		}
	case LimitTable:
		e.Limits, reason = p.limits(row)
		if len(e.Limits) == 0 && reason == "" {
			reason = "the row states no limit value"
		}
	}
	rep := RowReport{Line: e.Line, CAS: e.CAS, EC: e.EC, Name: e.Name, Reason: reason}
	k := e.key()
	if first, twice := p.seen[k]; twice {
		rep.Action, rep.Reason = Ignored, fmt.Sprintf("the substance already stands in row %d; the first row is kept", first)
		p.report(rep)
		return
	}
	if len(e.Classifications)+len(e.Limits) == 0 {
		rep.Action = Ignored
		p.report(rep)
		return
	}
	p.seen[k] = e.Line
	if held != nil {
		p.seen["cas "+held.CAS] = e.Line
		rep.Before = p.official(held)
	}
	rep.After = entryWords(e.Classifications, e.Limits)
	switch {
	case len(rep.Before) == 0:
		rep.Action = Added
	case slices.Equal(sorted(rep.Before), sorted(rep.After)):
		rep.Action = Same
	default:
		rep.Action = Changed
	}
	p.report(rep)
	p.plan.Layer.Entries = append(p.plan.Layer.Entries, e)
}

func (p *planner) find(e Entry) *Substance {
	if e.CAS != "" {
		s, _ := p.table.ByCAS(e.CAS)
		return s
	}
	s, _ := p.table.ByEC(e.EC)
	return s
}

// official says in words what the table holds now that the import would replace.
func (p *planner) official(s *Substance) []string {
	if p.m.Kind == LimitTable {
		var own []Limit
		for _, l := range s.Limits {
			if l.Authority == p.m.Authority {
				own = append(own, l)
			}
		}
		return entryWords(nil, own)
	}
	for _, a := range []Authority{Imported, Harmonised} {
		if own := s.by(a, p.m.RuleSets[0]); len(own) > 0 {
			return entryWords(own, nil)
		}
	}
	return nil
}

// entryWords says an entry in words that are equal when the entries mean the same.
func entryWords(cs []Classification, ls []Limit) []string {
	var out []string
	for _, c := range cs {
		c.Detail = ""
		out = append(out, c.meaning())
	}
	for _, l := range ls {
		l.Computed, l.Basis = false, ""
		out = append(out, strings.TrimPrefix(l.text(), l.Authority+" "))
	}
	return out
}

// meaning is a classification in words without source and layout: limits by their numbers.
func (c Classification) meaning() string {
	for i := range c.Limits {
		l := c.Limits[i]
		c.Limits = slices.Clone(c.Limits)
		c.Limits[i].Printed = l.words()
	}
	c.OnlyByLimit = false
	return c.text()
}

// words is a specific limit in one layout.
func (l SpecificLimit) words() string {
	low, high := "", ""
	if l.From > 0 {
		low = fmt.Sprintf("%g %% ≤ ", l.From)
		if l.FromOpen {
			low = fmt.Sprintf("%g %% < ", l.From)
		}
	}
	if l.To < 100 {
		high = fmt.Sprintf(" ≤ %g %%", l.To)
		if l.ToOpen {
			high = fmt.Sprintf(" < %g %%", l.To)
		}
	}
	return l.Hazard.String() + ": " + low + "C" + high
}

func sorted(s []string) []string { return slices.Sorted(slices.Values(s)) }

// missing reports the official entries held that a complete table does not name.
func (p *planner) missing() {
	if !p.m.Complete {
		return
	}
	for _, s := range p.table.All() {
		if _, ok := p.seen["cas "+s.CAS]; ok {
			continue
		}
		if before := p.official(s); len(before) > 0 {
			p.report(RowReport{CAS: s.CAS, EC: s.EC, Name: s.Name, Action: Missing, Before: before,
				Reason: "held as official, but the table does not name the substance; the entry would no longer count as official"})
		}
	}
}

// classifications reads classes, codes, supplemental codes and details of a row.
func (p *planner) classifications(held *Substance, row []string) ([]Classification, string) {
	form := func(category string) ghs.Qualifier { return inhalationForm(held, category) }
	d := ParseDetails(p.cell(row, FieldDetails), form)
	entries, unread := readClasses(p.cell(row, FieldClass), p.cell(row, FieldCode), d.inhaled(form))
	for _, h := range ghs.ParseCodes(p.cell(row, FieldSupplement)) {
		entries = append(entries, Classification{Code: h.Code})
	}
	for i := range entries {
		c := &entries[i]
		c.Authority, c.RuleSets, c.Source = Imported, p.m.RuleSets, p.source
		d.attach(c)
		c.Note = conditionalNote(p.cell(row, FieldNotes), c.Hazard)
		if len(c.Limits)+len(c.ATE) > 0 || c.MFactor > 0 {
			c.DetailSource = p.source
		}
	}
	for _, l := range d.Limits {
		if !l.placed(entries) { // a class that applies only through its limit
			entries = append(entries, Classification{Authority: Imported, RuleSets: p.m.RuleSets, Source: p.source, DetailSource: p.source,
				Hazard: l.Hazard, Code: codeOf(l.Hazard), OnlyByLimit: true, Limits: []SpecificLimit{l}})
		}
	}
	unread = append(unread, d.Unread...)
	if len(unread) > 0 {
		return entries, fmt.Sprintf("could not read: %s", strings.Join(unread, " | "))
	}
	return entries, ""
}

// conditionalNote is the letter of a note that makes a carcinogen or mutagen class depend on a constituent, empty when
// the cell has none.
func conditionalNote(cell string, h ghs.Hazard) string {
	if h.Class() != ghs.Carcinogenicity && h.Class() != ghs.GermCellMutagenicity {
		return ""
	}
	for _, letter := range strings.FieldsFunc(cell, func(r rune) bool { return !('A' <= r && r <= 'Z') }) {
		if NoteText(letter) != "" {
			return letter
		}
	}
	return ""
}

// inhaled gives the form of inhalation that an estimate of the row states, else the one that form gives.
func (d Details) inhaled(form func(string) ghs.Qualifier) func(string) ghs.Qualifier {
	for _, a := range d.ATE {
		switch a.Route {
		case ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust:
			return func(string) ghs.Qualifier { return a.Route }
		}
	}
	return form
}

// attach gives a classification the limits, M-factor and estimate that speak of it.
func (d Details) attach(c *Classification) {
	if c.Hazard == ghs.NoHazard {
		return
	}
	for _, l := range d.Limits {
		if l.Hazard == c.Hazard {
			c.Limits = append(c.Limits, l)
		}
	}
	switch c.Hazard {
	case ghs.AquaticAcute1:
		c.MFactor = d.MAcute
	case ghs.AquaticChronic1:
		c.MFactor = d.MChronic
	}
	for _, a := range d.ATE {
		if c.Hazard.Class() == ghs.AcuteToxicity && c.Hazard.Qualifier() == a.Route {
			c.ATE = append(c.ATE, a)
		}
	}
}

func (l SpecificLimit) placed(entries []Classification) bool {
	return slices.ContainsFunc(entries, func(c Classification) bool { return c.Hazard == l.Hazard })
}

// inhalationForm is the form in which a substance is breathed in when an entry does not state it: gas when it boils
// below 20 °C, vapour when air saturated at 20 °C reaches the lower end of the category for vapours (0.05, 0.5, 2 and
// 10 mg/l for categories 1 to 4; 29 CFR 1910.1200 Table A.1.1, the first being that for dusts and mists), else dust or mist.
func inhalationForm(s *Substance, category string) ghs.Qualifier {
	switch {
	case s == nil:
		return ghs.InhalationDust
	case s.BoilingPointC.Known && s.BoilingPointC.V < 20:
		return ghs.InhalationGas
	}
	band, ok := map[string]float64{"1": 0.05, "2": 0.5, "3": 2, "4": 10}[category]
	if ok && s.VapourPressurePa.Known && s.MolarMassGMol.Known {
		if mgPerLitre := s.VapourPressurePa.V * s.MolarMassGMol.V / (gasConstant * (20 + zeroC)); mgPerLitre >= band {
			return ghs.InhalationVapour
		}
	}
	return ghs.InhalationDust
}

// limits reads the limit values of a row.
func (p *planner) limits(row []string) ([]Limit, string) {
	var out []Limit
	var unread []string
	notation := strings.ToLower(p.cell(row, FieldNotation))
	skin := slices.ContainsFunc([]string{"skin", "sk", "haut", "peau", "piel", "cutan"}, func(w string) bool { return strings.Contains(notation, w) }) ||
		notation == "h" || notation == "x" || notation == "d"
	sens := strings.Contains(notation, "sen")
	for _, f := range limitFields {
		text := p.cell(row, f.field)
		v, ceiling, ok := limitValue(text)
		if !ok {
			if text != "" {
				unread = append(unread, string(f.field)+" "+text)
			}
			continue
		}
		if v == 0 {
			continue
		}
		kind := f.kind
		if ceiling {
			kind = Ceiling
		}
		i := slices.IndexFunc(out, func(l Limit) bool { return l.Kind == kind })
		if i < 0 {
			i = len(out)
			out = append(out, Limit{Authority: p.m.Authority, Kind: kind, Skin: skin, Sensitiser: sens, Source: p.source})
		}
		if f.ppm {
			out[i].PPM = v
		} else {
			out[i].MgM3 = v
		}
	}
	if len(unread) > 0 {
		return out, "could not read: " + strings.Join(unread, " | ")
	}
	return out, ""
}

var limitNumber = regexp.MustCompile(`^(\(?\s*[Cc]\s*\)?\s*)?(\d{1,3}(?:[  ]\d{3})+|\d+)([.,]\d+)?\s*(?:ppm|mg/m3|mg/m³|ml/m3|ml/m³)?\s*(?:\(.*\))?$`)

// limitValue reads a figure: "(C)10", "0,5", "1 000", "-" for none. ok is false when the text is no figure.
func limitValue(s string) (v float64, ceiling, ok bool) {
	s = strings.TrimSpace(strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s))
	if s == "" || strings.Trim(s, "-–—. ") == "" {
		return 0, false, s != ""
	}
	m := limitNumber.FindStringSubmatch(s)
	if m == nil {
		return 0, false, false
	}
	v, err := decimal(strings.NewReplacer(" ", "").Replace(m[2]) + m[3])
	return v, m[1] != "", err == nil
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
