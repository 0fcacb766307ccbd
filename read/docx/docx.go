// Package docx reads safety data sheets that come as word-processor documents (ECMA-376 Part 1, WordprocessingML): text,
// tables, text boxes, headers and footers, and pictures.
//
//	ZIP archive ─► document, headers, footers as trees of elements ─► blocks ─► flow.Page
//
// Every size is bounded, so that a small archive that unpacks to a huge one is refused.
package docx

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif"  // kinds of pictures
	_ "image/jpeg" //
	_ "image/png"  //
	"io"
	"path"
	"slices"
	"strconv"
	"strings"

	"sixteen/read/flow"
)

// Errors. Each says what to do.
var (
	ErrDamaged  = errors.New("the word-processor document is damaged: open it in a word processor and save it as PDF")
	ErrTooLarge = errors.New("the word-processor document unpacks to more than a sheet can hold: open it in a word processor and save it as PDF")
)

// Bounds on what is unpacked.
const (
	maxFiles    = 4000
	maxPart     = 48 << 20 // bytes of one part
	maxTotal    = 96 << 20 // bytes of all parts that are read
	maxElements = 2_000_000
	maxDepth    = 200
	maxPixels   = 20e6
)

// archive is an open document.
type archive struct {
	files map[string]*zip.File
	left  int64 // bytes that may still be unpacked
}

// Read sets a document on one long page: headers first, footers last.
func Read(data []byte) (flow.Page, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return flow.Page{}, fmt.Errorf("%w (%v)", ErrDamaged, err)
	}
	if len(z.File) > maxFiles {
		return flow.Page{}, ErrTooLarge
	}
	a := &archive{files: map[string]*zip.File{}, left: maxTotal}
	var heads, feet []string
	for _, f := range z.File {
		a.files[f.Name] = f
		switch base := path.Base(f.Name); {
		case path.Dir(f.Name) != "word" || !strings.HasSuffix(base, ".xml"):
		case strings.HasPrefix(base, "header"):
			heads = append(heads, f.Name)
		case strings.HasPrefix(base, "footer"):
			feet = append(feet, f.Name)
		}
	}
	slices.Sort(heads)
	slices.Sort(feet)
	var out []flow.Block
	for _, part := range slices.Concat(heads, []string{"word/document.xml"}, feet) {
		blocks, err := a.part(part)
		if err != nil {
			return flow.Page{}, err
		}
		out = append(out, blocks...)
	}
	return flow.Set(out), nil
}

// unpack reads one file of the archive; nil when there is none.
func (a *archive) unpack(name string) ([]byte, error) {
	f := a.files[name]
	if f == nil {
		return nil, nil
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrDamaged, err)
	}
	defer r.Close()
	most := min(maxPart, a.left)
	out, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrDamaged, err)
	}
	if int64(len(out)) > most {
		return nil, ErrTooLarge
	}
	a.left -= int64(len(out))
	return out, nil
}

// part reads the blocks of one part and the pictures that it names.
func (a *archive) part(name string) ([]flow.Block, error) {
	data, err := a.unpack(name)
	if err != nil {
		return nil, err
	}
	if data == nil {
		return nil, fmt.Errorf("%w (%s is missing)", ErrDamaged, name)
	}
	root, err := parse(data)
	if err != nil {
		return nil, err
	}
	relations, err := a.unpack(path.Join(path.Dir(name), "_rels", path.Base(name)+".rels"))
	if err != nil {
		return nil, err
	}
	r := reader{archive: a, targets: map[string]string{}}
	if relations != nil {
		list, err := parse(relations)
		if err != nil {
			return nil, err
		}
		for _, n := range list.all("Relationship") {
			r.targets[n.attribute("Id")] = path.Join("word", n.attribute("Target"))
		}
	}
	return r.blocks(root), nil
}

// reader turns elements into blocks.
type reader struct {
	archive *archive
	targets map[string]string // relationship to file
}

