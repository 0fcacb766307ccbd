package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

// Who works at once while the load is measured, and how fast a person turns pages.
const (
	loadReaders   = 50
	loadUploaders = 5
	readerPause   = 2 * time.Second // between two pages of one reader, half to one and a half times
	uploaderPause = 5 * time.Second // between two sheets of one uploader
)

// load prints what fifty people who read and five who upload meet on a shelf of 10,000 sheets, on each store that this
// machine has. It listens on loopback only and ends by itself after the given time on each store.
func load(ctx context.Context, args []string) error {
	lasts := 5 * time.Minute
	if len(args) > 0 {
		var err error
		if lasts, err = time.ParseDuration(args[0]); err != nil || lasts < 10*time.Second || lasts > 30*time.Minute {
			return fmt.Errorf("%q is no time from 10s to 30m: write for example 5m", args[0])
		}
	}
	fmt.Printf("%d readers (a page every %v), %d uploaders (a sheet every %v), %v on each store, %d products and %d sheets, server and users on the same %d processors.\n\n",
		loadReaders, readerPause, loadUploaders, uploaderPause, lasts, manyProducts, manySheets, runtime.NumCPU())
	fmt.Println("| store | what | requests | errors | median ms | p95 ms | longest ms |")
	fmt.Println("|---|---|---|---|---|---|---|")
	return onEachStore(ctx, func(ctx context.Context, store string, o shelf.Options, desk *judge.Desk) error {
		return loadStore(ctx, store, o, desk, lasts)
	})
}

// loadStore fills one store, lets the users work, and prints a row for each thing they did.
func loadStore(ctx context.Context, store string, o shelf.Options, desk *judge.Desk, lasts time.Duration) error {
	o.Desk = func(context.Context) (shelf.Desk, error) { return staying{desk}, nil }
	s, err := filledShelf(ctx, o, desk, manyProducts)
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.StartReading(ctx, 0); err != nil {
		return err
	}
	app := web.New(web.Options{Shelf: s, Desk: desk, Guard: web.Alone{Account: "figures"}})
	server := httptest.NewServer(app.Handler()) // loopback
	defer server.Close()
	ids, err := someProducts(ctx, s, 500)
	if err != nil {
		return err
	}
	out := &timings{by: map[string][]time.Duration{}, errs: map[string]int{}, heap: []uint64{heapMB()}}
	work(ctx, server.URL, ids, lasts, out)
	out.print(store)
	if err := allRead(ctx, s); err != nil { // the last uploads may wait still
		return err
	}
	p, err := s.Progress(ctx)
	if err != nil {
		return err
	}
	fmt.Printf("| %s | sheets uploaded and read | %d of %d | %d | | | |\n", store, p.Read-manySheets, out.uploads, p.Failed)
	fmt.Printf("| %s | memory in use before and after each quarter (MB) | %s | | | | |\n", store, strings.Trim(fmt.Sprint(out.heap), "[]"))
	return nil
}

// staying is a desk that its owner closes.
type staying struct{ *judge.Desk }

// Close does nothing.
func (staying) Close() error { return nil }

// heapMB is the memory that is in use after what is no longer needed was freed.
func heapMB() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc >> 20
}

// timings collects what users met.
type timings struct {
	mu      sync.Mutex
	by      map[string][]time.Duration
	errs    map[string]int
	uploads int
	heap    []uint64 // MB in use, before and after each quarter of the time
}

func (t *timings) note(what string, took time.Duration, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.by[what] = append(t.by[what], took)
	if err != nil {
		t.errs[what]++
		fmt.Fprintf(os.Stderr, "load: %s: %v\n", what, err)
	} else if what == "upload" {
		t.uploads++
	}
}

func (t *timings) print(store string) {
	for _, what := range []string{"shelf", "filtered", "search", "product", "facts", "places", "upload"} {
		took := slices.Sorted(slices.Values(t.by[what]))
		if len(took) == 0 {
			continue
		}
		at := func(q float64) float64 {
			return float64(took[min(int(q*float64(len(took))), len(took)-1)]) / float64(time.Millisecond)
		}
		fmt.Printf("| %s | %s | %d | %d | %.0f | %.0f | %.0f |\n", store, what, len(took), t.errs[what], at(0.5), at(0.95), at(1))
	}
}

