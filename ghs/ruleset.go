package ghs

import (
	"embed"
	"fmt"
	"strings"
	"sync"
)

//go:embed rulesets/*.csv
var ruleSetFiles embed.FS

// RuleSets lists the rule sets carried.
func RuleSets() []RuleSet {
	return []RuleSet{UNGHS, USHCS2024, USHCS2012, EUCLP, GBCLP, CAHPR, AUWHS}
}

// Elements are the label elements that a rule set gives to one hazard, before any precedence: which are printed in the
// end is decided in package classify.
type Elements struct {
	Hazard     Hazard
	Adopted    bool   // false: the law does not classify the hazard, but its elements may stand on the label
	Codes      []Code // of hazard statements; none where the law gives none
	SignalWord SignalWord
	Pictograms []Pictogram
	Prevention []Code
	Response   []Code
	Storage    []Code
	Disposal   []Code
	Clause     string // where the law says so
	Source     string // where the row was read
	Memory     bool   // recalled, not read
}

// Precautions are all precautionary statements of the hazard in the order prevention, response, storage, disposal.
func (e Elements) Precautions() []Code {
	var all []Code
	for _, part := range [][]Code{e.Prevention, e.Response, e.Storage, e.Disposal} {
		all = append(all, part...)
	}
	return all
}

// ruleSetTable is what one file of rulesets/ says.
type ruleSetTable struct {
	name, law string
	elements  map[Hazard]Elements
}

var ruleSetTables = sync.OnceValue(func() map[RuleSet]ruleSetTable {
	t, err := loadRuleSets()
	if err != nil {
		panic(err) // the tables are part of the program; any test finds a fault in them
	}
	return t
})

func loadRuleSets() (map[RuleSet]ruleSetTable, error) {
	index, err := readTable(ruleSetFiles, "rulesets/rulesets.csv")
	if err != nil {
		return nil, err
	}
	all := map[RuleSet]ruleSetTable{}
	for _, r := range index {
		t := ruleSetTable{r["name"], r["law"], map[Hazard]Elements{}}
		rows, err := readTable(ruleSetFiles, "rulesets/"+r["rule_set"]+".csv")
		if err != nil {
			return nil, err
		}
		for _, row := range rows {
			e, err := parseElements(row)
			if err != nil {
				return nil, fmt.Errorf("rulesets/%s.csv: %w", r["rule_set"], err)
			}
			t.elements[e.Hazard] = e
		}
		all[RuleSet(r["rule_set"])] = t
	}
	return all, nil
}

func parseElements(row map[string]string) (Elements, error) {
	h, ok := words.byName[row["hazard"]]
	if !ok {
		return Elements{}, fmt.Errorf("no hazard is called %q", row["hazard"])
	}
	e := Elements{
		Hazard: h, Adopted: row["status"] == "adopted",
		Codes: codeList(row["hazard_codes"]), Prevention: codeList(row["prevention"]), Response: codeList(row["response"]),
		Storage: codeList(row["storage"]), Disposal: codeList(row["disposal"]),
		Clause: row["clause"], Source: row["source"], Memory: row["memory"] == "y",
	}
	if w := row["signal_word"]; w != "" {
		if e.SignalWord, ok = ParseSignalWord(w); !ok {
			return e, fmt.Errorf("%s: no signal word is %q", h, w)
		}
	}
	for _, name := range strings.Fields(row["pictograms"]) {
		p, ok := ParsePictogram(name)
		if !ok {
			return e, fmt.Errorf("%s: no pictogram is %q", h, name)
		}
		e.Pictograms = append(e.Pictograms, p)
	}
	return e, nil
}

func codeList(s string) []Code {
	var out []Code
	for _, f := range strings.Fields(s) {
		out = append(out, Code(f))
	}
	return out
}

// Name is the rule set in a few words: "European Union".
func (rs RuleSet) Name() string { return ruleSetTables()[rs].name }

