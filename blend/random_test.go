package blend

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/substance"
)

// randomRecipe mixes two to seven substances of the table in shares or ranges that fit, with water or a polymer as the rest.
func randomRecipe(r *rand.Rand) string {
	all := substance.Embedded().All()
	var b strings.Builder
	fmt.Fprintf(&b, "product: Blend %d\nform: liquid\nappearance: {state: liquid}\n", r.IntN(1000))
	fmt.Fprintf(&b, "measured: {flash_point: {value: %d}, boiling_point: {value: %d}}\n", 65+r.IntN(60), 150+r.IntN(100))
	b.WriteString("ingredients:\n")
	left := 95.0
	for range 1 + r.IntN(6) {
		s := all[r.IntN(len(all))]
		share := float64(int(r.Float64()*left*r.Float64()*100)) / 100
		if share < 0.01 || strings.Contains(b.String(), s.CAS) || s.CAS == "7732-18-5" {
			continue
		}
		left -= share
		percent := fmt.Sprint(share)
		if r.IntN(3) == 0 {
			percent = fmt.Sprintf("%.3g - %.3g", share*0.6, share)
		}
		fmt.Fprintf(&b, "  - {cas: %s, percent: \"%s\"}\n", s.CAS, percent)
	}
	b.WriteString("  - {cas: 7732-18-5, percent: rest}\n")
	return b.String()
}

// Drafts of random recipes: no field is missing, every item says why, and no check finds a contradiction in what the draft
// says (for some it would be there by the substance table against the sheet's own word).
func TestRandomRecipes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 16))
	for n := range 120 {
		text := randomRecipe(r)
		rs := Drafted()[n%len(Drafted())]
		l := ghs.Langs()[n%len(ghs.Langs())]
		m, err := Make(recipe(t, text), stock(), rs)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		d, err := m.Draft(l, stock())
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if x := d.Missing(); len(x) > 0 {
			t.Errorf("missing %v\n%s", x, text)
		}
		checkItems(t, d)
		j, err := judge.JudgeSheet(context.Background(), d.Facts, substance.Embedded(), judge.Request{Rules: rs, Now: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, f := range j.Report.Findings {
			if f.Kind == audit.Contradiction {
				t.Errorf("%s: %s: %s\n%s", rs, f.Check, f.Title, text)
			}
		}
	}
}
