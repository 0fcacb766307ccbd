package protect

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

//go:embed data/*.csv
var data embed.FS

// Source is where a statement or figure was read. Memory marks what was recalled and not looked up; it must be shown.
type Source struct {
	Text   string `json:"text"`
	Memory bool   `json:"memory,omitempty"`
}

// String is the source as it is shown.
func (s Source) String() string {
	if s.Memory {
		return s.Text + " (from memory, check it)"
	}
	return s.Text
}

// Scheme is whose standards respirators and filters follow.
type Scheme string

// Schemes.
const (
	US Scheme = "US" // 29 CFR 1910.134, 42 CFR 84
	EN Scheme = "EN" // EN 529, EN 14387, EN 143 with the factors used in the United Kingdom
)

type respirator struct {
	Scheme    Scheme
	Device    string
	Facepiece string
	Factor    float64
	Air       string // filter, powered, supplied, self-contained
	Gas       bool
	Particles bool
	Tight     bool
	Condition string
	Source    Source
}

// name is the device in words.
func (r respirator) name() string {
	if r.Facepiece == "" {
		return r.Device
	}
	return r.Device + ", " + r.Facepiece
}

// lowParticleClass tells whether the device filters particles with class P1 only, which is not meant for liquid aerosols or
// for anything but coarse dust of low toxicity (public summaries of EN 143 and EN 149).
func (r respirator) lowParticleClass() bool {
	return strings.Contains(r.Device, "P1")
}

// forImmediateDanger tells whether the device may be worn where life is in immediate danger: self-contained, full facepiece,
// positive pressure (29 CFR 1910.134(d)(2)(i)(A), recalled).
func (r respirator) forImmediateDanger() bool {
	positive := strings.Contains(r.Device, "pressure-demand") || strings.Contains(r.Device, "positive-demand")
	return r.Air == "self-contained" && positive && strings.Contains(r.Facepiece, "full")
}

// supplied tells whether the device brings its own air.
func (r respirator) supplied() bool { return r.Air == "supplied" || r.Air == "self-contained" }

type filter struct {
	Scheme  Scheme
	Mark    string
	Kind    string
	Against string
	Number  float64
	Unit    string
	Colour  string
	Source  Source
}

type gloveRow struct {
	CAS, Chemical, Material string
	ThicknessMM             string
	MinMinutes, MaxMinutes  float64 // 0: not given
	Rating                  string
	Disposable              bool
	Test, Note              string
	Source                  Source
}

type carbonRow struct {
	CAS, Name       string
	RefractiveIndex float64
	Published       map[float64]float64 // ppm to minutes at 10 % breakthrough
	PublishedOnePct float64             // minutes at 1000 ppm, 1 % breakthrough
	Source          Source
}

// danger is a concentration that is immediately dangerous to life or health.
type danger struct {
	PPM    float64
	Source Source
}

type level struct {
	Standard, Level, Requirement string
	Value                        float64
	Unit                         string
	Source                       Source
}

type rule struct {
	Kind   Kind
	When   ghs.HazardSet
	What   string
	Why    string
	Codes  []ghs.Code
	Source Source
}

type tables struct {
	respirators []respirator
	filters     []filter
	gloves      []gloveRow
	carbon      map[string]carbonRow
	danger      map[string]danger
	levels      []level
	rules       []rule
}

var embedded = sync.OnceValue(func() *tables {
	t, err := load()
	if err != nil {
		panic("protect: embedded data: " + err.Error()) // a test reads every row
	}
	return t
})

// row gives cells by column name and keeps the first error.
type row struct {
	file  string
	line  int
	cells map[string]string
	err   *error
}

func (r row) text(name string) string {
	v, ok := r.cells[name]
	if !ok {
		r.fail("no column " + name)
	}
	return v
}

func (r row) fail(what string) {
	if *r.err == nil {
		*r.err = fmt.Errorf("%s line %d: %s", r.file, r.line, what)
	}
}

func (r row) number(name string) float64 {
	s := r.text(name)
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.fail(err.Error())
	}
	return v
}

func (r row) source() Source {
	s := Source{Text: r.text("source"), Memory: r.text("memory") == "yes"}
	if s.Text == "" {
		r.fail("no source")
	}
	return s
}

