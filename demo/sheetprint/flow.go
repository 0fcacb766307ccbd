package sheetprint

import (
	"fmt"
	"strings"
)

// flow places blocks from top to bottom, column by column, page by page.
type flow struct {
	*canvas
	spec   Spec
	d      dictionary
	truth  *Truth
	total  int // pages of the whole sheet, known from an earlier pass; 0 in the first
	margin float64
	gutter float64
	col    int
	y      float64
	colTop float64 // where the columns of this page begin
	number int     // of the section being placed, as printed
	title  string
}

const (
	labelShare = 0.34 // of the line, for labels in a column of their own
	pad        = 3.0  // inside boxes
)

func (f *flow) columnWidth() float64 {
	return (f.w - 2*f.margin - f.gutter*float64(f.l.Columns-1)) / float64(f.l.Columns)
}

func (f *flow) x() float64      { return f.margin + float64(f.col)*(f.columnWidth()+f.gutter) }
func (f *flow) bottom() float64 { return f.h - f.margin - 16 }

// need makes room for height; it goes on in the next column or page when there is none.
func (f *flow) need(height float64) {
	if f.y+height <= f.bottom() {
		return
	}
	f.advance()
}

func (f *flow) advance() {
	size, bold := f.size, f.bold
	if f.col+1 < f.l.Columns {
		f.col++
		f.y = f.colTop
	} else {
		f.beginPage()
	}
	f.font(bold, size)
}

func (f *flow) beginPage() {
	f.newPage()
	f.col, f.y = 0, f.margin
	f.foot()
	if f.pages > 1 {
		f.runningHead()
	}
	f.colTop = f.y
	if f.l.Continued && f.number > 0 && f.pages > 1 {
		f.font(false, f.l.Size-1)
		f.put(f.x(), f.y+f.size, fmt.Sprintf("%s %d: %s (%s)", f.word("section"), f.number, f.title, f.word("continued")))
		f.y += f.leading() * 1.6
	}
}

func (f *flow) word(key string) string { return f.l.word(f.d, key) }

func (f *flow) docName() string {
	if f.spec.PreGHS {
		return f.d.say("doc.msds")
	}
	return f.d.say("doc.sds")
}

func (f *flow) foot() {
	f.font(false, f.l.Size-1.6)
	f.ink([3]int{60, 60, 60})
	y := f.h - f.margin + 4
	pageOf := fmt.Sprintf("%s %d %s %d", f.d.say("page"), f.pages, f.d.say("of"), f.total)
	if f.l.Number%3 == 0 {
		pageOf = fmt.Sprintf("%s %d/%d", f.d.say("page"), f.pages, f.total)
	}
	f.put(f.w-f.margin-f.width(pageOf), y, pageOf)
	f.put(f.margin, y, f.spec.Supplier.Name)
	f.ink([3]int{0, 0, 0})
}

// runningHead repeats product, document and version at the top of every page but the first.
func (f *flow) runningHead() {
	if !f.l.RunHead {
		return
	}
	f.font(false, f.l.Size-1.2)
	parts := []string{f.spec.Product, f.docName()}
	f.put(f.margin, f.y+f.size, parts[0])
	f.put(f.w/2-f.width(parts[1])/2, f.y+f.size, parts[1])
	right := ""
	if f.spec.Revision != "" {
		right = f.word("revision") + ": " + f.l.date(f.spec.Revision, f.spec.Lang)
	}
	f.put(f.w-f.margin-f.width(right), f.y+f.size, right)
	f.y += f.leading() + 2
	f.pen(f.l.Ink)
	f.line(f.margin, f.y, f.w-f.margin, f.y)
	f.y += 8
}

// lines writes wrapped lines at x and moves down; it breaks to the next column between lines.
func (f *flow) lines(dx float64, ls []string) {
	for _, s := range ls {
		f.need(f.leading())
		f.put(f.x()+dx, f.y+f.size, s)
		f.y += f.leading()
	}
}

func (f *flow) block(b block) {
	f.font(false, f.l.Size)
	switch b := b.(type) {
	case para:
		f.para(b)
	case field:
		f.field(b)
	case subhead:
		f.subhead(b)
	case table:
		f.table(b)
	case pictos:
		f.pictos(b)
	case ratings:
		f.ratings(b)
	}
}

func (f *flow) para(p para) {
	f.font(p.bold, f.l.Size)
	if p.note {
		f.font(false, f.l.Size-1.2)
	}
	if p.bold {
		f.need(f.leading() * 4)
	}
	f.lines(0, f.wrap(p.text, f.columnWidth()))
	f.y += 2
}

