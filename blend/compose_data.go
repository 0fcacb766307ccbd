package blend

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func (c *composer) physical() {
	c.sub("9.1")
	p := &c.out.Facts.Physical
	c.state(p)
	c.look("colour", c.r.Appearance.Colour, &p.Colour)
	c.look("odour", c.r.Appearance.Odour, &p.Odour)
	for _, f := range []string{"odour_threshold", "melting_point", "boiling_point"} {
		c.property(f)
	}
	c.fill("flammability", c.w.say("flammability"), c.w.say("flammability.class"), common("the class stands in section 2"))
	c.explosive()
	for _, f := range []string{"flash_point", "auto_ignition", "decomposition", "ph"} {
		c.property(f)
	}
	c.viscosity()
	for _, f := range []string{"solubility", "log_kow", "vapour_pressure", "evaporation_rate", "density", "vapour_density"} {
		c.property(f)
	}
	c.particles()
	if european(c.m.RuleSet) {
		c.sub("9.2")
		c.fill("physical_classes", c.w.say("physicalclasses"), c.physicalClasses(), Why{Rule: "the physical classes declared in section 2"})
	}
	c.extra()
}

func (c *composer) state(p *sheet.Physical) {
	if s := c.r.Appearance.State; s != "" {
		c.say("state", c.w.say("state"), c.w.say("state."+s), Why{Fact: "the recipe"})
		p.State = stated(s)
		return
	}
	c.fill("state", c.w.say("state"), "")
}

func (c *composer) look(field string, words Words, fact *sheet.Fact[string]) {
	if len(words) == 0 {
		c.fill(field, c.w.say(field), "")
		return
	}
	text := c.words(field, c.w.say(field), words)
	c.say(field, c.w.say(field), text, Why{Fact: "the recipe"})
	*fact = stated(text)
}

// keys are the properties of package sheet behind the fields whose names differ.
var keys = map[string]sheet.Property{"solubility": sheet.WaterSolubility}

// property prints a measured property, or what the author says of it, or asks. Fields that the rule set does not want are
// printed only when there is a value.
func (c *composer) property(field string) {
	key := sheet.Property(field)
	if k, ok := keys[field]; ok {
		key = k
	}
	m, measured := c.r.Measured[key]
	if measured {
		c.measured(field, c.w.say(field), key, m)
		return
	}
	if _, wanted := required(c.m.RuleSet, field); !wanted {
		return
	}
	if field == "flash_point" && c.r.Tested.NoFlash {
		c.say(field, c.w.say(field), c.w.say("none"), Why{Fact: "a test found no flash point up to boiling"})
		c.quantity(key, sheet.Fact[sheet.Quantity]{State: sheet.NoneStated})
		return
	}
	state, said := c.author(field, c.w.say(field))
	if !said {
		c.open(field, c.w.say(field))
		return
	}
	if (state == sheet.NoData || state == sheet.NotApplicable) && slices.Contains(sheet.Properties(), key) {
		c.quantity(key, sheet.Fact[sheet.Quantity]{State: state})
	}
}

// unmeasured prints what the author says of a property without a value, or asks for it.
func (c *composer) unmeasured(field, label string, keys ...sheet.Property) {
	state, said := c.author(field, label)
	switch {
	case !said:
		c.open(field, label)
	case state == sheet.NoData || state == sheet.NotApplicable:
		for _, k := range keys {
			c.quantity(k, sheet.Fact[sheet.Quantity]{State: state})
		}
	}
}

func (c *composer) quantity(key sheet.Property, f sheet.Fact[sheet.Quantity]) {
	p := &c.out.Facts.Physical
	if p.Quantities == nil {
		p.Quantities = map[sheet.Property][]sheet.Fact[sheet.Quantity]{}
	}
	p.Quantities[key] = append(p.Quantities[key], f)
}

// units as printed.
var units = map[sheet.Property]string{
	sheet.FlashPoint: "°C", sheet.BoilingPoint: "°C", sheet.MeltingPoint: "°C", sheet.AutoIgnition: "°C", sheet.Decomposition: "°C",
	sheet.LowerFlammable: "% vol", sheet.UpperFlammable: "% vol", sheet.VapourPressure: "Pa", sheet.Density: "kg/m³", sheet.KinematicViscosity: "mm²/s",
	sheet.DynamicViscosity: "mPa·s", sheet.VOC: "g/l", sheet.WaterSolubility: "g/l", sheet.SolidsContent: "%",
}

