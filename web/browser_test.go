package web_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

var update = flag.Bool("update", false, "write the screenshots of docs/screenshots anew")

// tab is one page of a headless Chromium, which make prepare installs, with what the page writes to its console.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu      sync.Mutex
	console []string
}

// newTab starts a browser.
func newTab(t *testing.T) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("chromium is not installed: run 'make prepare'")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.Flag("lang", "en-GB"), chromedp.UserDataDir(t.TempDir()))
	allocator, cancelAllocator := chromedp.NewExecAllocator(t.Context(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	ctx, cancelTimeout := context.WithTimeout(ctx, 8*time.Minute)
	t.Cleanup(func() { cancelTimeout(); cancel(); cancelAllocator() })
	b := &tab{t: t, ctx: ctx}
	err = chromedp.Listen(ctx, func(ev any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		switch e := ev.(type) {
		case *runtime.EventExceptionThrown:
			b.console = append(b.console, e.ExceptionDetails.Text)
		case *runtime.EventConsoleAPICalled:
			for _, a := range e.Args {
				b.console = append(b.console, string(a.Value))
			}
		case *log.EventEntryAdded:
			b.console = append(b.console, e.Entry.Text+" "+e.Entry.URL)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// must does steps and ends the test when one fails.
func (b *tab) must(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 90*time.Second)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		at, _ := chromedp.Run(b.ctx, chromedp.Location())
		text, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string](`document.body.innerText.slice(0, 1500)`))
		b.t.Fatalf("%v\nat %s\nconsole: %s\n%s", err, at, b.said(), text)
	}
}

// value runs an action and returns its result.
func value[T any](b *tab, a chromedp.Action[T]) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, 90*time.Second)
	defer cancel()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		at, _ := chromedp.Run(b.ctx, chromedp.Location())
		b.t.Fatalf("%v\nat %s\nconsole: %s", err, at, b.said())
	}
	return v
}

func (b *tab) said() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return strings.Join(b.console, "\n")
}

// quiet fails when the page wrote to its console.
func (b *tab) quiet(where string) {
	b.t.Helper()
	if said := b.said(); said != "" {
		b.t.Errorf("%s wrote to its console: %s", where, said)
		b.mu.Lock()
		b.console = nil
		b.mu.Unlock()
	}
}

// answered forgets what the browser itself says of answers with a status; everything else on the console stays.
func (b *tab) answered(status string) {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	of := func(line string) bool { return strings.Contains(line, "responded with a status of "+status) }
	if !slices.ContainsFunc(b.console, of) {
		b.t.Errorf("no answer with status %s: %s", status, b.console)
	}
	b.console = slices.DeleteFunc(b.console, of)
}

// until waits until an expression is true, whatever the page does meanwhile.
func (b *tab) until(expression string) bool {
	for deadline := time.Now().Add(60 * time.Second); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		if ok, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression)); err == nil && ok {
			return true
		}
	}
	return false
}

// see waits until words stand on the page.
func (b *tab) see(words string) {
	b.t.Helper()
	if b.until(fmt.Sprintf(`document.readyState === "complete" && document.body.innerText.includes(%q)`, words)) {
		return
	}
	at, _ := chromedp.Run(b.ctx, chromedp.Location())
	text, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string](`document.body.innerText.slice(0, 1500)`))
	b.t.Fatalf("the page at %s does not say %q\nconsole: %s\n%s", at, words, b.said(), text)
}

