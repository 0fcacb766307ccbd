package layout

import (
	"strings"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Document is the text of all pages in reading order.
type Document struct {
	Lines   []Line  // reading order; running heads and feet are not here
	Tables  []Table // in reading order; their rows are Lines too
	Running []Line  // running heads and feet in page order, one per place and page (a revision date is often only here)
}

// Line is one line of text, or one row of a table (Table ≥ 0), or one label with its value.
// Text holds the words of a cell with single blanks between them, and a tab between two cells.
type Line struct {
	Page       int        // page of its first word, counts from 1
	Box        sheet.Rect // around the words on that page
	Text       string
	Words      []Word // in the order of Text
	Cells      []Cell // at least one; left to right
	Size       float64
	Bold       bool    // most of its letters are bold
	Angle      int     // reading direction, 0 for upright text
	Column     int     // column of the page, counts from 0; lines over the whole width have 0
	Gap        float64 // empty height above it in its column, in points; 0 at the top of a column
	Table      int     // index in Document.Tables, -1 outside of tables
	Row        int     // index in Table.Rows
	How        sheet.How
	Confidence float64 // least confidence of its words, 0 to 1
}

// Word is a word of the page with its stretch of bytes, Start up to End, in the Text of its Line. Two words that touch
// in Text (End of one is Start of the next) belong together: a word divided over two lines, or by a change of font.
type Word struct {
	page.Word
	Page  int
	Start int
	End   int
}

// Cell is a part of a line set apart by a wide gap, by alignment with other lines or by rules.
type Cell struct {
	Page  int
	Box   sheet.Rect // around its words on Page, zero when empty
	Text  string     // Line.Text[Start:End]
	Start int
	End   int
	Words []Word
	Col   int // column of the table the cell begins in, counts from 0; outside of tables its place in the line, or for a line of one cell that goes on below a cell of the lines before, the place of that
	Span  int // columns of the table it covers, at least 1
	Down  int // rows of a ruled table it covers, at least 1; it belongs to the first of them
}

// Table is a grid of cells, drawn with rules or only aligned. A table that goes on over a page break is one Table.
type Table struct {
	Page   int
	Box    sheet.Rect // on Page
	Ruled  bool       // drawn with rules, not only aligned
	Cols   int        // number of columns
	Header int        // number of first rows that are its head, 0 when none is recognised
	Rows   []Row
}

// Row is one row of a table. Cells has one entry per printed cell; Cell.Col and Cell.Span place it.
type Row struct {
	Line  int // index in Document.Lines
	Cells []Cell
}

// At returns the cell of the row that covers column col, or an empty Cell.
func (r Row) At(col int) Cell {
	for _, c := range r.Cells {
		if c.Col <= col && col < c.Col+c.Span {
			return c
		}
	}
	return Cell{Col: col, Span: 1}
}

// Head joins the texts of the head cells above column col, top down, with single blanks.
func (t Table) Head(col int) string {
	var parts []string
	for _, r := range t.Rows[:min(t.Header, len(t.Rows))] {
		if s := r.At(col).Text; s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " ")
}

// Where returns the evidence of the bytes start up to end of Text: one entry per page that the words stand on, each box
// around exactly the words that the stretch touches.
func (l Line) Where(start, end int) []sheet.Evidence {
	var out []sheet.Evidence
	for _, w := range l.Words {
		if start >= end || w.End <= start || w.Start >= end {
			continue
		}
		if n := len(out); n == 0 || out[n-1].Page != w.Page {
			out = append(out, sheet.Evidence{Page: w.Page, How: l.How, Words: strings.TrimSpace(l.Text[w.Start:w.End])})
		} else {
			out[n-1].Words = l.Text[wordsStart(l.Words, w.Page, start):w.End]
		}
		e := &out[len(out)-1]
		e.Box = e.Box.Union(w.Place())
	}
	for i := range out {
		out[i].Recognised = l.recognised(out[i].Page, start, end)
	}
	return out
}

// recognised is what stood in the place of the bytes start up to end, on one page, before words were repaired; "" when none
// was.
func (l Line) recognised(page, start, end int) string {
	var was strings.Builder
	repaired, last := false, -1
	for _, w := range l.Words {
		if w.Page != page || w.End <= start || w.Start >= end {
			continue
		}
		if last >= 0 && w.Start > last {
			was.WriteByte(' ')
		}
		repaired, last = repaired || w.Was != "", w.End
		was.WriteString(w.Recognised())
	}
	if !repaired {
		return ""
	}
	return was.String()
}

// wordsStart is the first byte of the first word on page that reaches beyond start.
func wordsStart(words []Word, page, start int) int {
	for _, w := range words {
		if w.Page == page && w.End > start {
			return w.Start
		}
	}
	return start
}

// BoxOf returns the box around exactly the words that the bytes start up to end of Text touch, on the page of the first
// of them. It is zero when there are none.
func (l Line) BoxOf(start, end int) sheet.Rect {
	if e := l.Where(start, end); len(e) > 0 {
		return e[0].Box
	}
	return sheet.Rect{}
}

// Lines divides the text of a cell into its printed lines.
func (c Cell) Lines() []string {
	var out []string
	from := c.Start
	for i, w := range c.Words {
		if i > 0 && below(c.Words[i-1], w) {
			out = append(out, strings.TrimSpace(c.Text[from-c.Start:w.Start-c.Start]))
			from = w.Start
		}
	}
	if from < c.End {
		out = append(out, strings.TrimSpace(c.Text[from-c.Start:]))
	}
	return out
}

// below tells whether word b, which follows a, stands on a later printed line.
func below(a, b Word) bool {
	if a.Page != b.Page {
		return true
	}
	switch a.Angle {
	case 90:
		return (b.Box.X0+b.Box.X1)/2 > a.Box.X1
	case 180:
		return (b.Box.Y0+b.Box.Y1)/2 < a.Box.Y0
	case 270:
		return (b.Box.X0+b.Box.X1)/2 < a.Box.X0
	}
	return (b.Box.Y0+b.Box.Y1)/2 > a.Box.Y1
}

// Continued joins line i with the lines after it that go on with its last cell: those of one cell below that one.
func (d Document) Continued(i int) Line {
	n := i + 1
	last := d.Lines[i].Cells[len(d.Lines[i].Cells)-1]
	for n < len(d.Lines) && last.Col > 0 && d.Lines[i].Table < 0 && len(d.Lines[n].Cells) == 1 && d.Lines[n].Table < 0 && d.Lines[n].Cells[0].Col == last.Col {
		n++
	}
	return Join(d.Lines[i:n]...)
}

// Join makes one line of several, in order, with a blank between their texts, so that a pattern can run over wrapped
// text and still find its place. Cells, size, column and table are those of the first line.
func Join(lines ...Line) Line {
	if len(lines) == 0 {
		return Line{Table: -1}
	}
	out := lines[0]
	out.Words = append([]Word(nil), out.Words...)
	var text strings.Builder
	text.WriteString(out.Text)
	for _, l := range lines[1:] {
		text.WriteByte(' ')
		at := text.Len()
		text.WriteString(l.Text)
		for _, w := range l.Words {
			w.Start, w.End = w.Start+at, w.End+at
			out.Words = append(out.Words, w)
			if w.Page == out.Page {
				out.Box = out.Box.Union(w.Box)
			}
		}
		out.Confidence = min(out.Confidence, l.Confidence)
	}
	out.Text = text.String()
	return out
}
