package number

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"sixteen/sheet"
)

// Style says how a document writes its numbers.
type Style uint8

// Styles. With Undecided, "1,234" is read as one thousand two hundred and thirty-four and "1,23" and "0,123" as decimals.
const (
	Undecided    Style = iota
	DecimalPoint       // 1,234.5
	DecimalComma       // 1.234,5 or 1 234,5
)

// StyleOf tells how the text writes decimals, by counting the numbers that can be read in one way only.
func StyleOf(text string) Style {
	point, comma := 0, 0
	for i := 1; i+1 < len(text); i++ {
		c := text[i]
		if c != '.' && c != ',' || !digit(text[i-1]) || !digit(text[i+1]) {
			continue
		}
		before, after := i-1, i+1
		for before > 0 && digit(text[before-1]) {
			before--
		}
		for after+1 < len(text) && digit(text[after+1]) {
			after++
		}
		if before > 0 && strings.IndexByte(".,/-:", text[before-1]) >= 0 || after+1 < len(text) && strings.IndexByte(".,/-:", text[after+1]) >= 0 {
			continue // a date, a section number, a locant
		}
		if strings.TrimRight(text[lastBreak(text, before):before], " \t") == "" {
			continue // the number of a heading
		}
		decimals := after - i
		if decimals == 3 && text[before] != '0' {
			continue // may be thousands
		}
		if c == '.' {
			point++
		} else if decimals != 3 || text[before] == '0' {
			comma++
		}
	}
	switch {
	case comma >= 2 && comma*2 > point:
		return DecimalComma
	case point >= 2 && point > comma:
		return DecimalPoint
	}
	return Undecided
}

// lastBreak is the byte behind the last line break before byte i.
func lastBreak(s string, i int) int { return strings.LastIndexByte(s[:i], '\n') + 1 }

func digit(c byte) bool { return c >= '0' && c <= '9' }

// Number reads the unsigned number at the start of s: "12", "1,000", "1.464", ".87373", "1.2E-3", "1,2 x 10^-3",
// "10 000". It returns how many bytes it took; 0 means that no number starts here.
func Number(s string, style Style) (v float64, n int) {
	i := 0
	for i < len(s) && digit(s[i]) {
		i++
	}
	if i == 0 && !(len(s) > 1 && (s[0] == '.' || s[0] == ',') && digit(s[1])) {
		return 0, 0
	}
	digits := []byte(s[:i])
	frac := false
	groups := byte(0) // the sign that has grouped thousands so far
	for i < len(s) {
		size, group := separator(s[i:])
		if size == 0 || frac {
			break
		}
		run := 0
		for i+size+run < len(s) && digit(s[i+size+run]) {
			run++
		}
		sep := s[i]
		switch {
		case run == 0:
			goto exponent
		case group: // blank or apostrophe: groups of exactly three digits, at most three before
			if run != 3 || len(digits) == 0 || len(digits) > 3 && !grouped(s[:i]) || digits[0] == '0' {
				goto exponent
			}
		case groups == sep && run == 3, groups == 0 && isThousands(sep, len(digits), run, string(digits), s[i+size+run:], style):
			groups = sep
		default:
			frac = true
			digits = append(digits, '.')
		}
		digits = append(digits, s[i+size:i+size+run]...)
		i += size + run
	}
exponent:
	text := string(digits)
	n = i
	if e, size := exponent(s[i:]); size > 0 {
		text += "e" + e
		n += size
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, 0
	}
	return v, n
}

func grouped(s string) bool { return strings.ContainsAny(s, " '\u00a0\u2009\u202f’") }

// separator tells the size of a decimal or group sign at the start of s and whether it can only group.
func separator(s string) (size int, group bool) {
	switch s[0] {
	case '.', ',':
		return 1, false
	case ' ', '\'':
		return 1, true
	}
	for _, g := range []string{"\u00a0", "\u2009", "\u202f", "’"} {
		if strings.HasPrefix(s, g) {
			return len(g), true
		}
	}
	return 0, false
}

// isThousands decides whether a point or comma followed by run digits groups thousands.
func isThousands(sep byte, before, run int, head, rest string, style Style) bool {
	if run != 3 || before == 0 || before > 3 || head[0] == '0' {
		return false
	}
	if len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') && digit(rest[1]) {
		return true // 1,234.5 or 1,234,567
	}
	if sep == ',' {
		return style != DecimalComma
	}
	return style == DecimalComma
}

