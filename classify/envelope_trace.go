package classify

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

// Range is what one condition of a rule comes to over all compositions within the ranges.
type Range struct {
	What       string // the quantity
	Unit       string
	Min, Max   float64
	MinReached bool // some composition takes the value, not only values as close as one likes
	MaxReached bool
	Cmp        Compare
	Bound      float64
	Verdict    Verdict // whether the condition holds for every composition, for some or for none
}

// String is the arithmetic in words: "at most 4.9 %, never ≥ 5 %: sum of Skin Corr. 1 ingredients".
func (r Range) String() string {
	unit := ""
	if r.Unit != "" {
		unit = " " + r.Unit
	}
	limit := r.Cmp.String() + " " + number(r.Bound) + unit
	low := pick(r.MinReached, "at least ", "more than ") + number(r.Min) + unit
	high := pick(r.MaxReached, "at most ", "less than ") + number(r.Max) + unit
	up := upward(r.Cmp)
	switch {
	case r.Min == r.Max:
		return r.What + " is " + number(r.Min) + unit + pick(r.Verdict == Certain, ", which is ", ", which is not ") + limit
	case r.Verdict == Certain:
		return r.What + " is " + pick(up, low, high) + ", always " + limit
	case r.Verdict == RuledOut:
		return r.What + " is " + pick(up, high, low) + ", never " + limit
	}
	return r.What + " is " + low + " and " + high + ", so it may or may not be " + limit
}

// rangeOf works out the range of condition c.
func (e *Envelope) rangeOf(c int) Range {
	pr := e.problem
	cond, b := pr.conds[c], pr.extremes(c)
	r := Range{What: cond.What, Unit: cond.Unit, Cmp: cond.Cmp, Bound: cond.Bound, Verdict: Possible,
		Min: b.min.value, Max: b.max.value, MinReached: b.min.reached, MaxReached: b.max.reached}
	switch l := (literal{c, cond.Cmp}); {
	case !pr.canFail(l):
		r.Verdict = Certain
	case !pr.canHold(l):
		r.Verdict = RuledOut
	}
	if cond.Route != ghs.NoQualifier && cond.Cmp == AtLeast && len(cond.Terms) == cond.KnownTerms {
		r.asEstimate(cond.Route)
	}
	return r
}

// asEstimate turns Σ share/ATE ≥ 100/T into the estimate 100/Σ ≤ T that classifiers quote.
func (r *Range) asEstimate(route ghs.Qualifier) {
	if r.Min <= 0 || r.Bound <= 0 {
		return
	}
	r.What, r.Unit, r.Cmp = "ATE of the mixture ("+route.String()+")", RouteUnit(route), AtMost
	r.Min, r.Max, r.Bound = whole/r.Max, whole/r.Min, whole/r.Bound
	r.MinReached, r.MaxReached = r.MaxReached, r.MinReached
}

// gives is how a rule that holds never, for some compositions or for all is told.
var gives = [...]string{RuledOut: "does not give", Possible: "may give", Certain: "gives"}

// Why tells, rule by rule, what the ranges make of a hazard: the extremes of each sum against its limit. Of a rule that
// cannot hold only the condition that fails is told; a certain hazard is told by the rules that always hold.
// It is safe for concurrent use.
func (e *Envelope) Why(h ghs.Hazard) []Reason {
	e.problem.mu.Lock()
	defer e.problem.mu.Unlock()
	a := e.Of(h)
	if len(a.outcomes) == 0 {
		return []Reason{{Text: "no disclosed ingredient and no known fact brings " + h.String()}}
	}
	var out []Reason
	for _, o := range a.outcomes {
		for k, first := range e.problem.first[o] {
			alt := &e.problem.p.Outcomes[o].AnyOf[k]
			verdict, text := e.alternativeWords(alt, first)
			if a.Verdict == Certain && verdict != Certain {
				continue
			}
			out = append(out, Reason{Text: text + " → " + gives[verdict] + " " + h.String(), Clause: alt.Clause, Rule: alt.Rule, Memory: alt.Memory})
		}
		out = append(out, e.replacedWords(o)...)
	}
	for _, op := range a.Open {
		out = append(out, Reason{Text: h.String() + " would be " + op.Verdict.String() + " if known: " + strings.Join(op.Needs, "; "), Clause: op.Clause})
	}
	return out
}

// alternativeWords is the verdict on one rule by its conditions one at a time, and its arithmetic.
func (e *Envelope) alternativeWords(alt *Alternative, first int) (Verdict, string) {
	verdict := Certain
	var parts []string
	for c := range alt.AllOf {
		r := e.rangeOf(first + c)
		if r.Verdict == RuledOut {
			return RuledOut, r.String()
		}
		verdict = min(verdict, r.Verdict)
		if !alt.AllOf[c].merelyPresent() || len(alt.AllOf) == 1 {
			parts = append(parts, r.String())
		}
	}
	return verdict, strings.Join(append(parts, alt.Facts...), "; ")
}

// replacedWords names the severer outcomes that may take the place of outcome o.
func (e *Envelope) replacedWords(o int) (out []Reason) {
	p := e.problem.p
	for _, u := range p.Outcomes[o].Unless {
		if v := e.Of(p.Outcomes[u].Hazard).Verdict; v != RuledOut {
			out = append(out, Reason{Text: fmt.Sprintf("%v is %v and takes the place of %v where it holds", p.Outcomes[u].Hazard, v, p.Outcomes[o].Hazard)})
		}
	}
	return out
}
