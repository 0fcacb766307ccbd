package pdf

import (
	"sixteen/sheet"
)

// geometry maps PDF user space (origin bottom left, unrotated) to the page as shown.
type geometry struct {
	box           [4]float64 // left, bottom, right, top of the visible part in user space
	turn          int        // quarter turns clockwise when shown
	width, height float64    // as shown
}

func (in *instance) geometry(page uint64) geometry {
	g := geometry{turn: in.int("FPDFPage_GetRotation", page) & 3}
	in.call("FPDF_GetPageBoundingBox", page, in.out(0)) // FS_RECTF: left, top, right, bottom
	var r [4]float64
	in.outFloats(r[:])
	g.box = [4]float64{min(r[0], r[2]), min(r[1], r[3]), max(r[0], r[2]), max(r[1], r[3])}
	g.width, g.height = g.box[2]-g.box[0], g.box[3]-g.box[1]
	if g.turn%2 == 1 {
		g.width, g.height = g.height, g.width
	}
	return g
}

// point maps a point of user space.
func (g geometry) point(x, y float64) (float64, float64) {
	switch g.turn {
	case 1:
		return y - g.box[1], x - g.box[0]
	case 2:
		return g.box[2] - x, y - g.box[1]
	case 3:
		return g.box[3] - y, g.box[2] - x
	}
	return x - g.box[0], g.box[3] - y
}

// rect maps a rectangle of user space.
func (g geometry) rect(left, bottom, right, top float64) sheet.Rect {
	x0, y0 := g.point(left, bottom)
	x1, y1 := g.point(right, top)
	return sheet.Rect{X0: min(x0, x1), Y0: min(y0, y1), X1: max(x0, x1), Y1: max(y0, y1)}
}

// visible tells whether any of r is on the page.
func (g geometry) visible(r sheet.Rect) bool {
	return r.X1 >= 0 && r.Y1 >= 0 && r.X0 <= g.width && r.Y0 <= g.height
}

// matrix is a PDF transformation: x' = ax + cy + e, y' = bx + dy + f.
type matrix [6]float64

var identity = matrix{1, 0, 0, 1, 0, 0}

// then is the transformation m followed by n.
func (m matrix) then(n matrix) matrix {
	return matrix{
		m[0]*n[0] + m[1]*n[2], m[0]*n[1] + m[1]*n[3],
		m[2]*n[0] + m[3]*n[2], m[2]*n[1] + m[3]*n[3],
		m[4]*n[0] + m[5]*n[2] + n[4], m[4]*n[1] + m[5]*n[3] + n[5],
	}
}

func (m matrix) point(x, y float64) (float64, float64) {
	return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
}

// rect is the box in user space around a transformed rectangle.
func (m matrix) rect(left, bottom, right, top float64) (l, b, r, t float64) {
	if m == identity {
		return left, bottom, right, top
	}
	l, b = m.point(left, bottom)
	r, t = l, b
	for _, c := range [][2]float64{{right, bottom}, {left, top}, {right, top}} {
		x, y := m.point(c[0], c[1])
		l, r = min(l, x), max(r, x)
		b, t = min(b, y), max(t, y)
	}
	return l, b, r, t
}
