package demo_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/demo"
	"sixteen/judge"
)

// judgedOn is the day the demo's sheets are judged on, so that their age does not depend on when the test runs.
var judgedOn = time.Date(2026, 2, 1, 0, 0, 0, 0, time.UTC)

// Every planted fault of the demo is found by one of the checks named for it, and the sheets without planted faults get
// no contradiction. The scanned sheet goes through character recognition, which make prepare installs.
func TestPlantedFaultsAreFound(t *testing.T) {
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	desk, err := judge.Open(t.Context(), judge.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer desk.Close()
	planted, clean := 0, 0
	for _, item := range demo.Described().Products {
		data, err := os.ReadFile(filepath.Join(dir, item.Sheet))
		if err != nil {
			t.Fatal(err)
		}
		j, err := desk.Judge(t.Context(), item.Sheet, data, judge.Request{Now: judgedOn})
		if err != nil {
			t.Errorf("%s: %v", item.Sheet, err)
			continue
		}
		if j.RuleSet != item.Rules {
			t.Errorf("%s: judged under %s, written for %s", item.Sheet, j.RuleSet, item.Rules)
		}
		for _, f := range item.Planted {
			planted++
			if !slices.ContainsFunc(j.Report.Findings, func(found audit.Finding) bool { return slices.Contains(f.Checks, found.Check) }) {
				t.Errorf("%s: %s (%s) was not found by any of %v", item.Sheet, f.Kind, f.Says, f.Checks)
			}
		}
		for _, f := range j.Report.Findings {
			if item.Clean && f.Kind == audit.Contradiction {
				t.Errorf("%s has no planted fault, yet: %s [%s]", item.Sheet, f.Title, f.ID)
			}
		}
		if item.Clean {
			clean++
		}
		labelled(t, dir, item, j, &planted)
	}
	if planted < 7 || clean < 3 {
		t.Errorf("%d planted faults and %d clean sheets: the demo promises seven and three", planted, clean)
	}
}

// labelled checks the label of a product against its sheet.
func labelled(t *testing.T, dir string, item demo.Item, j *judge.Judgement, planted *int) {
	t.Helper()
	_, faults, err := item.MakeLabel()
	if err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(filepath.Join(dir, item.Label))
	if err != nil {
		t.Fatal(err)
	}
	var label audit.Label
	if err := json.Unmarshal(raw, &label); err != nil {
		t.Fatalf("%s: %v", item.Label, err)
	}
	report, err := audit.Run(t.Context(), &audit.Case{Sheet: j.Sheet, RuleSet: j.RuleSet, Label: &label, Today: judgedOn})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		*planted++
		if !slices.ContainsFunc(report.Findings, func(found audit.Finding) bool { return slices.Contains(f.Checks, found.Check) }) {
			t.Errorf("%s: %s (%s) was not found by any of %v", item.Label, f.Kind, f.Says, f.Checks)
		}
	}
}
