package classify

import (
	"cmp"
	"slices"
	"strings"

	"sixteen/ghs"
)

// precautions gathers the precautionary statements of all hazards in the order prevention, response, storage, disposal,
// and leaves off those that a stricter one covers.
func (l *labelling) precautions() {
	if l.opt.ForPublic {
		l.publicPrecautions()
	}
	for _, part := range []func(ghs.Elements) []ghs.Code{
		func(e ghs.Elements) []ghs.Code { return e.Prevention }, func(e ghs.Elements) []ghs.Code { return e.Response },
		func(e ghs.Elements) []ghs.Code { return e.Storage }, func(e ghs.Elements) []ghs.Code { return e.Disposal },
	} {
		from := len(l.out.Precautionary)
		for _, e := range l.elements {
			for _, c := range part(e) {
				l.addPrecaution(c, e)
			}
		}
		slices.SortStableFunc(l.out.Precautionary[from:], byNumber)
	}
	for _, s := range stricter {
		l.supersede(s[0], s[1:]...)
	}
	l.conditional()
}

func (l *labelling) publicPrecautions() {
	if len(l.elements) == 0 {
		return
	}
	clause := "Regulation (EC) No 1272/2008 Annex IV Table 6.1"
	if !l.european() {
		clause = "UN GHS Annex 3, table A3.2.1"
	}
	for _, c := range []ghs.Code{"P101", "P102", "P103"} {
		l.out.Precautionary = append(l.out.Precautionary, LabelElement[ghs.Code]{c, Required, "consumer product", clause, nil})
	}
}

func (l *labelling) precaution(c ghs.Code) *LabelElement[ghs.Code] {
	for i := range l.out.Precautionary {
		if l.out.Precautionary[i].Value == c {
			return &l.out.Precautionary[i]
		}
	}
	return nil
}

func (l *labelling) addPrecaution(c ghs.Code, e ghs.Elements) {
	if x := l.precaution(c); x != nil {
		x.From = append(x.From, e.Hazard)
		if e.Adopted && x.Need == Optional {
			x.Need, x.Why, x.Clause = Required, "given by the hazard", e.Clause
		}
		return
	}
	need, why := Required, "given by the hazard"
	if !e.Adopted {
		need, why = Optional, "outside the law of the rule set; may be shown"
	}
	l.out.Precautionary = append(l.out.Precautionary, LabelElement[ghs.Code]{c, need, why, e.Clause, []ghs.Hazard{e.Hazard}})
}

// stricter lists, first in each row, a statement that covers the others of the row: the same measure in its strictest
// form, or the combination that holds the single one (29 CFR 1910.1200 App. C, C.2.4.6 to C.2.4.10; Regulation (EC) No
// 1272/2008 Art. 28(1) and Annex IV). Which covers which is our reading of those clauses.
var stricter = [][]ghs.Code{
	{"P260", "P261"},
	{"P264+P265", "P264"},
	{"P310", "P311", "P312", "P314"},
	{"P311", "P312", "P314"},
	{"P312", "P314"},
	{"P316", "P317", "P319"},
	{"P317", "P319"},
	{"P301+P310", "P301+P312"},
	{"P301+P316", "P301+P317"},
	{"P308+P311", "P308+P313"},
	{"P308+P316", "P318"},
	{"P301+P330+P331", "P330", "P331"},
	{"P303+P361+P353", "P302+P352", "P362+P364", "P361+P364"},
	{"P302+P361+P354", "P302+P352", "P362+P364", "P361+P364"},
	{"P361+P364", "P362+P364"},
	{"P305+P354+P338", "P305+P351+P338"},
	{"P320", "P321"},
	{"P403+P233", "P403"},
	{"P403+P235", "P403"},
	{"P410+P403", "P403"},
	{"P410+P412", "P410"},
	{"P370+P372+P380+P373", "P370+P378", "P370+P380+P375"},
	{"P370+P380+P375+P378", "P370+P378", "P370+P380+P375"},
	{"P284", "P285"},
}

var stricterClauses = clauses{
	ghs.UNGHS: "UN GHS Annex 3, A3.2.5", ghs.AUWHS: "GHS revision 7, Annex 3", ghs.EUCLP: "Regulation (EC) No 1272/2008 Art. 28(1)", ghs.GBCLP: "Regulation (EC) No 1272/2008 Art. 28(1)",
	ghs.USHCS2024: "29 CFR 1910.1200 App. C, C.2.4.8 and C.2.4.10", ghs.USHCS2012: "29 CFR 1910.1200 App. C, C.2.4.7", ghs.CAHPR: "SOR/2015-17 s. 3.5",
}

func (l *labelling) supersede(by ghs.Code, others ...ghs.Code) {
	s := l.precaution(by)
	if s == nil || s.Need != Required {
		return
	}
	for _, c := range others {
		if x := l.precaution(c); x != nil && x.Need != Omitted {
			x.Need, x.Why, x.Clause = Omitted, string(by)+" covers it", stricterClauses.of(l.rs)
			s.From = append(s.From, x.From...)
		}
	}
}

