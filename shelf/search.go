package shelf

import (
	"cmp"
	"context"
	"errors"
	"maps"
	"math/bits"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Found is one thing that a search found.
type Found struct {
	Kind  Kind   `json:"kind"`
	ID    string `json:"id"`
	Title string `json:"title"`
	Word  string `json:"word,omitempty"` // the spelling it was found by, where that is not the one searched for
}

const (
	foundAtMost   = 200 // candidates of one search
	shortest      = 3   // letters of a word that is looked up; shorter ones only narrow down
	neighbourhood = 6   // spellings tried for a word that is nowhere
)

// Search finds products, sheets, suppliers, places, questions, jobs and papers by words of their names and contents:
// product and supplier names, article numbers, ingredients, CAS, EC and UN numbers, H codes, notes. All words have to occur,
// in any order, whole or in part; a word that occurs nowhere is replaced by those spelt like it. The best come first.
func (s *Shelf) Search(ctx context.Context, query string, limit int) ([]Found, error) {
	return s.search(ctx, query, "", limit)
}

func (s *Shelf) search(ctx context.Context, query string, kind Kind, limit int) ([]Found, error) {
	if limit <= 0 || limit > foundAtMost {
		limit = foundAtMost
	}
	asked := tokens(query)
	if len(asked) == 0 {
		return []Found{}, nil
	}
	out, err := s.lookUp(ctx, [][]string{asked}, kind)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].Word = "" // as it was asked for
	}
	if len(out) == 0 {
		if out, err = s.lookUpNeighbours(ctx, asked, kind); err != nil {
			return nil, err
		}
	}
	return out[:min(limit, len(out))], nil
}

// productsFound are the IDs of the products that a text finds, best first.
func (s *Shelf) productsFound(ctx context.Context, query string) ([]string, error) {
	found, err := s.search(ctx, query, ProductKind, foundAtMost)
	ids := make([]string, len(found))
	for i, f := range found {
		ids[i] = f.ID
	}
	return ids, err
}

// candidate is a row of the search table that holds all words.
type candidate struct {
	Found
	folded, body string
	spelling     int // of those looked for, the first that it holds
	score        int
}

// lookUp finds what holds all words of one of the given spellings, titles first. The earlier spelling counts more.
func (s *Shelf) lookUp(ctx context.Context, spellings [][]string, kind Kind) ([]Found, error) {
	all, err := s.candidates(ctx, "folded", spellings, kind)
	if err != nil {
		return nil, err
	}
	if len(all) < foundAtMost {
		more, err := s.candidates(ctx, "body", spellings, kind)
		if err != nil {
			return nil, err
		}
		all = append(all, more...)
	}
	seen := map[string]bool{}
	kept := all[:0]
	for _, c := range all {
		if !seen[c.ID] {
			seen[c.ID] = true
			c.spelling = slices.IndexFunc(spellings, c.holds)
			if c.spelling < 0 {
				continue
			}
			c.score = scoreOf(c, spellings[c.spelling])
			kept = append(kept, c)
		}
	}
	slices.SortStableFunc(kept, func(a, b candidate) int {
		return cmp.Or(a.spelling-b.spelling, b.score-a.score, cmp.Compare(a.folded, b.folded), cmp.Compare(a.ID, b.ID))
	})
	out := make([]Found, len(kept))
	for i, c := range kept {
		out[i] = c.Found
		out[i].Word = strings.Join(spellings[c.spelling], " ")
	}
	return out, nil
}

// holds tells whether a candidate has all words.
func (c candidate) holds(words []string) bool {
	for _, w := range words {
		if !strings.Contains(c.folded, w) && !strings.Contains(c.body, w) {
			return false
		}
	}
	return true
}

