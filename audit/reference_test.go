package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func referenceTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	return []trial{
		finds("ingredient-stricter", Doubt, "EU: the sensitiser of the recalled harmonised entry is not stated for the resin", eu, resin, withRow(0, func(i *sheet.Ingredient) {
			i.Hazards = slices.DeleteFunc(i.Hazards, func(f sheet.Fact[sheet.ClassStatement]) bool { return f.Value.Hazard == ghs.SkinSens1 })
		})),
		finds("ingredient-stricter", Doubt, "US: the same is no law, but asks for a reason", us, resin, withRow(0, func(i *sheet.Ingredient) {
			i.Hazards = slices.DeleteFunc(i.Hazards, func(f sheet.Fact[sheet.ClassStatement]) bool { return f.Value.Hazard == ghs.SkinSens1 })
		})),
		passes("ingredient-stricter", "the sheet is stricter than the table", eu, resin, withRow(0, func(i *sheet.Ingredient) {
			i.Hazards = append(i.Hazards, stated(3, sheet.ClassStatement{Hazard: ghs.Repr2}, "Repr. 2"))
		})),
		finds("cas-name", Doubt, "toluene's number beside acetone's name", eu, thinner, withRow(1, func(i *sheet.Ingredient) { i.Name, i.CAS = text(3, "Acetone"), text(3, "108-88-3") })),
		passes("cas-name", "a trade name beside a number", eu, thinner, withRow(1, func(i *sheet.Ingredient) { i.Name = text(3, "Solvent 40") })),
		finds("flash-against-ingredients", Doubt, "95 °C with a third of ethyl acetate", eu, resin, func(c *Case) {
			row(c, 0).Percent = percent(60, 65)
			*row(c, 1) = ingredient(eu, "Ethyl acetate", "141-78-6", 35, 40, ghs.FlamLiq2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic)
			set(sheet.FlashPoint, sheet.Exactly(95), "°C", "95 °C")(c)
		}),
		passes("flash-against-ingredients", "a tenth does not tell", eu, resin, func(c *Case) {
			*row(c, 1) = ingredient(eu, "Ethyl acetate", "141-78-6", 10, 15, ghs.FlamLiq2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic)
			set(sheet.FlashPoint, sheet.Exactly(95), "°C", "95 °C")(c)
		}),
		finds("voc-against-ingredients", Doubt, "5 g/l beside nothing but solvent", eu, thinner, set(sheet.VOC, sheet.Exactly(5), "g/l", "5 g/l")),
		passes("voc-against-ingredients", "a resin that does not evaporate", eu, resin, set(sheet.VOC, sheet.Exactly(5), "g/l", "5 g/l")),
	}
}

func otherTrials() []trial {
	aid := func(s string) func(*Case) {
		return func(c *Case) { c.Sheet.Sections[4].Text = []sheet.Line{line(4, s)} }
	}
	return []trial{
		finds("vomiting-advised", Contradiction, "vomiting after a corrosive", ghs.EUCLP, hardener, aid("If swallowed, induce vomiting at once.")),
		passes("vomiting-advised", "vomiting forbidden", ghs.EUCLP, hardener, aid("If swallowed, do NOT induce vomiting.")),
		passes("vomiting-advised", "neither corrosive nor an aspiration hazard", ghs.EUCLP, resin, aid("If swallowed, induce vomiting at once.")),
	}
}
