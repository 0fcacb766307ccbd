//go:build long

package classify

import "testing"

// A million random mixtures, one random composition each:
//
//	go test -run Million -tags long -timeout 2h ./classify
func TestMillionCompositions(t *testing.T) { compareLaws(t, 2, 1_000_000, 1) }
