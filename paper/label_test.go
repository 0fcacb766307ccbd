package paper

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/boombuler/barcode/qr"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

func day() time.Time { return time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC) }

// invented is a product of the invented workshop: an amine hardener.
func invented(rs ghs.RuleSet, hazards ...ghs.Hazard) Product {
	if len(hazards) == 0 {
		hazards = []ghs.Hazard{ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1, ghs.AcuteTox4Oral, ghs.AquaticChronic2}
	}
	set := ghs.SetOf(hazards...)
	return Product{
		Name: "Heron Quay Hardener 30", What: "Hardener for epoxy resin", WhatLang: ghs.English, RuleSet: rs, Hazards: set, State: sheet.Stated,
		Elements: classify.Label(set, rs, classify.LabelOptions{}), Lang: ghs.English,
		Contains: []string{"isophoronediamine", "benzyl alcohol"},
		Supplier: Supplier{"Tidewater Resins Ltd", "3 Invented Quay, Portmere", "+00 100 200"}, Emergency: "+00 100 911", SheetDate: "2025-11-02",
		Gloves: sheet.Gloves{Text: "Nitrile gloves, 0.4 mm", Materials: []string{"nitrile"}, ThicknessMM: sheet.Exactly(0.4), BreakthroughMin: sheet.Exactly(480)}, GlovesSay: sheet.Stated,
		Filters: []string{"A2"}, Link: "http://192.168.1.20:1616/p/heron-30",
	}
}

func mustSize(t *testing.T, s string) LabelSize {
	t.Helper()
	size, err := ParseLabelSize(s)
	if err != nil {
		t.Fatal(err)
	}
	return size
}

// longest are the codes of a kind with the longest wording in a language.
func longest(l ghs.Lang, kind ghs.StatementKind, n int) []classify.LabelElement[ghs.Code] {
	all := ghs.AllStatements()
	slices.SortStableFunc(all, func(a, b ghs.Statement) int {
		ta, _ := ghs.Phrase(a.Code, l)
		tb, _ := ghs.Phrase(b.Code, l)
		return len(tb) - len(ta)
	})
	var out []classify.LabelElement[ghs.Code]
	for _, s := range all {
		if s.Kind == kind && len(out) < n {
			out = append(out, classify.LabelElement[ghs.Code]{Value: s.Code})
		}
	}
	return out
}

// frames are the cells of words and of pictures of a drawing, and its words.
func frames(marks []Mark) (text, pictures []Frame, words int, t []string) {
	for _, m := range marks {
		g, ok := m.(Group)
		if !ok {
			continue
		}
		if g.Role == FigureRole {
			pictures = append(pictures, g.Frame)
			continue
		}
		text = append(text, g.Frame)
		for _, w := range g.Marks {
			if w, ok := w.(Words); ok {
				words++
				t = append(t, w.Text)
			}
		}
	}
	return text, pictures, words, t
}

