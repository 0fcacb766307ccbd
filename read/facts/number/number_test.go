package number

import (
	"math"
	"strings"
	"testing"

	"sixteen/sheet"
)

// Forms that sheets print, common practice of the trade.
func TestIntervalForms(t *testing.T) {
	iv := func(lo, hi float64, flags string) sheet.Interval {
		v := sheet.Interval{Lo: lo, Hi: hi, HasLo: true, HasHi: true}
		for _, c := range flags {
			switch c {
			case '(':
				v.LoOpen = true
			case ')':
				v.HiOpen = true
			case 'L':
				v.Lo, v.HasLo = 0, false
			case 'H':
				v.Hi, v.HasHi = 0, false
			case '~':
				v.Approx = true
			}
		}
		return v
	}
	for _, c := range []struct {
		text  string
		style Style
		want  sheet.Interval
	}{
		{"10 - 30 %", Undecided, iv(10, 30, "")},
		{"10-30%", Undecided, iv(10, 30, "")},
		{"10% - 30%", Undecided, iv(10, 30, "")},
		{"10 to 30", Undecided, iv(10, 30, "")},
		{"10 bis 30 %", Undecided, iv(10, 30, "")},
		{"≥ 10 - < 25", Undecided, iv(10, 25, ")")},
		{"≥10 - ≤25", Undecided, iv(10, 25, "")},
		{">= 5 -<= 17", Undecided, iv(5, 17, "")},
		{"10 - <25", Undecided, iv(10, 25, ")")},
		{"> 1 – 5", Undecided, iv(1, 5, "(")},
		{"> 1 < 5", Undecided, iv(1, 5, "()")},
		{">23 °C; <60 °C", Undecided, iv(23, 60, "()")},
		{"‹ 1", Undecided, iv(0, 1, "L)")},
		{"< 0.8", Undecided, iv(0, 0.8, "L)")},
		{"≤3", Undecided, iv(0, 3, "L")},
		{"> 1.995", Undecided, iv(1.995, 0, "H(")},
		{"70>", Undecided, iv(70, 0, "H(")},
		{"max. 5 %", Undecided, iv(0, 5, "L")},
		{"less than 0.1", Undecided, iv(0, 0.1, "L)")},
		{"up to 5", Undecided, iv(0, 5, "L")},
		{"ca. 1,23", Undecided, iv(1.23, 1.23, "~")},
		{"100", Undecided, iv(100, 100, "")},
		{"1,000 ppm", DecimalPoint, iv(1000, 1000, "")},
		{"1,464 – 1,536", DecimalComma, iv(1.464, 1.536, "")},
		{"1,047,619.0 ppm", Undecided, iv(1047619, 1047619, "")}, // an ATE of a mixture, worked out to the last digit
		{"1,047,619.0", DecimalPoint, iv(1047619, 1047619, "")},
		{"1.047.619,0", DecimalComma, iv(1047619, 1047619, "")},
		{"1.234,5", DecimalComma, iv(1234.5, 1234.5, "")},
		{"10 000", Undecided, iv(10000, 10000, "")},
		{"2.500", DecimalComma, iv(2500, 2500, "")},
		{"0,123", Undecided, iv(0.123, 0.123, "")},
		{"0.0011 - 0.011", Undecided, iv(0.0011, 0.011, "")},
		{".87373", Undecided, iv(0.87373, 0.87373, "")},
		{"1.2E-3", Undecided, iv(0.0012, 0.0012, "")},
		{"1.2 x 10-3", Undecided, iv(0.0012, 0.0012, "")},
		{"-42.00 ºF", Undecided, iv(-42, -42, "")},
		{"- 12 °C", Undecided, iv(-12, -12, "")},
		{"-20 - -10 °C", Undecided, iv(-20, -10, "")},
		{"133 °F to 140 °F", Undecided, iv(133, 140, "")},
		{"45- 50%", Undecided, iv(45, 50, "")},
		{"30-10", Undecided, iv(10, 30, "")},
	} {
		got, ok := Interval(c.text, c.style)
		if !ok || got != c.want {
			t.Errorf("Interval(%q) = %+v, %v; want %+v", c.text, got, ok, c.want)
		}
	}
	for _, text := range []string{"", "Trade secret", "3-methylpentane", "H226", "12 monkeys", "10-20-30"} {
		if got, ok := Interval(text, Undecided); ok {
			t.Errorf("Interval(%q) = %+v, want none", text, got)
		}
	}
}

