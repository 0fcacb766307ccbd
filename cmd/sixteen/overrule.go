package main

import (
	"context"
	"errors"
	"fmt"
	"os/user"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

type overruleCommand struct {
	File    string `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Finding string `arg:"" optional:"" name:"finding-id" help:"The finding, as 'check' prints it in brackets. Without it the overrulings in force are listed."`
	Who     string `help:"Who decides; this account's name when not given."`
	Why     string `help:"The reason. It is kept and shown wherever the finding would be."`
	Undo    bool   `help:"Take the overruling back."`
	JSON    bool   `help:"List the overrulings as JSON."`
}

// Run keeps an overruling, takes one back, or lists them.
func (c *overruleCommand) Run(ctx context.Context, io streams) error {
	j, err := judgeOne(ctx, io, c.File, judge.Request{})
	if err != nil {
		return err
	}
	s, err := shelf.Open(ctx, io.shelf)
	if err != nil {
		return err
	}
	defer s.Close()
	src := j.Sheet.Source
	switch {
	case c.Finding == "":
		return c.list(ctx, io, s, src)
	case c.Undo:
		err = s.Reinstate(ctx, orAccount(c.Who), src.SHA256, c.Finding)
	default:
		if err := overrulable(j.Report, c.Finding); err != nil {
			return err
		}
		_, err = s.Overrule(ctx, orAccount(c.Who), src.SHA256, c.Finding, c.Why)
	}
	if err != nil {
		return err
	}
	said := "overruled; 'sixteen overrule --undo' takes it back"
	if c.Undo {
		said = "stands again"
	}
	_, err = fmt.Fprintf(io.out, "%s: finding %s %s.\n", src.Name, c.Finding, said)
	return err
}

func (c *overruleCommand) list(ctx context.Context, io streams, s *shelf.Shelf, src sheet.Source) error {
	about, err := s.Decided(ctx, src.SHA256)
	if err != nil {
		return err
	}
	if c.JSON {
		return encode(io, about)
	}
	p := &printer{w: io.out}
	if len(about.Overrulings) == 0 {
		p.line(0, 0, "No finding of "+src.Name+" is overruled.")
	}
	for _, id := range about.Overruled() {
		p.line(0, 2, id+": "+overrulingShown(about.Overrulings[id]))
	}
	return p.err
}

// overrulable tells why a finding cannot be overruled: it is none of the sheet's, and no comparison with a label, claims,
// a kit or another revision could have made it either.
func overrulable(r audit.Report, id string) error {
	var ids []string
	for _, f := range r.Findings {
		if f.ID == id {
			return nil
		}
		ids = append(ids, f.ID)
	}
	beside := []audit.Group{audit.LabelSheet, audit.ClaimsAll, audit.KitParts, audit.Revision}
	for _, check := range audit.Catalogue() {
		if hash, ok := strings.CutPrefix(id, check.ID+"-"); ok && len(hash) == 10 && slices.Contains(beside, check.Group) {
			return nil
		}
	}
	if len(ids) == 0 {
		return fmt.Errorf("the sheet has no finding %s, and no other either", id)
	}
	return fmt.Errorf("the sheet has no finding %s; it has %s", id, strings.Join(ids, ", "))
}

// printOverruled lists the findings that were overruled, so that none goes out of sight.
func printOverruled(p *printer, r audit.Report) {
	for _, f := range r.Findings {
		if f.Overruled != nil {
			p.line(0, 2, fmt.Sprintf("OVERRULED %s: %s %s  [%s]", f.Kind, f.Title+".", overrulingShown(*f.Overruled), f.ID))
		}
	}
}

func overrulingShown(o audit.Overruling) string {
	return fmt.Sprintf("overruled by %s, %s: %s", o.Who, o.When, o.Why)
}

// decidedOn tells what was decided about documents on a shelf, also on one of an older version; where there is no shelf nothing was.
func decidedOn(o shelf.Options) func(context.Context, string) (judge.Decided, error) {
	return func(ctx context.Context, sha256 string) (judge.Decided, error) {
		o.ReadOnly, o.Older = true, true
		s, err := shelf.Open(ctx, o)
		if errors.Is(err, shelf.ErrNotFound) {
			return judge.Decided{}, nil
		}
		if err != nil {
			return judge.Decided{}, err
		}
		defer s.Close()
		return s.Decided(ctx, sha256)
	}
}

// orAccount is the name given, or that of this account.
func orAccount(who string) string {
	if who != "" {
		return who
	}
	if u, err := user.Current(); err == nil {
		return u.Username
	}
	return ""
}
