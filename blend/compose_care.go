package blend

import (
	"cmp"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/protect"
	"sixteen/sheet"
	"sixteen/substance"
)

func (c *composer) firstAid() {
	c.sub("4.1")
	c.aid("aid_inhalation", "inhalation", "aid.inhalation", "P304", "P340", "P341", "P342")
	skin := "aid.skin"
	if c.corrosive() {
		skin = "aid.skin.corrosive"
	}
	c.aid("aid_skin", "skincontact", skin, "P302", "P303", "P332", "P333", "P352", "P353", "P361", "P362", "P363", "P364")
	eyes := "aid.eyes"
	if c.corrosive() || c.has(ghs.EyeDam1) {
		eyes = "aid.eyes.damage"
	}
	c.aid("aid_eyes", "eyecontact", eyes, "P305", "P337", "P338")
	c.aid("aid_ingestion", "ingestion", "aid.ingestion", "P301", "P330", "P331")
	if text, why := c.precautions("P308", "P310", "P311", "P312", "P313", "P314", "P315", "P316", "P317", "P318", "P319"); text != "" {
		c.say("", c.w.say("aid.general"), text, why...)
	}
	c.sub("4.2")
	c.fill("symptoms", c.w.say("symptoms"), c.symptoms(), common("the signs of the classes declared"))
	c.sub("4.3")
	doctor := "doctor.symptoms"
	if c.corrosive() || c.has(ghs.EyeDam1) {
		doctor = "doctor.urgent"
	}
	c.fill("doctor", c.w.say("doctor"), c.w.say(doctor), common("treatment by signs; burns at once"))
}

// aid says what to do after one kind of contact: the standard's phrases where the classes give some, else a plain sentence.
func (c *composer) aid(field, label, sentence string, starts ...string) {
	if _, ok := c.author(field, c.w.say(label)); ok {
		return
	}
	text, why := c.precautions(starts...)
	own := c.w.say(sentence)
	switch {
	case text == "":
		text, why = own, []Why{common("first aid where no statement of the standard applies")}
	case sentence == "aid.skin.corrosive" || sentence == "aid.eyes.damage":
		text, why = text+" "+own, append(why, common("rinsing of burns for 20 minutes and a doctor"))
	}
	if field == "aid_skin" && c.declared(ghs.SkinSensitisation) {
		text += " " + c.w.say("aid.skin.sens")
	}
	if field == "aid_ingestion" && c.declared(ghs.AspirationHazard) {
		text += " " + c.w.say("aid.asp")
	}
	c.say(field, c.w.say(label), text, why...)
}

func (c *composer) symptoms() string {
	var out []string
	for _, s := range []struct {
		when bool
		key  string
	}{
		{c.corrosive(), "sym.corrosive"},
		{c.declared(ghs.SkinCorrosion, ghs.EyeDamage) && !c.corrosive(), "sym.irritant"},
		{c.declared(ghs.SkinSensitisation), "sym.sens"},
		{c.declared(ghs.RespiratorySensitisation), "sym.asthma"},
		{c.has(ghs.STOTSE3, ghs.STOTSE3Narcotic, ghs.STOTSE3Respiratory), "sym.vapour"},
		{c.declared(ghs.AcuteToxicity), "sym.toxic"},
		{c.declared(ghs.AspirationHazard), "sym.lungs"},
		{c.declared(ghs.Carcinogenicity, ghs.GermCellMutagenicity, ghs.ReproductiveToxicity, ghs.STOTRepeatedExposure), "sym.longterm"},
	} {
		if s.when {
			out = append(out, c.w.say(s.key))
		}
	}
	return cmp.Or(strings.Join(out, " "), c.w.say("symptoms.none"))
}

