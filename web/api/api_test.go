package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
	"sixteen/web/api"
)

// noClose is the desk of a test given to the queue, which must not close it.
type noClose struct{ *judge.Desk }

func (noClose) Close() error { return nil }

// site is a server with the API on a shelf of its own.
type site struct {
	*httptest.Server
	shelf *shelf.Shelf
}

// newSite serves a shelf without users, or with accounts.
func newSite(t testing.TB, accounts bool) site {
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
	if err := s.StartReading(t.Context(), 1); err != nil {
		t.Fatal(err)
	}
	var guard interface {
		web.Guard
		web.Entrance
	} = web.Alone{Account: "Marit"}
	if accounts {
		guard = web.NewAccounts(s, web.AccountsOptions{})
	}
	app := web.New(web.Options{Shelf: s, Desk: desk, Guard: guard})
	app.Mount("/api/", api.New(api.Options{App: app, Shelf: s, Desk: desk, Entrance: guard}))
	server := httptest.NewServer(app.Handler())
	t.Cleanup(server.Close)
	return site{server, s}
}

// reply is an answer with its body decoded.
type reply struct {
	*http.Response
	raw  string
	body map[string]any
}

// call sends a request; body is JSON text, "" for none.
func (s site) call(t testing.TB, method, path, body string, headers ...string) reply {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), method, s.URL+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if body != "" {
		req.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	return s.send(t, req)
}

func (s site) send(t testing.TB, req *http.Request) reply {
	t.Helper()
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	raw, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	out := reply{Response: res, raw: string(raw)}
	_ = json.Unmarshal(raw, &out.body) // lists and files have no members
	return out
}

// upload sends documents by their names.
func (s site) upload(t testing.TB, query string, documents ...any) reply {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i < len(documents); i += 2 {
		part, err := form.CreateFormFile("document", documents[i].(string))
		if err != nil {
			t.Fatal(err)
		}
		part.Write(documents[i+1].([]byte))
	}
	form.Close()
	req, err := http.NewRequestWithContext(t.Context(), "POST", s.URL+"/api/sheets"+query, &body)
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", form.FormDataContentType())
	return s.send(t, req)
}

// settle waits until nothing is being read.
func (s site) settle(t testing.TB) {
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

// sheetOf prints the sheet of a product of the demo workshop.
func sheetOf(t testing.TB, id string) []byte {
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

// isProblem fails unless an answer is a problem document with that status, which says what happened.
func isProblem(t testing.TB, what string, r reply, status int) {
	t.Helper()
	if r.StatusCode != status || !strings.HasPrefix(r.Header.Get("Content-Type"), "application/problem+json") || r.body["status"] != float64(status) || r.body["detail"] == "" || r.body["title"] == "" {
		t.Errorf("%s: got %d %s %.300s, wanted a problem with %d", what, r.StatusCode, r.Header.Get("Content-Type"), r.raw, status)
	}
}

// The commands of docs/api.md do what it says.
func TestWalkOfTheGuide(t *testing.T) {
	for _, tool := range []string{"bash", "curl", "jq"} {
		if _, err := exec.LookPath(tool); err != nil && os.Getenv("CI") == "" {
			t.Skipf("%s is not installed on this machine; where tests run for everybody it has to be", tool)
		}
	}
	guide, err := os.ReadFile("../../docs/api.md")
	if err != nil {
		t.Fatal(err)
	}
	script := "set -euo pipefail\n"
	blocks := regexp.MustCompile("(?s)```sh\n(.*?)```").FindAllStringSubmatch(string(guide), -1)
	for _, b := range blocks {
		script += b[1]
	}
	if len(blocks) < 8 {
		t.Fatalf("the guide has %d blocks of commands", len(blocks))
	}
	s, dir := newSite(t, false), t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "murrelam-b.pdf"), sheetOf(t, "murrelam-b"), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), "bash", "-x")
	cmd.Dir, cmd.Stdin, cmd.Env = dir, strings.NewReader(script), append(os.Environ(), "AT="+s.URL, "SHEETS="+dir)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("the walk ends with %v:\n%s", err, out)
	}
	page, err := s.shelf.Products(t.Context(), shelf.ProductFilter{})
	if err != nil || page.Total != 1 || page.Items[0].Name != "Hardener of the loft" || page.Items[0].Code != "B-2" {
		t.Errorf("after the walk the shelf holds %+v, %v", page.Items, err)
	}
	for file, begins := range map[string]string{"label.pdf": "%PDF-", "register.csv": "\ufeff", "shelf.zip": "PK"} {
		if raw, err := os.ReadFile(filepath.Join(dir, file)); err != nil || !strings.HasPrefix(string(raw), begins) {
			t.Errorf("%s begins %.10q, %v", file, raw, err)
		}
	}
}
