package audit

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Every check is one file check_<id>.go and one complete row; there is no file without a row and no row without a file.
func TestEveryCheckHasAFileAndACompleteRow(t *testing.T) {
	files, err := filepath.Glob("check_*.go")
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	seen := map[string]bool{}
	for _, c := range Catalogue() {
		if seen[c.ID] {
			t.Errorf("%s stands in the catalogue twice", c.ID)
		}
		seen[c.ID] = true
		want = append(want, "check_"+strings.ReplaceAll(c.ID, "-", "_")+".go")
		for field, text := range map[string]string{"title": c.Title, "comparison": c.Compares, "example": c.Example, "next step": c.Do} {
			if text == "" {
				t.Errorf("%s has no %s", c.ID, field)
			}
		}
		if len(c.Kinds) == 0 || c.Run == nil || !slices.Contains(Groups(), c.Group) {
			t.Errorf("%s lacks kinds, run or a known group", c.ID)
		}
		if len(c.Clauses) == 0 {
			t.Errorf("%s names no clause and no common practice", c.ID)
		}
		for rs, text := range c.Clauses {
			if rs != "" && !rs.Known() {
				t.Errorf("%s has a clause for the unknown rule set %q", c.ID, rs)
			}
			if len(text) < 5 {
				t.Errorf("%s: the clause for %q says nothing", c.ID, rs)
			}
		}
	}
	files = slices.DeleteFunc(files, func(f string) bool { return strings.HasSuffix(f, "_test.go") })
	for _, f := range files {
		if !slices.Contains(want, f) {
			t.Errorf("%s has no row in the catalogue (or its name is not check_<id>.go)", f)
		}
	}
	for _, f := range want {
		if _, err := os.Stat(f); err != nil {
			t.Errorf("the row of %s has no file", f)
		}
	}
}
