package label

import (
	"image"
	"math"
	"slices"

	"golang.org/x/image/draw"

	"sixteen/read/picture"
	"sixteen/sheet"
)

// A photograph of a label shows it turned, seen from the side, bent around a tin and unevenly lit. Recognition of
// characters wants level lines on even paper. Both are brought about from the print itself: first the light, by the
// brightest paper around each place; then the course of the lines, which is the one that gathers the ink into the
// sharpest rows.

// course is how the lines of print run in a picture: turned about its middle, then falling together towards the right
// and bent. A line that is level at height v in the flat picture runs, after the turn, along v·(1+lean·u) + bend·u²,
// all in halves of the picture's longer side from its middle.
type course struct {
	turn       float64 // radians
	lean, bend float64
	half       float64 // pixels
	cx, cy     float64
}

// Bounds of the search. Photographs are turned by hand to within some degrees; lines that close up by more than a quarter
// or bend by more than that are not print that can be read.
const (
	mostTurn    = 8.0 // degrees
	mostLean    = 0.24
	mostBend    = 0.24
	inkDiffers  = 22   // of 255, from the mean around it
	inkShare    = 0.25 // of that mean
	mostSpots   = 30000
	paperLeast  = 0.35 // of the brightest paper: what is darker is something else than paper in shadow
	rowsPerHalf = 400.0
	fewInk      = 300
	gain        = 1.03 // by how much sharper the rows must be for a course to be believed
)

// level finds the rows' course from the ink of a picture; ok is false when the picture is level already, or
// holds too little print to tell.
func level(grey *image.Gray) (course, bool) {
	b := grey.Rect
	c := course{half: float64(max(b.Dx(), b.Dy())) / 2, cx: float64(b.Dx()) / 2, cy: float64(b.Dy()) / 2}
	ink := inkOf(grey, c)
	if len(ink) < fewInk {
		return c, false
	}
	flat := c
	best := c.sharpness(ink)
	start := best
	try := func(n course) {
		if s := n.sharpness(ink); s > best {
			c, best = n, s
		}
	}
	const degree = math.Pi / 180
	for a := -mostTurn; a <= mostTurn; a += 0.25 {
		for lean := -mostLean; lean <= mostLean; lean += 0.04 {
			n := flat
			n.turn, n.lean = a*degree, lean
			try(n)
		}
		for bend := -mostBend; bend <= mostBend; bend += 0.02 {
			n := flat
			n.turn, n.bend = a*degree, bend
			try(n)
		}
	}
	for _, step := range []float64{1, 0.5, 0.25, 0.12} {
		for range 3 {
			from := c
			for k := -4; k <= 4; k++ {
				n := from
				n.bend = max(-mostBend, min(mostBend, from.bend+float64(k)*0.01*step))
				try(n)
			}
			from = c
			for i := -3; i <= 3; i++ {
				for k := -3; k <= 3; k++ {
					n := from
					n.turn += float64(i) * 0.12 * degree * step
					n.lean += float64(k) * 0.015 * step
					try(n)
				}
			}
		}
	}
	return c, best > start*gain
}

type spot struct{ u, v float64 }

// inkOf samples the places that differ much from what is around them, within about the height of a letter: print on
// paper, print in a dark bar, and no bench that the label lies on.
func inkOf(grey *image.Gray, c course) (out []spot) {
	w, h := grey.Rect.Dx(), grey.Rect.Dy()
	around := max(6, int(c.half/70))
	sums := make([]int64, (w+1)*(h+1)) // of the brightness left of and above each place
	for y := range h {
		row := int64(0)
		for x := range w {
			row += int64(grey.Pix[y*grey.Stride+x])
			sums[(y+1)*(w+1)+x+1] = sums[y*(w+1)+x+1] + row
		}
	}
	for y := range h {
		y0, y1 := max(0, y-around), min(h, y+around)
		for x := range w {
			x0, x1 := max(0, x-around), min(w, x+around)
			n := int64((x1 - x0) * (y1 - y0))
			mean := float64(sums[y1*(w+1)+x1]-sums[y0*(w+1)+x1]-sums[y1*(w+1)+x0]+sums[y0*(w+1)+x0]) / float64(n)
			if d := mean - float64(grey.Pix[y*grey.Stride+x]); d > max(inkDiffers, inkShare*mean) {
				out = append(out, spot{(float64(x) - c.cx) / c.half, (float64(y) - c.cy) / c.half})
			}
		}
	}
	if every := len(out)/mostSpots + 1; every > 1 {
		some := out[:0]
		for i := 0; i < len(out); i += every {
			some = append(some, out[i])
		}
		out = some
	}
	return out
}

