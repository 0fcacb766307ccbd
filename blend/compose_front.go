package blend

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

func (c *composer) identification() {
	id := &c.out.Facts.Identification
	c.sub("1.1")
	c.say("product_name", c.w.say("product"), c.r.Product, Why{Fact: "the recipe"})
	id.ProductName = stated(c.r.Product)
	if c.r.Code != "" {
		c.say("other_means", c.w.say("code"), c.r.Code, Why{Fact: "the recipe"})
		id.ProductCode = stated(c.r.Code)
	} else if _, ok := required(c.m.RuleSet, "other_means"); ok {
		c.fill("other_means", c.w.say("code"), "")
	}
	if european(c.m.RuleSet) {
		if c.r.UFI != "" {
			c.say("ufi", c.w.say("ufi"), c.r.UFI, Why{Fact: "the recipe"})
			id.UFI = stated(c.r.UFI)
		} else {
			c.fill("ufi", c.w.say("ufi"), "")
		}
	}
	c.sub("1.2")
	c.authored("uses", "use", c.r.Uses, &id.Uses)
	c.authored("uses_against", "useagainst", c.r.UsesAgainst, &id.UsesAgainst)
	c.sub("1.3")
	s := c.r.Supplier
	c.given("supplier", "supplier", s.Name, &id.Supplier)
	c.given("supplier", "address", strings.Join(s.Address, ", "), &id.SupplierAddress)
	c.given("supplier", "phone", s.Phone, &id.SupplierPhone)
	if land, ok := map[ghs.RuleSet]string{ghs.USHCS2024: "land.us", ghs.CAHPR: "land.ca"}[c.m.RuleSet]; ok && s.Name != "" && !strings.HasPrefix(strings.ReplaceAll(s.Phone, " ", ""), "+1") {
		c.ask("supplier", "ask.domestic", "x", c.w.say(land))
	}
	if european(c.m.RuleSet) || s.Email != "" {
		c.given("email", "email", s.Email, &id.SupplierEmail)
	}
	c.sub("1.4")
	c.given("emergency", "emergency", c.r.Emergency.Phone, &id.EmergencyPhone)
	if len(c.r.Emergency.Hours) > 0 {
		c.say("emergency", c.w.say("hours"), c.words("emergency", c.w.say("hours"), c.r.Emergency.Hours))
	}
	c.dates(id)
}

func (c *composer) dates(id *sheet.Identification) {
	v := c.r.Revision
	c.given("revision_date", "revision", v.Date, &id.RevisionDate)
	if v.Version != "" {
		c.say("", c.w.say("version"), v.Version, Why{Fact: "the recipe"})
		id.Version = stated(v.Version)
	}
	if len(v.History) > 0 && v.History[0].Date != "" {
		c.say("", c.w.say("supersedes"), v.History[0].Date, Why{Fact: "the recipe"})
		id.SupersedesDate = stated(v.History[0].Date)
	}
}

// given prints a value of the recipe under a label, or asks for it.
func (c *composer) given(field, label, value string, fact *sheet.Fact[string]) {
	if value == "" {
		c.fill(field, c.w.say(label), "")
		return
	}
	c.say(field, c.w.say(label), value, Why{Fact: "the recipe"})
	*fact = stated(value)
}

// authored is given for a text in several languages.
func (c *composer) authored(field, label string, words Words, fact *sheet.Fact[string]) {
	if len(words) == 0 {
		c.fill(field, c.w.say(label), "")
		return
	}
	text := c.words(field, c.w.say(label), words)
	c.say(field, c.w.say(label), text, Why{Fact: "the recipe"})
	*fact = stated(text)
}

func (c *composer) hazards() {
	c.sub("2.1")
	c.classification()
	c.sub("2.2")
	c.label()
	c.unknown()
	if c.m.RuleSet == ghs.USHCS2024 {
		c.fill("reaction_hazards", c.w.say("hazardother"), "")
	}
	c.sub("2.3")
	c.fill("other_hazards", c.w.say("otherhazards"), "")
	if european(c.m.RuleSet) {
		c.fill("pbt_ed", c.w.say("pbt.label"), "")
	}
	c.askStatements()
}

