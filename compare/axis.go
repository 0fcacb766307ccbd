package compare

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/substance"
)

// Axis is one way in which products differ. Axes are never added up.
type Axis string

// Axes.
const (
	Allergy     Axis = "allergy"
	Cancer      Axis = "cancer"
	Lungs       Axis = "lungs"
	Organs      Axis = "organs"
	SkinEyes    Axis = "skin and eyes"
	Air         Axis = "air over limit"
	Fire        Axis = "fire"
	Environment Axis = "environment"
	Burden      Axis = "protection burden"
	Unknowns    Axis = "unknowns"
	Papers      Axis = "papers"
)

// Axes lists the axes in the order they are shown.
func Axes() []Axis {
	return []Axis{Allergy, Cancer, Lungs, Organs, SkinEyes, Air, Fire, Environment, Burden, Unknowns, Papers}
}

// Title is the axis in words.
func (a Axis) Title() string {
	switch a {
	case Cancer:
		return "cancer, genes, reproduction, hormones"
	case Lungs:
		return "lungs and breathing in"
	case Organs:
		return "poisoning and organs"
	case Air:
		return "air: share of the limit, or band, in the job"
	case Fire:
		return "fire and reaction"
	case Unknowns:
		return "not known, percent of the product"
	case Papers:
		return "papers: contradictions and gaps in the sheet"
	}
	return string(a)
}

// Score is where a product stands on one axis; higher is worse. Lo is what certainly holds, Hi what may hold. Open means
// that nothing bounds it upwards: something that would count is not known. Words say what the figure is.
type Score struct {
	Axis  Axis     `json:"axis"`
	Lo    float64  `json:"lo"`
	Hi    float64  `json:"hi"`
	Open  bool     `json:"open,omitempty"`
	Words string   `json:"words"`
	Why   []string `json:"why,omitempty"`
}

// worst is the upper end, +Inf where open.
func (s Score) worst() float64 {
	if s.Open {
		return math.Inf(1)
	}
	return s.Hi
}

// Widened is the score with less known: open upwards, and from nothing on.
func (s Score) Widened() Score {
	s.Lo, s.Open = 0, true
	return s
}

type rung struct {
	axis  Axis
	level float64
	words string
}

//go:embed levels.csv
var levelsCSV string

// ladder gives every hazard its axis and level.
var ladder = sync.OnceValue(func() map[ghs.Hazard]rung {
	rows, err := csv.NewReader(strings.NewReader(levelsCSV)).ReadAll()
	if err != nil {
		panic("compare: levels.csv: " + err.Error()) // embedded; a test reads every row
	}
	out := map[ghs.Hazard]rung{}
	for _, r := range rows[1:] {
		level, err := strconv.ParseFloat(r[1], 64)
		if err != nil {
			panic("compare: levels.csv: " + err.Error())
		}
		for _, name := range strings.Split(r[2], ";") {
			i := slices.IndexFunc(ghs.AllHazards(), func(h ghs.Hazard) bool { return h.String() == name })
			if i < 0 {
				panic("compare: levels.csv: no hazard is called " + name)
			}
			out[ghs.AllHazards()[i]] = rung{axis: Axis(r[0]), level: level, words: r[3]}
		}
	}
	return out
})

// highest is the highest rung on an axis that a set of hazards reaches.
func highest(axis Axis, hazards ghs.HazardSet) (rung, []string) {
	best := rung{axis: axis, words: "nothing declared and nothing that follows"}
	var why []string
	for _, h := range hazards.All() {
		r, ok := ladder()[h]
		if !ok || r.axis != axis {
			continue
		}
		switch {
		case r.level > best.level:
			best, why = r, []string{h.String()}
		case r.level == best.level:
			why = append(why, h.String())
		}
	}
	return best, why
}

// HazardScore places a product on an axis by its hazards: from those to act on up to those possible besides. It is open
// where the rule set has no such class, or where nobody has classified the whole product and a part of it is not known.
func HazardScore(axis Axis, k plan.Known, table *substance.Table) Score {
	certain, why := highest(axis, k.Acting())
	possible, whyNot := highest(axis, k.Acting().Union(k.Possible))
	s := Score{Axis: axis, Lo: certain.level, Hi: possible.level, Words: certain.words, Why: why}
	if possible.level > certain.level {
		s.Words += "; possibly, by the stated ranges or facts that are not known: " + possible.words
		s.Why = append(s.Why, whyNot...)
	}
	switch hidden := nobodyKnows(k, table); {
	case axis == Environment && !hasEnvironment(k.RuleSet):
		s.Open = true
		s.Words = "not judged: " + k.RuleSet.Name() + " has no classes for the environment"
	case !k.Classified && len(hidden) > 0:
		s.Open = true
		s.Words += "; not known: " + strings.Join(hidden, ", ")
	}
	return s
}

func hasEnvironment(rs ghs.RuleSet) bool {
	return slices.ContainsFunc(ghs.AquaticChronic.Hazards(), rs.Exists)
}

// nobodyKnows lists what of a product nobody has classified: the undisclosed share and ingredients without any hazard
// statement held.
func nobodyKnows(k plan.Known, table *substance.Table) []string {
	var out []string
	if k.Hidden[1] >= 0.05 {
		out = append(out, fmt.Sprintf("up to %.3g %% not disclosed", k.Hidden[1]))
	}
	for _, i := range k.Mixture.Ingredients {
		if i.Hazards.Empty() && unclassified(i.CAS, table) {
			out = append(out, i.Name)
		}
	}
	return out
}

// unclassified tells whether nothing is held of what a substance is classified as, not even that it is not.
func unclassified(cas string, table *substance.Table) bool {
	s, ok := table.ByCAS(cas)
	return !ok || len(s.Classifications) == 0
}
