package main

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
)

// compareLabel compares the label elements. An element that the law makes optional is right printed or not.
func (c *classCase) compareLabel(cmp *comparison, rs ghs.RuleSet, hazards ghs.HazardSet, got *classify.Classification) error {
	law := rs
	if !law.Known() {
		var err error
		if law, err = ghs.ParseRuleSet(string(rs)); err != nil {
			return notCoveredError(err.Error())
		}
	}
	want := c.Expected.Label
	opt := classify.LabelOptions{ForPublic: c.Mixture.ForPublic}
	label := classify.Label(hazards, law, opt)
	if got != nil {
		if free := got.OptionalOnLabel(); !free.Empty() && !c.asks(free, law) {
			label = classify.Label(hazards.Minus(free), law, opt)
		}
	}
	c.compareEUH(cmp, got, label)
	if want.SignalWord != nil {
		compareSignalWord(cmp, *want.SignalWord, label.SignalWord.Value)
	}
	if want.Pictograms != nil {
		compareElements(cmp, "pictograms", want.Pictograms, nil, label.Pictograms)
	}
	if want.HCodes != nil {
		compareElements(cmp, "statements", want.HCodes, want.HCodesAlsoAccepted, withoutSupplemental(label.Hazard))
	}
	return nil
}

// asks tells whether the expected label shows a statement of a class that may be left off.
func (c *classCase) asks(free ghs.HazardSet, law ghs.RuleSet) bool {
	for _, code := range classify.Label(free, law, classify.LabelOptions{}).PrintedStatements() {
		if slices.Contains(c.Expected.Label.HCodes, string(code)) {
			return true
		}
	}
	return false
}

func compareSignalWord(cmp *comparison, want string, got ghs.SignalWord) {
	word, ok := ghs.ParseSignalWord(want)
	if !ok && want != "" && want != "none" {
		cmp.fail("signal word %q is none that the standard has", want)
		return
	}
	if word != got {
		cmp.fail("signal word: %q, expected %q", got, want)
		return
	}
	cmp.say("signal word: %s", got)
}

// compareElements compares a list of elements: every expected one must be there, required or optional, and every
// required one must be expected or accepted.
func compareElements[T fmt.Stringer](cmp *comparison, what string, want, accepted []string, got []classify.LabelElement[T]) {
	needs := map[string]classify.Need{}
	var printed []string
	for _, e := range got {
		needs[e.Value.String()] = e.Need
		if e.Need == classify.Required {
			printed = append(printed, e.Value.String())
		}
	}
	cmp.say("%s: %s", what, strings.Join(printed, ", "))
	for _, w := range want {
		if need, ok := needs[w]; !ok || need == classify.Omitted {
			cmp.fail("%s: %s is missing", what, w)
		}
	}
	for _, p := range printed {
		if !slices.Contains(want, p) && !slices.Contains(accepted, p) {
			cmp.fail("%s: %s is not expected", what, p)
		}
	}
}

// compareEUH compares the supplemental statements: those expected must be there, those that may be left out may be.
func (c *classCase) compareEUH(cmp *comparison, got *classify.Classification, label classify.LabelElements) {
	var codes []string
	if got != nil {
		for _, s := range got.Supplements() {
			codes = append(codes, string(s.Code))
		}
	}
	for _, e := range label.Hazard {
		if code := string(e.Value); e.Need != classify.Omitted && strings.HasPrefix(code, "EUH") && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	if len(codes) > 0 {
		cmp.say("supplemental: %s", strings.Join(codes, ", "))
	}
	for _, want := range c.Expected.Label.EUH {
		if !slices.Contains(codes, want) && !slices.Contains(c.Expected.Label.EUHMayBeOmitted, want) {
			cmp.fail("supplemental statement %s is missing", want)
		}
	}
}

// codeText lets a statement code be compared as text.
type codeText string

func (c codeText) String() string { return string(c) }

// withoutSupplemental leaves out the EUH statements: cases list them apart.
func withoutSupplemental(list []classify.LabelElement[ghs.Code]) []classify.LabelElement[codeText] {
	var out []classify.LabelElement[codeText]
	for _, e := range list {
		if !strings.HasPrefix(string(e.Value), "EUH") {
			out = append(out, classify.LabelElement[codeText]{Value: codeText(e.Value), Need: e.Need})
		}
	}
	return out
}
