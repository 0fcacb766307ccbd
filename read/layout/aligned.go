package layout

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sixteen/sheet"
)

// track is a column of a table without rules: the extent of its cells.
type track struct {
	x0, x1 float64
}

// region is a run of printed lines whose segments stand in the same tracks.
type region struct {
	lines  []printed
	tracks []track
	bands  []int // band of each line: horizontal rules or empty height part the bands
	ruled  int   // how many of them rules part
	wide   int   // lines with three segments or more
}

// alignedTables makes entries of lines in order, with tables where segments are aligned in three columns or more, or in
// two with rules between the rows.
func alignedTables(lines []printed, across []sheet.Rect) []entry {
	var out []entry
	for i := 0; i < len(lines); {
		if len(lines[i].segs) > 1 {
			if r := regionFrom(lines[i:], across); r.isTable() {
				if cut := r.cutAtTracks(); cut != nil {
					r = regionFrom(append(cut, lines[i+len(r.lines):]...), across)
				}
				out = append(out, r.rows()...)
				i += len(r.lines)
				continue
			}
		}
		out = append(out, plain(lines[i]))
		i++
	}
	return out
}

// mostRows bounds a table without rules on one page.
const mostRows = 300

// regionFrom takes lines into a region as long as they fit.
func regionFrom(lines []printed, across []sheet.Rect) region {
	var r region
	band := 0
	for i, l := range lines[:min(len(lines), mostRows)] {
		if i > 0 {
			last := lines[i-1]
			parted := ruleAcross(last, l, across)
			gap := l.y0 - last.y1
			if gap > 1.6*max(l.size, last.size) && !(parted && gap < 4*l.size) {
				break
			}
			if parted || gap > 0.9*max(l.size, last.size) {
				band++
			}
			if parted {
				r.ruled++
			}
		}
		if !r.take(l, i == 0) {
			break
		}
		r.bands = append(r.bands, band)
	}
	// A table does not end with a lone line that only follows it.
	for n := len(r.lines); n > 1 && len(r.lines[n-1].segs) == 1 && r.trailing(); n = len(r.lines) {
		r.lines, r.bands = r.lines[:n-1], r.bands[:n-1]
	}
	return r
}

// trailing tells whether the last line, of one segment, begins at the left edge, unlike a wrapped cell further right, and
// could as well be text after the table.
func (r *region) trailing() bool {
	n := len(r.lines)
	s := r.lines[n-1].segs[0]
	return r.tracksOf(s) == 0 && len(s.tokens) > 3 || r.bands[n-1] != r.bands[n-2]
}

// take adds a line when its segments fit the tracks.
func (r *region) take(l printed, first bool) bool {
	if first {
		for _, s := range l.segs {
			r.tracks = append(r.tracks, track{s.x0, s.x1})
		}
	} else if !r.fits(l) {
		return false
	} else {
		r.widen(l)
	}
	r.lines = append(r.lines, l)
	if len(l.segs) > 2 {
		r.wide++
	}
	return true
}

// fits tells whether each segment stands in a track, or in a free place between two.
func (r *region) fits(l printed) bool {
	if len(l.segs) == 1 {
		s := l.segs[0]
		a, b := r.covered(s)
		return b-a == 1 && s.x1-s.x0 < 0.62*(r.tracks[len(r.tracks)-1].x1-r.tracks[0].x0)
	}
	taken := -1
	for _, s := range l.segs {
		a, b := r.covered(s)
		if b-a > 1 && len(r.lines) > 2 && r.tracksOf(s) < 0 {
			return false
		}
		if k := r.tracksOf(s); k >= 0 {
			a = k
		}
		if b > a && a <= taken {
			return false
		}
		taken = max(taken, a)
	}
	return true
}

// covered is the range of tracks that a segment overlaps; empty when it stands between tracks.
func (r *region) covered(s seg) (from, to int) {
	for from < len(r.tracks) && r.tracks[from].x1 <= s.x0 {
		from++
	}
	to = from
	for to < len(r.tracks) && r.tracks[to].x0 < s.x1 {
		to++
	}
	return from, to
}

