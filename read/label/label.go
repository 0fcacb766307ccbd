// Package label reads the label on a container from a photograph, a scan or a PDF.
//
//	bytes ─► picture or PDF pages ─► words (text layer or character recognition) ─► lines
//	                              └► pictograms (package picture)
//	lines ─► product name, signal word, statements by code and by phrase, supplier ─► Label
//
// Places are points of the page for a PDF and pixels for a picture. What is not found stays not stated.
package label

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // kinds of photographs
	_ "image/png"  //

	"golang.org/x/image/draw"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/read/picture"
	"sixteen/sheet"
)

// Label is what was read of a label.
type Label struct {
	Product       sheet.Fact[string]            `json:"product"`
	SignalWord    sheet.Fact[ghs.SignalWord]    `json:"signal_word"`
	SignalPrinted sheet.Fact[string]            `json:"signal_printed"`
	Pictograms    []sheet.Fact[ghs.Pictogram]   `json:"pictograms"`
	Statements    []sheet.Fact[sheet.Statement] `json:"statements"`  // H and EUH statements
	Precautions   []sheet.Fact[sheet.Statement] `json:"precautions"` // P statements
	Supplier      sheet.Fact[string]            `json:"supplier"`
	Phone         sheet.Fact[string]            `json:"phone"`
	UFI           sheet.Fact[string]            `json:"ufi"`
	Text          string                        `json:"text"` // all lines, for the claims
	Problems      []sheet.ReadProblem           `json:"problems"`
}

// Errors. Each says what to do.
var (
	ErrPicture = errors.New("this is no picture of a label that can be read: use a JPEG, PNG or PDF file")
	ErrNothing = errors.New("nothing was read on the label: photograph it from the front, closer, in even light, so that the small print is sharp")
)

// Recogniser reads the words of a page from a picture of it; *ocr.Recogniser is one.
type Recogniser interface {
	Recognise(ctx context.Context, p page.Page, render func(dpi float64) (image.Image, error)) (page.Page, error)
}

// Options say with what a label is read.
type Options struct {
	PDF        *pdf.Engine // nil makes one for this label
	Recogniser Recogniser  // needed for pictures, and for PDFs without text
}

// Bounds on pictures: pixels that are decoded, and the width at which small print can be recognised.
const (
	mostPixels  = 80e6
	leastWidth  = 1600
	mostWidth   = 3600
	fewWords    = 5
	ocrDPI      = 300.0
	pictureDPI  = 150.0
	pointsAtOCR = 72 / ocrDPI
)

// Read reads a label. Errors are ErrPicture, ErrNothing, those of character recognition and of package pdf, and the
// context's.
func Read(ctx context.Context, data []byte, o Options) (*Label, error) {
	if bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")) {
		return readPDF(ctx, data, o)
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrPicture, err)
	}
	if float64(config.Width)*float64(config.Height) > mostPixels {
		return nil, fmt.Errorf("%w; it has %d × %d pixels, at most 80 million are read: make it smaller", ErrPicture, config.Width, config.Height)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrPicture, err)
	}
	return readPicture(ctx, upright(img, orientation(data)), o)
}

// readPicture reads a photograph that stands upright.
func readPicture(ctx context.Context, img image.Image, o Options) (*Label, error) {
	if o.Recogniser == nil {
		return nil, errors.New("a picture of a label needs character recognition, and none was given")
	}
	working, factor := sized(img)
	b := working.Bounds()
	p := page.Page{Number: 1, Width: float64(b.Dx()) * pointsAtOCR, Height: float64(b.Dy()) * pointsAtOCR}
	seen := picture.Find(working)
	level, back := flat(working, seen)
	p, err := o.Recogniser.Recognise(ctx, p, func(float64) (image.Image, error) { return level, nil })
	if err != nil {
		return nil, err
	}
	l := understand([]page.Page{p})
	l.places(func(r sheet.Rect) sheet.Rect { return scaled(back(scaled(r, 1/pointsAtOCR)), 1/factor) })
	l.see(1, seen, 1/factor)
	return l.found()
}

// places moves every place of the label, to where f says that it is.
func (l *Label) places(f func(sheet.Rect) sheet.Rect) {
	move := func(all ...[]sheet.Evidence) {
		for _, at := range all {
			for i := range at {
				at[i].Box = f(at[i].Box)
			}
		}
	}
	move(l.Product.Evidence, l.SignalWord.Evidence, l.SignalPrinted.Evidence, l.Supplier.Evidence, l.Phone.Evidence, l.UFI.Evidence)
	for _, s := range l.Statements {
		move(s.Evidence)
	}
	for _, s := range l.Precautions {
		move(s.Evidence)
	}
}

