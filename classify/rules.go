package classify

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

// The rule tables, one file per rule set; docs/rules.md is generated from them and explains the columns. A new rule set
// is one new file here.
//
//go:embed rules/*.csv
var ruleFiles embed.FS

// RuleRow is one row of a rule table: where the law is a table, this is it.
type RuleRow struct {
	Kind   string // what the row is, see docs/rules.md
	Number string // name under which the row's sum is quoted, or ""
	Input  string // the ingredients that count and their weights
	Cutoff string // share from which an ingredient is relevant
	Op     string
	Limit  string
	Unit   string
	Which  string // condition on the ingredient
	When   string // conditions on the mixture
	Result string // the class or statement given
	Clause string // where the law says so
	Source string // how we know
	Memory bool   // recalled, not read
	Note   string
	File   string // rule set whose file holds the row
	Line   int
}

func (r *RuleRow) name() string { return fmt.Sprintf("%s.csv:%d", r.File, r.Line) }

// ruleTable is the rows of one rule set, those of the rule set it extends included, and what was read from them.
type ruleTable struct {
	rows []RuleRow
}

// tables holds each rule set's table, read once.
var tables = sync.OnceValues(loadTables)

// RuleSets lists the rule sets that mixtures can be compiled for, in alphabetical order.
func RuleSets() []ghs.RuleSet {
	all, err := tables()
	if err != nil {
		return nil
	}
	names := make([]ghs.RuleSet, 0, len(all))
	for rs := range all {
		names = append(names, rs)
	}
	slices.Sort(names)
	return names
}

// Rules are the rows of a rule set in the order of its file, those it takes over from another rule set first.
func Rules(rs ghs.RuleSet) ([]RuleRow, error) {
	t, err := tableOf(rs)
	if err != nil {
		return nil, err
	}
	return slices.Clone(t.rows), nil
}

func tableOf(rs ghs.RuleSet) (*ruleTable, error) {
	all, err := tables()
	if err != nil {
		return nil, err
	}
	t, ok := all[rs]
	if !ok {
		return nil, fmt.Errorf("no rules are held for the rule set %q: choose one of %s", rs, joinRuleSets(RuleSets()))
	}
	return t, nil
}

func joinRuleSets(sets []ghs.RuleSet) string {
	words := make([]string, len(sets))
	for i, rs := range sets {
		words[i] = string(rs)
	}
	return strings.Join(words, ", ")
}

func loadTables() (map[ghs.RuleSet]*ruleTable, error) {
	entries, err := ruleFiles.ReadDir("rules")
	if err != nil {
		return nil, err
	}
	files := map[ghs.RuleSet][]RuleRow{}
	for _, e := range entries {
		rs := ghs.RuleSet(strings.TrimSuffix(e.Name(), ".csv"))
		if files[rs], err = readRules(path.Join("rules", e.Name()), string(rs)); err != nil {
			return nil, err
		}
	}
	all := map[ghs.RuleSet]*ruleTable{}
	for rs := range files {
		rows, err := withBase(files, rs, 0)
		if err != nil {
			return nil, err
		}
		all[rs] = &ruleTable{rows: rows}
	}
	return all, nil
}

// withBase is the rows of rs after those of the rule set it extends, less the results it drops.
func withBase(files map[ghs.RuleSet][]RuleRow, rs ghs.RuleSet, depth int) ([]RuleRow, error) {
	own, ok := files[rs]
	if !ok || depth > 4 {
		return nil, fmt.Errorf("rule set %q extends a rule set that does not exist, or itself", rs)
	}
	var rows []RuleRow
	for _, r := range own {
		switch r.Kind {
		case "extends":
			base, err := withBase(files, ghs.RuleSet(r.Input), depth+1)
			if err != nil {
				return nil, err
			}
			rows = append(base, rows...)
		case "drop":
			rows = slices.DeleteFunc(rows, func(b RuleRow) bool { return b.Result == r.Input })
		}
		rows = append(rows, r)
	}
	return rows, nil
}

func readRules(file, set string) ([]RuleRow, error) {
	f, err := ruleFiles.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	var rows []RuleRow
	for {
		rec, err := r.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		line, _ := r.FieldPos(0)
		row := RuleRow{File: set, Line: line}
		for i, col := range head {
			if err := row.set(col, rec[i]); err != nil {
				return nil, fmt.Errorf("%s line %d: %w", file, line, err)
			}
		}
		rows = append(rows, row)
	}
}

func (r *RuleRow) set(column, v string) error {
	switch column {
	case "kind":
		r.Kind = v
	case "number":
		r.Number = v
	case "input":
		r.Input = v
	case "cutoff":
		r.Cutoff = v
	case "op":
		r.Op = v
	case "limit":
		r.Limit = v
	case "unit":
		r.Unit = v
	case "which":
		r.Which = v
	case "when":
		r.When = v
	case "result":
		r.Result = v
	case "clause":
		r.Clause = v
	case "source":
		r.Source = v
	case "memory":
		r.Memory = v == "yes"
	case "note":
		r.Note = v
	default:
		return fmt.Errorf("no column is called %q", column)
	}
	return nil
}

// of lists the rows of one kind.
func (t *ruleTable) of(kind string) []*RuleRow {
	var rows []*RuleRow
	for i := range t.rows {
		if t.rows[i].Kind == kind {
			rows = append(rows, &t.rows[i])
		}
	}
	return rows
}

// first is the first row of a kind with the given input ("" for any), or nil.
func (t *ruleTable) first(kind, input string) *RuleRow {
	for i := range t.rows {
		if t.rows[i].Kind == kind && (input == "" || t.rows[i].Input == input) {
			return &t.rows[i]
		}
	}
	return nil
}

// limit is the row's limit as a number.
func (r *RuleRow) limit() float64 { return mustNumber(r.Limit, r) }

// cutoff is the row's cut-off as a number, 0 when it has none.
func (r *RuleRow) cutoff() float64 {
	if r.Cutoff == "" {
		return 0
	}
	return mustNumber(r.Cutoff, r)
}

// mustNumber reads a number of an embedded row; TestTablesAreWellFormed reads every one.
func mustNumber(s string, r *RuleRow) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("rule %s: %q is not a number", r.name(), s))
	}
	return v
}

func compareOf(op string) Compare {
	switch op {
	case ">":
		return MoreThan
	case "<=":
		return AtMost
	case "<":
		return LessThan
	}
	return AtLeast
}

var compareSigns = [...]string{AtLeast: "≥", MoreThan: ">", AtMost: "≤", LessThan: "<"}

// String is the sign: "≥".
func (c Compare) String() string { return compareSigns[c] }

// isStatement tells whether a result is a supplemental statement and not a class.
func isStatement(result string) bool { return strings.HasPrefix(result, "EUH") }
