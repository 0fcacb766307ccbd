package main

import (
	"context"
	"fmt"
	"runtime"
	"testing"
	"time"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// twelve is a coating of twelve ingredients that meets most rules: invented, with classes typical of the trade.
func twelve() classify.Mixture {
	in := func(name string, lo, hi float64, hazards ...ghs.Hazard) classify.Ingredient {
		return classify.Ingredient{Name: name, Percent: sheet.Between(lo, hi), Hazards: ghs.SetOf(hazards...)}
	}
	flash := 27.0
	return classify.Mixture{Name: "twelve ingredients", Form: classify.Liquid, Tested: classify.Tested{FlashPointC: &flash}, Ingredients: []classify.Ingredient{
		in("epoxy resin", 20, 30, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2),
		in("reactive diluent", 5, 10, ghs.SkinIrrit2, ghs.SkinSens1),
		in("aromatic solvent", 10, 20, ghs.AcuteTox4Dermal, ghs.AcuteTox4InhalationVapour, ghs.SkinIrrit2, ghs.AspTox1),
		in("ethylbenzene", 1, 5, ghs.AcuteTox4InhalationVapour, ghs.STOTRE2, ghs.AspTox1),
		in("butanol", 3, 10, ghs.AcuteTox4Oral, ghs.SkinIrrit2, ghs.EyeDam1, ghs.STOTSE3Respiratory, ghs.STOTSE3Narcotic),
		in("glycol ether", 1, 5, ghs.AcuteTox4Oral, ghs.AcuteTox3InhalationVapour, ghs.SkinIrrit2, ghs.EyeIrrit2),
		in("amine", 0.5, 3, ghs.AcuteTox4Oral, ghs.AcuteTox4Dermal, ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1A),
		in("biocide", 0.01, 0.1, ghs.AcuteTox3Oral, ghs.SkinCorr1B, ghs.SkinSens1A, ghs.AquaticAcute1, ghs.AquaticChronic1),
		in("zinc phosphate", 2, 10, ghs.AquaticAcute1, ghs.AquaticChronic1),
		in("cobalt drier", 0.1, 0.5, ghs.Repr1B, ghs.SkinSens1A, ghs.AquaticChronic3),
		in("filler", 10, 25),
		in("pigment", 2, 10),
	}}
}

// classification prints the cost of the point, the envelope and the proof for twelve ingredients.
func classification() error {
	m := twelve()
	p, err := classify.Compile(m, ghs.EUCLP)
	if err != nil {
		return err
	}
	x := make([]float64, len(m.Ingredients))
	for i, in := range m.Ingredients {
		x[i] = (in.Percent.Lo + in.Percent.Hi) / 2
	}
	point := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for range b.N {
			runtime.KeepAlive(p.At(x))
		}
	})
	row("classification of one composition, 12 ingredients, every class of eu-clp", duration(point), "", "", fmt.Sprintf("≤ 20 µs, ≤ 20 allocations (%d)", point.AllocsPerOp()))
	compiled := testing.Benchmark(func(b *testing.B) {
		for range b.N {
			q, err := classify.Compile(m, ghs.EUCLP)
			if err != nil {
				b.Fatal(err)
			}
			runtime.KeepAlive(q.At(x))
		}
	})
	row("the same with compiling the rules for the mixture", duration(compiled), "", "", "")
	envelope := testing.Benchmark(func(b *testing.B) {
		for range b.N {
			if _, err := p.Envelope(); err != nil {
				b.Fatal(err)
			}
		}
	})
	row("envelope over all compositions", duration(envelope), "", "", "≤ 1 ms")
	declared := p.At(x).Hazards.All()
	proof := testing.Benchmark(func(b *testing.B) {
		for range b.N {
			if _, err := p.Prove(context.Background(), declared, classify.ProofOptions{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	row("proof of a declaration that can be true", duration(proof), "", "", "≤ 20 ms")
	clash := testing.Benchmark(func(b *testing.B) {
		for range b.N {
			if _, err := p.Prove(context.Background(), []ghs.Hazard{ghs.SkinIrrit2}, classify.ProofOptions{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	row("proof that a declaration cannot be true, with the smallest clash", duration(clash), "", "", "≤ 20 ms")
	return nil
}

func duration(r testing.BenchmarkResult) string {
	d := time.Duration(r.NsPerOp())
	if d < time.Millisecond {
		return fmt.Sprintf("%.1f µs", float64(d)/1e3)
	}
	return fmt.Sprintf("%.2f ms", float64(d)/1e6)
}
