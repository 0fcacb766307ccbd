package pdf_test

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/goregular"

	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

// near tells whether two boxes agree within d points on each side.
func near(a, b sheet.Rect, d float64) bool {
	return math.Abs(a.X0-b.X0) <= d && math.Abs(a.Y0-b.Y0) <= d && math.Abs(a.X1-b.X1) <= d && math.Abs(a.Y1-b.Y1) <= d
}

func TestWordsStandWhereTheyAreDrawn(t *testing.T) {
	var width float64
	p := read(t, made(t, func(f *fpdf.Fpdf) {
		f.Text(100, 200, "Signal word:")
		f.SetFont("Helvetica", "B", 14)
		width = f.GetStringWidth("Danger")
		f.Text(180, 200, "Danger")
	}))[0]
	if p.Width != 612 || p.Height != 792 || p.How != sheet.ByText || p.Number != 1 {
		t.Errorf("page %d is %v × %v by %s", p.Number, p.Width, p.Height, p.How)
	}
	if got := texts(p); got != "Signal word: Danger" {
		t.Errorf("words are %q", got)
	}
	w := find(t, p, "Danger")
	// Helvetica's capitals are 0.72 of the size high; D's left bearing is 0.08.
	if want := (sheet.Rect{X0: 181, Y0: 190, X1: 180 + width, Y1: 203}); !near(w.Box, want, 1.5) {
		t.Errorf("box is %v, want about %v", w.Box, want)
	}
	if w.Size != 14 || !w.Bold || w.Angle != 0 || w.Confidence != 1 {
		t.Errorf("word is %+v", w)
	}
	if s := find(t, p, "Signal"); s.Bold || !s.SpaceAfter || s.Size != 10 {
		t.Errorf("word is %+v", s)
	}
}

// A page is reported as it is shown: PDF 32000-1, table 30, Rotate turns it clockwise.
func TestRotatedPagesAreAsShown(t *testing.T) {
	const content = "BT /F1 10 Tf 100 300 Td (Danger) Tj ET"
	for _, c := range []struct {
		rotate, angle int
		width         float64
		box           sheet.Rect
	}{
		{0, 0, 600, sheet.Rect{X0: 101, Y0: 92, X1: 133, Y1: 102}},
		{90, 270, 400, sheet.Rect{X0: 298, Y0: 101, X1: 308, Y1: 133}},
		{180, 180, 600, sheet.Rect{X0: 467, Y0: 298, X1: 499, Y1: 308}},
		{270, 90, 400, sheet.Rect{X0: 92, Y0: 467, X1: 102, Y1: 499}},
	} {
		p := read(t, onePage("/Rotate "+itoa(c.rotate), content))[0]
		w := find(t, p, "Danger")
		if p.Width != c.width || w.Angle != c.angle || !near(w.Box, c.box, 2) {
			t.Errorf("Rotate %d: width %v, angle %d, box %v; want %v, %d, %v", c.rotate, p.Width, w.Angle, w.Box, c.width, c.angle, c.box)
		}
	}
}

func itoa(n int) string {
	return string([]byte{byte('0' + n/100), byte('0' + n/10%10), byte('0' + n%10)})
}

func TestTextTurnedOnThePage(t *testing.T) {
	p := read(t, onePage("", "BT /F1 10 Tf 0 1 -1 0 200 100 Tm (Upwards) Tj ET BT /F1 10 Tf 0.7 0.7 -0.7 0.7 300 100 Tm (DRAFT) Tj ET"))[0]
	if w := find(t, p, "Upwards"); w.Angle != 90 || w.Box.Y1-w.Box.Y0 < 30 {
		t.Errorf("word is %+v", w)
	}
	if got := texts(p); got != "Upwards" {
		t.Errorf("words are %q: a slanted watermark is no text", got)
	}
}

// A page whose visible part does not begin at the origin: CropBox, PDF 32000-1, 14.11.2.
func TestCroppedPage(t *testing.T) {
	p := read(t, onePage("/CropBox [50 50 550 350]", "BT /F1 10 Tf 100 300 Td (inside) Tj ET BT /F1 10 Tf 5 380 Td (outside) Tj ET"))[0]
	if w := find(t, p, "inside"); p.Width != 500 || math.Abs(w.Box.X0-50.5) > 1.5 || math.Abs(w.Box.Y1-52) > 1.5 {
		t.Errorf("page is %v wide, word at %v", p.Width, w.Box)
	}
	if got := texts(p); got != "inside" {
		t.Errorf("words are %q", got)
	}
}

