package layout

import (
	"slices"
	"unicode/utf8"
)

// longCell is the number of printed lines from which on a cell of a table of two columns holds running text, whose
// lines are worth keeping apart.
const longCell = 6

// ruledTable takes the words that stand in the cells of a grid out of the lines and makes rows of them. What stands over
// the whole width of the grid stays with the lines.
func ruledTable(g grid, lines []printed) (rows []entry, rest []printed) {
	fields := g.fields()
	where := make([][]int, len(g.ys)-1)
	for r := range where {
		where[r] = make([]int, len(g.xs)-1)
	}
	for i, f := range fields {
		for r := f.r; r < f.r+f.down; r++ {
			for c := f.c; c < f.c+f.span; c++ {
				where[r][c] = i
			}
		}
	}
	inside := make([][]printed, len(fields)) // printed lines per field
	for _, l := range lines {
		if l.y1 < g.box.Y0 || l.y0 > g.box.Y1 {
			rest = append(rest, l)
			continue
		}
		outside := l
		outside.segs = nil
		for _, s := range l.segs {
			for _, piece := range cutAt(s, g, where) {
				if piece.field < 0 {
					outside.segs = append(outside.segs, piece.seg)
					continue
				}
				inside[piece.field] = appendSeg(inside[piece.field], l, piece.seg)
			}
		}
		if len(outside.segs) > 0 {
			rest = append(rest, outside)
		}
	}
	cells := make([][]int, len(where)) // of each row, the fields with text that begin there
	first, last := len(g.xs), 0        // columns that the rows with several cells take
	for r := range where {
		for c := 0; c < len(g.xs)-1; c++ {
			if i := where[r][c]; fields[i].r == r && fields[i].c == c && len(inside[i]) > 0 {
				cells[r] = append(cells[r], i)
			}
		}
		if n := len(cells[r]); n > 1 {
			first, last = min(first, fields[cells[r][0]].c), max(last, fields[cells[r][n-1]].c+fields[cells[r][n-1]].span)
		}
	}
	draft := &tableDraft{box: g.box, ruled: true, xs: g.xs[min(first, last):last]}
	for r := range cells {
		if flowing(cells[r], inside, fields, first, last) {
			for _, i := range cells[r] {
				rest = mergeLines(rest, inside[i])
			}
			continue
		}
		rows = append(rows, gridRows(draft, cells[r], fields, inside, first)...)
	}
	return rows, rest
}

// flowing tells whether the cells of a row are better read as lines than as cells: one alone over the whole table (its
// columns first up to last), or a label with long text.
func flowing(cells []int, inside [][]printed, fields []field, first, last int) bool {
	longest := 0
	for _, i := range cells {
		longest = max(longest, len(inside[i]))
	}
	if len(cells) == 1 {
		f := fields[cells[0]]
		return longest >= longCell || f.c <= first && f.c+f.span >= last || f.c+f.span <= first || f.c >= last
	}
	return len(cells) == 2 && longest >= longCell
}

// gridRows makes one entry of a row of the grid, or several where records stand in it one below the other.
func gridRows(draft *tableDraft, cells []int, fields []field, inside [][]printed, first int) []entry {
	starts := recordStarts(cells, inside)
	out := make([]entry, max(len(starts), 1))
	for i := range out {
		out[i].table = draft
	}
	for _, i := range cells {
		for _, l := range inside[i] {
			k := 0
			for k+1 < len(starts) && l.mid() > starts[k+1]-0.5*l.size {
				k++
			}
			for _, s := range l.segs {
				out[k].add(max(fields[i].c-first, 0), fields[i].span, fields[i].down, l, s)
			}
		}
	}
	return slices.DeleteFunc(out, func(e entry) bool { return len(e.parts) == 0 })
}

// recordStarts finds the heights at which records begin in one row of a grid: nearly all of its cells have a line there,
// again and again. nil when the row is one record.
func recordStarts(cells []int, inside [][]printed) []float64 {
	if len(cells) < 2 {
		return nil
	}
	var starts []float64
	for _, l := range inside[cells[0]] {
		n, short := 0, true
		for _, i := range cells {
			j := slices.IndexFunc(inside[i], func(o printed) bool { return o.mid() > l.mid()-0.4*l.size && o.mid() < l.mid()+0.4*l.size })
			if j >= 0 {
				n++
				short = short && (i == cells[0] || utf8.RuneCountInString(inside[i][j].segs[0].text()) <= 14)
			}
		}
		if n == len(cells) && (len(cells) > 2 || short) {
			starts = append(starts, l.mid())
		}
	}
	if len(starts) < 2 || len(cells) == 2 && len(starts) < 3 {
		return nil
	}
	return starts
}

// piece is a part of a segment that stands in one field, -1 for none.
type piece struct {
	seg   seg
	field int
}

// cutAt divides a segment where its words stand in different fields of the grid.
func cutAt(s seg, g grid, where [][]int) []piece {
	var out []piece
	for i, t := range s.tokens {
		field := -1
		if r, c := at(g.ys, t.mid()), at(g.xs, t.center()); r >= 0 && c >= 0 {
			field = where[r][c]
		}
		if n := len(out); n == 0 || out[n-1].field != field {
			out = append(out, piece{seg{tokens: s.tokens[i : i : i+1]}, field})
		}
		p := &out[len(out)-1]
		p.seg.tokens = append(p.seg.tokens, t)
	}
	for i := range out {
		out[i].seg = newSeg(out[i].seg.tokens)
	}
	return out
}

// appendSeg adds a segment of line l to the lines of a field.
func appendSeg(lines []printed, l printed, s seg) []printed {
	if n := len(lines); n > 0 && lines[n-1].y0 == l.y0 && lines[n-1].y1 == l.y1 {
		lines[n-1].segs = append(lines[n-1].segs, s)
		return lines
	}
	l.segs = []seg{s}
	return append(lines, l)
}

// mergeLines puts more lines into lines, keeping the order from the top; those at one height become one line.
func mergeLines(lines, more []printed) []printed {
	for _, m := range more {
		i := len(lines)
		for i > 0 && lines[i-1].mid() > m.mid()-0.4*m.size {
			i--
		}
		if i < len(lines) && lines[i].mid() < m.mid()+0.4*m.size {
			l := &lines[i]
			l.segs = append(slices.Clone(l.segs), m.segs...)
			slices.SortFunc(l.segs, func(a, b seg) int { return compareFloat(a.x0, b.x0) })
			l.y0, l.y1 = min(l.y0, m.y0), max(l.y1, m.y1)
			continue
		}
		lines = slices.Insert(lines, i, m)
	}
	return lines
}
