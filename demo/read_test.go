package demo

import (
	"context"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/read"
	"sixteen/read/pdf"
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
		label, _, err := p.MakeLabel()
		if err != nil {
			t.Fatal(err)
		}
		r, err := audit.Run(ctx, &audit.Case{Sheet: got, RuleSet: p.Rules, Substances: substance.Embedded(), Label: &label,
			Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range p.Planted {
			if !slices.ContainsFunc(r.Findings, func(g audit.Finding) bool { return slices.Contains(f.Checks, g.Check) }) {
				t.Errorf("%s: %s is not noticed by %v", f.File, f.Kind, f.Checks)
			}
		}
		for _, f := range r.Findings {
			planted := slices.ContainsFunc(p.Planted, func(q PlantedFault) bool { return slices.Contains(q.Checks, f.Check) })
			if p.Clean && f.Kind == audit.Contradiction && !planted {
				t.Errorf("%s: %s: %s", p.Name, f.Check, f.Title)
			}
		}
	}
}