// holds checks that no letter of a label leaves its cell, no cell leaves the label, and nothing lies on anything else.
func holds(t *testing.T, name string, l *Label) {
	t.Helper()
	f, err := newFace()
	if err != nil {
		t.Fatal(err)
	}
	const eps = 0.02
	within := func(a, b Frame) bool {
		return a.X >= b.X-eps && a.Y >= b.Y-eps && a.X+a.W <= b.X+b.W+eps && a.Y+a.H <= b.Y+b.H+eps
	}
	all := Frame{0, 0, l.Width, l.Height}
	for _, m := range l.Marks {
		g, ok := m.(Group)
		if !ok {
			continue
		}
		if !within(g.Frame, all) {
			t.Errorf("%s: a cell leaves the label: %+v", name, g.Frame)
		}
		for _, w := range g.Marks {
			w, ok := w.(Words)
			if !ok {
				continue
			}
			c := regular
			if w.Bold {
				c = bold
			}
			box := Frame{w.X, w.Y - ascent*w.Size, f.width(c, w.Size, strings.TrimRight(w.Text, " ")), (ascent + descent) * w.Size}
			if !within(box, g.Frame) {
				t.Errorf("%s: %q leaves its cell: %+v in %+v", name, w.Text, box, g.Frame)
			}
			if w.Size < l.Minimum.minLetter()-0.01 {
				t.Errorf("%s: letters of %.2f pt", name, w.Size)
			}
		}
	}
	text, pictures, _, _ := frames(l.Marks)
	apart := func(a, b Frame) bool {
		return a.X+a.W <= b.X+eps || b.X+b.W <= a.X+eps || a.Y+a.H <= b.Y+eps || b.Y+b.H <= a.Y+eps
	}
	for i, a := range text {
		for _, b := range append(text[i+1:], pictures...) {
			if !apart(a, b) {
				t.Errorf("%s: two cells overlap: %+v and %+v", name, a, b)
			}
		}
	}
	for i, a := range pictures {
		for _, b := range pictures[i+1:] {
			// diamonds: the sum of the distances of their middles is at least their width
			if d := math.Abs(a.X+a.W/2-b.X-b.W/2) + math.Abs(a.Y+a.H/2-b.Y-b.H/2); d < (a.W+b.W)/2-eps && !apart(a, b) {
				t.Errorf("%s: two pictograms overlap", name)
			}
		}
	}
	if l.DiamondM < max(l.Minimum.PictogramMM, 10)-0.01 {
		t.Errorf("%s: pictograms of %.1f mm, at least %.1f", name, l.DiamondM, l.Minimum.PictogramMM)
	}
}

// Regulation (EC) No 1272/2008 Annex I table 1.3 and 1.2.1.3: sizes by capacity. The size of a pictogram is the edge of the
// diamond, not of the square around it.
func TestSizesByCapacity(t *testing.T) {
	for _, c := range []struct {
		litres, diamond float64
		label           string
	}{{0.1, 10, "74x52"}, {3, 10, "74x52"}, {3.1, 23, "105x74"}, {50, 23, "105x74"}, {51, 32, "148x105"}, {500, 32, "148x105"}, {501, 46, "210x148"}} {
		m := MinimumFor(ghs.EUCLP, c.litres)
		if m.PictogramMM != c.diamond || m.Label.String() != c.label {
			t.Errorf("%v l: %v mm on %s, want %v on %s", c.litres, m.PictogramMM, m.Label, c.diamond, c.label)
		}
		// one fifteenth of the least area, where 16 mm counts as the size wanted up to 3 l
		if area, edge := m.Label.WidthMM*m.Label.HeightMM/15, m.wantedPictogram()/MM; edge*edge < area*0.997 {
			t.Errorf("%v l: pictograms below one fifteenth of the label", c.litres)
		}
		if c.litres > 3 {
			l, err := invented(ghs.EUCLP, ghs.SkinIrrit2).Label(LabelOptions{Kind: SupplierLabel, Size: mustSize(t, "52x74"), Litres: c.litres})
			var room *NoRoom
			if !errors.As(err, &room) || !room.Next.holds(m.Label) {
				t.Errorf("%v l on 52x74 mm: %v, %v; want an error that names at least %s", c.litres, l, err, c.label)
			}
		}
	}
}