// exponent reads "E-3", "e+02", "x 10-3", "·10^-3", "× 10⁻³".
func exponent(s string) (e string, size int) {
	if len(s) > 1 && (s[0] == 'E' || s[0] == 'e') {
		i := 1
		if s[i] == '-' || s[i] == '+' {
			i++
		}
		j := i
		for j < len(s) && digit(s[j]) {
			j++
		}
		if j > i && j-i <= 3 && (j == len(s) || !unicode.IsLetter(rune(s[j]))) {
			return s[1:j], j
		}
		return "", 0
	}
	t := strings.TrimLeft(s, " ")
	for _, times := range []string{"x", "X", "×", "·", "*"} {
		if !strings.HasPrefix(t, times) {
			continue
		}
		t = strings.TrimLeft(t[len(times):], " ")
		if !strings.HasPrefix(t, "10") {
			return "", 0
		}
		t = strings.TrimLeft(t[2:], "^ ")
		for _, minus := range []string{"-", "−", "–", "⁻"} {
			if strings.HasPrefix(t, minus) {
				e, t = "-", t[len(minus):]
				break
			}
		}
		count := 0
		for len(t) > 0 && count < 2 {
			r, w := utf8.DecodeRuneInString(t)
			k := strings.IndexRune("⁰¹²³⁴⁵⁶⁷⁸⁹", r)
			switch {
			case r >= '0' && r <= '9':
				e += string(r)
			case k >= 0:
				e += strconv.Itoa(utf8.RuneCountInString("⁰¹²³⁴⁵⁶⁷⁸⁹"[:k]))
			default:
				w = 0
			}
			if w == 0 {
				break
			}
			t = t[w:]
			count++
		}
		if count == 0 {
			return "", 0
		}
		return e, len(s) - len(t)
	}
	return "", 0
}

// operator reads "<", "≤", "<=", "=<", ">", "≥", ">=", "less than", "up to", "max.", "ca." and the like at the start of
// s. Op is '<', 'l' (≤), '>', 'g' (≥), '~' (about), '=' or 0 for none.
func operator(s string) (op byte, size int) {
	for _, o := range signs {
		if strings.HasPrefix(s, o.text) {
			return o.op, len(o.text)
		}
	}
	if len(s) == 0 || !(s[0]|0x20 >= 'a' && s[0]|0x20 <= 'z') && s[0] < 0x80 {
		return 0, 0
	}
	for _, o := range words {
		if len(s) >= len(o.text) && strings.EqualFold(s[:len(o.text)], o.text) {
			rest := s[len(o.text):]
			if r, _ := utf8.DecodeRuneInString(rest); rest == "" || unicode.IsLetter(r) {
				continue
			}
			return o.op, len(o.text)
		}
	}
	return 0, 0
}

type opText struct {
	text string
	op   byte
}

var signs = []opText{
	{"<=", 'l'}, {"=<", 'l'}, {"≤", 'l'}, {"⩽", 'l'}, {"≦", 'l'}, {"< =", 'l'}, {"&lt;=", 'l'},
	{">=", 'g'}, {"=>", 'g'}, {"≥", 'g'}, {"⩾", 'g'}, {"≧", 'g'}, {"> =", 'g'}, {"&gt;=", 'g'},
	{"<", '<'}, {"‹", '<'}, {"＜", '<'}, {"〈", '<'}, {"&lt;", '<'},
	{">", '>'}, {"›", '>'}, {"＞", '>'}, {"〉", '>'}, {"&gt;", '>'},
	{"~", '~'}, {"≈", '~'}, {"±", '~'}, {"∼", '~'}, {"=", '='},
}