// blocks reads the paragraphs and tables below an element.
func (r *reader) blocks(n *element) []flow.Block {
	var out []flow.Block
	for _, c := range n.children {
		switch c.name {
		case "p":
			out = append(out, r.paragraph(c)...)
		case "tbl":
			if rows := r.rows(c); len(rows) > 0 {
				out = append(out, flow.Block{Table: rows})
			}
		case "sectPr", "Fallback", "del", "moveFrom":
		default:
			out = append(out, r.blocks(c)...)
		}
	}
	return out
}

// paragraph reads one paragraph, followed by its pictures and text boxes.
func (r *reader) paragraph(p *element) []flow.Block {
	q := run{}
	q.gather(r, p)
	style := ""
	if props := p.child("pPr"); props != nil {
		if s := props.child("pStyle"); s != nil {
			style = strings.ToLower(s.attribute("val"))
		}
	}
	heading := strings.HasPrefix(style, "heading") || strings.HasPrefix(style, "title") || strings.HasPrefix(style, "berschrift") || strings.HasPrefix(style, "titre")
	text := strings.Trim(q.text.String(), " \n")
	if strings.TrimSpace(text) == "" {
		return q.after
	}
	return append([]flow.Block{{Text: text, Bold: q.plain == 0, Heading: heading}}, q.after...)
}

// run gathers the text of a paragraph.
type run struct {
	text  strings.Builder
	plain int // bytes that are not bold
	bold  bool
	after []flow.Block
}

func (q *run) gather(r *reader, n *element) {
	for _, c := range n.children {
		switch c.name {
		case "r":
			was := q.bold
			q.bold = c.child("rPr").on("b")
			if !c.child("rPr").on("vanish") {
				q.gather(r, c)
			}
			q.bold = was
		case "t":
			q.text.WriteString(c.text)
			if !q.bold {
				q.plain += len(strings.TrimSpace(c.text))
			}
		case "tab", "ptab":
			q.text.WriteByte('\t')
		case "br", "cr":
			q.text.WriteByte('\n')
		case "noBreakHyphen":
			q.text.WriteByte('-')
		case "blip", "imagedata":
			if img := r.picture(c); img != nil {
				q.after = append(q.after, flow.Block{Picture: img})
			}
		case "txbxContent":
			q.after = append(q.after, r.blocks(c)...)
		case "pPr", "rPr", "del", "moveFrom", "Fallback", "instrText":
		default:
			q.gather(r, c)
		}
	}
}

// picture reads the picture that an element names; nil when it is none that can be drawn.
func (r *reader) picture(n *element) image.Image {
	id := n.attribute("embed")
	if id == "" {
		id = n.attribute("id")
	}
	data, err := r.archive.unpack(r.targets[id])
	if err != nil || data == nil {
		return nil
	}
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || float64(c.Width)*float64(c.Height) > maxPixels {
		return nil
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil
	}
	return img
}

// rows reads a table. Cells that go on from the row above are left out there and counted where they begin.
func (r *reader) rows(t *element) [][]flow.Cell {
	type place struct{ row, cell int }
	begun := map[int]place{} // column to the cell that goes on downwards
	var out [][]flow.Cell
	for _, tr := range t.direct("tr") {
		var row []flow.Cell
		column := 0
		for _, tc := range tr.direct("tc") {
			span, merge := 1, (*element)(nil)
			if props := tc.child("tcPr"); props != nil {
				if g := props.child("gridSpan"); g != nil {
					if v, err := strconv.Atoi(g.attribute("val")); err == nil {
						span = max(1, min(v, 60))
					}
				}
				merge = props.child("vMerge")
			}
			top, goesOn := begun[column]
			switch {
			case merge != nil && merge.attribute("val") != "restart" && goesOn:
				out[top.row][top.cell].Down++
				column += span
				continue
			case merge != nil:
				begun[column] = place{len(out), len(row)}
			default:
				delete(begun, column)
			}
			row = append(row, flow.Cell{Blocks: r.blocks(tc), Span: span, Down: 1})
			column += span
		}
		out = append(out, row)
	}
	return out
}
