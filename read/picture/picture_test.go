package picture

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/f64"
	"golang.org/x/image/math/fixed"

	"sixteen/ghs"
)

// variation is one way in which a pictogram comes before a reader.
type variation struct {
	side    int     // pixels across the whole diamond
	degrees float64 // turned clockwise
	grey    bool
	noise   float64 // standard deviation of the lightness, of 255
	tilt    float64 // how much narrower the far side is than the near one, as in photographs taken from the side
}

// vary draws a pictogram in that way.
func vary(g ghs.Pictogram, v variation, rng *rand.Rand) image.Image {
	const large = 400
	src := paint(g, large, 60)
	size := v.side * (large + 120) / large
	out := image.NewRGBA(image.Rect(0, 0, size, size))
	s, c := math.Sincos(v.degrees * math.Pi / 180)
	k := float64(v.side) / large
	mid, half := float64(large+120)/2, float64(size)/2
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	turn := f64.Aff3{k * c, -k * s, half - k*(c*mid-s*mid), k * s, k * c, half - k*(s*mid+c*mid)}
	draw.BiLinear.Transform(out, turn, src, src.Rect, draw.Src, nil)
	if v.tilt > 0 {
		out = tilted(out, v.tilt)
	}
	for i := 0; i < len(out.Pix); i += 4 {
		n := rng.NormFloat64() * v.noise
		for j := range 3 {
			out.Pix[i+j] = uint8(max(0, min(255, float64(out.Pix[i+j])+n)))
		}
	}
	if !v.grey {
		return out
	}
	flat := image.NewGray(out.Rect)
	draw.Draw(flat, flat.Rect, out, image.Point{}, draw.Src)
	return flat
}

// tilted narrows a picture towards its right side.
func tilted(in *image.RGBA, tilt float64) *image.RGBA {
	out := image.NewRGBA(in.Rect)
	n := float64(in.Rect.Dx())
	for y := range in.Rect.Dy() {
		for x := range in.Rect.Dx() {
			narrow := 1 - tilt*float64(x)/n
			sy := int((float64(y)-n/2)/narrow + n/2)
			if sy < 0 || sy >= in.Rect.Dy() {
				out.SetRGBA(x, y, color.RGBA{255, 255, 255, 255})
				continue
			}
			out.SetRGBA(x, y, in.RGBAAt(x, sy))
		}
	}
	return out
}

// pointsAcross is how wide small pictograms are printed; with the resolution it gives the pixels.
const pointsAcross = 36

// variations are all ways: resolutions of 60 to 600 dots per inch, turned up to 8 degrees, in colour and grey, with and
// without noise, and as photographed from the side.
func variations() []variation {
	var out []variation
	for _, dpi := range []int{60, 100, 150, 300, 600} {
		for _, degrees := range []float64{-8, 0, 4} {
			for _, grey := range []bool{false, true} {
				for _, w := range []struct{ noise, tilt float64 }{{0, 0}, {14, 0}, {6, 0.15}} {
					out = append(out, variation{dpi * pointsAcross / 72, degrees, grey, w.noise, w.tilt})
				}
			}
		}
	}
	return out
}

// Which pictogram is taken for which, over every variation. The table is printed with -v for docs/figures.md.
func TestConfusion(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	var table [10][10]int
	total, right, wrong := 0, 0, 0
	for _, g := range ghs.Pictograms() {
		for _, v := range variations() {
			total++
			got := ghs.NoPictogram
			for _, s := range Find(vary(g, v, rng)) {
				if s.Pictogram != ghs.NoPictogram {
					got = s.Pictogram
				}
			}
			table[g][got]++
			switch got {
			case g:
				right++
			case ghs.NoPictogram:
				t.Logf("%s not understood: %+v", g, v)
			default:
				wrong++
				t.Errorf("%s taken for %s: %+v", g, got, v)
			}
		}
	}
	header := "| shown \\ read |"
	for _, g := range ghs.Pictograms() {
		header += " " + g.String() + " |"
	}
	t.Log(header + " none |")
	for _, g := range ghs.Pictograms() {
		row := fmt.Sprintf("| %s |", g)
		for _, h := range ghs.Pictograms() {
			row += fmt.Sprintf(" %d |", table[g][h])
		}
		t.Logf("%s %d |", row, table[g][ghs.NoPictogram])
	}
	t.Logf("%d of %d right, %d taken for another", right, total, wrong)
	if float64(right) < 0.97*float64(total) {
		t.Errorf("%d of %d understood", right, total)
	}
}

// ground is white paper.
func ground(w, h int) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	return out
}

// square paints a square on its corner around a centre, half its width each way.
func square(img *image.RGBA, cx, cy, half int, c color.Color) {
	for y := -half; y <= half; y++ {
		for x := -half; x <= half; x++ {
			if max(x, -x)+max(y, -y) <= half {
				img.Set(cx+x, cy+y, c)
			}
		}
	}
}

