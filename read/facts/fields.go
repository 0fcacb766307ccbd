package facts

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"sixteen/read/layout"
)

// field is a known label and what stands beside or below it.
type field[K comparable] struct {
	key   K
	at    int     // index of the label's line
	label stretch // the words of the label
	tail  string  // what stands between the label's words and the value: "(mm Hg @ 20 °C)", ", °F"
	value stretch // on the line of the label; empty when the value stands below
	below []int   // lines below that go on with the value
}

// text is the value with at most n lines from below.
func (f field[K]) text(lines []layout.Line, n int) stretch {
	if n > len(f.below) {
		n = len(f.below)
	}
	if n == 0 {
		return f.value
	}
	if f.value.empty() {
		ls := make([]layout.Line, n)
		for i := range ls {
			ls[i] = lines[f.below[i]]
		}
		j := layout.Join(ls...)
		return stretch{&j, 0, len(j.Text)}
	}
	// the stretch of the value's line and whole lines below; words of the line behind the value are left out
	first := *f.value.line
	first.Text = first.Text[:f.value.end]
	var ws []layout.Word
	for _, w := range first.Words {
		if w.End <= f.value.end {
			ws = append(ws, w)
		}
	}
	first.Words = ws
	ls := []layout.Line{first}
	for i := 0; i < n; i++ {
		ls = append(ls, lines[f.below[i]])
	}
	j := layout.Join(ls...)
	return stretch{&j, f.value.start, len(j.Text)}
}

// fieldsIn finds the labels of the set in the lines of body. most is how many lines below a value may take.
func fieldsIn[K comparable](lines []layout.Line, body []int, labels *phrases[K], most int) []field[K] {
	var out []field[K]
	for bi, i := range body {
		l := &lines[i]
		found := labelsOf(l, labels)
		for k := range found {
			f := found[k]
			f.at = i
			last := k+1 == len(found)
			if last {
				f.below = belowOf(lines, body[bi+1:], l, f.label, f.value, labels, most)
			}
			out = append(out, f)
		}
	}
	return out
}

// labelsOf finds the labels of one line: at the beginning of a cell, or inside a cell before a colon.
func labelsOf[K comparable](l *layout.Line, labels *phrases[K]) []field[K] {
	var out []field[K]
	open := -1 // index in out of the label whose value still runs
	for ci, c := range l.Cells {
		ts := tokenize(c.Text)
		start := skipEnumerator(c.Text, ts)
		if _, n := labels.start(ts); n > 0 {
			start = 0 // "24 hour emergency number"
		}
		from := 0
		for i := start; i < len(ts); i++ {
			k, n := labels.at(ts, i)
			if i == start && ci+1 < len(l.Cells) && len(ts)-i > n {
				if v, ok := labels.cut(ts, i); ok {
					k, n = v, len(ts)-i
				}
			}
			if n == 0 {
				if i == start && open >= 0 && otherLabel(c.Text) && !out[open].value.empty() {
					open = -1 // an unknown label ends the value
				}
				continue
			}
			atStart := i == start
			if n == 1 && usedIn(c.Text[ts[i].end:]) {
				continue
			}
			rest := c.Text[ts[i+n-1].end:]
			tail, valueAt, ok := splitTail(rest, atStart, ci+1 < len(l.Cells))
			if !ok || !atStart && (!colonSoon(rest) || !wordBreak(c.Text, ts[i].start)) {
				continue
			}
			if open >= 0 && i > start {
				if c.Start+ts[i].start < out[open].value.start {
					continue // within the label before
				}
				out[open].value.end = c.Start + ts[i].start
				out[open].value = out[open].value.trim(" \t;,")
			}
			f := field[K]{key: k, label: stretch{l, c.Start + ts[i].start, c.Start + ts[i+n-1].end}, tail: tail}
			from = ts[i+n-1].end + valueAt
			f.value = stretch{l, c.Start + from, c.End}.trim(" \t:").afterLeader()
			out = append(out, f)
			open = len(out) - 1
			i += n - 1
		}
		if open >= 0 && out[open].label.start < c.Start { // the value goes on in this cell
			v := &out[open].value
			if v.empty() {
				*v = stretch{l, c.Start, c.End}.trim(" \t:").afterLeader()
			} else {
				v.end = c.End
			}
		}
	}
	return out
}

// usedIn tells whether a word that may be a label is the first of a sentence: "Use by the public", "Use only outdoors".
func usedIn(rest string) bool {
	rest = strings.TrimLeft(rest, " ")
	return (strings.HasPrefix(rest, "by ") || strings.HasPrefix(rest, "only ")) && !strings.ContainsAny(rest, ":0123456789")
}

// skipEnumerator passes "9.1", "(a)", "a)", "•" at the start of a cell.
func skipEnumerator(text string, ts []token) int {
	i := 0
	for i < len(ts) && i < 2 {
		t := ts[i]
		number := true
		for k := 0; k < len(t.text); k++ {
			if !isDigit(t.text[k]) && t.text[k] != '.' {
				number = false
			}
		}
		after := strings.TrimLeft(text[t.end:], " ")
		single := len(t.text) == 1 && after != "" && strings.IndexByte(").]/-", after[0]) >= 0
		if !number && !single {
			break
		}
		i++
	}
	if i >= len(ts) {
		return 0
	}
	return i
}