// Whatever has to be said in any language: it stands on the label whole and in letters of the least size, or the call
// says that it does not fit and names a size on which it does.
func TestNothingIsCutOff(t *testing.T) {
	fits, refused := 0, 0
	for _, l := range ghs.Langs() {
		p := invented(ghs.EUCLP)
		p.Elements.Hazard = longest(l, ghs.HazardStatement, 5)
		p.Elements.Short = nil
		for _, e := range longest(l, ghs.PrecautionaryStatement, 6) {
			p.Elements.Short = append(p.Elements.Short, e.Value)
		}
		for _, langs := range [][]ghs.Lang{{l}, {l, ghs.Langs()[(slices.Index(ghs.Langs(), l)+1)%4]}} {
			for _, kind := range []LabelKind{WorkplaceLabel, SupplierLabel} {
				for _, size := range LabelSizes() {
					name := fmt.Sprintf("%v %v %s", langs, kind, size)
					label, err := p.Label(LabelOptions{Kind: kind, Size: size, Langs: langs, Litres: 2, Decanted: day(), By: "R. Okafor"})
					var room *NoRoom
					switch {
					case err == nil:
						fits++
						holds(t, name, label)
						_, _, _, printed := frames(label.Marks)
						text := strings.Join(strings.Fields(strings.Join(printed, " ")), "")
						for _, lang := range langs {
							for _, e := range p.Elements.Hazard {
								if say, ok := p.Say(e.Value, lang); ok && !strings.Contains(text, strings.Join(strings.Fields(say), "")) {
									t.Errorf("%s: %s is not whole", name, e.Value)
								}
							}
						}
					case errors.As(err, &room):
						refused++
						if room.Next == (LabelSize{}) {
							continue
						}
						if _, err := p.Label(LabelOptions{Kind: kind, Size: room.Next, Langs: langs, Litres: 2, Decanted: day(), By: "R. Okafor"}); err != nil {
							t.Errorf("%s: it names %s, where it does not fit: %v", name, room.Next, err)
						}
						if !strings.Contains(err.Error(), room.Next.String()) {
							t.Errorf("%s: %v does not name %s", name, err, room.Next)
						}
					default:
						t.Errorf("%s: %v", name, err)
					}
				}
			}
		}
	}
	if fits < 20 || refused < 20 {
		t.Errorf("%d labels fit, %d were refused: the test does not try both", fits, refused)
	}
}

// bboxes checks with another program that every word lies on the page.
func bboxes(t *testing.T, file string) {
	t.Helper()
	out := run1(t, "pdftotext", "-bbox", file, "-")
	page := regexp.MustCompile(`<page width="([\d.]+)" height="([\d.]+)"`).FindStringSubmatch(out)
	words := regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)"`).FindAllStringSubmatch(out, -1)
	if page == nil || len(words) < 5 {
		t.Fatalf("%s: %d words found", file, len(words))
	}
	n := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	for _, w := range words {
		if n(w[1]) < 0 || n(w[2]) < 0 || n(w[3]) > n(page[1]) || n(w[4]) > n(page[2]) {
			t.Errorf("%s: a word leaves the page: %v", file, w)
		}
	}
}

// inked checks that a page drawn by another program is neither blank nor black, and holds red exactly when asked for.
func inked(t *testing.T, file string, red bool) {
	t.Helper()
	base := filepath.Join(t.TempDir(), "page")
	run1(t, "pdftoppm", "-r", "60", "-png", "-singlefile", file, base)
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	dark, reds, all := 0, 0, 0
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			all++
			if r < 0x6000 && g < 0x6000 && b < 0x6000 {
				dark++
			}
			if r > 0xb000 && g < 0x6000 && b < 0x6000 {
				reds++
			}
		}
	}
	if share := float64(dark) / float64(all); share < 0.01 || share > 0.5 {
		t.Errorf("%s: %.1f %% of the page is dark", file, share*100)
	}
	if (reds > 20) != red {
		t.Errorf("%s: %d red points, red wanted: %v", file, reds, red)
	}
}

