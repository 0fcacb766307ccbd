package audit

import (
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// judgeHealth contradicts a claim when the sheet declares a hazard that matches, supports nothing when the classification
// is unknown or the rules leave one possible, and is consistent otherwise.
func judgeHealth(match func(ghs.Hazard) bool) func(*Case) Judgement {
	return func(c *Case) Judgement {
		if h := c.worst(match); h != ghs.NoHazard {
			return Judgement{ClaimContradicted, []Side{{Section: 2, Text: h.Title(ghs.English) + ". " + CouldHappen(h), Evidence: c.declaredAt(h)}}}
		}
		if v := c.derived().strict; v.err == nil {
			for _, h := range gravestFirst(v.envelope) {
				if match(h) && !c.environmentUnasked(h) {
					a := v.envelope.Of(h)
					verdict := ClaimUnsupported
					if a.OrSeverer == classify.Certain {
						verdict = ClaimContradicted
					}
					return Judgement{verdict, append([]Side{follows(h.Title(ghs.English)+" is "+a.Verdict.String()+" within the shares of section 3", v.reasons(a.For, h)...)}, c.blame(h)...)}
				}
			}
		}
		if c.Sheet.Hazards.Classified == sheet.NotStated {
			return Judgement{ClaimUnsupported, []Side{silent(2, "a classification")}}
		}
		if v := c.derived().strict; v.err == nil && v.envelope.MaxRemainder >= 10 {
			return Judgement{ClaimUnsupported, []Side{{Section: 3, Text: "Up to " + share(v.envelope.MaxRemainder) + " % is not disclosed"}}}
		}
		return Judgement{ClaimConsistent, []Side{{Section: 2, Text: "Section 2: " + c.summary(), Evidence: c.Sheet.Hazards.ClassifiedAt}}}
	}
}

func anyHazard(h ghs.Hazard) bool { return true }

func anyHealth(h ghs.Hazard) bool { return h.Class().Group() == ghs.HealthGroup }

func environment(h ghs.Hazard) bool { return h.Class().Group() == ghs.EnvironmentGroup }

func sensitiser(h ghs.Hazard) bool {
	return h.Class() == ghs.SkinSensitisation || h.Class() == ghs.RespiratorySensitisation
}

func skinAndEyes(h ghs.Hazard) bool {
	return h.Class() == ghs.SkinCorrosion || h.Class() == ghs.EyeDamage || h.Class() == ghs.SkinSensitisation
}

func judgeCarcinogen(c *Case) Judgement {
	j := judgeHealth(func(h ghs.Hazard) bool { return h.Class() == ghs.Carcinogenicity })(c)
	if j.Verdict == ClaimContradicted {
		return j
	}
	for _, ing := range c.Sheet.Composition.Ingredients {
		if row := c.known(ing.CAS.Value); row != nil && cancerGroup(row.IARC) {
			s := looked(nameOf(ing)+" is listed by IARC in group "+row.IARC, row.IARCSource)
			s.Section, s.Evidence = 3, ing.Percent.Evidence
			return Judgement{ClaimContradicted, []Side{s}}
		}
	}
	return j
}

func judgeGloves(c *Case) Judgement {
	if h := c.skinHazard(); h != ghs.NoHazard {
		return Judgement{ClaimContradicted, []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, says(8, c.Sheet.Control.Hands.Value.Text, c.Sheet.Control.Hands)}}
	}
	if g := c.Sheet.Control.Hands; g.Known() && !deniesNeed(g.Value.Text) {
		return Judgement{ClaimContradicted, []Side{says(8, g.Value.Text, g)}}
	}
	return judgeHealth(skinAndEyes)(c)
}

func judgeRespirator(c *Case) Judgement {
	r := c.Sheet.Control.Respiratory
	if h := c.breathingHazard(); h != ghs.NoHazard {
		return Judgement{ClaimContradicted, []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, says(8, r.Value.Text, r)}}
	}
	if r.Known() && (len(r.Value.Filters) > 0 || r.Value.SuppliedAir) {
		return Judgement{ClaimContradicted, []Side{says(8, r.Value.Text, r)}}
	}
	if vs := c.vapours(1); len(vs) > 0 {
		return Judgement{ClaimUnsupported, []Side{vs[0].side()}}
	}
	return judgeHealth(func(h ghs.Hazard) bool {
		return h.Class() == ghs.RespiratorySensitisation || h.Class() == ghs.AcuteToxicity && inhaled(h)
	})(c)
}

