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

// A dash is as low as its ink; it takes the height of its line, so that a range stays in one.
func TestDashesStandInTheirLine(t *testing.T) {
	table := "level\tpage\tblock\tpar\tline\tword\tleft\ttop\twidth\theight\tconf\ttext\n" +
		"4\t1\t1\t1\t1\t0\t100\t200\t300\t30\t-1\t\n" +
		"5\t1\t1\t1\t1\t1\t100\t202\t40\t26\t96\t30\n" +
		"5\t1\t1\t1\t1\t2\t150\t214\t12\t3\t90\t-\n" +
		"5\t1\t1\t1\t1\t3\t170\t202\t40\t26\t95\t60\n"
	words, err := parseTSV([]byte(table))
	if err != nil || len(words) != 3 {
		t.Fatalf("%v, %v", words, err)
	}
	if b := words[1].Box; b.Y0 != 200 || b.Y1 != 230 || b.X0 != 150 || b.X1 != 162 {
		t.Errorf("the dash stands at %v", b)
	}
	if b := words[0].Box; b.Y0 != 202 || b.Y1 != 228 {
		t.Errorf("a number moved to %v", b)
	}
}

func TestGluedRanges(t *testing.T) {
	for in, want := range map[string]string{"15a20": "15 a 20", "5to10%": "5 to 10%", "2,5bis5": "2,5 bis 5", "H302a": "H302a", "25a": "25a", "1a2b": "1a2b", "2024to2025": "2024to2025"} {
		if got, _ := mend(in); got != want {
			t.Errorf("%q became %q, want %q", in, got, want)
		}
	}
}

// Lines are laid out on the level page; the place that is shown is that on the crooked one.
func TestPlaceOfACrookedWord(t *testing.T) {
	turn := turned{angle: 0.02, cx: 500, cy: 500}
	level := sheet.Rect{X0: 900, Y0: 100, X1: 940, Y1: 120}
	shown := turn.back(level)
	if shown == level || shown.X1-shown.X0 != 40 {
		t.Fatalf("turned back to %v", shown)
	}
	if w := (page.Word{Box: level, Shown: shown}); w.Place() != shown {
		t.Errorf("shown at %v", w.Place())
	}
	if w := (page.Word{Box: level}); w.Place() != level {
		t.Errorf("a level word is shown at %v", w.Place())
	}
}
