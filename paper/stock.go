package paper

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// Stock is a sheet of blank labels by its dimensions alone, in millimetres: how many columns and rows, the size of one
// label, where the first begins, and the distance from the beginning of one to the next.
type Stock struct {
	Name             string // "a4-2x4": paper, columns x rows
	Page             PageSize
	Columns, Rows    int
	Label            LabelSize
	LeftMM, TopMM    float64
	PitchXMM, PitchY float64
}

// Stocks lists the sheets offered, by paper and number of labels. The dimensions are common ones; measure your own sheets
// and give them by ParseStock when they differ.
func Stocks() []Stock {
	return []Stock{
		{"a4-1x1", A4, 1, 1, LabelSize{199.6, 289.1}, 5.2, 3.95, 199.6, 289.1},
		{"a4-1x2", A4, 1, 2, LabelSize{199.6, 143.5}, 5.2, 5, 199.6, 143.5},
		{"a4-2x2", A4, 2, 2, LabelSize{99.1, 139}, 4.7, 9.5, 101.6, 139},
		{"a4-2x4", A4, 2, 4, LabelSize{99.1, 67.7}, 4.7, 13.1, 101.6, 67.7},
		{"a4-2x5", A4, 2, 5, LabelSize{99.1, 57}, 4.7, 6, 101.6, 57},
		{"a4-3x4", A4, 3, 4, LabelSize{63.5, 72}, 7.2, 4.5, 66, 72},
		{"a4-3x7", A4, 3, 7, LabelSize{63.5, 38.1}, 7.2, 15.15, 66, 38.1},
		{"letter-1x2", Letter, 1, 2, LabelSize{203.2, 127}, 6.35, 12.7, 203.2, 127},
		{"letter-2x2", Letter, 2, 2, LabelSize{101.6, 127}, 4.3, 12.7, 105.7, 127},
		{"letter-2x3", Letter, 2, 3, LabelSize{101.6, 84.7}, 4, 12.7, 106.4, 84.7},
		{"letter-2x5", Letter, 2, 5, LabelSize{101.6, 50.8}, 4, 12.7, 106.4, 50.8},
		{"letter-3x10", Letter, 3, 10, LabelSize{66.7, 25.4}, 4.8, 12.7, 69.9, 25.4},
	}
}

// ErrStock is returned for a sheet of labels that cannot be understood or does not fit its paper.
var ErrStock = errors.New("name a sheet of labels from the list, or give its dimensions in millimetres: a4 2x4 99.1x67.7 left 4.7 top 13.1 pitch 101.6x67.7")

// ParseStock finds a sheet by its name, or reads its dimensions: paper, columns x rows, label width x height, then left,
// top and pitch with their values. Without left, top and pitch the labels stand edge to edge in the middle of the paper.
func ParseStock(s string) (Stock, error) {
	for _, k := range Stocks() {
		if strings.EqualFold(k.Name, strings.TrimSpace(s)) {
			return k, nil
		}
	}
	f := strings.Fields(strings.ToLower(strings.ReplaceAll(s, "×", "x")))
	if len(f) < 3 || len(f)%2 == 0 {
		return Stock{}, fmt.Errorf("%q: %w", s, ErrStock)
	}
	k := Stock{Name: s, Page: A4}
	if f[0] == "letter" {
		k.Page = Letter
	} else if f[0] != "a4" {
		return Stock{}, fmt.Errorf("%q: %w", s, ErrStock)
	}
	var w, h float64
	if _, err := fmt.Sscanf(f[1], "%dx%d", &k.Columns, &k.Rows); err != nil || k.Columns < 1 || k.Rows < 1 {
		return Stock{}, fmt.Errorf("%q: %w", f[1], ErrStock)
	}
	if _, err := fmt.Sscanf(f[2], "%fx%f", &w, &h); err != nil || w < 15 || h < 15 {
		return Stock{}, fmt.Errorf("%q: %w", f[2], ErrStock)
	}
	k.Label, k.PitchXMM, k.PitchY = LabelSize{w, h}, w, h
	k.LeftMM, k.TopMM = (k.Page.WidthMM-w*float64(k.Columns))/2, (k.Page.HeightMM-h*float64(k.Rows))/2
	for i := 3; i < len(f); i += 2 {
		var n int
		var err error
		switch f[i] {
		case "left":
			n, err = fmt.Sscanf(f[i+1], "%f", &k.LeftMM)
		case "top":
			n, err = fmt.Sscanf(f[i+1], "%f", &k.TopMM)
		case "pitch":
			n, err = fmt.Sscanf(f[i+1], "%fx%f", &k.PitchXMM, &k.PitchY)
		}
		if err != nil || n == 0 {
			return Stock{}, fmt.Errorf("%q: %w", f[i], ErrStock)
		}
	}
	return k, k.check()
}

