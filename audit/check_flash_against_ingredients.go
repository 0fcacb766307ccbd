package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkFlashAgainstIngredients() Check {
	return Check{
		ID: "flash-against-ingredients", Title: "The flash point is far above that of a main ingredient", Group: Reference,
		Kinds: []Kind{Doubt}, Harm: HarmDeath,
		Could:    "A product taken for hardly flammable catches fire at room temperature.",
		Compares: "The flash point of section 9 with the flash points of ingredients that make up at least a fifth.",
		Clauses:  common("a fifth of a liquid with a flash point below 23 °C seldom leaves a blend above 60 °C; water and halogenated parts can"),
		Example:  "40 – 60 % ethyl acetate (flash point −4 °C) and a flash point of 95 °C.",
		Do:       "Ask for the test report of the flash point; until then treat the product as flammable.",
		Run: func(c *Case, e *Emit) {
			flash, ok := c.only(sheet.FlashPoint)
			if !ok || !allAbove(flash.Value.Interval, 60) {
				return
			}
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				if row == nil || !row.FlashPointC.Known || row.FlashPointC.V >= 23 || !allAtLeast(ing.Percent.Value.Interval, 20) {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Hazard: ghs.FlamLiq2, Section: 9, Title: "A flash point of " + printed(flash.Value) + " beside a fifth or more of " + nameOf(ing),
					Says:    []Side{says(9, "Flash point "+printed(flash.Value), flash), says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)},
					Follows: []Side{looked(fmt.Sprintf("%s has a flash point of %s °C", nameOf(ing), number(row.FlashPointC.V)), row.FlashPointC.Source)},
					Ask:     ask("clash", "3", nameOf(ing), "9", printed(flash.Value)), Key: []string{ing.CAS.Value, printed(flash.Value)},
				})
			}
		},
	}
}
