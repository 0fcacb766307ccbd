package exposure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Duration says minutes as a person reads them: "about 11 minutes", "4 h 10 min", "about 3 days". From one hour on it is
// rounded up to 5 minutes, from ten hours on to the hour, from two days on to the half day, so that nobody is told to come
// back too early.
func Duration(minutes float64) string {
	switch {
	case minutes <= 0:
		return "at once"
	case minutes <= 1:
		return "about 1 minute"
	case minutes <= 55:
		return fmt.Sprintf("about %.0f minutes", math.Ceil(minutes-1e-9))
	case minutes > 2*1440:
		days := math.Ceil(minutes/720-1e-9) / 2
		return fmt.Sprintf("about %s days", strconv.FormatFloat(days, 'f', -1, 64))
	case minutes > 600:
		return fmt.Sprintf("about %.0f h", math.Ceil(minutes/60-1e-9))
	}
	whole := int(5 * math.Ceil(minutes/5-1e-9))
	if whole%60 == 0 {
		return fmt.Sprintf("%d h", whole/60)
	}
	return fmt.Sprintf("%d h %d min", whole/60, whole%60)
}

// Reentry says when a room may be used again after the last task: with the middle and the high ends of the ranges where
// both are known. nil stands for a time that is not known or not within seven days.
func Reentry(middle, high *float64) string {
	switch {
	case high == nil && middle == nil:
		return "not known, or not within 7 days"
	case high == nil:
		return Duration(60**middle) + " by the middle of the ranges; not within 7 days by their high ends"
	case middle == nil || Duration(60**middle) == Duration(60**high):
		return Duration(60 * *high)
	}
	return fmt.Sprintf("%s; %s by the middle of the ranges", Duration(60**high), Duration(60**middle))
}

// least is the smallest amount that is written out; what is below it is far below any limit of a vapour.
const least = 0.001

// Amount says a figure of an estimate with two digits and no exponent: "0.38", "1300", "less than 0.001".
func Amount(v float64) string {
	switch {
	case v == 0:
		return "0"
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "not known"
	case math.Abs(v) < least:
		return "less than 0.001"
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-1)
	return strings.TrimSuffix(strconv.FormatFloat(math.Round(v/unit)*unit, 'f', max(0, int(math.Round(-math.Log10(unit)))), 64), ".0")
}

// Spread says two amounts as a range, once when they read the same.
func Spread(low, high float64) string {
	a, b := Amount(low), Amount(high)
	if a == b {
		return a
	}
	return a + " to " + b
}

// Words says an estimate times a factor: the middle to the high ends, and the percentiles where draws were made.
func (e Estimate) Words(factor float64) string {
	s := Spread(factor*e.Middle, factor*e.High)
	if e.P50 != nil && e.P95 != nil && factor*e.High >= least {
		s += fmt.Sprintf(" (P50 %s, P95 %s)", Amount(factor**e.P50), Amount(factor**e.P95))
	}
	return s
}

// ErrorWords says how sure the percentiles are, "" when too few draws were made to tell.
func (u *Uncertainty) ErrorWords() string {
	if u.ErrorP50 == nil || u.ErrorP95 == nil {
		return ""
	}
	return fmt.Sprintf("Standard error of the percentiles of 8 h means, from %d batches of %d draws: at most %s %% of P50 and %s %% of P95", u.Batches, u.BatchSize, Amount(100**u.ErrorP50), Amount(100**u.ErrorP95))
}

// Figure is a number with three significant digits, never with an exponent.
func Figure(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-2)
	return trimmed(strconv.FormatFloat(math.Round(v/unit)*unit, 'f', max(0, int(math.Round(-math.Log10(unit)))), 64))
}

// trimmed is a number without noughts at the end of its decimals.
func trimmed(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
