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
	says := func(n int, s string) func(*Case) {
		return func(c *Case) { c.Sheet.Sections[n].Text = []sheet.Line{line(n, s)} }
	}
	peroxide := instead(ghs.OrgPeroxD, ghs.SkinCorr1B)
	return []trial{
		finds("first-aid-eyes", Gap, "a corrosive and no word on the eyes", ghs.EUCLP, hardener, aid("Inhalation: fresh air.")),
		finds("first-aid-eyes", Gap, "eyes among the symptoms only", ghs.EUCLP, hardener, aid("Symptoms: redness of the eyes.")),
		passes("first-aid-eyes", "said in German", ghs.EUCLP, hardener, aid("Bei Augenkontakt spülen. Einatmen: Frischluft.")),
		passes("first-aid-eyes", "in a language whose words are not carried", ghs.EUCLP, hardener, both(aid("Silmät: huuhtele."), func(c *Case) { c.Sheet.Language = stated(1, ghs.Lang("fi"), "Käyttöturvallisuustiedote") })),
		finds("first-aid-breathing", Gap, "a solvent and no word on breathing", ghs.EUCLP, thinner, aid("Eyes: rinse.")),
		passes("first-aid-breathing", "fresh air", ghs.EUCLP, thinner, aid("Bring into fresh air.")),
		finds("extinguishing-missing", Gap, "a solvent and only the fire brigade", ghs.EUCLP, thinner, says(5, "Call the fire brigade.")),
		finds("extinguishing-missing", Gap, "the heading of the media and nothing below", ghs.EUCLP, thinner, says(5, "5.1 Extinguishing media")),
		passes("extinguishing-missing", "a resin that hardly burns", ghs.EUCLP, resin, says(5, "Call the fire brigade.")),
		finds("peroxide-accelerator", Gap, "a peroxide that is “stable”", ghs.EUCLP, resin, both(peroxide, says(10, "Stable."))),
		passes("peroxide-accelerator", "warned of cobalt", ghs.EUCLP, resin, both(peroxide, says(10, "Never mix with cobalt accelerators."))),
		finds("cancer-statement-missing", Gap, "US: LD50 values only", ghs.USHCS2024, resin, says(11, "LD50 oral > 2000 mg/kg")),
		passes("cancer-statement-missing", "US: no ingredient is listed", ghs.USHCS2024, resin, nil),
		finds("endocrine-statement-missing", Gap, "EU: not a word", ghs.EUCLP, resin, says(2, "Other hazards: none known.")),
		passes("endocrine-statement-missing", "said in section 12", ghs.EUCLP, resin, both(says(2, "Other hazards: none known."), says(12, "Keine PBT-Stoffe."))),
		finds("isocyanate-training", Gap, "EU: 30 % MDI without the sentence", ghs.EUCLP, resin, addRow(ghs.EUCLP, "4,4'-MDI", "101-68-8", 30, 40, ghs.RespSens1)),
		passes("isocyanate-training", "with the sentence", ghs.EUCLP, resin, both(addRow(ghs.EUCLP, "4,4'-MDI", "101-68-8", 30, 40, ghs.RespSens1), says(15, "As from 24 August 2023 adequate training is required."))),
		finds("vomiting-advised", Contradiction, "vomiting after a corrosive", ghs.EUCLP, hardener, aid("If swallowed, induce vomiting at once.")),
		passes("vomiting-advised", "vomiting forbidden", ghs.EUCLP, hardener, aid("If swallowed, do NOT induce vomiting.")),
		passes("vomiting-advised", "neither corrosive nor an aspiration hazard", ghs.EUCLP, resin, aid("If swallowed, induce vomiting at once.")),
	}
}
