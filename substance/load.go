package substance

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

//go:embed data/*.csv
var data embed.FS

// Embedded is the table that comes with the program. It is parsed once.
func Embedded() *Table { return embedded() }

var embedded = sync.OnceValue(func() *Table {
	t, err := load()
	if err != nil {
		panic("substance: embedded data: " + err.Error()) // a test reads every row
	}
	return t
})

// record gives one row by column name.
type record struct {
	file   string
	line   int
	column map[string]int
	cells  []string
}

func (r record) get(name string) string {
	i, ok := r.column[name]
	if !ok {
		panic("substance: " + r.file + " has no column " + name)
	}
	return r.cells[i]
}

func (r record) yes(name string) bool { return r.get(name) == "yes" }

// number reads a figure; empty is zero.
func (r record) number(name string) (float64, error) {
	if r.get(name) == "" {
		return 0, nil
	}
	return strconv.ParseFloat(r.get(name), 64)
}

// eachRow reads an embedded file and calls do for every row.
func eachRow(name string, do func(record) error) error {
	f, err := data.Open("data/" + name)
	if err != nil {
		return err
	}
	c := csv.NewReader(f)
	c.ReuseRecord = true
	head, err := c.Read()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	r := record{file: name, line: 1, column: map[string]int{}}
	for i, h := range head {
		r.column[strings.Clone(h)] = i
	}
	for {
		if r.cells, err = c.Read(); err == io.EOF {
			return nil
		}
		r.line++
		if err == nil {
			err = do(r)
		}
		if err != nil {
			return fmt.Errorf("%s, row %d: %w", name, r.line, err)
		}
	}
}

// loader builds a table row by row.
type loader struct {
	sources map[string]Source
	byCAS   map[string]*Substance
	all     []*Substance
	hazards map[string]ghs.Hazard // names met so far
}

func load() (*Table, error) {
	l := loader{sources: map[string]Source{}, byCAS: map[string]*Substance{}, hazards: map[string]ghs.Hazard{}}
	for _, step := range []struct {
		file string
		row  func(record) error
	}{
		{"sources.csv", l.source}, {"substances.csv", l.substance}, {"synonyms.csv", l.synonym}, {"physical.csv", l.physical},
		{"antoine.csv", l.antoine}, {"classifications.csv", l.classification}, {"limits.csv", l.limit},
	} {
		if err := eachRow(step.file, step.row); err != nil {
			return nil, err
		}
	}
	return newTable(l.all), nil
}

func (l *loader) source(r record) error {
	id := r.get("id")
	if _, twice := l.sources[id]; twice || id == "" {
		return fmt.Errorf("source %q is empty or stands twice", id)
	}
	l.sources[id] = Source{ID: id, Text: r.get("text"), Memory: r.yes("memory"), CheckAt: r.get("check_at")}
	return nil
}

func (l *loader) sourceOf(id string) (Source, error) {
	s, ok := l.sources[id]
	if !ok {
		return s, fmt.Errorf("source %q is not in sources.csv", id)
	}
	return s, nil
}

func (l *loader) of(r record) (*Substance, error) {
	s, ok := l.byCAS[r.get("cas")]
	if !ok {
		return nil, fmt.Errorf("CAS %q is not in substances.csv", r.get("cas"))
	}
	return s, nil
}

func (l *loader) substance(r record) error {
	s := &Substance{CAS: r.get("cas"), EC: r.get("ec"), Name: r.get("name"), Family: r.get("family"), Formula: r.get("formula")}
	if !ValidCAS(s.CAS) || l.byCAS[s.CAS] != nil {
		return fmt.Errorf("CAS %q is not valid or stands twice", s.CAS)
	}
	if s.EC != "" {
		src, err := l.sourceOf(r.get("ec_source"))
		if err != nil || !ValidEC(s.EC) {
			return fmt.Errorf("EC %q is not valid or has no source: %w", s.EC, err)
		}
		s.ECSource = src
	}
	l.byCAS[s.CAS] = s
	l.all = append(l.all, s)
	return nil
}

func (l *loader) synonym(r record) error {
	s, err := l.of(r)
	if err != nil {
		return err
	}
	for _, text := range strings.Split(r.get("names"), "|") {
		s.Synonyms = append(s.Synonyms, Synonym{Text: text, Lang: ghs.Lang(r.get("lang"))})
	}
	return nil
}

func (l *loader) physical(r record) error {
	s, err := l.of(r)
	if err != nil {
		return err
	}
	src, err := l.sourceOf(r.get("source"))
	if err != nil {
		return err
	}
	switch r.get("property") {
	case "iarc":
		s.IARC, s.IARCSource = r.get("value"), src
		return nil
	case "ntp":
		s.NTP, s.NTPSource = r.get("value"), src
		return nil
	}
	v := s.property(r.get("property"))
	if v == nil || v.Known {
		return fmt.Errorf("property %q is unknown or stands twice", r.get("property"))
	}
	figure, atLeast := strings.CutPrefix(r.get("value"), ">")
	n, err := strconv.ParseFloat(figure, 64)
	*v = Value{Known: true, V: n, AtLeast: atLeast, Source: src}
	return err
}

