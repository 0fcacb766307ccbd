package classify

import (
	"slices"

	"sixteen/ghs"
)

// pictogramRule says: where the trigger symbol is shown, the other symbol is left off or free as far as it stands for the
// classes; nil classes are all.
type pictogramRule struct {
	ruleSets []ghs.RuleSet
	trigger  ghs.Pictogram
	forClass ghs.Class // the class that the trigger must stand for; NoClass for any
	drop     ghs.Pictogram
	classes  []ghs.Class
	need     Need
	why      string
	clause   clauses
}

var (
	allRuleSets   = ghs.RuleSets()
	wholeExclaim  = []ghs.RuleSet{ghs.EUCLP, ghs.GBCLP, ghs.UNGHS, ghs.AUWHS}
	partExclaim   = []ghs.RuleSet{ghs.USHCS2024, ghs.USHCS2012, ghs.CAHPR}
	europeanRules = []ghs.RuleSet{ghs.EUCLP, ghs.GBCLP}
	irritation    = []ghs.Class{ghs.SkinCorrosion, ghs.EyeDamage}
)

// pictogramClauses are the clauses of one rule in every rule set: the letter of UN GHS 1.4.10.5.3.1, of Art. 26(1) of
// Regulation (EC) No 1272/2008, and the paragraph of 29 CFR 1910.1200 App. C, C.2.1.
func pictogramClauses(un, eu, us string) clauses {
	c := clauses{ghs.CAHPR: "SOR/2015-17 s. 3.6(3)"}
	if un != "" {
		c[ghs.UNGHS] = "UN GHS 1.4.10.5.3.1(" + un + ")"
		c[ghs.AUWHS] = "GHS revision 7, 1.4.10.5.3.1(" + un + ")"
	}
	for _, rs := range europeanRules {
		c[rs] = "Regulation (EC) No 1272/2008 Art. 26(1)(" + eu + ")"
	}
	for _, rs := range []ghs.RuleSet{ghs.USHCS2024, ghs.USHCS2012} {
		c[rs] = "29 CFR 1910.1200 App. C, C.2.1." + us
	}
	return c
}

// pictogramRules are applied in this order. Art. 26(1) and C.2.1 and s. 3.6(3) read in public copies; UN GHS as recalled.
var pictogramRules = []pictogramRule{
	{wholeExclaim, ghs.SkullCrossbones, ghs.NoClass, ghs.ExclamationMark, nil, Omitted, "the skull and crossbones is shown", pictogramClauses("a", "b", "2")},
	{partExclaim, ghs.SkullCrossbones, ghs.NoClass, ghs.ExclamationMark, []ghs.Class{ghs.AcuteToxicity}, Omitted, "the skull and crossbones is shown, and takes its place for acute toxicity", pictogramClauses("", "b", "2")},
	{allRuleSets, ghs.Corrosion, ghs.NoClass, ghs.ExclamationMark, irritation, Omitted, "the corrosion symbol is shown, and takes its place for skin and eye irritation", pictogramClauses("b", "c", "3")},
	{allRuleSets, ghs.HealthHazard, ghs.RespiratorySensitisation, ghs.ExclamationMark, []ghs.Class{ghs.SkinSensitisation, ghs.SkinCorrosion, ghs.EyeDamage}, Omitted,
		"the health hazard symbol is shown for respiratory sensitisation, and takes its place for skin sensitisation and for skin and eye irritation", pictogramClauses("c", "d", "4")},
	{europeanRules, ghs.ExplodingBomb, ghs.NoClass, ghs.Flame, nil, Optional, "the exploding bomb is shown", pictogramClauses("", "a", "")},
	{europeanRules, ghs.ExplodingBomb, ghs.NoClass, ghs.FlameOverCircle, nil, Optional, "the exploding bomb is shown", pictogramClauses("", "a", "")},
	{europeanRules, ghs.Flame, ghs.NoClass, ghs.GasCylinder, nil, Optional, "the flame is shown", pictogramClauses("", "e", "")},
	{europeanRules, ghs.SkullCrossbones, ghs.NoClass, ghs.GasCylinder, nil, Optional, "the skull and crossbones is shown", pictogramClauses("", "e", "")},
}

