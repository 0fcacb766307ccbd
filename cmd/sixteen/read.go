package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"sixteen/judge"
	"sixteen/sheet"
)

type readCommand struct {
	batch
	All bool `help:"List the facts that the sheet is silent about too."`
}

// readPaper is a sheet with the file it was read from.
type readPaper struct {
	File string `json:"file"`
	*sheet.Sheet
}

// Run reads every document and prints its facts. It ends with errSaid when any could not be read.
func (c *readCommand) Run(ctx context.Context, streams streams) error {
	desk, err := openDesk(ctx, streams)
	if err != nil {
		return err
	}
	defer desk.Close()
	return c.run(ctx, streams, desk, func(ctx context.Context, w io.Writer, d document, data []byte) (tally, error) {
		s, err := desk.Read(ctx, filepath.Base(d.path), data)
		if err != nil {
			return tally{}, err
		}
		return tally{product: judge.Name(s), pages: len(s.Source.Pages)}, c.show(w, d, s)
	})
}

func (c *readCommand) show(w io.Writer, d document, s *sheet.Sheet) error {
	if c.JSON {
		return encodeTo(w, readPaper{d.path, s})
	}
	p := &printer{w: w}
	p.heading(judge.Name(s) + " – " + s.Source.Name)
	for _, pr := range s.Problems {
		p.pair(0, 14, "not read", pr.What+" "+pr.Do)
	}
	facts := s.Facts()
	for _, n := range judge.SectionOrder() {
		printSection(p, s, n, facts, c.All)
	}
	return p.err
}

// printSection writes the facts of one section, each with its page and words. State words tell silence from "no data".
func printSection(p *printer, s *sheet.Sheet, n int, facts []sheet.Listed, all bool) {
	here := slices.DeleteFunc(slices.Clone(facts), func(f sheet.Listed) bool {
		return f.Section != n || f.State == sheet.NotStated && !all
	})
	found := ""
	if n > 0 && !s.Sections[n].Found {
		found = " (heading not found in the sheet)"
	}
	if n == 0 && len(here) == 0 {
		return
	}
	p.printf("\n%s%s\n", judge.SectionTitle(n), found)
	if len(here) == 0 {
		p.line(2, 0, "no fact was read here")
	}
	for _, f := range here {
		p.pair(2, 28, f.Label, judge.ListedShown(f)+evidenceText(f))
	}
}

func evidenceText(f sheet.Listed) string {
	if len(f.Evidence) == 0 {
		return ""
	}
	e := f.Evidence[0]
	out := fmt.Sprintf("   [p. %d", e.Page)
	if e.Words != f.Text { // words that are the value itself are not printed twice
		out += fmt.Sprintf(": “%s”", shorten(e.Words, 70))
	}
	if e.Recognised != "" {
		out += fmt.Sprintf(", repaired: recognised was “%s”", shorten(e.Recognised, 40))
	}
	if e.How != sheet.ByText {
		out += ", " + string(e.How)
	}
	if f.Confidence > 0 && f.Confidence < sheet.AskBelow {
		out += fmt.Sprintf(", %.0f %% sure: look at it", f.Confidence*100)
	}
	return out + "]"
}
