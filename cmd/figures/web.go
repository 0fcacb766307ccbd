package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

// pages prints the server time of each main screen on a large shelf, the weight of each page, and the time from starting
// the program to its first page. The shelf holds n products with two revisions each; their sheets are variations of a few
// generated ones that were read once, since reading is not what is measured here.
func pages(ctx context.Context, args []string) error {
	if len(args) > 0 && args[0] == "upload" {
		return uploadOnly(ctx)
	}
	n := 5000
	if len(args) > 0 {
		var err error
		if n, err = strconv.Atoi(args[0]); err != nil || n < 10 {
			return fmt.Errorf("%q is no number of products: use 10 or more", args[0])
		}
	}
	dir, err := os.MkdirTemp("", "sixteen-figures-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	desk, err := judge.Open(ctx, judge.Options{})
	if err != nil {
		return err
	}
	defer desk.Close()
	began := time.Now()
	s, err := filledShelf(ctx, shelf.Options{URL: filepath.Join(dir, "shelf.sqlite")}, desk, n)
	if err != nil {
		return err
	}
	defer s.Close()
	ids, err := someProducts(ctx, s, 1000)
	if err != nil {
		return err
	}
	fmt.Printf("A shelf of %d products with two sheets each, filled in %.0f s. Times are of the server, without the network.\n\n", n, time.Since(began).Seconds())
	fmt.Println("| screen | median | 95 of 100 within | goal | processor time each | weight of the page | goal |")
	fmt.Println("|---|---|---|---|---|---|---|")
	app := web.New(web.Options{Shelf: s, Desk: desk, Guard: web.Alone{Account: "figures"}})
	if err := measureScreens(app.Handler(), ids, n); err != nil {
		return err
	}
	program, err := built(ctx, dir)
	if err != nil {
		return err
	}
	if err := coldStart(ctx, dir, program); err != nil {
		return err
	}
	return uploading(ctx, dir, program)
}

// uploadOnly prints the last of the figures alone.
func uploadOnly(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "sixteen-figures-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, err := built(ctx, dir)
	if err != nil {
		return err
	}
	return uploading(ctx, dir, program)
}

// built is the program, built into a folder.
func built(ctx context.Context, dir string) (string, error) {
	program := filepath.Join(dir, "sixteen")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", program, "./cmd/sixteen").CombinedOutput(); err != nil {
		return "", fmt.Errorf("the program cannot be built: %w: %s", err, out)
	}
	return program, nil
}

