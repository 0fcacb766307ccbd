package layout

import (
	"math"
	"slices"
)

// A sheet set in two columns from its first page to its last is told by its gutter: empty from the top of the columns to
// the bottom, in the middle of the page, with lines that begin flush on both sides, others indented, and fill their
// column here and there, at heights of their own. Labels with values, and tables, have their lines at the same height; rules under headings of
// a page of one column pass over the gutter. Pages with too little text to tell follow the other pages.

const (
	flush       = 3.0  // points by which lines of a column may begin apart
	fewestLeft  = 8    // printed lines on the left of a gutter
	fewestRight = 4    // and on its right
	offMiddle   = 0.08 // of the width of the text, how far the gutter may be from its middle
	columnFull  = 0.8  // of its column, what a full line takes
	mostIndent  = 0.15 // of its column, by how much a line may be indented
	sameHeight  = 0.4  // points by which words of one row differ in height at most
)

// template is where the two columns of a page begin, in the upright frame.
type template struct {
	left, right float64
	width       float64 // of the page
}

// gutter is the middle of the gutter; letters have edges of their own, so that lines begin a little before the column.
func (t template) gutter() float64 { return t.right - gutter/2 - 1.5 }

// fits tells whether pages of width w may have these columns.
func (t template) fits(w float64) bool { return t.right > t.left && math.Abs(t.width-w) < 1 }

// templatesOf finds the columns of each page: its own, else those of the nearest page of the same width.
func templatesOf(frames []frame, rows [][]entry, lines [][]printed) []template {
	own := make([]template, len(frames))
	for i, f := range frames {
		own[i] = templateOf(f, rows[i], lines[i])
	}
	out := slices.Clone(own)
	for i, f := range frames {
		for d := 1; out[i] == (template{}) && d < len(frames); d++ {
			for _, k := range []int{i - d, i + d} {
				if k >= 0 && k < len(own) && own[k].fits(f.width) {
					out[i] = own[k]
					break
				}
			}
		}
	}
	return out
}

// templateOf finds the columns of a page; the zero template when it has none, or not enough text to tell.
func templateOf(f frame, rows []entry, lines []printed) template {
	tried := map[int]bool{}
	best, most := template{}, 0
	x0, x1 := extent(lines, f.width)
	for _, l := range lines {
		for _, s := range l.segs {
			t := template{left: x0, right: s.x0, width: f.width}
			key := int(s.x0)
			if tried[key] || len(tried) > mostGutters || math.Abs(t.gutter()-(x0+x1)/2) > offMiddle*(x1-x0) {
				continue
			}
			tried[key] = true
			if from, to := t.run(f, rows, lines); to-from > most && t.evident(lines[from:to]) {
				best, most = t, to-from
			}
		}
	}
	return best
}

// extent is where the text of a page begins and ends; margins are taken as alike, since few lines may be full.
func extent(lines []printed, width float64) (x0, x1 float64) {
	x0 = width
	for _, l := range lines {
		x0, x1 = min(x0, l.x0()), max(x1, l.x1())
	}
	return x0, max(x1, width-x0)
}

// run is the longest run of lines that no word, row of a table or rule crosses at the gutter. Lines at its top and bottom
// whose right part does not begin with the column belong to the page, not to the columns.
func (t template) run(f frame, rows []entry, lines []printed) (from, to int) {
	start := 0
	for i := range len(lines) + 1 {
		stop := i == len(lines) || !free(lines[i], t.gutter())
		if stop || i > 0 && t.crossed(f, rows, lines[i-1].mid(), lines[i].mid()) {
			if i-start > to-from {
				from, to = start, i
			}
			start = i
			if stop {
				start++
			}
		}
	}
	for i := from; i < to; i++ {
		if x, ok := t.rightOf(lines[i]); ok {
			if near(x, t.right, t.right-t.left) {
				break
			}
			from = i + 1
		}
	}
	for to > from {
		x, ok := t.rightOf(lines[to-1])
		if !ok || near(x, t.right, t.right-t.left) {
			break
		}
		to--
	}
	return from, to
}

// crossed tells whether a rule or a row of a table passes over the gutter between two heights.
func (t template) crossed(f frame, rows []entry, y0, y1 float64) bool {
	x := t.gutter()
	for _, r := range f.across {
		if m := (r.Y0 + r.Y1) / 2; m > y0 && m < y1 && r.X0 < x-gutter && r.X1 > x+gutter {
			return true
		}
	}
	return slices.ContainsFunc(rows, func(r entry) bool {
		return r.y1 > y0 && r.y0 < y1 && r.x0 < x-gutter && r.x1 > x+gutter
	})
}

// rightOf is where the part of a line on the right of the gutter begins.
func (t template) rightOf(l printed) (float64, bool) {
	for _, s := range l.segs {
		if s.x0 > t.gutter() {
			return s.x0, true
		}
	}
	return 0, false
}

// evident tells whether the lines are two columns beyond doubt.
func (t template) evident(lines []printed) bool {
	var left, right sideways
	level := 0
	for _, l := range lines {
		n := 0
		for n < len(l.segs) && l.segs[n].x0 < t.gutter() {
			n++
		}
		left.see(l.segs[:n], t.left, t.right-t.left)
		right.see(l.segs[n:], t.right, t.right-t.left)
		if n > 0 && n < len(l.segs) && math.Abs(l.segs[0].tokens[0].mid()-l.segs[n].tokens[0].mid()) < sameHeight {
			level++
		}
	}
	return left.lines >= fewestLeft && right.lines >= fewestRight && left.isColumn() && right.isColumn() &&
		4*level <= 3*min(left.lines, right.lines)
}

// follows tells whether lines on the right of the gutter, with too little text to tell, begin where the column does.
func (t template) follows(lines []printed) bool {
	var right sideways
	for _, l := range lines {
		for i, s := range l.segs {
			if s.x0 > t.gutter() {
				right.see(l.segs[i:], t.right, t.right-t.left)
				break
			}
		}
	}
	return right.lines > 0 && 4*right.near >= 3*right.lines
}

// sideways counts what the lines of a column are like.
type sideways struct {
	lines, near, flush, full, one int
}

// near tells whether a line that begins at x may belong to a column that begins at x0, perhaps indented.
func near(x, x0, width float64) bool { return x > x0-flush && x < x0+mostIndent*width }

func (c *sideways) see(segs []seg, x0, width float64) {
	if len(segs) == 0 {
		return
	}
	c.lines++
	if near(segs[0].x0, x0, width) {
		c.near++
	}
	if math.Abs(segs[0].x0-x0) < flush {
		c.flush++
	}
	if segs[len(segs)-1].x1 > x0+columnFull*width {
		c.full++
	}
	if len(segs) == 1 {
		c.one++
	}
}

func (c sideways) isColumn() bool {
	return 4*c.flush >= c.lines && 4*c.one >= 3*c.lines && c.full >= 2
}
