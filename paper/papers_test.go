package paper

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"sixteen/audit"
	"sixteen/compare"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/read/docx"
	"sixteen/sheet"
	"sixteen/substance"
)

// asked is a letter with its report, as package audit makes them.
func asked(l ghs.Lang) (audit.Letter, audit.Report) {
	s := &sheet.Sheet{}
	known := func(v string) sheet.Fact[string] { return sheet.Fact[string]{State: sheet.Stated, Value: v} }
	s.Identification.ProductName, s.Identification.Supplier, s.Identification.SupplierAddress = known("Heron Quay Hardener 30"), known("Tidewater Resins Ltd"), known("3 Invented Quay, Portmere")
	s.Identification.RevisionDate = known("2025-11-02")
	r, err := audit.Run(context.Background(), &audit.Case{Sheet: s, RuleSet: ghs.EUCLP, Today: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		panic(err)
	}
	letter, ok := audit.LetterOf(s, r, l)
	if !ok {
		panic("an empty sheet asks nothing")
	}
	return letter, r
}

// The letter in three formats and four languages: address, subject, every question in order, the closing words, and the
// clause of every finding in the annex.
func TestLetterHoldsQuestionsAndClauses(t *testing.T) {
	for _, l := range ghs.Langs() {
		letter, report := asked(l)
		d := SupplierLetter(letter, report, LetterOptions{From: "Harbour Lane Boat Works\n1 Invented Quay", Date: day()})
		want := []string{"Tidewater Resins Ltd", "Harbour Lane Boat Works", "2026-03-04", letter.Subject, letter.Opening[0]}
		for _, q := range letter.Questions {
			want = append(want, q.Text)
		}
		want = append(want, letter.Closing...)
		want = append(want, word("annex", l), word("clause", l))
		html := written(t, "letter-"+string(l)+".html", d.WriteHTML)
		inOrder(t, html, wellFormed(t, html), want...)
		pdf := written(t, "letter-"+string(l)+".pdf", d.WritePDF)
		structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", pdf), "\"", " ")), " ")
		for _, q := range letter.Questions {
			if !strings.Contains(structure, strings.Join(strings.Fields(q.Text), " ")) {
				t.Errorf("%s: %q is not read aloud", pdf, q.Text)
			}
		}
		for _, q := range letter.Questions {
			for _, id := range q.Findings {
				f := report.Findings[slices.IndexFunc(report.Findings, func(f audit.Finding) bool { return f.ID == id })]
				if !strings.Contains(structure, strings.Join(strings.Fields(f.Clause), " ")) {
					t.Errorf("%s: the clause %q is missing", pdf, f.Clause)
				}
			}
		}
		inked(t, pdf, false)
		data, err := os.ReadFile(written(t, "letter-"+string(l)+".docx", d.WriteDOCX))
		if err != nil {
			t.Fatal(err)
		}
		page, err := docx.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		var words []string
		for _, w := range page.Words {
			words = append(words, w.Text)
		}
		for _, q := range letter.Questions {
			if !strings.Contains(strings.Join(words, " "), strings.Join(strings.Fields(q.Text), " ")) {
				t.Errorf("%q is not in the word-processor letter", q.Text)
			}
		}
	}
}

// The register has every product with its place, the hazards in words, and says what is not known.
func TestRegisterHoldsEveryProduct(t *testing.T) {
	var rows []RegisterRow
	for i := range 40 {
		p := invented(ghs.EUCLP)
		p.Name = fmt.Sprintf("Product %02d", i)
		if i == 7 {
			p.Hazards, p.State, p.Supplier = ghs.HazardSet{}, sheet.NotStated, Supplier{}
		}
		rows = append(rows, RegisterRow{Product: p, Place: []string{"Yard", "Cabinet"}[i%2], Amount: "5 l", Open: i})
	}
	for _, l := range ghs.Langs() {
		d := Register(rows, RegisterOptions{Lang: l, Workshop: "Harbour Lane Boat Works", Date: day()})
		file := written(t, "register-"+string(l)+".pdf", d.WritePDF)
		structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", file), "\"", " ")), " ")
		inOrder(t, file, structure, word("register", l), word("product", l), word("hazards", l), "Product 01", "Cabinet", "Product 39", "Product 00", "Yard", "Product 38")
		if !strings.Contains(structure, word("hazards-unknown", l)) || !strings.Contains(structure, word("unknown", l)) {
			t.Errorf("%s: what is not known is not said", file)
		}
		bboxes(t, file)
		inked(t, file, false)
		wellFormed(t, written(t, "register-"+string(l)+".html", d.WriteHTML))
	}
}

