package substance

import "strings"

// ValidCAS tells whether s is a CAS registry number in its printed form ("67-64-1") with a right check digit: two to
// seven digits, two digits, and the sum of the digits before the last, each times its place from the right, modulo 10
// (CAS, "Check Digit Verification of CAS Registry Numbers").
func ValidCAS(s string) bool {
	d, ok := digitsOf(s, casForm)
	return ok && casCheck(d)
}

// ValidEC tells whether s is a number of the European inventories in its printed form ("200-662-2") with a right check
// digit: the first six digits, each times its place from the left, summed modulo 11 (ECHA, format of EC and list
// numbers). A sum that leaves 10 has no number.
func ValidEC(s string) bool {
	d, ok := digitsOf(s, ecForm)
	return ok && ecCheck(d)
}

func casForm(parts []string) bool {
	return len(parts) == 3 && len(parts[0]) >= 2 && len(parts[0]) <= 7 && parts[0][0] != '0' && len(parts[1]) == 2 && len(parts[2]) == 1
}

func ecForm(parts []string) bool {
	return len(parts) == 3 && len(parts[0]) == 3 && len(parts[1]) == 3 && len(parts[2]) == 1
}

// digitsOf splits s at hyphens, checks the form and gives all digits in order.
func digitsOf(s string, form func([]string) bool) ([]byte, bool) {
	parts := strings.Split(s, "-")
	if !form(parts) {
		return nil, false
	}
	d := []byte(strings.Join(parts, ""))
	for _, c := range d {
		if c < '0' || c > '9' {
			return nil, false
		}
	}
	return d, true
}

func casCheck(d []byte) bool {
	sum := 0
	for i, n := 0, len(d)-1; i < n; i++ {
		sum += (n - i) * int(d[i]-'0')
	}
	return sum%10 == int(d[len(d)-1]-'0')
}

func ecCheck(d []byte) bool {
	sum := 0
	for i := range 6 {
		sum += (i + 1) * int(d[i]-'0')
	}
	return sum%11 == int(d[6]-'0')
}

// dashes are the signs that documents print between the groups of a number.
var dashes = strings.NewReplacer("‐", "-", "‑", "-", "‒", "-", "–", "-", "—", "-", "−", "-", "\u00ad", "-", "_", "-", "[", "", "]", "",
	"\u00a0", " ", "\u2007", " ", "\u202f", " ", "\u200b", "")

// NormaliseCAS brings a CAS number as documents write it ("CAS No.: 67–64–1", "0000067-64-1", "67641") to its printed
// form. ok is false when s does not hold exactly one number of that form; the check digit is not looked at (ValidCAS).
func NormaliseCAS(s string) (cas string, ok bool) {
	return normalise(s, casForm, func(d string) (string, bool) {
		d = strings.TrimLeft(d, "0")
		if len(d) < 5 || len(d) > 10 {
			return "", false
		}
		return d[:len(d)-3] + "-" + d[len(d)-3:len(d)-1] + "-" + d[len(d)-1:], true
	})
}

// NormaliseEC is NormaliseCAS for EC and list numbers.
func NormaliseEC(s string) (ec string, ok bool) {
	return normalise(s, ecForm, func(d string) (string, bool) {
		if len(d) != 7 {
			return "", false
		}
		return d[:3] + "-" + d[3:6] + "-" + d[6:], true
	})
}

// normalise strips a leading label, unifies dashes and blanks, and lays the digits out.
func normalise(s string, form func([]string) bool, layOut func(string) (string, bool)) (string, bool) {
	s = dashes.Replace(strings.TrimSpace(s))
	if i := strings.IndexAny(s, "0123456789"); i > 0 && i <= 24 {
		s = s[i:] // a label: "CAS-Nr.: "
	}
	s = strings.TrimRight(s, " .,;)")
	s = strings.ReplaceAll(s, " ", "")
	if s == "" || strings.Trim(s, "0123456789-") != "" || strings.Count(s, "-") > 2 || s[0] == '-' {
		return "", false
	}
	out, ok := layOut(strings.ReplaceAll(s, "-", ""))
	if !ok || !form(strings.Split(out, "-")) {
		return "", false
	}
	if strings.Contains(s, "-") && strings.TrimLeft(s, "0") != strings.TrimLeft(out, "0") {
		return "", false
	}
	return out, true
}

