package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

type labelCommand struct {
	File        string   `arg:"" name:"sheet" help:"The safety data sheet (PDF, text)."`
	Label       string   `help:"The label as a JSON file; the flags below fill in or replace what it says." placeholder:"FILE" type:"path"`
	Photo       string   `help:"A photograph or PDF of the label; it is read, and the flags below fill in or replace what was read." placeholder:"FILE" type:"path"`
	Pictograms  []string `help:"Symbols on the label: GHS02,GHS07."`
	Signal      string   `help:"Signal word on the label, as printed."`
	Statements  []string `help:"Hazard statements on the label by code: H225,H319; EUH208."`
	Precautions []string `help:"Precautionary statements on the label by code."`
	Product     string   `help:"Product name on the label."`
	Millilitres float64  `help:"What the container holds; small ones may leave things out."`
	Whole       bool     `help:"This is all that the label says, so that what is absent is held against it."`
	Rules       string   `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet."`
	JSON        bool     `help:"Print the verdict and both sides as JSON."`
}

// labelPaper is the outcome of comparing a label with its sheet.
type labelPaper struct {
	Verdict  string          `json:"verdict"`
	RuleSet  ghs.RuleSet     `json:"rule_set"`
	Label    audit.Label     `json:"label"`
	Findings []audit.Finding `json:"findings"`
}

// Run compares a label with the sheet. It ends with errFindings when they differ or a point is open.
func (c *labelCommand) Run(ctx context.Context, io streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	label, err := c.label(ctx, io)
	if err != nil {
		return err
	}
	j, err := judgeOne(ctx, io, c.File, judge.Request{Rules: rules, Label: &label})
	if err != nil {
		return err
	}
	paper := labelPaper{Verdict: audit.LabelVerdict(j.Case(), j.Report), RuleSet: j.RuleSet, Label: label, Findings: findingsIn(j.Report, audit.LabelSheet)}
	if err := c.show(io, j, paper); err != nil {
		return err
	}
	return endWith(paper.Findings)
}

func (c *labelCommand) show(io streams, j *judge.Judgement, paper labelPaper) error {
	if c.JSON {
		return encode(io, paper)
	}
	p := &printer{w: io.out}
	p.heading(judge.Name(j.Sheet) + ": label and sheet")
	p.line(0, 2, paper.Verdict)
	p.printf("\n")
	p.pair(0, 14, "", "on the label | in section 2 of the sheet")
	p.pair(0, 14, "signal word", orNothing(paper.Label.SignalPrinted)+" | "+judge.SignalShown(j.Sheet.Hazards))
	p.pair(0, 14, "symbols", pictogramsShown(paper.Label.Pictograms)+" | "+sheetPictograms(j.Sheet))
	p.pair(0, 14, "statements", codesShown(paper.Label.Statements)+" | "+codesShown(stated(j.Sheet.Hazards.Statements)))
	for _, e := range paper.Label.Evidence {
		p.pair(0, 14, "read on label", fmt.Sprintf("“%s” [at %.0f, %.0f]", e.Words, e.Box.X0, e.Box.Y0))
	}
	p.pair(0, 14, "judged under", fmt.Sprintf("%s, %s", j.RuleSet.Name(), j.RuleSetWhy))
	p.printf("\n")
	for _, f := range paper.Findings {
		printFinding(p, f)
	}
	return p.err
}

// label is what the file and the flags say of the label.
func (c *labelCommand) label(ctx context.Context, io streams) (audit.Label, error) {
	var l audit.Label
	if c.Photo != "" && c.Label != "" {
		return l, fmt.Errorf("--photo and --label both describe the label: give one of them")
	}
	if c.Photo != "" {
		var err error
		if l, err = photographed(ctx, io, c.Photo); err != nil {
			return l, err
		}
		return l, c.fill(&l)
	}
	if c.Label != "" {
		raw, err := os.ReadFile(c.Label)
		if err != nil {
			return l, fmt.Errorf("--label: the label cannot be opened: %w", err)
		}
		if err := json.Unmarshal(raw, &l); err != nil {
			return l, fmt.Errorf("--label %s is not a label in JSON (%w): the files in the demo's folder labels show the form", c.Label, err)
		}
	}
	if c.Label == "" && c.Signal == "" && c.Product == "" && len(c.Pictograms)+len(c.Statements)+len(c.Precautions) == 0 {
		return l, fmt.Errorf("nothing is known of the label: name its file with --label, photograph it for --photo, or give --pictograms, --signal and --statements")
	}
	return l, c.fill(&l)
}

