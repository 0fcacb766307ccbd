package layout_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"github.com/go-pdf/fpdf"

	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/read/pdf"
	"sixteen/sheet"
)

var sharedEngine = sync.OnceValues(func() (*pdf.Engine, error) {
	return pdf.NewEngine(context.Background(), pdf.Options{})
})

// pages draws a document in points on letter paper and reads it back.
func pages(t *testing.T, draw func(f *fpdf.Fpdf)) []page.Page {
	t.Helper()
	f := fpdf.New("P", "pt", "Letter", "")
	f.SetAutoPageBreak(false, 0)
	f.SetFont("Helvetica", "", 10)
	f.SetLineWidth(0.5)
	f.AddPage()
	draw(f)
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		t.Fatal(err)
	}
	e, err := sharedEngine()
	if err != nil {
		t.Fatal(err)
	}
	d, err := e.Open(t.Context(), b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	out, err := d.Pages()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func laidOut(t *testing.T, draw func(f *fpdf.Fpdf)) layout.Document {
	t.Helper()
	return layout.Layout(pages(t, draw))
}

// lines is the text of all lines, tabs shown as bars.
func lines(doc layout.Document) []string {
	var out []string
	for _, l := range doc.Lines {
		out = append(out, strings.ReplaceAll(l.Text, "\t", " | "))
	}
	return out
}

func wantLines(t *testing.T, doc layout.Document, want ...string) {
	t.Helper()
	got := lines(doc)
	for i := range max(len(got), len(want)) {
		var g, w string
		if i < len(got) {
			g = got[i]
		}
		if i < len(want) {
			w = want[i]
		}
		if g != w {
			t.Errorf("line %d is %q, want %q", i, g, w)
		}
	}
}

// column writes lines of text from (x, y) down, 12 points apart.
func column(f *fpdf.Fpdf, x, y float64, text ...string) {
	for i, s := range text {
		f.Text(x, y+12*float64(i), s)
	}
}

func TestTwoColumnsOfText(t *testing.T) {
	left := []string{
		"SECTION 4: First aid measures", "After breathing it in, bring the person", "into fresh air and keep them warm and at", "rest. Call a doctor when they feel unwell.",
		"After contact with the skin, wash it with", "plenty of soap and water, and take off all", "clothing that has been wetted by the resin.", "After contact with the eyes, rinse them for",
		"fifteen minutes with the lids held apart", "and go to an eye doctor without delay.",
	}
	right := []string{
		"SECTION 5: Fire fighting measures here", "Put the fire out with foam, dry powder or", "carbon dioxide. Do not use a water jet, as", "the burning resin floats and is spread by it.",
		"The smoke is dense and black and holds", "oxides of carbon and of nitrogen, which", "may harm whoever breathes them. Keep to", "windward and wear breathing apparatus, and",
		"cool closed drums from a safe distance", "with a fine spray of water from the side.",
	}
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.Text(200, 60, "Safety data sheet of Tern Bilge Resin A")
		column(f, 50, 100, left...)
		column(f, 320, 100, right...)
		f.Text(50, 260, "This line runs over the whole width of the page, below both of the columns, and comes last of all.")
	})
	want := append([]string{"Safety data sheet of Tern Bilge Resin A"}, left...)
	want = append(append(want, right...), "This line runs over the whole width of the page, below both of the columns, and comes last of all.")
	wantLines(t, doc, want...)
	if doc.Lines[1].Column != 0 || doc.Lines[11].Column != 1 {
		t.Errorf("columns are %d and %d", doc.Lines[1].Column, doc.Lines[11].Column)
	}
}

func TestLabelsWithValues(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		for i, s := range [][2]string{
			{"Product name", "Tern Bilge Resin A"},
			{"Supplier", "Gannet Quay Coatings"},
			{"", "3 Slipway Lane"},
			{"", "Port Merrow"},
			{"Recommended use", "Sealing of bilges, by brush and roller only"},
		} {
			f.Text(50, 100+14*float64(i), s[0])
			f.Text(200, 100+14*float64(i), s[1])
		}
	})
	wantLines(t, doc, "Product name | Tern Bilge Resin A", "Supplier | Gannet Quay Coatings", "3 Slipway Lane", "Port Merrow",
		"Recommended use | Sealing of bilges, by brush and roller only")
	if c := doc.Lines[2].Cells[0]; c.Col != 1 {
		t.Errorf("the street goes on below column %d, want 1", c.Col)
	}
	if got := doc.Continued(1).Text; got != "Supplier\tGannet Quay Coatings 3 Slipway Lane Port Merrow" {
		t.Errorf("the supplier with all lines is %q", got)
	}
	if g := doc.Lines[1].Gap; g < 2 || g > 8 {
		t.Errorf("gap is %v", g)
	}
}

// grid draws the rules of a table with the given edges.
func grid(f *fpdf.Fpdf, xs, ys []float64) {
	for _, x := range xs {
		f.Line(x, ys[0], x, ys[len(ys)-1])
	}
	for _, y := range ys {
		f.Line(xs[0], y, xs[len(xs)-1], y)
	}
}

func TestRuledTableWithWrappedAndCentredCells(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.Text(50, 60, "3.2 Mixtures")
		grid(f, []float64{50, 220, 320, 400, 560}, []float64{80, 100, 150, 200})
		f.SetFont("Helvetica", "B", 10)
		f.Text(55, 93, "Substance")
		f.Text(225, 93, "CAS No.")
		f.Text(325, 93, "%")
		f.Text(405, 93, "Classification")
		f.SetFont("Helvetica", "", 10)
		column(f, 55, 115, "a long name of a resin", "with a second line")
		f.Text(225, 128, "0000-00-0") // centred in height
		f.Text(325, 128, "10 - 30")
		column(f, 405, 112, "Skin Irrit. 2, H315", "Eye Irrit. 2, H319", "Skin Sens. 1, H317")
		f.Text(55, 178, "solvent")
		f.Text(325, 178, "< 5")
		f.Text(50, 220, "The full text of the statements is in section 16.")
	})
	wantLines(t, doc, "3.2 Mixtures", "Substance | CAS No. | % | Classification",
		"a long name of a resin with a second line | 0000-00-0 | 10 - 30 | Skin Irrit. 2, H315 Eye Irrit. 2, H319 Skin Sens. 1, H317",
		"solvent | < 5", "The full text of the statements is in section 16.")
	if len(doc.Tables) != 1 {
		t.Fatalf("%d tables", len(doc.Tables))
	}
	tab := doc.Tables[0]
	if !tab.Ruled || tab.Cols != 4 || tab.Header != 1 || len(tab.Rows) != 3 {
		t.Errorf("table is ruled %v, %d columns, %d head rows, %d rows", tab.Ruled, tab.Cols, tab.Header, len(tab.Rows))
	}
	if got := tab.Rows[2].At(2).Text; got != "< 5" {
		t.Errorf("percentage of the solvent is %q", got)
	}
	if got := tab.Rows[2].At(1).Text; got != "" {
		t.Errorf("CAS number of the solvent is %q", got)
	}
	if got := tab.Rows[1].At(3).Lines(); len(got) != 3 || got[1] != "Eye Irrit. 2, H319" {
		t.Errorf("printed lines of the classification are %q", got)
	}
	if got := tab.Head(3); got != "Classification" {
		t.Errorf("head is %q", got)
	}
}

