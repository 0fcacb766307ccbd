package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
)

type reviseCommand struct {
	Old   string `arg:"" help:"The revision that you worked by."`
	New   string `arg:"" help:"The revision that came."`
	Rules string `help:"Rule set to judge by: ${rulesets}. Without it the rule set is found in the new revision."`
	JSON  bool   `help:"Print the changes with the evidence of both revisions as JSON."`
}

// revisedPaper is what a new revision changes.
type revisedPaper struct {
	Product  string          `json:"product"`
	RuleSet  ghs.RuleSet     `json:"rule_set"`
	Was      string          `json:"was"` // date of the old revision, "" when it gives none
	Is       string          `json:"is"`
	Mind     []string        `json:"mind"` // reasons to doubt that the two belong together
	Changes  []audit.Change  `json:"changes"`
	Papers   []string        `json:"papers"` // papers made from the old revision that are now wrong
	Findings []audit.Finding `json:"findings"`
}

// Run compares two revisions in meaning. It ends with errFindings when anything changed.
func (c *reviseCommand) Run(ctx context.Context, io streams) error {
	rules, err := parseRules(c.Rules)
	if err != nil {
		return err
	}
	desk, err := openDesk(ctx, io)
	if err != nil {
		return err
	}
	defer desk.Close()
	data, err := readFile(c.Old)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Old, err)
	}
	old, err := desk.Read(ctx, filepath.Base(c.Old), data)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Old, err)
	}
	j, _, err := judgeFile(ctx, desk, c.New, judge.Request{Rules: rules, Previous: old})
	if err != nil {
		return fmt.Errorf("%s: %w", c.New, err)
	}
	paper := revisedPaper{Product: judge.Name(j.Sheet), RuleSet: j.RuleSet, Was: old.Identification.RevisionDate.Value, Is: j.Sheet.Identification.RevisionDate.Value,
		Changes: audit.Revise(old, j.Sheet, j.RuleSet), Findings: findingsIn(j.Report, audit.Revision)}
	if a, b := judge.Name(old), paper.Product; !strings.EqualFold(a, b) {
		paper.Mind = append(paper.Mind, fmt.Sprintf("The old sheet is of “%s”, the new one of “%s”: make sure that they are of one product.", a, b))
	}
	if paper.Was != "" && paper.Is != "" && paper.Was > paper.Is {
		paper.Mind = append(paper.Mind, fmt.Sprintf("The sheet given as new is dated %s, before the old one (%s): swap them?", paper.Is, paper.Was))
	}
	paper.Papers = wrongPapers(paper.Changes)
	if c.JSON {
		err = encode(io, paper)
	} else {
		err = printRevised(&printer{w: io.out}, paper)
	}
	if err == nil && len(paper.Changes) > 0 {
		return errFindings
	}
	return err
}

// wrongPapers names the papers that quote what changed, by the section that changed: common practice of what a workshop
// makes from a sheet.
func wrongPapers(changes []audit.Change) []string {
	quotes := map[int][]int{2: {0, 1}, 3: {0, 1, 2}, 8: {1, 2}, 9: {1, 2}, 14: {3}}
	papers := []string{"labels on jars and shelves", "bench cards", "plans of ventilation and protection", "transport papers"}
	wrong := make([]bool, len(papers))
	for _, c := range changes {
		if !c.Papers {
			continue
		}
		for _, i := range quotes[c.Section] {
			wrong[i] = true
		}
	}
	var out []string
	for i, p := range papers {
		if wrong[i] {
			out = append(out, p)
		}
	}
	return out
}

func printRevised(p *printer, paper revisedPaper) error {
	p.heading(fmt.Sprintf("%s: revision of %s against revision of %s", paper.Product, orUndated(paper.Is), orUndated(paper.Was)))
	for _, m := range paper.Mind {
		p.pair(0, 14, "mind", m)
	}
	if len(paper.Changes) == 0 {
		p.line(0, 0, "Nothing that was compared changed in meaning: classes, signal word, ingredients and shares, limits, protection, measured data, transport. Wording was not compared.")
	}
	for _, c := range paper.Changes {
		p.line(0, 2, fmt.Sprintf("%s (%s): %s, section %d", strings.ToUpper(string(c.Direction)), c.Harm, c.What, c.Section))
		p.pair(2, 14, "was", sideText(c.Was))
		p.pair(2, 14, "is", sideText(c.Is))
		p.pair(2, 14, "means", c.Means)
		if c.Papers {
			p.pair(2, 14, "papers", "those made from the older revision are now wrong here")
		}
		p.printf("\n")
	}
	for _, f := range paper.Findings {
		printFinding(p, f)
	}
	if len(paper.Papers) > 0 {
		p.line(0, 2, paper.advice())
	}
	return p.err
}

// advice says what to do about the papers. While a doubt about a milder revision is open, the sterner papers stay.
func (r revisedPaper) advice() string {
	papers := strings.Join(r.Papers, ", ")
	open := endWith(r.Findings) != nil
	milder := slices.ContainsFunc(r.Changes, func(c audit.Change) bool { return c.Papers && c.Direction == audit.Milder })
	sterner := slices.ContainsFunc(r.Changes, func(c audit.Change) bool { return c.Papers && c.Direction != audit.Milder })
	switch {
	case open && !sterner:
		return "No longer as the new sheet says: " + papers + ". It warns of less and the reason is open: keep the older, stricter papers until the supplier has answered."
	case open:
		return "Take back and make anew: " + papers + ". Where the new sheet warns of less, keep the older, stricter words until the supplier has answered."
	case milder:
		return "Take back and make anew: " + papers + ". Where the new sheet warns of less, see first which ingredient, share or measurement explains it; while none does, keep the older, stricter papers."
	}
	return "Take back and make anew: " + papers + "."
}

func orUndated(date string) string {
	if date == "" {
		return "no date"
	}
	return date
}