// askStatements asks for what only the author can put into statements: organs, effects, and which of two effects is meant.
func (c *composer) askStatements() {
	for _, h := range c.m.Declared.All() {
		e, _ := c.m.RuleSet.Elements(h)
		named := slices.ContainsFunc(e.Codes, func(code ghs.Code) bool { return len(c.r.Organs[string(code)]) > 0 })
		switch {
		case h == ghs.STOTSE3:
			c.ask("hazard_statements", "ask.stot3")
		case (h.Class() == ghs.STOTSingleExposure && h.Category() != "3" || h.Class() == ghs.STOTRepeatedExposure) && !named:
			c.ask("hazard_statements", "ask.organs", "x", c.w.hazard(h))
		case h.Class() == ghs.ReproductiveToxicity:
			c.ask("hazard_statements", "ask.effect", "x", c.w.hazard(h))
		case len(e.Codes) == 0:
			c.ask("hazard_statements", "ask.statement", "x", c.w.hazard(h))
		}
	}
}

// classification prints the classes with category and the statement of each, and what each follows from.
func (c *composer) classification() {
	h := &c.out.Facts.Hazards
	label := c.w.say("classification")
	if c.m.Declared.Empty() {
		h.Classified = sheet.NoneStated
		c.say("classification", label, c.w.say("notclassified"), Why{Rule: "no class follows from ingredients and test data"})
		return
	}
	h.Classified = sheet.Stated
	var lines []string
	var why []Why
	for _, d := range c.m.Declared.All() {
		e, _ := c.m.RuleSet.Elements(d)
		line := className(d, c.w)
		var code ghs.Code
		if len(e.Codes) > 0 {
			code = e.Codes[0]
			line += ", " + code.Printed()
		}
		lines = append(lines, line)
		h.Classification = append(h.Classification, stated(sheet.ClassStatement{Hazard: d, Printed: line, Code: code}))
		if code != "" {
			h.Statements = append(h.Statements, stated(sheet.Statement{Code: code}))
		}
		why = append(why, c.whyClass(d)...)
	}
	c.say("classification", label, strings.Join(lines, "\n"), why...)
}

// className is a class as the law abbreviates it, with its route in words.
func className(h ghs.Hazard, w dictionary) string {
	name := strings.TrimSpace(strings.TrimSuffix(h.String(), h.Qualifier().String()))
	if route := routeKeys[h.Qualifier()]; route != "" {
		name += " (" + w.say("route."+route) + ")"
	}
	return name
}

// routeKeys are the words for routes and effects.
var routeKeys = map[ghs.Qualifier]string{ghs.Oral: "oral", ghs.Dermal: "dermal", ghs.InhalationGas: "gas", ghs.InhalationVapour: "vapour", ghs.InhalationDust: "dust",
	ghs.Narcotic: "narcotic", ghs.Respiratory: "respiratory"}

// whyClass is the trace of one class.
func (c *composer) whyClass(h ghs.Hazard) []Why {
	if c.m.Mixture.Tested.Hazards.Has(h) {
		return []Why{{Fact: h.String() + " established by test on the product", Rule: "test data come before calculation"}}
	}
	var out []Why
	for _, r := range c.m.Envelope.Why(h) {
		out = append(out, Why{Fact: h.String(), Rule: r.Text, Clause: r.Clause, Memory: r.Memory})
	}
	return out
}

