package classify

import (
	"slices"
	"strings"

	"sixteen/ghs"
)

// statements gathers the hazard statements, joins those that the standard joins, and leaves off repetitions.
func (l *labelling) statements() {
	for _, e := range l.elements {
		for _, c := range l.codesOf(e) {
			l.addStatement(c, e)
		}
	}
	l.airways()
	l.combine()
	for _, r := range statementRules {
		if slices.Contains(r.ruleSets, l.rs) {
			l.leaveOff(r)
		}
	}
	slices.SortStableFunc(l.out.Hazard, byNumber)
}

// codesOf are the statements of a hazard, in the form that is known to fit better where one was given.
func (l *labelling) codesOf(e ghs.Elements) []ghs.Code {
	var out []ghs.Code
	for _, c := range e.Codes {
		known := []ghs.Code{}
		for _, s := range l.opt.Specific {
			if s != c && s.Base() == c {
				known = append(known, s)
			}
		}
		if len(known) == 0 {
			known = append(known, c)
		}
		out = append(out, known...)
	}
	return out
}

func (l *labelling) addStatement(c ghs.Code, e ghs.Elements) {
	need, why := Required, "given by the hazard"
	if !e.Adopted {
		need, why = Optional, "outside the law of the rule set; may be shown"
	}
	for i := range l.out.Hazard {
		if x := &l.out.Hazard[i]; x.Value == c {
			x.From = append(x.From, e.Hazard)
			x.Need = min(x.Need, need)
			return
		}
	}
	l.out.Hazard = append(l.out.Hazard, LabelElement[ghs.Code]{c, need, why, e.Clause, []ghs.Hazard{e.Hazard}})
}

func (l *labelling) statement(c ghs.Code) *LabelElement[ghs.Code] {
	for i := range l.out.Hazard {
		if l.out.Hazard[i].Value == c && l.out.Hazard[i].Need != Omitted {
			return &l.out.Hazard[i]
		}
	}
	return nil
}

// airways adds the statement for inhalation toxicity by corrosion.
func (l *labelling) airways() {
	if !l.opt.CorrosiveToAirways {
		return
	}
	var from []ghs.Hazard
	for _, e := range l.elements {
		if inhaled(e.Hazard) || l.european() && strings.HasPrefix(e.Hazard.String(), "Skin Corr.") {
			from = append(from, e.Hazard)
		}
	}
	switch {
	case len(from) == 0:
	case l.european():
		l.out.Hazard = append(l.out.Hazard, LabelElement[ghs.Code]{"EUH071", Required, "the inhalation toxicity comes from corrosion", "Regulation (EC) No 1272/2008 Annex II 1.2.6", from})
	case l.rs == ghs.USHCS2024:
		l.out.Hazard = append(l.out.Hazard, LabelElement[ghs.Code]{ghs.CorrosiveAirwaysStatement, Required, "the inhalation toxicity comes from corrosion", "29 CFR 1910.1200 App. A, A.1.2.4.1", from})
	}
}

// joined lists the statements of one degree of acute toxicity by route, which the standard prints as one sentence.
var joined = [][]ghs.Code{{"H300", "H310", "H330"}, {"H301", "H311", "H331"}, {"H302", "H312", "H332"}, {"H303", "H313", "H333"}}

var joinClauses = clauses{
	ghs.UNGHS: "UN GHS Annex 3, table A3.1.2", ghs.AUWHS: "GHS revision 7, Annex 3", ghs.EUCLP: "Regulation (EC) No 1272/2008 Annex I 3.1.4.1 and Annex III", ghs.GBCLP: "Regulation (EC) No 1272/2008 Annex I 3.1.4.1 and Annex III",
	ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.2.1", ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.2.1", ghs.CAHPR: "GHS Annex 3, by SOR/2015-17 s. 3",
}

// combine joins the statements of one degree of acute toxicity; the single ones are then said by the joint one.
func (l *labelling) combine() {
	for _, group := range joined {
		var present []string
		var from []ghs.Hazard
		for _, c := range group {
			if s := l.statement(c); s != nil {
				present = append(present, string(c))
				from = append(from, s.From...)
			}
		}
		if len(present) < 2 {
			continue
		}
		for _, c := range present {
			s := l.statement(ghs.Code(c))
			s.Need, s.Why, s.Clause = Omitted, "said by "+strings.Join(present, "+"), joinClauses.of(l.rs)
		}
		l.out.Hazard = append(l.out.Hazard, LabelElement[ghs.Code]{ghs.Code(strings.Join(present, "+")), Required, "joins statements of one degree", joinClauses.of(l.rs), from})
	}
}

// statementRule says: beside one statement, another that repeats it is left off or free.
type statementRule struct {
	ruleSets []ghs.RuleSet
	present  ghs.Code
	drop     ghs.Code
	need     Need
	clause   clauses
}

var (
	unClauses = clauses{ghs.UNGHS: "UN GHS 1.4.10.5.3.3", ghs.AUWHS: "GHS revision 7, 1.4.10.5.3.3", ghs.EUCLP: "Regulation (EC) No 1272/2008 Art. 27", ghs.GBCLP: "Regulation (EC) No 1272/2008 Art. 27", ghs.CAHPR: "SOR/2015-17 s. 3.6(2)"}
	unRules   = []ghs.RuleSet{ghs.UNGHS, ghs.AUWHS}
)

// eyeNote lets the label of a corrosive leave off what it would say of the eyes.
const eyeNote = "Regulation (EC) No 1272/2008 Annex I Table 3.3.5 note (a) and Art. 27"

// statementRules: UN GHS 1.4.10.5.3.3 lets the repetition be omitted, Art. 27 of Regulation (EC) No 1272/2008 leaves off
// what is evidently repeated, note (a) to Table 3.3.5 and SOR/2015-17 s. 3.6(2) do not require H318 beside H314. The United States have no such
// rule: App. C, C.2.2.1 only lets statements be combined. H400 stays beside H411 (only H410 says as much). From memory
// except note (a) and the Canadian rule.
var statementRules = []statementRule{
	{europeanRules, "H314", "H318", Optional, clauses{ghs.EUCLP: eyeNote, ghs.GBCLP: eyeNote}},
	{unRules, "H314", "H318", Optional, unClauses},
	{[]ghs.RuleSet{ghs.CAHPR}, "H314", "H318", Optional, unClauses},
	{europeanRules, "H410", "H400", Omitted, unClauses},
	{unRules, "H410", "H400", Optional, unClauses},
	{unRules, "H411", "H401", Optional, unClauses},
	{unRules, "H412", "H402", Optional, unClauses},
	{europeanRules, "EUH071", "H335", Omitted, unClauses},
}

func (l *labelling) leaveOff(r statementRule) {
	d := l.statement(r.drop)
	if l.statement(r.present) == nil || d == nil || d.Need >= r.need {
		return
	}
	d.Need, d.Why, d.Clause = r.need, string(r.present)+" says it", r.clause.of(l.rs)
}
