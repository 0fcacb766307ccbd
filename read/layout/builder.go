package layout

import (
	"math"
	"slices"

	"sixteen/read/page"
	"sixteen/sheet"
)

// builder gathers the entries of all pages and makes the Document of them.
type builder struct {
	body   []draft
	others []draft // running heads and feet
}

// draft is an entry with where it comes from.
type draft struct {
	entry
	page  int
	angle int
	how   sheet.How
}

func (b *builder) line(p page.Page, e entry) {
	b.body = append(b.body, draft{e, p.Number, e.parts[0].segs[0].tokens[0].Angle, p.How})
}

func (b *builder) running(p page.Page, e entry) {
	b.others = append(b.others, draft{e, p.Number, e.parts[0].segs[0].tokens[0].Angle, p.How})
}

// page adds the entries of a page and joins a table that goes on from the page before.
func (b *builder) page(p page.Page, entries []entry) {
	if n := len(b.body); n > 0 && len(entries) > 0 && b.body[n-1].page == p.Number-1 {
		if t := b.body[n-1].table; t != nil {
			entries = b.continued(p, t, entries)
		}
	}
	for _, e := range entries {
		b.line(p, e)
	}
}

// continued gives the entries at the top of page p that go on with table t to it. A repeated head of the table is set
// aside, and a row cut by the page break put together; what remains is returned.
func (b *builder) continued(p page.Page, t *tableDraft, entries []entry) []entry {
	n := 0
	for n < len(entries) && t.take(&entries[n]) {
		n++
	}
	if n == 0 {
		return entries
	}
	start := slices.IndexFunc(b.body, func(d draft) bool { return d.table == t })
	rows := entries[:n]
	for i := 0; i < len(rows) && start+i < len(b.body) && sameTexts(rows[i], b.body[start+i].entry); i++ {
		b.running(p, rows[i])
		entries = entries[1:]
	}
	last := &b.body[len(b.body)-1]
	if rows = entries[:n-(len(rows)-len(entries[:min(n, len(entries))]))]; len(rows) > 0 {
		if cut := rows[0]; cut.table == t && cut.parts[0].col > 0 && (t.ruled || len(cut.parts) == 1) {
			for _, part := range cut.parts {
				last.extend(part)
			}
			entries = entries[1:]
		}
	}
	return entries
}

// take makes e a row of the table when its cells stand in the table's columns.
func (t *tableDraft) take(e *entry) bool {
	const off = 6.0
	if e.table == nil && len(e.parts) < 2 {
		return false
	}
	cols := make([]int, len(e.parts))
	for i, p := range e.parts {
		x := p.segs[0].x0
		if e.table != nil && p.col < len(e.table.xs) {
			x = e.table.xs[p.col]
		}
		cols[i] = slices.IndexFunc(t.xs, func(v float64) bool { return math.Abs(v-x) < off })
		if cols[i] < 0 || i > 0 && cols[i] <= cols[i-1] {
			return false
		}
	}
	for i := range e.parts {
		e.parts[i].col = cols[i]
	}
	e.table = t
	return true
}

// extend adds the lines of a cell to the cell in the same column.
func (e *entry) extend(p part) {
	for i := range e.parts {
		if e.parts[i].col == p.col {
			e.parts[i].segs = append(e.parts[i].segs, p.segs...)
			return
		}
	}
	e.parts = append(e.parts, p)
	slices.SortFunc(e.parts, func(a, b part) int { return a.col - b.col })
}

func sameTexts(a, b entry) bool {
	return slices.EqualFunc(a.parts, b.parts, func(x, y part) bool {
		return slices.EqualFunc(x.segs, y.segs, func(s, t seg) bool { return s.text() == t.text() })
	})
}

func (b *builder) document() Document {
	joinDivided(b.body)
	var doc Document
	tables := map[*tableDraft]int{}
	anchors := []float64{}
	for i, d := range b.body {
		if len(d.parts) == 0 {
			continue
		}
		l := d.line()
		if i > 0 {
			if p := b.body[i-1]; p.page == d.page && p.column == d.column {
				l.Gap = max(0, d.y0-p.y1)
			}
		}
		if d.table == nil {
			anchors = continuation(&l, d.entry, anchors)
		} else {
			k, ok := tables[d.table]
			if !ok {
				k = len(doc.Tables)
				tables[d.table] = k
				doc.Tables = append(doc.Tables, Table{Page: d.page, Ruled: d.table.ruled, Cols: len(d.table.xs)})
			}
			t := &doc.Tables[k]
			l.Table, l.Row = k, len(t.Rows)
			t.Rows = append(t.Rows, Row{Line: len(doc.Lines), Cells: l.Cells})
			if d.page == t.Page {
				t.Box = t.Box.Union(l.Box)
			}
		}
		doc.Lines = append(doc.Lines, l)
	}
	for _, d := range b.others {
		doc.Running = append(doc.Running, d.line())
	}
	for i := range doc.Tables {
		doc.Tables[i].Header = headRows(doc.Tables[i], doc.Lines)
	}
	return doc
}

