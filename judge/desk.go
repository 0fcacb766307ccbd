package judge

import (
	"context"
	"fmt"
	"image"

	"sixteen/read"
	"sixteen/read/label"
	"sixteen/read/ocr"
	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/sheet"
	"sixteen/substance"
)

// MaxDocumentBytes is the size of the largest document that is read.
const MaxDocumentBytes = 100 << 20

// Desk holds what judging needs and is dear to make: the PDF engine and the substance table. It may be used by several
// goroutines at once. Close it when done.
type Desk struct {
	engine     *pdf.Engine
	recogniser read.Recogniser
	table      *substance.Table
	decided    func(ctx context.Context, sha256 string) (Decided, error)
}

// Options of a Desk.
type Options struct {
	Progress func(string) // told what takes long, such as preparing the PDF reader for the first time; may be nil
	CacheDir string       // where the prepared reader is kept; "" for the user's cache folder
	// Decided tells what people decided about a document, by its SHA-256; nil: nothing was decided.
	Decided func(ctx context.Context, sha256 string) (Decided, error)
}

// Open makes a desk. The first time on a machine the PDF reader is compiled and kept in the cache folder.
func Open(ctx context.Context, o Options) (*Desk, error) {
	engine, err := pdf.NewEngine(ctx, pdf.Options{Progress: o.Progress, CacheDir: o.CacheDir, MaxBytes: MaxDocumentBytes})
	if err != nil {
		return nil, err
	}
	table, err := Substances()
	if err != nil {
		engine.Close()
		return nil, err
	}
	return &Desk{engine: engine, recogniser: recogniser(ctx), table: table, decided: o.Decided}, nil
}

// recogniser finds character recognition on this machine; where there is none, every page that needs it says how to get it.
func recogniser(ctx context.Context) read.Recogniser {
	r, err := ocr.New(ctx)
	if err != nil {
		return absent{err}
	}
	return r
}

// absent stands for character recognition that is not installed.
type absent struct{ why error }

// Recognise fails with the reason.
func (a absent) Recognise(_ context.Context, p page.Page, _ func(float64) (image.Image, error)) (page.Page, error) {
	return p, a.why
}

// Close frees the PDF reader.
func (d *Desk) Close() error { return d.engine.Close() }

// Substances is the table the desk looks ingredients up in.
func (d *Desk) Substances() *substance.Table { return d.table }

// Read reads one document into a sheet and makes the corrections that were decided on.
func (d *Desk) Read(ctx context.Context, name string, data []byte) (*sheet.Sheet, error) {
	s, _, err := d.read(ctx, name, data)
	return s, err
}

// ReadLabel reads the label on a container from a photograph (JPEG, PNG) or a PDF.
func (d *Desk) ReadLabel(ctx context.Context, data []byte) (*label.Label, error) {
	return label.Read(ctx, data, label.Options{PDF: d.engine, Recogniser: d.recogniser})
}

func (d *Desk) read(ctx context.Context, name string, data []byte) (*sheet.Sheet, Decided, error) {
	s, err := read.Document(ctx, name, data, read.Options{PDF: d.engine, Recogniser: d.recogniser})
	if err != nil {
		return nil, Decided{}, err
	}
	if d.decided == nil {
		return s, Decided{}, nil
	}
	about, err := d.decided(ctx, s.Source.SHA256)
	if err != nil {
		return nil, Decided{}, err
	}
	about.Apply(s)
	return s, about, nil
}

// Judge reads one document and judges it, with the corrections and overrulings that were decided on.
func (d *Desk) Judge(ctx context.Context, name string, data []byte, req Request) (*Judgement, error) {
	s, about, err := d.read(ctx, name, data)
	if err != nil {
		return nil, err
	}
	req.Overrulings = about.Together(req.Overrulings)
	return JudgeSheet(ctx, s, d.table, req)
}

// RenderPage draws page n (from 1) of a PDF at a resolution in dots per inch.
func (d *Desk) RenderPage(ctx context.Context, data []byte, n int, dpi float64) (image.Image, error) {
	doc, err := d.engine.Open(ctx, data)
	if err != nil {
		return nil, err
	}
	defer doc.Close()
	if n < 1 || n > doc.NumPages() {
		return nil, fmt.Errorf("there is no page %d", n)
	}
	return doc.Render(n-1, dpi)
}
