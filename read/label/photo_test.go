package label_test

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/read/label"
	"sixteen/read/ocr"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

// view is how a label was photographed.
type view struct {
	name    string
	dpi     float64 // of the label in the photograph
	turn    float64 // degrees, clockwise
	lean    float64 // how much smaller the far end is, as a share
	sag     float64 // how much lower the right end lies, as a share of the height
	bend    float64 // how much lower the ends lie than the middle, as a share of the width: the label sits on a tin
	blur    float64 // standard deviation, pixels
	shadow  float64 // how much darker the dark corner is, as a share
	noise   float64 // standard deviation, of 255
	quality int     // of the JPEG
}

// views are usual photographs taken with a telephone: each has one fault, the last three have several.
var views = []view{
	{name: "straight", dpi: 200, noise: 3, quality: 85},
	{name: "turned by 3 degrees", dpi: 200, turn: 3, blur: 0.6, noise: 4, quality: 80},
	{name: "turned by −5 degrees", dpi: 200, turn: -5, blur: 0.6, noise: 4, quality: 80},
	{name: "seen from the side", dpi: 200, lean: 0.12, sag: 0.03, blur: 0.6, noise: 4, quality: 80},
	{name: "around a tin", dpi: 200, bend: 0.05, blur: 0.6, noise: 4, quality: 80},
	{name: "half in shadow", dpi: 200, shadow: 0.6, blur: 0.6, noise: 5, quality: 80},
	{name: "blurred", dpi: 200, blur: 1.3, noise: 4, quality: 75},
	{name: "from afar", dpi: 130, blur: 0.5, noise: 4, quality: 80},
	{name: "pressed hard", dpi: 200, blur: 0.5, noise: 4, quality: 55},
	{name: "all of it, little", dpi: 200, turn: 3, lean: 0.05, sag: 0.01, blur: 0.9, shadow: 0.4, noise: 5, quality: 70},
	{name: "all of it, more", dpi: 170, turn: -4, lean: 0.08, sag: 0.02, blur: 1.0, shadow: 0.5, noise: 6, quality: 65},
	{name: "on a tin in a corner", dpi: 200, turn: 6, bend: 0.03, blur: 0.8, shadow: 0.5, noise: 5, quality: 75},
}

// onLabel is the place on the label, in pixels of its picture of size w by h, that is seen at (x, y) of the photograph.
func (v view) onLabel(x, y, w, h float64) (float64, float64) {
	margin := v.margin(w, h)
	sin, cos := math.Sincos(v.turn * math.Pi / 180)
	px, py := x-margin-w/2, y-margin-h/2
	ux, uy := cos*px+sin*py, cos*py-sin*px
	k := 1 / (1 - v.lean*ux/w) // the right end is farther away
	ux, uy = ux*k, (uy-v.sag*h*ux/w)*k
	uy -= 4 * v.bend * w * (ux / w) * (ux / w)
	return ux + w/2, uy + h/2
}

func (v view) margin(w, h float64) float64 { return 0.12 * max(w, h) }

