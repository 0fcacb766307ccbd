package protect

import (
	"math"
	"strconv"
	"strings"
)

// trimmed is a number without noughts at the end of its decimals.
func trimmed(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// least is a number with two significant digits that is not below v: what is asked for must not be rounded down.
func least(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-1)
	return trimmed(strconv.FormatFloat(math.Ceil(v/unit-1e-9)*unit, 'f', max(0, int(math.Round(-math.Log10(unit)))), 64))
}
