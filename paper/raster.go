package paper

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// raster paints a drawing into pixels.
type raster struct {
	face  *face
	img   *image.RGBA
	scale float64
}

// PNG is the drawing as a picture on white, at a resolution in dots per inch.
func (d *Drawing) PNG(dpi float64) ([]byte, error) {
	f, err := newFace()
	if err != nil {
		return nil, err
	}
	scale := dpi / 72
	r := raster{face: f, scale: scale, img: image.NewRGBA(image.Rect(0, 0, int(math.Ceil(d.Width*scale)), int(math.Ceil(d.Height*scale))))}
	draw.Draw(r.img, r.img.Bounds(), image.White, image.Point{}, draw.Src)
	r.marks(d.Marks)
	var b bytes.Buffer
	err = (&png.Encoder{CompressionLevel: png.DefaultCompression}).Encode(&b, r.img)
	return b.Bytes(), err
}

func (r *raster) marks(marks []Mark) {
	for _, m := range marks {
		switch m := m.(type) {
		case Shape:
			if m.Fill != nil {
				r.area(m.Path, *m.Fill)
			}
			if m.Stroke != nil {
				r.stroke(m)
			}
		case Words:
			r.words(m)
		case Group:
			r.marks(m.Marks)
		}
	}
}

// area fills a path; only the pixels around it are touched.
func (r *raster) area(path []Segment, ink Ink) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range path {
		for _, p := range s.To {
			x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
		}
	}
	box := image.Rect(int(math.Floor(x0*r.scale)), int(math.Floor(y0*r.scale)), int(math.Ceil(x1*r.scale))+1, int(math.Ceil(y1*r.scale))+1).Intersect(r.img.Bounds())
	if box.Empty() {
		return
	}
	v := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(p Point) (float32, float32) {
		return float32(p.X*r.scale - float64(box.Min.X)), float32(p.Y*r.scale - float64(box.Min.Y))
	}
	for i, s := range path {
		switch {
		case s.Move:
			if i > 0 {
				v.ClosePath()
			}
			v.MoveTo(at(s.To[0]))
		case len(s.To) == 3:
			x0, y0 := at(s.To[0])
			x1, y1 := at(s.To[1])
			x2, y2 := at(s.To[2])
			v.CubeTo(x0, y0, x1, y1, x2, y2)
		default:
			v.LineTo(at(s.To[0]))
		}
	}
	v.ClosePath()
	v.Draw(r.img, box, image.NewUniform(ink.rgba()), image.Point{})
}

// stroke paints every piece of a line as an area of its own.
func (r *raster) stroke(s Shape) {
	half := max(s.LineWidth, 0.4) / 2
	for _, run := range flattened(s) {
		for _, piece := range dashed(run, s.Dash) {
			r.lineArea(piece[0], piece[1], half, *s.Stroke)
		}
	}
}

func (r *raster) lineArea(a, b Point, half float64, ink Ink) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return
	}
	ux, uy := (b.X-a.X)/l*half, (b.Y-a.Y)/l*half
	a, b = Point{a.X - ux*0.5, a.Y - uy*0.5}, Point{b.X + ux*0.5, b.Y + uy*0.5}
	r.area([]Segment{moveTo(a.X-uy, a.Y+ux), lineTo(b.X-uy, b.Y+ux), lineTo(b.X+uy, b.Y-ux), lineTo(a.X+uy, a.Y-ux)}, ink)
}

// flattened is the path as runs of points, curves as sixteen lines each.
func flattened(s Shape) [][]Point {
	var out [][]Point
	for _, seg := range s.Path {
		if seg.Move || len(out) == 0 {
			out = append(out, []Point{seg.To[0]})
			continue
		}
		run := &out[len(out)-1]
		if len(seg.To) < 3 {
			*run = append(*run, seg.To[0])
			continue
		}
		p0 := (*run)[len(*run)-1]
		for i := 1; i <= 16; i++ {
			*run = append(*run, bezier(p0, seg.To, float64(i)/16))
		}
	}
	if s.Close {
		for i, run := range out {
			out[i] = append(run, run[0])
		}
	}
	return out
}

func bezier(p0 Point, to []Point, t float64) Point {
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{a*p0.X + b*to[0].X + c*to[1].X + d*to[2].X, a*p0.Y + b*to[0].Y + c*to[1].Y + d*to[2].Y}
}

// dashed cuts a run of points into the pieces that are drawn.
func dashed(run []Point, dash []float64) [][2]Point {
	var out [][2]Point
	on, k, left := true, 0, math.Inf(1)
	if len(dash) > 0 && dash[0] > 0 {
		left = dash[0]
	}
	for i := 1; i < len(run); i++ {
		a, b := run[i-1], run[i]
		for {
			l := math.Hypot(b.X-a.X, b.Y-a.Y)
			if l <= left || l == 0 {
				if on {
					out = append(out, [2]Point{a, b})
				}
				left -= l
				break
			}
			m := Point{a.X + (b.X-a.X)*left/l, a.Y + (b.Y-a.Y)*left/l}
			if on {
				out = append(out, [2]Point{a, m})
			}
			on, k, a = !on, k+1, m
			left = max(dash[k%len(dash)], 0.1)
		}
	}
	return out
}

// words paints the outlines of the letters.
func (r *raster) words(m Words) {
	c := regular
	if m.Bold {
		c = bold
	}
	s := r.face.written(m.Text)
	x := m.X - offset(m.Align, r.face.width(c, m.Size, s))
	const ppem = 1024
	var buf sfnt.Buffer
	k := m.Size / ppem
	for _, ch := range s {
		g, err := r.face.fonts[c].GlyphIndex(&buf, ch)
		if err != nil {
			continue
		}
		outline, err := r.face.fonts[c].LoadGlyph(&buf, g, fixed.I(ppem), nil)
		if err == nil {
			r.area(letter(outline, x, m.Y, k), m.Ink)
		}
		if a, err := r.face.fonts[c].GlyphAdvance(&buf, g, fixed.I(ppem), font.HintingNone); err == nil {
			x += float64(a) / 64 * k
		}
	}
}

// letter is the outline of a letter as a path.
func letter(outline sfnt.Segments, x, y, k float64) []Segment {
	at := func(p fixed.Point26_6) Point { return Point{x + float64(p.X)/64*k, y + float64(p.Y)/64*k} }
	var out []Segment
	last := Point{}
	for _, s := range outline {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			last = at(s.Args[0])
			out = append(out, Segment{Move: true, To: []Point{last}})
		case sfnt.SegmentOpLineTo:
			last = at(s.Args[0])
			out = append(out, Segment{To: []Point{last}})
		case sfnt.SegmentOpQuadTo:
			q, to := at(s.Args[0]), at(s.Args[1])
			out = append(out, Segment{To: cubic(last, q, to)})
			last = to
		case sfnt.SegmentOpCubeTo:
			last = at(s.Args[2])
			out = append(out, Segment{To: []Point{at(s.Args[0]), at(s.Args[1]), last}})
		}
	}
	return out
}

// cubic is a quadratic curve as a cubic one.
func cubic(from, q, to Point) []Point {
	return []Point{{from.X + 2*(q.X-from.X)/3, from.Y + 2*(q.Y-from.Y)/3}, {to.X + 2*(q.X-to.X)/3, to.Y + 2*(q.Y-to.Y)/3}, to}
}