// tracksOf is the one track a segment belongs to: the one it begins with, else the only one it overlaps; else -1.
func (r *region) tracksOf(s seg) int {
	for i, t := range r.tracks {
		if d := s.x0 - t.x0; d > -4 && d < 4 {
			return i
		}
	}
	if a, b := r.covered(s); b-a == 1 {
		return a
	}
	return -1
}

// widen takes the segments of a line into the tracks, opening new ones in free places.
func (r *region) widen(l printed) {
	for _, s := range l.segs {
		a, b := r.covered(s)
		switch k := r.tracksOf(s); {
		case a == b:
			r.tracks = slices.Insert(r.tracks, a, track{s.x0, s.x1})
		case k >= 0:
			t := &r.tracks[k]
			t.x0 = min(t.x0, s.x0)
			limit := s.x1
			if k+1 < len(r.tracks) {
				limit = min(limit, r.tracks[k+1].x0-0.1)
			}
			if k > 0 {
				t.x0 = max(t.x0, r.tracks[k-1].x1+0.1)
			}
			t.x1 = max(t.x1, limit)
		}
	}
}

// isTable tells whether the region is more than lines with a gap.
func (r *region) isTable() bool {
	if len(r.lines) < 2 || len(r.tracks) < 2 {
		return false
	}
	if r.wide >= 2 && len(r.tracks) > 2 {
		return true
	}
	return r.ruled >= 2 && r.inBands()
}

// inBands tells whether at least three bands hold one line with two cells each, and no band more.
func (r *region) inBands() bool {
	bands := map[int]int{}
	for i, l := range r.lines {
		if len(l.segs) > 1 {
			bands[r.bands[i]]++
		} else if r.tracksOf(l.segs[0]) == 0 && bands[r.bands[i]] > 0 && l.size > 0 && i > 0 && l.y0-r.lines[i-1].y1 > 0.5*l.size {
			return false
		}
	}
	for _, n := range bands {
		if n > 1 {
			return false
		}
	}
	return len(bands) >= 3 && r.ruled >= len(bands)-1
}

// rows makes up the rows of the table.
func (r *region) rows() []entry {
	draft := &tableDraft{}
	for _, t := range r.tracks {
		draft.xs = append(draft.xs, t.x0)
	}
	first, last := r.lines[0], r.lines[len(r.lines)-1]
	draft.box = sheet.Rect{X0: r.tracks[0].x0, Y0: first.y0, X1: r.tracks[len(r.tracks)-1].x1, Y1: last.y1}
	var out []entry
	for from := 0; from < len(r.lines); {
		to := from + 1
		for to < len(r.lines) && r.bands[to] == r.bands[from] {
			to++
		}
		rowOf := r.rowsOfBand(from, to)
		base := len(out)
		for i := from; i < to; i++ {
			for base+rowOf[i-from] >= len(out) {
				out = append(out, entry{table: draft})
			}
			e := &out[base+rowOf[i-from]]
			for _, s := range r.lines[i].segs {
				col, span := r.place(s)
				e.add(col, span, 1, r.lines[i], s)
			}
		}
		from = to
	}
	return out
}

// place is the column and span of a segment.
func (r *region) place(s seg) (col, span int) {
	a, b := r.covered(s)
	if k := r.tracksOf(s); k >= 0 {
		if b-k > 1 && r.tracks[k+1].x0 < s.x1-0.4*(s.x1-s.x0) {
			return k, b - k
		}
		return k, 1
	}
	return min(a, len(r.tracks)-1), max(b-a, 1)
}

// rowsOfBand gives each of the lines from up to to of one band the number of its row, from 0. Lines with most of the
// columns begin a row; a line with fewer belongs to the row it is nearer to, to the upper one when in doubt.
func (r *region) rowsOfBand(from, to int) []int {
	rowOf := make([]int, to-from)
	var starts []int
	for i := from; i < to; i++ {
		if r.begins(i, from, to, starts) {
			starts = append(starts, i)
		}
	}
	if len(starts) < 2 {
		return rowOf
	}
	row := 0
	for i := from; i < to; i++ {
		switch {
		case row+1 < len(starts) && i == starts[row+1]:
			row++
		case row+1 < len(starts) && i > starts[row] && i < starts[row+1] && (r.belongsBelow(i, starts[row+1]) || r.goesOnBelow(i, starts[row+1])):
			rowOf[i-from] = row + 1
			continue
		}
		rowOf[i-from] = row
	}
	return rowOf
}

