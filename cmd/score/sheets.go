package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"

	"sixteen/read"
	"sixteen/read/ocr"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

type sheetsCmd struct {
	Dir   string `arg:"" help:"Folder with NNN.pdf and, where there is one, the record NNN.json." type:"existingdir"`
	JSON  bool   `help:"Print the result as JSON."`
	List  bool   `help:"Print every disagreement: file, field, what was read, what the record says."`
	Only  string `help:"Read only the files whose name contains this text."`
	Kind  string `help:"Read only the files whose record is of this kind: text, scan or mixed."`
	NoOCR bool   `name:"no-ocr" help:"Leave pages that are pictures unread."`
	Field string `help:"With --list: only this field."`
}

// fieldScore counts the values of one field over all sheets.
type fieldScore struct {
	Field     string  `json:"field"`
	Right     int     `json:"right"`
	Extra     int     `json:"extra"`  // read, but not in the record
	Missed    int     `json:"missed"` // in the record, but not read
	Sheets    int     `json:"sheets"`
	Precision float64 `json:"precision"`
	Recall    float64 `json:"recall"`
	F1        float64 `json:"f1"`
}

func (f *fieldScore) finish() {
	ratio := func(a, b int) float64 {
		if b == 0 {
			return 1
		}
		return float64(a) / float64(b)
	}
	f.Precision, f.Recall = ratio(f.Right, f.Right+f.Extra), ratio(f.Right, f.Right+f.Missed)
	f.F1 = ratio(2*f.Right, 2*f.Right+f.Extra+f.Missed)
}

// disagreement is one value that was read differently from the record.
type disagreement struct {
	File  string `json:"file"`
	Field string `json:"field"`
	Read  string `json:"read"`
	Truth string `json:"truth"`
}

// coverage counts how many sheets without a record hold a value of a field.
type coverage struct {
	Field  string `json:"field"`
	Stated int    `json:"stated"`
	None   int    `json:"none"` // the sheet says that it has none, or no data
	Silent int    `json:"silent"`
}

// calibration compares the confidence of facts with how often they were right.
type calibration struct {
	From       float64 `json:"from"`
	Values     int     `json:"values"`
	Confidence float64 `json:"confidence"` // mean
	Right      float64 `json:"right"`      // share that agreed with the record
}

// sheetReport is what came of one folder.
type sheetReport struct {
	Dir           string         `json:"dir"`
	Files         int            `json:"files"`
	Read          int            `json:"read"`
	NotSheet      int            `json:"not_a_sheet"`
	Failed        int            `json:"failed"`
	Pages         int            `json:"pages"`
	Seconds       float64        `json:"seconds"`
	SlowestPageMS float64        `json:"slowest_page_ms"` // of the mean page of a file
	SlowestFile   string         `json:"slowest_file"`
	PeakMB        float64        `json:"peak_memory_mb"`
	Fields        []fieldScore   `json:"fields,omitempty"`
	Coverage      []coverage     `json:"coverage,omitempty"`
	Calibration   []calibration  `json:"calibration,omitempty"`
	Disagreements []disagreement `json:"disagreements,omitempty"`
	Problems      []string       `json:"problems,omitempty"` // files not read, and why
}

// Run reads the folder, compares with the records and prints the table.
func (c *sheetsCmd) Run(s *streams) error {
	paths, err := filepath.Glob(filepath.Join(c.Dir, "*.pdf"))
	if err != nil {
		return err
	}
	if len(paths) == 0 {
		return fmt.Errorf("%s holds no PDF: name a folder with NNN.pdf files", c.Dir)
	}
	sort.Strings(paths)
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{Progress: func(m string) { fmt.Fprintln(os.Stderr, m) }})
	if err != nil {
		return err
	}
	defer engine.Close()
	options := read.Options{PDF: engine}
	if !c.NoOCR {
		if recogniser, err := ocr.New(ctx); err != nil {
			fmt.Fprintln(os.Stderr, "score: pages that are pictures stay unread:", err)
		} else {
			options.Recogniser = recogniser
		}
	}
	board := newScoreboard(c)
	for _, p := range paths {
		if c.Only == "" || strings.Contains(filepath.Base(p), c.Only) {
			board.file(ctx, p, options)
		}
	}
	rep := board.report()
	rep.PeakMB = peakMemory()
	if c.JSON {
		enc := json.NewEncoder(s.out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", " ")
		return enc.Encode(rep)
	}
	rep.print(s.out)
	return nil
}