// measureScreens asks for each screen again and again and prints its times and its weight.
func measureScreens(h http.Handler, ids []string, n int) error {
	const rounds = 100
	random := rand.New(rand.NewPCG(3, 4))
	one := func(format string) func() string {
		return func() string { return fmt.Sprintf(format, ids[random.IntN(len(ids))]) }
	}
	fixed := func(path string) func() string { return func() string { return path } }
	assets, err := weightOf(h, "/assets/page.css", "/assets/page.js")
	if err != nil {
		return err
	}
	for _, screen := range []struct {
		name, goal string
		path       func() string
	}{
		{"shelf", "100 ms", fixed("/")},
		{"shelf, a page further on", "100 ms", func() string { return fmt.Sprintf("/?page=%d", 1+random.IntN(max(1, n/50))) }},
		{"shelf, filtered and ordered", "100 ms", fixed("/?signal=Danger&flammable=1&order=worst")},
		{"search", "30 ms", func() string { return "/?q=" + url.QueryEscape(inventedName(random.IntN(n))) }},
		{"search with a spelling mistake", "30 ms", func() string { return "/?q=" + url.QueryEscape(mistyped(inventedName(random.IntN(n)), random)) }},
		{"product", "100 ms", one("/products/%s")}, {"what to do now", "100 ms", one("/products/%s/emergency")}, {"facts", "100 ms", one("/products/%s/facts")}, {"tour", "100 ms", one("/products/%s/tour")},
		{"label", "100 ms", one("/products/%s/label")}, {"claims", "100 ms", one("/products/%s/claims")}, {"revisions", "100 ms", one("/products/%s/revisions")}, {"questions", "100 ms", one("/products/%s/questions")},
		{"papers of a product", "100 ms", one("/products/%s/papers")}, {"where it stands", "100 ms", one("/products/%s/edit")},
		{"comparison of two", "100 ms", func() string {
			return "/compare?id=" + ids[random.IntN(len(ids))] + "&id=" + ids[random.IntN(len(ids))]
		}},
		{"jobs", "100 ms", fixed("/jobs")}, {"places", "100 ms", fixed("/places")}, {"settings", "100 ms", fixed("/settings")}, {"help", "100 ms", fixed("/help")},
	} {
		var took []time.Duration
		weight := 0
		before := ownCPU()
		for range rounds {
			began := time.Now()
			bytes, err := weightOf(h, screen.path())
			if err != nil {
				return err
			}
			took = append(took, time.Since(began))
			weight = max(weight, bytes)
		}
		cpu := (ownCPU() - before) / rounds
		slices.Sort(took)
		fmt.Printf("| %s | %.1f ms | %.1f ms | %s | %.1f ms | %d KB | 300 KB |\n", screen.name, ms(took[rounds/2]), ms(took[rounds*95/100-1]), screen.goal, ms(cpu), (weight+assets)>>10)
	}
	return nil
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

// weightOf asks for addresses and gives their bytes together.
func weightOf(h http.Handler, paths ...string) (int, error) {
	total := 0
	for _, path := range paths {
		r := httptest.NewRequest(http.MethodGet, "http://localhost"+path, nil)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			return 0, fmt.Errorf("%s got %d", path, w.Code)
		}
		total += w.Body.Len()
	}
	return total, nil
}

// mistyped swaps two letters of a name.
func mistyped(name string, random *rand.Rand) string {
	i := 1 + random.IntN(len(name)-6)
	b := []byte(name)
	b[i], b[i+1] = b[i+1], b[i]
	return string(b)
}

// coldStart prints the time from starting the program to its first page, with the PDF reader prepared before.
func coldStart(ctx context.Context, dir, program string) error {
	var best time.Duration
	for i := range 5 {
		began := time.Now()
		var took time.Duration
		err := serving(ctx, program, filepath.Join(dir, fmt.Sprintf("cold-%d.sqlite", i)), fmt.Sprintf("127.0.0.1:%d", 18916+i), func(string, *exec.Cmd) error {
			took = time.Since(began)
			return nil
		})
		if err != nil {
			return err
		}
		if i > 0 && (best == 0 || took < best) { // the first run fills the caches
			best = took
		}
	}
	fmt.Printf("\nFrom starting the program to its first page, caches warm: %.0f ms (goal 1000 ms).\n", ms(best))
	return nil
}

// serving starts the program on a shelf, runs f as soon as its first page is there, and ends it.
func serving(ctx context.Context, program, file, address string, f func(base string, server *exec.Cmd) error) error {
	cmd := exec.CommandContext(ctx, program, "serve", "--shelf", file, "--listen", address)
	if err := cmd.Start(); err != nil {
		return err
	}
	defer func() {
		_ = cmd.Process.Signal(os.Interrupt) // it may have ended already
		_ = cmd.Wait()                       // its status tells nothing here
	}()
	deadline := time.After(time.Minute)
	for {
		res, err := http.Get("http://" + address + "/")
		if err == nil {
			res.Body.Close()
			return f("http://"+address, cmd)
		}
		select {
		case <-deadline:
			return fmt.Errorf("the program did not answer within a minute")
		case <-time.After(5 * time.Millisecond):
		}
	}
}

// cpuOf is the processor time that a running process has taken, 0 where the system does not tell.
func cpuOf(pid int) time.Duration {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(raw), ") ")
	fields := strings.Fields(after)
	if len(fields) < 13 {
		return 0
	}
	var ticks time.Duration
	for _, field := range fields[11:13] { // utime and stime, in hundredths of a second (proc(5))
		n, err := strconv.Atoi(field)
		if err != nil {
			return 0
		}
		ticks += time.Duration(n)
	}
	return ticks * 10 * time.Millisecond
}
