package exposure

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
)

var (
	unknownField = regexp.MustCompile(`unknown field "([^"]+)"`)
	yamlKey      = regexp.MustCompile(`(?:^|[\s{(,])([a-z][a-z0-9_]*):`)
)

// fields are the names of all fields of a job file: those that the example uses or explains.
var fields = sync.OnceValue(func() []string {
	var out []string
	for _, m := range yamlKey.FindAllStringSubmatch(string(example), -1) {
		if !slices.Contains(out, m[1]) {
			out = append(out, m[1])
		}
	}
	return out
})

// withSuggestion adds to the error of an unknown field the name that was most likely meant.
func withSuggestion(err error) error {
	m := unknownField.FindStringSubmatch(err.Error())
	if m == nil {
		return err
	}
	best, least := "", 1+len(m[1])/3
	for _, f := range fields() {
		d := edits(m[1], f)
		if strings.HasPrefix(f, m[1]) || strings.HasPrefix(m[1], f) && len(f) > 3 {
			d = min(d, 2)
		}
		if d <= least {
			best, least = f, d-1
		}
	}
	if best == "" {
		return fmt.Errorf("%w\nno field of a job file is called %q; \"sixteen plan --example\" names them all", err, m[1])
	}
	return fmt.Errorf("%w\ndid you mean %q? \"sixteen plan --example\" names every field", err, best)
}

// edits counts the letters to add, drop or change between two names (Levenshtein).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
