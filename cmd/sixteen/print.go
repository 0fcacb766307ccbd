package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
)

// printCommand prints papers; each kind is one command below it.
type printCommand struct {
	Label         printWorkplace `cmd:"" help:"Label for a jar, bottle or pot that was filled at work."`
	Labels        printLabels    `cmd:"" help:"Sheet of labels on a sheet of blank ones, by its dimensions."`
	SupplierLabel printSupplier  `cmd:"" help:"Label for containers that are sold."`
	Card          printCard      `cmd:"" help:"Bench card: one page for the wall above the bench."`
	Letter        printLetter    `cmd:"" help:"Letter that asks the supplier about the findings."`
	Register      printRegister  `cmd:"" help:"Register of several sheets' products for the inspector."`
	Plan          printPlan      `cmd:"" help:"Plan of a job with its charts."`
	Comparison    printCompare   `cmd:"" help:"Products that would do one job, beside each other."`
}

// output is where and in what form a paper is written.
type output struct {
	Out    string `help:"File to write. Without it the paper is named after the sheet and written beside the working folder's other files." placeholder:"FILE" type:"path"`
	Format string `help:"pdf, html or docx; without it the ending of the file, or pdf." placeholder:"FORMAT"`
	Date   string `help:"Date on the paper, year-month-day. Without it today." placeholder:"DATE"`
}

func (o output) date() (time.Time, error) {
	if o.Date == "" {
		now := time.Now()
		return time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, time.UTC), nil
	}
	t, err := time.Parse("2006-01-02", o.Date)
	if err != nil {
		return t, fmt.Errorf("--date %q: write it as 2026-03-04", o.Date)
	}
	return t, nil
}

// write writes a paper whole and tells where.
func (o output) write(streams streams, kind, source string, write func(io.Writer, paper.Format) error) error {
	k, ok := paper.PaperOf(kind)
	if !ok {
		return fmt.Errorf("there is no paper %q", kind)
	}
	format, err := k.ParseFormat(o.Format, o.Out)
	if err != nil {
		return err
	}
	file := o.Out
	if file == "" {
		base := strings.TrimSuffix(filepath.Base(source), filepath.Ext(source))
		file = base + "-" + kind + "." + string(format)
	}
	var b bytes.Buffer
	if err := write(&b, format); err != nil {
		return err
	}
	if err := writeWhole(file, func(w io.Writer) error { _, err := w.Write(b.Bytes()); return err }); err != nil {
		return err
	}
	_, err = fmt.Fprintf(streams.err, "sixteen: %s written to %s\n", kind, file)
	return err
}

