package judge

import (
	"strings"
	"testing"

	"sixteen/audit"
	"sixteen/sheet"
)

// The tour is for somebody in lower secondary school: at most nine years of school, and easy by LIX.
func TestTourIsEasyToRead(t *testing.T) {
	var looks []string
	for _, stop := range Tour(&sheet.Sheet{}) {
		looks = append(looks, stop.Look)
	}
	r := audit.ReadabilityOf(strings.Join(looks, " "))
	if r.Words < 150 || r.Grade > 9 || r.LIX > 40 {
		t.Errorf("%+v", r)
	}
}