func eachRow(file string, do func(row)) error {
	f, err := data.Open("data/" + file)
	if err != nil {
		return err
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	var first error
	for i, cells := range all[1:] {
		r := row{file: file, line: i + 2, cells: map[string]string{}, err: &first}
		for c, name := range all[0] {
			r.cells[name] = cells[c]
		}
		do(r)
	}
	return first
}

func load() (*tables, error) {
	t := &tables{carbon: map[string]carbonRow{}, danger: map[string]danger{}}
	for _, step := range []func() error{t.loadRespirators, t.loadFilters, t.loadGloves, t.loadCarbon, t.loadDanger, t.loadLevels, t.loadRules} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func (t *tables) loadRespirators() error {
	return eachRow("respirators.csv", func(r row) {
		takes := r.text("takes")
		t.respirators = append(t.respirators, respirator{
			Scheme: Scheme(r.text("scheme")), Device: r.text("device"), Facepiece: r.text("facepiece"), Factor: r.number("apf"),
			Air: r.text("air"), Gas: strings.Contains(takes, "gas"), Particles: strings.Contains(takes, "particles"),
			Tight: r.text("tight") == "yes", Condition: r.text("condition"), Source: r.source(),
		})
	})
}

func (t *tables) loadFilters() error {
	return eachRow("filters.csv", func(r row) {
		t.filters = append(t.filters, filter{
			Scheme: Scheme(r.text("scheme")), Mark: r.text("mark"), Kind: r.text("kind"), Against: r.text("against"),
			Number: r.number("number"), Unit: r.text("unit"), Colour: r.text("colour"), Source: r.source(),
		})
	})
}

func (t *tables) loadGloves() error {
	return eachRow("gloves.csv", func(r row) {
		t.gloves = append(t.gloves, gloveRow{
			CAS: r.text("cas"), Chemical: r.text("chemical"), Material: r.text("material"), ThicknessMM: r.text("thickness_mm"),
			MinMinutes: r.number("min_minutes"), MaxMinutes: r.number("max_minutes"), Rating: r.text("rating"),
			Disposable: r.text("disposable") == "yes", Test: r.text("test"), Note: r.text("note"), Source: r.source(),
		})
	})
}

func (t *tables) loadCarbon() error {
	return eachRow("carbon.csv", func(r row) {
		c := carbonRow{CAS: r.text("cas"), Name: r.text("name"), RefractiveIndex: r.number("refractive_index"),
			Published: map[float64]float64{}, PublishedOnePct: r.number("min_1000_ppm_1pct"), Source: r.source()}
		for _, ppm := range []float64{50, 100, 200, 500, 1000} {
			c.Published[ppm] = r.number(fmt.Sprintf("min_%g_ppm", ppm))
		}
		t.carbon[c.CAS] = c
	})
}

func (t *tables) loadDanger() error {
	return eachRow("idlh.csv", func(r row) {
		t.danger[r.text("cas")] = danger{PPM: r.number("ppm"), Source: r.source()}
	})
}

func (t *tables) loadLevels() error {
	return eachRow("glove_levels.csv", func(r row) {
		if r.text("unit") == "" { // the letters of test chemicals have a word for a value
			return
		}
		t.levels = append(t.levels, level{Standard: r.text("standard"), Level: r.text("level"),
			Requirement: r.text("requirement"), Value: r.number("value"), Unit: r.text("unit"), Source: r.source()})
	})
}

// loadRules reads the measures that follow from hazards alone. "when" lists hazards by short name; a class name stands for
// all its categories, "any" for every hazard of the table.
func (t *tables) loadRules() error {
	return eachRow("rules.csv", func(r row) {
		x := rule{Kind: Kind(r.text("kind")), What: r.text("what"), Why: r.text("why"), Source: r.source()}
		for _, name := range strings.Split(r.text("when"), ";") {
			name = strings.TrimSpace(name)
			hs := hazardsNamed(name)
			if len(hs) == 0 {
				r.fail("no hazard named " + name)
			}
			for _, h := range hs {
				x.When.Add(h)
			}
		}
		for _, c := range strings.Fields(r.text("codes")) {
			code := ghs.Code(c)
			if !code.Known() {
				r.fail("no statement " + c)
			}
			x.Codes = append(x.Codes, code)
		}
		t.rules = append(t.rules, x)
	})
}

func hazardsNamed(name string) []ghs.Hazard {
	if name == "any" {
		return ghs.AllHazards()
	}
	for _, h := range ghs.AllHazards() {
		if h.String() == name {
			return []ghs.Hazard{h}
		}
	}
	for _, c := range ghs.AllClasses() {
		if c.Short() == name {
			return c.Hazards()
		}
	}
	return nil
}
