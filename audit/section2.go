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

// settleOpen chooses among the hazards that a class statement may mean: those whose code is stated, one for breathing;
// without such a code, the one question that all of them answer, if it is one.
func settleOpen(open []ghs.Hazard, codes []ghs.Code) []ghs.Hazard {
	var coded []ghs.Hazard
	for _, h := range open {
		if slices.ContainsFunc(codes, func(c ghs.Code) bool { return slices.Contains(split(c), stem(codeOf(h, ghs.UNGHS))) }) {
			coded = append(coded, h)
		}
	}
	if len(coded) > 0 {
		open = coded
	}
	var out []ghs.Hazard
	for _, h := range open {
		i := slices.IndexFunc(out, func(o ghs.Hazard) bool { return kin(o, h) })
		switch {
		case i < 0:
			out = append(out, h)
		case h.Qualifier() == ghs.InhalationVapour:
			out[i] = h
		}
	}
	if len(coded) == 0 && len(out) > 1 {
		return nil
	}
	return out
}

// declaredAt is where section 2 states a hazard, or one that covers it: the places of the classes, else of the H codes.
func (c *Case) declaredAt(h ghs.Hazard) []sheet.Evidence {
	var out []sheet.Evidence
	for _, f := range c.Sheet.Hazards.Classification {
		if f.Known() && slices.ContainsFunc(meantBy(f.Value, c.codes()), func(m ghs.Hazard) bool { return kin(m, h) }) {
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

// classesOf2 are the hazards that section 2 names as classes, without what its H codes add.
func (c *Case) classesOf2() []sheet.Fact[sheet.ClassStatement] {
	return namedClasses(c.Sheet.Hazards.Classification, c.codes())
}

// namedClasses are the class statements that were understood. One that leaves the route or effect open ("inhalation",
// "STOT SE 3") takes it from its code or, where it has none, from the codes beside it.
func namedClasses(fs []sheet.Fact[sheet.ClassStatement], codes []ghs.Code) []sheet.Fact[sheet.ClassStatement] {
	var out []sheet.Fact[sheet.ClassStatement]
	for _, f := range fs {
		if !f.Known() {
			continue
		}
		for _, h := range meantBy(f.Value, codes) {
			g := f
			g.Value.Hazard = h
			out = append(out, g)
		}
	}
	return out
}

// meantBy lists the hazards that a class statement stands for, none when it was not understood.
func meantBy(cl sheet.ClassStatement, codes []ghs.Code) []ghs.Hazard {
	h := cl.Hazard
	if cl.Code != "" {
		codes = []ghs.Code{cl.Code}
	}
	switch h {
	case ghs.NoHazard:
		open := cl.Possible
		if len(open) == 0 {
			open = ghs.Readings(cl.Printed)
		}
		return settleOpen(open, codes)
	case ghs.STOTSE3:
	default:
		return []ghs.Hazard{h}
	}
	var out []ghs.Hazard
	for _, code := range codes {
		for _, single := range split(code) {
			switch single {
			case "H335":
				out = append(out, ghs.STOTSE3Respiratory)
			case "H336":
				out = append(out, ghs.STOTSE3Narcotic)
			}
		}
	}
	if len(out) == 0 {
		return []ghs.Hazard{h}
	}
	return out
}

// understood tells whether every class that section 2 prints was understood. Where one was not, a class that seems to be
// missing may be the one.
func (c *Case) understood() bool {
	return !slices.ContainsFunc(c.Sheet.Hazards.Classification, func(f sheet.Fact[sheet.ClassStatement]) bool {
		return f.Known() && len(meantBy(f.Value, nil)) == 0
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
	if right == "" || slices.Contains(split(cl.Code), stem(right)) || !isHazardCode(cl.Code) || codeMeans(cl.Code, cl.Hazard, c.RuleSet) {
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

// codeMeans tells whether one of the hazards that a code stands for is the given one, but for its route or letter.
func codeMeans(code ghs.Code, h ghs.Hazard, rs ghs.RuleSet) bool {
	return slices.ContainsFunc(split(code), func(s ghs.Code) bool {
		return slices.ContainsFunc(hazardsOf(s, rs), func(m ghs.Hazard) bool { return covers(m, h) && covers(h, m) })
	})
}

// isHazardCode tells an H code from EUH codes and from what was misread.
func isHazardCode(code ghs.Code) bool {
	return len(code) >= 4 && code[0] == 'H' && code[1] >= '2' && code[1] <= '4'
}
