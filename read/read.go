// Package read turns a document (PDF, scan, HTML, DOCX, text) into a sheet.Sheet.
//
//	bytes ─► pdf | ocr | html | docx | text ─► []page.Page ─► layout (lines, cells, order) ─► facts ─► sheet.Sheet
//	                                        pictures of the pages ─► picture (pictograms) ─┘
//
// It knows nothing of rules, storage or the web. What could not be read is said in Sheet.Problems, never guessed.
package read

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"path/filepath"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"sixteen/read/docx"
	"sixteen/read/facts"
	"sixteen/read/flow"
	"sixteen/read/html"
	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/read/picture"
	"sixteen/read/text"
	"sixteen/sheet"
)

// ErrNotSheet tells that a document was read but is no safety data sheet. The error returned says why.
var ErrNotSheet = facts.ErrNotSheet

// ErrFormat tells that the kind of document is not one that can be read. The error returned says what to do.
var ErrFormat = errors.New("this kind of document cannot be read")

// ErrNoText tells that the pages are pictures and no Recogniser was given, or it found nothing, or that there is hardly any
// text; the error returned is then ErrNotSheet too.
var ErrNoText = errors.New("the document has no text")

// PictureReader recognises pictograms among the pictures of a page. Documents with pages are read with one of package
// picture unless Options name another.
type PictureReader = facts.PictureReader

// Recogniser reads the words of a page that has no usable text layer from a picture of it.
type Recogniser interface {
	// Recognise is called for several pages at once. It returns p with Words and How filled in. Render draws the page at a resolution in dots per inch.
	Recognise(ctx context.Context, p page.Page, render func(dpi float64) (image.Image, error)) (page.Page, error)
}

// Options say with what a document is read. The zero value reads text layers only.
type Options struct {
	PDF        *pdf.Engine   // kept between documents; nil makes one for this document
	Pictures   PictureReader // nil: package picture for PDF; without pictures, pictograms are read by number and name only
	Recogniser Recogniser    // nil: pages without text stay unread, and Problems says so
}

// fewWords is how many words a page must have for its text layer to count as usable.
const fewWords = 12

// Document reads one document. Name is the file's name and serves only to be shown; the format is recognised by content.
// Errors: ErrNotSheet, ErrFormat, ErrNoText, those of package pdf for files that cannot be opened, and the context's.
func Document(ctx context.Context, name string, data []byte, options Options) (*sheet.Sheet, error) {
	format := Format(data)
	var s *sheet.Sheet
	var err error
	switch format {
	case "pdf":
		s, err = readPDF(ctx, data, options)
	case "text":
		s, err = Pages(text.Read(data), options)
	case "html":
		s, err = readFlow(html.Read(data))(options)
	case "docx":
		s, err = readFlow(docx.Read(data))(options)
	default:
		return nil, fmt.Errorf("%w: %s looks like %s; print or save it as PDF and read that", ErrFormat, filepath.Base(name), format)
	}
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", filepath.Base(name), err)
	}
	sum := sha256.Sum256(data)
	for _, part := range append([]*sheet.Sheet{s}, s.Parts...) {
		part.Source.Name = filepath.Base(name)
		part.Source.SHA256 = hex.EncodeToString(sum[:])
		part.Source.Format = format
		if format != "pdf" {
			part.ForgetBoxes()
		}
	}
	return s, nil
}

// Pages reads a sheet from pages that are already words with boxes. Source has only the pages and their kind.
func Pages(pages []page.Page, options Options) (*sheet.Sheet, error) {
	source := sourceOf(pages)
	if words := wordCount(pages); words < fewWords {
		return nil, tooFewWords(words, pages)
	}
	s, err := facts.Read(layout.Layout(pages), pages, options.Pictures)
	if err != nil {
		return nil, err
	}
	for _, part := range append([]*sheet.Sheet{s}, s.Parts...) {
		part.Source = source
	}
	s.Problems = append(pageProblems(pages), s.Problems...)
	return s, nil
}

// tooFewWords says why there is nothing to read: pages that are pictures, pages that were lost, or hardly any text.
func tooFewWords(words int, pages []page.Page) error {
	pictures := false
	for _, p := range pages {
		if p.Lost != "" {
			return fmt.Errorf("%w: %s", ErrNoText, p.Lost)
		}
		pictures = pictures || len(p.Images) > 0
	}
	if pictures {
		return fmt.Errorf("%w: %d words on %d pages; its pages are pictures: read them with character recognition", ErrNoText, words, len(pages))
	}
	return fmt.Errorf("%w: %w: it holds %d words; check that it is the right file and that it is whole", ErrNoText, facts.ErrNotSheet, words)
}

