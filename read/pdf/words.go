package pdf

import (
	"math"
	"strings"
	"unicode"

	"github.com/samyfodil/wazy/api"

	"sixteen/read/page"
	"sixteen/sheet"
)

// style is what the characters of one text object of the page share.
type style struct {
	size   float64
	angle  int     // 0, 90, 180, 270 degrees counterclockwise as shown; -1 when slanted
	bx, by float64 // a point of the baseline, as shown
	font   font
	bold   bool
	hidden bool // drawn in no colour at all
}

// font is what the name and flags of a font tell.
type font struct {
	bold   bool
	symbol bool // its characters lie in the private use area with the codes of the Symbol font
}

// textReader turns the characters of one page into words.
type textReader struct {
	in     *instance
	text   uint64 // FPDF_TEXTPAGE
	g      geometry
	styles map[uint64]*style
	fonts  map[uint64]font
	keep   bool // hidden text is the recognised text of a scan
	words  []page.Word

	// the word being built
	runes      []rune
	box        sheet.Rect // around the glyphs
	style      *style
	end        float64 // where the last character ends, along the reading direction
	boldRunes  int
	confidence float64
}

// readWords reads the words of a page in the order of the file. Hidden text is kept when the page is a scan.
func (d *Document) readWords(handle uint64, g geometry, scanned bool) []page.Word {
	in := d.in
	t := &textReader{in: in, g: g, keep: scanned, styles: make(map[uint64]*style), fonts: make(map[uint64]font)}
	t.text = in.long(d.ctx, "FPDFText_LoadPage", handle)
	if t.text == 0 {
		return nil
	}
	defer in.call("FPDFText_ClosePage", t.text)
	n := in.int("FPDFText_CountChars", t.text)
	unicodeOf, boxOf, objectOf := in.function("FPDFText_GetUnicode"), in.function("FPDFText_GetCharBox"), in.function("FPDFText_GetTextObject")
	var last uint64
	var st *style
	for i := 0; i < n && in.failed == nil; i++ {
		r := rune(in.invoke(unicodeOf, t.text, uint64(i)))
		if t.separates(r) {
			continue
		}
		object := in.invoke(objectOf, t.text, uint64(i))
		if object != last || st == nil {
			st, last = t.styleOf(object, i), object
		}
		t.add(r, i, st, t.charBox(boxOf, i))
	}
	t.finish(false)
	return withoutDoubles(t.words)
}

// separates tells whether r stands between words or is nothing, and ends the word where it does.
func (t *textReader) separates(r rune) bool {
	switch {
	case r == 0 || r == 0x200b || r == 0xfeff:
	case r == '\r' || r == '\n':
		t.finish(false)
	case r == ' ' || r == '\t' || r == 0xa0 || r == 0x3000 || r == 0x202f || r >= 0x2000 && r <= 0x200a:
		t.finish(true)
	default:
		return r < ' ' && r != hyphenMark
	}
	return true
}

// hyphenMark is what PDFium returns for a hyphen at the end of a line.
const hyphenMark = 0x02

func (t *textReader) charBox(boxOf api.Function, i int) sheet.Rect {
	in := t.in
	in.invoke(boxOf, t.text, uint64(i), in.out(0), in.out(1), in.out(2), in.out(3)) // left, right, bottom, top
	var b [4]float64
	in.outDoubles(b[:])
	return t.g.rect(b[0], b[2], b[1], b[3])
}

