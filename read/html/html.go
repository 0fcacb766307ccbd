// Package html reads safety data sheets that come as web pages: text, tables and embedded pictures, without running
// scripts or fetching anything.
package html

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"image"
	_ "image/gif"  // kinds of embedded pictures
	_ "image/jpeg" //
	_ "image/png"  //
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
	"golang.org/x/net/html/charset"

	"sixteen/ghs"
	"sixteen/read/flow"
)

// Bounds on what is read: bytes of text, depth of elements within each other, pixels of a picture.
const (
	maxBytes  = 32 << 20
	maxDepth  = 400
	maxPixels = 20e6
)

// ErrTooLarge tells that a web page is larger than any sheet.
var ErrTooLarge = errors.New("the web page is larger than 32 MB; print it to a PDF and read that")

// Read sets a web page on one long page. The encoding is that of a byte order mark or the page's own declaration, else
// UTF-8 where the bytes are that, else Windows-1252.
func Read(data []byte) (flow.Page, error) {
	if len(data) > maxBytes {
		return flow.Page{}, ErrTooLarge
	}
	var r io.Reader = bytes.NewReader(data)
	if e, _, sure := charset.DetermineEncoding(data[:min(len(data), 1024)], "text/html"); sure || !utf8.Valid(data) {
		r = e.NewDecoder().Reader(r)
	}
	root, err := html.Parse(r)
	if err != nil {
		return flow.Page{}, fmt.Errorf("the web page cannot be read: %w; print it to a PDF and read that", err)
	}
	w := walker{}
	w.node(root, 0)
	w.end()
	return flow.Set(w.out), nil
}

// walker gathers blocks while it goes through the elements.
type walker struct {
	out     []flow.Block
	text    strings.Builder
	bold    int
	plain   int // letters of the paragraph that are not bold
	heading bool
	pre     int
}

// end closes the paragraph.
func (w *walker) end() {
	if strings.TrimSpace(w.text.String()) != "" {
		w.out = append(w.out, flow.Block{Text: strings.Trim(w.text.String(), " \n"), Bold: w.plain == 0, Heading: w.heading})
	}
	w.text.Reset()
	w.plain, w.heading = 0, false
}

func (w *walker) node(n *html.Node, depth int) {
	if depth > maxDepth {
		return
	}
	switch n.Type {
	case html.TextNode:
		w.words(n.Data)
		return
	case html.ElementNode:
		if w.element(n, depth) {
			return
		}
	}
	w.children(n, depth)
}

func (w *walker) children(n *html.Node, depth int) {
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		w.node(c, depth+1)
	}
}

func (w *walker) words(text string) {
	if w.pre > 0 {
		w.text.WriteString(strings.ReplaceAll(text, "\r", ""))
	} else {
		w.text.WriteString(collapse(text))
	}
	if w.bold == 0 {
		w.plain += len(strings.TrimSpace(text))
	}
}

// collapse makes runs of white space one blank.
func collapse(s string) string {
	out := strings.Join(strings.Fields(s), " ")
	if out == "" {
		return " "
	}
	if strings.ContainsRune(" \t\r\n", rune(s[0])) {
		out = " " + out
	}
	if strings.ContainsRune(" \t\r\n", rune(s[len(s)-1])) {
		out += " "
	}
	return out
}

// element handles an element; done tells that its children are too.
func (w *walker) element(n *html.Node, depth int) (done bool) {
	if hidden(n) {
		return true
	}
	switch n.DataAtom {
	case atom.Script, atom.Style, atom.Head, atom.Template, atom.Noscript, atom.Svg, atom.Iframe, atom.Select, atom.Button:
		return true
	case atom.Br:
		w.text.WriteByte('\n')
	case atom.Img:
		w.image(n)
	case atom.B, atom.Strong, atom.Th:
		w.bold++
		w.children(n, depth)
		w.bold--
		return true
	case atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6:
		w.end()
		w.heading = true
		w.children(n, depth)
		w.end()
		return true
	case atom.Pre, atom.Textarea:
		w.end()
		w.pre++
		w.children(n, depth)
		w.pre--
		w.end()
		return true
	case atom.Table:
		w.end()
		if rows := w.rows(n, depth); len(rows) > 0 {
			w.out = append(w.out, flow.Block{Table: rows})
		}
		return true
	case atom.Dl:
		w.end()
		if rows := w.terms(n, depth); len(rows) > 0 {
			w.out = append(w.out, flow.Block{Table: rows})
		}
		return true
	case atom.P, atom.Div, atom.Li, atom.Ul, atom.Ol, atom.Section, atom.Article, atom.Header, atom.Footer, atom.Main, atom.Aside,
		atom.Nav, atom.Blockquote, atom.Address, atom.Figure, atom.Figcaption, atom.Hr, atom.Form, atom.Fieldset, atom.Body, atom.Caption, atom.Center:
		w.end()
		w.children(n, depth)
		w.end()
		return true
	}
	return false
}