func (l *loader) antoine(r record) error {
	s, err := l.of(r)
	if err != nil {
		return err
	}
	a := Antoine{}
	for name, p := range map[string]*float64{"a": &a.A, "b": &a.B, "c": &a.C, "tmin_k": &a.TminK, "tmax_k": &a.TmaxK} {
		if *p, err = strconv.ParseFloat(r.get(name), 64); err != nil {
			return err
		}
	}
	a.Source, err = l.sourceOf(r.get("source"))
	s.Antoine = &a
	return err
}

func (l *loader) classification(r record) error {
	s, err := l.of(r)
	if err != nil {
		return err
	}
	c := Classification{Authority: Authority(r.get("authority")), Code: ghs.Code(r.get("code")), Detail: r.get("detail"), Note: r.get("note"),
		OnlyByLimit: r.yes("only_by_limit"), Check: r.get("check")}
	if !slices.Contains([]Authority{Harmonised, Notified, Supplier, Derived}, c.Authority) {
		return fmt.Errorf("authority %q", c.Authority)
	}
	switch name := r.get("hazard"); name {
	case "":
	case "not classified":
		c.NotClassified = true
	default:
		if c.Hazard, err = l.hazard(name); err != nil {
			return err
		}
	}
	if c.Limits, err = parseLimits(r.get("specific_limits"), l.hazard); err != nil {
		return err
	}
	if c.MFactor, err = r.number("m_factor"); err != nil {
		return err
	}
	if c.ATE, err = parseATEs(r.get("ate")); err != nil {
		return err
	}
	if id := r.get("detail_source"); id != "" {
		if c.DetailSource, err = l.sourceOf(id); err != nil {
			return err
		}
	}
	if c.Source, err = l.sourceOf(r.get("source")); err != nil {
		return err
	}
	c.Source.Evidence = r.get("evidence")
	s.Classifications = append(s.Classifications, c)
	return nil
}

func (l *loader) limit(r record) error {
	s, err := l.of(r)
	if err != nil {
		return err
	}
	x := Limit{Authority: r.get("authority"), Kind: r.get("kind"), Skin: r.yes("skin"), Sensitiser: r.yes("sensitiser"),
		Basis: r.get("basis"), Computed: r.yes("mg_computed"), Check: r.get("check")}
	if x.PPM, err = r.number("ppm"); err != nil {
		return err
	}
	if x.MgM3, err = r.number("mg_m3"); err != nil {
		return err
	}
	if !slices.Contains([]string{TWA, STEL, Ceiling}, x.Kind) || (x.PPM == 0 && x.MgM3 == 0) {
		return fmt.Errorf("limit of kind %q without a figure or of unknown kind", x.Kind)
	}
	if x.Source, err = l.sourceOf(r.get("source")); err != nil {
		return err
	}
	x.Source.Evidence = r.get("evidence")
	s.Limits = append(s.Limits, x)
	return nil
}

// parseATEs reads "oral 500 mg/kg; inhalation vapour 11 mg/l".
func parseATEs(s string) ([]ATE, error) {
	var out []ATE
	for _, part := range strings.Split(s, ";") {
		f := strings.Fields(part)
		if len(f) == 0 {
			continue
		}
		if len(f) < 3 {
			return nil, fmt.Errorf("acute toxicity estimate %q: want route, figure, unit", part)
		}
		n, err := strconv.ParseFloat(f[len(f)-2], 64)
		if err != nil || n <= 0 {
			return nil, fmt.Errorf("acute toxicity estimate %q: no figure above zero", part)
		}
		route, ok := routes[strings.Join(f[:len(f)-2], " ")]
		if !ok {
			return nil, fmt.Errorf("acute toxicity estimate %q: unknown route", part)
		}
		out = append(out, ATE{Route: route, Value: n, Unit: f[len(f)-1]})
	}
	return out, nil
}

var routes = map[string]ghs.Qualifier{
	"oral": ghs.Oral, "dermal": ghs.Dermal, "inhalation gas": ghs.InhalationGas, "inhalation vapour": ghs.InhalationVapour,
	"inhalation dust": ghs.InhalationDust,
}

func routeName(q ghs.Qualifier) string {
	for name, r := range routes {
		if r == q {
			return name
		}
	}
	return "unknown route"
}

// hazard reads a hazard name, each once.
func (l *loader) hazard(name string) (ghs.Hazard, error) {
	if h, ok := l.hazards[name]; ok {
		return h, nil
	}
	h, err := parseHazard(name)
	if err == nil {
		l.hazards[strings.Clone(name)] = h
	}
	return h, err
}

func parseHazard(name string) (ghs.Hazard, error) {
	h, ok := ghs.ParseHazard(name)
	if !ok {
		return h, fmt.Errorf("hazard %q names no single hazard of the standard", name)
	}
	return h, nil
}
