package invent

import (
	"math/rand/v2"
	"testing"

	"sixteen/ghs"
	"sixteen/substance"
)

// Shares of every recipe are positive and at most 100 % together, every range that is disclosed holds its share, and the
// ranges can be taken up by some composition of 100 %.
func TestSharesAddUp(t *testing.T) {
	table := substance.Embedded()
	for seed := range uint64(500) {
		rng := rand.New(rand.NewPCG(seed, 0x5a4e))
		b, err := mix(recipes[seed%uint64(len(recipes))], table, rng)
		if err != nil {
			t.Fatal(err)
		}
		for ladder := range len(bands) + 1 {
			b.disclose(ladder)
			sum, least := 0.0, 0.0
			for _, p := range b.Parts {
				if p.Share <= 0 || p.Range.HasLo && p.Share < p.Range.Lo || p.Range.HasHi && p.Share > p.Range.Hi {
					t.Fatalf("seed %d, %s: %s has %v %%, disclosed as %v", seed, b.recipe.kind, p.Name, p.Share, p.Range)
				}
				sum, least = sum+p.Share, least+p.Range.Lo
			}
			if sum > 100+1e-9 || least > 100+1e-9 {
				t.Fatalf("seed %d, %s: the shares add up to %v %%, the least ends of their ranges to %v %%", seed, b.recipe.kind, sum, least)
			}
		}
	}
}

// A sheet comes of blends that once left no room for their last part.
func TestFullBlendsHaveSheets(t *testing.T) {
	for i := range uint64(64) {
		seed := 33*1_000_003 + i
		if _, err := Random(seed, ghs.English, rulesOfTests[seed%3]); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}
