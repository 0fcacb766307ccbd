package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"sixteen/audit"
	"sixteen/judge"
)

type claimsCommand struct {
	File  string   `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Texts []string `arg:"" optional:"" name:"text" help:"Text files with what is claimed: a leaflet, a web page, an advertisement."`
	Says  []string `help:"A claim typed in: --says 'no fumes, food safe'." sep:"none"`
	Rules string   `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	JSON  bool     `help:"Print the claims with what they rest on as JSON."`
}

// Run judges the claims by the sheet. It ends with errFindings when the papers do not bear all of them out.
func (c *claimsCommand) Run(ctx context.Context, io streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	texts := append([]string(nil), c.Says...)
	for _, file := range c.Texts {
		raw, err := readFile(file)
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		if strings.HasPrefix(string(raw), "%PDF-") {
			return fmt.Errorf("%s is a PDF: claims are read from plain text, so copy the words of the leaflet into a text file, or type them with --says", filepath.Base(file))
		}
		texts = append(texts, string(raw))
	}
	if len(texts) == 0 {
		return fmt.Errorf("no claim is given: name a text file after the sheet, or type the words with --says")
	}
	j, err := judgeOne(ctx, io, c.File, judge.Request{Rules: rules, Claims: texts})
	if err != nil {
		return err
	}
	claims := audit.JudgeClaims(j.Case())
	if c.JSON {
		err = encode(io, claims)
	} else {
		err = printClaims(&printer{w: io.out}, j, claims)
	}
	if err != nil {
		return err
	}
	for _, cl := range claims {
		if cl.Verdict != audit.ClaimConsistent {
			return errFindings
		}
	}
	return nil
}

func printClaims(p *printer, j *judge.Judgement, claims []audit.Claimed) error {
	p.heading(judge.Name(j.Sheet) + ": what is claimed")
	if len(claims) == 0 {
		p.line(0, 0, "None of the claims that are known here was found in the text. That says nothing of what else it claims.")
	}
	for _, c := range claims {
		p.line(0, 2, fmt.Sprintf("%s: “%s”", strings.ToUpper(c.Verdict.String()), c.Words))
		p.pair(2, 14, "where", "“"+shorten(c.Text, 160)+"”")
		p.pair(2, 14, "means", c.Means)
		for _, s := range c.Sides {
			p.pair(2, 14, "the papers", sideText(s))
			for _, t := range s.Trace {
				p.pair(2, 14, "", t)
			}
		}
		p.pair(2, 14, "would show it", c.Support)
		p.printf("\n")
	}
	p.line(0, 0, "“Consistent with the sheet” does not say that a claim is true: only a test can.")
	return p.err
}