// candidates are rows of the search table that have all words of one spelling in a column.
func (s *Shelf) candidates(ctx context.Context, column string, spellings [][]string, kind Kind) ([]candidate, error) {
	w := conditions{}
	from, match := "found f", ""
	if !s.dialect.bound {
		match = matching(column, spellings)
	}
	if match != "" {
		from = "found_text x JOIN found f ON f.rowid = x.rowid"
		w.add("found_text MATCH ?", match)
	}
	if match == "" || slices.ContainsFunc(spellings, func(words []string) bool { return slices.ContainsFunc(words, short) }) {
		var either []string
		var args []any
		for _, words := range spellings {
			var each []string
			for _, word := range words { // words are letters, digits and a few marks: none of LIKE's own
				each = append(each, "f."+column+" LIKE ?")
				args = append(args, "%"+word+"%")
			}
			either = append(either, strings.Join(each, " AND "))
		}
		w.add("("+strings.Join(either, " OR ")+")", args...)
	}
	w.equal("f.kind", string(kind))
	rows, err := s.rows(ctx, "SELECT f.kind, f.ref, f.title, f.folded, f.body FROM "+from+w.sql()+" LIMIT ?", append(w.args, foundAtMost)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []candidate
	for rows.Next() {
		var c candidate
		if err := rows.Scan(words[Kind]{&c.Kind}, &c.ID, &c.Title, &c.folded, &c.body); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, rows.Err()
}

// short tells that a word has fewer letters than the index has pieces of.
func short(word string) bool { return utf8.RuneCountInString(word) < shortest }

// matching is the question to the index of SQLite; "" when a spelling has short words only, which it does not know.
func matching(column string, spellings [][]string) string {
	var either []string
	for _, words := range spellings {
		var each []string
		for _, word := range words { // words hold no quotation marks
			if !short(word) {
				each = append(each, column+` : "`+word+`"`)
			}
		}
		if len(each) == 0 {
			return ""
		}
		either = append(either, "("+strings.Join(each, " AND ")+")")
	}
	return strings.Join(either, " OR ")
}

// scoreOf is how well a candidate fits: whole words above beginnings above parts, titles above contents, products first.
func scoreOf(c candidate, asked []string) int {
	score := 0
	if c.Kind == ProductKind {
		score += 5
	}
	if c.folded == strings.Join(asked, " ") {
		score += 100
	}
	for _, word := range asked {
		title, body := " "+c.folded+" ", " "+c.body+" "
		switch {
		case strings.Contains(title, " "+word+" "):
			score += 40
		case strings.Contains(title, " "+word):
			score += 25
		case strings.Contains(title, word):
			score += 15
		case strings.Contains(body, " "+word+" "):
			score += 10
		case strings.Contains(body, " "+word):
			score += 6
		default:
			score++
		}
	}
	return score
}

// lookUpNeighbours replaces the words that occur nowhere by those spelt like them.
func (s *Shelf) lookUpNeighbours(ctx context.Context, asked []string, kind Kind) ([]Found, error) {
	known, err := s.vocabulary(ctx)
	if err != nil {
		return nil, err
	}
	spellings := [][]string{{}}
	for _, word := range asked {
		choices := spelt(word, known)
		if len(choices) == 0 {
			return []Found{}, nil
		}
		var longer [][]string
		for _, so := range spellings {
			for _, c := range choices {
				longer = append(longer, append(slices.Clone(so), c))
			}
		}
		spellings = longer[:min(2*neighbourhood, len(longer))]
	}
	return s.lookUp(ctx, spellings, kind)
}

// known are words with the letters in each, so that most words that are not alike are told apart by one comparison.
type known struct {
	words   []string
	letters []uint64
}

// lettersIn marks the letters of a word; rare ones share their marks.
func lettersIn(word string) (mask uint64) {
	for _, r := range word {
		switch {
		case r >= 'a' && r <= 'z':
			mask |= 1 << (r - 'a')
		case r >= '0' && r <= '9':
			mask |= 1 << (26 + r - '0')
		default:
			mask |= 1 << (36 + r%28)
		}
	}
	return mask
}

// spelt are the known words nearest to a word: itself where it is part of a known one, else those with the fewest letters
// changed, up to a quarter of them. A word is at least as far away as it has letters that the other has not.
func spelt(word string, of known) []string {
	type near struct {
		word string
		away int
	}
	var out []near
	most := max(1, len([]rune(word))/4)
	letters := lettersIn(word)
	for i, k := range of.words {
		missing := bits.OnesCount64(letters &^ of.letters[i])
		if missing > most {
			continue
		}
		if missing == 0 && strings.Contains(k, word) {
			return []string{word}
		}
		if len(word) < shortest+1 {
			continue
		}
		if away := apart(word, k, most); away <= most {
			out = append(out, near{k, away})
		}
	}
	slices.SortFunc(out, func(a, b near) int { return cmp.Or(a.away-b.away, cmp.Compare(a.word, b.word)) })
	var list []string
	for _, n := range out[:min(neighbourhood, len(out))] {
		list = append(list, n.word)
	}
	return list
}

// apart is the number of letters to put in, take out, change, or swap with their neighbour to make b of a, or most+1 when it is
// more than most. Letters that are missing at the end of a count nothing: people type beginnings.
func apart(a, b string, most int) int {
	if len(b) < len(a)-most {
		return most + 1
	}
	x, y := []rune(a), []rune(b)
	if len(y) > len(x)+most {
		y = y[:len(x)+most]
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		low := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			low = min(low, row[j])
		}
		if low > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return slices.Min(last[min(len(last)-1, max(0, len(x)-most)):])
}

// lexicon keeps the vocabulary of a shelf in memory and fetches only what is new. Words are only ever added.
type lexicon struct {
	mu   sync.Mutex
	upTo int64
	known
}

func (s *Shelf) vocabulary(ctx context.Context) (known, error) {
	l := &s.lexicon
	l.mu.Lock()
	defer l.mu.Unlock()
	rows, err := s.rows(ctx, "SELECT word, seq FROM vocabulary WHERE seq > ?", l.upTo)
	if err != nil {
		return known{}, err
	}
	defer rows.Close()
	upTo := l.upTo
	for rows.Next() {
		var word string
		var seq int64
		if err := rows.Scan(&word, &seq); err != nil {
			return known{}, err
		}
		l.words, l.letters = append(l.words, word), append(l.letters, lettersIn(word))
		upTo = max(upTo, seq)
	}
	if err := rows.Err(); err != nil {
		return known{}, err
	}
	l.upTo = upTo
	return known{l.words[:len(l.words):len(l.words)], l.letters[:len(l.letters):len(l.letters)]}, nil
}

// find keeps a record's row of the search up to date.
func (x *change) find(ctx context.Context, r row) error {
	if p, ok := r.(*Product); ok {
		x.findProduct(p.ID)
		return nil
	}
	if t, ok := r.(*Sheet); ok {
		x.findProductOf(t)
	}
	if s, ok := r.(*Supplier); ok {
		if err := x.findProductsOf(ctx, s.ID); err != nil {
			return err
		}
	}
	switch r.kind() {
	case SupplierKind, PlaceKind, SheetKind, QuestionKind, JobKind, PaperKind, BlendKind:
		return x.findAs(ctx, r, r.searched())
	}
	return nil
}

// findAs keeps what a record is found by; a retired one is not found.
func (x *change) findAs(ctx context.Context, r row, more string) error {
	c := r.common()
	if !c.Retired.IsZero() {
		return x.exec(ctx, "DELETE FROM found WHERE kind = ? AND ref = ?", string(r.kind()), c.ID)
	}
	title := folded(r.title())
	body := strings.Join(uniqueTokens(joined(r.title(), more)), " ")
	err := x.exec(ctx, "INSERT INTO found (kind, ref, title, folded, body) VALUES (?, ?, ?, ?, ?) ON CONFLICT (kind, ref) DO UPDATE SET title = excluded.title, folded = excluded.folded, body = excluded.body",
		string(r.kind()), c.ID, storable(r.title()), title, body)
	if err != nil {
		return err
	}
	return x.learn(ctx, strings.Fields(body))
}

// learn adds words to the vocabulary.
func (x *change) learn(ctx context.Context, list []string) error {
	for len(list) > 0 {
		part := list[:min(200, len(list))]
		list = list[len(part):]
		var args []any
		for _, w := range part {
			if len(w) >= shortest && len(w) <= 40 {
				args = append(args, w, x.seq)
			}
		}
		if len(args) == 0 {
			continue
		}
		if err := x.exec(ctx, "INSERT INTO vocabulary (word, seq) VALUES (?, ?)"+strings.Repeat(", (?, ?)", len(args)/2-1)+" ON CONFLICT (word) DO NOTHING", args...); err != nil {
			return err
		}
	}
	return nil
}

// findProduct marks a product whose words change; they are kept once, before the end of the transaction.
func (x *change) findProduct(id string) {
	if x.refind == nil {
		x.refind = map[string]bool{}
	}
	x.refind[id] = true
}

// findMarked keeps the words of the products that were marked, and their rows in the lists.
func (x *change) findMarked(ctx context.Context) error {
	marked := slices.Sorted(maps.Keys(x.refind))
	for _, id := range marked {
		if err := x.wordsOf(ctx, id); err != nil {
			return err
		}
	}
	return x.list(ctx, marked)
}

// wordsOf keeps what a product is found by: its own words, its supplier's name, and those of its sheet in force.
func (x *change) wordsOf(ctx context.Context, id string) error {
	p, err := load[Product](ctx, x, id)
	if err != nil {
		return err
	}
	more := p.searched()
	if p.Supplier != "" {
		u, err := load[Supplier](ctx, x, p.Supplier)
		if err != nil {
			return err
		}
		more = joined(more, u.Name)
	}
	if p.Sheet != "" {
		t, err := load[Sheet](ctx, x, p.Sheet)
		if err != nil {
			return err
		}
		more = joined(more, t.words)
	}
	return x.findAs(ctx, &p, more)
}

func (x *change) findProductOf(t *Sheet) {
	if t.Product != "" {
		x.findProduct(t.Product)
	}
}

func (x *change) findProductsOf(ctx context.Context, supplier string) error {
	rows, err := x.rows(ctx, "SELECT id FROM products WHERE supplier_id = ?", supplier)
	if err != nil {
		return err
	}
	var ids []string
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			rows.Close()
			return err
		}
		ids = append(ids, id)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return err
	}
	for _, id := range ids {
		x.findProduct(id)
	}
	return nil
}

