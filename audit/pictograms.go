package audit

import (
	"cmp"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// symbolNeed is one pictogram that the declared classes ask for, the gravest class that brings it, and whether the law
// leaves it to the supplier.
type symbolNeed struct {
	symbol   ghs.Pictogram
	of       ghs.Hazard
	optional bool
}

// pictograms are the symbols that the declared classes ask for under the rule set, precedence respected (classify.Label).
func (c *Case) pictograms() []symbolNeed {
	var out []symbolNeed
	for _, e := range classify.Label(c.declares(), c.RuleSet, classify.LabelOptions{}).Pictograms {
		if e.Need == classify.Omitted || len(e.From) == 0 {
			continue
		}
		out = append(out, symbolNeed{e.Value, gravest(e.From), e.Need == classify.Optional})
	}
	return out
}

// gravest is the hazard of the worst harm in a list.
func gravest(hs []ghs.Hazard) ghs.Hazard {
	return slices.MinFunc(hs, func(a, b ghs.Hazard) int { return cmp.Compare(HarmOf(a), HarmOf(b)) })
}

// pictogramsOf are the symbols that facts show, each once.
func pictogramsOf(fs []sheet.Fact[ghs.Pictogram]) []ghs.Pictogram {
	var out []ghs.Pictogram
	for _, f := range fs {
		if f.Known() && f.Value != ghs.NoPictogram && !slices.Contains(out, f.Value) {
			out = append(out, f.Value)
		}
	}
	return out
}

func symbolText(ps []ghs.Pictogram) string {
	var out []string
	for _, p := range ps {
		out = append(out, p.String())
	}
	return orNone(strings.Join(out, ", "))
}

func needText(ns []symbolNeed) string {
	var out []string
	for _, n := range ns {
		out = append(out, n.symbol.String()+" for "+n.of.String())
	}
	return strings.Join(out, ", ")
}