// set sets a field as a person would: its value, and the event that tells so.
func (b *tab) set(selector, text string) {
	b.t.Helper()
	b.must(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.focus(); e.value = %q; e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); })()`, selector, text)))
}

// press clicks the first button or link with these words inside a selector.
func (b *tab) press(within, words string) {
	b.t.Helper()
	ok := value(b, chromedp.Evaluate[bool](fmt.Sprintf(`(() => { for (const e of document.querySelectorAll(%q)) for (const x of e.querySelectorAll("button, a, summary")) if (x.textContent.trim().includes(%q)) { x.scrollIntoView(); x.click(); return true; } return false; })()`, within, words)))
	if !ok {
		b.t.Fatalf("nothing in %s says %q", within, words)
	}
}

// answerOf fetches an address with the browser's own session and gives the first bytes.
func (s site) answerOf(t *testing.T, path string) (string, []byte) {
	t.Helper()
	res, body := s.get(t, path, nil)
	if res.StatusCode != http.StatusOK {
		t.Fatalf("%s got %d: %.300s", path, res.StatusCode, body)
	}
	return res.Header.Get("Content-Type"), []byte(body)
}

// A person comes for the first time, puts a sheet on the shelf, reads its judgement, corrects a fact, checks the label,
// plans a job, prints a card, gets a new revision, writes to the supplier, and takes a backup to another shelf.
func TestTheWholeWay(t *testing.T) {
	s, b := newSite(t), newTab(t)
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	b.must(chromedp.EmulateViewport(1360, 900), chromedp.Navigate(s.URL))
	b.see("Welcome")
	b.set("input[name=who]", "Marit")
	b.set("input[name=workshop]", "Lantern Quay")
	b.press("main", "Begin with an empty shelf")
	b.see("The shelf is empty")

	b.must(chromedp.SetUploadFiles("input[type=file]", []string{write("hardener.pdf", previousOf(t, "murrelam-b"))}), chromedp.Click("form[data-upload] button"))
	b.see("on the shelf and will be read")
	s.settle(t)
	b.must(chromedp.Navigate(s.URL))
	b.see("Murrelam Hardener B")
	b.press("table", "Murrelam Hardener B")
	b.see("What it can do to you")

	at := s.product(t, "Murrelam Hardener B")
	b.must(chromedp.Navigate(s.URL + at + "/emergency#eye"))
	if !b.until(`document.querySelector("#eye") !== null`) {
		t.Error("there is nothing to do for the eye")
	}

	b.must(chromedp.Navigate(s.URL + at + "/correct?path=identification.product_code"))
	b.see("As read")
	b.set("input[name=value]", "ML-201")
	b.set("input[name=why]", "the tin says ML-201")
	b.press("main form", "Correct it")
	b.see("Corrected by Marit")
	b.addsMissedRow(s, at)

	b.must(chromedp.Navigate(s.URL + at + "/label"))
	b.see("What stands on the tin?")
	b.must(chromedp.Click("input[value=GHS07]"))
	b.see("The label beside the sheet") // follows without the button
	if n := value(b, chromedp.Evaluate[int](`document.querySelectorAll("#label-answer .finding").length`)); n == 0 {
		t.Error("a label without signal word and statements agrees with a sheet that has them")
	}
	b.axe("label, answered")
	b.picture("label-answered")
	b.must(chromedp.Navigate(s.URL + at + "/claims"))
	b.see("What is claimed?")
	b.set("textarea[name=text]", "No fumes, food safe, non-toxic.")
	b.see("What the papers say of it")
	b.axe("claims, answered")
	b.picture("claims-answered")

	b.must(chromedp.Navigate(s.URL + "/jobs/new?product=" + strings.TrimPrefix(at, "/products/")))
	b.see("Plan a job")
	b.set("input[name='task.0.amount']", "600")
	b.see("First of all")
	if n := value(b, chromedp.Evaluate[int](`document.querySelectorAll("#job-answer .chart svg").length`)); n == 0 {
		t.Error("the job has no chart")
	}
	b.axe("job, answered")
	b.press(".jobform", "Keep this job")
	b.see("The job is kept")

	b.must(chromedp.Navigate(s.URL + at + "/papers"))
	b.see("Make a bench card")
	b.press("#card + form", "Make the bench card")
	b.see("on record")
	card := value(b, chromedp.Evaluate[string](`document.querySelector("a[href$='.pdf']").getAttribute("href")`))
	if kind, raw := s.answerOf(t, card); kind != "application/pdf" || !bytes.HasPrefix(raw, []byte("%PDF-")) {
		t.Errorf("the card is %s, %.20q", kind, raw)
	}

	b.must(chromedp.Navigate(s.URL+at+"/revisions"), chromedp.SetUploadFiles("input[type=file]", []string{write("hardener-new.pdf", sheetOf(t, "murrelam-b"))}), chromedp.Click("form[data-upload] button"))
	b.see("on the shelf and will be read")
	s.settle(t)
	b.must(chromedp.Navigate(s.URL + at + "/revisions"))
	b.see("What changed in meaning")
	b.must(chromedp.Navigate(s.URL + "/papers?outdated=1"))
	b.see("outdated since")

	b.must(chromedp.Navigate(s.URL + at))
	b.see("contradiction")
	b.must(chromedp.Click(".finding a.where"))
	if n := value(b, chromedp.Evaluate[int](`document.querySelectorAll(".paperpage g.on rect").length`)); n == 0 {
		t.Error("no words are lit on the page of the sheet")
	}
	b.must(chromedp.Navigate(s.URL + at + "/questions"))
	b.see("The letter")
	b.press("main", "Keep these questions")
	b.see("kept as asked today")
	b.quiet("the way")

	b.restored(s)
}

// addsMissedRow adds an ingredient that the reader missed: the form refuses a code that there is not, keeps what was typed,
// and the judgement follows from the row; taken back, the sheet says what it said before.
func (b *tab) addsMissedRow(s site, at string) {
	b.t.Helper()
	b.must(chromedp.Navigate(s.URL + at + "/correct?section=3"))
	b.press("main", "Ingredient")
	b.see("Add what was missed: Ingredient")
	b.set("input[name='v.name']", "Quayol")
	b.set("input[name='v.percent']", "1-2")
	b.set("input[name='v.codes']", "h360D, H999")
	b.set("input[name=why]", "last row of the table on page 2")
	b.press("main form", "Add it")
	b.see("no statement has the code “H999”")
	if got := value(b, chromedp.Evaluate[string](`document.querySelector("input[name='v.name']").value`)); got != "Quayol" {
		b.t.Errorf("what was typed is lost: %q", got)
	}
	b.axe("a row that cannot be taken")
	b.answered("422")
	b.set("input[name='v.codes']", "h360D")
	b.press("main form", "Add it")
	b.see("Added by Marit")
	b.see("last row of the table on page 2")
	b.must(chromedp.Navigate(s.URL + at))
	b.see("unborn child") // a finding: section 2 does not say it
	b.must(chromedp.Navigate(s.URL + at + "/correct?add=composition.ingredients"))
	b.see("Quayol, 1 – 2 %, H360D")
	b.press("main", "Take the last added row back")
	b.see("was taken back")
	b.must(chromedp.Navigate(s.URL + at))
	b.see("What it can do to you")
	if text := value(b, chromedp.Evaluate[string](`document.body.innerText`)); strings.Contains(text, "unborn child") {
		b.t.Error("the row was taken back and its hazard stays")
	}
}

// restored takes a backup of a shelf and restores it into another.
func (b *tab) restored(s site) {
	b.t.Helper()
	_, raw := s.answerOf(b.t, "/settings/backup")
	path := filepath.Join(b.t.TempDir(), "backup.zip")
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		b.t.Fatal(err)
	}
	other := newSite(b.t)
	b.must(chromedp.Navigate(other.URL+"/settings"), chromedp.SetUploadFiles("input[name=backup]", []string{path}))
	b.press("main", "Restore it here")
	b.see("is restored")
	b.see("Murrelam Hardener B")
	b.must(chromedp.Navigate(other.URL + other.product(b.t, "Murrelam Hardener B") + "/revisions"))
	b.see("hardener-new.pdf")
	b.must(chromedp.Navigate(other.URL + "/questions"))
	b.see("Murrelam Hardener B")
}

// previousOf is the revision of a demo sheet before the one in force.
func previousOf(t *testing.T, id string) []byte {
	t.Helper()
	for _, item := range demo.Described().Products {
		if item.ID == id {
			raw, err := item.PrintedPrevious()
			if err != nil || raw == nil {
				t.Fatalf("no revision before of %s: %v", id, err)
			}
			return raw
		}
	}
	t.Fatalf("the demo has no product %s", id)
	return nil
}

// A document dropped on the field is sent, with its progress told, without the button.
func TestDropADocument(t *testing.T) {
	s, b := newSite(t), newTab(t)
	b.must(chromedp.Navigate(s.URL))
	b.press("main", "Begin with an empty shelf")
	b.see("The shelf is empty")
	drop := fmt.Sprintf(`(() => {
		const raw = atob(%q), bytes = Uint8Array.from(raw, c => c.charCodeAt(0));
		const transfer = new DataTransfer();
		transfer.items.add(new File([bytes], "resin.pdf", {type: "application/pdf"}));
		document.querySelector(".drop").dispatchEvent(new DragEvent("drop", {dataTransfer: transfer, bubbles: true, cancelable: true}));
		return transfer.files.length;
	})()`, base64.StdEncoding.EncodeToString(sheetOf(t, "murrelam-a")))
	if n := value(b, chromedp.Evaluate[int](drop)); n != 1 {
		t.Fatalf("dropped %d documents", n)
	}
	b.see("on the shelf and will be read")
	b.see("Murrelam Resin A") // the page looks again by itself
	b.quiet("dropping")
}

// shown is one screen of the application.
type shown struct{ name, path, wait string }

// screens lists every screen with something on it.
func (s site) screens(t *testing.T) []shown {
	t.Helper()
	hardener, resin := s.product(t, "Murrelam Hardener B"), s.product(t, "Kelphull Layup Resin")
	kit := strings.Replace(s.product(t, "Murrelam laminating epoxy"), "products", "kits", 1)
	jobs, err := s.shelf.Jobs(t.Context(), "")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("no job: %v", err)
	}
	papers, err := s.shelf.Papers(t.Context(), shelf.PaperFilter{})
	if err != nil || len(papers.Items) == 0 {
		t.Fatalf("no paper: %v", err)
	}
	return []shown{
		{"shelf", "/", "table"}, {"found", "/?q=hardner", "table"}, {"nothing-found", "/?q=zzzz", ".empty"},
		{"product", hardener, ".finding"}, {"emergency", hardener + "/emergency", "#eye"}, {"facts", hardener + "/facts", ".strip"},
		{"correct", hardener + "/correct?path=hazards.signal_word", "form"}, {"add-fact", hardener + "/correct?section=1", "main li"}, {"add-row", hardener + "/correct?add=composition.ingredients", "form"}, {"tour", hardener + "/tour", ".plainbox"}, {"label", hardener + "/label", ".ticks"},
		{"claims", hardener + "/claims", "textarea"}, {"revisions", hardener + "/revisions", ".finding"}, {"questions-product", hardener + "/questions", ".letter"},
		{"papers-product", hardener + "/papers", "form"}, {"stock", hardener + "/edit", "form"}, {"new-product", "/products/new", "form"},
		{"kit", kit, ".card"}, {"kit-form", kit + "/edit", "form"}, {"jobs", "/jobs", "table"}, {"job", "/jobs/" + jobs[0].ID, ".chart svg"}, {"new-job", "/jobs/new", "form"},
		{"compare", "/compare?id=" + strings.TrimPrefix(kit, "/kits/") + "&id=" + strings.TrimPrefix(resin, "/products/"), ".compared"}, {"compare-none", "/compare", ".empty"},
		{"questions", "/questions", "table"}, {"papers", "/papers", "table"}, {"paper", "/papers/" + papers.Items[0].ID, ".preview img"}, {"places", "/places", ".plainbox"},
		{"blend", "/blends?example=1", "form"}, {"settings", "/settings", "form"}, {"help", "/help", ".symbols"}, {"not-there", "/products/none", ".problem"},
	}
}

// fullSite is a site with the whole demo workshop on it, papers and questions among it.
func fullSite(t *testing.T) site {
	t.Helper()
	s := newSite(t)
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	if err := demo.Fill(t.Context(), s.shelf, "Marit", dir); err != nil {
		t.Fatal(err)
	}
	s.settle(t)
	hardener := s.product(t, "Murrelam Hardener B")
	for path, form := range map[string]map[string][]string{
		hardener + "/papers":    {"sort": {"label"}, "size": {"105x74"}, "lang1": {"en"}, "lang2": {"de"}, "ml": {"500"}},
		hardener + "/questions": {"lang": {"en"}},
	} {
		if res, body := s.post(t, path, form, nil); res.StatusCode != http.StatusOK {
			t.Fatalf("%s got %d: %.400s", path, res.StatusCode, body)
		}
	}
	return s
}

// Every screen, in both themes and at the width of a phone: nothing for axe-core to complain of, nothing on the console,
// nothing wider than the screen, no page heavier than 300 KB.
func TestEveryScreen(t *testing.T) {
	s, b := fullSite(t), newTab(t)
	all := s.screens(t)
	fresh := newSite(t)
	guarded := httptest.NewServer(web.New(web.Options{Shelf: s.shelf, Desk: s.desk, Guard: web.NewAccounts(s.shelf, web.AccountsOptions{})}).Handler())
	t.Cleanup(guarded.Close)
	all = append(all, shown{"welcome", fresh.URL + "/", "button"}, shown{"sign-in", guarded.URL + "/sign-in", "form"}, shown{"users", "/users", "form"})
	for _, screen := range all {
		at := screen.path
		if strings.HasPrefix(at, "/") {
			at = s.URL + at
		}
		b.theme("light")
		b.must(chromedp.EmulateViewport(1360, 900), chromedp.Navigate(at))
		if !b.until(fmt.Sprintf(`document.readyState === "complete" && document.querySelector(%q) !== null`, screen.wait)) {
			t.Errorf("%s: nothing fits %s", screen.name, screen.wait)
			continue
		}
		if screen.name == "not-there" {
			b.answered("404")
		}
		b.axe(screen.name + ", light")
		b.picture(screen.name)
		b.theme("dark")
		b.axe(screen.name + ", dark")
		if screen.name == "product" || screen.name == "shelf" || screen.name == "job" {
			b.picture(screen.name + "-dark")
		}
		b.theme("light")
		b.must(chromedp.EmulateViewport(360, 740))
		if wide := value(b, chromedp.Evaluate[int](`document.documentElement.scrollWidth`)); wide > 360 {
			t.Errorf("%s is %d px wide on a screen of 360 px: %s", screen.name, wide, value(b, chromedp.Evaluate[string](`[...document.querySelectorAll("main *")].filter(e => e.getBoundingClientRect().right > 361 && !e.closest(".scroll, .chart, .papers")).slice(0, 4).map(e => e.outerHTML.slice(0, 90)).join(" | ")`)))
		}
		b.axe(screen.name + ", phone")
		b.picture(screen.name + "-phone")
		if weight := value(b, chromedp.Evaluate[int](`performance.getEntriesByType("navigation")[0].decodedBodySize + performance.getEntriesByType("resource").filter(r => r.name.includes("/assets/")).reduce((n, r) => n + r.decodedBodySize, 0)`)); weight > 300<<10 {
			t.Errorf("%s weighs %d KB without the pictures of pages", screen.name, weight>>10)
		}
		b.quiet(screen.name)
	}
}

// theme makes the browser prefer light or dark.
func (b *tab) theme(scheme string) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}},
	})
	if err != nil {
		b.t.Fatal(err)
	}
}

// axe runs axe-core over the page and reports every violation of WCAG 2.2 AA and of its best practices.
func (b *tab) axe(where string) {
	b.t.Helper()
	if value(b, chromedp.Evaluate[bool](`typeof axe === "undefined"`)) {
		script, err := os.ReadFile(filepath.Join("testdata", "axe", "axe.min.js"))
		if err != nil {
			b.t.Fatal(err)
		}
		b.must(chromedp.Evaluate[chromedp.Void](string(script)))
	}
	found := value(b, chromedp.Evaluate[[]string](`axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations.map(v => v.id + ": " + v.help + " – " + v.nodes.slice(0, 3).map(n => n.target.join(" ") + " " + n.html.slice(0, 160) + " " + (n.any[0] ? n.any[0].message : "")).join(" | ")))`, chromedp.EvalAwaitPromise))
	for _, f := range found {
		b.t.Errorf("%s: %s", where, f)
	}
}

// picture keeps a screenshot for the documentation, in few colours so that it stays small.
func (b *tab) picture(name string) {
	b.t.Helper()
	if !*update {
		return
	}
	if !b.until(`[...document.images].filter(i => i.getBoundingClientRect().top < innerHeight).every(i => i.complete && i.naturalWidth > 0)`) {
		b.t.Errorf("%s: a picture was not drawn", name)
	}
	raw := value(b, chromedp.CaptureScreenshot())
	img, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		b.t.Fatal(err)
	}
	few := image.NewPaletted(img.Bounds(), mostUsed(img))
	draw.Draw(few, img.Bounds(), img, image.Point{}, draw.Src)
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&out, few); err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join("..", "docs", "screenshots", name+".png"), out.Bytes(), 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// mostUsed are the 256 colours that a picture uses most.
func mostUsed(img image.Image) color.Palette {
	count := map[color.RGBA]int{}
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			count[color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255}]++
		}
	}
	all := slices.SortedFunc(maps.Keys(count), func(a, b color.RGBA) int { return count[b] - count[a] })
	var out color.Palette
	for _, c := range all[:min(256, len(all))] {
		out = append(out, c)
	}
	return out
}

// With scripts turned off every screen can be read and printed, and its forms work.
func TestWithoutScripts(t *testing.T) {
	s, b := newSite(t), newTab(t)
	s.put(t, "murrelam-b")
	if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		b.must(chromedp.Navigate("about:blank"))
		if _, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
			t.Fatal(err)
		}
	}
	at := s.product(t, "Murrelam Hardener B")
	for path, want := range map[string]string{"/": "Murrelam Hardener B", at: "What it can do to you", at + "/facts": "Hazard statement", at + "/emergency": "In the eye", "/help": "How to read a sheet"} {
		b.must(chromedp.Navigate(s.URL + path))
		if text := value(b, chromedp.Evaluate[string](`document.querySelector("main").innerText`)); !strings.Contains(text, want) {
			t.Errorf("%s without scripts does not say %q", path, want)
		}
		if pdf := value(b, chromedp.PrintToPDF()); !bytes.HasPrefix(pdf, []byte("%PDF-")) || len(pdf) < 5000 {
			t.Errorf("%s does not print", path)
		}
	}
	b.must(chromedp.Navigate(s.URL + at + "/claims"))
	b.must(chromedp.Evaluate[chromedp.Void](`document.querySelector("textarea[name=text]").value = "No fumes, food safe, non-toxic"; document.querySelector("main form").requestSubmit()`))
	if !b.until(`document.querySelector("#claims-answer .finding") !== null`) {
		t.Fatal("the claims are not judged without scripts")
	}
	if text := value(b, chromedp.Evaluate[string](`document.querySelector("#claims-answer").innerText`)); !strings.Contains(text, "contradicted") {
		t.Errorf("no claim is contradicted: %.300s", text)
	}
}

// The judgement as one file needs nothing else, keeps to the content policy of its own, and has nothing for axe-core.
func TestOneFile(t *testing.T) {
	s, b := newSite(t), newTab(t)
	data := sheetOf(t, "murrelam-b")
	j, err := s.desk.Judge(t.Context(), "murrelam-b.pdf", data, judge.Request{})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "report.html")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(web.WriteFile(t.Context(), f, s.desk, j, data), f.Close()); err != nil {
		t.Fatal(err)
	}
	b.must(chromedp.EmulateViewport(1360, 900), chromedp.Navigate("file://"+path))
	b.see("What it can do to you")
	b.must(chromedp.Click(".finding a.where"))
	if n := value(b, chromedp.Evaluate[int](`document.querySelectorAll(".paperpage g.on rect").length`)); n == 0 {
		t.Error("no words are lit on the page of the sheet")
	}
	b.axe("one file")
	b.quiet("one file")
}
