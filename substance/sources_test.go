package substance

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write docs/sources.md anew")

// use counts what rests on one source.
type use struct {
	Source
	values map[string]int // kind of value → how many
	total  int
}

// sourceUse counts the values of the embedded table by source and kind.
func sourceUse(t *testing.T) map[string]*use {
	t.Helper()
	l := loader{sources: map[string]Source{}}
	if err := eachRow("sources.csv", l.source); err != nil {
		t.Fatal(err)
	}
	uses := map[string]*use{}
	for id, s := range l.sources {
		uses[id] = &use{Source: s, values: map[string]int{}}
	}
	count := func(s Source, kind string) {
		u, ok := uses[s.ID]
		if !ok {
			t.Fatalf("a %s has source %+v, which is not in sources.csv", kind, s)
		}
		u.values[kind]++
		u.total++
	}
	for _, s := range Embedded().All() {
		count(Source{ID: "substance-names"}, "names")
		for range s.Synonyms {
			count(Source{ID: "trade-names"}, "names")
		}
		if s.Formula != "" {
			count(Source{ID: "formulas"}, "formulas")
		}
		if s.EC != "" {
			count(s.ECSource, "EC numbers")
		}
		for _, p := range s.Properties() {
			if p.Value.Known {
				count(p.Value.Source, "physical data")
			}
		}
		if s.Antoine != nil {
			count(s.Antoine.Source, "Antoine equations")
		}
		if s.IARC != "" {
			count(s.IARCSource, "cancer groups")
		}
		if s.NTP != "" {
			count(s.NTPSource, "cancer groups")
		}
		for _, c := range s.Classifications {
			count(c.Source, "classes")
			if len(c.Limits)+len(c.ATE) > 0 || c.MFactor > 0 {
				count(c.DetailSource, "specific limits, M-factors, estimates")
			}
		}
		for _, x := range s.Limits {
			count(x.Source, "exposure limits")
		}
	}
	return uses
}

// Every source is used, and a recalled one says where its values can be checked.
func TestEverySourceIsUsed(t *testing.T) {
	for id, u := range sourceUse(t) {
		if u.total == 0 {
			t.Errorf("nothing rests on source %q", id)
		}
		if u.Text == "" || (u.Memory && u.CheckAt == "") {
			t.Errorf("source %q says too little: %+v", id, u.Source)
		}
	}
}

//go:generate go test -run TestSourcesPage -update

// docs/sources.md is written from the data: go generate ./substance.
func TestSourcesPage(t *testing.T) {
	const path = "../docs/sources.md"
	want := sourcesPage(sourceUse(t))
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s does not fit the data; run go generate ./substance", path)
	}
}

func sourcesPage(uses map[string]*use) string {
	var b strings.Builder
	b.WriteString("# Sources of the substance table\n\n")
	b.WriteString("Written from `substance/data/` by `go generate ./substance`; a test compares the two. *Memory* marks values that were\nrecalled and not looked up; the program shows them so and says where to check them. How the table was checked, and what\nis doubtful in it, stands in [substances.md](substances.md).\n\n")
	kinds := map[string][2]int{}
	all := []*use{}
	for _, u := range uses {
		all = append(all, u)
		for kind, n := range u.values {
			k := kinds[kind]
			k[0] += n
			if u.Memory {
				k[1] += n
			}
			kinds[kind] = k
		}
	}
	b.WriteString("## How much is recalled\n\n| values | number | from memory | share |\n|---|---:|---:|---:|\n")
	total := [2]int{}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		k := kinds[kind]
		fmt.Fprintf(&b, "| %s | %d | %d | %.0f %% |\n", kind, k[0], k[1], 100*float64(k[1])/float64(k[0]))
		total[0] += k[0]
		total[1] += k[1]
	}
	fmt.Fprintf(&b, "| **all** | **%d** | **%d** | **%.0f %%** |\n\n", total[0], total[1], 100*float64(total[1])/float64(total[0]))
	slices.SortFunc(all, func(a, c *use) int { return cmp.Or(cmp.Compare(c.total, a.total), cmp.Compare(a.ID, c.ID)) })
	for _, part := range []struct {
		title  string
		memory bool
	}{{"Read in a publication", false}, {"From memory", true}} {
		fmt.Fprintf(&b, "## %s\n\n| id | what it is | values |\n|---|---|---|\n", part.title)
		for _, u := range all {
			if u.Memory != part.memory {
				continue
			}
			var n []string
			for _, kind := range slices.Sorted(maps.Keys(u.values)) {
				n = append(n, fmt.Sprintf("%d %s", u.values[kind], kind))
			}
			text := u.Text
			if u.CheckAt != "" {
				text += ". Check at: " + u.CheckAt
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", u.ID, strings.ReplaceAll(text, "|", "/"), strings.Join(n, ", "))
		}
		b.WriteString("\n")
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}
