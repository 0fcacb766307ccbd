package html

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"sixteen/read/layout"
	"sixteen/read/page"
)

// lines are the lines of a web page as they are read, cells divided by a bar.
func lines(t *testing.T, source string) []string {
	t.Helper()
	p, err := Read([]byte(source))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, l := range layout.Layout([]page.Page{p.Page}).Lines {
		out = append(out, strings.ReplaceAll(l.Text, "\t", "|"))
	}
	return out
}

func has(lines []string, want string) bool {
	for _, l := range lines {
		if l == want {
			return true
		}
	}
	return false
}

func TestTextAndTables(t *testing.T) {
	got := lines(t, `<!DOCTYPE html><html><head><title>no</title><style>p{}</style></head><body>
<h1>SECTION 3:  Composition</h1><script>no()</script><p style="display: none">hidden</p>
<p>Resin with <b>two</b>
 parts<br>second line</p>
<table><thead><tr><th>Name</th><th>CAS</th><th>%</th></tr></thead>
<tr><td>Bisphenol A epoxy resin</td><td>25068-38-6</td><td>50&nbsp;– 75</td></tr>
<tr><td>Xylene</td><td>1330-20-7</td><td>&lt; 10</td></tr></table>
<dl><dt>Flash point</dt><dd>27 °C</dd></dl><img alt="GHS07" src="x.png"></body></html>`)
	for _, want := range []string{"SECTION 3: Composition", "Resin with two parts", "second line", "Name|CAS|%",
		"Bisphenol A epoxy resin|25068-38-6|50 – 75", "Xylene|1330-20-7|< 10", "Flash point|27 °C", "GHS07"} {
		if !has(got, want) {
			t.Errorf("no line %q in %q", want, got)
		}
	}
	if all := strings.Join(got, " "); strings.Contains(all, "hidden") || strings.Contains(all, "no") && strings.Contains(all, "no()") {
		t.Errorf("what a reader does not see was read: %q", got)
	}
}

func TestDeclaredEncoding(t *testing.T) {
	got := lines(t, "<html><head><meta charset=\"iso-8859-1\"></head><body><p>Verd\xfcnner f\xfcr Lacke</p></body></html>")
	if !has(got, "Verdünner für Lacke") {
		t.Errorf("%q", got)
	}
}

func TestCellsThatSpan(t *testing.T) {
	got := lines(t, `<html><body><table><tr><td rowspan="2">Xylene</td><td>TWA</td><td>50 ppm</td></tr><tr><td>STEL</td><td>100 ppm</td></tr>
<tr><td colspan="3">All values of the invented list</td></tr></table></body></html>`)
	if !has(got, "All values of the invented list") || !strings.Contains(strings.Join(got, "\n"), "STEL|100 ppm") {
		t.Errorf("%q", got)
	}
}

func TestEmbeddedPictureIsPlaced(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 30, 30))
	img.Set(3, 3, color.Black)
	var data bytes.Buffer
	if err := png.Encode(&data, img); err != nil {
		t.Fatal(err)
	}
	p, err := Read([]byte(`<html><body><p>before</p><img src="data:image/png;base64,` + base64.StdEncoding.EncodeToString(data.Bytes()) + `"></body></html>`))
	if err != nil || len(p.Images) != 1 {
		t.Fatalf("%d pictures, %v", len(p.Images), err)
	}
	drawn, err := p.Draw(1, p.Images[0].Box, 144)
	if err != nil || drawn.Bounds().Dx() != 100 {
		t.Errorf("drawn %v, %v", drawn.Bounds(), err)
	}
}

// A picture that would unpack to more than 20 million pixels is left out before it is unpacked; one that just fits is read.
func TestHugePicturesAreLeftOut(t *testing.T) {
	for height, want := range map[int]int{4000: 1, 4001: 0} {
		var packed bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&packed, image.NewGray(image.Rect(0, 0, 5000, height))); err != nil {
			t.Fatal(err)
		}
		p, err := Read([]byte(`<html><body><p>before</p><img src="data:image/png;base64,` + base64.StdEncoding.EncodeToString(packed.Bytes()) + `"></body></html>`))
		if err != nil || len(p.Images) != want || len(p.Words) == 0 {
			t.Errorf("5000 × %d pixels in %d bytes: %v", height, packed.Len(), err)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("<html><body><table><tr><td colspan=9999999 rowspan=-1><table><tr><td>a</table></table><dl><dd>x<dt>y</dl>")
	f.Add("<!doctype html><pre>a\tb\n\nc</pre><img src=data:image/png;base64,AAAA>")
	f.Add(strings.Repeat("<div>", 600) + "deep")
	f.Fuzz(func(t *testing.T, source string) {
		p, err := Read([]byte(source))
		if err != nil {
			return
		}
		for _, w := range p.Words {
			if w.Text == "" || w.Box.X1 <= w.Box.X0 || w.Box.Y1 > p.Height+20 {
				t.Errorf("word %+v on a page %g high", w, p.Height)
			}
		}
	})
}
