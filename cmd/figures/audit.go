package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
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

// auditWay is one way from a made-up sheet to its findings: printed as PDF and read, or with reading left out.
type auditWay int

const (
	printedPDF auditWay = iota
	asWritten           // the sheet as a reader without fault would read it
	auditWays
)

func (w auditWay) String() string {
	return [...]string{"printed as PDF, read and judged", "judged without any reading"}[w]
}

// auditTally counts, for one way, per kind of fault and per check.
type auditTally struct {
	planted, found map[string]int // by kind of fault
	caught         map[string]int // planted faults that a check named for them reported, by check
	false          map[string]int // false contradictions, by check
	unread         int
	clean, dirty   int // clean sheets; of these with a contradiction
	misses         []string
}

// auditRun tries every trial in every way.
type auditRun struct {
	desk    *judge.Desk
	mu      sync.Mutex
	tallies [auditWays]auditTally
}

// auditing prints, per kind of planted fault and per check, how much the audit finds, and how often it contradicts sheets
// in which nothing was planted: once on printed sheets that go the whole way through the desk, once with reading left
// out. detail lists every miss and every false contradiction.
func auditing(ctx context.Context, seed uint64, detail bool) error {
	const each, clean = 6, 300
	trials, never, err := auditTrials(seed, each, clean)
	if err != nil {
		return err
	}
	desk, err := judge.Open(ctx, judge.Options{})
	if err != nil {
		return err
	}
	defer desk.Close()
	start := time.Now()
	run := &auditRun{desk: desk}
	for w := range run.tallies {
		run.tallies[w] = auditTally{planted: map[string]int{}, found: map[string]int{}, caught: map[string]int{}, false: map[string]int{}}
	}
	fmt.Printf("Seeds from %d on. ", seed+1)
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(min(2, runtime.NumCPU()))
	for _, trial := range trials {
		g.Go(func() error { return run.try(ctx, trial) })
	}
	if err := g.Wait(); err != nil {
		return err
	}
	run.print(os.Stdout, len(trials), never, time.Since(start))
	if detail {
		run.printMisses(os.Stdout)
	}
	return nil
}

