package sheetprint

import (
	"context"
	"strconv"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/read/page"
	"sixteen/read/pdf"
)

// newEngine is the reader of pages for one test.
func newEngine(t *testing.T) *pdf.Engine {
	t.Helper()
	engine, err := pdf.NewEngine(context.Background(), pdf.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { engine.Close() })
	return engine
}

// pagesOf reads what is really on the pages.
func pagesOf(t *testing.T, engine *pdf.Engine, printed []byte) []page.Page {
	t.Helper()
	doc, err := engine.Open(context.Background(), printed)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	pages, err := doc.Pages()
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// squeezed is all text of the pages without blanks, so that wrapped and letter-spaced words compare.
func squeezed(pages []page.Page) string {
	var b strings.Builder
	for _, p := range pages {
		for _, w := range p.Words {
			b.WriteString(w.Text)
		}
	}
	return squeeze(b.String())
}

func squeeze(s string) string {
	return strings.NewReplacer(" ", "", "\u00a0", "", "≥", ">=", "≤", "<=", "·", "", "\u00ad", "-", "‐", "-").Replace(s)
}

// What is on the pages: every value that the truth names and every pictogram, nothing cut off at the edge, no word on
// another.
func TestPagesShowTheTruth(t *testing.T) {
	engine := newEngine(t)
	everyLayout(t, func(t *testing.T, s Spec, l Layout, printed []byte, truth Truth) {
		pages := pagesOf(t, engine, printed)
		text := squeezed(pages)
		if len(text) < 3000 {
			t.Fatalf("only %d letters on the pages", len(text))
		}
		for _, want := range truthWords(truth, l) {
			if !strings.Contains(text, squeeze(want)) {
				t.Errorf("%q is not on the pages", want)
			}
		}
		checkPictograms(t, s, truth, text, pages)
		for _, p := range pages {
			checkPlaces(t, p)
		}
	})
}

func checkPictograms(t *testing.T, s Spec, truth Truth, text string, pages []page.Page) {
	t.Helper()
	d, err := loadWords(s.Lang)
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, p := range pages {
		drawn += len(p.Images)
	}
	for _, g := range truth.Pictograms {
		if !truth.PictogramsDrawn && !strings.Contains(text, g) && !strings.Contains(text, squeeze(d.say(g))) {
			t.Errorf("%s is not on the pages", g)
		}
	}
	if truth.PictogramsDrawn && drawn < len(truth.Pictograms) {
		t.Errorf("%d drawings for %d pictograms", drawn, len(truth.Pictograms))
	}
}

func checkPlaces(t *testing.T, p page.Page) {
	t.Helper()
	for i, w := range p.Words {
		if w.Box.X0 < 20 || w.Box.Y0 < 5 || w.Box.X1 > p.Width-20 || w.Box.Y1 > p.Height-5 {
			t.Errorf("page %d: %q lies at the edge: %v", p.Number, w.Text, w.Box)
		}
		for _, v := range p.Words[i+1:] {
			if dx, dy := min(w.Box.X1, v.Box.X1)-max(w.Box.X0, v.Box.X0), min(w.Box.Y1, v.Box.Y1)-max(w.Box.Y0, v.Box.Y0); dx > 2 && dy > 4 {
				t.Errorf("page %d: %q and %q lie on each other", p.Number, w.Text, v.Text)
			}
		}
	}
}

// truthWords are the words of the truth as they must stand on the pages.
func truthWords(t Truth, l Layout) []string {
	out := []string{t.Product, t.Supplier, t.EmergencyPhone, t.SignalPrinted, l.date(*t.RevisionDate, ghs.Lang(t.Language)), *t.UN, *t.PackingGroup}
	for _, h := range t.HCodes {
		text := phrase(ghs.Code(h), Spec{Rules: ghs.RuleSet(t.Jurisdiction), Lang: ghs.Lang(t.Language)})
		if l.LoudH {
			text = strings.ToUpper(text)
		}
		switch l.HStyle {
		case PhraseOnly:
			out = append(out, text)
		case CodeOnly:
			out = append(out, h)
		case CodesJoined:
			out = append(out, h[1:])
		default:
			out = append(out, h, text)
		}
	}
	out = append(out, t.PCodes...)
	for _, in := range t.Ingredients {
		if in.CAS != nil {
			out = append(out, *in.CAS)
		}
		for _, v := range []*float64{in.PercentMin, in.PercentMax} {
			if v != nil {
				out = append(out, l.number(*v))
			}
		}
	}
	for _, q := range []*QuantityTrue{t.FlashPointC, t.BoilingPointC, t.Density, t.VapourPressure, t.VOC, t.AutoIgnitionC, t.KinematicVisc} {
		if q != nil && l.Columns == 1 {
			out = append(out, strings.Fields(q.Printed)...)
		}
	}
	for _, x := range t.ExposureLimits {
		out = append(out, l.thousands(x.Value), x.CAS)
	}
	if h := t.Ratings.HMIS; h != nil {
		out = append(out, h.H.(string), strconv.Itoa(h.F))
	}
	return out
}

// A scan has as many pages as the printed sheet, a picture on each and no words.
func TestScan(t *testing.T) {
	l, err := NewLayout(2, ghs.EUCLP, ghs.English, 5)
	if err != nil {
		t.Fatal(err)
	}
	printed, truth, err := Print(exampleSpec(ghs.English, ghs.EUCLP), l)
	if err != nil {
		t.Fatal(err)
	}
	engine := newEngine(t)
	scanned, err := Scan(context.Background(), engine, printed, 1)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d pages, %d bytes", truth.Pages, len(scanned))
	if len(scanned) > 1_500_000 {
		t.Errorf("%d bytes", len(scanned))
	}
	pages := pagesOf(t, engine, scanned)
	if len(pages) != truth.Pages {
		t.Errorf("%d pages, printed %d", len(pages), truth.Pages)
	}
	for _, p := range pages {
		if len(p.Words) > 0 || len(p.Images) == 0 {
			t.Errorf("page %d has %d words and %d pictures", p.Number, len(p.Words), len(p.Images))
		}
	}
}
