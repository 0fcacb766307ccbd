package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/web"
)

type checkCommand struct {
	batch
	Rules string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the sheet, and said."`
	HTML  string `help:"Also write the judgement as one HTML file, or for several sheets one file each into this folder." placeholder:"OUT" type:"path"`
	All   bool   `help:"Print notes too, and the classes the rules give."`
}

// judgedPaper is a judgement with the file it is of.
type judgedPaper struct {
	File string `json:"file"`
	*judge.Judgement
}

// Run judges every document. It ends with errFindings when any has findings, errSaid when any could not be read.
func (c *checkCommand) Run(ctx context.Context, streams streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	desk, err := openDesk(ctx, streams)
	if err != nil {
		return err
	}
	defer desk.Close()
	docs, _, _, err := c.documents()
	if err != nil {
		return err
	}
	return c.run(ctx, streams, desk, func(ctx context.Context, w io.Writer, d document, data []byte) (tally, error) {
		j, err := desk.Judge(ctx, filepath.Base(d.path), data, judge.Request{Rules: rules})
		if err != nil {
			return tally{}, err
		}
		t := tally{product: judge.Name(j.Sheet), pages: len(j.Sheet.Source.Pages)}
		t.count(j.Report)
		if c.HTML != "" {
			if err := c.writeHTML(ctx, streams, desk, j, data, d, len(docs) > 1); err != nil {
				return t, err
			}
		}
		return t, c.show(w, d, j)
	})
}

func (c *checkCommand) show(w io.Writer, d document, j *judge.Judgement) error {
	if c.JSON {
		return encodeTo(w, judgedPaper{d.path, j})
	}
	p := &printer{w: w}
	printJudgement(p, j, c.All)
	return p.err
}

// writeHTML writes to the named file, or into the named folder when there are several sheets. The file appears whole or
// not at all.
func (c *checkCommand) writeHTML(ctx context.Context, streams streams, desk *judge.Desk, j *judge.Judgement, data []byte, d document, several bool) error {
	target := c.HTML
	if several {
		target = filepath.Join(target, strings.TrimSuffix(d.name, filepath.Ext(d.name))+".html")
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
	}
	if err := writeWhole(target, func(w io.Writer) error { return web.WriteFile(ctx, w, desk, j, data) }); err != nil {
		return fmt.Errorf("the report cannot be written: %w", err)
	}
	if several {
		return nil
	}
	_, err := fmt.Fprintf(streams.err, "sixteen: report written to %s\n", target)
	return err
}

// openDesk opens the desk, which honours what was decided on the shelf, and lets it say on the error stream what takes long.
func openDesk(ctx context.Context, io streams) (*judge.Desk, error) {
	return judge.Open(ctx, judge.Options{Decided: decidedOn(io.shelf), Progress: func(what string) { fmt.Fprintln(io.err, "sixteen:", what) }})
}

// judgeFile reads a file and judges it.
func judgeFile(ctx context.Context, desk *judge.Desk, file string, req judge.Request) (*judge.Judgement, []byte, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, nil, err
	}
	j, err := desk.Judge(ctx, filepath.Base(file), data, req)
	return j, data, err
}

// readFile reads a whole document, within the size that is read at all.
func readFile(file string) ([]byte, error) {
	info, err := os.Stat(file)
	switch {
	case os.IsNotExist(err):
		return nil, fmt.Errorf("there is no such file: check the name")
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("this is a folder: name a file in it")
	case info.Size() > judge.MaxDocumentBytes:
		return nil, fmt.Errorf("the file has %d MB, more than the %d MB that are read: a safety data sheet is rarely over 5 MB, so check that it is the right file, or print it to a smaller PDF", info.Size()>>20, judge.MaxDocumentBytes>>20)
	}
	return os.ReadFile(file)
}

// parseRules understands the --rules flag; "" stands for "find it in the sheet".
func parseRules(s string) (ghs.RuleSet, error) {
	if s == "" {
		return "", nil
	}
	rs, err := ghs.ParseRuleSet(s)
	if err != nil {
		return "", fmt.Errorf("--rules: %w", err)
	}
	return rs, nil
}