func TestLigaturesAndSoftHyphens(t *testing.T) {
	f := fpdf.New("P", "pt", "Letter", "")
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddPage()
	f.SetFont("go", "", 11)
	f.Text(50, 100, "ﬁre ﬂash ill\u00adness 10 µg/m³")
	if got := texts(read(t, output(t, f))[0]); got != "fire flash illness 10 µg/m³" {
		t.Errorf("words are %q", got)
	}
}

func TestWordsDrawnTwiceCountOnce(t *testing.T) {
	p := read(t, made(t, func(f *fpdf.Fpdf) {
		f.Text(100, 100, "WARNING: flammable")
		f.Text(200, 140, "elsewhere")
		f.Text(100.3, 100, "WARNING: flammable")
		f.Text(100, 160, "WARNING: flammable")
	}))[0]
	if got := strings.Count(texts(p), "WARNING:"); got != 2 {
		t.Errorf("WARNING: occurs %d times in %q, want 2", got, texts(p))
	}
}

func TestHiddenTextCountsOnlyOnScans(t *testing.T) {
	const hidden = "BT 3 Tr /F1 10 Tf 100 300 Td (recognised) Tj ET"
	if got := texts(read(t, onePage("", "BT /F1 10 Tf 100 200 Td (seen) Tj ET "+hidden))[0]); got != "seen" {
		t.Errorf("words are %q", got)
	}
	scan := assembled(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 5 0 R >> /XObject << /I 6 0 R >> >> /Contents 4 0 R >>",
		stream("q 600 0 0 400 0 0 cm /I Do Q "+hidden),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
		"<< /Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8 /Length 1 >>\nstream\n\xff\nendstream",
	)
	p := read(t, scan)[0]
	if got := texts(p); got != "recognised" {
		t.Errorf("words of the scan are %q", got)
	}
	if len(p.Images) != 1 || p.Images[0].Vector {
		t.Errorf("images are %v", p.Images)
	}
}

// The characters of a font without a table to Unicode (Identity-H and no ToUnicode) are unknown: recognition may take
// over where Confidence is 0.
func TestUnnamedCharactersHaveNoConfidence(t *testing.T) {
	p := read(t, assembled(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 5 0 R /F2 8 0 R >> >> /Contents 4 0 R >>",
		stream("BT /F1 10 Tf 100 300 Td <002400250026> Tj ET BT /F2 10 Tf 100 200 Td (plain) Tj ET"),
		"<< /Type /Font /Subtype /Type0 /BaseFont /Odd /Encoding /Identity-H /DescendantFonts [6 0 R] >>",
		"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Odd /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor 7 0 R >>",
		"<< /Type /FontDescriptor /FontName /Odd /Flags 4 /FontBBox [0 0 1000 1000] /ItalicAngle 0 /Ascent 800 /Descent -200 /CapHeight 700 /StemV 80 >>",
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
	))[0]
	if w := find(t, p, "plain"); w.Confidence != 1 {
		t.Errorf("plain word is %+v", w)
	}
	for _, w := range p.Words {
		if w.Text != "plain" && w.Confidence != 0 {
			t.Errorf("word %+v of a font without names has confidence", w)
		}
	}
}

// The Symbol font's signs, Adobe "Symbol Set and Encoding" (PDF 32000-1, D.5): code 0xA3 is ≤, 0xB3 is ≥, 0x6D is μ.
func TestSignsOfTheSymbolFont(t *testing.T) {
	for name, encoding := range map[string]string{"own": "", "taken for Latin-1": "/Encoding /WinAnsiEncoding"} {
		p := read(t, assembled(
			"<< /Type /Catalog /Pages 2 0 R >>",
			"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
			"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 5 0 R >> >> /Contents 4 0 R >>",
			stream("BT /F1 10 Tf 100 300 Td <A3> Tj 50 0 Td <B3> Tj ET"),
			"<< /Type /Font /Subtype /Type1 /BaseFont /Symbol "+encoding+" >>",
		))[0]
		if got := texts(p); got != "≤ ≥" {
			t.Errorf("%s encoding: signs are %q", name, got)
		}
	}
}

