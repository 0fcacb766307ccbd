package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/demo"
	"sixteen/shelf"
)

// A blend on the command line: kept with a supplier's sheet of the shelf, revised, shown with its history, drafted, retired.
func TestBlendsAreKeptOnTheShelf(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	dir := t.TempDir()
	if err := demo.WriteGenerated(dir, demo.Generated{N: 1, Seed: 11}); err != nil {
		t.Fatal(err)
	}
	ok := func(args ...string) string {
		t.Helper()
		status, out, errs := runCommand(t, args...)
		if status != exitNone {
			t.Fatalf("%s: status %d\n%s%s", strings.Join(args, " "), status, out, errs)
		}
		return out
	}
	refused := func(want string, args ...string) {
		t.Helper()
		if status, out, errs := runCommand(t, args...); status != exitFailed || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %s%s, want %q", strings.Join(args, " "), status, out, errs, want)
		}
	}
	ok("shelf", "add", dir)
	var page shelf.Page[shelf.ProductLine]
	if err := json.Unmarshal([]byte(ok("shelf", "list", "--json")), &page); err != nil || page.Total != 1 {
		t.Fatalf("%+v, %v", page, err)
	}
	file := filepath.Join(dir, "slip-mix.yaml")
	write := func(percent int) {
		t.Helper()
		text := fmt.Sprintf("product: Slip Mix\nform: liquid\nrules: [eu-clp]\ningredients: [{sheet: %q, percent: %d}, {cas: 7732-18-5, percent: rest}]\n", page.Items[0].Name, percent)
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(40)
	if out := ok("blend", "list"); !strings.Contains(out, "blend keep") {
		t.Errorf("an empty list does not say how one is kept: %s", out)
	}
	if out := ok("blend", "keep", file); !strings.Contains(out, "revision 1") || !strings.Contains(out, page.Items[0].Name) {
		t.Errorf("kept: %s", out)
	}
	refused("already", "blend", "keep", file)
	write(10)
	refused("--what", "blend", "keep", file)
	ok("blend", "keep", file, "--what", "thinned")
	if out := ok("blend", "show", "slip mix"); !strings.Contains(out, "revision 2") || !strings.Contains(out, "revised: thinned") || !strings.Contains(out, "added") {
		t.Errorf("shown: %s", out)
	}
	if out := ok("blend", "show", "slip mix", "--recipe", "--revision", "1"); !strings.Contains(out, "percent: 40") {
		t.Errorf("the first recipe: %s", out)
	}
	refused("revisions 1 to 2", "blend", "show", "slip mix", "--recipe", "--revision", "9")
	pdf := filepath.Join(dir, "out", "slip.pdf")
	if err := os.Mkdir(filepath.Dir(pdf), 0o755); err != nil {
		t.Fatal(err)
	}
	ok("blend", "--kept", "slip mix", "--out", pdf)
	if info, err := os.Stat(pdf); err != nil || info.Size() < 3000 {
		t.Errorf("the draft: %v", err)
	}
	if out := ok("blend", file, "--rules", "eu-clp"); !strings.Contains(out, "Slip Mix") { // its sheet is on the shelf, not beside it
		t.Errorf("worked out from the file: %s", out)
	}
	if out := ok("blend", "redo", "slip mix"); !strings.Contains(out, "revision 3") || !strings.Contains(out, "as before") {
		t.Errorf("again: %s", out)
	}
	refused("not both", "blend", file, "--kept", "slip mix")
	refused("reason", "blend", "retire", "slip mix")
	ok("blend", "retire", "slip mix", "--why", "not sold")
	refused("no blend", "blend", "show", "slip mix")
}