func (c *composer) label() {
	h, l := &c.out.Facts.Hazards, c.m.Label
	c.pictograms(l)
	c.signal(l)
	c.contains()
	var hazard, supplemental []string
	var why []Why
	for _, e := range l.Hazard {
		if e.Need == classify.Omitted {
			continue
		}
		line := e.Value.Printed() + " " + c.phrase(e.Value)
		h.Statements = append(h.Statements, stated(sheet.Statement{Code: e.Value, Phrase: c.phrase(e.Value)}))
		why = append(why, Why{Fact: fmt.Sprint(e.From), Rule: string(e.Value) + " " + e.Why, Clause: e.Clause})
		if e.Value.Kind() == ghs.SupplementalStatement {
			supplemental = append(supplemental, line)
			continue
		}
		hazard = append(hazard, line)
	}
	none := c.w.say("none")
	c.say("hazard_statements", c.w.say("hstatements"), cmp.Or(strings.Join(hazard, "\n"), none), why...)
	c.say("supplemental", c.w.say("supplemental"), strings.Join(supplemental, "\n"))
	c.pstatements(l)
}

func (c *composer) pictograms(l classify.LabelElements) {
	h, all := &c.out.Facts.Hazards, l.PrintedPictograms()
	label := c.w.say("pictograms")
	if len(all) == 0 {
		c.say("pictograms", label, c.w.say("none"))
		h.PictogramState = sheet.NoneStated
		return
	}
	h.PictogramState = sheet.Stated
	var why []Why
	for _, e := range l.Pictograms {
		why = append(why, Why{Fact: fmt.Sprint(e.From), Rule: e.Value.String() + " " + e.Need.String() + ": " + e.Why, Clause: e.Clause})
	}
	for _, p := range all {
		h.Pictograms = append(h.Pictograms, stated(p))
	}
	c.add(Item{Kind: Symbols, Field: "pictograms", Label: label, Pictograms: all, Why: c.because("pictograms", why)})
}

func (c *composer) signal(l classify.LabelElements) {
	h, s := &c.out.Facts.Hazards, l.SignalWord
	why := Why{Fact: fmt.Sprint(s.From), Rule: s.Why, Clause: s.Clause}
	if s.Value == ghs.NoSignalWord {
		c.say("signal_word", c.w.say("signal"), c.w.say("nosignal"), why)
		h.SignalWord.State = sheet.NoneStated
		return
	}
	c.say("signal_word", c.w.say("signal"), s.Value.In(c.w.lang), why)
	h.SignalWord = stated(s.Value)
	h.SignalPrinted = stated(s.Value.In(c.w.lang))
}

// named are the classes whose cause a label of the Union names (CLP Art. 18(3)(b), from memory).
var named18 = []ghs.Class{ghs.AcuteToxicity, ghs.SkinCorrosion, ghs.EyeDamage, ghs.GermCellMutagenicity, ghs.Carcinogenicity, ghs.ReproductiveToxicity,
	ghs.RespiratorySensitisation, ghs.SkinSensitisation, ghs.STOTSingleExposure, ghs.STOTRepeatedExposure, ghs.AspirationHazard}

// contains names the ingredients behind the gravest classes on a label of the Union.
func (c *composer) contains() {
	if !european(c.m.RuleSet) {
		return
	}
	var names []string
	for _, e := range c.listed {
		in := c.m.Mixture.Ingredients[e.Index]
		for _, h := range c.m.Declared.All() {
			grave := slices.Contains(named18, h.Class()) && h != ghs.SkinIrrit2 && h.Class() != ghs.EyeDamage || h == ghs.EyeDam1
			if grave && slices.ContainsFunc(in.Hazards.All(), func(i ghs.Hazard) bool { return i.Class() == h.Class() }) && !slices.Contains(names, e.Name) {
				names = append(names, e.Name)
			}
		}
	}
	c.say("", c.w.say("contains"), strings.Join(names, "; "), Why{Rule: "the label names what causes the gravest classes", Clause: "Regulation (EC) No 1272/2008 Art. 18(3)(b)", Memory: true})
}

