package ghs

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// fold brings text to one form for comparing: lower case, no accents, ligatures and ß spelt out, single blanks.
func fold(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	blank := true
	for _, r := range norm.NFKD.String(s) {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case unicode.IsSpace(r):
			if !blank {
				b.WriteByte(' ')
			}
			blank = true
			continue
		case r == 'ß':
			b.WriteString("ss")
		case r == 'œ' || r == 'Œ':
			b.WriteString("oe")
		case r == '’' || r == '‘' || r == '`' || r == '´':
			b.WriteByte('\'')
		default:
			b.WriteRune(unicode.ToLower(r))
		}
		blank = false
	}
	return strings.TrimSpace(b.String())
}

// word is a word or number of a text, folded, with the bytes it stands in.
type word struct {
	text       string
	start, end int
}

// tokenise splits a text into folded words and numbers. A dot between digits stays ("1.4"), every other mark separates.
func tokenise(s string) []word {
	var out []word
	var b strings.Builder
	start := -1
	flush := func(end int) {
		if start >= 0 {
			out = append(out, word{b.String(), start, end})
			b.Reset()
			start = -1
		}
	}
	for i, r := range s {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '.' && digitAt(s, i-1) && digitAt(s, i+1):
			if start < 0 {
				start = i
			}
			if f := foldRune(r); f != "" {
				b.WriteString(f)
			} else {
				b.WriteRune(unicode.ToLower(r))
			}
		case unicode.Is(unicode.Mn, r): // an accent set apart from its letter
		default:
			flush(i)
		}
	}
	flush(len(s))
	return out
}

func digitAt(s string, i int) bool { return i >= 0 && i < len(s) && isDigit(s[i]) }

func texts(t []word) []string {
	out := make([]string, len(t))
	for i := range t {
		out[i] = t[i].text
	}
	return out
}

// alias is one way a part or class is named, as folded tokens.
type alias struct {
	tokens []string
	part   string // the part named, or the first part of the class
	class  Class
}

// loadAliases reads aliases.csv and adds the names and titles of the parts and classes themselves. Longer names come
// first, so that "corrosion irritation" is found before "irritation".
func (v *vocabulary) loadAliases() error {
	rows, err := readTable(tables, "aliases.csv")
	if err != nil {
		return err
	}
	seen := map[string]bool{}
	add := func(name, key string, class Class) {
		t := texts(tokenise(name))
		id := strings.Join(t, " ")
		if len(t) > 0 && !seen[id] {
			seen[id] = true
			v.aliases = append(v.aliases, alias{t, key, class})
		}
	}
	for _, p := range v.parts {
		add(p.short, p.key, p.class)
		for _, t := range p.title {
			add(t, p.key, p.class)
		}
	}
	for _, row := range rows {
		add(row["alias"], row["part"], v.parts[row["part"]].class)
	}
	for i, c := range v.classes {
		for _, r := range v.hazards {
			if i > 0 && r.class == Class(i) {
				add(c.short, r.part, r.class)
				for _, t := range c.title {
					add(t, r.part, r.class)
				}
				break
			}
		}
	}
	v.byFirst = map[string][]int{}
	slices.SortStableFunc(v.aliases, func(a, b alias) int {
		return cmp.Or(cmp.Compare(a.letters(), b.letters())*-1, slices.Compare(a.tokens, b.tokens))
	})
	for i, a := range v.aliases {
		v.byFirst[a.tokens[0]] = append(v.byFirst[a.tokens[0]], i)
	}
	return nil
}

func (a alias) letters() int {
	n := 0
	for _, t := range a.tokens {
		n += len(t)
	}
	return n
}

// aliasAt finds the longest name of a class that begins at token i.
func aliasAt(t []word, i int) (alias, bool) {
	for _, k := range words.byFirst[t[i].text] {
		a := words.aliases[k]
		if i+len(a.tokens) > len(t) {
			continue
		}
		same := true
		for j, w := range a.tokens {
			same = same && t[i+j].text == w
		}
		if same {
			return a, true
		}
	}
	return alias{}, false
}

// findAlias finds the longest name of a class among the tokens and where it stands.
func findAlias(t []word) (best alias, from, to int, ok bool) {
	for i := range t {
		if a, found := aliasAt(t, i); found && a.letters() > best.letters() {
			best, from, to, ok = a, i, i+len(a.tokens), true
		}
	}
	return best, from, to, ok
}

// ParseClass reads the name of a hazard class, short or long, in any language carried, with or without a category.
func ParseClass(s string) (Class, bool) {
	a, _, _, ok := findAlias(withoutFillers(tokenise(s)))
	return a.class, ok
}