func (c *composer) fire() {
	c.sub("5.1")
	c.fill("media", c.w.say("media"), c.media(), common("foam, powder, carbon dioxide or water mist for liquids and solids that burn"))
	unsuitable := c.w.say("unmedia.text")
	if c.declared(ghs.WaterReactives) {
		unsuitable = ""
	}
	c.fill("media_unsuitable", c.w.say("unmedia"), unsuitable, common("a full jet spreads burning liquid"))
	c.sub("5.2")
	key := "fire.normal"
	switch {
	case c.declared(ghs.OrganicPeroxides):
		key = "fire.peroxide"
	case c.flammable():
		key = "fire.flammable"
	case c.powder() || c.family("solvent: water"):
		key = "fire.quiet"
	}
	if _, ok := c.author("fire_hazards", c.w.say("combustion")); !ok {
		c.tell("fire_hazards", c.w.say(key), common("the fire behaviour of the classes declared"))
		c.say("fire_hazards", c.w.say("combustion"), c.gases(), common("what substances of the ingredients' families give off when they burn"))
	}
	c.sub("5.3")
	if _, ok := c.author("firefighters", c.w.say("firefighters")); !ok {
		c.tell("firefighters", c.w.say("firefighters"), common("breathing apparatus and full clothing"))
	}
}

// media are the extinguishing media, empty where no general answer is right: water-reactive and self-reactive products.
func (c *composer) media() string {
	if c.declared(ghs.WaterReactives, ghs.SelfReactives, ghs.PyrophoricLiquids, ghs.PyrophoricSolids) {
		return ""
	}
	return c.w.say("media.text")
}

func (c *composer) gases() string {
	parts := []string{c.w.say("gas.carbon")}
	if c.family("amine hardener", "isocyanate", "biocide", "flame retardant") {
		parts = append(parts, c.w.say("gas.nitrogen"))
	}
	if c.family("isocyanate") {
		parts = append(parts, c.w.say("gas.cyanide"))
	}
	if c.family("solvent: chlorinated") {
		parts = append(parts, c.w.say("gas.chlorine"))
	}
	if c.family("silicone", "silane") {
		parts = append(parts, c.w.say("gas.silica"))
	}
	return strings.Join(parts, ", ")
}

func (c *composer) spill() {
	c.sub("6.1")
	personal := c.w.say("spill.personal")
	if c.flammable() || c.declared(ghs.OrganicPeroxides) {
		personal += " " + c.w.say("spill.flammable")
	}
	c.paragraph("spill_personal", personal, common("keep away, air, protect"))
	c.sub("6.2")
	text, why := c.precautions("P273", "P391")
	c.paragraph("spill_environment", strings.TrimSpace(text+" "+c.w.say("spill.water")), append(why, common("keep out of drains"))...)
	c.sub("6.3")
	clean := c.w.say("spill.method")
	if c.powder() {
		clean = c.w.say("spill.dust")
	}
	if c.declared(ghs.OrganicPeroxides) {
		clean += " " + c.w.say("spill.peroxide")
	}
	if c.family("isocyanate") {
		clean += " " + c.w.say("spill.isocyanate")
	}
	c.paragraph("spill_cleaning", clean, common("inert binder, labelled drum"))
	if european(c.m.RuleSet) {
		c.sub("6.4")
		c.paragraph("references", c.w.say("see8and13"))
	}
}

// paragraph is fill for a field without a label of its own: the subheading names it.
func (c *composer) paragraph(field, text string, why ...Why) {
	label := c.lastSub()
	if _, ok := c.author(field, label); ok {
		return
	}
	if text == "" {
		c.open(field, label)
		return
	}
	c.tell(field, text, why...)
}

// lastSub is the title of the present subsection.
func (c *composer) lastSub() string {
	for i := len(c.cur.Items) - 1; i >= 0; i-- {
		if c.cur.Items[i].Kind == Subheading {
			return c.cur.Items[i].Text
		}
	}
	return c.cur.Heading
}

func (c *composer) handling() {
	c.sub("7.1")
	text, why := c.precautions("P201", "P202", "P203", "P210", "P211", "P22", "P23", "P24", "P26", "P27")
	if c.declared(ghs.SkinSensitisation, ghs.RespiratorySensitisation) {
		text += " " + c.w.say("handling.sensitiser")
	}
	if c.powder() {
		text += " " + c.w.say("handling.dust")
	}
	c.paragraph("handling", strings.TrimSpace(c.w.say("handling.general")+" "+text), append(why, common("handling in a workshop"))...)
	c.sub("7.2")
	store, why := c.precautions("P4")
	store = c.w.say("storage.general") + " " + store
	if c.declared(ghs.OrganicPeroxides) {
		store += " " + c.w.say("storage.peroxide")
	}
	if c.family("isocyanate") {
		store += " " + c.w.say("storage.isocyanate")
	}
	if inc := c.incompatible(); inc != "" {
		store += " " + c.w.say("storage.apart", "x", inc)
	}
	c.paragraph("storage", strings.Join(strings.Fields(store), " "), append(why, common("storage by families of the ingredients"))...)
	if european(c.m.RuleSet) {
		c.sub("7.3")
		c.paragraph("specific_use", c.w.say("use.none"))
	}
}

