package label_test

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"sixteen/audit"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/read/label"
	"sixteen/read/ocr"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

// invented is a label of a product that nobody sells.
func invented(lang ghs.Lang) audit.Label {
	l := audit.Label{Product: "Tidewater Fast Hardener", UFI: "XUV3-XE2D-IX7D-N3DG", Supplier: "Wrackhaven Coatings Works", Address: "4 Capstan Row, Skerrymouth",
		Phone: "+00 555 026 112", CapacityML: 750, SignalPrinted: ghs.Danger.In(lang), Pictograms: []ghs.Pictogram{ghs.Corrosion, ghs.ExclamationMark, ghs.Environment}}
	for _, c := range []ghs.Code{"H302", "H314", "H317", "H411"} {
		text, _ := ghs.Phrase(c, lang)
		l.Statements = append(l.Statements, sheet.Statement{Code: c, Phrase: text})
	}
	for _, c := range []ghs.Code{"P280", "P273"} {
		text, _ := ghs.Phrase(c, lang)
		l.Precautions = append(l.Precautions, sheet.Statement{Code: c, Phrase: text})
	}
	return l
}

func printed(t *testing.T, l audit.Label, lang ghs.Lang) []byte {
	t.Helper()
	look, err := sheetprint.NewLayout(1, ghs.EUCLP, lang, 5)
	if err != nil {
		t.Fatal(err)
	}
	data, err := sheetprint.PrintLabel(l, lang, look)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// photographed draws a label, tilts it a little, adds noise and packs it as JPEG.
func photographed(t *testing.T, engine *pdf.Engine, data []byte) []byte {
	t.Helper()
	doc, err := engine.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	src, err := doc.Render(0, 300)
	if err != nil {
		t.Fatal(err)
	}
	b := src.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()+120, b.Dy()+120))
	rng := rand.New(rand.NewPCG(4, 4))
	w, h := float64(b.Dx()), float64(b.Dy())
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			// seen from the side: the right edge is 4 % lower; turned by about one degree
			u, v := float64(x-60), float64(y-60)
			v = (v-h/2)/(1-0.04*u/w) + h/2 + 0.015*(u-w/2)
			shade := uint8(150)
			i := out.PixOffset(x, y)
			if u >= 0 && v >= 0 && u < w && v < h {
				r, g, bl, _ := src.At(int(u), int(v)).RGBA()
				for k, c := range [3]uint32{r, g, bl} {
					out.Pix[i+k] = uint8(max(0, min(255, float64(c>>8)*0.88+10+6*rng.NormFloat64())))
				}
			} else {
				out.Pix[i], out.Pix[i+1], out.Pix[i+2] = shade, shade, shade
			}
			out.Pix[i+3] = 255
		}
	}
	var j bytes.Buffer
	if err := jpeg.Encode(&j, out, &jpeg.Options{Quality: 80}); err != nil {
		t.Fatal(err)
	}
	return j.Bytes()
}

func compare(t *testing.T, got *label.Label, want audit.Label) {
	t.Helper()
	if got.Product.Value != want.Product {
		t.Errorf("product %q, want %q", got.Product.Value, want.Product)
	}
	if got.SignalWord.Value != ghs.Danger {
		t.Errorf("signal word %q", got.SignalPrinted.Value)
	}
	if got.Supplier.Value != want.Supplier {
		t.Errorf("supplier %q, want %q", got.Supplier.Value, want.Supplier)
	}
	if got.Phone.Value != want.Phone || got.UFI.Value != want.UFI {
		t.Errorf("telephone %q, UFI %q", got.Phone.Value, got.UFI.Value)
	}
	var pictograms []ghs.Pictogram
	for _, f := range got.Pictograms {
		pictograms = append(pictograms, f.Value)
	}
	slices.Sort(pictograms)
	if !slices.Equal(pictograms, want.Pictograms) {
		t.Errorf("pictograms %v, want %v", pictograms, want.Pictograms)
	}
	codes := func(all []sheet.Fact[sheet.Statement]) string {
		var out []string
		for _, f := range all {
			out = append(out, string(f.Value.Code))
			if len(f.Evidence) == 0 || f.Evidence[0].Box == (sheet.Rect{}) {
				t.Errorf("%s has no place", f.Value.Code)
			}
		}
		slices.Sort(out)
		return strings.Join(out, " ")
	}
	if h := codes(got.Statements); h != "H302 H314 H317 H411" {
		t.Errorf("statements %s", h)
	}
	if p := codes(got.Precautions); p != "P273 P280" {
		t.Errorf("precautions %s", p)
	}
}

// A label as PDF, and as a photograph taken slightly from the side, is read whole in every language carried.
func TestLabels(t *testing.T) {
	engine, err := pdf.NewEngine(t.Context(), pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	words, err := ocr.New(t.Context())
	if err != nil {
		t.Fatal(err) // make prepare installs Tesseract
	}
	for _, lang := range ghs.Langs() {
		want := invented(lang)
		data := printed(t, want, lang)
		for how, file := range map[string][]byte{"pdf": data, "photograph": photographed(t, engine, data)} {
			t.Run(string(lang)+" "+how, func(t *testing.T) {
				got, err := label.Read(t.Context(), file, label.Options{PDF: engine, Recogniser: words})
				if err != nil {
					t.Fatal(err)
				}
				compare(t, got, want)
			})
		}
	}
}

func TestWhatIsNoLabel(t *testing.T) {
	if _, err := label.Read(t.Context(), []byte("just words"), label.Options{}); !errors.Is(err, label.ErrPicture) || !strings.Contains(err.Error(), "JPEG") {
		t.Errorf("error %v", err)
	}
	var blank bytes.Buffer
	if err := jpeg.Encode(&blank, image.NewGray(image.Rect(0, 0, 300, 200)), nil); err != nil {
		t.Fatal(err)
	}
	words, err := ocr.New(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := label.Read(t.Context(), blank.Bytes(), label.Options{Recogniser: words}); !errors.Is(err, label.ErrNothing) {
		t.Errorf("error %v", err)
	}
}