// sized brings a picture to a width at which letters are recognised, and says by what factor.
func sized(img image.Image) (image.Image, float64) {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	factor := 1.0
	switch longer := max(w, h); {
	case longer < leastWidth:
		factor = 2
	case longer > mostWidth:
		factor = mostWidth / float64(longer)
	}
	out := image.NewRGBA(image.Rect(0, 0, max(1, int(float64(w)*factor)), max(1, int(float64(h)*factor))))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	draw.BiLinear.Scale(out, out.Rect, img, img.Bounds(), draw.Over, nil)
	return out, factor
}

func scaled(r sheet.Rect, k float64) sheet.Rect {
	return sheet.Rect{X0: r.X0 * k, Y0: r.Y0 * k, X1: r.X1 * k, Y1: r.Y1 * k}
}

// readPDF reads a label that was drawn or scanned as a PDF.
func readPDF(ctx context.Context, data []byte, o Options) (*Label, error) {
	open := func() (*pdf.Document, error) { return pdf.Open(ctx, data, pdf.Options{}) }
	if o.PDF != nil {
		open = func() (*pdf.Document, error) { return o.PDF.Open(ctx, data) }
	}
	doc, err := open()
	if err != nil {
		return nil, err
	}
	defer doc.Close()
	pages, err := doc.Pages()
	if err != nil {
		return nil, err
	}
	for i, p := range pages {
		if len(p.Words) >= fewWords || o.Recogniser == nil {
			continue
		}
		if pages[i], err = o.Recogniser.Recognise(ctx, p, func(dpi float64) (image.Image, error) { return doc.Render(i, dpi) }); err != nil {
			return nil, err
		}
	}
	l := understand(pages)
	for i := range pages {
		img, err := doc.Render(i, pictureDPI)
		if err != nil {
			return nil, err
		}
		l.see(i+1, picture.Find(img), 72/pictureDPI)
	}
	return l.found()
}

// see takes in the diamonds seen on a page, their places brought to its units by scale.
func (l *Label) see(number int, seen []picture.Seen, scale float64) {
	have := map[ghs.Pictogram]bool{}
	for _, f := range l.Pictograms {
		have[f.Value] = true
	}
	for _, s := range seen {
		box := scaled(sheet.Rect{X0: float64(s.Box.Min.X), Y0: float64(s.Box.Min.Y), X1: float64(s.Box.Max.X), Y1: float64(s.Box.Max.Y)}, scale)
		switch {
		case s.Pictogram == ghs.NoPictogram:
			l.Problems = append(l.Problems, sheet.ReadProblem{Page: number, What: fmt.Sprintf("a diamond at %.0f from the left and %.0f from the top was not understood: %s", box.X0, box.Y0, s.Why),
				Do: "look at it, and enter the pictogram by hand"})
		case !have[s.Pictogram]:
			have[s.Pictogram] = true
			l.Pictograms = append(l.Pictograms, sheet.Fact[ghs.Pictogram]{State: sheet.Stated, Value: s.Pictogram, Confidence: s.Confidence,
				Evidence: []sheet.Evidence{{Page: number, Box: box, Words: "picture of " + s.Pictogram.String(), How: sheet.ByPicture}}})
		}
	}
}

// found is the label, or an error when nothing at all was read. What is missing is listed.
func (l *Label) found() (*Label, error) {
	if !l.Product.Known() && len(l.Pictograms) == 0 && len(l.Statements) == 0 && !l.SignalWord.Known() {
		return nil, ErrNothing
	}
	miss := func(absent bool, what string) {
		if absent {
			l.Problems = append(l.Problems, sheet.ReadProblem{What: what + " was not found on the label", Do: "compare with the label itself; it may be there and illegible in the picture"})
		}
	}
	miss(!l.Product.Known(), "the product name")
	miss(!l.SignalWord.Known(), "a signal word")
	miss(len(l.Pictograms) == 0, "a pictogram")
	miss(len(l.Statements) == 0, "a hazard statement")
	miss(!l.Supplier.Known(), "the supplier")
	return l, nil
}

// understand reads the words of a label.
func understand(pages []page.Page) *Label {
	doc := layout.Layout(pages)
	r := reader{lines: append(doc.Lines, doc.Running...), label: &Label{}}
	r.join()
	r.signalWord()
	r.statements()
	r.supplier()
	r.product()
	r.label.Text = r.text
	return r.label
}