func (c *composer) control() {
	c.sub("8.1")
	c.limits()
	if european(c.m.RuleSet) {
		c.fill("biological_limits", c.w.say("biological"), "")
		c.fill("dnel", c.w.say("dnel"), "")
	}
	c.sub("8.2")
	c.fill("engineering", c.w.say("engineering"), c.w.say("eng.source"), Why{Rule: "ventilation before what is worn", Clause: "29 CFR 1910.134(a)(1); Directive 98/24/EC Art. 6", Memory: european(c.m.RuleSet)})
	plan := c.protection()
	control := &c.out.Facts.Control
	c.eyes(plan, control)
	c.hands(plan, control)
	skin := "skin.sleeves"
	if c.corrosive() {
		skin = "skin.apron"
	}
	c.fill("skin", c.w.say("skin"), c.w.say(skin), grounds(plan, protect.Skin)...)
	c.breathing(plan)
	c.fill("", c.w.say("hygiene"), c.w.say("hygiene.text"), grounds(plan, protect.Hygiene)...)
	if european(c.m.RuleSet) {
		c.fill("thermal", c.w.say("thermal"), c.w.say("thermal.none"), common("supplied at room temperature"))
		c.fill("environment_controls", c.w.say("envcontrol"), c.w.say("envcontrol.text"))
	}
}

// protection is the plan of package protect for the product without a job: what its classes and ingredients call for.
func (c *composer) protection() protect.Plan {
	scheme := protect.US
	if european(c.m.RuleSet) {
		scheme = protect.EN
	}
	j := protect.Job{Hazards: c.m.Declared, Scheme: scheme, RuleSet: c.m.RuleSet}
	for _, e := range c.listed {
		in := c.m.Mixture.Ingredients[e.Index]
		j.Ingredients = append(j.Ingredients, protect.Ingredient{CAS: in.CAS, Name: in.Name, Share: in.Percent, Substance: c.m.Parts[e.Index].Row})
	}
	p, err := protect.Make(j)
	if err != nil {
		return protect.Plan{}
	}
	return p
}

// grounds are the measures of one kind with their sources, as what stands behind an item.
func grounds(p protect.Plan, k protect.Kind) []Why {
	var out []Why
	for _, m := range p.Measures {
		if m.Kind == k {
			out = append(out, Why{Fact: m.Why, Rule: m.What, Clause: m.Source.Text, Memory: m.Source.Memory})
		}
	}
	return out
}

func (c *composer) eyes(p protect.Plan, control *sheet.Control) {
	key := "eyes.spectacles"
	switch {
	case c.corrosive() || c.has(ghs.EyeDam1):
		key = "eyes.shield"
	case c.declared(ghs.EyeDamage) || c.powder():
		key = "eyes.goggles"
	}
	c.fill("eyes", c.w.say("eyes"), c.w.say(key), grounds(p, protect.Eyes)...)
	control.Eyes = stated(c.w.say(key))
}

func (c *composer) hands(p protect.Plan, control *sheet.Control) {
	label := c.w.say("hands")
	if g := c.r.Gloves; g != nil {
		text := c.w.say("hands.made", "m", c.w.say("mat."+g.Material), "t", c.w.number(g.ThicknessMM), "b", c.w.number(g.BreakthroughMin), "s", g.Standard)
		c.say("hands", label, text, Why{Fact: "the author states the gloves"})
		control.Hands = stated(sheet.Gloves{Text: text, Materials: []string{g.Material}, ThicknessMM: sheet.Exactly(g.ThicknessMM), BreakthroughMin: sheet.Exactly(g.BreakthroughMin), Standard: g.Standard})
		return
	}
	if _, ok := c.author("hands", label); ok {
		return
	}
	c.add(Item{Kind: Field, Field: "hands", Label: label, Text: c.w.say("hands.open"), Open: true, Why: c.because("hands", grounds(p, protect.Hands))})
	control.Hands = stated(sheet.Gloves{Text: c.w.say("hands.open")})
	var names, held []string
	for _, e := range c.listed {
		names = append(names, e.Name)
		for _, r := range protect.Resistances(c.m.Mixture.Ingredients[e.Index].CAS) {
			if !r.Poor {
				held = append(held, e.Name+": "+r.Text)
			}
		}
	}
	c.ask("hands", "ask.gloves", "x", strings.Join(names, ", "), "y", cmp.Or(strings.Join(held, "; "), c.w.say("none")))
}

