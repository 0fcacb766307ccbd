// Command figures measures speed and accuracy and prints each figure beside its reference, taken in the same run.
// docs/figures.md holds the last printed figures and says how to make them again.
//
//	figures            speed of the main job, of classification, and memory
//	figures reading    the reader's accuracy, field by field, on generated sheets
//	figures plain      how hard the sentences for newcomers are to read
//	figures plan       speed and numerical error of the air model
//	figures web [N]    server time and weight of each screen on a shelf of N (5000) products, and cold start
//	figures audit      planted faults found, and contradictions in sheets without any; "misses [SEED]" lists each miss, "sheet SEED [FAULT]" writes one of the sheets
//	figures shelf      how long the questions of the pages take on a shelf with 5,000 products and 10,000 sheets
//	figures room [N]   bytes and processor time of a sheet on each store, from N (400) generated sheets, and what that makes of a million
//	figures load [T]   what fifty readers and five uploaders meet for the time T (5m) on each store, with 10,000 sheets
package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/sync/errgroup"

	"sixteen/demo"
	"sixteen/judge"
)

func main() {
	what := "speed"
	if len(os.Args) > 1 {
		what = os.Args[1]
	}
	var err error
	switch what {
	case "speed":
		err = speed(context.Background())
	case "reading":
		err = reading(context.Background())
	case "audit":
		err = auditFigures(context.Background(), os.Args[2:])
	case "plain":
		plainFigures()
	case "plan":
		err = planning(context.Background())
	case "web":
		err = pages(context.Background(), os.Args[2:])
	case "shelf":
		err = shelving(context.Background())
	case "room":
		err = room(context.Background(), os.Args[2:])
	case "load":
		err = load(context.Background(), os.Args[2:])
	default:
		err = fmt.Errorf("no figures named %q: use none, \"reading\", \"audit\", \"plan\", \"web\", \"shelf\", \"room\" or \"load\"", what)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "figures:", err)
		os.Exit(1)
	}
}

// speed prints the figures of the main job and of classification.
func speed(ctx context.Context) error {
	dir, err := os.MkdirTemp("", "sixteen-figures-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if _, err := exec.LookPath("pdftotext"); err != nil {
		return fmt.Errorf("pdftotext is the reference of these figures and is not installed: run 'make prepare'")
	}
	if err := demo.WriteGenerated(dir, demo.Generated{N: 32, Seed: 7}); err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
	if err != nil {
		return err
	}
	slices.Sort(files)
	fmt.Printf("Measured on %d generated text sheets; ratios are of one run on one machine.\n\n", len(files))
	fmt.Println("| figure | here | reference | ratio | goal |")
	fmt.Println("|---|---|---|---|---|")
	if err := perPage(ctx, files); err != nil {
		return err
	}
	if err := startToAnswer(dir, files); err != nil {
		return err
	}
	return classification()
}

// perPage compares the processor time of read and check in a warm process with pdftotext -layout on the same files.
func perPage(ctx context.Context, files []string) error {
	desk, err := judge.Open(ctx, judge.Options{})
	if err != nil {
		return err
	}
	defer desk.Close()
	data := make([][]byte, len(files))
	for i, f := range files {
		if data[i], err = os.ReadFile(f); err != nil {
			return err
		}
	}
	pages := 0
	pass := func() error {
		pages = 0
		for i, f := range files {
			j, err := desk.Judge(ctx, filepath.Base(f), data[i], judge.Request{})
			if err != nil {
				return fmt.Errorf("%s: %w", filepath.Base(f), err)
			}
			pages += len(j.Sheet.Source.Pages)
		}
		return nil
	}
	if err := pass(); err != nil { // warm
		return err
	}
	before, started := ownCPU(), time.Now()
	if err := pass(); err != nil {
		return err
	}
	ours, wall := ownCPU()-before, time.Since(started)
	theirs := childCPU()
	for _, f := range files {
		if out, err := exec.Command("pdftotext", "-layout", f, "-").CombinedOutput(); err != nil {
			return fmt.Errorf("pdftotext %s: %v: %s", f, err, firstLine(out))
		}
	}
	theirs = childCPU() - theirs
	start := childCPU()
	for range files {
		if err := exec.Command("pdftotext", "-v").Run(); err != nil {
			return fmt.Errorf("pdftotext -v: %w", err)
		}
	}
	start = childCPU() - start
	row("read and check, processor time per page, warm process", perPageMS(ours, pages), "pdftotext -layout "+perPageMS(theirs, pages), ratio(ours, theirs), "ratio ≤ 2.0")
	row("the same, without the time that starting pdftotext takes", perPageMS(ours, pages), "pdftotext -layout "+perPageMS(theirs-start, pages), ratio(ours, theirs-start), "")
	row("sheets read and checked one after another", fmt.Sprintf("%.1f sheets/s, %.1f pages/s", float64(len(files))/wall.Seconds(), float64(pages)/wall.Seconds()), "", "", "")
	return inBatch(ctx, desk, data, files, pages)
}

