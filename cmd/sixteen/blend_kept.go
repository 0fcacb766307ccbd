package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"sixteen/blend"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/shelf"
)

// readKept is the recipe of a kept blend with the sheets in force on the shelf.
func readKept(ctx context.Context, io streams, words string) (r *blend.Recipe, stock blend.Stock, err error) {
	err = onShelf(ctx, io, func(s *shelf.Shelf) error {
		b, err := s.PickBlend(ctx, words)
		if err != nil {
			return err
		}
		if !b.Redo.IsZero() {
			fmt.Fprintf(io.err, "sixteen: %s: %s; 'sixteen blend redo' keeps what follows from it\n", b.Name, strings.Join(b.RedoWhy, "; "))
		}
		if r, err = blend.Read(strings.NewReader(b.Recipe)); err != nil {
			return err
		}
		stock, _, err = s.BlendStock(ctx, r)
		return err
	})
	return r, stock, err
}

// sheetOnShelf is the sheet in force of the product that a recipe names, when there is a shelf that holds it.
func sheetOnShelf(ctx context.Context, io streams, name string) (*sheet.Sheet, bool) {
	options := io.shelf
	options.ReadOnly = true
	s, err := shelf.Open(ctx, options)
	if err != nil {
		return nil, false
	}
	defer s.Close()
	stock, _, err := s.BlendStock(ctx, &blend.Recipe{Ingredients: []blend.Line{{Sheet: name}}})
	return stock.Sheets[name], err == nil
}

type blendKeep struct {
	Recipe string `arg:"" help:"The recipe (YAML). Its sheets are named by products on the shelf, or by the names of their files there."`
	What   string `help:"What was changed; wanted when the blend is kept already." placeholder:"WORDS"`
	Who    string `help:"Who keeps it; this account's name when not given."`
	JSON   bool   `help:"Print JSON."`
}

// Run keeps a recipe as a new blend or as the next revision of the one of that name.
func (c *blendKeep) Run(ctx context.Context, io streams) error {
	raw, err := readFile(c.Recipe)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Recipe, err)
	}
	r, err := blend.Read(strings.NewReader(string(raw)))
	if err != nil {
		return fmt.Errorf("%s: %w", c.Recipe, err)
	}
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		old, err := s.PickBlend(ctx, r.Product)
		var b shelf.Blend
		switch {
		case errors.Is(err, shelf.ErrNotFound):
			b, err = s.AddBlend(ctx, orAccount(c.Who), string(raw), c.What)
		case err != nil:
			return err
		case old.Recipe == string(raw) && old.Redo.IsZero():
			return fmt.Errorf("%s is kept with this recipe already, and no sheet in it has changed", old.Name)
		case c.What == "":
			return fmt.Errorf("%s is kept already (revision %d): say with --what what was changed", old.Name, old.Revision)
		default:
			b, err = s.ReviseBlend(ctx, orAccount(c.Who), old.ID, old.Version, string(raw), c.What)
		}
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, b)
		}
		p := &printer{w: io.out}
		p.printf("%s is kept as revision %d (%s).\n", b.Name, b.Revision, b.ID)
		printKept(p, b)
		if old.ID != "" {
			printClassChanges(p, old, b)
		}
		return p.err
	})
}

type blendList struct {
	JSON bool `help:"Print JSON."`
}

// Run lists the blends.
func (c *blendList) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		all, err := s.Blends(ctx)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, all)
		}
		p := &printer{w: io.out}
		for _, b := range all {
			p.pair(0, 36, b.Name, fmt.Sprintf("revision %d of %s (%s)", b.Revision, b.Changed.Format("2006-01-02"), b.ID))
			if !b.Redo.IsZero() {
				p.line(2, 2, "To be worked out again since "+b.Redo.Format("2006-01-02")+": "+strings.Join(b.RedoWhy, "; ")+".")
			}
		}
		if len(all) == 0 {
			p.line(0, 0, "No blend is kept yet: 'sixteen blend keep recipe.yaml' keeps one.")
		}
		return p.err
	})
}

type blendShow struct {
	Name     string `arg:"" help:"Name or ID of the blend."`
	Recipe   bool   `help:"Print the recipe."`
	Revision int    `help:"With --recipe: of this revision; the last when not given." placeholder:"N"`
	JSON     bool   `help:"Print the revisions as JSON."`
}

