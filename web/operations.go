package web

import (
	"bytes"
	"context"
	"net/http"
	"time"

	"sixteen/blend"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/plan"
	"sixteen/shelf"
)

// What the screens do and programs may ask for as well, beside Take, Compare, Kit, Letter and Ask, which stand with their
// screens. Errors say what to do: see Explain.

// Explain is the HTTP status of an error of the shelf or of these operations, and what it says to a person.
func Explain(err error) (status int, words string) { return statusOf(err) }

// Mount puts a handler under a path ("/api/"), behind the same middleware as the screens. It guards itself.
func (a *App) Mount(path string, h http.Handler) {
	if a.mount == nil {
		a.mount = map[string]http.Handler{}
	}
	a.mount[path] = h
}

// Judged is the judgement of the sheet in force of a product, as a page shows it.
func (a *App) Judged(ctx context.Context, product string) (*judge.Judgement, shelf.Sheet, error) {
	h, err := a.read(ctx, product)
	return h.judged, h.sheet, err
}

// Plan works a job out for a share of the limits, or gives the answer it has. questions says what the job leaves open; then
// the plan is nil. Products of a job are those of the shelf: it opens no files.
func (a *App) Plan(ctx context.Context, job *exposure.Job, share float64) (p *plan.Plan, questions []string) {
	v := a.answer(ctx, job, share)
	return v.Plan, v.Questions
}

// PaperOptions are how a paper of a product is made.
type PaperOptions = paperOptions

// MakePaper makes a paper of a product from the sheet in force and keeps that it was made.
func (a *App) MakePaper(ctx context.Context, by, product string, sort shelf.PaperSort, o PaperOptions) (shelf.Paper, error) {
	h, err := a.read(ctx, product)
	if err != nil {
		return shelf.Paper{}, err
	}
	return a.keepPaper(ctx, by, h, sort, o)
}

// SVG is the form of a label as a drawing; documents that flow have none.
const SVG paper.Format = "svg"

// Printed is a file ready to be sent.
type Printed struct {
	Name, Media string
	Data        []byte
}

// PrintPaper prints a paper again, from the revision it was made from.
func (a *App) PrintPaper(ctx context.Context, id string, f paper.Format) (Printed, error) {
	p, err := a.shelf.Paper(ctx, id)
	if err != nil {
		return Printed{}, onShelf(err, "There is no such paper on this shelf.")
	}
	o, err := optionsOf(p)
	if err != nil {
		return Printed{}, err
	}
	made, err := a.makePaper(ctx, p.Sort, p.Sheet, o)
	if err != nil {
		return Printed{}, err
	}
	return made.printed(p.Title, f, p.Added)
}

// printed is a paper in one of its forms.
func (m madePaper) printed(name string, f paper.Format, date time.Time) (Printed, error) {
	var b bytes.Buffer
	var err error
	switch {
	case m.document != nil && f != SVG:
		return printedDocument(*m.document, name, f)
	case f == paper.PDF:
		raw, err := m.pdf(date)
		return Printed{name + ".pdf", mediaOf(f), raw}, err
	case m.label != nil && f == SVG:
		raw, err := m.svg()
		return Printed{name + ".svg", mediaOf(f), raw}, err
	case m.label != nil && f == paper.HTML:
		err = m.label.WriteHTML(&b)
	default:
		return Printed{}, refused("This paper is not made in that form. Labels are made as pdf, svg and html, other papers as pdf, html and docx.")
	}
	return Printed{name + "." + string(f), mediaOf(f), b.Bytes()}, err
}

func printedDocument(d paper.Document, name string, f paper.Format) (Printed, error) {
	var b bytes.Buffer
	err := d.Write(&b, f)
	return Printed{name + "." + string(f), mediaOf(f), b.Bytes()}, err
}

func mediaOf(f paper.Format) string {
	return map[paper.Format]string{paper.PDF: "application/pdf", paper.HTML: "text/html; charset=utf-8", SVG: "image/svg+xml",
		paper.DOCX: "application/vnd.openxmlformats-officedocument.wordprocessingml.document"}[f]
}

// Blend works out an own product's recipe (YAML) under one law; the sheets it names are those of products on the shelf.
func (a *App) Blend(ctx context.Context, recipe string, rs ghs.RuleSet, lang ghs.Lang) (*blend.Mix, *blend.Draft, error) {
	m, stock, err := a.mixed(ctx, recipe, rs)
	if err != nil {
		return nil, nil, err
	}
	d, err := m.Draft(lang, stock)
	if err != nil {
		return m, nil, refused(sentence(err.Error()))
	}
	return m, d, nil
}

// PrintDraft prints the drafted sheet of a blend.
func (a *App) PrintDraft(d *blend.Draft, name string, f paper.Format) (Printed, error) {
	date, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		date = a.now() // the date of the sheet is an open question
	}
	return printedDocument(paper.DraftedSheet(d, date), name, f)
}
