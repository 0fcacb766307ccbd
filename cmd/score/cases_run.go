package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
)

// numberTolerance is how far a number may be from the expected one, as the case file says.
const numberTolerance = 0.006

// comparison collects what a case's answer looked like and whether it was right.
type comparison struct {
	lines []string
	wrong bool
}

func (c *comparison) say(format string, args ...any) {
	c.lines = append(c.lines, fmt.Sprintf(format, args...))
}

func (c *comparison) fail(format string, args ...any) {
	c.wrong = true
	c.say("✗ "+format, args...)
}

// run works the case out and compares.
func (c *classCase) run() (result, error) {
	r := result{ID: c.ID, RuleSet: c.RuleSet}
	cmp := &comparison{}
	err := c.compare(cmp)
	var skip notCoveredError
	switch {
	case errors.As(err, &skip):
		r.Verdict, r.Lines = notCovered, []string{skip.Error()}
		return r, nil
	case err != nil:
		return r, err
	}
	r.Verdict, r.Lines = pass, cmp.lines
	if cmp.wrong {
		r.Verdict = differs
	}
	return r, nil
}

func (c *classCase) compare(cmp *comparison) error {
	rs, err := ruleSetOf(c.RuleSet)
	if err != nil {
		return err
	}
	m, err := c.mixture(rs)
	if err != nil {
		return err
	}
	if len(c.Mixture.GivenClass) > 0 {
		return c.compareGiven(cmp, rs)
	}
	p, err := classify.Compile(m, rs)
	if err != nil {
		return err
	}
	if x, single := m.Point(); single {
		return c.comparePoint(cmp, p, x)
	}
	return c.compareRange(cmp, p)
}

// ruleSetOf finds the rule set a case names: exactly, else the one that the vocabulary reads it as.
func ruleSetOf(name string) (ghs.RuleSet, error) {
	if rs := ghs.RuleSet(strings.ToLower(name)); slices.Contains(classify.RuleSets(), rs) {
		return rs, nil
	}
	rs, err := ghs.ParseRuleSet(name)
	if err != nil {
		return "", notCoveredError(err.Error())
	}
	return rs, nil
}

func (c *classCase) comparePoint(cmp *comparison, p *classify.Program, x []float64) error {
	if err := p.CheckPoint(x); err != nil {
		return err
	}
	got := p.At(x)
	if err := c.compareClasses(cmp, got.Hazards); err != nil {
		return err
	}
	c.compareNumbers(cmp, got.Numbers())
	if c.Expected.Certain != nil || c.Expected.Possible != nil || c.Expected.CertainAnyOf != nil {
		if err := c.compareRange(cmp, p); err != nil {
			return err
		}
	}
	if c.Expected.Label != nil {
		return c.compareLabel(cmp, p.RuleSet, got.Hazards, &got)
	}
	return nil
}

// compareClasses compares the classes given with those expected; expected classes are complete but for allowed extras.
func (c *classCase) compareClasses(cmp *comparison, got ghs.HazardSet) error {
	want, err := hazardsOf(c.Expected.Classes)
	if err != nil {
		return err
	}
	extra, err := hazardsOf(c.Expected.AllowedExtra)
	if err != nil {
		return err
	}
	cmp.say("classes: %s", names(got))
	if missing := want.Minus(got); !missing.Empty() {
		cmp.fail("missing: %s", names(missing))
	}
	if more := got.Minus(want).Minus(extra); !more.Empty() {
		cmp.fail("not expected: %s", names(more))
	}
	for _, n := range c.Expected.NotClassified {
		for _, h := range got.All() {
			if meant(n, h) {
				cmp.fail("%s given, expected not to be classified as %s", h, n)
			}
		}
	}
	return nil
}

// meant tells whether h is meant by a name that may leave out the category ("Acute Tox. oral", "Flam. Liq.").
func meant(name string, h ghs.Hazard) bool {
	if h.String() == name {
		return true
	}
	without := strings.Replace(h.String(), " "+h.Category(), "", 1)
	return h.Category() != "" && without == name
}

func hazardsOf(list []string) (ghs.HazardSet, error) {
	var set ghs.HazardSet
	for _, n := range list {
		h, err := hazardOf(n)
		if err != nil {
			return set, err
		}
		set.Add(h)
	}
	return set, nil
}

func names(set ghs.HazardSet) string {
	if set.Empty() {
		return "none"
	}
	var list []string
	for _, h := range set.All() {
		list = append(list, h.String())
	}
	return strings.Join(list, ", ")
}