// continuation sets the column of a line of one cell that goes on below a cell of the lines before: anchors are where
// the cells of those begin. It returns the anchors for the next line.
func continuation(l *Line, e entry, anchors []float64) []float64 {
	const off = 4.0
	if len(e.parts) > 1 {
		anchors = anchors[:0]
		for _, p := range e.parts {
			anchors = append(anchors, p.segs[0].x0)
		}
		return anchors
	}
	for k, x := range anchors {
		if k > 0 && math.Abs(e.x0-x) < off {
			l.Cells[0].Col = k
		}
	}
	return anchors
}

// line makes the Line of a draft.
func (d draft) line() Line {
	l := Line{Page: d.page, Table: -1, How: d.how, Angle: d.angle, Column: d.column, Confidence: 1}
	var text []byte
	var sizes sizeCount
	letters, bold := 0, 0
	l.Words = make([]Word, 0, d.words())
	l.Cells = make([]Cell, 0, len(d.parts))
	for i, p := range d.parts {
		if i > 0 {
			text = append(text, '\t')
		}
		c := Cell{Page: p.segs[0].tokens[0].page, Col: p.col, Span: p.span, Down: p.down, Start: len(text)}
		first := len(l.Words)
		var before *token
		for _, s := range p.segs {
			for k := range s.tokens {
				t := &s.tokens[k]
				if before != nil && !before.dash && !t.tail && !glued(*before, *t) {
					text = append(text, ' ')
				}
				start := len(text)
				text = append(text, t.Text...)
				l.Words = append(l.Words, Word{Word: *t.Word, Page: t.page, Start: start, End: len(text)})
				if t.page == c.Page && !t.tail {
					c.Box = c.Box.Union(t.Box)
				}
				if t.page == l.Page && !t.tail {
					l.Box = l.Box.Union(t.Box)
				}
				sizes.add(t.Size, len(t.Text))
				l.Confidence = min(l.Confidence, t.Confidence)
				letters += len(t.Text)
				if t.Bold {
					bold += len(t.Text)
				}
				before = t
			}
		}
		c.End = len(text)
		c.Words = l.Words[first:len(l.Words):len(l.Words)]
		l.Cells = append(l.Cells, c)
	}
	l.Text = string(text)
	for i := range l.Cells {
		l.Cells[i].Text = l.Text[l.Cells[i].Start:l.Cells[i].End]
	}
	l.Size, l.Bold = sizes.most(), 2*bold > letters
	return l
}

// words is the number of words.
func (d draft) words() int {
	n := 0
	for _, p := range d.parts {
		for _, s := range p.segs {
			n += len(s.tokens)
		}
	}
	return n
}

// sizeCount finds the font size of most letters.
type sizeCount struct {
	sizes   [4]float64
	letters [4]int
}

func (c *sizeCount) add(size float64, letters int) {
	for i := range c.sizes {
		if c.letters[i] == 0 || math.Abs(c.sizes[i]-size) < 0.3 {
			c.sizes[i] = size
			c.letters[i] += letters
			return
		}
	}
}

func (c *sizeCount) most() float64 {
	best := 0
	for i := range c.letters {
		if c.letters[i] > c.letters[best] {
			best = i
		}
	}
	return c.sizes[best]
}

// headRows is the number of first rows of a table that are its head: set in bold unlike the rest, or without figures
// above rows with figures.
func headRows(t Table, lines []Line) int {
	const most = 3
	if len(t.Rows) < 2 {
		return 0
	}
	bold, plainWords := 0, 0
	for bold < len(t.Rows) && lines[t.Rows[bold].Line].Bold {
		bold++
	}
	if bold > 0 && bold <= most && bold < len(t.Rows) {
		return bold
	}
	for plainWords < len(t.Rows) && !hasFigures(t.Rows[plainWords]) {
		plainWords++
	}
	if plainWords > 0 && plainWords <= most && plainWords < len(t.Rows) && len(t.Rows[0].Cells) > 1 {
		with := 0
		for _, r := range t.Rows[plainWords:] {
			if hasFigures(r) {
				with++
			}
		}
		if 2*with > len(t.Rows)-plainWords {
			return plainWords
		}
	}
	return 0
}

// hasFigures tells whether a cell of the row begins with a number, perhaps behind a sign.
func hasFigures(r Row) bool {
	for _, c := range r.Cells {
		for _, ch := range c.Text {
			if ch >= '0' && ch <= '9' {
				return true
			}
			if ch != '<' && ch != '>' && ch != '≤' && ch != '≥' && ch != ' ' && ch != '=' && ch != '~' {
				break
			}
		}
	}
	return false
}