// photograph draws a picture of a label as the view shows it, on a dark bench.
func photograph(t testing.TB, src image.Image, v view, rng *rand.Rand) []byte {
	t.Helper()
	b := src.Bounds()
	w, h := float64(b.Dx()), float64(b.Dy())
	size := image.Rect(0, 0, int(w+2*v.margin(w, h)), int(h+2*v.margin(w, h)))
	var planes [3]*image.Gray
	for k := range planes {
		label := image.NewGray(image.Rect(0, 0, b.Dx(), b.Dy()))
		for y := range b.Dy() {
			for x := range b.Dx() {
				c := color.RGBAModel.Convert(src.At(b.Min.X+x, b.Min.Y+y)).(color.RGBA)
				label.Pix[y*label.Stride+x] = [3]uint8{c.R, c.G, c.B}[k]
			}
		}
		plane := image.NewGray(size)
		for y := range size.Dy() {
			for x := range size.Dx() {
				c := 60.0 + 15*math.Sin(float64(x)/40)*math.Sin(float64(y)/55)
				if sx, sy := v.onLabel(float64(x), float64(y), w, h); sx >= 0 && sy >= 0 && sx < w-1 && sy < h-1 {
					c = between(label, sx, sy)*0.86 + 18
				}
				plane.Pix[y*plane.Stride+x] = uint8(c)
			}
		}
		planes[k] = blurred(plane, v.blur)
	}
	out := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			across := (float64(x)/float64(size.Dx()) + float64(y)/float64(size.Dy())) / 2
			light, grain := 1-v.shadow*across, v.noise*rng.NormFloat64()
			i := out.PixOffset(x, y)
			for k, plane := range planes {
				out.Pix[i+k] = uint8(max(0, min(255, float64(plane.Pix[y*plane.Stride+x])*light+grain)))
			}
			out.Pix[i+3] = 255
		}
	}
	var j bytes.Buffer
	if err := jpeg.Encode(&j, out, &jpeg.Options{Quality: v.quality}); err != nil {
		t.Fatal(err)
	}
	return j.Bytes()
}

func between(g *image.Gray, x, y float64) float64 {
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	at := func(x, y int) float64 { return float64(g.Pix[y*g.Stride+x]) }
	return (at(x0, y0)*(1-fx)+at(x0+1, y0)*fx)*(1-fy) + (at(x0, y0+1)*(1-fx)+at(x0+1, y0+1)*fx)*fy
}

// blurred is the picture out of focus: a Gaussian of the given standard deviation.
func blurred(in *image.Gray, sigma float64) *image.Gray {
	if sigma <= 0 {
		return in
	}
	n := int(3*sigma + 1)
	kernel := make([]float64, 2*n+1)
	sum := 0.0
	for i := range kernel {
		kernel[i] = math.Exp(-float64((i-n)*(i-n)) / (2 * sigma * sigma))
		sum += kernel[i]
	}
	pass := func(in *image.Gray, dx, dy int) *image.Gray {
		out := image.NewGray(in.Rect)
		for y := range in.Rect.Dy() {
			for x := range in.Rect.Dx() {
				c := 0.0
				for i, k := range kernel {
					xx := max(0, min(in.Rect.Dx()-1, x+(i-n)*dx))
					yy := max(0, min(in.Rect.Dy()-1, y+(i-n)*dy))
					c += k * float64(in.Pix[yy*in.Stride+xx])
				}
				out.Pix[y*out.Stride+x] = uint8(c/sum + 0.5)
			}
		}
		return out
	}
	return pass(pass(in, 1, 0), 0, 1)
}

// tally counts what was read of the labels of one view.
type tally struct{ right, missed, wrong int }

func (c *tally) add(n tally) {
	c.right, c.missed, c.wrong = c.right+n.right, c.missed+n.missed, c.wrong+n.wrong
}

func (c tally) String() string { return fmt.Sprintf("%d of %d", c.right, c.right+c.missed) }

// alike counts how many of want were read, and what else was; said names the differences.
func alike[T comparable](got, want []T) (c tally, said []string) {
	for _, w := range want {
		if slices.Contains(got, w) {
			c.right++
		} else {
			c.missed++
			said = append(said, fmt.Sprint(w))
		}
	}
	for _, g := range got {
		if !slices.Contains(want, g) {
			c.wrong++
			said = append(said, fmt.Sprint("wrong: ", g))
		}
	}
	return c, said
}

func codes(all ...[]sheet.Fact[sheet.Statement]) (out []ghs.Code) {
	for _, f := range slices.Concat(all...) {
		out = append(out, f.Value.Code)
	}
	return out
}

var (
	photos = flag.Int("photos", 1, "photographs of each view")
	first  = flag.Int("first", 0, "number of the first photograph of each view; others give others")
)

