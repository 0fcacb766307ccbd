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

func (c *composer) disposal() {
	c.sub("13.1")
	text, why := c.precautions("P501", "P502", "P503")
	c.paragraph("waste", strings.TrimSpace(text+" "+c.w.say("waste.text")), append(why, common("licensed waste firm, nothing into drains"))...)
}

// modes are the regimes that the section speaks of.
func (c *composer) modes() string {
	switch c.m.RuleSet {
	case ghs.EUCLP:
		return "ADR / IMDG / IATA"
	case ghs.CAHPR:
		return "TDG / IMDG / IATA"
	}
	return "DOT / IMDG / IATA"
}

func (c *composer) transport() {
	p := c.ship
	why := p.Why
	switch {
	case p.Decided && p.By != "":
	case p.Decided && p.Regulated:
		c.ask("un", "ask.transport", "x", fmt.Sprintf("UN %s, %s, %s", p.UN, p.Class, p.PackingGroup))
	case p.Decided:
		c.ask("un", "ask.transport", "x", c.w.say("notregulated"))
	default:
		c.ask("un", "ask.transportopen", "x", c.transportGap())
	}
	if p.Decided && p.By == "" {
		c.tell("", c.w.say("transport.proposal"))
	}
	c.transportNumbers(p, why)
	c.sub("14.6")
	c.paragraph("transport_user", c.w.say("transport.usertext"), common("upright and closed"))
	c.sub("14.7")
	c.paragraph("transport_bulk", c.w.say("transport.bulktext"), common("small packages only"))
}

func (c *composer) transportGap() string {
	var out []string
	for _, y := range c.ship.Why {
		out = append(out, cmp.Or(y.Fact, y.Rule))
	}
	return strings.Join(out, "; ")
}

func (c *composer) transportNumbers(p Proposal, why []Why) {
	if !p.Decided {
		for _, f := range []struct{ ref, field, word string }{{"14.1", "un", "un"}, {"14.2", "shipping_name", "shipname"}, {"14.3", "transport_class", "tclass"}, {"14.4", "packing_group", "pg"}, {"14.5", "transport_environment", "envhaz"}} {
			c.sub(f.ref)
			c.add(Item{Kind: Field, Field: f.field, Label: c.w.say(f.word), Text: c.w.say("open"), Open: true, Why: c.because(f.field, why)})
		}
		return
	}
	c.say("", c.w.say("mode"), c.modes())
	env := c.w.say("no")
	if p.Environment {
		env = c.w.say("yes")
	}
	if !p.Regulated {
		c.sub("14.1")
		c.tell("un", c.w.say("notregulated"), why...)
		for _, f := range []struct{ ref, field string }{{"14.2", "shipping_name"}, {"14.3", "transport_class"}, {"14.4", "packing_group"}} {
			c.sub(f.ref)
			c.tell(f.field, c.w.say("notapplicable"))
		}
		c.sub("14.5")
		c.tell("transport_environment", env)
		c.out.Facts.Transport = append(c.out.Facts.Transport, stated(sheet.Transport{}))
		return
	}
	name, technical := c.words("shipping_name", c.w.say("shipname"), p.Names), ""
	if len(p.Technical) > 0 {
		var local []string
		for _, t := range p.Technical {
			local = append(local, c.localName(t))
		}
		technical = strings.Join(local, ", ")
	}
	c.sub("14.1")
	c.tell("un", "UN "+p.UN, why...)
	c.sub("14.2")
	c.say("shipping_name", c.w.say("shipname.short"), name, why...)
	c.say("", c.w.say("technical"), technical, Why{Rule: "an entry “n.o.s.” is followed by the technical names in brackets", Clause: "UN Model Regulations 3.1.2.8 and special provision 274", Memory: true})
	c.sub("14.3")
	class := p.Class
	if len(p.Subsidiary) > 0 {
		class += " (" + strings.Join(p.Subsidiary, ", ") + ")"
	}
	c.tell("transport_class", class, why...)
	c.sub("14.4")
	c.tell("packing_group", cmp.Or(p.PackingGroup, "-"), why...)
	c.sub("14.5")
	c.tell("transport_environment", env, why...)
	pollutant := sheet.NoneStated
	if p.Environment {
		pollutant = sheet.Stated
	}
	c.out.Facts.Transport = append(c.out.Facts.Transport, stated(sheet.Transport{Regulated: true, UN: p.UN, ProperName: name, Class: p.Class, Subsidiary: p.Subsidiary, PackingGroup: p.PackingGroup, MarinePollutant: pollutant}))
}

