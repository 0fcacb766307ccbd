package blend

import (
	"embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

//go:embed data
var data embed.FS

// dictionary is the words of one language.
type dictionary struct {
	lang  ghs.Lang
	words map[string]string
}

// dictionaries holds the words of every language by key.
var dictionaries = sync.OnceValue(func() map[ghs.Lang]dictionary {
	raw, err := data.ReadFile("data/words.txt")
	if err != nil {
		panic("blend: " + err.Error())
	}
	out := map[ghs.Lang]dictionary{}
	for _, l := range ghs.Langs() {
		out[l] = dictionary{l, map[string]string{}}
	}
	key := ""
	for _, line := range strings.Split(string(raw), "\n") {
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "["):
			key = strings.Trim(line, "[]")
		default:
			l, text, _ := strings.Cut(line, " ")
			out[ghs.Lang(l)].words[key] = text
		}
	}
	return out
})

// say is a text with its places filled in: say("ask.field", "x", "pH").
func (d dictionary) say(key string, fill ...string) string {
	text, ok := d.words[key]
	if !ok {
		return "[" + key + "]"
	}
	for i := 0; i+1 < len(fill); i += 2 {
		text = strings.ReplaceAll(text, "{"+fill[i]+"}", fill[i+1])
	}
	return text
}

// hazard is a class in words.
func (d dictionary) hazard(h ghs.Hazard) string { return h.Title(d.lang) }

// number writes a number in the way of the language.
func (d dictionary) number(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if d.lang != ghs.English {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

func table(file string) [][]string {
	raw, err := data.Open("data/" + file)
	if err != nil {
		panic("blend: " + err.Error())
	}
	defer raw.Close()
	rows, err := csv.NewReader(raw).ReadAll()
	if err != nil {
		panic("blend: " + file + ": " + err.Error())
	}
	return rows[1:]
}

// heading is one prescribed title.
type heading struct {
	ref, rules string
	titles     map[ghs.Lang]string
	source     string
	recalled   []string // languages whose wording was not read
}

var headings = sync.OnceValue(func() []heading {
	var out []heading
	for _, r := range table("headings.csv") {
		out = append(out, heading{r[0], r[1], map[ghs.Lang]string{ghs.English: r[2], ghs.French: r[3], ghs.German: r[4], ghs.Spanish: r[5]}, r[6], strings.Fields(r[7])})
	}
	return out
})

func european(rs ghs.RuleSet) bool { return rs == ghs.EUCLP }

// headingOf finds the title of a section ("9") or subsection ("9.1") under a rule set; false where it has none.
func headingOf(ref string, rs ghs.RuleSet) (heading, bool) {
	for _, h := range headings() {
		if h.ref == ref && (h.rules == "" || (h.rules == "eu") == european(rs)) {
			return h, true
		}
	}
	return heading{}, false
}

// Required is one field that the law wants in a sheet, with its clause.
type Required struct {
	Field   string `json:"field"`
	Section int    `json:"section"` // 0: the whole sheet
	What    string `json:"what"`
	Clause  string `json:"clause"`
	Memory  bool   `json:"memory,omitempty"` // the clause was recalled, not read
	When    string `json:"when,omitempty"`   // only then: unknown, secret, secretname, supplement
}

// Fields are the fields that a rule set wants, in the order of the sections.
func Fields(rs ghs.RuleSet) ([]Required, error) {
	if !slices.Contains(Drafted(), rs) {
		return nil, fmt.Errorf("no sheet can be drafted for %s yet: use %v", rs, Drafted())
	}
	var out []Required
	for _, r := range table("required/" + string(rs) + ".csv") {
		n, err := strconv.Atoi(r[1])
		if err != nil {
			return nil, fmt.Errorf("required fields of %s: %w", rs, err)
		}
		out = append(out, Required{r[0], n, r[2], r[3], r[4] != "read", r[5]})
	}
	return out, nil
}

// Drafted are the rule sets whose sheets can be drafted: those with a table of required fields.
func Drafted() []ghs.RuleSet {
	files, err := data.ReadDir("data/required")
	if err != nil {
		panic("blend: " + err.Error())
	}
	var out []ghs.RuleSet
	for _, f := range files {
		out = append(out, ghs.RuleSet(strings.TrimSuffix(f.Name(), ".csv")))
	}
	return out
}

// fieldNames are the names of all fields, for texts, no_data and not_applicable of a recipe.
func fieldNames() []string {
	var out []string
	for _, rs := range Drafted() {
		fields, _ := Fields(rs)
		for _, f := range fields {
			if !slices.Contains(out, f.Field) {
				out = append(out, f.Field)
			}
		}
	}
	slices.Sort(out)
	return out
}

// required is the row of a field, a zero row when the rule set does not want it.
func required(rs ghs.RuleSet, field string) (Required, bool) {
	fields, _ := Fields(rs)
	i := slices.IndexFunc(fields, func(r Required) bool { return r.Field == field })
	if i < 0 {
		return Required{}, false
	}
	return fields[i], true
}
