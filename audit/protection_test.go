package audit

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func protectionTrials() []trial {
	eu, us, gb := ghs.EUCLP, ghs.USHCS2024, ghs.GBCLP
	ctl := func(f func(*sheet.Control)) func(*Case) { return func(c *Case) { f(&c.Sheet.Control) } }
	respirator := func(text string, filters ...string) func(*Case) {
		return ctl(func(k *sheet.Control) {
			k.Respiratory = stated(8, sheet.Respirator{Text: text, Filters: filters}, text)
		})
	}
	acetone := func(rs ghs.RuleSet) func(*Case) {
		return func(c *Case) {
			addRow(rs, "Acetone", "67-64-1", 10, 15, ghs.FlamLiq2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic)(c)
			row(c, 0).Percent = percent(45, 50)
		}
	}
	return []trial{
		finds("limit-missing", Gap, "xylene without its OSHA limit", us, thinner, ctl(func(k *sheet.Control) {
			k.Limits = slices.DeleteFunc(k.Limits, func(f sheet.Fact[sheet.ExposureLimit]) bool { return f.Value.CAS == "1330-20-7" })
		})),
		finds("limit-missing", Contradiction, "“no limits”, with xylene and only xylene inside", us, thinner, both(ctl(func(k *sheet.Control) { k.Limits, k.LimitsState = nil, sheet.NoneStated }), func(c *Case) {
			c.Sheet.Composition.Ingredients = c.Sheet.Composition.Ingredients[1:]
		})),
		passes("limit-missing", "found by name", us, thinner, ctl(func(k *sheet.Control) {
			for i := range k.Limits {
				k.Limits[i].Value.CAS = ""
			}
		})),
		finds("limit-differs", Contradiction, "OSHA 500 ppm where the table prints 100", us, thinner, ctl(func(k *sheet.Control) {
			for i := range k.Limits {
				if k.Limits[i].Value.CAS == "1330-20-7" && k.Limits[i].Value.Kind == sheet.TWA {
					k.Limits[i].Value.Value = 500
				}
			}
		})),
		passes("limit-differs", "a peak beside the limit", us, thinner, ctl(func(k *sheet.Control) {
			peak := k.Limits[0]
			peak.Value.Value = 900
			k.Limits = append(k.Limits, peak)
		})),
		finds("limit-differs", Doubt, "an old sheet may give the limit of its day", us, thinner, func(c *Case) {
			c.Sheet.Identification.RevisionDate = text(16, "2014-01-01")
			for i := range c.Sheet.Control.Limits {
				if c.Sheet.Control.Limits[i].Value.CAS == "1330-20-7" && c.Sheet.Control.Limits[i].Value.Kind == sheet.TWA {
					c.Sheet.Control.Limits[i].Value.Value = 500
				}
			}
		}),
		passes("limit-differs", "a stricter figure than the law's", us, thinner, ctl(func(k *sheet.Control) {
			for i := range k.Limits {
				k.Limits[i].Value.Value = 20
			}
		})),
		finds("gloves-missing", Contradiction, "H317 and no gloves needed", eu, resin, ctl(func(k *sheet.Control) { k.Hands = sheet.Fact[sheet.Gloves]{State: sheet.NoneStated} })),
		finds("gloves-missing", Gap, "H317 and silence", eu, resin, ctl(func(k *sheet.Control) { k.Hands = sheet.Fact[sheet.Gloves]{} })),
		passes("gloves-missing", "“not needed if no contact” is a condition", eu, resin, ctl(func(k *sheet.Control) {
			k.Hands = stated(8, sheet.Gloves{Text: "Not required if contact is excluded; otherwise nitrile 0.4 mm, 480 min.", Materials: []string{"nitrile"},
				ThicknessMM: sheet.Exactly(0.4), BreakthroughMin: sheet.Exactly(480)}, "gloves")
		})),
		finds("gloves-vague", Gap, "suitable gloves", us, resin, ctl(func(k *sheet.Control) {
			k.Hands = stated(8, sheet.Gloves{Text: "Wear suitable gloves."}, "suitable gloves")
		})),
		finds("gloves-vague", Gap, "EU: nitrile without thickness and time", eu, resin, ctl(func(k *sheet.Control) {
			k.Hands = stated(8, sheet.Gloves{Text: "Nitrile gloves.", Materials: []string{"nitrile"}}, "nitrile")
		})),
		passes("gloves-vague", "US: the material is enough", us, resin, ctl(func(k *sheet.Control) {
			k.Hands = stated(8, sheet.Gloves{Text: "Nitrile gloves.", Materials: []string{"nitrile"}}, "nitrile")
		})),
		finds("eyes-missing", Gap, "open safety glasses against burns", eu, hardener, ctl(func(k *sheet.Control) { k.Eyes = text(8, "Safety glasses.") })),
		finds("eyes-missing", Contradiction, "eye protection not required", eu, hardener, ctl(func(k *sheet.Control) { k.Eyes = text(8, "Not required.") })),
		passes("eyes-missing", "safety glasses with side shields against passing irritation", eu, resin, ctl(func(k *sheet.Control) { k.Eyes = text(8, "Safety glasses.") })),
		finds("respirator-missing", Gap, "a suitable respirator", eu, thinner, respirator("Use a suitable respirator.")),
		finds("respirator-missing", Contradiction, "asthma, and nothing needed", eu, resin, both(instead(ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.RespSens1, ghs.AquaticChronic2), respirator("Not required."))),
		passes("respirator-missing", "filter A2", eu, thinner, respirator("Filter A2.", "A2")),
		finds("respirator-particle", Contradiction, "P2 against xylene", eu, thinner, respirator("Filter P2.", "P2")),
		passes("respirator-particle", "A2-P2", eu, thinner, respirator("Filter A2-P2.", "A2P2")),
		passes("respirator-particle", "P2 where nothing evaporates", eu, resin, respirator("Filter P2.", "P2")),
		finds("respirator-low-boiling", Contradiction, "A2 against acetone", eu, thinner, both(acetone(eu), respirator("Filter A2.", "A2"))),
		passes("respirator-low-boiling", "AX against acetone", eu, thinner, both(acetone(eu), respirator("Filter AX.", "AX"))),
		passes("respirator-low-boiling", "A2 against xylene", gb, thinner, respirator("Filter A2.", "A2")),
		finds("ventilation-missing", Gap, "solvent, and no word on air", eu, thinner, ctl(func(k *sheet.Control) { k.Engineering = sheet.Fact[string]{} })),
		passes("ventilation-missing", "section 7 asks for it", eu, thinner, both(ctl(func(k *sheet.Control) { k.Engineering = sheet.Fact[string]{} }), func(c *Case) {
			c.Sheet.Sections[7].Text = []sheet.Line{line(7, "Use only with good ventilation.")}
		})),
	}
}
