package picture

import (
	"image"
	"math"
	"slices"
)

type point struct{ x, y float64 }

// quad holds the corners of the area within a frame: left, top, right, bottom, in pixels.
type quad [4]point

// frame is a square on its corner that was found in a picture.
type frame struct {
	in    quad
	box   image.Rectangle // around the area within
	red   bool            // drawn in red, not only dark
	side  float64         // mean length of the sides, pixels
	thick float64         // of the line around, as a share of side
	outer bool            // in is still the outer edge of the line
}

// smallestFrame is the width in pixels below which no symbol can be told from another.
const smallestFrame = 14

// darkLevels are the lightnesses below which a pixel counts as ink, tried in turn: thin frames in coarse pictures are pale.
var darkLevels = [...]uint8{128, 170, 210}

// redLevel is how much redder than green and blue a pixel of a red frame is.
const redLevel = 45

// frames finds the frames in a picture. Red ones count before dark ones at the same place.
func (p *pixels) frames() []frame {
	var out []frame
	ink := make([]bool, len(p.lum))
	seek := func(red bool, plane []uint8, level uint8) {
		for _, f := range append(p.enclosed(ink), p.drawn(ink)...) {
			if slices.ContainsFunc(out, func(g frame) bool { return overlap(f.box, g.box) > 0.5 }) {
				continue
			}
			f.red = red
			at := func(x, y float64) bool {
				v := p.between(plane, x, y)
				return red && v > float64(level) || !red && v < float64(level)
			}
			if f.outer {
				f = f.within(at)
			} else {
				f.thick = f.in.thickness(f.side, 1, at)
			}
			if f.thick < 0.25 {
				out = append(out, f)
			}
		}
	}
	reds := 0
	for i, v := range p.red {
		if ink[i] = v > redLevel; ink[i] {
			reds++
		}
	}
	if reds > 4*smallestFrame {
		seek(true, p.red, redLevel)
	}
	for _, level := range darkLevels {
		for i, v := range p.lum {
			ink[i] = v < level
		}
		seek(false, p.lum, level)
	}
	return out
}

// overlap is the share of the smaller box that both have in common.
func overlap(a, b image.Rectangle) float64 {
	c := a.Intersect(b)
	return float64(c.Dx()*c.Dy()) / float64(max(1, min(a.Dx()*a.Dy(), b.Dx()*b.Dy())))
}

// enclosed finds areas without ink that ink surrounds on all sides and whose outline is a square on its corner.
func (p *pixels) enclosed(ink []bool) []frame {
	return p.squares(ink, false, []step{{1, 0}, {-1, 0}, {0, 1}, {0, -1}})
}

// drawn finds connected ink whose outline is a square on its corner: a frame whose symbol touches it encloses no area of
// that outline.
func (p *pixels) drawn(ink []bool) []frame {
	out := p.squares(ink, true, []step{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}})
	for i := range out {
		out[i].outer = true
	}
	return out
}

type step struct{ dx, dy int }

// squares finds connected pixels, with ink or without, that do not reach the picture's edge and whose outline is a square
// on its corner.
func (p *pixels) squares(ink []bool, with bool, steps []step) []frame {
	visited := make([]bool, len(ink))
	var stack, members []int32
	var out []frame
	for start := range ink {
		if ink[start] != with || visited[start] {
			continue
		}
		found := region{box: image.Rectangle{Min: image.Pt(p.w, p.h)}}
		stack, members = append(stack[:0], int32(start)), members[:0]
		visited[start] = true
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := int(at)%p.w, int(at)/p.w
			members = append(members, at)
			found.grow(x, y)
			for _, s := range steps {
				nx, ny := x+s.dx, y+s.dy
				if nx < 0 || ny < 0 || nx >= p.w || ny >= p.h {
					found.open = !with
					continue
				}
				if n := ny*p.w + nx; ink[n] == with && !visited[n] {
					visited[n] = true
					stack = append(stack, int32(n))
				}
			}
		}
		if !found.squarish() {
			continue
		}
		if f, ok := diamond(outline(members, p.w, found.box), found.box); ok {
			out = append(out, f)
		}
	}
	return out
}