func TestFormFieldsShowTheirValues(t *testing.T) {
	data := assembled(
		"<< /Type /Catalog /Pages 2 0 R /AcroForm << /Fields [6 0 R] /NeedAppearances true /DR << /Font << /Helv 5 0 R >> >> /DA (/Helv 10 Tf 0 g) >> >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 5 0 R >> >> /Contents 4 0 R /Annots [6 0 R] >>",
		stream("BT /F1 10 Tf 100 300 Td (Product:) Tj ET"),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
		"<< /Type /Annot /Subtype /Widget /FT /Tx /T (name) /V (Ternfast) /Rect [200 295 320 312] /F 4 /DA (/Helv 10 Tf 0 g) >>",
	)
	p := read(t, data)[0]
	if w := find(t, p, "Ternfast"); w.Box.X0 < 199 || w.Box.X1 > 321 || w.Box.Y0 < 85 || w.Box.Y1 > 108 {
		t.Errorf("the value stands at %v", w.Box)
	}
}

func TestRulesPicturesAndDrawings(t *testing.T) {
	var picture bytes.Buffer
	img := image.NewGray(image.Rect(0, 0, 4, 4))
	if err := png.Encode(&picture, img); err != nil {
		t.Fatal(err)
	}
	p := read(t, made(t, func(f *fpdf.Fpdf) {
		f.SetLineWidth(0.5)
		f.Line(50, 100, 300, 100)
		for x := 50.0; x < 298; x += 4 {
			f.Line(x, 120, x+2, 120) // dashes drawn one by one
		}
		f.Rect(50, 150, 200, 40, "D")
		f.Polygon([]fpdf.PointType{{X: 400, Y: 100}, {X: 430, Y: 130}, {X: 400, Y: 160}, {X: 370, Y: 130}}, "D")
		f.RegisterImageOptionsReader("p", fpdf.ImageOptions{ImageType: "PNG"}, &picture)
		f.ImageOptions("p", 300, 300, 40, 40, false, fpdf.ImageOptions{}, 0, "")
		f.ImageOptions("p", 400, 300, 40, 20, false, fpdf.ImageOptions{}, 0, "") // a picture in two strips
		f.ImageOptions("p", 400, 320, 40, 20, false, fpdf.ImageOptions{}, 0, "")
	}))[0]
	for _, want := range []page.Rule{
		{Box: sheet.Rect{X0: 50, Y0: 100, X1: 300, Y1: 100}, Horizontal: true},
		{Box: sheet.Rect{X0: 50, Y0: 120, X1: 296, Y1: 120}, Horizontal: true},
		{Box: sheet.Rect{X0: 50, Y0: 150, X1: 250, Y1: 150}, Horizontal: true},
		{Box: sheet.Rect{X0: 50, Y0: 190, X1: 250, Y1: 190}, Horizontal: true},
		{Box: sheet.Rect{X0: 50, Y0: 150, X1: 50, Y1: 190}},
		{Box: sheet.Rect{X0: 250, Y0: 150, X1: 250, Y1: 190}},
	} {
		if !hasRule(p.Rules, want) {
			t.Errorf("no rule %v among %v", want, p.Rules)
		}
	}
	if len(p.Rules) != 6 {
		t.Errorf("%d rules, want 6: %v", len(p.Rules), p.Rules)
	}
	want := []page.Image{
		{Box: sheet.Rect{X0: 300, Y0: 300, X1: 340, Y1: 340}},
		{Box: sheet.Rect{X0: 400, Y0: 300, X1: 440, Y1: 340}},
		{Box: sheet.Rect{X0: 370, Y0: 100, X1: 430, Y1: 160}, Vector: true},
	}
	if len(p.Images) != len(want) {
		t.Fatalf("images are %v, want %v", p.Images, want)
	}
	for i, w := range want {
		if p.Images[i].Vector != w.Vector || !near(p.Images[i].Box, w.Box, 1.5) {
			t.Errorf("image %d is %v, want %v", i, p.Images[i], w)
		}
	}
}

