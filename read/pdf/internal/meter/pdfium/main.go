// Command pdfium writes the metered PDFium module next to package pdf: it takes the module that the version of
// go-pdfium in go.mod embeds, and rewrites it. Run it with "go generate ./read/pdf" after changing that version.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"sixteen/read/pdf/internal/meter"
)

func main() {
	if err := write("pdfium.wasm"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(name string) error {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/klippa-app/go-pdfium").Output()
	if err != nil {
		return fmt.Errorf("find go-pdfium in the module cache (run go mod download first): %w", err)
	}
	original, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "internal", "pdfium_wasm", "pdfium.wasm"))
	if err != nil {
		return err
	}
	metered, err := meter.Rewrite(original)
	if err != nil {
		return err
	}
	return os.WriteFile(name, metered, 0o644)
}
