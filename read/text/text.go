// Package text reads plain text in the encodings that sheets come in; a form feed begins a new page.
//
//	bytes ─► UTF-8, UTF-16 or Windows-1252 ─► characters on a grid ─► page.Page
package text

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Decode turns bytes into a string. The encoding is told by a byte order mark; without one, bytes that are no valid UTF-8
// are taken as Windows-1252, as word processors of the western languages write (common practice). Bytes without meaning
// become U+FFFD.
func Decode(data []byte) string {
	var e encoding.Encoding
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		e = unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)
	case utf8.Valid(data):
		return strings.TrimPrefix(string(data), "\ufeff")
	default:
		e = charmap.Windows1252
	}
	out, err := e.NewDecoder().Bytes(data)
	if err != nil {
		return strings.ToValidUTF8(string(data), "\ufffd")
	}
	return string(out)
}

// Plain text is set on a grid: one character takes cellWidth, one line takes lineHeight, in points.
const (
	cellWidth  = 6.0
	lineHeight = 12.0
)

// Read sets plain text on pages, each character in its column, so that columns of blanks stay columns.
func Read(data []byte) []page.Page {
	var pages []page.Page
	text := strings.ReplaceAll(Decode(data), "\r\n", "\n")
	text = strings.ReplaceAll(text, "\r", "\n")
	for n, part := range strings.Split(text, "\f") {
		p := page.Page{Number: n + 1, How: sheet.ByText}
		lines := strings.Split(part, "\n")
		for y, line := range lines {
			setLine(&p, line, float64(y)*lineHeight)
		}
		p.Height = float64(len(lines)) * lineHeight
		pages = append(pages, p)
	}
	return pages
}

// setLine puts the words of a line at y.
func setLine(p *page.Page, line string, y float64) {
	column := 0
	var word []rune
	from := 0
	flush := func() {
		if len(word) > 0 {
			box := sheet.Rect{X0: float64(from) * cellWidth, Y0: y + 1, X1: float64(column) * cellWidth, Y1: y + 11}
			p.Words = append(p.Words, page.Word{Text: string(word), Box: box, Size: 10, Confidence: 1, SpaceAfter: true})
			p.Width = max(p.Width, box.X1)
			word = word[:0]
		}
	}
	for _, r := range line {
		switch {
		case r == '\t':
			flush()
			column += 8 - column%8
			continue
		case r == ' ' || r == '\u00a0':
			flush()
		default:
			if len(word) == 0 {
				from = column
			}
			word = append(word, r)
		}
		column++
	}
	flush()
}
