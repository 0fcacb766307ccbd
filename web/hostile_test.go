package web_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"sixteen/shelf"
	"sixteen/web"
)

// Scripts in the names of products, suppliers, places, documents and answers are shown as the words they are, on every page.
func TestScriptsInNamesAreWords(t *testing.T) {
	s := newSite(t)
	ctx := t.Context()
	const evil = `"><script>alert(1)</script><img src=x onerror=alert(2)>'{{.}}`
	supplier, err := s.shelf.AddSupplier(ctx, evil, shelf.Supplier{Name: evil, Contact: evil, Email: evil, Phone: evil, Address: evil, Note: evil})
	if err != nil {
		t.Fatal(err)
	}
	added, err := s.shelf.AddDocument(ctx, evil, evil+".pdf", sheetOf(t, "murrelam-b"), "")
	if err != nil {
		t.Fatal(err)
	}
	s.settle(t)
	kept, err := s.shelf.Sheet(ctx, added.Sheet.ID)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.shelf.Product(ctx, kept.Product)
	if err != nil {
		t.Fatal(err)
	}
	p.Name, p.Code, p.Note, p.UsedFor, p.Supplier = evil, evil, evil, evil, supplier.ID
	if p, err = s.shelf.EditProduct(ctx, evil, p); err != nil {
		t.Fatal(err)
	}
	place, err := s.shelf.AddPlace(ctx, evil, shelf.Place{Name: evil, Sort: shelf.Room, Note: evil})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.shelf.AddStock(ctx, evil, shelf.Stock{Product: p.ID, Place: place.ID, Unit: "l", Container: evil, Note: evil}); err != nil {
		t.Fatal(err)
	}
	if _, err := s.shelf.AddQuestion(ctx, evil, shelf.Question{Product: p.ID, Sheet: kept.ID, Supplier: supplier.ID, Text: evil, Answer: evil}); err != nil {
		t.Fatal(err)
	}
	kit, err := s.shelf.AddProduct(ctx, evil, shelf.Product{Name: evil + " kit", PartsBy: "mass", Parts: []shelf.Part{{Product: p.ID, Role: evil, Parts: 1}, {Product: p.ID, Role: evil, Parts: 2}}})
	if err != nil {
		t.Fatal(err)
	}
	settings, err := s.shelf.Settings(ctx)
	if err != nil {
		t.Fatal(err)
	}
	settings.Workshop, settings.Address, settings.CallWhom, settings.PoisonCentre, settings.Spills = evil, evil, evil, evil, evil
	if _, err := s.shelf.EditSettings(ctx, evil, settings); err != nil {
		t.Fatal(err)
	}
	seen, shown := 0, 0
	for _, route := range web.Routes() {
		if route.Method != "GET" {
			continue
		}
		id := p.ID
		switch {
		case strings.HasPrefix(route.Path, "/kits/"):
			id = kit.ID
		case strings.HasPrefix(route.Path, "/sheets/"):
			id = kept.ID
		}
		path := strings.NewReplacer("{$}", "", "{id}", id, "{page}", "1", "{kind}", "csv", "{stock}", "x").Replace(route.Path)
		for _, query := range []string{"", "?q=" + "%22%3E%3Cscript%3Ealert(1)%3C/script%3E", "?said=%3Cscript%3Ealert(1)%3C/script%3E", "?path=%3Cscript%3Ealert(1)%3C/script%3E&find=%3Cscript%3Ealert(1)%3C/script%3E&lang=%3Cscript%3E"} {
			res, body := s.get(t, path+query, nil)
			if !strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") {
				continue
			}
			seen++
			if strings.Contains(body, "&lt;script&gt;alert(1)") {
				shown++
			}
			for _, live := range []string{"<script>alert", "<img src=x", `"><script`, "onerror=alert(2)>'{{.}}\"", "javascript:alert"} {
				if strings.Contains(body, live) {
					t.Errorf("%s%s holds %s", path, query, live)
				}
			}
			if policy := res.Header.Get("Content-Security-Policy"); !strings.Contains(policy, "default-src 'none'") || strings.Contains(policy, "unsafe") {
				t.Errorf("%s has the policy %q", path, policy)
			}
		}
	}
	if seen < 60 || shown < 40 {
		t.Errorf("only %d pages were looked at, and %d showed the words", seen, shown)
	}
}

// What a page says of the step before comes from this server only: a link cannot put words on it, and it is said once.
func TestLinksPutNoWordsOnAPage(t *testing.T) {
	s := newSite(t)
	if _, body := s.get(t, "/help?said=Call+this+number", nil); strings.Contains(body, "Call this number") {
		t.Error("the words of a link stand on the page")
	}
	saying := func(r *http.Request) { r.AddCookie(&http.Cookie{Name: "said", Value: "The+place+is+kept."}) }
	res, body := s.get(t, "/help", saying)
	if !strings.Contains(body, "The place is kept.") {
		t.Error("what the server said is not shown")
	}
	forgotten := false
	for _, c := range res.Cookies() {
		forgotten = forgotten || c.Name == "said" && c.MaxAge < 0
	}
	if !forgotten {
		t.Error("what was said would be said again")
	}
}

