package sheetprint

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// section is one section of the sheet as blocks, before it is placed on pages. means is its number in the present order.
type section struct {
	means  int
	title  string
	blocks []block
}

// block is one piece of a section: field, para, table, pictos, ratings or subhead.
type block interface{}

type field struct {
	label, value string
}

type para struct {
	text string
	bold bool
	note bool // small print
}

type subhead struct {
	key   string // "2.1"; printed with the section's own number
	title string
}

type table struct {
	head   []string
	widths []float64 // shares of the line
	rows   [][]string
}

type pictos struct {
	label string
	all   []ghs.Pictogram
}

type ratings struct {
	nfpa, hmis *Ratings
}

// composer fills the sections from a Spec in the words and units of a Layout, and records the truth as it goes.
type composer struct {
	spec   Spec
	l      Layout
	d      dictionary
	truth  *Truth
	cur    *section
	marked []string // footnotes of the current section
}

func (c *composer) w(key string, fill ...string) string { return c.l.word(c.d, key, fill...) }

// sentence is a stock sentence unless the Spec replaces it.
func (c *composer) sentence(key string, fill ...string) string {
	if s, ok := c.spec.Sentences[key]; ok {
		return s
	}
	return c.w(key, fill...)
}

func (c *composer) add(b block)             { c.cur.blocks = append(c.cur.blocks, b) }
func (c *composer) text(s string)           { c.add(para{text: s}) }
func (c *composer) say(label, value string) { c.sayRaw(c.w(label), value) }
func (c *composer) sub(key string)          { c.add(subhead{key: key, title: c.d.say("h" + key)}) }

func (c *composer) sayRaw(label, value string) {
	if value != "" {
		c.add(field{label, value})
	}
}

// compose makes all sections in the order of the layout.
func compose(s Spec, l Layout) ([]section, *Truth, error) {
	d, err := loadWords(s.Lang)
	if err != nil {
		return nil, nil, err
	}
	c := &composer{spec: s, l: l, d: d, truth: newTruth(s, l)}
	parts := []func(){c.identification, c.hazards, c.composition, c.firstAid, c.fire, c.spill, c.handling, c.control,
		c.physical, c.stability, c.toxicology, c.ecology, c.waste, c.transport, c.regulation, c.other}
	order := []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}
	if l.OldOrder {
		order[1], order[2] = 3, 2
	}
	var out []section
	for _, n := range order {
		if slices.Contains(s.OmitSections, n) {
			continue
		}
		c.cur, c.marked = &section{means: n, title: c.w(fmt.Sprintf("s%d", n))}, nil
		parts[n-1]()
		for _, m := range c.marked {
			c.add(para{text: m, note: true})
		}
		out = append(out, *c.cur)
	}
	return out, c.truth, nil
}

func newTruth(s Spec, l Layout) *Truth {
	t := &Truth{Kind: "text", Language: string(s.Lang), Jurisdiction: string(s.Rules), Format: l.Name, Product: s.Product,
		Supplier: s.Supplier.Name, EmergencyPhone: s.Emergency, Version: s.Version, HeadingNumbers: "arabic"}
	switch l.Numbers {
	case Roman:
		t.HeadingNumbers = "roman"
	case Unnumbered:
		t.HeadingNumbers = "none"
	}
	t.RevisionDate, t.SupersedesDate = optional(s.Revision), optional(s.Supersedes)
	return t
}