// Conversion factors of NIST SP 811 (2008), appendix B.8.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
	}{
		{"50 ° F", Temperature, 10},
		{"133º F", Temperature, 56.11111111},
		{"-42.00 ºF", Temperature, -41.11111111},
		{"300 K", Temperature, 26.85},
		{"23 ℃", Temperature, 23},
		{"181 mm Hg", Pressure, 24131.3544},
		{"9.3 hPa", Pressure, 930},
		{"1 psi", Pressure, 6894.757},
		{"6.8 bar(a)", Pressure, 680000},
		{"1.29 g/cm³", MassPerVolume, 1290},
		{"10.77 lb/gal", MassPerVolume, 10.77 * 119.8264},
		{"7.27077 lbs/gal", MassPerVolume, 7.27077 * 119.8264},
		{"468 g/L", MassPerVolume, 468},
		{"20.5 cSt", Kinematic, 20.5},
		{"14 mm²/s", Kinematic, 14},
		{"12000 mPa.s", Dynamic, 12000},
		{"500 cP", Dynamic, 500},
		{"1.2 Pa·s", Dynamic, 1200},
		{"5 g/kg", Dose, 5000},
		{"10 % w/w", Share, 10},
		{"100 ppm", Share, 0.01},
	} {
		fs := Scan(c.text, Undecided)
		if len(fs) != 1 {
			t.Errorf("Scan(%q) = %+v", c.text, fs)
			continue
		}
		f := fs[0]
		if got := f.Unit.To(f.Lo); f.Unit.Dim != c.dim || math.Abs(got-c.want) > 1e-6*math.Abs(c.want) {
			t.Errorf("%q: %v %v, want %v", c.text, got, f.Unit, c.want)
		}
	}
}

func TestScanLeavesCodesAndConditions(t *testing.T) {
	fs := Scan("95 °C (ASTM D93, closed cup) at 20 °C, H226, C18, 1,2,4-trimethylbenzene, 3-methyl, 250 mg/m3", Undecided)
	var got []string
	for _, f := range fs {
		s := f.Unit.Name
		if f.Condition {
			s += " at"
		}
		got = append(got, s)
	}
	if want := "°C|°C at|mg/m3"; strings.Join(got, "|") != want {
		t.Errorf("got %v, want %v", strings.Join(got, "|"), want)
	}
	fs = Scan("300 mg/m3 TWA50 ppm Ceiling", Undecided)
	if len(fs) != 1 || fs[0].Lo != 300 {
		t.Errorf("glued number: %+v", fs)
	}
}

func TestDates(t *testing.T) {
	for _, c := range []struct {
		text  string
		order Order
		want  string
	}{
		{"2016-04-29", OrderUnknown, "2016-04-29"},
		{"28/06/2016", MonthFirst, "2016-06-28"},
		{"05/30/2015", DayFirst, "2015-05-30"},
		{"03/05/2016", DayFirst, "2016-05-03"},
		{"03/05/2016", MonthFirst, "2016-03-05"},
		{"22.03.2020", MonthFirst, "2020-03-22"},
		{"03.05.2020", OrderUnknown, "2020-05-03"},
		{"28-Jun-2011", OrderUnknown, "2011-06-28"},
		{"29-mar-2021", OrderUnknown, "2021-03-29"},
		{"20 Mars 2026", OrderUnknown, "2026-03-20"},
		{"3 Décembre 2025", OrderUnknown, "2025-12-03"},
		{"November 24, 2017", OrderUnknown, "2017-11-24"},
		{"July 1, 2018", OrderUnknown, "2018-07-01"},
		{"01/25/06", OrderUnknown, "2006-01-25"},
		{"2015/9/30", OrderUnknown, "2015-09-30"},
		{"5. März 2021", OrderUnknown, "2021-03-05"},
		{"3 de mayo de 2016", OrderUnknown, "2016-05-03"},
		{"1er mars 2020", OrderUnknown, "2020-03-01"},
		{"March 2016", OrderUnknown, "2016-03"},
		{"20171027", OrderUnknown, "2017-10-27"},
		{"30/02/2016", OrderUnknown, ""},
		{"Version 1.2.10", OrderUnknown, ""},
		{"555-12-3456", OrderUnknown, ""},
	} {
		got := ""
		if ds := Dates("x "+c.text+" y", c.order); len(ds) > 0 {
			got = ds[0].ISO
		}
		if got != c.want {
			t.Errorf("Dates(%q) = %q, want %q", c.text, got, c.want)
		}
	}
	if ds := Dates("03/05/2016", OrderUnknown); !ds[0].Ambiguous {
		t.Error("03/05/2016 can be read in two ways")
	}
}

