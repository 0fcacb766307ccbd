package audit

import (
	"sixteen/ghs"
	"sixteen/sheet"
)

func transportTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	to := func(t sheet.Transport) func(*Case) {
		return func(c *Case) { c.Sheet.Transport = []sheet.Fact[sheet.Transport]{stated(14, t, "transport")} }
	}
	none := func(c *Case) { // as package read gives “not regulated”
		c.Sheet.Transport = []sheet.Fact[sheet.Transport]{{State: sheet.NoneStated, Evidence: at(14, "Not regulated")}}
	}
	return []trial{
		finds("transport-flash", Contradiction, "12 °C and not regulated", eu, thinner, both(none, set(sheet.FlashPoint, sheet.Exactly(12), "°C", "12 °C"))),
		finds("transport-flash", Doubt, "25 °C: viscous liquids can be outside", eu, thinner, none),
		finds("transport-flash", Contradiction, "12 °C and “UN number: not applicable”", eu, thinner, both(func(c *Case) {
			c.Sheet.Transport = []sheet.Fact[sheet.Transport]{{State: sheet.NotApplicable, Evidence: at(14, "UN number: not applicable")}}
		}, set(sheet.FlashPoint, sheet.Exactly(12), "°C", "12 °C"))),
		passes("transport-flash", "no data on transport denies nothing", eu, thinner, func(c *Case) {
			c.Sheet.Transport = []sheet.Fact[sheet.Transport]{{State: sheet.NoData, Evidence: at(14, "no data available")}}
		}),
		passes("transport-flash", "class 3 by road, and a sentence that denies for no mode in particular", eu, thinner, func(c *Case) {
			c.Sheet.Transport = append(c.Sheet.Transport, sheet.Fact[sheet.Transport]{State: sheet.NoneStated, Evidence: at(14, "not subject to the code below 5 l")})
		}),
		passes("transport-flash", "class 8 with subsidiary 3", eu, thinner, to(sheet.Transport{Regulated: true, Class: "8", Subsidiary: []string{"3"}, PackingGroup: "II"})),
		passes("transport-flash", "“> 150 °C” and not regulated", us, resin, none),
		finds("transport-class3", Doubt, "class 3 and no flash point to judge by", eu, resin, both(to(sheet.Transport{Regulated: true, UN: "1866", Class: "3", PackingGroup: "III"}), func(c *Case) { delete(c.Sheet.Physical.Quantities, sheet.FlashPoint) })),
		passes("transport-class3", "class 3 and Flam. Liq. 3", eu, thinner, nil),
		finds("transport-corrosive", Doubt, "burns, not regulated", eu, hardener, none),
		passes("transport-corrosive", "class 8", eu, hardener, nil),
		passes("transport-corrosive", "organic peroxides have a class of their own", eu, hardener, to(sheet.Transport{Regulated: true, UN: "3105", Class: "5.2"})),
		finds("transport-class8", Doubt, "class 8 and an irritant", eu, resin, to(sheet.Transport{Regulated: true, UN: "1760", Class: "8", PackingGroup: "III", MarinePollutant: sheet.Stated})),
		passes("transport-class8", "corrosive to metal only", eu, resin, both(instead(ghs.MetCorr1, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.AquaticChronic2), to(sheet.Transport{Regulated: true, UN: "1760", Class: "8", PackingGroup: "III", MarinePollutant: sheet.Stated}))),
		finds("transport-packing-group", Doubt, "Skin Corr. 1B and packing group III", eu, hardener, to(sheet.Transport{Regulated: true, UN: "2735", Class: "8", PackingGroup: "III"})),
		finds("transport-packing-group", Doubt, "a thin liquid of group II may not go as III", eu, thinner, both(instead(ghs.FlamLiq2), to(sheet.Transport{Regulated: true, UN: "1263", Class: "3", PackingGroup: "III"}))),
		passes("transport-packing-group", "viscous liquids of group II may go as III", eu, thinner, both(instead(ghs.FlamLiq2), func(c *Case) { delete(c.Sheet.Physical.Quantities, sheet.KinematicViscosity) }, to(sheet.Transport{Regulated: true, UN: "1263", Class: "3", PackingGroup: "III"}))),
		finds("transport-environment", Doubt, "H411 and no environmental hazard", eu, resin, none),
		passes("transport-environment", "Chronic 3 is not marked", eu, thinner, nil),
	}
}
