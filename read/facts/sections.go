package facts

import (
	"strings"

	"sixteen/read/layout"
	"sixteen/sheet"
)

// numbering is the way a heading carries its number.
type numbering uint8

const (
	bare   numbering = iota // no number
	word                    // "SECTION 8", "ABSCHNITT 8:", "Rubrique 8"
	arabic                  // "8.", "8)", "8 –"
	roman                   // "VIII."
	letter                  // "D."
)

// candidate is a line that may be a heading.
type candidate struct {
	at     int // index of its line
	lines  int // how many lines it takes
	kind   numbering
	number int     // as printed, 0 when none
	topic  int     // by its wording, 0 when the wording is unknown
	score  float64 // how well the wording fits
	look   float64 // how much it looks like a heading
	where  stretch
}

var sectionWords = map[string]bool{
	"section": true, "sektion": true, "abschnitt": true, "rubrique": true, "seccion": true, "part": true, "kapitel": true, "sec": true, "sect": true, "rubrik": true, "chapitre": true,
}

var romanNumbers = map[string]int{
	"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9, "x": 10, "xi": 11, "xii": 12, "xiii": 13, "xiv": 14, "xv": 15, "xvi": 16,
}

// headNumber reads the number at the start of a heading: "SECTION 8:", "8.", "VIII." and tells how many tokens it takes.
func headNumber(text string, ts []token) (kind numbering, number, n int) {
	if len(ts) == 0 {
		return bare, 0, 0
	}
	first := ts[0]
	if sectionWords[first.text] && len(ts) > 1 {
		if v := smallNumber(ts[1].text); v > 0 && !decimalAfter(text, ts[1].end) {
			return word, v, 2
		}
		if v := romanNumbers[ts[1].text]; v > 0 {
			return word, v, 2
		}
		return bare, 0, 0
	}
	if v, glued := gluedNumber(first.text); glued { // "section8"
		return word, v, 1
	}
	after := ""
	if first.end < len(text) {
		after = text[first.end:]
	}
	trimmed := strings.TrimLeft(after, " \t")
	separated := trimmed != after || trimmed != "" && strings.IndexByte(".:)-", trimmed[0]) >= 0 || strings.HasPrefix(trimmed, "–") || strings.HasPrefix(trimmed, "—")
	if v := smallNumber(first.text); v > 0 && separated && !decimalAfter(text, first.end) {
		return arabic, v, 1
	}
	if v := romanNumbers[first.text]; v > 0 && first.end-first.start == len(first.text) && text[first.start] < 'a' && trimmed != "" && strings.IndexByte(".:)-", trimmed[0]) >= 0 {
		return roman, v, 1
	}
	if len(first.text) == 1 && text[first.start] >= 'A' && text[first.start] <= 'Z' && trimmed != "" && (trimmed[0] == '.' || trimmed[0] == ')') {
		return letter, 0, 1
	}
	return bare, 0, 0
}

func smallNumber(s string) int {
	switch len(s) {
	case 1:
		if s[0] >= '1' && s[0] <= '9' {
			return int(s[0] - '0')
		}
	case 2:
		if s[0] == '1' && s[1] >= '0' && s[1] <= '6' || s[0] == '0' && s[1] >= '1' && s[1] <= '9' {
			return int(s[0]-'0')*10 + int(s[1]-'0')
		}
	}
	return 0
}

func gluedNumber(s string) (int, bool) {
	for _, w := range []string{"section", "abschnitt", "rubrique", "seccion"} {
		if strings.HasPrefix(s, w) {
			v := smallNumber(s[len(w):])
			return v, v > 0
		}
	}
	return 0, false
}

// decimalAfter tells whether ".1" follows, as in "8.1": then it is no section.
func decimalAfter(s string, i int) bool {
	return i+1 < len(s) && s[i] == '.' && isDigit(s[i+1])
}

// candidates finds the lines that may be headings.
func candidates(lines []layout.Line) []candidate {
	var out []candidate
	for i := range lines {
		l := &lines[i]
		if len(l.Text) < 4 || len(l.Text) > 220 || l.Angle != 0 {
			continue
		}
		ts := tokenize(l.Text)
		kind, number, n := headNumber(l.Text, ts)
		if kind == bare && len(ts) > 14 {
			continue
		}
		c := candidate{at: i, lines: 1, kind: kind, number: number, where: stretch{l, 0, len(l.Text)}}
		c.topic, c.score = topicOf(ts[n:])
		c = c.withNext(lines, ts[n:])
		if kind == bare && c.score < 0.75 || kind == letter && c.score < 0.8 {
			continue
		}
		if (kind == arabic || kind == roman) && c.score < 0.5 {
			continue
		}
		c.look = looks(l)
		out = append(out, c)
	}
	return out
}

