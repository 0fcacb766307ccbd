package ghs

import (
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

// tokens are the words and numbers of folded text. A dot between digits stays ("1.4"), every other mark separates.
func tokens(s string) []string {
	s = fold(s)
	isDigit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	var out []string
	start := -1
	for i, r := range s {
		keep := unicode.IsLetter(r) || unicode.IsDigit(r) || (r == '.' && isDigit(i-1) && isDigit(i+1))
		if keep && start < 0 {
			start = i
		}
		if !keep && start >= 0 {
			out = append(out, s[start:i])
			start = -1
		}
	}
	if start >= 0 {
		out = append(out, s[start:])
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
		t := tokens(name)
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
	slices.SortStableFunc(v.aliases, func(a, b alias) int {
		if d := len(strings.Join(b.tokens, "")) - len(strings.Join(a.tokens, "")); d != 0 {
			return d
		}
		return strings.Compare(strings.Join(a.tokens, " "), strings.Join(b.tokens, " "))
	})
	return nil
}

// findAlias finds the longest name of a class among the tokens and where it stands.
func findAlias(t []string) (a alias, from, to int, ok bool) {
	for _, a := range words.aliases {
		for i := 0; i+len(a.tokens) <= len(t); i++ {
			if slices.Equal(t[i:i+len(a.tokens)], a.tokens) {
				return a, i, i + len(a.tokens), true
			}
		}
	}
	return alias{}, 0, 0, false
}

// ParseClass reads the name of a hazard class, short or long, in any language carried, with or without a category.
func ParseClass(s string) (Class, bool) {
	a, _, _, ok := findAlias(withoutFillers(tokens(s)))
	return a.class, ok
}

// ParseHazard reads a hazard as sheets print it: "Skin Corr. 1B", "Skin corrosion/irritation - Category 1B", "Category 2
// skin irritation", "Acute toxicity, oral (Category 4)", "Carc. 2 inhalation". It is false when the text names no hazard
// or leaves open which one: acute toxicity without route, or by inhalation without saying gas, vapour or dust and mist.
// Readings lists what such a text may mean.
func ParseHazard(s string) (Hazard, bool) {
	r := Readings(s)
	if len(r) != 1 {
		return NoHazard, false
	}
	return r[0], true
}

// Readings lists every hazard that the text may mean, none when it names none: "Acute Tox. 4 inhalation" may be gas,
// vapour, or dust or mist.
func Readings(s string) []Hazard {
	if h, ok := words.byName[s]; ok {
		return []Hazard{h}
	}
	all := tokens(s)
	t := withoutFillers(all)
	a, from, to, ok := findAlias(t)
	if !ok {
		return nil
	}
	rest := slices.Concat(t[to:], reversed(t[:from]))
	exact := matching(a, rest, false)
	if len(exact) == 0 {
		exact = matching(a, rest, true)
	}
	return narrow(exact, all)
}

// fillers are words that stand between the name of a class and its category and carry nothing.
var fillers = map[string]bool{
	"category": true, "categories": true, "cat": true, "hazard category": true, "kategorie": true, "kat": true, "categorie": true,
	"categoria": true, "class": true, "type": true, "typ": true, "tipo": true, "division": true, "unterklasse": true, "subcategory": true,
	"sub": true, "unterkategorie": true, "gefahrenkategorie": true, "div": true, "group": true, "ghs": true,
}

func withoutFillers(t []string) []string {
	out := make([]string, 0, len(t))
	for i, w := range t {
		afterWord := i > 0 && fillers[t[i-1]]
		switch {
		case fillers[w]:
			continue
		case afterWord && len(w) <= 2:
			w = strings.NewReplacer("l", "1", "i", "1").Replace(w) // a 1 read as l or I
		case strings.HasPrefix(w, "cat") && len(w) <= 5 && len(w) > 3 && w[3] >= '1' && w[3] <= '5':
			w = w[3:] // "Cat1B"
		}
		if n := len(out); n > 0 && len(w) == 1 && w[0] >= 'a' && w[0] <= 'c' && len(out[n-1]) == 1 && out[n-1][0] >= '1' && out[n-1][0] <= '2' {
			out[n-1] += w // "1 B"
			continue
		}
		out = append(out, w)
	}
	return out
}

func reversed(t []string) []string {
	r := slices.Clone(t)
	slices.Reverse(r)
	return r
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
func soleCategory(r hazardRow) bool { return len(r.class.Hazards()) == 1 }

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
