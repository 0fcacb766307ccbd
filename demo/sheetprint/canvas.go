package sheetprint

import (
	"strings"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
)

// canvas draws on pages. Lengths are points, the origin is the top left of the page as it is shown.
type canvas struct {
	pdf   *fpdf.Fpdf
	l     Layout
	w, h  float64 // page as shown
	core  bool    // a standard face: characters outside Windows-1252 have to be written otherwise
	tr    func(string) string
	pages int
	size  float64 // current letter size
	bold  bool
}

func newCanvas(l Layout) *canvas {
	w, h := 595.28, 841.89
	if l.Letter {
		w, h = 612, 792
	}
	c := &canvas{l: l, w: w, h: h}
	if l.Landscape {
		c.w, c.h = h, w
	}
	size := fpdf.SizeType{Wd: c.w, Ht: c.h}
	if l.Turned {
		size = fpdf.SizeType{Wd: w, Ht: h}
	}
	c.pdf = fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: size})
	fixed := time.Date(2024, 1, 2, 3, 4, 5, 0, time.UTC)
	c.pdf.SetCreationDate(fixed)
	c.pdf.SetModificationDate(fixed)
	c.pdf.SetCatalogSort(true)
	c.pdf.SetAutoPageBreak(false, 0)
	c.pdf.SetMargins(0, 0, 0)
	c.pdf.SetCellMargin(0)
	switch l.Face {
	case Sans:
		c.pdf.AddUTF8FontFromBytes(string(Sans), "", goregular.TTF)
		c.pdf.AddUTF8FontFromBytes(string(Sans), "B", gobold.TTF)
	case Mono:
		c.pdf.AddUTF8FontFromBytes(string(Mono), "", gomono.TTF)
		c.pdf.AddUTF8FontFromBytes(string(Mono), "B", gomonobold.TTF)
	default:
		c.core = true
		c.tr = c.pdf.UnicodeTranslatorFromDescriptor("cp1252")
	}
	return c
}

// newPage begins a page. On pages shown by their rotation entry everything is drawn turned by a quarter.
func (c *canvas) newPage() {
	if c.l.Turned && c.pages > 0 {
		c.pdf.TransformEnd()
	}
	c.pdf.AddPage()
	c.pages++
	if c.l.Turned {
		c.pdf.TransformBegin()
		c.pdf.Transform(fpdf.TransformMatrix{A: 0, B: 1, C: -1, D: 0, E: c.w, F: 0})
	}
	c.pdf.SetLineWidth(0.6)
	c.font(false, c.l.Size)
}

func (c *canvas) font(bold bool, size float64) {
	style := ""
	if bold {
		style = "B"
	}
	c.size, c.bold = size, bold
	c.pdf.SetFont(string(c.l.Face), style, size)
}

// written is s in characters the face has.
func (c *canvas) written(s string) string {
	if c.core {
		return c.tr(strings.NewReplacer("≥", ">=", "≤", "<=").Replace(s))
	}
	return s
}

func (c *canvas) width(s string) float64 { return c.pdf.GetStringWidth(c.written(s)) }

// put writes s with its baseline at y.
func (c *canvas) put(x, y float64, s string) { c.pdf.Text(x, y, c.written(s)) }

// putSpaced writes s letter by letter with a gap after each, and returns where it ends.
func (c *canvas) putSpaced(x, y, gap float64, s string) float64 {
	for _, r := range s {
		if r != ' ' {
			c.put(x, y, string(r))
		}
		x += c.width(string(r)) + gap
	}
	return x
}

func (c *canvas) leading() float64 { return c.size * 1.28 }

// wrap breaks s into lines no wider than width, at blanks and, for long words, inside them. Line ends in s are kept.
func (c *canvas) wrap(s string, width float64) []string {
	var out []string
	for _, part := range strings.Split(s, "\n") {
		out = append(out, c.wrapLine(part, width)...)
	}
	return out
}

func (c *canvas) wrapLine(s string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Split(s, " ") {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if c.width(try) <= width {
			line = try
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for c.width(word) > width {
			n := c.fitting(word, width)
			out = append(out, word[:n])
			word = word[n:]
		}
		line = word
	}
	return append(out, line)
}

// fitting is how many bytes of a word fit into width, at least one letter; it prefers to break after a slash or hyphen.
func (c *canvas) fitting(word string, width float64) int {
	fit, nice := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if c.width(word[:end]) > width && fit > 0 {
			break
		}
		fit = end
		if r == '/' || r == '-' {
			nice = end
		}
	}
	if nice > 0 {
		return nice
	}
	return fit
}

func (c *canvas) ink(rgb [3]int)  { c.pdf.SetTextColor(rgb[0], rgb[1], rgb[2]) }
func (c *canvas) fill(rgb [3]int) { c.pdf.SetFillColor(rgb[0], rgb[1], rgb[2]) }
func (c *canvas) pen(rgb [3]int)  { c.pdf.SetDrawColor(rgb[0], rgb[1], rgb[2]) }
func (c *canvas) line(x0, y0, x1, y1 float64) {
	c.pdf.Line(x0, y0, x1, y1)
}
