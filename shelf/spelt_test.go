package shelf

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Words told apart by their letters first are found like words each compared letter by letter.
func TestSpeltFindsWhatComparingEveryWordFinds(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 5))
	letters := []rune("aabcdeeiklmnorst1290-/éøßπ中")
	some := func() string {
		word := make([]rune, 3+random.IntN(9))
		for i := range word {
			word[i] = letters[random.IntN(len(letters))]
		}
		return string(word)
	}
	of := known{}
	for range 4000 {
		w := some()
		of.words, of.letters = append(of.words, w), append(of.letters, lettersIn(w))
	}
	parts, near := 0, 0
	for range 400 {
		word := []rune(of.words[random.IntN(len(of.words))])
		for range random.IntN(3) {
			word[random.IntN(len(word))] = letters[random.IntN(len(letters))]
		}
		if random.IntN(3) == 0 {
			word = word[:max(3, len(word)-2)]
		}
		got := spelt(string(word), of)
		if slices.ContainsFunc(of.words, func(k string) bool { return strings.Contains(k, string(word)) }) {
			parts++
			if !slices.Equal(got, []string{string(word)}) {
				t.Errorf("%q is part of a word, and %q was found", string(word), got)
			}
			continue
		}
		most := max(1, len(word)/4)
		away := func(k string) int { return apart(string(word), k, most) }
		var want []string
		for _, k := range of.words {
			if len(string(word)) > shortest && away(k) <= most {
				want = append(want, k)
			}
		}
		slices.SortFunc(want, func(a, b string) int {
			if d := away(a) - away(b); d != 0 {
				return d
			}
			return strings.Compare(a, b)
		})
		want = want[:min(neighbourhood, len(want))]
		if !slices.Equal(got, want) {
			t.Errorf("%q finds %q in place of %q", string(word), got, want)
		}
		near += len(want)
	}
	if parts < 20 || near < 100 {
		t.Errorf("only %d parts and %d neighbours were compared", parts, near)
	}
}
