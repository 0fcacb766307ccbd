package demo

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// files reads a folder into memory by relative name.
func files(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(name)] = b
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// The workshop is written the same way every time, and every file that it names is there and small.
func TestWriteWorkshop(t *testing.T) {
	a, b := t.TempDir(), t.TempDir()
	for _, dir := range []string{a, b} {
		if err := Write(dir); err != nil {
			t.Fatal(err)
		}
	}
	first, second := files(t, a), files(t, b)
	if len(first) != len(second) {
		t.Fatalf("%d files, then %d", len(first), len(second))
	}
	for name, data := range first {
		if !bytes.Equal(data, second[name]) {
			t.Errorf("%s differs between two runs", name)
		}
	}
	for _, p := range Described().Products {
		for _, name := range []string{p.Sheet, p.Label, p.Picture, p.Claims, p.Before} {
			if name != "" && len(first[name]) == 0 {
				t.Errorf("%s of %s is missing or empty", name, p.Name)
			}
		}
		limit := 300_000
		if p.Scan {
			limit = 1_500_000
		}
		if n := len(first[p.Sheet]); n > limit {
			t.Errorf("%s: %d bytes", p.Sheet, n)
		}
	}
}

// The workshop has what it promises: at least eight products in four layouts and three jurisdictions, one scan, one sheet
// before GHS, at least three clean sheets, and the faults that newcomers miss.
func TestWorkshopHoldsWhatItPromises(t *testing.T) {
	w := Described()
	layouts, rules, kinds := map[int]bool{}, map[string]bool{}, map[string]bool{}
	clean, scans, old := 0, 0, 0
	for _, p := range w.Products {
		s, err := p.Spec()
		if err != nil {
			t.Fatal(err)
		}
		layouts[p.layout], rules[string(p.Rules)] = true, true
		for _, f := range slices.Concat(p.Planted, p.Beside) {
			kinds[f.Kind] = true
			if len(f.Checks) == 0 && f.Kind != "" {
				t.Errorf("%s: no check is named for %s", p.Name, f.Kind)
			}
		}
		if p.Clean {
			clean++
			if len(p.fault) > 0 {
				t.Errorf("%s is called clean and has planted faults", p.Name)
			}
		}
		if p.Scan {
			scans++
		}
		if s.PreGHS {
			old++
		}
	}
	if len(w.Products) < 8 || len(layouts) < 4 || len(rules) < 3 || clean < 3 || scans != 1 || old != 1 {
		t.Errorf("%d products, %d layouts, %d rule sets, %d clean, %d scans, %d old", len(w.Products), len(layouts), len(rules), clean, scans, old)
	}
	for _, kind := range []string{"missed-skin-sensitiser", "flash-above-class", "label-pictogram-missing", "cas-check-digit", "range-over-wide",
		"signal-caution", "corrosive-as-irritant"} {
		if !kinds[kind] {
			t.Errorf("%s is planted nowhere", kind)
		}
	}
}

// README.md of this folder names every planted fault beside its file.
func TestReadmeListsPlantedFaults(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range Described().Products {
		for _, f := range slices.Concat(p.Planted, p.Beside) {
			if !strings.Contains(string(readme), "| "+f.File+" | "+f.Kind+" |") {
				t.Errorf("README.md does not list %s in %s", f.Kind, f.File)
			}
		}
	}
}

// Generated sheets come with truth records, the same for the same seed, in several languages and layouts.
func TestWriteGenerated(t *testing.T) {
	a, b := t.TempDir(), t.TempDir()
	for _, dir := range []string{a, b} {
		if err := WriteGenerated(dir, Generated{N: 20, Seed: 7}); err != nil {
			t.Fatal(err)
		}
	}
	first, second := files(t, a), files(t, b)
	if len(first) != 40 {
		t.Errorf("%d files", len(first))
	}
	languages, formats := map[string]bool{}, map[string]bool{}
	for name, data := range first {
		if !bytes.Equal(data, second[name]) {
			t.Errorf("%s differs between two runs", name)
		}
		if filepath.Ext(name) != ".json" {
			continue
		}
		var record struct {
			Language string `json:"language"`
			Format   string `json:"format"`
		}
		if err := json.Unmarshal(data, &record); err != nil {
			t.Fatal(err)
		}
		languages[record.Language], formats[record.Format] = true, true
	}
	if len(languages) < 4 || len(formats) < 16 {
		t.Errorf("%d languages, %d layouts", len(languages), len(formats))
	}
	if err := WriteGenerated(t.TempDir(), Generated{N: 0}); err == nil {
		t.Error("no sheets asked for, and no error")
	}
	if err := WriteGenerated(t.TempDir(), Generated{N: 1, Layout: 99}); err == nil {
		t.Error("layout 99 exists")
	}
}