func judgeVentilation(c *Case) Judgement {
	if e := c.Sheet.Control.Engineering; e.Known() && !deniesNeed(e.Value) {
		return Judgement{ClaimContradicted, []Side{says(8, e.Value, e)}}
	}
	if vs := c.vapours(1); len(vs) > 0 {
		return Judgement{ClaimContradicted, []Side{vs[0].side()}}
	}
	return Judgement{ClaimNeedsTest, []Side{silent(8, "ventilation")}}
}

func judgeNoVOC(c *Case) Judgement {
	if v, ok := c.only(sheet.VOC); ok && allAbove(v.Value.Interval, 1) {
		return Judgement{ClaimContradicted, []Side{says(9, "VOC "+printed(v.Value), v)}}
	}
	if vs := c.vapours(1); len(vs) > 0 {
		return Judgement{ClaimContradicted, []Side{vs[0].side()}}
	}
	if v, ok := c.only(sheet.VOC); ok {
		return Judgement{ClaimConsistent, []Side{says(9, "VOC "+printed(v.Value), v)}}
	}
	return Judgement{ClaimUnsupported, []Side{silent(9, "a VOC content")}}
}

func judgeLowVOC(c *Case) Judgement {
	if v, ok := c.only(sheet.VOC); ok {
		return Judgement{ClaimNeedsTest, []Side{says(9, "VOC "+printed(v.Value), v)}}
	}
	return Judgement{ClaimUnsupported, []Side{silent(9, "a VOC content")}}
}

func judgeFumes(c *Case) Judgement {
	if h := c.breathingHazard(); h != ghs.NoHazard {
		return Judgement{ClaimContradicted, []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}}}
	}
	if vs := c.vapours(1); len(vs) > 0 {
		return Judgement{ClaimContradicted, []Side{vs[0].side()}}
	}
	return Judgement{ClaimNeedsTest, []Side{follows("Heat of cure drives off what does not evaporate at room temperature; the sheet does not say how much")}}
}

func odourSides(c *Case) []Side {
	if o := c.Sheet.Physical.Odour; o.Known() {
		return []Side{says(9, "Odour: "+o.Value, o)}
	}
	return []Side{silent(9, "an odour")}
}

func judgeOdour(c *Case) Judgement {
	o := c.Sheet.Physical.Odour
	switch {
	case !o.Known():
		return Judgement{ClaimUnsupported, odourSides(c)}
	case hasAny(strings.ToLower(o.Value), "odourless", "odorless", "none", "no odo", "geruchlos", "inodore", "inodoro", "sin olor", "sans odeur"):
		return Judgement{ClaimConsistent, odourSides(c)}
	}
	return Judgement{ClaimContradicted, odourSides(c)}
}

func judgeSolids(c *Case) Judgement {
	if s, ok := c.only(sheet.SolidsContent); ok && allBelow(s.Value.Interval, 99) {
		return Judgement{ClaimContradicted, []Side{says(9, "Solids "+printed(s.Value), s)}}
	}
	if v, ok := c.only(sheet.VOC); ok && allAbove(v.Value.Interval, 20) {
		return Judgement{ClaimContradicted, []Side{says(9, "VOC "+printed(v.Value), v)}}
	}
	if vs := c.vapours(1); len(vs) > 0 {
		return Judgement{ClaimContradicted, []Side{vs[0].side()}}
	}
	if s, ok := c.only(sheet.SolidsContent); ok {
		return Judgement{ClaimConsistent, []Side{says(9, "Solids "+printed(s.Value), s)}}
	}
	return Judgement{ClaimNeedsTest, []Side{silent(9, "a solids content")}}
}

func judgeSolvent(c *Case) Judgement {
	for _, v := range c.vapours(1) {
		if strings.HasPrefix(v.row.Family, "solvent") {
			return Judgement{ClaimContradicted, []Side{v.side()}}
		}
	}
	for _, ing := range c.Sheet.Composition.Ingredients {
		if row := c.known(ing.CAS.Value); row != nil && strings.HasPrefix(row.Family, "solvent") {
			return Judgement{ClaimContradicted, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value)+", a solvent", ing.Percent)}}
		}
		if ing.CAS.Value == "100-51-6" {
			return Judgement{ClaimContradicted, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value)+": it does not react into the resin", ing.Percent)}}
		}
	}
	return freeUnlessHidden(c)
}

