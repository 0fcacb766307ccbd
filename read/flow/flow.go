// Package flow sets documents that have no pages of their own (HTML, DOCX) on one long page, so that they are read like
// printed ones.
//
//	paragraphs, tables, pictures ─► words with boxes, rules around the cells ─► page.Page
//
// Boxes place words relative to each other and mean nothing outside of the program.
package flow

import (
	"image"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/draw"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Block is a paragraph, a table or a picture. Text may hold line breaks; a tab divides a label from its value.
type Block struct {
	Text    string
	Bold    bool
	Heading bool
	Table   [][]Cell // rows; text and picture are then ignored
	Picture image.Image
}

// Cell is one cell of a table, Span columns wide and Down rows high, at least 1.
type Cell struct {
	Blocks     []Block
	Span, Down int
}

// Page is the page that was set, with what its pictures show.
type Page struct {
	page.Page
	pictures []image.Image // of Page.Images
}

// Sizes in points: one character is charWidth wide, one line lineHeight high; pictures are squares.
const (
	charWidth   = 5.0
	lineHeight  = 13.0
	pageWidth   = 600.0
	tableWidth  = 900.0
	leastColumn = 40.0
	pictureSide = 50.0
	padding     = 4.0
)

// Set puts blocks on a page.
func Set(blocks []Block) Page {
	s := setter{}
	s.page.Number, s.page.How, s.page.Width = 1, sheet.ByText, tableWidth+2*padding
	s.page.Height = s.blocks(blocks, padding, padding, pageWidth) + padding
	return s.page
}

type setter struct{ page Page }

// blocks sets blocks one below the other from y on and returns where they end.
func (s *setter) blocks(all []Block, x, y, width float64) float64 {
	for _, b := range all {
		switch {
		case b.Table != nil:
			y = s.table(b.Table, x, y+padding, max(width, min(tableWidth, width*1.5))) + padding
		case b.Picture != nil:
			box := sheet.Rect{X0: x, Y0: y + 2, X1: x + pictureSide*aspect(b.Picture), Y1: y + 2 + pictureSide}
			s.page.Images = append(s.page.Images, page.Image{Box: box})
			s.page.pictures = append(s.page.pictures, b.Picture)
			y = box.Y1 + 4
		default:
			y = s.text(b, x, y, width)
		}
	}
	return y
}

func aspect(img image.Image) float64 {
	return float64(img.Bounds().Dx()) / float64(max(1, img.Bounds().Dy()))
}

// text sets a paragraph; lines longer than width are wrapped.
func (s *setter) text(b Block, x, y, width float64) float64 {
	size := 10.0
	if b.Heading {
		y, size = y+lineHeight/2, 13
	}
	for _, line := range strings.Split(b.Text, "\n") {
		at := x
		for i, part := range strings.Split(line, "\t") {
			if i > 0 {
				at = max(at+4*charWidth, x+width/3)
			}
			for _, word := range strings.Fields(part) {
				w := charWidth * float64(utf8.RuneCountInString(word))
				if at > x && at+w > x+width {
					at, y = x, y+lineHeight
				}
				s.page.Words = append(s.page.Words, page.Word{Text: word, Box: sheet.Rect{X0: at, Y0: y + 1, X1: at + w, Y1: y + 11},
					Size: size, Bold: b.Bold || b.Heading, Confidence: 1, SpaceAfter: true})
				at += w + charWidth
			}
		}
		y += lineHeight
	}
	return y
}

// table sets a table with rules around its cells.
func (s *setter) table(rows [][]Cell, x, y, width float64) float64 {
	edges := columns(rows, x, width)
	rule := func(x0, y0, x1, y1 float64, horizontal bool) {
		s.page.Rules = append(s.page.Rules, page.Rule{Box: sheet.Rect{X0: x0, Y0: y0, X1: x1, Y1: y1}, Horizontal: horizontal})
	}
	busy := make([]int, len(edges)) // rows that a cell from above still covers
	for _, row := range rows {
		bottom, c := y+lineHeight, 0
		starts := []int{}
		for _, cell := range row {
			for c < len(edges)-1 && busy[c] > 0 {
				c++
			}
			if c >= len(edges)-1 {
				break
			}
			end := min(c+max(1, cell.Span), len(edges)-1)
			bottom = max(bottom, s.blocks(cell.Blocks, edges[c]+padding, y+2, edges[end]-edges[c]-2*padding))
			starts = append(starts, c)
			for k := c; k < end; k++ {
				busy[k] = max(1, cell.Down)
			}
			c = end
		}
		for c := 0; c < len(edges)-1; c++ {
			if busy[c] <= 1 {
				rule(edges[c], bottom+1, edges[c+1], bottom+1.5, true)
			}
			busy[c] = max(0, busy[c]-1)
		}
		for _, c := range starts {
			rule(edges[c], y, edges[c]+0.5, bottom+1, false)
		}
		rule(edges[len(edges)-1], y, edges[len(edges)-1]+0.5, bottom+1, false)
		y = bottom + 2
	}
	return y
}

// columns are the edges of the columns, wide in proportion to their longest text within bounds.
func columns(rows [][]Cell, x, width float64) []float64 {
	const most, longest = 60, 40
	var want []float64
	for _, row := range rows {
		c := 0
		for _, cell := range row {
			span := max(1, cell.Span)
			for len(want) < min(c+span, most) {
				want = append(want, 4)
			}
			if span == 1 && c < len(want) {
				n := 0
				for _, b := range cell.Blocks {
					n = max(n, utf8.RuneCountInString(b.Text))
				}
				want[c] = max(want[c], float64(min(n, longest)))
			}
			c += span
		}
	}
	total := 0.0
	for _, w := range want {
		total += w
	}
	edges := []float64{x}
	for _, w := range want {
		edges = append(edges, edges[len(edges)-1]+max(leastColumn, w/total*width))
	}
	if len(edges) == 1 {
		edges = append(edges, x+width)
	}
	return edges
}

// Draw draws the pictures within a box of the page, as package picture asks for them.
func (p Page) Draw(_ int, box sheet.Rect, dpi float64) (image.Image, error) {
	k := dpi / 72
	out := image.NewRGBA(image.Rect(0, 0, int((box.X1-box.X0)*k), int((box.Y1-box.Y0)*k)))
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	for i, img := range p.pictures {
		b := p.Images[i].Box
		at := image.Rect(int((b.X0-box.X0)*k), int((b.Y0-box.Y0)*k), int((b.X1-box.X0)*k), int((b.Y1-box.Y0)*k))
		if at.Overlaps(out.Rect) {
			draw.BiLinear.Scale(out, at, img, img.Bounds(), draw.Over, nil)
		}
	}
	return out, nil
}
