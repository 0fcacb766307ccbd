package sheetprint

import (
	_ "embed"
	"fmt"
	"strings"

	"sixteen/ghs"
)

//go:embed words.txt
var wordsText string

// dictionary holds the wordings of one language per key.
type dictionary map[string][]string

// loadWords reads the embedded table for one language.
func loadWords(lang ghs.Lang) (dictionary, error) {
	d := dictionary{}
	key := ""
	for n, line := range strings.Split(wordsText, "\n") {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "["):
			key = strings.Trim(line, "[]")
		case len(line) > 3 && line[2] == ' ':
			if line[:2] != string(lang) {
				continue
			}
			if _, ok := d[key]; ok {
				return nil, fmt.Errorf("words.txt line %d: key %s has two lines for %s", n+1, key, lang)
			}
			for _, w := range strings.Split(line[3:], " | ") {
				d[key] = append(d[key], strings.TrimSpace(w))
			}
		default:
			return nil, fmt.Errorf("words.txt line %d: %q is neither a key nor a language line", n+1, line)
		}
	}
	if len(d) == 0 {
		return nil, fmt.Errorf("language %q has no words: use one of %v or add its lines to words.txt", lang, ghs.Langs())
	}
	return d, nil
}

// say is the first wording of a key with {x} fields filled from pairs name, value.
func (d dictionary) say(key string, fill ...string) string {
	ws := d[key]
	if len(ws) == 0 {
		return key
	}
	return fillIn(ws[0], fill)
}

func fillIn(s string, fill []string) string {
	for i := 0; i+1 < len(fill); i += 2 {
		s = strings.ReplaceAll(s, "{"+fill[i]+"}", fill[i+1])
	}
	return s
}
