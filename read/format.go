package read

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"sixteen/read/page"
	"sixteen/sheet"
)

// Format recognises the kind of a document by its first bytes: "pdf", "html", "docx", "image", "text", or in words what
// else it looks like.
func Format(data []byte) string {
	head := data[:min(len(data), 1024)]
	start := bytes.ToLower(bytes.TrimLeft(head, "\xef\xbb\xbf \t\r\n"))
	switch {
	case len(data) == 0:
		return "an empty file"
	case bytes.Contains(head, []byte("%PDF-")):
		return "pdf"
	case bytes.HasPrefix(start, []byte("<!doctype html")), bytes.HasPrefix(start, []byte("<html")), bytes.HasPrefix(start, []byte("<?xml")) && bytes.Contains(start, []byte("<html")):
		return "html"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")) && bytes.Contains(data, []byte("word/document.xml")):
		return "docx"
	case bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("\x89PNG")), bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return "image"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return "a ZIP archive"
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")):
		return "an old Office file"
	case utf8.Valid(data[:len(data)-trailing(data)]) && bytes.IndexByte(head, 0) < 0:
		return "text"
	}
	return "an unknown kind of file"
}

// trailing is the length of a cut character at the end.
func trailing(data []byte) int {
	for n := 1; n < 4 && n <= len(data); n++ {
		if utf8.RuneStart(data[len(data)-n]) {
			if utf8.FullRune(data[len(data)-n:]) {
				return 0
			}
			return n
		}
	}
	return 0
}

// Plain text is set on a grid: one character takes cell wide, one line takes line high, in points.
const (
	cellWidth  = 6.0
	lineHeight = 12.0
)

// textPages sets plain text on one page, each character in its column, so that columns of blanks stay columns. A form feed
// begins a new page.
func textPages(data []byte) []page.Page {
	var pages []page.Page
	text := strings.TrimPrefix(string(data), "\ufeff")
	for n, part := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\f") {
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

func setLine(p *page.Page, line string, y float64) {
	column := 0
	word, from := "", 0
	flush := func() {
		if word != "" {
			box := sheet.Rect{X0: float64(from) * cellWidth, Y0: y + 1, X1: float64(column) * cellWidth, Y1: y + 11}
			p.Words = append(p.Words, page.Word{Text: word, Box: box, Size: 10, Confidence: 1, SpaceAfter: true})
			p.Width = max(p.Width, box.X1)
			word = ""
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
			if word == "" {
				from = column
			}
			word += string(r)
		}
		column++
	}
	flush()
}