// sharpness is the sum of squared differences between neighbouring rows of ink, the rows running along the course.
func (c course) sharpness(ink []spot) float64 {
	const rows = 4*rowsPerHalf + 1
	var sum [int(rows) + 1]float64
	sin, cos := math.Sincos(c.turn)
	for _, p := range ink {
		u, v := cos*p.u+sin*p.v, cos*p.v-sin*p.u
		if row := int(((v-c.bend*u*u)/(1+c.lean*u) + 2) * rowsPerHalf); row >= 0 && row < int(rows) {
			sum[row]++
		}
	}
	score := 0.0
	for i := range int(rows) {
		d := sum[i] - sum[i+1]
		score += d * d
	}
	return score
}

// from is the place in the picture as it was of a place in the flat one.
func (c course) from(x, y float64) (float64, float64) {
	u, v0 := (x-c.cx)/c.half, (y-c.cy)/c.half
	v := v0*(1+c.lean*u) + c.bend*u*u
	sin, cos := math.Sincos(c.turn)
	return c.cx + c.half*(cos*u-sin*v), c.cy + c.half*(sin*u+cos*v)
}

// back is the box in the picture as it was around a box of the flat one. It goes where its middle was and keeps its
// size: a box that grew would run into its neighbours.
func (c course) back(r sheet.Rect) sheet.Rect {
	x, y := c.from((r.X0+r.X1)/2, (r.Y0+r.Y1)/2)
	w, h := (r.X1-r.X0)/2, (r.Y1-r.Y0)/2
	return sheet.Rect{X0: x - w, Y0: y - h, X1: x + w, Y1: y + h}
}

// flatten draws the picture with its lines level.
func (c course) flatten(grey *image.Gray) *image.Gray {
	out := image.NewGray(grey.Rect)
	w, h := grey.Rect.Dx(), grey.Rect.Dy()
	for y := range h {
		for x := range w {
			sx, sy := c.from(float64(x), float64(y))
			x0, y0 := int(math.Floor(sx)), int(math.Floor(sy))
			if x0 < 0 || y0 < 0 || x0+1 >= w || y0+1 >= h {
				out.Pix[y*out.Stride+x] = 255
				continue
			}
			fx, fy := sx-float64(x0), sy-float64(y0)
			at := grey.Pix[y0*grey.Stride+x0:]
			top := float64(at[0])*(1-fx) + float64(at[1])*fx
			bottom := float64(at[grey.Stride])*(1-fx) + float64(at[grey.Stride+1])*fx
			out.Pix[y*out.Stride+x] = uint8(top*(1-fy) + bottom*fy + 0.5)
		}
	}
	return out
}