// TestPhotographs reads labels photographed in usual ways. Its figures with -v -args -photos 3 -first 100 stand in docs/figures.md.
func TestPhotographs(t *testing.T) {
	engine, err := pdf.NewEngine(t.Context(), pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	words, err := ocr.New(t.Context())
	if err != nil {
		t.Fatal(err) // make prepare installs Tesseract
	}
	rng := rand.New(rand.NewPCG(7, uint64(7+*first)))
	var all [3]tally
	for i, v := range views {
		var one [3]tally
		for k := *first; k < *first+*photos; k++ {
			lang := ghs.Langs()[(i+k)%len(ghs.Langs())]
			want := invented(lang)
			look, err := sheetprint.NewLayout(1+(i+k)%8, ghs.EUCLP, lang, uint64(5+i+k))
			if err != nil {
				t.Fatal(err)
			}
			data, err := sheetprint.PrintLabel(want, lang, look)
			if err != nil {
				t.Fatal(err)
			}
			img := drawn(t, engine, data, v.dpi)
			got, err := label.Read(t.Context(), photograph(t, img, v, rng), label.Options{PDF: engine, Recogniser: words})
			if err != nil {
				t.Errorf("%s, %s: %v", v.name, lang, err)
				continue
			}
			var pictograms []ghs.Pictogram
			for _, f := range got.Pictograms {
				pictograms = append(pictograms, f.Value)
			}
			statements, said := alike(codes(got.Statements, got.Precautions), []ghs.Code{"H302", "H314", "H317", "H411", "P280", "P273"})
			symbols, more := alike(pictograms, want.Pictograms)
			rest, others := alike([]string{got.Product.Value, got.SignalPrinted.Value, got.Supplier.Value}, []string{want.Product, want.SignalPrinted, want.Supplier})
			for j, c := range []tally{statements, symbols, rest} {
				one[j].add(c)
				all[j].add(c)
			}
			if said = slices.Concat(said, more, others); len(said) > 0 {
				t.Logf("%s, %s: %q in %q", v.name, lang, said, got.Text)
			}
			inPlace(t, v, img.Bounds(), got)
		}
		t.Logf("| %s | %v | %v | %v |", v.name, one[0], one[1], one[2])
	}
	t.Logf("statements %v, wrong %d; pictograms %v, wrong %d; words %v", all[0], all[0].wrong, all[1], all[1].wrong, all[2])
	for j, what := range []string{"statements", "pictograms", "name, signal word and supplier"} {
		if c := all[j]; c.right*100 < 95*(c.right+c.missed) {
			t.Errorf("%s: %v read, want 95 of 100", what, c)
		}
	}
	if all[0].wrong+all[1].wrong > 0 {
		t.Error("something was read that the label does not say")
	}
}

// inPlace checks that the name and the signal word are where the photograph shows them: in the bar of the label, and
// below it right of the pictograms.
func inPlace(t *testing.T, v view, label image.Rectangle, got *label.Label) {
	t.Helper()
	w, h := float64(label.Dx()), float64(label.Dy())
	for _, c := range []struct {
		what           string
		at             []sheet.Evidence
		x0, y0, x1, y1 float64 // shares of the label
	}{
		{"the name", got.Product.Evidence, 0, 0, 0.6, 0.15},
		{"the signal word", got.SignalWord.Evidence, 0.1, 0.15, 0.4, 0.26},
	} {
		for _, e := range c.at {
			x, y := v.onLabel((e.Box.X0+e.Box.X1)/2, (e.Box.Y0+e.Box.Y1)/2, w, h)
			if x < c.x0*w || x > c.x1*w || y < c.y0*h || y > c.y1*h {
				t.Errorf("%s: %s is said to stand at %.2f, %.2f of the label", v.name, c.what, x/w, y/h)
			}
		}
	}
}

// drawn is the picture of a label printed as PDF.
func drawn(t *testing.T, engine *pdf.Engine, data []byte, dpi float64) image.Image {
	t.Helper()
	doc, err := engine.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	img, err := doc.Render(0, dpi)
	if err != nil {
		t.Fatal(err)
	}
	return img
}
