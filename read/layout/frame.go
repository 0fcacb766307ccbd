package layout

import (
	"slices"
	"unicode"
	"unicode/utf8"

	"sixteen/read/page"
	"sixteen/sheet"
)

// token is a word with its box in the frame in which its text is upright; page.Word.Box stays that of the page as shown.
// The word is the caller's: what changes it, changes a copy.
type token struct {
	*page.Word
	up   sheet.Rect
	page int
	wide float64 // by how much the letters of the word are set apart
	dash bool    // the next word goes on with this one
	tail bool    // the second half of a word, moved up from the next line
}

func (t token) mid() float64    { return (t.up.Y0 + t.up.Y1) / 2 }
func (t token) center() float64 { return (t.up.X0 + t.up.X1) / 2 }

// turned is r of a page of width w and height h, in the frame that makes text of the given angle upright.
func turned(r sheet.Rect, angle int, w, h float64) sheet.Rect {
	switch angle {
	case 90:
		return sheet.Rect{X0: h - r.Y1, Y0: r.X0, X1: h - r.Y0, Y1: r.X1}
	case 180:
		return sheet.Rect{X0: w - r.X1, Y0: h - r.Y1, X1: w - r.X0, Y1: h - r.Y0}
	case 270:
		return sheet.Rect{X0: r.Y0, Y0: w - r.X1, X1: r.Y1, Y1: w - r.X0}
	}
	return r
}

// frame is the content of a page with one reading direction, turned upright.
type frame struct {
	angle         int
	width, height float64
	tokens        []token
	across        []sheet.Rect // horizontal rules
	down          []sheet.Rect // vertical rules
}

// mostRules bounds the rules looked at on a page: a drawing may have any number of strokes.
const mostRules = 3000

// frames divides a page by reading direction. The first has most of the text; only it has the rules.
func frames(p page.Page) []frame {
	count := map[int]int{}
	for _, w := range p.Words {
		count[w.Angle] += len(w.Text)
	}
	angles := make([]int, 0, len(count))
	for a := range count {
		angles = append(angles, a)
	}
	slices.SortFunc(angles, func(a, b int) int {
		if count[a] != count[b] {
			return count[b] - count[a]
		}
		return a - b
	})
	out := make([]frame, len(angles))
	for i, a := range angles {
		f := &out[i]
		*f = frame{angle: a, width: p.Width, height: p.Height, tokens: make([]token, 0, len(p.Words))}
		if a%180 == 90 {
			f.width, f.height = p.Height, p.Width
		}
		for j := range p.Words {
			if w := &p.Words[j]; w.Angle == a && w.Text != "" {
				f.tokens = append(f.tokens, token{Word: w, up: turned(w.Box, a, p.Width, p.Height), page: p.Number})
			}
		}
	}
	if len(out) > 0 {
		for _, r := range p.Rules[:min(len(p.Rules), mostRules)] {
			b := turned(r.Box, out[0].angle, p.Width, p.Height)
			if b.X1-b.X0 >= b.Y1-b.Y0 {
				out[0].across = append(out[0].across, b)
			} else {
				out[0].down = append(out[0].down, b)
			}
		}
	}
	return out
}

// seg is a run of words of one printed line without a wide gap.
type seg struct {
	tokens []token
	x0, x1 float64
}

// text joins the words with single blanks.
func (s seg) text() string {
	n := 0
	for _, t := range s.tokens {
		n += len(t.Text) + 1
	}
	b := make([]byte, 0, n)
	for i, t := range s.tokens {
		if i > 0 && !glued(s.tokens[i-1], t) {
			b = append(b, ' ')
		}
		b = append(b, t.Text...)
	}
	return string(b)
}

// glued tells whether b continues the word a: no blank was written between them and none is seen.
func glued(a, b token) bool {
	gap := b.up.X0 - a.up.X1
	return !a.SpaceAfter && gap < 0.12*max(a.Size, 1) && gap > -0.5*max(a.Size, 1) && a.page == b.page && a.up.Y0 < b.up.Y1 && b.up.Y0 < a.up.Y1
}

// printed is one printed line: segments from left to right.
type printed struct {
	segs   []seg
	y0, y1 float64
	size   float64 // of most of its words
}

func (l printed) mid() float64 { return (l.y0 + l.y1) / 2 }
func (l printed) x0() float64  { return l.segs[0].x0 }
func (l printed) x1() float64  { return l.segs[len(l.segs)-1].x1 }

// printedLines groups the words into printed lines, top down, and divides them at wide gaps and at vertical rules.
func printedLines(tokens []token, down []sheet.Rect) []printed {
	sorted := slices.Clone(tokens)
	slices.SortStableFunc(sorted, func(a, b token) int { return compareFloat(a.mid(), b.mid()) })
	var out []printed
	for from := 0; from < len(sorted); {
		to := from + 1
		first := sorted[from]
		at, n := first.mid(), 1.0
		for to < len(sorted) && sorted[to].mid()-at < 0.4*max(min(first.Size, sorted[to].Size), 2) {
			at, n = (at*n+sorted[to].mid())/(n+1), n+1
			to++
		}
		line := sorted[from:to:to]
		slices.SortStableFunc(line, func(a, b token) int { return compareFloat(a.up.X0, b.up.X0) })
		out = append(out, divided(joinSpaced(line), down))
		from = to
	}
	return out
}