// ParseHazard reads a hazard as sheets print it: "Skin Corr. 1B", "Skin corrosion/irritation - Category 1B", "Category 2
// skin irritation", "Acute toxicity, oral (Category 4)", "Carc. 2 inhalation". It is false when the text names no hazard
// or leaves open which one: acute toxicity without route, or by inhalation without saying gas, vapour or dust and mist.
// See Readings for what such a text may mean.
func ParseHazard(s string) (Hazard, bool) {
	r := Readings(s)
	if len(r) != 1 {
		return NoHazard, false
	}
	return r[0], true
}

// Readings lists every hazard that the text may mean, none when it names none: "Acute Tox. 4 inhalation" may be gas,
// vapour, or dust or mist. A text that names several classes is read as the one named at most length; see FindHazards.
func Readings(s string) []Hazard {
	if h, ok := words.byName[s]; ok {
		return []Hazard{h}
	}
	all := tokenise(s)
	if foreignScheme(all) {
		return nil
	}
	t := withoutFillers(all)
	a, from, to, ok := findAlias(t)
	if !ok {
		return nil
	}
	return readingsOf(a, t[to:], t[:from], all)
}

// readingsOf lists the hazards of the class named whose category stands after the name or else before it.
func readingsOf(a alias, after, before, said []word) []Hazard {
	rest := append(texts(after), reversed(texts(before))...)
	hs := matching(a, rest, false)
	if len(hs) == 0 {
		hs = matching(a, rest, true)
	}
	return narrow(hs, texts(said))
}

// HazardHit is a hazard found in a longer text: what it may be, and the bytes of the text from its name to the end of its
// category.
type HazardHit struct {
	Readings   []Hazard
	Start, End int
}

// FindHazards finds the hazards listed in a text, left to right: "Skin Irrit. 2, H315; Eye Irrit. 2, H319; Acute Tox. 4
// (oral)". A class counts only with its category; a class without categories only where it stands as an item of its own.
func FindHazards(s string) []HazardHit {
	t := withoutFillers(tokenise(s))
	if foreignScheme(t) {
		return nil
	}
	type named struct {
		alias
		from, to int
	}
	var names []named
	for i := 0; i < len(t); i++ {
		if a, ok := aliasAt(t, i); ok {
			names = append(names, named{a, i, i + len(a.tokens)})
			i += len(a.tokens) - 1
		}
	}
	var out []HazardHit
	low := 0
	for k, n := range names {
		high := len(t)
		if k+1 < len(names) {
			high = names[k+1].from
		}
		after, before := t[n.to:high], t[low:n.from]
		hs, at := withCategory(n.alias, after, before)
		if at < 0 && !standsAlone(s, t[n.from].start, t[n.to-1].end) {
			continue
		}
		hit := HazardHit{narrow(hs, texts(t[n.from:high])), t[n.from].start, t[n.to-1].end}
		low = n.to
		switch {
		case at >= 0 && at < len(after):
			hit.End = after[at].end
			low = n.to + at + 1
		case at >= 0:
			hit.Start = before[len(before)-1-(at-len(after))].start
		}
		if len(hit.Readings) > 0 {
			out = append(out, hit)
		}
	}
	return out
}

// nearby is how many words may stand between the name of a class and its category.
const nearby = 6

// withCategory finds the category nearest to the name of a class, after it or directly before it. The place counts through
// the words after and then back through those before; -1 when the hazards have no category.
func withCategory(a alias, after, before []word) ([]Hazard, int) {
	rest := texts(after[:min(len(after), nearby)])
	for i, w := range rest {
		if hs := ofCategory(a, w); len(hs) > 0 {
			return hs, i
		}
	}
	if n := len(before); n > 0 {
		if hs := ofCategory(a, before[n-1].text); len(hs) > 0 {
			return hs, len(after)
		}
	}
	return matching(a, nil, false), -1
}

