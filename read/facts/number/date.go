package number

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Order says whether the day or the month stands first in dates such as "03/05/2016".
type Order uint8

// Orders.
const (
	OrderUnknown Order = iota
	DayFirst
	MonthFirst
)

// Date is one date in a text at text[Start:End].
type Date struct {
	ISO        string // YYYY-MM-DD, or YYYY-MM when no day is printed; for ambiguous dates read in the order asked for
	Start, End int
	Shows      Order // the order the printed date itself proves, OrderUnknown when it could be both or is no numeric date
	Ambiguous  bool  // the other order would be a date as well, and a different one
	Sep        byte  // '/', '.', '-' or ' ' for months in words
}

// months maps the beginnings of month names, accents dropped, to their number (English, French, German, Spanish and
// the usual abbreviations).
var months = map[string]int{
	"jan": 1, "january": 1, "janv": 1, "janvier": 1, "januar": 1, "janner": 1, "enero": 1, "ene": 1,
	"feb": 2, "february": 2, "fev": 2, "fevr": 2, "fevrier": 2, "februar": 2, "febrero": 2,
	"mar": 3, "march": 3, "mars": 3, "marz": 3, "maerz": 3, "marzo": 3, "mrz": 3,
	"apr": 4, "april": 4, "avr": 4, "avril": 4, "abr": 4, "abril": 4,
	"may": 5, "mai": 5, "mayo": 5,
	"jun": 6, "june": 6, "juin": 6, "juni": 6, "junio": 6,
	"jul": 7, "july": 7, "juil": 7, "juillet": 7, "juli": 7, "julio": 7,
	"aug": 8, "august": 8, "aou": 8, "aout": 8, "ago": 8, "agosto": 8,
	"sep": 9, "sept": 9, "september": 9, "septembre": 9, "septiembre": 9, "setiembre": 9,
	"oct": 10, "october": 10, "octobre": 10, "okt": 10, "oktober": 10, "octubre": 10,
	"nov": 11, "november": 11, "novembre": 11, "noviembre": 11,
	"dec": 12, "december": 12, "decembre": 12, "dez": 12, "dezember": 12, "dic": 12, "diciembre": 12,
}

func month(word string) int { return months[strings.ToLower(strings.TrimSuffix(Unaccent(word), "."))] }

// Unaccent drops the accents of Latin letters.
func Unaccent(s string) string {
	ascii := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			ascii = false
			break
		}
	}
	if ascii {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r < 0x80 {
			return r
		}
		if i := strings.IndexRune(accented, r); i >= 0 {
			return rune(plain[utf8.RuneCountInString(accented[:i])])
		}
		return r
	}, s)
}

const (
	accented = "áàâäãåéèêëíìîïóòôöõúùûüñçýÁÀÂÄÃÅÉÈÊËÍÌÎÏÓÒÔÖÕÚÙÛÜÑÇ"
	plain    = "aaaaaaeeeeiiiiooooouuuuncyAAAAAAEEEEIIIIOOOOOUUUUNC"
)

// Dates finds the dates of s. Ambiguous numeric dates are read in the order given; with OrderUnknown points mean day
// first and everything else stays Ambiguous and is read month first. Years run from 1970 to 2099; two-digit years from
// 70 mean 19xx.
func Dates(s string, order Order) []Date {
	var out []Date
	for i := 0; i < len(s); {
		r, w := utf8.DecodeRuneInString(s[i:])
		if i > 0 && joined(s[:i]) || !unicode.IsDigit(r) && !unicode.IsLetter(r) {
			i += w
			continue
		}
		d, ok := dateAt(s[i:], order)
		if !ok {
			for i < len(s) { // past this run of letters or digits
				r, w := utf8.DecodeRuneInString(s[i:])
				if !unicode.IsDigit(r) && !unicode.IsLetter(r) {
					break
				}
				i += w
			}
			continue
		}
		d.Start, d.End = i, i+d.End
		out = append(out, d)
		i = d.End
	}
	return out
}

func joined(before string) bool {
	r, _ := utf8.DecodeLastRuneInString(before)
	return unicode.IsDigit(r)
}

func dateAt(s string, order Order) (Date, bool) {
	a, n := integer(s)
	if n == 0 {
		return wordFirst(s)
	}
	if n == 8 {
		return compact(s, a)
	}
	if n != 4 && n > 2 {
		return Date{}, false
	}
	sep, m := gap(s[n:])
	if m == 0 && sep != ' ' {
		return Date{}, false
	}
	i := n + m
	b, k := integer(s[i:])
	if k == 0 {
		return monthInMiddle(s, a, n, i)
	}
	if k > 2 || sep == 0 || sep == ' ' {
		return Date{}, false
	}
	i += k
	sep2, m := gap(s[i:])
	if m == 0 || sep2 != sep {
		return Date{}, false
	}
	c, l := integer(s[i+m:])
	if l == 0 || l != 2 && l != 4 && !(n == 4 && l == 1) {
		return Date{}, false
	}
	i += m + l
	if n == 4 {
		return finish(a, b, c, i, sep)
	}
	if k == 1 && n == 1 && l == 2 && sep == '.' {
		return Date{}, false // 1.2.10 is a section number
	}
	return numeric(a, b, year(c, l), i, sep, order)
}

