package protect

import (
	"testing"

	"sixteen/exposure"
)

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		v              float64
		three, atLeast string
	}{
		{2.134, "2.13", "2.2"}, {1000, "1000", "1000"}, {12345, "12300", "13000"}, {0.05, "0.05", "0.05"}, {430.4, "430", "440"},
		{0, "0", "0"}, {2, "2", "2"},
	} {
		if exposure.Figure(c.v) != c.three || least(c.v) != c.atLeast {
			t.Errorf("%v: %q and %q, want %q and %q", c.v, exposure.Figure(c.v), least(c.v), c.three, c.atLeast)
		}
	}
}
