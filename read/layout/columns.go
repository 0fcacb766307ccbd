package layout

import (
	"slices"
)

// Columns of running text, side by side, are told from labels with their values by what is left of the gutter: columns
// are of like width and number of lines, and their lines fill them; labels are short and few.

const (
	columnLines = 8    // printed lines that a column must have
	columnFill  = 0.55 // how far its lines fill it, in the median
	columnWords = 4    // words of its lines, in the median
	gutter      = 8.0  // points that must be empty
	mostGutters = 300  // places tried
)

// columns divides a page into stretches in reading order.
func columns(rows []entry, lines []printed, f frame) []stretch {
	from, to, x := findColumns(lines)
	if to-from < columnLines {
		return []stretch{{rows: rows, lines: lines}}
	}
	return dividedAt(rows, lines, f, from, to, x, func(rows []entry, lines []printed) []stretch { return columns(rows, lines, f) })
}

// pageColumns divides a page at the gutter of the sheet, where it has one and the page is no exception, else at gutters of
// its own.
func pageColumns(rows []entry, lines []printed, f frame, t template) []stretch {
	if t.fits(f.width) {
		if from, to := t.run(f, rows, lines); to > from && t.follows(lines[from:to]) {
			return dividedAt(rows, lines, f, from, to, t.gutter(), func(rows []entry, lines []printed) []stretch { return furtherColumns(rows, lines, f, t) })
		}
	}
	return columns(rows, lines, f)
}

// furtherColumns divides what stands above or below columns, parted from them by a heading over the whole width, at the
// same gutter when it is columns too.
func furtherColumns(rows []entry, lines []printed, f frame, t template) []stretch {
	if from, to := t.run(f, rows, lines); to > from && t.evident(lines[from:to]) {
		return dividedAt(rows, lines, f, from, to, t.gutter(), func(rows []entry, lines []printed) []stretch { return furtherColumns(rows, lines, f, t) })
	}
	return columns(rows, lines, f)
}

// dividedAt makes stretches of a page whose lines from up to to stand on both sides of x. Rest divides what stands above
// and below them.
func dividedAt(rows []entry, lines []printed, f frame, from, to int, x float64, rest func([]entry, []printed) []stretch) []stretch {
	top, bottom := lines[from].y0, lines[to-1].y1
	var above, below, left, right stretch
	right.column = 1
	for _, r := range rows {
		switch m := (r.y0 + r.y1) / 2; {
		case m < top:
			above.rows = append(above.rows, r)
		case m > bottom:
			below.rows = append(below.rows, r)
		case (r.x0+r.x1)/2 < x:
			left.rows = append(left.rows, r)
		default:
			right.rows = append(right.rows, r)
		}
	}
	above.lines, below.lines = lines[:from], lines[to:]
	for _, l := range lines[from:to] {
		a, b := l, l
		n := 0
		for n < len(l.segs) && l.segs[n].x1 < x+gutter/2 && l.segs[n].x0 < x {
			n++
		}
		a.segs, b.segs = l.segs[:n], l.segs[n:]
		if n > 0 {
			left.lines = append(left.lines, a)
		}
		if n < len(l.segs) {
			right.lines = append(right.lines, b)
		}
	}
	out := []stretch{left}
	// The right side may itself be divided.
	for _, s := range columns(right.rows, right.lines, f) {
		s.column++
		out = append(out, s)
	}
	if len(above.lines)+len(above.rows) > 0 {
		out = slices.Insert(out, 0, rest(above.rows, above.lines)...)
	}
	if len(below.lines)+len(below.rows) > 0 {
		out = append(out, rest(below.rows, below.lines)...)
	}
	return out
}

// findColumns finds the longest run of lines with an empty gutter at x and running text on both sides.
func findColumns(lines []printed) (from, to int, x float64) {
	if len(lines) < columnLines {
		return 0, 0, 0
	}
	tried := map[int]bool{}
	for _, l := range lines {
		for i := 1; i < len(l.segs); i++ {
			g := l.segs[i].x0 - gutter/2 - 0.5
			key := int(g / 3)
			if tried[key] || len(tried) > mostGutters {
				continue
			}
			tried[key] = true
			if a, b := gutterRun(lines, g); b-a > to-from && b-a >= columnLines && isColumns(lines[a:b], g) {
				from, to, x = a, b, g
			}
		}
	}
	return from, to, x
}

// gutterRun is the longest run of lines that leave the gutter at x free and begins and ends with lines on both sides.
func gutterRun(lines []printed, x float64) (from, to int) {
	start := -1
	for i := 0; i <= len(lines); i++ {
		if i < len(lines) && free(lines[i], x) {
			if start < 0 {
				start = i
			}
			continue
		}
		if start >= 0 && i-start > to-from {
			from, to = start, i
		}
		start = -1
	}
	return from, to
}

// free tells whether no word of the line is in the gutter at x.
func free(l printed, x float64) bool {
	for _, s := range l.segs {
		if s.x0 < x+gutter/2 && s.x1 > x-gutter/2 {
			return false
		}
	}
	return true
}

// isColumns tells whether both sides of x hold running text.
func isColumns(lines []printed, x float64) bool {
	var left, right side
	for _, l := range lines {
		var a, b []seg
		for _, s := range l.segs {
			if s.x1 < x {
				a = append(a, s)
			} else {
				b = append(b, s)
			}
		}
		left.see(a)
		right.see(b)
	}
	return left.runs() && right.runs() && alike(len(left.widths), len(right.widths)) && alike(left.x1-left.x0, right.x1-right.x0)
}

// alike tells whether the smaller of two is not much smaller than the other.
func alike[T int | float64](a, b T) bool { return 10*min(a, b) >= 6*max(a, b) }

// side gathers what the lines on one side of a gutter are like.
type side struct {
	x0, x1 float64
	widths []float64
	words  []float64
	one    int // lines of one segment
}

func (s *side) see(segs []seg) {
	if len(segs) == 0 {
		return
	}
	x0, x1, words := segs[0].x0, segs[len(segs)-1].x1, 0
	for _, g := range segs {
		words += len(g.tokens)
	}
	if len(s.widths) == 0 {
		s.x0, s.x1 = x0, x1
	}
	if len(segs) == 1 {
		s.one++
	}
	s.x0, s.x1 = min(s.x0, x0), max(s.x1, x1)
	s.widths, s.words = append(s.widths, x1-x0), append(s.words, float64(words))
}

// runs tells whether the lines are running text.
func (s *side) runs() bool {
	if len(s.widths) < columnLines {
		return false
	}
	slices.Sort(s.widths)
	slices.Sort(s.words)
	n := len(s.widths)
	return 4*s.one >= 3*n && s.widths[n/2] > columnFill*(s.x1-s.x0) && s.words[n/2] >= columnWords && s.x1-s.x0 > 100
}
