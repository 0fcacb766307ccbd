package ghs

import (
	"bytes"
	"encoding/xml"
	"math"
	"testing"
)

// inkAt is the ink seen at a place of the drawing, and whether anything is painted there.
func inkAt(p Pictogram, x, y float64) (Ink, bool) {
	ink, painted := White, false
	for _, poly := range PictogramOutline(p) {
		if inside(poly.Points, x, y) {
			ink, painted = poly.Ink, true
		}
	}
	return ink, painted
}

func inside(pts []Point, x, y float64) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > y) != (b.Y > y) && x < a.X+(y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// UN GHS 1.4.10.4.2.3: a black symbol on a white ground in a red frame, a square set on its point.
func TestPictogramFrame(t *testing.T) {
	for _, p := range Pictograms() {
		o := PictogramOutline(p)
		if len(o) < 3 || o[0].Ink != Red || o[1].Ink != White {
			t.Fatalf("%s: %d areas", p, len(o))
		}
		for _, c := range []struct {
			x, y    float64
			ink     Ink
			painted bool
		}{{0.02, 0.5, Red, true}, {0.98, 0.5, Red, true}, {0.5, 0.02, Red, true}, {0.5, 0.98, Red, true}, {0.1, 0.1, White, false}, {0.9, 0.9, White, false}, {0.5, 0.9, White, true}} {
			ink, painted := inkAt(p, c.x, c.y)
			if ink != c.ink || painted != c.painted {
				t.Errorf("%s at %g, %g: ink %d, painted %v", p, c.x, c.y, ink, painted)
			}
		}
		for _, poly := range o[2:] {
			for _, pt := range poly.Points {
				if math.Abs(pt.X-0.5)+math.Abs(pt.Y-0.5) > 0.425 {
					t.Errorf("%s: the symbol reaches the frame at %g, %g", p, pt.X, pt.Y)
				}
			}
		}
	}
	if PictogramOutline(NoPictogram) != nil || PictogramSVG(NoPictogram) != nil {
		t.Error("no pictogram has a drawing")
	}
}

// The share of black differs enough between the nine, and lies where a symbol can be seen from afar.
func TestPictogramsAreDistinct(t *testing.T) {
	const n = 40
	grid := map[Pictogram][]bool{}
	for _, p := range Pictograms() {
		black := 0
		for i := range n * n {
			ink, _ := inkAt(p, (float64(i%n)+.5)/n, (float64(i/n)+.5)/n)
			grid[p] = append(grid[p], ink == Black)
			if ink == Black {
				black++
			}
		}
		if share := float64(black) / (n * n); share < 0.03 || share > 0.25 {
			t.Errorf("%s: %.3f of the square is black", p, share)
		}
	}
	for _, p := range Pictograms() {
		for _, q := range Pictograms() {
			diff := 0
			for i := range grid[p] {
				if grid[p][i] != grid[q][i] {
					diff++
				}
			}
			if p < q && diff < n*n/40 {
				t.Errorf("%s and %s differ in %d of %d places", p, q, diff, n*n)
			}
		}
	}
}

func TestPictogramSVGParses(t *testing.T) {
	for _, p := range Pictograms() {
		var doc struct {
			XMLName xml.Name
			Title   string `xml:"title"`
			ViewBox string `xml:"viewBox,attr"`
		}
		if err := xml.NewDecoder(bytes.NewReader(PictogramSVG(p))).Decode(&doc); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		if doc.Title != p.Name(English) || doc.ViewBox != "0 0 1000 1000" || doc.XMLName.Local != "svg" {
			t.Errorf("%s: title %q, view box %q", p, doc.Title, doc.ViewBox)
		}
	}
}

func TestParseDrawingErrors(t *testing.T) {
	for _, svg := range []string{
		`<svg><path fill="#123456" d="M 0 0 L 1 0 L 1 1 Z"/></svg>`, `<svg><path fill="#000000" d="M 0 0 L 1 0"/></svg>`,
		`<svg><path fill="#000000" d="M 0 0 A 1 0 1 1 Z"/></svg>`, `<svg><path fill="#000000" d="M 0 x L 1 1 L 2 2 Z"/></svg>`, `<svg><path`,
	} {
		if _, err := parseDrawing([]byte(svg)); err == nil {
			t.Errorf("%s is read without error", svg)
		}
	}
}