func hasRule(rules []page.Rule, want page.Rule) bool {
	for _, r := range rules {
		if r.Horizontal == want.Horizontal && near(r.Box, want.Box, 2) {
			return true
		}
	}
	return false
}

// What lies in a form XObject is placed by the matrices of form and page: PDF 32000-1, 8.10.
func TestFormsInsideThePage(t *testing.T) {
	p := read(t, assembled(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /XObject << /X 6 0 R >> >> /Contents 4 0 R >>",
		stream("q 2 0 0 2 100 50 cm /X Do Q"),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
		strings.Replace(stream("0 0 m 100 0 l S 10 10 m 30 10 l 30 11 l 10 30 l h f BT /F1 10 Tf 10 50 Td (nested) Tj ET"), "<<",
			"<< /Type /XObject /Subtype /Form /BBox [0 0 200 100] /Matrix [1 0 0 1 10 0] /Resources << /Font << /F1 5 0 R >> >>", 1),
	))[0]
	if w := find(t, p, "nested"); w.Size != 20 || math.Abs(w.Box.X0-141) > 2 || math.Abs(w.Box.Y1-254) > 2 {
		t.Errorf("word is %+v", w)
	}
	if !hasRule(p.Rules, page.Rule{Box: sheet.Rect{X0: 120, Y0: 350, X1: 320, Y1: 350}, Horizontal: true}) {
		t.Errorf("rules are %v", p.Rules)
	}
	if len(p.Images) != 1 || !near(p.Images[0].Box, sheet.Rect{X0: 140, Y0: 290, X1: 180, Y1: 330}, 1) {
		t.Errorf("images are %v", p.Images)
	}
}

func TestRender(t *testing.T) {
	d, err := engine(t).Open(t.Context(), onePage("", "1 0 0 rg 100 100 200 100 re f"))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	img, err := d.Render(0, 144)
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 1200 || b.Dy() != 800 {
		t.Errorf("picture is %v", b)
	}
	if got := color.RGBAModel.Convert(img.At(400, 500)); got != (color.RGBA{255, 0, 0, 255}) {
		t.Errorf("inside the box the colour is %v", got)
	}
	if got := color.RGBAModel.Convert(img.At(100, 100)); got != (color.RGBA{255, 255, 255, 255}) {
		t.Errorf("outside the colour is %v", got)
	}
	if _, err := d.Render(0, 5000); !errors.Is(err, pdf.ErrPicture) {
		t.Errorf("rendering at 5000 dpi: %v", err)
	}
}

func TestErrorsSayWhatToDo(t *testing.T) {
	locked := made(t, func(f *fpdf.Fpdf) { f.SetProtection(fpdf.CnProtectPrint, "secret", "owner") })
	whole := sheetOf(t, 3)
	small, err := pdf.NewEngine(t.Context(), pdf.Options{MaxBytes: 1 << 20, MaxPages: 2})
	if err != nil {
		t.Fatal(err)
	}
	defer small.Close()
	for _, c := range []struct {
		name string
		data []byte
		want error
		says string
	}{
		{"empty", nil, pdf.ErrEmpty, "again"},
		{"web page", []byte("<!DOCTYPE html><html>404</html>"), pdf.ErrNotPDF, "web page"},
		{"picture", []byte("\x89PNG\r\n\x1a\n"), pdf.ErrNotPDF, "picture"},
		{"word document", []byte("PK\x03\x04rest"), pdf.ErrNotPDF, ".docx"},
		{"text", []byte("hello"), pdf.ErrNotPDF, "download"},
		{"only a head", []byte("%PDF-1.7\n"), pdf.ErrDamaged, "download"},
		{"locked", locked, pdf.ErrEncrypted, "password"},
		{"200 MB", append([]byte("%PDF-1.7"), make([]byte, 200<<20-8)...), pdf.ErrTooLarge, "200 MB, where at most 1 MB"},
		{"too many pages", whole, pdf.ErrTooManyPages, "3, where at most 2"},
	} {
		_, err := small.Open(t.Context(), c.data)
		if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %v saying %q", c.name, err, c.want, c.says)
		}
	}
}