func numeric(a, b, y, end int, sep byte, order Order) (Date, bool) {
	dayFirst, okDay := finish(y, b, a, end, sep)
	monthFirst, okMonth := finish(y, a, b, end, sep)
	switch {
	case okDay && okMonth:
		d := monthFirst
		if order == DayFirst || order == OrderUnknown && sep == '.' {
			d = dayFirst
		}
		d.Ambiguous = a != b && sep != '.'
		return d, true
	case okDay:
		dayFirst.Shows = DayFirst
		return dayFirst, true
	case okMonth:
		monthFirst.Shows = MonthFirst
		return monthFirst, true
	}
	return Date{}, false
}

// monthInMiddle reads "28-Jun-2011", "20 Mars 2026", "1er mars 2020", "5. März 2021", "3 de mayo de 2016", "2016-Apr-29".
func monthInMiddle(s string, a, n, i int) (Date, bool) {
	for _, skip := range []string{"er ", "st ", "nd ", "rd ", "th ", "st of ", "th of ", "de ", "of "} {
		if hasFold(s[i:], skip) {
			i += len(skip)
		}
	}
	word, k := letters(s[i:])
	mo := month(word)
	if mo == 0 {
		return Date{}, false
	}
	i += k
	for i < len(s) && strings.IndexByte(" .,-/", s[i]) >= 0 {
		i++
	}
	for _, skip := range []string{"de ", "del ", "of "} {
		if hasFold(s[i:], skip) {
			i += len(skip)
			break
		}
	}
	c, l := integer(s[i:])
	switch {
	case n == 4 && (l == 1 || l == 2):
		return finish(a, mo, c, i+l, ' ')
	case n <= 2 && (l == 4 || l == 2):
		return finish(year(c, l), mo, a, i+l, ' ')
	}
	return Date{}, false
}

// wordFirst reads "November 24, 2017", "July 1st 2018", "Jun-28-2011" and "March 2016".
func wordFirst(s string) (Date, bool) {
	word, i := letters(s)
	mo := month(word)
	if mo == 0 {
		return Date{}, false
	}
	skip := func() {
		for i < len(s) && strings.IndexByte(" .,-/", s[i]) >= 0 {
			i++
		}
	}
	start := i
	skip()
	if i == start {
		return Date{}, false
	}
	if hasFold(s[i:], "de ") {
		i += 3
	}
	a, n := integer(s[i:])
	if n == 4 {
		if a < 1970 || a > 2099 {
			return Date{}, false
		}
		return Date{ISO: fmt.Sprintf("%04d-%02d", a, mo), End: i + n, Sep: ' '}, true
	}
	if n == 0 || n > 2 {
		return Date{}, false
	}
	i += n
	for _, t := range []string{"st", "nd", "rd", "th"} {
		if hasFold(s[i:], t) {
			i += len(t)
			break
		}
	}
	skip()
	y, l := integer(s[i:])
	if l != 4 && l != 2 {
		return Date{}, false
	}
	return finish(year(y, l), mo, a, i+l, ' ')
}

// compact reads "20171027".
func compact(s string, v int) (Date, bool) {
	return finish(v/10000, v/100%100, v%100, 8, 0)
}

func finish(y, m, d, end int, sep byte) (Date, bool) {
	if y < 1970 || y > 2099 || m < 1 || m > 12 || d < 1 || d > 31 {
		return Date{}, false
	}
	t := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if t.Day() != d {
		return Date{}, false
	}
	return Date{ISO: t.Format("2006-01-02"), End: end, Sep: sep}, true
}

func year(v, digits int) int {
	if digits != 2 {
		return v
	}
	if v >= 70 {
		return 1900 + v
	}
	return 2000 + v
}

// gap reads what may stand between the parts of a date.
func gap(s string) (sep byte, n int) {
	for n < len(s) && (s[n] == ' ' || strings.IndexByte("/.-", s[n]) >= 0) {
		if s[n] != ' ' {
			if sep != 0 {
				return 0, 0
			}
			sep = s[n]
		}
		n++
	}
	if strings.HasPrefix(s[n:], "–") || strings.HasPrefix(s[n:], "‑") {
		return '-', n + len("–")
	}
	if n > 3 {
		return 0, 0
	}
	if n > 0 && sep == 0 {
		sep = ' '
	}
	if n == 0 && len(s) > 0 && unicode.IsLetter(rune(s[0])) {
		return ' ', 0
	}
	return sep, n
}

func integer(s string) (v, n int) {
	for n < len(s) && digit(s[n]) {
		if n == 9 {
			return 0, 0
		}
		v = v*10 + int(s[n]-'0')
		n++
	}
	return v, n
}

func letters(s string) (string, int) {
	for i, r := range s {
		if !unicode.IsLetter(r) {
			return s[:i], i
		}
	}
	return s, len(s)
}

func hasFold(s, prefix string) bool {
	return len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix)
}
