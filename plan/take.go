package plan

import (
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/substance"
)

// OfProduct is a product of a job as its ingredients make it.
func OfProduct(k Known, table *substance.Table) exposure.Product {
	p := exposure.Product{Name: k.Name, File: k.File}
	take(&p, k, table)
	return p
}

// take gives a product of a job what is known of it, where the job itself does not say.
func take(p *exposure.Product, k Known, table *substance.Table) {
	if p.Name == "" {
		p.Name = k.Name
	}
	if p.DensityKgM3 == 0 {
		p.DensityKgM3 = k.DensityKgM3
	}
	if p.FlashPointC == nil {
		p.FlashPointC = k.FlashPointC
	}
	p.Complete = p.Complete || k.Mixture.Complete || len(k.Mixture.Ingredients) > 0 && k.Hidden[1] < 0.05
	for _, i := range k.Mixture.Ingredients {
		p.Ingredients = append(p.Ingredients, ingredient(i, k.RuleSet, table))
	}
}

// givesNoVapour are the families of solids that are dispersed in a product and do not dissolve in it.
func givesNoVapour() []string { return []string{"filler", "pigment", "metal powder"} }

func ingredient(i classify.Ingredient, rules ghs.RuleSet, table *substance.Table) exposure.Ingredient {
	out := exposure.Ingredient{Name: i.Name, CAS: i.CAS, Percent: exposure.Range{Interval: i.Percent}, MolarMass: i.MolarMassGMol}
	if !out.Percent.Given() {
		out.Percent = exposure.Between(0, 100)
	}
	for _, h := range i.Hazards.All() {
		if e, ok := rules.Elements(h); ok {
			for _, c := range e.Codes {
				if !slices.Contains(out.Hazards, string(c)) {
					out.Hazards = append(out.Hazards, string(c))
				}
			}
		}
	}
	if !substance.ValidCAS(out.CAS) {
		out.CAS = "" // a misprinted number finds nothing; the sheet's own findings tell of it
	}
	s, known := table.ByCAS(out.CAS)
	switch {
	case known && slices.Contains(givesNoVapour(), s.Family):
		out.Solid = true
	case known && s.Family == "polymer", !known && strings.Contains(strings.ToLower(i.Name), "polymer"):
		out.NonVolatile = true
	}
	return out
}