// scoreboard adds up what the files give.
type scoreboard struct {
	cmd     *sheetsCmd
	rep     sheetReport
	fields  map[string]*fieldScore
	order   []string
	cover   map[string]*coverage
	covers  []string
	buckets [5]struct {
		n, right int
		sum      float64
	}
}

func newScoreboard(c *sheetsCmd) *scoreboard {
	return &scoreboard{cmd: c, rep: sheetReport{Dir: filepath.Base(c.Dir)}, fields: map[string]*fieldScore{}, cover: map[string]*coverage{}}
}

// file reads one PDF and compares it with its record.
func (b *scoreboard) file(ctx context.Context, path string, options read.Options) {
	name := filepath.Base(path)
	record, bad := recordOf(path)
	if bad != nil {
		b.rep.Problems = append(b.rep.Problems, fmt.Sprintf("%s: the record cannot be used: %v", name, bad))
	}
	if kind, _ := text(record, "kind"); b.cmd.Kind != "" && kind != b.cmd.Kind {
		return
	}
	b.rep.Files++
	data, err := os.ReadFile(path)
	if err != nil {
		b.fail(name, err)
		return
	}
	start := time.Now()
	got, err := read.Document(ctx, name, data, options)
	took := time.Since(start)
	b.rep.Seconds += took.Seconds()
	switch {
	case errors.Is(err, read.ErrNotSheet):
		b.rep.NotSheet++
		b.rep.Problems = append(b.rep.Problems, fmt.Sprintf("%s: %v", name, err))
	case err != nil:
		b.fail(name, err)
	default:
		b.rep.Read++
		pages := len(got.Source.Pages)
		b.rep.Pages += pages
		if ms := took.Seconds() * 1000 / float64(max(1, pages)); ms > b.rep.SlowestPageMS {
			b.rep.SlowestPageMS, b.rep.SlowestFile = ms, name
		}
	}
	if got == nil {
		got = &sheet.Sheet{}
	}
	id := strings.TrimSuffix(name, ".pdf")
	if record == nil {
		if err == nil {
			b.covered(got)
		}
		return
	}
	parts, _ := record["parts"].([]any)
	if len(parts) == 0 {
		b.compare(id, got, record)
		return
	}
	for i, p := range parts {
		truth, _ := p.(map[string]any)
		part := &sheet.Sheet{}
		if i == 0 {
			part = got
		} else if i <= len(got.Parts) {
			part = got.Parts[i-1]
		}
		b.compare(fmt.Sprintf("%s/%d", id, i+1), part, truth)
	}
}

// recordOf reads the record beside a PDF; nil when there is none.
func recordOf(path string) (map[string]any, error) {
	raw, err := os.ReadFile(strings.TrimSuffix(path, ".pdf") + ".json")
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	var record map[string]any
	if err == nil {
		err = json.Unmarshal(raw, &record)
	}
	return record, err
}

func (b *scoreboard) fail(name string, err error) {
	b.rep.Failed++
	b.rep.Problems = append(b.rep.Problems, fmt.Sprintf("%s: %v", name, err))
}

func (b *scoreboard) field(name string) *fieldScore {
	f := b.fields[name]
	if f == nil {
		f = &fieldScore{Field: name}
		b.fields[name] = f
		b.order = append(b.order, name)
	}
	return f
}

// value is one value read, with the confidence of its fact.
type value struct {
	text       string
	confidence float64
}

// sets compares two multisets of values.
func (b *scoreboard) sets(id, field string, got []value, truth []string, ignore ...string) {
	f := b.field(field)
	f.Sheets++
	left := map[string]int{}
	for _, t := range truth {
		left[t]++
	}
	free := map[string]bool{}
	for _, t := range ignore {
		free[t] = true
	}
	for _, g := range got {
		switch {
		case left[g.text] > 0:
			left[g.text]--
			f.Right++
			b.calibrate(g.confidence, true)
		case free[g.text]:
		default:
			f.Extra++
			b.calibrate(g.confidence, false)
			b.differ(id, field, g.text, "")
		}
	}
	for _, t := range truth {
		if left[t] > 0 {
			left[t]--
			f.Missed++
			b.differ(id, field, "", t)
		}
	}
}

