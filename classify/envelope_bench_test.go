package classify

import (
	"context"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// twelve is an invented two-component coating part with twelve ingredients that between them touch most classes: acids,
// solvents, sensitisers, a carcinogen, aquatic toxicants, unknown acute toxicity and cut-offs inside ranges.
func twelve() Mixture {
	in := func(name string, p sheet.Interval, hs ...ghs.Hazard) Ingredient {
		return Ingredient{Name: name, Percent: p, Hazards: ghs.SetOf(hs...)}
	}
	m := Mixture{Name: "twelve", Form: Liquid, Ingredients: []Ingredient{
		in("resin", sheet.Between(20, 40), ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2),
		in("diluent", sheet.Between(5, 15), ghs.SkinIrrit2, ghs.SkinSens1A, ghs.AquaticChronic3),
		in("amine", sheet.Between(1, 10), ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1A, ghs.AcuteTox4Oral, ghs.AcuteTox4Dermal),
		in("accelerator", sheet.Interval{Lo: 0.5, Hi: 3, HasLo: true, HasHi: true, HiOpen: true}, ghs.SkinCorr1C, ghs.AcuteTox4Oral, ghs.AquaticChronic3),
		in("aromatic solvent", sheet.Between(5, 20), ghs.FlamLiq3, ghs.AspTox1, ghs.STOTSE3Narcotic, ghs.AquaticChronic2),
		in("glycol ether", sheet.Between(3, 7), ghs.AcuteTox4Oral, ghs.AcuteTox3InhalationVapour, ghs.SkinIrrit2, ghs.EyeIrrit2),
		in("ketone", sheet.Between(1, 5), ghs.FlamLiq2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic),
		in("biocide", below(0.1), ghs.AcuteTox2InhalationDust, ghs.SkinCorr1C, ghs.SkinSens1A, ghs.AquaticAcute1, ghs.AquaticChronic1),
		in("oxime", sheet.Between(0.05, 0.5), ghs.Carc1B, ghs.STOTSE1, ghs.AcuteTox3Oral, ghs.EyeDam1),
		in("ester", sheet.Between(0.1, 1), ghs.Repr1B, ghs.STOTRE2),
		in("pigment", sheet.Between(10, 30)),
		in("filler", sheet.Between(5, 25), ghs.STOTRE1),
	}}
	m.Ingredients[7].MAcute, m.Ingredients[7].MChronic = 10, 1
	m.Ingredients[7].Limits = []SpecificLimit{{Hazard: ghs.SkinSens1A, Percent: atLeast(0.036)}}
	m.Ingredients[10].ATE[ghs.Oral] = ATE{Status: ATEUnknown}
	m.Ingredients[11].ATE[ghs.Oral] = ATE{Status: ATENotToxic}
	flash := 31.0
	m.Tested.FlashPointC = &flash
	return m
}

func compiled(tb testing.TB, m Mixture, rs ghs.RuleSet) *Program {
	tb.Helper()
	p, err := Compile(m, rs)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// BenchmarkEnvelope12 works out every class of a rule set over all compositions of twelve ingredients.
func BenchmarkEnvelope12(b *testing.B) {
	for _, rs := range []ghs.RuleSet{ghs.EUCLP, ghs.USHCS2024, ghs.UNGHS} {
		b.Run(string(rs), func(b *testing.B) {
			p := compiled(b, twelve(), rs)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := p.Envelope(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkProof12 proves a declaration that fits and one that clashes.
func BenchmarkProof12(b *testing.B) {
	for _, rs := range []ghs.RuleSet{ghs.EUCLP, ghs.USHCS2024, ghs.UNGHS} {
		p := compiled(b, twelve(), rs)
		e, err := p.Envelope()
		if err != nil {
			b.Fatal(err)
		}
		x := e.problem.s.centre(make([]float64, 13))
		at := p.At(x[:12])
		fits := at.Hazards
		for _, c := range []struct {
			name     string
			declared ghs.HazardSet
			want     ProofStatus
		}{
			{"fits", fits, Consistent},
			{"clashes-remainder", fits.Union(ghs.SetOf(ghs.Muta1B)), NeedsRemainder},
			{"clashes", fits.Minus(e.Certain.Intersect(ghs.SetOf(ghs.EyeDam1, ghs.STOTRE1, ghs.SkinSens1, ghs.SkinSens1A))), Contradicted},
		} {
			b.Run(string(rs)+"/"+c.name, func(b *testing.B) {
				for b.Loop() {
					proof, err := p.Prove(context.Background(), c.declared.All(), ProofOptions{})
					if err != nil || proof.Status != c.want {
						b.Fatalf("%v, want %v: %v", proof, c.want, err)
					}
				}
			})
		}
	}
}