// photographed reads a label from a picture or PDF of it. What a picture does not show may be on another side of the
// container, so that the label counts as incomplete; its evidence keeps the words and places.
func photographed(ctx context.Context, io streams, file string) (audit.Label, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return audit.Label{}, fmt.Errorf("--photo: the picture cannot be opened: %w", err)
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return audit.Label{}, err
	}
	defer desk.Close()
	read, err := desk.ReadLabel(ctx, data)
	if err != nil {
		return audit.Label{}, fmt.Errorf("--photo %s: %w", file, err)
	}
	l := audit.Label{Product: read.Product.Value, UFI: read.UFI.Value, Supplier: read.Supplier.Value, Phone: read.Phone.Value,
		SignalPrinted: read.SignalPrinted.Value, Statements: stated(read.Statements), Precautions: stated(read.Precautions), Text: read.Text}
	l.Evidence = append(l.Evidence, read.SignalPrinted.Evidence...)
	for _, f := range read.Pictograms {
		if f.Known() {
			l.Pictograms = append(l.Pictograms, f.Value)
		}
	}
	for _, f := range read.Statements {
		l.Evidence = append(l.Evidence, f.Evidence...)
	}
	return l, nil
}

func (c *labelCommand) fill(l *audit.Label) error {
	var symbols []ghs.Pictogram
	for _, s := range c.Pictograms {
		p, ok := ghs.ParsePictogram(strings.TrimSpace(s))
		if !ok {
			return fmt.Errorf("--pictograms: %q is none of the nine symbols: write GHS01 … GHS09", s)
		}
		symbols = append(symbols, p)
	}
	if len(symbols) > 0 {
		l.Pictograms = symbols
	}
	for _, codes := range []struct {
		flag string
		text []string
		to   *[]sheet.Statement
	}{{"--statements", c.Statements, &l.Statements}, {"--precautions", c.Precautions, &l.Precautions}} {
		if len(codes.text) == 0 {
			continue
		}
		*codes.to = nil
		for _, s := range codes.text {
			code, ok := ghs.NormaliseCode(strings.TrimSpace(s))
			if !ok {
				return fmt.Errorf("%s: %q is not a statement code: write it like H225, EUH208 or P305+P351+P338", codes.flag, s)
			}
			*codes.to = append(*codes.to, sheet.Statement{Code: code})
		}
	}
	if c.Signal != "" {
		l.SignalPrinted = c.Signal
	}
	if c.Product != "" {
		l.Product = c.Product
	}
	if c.Millilitres > 0 {
		l.CapacityML = c.Millilitres
	}
	l.Complete = l.Complete || c.Whole
	return nil
}

func stated(facts []sheet.Fact[sheet.Statement]) []sheet.Statement {
	var out []sheet.Statement
	for _, f := range facts {
		if f.Known() {
			out = append(out, f.Value)
		}
	}
	return out
}

func codesShown(statements []sheet.Statement) string {
	var out []string
	for _, s := range statements {
		if s.Code != "" {
			out = append(out, s.Code.Printed())
		} else {
			out = append(out, "“"+s.Phrase+"”")
		}
	}
	return orNothing(strings.Join(out, ", "))
}

func pictogramsShown(ps []ghs.Pictogram) string {
	var out []string
	for _, p := range ps {
		out = append(out, p.String())
	}
	return orNothing(strings.Join(out, ", "))
}

func sheetPictograms(s *sheet.Sheet) string {
	var out []ghs.Pictogram
	for _, f := range s.Hazards.Pictograms {
		if f.Known() {
			out = append(out, f.Value)
		}
	}
	if len(out) == 0 {
		return "none read"
	}
	return pictogramsShown(out)
}

func orNothing(s string) string {
	if s == "" {
		return "none"
	}
	return s
}
