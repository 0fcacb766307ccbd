package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"

	"sixteen/read/label"
	"sixteen/sheet"
)

type labelReadCommand struct {
	Photos []string `arg:"" name:"photo" help:"Photographs or files of labels (JPEG, PNG, PDF)."`
	JSON   bool     `help:"Print everything as JSON, one object per label, with the place of every evidence (pixels of a picture, points of a PDF)."`
}

// Run reads every label and prints what stands on it.
func (c *labelReadCommand) Run(ctx context.Context, io streams) error {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	failed := false
	for _, file := range c.Photos {
		data, err := readFile(file)
		var l *label.Label
		if err == nil {
			l, err = desk.ReadLabel(ctx, data)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
			failed = true
			continue
		}
		if err := c.show(io, filepath.Base(file), l); err != nil {
			return err
		}
	}
	if failed {
		return errSaid
	}
	return nil
}

func (c *labelReadCommand) show(io streams, name string, l *label.Label) error {
	if c.JSON {
		enc := json.NewEncoder(io.out)
		enc.SetEscapeHTML(false)
		return enc.Encode(l)
	}
	p := &printer{w: io.out}
	p.heading("Label – " + name)
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
	if f.Confidence < 0.9 {
		text += fmt.Sprintf(", %.0f %% sure: look at it", f.Confidence*100)
	}
	p.pair(2, 16, name, text+"]")
}
