package audit

import (
	"math"
	"strconv"
	"strings"

	"sixteen/sheet"
)

// The comparisons below hold for every number of a stated range, so that a conclusion from them is certain.

func allAtMost(v sheet.Interval, x float64) bool { return v.HasHi && v.Hi <= x }

func allBelow(v sheet.Interval, x float64) bool {
	return v.HasHi && (v.Hi < x || (v.Hi == x && v.HiOpen))
}

func allAtLeast(v sheet.Interval, x float64) bool { return v.HasLo && v.Lo >= x }

func allAbove(v sheet.Interval, x float64) bool {
	return v.HasLo && (v.Lo > x || (v.Lo == x && v.LoOpen))
}

// lowest is the smallest number a share may be, 0 where no lower end is stated.
func lowest(v sheet.Interval) float64 {
	if v.HasLo {
		return v.Lo
	}
	return 0
}

// highest is the largest number a share may be, 100 where no upper end is stated.
func highest(v sheet.Interval) float64 {
	if v.HasHi {
		return v.Hi
	}
	return 100
}

// printed is a range in the words of the sheet, or written out where it printed none.
func printed(q sheet.Quantity) string {
	if q.Printed != "" {
		return q.Printed
	}
	return strings.TrimSpace(rangeText(q.Interval) + " " + q.Unit)
}

// rangeText writes a range: "10 – 30", "≥ 5", "< 1", "12".
func rangeText(v sheet.Interval) string {
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
	if x, ok := v.Single(); ok {
		return n(x)
	}
	switch {
	case v.HasLo && v.HasHi:
		return n(v.Lo) + " – " + n(v.Hi)
	case v.HasLo && v.LoOpen:
		return "> " + n(v.Lo)
	case v.HasLo:
		return "≥ " + n(v.Lo)
	case v.HasHi && v.HiOpen:
		return "< " + n(v.Hi)
	case v.HasHi:
		return "≤ " + n(v.Hi)
	}
	return "not stated"
}

// measured lists the values that the sheet states for one property.
func (c *Case) measured(p sheet.Property) []sheet.Fact[sheet.Quantity] {
	var out []sheet.Fact[sheet.Quantity]
	for _, f := range c.Sheet.Physical.Quantities[p] {
		if f.Known() {
			out = append(out, f)
		}
	}
	return out
}

// only is the single value of a property: when a sheet prints several (of components, of methods), none can be taken for the
// product's without asking.
func (c *Case) only(p sheet.Property) (sheet.Fact[sheet.Quantity], bool) {
	all := c.measured(p)
	if len(all) == 0 {
		return sheet.Fact[sheet.Quantity]{}, false
	}
	for _, f := range all[1:] {
		if f.Value.Interval != all[0].Value.Interval {
			return sheet.Fact[sheet.Quantity]{}, false
		}
	}
	return all[0], true
}

// share is a number of percent as text.
func share(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000, 'f', -1, 64) }

// number writes a measured number without trailing zeros.
func number(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }
