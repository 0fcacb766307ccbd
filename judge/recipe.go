package judge

import (
	"maps"

	"sixteen/audit"
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

// FillRecipe completes a person's own recipe from the substance table: an ingredient with a CAS number on record gets
// the hazards, specific limits, M-factors and estimates that the table gives, and what the recipe itself states stands
// beside them, the stricter holding. The choices tell on whose word each hazard rests.
func FillRecipe(recipe classify.Mixture, table *substance.Table, rs ghs.RuleSet) (classify.Mixture, []audit.Choice) {
	filled, choices := audit.BuildMixture(recipeSheet(recipe), table, rs)
	out := recipe
	out.Ingredients = make([]classify.Ingredient, len(recipe.Ingredients))
	for i, own := range recipe.Ingredients {
		out.Ingredients[i] = overlay(filled.Ingredients[i], own)
	}
	return out, choices
}

// recipeSheet is the recipe as section 3 of a sheet, so that ingredients are completed in one way everywhere.
func recipeSheet(recipe classify.Mixture) *sheet.Sheet {
	s := &sheet.Sheet{}
	for _, in := range recipe.Ingredients {
		row := sheet.Ingredient{
			Name:    stated(in.Name),
			Percent: stated(sheet.Quantity{Interval: in.Percent, Unit: "%"}),
		}
		if in.CAS != "" {
			row.CAS = stated(in.CAS)
		}
		for _, h := range in.Hazards.All() {
			row.Hazards = append(row.Hazards, stated(sheet.ClassStatement{Hazard: h, Printed: h.String()}))
		}
		for _, l := range in.Limits {
			row.Limits = append(row.Limits, stated(sheet.SpecificLimit{Hazard: l.Hazard, Percent: l.Percent}))
		}
		s.Composition.Ingredients = append(s.Composition.Ingredients, row)
	}
	return s
}

func stated[T any](v T) sheet.Fact[T] {
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Evidence: []sheet.Evidence{{Page: 1, How: sheet.ByPerson}}, Confidence: 1}
}

// overlay puts what the recipe states itself over what the table gave.
func overlay(from, own classify.Ingredient) classify.Ingredient {
	from.Name, from.CAS, from.Percent = own.Name, own.CAS, own.Percent
	for q, a := range own.ATE {
		if a.Status != classify.ATEFromClass {
			from.ATE[q] = a
		}
	}
	if own.MAcute > 0 {
		from.MAcute = own.MAcute
	}
	if own.MChronic > 0 {
		from.MChronic = own.MChronic
	}
	if own.ActiveOxygenPct > 0 {
		from.ActiveOxygenPct = own.ActiveOxygenPct
	}
	if own.MolarMassGMol > 0 {
		from.MolarMassGMol = own.MolarMassGMol
	}
	from.Statements = append(from.Statements, own.Statements...)
	if len(own.Properties) > 0 {
		merged := maps.Clone(own.Properties)
		for k, v := range from.Properties {
			if _, has := merged[k]; !has {
				merged[k] = v
			}
		}
		from.Properties = merged
	}
	return from
}
