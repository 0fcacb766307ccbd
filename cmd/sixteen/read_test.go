package main

import (
	"strings"
	"testing"

	"sixteen/sheet"
)

// A fact that rests on a repair says what was recognised; others do not mention repairs.
func TestRepairIsSaid(t *testing.T) {
	f := sheet.Listed{Text: "1.1", Evidence: []sheet.Evidence{{Page: 4, Words: "1.1", How: sheet.ByOCR, Recognised: "11"}}, Confidence: 0.95}
	if got := evidenceText(f); !strings.Contains(got, "repaired: recognised was “11”") {
		t.Error(got)
	}
	f.Evidence[0].Recognised = ""
	if got := evidenceText(f); strings.Contains(got, "repaired") || !strings.Contains(got, "p. 4") {
		t.Error(got)
	}
}
