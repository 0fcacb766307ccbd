package ghs

import (
	"strings"
	"testing"
)

var fuzzSeeds = []string{
	"H315 Causes skin irritation. H319 Causes serious eye irritation.", "P305 + P351+P338", "H302-312-319", "EUHO66", "H3l7 Kann allergische Hautreaktionen verursachen",
	"Skin Irrit. 2, H315; Eye Irrit. 2, H319", "Acute toxicity, oral (Category 4)", "Catégorie 1B é ñ ß …", "\xff\xfe H3", "¡Atención! Contiene plomo.", "Category l B", "ﬂammable liquid and vapour", "| 1 0 l|l",
}

// Whatever the text, what is found lies within it and in order.
func FuzzFindPhrase(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, m := range FindPhrase(text, "") {
			if m.Start < last || m.Start >= m.End || m.End > len(text) || m.Score < minPhraseScore || m.Score > 1 || !m.Code.Known() {
				t.Fatalf("%q: %+v", text, m)
			}
			last = m.End
		}
	})
}

// A code that was found reads back as itself, and lies where it was found.
func FuzzParseCodes(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, h := range ParseCodes(text) {
			if h.Start < last || h.Start >= h.End || h.End > len(text) {
				t.Fatalf("%q: %+v", text, h)
			}
			last = h.End
			if again, ok := NormaliseCode(string(h.Code)); h.Code.Known() && (!ok || again != h.Code) {
				t.Fatalf("%q: %s reads back as %q", text, h.Code, again)
			}
		}
	})
}

// A hazard that was found lies where it was found, and its name reads back as itself.
func FuzzFindHazards(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, h := range FindHazards(text) {
			if h.Start < last || h.Start >= h.End || h.End > len(text) || len(h.Readings) == 0 {
				t.Fatalf("%q: %+v", text, h)
			}
			last = h.Start
			for _, r := range h.Readings {
				if back, ok := ParseHazard(r.String()); !ok || back != r {
					t.Fatalf("%s reads back as %s", r, back)
				}
			}
		}
		if h, ok := ParseHazard(text); ok && strings.TrimSpace(text) == "" {
			t.Fatalf("%q is %s", text, h)
		}
	})
}
