package layout_test

import (
	"fmt"
	"testing"

	"github.com/go-pdf/fpdf"

	"sixteen/read/layout"
)

// Running text of an invented sheet, in lines that fill a column of 250 points at 9 points or end early.
var columnText = []string{
	"Keep the tins upright in a cool and dry shed, away from",
	"frost, sparks and open flames. Close them after use.",
	"Wear gloves of butyl rubber and tight goggles while the",
	"resin is poured, and an apron where it may splash up.",
	"Wipe spilt resin up with sawdust, and put it into a bin",
	"with a lid that stands outside until the evening.",
	"Bring people who feel unwell into fresh air, keep them",
	"warm and at rest, and call a doctor without delay.",
}

// set puts n lines of running text into a column, each one naming where it stands.
func set(f *fpdf.Fpdf, name string, x, y float64, n int) (lines []string) {
	f.SetFont("Helvetica", "", 9)
	for i := range n {
		text := fmt.Sprintf("%s%d %s", name, i, columnText[(i+int(name[1]))%len(columnText)])
		f.Text(x, y+11.5*float64(i), text)
		lines = append(lines, text)
	}
	return lines
}

// inOrder tells whether the lines stand in the document in that order.
func inOrder(t *testing.T, doc layout.Document, want []string) {
	t.Helper()
	at := -1
	for _, w := range want {
		found := -1
		for i, l := range lines(doc) {
			if l == w {
				found = i
			}
		}
		if found <= at {
			t.Errorf("%q is line %d, after line %d", w, found, at)
			return
		}
		at = found
	}
}

// Two columns whose lines stand at heights of their own are read one after the other, on every page.
func TestGutterOfEveryPage(t *testing.T) {
	var want []string
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		for p := range 2 {
			if p > 0 {
				f.AddPage()
			}
			want = append(want, set(f, fmt.Sprintf("L%c-", 'A'+p), 40, 80, 40)...)
			want = append(want, set(f, fmt.Sprintf("R%c-", 'A'+p), 318, 84, 36)...)
		}
	})
	inOrder(t, doc, want)
}

// A last page with two lines on the right follows the columns of the page before it.
func TestShortPageFollowsTheGutter(t *testing.T) {
	var want []string
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		want = append(want, set(f, "LA-", 40, 80, 40)...)
		want = append(want, set(f, "RA-", 318, 84, 40)...)
		f.AddPage()
		want = append(want, set(f, "LB-", 40, 80, 6)...)
		want = append(want, set(f, "RB-", 318, 84, 2)...)
	})
	inOrder(t, doc, want)
}

// Labels with long values at the same heights are rows, not columns, however well they fill the page.
func TestLabelsAreNoGutter(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.SetFont("Helvetica", "", 9)
		for i := range 20 {
			f.Text(40, 80+11.5*float64(i), fmt.Sprintf("Property %d of the resin", i))
		}
		set(f, "RA", 318, 80, 20)
	})
	for i, l := range doc.Lines {
		if len(l.Cells) != 2 {
			t.Fatalf("line %d has %d cells: %q", i, len(l.Cells), l.Text)
		}
	}
}

// A heading over the whole width parts the columns above it from those below.
func TestHeadingAcrossTheGutter(t *testing.T) {
	var want []string
	across := "SECTION 8: Exposure controls and personal protection of everybody who works with the resin on the slip"
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		want = append(want, set(f, "LA", 40, 80, 16)...)
		want = append(want, set(f, "RA", 318, 84, 16)...)
		f.SetFont("Helvetica", "B", 11)
		f.Text(40, 300, across)
		want = append(want, across)
		want = append(want, set(f, "LB", 40, 330, 16)...)
		want = append(want, set(f, "RB", 318, 334, 16)...)
	})
	inOrder(t, doc, want)
}