// Check digits by the publication of the CAS registry; acetone, toluene and 1-butanol are numbers known from it.
func TestCAS(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"CAS 67-64-1", "67-64-1"},
		{"0000071-36-3", "71-36-3"},
		{"025085-99-8", "25085-99-8"},
		{"67-64-130 - 60", "67-64-1"},
		{"67 - 64 - 1", "67-64-1"},
		{"7631‑86‑9", "7631-86-9"},
		{"603-074-00-8", ""},
		{"2017-11-24", ""},
		{"1-800-424-9300", ""},
		{"01-2119486560-35", ""},
		{"231-959-5", ""},
		{"6O-29-7", ""},
		{"67-64-2", "67-64-2 invalid"},
	} {
		got := ""
		for _, r := range CASNumbers(c.text, false) {
			got += r.Number
			if !r.Valid {
				got += " invalid"
			}
		}
		if got != c.want {
			t.Errorf("CASNumbers(%q) = %q, want %q", c.text, got, c.want)
		}
	}
	rs := CASNumbers("6O-29-7", true)
	if len(rs) != 1 || rs[0].Number != "60-29-7" || !rs[0].Repaired || rs[0].Printed != "6O-29-7" {
		t.Errorf("repair: %+v", rs)
	}
}

func TestOtherRegistries(t *testing.T) {
	if r := ECNumbers("EC 200-662-2, index 606-001-00-8"); len(r) != 1 || r[0].Number != "200-662-2" || !r[0].Valid {
		t.Errorf("EC: %+v", r)
	}
	if r := IndexNumbers("606-001-00-8 and 603-056-00-X"); len(r) != 2 || r[1].Number != "603-056-00-X" {
		t.Errorf("index: %+v", r)
	}
	if r := REACHNumbers("01-2119471330-49-XXXX"); len(r) != 1 || r[0].Number != "01-2119471330-49-xxxx" {
		t.Errorf("REACH: %+v", r)
	}
}

func TestStyle(t *testing.T) {
	if s := StyleOf("8.1 Grenzwerte\n9.1 Angaben\n12.1 Werte\nmit 1,46 g and 0,5 % in 1.000 ml"); s != DecimalComma {
		t.Errorf("comma: %v", s)
	}
	if s := StyleOf("8.1 Limits\n9.1 Values\nuse 1.46 g and 0.5 % in 1,000 ml, section 1.2.3"); s != DecimalPoint {
		t.Errorf("point: %v", s)
	}
}

func FuzzScan(f *testing.F) {
	for _, s := range []string{"≥ 10 - < 25 %", "70>", "1,2,4-tri", "1.2 x 10⁻³ Pa·s", ">23 °C; <60 °C", "1 000 000,5"} {
		f.Add(s, uint8(0))
	}
	f.Fuzz(func(t *testing.T, s string, style uint8) {
		last := 0
		for _, x := range Scan(s, Style(style%3)) {
			if x.Start < last || x.End <= x.Start || x.End > len(s) {
				t.Fatalf("places %d–%d after %d in %q", x.Start, x.End, last, s)
			}
			last = x.End
			if x.HasLo && x.HasHi && x.Lo > x.Hi {
				t.Fatalf("upside-down interval %+v in %q", x, s)
			}
			if !x.HasLo && !x.HasHi {
				t.Fatalf("interval without ends in %q", s)
			}
		}
	})
}

func FuzzDates(f *testing.F) {
	for _, s := range []string{"2016-04-29", "3 de mayo de 2016", "28-Jun-2011", "1/2/03"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, d := range Dates(s, OrderUnknown) {
			if d.Start < 0 || d.End > len(s) || d.End <= d.Start || len(d.ISO) != 10 && len(d.ISO) != 7 {
				t.Fatalf("%+v in %q", d, s)
			}
		}
	})
}

func FuzzCAS(f *testing.F) {
	for _, s := range []string{"67-64-1", "0000071-36-3", "6O-29-7", "67-64-130 - 60"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, repair bool) {
		for _, r := range CASNumbers(s, repair) {
			if r.Start < 0 || r.End > len(s) || s[r.Start:r.End] != r.Printed {
				t.Fatalf("%+v in %q", r, s)
			}
			if r.Valid != CASValid(r.Number) {
				t.Fatalf("validity of %+v", r)
			}
		}
		ECNumbers(s)
		IndexNumbers(s)
		REACHNumbers(s)
	})
}