// printJudgement writes the judgement of one sheet for a terminal: who and what, then the findings, worst harm first.
func printJudgement(p *printer, j *judge.Judgement, all bool) {
	s := j.Sheet
	p.heading(judge.Name(s))
	p.pair(0, 14, "file", s.Source.Name)
	p.pair(0, 14, "supplier", judge.Shown(s.Identification.Supplier))
	p.pair(0, 14, "revision", judge.Shown(s.Identification.RevisionDate))
	p.pair(0, 14, "judged under", fmt.Sprintf("%s, %s", j.RuleSet.Name(), j.RuleSetWhy))
	p.pair(0, 14, "signal word", judge.SignalShown(s.Hazards))
	for i, st := range s.Hazards.Statements {
		label := ""
		if i == 0 {
			label = "statements"
		}
		p.pair(0, 14, label, judge.StatementShown(st.Value))
	}
	for _, pr := range s.Problems {
		p.pair(0, 14, "not read", pr.What+" "+pr.Do)
	}
	for _, t := range judge.Traps(s) {
		p.pair(0, 14, "mind", t)
	}
	printFindings(p, j, all)
	printConclusions(p, j, all)
	p.printf("\n")
	p.line(0, 0, "Help for a decision, not legal, medical or engineering advice; local rules and licensed practice come first.")
}

func printFindings(p *printer, j *judge.Judgement, all bool) {
	open := j.Report.Open()
	notes := 0
	p.printf("\n")
	if len(open) == 0 {
		p.line(0, 0, "The checks found nothing that needs an answer. That says that the paper agrees with itself and with what it discloses, not that the product cannot harm.")
	}
	for _, f := range open {
		if f.Kind == audit.Note && !all {
			notes++
			continue
		}
		printFinding(p, f)
	}
	printOverruled(p, j.Report)
	if notes > 0 {
		p.line(0, 0, fmt.Sprintf("Further notes worth knowing: %d (print them with --all).", notes))
	}
	if n := len(j.Report.Unchecked); n > 0 {
		p.line(0, 0, fmt.Sprintf("%d of %d checks could not be made for want of facts:", n, j.Report.Made))
		if all {
			for _, u := range j.Report.Unchecked {
				p.line(2, 2, u.Check+": "+u.Why)
			}
		} else {
			p.line(2, 2, "print them with --all")
		}
	}
}

func printFinding(p *printer, f audit.Finding) {
	p.line(0, 2, fmt.Sprintf("%s (%s): %s", strings.ToUpper(f.Kind.String()), f.Harm, f.Title))
	for _, s := range f.Says {
		p.pair(2, 14, "it says", sideText(s))
	}
	for _, s := range f.Follows {
		p.pair(2, 14, "what follows", sideText(s))
		for _, t := range s.Trace {
			p.pair(2, 14, "", t)
		}
	}
	if f.CouldHappen != "" {
		p.pair(2, 14, "could happen", f.CouldHappen)
	}
	p.pair(2, 14, "what to do", f.Do)
	p.pair(2, 14, "rule", f.Clause+"  ["+f.ID+"]")
	p.printf("\n")
}

// sideText is one side of a finding with where it stands and what it rests on.
func sideText(s audit.Side) string {
	out := s.Text
	pages := map[int]bool{}
	for _, e := range s.Evidence {
		if e.Page > 0 && !pages[e.Page] {
			pages[e.Page] = true
			out += fmt.Sprintf(" [p. %d: “%s”]", e.Page, shorten(e.Words, 90))
		}
	}
	if s.Source != "" {
		out += " (" + s.Source
		if s.Memory {
			out += "; recalled, not looked up"
		}
		out += ")"
	}
	return out
}

func shorten(s string, n int) string {
	r := []rune(strings.Join(strings.Fields(s), " "))
	if len(r) <= n {
		return string(r)
	}
	return string(r[:n-1]) + "…"
}

func printConclusions(p *printer, j *judge.Judgement, all bool) {
	c := j.Conclusions
	p.printf("\n")
	for _, t := range slices.Concat([]string{c.Impossible}, c.Proof, []string{c.Remainder}) {
		if t != "" {
			p.line(0, 2, t)
		}
	}
	if len(c.Classes) == 0 {
		return
	}
	p.printf("\n")
	p.pair(0, 34, "class from the ingredients", "verdict and whether the sheet states it")
	for _, k := range c.Classes {
		stated := "not stated"
		if k.Declared {
			stated = "stated"
		}
		p.pair(0, 34, k.Hazard.String(), k.Verdict+", "+stated)
		if !all {
			continue
		}
		for _, r := range k.Why {
			p.line(4, 2, judge.ReasonShown(r))
		}
		if k.For != "" {
			p.line(4, 2, "has it, for example: "+k.For)
			p.line(4, 2, "does not have it, for example: "+k.Against)
		}
	}
	if !all {
		p.line(0, 0, "The arithmetic of each class: --all, or --json for everything.")
	}
}