func optional(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

// ---- section 1

func (c *composer) identification() {
	s := c.spec
	c.sub("1.1")
	c.say("product", s.Product)
	c.say("code", s.Code)
	c.say("ufi", s.UFI)
	c.sub("1.2")
	c.say("use", s.Use)
	c.say("useagainst", s.UseAgainst)
	c.sub("1.3")
	c.say("supplier", s.Supplier.Name)
	c.say("address", strings.Join(s.Supplier.Address, ", "))
	c.say("phone", s.Supplier.Phone)
	c.say("email", s.Supplier.Email)
	c.sub("1.4")
	c.say("emergency", s.Emergency)
	if !c.l.RunHead {
		c.dates()
	}
}

// dates are the document's own dates and version.
func (c *composer) dates() {
	s := c.spec
	c.say("revision", c.l.date(s.Revision, s.Lang))
	c.say("supersedes", c.l.date(s.Supersedes, s.Lang))
	c.say("version", s.Version)
}

// ---- section 2

func (c *composer) hazards() {
	s := c.spec
	c.sub("2.1")
	if s.PreGHS {
		c.oldHazards()
		return
	}
	c.truth.Classification = []string{}
	for _, k := range s.Classes {
		if !slices.Contains(c.truth.Classification, k.String()) {
			c.truth.Classification = append(c.truth.Classification, k.String())
		}
	}
	c.classes(s.Classes)
	c.sub("2.2")
	c.labelElements()
	if len(s.Unknown) > 0 {
		c.unknown()
	}
	c.sub("2.3")
	other := s.OtherHazards
	if other == "" {
		other = c.sentence(map[bool]string{true: "otherhazards.pbt", false: "otherhazards.none"}[europeanRules(s.Rules)])
	}
	c.say("otherhazards", other)
	if c.l.RatingsFirst {
		c.ratings()
	}
}

func (c *composer) oldHazards() {
	s := c.spec
	c.truth.RPhrases = s.RiskPhrases
	c.say("overview", strings.Join(s.ExtraPhrases, " "))
	if len(s.RiskPhrases) > 0 {
		c.say("risk", strings.Join(s.RiskPhrases, ", "))
	}
	if c.l.RatingsFirst {
		c.ratings()
	}
}

func (c *composer) classes(ks []Class) {
	if len(ks) == 0 {
		c.sayRaw(c.w("classification"), c.sentence("notclassified"))
		return
	}
	switch c.l.Classes {
	case ClassTabled:
		t := table{head: []string{c.w("classification"), c.w("category"), c.d.say("hcode")}, widths: []float64{.6, .2, .2}}
		for _, k := range ks {
			name, cat := c.longClass(k)
			t.rows = append(t.rows, []string{name, c.w("category") + " " + cat, string(k.Code)})
		}
		c.add(t)
	case ClassLong:
		var lines []string
		for _, k := range ks {
			name, cat := c.longClass(k)
			lines = append(lines, fmt.Sprintf("%s, %s %s", name, c.w("category"), cat))
		}
		c.sayRaw(c.w("classification"), strings.Join(lines, "\n"))
	default:
		var lines []string
		for _, k := range ks {
			lines = append(lines, c.shortClass(k))
		}
		c.sayRaw(c.w("classification"), strings.Join(lines, "\n"))
	}
}

func (c *composer) shortClass(k Class) string {
	s := k.Name
	if k.Route != "" {
		s += " (" + c.d.say("route."+k.Route) + ")"
	}
	if k.Code != "" {
		s += ", " + string(k.Code)
	}
	return s
}

// longClass splits a class into its full name in the sheet's language and its category.
func (c *composer) longClass(k Class) (name, category string) {
	i := strings.LastIndex(k.Name, " ")
	name, category = c.w("c."+k.Name[:i]), k.Name[i+1:]
	if k.Route != "" {
		name += " (" + c.d.say("route."+k.Route) + ")"
	}
	return name, category
}

func (c *composer) labelElements() {
	s, t := c.spec, c.truth
	t.HCodes, t.PCodes, t.EUHCodes = codeStrings(s.Statements), codeStrings(s.Precautions), codeStrings(s.Supplemental)
	t.Pictograms = []string{}
	for _, p := range s.Pictograms {
		t.Pictograms = append(t.Pictograms, fmt.Sprintf("GHS%02d", p))
	}
	if c.l.Classes != ClassLong {
		t.HCodes = withClassCodes(t.HCodes, s.Classes)
	}
	c.pictograms()
	c.signalWord()
	if len(s.Contains) > 0 {
		c.say("contains", strings.Join(s.Contains, "; "))
	}
	if len(s.Statements) > 0 {
		c.say("hstatements", c.statements(s.Statements, c.l.HStyle))
		t.FromPhrases = c.l.HStyle == PhraseOnly && phrase(s.Statements[0], s) != ""
	}
	if len(s.ExtraPhrases) > 0 {
		c.text(strings.Join(s.ExtraPhrases, "\n"))
	}
	if len(s.Supplemental) > 0 {
		c.say("supplemental", c.statements(s.Supplemental, CodePhrase))
	}
	c.precautions()
}

// withClassCodes adds the codes that only the list of classes prints: the record takes section 2 as a whole.
func withClassCodes(codes []string, classes []Class) []string {
	for _, k := range classes {
		if k.Code != "" && !slices.Contains(codes, string(k.Code)) {
			codes = append(codes, string(k.Code))
		}
	}
	slices.Sort(codes)
	return codes
}

func (c *composer) pictograms() {
	s := c.spec
	if len(s.Pictograms) == 0 {
		c.say("pictograms", c.w("none"))
		return
	}
	var names []string
	for _, p := range s.Pictograms {
		code := fmt.Sprintf("GHS%02d", p)
		if c.l.Pictograms == CodedPictograms {
			names = append(names, code)
			continue
		}
		names = append(names, c.d.say(code))
	}
	if c.l.Pictograms == DrawnPictograms || c.l.Pictograms == BitmapPictograms {
		c.truth.PictogramsDrawn = true
		c.add(pictos{label: c.w("pictograms"), all: s.Pictograms})
		return
	}
	c.say("pictograms", strings.Join(names, ", "))
}

func (c *composer) signalWord() {
	word := c.spec.SignalWord
	switch word {
	case "":
		c.say("signal", c.w("nosignal"))
		return
	case "Danger", "Warning":
		c.truth.SignalWord, c.truth.SignalPrinted = &word, c.w(word)
	default:
		c.truth.SignalPrinted = word
	}
	c.say("signal", c.truth.SignalPrinted)
}

func (c *composer) statements(codes []ghs.Code, style StatementStyle) string {
	var lines []string
	for _, code := range codes {
		p, style := phrase(code, c.spec), style
		if c.l.LoudH && code[0] == 'H' {
			p = strings.ToUpper(p)
		}
		if p == "" {
			style = CodeOnly
		}
		switch style {
		case CodeColon:
			p = string(code) + ": " + p
		case PhraseCode:
			p = p + " (" + string(code) + ")"
		case CodeOnly, CodesJoined:
			p = string(code)
		case CodePhrase:
			p = string(code) + " " + p
		}
		lines = append(lines, p)
	}
	if style == CodeOnly {
		return strings.Join(lines, ", ")
	}
	if style == CodesJoined {
		return strings.ReplaceAll(strings.Join(lines, "-"), "-H", "-")
	}
	return strings.Join(lines, "\n")
}

// precautions groups the P statements by their hundreds, as the standard does.
func (c *composer) precautions() {
	s := c.spec
	if len(s.Precautions) == 0 {
		return
	}
	if c.l.PStyle == PhraseOnly && phrase(s.Precautions[0], s) != "" {
		c.truth.PCodes = nil
	}
	if c.l.PStyle == CodeOnly || c.l.Columns == 2 {
		c.say("pstatements", c.statements(s.Precautions, c.l.PStyle))
		return
	}
	c.add(para{text: c.w("pstatements"), bold: true})
	for i, key := range []string{"prevention", "response", "storage", "disposal"} {
		var group []ghs.Code
		for _, p := range s.Precautions {
			if strings.HasPrefix(string(p), fmt.Sprintf("P%d", i+2)) {
				group = append(group, p)
			}
		}
		if len(group) > 0 {
			c.say(key, c.statements(group, c.l.PStyle))
		}
	}
}

func (c *composer) unknown() {
	for _, u := range c.spec.Unknown {
		key, route := "unknowntox.text", ""
		if u.Route != "" {
			key, route = "unknowntox.route", c.d.say("route."+u.Route)
		}
		c.say("unknowntox", c.w(key, "p", c.l.number(u.Percent), "r", route))
		c.truth.UnknownToxicity = append(c.truth.UnknownToxicity, UnknownTruth(u))
	}
}

// ---- section 3

func (c *composer) composition() {
	s := c.spec
	c.sub("3.2")
	c.text(c.sentence("mixture"))
	c.truth.Ingredients = []IngredientTrue{}
	t := table{head: []string{c.w("col.name"), c.w("col.cas")}, widths: []float64{.4, .18}}
	if c.casInName() {
		t.head, t.widths = t.head[:1], []float64{.58}
	}
	withEC := europeanRules(s.Rules)
	if withEC {
		t.head, t.widths = append(t.head, c.w("col.ec")), append(t.widths, .14)
	}
	t.head, t.widths = append(t.head, c.w("col.percent")), append(t.widths, .17)
	if c.l.IngredientH {
		t.head, t.widths = append(t.head, c.w("col.class")), append(t.widths, .34)
	}
	for i, in := range s.Ingredients {
		row := c.ingredient(in, withEC, i)
		if c.l.IngredientList {
			c.ingredientLines(row, t.head)
			continue
		}
		t.rows = append(t.rows, row)
	}
	if len(t.rows) > 0 {
		c.add(t)
	}
	if s.WithheldNote {
		c.text(c.w("secret.note"))
	}
	if c.l.IngredientH && c.l.FullText && !s.PreGHS {
		c.text(c.w("fulltext.note"))
	}
}

// ingredient is one row: name, CAS, EC, share, classes.
func (c *composer) ingredient(in Ingredient, withEC bool, i int) []string {
	tr := IngredientTrue{Name: in.Name, CAS: optional(in.CAS), EC: in.EC}
	share := c.w("secret")
	if in.Secret {
		tr.Secret = true
	} else {
		share = c.l.percent(in.Percent, c.spec.Lang, &tr)
	}
	name := in.Name
	if c.l.Footnotes && slices.ContainsFunc(c.spec.Limits, func(l Limit) bool { return l.CAS == in.CAS }) {
		name += " (1)"
		if len(c.marked) == 0 {
			c.marked = append(c.marked, "(1) "+c.d.say("limits")+": "+c.d.say("section")+" 8")
		}
	}
	row := c.numbered(name, in.CAS)
	if withEC {
		row = append(row, in.EC)
	} else {
		tr.EC = ""
	}
	row = append(row, share)
	if c.l.IngredientH {
		row = append(row, c.ingredientClasses(in, &tr))
	}
	c.truth.Ingredients = append(c.truth.Ingredients, tr)
	return row
}

func (c *composer) ingredientClasses(in Ingredient, tr *IngredientTrue) string {
	if c.spec.PreGHS {
		return ""
	}
	var lines []string
	for _, k := range in.Classes {
		if k.Code != "" && !slices.Contains(tr.HCodes, string(k.Code)) {
			tr.HCodes = append(tr.HCodes, string(k.Code))
		}
		lines = append(lines, c.shortClass(k))
	}
	if c.l.CodesOnly {
		return strings.Join(tr.HCodes, ", ")
	}
	return strings.Join(lines, "; ")
}

// casInName tells whether the CAS number stands in the cell of the name.
func (c *composer) casInName() bool {
	return !c.l.IngredientList && (c.l.CAS == CASBelow || c.l.CAS == CASBracket)
}

// numbered are the cells of name and CAS number.
func (c *composer) numbered(name, cas string) []string {
	switch {
	case cas == "":
		cas = c.w("secret")
		if c.casInName() {
			return []string{name}
		}
	case c.casInName() && c.l.CAS == CASBelow:
		return []string{name + "\n" + c.d.say("col.cas") + " " + cas}
	case c.casInName():
		return []string{name + " (" + cas + ")"}
	case c.l.CAS == CASPadded:
		cas = strings.Repeat("0", max(0, 12-len(cas))) + cas
	}
	return []string{name, cas}
}

// ingredientLines prints an ingredient as lines: name and share first, then its numbers.
func (c *composer) ingredientLines(row, head []string) {
	last := 3
	if len(head) < 4 || !europeanRules(c.spec.Rules) {
		last = 2
	}
	s := row[0] + "   " + row[last]
	if c.l.Range != RangePercent && !strings.Contains(row[last], c.w("secret")) {
		s += " %"
	}
	s += "\n" + head[1] + " " + row[1]
	if last == 3 && row[2] != "" {
		s += ", " + head[2] + " " + row[2]
	}
	c.text(s)
}

// ---- section 8

func (c *composer) control() {
	s := c.spec
	c.sub("8.1")
	c.truth.ExposureLimits = []LimitTrue{}
	c.limits()
	c.sub("8.2")
	c.say("engineering", c.sentence("engineering.text"))
	eyes := "eyes.text"
	if c.has("Skin Corr.", "Eye Dam.") {
		eyes = "eyes.tight"
	}
	c.say("eyes", c.sentence(eyes))
	if s.Gloves.Material == "" {
		c.say("hands", c.sentence("hands.vague"))
	} else {
		c.truth.GloveMaterials = []string{s.Gloves.Material}
		c.say("hands", c.w("hands.text", "m", c.w("mat."+s.Gloves.Material), "t", c.l.number(s.Gloves.ThicknessMM),
			"b", fmt.Sprint(s.Gloves.MinutesOver), "s", s.Gloves.Standard))
	}
	c.say("skin", c.sentence("skin.text"))
	switch s.Respirator {
	case "":
		c.say("resp", c.sentence("resp.normal"))
	case "supplied":
		c.say("resp", c.sentence("resp.supplied"))
	default:
		c.say("resp", c.w("resp.filter", "f", s.Respirator))
	}
	c.say("hygiene", c.sentence("hygiene.text"))
}

func (c *composer) limits() {
	if len(c.spec.Limits) == 0 {
		c.say("limits", c.sentence("limits.none"))
		return
	}
	c.add(para{text: c.w("limits"), bold: true})
	if c.l.Columns == 2 {
		c.limitLines()
		return
	}
	if c.l.LimitColumns {
		c.limitColumns()
		return
	}
	t := table{head: []string{c.w("col.name"), c.w("col.cas"), c.w("col.authority"), c.w("col.kind"), c.w("col.value")},
		widths: []float64{.3, .15, .2, .13, .27}}
	for _, l := range c.spec.Limits {
		values := c.limitValues(l)
		if l.Skin {
			values += ", " + c.d.say("skin.note")
		}
		t.rows = append(t.rows, []string{l.Name, l.CAS, l.Authority, c.kindWord(l.Kind), values})
	}
	c.add(t)
}

// limitLines prints each limit as a line of its own, for narrow columns.
func (c *composer) limitLines() {
	for _, l := range c.spec.Limits {
		s := fmt.Sprintf("%s (CAS %s)\n%s %s %s", l.Name, l.CAS, l.Authority, c.kindWord(l.Kind), c.limitValues(l))
		if l.Skin {
			s += ", " + c.d.say("skin.note")
		}
		c.text(s)
	}
}

// limitColumns prints one row per substance and list; the kind of limit is told by the column alone.
func (c *composer) limitColumns() {
	t := table{head: []string{c.w("col.name"), c.w("col.cas"), c.w("col.authority"), "TWA", "STEL", c.d.say("ceiling")},
		widths: []float64{.25, .15, .15, .17, .17, .14}}
	column := map[sheet.LimitKind]int{sheet.TWA: 3, sheet.STEL: 4, sheet.Ceiling: 5}
	index := map[string]int{}
	for _, l := range c.spec.Limits {
		key := l.CAS + l.Name + l.Authority
		i, ok := index[key]
		if !ok {
			i = len(t.rows)
			index[key] = i
			t.rows = append(t.rows, []string{l.Name, l.CAS, l.Authority, "-", "-", "-"})
		}
		t.rows[i][column[l.Kind]] = c.limitValues(l)
	}
	c.add(t)
}

func (c *composer) kindWord(k sheet.LimitKind) string {
	if k == sheet.Ceiling {
		return c.d.say("ceiling")
	}
	return string(k)
}

// limitValues writes the values of a limit and records them.
func (c *composer) limitValues(l Limit) string {
	kind := string(l.Kind)
	if l.Kind == sheet.Ceiling {
		kind = "C"
	}
	var parts []string
	one := func(v float64, unit, shown string) {
		if v == 0 {
			return
		}
		parts = append(parts, c.l.thousands(v)+" "+shown)
		t := LimitTrue{CAS: l.CAS, Name: l.Authority, Type: kind, Value: v, Unit: unit}
		if l.Skin && !c.l.LimitColumns {
			t.Remark = "Skin"
		}
		c.truth.ExposureLimits = append(c.truth.ExposureLimits, t)
	}
	one(l.PPM, "ppm", "ppm")
	one(l.MgM3, "mg/m3", "mg/"+c.l.CubicMetre)
	return strings.Join(parts, "; ")
}

// has tells whether section 2 states one of the classes.
func (c *composer) has(names ...string) bool {
	return slices.ContainsFunc(c.spec.Classes, func(k Class) bool {
		return slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(k.Name, n) })
	})
}

