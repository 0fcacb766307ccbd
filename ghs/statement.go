package ghs

import (
	"embed"
	"slices"
	"strings"
	"sync"
)

//go:embed statements/*.csv
var statementFiles embed.FS

// StatementKind is the family of a statement code.
type StatementKind string

// Kinds.
const (
	HazardStatement        StatementKind = "H"
	SupplementalStatement  StatementKind = "EUH" // European Union supplemental hazard information
	PrecautionaryStatement StatementKind = "P"
	UncodedStatement       StatementKind = "own" // wording that a law prescribes without giving it a code
)

// Statement is one statement of the standard: what its code is, between which revisions of UN GHS it was in force, and
// which hazards give it.
type Statement struct {
	Code          Code
	Kind          StatementKind
	SinceRevision string // first revision of UN GHS that has it, as recalled; "" where the tables do not say
	LastRevision  string // last revision (or law) that has it; "" while it is in force
	Note          string
	Hazards       []Hazard // that give it under any rule set, in table order; none for P and most EUH statements
}

// Retired tells whether the newest revision no longer has the statement.
func (s Statement) Retired() bool { return s.LastRevision != "" }

// phraseRow is the wording of one code in one language and where it was read.
type phraseRow struct {
	text   string
	source string
	memory bool
}

type statementTables struct {
	codes    map[Code]Statement
	order    []Code
	phrases  map[Lang]map[Code]phraseRow
	variants []variantRow
}

type variantRow struct {
	code Code
	lang Lang
	text string
}

var statements = sync.OnceValue(func() *statementTables {
	t, err := loadStatements()
	if err != nil {
		panic(err) // the tables are part of the program; any test finds a fault in them
	}
	return t
})

func loadStatements() (*statementTables, error) {
	t := &statementTables{codes: map[Code]Statement{}, phrases: map[Lang]map[Code]phraseRow{}}
	rows, err := readTable(statementFiles, "statements/codes.csv")
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		c := Code(r["code"])
		t.order = append(t.order, c)
		t.codes[c] = Statement{Code: c, Kind: StatementKind(r["kind"]), SinceRevision: r["since_revision"], LastRevision: r["last_revision"], Note: r["note"]}
	}
	for _, l := range Langs() {
		rows, err := readTable(statementFiles, "statements/"+string(l)+".csv")
		if err != nil {
			return nil, err
		}
		t.phrases[l] = make(map[Code]phraseRow, len(rows))
		for _, r := range rows {
			t.phrases[l][Code(r["code"])] = phraseRow{r["text"], r["source"], r["memory"] == "y"}
		}
	}
	rows, err = readTable(statementFiles, "statements/variants.csv")
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		t.variants = append(t.variants, variantRow{Code(r["code"]), Lang(r["lang"]), r["text"]})
	}
	return t, nil
}

// Statements that North American law prescribes without a code. As codes they are names of ours, never printed.
const (
	CombustibleDustStatement  Code = "combustible-dust"
	SimpleAsphyxiantStatement Code = "simple-asphyxiant"
	CorrosiveAirwaysStatement Code = "corrosive-airways" // 29 CFR 1910.1200 App. A, A.1.2.4.1
)

// Printed is the code as labels print it: nothing for wording without a code.
func (c Code) Printed() string {
	if c.Kind() == UncodedStatement {
		return ""
	}
	return string(c)
}

// AllStatements lists every statement of the tables in their order.
func AllStatements() []Statement {
	t := statements()
	out := make([]Statement, 0, len(t.order))
	for _, c := range t.order {
		s, _ := StatementOf(c)
		out = append(out, s)
	}
	return out
}

// StatementOf returns the statement of a code. A combination that the tables do not list is not found; see Code.Parts.
func StatementOf(c Code) (Statement, bool) {
	s, ok := statements().codes[c]
	if ok {
		s.Hazards = hazardsGiving(c)
	}
	return s, ok
}

// Kind is the family of the code, or "" when it is none of the standard's.
func (c Code) Kind() StatementKind {
	switch {
	case strings.HasPrefix(string(c), "EUH"):
		return SupplementalStatement
	case strings.HasPrefix(string(c), "H"):
		return HazardStatement
	case strings.HasPrefix(string(c), "P"):
		return PrecautionaryStatement
	case statements().codes[c].Kind == UncodedStatement:
		return UncodedStatement
	}
	return ""
}

// Parts are the single codes of a combination; a single code is its own part.
func (c Code) Parts() []Code {
	var out []Code
	for _, p := range strings.Split(string(c), "+") {
		out = append(out, Code(p))
	}
	return out
}

// Base is the code without the letters that say more about an effect or route: H360FD is an H360, H350i an H350. The
// letter of EUH201A and EUH209A is part of the code and stays.
func (c Code) Base() Code {
	if c.Kind() == HazardStatement && !strings.Contains(string(c), "+") {
		return Code(strings.TrimRight(string(c), "iFDfd"))
	}
	return c
}

// Known tells whether the tables hold the code, or every part of it.
func (c Code) Known() bool {
	if _, ok := statements().codes[c]; ok {
		return true
	}
	parts := c.Parts()
	for _, p := range parts {
		if _, ok := statements().codes[p]; !ok {
			return false
		}
	}
	return len(parts) > 1
}

