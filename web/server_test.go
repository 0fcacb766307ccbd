package web_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/web"
)

func newServer(t *testing.T) (*httptest.Server, *web.Server, *judge.Desk) {
	t.Helper()
	desk, err := judge.Open(t.Context(), judge.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	bench := web.NewServer(desk)
	server := httptest.NewServer(bench.Handler())
	t.Cleanup(server.Close)
	return server, bench, desk
}

func get(t *testing.T, url string, change func(*http.Request)) (*http.Response, string) {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(req)
	}
	return do(t, req)
}

func do(t *testing.T, req *http.Request) (*http.Response, string) {
	t.Helper()
	res, err := http.DefaultClient.Do(req)
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

func upload(t *testing.T, url, name string, data []byte, change func(*http.Request)) (*http.Response, string) {
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
	req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, url+"/sheets", &body)
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
	server, _, _ := newServer(t)
	res, _ := get(t, server.URL, nil)
	for header, want := range map[string]string{
		"Content-Security-Policy": "default-src 'none'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
	} {
		if !strings.Contains(res.Header.Get(header), want) {
			t.Errorf("%s is %q", header, res.Header.Get(header))
		}
	}
	res, _ = get(t, server.URL, func(r *http.Request) { r.Host = "attacker.example" })
	if res.StatusCode != http.StatusForbidden {
		t.Errorf("a foreign host name got %d", res.StatusCode)
	}
	res, _ = upload(t, server.URL, "a.pdf", []byte("x"), func(r *http.Request) {
		r.Header.Set("Origin", "http://attacker.example")
		r.Header.Set("Sec-Fetch-Site", "cross-site")
	})
	if res.StatusCode != http.StatusForbidden {
		t.Errorf("an upload sent by a foreign page got %d", res.StatusCode)
	}
}

func TestUploadThatCannotBeReadSaysWhy(t *testing.T) {
	server, _, _ := newServer(t)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty.pdf", nil, "empty"},
		{"note.txt", []byte(strings.Repeat("The slipway will be closed on Tuesday for painting.\n", 30)), "not a safety data sheet"},
		{"<script>alert(1)</script>.pdf", []byte("\x00\x01\x02nonsense"), "cannot be read"},
	} {
		res, body := upload(t, server.URL, c.name, c.data, nil)
		if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, c.want) {
			t.Errorf("%s: status %d, no %q in %.600s", c.name, res.StatusCode, c.want, body)
		}
		if strings.Contains(body, "<script>alert") {
			t.Error("a file name became markup")
		}
	}
}

// The judgement is the same page whether uploaded or opened; a hostile product name stays text; pictures are drawn.
func TestJudgementPage(t *testing.T) {
	server, bench, desk := newServer(t)
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, plantedSheet(t))
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := desk.Judge(t.Context(), filepath.Base(name), data, judge.Request{})
	if err != nil {
		t.Fatal(err)
	}
	j.Sheet.Identification.ProductName = sheet.Fact[string]{State: sheet.Stated, Value: `"><img src=x onerror=alert(1)>`}
	if err := bench.AddJudged(name, data, j); err != nil {
		t.Fatal(err)
	}
	_, list := get(t, server.URL, nil)
	at := strings.Index(list, `href="/sheets/`)
	if at < 0 {
		t.Fatalf("the list names no sheet: %.800s", list)
	}
	link := list[at+len(`href="`):]
	link = link[:strings.IndexByte(link, '"')]
	res, page := get(t, server.URL+link, nil)
	if res.StatusCode != http.StatusOK || !strings.Contains(page, `class="finding contradiction"`) {
		t.Errorf("status %d; no contradiction on the page of a sheet with a planted one", res.StatusCode)
	}
	if strings.Contains(page, "<img src=x") {
		t.Error("a product name became markup")
	}
	res, picture := get(t, server.URL+link+"/pages/1.png", nil)
	if res.StatusCode != http.StatusOK || !strings.HasPrefix(picture, "\x89PNG") {
		t.Errorf("page picture: status %d", res.StatusCode)
	}
	for _, bad := range []string{"/pages/0.png", "/pages/999.png", "/pages/x.png"} {
		if res, _ := get(t, server.URL+link+bad, nil); res.StatusCode != http.StatusNotFound {
			t.Errorf("%s: status %d", bad, res.StatusCode)
		}
	}
	res, body := get(t, server.URL+"/sheets/none", nil)
	if res.StatusCode != http.StatusNotFound || !strings.Contains(body, "Drop it again") {
		t.Errorf("unknown sheet: %d", res.StatusCode)
	}
}

// plantedSheet is the demo's hardener sheet, whose amine is over the corrosive limit while section 2 says irritating.
func plantedSheet(t *testing.T) string {
	t.Helper()
	for _, item := range demo.Described().Products {
		for _, f := range item.Planted {
			if f.Kind == "corrosive-as-irritant" {
				return f.File
			}
		}
	}
	t.Fatal("the demo has no sheet with a corrosive classified as irritant")
	return ""
}
