package paper

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
)

// The parts of a word-processor document that do not depend on its content (ECMA-376 parts 1 and 2).
const (
	docxHead  = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	docxTypes = docxHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Default Extension="png" ContentType="image/png"/><Default Extension="jpeg" ContentType="image/jpeg"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/><Override PartName="/word/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.styles+xml"/><Override PartName="/word/numbering.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.numbering+xml"/><Override PartName="/word/header1.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.header+xml"/><Override PartName="/word/footer1.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.footer+xml"/><Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`
	docxRels  = docxHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`
	docxSpace = `xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"`
	relBase   = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
)

// dotsPerInch of drawings in word-processor documents, which know no vectors that every program shows.
const dotsPerInch = 300

// docxWriter writes blocks as WordprocessingML.
type docxWriter struct {
	doc   Document
	b     strings.Builder
	rels  []string // relations of the document part
	media [][]byte
	types []string // of media: "png" or "jpeg"
	lists []Marker // one numbering instance per list
	width float64  // of the column, pt
	ids   int
	err   error
}

// WriteDOCX writes the document as a word-processor file (ECMA-376), to be changed before it is sent.
func (d Document) WriteDOCX(out io.Writer) error {
	d = d.withDefaults()
	w := &docxWriter{doc: d, width: (d.Page.WidthMM - 2*d.MarginMM) * MM}
	for _, r := range []string{"styles", "numbering", "header", "footer"} {
		target := r + ".xml"
		if r == "header" || r == "footer" {
			target = r + "1.xml"
		}
		w.relation(r, target, false)
	}
	w.blocks(d.Blocks)
	if w.err != nil {
		return w.err
	}
	return w.pack(out)
}

// pack writes the archive: every part has the date of the document, so that the same input gives the same bytes.
func (w *docxWriter) pack(out io.Writer) error {
	z := zip.NewWriter(out)
	put := func(name string, data []byte) {
		if w.err != nil {
			return
		}
		part, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: fixedDate(w.doc.Date)})
		if err == nil {
			_, err = part.Write(data)
		}
		w.err = err
	}
	put("[Content_Types].xml", []byte(docxTypes))
	put("_rels/.rels", []byte(docxRels))
	put("docProps/core.xml", []byte(w.core()))
	put("word/document.xml", []byte(w.main()))
	put("word/styles.xml", []byte(w.styles()))
	put("word/numbering.xml", []byte(w.numbering()))
	put("word/header1.xml", []byte(docxHead+`<w:hdr `+docxSpace+`>`+w.running(w.doc.Head)+`</w:hdr>`))
	put("word/footer1.xml", []byte(docxHead+`<w:ftr `+docxSpace+`>`+w.running(w.doc.Foot)+`</w:ftr>`))
	put("word/_rels/document.xml.rels", []byte(docxHead+`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`+strings.Join(w.rels, "")+`</Relationships>`))
	for i, m := range w.media {
		put(fmt.Sprintf("word/media/picture%d.%s", i+1, w.types[i]), m)
	}
	if w.err != nil {
		return fmt.Errorf("the word-processor document cannot be written: %w", w.err)
	}
	return z.Close()
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s))
	return b.String()
}

func (w *docxWriter) relation(kind, target string, external bool) string {
	id := fmt.Sprintf("rId%d", len(w.rels)+1)
	mode := ""
	if external {
		mode = ` TargetMode="External"`
	}
	w.rels = append(w.rels, fmt.Sprintf(`<Relationship Id="%s" Type="%s%s" Target="%s"%s/>`, id, relBase, kind, escape(target), mode))
	return id
}

func (w *docxWriter) core() string {
	date := fixedDate(w.doc.Date).Format(time.RFC3339)
	return docxHead + `<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">` +
		`<dc:title>` + escape(w.doc.Title) + `</dc:title><dc:subject>` + escape(w.doc.Subject) + `</dc:subject><dc:creator>` + escape(w.doc.Author) + `</dc:creator><dc:language>` + string(w.doc.Lang) + `</dc:language>` +
		`<dcterms:created xsi:type="dcterms:W3CDTF">` + date + `</dcterms:created><dcterms:modified xsi:type="dcterms:W3CDTF">` + date + `</dcterms:modified></cp:coreProperties>`
}