func (c *classCase) compareNumbers(cmp *comparison, got map[string]float64) {
	for _, name := range sortedKeys(c.Expected.Numbers) {
		want := c.Expected.Numbers[name]
		v, ok := got[name]
		switch {
		case !ok && want == 0:
			cmp.say("%s: nothing to add up (expected 0)", name)
		case !ok:
			cmp.fail("%s: no such number, expected %g", name, want)
		case math.Abs(v-want) > numberTolerance*math.Abs(want):
			cmp.fail("%s: %.6g, expected %g", name, v, want)
		default:
			cmp.say("%s: %.6g (expected %g)", name, v, want)
		}
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// compareRange compares the classification over all compositions that the ranges allow.
func (c *classCase) compareRange(cmp *comparison, p *classify.Program) error {
	env, err := p.Envelope()
	if err != nil {
		return err
	}
	cmp.say("certain: %s", names(env.Certain))
	cmp.say("possible: %s", names(env.Possible.Minus(env.Certain)))
	extra, err := hazardsOf(c.Expected.AllowedExtra)
	if err != nil {
		return err
	}
	certain, err := hazardsOf(append(slices.Clone(c.Expected.Certain), c.Expected.Classes...))
	if err != nil {
		return err
	}
	possible, err := hazardsOf(c.Expected.Possible)
	if err != nil {
		return err
	}
	if missing := certain.Minus(env.Certain); !missing.Empty() {
		cmp.fail("not certain: %s", names(missing))
	}
	if more := env.Certain.Minus(certain).Minus(extra); c.Expected.Certain != nil && !more.Empty() {
		cmp.fail("certain, not expected so: %s", names(more))
	}
	if c.Expected.Possible != nil {
		want := possible.Union(certain)
		if missing := want.Minus(env.Possible); !missing.Empty() {
			cmp.fail("not possible: %s", names(missing))
		}
		if more := env.Possible.Minus(want).Minus(extra); !more.Empty() {
			cmp.fail("possible, not expected so: %s", names(more))
		}
	}
	for _, n := range c.Expected.NotClassified {
		for _, h := range env.Possible.All() {
			if meant(n, h) {
				cmp.fail("%s possible, expected to be ruled out (%s)", h, n)
			}
		}
	}
	return c.compareAnyOf(cmp, env)
}

// compareAnyOf checks "one of these is certain, whichever": the list or each list of classes.
func (c *classCase) compareAnyOf(cmp *comparison, env *classify.Envelope) error {
	if c.Expected.CertainAnyOf == nil {
		return nil
	}
	lists, err := anyOfLists(c.Expected.CertainAnyOf)
	if err != nil {
		return err
	}
	for _, list := range lists {
		set, err := hazardsOf(list)
		if err != nil {
			return err
		}
		if certainAnyOf(env, set) {
			cmp.say("certain one of: %s", names(set))
		} else {
			cmp.fail("not certain to be one of: %s", names(set))
		}
	}
	return nil
}

func anyOfLists(raw json.RawMessage) ([][]string, error) {
	var one []string
	if json.Unmarshal(raw, &one) == nil {
		return [][]string{one}, nil
	}
	var many [][]string
	if err := json.Unmarshal(raw, &many); err != nil {
		return nil, fmt.Errorf("certain_any_of is a list of classes or of such lists: %w", err)
	}
	return many, nil
}

// certainAnyOf tells whether every composition has one of the classes: one of them is certain, or one of them "or
// severer" is, and every possible severer category is in the list too.
func certainAnyOf(env *classify.Envelope, set ghs.HazardSet) bool {
	if !set.Intersect(env.Certain).Empty() {
		return true
	}
	for _, a := range env.Answers {
		if !set.Has(a.Hazard) || a.OrSeverer != classify.Certain {
			continue
		}
		inList := true
		for _, h := range env.Possible.All() {
			inList = inList && (!h.Severer(a.Hazard) || set.Has(h))
		}
		if inList {
			return true
		}
	}
	return false
}

func (c *classCase) compareGiven(cmp *comparison, rs ghs.RuleSet) error {
	given, err := hazardsOf(c.Mixture.GivenClass)
	if err != nil {
		return err
	}
	if err := c.compareClasses(cmp, given); err != nil {
		return err
	}
	if c.Expected.Label == nil {
		return notCoveredError("classes are given and nothing else is asked for")
	}
	return c.compareLabel(cmp, rs, given, nil)
}
