package audit

import (
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write docs/checks.md")

// docs/checks.md says what the catalogue says.
func TestCatalogueIsDocumented(t *testing.T) {
	const path = "../docs/checks.md"
	want := Document()
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is stale: run go test ./audit -run Documented -update", path)
	}
}
