package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The example of the command is a recipe that the command drafts, in every form and language asked for.
func TestBlendDraftsItsExample(t *testing.T) {
	dir := t.TempDir()
	status, example, errText := runCommand(t, "blend", "--example")
	if status != exitNone {
		t.Fatal(errText)
	}
	file := filepath.Join(dir, "recipe.yaml")
	if err := os.WriteFile(file, []byte(example), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, ext := range []string{"pdf", "docx", "html", "txt"} {
		status, _, errText := runCommand(t, "blend", file, "--rules", "eu-clp,us-hcs-2024", "--lang", "en,de", "--out", filepath.Join(dir, "draft."+ext))
		if status != exitNone || !strings.Contains(errText, "open questions") {
			t.Fatalf("%s: status %d: %s", ext, status, errText)
		}
		for _, name := range []string{"draft-eu-clp-en.", "draft-eu-clp-de.", "draft-us-hcs-2024-en.", "draft-us-hcs-2024-de."} {
			if info, err := os.Stat(filepath.Join(dir, name+ext)); err != nil || info.Size() < 3000 {
				t.Errorf("%s%s: %v", name, ext, err)
			}
		}
	}
	status, out, errText := runCommand(t, "blend", file, "--rules", "eu-clp", "--json")
	var drafts []struct {
		Sections  []any `json:"sections"`
		Questions []any `json:"questions"`
	}
	if status != exitNone || json.Unmarshal([]byte(out), &drafts) != nil || len(drafts) != 4 || len(drafts[0].Sections) != 16 || len(drafts[0].Questions) == 0 {
		t.Errorf("status %d: %s\n%.200s", status, errText, out)
	}
	status, out, _ = runCommand(t, "blend", file, "--rules", "eu-clp", "--target", "no H350")
	if status != exitNone || !strings.Contains(out, "below 0.1 %") || !strings.Contains(out, "3.6.2") {
		t.Errorf("butanone oxime is Carc. 1B, whose limit is 0.1 %% (CLP Annex I Table 3.6.2):\n%s", out)
	}
	if _, out, _ = runCommand(t, "blend", "--fields", "--rules", "ca-hpr"); !strings.Contains(out, "SOR/2015-17 Schedule 1, item 9(g)") {
		t.Errorf("the fields lack the clause of the flash point:\n%.400s", out)
	}
}

// Bad input to the command says what to do.
func TestBlendBadInput(t *testing.T) {
	dir := t.TempDir()
	recipe := filepath.Join(dir, "r.yaml")
	if err := os.WriteFile(recipe, []byte("product: X\nform: liquid\ningredients: [{sheet: gone.pdf, percent: 100}]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	good := filepath.Join(dir, "g.yaml")
	if err := os.WriteFile(good, []byte("product: X\nform: liquid\ningredients: [{cas: 123-86-4, percent: 100}]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		want string
		args []string
	}{
		{"--example", []string{"blend"}},
		{"no such file", []string{"blend", filepath.Join(dir, "none.yaml")}},
		{"gone.pdf", []string{"blend", recipe}},
		{"no language", []string{"blend", good, "--lang", "nl"}},
		{"drafted", []string{"blend", good, "--rules", "un-ghs"}},
		{".pdf, .docx", []string{"blend", good, "--out", filepath.Join(dir, "x.odt")}},
		{"not understood", []string{"blend", good, "--target", "greener"}},
		{"no ingredient", []string{"blend", good, "--target", "no H336", "--replace", "water"}},
	} {
		if status, _, errText := runCommand(t, c.args...); status != exitFailed || !strings.Contains(errText, c.want) {
			t.Errorf("%v: status %d, %q, want %q", c.args[1:], status, errText, c.want)
		}
	}
}
