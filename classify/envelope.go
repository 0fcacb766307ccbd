package classify

import (
	"context"
	"fmt"
	"math"

	"sixteen/ghs"
)

// Verdict is what the stated ranges say of one hazard.
type Verdict uint8

// Verdicts.
const (
	RuledOut Verdict = iota // no composition within the ranges has it
	Possible                // some have it and some do not
	Certain                 // every composition has it
)

// String is the verdict in words.
func (v Verdict) String() string { return [...]string{"ruled out", "possible", "certain"}[v] }

// MarshalText writes the verdict in words.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Envelope is the classification of a mixture over every composition its stated ranges allow. It speaks of the
// disclosed ingredients only; what the undisclosed remainder could add is told by [Program.RemainderCouldHide].
type Envelope struct {
	Certain      ghs.HazardSet // every composition has them
	Possible     ghs.HazardSet // some composition has them; the certain ones are among them
	Open         ghs.HazardSet // possible, or certain, only if facts hold that are not known
	Answers      []Answer      // one per hazard the rules can give this mixture, in the order of the rules
	MaxRemainder float64       // largest undisclosed share, percent
	MinRemainder float64

	problem *problem
}

// Answer is the verdict on one hazard, with a composition for each side of it. For is nil when the hazard is ruled out,
// Against is nil when it is certain.
type Answer struct {
	Hazard  ghs.Hazard
	Verdict Verdict
	For     *Composition
	Against *Composition

	// OrSeverer is the verdict on "this category or a severer one of the class": it is certain when some sub-category
	// is, even while no single one is.
	OrSeverer        Verdict
	OrSevererFor     *Composition
	OrSevererAgainst *Composition

	// Open lists facts that are not known and on which the hazard would be possible beyond what Verdict says: as long as
	// they are not known, a hazard that is ruled out is ruled out only by what is known.
	Open []Opening

	outcomes []int
}

// Opening is a way in which a hazard would be possible or certain if facts that are not known held.
type Opening struct {
	Needs   []string // the facts, in words
	Verdict Verdict  // Possible or Certain, if they held
	For     *Composition
	Clause  string
}

// Envelope works out which hazards are certain, possible or ruled out over all compositions within the stated ranges.
// It is exact: linear sums reach their extremes by filling up, cut-offs and alternatives are decided case by case, and
// joint conditions by linear programming. It fails with [ErrImpossibleComposition] when no composition fits the ranges.
func (p *Program) Envelope() (*Envelope, error) {
	s, err := newSpace(&p.Mixture)
	if err != nil {
		return nil, err
	}
	e := &Envelope{problem: newProblem(p, s)}
	n := len(s.lo) - 1
	e.MinRemainder, e.MaxRemainder = s.lo[n], s.hi[n]
	w := &witnesses{problem: e.problem}
	w.add(s.centre(make([]float64, n+1)), formulaYes)
	for _, outcomes := range p.byHazard() {
		a := Answer{Hazard: p.Outcomes[outcomes[0]].Hazard, outcomes: outcomes}
		if err := w.answer(&a); err != nil {
			return nil, err
		}
		if len(a.Open) > 0 {
			e.Open.Add(a.Hazard)
		}
		if a.Verdict != RuledOut {
			e.Possible.Add(a.Hazard)
		}
		if a.Verdict == Certain {
			e.Certain.Add(a.Hazard)
		}
		e.Answers = append(e.Answers, a)
	}
	return e, nil
}

// Of is the answer on one hazard; a hazard that the rules cannot give this mixture is ruled out without witness.
func (e *Envelope) Of(h ghs.Hazard) Answer {
	for _, a := range e.Answers {
		if a.Hazard == h {
			return a
		}
	}
	return Answer{Hazard: h}
}

// byHazard groups the outcomes by hazard, in order of first mention.
func (p *Program) byHazard() [][]int {
	var groups [][]int
	var place [ghs.MaxHazards]int
	for o := range p.Outcomes {
		h := p.Outcomes[o].Hazard
		if place[h] == 0 {
			groups = append(groups, nil)
			place[h] = len(groups)
		}
		g := place[h] - 1
		groups[g] = append(groups[g], o)
	}
	return groups
}

// hazard is the formula for any of the outcomes holding (want), or none.
func (pr *problem) hazard(outcomes []int, want bool) *formula {
	return pr.either(outcomes, want, pr.outcome)
}

// atLeast is the formula for any alternative of the outcomes, or of one that takes their place, holding (want), or none.
func (pr *problem) atLeast(outcomes []int, want bool) *formula {
	var list []int
	for _, o := range outcomes {
		list = append(list, pr.p.orSeverer(o)...)
	}
	return pr.either(list, want, pr.alternatives)
}

func (pr *problem) either(outcomes []int, want bool, of func(int, bool) *formula) *formula {
	parts := make([]*formula, 0, len(outcomes))
	for _, o := range outcomes {
		parts = append(parts, of(o, want))
	}
	if want {
		return join(opSome, parts)
	}
	return join(opAll, parts)
}