// twips is a length in twentieths of a point.
func twips(pt float64) int { return int(math.Round(pt * 20)) }

func (w *docxWriter) main() string {
	m := twips(w.doc.MarginMM * MM)
	return docxHead + `<w:document ` + docxSpace + `><w:body>` + w.b.String() +
		fmt.Sprintf(`<w:sectPr><w:headerReference w:type="default" r:id="rId3"/><w:footerReference w:type="default" r:id="rId4"/><w:pgSz w:w="%d" w:h="%d"/><w:pgMar w:top="%d" w:right="%d" w:bottom="%d" w:left="%d" w:header="%d" w:footer="%d" w:gutter="0"/></w:sectPr></w:body></w:document>`,
			twips(w.doc.Page.WidthMM*MM), twips(w.doc.Page.HeightMM*MM), m, m, m, m, m/2, m/2)
}

func (w *docxWriter) styles() string {
	half := func(k float64) int { return int(math.Round(w.doc.Size * k * 2)) }
	style := func(id, name, pPr string, k float64, more string) string {
		return fmt.Sprintf(`<w:style w:type="paragraph" w:styleId="%s"><w:name w:val="%s"/><w:basedOn w:val="Normal"/><w:qFormat/><w:pPr>%s</w:pPr><w:rPr>%s<w:sz w:val="%d"/></w:rPr></w:style>`, id, name, pPr, more, half(k))
	}
	head := func(n int, k float64, pPr string) string {
		return style(fmt.Sprintf("Heading%d", n), fmt.Sprintf("heading %d", n), "<w:keepNext/>"+pPr+fmt.Sprintf(`<w:outlineLvl w:val="%d"/>`, n-1), k, "<w:b/>")
	}
	lang := map[string]string{"en": "en-GB", "fr": "fr-FR", "de": "de-DE", "es": "es-ES"}[string(w.doc.Lang)]
	return docxHead + `<w:styles ` + docxSpace + `><w:docDefaults><w:rPrDefault><w:rPr><w:rFonts w:ascii="Verdana" w:hAnsi="Verdana" w:cs="Verdana"/>` +
		fmt.Sprintf(`<w:sz w:val="%d"/><w:lang w:val="%s"/></w:rPr></w:rPrDefault><w:pPrDefault><w:pPr><w:spacing w:before="80" w:after="40" w:line="276" w:lineRule="auto"/></w:pPr></w:pPrDefault></w:docDefaults>`, half(1), lang) +
		`<w:style w:type="paragraph" w:default="1" w:styleId="Normal"><w:name w:val="Normal"/></w:style>` +
		head(1, 1.9, `<w:spacing w:before="0" w:after="120"/>`) +
		head(2, 1.35, `<w:pBdr><w:top w:val="single" w:sz="8" w:space="4" w:color="000000"/></w:pBdr><w:spacing w:before="320" w:after="80"/>`) +
		head(3, 1.12, `<w:spacing w:before="200" w:after="60"/>`) + head(4, 1, `<w:spacing w:before="160" w:after="40"/>`) +
		style("Small", "Small", "", 0.85, `<w:color w:val="464646"/>`) + style("Large", "Large", "", 1.25, "") + style("Huge", "Huge", "", 1.9, "<w:b/>") +
		style("Caption", "caption", "<w:keepNext/>", 0.85, `<w:color w:val="464646"/>`) +
		style("Dense", "Dense", `<w:spacing w:before="20" w:after="20" w:line="240" w:lineRule="auto"/>`, 0.82, "") + `</w:styles>`
}