// breathing chooses filter types against the listed ingredients that get into the air: those with a vapour pressure of 10 Pa
// or more at 20 °C (the bound for volatile compounds of Directive 2010/75/EU Art. 3(45), from memory).
func (c *composer) breathing(p protect.Plan) {
	label := c.w.say("resp")
	if c.r.Respirator != "" {
		c.say("breathing", label, c.w.say("resp.when", "f", c.r.Respirator), Why{Fact: "the author states the filter"})
		c.out.Facts.Control.Respiratory = stated(sheet.Respirator{Text: c.r.Respirator, Filters: []string{c.r.Respirator}})
		if c.family("isocyanate") {
			c.ask("breathing", "ask.respirator", "f", c.r.Respirator)
		}
		return
	}
	scheme := protect.US
	if european(c.m.RuleSet) {
		scheme = protect.EN
	}
	var marks, none []string
	var why []Why
	air := false
	for _, e := range c.listed {
		row := c.m.Parts[e.Index].Row
		if row == nil {
			continue
		}
		if row.Family == "isocyanate" {
			air = true
			continue
		}
		if pa := row.VapourPressure(20); !pa.Known || pa.Pa < 10 {
			continue
		}
		f := protect.FilterFor(row, protect.Exposure{CAS: row.CAS, Name: e.Name, Unit: "ppm", Task: protect.VapourTask}, scheme)
		for _, m := range f.Marks {
			if !slices.Contains(marks, m) {
				marks = append(marks, m)
			}
		}
		why = append(why, Why{Fact: e.Name, Rule: cmp.Or(f.None, f.Why), Clause: f.Source.Text, Memory: f.Source.Memory})
		if f.None != "" {
			none = append(none, e.Name)
		}
	}
	slices.Sort(marks)
	key, fill := "resp.none", strings.Join(marks, "/")
	switch {
	case air && c.family("isocyanate"):
		key = "resp.air"
	case len(none) > 0:
		key, fill = "resp.nofilter", strings.Join(none, ", ")
	case len(marks) > 0:
		key = "resp.when"
		c.out.Facts.Control.Respiratory = stated(sheet.Respirator{Filters: marks})
	case c.powder() || c.inhaled():
		key, fill = "resp.dust", "P100"
		if european(c.m.RuleSet) {
			fill = "P2"
		}
	}
	c.fill("breathing", label, c.w.say(key, "f", fill), append(why, grounds(p, protect.Breathing)...)...)
}

// inhaled tells whether a class is declared that breathing the product in can cause.
func (c *composer) inhaled() bool {
	return slices.ContainsFunc(c.m.Declared.All(), func(h ghs.Hazard) bool {
		switch h.Class() {
		case ghs.AcuteToxicity:
			return h.Qualifier() != ghs.Oral && h.Qualifier() != ghs.Dermal
		case ghs.RespiratorySensitisation, ghs.STOTSingleExposure, ghs.STOTRepeatedExposure, ghs.Carcinogenicity, ghs.GermCellMutagenicity:
			return true
		}
		return false
	})
}