func TestTwoThousandPages(t *testing.T) {
	data := made(t, func(f *fpdf.Fpdf) {
		for range 1999 {
			f.AddPage()
		}
	})
	_, err := engine(t).Open(t.Context(), data)
	if !errors.Is(err, pdf.ErrTooManyPages) || !strings.Contains(err.Error(), "2000") {
		t.Errorf("error is %v", err)
	}
}

// A document locked only against printing opens without a password.
func TestOwnerPasswordAlone(t *testing.T) {
	data := made(t, func(f *fpdf.Fpdf) {
		f.SetProtection(fpdf.CnProtectPrint, "", "owner")
		f.Text(50, 50, "readable")
	})
	if got := texts(read(t, data)[0]); got != "readable" {
		t.Errorf("words are %q", got)
	}
}

// A page that takes too much work is lost alone, and says so.
func TestOnlyTheHeavyPageIsLost(t *testing.T) {
	data := made(t, func(f *fpdf.Fpdf) {
		f.Text(50, 50, "first")
		f.AddPage()
		for i := range 4000 {
			f.Text(50+float64(i%40)*12, 50+float64(i/40)*7, "heavy")
		}
		f.AddPage()
		f.Text(50, 50, "third")
	})
	e, err := pdf.NewEngine(t.Context(), pdf.Options{PageWork: 500_000})
	if err != nil {
		t.Fatal(err)
	}
	defer e.Close()
	d, err := e.Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	pages, err := d.Pages()
	if err != nil {
		t.Fatal(err)
	}
	if texts(pages[0]) != "first" || texts(pages[2]) != "third" {
		t.Errorf("pages beside the heavy one are %q and %q", texts(pages[0]), texts(pages[2]))
	}
	if !strings.Contains(pages[1].Lost, "page 2 could not be read: it takes more work") || len(pages[1].Words) > 0 {
		t.Errorf("the heavy page: lost %q, %d words", pages[1].Lost, len(pages[1].Words))
	}
}

func TestEndedContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	d, err := engine(t).Open(ctx, sheetOf(t, 2))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	cancel()
	if _, err := d.Page(0); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v", err)
	}
	if _, err := d.Page(7); err == nil {
		t.Error("page 8 of 2 is no error")
	}
}

func TestSeveralDocumentsAtOnce(t *testing.T) {
	e := engine(t)
	data := sheetOf(t, 2)
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			d, err := e.Open(t.Context(), data)
			if err != nil {
				t.Error(err)
				return
			}
			defer d.Close()
			for i := range d.NumPages() {
				p, err := d.Page(i)
				if err != nil || !strings.Contains(texts(p), "Tern Bilge Resin A") {
					t.Errorf("page %d: %v, %d words", i, err, len(p.Words))
				}
			}
		})
	}
	wg.Wait()
}

// Damaged files, made by changing bytes, cutting and repeating parts, end in an error or in pages; never in a panic, and
// the engine reads a sound file afterwards.
func TestDamagedFiles(t *testing.T) {
	e := engine(t)
	sound := sheetOf(t, 2)
	form := onePage("", "q 1 0 0 1 0 0 cm BT /F1 10 Tf 100 300 Td (text) Tj ET Q 1 1 m 5 5 l S")
	r := rand.New(rand.NewPCG(16, 1))
	opened := 0
	for i := range 300 {
		d := bytes.Clone(sound)
		if i%2 == 1 {
			d = bytes.Clone(form)
		}
		for range 1 + r.IntN(20) {
			switch at := r.IntN(len(d)); r.IntN(4) {
			case 0, 1:
				d[at] = byte(r.IntN(256))
			case 2:
				d = d[:max(at, 10)]
			case 3:
				n := min(r.IntN(100), len(d)-at)
				d = append(d[:at:at], append(bytes.Clone(d[at:at+n]), d[at:]...)...)
			}
		}
		doc, err := e.Open(t.Context(), d)
		if err != nil {
			continue
		}
		opened++
		for k := range min(doc.NumPages(), 5) {
			if _, err := doc.Page(k); err != nil {
				t.Errorf("file %d, page %d: %v", i, k, err)
				break
			}
		}
		doc.Close()
	}
	if opened < 30 {
		t.Errorf("only %d of 300 damaged files could be opened: they test nothing", opened)
	}
	if got := texts(read(t, sound)[0]); !strings.Contains(got, "Tern") {
		t.Errorf("afterwards the sound file reads %q", got)
	}
}

