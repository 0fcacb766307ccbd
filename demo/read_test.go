package demo

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/read"
	"sixteen/read/pdf"
	"sixteen/sheet"
	"sixteen/substance"
)

// The whole way: the workshop's sheets are printed, read back from their pages and audited. What is planted is found, and
// nothing in the clean sheets contradicts anything.
func TestWorkshopIsReadAndAudited(t *testing.T) {
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	for _, p := range Described().Products {
		printed, _, err := p.PrintedSheet()
		if err != nil {
			t.Fatal(err)
		}
		got, err := read.Document(ctx, p.ID+".pdf", printed, read.Options{PDF: engine})
		if err != nil {
			t.Fatalf("%s: %v", p.Name, err)
		}
		before := readBefore(t, ctx, engine, p)
		label, _, err := p.MakeLabel()
		if err != nil {
			t.Fatal(err)
		}
		r, err := audit.Run(ctx, &audit.Case{Sheet: got, RuleSet: p.Rules, Substances: substance.Embedded(), Label: &label, Previous: before,
			Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range slices.Concat(p.Planted, p.Beside) {
			if !slices.ContainsFunc(r.Findings, func(g audit.Finding) bool { return slices.Contains(f.Checks, g.Check) }) {
				t.Errorf("%s: %s is not noticed by %v", f.File, f.Kind, f.Checks)
			}
		}
		for _, f := range r.Findings {
			planted := slices.ContainsFunc(slices.Concat(p.Planted, p.Beside), func(q PlantedFault) bool { return slices.Contains(q.Checks, f.Check) })
			if p.Clean && f.Kind == audit.Contradiction && !planted {
				t.Errorf("%s: %s: %s", p.Name, f.Check, f.Title)
			}
		}
	}
}

// readBefore prints and reads the revision before, nil when there is none.
func readBefore(t *testing.T, ctx context.Context, engine *pdf.Engine, p Item) *sheet.Sheet {
	t.Helper()
	if p.Before == "" {
		return nil
	}
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "sheets"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := p.writePrevious(dir); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(dir, p.Before))
	if err != nil {
		t.Fatal(err)
	}
	got, err := read.Document(ctx, p.Before, data, read.Options{PDF: engine})
	if err != nil {
		t.Fatal(err)
	}
	return got
}
