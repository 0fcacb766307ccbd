package substance

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func byCAS(t testing.TB, cas string) *Substance {
	t.Helper()
	s, ok := Embedded().ByCAS(cas)
	if !ok {
		t.Fatalf("%s is not held", cas)
	}
	return s
}

// Vapour pressures of well measured liquids, from memory (CRC Handbook of Chemistry and Physics, vapour pressure tables; water:
// IAPWS); the chlorinated solvents as read in a leaflet of the German accident insurers (77.3 and 18.6 hPa at 20 °C).
func TestVapourPressureOfKnownLiquids(t *testing.T) {
	for _, c := range []struct {
		cas       string
		tempC, pa float64
	}{
		{"7732-18-5", 20, 2339}, {"7732-18-5", 25, 3169}, {"7732-18-5", 60, 19946}, {"7732-18-5", 100, 101325},
		{"67-64-1", 25, 30800}, {"108-88-3", 25, 3790}, {"64-17-5", 25, 7870}, {"67-56-1", 25, 16900}, {"110-54-3", 25, 20200}, {"71-43-2", 25, 12700},
		{"79-01-6", 20, 7730}, {"127-18-4", 20, 1860},
	} {
		p := byCAS(t, c.cas).VapourPressure(c.tempC)
		if !p.Known || math.Abs(p.Pa/c.pa-1) > 0.03 {
			t.Errorf("%s at %g °C: %+v, want %g Pa", c.cas, c.tempC, p, c.pa)
		}
	}
}

