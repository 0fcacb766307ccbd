package paper

import (
	"fmt"
	"io"
	"time"

	"sixteen/ghs"
)

// MM is one millimetre in points (1/72 inch), the unit of lengths in this package unless a name says otherwise.
const MM = 72 / 25.4

// PageSize is the size of a sheet of paper. The zero PageSize is A4.
type PageSize struct {
	WidthMM, HeightMM float64
}

// Page sizes of ISO 216 and ANSI/ASME Y14.1.
var (
	A4     = PageSize{210, 297}
	Letter = PageSize{215.9, 279.4}
)

// Document is a paper that flows over pages. The zero values of Page, Size and MarginMM mean A4, 10 pt and 20 mm.
type Document struct {
	Title    string
	Subject  string
	Author   string
	Lang     ghs.Lang
	Date     time.Time // in the properties of the file; it must be passed in so that the same input gives the same bytes
	Page     PageSize
	Size     float64 // letter size of the text, pt
	MarginMM float64
	Head     Running
	Foot     Running
	MaxPages int // 0: as many as it needs; more pages than this are a *TooLong error of WritePDF
	Blocks   []Block
}

// Running is what stands at the head or foot of every page. {page} and {pages} in it are the number of the page and of
// all pages; a paper without pages (HTML) leaves such texts out.
type Running struct {
	Left, Right string
}

// Span is a piece of text in one style.
type Span struct {
	Text         string
	Bold, Italic bool
	Link         string // an address, "" for none
}

// Text is words in one or several styles. A line feed in a Span begins a new line.
type Text []Span

// Plain is a text in the usual style.
func Plain(s string) Text { return Text{{Text: s}} }

// Strong is a text in bold letters.
func Strong(s string) Text { return Text{{Text: s, Bold: true}} }

// String is the text without its styles.
func (t Text) String() string {
	s := ""
	for _, p := range t {
		s += p.Text
	}
	return s
}

// Block is one part of a document: Heading, Paragraph, List, Table, Pairs, Pictograms, Figure, Picture, QR, Box, Columns,
// Keep, Space, PageBreak or Signature.
type Block interface{ block() }

// Heading begins a part. Level 1 is the title of the paper, at most 4.
type Heading struct {
	Level int
	Text  string
}

// Weight is how loud a paragraph is.
type Weight uint8

// Weights.
const (
	Usual Weight = iota
	Small        // notes and sources
	Large        // what is read first
	Huge         // a signal word, a telephone number
)

// Paragraph is running text.
type Paragraph struct {
	Text   Text
	Weight Weight
}

// Marker is what stands before the items of a list.
type Marker uint8

// Markers.
const (
	Bullet   Marker = iota
	Numbered        // 1. 2. 3.
	Tick            // something to do
	Cross           // something not to do
	CheckBox        // an empty square to tick by hand
)

// List is items one below the other.
type List struct {
	Marker Marker
	Items  []Text
	Weight Weight
}

// Align is how the cells of a column are set.
type Align uint8

// Alignments.
const (
	Left Align = iota
	Right
	Centre
)

// Column is one column of a table. Width is its share of the table's width beside the other columns; 0 means 1.
type Column struct {
	Title string
	Width float64
	Align Align
}

// Table is rows under titles that are repeated on every page. A row has one cell per column.
type Table struct {
	Caption  string
	Columns  []Column
	Rows     [][]Text
	RowHeads bool // the first cell of each row names the row
	Dense    bool // smaller letters, for wide tables
}

// Pair is a key with its value.
type Pair struct {
	Key   string
	Value Text
}

// Pairs is keys beside their values. Width is the share of the keys, 0 for three tenths.
type Pairs struct {
	Rows  []Pair
	Width float64
}

// Pictograms is a row of the standard's pictograms. Names prints the name below each; a reader aloud always gets it.
type Pictograms struct {
	List   []ghs.Pictogram
	SizeMM float64 // edge of the square a pictogram stands in, 0 for 20
	Names  bool
}

// Figure is a drawing with a text that says what it shows to those who cannot see it. Width is its share of the column,
// 0 for its own size (at most the column).
type Figure struct {
	Drawing *Drawing
	Alt     string
	Caption string
	Width   float64
}

// Picture is an image, PNG or JPEG. WidthMM 0 means the whole column.
type Picture struct {
	Data    []byte
	Alt     string
	Caption string
	WidthMM float64
}

// QR is a code that a telephone opens, with its text (an address) and a few words that say what it leads to.
type QR struct {
	Content string
	Label   string
	SizeMM  float64 // 0 for 25
}

// Tone is how much a box stands out.
type Tone uint8

// Tones.
const (
	Framed  Tone = iota // a thin frame
	Shaded              // on grey
	Caution             // a thick black bar on the left
	Inverse             // title white on black
)

// Box is blocks set apart.
type Box struct {
	Tone   Tone
	Title  string
	Blocks []Block
}

// Part is one column of Columns. Width is its share beside the others, 0 for 1.
type Part struct {
	Width  float64
	Blocks []Block
}

// Columns is blocks beside each other. They stay on one page.
type Columns struct {
	Parts []Part
	GapMM float64 // 0 for 6
}

// Keep is blocks that stay together on one page when one page can hold them.
type Keep struct{ Blocks []Block }

// Space is an empty height.
type Space struct{ MM float64 }

// PageBreak begins a new page.
type PageBreak struct{}

// Signature is a line to sign or fill in by hand, with words below it. Labels stand beside each other.
type Signature struct{ Labels []string }

func (Heading) block()    {}
func (Paragraph) block()  {}
func (List) block()       {}
func (Table) block()      {}
func (Pairs) block()      {}
func (Pictograms) block() {}
func (Figure) block()     {}
func (Picture) block()    {}
func (QR) block()         {}
func (Box) block()        {}
func (Columns) block()    {}
func (Keep) block()       {}
func (Space) block()      {}
func (PageBreak) block()  {}
func (Signature) block()  {}

// Write writes the document in a format.
func (d Document) Write(w io.Writer, f Format) error {
	switch f {
	case PDF:
		return d.WritePDF(w)
	case HTML:
		return d.WriteHTML(w)
	case DOCX:
		return d.WriteDOCX(w)
	}
	return fmt.Errorf("a document cannot be written as %q", f)
}
