package ocr

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

	"sixteen/sheet"
)

// turned remembers how a picture was turned, to find a word of the straight picture in the crooked one.
type turned struct {
	angle  float64 // radians, counter to the skew
	cx, cy float64
}

// back is the box, in the picture as it was, around a box of the straightened picture.
func (t turned) back(r sheet.Rect) sheet.Rect {
	if t.angle == 0 {
		return r
	}
	mid := func(x, y float64) (float64, float64) {
		s, c := math.Sincos(-t.angle)
		dx, dy := x-t.cx, y-t.cy
		return t.cx + c*dx - s*dy, t.cy + s*dx + c*dy
	}
	// The box keeps its size and goes where its middle was: a few tenths of a degree do not change its extent, and boxes
	// that grew would run into their neighbours.
	x, y := mid((r.X0+r.X1)/2, (r.Y0+r.Y1)/2)
	w, h := (r.X1-r.X0)/2, (r.Y1-r.Y0)/2
	return sheet.Rect{X0: x - w, Y0: y - h, X1: x + w, Y1: y + h}
}

// Limits of straightening: pages lie within a few degrees on a scanner's glass; less than half a tenth is left alone.
const (
	maxSkew  = 5.0  // degrees
	minSkew  = 0.05 // degrees
	skewStep = 0.1  // degrees
)

// straighten turns the picture so that its lines of text run level. The skew is the angle at which the ink, summed along
// lines of that angle, is most unevenly spread over the rows (projection profile).
func straighten(img image.Image) (image.Image, turned) {
	b := img.Bounds()
	skew := skewOf(img)
	if math.Abs(skew) < minSkew {
		return img, turned{}
	}
	t := turned{angle: -skew * math.Pi / 180, cx: float64(b.Dx()) / 2, cy: float64(b.Dy()) / 2}
	s, c := math.Sincos(t.angle)
	out := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	matrix := f64.Aff3{c, -s, t.cx - c*t.cx + s*t.cy, s, c, t.cy - s*t.cx - c*t.cy}
	draw.BiLinear.Transform(out, matrix, img, b, draw.Over, nil)
	return out, t
}

// skewOf estimates by how many degrees the lines of text fall to the right.
func skewOf(img image.Image) float64 {
	ink, share := inkPoints(img)
	if len(ink) < 200 || share > mostInk {
		return 0
	}
	best, bestScore := 0.0, unevenness(ink, 0)
	level := bestScore
	for a := -maxSkew; a <= maxSkew; a += skewStep {
		if s := unevenness(ink, a); s > bestScore {
			best, bestScore = a, s
		}
	}
	for a, around := best-skewStep, best+skewStep; a <= around; a += skewStep / 5 {
		if s := unevenness(ink, a); s > bestScore {
			best, bestScore = a, s
		}
	}
	if bestScore < level*1.02 {
		return 0
	}
	return best
}

type point struct{ x, y float64 }

// mostInk is the share of dark pixels above which a picture is no page of text.
const mostInk = 0.4

// inkPoints samples dark pixels of the picture, shrunk to about 75 dots per inch, and tells their share of it.
func inkPoints(img image.Image) (ink []point, share float64) {
	b := img.Bounds()
	const shrink = 4
	small := image.NewGray(image.Rect(0, 0, b.Dx()/shrink, b.Dy()/shrink))
	draw.ApproxBiLinear.Scale(small, small.Bounds(), img, b, draw.Src, nil)
	for y := range small.Rect.Dy() {
		row := small.Pix[y*small.Stride : y*small.Stride+small.Rect.Dx()]
		for x, v := range row {
			if v < 140 {
				ink = append(ink, point{float64(x), float64(y)})
			}
		}
	}
	return ink, float64(len(ink)) / float64(max(1, len(small.Pix)))
}

// unevenness is the sum of squared differences between neighbouring rows of ink summed along lines at the angle.
func unevenness(ink []point, degrees float64) float64 {
	slope := math.Tan(degrees * math.Pi / 180)
	rows := map[int]float64{}
	for _, p := range ink {
		rows[int(math.Floor(p.y-slope*p.x))]++
	}
	score := 0.0
	for y, n := range rows {
		d := n - rows[y+1]
		score += d * d
	}
	return score
}