// Blanks are the words for the places that a statement leaves open. Empty words leave the general wording.
type Blanks struct {
	Organs    string // H370 to H373, with article: "the liver"
	Route     string // H340, H341, H350, H351, H360, H361, H370 to H373: "by inhalation"
	Effect    string // H360, H361: "May damage fertility"
	Substance string // EUH208
}

// generalOrgans is what the standard prints when no organ is named.
var generalOrgans = map[Lang]string{English: "organs", French: "les organes", German: "die Organe", Spanish: "los órganos"}

// Phrase is the statement's wording in l with nothing filled in. A combination that the tables do not list is composed of
// its parts. It is false when the code or the language is not carried.
func Phrase(c Code, l Lang) (string, bool) { return Fill(c, l, Blanks{}) }

// Fill is the statement's wording in l with its open places filled.
func Fill(c Code, l Lang, b Blanks) (string, bool) {
	t, ok := template(c, l)
	if !ok {
		return "", false
	}
	spaced := func(s string) string {
		if s == "" {
			return ""
		}
		return " " + s
	}
	or := func(s, general string) string {
		if s == "" {
			return general
		}
		return s
	}
	return strings.NewReplacer(
		"{organs}", or(b.Organs, generalOrgans[l]), "{route}", spaced(b.Route), "{effect}", spaced(b.Effect),
		"{substance}", or(b.Substance, "…"),
	).Replace(t), true
}

// template is the wording with its open places marked, composed of the parts' when the table does not list the code.
func template(c Code, l Lang) (string, bool) {
	rows, ok := statements().phrases[l]
	if !ok {
		return "", false
	}
	if r, ok := rows[c]; ok {
		return r.text, true
	}
	parts := c.Parts()
	if len(parts) < 2 {
		return "", false
	}
	texts := make([]string, 0, len(parts))
	for _, p := range parts {
		r, ok := rows[p]
		if !ok {
			return "", false
		}
		texts = append(texts, r.text)
	}
	return strings.Join(texts, " "), true
}

// PhraseSource tells where the wording of a listed code was read, and whether it was only recalled.
func PhraseSource(c Code, l Lang) (source string, memory bool) {
	r := statements().phrases[l][c]
	return r.source, r.memory
}

// american spells the words in which United States and Canadian labels differ from the tables.
var american = strings.NewReplacer("vapour", "vapor", "Vapour", "Vapor", "oxidiser", "oxidizer", "desensitising", "desensitizing",
	"Pressurised", "Pressurized", "pressurised", "pressurized", "CENTRE", "CENTER")

// Phrase is the statement's wording as labels of the rule set print it: American spelling for English in the United
// States; otherwise as package function Phrase.
func (rs RuleSet) Phrase(c Code, l Lang, b Blanks) (string, bool) {
	t, ok := Fill(c, l, b)
	if ok && l == English && (rs == USHCS2024 || rs == USHCS2012) {
		t = american.Replace(t)
	}
	return t, ok
}

// LegacyPhrase is a risk phrase of the law before GHS with what Annex VII of Regulation (EC) No 1272/2008 made of it.
type LegacyPhrase struct {
	Code    string   // "R36/37/38"
	Text    string   // English
	Hazards []Hazard // that the translation table gives, by form or evidence; none where it gives none
	Codes   []Code   // the statements that take its place
}

// LegacySymbol is a danger symbol of the law before GHS: T+, Xn, N.
type LegacySymbol struct {
	Code    string
	Meaning map[Lang]string
}

type legacyTables struct {
	phrases map[string]LegacyPhrase
	symbols map[string]LegacySymbol
}

var legacy = sync.OnceValue(func() *legacyTables {
	rows, err := readTable(statementFiles, "statements/legacy.csv")
	if err != nil {
		panic(err)
	}
	t := &legacyTables{map[string]LegacyPhrase{}, map[string]LegacySymbol{}}
	for _, r := range rows {
		if r["kind"] == "symbol" {
			t.symbols[strings.ToLower(r["code"])] = LegacySymbol{r["code"], titles(r)}
			continue
		}
		p := LegacyPhrase{Code: r["code"], Text: r["en"]}
		for _, n := range strings.Split(r["hazards"], ";") {
			if h, ok := words.byName[n]; ok {
				p.Hazards = append(p.Hazards, h)
			}
		}
		for _, c := range strings.Fields(r["codes"]) {
			p.Codes = append(p.Codes, Code(c))
		}
		t.phrases[p.Code] = p
	}
	return t
})

// Legacy looks up a risk phrase as sheets write it: "R36/37/38", "R 20/21", "R50-53".
func Legacy(code string) (LegacyPhrase, bool) {
	code = strings.ToUpper(strings.NewReplacer(" ", "", "-", "/", "–", "/", ".", "").Replace(code))
	code = strings.ReplaceAll(code, "/R", "/")
	if p, ok := legacy().phrases[code]; ok {
		return p, true
	}
	return LegacyPhrase{}, false
}

// LegacyPhrases lists every risk phrase carried, by code.
func LegacyPhrases() []LegacyPhrase {
	var out []LegacyPhrase
	for _, p := range legacy().phrases {
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b LegacyPhrase) int { return strings.Compare(a.Code, b.Code) })
	return out
}

// ParseLegacySymbol looks up a danger symbol: "T+", "Xn", "N".
func ParseLegacySymbol(code string) (LegacySymbol, bool) {
	s, ok := legacy().symbols[strings.ToLower(strings.TrimSpace(code))]
	return s, ok
}