// inBatch measures reading alone with every processor busy, as a batch of documents is read, against pdftotext
// -bbox-layout run side by side on as many processors.
func inBatch(ctx context.Context, desk *judge.Desk, data [][]byte, files []string, pages int) error {
	started := time.Now()
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.NumCPU())
	for _, d := range data {
		group.Go(func() error {
			_, err := desk.Read(ctx, "sheet.pdf", d)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	wall := time.Since(started)
	started = time.Now()
	var reference errgroup.Group
	reference.SetLimit(runtime.NumCPU())
	for _, f := range files {
		reference.Go(func() error {
			if out, err := exec.Command("pdftotext", "-bbox-layout", f, "-").CombinedOutput(); err != nil {
				return fmt.Errorf("pdftotext %s: %v: %s", f, err, firstLine(out))
			}
			return nil
		})
	}
	if err := reference.Wait(); err != nil {
		return err
	}
	theirs := time.Since(started)
	row(fmt.Sprintf("pages read in batch on %d processors", runtime.NumCPU()), fmt.Sprintf("%.0f pages/s", float64(pages)/wall.Seconds()),
		fmt.Sprintf("pdftotext -bbox-layout %.0f pages/s", float64(pages)/theirs.Seconds()), ratio(wall, theirs), "≥ 200 pages/s (20 sheets of 10 pages), ratio ≤ 2.0")
	return nil
}

// startToAnswer measures one whole command on one long sheet, after a first run has prepared the engine, and its memory.
func startToAnswer(dir string, files []string) error {
	program := filepath.Join(dir, "sixteen")
	if out, err := exec.Command("go", "build", "-o", program, "./cmd/sixteen").CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %v: %s", err, out)
	}
	longest := longestSheet(files)
	run := func(name string, args ...string) (time.Duration, int64, error) {
		cmd := exec.Command(name, args...)
		started := time.Now()
		out, err := cmd.CombinedOutput()
		wall := time.Since(started)
		if code := cmd.ProcessState.ExitCode(); code < 0 || code > 2 {
			return 0, 0, fmt.Errorf("%s: %v: %s", filepath.Base(name), err, firstLine(out))
		}
		return wall, cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss << 10, nil
	}
	if _, _, err := run(program, "check", longest.file); err != nil {
		return err
	}
	best, memory := time.Hour, int64(0)
	for range 3 {
		wall, rss, err := run(program, "check", longest.file)
		if err != nil {
			return err
		}
		best, memory = min(best, wall), max(memory, rss)
	}
	reference := time.Hour
	for range 3 {
		wall, _, err := run("pdftotext", longest.file, filepath.Join(dir, "out.txt"))
		if err != nil {
			return err
		}
		reference = min(reference, wall)
	}
	row(fmt.Sprintf("second run of `sixteen check`, start to answer, %d pages", longest.pages),
		fmt.Sprintf("%.2f s", best.Seconds()), fmt.Sprintf("pdftotext %.3f s", reference.Seconds()), ratio(best, reference), "≤ 0.7 s")
	row("peak memory of that run", fmt.Sprintf("%d MB", memory>>20), "", "", "≤ 300 MB")
	return badInput(dir, run)
}

// badInput measures the memory that refusing a very large and a very long document takes.
func badInput(dir string, run func(name string, args ...string) (time.Duration, int64, error)) error {
	huge := filepath.Join(dir, "huge.pdf")
	if err := os.WriteFile(huge, []byte("%PDF-1.7\n"), 0o644); err != nil {
		return err
	}
	if err := os.Truncate(huge, 200<<20); err != nil {
		return err
	}
	long := filepath.Join(dir, "long.pdf")
	doc := fpdf.New("P", "mm", "A4", "")
	doc.SetFont("Helvetica", "", 11)
	for range 2000 {
		doc.AddPage()
		doc.MultiCell(0, 6, strings.Repeat("The slipway will be closed for painting. ", 40), "", "L", false)
	}
	if err := doc.OutputFileAndClose(long); err != nil {
		return err
	}
	for _, file := range []string{huge, long} {
		wall, rss, err := run(filepath.Join(dir, "sixteen"), "check", file)
		if err != nil {
			return err
		}
		row("refusing "+map[string]string{huge: "a file of 200 MB", long: "a PDF of 2,000 pages"}[file], fmt.Sprintf("%d MB, %.2f s", rss>>20, wall.Seconds()), "", "", "memory bounded")
	}
	return nil
}

type sheetFile struct {
	file  string
	pages int
}

func longestSheet(files []string) sheetFile {
	best := sheetFile{}
	for _, f := range files {
		out, err := exec.Command("pdfinfo", f).Output()
		if err != nil {
			continue
		}
		for _, l := range strings.Split(string(out), "\n") {
			n := 0
			if _, err := fmt.Sscanf(l, "Pages: %d", &n); err == nil && n > best.pages {
				best = sheetFile{f, n}
			}
		}
	}
	return best
}

func row(cells ...string) { fmt.Println("| " + strings.Join(cells, " | ") + " |") }

func ratio(ours, theirs time.Duration) string {
	return fmt.Sprintf("%.2f", float64(ours)/float64(theirs))
}

func perPageMS(d time.Duration, pages int) string {
	return fmt.Sprintf("%.2f ms", d.Seconds()*1000/float64(pages))
}

func firstLine(b []byte) string { return strings.SplitN(string(b), "\n", 2)[0] }

func ownCPU() time.Duration   { return cpu(syscall.RUSAGE_SELF) }
func childCPU() time.Duration { return cpu(syscall.RUSAGE_CHILDREN) }

func cpu(who int) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(who, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
