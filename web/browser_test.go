package web_test

import (
	"context"
	"encoding/base64"
	"flag"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/web"
)

var update = flag.Bool("update", false, "write the screenshots of docs/screenshots anew")

// browser starts headless Chromium, which make prepare installs, and collects what the page writes to its console.
func browser(t *testing.T) (context.Context, *[]string) {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("chromium is not installed: run 'make prepare'")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true), chromedp.UserDataDir(t.TempDir()))
	allocator, cancelAllocator := chromedp.NewExecAllocator(t.Context(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	ctx, cancelTimeout := context.WithTimeout(ctx, 90*time.Second)
	t.Cleanup(func() { cancelTimeout(); cancel(); cancelAllocator() })
	console := &[]string{}
	err = chromedp.Listen(ctx, func(ev any) {
		switch e := ev.(type) {
		case *runtime.EventExceptionThrown:
			*console = append(*console, e.ExceptionDetails.Text)
		case *runtime.EventConsoleAPICalled:
			for _, a := range e.Args {
				*console = append(*console, string(a.Value))
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return ctx, console
}

// value runs an action of the browser and returns its result.
func value[T any](t *testing.T, ctx context.Context, a chromedp.Action[T]) T {
	t.Helper()
	v, err := chromedp.Run(ctx, a)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A person drops a sheet on the page and sees its judgement with the evidence marked on the page beside it.
func TestDropASheet(t *testing.T) {
	desk, err := judge.Open(t.Context(), judge.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer desk.Close()
	server := httptest.NewServer(web.NewServer(desk).Handler())
	defer server.Close()
	dir := t.TempDir()
	if err := demo.Write(dir); err != nil {
		t.Fatal(err)
	}
	name := plantedSheet(t)
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	ctx, console := browser(t)
	drop := fmt.Sprintf(`(() => {
		const raw = atob(%q), bytes = Uint8Array.from(raw, c => c.charCodeAt(0));
		const transfer = new DataTransfer();
		transfer.items.add(new File([bytes], %q, {type: "application/pdf"}));
		document.querySelector(".drop").dispatchEvent(new DragEvent("drop", {dataTransfer: transfer, bubbles: true, cancelable: true}));
		return transfer.files.length;
	})()`, base64.StdEncoding.EncodeToString(data), filepath.Base(name))
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%v\nconsole: %s", err, strings.Join(*console, "\n"))
		}
	}
	must(chromedp.Do(ctx, chromedp.EmulateViewport(1360, 900), chromedp.Navigate(server.URL), chromedp.WaitVisible(".drop")))
	dropped := value(t, ctx, chromedp.Evaluate[int](drop))
	must(chromedp.Do(ctx, chromedp.WaitVisible(".finding")))
	title := value(t, ctx, chromedp.Text("h1"))
	finding := value(t, ctx, chromedp.Text(".finding"))
	must(chromedp.Do(ctx, chromedp.Click(".finding a.where")))
	marked := value(t, ctx, chromedp.Evaluate[int](`document.querySelectorAll(".paperpage g.on rect").length`))
	loaded := value(t, ctx, chromedp.Poll[bool](`[...document.images].filter(i => i.getBoundingClientRect().top < innerHeight).every(i => i.complete && i.naturalWidth > 0)`))
	desktop := value(t, ctx, chromedp.CaptureScreenshot())
	_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}},
	})
	must(err)
	dark := value(t, ctx, chromedp.CaptureScreenshot())
	must(chromedp.Do(ctx, chromedp.EmulateViewport(360, 740)))
	wide := value(t, ctx, chromedp.Evaluate[int](`document.documentElement.scrollWidth`))
	phone := value(t, ctx, chromedp.CaptureScreenshot())
	if !loaded {
		t.Error("a page picture was not drawn")
	}
	if wide > 360 {
		t.Errorf("the page is %d px wide on a screen of 360 px", wide)
	}
	if dropped != 1 || marked < 1 {
		t.Errorf("dropped %d files, %d boxes marked", dropped, marked)
	}
	if title == "" || !strings.Contains(finding, "What to do") {
		t.Errorf("title %q, first finding %q", title, finding)
	}
	if len(*console) > 0 {
		t.Errorf("the page wrote to its console: %s", strings.Join(*console, "\n"))
	}
	if *update {
		for name, png := range map[string][]byte{"judgement.png": desktop, "judgement-dark.png": dark, "judgement-phone.png": phone} {
			if err := os.WriteFile(filepath.Join("..", "docs", "screenshots", name), png, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