// subhead prints "2.1 Title" under the number that the section has in this layout, or nothing without subheadings.
func (f *flow) subhead(s subhead) {
	if !f.l.Subheads {
		return
	}
	_, minor, _ := strings.Cut(s.key, ".")
	f.font(true, f.l.Size)
	ls := f.wrap(fmt.Sprintf("%d.%s %s", f.number, minor, s.title), f.columnWidth())
	f.need(f.leading()*float64(len(ls)) + 30)
	f.y += 3
	f.lines(0, ls)
	f.y += 2
}

func (f *flow) field(b field) {
	switch f.l.Fields {
	case LabelColumn, ColonColumn:
		f.fieldColumns(b)
	case BoxedRow:
		f.table(table{widths: []float64{labelShare, 1 - labelShare}, rows: [][]string{{b.label, b.value}}})
		f.y -= 4
	case ValueBelow:
		f.font(true, f.l.Size)
		f.need(f.leading() * 2.2)
		f.lines(0, []string{b.label})
		f.font(false, f.l.Size)
		f.lines(12, f.wrap(b.value, f.columnWidth()-12))
		f.y += 3
	case Dotted:
		f.fieldDotted(b)
	default:
		f.fieldInline(b)
	}
}

func (f *flow) fieldColumns(b field) {
	width := f.columnWidth()
	f.font(f.l.Fields == LabelColumn, f.l.Size)
	labels := f.wrap(b.label, width*labelShare-14)
	f.font(false, f.l.Size)
	values := f.wrap(b.value, width*(1-labelShare))
	if len(labels) > 1 {
		f.need(f.leading() * float64(len(labels)))
	}
	for i := range max(len(labels), len(values)) {
		f.need(f.leading())
		if i < len(labels) {
			f.font(f.l.Fields == LabelColumn, f.l.Size)
			f.put(f.x(), f.y+f.size, labels[i])
			f.font(false, f.l.Size)
		}
		if i == 0 && f.l.Fields == ColonColumn {
			f.put(f.x()+width*labelShare-8, f.y+f.size, ":")
		}
		if i < len(values) {
			f.put(f.x()+width*labelShare, f.y+f.size, values[i])
		}
		f.y += f.leading()
	}
	f.y += 2
}

// fieldInline prints "Label: value", the value going on below the label.
func (f *flow) fieldInline(b field) {
	f.font(true, f.l.Size)
	label := b.label + ": "
	lw := f.width(label)
	f.font(false, f.l.Size)
	if strings.Contains(b.value, "\n") || lw > f.columnWidth()*0.7 {
		f.need(f.leading() * 2)
		f.font(true, f.l.Size)
		f.lines(0, f.wrap(strings.TrimSpace(label), f.columnWidth()))
		f.font(false, f.l.Size)
		f.lines(8, f.wrap(b.value, f.columnWidth()-8))
		f.y += 1
		return
	}
	words := strings.Split(b.value, " ")
	first := ""
	n := 0
	for n < len(words) && f.width(strings.TrimSpace(first+" "+words[n])) <= f.columnWidth()-lw {
		first = strings.TrimSpace(first + " " + words[n])
		n++
	}
	f.need(f.leading())
	f.font(true, f.l.Size)
	f.put(f.x(), f.y+f.size, strings.TrimSpace(label))
	f.font(false, f.l.Size)
	f.put(f.x()+lw, f.y+f.size, first)
	f.y += f.leading()
	if n < len(words) {
		f.lines(0, f.wrap(strings.Join(words[n:], " "), f.columnWidth()))
	}
	f.y += 1
}

// fieldDotted leads dots from the label to the value; long values go below.
func (f *flow) fieldDotted(b field) {
	width := f.columnWidth()
	if strings.Contains(b.value, "\n") || f.width(b.label)+f.width(b.value) > width-30 {
		f.need(f.leading() * 2)
		f.font(true, f.l.Size)
		f.lines(0, f.wrap(b.label, width))
		f.font(false, f.l.Size)
		f.lines(12, f.wrap(b.value, width-12))
		f.y += 1
		return
	}
	f.need(f.leading())
	f.put(f.x(), f.y+f.size, b.label)
	at := f.x() + width*0.5
	if v := f.x() + width - f.width(b.value); v < at {
		at = v
	}
	from := f.x() + f.width(b.label) + 4
	if n := int((at - 4 - from) / f.width(".")); n > 2 {
		f.put(from, f.y+f.size, strings.Repeat(".", n))
	} else if at < from {
		at = from
	}
	f.put(at, f.y+f.size, b.value)
	f.y += f.leading() + 1
}