// conditions are the statements that the standard ties to a condition of use, which the classification does not tell.
var conditions = []struct {
	codes []ghs.Code
	met   func(LabelOptions) bool
	why   string
}{
	{[]ghs.Code{"P320", "P321"}, func(o LabelOptions) bool { return o.SpecificTreatment }, "only where a specific treatment or antidote is to be named"},
	{[]ghs.Code{"P240", "P241", "P242", "P243"}, func(o LabelOptions) bool { return o.Volatile }, "only where the product is volatile and may form an explosive atmosphere"},
}

// conditional makes optional what depends on a condition that was not stated: UN GHS Annex 3 section 3, "Conditions for
// use"; 29 CFR 1910.1200 App. C, C.2.4.4 and C.2.4.5.
func (l *labelling) conditional() {
	for _, c := range conditions {
		if c.met(l.opt) {
			continue
		}
		for _, code := range c.codes {
			if x := l.precaution(code); x != nil && x.Need == Required {
				x.Need, x.Why = Optional, c.why
			}
		}
	}
}

// shortRank orders the statements for a label with room for six: what a person must do in an emergency, then what keeps
// the harm away, then the rest. Common practice; the law leaves the choice to the supplier (Art. 28(3)).
var shortRank = rankOf(
	"P301+P330+P331 P301+P310 P301+P316 P303+P361+P353 P302+P361+P354 P305+P354+P338 P305+P351+P338 P370+P372+P380+P373 P371+P380+P375 P331 P310 P316 P280 " +
		"P210 P260 P304+P340 P342+P311 P342+P316 P284 P201 P203 P202 P308+P311 P308+P316 P308+P313 P318 P333+P313 P333+P317 P302+P352 P261 P273 P263 P302+P335+P334 P251 P211 P220 P222 P223 P231+P232 P271 P262 P264+P265 P264 P270 P272 " +
		"P337+P313 P337+P317 P332+P313 P332+P317 P361+P364 P362+P364 P301+P312 P301+P317 P311 P312 P317 P314 P319 P410+P412 P391 P370+P378 P403+P233 P403+P235 P410+P403 P405 P233 P234 P235 P390 P377 P381")

func rankOf(list string) map[ghs.Code]int {
	m := map[ghs.Code]int{}
	for i, c := range strings.Fields(list) {
		m[ghs.Code(c)] = i + 1
	}
	return m
}

// shortCount is the number of precautionary statements that Art. 28(3) of Regulation (EC) No 1272/2008 allows.
const shortCount = 6

// short chooses the statements for a label with room for six. For the public, keeping away from children and disposal
// come first (Art. 28(2)). Then statements are taken by urgency, with a first round that gives each hazard one of its own.
func (l *labelling) short() {
	var rest []LabelElement[ghs.Code]
	for _, e := range l.out.Precautionary {
		if e.Need == Required && e.Value.Kind() == ghs.PrecautionaryStatement && !strings.HasPrefix(string(e.Value), "P10") {
			rest = append(rest, e)
		}
	}
	if l.european() {
		l.out.ShortClause = "Regulation (EC) No 1272/2008 Art. 28(3)"
	}
	if l.opt.ForPublic && len(l.elements) > 0 {
		l.take("P102", &rest)
		l.take("P501", &rest)
		if l.precaution("P501") == nil && l.precaution("P502") == nil && l.european() {
			l.out.Short = append(l.out.Short, "P501")
		}
	}
	slices.SortStableFunc(rest, func(a, b LabelElement[ghs.Code]) int { return cmp.Compare(urgency(a), urgency(b)) })
	var covered ghs.HazardSet
	for _, e := range slices.Clone(rest) {
		fresh := ghs.SetOf(e.From...).Minus(covered)
		if len(l.out.Short) < shortCount && !fresh.Empty() {
			covered = covered.Union(ghs.SetOf(e.From...))
			l.take(e.Value, &rest)
		}
	}
	for len(l.out.Short) < shortCount && len(rest) > 0 {
		l.take(rest[0].Value, &rest)
	}
	order := func(c ghs.Code) int {
		return slices.IndexFunc(l.out.Precautionary, func(e LabelElement[ghs.Code]) bool { return e.Value == c })
	}
	slices.SortStableFunc(l.out.Short, func(a, b ghs.Code) int { return cmp.Compare(uint(order(a)), uint(order(b))) })
}

// take moves the statement to the short set when the label has it.
func (l *labelling) take(c ghs.Code, rest *[]LabelElement[ghs.Code]) {
	if l.precaution(c) == nil {
		return
	}
	l.out.Short = append(l.out.Short, c)
	*rest = slices.DeleteFunc(*rest, func(e LabelElement[ghs.Code]) bool { return e.Value == c })
}

// urgency is the place of a statement in shortRank; those it does not name come last.
func urgency(e LabelElement[ghs.Code]) int {
	if r, ok := shortRank[e.Value]; ok {
		return r
	}
	return len(shortRank) + 1
}
