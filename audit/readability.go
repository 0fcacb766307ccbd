package audit

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// Readability is how hard a text is to read, by two published formulas. Both look at the length of words and sentences
// only; they do not know whether a word is understood.
type Readability struct {
	Sentences int     `json:"sentences"`
	Words     int     `json:"words"`
	Grade     float64 `json:"grade"` // Flesch–Kincaid grade level, years of school; for English only
	LIX       float64 `json:"lix"`   // readability index, any language; 30 to 40 is easy, fiction for adults
}

// The formulas: J. P. Kincaid and others, Derivation of new readability formulas, Naval Technical Training Command, 1975:
// 0.39 words per sentence + 11.8 syllables per word − 15.59. C.-H. Björnsson, Läsbarhet, 1968: words per sentence + per
// cent of words of more than six letters. Coefficients and bands are from memory.
var (
	wordIn     = regexp.MustCompile(`[\p{L}\d]+(?:['’-][\p{L}\d]+)*`)
	sentenceIn = regexp.MustCompile(`[.!?]+(?:\s|$)`) // LIX counts a colon as an end too; left out here, which is stricter
	vowelsIn   = regexp.MustCompile(`[aeiouy]+`)
)

// ReadabilityOf measures a text. A text without words gives zeros. Syllables are counted as groups of vowels, without a
// silent e at the end, which is right for most English words and wrong for some.
func ReadabilityOf(text string) Readability {
	words := wordIn.FindAllString(text, -1)
	if len(words) == 0 {
		return Readability{}
	}
	r := Readability{Sentences: max(1, len(sentenceIn.FindAllString(text, -1))), Words: len(words)}
	long, syllables := 0, 0
	for _, w := range words {
		if utf8.RuneCountInString(w) > 6 {
			long++
		}
		syllables += syllablesOf(w)
	}
	n, perSentence := float64(r.Words), float64(r.Words)/float64(r.Sentences)
	r.Grade = 0.39*perSentence + 11.8*float64(syllables)/n - 15.59
	r.LIX = perSentence + 100*float64(long)/n
	return r
}

func syllablesOf(word string) int {
	w := strings.ToLower(word)
	n := len(vowelsIn.FindAllString(w, -1))
	if n > 1 && strings.HasSuffix(w, "e") && !strings.HasSuffix(w, "le") {
		n--
	}
	return max(1, n)
}
