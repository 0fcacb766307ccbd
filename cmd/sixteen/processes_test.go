package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"sixteen/shelf/shelftest"
)

// process is a running process of the program.
type process struct {
	cmd  *exec.Cmd
	at   string // address of its pages; "" when it has none
	said *bytes.Buffer
	done chan struct{} // closed when its output has ended
}

// start runs the program with a shelf and waits until it says what ready matches.
func start(t *testing.T, store []string, ready string, args ...string) *process {
	t.Helper()
	p := &process{cmd: exec.Command(os.Args[0], append(args, store...)...), said: &bytes.Buffer{}, done: make(chan struct{})}
	p.cmd.Env = append(os.Environ(), asProgram+"=1")
	out, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	p.cmd.Stdout, p.cmd.Stderr = in, in
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in.Close()
	t.Cleanup(func() { p.kill() })
	found := make(chan string, 1)
	go func() {
		defer close(p.done)
		pattern := regexp.MustCompile(ready)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			fmt.Fprintln(p.said, lines.Text())
			if m := pattern.FindString(lines.Text()); m != "" {
				select {
				case found <- m:
				default:
				}
			}
		}
	}()
	select {
	case p.at = <-found:
	case <-p.done:
		t.Fatalf("%v ended: %s", args, p.said)
	case <-time.After(2 * time.Minute):
		t.Fatalf("%v did not get ready", args)
	}
	return p
}

// kill ends the process as a power cut would.
func (p *process) kill() {
	if p.cmd.ProcessState == nil {
		p.cmd.Process.Kill() // it may have ended by itself
		p.cmd.Wait()         // its status says only that it was killed
	}
	<-p.done
}

func (p *process) ask(t *testing.T, method, path, kind string, body io.Reader, into any) int {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, p.at+path, body)
	if err != nil {
		t.Fatal(err)
	}
	if kind != "" {
		r.Header.Set("Content-Type", kind)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	if into != nil {
		if err := json.Unmarshal(data, into); err != nil {
			t.Fatalf("%s %s: %d %s", method, path, answer.StatusCode, data)
		}
	}
	return answer.StatusCode
}

// upload puts a sheet of a product on the shelf.
func (p *process) upload(t *testing.T, product string) {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	file, err := form.CreateFormFile("document", strings.ReplaceAll(product, " ", "-")+".pdf")
	if err != nil {
		t.Fatal(err)
	}
	data := textPDF(t, 1, "SAFETY DATA SHEET\nSection 1: Identification\nProduct name: "+product+"\nSection 2: Hazards identification\nNot classified\nSection 3: Composition\nWater 7732-18-5 100 %\nSection 4: First-aid measures\nRinse.\nSection 5: Fire-fighting measures\nDoes not burn.\n", nil)
	if _, err := file.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := form.Close(); err != nil {
		t.Fatal(err)
	}
	if status := p.ask(t, "POST", "/api/sheets", form.FormDataContentType(), &body, nil); status/100 != 2 {
		t.Fatalf("the upload of %s got %d", product, status)
	}
}

type readingNow struct {
	Waiting int
	Reading []string
	Read    int
	Failed  int
}

// until asks for the progress of reading until it is as wanted.
func (p *process) until(t *testing.T, what string, is func(readingNow) bool) readingNow {
	t.Helper()
	deadline := time.Now().Add(2 * time.Minute)
	for {
		var now readingNow
		p.ask(t, "GET", "/api/reading", "", nil, &now)
		if is(now) {
			return now
		}
		if time.Now().After(deadline) {
			t.Fatalf("never %s: %+v", what, now)
		}
		time.Sleep(5 * time.Millisecond)
	}
}

func allRead(n int) func(readingNow) bool {
	return func(p readingNow) bool { return p.Waiting == 0 && len(p.Reading) == 0 && p.Read == n && p.Failed == 0 }
}