// withNext tries whether the line after belongs to a heading that is wrapped.
func (c candidate) withNext(lines []layout.Line, ts []token) candidate {
	if c.kind == bare || c.score > 0.95 || c.at+1 >= len(lines) {
		return c
	}
	next := &lines[c.at+1]
	if next.Page != lines[c.at].Page || len(next.Text) > 120 {
		return c
	}
	more := tokenize(next.Text)
	if kind, _, _ := headNumber(next.Text, more); kind != bare || len(more) == 0 {
		return c
	}
	both := append(append([]token(nil), ts...), more...)
	if topic, score := topicOf(both); score > c.score+0.05 && score >= 0.6 && (c.topic == topic || len(ts) == 0 || c.score < 0.5) {
		c.topic, c.score, c.lines = topic, score, 2
	}
	return c
}

// looks tells how much a line looks like a heading by itself: capitals, bold, no full stop at its end.
func looks(l *layout.Line) float64 {
	upper, letters := 0, 0
	for _, r := range l.Text {
		if r >= 'A' && r <= 'Z' {
			upper++
			letters++
		} else if r >= 'a' && r <= 'z' {
			letters++
		}
	}
	v := 0.0
	if letters > 0 && upper*10 > letters*8 {
		v += 0.5
	}
	if l.Bold {
		v += 0.5
	}
	if strings.HasSuffix(l.Text, ".") {
		v -= 0.5
	}
	return v
}

// section is one section as found: lines[from:to] is its body, heading lines left out by skip.
type section struct {
	topic   int
	number  int // as printed
	head    candidate
	from    int
	to      int
	guessed bool // by wording of its parts, the heading itself was not found
}

// part is one sheet within the document: its lines and sections.
type part struct {
	from, to int
	sections []section
	skip     map[int]bool // lines that are headings or repeated headings
}

// divide finds the sheets of the document and their sections.
func divide(lines []layout.Line) []part {
	cands := candidates(lines)
	kind := mainKind(cands)
	var main, rest []candidate
	for _, c := range cands {
		if c.kind == kind || kind == word && c.kind == arabic && c.score >= 0.8 || kind == arabic && c.kind == word && c.score >= 0.8 {
			main = append(main, c)
		} else {
			rest = append(rest, c)
		}
	}
	var parts []part
	for i, cycle := range cycles(main, kind, len(lines)) {
		if i == 0 {
			cycle.from = 0
		}
		p := newPart(cycle, kind, lines)
		p.fillIn(rest, lines)
		parts = append(parts, p)
	}
	for i := range parts {
		if i == 0 {
			parts[i].from = 0
		} else {
			parts[i].from = parts[i-1].to
		}
	}
	return parts
}

// mainKind is the numbering with the most different topics.
func mainKind(cands []candidate) numbering {
	var seen [5][17]float64
	for _, c := range cands {
		if c.score > seen[c.kind][c.topic] {
			seen[c.kind][c.topic] = c.score
		}
	}
	best, most := bare, 0.0
	for _, k := range []numbering{word, arabic, roman, letter, bare} {
		sum := 0.0
		for t := 1; t <= 16; t++ {
			sum += seen[k][t]
		}
		if sum > most+1 { // on a near tie the earlier kind wins
			best, most = k, sum
		}
	}
	return best
}

// span is a run of candidates that makes one sheet, and the lines it covers.
type cycle struct {
	cands    []candidate
	from, to int
}

// cycles divides the candidates where a first section begins anew. Runs without text between their headings (tables of
// contents, lists of changes) are dropped.
func cycles(cands []candidate, kind numbering, lines int) []cycle {
	var starts []int
	for i, c := range cands {
		if c.topic == 1 && c.score >= 0.6 && (c.number == 1 || c.number == 0) {
			starts = append(starts, i)
		}
	}
	if len(starts) == 0 || kind == bare {
		starts = []int{0}
	}
	starts[0] = 0
	var out []cycle
	for k, s := range starts {
		end := len(cands)
		if k+1 < len(starts) {
			end = starts[k+1]
		}
		run := cands[s:end]
		if len(run) == 0 {
			continue
		}
		to := lines
		if end < len(cands) {
			to = cands[end].at
		}
		c := cycle{run, run[0].at, to}
		if len(out) > 0 && !c.whole() {
			last := &out[len(out)-1]
			last.to = to
			if c.distinct() < 8 { // a repeated first heading, not a list
				last.cands = append(last.cands, run...)
			}
			continue
		}
		if len(out) > 0 && !out[len(out)-1].whole() { // what came before was no sheet: a list of contents
			c.from = out[len(out)-1].from
			out = out[:len(out)-1]
		}
		out = append(out, c)
	}
	return out
}

