package docx

import (
	"archive/zip"
	"bytes"
	"errors"
	"image"
	"image/png"
	"strings"
	"testing"

	"sixteen/read/layout"
	"sixteen/read/page"
)

const head = `<?xml version="1.0" encoding="UTF-8"?><w:document xmlns:w="w" xmlns:r="r" xmlns:a="a" xmlns:mc="mc"><w:body>`

// document packs parts into an archive.
func document(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for name, text := range parts {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func paragraph(text string) string { return "<w:p><w:r><w:t>" + text + "</w:t></w:r></w:p>" }

func cell(props, text string) string {
	return "<w:tc><w:tcPr>" + props + "</w:tcPr>" + paragraph(text) + "</w:tc>"
}

func TestTextTablesBoxesHeadersPictures(t *testing.T) {
	var symbol bytes.Buffer
	if err := png.Encode(&symbol, image.NewGray(image.Rect(0, 0, 20, 20))); err != nil {
		t.Fatal(err)
	}
	body := head + `<w:p><w:pPr><w:pStyle w:val="Heading1"/></w:pPr><w:r><w:t>SECTION 3: </w:t></w:r><w:r><w:t>Composition</w:t></w:r></w:p>` +
		`<w:p><w:r><w:rPr><w:b/></w:rPr><w:t>Flash point:</w:t></w:r><w:r><w:tab/><w:t>27 °C</w:t><w:br/><w:t>closed cup</w:t></w:r><w:del><w:r><w:delText>gone</w:delText></w:r></w:del></w:p>` +
		`<w:tbl><w:tr>` + cell("", "Name") + cell("", "CAS") + cell("", "%") + `</w:tr><w:sdt><w:sdtContent><w:tr>` +
		cell(`<w:vMerge w:val="restart"/>`, "Xylene") + cell("", "1330-20-7") + cell("", "&lt; 10") + `</w:tr></w:sdtContent></w:sdt><w:tr>` +
		cell(`<w:vMerge/>`, "") + cell("", "second number") + cell("", "none") + `</w:tr><w:tr>` + cell(`<w:gridSpan w:val="3"/>`, "Full text in section 16") + `</w:tr></w:tbl>` +
		`<w:p><w:r><mc:AlternateContent><mc:Choice><w:txbxContent>` + paragraph("Boxed: Danger") + `</w:txbxContent></mc:Choice><mc:Fallback><w:txbxContent>` + paragraph("Boxed: Danger twice") + `</w:txbxContent></mc:Fallback></mc:AlternateContent>` +
		`<w:drawing><a:blip r:embed="rId7"/></w:drawing></w:r></w:p></w:body></w:document>`
	p, err := Read(document(t, map[string]string{
		"word/document.xml":            body,
		"word/header1.xml":             `<w:hdr xmlns:w="w">` + paragraph("Revision 2024-03-01") + `</w:hdr>`,
		"word/footer1.xml":             `<w:ftr xmlns:w="w">` + paragraph("Page foot") + `</w:ftr>`,
		"word/_rels/document.xml.rels": `<Relationships><Relationship Id="rId7" Target="media/image1.png"/></Relationships>`,
		"word/media/image1.png":        symbol.String(),
	}))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, l := range layout.Layout([]page.Page{p.Page}).Lines {
		got = append(got, strings.ReplaceAll(l.Text, "\t", "|"))
	}
	all := "\n" + strings.Join(got, "\n") + "\n"
	for _, want := range []string{"Revision 2024-03-01", "SECTION 3: Composition", "Flash point:|27 °C", "closed cup", "Name|CAS|%", "Full text in section 16", "Boxed: Danger", "Page foot"} {
		if !strings.Contains(all, "\n"+want+"\n") {
			t.Errorf("no line %q in %q", want, got)
		}
	}
	if !strings.Contains(all, "1330-20-7|< 10") || !strings.Contains(all, "second number|none") {
		t.Errorf("cells: %q", got)
	}
	if strings.Contains(all, "gone") || strings.Contains(all, "twice") {
		t.Errorf("deleted or doubled text was read: %q", got)
	}
	if len(p.Images) != 1 {
		t.Errorf("%d pictures", len(p.Images))
	}
}

func TestBombsAreRefused(t *testing.T) {
	big := document(t, map[string]string{"word/document.xml": head + "<w:p><w:r><w:t>" + strings.Repeat(" ", maxPart) + "</w:t></w:r></w:p></w:body></w:document>"})
	deep := document(t, map[string]string{"word/document.xml": head + strings.Repeat("<w:sdt>", maxDepth+1)})
	for name, data := range map[string][]byte{"huge part": big, "deep nesting": deep} {
		if _, err := Read(data); !errors.Is(err, ErrTooLarge) {
			t.Errorf("%s of %d bytes: %v", name, len(data), err)
		}
	}
	entity := document(t, map[string]string{"word/document.xml": `<!DOCTYPE x [<!ENTITY a "aaaa">]>` + head + "<w:t>&a;</w:t></w:body></w:document>"})
	for name, data := range map[string][]byte{"entity": entity, "no document": document(t, map[string]string{"x": "y"}), "cut": big[:len(big)/2]} {
		if _, err := Read(data); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A picture that would unpack to more than 20 million pixels is left out before it is unpacked; one that just fits is read.
func TestHugePicturesAreLeftOut(t *testing.T) {
	for height, want := range map[int]int{4000: 1, 4001: 0} {
		var packed bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&packed, image.NewGray(image.Rect(0, 0, 5000, height))); err != nil {
			t.Fatal(err)
		}
		p, err := Read(document(t, map[string]string{
			"word/document.xml":            head + paragraph("Danger") + `<w:p><w:r><w:drawing><a:blip r:embed="rId7"/></w:drawing></w:r></w:p></w:body></w:document>`,
			"word/_rels/document.xml.rels": `<Relationships><Relationship Id="rId7" Target="media/image1.png"/></Relationships>`,
			"word/media/image1.png":        packed.String(),
		}))
		if err != nil || len(p.Images) != want || len(p.Words) == 0 {
			t.Errorf("5000 × %d pixels in %d bytes: %v", height, packed.Len(), err)
		}
	}
}

func FuzzDocument(f *testing.F) {
	f.Add(head + paragraph("a") + "<w:tbl><w:tr>" + cell(`<w:vMerge/><w:gridSpan w:val="-4"/>`, "b") + "</w:tr><w:tr>" + cell(`<w:vMerge/>`, "c") + "</w:tr></w:tbl></w:body></w:document>")
	f.Add("<a><tbl><tr><tc><tcPr><gridSpan val='99999'/></tcPr><tbl><tr/></tbl></tc></tr></tbl></a>")
	f.Fuzz(func(t *testing.T, body string) {
		p, err := Read(document(t, map[string]string{"word/document.xml": body}))
		if err != nil && !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrTooLarge) {
			t.Errorf("error without advice: %v", err)
		}
		for _, w := range p.Words {
			if w.Text == "" || w.Box.X1 <= w.Box.X0 {
				t.Errorf("word %+v", w)
			}
		}
	})
}
