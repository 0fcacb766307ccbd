package substance

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// WriteReport writes what the import would do as plain text: a summary, then every row that is added, changed, missing,
// ignored or doubtful, with its line in the file and the reason. At most limit rows are written per action, and how many
// are left out is said; zero or less writes all.
func (p Plan) WriteReport(w io.Writer, limit int) error {
	out := &printer{w: w}
	out.line("%s (%s)", p.Mapping.Edition, p.Mapping.Kind)
	out.wrapped("columns: ", p.Mapping.describe())
	total := 0
	var counts []string
	for _, a := range []Action{Added, Changed, Same, Ignored, Missing} {
		if n := p.Counts[a]; n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", n, a))
		}
		if a != Missing {
			total += p.Counts[a]
		}
	}
	out.line("%d rows: %s", total, strings.Join(counts, ", "))
	for _, a := range []Action{Changed, Added, Missing, Ignored, Same} {
		rows := slices.DeleteFunc(slices.Clone(p.Rows), func(r RowReport) bool { return r.Action != a || (a == Same && r.Reason == "") })
		if len(rows) == 0 {
			continue
		}
		out.line("")
		out.line("%s", strings.ToUpper(string(a[:1]))+string(a[1:]))
		for i, r := range rows {
			if limit > 0 && i == limit {
				out.line("  … and %d more", len(rows)-limit)
				break
			}
			out.row(r)
		}
	}
	return out.err
}

func (p *printer) row(r RowReport) {
	head := strings.Join(nonEmpty(r.CAS, r.EC, shortened(r.Name, 80)), ", ")
	if r.Line > 0 {
		head = fmt.Sprintf("row %d: %s", r.Line, head)
	}
	p.wrapped("  ", head)
	if r.Reason != "" {
		p.wrapped("    ", "note: "+r.Reason)
	}
	gone, come := without(r.Before, r.After), without(r.After, r.Before)
	for _, b := range gone {
		p.wrapped("    - ", b)
	}
	for _, a := range come {
		p.wrapped("    + ", a)
	}
}

// without lists what is in a and not in b.
func without(a, b []string) []string {
	var out []string
	for _, x := range a {
		if !slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

func shortened(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}

// describe says the columns in words: "cas = column D, class = column E".
func (m Mapping) describe() string {
	var out []string
	for f, col := range m.Columns {
		out = append(out, fmt.Sprintf("%03d%s = column %s", col, f, columnName(col)))
	}
	slices.Sort(out)
	for i := range out {
		out[i] = out[i][3:]
	}
	return strings.Join(out, ", ") + fmt.Sprintf("; data from row %d", m.FirstLine)
}

// columnName is the letter of a spreadsheet column counted from 0: A, B, … Z, AA.
func columnName(col int) string {
	name := ""
	for col++; col > 0; col = (col - 1) / 26 {
		name = string(rune('A'+(col-1)%26)) + name
	}
	return name
}
