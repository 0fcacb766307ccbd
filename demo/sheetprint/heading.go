package sheetprint

import (
	"fmt"
	"strings"
)

var romans = []string{"", "I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII", "XIII", "XIV", "XV", "XVI"}

// heading prints a section heading with its number as counted in this sheet, and records where it stands.
func (f *flow) heading(number, means int, title string) {
	f.number, f.title = number, title
	size := f.l.Size + 1.6
	f.font(true, size)
	label, text := f.headingWords(number, title)
	if f.l.Capitals {
		label, text = strings.ToUpper(label), strings.ToUpper(text)
	}
	f.need(f.leading()*2.6 + 44)
	f.truth.SectionsFound = append(f.truth.SectionsFound, SectionTrue{number, f.pages, means})
	if f.y > f.colTop {
		f.y += f.l.Size * 0.8
	}
	switch f.l.Heading {
	case TwoCells:
		f.headingCells(label, text)
	case TwoLines:
		f.ink(f.l.Ink)
		f.headingLines(strings.TrimRight(label, ":. -"), 0)
		f.headingLines(text, 0)
		f.ink([3]int{0, 0, 0})
	case WhiteOnBlack, GreyBar, BoxedHeading:
		f.headingBar(strings.TrimSpace(label + " " + text))
	default:
		f.headingPlain(strings.TrimSpace(label + " " + text))
	}
	f.y += 4
	f.font(false, f.l.Size)
}

func (f *flow) headingWords(number int, title string) (label, text string) {
	switch f.l.Numbers {
	case SectionColon:
		return fmt.Sprintf("%s %d:", f.word("section"), number), title
	case SectionDash:
		return fmt.Sprintf("%s %d -", f.word("section"), number), title
	case NumberDot:
		return fmt.Sprintf("%d.", number), title
	case Roman:
		return romans[number] + ".", title
	}
	return "", title
}

func (f *flow) headingPlain(s string) {
	f.ink(f.l.Ink)
	if f.l.Spaced {
		f.headingSpaced(s)
	} else {
		f.headingLines(s, 0)
	}
	if f.l.Heading == UnderlinedHeading {
		f.pen(f.l.Ink)
		f.line(f.x(), f.y+1, f.x()+f.columnWidth(), f.y+1)
		f.y += 2
	}
	f.ink([3]int{0, 0, 0})
}

func (f *flow) headingLines(s string, dx float64) {
	f.lines(dx, f.wrap(s, f.columnWidth()-dx))
}

// headingSpaced sets the letters apart, wrapping so that the wider line still fits.
func (f *flow) headingSpaced(s string) {
	gap := f.size * 0.28
	f.font(true, f.size-1)
	for _, line := range f.wrap(s, f.columnWidth()*0.66) {
		f.need(f.leading())
		f.putSpaced(f.x(), f.y+f.size, gap, line)
		f.y += f.leading()
	}
}

func (f *flow) headingBar(s string) {
	ls := f.wrap(s, f.columnWidth()-4*pad)
	h := float64(len(ls))*f.leading() + 2*pad
	switch f.l.Heading {
	case WhiteOnBlack:
		f.fill([3]int{15, 15, 15})
		if f.l.Ink != [3]int{70, 70, 70} {
			f.fill(f.l.Ink)
		}
		f.pdf.Rect(f.x(), f.y, f.columnWidth(), h, "F")
		f.ink([3]int{255, 255, 255})
	case GreyBar:
		f.fill([3]int{214, 214, 214})
		f.pdf.Rect(f.x(), f.y, f.columnWidth(), h, "F")
	default:
		f.pen([3]int{0, 0, 0})
		f.pdf.Rect(f.x(), f.y, f.columnWidth(), h, "D")
	}
	f.y += pad
	f.lines(2*pad, ls)
	f.y += pad
	f.ink([3]int{0, 0, 0})
}