// pstatements groups the precautionary statements as the standard does.
func (c *composer) pstatements(l classify.LabelElements) {
	printed := l.PrintedPrecautions()
	if len(printed) == 0 {
		c.say("precautions", c.w.say("pstatements"), c.w.say("none"))
		return
	}
	c.tell("", c.w.say("pstatements"))
	groups := []string{"P1", "P2", "P3", "P4", "P5"}
	labels := []string{"prevention", "prevention", "response", "storage", "disposal"}
	for i, g := range groups {
		var lines []string
		var why []Why
		for _, e := range l.Precautionary {
			if e.Need != classify.Required || !strings.HasPrefix(string(e.Value), g) {
				continue
			}
			lines = append(lines, e.Value.Printed()+" "+c.phrase(e.Value))
			why = append(why, Why{Fact: fmt.Sprint(e.From), Rule: string(e.Value) + " " + e.Why, Clause: e.Clause})
			c.out.Facts.Hazards.Precautions = append(c.out.Facts.Hazards.Precautions, stated(sheet.Statement{Code: e.Value, Phrase: c.phrase(e.Value)}))
		}
		c.say("precautions", c.w.say(labels[i]), strings.Join(lines, "\n"), why...)
	}
}

func (c *composer) unknown() {
	if european(c.m.RuleSet) && len(c.m.Label.Unknown) == 0 {
		return
	}
	for _, u := range c.m.Label.Unknown {
		key, route := "unknowntox.text", ""
		if u.TellsHow {
			key = "unknowntox.route"
			route = c.w.say("route." + routeKeys[u.Route])
		}
		p := significant(u.Percent, func(v float64) float64 { return float64(int(v + 0.999)) })
		c.say("unknown_toxicity", c.w.say("unknowntox"), c.w.say(key, "p", c.w.number(p), "r", route), Why{Rule: "share of ingredients without usable data", Clause: u.Clause, Memory: u.Memory})
		fact := sheet.UnknownShare{Percent: p}
		if u.TellsHow {
			fact.Route = u.Route
		}
		c.out.Facts.Hazards.UnknownToxicity = append(c.out.Facts.Hazards.UnknownToxicity, stated(fact))
	}
}

func (c *composer) composition() {
	c.sub("3.2")
	c.tell("", c.w.say("mixture"))
	if len(c.listed) == 0 {
		c.tell("ingredients", c.w.say("nothinglisted"))
		c.tell("shares", c.w.say("nothinglisted"))
		c.out.Facts.Composition.State = sheet.NoneStated
		if european(c.m.RuleSet) {
			c.tell("scl_m_ate", c.w.say("none"))
		}
		return
	}
	c.secrets()
	c.ingredientTable()
	c.askComposition()
}

func (c *composer) ingredientTable() {
	eu := european(c.m.RuleSet)
	t := Item{Kind: Rows, Field: "ingredients", Head: []string{c.w.say("col.name"), c.w.say("col.cas")}, Widths: []float64{.43, .12}} // wide, so that few names are wrapped
	class := .36
	if eu {
		t.Head, t.Widths = append(t.Head, c.w.say("col.ec")), append(t.Widths, .11)
		t.Widths[0], class = .42, .31
	}
	t.Head, t.Widths = append(t.Head, c.w.say("col.percent"), c.w.say("col.class")), append(t.Widths, .1, class)
	for _, e := range c.listed {
		row := []string{e.Name, cmp.Or(e.CAS, "-")}
		if e.SecretName {
			row[1] = c.w.say("secret")
		}
		if eu {
			row = append(row, cmp.Or(e.EC, "-"))
		}
		share := c.w.share(e.Percent)
		if e.SecretShare && !eu {
			share += " (" + c.w.say("secret") + ")"
		}
		row = append(row, share, c.classesOf(e.Index))
		t.Table = append(t.Table, row)
		t.Why = append(t.Why, e.Why...)
		t.Why = append(t.Why, c.whyIngredient(e.Index)...)
		c.ingredientFact(e)
	}
	t.Why = c.because("ingredients", t.Why)
	c.add(t)
	if eu {
		c.specificTable()
	}
}

