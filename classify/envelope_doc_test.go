package classify

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

// quayHardener is the worked example of docs/envelope.md: an invented hardener of an invented supplier.
func quayHardener() Mixture {
	return Mixture{Name: "Quay hardener", Form: Liquid, Ingredients: []Ingredient{
		{Name: "amine", Percent: sheet.Between(1, 10), Hazards: ghs.SetOf(ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1)},
		{Name: "glycol ether", Percent: below(5), Hazards: ghs.SetOf(ghs.SkinIrrit2, ghs.EyeIrrit2)},
		{Name: "plasticiser", Percent: sheet.Between(60, 80), Hazards: ghs.SetOf(ghs.EyeIrrit2)},
	}}
}

// documentExample writes what docs/envelope.md prints.
func documentExample(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	p := compiled(t, quayHardener(), ghs.EUCLP)
	e, err := p.Envelope()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []ghs.Hazard{ghs.SkinCorr1B, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1} {
		a := e.Of(h)
		fmt.Fprintf(&b, "%v: %v; this or severer: %v\n", h, a.Verdict, a.OrSeverer)
		for _, r := range e.Why(h) {
			fmt.Fprintf(&b, "  %s\n", r.Text)
		}
		for _, w := range []struct {
			side string
			c    *Composition
		}{{"with", a.For}, {"without", a.Against}} {
			if w.c != nil {
				fmt.Fprintf(&b, "  %s: %s\n", w.side, w.c.Words(&p.Mixture))
			}
		}
	}
	for _, declared := range [][]ghs.Hazard{{ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1}, {ghs.SkinIrrit2, ghs.EyeDam1}} {
		proof, err := p.Prove(context.Background(), declared, ProofOptions{})
		if err != nil {
			t.Fatal(err)
		}
		names := make([]string, len(declared))
		for i, h := range declared {
			names[i] = h.String()
		}
		fmt.Fprintf(&b, "declared %s: %v\n  %s\n", strings.Join(names, ", "), proof.Status, proof.Words(&p.Mixture))
	}
	return b.String()
}

// The worked example of docs/envelope.md is what the code says.
func TestDocumentExample(t *testing.T) {
	doc, err := os.ReadFile("../docs/envelope.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := documentExample(t); !strings.Contains(string(doc), "```text\n"+want+"```") {
		t.Errorf("docs/envelope.md does not print the worked example; it should read\n%s", want)
	}
}
