//go:build unix

package pdf_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"sixteen/read/layout"
	"sixteen/read/pdf"
)

// sheets are the files to measure on: those of the folder named by SIXTEEN_SHEETS, else a made sheet of ten pages.
func sheets(t testing.TB) []string {
	if dir := os.Getenv("SIXTEEN_SHEETS"); dir != "" {
		files, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
		if err != nil || len(files) == 0 {
			t.Fatalf("no sheets in %s: %v", dir, err)
		}
		return files
	}
	name := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(name, sheetOf(t, 10), 0o600); err != nil {
		t.Fatal(err)
	}
	return []string{name}
}

// readSheet reads and lays out one sheet and returns the number of its pages.
func readSheet(t testing.TB, e *pdf.Engine, data []byte) int {
	d, err := e.Open(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	pages, err := d.Pages()
	if err != nil {
		t.Fatal(err)
	}
	layout.Layout(pages)
	return len(pages)
}

// processTime is the processor time that this process has taken.
func processTime() time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		return 0
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

// TestRatio compares the processor time of reading and laying out with that of "pdftotext -layout" on the same files in
// the same run, each file by turns, the reader warm. Run it with -v to see the figures.
func TestRatio(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed: nothing to compare with")
	}
	e := engine(t)
	files := sheets(t)
	var ours, theirs time.Duration
	pages := 0
	const rounds = 5
	for round := range rounds + 1 {
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			start := processTime()
			n := readSheet(t, e, data)
			own := processTime() - start
			cmd := exec.Command(tool, "-layout", name, os.DevNull)
			if err := cmd.Run(); err != nil {
				t.Fatal(err)
			}
			if round > 0 { // the first round warms up
				pages += n
				ours += own
				theirs += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
			}
		}
	}
	ratio := float64(ours) / float64(theirs)
	t.Logf("%d files, %d pages: reading takes %.2f ms of processor time a page, pdftotext %.2f ms; ratio %.2f",
		len(files), pages/rounds, ms(ours)/float64(pages), ms(theirs)/float64(pages), ratio)
	if ratio > 4 && !underRace {
		t.Errorf("ratio %.2f: reading has become much slower", ratio)
	}
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }

// peakMemory is the most memory, in MB, that this process has held. Linux counts it anew for each program; elsewhere it
// may include that of the parent process.
func peakMemory(t *testing.T) int {
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		if _, after, ok := strings.Cut(string(status), "VmHWM:"); ok {
			var kb int
			if _, err := fmt.Sscan(after, &kb); err == nil {
				return kb / 1024
			}
		}
	}
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		t.Fatal(err)
	}
	return int(r.Maxrss) / 1024
}

// peakOf finds what peakMemory found in the output of another process.
func peakOf(t *testing.T, out []byte) int {
	_, after, _ := strings.Cut(string(out), "peak ")
	var peak int
	if _, err := fmt.Sscan(after, &peak); err != nil {
		t.Fatalf("no peak in %q", out)
	}
	return peak
}

// TestFreshProcess measures a process that starts, reads one sheet of ten pages and ends, with PDFium compiled before.
func TestFreshProcess(t *testing.T) {
	if name := os.Getenv("SIXTEEN_TEST_SHEET"); name != "" {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		readSheet(t, engine(t), data)
		fmt.Printf("peak %d\n", peakMemory(t))
		return
	}
	engine(t) // compiled and kept from here on
	for _, name := range sheets(t) {
		cmd := exec.Command(os.Args[0], "-test.run=^TestFreshProcess$")
		cmd.Env = append(os.Environ(), "SIXTEEN_TEST_SHEET="+name)
		start := time.Now()
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		wall := time.Since(start)
		peak := peakOf(t, out)
		t.Logf("%s: %.2f s from start to end, %.2f s of processor time, %d MB at most",
			filepath.Base(name), wall.Seconds(), (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), peak)
		if peak > 300 {
			t.Errorf("%d MB for one sheet, want at most 300", peak)
		}
	}
}

// TestMemoryOfDamagedFiles: no damaged file makes the process grow beyond bounds.
func TestMemoryOfDamagedFiles(t *testing.T) {
	if os.Getenv("SIXTEEN_TEST_DAMAGED") != "" {
		TestDamagedFiles(t)
		fmt.Printf("peak %d\n", peakMemory(t))
		return
	}
	engine(t)
	cmd := exec.Command(os.Args[0], "-test.run=^TestMemoryOfDamagedFiles$")
	cmd.Env = append(os.Environ(), "SIXTEEN_TEST_DAMAGED=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	peak := peakOf(t, out)
	t.Logf("300 damaged files: %d MB at most", peak)
	if peak > 400 {
		t.Errorf("%d MB at most for damaged files, want 400", peak)
	}
}

func BenchmarkReadPage(b *testing.B) {
	e := engine(b)
	data := sheetOf(b, 10)
	pages := 0
	for b.Loop() {
		pages += readSheet(b, e, data)
	}
	b.ReportMetric(ms(b.Elapsed())/float64(pages), "ms/page")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkBatch reads sheets of ten pages on all processors.
func BenchmarkBatch(b *testing.B) {
	e := engine(b)
	data := sheetOf(b, 10)
	var once sync.Once
	b.RunParallel(func(p *testing.PB) {
		for p.Next() {
			once.Do(func() { readSheet(b, e, data) })
			readSheet(b, e, data)
		}
	})
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "sheets/s")
}

func ExampleOpen() {
	ctx := context.Background()
	data, err := os.ReadFile("sheet.pdf")
	if err != nil {
		fmt.Println("no such sheet")
		return
	}
	d, err := pdf.Open(ctx, data, pdf.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer d.Close()
	for i := range d.NumPages() {
		p, err := d.Page(i)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(p.Number, len(p.Words), p.Lost)
	}
	// Output: no such sheet
}
