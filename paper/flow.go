package paper

import (
	"fmt"
	"io"
	"strings"

	"sixteen/ghs"
)

// strip is a horizontal part of a document that is not divided between pages.
type strip struct {
	h      float64
	before float64 // space above it, left out at the top of a page
	keep   bool    // stays with the next strip
	brk    bool    // begins a page
	heads  []strip // titles of the table that are repeated when the strip begins a page
	draw   func(p *press, x, y float64)
}

// setter turns blocks into strips.
type setter struct {
	face *face
	size float64
	lang ghs.Lang
	err  error
}

// fail keeps the first error.
func (s *setter) fail(err error) {
	if s.err == nil {
		s.err = err
	}
}

func (s *setter) blocks(bs []Block, width float64, parent *element) []strip {
	var out []strip
	for _, b := range bs {
		out = append(out, s.block(b, width, parent)...)
	}
	return out
}

func (s *setter) block(b Block, width float64, parent *element) []strip {
	switch b := b.(type) {
	case Heading:
		return s.heading(b, width, parent)
	case Paragraph:
		return s.paragraph(b, width, parent)
	case List:
		return s.list(b, width, parent)
	case Table:
		return s.table(b, width, parent)
	case Pairs:
		return s.pairs(b, width, parent)
	case Pictograms:
		return s.pictograms(b, width, parent)
	case Figure:
		return s.figure(b, width, parent)
	case Picture:
		return s.picture(b, width, parent)
	case QR:
		return s.qr(b, width, parent)
	case Box:
		return s.box(b, width, parent)
	case Columns:
		return s.columns(b, width, parent)
	case Keep:
		return kept(s.blocks(b.Blocks, width, parent))
	case Space:
		return []strip{{before: b.MM * MM}}
	case PageBreak:
		return []strip{{brk: true}}
	case Signature:
		return s.signature(b, width, parent)
	}
	s.fail(fmt.Errorf("a document cannot hold a %T", b))
	return nil
}

// kept ties strips together.
func kept(list []strip) []strip {
	for i := range list {
		list[i].keep = i < len(list)-1
	}
	return list
}

// weights gives the letter size of a paragraph beside the text.
func (s *setter) weight(w Weight) float64 {
	return s.size * [...]float64{Usual: 1, Small: 0.85, Large: 1.25, Huge: 1.9}[w]
}

// lines sets lines as one strip each. At least two lines stay together at either end.
func (s *setter) lines(ls []line, size, indent, before float64, ink Ink, e *element) []strip {
	out := make([]strip, len(ls))
	for i, l := range ls {
		out[i] = strip{h: size * leading, draw: func(p *press, x, y float64) {
			p.line(e, l, x+indent, y+size*ascent, size, ink)
		}}
		out[i].keep = i < len(ls)-1 && (i == 0 || i == len(ls)-2)
	}
	if len(out) > 0 {
		out[0].before = before
	}
	return out
}

func (s *setter) heading(b Heading, width float64, parent *element) []strip {
	level := min(max(b.Level, 1), 4)
	size := s.size * [...]float64{1: 1.9, 2: 1.35, 3: 1.12, 4: 1}[level]
	before := s.size * [...]float64{1: 0, 2: 1.7, 3: 1.1, 4: 0.8}[level]
	e := parent.child(fmt.Sprintf("H%d", level))
	out := s.lines(s.face.wrap(Strong(b.Text), size, width), size, 0, before, black, e)
	if level == 2 {
		first := out[0]
		rule := s.size * 0.5
		out[0].h += rule
		out[0].draw = func(p *press, x, y float64) {
			p.marked(nil, func() { p.shape(stroke(x, y+0.4, x+width, y+0.4, 0.8, black)) })
			first.draw(p, x, y+rule)
		}
	}
	gap := s.size * [...]float64{1: 0.5, 2: 0.35, 3: 0.2, 4: 0.1}[level]
	out[len(out)-1].h += gap
	for i := range out {
		out[i].keep = true
	}
	return out
}