// share writes a share or range as sheets do.
func (d dictionary) share(v sheet.Interval) string {
	if s, ok := v.Single(); ok {
		return d.number(s)
	}
	lo, hi := d.number(v.Lo), d.number(v.Hi)
	switch {
	case v.LoOpen && v.HiOpen:
		return "> " + lo + " - < " + hi
	case v.HiOpen:
		return "≥ " + lo + " - < " + hi
	case v.LoOpen:
		return "> " + lo + " - ≤ " + hi
	}
	return lo + " - " + hi
}

// classesOf are the classes of an ingredient as the rule set knows them, with their codes.
func (c *composer) classesOf(i int) string {
	var out []string
	for _, h := range c.m.Mixture.Ingredients[i].Hazards.All() {
		if !c.m.RuleSet.Exists(h) {
			continue
		}
		e, _ := c.m.RuleSet.Elements(h)
		s := className(h, c.w)
		if len(e.Codes) > 0 {
			s += ", " + e.Codes[0].Printed()
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

func (c *composer) whyIngredient(i int) []Why {
	name := c.m.Mixture.Ingredients[i].Name
	out := []Why{{Fact: name + " comes from " + strings.Join(c.m.Parts[i].From, "; ")}}
	for _, ch := range c.m.Parts[i].Choices {
		w := Why{Fact: name + ": " + ch.Hazard.String(), Rule: ch.Why, Clause: ch.Source.Text, Memory: ch.Source.Memory}
		if ch.Source.Text != "" {
			w.Rule = ch.Why + " (" + string(ch.Authority) + ")"
		}
		out = append(out, w)
	}
	return out
}

func (c *composer) ingredientFact(e Listed) {
	in := c.m.Mixture.Ingredients[e.Index]
	f := sheet.Ingredient{Name: stated(e.Name), Percent: stated(sheet.Quantity{Interval: e.Percent, Unit: "%"})}
	if e.CAS != "" {
		f.CAS = stated(e.CAS)
	}
	if e.EC != "" && european(c.m.RuleSet) {
		f.EC = stated(e.EC)
	}
	for _, h := range in.Hazards.All() {
		if c.m.RuleSet.Exists(h) {
			el, _ := c.m.RuleSet.Elements(h)
			cs := sheet.ClassStatement{Hazard: h, Printed: className(h, c.w)}
			if len(el.Codes) > 0 {
				cs.Code = el.Codes[0]
			}
			f.Hazards = append(f.Hazards, stated(cs))
		}
	}
	if european(c.m.RuleSet) {
		for _, l := range in.Limits {
			f.Limits = append(f.Limits, stated(sheet.SpecificLimit{Hazard: l.Hazard, Percent: l.Percent}))
		}
	}
	c.out.Facts.Composition.Ingredients = append(c.out.Facts.Composition.Ingredients, f)
}

// specifics are the specific limits, M-factors and estimates of an ingredient, one per line.
func (c *composer) specifics(i int) string {
	in := c.m.Mixture.Ingredients[i]
	var lines []string
	for _, l := range in.Limits {
		lines = append(lines, className(l.Hazard, c.w)+": "+c.w.limit(l.Percent))
	}
	if in.MAcute > 0 {
		lines = append(lines, "M (acute) = "+c.w.number(in.MAcute))
	}
	if in.MChronic > 0 {
		lines = append(lines, "M (chronic) = "+c.w.number(in.MChronic))
	}
	for _, q := range []ghs.Qualifier{ghs.Oral, ghs.Dermal, ghs.InhalationGas, ghs.InhalationVapour, ghs.InhalationDust} {
		if in.ATE[q].Status == classify.ATEValue {
			lines = append(lines, "ATE ("+c.w.say("route."+routeKeys[q])+") = "+c.w.number(in.ATE[q].Value)+" "+classify.RouteUnit(q))
		}
	}
	return strings.Join(lines, "\n")
}

// specificTable prints specific limits, M-factors and estimates of the listed ingredients in a table of their own.
func (c *composer) specificTable() {
	t := Item{Kind: Rows, Field: "scl_m_ate", Head: []string{c.w.say("col.name"), c.w.say("col.cas"), c.w.say("col.limits")}, Widths: []float64{.35, .13, .52}}
	for _, e := range c.listed {
		if text := c.specifics(e.Index); text != "" {
			t.Table = append(t.Table, []string{e.Name, cmp.Or(e.CAS, "-"), text})
		}
	}
	if len(t.Table) == 0 {
		c.say("scl_m_ate", c.w.say("col.limits"), c.w.say("none"))
		return
	}
	t.Why = c.because("scl_m_ate", nil)
	c.add(t)
}

// limit writes a specific limit: "≥ 5 %", "≥ 1 – < 3 %".
func (d dictionary) limit(v sheet.Interval) string {
	lo := "C ≥ " + d.number(v.Lo) + " %"
	if v.LoOpen {
		lo = "C > " + d.number(v.Lo) + " %"
	}
	if !v.HasHi || v.Hi >= whole {
		return lo
	}
	sign := " ≤ C "
	if v.LoOpen {
		sign = " < C "
	}
	end := "≤ "
	if v.HiOpen {
		end = "< "
	}
	return d.number(v.Lo) + " %" + sign + end + d.number(v.Hi) + " %"
}

// secrets prints the sentences that a withheld name or share needs.
func (c *composer) secrets() {
	short := c.law()
	name := slices.ContainsFunc(c.listed, func(e Listed) bool { return e.SecretName })
	share := slices.ContainsFunc(c.listed, func(e Listed) bool { return e.SecretShare })
	a := c.r.Secrets[c.m.RuleSet]
	text := c.w.say("secret.share." + short)
	if share {
		c.tell("secret", text)
	}
	if name {
		c.tell("secret", c.w.say("secret.name."+short, "n", a.Number, "d", a.Date))
	}
	if !share {
		c.add(Item{Kind: Paragraph, Field: "shares", Text: c.shareWords(), Why: c.because("shares", nil)})
	} else {
		c.add(Item{Kind: Paragraph, Field: "shares", Text: c.w.say("shares.mixed"), Why: c.because("shares", nil)})
	}
}

func (c *composer) shareWords() string {
	for _, e := range c.listed {
		if _, ok := e.Percent.Single(); !ok {
			return c.w.say("shares.ranges")
		}
	}
	return c.w.say("shares.exact")
}

// askComposition asks for what the law wants to know before names and shares are kept back, and about recalled entries.
func (c *composer) askComposition() {
	var memory []string
	for _, e := range c.listed {
		part := c.m.Parts[e.Index]
		if s := part.Secret; s != nil {
			if generic, _ := s.Name.In(c.w.lang); generic != "" && !e.SecretName {
				_, why := c.m.mayHideName()
				c.ask("secret", "ask.secretname", "x", e.Name, "c", why.Clause)
			}
			if s.Share && !e.SecretShare {
				key := "ask.secretshare"
				if _, _, ok := c.m.bandFor(c.m.Mixture.Ingredients[e.Index].Percent); ok {
					key = "ask.bandclass"
				}
				c.ask("shares", key, "x", e.Name)
			}
		}
		if _, exact := e.Percent.Single(); !exact && !e.SecretShare && !european(c.m.RuleSet) {
			c.ask("shares", "ask.range", "x", e.Name)
		}
		for _, ch := range part.Choices {
			if ch.Source.Memory && ch.Basis != "sheet" {
				memory = append(memory, e.Name+" "+ch.Hazard.String())
			}
		}
	}
	if len(memory) > 0 {
		c.ask("ingredients", "ask.memory", "x", strings.Join(memory, "; "))
	}
}