func (b *scoreboard) differ(id, field, got, truth string) {
	b.rep.Disagreements = append(b.rep.Disagreements, disagreement{id, field, got, truth})
}

func (b *scoreboard) calibrate(confidence float64, right bool) {
	i := 4
	for k, least := range []float64{0.97, 0.93, 0.85, 0.7} {
		if confidence >= least {
			i = k
			break
		}
	}
	b.buckets[i].n++
	b.buckets[i].sum += confidence
	if right {
		b.buckets[i].right++
	}
}

// covered counts the facts of a sheet without a record.
func (b *scoreboard) covered(s *sheet.Sheet) {
	for _, x := range coverageOf(s) {
		c := b.cover[x.name]
		if c == nil {
			c = &coverage{Field: x.name}
			b.cover[x.name] = c
			b.covers = append(b.covers, x.name)
		}
		switch x.state {
		case sheet.Stated:
			c.Stated++
		case sheet.NotStated:
			c.Silent++
		default:
			c.None++
		}
	}
}

func (b *scoreboard) report() *sheetReport {
	for _, n := range b.order {
		f := b.fields[n]
		f.finish()
		b.rep.Fields = append(b.rep.Fields, *f)
	}
	for _, n := range b.covers {
		b.rep.Coverage = append(b.rep.Coverage, *b.cover[n])
	}
	for i, least := range []float64{0.97, 0.93, 0.85, 0.7, 0} {
		if x := b.buckets[i]; x.n > 0 {
			b.rep.Calibration = append(b.rep.Calibration, calibration{least, x.n, x.sum / float64(x.n), float64(x.right) / float64(x.n)})
		}
	}
	if !b.cmd.List && !b.cmd.JSON {
		b.rep.Disagreements = nil
	}
	if b.cmd.Field != "" {
		var keep []disagreement
		for _, d := range b.rep.Disagreements {
			if d.Field == b.cmd.Field {
				keep = append(keep, d)
			}
		}
		b.rep.Disagreements = keep
	}
	return &b.rep
}

func (r *sheetReport) print(w io.Writer) {
	for _, d := range r.Disagreements {
		fmt.Fprintf(w, "%s\t%s\tread %q\trecord %q\n", d.File, d.Field, d.Read, d.Truth)
	}
	for _, p := range r.Problems {
		fmt.Fprintln(w, p)
	}
	if len(r.Fields) > 0 {
		fmt.Fprintf(w, "%-22s %9s %7s %6s %6s %6s %6s %7s\n", "field", "precision", "recall", "F1", "right", "extra", "missed", "sheets")
		for _, f := range r.Fields {
			fmt.Fprintf(w, "%-22s %9.3f %7.3f %6.3f %6d %6d %6d %7d\n", f.Field, f.Precision, f.Recall, f.F1, f.Right, f.Extra, f.Missed, f.Sheets)
		}
	}
	if len(r.Coverage) > 0 {
		fmt.Fprintf(w, "%-22s %7s %7s %7s\n", "field (no record)", "stated", "none", "silent")
		for _, c := range r.Coverage {
			fmt.Fprintf(w, "%-22s %7d %7d %7d\n", c.Field, c.Stated, c.None, c.Silent)
		}
	}
	if len(r.Calibration) > 0 {
		fmt.Fprintf(w, "%-22s %7s %11s %7s\n", "confidence from", "values", "mean", "right")
		for _, c := range r.Calibration {
			fmt.Fprintf(w, "%-22.2f %7d %11.3f %7.3f\n", c.From, c.Values, c.Confidence, c.Right)
		}
	}
	fmt.Fprintf(w, "%d files: %d read, %d not a sheet, %d failed; %d pages in %.1f s; slowest %.0f ms a page (%s); peak memory %.0f MB\n",
		r.Files, r.Read, r.NotSheet, r.Failed, r.Pages, r.Seconds, r.SlowestPageMS, r.SlowestFile, r.PeakMB)
}

// peakMemory is the greatest memory the process has held, in MB, 0 where the system does not tell.
func peakMemory() float64 {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for _, line := range strings.Split(string(data), "\n") {
		var kb float64
		if n, _ := fmt.Sscanf(line, "VmHWM: %f kB", &kb); n == 1 {
			return kb / 1024
		}
	}
	return 0
}