// words lists operators in words, longest first within one beginning (English, French, German, Spanish).
var words = []opText{
	{"less than or equal to", 'l'}, {"greater than or equal to", 'g'}, {"not more than", 'l'}, {"not less than", 'g'},
	{"no more than", 'l'}, {"at least", 'g'}, {"at most", 'l'}, {"less than", '<'}, {"more than", '>'},
	{"greater than", '>'}, {"higher than", '>'}, {"lower than", '<'}, {"below", '<'}, {"above", '>'}, {"under", '<'},
	{"over", '>'}, {"up to", 'l'}, {"maximum", 'l'}, {"minimum", 'g'}, {"max.", 'l'}, {"max", 'l'}, {"min.", 'g'},
	{"min", 'g'}, {"approximately", '~'}, {"approx.", '~'}, {"approx", '~'}, {"about", '~'}, {"circa", '~'}, {"ca.", '~'},
	{"ca", '~'}, {"c.", '~'}, {"est.", '~'}, {"estimated", '~'},
	{"jusqu'à", 'l'}, {"jusqu’à", 'l'}, {"jusqu'a", 'l'}, {"inférieur ou égal à", 'l'}, {"supérieur ou égal à", 'g'},
	{"inférieur à", '<'}, {"supérieur à", '>'}, {"moins de", '<'}, {"plus de", '>'}, {"au moins", 'g'}, {"au plus", 'l'},
	{"environ", '~'}, {"env.", '~'},
	{"höchstens", 'l'}, {"mindestens", 'g'}, {"weniger als", '<'}, {"mehr als", '>'}, {"kleiner als", '<'}, {"größer als", '>'},
	{"kleiner", '<'}, {"größer", '>'}, {"bis zu", 'l'}, {"bis", 'l'}, {"unter", '<'}, {"über", '>'}, {"etwa", '~'}, {"zirka", '~'}, {"mind.", 'g'},
	{"hasta", 'l'}, {"menos de", '<'}, {"más de", '>'}, {"menor que", '<'}, {"mayor que", '>'}, {"menor de", '<'},
	{"mayor de", '>'}, {"inferior a", '<'}, {"superior a", '>'}, {"aproximadamente", '~'}, {"aprox.", '~'}, {"máx.", 'l'},
	{"mín.", 'g'}, {"como máximo", 'l'}, {"como mínimo", 'g'},
}

// dash tells the size of a range sign at the start of s ("-", "–", "to", "bis", "à", "a", "…", "...").
func dash(s string) int {
	for _, d := range []string{"-", "–", "—", "−", "‑", "‐", "~", "…", "...", "÷", "〜", "～"} {
		if strings.HasPrefix(s, d) {
			return len(d)
		}
	}
	for _, d := range []string{"to", "bis", "à", "a", "and", "et", "und", "y", "hasta", "through"} {
		if len(s) > len(d) && strings.EqualFold(s[:len(d)], d) && s[len(d)] == ' ' {
			return len(d)
		}
	}
	return 0
}

func blanks(s string) int {
	n := 0
	for n < len(s) {
		r, w := utf8.DecodeRuneInString(s[n:])
		if !unicode.IsSpace(r) {
			return n
		}
		n += w
	}
	return n
}

// signed reads a number with an optional minus sign directly or one blank before it.
func signed(s string, style Style) (v float64, n int) {
	for _, m := range []string{"-", "−", "–", "‑"} {
		if strings.HasPrefix(s, m) {
			t := s[len(m):]
			b := blanks(t)
			if b > 1 {
				return 0, 0
			}
			v, n = Number(t[b:], style)
			if n == 0 {
				return 0, 0
			}
			return -v, len(m) + b + n
		}
	}
	if strings.HasPrefix(s, "+") {
		v, n = Number(s[1:], style)
		if n == 0 {
			return 0, 0
		}
		return v, n + 1
	}
	return Number(s, style)
}

// Found is one number or range with the unit that follows it, at text[Start:End].
type Found struct {
	sheet.Interval
	Unit       Unit   // the unit that follows, or the zero Unit
	UnitText   string // as printed
	Start, End int
	Condition  bool // preceded by "at", "@", "à", "bei", "a" or inside "(20 °C)": a condition of another value
}

// end sets one end of an interval by its operator.
func end(iv *sheet.Interval, op byte, v float64, second bool) {
	switch op {
	case '<', 'l':
		iv.Hi, iv.HasHi, iv.HiOpen = v, true, op == '<'
	case '>', 'g':
		iv.Lo, iv.HasLo, iv.LoOpen = v, true, op == '>'
	default:
		if second {
			iv.Hi, iv.HasHi = v, true
		} else {
			iv.Lo, iv.HasLo = v, true
		}
	}
}

// one is a number with its operator and unit.
type one struct {
	op   byte
	v    float64
	unit Unit
	text string // unit text
	n    int    // bytes taken
	post bool   // operator stood behind ("70>")
	tail int    // bytes taken without the unit
}