// work lets all users work for the given time.
func work(ctx context.Context, base string, ids []string, lasts time.Duration, out *timings) {
	ctx, cancel := context.WithTimeout(ctx, lasts)
	defer cancel()
	looks := make(chan struct{})
	go func() {
		defer close(looks)
		for range 4 {
			select {
			case <-ctx.Done(): // the fourth quarter is over
			case <-time.After(lasts / 4):
			}
			out.heap = append(out.heap, heapMB())
		}
	}()
	defer func() { <-looks }()
	client := &http.Client{Timeout: time.Minute, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }, Transport: &http.Transport{MaxIdleConnsPerHost: loadReaders + loadUploaders}}
	var all sync.WaitGroup
	for i := range loadReaders {
		all.Go(func() { reader(ctx, client, base, ids, rand.New(rand.NewPCG(uint64(i), 7)), out) })
	}
	for i := range loadUploaders {
		all.Go(func() { uploader(ctx, client, base, i, out) })
	}
	all.Wait()
}

// reader opens one page after the other as a person would: mostly products, often the list and the search.
func reader(ctx context.Context, client *http.Client, base string, ids []string, random *rand.Rand, out *timings) {
	words := []string{"resin", "varnish", "kelgard", "100-42-5", "halyard coat", "adhesiv"}
	for rest(ctx, readerPause, random) {
		id := ids[random.IntN(len(ids))]
		what, path := "product", "/products/"+id
		switch n := random.IntN(20); {
		case n < 4:
			what, path = "shelf", "/"
		case n < 6:
			what, path = "filtered", "/?signal=Danger"
		case n < 10:
			what, path = "search", "/?q="+url.QueryEscape(words[random.IntN(len(words))])
		case n < 12:
			what, path = "facts", "/products/"+id+"/facts"
		case n < 13:
			what, path = "places", "/places"
		}
		began := time.Now()
		err := get(ctx, client, base+path)
		if ctx.Err() != nil {
			return
		}
		out.note(what, time.Since(began), err)
	}
}

// uploader puts one generated sheet after the other on the shelf, each different.
func uploader(ctx context.Context, client *http.Client, base string, who int, out *timings) {
	random := rand.New(rand.NewPCG(uint64(who), 9))
	generated := demo.Generated{Seed: uint64(7000 + who)}
	for i := 0; rest(ctx, uploaderPause, random); i++ {
		data, _, err := generated.Sheet(i)
		if err != nil {
			continue // a recipe that has no room for a part; the next one has
		}
		began := time.Now()
		err = post(ctx, client, base+"/upload", fmt.Sprintf("upload-%d-%d.pdf", who, i), data)
		if ctx.Err() != nil {
			return
		}
		out.note("upload", time.Since(began), err)
	}
}

// rest waits about so long; false when the time is over.
func rest(ctx context.Context, pause time.Duration, random *rand.Rand) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(time.Duration((0.5 + random.Float64()) * float64(pause))):
		return true
	}
}

func get(ctx context.Context, client *http.Client, address string) error {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return err
	}
	return answered(client, req)
}

func post(ctx context.Context, client *http.Client, address, name string, data []byte) error {
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	part, err := form.CreateFormFile("file", name)
	if err != nil {
		return err
	}
	if _, err := part.Write(data); err != nil {
		return err
	}
	if err := form.Close(); err != nil {
		return err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, address, &body)
	if err != nil {
		return err
	}
	req.Header.Set("Content-Type", form.FormDataContentType())
	return answered(client, req)
}

// answered fails when the answer is an error.
func answered(client *http.Client, req *http.Request) error {
	resp, err := client.Do(req)
	if err != nil {
		return err
	}
	defer resp.Body.Close()
	if _, err := io.Copy(io.Discard, resp.Body); err != nil {
		return err
	}
	if resp.StatusCode >= 400 {
		return fmt.Errorf("%s %s: %s", req.Method, req.URL.Path, resp.Status)
	}
	return nil
}
