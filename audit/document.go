package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// Document is the catalogue of checks as a Markdown page for readers: docs/checks.md is written from it.
func Document() string {
	var b strings.Builder
	checks := Catalogue()
	fmt.Fprintf(&b, "# The checks\n\nWritten from the catalogue in package audit; do not edit (`go test ./audit -run Documented -update`).\n\n")
	fmt.Fprintf(&b, "%d checks compare a sheet with itself, with the law, with the substance table, with its label, its claims and its kit. Each finding is one of:\n\n", len(checks))
	b.WriteString("| kind | meaning |\n| --- | --- |\n")
	b.WriteString("| contradiction | cannot be true, for any value that the sheet allows |\n")
	b.WriteString("| gap | required and absent, or too vague to act on |\n")
	b.WriteString("| doubt | true for some values that the sheet allows, or at odds with what others state, or a contradiction of words that were read from a picture |\n")
	b.WriteString("| note | worth knowing |\n\n")
	b.WriteString("Findings are ordered by the harm that could come to somebody who trusts the sheet: " + strings.Join(harms(), ", ") + ".\n")
	b.WriteString("“From memory” beside a clause means that it was recalled and not read; “common practice” that no text of law asks for it.\n")
	for _, g := range Groups() {
		documentGroup(&b, g, checks)
	}
	documentClaims(&b)
	return b.String()
}

func documentGroup(b *strings.Builder, g Group, checks []Check) {
	first := true
	for _, c := range checks {
		if c.Group != g {
			continue
		}
		if first {
			fmt.Fprintf(b, "\n## Comparing %s\n", g)
			first = false
		}
		var kinds []string
		for _, k := range c.Kinds {
			kinds = append(kinds, k.String())
		}
		fmt.Fprintf(b, "\n### %s\n\n`%s` – %s\n\n", c.Title, c.ID, strings.Join(kinds, " or "))
		fmt.Fprintf(b, "- Compares: %s\n- For example: %s\n- What to do: %s\n- Rests on:\n", c.Compares, c.Example, c.Do)
		for _, line := range clauseLines(c.Clauses) {
			fmt.Fprintf(b, "  - %s\n", line)
		}
	}
}

// clauseLines lists the clauses in the order of the rule sets; the one for all others comes last.
func clauseLines(c Clauses) []string {
	var out []string
	for _, rs := range ghs.RuleSets() {
		if text, ok := c[rs]; ok {
			out = append(out, string(rs)+": "+text)
		}
	}
	if text, ok := c[""]; ok {
		who := "all rule sets"
		if len(out) > 0 {
			who = "all others"
		}
		out = append(out, who+": "+text)
	}
	return out
}