func TestHeadOverSeveralColumns(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.SetFont("Helvetica", "B", 10)
		for _, y := range []float64{80, 120, 140, 160} {
			f.Line(50, y, 450, y)
		}
		f.Line(150, 100, 450, 100)
		for _, x := range []float64{50, 150, 450} {
			f.Line(x, 80, x, 160)
		}
		for _, x := range []float64{250, 350} {
			f.Line(x, 100, x, 160)
		}
		f.Text(55, 102, "Substance")
		f.Text(250, 94, "Limit values")
		f.Text(160, 114, "ppm")
		f.Text(260, 114, "mg/m3")
		f.Text(360, 114, "Basis")
		f.SetFont("Helvetica", "", 10)
		for i, s := range []string{"solvent", "thinner"} {
			y := 134 + 20*float64(i)
			f.Text(55, y, s)
			f.Text(160, y, "50")
			f.Text(260, y, "190")
			f.Text(360, y, "TWA")
		}
	})
	wantLines(t, doc, "Substance | Limit values", "ppm | mg/m3 | Basis", "solvent | 50 | 190 | TWA", "thinner | 50 | 190 | TWA")
	tab := doc.Tables[0]
	if c := tab.Rows[0].Cells[1]; c.Col != 1 || c.Span != 3 {
		t.Errorf("%q begins in column %d and covers %d", c.Text, c.Col, c.Span)
	}
	if c := tab.Rows[0].Cells[0]; c.Down != 2 {
		t.Errorf("%q covers %d rows, want 2", c.Text, c.Down)
	}
	if got := tab.Head(2); tab.Header != 2 || got != "Limit values mg/m3" {
		t.Errorf("head of column 2 in %d rows is %q", tab.Header, got)
	}
}

// A frame around the page and boxes around headings are no tables.
func TestFramesAreNoTables(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.Rect(40, 40, 530, 700, "D")
		f.Rect(40, 80, 530, 20, "D")
		f.Text(60, 94, "SECTION 2: Hazards identification")
		column(f, 60, 120, "The product is a hazard to whoever works with it.", "It can make allergic.")
	})
	wantLines(t, doc, "SECTION 2: Hazards identification", "The product is a hazard to whoever works with it.", "It can make allergic.")
	if len(doc.Tables) != 0 {
		t.Errorf("tables are %v", doc.Tables)
	}
}

func TestTableWithoutRules(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		row := func(y float64, cells ...string) {
			for i, s := range cells {
				f.Text([]float64{50, 230, 330, 420}[i], y, s)
			}
		}
		f.Text(50, 80, "8.1 Control parameters")
		row(110, "Substance", "CAS No.", "Type", "Value")
		row(124, "bilge solvent, naphtha light", "0000-00-0", "TWA", "50 ppm")
		row(136, "from the second distillation")
		row(148, "", "", "STEL", "100 ppm")
		row(160, "thinner", "0000-00-0", "TWA", "20 ppm")
		f.Text(50, 200, "Values without a source are the supplier's own.")
	})
	wantLines(t, doc, "8.1 Control parameters", "Substance | CAS No. | Type | Value",
		"bilge solvent, naphtha light from the second distillation | 0000-00-0 | TWA | 50 ppm", "STEL | 100 ppm",
		"thinner | 0000-00-0 | TWA | 20 ppm", "Values without a source are the supplier's own.")
	tab := doc.Tables[0]
	if tab.Ruled || tab.Cols != 4 || tab.Header != 1 {
		t.Errorf("table is %+v", tab)
	}
	if c := tab.Rows[2].Cells[0]; c.Text != "STEL" || c.Col != 2 {
		t.Errorf("the second value begins with %q in column %d", c.Text, c.Col)
	}
}

// The first line of a cell may stand above the line of its row.
func TestCellBeginsAboveItsRow(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		row := func(y float64, cells ...string) {
			for i, s := range cells {
				f.Text([]float64{50, 230, 330}[i], y, s)
			}
		}
		row(110, "Substance", "CAS No.", "Weight-%")
		row(122, "bilge solvent,")
		row(134, "twice distilled", "0000-00-0", "10 - 30")
		row(146, "thinner", "0000-00-0", "1 - 5")
		row(158, "wash of the quay,")
		row(170, "light", "0000-00-0", "5 - 10")
	})
	wantLines(t, doc, "Substance | CAS No. | Weight-%", "bilge solvent, twice distilled | 0000-00-0 | 10 - 30", "thinner | 0000-00-0 | 1 - 5",
		"wash of the quay, light | 0000-00-0 | 5 - 10")
}

