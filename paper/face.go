package paper

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
)

// cut is one of the three cuts of the type that papers are set in. The Go fonts have the letters of all languages
// carried, the signs of the trade (≥ ° µ ²), open forms that are told apart at small sizes, and a free licence.
type cut uint8

const (
	regular cut = iota
	bold
	italic
)

func fontData(c cut) []byte {
	return [...][]byte{goregular.TTF, gobold.TTF, goitalic.TTF}[c]
}

// xHeight is the height of a lower-case x of the type as a share of its letter size, measured in the font; ascent and
// descent are the share above and below the base line that no letter of the languages carried exceeds.
const (
	xHeight = 0.53
	ascent  = 0.96
	descent = 0.22
	leading = 1.28 // from base line to base line; Regulation (EU) 2024/2865 asks for at least 1.2
)

// face measures text. It is not safe for use by several goroutines.
type face struct {
	fonts  [3]*sfnt.Font
	widths [3]map[rune]float64
	buf    sfnt.Buffer
	subs   *strings.Replacer
	known  map[string]string // texts already written
	spans  [3]map[string]float64
}

func newFace() (*face, error) {
	f := &face{subs: substitutes(), known: map[string]string{}}
	for c := range f.fonts {
		parsed, err := sfnt.Parse(fontData(cut(c)))
		if err != nil {
			return nil, fmt.Errorf("font: %w", err)
		}
		f.fonts[c], f.widths[c], f.spans[c] = parsed, map[rune]float64{}, map[string]float64{}
	}
	return f, nil
}

// has tells whether the type has a letter.
func (f *face) has(c cut, r rune) bool {
	g, err := f.fonts[c].GlyphIndex(&f.buf, r)
	return err == nil && g != 0
}

// advance is the width of a letter in a size of 1.
func (f *face) advance(c cut, r rune) float64 {
	if w, ok := f.widths[c][r]; ok {
		return w
	}
	const ppem = 2048
	w := 0.0
	if g, err := f.fonts[c].GlyphIndex(&f.buf, r); err == nil {
		if a, err := f.fonts[c].GlyphAdvance(&f.buf, g, fixed.I(ppem), font.HintingNone); err == nil {
			w = float64(a) / 64 / ppem
		}
	}
	f.widths[c][r] = w
	return w
}

// width is the width of a text in points.
func (f *face) width(c cut, size float64, s string) float64 {
	w, ok := f.spans[c][s]
	if !ok {
		for _, r := range s {
			w += f.advance(c, r)
		}
		f.spans[c][s] = w
	}
	return w * size
}

// substitutes are signs that the type lacks, in letters that it has.
func substitutes() *strings.Replacer {
	return strings.NewReplacer("\u2011", "-", "\u2010", "-", "\u202f", "\u00a0", "\u2009", "\u00a0", "\u200b", "", "\u00ad", "", "\ufeff", "",
		"\u2060", "", "✓", "√", "✔", "√", "✗", "×", "✘", "×", "⁻", "-", "₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
		"⩽", "≤", "⩾", "≥", "≦", "≤", "≧", "≥", "μ", "µ", "℃", "°C", "ﬁ", "fi", "ﬂ", "fl", "\t", " ", "\r", "")
}

// written is a text in letters the type has. A letter that it lacks is written as its number, so that nothing is lost
// without being seen.
func (f *face) written(s string) string {
	if w, ok := f.known[s]; ok {
		return w
	}
	asked := s
	s = f.subs.Replace(norm.NFC.String(s))
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\n':
			b.WriteRune(r)
		case unicode.IsControl(r) || r > 0xffff && unicode.Is(unicode.Mn, r):
		case f.has(regular, r) && f.has(bold, r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "[U+%04X]", r)
		}
	}
	f.known[asked] = b.String()
	return b.String()
}