// ofCategory lists the hazards of the category in the part named, or else in its class.
func ofCategory(a alias, category string) []Hazard {
	for _, wholeClass := range []bool{false, true} {
		var out []Hazard
		for i, r := range words.hazards {
			if i > 0 && r.class == a.class && (r.part == a.part || wholeClass) && r.category != "" && strings.EqualFold(r.category, category) {
				out = append(out, Hazard(i))
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// standsAlone tells whether a name is an item of its own: nothing but marks around it up to the next item or a code.
func standsAlone(s string, start, end int) bool {
	before := strings.TrimRight(s[:start], " \t")
	after := strings.TrimLeft(s[end:], " \t.)")
	begins := before == "" || strings.ContainsRune(";,:|/+•·–—-(\n", lastRune(before))
	ends := after == "" || strings.ContainsRune(";,|/+(–—-\n", firstRune(after)) || len(ParseCodes(after[:min(len(after), 8)])) > 0
	return begins && ends
}

// foreignScheme tells whether the text speaks of the Canadian classes before GHS ("Class B, Division 2").
func foreignScheme(t []word) bool {
	return slices.ContainsFunc(t, func(w word) bool { return w.text == "whmis" || w.text == "simdut" })
}

// fillers are words that stand between the name of a class and its category and carry nothing.
var fillers = map[string]bool{
	"category": true, "categories": true, "cat": true, "kategorie": true, "kat": true, "categorie": true, "categoria": true,
	"class": true, "type": true, "typ": true, "tipo": true, "division": true, "unterklasse": true, "subcategory": true,
	"sub": true, "unterkategorie": true, "gefahrenkategorie": true, "div": true, "group": true, "ghs": true,
}

// withoutFillers leaves out the fillers, reads l and I after one as 1, and joins "1 B" and "Cat1B".
func withoutFillers(t []word) []word {
	out := make([]word, 0, len(t))
	for i, w := range t {
		switch {
		case fillers[w.text]:
			continue
		case i > 0 && fillers[t[i-1].text] && len(w.text) <= 2:
			w.text = strings.NewReplacer("l", "1", "i", "1").Replace(w.text)
		case strings.HasPrefix(w.text, "cat") && len(w.text) <= 5 && len(w.text) > 3 && w.text[3] >= '1' && w.text[3] <= '5':
			w.text = w.text[3:]
		}
		if n := len(out); n > 0 && len(w.text) == 1 && w.text[0] >= 'a' && w.text[0] <= 'c' && (out[n-1].text == "1" || out[n-1].text == "2") {
			out[n-1].text += w.text
			out[n-1].end = w.end
			continue
		}
		out = append(out, w)
	}
	return out
}

func reversed(t []string) []string {
	slices.Reverse(t)
	return t
}

// matching lists the hazards of the part named (or, with wholeClass, of its class) whose category is the first category
// that the remaining words hold. Parts without categories match as they are.
func matching(a alias, rest []string, wholeClass bool) []Hazard {
	inScope := func(r hazardRow) bool {
		return r.class == a.class && (r.part == a.part || wholeClass)
	}
	for _, w := range rest {
		var out []Hazard
		for i, r := range words.hazards {
			if i > 0 && inScope(r) && r.category != "" && strings.EqualFold(r.category, w) {
				out = append(out, Hazard(i))
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	var out []Hazard
	for i, r := range words.hazards {
		if i > 0 && inScope(r) && (r.category == "" || soleCategory(r)) {
			out = append(out, Hazard(i))
		}
	}
	return out
}

// soleCategory tells whether the hazard is the only one of its class, so that the category need not be written.
func soleCategory(r hazardRow) bool { return words.classes[r.class].only }

// qualifierWords are the words by which a route or effect is told, as folded tokens or beginnings of tokens ending in *.
var qualifierWords = []struct {
	word string
	q    []Qualifier
}{
	{"oral*", []Qualifier{Oral}}, {"ingestion", []Qualifier{Oral}}, {"swallow*", []Qualifier{Oral}}, {"orale*", []Qualifier{Oral}},
	{"h300", []Qualifier{Oral}}, {"h301", []Qualifier{Oral}}, {"h302", []Qualifier{Oral}}, {"h303", []Qualifier{Oral}}, {"verschlucken", []Qualifier{Oral}},
	{"ingestion*", []Qualifier{Oral}}, {"ingesti*", []Qualifier{Oral}},
	{"dermal*", []Qualifier{Dermal}}, {"skin", []Qualifier{Dermal}}, {"cutane*", []Qualifier{Dermal}}, {"haut*", []Qualifier{Dermal}},
	{"peau", []Qualifier{Dermal}}, {"piel", []Qualifier{Dermal}},
	{"h310", []Qualifier{Dermal}}, {"h311", []Qualifier{Dermal}}, {"h312", []Qualifier{Dermal}}, {"h313", []Qualifier{Dermal}},
	{"inhal*", inhalation}, {"einatmen", inhalation}, {"h330", inhalation}, {"h331", inhalation}, {"h332", inhalation}, {"h333", inhalation},
	{"gas", []Qualifier{InhalationGas}}, {"gases", []Qualifier{InhalationGas}}, {"gaz", []Qualifier{InhalationGas}},
	{"vapo*", []Qualifier{InhalationVapour}}, {"vapeur*", []Qualifier{InhalationVapour}}, {"dampf*", []Qualifier{InhalationVapour}},
	{"dust*", []Qualifier{InhalationDust}}, {"mist*", []Qualifier{InhalationDust}}, {"staub*", []Qualifier{InhalationDust}},
	{"nebel*", []Qualifier{InhalationDust}}, {"poussiere*", []Qualifier{InhalationDust}}, {"brouillard*", []Qualifier{InhalationDust}},
	{"polvo*", []Qualifier{InhalationDust}}, {"niebla*", []Qualifier{InhalationDust}},
	{"narco*", []Qualifier{Narcotic}}, {"narko*", []Qualifier{Narcotic}}, {"h336", []Qualifier{Narcotic}}, {"drows*", []Qualifier{Narcotic}},
	{"dizziness", []Qualifier{Narcotic}}, {"somnolence", []Qualifier{Narcotic}}, {"schlafrig*", []Qualifier{Narcotic}}, {"somnolencia", []Qualifier{Narcotic}},
	{"respirat*", []Qualifier{Respiratory}}, {"h335", []Qualifier{Respiratory}}, {"rti", []Qualifier{Respiratory}}, {"irritation", []Qualifier{Respiratory}},
	{"atemweg*", []Qualifier{Respiratory}}, {"irritacion", []Qualifier{Respiratory}},
	{"pyr", []Qualifier{Pyrophoric}}, {"pyrophor*", []Qualifier{Pyrophoric}}, {"pirofor*", []Qualifier{Pyrophoric}}, {"h232", []Qualifier{Pyrophoric}},
	{"h230", []Qualifier{UnstableA}}, {"h231", []Qualifier{UnstableB}},
	{"comp", []Qualifier{Compressed}}, {"compr*", []Qualifier{Compressed}}, {"verdichtet*", []Qualifier{Compressed}},
	{"ref", []Qualifier{Refrigerated}}, {"refrig*", []Qualifier{Refrigerated}}, {"tiefgekuhlt*", []Qualifier{Refrigerated}}, {"h281", []Qualifier{Refrigerated}},
	{"liq", []Qualifier{Liquefied}}, {"lique*", []Qualifier{Liquefied}}, {"liquif*", []Qualifier{Liquefied}}, {"licuado*", []Qualifier{Liquefied}}, {"verflussigt*", []Qualifier{Liquefied}},
	{"diss", []Qualifier{Dissolved}}, {"dissol*", []Qualifier{Dissolved}}, {"dissous", []Qualifier{Dissolved}}, {"gelost*", []Qualifier{Dissolved}}, {"disuelto*", []Qualifier{Dissolved}},
}

var inhalation = []Qualifier{InhalationGas, InhalationVapour, InhalationDust}

func wordMatches(pattern, w string) bool {
	if p, ok := strings.CutSuffix(pattern, "*"); ok {
		return strings.HasPrefix(w, p)
	}
	return pattern == w
}

// narrow keeps of the hazards, which share a category, those whose route or effect the words tell. Words that tell none
// of them leave the hazard without route or effect when there is one (STOT SE 3, Press. Gas), else all.
func narrow(hs []Hazard, said []string) []Hazard {
	if len(hs) < 2 {
		return hs
	}
	told := map[Qualifier]bool{}
	for _, w := range said {
		for _, qw := range qualifierWords {
			if wordMatches(qw.word, w) {
				for _, q := range qw.q {
					told[q] = true
				}
			}
		}
	}
	told[UnstableA] = told[UnstableA] || saysUnstable(said, "a")
	told[UnstableB] = told[UnstableB] || saysUnstable(said, "b")
	if told[Refrigerated] {
		told[Liquefied] = false // "refrigerated liquefied gas" names one group
	}
	if forms := inhaledForms(said); len(forms) > 0 {
		for _, q := range inhalation {
			told[q] = slices.Contains(forms, q)
		}
	}
	var kept, plain []Hazard
	for _, h := range hs {
		switch q := h.Qualifier(); {
		case q == NoQualifier:
			plain = append(plain, h)
		case told[q]:
			kept = append(kept, h)
		}
	}
	switch {
	case len(kept) > 0:
		return kept
	case len(plain) > 0:
		return plain
	}
	return hs
}

// saysUnstable tells whether the words name a chemically unstable gas of the letter.
func saysUnstable(said []string, letter string) bool {
	for i, w := range said {
		if strings.HasPrefix(w, "unst") || strings.HasPrefix(w, "instab") || strings.HasPrefix(w, "inestab") {
			return slices.Contains(said[i:], letter)
		}
	}
	return false
}

// inhaledForms lists the forms (gas, vapour, dust or mist) that the words name one by one.
func inhaledForms(said []string) []Qualifier {
	var out []Qualifier
	for _, w := range said {
		for _, qw := range qualifierWords {
			if len(qw.q) == 1 && slices.Contains(inhalation, qw.q[0]) && wordMatches(qw.word, w) && !slices.Contains(out, qw.q[0]) {
				out = append(out, qw.q[0])
			}
		}
	}
	return out
}