// styleOf reads the style of the text object that character i belongs to.
func (t *textReader) styleOf(object uint64, i int) *style {
	if st := t.styles[object]; st != nil {
		return st
	}
	in, st := t.in, &style{}
	t.styles[object] = st
	in.call("FPDFText_GetMatrix", t.text, uint64(i), in.out(0))
	var m matrix
	in.outFloats(m[:])
	size := finite(math.Float64frombits(in.call("FPDFText_GetFontSize", t.text, uint64(i))))
	st.size = math.Abs(size) * math.Hypot(m[2], m[3])
	st.bx, st.by = t.g.point(m[4], m[5])
	ox, oy := t.g.point(0, 0)
	dx, dy := t.g.point(math.Copysign(1, size)*m[0], math.Copysign(1, size)*m[1])
	st.angle = quarter(dx-ox, dy-oy)
	st.font = t.fontOf(in.call("FPDFTextObj_GetFont", object))
	const fillStroke, invisible = 2, 3 // FPDF_TEXT_RENDERMODE, fpdf_edit.h
	mode := in.int("FPDFTextObj_GetTextRenderMode", object)
	st.bold = st.font.bold || mode == fillStroke
	st.hidden = mode == invisible
	return st
}

// quarter is the reading direction (dx, dy), as shown, in whole quarter turns; -1 when it is more than 10° off.
func quarter(dx, dy float64) int {
	a := math.Atan2(-dy, dx) * 180 / math.Pi
	q := math.Round(a / 90)
	if math.Abs(a-90*q) > 10 {
		return -1
	}
	return (int(q) + 4) % 4 * 90
}

func (t *textReader) fontOf(handle uint64) font {
	f, ok := t.fonts[handle]
	if ok || handle == 0 {
		return f
	}
	in := t.in
	n := min(in.int("FPDFFont_GetBaseFontName", handle, in.scratch, scratchSize), scratchSize)
	name := ""
	if b, ok := in.memory.Read(uint32(in.scratch), uint32(max(n-1, 0))); ok {
		name = strings.ToLower(string(b))
	}
	const forceBold = 1 << 18 // PDF 32000-1, table 123
	f.bold = in.int("FPDFFont_GetFlags", handle)&forceBold != 0
	for _, s := range []string{"bold", "black", "heavy", "-bd", "demi"} {
		f.bold = f.bold || strings.Contains(name, s)
	}
	f.symbol = strings.Contains(name, "symbol")
	t.fonts[handle] = f
	return f
}

// add puts character i at the end of the word, or begins a new word with it when it stands apart.
func (t *textReader) add(r rune, i int, st *style, box sheet.Rect) {
	if st.angle < 0 || st.hidden && !t.keep || !t.g.visible(box) {
		t.finish(false)
		return
	}
	from, to := along(st.angle, box)
	if len(t.runes) > 0 && t.apart(st, from) {
		t.finish(false)
	}
	if len(t.runes) == 0 {
		t.style, t.box, t.confidence = st, sheet.Rect{}, 1
		if t.in.int("FPDFText_HasUnicodeMapError", t.text, uint64(i)) == 1 {
			t.confidence = 0
		}
	}
	r, known := clean(r, st.font.symbol)
	if !known {
		t.confidence = 0
	}
	if s, ok := ligatures[r]; ok {
		t.runes = append(t.runes, s...)
	} else {
		t.runes = append(t.runes, r)
	}
	if st.bold {
		t.boldRunes++
	}
	if st.size > t.style.size {
		t.style = st
	}
	t.box = t.box.Union(box)
	t.end = to
}

// along is where a box begins and ends in the reading direction.
func along(angle int, r sheet.Rect) (from, to float64) {
	switch angle {
	case 90:
		return -r.Y1, -r.Y0
	case 180:
		return -r.X1, -r.X0
	case 270:
		return r.Y0, r.Y1
	}
	return r.X0, r.X1
}

// apart tells whether a character of style st beginning at from does not continue the word.
func (t *textReader) apart(st *style, from float64) bool {
	if st.angle != t.style.angle {
		return true
	}
	size := max(st.size, t.style.size, 1)
	across := math.Abs(st.by - t.style.by)
	if st.angle%180 != 0 {
		across = math.Abs(st.bx - t.style.bx)
	}
	gap := from - t.end
	return gap > 0.8*size || gap < -1.5*size || across > 0.6*size
}

