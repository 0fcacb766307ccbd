package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"sixteen/judge"
	"sixteen/substance"
)

type substanceCommand struct {
	Query []string `arg:"" name:"number or name" help:"CAS number, EC number, or a name or part of it."`
	JSON  bool     `help:"Print the card as JSON."`
	List  int      `help:"How many near matches to list when the query does not name one substance." default:"8"`
}

// Run prints the card of the substance that the query names, or the list of near matches.
func (c *substanceCommand) Run(io streams) error {
	query := strings.Join(c.Query, " ")
	table, err := judge.Substances()
	if err != nil {
		return err
	}
	matches := table.Search(query, max(c.List, 1))
	if len(matches) == 0 {
		return fmt.Errorf("no substance on record resembles %q: try its CAS number, or another name", query)
	}
	if best := matches[0]; best.Exact {
		if c.JSON {
			enc := json.NewEncoder(io.out)
			enc.SetEscapeHTML(false)
			enc.SetIndent("", "  ")
			return enc.Encode(substance.NewCard(best.Substance))
		}
		return substance.WriteCard(io.out, best.Substance)
	}
	if c.JSON {
		return json.NewEncoder(io.out).Encode(matches)
	}
	p := &printer{w: io.out}
	p.line(0, 0, fmt.Sprintf("Nothing on record is called exactly %q. Near to it:", query))
	for _, m := range matches {
		p.pair(2, 14, m.CAS, m.Name+" – "+m.Why)
	}
	return p.err
}