func TestVapourPressureSaysHowItWasFound(t *testing.T) {
	point := func(v float64) Value { return Value{Known: true, V: v, Source: Source{Text: "test"}} }
	a := &Antoine{A: 9.05, B: 1277, C: -36, TminK: 280, TmaxK: 330, Source: Source{Text: "equation"}}
	for name, c := range map[string]struct {
		s      Substance
		tempC  float64
		method Method
		known  bool
		reason string
	}{
		"inside the range":   {Substance{Antoine: a}, 25, ByAntoine, true, "7 to 57"},
		"just above it":      {Substance{Antoine: a}, 60, ByAntoineEnd, true, "3 K outside"},
		"far above it":       {Substance{Antoine: a}, 350, ByNothing, false, "far above"},
		"value at 20":        {Substance{VapourPressurePa: point(500)}, 20, ByPoint, true, "20 °C"},
		"two points":         {Substance{VapourPressurePa: point(500), BoilingPointC: point(150)}, 40, ByTwoPoints, true, "150"},
		"one point":          {Substance{VapourPressurePa: point(500)}, 40, BySinglePoint, true, "only the value"},
		"boiling point only": {Substance{BoilingPointC: point(150)}, 40, ByBoiling, true, "reads high"},
		"nothing":            {Substance{}, 20, ByNothing, false, "section 9"},
		"absurdly cold":      {Substance{Antoine: a}, -273, ByNothing, false, "outside"},
		"not a number":       {Substance{Antoine: a}, math.NaN(), ByNothing, false, "outside"},
		"a solid":            {Substance{BoilingPointC: point(300), MeltingPointC: point(80)}, 25, ByBoiling, true, "solid"},
	} {
		p := c.s.VapourPressure(c.tempC)
		estimate := c.known && c.method != ByAntoine && c.method != ByPoint
		if p.Method != c.method || p.Known != c.known || p.Estimate != estimate || !strings.Contains(p.Reason, c.reason) || (p.Known != (p.Pa > 0)) {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

// Estimates against the equations: with the equation taken away, each way of estimating is compared with it at 40 °C over
// every substance whose range reaches there.
func TestEstimatesAgainstTheEquations(t *testing.T) {
	var two, one, boil []float64
	for _, s := range Embedded().All() {
		truth := s.VapourPressure(40)
		if truth.Method != ByAntoine || !s.BoilingPointC.Known || s.BoilingPointC.V < 45 || s.Antoine.TminK > 293.15 {
			continue
		}
		bare := Substance{BoilingPointC: s.BoilingPointC, VapourPressurePa: Value{Known: true, V: s.VapourPressure(20).Pa}}
		two = append(two, bare.VapourPressure(40).Pa/truth.Pa)
		bare.BoilingPointC = Value{}
		one = append(one, bare.VapourPressure(40).Pa/truth.Pa)
		bare = Substance{BoilingPointC: s.BoilingPointC}
		boil = append(boil, bare.VapourPressure(40).Pa/truth.Pa)
	}
	for _, c := range []struct {
		method    Method
		ratios    []float64
		low, high float64 // of the 5th and 95th percentile
	}{{ByTwoPoints, two, 0.9, 1.05}, {BySinglePoint, one, 0.7, 1.1}, {ByBoiling, boil, 0.9, 5}} {
		slices.Sort(c.ratios)
		n := len(c.ratios)
		if n < 60 {
			t.Fatalf("only %d substances", n)
		}
		low, mid, high := c.ratios[n/20], c.ratios[n/2], c.ratios[n-1-n/20]
		t.Logf("%s: estimate over equation at 40 °C, %d substances: 5 %% %.2f, median %.2f, 95 %% %.2f", c.method, n, low, mid, high)
		if low < c.low || high > c.high {
			t.Errorf("%s: 5 %% %.2f and 95 %% %.2f lie outside %g to %g", c.method, low, high, c.low, c.high)
		}
	}
}

// ppm to mg/m³: 29 CFR 1910.1000 Table Z-1 prints 100 ppm of ethyl benzene as 435 mg/m³ and 1000 ppm of acetone as
// 2400 mg/m³ at 25 °C; Directive 2009/161/EU prints 5 ppm of dimethylformamide as 15 mg/m³ at 20 °C.
func TestConversionAsPrinted(t *testing.T) {
	for _, c := range []struct {
		cas            string
		ppm, mg, molar float64
		tolerance      float64
	}{ // the first three: GESTIS substance data base and German accident insurers' leaflet on chlorinated solvents, at 20 °C
		{"78-93-3", 1, 3.00, MolarVolume20C, 0.002}, {"79-01-6", 1, 5.46, MolarVolume20C, 0.002}, {"127-18-4", 1, 6.89, MolarVolume20C, 0.002},
		{"100-41-4", 100, 435, MolarVolume25C, 0.003}, {"67-64-1", 1000, 2400, MolarVolume25C, 0.02}, {"68-12-2", 5, 15, MolarVolume20C, 0.02}, {"123-86-4", 50, 241, MolarVolume20C, 0.003},
	} {
		m := byCAS(t, c.cas).MolarMassGMol.V
		if got := MgM3FromPPM(c.ppm, m, c.molar); math.Abs(got/c.mg-1) > c.tolerance {
			t.Errorf("%s: %g ppm give %.4g mg/m³, printed %g", c.cas, c.ppm, got, c.mg)
		}
		if back := PPMFromMgM3(MgM3FromPPM(c.ppm, m, c.molar), m, c.molar); math.Abs(back/c.ppm-1) > 1e-12 {
			t.Errorf("%s: %g ppm come back as %g", c.cas, c.ppm, back)
		}
	}
	if v := MolarVolume(25); math.Abs(v-MolarVolume25C) > 0.02 {
		t.Errorf("molar volume at 25 °C: %g", v)
	}
	if v := MolarVolume(20); math.Abs(v-MolarVolume20C) > 0.01 {
		t.Errorf("molar volume at 20 °C: %g", v)
	}
	if v := MolarVolume(-300); v != 0 {
		t.Errorf("molar volume below absolute zero: %g", v)
	}
}

func TestLimitInOtherUnits(t *testing.T) {
	m := Value{Known: true, V: 100}
	for name, c := range map[string]struct {
		l                   Limit
		mg, ppm             float64
		mgKnown, ppmKnown   bool
		mgWorked, ppmWorked bool
	}{
		"both printed":     {Limit{Authority: "OSHA PEL", PPM: 10, MgM3: 41}, 41, 10, true, true, false, false},
		"ppm printed":      {Limit{Authority: "UK WEL", PPM: 24.06}, 100, 24.06, true, true, true, false},
		"mass printed":     {Limit{Authority: "OSHA PEL", MgM3: 100}, 100, 24.45, true, true, false, true},
		"dust has no ppm":  {Limit{Authority: "OSHA PEL", MgM3: 15, Basis: "total dust"}, 15, 0, true, false, false, false},
		"mass is computed": {Limit{Authority: "Ontario OEL", PPM: 10, MgM3: 40.9, Computed: true}, 40.9, 10, true, true, true, false},
	} {
		mg, worked, ok := c.l.InMgM3(m)
		if math.Abs(mg-c.mg) > 1e-9 || worked != c.mgWorked || ok != c.mgKnown {
			t.Errorf("%s: %g mg/m³ computed=%v known=%v", name, mg, worked, ok)
		}
		ppm, worked, ok := c.l.InPPM(m)
		if math.Abs(ppm-c.ppm) > 1e-9 || worked != c.ppmWorked || ok != c.ppmKnown {
			t.Errorf("%s: %g ppm computed=%v known=%v", name, ppm, worked, ok)
		}
	}
	if _, _, ok := (Limit{PPM: 1}).InMgM3(Value{}); ok {
		t.Error("mg/m³ without a molar mass")
	}
}

// Limits come by place, binding ones first, means before peaks.
func TestLimitsForAPlace(t *testing.T) {
	s := byCAS(t, "100-42-5")
	us := s.LimitsFor(UnitedStates)
	if len(us) != 4 || us[0].Authority != "OSHA PEL" || us[0].Kind != TWA || us[1].Kind != Ceiling || us[2].Authority != "NIOSH REL" || us[2].Binding() {
		t.Errorf("styrene in the United States: %+v", us)
	}
	n := 0
	for _, j := range Jurisdictions() {
		n += len(s.LimitsFor(j))
	}
	if n != len(s.Limits) {
		t.Errorf("%d of %d limits have a place", n, len(s.Limits))
	}
}

// A place without a limit is shown the strictest of other places, never as its own law.
func TestBorrowedLimits(t *testing.T) {
	s := byCAS(t, "100-42-5")
	got := s.Borrowed(EuropeanUnion, s.MolarMassGMol)
	if len(got) != 2 || got[0].Kind != TWA || got[1].Kind == TWA {
		t.Fatalf("styrene: %+v", got)
	}
	for _, b := range got {
		if !b.Borrowed || b.Binding() || b.Who() == b.Authority || b.Jurisdiction() == EuropeanUnion {
			t.Errorf("%+v passes for a limit of the place", b)
		}
		mg, _, _ := b.InMgM3(s.MolarMassGMol)
		for _, l := range s.Limits {
			if other, _, ok := l.InMgM3(s.MolarMassGMol); ok && l.Basis == "" && (l.Kind == TWA) == (b.Kind == TWA) && other < mg {
				t.Errorf("%s %s is stricter than %s", l.Authority, l.Kind, b.Authority)
			}
		}
	}
	for _, l := range s.Limits {
		if l.Borrowed {
			t.Error("the table itself was marked")
		}
	}
}