// region is the extent of connected pixels.
type region struct {
	box   image.Rectangle
	count int
	open  bool // reaches the edge of the picture
}

func (r *region) grow(x, y int) {
	r.box.Min.X, r.box.Min.Y = min(r.box.Min.X, x), min(r.box.Min.Y, y)
	r.box.Max.X, r.box.Max.Y = max(r.box.Max.X, x+1), max(r.box.Max.Y, y+1)
	r.count++
}

// squarish tells whether the extent can be that of a frame's interior: large enough, about as wide as high, and filled
// about half.
func (r *region) squarish() bool {
	w, h := r.box.Dx(), r.box.Dy()
	fill := float64(r.count) / float64(max(1, w*h))
	return !r.open && min(w, h) >= smallestFrame && 4*w < 5*h && 4*h < 5*w && fill > 0.08 && fill < 0.66
}

// outline is the convex hull of pixels, as points at their outer edges, in order around it.
func outline(members []int32, width int, box image.Rectangle) []point {
	lo, hi := make([]int, box.Dy()), make([]int, box.Dy())
	for i := range lo {
		lo[i], hi[i] = math.MaxInt, -1
	}
	for _, m := range members {
		x, y := int(m)%width, int(m)/width-box.Min.Y
		lo[y], hi[y] = min(lo[y], x), max(hi[y], x+1)
	}
	var pts []point
	for i := range lo {
		if hi[i] < 0 {
			continue
		}
		y := float64(box.Min.Y+i) + 0.5
		pts = append(pts, point{float64(lo[i]), y}, point{float64(hi[i]), y})
	}
	return hull(pts)
}

// hull is the convex hull by the monotone chain.
func hull(pts []point) []point {
	slices.SortFunc(pts, func(a, b point) int {
		if a.x != b.x {
			return int(math.Copysign(1, a.x-b.x))
		}
		return int(math.Copysign(1, a.y-b.y))
	})
	var out []point
	for pass := range 2 {
		floor := len(out)
		for i := range pts {
			q := pts[i]
			if pass == 1 {
				q = pts[len(pts)-1-i]
			}
			for len(out)-floor >= 2 && turn(out[len(out)-2], out[len(out)-1], q) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		out = out[:len(out)-1]
	}
	return out
}

func turn(a, b, c point) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

func area(pts []point) float64 {
	sum := 0.0
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		sum += a.x*b.y - b.x*a.y
	}
	return math.Abs(sum) / 2
}

// diamond fits four sides to an outline. It fails when the outline is no square on its corner, give or take a tenth of a
// turn of perspective.
func diamond(outline []point, box image.Rectangle) (frame, bool) {
	if len(outline) < 4 {
		return frame{}, false
	}
	full := float64(box.Dx() * box.Dy())
	if share := area(outline) / full; share < 0.42 || share > 0.64 {
		return frame{}, false
	}
	rough := quad{outline[0], outline[0], outline[0], outline[0]}
	for _, q := range outline {
		for k, further := range [4]bool{q.x < rough[0].x, q.y < rough[1].y, q.x > rough[2].x, q.y > rough[3].y} {
			if further {
				rough[k] = q
			}
		}
	}
	corners, ok := fitSides(dense(outline), rough)
	if !ok {
		return frame{}, false
	}
	fit := area(corners[:]) / area(outline)
	side, even := corners.sides()
	if fit < 0.9 || fit > 1.14 || !even {
		return frame{}, false
	}
	return frame{in: corners, box: box, side: side}, true
}

// dense adds points along the edges of an outline, about one a pixel.
func dense(outline []point) []point {
	var out []point
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		n := max(1, int(math.Hypot(b.x-a.x, b.y-a.y)))
		for k := range n {
			t := float64(k) / float64(n)
			out = append(out, point{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)})
		}
	}
	return out
}

// line is a·x + b·y = c with a² + b² = 1.
type line struct{ a, b, c float64 }

