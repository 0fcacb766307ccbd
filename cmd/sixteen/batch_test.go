package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"

	"sixteen/demo"
)

// badDocuments puts documents that cannot be read into a folder, and tells how many files are not sheets, fail, and are
// passed over.
func badDocuments(t *testing.T, dir string) (letters, failing, passed int) {
	t.Helper()
	letter := strings.Repeat("Dear members, the slipway will be closed on Tuesday for painting. ", 20)
	good := textPDF(t, 1, letter, nil)
	huge := textPDF(t, 1, letter, func(d *fpdf.Fpdf) {
		d.AddPageFormat("P", fpdf.SizeType{Wd: 60000, Ht: 60000})
	})
	for name, data := range map[string][]byte{
		"b-letter.pdf":       good,
		"b-damaged.pdf":      good[:len(good)/3],
		"b-locked.pdf":       textPDF(t, 1, letter, func(d *fpdf.Fpdf) { d.SetProtection(0, "open sesame", "owner") }),
		"b-empty.pdf":        {},
		"b-picture.pdf":      append([]byte{0x89, 'P', 'N', 'G', 0, 1, 2, 3}, make([]byte, 5000)...),
		"b-wide.pdf":         huge,
		"b-archive.docx":     []byte("PK\x03\x04 nothing else"),
		"below/b-letter.pdf": good,
		"b-notes.xlsx":       []byte("PK\x03\x04"),
		".hidden.pdf":        good,
	} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return 3, 5, 1 // the wide page stands beside one with the letter
}