func (s *setter) paragraph(b Paragraph, width float64, parent *element) []strip {
	size := s.weight(b.Weight)
	ink := black
	if b.Weight == Small {
		ink = dark
	}
	text := b.Text
	if b.Weight == Huge {
		text = Strong(text.String())
	}
	return s.lines(s.face.wrap(text, size, width), size, 0, s.size*0.5, ink, parent.child("P"))
}

func (s *setter) list(b List, width float64, parent *element) []strip {
	size := s.weight(b.Weight)
	indent := size * 1.6
	e := parent.child("L")
	var out []strip
	for i, item := range b.Items {
		li := e.child("LI")
		lbl, body := li.child("Lbl"), li.child("LBody")
		lbl.alt = markerAlt(b.Marker, s.lang)
		before := size * 0.3
		if i == 0 {
			before = size * 0.5
		}
		strips := s.lines(s.face.wrap(item, size, width-indent), size, indent, before, black, body)
		first := strips[0].draw
		strips[0].draw = func(p *press, x, y float64) {
			if b.Marker == Numbered {
				p.marked(lbl, func() { p.text(x, y+size*ascent, size, regular, black, fmt.Sprintf("%d.", i+1)) })
			} else {
				p.marked(lbl, func() { p.shape(markerShape(b.Marker, x, y, size)) })
			}
			first(p, x, y)
		}
		out = append(out, strips...)
	}
	return out
}

// markerAlt is the sign before an item as it is read aloud.
func markerAlt(m Marker, l ghs.Lang) string {
	switch m {
	case Tick:
		return word("do", l)
	case Cross:
		return word("do-not", l)
	case CheckBox:
		return word("to-tick", l)
	}
	return ""
}

// markerShape draws the sign before an item whose first line begins at y.
func markerShape(m Marker, x, y, size float64) Shape {
	a := size * 0.62 // edge of the sign
	x, y = x+size*0.1, y+size*(ascent-0.03)-a
	switch m {
	case Tick:
		return Shape{Path: []Segment{moveTo(x, y+a*0.55), lineTo(x+a*0.38, y+a*0.95), lineTo(x+a*1.05, y+a*0.05)}, Stroke: &black, LineWidth: size * 0.13}
	case Cross:
		return Shape{Path: []Segment{moveTo(x, y+a*0.05), lineTo(x+a*0.9, y+a*0.95), moveTo(x+a*0.9, y+a*0.05), lineTo(x, y+a*0.95)}, Stroke: &black, LineWidth: size * 0.13}
	case CheckBox:
		return framed(x, y, a*1.05, a*1.05, size*0.07, black)
	}
	return filled(x+a*0.25, y+a*0.35, a*0.4, a*0.4, black)
}

func (s *setter) pairs(b Pairs, width float64, parent *element) []strip {
	share := b.Width
	if share == 0 {
		share = 0.3
	}
	t := Table{Columns: []Column{{Width: share}, {Width: 1 - share}}, RowHeads: true}
	for _, r := range b.Rows {
		t.Rows = append(t.Rows, []Text{Plain(r.Key), r.Value})
	}
	return s.table(t, width, parent)
}

func (s *setter) pictograms(b Pictograms, width float64, parent *element) []strip {
	side := b.SizeMM * MM
	if side == 0 {
		side = 20 * MM
	}
	side = min(side, width)
	gap, small := s.size*0.6, s.size*0.8
	perRow := max(1, int((width+gap)/(side+gap)))
	var out []strip
	for from := 0; from < len(b.List); from += perRow {
		row := b.List[from:min(from+perRow, len(b.List))]
		names, rows := make([][]line, len(row)), 0
		if b.Names {
			for i, g := range row {
				names[i] = s.face.wrap(Plain(g.Name(s.lang)), small, side+gap*0.7)
				rows = max(rows, len(names[i]))
			}
		}
		e := parent.child("P")
		out = append(out, strip{h: side + float64(rows)*small*leading + 1, before: s.size * 0.5, draw: func(p *press, x, y float64) {
			for i, g := range row {
				at := x + float64(i)*(side+gap)
				p.marks([]Mark{symbol(g, at, y, side, s.lang)}, e)
				for j, l := range names[i] {
					p.marked(nil, func() {
						p.line(nil, l, at+(side-l.w)/2, y+side+small*(ascent+float64(j)*leading), small, black)
					})
				}
			}
		}})
	}
	return out
}