// misread lists the digits a letter stands for when a printed digit was misread.
var misread = map[rune]byte{
	'O': '0', 'o': '0', 'D': '0', 'Q': '0', 'I': '1', 'l': '1', 'i': '1', '|': '1', '!': '1', '/': '1', 'Z': '2', 'z': '2', 'A': '4',
	'S': '5', 's': '5', '$': '5', 'G': '6', 'b': '6', 'T': '7', 'B': '8', '&': '8', 'g': '9', 'q': '9',
}

// alike lists digit pairs that poor print confuses; such repairs come before other ones.
var alike = map[[2]byte]bool{
	{'0', '8'}: true, {'0', '6'}: true, {'1', '7'}: true, {'1', '4'}: true, {'3', '8'}: true, {'5', '6'}: true, {'6', '8'}: true,
	{'8', '9'}: true, {'3', '5'}: true, {'2', '7'}: true, {'5', '8'}: true, {'4', '9'}: true, {'0', '9'}: true, {'3', '9'}: true,
}

// RepairCAS gives the valid CAS numbers that s may stand for when it was misread or mistyped: letters that look like
// digits, one wrong digit, two neighbours swapped, one digit dropped or doubled. Likely readings come first: letters
// alone, swapped neighbours, digits that print alike, any other digit, dropped or doubled digits. A valid number gives
// itself. The answer is many numbers long, since the check digit catches single errors but does not tell which: use
// Table.RepairCAS to keep those that name a substance.
func RepairCAS(s string) []string {
	var b strings.Builder
	for _, r := range dashes.Replace(s) {
		if d, ok := misread[r]; ok {
			b.WriteByte(d)
		} else if r >= '0' && r <= '9' {
			b.WriteRune(r)
		}
	}
	if n, ok := NormaliseCAS(s); ok {
		b.Reset()
		b.WriteString(strings.ReplaceAll(n, "-", ""))
	}
	d := []byte(b.String())
	if len(d) < 4 || len(d) > 11 {
		return nil
	}
	var c candidates
	c.add(d)
	if len(c.list) == 1 {
		return c.list
	}
	c.swaps(d)
	c.digits(d, true)
	c.digits(d, false)
	c.lengths(d)
	return c.list
}

// candidates collects valid numbers, each once.
type candidates struct {
	list []string
	seen map[string]bool
}

func (c *candidates) add(d []byte) {
	if len(d) < 5 || len(d) > 10 || d[0] == '0' || !casCheck(d) {
		return
	}
	n := len(d)
	s := string(d[:n-3]) + "-" + string(d[n-3:n-1]) + "-" + string(d[n-1:])
	if c.seen == nil {
		c.seen = map[string]bool{}
	}
	if !c.seen[s] {
		c.seen[s] = true
		c.list = append(c.list, s)
	}
}

func (c *candidates) swaps(d []byte) {
	for i := 1; i < len(d); i++ {
		x := append([]byte(nil), d...)
		x[i-1], x[i] = x[i], x[i-1]
		c.add(x)
	}
}

func (c *candidates) digits(d []byte, onlyAlike bool) {
	for i := range d {
		for v := byte('0'); v <= '9'; v++ {
			if onlyAlike && !alike[[2]byte{min(v, d[i]), max(v, d[i])}] {
				continue
			}
			x := append([]byte(nil), d...)
			x[i] = v
			c.add(x)
		}
	}
}

func (c *candidates) lengths(d []byte) {
	for i := range d {
		c.add(append(append([]byte(nil), d[:i]...), d[i+1:]...))
	}
	for i := 0; i <= len(d); i++ {
		for v := byte('0'); v <= '9'; v++ {
			x := append(append([]byte(nil), d[:i]...), v)
			c.add(append(x, d[i:]...))
		}
	}
}
