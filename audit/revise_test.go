package audit

import (
	"slices"
	"testing"

	"sixteen/ghs"
	"sixteen/sheet"
)

func kitOf(other *sheet.Sheet) func(*Case) {
	return func(c *Case) {
		c.Kit = &Kit{Name: "Slipway Clear", Parts: []KitPart{{"A", c.Sheet, 75}, {"B", other, 25}}}
	}
}

func previously(change func(*sheet.Sheet)) func(*Case) {
	return func(c *Case) {
		old := resin(c.RuleSet)
		old.Identification.RevisionDate, old.Identification.Version = text(16, "2023-02-01"), text(16, "2.0")
		change(old)
		c.Previous = old
	}
}

func revisionTrials() []trial {
	eu, us := ghs.EUCLP, ghs.USHCS2024
	same := func(*sheet.Sheet) {}
	stamp := func(old *sheet.Sheet) {
		old.Identification.RevisionDate, old.Identification.Version = text(16, "2025-06-01"), text(16, "3.0")
	}
	return []trial{
		finds("revision-milder", Doubt, "asthma dropped, ingredients as before", eu, resin, previously(func(old *sheet.Sheet) {
			declare(old, eu, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.RespSens1, ghs.AquaticChronic2)
		})),
		passes("revision-milder", "the ingredient went with it", eu, resin, previously(func(old *sheet.Sheet) {
			declare(old, eu, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.SkinSens1, ghs.RespSens1, ghs.AquaticChronic2)
			old.Composition.Ingredients = append(old.Composition.Ingredients, ingredient(eu, "Invented anhydride", "10000-00-9", 1, 2, ghs.RespSens1))
		})),
		passes("revision-milder", "sterner than before", eu, resin, previously(func(old *sheet.Sheet) { declare(old, eu, ghs.SkinIrrit2) })),
		finds("revision-silent", Contradiction, "another share under the same date and version", eu, resin, previously(func(old *sheet.Sheet) {
			stamp(old)
			old.Composition.Ingredients[1].Percent = percent(10, 20)
		})),
		passes("revision-silent", "the same sheet", eu, resin, previously(stamp)),
		finds("revision-order", Note, "an older sheet than the one at hand", eu, resin, previously(func(old *sheet.Sheet) { old.Identification.RevisionDate = text(16, "2026-01-01") })),
		passes("revision-order", "a newer one", eu, resin, previously(same)),
		finds("kit-part-missing", Gap, "no sheet for the hardener", eu, resin, kitOf(nil)),
		passes("kit-part-missing", "both sheets", eu, resin, kitOf(hardener(eu))),
		trial{"kit-mixed", "the hardener burns and is harmful", eu, resin, kitOf(hardener(eu)), []Kind{Note}},
		passes("kit-mixed", "the hardener's own sheet says so", eu, hardener, func(c *Case) {
			c.Kit = &Kit{Name: "Slipway Clear", Parts: []KitPart{{"A", resin(eu), 75}, {"B", c.Sheet, 25}}}
		}),
		finds("kit-law", Gap, "resin under EU law, hardener under US law", eu, resin, kitOf(hardener(us))),
		passes("kit-law", "one law", eu, resin, kitOf(hardener(eu))),
	}
}

// A revision is compared in meaning: what is sterner, what is milder, and which papers are now wrong.
func TestReviseTellsTheMeaning(t *testing.T) {
	old, new := thinner(ghs.USHCS2024), thinner(ghs.USHCS2024)
	c := caseOf(new, ghs.USHCS2024)
	instead(ghs.FlamLiq2, ghs.SkinIrrit2, ghs.EyeIrrit2, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory, ghs.STOTRE2, ghs.AspTox1, ghs.Repr2)(c)
	set(sheet.FlashPoint, sheet.Exactly(14), "°C", "14 °C")(c)
	row(c, 1).Percent = percent(20, 25)
	new.Control.Limits[0].Value.Value = 50
	new.Control.Respiratory = stated(8, sheet.Respirator{Text: "AX", Filters: []string{"AX"}}, "AX")
	changes := Revise(old, new, ghs.USHCS2024)
	want := map[string]Direction{"classification": Sterner, "flash point": Sterner, "share of Xylene, mixed isomers": Milder, "exposure limit of n-Butyl acetate": Sterner, "breathing protection": Neutral}
	for what, d := range want {
		if !slices.ContainsFunc(changes, func(x Change) bool {
			return x.What == what && x.Direction == d && x.Means != "" && x.Was.Text != "" && x.Is.Text != ""
		}) {
			t.Errorf("%s (%s) is not told: %+v", what, d, changes)
		}
	}
	if !slices.IsSortedFunc(changes, func(a, b Change) int { return int(a.Harm) - int(b.Harm) }) {
		t.Error("not in order of harm")
	}
	if got := Revise(old, thinner(ghs.USHCS2024), ghs.USHCS2024); len(got) > 0 {
		t.Errorf("the same sheet differs from itself: %+v", got)
	}
}
