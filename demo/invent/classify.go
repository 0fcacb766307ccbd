package invent

import (
	"slices"

	"sixteen/ghs"
	"sixteen/sheet"
)

// simple cut-offs.
func classesOf(b Blend, rules ghs.RuleSet, flash sheet.Interval) []ghs.Hazard {
	var out []ghs.Hazard
	sum := map[ghs.Hazard]float64{}
	for _, p := range b.Parts {
		for _, c := range p.Substance.ForRuleSet(rules).Use() {
			if c.Hazard == ghs.NoHazard || !rules.Exists(c.Hazard) {
				continue
			}
			sum[c.Hazard] += p.Share
		}
	}
	for _, h := range ghs.AllHazards() {
		limit := 10.0
		switch h.Class() {
		case ghs.FlammableLiquids, ghs.OrganicPeroxides:
			continue
		case ghs.SkinSensitisation, ghs.RespiratorySensitisation, ghs.Carcinogenicity, ghs.GermCellMutagenicity, ghs.ReproductiveToxicity:
			limit = 0.3
		case ghs.STOTSingleExposure, ghs.AcuteToxicity, ghs.AquaticAcute, ghs.AquaticChronic:
			limit = 20
		case ghs.SkinCorrosion, ghs.EyeDamage:
			limit = 5
		}
		if sum[h] >= limit && !slices.ContainsFunc(out, func(o ghs.Hazard) bool { return o.Severer(h) }) {
			out = append(out, h)
		}
	}
	if flash.HasLo && flash.HasHi {
		switch {
		case flash.Lo < 23:
			out = append([]ghs.Hazard{ghs.FlamLiq2}, out...)
		case flash.Lo <= 60:
			out = append([]ghs.Hazard{ghs.FlamLiq3}, out...)
		case flash.Lo <= 93 && rules.Exists(ghs.FlamLiq4):
			out = append([]ghs.Hazard{ghs.FlamLiq4}, out...)
		}
	}
	if b.recipe.peroxide == "D" {
		out = append([]ghs.Hazard{ghs.OrgPeroxD}, out...)
	}
	return out
}
