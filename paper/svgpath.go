package paper

import (
	"fmt"
	"strconv"
	"strings"
)

// pathReader goes through the data of an SVG path.
type pathReader struct {
	s    string
	i    int
	bad  bool
	full string
}

func (r *pathReader) skip() {
	for r.i < len(r.s) && strings.IndexByte(" ,\n\t\r", r.s[r.i]) >= 0 {
		r.i++
	}
}

// more tells whether another number follows.
func (r *pathReader) more() bool {
	r.skip()
	return r.i < len(r.s) && strings.IndexByte("0123456789+-.", r.s[r.i]) >= 0
}

func (r *pathReader) number() float64 {
	r.skip()
	from, dot := r.i, false
	for r.i < len(r.s) {
		c := r.s[r.i]
		ok := c >= '0' && c <= '9' || c == 'e' || c == 'E' || c == '.' && !dot ||
			(c == '-' || c == '+') && (r.i == from || r.s[r.i-1] == 'e' || r.s[r.i-1] == 'E')
		if !ok {
			break
		}
		dot = dot || c == '.'
		r.i++
	}
	v, err := strconv.ParseFloat(r.s[from:r.i], 64)
	r.bad = r.bad || err != nil
	return v
}

// path reads path data; arcs are not understood.
func (s *svgState) path(d string) (Shape, error) {
	r := &pathReader{s: d, full: d}
	var out Shape
	var x, y, sx, sy, cx, cy float64 // current point, begin of the run, last control point
	prev := byte(0)
	for {
		r.skip()
		if r.i >= len(r.s) {
			break
		}
		cmd := r.s[r.i]
		r.i++
		upper := cmd &^ 0x20
		if strings.IndexByte("MLHVCSQTZ", upper) < 0 {
			return out, fmt.Errorf("the chart has a path with %q, which cannot be printed", cmd)
		}
		for first := true; first || r.more(); first = false {
			bx, by := 0.0, 0.0
			if cmd >= 'a' {
				bx, by = x, y
			}
			switch upper {
			case 'Z':
				x, y = sx, sy
				to := s.at(x, y)
				out.Path = append(out.Path, lineTo(to.X, to.Y))
			case 'M', 'L':
				x, y = bx+r.number(), by+r.number()
				move := upper == 'M' && first
				if move {
					sx, sy = x, y
				}
				out.Path = append(out.Path, Segment{Move: move, To: []Point{s.at(x, y)}})
			case 'H':
				x = bx + r.number()
				out.Path = append(out.Path, Segment{To: []Point{s.at(x, y)}})
			case 'V':
				y = by + r.number()
				out.Path = append(out.Path, Segment{To: []Point{s.at(x, y)}})
			case 'C', 'S':
				x1, y1 := 2*x-cx, 2*y-cy
				if upper == 'C' {
					x1, y1 = bx+r.number(), by+r.number()
				} else if prev != 'C' && prev != 'S' {
					x1, y1 = x, y
				}
				cx, cy = bx+r.number(), by+r.number()
				x, y = bx+r.number(), by+r.number()
				out.Path = append(out.Path, Segment{To: []Point{s.at(x1, y1), s.at(cx, cy), s.at(x, y)}})
			case 'Q', 'T':
				x0, y0 := x, y
				nx, ny := 2*x-cx, 2*y-cy
				if upper == 'Q' {
					nx, ny = bx+r.number(), by+r.number()
				} else if prev != 'Q' && prev != 'T' {
					nx, ny = x, y
				}
				cx, cy = nx, ny
				x, y = bx+r.number(), by+r.number()
				out.Path = append(out.Path, Segment{To: cubic(s.at(x0, y0), s.at(cx, cy), s.at(x, y))})
			}
			prev = upper
			if r.bad {
				return out, fmt.Errorf("the chart has a path that cannot be read: %.60q", r.full)
			}
			if upper == 'Z' {
				break
			}
		}
	}
	if len(out.Path) > 0 && !out.Path[0].Move {
		return out, fmt.Errorf("the chart has a path that does not begin with a move: %.60q", r.full)
	}
	return out, nil
}
