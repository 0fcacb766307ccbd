package demo_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/blend"
	"sixteen/demo"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/read"
	"sixteen/read/pdf"
	"sixteen/sheet"
	"sixteen/substance"
)

// The workshop's own product is made from a supplier's sheet: the resin's ingredients come in with their ranges, its
// allergen with them, and the drafted sheet stands up to the checks.
func TestBlendOfTheWorkshop(t *testing.T) {
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	for _, name := range demo.BlendFiles() {
		raw, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Fatal(err)
		}
		r, err := blend.Read(bytes.NewReader(raw))
		if err != nil {
			t.Fatal(err)
		}
		stock := blend.Stock{Table: substance.Embedded(), Sheets: map[string]*sheet.Sheet{}}
		for _, file := range r.Files() {
			stock.Sheets[file] = supplierSheet(t, ctx, engine, filepath.ToSlash(filepath.Join("blends", file)))
		}
		for _, rs := range r.RuleSets() {
			m, err := blend.Make(r, stock, rs)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.ContainsFunc(m.Declared.All(), func(h ghs.Hazard) bool { return h.Class() == ghs.SkinSensitisation }) {
				t.Errorf("%s: the resin's allergen is lost: %v", rs, m.Declared)
			}
			d, err := m.Draft(ghs.English, stock)
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			day := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
			if err := paper.DraftedSheet(d, day).WritePDF(&b); err != nil {
				t.Fatal(err)
			}
			s, err := read.Document(ctx, "draft.pdf", b.Bytes(), read.Options{PDF: engine})
			if err != nil {
				t.Fatal(err)
			}
			j, err := judge.JudgeSheet(ctx, s, stock.Table, judge.Request{Now: day})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range j.Report.Findings {
				if f.Kind == audit.Contradiction {
					t.Errorf("%s: %s: %s", rs, f.Check, f.Title)
				}
			}
		}
	}
}

// supplierSheet prints and reads the sheet of the workshop's product that a recipe names.
func supplierSheet(t *testing.T, ctx context.Context, engine *pdf.Engine, file string) *sheet.Sheet {
	t.Helper()
	for _, item := range demo.Described().Products {
		if filepath.ToSlash(filepath.Clean(file)) != item.Sheet {
			continue
		}
		printed, _, err := item.PrintedSheet()
		if err != nil {
			t.Fatal(err)
		}
		s, err := read.Document(ctx, item.Sheet, printed, read.Options{PDF: engine})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	t.Fatalf("the workshop has no sheet %s", file)
	return nil
}