// splitTail looks at what follows a label: how far its own tail ("(°C)", ", in mmHg", "range") reaches and whether a
// value can follow.
func splitTail(rest string, atStart, moreCells bool) (tail string, valueAt int, ok bool) {
	if strings.HasPrefix(rest, ")") { // "Hazard class(es)": the label's own bracket
		tail, valueAt, ok = splitTail(rest[1:], atStart, moreCells)
		return tail, valueAt + 1, ok
	}
	trimmed := strings.TrimLeft(rest, " \t")
	if trimmed == "" {
		return "", len(rest), true
	}
	if i := tailColon(rest); i >= 0 {
		return rest[:i], i + 1, true
	}
	if p := parenthesis(rest); p > 0 {
		inside := strings.TrimSpace(rest[:p])
		if !hasDigitValue(inside) {
			return rest[:p], p, true
		}
	}
	r, _ := utf8.DecodeRuneInString(trimmed)
	switch {
	case moreCells && len(trimmed) < 60 && !(goesOn(trimmed) && len(trimmed) > 24):
		return rest, len(rest), true // the label's cell ends with words of its own, the value is in the next cell
	case unicode.IsDigit(r), strings.ContainsRune("<>≤≥=~‹›±", r), r == '-' && len(trimmed) > 1:
		return "", 0, true
	case strings.ContainsRune("([,–—.°%/", r):
		return "", 0, true
	case goesOn(trimmed):
		return "", 0, false // a longer heading: "Recommended use of the chemical and restrictions on use"
	case !atStart:
		return "", 0, false
	}
	return "", 0, true
}

// goesOn tells whether a text begins with a word that joins it to what stands before.
func goesOn(s string) bool {
	for _, w := range []string{"and ", "or ", "und ", "oder ", "et ", "ou ", "y ", "o "} {
		if strings.HasPrefix(s, w) {
			return true
		}
	}
	return false
}

// tailColon finds the colon that ends a label, within a few words and not inside a bracket.
func tailColon(s string) int {
	depth := 0
	for i := 0; i < len(s) && i < 70; i++ {
		switch s[i] {
		case '(', '[':
			depth++
		case ')', ']':
			depth--
		case ':':
			if depth <= 0 {
				return i
			}
		case '.', ';':
			if depth <= 0 && i+1 < len(s) && s[i+1] == ' ' && i > 1 && s[i-1] >= 'a' && (i < 3 || s[i-3] != ' ') {
				return -1
			}
		}
		if i+3 <= len(s) && s[i:i+3] == "：" {
			return i
		}
	}
	return -1
}

// parenthesis is the end of a bracket or unit list that directly follows a label, 0 when none.
func parenthesis(s string) int {
	i := 0
	for i < len(s) && (s[i] == ' ' || s[i] == ',') {
		i++
	}
	if i >= len(s) || s[i] != '(' && s[i] != '[' {
		return 0
	}
	depth := 0
	for ; i < len(s); i++ {
		switch s[i] {
		case '(', '[':
			depth++
		case ')', ']':
			depth--
			if depth == 0 {
				return i + 1
			}
		}
	}
	return 0
}

// hasDigitValue tells whether a bracket holds a value of its own ("(43 °C)") rather than a unit or condition.
func hasDigitValue(s string) bool {
	t := strings.TrimLeft(s, "([ ")
	return t != "" && (isDigit(t[0]) || strings.IndexByte("<>", t[0]) >= 0)
}

func colonSoon(s string) bool {
	i := tailColon(s)
	return i >= 0 && i < 30
}

func wordBreak(s string, i int) bool {
	return i == 0 || s[i-1] == ' ' || s[i-1] == '\t' || s[i-1] == '('
}

// otherLabel tells whether a cell is a label by form: short, ending with a colon.
func otherLabel(s string) bool {
	t := strings.TrimRight(s, " ")
	if strings.HasSuffix(t, ":") && len(t) > 2 && len(t) < 60 {
		return true
	}
	i := strings.Index(t, ": ")
	return i > 2 && i < 40 && !strings.ContainsAny(t[:i], "0123456789(")
}

// belowOf lists the lines below that go on with the value of a label.
func belowOf[K comparable](lines []layout.Line, rest []int, l *layout.Line, label, value stretch, labels *phrases[K], most int) []int {
	var out []int
	left := l.Box.X0
	if !value.empty() {
		left = l.BoxOf(value.start, value.end).X0
	}
	labelLeft := l.BoxOf(label.start, label.end).X0
	for _, j := range rest {
		if len(out) >= most {
			break
		}
		n := &lines[j]
		if n.Page == l.Page && n.Gap > 3*max(n.Size, 8) && len(out) > 0 {
			break
		}
		x := n.Box.X0
		if value.empty() {
			if x < labelLeft-3 {
				break
			}
		} else if x < left-4 && !(left-labelLeft < 4 || sameCell(l, label, value)) {
			break
		} else if x < labelLeft-4 {
			break
		}
		if len(labelsOf(n, labels)) > 0 || startsSubsection(n.Text) || otherLabel(n.Cells[0].Text) {
			break
		}
		out = append(out, j)
	}
	return out
}

func sameCell(l *layout.Line, a, b stretch) bool {
	for _, c := range l.Cells {
		if a.start >= c.Start && a.end <= c.End {
			return b.start >= c.Start && b.start < c.End
		}
	}
	return false
}

// startsSubsection tells whether a line begins like "9.2 Other information".
func startsSubsection(s string) bool {
	i := 0
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	if i == 0 || i > 2 || i+1 >= len(s) || s[i] != '.' || !isDigit(s[i+1]) {
		return false
	}
	j := i + 1
	for j < len(s) && (isDigit(s[j]) || s[j] == '.') {
		j++
	}
	rest := strings.TrimLeft(s[j:], " \t:-–")
	return j < len(s) && j-i <= 5 && rest != "" && !isDigit(rest[0]) && (s[j] == ' ' || s[j] == '\t') && unicode.IsUpper(firstRune(rest))
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}