// Regulation (EC) No 1272/2008 Art. 17, 29 CFR 1910.1200(f)(1) and (f)(6), SOR/2015-17 s. 3: what stands on a label.
func TestLabelsHoldWhatTheLawWants(t *testing.T) {
	for _, c := range []struct {
		name, size string
		litres     float64
		kind       LabelKind
		rs         ghs.RuleSet
		langs      []ghs.Lang
		words      []string
	}{
		{"work-en", "105x74", 0.5, WorkplaceLabel, ghs.EUCLP, []ghs.Lang{"en"}, []string{"Heron Quay Hardener 30", "Hardener for epoxy resin", "DANGER", "Causes severe skin burns and eye damage.", "May cause an allergic skin reaction.", "Wear protective gloves", "See the safety data sheet.", "Decanted: 2026-03-04", "R. Okafor"}},
		{"work-de", "52x74", 0.5, WorkplaceLabel, ghs.EUCLP, []ghs.Lang{"de"}, []string{"Heron Quay Hardener 30", "GEFAHR", "Kann allergische Hautreaktionen verursachen.", "Siehe Sicherheitsdatenblatt.", "Abgefüllt: 2026-03-04"}},
		{"work-us", "60x40", 0.1, WorkplaceLabel, ghs.USHCS2024, []ghs.Lang{"en"}, []string{"Heron Quay Hardener 30", "DANGER", "Causes severe skin burns and eye damage.", "Decanted"}},
		{"work-canada", "105x74", 1, WorkplaceLabel, ghs.CAHPR, nil, []string{"Heron Quay Hardener 30", "DANGER", "Causes severe skin burns", "Provoque de graves", "See the safety data sheet. / Voir la fiche de données de sécurité.", "Decanted / Transvasé: 2026-03-04"}},
		{"supplier-de", "210x148", 5, SupplierLabel, ghs.EUCLP, []ghs.Lang{"de"}, []string{"Heron Quay Hardener 30", "GEFAHR", "Enthält: isophoronediamine", "Verursacht schwere Verätzungen", "750 ml", "UFI: A2B3-C4D5-E6F7-G8H9", "Tidewater Resins Ltd, 3 Invented Quay, Portmere, +00 100 200"}},
		{"supplier-us", "148x105", 10, SupplierLabel, ghs.USHCS2024, []ghs.Lang{"en"}, []string{"Heron Quay Hardener 30", "DANGER", "Causes severe skin burns", "IF IN EYES", "Dispose of", "Tidewater Resins Ltd", "+00 100 200"}},
		{"supplier-canada", "148x210", 5, SupplierLabel, ghs.CAHPR, nil, []string{"Heron Quay Hardener 30", "Causes severe skin burns", "IF IN EYES", "Provoque de graves", "YEUX", "Tidewater Resins Ltd"}},
		{"supplier-es-fr", "210x148", 5, SupplierLabel, ghs.EUCLP, []ghs.Lang{"es", "fr"}, []string{"PELIGRO / DANGER", "Provoca quemaduras graves", "Provoque de graves", "Tidewater Resins Ltd"}},
	} {
		p := invented(c.rs)
		if c.kind == SupplierLabel {
			p.UFI, p.Quantity = "A2B3-C4D5-E6F7-G8H9", "750 ml"
		}
		l, err := p.Label(LabelOptions{Kind: c.kind, Size: mustSize(t, c.size), Langs: c.langs, Litres: c.litres, Decanted: day(), By: "R. Okafor"})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		holds(t, c.name, l)
		file := written(t, "label-"+c.name+".pdf", func(w io.Writer) error { return l.WritePDF(w, day()) })
		structure := strings.Join(strings.Fields(strings.ReplaceAll(run1(t, "pdfinfo", "-struct-text", file), "\"", " ")), " ")
		inOrder(t, c.name, structure, append([]string{"Document", "H1"}, c.words...)...)
		bboxes(t, file)
		inked(t, file, true)
		svg := written(t, "label-"+c.name+".html", l.WriteHTML)
		wellFormed(t, svg)
	}
}