// folded is a text as it is compared: lower case, without accents, its words apart by one space.
func folded(s string) string { return strings.Join(tokens(s), " ") }

// tokens are the words of a text as they are compared. Hyphens, dots, slashes and the like stay inside words and numbers.
func tokens(s string) []string {
	var out []string
	var word strings.Builder
	end := func() {
		if w := strings.Trim(word.String(), "-./+'"); w != "" {
			out = append(out, w)
		}
		word.Reset()
	}
	for _, r := range norm.NFKD.String(strings.ToLower(s)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == 'ß':
			word.WriteString("ss")
		case unicode.IsLetter(r), unicode.IsDigit(r), strings.ContainsRune("-./+'", r):
			word.WriteRune(r)
		default:
			end()
		}
	}
	end()
	return out
}

func uniqueTokens(s string) []string {
	var out []string
	seen := map[string]bool{}
	for _, t := range tokens(s) {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	return out
}

// joined are texts one after the other, empty ones left out.
func joined(all ...string) string {
	var kept []string
	for _, s := range all {
		if s != "" {
			kept = append(kept, s)
		}
	}
	return strings.Join(kept, " ")
}

func firstLine(s string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(s), "\n")
	if r := []rune(line); len(r) > 120 {
		return string(r[:119]) + "…"
	}
	return line
}