// fitSides lays a line through the middle part of each side, so that rounded corners do not matter, and returns where
// they meet.
func fitSides(outline []point, rough quad) (quad, bool) {
	var sides [4]line
	for k := range sides {
		from, to := rough[k], rough[(k+1)%4]
		length := math.Hypot(to.x-from.x, to.y-from.y)
		if length < 4 {
			return quad{}, false
		}
		ux, uy := (to.x-from.x)/length, (to.y-from.y)/length
		var near []point
		for _, q := range outline {
			along, off := (q.x-from.x)*ux+(q.y-from.y)*uy, (q.y-from.y)*ux-(q.x-from.x)*uy
			if along > 0.2*length && along < 0.8*length && math.Abs(off) < 0.15*length {
				near = append(near, q)
			}
		}
		var ok bool
		if sides[k], ok = fitLine(near); !ok {
			return quad{}, false
		}
	}
	var out quad
	for k := range out { // corner k lies between side k-1 and side k
		l, m := sides[(k+3)%4], sides[k]
		d := l.a*m.b - m.a*l.b
		if math.Abs(d) < 0.5 {
			return quad{}, false
		}
		out[k] = point{(l.c*m.b - m.c*l.b) / d, (l.a*m.c - m.a*l.c) / d}
	}
	return out, true
}

// fitLine is the line of least squared distances.
func fitLine(pts []point) (line, bool) {
	if len(pts) < 2 {
		return line{}, false
	}
	var mx, my, xx, xy, yy float64
	for _, q := range pts {
		mx, my = mx+q.x, my+q.y
	}
	n := float64(len(pts))
	mx, my = mx/n, my/n
	for _, q := range pts {
		xx, xy, yy = xx+(q.x-mx)*(q.x-mx), xy+(q.x-mx)*(q.y-my), yy+(q.y-my)*(q.y-my)
	}
	angle := 0.5 * math.Atan2(2*xy, xx-yy)
	s, c := math.Sincos(angle)
	return line{-s, c, -s*mx + c*my}, true
}

// sides is the mean length of the sides, and whether they are about equal.
func (q quad) sides() (mean float64, even bool) {
	shortest, longest := math.Inf(1), 0.0
	for k := range q {
		l := math.Hypot(q[k].x-q[(k+1)%4].x, q[k].y-q[(k+1)%4].y)
		mean += l / 4
		shortest, longest = min(shortest, l), max(longest, l)
	}
	return mean, longest < 1.4*shortest
}

// at maps the unit square to the quad: (0,0) is the left corner, (1,0) the top, (1,1) the right, (0,1) the bottom.
func (q quad) at(s, t float64) point {
	blend := func(a, b, c, d float64) float64 { return (1-s)*(1-t)*a + s*(1-t)*b + s*t*c + (1-s)*t*d }
	return point{blend(q[0].x, q[1].x, q[2].x, q[3].x), blend(q[0].y, q[1].y, q[2].y, q[3].y)}
}

// within moves a frame known by the outer edge of its line to the inner edge.
func (f frame) within(ink func(x, y float64) bool) frame {
	f.outer = false
	f.thick = f.in.thickness(f.side, -1, ink)
	e := min(f.thick, 0.3)
	f.in = quad{f.in.at(e, e), f.in.at(1-e, e), f.in.at(1-e, 1-e), f.in.at(e, 1-e)}
	f.side *= 1 - 2*e
	f.thick /= 1 - 2*e
	return f
}

// thickness is how far the ink reaches outwards (way 1) or inwards (-1) from the sides, as a share of the side: the median
// of several places on every side.
func (q quad) thickness(side, way float64, ink func(x, y float64) bool) float64 {
	var runs []float64
	const places, stride = 5, 0.25
	for k := range q {
		a, b := q[k], q[(k+1)%4]
		nx, ny := way*(b.y-a.y)/side, -way*(b.x-a.x)/side // outwards: corners run clockwise as shown
		for i := range places {
			t := 0.25 + 0.5*float64(i)/(places-1)
			x, y := a.x+t*(b.x-a.x), a.y+t*(b.y-a.y)
			run := 0.0
			for d := -1.0; d < side/3; d += stride {
				if ink(x+d*nx, y+d*ny) {
					run += stride
				} else if run > 0 || d > 2 {
					break
				}
			}
			runs = append(runs, run)
		}
	}
	slices.Sort(runs)
	return runs[len(runs)/2] / side
}