// A table goes on over a page break: its head is repeated, and one row is cut.
func TestTableOverPageBreak(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		head := func(y float64) {
			f.SetFont("Helvetica", "B", 10)
			f.Text(55, y, "Substance")
			f.Text(255, y, "%")
			f.Text(355, y, "Classification")
			f.SetFont("Helvetica", "", 10)
		}
		xs := []float64{50, 250, 350, 560}
		grid(f, xs, []float64{650, 670, 690, 730})
		head(664)
		f.Text(55, 684, "solvent")
		f.Text(255, 684, "10")
		f.Text(355, 684, "Flam. Liq. 3")
		f.Text(55, 704, "resin")
		f.Text(255, 704, "60")
		column(f, 355, 704, "Skin Irrit. 2", "Eye Irrit. 2")
		f.AddPage()
		grid(f, xs, []float64{60, 80, 100, 120})
		head(74)
		f.Text(355, 94, "Skin Sens. 1")
		f.Text(55, 114, "thinner")
		f.Text(255, 114, "5")
		f.Text(355, 114, "Asp. Tox. 1")
	})
	wantLines(t, doc, "Substance | % | Classification", "solvent | 10 | Flam. Liq. 3", "resin | 60 | Skin Irrit. 2 Eye Irrit. 2 Skin Sens. 1", "thinner | 5 | Asp. Tox. 1")
	if len(doc.Tables) != 1 || len(doc.Tables[0].Rows) != 4 {
		t.Errorf("tables are %+v", doc.Tables)
	}
	l := doc.Lines[2]
	at := strings.Index(l.Text, "Eye Irrit.")
	where := l.Where(at, len(l.Text))
	if len(where) != 2 || where[0].Page != 1 || where[0].Words != "Eye Irrit. 2" || where[1].Page != 2 || where[1].Words != "Skin Sens. 1" {
		t.Errorf("evidence over the page break is %+v", where)
	}
}

func TestRunningHeadsAreSetAside(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		for i := range 4 {
			if i > 0 {
				f.AddPage()
			}
			f.Text(50, 40, "Tern Bilge Resin A")
			f.Text(450, 40, "Revision date: 14 March 2025")
			f.Text(50, 100, []string{"1. Identification", "2. Hazards", "3. Composition", "4. First aid"}[i])
			f.Text(50, 230, "No data available")
			f.Text(280, 760, fmt.Sprintf("Page %d of 4", i+1))
		}
	})
	wantLines(t, doc, "1. Identification", "No data available", "2. Hazards", "No data available", "3. Composition", "No data available", "4. First aid", "No data available")
	if len(doc.Running) != 8 || doc.Running[0].Text != "Tern Bilge Resin A\tRevision date: 14 March 2025" || doc.Running[7].Text != "Page 4 of 4" {
		t.Errorf("set aside: %d", len(doc.Running))
		for _, l := range doc.Running {
			t.Logf("%q", l.Text)
		}
	}
}

func TestLettersSetApart(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		x := 50.0
		for _, r := range "SECTION 14 TRANSPORT" {
			if r == ' ' {
				x += 8
				continue
			}
			f.Text(x, 100, string(r))
			x += f.GetStringWidth(string(r)) + 4
		}
		f.Text(50, 130, "Vitamins A B C and a 1 2 3 4 5")
	})
	wantLines(t, doc, "SECTION 14 TRANSPORT", "Vitamins A B C and a 1 2 3 4 5")
}