// A picture that says it has 3600 million pixels, in a file of a few hundred bytes, costs neither memory nor time: the words
// of its page are read, and drawing the page ends.
func TestHugePictureOnAPage(t *testing.T) {
	data := onePage("", "BT /F1 12 Tf 50 300 Td (Danger) Tj ET q 100 0 0 100 50 50 cm /I Do Q",
		"<< /Type /XObject /Subtype /Image /Width 60000 /Height 60000 /ColorSpace /DeviceRGB /BitsPerComponent 8 /Length 4 >>\nstream\nabcd\nendstream")
	data = bytes.Replace(data, []byte("/Font << /F1 5 0 R >>"), []byte("/XObject << /I 6 0 R >> /Font << /F1 5 0 R >>"), 1) // the engine mends the offsets
	d, err := engine(t).Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	began := time.Now()
	p, err := d.Page(0)
	if err != nil || !strings.Contains(texts(p), "Danger") || len(p.Images) != 1 {
		t.Errorf("the page has the words %q and %d pictures: %v", texts(p), len(p.Images), err)
	}
	if img, err := d.Render(0, 72); err == nil && img.Bounds().Dx() != 600 {
		t.Errorf("the page was drawn as %v", img.Bounds())
	}
	if took := time.Since(began); took > 20*time.Second {
		t.Errorf("it took %v", took)
	}
}

// endlessForms is a page with forms that call each other without end.
func endlessForms() []byte {
	form := func(next string) string {
		return strings.Replace(stream(strings.Repeat("/X Do ", 50)), "<<",
			"<< /Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /X "+next+" 0 R >> >>", 1)
	}
	return assembled(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /XObject << /X 5 0 R >> >> /Contents 4 0 R >>",
		stream(strings.Repeat("/X Do ", 50)), form("6"), form("7"), form("5"),
	)
}

func TestEndlessForms(t *testing.T) {
	e, err := pdf.NewEngine(t.Context(), pdf.Options{PageWork: 5e6})
	if err != nil {
		t.Fatal(err)
	}
	defer e.Close()
	d, err := e.Open(t.Context(), endlessForms())
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	p, err := d.Page(0)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(p.Lost, "more work") {
		t.Errorf("lost is %q", p.Lost)
	}
}

// A stream of a few kilobytes that unpacks to a gigabyte of blanks ends at the bound of memory; the page after it is read.
func TestStreamThatUnpacksWithoutEnd(t *testing.T) {
	var once bytes.Buffer // a megabyte, packed so that it can be repeated
	w, err := zlib.NewWriterLevel(&once, zlib.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write(bytes.Repeat([]byte(" "), 1<<20)); err != nil {
		t.Fatal(err)
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	const header = 2
	all := append(bytes.Clone(once.Bytes()[:header]), bytes.Repeat(once.Bytes()[header:], 1<<10)...)
	var twice bytes.Buffer
	w = zlib.NewWriter(&twice)
	if _, err := w.Write(all); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	data := assembled(
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R 5 0 R] /Count 2 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Contents 4 0 R >>",
		fmt.Sprintf("<< /Length %d /Filter [/FlateDecode /FlateDecode] >>\nstream\n%s\nendstream", twice.Len(), twice.String()),
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 7 0 R >> >> /Contents 6 0 R >>",
		stream("BT /F1 12 Tf 50 300 Td (Danger) Tj ET"),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
	)
	d, err := engine(t).Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	p, err := d.Page(0)
	if err != nil || !strings.Contains(p.Lost, "more memory than a document may take") {
		t.Errorf("%d bytes: lost is %q, %v", len(data), p.Lost, err)
	}
	if p, err = d.Page(1); err != nil || texts(p) != "Danger" {
		t.Errorf("the page after it reads %q, %v", texts(p), err)
	}
}

// The end of the context ends a page that is being read.
func TestDeadlineEndsAPage(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	d, err := engine(t).Open(ctx, endlessForms())
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	start := time.Now()
	if _, err := d.Page(0); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("error is %v", err)
	}
	if took := time.Since(start); took > 2*time.Second {
		t.Errorf("it took %v", took)
	}
}
