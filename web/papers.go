package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
	"sixteen/shelf"
)

// paperOptions are how a paper is made; they are kept with it, so that it can be printed again.
type paperOptions struct {
	Size   string   `json:"size,omitempty"`  // of a label, in millimetres: "99x68"
	Stock  string   `json:"stock,omitempty"` // sheet of blank labels; "" for one label on a page of its own size
	Start  int      `json:"start,omitempty"` // the first free place on that sheet, from 1
	Copies int      `json:"copies,omitempty"`
	Langs  []string `json:"langs,omitempty"`
	ML     float64  `json:"ml,omitempty"`   // of the container
	Page   string   `json:"page,omitempty"` // a4 or letter
	Where  string   `json:"where,omitempty"`
	Link   string   `json:"link,omitempty"` // that the QR code leads to
}

func (o paperOptions) langs() []ghs.Lang {
	var out []ghs.Lang
	for _, name := range o.Langs {
		for _, l := range ghs.Langs() {
			if string(l) == name {
				out = append(out, l)
			}
		}
	}
	return out
}

func (o paperOptions) page() paper.PageSize {
	if o.Page == "letter" {
		return paper.Letter
	}
	return paper.A4
}

// madePaper is a paper of a product ready to be written.
type madePaper struct {
	label    *paper.Label
	stock    *paper.Stock
	document *paper.Document
	options  paperOptions
}

// makePaper makes a paper of a product from one revision of its sheet. What does not fit comes back as an error that names
// the next size.
func (a *App) makePaper(ctx context.Context, sort shelf.PaperSort, sheet string, o paperOptions) (madePaper, error) {
	j, err := a.shelf.Judge(ctx, sheet, judge.Request{})
	if err != nil {
		return madePaper{}, err
	}
	settings, err := a.shelf.Settings(ctx)
	if err != nil {
		return madePaper{}, err
	}
	out := madePaper{options: o}
	p := paper.ProductOf(j, paper.ProductOptions{Label: classify.LabelOptions{Millilitres: o.ML}, Link: o.Link})
	switch sort {
	case shelf.WorkplaceLabel, shelf.SupplierLabel:
		err = a.makeLabel(&out, sort, p, o)
	case shelf.BenchCard:
		var d paper.Document
		d, err = p.Card(paper.CardOptions{Lang: firstLang(o), Page: o.page(), Where: o.Where, Date: a.now(), Poison: settings.PoisonCentre, Ask: settings.CallWhom})
		out.document = &d
	default:
		err = refused("This paper cannot be made here.")
	}
	var noRoom *paper.NoRoom
	var tooLong *paper.TooLong
	if errors.As(err, &noRoom) || errors.As(err, &tooLong) || errors.Is(err, paper.ErrHazardsNotStated) {
		return out, refused(sentence(err.Error()))
	}
	return out, err
}

func firstLang(o paperOptions) ghs.Lang {
	if l := o.langs(); len(l) > 0 {
		return l[0]
	}
	return ghs.English
}

func (a *App) makeLabel(out *madePaper, sort shelf.PaperSort, p paper.Product, o paperOptions) error {
	size, err := paper.ParseLabelSize(o.Size)
	if err != nil {
		return refused(sentence(err.Error()))
	}
	if o.Stock != "" {
		stock, err := paper.ParseStock(o.Stock)
		if err != nil {
			return refused(sentence(err.Error()))
		}
		out.stock, size = &stock, stock.Label
	}
	kind := paper.WorkplaceLabel
	if sort == shelf.SupplierLabel {
		kind = paper.SupplierLabel
	}
	out.label, err = p.Label(paper.LabelOptions{Kind: kind, Size: size, Langs: o.langs(), Litres: o.ML / 1000, Decanted: a.now()})
	return err
}

// pdf writes the paper for printing.
func (m madePaper) pdf(date time.Time) ([]byte, error) {
	var b bytes.Buffer
	var err error
	switch {
	case m.document != nil:
		err = m.document.WritePDF(&b)
	case m.stock != nil:
		s := paper.LabelSheet{Stock: *m.stock, Start: max(1, m.options.Start)}
		for range max(1, m.options.Copies) {
			s.Labels = append(s.Labels, m.label)
		}
		err = s.WritePDF(&b, date)
	default:
		err = m.label.WritePDF(&b, date)
	}
	return b.Bytes(), err
}

// svg draws a label for the screen; other papers have no drawing.
func (m madePaper) svg() ([]byte, error) {
	if m.label == nil {
		return nil, missing("This paper has no picture: open it as PDF.")
	}
	var b bytes.Buffer
	err := m.label.WriteSVG(&b)
	return b.Bytes(), err
}

// paperTitle is what a paper is called on the shelf.
func paperTitle(sort shelf.PaperSort, product string) string { return paperWord(sort) + ": " + product }

func paperWord(sort shelf.PaperSort) string {
	words := map[shelf.PaperSort]string{shelf.WorkplaceLabel: "Label", shelf.SupplierLabel: "Supplier label", shelf.BenchCard: "Bench card", shelf.PlanPaper: "Job plan",
		shelf.ComparePaper: "Comparison", shelf.RegisterPaper: "Register", shelf.LetterPaper: "Letter", shelf.SheetPaper: "Drafted sheet"}
	if w, ok := words[sort]; ok {
		return w
	}
	return string(sort)
}

// optionsOf reads the options that were kept with a paper.
func optionsOf(p shelf.Paper) (paperOptions, error) {
	var o paperOptions
	if len(p.Options) == 0 {
		return o, nil
	}
	err := json.Unmarshal(p.Options, &o)
	return o, err
}

// howMade is how a paper was made, in words.
func howMade(p shelf.Paper, o paperOptions) string {
	var out []string
	if o.Stock != "" {
		out = append(out, fmt.Sprintf("%s on %s", plural(max(1, o.Copies), "label", "labels"), o.Stock))
	} else if o.Size != "" {
		out = append(out, o.Size+" mm")
	}
	for _, l := range o.langs() {
		out = append(out, languageName(l))
	}
	return strings.Join(out, ", ")
}
