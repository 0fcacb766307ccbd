package ghs

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// PhraseMatch is a statement recognised by its wording.
type PhraseMatch struct {
	Code       Code
	Lang       Lang
	Score      float64 // 1 for the very words; less with every letter that differs, and within a longer sentence
	Start, End int     // bytes of the text that hold the words
}

// minPhraseScore is the least score of a match. It lets through one wrong letter in ten at the beginning of a sentence.
const minPhraseScore = 0.85

// piece is the length of the runs of letters by which candidates are found.
const piece = 6

// phrasePattern is one wording prepared for the search. Its segments are the fixed parts between open places; the
// longest is the anchor that is looked up.
type phrasePattern struct {
	code     Code
	lang     Lang
	segments [][]byte
	anchor   int
	must     []string // letters of which one must stand in the open place, or empty
	maxDiff  int      // wrong letters let through in the anchor
	openEnd  bool     // the wording ends in an open place
	recalled bool     // it is not from a publication
}

func (p *phrasePattern) letterCount() int {
	n := 0
	for _, s := range p.segments {
		n += len(s)
	}
	return n
}

// posting says that a piece of letters occurs in a pattern's anchor at an offset.
type posting struct {
	pattern int32
	offset  int32
}

// phraseIndex finds patterns by pieces of their anchors. Slots are open-addressed by the piece's letters; a bit map in
// front of them answers most look-ups. It is built once and read by any number of searches.
type phraseIndex struct {
	patterns []phrasePattern
	bits     []uint64
	slots    []slot
	postings []posting
}

type slot struct {
	piece    uint64
	from, to int32
}

const (
	bitCount  = 1 << 17
	slotCount = 1 << 15
	pieceMask = 1<<(8*piece) - 1
)

func pieceHash(p uint64) uint64 { return p * 0x9E3779B97F4A7C15 }

var phrases = sync.OnceValue(buildPhraseIndex)

func buildPhraseIndex() *phraseIndex {
	t := statements()
	x := &phraseIndex{bits: make([]uint64, bitCount/64), slots: make([]slot, slotCount)}
	for _, l := range Langs() {
		for _, c := range t.order {
			x.addPhrase(c, l, t.phrases[l][c].text, t.phrases[l][c].memory)
		}
	}
	for _, v := range t.variants {
		x.addPhrase(v.code, v.lang, v.text, true)
	}
	byPiece := map[uint64][]posting{}
	for i, p := range x.patterns {
		a := p.segments[p.anchor]
		for off := 0; off+piece <= len(a); off += piece {
			k := packPiece(a[off:])
			byPiece[k] = append(byPiece[k], posting{int32(i), int32(off)})
		}
	}
	for k, list := range byPiece {
		x.insert(k, list)
	}
	return x
}

// addPhrase adds the wording, and without its bracketed words where it has some.
func (x *phraseIndex) addPhrase(c Code, l Lang, text string, recalled bool) {
	x.addPattern(c, l, text, recalled)
	if i, j := strings.IndexByte(text, '['), strings.IndexByte(text, ']'); i >= 0 && j > i {
		x.addPattern(c, l, text[:i]+text[j+1:], recalled)
	}
	if strings.Contains(text, "{organs}") {
		x.addPattern(c, l, strings.Replace(text, "{organs}", generalOrgans[l], 1), recalled)
	}
}

func (x *phraseIndex) addPattern(c Code, l Lang, text string, recalled bool) {
	p := phrasePattern{code: c, lang: l, recalled: recalled}
	text = strings.ReplaceAll(text, "…", "{}")
	p.openEnd = strings.HasSuffix(strings.TrimRight(text, " ./"), "}")
	for text != "" {
		before, after, open := strings.Cut(text, "{")
		var seg letters
		seg.read(before)
		if len(seg.key) > 2 {
			p.segments = append(p.segments, slices.Clone(seg.key))
		}
		text = ""
		if open {
			place, rest, _ := strings.Cut(after, "}")
			if list, ok := strings.CutPrefix(place, "any:"); ok {
				for _, w := range strings.Split(list, "|") {
					var m letters
					m.read(w)
					p.must = append(p.must, string(m.key))
				}
			}
			text = rest
		}
	}
	for i, s := range p.segments {
		if len(s) > len(p.segments[p.anchor]) {
			p.anchor = i
		}
	}
	if len(p.segments) == 0 || len(p.segments[p.anchor]) < piece {
		return
	}
	p.maxDiff = maxDiff(len(p.segments[p.anchor]))
	x.patterns = append(x.patterns, p)
}

// maxDiff is how many wrong, missing or additional letters a run of n letters may have: none in short ones, where one
// letter may make another statement.
func maxDiff(n int) int {
	if n < 14 {
		return 0
	}
	return min(n/10, 8)
}

