package paper

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// LabelKind is who a label is for.
type LabelKind uint8

// Kinds of label.
const (
	WorkplaceLabel LabelKind = iota // on a container that was filled at work
	SupplierLabel                   // on a container that is sold
)

// LabelOptions are what a label needs to know beside the product. Langs are the languages printed, one or two; where the
// law wants two (Canada) the second is added.
type LabelOptions struct {
	Kind     LabelKind
	Size     LabelSize
	Langs    []ghs.Lang
	Litres   float64 // capacity of the container, 0 for a jar of up to half a litre
	Decanted time.Time
	By       string
	Quantity string // nominal quantity, of a supplier label for the public
}

// Label is a label ready to print. LeftOff says in words what may be left off and was, for lack of room.
type Label struct {
	Drawing
	Product  string
	Size     LabelSize
	Langs    []ghs.Lang
	LetterPT float64
	DiamondM float64 // edge of the pictograms, mm
	Minimum  Minimum
	LeftOff  []string
}

// languages are the languages of a label: Canada wants English and French (SOR/2015-17 s. 6.2, from memory).
func (o LabelOptions) languages(rs ghs.RuleSet) []ghs.Lang {
	out := slices.Clone(o.Langs)
	if len(out) == 0 {
		out = []ghs.Lang{ghs.English}
	}
	if rs == ghs.CAHPR {
		for _, l := range []ghs.Lang{ghs.English, ghs.French} {
			if !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return slices.Compact(out)
}

// ErrHazardsNotStated is returned for a supplier label of a product whose hazards nobody stated.
var ErrHazardsNotStated = fmt.Errorf("nothing states the hazards of the product, so a supplier label cannot be made: classify it first")

// Label sets a label. It fails with *NoRoom when the words do not fit at the least letter and pictogram size, and names
// the next size offered on which they do.
func (p Product) Label(o LabelOptions) (*Label, error) {
	if o.Kind == SupplierLabel && p.Hazards.Empty() && p.State != sheet.NoneStated {
		return nil, ErrHazardsNotStated
	}
	f, err := newFace()
	if err != nil {
		return nil, err
	}
	l, why, err := p.label(f, o)
	if err != nil || l != nil {
		return l, err
	}
	fail := &NoRoom{Size: o.Size, Why: why}
	for _, s := range o.Size.larger() {
		bigger := o
		bigger.Size = s
		if l, _, err := p.label(f, bigger); err == nil && l != nil {
			fail.Next = s
			break
		}
	}
	return nil, fail
}

// label tries one size; a nil label with a reason means that it has no room.
func (p Product) label(f *face, o LabelOptions) (*Label, string, error) {
	m := MinimumFor(p.RuleSet, o.Litres)
	if o.Kind == SupplierLabel && !m.IfPossible && !o.Size.holds(m.Label) {
		return nil, fmt.Sprintf("%s asks for at least %s mm at this capacity", m.Clause, m.Label), nil
	}
	why := ""
	for _, drop := range p.drops(o) {
		c, err := p.labelContent(o, drop)
		if err != nil {
			return nil, "", err
		}
		var l *Label
		if l, why = c.best(f, m); l != nil {
			l.LeftOff = drop.words
			return l, "", nil
		}
	}
	return nil, why, nil
}

// drop is what may be left off for lack of room, more from step to step.
type drop struct {
	qr, what bool
	free     []ghs.Code // statements that the law lets off
	words    []string
}

// drops lists what may be left off, step by step.
func (p Product) drops(o LabelOptions) []drop {
	out := []drop{{}}
	add := func(set func(*drop), words string) {
		d := out[len(out)-1]
		d.words = append(slices.Clone(d.words), words)
		set(&d)
		out = append(out, d)
	}
	if p.Link != "" {
		add(func(d *drop) { d.qr = true }, "the QR code")
	}
	if o.Kind == WorkplaceLabel && (p.What != "" || p.Emergency != "") {
		add(func(d *drop) { d.what = true }, "what it is for and the telephone number")
	}
	free, clause := p.relieved(o)
	base := out[len(out)-1]
	for i := range free {
		d := base
		d.free = free[:i+1]
		d.words = append(slices.Clone(base.words), fmt.Sprintf("statements that the law lets off small containers (%s): %s", clause, codeList(d.free)))
		out = append(out, d)
	}
	return out
}

func codeList(codes []ghs.Code) string {
	var out []string
	for _, c := range codes {
		out = append(out, string(c))
	}
	return strings.Join(out, ", ")
}

// relieved lists the statements of the label that the law lets off a container of this capacity, in the order in which
// they are left off: precautions first, then hazards, the mildest first.
func (p Product) relieved(o LabelOptions) ([]ghs.Code, string) {
	if o.Litres <= 0 || o.Litres > 0.125 {
		return nil, ""
	}
	small := classify.Label(p.Hazards, p.RuleSet, classify.LabelOptions{Millilitres: o.Litres * 1000})
	hazards, cautions := p.statements(o)
	clause := ""
	harm := map[ghs.Code]audit.Harm{}
	free := func(list []classify.LabelElement[ghs.Code], printed []ghs.Code) []ghs.Code {
		var out []ghs.Code
		for _, e := range list {
			if e.Need != classify.Optional || e.Why != "small package" || !slices.Contains(printed, e.Value) {
				continue
			}
			clause = e.Clause
			out = append(out, e.Value)
			harm[e.Value] = audit.HarmPaper
			for _, h := range e.From {
				harm[e.Value] = min(harm[e.Value], audit.HarmOf(h))
			}
		}
		slices.Reverse(out)
		slices.SortStableFunc(out, func(a, b ghs.Code) int { return cmp.Compare(harm[b], harm[a]) })
		return out
	}
	return append(free(small.Precautionary, cautions), free(small.Hazard, hazards)...), clause
}

// statements are the hazard and precautionary statements of a label with room for them.
func (p Product) statements(o LabelOptions) (hazards, cautions []ghs.Code) {
	hazards, cautions = p.Elements.PrintedStatements(), p.firstTwo()
	if o.Kind == SupplierLabel {
		cautions = p.Elements.Short
		if p.Elements.ShortClause == "" {
			cautions = p.Elements.PrintedPrecautions()
		}
	}
	return hazards, cautions
}

// para is one paragraph of a label.
type para struct {
	text string
	bold bool
	lang ghs.Lang
	gap  bool // some space above it
}

// labelContent is everything that stands on a label.
type labelContent struct {
	o          LabelOptions
	langs      []ghs.Lang
	name       string
	under      string // below the name
	underLang  ghs.Lang
	signal     string
	pictograms []ghs.Pictogram
	body, foot []para
	qr         *Drawing
}

func (p Product) labelContent(o LabelOptions, d drop) (labelContent, error) {
	c := labelContent{o: o, langs: o.languages(p.RuleSet), name: p.Name, pictograms: p.Elements.PrintedPictograms()}
	if p.Code != "" && o.Kind == SupplierLabel && !strings.Contains(p.Name, p.Code) {
		c.name += " (" + p.Code + ")"
	}
	if o.Kind == WorkplaceLabel && !d.what {
		c.under, c.underLang = p.What, p.WhatLang
	}
	var signals []string
	for _, l := range c.langs {
		if w := strings.ToUpper(p.Elements.SignalWord.Value.In(l)); w != "" && !slices.Contains(signals, w) {
			signals = append(signals, w)
		}
	}
	c.signal = strings.Join(signals, " / ")
	for i, l := range c.langs {
		c.body = append(c.body, p.bodyOf(o, d, l, i > 0)...)
	}
	c.foot = p.footOf(o, d, c.langs)
	if p.Link != "" && !d.qr {
		code, err := qrDrawing(p.Link)
		if err != nil {
			return c, err
		}
		c.qr = code
	}
	return c, nil
}

// bodyOf is the statements of a label in one language.
func (p Product) bodyOf(o LabelOptions, d drop, l ghs.Lang, gap bool) []para {
	hazard, caution := p.statements(o)
	without := func(list []ghs.Code) []ghs.Code {
		return slices.DeleteFunc(slices.Clone(list), func(c ghs.Code) bool { return slices.Contains(d.free, c) })
	}
	hazard, caution = without(hazard), without(caution)
	var out []para
	add := func(bold bool, text string) {
		if text != "" {
			out = append(out, para{text, bold, l, gap && len(out) == 0})
		}
	}
	switch {
	case p.Hazards.Empty() && p.State == sheet.NoneStated:
		add(false, word("not-classified", l))
	case p.Hazards.Empty():
		add(true, word("hazards-unknown", l))
	}
	if o.Kind == SupplierLabel && len(p.Contains) > 0 {
		add(false, word("contains", l, strings.Join(p.Contains, ", ")))
	}
	add(true, strings.Join(p.say(hazard, l), " "))
	for _, u := range p.Unknown {
		add(false, word("unknown-toxicity", l, fmt.Sprintf("%.0f", math.Ceil(u.Percent))))
	}
	add(false, strings.Join(p.say(caution, l), " "))
	return out
}

// footOf is the lines at the bottom of a label.
func (p Product) footOf(o LabelOptions, d drop, langs []ghs.Lang) []para {
	both := func(key string, values ...string) string {
		var out []string
		for _, l := range langs {
			if w := word(key, l, values...); !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
		return strings.Join(out, " / ")
	}
	first := langs[0]
	if o.Kind == SupplierLabel {
		var out []para
		if q := cmp.Or(o.Quantity, p.Quantity); q != "" {
			out = append(out, para{text: q, lang: first})
		}
		if p.UFI != "" {
			out = append(out, para{text: "UFI: " + p.UFI, lang: first})
		}
		s := p.Supplier
		text := strings.Join(slices.DeleteFunc([]string{s.Name, strings.ReplaceAll(s.Address, "\n", ", "), s.Phone}, func(s string) bool { return s == "" }), ", ")
		return append(out, para{text: text, lang: first})
	}
	out := []para{{text: both("see-sheet"), lang: first}}
	if p.Emergency != "" && !d.what {
		out = append(out, para{text: both("emergency") + ": " + p.Emergency, lang: first})
	}
	blank := func(s string) string {
		if s == "" {
			return strings.Repeat("_", 10)
		}
		return s
	}
	return append(out, para{text: both("decanted") + ": " + blank(dateText(o.Decanted)) + "   " + both("by") + ": " + blank(o.By), lang: first})
}

// arrangement is where the pictograms stand.
type arrangement uint8

// Arrangements. Staggered diamonds fill each other's gaps.
const (
	columnBeside    arrangement = iota // one below the other, the words to their right
	staggeredBeside                    // the same in two columns shifted by half
	rowWithSignal                      // in a row, the signal word to its right, the words below
	rowAbove                           // in rows, everything else below
	staggeredAbove                     // in two rows shifted by half
)

// best is the label with the largest letters that fit, and pictograms that use the room left; nil with the reason when
// not even the least sizes fit.
func (c labelContent) best(f *face, m Minimum) (*Label, string) {
	short := min(c.o.Size.WidthMM, c.o.Size.HeightMM)
	least := m.minLetter()
	most := max(min(max(short*0.165, 7), 15), least)
	var best *labelSetter
	why := ""
	for _, side := range []float64{m.wantedPictogram(), m.minPictogram()} {
		for a := columnBeside; a <= staggeredAbove; a++ {
			s := c.largest(f, a, side, least, most)
			if s.why == "" && (best == nil || s.letter > best.letter+0.3) {
				best = &s
			} else if why == "" || s.why == "the statements do not fit" {
				why = s.why
			}
		}
		if best != nil {
			grown := best.grown(short)
			return grown.label(m), ""
		}
	}
	return nil, why
}

// largest finds the largest letters that fit in an arrangement, to a tenth of a point; its reason is not empty when
// not even the least do.
func (c labelContent) largest(f *face, a arrangement, side, least, most float64) labelSetter {
	try := func(letter float64) labelSetter {
		s := labelSetter{face: f, c: c, letter: letter, side: side, a: a}
		s.why = s.set()
		return s
	}
	if s := try(most); s.why == "" {
		return s
	}
	best := try(least)
	for lo, hi := least, most; best.why == "" && hi-lo > 0.1; {
		mid := (lo + hi) / 2
		if s := try(mid); s.why == "" {
			best, lo = s, mid
		} else {
			hi = mid
		}
	}
	return best
}

// grown makes the pictograms larger as long as everything fits.
func (s labelSetter) grown(short float64) labelSetter {
	for side := s.side * 1.08; side*math.Sqrt2 <= short*MM*0.36; side *= 1.08 {
		g := labelSetter{face: s.face, c: s.c, letter: s.letter, side: side, a: s.a}
		if g.set() != "" {
			break
		}
		s = g
	}
	return s
}

// labelSetter sets one label at one letter and pictogram size.
type labelSetter struct {
	face   *face
	c      labelContent
	letter float64
	side   float64
	a      arrangement
	marks  []Mark
	last   []Mark // the lines at the bottom, which are read last
	w, h   float64
	margin float64
	y      float64
	why    string // "" when everything fits
}

// label is the finished label; only now the pictograms are drawn in their places.
func (s *labelSetter) label(m Minimum) *Label {
	next := 0
	for i, mark := range s.marks {
		if g, ok := mark.(Group); ok && g.Role == FigureRole && g.Marks == nil {
			s.marks[i] = symbol(s.c.pictograms[next], g.Frame.X, g.Frame.Y, g.Frame.W, s.c.langs[0])
			next++
		}
	}
	return &Label{
		Drawing: Drawing{Width: s.w, Height: s.h, Marks: s.marks}, Product: s.c.name, Size: s.c.o.Size, Langs: s.c.langs,
		LetterPT: s.letter, DiamondM: s.side / MM, Minimum: m,
	}
}

// set lays the label out and returns "" or the reason why it does not fit.
func (s *labelSetter) set() string {
	s.w, s.h = s.c.o.Size.WidthMM*MM, s.c.o.Size.HeightMM*MM
	s.margin = min(max(min(s.w, s.h)*0.045, 1.7*MM), 5*MM)
	s.marks = []Mark{framed(0, 0, s.w, s.h, 0.5, black)}
	s.y = s.margin
	inner := s.w - 2*s.margin
	if why := s.text(s.margin, inner, s.nameSize(inner), para{text: s.c.name, bold: true}, TitleRole); why != "" {
		return why
	}
	if s.c.under != "" {
		if why := s.text(s.margin, inner, s.letter, para{text: s.c.under, lang: s.c.underLang}, ParagraphRole); why != "" {
			return why
		}
	}
	s.y += s.letter * 0.25
	s.marks = append(s.marks, stroke(s.margin, s.y, s.w-s.margin, s.y, 0.6, black))
	s.y += s.letter * 0.45
	bottom, why := s.foot(inner)
	if why != "" {
		return why
	}
	why = s.middle(inner, bottom)
	s.marks = append(s.marks, s.last...)
	return why
}

// nameSize is the letter size of the name: on larger labels as large as one line holds.
func (s *labelSetter) nameSize(inner float64) float64 {
	usual := s.letter * 1.5
	large := min(s.w, s.h) / MM * 0.2
	if w := s.face.width(bold, 1, s.c.name); w*large <= inner && large > usual {
		return large
	}
	return usual
}

// text sets a paragraph at the current height and moves below it.
func (s *labelSetter) text(x, width, size float64, p para, role Role) string {
	weight := Plain(p.text)
	if p.bold {
		weight = Strong(p.text)
	}
	if long := s.widest(weight, size); long > width+0.01 {
		return "a word is wider than the label"
	}
	lines := s.face.wrap(weight, size, width)
	g := Group{Role: role, Lang: p.lang, Frame: Frame{x, s.y, width, float64(len(lines)) * size * leading}}
	for i, l := range lines {
		for _, r := range l.runs {
			g.Marks = append(g.Marks, Words{X: x + r.x, Y: s.y + size*ascent + float64(i)*size*leading, Size: size, Bold: r.cut == bold, Text: r.text})
		}
	}
	s.marks = append(s.marks, g)
	s.y += g.Frame.H
	return ""
}

// widest is the width of the widest word of a text.
func (s *labelSetter) widest(t Text, size float64) float64 {
	w := 0.0
	for _, tok := range t.words(s.face) {
		sum := 0.0
		for _, p := range tok.pieces {
			if utf8.RuneCountInString(p.text) <= 30 { // addresses may be broken
				sum += s.face.width(p.cut, size, p.text)
			}
		}
		w = max(w, sum)
	}
	return w
}

// foot sets the lines at the bottom and returns where they begin.
func (s *labelSetter) foot(inner float64) (float64, string) {
	width, square := inner, 0.0
	if s.c.qr != nil {
		square = max(s.c.qr.Width*0.4*MM, 15*MM)
		width -= square + 1.5*MM
	}
	start := s.y
	probe := *s
	probe.marks, probe.y = nil, 0
	for _, p := range s.c.foot {
		if why := probe.text(s.margin, width, s.letter, p, ParagraphRole); why != "" {
			return 0, why
		}
	}
	height := max(probe.y, square)
	top := s.h - s.margin - height
	if top < start {
		return 0, "the lines at the bottom do not fit"
	}
	s.last = moved(probe.marks, 0, s.h-s.margin-probe.y, 1)
	if s.c.qr != nil {
		x, y := s.w-s.margin-square, s.h-s.margin-square
		s.last = append(s.last, Group{Role: FigureRole, Alt: "QR", Frame: Frame{x, y, square, square}, Marks: moved(s.c.qr.Marks, x, y, square/s.c.qr.Width)})
	}
	return top - s.letter*0.5, ""
}

// gap is the white between pictograms.
const gap = 0.4 * MM

// places are where the pictograms stand from the top left of their block, and the size of the block.
func (s *labelSetter) places(square, width float64) (at []Point, w, h float64) {
	half := square/2 + gap*0.7
	perRow := max(1, int((width+gap)/(square+gap)))
	for i := range s.c.pictograms {
		k := float64(i)
		odd := float64(i % 2)
		var p Point
		switch s.a {
		case columnBeside:
			p = Point{0, k * (square + gap)}
		case staggeredBeside:
			p = Point{odd * half, k * half}
		case staggeredAbove:
			p = Point{k * half, odd * half}
		default:
			p = Point{float64(i%perRow) * (square + gap), float64(i/perRow) * (square + gap)}
		}
		at = append(at, p)
		w, h = max(w, p.X+square), max(h, p.Y+square)
	}
	return at, w, h
}

// middle sets pictograms, signal word and statements between the current height and bottom.
func (s *labelSetter) middle(inner, bottom float64) string {
	square := s.side * math.Sqrt2
	x, width, top := s.margin, inner, s.y
	at, w, h := s.places(square, inner)
	if w > inner || top+h > bottom {
		return "the pictograms do not fit"
	}
	for i, g := range s.c.pictograms {
		s.marks = append(s.marks, Group{Role: FigureRole, Alt: g.Name(s.c.langs[0]), Frame: Frame{x + at[i].X, top + at[i].Y, square, square}})
	}
	signalSize := s.letter * 1.45
	switch {
	case len(at) == 0:
	case s.a == columnBeside || s.a == staggeredBeside:
		x, width = x+w+1.6*MM, width-w-1.6*MM
		if width < 18*MM {
			return "the column of words is too narrow"
		}
	case s.a == rowWithSignal:
		s.y = top + (h-signalSize*leading)/2
		if why := s.signal(x+w+1.6*MM, inner-w-1.6*MM, signalSize); why != "" {
			return why
		}
		if s.y > top+h+0.01 {
			return "no room for the signal word beside the pictograms"
		}
		s.y = top + h + s.letter*0.2
	default:
		s.y = top + h + s.letter*0.2
	}
	if s.a != rowWithSignal || len(at) == 0 {
		if why := s.signal(x, width, signalSize); why != "" {
			return why
		}
	}
	for _, p := range s.c.body {
		if p.gap {
			s.y += s.letter * 0.4
			s.marks = append(s.marks, stroke(x, s.y, x+width, s.y, 0.3, mid))
			s.y += s.letter * 0.15
		}
		s.y += s.letter * 0.2
		if why := s.text(x, width, s.letter, p, ParagraphRole); why != "" {
			return why
		}
	}
	if s.y > bottom+0.01 {
		return "the statements do not fit"
	}
	return ""
}

// signal sets the signal word.
func (s *labelSetter) signal(x, width, size float64) string {
	if s.c.signal == "" {
		return ""
	}
	return s.text(x, width, size, para{text: s.c.signal, bold: true, lang: s.c.langs[0]}, ParagraphRole)
}

// WritePDF writes the label as a PDF of its own size.
func (l *Label) WritePDF(w io.Writer, date time.Time) error {
	props := properties{title: l.Product, lang: l.Langs[0], date: date}
	p, err := newPress(l.Width, l.Height, props)
	if err != nil {
		return err
	}
	p.newPage()
	p.marks(l.Marks, p.root)
	return p.write(w)
}

// WriteHTML writes the label as a page with one drawing whose letters can be selected.
func (l *Label) WriteHTML(w io.Writer) error {
	return writeLabelsHTML(w, l.Product, l.Langs[0], []*Label{l})
}

// writeLabelsHTML writes labels one below the other.
func writeLabelsHTML(w io.Writer, title string, lang ghs.Lang, labels []*Label) error {
	var b strings.Builder
	for _, l := range labels {
		b.WriteString(`<div class="label">`)
		if err := l.WriteSVG(&b); err != nil {
			return err
		}
		b.WriteString("</div>\n")
	}
	_, err := fmt.Fprintf(w, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<title>%s</title>\n<style>%s</style>\n</head>\n<body>\n<main class=\"paper\">\n%s</main>\n</body>\n</html>\n",
		lang, escape(title), styleSheet, b.String())
	return err
}
