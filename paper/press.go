package paper

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"

	"sixteen/ghs"
)

// element is a node of the structure that a PDF is read aloud by (ISO 32000-1 14.7).
type element struct {
	role  string
	alt   string
	lang  ghs.Lang
	scope string // of a heading cell: Row or Column
	kids  []kid
}

// kid is an element, a piece of marked content or a link.
type kid struct {
	element    *element
	page, mcid int
	link       *link
}

// link is a place on a page that leads to an address.
type link struct {
	element *element
	url     string
	rect    [4]float64 // left, bottom, right, top in the page's own coordinates
}

func (e *element) child(role string) *element {
	c := &element{role: role}
	e.kids = append(e.kids, kid{element: c})
	return c
}

// press draws on the pages of a PDF. Lengths are points, the origin is the top left of the page.
type press struct {
	pdf   *fpdf.Fpdf
	face  *face
	h     float64
	page  int // number of the current page, from 0
	root  *element
	owner [][]*element // per page and mark
	links [][]*link    // per page
	open  bool
}

// properties are what the file says about itself.
type properties struct {
	title, subject, author string
	lang                   ghs.Lang
	date                   time.Time
}

func newPress(w, h float64, p properties) (*press, error) {
	f, err := newFace()
	if err != nil {
		return nil, err
	}
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: w, Ht: h}})
	date := fixedDate(p.date)
	pdf.SetCreationDate(date)
	pdf.SetModificationDate(date)
	pdf.SetCatalogSort(true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetTitle(p.title, true)
	pdf.SetSubject(p.subject, true)
	pdf.SetAuthor(p.author, true)
	pdf.SetCreator("sixteen", true)
	pdf.SetProducer("sixteen", true)
	pdf.SetLang(string(p.lang))
	pdf.AddUTF8FontFromBytes("go", "", fontData(regular))
	pdf.AddUTF8FontFromBytes("go", "B", fontData(bold))
	pdf.AddUTF8FontFromBytes("go", "I", fontData(italic))
	return &press{pdf: pdf, face: f, h: h, page: -1, root: &element{role: "Document", lang: p.lang}}, nil
}

// fixedDate is the date as it is written into files; a paper without one gets the beginning of the year 2000, because
// the time of day must not change the bytes.
func fixedDate(t time.Time) time.Time {
	if t.IsZero() {
		return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t.UTC().Truncate(time.Second)
}

func (p *press) newPage() {
	p.pdf.AddPage()
	p.page++
	p.owner, p.links = append(p.owner, nil), append(p.links, nil)
}

// raw writes operators of the page description (ISO 32000-1 annex A).
func (p *press) raw(format string, args ...any) {
	p.pdf.RawWriteStr(fmt.Sprintf(format, args...) + "\n")
}

// marked draws content that belongs to an element, or with nil content that is not read aloud.
func (p *press) marked(e *element, draw func()) {
	if p.open {
		draw()
		return
	}
	p.open = true
	if e == nil {
		p.raw("/Artifact BMC")
	} else {
		id := len(p.owner[p.page])
		p.owner[p.page] = append(p.owner[p.page], e)
		e.kids = append(e.kids, kid{page: p.page, mcid: id})
		p.raw("/%s <</MCID %d>> BDC", e.role, id)
	}
	draw()
	p.raw("EMC")
	p.open = false
}

func (p *press) font(c cut, size float64) {
	p.pdf.SetFont("go", [...]string{"", "B", "I"}[c], size)
}

// text writes one line of letters with its base line at y.
func (p *press) text(x, y, size float64, c cut, ink Ink, s string) {
	if strings.TrimSpace(s) == "" {
		return
	}
	p.font(c, size)
	p.pdf.SetTextColor(int(ink.R), int(ink.G), int(ink.B))
	p.pdf.Text(x, y, s)
}

// line writes a line of text that belongs to an element, or with nil is not read aloud. A link becomes an element of its
// own with the place to click on (ISO 32000-1 14.7.4.3).
func (p *press) line(e *element, l line, x, y, size float64, ink Ink) {
	for _, r := range l.runs {
		owner := e
		if linkable(r.link) && strings.Contains(r.link, ":") && e != nil {
			owner = e.child("Link")
			k := link{owner, r.link, [4]float64{x + r.x, p.h - y - size*descent, x + r.x + r.w, p.h - y + size*ascent}}
			owner.kids = append(owner.kids, kid{link: &k, page: p.page})
			p.links[p.page] = append(p.links[p.page], &k)
		}
		p.marked(owner, func() {
			p.text(x+r.x, y, size, r.cut, ink, r.text)
			if r.link != "" {
				p.shape(stroke(x+r.x, y+size*0.13, x+r.x+r.w, y+size*0.13, size*0.05, ink))
			}
		})
	}
}

// shape paints an area or a stroke.
func (p *press) shape(s Shape) {
	if s.Fill == nil && s.Stroke == nil || len(s.Path) == 0 {
		return
	}
	var b strings.Builder
	b.WriteString("q ")
	if s.Fill != nil {
		b.WriteString(s.Fill.components() + " rg ")
	}
	if s.Stroke != nil {
		fmt.Fprintf(&b, "%s RG %s w 1 j ", s.Stroke.components(), num(s.LineWidth))
		if len(s.Dash) > 0 {
			b.WriteString("[")
			for _, d := range s.Dash {
				b.WriteString(num(d) + " ")
			}
			b.WriteString("] 0 d ")
		}
	}
	for _, seg := range s.Path {
		for _, pt := range seg.To {
			b.WriteString(num(pt.X) + " " + num(p.h-pt.Y) + " ")
		}
		switch {
		case seg.Move:
			b.WriteString("m ")
		case len(seg.To) == 3:
			b.WriteString("c ")
		default:
			b.WriteString("l ")
		}
	}
	if s.Close {
		b.WriteString("h ")
	}
	switch {
	case s.Fill != nil && s.Stroke != nil:
		b.WriteString("B*")
	case s.Fill != nil:
		b.WriteString("f*")
	default:
		b.WriteString("S")
	}
	p.raw("%s Q", b.String())
}

// marks draws the marks of a drawing; each group with a role becomes an element below parent.
func (p *press) marks(marks []Mark, parent *element) {
	for _, m := range marks {
		switch m := m.(type) {
		case Shape:
			p.marked(nil, func() { p.shape(m) })
		case Words:
			p.marked(nil, func() { p.words(m) })
		case Group:
			if m.Role == Decoration || parent == nil {
				p.marked(nil, func() { p.marks(m.Marks, nil) })
				continue
			}
			e := parent.child(string(m.Role))
			e.alt, e.lang = m.Alt, m.Lang
			p.marked(e, func() { p.marks(m.Marks, nil) })
		}
	}
}

func (p *press) words(m Words) {
	c := regular
	if m.Bold {
		c = bold
	}
	s := p.face.written(m.Text)
	p.text(m.X-offset(m.Align, p.face.width(c, m.Size, s)), m.Y, m.Size, c, m.Ink, s)
}

// offset is how far left of its place a text of a width begins.
func offset(a Align, w float64) float64 {
	switch a {
	case Right:
		return w
	case Centre:
		return w / 2
	}
	return 0
}

// write ends the PDF and writes it with its structure.
func (p *press) write(w io.Writer) error {
	var b bytes.Buffer
	if err := p.pdf.Output(&b); err != nil {
		return fmt.Errorf("the PDF cannot be written: %w", err)
	}
	return writeTagged(w, b.Bytes(), p)
}
