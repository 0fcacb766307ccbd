package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// summary is what section 2 declares, in short names.
func (c *Case) summary() string {
	d := c.declares()
	switch {
	case !d.Empty():
		return d.String()
	case c.Sheet.Hazards.Classified == sheet.NoneStated:
		return "not classified"
	}
	return "no classification"
}

// declaredAt is where section 2 states a hazard, or one that covers it: the places of the classes, else of the H codes.
func (c *Case) declaredAt(h ghs.Hazard) []sheet.Evidence {
	var out []sheet.Evidence
	for _, f := range c.Sheet.Hazards.Classification {
		if f.Known() && f.Value.Hazard != ghs.NoHazard && kin(f.Value.Hazard, h) {
			out = append(out, f.Evidence...)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, f := range c.Sheet.Hazards.Statements {
		for _, code := range split(f.Value.Code) {
			if m := mildest(code, c.RuleSet); f.Known() && m != ghs.NoHazard && kin(m, h) {
				out = append(out, f.Evidence...)
			}
		}
	}
	if len(out) == 0 {
		return c.Sheet.Hazards.ClassifiedAt
	}
	return out
}

// classes are the hazards that section 2 names as classes, without what its H codes add.
func (c *Case) classesOf2() []sheet.Fact[sheet.ClassStatement] {
	var out []sheet.Fact[sheet.ClassStatement]
	for _, f := range c.Sheet.Hazards.Classification {
		if f.Known() && f.Value.Hazard != ghs.NoHazard {
			out = append(out, f)
		}
	}
	return out
}

// understood tells whether every class that section 2 prints was understood. Where one was not, a class that seems to be
// missing may be the one.
func (c *Case) understood() bool {
	return !slices.ContainsFunc(c.Sheet.Hazards.Classification, func(f sheet.Fact[sheet.ClassStatement]) bool {
		return f.Known() && f.Value.Hazard == ghs.NoHazard
	})
}

// required is the signal word that the declared hazards ask for, and the worst hazard that asks for it.
func (c *Case) required() (ghs.SignalWord, ghs.Hazard) {
	word, of := ghs.NoSignalWord, ghs.NoHazard
	for _, h := range c.declares().All() {
		s := signalOf(h, c.RuleSet)
		if s > word || (s == word && of != ghs.NoHazard && HarmOf(h) < HarmOf(of)) {
			word, of = s, h
		}
	}
	return word, of
}

func classCodeClauses() Clauses {
	return Clauses{
		ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.2 and C.4 (codes are the standard's, from memory)",
		ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.2 and C.4 (codes are the standard's, from memory)",
		ghs.EUCLP:     "CLP Article 21 and Annex III",
		ghs.GBCLP:     "GB CLP Article 21 and Annex III (from memory)",
		ghs.CAHPR:     "Hazardous Products Regulations s. 3(1)(d) to (f); GHS Annex 3",
		ghs.AUWHS:     "model WHS Regulations schedule 9; GHS Annex 3 (from memory)",
		ghs.UNGHS:     "UN GHS Annex 3",
	}
}

// reportCode reports a class whose printed H code belongs to another class.
func reportCode(c *Case, e *Emit, f sheet.Fact[sheet.ClassStatement], section int, who, key string) {
	cl := f.Value
	if !f.Known() || cl.Hazard == ghs.NoHazard || cl.Code == "" {
		return
	}
	right := codeOf(cl.Hazard, c.RuleSet)
	if right == "" || slices.Contains(split(cl.Code), stem(right)) || !isHazardCode(cl.Code) {
		return
	}
	other := mildest(split(cl.Code)[0], c.RuleSet)
	worse := cl.Hazard
	if other != ghs.NoHazard && HarmOf(other) < HarmOf(worse) {
		worse = other
	}
	e.Report(Fault{
		Kind: Contradiction, Hazard: worse, Section: section, Title: fmt.Sprintf("%s%s goes with %s, the sheet prints %s", who, cl.Hazard, right, cl.Code),
		Says: []Side{says(section, strings.TrimSpace(cl.Printed+" "+string(cl.Code)), f)}, Follows: []Side{follows(string(right) + ": " + phraseOf(right, ghs.English))},
		Ask: ask("clash", fmt.Sprint(section), cl.Hazard.String(), fmt.Sprint(section), string(cl.Code)), Key: []string{key, cl.Hazard.String(), string(cl.Code)},
	})
}

// isHazardCode tells an H code from EUH codes and from what was misread.
func isHazardCode(code ghs.Code) bool {
	return len(code) >= 4 && code[0] == 'H' && code[1] >= '2' && code[1] <= '4'
}
