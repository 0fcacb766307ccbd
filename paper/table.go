package paper

import "fmt"

// cellLines is the most lines of a table cell that stay on one page.
const cellLines = 8

func (s *setter) table(b Table, width float64, parent *element) []strip {
	if len(b.Columns) == 0 {
		s.fail(fmt.Errorf("the table %q has no columns", b.Caption))
		return nil
	}
	t := tableSetter{setter: s, table: b, size: s.size, e: parent.child("Table")}
	if b.Dense {
		t.size = s.size * 0.82
	}
	t.pad = t.size * 0.35
	t.measure(width)
	var out, heads []strip
	if b.Caption != "" {
		out = s.lines(s.face.wrap(Strong(b.Caption), t.size, width), t.size, 0, s.size*0.7, black, t.e.child("Caption"))
		for i := range out {
			out[i].keep = true
		}
	}
	for _, c := range b.Columns {
		if c.Title != "" {
			heads = t.heads(t.e.child("TR"))
			break
		}
	}
	again := t.heads(nil)
	out = append(out, heads...)
	for i, r := range b.Rows {
		if len(r) != len(b.Columns) {
			s.fail(fmt.Errorf("row %d of the table %q has %d cells for %d columns", i+1, b.Caption, len(r), len(b.Columns)))
			return nil
		}
		row := t.row(r, i == len(b.Rows)-1)
		if heads != nil {
			for j := range row {
				row[j].heads = again
			}
		}
		out = append(out, row...)
	}
	if len(out) > 0 && b.Caption == "" {
		out[0].before = s.size * 0.7
	}
	return out
}

// tableSetter sets one table.
type tableSetter struct {
	*setter
	table Table
	size  float64
	pad   float64
	x, w  []float64 // of the columns, with their padding
	width float64
	e     *element
}

func (t *tableSetter) measure(width float64) {
	total, x := 0.0, 0.0
	for _, c := range t.table.Columns {
		total += max(c.Width, 0) + btof(c.Width <= 0)
	}
	for _, c := range t.table.Columns {
		w := width * (max(c.Width, 0) + btof(c.Width <= 0)) / total
		t.x, t.w = append(t.x, x), append(t.w, w)
		x += w
	}
	t.width = width
}

// inner is the left and the width of the text of a column: the outer columns end with the table.
func (t *tableSetter) inner(i int) (x, w float64) {
	x, w = t.x[i], t.w[i]
	gap := t.size * 0.5
	if i > 0 {
		x, w = x+gap, w-gap
	}
	if i < len(t.w)-1 {
		w -= gap
	}
	return x, w
}

// heads sets the titles; with a nil row they are a repetition that is not read aloud.
func (t *tableSetter) heads(row *element) []strip {
	cells := make([][]line, len(t.table.Columns))
	owners := make([]*element, len(cells))
	n := 0
	for i, c := range t.table.Columns {
		_, w := t.inner(i)
		cells[i] = t.face.wrap(Strong(c.Title), t.size, w)
		n = max(n, len(cells[i]))
		if row != nil {
			owners[i] = row.child("TH")
			owners[i].scope = "Column"
		}
	}
	h := float64(n)*t.size*leading + 2*t.pad
	return []strip{{h: h, keep: true, draw: func(p *press, x, y float64) {
		t.cells(p, x, y+t.pad, cells, owners)
		p.marked(nil, func() { p.shape(stroke(x, y+h-0.4, x+t.width, y+h-0.4, 0.8, black)) })
	}}}
}

func (t *tableSetter) cells(p *press, x, y float64, cells [][]line, owners []*element) {
	for i, ls := range cells {
		cx, cw := t.inner(i)
		for j, l := range ls {
			at := x + cx
			switch t.table.Columns[i].Align {
			case Right:
				at += cw - l.w
			case Centre:
				at += (cw - l.w) / 2
			}
			p.line(owners[i], l, at, y+t.size*(ascent+float64(j)*leading), t.size, black)
		}
	}
}

// row sets one row in as many strips as its longest cell needs.
func (t *tableSetter) row(r []Text, last bool) []strip {
	tr := t.e.child("TR")
	cells := make([][]line, len(r))
	owners := make([]*element, len(r))
	n := 1
	for i, text := range r {
		_, w := t.inner(i)
		role := "TD"
		if t.table.RowHeads && i == 0 {
			role = "TH"
			text = Strong(text.String())
		}
		owners[i] = tr.child(role)
		if role == "TH" {
			owners[i].scope = "Row"
		}
		cells[i] = t.face.wrap(text, t.size, w)
		n = max(n, len(cells[i]))
	}
	var out []strip
	for from, to := 0, 0; from < n; from = to {
		to = cutCells(cells, from, n)
		part := make([][]line, len(cells))
		lines := 0
		for i, ls := range cells {
			part[i] = ls[min(from, len(ls)):min(to, len(ls))]
			lines = max(lines, len(part[i]))
		}
		first, end := from == 0, to >= n
		top, bottom := t.pad*btof(first), t.pad*btof(end)
		h := float64(lines)*t.size*leading + top + bottom
		out = append(out, strip{h: h, draw: func(p *press, x, y float64) {
			t.cells(p, x, y+top, part, owners)
			if end {
				ink := Ink{190, 190, 190}
				if last {
					ink = black
				}
				p.marked(nil, func() { p.shape(stroke(x, y+h-0.2, x+t.width, y+h-0.2, 0.4, ink)) })
			}
		}})
	}
	return out
}

// cutCells is where a row of n lines may be cut for the next page: after cellLines lines, or earlier where every cell ends a
// line of its own, so that a sentence is not torn when that can be helped.
func cutCells(cells [][]line, from, n int) int {
	most := min(from+cellLines, n)
	if most == n {
		return n
	}
	for to := most; to > from+cellLines/3; to-- {
		whole := true
		for _, ls := range cells {
			whole = whole && (to >= len(ls) || ls[to-1].ends)
		}
		if whole {
			return to
		}
	}
	return most
}
