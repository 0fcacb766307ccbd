package blend

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// composer fills the sections of one draft, item and fact together.
type composer struct {
	m       *Mix
	r       *Recipe
	w       dictionary
	out     *Draft
	cur     *Section
	listed  []Listed
	ship    Proposal
	un      *Mix // the mix under the model regulations, for transport and aquatic classes
	pending []Question
}

// ask adds a question that only the author can answer.
func (m *Mix) ask(field string, text func(dictionary) string) { m.askWhy(field, Why{}, text) }

func (m *Mix) askWhy(field string, why Why, text func(dictionary) string) {
	m.questions = append(m.questions, Question{Field: field, Why: why, make: text})
}

// Draft writes the sheet in a language. It fails when the language has no words here.
func (m *Mix) Draft(l ghs.Lang, stock Stock) (*Draft, error) {
	w, ok := dictionaries()[l]
	if !ok {
		return nil, fmt.Errorf("no sheet can be drafted in %q: use %v", l, ghs.Langs())
	}
	un, err := makeMix(m.Recipe, stock, ghs.UNGHS)
	if err != nil {
		return nil, err
	}
	c := &composer{m: m, r: m.Recipe, w: w, un: un, listed: m.Disclosed(l), ship: propose(un)}
	c.out = &Draft{Product: m.Recipe.Product, RuleSet: m.RuleSet, Lang: l, Title: w.say("doc.sds"), Notice: w.say("draft.notice"), Asks: w.say("draft.questions"),
		Law: w.say("doc.law." + c.law()), Date: m.Recipe.Revision.Date, Version: m.Recipe.Revision.Version,
		Facts: &sheet.Sheet{Language: stated(l), Jurisdiction: stated(m.RuleSet)}}
	for i, fill := range []func(){c.identification, c.hazards, c.composition, c.firstAid, c.fire, c.spill, c.handling, c.control,
		c.physical, c.stability, c.toxicology, c.ecology, c.disposal, c.transport, c.regulation, c.other} {
		h, _ := headingOf(fmt.Sprint(i+1), m.RuleSet)
		c.cur = &Section{Number: i + 1, Heading: h.titles[l]}
		fill()
		c.out.Sections = append(c.out.Sections, *c.cur)
	}
	c.gather()
	if v := m.Recipe.Revision; v.Date != "" {
		c.out.DateLine = w.say("revision") + ": " + v.Date
	}
	return c.out, nil
}

func (c *composer) law() string {
	switch c.m.RuleSet {
	case ghs.EUCLP:
		return "eu"
	case ghs.CAHPR:
		return "ca"
	}
	return "us"
}

// gather puts the questions of mixing before those of drafting, each once, in the order of the sections.
func (c *composer) gather() {
	all := slices.Concat(c.m.questions, c.pending)
	for _, q := range all {
		q.Text = q.make(c.w)
		if r, ok := required(c.m.RuleSet, q.Field); ok && q.Section == 0 {
			q.Section = r.Section
			q.Why.Clause = cmp.Or(q.Why.Clause, r.Clause)
			q.Why.Memory = q.Why.Memory || q.Why.Clause == r.Clause && r.Memory
		}
		if !slices.ContainsFunc(c.out.Questions, func(o Question) bool { return o.Text == q.Text }) {
			c.out.Questions = append(c.out.Questions, q)
		}
	}
	slices.SortStableFunc(c.out.Questions, func(a, b Question) int { return cmp.Compare(a.Section, b.Section) })
}

func (c *composer) ask(field, key string, fill ...string) {
	c.pending = append(c.pending, Question{Field: field, Section: c.cur.Number, make: func(w dictionary) string { return w.say(key, fill...) }})
}

// sub begins a subsection; one that the rule set does not have is left out.
func (c *composer) sub(ref string) {
	if h, ok := headingOf(ref, c.m.RuleSet); ok {
		c.cur.Items = append(c.cur.Items, Item{Kind: Subheading, Label: ref, Text: h.titles[c.w.lang]})
	}
}

func (c *composer) add(i Item) { c.cur.Items = append(c.cur.Items, i) }

// say adds a labelled line. The clause of the field is added to what stands behind it.
func (c *composer) say(field, label, text string, why ...Why) {
	if text == "" {
		return
	}
	c.add(Item{Kind: Field, Field: field, Label: label, Text: text, Why: c.because(field, why)})
}

// tell adds a paragraph.
func (c *composer) tell(field, text string, why ...Why) {
	if text != "" {
		c.add(Item{Kind: Paragraph, Field: field, Text: text, Why: c.because(field, why)})
	}
}

func (c *composer) because(field string, why []Why) []Why {
	r, ok := required(c.m.RuleSet, field)
	if !ok && len(why) == 0 {
		return []Why{{Rule: "a line that orders or explains the others"}}
	}
	if !ok {
		return why
	}
	return append(slices.Clone(why), Why{Rule: r.What, Clause: r.Clause, Memory: r.Memory})
}

// open prints that a field is open, and asks for it.
func (c *composer) open(field, label string) {
	c.add(Item{Kind: Field, Field: field, Label: label, Text: c.w.say("open"), Open: true, Why: c.because(field, nil)})
	c.ask(field, "ask.field", "s", fmt.Sprint(c.cur.Number), "x", label)
}