func TestDividedWords(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		column(f, 50, 100, "Wear gloves against the poly-", "amine and the bisphenol-A-", "type resin. It is a com-", "ponent product of 4,4'-methylene-", "dianiline (64742-", "95-6).",
			"The word polyamine is written so elsewhere.", "A cancer-", "causing dust, NIOSH-", "approved masks and non-", "sparking tools.", "Causing no cancer is non-toxic.")
	})
	wantLines(t, doc, "Wear gloves against the polyamine", "and the bisphenol-A-type", "resin. It is a component", "product of 4,4'-methylene-dianiline", "(64742-95-6).",
		"The word polyamine is written so elsewhere.", "A cancer-causing", "dust, NIOSH-approved", "masks and non-sparking", "tools.", "Causing no cancer is non-toxic.")
	l := doc.Lines[0]
	at := strings.Index(l.Text, "polyamine")
	var boxes []sheet.Rect
	for _, w := range l.Words {
		if w.Start < at+len("polyamine") && w.End > at {
			boxes = append(boxes, w.Box)
		}
	}
	if len(boxes) != 2 || boxes[1].Y0 < boxes[0].Y1-3 {
		t.Errorf("the halves of the word stand at %v", boxes)
	}
	if h := l.Box.Y1 - l.Box.Y0; h > 14 {
		t.Errorf("the line is %v high", h)
	}
}

// Content drawn sideways reads like any other; boxes are those of the page as shown.
func TestSidewaysPage(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		f.TransformBegin()
		f.TransformRotate(90, 300, 400)
		f.Text(100, 300, "Product name")
		f.Text(250, 300, "Tern Bilge Resin A")
		f.Text(100, 320, "Signal word")
		f.Text(250, 320, "Danger")
		f.TransformEnd()
	})
	wantLines(t, doc, "Product name | Tern Bilge Resin A", "Signal word | Danger")
	l := doc.Lines[1]
	if l.Angle != 90 {
		t.Errorf("angle is %d", l.Angle)
	}
	b := l.BoxOf(strings.Index(l.Text, "Danger"), len(l.Text))
	if w, h := b.X1-b.X0, b.Y1-b.Y0; w > 14 || h < 25 || h > 40 {
		t.Errorf("the box of the word is %v wide and %v high", w, h)
	}
}

func TestEvidenceEnclosesExactlyTheWords(t *testing.T) {
	var before, width float64
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		before, width = f.GetStringWidth("Flash point: "), f.GetStringWidth("61 \xb0C")
		f.Text(50, 100, "Flash point: 61 \xb0C closed cup")
	})
	l := doc.Lines[0]
	at := strings.Index(l.Text, "61")
	e := l.Where(at, at+len("61 °C"))
	if len(e) != 1 || e[0].Words != "61 °C" || e[0].Page != 1 || e[0].How != sheet.ByText {
		t.Fatalf("evidence is %+v", e)
	}
	if b := e[0].Box; math.Abs(b.X0-50-before) > 1.5 || math.Abs(b.X1-50-before-width) > 1.5 || b.Y0 < 90 || b.Y1 > 103.5 {
		t.Errorf("box is %v, want from %v to %v", b, 50+before, 50+before+width)
	}
	if got := l.BoxOf(3, 3); got != (sheet.Rect{}) {
		t.Errorf("the box of nothing is %v", got)
	}
}

func TestJoinedLinesKeepTheirPlaces(t *testing.T) {
	doc := laidOut(t, func(f *fpdf.Fpdf) {
		column(f, 50, 100, "May cause an allergic", "skin reaction.")
	})
	l := layout.Join(doc.Lines...)
	if l.Text != "May cause an allergic skin reaction." {
		t.Fatalf("text is %q", l.Text)
	}
	at := strings.Index(l.Text, "allergic skin")
	if b := l.BoxOf(at, at+len("allergic skin")); b.Y1-b.Y0 < 18 {
		t.Errorf("box %v does not span both lines", b)
	}
}
