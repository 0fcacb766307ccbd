package number

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Registry is one registry number in a text at text[Start:End].
type Registry struct {
	Number     string // normalised: hyphens, no leading zeros
	Printed    string // as it stands in the text
	Valid      bool   // its check digit is right
	Repaired   bool   // characters that look alike were exchanged to make the check digit right
	Start, End int
}

// hyphen tells the size of a hyphen-like sign at the start of s.
func hyphen(s string) int {
	for _, h := range []string{"-", "‑", "‐", "–", "—", "−", "\u00ad", "¬"} {
		if strings.HasPrefix(s, h) {
			return len(h)
		}
	}
	return 0
}

// look maps letters that optical character recognition confuses with digits.
func look(c byte) (byte, bool) {
	switch c {
	case 'O', 'o', 'Q', 'D':
		return '0', true
	case 'l', 'I', 'i', '|', '!':
		return '1', true
	case 'Z', 'z':
		return '2', true
	case 'S', 's':
		return '5', true
	case 'G', 'b':
		return '6', true
	case 'B':
		return '8', true
	case 'g', 'q':
		return '9', true
	}
	return c, digit(c)
}

// CASValid tells whether a CAS number without leading zeros has the right check digit: the digits before the last,
// counted from the right, times 1, 2, 3 …, summed modulo 10 (CAS Registry, "Check Digit Verification of CAS Registry
// Numbers").
func CASValid(cas string) bool {
	sum, weight, check, digits := 0, 0, -1, 0
	for i := len(cas) - 1; i >= 0; i-- {
		c := cas[i]
		if c == '-' {
			continue
		}
		if !digit(c) {
			return false
		}
		digits++
		if check < 0 {
			check = int(c - '0')
			continue
		}
		weight++
		sum += weight * int(c-'0')
	}
	return digits >= 5 && digits <= 10 && sum%10 == check
}

// ECValid tells whether an EC (EINECS, ELINCS, NLP) number "200-662-2" has the right check digit: first digit times 1
// plus second times 2 … sixth times 6, modulo 11; a remainder of 10 is not assigned (ECHA, format of the EC number).
func ECValid(ec string) bool {
	sum, k := 0, 0
	for i := 0; i < len(ec); i++ {
		c := ec[i]
		if c == '-' {
			continue
		}
		if !digit(c) {
			return false
		}
		k++
		if k == 7 {
			return sum%11 == int(c-'0')
		}
		sum += k * int(c-'0')
	}
	return false
}

// CASNumbers finds the CAS numbers of s: two to seven digits (or more with leading zeros), hyphen, two digits, hyphen,
// one digit. A number that runs on into a percentage ("67-64-130 - 60") is cut after its check digit when that is right.
// With repair, letters that look like digits are taken as digits when this makes the check digit right; the result says
// so. Numbers with a wrong check digit are returned with Valid false unless they look like dates, EC numbers or phones.
func CASNumbers(s string, repair bool) []Registry {
	var out []Registry
	for i := 0; i < len(s); {
		h := hyphen(s[i:])
		if h == 0 {
			i++
			continue
		}
		r, ok := casAround(s, i, h, repair)
		if !ok || len(out) > 0 && r.Start < out[len(out)-1].End {
			i += h
			continue
		}
		out = append(out, r)
		i = r.End
	}
	return out
}

// casAround reads the CAS number whose first hyphen is at s[i:i+h].
func casAround(s string, i, h int, repair bool) (Registry, bool) {
	mid, ok := take(s, i+h, 2, repair)
	if !ok {
		return Registry{}, false
	}
	j := mid.end
	blank := skipBlank(s, j)
	h2 := hyphen(s[blank:])
	if h2 == 0 {
		return Registry{}, false
	}
	last, ok := take(s, blank+h2, 1, repair)
	if !ok {
		return Registry{}, false
	}
	end := last.end
	head, headLetters, start := headDigits(s, i, repair)
	if len(head) < 2 {
		return Registry{}, false
	}
	runOn := end < len(s) && (digit(s[end]) || s[end] == '-' && end+1 < len(s) && digit(s[end+1]))
	trimmed := strings.TrimLeft(head, "0")
	r := Registry{Number: trimmed + "-" + mid.text + "-" + last.text, Start: start, End: end, Printed: s[start:end]}
	letters := headLetters || mid.letters || last.letters
	r.Valid = len(trimmed) >= 2 && len(trimmed) <= 7 && CASValid(r.Number)
	if !r.Valid && !letters {
		if fixed, cut, ok := cutHead(head, mid.text, last.text); ok {
			r.Number, r.Start, r.Valid = fixed, start+cut, true
			r.Printed = s[r.Start:end]
		}
	}
	switch {
	case letters && !r.Valid:
		return Registry{}, false
	case letters:
		r.Repaired = true
	case !r.Valid && (runOn || len(trimmed) < 2 || len(trimmed) > 7 || likeDate(trimmed, mid.text)):
		return Registry{}, false
	case r.Valid && runOn && likeDate(trimmed, mid.text):
		return Registry{}, false
	}
	if start > 0 && r.Start == start && before(s, start) {
		return Registry{}, false
	}
	return r, true
}

// before tells whether the character before a registry number makes it part of another one ("603-074-00-8").
func before(s string, start int) bool {
	r, _ := utf8.DecodeLastRuneInString(s[:start])
	if r == '-' || r == '‑' || r == '.' || r == '/' {
		p, _ := utf8.DecodeLastRuneInString(s[:start-utf8.RuneLen(r)])
		return unicode.IsDigit(p)
	}
	return unicode.IsDigit(r)
}