// author prints what the author says of a field: a text, "no data available" or "not applicable". It is false when the
// author says nothing. The state tells a reader of facts what kind of answer it is.
func (c *composer) author(field, label string) (sheet.State, bool) {
	why := Why{Fact: "the author says so in the recipe"}
	if words, ok := c.r.Texts[field]; ok {
		c.say(field, label, c.words(field, label, words), why)
		return sheet.Stated, true
	}
	if slices.Contains(c.r.NoData, field) {
		c.say(field, label, c.w.say("nodata"), why)
		return sheet.NoData, true
	}
	if slices.Contains(c.r.NotApplies, field) {
		c.say(field, label, c.w.say("notapplicable"), why)
		return sheet.NotApplicable, true
	}
	return sheet.NotStated, false
}

// words is a text of the author in the sheet's language; when it has to be taken from another one, the author is told.
func (c *composer) words(field, label string, w Words) string {
	text, ok := w.In(c.w.lang)
	if !ok {
		c.ask(field, "ask.language", "s", fmt.Sprint(c.cur.Number), "x", label)
	}
	return text
}

// fill says a field by the author's word, else by the text given, else asks for it.
func (c *composer) fill(field, label, text string, why ...Why) {
	if _, ok := c.author(field, label); ok {
		return
	}
	if text == "" {
		c.open(field, label)
		return
	}
	c.say(field, label, text, why...)
}

func common(what string) Why { return Why{Rule: "common practice: " + what} }

// phrase is a statement of the standard in the sheet's language with its open places filled.
func (c *composer) phrase(code ghs.Code) string {
	organs, _ := c.r.Organs[string(code)].In(c.w.lang)
	text, ok := c.m.RuleSet.Phrase(code, c.w.lang, ghs.Blanks{Substance: strings.Join(c.namedBy(code), ", "), Organs: organs})
	if !ok {
		return ""
	}
	if !strings.Contains(text, "…") {
		return text
	}
	text = strings.NewReplacer("… °C/… °F", "25 °C/77 °F", "… °C", "25 °C", "/ …", "", "/…", "").Replace(text)
	for _, part := range code.Parts() {
		if w := c.w.say("fill." + string(part)); !strings.HasPrefix(w, "[") {
			text = strings.ReplaceAll(text, "…", w)
		}
	}
	text = strings.TrimSpace(strings.ReplaceAll(text, "..", "."))
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "]") {
		text += "."
	}
	return text
}

// namedBy are the ingredients that a supplemental statement names.
func (c *composer) namedBy(code ghs.Code) []string {
	var out []string
	for _, s := range c.m.Label.Supplements {
		if s.Code != code {
			continue
		}
		for _, n := range s.Ingredients {
			out = append(out, c.localName(n))
		}
	}
	return out
}

// localName is the printed name of an ingredient named by the classification.
func (c *composer) localName(name string) string {
	for i, in := range c.m.Mixture.Ingredients {
		if in.Name == name {
			return c.m.nameOf(i, c.w.lang)
		}
	}
	return name
}

// precautions are the phrases of those printed statements that begin with one of the codes, without their codes.
func (c *composer) precautions(starts ...string) (text string, why []Why) {
	var lines []string
	for _, e := range c.m.Label.Precautionary {
		for _, s := range starts {
			if strings.HasPrefix(string(e.Value), s) {
				if p := c.phrase(e.Value); p != "" && !slices.Contains(lines, p) {
					lines = append(lines, p)
					why = append(why, Why{Fact: fmt.Sprint(e.From), Rule: e.Value.Printed() + " " + e.Why, Clause: e.Clause})
				}
				break
			}
		}
	}
	return strings.Join(lines, " "), why
}

// declared tells whether one of the classes is declared.
func (c *composer) declared(classes ...ghs.Class) bool {
	return slices.ContainsFunc(c.m.Declared.All(), func(h ghs.Hazard) bool { return slices.Contains(classes, h.Class()) })
}

func (c *composer) has(hs ...ghs.Hazard) bool {
	return !c.m.Declared.Intersect(ghs.SetOf(hs...)).Empty()
}

func (c *composer) corrosive() bool { return corrosive(c.m.Declared) }

// flammable tells whether the product burns at room temperature: a flammable liquid, solid or gas.
func (c *composer) flammable() bool {
	return c.declared(ghs.FlammableLiquids, ghs.FlammableSolids, ghs.FlammableGases, ghs.Aerosols)
}

// families are the kinds of substance in the product at one percent or more, and isocyanates and peroxides at any share.
func (c *composer) family(names ...string) bool {
	for i, p := range c.m.Parts {
		_, hi := c.m.Mixture.Ingredients[i].Bounds()
		if p.Row == nil || hi <= 0 {
			continue
		}
		rare := p.Row.Family == "isocyanate" || p.Row.Family == "peroxide"
		if slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(p.Row.Family, n) }) && (hi >= 1 || rare) {
			return true
		}
	}
	return c.familyBySheet(names)
}

// familyBySheet knows the isocyanates and epoxides that only a supplier's sheet names.
func (c *composer) familyBySheet(names []string) bool {
	for i, in := range c.m.Mixture.Ingredients {
		if c.m.Parts[i].Row != nil {
			continue
		}
		name := strings.ToLower(in.Name)
		if slices.Contains(names, "isocyanate") && strings.Contains(name, "isocyanat") || slices.Contains(names, "epoxy resin") && (strings.Contains(name, "epox") || strings.Contains(name, "glycidyl")) {
			return true
		}
	}
	return false
}

func (c *composer) powder() bool { return c.r.Appearance.State == "powder" }