// The plan of the example job: every chart of it can be printed, headline first, then the plan in short, the figures, and every
// measure with why and source.
func TestPlanIsPrintedWithItsCharts(t *testing.T) {
	job, err := exposure.ParseJob(exposure.ExampleYAML())
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(context.Background(), job, substance.Embedded(), plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	d, err := JobPlan(p, PaperOptions{Date: day(), Link: "http://127.0.0.1:1616/job/1"})
	if err != nil {
		t.Fatal(err)
	}
	figures := 0
	for _, b := range d.Blocks {
		if f, ok := b.(Figure); ok {
			figures++
			if f.Alt == "" || len(f.Drawing.Marks) < 5 {
				t.Errorf("chart %q has %d marks", f.Alt, len(f.Drawing.Marks))
			}
		}
	}
	if figures == 0 || figures != len(p.Charts()) {
		t.Errorf("%d charts of %d", figures, len(p.Charts()))
	}
	file := written(t, "plan.pdf", d.WritePDF)
	structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", file), "\"", " ")), " ")
	want := append([]string{p.Name, "First"}, p.Headline...)
	want = append(want, "In short")
	for _, l := range p.Brief() {
		want = append(want, l.Says...)
	}
	want = append(want, "Products", "Figures for each person", "Rooms", "Charts", "What to do, in the order of controls")
	for _, m := range p.Protection.Measures {
		if m.Code == "" {
			want = append(want, m.What, m.Why)
		}
	}
	want = append(want, "Sources")
	for _, s := range p.Protection.Listing().Sources {
		want = append(want, s.Text)
	}
	inOrder(t, file, structure, append(want, "Assumed")...)
	bboxes(t, file)
	wellFormed(t, written(t, "plan.html", d.WriteHTML))
	written(t, "plan.docx", d.WriteDOCX)
}

// A comparison keeps the axes apart and praises nobody.
func TestComparisonIsPrinted(t *testing.T) {
	c := &compare.Comparison{RuleSet: ghs.EUCLP, Headline: []string{"First beside Second: less allergy, more fire."}, Leading: []string{"First", "Second"}, Notes: []string{"No job was given."}}
	for _, name := range []string{"First", "Second"} {
		p := compare.Product{Name: name}
		for i, a := range compare.Axes() {
			p.Scores = append(p.Scores, compare.Score{Axis: a, Lo: 1, Hi: 2, Open: i == 0, Words: "words of " + string(a), Why: []string{"because of " + name}})
		}
		c.Products = append(c.Products, p)
	}
	pair := compare.Pair{First: "First", Second: "Second", TradeOff: "First gives up fire for allergy."}
	for range compare.Axes() {
		pair.Verdicts = append(pair.Verdicts, compare.Unclear)
	}
	c.Pairs = []compare.Pair{pair}
	file := written(t, "comparison.pdf", Comparison(c, PaperOptions{Date: day()}).WritePDF)
	structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", file), "\"", " ")), " ")
	want := []string{"Comparison", "there is no sum", c.Headline[0], "Not dominated by another: First, Second", "On each axis"}
	for _, a := range compare.Axes() {
		want = append(want, a.Title()[1:], "words of "+string(a), "because of First", "because of Second")
	}
	inOrder(t, file, structure, append(want, "Two by two", pair.TradeOff, "cannot be told", "No job was given.")...)
	bboxes(t, file)
}

