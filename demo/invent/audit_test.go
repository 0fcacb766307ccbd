package invent

import (
	"context"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/substance"
)

// audited is the report on a sheet as a reader without fault would read it.
func audited(t *testing.T, s sheetprint.Spec) audit.Report {
	t.Helper()
	l, err := sheetprint.NewLayout(9, s.Rules, s.Lang, 1)
	if err != nil {
		t.Fatal(err)
	}
	read, err := sheetprint.AsRead(s, l)
	if err != nil {
		t.Fatal(err)
	}
	r, err := audit.Run(context.Background(), &audit.Case{Sheet: read, RuleSet: s.Rules, Substances: substance.Embedded(),
		Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The sheets of invented products hold together: whatever language and rule set, nothing in them contradicts anything.
func TestCleanSheetsHoldTogether(t *testing.T) {
	for seed := range uint64(180) {
		s, err := Random(seed, ghs.Langs()[seed%4], rulesOfTests[seed%3])
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range audited(t, s).Findings {
			if f.Kind == audit.Contradiction {
				t.Errorf("seed %d, %s, %s: %s: %s", seed, s.Rules, s.Product, f.Check, f.Title)
			}
		}
	}
}

// Every planted fault is noticed by one of the checks that are named for it, wherever it can be planted.
func TestPlantedFaultsAreFound(t *testing.T) {
	for _, f := range Faults() {
		if len(f.Checks()) == 0 {
			continue
		}
		planted := 0
		for seed := uint64(0); seed < 200 && planted < 6; seed++ {
			s, err := Random(seed, ghs.English, rulesOfTests[seed%3])
			if err != nil {
				t.Fatal(err)
			}
			s, ok := f.Plant(s)
			if !ok {
				continue
			}
			planted++
			r := audited(t, s)
			if !slices.ContainsFunc(r.Findings, func(g audit.Finding) bool { return slices.Contains(f.Checks(), g.Check) }) {
				t.Errorf("%s in seed %d (%s, %s) is not noticed by %v", f.Kind, seed, s.Rules, s.Product, f.Checks())
			}
		}
	}
}

// The checks that faults name are in the catalogue.
func TestFaultsNameChecksOfTheCatalogue(t *testing.T) {
	for _, f := range Faults() {
		for _, id := range f.Checks() {
			if !slices.ContainsFunc(audit.Catalogue(), func(c audit.Check) bool { return c.ID == id }) {
				t.Errorf("%s names %s, which is no check", f.Kind, id)
			}
		}
	}
}

// A check has a fault that is planted for it, or a reason why none is; not both.
func TestEveryCheckIsPlantedOrExcused(t *testing.T) {
	planted := map[string]bool{}
	for _, f := range Faults() {
		for _, id := range f.Checks() {
			planted[id] = true
		}
	}
	for _, c := range audit.Catalogue() {
		if why := Unplanted()[c.ID]; planted[c.ID] == (why != "") {
			t.Errorf("%s: planted %v, reason for not planting %q", c.ID, planted[c.ID], why)
		}
	}
	for id := range Unplanted() {
		if !slices.ContainsFunc(audit.Catalogue(), func(c audit.Check) bool { return c.ID == id }) {
			t.Errorf("%s is no check", id)
		}
	}
}
