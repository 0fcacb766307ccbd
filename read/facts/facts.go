package facts

import (
	"errors"
	"fmt"
	"strings"

	"sixteen/ghs"
	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/sheet"
)

// PictureReader recognises the standard's pictograms among the pictures of a page. It returns one fact per pictogram
// seen, with the picture's box as evidence (How ByPicture) and the probability that it is that pictogram.
type PictureReader interface {
	Pictograms(p page.Page, images []page.Image) []sheet.Fact[ghs.Pictogram]
}

// ErrNotSheet is what a *NotSheet is, for errors.Is.
var ErrNotSheet = errors.New("not a safety data sheet")

// NotSheet tells why a document is taken for something else than a safety data sheet.
type NotSheet struct {
	Sections int    // how many of the sixteen headings were found
	Reason   string // in words, for a person
}

// Error says the reason and what to do.
func (e *NotSheet) Error() string {
	return "not a safety data sheet: " + e.Reason + "; if it is one, check that the file is complete and its text can be selected, or recognise its pages as pictures"
}

// Is makes errors.Is(err, ErrNotSheet) true.
func (e *NotSheet) Is(target error) bool { return target == ErrNotSheet }

// reader holds one sheet (one part of a document) while its facts are read.
type reader struct {
	lines   []layout.Line
	tables  []layout.Table
	running []layout.Line
	pages   []page.Page
	part    *part
	sheet   *sheet.Sheet
	style   number.Style
	order   number.Order
	ocr     bool
	picture PictureReader
}

// Read finds the sections and facts of a laid-out document. Pages serve to find pictures; they may be nil. The sheet's
// Source is left to the caller. It returns a *NotSheet when the document is no safety data sheet.
func Read(doc layout.Document, pages []page.Page, pictures PictureReader) (*sheet.Sheet, error) {
	doc.Lines = mend(doc.Lines)
	parts := divide(doc.Lines)
	if lines := unmerge(doc.Lines, parts); len(lines) != len(doc.Lines) {
		doc.Lines = lines
		parts = divide(lines)
	}
	if len(parts) == 0 {
		parts = []part{{to: len(doc.Lines), skip: map[int]bool{}}}
	}
	var text strings.Builder
	for i := range doc.Lines {
		text.WriteString(doc.Lines[i].Text)
		text.WriteByte('\n')
	}
	if err := recognise(doc, parts, text.String()); err != nil {
		return nil, err
	}
	style := number.StyleOf(text.String())
	var first *sheet.Sheet
	for i := range parts {
		r := &reader{lines: doc.Lines, tables: doc.Tables, pages: pages, part: &parts[i], sheet: &sheet.Sheet{}, style: style, picture: pictures}
		r.running = runningOf(doc, parts, i)
		for k := range doc.Lines {
			r.ocr = r.ocr || doc.Lines[k].How == sheet.ByOCR
		}
		r.read()
		if first == nil {
			first = r.sheet
		} else {
			first.Parts = append(first.Parts, r.sheet)
		}
	}
	return first, nil
}

// leaning is the style of numbers where the document itself shows none: French and German write a decimal comma. Spanish
// stays undecided, because half of those who write it use a decimal point.
func leaning(style number.Style, lang sheet.Fact[ghs.Lang]) number.Style {
	if style == number.Undecided && lang.Known() && (lang.Value == ghs.French || lang.Value == ghs.German) {
		return number.DecimalComma
	}
	return style
}

// runningOf gives a part the running heads and feet of its pages.
func runningOf(doc layout.Document, parts []part, i int) []layout.Line {
	if len(parts) == 1 {
		return doc.Running
	}
	from, to := 0, 1<<30
	if p := parts[i]; p.from < len(doc.Lines) {
		from = doc.Lines[p.from].Page
	}
	if p := parts[i]; p.to < len(doc.Lines) && i+1 < len(parts) {
		to = doc.Lines[p.to].Page - 1
	}
	var out []layout.Line
	for _, l := range doc.Running {
		if l.Page >= from && l.Page <= to {
			out = append(out, l)
		}
	}
	return out
}

// read reads every group of facts; each depends only on groups before it.
func (r *reader) read() {
	r.part.fill(r.sheet, r.lines)
	r.readLanguage()
	r.style = leaning(r.style, r.sheet.Language)
	r.readJurisdiction()
	r.readDates()
	r.americanDate()
	r.readIdentification()
	r.readHazards()
	r.readComposition()
	r.readControl()
	r.readPhysical()
	r.readToxicology()
	r.readEcology()
	r.readTransport()
	r.readRatings()
	r.readProblems()
}