// sheetsIn writes n generated sheets without their records.
func sheetsIn(t *testing.T, dir string, n int) {
	t.Helper()
	if err := demo.WriteGenerated(dir, demo.Generated{N: n, Seed: 3}); err != nil {
		t.Fatal(err)
	}
	records, err := filepath.Glob(filepath.Join(dir, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records {
		if err := os.Remove(r); err != nil {
			t.Fatal(err)
		}
	}
}

// A folder of sheets, letters and broken files is read to its end; every document has one line of summary, one file and
// one row, with the reason where it failed.
func TestFolderGoesOnAfterAnyFailure(t *testing.T) {
	dir, out := t.TempDir(), filepath.Join(t.TempDir(), "results")
	n := 24
	sheetsIn(t, dir, n)
	letters, failing, passed := badDocuments(t, dir)
	status, text, errText := runCommand(t, "check", "--out", out, "--json", dir)
	if status != exitFailed {
		t.Errorf("status %d, want %d: some documents failed", status, exitFailed)
	}
	want := fmt.Sprintf("%d documents: %d read, %d not a sheet, %d failed", n+letters+failing, n, letters, failing)
	for _, w := range []string{want, fmt.Sprintf("%d files with other endings", passed), "password", "contradictions,", "below/b-letter.pdf", "damaged"} {
		if !strings.Contains(text, w) {
			t.Errorf("no %q in the summary:\n%s", w, text)
		}
	}
	if strings.Contains(text, "PARTIAL") || strings.Contains(text, "hidden") || strings.Contains(errText, "panic") {
		t.Errorf("summary %s\nerrors %s", text, errText)
	}
	if !strings.Contains(errText, "of 32 documents") {
		t.Errorf("no progress was told: %s", errText)
	}
	raw, err := os.ReadFile(filepath.Join(out, "001.json"))
	if err != nil {
		t.Fatal(err)
	}
	var j struct {
		File    string
		RuleSet string `json:"rule_set"`
	}
	if err := json.Unmarshal(raw, &j); err != nil || j.RuleSet == "" || j.File != filepath.Join(dir, "001.pdf") {
		t.Errorf("001.json: %+v %v", j, err)
	}
	if _, err := os.Stat(filepath.Join(out, "below", "b-letter.json")); err != nil {
		t.Error("the folders below are not kept apart:", err)
	}
	f, err := os.Open(filepath.Join(out, "summary.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 1+n+letters+failing {
		t.Errorf("%d rows in summary.csv: %v", len(rows), err)
	}
	for _, r := range rows[1:] {
		if (r[2] == "read") != (r[9] == "") || (r[2] == "read") != (r[3] != "") {
			t.Errorf("row %q", r)
		}
	}
}

// --json gives one object per document on the output, in order, those that failed too; the summary goes elsewhere.
func TestJSONOfManyDocuments(t *testing.T) {
	dir := t.TempDir()
	sheetsIn(t, dir, 3)
	badDocuments(t, dir)
	status, out, errText := runCommand(t, "read", "--json", filepath.Join(dir, "002.pdf"), filepath.Join(dir, "b-empty.pdf"), filepath.Join(dir, "001.pdf"))
	if status != exitFailed || !strings.Contains(errText, "3 documents: 2 read") {
		t.Errorf("status %d: %s", status, errText)
	}
	var files, outcomes []string
	dec := json.NewDecoder(strings.NewReader(out))
	for {
		var one struct{ File, Outcome string }
		if err := dec.Decode(&one); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		files, outcomes = append(files, filepath.Base(one.File)), append(outcomes, one.Outcome)
	}
	if strings.Join(files, " ") != "002.pdf b-empty.pdf 001.pdf" || strings.Join(outcomes, "|") != "|failed|" {
		t.Errorf("files %v outcomes %q", files, outcomes)
	}
}

// A crash costs one document, one that never ends is given up at the limit, and the others are read.
func TestCrashAndHangLoseOneDocument(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.txt", "crash.txt", "hang.txt", "z.txt"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	release := make(chan struct{})
	defer close(release)
	var out, errs bytes.Buffer
	b := batch{Files: []string{dir}, Limit: 300 * time.Millisecond}
	err := b.run(t.Context(), streams{out: &out, err: &errs}, nil, func(_ context.Context, _ io.Writer, d document, _ []byte) (tally, error) {
		switch d.name {
		case "crash.txt":
			panic("index out of range")
		case "hang.txt":
			<-release
		}
		return tally{pages: 1}, nil
	})
	if !errors.Is(err, errSaid) || !strings.Contains(out.String(), "4 documents: 2 read, 0 not a sheet, 2 failed") {
		t.Errorf("%v: %s", err, out.String())
	}
	for _, want := range []string{"broke on it (index out of range)", "given up"} {
		if !strings.Contains(errs.String(), want) {
			t.Errorf("no %q in %s", want, errs.String())
		}
	}
}

// A stopped batch says that its summary is partial, and what was done stays.
func TestStoppedBatchLeavesAPartialSummary(t *testing.T) {
	dir, results := t.TempDir(), t.TempDir()
	for i := range 40 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%02d.txt", i)), []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ctx, stop := context.WithCancel(t.Context())
	var out, errs bytes.Buffer
	b := batch{Files: []string{dir}, Limit: time.Minute, Out: results}
	err := b.run(ctx, streams{out: &out, err: &errs}, nil, func(ctx context.Context, w io.Writer, d document, _ []byte) (tally, error) {
		if d.name == "10.txt" {
			stop()
			return tally{}, ctx.Err()
		}
		fmt.Fprintln(w, "the result of", d.name)
		return tally{pages: 1}, nil
	})
	if !errors.Is(err, context.Canceled) || !strings.Contains(out.String(), "PARTIAL: stopped after") {
		t.Errorf("%v: %s", err, out.String())
	}
	if got, err := os.ReadFile(filepath.Join(results, "03.txt")); err != nil || string(got) != "the result of 03.txt\n" {
		t.Errorf("%q %v", got, err)
	}
	raw, err := os.ReadFile(filepath.Join(results, "summary.csv"))
	if err != nil || !strings.Contains(string(raw), "not reached") {
		t.Errorf("%s %v", raw, err)
	}
}

// Names of files and products that a spreadsheet would take for formulas get an apostrophe before them.
func TestSummaryHoldsNoFormulas(t *testing.T) {
	file := filepath.Join(t.TempDir(), "summary.csv")
	var s summary
	for _, evil := range []string{"=1+1", "+1", "-1+cmd|' /C calc'!A0", "@SUM(1)", "\t=1", "\r=1"} {
		s.results = append(s.results, result{document: document{path: evil}, tally: tally{product: evil}, why: errors.New(evil)})
	}
	if err := s.writeCSV(file); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) != 7 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
				t.Errorf("a cell begins %q", cell)
			}
		}
	}
}