func (c *composer) measured(field, label string, key sheet.Property, m Measured) {
	v, _ := parseInterval(string(m.Value))
	text := strings.TrimSpace(c.w.interval(v) + " " + units[key])
	if m.AtC != nil {
		text += " (" + c.w.number(*m.AtC) + " °C)"
	}
	if m.Cup != "" {
		text += ", " + c.w.say(m.Cup+"cup")
	}
	if m.Method != "" {
		text += ", " + m.Method
	}
	c.say(field, label, text, Why{Fact: "measured on the product" + cmp.Or(map[bool]string{true: " by " + m.Method}[m.Method != ""], ", method not stated")})
	c.quantity(key, stated(sheet.Quantity{Interval: v, Unit: key.Unit(), Printed: text, Method: m.Method, Cup: m.Cup, AtC: m.AtC}))
}

// interval writes a number or range: "27", "> 93", "120 - 128".
func (d dictionary) interval(v sheet.Interval) string {
	if s, ok := v.Single(); ok {
		return d.number(s)
	}
	switch {
	case v.HasLo && v.HasHi:
		return d.number(v.Lo) + " - " + d.number(v.Hi)
	case v.HasLo && v.LoOpen:
		return "> " + d.number(v.Lo)
	case v.HasLo:
		return "≥ " + d.number(v.Lo)
	case v.HiOpen:
		return "< " + d.number(v.Hi)
	}
	return "≤ " + d.number(v.Hi)
}

func (c *composer) explosive() {
	label := c.w.say("explosive_limits")
	lo, ok1 := c.r.Measured[sheet.LowerFlammable]
	hi, ok2 := c.r.Measured[sheet.UpperFlammable]
	if !ok1 && !ok2 {
		c.unmeasured("explosive_limits", label, sheet.LowerFlammable, sheet.UpperFlammable)
		return
	}
	var parts []string
	for _, e := range []struct {
		ok   bool
		m    Measured
		word string
		key  sheet.Property
	}{{ok1, lo, "lower", sheet.LowerFlammable}, {ok2, hi, "upper", sheet.UpperFlammable}} {
		if e.ok {
			v, _ := parseInterval(string(e.m.Value))
			parts = append(parts, c.w.say(e.word)+" "+c.w.interval(v)+" % vol")
			c.quantity(e.key, stated(sheet.Quantity{Interval: v, Unit: "%"}))
		}
	}
	c.say("explosive_limits", c.w.say("limits_flammable"), strings.Join(parts, ", "), Why{Fact: "measured on the product"})
}

// viscosity prints kinematic viscosity, and dynamic viscosity where only that was measured.
func (c *composer) viscosity() {
	if m, ok := c.r.Measured[sheet.KinematicViscosity]; ok {
		at := 40.0
		if m.AtC == nil {
			m.AtC = &at
		}
		c.measured("kinematic_viscosity", c.w.say("kinematic_viscosity.bare"), sheet.KinematicViscosity, m)
	} else {
		c.unmeasured("kinematic_viscosity", c.w.say("kinematic_viscosity.bare"), sheet.KinematicViscosity)
	}
	if m, ok := c.r.Measured[sheet.DynamicViscosity]; ok {
		c.measured("", c.w.say("dynamic_viscosity"), sheet.DynamicViscosity, m)
	}
}

func (c *composer) particles() {
	if _, wanted := required(c.m.RuleSet, "particles"); !wanted {
		return
	}
	label := c.w.say("particles")
	if len(c.r.Appearance.Particles) > 0 {
		c.say("particles", label, c.words("particles", label, c.r.Appearance.Particles), Why{Fact: "the recipe"})
		return
	}
	text := ""
	if s := c.r.Appearance.State; s == "liquid" || s == "paste" {
		text = c.w.say("particles.liquid")
	}
	c.fill("particles", label, text, Why{Rule: "particle characteristics apply to solids only"})
}

func (c *composer) physicalClasses() string {
	var out []string
	for _, h := range c.m.Declared.All() {
		if h.Class().Group() == ghs.PhysicalGroup {
			out = append(out, className(h, c.w))
		}
	}
	return cmp.Or(strings.Join(out, "; "), c.w.say("none"))
}

// extra prints what else was measured: VOC and solids content.
func (c *composer) extra() {
	for _, e := range []struct {
		key  sheet.Property
		word string
	}{{sheet.VOC, "voc"}, {sheet.SolidsContent, "solids_content"}} {
		if m, ok := c.r.Measured[e.key]; ok {
			c.measured("", c.w.say(e.word), e.key, m)
		}
	}
	if european(c.m.RuleSet) {
		c.fill("other_safety", c.w.say("othersafety"), "")
	}
}

