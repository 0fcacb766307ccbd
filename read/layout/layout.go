package layout

import (
	"slices"
	"strings"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Layout puts the words of pages in reading order. It accepts any input, also pages without words or with absurd boxes.
func Layout(pages []page.Page) Document {
	var doc Document
	for _, p := range pages {
		for _, words := range visualLines(p.Words) {
			doc.Lines = append(doc.Lines, newLine(p, cellsByGap(words)))
		}
	}
	return doc
}

// visualLines groups words whose heights overlap by more than half into lines, top down, each left to right.
func visualLines(words []page.Word) [][]page.Word {
	sorted := slices.Clone(words)
	slices.SortStableFunc(sorted, func(a, b page.Word) int { return compareFloat(middle(a.Box), middle(b.Box)) })
	var lines [][]page.Word
	var box sheet.Rect
	for _, w := range sorted {
		m := middle(w.Box)
		if n := len(lines); n > 0 && m < box.Y1-(box.Y1-box.Y0)*0.2 && middle(box) > w.Box.Y0 {
			lines[n-1] = append(lines[n-1], w)
			continue
		}
		lines = append(lines, []page.Word{w})
		box = w.Box
	}
	for _, l := range lines {
		slices.SortStableFunc(l, func(a, b page.Word) int { return compareFloat(a.Box.X0, b.Box.X0) })
	}
	return lines
}

// cellsByGap divides the words of a line where the gap between two is wider than about three blanks.
func cellsByGap(words []page.Word) [][]page.Word {
	var cells [][]page.Word
	for i, w := range words {
		if i == 0 || w.Box.X0-words[i-1].Box.X1 > 1.2*max(w.Size, 6) {
			cells = append(cells, nil)
		}
		cells[len(cells)-1] = append(cells[len(cells)-1], w)
	}
	return cells
}

// newLine builds a line of the given cells of page p.
func newLine(p page.Page, cells [][]page.Word) Line {
	l := Line{Page: p.Number, Table: -1, How: p.How, Confidence: 1}
	var text strings.Builder
	letters, bold := 0, 0
	for i, words := range cells {
		if i > 0 {
			text.WriteByte('\t')
		}
		c := Cell{Page: p.Number, Col: i, Span: 1, Start: text.Len()}
		for j, w := range words {
			if j > 0 {
				text.WriteByte(' ')
			}
			start := text.Len()
			text.WriteString(w.Text)
			c.Words = append(c.Words, Word{Word: w, Page: p.Number, Start: start, End: text.Len()})
			c.Box = c.Box.Union(w.Box)
			l.Size = max(l.Size, w.Size)
			l.Confidence = min(l.Confidence, w.Confidence)
			l.Angle = w.Angle
			letters += len(w.Text)
			if w.Bold {
				bold += len(w.Text)
			}
		}
		c.End = text.Len()
		l.Words = append(l.Words, c.Words...)
		l.Box = l.Box.Union(c.Box)
		l.Cells = append(l.Cells, c)
	}
	l.Text = text.String()
	for i := range l.Cells {
		l.Cells[i].Text = l.Text[l.Cells[i].Start:l.Cells[i].End]
	}
	l.Bold = 2*bold > letters
	return l
}

func middle(r sheet.Rect) float64 { return (r.Y0 + r.Y1) / 2 }

func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