func hidden(n *html.Node) bool {
	for _, a := range n.Attr {
		style := strings.ReplaceAll(strings.ToLower(a.Val), " ", "")
		if a.Key == "hidden" || a.Key == "style" && (strings.Contains(style, "display:none") || strings.Contains(style, "visibility:hidden")) {
			return true
		}
	}
	return false
}

// inside gathers the blocks of one element.
func (w *walker) inside(n *html.Node, depth int) []flow.Block {
	sub := walker{bold: w.bold}
	if n.DataAtom == atom.Th || n.DataAtom == atom.Dt {
		sub.bold++
	}
	sub.children(n, depth)
	sub.end()
	return sub.out
}

// rows gathers the rows of a table; tables within its cells stay within them.
func (w *walker) rows(n *html.Node, depth int) [][]flow.Cell {
	var out [][]flow.Cell
	for c := n.FirstChild; c != nil && depth < maxDepth; c = c.NextSibling {
		if c.Type != html.ElementNode || hidden(c) {
			continue
		}
		switch c.DataAtom {
		case atom.Thead, atom.Tbody, atom.Tfoot:
			out = append(out, w.rows(c, depth+1)...)
		case atom.Caption:
			w.node(c, depth+1)
		case atom.Tr:
			var row []flow.Cell
			for d := c.FirstChild; d != nil; d = d.NextSibling {
				if d.DataAtom == atom.Td || d.DataAtom == atom.Th {
					row = append(row, flow.Cell{Blocks: w.inside(d, depth+2), Span: number(d, "colspan"), Down: number(d, "rowspan")})
				}
			}
			if len(row) > 0 {
				out = append(out, row)
			}
		}
	}
	return out
}

// terms makes a list of terms a table of two columns.
func (w *walker) terms(n *html.Node, depth int) [][]flow.Cell {
	var out [][]flow.Cell
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		switch c.DataAtom {
		case atom.Dt:
			out = append(out, []flow.Cell{{Blocks: w.inside(c, depth+1), Span: 1, Down: 1}})
		case atom.Dd:
			cell := flow.Cell{Blocks: w.inside(c, depth+1), Span: 1, Down: 1}
			if k := len(out) - 1; k >= 0 && len(out[k]) == 1 {
				out[k] = append(out[k], cell)
			} else {
				out = append(out, []flow.Cell{{Span: 1, Down: 1}, cell})
			}
		case atom.Div:
			out = append(out, w.terms(c, depth+1)...)
		}
	}
	return out
}

// number is a count in an attribute, 1 to 60.
func number(n *html.Node, key string) int {
	v, err := strconv.Atoi(attribute(n, key))
	if err != nil {
		return 1
	}
	return max(1, min(v, 60))
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// image takes in a picture that is embedded in the page; of one that would have to be fetched, only a pictogram's name in
// the words that stand for it.
func (w *walker) image(n *html.Node) {
	head, body, ok := strings.Cut(attribute(n, "src"), ";base64,")
	if ok && strings.HasPrefix(head, "data:image/") {
		data, err := base64.StdEncoding.DecodeString(strings.Join(strings.Fields(body), ""))
		if c, _, bad := image.DecodeConfig(bytes.NewReader(data)); err == nil && bad == nil && float64(c.Width)*float64(c.Height) <= maxPixels {
			if img, _, err := image.Decode(bytes.NewReader(data)); err == nil {
				w.end()
				w.out = append(w.out, flow.Block{Picture: img})
				return
			}
		}
	}
	if g, ok := ghs.ParsePictogram(strings.TrimSpace(attribute(n, "alt"))); ok {
		w.words(" " + g.String() + " ")
	}
}
