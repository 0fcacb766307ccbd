package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/demo"
	"sixteen/shelf"
)

// The shelf on the command line: sheets in, found, placed, asked about, backed up, restored elsewhere.
func TestShelfCommands(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("SIXTEEN_SHELF", "")
	dir := t.TempDir()
	sheets := filepath.Join(dir, "sheets")
	if err := os.Mkdir(sheets, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := demo.WriteGenerated(sheets, demo.Generated{N: 3, Seed: 11}); err != nil {
		t.Fatal(err)
	}
	ok := func(args ...string) string {
		t.Helper()
		status, out, errs := runCommand(t, append([]string{"shelf"}, args...)...)
		if status != 0 {
			t.Fatalf("shelf %s: status %d\n%s%s", strings.Join(args, " "), status, out, errs)
		}
		return out
	}
	ok("add", sheets)
	var page shelf.Page[shelf.ProductLine]
	if err := json.Unmarshal([]byte(ok("list", "--json")), &page); err != nil || page.Total == 0 || page.Items[0].InForce == nil {
		t.Fatalf("the list holds %+v, %v", page, err)
	}
	p := page.Items[0]
	ok("place", "Shed", "--us-law")
	ok("stock", p.ID, "shed", "2.5 l")
	if out := ok("place"); !strings.Contains(out, "Shed (room)") || !strings.Contains(out, "1910.106(e)(2)(ii)(b)") {
		t.Errorf("the places are %s", out)
	}
	ok("question", "add", p.ID, "Which peroxide is it?")
	if out := ok("show", p.ID); !strings.Contains(out, "Shed: 2.5 l") || !strings.Contains(out, "Which peroxide") || !strings.Contains(out, "(in force)") {
		t.Errorf("the product is shown as %s", out)
	}
	if out := ok("find", strings.Fields(p.Name)[0]); !strings.Contains(out, p.ID) {
		t.Errorf("not found by its name: %s", out)
	}
	if out := ok("due"); !strings.Contains(out, "question not sent") {
		t.Errorf("due: %s", out)
	}
	if out := ok("export"); strings.Count(out, "\r\n") != page.Total+1 {
		t.Errorf("the register is %s", out)
	}
	ok("verify")
	file := filepath.Join(dir, "all.zip")
	ok("backup", file)
	other := filepath.Join(dir, "other", "shelf.sqlite")
	ok("restore", file, "--shelf", other)
	if out := ok("list", "--json", "--shelf", other); !strings.Contains(out, p.ID) {
		t.Errorf("the restored shelf lists %s", out)
	}
	ok("move", filepath.Join(dir, "third.sqlite"), "--to-documents", filepath.Join(dir, "third"))
	ok("retire", p.ID, "--why", "used up")
	if status, _, errs := runCommand(t, "shelf", "show", "no such product at all"); status != 2 || !strings.Contains(errs, "sixteen shelf list") {
		t.Errorf("an unknown product: status %d, %s", status, errs)
	}
	if info, err := os.Stat(other); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file of the shelf may be read by others: %v, %v", info.Mode(), err)
	}
}
