package label

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"sixteen/ghs"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// reader understands the lines of one label.
type reader struct {
	lines []layout.Line
	label *Label
	text  string // all lines
	from  []int  // where each line begins in text
	taken []bool // lines that belong to statements, signal word or supplier
}

// join puts the lines into one text, so that statements are found over the ends of lines.
func (r *reader) join() {
	var b strings.Builder
	for i := range r.lines {
		r.from = append(r.from, b.Len())
		b.WriteString(strings.ReplaceAll(r.lines[i].Text, "\t", " "))
		b.WriteByte('\n')
	}
	r.text = b.String()
	r.taken = make([]bool, len(r.lines))
}

// where is the evidence for bytes start to end of the text, one per line, and the least confidence of its words.
func (r *reader) where(start, end int) (out []sheet.Evidence, sure float64) {
	sure = 1
	for i := range r.lines {
		l := &r.lines[i]
		a, b := max(start-r.from[i], 0), min(end-r.from[i], len(l.Text))
		if a >= b {
			continue
		}
		out = append(out, l.Where(a, b)...)
		for _, w := range l.Words {
			if w.Start < b && w.End > a && w.Confidence > 0 {
				sure = min(sure, w.Confidence)
			}
		}
	}
	return out, sure
}

// take marks the lines between start and end as understood.
func (r *reader) take(start, end int) {
	for i := range r.lines {
		if start < r.from[i]+len(r.lines[i].Text) && end > r.from[i] {
			r.taken[i] = true
		}
	}
}

func stated[T any](r *reader, v T, confidence float64, start, end int) sheet.Fact[T] {
	at, sure := r.where(start, end)
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Confidence: confidence * sure, Evidence: at}
}

// signalWord finds the signal word: the largest printed one, alone in its line or cell, else in capitals.
func (r *reader) signalWord() {
	best := 0.0
	for i := range r.lines {
		for _, w := range r.lines[i].Words {
			word := strings.Trim(w.Text, " !:.|")
			s, ok := ghs.ParseSignalWord(word)
			alone := len(r.lines[i].Words) <= 2 || word == strings.ToUpper(word)
			if !ok || s == ghs.NoSignalWord || !alone || w.Size <= best {
				continue
			}
			best = w.Size
			start := r.from[i] + w.Start
			r.label.SignalWord = stated(r, s, 0.97, start, r.from[i]+w.End)
			r.label.SignalPrinted = stated(r, word, 0.97, start, r.from[i]+w.End)
			if len(r.lines[i].Words) <= 2 {
				r.taken[i] = true
			}
		}
	}
}

// found is a statement with its place in the text.
type found struct {
	statement  sheet.Statement
	start, end int
}

// statements finds statements by code and by phrase, in the language that most of them are in.
func (r *reader) statements() {
	var all []found
	for _, m := range r.phrases() {
		if r.cutOff(m) {
			r.label.Problems = append(r.label.Problems, sheet.ReadProblem{What: fmt.Sprintf("what follows %q was not read; it may be another statement that begins so", strings.Join(strings.Fields(r.text[m.Start:m.End]), " ")),
				Do: "look at the label itself, and enter the statement by hand"})
			continue
		}
		all = append(all, found{sheet.Statement{Code: m.Code, Phrase: strings.Join(strings.Fields(r.text[m.Start:m.End]), " "), FromPhrase: true}, m.Start, m.End})
	}
	for _, h := range ghs.ParseCodes(r.text) {
		if !h.Code.Known() {
			continue
		}
		if k := slices.IndexFunc(all, func(f found) bool { return f.statement.Code == h.Code }); k >= 0 {
			all[k].statement.FromPhrase = false
			all[k].start = min(all[k].start, max(h.Start, all[k].start-12))
			continue
		}
		all = append(all, found{sheet.Statement{Code: h.Code}, h.Start, h.End})
	}
	seen := map[ghs.Code]bool{}
	for _, f := range all {
		r.take(f.start, f.end)
		if seen[f.statement.Code] {
			continue
		}
		seen[f.statement.Code] = true
		confidence := 0.97
		if f.statement.FromPhrase {
			confidence = 0.93
		}
		fact := stated(r, f.statement, confidence, f.start, f.end)
		if strings.HasPrefix(string(f.statement.Code), "P") {
			r.label.Precautions = append(r.label.Precautions, fact)
		} else {
			r.label.Statements = append(r.label.Statements, fact)
		}
	}
}