// begins tells whether line i of the band from up to to begins a row, given the lines that begin rows above it.
func (r *region) begins(i, from, to int, starts []int) bool {
	l := r.lines[i]
	if len(starts) == 0 {
		return r.full(l)
	}
	last := starts[len(starts)-1]
	if r.full(l) || len(l.segs) > 1 && r.tracksOf(l.segs[0]) == 0 {
		return len(l.segs) == len(r.tracks) || !r.wrapped(i, last)
	}
	if r.newKey(i, last) {
		return true
	}
	return !r.overlaps(i, i-1) && r.cluster(i, to)
}

// newKey tells whether line i has only a first cell, which is no wrapped part of the one above because a line without
// lies between.
func (r *region) newKey(i, last int) bool {
	l := r.lines[i]
	if len(l.segs) != 1 || r.tracksOf(l.segs[0]) != 0 || i == last || r.overlaps(i, i-1) {
		return false
	}
	if _, ok := r.above(i, i-1, 0); ok {
		return false
	}
	_, has := r.above(i, last, 0)
	return has
}

// overlaps tells whether lines i and j are nearer than printed lines of one cell can be.
func (r *region) overlaps(i, j int) bool {
	d := r.lines[i].mid() - r.lines[j].mid()
	return max(d, -d) < 0.8*max(r.lines[i].size, r.lines[j].size)
}

// cluster tells whether line i begins a row whose cells are centred in height against each other: the lines from i on
// overlap, have two columns between them, and none of them begins a row by itself.
func (r *region) cluster(i, to int) bool {
	columns := map[int]bool{}
	if i+1 >= to || !r.overlaps(i+1, i) {
		return false
	}
	for j := i; j < to && (j == i || r.overlaps(j, j-1)); j++ {
		if r.full(r.lines[j]) {
			return false
		}
		for _, s := range r.lines[j].segs {
			columns[r.tracksOf(s)] = true
		}
	}
	return len(columns) > 1
}

// wrapped tells whether line i is the rest of cells wrapped from the lines above, back to line from. A first cell that
// goes on below one with no room for its first word is a sign of that, unless the line has most of the columns; so are
// cells that go on in the middle of a sentence where none had room.
func (r *region) wrapped(i, from int) bool {
	goesOn := false
	for _, s := range r.lines[i].segs {
		k := r.tracksOf(s)
		if k < 0 {
			return false
		}
		above, ok := r.above(i, from, k)
		if !ok {
			continue
		}
		first, last := s.tokens[0], above.tokens[len(above.tokens)-1]
		sign := midSentence(last.Text, first.Text)
		room := above.x1+0.3*first.Size+first.up.X1-first.up.X0 < r.tracks[k].x1
		switch {
		case k == 0 && strings.HasSuffix(last.Text, ":"), room && !(k == 0 && sign):
			return false
		case k == 0 && !r.full(r.lines[i]):
			return true
		}
		goesOn = goesOn || sign
	}
	return goesOn
}

// midSentence tells whether a line that ends in a and goes on with b is no end and beginning of something.
func midSentence(a, b string) bool {
	last, _ := utf8.DecodeLastRuneInString(a)
	first, _ := utf8.DecodeRuneInString(b)
	return strings.ContainsRune(",-/(:&+", last) || unicode.IsLower(first) || first == '(' || first == ')'
}

// above finds the segment in track k on the nearest line above line i, not above line from.
func (r *region) above(i, from, k int) (seg, bool) {
	for j := i - 1; j >= from; j-- {
		for _, s := range r.lines[j].segs {
			if r.tracksOf(s) == k {
				return s, true
			}
		}
	}
	return seg{}, false
}

// belongsBelow tells whether the lines from i on stand nearer to the line next than to the one before i.
func (r *region) belongsBelow(i, next int) bool {
	const clearly = 1.5 // points
	above := r.lines[i].mid() - r.lines[i-1].mid()
	for ; i < next; i++ {
		if r.lines[i+1].mid()-r.lines[i].mid() > above-clearly {
			return false
		}
	}
	return true
}