// witnesses collects compositions that answered one question; most answer others too.
type witnesses struct {
	*problem
	points [][]float64
}

func (w *witnesses) answer(a *Answer) error {
	var err error
	a.Verdict, a.For, a.Against, err = w.ask(w.hazard(a.outcomes, true), w.hazard(a.outcomes, false))
	if err != nil {
		return err
	}
	if err := w.openings(a); err != nil {
		return err
	}
	if a.Verdict == Certain || !w.replaceable(a.outcomes) {
		a.OrSeverer, a.OrSevererFor, a.OrSevererAgainst = a.Verdict, a.For, a.Against
		return nil
	}
	a.OrSeverer, a.OrSevererFor, a.OrSevererAgainst, err = w.ask(w.atLeast(a.outcomes, true), w.atLeast(a.outcomes, false))
	return err
}

// openings works out what the facts that are not known could add to an answer that is not certain.
func (w *witnesses) openings(a *Answer) error {
	if a.Verdict == Certain {
		return nil
	}
	for _, o := range a.outcomes {
		unless := make([]*formula, 0, len(w.p.Outcomes[o].Unless))
		for _, u := range w.p.Outcomes[o].Unless {
			unless = append(unless, w.alternatives(u, false))
		}
		rest := join(opAll, unless)
		for k, first := range w.firstOpen[o] {
			alt := &w.p.Outcomes[o].Open[k]
			opens := func(want bool) *formula { return w.alternative(first, len(alt.AllOf), want) }
			pro, err := w.find(join(opAll, []*formula{opens(true), rest}))
			if err != nil {
				return err
			}
			if pro == nil {
				continue
			}
			con, err := w.find(opens(false))
			if err != nil {
				return err
			}
			op := Opening{Needs: alt.Needs, Verdict: Possible, For: composition(pro), Clause: alt.Clause}
			if con == nil && rest.op == opYes {
				op.Verdict = Certain
			}
			a.Open = append(a.Open, op)
		}
	}
	return nil
}

func (w *witnesses) replaceable(outcomes []int) bool {
	for _, o := range outcomes {
		if len(w.p.Outcomes[o].Unless) > 0 {
			return true
		}
	}
	return false
}

// ask decides one question given as the formulas for yes and for no.
func (w *witnesses) ask(yes, not *formula) (Verdict, *Composition, *Composition, error) {
	pro, err := w.find(yes)
	if err != nil {
		return RuledOut, nil, nil, err
	}
	con, err := w.find(not)
	if err != nil {
		return RuledOut, nil, nil, err
	}
	switch {
	case pro == nil && con == nil:
		return RuledOut, nil, nil, fmt.Errorf("envelope of %q: arithmetic too inexact to decide a question", w.p.Mixture.Name)
	case pro == nil:
		return RuledOut, nil, composition(con), nil
	case con == nil:
		return Certain, composition(pro), nil, nil
	}
	return Possible, composition(pro), composition(con), nil
}

// find looks among the compositions at hand before it searches for a new one.
func (w *witnesses) find(goal *formula) ([]float64, error) {
	if goal.op == opNo {
		return nil, nil
	}
	q := &search{problem: w.problem}
	for _, x := range w.points {
		if q.satisfied(x, goal) {
			return x, nil
		}
	}
	x, err := w.problem.find(context.Background(), goal)
	if x == nil || err != nil {
		return nil, err
	}
	return w.add(x, goal), nil
}

// add keeps x, rounded where the rounded composition fulfils the goal too.
func (w *witnesses) add(x []float64, goal *formula) []float64 {
	x = w.rounded(x, goal)
	w.points = append(w.points, x)
	return x
}

// rounded brings every share to the roundest number within a part of its range, where the composition then still
// fulfils the goal.
func (pr *problem) rounded(x []float64, goal *formula) []float64 {
	q := &search{problem: pr, chosen: map[int]optional{}}
	last := len(x) - 1
	for _, part := range []float64{0.25, 0.0025} {
		y := make([]float64, len(x))
		left, largest := whole, 0
		for i := range last {
			y[i] = roundWithin(x[i], pr.s.lo[i], pr.s.hi[i], part)
			left -= y[i]
			if y[i] > y[largest] {
				largest = i
			}
		}
		left = math.Round(left*1e9) / 1e9
		if pr.s.hi[last] > 0 {
			y[last] = left
		} else if last > 0 {
			y[largest] = math.Round((y[largest]+left)*1e9) / 1e9
		}
		if pr.s.has(y) && q.satisfied(y, goal) {
			return y
		}
	}
	return x
}

// roundWithin rounds v to the power of ten next below the given part of the range lo to hi, unless that leaves it.
func roundWithin(v, lo, hi, part float64) float64 {
	if hi <= lo {
		return v
	}
	digits := math.Ceil(-math.Log10(min((hi-lo)*part, 1)))
	steps := math.Pow(10, digits)
	if r := math.Round(v*steps) / steps; r > lo && r < hi {
		return r
	}
	return v
}
