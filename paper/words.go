package paper

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
	"sync"

	"sixteen/ghs"
)

//go:embed words.csv
var wordsCSV string

// wordTable is the fixed words of the papers by key and language. They are ours; the standard's statements are in
// package ghs.
var wordTable = sync.OnceValue(func() map[string]map[ghs.Lang]string {
	rows, err := csv.NewReader(strings.NewReader(wordsCSV)).ReadAll()
	if err != nil {
		panic("words.csv: " + err.Error())
	}
	out := map[string]map[ghs.Lang]string{}
	for _, r := range rows[1:] {
		out[r[0]] = map[ghs.Lang]string{}
		for i, l := range rows[0][1:] {
			out[r[0]][ghs.Lang(l)] = r[i+1]
		}
	}
	return out
})

// word is the word of a key in a language, in English where the papers do not carry the language. {1} and {2} in it are
// replaced by the values given. A key that does not exist is a mistake in this package and ends the program.
func word(key string, l ghs.Lang, values ...string) string {
	row, ok := wordTable()[key]
	if !ok {
		panic("words.csv has no " + key)
	}
	if !slices.Contains(ghs.Langs(), l) {
		l = ghs.English
	}
	w := row[l]
	for i, v := range values {
		w = strings.ReplaceAll(w, "{"+string(rune('1'+i))+"}", v)
	}
	return w
}

// hasWord tells whether there is a word for a key.
func hasWord(key string) bool {
	_, ok := wordTable()[key]
	return ok
}

// languageOf is the language of a code, English when the papers do not carry it.
func languageOf(code string) ghs.Lang {
	if slices.Contains(ghs.Langs(), ghs.Lang(code)) {
		return ghs.Lang(code)
	}
	return ghs.English
}