// likeDate tells whether "2017-11-…" is the beginning of a date.
func likeDate(head, mid string) bool {
	return len(head) == 4 && (strings.HasPrefix(head, "19") || strings.HasPrefix(head, "20")) && mid <= "12" ||
		len(head) == 2 && head <= "31" && mid <= "12"
}

// cutHead drops leading digits that belong to a number before ("3067-64-1" after "10-") while the check digit is wrong.
func cutHead(head, mid, last string) (number string, cut int, ok bool) {
	for cut = 1; cut <= len(head)-2 && cut <= 3; cut++ {
		if head[cut] == '0' {
			continue
		}
		n := head[cut:] + "-" + mid + "-" + last
		if len(head)-cut <= 7 && len(head) > 7 && CASValid(n) {
			return n, cut, true
		}
	}
	return "", 0, false
}

type part struct {
	text    string
	letters bool
	end     int
}

// take reads exactly n digits at s[i:], one blank allowed before.
func take(s string, i, n int, repair bool) (part, bool) {
	i = skipBlank(s, i)
	p := part{}
	b := make([]byte, 0, n)
	for len(b) < n {
		if i >= len(s) {
			return part{}, false
		}
		c := s[i]
		if !digit(c) {
			d, ok := look(c)
			if !repair || !ok {
				return part{}, false
			}
			c, p.letters = d, true
		}
		b = append(b, c)
		i++
	}
	if n == 2 && i < len(s) && digit(s[i]) {
		return part{}, false
	}
	p.text, p.end = string(b), i
	return p, true
}

func skipBlank(s string, i int) int {
	if i < len(s) && s[i] == ' ' {
		return i + 1
	}
	return i
}

// headDigits reads the digits that end at s[:i].
func headDigits(s string, i int, repair bool) (head string, letters bool, start int) {
	start = i
	if start > 0 && s[start-1] == ' ' && start > 1 && digit(s[start-2]) {
		start--
	}
	stop := start
	b := make([]byte, 0, 12)
	for start > 0 && len(b) < 12 {
		c := s[start-1]
		if !digit(c) {
			d, ok := look(c)
			if !repair || !ok {
				break
			}
			c, letters = d, true
		}
		b = append(b, c)
		start--
	}
	for l, r := 0, len(b)-1; l < r; l, r = l+1, r-1 {
		b[l], b[r] = b[r], b[l]
	}
	if letters && start > 0 {
		if r, _ := utf8.DecodeLastRuneInString(s[:start]); unicode.IsLetter(r) {
			// letters of a word: keep only the plain digits next to the hyphen
			k := stop
			for k > 0 && digit(s[k-1]) {
				k--
			}
			return s[k:stop], false, k
		}
	}
	return string(b), letters, start
}

// ECNumbers finds the EC numbers "200-662-2" of s.
func ECNumbers(s string) []Registry {
	return patterned(s, []int{3, 3, 1}, false, ECValid)
}

// IndexNumbers finds the CLP index numbers "606-001-00-8" of s; their last character may be X.
func IndexNumbers(s string) []Registry {
	return patterned(s, []int{3, 3, 2, 1}, true, nil)
}

// REACHNumbers finds the registration numbers "01-2119471330-49" of s, with the registrant's four digits or without.
func REACHNumbers(s string) []Registry {
	var out []Registry
	for _, r := range patterned(s, []int{2, 10, 2}, false, nil) {
		if !strings.HasPrefix(r.Number, "0") {
			continue
		}
		if h := hyphen(s[r.End:]); h > 0 {
			k := r.End + h
			for k < len(s) && (digit(s[k]) || s[k]|0x20 == 'x') {
				k++
			}
			if k-r.End-h == 4 {
				r.Number += "-" + strings.ToLower(s[r.End+h:k])
				r.End = k
				r.Printed = s[r.Start:k]
			}
		}
		out = append(out, r)
	}
	return out
}

// patterned finds groups of digits of the given lengths joined by hyphens.
func patterned(s string, groups []int, lastX bool, valid func(string) bool) []Registry {
	var out []Registry
	for i := 0; i < len(s); i++ {
		if !digit(s[i]) || i > 0 && (digit(s[i-1]) || s[i-1] == '-') {
			continue
		}
		if r, ok := groupsAt(s, i, groups, lastX); ok {
			r.Valid = valid == nil || valid(r.Number)
			out = append(out, r)
			i = r.End - 1
		}
	}
	return out
}

func groupsAt(s string, i int, groups []int, lastX bool) (Registry, bool) {
	start := i
	var b strings.Builder
	for g, n := range groups {
		if g > 0 {
			h := hyphen(s[i:])
			if h == 0 {
				return Registry{}, false
			}
			b.WriteByte('-')
			i += h
		}
		k := 0
		for k < n && i < len(s) && (digit(s[i]) || lastX && g == len(groups)-1 && s[i] == 'X') {
			b.WriteByte(s[i])
			i++
			k++
		}
		if k < n {
			return Registry{}, false
		}
	}
	if i < len(s) && digit(s[i]) {
		return Registry{}, false
	}
	if h := hyphen(s[i:]); h > 0 && i+h < len(s) && digit(s[i+h]) && len(groups) == 3 && groups[0] == 3 {
		return Registry{}, false // the beginning of a longer number
	}
	return Registry{Number: b.String(), Printed: s[start:i], Start: start, End: i}, true
}
