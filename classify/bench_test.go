package classify_test

import (
	"testing"

	"sixteen/classify"
)

// coating is an invented two-part floor coating's resin side: twelve ingredients over most classes.
const coating = "40 Skin Irrit. 2, Eye Irrit. 2, Skin Sens. 1, Aquatic Chronic 2, scl Skin Irrit. 2>=5, scl Eye Irrit. 2>=5" +
	" / 12 Skin Corr. 1B, Acute Tox. 4 oral, Acute Tox. 4 dermal, Skin Sens. 1A, Aquatic Chronic 3" +
	" / 8 Flam. Liq. 3, Acute Tox. 4 dermal, Acute Tox. 4 inhalation_vapour, Skin Irrit. 2, STOT RE 2, Asp. Tox. 1" +
	" / 6 Flam. Liq. 2, Eye Irrit. 2, STOT SE 3 narcotic / 5 Acute Tox. 3 oral, Skin Corr. 1A, Muta. 2" +
	" / 2 Resp. Sens. 1, Skin Sens. 1, STOT SE 3 respiratory, Acute Tox. 4 inhalation_dust / 1 Repr. 1B, STOT RE 1" +
	" / 0.5 Carc. 2, Aquatic Acute 1, Aquatic Chronic 1, M=10, MC=10 / 4 unknown oral, unknown dermal" +
	" / 3 Asp. Tox. 1, STOT SE 3 narcotic / 0.4 Skin Sens. 1A, Acute Tox. 2 inhalation_dust / 18.1 not toxic"

// BenchmarkPoint12 classifies one composition of twelve ingredients over all classes.
func BenchmarkPoint12(b *testing.B) {
	for _, rs := range classify.RuleSets() {
		b.Run(string(rs), func(b *testing.B) {
			m := mix(b, coating)
			p, err := classify.Compile(m, rs)
			if err != nil {
				b.Fatal(err)
			}
			x, ok := p.Point()
			if !ok {
				b.Fatal("not a point")
			}
			b.ReportAllocs()
			for b.Loop() {
				c := p.At(x)
				if c.Hazards.Empty() {
					b.Fatal("nothing given")
				}
			}
		})
	}
}

// BenchmarkCompile12 compiles the rules for twelve ingredients.
func BenchmarkCompile12(b *testing.B) {
	m := mix(b, coating)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := classify.Compile(m, "eu-clp"); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTrace12 works out the whole trace.
func BenchmarkTrace12(b *testing.B) {
	p, err := classify.Compile(mix(b, coating), "eu-clp")
	if err != nil {
		b.Fatal(err)
	}
	x, _ := p.Point()
	for b.Loop() {
		c := p.At(x)
		if len(c.Results()) == 0 {
			b.Fatal("no results")
		}
	}
}

// At keeps to two allocations: it is called once per composition when ranges are explored.
func TestAtAllocatesLittle(t *testing.T) {
	p, err := classify.Compile(mix(t, coating), "eu-clp")
	if err != nil {
		t.Fatal(err)
	}
	x, _ := p.Point()
	if n := testing.AllocsPerRun(100, func() { p.At(x) }); n > 20 {
		t.Errorf("At allocates %v times, want at most 20", n)
	}
}
