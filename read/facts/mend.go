package facts

import (
	"slices"
	"strings"
	"unicode"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
)

// mend joins neighbouring cells that hold one value between them: a number and its unit ("400", "ppm; 1400 mg/m3"), the two
// ends of a range (">= 30", "- < 40"). Such gaps come from justified or typewritten text. The text of a line stays as it is.
func mend(lines []layout.Line) []layout.Line {
	out := freeHeadings(lines)
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

// freeHeadings divides rows that hold the heading of a section among other printed lines. It returns a copy.
func freeHeadings(lines []layout.Line) []layout.Line {
	out := make([]layout.Line, 0, len(lines))
	for i := range lines {
		l := &lines[i]
		if l.Table < 0 || len(l.Words) < 3 {
			out = append(out, *l)
			continue
		}
		tops := baselines(l.Words)
		var borders []float64
		for k, y := range tops {
			if len(tops) < 2 || !isHeading(textAt(l.Words, y)) {
				continue
			}
			borders = append(borders, y-1)
			if k+1 < len(tops) {
				borders = append(borders, tops[k+1]-1)
			}
		}
		if len(borders) == 0 {
			out = append(out, *l)
			continue
		}
		from := -1e9
		for _, b := range append(borders, 1e9) {
			if row := rowBetween(l, from, b); len(row.Words) > 0 {
				if isHeading(row.Text) {
					row.Table = -1
				}
				out = append(out, row)
			}
			from = b
		}
	}
	return out
}

// isHeading tells whether a text is surely the heading of a section: a number and the section's wording.
func isHeading(text string) bool {
	if len(text) > 160 {
		return false
	}
	ts := tokenize(text)
	kind, _, n := headNumber(text, ts)
	if kind != word && kind != arabic {
		return false
	}
	_, score := topicOf(ts[n:])
	return score >= 0.75
}

// oneValue tells whether two neighbouring cells hold one value.
func oneValue(l *layout.Line, a, b layout.Cell) bool {
	if a.Text == "" || b.Text == "" || a.Page != b.Page || b.Box.X0-a.Box.X1 > 3*max(l.Size, 6) {
		return false
	}
	switch strings.TrimSpace(a.Text) {
	case "≥", "≤", "<", ">", ">=", "<=", "=", "~":
		return isDigit(b.Text[0])
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

// unmerge divides rows that the layout took for one because a column was empty: rows whose words stand on several lines,
// where a line below the first begins with a known label of its own. The lines of sections that are lists of labels and
// values are looked at, no others.
func unmerge(lines []layout.Line, parts []part) []layout.Line {
	var out []layout.Line
	done := 0
	for _, p := range parts {
		for _, s := range p.sections {
			for i := max(s.from, done); i < s.to && i < len(lines); i++ {
				if !listSection(s.topic) || lines[i].Table < 0 {
					continue
				}
				rows := divideRow(&lines[i], s.topic)
				if len(rows) < 2 {
					continue
				}
				out = append(append(out, lines[done:i]...), rows...)
				done = i + 1
			}
		}
	}
	if out == nil {
		return lines
	}
	return append(out, lines[done:]...)
}

func listSection(topic int) bool {
	switch topic {
	case 1, 2, 5, 8, 9, 14:
		return true
	}
	return false
}

// knownLabel tells whether a text begins with a label of its section.
func knownLabel(topic int, text string) bool {
	ts := tokenize(text)
	if len(ts) == 0 {
		return false
	}
	n := 0
	switch topic {
	case 1:
		_, n = idLabels.start(ts)
	case 2:
		_, n = hazLabels.start(ts)
	case 5, 9:
		_, n = propertyLabels.start(ts)
	case 8:
		_, n = controlLabels.start(ts)
	case 14:
		_, n = transportLabels.start(ts)
	}
	return n > 0
}

// divideRow divides a row into the printed lines that begin with labels.
func divideRow(l *layout.Line, topic int) []layout.Line {
	if len(l.Cells) < 2 {
		return nil
	}
	tops := baselines(l.Cells[0].Words)
	if len(tops) < 2 {
		return nil
	}
	var borders []float64 // words above a border belong to the rows before
	last := ""
	for k, y := range tops {
		text := textAt(l.Cells[0].Words, y)
		open := strings.HasSuffix(last, "/") || strings.HasSuffix(last, "-") || strings.HasSuffix(last, ",") || strings.HasSuffix(last, " of") || strings.HasSuffix(last, " and") || strings.HasSuffix(last, " or")
		if k > 0 && !open && knownLabel(topic, text) && valueAt(l, y) && valueBetween(l, tops[0]-1, y-1) {
			borders = append(borders, y-1)
		}
		last = strings.TrimRight(text, " ")
	}
	if len(borders) == 0 {
		return nil
	}
	rows := make([]layout.Line, 0, len(borders)+1)
	from := -1e9
	for _, b := range append(borders, 1e9) {
		rows = append(rows, rowBetween(l, from, b))
		from = b
	}
	return rows
}

// baselines lists the heights at which the words of a cell stand, top down.
func baselines(ws []layout.Word) []float64 {
	var out []float64
	for _, w := range ws {
		y := w.Box.Y0
		known := false
		for _, o := range out {
			known = known || y-o < 0.6*max(w.Size, 6) && o-y < 0.6*max(w.Size, 6)
		}
		if !known {
			out = append(out, y)
		}
	}
	slices.Sort(out)
	return out
}

func textAt(ws []layout.Word, y float64) string {
	var parts []string
	for _, w := range ws {
		if d := w.Box.Y0 - y; d < 0.6*max(w.Size, 6) && -d < 0.6*max(w.Size, 6) {
			parts = append(parts, w.Text)
		}
	}
	return strings.Join(parts, " ")
}

// valueAt tells whether a cell behind the first has words at the height y.
func valueAt(l *layout.Line, y float64) bool {
	for _, c := range l.Cells[1:] {
		if textAt(c.Words, y) != "" {
			return true
		}
	}
	return false
}

func valueBetween(l *layout.Line, from, to float64) bool {
	for _, c := range l.Cells[1:] {
		for _, w := range c.Words {
			if w.Box.Y0 >= from && w.Box.Y0 < to {
				return true
			}
		}
	}
	return false
}

// rowBetween makes a line of the words of l whose tops stand from height from down to height to.
func rowBetween(l *layout.Line, from, to float64) layout.Line {
	out := *l
	out.Words, out.Cells = nil, nil
	var text strings.Builder
	first := true
	for _, c := range l.Cells {
		cell := layout.Cell{Page: c.Page, Col: c.Col, Span: c.Span}
		for _, w := range c.Words {
			if w.Box.Y0 < from || w.Box.Y0 >= to {
				continue
			}
			if len(cell.Words) == 0 {
				if text.Len() > 0 {
					text.WriteByte('\t')
				}
				cell.Start = text.Len()
			} else {
				text.WriteByte(' ')
			}
			w.Start = text.Len()
			text.WriteString(w.Text)
			w.End = text.Len()
			cell.Words = append(cell.Words, w)
			cell.Box = cell.Box.Union(w.Box)
			if first {
				out.Box, first = w.Box, false
			}
			out.Box = out.Box.Union(w.Box)
		}
		if len(cell.Words) > 0 {
			cell.End = text.Len()
			out.Cells = append(out.Cells, cell)
			out.Words = append(out.Words, cell.Words...)
		}
	}
	out.Text = text.String()
	for i := range out.Cells {
		out.Cells[i].Text = out.Text[out.Cells[i].Start:out.Cells[i].End]
	}
	out.Gap = 0
	return out
}
