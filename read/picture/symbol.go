package picture

import (
	"image"
	"math"
	"slices"
	"sync"

	"golang.org/x/image/vector"

	"sixteen/ghs"
)

// grid is the number of samples across the area within a frame, fine across the centred symbol.
const (
	grid = 64
	fine = 28
)

// symbol is the ink within a frame.
type symbol struct {
	ink      [grid * grid]float64 // 0 white … 1 black
	share    float64              // of the area within that is ink
	paper    float64              // lightness of the white within, 0 … 255
	tint     float64              // of that white
	contrast float64              // between paper and ink
	outside  float64              // lightness just outside the frame
}

// inset is the share of the side, at each edge, that is left out: the frame blurs into it.
const inset = 0.035

// read samples the area within a frame.
func (p *pixels) read(f frame) symbol {
	var lum, tint, red [grid * grid]float64
	var values []float64
	for y := range grid {
		for x := range grid {
			s, t, within := unit(x, y)
			if !within {
				continue
			}
			at := f.in.at(s, t)
			i := y*grid + x
			lum[i], tint[i], red[i] = p.between(p.lum, at.x, at.y), p.between(p.tint, at.x, at.y), p.between(p.red, at.x, at.y)
			values = append(values, lum[i])
		}
	}
	slices.Sort(values)
	out := symbol{paper: values[len(values)*17/20]}
	black := values[len(values)/40]
	out.contrast = out.paper - black
	white, cells := 0.0, 0.0
	for y := range grid {
		for x := range grid {
			_, _, within := unit(x, y)
			i := y*grid + x
			if !within {
				continue
			}
			cells++
			if lum[i] > (out.paper+black)/2 {
				out.tint += tint[i]
				white++
			}
			if red[i] < redLevel || !f.red { // frames leak into the corners
				out.ink[i] = clamp((out.paper-lum[i])/max(1, out.contrast)*1.5 - 0.25)
			}
			out.share += out.ink[i]
		}
	}
	out.tint /= max(1, white)
	out.share /= cells
	out.outside = p.around(f)
	return out
}

// unit maps a sample to the unit square of a quad, and tells whether it lies within the inset.
func unit(x, y int) (s, t float64, within bool) {
	fx, fy := (float64(x)+0.5)/grid, (float64(y)+0.5)/grid
	s, t = fx-fy+0.5, fx+fy-0.5
	return s, t, min(s, t) > inset && max(s, t) < 1-inset
}

func clamp(v float64) float64 { return max(0, min(1, v)) }

// around is the lightness outside the frame, near the four corners of the box around it, the second lightest of four.
func (p *pixels) around(f frame) float64 {
	var v []float64
	for _, c := range [...]struct{ x, y int }{{f.box.Min.X, f.box.Min.Y}, {f.box.Max.X, f.box.Min.Y}, {f.box.Min.X, f.box.Max.Y}, {f.box.Max.X, f.box.Max.Y}} {
		v = append(v, p.between(p.lum, float64(c.x), float64(c.y)))
	}
	slices.Sort(v)
	return v[2]
}

// cells are samples across a symbol after centring and scaling by its spread.
type cells [fine * fine]float64

// shape is a symbol in the form that is compared: blurred widely, for what hands draw differently, and narrowly, for what
// tells one from another; and where it was.
type shape struct {
	wide   cells   // mean 0, length 1
	narrow cells   // mean 0, length 1
	cx, cy float64 // centre, share of the width
	spread float64 // root mean square distance from the centre, share of the width
	low    float64 // share of the ink in the lower corner
}