func (s *setter) figure(b Figure, width float64, parent *element) []strip {
	if b.Drawing == nil || b.Drawing.Width <= 0 || b.Drawing.Height <= 0 {
		s.fail(fmt.Errorf("the figure %q has no drawing", b.Alt))
		return nil
	}
	w := min(b.Drawing.Width, width)
	if b.Width > 0 {
		w = width * min(b.Width, 1)
	}
	scale := w / b.Drawing.Width
	e := parent.child("Figure")
	e.alt = b.Alt
	out := []strip{{h: b.Drawing.Height * scale, before: s.size * 0.6, keep: b.Caption != "", draw: func(p *press, x, y float64) {
		p.marked(e, func() { p.marks(moved(b.Drawing.Marks, x, y, scale), nil) })
	}}}
	return append(out, s.caption(b.Caption, width, parent)...)
}

func (s *setter) caption(text string, width float64, parent *element) []strip {
	if text == "" {
		return nil
	}
	size := s.size * 0.85
	return s.lines(s.face.wrap(Plain(text), size, width), size, 0, s.size*0.3, dark, parent.child("Caption"))
}

func (s *setter) qr(b QR, width float64, parent *element) []strip {
	side := b.SizeMM * MM
	if side == 0 {
		side = 25 * MM
	}
	code, err := qrDrawing(b.Content)
	if err != nil {
		s.fail(err)
		return nil
	}
	size := s.size * 0.85
	var ls []line
	if b.Label != "" {
		ls = s.face.wrap(Plain(b.Label), size, side)
	}
	e, words := parent.child("Figure"), parent.child("P")
	e.alt = "QR: " + b.Content
	return []strip{{h: side + float64(len(ls))*size*leading, before: s.size * 0.5, draw: func(p *press, x, y float64) {
		p.marked(e, func() { p.marks(moved(code.Marks, x, y, side/code.Width), nil) })
		for i, l := range ls {
			p.line(words, l, x, y+side+size*(ascent+float64(i)*leading), size, dark)
		}
	}}}
}

func (s *setter) signature(b Signature, width float64, parent *element) []strip {
	n := float64(len(b.Labels))
	if n == 0 {
		return nil
	}
	gap, size := 8*MM, s.size*0.85
	w := (width - (n-1)*gap) / n
	if n == 1 {
		w = min(w, 80*MM)
	}
	e := parent.child("P")
	return []strip{{h: size * leading, before: 14 * MM, draw: func(p *press, x, y float64) {
		for i, l := range b.Labels {
			at := x + float64(i)*(w+gap)
			p.marked(nil, func() { p.shape(stroke(at, y, at+w, y, 0.6, black)) })
			p.marked(e, func() { p.text(at, y+size*ascent, size, regular, dark, s.face.written(l)) })
		}
	}}}
}

func (s *setter) columns(b Columns, width float64, parent *element) []strip {
	gap := b.GapMM * MM
	if gap == 0 {
		gap = 6 * MM
	}
	total := 0.0
	for _, p := range b.Parts {
		total += max(p.Width, 0) + btof(p.Width <= 0)
	}
	free := width - gap*float64(len(b.Parts)-1)
	type placed struct {
		x      float64
		strips []strip
	}
	var parts []placed
	x, h := 0.0, 0.0
	for _, p := range b.Parts {
		w := free * (max(p.Width, 0) + btof(p.Width <= 0)) / total
		strips := s.blocks(p.Blocks, w, parent)
		parts = append(parts, placed{x, strips})
		h = max(h, height(strips))
		x += w + gap
	}
	return []strip{{h: h, before: s.size * 0.5, draw: func(p *press, x, y float64) {
		for _, part := range parts {
			stack(p, part.strips, x+part.x, y)
		}
	}}}
}

