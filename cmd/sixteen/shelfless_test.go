package main

import (
	"fmt"
	"os"
	"testing"
)

// asProgram makes this test binary the program itself, with its command line.
const asProgram = "SIXTEEN_TEST_AS_PROGRAM"

// TestMain gives the tests a data folder of their own: without it commands look at the shelf of whoever runs them, which may
// be of another version or hold decisions on the same documents. A test that needs processes of the program starts this binary
// with asProgram set.
func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
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
