package sheetprint

// table places a table; rows that do not fit go to the next column or page, whole or, where the layout cuts rows, in
// parts. The head is repeated after a break.
func (f *flow) table(t table) {
	f.font(false, f.l.Size-0.4)
	var head [][]string
	if t.head != nil {
		f.font(true, f.l.Size-0.4)
		head = f.cells(t.head, t.widths)
		f.need(f.rowHeight(head) + f.leading()*2 + 4*pad)
		f.row(head, t.widths, true, 0)
	}
	for i, r := range t.rows {
		f.font(false, f.l.Size-0.4)
		cells := f.cells(r, t.widths)
		for len(cells) > 0 {
			room := int((f.bottom() - f.y - 2*pad) / f.leading())
			lines := tallest(cells)
			if lines <= room {
				f.row(cells, t.widths, false, i)
				break
			}
			if !f.l.SplitRows || room < 1 {
				if f.y == f.colTop && room >= 1 {
					cells = f.part(cells, room, t.widths, i)
					continue
				}
				f.repeatHead(head, t.widths)
				continue
			}
			cells = f.part(cells, room, t.widths, i)
			f.repeatHead(head, t.widths)
		}
	}
	f.y += 4
}

// part prints the first n lines of a row and returns the rest.
func (f *flow) part(cells [][]string, n int, widths []float64, i int) [][]string {
	first, rest := make([][]string, len(cells)), make([][]string, len(cells))
	for k, c := range cells {
		first[k], rest[k] = c[:min(n, len(c))], c[min(n, len(c)):]
	}
	f.row(first, widths, false, i)
	return rest
}

func (f *flow) repeatHead(head [][]string, widths []float64) {
	f.advance()
	if head != nil {
		f.font(true, f.l.Size-0.4)
		f.row(head, widths, true, 0)
		f.font(false, f.l.Size-0.4)
	}
}

func tallest(cells [][]string) int {
	n := 0
	for _, c := range cells {
		n = max(n, len(c))
	}
	return n
}

func total(widths []float64) float64 {
	s := 0.0
	for _, w := range widths {
		s += w
	}
	return s
}

// cells wraps the texts of a row into their columns.
func (f *flow) cells(texts []string, widths []float64) [][]string {
	out := make([][]string, len(texts))
	for i, s := range texts {
		out[i] = f.wrap(s, f.columnWidth()*widths[i]/total(widths)-2*pad)
	}
	return out
}

func (f *flow) rowHeight(cells [][]string) float64 {
	return float64(tallest(cells))*f.leading() + 2*pad
}

// row draws one row at the current place. i is its number, for shading.
func (f *flow) row(cells [][]string, widths []float64, head bool, i int) {
	height := f.rowHeight(cells)
	x := f.x()
	for k, c := range cells {
		w := f.columnWidth() * widths[k] / total(widths)
		f.frame(x, w, height, head, i)
		y := f.y + pad
		if f.l.Centred {
			y += (height - 2*pad - float64(len(c))*f.leading()) / 2
		}
		for _, s := range c {
			at := x + pad
			if f.l.Centred && k > 0 {
				at = x + (w-f.width(s))/2
			}
			f.put(at, y+f.size, s)
			y += f.leading()
		}
		x += w
	}
	f.y += height
}

// frame draws the ruling of one cell.
func (f *flow) frame(x, w, h float64, head bool, i int) {
	f.pen([3]int{90, 90, 90})
	switch f.l.Tables {
	case Boxed:
		style := "D"
		if head {
			f.fill([3]int{225, 225, 225})
			style = "FD"
		}
		f.pdf.Rect(x, f.y, w, h, style)
	case RuledHead:
		if head {
			f.line(x, f.y+h, x+w, f.y+h)
		}
	case Zebra:
		shade := [3]int{255, 255, 255}
		if head {
			shade = [3]int{205, 215, 225}
		} else if i%2 == 1 {
			shade = [3]int{240, 243, 246}
		}
		f.fill(shade)
		f.pdf.Rect(x, f.y, w, h, "F")
	}
}
