package web_test

import (
	"bytes"
	"context"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

// noClose is the desk of a test given to the queue, which must not close it.
type noClose struct{ *judge.Desk }

func (noClose) Close() error { return nil }

// site is a server on a shelf of its own.
type site struct {
	*httptest.Server
	shelf *shelf.Shelf
	desk  *judge.Desk
}

// newSite serves an empty shelf.
func newSite(t *testing.T) site {
	t.Helper()
	desk, err := judge.Open(t.Context(), judge.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	s, err := shelf.Open(t.Context(), shelf.Options{URL: filepath.Join(t.TempDir(), "shelf.sqlite"), Desk: func(context.Context) (shelf.Desk, error) { return noClose{desk}, nil }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	if err := s.StartReading(t.Context(), 2); err != nil {
		t.Fatal(err)
	}
	app := web.New(web.Options{Shelf: s, Desk: desk, Guard: web.Alone{Account: "Marit"}, Demo: fillSmall})
	server := httptest.NewServer(app.Handler())
	t.Cleanup(server.Close)
	return site{server, s, desk}
}

// sheetOf prints the sheet of a product of the demo workshop.
func sheetOf(t *testing.T, id string) []byte {
	t.Helper()
	for _, item := range demo.Workshop().Products {
		if item.ID == id {
			raw, _, err := item.PrintedSheet()
			if err != nil {
				t.Fatal(err)
			}
			return raw
		}
	}
	t.Fatalf("the demo has no product %s", id)
	return nil
}

// put puts the sheets of the demo's products on the shelf and waits until they are read.
func (s site) put(t *testing.T, ids ...string) {
	t.Helper()
	for _, id := range ids {
		if _, err := s.shelf.AddDocument(t.Context(), "Marit", id+".pdf", sheetOf(t, id), ""); err != nil {
			t.Fatal(err)
		}
	}
	s.settle(t)
}

// settle waits until nothing is being read.
func (s site) settle(t *testing.T) {
	t.Helper()
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline); time.Sleep(50 * time.Millisecond) {
		p, err := s.shelf.Progress(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if p.Waiting+len(p.Reading) == 0 {
			return
		}
	}
	t.Fatal("the documents were not read within a minute")
}

// product is the address of a product by its name.
func (s site) product(t *testing.T, name string) string {
	t.Helper()
	page, err := s.shelf.Products(t.Context(), shelf.ProductFilter{Paging: shelf.Paging{Limit: 1000}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range page.Items {
		if p.Name == name {
			return "/products/" + p.ID
		}
	}
	t.Fatalf("%s is not on the shelf", name)
	return ""
}

func (s site) get(t *testing.T, path string, change func(*http.Request)) (*http.Response, string) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(req)
	}
	return do(t, req)
}

func (s site) post(t *testing.T, path string, form url.Values, change func(*http.Request)) (*http.Response, string) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	if change != nil {
		change(req)
	}
	return do(t, req)
}

func do(t *testing.T, req *http.Request) (*http.Response, string) {
	t.Helper()
	jar, err := cookiejar.New(nil) // what an answer says to the next page arrives there
	if err != nil {
		t.Fatal(err)
	}
	res, err := (&http.Client{Jar: jar}).Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(body)
}

func (s site) upload(t *testing.T, name string, data []byte, change func(*http.Request)) (*http.Response, string) {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	part, err := form.CreateFormFile("document", name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := part.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/upload", &body)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", form.FormDataContentType())
	if change != nil {
		change(req)
	}
	return do(t, req)
}

func TestSecurityHeadersAndForeignNames(t *testing.T) {
	s := newSite(t)
	res, _ := s.get(t, "/", nil)
	for header, want := range map[string]string{
		"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
	} {
		if !strings.Contains(res.Header.Get(header), want) {
			t.Errorf("%s is %q", header, res.Header.Get(header))
		}
	}
	res, _ = s.get(t, "/", func(r *http.Request) { r.Host = "attacker.example" })
	if res.StatusCode != http.StatusForbidden {
		t.Errorf("a foreign host name got %d", res.StatusCode)
	}
	foreign := func(r *http.Request) {
		r.Header.Set("Origin", "http://attacker.example")
		r.Header.Set("Sec-Fetch-Site", "cross-site")
	}
	if res, _ = s.upload(t, "a.pdf", []byte("x"), foreign); res.StatusCode != http.StatusForbidden {
		t.Errorf("an upload sent by a foreign page got %d", res.StatusCode)
	}
	if res, _ = s.post(t, "/settings", url.Values{"workshop": {"taken over"}}, foreign); res.StatusCode != http.StatusForbidden {
		t.Errorf("a form sent by a foreign page got %d", res.StatusCode)
	}
}

func TestUploadThatCannotBeReadSaysWhy(t *testing.T) {
	s := newSite(t)
	if res, body := s.upload(t, "empty.pdf", nil, nil); res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "empty") {
		t.Errorf("an empty document got %d, %.300s", res.StatusCode, body)
	}
	for name, data := range map[string][]byte{
		"note.txt":                      []byte(strings.Repeat("The slipway will be closed on Tuesday for painting.\n", 30)),
		"<script>alert(1)</script>.pdf": []byte("\x00\x01\x02nonsense"),
	} {
		if res, body := s.upload(t, name, data, nil); res.StatusCode != http.StatusOK {
			t.Errorf("%s got %d, %.300s", name, res.StatusCode, body)
		}
	}
	s.settle(t)
	_, body := s.get(t, "/", nil)
	for _, want := range []string{"note.txt", "is no safety data sheet", "could not be read"} {
		if !strings.Contains(body, want) {
			t.Errorf("the shelf does not say %q", want)
		}
	}
	if strings.Contains(body, "<script>alert") {
		t.Error("a file name became markup")
	}
}

// A product's page shows what its sheet says, with pictures of the pages; names from outside stay text.
func TestProductPage(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b")
	at := s.product(t, "Murrelam Hardener B")
	res, page := s.get(t, at, nil)
	if res.StatusCode != http.StatusOK || !strings.Contains(page, `class="finding contradiction"`) {
		t.Errorf("status %d; no contradiction on the page of a sheet with a planted one", res.StatusCode)
	}
	picture := page[strings.Index(page, "/sheets/"):]
	picture = picture[:strings.IndexByte(picture, '"')]
	res, raw := s.get(t, picture, nil)
	if res.StatusCode != http.StatusOK || !strings.HasPrefix(raw, "\x89PNG") {
		t.Errorf("page picture %s: status %d", picture, res.StatusCode)
	}
	for _, bad := range []string{"0.png", "999.png", "x.png"} {
		if res, _ := s.get(t, strings.TrimSuffix(picture, "1.png")+bad, nil); res.StatusCode != http.StatusNotFound {
			t.Errorf("%s: status %d", bad, res.StatusCode)
		}
	}
	if res, body := s.get(t, "/products/none", nil); res.StatusCode != http.StatusNotFound || !strings.Contains(body, "search for it") {
		t.Errorf("unknown product: %d", res.StatusCode)
	}
	res, body := s.post(t, at+"/edit", url.Values{"name": {`"><img src=x onerror=alert(1)>`}, "version": {"99"}}, nil)
	if res.StatusCode != http.StatusConflict || strings.Contains(body, "<img src=x") {
		t.Errorf("an edit on a version that is not there got %d", res.StatusCode)
	}
}

// Somebody got it in the eye: one link from the product's page leads to what to do, with the statement and the sheet's words.
func TestFirstAidIsOneLinkAway(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b")
	at := s.product(t, "Murrelam Hardener B")
	if _, page := s.get(t, at, nil); !strings.Contains(page, at+"/emergency#eye") {
		t.Error("the product's page does not lead to what to do for the eye")
	}
	_, page := s.get(t, at+"/emergency", nil)
	eye := page[strings.Index(page, `id="eye"`):]
	eye = eye[:strings.Index(eye, "</section>")]
	for _, want := range []string{"Rinse cautiously with water for several minutes", "Rinse the open eye gently", "By its ingredients it burns"} {
		if !strings.Contains(eye, want) {
			t.Errorf("what to do for the eye does not hold %q: %s", want, eye)
		}
	}
	if strings.Contains(eye, "Do not induce vomiting") {
		t.Error("what to do for the eye holds what to do when swallowed")
	}
	if !strings.Contains(page, "112") || strings.Index(page, "112") > strings.Index(page, `id="eye"`) {
		t.Error("the emergency number does not come first")
	}
}

// fillSmall is a demo of one product, for tests that only need something on the shelf.
func fillSmall(ctx context.Context, s *shelf.Shelf, by string) error {
	for _, item := range demo.Workshop().Products {
		if item.ID != "murrelam-b" {
			continue
		}
		raw, _, err := item.PrintedSheet()
		if err != nil {
			return err
		}
		_, err = s.AddDocument(ctx, by, "murrelam-b.pdf", raw, "")
		return err
	}
	return os.ErrNotExist
}