// distinct counts the different topics of the run.
func (c cycle) distinct() int {
	var seen [17]bool
	n := 0
	for _, x := range c.cands {
		if x.topic > 0 && !seen[x.topic] {
			seen[x.topic] = true
			n++
		}
	}
	return n
}

// whole tells whether the run is a sheet with text of its own: eight sections or more, and text between most headings.
func (c cycle) whole() bool {
	if c.distinct() < 8 {
		return false
	}
	filled, gaps := 0, 0
	for i, x := range c.cands {
		end := c.to
		if i+1 < len(c.cands) {
			end = c.cands[i+1].at
		}
		gaps++
		if end-x.at > x.lines {
			filled++
		}
	}
	return filled*2 > gaps
}

// newPart chooses the headings of one sheet: with numbers, the heaviest chain of rising numbers; without, the best line
// of each topic.
func newPart(c cycle, kind numbering, lines []layout.Line) part {
	p := part{from: c.from, to: c.to, skip: map[int]bool{}}
	choose := risingChain
	if kind == bare || kind == letter {
		choose = bestOfTopics
	}
	chosen := choose(c.cands)
	byNumber := 0
	for _, x := range chosen {
		if x.topic == x.number && x.score >= 0.6 {
			byNumber++
		}
	}
	var used [17]bool
	for _, x := range chosen {
		s := section{topic: x.topic, number: x.number, head: x, from: x.at + x.lines}
		if (x.score < 0.5 || used[x.topic]) && byNumber >= 6 && x.number >= 1 && !used[x.number] {
			s.topic = x.number // the wording is unknown, the numbers are the standard's
		}
		if s.topic == 0 || used[s.topic] || x.score < 0.5 && s.topic != x.number {
			continue
		}
		used[s.topic] = true
		p.sections = append(p.sections, s)
	}
	p.close(c.cands)
	return p
}

// close sets where each section ends and marks heading lines and their repetitions.
func (p *part) close(cands []candidate) {
	for i := range p.sections {
		s := &p.sections[i]
		s.to = p.to
		if i+1 < len(p.sections) {
			s.to = p.sections[i+1].head.at
			if p.sections[i+1].guessed {
				s.to = p.sections[i+1].from
			}
		}
		if s.guessed {
			continue
		}
		for k := s.head.at; k < s.from; k++ {
			p.skip[k] = true
		}
		for _, c := range cands {
			if c.at > s.head.at && c.at < s.to && c.topic == s.topic && c.number == s.number && c.score >= 0.6 {
				for k := c.at; k < c.at+c.lines; k++ {
					p.skip[k] = true
				}
			}
		}
	}
}

// weight tells how much a candidate counts in a chain.
func (c candidate) weight() float64 {
	w := c.score + 0.3*c.look
	if c.kind == word {
		w += 0.2
	}
	return max(w, 0.05)
}

// risingChain is the chain of candidates in document order with rising printed numbers and the greatest weight.
func risingChain(cands []candidate) []candidate {
	best := make([]float64, len(cands))
	prev := make([]int, len(cands))
	top := -1
	for i, c := range cands {
		best[i], prev[i] = c.weight(), -1
		for k := 0; k < i; k++ {
			if cands[k].number < c.number && best[k]+c.weight() > best[i] {
				best[i], prev[i] = best[k]+c.weight(), k
			}
		}
		if top < 0 || best[i] > best[top]+1e-9 {
			top = i
		}
	}
	var chain []candidate
	for i := top; i >= 0; i = prev[i] {
		chain = append([]candidate{cands[i]}, chain...)
	}
	return chain
}

// bestOfTopics keeps the best candidate of each topic, the first on a tie, in document order.
func bestOfTopics(cands []candidate) []candidate {
	var best [17]int
	for i := range best {
		best[i] = -1
	}
	for i, c := range cands {
		if b := best[c.topic]; b < 0 || c.weight() > cands[b].weight()+0.15 {
			best[c.topic] = i
		}
	}
	var out []candidate
	for i, c := range cands {
		if best[c.topic] == i {
			out = append(out, c)
		}
	}
	return out
}