func judgeFlammable(c *Case) Judgement {
	for _, h := range c.declares().All() {
		switch h.Class() {
		case ghs.FlammableLiquids, ghs.FlammableSolids, ghs.FlammableGases, ghs.Aerosols, ghs.PyrophoricLiquids, ghs.PyrophoricSolids:
			return Judgement{ClaimContradicted, []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}}}
		}
	}
	flash, ok := c.only(sheet.FlashPoint)
	switch {
	case ok && allAtMost(flash.Value.Interval, 93):
		return Judgement{ClaimContradicted, []Side{says(9, "Flash point "+printed(flash.Value), flash)}}
	case ok && allAbove(flash.Value.Interval, 93):
		return Judgement{ClaimConsistent, []Side{says(9, "Flash point "+printed(flash.Value), flash)}}
	}
	return Judgement{ClaimUnsupported, []Side{silent(9, "a flash point that tells")}}
}

func judgeBisphenol(c *Case) Judgement {
	for _, ing := range c.Sheet.Composition.Ingredients {
		switch ing.CAS.Value {
		case "80-05-7":
			return Judgement{ClaimContradicted, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)}}
		case "1675-54-3", "25068-38-6", "25036-25-3", "25085-99-8":
			return Judgement{ClaimNeedsTest, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value)+", a resin made from bisphenol A", ing.Percent)}}
		}
	}
	return freeUnlessHidden(c)
}

// freeOf is a claim that something is not in the product: contradicted when an ingredient carries one of the words in its
// name or family, or one of the numbers as its own.
func freeOf(id, en, fr, de, es, what string, words ...string) Claim {
	return Claim{id, tongue{ghs.English: en, ghs.French: fr, ghs.German: de, ghs.Spanish: es}, "No " + what + " is in it.",
		"Every ingredient named, or a test with its limit of detection.", func(c *Case) Judgement {
			for _, ing := range c.Sheet.Composition.Ingredients {
				name := strings.ToLower(nameOf(ing))
				if row := c.known(ing.CAS.Value); row != nil {
					name += " " + strings.ToLower(row.Name+" "+row.Family)
				}
				if hasAny(name, words...) || slices.Contains(words, ing.CAS.Value) {
					return Judgement{ClaimContradicted, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)}}
				}
			}
			return freeUnlessHidden(c)
		}}
}

// freeUnlessHidden is the verdict on "not in it" when nothing listed is it: consistent when the listed ingredients leave
// little room, not supported otherwise.
func freeUnlessHidden(c *Case) Judgement {
	v := c.derived().strict
	if v.err != nil || v.envelope.MaxRemainder >= 10 {
		text := "section 3 does not list everything"
		if v.err == nil {
			text = "up to " + share(v.envelope.MaxRemainder) + " % is not disclosed"
		}
		return Judgement{ClaimUnsupported, []Side{{Section: 3, Text: "It is not listed, but " + text}}}
	}
	return Judgement{ClaimConsistent, []Side{{Section: 3, Text: "It is not among the listed ingredients"}}}
}

func judgeWater(c *Case) Judgement {
	for _, ing := range c.Sheet.Composition.Ingredients {
		if ing.CAS.Value == "7732-18-5" {
			return Judgement{ClaimConsistent, []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent)}}
		}
	}
	return Judgement{ClaimUnsupported, []Side{silent(3, "water")}}
}

func judgeFood(c *Case) Judgement {
	if u := c.Sheet.Identification.UsesAgainst; u.Known() && hasAny(strings.ToLower(u.Value), "food", "aliment", "lebensmittel") {
		return Judgement{ClaimContradicted, []Side{says(1, "Advised against: "+u.Value, u)}}
	}
	return Judgement{ClaimNeedsTest, []Side{follows("A sheet describes the uncured product; only a migration test of the cured one can show it")}}
}

func judgeBiodegradable(c *Case) Judgement {
	b := c.Sheet.Ecology.Biodegradability
	switch {
	case b.Known() && hasAny(strings.ToLower(b.Value), "not readily", "not biodegrad", "not easily", "persistent", "nicht leicht", "non facilement", "no fácilmente"):
		return Judgement{ClaimContradicted, []Side{says(12, b.Value, b)}}
	case b.Known() && hasAny(strings.ToLower(b.Value), "readily biodegrad"):
		return Judgement{ClaimConsistent, []Side{says(12, b.Value, b)}}
	}
	return Judgement{ClaimNeedsTest, []Side{silent(12, "a test of biodegradability")}}
}
