package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

// row gives one ingredient of section 3 to change.
func row(c *Case, i int) *sheet.Ingredient { return &c.Sheet.Composition.Ingredients[i] }

func withRow(i int, f func(*sheet.Ingredient)) func(*Case) { return func(c *Case) { f(row(c, i)) } }

func addRow(rs ghs.RuleSet, name, cas string, lo, hi float64, hazards ...ghs.Hazard) func(*Case) {
	return func(c *Case) {
		c.Sheet.Composition.Ingredients = append(c.Sheet.Composition.Ingredients, ingredient(rs, name, cas, lo, hi, hazards...))
	}
}

// mixture replaces section 3 and declares what is given in section 2.
func mixture(declared []ghs.Hazard, rows ...sheet.Ingredient) func(*Case) {
	return func(c *Case) {
		c.Sheet.Composition.Ingredients = rows
		declare(c.Sheet, c.RuleSet, declared...)
	}
}

func section3Trials() []trial {
	eu, us, ca := ghs.EUCLP, ghs.USHCS2024, ghs.CAHPR
	p := func(lo, hi float64) func(*sheet.Ingredient) {
		return func(i *sheet.Ingredient) { i.Percent = percent(lo, hi) }
	}
	secret := func(lo, hi float64) func(*Case) {
		return withRow(1, func(i *sheet.Ingredient) {
			i.CAS, i.Secret, i.Percent = sheet.Fact[string]{}, stated(3, true, "trade secret"), percent(lo, hi)
		})
	}
	list := func(hs ...ghs.Hazard) []ghs.Hazard { return hs }
	return []trial{
		finds("cas-check-digit", Contradiction, "108-88-5", eu, resin, withRow(1, func(i *sheet.Ingredient) { i.CAS = text(3, "108-88-5") })),
		passes("cas-check-digit", "a number that was repaired on reading", eu, resin, withRow(1, func(i *sheet.Ingredient) { i.CASRepaired = "68609-97-3" })),
		finds("sum-over-100", Contradiction, "75 and 30 % at least", eu, resin, withRow(1, p(30, 40))),
		passes("sum-over-100", "upper ends above 100 % are ranges, no fault", eu, resin, withRow(1, p(20, 60))),
		finds("percent-missing", Gap, "no share", us, resin, withRow(1, func(i *sheet.Ingredient) { i.Percent = sheet.Fact[sheet.Quantity]{} })),
		passes("percent-missing", "an upper end alone is a share", us, resin, withRow(1, func(i *sheet.Ingredient) {
			i.Percent = quantity(3, sheet.Interval{Hi: 25, HasHi: true, HiOpen: true}, "%", "< 25 %")
		})),
		finds("range-wide", Gap, "10 – 60 %", eu, resin, withRow(1, p(10, 60))),
		passes("range-wide", "20 – 60 %", eu, resin, withRow(1, p(20, 60))),
		finds("secret-range", Gap, "5 – 40 % as a trade secret", us, resin, secret(5, 40)),
		finds("secret-range", Gap, "Canada has the same ranges", ca, resin, secret(5, 40)),
		passes("secret-range", "10 – 30 %", us, resin, secret(10, 30)),
		passes("secret-range", "two neighbouring ranges joined: 1 – 7 %", us, resin, secret(1, 7)),
		passes("secret-range", "a share that is no secret", us, resin, withRow(1, p(5, 40))),
		finds("identity-missing", Gap, "a proprietary blend without a claim", us, resin, withRow(1, func(i *sheet.Ingredient) { i.CAS, i.REACH = sheet.Fact[string]{}, sheet.Fact[string]{} })),
		passes("identity-missing", "claimed as a trade secret", us, resin, secret(10, 30)),
		finds("secret-class-missing", Gap, "a secret without a hazard", us, resin, both(secret(10, 30), withRow(1, func(i *sheet.Ingredient) { i.Hazards = nil }))),
		passes("secret-class-missing", "a polymer need not be classified", us, resin, both(secret(10, 30), withRow(1, func(i *sheet.Ingredient) { i.Hazards, i.Name = nil, text(3, "alkyd resin, polymer") }))),
		passes("secret-class-missing", "a secret with its hazards", us, resin, secret(10, 30)),
		finds("ingredient-twice", Doubt, "one number twice", eu, resin, withRow(1, func(i *sheet.Ingredient) { i.CAS = text(3, "25068-38-6") })),
		passes("ingredient-twice", "two numbers", eu, resin, nil),
		finds("ingredient-class-missing", Gap, "an EU row without a class", eu, resin, withRow(1, func(i *sheet.Ingredient) { i.Hazards = nil })),
		passes("ingredient-class-missing", "codes instead of classes", eu, resin, withRow(1, func(i *sheet.Ingredient) {
			i.Hazards = nil
			i.Statements = []sheet.Fact[sheet.Statement]{stated(3, sheet.Statement{Code: "H315"}, "H315"), stated(3, sheet.Statement{Code: "H317"}, "H317")}
		})),
		finds("ingredient-code", Contradiction, "Skin Sens. 1 beside H315", eu, resin, withRow(1, func(i *sheet.Ingredient) { i.Hazards[1].Value.Code = "H315" })),
		passes("ingredient-code", "Skin Sens. 1 beside H317", eu, resin, nil),
		finds("m-factor-missing", Note, "Aquatic Acute 1 without a factor", eu, resin, withRow(1, func(i *sheet.Ingredient) {
			i.Hazards = append(i.Hazards, stated(3, sheet.ClassStatement{Hazard: ghs.AquaticAcute1}, "Aquatic Acute 1"))
		})),
		finds("m-factor-missing", Gap, "a biocide whose factor is above 1", eu, resin, addRow(eu, "CMIT/MIT (3:1)", "55965-84-9", 0.001, 0.001, ghs.AquaticAcute1)),
		passes("m-factor-missing", "with a factor", eu, resin, withRow(1, func(i *sheet.Ingredient) {
			i.Hazards = append(i.Hazards, stated(3, sheet.ClassStatement{Hazard: ghs.AquaticAcute1}, "Aquatic Acute 1"))
			i.MAcute = stated(3, 1.0, "M = 1")
		})),
		finds("ingredient-class-missing", Note, "an EU row of which nothing is known", eu, resin, addRow(eu, "Invented polymer", "10000-00-9", 0.1, 0.5)),
		finds("composition-missing", Gap, "classified, and nothing named", us, resin, func(c *Case) { c.Sheet.Composition.Ingredients = nil }),
		finds("composition-missing", Gap, "section 3 holds a sentence without any number, so nothing was overlooked", us, resin, func(c *Case) {
			c.Sheet.Composition.Ingredients = nil
			c.Sheet.Sections[3].Text = append(c.Sheet.Sections[3].Text, line(3, "3.2 Mixtures. For the full text see section 16."))
			c.Sheet.Problems = []sheet.ReadProblem{{Section: 3, What: "no ingredient was found"}}
		}),
		passes("composition-missing", "numbers in section 3 may be ingredients that were not read", us, resin, func(c *Case) {
			c.Sheet.Composition.Ingredients = nil
			c.Sheet.Sections[3].Text = append(c.Sheet.Sections[3].Text, line(3, "Epoxy resin 25068-38-6 75 – 80"))
			c.Sheet.Problems = []sheet.ReadProblem{{Section: 3, What: "no ingredient was found"}}
		}),
		passes("composition-missing", "not classified, and nothing named", us, resin, func(c *Case) {
			c.Sheet.Composition.Ingredients = nil
			c.Sheet.Hazards = sheet.Hazards{Classified: sheet.NoneStated}
		}),

		finds("sensitiser-hidden", Contradiction, "70 % of a sensitiser by the sheet's own word, irritant label", eu, resin, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.AquaticChronic2)),
		finds("sensitiser-hidden", Contradiction, "US: 0.1 % of a sensitiser is enough", us, resin, mixture(list(),
			ingredient(us, "Bisphenol A epoxy resin", "25068-38-6", 0.2, 0.5, ghs.SkinSens1), ingredient(us, "Water", "7732-18-5", 99, 99.8))),
		passes("sensitiser-hidden", "EU: 0.2 % of category 1 does not classify", eu, resin, mixture(list(),
			ingredient(eu, "Bisphenol A epoxy resin", "25068-38-6", 0.2, 0.5, ghs.SkinSens1), ingredient(eu, "Water", "7732-18-5", 99, 99.8))),
		finds("sensitiser-hidden", Doubt, "EU: 0.5 – 2 % may or may not", eu, resin, mixture(list(),
			ingredient(eu, "Bisphenol A epoxy resin", "25068-38-6", 0.5, 2, ghs.SkinSens1), ingredient(eu, "Water", "7732-18-5", 98, 99.5))),
		passes("sensitiser-hidden", "declared as 1A where the rules give 1", eu, resin, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1A, ghs.AquaticChronic2)),
		finds("corrosive-hidden", Contradiction, "60 % of a corrosive amine under an irritant label", eu, hardener, instead(ghs.AcuteTox4Oral, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic3)),
		finds("corrosive-hidden", Doubt, "3 – 6 % of it may or may not be", eu, resin, mixture(list(ghs.SkinIrrit2, ghs.EyeDam1, ghs.SkinSens1),
			ingredient(eu, "IPDA", "2855-13-2", 3, 6, ghs.AcuteTox4Oral, ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1A), ingredient(eu, "Water", "7732-18-5", 94, 97))),
		passes("corrosive-hidden", "burns include eye damage", eu, hardener, instead(ghs.AcuteTox4Oral, ghs.SkinCorr1B, ghs.SkinSens1, ghs.AquaticChronic3)),
		finds("chronic-hidden", Contradiction, "organ damage by repeated exposure of a main solvent", eu, thinner, instead(ghs.FlamLiq3, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.AspTox1, ghs.AquaticChronic3)),
		finds("chronic-hidden", Contradiction, "0.5 % of a carcinogen of category 1B", us, resin, addRow(us, "Invented carcinogen", "10000-00-9", 0.5, 0.5, ghs.Carc1B)),
		passes("chronic-hidden", "0.05 % of it", us, resin, addRow(us, "Invented carcinogen", "10000-00-9", 0.05, 0.05, ghs.Carc1B)),
		finds("acute-hidden", Contradiction, "harmful if swallowed by calculation", eu, hardener, instead(ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1, ghs.AquaticChronic3)),
		passes("acute-hidden", "a stricter class than calculated", eu, hardener, instead(ghs.AcuteTox3Oral, ghs.SkinCorr1B, ghs.EyeDam1, ghs.SkinSens1, ghs.AquaticChronic3)),
		finds("class-missing", Contradiction, "no H315 for a blend of irritants", eu, resin, instead(ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2)),
		passes("class-missing", "aquatic classes are not asked for in the United States", us, resin, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1)),
		finds("class-missing", Gap, "a sheet that classifies nothing, neither yes nor no", us, thinner, func(c *Case) {
			c.Sheet.Hazards = sheet.Hazards{}
			c.Sheet.Composition.Ingredients = c.Sheet.Composition.Ingredients[:1]
		}),
		finds("class-unfounded", Note, "a respiratory sensitiser that section 3 does not name", eu, resin, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.RespSens1, ghs.AquaticChronic2)),
		finds("class-unfounded", Doubt, "the same where nothing is undisclosed", eu, resin, func(c *Case) {
			instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.RespSens1, ghs.AquaticChronic2)(c)
			row(c, 0).Percent, row(c, 1).Percent = percent(80, 80), percent(20, 20)
		}),
		passes("class-unfounded", "1A declared, 1 derived", eu, resin, instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1A, ghs.AquaticChronic2)),
		finds("declaration-impossible", Doubt, "Repr. 2 needs 3 % of what from 3 % on is Eye Dam. 1 and not Eye Irrit. 2", eu, resin, mixture(list(ghs.EyeIrrit2, ghs.Repr2),
			ingredient(eu, "Invented amine", "10000-01-0", 1, 5, ghs.EyeDam1, ghs.Repr2), ingredient(eu, "Water", "7732-18-5", 95, 99))),
		passes("declaration-impossible", "a composition exists", eu, resin, nil),
		finds("supplement-missing", Contradiction, "EU: 0.2 – 0.5 % of a sensitiser asks for EUH208", eu, resin, mixture(list(),
			ingredient(eu, "Invented sensitiser", "10000-00-9", 0.2, 0.5, ghs.SkinSens1), ingredient(eu, "Water", "7732-18-5", 99, 99.8))),
		finds("supplement-missing", Doubt, "a liquid epoxy resin without EUH205", eu, resin, func(c *Case) { dropCode(&c.Sheet.Hazards, "EUH205") }),
		passes("supplement-missing", "EUH205 is there", eu, resin, nil),
		passes("supplement-missing", "nothing of the kind in the United States", us, resin, mixture(list(),
			ingredient(us, "Bisphenol A epoxy resin", "25068-38-6", 0.01, 0.05, ghs.SkinSens1), ingredient(us, "Water", "7732-18-5", 99, 99.99))),
		finds("unknown-toxicity", Gap, "5 % of something nobody knows", us, resin, addRow(us, "Invented oligomer", "10000-00-9", 2, 5)),
		passes("unknown-toxicity", "the sentence is there", us, resin, func(c *Case) {
			addRow(us, "Invented oligomer", "10000-00-9", 2, 5)(c)
			c.Sheet.Hazards.UnknownToxicity = []sheet.Fact[sheet.UnknownShare]{stated(2, sheet.UnknownShare{Percent: 2}, "2 %")}
		}),
		passes("unknown-toxicity", "below 1 %", us, resin, addRow(us, "Invented oligomer", "10000-00-9", 0.2, 0.5)),
		finds("remainder", Note, "5 % undisclosed", eu, resin, nil),
		finds("remainder", Doubt, "most of the product undisclosed", eu, resin, withRow(0, p(10, 20))),
		passes("remainder", "everything disclosed", eu, resin, func(c *Case) { row(c, 0).Percent, row(c, 1).Percent = percent(80, 80), percent(20, 20) }),
	}
}
