// Command pdfium writes the metered PDFium module next to package pdf: it takes the module that the version of
// go-pdfium in go.mod embeds, and rewrites it. Run it with "go generate ./read/pdf" after changing that version.
package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"
	_ "github.com/klippa-app/go-pdfium" // keeps the version of the original module in go.mod

	"sixteen/read/pdf/internal/meter"
)

func main() {
	if err := write("pdfium.wasm.br"); err != nil {
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
	var packed bytes.Buffer
	w := brotli.NewWriterOptions(&packed, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24})
	if _, err := w.Write(metered); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return os.WriteFile(name, packed.Bytes(), 0o644)
}
