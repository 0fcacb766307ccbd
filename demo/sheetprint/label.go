package sheetprint

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/go-pdf/fpdf"

	"sixteen/audit"
	"sixteen/ghs"
)

// PrintLabel draws a label of 148 by 105 mm as a PDF of one page, in the face and colour of a layout: name, net content,
// pictograms, signal word, statements, supplier, and the marketing line. The same arguments give the same bytes. It
// fails when the words do not fit.
func PrintLabel(label audit.Label, lang ghs.Lang, l Layout) ([]byte, error) {
	d, err := loadWords(lang)
	if err != nil {
		return nil, err
	}
	l.Landscape, l.Turned, l.Letter, l.GreySymbols = false, false, false, false
	c := newCanvas(l)
	c.w, c.h = 419.5, 297.6
	c.pdf.AddPageFormat("P", fpdf.SizeType{Wd: c.w, Ht: c.h})
	c.pages = 1
	for size := 8.8; ; size -= 0.3 {
		if size < 4.6 {
			return nil, fmt.Errorf("label of %s: the statements do not fit", label.Product)
		}
		if c.labelTextHeight(label, d, size) < c.h-118 {
			c.drawLabel(label, d, size)
			break
		}
	}
	var out bytes.Buffer
	err = c.pdf.Output(&out)
	return out.Bytes(), err
}

const (
	labelMargin = 14.0
	symbolSide  = 46.0
)

// labelText is the running text of the label: statements, precautions and what it contains.
func labelText(label audit.Label, d dictionary) []string {
	var out []string
	if len(label.Ingredients) > 0 {
		out = append(out, d.say("contains")+": "+strings.Join(label.Ingredients, "; "))
	}
	var h, p []string
	for _, s := range label.Statements {
		h = append(h, s.Phrase)
	}
	for _, s := range label.Precautions {
		p = append(p, s.Phrase)
	}
	return append(out, strings.Join(h, " "), strings.Join(p, " "))
}

func (c *canvas) labelColumn(label audit.Label) (x, width float64) {
	x = labelMargin
	if len(label.Pictograms) > 0 {
		x += symbolSide + 10
	}
	if len(label.Pictograms) > 3 {
		x += symbolSide + 4
	}
	return x, c.w - x - labelMargin
}

func (c *canvas) labelTextHeight(label audit.Label, d dictionary, size float64) float64 {
	c.font(false, size)
	_, width := c.labelColumn(label)
	n := 0
	for _, t := range labelText(label, d) {
		n += len(c.wrap(t, width))
	}
	return float64(n)*c.leading() + 8
}

func (c *canvas) drawLabel(label audit.Label, d dictionary, size float64) {
	c.pdf.SetLineWidth(0.8)
	c.fill(c.l.Ink)
	c.pdf.Rect(0, 0, c.w, 44, "F")
	c.ink([3]int{255, 255, 255})
	c.font(true, 17)
	c.put(labelMargin, 28, label.Product)
	c.font(false, 9)
	content := fmt.Sprintf("%g ml", label.CapacityML)
	c.put(c.w-labelMargin-c.width(content), 28, content)
	c.ink([3]int{0, 0, 0})
	for i, g := range label.Pictograms {
		c.symbol(labelMargin+float64(i/3)*(symbolSide+4), 54+float64(i%3)*(symbolSide+4), symbolSide, g)
	}
	x, width := c.labelColumn(label)
	y := 66.0
	if label.SignalPrinted != "" {
		c.font(true, 13)
		c.put(x, y, label.SignalPrinted)
	}
	y += 6
	c.font(false, size)
	for i, t := range labelText(label, d) {
		c.font(i == len(labelText(label, d))-2, size)
		for _, line := range c.wrap(t, width) {
			y += c.leading()
			c.put(x, y, line)
		}
		y += 2
	}
	c.labelFoot(label)
}

func (c *canvas) labelFoot(label audit.Label) {
	c.pen([3]int{120, 120, 120})
	c.line(labelMargin, c.h-42, c.w-labelMargin, c.h-42)
	c.font(false, 7)
	c.put(labelMargin, c.h-31, label.Supplier+", "+label.Address)
	c.put(labelMargin, c.h-21, label.Phone)
	if label.UFI != "" {
		ufi := "UFI: " + label.UFI
		c.put(c.w-labelMargin-c.width(ufi), c.h-31, ufi)
	}
	c.font(true, 7)
	line := strings.TrimSpace(strings.ReplaceAll(label.Text, "\n", " "))
	for i, s := range c.wrap(line, c.w-2*labelMargin-90) {
		if i == 0 && line != "" {
			c.put(c.w-labelMargin-c.width(s), c.h-12, s)
		}
	}
}