func packPiece(b []byte) uint64 {
	var k uint64
	for _, c := range b[:piece] {
		k = k<<8 | uint64(c)
	}
	return k
}

func (x *phraseIndex) insert(k uint64, list []posting) {
	h := pieceHash(k)
	x.bits[h>>47>>6] |= 1 << (h >> 47 & 63)
	from := int32(len(x.postings))
	x.postings = append(x.postings, list...)
	i := h >> 49
	for x.slots[i].piece != 0 {
		i = (i + 1) % slotCount
	}
	x.slots[i] = slot{k, from, int32(len(x.postings))}
}

// find returns the postings of a piece, nil for most pieces.
func (x *phraseIndex) find(k uint64) []posting {
	h := pieceHash(k)
	if x.bits[h>>47>>6]&(1<<(h>>47&63)) == 0 {
		return nil
	}
	for i := h >> 49; x.slots[i].piece != 0; i = (i + 1) % slotCount {
		if x.slots[i].piece == k {
			return x.postings[x.slots[i].from:x.slots[i].to]
		}
	}
	return nil
}

// hit is a piece of a pattern found in the text: the pattern in the high half, the letter where the anchor would begin
// in the low half. The number orders hits by pattern and place.
type hit uint64

const hitBias = 1 << 20 // keeps places before the text positive

func newHit(pattern int32, start int) hit { return hit(uint64(pattern)<<32 | uint64(start+hitBias)) }
func (h hit) pattern() int                { return int(h >> 32) }
func (h hit) start() int                  { return int(h&0xFFFFFFFF) - hitBias }

// search is the working memory of one FindPhrase.
type search struct {
	letters
	hits     []hit
	doubtful []hit
	cover    []int32 // per letter: the weight of the exact match there; then, whether a kept match holds it
	cells    []int16
}

var searches = sync.Pool{New: func() any { return new(search) }}

// FindPhrase finds the statements whose wording stands in the text, in any language carried or, when l is not "", in
// that one. Case, punctuation, missing blanks, characters misread in a picture of text, American spelling, the wording of
// older revisions and words filled into open places do not matter; a sentence that only resembles a statement is not
// one, and neither is a negated one ("non-flammable gas"). Of overlapping statements the longest counts. Matches come in
// the order of the text.
func FindPhrase(text string, l Lang) []PhraseMatch {
	x := phrases()
	s := searches.Get().(*search)
	defer searches.Put(s)
	s.read(text)
	s.collect(x, l)
	if len(s.hits) == 0 {
		return nil
	}
	slices.Sort(s.hits)
	return s.longest(s.compare(x, text))
}

// compare verifies the patterns that share enough pieces with the text: the exact ones first, then of the others those
// that could still cover more than an exact one in the same place.
func (s *search) compare(x *phraseIndex, text string) []candidate {
	var found []candidate
	s.doubtful = s.doubtful[:0]
	for i := 0; i < len(s.hits); {
		first := s.hits[i]
		p := &x.patterns[first.pattern()]
		j := i + 1
		for j < len(s.hits) && s.hits[j].pattern() == first.pattern() && s.hits[j].start()-first.start() <= p.maxDiff {
			j++
		}
		if j-i >= max(1, len(p.segments[p.anchor])/piece-p.maxDiff) {
			if !s.exactAt(p.segments[p.anchor], first.start()) {
				s.doubtful = append(s.doubtful, first)
			} else if m, ok := s.verify(p, first.start(), text); ok {
				found = append(found, m)
			}
		}
		i = j
	}
	s.cover = append(s.cover[:0], make([]int32, len(s.key))...)
	for _, m := range found {
		for i := m.from; i < m.to; i++ {
			s.cover[i] = max(s.cover[i], int32(m.weight))
		}
	}
	for _, h := range s.doubtful {
		p := &x.patterns[h.pattern()]
		if p.maxDiff == 0 || s.covered(p, h.start()) {
			continue
		}
		if m, ok := s.verify(p, h.start(), text); ok {
			found = append(found, m)
		}
	}
	return found
}

func (s *search) exactAt(a []byte, start int) bool {
	return start >= 0 && start+len(a) <= len(s.key) && string(s.key[start:start+len(a)]) == string(a)
}

// covered tells whether an exact match stands where the middle of the pattern's anchor would, and outweighs the whole
// pattern.
func (s *search) covered(p *phrasePattern, start int) bool {
	middle := start + len(p.segments[p.anchor])/2
	return middle >= 0 && middle < len(s.cover) && int(s.cover[middle]) >= p.letterCount()-2
}