func wordCount(pages []page.Page) int {
	n := 0
	for _, p := range pages {
		n += len(p.Words)
	}
	return n
}

// sourceOf describes the pages: their sizes and whether their words come from text, from pictures, or both.
func sourceOf(pages []page.Page) sheet.Source {
	var source sheet.Source
	text, scan := 0, 0
	for _, p := range pages {
		ocr := p.How == sheet.ByOCR
		source.Pages = append(source.Pages, sheet.PageSize{Width: p.Width, Height: p.Height, OCR: ocr, Lost: p.Lost})
		if ocr || len(p.Words) < fewWords && len(p.Images) > 0 {
			scan++
		} else {
			text++
		}
	}
	switch {
	case scan == 0:
		source.Kind = "text"
	case text == 0:
		source.Kind = "scan"
	default:
		source.Kind = "mixed"
	}
	return source
}

// pageProblems says which pages could not be read.
func pageProblems(pages []page.Page) []sheet.ReadProblem {
	var out []sheet.ReadProblem
	for _, p := range pages {
		switch {
		case p.Lost != "":
			out = append(out, sheet.ReadProblem{Page: p.Number, What: p.Lost, Do: "look at the page in the document; its facts are missing here"})
		case len(p.Words) < fewWords && len(p.Images) > 0:
			out = append(out, sheet.ReadProblem{Page: p.Number, What: fmt.Sprintf("page %d is a picture without text", p.Number), Do: "read it with character recognition"})
		}
	}
	return out
}

// readFlow reads a document that was set on one page, with its pictures.
func readFlow(p flow.Page, err error) func(Options) (*sheet.Sheet, error) {
	return func(options Options) (*sheet.Sheet, error) {
		if err != nil {
			return nil, err
		}
		return withPictures([]page.Page{p.Page}, p.Draw, options)
	}
}

// withPictures reads a sheet from pages and from what draw draws of them.
func withPictures(pages []page.Page, draw picture.Drawer, options Options) (*sheet.Sheet, error) {
	if options.Pictures != nil {
		return Pages(pages, options)
	}
	pictures := picture.NewReader(draw)
	options.Pictures = pictures
	s, err := Pages(pages, options)
	if err != nil {
		return nil, err
	}
	s.Problems = append(s.Problems, pictures.Problems()...)
	return s, nil
}

// readPDF reads a PDF; its pages are drawn where there are pictures to look at.
func readPDF(ctx context.Context, data []byte, options Options) (*sheet.Sheet, error) {
	doc, err := openPDF(ctx, data, options)
	if err != nil {
		return nil, err
	}
	defer doc.Close()
	pages, err := pdfPages(ctx, doc, options)
	if err != nil {
		return nil, err
	}
	s, err := withPictures(pages, func(number int, box sheet.Rect, dpi float64) (image.Image, error) {
		return doc.RenderPart(number-1, box, dpi)
	}, options)
	if err != nil {
		return nil, err
	}
	return s, ctx.Err()
}

// pdfPages reads the pages of a PDF; pages without a usable text layer go to the recogniser.
func pdfPages(ctx context.Context, doc *pdf.Document, options Options) ([]page.Page, error) {
	pages, err := doc.Pages()
	if err != nil {
		return nil, err
	}
	if options.Recogniser == nil {
		return pages, nil
	}
	return pages, recognisePages(ctx, doc, pages, options.Recogniser)
}

// recognisePages reads the pages without a usable text layer from pictures of them, several side by side. Only the drawing
// takes turns. The error is the context's.
func recognisePages(ctx context.Context, doc *pdf.Document, pages []page.Page, recogniser Recogniser) error {
	var turn sync.Mutex
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for i, p := range pages {
		if len(p.Words) >= fewWords || p.Lost != "" {
			continue
		}
		work.Go(func() error {
			read, err := recogniser.Recognise(ctx, p, func(dpi float64) (image.Image, error) {
				turn.Lock()
				defer turn.Unlock()
				return doc.Render(i, dpi)
			})
			switch {
			case ctx.Err() != nil:
				return ctx.Err()
			case err != nil:
				pages[i].Lost = fmt.Sprintf("page %d has no text and could not be recognised: %v", p.Number, err)
			default:
				pages[i] = read
			}
			return nil
		})
	}
	return work.Wait()
}

func openPDF(ctx context.Context, data []byte, options Options) (*pdf.Document, error) {
	if options.PDF != nil {
		return options.PDF.Open(ctx, data)
	}
	return pdf.Open(ctx, data, pdf.Options{})
}