// Run shows one blend.
func (c *blendShow) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		b, err := s.PickBlend(ctx, c.Name)
		if err != nil {
			return err
		}
		revisions, err := s.BlendRevisions(ctx, b.ID)
		if err != nil {
			return err
		}
		if c.Recipe {
			n := cmp.Or(c.Revision, b.Revision)
			at := slices.IndexFunc(revisions, func(r shelf.BlendRevision) bool { return r.Revision == n })
			if at < 0 {
				return fmt.Errorf("%s has revisions 1 to %d, not %d", b.Name, b.Revision, n)
			}
			_, err := fmt.Fprint(io.out, revisions[at].Recipe)
			return err
		}
		if c.JSON {
			return encode(io, revisions)
		}
		p := &printer{w: io.out}
		p.heading(fmt.Sprintf("%s – revision %d", b.Name, b.Revision))
		printKept(p, b)
		p.heading("Revisions")
		for _, r := range revisions {
			p.pair(2, 5, fmt.Sprintf("%d.", r.Revision), strings.TrimRight(fmt.Sprintf("%s, %s, %s: %s", r.At.Format("2006-01-02"), r.By, r.What, r.Note), ": "))
		}
		p.printf("\nThe drafted sheet: sixteen blend --kept %q --out FILE.pdf\n", b.Name)
		return p.err
	})
}

func printKept(p *printer, b shelf.Blend) {
	if !b.Redo.IsZero() {
		p.line(2, 2, "To be worked out again since "+b.Redo.Format("2006-01-02")+": "+strings.Join(b.RedoWhy, "; ")+".")
	}
	for _, rs := range rulesOf(b) {
		p.pair(2, 30, rs.Name(), cmp.Or(strings.Join(b.Classes[rs], ", "), "no class follows from ingredients and test data"))
	}
	for _, u := range b.Uses {
		p.pair(2, 30, "made with", u.Name)
	}
}

func rulesOf(b shelf.Blend) []ghs.RuleSet {
	var out []ghs.RuleSet
	for _, rs := range ghs.RuleSets() {
		if _, ok := b.Classes[rs]; ok {
			out = append(out, rs)
		}
	}
	return out
}

// printClassChanges says which classes came and went between two workings out.
func printClassChanges(p *printer, old, b shelf.Blend) {
	changed := false
	for _, rs := range rulesOf(b) {
		was, ok := old.Classes[rs]
		if !ok {
			continue
		}
		for _, c := range b.Classes[rs] {
			if !slices.Contains(was, c) {
				changed = true
				p.line(2, 2, fmt.Sprintf("%s: %s is new. Its sheet and label have to be drafted again.", rs.Name(), c))
			}
		}
		for _, c := range was {
			if !slices.Contains(b.Classes[rs], c) {
				changed = true
				p.line(2, 2, fmt.Sprintf("%s: %s follows no longer.", rs.Name(), c))
			}
		}
	}
	if !changed {
		p.line(2, 2, "The classes are as before. Shares, limits and data in the drafted sheet may differ: draft it again.")
	}
}

type blendRedo struct {
	Name string `arg:"" help:"Name or ID of the blend."`
	Who  string `help:"Who does it; this account's name when not given."`
	JSON bool   `help:"Print JSON."`
}

// Run works a blend out again.
func (c *blendRedo) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		old, err := s.PickBlend(ctx, c.Name)
		if err != nil {
			return err
		}
		b, err := s.RedoBlend(ctx, orAccount(c.Who), old.ID, old.Version)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, b)
		}
		p := &printer{w: io.out}
		p.printf("%s is worked out again as revision %d.\n", b.Name, b.Revision)
		printKept(p, b)
		printClassChanges(p, old, b)
		return p.err
	})
}

type blendRetire struct {
	Name string `arg:"" help:"Name or ID of the blend."`
	Why  string `help:"The reason; it is kept." placeholder:"WORDS"`
	Who  string `help:"Who says so; this account's name when not given."`
}

// Run takes a blend off the list.
func (c *blendRetire) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		b, err := s.PickBlend(ctx, c.Name)
		if err != nil {
			return err
		}
		if err := s.RetireBlend(ctx, orAccount(c.Who), b.ID, c.Why); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s is off the list; its revisions are kept.\n", b.Name)
		return err
	})
}
