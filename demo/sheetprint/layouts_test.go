package sheetprint

import (
	"bytes"
	"testing"

	"sixteen/ghs"
)

// everyLayout runs check on the example sheet in every layout, each in two languages.
func everyLayout(t *testing.T, check func(t *testing.T, s Spec, l Layout, pdf []byte, truth Truth)) {
	t.Helper()
	for n := 1; n <= LayoutCount(); n++ {
		for k, lang := range ghs.Langs() {
			if k%2 != n%2 {
				continue
			}
			rules := []ghs.RuleSet{ghs.USHCS2024, ghs.EUCLP, ghs.CAHPR}[(n+k)%3]
			l, err := NewLayout(n, rules, lang, uint64(n*10+k))
			if err != nil {
				t.Fatal(err)
			}
			s := exampleSpec(lang, rules)
			pdf, truth, err := Print(s, l)
			if err != nil {
				t.Fatal(err)
			}
			t.Run(l.Name+" "+string(lang), func(t *testing.T) { check(t, s, l, pdf, truth) })
		}
	}
}

// The same sheet, layout and seed give the same bytes.
func TestPrintIsDeterministic(t *testing.T) {
	everyLayout(t, func(t *testing.T, s Spec, l Layout, pdf []byte, _ Truth) {
		again, _, err := Print(s, l)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(pdf, again) {
			t.Error("two prints of one sheet differ")
		}
	})
}

// Every layout prints all sixteen sections, once each, on pages in rising order, and stays small.
func TestEveryLayoutPrintsEverySection(t *testing.T) {
	everyLayout(t, func(t *testing.T, _ Spec, l Layout, pdf []byte, truth Truth) {
		if len(truth.SectionsFound) != 16 {
			t.Fatalf("%d sections", len(truth.SectionsFound))
		}
		page, means := 1, map[int]bool{}
		for i, s := range truth.SectionsFound {
			if s.Section != i+1 || s.Page < page || s.Page > truth.Pages {
				t.Errorf("section %d stands on page %d after page %d of %d", s.Section, s.Page, page, truth.Pages)
			}
			page = s.Page
			means[s.Means] = true
		}
		if len(means) != 16 {
			t.Errorf("%d different subjects", len(means))
		}
		if old := truth.SectionsFound[1].Means == 3; old != l.OldOrder {
			t.Errorf("composition before hazards: %v, want %v", old, l.OldOrder)
		}
		if len(pdf) > 300_000 {
			t.Errorf("%d bytes", len(pdf))
		}
	})
}

// Every key has words in every language, with the same places to fill in.
func TestWordsAreComplete(t *testing.T) {
	en, err := loadWords(ghs.English)
	if err != nil {
		t.Fatal(err)
	}
	for _, lang := range ghs.Langs()[1:] {
		d, err := loadWords(lang)
		if err != nil {
			t.Fatal(err)
		}
		for key := range en {
			if len(d[key]) == 0 {
				t.Errorf("%s has no %s words", key, lang)
			}
		}
		if len(d) != len(en) {
			t.Errorf("%s has %d keys, English %d", lang, len(d), len(en))
		}
	}
	if _, err := loadWords("xx"); err == nil {
		t.Error("an unknown language has words")
	}
}
