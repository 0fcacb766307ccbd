package read_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"slices"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/vector"

	"sixteen/demo"
	"sixteen/ghs"
	"sixteen/read"
	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

// symbolPNG is our drawing of a pictogram as a picture 90 pixels wide.
func symbolPNG(t *testing.T, g ghs.Pictogram) []byte {
	t.Helper()
	const size = 90
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	for _, part := range ghs.PictogramOutline(g) {
		r := vector.NewRasterizer(size, size)
		for i, q := range part.Points {
			if x, y := float32(q.X*size), float32(q.Y*size); i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
		ink := map[ghs.Ink]color.Color{ghs.White: color.White, ghs.Black: color.Black, ghs.Red: color.RGBA{226, 0, 26, 255}}[part.Ink]
		r.Draw(img, img.Rect, image.NewUniform(ink), image.Point{})
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A sheet as a web page: sections, a table of ingredients, and pictograms that are only pictures.
func TestSheetAsWebPage(t *testing.T) {
	var page strings.Builder
	page.WriteString("<!doctype html><html><body><h1>SAFETY DATA SHEET</h1><h2>SECTION 1: Identification</h2><p>Product name: Tidewater Laminating Resin</p><h2>SECTION 2: Hazards identification</h2><p>Signal word: Warning</p>")
	for _, g := range []ghs.Pictogram{ghs.ExclamationMark, ghs.Environment} {
		fmt.Fprintf(&page, `<p><img src="data:image/png;base64,%s"></p>`, base64.StdEncoding.EncodeToString(symbolPNG(t, g)))
	}
	page.WriteString("<p>H315 Causes skin irritation.</p><p>H317 May cause an allergic skin reaction.</p><h2>SECTION 3: Composition/information on ingredients</h2>" +
		"<table><tr><th>Chemical name</th><th>CAS No.</th><th>% by weight</th></tr><tr><td>Bisphenol A epoxy resin</td><td>25068-38-6</td><td>50 - 75</td></tr></table>")
	for i, title := range []string{"First-aid measures", "Fire-fighting measures", "Accidental release measures", "Handling and storage", "Exposure controls/personal protection", "Physical and chemical properties"} {
		fmt.Fprintf(&page, "<h2>SECTION %d: %s</h2><p>See the label.</p>", i+4, title)
	}
	page.WriteString("<table><tr><td>Flash point</td><td>150 °C</td></tr></table></body></html>")
	s, err := read.Document(t.Context(), "resin.html", []byte(page.String()), read.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Identification.ProductName.Value; got != "Tidewater Laminating Resin" {
		t.Errorf("name %q", got)
	}
	wantPictograms(t, s, ghs.ExclamationMark, ghs.Environment)
	if len(s.Hazards.Statements) != 2 || len(s.Composition.Ingredients) != 1 || s.Composition.Ingredients[0].CAS.Value != "25068-38-6" || s.Composition.Ingredients[0].Percent.Value.Lo != 50 {
		t.Errorf("statements %v, ingredients %+v", s.Hazards.Statements, s.Composition.Ingredients)
	}
	if q := s.Physical.Quantities[sheet.FlashPoint]; len(q) != 1 || q[0].Value.Lo != 150 || q[0].Where().Box != (sheet.Rect{}) {
		t.Errorf("flash point %+v", q)
	}
	if s.Source.Format != "html" {
		t.Errorf("format %s", s.Source.Format)
	}
}

func wantPictograms(t *testing.T, s *sheet.Sheet, want ...ghs.Pictogram) {
	t.Helper()
	var got []ghs.Pictogram
	for _, f := range s.Hazards.Pictograms {
		got = append(got, f.Value)
		if f.Confidence <= 0.5 || len(f.Evidence) == 0 {
			t.Errorf("%s without evidence or confidence: %+v", f.Value, f)
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("pictograms %v, want %v", got, want)
	}
}

// On printed sheets of every layout the pictograms that are pictures are read, with the place of the picture.
func TestPictogramsOfPrintedSheets(t *testing.T) {
	ctx := context.Background()
	engine, err := pdf.NewEngine(ctx, pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer engine.Close()
	pictures := 0
	for i := range 16 {
		data, truth, err := demo.Generated{Seed: 31}.Sheet(i)
		if err != nil {
			t.Fatal(err)
		}
		s, err := read.Document(ctx, truth.ID+".pdf", data, read.Options{PDF: engine})
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]bool{}
		for _, f := range s.Hazards.Pictograms {
			got[f.Value.String()] = true
			if at := f.Where(); at.How == sheet.ByPicture {
				pictures++
				if w := at.Box.X1 - at.Box.X0; w < 25 || w > 90 || at.Page < 1 {
					t.Errorf("sheet %s: %s at %+v", truth.ID, f.Value, at)
				}
			}
		}
		for _, want := range truth.Pictograms {
			if !got[want] {
				t.Errorf("sheet %s: %s was not read", truth.ID, want)
			}
			delete(got, want)
		}
		for g := range got {
			t.Errorf("sheet %s: %s is not on it", truth.ID, g)
		}
	}
	if pictures < 10 {
		t.Errorf("only %d pictograms were read from pictures", pictures)
	}
}

// wordsOf recognises what it is told to see: it stands for a program that is not installed everywhere.
type wordsOf map[int][]string

func (w wordsOf) Recognise(_ context.Context, p page.Page, render func(float64) (image.Image, error)) (page.Page, error) {
	img, err := render(72)
	if err != nil {
		return p, err
	}
	if w[p.Number] == nil {
		return p, fmt.Errorf("page of %d pixels is empty", img.Bounds().Dx())
	}
	p.How = sheet.ByOCR
	for y, line := range w[p.Number] {
		x := 50.0
		for _, word := range strings.Fields(line) {
			n := 5 * float64(len(word))
			p.Words = append(p.Words, page.Word{Text: word, Box: sheet.Rect{X0: x, Y0: float64(60 + 15*y), X1: x + n, Y1: float64(70 + 15*y)}, Size: 10, Confidence: 0.9, SpaceAfter: true})
			x += n + 5
		}
	}
	return p, nil
}

// Pages that are pictures are recognised side by side and stay in their order; one that fails is lost alone.
func TestScannedPagesKeepTheirOrder(t *testing.T) {
	out := fpdf.New("P", "pt", "A4", "")
	out.RegisterImageOptionsReader("p", fpdf.ImageOptions{ImageType: "PNG"}, bytes.NewReader(symbolPNG(t, ghs.Flame)))
	words := wordsOf{}
	for i := 1; i <= 8; i++ {
		out.AddPage()
		out.ImageOptions("p", 0, 0, 595, 842, false, fpdf.ImageOptions{ImageType: "PNG"}, 0, "")
		words[i] = []string{fmt.Sprintf("SECTION %d: %s", i, [...]string{"Identification", "Hazards identification", "Composition", "First-aid measures", "Fire-fighting measures",
			"Accidental release measures", "Handling and storage", "Exposure controls"}[i-1]), "Safety data sheet of an invented resin that nobody sells anywhere at all"}
	}
	delete(words, 5)
	var data bytes.Buffer
	if err := out.Output(&data); err != nil {
		t.Fatal(err)
	}
	s, err := read.Document(t.Context(), "scan.pdf", data.Bytes(), read.Options{Recogniser: words})
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i <= 8; i++ {
		if want := i != 5; s.Sections[i].Found != want || want && s.Sections[i].Heading.Page != i {
			t.Errorf("section %d found %v on page %d", i, s.Sections[i].Found, s.Sections[i].Heading.Page)
		}
	}
	if s.Source.Pages[4].Lost == "" || s.Source.Pages[3].Lost != "" {
		t.Errorf("lost pages: %+v", s.Source.Pages)
	}
}