func letters(t *testing.T, img *image.RGBA, x, y int, size float64, text string) {
	t.Helper()
	f, err := opentype.Parse(gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	d := font.Drawer{Dst: img, Src: image.Black, Face: face}
	d.Dot = fixed.P(x-d.MeasureString(text).Round()/2, y)
	d.DrawString(text)
}

// insert puts the symbol of a pictogram, without its frame, into the middle of img.
func insert(img *image.RGBA, g ghs.Pictogram, cx, cy, half int) {
	src := paint(g, 2*half, 0)
	for y := range src.Rect.Dy() {
		for x := range src.Rect.Dx() {
			if c := src.RGBAAt(x, y); c.R < 100 {
				img.Set(cx-half+x, cy-half+y, c)
			}
		}
	}
}

// What looks like a pictogram and is none is left out. Transport labels are those of the UN Model Regulations 5.2.2.2.2:
// colour fills the diamond, or its line is thin, and a number stands in the lower corner.
func TestOtherDiamondsAreNoPictograms(t *testing.T) {
	black, white := color.RGBA{0, 0, 0, 255}, color.RGBA{255, 255, 255, 255}
	for name, make := range map[string]func(img *image.RGBA){
		"flammable liquid, class 3": func(img *image.RGBA) {
			square(img, 100, 100, 90, black)
			square(img, 100, 100, 87, color.RGBA{210, 40, 40, 255})
			insert(img, ghs.Flame, 100, 80, 60)
			letters(t, img, 100, 175, 30, "3")
		},
		"toxic, class 6.1": func(img *image.RGBA) {
			square(img, 100, 100, 90, black)
			square(img, 100, 100, 87, white)
			insert(img, ghs.SkullCrossbones, 100, 80, 60)
			letters(t, img, 100, 175, 30, "6")
		},
		"toxic, class 6.1, in a heavy line": func(img *image.RGBA) {
			square(img, 100, 100, 90, black)
			square(img, 100, 100, 80, white)
			insert(img, ghs.SkullCrossbones, 100, 85, 60)
			letters(t, img, 100, 165, 26, "6")
		},
		"rating diamond": func(img *image.RGBA) {
			square(img, 100, 100, 92, black)
			for i, c := range []color.RGBA{{70, 120, 200, 255}, {215, 60, 50, 255}, {245, 220, 70, 255}, white} {
				at := []image.Point{{56, 100}, {100, 56}, {144, 100}, {100, 144}}[i]
				square(img, at.X, at.Y, 42, c)
				letters(t, img, at.X, at.Y+12, 34, fmt.Sprint(i))
			}
		},
		"outline of a diamond": func(img *image.RGBA) {
			square(img, 100, 100, 90, black)
			square(img, 100, 100, 80, white)
		},
		"round mark": func(img *image.RGBA) {
			for y := range 200 {
				for x := range 200 {
					if d := math.Hypot(float64(x-100), float64(y-100)); d > 75 && d < 85 {
						img.Set(x, y, color.RGBA{220, 20, 20, 255})
					}
				}
			}
			insert(img, ghs.ExclamationMark, 100, 100, 60)
		},
	} {
		img := ground(200, 200)
		make(img)
		for _, s := range Find(img) {
			t.Errorf("%s: %+v", name, s)
		}
		if flat := image.NewGray(img.Rect); true {
			draw.Draw(flat, flat.Rect, img, image.Point{}, draw.Src)
			for _, s := range Find(flat) {
				if s.Pictogram != ghs.NoPictogram {
					t.Errorf("%s in grey: %+v", name, s)
				}
			}
		}
	}
}

// A red diamond with a symbol of nobody's is reported, not guessed.
func TestUnknownSymbolIsReported(t *testing.T) {
	img := ground(200, 200)
	square(img, 100, 100, 90, color.RGBA{226, 0, 26, 255})
	square(img, 100, 100, 78, color.RGBA{255, 255, 255, 255})
	letters(t, img, 100, 118, 60, "WX")
	seen := Find(img)
	if len(seen) != 1 || seen[0].Pictogram != ghs.NoPictogram || seen[0].Why == "" || !seen[0].Red {
		t.Errorf("%+v", seen)
	}
}

// Pictograms side by side whose frames touch are told apart, and their boxes enclose them.
func TestNeighboursThatTouch(t *testing.T) {
	want := []ghs.Pictogram{ghs.Flame, ghs.ExclamationMark, ghs.HealthHazard}
	img := ground(3*120+20, 140)
	for i, g := range want {
		part := paint(g, 120, 0)
		draw.Draw(img, part.Rect.Add(image.Pt(10+120*i, 10)), part, image.Point{}, draw.Over)
	}
	found := map[ghs.Pictogram]image.Rectangle{}
	for _, s := range Find(img) {
		found[s.Pictogram] = s.Box
	}
	for i, g := range want {
		box := found[g]
		if d := box.Min.Sub(image.Pt(10+120*i, 10)); len(found) != 3 || max(d.X, -d.X, d.Y, -d.Y) > 4 || max(box.Dx()-120, 120-box.Dx()) > 6 {
			t.Errorf("%s: box %v among %v", g, box, found)
		}
	}
}

// A page with five candidates, as they are drawn for looking at: 110 pixels a symbol.
func BenchmarkPage(b *testing.B) {
	var pictures []image.Image
	rng := rand.New(rand.NewPCG(1, 2))
	for g := ghs.Flame; g <= ghs.SkullCrossbones; g++ {
		pictures = append(pictures, vary(g, variation{side: symbolPixels}, rng))
	}
	drawings()
	for b.Loop() {
		for _, p := range pictures {
			if len(Find(p)) != 1 {
				b.Fatal("not found")
			}
		}
	}
}
