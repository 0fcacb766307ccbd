package audit

import (
	"slices"
	"strings"

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

// pictograms are the symbols that the declared classes ask for under the rule set, precedence respected: CLP Article 26,
// 29 CFR 1910.1200 App. C, C.2.1.2 to C.2.1.4 (read), Hazardous Products Regulations s. 3.6(3) (read), UN GHS 1.4.10.5.3.1.
func (c *Case) pictograms() []symbolNeed {
	declared := c.declares().All()
	has := map[ghs.Pictogram]bool{}
	for _, h := range declared {
		for _, p := range pictogramsFor(h, c.RuleSet) {
			has[p] = true
		}
	}
	respiratory := slices.ContainsFunc(declared, func(h ghs.Hazard) bool { return h.Class() == ghs.RespiratorySensitisation })
	var out []symbolNeed
	for _, h := range declared {
		for _, p := range pictogramsFor(h, c.RuleSet) {
			if p == ghs.ExclamationMark && c.dropsExclamation(h, has, respiratory) {
				continue
			}
			out = addNeed(out, symbolNeed{p, h, c.optionalSymbol(p, h, has)})
		}
	}
	return out
}

func addNeed(list []symbolNeed, n symbolNeed) []symbolNeed {
	for i := range list {
		if list[i].symbol != n.symbol {
			continue
		}
		list[i].optional = list[i].optional && n.optional
		if HarmOf(n.of) < HarmOf(list[i].of) {
			list[i].of = n.of
		}
		return list
	}
	return append(list, n)
}

// dropsExclamation tells whether another symbol takes the place of the exclamation mark for a hazard.
func (c *Case) dropsExclamation(h ghs.Hazard, has map[ghs.Pictogram]bool, respiratory bool) bool {
	irritation := h.Class() == ghs.SkinCorrosion || h.Class() == ghs.EyeDamage
	switch {
	case has[ghs.SkullCrossbones] && (h.Class() == ghs.AcuteToxicity || c.european() || c.in(ghs.UNGHS, ghs.AUWHS)):
		return true
	case has[ghs.Corrosion] && irritation:
		return true
	case respiratory && (irritation || h.Class() == ghs.SkinSensitisation):
		return true
	}
	return false
}

func (c *Case) optionalSymbol(p ghs.Pictogram, h ghs.Hazard, has map[ghs.Pictogram]bool) bool {
	switch {
	case p == ghs.Environment && c.environmentUnasked(h), !c.RuleSet.Exists(h):
		return true
	case c.european() && has[ghs.ExplodingBomb] && (p == ghs.Flame || p == ghs.FlameOverCircle):
		return true
	case c.european() && (has[ghs.Flame] || has[ghs.SkullCrossbones]) && p == ghs.GasCylinder:
		return true
	}
	return h == ghs.MetCorr1
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