// cutOff tells whether recognised words may be the beginning of a longer statement whose end was not read: "Toxic to
// aquatic life" of "Toxic to aquatic life with long lasting effects". A full stop behind them says that they are whole.
func (r *reader) cutOff(m ghs.PhraseMatch) bool {
	i, _ := slices.BinarySearch(r.from, m.End) // the line after
	if i == 0 || r.lines[i-1].How != sheet.ByOCR || strings.HasPrefix(strings.TrimSpace(r.text[m.End:]), ".") || strings.HasSuffix(r.text[m.Start:m.End], ".") {
		return false
	}
	phrase, _ := ghs.Phrase(m.Code, m.Lang)
	phrase = strings.TrimRight(phrase, ".")
	return slices.ContainsFunc(ghs.AllStatements(), func(s ghs.Statement) bool {
		longer, _ := ghs.Phrase(s.Code, m.Lang)
		return len(longer) > len(phrase)+2 && strings.HasPrefix(longer, phrase)
	})
}

// phrases are the matches in the language that has most; labels in several languages repeat themselves.
func (r *reader) phrases() []ghs.PhraseMatch {
	var best []ghs.PhraseMatch
	for _, l := range ghs.Langs() {
		if m := ghs.FindPhrase(r.text, l); len(m) > len(best) {
			best = m
		}
	}
	return best
}

var (
	phone   = regexp.MustCompile(`(?:\+|\(|\b0|\b1[- ])[0-9][0-9 ()./-]{6,18}[0-9]`)
	ufi     = regexp.MustCompile(`(?i)\bUFI\W{0,3}([A-Z0-9]{4}-[A-Z0-9]{4}-[A-Z0-9]{4}-[A-Z0-9]{4})`)
	company = regexp.MustCompile(`\b(?:Ltd|Limited|GmbH|AG|KG|Inc|LLC|Corp|Company|Co|SA|S\.A\.?|SAS|SARL|SL|S\.L\.?|BV|B\.V\.?|AB|Oy|plc|PLC|Works|Supply|Supplies|Coatings|Chemie|Chemicals?|Stores)\b`)
)

// supplier finds the UFI, the telephone number and the supplier: the line that names a company, or stands above the
// number, up to its first comma.
func (r *reader) supplier() {
	if m := ufi.FindStringSubmatchIndex(r.text); m != nil {
		r.label.UFI = stated(r, strings.ToUpper(r.text[m[2]:m[3]]), 0.97, m[2], m[3])
	}
	number := -1
	for i := range r.lines {
		m := phone.FindStringIndex(r.lines[i].Text)
		if m == nil || r.taken[i] || len(ghs.ParseCodes(r.lines[i].Text)) > 0 {
			continue
		}
		number = i
		r.label.Phone = stated(r, strings.TrimSpace(r.lines[i].Text[m[0]:m[1]]), 0.9, r.from[i]+m[0], r.from[i]+m[1])
	}
	pick, confidence := -1, 0.8
	for i := range r.lines {
		if company.MatchString(r.lines[i].Text) && !r.taken[i] && (number < 0 || i <= number) {
			pick = i
		}
	}
	if pick < 0 && number > 0 && !r.taken[number-1] {
		pick, confidence = number-1, 0.65
	}
	if pick < 0 {
		return
	}
	text := r.lines[pick].Text
	end := strings.IndexAny(text, ",\t|")
	if end < 3 {
		end = len(text)
	}
	if name := strings.TrimSpace(text[:end]); name != "" {
		r.label.Supplier = stated(r, name, confidence, r.from[pick], r.from[pick]+end)
		r.taken[pick] = true
	}
	if number >= 0 {
		r.taken[number] = true
	}
}

// product is the largest print that is nothing else: the longest run of words of about that size in one line.
func (r *reader) product() {
	best, size := -1, 0.0
	for i := range r.lines {
		l := &r.lines[i]
		if s := sizeOf(l); !r.taken[i] && letters(l.Text) >= 3 && s > size*1.1 {
			best, size = i, s
		}
	}
	if best < 0 {
		return
	}
	l := &r.lines[best]
	cell := l.Cells[0]
	for _, c := range l.Cells {
		if letters(c.Text) > letters(cell.Text) {
			cell = c
		}
	}
	r.label.Product = stated(r, strings.TrimSpace(cell.Text), 0.85, r.from[best]+cell.Start, r.from[best]+cell.End)
}

// sizeOf is the height of a line's print: the median over its words of letters.
func sizeOf(l *layout.Line) float64 {
	var sizes []float64
	for _, w := range l.Words {
		if letters(w.Text) >= 2 && w.Confidence > 0.3 {
			sizes = append(sizes, w.Size)
		}
	}
	if len(sizes) == 0 {
		return 0
	}
	slices.Sort(sizes)
	return sizes[len(sizes)/2]
}

func letters(s string) int {
	n := 0
	for _, c := range s {
		if unicode.IsLetter(c) {
			n++
		}
	}
	return n
}
