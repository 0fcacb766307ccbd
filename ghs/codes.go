package ghs

import (
	"strings"
)

// CodeHit is a statement code found in text, with the bytes it stands in.
type CodeHit struct {
	Code       Code
	Start, End int
}

// digitLike gives the digit that a character may stand for after a picture of text was read, or -1.
func digitLike(b byte) int {
	switch {
	case b >= '0' && b <= '9':
		return int(b - '0')
	case b == 'O' || b == 'o' || b == 'Q':
		return 0
	case b == 'l' || b == 'I' || b == '|' || b == 'i':
		return 1
	case b == 'S':
		return 5
	case b == 'B':
		return 8
	case b == 'Z':
		return 2
	}
	return -1
}

func isLetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80 }
func isDigit(b byte) bool  { return b >= '0' && b <= '9' }

// scanNumber reads three digits of a code at i, letting through characters commonly misread, of which at most two. It
// returns the digits and where they end, or "" when there are none.
func scanNumber(s string, i int) (string, int) {
	if i+3 > len(s) {
		return "", i
	}
	var d [3]byte
	sure := 0
	for k := range d {
		v := digitLike(s[i+k])
		if v < 0 {
			return "", i
		}
		if isDigit(s[i+k]) {
			sure++
		}
		d[k] = byte('0' + v)
	}
	if sure == 0 || i+3 < len(s) && isDigit(s[i+3]) {
		return "", i
	}
	return string(d[:]), i + 3
}

// suffixes are the letters that may follow the number of a code, longest first.
var suffixes = map[string][]string{
	"H350": {"i"}, "H360": {"FD", "Fd", "Df", "F", "D"}, "H361": {"fd", "f", "d"}, "EUH201": {"A"}, "EUH209": {"A"},
}

// scanSuffix reads the letters that belong to the code, and tells whether the code ends there.
func scanSuffix(s string, i int, code string) (string, int, bool) {
	for _, x := range suffixes[code] {
		if strings.HasPrefix(s[i:], x) && (i+len(x) == len(s) || !isLetter(s[i+len(x)])) {
			return x, i + len(x), true
		}
	}
	return "", i, i == len(s) || !isLetter(s[i])
}

// scanPrefix reads "H", "P" or "EUH" at i with a blank, full stop or hyphen after it.
func scanPrefix(s string, i int) (string, int) {
	var p string
	switch {
	case len(s) >= i+3 && strings.EqualFold(s[i:i+3], "EUH"):
		p, i = "EUH", i+3
	case s[i] == 'H' || s[i] == 'h':
		p, i = "H", i+1
	case s[i] == 'P' || s[i] == 'p':
		p, i = "P", i+1
	default:
		return "", i
	}
	for n := 0; n < 2 && i < len(s) && (s[i] == ' ' || s[i] == '-' || s[i] == '.'); n++ {
		i++
	}
	return p, i
}

// scanCode reads one single code at i. A code whose prefix stands apart from its number counts only when the tables
// hold it, so that "H 100" or "P 500" in prose is left alone.
func scanCode(s string, i int) (Code, int, bool) {
	p, j := scanPrefix(s, i)
	if p == "" {
		return "", i, false
	}
	apart := j > i+len(p)
	n, k := scanNumber(s, j)
	if n == "" {
		return "", i, false
	}
	if p != "EUH" && !plausible(p, n) {
		return "", i, false
	}
	x, k, ended := scanSuffix(s, k, p+n)
	if !ended {
		return "", i, false
	}
	c := Code(p + n + x)
	asPrinted := s[j:j+3] == n && !apart
	if !asPrinted && !c.Known() {
		return "", i, false
	}
	return c, k, true
}

func plausible(prefix, number string) bool {
	if prefix == "H" {
		return number[0] >= '2' && number[0] <= '4'
	}
	return number[0] >= '1' && number[0] <= '5'
}

// skipJoin steps over what may stand between the codes of a combination or list and returns the joining mark.
func skipJoin(s string, i int) (byte, int) {
	j := i
	for j < len(s) && s[j] == ' ' {
		j++
	}
	if j >= len(s) {
		return 0, i
	}
	m := s[j]
	if m != '+' && m != '-' && m != '/' && m != ',' {
		return 0, i
	}
	j++
	for j < len(s) && s[j] == ' ' {
		j++
	}
	return m, j
}

// scanNext reads the code after a joining mark: with its own prefix, or a bare number that takes the prefix of first.
func scanNext(s string, i int, first Code) (Code, int, bool) {
	if i >= len(s) {
		return "", i, false
	}
	if c, k, ok := scanCode(s, i); ok {
		return c, k, c.Kind() == first.Kind()
	}
	n, k := scanNumber(s, i)
	if n == "" || !isDigit(s[i]) {
		return "", i, false
	}
	c := Code(string(first.Kind()) + n)
	x, k, ended := scanSuffix(s, k, string(c))
	c += Code(x)
	return c, k, ended && c.Known()
}

// ParseCodes finds the statement codes in a text, left to right. Codes joined by "+" are one combination; codes listed
// as "H302-312-319" or "H302/312" are several. Blanks inside a code and characters commonly misread in pictures of text
// (O for 0, l for 1, S for 5) are let through when the tables hold the code that results. A code that is clearly printed
// but not in the tables, such as H399, is returned too: see Code.Known.
func ParseCodes(text string) []CodeHit {
	var out []CodeHit
	for i := 0; i < len(text); {
		b := text[i]
		if b != 'H' && b != 'P' && b != 'E' && b != 'h' && b != 'p' && b != 'e' || i > 0 && (isLetter(text[i-1]) || isDigit(text[i-1])) {
			i++
			continue
		}
		c, end, ok := scanCode(text, i)
		if !ok {
			i++
			continue
		}
		out, i = scanRest(text, i, end, c, out)
	}
	return out
}

// maxJoined is how many codes one combination or list may have.
const maxJoined = 40

// scanRest follows the first code of a combination or list to its end.
func scanRest(text string, start, end int, c Code, out []CodeHit) ([]CodeHit, int) {
	first, cur := c, CodeHit{c, start, end}
	for range maxJoined {
		mark, j := skipJoin(text, cur.End)
		if mark == 0 {
			break
		}
		next, k, ok := scanNext(text, j, first)
		if !ok {
			break
		}
		if mark == '+' {
			cur = CodeHit{cur.Code + "+" + next, cur.Start, k}
			continue
		}
		out = append(out, cur)
		cur = CodeHit{next, j, k}
	}
	return append(out, cur), cur.End
}

// NormaliseCode brings one code or combination to the form of the tables: "H 317", "H3l7", "P305 + P351+P338",
// "EUH O66". It is false when the text is not one code of the standard and nothing else.
func NormaliseCode(s string) (Code, bool) {
	s = strings.TrimSpace(s)
	hits := ParseCodes(s)
	if len(hits) != 1 || hits[0].Start != 0 || strings.Trim(s[hits[0].End:], " .:;,)") != "" {
		return "", false
	}
	return hits[0].Code, hits[0].Code.Known()
}
