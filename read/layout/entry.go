package layout

import (
	"slices"

	"sixteen/sheet"
)

// entry is a Line in the making: a printed line, or a row of a table with its cells wrapped over printed lines.
type entry struct {
	parts  []part
	x0, x1 float64
	y0, y1 float64
	column int
	table  *tableDraft // nil outside of tables
}

// part is a cell in the making: the segments of its printed lines, top down.
type part struct {
	segs            []seg
	col, span, down int
}

// tableDraft is a Table in the making.
type tableDraft struct {
	box   sheet.Rect // upright frame
	ruled bool
	xs    []float64 // left edges of the columns
}

func (e *entry) add(col, span, down int, l printed, s seg) {
	if len(e.parts) == 0 {
		e.x0, e.x1, e.y0, e.y1 = s.x0, s.x1, l.y0, l.y1
	}
	e.x0, e.x1, e.y0, e.y1 = min(e.x0, s.x0), max(e.x1, s.x1), min(e.y0, l.y0), max(e.y1, l.y1)
	for i := range e.parts {
		if e.parts[i].col == col {
			e.parts[i].segs = append(e.parts[i].segs, s)
			e.parts[i].span = max(e.parts[i].span, span)
			return
		}
	}
	e.parts = append(e.parts, part{[]seg{s}, col, span, down})
	slices.SortFunc(e.parts, func(a, b part) int { return a.col - b.col })
}

// plain makes an entry of a printed line outside of tables.
func plain(l printed) entry {
	e := entry{x0: l.x0(), x1: l.x1(), y0: l.y0, y1: l.y1}
	for i, s := range l.segs {
		e.parts = append(e.parts, part{[]seg{s}, i, 1, 1})
	}
	return e
}

// ruled takes the tables drawn with rules out of the printed lines of a frame.
func ruled(f frame, lines []printed) (rows []entry, rest []printed) {
	for _, g := range grids(f) {
		var more []entry
		more, lines = ruledTable(g, lines)
		rows = append(rows, more...)
	}
	return rows, lines
}

// stretch is a part of a page that is read from top to bottom: ruled rows and printed lines of one column.
type stretch struct {
	column int
	rows   []entry
	lines  []printed
}

// entries makes up the tables that are only aligned and merges all by height.
func (s stretch) entries(f frame) []entry {
	rows := slices.Clone(s.rows)
	slices.SortStableFunc(rows, func(a, b entry) int { return compareFloat(a.y0, b.y0) })
	var out []entry
	lines := s.lines
	for _, r := range rows {
		n := 0
		for n < len(lines) && lines[n].mid() < (r.y0+min(r.y1, r.y0+12))/2 {
			n++
		}
		out = append(out, alignedTables(lines[:n], f.across)...)
		out = append(out, r)
		lines = lines[n:]
	}
	out = append(out, alignedTables(lines, f.across)...)
	for i := range out {
		out[i].column = s.column
	}
	return out
}
