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
		finds("constituent-note", Doubt, "EU, note P: a naphtha with H304 alone, and not a word on benzene", eu, thinner, naphtha("")),
		finds("constituent-note", Note, "US: the note is no law, the benzene the same", us, thinner, naphtha("")),
		finds("constituent-note", Doubt, "ethylbenzene is another substance", eu, thinner, naphtha("Ethylbenzene: LD50 0,1 g/kg.")),
		finds("constituent-note", Doubt, "benzene without a figure", eu, thinner, naphtha("Traces of benzene cannot be excluded.")),
		finds("constituent-note", Doubt, "0.1 % benzene of the product is 0.3 % of the naphtha", eu, thinner, both(naphtha(""), addRow(eu, "Benzene", "71-43-2", 0.1, 0.1))),
		passes("constituent-note", "benzene below 0.1 %", eu, thinner, naphtha("Contains less than 0.1 % benzene (EINECS 200-753-7).")),
		passes("constituent-note", "the same in German", eu, thinner, naphtha("Benzol < 0,1 % (w/w)")),
		passes("constituent-note", "the note is named", eu, thinner, naphtha("La note P s'applique.")),
		passes("constituent-note", "section 3 has so little benzene that the naphtha holds less than 0.1 %", eu, thinner, both(naphtha(""), addRow(eu, "Benzene", "71-43-2", 0.005, 0.01))),
		passes("constituent-note", "the supplier takes it for a carcinogen", eu, thinner, both(naphtha(""), withRow(1, func(i *sheet.Ingredient) {
			i.Hazards = append(i.Hazards, stated(3, sheet.ClassStatement{Hazard: ghs.Carc1B}, "Carc. 1B"), stated(3, sheet.ClassStatement{Hazard: ghs.Muta1B}, "Muta. 1B"))
		}))),
		passes("constituent-note", "a trace of naphtha, below the limit of the class", eu, thinner, both(naphtha(""), withRow(1, func(i *sheet.Ingredient) { i.Percent = percent(0.01, 0.05) }))),
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

// naphtha puts a hydrotreated naphtha in the place of the thinner's second ingredient, and words into section 11.
func naphtha(words string) func(*Case) {
	return func(c *Case) {
		*row(c, 1) = ingredient(c.RuleSet, "Naphtha (petroleum), hydrotreated heavy", "64742-48-9", 30, 35, ghs.AspTox1)
		if words != "" {
			c.Sheet.Sections[11].Text = append(c.Sheet.Sections[11].Text, line(11, words))
		}
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
		finds("first-aid-eyes", Gap, "burns of “la peau et des yeux” name no water", ghs.EUCLP, hardener, aid("Symptômes : brûlures de la peau et des yeux.")),
		passes("first-aid-eyes", "rinsed with water, in French", ghs.EUCLP, hardener, aid("Yeux : passer sous l'eau.")),
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