// goesOnBelow tells whether line i holds nothing but the first lines of a first cell that goes on in the row beginning at line
// next: it breaks off behind a comma or hyphen and the row begins with a small letter.
func (r *region) goesOnBelow(i, next int) bool {
	for ; i < next; i++ {
		l, below := r.lines[i], r.lines[i+1]
		if len(l.segs) != 1 || r.tracksOf(l.segs[0]) != 0 || r.tracksOf(below.segs[0]) != 0 {
			return false
		}
		words := l.segs[0].tokens
		last := words[len(words)-1].Text
		first, _ := utf8.DecodeRuneInString(below.segs[0].tokens[0].Text)
		if !strings.HasSuffix(last, ",") && !strings.HasSuffix(last, "-") || !unicode.IsLower(first) {
			return false
		}
	}
	return true
}

// full tells whether a line has enough cells to begin a row: most of the columns, or two without the first, as where a
// second value follows for the same name.
func (r *region) full(l printed) bool {
	n := len(l.segs)
	if k := r.tracksOf(l.segs[0]); k > 0 && n >= 2 {
		return true
	}
	return n >= 2 && 10*n >= 6*len(r.tracks)
}

// ruleAcross tells whether a horizontal rule lies between two lines over most of their common width.
func ruleAcross(above, below printed, across []sheet.Rect) bool {
	x0, x1 := min(above.x0(), below.x0()), max(above.x1(), below.x1())
	for _, h := range across {
		if y := (h.Y0 + h.Y1) / 2; y > above.mid() && y < below.mid() && min(h.X1, x1)-max(h.X0, x0) > 0.8*(x1-x0) {
			return true
		}
	}
	return false
}

// cutAtTracks divides segments in which a word begins where a column does: at the start of a track, or where many lines
// have a word behind a gap wider than a blank. It returns the new lines, or nil when there is nothing to divide.
func (r *region) cutAtTracks() []printed {
	var starts []float64
	for _, t := range r.tracks {
		starts = append(starts, t.x0)
	}
	starts = append(starts, r.commonStarts()...)
	var out []printed
	for i, l := range r.lines {
		for k, s := range l.segs {
			for j := 1; j < len(s.tokens); j++ {
				if !beginsColumn(s.tokens[j-1], s.tokens[j], starts) {
					continue
				}
				if out == nil {
					out = slices.Clone(r.lines)
				}
				segs := slices.Clone(l.segs)
				segs[k] = newSeg(s.tokens[:j:j])
				out[i].segs = slices.Insert(segs, k+1, newSeg(s.tokens[j:]))
				break
			}
			if out != nil && len(out[i].segs) > len(l.segs) {
				break
			}
		}
	}
	return out
}

const (
	columnGap = 0.45 // font sizes: a gap wider than a blank
	sameStart = 1.5  // points
)

// beginsColumn tells whether word b, behind a, begins at one of starts.
func beginsColumn(a, b token, starts []float64) bool {
	if b.up.X0-a.up.X1 < columnGap*max(b.Size, 4) {
		return false
	}
	return slices.ContainsFunc(starts, func(x float64) bool { return x-sameStart < b.up.X0 && b.up.X0 < x+sameStart })
}

// commonStarts are places inside segments at which words begin behind a wide gap in at least three lines, and in most.
func (r *region) commonStarts() []float64 {
	var xs []float64
	for _, l := range r.lines {
		for _, s := range l.segs {
			for j := 1; j < len(s.tokens); j++ {
				if s.tokens[j].up.X0-s.tokens[j-1].up.X1 >= columnGap*max(s.tokens[j].Size, 4) {
					xs = append(xs, s.tokens[j].up.X0)
				}
			}
		}
	}
	slices.Sort(xs)
	var out []float64
	for i := 0; i < len(xs); {
		j := i
		for j < len(xs) && xs[j]-xs[i] < sameStart {
			j++
		}
		if j-i >= 3 && 2*(j-i) > len(r.lines) {
			out = append(out, xs[i])
		}
		i = j
	}
	return out
}
