package layout

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// joinDivided joins words divided at the end of a printed line, inside cells and from one line to the next. The second
// half moves to the first; the hyphen goes where the whole word is written without.
func joinDivided(body []draft) {
	v := vocabulary{body: body}
	for i := range body {
		for p := range body[i].parts {
			segs := body[i].parts[p].segs
			for s := 1; s < len(segs); s++ {
				if a, b := lastToken(segs[s-1]), &segs[s].tokens[0]; isDivided(a.Text, b.Text) && lower(a, b) {
					v.join(a, b)
				}
			}
		}
		if i+1 < len(body) {
			v.joinNext(&body[i], &body[i+1])
		}
	}
}

func lastToken(s seg) *token { return &s.tokens[len(s.tokens)-1] }

// lower tells whether b stands on a line below a, or on another page.
func lower(a, b *token) bool { return a.page != b.page || b.up.Y0 > a.mid() }

// isDivided tells whether a ends in a hyphen that the beginning of b may go on from.
func isDivided(a, b string) bool {
	if len(a) < 3 || a[len(a)-1] != '-' {
		return false
	}
	before, _ := utf8.DecodeLastRuneInString(a[:len(a)-1])
	after, _ := utf8.DecodeRuneInString(b)
	return unicode.IsLetter(before) && unicode.IsLetter(after) ||
		unicode.IsDigit(before) && (unicode.IsDigit(after) || unicode.IsLetter(after)) ||
		(before == ')' || before == ']') && unicode.IsLetter(after)
}

// vocabulary knows how often the words of the document occur, gathered when first asked.
type vocabulary struct {
	body     []draft
	words    map[string]int
	prefixes map[string]bool // what stands before a hyphen within a word, as in "non-toxic"
}

// join marks a and b as one word.
func (v *vocabulary) join(a, b *token) {
	if v.drops(a.Text, b.Text) {
		*a = a.own()
		a.Text = a.Text[:len(a.Text)-1]
	}
	a.dash = true
}

// joinNext joins over the end of a line: the cell below must begin where the line's last cell does.
func (v *vocabulary) joinNext(a, b *draft) {
	if len(a.parts) == 0 || len(b.parts) == 0 || a.table != nil || b.table != nil || a.angle != b.angle {
		return
	}
	pa, pb := &a.parts[len(a.parts)-1], &b.parts[0]
	sa, sb := pa.segs[len(pa.segs)-1], &pb.segs[0]
	if x := sb.x0 - sa.x0; x < -40 || x > 12 {
		return
	}
	ta, tb := lastToken(sa), sb.tokens[0]
	if !isDivided(ta.Text, tb.Text) {
		return
	}
	v.join(ta, &tb)
	tb.tail = true
	pa.segs = append(pa.segs, seg{[]token{tb}, tb.up.X0, tb.up.X1})
	sb.tokens = sb.tokens[1:]
	if len(sb.tokens) == 0 {
		pb.segs = pb.segs[1:]
	}
	if len(pb.segs) == 0 {
		b.parts = b.parts[1:]
	}
}

// drops tells whether the hyphen between two halves is only there because the line ended. It is not when the document
// writes the word with a hyphen elsewhere, or when both halves are words of their own, as in "cancer-causing".
func (v *vocabulary) drops(a, b string) bool {
	stem := a[:len(a)-1]
	if first, _ := utf8.DecodeRuneInString(b); !unicode.IsLower(first) {
		return false
	}
	if v.words == nil {
		v.gather()
	}
	if v.words[bare(stem+b)] > 0 {
		return true
	}
	// Each half was counted once where it stands now.
	known := v.prefixes[bare(stem)] || v.words[bare(stem)] > 1 && v.words[bare(b)] > 1
	return plainLetters(stem) && strings.ToUpper(stem) != stem && !known && v.words[bare(a+b)] == 0
}

func (v *vocabulary) gather() {
	v.words, v.prefixes = map[string]int{}, map[string]bool{}
	for _, d := range v.body {
		for _, p := range d.parts {
			for _, s := range p.segs {
				for _, t := range s.tokens {
					w := bare(t.Text)
					v.words[w]++
					if prefix, _, ok := strings.Cut(w, "-"); ok {
						v.prefixes[prefix] = true
					}
				}
			}
		}
	}
}

// bare is a word in lower case without punctuation around it.
func bare(s string) string {
	return strings.ToLower(strings.TrimFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }))
}

// plainLetters tells whether s is a word of letters, perhaps behind an opening bracket or quote.
func plainLetters(s string) bool {
	s = strings.TrimLeft(s, "(\"'„“«[")
	return s != "" && strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) }) < 0
}