// headingCells sets number and title into two boxes beside each other.
func (f *flow) headingCells(label, text string) {
	w := 46.0
	ls := f.wrap(text, f.columnWidth()-w-4*pad)
	h := float64(len(ls))*f.leading() + 2*pad
	f.pen([3]int{0, 0, 0})
	f.fill([3]int{232, 232, 232})
	f.pdf.Rect(f.x(), f.y, w, h, "FD")
	f.pdf.Rect(f.x()+w, f.y, f.columnWidth()-w, h, "FD")
	f.put(f.x()+(w-f.width(label))/2, f.y+pad+f.size, label)
	f.y += pad
	f.lines(w+2*pad, ls)
	f.y += pad
}

// titleBlock is the top of the first page: who, what document, which product, under which law.
func (f *flow) titleBlock() {
	law := map[bool]string{true: "doc.law.eu", false: "doc.law.us"}[europeanRules(f.spec.Rules)]
	if f.spec.Rules == "ca-hpr" {
		law = "doc.law.ca"
	}
	lawText := f.word(law)
	if f.spec.PreGHS {
		lawText = ""
	}
	full := f.w - 2*f.margin
	top := f.y
	switch f.l.TitleBlock {
	case TitleBand:
		f.fill(f.l.Ink)
		f.pdf.Rect(0, 0, f.w, f.margin+34, "F")
		f.ink([3]int{255, 255, 255})
		f.titleLine(f.docName(), 17, f.margin, 26)
		f.titleRight(f.spec.Supplier.Name, 11, 26)
		f.ink([3]int{0, 0, 0})
		f.y = f.margin + 42
		f.centredOrLeft(f.spec.Product, 14, true, false)
	case TitleLeft:
		f.titleLine(f.spec.Supplier.Name, 13, f.margin, f.y-f.h*0+14)
		f.titleRight(f.docName(), 13, f.y+14)
		f.y += 24
		f.centredOrLeft(f.spec.Product, 15, true, false)
	case TitleBox:
		f.y += 6
		f.centredOrLeft(f.spec.Supplier.Name, 10, false, true)
		f.centredOrLeft(f.docName(), 16, true, true)
		f.centredOrLeft(f.spec.Product, 13, true, true)
	default:
		f.centredOrLeft(f.docName(), 16, true, true)
		f.centredOrLeft(f.spec.Product, 13, true, true)
	}
	if lawText != "" {
		f.centredOrLeft(lawText, f.l.Size-1, false, f.l.TitleBlock == TitleCentred || f.l.TitleBlock == TitleBox)
	}
	if f.l.RunHead && f.spec.Revision != "" {
		f.centredOrLeft(f.word("revision")+": "+f.l.date(f.spec.Revision, f.spec.Lang)+"   "+f.word("version")+": "+f.spec.Version,
			f.l.Size-0.6, false, f.l.TitleBlock == TitleCentred || f.l.TitleBlock == TitleBox)
	}
	if f.l.TitleBlock == TitleBox {
		f.pen([3]int{0, 0, 0})
		f.pdf.Rect(f.margin, top, full, f.y-top+4, "D")
	}
	f.y += 12
	f.colTop = f.y
}

// cover is a letter before the sheet, on a page of its own.
func (f *flow) cover() {
	f.y += 60
	f.font(true, 13)
	f.put(f.margin, f.y, f.spec.Supplier.Name)
	f.font(false, 10)
	for _, s := range append([]string{"", f.word("cover.dear"), ""}, f.wrap(f.d.say("cover.text", "x", f.spec.Product), (f.w-2*f.margin)*0.7)...) {
		f.y += f.leading()
		f.put(f.margin, f.y, s)
	}
	f.beginPage()
}

func (f *flow) titleLine(s string, size, x, y float64) {
	f.font(true, size)
	f.put(x, y, s)
}

func (f *flow) titleRight(s string, size, y float64) {
	f.font(true, size)
	f.put(f.w-f.margin-f.width(s), y, s)
}

func (f *flow) centredOrLeft(s string, size float64, bold, centred bool) {
	f.font(bold, size)
	for _, line := range f.wrap(s, f.w-2*f.margin-12) {
		x := f.margin
		if centred {
			x = (f.w - f.width(line)) / 2
		}
		f.put(x, f.y+f.size, line)
		f.y += f.leading()
	}
}