func readOne(s string, style Style, minus bool) (o one, ok bool) {
	i := 0
	approx := false
	for k := 0; k < 3; k++ {
		op, size := operator(s[i:])
		if size == 0 {
			break
		}
		if op == '~' {
			approx = true
		} else if op != '=' {
			if o.op != 0 {
				break
			}
			o.op = op
		}
		i += size
		i += blanks(s[i:])
		if i < len(s) && s[i] == ':' && op != '=' { // "max: 5"
			i++
			i += blanks(s[i:])
		}
	}
	var v float64
	var n int
	if minus {
		v, n = signed(s[i:], style)
	} else {
		v, n = Number(s[i:], style)
	}
	if n == 0 {
		return one{}, false
	}
	o.v = v
	i += n
	o.tail = i
	b := blanks(s[i:])
	if u, size := unitAt(s[i+b:]); size > 0 {
		o.unit, o.text = u, s[i+b:i+b+size]
		i += b + size
	}
	if o.op == 0 { // "70>", "70 % >"
		b := blanks(s[i:])
		if op, size := operator(s[i+b:]); size > 0 && strings.IndexByte("<>lg", op) >= 0 && b <= 1 && isSign(s[i+b:]) {
			rest := s[i+b+size:]
			bb := blanks(rest)
			if _, more := Number(rest[bb:], style); more == 0 {
				o.op, o.post = op, true
				i += b + size
			}
		}
	}
	if approx && o.op == 0 {
		o.op = '~'
	}
	o.n = i
	return o, true
}

func isSign(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return !unicode.IsLetter(r)
}

// readInterval reads one number or range at the start of s.
func readInterval(s string, style Style) (f Found, ok bool) {
	first, ok := readOne(s, style, true)
	if !ok {
		return Found{}, false
	}
	f.Unit, f.UnitText, f.End = first.unit, first.text, first.n
	f.Approx = first.op == '~'
	if second, n, ok := rangeEnd(s, first, style); ok {
		lo, hi := first, second
		if lo.op == '<' || lo.op == 'l' {
			// "< 5 - 10": keep the order of the printed ends
			lo.op = 0
		}
		if hi.op == '>' || hi.op == 'g' {
			hi.op = 0
		}
		if hi.v < lo.v && lo.op == 0 && hi.op == 0 {
			lo.v, hi.v = hi.v, lo.v
		}
		if hi.v >= lo.v {
			end(&f.Interval, lo.op, lo.v, false)
			end(&f.Interval, hi.op, hi.v, true)
			f.End = n
			if f.Unit.Zero() {
				f.Unit, f.UnitText = second.unit, second.text
			}
			return f, true
		}
	}
	end(&f.Interval, first.op, first.v, false)
	if first.op == 0 || first.op == '~' {
		f.Hi, f.HasHi = first.v, true
	}
	return f, true
}

// rangeEnd reads the second end of a range after first: "- 25", "-<= 17", "to 30", "; < 60 °C".
func rangeEnd(s string, first one, style Style) (second one, n int, ok bool) {
	if first.post && (first.op == '<' || first.op == 'l') {
		return one{}, 0, false
	}
	i := first.n
	i += blanks(s[i:])
	d := dash(s[i:])
	if d == 0 && first.op != 0 && i < len(s) && (s[i] == ';' || s[i] == ',' || s[i] == '/') {
		// ">23 °C; <60 °C"
		j := i + 1
		j += blanks(s[j:])
		if op, _ := operator(s[j:]); (first.op == '>' || first.op == 'g') && (op == '<' || op == 'l') {
			d = 1
		}
	}
	if d == 0 && (first.op == '>' || first.op == 'g') { // "> 5 < 10", "≥ 10 ≤ 25"
		if op, _ := operator(s[i:]); op == '<' || op == 'l' {
			second, ok = readOne(s[i:], style, true)
			return second, i + second.n, ok && compatible(first, second)
		}
	}
	if d == 0 {
		return one{}, 0, false
	}
	i += d
	i += blanks(s[i:])
	second, ok = readOne(s[i:], style, first.v < 0 || strings.IndexByte("°ºo", at(first.text, 0)) >= 0 || first.unit.Dim == Temperature)
	if !ok || !compatible(first, second) {
		return one{}, 0, false
	}
	// "20-30-40" is no range
	rest := s[i+second.tail:]
	if len(rest) > 1 && rest[0] == '-' && digit(rest[1]) {
		return one{}, 0, false
	}
	return second, i + second.n, true
}

func at(s string, i int) byte {
	if i < len(s) {
		return s[i]
	}
	return 0
}

func compatible(a, b one) bool {
	return a.unit.Zero() || b.unit.Zero() || a.unit.Name == b.unit.Name
}

// Interval reads the number or range that makes up s, which may carry a unit; ok is false when s holds anything else.
func Interval(s string, style Style) (iv sheet.Interval, ok bool) {
	s = strings.TrimSpace(s)
	f, ok := readInterval(s, style)
	if !ok || strings.TrimSpace(s[f.End:]) != "" {
		return sheet.Interval{}, false
	}
	return f.Interval, true
}