// divided makes a printed line of words from left to right.
func divided(line []token, down []sheet.Rect) printed {
	l := printed{y0: line[0].up.Y0, y1: line[0].up.Y1, size: line[0].Size}
	wide := wideGap(line)
	from := 0
	for i, t := range line {
		l.y0, l.y1 = min(l.y0, t.up.Y0), max(l.y1, t.up.Y1)
		if i > from && (t.up.X0-line[i-1].up.X1-2*max(t.wide, line[i-1].wide) > wide*max(t.Size, line[i-1].Size, 4) || ruleBetween(line[i-1], t, down)) {
			l.segs = append(l.segs, newSeg(line[from:i:i]))
			from = i
		}
	}
	l.segs = append(l.segs, newSeg(line[from:]))
	return l
}

func newSeg(tokens []token) seg {
	s := seg{tokens, tokens[0].up.X0, tokens[0].up.X1}
	for _, t := range tokens {
		s.x1 = max(s.x1, t.up.X1)
	}
	return s
}

// wideGap is the gap, in font sizes, that divides a line: about four blanks, more in a justified line.
func wideGap(line []token) float64 {
	const usual, least = 1.0, 0.45
	var gaps []float64
	for i := 1; i < len(line); i++ {
		if g := (line[i].up.X0 - line[i-1].up.X1) / max(line[i].Size, 4); g < 2.5 {
			gaps = append(gaps, g)
		}
	}
	if len(gaps) < 4 {
		return usual
	}
	slices.Sort(gaps)
	if m := gaps[len(gaps)/2]; m > least {
		return max(usual, 1.8*m)
	}
	return usual
}

// ruleBetween tells whether a vertical rule passes between two words of a line.
func ruleBetween(a, b token, down []sheet.Rect) bool {
	y := a.mid()
	for _, r := range down {
		if x := (r.X0 + r.X1) / 2; r.Y0 <= y && y <= r.Y1 && x > a.center() && x < b.center() && x > a.up.X1-1.5 && x < b.up.X0+1.5 {
			return true
		}
	}
	return false
}

// joinSpaced joins letters set apart for emphasis ("S E C T I O N  1") to words. line is from left to right.
func joinSpaced(line []token) []token {
	const fewest = 4
	var out []token
	for i := 0; i < len(line); {
		n := spacedRun(line[i:])
		if n < fewest {
			if out != nil {
				out = append(out, line[i])
			}
			i++
			continue
		}
		if out == nil {
			out = append(make([]token, 0, len(line)), line[:i]...)
		}
		out = append(out, joinRun(line[i:i+n])...)
		i += n
	}
	if out == nil {
		return line
	}
	return out
}

// spacedRun is the length of the run of single characters with small gaps that line begins with, or 0 when it has too
// few letters to be a word set apart.
func spacedRun(line []token) int {
	n, letters := 0, 0
	for n < len(line) {
		r, size := utf8.DecodeRuneInString(line[n].Text)
		if size != len(line[n].Text) || n > 0 && line[n].up.X0-line[n-1].up.X1 > 1.6*max(line[n].Size, 4) {
			break
		}
		if unicode.IsLetter(r) {
			letters++
		}
		n++
	}
	if letters < 3 || 2*letters < n {
		return 0
	}
	return n
}

// joinRun joins single characters; where the gap is clearly wider than usual in the run, a new word begins.
func joinRun(run []token) []token {
	gaps := make([]float64, 0, len(run))
	for i := 1; i < len(run); i++ {
		gaps = append(gaps, run[i].up.X0-run[i-1].up.X1)
	}
	sorted := slices.Clone(gaps)
	slices.Sort(sorted)
	usual := max(sorted[len(sorted)/2], 0.5)
	out := []token{run[0].own()}
	out[0].wide = usual
	for i, t := range run[1:] {
		last := &out[len(out)-1]
		if gaps[i] > 1.7*usual {
			last.SpaceAfter = true
			t = t.own()
			t.wide = usual
			out = append(out, t)
			continue
		}
		if last.Was != "" || t.Was != "" {
			last.Was = last.Recognised() + t.Recognised()
		}
		last.Text += t.Text
		last.Box, last.up = last.Box.Union(t.Box), last.up.Union(t.up)
		last.Confidence = min(last.Confidence, t.Confidence)
		last.SpaceAfter = t.SpaceAfter
	}
	return out
}

// own is the token with a word of its own, to be changed.
func (t token) own() token {
	w := *t.Word
	t.Word = &w
	return t
}

func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
