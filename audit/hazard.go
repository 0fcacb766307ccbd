package audit

import (
	"slices"

	"sixteen/ghs"
)

// HarmOf is how bad the harm of a hazard is for somebody who does not expect it. The order is our own judgement:
// common practice, not law.
func HarmOf(h ghs.Hazard) Harm {
	switch h.Class() {
	case ghs.AcuteToxicity:
		if base(h) <= "3" {
			return HarmDeath
		}
		return HarmPassing
	case ghs.GermCellMutagenicity, ghs.Carcinogenicity, ghs.ReproductiveToxicity, ghs.ReproductiveToxicityLactation,
		ghs.AspirationHazard:
		return HarmDeath
	case ghs.SkinCorrosion, ghs.EyeDamage:
		if base(h) == "1" {
			return HarmLasting
		}
		return HarmPassing
	case ghs.STOTSingleExposure:
		if base(h) == "3" {
			return HarmPassing
		}
		return HarmLasting
	}
	switch h.Class().Group() {
	case ghs.EnvironmentGroup:
		return HarmEnvironment
	case ghs.PhysicalGroup:
		if h == ghs.MetCorr1 {
			return HarmPaper
		}
		return HarmDeath
	}
	return HarmLasting
}

// CouldHappen says in one plain sentence what a hazard can do to whom.
func CouldHappen(h ghs.Hazard) string {
	switch h.Class() {
	case ghs.AcuteToxicity:
		return "Whoever " + map[ghs.Qualifier]string{ghs.Oral: "swallows it", ghs.Dermal: "gets it on the skin"}[h.Qualifier()] +
			map[bool]string{true: "breathes it in"}[inhaled(h)] + " can be poisoned" +
			map[bool]string{true: ", and can die of it."}[base(h) <= "3"] + map[bool]string{true: "."}[base(h) > "3"]
	case ghs.SkinCorrosion:
		if base(h) == "1" {
			return "Skin burns that leave scars, and an eye can be lost."
		}
		return "Sore, red skin that heals once contact ends."
	case ghs.EyeDamage:
		if base(h) == "1" {
			return "A splash can blind an eye for good."
		}
		return "Sore, red, watering eyes that heal."
	case ghs.RespiratorySensitisation:
		return "Asthma for life: once it has set in, traces in the air can bring an attack, and an attack can kill."
	case ghs.SkinSensitisation:
		return "A skin allergy for life: once it has set in, traces bring it back, and the trade may have to be given up."
	case ghs.GermCellMutagenicity:
		return "Damage to the genes that children inherit."
	case ghs.Carcinogenicity:
		return "Cancer, years later."
	case ghs.ReproductiveToxicity:
		return "Harm to fertility or to an unborn child."
	case ghs.ReproductiveToxicityLactation:
		return "Harm to a breast-fed child."
	case ghs.STOTSingleExposure:
		switch {
		case h == ghs.STOTSE3Narcotic:
			return "Dizziness and drowsiness, and accidents that come of them."
		case base(h) == "3":
			return "Sore throat, coughing, tight chest."
		}
		return "Damage to organs after a single exposure."
	case ghs.STOTRepeatedExposure:
		return "Damage to organs that builds up unnoticed over weeks and years."
	case ghs.AspirationHazard:
		return "A child or adult who swallows it can get it into the lungs and die; vomiting makes it worse."
	case ghs.FlammableLiquids:
		return "Vapour that catches fire from a spark, a heater or a switch."
	}
	switch h.Class().Group() {
	case ghs.EnvironmentGroup:
		return "Harm to water life when it is washed out, spilt or thrown away."
	case ghs.PhysicalGroup:
		return "Fire, explosion or violent reaction."
	}
	return ""
}

// inhaled tells whether a hazard is acute toxicity by breathing.
func inhaled(h ghs.Hazard) bool {
	q := h.Qualifier()
	return q == ghs.InhalationGas || q == ghs.InhalationVapour || q == ghs.InhalationDust
}

// base is the category without its letter: "1" of 1A, "2" of 2B, "A" of type A.
func base(h ghs.Hazard) string {
	c := h.Category()
	if len(c) == 2 && c[1] >= 'A' && c[1] <= 'C' && c[0] >= '0' && c[0] <= '9' {
		return c[:1]
	}
	return c
}

// kin tells whether two hazards answer the same question: one class and, where it has several, one route or effect. The
// three ways of breathing count as one route, because sheets often print "inhalation" alone.
func kin(a, b ghs.Hazard) bool {
	if a.Class() != b.Class() {
		return false
	}
	p, q := a.Qualifier(), b.Qualifier()
	return p == q || p == ghs.NoQualifier || q == ghs.NoQualifier || (inhaled(a) && inhaled(b))
}

// covers tells whether somebody who is told a is told at least as much as b says: the same question, and a category no
// milder. Letters of subcategories do not count, since a sheet may classify without them.
func covers(a, b ghs.Hazard) bool {
	if !kin(a, b) {
		return false
	}
	return a == b || base(a) <= base(b)
}

// coversAny tells whether a set covers one hazard. Skin corrosion covers serious eye damage, as H314 says so, and
// chronic aquatic hazard of category 1 covers the acute one.
func coversAny(set ghs.HazardSet, h ghs.Hazard) bool {
	return slices.ContainsFunc(set.All(), func(d ghs.Hazard) bool {
		switch {
		case covers(d, h):
			return true
		case d.Class() == ghs.SkinCorrosion && base(d) == "1" && h.Class() == ghs.EyeDamage:
			return true
		case d == ghs.AquaticChronic1 && h == ghs.AquaticAcute1:
			return true
		}
		return false
	})
}

// declares is what the sheet declares of the product: the classes of section 2, and the hazards that its H codes stand
// for. A code that stands for several categories counts as the mildest of them, except where the classes say more.
func (c *Case) declares() ghs.HazardSet {
	c.once.declared.Do(func() { c.declared = declaredBy(c) })
	return c.declared
}

func declaredBy(c *Case) ghs.HazardSet {
	var set ghs.HazardSet
	for _, f := range c.classesOf2() {
		set.Add(f.Value.Hazard)
	}
	for _, code := range c.codes() {
		for _, single := range split(code) {
			addCode(&set, single, c.RuleSet)
		}
	}
	return set
}

// codes lists the H codes that the sheet states for the product, each once, in reading order.
func (c *Case) codes() []ghs.Code {
	var out []ghs.Code
	for _, f := range c.Sheet.Hazards.Statements {
		if f.Known() && f.Value.Code != "" && !slices.Contains(out, f.Value.Code) {
			out = append(out, f.Value.Code)
		}
	}
	return out
}

// states tells whether the sheet states a code, alone or as part of a combined one.
func (c *Case) states(code ghs.Code) bool {
	return slices.ContainsFunc(c.codes(), func(have ghs.Code) bool { return slices.Contains(split(have), stem(code)) || have == code })
}

// split takes a combined code apart: H302+H332 is H302 and H332. Letters behind the number are dropped.
func split(code ghs.Code) []ghs.Code {
	var out []ghs.Code
	for _, p := range code.Parts() {
		out = append(out, stem(p))
	}
	return out
}

// stem is a code without the letters that tell an effect or route: H360FD is H360, H350i is H350.
func stem(code ghs.Code) ghs.Code { return code.Base() }