func (c *composer) stability() {
	label := func(ref string) string {
		h, _ := headingOf(ref, c.m.RuleSet)
		return h.titles[c.w.lang]
	}
	families := common("the reactions of the ingredients' families")
	c.fill("reactivity", label("10.1"), c.reactivity(), families)
	c.fill("stability", label("10.2"), "")
	c.fill("reactions", label("10.3"), c.reactions(), families)
	avoid := c.w.say("avoid.heat")
	if c.flammable() || c.declared(ghs.OrganicPeroxides) {
		avoid = c.w.say("avoid.flame")
	}
	if c.family("isocyanate") {
		avoid += " " + c.w.say("avoid.moisture")
	}
	c.fill("avoid", label("10.4"), avoid, common("by the classes declared"))
	inc := c.incompatible()
	c.fill("incompatible", label("10.5"), inc, families)
	c.fill("decomposition_products", label("10.6"), c.w.say("decomposition.fire"), common("see section 5"))
}

func (c *composer) reactivity() string {
	var out []string
	for _, f := range []struct{ family, key string }{{"epoxy resin", "react.epoxy"}, {"reactive diluent", "react.epoxy"}, {"amine hardener", "react.amine"}, {"isocyanate", "react.isocyanate"},
		{"peroxide", "react.peroxide"}, {"polyester monomer", "react.monomer"}, {"UV monomer", "react.monomer"}, {"adhesive monomer", "react.monomer"}, {"acid / alkali", "react.acid"}} {
		if t := c.w.say(f.key); c.family(f.family) && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return strings.Join(out, " ")
}

func (c *composer) reactions() string {
	out := c.reactivity()
	if c.flammable() {
		out = strings.TrimSpace(out + " " + c.w.say("react.vapour"))
	}
	return out
}

func (c *composer) toxicology() {
	c.sub("11.1")
	c.estimates()
	c.acute()
	for _, e := range []struct {
		field, word string
		classes     []ghs.Class
	}{
		{"effect_skin", "e.skin", []ghs.Class{ghs.SkinCorrosion}},
		{"effect_eye", "e.eye", []ghs.Class{ghs.EyeDamage}},
		{"effect_sens", "e.sens", []ghs.Class{ghs.RespiratorySensitisation, ghs.SkinSensitisation}},
		{"effect_muta", "e.muta", []ghs.Class{ghs.GermCellMutagenicity}},
		{"effect_carc", "e.carc", []ghs.Class{ghs.Carcinogenicity}},
		{"effect_repr", "e.repr", []ghs.Class{ghs.ReproductiveToxicity, ghs.ReproductiveToxicityLactation}},
		{"effect_stot_se", "e.stotse", []ghs.Class{ghs.STOTSingleExposure}},
		{"effect_stot_re", "e.stotre", []ghs.Class{ghs.STOTRepeatedExposure}},
		{"effect_asp", "e.asp", []ghs.Class{ghs.AspirationHazard}},
	} {
		c.effect(e.field, c.w.say(e.word), e.classes)
	}
	routes := "routes.liquid"
	if c.powder() {
		routes = "routes.powder"
	}
	c.fill("routes", c.w.say("routes"), c.w.say(routes), common("by the physical state"))
	c.fill("symptoms_tox", c.w.say("symptoms"), c.symptoms(), common("the signs of the classes declared"))
	c.fill("effects", c.w.say("effects"), c.w.say("effects.text"))
	if c.m.RuleSet == ghs.USHCS2024 {
		c.fill("interactive", c.w.say("interactive"), "")
		c.carcinogens()
		c.fill("data_stand_in", c.w.say("standin"), c.w.say("standin.text"), Why{Rule: "what was calculated is said to be calculated"})
	}
	if european(c.m.RuleSet) {
		c.sub("11.2")
		c.fill("endocrine_health", c.w.say("endocrine"), "")
		c.fill("other_health", c.w.say("otherinfo"), "")
	}
}

// acute prints the doses held of listed ingredients and those tested on the product.
func (c *composer) acute() {
	var lines []string
	var why []Why
	for q, v := range c.m.Mixture.Tested.ATE {
		if v != nil {
			lines = append(lines, fmt.Sprintf("ATE %s: %s %s", c.w.say("route."+routeKeys[ghs.Qualifier(q)]), c.w.number(*v), classify.RouteUnit(ghs.Qualifier(q))))
			why = append(why, Why{Fact: "tested on the product"})
		}
	}
	for _, e := range c.listed {
		in := c.m.Mixture.Ingredients[e.Index]
		for q, a := range in.ATE {
			if a.Status != classify.ATEValue {
				continue
			}
			lines = append(lines, fmt.Sprintf("%s: ATE %s: %s %s", e.Name, c.w.say("route."+routeKeys[ghs.Qualifier(q)]), c.w.number(a.Value), classify.RouteUnit(ghs.Qualifier(q))))
			c.out.Facts.Toxicology.Values = append(c.out.Facts.Toxicology.Values, stated(sheet.ToxValue{Ingredient: e.Name, CAS: e.CAS, Measure: "ATE", Route: ghs.Qualifier(q),
				Quantity: sheet.Quantity{Interval: sheet.Exactly(a.Value), Unit: classify.RouteUnit(ghs.Qualifier(q))}}))
			why = append(why, c.whyATE(e.Index, ghs.Qualifier(q)))
		}
	}
	said := c.phrasesOf(ghs.AcuteToxicity)
	if said == "" {
		said = c.w.say("criteria.notmet")
	}
	c.fill("acute", c.w.say("acute"), said, why...)
	c.tell("acute", strings.Join(lines, "\n"), why...) // over the whole width: long names and their doses stay on one line
}

func (c *composer) whyATE(i int, q ghs.Qualifier) Why {
	name := c.m.Mixture.Ingredients[i].Name
	if row := c.m.Parts[i].Row; row != nil {
		for _, k := range row.Classifications {
			for _, a := range k.ATE {
				if a.Route == q {
					return Why{Fact: name, Rule: string(k.Authority), Clause: k.DetailSource.Text, Memory: k.DetailSource.Memory}
				}
			}
		}
	}
	return Why{Fact: name + " comes from " + strings.Join(c.m.Parts[i].From, "; ")}
}

// phrasesOf are the hazard statements of the declared classes.
func (c *composer) phrasesOf(classes ...ghs.Class) string {
	var out []string
	for _, h := range c.m.Declared.All() {
		if !slices.Contains(classes, h.Class()) {
			continue
		}
		e, _ := c.m.RuleSet.Elements(h)
		for _, code := range e.Codes {
			if p := c.phrase(code); p != "" && !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return strings.Join(out, " ")
}

func (c *composer) effect(field, label string, classes []ghs.Class) {
	text := c.phrasesOf(classes...)
	var why []Why
	for _, h := range c.m.Declared.All() {
		if slices.Contains(classes, h.Class()) {
			why = append(why, c.whyClass(h)...)
		}
	}
	if text == "" {
		if c.openClass(classes) {
			c.fill(field, label, "")
			return
		}
		text = c.w.say("criteria.notmet")
		why = append(why, Why{Rule: "the rules give no category with the data on the ingredients"})
	}
	c.fill(field, label, text, why...)
}

// openClass tells whether a class hangs on a fact that is not known, or on an ingredient of which nothing is known.
func (c *composer) openClass(classes []ghs.Class) bool {
	for _, a := range c.m.Envelope.Answers {
		if len(a.Open) > 0 && slices.Contains(classes, a.Hazard.Class()) {
			return true
		}
	}
	return slices.ContainsFunc(c.m.Parts, func(p Part) bool { return p.Unknown })
}

// estimates prints the acute toxicity estimates of the mixture.
func (c *composer) estimates() {
	var lines []string
	var why []Why
	if len(c.m.points) > 0 {
		numbers := c.m.points[0].Numbers()
		for _, q := range []ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust} {
			least := numbers["ate_mix_"+q.String()]
			for _, p := range c.m.points[1:] {
				if v := p.Numbers()["ate_mix_"+q.String()]; v > 0 && (least == 0 || v < least) {
					least = v
				}
			}
			if least > 0 {
				least = estimateShown(q, least)
				lines = append(lines, "ATE "+c.w.say("route."+routeKeys[q])+": "+c.w.number(least)+" "+classify.RouteUnit(q))
				c.out.Facts.Toxicology.Values = append(c.out.Facts.Toxicology.Values, stated(sheet.ToxValue{Measure: "ATE", Route: q,
					Quantity: sheet.Quantity{Interval: sheet.Exactly(least), Unit: classify.RouteUnit(q)}}))
				why = append(why, Why{Rule: "additivity formula over the ingredients, " + q.String(), Clause: "UN GHS 3.1.3.6"})
			}
		}
	}
	c.fill("ate_numbers", c.w.say("ate.mix"), cmp.Or(strings.Join(lines, "\n"), c.w.say("ate.none")), why...)
}

// bounds are the upper ends of the categories of acute toxicity: UN GHS table 3.1.1 (mg/kg; ppm for gas; mg/l).
var bounds = map[ghs.Qualifier][]float64{
	ghs.Oral: {5, 50, 300, 2000, 5000}, ghs.Dermal: {50, 200, 1000, 2000, 5000}, ghs.InhalationGas: {100, 500, 2500, 20000},
	ghs.InhalationVapour: {0.5, 2, 10, 20}, ghs.InhalationDust: {0.05, 0.5, 1, 5},
}

// estimateShown rounds an estimate to three digits, downwards unless that would put it into a severer category.
func estimateShown(q ghs.Qualifier, v float64) float64 {
	down := digits(v, 3, math.Floor)
	if slices.ContainsFunc(bounds[q], func(b float64) bool { return down <= b && b < v }) {
		return digits(v, 3, math.Ceil)
	}
	return down
}

// carcinogens prints the listings held of the listed ingredients.
func (c *composer) carcinogens() {
	var lines []string
	var why []Why
	for _, e := range c.listed {
		row := c.m.Parts[e.Index].Row
		if row == nil {
			continue
		}
		for _, l := range []struct {
			agency, group string
			source        substance.Source
		}{{"IARC", row.IARC, row.IARCSource}, {"NTP", row.NTP, row.NTPSource}} {
			if l.group == "" {
				continue
			}
			lines = append(lines, fmt.Sprintf("%s (%s): %s %s", e.Name, cmp.Or(e.CAS, "-"), l.agency, c.w.say("group", "g", l.group)))
			why = append(why, Why{Fact: e.Name, Rule: l.agency + " " + l.group, Clause: l.source.Text, Memory: l.source.Memory})
		}
	}
	c.fill("carcinogen_listing", c.w.say("carclist"), cmp.Or(strings.Join(lines, "\n"), c.w.say("carclist.none")), why...)
}

func (c *composer) ecology() {
	c.sub("12.1")
	var aquatic []string
	var why []Why
	of := c.un
	if european(c.m.RuleSet) {
		of = c.m
	}
	for _, h := range of.Declared.All() {
		if h.Class() == ghs.AquaticAcute || h.Class() == ghs.AquaticChronic {
			e, _ := of.RuleSet.Elements(h)
			s := className(h, c.w)
			for _, code := range e.Codes {
				s += ", " + c.phrase(code)
			}
			aquatic = append(aquatic, s)
			for _, r := range of.Envelope.Why(h) {
				why = append(why, Why{Fact: h.String(), Rule: r.Text, Clause: r.Clause, Memory: r.Memory})
			}
		}
	}
	text := c.w.say("eco.not")
	if len(aquatic) > 0 {
		text = c.w.say("eco.calculated", "x", strings.Join(aquatic, "; "))
	}
	c.fill("ecotoxicity", c.w.say("ecotox"), text, why...)
	for _, s := range []struct{ ref, field, word string }{{"12.2", "persistence", "persistence"}, {"12.3", "bioaccumulation", "bioaccumulation"}, {"12.4", "mobility", "mobility"}} {
		c.sub(s.ref)
		if s.field == "bioaccumulation" {
			c.bioaccumulation()
			continue
		}
		c.fill(s.field, c.w.say(s.word), "")
	}
	if european(c.m.RuleSet) {
		c.sub("12.5")
		c.fill("pbt", c.w.say("pbt"), "")
		c.sub("12.6")
		c.fill("endocrine_environment", c.w.say("endocrine"), "")
	}
	c.sub("12.7")
	c.fill("other_adverse", c.w.say("otheradverse"), "")
}

// bioaccumulation prints the partition coefficients held of listed ingredients.
func (c *composer) bioaccumulation() {
	var lines []string
	var why []Why
	for _, e := range c.listed {
		if row := c.m.Parts[e.Index].Row; row != nil && row.LogKow.Known {
			lines = append(lines, fmt.Sprintf("%s: log Kow %s", e.Name, c.w.number(row.LogKow.V)))
			why = append(why, Why{Fact: e.Name, Clause: row.LogKow.Source.Text, Memory: row.LogKow.Source.Memory})
		}
	}
	c.fill("bioaccumulation", c.w.say("bioaccumulation"), strings.Join(lines, "\n"), why...)
}
