package paper

import (
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"sixteen/ghs"
)

// scanned is what a QR reader of its own finds on the first page of a PDF, drawn at 300 dots per inch as an office printer
// does. It is "" and the reader's error when it finds none.
func scanned(t *testing.T, pdf string) (string, error) {
	t.Helper()
	base := filepath.Join(t.TempDir(), "page")
	run1(t, "pdftoppm", "-r", "300", "-png", "-singlefile", pdf, base)
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	bits, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	found, err := qrcode.NewQRCodeReader().Decode(bits, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", err
	}
	return found.GetText(), nil
}

// The QR code of a label of every size leads to the product's page, on the PDF as a printer draws it. A label without room
// for it says that it was left off, and a reader finds none.
func TestQRCodeOfLabelsIsRead(t *testing.T) {
	read := 0
	for _, size := range LabelSizes() {
		for _, rs := range []ghs.RuleSet{ghs.EUCLP, ghs.USHCS2024} {
			p := invented(rs)
			l, err := p.Label(LabelOptions{Size: size, Langs: []ghs.Lang{ghs.English}})
			if err != nil {
				continue // too small for the words: another test is of this
			}
			file := written(t, fmt.Sprintf("scanned-%s.pdf", rs), func(w io.Writer) error { return l.WritePDF(w, day()) })
			got, err := scanned(t, file)
			if strings.Contains(strings.Join(l.LeftOff, "; "), "QR") {
				if err == nil {
					t.Errorf("%v, %s: the code is said to be left off, and %q is read", size, rs, got)
				}
				continue
			}
			if err != nil || got != p.Link {
				t.Errorf("%v, %s: %q is read, want %q (%v)", size, rs, got, p.Link, err)
			}
			read++
		}
	}
	if read < 8 {
		t.Errorf("only %d labels carry a code", read)
	}
}

// The code stands on dark ground on the bench card, with its white margin.
func TestQRCodeOfTheCardIsRead(t *testing.T) {
	p := invented(ghs.EUCLP)
	for _, l := range ghs.Langs() {
		d, err := p.Card(CardOptions{Lang: l, Date: day(), Page: A4})
		if err != nil {
			t.Fatal(err)
		}
		file := written(t, fmt.Sprintf("scanned-card-%s.pdf", l), func(w io.Writer) error { return d.Write(w, PDF) })
		if got, err := scanned(t, file); err != nil || got != p.Link {
			t.Errorf("%s: %q is read, want %q (%v)", l, got, p.Link, err)
		}
	}
}