// collect notes every piece of a pattern of the language that occurs in the letters.
func (s *search) collect(x *phraseIndex, l Lang) {
	s.hits = s.hits[:0]
	if len(s.key) < piece {
		return
	}
	k := packPiece(s.key) >> 8
	for i := piece - 1; i < len(s.key); i++ {
		k = (k<<8 | uint64(s.key[i])) & pieceMask
		for _, p := range x.find(k) {
			if l == "" || x.patterns[p.pattern].lang == l {
				s.hits = append(s.hits, newHit(p.pattern, i-piece+1-int(p.offset)))
			}
		}
	}
}

// gap is how many letters may stand in an open place.
const gap = 90

// verify compares the pattern with the letters around start and scores it.
func (s *search) verify(p *phrasePattern, start int, text string) (candidate, bool) {
	a := p.segments[p.anchor]
	from, to, diff := s.align(a, start, p.maxDiff)
	if diff > p.maxDiff {
		return candidate{}, false
	}
	var fill []byte
	for _, seg := range p.segments[p.anchor+1:] {
		window := s.key[to:min(len(s.key), to+gap+len(seg))]
		i := strings.Index(string(window), string(seg))
		if i < 0 {
			return candidate{}, false
		}
		fill = append(fill, window[:i]...)
		to += i + len(seg)
	}
	for k := p.anchor - 1; k >= 0; k-- {
		seg := p.segments[k]
		low := max(0, from-gap-len(seg))
		i := strings.LastIndex(string(s.key[low:from]), string(seg))
		if i < 0 {
			return candidate{}, false
		}
		fill = append(fill, s.key[low+i+len(seg):from]...)
		from = low + i
	}
	if !s.hasMust(p, fill, to) {
		return candidate{}, false
	}
	n := p.letterCount()
	m := candidate{PhraseMatch{Code: p.code, Lang: p.lang, Start: int(s.at[from]), End: s.endOf(to-1, text)}, from, to, n - 2*diff, p.recalled}
	m.Score = (1 - float64(diff)/float64(n)) * s.context(text, m.PhraseMatch, n, p.openEnd)
	return m, m.Score >= minPhraseScore
}

// hasMust tells whether the open place holds one of the words that the pattern asks for. An open place at the end of the
// pattern reaches some letters further.
func (s *search) hasMust(p *phrasePattern, fill []byte, to int) bool {
	if len(p.must) == 0 {
		return true
	}
	if len(p.segments) == 1 {
		low := max(0, to-len(p.segments[0])-40)
		fill = append(append(fill, s.key[low:max(low, to-len(p.segments[0]))]...), s.key[to:min(len(s.key), to+40)]...)
	}
	for _, w := range p.must {
		if strings.Contains(string(fill), w) {
			return true
		}
	}
	return false
}

// endOf is the byte after the letter at i, including the accents and full stop that belong to it.
func (s *search) endOf(i int, text string) int {
	end, limit := int(s.at[i])+1, len(text)
	if i+1 < len(s.at) {
		limit = int(s.at[i+1])
	}
	for end < limit { // doubled letters and the rest of an accented one
		r, n := utf8.DecodeRuneInString(text[end:])
		if !unicode.IsLetter(r) && r != utf8.RuneError {
			break
		}
		end += n
	}
	if end < len(text) && text[end] == '.' {
		end++
	}
	return end
}

// align finds the run of letters nearest to a around start, with at most limit differences, by the edit distance within
// a band. It returns the run and the number of differences, limit+1 when there is no such run.
func (s *search) align(a []byte, start, limit int) (from, to, diff int) {
	if s.exactAt(a, start) {
		return start, start + len(a), 0
	}
	none := limit + 1
	if limit == 0 {
		return 0, 0, none
	}
	// Row i, column c stands for the prefix a[:i] ending at letter start-limit+i+c, c from 0 to 2·limit.
	width := 2*limit + 1
	if cap(s.cells) < 4*width {
		s.cells = make([]int16, 4*width)
	}
	cells := s.cells[:4*width]
	prev, cur, prevFrom, curFrom := cells[:width], cells[width:2*width], cells[2*width:3*width], cells[3*width:]
	low := start - limit
	for c := range prev {
		prev[c], prevFrom[c] = int16(max(0, -(low+c))), int16(c)
	}
	for i, ch := range a {
		best := int16(none)
		for c := range cur {
			at := low + i + c // the letter that a[i] stands against
			cost, f := prev[c], prevFrom[c]
			if at < 0 || at >= len(s.key) || s.key[at] != ch {
				cost++
			}
			if c+1 < width && prev[c+1]+1 < cost {
				cost, f = prev[c+1]+1, prevFrom[c+1]
			}
			if c > 0 && cur[c-1]+1 < cost {
				cost, f = cur[c-1]+1, curFrom[c-1]
			}
			cur[c], curFrom[c] = cost, f
			best = min(best, cost)
		}
		if int(best) > limit {
			return 0, 0, none
		}
		prev, cur, prevFrom, curFrom = cur, prev, curFrom, prevFrom
	}
	end := 0
	for c := range prev {
		if prev[c] < prev[end] {
			end = c
		}
	}
	from, to = low+int(prevFrom[end]), low+len(a)+end
	if int(prev[end]) > limit || from < 0 || to > len(s.key) || from >= to {
		return 0, 0, none
	}
	return from, to, int(prev[end])
}

