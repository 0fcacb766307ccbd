package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"

	"sixteen/judge"
	"sixteen/sheet"
)

type readCommand struct {
	Files []string `arg:"" name:"file" help:"Safety data sheets (PDF, HTML, DOCX, text)."`
	JSON  bool     `help:"Print the whole sheet as JSON, one object per sheet, with the box of every evidence."`
	All   bool     `help:"List the facts that the sheet is silent about too."`
}

// Run reads every file and prints its facts.
func (c *readCommand) Run(ctx context.Context, io streams) error {
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	failed := false
	for _, file := range c.Files {
		data, err := readFile(file)
		var s *sheet.Sheet
		if err == nil {
			s, err = desk.Read(ctx, filepath.Base(file), data)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(io.err, "sixteen: %s: %v\n", file, err)
			failed = true
			continue
		}
		if err := c.show(io, s); err != nil {
			return err
		}
	}
	if failed {
		return errSaid
	}
	return nil
}

func (c *readCommand) show(io streams, s *sheet.Sheet) error {
	if c.JSON {
		enc := json.NewEncoder(io.out)
		enc.SetEscapeHTML(false)
		return enc.Encode(s)
	}
	p := &printer{w: io.out}
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
	if e.How != sheet.ByText {
		out += ", " + string(e.How)
	}
	if f.Confidence > 0 && f.Confidence < 0.9 {
		out += fmt.Sprintf(", %.0f %% sure: look at it", f.Confidence*100)
	}
	return out + "]"
}
