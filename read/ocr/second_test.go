package ocr

import (
	"image"
	"image/color"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"sixteen/read/page"
)

// typed draws words at places, in pixels at 300 dots per inch, on grey paper.
func typed(t *testing.T, w, h int, words map[string]image.Point) *image.Gray {
	t.Helper()
	parsed, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: 9, DPI: dpi})
	if err != nil {
		t.Fatal(err)
	}
	img := image.NewGray(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.NewUniform(color.Gray{225}), image.Point{}, draw.Src)
	d := font.Drawer{Dst: img, Src: image.NewUniform(color.Gray{40}), Face: face}
	for text, at := range words {
		d.Dot = fixed.P(at.X, at.Y)
		d.DrawString(text)
	}
	return img
}

// Short pieces that the first look passed over are read, where they stand; lines, frames and pictures are none.
func TestSecondLookFillsHoles(t *testing.T) {
	img := typed(t, 1800, 900, map[string]image.Point{"Packing group": {100, 200}, "III": {900, 200}, "Class": {100, 300}, "8": {900, 300}, "Viscosity": {100, 400}, "7.6": {900, 400}})
	for x := 80; x < 1500; x++ { // the lines of a table, and a picture
		img.SetGray(x, 240, color.Gray{30})
		img.SetGray(x, 241, color.Gray{30})
	}
	for y := 500; y < 800; y++ {
		for x := 300; x < 500; x++ {
			img.SetGray(x, y, color.Gray{30})
		}
	}
	r, err := New(t.Context())
	if err != nil {
		t.Fatal(err) // make prepare installs Tesseract
	}
	whole, err := r.run(t.Context(), img, "11", r.languages)
	if err != nil {
		t.Fatal(err)
	}
	all, err := parseTSV(whole)
	if err != nil {
		t.Fatal(err)
	}
	var first []page.Word // what stands on the left only
	for _, w := range all {
		if w.Box.X0 < 700 {
			first = append(first, w)
		}
	}
	found, err := r.secondLook(t.Context(), img, first)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]page.Word{}
	for _, w := range found[len(first):] {
		text, _ := mend(w.Text)
		got[text] = w
	}
	for _, want := range []string{"III", "8", "7.6"} {
		w, ok := got[want]
		if !ok || w.Box.X0 < 880 || w.Box.X1 > 1000 || w.Confidence <= 0 || w.Confidence > secondWorth {
			t.Errorf("%q: %+v among %v", want, w, got)
		}
	}
	if len(got) != 3 {
		t.Errorf("read %v", got)
	}
}

// Dots that lead from a label to its value are erased; full stops, points and dots over letters stay.
func TestLeadersAreErased(t *testing.T) {
	plain := typed(t, 1800, 400, map[string]image.Point{"Is it at 7.6 in. or i.e. 1.1.": {100, 200}})
	if withoutLeaders(plain) != plain {
		t.Error("points of a text were taken for a leader")
	}
	img := typed(t, 1800, 400, map[string]image.Point{"Flash point ......................": {100, 200}, "212 F": {1100, 200}})
	ink := func(g *image.Gray, x0, x1 int) (n int) {
		for y := range g.Rect.Dy() {
			for x := x0; x < x1; x++ {
				if g.GrayAt(x, y).Y < 120 {
					n++
				}
			}
		}
		return n
	}
	clean := withoutLeaders(img)
	if before, after := ink(img, 400, 700), ink(clean, 400, 700); before < 100 || after > 0 {
		t.Errorf("%d dark pixels of dots, %d afterwards", before, after)
	}
	if ink(img, 1050, 1400) != ink(clean, 1050, 1400) || ink(img, 0, 275) != ink(clean, 0, 275) {
		t.Error("letters were erased")
	}
}

// Of a second reading only a point that was lost is taken over, at a lower confidence; the first reading stays with it.
func TestOnlyPointsAreMended(t *testing.T) {
	for _, c := range []struct{ first, again, want string }{
		{"11", "1.1", "1.1"}, {"25", "2,5", "2,5"}, {"11", "17", "11"}, {"1.1", "11", "1.1"}, {"11", ".11", "11"}, {"11", "11.", "11"}, {"100", "1OO", "100"},
	} {
		got := better(page.Word{Text: c.first, Confidence: 0.9}, c.again, 0.95)
		was := ""
		if c.want != c.first {
			was = c.first
		}
		if got.Text != c.want || got.Was != was || got.Recognised() != c.first || got.Text != c.first && got.Confidence >= 0.9 {
			t.Errorf("%s, then %s: %+v", c.first, c.again, got)
		}
	}
}

// Signs that recognition cannot give are put into units, strokes become Roman numbers, and nothing else changes.
func TestSignsAreMended(t *testing.T) {
	for text, want := range map[string]string{
		"mm?/s": "mm²/s", "(mm?/s)": "(mm²/s)", "mg/m?": "mg/m³", "mg/m?,": "mg/m³,", "g/cm?": "g/cm³", "1550mPa:s": "1550mPa·s", "mPa:s": "mPa·s", "mPa-s": "mPa·s",
		"Why?": "Why?", "mg/m3": "mg/m3", "Is it 5 mg?": "Is it 5 mg?", "mPa": "mPa", "[II": "III", "I|": "II", "Il": "Il", "II": "II", "[1]": "[1]",
	} {
		if got, changed := mend(text); got != want || changed != (got != text) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
