package text

import (
	"strings"
	"testing"
)

func words(data string) string {
	var out []string
	for _, p := range Read([]byte(data)) {
		for _, w := range p.Words {
			out = append(out, w.Text)
		}
		out = append(out, "|")
	}
	return strings.Join(out, " ")
}

func TestEncodings(t *testing.T) {
	for name, data := range map[string]string{
		"UTF-8":             "Verdünner ≥ 10",
		"UTF-8 with mark":   "\xef\xbb\xbfVerdünner ≥ 10",
		"UTF-16":            "\xff\xfeV\x00e\x00r\x00d\x00\xfc\x00n\x00n\x00e\x00r\x00 \x00\x65\x22 \x001\x000\x00",
		"UTF-16 big-endian": "\xfe\xff\x00V\x00e\x00r\x00d\x00\xfc\x00n\x00n\x00e\x00r\x00 \x22\x65\x00 \x001\x000",
	} {
		if got := words(data); got != "Verdünner ≥ 10 |" {
			t.Errorf("%s: %q", name, got)
		}
	}
	if got := words("Verd\xfcnner \x96 10 \x80"); got != "Verdünner – 10 € |" {
		t.Errorf("Windows-1252: %q", got)
	}
}

func TestPagesAndColumns(t *testing.T) {
	pages := Read([]byte("Name      CAS\r\nXylene    1330-20-7\fnext\tpage"))
	if len(pages) != 2 || pages[1].Number != 2 || len(pages[0].Words) != 4 {
		t.Fatalf("%+v", pages)
	}
	w := pages[0].Words
	if w[1].Box.X0 != w[3].Box.X0 || w[0].Box.Y0 >= w[2].Box.Y0 {
		t.Errorf("columns were lost: %+v", w)
	}
	if got := pages[1].Words[1].Box.X0; got != 8*cellWidth {
		t.Errorf("a tab leads to %g", got)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("a\tb\fc"))
	f.Add([]byte("\xff\xfe\x00"))
	f.Add([]byte("\xfe\xff\xd8\x00\xd8"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, p := range Read(data) {
			for _, w := range p.Words {
				if w.Text == "" || w.Box.X1 <= w.Box.X0 || w.Box.X1 > p.Width || w.Box.Y1 > p.Height {
					t.Errorf("word %+v on a page of %g by %g", w, p.Width, p.Height)
				}
			}
		}
	})
}