// ---- ratings

func (c *composer) ratings() {
	s := c.spec
	if s.NFPA == nil && s.HMIS == nil {
		return
	}
	if n := s.NFPA; n != nil {
		c.truth.Ratings.NFPA = &NFPATrue{n.Health, n.Flammability, n.Instability}
	}
	if h := s.HMIS; h != nil {
		t := &HMISTrue{H: h.Health, F: h.Flammability, P: h.Instability, PPE: optional(h.PPE)}
		if h.Chronic {
			t.H = fmt.Sprintf("%d*", h.Health)
		}
		c.truth.Ratings.HMIS = t
	}
	if c.l.Ratings != RatingWords {
		c.add(ratings{s.NFPA, s.HMIS})
		return
	}
	if n := s.NFPA; n != nil {
		c.sayRaw("NFPA", fmt.Sprintf("%s %d, %s %d, %s %d", c.w("health"), n.Health, c.w("flammability"), n.Flammability,
			c.w("instability"), n.Instability))
	}
	if h := s.HMIS; h != nil {
		s := fmt.Sprintf("%s %v, %s %d, %s %d", c.w("health"), c.truth.Ratings.HMIS.H, c.w("flammability"), h.Flammability, c.w("physhazard"), h.Instability)
		if h.PPE != "" {
			s += ", " + c.w("ppe") + " " + h.PPE
		}
		c.sayRaw("HMIS", s)
	}
}
