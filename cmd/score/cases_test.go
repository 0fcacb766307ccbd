package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"strings"
	"testing"
)

func testFile(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/cases.json")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestCasesAreCompared(t *testing.T) {
	rep, err := runCases(testFile(t), "")
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]verdict{"wrong on purpose": differs, "unknown class": notCovered, "unknown property": notCovered}
	for _, r := range rep.Results {
		w, ok := want[r.ID]
		if !ok {
			w = pass
		}
		if r.Verdict != w {
			t.Errorf("%s: %s, want %s\n%s", r.ID, r.Verdict, w, strings.Join(r.Lines, "\n"))
		}
	}
	if rep.Passed != 6 || rep.Differing != 1 || rep.NotCovered != 2 {
		t.Errorf("counts %d/%d/%d, want 6/1/2", rep.Passed, rep.Differing, rep.NotCovered)
	}
}

// Everything that is wrong in a case is named.
func TestEveryDifferenceIsTold(t *testing.T) {
	rep, err := runCases(testFile(t), "wrong on purpose")
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(rep.Results[0].Lines, "\n")
	for _, say := range []string{"missing: Carc. 2", "not expected: Skin Sens. 1", "expected not to be classified as Skin Sens. 1", "ate_mix_oral: no such number",
		"signal word: \"Warning\"", "pictograms: GHS08 is missing", "pictograms: GHS07 is not expected", "statements: H351 is missing", "EUH208 is missing"} {
		if !strings.Contains(text, say) {
			t.Errorf("not told: %s\n%s", say, text)
		}
	}
}

func TestUnknownFieldsAreNamed(t *testing.T) {
	for _, s := range []struct{ file, say string }{
		{`{"cases": [{"id": "x", "ruleset": "EU-CLP", "odour": 1}]}`, `case 1 (x): unknown field "odour"`},
		{`{"cases": [{"id": "x", "ruleset": "EU-CLP", "ingredients": [{"name": "A", "share": 3}]}]}`, `unknown field "share"`},
		{`{"cases": [{"id": "x", "ruleset": "EU-CLP", "mixture_data": {"tested": {"ld50_cat": 3}}}]}`, `unknown field "ld50_cat"`},
		{`{"cases": [], "colour": 1}`, `unknown field "colour"`},
		{`{"cases": []}`, "no cases"},
		{`{"count": 2, "cases": [{"id": "x"}]}`, "says that it holds 2 cases but holds 1"},
	} {
		if _, err := runCases([]byte(s.file), ""); err == nil || !strings.Contains(err.Error(), s.say) {
			t.Errorf("%s: error %v does not say %q", s.file, err, s.say)
		}
	}
}

func TestExposureCasesAreNotCovered(t *testing.T) {
	rep, err := runCases([]byte(`{"tolerance": {}, "cases": [{"id": "room-1", "topic": "purge", "inputs": {}}]}`), "")
	if err != nil {
		t.Fatal(err)
	}
	if rep.NotCovered != 1 {
		t.Errorf("not covered: %d, want 1", rep.NotCovered)
	}
}

func TestCommandFailsWhenACaseDiffers(t *testing.T) {
	var out bytes.Buffer
	err := (&casesCmd{File: "testdata/cases.json", JSON: true}).Run(&streams{out: &out})
	if !errors.Is(err, errDiffers) {
		t.Errorf("error %v, want that some cases differ", err)
	}
	var rep report
	if err := json.Unmarshal(out.Bytes(), &rep); err != nil || len(rep.Results) != 9 {
		t.Errorf("JSON report: %v, %d results", err, len(rep.Results))
	}
	out.Reset()
	if err := (&casesCmd{File: "testdata/cases.json", Only: "point"}).Run(&streams{out: &out}); err != nil {
		t.Error(err)
	}
	if !strings.Contains(out.String(), "1 cases: 1 pass") {
		t.Errorf("summary missing: %s", out.String())
	}
}
