package ocr

import (
	"context"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/f64"
	"golang.org/x/image/math/fixed"

	"sixteen/read/page"
	"sixteen/sheet"
)

// lines of a sheet as they are set on the test picture.
var testLines = []string{
	"SECTION 2: Hazards identification",
	"H317 May cause an allergic skin reaction.",
	"H225 Highly flammable liquid and vapour.",
	"CAS 25068-38-6   50 - 75 %",
	"Flash point: 27 degrees, closed cup",
	"Wear gloves of butyl rubber, 0.7 mm thick.",
}

// scanned draws the lines at 300 dots per inch and turns the picture by the given degrees.
func scanned(t *testing.T, degrees float64) image.Image {
	t.Helper()
	face, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	f, err := opentype.NewFace(face, &opentype.FaceOptions{Size: 11, DPI: dpi})
	if err != nil {
		t.Fatal(err)
	}
	img := image.NewGray(image.Rect(0, 0, 1800, 1200))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.Gray{245}), image.Point{}, draw.Src)
	d := font.Drawer{Dst: img, Src: image.NewUniform(color.Gray{30}), Face: f}
	for i, l := range testLines {
		d.Dot = fixed.P(150, 200+i*110)
		d.DrawString(l)
	}
	if degrees == 0 {
		return img
	}
	out := image.NewGray(img.Bounds())
	draw.Draw(out, out.Bounds(), image.NewUniform(color.Gray{245}), image.Point{}, draw.Src)
	s, c := math.Sincos(degrees * math.Pi / 180)
	draw.BiLinear.Transform(out, f64.Aff3{c, -s, 900 - c*900 + s*600, s, c, 600 - s*900 - c*600}, img, img.Bounds(), draw.Over, nil)
	return out
}

func TestSkewIsFound(t *testing.T) {
	for _, want := range []float64{-3.2, -0.7, 0, 0.4, 1.9, 4.1} {
		if got := skewOf(scanned(t, want)); math.Abs(got-want) > 0.15 {
			t.Errorf("a picture turned by %.1f degrees was taken for %.2f", want, got)
		}
	}
	if got := skewOf(image.NewGray(image.Rect(0, 0, 400, 400))); got != 0 {
		t.Errorf("a black picture has no lines, yet a skew of %.2f was found", got)
	}
}

// The words of a crooked scan are read, and their boxes lie where the words stand in the picture as it is.
func TestRecognise(t *testing.T) {
	r, err := New(t.Context())
	if err != nil {
		t.Fatal(err) // make prepare installs Tesseract
	}
	for _, degrees := range []float64{0, 1.5} {
		img := scanned(t, degrees)
		p, err := r.Recognise(t.Context(), page.Page{Number: 3, Width: 432, Height: 288}, func(float64) (image.Image, error) { return img, nil })
		if err != nil {
			t.Fatal(err)
		}
		if p.How != sheet.ByOCR || p.Number != 3 {
			t.Errorf("page %d, how %q", p.Number, p.How)
		}
		var words []string
		for _, w := range p.Words {
			words = append(words, w.Text)
			dark := 0
			scale := dpi / 72.0
			for y := int(w.Box.Y0 * scale); y < int(w.Box.Y1*scale); y++ {
				for x := int(w.Box.X0 * scale); x < int(w.Box.X1*scale); x++ {
					if v, _, _, _ := img.At(x, y).RGBA(); v < 0x6000 {
						dark++
					}
				}
			}
			if dark < 15 {
				t.Errorf("turned by %.1f: no ink under the box of %q", degrees, w.Text)
			}
		}
		text := strings.Join(words, " ")
		for _, want := range []string{"H317 May cause an allergic skin reaction.", "25068-38-6", "H225 Highly flammable", "butyl rubber"} {
			if !strings.Contains(text, want) {
				t.Errorf("turned by %.1f: %q is not in %q", degrees, want, text)
			}
		}
	}
}

func TestStoppedRecognitionSaysSo(t *testing.T) {
	r, err := New(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = r.Recognise(ctx, page.Page{}, func(float64) (image.Image, error) { return scanned(t, 0), nil })
	if err == nil || !strings.Contains(err.Error(), "stopped") {
		t.Errorf("error %v", err)
	}
}

func TestMissingTesseractSaysHowToGetIt(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if _, err := New(t.Context()); err == nil || !strings.Contains(err.Error(), "apt-get install tesseract-ocr") {
		t.Errorf("error %v", err)
	}
}

func FuzzTable(f *testing.F) {
	f.Add("level\tpage\n5\t1\t1\t1\t1\t1\t10\t20\t30\t12\t96.5\tH317\n")
	f.Add("5\t1\t1\t1\t1\t1\tx\t20\t30\t12\t96.5\tH317\n5\t1\t1\t1\t1\t2\tNaN\t1\t1\t1\t1\ta\tb")
	f.Fuzz(func(t *testing.T, table string) {
		words, err := parseTSV([]byte(table))
		for _, w := range words {
			if err == nil && (w.Text == "" || w.Confidence < 0) {
				t.Errorf("word %+v", w)
			}
		}
	})
}