// about names the sheet a paper is made of.
type about struct {
	File  string   `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Rules string   `help:"Rule set: ${rulesets}. Without it the rule set is found in the sheet."`
	Lang  []string `help:"Language, en, fr, de or es; two for a label in two languages. Without it the language of the sheet."`
	Link  string   `help:"Address that the QR code leads to, such as the product's page." placeholder:"ADDRESS"`
}

// product reads and judges the sheet.
func (a about) product(ctx context.Context, io streams) (paper.Product, []ghs.Lang, error) {
	rules, err := parseRules(a.Rules)
	if err != nil {
		return paper.Product{}, nil, err
	}
	langs, err := a.languages()
	if err != nil {
		return paper.Product{}, nil, err
	}
	j, err := judgeOne(ctx, io, a.File, judge.Request{Rules: rules})
	if err != nil {
		return paper.Product{}, nil, err
	}
	p := paper.ProductOf(j, paper.ProductOptions{Link: a.Link})
	if len(langs) == 0 {
		langs = []ghs.Lang{cmp.Or(j.Sheet.Language.Value, ghs.English)}
	}
	for _, h := range p.Beyond {
		fmt.Fprintf(io.err, "sixteen: the ingredients show %s, which the sheet does not declare; the paper acts on it\n", h.Title(ghs.English))
	}
	return p, langs, nil
}

func (a about) languages() ([]ghs.Lang, error) {
	var out []ghs.Lang
	for _, s := range a.Lang {
		l, err := parseLang(strings.TrimSpace(s))
		if err != nil {
			return nil, err
		}
		if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	if len(out) > 2 {
		return nil, errors.New("--lang: a paper has one or two languages")
	}
	return out, nil
}

// sized is what all labels have.
type sized struct {
	Volume string `help:"Capacity of the container: 100ml, 5l. It decides the least sizes; without it a jar of up to half a litre." placeholder:"VOLUME"`
}

// litres reads the capacity.
func (s sized) litres() (float64, error) {
	if s.Volume == "" {
		return 0, nil
	}
	text := strings.ToLower(strings.ReplaceAll(strings.ReplaceAll(s.Volume, " ", ""), ",", "."))
	var v float64
	var unit string
	n, _ := fmt.Sscanf(text, "%f%s", &v, &unit)
	factor := map[string]float64{"ml": 0.001, "cl": 0.01, "l": 1, "litre": 1, "litres": 1, "liter": 1}[unit]
	if n != 2 || factor == 0 || !(v > 0 && v <= 1e6) {
		return 0, fmt.Errorf("--volume %q: write a number with ml or l, such as 100ml", s.Volume)
	}
	return v * factor, nil
}

// told says what a label leaves off.
func told(io streams, l *paper.Label) {
	for _, w := range l.LeftOff {
		fmt.Fprintf(io.err, "sixteen: left off for lack of room: %s\n", w)
	}
	if l.Minimum.FromMemory {
		fmt.Fprintf(io.err, "sixteen: least sizes by %s, from memory: check them\n", l.Minimum.Clause)
	}
}

type printWorkplace struct {
	about
	output
	sized
	Size     string `help:"Width x height in millimetres: 74x52." default:"74x52"`
	Decanted string `help:"Day it was filled, year-month-day; without it a line to write on." placeholder:"DATE"`
	By       string `help:"Who filled it; without it a line to write on." placeholder:"NAME"`
}

// Run prints one workplace label.
func (c *printWorkplace) Run(ctx context.Context, streams streams) error {
	l, date, err := c.make(ctx, streams)
	if err != nil {
		return err
	}
	return c.write(streams, "label", c.File, labelWriter(l, date))
}

func labelWriter(l *paper.Label, date time.Time) func(io.Writer, paper.Format) error {
	return func(w io.Writer, f paper.Format) error {
		if f == paper.HTML {
			return l.WriteHTML(w)
		}
		return l.WritePDF(w, date)
	}
}

func (c *printWorkplace) make(ctx context.Context, io streams) (*paper.Label, time.Time, error) {
	return labelOf(ctx, io, c.about, c.output, c.sized, paper.LabelOptions{Kind: paper.WorkplaceLabel, By: c.By}, c.Size, c.Decanted)
}

// labelOf makes a label from the flags.
func labelOf(ctx context.Context, io streams, a about, o output, s sized, opt paper.LabelOptions, size, decanted string) (*paper.Label, time.Time, error) {
	date, err := o.date()
	if err != nil {
		return nil, date, err
	}
	if opt.Size, err = paper.ParseLabelSize(size); err != nil {
		return nil, date, err
	}
	if opt.Litres, err = s.litres(); err != nil {
		return nil, date, err
	}
	if decanted != "" {
		if opt.Decanted, err = time.Parse("2006-01-02", decanted); err != nil {
			return nil, date, fmt.Errorf("--decanted %q: write it as 2026-03-04", decanted)
		}
	}
	p, langs, err := a.product(ctx, io)
	if err != nil {
		return nil, date, err
	}
	opt.Langs = langs
	l, err := p.Label(opt)
	if err != nil {
		return nil, date, err
	}
	told(io, l)
	return l, date, nil
}

type printSupplier struct {
	about
	output
	sized
	Size     string `help:"Width x height in millimetres." default:"148x105"`
	Quantity string `help:"Nominal quantity, for products sold to the public: 750 ml." placeholder:"AMOUNT"`
}

// Run prints a supplier label.
func (c *printSupplier) Run(ctx context.Context, streams streams) error {
	l, date, err := labelOf(ctx, streams, c.about, c.output, c.sized, paper.LabelOptions{Kind: paper.SupplierLabel, Quantity: c.Quantity}, c.Size, "")
	if err != nil {
		return err
	}
	return c.write(streams, "supplier-label", c.File, labelWriter(l, date))
}

type printLabels struct {
	about
	output
	sized
	Stock    string `help:"Sheet of blank labels: a name (see --stocks) or dimensions, such as 'a4 2x4 99.1x67.7 left 4.7 top 13.1 pitch 101.6x67.7'." default:"a4-2x4"`
	Stocks   bool   `help:"List the sheets of blank labels by their dimensions and end."`
	Count    int    `help:"How many labels; 0 fills the sheet." default:"0"`
	Start    int    `help:"Place of the first label on a begun sheet, from 1, along the rows." default:"1"`
	Decanted string `help:"Day it was filled, year-month-day; without it a line to write on." placeholder:"DATE"`
	By       string `help:"Who filled it; without it a line to write on." placeholder:"NAME"`
}

// Run prints labels of one product on a sheet.
func (c *printLabels) Run(ctx context.Context, streams streams) error {
	if c.Stocks {
		for _, k := range paper.Stocks() {
			fmt.Fprintf(streams.out, "%-12s %d labels of %s mm, left %g, top %g, pitch %gx%g\n", k.Name, k.Columns*k.Rows, k.Label, k.LeftMM, k.TopMM, k.PitchXMM, k.PitchY)
		}
		return nil
	}
	stock, err := paper.ParseStock(c.Stock)
	if err != nil {
		return err
	}
	l, date, err := labelOf(ctx, streams, c.about, c.output, c.sized, paper.LabelOptions{By: c.By}, stock.Label.String(), c.Decanted)
	if err != nil {
		return err
	}
	n := c.Count
	if n <= 0 {
		n = max(1, stock.Columns*stock.Rows-max(c.Start, 1)+1)
	}
	s := paper.LabelSheet{Stock: stock, Start: c.Start, Labels: slices.Repeat([]*paper.Label{l}, n)}
	return c.write(streams, "labels", c.File, func(w io.Writer, _ paper.Format) error { return s.WritePDF(w, date) })
}

// paged is the size of the paper.
type paged struct {
	Paper string `help:"a4 or letter." enum:"a4,letter" default:"a4"`
}

func (p paged) size() paper.PageSize {
	if p.Paper == "letter" {
		return paper.Letter
	}
	return paper.A4
}

type printCard struct {
	about
	output
	paged
	Where  string `help:"The workplace it hangs at." placeholder:"PLACE"`
	Poison string `help:"Telephone of the poison centre; without it a line to write on." placeholder:"NUMBER"`
	Ask    string `help:"Who answers questions in the workshop; without it a line to write on." placeholder:"NAME"`
}

// Run prints the bench card.
func (c *printCard) Run(ctx context.Context, streams streams) error {
	date, err := c.date()
	if err != nil {
		return err
	}
	p, langs, err := c.product(ctx, streams)
	if err != nil {
		return err
	}
	d, err := p.Card(paper.CardOptions{Lang: langs[0], Page: c.size(), Where: c.Where, Date: date, Poison: c.Poison, Ask: c.Ask})
	if err != nil {
		return err
	}
	return c.write(streams, "card", c.File, d.Write)
}

type printRegister struct {
	output
	paged
	Files    []string `arg:"" name:"sheet" help:"Safety data sheets (PDF, text)."`
	Rules    string   `help:"Rule set: ${rulesets}. Without it the rule set is found in each sheet."`
	Lang     string   `help:"en, fr, de or es." default:"en"`
	Workshop string   `help:"Name of the workshop at the head." placeholder:"NAME"`
}

// Run prints the register of the sheets; one that cannot be read is told and left out, and the command fails.
func (c *printRegister) Run(ctx context.Context, streams streams) error {
	date, err := c.date()
	if err != nil {
		return err
	}
	lang, err := parseLang(c.Lang)
	if err != nil {
		return err
	}
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	desk, err := openDesk(ctx, streams)
	if err != nil {
		return err
	}
	defer desk.Close()
	var rows []paper.RegisterRow
	failed := 0
	for _, file := range c.Files {
		j, _, err := judgeFile(ctx, desk, file, judge.Request{Rules: rules})
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			fmt.Fprintf(streams.err, "sixteen: %s: %v\n", file, err)
			failed++
			continue
		}
		rows = append(rows, paper.RegisterRow{Product: paper.ProductOf(j, paper.ProductOptions{}), SheetFile: filepath.Base(file)})
	}
	if len(rows) == 0 {
		return errSaid
	}
	d := paper.Register(rows, paper.RegisterOptions{Lang: lang, Workshop: c.Workshop, Date: date, Page: c.size()})
	if err := c.write(streams, "register", "all.pdf", d.Write); err != nil {
		return err
	}
	if failed > 0 {
		fmt.Fprintf(streams.err, "sixteen: %d of %d sheets are not in the register\n", failed, len(c.Files))
		return errSaid
	}
	return nil
}
