package facts

import (
	"strings"
	"unicode"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
)

// mend joins neighbouring cells that hold one value between them: a number and its unit ("400", "ppm; 1400 mg/m3"), the two
// ends of a range (">= 30", "- < 40"). Such gaps come from justified or typewritten text. The text of a line stays as it is.
func mend(lines []layout.Line) []layout.Line {
	out := make([]layout.Line, len(lines))
	copy(out, lines)
	for i := range out {
		l := &out[i]
		for k := 0; k+1 < len(l.Cells); k++ {
			if !oneValue(l, l.Cells[k], l.Cells[k+1]) {
				continue
			}
			cells := make([]layout.Cell, 0, len(l.Cells)-1)
			cells = append(cells, l.Cells[:k]...)
			a, b := l.Cells[k], l.Cells[k+1]
			a.End, a.Text = b.End, l.Text[a.Start:b.End]
			a.Words = append(append([]layout.Word(nil), a.Words...), b.Words...)
			if a.Page == b.Page {
				a.Box = a.Box.Union(b.Box)
			}
			a.Span += b.Span
			cells = append(append(cells, a), l.Cells[k+2:]...)
			l.Cells = cells
			k--
		}
	}
	return out
}

// oneValue tells whether two neighbouring cells hold one value.
func oneValue(l *layout.Line, a, b layout.Cell) bool {
	if a.Text == "" || b.Text == "" || a.Page != b.Page || b.Box.X0-a.Box.X1 > 3*max(l.Size, 6) {
		return false
	}
	last := a.Text[len(a.Text)-1]
	if !isDigit(last) && last != '%' {
		return false
	}
	if tail := a.Text[strings.LastIndexByte(a.Text, ' ')+1:]; len(number.CASNumbers(tail, false)) > 0 || len(tail) > 9 {
		return false
	}
	r := firstRune(b.Text)
	if r == '-' || r == '–' || r == '—' || r == '−' {
		rest := strings.TrimLeft(b.Text[len(string(r)):], " ")
		next := firstRune(rest)
		return rest != "" && len(rest) < 16 && (unicode.IsDigit(next) || strings.ContainsRune("<>≤≥", next))
	}
	if !isDigit(last) {
		return false
	}
	word := b.Text
	if i := strings.IndexAny(word, " ;,"); i > 0 {
		word = word[:i]
	}
	u, ok := number.ParseUnit(word)
	return ok && (limitUnit(u) || u.Name == "%")
}
