package picture

import (
	"fmt"
	"image"
	"math"

	"sixteen/ghs"
	"sixteen/read/page"
	"sixteen/sheet"
)

// Drawer draws the part of a page (by its number, from 1) within a box in points, at a resolution in dots per inch.
type Drawer func(number int, box sheet.Rect, dpi float64) (image.Image, error)

// Reader recognises pictograms on the pages of one document. It serves one goroutine.
type Reader struct {
	draw     Drawer
	problems []sheet.ReadProblem
	told     map[string]bool
}

// NewReader makes a reader of the pages that draw draws.
func NewReader(draw Drawer) *Reader { return &Reader{draw: draw, told: map[string]bool{}} }

// Problems are the diamonds that were seen so far and not understood, and pages that could not be drawn.
func (r *Reader) Problems() []sheet.ReadProblem { return r.problems }

func (r *Reader) report(number int, what, do string) {
	if !r.told[what] {
		r.told[what] = true
		r.problems = append(r.problems, sheet.ReadProblem{Section: 2, Page: number, What: what, Do: do})
	}
}

// Pictograms looks at the places of the given pictures on the page. Each pictogram is a fact with its box as evidence.
func (r *Reader) Pictograms(p page.Page, images []page.Image) []sheet.Fact[ghs.Pictogram] {
	var out []sheet.Fact[ghs.Pictogram]
	var seenAt []sheet.Rect
	for _, place := range places(p, images) {
		img, err := r.draw(p.Number, place.box, place.dpi)
		if err != nil {
			r.report(p.Number, fmt.Sprintf("the pictures of page %d could not be looked at: %v", p.Number, err), "compare the pictograms of section 2 with the document")
			continue
		}
		scale := 72 / place.dpi
		for _, s := range Find(img) {
			box := sheet.Rect{X0: place.box.X0 + float64(s.Box.Min.X)*scale, Y0: place.box.Y0 + float64(s.Box.Min.Y)*scale,
				X1: place.box.X0 + float64(s.Box.Max.X)*scale, Y1: place.box.Y0 + float64(s.Box.Max.Y)*scale}
			if inAny(box, seenAt) {
				continue
			}
			seenAt = append(seenAt, box)
			if s.Pictogram == ghs.NoPictogram {
				r.report(p.Number, fmt.Sprintf("a diamond on page %d, %.0f points from the left and %.0f from the top, was not understood: %s", p.Number, box.X0, box.Y0, s.Why),
					"look at it, and enter the pictogram by hand")
				continue
			}
			out = append(out, sheet.Fact[ghs.Pictogram]{State: sheet.Stated, Value: s.Pictogram, Confidence: s.Confidence,
				Evidence: []sheet.Evidence{{Page: p.Number, Box: box, Words: "picture of " + s.Pictogram.String(), How: sheet.ByPicture}}})
		}
	}
	return out
}

// inAny tells whether the middle of a box lies in one of others.
func inAny(b sheet.Rect, others []sheet.Rect) bool {
	x, y := (b.X0+b.X1)/2, (b.Y0+b.Y1)/2
	for _, o := range others {
		if x >= o.X0 && x <= o.X1 && y >= o.Y0 && y <= o.Y1 {
			return true
		}
	}
	return false
}

// place is a part of a page to look at, and how closely.
type place struct {
	box sheet.Rect
	dpi float64
}

// Bounds on where it is looked: sizes in points, resolutions in dots per inch, pixels across a symbol.
const (
	smallestPicture = 12
	largestSymbol   = 150
	symbolPixels    = 110
	pageDPI         = 150
	mostPlaces      = 40
	around          = 5
)

// places joins pictures that overlap or touch and chooses a resolution at which a symbol as large as the place is some
// hundred pixels wide. Pages that are one picture are looked at whole.
func places(p page.Page, images []page.Image) []place {
	var boxes []sheet.Rect
	for _, im := range images {
		w, h := im.Box.X1-im.Box.X0, im.Box.Y1-im.Box.Y0
		if min(w, h) < smallestPicture {
			continue
		}
		if w*h > 0.5*p.Width*p.Height {
			return []place{{sheet.Rect{X1: p.Width, Y1: p.Height}, pageDPI}}
		}
		boxes = append(boxes, im.Box)
	}
	boxes = joined(boxes)
	if len(boxes) > mostPlaces {
		return []place{{sheet.Rect{X1: p.Width, Y1: p.Height}, pageDPI}}
	}
	out := make([]place, 0, len(boxes))
	for _, b := range boxes {
		size := min(b.X1-b.X0, b.Y1-b.Y0)
		dpi := math.Round(symbolPixels * 72 / size)
		if size > largestSymbol {
			dpi = pageDPI
		}
		b = sheet.Rect{X0: b.X0 - around, Y0: b.Y0 - around, X1: b.X1 + around, Y1: b.Y1 + around}
		out = append(out, place{b, dpi})
	}
	return out
}

// joined unites boxes until none overlaps another.
func joined(boxes []sheet.Rect) []sheet.Rect {
	for i := 0; i < len(boxes); i++ {
		for j := i + 1; j < len(boxes); j++ {
			a, b := boxes[i], boxes[j]
			if a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1 {
				boxes[i] = a.Union(b)
				boxes = append(boxes[:j], boxes[j+1:]...)
				i = -1
				break
			}
		}
	}
	return boxes
}
