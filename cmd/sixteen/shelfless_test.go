package main

import (
	"fmt"
	"os"
	"testing"
)

// TestMain gives the tests a data folder of their own: without it commands look at the shelf of whoever runs them, which may
// be of another version or hold decisions on the same documents.
func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "sixteen-data-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Setenv("XDG_DATA_HOME", dir)
	os.Unsetenv("SIXTEEN_SHELF")
	status := m.Run()
	os.RemoveAll(dir)
	os.Exit(status)
}
