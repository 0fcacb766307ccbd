package invent

import (
	"maps"
	"slices"
	"strings"

	"sixteen/demo/sheetprint"
)

// Fault is one named way in which a sheet goes wrong. Planting it changes one thing in a sheet that was consistent, so
// that whoever audits the printed sheet must notice.
type Fault struct {
	Kind  string // short and stable: "missed-skin-sensitiser"
	Says  string // what is wrong with the sheet, in one sentence
	Harm  string // who could be hurt by believing it
	by    string // checks of package audit of which at least one must notice it, parted by blanks
	plant func(*sheetprint.Spec) bool
}

// Checks names the checks of package audit of which at least one must notice the fault; none when no check looks there.
func (f Fault) Checks() []string { return strings.Fields(f.by) }

// Shown tells whether the fault is one in a layout: what contradicts the classes of an ingredient needs their column,
// and a code that belongs to another class needs the class beside it.
func (f Fault) Shown(l sheetprint.Layout) bool {
	switch f.Kind {
	case "ingredient-dose-against-class":
		return l.IngredientH
	case "ingredient-code-of-another-class":
		return l.IngredientH && !l.CodesOnly
	}
	return true
}

// Plant returns the sheet with the fault in it, and whether it could be planted: a sheet without a sensitiser cannot
// miss one. The given sheet is not changed.
func (f Fault) Plant(s sheetprint.Spec) (sheetprint.Spec, bool) {
	out := clone(s)
	if !f.plant(&out) {
		return s, false
	}
	return out, true
}

// Faults lists every fault, in a fixed order. A new one is one more row in one of the tables.
func Faults() []Fault {
	return slices.Concat(hazardFaults, wordingFaults, compositionFaults, dataFaults, contentFaults, paperFaults)
}

// FaultOf finds a fault by its kind.
func FaultOf(kind string) (Fault, bool) {
	for _, f := range Faults() {
		if f.Kind == kind {
			return f, true
		}
	}
	return Fault{}, false
}

// clone copies what the faults change.
func clone(s sheetprint.Spec) sheetprint.Spec {
	s.Classes = slices.Clone(s.Classes)
	s.Statements, s.Precautions, s.Supplemental = slices.Clone(s.Statements), slices.Clone(s.Precautions), slices.Clone(s.Supplemental)
	s.Pictograms = slices.Clone(s.Pictograms)
	s.Unknown, s.ExtraPhrases, s.RiskPhrases = slices.Clone(s.Unknown), slices.Clone(s.ExtraPhrases), slices.Clone(s.RiskPhrases)
	s.Ingredients = slices.Clone(s.Ingredients)
	for i := range s.Ingredients {
		s.Ingredients[i].Classes = slices.Clone(s.Ingredients[i].Classes)
	}
	s.Limits, s.Tox, s.Eco = slices.Clone(s.Limits), slices.Clone(s.Tox), slices.Clone(s.Eco)
	s.Carcinogens = slices.Clone(s.Carcinogens)
	s.Properties, s.Sentences = maps.Clone(s.Properties), maps.Clone(s.Sentences)
	s.OmitSections = slices.Clone(s.OmitSections)
	s.Transport.Modes = slices.Clone(s.Transport.Modes)
	if s.NFPA != nil {
		r := *s.NFPA
		s.NFPA = &r
	}
	if s.HMIS != nil {
		r := *s.HMIS
		s.HMIS = &r
	}
	return s
}
