package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func productDose(measure string, route ghs.Qualifier, v sheet.Interval, printed string) func(*Case) {
	return func(c *Case) {
		c.Sheet.Toxicology.Values = append(c.Sheet.Toxicology.Values, dose("", measure, route, v, printed))
	}
}

func effectText(key, s string) func(*Case) {
	return func(c *Case) { c.Sheet.Toxicology.Endpoints[key] = text(11, s) }
}

func toxicologyTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	eco := func(v sheet.Interval, group string) func(*Case) {
		return func(c *Case) {
			c.Sheet.Ecology.Values = append(c.Sheet.Ecology.Values, stated(12, sheet.EcoValue{Measure: "LC50", Group: group, Quantity: sheet.Quantity{Interval: v, Unit: "mg/l"}}, "LC50"))
		}
	}
	return []trial{
		finds("dose-against-class", Contradiction, "LD50 180 mg/kg of the product beside category 4", eu, hardener, productDose("LD50", ghs.Oral, sheet.Exactly(180), "180 mg/kg")),
		finds("dose-against-class", Contradiction, "LD50 1500 mg/kg and no class", eu, resin, productDose("LD50", ghs.Oral, sheet.Exactly(1500), "1500 mg/kg")),
		finds("dose-against-class", Doubt, "category 4 beside an estimate above 2000 mg/kg", eu, hardener, productDose("ATE", ghs.Oral, moreThan(2000), "> 2000 mg/kg")),
		passes("dose-against-class", "mg/l is no unit of a dose on the skin", eu, resin, func(c *Case) {
			f := dose("", "ATE", ghs.Dermal, sheet.Exactly(10.3), "10.3 mg/l")
			f.Value.Quantity.Unit = "mg/l"
			c.Sheet.Toxicology.Values = append(c.Sheet.Toxicology.Values, f)
		}),
		passes("dose-against-class", "“> 500 mg/kg” may be anything above", eu, hardener, productDose("LD50", ghs.Oral, moreThan(500), "> 500 mg/kg")),
		passes("dose-against-class", "“> 2000 mg/kg” and no class", eu, resin, productDose("LD50", ghs.Oral, moreThan(2000), "> 2000 mg/kg")),
		passes("dose-against-class", "300 mg/kg is the end of category 3 and belongs to it", eu, resin, both(instead(ghs.AcuteTox3Oral, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2), productDose("LD50", ghs.Oral, sheet.Exactly(300), "300 mg/kg"))),
		finds("ingredient-dose", Doubt, "an ingredient with LD50 900 mg/kg and no such class", eu, resin, func(c *Case) {
			c.Sheet.Toxicology.Values = append(c.Sheet.Toxicology.Values, dose("68609-97-2", "LD50", ghs.Oral, sheet.Exactly(900), "900 mg/kg"))
		}),
		passes("ingredient-dose", "1030 mg/kg and category 4", eu, hardener, nil),
		finds("effect-against-class", Contradiction, "H317, and “not sensitising”", eu, resin, effectText("skin_sens", "Skin sensitisation: not sensitising (guinea pig).")),
		finds("effect-against-class", Doubt, "“may cause cancer” and no class", eu, resin, effectText("carc", "May cause cancer.")),
		finds("effect-against-class", Contradiction, "German: H317, and “nicht sensibilisierend”", eu, resin, effectText("skin_sens", "Meerschweinchen: nicht sensibilisierend.")),
		finds("effect-against-class", Contradiction, "French: H315, and the criteria that are not met", eu, resin, effectText("skin", "Les critères de classification ne sont pas remplis.")),
		finds("effect-against-class", Doubt, "Spanish: the phrase of H351 and no class", eu, resin, effectText("carc", "Se sospecha que provoca cáncer.")),
		passes("effect-against-class", "German: no data is no denial", eu, resin, effectText("skin_sens", "Keine Daten verfügbar, daher nicht eingestuft.")),
		passes("effect-against-class", "French: the phrase of the declared class", eu, resin, effectText("skin_sens", "Peut provoquer une allergie cutanée.")),
		passes("effect-against-class", "a denial that speaks of one ingredient", eu, resin, effectText("skin_sens", "CAS 68609-97-2: not sensitising.")),
		passes("effect-against-class", "both said of different tests", eu, resin, effectText("skin", "Rabbit: not irritating. Human: causes skin irritation.")),
		finds("carcinogen-listing", Doubt, "IARC 2A in section 11, nothing in section 2", eu, thinner, func(c *Case) {
			c.Sheet.Toxicology.Carcinogens = append(c.Sheet.Toxicology.Carcinogens, stated(11, sheet.CancerListing{Ingredient: "something", Agency: "IARC", Group: "2A"}, "IARC 2A"))
		}),
		passes("carcinogen-listing", "group 3 is no listing", eu, thinner, nil),
		finds("acute-data-missing", Gap, "H302 and no figure", eu, hardener, func(c *Case) { c.Sheet.Toxicology.Values = nil }),
		passes("acute-data-missing", "no acute class", eu, resin, func(c *Case) { c.Sheet.Toxicology.Values = nil }),
		finds("ecotoxicity-against-class", Contradiction, "LC50 fish 0.4 mg/l and no H400", eu, resin, eco(sheet.Exactly(0.4), "fish")),
		passes("ecotoxicity-against-class", "bacteria do not count", eu, resin, eco(sheet.Exactly(0.4), "bacteria")),
		passes("ecotoxicity-against-class", "no such class in the United States", us, resin, eco(sheet.Exactly(0.4), "fish")),
		finds("ecology-missing", Gap, "H411 and no data", eu, resin, func(c *Case) { c.Sheet.Ecology.Values = nil }),
		passes("ecology-missing", "no aquatic class", us, resin, func(c *Case) { c.Sheet.Ecology.Values = nil }),
	}
}
