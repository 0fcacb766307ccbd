package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"sixteen/shelf"
)

// answered fails when an answer to hostile JSON is neither a success nor a problem that says what to do.
func answered(t *testing.T, r reply) {
	t.Helper()
	if r.StatusCode >= 500 {
		t.Fatalf("status %d: %s", r.StatusCode, r.raw)
	}
	if r.StatusCode >= 400 {
		isProblem(t, "hostile JSON", r, r.StatusCode)
	} else if !json.Valid([]byte(r.raw)) {
		t.Fatalf("the answer is no JSON: %.200s", r.raw)
	}
}

// Whatever is sent as a job, the server answers with a plan or with a problem.
func FuzzJob(f *testing.F) {
	s := newSite(f, false)
	for _, seed := range []string{
		`{"description": {"name": "x", "jurisdiction": "us", "rooms": [{"name": "shed", "volume_m3": 30}]}}`,
		`{"description": "name: x\njurisdiction: eu\nproducts: [{name: p, file: 'shelf:1'}]\n"}`,
		`{"description": "a: &a [*a]"}`, `{"description": null}`, `{"description": 1e999}`, `{}`, `[]`, `{"description": {"tasks": [{"amount_g": "5-1"}], "shift_hours": -1}}`,
		`{"description": "rooms: [{volume_m3: .nan}]"}`, `{"description": {"end_min": 1e300, "tasks": [{"duration_min": 1e300}]}}`,
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if strings.TrimSpace(body) == "" {
			return
		}
		answered(t, s.call(t, http.MethodPost, "/api/plans", body))
	})
}

// Whatever is sent as a correction, the server keeps it or answers with a problem, and the sheet can still be judged.
func FuzzCorrection(f *testing.F) {
	s := newSite(f, false)
	s.upload(f, "", "b.pdf", sheetOf(f, "murrelam-b"))
	s.settle(f)
	sheets, err := s.shelf.Sheets(f.Context(), shelf.SheetFilter{})
	if err != nil || len(sheets.Items) != 1 {
		f.Fatalf("%d sheets, %v", len(sheets.Items), err)
	}
	at := "/api/sheets/" + sheets.Items[0].ID
	facts, _ := s.call(f, "GET", at+"/facts", "").body["facts"].([]any)
	for i := 0; i < len(facts); i += 6 {
		fact, _ := facts[i].(map[string]any)
		value, err := json.Marshal(fact["value"])
		if err != nil {
			f.Fatal(err)
		}
		f.Add(fmt.Sprint(fact["path"]), string(value), "misread")
	}
	f.Add("", "null", "")
	f.Add("product.name", `{"lo": 1e308, "hi": -1e308}`, "x")
	f.Add("../../x", `"\u0000"`, "x")
	f.Fuzz(func(t *testing.T, path, value, why string) {
		p, _ := json.Marshal(path)
		w, _ := json.Marshal(why)
		last := ""
		corrections, err := s.shelf.Corrections(t.Context(), sheets.Items[0].Document)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range corrections {
			if c.Path == path {
				last = c.ID
			}
		}
		r := s.call(t, http.MethodPost, at+"/corrections", fmt.Sprintf(`{"path": %s, "value": %s, "why": %s, "on": %q}`, p, value, w, last))
		answered(t, r)
		if r.StatusCode < 300 {
			if j := s.call(t, "GET", at+"/judgement", ""); j.StatusCode != http.StatusOK {
				t.Fatalf("after the correction of %q to %q the judgement gives %d %s", path, value, j.StatusCode, j.raw)
			}
			s.call(t, http.MethodPost, at+"/corrections/take-back", fmt.Sprintf(`{"path": %s}`, p))
		}
	})
}