// shapeOf brings a symbol into the form that is compared.
func shapeOf(s *symbol) shape {
	var out shape
	mass := 0.0
	each := func(use func(x, y, v float64)) {
		for i, v := range s.ink {
			if v > 0 {
				use((float64(i%grid)+0.5)/grid, (float64(i/grid)+0.5)/grid, v)
			}
		}
	}
	each(func(x, y, v float64) {
		mass, out.cx, out.cy = mass+v, out.cx+v*x, out.cy+v*y
		if y > 0.80 {
			out.low += v
		}
	})
	if mass == 0 {
		return out
	}
	out.cx, out.cy, out.low = out.cx/mass, out.cy/mass, out.low/mass
	each(func(x, y, v float64) { out.spread += v * ((x-out.cx)*(x-out.cx) + (y-out.cy)*(y-out.cy)) })
	out.spread = math.Sqrt(out.spread / mass)
	const reach = 2.1 // spreads from the centre to the edge
	step := 2 * reach * out.spread / fine
	var raw cells
	const sub = 3
	for i := range raw {
		for k := range sub * sub {
			x := out.cx - reach*out.spread + (float64(i%fine)+(float64(k%sub)+0.5)/sub)*step
			y := out.cy - reach*out.spread + (float64(i/fine)+(float64(k/sub)+0.5)/sub)*step
			if gx, gy := int(x*grid), int(y*grid); x >= 0 && y >= 0 && gx < grid && gy < grid {
				raw[i] += s.ink[gy*grid+gx] / (sub * sub)
			}
		}
	}
	out.narrow = blurred(raw, [...]float64{0, 0.25, 0.5, 0.25, 0})
	out.wide = blurred(raw, [...]float64{1.0 / 16, 4.0 / 16, 6.0 / 16, 4.0 / 16, 1.0 / 16})
	standardise(&out.narrow)
	standardise(&out.wide)
	return out
}

// blurred smooths with a kernel both ways.
func blurred(in cells, kernel [5]float64) cells {
	for _, stride := range [...]int{1, fine} {
		var out cells
		for i := range in {
			place := i % fine
			if stride == fine {
				place = i / fine
			}
			for k, w := range kernel {
				if q := place + k - 2; q >= 0 && q < fine {
					out[i] += w * in[i+(k-2)*stride]
				}
			}
		}
		in = out
	}
	return in
}

func standardise(v *cells) {
	mean, length := 0.0, 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		length += (x - mean) * (x - mean)
	}
	length = max(1e-9, math.Sqrt(length))
	for i := range v {
		v[i] = (v[i] - mean) / length
	}
}

// likeness of two shapes: 1 for the same, about 0 for strangers. Differences in place, spread and share of ink count
// against it.
func (a *shape) likeness(b *shape) float64 {
	sum := 0.0
	for i, v := range a.wide {
		sum += (v*b.wide[i] + a.narrow[i]*b.narrow[i]) / 2
	}
	off := math.Hypot(a.cx-b.cx, a.cy-b.cy)
	ratio := math.Abs(math.Log(max(1e-3, a.spread) / max(1e-3, b.spread)))
	return sum - 1.2*max(0, off-0.03) - 0.5*max(0, ratio-0.1)
}

// drawings are the shapes of our own pictograms, made once.
var drawings = sync.OnceValue(func() map[ghs.Pictogram]shape {
	out := map[ghs.Pictogram]shape{}
	for _, g := range ghs.Pictograms() {
		p := planes(paint(g, 240, 20))
		for _, f := range p.frames() {
			if f.red && f.side > 100 {
				s := p.read(f)
				out[g] = shapeOf(&s)
			}
		}
	}
	return out
})

// paint draws one of our pictograms with the given side and margin in pixels.
func paint(g ghs.Pictogram, side, margin int) *image.RGBA {
	size := side + 2*margin
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	inks := map[ghs.Ink][3]uint8{ghs.White: {255, 255, 255}, ghs.Black: {}, ghs.Red: {226, 0, 26}}
	for _, part := range ghs.PictogramOutline(g) {
		r := vector.NewRasterizer(size, size)
		for i, q := range part.Points {
			x, y := float32(margin)+float32(q.X)*float32(side), float32(margin)+float32(q.Y)*float32(side)
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
		c := inks[part.Ink]
		r.Draw(img, img.Rect, uniform(c), image.Point{})
	}
	return img
}