// Two processes with pages and one that reads share a shelf: what is put in at one is found at the other; of two people who
// correct one fact at the same moment at different processes one wins and the other is told; when the one that reads is
// killed the pages go on, and another reads the rest, each document once.
func TestProcessesShareAShelf(t *testing.T) {
	keepCache(t)
	for name, store := range map[string]func(t *testing.T) []string{
		"SQLite": func(t *testing.T) []string {
			return []string{"--shelf", filepath.Join(t.TempDir(), "shelf.sqlite")}
		},
		"PostgreSQL": func(t *testing.T) []string {
			cluster, err := shelftest.StartPostgres()
			if errors.Is(err, shelftest.ErrNoPostgres) && os.Getenv("CI") == "" {
				t.Skip(err)
			}
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { cluster.Stop() }) // nothing of it is needed any more
			address, err := cluster.Database()
			if err != nil {
				t.Fatal(err)
			}
			return []string{"--shelf", address, "--documents", t.TempDir()}
		},
	} {
		t.Run(name, func(t *testing.T) { shareAShelf(t, store(t)) })
	}
}

func shareAShelf(t *testing.T, store []string) {
	pages := func() *process {
		return start(t, store, `http://[0-9.:]+`, "serve", "--listen", "127.0.0.1:0", "--readers=-1")
	}
	reader := func() *process { return start(t, store, "reading what waits", "work", "--readers", "1") }
	first, second, reads := pages(), pages(), reader()

	first.upload(t, "Slipway Wax")
	second.until(t, "read", allRead(1))
	var products struct {
		Total int
		Items []struct{ Name, Sheet string }
	}
	second.ask(t, "GET", "/api/products", "", nil, &products)
	if products.Total != 1 || products.Items[0].Name != "Slipway Wax" {
		t.Fatalf("the other process shows %+v", products)
	}

	corrections := "/api/sheets/" + products.Items[0].Sheet + "/corrections"
	var status [2]int
	var both sync.WaitGroup
	for i, p := range []*process{first, second} {
		both.Go(func() {
			body := fmt.Sprintf(`{"path": "identification.product_name", "value": "Slipway Wax %d", "why": "it stands on the tin"}`, i)
			status[i] = p.ask(t, "POST", corrections, "application/json", strings.NewReader(body), nil)
		})
	}
	both.Wait()
	won := 0
	if status[1]/100 == 2 {
		won = 1
	}
	if status[won]/100 != 2 || status[1-won] != http.StatusPreconditionFailed {
		t.Errorf("two corrections of one fact at the same moment got %v", status)
	}
	for _, p := range []*process{first, second} {
		var hold []struct{ Value json.RawMessage }
		p.ask(t, "GET", corrections, "", nil, &hold)
		if len(hold) != 1 || string(hold[0].Value) != fmt.Sprintf(`"Slipway Wax %d"`, won) {
			t.Errorf("%d corrections hold: %s", len(hold), hold)
		}
	}

	// The one that reads is killed while it reads.
	for i := range 12 {
		second.upload(t, fmt.Sprintf("Halyard Grease %d", i))
	}
	second.until(t, "reading", func(p readingNow) bool { return len(p.Reading) > 0 || p.Waiting == 0 })
	reads.kill()
	for _, p := range []*process{first, second} {
		if status := p.ask(t, "GET", "/", "", nil, nil); status != http.StatusOK {
			t.Errorf("after the reader was killed a page got %d", status)
		}
	}
	first.upload(t, "Rudder Oil")
	if now := second.until(t, "waiting", func(p readingNow) bool { return p.Waiting > 0 }); now.Read == 14 {
		t.Errorf("read without a reader: %+v", now)
	}
	reader()
	first.until(t, "read to the end", allRead(14))
	second.ask(t, "GET", "/api/products", "", nil, &products)
	names := map[string]bool{}
	for _, p := range products.Items {
		names[p.Name] = true
	}
	if products.Total != 14 || len(names) != 14 {
		t.Errorf("%d products with %d names", products.Total, len(names))
	}

	// Those with pages end in good order when asked to, one after the other, and the other goes on.
	if err := second.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	<-second.done
	if err := second.cmd.Wait(); err != nil {
		t.Errorf("asked to end, the process said %v: %s", err, second.said)
	}
	if status := first.ask(t, "GET", "/", "", nil, nil); status != http.StatusOK {
		t.Errorf("after the other process ended a page got %d", status)
	}
}