// auditTrials makes up the sheets: each fault in up to n sheets that it can be planted in, and clean ones. never lists
// the faults that no sheet of the trial could carry.
func auditTrials(seed uint64, n, clean int) (trials []auditTrial, never []string, err error) {
	const most = 150 // sheets tried for each fault
	next := auditSpecs(seed)
	for _, f := range invent.Faults() {
		planted := 0
		for i := 0; i < most && planted < n; i++ {
			s, seed, err := next()
			if err != nil {
				return nil, nil, err
			}
			ok, err := planting(f, &s, seed)
			if err != nil {
				return nil, nil, err
			}
			if ok {
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

// planting plants a fault, if the sheet can carry it and its layout prints what the fault changes: no class can be left out
// of a table that has no column for classes.
func planting(f invent.Fault, s *sheetprint.Spec, seed uint64) (bool, error) {
	faulty, ok := f.Plant(*s)
	if !ok {
		return false, nil
	}
	layout, err := auditLayout(auditTrial{spec: *s, seed: seed})
	if err != nil {
		return false, err
	}
	shown, err := sheetprint.Differ(*s, faulty, layout)
	if shown = shown && f.Shown(layout); shown {
		*s = faulty
	}
	return shown, err
}

// auditSpecs makes up one sheet after another, each with its seed.
func auditSpecs(seed uint64) func() (sheetprint.Spec, uint64, error) {
	return func() (sheetprint.Spec, uint64, error) {
		seed++
		s, err := auditSpec(seed)
		if err != nil {
			err = fmt.Errorf("sheet %d: %w", seed, err)
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

// auditDay is the day the sheets are judged on, so that their age does not depend on when the figures are taken.
var auditDay = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// try judges one sheet in every way.
func (r *auditRun) try(ctx context.Context, a auditTrial) error {
	layout, err := auditLayout(a)
	if err != nil {
		return err
	}
	request := judge.Request{Rules: a.spec.Rules, Now: auditDay}
	printed, _, err := sheetprint.Print(a.spec, layout)
	if err != nil {
		return fmt.Errorf("sheet %d: %w", a.seed, err)
	}
	j, err := r.desk.Judge(ctx, fmt.Sprintf("%d.pdf", a.seed), printed, request)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	r.count(printedPDF, a, j, err)
	perfect, err := sheetprint.AsRead(a.spec, layout)
	if err != nil {
		return fmt.Errorf("sheet %d: %w", a.seed, err)
	}
	j, err = judge.JudgeSheet(ctx, perfect, r.desk.Substances(), request)
	if err != nil {
		return fmt.Errorf("sheet %d: %w", a.seed, err)
	}
	r.count(asWritten, a, j, nil)
	return nil
}

// count enters one outcome. A sheet that could not be read counts as a fault not found.
func (r *auditRun) count(w auditWay, a auditTrial, j *judge.Judgement, failed error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	t := &r.tallies[w]
	where := fmt.Sprintf("%s: seed %d, layout %d, %s, %s, %s", w, a.seed, auditLayoutNumber(a), a.spec.Rules, a.spec.Lang, a.spec.Product)
	if a.fault.Kind != "" {
		t.planted[a.fault.Kind]++
	}
	switch {
	case failed != nil:
		t.unread++
		t.misses = append(t.misses, fmt.Sprintf("%s: not read: %v", where, failed))
	case a.fault.Kind == "":
		t.countClean(j.Report, where)
	default:
		t.countPlanted(a.fault, j.Report, where)
	}
}

func (t *auditTally) countPlanted(f invent.Fault, r audit.Report, where string) {
	found := false
	for _, check := range f.Checks() {
		if slices.ContainsFunc(r.Findings, func(g audit.Finding) bool { return g.Check == check }) {
			t.caught[check]++
			found = true
		}
	}
	if found {
		t.found[f.Kind]++
		return
	}
	t.misses = append(t.misses, where+": missed "+f.Kind)
}

func (t *auditTally) countClean(r audit.Report, where string) {
	t.clean++
	before := t.falsely()
	for _, f := range r.Findings {
		if f.Kind == audit.Contradiction {
			t.false[f.Check]++
			t.misses = append(t.misses, where+": false "+f.Check+": "+f.Title)
		}
	}
	if t.falsely() > before {
		t.dirty++
	}
}

func (t *auditTally) falsely() int { return total(t.false) }

func total(m map[string]int) int {
	sum := 0
	for _, n := range m {
		sum += n
	}
	return sum
}

func (r *auditRun) print(w io.Writer, sheets int, never []string, took time.Duration) {
	fmt.Fprintf(w, "%d generated sheets in every layout, in %.0f s on %d processors; %d could not be read. One fault is planted in a sheet, or none.\n", sheets, took.Seconds(), min(2, runtime.NumCPU()), r.tallies[printedPDF].unread)
	fmt.Fprintf(w, "A fault counts as found when one of the checks named for it reports it.\n\n")
	fmt.Fprintln(w, "| figure | printed as PDF, read and judged | judged without any reading | goal |")
	fmt.Fprintln(w, "|---|---:|---:|---:|")
	row := func(name, goal string, of func(*auditTally) string) {
		fmt.Fprintf(w, "| %s | %s | %s | %s |\n", name, of(&r.tallies[printedPDF]), of(&r.tallies[asWritten]), goal)
	}
	row("planted faults found (recall)", "≥ 98 %", func(t *auditTally) string {
		return fmt.Sprintf("%.1f %% (%d of %d)", 100*float64(total(t.found))/float64(max(1, total(t.planted))), total(t.found), total(t.planted))
	})
	row("false contradictions per 100 clean sheets", "≤ 1", func(t *auditTally) string {
		return fmt.Sprintf("%.1f (%d in %d)", 100*float64(t.falsely())/float64(max(1, t.clean)), t.falsely(), t.clean)
	})
	row("clean sheets with a contradiction", "", func(t *auditTally) string { return fmt.Sprint(t.dirty) })
	fmt.Fprintf(w, "\nKinds that no sheet of this run could carry: %d %v\n\n", len(never), never)
	r.printKinds(w)
	r.printChecks(w)
}

// printKinds is the table of the kinds of fault.
func (r *auditRun) printKinds(w io.Writer) {
	p, q := r.tallies[printedPDF], r.tallies[asWritten]
	fmt.Fprintln(w, "| planted fault | planted | found | found without reading |")
	fmt.Fprintln(w, "|---|---:|---:|---:|")
	for _, f := range invent.Faults() {
		if p.planted[f.Kind] > 0 {
			fmt.Fprintf(w, "| %s | %d | %d | %d |\n", f.Kind, p.planted[f.Kind], p.found[f.Kind], q.found[f.Kind])
		}
	}
	fmt.Fprintf(w, "| **all %d kinds** | %d | %d | %d |\n\n", len(p.planted), total(p.planted), total(p.found), total(q.found))
}

// printChecks is the table of the checks: planted faults that one of them is named for, how many of those it reported
// itself, and how often it contradicted a clean sheet.
func (r *auditRun) printChecks(w io.Writer) {
	p, q := r.tallies[printedPDF], r.tallies[asWritten]
	named := map[string]int{}
	for _, f := range invent.Faults() {
		for _, check := range f.Checks() {
			named[check] += p.planted[f.Kind]
		}
	}
	fmt.Fprintln(w, "A fault that several checks are named for counts for each of them; one of them is enough.")
	fmt.Fprintln(w)
	fmt.Fprintln(w, "| check | planted faults named for it | it reported | without reading | false contradictions | without reading |")
	fmt.Fprintln(w, "|---|---:|---:|---:|---:|---:|")
	for _, c := range audit.Catalogue() {
		if named[c.ID] > 0 || p.false[c.ID] > 0 || q.false[c.ID] > 0 {
			fmt.Fprintf(w, "| %s | %d | %d | %d | %d | %d |\n", c.ID, named[c.ID], p.caught[c.ID], q.caught[c.ID], p.false[c.ID], q.false[c.ID])
		}
	}
	fmt.Fprintf(w, "\nChecks without a planted fault, tested by their own tests:\n\n| check | why no fault is planted |\n|---|---|\n")
	for _, c := range audit.Catalogue() {
		if named[c.ID] == 0 {
			fmt.Fprintf(w, "| %s | %s |\n", c.ID, cmp.Or(invent.Unplanted()[c.ID], "no sheet of this run could carry it"))
		}
	}
}

// printMisses lists what went wrong, sheet by sheet.
func (r *auditRun) printMisses(w io.Writer) {
	fmt.Fprintln(w)
	for _, t := range r.tallies {
		slices.Sort(t.misses)
		for _, m := range t.misses {
			fmt.Fprintln(w, "- "+strings.ReplaceAll(m, "\n", " "))
		}
	}
}
