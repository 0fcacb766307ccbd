package audit

import (
	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// flammableBounds are the flash points (°C) that bound the categories of flammable liquids: below Cat12 categories 1 and
// 2 (category 1 when boiling begins at or below Boil), up to Cat3 category 3, up to Cat4 category 4, where it exists.
// 29 CFR 1910.1200 App. B Table B.6.1 and HPR s. 7.6.1 (read); CLP Annex I Table 2.6.1, GHS Table 2.6.1 (from memory).
type flammableBounds struct{ Cat12, Cat3, Cat4, Boil float64 }

func (c *Case) flammableBounds() flammableBounds {
	return flammableBounds{Cat12: 23, Cat3: 60, Cat4: 93, Boil: 35}
}

// flammablePossible lists the categories of flammable liquid, "1" to "4" or "none", that the stated flash point and
// boiling point allow. It is false when no single flash point is stated. An open cup reads higher than a closed one, so
// that it bounds the flash point from above only.
func (c *Case) flammablePossible() ([]string, sheet.Fact[sheet.Quantity], bool) {
	flash, ok := c.only(sheet.FlashPoint)
	if !ok {
		return nil, flash, false
	}
	v := flash.Value.Interval
	if flash.Value.Cup == "open" {
		v.HasLo = false
	}
	b := c.flammableBounds()
	var out []string
	if !allAtLeast(v, b.Cat12) {
		out = append(out, c.firstCategories(b)...)
	}
	if !allBelow(v, b.Cat12) && !allAbove(v, b.Cat3) {
		out = append(out, "3")
	}
	if !allAtMost(v, b.Cat3) {
		switch {
		case !c.RuleSet.Exists(ghs.FlamLiq4):
			out = append(out, "none")
		case allAbove(v, b.Cat4):
			out = append(out, "none")
		case allAtMost(v, b.Cat4):
			out = append(out, "4")
		default:
			out = append(out, "4", "none")
		}
	}
	return out, flash, true
}

// firstCategories tells category 1 from 2 by the boiling point, where one is stated.
func (c *Case) firstCategories(b flammableBounds) []string {
	boil, ok := c.only(sheet.BoilingPoint)
	switch {
	case ok && allAbove(boil.Value.Interval, b.Boil):
		return []string{"2"}
	case ok && allAtMost(boil.Value.Interval, b.Boil):
		return []string{"1"}
	}
	return []string{"1", "2"}
}

// flammableDeclared is the category of flammable liquid that the sheet declares, or "none".
func (c *Case) flammableDeclared() string {
	for _, h := range c.declares().All() {
		if h.Class() == ghs.FlammableLiquids {
			return h.Category()
		}
	}
	return "none"
}

func flammableHazard(category string) ghs.Hazard {
	return map[string]ghs.Hazard{"1": ghs.FlamLiq1, "2": ghs.FlamLiq2, "3": ghs.FlamLiq3, "4": ghs.FlamLiq4}[category]
}

// notLiquid tells whether section 9 says that the product is something the flammable liquid classes do not cover.
func (c *Case) notLiquid() bool {
	switch c.Mixture().Form {
	case classify.Aerosol, classify.Gas, classify.Solid, classify.Powder:
		return true
	}
	for _, h := range c.declares().All() {
		if h.Class() == ghs.Aerosols || h.Class() == ghs.GasesUnderPressure || h.Class() == ghs.FlammableSolids {
			return true
		}
	}
	return false
}
