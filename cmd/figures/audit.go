package main

import (
	"context"
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"sixteen/audit"
	"sixteen/demo/invent"
	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/judge"
)

// auditTrial is one generated sheet: clean, or with one fault planted.
type auditTrial struct {
	fault invent.Fault // a zero Fault: clean
	spec  sheetprint.Spec
	seed  uint64
}

// auditTally counts per kind of fault.
type auditTally struct {
	mu                    sync.Mutex
	planted, found        map[string]int
	unread                int
	clean, dirty, falsely int            // clean sheets; of these with a contradiction; contradictions in them
	by                    map[string]int // false contradictions by check
}

// auditing prints, per kind of planted fault, how many the audit finds on printed and read sheets, and how often it
// contradicts sheets in which nothing was planted. Every sheet is a PDF and goes the whole way through the desk.
func auditing(ctx context.Context) error {
	const each, clean = 6, 120
	trials, never, err := auditTrials(each, clean)
	if err != nil {
		return err
	}
	desk, err := judge.Open(ctx, judge.Options{})
	if err != nil {
		return err
	}
	defer desk.Close()
	start := time.Now()
	t := &auditTally{planted: map[string]int{}, found: map[string]int{}, by: map[string]int{}}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(min(2, runtime.NumCPU()))
	for _, trial := range trials {
		g.Go(func() error { return t.try(ctx, desk, trial) })
	}
	if err := g.Wait(); err != nil {
		return err
	}
	t.print(len(trials), never, time.Since(start))
	return nil
}

// auditTrials makes up the sheets: each fault in up to n sheets that it can be planted in, and clean ones. never lists
// the faults that no sheet of the trial could carry.
func auditTrials(n, clean int) (trials []auditTrial, never []string, err error) {
	const most = 120 // sheets tried for each fault
	next := auditSpecs(52_000)
	for _, f := range invent.Faults() {
		planted := 0
		for i := 0; i < most && planted < n; i++ {
			s, seed, err := next()
			if err != nil {
				return nil, nil, err
			}
			if s, ok := f.Plant(s); ok {
				trials = append(trials, auditTrial{f, s, seed})
				planted++
			}
		}
		if planted == 0 {
			never = append(never, f.Kind)
		}
	}
	for range clean {
		s, seed, err := next()
		if err != nil {
			return nil, nil, err
		}
		trials = append(trials, auditTrial{spec: s, seed: seed})
	}
	return trials, never, nil
}

// auditSpecs makes up one sheet after another, each with its seed. A seed of which no consistent product can be made is
// passed over; it fails when that happens ten times in a row.
func auditSpecs(seed uint64) func() (sheetprint.Spec, uint64, error) {
	return func() (s sheetprint.Spec, _ uint64, err error) {
		for range 10 {
			seed++
			if s, err = auditSpec(seed); err == nil {
				return s, seed, nil
			}
		}
		return s, seed, err
	}
}

// auditSpec makes up a sheet in a language in which sheets of its rule set are written.
func auditSpec(seed uint64) (sheetprint.Spec, error) {
	rules := []ghs.RuleSet{ghs.USHCS2024, ghs.EUCLP, ghs.CAHPR}[seed%3]
	lang := ghs.English
	switch {
	case rules == ghs.EUCLP:
		lang = ghs.Langs()[seed/3%4]
	case rules == ghs.CAHPR && seed/3%2 == 0:
		lang = ghs.French
	}
	return invent.Random(seed, lang, rules)
}

// try prints, reads and judges one sheet.
func (t *auditTally) try(ctx context.Context, desk *judge.Desk, a auditTrial) error {
	layout, err := sheetprint.NewLayout(int(a.seed)%sheetprint.LayoutCount()+1, a.spec.Rules, a.spec.Lang, a.seed)
	if err != nil {
		return err
	}
	printed, _, err := sheetprint.Print(a.spec, layout)
	if err != nil {
		return fmt.Errorf("sheet %d: %w", a.seed, err)
	}
	j, err := desk.Judge(ctx, fmt.Sprintf("%d.pdf", a.seed), printed, judge.Request{Rules: a.spec.Rules, Now: auditDay})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if a.fault.Kind != "" {
		t.planted[a.fault.Kind]++
	}
	switch {
	case err != nil:
		t.unread++
	case a.fault.Kind == "":
		t.countClean(j.Report)
	case slices.ContainsFunc(j.Report.Findings, func(f audit.Finding) bool { return slices.Contains(a.fault.Checks(), f.Check) }):
		t.found[a.fault.Kind]++
	}
	return nil
}

// auditDay is the day the sheets are judged on, so that their age does not depend on when the figures are taken.
var auditDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

func (t *auditTally) countClean(r audit.Report) {
	t.clean++
	n := 0
	for _, f := range r.Findings {
		if f.Kind == audit.Contradiction {
			n++
			t.by[f.Check]++
		}
	}
	t.falsely += n
	if n > 0 {
		t.dirty++
	}
}

func (t *auditTally) print(sheets int, never []string, took time.Duration) {
	fmt.Printf("%d generated sheets in every layout, printed as PDF, read and judged in %.0f s on %d processors; %d could not be read.\n", sheets, took.Seconds(), min(2, runtime.NumCPU()), t.unread)
	fmt.Printf("A fault counts as found when one of the checks named for it reports it; this says nothing of faults of other kinds.\n\n")
	fmt.Println("| planted fault | planted | found |")
	fmt.Println("|---|---:|---:|")
	planted, found, unlooked := 0, 0, 0
	for _, f := range invent.Faults() {
		if t.planted[f.Kind] == 0 {
			continue
		}
		note := ""
		if len(f.Checks()) == 0 {
			note = " (no check looks there)"
			unlooked++
		}
		fmt.Printf("| %s%s | %d | %d |\n", f.Kind, note, t.planted[f.Kind], t.found[f.Kind])
		planted += t.planted[f.Kind]
		found += t.found[f.Kind]
	}
	fmt.Printf("| **all %d kinds** | %d | %d |\n\n", len(t.planted), planted, found)
	fmt.Printf("Recall: %.1f %% (%d of %d); kinds without a check: %d; kinds that no sheet could carry: %d %v\n\n", 100*float64(found)/float64(max(1, planted)), found, planted, unlooked, len(never), never)
	fmt.Printf("False contradictions: %d in %d clean sheets, %.1f per 100; %d sheets have at least one.\n", t.falsely, t.clean, 100*float64(t.falsely)/float64(max(1, t.clean)), t.dirty)
	for _, check := range slices.Sorted(maps.Keys(t.by)) {
		fmt.Printf("- %s: %d\n", check, t.by[check])
	}
}