// numbering describes the signs of the lists; every list counts on its own.
func (w *docxWriter) numbering() string {
	var b strings.Builder
	b.WriteString(docxHead + `<w:numbering ` + docxSpace + `>`)
	for m, sign := range [...]string{Bullet: "•", Numbered: "%1.", Tick: "√", Cross: "×", CheckBox: "□"} {
		format := "bullet"
		if Marker(m) == Numbered {
			format = "decimal"
		}
		fmt.Fprintf(&b, `<w:abstractNum w:abstractNumId="%d"><w:multiLevelType w:val="singleLevel"/><w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="%s"/><w:lvlText w:val="%s"/><w:lvlJc w:val="left"/><w:pPr><w:ind w:left="360" w:hanging="360"/></w:pPr></w:lvl></w:abstractNum>`, m, format, sign)
	}
	for i, m := range w.lists {
		fmt.Fprintf(&b, `<w:num w:numId="%d"><w:abstractNumId w:val="%d"/><w:lvlOverride w:ilvl="0"><w:startOverride w:val="1"/></w:lvlOverride></w:num>`, i+1, m)
	}
	b.WriteString(`</w:numbering>`)
	return b.String()
}

// running is a head or foot, with fields for the numbers of pages.
func (w *docxWriter) running(r Running) string {
	fields := func(s string) string {
		var b strings.Builder
		for s != "" {
			i := strings.Index(s, "{page")
			if i < 0 {
				return b.String() + docxRun(s, "")
			}
			b.WriteString(docxRun(s[:i], ""))
			name, key := "PAGE", "{page}"
			if strings.HasPrefix(s[i:], "{pages}") {
				name, key = "NUMPAGES", "{pages}"
			}
			fmt.Fprintf(&b, `<w:fldSimple w:instr="%s"><w:r><w:t>1</w:t></w:r></w:fldSimple>`, name)
			s = s[i+len(key):]
		}
		return b.String()
	}
	return fmt.Sprintf(`<w:p><w:pPr><w:pStyle w:val="Small"/><w:tabs><w:tab w:val="right" w:pos="%d"/></w:tabs></w:pPr>%s<w:r><w:tab/></w:r>%s</w:p>`, twips(w.width), fields(r.Left), fields(r.Right))
}

func docxRun(s, rPr string) string {
	if s == "" {
		return ""
	}
	if rPr != "" {
		rPr = "<w:rPr>" + rPr + "</w:rPr>"
	}
	parts := strings.Split(s, "\n")
	for i, p := range parts {
		parts[i] = `<w:t xml:space="preserve">` + escape(p) + `</w:t>`
	}
	return "<w:r>" + rPr + strings.Join(parts, "<w:br/>") + "</w:r>"
}

func (w *docxWriter) runs(t Text) string {
	var b strings.Builder
	for _, s := range t {
		rPr := ""
		if s.Bold {
			rPr += "<w:b/>"
		}
		if s.Italic {
			rPr += "<w:i/>"
		}
		if linkable(s.Link) {
			fmt.Fprintf(&b, `<w:hyperlink r:id="%s">%s</w:hyperlink>`, w.relation("hyperlink", s.Link, true), docxRun(s.Text, rPr+`<w:u w:val="single"/>`))
			continue
		}
		b.WriteString(docxRun(s.Text, rPr))
	}
	return b.String()
}

// paragraph writes one paragraph with a style and more properties.
func (w *docxWriter) paragraph(style, pPr, runs string) {
	if style != "" {
		pPr = `<w:pStyle w:val="` + style + `"/>` + pPr
	}
	if pPr != "" {
		pPr = "<w:pPr>" + pPr + "</w:pPr>"
	}
	w.b.WriteString("<w:p>" + pPr + runs + "</w:p>")
}

var docxWeight = [...]string{Usual: "", Small: "Small", Large: "Large", Huge: "Huge"}

func (w *docxWriter) blocks(bs []Block) {
	for _, b := range bs {
		w.block(b)
	}
}