// fillIn adds sections whose heading is of another kind than the rest, where they fit.
func (p *part) fillIn(rest []candidate, lines []layout.Line) {
	var have [17]bool
	for _, s := range p.sections {
		have[s.topic] = true
	}
	added := false
	for _, c := range rest {
		if c.at < p.from || c.at >= p.to || c.topic == 0 || have[c.topic] || p.skip[c.at] {
			continue
		}
		if c.score < 0.95 || c.look < 0.5 && c.kind == bare {
			continue
		}
		if !p.fits(c) {
			continue
		}
		have[c.topic] = true
		p.insert(section{topic: c.topic, number: c.number, head: c, from: c.at + c.lines})
		added = true
	}
	if p.fromSubsections(lines, &have) || added {
		p.close(nil)
	}
}

// fits tells whether a heading of c's topic may stand at c: in sheets in the standard order its neighbours must be the
// topics before and after.
func (p *part) fits(c candidate) bool {
	if !p.ordered() {
		return len(tokenize(c.where.text())) <= 6
	}
	for _, s := range p.sections {
		if s.topic < c.topic && s.head.at > c.at || s.topic > c.topic && s.head.at < c.at {
			return false
		}
	}
	return true
}

func (p *part) ordered() bool {
	for i := 1; i < len(p.sections); i++ {
		if p.sections[i].topic < p.sections[i-1].topic {
			return false
		}
	}
	return len(p.sections) > 0
}

func (p *part) insert(s section) {
	i := len(p.sections)
	for i > 0 && p.sections[i-1].head.at > s.head.at {
		i--
	}
	p.sections = append(p.sections, section{})
	copy(p.sections[i+1:], p.sections[i:])
	p.sections[i] = s
}

// fromSubsections finds missing sections by the number of their first subsection ("8.1 Control parameters") when the
// headings themselves cannot be read, being pictures for example.
func (p *part) fromSubsections(lines []layout.Line, have *[17]bool) bool {
	if !p.ordered() && len(p.sections) > 0 {
		return false
	}
	added := false
	for i := p.from; i < p.to && i < len(lines); i++ {
		t := strings.TrimLeft(lines[i].Text, " ")
		if len(t) < 5 || !isDigit(t[0]) {
			continue
		}
		n, rest := 0, t
		for len(rest) > 0 && isDigit(rest[0]) && n < 100 {
			n = n*10 + int(rest[0]-'0')
			rest = rest[1:]
		}
		if n < 1 || n > 16 || have[n] || !strings.HasPrefix(rest, ".1") || len(rest) < 4 || isDigit(rest[2]) {
			continue
		}
		letters := strings.TrimLeft(rest[2:], ". \t")
		if len(letters) < 4 || isDigit(letters[0]) || letters[0] == '%' {
			continue
		}
		c := candidate{at: i, lines: 0, number: n, topic: n, where: stretch{&lines[i], 0, len(lines[i].Text)}}
		if !p.fits(c) {
			continue
		}
		have[n] = true
		p.insert(section{topic: n, number: n, head: c, from: i, guessed: true})
		added = true
	}
	return added
}

// fill puts the lines of the part into the sections of the sheet.
func (p *part) fill(s *sheet.Sheet, lines []layout.Line) {
	put := func(topic, from, to int) {
		for i := from; i < to; i++ {
			if p.skip[i] {
				continue
			}
			l := &lines[i]
			s.Sections[topic].Text = append(s.Sections[topic].Text, sheet.Line{Text: l.Text, Page: l.Page, Box: l.Box})
		}
	}
	first := p.to
	for _, sec := range p.sections {
		out := &s.Sections[sec.topic]
		out.Found = !sec.guessed
		if ev := sec.head.where.evidence(); len(ev) > 0 {
			out.Heading = ev[0]
		}
		put(sec.topic, sec.from, sec.to)
		first = min(first, sec.head.at)
	}
	put(0, p.from, first)
}

// body lists the indexes of the lines of a topic, heading lines left out.
func (p *part) body(topic int) []int {
	var out []int
	for _, s := range p.sections {
		if s.topic != topic {
			continue
		}
		for i := s.from; i < s.to; i++ {
			if !p.skip[i] {
				out = append(out, i)
			}
		}
	}
	return out
}

// front lists the indexes of the lines before the first heading.
func (p *part) front() []int {
	end := p.to
	for _, s := range p.sections {
		end = min(end, s.head.at)
	}
	var out []int
	for i := p.from; i < end; i++ {
		out = append(out, i)
	}
	return out
}
