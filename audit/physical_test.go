package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func set(p sheet.Property, v sheet.Interval, unit, printed string) func(*Case) {
	return func(c *Case) {
		c.Sheet.Physical.Quantities[p] = []sheet.Fact[sheet.Quantity]{quantity(9, v, unit, printed)}
	}
}

func both(fs ...func(*Case)) func(*Case) {
	return func(c *Case) {
		for _, f := range fs {
			f(c)
		}
	}
}

func moreThan(x float64) sheet.Interval { return sheet.Interval{Lo: x, HasLo: true, LoOpen: true} }

func physicalTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	flash := func(v sheet.Interval, printed string) func(*Case) { return set(sheet.FlashPoint, v, "°C", printed) }
	noFlam := instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AspTox1, ghs.AquaticChronic3)
	noAsp := instead(ghs.FlamLiq3, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AquaticChronic3)
	viscosity := func(v sheet.Interval, printed string) func(*Case) {
		return func(c *Case) {
			forty := 40.0
			f := quantity(9, v, "mm2/s", printed)
			f.Value.AtC = &forty
			c.Sheet.Physical.Quantities[sheet.KinematicViscosity] = []sheet.Fact[sheet.Quantity]{f}
		}
	}
	return []trial{
		finds("flash-below-class", Contradiction, "25 °C and no flammable class", eu, thinner, noFlam),
		finds("flash-below-class", Contradiction, "12 °C and category 3", eu, thinner, flash(sheet.Exactly(12), "12 °C")),
		finds("flash-below-class", Doubt, "45 °C may be lifted by a test of sustained combustibility", eu, thinner, both(noFlam, flash(sheet.Exactly(45), "45 °C"))),
		finds("flash-below-class", Contradiction, "US: 70 °C is category 4", us, thinner, both(noFlam, flash(sheet.Exactly(70), "70 °C"))),
		passes("flash-below-class", "EU: 70 °C is no category", eu, thinner, both(noFlam, flash(sheet.Exactly(70), "70 °C"))),
		passes("flash-below-class", "“> 60 °C” may be above 93 °C", us, thinner, both(noFlam, flash(moreThan(60), "> 60 °C"))),
		passes("flash-below-class", "60 °C itself is category 3", eu, thinner, flash(sheet.Exactly(60), "60 °C")),
		finds("flash-below-class", Gap, "a sheet that classifies nothing, neither yes nor no", eu, thinner, func(c *Case) { c.Sheet.Hazards = sheet.Hazards{} }),
		finds("flash-above-class", Contradiction, "category 3 beside 65 °C", eu, thinner, flash(sheet.Exactly(65), "65 °C")),
		finds("flash-above-class", Contradiction, "category 2 beside 25 °C", eu, thinner, instead(ghs.FlamLiq2, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AspTox1, ghs.AquaticChronic3)),
		passes("flash-above-class", "23 °C is category 3", eu, thinner, flash(sheet.Exactly(23), "23 °C")),
		passes("flash-above-class", "an open cup reads higher", eu, thinner, func(c *Case) {
			flash(sheet.Exactly(65), "65 °C (open cup)")(c)
			c.Sheet.Physical.Quantities[sheet.FlashPoint][0].Value.Cup = "open"
		}),
		finds("flash-missing", Gap, "flammable, and no flash point", eu, thinner, func(c *Case) { delete(c.Sheet.Physical.Quantities, sheet.FlashPoint) }),
		passes("flash-missing", "nothing flammable in it", eu, resin, func(c *Case) { delete(c.Sheet.Physical.Quantities, sheet.FlashPoint) }),
		finds("ph-against-corrosive", Doubt, "pH 13 and an irritant", eu, resin, set(sheet.PH, sheet.Exactly(13), "", "13")),
		passes("ph-against-corrosive", "pH 11.8 and burns", eu, hardener, nil),
		passes("ph-against-corrosive", "pH 10 – 12 need not be extreme", eu, resin, set(sheet.PH, sheet.Between(10, 12), "", "10 – 12")),
		finds("aspiration-viscosity", Contradiction, "35 % of an aspiration hazard, thin as water, no H304", eu, thinner, noAsp),
		finds("aspiration-viscosity", Gap, "35 % of it and no viscosity", eu, thinner, both(noAsp, func(c *Case) { delete(c.Sheet.Physical.Quantities, sheet.KinematicViscosity) })),
		finds("aspiration-viscosity", Doubt, "US: section 3 prints no classes, the substance table knows the aspiration hazard", us, thinner, both(noAsp, func(c *Case) {
			c.Sheet.Composition.Ingredients[1].Hazards = nil
		})),
		passes("aspiration-viscosity", "8 % of an aspiration hazard is below the limit", eu, thinner, both(noAsp, func(c *Case) {
			c.Sheet.Composition.Ingredients[1].Percent = percent(5, 8)
		})),
		finds("aspiration-viscosity", Doubt, "H304 beside 50 mm²/s", eu, thinner, viscosity(sheet.Exactly(50), "50 mm²/s")),
		passes("aspiration-viscosity", "too thick to be drawn into the lungs", eu, thinner, both(noAsp, viscosity(moreThan(20.5), "> 20.5 mm²/s"))),
		finds("physical-order", Contradiction, "lower limit above the upper", eu, thinner, set(sheet.LowerFlammable, sheet.Exactly(9), "%", "9 %")),
		finds("physical-order", Contradiction, "flash point above auto-ignition", eu, thinner, set(sheet.AutoIgnition, sheet.Exactly(20), "°C", "20 °C")),
		finds("physical-order", Doubt, "it boils before its vapour can be lit", eu, thinner, set(sheet.BoilingPoint, sheet.Between(10, 20), "°C", "10 – 20 °C")),
		passes("physical-order", "overlapping ranges", eu, thinner, both(set(sheet.LowerFlammable, sheet.Between(1, 9), "%", "1 – 9 %"))),
	}
}
