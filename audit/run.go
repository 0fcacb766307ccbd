package audit

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Group says what a check compares with what.
type Group string

// Groups, in the order of the catalogue.
const (
	Paper       Group = "the paper itself"
	Inside2     Group = "section 2 with itself"
	Section3    Group = "section 3 with itself"
	With3       Group = "section 2 with section 3"
	FirstAid    Group = "section 2 with section 4"
	Fire5       Group = "section 2 with section 5"
	Stability10 Group = "section 2 with section 10"
	With9       Group = "section 2 with section 9"
	Inside9     Group = "section 9 with itself"
	With11      Group = "section 2 with section 11"
	With12      Group = "section 2 with section 12"
	Limits8     Group = "section 3 with section 8"
	Protect8    Group = "section 8 with sections 2 and 3"
	With14      Group = "section 14 with sections 2 and 9"
	RatingsData Group = "ratings with the data"
	Reference   Group = "the sheet with the substance table"
	LabelSheet  Group = "label with sheet"
	ClaimsAll   Group = "claims with everything"
	KitParts    Group = "parts with the kit"
	Revision    Group = "revision with its predecessor"
)

// Groups lists the groups in the order of the catalogue.
func Groups() []Group {
	return []Group{Paper, Inside2, Section3, With3, FirstAid, Fire5, Stability10, With9, Inside9, With11, With12, Limits8, Protect8, With14,
		RatingsData, Reference, LabelSheet, ClaimsAll, KitParts, Revision}
}

// Clauses names, per rule set, the clause that a check rests on. The key "" stands for every rule set that has no entry
// of its own. A check does not run for a rule set without an entry. Where there is no publication the text says
// "common practice"; what was recalled and not read says "from memory".
type Clauses map[ghs.RuleSet]string

// For is the clause for one rule set, "" when the check does not apply there.
func (c Clauses) For(rs ghs.RuleSet) string {
	if s, ok := c[rs]; ok {
		return s
	}
	return c[""]
}

// Check is one row of the catalogue: what it compares, on which clause it rests, and the comparison itself.
type Check struct {
	ID       string
	Title    string
	Group    Group
	Kinds    []Kind // the kinds of finding it can give
	Harm     Harm   // of its findings that concern no single hazard
	Could    string // what could happen to whom, where no single hazard says it
	Compares string // one sentence: what is compared with what
	Clauses  Clauses
	Example  string // a sheet that fails, in words
	Do       string // what the reader does next
	Run      func(*Case, *Emit)
}

// Fault is what a check hands to Emit. Zero fields are filled from the row of the check.
type Fault struct {
	Kind    Kind
	Hazard  ghs.Hazard // sets Harm and CouldHappen of the finding
	Section int
	Title   string
	Says    []Side
	Follows []Side
	Could   string
	Do      string
	Ask     Question
	Key     []string // the facts that make the fault; ID is their hash. Positions on the page do not belong here
}

// Emit collects the findings of one check.
type Emit struct {
	ctx      context.Context
	rules    ghs.RuleSet
	check    Check
	scanned  bool // the words of the sheet come from pictures
	findings *[]Finding
	limits   *[]Unchecked
}

// Report adds one finding.
func (e *Emit) Report(f Fault) {
	out := Finding{
		ID: faultID(e.check.ID, f.Key), Check: e.check.ID, Kind: f.Kind, Harm: e.check.Harm, Section: f.Section,
		Title: f.Title, Says: f.Says, Follows: f.Follows, CouldHappen: cmp.Or(f.Could, e.check.Could),
		Clause: e.check.Clauses.For(e.rules), Do: cmp.Or(f.Do, e.check.Do),
		Question: f.Ask, Ask: f.Ask.In(ghs.English),
	}
	if f.Hazard != ghs.NoHazard {
		out.Harm = HarmOf(f.Hazard)
		out.CouldHappen = cmp.Or(f.Could, CouldHappen(f.Hazard), e.check.Could)
	}
	if out.Kind != Note && (e.scanned || fromPicture(out.Says)) {
		out.Kind = leastSure(out.Kind)
		out.Do = "The words were read from a picture: look at the page first. " + out.Do
	}
	*e.findings = append(*e.findings, out)
}

// leastSure is the gravest kind that words read from a picture can give: one letter read wrong makes a contradiction.
func leastSure(k Kind) Kind {
	if k == Contradiction {
		return Doubt
	}
	return k
}

// fromPicture tells whether words that a finding rests on were read from a picture.
func fromPicture(sides []Side) bool {
	return slices.ContainsFunc(sides, func(s Side) bool {
		return slices.ContainsFunc(s.Evidence, func(v sheet.Evidence) bool { return v.How == sheet.ByOCR })
	})
}

// Cannot records that the check could not be made, and why.
func (e *Emit) Cannot(why string) {
	*e.limits = append(*e.limits, Unchecked{Check: e.check.ID, Why: why})
}

// faultID is the check's name with the start of a hash over the facts that make the fault.
func faultID(check string, key []string) string {
	sum := sha256.Sum256([]byte(check + "\x00" + strings.Join(key, "\x00")))
	return check + "-" + hex.EncodeToString(sum[:5])
}

// Unchecked says that a check could not be made: silence of the report about it means nothing.
type Unchecked struct {
	Check string `json:"check"`
	Why   string `json:"why"`
}

// Report is the outcome of all checks on one case. Findings stand in order of harm, then kind, then section.
type Report struct {
	RuleSet   ghs.RuleSet `json:"rule_set"`
	Findings  []Finding   `json:"findings"`
	Choices   []Choice    `json:"choices"`   // how each ingredient's classification was chosen
	Unchecked []Unchecked `json:"unchecked"` // checks that could not be made
	Made      int         `json:"made"`      // checks made
}

// Open lists the findings that nobody has overruled.
func (r Report) Open() []Finding {
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f Finding) bool { return f.Overruled != nil })
}

// Count is the number of findings of one kind that nobody has overruled.
func (r Report) Count(k Kind) int {
	n := 0
	for _, f := range r.Open() {
		if f.Kind == k {
			n++
		}
	}
	return n
}

// Run makes every check of the catalogue that applies to the rule set of the case. It fails when the case has no sheet,
// names a rule set that is not carried, or ctx ends.
func Run(ctx context.Context, c *Case) (Report, error) {
	if err := c.valid(); err != nil {
		return Report{}, err
	}
	r := Report{RuleSet: c.RuleSet, Choices: c.Choices()}
	for _, check := range Catalogue() {
		if err := ctx.Err(); err != nil {
			return Report{}, fmt.Errorf("audit stopped before check %s: %w", check.ID, err)
		}
		if check.Clauses.For(c.RuleSet) == "" {
			continue
		}
		r.Made++
		check.Run(c, &Emit{ctx: ctx, rules: c.RuleSet, check: check, scanned: c.scanned(), findings: &r.Findings, limits: &r.Unchecked})
	}
	r.Findings = settle(r.Findings, c.Overrulings)
	return r, nil
}

// settle orders the findings, drops repetitions of the same fault and applies the overrulings.
func settle(fs []Finding, over map[string]Overruling) []Finding {
	seen := map[string]bool{}
	fs = slices.DeleteFunc(fs, func(f Finding) bool {
		again := seen[f.ID]
		seen[f.ID] = true
		return again
	})
	for i := range fs {
		if o, ok := over[fs[i].ID]; ok {
			fs[i].Overruled = &o
		}
	}
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Harm, b.Harm), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Section, b.Section),
			strings.Compare(a.ID, b.ID))
	})
	return fs
}