// has tells whether the section was found.
func (r *reader) has(topic int) bool {
	for _, s := range r.part.sections {
		if s.topic == topic {
			return true
		}
	}
	return false
}

// all lists the indexes of every line of the part.
func (r *reader) all() []int {
	out := make([]int, 0, r.part.to-r.part.from)
	for i := r.part.from; i < r.part.to; i++ {
		if !r.part.skip[i] {
			out = append(out, i)
		}
	}
	return out
}

// titles are how sheets call themselves.
var titles = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(false, `safety data sheet|safety data sheets|safety datasheet|sds|fiche de donnees de securite|fiches de donnees de securite|fds|sicherheitsdatenblatt|eg sicherheitsdatenblatt|ficha de datos de seguridad|hoja de datos de seguridad|hoja de seguridad|extended safety data sheet|product safety data sheet`)
	p.add(true, `material safety data sheet|msds|fiche signaletique|hoja de datos de seguridad de materiales|material safety data|hoja de seguridad de materiales`)
	return p
}()

// recognise tells whether the document is a safety data sheet: it has most of the sections, or fewer and calls itself one.
func recognise(doc layout.Document, parts []part, text string) error {
	topics := len(parts[0].sections)
	if topics >= 8 {
		return nil
	}
	title := false
	for _, ls := range [][]layout.Line{doc.Lines[:min(len(doc.Lines), 60)], doc.Running} {
		for _, l := range ls {
			if ts := tokenize(l.Text); len(ts) <= 12 { // no sentence that mentions one
				if _, _, n := titles.find(ts); n > 0 {
					title = true
				}
			}
		}
	}
	if topics >= 3 && title || topics >= 5 {
		return nil
	}
	letters := len(strings.TrimSpace(text))
	switch {
	case letters < 200:
		return &NotSheet{topics, fmt.Sprintf("the document has almost no text (%d characters)", letters)}
	case title && topics > 0:
		return &NotSheet{topics, fmt.Sprintf("it calls itself a safety data sheet but only %d of 16 section headings were found", topics)}
	case title:
		return &NotSheet{topics, "it calls itself a safety data sheet but none of the 16 section headings was found"}
	}
	return &NotSheet{topics, fmt.Sprintf("found %d of 16 section headings and no title such as \"Safety data sheet\"", topics)}
}

// readProblems says what could not be read.
func (r *reader) readProblems() {
	s := r.sheet
	say := func(section, page int, what, do string) {
		s.Problems = append(s.Problems, sheet.ReadProblem{Section: section, Page: page, What: what, Do: do})
	}
	for t := 1; t <= 16; t++ {
		if !r.has(t) {
			say(t, 0, fmt.Sprintf("the heading of section %d was not found", t), "look for the section in the document; its facts may be missing here")
		}
	}
	for _, sec := range r.part.sections {
		if sec.guessed {
			say(sec.topic, r.lines[min(sec.head.at, len(r.lines)-1)].Page, "the heading could not be read; the section was placed by the numbers of its parts", "check where the section begins")
		}
	}
	if r.has(2) && len(s.Hazards.Statements) == 0 && s.Hazards.Classified == sheet.NotStated && !s.PreGHS.Value {
		say(2, 0, "no hazard statement and no words that the product is not classified were found", "read section 2 in the document")
	}
	if r.has(3) && len(s.Composition.Ingredients) == 0 && s.Composition.State == sheet.NotStated {
		say(3, 0, "no ingredient was found", "read section 3 in the document and enter the ingredients by hand")
	}
	for i, in := range s.Composition.Ingredients {
		name := in.Name.Value
		if name == "" {
			name = fmt.Sprintf("ingredient %d", i+1)
		}
		if in.CAS.Known() && !number.CASValid(in.CAS.Value) {
			say(3, in.CAS.Where().Page, fmt.Sprintf("the CAS number %s of %s has a wrong check digit", in.CAS.Value, name), "compare it with the document; it may be misprinted")
		}
		if in.Percent.State == sheet.NotStated {
			say(3, in.Name.Where().Page, fmt.Sprintf("no share was found for %s", name), "read its share in the document")
		}
	}
}
