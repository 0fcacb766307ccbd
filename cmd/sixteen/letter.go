package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/paper"
)

type letterCommand struct {
	File   string `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Lang   string `help:"Language of the letter: en, fr, de or es. Without it the language of the sheet."`
	Rules  string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	JSON   bool   `help:"Print the letter as JSON, each question with the findings it comes from."`
	HTML   string `help:"Write the letter as an HTML file to print." placeholder:"OUT" type:"path"`
	Out    string `help:"Write the letter with its annex of evidence to this file: .pdf, .docx or .html." placeholder:"FILE" type:"path"`
	Format string `help:"pdf, html or docx; without it the ending of the file." placeholder:"FORMAT"`
	From   string `help:"Sender on the written letter, lines separated by commas." placeholder:"ADDRESS"`
	Date   string `help:"Date of the written letter, year-month-day. Without it today." placeholder:"DATE"`
}

// Run writes the letter to the supplier. Without a question it writes none and says so.
func (c *letterCommand) Run(ctx context.Context, io streams) error {
	letter, report, err := c.make(ctx, io)
	if err != nil || len(letter.Questions) == 0 {
		return err
	}
	switch {
	case c.JSON:
		return encode(io, letter)
	case c.HTML == "" && c.Out == "" && c.Format == "":
		_, err = fmt.Fprint(io.out, letter.Text())
		return err
	}
	o := output{Out: cmp.Or(c.Out, c.HTML), Format: c.Format, Date: c.Date}
	if c.Out == "" && c.HTML != "" {
		o.Format = string(paper.HTML)
	}
	return writeLetter(io, o, c.File, letter, report, paper.LetterOptions{From: c.From})
}

// make judges the sheet and writes the letter from its findings.
func (c *letterCommand) make(ctx context.Context, io streams) (audit.Letter, audit.Report, error) {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return audit.Letter{}, audit.Report{}, err
	}
	lang, err := parseLang(c.Lang)
	if err != nil {
		return audit.Letter{}, audit.Report{}, err
	}
	j, err := judgeOne(ctx, io, c.File, judge.Request{Rules: rules})
	if err != nil {
		return audit.Letter{}, audit.Report{}, err
	}
	if lang == "" {
		lang = ghs.English
		if l := j.Sheet.Language; l.Known() {
			lang = l.Value
		}
	}
	letter, ok := audit.LetterOf(j.Sheet, j.Report, lang)
	if !ok {
		_, err = fmt.Fprintln(io.err, "sixteen: no finding asks the supplier anything, so no letter was written")
	}
	return letter, j.Report, err
}

// writeLetter writes the letter as a paper.
func writeLetter(io streams, o output, source string, letter audit.Letter, report audit.Report, opt paper.LetterOptions) error {
	date, err := o.date()
	if err != nil {
		return err
	}
	opt.Date = date
	var lines []string
	for _, l := range strings.Split(opt.From, ",") {
		lines = append(lines, strings.TrimSpace(l))
	}
	opt.From = strings.Join(lines, "\n")
	return o.write(io, "letter", source, paper.SupplierLetter(letter, report, opt).Write)
}

type printLetter struct {
	output
	paged
	File  string `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Lang  string `help:"Language of the letter: en, fr, de or es. Without it the language of the sheet."`
	Rules string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	From  string `help:"Sender, lines separated by commas." placeholder:"ADDRESS"`
}

// Run prints the letter.
func (c *printLetter) Run(ctx context.Context, io streams) error {
	letter, report, err := (&letterCommand{File: c.File, Lang: c.Lang, Rules: c.Rules}).make(ctx, io)
	if err != nil || len(letter.Questions) == 0 {
		return err
	}
	return writeLetter(io, c.output, c.File, letter, report, paper.LetterOptions{From: c.From, Page: c.size()})
}

// parseLang understands the --lang flag; "" stands for "the language of the sheet".
func parseLang(s string) (ghs.Lang, error) {
	if s == "" {
		return "", nil
	}
	for _, l := range ghs.Langs() {
		if string(l) == s {
			return l, nil
		}
	}
	return "", fmt.Errorf("--lang: there is no letter in %q: choose one of %v", s, ghs.Langs())
}

// writeWhole writes a file that appears whole or not at all.
func writeWhole(file string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(file), ".sixteen-*")
	if err != nil {
		return fmt.Errorf("the file cannot be written: %w", err)
	}
	defer os.Remove(f.Name())
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), file)
}