// Scan finds the numbers and ranges of s in order. Digits that belong to a word or code ("D92", "H226", "C18",
// "1,2,4-trimethyl") are left out.
func Scan(s string, style Style) []Found {
	var out []Found
	last := len(s) - 1
	for last >= 0 && !digit(s[last]) {
		last--
	}
	for i := 0; i <= last; { // nothing starts behind the last digit
		if !startsNumber(s, i) {
			_, w := utf8.DecodeRuneInString(s[i:])
			i += w
			continue
		}
		f, ok := readInterval(s[i:], style)
		if !ok {
			_, w := utf8.DecodeRuneInString(s[i:])
			i += w
			continue
		}
		f.Start, f.End = i, i+f.End
		if inWord(s, f) {
			i = skipWord(s, i)
			continue
		}
		f.Condition = isCondition(s, f)
		out = append(out, f)
		i = f.End
	}
	return out
}

// startsNumber tells whether a number, sign or operator may start at byte i of s.
func startsNumber(s string, i int) bool {
	if i > 0 {
		r, _ := utf8.DecodeLastRuneInString(s[:i])
		if unicode.IsLetter(r) && r < 0x3000 || unicode.IsDigit(r) || r == '_' {
			return false
		}
		if s[i] == '-' && !unicode.IsSpace(r) && !strings.ContainsRune("(:=<>≥≤~@[;,/", r) {
			return false
		}
	}
	c := s[i]
	if digit(c) {
		return true
	}
	if (c == '.' || c == ',') && i+1 < len(s) && digit(s[i+1]) {
		return i == 0 || !digit(s[i-1])
	}
	if c == '-' || c == '+' {
		return true
	}
	if strings.HasPrefix(s[i:], "−") || strings.HasPrefix(s[i:], "–") {
		return true
	}
	return digitSoon(s[i:]) && operatorAt(s, i)
}

// digitSoon tells whether a digit follows within the length of an operator in words.
func digitSoon(s string) bool {
	for i := 0; i < len(s) && i < 30; i++ {
		if digit(s[i]) {
			return true
		}
	}
	return false
}

func operatorAt(s string, i int) bool {
	_, size := operator(s[i:])
	return size > 0
}

// inWord tells whether the number runs on into letters that are no unit, or into a locant ("3-methyl", "2,2-di").
func inWord(s string, f Found) bool {
	if f.End >= len(s) || f.UnitText != "" && !strings.HasSuffix(s[:f.End], f.UnitText) {
		return false
	}
	r, _ := utf8.DecodeRuneInString(s[f.End:])
	if unicode.IsLetter(r) && f.UnitText == "" {
		return r < 0x3000 && r != 'º'
	}
	if r == '\'' && f.UnitText == "" {
		return true
	}
	return f.UnitText == "" && locant(s[f.End:])
}

// locant tells whether s goes on like the locants of a chemical name: "-methyl", ",4-tri", "-(2,3-epoxy".
func locant(s string) bool {
	i := 0
	for i+1 < len(s) && s[i] == ',' && digit(s[i+1]) {
		for i++; i < len(s) && (digit(s[i]) || s[i] == '\''); i++ {
		}
	}
	h := hyphen(s[i:])
	if h == 0 || i+h >= len(s) {
		return false
	}
	next, _ := utf8.DecodeRuneInString(s[i+h:])
	return unicode.IsLetter(next) || next == '(' && i > 0
}

// skipWord moves past the letters, digits and joining signs of the word at byte i.
func skipWord(s string, i int) int {
	start := i
	for i < len(s) {
		r, w := utf8.DecodeRuneInString(s[i:])
		if unicode.IsSpace(r) && i > start {
			break
		}
		i += w
	}
	return i
}

// isCondition tells whether words before the number make it the condition of another value ("at 20 °C", "@ 68F").
func isCondition(s string, f Found) bool {
	before := strings.TrimRight(s[:f.Start], " \u00a0(:=")
	lower := strings.ToLower(lastBytes(before, 24))
	for _, w := range []string{"@", " at", " bei", " à", " a", " temp.", " temperature", " température", " temperatura", " bei", " (at", "(at", "(bei", "(à", "(a"} {
		if strings.HasSuffix(lower, w) || lower == strings.TrimSpace(w) {
			return true
		}
	}
	return false
}

func lastBytes(s string, n int) string {
	if len(s) > n {
		return s[len(s)-n:]
	}
	return s
}
