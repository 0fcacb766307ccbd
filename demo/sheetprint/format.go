package sheetprint

import (
	"math"
	"strconv"
	"strings"
	"time"

	"sixteen/ghs"
	"sixteen/sheet"
)

// round keeps the given number of decimals.
func round(v float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	return math.Round(v*p) / p
}

// significant keeps the given number of significant digits.
func significant(v float64, digits int) float64 {
	if v == 0 {
		return 0
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return r
}

// number writes v without superfluous zeros in the layout's decimal sign.
func (l Layout) number(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if l.DecimalComma {
		s = strings.ReplaceAll(s, ".", ",")
	}
	return s
}

// thousands is number with a comma after the thousands where the layout has it.
func (l Layout) thousands(v float64) string {
	s := l.number(v)
	whole, rest, _ := strings.Cut(s, ".")
	if !l.Thousands || len(whole) < 4 {
		return s
	}
	if rest != "" {
		rest = "." + rest
	}
	return whole[:len(whole)-3] + "," + whole[len(whole)-3:] + rest
}

// percent writes an ingredient's share and fills the truth with exactly what was written.
func (l Layout) percent(v sheet.Interval, lang ghs.Lang, t *IngredientTrue) string {
	unit := ""
	if l.Range == RangePercent {
		unit = " %"
	}
	signs := l.Range == RangeSigns || l.Range == RangeASCII
	if s, ok := v.Single(); ok {
		t.PercentMin, t.PercentMax = &s, &s
		return l.number(s) + unit
	}
	ge, le, blank := "≥", "≤", " "
	if l.Range == RangeASCII {
		ge, le, blank = ">=", "<=", ""
	}
	lo, hi := "", ""
	if v.HasLo {
		a := v.Lo
		t.PercentMin = &a
		switch {
		case v.LoOpen && (signs || !v.HasHi):
			lo, t.MinOp = ">"+blank, ">"
		case signs || !v.HasHi:
			lo, t.MinOp = ge+blank, ">="
		}
		lo += l.number(a)
	}
	if v.HasHi {
		b := v.Hi
		t.PercentMax = &b
		switch {
		case v.HiOpen && (signs || !v.HasLo):
			hi, t.MaxOp = "<"+blank, "<"
		case signs || !v.HasLo:
			hi, t.MaxOp = le+blank, "<="
		}
		hi += l.number(b)
	}
	if lo == "" || hi == "" {
		return lo + hi + unit
	}
	return lo + l.rangeSign(lang) + hi + unit
}

func (l Layout) rangeSign(lang ghs.Lang) string {
	switch l.Range {
	case RangeTight:
		return "-"
	case RangeDash:
		return " – "
	case RangeTo:
		return map[ghs.Lang]string{ghs.English: " to ", ghs.French: " à ", ghs.German: " bis ", ghs.Spanish: " a "}[lang]
	}
	return " - "
}

// temperature writes a temperature or range of temperatures and says what was written, in °C.
func (l Layout) temperature(v sheet.Interval) (string, QuantityTrue) {
	inC := func(c float64) float64 { return round(c, 1) }
	switch l.Temperature {
	case Fahrenheit:
		inC = func(c float64) float64 { return round((round(c*1.8+32, 0)-32)/1.8, 1) }
	case FahrenheitCelsius, CelsiusFahrenheit:
		inC = func(c float64) float64 { return round(c, 0) }
	}
	f := func(c float64) string { return l.number(round(c*1.8+32, 0)) }
	c := func(c float64) string { return l.number(inC(c)) }
	var s string
	switch l.Temperature {
	case Fahrenheit:
		s = l.interval(v, f) + " °F"
	case FahrenheitCelsius:
		s = l.interval(v, f) + " °F (" + l.interval(v, c) + " °C)"
	case CelsiusFahrenheit:
		s = l.interval(v, c) + " °C (" + l.interval(v, f) + " °F)"
	default:
		s = l.interval(v, c) + " °C"
	}
	return s, quantityOf(v, inC, s)
}

// interval writes a number, a bound, or a range with a given writing of its ends.
func (l Layout) interval(v sheet.Interval, write func(float64) string) string {
	if _, ok := v.Single(); ok {
		return write(v.Lo)
	}
	switch {
	case !v.HasHi:
		return "> " + write(v.Lo)
	case !v.HasLo:
		return "< " + write(v.Hi)
	}
	return write(v.Lo) + " - " + write(v.Hi)
}

// quantityOf is the truth of an interval whose ends were rounded by r before they were written as printed.
func quantityOf(v sheet.Interval, r func(float64) float64, printed string) QuantityTrue {
	lo, hi := r(v.Lo), r(v.Hi)
	q := QuantityTrue{Printed: printed}
	_, single := v.Single()
	switch {
	case single:
		q.Value = &lo
	case !v.HasHi:
		q.Value, q.Op = &lo, ">"
	case !v.HasLo:
		q.Value, q.Op = &hi, "<"
	default:
		q.Min, q.Max = &lo, &hi
	}
	return q
}

// scaled writes a quantity in a unit that is factor times the normalised unit, to the given significant digits.
func (l Layout) scaled(v sheet.Interval, factor float64, digits int, unit, shown string) (string, QuantityTrue) {
	r := func(x float64) float64 { return significant(x*factor, digits) }
	s := l.interval(v, func(x float64) string { return l.number(r(x)) })
	if shown != "" {
		s += " " + shown
	}
	q := quantityOf(v, r, s)
	q.Unit = unit
	return s, q
}

// pressure writes a vapour pressure given in pascal.
func (l Layout) pressure(v Value) (string, QuantityTrue) {
	factor := map[string]float64{"hPa": 1e-2, "mbar": 1e-2, "kPa": 1e-3, "Pa": 1, "mmHg": 1 / 133.322}[l.Pressure]
	s, q := l.scaled(v.Interval, factor, 3, l.Pressure, l.Pressure)
	return l.atTemperature(s, &q, v.AtC), q
}

// density writes a density given in kg/m3.
func (l Layout) density(v Value) (string, QuantityTrue) {
	var s string
	var q QuantityTrue
	switch l.DensityUnit {
	case "kg/m3":
		s, q = l.scaled(v.Interval, 1, 4, "kg/m3", "kg/m³")
	case "lb/gal":
		s, q = l.scaled(v.Interval, 1/119.826, 3, "lb/gal", "lb/gal")
	case "relative":
		s, q = l.scaled(v.Interval, 1e-3, 3, "relative", "")
	default:
		s, q = l.scaled(v.Interval, 1e-3, 3, "g/cm3", "g/cm³")
	}
	return l.atTemperature(s, &q, v.AtC), q
}

// voc writes a VOC content given in g/l or percent.
func (l Layout) voc(v Value) (string, QuantityTrue) {
	if v.Unit == "%" {
		return l.scaled(v.Interval, 1, 3, "%", "%")
	}
	if l.VOCUnit == "lb/gal" {
		return l.scaled(v.Interval, 1/119.826, 3, "lb/gal", "lb/gal")
	}
	return l.scaled(v.Interval, 1, 3, "g/l", "g/l")
}

// atTemperature adds the temperature a value belongs to.
func (l Layout) atTemperature(s string, q *QuantityTrue, atC float64) string {
	if atC == 0 {
		return s
	}
	t, tq := Layout{Temperature: l.Temperature, DecimalComma: l.DecimalComma}.temperature(sheet.Exactly(atC))
	q.AtC = tq.Value
	s += " (" + strings.NewReplacer("(", "/ ", ")", "").Replace(t) + ")"
	q.Printed = s
	return s
}

var months = map[ghs.Lang][]string{
	ghs.English: {"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"},
	ghs.French:  {"janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre"},
	ghs.German:  {"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"},
	ghs.Spanish: {"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"},
}

// date writes an ISO date the layout's way; words that are no date are printed as they are.
func (l Layout) date(iso string, lang ghs.Lang) string {
	t, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	month := months[lang][t.Month()-1]
	switch l.Date {
	case DateMonth:
		switch lang {
		case ghs.German:
			return t.Format("2. ") + month + t.Format(" 2006")
		case ghs.Spanish:
			return t.Format("2") + " de " + month + t.Format(" de 2006")
		}
		return t.Format("2 ") + month + t.Format(" 2006")
	case DateUS:
		return t.Format("01/02/2006")
	case DateDotted:
		return t.Format("02.01.2006")
	case DateMonthUS:
		return month + t.Format(" 2, 2006")
	case DateEuropean:
		return t.Format("02/01/2006")
	}
	return iso
}
