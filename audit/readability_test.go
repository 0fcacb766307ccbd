package audit

import (
	"math"
	"slices"
	"strings"
	"testing"

	"sixteen/ghs"
)

// Counted by hand: two sentences, twelve words, of which two have more than six letters; 19 groups of vowels.
func TestReadabilityByHand(t *testing.T) {
	r := ReadabilityOf("Wear gloves and open the window. The vapour catches fire very quickly.")
	if r.Sentences != 2 || r.Words != 12 {
		t.Fatalf("got %+v", r)
	}
	if want := 6 + 100*2.0/12; math.Abs(r.LIX-want) > 1e-9 { // catches, quickly
		t.Errorf("LIX %.3f, want %.3f", r.LIX, want)
	}
	// wear 1, gloves 2 by the rule of vowel groups, and 1, open 2, the 1, window 2, the 1, vapour 2, catches 2, fire 1, very 2, quickly 2
	if want := 0.39*6 + 11.8*19/12 - 15.59; math.Abs(r.Grade-want) > 1e-9 {
		t.Errorf("grade %.3f, want %.3f", r.Grade, want)
	}
	if ReadabilityOf("") != (Readability{}) {
		t.Error("no words, and a figure")
	}
}

// What the half page says of each hazard is for somebody in lower secondary school: at most nine years of school, and
// easy by LIX.
func TestHalfPageIsEasyToRead(t *testing.T) {
	var all []string
	for _, h := range ghs.AllHazards() {
		if s := CouldHappen(h); s != "" && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	r := ReadabilityOf(strings.Join(all, " "))
	if r.Words < 150 {
		t.Fatalf("only %d words", r.Words)
	}
	if r.Grade > 9 || r.LIX > 40 {
		t.Errorf("grade %.1f, LIX %.1f", r.Grade, r.LIX)
	}
}