// SVG that cannot be printed is an error that names it; curves, dashes and colours come through.
func TestSVGOfCharts(t *testing.T) {
	d, err := ParseSVG([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="10 0 100 50"><style>.l{stroke:#f00;fill:none}</style><g transform="translate(10 5) scale(2)"><path class="l" d="M0 0h10V5q1 1 2 0t2 0c1 1 2 2 3 3s1 1 2 2z" stroke-dasharray="2 1"/><text x="5" y="6" text-anchor="middle" font-weight="bold">a <tspan fill="#00f">b</tspan></text></g><circle cx="20" cy="20" r="5" fill="currentColor" opacity=".5"/></svg>`))
	if err != nil {
		t.Fatal(err)
	}
	if d.Width != 75 || d.Height != 37.5 || len(d.Marks) != 4 {
		t.Fatalf("%+v", d)
	}
	path := d.Marks[0].(Shape)
	if path.Fill != nil || *path.Stroke != (Ink{255, 0, 0}) || path.LineWidth != 1.5 || !slices.Equal(path.Dash, []float64{3, 1.5}) || path.Path[0].To[0] != (Point{0, 3.75}) || len(path.Path) != 8 {
		t.Errorf("%+v", path)
	}
	if w := d.Marks[1].(Words); w.Text != "a" || w.Align != Centre || !w.Bold || w.Size != 24 {
		t.Errorf("%+v", w)
	}
	if c := d.Marks[3].(Shape); *c.Fill != (Ink{128, 128, 128}) || len(c.Path) != 5 {
		t.Errorf("%+v", c)
	}
	for bad, want := range map[string]string{
		`<svg viewBox="0 0 9 9"><image href="x.png"/></svg>`:                    `"image"`,
		`<svg viewBox="0 0 9 9"><path d="M0 0A1 1 0 0 1 2 2"/></svg>`:           "'A'",
		`<svg viewBox="0 0 9 9"><rect width="2" height="2" fill="teal"/></svg>`: `"teal"`,
		`<svg viewBox="0 0 9 9"><g transform="rotate(45)"/></svg>`:              "rotate(45)",
		`<svg><g/></svg>`:                   "viewBox",
		`<svg viewBox="0 0 9 9"><path d="L`: "well-formed",
	} {
		if _, err := ParseSVG([]byte(bad)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", bad, err, want)
		}
	}
}

// Letters that the type lacks are never dropped.
func TestUnknownLettersAreShown(t *testing.T) {
	f, err := newFace()
	if err != nil {
		t.Fatal(err)
	}
	if got := f.written("Harz 漢 ½ – „q“ β"); got != "Harz [U+6F22] ½ – „q“ β" {
		t.Errorf("%q", got)
	}
	if got := f.written("e\u0301 \u2011 5\u202fµm"); got != "é - 5\u00a0µm" {
		t.Errorf("%q", got)
	}
}

// Every word of the papers exists in every language and keeps its places.
func TestWordsAreComplete(t *testing.T) {
	for key, row := range wordTable() {
		for _, l := range ghs.Langs() {
			if strings.TrimSpace(row[l]) == "" {
				t.Errorf("%s has no word in %s", key, l)
			}
			for _, place := range []string{"{1}", "{2}"} {
				if strings.Contains(row[ghs.English], place) != strings.Contains(row[l], place) {
					t.Errorf("%s in %s: the place %s", key, l, place)
				}
			}
			if strings.Contains(row[l], "!") {
				t.Errorf("%s in %s shouts", key, l)
			}
		}
	}
}

// docs/papers.md tells of every paper, every size of label and every sheet of blank labels.
func TestPapersAreDocumented(t *testing.T) {
	raw, err := os.ReadFile("../docs/papers.md")
	if err != nil {
		t.Fatal(err)
	}
	doc := string(raw)
	for _, k := range Papers() {
		if !strings.Contains(doc, "| "+k.Title+" |") || !strings.Contains(doc, k.Rules) || !strings.Contains(doc, joined(k.Formats)) {
			t.Errorf("docs/papers.md does not tell of the %s with its rules and formats", k.Title)
		}
	}
	for _, s := range LabelSizes() {
		if !strings.Contains(doc, s.String()) {
			t.Errorf("docs/papers.md lacks the size %s", s)
		}
	}
	for _, s := range Stocks() {
		if !strings.Contains(doc, s.Name) {
			t.Errorf("docs/papers.md lacks the sheet %s", s.Name)
		}
	}
}
