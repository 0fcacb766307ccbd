package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"

	"sixteen/audit"
	"sixteen/judge"
)

type plainCommand struct {
	batch
	Rules string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	Why   bool   `help:"Print under each sentence what it rests on."`
	Tour  bool   `help:"Go through the sixteen sections afterwards: what each is for, and what this sheet gives there."`
}

// Run writes the half page of every document. It ends with errSaid when any could not be read.
func (c *plainCommand) Run(ctx context.Context, streams streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	desk, err := openDesk(ctx, streams)
	if err != nil {
		return err
	}
	defer desk.Close()
	return c.run(ctx, streams, desk, func(ctx context.Context, w io.Writer, d document, data []byte) (tally, error) {
		j, err := desk.Judge(ctx, filepath.Base(d.path), data, judge.Request{Rules: rules})
		if err != nil {
			return tally{}, err
		}
		return tally{product: judge.Name(j.Sheet), pages: len(j.Sheet.Source.Pages)}, c.show(w, d, j)
	})
}

// plainPaper is the half page, and the tour when it was asked for.
type plainPaper struct {
	File string `json:"file"`
	audit.HalfPage
	Tour []judge.Stop `json:"tour,omitempty"`
}

func (c *plainCommand) show(w io.Writer, d document, j *judge.Judgement) error {
	paper := plainPaper{File: d.path, HalfPage: audit.Plain(j.Case(), j.Report)}
	if c.Tour {
		paper.Tour = judge.Tour(j.Sheet)
	}
	if c.JSON {
		return encodeTo(w, paper)
	}
	p := &printer{w: w}
	p.heading(judge.Name(j.Sheet))
	for _, part := range []struct {
		title     string
		sentences []audit.Sentence
	}{
		{"What it can do to you", paper.CanDo},
		{"What to wear", paper.Wear},
		{"What would make you put it back on the shelf", paper.PutBack},
		{"What nobody knows from this sheet", c.notKnown(paper.NotKnown)},
	} {
		c.part(p, part.title, part.sentences)
	}
	for _, s := range paper.Tour {
		printStop(p, s)
	}
	p.printf("\n")
	p.line(0, 0, "Help for a decision, not legal, medical or engineering advice. In an emergency call the number on the label first.")
	return p.err
}

// notKnown keeps the page to half a page: what could not be checked is counted, unless reasons are asked for.
func (c *plainCommand) notKnown(all []audit.Sentence) []audit.Sentence {
	const most = 5
	if c.Why || len(all) <= most {
		return all
	}
	short := append([]audit.Sentence(nil), all[:most]...)
	return append(short, audit.Sentence{Text: fmt.Sprintf("And %d points more: print them with --why.", len(all)-most)})
}

func (c *plainCommand) part(p *printer, title string, sentences []audit.Sentence) {
	p.printf("\n%s\n", title)
	if len(sentences) == 0 {
		p.line(2, 0, "Nothing was found here. That is what the papers show, not a promise.")
	}
	for _, s := range sentences {
		p.line(2, 2, "- "+s.Text)
		if !c.Why {
			continue
		}
		for _, from := range s.From {
			p.line(6, 2, "from: "+sideText(from))
			for _, t := range from.Trace {
				p.line(8, 2, t)
			}
		}
	}
}

func printStop(p *printer, s judge.Stop) {
	p.printf("\n%s\n", s.Title)
	p.line(2, 2, s.Look)
	p.line(2, 2, s.Here)
}