// symbolUse is one symbol with the hazards it stands for, while the rules are applied.
type symbolUse struct {
	from   []ghs.Hazard // that still call for it
	all    []ghs.Hazard
	need   Need
	why    string
	clause string
}

func (l *labelling) pictograms() {
	use := map[ghs.Pictogram]*symbolUse{}
	for _, e := range l.elements {
		for _, p := range l.symbolsOf(e) {
			u := use[p]
			if u == nil {
				u = &symbolUse{need: Optional, why: "outside the law of the rule set; may be shown", clause: e.Clause}
				use[p] = u
			}
			u.all = append(u.all, e.Hazard)
			u.from = append(u.from, e.Hazard)
			if e.Adopted && u.need != Required {
				u.need, u.why, u.clause = Required, "given by the hazard", e.Clause
			}
		}
	}
	for _, r := range pictogramRules {
		if slices.Contains(r.ruleSets, l.rs) {
			r.apply(l.rs, use)
		}
	}
	l.notOtherwiseClassified(use)
	for _, p := range ghs.Pictograms() {
		if u := use[p]; u != nil {
			l.out.Pictograms = append(l.out.Pictograms, LabelElement[ghs.Pictogram]{p, u.need, u.why, u.clause, u.all})
		}
	}
}

// symbolsOf are the symbols of a hazard, with the corrosion symbol where the airways are corroded.
func (l *labelling) symbolsOf(e ghs.Elements) []ghs.Pictogram {
	if l.opt.CorrosiveToAirways && l.rs == ghs.USHCS2024 && inhaled(e.Hazard) {
		return append(slices.Clone(e.Pictograms), ghs.Corrosion)
	}
	return e.Pictograms
}

func inhaled(h ghs.Hazard) bool {
	q := h.Qualifier()
	return h.Class() == ghs.AcuteToxicity && (q == ghs.InhalationGas || q == ghs.InhalationVapour || q == ghs.InhalationDust)
}

func (r pictogramRule) apply(rs ghs.RuleSet, use map[ghs.Pictogram]*symbolUse) {
	t, d := use[r.trigger], use[r.drop]
	if t == nil || d == nil || t.need == Omitted || !r.standsFor(t) || r.bothCompulsory(t, d) {
		return
	}
	d.from = slices.DeleteFunc(d.from, func(h ghs.Hazard) bool { return r.classes == nil || slices.Contains(r.classes, h.Class()) })
	if len(d.from) == 0 && d.need < r.need {
		d.need, d.why, d.clause = r.need, r.why, r.clause.of(rs)
	}
}

func (r pictogramRule) standsFor(t *symbolUse) bool {
	return r.forClass == ghs.NoClass || slices.ContainsFunc(t.from, func(h ghs.Hazard) bool { return h.Class() == r.forClass })
}

// bothCompulsory tells whether one hazard orders both symbols of an optional rule (self-reactives and organic peroxides of
// type B): then both are shown, Art. 26(1)(a).
func (r pictogramRule) bothCompulsory(t, d *symbolUse) bool {
	return r.trigger == ghs.ExplodingBomb && slices.ContainsFunc(d.all, func(h ghs.Hazard) bool { return slices.Contains(t.all, h) })
}

// notOtherwiseClassified lets the exclamation mark stand for a hazard not otherwise classified, with those words below it:
// 29 CFR 1910.1200 App. C, C.2.3.3 (2024).
func (l *labelling) notOtherwiseClassified(use map[ghs.Pictogram]*symbolUse) {
	if l.rs != ghs.USHCS2024 || use[ghs.ExclamationMark] != nil && use[ghs.ExclamationMark].need == Required {
		return
	}
	if slices.ContainsFunc(l.elements, func(e ghs.Elements) bool { return e.Hazard == ghs.HNOC }) {
		use[ghs.ExclamationMark] = &symbolUse{all: []ghs.Hazard{ghs.HNOC}, need: Optional,
			why: "may stand for a hazard not otherwise classified, with those words or HNOC below it", clause: "29 CFR 1910.1200 App. C, C.2.3.3"}
	}
}