func (w *docxWriter) block(b Block) {
	switch b := b.(type) {
	case Heading:
		w.paragraph(fmt.Sprintf("Heading%d", min(max(b.Level, 1), 4)), "", docxRun(b.Text, ""))
	case Paragraph:
		w.paragraph(docxWeight[b.Weight], "", w.runs(b.Text))
	case List:
		w.lists = append(w.lists, b.Marker)
		for _, i := range b.Items {
			w.paragraph(docxWeight[b.Weight], fmt.Sprintf(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="%d"/></w:numPr>`, len(w.lists)), w.runs(i))
		}
	case Table:
		w.table(b)
	case Pairs:
		t := Table{Columns: []Column{{Width: 3}, {Width: 7}}, RowHeads: true}
		if b.Width > 0 {
			t.Columns[0].Width = 10 * b.Width
			t.Columns[1].Width = 10 * (1 - b.Width)
		}
		for _, r := range b.Rows {
			t.Rows = append(t.Rows, []Text{Plain(r.Key), r.Value})
		}
		w.table(t)
	case Pictograms, Figure, Picture, QR:
		w.graphic(b)
	case Box:
		w.box(b)
	case Columns:
		w.columns(b)
	case Keep:
		w.blocks(b.Blocks)
	case Space:
		w.paragraph("", fmt.Sprintf(`<w:spacing w:before="0" w:after="0" w:line="%d" w:lineRule="exact"/>`, max(twips(b.MM*MM), 1)), "")
	case PageBreak:
		w.paragraph("", "", `<w:r><w:br w:type="page"/></w:r>`)
	case Signature:
		w.paragraph("", `<w:spacing w:before="700"/>`, docxRun(strings.Repeat("_", 28)+strings.Repeat("   "+strings.Repeat("_", 28), max(0, len(b.Labels)-1)), ""))
		w.paragraph("Small", "", docxRun(strings.Join(b.Labels, "     "), ""))
	default:
		w.err = fmt.Errorf("a document cannot hold a %T", b)
	}
}

// cell writes one cell of a table.
func (w *docxWriter) cell(width float64, tcPr string, content func()) {
	fmt.Fprintf(&w.b, `<w:tc><w:tcPr><w:tcW w:w="%d" w:type="dxa"/>%s</w:tcPr>`, twips(width), tcPr)
	before := w.b.Len()
	content()
	if text := w.b.String()[before:]; !strings.HasSuffix(text, "</w:p>") {
		w.b.WriteString("<w:p/>")
	}
	w.b.WriteString("</w:tc>")
}

func (w *docxWriter) openTable(borders string, widths []float64) {
	fmt.Fprintf(&w.b, `<w:tbl><w:tblPr><w:tblW w:w="%d" w:type="dxa"/><w:tblBorders>%s</w:tblBorders><w:tblLayout w:type="fixed"/></w:tblPr><w:tblGrid>`, twips(w.width), borders)
	for _, v := range widths {
		fmt.Fprintf(&w.b, `<w:gridCol w:w="%d"/>`, twips(v))
	}
	w.b.WriteString(`</w:tblGrid>`)
}

// closeTable ends a table; a paragraph follows, because two tables in a row become one.
func (w *docxWriter) closeTable() {
	w.b.WriteString(`</w:tbl>`)
	w.paragraph("", `<w:spacing w:before="0" w:after="0" w:line="120" w:lineRule="exact"/>`, "")
}

func (w *docxWriter) table(b Table) {
	if len(b.Columns) == 0 {
		w.err = fmt.Errorf("the table %q has no columns", b.Caption)
		return
	}
	total, titled := 0.0, false
	for _, c := range b.Columns {
		total += max(c.Width, 0) + btof(c.Width <= 0)
		titled = titled || c.Title != ""
	}
	var widths []float64
	for _, c := range b.Columns {
		widths = append(widths, w.width*(max(c.Width, 0)+btof(c.Width <= 0))/total)
	}
	if b.Caption != "" {
		w.paragraph("", "<w:keepNext/>", docxRun(b.Caption, "<w:b/>"))
	}
	style := ""
	if b.Dense {
		style = "Dense"
	}
	w.openTable(`<w:bottom w:val="single" w:sz="6" w:color="000000"/><w:insideH w:val="single" w:sz="4" w:color="BEBEBE"/>`, widths)
	row := func(cells []Text, head bool) {
		trPr := `<w:cantSplit/>`
		if head {
			trPr += `<w:tblHeader/>`
		}
		w.b.WriteString(`<w:tr><w:trPr>` + trPr + `</w:trPr>`)
		for i, c := range cells {
			tcPr := ""
			if head {
				tcPr = `<w:tcBorders><w:bottom w:val="single" w:sz="8" w:color="000000"/></w:tcBorders>`
			}
			if head || b.RowHeads && i == 0 {
				c = Strong(c.String())
			}
			jc := [...]string{Left: "", Right: `<w:jc w:val="right"/>`, Centre: `<w:jc w:val="center"/>`}[b.Columns[i].Align]
			w.cell(widths[i], tcPr, func() { w.paragraph(style, jc, w.runs(c)) })
		}
		w.b.WriteString(`</w:tr>`)
	}
	if titled {
		var heads []Text
		for _, c := range b.Columns {
			heads = append(heads, Plain(c.Title))
		}
		row(heads, true)
	}
	for i, r := range b.Rows {
		if len(r) != len(b.Columns) {
			w.err = fmt.Errorf("row %d of the table %q has %d cells for %d columns", i+1, b.Caption, len(r), len(b.Columns))
			return
		}
		row(r, false)
	}
	w.closeTable()
}

func (w *docxWriter) box(b Box) {
	side := func(name string, sz int) string {
		return fmt.Sprintf(`<w:%s w:val="single" w:sz="%d" w:color="000000"/>`, name, sz)
	}
	borders, shade := side("top", 6)+side("left", 6)+side("bottom", 6)+side("right", 6), ""
	switch b.Tone {
	case Shaded:
		borders, shade = "", `<w:shd w:val="clear" w:fill="ECECEC"/>`
	case Caution:
		borders, shade = side("left", 36), `<w:shd w:val="clear" w:fill="ECECEC"/>`
	}
	w.openTable(borders, []float64{w.width})
	if b.Title != "" {
		tcPr, color := shade, ""
		if b.Tone == Inverse {
			tcPr, color = `<w:shd w:val="clear" w:fill="000000"/>`, `<w:color w:val="FFFFFF"/>`
		}
		w.b.WriteString(`<w:tr><w:trPr><w:cantSplit/></w:trPr>`)
		w.cell(w.width, tcPr, func() { w.paragraph("Heading3", "", docxRun(b.Title, color)) })
		w.b.WriteString(`</w:tr>`)
	}
	w.b.WriteString(`<w:tr>`)
	w.inside(w.width-8, func() { w.cell(w.width+8, shade, func() { w.blocks(b.Blocks) }) })
	w.b.WriteString(`</w:tr>`)
	w.closeTable()
}

// inside sets the width of the column while something is written in it.
func (w *docxWriter) inside(width float64, write func()) {
	old := w.width
	w.width = width
	write()
	w.width = old
}

func (w *docxWriter) columns(b Columns) {
	total := 0.0
	for _, p := range b.Parts {
		total += max(p.Width, 0) + btof(p.Width <= 0)
	}
	var widths []float64
	for _, p := range b.Parts {
		widths = append(widths, w.width*(max(p.Width, 0)+btof(p.Width <= 0))/total)
	}
	w.openTable("", widths)
	w.b.WriteString(`<w:tr>`)
	for i, p := range b.Parts {
		w.inside(widths[i]-11, func() { w.cell(widths[i], "", func() { w.blocks(p.Blocks) }) })
	}
	w.b.WriteString(`</w:tr>`)
	w.closeTable()
}