// Where a small container frees statements, only as many are left off as have no room, the mildest first, and it is said.
func TestReliefIsUsedOnlyForLackOfRoom(t *testing.T) {
	p := invented(ghs.USHCS2024)
	big, err := p.Label(LabelOptions{Size: mustSize(t, "148x105"), Litres: 0.1})
	if err != nil || len(big.LeftOff) != 0 {
		t.Errorf("on a large label: %v, left off %v", err, big)
	}
	small, err := p.Label(LabelOptions{Size: mustSize(t, "60x40"), Litres: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if said := strings.Join(small.LeftOff, "; "); !strings.Contains(said, "1910.1200(f)(12)(ii)") || strings.Contains(said, "H314") {
		t.Errorf("left off: %s", said)
	}
	if _, err := p.Label(LabelOptions{Size: mustSize(t, "60x40"), Litres: 0.5}); err == nil {
		t.Error("half a litre has no relief, yet 60 x 40 mm held the label")
	}
}

// Hazards that nobody stated are no reason to print a label that looks harmless.
func TestUnknownHazardsAreSaid(t *testing.T) {
	p := invented(ghs.EUCLP)
	p.Hazards, p.Elements = ghs.HazardSet{}, classify.Label(ghs.HazardSet{}, ghs.EUCLP, classify.LabelOptions{})
	p.State = sheet.NotStated
	if _, err := p.Label(LabelOptions{Kind: SupplierLabel, Size: mustSize(t, "105x74")}); !errors.Is(err, ErrHazardsNotStated) {
		t.Errorf("supplier label: %v", err)
	}
	for state, want := range map[sheet.State]string{sheet.NotStated: "Hazards not known. Treat as hazardous.", sheet.NoneStated: "That is not the same as harmless."} {
		p.State = state
		l, err := p.Label(LabelOptions{Size: mustSize(t, "105x74")})
		if err != nil {
			t.Fatal(err)
		}
		if _, _, _, words := frames(l.Marks); !strings.Contains(strings.Join(words, " "), want) {
			t.Errorf("%v: %q", state, words)
		}
	}
}

// Every sheet of blank labels lies on its paper, and begins where a begun sheet goes on.
func TestSheetOfLabels(t *testing.T) {
	names := map[string]bool{}
	for _, k := range Stocks() {
		if err := k.check(); err != nil || names[k.Name] || k.Name != fmt.Sprintf("%s-%dx%d", map[bool]string{true: "a4", false: "letter"}[k.Page == A4], k.Columns, k.Rows) {
			t.Errorf("%+v: %v", k, err)
		}
		names[k.Name] = true
	}
	own, err := ParseStock("a4 2x4 99.1x67.7 left 4.7 top 13.1 pitch 101.6x67.7")
	if err != nil || own.LeftMM != 4.7 || own.PitchXMM != 101.6 || own.Rows != 4 {
		t.Errorf("%+v, %v", own, err)
	}
	for _, bad := range []string{"", "a4", "b5 2x2 10x10", "a4 2x2 120x40", "a4 2x2 90x40 pitch 80x40", "a4 0x2 90x40", "a4 2x2 90x40 left", "a4 2x2 90x40 lift 3"} {
		if _, err := ParseStock(bad); !errors.Is(err, ErrStock) {
			t.Errorf("%q: %v", bad, err)
		}
	}
	l, err := invented(ghs.EUCLP).Label(LabelOptions{Size: own.Label, Litres: 0.5, Decanted: day()})
	if err != nil {
		t.Fatal(err)
	}
	s := LabelSheet{Stock: own, Start: 3, Labels: []*Label{l, l, l, l, l, l, l}}
	file := written(t, "labels.pdf", func(w io.Writer) error { return s.WritePDF(w, day()) })
	if n := strings.Count(textOf(t, file), "Heron Quay Hardener 30"); n != 7 {
		t.Errorf("%d labels printed, want 7", n)
	}
	if info := run1(t, "pdfinfo", file); !regexp.MustCompile(`Pages: +2`).MatchString(info) {
		t.Errorf("seven labels from place 3 of 8 need two sheets:\n%s", info)
	}
	s.Start = 9
	if err := s.WritePDF(io.Discard, day()); !errors.Is(err, ErrStart) {
		t.Errorf("place 9 of 8: %v", err)
	}
}

// ISO/IEC 18004: the squares drawn are those of the code, with four modules of white around.
func TestQRIsDrawnModuleByModule(t *testing.T) {
	const content = "http://192.168.1.20:1616/p/heron-30"
	code, err := qr.Encode(content, qr.M, qr.Auto)
	if err != nil {
		t.Fatal(err)
	}
	d, err := qrDrawing(content)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := d.PNG(72 * 4)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	n := code.Bounds().Dx()
	if img.Bounds().Dx() != (n+8)*4 {
		t.Fatalf("%d points for %d modules", img.Bounds().Dx(), n)
	}
	for y := -4; y < n+4; y++ {
		for x := -4; x < n+4; x++ {
			want := x >= 0 && y >= 0 && x < n && y < n && isBlack(code.At(x, y))
			if isBlack(img.At((x+4)*4+2, (y+4)*4+2)) != want {
				t.Fatalf("module %d, %d", x, y)
			}
		}
	}
}
