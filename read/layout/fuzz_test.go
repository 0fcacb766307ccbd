package layout_test

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/sheet"
)

// pagesFrom makes pages of arbitrary bytes: words at any place, of any size and direction, rules and absurd boxes.
func pagesFrom(data []byte) []page.Page {
	next := func(n int) []byte {
		b := make([]byte, n)
		copy(b, data)
		data = data[min(n, len(data)):]
		return b
	}
	length := func() float64 {
		b := next(2)
		v := float64(int16(binary.LittleEndian.Uint16(b))) / 16
		switch b[0] {
		case 0xff:
			return math.NaN()
		case 0xfe:
			return math.Inf(1)
		}
		return v
	}
	box := func() sheet.Rect { return sheet.Rect{X0: length(), Y0: length(), X1: length(), Y1: length()} }
	vocabulary := []string{"S", "E", "word", "hyphen-", "ated", "12-", "34", "x", "Danger:", "<", "ä", "\xff", ""}
	var out []page.Page
	for len(data) > 0 {
		b := next(4)
		p := page.Page{Number: len(out) + 1, Width: 600, Height: 800, How: sheet.ByText}
		for range min(int(b[0]), 200) {
			k := next(2)
			w := page.Word{Text: vocabulary[int(k[0])%len(vocabulary)], Size: float64(k[1] % 20), Angle: int(k[1]/64) * 90, SpaceAfter: k[0] > 127, Confidence: 1}
			if k[1]&32 == 0 { // a word of sensible size, so that lines and tables occur
				x, y := float64(next(1)[0])*2, float64(next(1)[0])*3
				w.Box = sheet.Rect{X0: x, Y0: y, X1: x + 5*float64(len(w.Text)), Y1: y + 10}
			} else {
				w.Box = box()
			}
			p.Words = append(p.Words, w)
		}
		for range b[1] % 32 {
			p.Rules = append(p.Rules, page.Rule{Box: box()})
		}
		out = append(out, p)
	}
	return out
}

// letters counts what must not get lost: every character but blanks, and hyphens at which words are divided.
func letters(texts ...string) map[rune]int {
	count := map[rune]int{}
	for _, s := range texts {
		for _, r := range s {
			if !strings.ContainsRune(" \t-", r) {
				count[r]++
			}
		}
	}
	return count
}

// Whatever the pages hold, no character is lost or doubled, and offsets, cells and tables fit the text.
func FuzzLayout(f *testing.F) {
	f.Add([]byte{12, 0, 0, 0, 2, 0, 10, 10, 3, 0, 40, 10, 4, 0, 10, 14, 0, 0, 10, 20, 1, 0, 20, 20, 1, 0, 30, 20, 1, 0, 40, 20})
	f.Add([]byte{30, 9, 1, 1, 0xff, 0xff, 0xff, 0xff, 3, 3, 3, 33, 33, 33, 33})
	f.Add([]byte(strings.Repeat("\x20\x00a page of words", 20)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 4000 {
			return
		}
		in := pagesFrom(data)
		var before []string
		for _, p := range in {
			for _, w := range p.Words {
				before = append(before, w.Text)
			}
		}
		doc := layout.Layout(in)
		var after []string
		for i, l := range append(doc.Lines[:len(doc.Lines):len(doc.Lines)], doc.Running...) {
			after = append(after, l.Text)
			checkLine(t, doc, l, i < len(doc.Lines))
		}
		want, got := letters(before...), letters(after...)
		for r, n := range want {
			if got[r] != n {
				t.Errorf("%q occurs %d times before and %d times after", r, n, got[r])
			}
		}
		for _, p := range in {
			for _, w := range p.Words {
				if w.Text == "hyphen" {
					t.Error("a word of the page was changed")
				}
			}
		}
	})
}

func checkLine(t *testing.T, doc layout.Document, l layout.Line, body bool) {
	t.Helper()
	if len(l.Cells) == 0 || len(l.Words) == 0 {
		t.Fatalf("line %q has %d cells and %d words", l.Text, len(l.Cells), len(l.Words))
	}
	for _, w := range l.Words {
		if w.Start < 0 || w.End > len(l.Text) || l.Text[w.Start:w.End] != w.Text {
			t.Errorf("word %q is not at %d:%d of %q", w.Text, w.Start, w.End, l.Text)
		}
	}
	for i, c := range l.Cells {
		if c.Text != l.Text[c.Start:c.End] || c.Span < 1 || c.Down < 1 || i > 0 && l.Cells[i-1].End+1 != c.Start {
			t.Errorf("cell %+v does not fit %q", c, l.Text)
		}
	}
	if body && l.Table >= 0 {
		if r := doc.Tables[l.Table].Rows[l.Row]; doc.Lines[r.Line].Text != l.Text {
			t.Errorf("row %d of table %d is another line", l.Row, l.Table)
		}
	}
	l.Where(0, len(l.Text))
}
