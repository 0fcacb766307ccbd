package ghs

import (
	"unicode"
	"unicode/utf8"
)

// Text is compared as a run of letters, so that blanks, hyphens, punctuation and case do not matter, and with characters
// that are commonly confused when a picture of text is read (l, I, 1, i; O, 0; rn, m; vv, w) brought to one of them.
// British and American spelling come out the same: s for z, o for ou. Doubled letters count once. Both the phrases of the
// tables and the text searched pass through the same function.

// letters is a run of such letters with the byte of the text that each came from.
type letters struct {
	key []byte
	at  []int32
}

// letterOf maps ASCII to comparison letters; 0 drops the character.
var letterOf = func() (t [128]byte) {
	for c := byte('a'); c <= 'z'; c++ {
		t[c], t[c-32] = c, c
	}
	for _, c := range []byte("iIlL1|") {
		t[c] = 'l'
	}
	t['0'] = 'o'
	t['z'], t['Z'] = 's', 's'
	return t
}()

// foldRune gives the ASCII letters for the accented letters of the languages carried.
func foldRune(r rune) string {
	switch r {
	case 'à', 'á', 'â', 'ä', 'ã', 'å', 'À', 'Á', 'Â', 'Ä':
		return "a"
	case 'ç', 'Ç':
		return "c"
	case 'è', 'é', 'ê', 'ë', 'È', 'É', 'Ê', 'Ë':
		return "e"
	case 'ì', 'í', 'î', 'ï', 'Í', 'Î', 'ı':
		return "i"
	case 'ñ', 'Ñ':
		return "n"
	case 'ò', 'ó', 'ô', 'ö', 'õ', 'Ó', 'Ö', 'Ô':
		return "o"
	case 'ù', 'ú', 'û', 'ü', 'Ú', 'Ü', 'Û':
		return "u"
	case 'ß':
		return "ss"
	case 'œ', 'Œ':
		return "oe"
	case 'æ', 'Æ':
		return "ae"
	case 'ﬁ':
		return "fi"
	case 'ﬂ':
		return "fl"
	case 'ﬀ':
		return "ff"
	case 'ﬃ':
		return "ffi"
	case 'ﬄ':
		return "ffl"
	}
	return ""
}

// add appends one ASCII character of the text at byte i. It is not merged with the letter before when it stands apart from
// it as the first of a sentence.
func (l *letters) add(c byte, i int, apart bool) {
	c = letterOf[c]
	if c == 0 {
		return
	}
	n := len(l.key)
	if n > 0 && !apart {
		switch p := l.key[n-1]; {
		case p == c, p == 'o' && c == 'u':
			return
		case p == 'r' && c == 'n':
			l.key[n-1] = 'm'
			return
		case p == 'v' && c == 'v':
			l.key[n-1] = 'w'
			return
		}
	}
	l.key = append(l.key, c)
	l.at = append(l.at, int32(i))
}

// read fills l with the letters of text. A 1, 0 or bar counts as a letter only within a word.
func (l *letters) read(text string) {
	l.key, l.at = l.key[:0], l.at[:0]
	ended := false // a sentence or line has ended since the last letter
	for i := 0; i < len(text); {
		c := text[i]
		if c < utf8.RuneSelf {
			if c != '1' && c != '0' && c != '|' || insideWord(text, i) {
				l.add(c, i, ended && c >= 'A' && c <= 'Z')
			}
			ended = endsSentence(c) || ended && letterOf[c] == 0
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(text[i:])
		for _, f := range []byte(foldRune(r)) {
			l.add(f, i, ended && unicode.IsUpper(r))
			ended = false
		}
		i += n
	}
}

// endsSentence tells whether a sentence may begin after the character; a tab parts the cells of a table.
func endsSentence(c byte) bool {
	return c == '.' || c == ':' || c == '!' || c == '?' || c == '\n' || c == '\t'
}

// insideWord tells whether a letter stands on one side of the character and no digit on the other.
func insideWord(s string, i int) bool {
	before, after := i > 0 && isLetter(s[i-1]), i+1 < len(s) && isLetter(s[i+1])
	number := i > 0 && isDigit(s[i-1]) || i+1 < len(s) && isDigit(s[i+1])
	return (before || after) && !number
}
