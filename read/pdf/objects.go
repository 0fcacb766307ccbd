package pdf

import (
	"math"
	"slices"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Kinds of page objects, fpdf_edit.h.
const (
	objectPath  = 2
	objectImage = 3
	objectForm  = 5
)

// Bounds on what is looked at, so that a page of a million strokes costs no more than a usual one.
const (
	mostObjects  = 20000
	mostSegments = 2000 // of one path
	mostDepth    = 6    // of forms within forms
)

// drawn collects what a page draws besides text.
type drawn struct {
	in       *instance
	g        geometry
	objects  int
	lines    []page.Rule
	pictures []sheet.Rect
	shapes   []sheet.Rect // paths that are neither lines nor upright boxes
	diamonds []sheet.Rect // shapes about as wide as high, each a picture by itself
}

func (d *Document) readObjects(handle uint64, g geometry) *drawn {
	w := &drawn{in: d.in, g: g}
	n := w.in.int("FPDFPage_CountObjects", handle)
	get := w.in.function("FPDFPage_GetObject")
	for i := 0; i < n && w.objects < mostObjects && w.in.failed == nil; i++ {
		w.object(w.in.invoke(get, handle, uint64(i)), identity, 0)
	}
	return w
}

// object takes in one page object; m maps its space to user space.
func (w *drawn) object(object uint64, m matrix, depth int) {
	w.objects++
	switch w.in.int("FPDFPageObj_GetType", object) {
	case objectPath:
		w.path(object, m)
	case objectImage:
		if b := w.bounds(object, m); w.g.visible(b) {
			w.pictures = append(w.pictures, b)
		}
	case objectForm:
		if depth == mostDepth {
			return
		}
		m = w.matrixOf(object).then(m)
		n := w.in.int("FPDFFormObj_CountObjects", object)
		for i := 0; i < n && w.objects < mostObjects && w.in.failed == nil; i++ {
			w.object(w.in.call("FPDFFormObj_GetObject", object, uint64(i)), m, depth+1)
		}
	}
}

func (w *drawn) matrixOf(object uint64) matrix {
	if w.in.int("FPDFPageObj_GetMatrix", object, w.in.out(0)) == 0 {
		return identity
	}
	var m matrix
	w.in.outFloats(m[:])
	return m
}

func (w *drawn) bounds(object uint64, m matrix) sheet.Rect {
	in := w.in
	in.call("FPDFPageObj_GetBounds", object, in.scratch, in.scratch+4, in.scratch+8, in.scratch+12) // left, bottom, right, top
	var b [4]float64
	in.outFloats(b[:])
	return w.g.rect(m.rect(b[0], b[1], b[2], b[3]))
}

// Thickness up to which a box is a line, and size up to which a drawing can be a pictogram, in points.
const (
	lineThickness = 3.2
	shapeSize     = 130
)

// path takes in a path: as lines, or as a part of a drawing.
func (w *drawn) path(object uint64, m matrix) {
	in := w.in
	b := w.bounds(object, m)
	if !w.g.visible(b) {
		return
	}
	in.call("FPDFPath_GetDrawMode", object, in.scratch, in.scratch+4)
	mode, _ := in.memory.ReadUint64Le(uint32(in.scratch))
	fill, stroke := uint32(mode) != 0, mode>>32 != 0
	if !fill && !stroke {
		return
	}
	width, height := b.X1-b.X0, b.Y1-b.Y0
	if min(width, height) <= lineThickness {
		w.line(b)
		return
	}
	n := in.int("FPDFPath_CountSegments", object)
	if n > mostSegments || n > 12 && max(width, height) <= shapeSize {
		w.shape(b)
		return
	}
	w.outline(w.segments(object, n, w.matrixOf(object).then(m)), b, stroke)
}

func (w *drawn) line(b sheet.Rect) {
	width, height := b.X1-b.X0, b.Y1-b.Y0
	if max(width, height) < 1.5 {
		return
	}
	w.lines = append(w.lines, page.Rule{Box: b, Horizontal: width >= height})
}

func (w *drawn) shape(b sheet.Rect) {
	width, height := b.X1-b.X0, b.Y1-b.Y0
	if max(width, height) > shapeSize {
		return
	}
	w.shapes = append(w.shapes, b)
	if width >= 15 && height >= 15 && width < 1.15*height && height < 1.15*width {
		w.diamonds = append(w.diamonds, b)
	}
}

// segment is a step of a path as shown, from one point to the next.
type segment struct {
	x0, y0, x1, y1 float64
	start          bool // begins a new part of the path; from and to are the same point
	curve          bool
}

// Kinds of segments, fpdf_edit.h.
const (
	segmentLine   = 0
	segmentBezier = 1
	segmentMove   = 2
)

func (w *drawn) segments(object uint64, n int, m matrix) []segment {
	in := w.in
	out := make([]segment, 0, n)
	var x, y, startX, startY float64
	for i := 0; i < n && in.failed == nil; i++ {
		s := in.call("FPDFPath_GetPathSegment", object, uint64(i))
		in.call("FPDFPathSegment_GetPoint", s, in.scratch, in.scratch+4)
		var p [2]float64
		in.outFloats(p[:])
		px, py := w.g.point(m.point(p[0], p[1]))
		switch in.int("FPDFPathSegment_GetType", s) {
		case segmentMove:
			startX, startY = px, py
			out = append(out, segment{px, py, px, py, true, false})
		case segmentBezier:
			out = append(out, segment{x, y, px, py, false, true})
		default:
			out = append(out, segment{x0: x, y0: y, x1: px, y1: py})
		}
		x, y = px, py
		if in.int("FPDFPathSegment_GetClose", s) == 1 {
			out = append(out, segment{x0: x, y0: y, x1: startX, y1: startY})
			x, y = startX, startY
		}
	}
	return out
}

// outline sorts a path with box b into lines and shapes. The edges of an outlined upright box are lines; a filled one is
// a background, unless it is thin.
func (w *drawn) outline(segments []segment, b sheet.Rect, stroke bool) {
	for _, s := range segments {
		if s.curve || !s.start && math.Abs(s.x1-s.x0) > 1 && math.Abs(s.y1-s.y0) > 1 {
			w.shape(b)
			return
		}
	}
	if stroke {
		for _, s := range segments {
			if !s.start {
				w.line(sheet.Rect{X0: min(s.x0, s.x1), Y0: min(s.y0, s.y1), X1: max(s.x0, s.x1), Y1: max(s.y0, s.y1)})
			}
		}
		return
	}
	var part sheet.Rect
	for i, s := range segments {
		if s.start {
			part = sheet.Rect{X0: s.x1, Y0: s.y1, X1: s.x1, Y1: s.y1}
		}
		part = sheet.Rect{X0: min(part.X0, s.x1), Y0: min(part.Y0, s.y1), X1: max(part.X1, s.x1), Y1: max(part.Y1, s.y1)}
		if i == len(segments)-1 || segments[i+1].start {
			if min(part.X1-part.X0, part.Y1-part.Y0) <= lineThickness {
				w.line(part)
			}
		}
	}
}

// rules joins the pieces of lines and returns those long enough to mean something, in points.
func (w *drawn) rules() []page.Rule {
	const shortest = 8
	var out []page.Rule
	for _, horizontal := range []bool{true, false} {
		var pieces []sheet.Rect
		for _, l := range w.lines {
			if l.Horizontal == horizontal {
				pieces = append(pieces, l.Box)
			}
		}
		for _, b := range joinPieces(pieces, horizontal) {
			if max(b.X1-b.X0, b.Y1-b.Y0) >= shortest {
				out = append(out, page.Rule{Box: b, Horizontal: horizontal})
			}
		}
	}
	return out
}

// joinPieces joins collinear pieces that touch or nearly touch.
func joinPieces(pieces []sheet.Rect, horizontal bool) []sheet.Rect {
	const gap, off = 2.5, 1.2
	across := func(r sheet.Rect) float64 { return (r.Y0 + r.Y1) / 2 }
	from := func(r sheet.Rect) float64 { return r.X0 }
	to := func(r sheet.Rect) float64 { return r.X1 }
	if !horizontal {
		across = func(r sheet.Rect) float64 { return (r.X0 + r.X1) / 2 }
		from = func(r sheet.Rect) float64 { return r.Y0 }
		to = func(r sheet.Rect) float64 { return r.Y1 }
	}
	slices.SortFunc(pieces, func(a, b sheet.Rect) int {
		if x, y := math.Round(across(a)/off), math.Round(across(b)/off); x != y {
			return int(x - y)
		}
		return int(math.Copysign(1, from(a)-from(b)))
	})
	var out []sheet.Rect
	for _, p := range pieces {
		if n := len(out); n > 0 && math.Abs(across(out[n-1])-across(p)) <= off && from(p) <= to(out[n-1])+gap && from(p) >= from(out[n-1])-gap {
			out[n-1] = out[n-1].Union(p)
			continue
		}
		out = append(out, p)
	}
	return out
}

// scanned tells whether a picture covers most of the page.
func (w *drawn) scanned(g geometry) bool {
	for _, b := range w.pictures {
		if (b.X1-b.X0)*(b.Y1-b.Y0) > 0.5*g.width*g.height {
			return true
		}
	}
	return false
}

// images returns the pictures, with strips put together, and the drawings that could be a pictogram.
func (w *drawn) images(g geometry) []page.Image {
	var out []page.Image
	for _, b := range cluster(w.pictures, touches) {
		out = append(out, page.Image{Box: b})
	}
	found := map[sheet.Rect]bool{}
	for _, b := range append(cluster(w.shapes, near), w.diamonds...) {
		width, height := b.X1-b.X0, b.Y1-b.Y0
		if width < 10 || height < 10 || width > shapeSize || height > shapeSize || width > 1.7*height || height > 1.7*width || found[b] {
			continue
		}
		found[b] = true
		out = append(out, page.Image{Box: b, Vector: true})
	}
	return out
}

// near tells whether two shapes overlap or all but touch.
func near(a, b sheet.Rect) bool {
	const d = 0.5
	return a.X0 <= b.X1+d && b.X0 <= a.X1+d && a.Y0 <= b.Y1+d && b.Y0 <= a.Y1+d
}

// touches tells whether two pictures are strips of one: side by side with equal height, or one below the other with
// equal width.
func touches(a, b sheet.Rect) bool {
	same := func(x, y float64) bool { return math.Abs(x-y) < 0.7 }
	return same(a.X0, b.X0) && same(a.X1, b.X1) && (same(a.Y1, b.Y0) || same(b.Y1, a.Y0)) ||
		same(a.Y0, b.Y0) && same(a.Y1, b.Y1) && (same(a.X1, b.X0) || same(b.X1, a.X0))
}

// cluster unites boxes that are linked, directly or over others.
func cluster(boxes []sheet.Rect, linked func(a, b sheet.Rect) bool) []sheet.Rect {
	const most = 3000
	sorted := slices.Clone(boxes[:min(len(boxes), most)])
	slices.SortFunc(sorted, func(a, b sheet.Rect) int { return int(math.Copysign(1, a.X0-b.X0)) })
	parent := make([]int, len(sorted))
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for i, a := range sorted {
		for j := i + 1; j < len(sorted) && sorted[j].X0 <= a.X1+1; j++ {
			if linked(a, sorted[j]) {
				parent[root(j)] = root(i)
			}
		}
	}
	var out []sheet.Rect
	at := map[int]int{}
	for i, b := range sorted {
		r := root(i)
		k, ok := at[r]
		if !ok {
			at[r] = len(out)
			out = append(out, b)
			continue
		}
		out[k] = out[k].Union(b)
	}
	return out
}