// candidate is a match before overlapping ones are weighed against each other.
type candidate struct {
	PhraseMatch
	from, to int // the letters that hold it
	weight   int // letters that agree, less those that differ
	recalled bool
}

// longest keeps of overlapping matches the one that covers most; of equal ones the better, and of equally good ones the
// one whose wording was read in a publication.
func (s *search) longest(found []candidate) []PhraseMatch {
	slices.SortStableFunc(found, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(b.Score, a.Score), compareBool(a.recalled, b.recalled))
	})
	var kept []PhraseMatch
	clear(s.cover)
	for _, m := range found {
		place := s.cover[m.from:m.to]
		if slices.Max(place) > 0 {
			continue
		}
		for i := range place {
			place[i] = 1
		}
		kept = append(kept, m.PhraseMatch)
	}
	slices.SortFunc(kept, func(a, b PhraseMatch) int { return cmp.Compare(a.Start, b.Start) })
	return kept
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// shortPhrase is the number of letters below which a statement must stand alone to be one.
const shortPhrase = 16

// contextBytes is how much of the text before a match is looked at.
const contextBytes = 200

// middlePhrase is the number of letters below which a statement must begin a sentence.
const middlePhrase = 22

// context judges the words around a match: 1 at the beginning of a sentence, line or table cell (behind a tab), less within a sentence, 0 for a
// part of a word, a negated statement, or a short statement that does not stand alone.
func (s *search) context(text string, m PhraseMatch, n int, openEnd bool) float64 {
	if unicode.IsLetter(lastRune(text[:m.Start])) || unicode.IsLetter(firstRune(text[m.End:])) && text[m.End-1] != '.' {
		return 0
	}
	around := text[max(0, m.Start-contextBytes):m.Start]
	before := strings.TrimRight(around, " \t\u00a0")
	last := before[strings.LastIndexAny(before, " \t\n.;:,(")+1:]
	if negated(before) || modal[fold(last)] {
		return 0
	}
	starts := before == "" || strings.Contains(around[len(before):], "\t") || strings.ContainsRune(".;:!?¡¿…•·–—-*+/|)[\"»>,\n", lastRune(before)) || endsInCode(last)
	after := strings.TrimLeft(text[m.End:], " \t")
	ends := openEnd || after == "" || text[m.End-1] == '.' || strings.ContainsRune(".;:!,()<[/|\n-–•", firstRune(after))
	switch {
	case leadIn(m.Code) && !(starts && strings.Trim(after, "): \n") == ""):
		return 0
	case n < shortPhrase && !(starts && ends):
		return 0
	case !starts && n < middlePhrase:
		return 0
	case !starts:
		return 0.9
	}
	return 1
}

// leadIn tells whether the statement is only the beginning of combinations, "IF INHALED:". As a statement of its own it
// counts only when nothing follows.
func leadIn(c Code) bool {
	return strings.HasSuffix(statements().phrases[English][c].text, ":")
}

func lastRune(s string) rune {
	r, _ := utf8.DecodeLastRuneInString(s)
	return r
}

func firstRune(s string) rune {
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

// endsInCode tells whether the word is a statement code or a number, after which a statement may begin.
func endsInCode(w string) bool { return w != "" && (isDigit(w[len(w)-1]) || len(ParseCodes(w)) > 0) }

// modal words before a statement make another one of it: "may cause skin irritation" is not "causes skin irritation".
var modal = map[string]bool{"may": true, "can": true, "could": true, "might": true, "would": true, "kann": true, "konnte": true, "peut": true, "puede": true}

// negated tells whether one of the three words before a match, in the same sentence, denies it.
func negated(before string) bool {
	before = before[strings.LastIndexAny(before, ".;:!?\n")+1:]
	w := strings.FieldsFunc(strings.ToLower(before), func(r rune) bool { return !unicode.IsLetter(r) })
	for _, x := range w[max(0, len(w)-3):] {
		if negation[x] {
			return true
		}
	}
	return false
}

var negation = map[string]bool{
	"not": true, "non": true, "no": true, "never": true, "nicht": true, "kein": true, "keine": true, "pas": true, "sin": true, "without": true, "ohne": true, "sans": true,
}
