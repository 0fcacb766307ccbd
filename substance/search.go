package substance

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Match is one answer of a search. Score runs from 0 to 1 and only orders answers; Why says in words what matched.
type Match struct {
	Substance *Substance `json:"-"`
	CAS       string     `json:"cas"`
	Name      string     `json:"name"`
	Score     float64    `json:"score"`
	Why       string     `json:"why"`
	Exact     bool       `json:"exact"` // number, name or synonym is the query itself
}

// label is one name of one substance, prepared for comparing.
type label struct {
	s      *Substance
	kind   string // "name" or "synonym"
	text   string // as held
	folded string
	joined string // folded without blanks
	tokens []string
	sorted []string
	grams  int // how many different letter triples
}

// index holds the labels and, for every letter triple, the labels that have it.
type index struct {
	labels []label
	having map[[3]rune][]int32
}

func newIndex(all []*Substance) *index {
	x := &index{having: map[[3]rune][]int32{}}
	add := func(s *Substance, kind, text string) {
		f := fold(text)
		if f == "" {
			return
		}
		l := label{s: s, kind: kind, text: text, folded: f, joined: strings.ReplaceAll(f, " ", ""), tokens: strings.Fields(f)}
		l.sorted = slices.Sorted(slices.Values(l.tokens))
		for g := range trigrams(f) {
			x.having[g] = append(x.having[g], int32(len(x.labels)))
			l.grams++
		}
		x.labels = append(x.labels, l)
	}
	for _, s := range all {
		add(s, "name", s.Name)
		if main, short, ok := bracketed(s.Name); ok {
			add(s, "name", main)
			add(s, "name", short)
		}
		for _, n := range s.Synonyms {
			add(s, "synonym", n.Text)
		}
	}
	return x
}

// bracketed splits "isophorone diamine (IPDA)" into its two names; remarks in lower case such as "(mixed isomers)" are
// no name of their own.
func bracketed(name string) (main, short string, ok bool) {
	i := strings.LastIndex(name, " (")
	if i < 0 || !strings.HasSuffix(name, ")") {
		return "", "", false
	}
	main, short = name[:i], name[i+2:len(name)-1]
	if strings.Contains(short, " ") || strings.Contains(short, ",") {
		short = ""
	}
	return main, short, true
}

var greek = strings.NewReplacer("α", "alpha", "β", "beta", "γ", "gamma", "δ", "delta", "ω", "omega", "ß", "ss", "ø", "o", "æ", "ae", "œ", "oe")

// fold brings a name to a form in which spelling habits do not count: lower case, no accents, Greek letters spelt out,
// sulph as sulf, every mark a blank.
func fold(s string) string {
	s = greek.Replace(strings.ToLower(s))
	var b strings.Builder
	blank := true
	for _, r := range norm.NFKD.String(s) {
		switch {
		case unicode.Is(unicode.Mn, r) || r == '\'' || r == '′' || r == '’':
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
			blank = false
		case !blank:
			b.WriteByte(' ')
			blank = true
		}
	}
	return strings.ReplaceAll(strings.TrimSpace(b.String()), "sulph", "sulf")
}

func trigrams(s string) map[[3]rune]bool {
	r := []rune("  " + s + " ")
	out := make(map[[3]rune]bool, len(r))
	for i := 0; i+2 < len(r); i++ {
		out[[3]rune{r[i], r[i+1], r[i+2]}] = true
	}
	return out
}

// maxQuery bounds what Search reads of a query, in bytes; no substance name held is longer.
const maxQuery = 200

var numberInText = regexp.MustCompile(`\b\d{2,7}-\d{2}-\d\b`)

// Search finds substances by CAS number (also one misread digit), EC number, name, synonym in any language held, part of
// a name, or a name with typing errors. It gives at most n answers, best first, each substance once.
func (t *Table) Search(query string, n int) []Match {
	query = strings.TrimSpace(query)
	if len(query) > maxQuery {
		query = strings.ToValidUTF8(query[:maxQuery], "")
	}
	if query == "" || n <= 0 {
		return nil
	}
	best := map[*Substance]Match{}
	put := func(m Match) {
		if old, ok := best[m.Substance]; !ok || m.Score > old.Score {
			m.CAS, m.Name = m.Substance.CAS, m.Substance.Name
			best[m.Substance] = m
		}
	}
	t.searchNumbers(query, put)
	if q := newQuery(query); q.folded != "" {
		x := t.index()
		shared := make([]uint8, len(x.labels))
		for g := range q.grams {
			for _, i := range x.having[g] {
				shared[i]++
			}
		}
		for i := range x.labels {
			if shared[i] == 0 {
				continue
			}
			l := &x.labels[i]
			if score, why, exact := q.compare(l, int(shared[i])); score > 0 {
				put(Match{Substance: l.s, Score: score, Why: why, Exact: exact})
			}
		}
	}
	out := make([]Match, 0, len(best))
	for _, m := range best {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b Match) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(len(a.Name), len(b.Name)), cmp.Compare(a.CAS, b.CAS))
	})
	return out[:min(n, len(out))]
}