func btof(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// height is the height of strips one below the other, without the space above the first.
func height(list []strip) float64 {
	h := 0.0
	for i, s := range list {
		h += s.h
		if i > 0 {
			h += s.before
		}
	}
	return h
}

// stack draws strips one below the other.
func stack(p *press, list []strip, x, y float64) {
	for i, s := range list {
		if i > 0 {
			y += s.before
		}
		if s.draw != nil {
			s.draw(p, x, y)
		}
		y += s.h
	}
}

func (s *setter) box(b Box, width float64, parent *element) []strip {
	pad, left := s.size*0.8, s.size*0.9
	if b.Tone == Caution {
		left = s.size * 1.3
	}
	e := parent.child("Sect")
	var inner []strip
	title := s.boxTitle(b, width-left-pad, e)
	inner = append(inner, title...)
	inner = append(inner, s.blocks(b.Blocks, width-left-pad, e)...)
	if b.Tone == Inverse && len(title) > 0 && len(inner) > len(title) {
		inner[len(title)].before = s.size * 0.6
	}
	out := make([]strip, 0, len(inner))
	for i, in := range inner {
		first, last := i == 0, i == len(inner)-1
		top, bottom := in.before, 0.0
		if first {
			top = pad * 0.7
		}
		if last {
			bottom = pad
		}
		o := strip{h: in.h + top + bottom, keep: in.keep, heads: in.heads}
		if first {
			o.before = s.size * 0.8
		}
		inTitle := i < len(title)
		o.draw = func(p *press, x, y float64) {
			p.marked(nil, func() { boxGround(p, b.Tone, x, y, width, o.h, first, last, inTitle) })
			if in.draw != nil {
				in.draw(p, x+left, y+top)
			}
		}
		out = append(out, o)
	}
	return out
}

func (s *setter) boxTitle(b Box, width float64, e *element) []strip {
	if b.Title == "" {
		return nil
	}
	size, ink := s.size*1.05, black
	if b.Tone == Caution {
		size = s.size * 1.3
	}
	if b.Tone == Inverse {
		ink = white
	}
	out := s.lines(s.face.wrap(Strong(b.Title), size, width), size, 0, 0, ink, e.child("H3"))
	for i := range out {
		out[i].keep = true
	}
	out[len(out)-1].h += s.size * 0.3
	return out
}

// boxGround draws the part of a box behind one strip.
func boxGround(p *press, t Tone, x, y, w, h float64, first, last, title bool) {
	const edge = 0.7
	switch t {
	case Shaded:
		p.shape(filled(x, y, w, h+0.2, pale))
		return
	case Caution:
		p.shape(filled(x, y, 3.4, h+0.2, black))
		p.shape(filled(x+3.4, y, w-3.4, h+0.2, pale))
		return
	case Inverse:
		if title {
			p.shape(filled(x, y, w, h+0.2, black))
			return
		}
	}
	p.shape(stroke(x+edge/2, y, x+edge/2, y+h, edge, black))
	p.shape(stroke(x+w-edge/2, y, x+w-edge/2, y+h, edge, black))
	if first {
		p.shape(stroke(x, y+edge/2, x+w, y+edge/2, edge, black))
	}
	if last {
		p.shape(stroke(x, y+h-edge/2, x+w, y+h-edge/2, edge, black))
	}
}

// TooLong is the error of a document that needs more pages than it may have.
type TooLong struct {
	Title    string
	Pages    int
	MaxPages int
	LeastMM  float64 // height by which the last page runs over, when one page was allowed
}

// Error says what to do.
func (e *TooLong) Error() string {
	return fmt.Sprintf("%q needs %d pages and may have %d: take a larger paper, or leave something out", e.Title, e.Pages, e.MaxPages)
}

// placed is a strip at its place on a page.
type placed struct {
	strip
	y float64
}

// paginate puts strips on pages of a height. Strips that are kept together go to the next page together when one page
// can hold them.
func paginate(list []strip, room float64) [][]placed {
	var pages [][]placed
	var page []placed
	y := 0.0
	flush := func() {
		pages, page, y = append(pages, page), nil, 0
	}
	for i := 0; i < len(list); {
		j := i
		for j < len(list)-1 && list[j].keep {
			j++
		}
		group := list[i : j+1]
		need := height(group)
		if y > 0 {
			need += group[0].before
		}
		if y > 0 && y+need > room+0.01 && height(group)+height(group[0].heads) <= room {
			flush()
		}
		for _, s := range group {
			if s.brk && len(page) > 0 {
				flush()
				continue
			}
			if y > 0 {
				if y+s.before+s.h > room+0.01 {
					flush()
				} else {
					y += s.before
				}
			}
			if y == 0 && len(pages) > 0 {
				for _, h := range s.heads {
					page = append(page, placed{h, y})
					y += h.h
				}
			}
			page = append(page, placed{s, y})
			y += s.h
		}
		i = j + 1
	}
	if len(page) > 0 || len(pages) == 0 {
		flush()
	}
	return pages
}

// layout is a document set on pages.
type layout struct {
	doc    Document
	press  *press
	pages  [][]placed
	w, h   float64
	margin float64
	room   float64
	set    *setter
}

// withDefaults fills the zero values of a document.
func (d Document) withDefaults() Document {
	if d.Page == (PageSize{}) {
		d.Page = A4
	}
	if d.Size == 0 {
		d.Size = 10
	}
	if d.MarginMM == 0 {
		d.MarginMM = 20
	}
	if d.Lang == "" {
		d.Lang = ghs.English
	}
	return d
}

func (d Document) properties() properties {
	return properties{d.Title, d.Subject, d.Author, d.Lang, d.Date}
}

func (d Document) layout() (*layout, error) {
	d = d.withDefaults()
	l := &layout{doc: d, w: d.Page.WidthMM * MM, h: d.Page.HeightMM * MM, margin: d.MarginMM * MM}
	p, err := newPress(l.w, l.h, d.properties())
	if err != nil {
		return nil, err
	}
	l.press, l.set = p, &setter{face: p.face, size: d.Size, lang: d.Lang}
	l.room = l.h - 2*l.margin
	strips := l.set.blocks(d.Blocks, l.w-2*l.margin, p.root)
	if l.set.err != nil {
		return nil, l.set.err
	}
	for _, s := range strips {
		if s.h > l.room {
			return nil, &TooLong{Title: d.Title, Pages: 2, MaxPages: 1}
		}
	}
	l.pages = paginate(strips, l.room)
	if d.MaxPages > 0 && len(l.pages) > d.MaxPages {
		return nil, &TooLong{Title: d.Title, Pages: len(l.pages), MaxPages: d.MaxPages}
	}
	return l, nil
}

// Pages is how many pages the document has as PDF.
func (d Document) Pages() (int, error) {
	l, err := d.layout()
	if err != nil {
		return 0, err
	}
	return len(l.pages), nil
}

// WritePDF writes the document as a PDF that can be read aloud. It fails with *TooLong when the document may not have as
// many pages as it needs.
func (d Document) WritePDF(w io.Writer) error {
	l, err := d.layout()
	if err != nil {
		return err
	}
	for i, page := range l.pages {
		l.press.newPage()
		l.running(i + 1)
		for _, s := range page {
			if s.draw != nil {
				s.draw(l.press, l.margin, l.margin+s.y)
			}
		}
	}
	return l.press.write(w)
}

// running draws head and foot of a page. A long text goes over two lines, in smaller letters where it must.
func (l *layout) running(n int) {
	fill := strings.NewReplacer("{page}", fmt.Sprint(n), "{pages}", fmt.Sprint(len(l.pages)))
	width := l.w - 2*l.margin
	put := func(r Running, y float64) {
		size := l.doc.Size * 0.8
		right := l.set.face.written(fill.Replace(r.Right))
		rw := l.set.face.width(regular, size, right)
		left := l.set.face.wrap(Plain(fill.Replace(r.Left)), size, width-rw-4*MM)
		small := size
		for ; len(left) > 2 && small > 3; small *= 0.93 {
			left = l.set.face.wrap(Plain(fill.Replace(r.Left)), small*0.93, width-rw-4*MM)
		}
		l.press.marked(nil, func() {
			for i, line := range left {
				l.press.line(nil, line, l.margin, y-float64(len(left)-1-i)*small*leading, small, dark)
			}
			l.press.text(l.w-l.margin-rw, y, size, regular, dark, right)
		})
	}
	put(l.doc.Head, l.margin*0.6)
	put(l.doc.Foot, l.h-l.margin*0.5)
}
