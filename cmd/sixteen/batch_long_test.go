//go:build long

package main

import (
	"fmt"
	"strings"
	"testing"
)

// Five hundred sheets with broken files among them are read and judged to the end:
//
//	go test -tags long -run FiveHundred -timeout 30m ./cmd/sixteen
func TestFiveHundredDocuments(t *testing.T) {
	dir := t.TempDir()
	sheetsIn(t, dir, 500)
	letters, failing, _ := badDocuments(t, dir)
	status, text, _ := runCommand(t, "check", dir)
	want := fmt.Sprintf("%d documents: 500 read, %d not a sheet, %d failed", 500+letters+failing, letters, failing)
	if status != exitFailed || !strings.Contains(text, want) {
		t.Errorf("status %d, no %q in %s", status, want, text)
	}
	t.Log(text[strings.LastIndex(strings.TrimSpace(text), "\n"):])
}
