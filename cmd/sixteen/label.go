package main

import (
	"context"
	"fmt"
	"io"

	"sixteen/read/label"
	"sixteen/sheet"
)

type labelReadCommand struct{ batch }

// labelPaperRead is a label with the file it was read from; places are pixels of a picture and points of a PDF.
type labelPaperRead struct {
	File string `json:"file"`
	*label.Label
}

// Run reads every label and prints what stands on it. It ends with errSaid when any could not be read.
func (c *labelReadCommand) Run(ctx context.Context, streams streams) error {
	desk, err := openDesk(ctx, streams)
	if err != nil {
		return err
	}
	defer desk.Close()
	return c.run(ctx, streams, desk, func(ctx context.Context, w io.Writer, d document, data []byte) (tally, error) {
		l, err := desk.ReadLabel(ctx, data)
		if err != nil {
			return tally{}, err
		}
		return tally{product: l.Product.Value, pages: 1}, c.show(w, d, l)
	})
}

func (c *labelReadCommand) show(w io.Writer, d document, l *label.Label) error {
	if c.JSON {
		return encodeTo(w, labelPaperRead{d.path, l})
	}
	p := &printer{w: w}
	p.heading("Label – " + d.name)
	for _, pr := range l.Problems {
		p.pair(0, 14, "not read", pr.What+"; "+pr.Do)
	}
	p.printf("\n")
	labelLine(p, "Product name", l.Product.Value, l.Product)
	labelLine(p, "Signal word", l.SignalPrinted.Value, l.SignalPrinted)
	for _, f := range l.Pictograms {
		labelLine(p, "Pictogram", f.Value.String(), f)
	}
	for _, f := range append(l.Statements, l.Precautions...) {
		text := string(f.Value.Code)
		if f.Value.Phrase != "" {
			text += " " + f.Value.Phrase
		}
		labelLine(p, "Statement", text, f)
	}
	labelLine(p, "Supplier", l.Supplier.Value, l.Supplier)
	labelLine(p, "Telephone", l.Phone.Value, l.Phone)
	labelLine(p, "UFI", l.UFI.Value, l.UFI)
	return p.err
}

// labelLine prints one fact of a label with its place; facts that the label is silent about are left out.
func labelLine[T any](p *printer, name, shown string, f sheet.Fact[T]) {
	if !f.Known() {
		return
	}
	at := f.Where()
	text := fmt.Sprintf("%s   [at %.0f, %.0f", shown, at.Box.X0, at.Box.Y0)
	if f.Confidence < sheet.AskBelow {
		text += fmt.Sprintf(", %.0f %% sure: look at it", f.Confidence*100)
	}
	p.pair(2, 16, name, text+"]")
}
