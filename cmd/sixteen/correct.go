package main

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"time"

	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

type correctCommand struct {
	File  string `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Path  string `arg:"" optional:"" help:"Which fact. Without it the facts are listed with their paths."`
	Value string `arg:"" optional:"" help:"What the page says: a text, or JSON of the form that is shown without a value; null when the sheet is silent."`
	Who   string `help:"Who corrects; this account's name when not given."`
	Why   string `help:"The reason. It is kept and shown with the fact."`
	Undo  bool   `help:"Take the last correction of this fact back."`
}

// Run keeps a correction of what was read, takes one back, or lists the facts.
func (c *correctCommand) Run(ctx context.Context, io streams) error {
	facts, err := readOne(ctx, io, c.File)
	if err != nil {
		return err
	}
	switch {
	case c.Path == "":
		return listPaths(io, facts)
	case c.Value == "" && !c.Undo:
		return showFact(io, facts, c.Path)
	}
	s, err := shelf.Open(ctx, io.shelf)
	if err != nil {
		return err
	}
	defer s.Close()
	said := "corrected; the value as read is kept beside it, and 'sixteen correct --undo' takes it back"
	if c.Undo {
		said = "is back as it was before the correction"
		err = s.Uncorrect(ctx, orAccount(c.Who), facts.Source.SHA256, c.Path)
	} else {
		err = c.correct(ctx, s, facts)
	}
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(io.out, "%s: %s %s.\n", facts.Source.Name, c.Path, said)
	return err
}

// correct takes the value as JSON, or as a text where it is none or the fact is a text.
func (c *correctCommand) correct(ctx context.Context, s *shelf.Shelf, facts *sheet.Sheet) error {
	text, err := json.Marshal(c.Value)
	if err != nil {
		return err
	}
	value := []byte(c.Value)
	who := orAccount(c.Who)
	if !json.Valid(value) {
		value = text
	}
	if err := facts.Correct(c.Path, value, who, c.Why, time.Now()); err != nil {
		value = text // "2026" is a number in JSON and may be the name of a product
		if again := facts.Correct(c.Path, value, who, c.Why, time.Now()); again != nil {
			return err
		}
	}
	last := ""
	before, err := s.Corrections(ctx, facts.Source.SHA256)
	if err != nil {
		return err
	}
	for _, b := range before {
		if b.Path == c.Path {
			last = b.ID
		}
	}
	_, err = s.Correct(ctx, who, facts.Source.SHA256, c.Path, value, c.Why, last)
	return err
}

func listPaths(io streams, s *sheet.Sheet) error {
	p := &printer{w: io.out}
	for _, f := range s.Facts() {
		if f.State != sheet.NotStated {
			p.pair(0, 44, f.Path, f.Label+": "+judge.ListedShown(f))
		}
	}
	p.line(0, 0, "Facts that the sheet is silent about are not listed; their paths are of the same form.")
	p.line(0, 0, "A row that was missed is added by the path of its list with .+ at its end, such as hazards.statements.+ '{\"code\":\"H317\"}'.")
	return p.err
}

// showFact prints one fact as JSON, as a pattern to write the corrected value by.
func showFact(io streams, s *sheet.Sheet, path string) error {
	value, err := s.Value(path)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(io.out, "%s\n", value)
	return err
}

// readOne opens the desk for one document and reads it.
func readOne(ctx context.Context, io streams, file string) (*sheet.Sheet, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return nil, err
	}
	defer desk.Close()
	return desk.Read(ctx, filepath.Base(file), data)
}
