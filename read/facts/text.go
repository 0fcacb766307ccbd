package facts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is one word or number of a text, folded: lower case, no accents. text[start:end] is how it is printed.
type token struct {
	text       string
	start, end int
}

// tokenize splits a text into words and numbers. Decimal points and commas between digits stay inside a token. All tokens
// share one folded copy of the text.
func tokenize(s string) []token {
	n := 0
	for i := 0; i < len(s); i++ {
		if s[i] == ' ' {
			n++
		}
	}
	out := make([]token, 0, n+2)
	buf := make([]byte, 0, len(s)+8)
	start, from := -1, 0 // of the open token, in s and in buf
	flush := func(end int) {
		if start >= 0 {
			out = append(out, token{"", start, end})
			start = -1
		}
	}
	begin := func(i int) {
		if start < 0 {
			start = i
			buf = append(buf, 0) // a border between tokens
		}
	}
	for i := 0; i < len(s); {
		c := s[i]
		if c < utf8.RuneSelf {
			switch {
			case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
				begin(i)
				buf = append(buf, c)
			case c >= 'A' && c <= 'Z':
				begin(i)
				buf = append(buf, c+'a'-'A')
			case (c == '.' || c == ',') && start >= 0 && i+1 < len(s) && isDigit(s[i-1]) && isDigit(s[i+1]):
				buf = append(buf, c)
			default:
				flush(i)
			}
			i++
			continue
		}
		r, w := utf8.DecodeRuneInString(s[i:])
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			begin(i)
			buf = appendFolded(buf, r)
		} else if !unicode.Is(unicode.Mn, r) && r != '\u00ad' {
			flush(i)
		}
		i += w
	}
	flush(len(s))
	folded := string(buf)
	for k := range out {
		from++
		end := strings.IndexByte(folded[from:], 0)
		if end < 0 {
			end = len(folded) - from
		}
		out[k].text = folded[from : from+end]
		from += end
	}
	return out
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// folds maps accented letters to plain ones.
var folds = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'œ': "oe", 'Œ': "oe", 'æ': "ae", 'Æ': "ae", 'ø': "o", 'Ø': "o", 'ﬁ': "fi", 'ﬂ': "fl", 'ﬀ': "ff", 'ﬃ': "ffi", 'ﬄ': "ffl"}
	for plain, accented := range map[string]string{
		"a": "áàâäãåÁÀÂÄÃÅ", "e": "éèêëÉÈÊË", "i": "íìîïÍÌÎÏ", "o": "óòôöõÓÒÔÖÕ", "u": "úùûüÚÙÛÜ", "n": "ñÑ", "c": "çÇ", "y": "ýÿÝ",
	} {
		for _, r := range accented {
			m[r] = plain
		}
	}
	return m
}()

func appendFolded(b []byte, r rune) []byte {
	if f, ok := folds[r]; ok {
		return append(b, f...)
	}
	return utf8.AppendRune(b, unicode.ToLower(r))
}

// fold is the tokens of s with single blanks between: for comparing wordings.
func fold(s string) string {
	ts := tokenize(s)
	var b strings.Builder
	b.Grow(len(s))
	for i, t := range ts {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
	}
	return b.String()
}

// phrases is a set of wordings found by their first token, longest first.
type phrases[T any] struct {
	byFirst map[string][]phrase[T]
}

type phrase[T any] struct {
	tokens []string
	value  T
}

// add puts wordings with one value into the set; "|" separates wordings.
func (p *phrases[T]) add(value T, wordings string) {
	if p.byFirst == nil {
		p.byFirst = map[string][]phrase[T]{}
	}
	for _, w := range strings.Split(wordings, "|") {
		var ts []string
		for _, t := range tokenize(w) {
			ts = append(ts, t.text)
		}
		if len(ts) == 0 {
			continue
		}
		list := append(p.byFirst[ts[0]], phrase[T]{ts, value})
		for i := len(list) - 1; i > 0 && len(list[i].tokens) > len(list[i-1].tokens); i-- {
			list[i], list[i-1] = list[i-1], list[i]
		}
		p.byFirst[ts[0]] = list
	}
}

// at finds the longest wording that starts at token i and tells how many tokens it takes; 0 is none.
func (p *phrases[T]) at(ts []token, i int) (value T, n int) {
	for _, ph := range p.byFirst[ts[i].text] {
		if len(ph.tokens) > len(ts)-i {
			continue
		}
		match := true
		for k := 1; k < len(ph.tokens); k++ {
			if ts[i+k].text != ph.tokens[k] {
				match = false
				break
			}
		}
		if match {
			return ph.value, len(ph.tokens)
		}
	}
	return value, 0
}

// cut tells whether the tokens from i on are the beginning of a wording of at least three words that goes on elsewhere, as
// when a label is wrapped: "Clase(s) de peligro para el" / "transporte".
func (p *phrases[T]) cut(ts []token, i int) (value T, ok bool) {
	rest := ts[i:]
	if len(rest) < 2 || rest[len(rest)-1].end-rest[0].start < 12 {
		return value, false
	}
	for _, ph := range p.byFirst[rest[0].text] {
		if len(ph.tokens) <= len(rest) {
			continue
		}
		match := true
		for k := range rest {
			if rest[k].text != ph.tokens[k] {
				match = false
				break
			}
		}
		if match {
			return ph.value, true
		}
	}
	return value, false
}

// start is at for the first token; it is 0 for no tokens.
func (p *phrases[T]) start(ts []token) (value T, n int) {
	if len(ts) == 0 {
		return value, 0
	}
	return p.at(ts, 0)
}

// find finds the first wording anywhere in the tokens.
func (p *phrases[T]) find(ts []token) (value T, from, n int) {
	for i := range ts {
		if v, n := p.at(ts, i); n > 0 {
			return v, i, n
		}
	}
	return value, 0, 0
}