// evenLight is the picture in grey with the paper white everywhere: each place is measured against the brightest paper
// around it, so that a shadow over the label is no ink.
func evenLight(in *image.Gray) *image.Gray {
	const block = 16
	w, h := in.Rect.Dx(), in.Rect.Dy()
	grey := image.NewGray(in.Rect)
	copy(grey.Pix, in.Pix)
	bw, bh := (w+block-1)/block, (h+block-1)/block
	paper := make([]float64, bw*bh)
	for by := range bh {
		for bx := range bw {
			paper[by*bw+bx] = bright(grey, image.Rect(bx*block, by*block, (bx+1)*block, (by+1)*block).Intersect(grey.Rect))
		}
	}
	around := max(2, max(w, h)/8/block)
	paper = overBlocks(paper, bw, bh, around, func(v []float64) float64 {
		m := 0.0
		for _, x := range v {
			m = max(m, x)
		}
		return m
	})
	paper = overBlocks(paper, bw, bh, around, func(v []float64) float64 {
		s := 0.0
		for _, x := range v {
			s += x
		}
		return s / float64(len(v))
	})
	sorted := slices.Sorted(slices.Values(paper))
	least := paperLeast * sorted[len(sorted)*19/20]
	small := image.NewGray(image.Rect(0, 0, bw, bh))
	for i, v := range paper {
		small.Pix[i/bw*small.Stride+i%bw] = uint8(max(v, least))
	}
	field := image.NewGray(image.Rect(0, 0, bw*block, bh*block))
	draw.BiLinear.Scale(field, field.Rect, small, small.Rect, draw.Src, nil)
	for y := range h {
		for x := range w {
			i := y*grey.Stride + x
			v := float64(grey.Pix[i]) * 255 / max(1, float64(field.Pix[y*field.Stride+x]))
			grey.Pix[i] = uint8(min(255, v))
		}
	}
	return grey
}

// bright is the brightness that one pixel in ten of a part of the picture exceeds.
func bright(grey *image.Gray, r image.Rectangle) float64 {
	var count [256]int
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			count[grey.Pix[y*grey.Stride+x]]++
		}
	}
	n := r.Dx() * r.Dy()
	for v, seen := 255, 0; v > 0; v-- {
		if seen += count[v]; seen*10 > n {
			return float64(v)
		}
	}
	return 1
}

// overBlocks gives each block what f makes of the blocks within reach in its row, then of those in its column.
func overBlocks(in []float64, w, h, reach int, f func([]float64) float64) []float64 {
	pass := func(in []float64, dx, dy int) []float64 {
		out := make([]float64, len(in))
		values := make([]float64, 0, 2*reach+1)
		for y := range h {
			for x := range w {
				values = values[:0]
				for k := -reach; k <= reach; k++ {
					if xx, yy := x+k*dx, y+k*dy; xx >= 0 && yy >= 0 && xx < w && yy < h {
						values = append(values, in[yy*w+xx])
					}
				}
				out[y*w+x] = f(values)
			}
		}
		return out
	}
	return pass(pass(in, 1, 0), 0, 1)
}

// flat is a photograph ready for recognition, without the diamonds seen on it, whose symbols would be taken for letters
// beside them; and how to find a place of it in the photograph.
func flat(img image.Image, seen []picture.Seen) (*image.Gray, func(sheet.Rect) sheet.Rect) {
	grey := toGrey(img)
	c, ok := level(grey)
	grey = evenLight(grey)
	for _, s := range seen {
		whiten(grey, s.Box)
	}
	if !ok {
		return grey, func(r sheet.Rect) sheet.Rect { return r }
	}
	return c.flatten(grey), c.back
}

// whiten erases the diamond that fills a box.
func whiten(grey *image.Gray, box image.Rectangle) {
	const beyond = 1.06 // its frame is soft
	cx, cy := float64(box.Min.X+box.Max.X)/2, float64(box.Min.Y+box.Max.Y)/2
	rx, ry := float64(box.Dx())/2*beyond, float64(box.Dy())/2*beyond
	for y := max(0, int(cy-ry)); y < min(grey.Rect.Dy(), int(cy+ry)+1); y++ {
		for x := max(0, int(cx-rx)); x < min(grey.Rect.Dx(), int(cx+rx)+1); x++ {
			if math.Abs(float64(x)-cx)/rx+math.Abs(float64(y)-cy)/ry < 1 {
				grey.Pix[y*grey.Stride+x] = 255
			}
		}
	}
}

func toGrey(img image.Image) *image.Gray {
	b := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Rect, img, b.Min, draw.Src)
	return out
}
