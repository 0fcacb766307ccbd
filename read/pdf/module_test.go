package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"sixteen/read/pdf/internal/meter"
)

// The embedded module is, byte for byte, the one of the go-pdfium version in go.mod with its loops counted.
func TestModuleIsTheMeteredOriginal(t *testing.T) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/klippa-app/go-pdfium").Output()
	if err != nil {
		t.Fatal(err)
	}
	original, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "internal", "pdfium_wasm", "pdfium.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	metered, err := meter.Rewrite(original)
	if err != nil {
		t.Fatal(err)
	}
	pdfium, err := module()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(metered, pdfium) {
		t.Error("pdfium.wasm.br is out of date: run go generate ./read/pdf")
	}
}

// The compiled code is kept: the first start says that it takes long, the second says nothing, and a folder with spoiled
// code is begun anew.
func TestCacheFolder(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles PDFium twice")
	}
	dir := t.TempDir()
	var said []string
	options := Options{CacheDir: dir, Progress: func(s string) { said = append(said, s) }}
	for _, start := range []string{"first", "second"} {
		startEngine(t, options)
		if len(said) != 2 || !strings.Contains(said[0], "only this once") || !strings.Contains(said[1], "ready") {
			t.Fatalf("after the %s start, said is %q", start, said)
		}
	}
	files, _ := filepath.Glob(filepath.Join(dir, "*", "*", "*"))
	if len(files) != 1 {
		t.Fatalf("the cache holds %v", files)
	}
	whole, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(files[0], whole[:len(whole)/2], 0o600); err != nil {
		t.Fatal(err)
	}
	startEngine(t, options)
	if again, err := os.ReadFile(files[0]); err != nil || len(again) != len(whole) {
		t.Errorf("afterwards the cache holds %d bytes, want %d; %v", len(again), len(whole), err)
	}
	told := len(said) // the compiler may order its code anew, so the bytes are not compared; the code is whole when it is used
	startEngine(t, options)
	if len(said) != told {
		t.Errorf("the start after that compiled once more: %q", said)
	}
}

// startEngine makes an engine, starts one instance and closes both.
func startEngine(t *testing.T, options Options) {
	t.Helper()
	e, err := NewEngine(t.Context(), options)
	if err != nil {
		t.Fatal(err)
	}
	in, err := e.take(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	e.give(in)
	if err := e.Close(); err != nil {
		t.Fatal(err)
	}
}
