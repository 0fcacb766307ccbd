package picture

import (
	"image"
	"image/color"
	"math"

	"sixteen/ghs"
)

func uniform(c [3]uint8) *image.Uniform {
	return image.NewUniform(color.RGBA{c[0], c[1], c[2], 255})
}

// Seen is one diamond seen in a picture.
type Seen struct {
	Box        image.Rectangle // around the frame, in the picture's pixels
	Pictogram  ghs.Pictogram   // NoPictogram when it was not understood
	Confidence float64         // probability that it is that pictogram
	Red        bool            // its frame is red
	Why        string          // why it was not understood, "" when it was
}

// Likeness that a symbol must have to its drawing, and its lead over the next, as a share of the lead of the drawing
// itself: 1 for our own drawing, 0 half way between two.
const (
	leastLikeness = 0.60
	leastLead     = 0.10
)

// Find looks for pictograms in a picture, in no particular order. Diamonds that are surely something else (transport
// labels, fields of ratings, outlines without a symbol) are left out; those that may be a pictogram but resemble none
// enough come back with NoPictogram and Why.
func Find(img image.Image) []Seen {
	p := planes(img)
	var out []Seen
	frames := p.frames()
	for _, f := range frames {
		if s, ok := p.judge(f); ok && (s.Pictogram != ghs.NoPictogram || f.red || !field(f, frames)) {
			s.Box = s.Box.Add(img.Bounds().Min)
			out = append(out, s)
		}
	}
	return out
}

// field tells whether a frame is one of four that make up a larger diamond, as ratings are drawn: another of its size
// lies corner over corner beside it.
func field(f frame, all []frame) bool {
	beside := 0
	middle := f.box.Min.Add(f.box.Max)
	for _, g := range all {
		d := g.box.Min.Add(g.box.Max).Sub(middle) // twice the distance
		dx, dy := math.Abs(float64(d.X))/2/f.side, math.Abs(float64(d.Y))/2/f.side
		if math.Abs(g.side-f.side) < 0.2*f.side && math.Abs(dx-0.74) < 0.15 && math.Abs(dy-0.74) < 0.15 {
			beside++
		}
	}
	return beside >= 1
}

// judge says what a frame holds; ok is false for what is no pictogram.
func (p *pixels) judge(f frame) (Seen, bool) {
	s := p.read(f)
	grow := int(f.thick*f.side*1.42 + 1)
	seen := Seen{Red: f.red, Box: f.box.Inset(-grow).Intersect(image.Rect(0, 0, p.w, p.h))}
	switch {
	case s.tint > 70 || s.paper < 0.78*s.outside || s.paper < 110: // filled with a colour
		return seen, false
	case s.contrast < 60 || s.share < 0.015: // empty
		return seen, false
	case !f.red && f.thick < thinnestFrame:
		return seen, false
	}
	h := shapeOf(&s)
	best, second := rank(&h)
	own, other := drawings()[best.pictogram], drawings()[second.pictogram]
	lead := (best.likeness - second.likeness) / max(0.02, 1-own.likeness(&other))
	switch {
	case numbered(best.pictogram, &h):
		return seen, false
	case best.likeness < leastLikeness:
		seen.Why = "its symbol resembles none of the nine pictograms enough"
		return seen, f.red || best.likeness > 0.45
	case lead < leastLead:
		seen.Why = "its symbol resembles " + best.pictogram.String() + " and " + second.pictogram.String() + " alike"
		return seen, true
	}
	seen.Pictogram = best.pictogram
	seen.Confidence = sureness(best.likeness, lead, f.red)
	return seen, true
}

// thinnestFrame is the thickness, as a share of the side, below which a frame that is not red is the outline of something
// else; the line of transport labels is 2 mm at a side of 100 mm (UN Model Regulations 5.2.2.2.1.1).
const thinnestFrame = 0.028

// numbered tells whether there is something in the lower corner where that pictogram has nothing, as the class number of
// transport labels stands there.
func numbered(g ghs.Pictogram, h *shape) bool {
	d := drawings()[g]
	return h.low > d.low+0.04 && g != ghs.NoPictogram
}

type candidate struct {
	pictogram ghs.Pictogram
	likeness  float64
}

// rank finds the two drawings that a symbol resembles most.
func rank(h *shape) (best, second candidate) {
	best, second = candidate{likeness: -9}, candidate{likeness: -9}
	for _, g := range ghs.Pictograms() {
		d := drawings()[g]
		c := candidate{g, h.likeness(&d)}
		switch {
		case c.likeness > best.likeness:
			best, second = c, best
		case c.likeness > second.likeness:
			second = c
		}
	}
	return best, second
}

// sureness turns likeness and lead into a probability. Frames that are not red stand on labels and sheets printed in one
// colour, but on other marks too.
func sureness(likeness, lead float64, red bool) float64 {
	v := 0.80 + 0.19*min(1, (likeness-leastLikeness)/0.15)*min(1, lead/0.2)
	if !red {
		v -= 0.04
	}
	return v
}
