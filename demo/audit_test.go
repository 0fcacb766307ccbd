package demo

import (
	"context"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/demo/sheetprint"
	"sixteen/sheet"
	"sixteen/substance"
)

// audited is the report on a product's sheet and label as a reader without fault would read them.
func audited(t *testing.T, p Item) audit.Report {
	t.Helper()
	s, err := p.Spec()
	if err != nil {
		t.Fatal(err)
	}
	l, err := sheetprint.NewLayout(p.layout, p.Rules, p.Lang, 1)
	if err != nil {
		t.Fatal(err)
	}
	read, err := sheetprint.AsRead(s, l)
	if err != nil {
		t.Fatal(err)
	}
	label, _, err := p.MakeLabel()
	if err != nil {
		t.Fatal(err)
	}
	var before *sheet.Sheet
	if old, ok, err := p.PreviousSpec(); err != nil {
		t.Fatal(err)
	} else if ok {
		if before, err = sheetprint.AsRead(old, l); err != nil {
			t.Fatal(err)
		}
	}
	r, err := audit.Run(context.Background(), &audit.Case{Sheet: read, RuleSet: p.Rules, Substances: substance.Embedded(), Label: &label, Previous: before,
		Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What is planted in the workshop's sheets is found by one of the checks named for it.
func TestPlantedFaultsOfTheWorkshopAreFound(t *testing.T) {
	for _, p := range Described().Products {
		r := audited(t, p)
		for _, f := range slices.Concat(p.Planted, p.Beside) {
			if !slices.ContainsFunc(r.Findings, func(g audit.Finding) bool { return slices.Contains(f.Checks, g.Check) }) {
				t.Errorf("%s: %s is not noticed by %v", f.File, f.Kind, f.Checks)
			}
		}
	}
}

// The clean sheets of the workshop hold together.
func TestCleanSheetsOfTheWorkshopHoldTogether(t *testing.T) {
	for _, p := range Described().Products {
		if !p.Clean {
			continue
		}
		for _, f := range audited(t, p).Findings {
			if f.Kind == audit.Contradiction && !slices.ContainsFunc(slices.Concat(p.Planted, p.Beside), func(q PlantedFault) bool { return slices.Contains(q.Checks, f.Check) }) {
				t.Errorf("%s: %s: %s", p.Name, f.Check, f.Title)
			}
			t.Logf("%s: %s %s: %s", p.Name, f.Kind, f.Check, f.Title)
		}
	}
}
