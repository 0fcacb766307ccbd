package audit

import (
	"slices"
	"strings"
	"unicode"

	"sixteen/ghs"
)

// codeOf is the hazard statement of a hazard under a rule set, "" when the law gives none.
func codeOf(h ghs.Hazard, rs ghs.RuleSet) ghs.Code {
	for _, set := range []ghs.RuleSet{rs, ghs.UNGHS} {
		if e, ok := set.Elements(h); ok {
			if len(e.Codes) > 0 {
				return e.Codes[0]
			}
			return ""
		}
	}
	return ""
}

// hazardsOf lists the hazards that a code stands for: under the rule set, or under any where that one does not have it.
func hazardsOf(code ghs.Code, rs ghs.RuleSet) []ghs.Hazard {
	hs := rs.HazardsOf(code)
	if len(hs) == 0 {
		s, _ := ghs.StatementOf(code.Base())
		hs = s.Hazards
	}
	if len(hs) > 1 {
		// the statement tells which effect it is, where the category alone leaves it open
		hs = slices.DeleteFunc(slices.Clone(hs), func(h ghs.Hazard) bool { return h == ghs.STOTSE3 })
	}
	return hs
}

// mildest is the mildest hazard that a code stands for, NoHazard when it stands for none. Of breathing as gas, vapour and
// dust it gives vapour.
func mildest(code ghs.Code, rs ghs.RuleSet) ghs.Hazard {
	var out ghs.Hazard
	for _, h := range hazardsOf(code, rs) {
		if out == ghs.NoHazard || out.Severer(h) || (h.Qualifier() == ghs.InhalationVapour && !h.Severer(out)) {
			out = h
		}
	}
	return out
}

// addCode adds the mildest hazard that a code stands for, unless the set already accounts for the code.
func addCode(set *ghs.HazardSet, code ghs.Code, rs ghs.RuleSet) {
	for _, h := range hazardsOf(code, rs) {
		if coversAny(*set, h) {
			return
		}
	}
	if h := mildest(code, rs); h != ghs.NoHazard {
		set.Add(h)
	}
}

func signalOf(h ghs.Hazard, rs ghs.RuleSet) ghs.SignalWord {
	e, _ := rs.Elements(h)
	if !e.Adopted {
		return ghs.NoSignalWord
	}
	return e.SignalWord
}

func pictogramsFor(h ghs.Hazard, rs ghs.RuleSet) []ghs.Pictogram {
	e, _ := rs.Elements(h)
	return e.Pictograms
}

// precautionsFor lists the single P codes of prevention and response that the law assigns to a hazard.
func precautionsFor(h ghs.Hazard, rs ghs.RuleSet) []ghs.Code {
	e, _ := rs.Elements(h)
	var out []ghs.Code
	for _, c := range slices.Concat(e.Prevention, e.Response) {
		for _, p := range c.Parts() {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// codeExists tells whether the law of the rule set has a code. Codes of the European Union's supplemental statements
// exist there and in Great Britain only.
func codeExists(code ghs.Code, rs ghs.RuleSet) bool {
	switch code.Kind() {
	case ghs.SupplementalStatement:
		return code.Known() && (rs == ghs.EUCLP || rs == ghs.GBCLP)
	case ghs.HazardStatement:
		return len(rs.HazardsOf(code)) > 0
	}
	return true
}

func codeKnown(code ghs.Code) bool { return code.Base().Known() || code.Known() }

// phraseOf is the standard's wording of a code, "" when it is not carried.
func phraseOf(code ghs.Code, l ghs.Lang) string {
	p, _ := ghs.Phrase(code, l)
	return p
}

// closest is the statement whose wording a text carries, and how well; "" and 0 when it carries none.
func closest(text string) (ghs.Code, float64) {
	var code ghs.Code
	best := 0.0
	for _, m := range ghs.FindPhrase(text, "") {
		if m.Score > best && m.Code.Kind() != ghs.PrecautionaryStatement {
			code, best = m.Code, m.Score
		}
	}
	return code, best
}

// likeness tells how much of the wording of a code, in the language in which it fits best, stands in a text: the share of
// the standard's longer words that occur. 1 when FindPhrase recognises it.
func likeness(text string, code ghs.Code) float64 {
	for _, m := range ghs.FindPhrase(text, "") {
		if m.Code.Base() == code.Base() || slices.Contains(m.Code.Parts(), code.Base()) {
			return 1
		}
	}
	best := 0.0
	have := contentWords(text)
	for _, l := range ghs.Langs() {
		want := contentWords(phraseOf(code, l))
		if len(want) == 0 {
			want = contentWords(phraseOf(code.Base(), l))
		}
		n := 0
		for _, w := range want {
			if slices.Contains(have, w) {
				n++
			}
		}
		if len(want) > 0 {
			best = max(best, float64(n)/float64(len(want)))
		}
	}
	return best
}

// contentWords are the words of four letters and more, in lower case.
func contentWords(s string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len([]rune(w)) > 3 {
			out = append(out, w)
		}
	}
	return out
}