// zipOf packs files with the names they are given.
func zipOf(t *testing.T, files map[string]io.Reader) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, r := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(w, r); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// zeros reads as zeros without end.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// Names in a ZIP lead nowhere: documents are kept by their checksum, under the last part of their name. What unpacks to more
// than a document may be is refused, and a ZIP within a ZIP is not unpacked.
func TestHostileArchives(t *testing.T) {
	s := newSite(t)
	text := func(n int) io.Reader {
		return strings.NewReader(fmt.Sprintf("SECTION 1: Identification\nProduct %d\n", n))
	}
	s.upload(t, "names.zip", zipOf(t, map[string]io.Reader{"../../../../tmp/escape.txt": text(1), "/etc/cron.d/escape.txt": text(2), `..\..\windows\escape.txt`: text(3), "C:/escape.txt": text(4), "ordinary.txt": text(5), ".hidden.txt": text(6), "inner.zip": text(7)}), nil)
	sheets, err := s.shelf.Sheets(t.Context(), shelf.SheetFilter{})
	if err != nil || sheets.Total != 5 {
		t.Fatalf("%d documents were taken, %v", sheets.Total, err)
	}
	for _, sheet := range sheets.Items {
		if strings.ContainsAny(sheet.FileName, `/\:`) {
			t.Errorf("a document is called %q", sheet.FileName)
		}
	}
	bomb := zipOf(t, map[string]io.Reader{"bomb.txt": io.LimitReader(zeros{}, 300<<20)})
	if len(bomb) > 1<<20 {
		t.Fatalf("the bomb has %d bytes", len(bomb))
	}
	res, body := s.upload(t, "bomb.zip", bomb, nil)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "MB") {
		t.Errorf("a document that unpacks to 300 MB gave %d", res.StatusCode)
	}
	many := map[string]io.Reader{}
	for i := range 5001 {
		many[fmt.Sprintf("%d.txt", i)] = strings.NewReader("x")
	}
	if res, body := s.upload(t, "many.zip", zipOf(t, many), nil); res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "5000 are taken at a time") {
		t.Errorf("a ZIP of 5001 documents gave %d", res.StatusCode)
	}
	if res, _ := s.upload(t, "broken.zip", []byte("PK\x03\x04 and nothing more"), nil); res.StatusCode != http.StatusUnprocessableEntity {
		t.Errorf("half a ZIP gave %d", res.StatusCode)
	}
	if after, err := s.shelf.Sheets(t.Context(), shelf.SheetFilter{}); err != nil || after.Total != 5 {
		t.Errorf("after hostile archives there are %d documents, %v", after.Total, err)
	}
}

// Forms that are no forms are refused, and nothing is kept of them.
func TestMalformedForms(t *testing.T) {
	s := newSite(t)
	const begin = "--b\r\nContent-Disposition: form-data; name=\"document\"; filename=\"a.pdf\"\r\n\r\n"
	for name, form := range map[string][2]string{
		"no boundary":              {"multipart/form-data", begin},
		"another boundary":         {"multipart/form-data; boundary=c", begin + "x\r\n--b--\r\n"},
		"no end":                   {"multipart/form-data; boundary=b", begin + "%PDF-1.7"},
		"nothing":                  {"multipart/form-data; boundary=b", ""},
		"no files":                 {"multipart/form-data; boundary=b", "--b\r\nContent-Disposition: form-data; name=\"x\"\r\n\r\ny\r\n--b--\r\n"},
		"a header without end":     {"multipart/form-data; boundary=b", "--b\r\nContent-Disposition: " + strings.Repeat("x", 20<<20)},
		"a hundred thousand parts": {"multipart/form-data; boundary=b", strings.Repeat("--b\r\nContent-Disposition: form-data; name=\"x\"\r\n\r\ny\r\n", 100_000) + "--b--\r\n"},
		"no form at all":           {"application/json", `{"document": "x"}`},
		"no type":                  {"", "x"},
	} {
		req, err := http.NewRequestWithContext(t.Context(), "POST", s.URL+"/upload", strings.NewReader(form[1]))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Content-Type", form[0])
		res, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			continue // the server hung up on it
		}
		res.Body.Close()
		if res.StatusCode < 400 || res.StatusCode >= 500 {
			t.Errorf("%s gave %d", name, res.StatusCode)
		}
	}
	if sheets, err := s.shelf.Sheets(t.Context(), shelf.SheetFilter{}); err != nil || sheets.Total != 0 {
		t.Errorf("malformed forms put %d documents on the shelf, %v", sheets.Total, err)
	}
}