func (c *composer) regulation() {
	c.sub("15.1")
	if words, ok := c.r.Texts["regulations"]; ok {
		c.tell("regulations", c.words("regulations", c.w.say("regulations"), words), Why{Fact: "the author says so in the recipe"})
	}
	c.tell("regulations", c.w.say("reg."+c.law()), Why{Rule: "the law the sheet is drafted for"})
	inventory := map[ghs.RuleSet]string{ghs.USHCS2024: "TSCA", ghs.CAHPR: "DSL"}[c.m.RuleSet]
	if inventory != "" && c.r.Texts["regulations"] == nil {
		c.ask("regulations", "ask.inventory", "x", inventory)
	}
	if european(c.m.RuleSet) {
		if c.diisocyanate() {
			c.tell("regulations", c.w.say("reg.isocyanate"), Why{Rule: "diisocyanates at 0.1 % or more in total", Clause: "Regulation (EC) No 1907/2006 Annex XVII entry 74", Memory: true})
		}
		c.sub("15.2")
		c.fill("safety_assessment", c.w.say("csa"), "")
	}
}

// diisocyanate tells whether isocyanates make 0.1 % or more in total.
func (c *composer) diisocyanate() bool {
	sum := 0.0
	for i, p := range c.m.Parts {
		in := c.m.Mixture.Ingredients[i]
		if p.Row != nil && p.Row.Family == "isocyanate" || strings.Contains(strings.ToLower(in.Name), "diisocyanat") {
			_, hi := in.Bounds()
			sum += hi
		}
	}
	return sum >= 0.1
}

func (c *composer) other() {
	c.history()
	c.fill("abbreviations", c.w.say("abbr"), c.w.say("abbr.text"), common("the abbreviations that the draft uses"))
	c.fill("sources", c.w.say("sources"), c.w.say("sources.text"), common("the sources that the draft was made from"))
	if european(c.m.RuleSet) {
		c.method()
		c.fullText()
	}
	c.fill("training", c.w.say("training"), c.w.say("training.text"), common("training before first use"))
	c.tell("", c.w.say("draft.notice"))
	switch {
	case c.m.RuleSet == ghs.CAHPR:
		c.ask("both_languages", "ask.bothlanguages")
	case c.m.RuleSet == ghs.USHCS2024 && c.w.lang != ghs.English:
		c.ask("all_sections", "ask.english")
	}
}

// history prints the earlier revisions and what changed.
func (c *composer) history() {
	h := c.r.Revision.History
	label := c.w.say("changes")
	if len(h) == 0 {
		if european(c.m.RuleSet) {
			c.fill("changes", label, c.w.say("none"), Why{Fact: "the recipe names no earlier revision"})
		}
		return
	}
	t := Item{Kind: Rows, Field: "changes", Head: []string{c.w.say("version"), c.w.say("history"), label}, Widths: []float64{.15, .25, .6}}
	for _, e := range h {
		t.Table = append(t.Table, []string{cmp.Or(e.Version, "-"), cmp.Or(e.Date, "-"), cmp.Or(c.words("changes", label, e.Changes), "-")})
	}
	t.Why = c.because("changes", []Why{{Fact: "the recipe"}})
	c.add(t)
}

// method tells per class how it was found.
func (c *composer) method() {
	var lines []string
	for _, h := range c.m.Declared.All() {
		how := "method.calc"
		if c.m.Mixture.Tested.Hazards.Has(h) || h.Class().Group() == ghs.PhysicalGroup {
			how = "method.test"
		}
		lines = append(lines, className(h, c.w)+": "+c.w.say(how))
	}
	c.fill("method", c.w.say("method"), cmp.Or(strings.Join(lines, "\n"), c.w.say("none")), Why{Rule: "article 9 of CLP"})
}

// fullText prints the statements of product and listed ingredients in full.
func (c *composer) fullText() {
	var codes []ghs.Code
	add := func(h ghs.Hazard) {
		e, ok := c.m.RuleSet.Elements(h)
		if !ok {
			return
		}
		for _, code := range e.Codes {
			if !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	for _, h := range c.m.Declared.All() {
		add(h)
	}
	for _, e := range c.listed {
		for _, h := range c.m.Mixture.Ingredients[e.Index].Hazards.All() {
			if c.m.RuleSet.Exists(h) {
				add(h)
			}
		}
	}
	for _, e := range c.m.Label.Hazard {
		if e.Need != classify.Omitted && !slices.Contains(codes, e.Value) {
			codes = append(codes, e.Value)
		}
	}
	slices.Sort(codes)
	var lines []string
	for _, code := range codes {
		if p := c.phrase(code); p != "" {
			lines = append(lines, code.Printed()+" "+p)
		}
	}
	c.fill("full_text", c.w.say("fulltext"), cmp.Or(strings.Join(lines, "\n"), c.w.say("none")))
}
