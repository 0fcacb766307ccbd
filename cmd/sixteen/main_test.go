package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"
)

// runCommand executes one command line as main does.
func runCommand(t *testing.T, args ...string) (status int, out, errText string) {
	t.Helper()
	var o, e bytes.Buffer
	status = run(context.Background(), args, streams{out: &o, err: &e})
	return status, o.String(), e.String()
}

// textPDF makes a PDF with the given text on each of n pages.
func textPDF(t *testing.T, pages int, text string, change func(*fpdf.Fpdf)) []byte {
	t.Helper()
	doc := fpdf.New("P", "mm", "A4", "")
	if change != nil {
		change(doc)
	}
	doc.SetFont("Helvetica", "", 11)
	for range pages {
		doc.AddPage()
		doc.MultiCell(0, 6, text, "", "L", false)
	}
	var buf bytes.Buffer
	if err := doc.Output(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// Bad input gets a clear sentence that says what to do, status 2, and nothing on the output.
func TestBadInput(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, data []byte) string {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	letter := strings.Repeat("Dear members, the slipway will be closed on Tuesday for painting. ", 20)
	good := textPDF(t, 1, letter, nil)
	huge := filepath.Join(dir, "huge.pdf")
	if err := os.WriteFile(huge, []byte("%PDF-1.7\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(huge, 200<<20); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, file, want string }{
		{"no such file", filepath.Join(dir, "absent.pdf"), "no such file"},
		{"an empty folder", t.TempDir(), "holds no document"},
		{"empty", write("empty.pdf", nil), "empty"},
		{"not a PDF", write("picture.pdf", append([]byte{0x89, 'P', 'N', 'G', 0, 1, 2, 3}, make([]byte, 5000)...)), "cannot be read"},
		{"encrypted", write("locked.pdf", textPDF(t, 1, letter, func(d *fpdf.Fpdf) { d.SetProtection(0, "open sesame", "owner") })), "password"},
		{"damaged", write("damaged.pdf", good[:len(good)/3]), "damaged"},
		{"2,000 pages", write("long.pdf", textPDF(t, 2000, letter, nil)), "pages"},
		{"a letter", write("letter.pdf", good), "not a safety data sheet"},
		{"200 MB", huge, "MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			html := filepath.Join(dir, "out.html")
			status, out, errText := runCommand(t, "check", "--html", html, c.file)
			if status != exitFailed {
				t.Errorf("status %d, want %d", status, exitFailed)
			}
			if out != "" {
				t.Errorf("printed %q", out)
			}
			if !strings.Contains(errText, c.want) || strings.Contains(errText, "panic") || strings.Count(errText, "\n") > 3 {
				t.Errorf("said %q, want a sentence with %q", errText, c.want)
			}
			if _, err := os.Stat(html); err == nil {
				t.Error("a report was written")
			}
		})
	}
}

// The statuses of check: 0 nothing found is rare, 1 findings, 2 not read; --json carries evidence boxes.
func TestDemoFromTheCommandLine(t *testing.T) {
	dir := t.TempDir()
	status, out, errText := runCommand(t, "demo", "--dir", dir, "--no-serve")
	if status != exitNone {
		t.Fatalf("demo: status %d: %s", status, errText)
	}
	if strings.Contains(strings.ToLower(out), " safe ") {
		t.Error("the output calls something safe")
	}
	sheets, err := filepath.Glob(filepath.Join(dir, "*", "*.pdf"))
	if err != nil || len(sheets) < 8 {
		t.Fatalf("%d sheets in the demo (%v)", len(sheets), err)
	}
	status, out, errText = runCommand(t, "check", "--json", sheets[0])
	if status == exitFailed {
		t.Fatalf("check: %s", errText)
	}
	var j struct {
		RuleSet string `json:"rule_set"`
		Sheet   struct {
			Source struct{ SHA256 string }
		}
	}
	if err := json.Unmarshal([]byte(out), &j); err != nil || j.RuleSet == "" || len(j.Sheet.Source.SHA256) != 64 {
		t.Errorf("json %v: %+v", err, j)
	}
	if !strings.Contains(out, `"box":{"x0":`) {
		t.Error("no evidence box in the JSON")
	}
	status, out, errText = runCommand(t, "read", sheets[0])
	if status != exitNone {
		t.Fatalf("read: %s", errText)
	}
	two, eight, one := strings.Index(out, "\n2 Hazards"), strings.Index(out, "\n8 Exposure"), strings.Index(out, "\n1 Identification")
	if two < 0 || eight < two || one < eight {
		t.Errorf("sections in the order %d %d %d", two, eight, one)
	}
	if !strings.Contains(out, "[p. ") {
		t.Error("read prints no page")
	}
}

func TestUnknownCommandSaysWhatToDo(t *testing.T) {
	for _, args := range [][]string{{"chek", "x.pdf"}, {"check"}, {"check", "--rules", "mars-2040", "x.pdf"}, {"classify", "no-such.csv"}, {"substance", "qqqqxyz"}} {
		status, _, errText := runCommand(t, args...)
		if status != exitFailed || len(errText) < 20 {
			t.Errorf("%v: status %d, %q", args, status, errText)
		}
	}
}

// A kit from two recipes: an amine hardener makes the fresh mix corrosive (29 CFR 1910.1200 App. A, Table A.2.3: 5 %),
// and the stricter of parts and mix rules until it has cured.
func TestKit(t *testing.T) {
	dir := t.TempDir()
	resin, hardener := filepath.Join(dir, "resin.csv"), filepath.Join(dir, "hardener.csv")
	for file, text := range map[string]string{
		resin:    "name,percent,hazards\nresin,100,Skin Irrit. 2; Skin Sens. 1\n",
		hardener: "name,percent,hazards\namine,40,Skin Corr. 1B; Acute Tox. 4 oral\ncarrier,60,\n",
	} {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	status, out, errText := runCommand(t, "kit", "--ratio", "100:25", "--rules", "us-hcs-2024", resin, hardener)
	if status != exitNone {
		t.Fatal(errText)
	}
	for _, want := range []string{"80 % of the mix", "20 % of the mix", "Skin Corr. 1B (certain)", "Until the mix has cured"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("no %q in %s", want, out)
		}
	}
	for _, args := range [][]string{
		{"kit", "--ratio", "100:25", "--rules", "us-hcs-2024", resin},
		{"kit", "--ratio", "much", "--rules", "us-hcs-2024", resin, hardener},
		{"kit", "--ratio", "1:1 by volume", "--rules", "us-hcs-2024", resin, hardener},
		{"kit", "--ratio", "1:1", resin, hardener},
	} {
		if status, _, errText := runCommand(t, args...); status != exitFailed || len(errText) < 30 {
			t.Errorf("%v: status %d, %q", args, status, errText)
		}
	}
}

// An imported table changes nothing until it is applied, is the source of its values from then on, and can be taken back.
func TestImportedTables(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	table := filepath.Join(t.TempDir(), "limits.csv")
	if err := os.WriteFile(table, []byte("CAS No;Substance;TWA ppm;STEL ppm\n100-42-5;styrene;7;9\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	card := func() string {
		_, out, _ := runCommand(t, "substance", "100-42-5")
		return out
	}
	before := card()
	args := []string{"tables", "import", table, "--edition", "Harbour limits 2026", "--authority", "UK WEL"}
	if status, out, errText := runCommand(t, args...); status != exitNone || !strings.Contains(out, "Nothing was changed") || card() != before {
		t.Fatalf("dry run: %d %s %s", status, out, errText)
	}
	if status, _, errText := runCommand(t, append(args, "--apply")...); status != exitNone {
		t.Fatal(errText)
	}
	if after := card(); !strings.Contains(after, "UK WEL 8 h mean: 7 ppm") || !strings.Contains(after, "Harbour limits 2026") {
		t.Errorf("the card does not show the imported limit: %s", after)
	}
	if status, _, errText := runCommand(t, "tables", "undo"); status != exitNone || card() != before {
		t.Errorf("undo: status %d %s", status, errText)
	}
	if status, _, _ := runCommand(t, "tables", "undo"); status != exitFailed {
		t.Error("undo of nothing succeeded")
	}
}

func Example_version() {
	fmt.Println(run(context.Background(), []string{"version", "--nonsense"}, streams{out: new(bytes.Buffer), err: new(bytes.Buffer)}))
	// Output: 2
}