// searchNumbers handles CAS and EC numbers, alone or inside the query.
func (t *Table) searchNumbers(query string, put func(Match)) {
	if s, ok := t.ByCAS(query); ok {
		put(Match{Substance: s, Score: 1, Why: "CAS number", Exact: true})
		return
	}
	if s, ok := t.ByEC(query); ok {
		put(Match{Substance: s, Score: 1, Why: "EC number", Exact: true})
		return
	}
	for _, cas := range numberInText.FindAllString(query, 4) {
		if s, ok := t.byCAS[cas]; ok {
			put(Match{Substance: s, Score: 0.995, Why: "CAS number in the text", Exact: true})
		}
	}
	if looksLikeNumber(query) {
		for i, s := range t.RepairCAS(query) {
			put(Match{Substance: s, Score: max(0.5, 0.8-0.02*float64(i)), Why: fmt.Sprintf("CAS number %s, if %q was misread or mistyped", s.CAS, query)})
		}
	}
}

// looksLikeNumber tells whether the query may be a CAS number with misread digits: at least three digits, and else only
// marks and letters that look like digits.
func looksLikeNumber(s string) bool {
	digits := 0
	for _, r := range dashes.Replace(s) {
		_, alike := misread[r]
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r != '-' && r != ' ' && !alike:
			return false
		}
	}
	return digits >= 3
}

type query struct {
	folded string
	tokens []string
	sorted []string
	joined string
	grams  map[[3]rune]bool
}

func newQuery(s string) query {
	f := fold(s)
	q := query{folded: f, tokens: strings.Fields(f), grams: trigrams(f), joined: strings.ReplaceAll(f, " ", "")}
	q.sorted = slices.Sorted(slices.Values(q.tokens))
	return q
}

// said names the label in an answer.
func (l *label) said() string {
	if l.text == l.s.Name {
		return l.kind
	}
	return l.kind + " \"" + l.text + "\""
}

// compare scores a label against the query; 0 is no match.
func (q query) compare(l *label, shared int) (score float64, why string, exact bool) {
	said := l.said()
	switch {
	case q.folded == l.folded && l.kind == "name":
		return 0.99, said, true
	case q.folded == l.folded:
		return 0.98, said, true
	case q.joined == l.joined:
		return 0.97, said + ", other spacing", true
	case len(q.tokens) > 1 && slices.Equal(q.sorted, l.sorted):
		return 0.93, "words of the " + said + " in another order", false
	case len(q.folded) >= 2 && strings.HasPrefix(l.folded, q.folded):
		return 0.8 + 0.1*float64(len(q.folded))/float64(len(l.folded)), "beginning of the " + said, false
	}
	if share := q.inside(l.tokens); share > 0 {
		return 0.66 + 0.12*share, "part of the " + said, false
	}
	return q.nearly(l, said, shared)
}

// inside tells how much of the label the query's words make up when each of them begins a word of the label; 0 when not.
func (q query) inside(tokens []string) float64 {
	if len(q.folded) < 3 {
		return 0
	}
	length, total := 0, 0
	for _, t := range tokens {
		total += len(t)
	}
	for _, w := range q.tokens {
		if !slices.ContainsFunc(tokens, func(t string) bool { return t == w || (len(w) >= 3 && strings.HasPrefix(t, w)) }) {
			return 0
		}
		length += len(w)
	}
	return min(1, float64(length)/float64(total))
}

// nearly scores typing errors: few edits between the whole names, or many trigrams shared.
func (q query) nearly(l *label, said string, shared int) (float64, string, bool) {
	n := len(q.folded)
	allowed := min(3, n/4)
	if allowed > 0 && shared*3 >= len(q.grams) && max(n-len(l.folded), len(l.folded)-n) <= allowed {
		if d := edits(q.folded, l.folded, allowed); d <= allowed {
			return 0.78 - 0.06*float64(d), fmt.Sprintf("%s, %d %s apart", said, d, plural(d, "letter", "letters")), false
		}
	}
	if n < 4 {
		return 0, "", false
	}
	dice := 2 * float64(shared) / float64(len(q.grams)+l.grams)
	if dice < 0.5 {
		return 0, "", false
	}
	return 0.25 + 0.4*dice, fmt.Sprintf("similar to the %s (%.0f %% of its letter triples)", said, 100*dice), false
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// edits is the number of letters inserted, dropped, replaced or swapped with the next between a and b (Damerau-Levenshtein
// distance in its restricted form). It stops at limit+1.
func edits(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	two, one := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range one {
		one[j] = j
	}
	for i := 1; i <= len(x); i++ {
		now := make([]int, len(y)+1)
		now[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(one[j]+1, now[j-1]+1, one[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, two[j-2]+1)
			}
			now[j] = d
			least = min(least, d)
		}
		if least > limit {
			return limit + 1
		}
		two, one = one, now
	}
	return one[len(y)]
}
