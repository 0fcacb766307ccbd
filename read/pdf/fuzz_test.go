package pdf_test

import (
	"math"
	"testing"

	"github.com/go-pdf/fpdf"

	"sixteen/read/pdf"
)

// FuzzPages opens changed files: an error that says why, or pages whose words lie somewhere; never a crash. The work for
// a page is bounded tightly, so that files made to run long are cut short.
func FuzzPages(f *testing.F) {
	f.Add(onePage("", "BT /F1 12 Tf 50 300 Td (H317 May cause an allergic reaction) Tj ET"))
	f.Add(onePage("/Rotate 90", "1 0 0 RG 10 10 m 90 10 l S BT /F1 9 Tf 1 0 0 1 20 20 Tm [(CAS) -250 (67-64-1)] TJ ET"))
	f.Add(made(f, func(p *fpdf.Fpdf) { p.Text(50, 50, "Flash point 27 °C") }))
	e, err := pdf.NewEngine(f.Context(), pdf.Options{PageWork: 5e6, MaxPages: 20})
	if err != nil {
		f.Fatal(err)
	}
	f.Cleanup(func() { e.Close() })
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		d, err := e.Open(t.Context(), data)
		if err != nil {
			return
		}
		defer d.Close()
		pages, err := d.Pages()
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pages {
			for _, w := range p.Words {
				if b := w.Box; w.Text == "" || math.IsNaN(b.X0+b.X1+b.Y0+b.Y1) {
					t.Errorf("page %d: word %+v", p.Number, w)
				}
			}
		}
	})
}