func (c *composer) limits() {
	t := Item{Kind: Rows, Field: "limits", Head: []string{c.w.say("col.name"), c.w.say("col.cas"), c.w.say("col.authority"), c.w.say("col.kind"), c.w.say("col.value"), c.w.say("col.note")},
		Widths: []float64{.28, .13, .15, .12, .15, .17}}
	var memory, without []string
	for _, e := range c.listed {
		in := c.m.Mixture.Ingredients[e.Index]
		rows := c.m.LimitsOf(e.Index, c.w.lang)
		if len(rows) == 0 || e.SecretName {
			without = append(without, e.Name)
			continue
		}
		for _, x := range rows {
			t.Table = append(t.Table, c.limitRows(e, in.CAS, x)...)
			t.Why = append(t.Why, Why{Fact: e.Name, Rule: x.Authority + " " + x.Kind, Clause: x.Source.Text, Memory: x.Source.Memory})
			if x.Source.Memory {
				memory = append(memory, e.Name+" "+x.Authority+" "+x.Kind)
			}
		}
	}
	if _, ok := c.author("limits", c.w.say("limits")); ok {
		return
	}
	if len(t.Table) > 0 {
		c.tell("", c.w.say("limits"))
		t.Why = c.because("limits", t.Why)
		c.add(t)
	} else {
		c.say("limits", c.w.say("limits"), c.w.say("limits.held"), Why{Rule: "the substance table and the recipe hold no limit for the listed ingredients"})
	}
	if len(memory) > 0 {
		c.ask("limits", "ask.limitmemory", "x", strings.Join(memory, "; "))
	}
	var all []string
	for _, e := range c.listed {
		all = append(all, e.Name)
	}
	switch {
	case len(all) == 0:
	case c.m.RuleSet == ghs.USHCS2024:
		c.ask("limits", "ask.tlv", "x", strings.Join(all, ", "))
	case european(c.m.RuleSet):
		c.ask("limits", "ask.nationallimits")
	case len(without) > 0:
		c.ask("limits", "ask.field", "s", "8", "x", c.w.say("limits")+": "+strings.Join(without, ", "))
	}
}

// limitRows are the rows of one limit: one for each unit that the authority prints.
func (c *composer) limitRows(e Listed, cas string, x substance.Limit) [][]string {
	kind := x.Kind
	if kind == substance.Ceiling {
		kind = c.w.say("ceiling")
	}
	var notes []string
	if x.Skin {
		notes = append(notes, c.w.say("skin.note"))
	}
	if x.Basis != "" && !strings.HasPrefix(x.Basis, "from ") {
		notes = append(notes, x.Basis)
	}
	note := cmp.Or(strings.Join(notes, ", "), "-")
	fact := sheet.ExposureLimit{Substance: e.Name, CAS: cas, Authority: strings.Replace(x.Authority, "Ontario OEL", "CA Ontario", 1), Kind: sheet.LimitKind(x.Kind), Skin: x.Skin}
	var rows [][]string
	row := func(v float64, unit, printed string) {
		rows = append(rows, []string{e.Name, cmp.Or(cas, "-"), x.Authority, kind, c.w.number(v) + " " + printed, note})
		fact.Value, fact.Unit = v, unit
		c.out.Facts.Control.Limits = append(c.out.Facts.Control.Limits, stated(fact))
	}
	if x.PPM > 0 {
		row(x.PPM, "ppm", "ppm")
	}
	if x.MgM3 > 0 && (!x.Computed || x.PPM == 0) {
		row(x.MgM3, "mg/m3", "mg/m³")
	}
	return rows
}

// incompatible lists what the families of the ingredients must not meet.
func (c *composer) incompatible() string {
	var keys []string
	add := func(ks ...string) {
		for _, k := range ks {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	if c.family("amine hardener") {
		add("inc.acids", "inc.oxidisers", "inc.isocyanates")
	}
	if c.family("epoxy resin", "reactive diluent") {
		add("inc.amines", "inc.acids", "inc.bases", "inc.oxidisers")
	}
	if c.family("isocyanate") {
		add("inc.water", "inc.amines", "inc.bases")
	}
	if c.family("peroxide") {
		add("inc.reducers", "inc.acids", "inc.bases")
	}
	if c.family("acid / alkali") {
		add("inc.acids", "inc.bases", "inc.metals")
	}
	if c.family("solvent: ester", "solvent: ketone", "solvent: alcohol", "solvent: aromatic", "solvent: aliphatic", "solvent: petroleum", "solvent: ether", "solvent: glycol", "solvent: terpene", "polyester monomer", "UV monomer", "adhesive monomer") {
		add("inc.oxidisers")
	}
	var out []string
	for _, k := range keys {
		out = append(out, c.w.say(k))
	}
	return strings.Join(out, ", ")
}
