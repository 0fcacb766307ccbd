package classify

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// Filled tells what was taken from the substance table for one ingredient, and how far it can be trusted.
type Filled struct {
	Ingredient int
	Hazard     ghs.Hazard // NoHazard for a substance that nobody classifies
	Authority  substance.Authority
	Source     substance.Source
	Statement  string // in words, what the entry rests on
}

// water is not acutely toxic: the law names it as an ingredient to leave out (3.1.3.6.1(b), A.1.3.6.1(b)).
const water = "7732-18-5"

// Fill looks up the ingredients of which the mixture says nothing but name and number, and takes over what the substance
// table holds for the rule set: classes, specific limits, M-factors, acute toxicity estimates, supplemental statements,
// molar mass. An ingredient whose hazards are given is left as it is. The mixture itself is not changed.
func (m Mixture) Fill(t *substance.Table, rs ghs.RuleSet) (Mixture, []Filled) {
	m.Ingredients = slices.Clone(m.Ingredients)
	var all []Filled
	for i := range m.Ingredients {
		in := &m.Ingredients[i]
		if in.CAS == water && in.silent() {
			for _, r := range routes {
				in.ATE[r] = ATE{Status: ATENotToxic}
			}
			continue
		}
		row, ok := t.ByCAS(in.CAS)
		if !ok || !in.silent() {
			continue
		}
		if in.MolarMassGMol == 0 && row.MolarMassGMol.Known {
			in.MolarMassGMol = row.MolarMassGMol.V
		}
		if hasUnionLimit(row) {
			in.Properties = withProperty(in.Properties, PropWorkplaceLimit)
		}
		basis := row.ForRuleSet(rs)
		for _, c := range basis.Use() {
			in.takeOver(c)
			all = append(all, Filled{Ingredient: i, Hazard: c.Hazard, Authority: c.Authority, Source: c.Source, Statement: basis.Statement})
		}
	}
	return m, all
}

// hasUnionLimit tells whether the table holds a workplace exposure limit of the Union for the substance.
func hasUnionLimit(row *substance.Substance) bool {
	return slices.ContainsFunc(row.Limits, func(l substance.Limit) bool { return strings.HasPrefix(l.Authority, "EU ") })
}

func withProperty(properties map[string]float64, name string) map[string]float64 {
	properties = maps.Clone(properties)
	if properties == nil {
		properties = map[string]float64{}
	}
	properties[name] = 1
	return properties
}

// takeOver adds one entry of the table to the ingredient.
func (in *Ingredient) takeOver(c substance.Classification) {
	if c.Hazard != ghs.NoHazard && !c.NotClassified && !c.OnlyByLimit {
		in.Hazards.Add(c.Hazard)
	}
	if c.Hazard == ghs.NoHazard && c.Code.Kind() == ghs.SupplementalStatement {
		in.Statements = append(in.Statements, c.Code)
	}
	switch c.Hazard.Class() {
	case ghs.AquaticAcute:
		in.MAcute = max(in.MAcute, c.MFactor)
	case ghs.AquaticChronic:
		in.MChronic = max(in.MChronic, c.MFactor)
	}
	for _, l := range c.Limits {
		in.Limits = append(in.Limits, SpecificLimit{Hazard: l.Hazard, Percent: sheet.Interval{
			Lo: l.From, HasLo: true, LoOpen: l.FromOpen, Hi: l.To, HasHi: l.To < 100, HiOpen: l.ToOpen,
		}})
	}
	for _, a := range c.ATE {
		if a.Route > ghs.NoQualifier && int(a.Route) < len(in.ATE) && a.Value > 0 && (in.ATE[a.Route].Status != ATEValue || a.Value < in.ATE[a.Route].Value) {
			in.ATE[a.Route] = ATE{Status: ATEValue, Value: a.Value}
		}
	}
}

// Words tells in a sentence what was filled in.
func (f Filled) Words(m Mixture) string {
	name := m.Ingredients[f.Ingredient].Name
	what := "nothing"
	if f.Hazard != ghs.NoHazard {
		what = f.Hazard.String()
	}
	known := f.Source.Text
	if f.Source.Memory {
		known = "recalled, check before use: " + known
	}
	return fmt.Sprintf("%s: %s (%s; %s)", name, what, f.Authority, known)
}
