package pdf

import (
	"context"
	"errors"
	"fmt"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Document is one open PDF. It must be closed, and used from one goroutine at a time.
type Document struct {
	engine *Engine
	own    bool // the engine belongs to the document alone
	ctx    context.Context
	data   []byte
	pages  int

	in     *instance // nil until (re)opened, and after Close
	file   uint64    // the bytes in the instance's memory
	doc    uint64    // FPDF_DOCUMENT
	form   uint64    // FPDF_FORMHANDLE, 0 when the document has no form
	kept   []uint64  // pages read last, kept so that their fonts need not be parsed again
	closed bool
}

// keptPages is how many pages stay open behind the one being read.
const keptPages = 2

// Open opens one document with an engine of its own. To read several, make one Engine.
func Open(ctx context.Context, data []byte, options Options) (*Document, error) {
	if err := check(data, options.withDefaults().MaxBytes); err != nil {
		return nil, err
	}
	e, err := NewEngine(ctx, options)
	if err != nil {
		return nil, err
	}
	d, err := e.Open(ctx, data)
	if err != nil {
		e.Close()
		return nil, err
	}
	d.own = true
	return d, nil
}

// Open opens a document. The bytes must not change until it is closed; ctx ends the reading of pages too.
// Errors are those listed at ErrEmpty.
func (e *Engine) Open(ctx context.Context, data []byte) (*Document, error) {
	if err := check(data, e.options.MaxBytes); err != nil {
		return nil, err
	}
	d := &Document{engine: e, ctx: ctx, data: data}
	if err := d.load(); err != nil {
		d.Close()
		return nil, err
	}
	d.pages = d.in.int("FPDF_GetPageCount", d.doc)
	switch {
	case d.in.failed != nil || d.pages == 0:
		d.Close()
		return nil, fmt.Errorf("%w: it holds no page; ask the supplier for another copy", ErrDamaged)
	case d.pages > e.options.MaxPages:
		n := d.pages
		d.Close()
		return nil, fmt.Errorf("%w: %d, where at most %d are read; a safety data sheet has 5 to 30: print its own pages to a new PDF",
			ErrTooManyPages, n, e.options.MaxPages)
	}
	return d, nil
}

// Codes of FPDF_GetLastError, fpdfview.h.
const (
	lastErrorPassword = 4
	lastErrorSecurity = 5
)

// load brings the document into a fresh or idle instance.
func (d *Document) load() error {
	if err := d.ctx.Err(); err != nil {
		return err
	}
	in, err := d.engine.take(d.ctx)
	if err != nil {
		return err
	}
	d.in, d.kept = in, nil
	in.refuel(d.engine.options.PageWork + 10*int64(len(d.data)))
	d.file = in.put(d.data)
	d.doc = in.long(d.ctx, "FPDF_LoadMemDocument64", d.file, uint64(len(d.data)), 0)
	if err := d.ctx.Err(); err != nil {
		return err
	}
	if in.failed != nil {
		return fmt.Errorf("%w: %w; ask the supplier for another copy", ErrDamaged, in.failed)
	}
	if d.doc == 0 {
		switch code := in.int("FPDF_GetLastError"); code {
		case lastErrorPassword, lastErrorSecurity:
			return fmt.Errorf("%w: open it in a PDF viewer with the password and print it to a new PDF", ErrEncrypted)
		default:
			return fmt.Errorf("%w: its structure cannot be followed; download it again, or open it in a PDF viewer and print it to a new PDF", ErrDamaged)
		}
	}
	d.startForm()
	if in.failed != nil {
		return fmt.Errorf("%w: %w; ask the supplier for another copy", ErrDamaged, in.failed)
	}
	return nil
}

// unload gives the instance back.
func (d *Document) unload() {
	if d.in == nil {
		return
	}
	in := d.in
	in.refuel(d.engine.options.PageWork)
	for _, p := range d.kept {
		in.call("FPDF_ClosePage", p)
	}
	d.endForm()
	if d.doc != 0 {
		in.call("FPDF_CloseDocument", d.doc)
	}
	in.free(d.file)
	d.engine.give(in)
	d.in, d.doc, d.file, d.kept = nil, 0, 0, nil
}

// Close frees what the document holds. It may be called twice.
func (d *Document) Close() error {
	if d.closed {
		return nil
	}
	d.closed = true
	d.unload()
	if d.own {
		return d.engine.Close()
	}
	return nil
}

// NumPages is the number of pages, at least 1.
func (d *Document) NumPages() int { return d.pages }

// Page reads page i, counting from 0. A page that cannot be read is not an error: it comes back with Lost saying why.
// An error means that the document is closed, that there is no such page, or that the context has ended.
func (d *Document) Page(i int) (page.Page, error) {
	out := page.Page{Number: i + 1, How: sheet.ByText}
	lost, err := d.withPage(i, d.engine.options.PageWork, func(handle uint64, g geometry) {
		out.Width, out.Height = g.width, g.height
		d.readPage(handle, g, &out)
	})
	if lost != nil {
		out = page.Page{Number: out.Number, Width: out.Width, Height: out.Height, How: out.How, Lost: "page " + fmt.Sprint(i+1) + " could not be read: " + lost.Error()}
	}
	return out, err
}

// Pages reads all pages.
func (d *Document) Pages() ([]page.Page, error) {
	out := make([]page.Page, 0, d.pages)
	for i := range d.pages {
		p, err := d.Page(i)
		if err != nil {
			return out, err
		}
		out = append(out, p)
	}
	return out, nil
}

var errNoPage = errors.New("it is missing or damaged in the file")

// withPage opens page i and calls use, both within the given work. When PDFium fails meanwhile, lost says why and the next call starts a new
// instance.
func (d *Document) withPage(i int, work int64, use func(handle uint64, g geometry)) (lost, err error) {
	switch {
	case d.closed:
		return nil, errors.New("the document is closed")
	case i < 0 || i >= d.pages:
		return nil, fmt.Errorf("there is no page %d: the document has %d", i+1, d.pages)
	case d.ctx.Err() != nil:
		return nil, d.ctx.Err()
	}
	if d.in == nil {
		if err := d.load(); err != nil {
			return nil, err
		}
	}
	d.in.refuel(work)
	handle := d.openPage(i)
	if handle != 0 {
		use(handle, d.in.geometry(handle))
		d.keep(handle)
	}
	if d.in.failed != nil {
		lost = d.in.failed
		d.unload()
		return lost, d.ctx.Err()
	}
	if handle == 0 {
		return errNoPage, nil
	}
	return nil, nil
}

func (d *Document) keep(handle uint64) {
	d.kept = append(d.kept, handle)
	if len(d.kept) > keptPages {
		d.in.call("FPDF_ClosePage", d.kept[0])
		d.kept = append(d.kept[:0], d.kept[1:]...)
	}
}

// readPage fills out with what the page shows.
func (d *Document) readPage(handle uint64, g geometry, out *page.Page) {
	drawn := d.readObjects(handle, g)
	out.Rules, out.Images = drawn.rules(), drawn.images(g)
	out.Words = d.readWords(handle, g, drawn.scanned(g))
}
