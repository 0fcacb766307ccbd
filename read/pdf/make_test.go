package pdf_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/go-pdf/fpdf"

	"sixteen/read/page"
	"sixteen/read/pdf"
)

// sharedEngine is compiled once for all tests.
var sharedEngine = sync.OnceValues(func() (*pdf.Engine, error) {
	return pdf.NewEngine(context.Background(), pdf.Options{})
})

func engine(t testing.TB) *pdf.Engine {
	t.Helper()
	e, err := sharedEngine()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// read reads all pages of a document.
func read(t testing.TB, data []byte) []page.Page {
	t.Helper()
	d, err := engine(t).Open(t.Context(), data)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	pages, err := d.Pages()
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// made returns the bytes of a document that draw draws in points on letter paper.
func made(t testing.TB, draw func(f *fpdf.Fpdf)) []byte {
	t.Helper()
	f := fpdf.New("P", "pt", "Letter", "")
	f.SetFont("Helvetica", "", 10)
	f.SetAutoPageBreak(false, 0)
	f.AddPage()
	draw(f)
	return output(t, f)
}

func output(t testing.TB, f *fpdf.Fpdf) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// assembled is a PDF file of the given objects, numbered from 1; the first is the catalogue.
func assembled(objects ...string) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	offsets := make([]int, len(objects))
	for i, o := range objects {
		offsets[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, o := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, xref)
	return b.Bytes()
}

func stream(content string) string {
	return fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(content), content)
}

// onePage is a file of one page of 600 × 400 points with the given extra entries and content; font F1 is Helvetica.
func onePage(entries, content string, more ...string) []byte {
	return assembled(append([]string{
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 600 400] /Resources << /Font << /F1 5 0 R >> >> /Contents 4 0 R " + entries + " >>",
		stream(content),
		"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
	}, more...)...)
}

// find returns the word of the page with the given text.
func find(t testing.TB, p page.Page, text string) page.Word {
	t.Helper()
	for _, w := range p.Words {
		if w.Text == text {
			return w
		}
	}
	t.Fatalf("no word %q among %s", text, texts(p))
	return page.Word{}
}

// texts joins the words of a page with blanks.
func texts(p page.Page) string {
	var out []string
	for _, w := range p.Words {
		out = append(out, w.Text)
	}
	return strings.Join(out, " ")
}

// sheetOf makes a text sheet of n pages of an invented product, with headings, running text, label lines and a table, as
// dense as usual sheets are (about 3,000 characters a page).
func sheetOf(t testing.TB, n int) []byte {
	f := fpdf.New("P", "pt", "Letter", "")
	f.SetAutoPageBreak(false, 0)
	for i := range n {
		f.AddPage()
		f.SetFont("Helvetica", "", 8)
		f.Text(50, 30, fmt.Sprintf("Gannet Quay Coatings   Tern Bilge Resin A   Revision 4   Page %d / %d", i+1, n))
		y := 60.0
		for s := range 3 {
			f.SetFont("Helvetica", "B", 11)
			f.Text(50, y, fmt.Sprintf("SECTION %d: Heading of the section", 3*i+s+1))
			f.SetFont("Helvetica", "", 9)
			for k := range 9 {
				y += 12
				f.Text(50, y, fmt.Sprintf("Line %d of running text on what to do when the resin has been spilt on the slipway and cannot be taken up.", k))
			}
			for k := range 6 {
				y += 12
				f.Text(50, y, fmt.Sprintf("Property %d", k))
				f.Text(200, y, fmt.Sprintf("value %d.%d g/cm3 at 20 °C", k, i))
			}
			y += 24
		}
		for k := range 4 {
			y += 14
			f.Line(50, y-10, 500, y-10)
			f.Text(55, y, fmt.Sprintf("Invented ingredient %d", k))
			f.Text(260, y, fmt.Sprintf("0000-%02d-%d", k, i%10))
			f.Text(400, y, fmt.Sprintf("%d - %d %%", k, 10*k+10))
		}
		for _, x := range []float64{50, 255, 395, 500} {
			f.Line(x, y-52, x, y-10)
		}
	}
	return output(t, f)
}