// check tells whether the labels lie on the paper and not on each other.
func (k Stock) check() error {
	right := k.LeftMM + float64(k.Columns-1)*k.PitchXMM + k.Label.WidthMM
	bottom := k.TopMM + float64(k.Rows-1)*k.PitchY + k.Label.HeightMM
	switch {
	case k.LeftMM < 0 || k.TopMM < 0 || right > k.Page.WidthMM+0.01 || bottom > k.Page.HeightMM+0.01:
		return fmt.Errorf("%q: the labels reach beyond the paper (%.1f x %.1f mm): %w", k.Name, right, bottom, ErrStock)
	case k.Columns > 1 && k.PitchXMM < k.Label.WidthMM-0.01, k.Rows > 1 && k.PitchY < k.Label.HeightMM-0.01:
		return fmt.Errorf("%q: the labels lie on each other: %w", k.Name, ErrStock)
	}
	return nil
}

// LabelSheet is labels on sheets of stock. Start is the place of the first, from 1, so that a begun sheet is used up.
type LabelSheet struct {
	Stock  Stock
	Start  int
	Labels []*Label
}

// ErrStart is returned for a first place that the sheet does not have.
var ErrStart = errors.New("there is no such place on the sheet of labels: count from 1, along the rows")

// pages are the drawings of the sheets.
func (s LabelSheet) pages() ([]*Drawing, error) {
	if err := s.Stock.check(); err != nil {
		return nil, err
	}
	per := s.Stock.Columns * s.Stock.Rows
	start := max(s.Start, 1) - 1
	if start >= per {
		return nil, fmt.Errorf("place %d of %d: %w", s.Start, per, ErrStart)
	}
	var out []*Drawing
	for i, l := range s.Labels {
		at := start + i
		for at/per >= len(out) {
			out = append(out, &Drawing{Width: s.Stock.Page.WidthMM * MM, Height: s.Stock.Page.HeightMM * MM})
		}
		col, row := at%per%s.Stock.Columns, at%per/s.Stock.Columns
		x, y := (s.Stock.LeftMM+float64(col)*s.Stock.PitchXMM)*MM, (s.Stock.TopMM+float64(row)*s.Stock.PitchY)*MM
		page := out[at/per]
		page.Marks = append(page.Marks, moved(l.Marks, x, y, 1)...)
	}
	return out, nil
}

// WritePDF writes the sheets. They must be printed at their own size, not fitted to the page.
func (s LabelSheet) WritePDF(w io.Writer, date time.Time) error {
	pages, err := s.pages()
	if err != nil {
		return err
	}
	if len(pages) == 0 {
		return errors.New("there is no label to print")
	}
	props := properties{title: s.Labels[0].Product, lang: s.Labels[0].Langs[0], date: date}
	p, err := newPress(pages[0].Width, pages[0].Height, props)
	if err != nil {
		return err
	}
	for _, d := range pages {
		p.newPage()
		p.marks(d.Marks, p.root)
	}
	return p.write(w)
}
