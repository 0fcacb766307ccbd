package audit

import (
	"fmt"
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkFlashMissing() Check {
	return Check{
		ID: "flash-missing", Title: "No flash point for a product with flammable parts", Group: With9, Kinds: []Kind{Gap}, Harm: HarmDeath,
		Could:    "Nobody can judge at which temperature the vapour catches fire.",
		Compares: "Section 9 with the flammable liquids among the ingredients and in section 2.",
		Clauses:  contents("9(h)", "9.1 (from memory)", "item 9(g)", "section 9"),
		Example:  "Butan-1-ol at 20 % and “flash point: not determined”.",
		Do:       "Treat the product as the flash point of its most flammable ingredient.",
		Run: func(c *Case, e *Emit) {
			if !c.has(e, 9) || len(c.measured(sheet.FlashPoint)) > 0 || c.notLiquid() || flashNotApplicable(c) {
				return
			}
			why, ok := c.flammablePart()
			if !ok {
				return
			}
			e.Report(Fault{
				Kind: Gap, Hazard: ghs.FlamLiq3, Section: 9, Title: "The flash point is not stated",
				Says: []Side{silent(9, "a flash point")}, Follows: []Side{why}, Ask: ask("state", "@flash", "9"), Key: []string{"flash"},
			})
		},
	}
}

// flashNotApplicable tells whether the sheet says that the property does not apply, as for a liquid that boils first.
func flashNotApplicable(c *Case) bool {
	return slices.ContainsFunc(c.Sheet.Physical.Quantities[sheet.FlashPoint], func(f sheet.Fact[sheet.Quantity]) bool {
		return f.State == sheet.NotApplicable
	})
}

// flammablePart names a reason to expect a flash point: a declared category, or an ingredient at 5 % or more with a flash
// point of its own up to 60 °C.
func (c *Case) flammablePart() (Side, bool) {
	if d := c.flammableDeclared(); d != "none" {
		h := flammableHazard(d)
		return Side{Section: 2, Text: "Section 2 states " + h.String(), Evidence: c.declaredAt(h)}, true
	}
	for _, ing := range c.Sheet.Composition.Ingredients {
		row := c.known(ing.CAS.Value)
		if row == nil || !row.FlashPointC.Known || row.FlashPointC.V > 60 || lowest(ing.Percent.Value.Interval) < 5 {
			continue
		}
		return looked(fmt.Sprintf("%s, at least %s %%, has a flash point of %s °C", nameOf(ing), share(ing.Percent.Value.Lo), number(row.FlashPointC.V)), row.FlashPointC.Source), true
	}
	return Side{}, false
}