// finish ends the word being built.
func (t *textReader) finish(space bool) {
	if len(t.runes) == 0 {
		if n := len(t.words); space && n > 0 {
			t.words[n-1].SpaceAfter = true
		}
		return
	}
	text := tidy(t.runes)
	if text != "" {
		t.words = append(t.words, page.Word{
			Text: text, Box: t.em(), Size: t.style.size, Bold: 2*t.boldRunes > len(t.runes), Angle: t.style.angle,
			Confidence: t.confidence, SpaceAfter: space,
		})
	}
	t.runes, t.boldRunes = t.runes[:0], 0
}

// em is the box of the word: around its glyphs along the line, and across it at least from below the baseline to the
// height of capitals, so that a full stop has the height of its line.
func (t *textReader) em() sheet.Rect {
	const ascent, descent, most = 0.72, 0.2, 1.3
	st, b := t.style, t.box
	up, down := ascent*st.size, descent*st.size
	limit := most * st.size
	switch st.angle {
	case 0:
		b.Y0, b.Y1 = max(min(b.Y0, st.by-up), st.by-limit), min(max(b.Y1, st.by+down), st.by+limit)
	case 180:
		b.Y0, b.Y1 = max(min(b.Y0, st.by-down), st.by-limit), min(max(b.Y1, st.by+up), st.by+limit)
	case 90:
		b.X0, b.X1 = max(min(b.X0, st.bx-up), st.bx-limit), min(max(b.X1, st.bx+down), st.bx+limit)
	case 270:
		b.X0, b.X1 = max(min(b.X0, st.bx-down), st.bx-limit), min(max(b.X1, st.bx+up), st.bx+limit)
	}
	return b
}

// ligatures are the Latin ligatures of the block Alphabetic Presentation Forms (Unicode, U+FB00 – U+FB06).
var ligatures = map[rune][]rune{
	'\ufb00': []rune("ff"), '\ufb01': []rune("fi"), '\ufb02': []rune("fl"), '\ufb03': []rune("ffi"), '\ufb04': []rune("ffl"),
	'\ufb05': []rune("st"), '\ufb06': []rune("st"),
}

// clean maps characters of the private use area that have a known meaning; known is false for those that have none.
func clean(r rune, symbol bool) (out rune, known bool) {
	switch {
	case r == hyphenMark || r == 0xfffe || r == 0x2010 || r == 0x2011:
		return '-', true
	case r >= 0xf020 && r <= 0xf0ff:
		if s, ok := symbolFont[byte(r)]; ok && symbol {
			return s, true
		}
		if bullets[byte(r)] {
			return '•', true
		}
		return r, false
	case symbol && symbolLatin[r] != 0:
		return symbolLatin[r], true
	case r == unicode.ReplacementChar || r >= 0xe000 && r <= 0xf8ff:
		return r, false
	}
	return r, true
}

// tidy makes the text of a word: a soft hyphen counts only at the end, where it has been drawn.
func tidy(runes []rune) string {
	var b strings.Builder
	for i, r := range runes {
		switch {
		case r == 0xad && i == len(runes)-1:
			b.WriteByte('-')
		case r == 0xad:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// withoutDoubles drops words drawn a second time over themselves, as some programs do to make them look bold.
func withoutDoubles(words []page.Word) []page.Word {
	seen := make(map[string][]int, len(words))
	out := words[:0]
next:
	for _, w := range words {
		for _, i := range seen[w.Text] {
			if covers(out[i].Box, w.Box) {
				out[i].Bold = true
				out[i].SpaceAfter = out[i].SpaceAfter || w.SpaceAfter
				continue next
			}
		}
		seen[w.Text] = append(seen[w.Text], len(out))
		out = append(out, w)
	}
	return out
}

// covers tells whether two boxes are at the same place but for a small shift.
func covers(a, b sheet.Rect) bool {
	w := min(a.X1, b.X1) - max(a.X0, b.X0)
	h := min(a.Y1, b.Y1) - max(a.Y0, b.Y0)
	return w > 0 && h > 0 && w*h > 0.6*max((a.X1-a.X0)*(a.Y1-a.Y0), (b.X1-b.X0)*(b.Y1-b.Y0))
}