// Law is the legal text the rule set stands for.
func (rs RuleSet) Law() string { return ruleSetTables()[rs].law }

// Known tells whether the tables carry the rule set.
func (rs RuleSet) Known() bool { return ruleSetTables()[rs].law != "" }

// Exists tells whether the rule set knows the hazard: whether a product can be classified so under its law. Hazards
// that only another law has, such as Eye Irrit. 2B under EU-CLP, do not exist.
func (rs RuleSet) Exists(h Hazard) bool { return ruleSetTables()[rs].elements[h].Adopted }

// Elements returns the label elements of the hazard. It is false when the rule set has none for it. Where the law leaves
// the hazard out but its elements may be shown (aquatic hazards in the United States), Adopted is false.
func (rs RuleSet) Elements(h Hazard) (Elements, bool) {
	e, ok := ruleSetTables()[rs].elements[h]
	return e, ok
}

// Hazards is every hazard the rule set knows.
func (rs RuleSet) Hazards() HazardSet {
	var s HazardSet
	for h, e := range ruleSetTables()[rs].elements {
		if e.Adopted {
			s.Add(h)
		}
	}
	return s
}

// givenBy maps each single code to the hazards that a rule set gives it to.
var givenBy = sync.OnceValue(func() map[RuleSet]map[Code]HazardSet {
	all := map[RuleSet]map[Code]HazardSet{}
	for rs, t := range ruleSetTables() {
		all[rs] = map[Code]HazardSet{}
		for h, e := range t.elements {
			for _, c := range e.Codes {
				all[rs][c] = all[rs][c].Union(SetOf(h))
			}
		}
	}
	return all
})

// HazardsOf lists the hazards to which the rule set gives the statement, in table order. H360FD and the like count as
// H360; a combination gives those of all its parts.
func (rs RuleSet) HazardsOf(c Code) []Hazard {
	var s HazardSet
	for _, part := range c.Parts() {
		s = s.Union(givenBy()[rs][part.Base()])
	}
	return s.All()
}

// hazardsGiving lists the hazards to which any rule set gives the statement.
func hazardsGiving(c Code) []Hazard {
	var s HazardSet
	for _, rs := range RuleSets() {
		s = s.Union(SetOf(rs.HazardsOf(c)...))
	}
	return s.All()
}

// ParseRuleSet reads a rule set's name in any case ("EU-CLP", "us_hcs_2024"). A year after a rule set that has only one
// edition here ("EU-CLP-2021") is accepted and means that rule set as carried: earlier texts are not kept apart. US-HCS
// without a year is the newest edition.
func ParseRuleSet(s string) (RuleSet, error) {
	key := strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(strings.TrimSpace(s)))
	if RuleSet(key).Known() {
		return RuleSet(key), nil
	}
	if key == "us-hcs" {
		return USHCS2024, nil
	}
	if i := strings.LastIndexByte(key, '-'); i > 0 && isYear(key[i+1:]) {
		if rs := RuleSet(key[:i]); rs.Known() {
			return rs, nil
		}
	}
	names := make([]string, 0, len(RuleSets()))
	for _, rs := range RuleSets() {
		names = append(names, string(rs))
	}
	return "", fmt.Errorf("no rule set is called %q: write one of %s", s, strings.Join(names, ", "))
}

func isYear(s string) bool {
	if len(s) != 4 || (s[:2] != "20" && s[:2] != "19") {
		return false
	}
	return strings.Trim(s[2:], "0123456789") == ""
}

// MarshalText writes the name.
func (rs RuleSet) MarshalText() ([]byte, error) { return []byte(rs), nil }

// UnmarshalText reads the name as ParseRuleSet does; the empty text is no rule set.
func (rs *RuleSet) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*rs = ""
		return nil
	}
	v, err := ParseRuleSet(string(text))
	if err != nil {
		return err
	}
	*rs = v
	return nil
}
