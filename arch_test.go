package sixteen_test

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
)

// layers lists the packages in the order of docs/architecture.md. A package may import only packages of layers above
// (before) its own, or of its own layer when it is a folder below the same top package.
var layers = []string{
	"ghs", "substance", "sheet", "read", "classify", "audit", "judge", "exposure", "protect", "plan", "compare", "blend", "paper", "shelf", "demo", "web", "cmd",
}

func layer(path string) int {
	top := strings.SplitN(strings.TrimPrefix(path, "sixteen/"), "/", 2)[0]
	for i, l := range layers {
		if l == top {
			return i
		}
	}
	return -1
}

// The import direction of docs/architecture.md: each package imports only those above it.
func TestImportsGoOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports,TestImports,XTestImports", "./...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	dec := json.NewDecoder(bytes.NewReader(out))
	seen := 0
	for dec.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		if p.ImportPath == "sixteen" || strings.HasPrefix(p.ImportPath, "sixteen/internal/") {
			continue
		}
		seen++
		from := layer(p.ImportPath)
		if from < 0 {
			t.Errorf("%s is in no layer: add it to layers and to docs/architecture.md", p.ImportPath)
			continue
		}
		for _, imp := range p.Imports {
			if !strings.HasPrefix(imp, "sixteen/") || strings.HasPrefix(imp, "sixteen/internal/") {
				continue
			}
			to := layer(imp)
			if to > from || (to == from && strings.SplitN(imp, "/", 3)[1] != strings.SplitN(p.ImportPath, "/", 3)[1]) {
				t.Errorf("%s imports %s, which is below it", p.ImportPath, imp)
			}
			if layers[from] == "read" && layers[to] == "substance" {
				t.Errorf("%s imports %s: reading knows no reference facts", p.ImportPath, imp)
			}
		}
	}
	if seen < 5 {
		t.Fatalf("only %d packages seen", seen)
	}
}
