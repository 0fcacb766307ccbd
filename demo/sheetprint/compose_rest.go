package sheetprint

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"sixteen/ghs"
	"sixteen/sheet"
)

func (c *composer) firstAid() {
	corrosive := c.has("Skin Corr.")
	c.sub("4.1")
	c.say("inhalation", c.sentence("aid.inhalation"))
	skin := c.sentence("aid.skin")
	if corrosive {
		skin = c.sentence("aid.skin.corrosive")
	}
	if c.has("Skin Sens.") {
		skin += " " + c.sentence("aid.skin.sens")
	}
	c.say("skincontact", skin)
	eyes := "aid.eyes"
	if corrosive || c.has("Eye Dam.") {
		eyes = "aid.eyes.damage"
	}
	c.say("eyecontact", c.sentence(eyes))
	c.say("ingestion", c.sentence("aid.ingestion"))
	c.sub("4.2")
	c.say("symptoms", c.symptoms())
	c.sub("4.3")
	c.say("doctor", c.sentence("doctor.text"))
}

func (c *composer) symptoms() string {
	keys := []struct {
		when bool
		key  string
	}{
		{c.has("Skin Corr."), "sym.corrosive"},
		{c.has("Skin Irrit.", "Eye Irrit.", "Eye Dam."), "sym.irritant"},
		{c.has("Skin Sens."), "sym.sens"},
		{c.has("Resp. Sens."), "sym.asthma"},
		{c.has("STOT SE 3", "Acute Tox."), "sym.vapour"},
	}
	var out []string
	for _, k := range keys {
		if k.when {
			out = append(out, c.sentence(k.key))
		}
	}
	if len(out) == 0 {
		return c.w("otherhazards.none")
	}
	return strings.Join(out, " ")
}

func (c *composer) fire() {
	c.sub("5.1")
	c.say("media", c.sentence("media.text"))
	c.say("unmedia", c.sentence("unmedia.text"))
	if c.l.FlashInFive {
		label, value := c.property(sheet.FlashPoint)
		c.sayRaw(label, value)
	}
	c.sub("5.2")
	key := "fire.normal"
	switch {
	case c.has("Org. Perox."):
		key = "fire.peroxide"
	case c.has("Flam. Liq. 1", "Flam. Liq. 2", "Flam. Liq. 3"):
		key = "fire.flammable"
	}
	c.text(c.sentence(key))
	c.sub("5.3")
	c.text(c.sentence("firefighters"))
}

func (c *composer) spill() {
	c.sub("6.1")
	c.text(c.sentence("spill.personal"))
	c.sub("6.2")
	c.text(c.sentence("spill.environment"))
	c.sub("6.3")
	c.text(c.sentence("spill.method"))
}

func (c *composer) handling() {
	c.sub("7.1")
	s := c.sentence("handling.general")
	if c.has("Flam. Liq. 1", "Flam. Liq. 2", "Flam. Liq. 3", "Org. Perox.") {
		s += " " + c.sentence("handling.flammable")
	}
	c.text(s)
	c.sub("7.2")
	c.text(c.sentence("storage.text") + " " + c.sentence("storage.apart", "x", c.d.say("incompatible.text")))
}

// ---- section 9

func (c *composer) physical() {
	s := c.spec
	c.sub("9.1")
	var rows [][]string
	row := func(label, value string) {
		if value != "" {
			rows = append(rows, []string{label, value})
		}
	}
	row(c.w("state"), c.w("state."+s.State))
	row(c.w("colour"), c.w("colour."+s.Colour))
	row(c.w("odour"), c.w("odour."+s.Odour))
	for _, p := range []sheet.Property{sheet.PH, sheet.MeltingPoint, sheet.BoilingPoint, sheet.FlashPoint, sheet.EvaporationRate,
		sheet.LowerFlammable, sheet.VapourPressure, sheet.VapourDensity, sheet.Density, sheet.WaterSolubility, sheet.LogKow,
		sheet.AutoIgnition, sheet.Decomposition, sheet.DynamicViscosity, sheet.KinematicViscosity, sheet.VOC} {
		if p == sheet.FlashPoint && c.l.FlashInFive {
			continue
		}
		label, value := c.property(p)
		row(label, value)
	}
	if c.l.PropertyTable {
		c.add(table{widths: []float64{.45, .55}, rows: rows})
		return
	}
	for _, r := range rows {
		c.sayRaw(r[0], r[1])
	}
}

// property writes one property and records its truth; value is "" when the sheet does not print it.
func (c *composer) property(p sheet.Property) (label, value string) {
	v, ok := c.spec.Properties[p]
	if !ok {
		return "", ""
	}
	label = c.w(string(p))
	if p == sheet.LowerFlammable {
		return c.w("limits_flammable"), c.flammable()
	}
	if v.NoData && c.l.Abbreviated {
		return label, c.d.say("nodata.short")
	}
	if v.NoData {
		return label, c.w("nodata")
	}
	var q QuantityTrue
	t := c.truth
	switch p {
	case sheet.FlashPoint:
		value, q = c.l.temperature(v.Interval)
		value = c.withCup(value, v, &q)
		t.FlashPointC = &q
	case sheet.BoilingPoint:
		value, q = c.l.temperature(v.Interval)
		t.BoilingPointC = &q
	case sheet.MeltingPoint, sheet.Decomposition:
		value, _ = c.l.temperature(v.Interval)
	case sheet.AutoIgnition:
		value, q = c.l.temperature(v.Interval)
		t.AutoIgnitionC = &q
	case sheet.VapourPressure:
		value, q = c.l.pressure(v)
		t.VapourPressure = &q
	case sheet.Density:
		if c.l.DensityUnit == "relative" {
			label = c.w("density.rel")
		}
		value, q = c.l.density(v)
		t.Density = &q
	case sheet.PH:
		value, q = c.l.scaled(v.Interval, 1, 3, "", "")
		t.PH = &q
	case sheet.VOC:
		value, q = c.l.voc(v)
		t.VOC = &q
	case sheet.KinematicViscosity:
		value, q = c.l.scaled(v.Interval, 1, 3, "mm2/s", "mm²/s")
		t.KinematicVisc = &q
	case sheet.DynamicViscosity:
		value, q = c.l.scaled(v.Interval, 1, 3, "mPa·s", "mPa·s")
		t.DynamicVisc = &q
	case sheet.WaterSolubility:
		if v.Lo < 1 {
			return label, c.w("sol.insoluble")
		}
		return label, c.w("sol.partly")
	default:
		value, _ = c.l.scaled(v.Interval, 1, 3, "", "")
	}
	return label, value
}

func (c *composer) withCup(s string, v Value, q *QuantityTrue) string {
	q.Cup, q.Method = v.Cup, v.Method
	var notes []string
	if v.Cup != "" {
		notes = append(notes, c.w(v.Cup+"cup"))
	}
	if v.Method != "" {
		notes = append(notes, v.Method)
	}
	if len(notes) == 0 {
		return s
	}
	return s + ", " + strings.Join(notes, ", ")
}

func (c *composer) flammable() string {
	lo, hi := c.spec.Properties[sheet.LowerFlammable], c.spec.Properties[sheet.UpperFlammable]
	s1, q1 := c.l.scaled(lo.Interval, 1, 3, "% vol", "%")
	c.truth.LowerFlammable = &q1
	if !hi.HasHi {
		return c.w("lower") + " " + s1
	}
	s2, q2 := c.l.scaled(hi.Interval, 1, 3, "% vol", "%")
	c.truth.UpperFlammable = &q2
	return c.w("lower") + " " + s1 + ", " + c.w("upper") + " " + s2
}

// ---- sections 10 to 13

func (c *composer) stability() {
	for i, key := range []string{"reactivity.text", "stability.text", "reactions.text", "avoid.text", "incompatible.text", "decomp.text"} {
		sub := fmt.Sprintf("10.%d", i+1)
		text := c.sentence(key)
		if key == "incompatible.text" {
			first, size := utf8.DecodeRuneInString(text)
			text = string(unicode.ToUpper(first)) + text[size:] + "."
		}
		if c.l.Subheads {
			c.sub(sub)
			c.text(text)
			continue
		}
		c.sayRaw(c.d.say("h"+sub), text)
	}
}

// effects are the effects that section 11 speaks of: the key of their words, the name that package sheet has for them, and
// the classes of section 2 that they come from.
var effects = []struct {
	key, name string
	classes   []string
}{
	{"e.skin", "skin", []string{"Skin Corr.", "Skin Irrit."}},
	{"e.eye", "eye", []string{"Eye Dam.", "Eye Irrit."}},
	{"e.sens", "skin_sens", []string{"Resp. Sens.", "Skin Sens."}},
	{"e.muta", "muta", []string{"Muta."}},
	{"e.carc", "carc", []string{"Carc."}},
	{"e.repr", "repr", []string{"Repr."}},
	{"e.stotse", "stot_se", []string{"STOT SE"}},
	{"e.stotre", "stot_re", []string{"STOT RE"}},
	{"e.asp", "asp", []string{"Asp. Tox."}},
}

func (c *composer) toxicology() {
	s := c.spec
	c.sub("11.1")
	var lines []string
	for _, t := range s.Tox {
		lines = append(lines, c.toxLine(t))
	}
	if len(lines) == 0 {
		lines = []string{c.w("nodata")}
	}
	c.sayRaw(c.w("acute"), strings.Join(lines, "\n"))
	for _, e := range effects {
		said := c.says(e.key, e.classes)
		if e.key == "e.carc" {
			for _, k := range s.Carcinogens {
				c.truth.Carcinogens = append(c.truth.Carcinogens, CarcinogenTrue{k.CAS, k.Agency, k.Group})
				said += fmt.Sprintf("\n%s (%s): %s %s", k.Name, k.CAS, k.Agency, c.w("group", "g", k.Group))
			}
		}
		c.sayRaw(c.w(e.key), said)
	}
}

// says is what section 11 says of one effect: what the classes of section 2 say, unless a sentence of the sheet replaces it.
func (c *composer) says(key string, classes []string) string {
	if said, ok := c.spec.Sentences["says."+key]; ok {
		return said
	}
	return c.endpoint(classes)
}

func (c *composer) endpoint(classes []string) string {
	if c.spec.PreGHS {
		return c.w("nodata")
	}
	var out []string
	for _, k := range c.spec.Classes {
		for _, n := range classes {
			if strings.HasPrefix(k.Name, n) {
				out = append(out, cmp.Or(phrase(k.Code, c.spec), string(k.Code)))
			}
		}
	}
	if len(out) == 0 {
		return c.sentence("e.notmet")
	}
	return strings.Join(out, " ")
}

func (c *composer) toxLine(t Tox) string {
	op := ""
	if t.MoreThan {
		op = ">"
	}
	c.truth.ToxValues = append(c.truth.ToxValues, ToxTrue{t.CAS, t.Measure, t.Route, op, t.Value, t.Unit})
	s := ""
	if t.Name != "" {
		s = t.Name + ": "
	}
	if op != "" {
		op += " "
	}
	s += fmt.Sprintf("%s %s", t.Measure, c.d.say("route."+t.Route))
	if t.Species != "" {
		s += ", " + c.d.say(t.Species)
	}
	if t.Hours > 0 {
		s += fmt.Sprintf(", %v h", t.Hours)
	}
	return s + ": " + op + c.l.number(t.Value) + " " + t.Unit
}

func (c *composer) ecology() {
	s := c.spec
	c.sub("12.1")
	if len(s.Eco) == 0 {
		c.text(c.sentence("eco.none"))
	}
	for _, e := range s.Eco {
		c.text(fmt.Sprintf("%s: %s %s, %v h: %s mg/l", e.Name, e.Measure, c.d.say("eco."+e.Group), e.Hours, c.l.number(e.Value)))
	}
	c.sub("12.2")
	c.sayRaw(c.d.say("h12.2"), c.sentence("eco.persist"))
	c.sub("12.3")
	c.sayRaw(c.d.say("h12.3"), c.sentence("eco.bio"))
	c.sub("12.4")
	c.sayRaw(c.d.say("h12.4"), c.sentence("eco.soil"))
}

func (c *composer) waste() {
	c.sub("13.1")
	c.text(c.sentence("waste.text"))
}

// ---- section 14

func (c *composer) transport() {
	t := c.spec.Transport
	c.sub("14.1")
	if t.UN == "" {
		c.truth.TransportClear = true
		for _, m := range t.Modes {
			c.sayRaw(m, c.w("notregulated"))
		}
		if len(t.Modes) == 0 {
			c.text(c.w("notregulated"))
		}
		return
	}
	c.truth.UN, c.truth.TransportClass, c.truth.PackingGroup = optional(t.UN), optional(t.Class), optional(t.PackingGroup)
	env := c.w(map[bool]string{true: "yes", false: "no"}[t.MarinePollutant])
	if len(t.Modes) > 1 && c.l.Columns == 1 && c.l.Number%2 == 0 {
		tb := table{head: append([]string{""}, t.Modes...), widths: []float64{.3}}
		for range t.Modes {
			tb.widths = append(tb.widths, .7/float64(len(t.Modes)))
		}
		for _, r := range [][2]string{{"un", "UN " + t.UN}, {"shipname", t.ProperName}, {"tclass", t.Class}, {"pg", orDash(t.PackingGroup)}, {"envhaz", env}} {
			tb.rows = append(tb.rows, append([]string{c.w(r[0])}, slices.Repeat([]string{r[1]}, len(t.Modes))...))
		}
		c.add(tb)
		return
	}
	if len(t.Modes) > 0 {
		c.say("mode", strings.Join(t.Modes, " / "))
	}
	un := t.UN
	if c.l.Seed%3 != 0 {
		un = "UN" + un
	}
	c.say("un", un)
	c.say("shipname", t.ProperName)
	c.say("tclass", t.Class)
	c.say("pg", orDash(t.PackingGroup))
	c.say("envhaz", env)
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// ---- sections 15 and 16

func (c *composer) regulation() {
	c.sub("15.1")
	switch {
	case europeanRules(c.spec.Rules):
		c.text(c.sentence("reg.eu"))
		c.sub("15.2")
		c.text(c.sentence("csa.text"))
	case c.spec.Rules == ghs.CAHPR:
		c.text(c.sentence("reg.ca"))
	default:
		c.text(c.sentence("reg.us"))
	}
}

func (c *composer) other() {
	s := c.spec
	if c.l.RunHead {
		c.dates()
	}
	c.say("printed", c.l.date(s.Printed, s.Lang))
	if s.RevisionsList {
		c.say("changes", c.sentence("changes.text", "x", "2, 3, 8"))
	}
	if !c.l.RatingsFirst {
		c.ratings()
	}
	if c.l.FullText && !s.PreGHS {
		c.fullText()
	}
	if c.l.Legend && !s.PreGHS {
		c.legend()
	}
	c.say("abbr", c.sentence("abbr.text"))
	c.text(c.sentence("disclaimer"))
}

// legend explains all nine pictograms by name, whatever the product carries.
func (c *composer) legend() {
	var names []string
	for _, p := range ghs.Pictograms() {
		names = append(names, fmt.Sprintf("%s %s", p, c.d.say(p.String())))
	}
	c.say("legend", strings.Join(names, ", "))
}

// fullText lists the statements of product and ingredients, the legend that careless readers take for the product's.
func (c *composer) fullText() {
	codes := slices.Clone(c.spec.Statements)
	for _, in := range c.spec.Ingredients {
		for _, k := range in.Classes {
			if k.Code != "" && !slices.Contains(codes, k.Code) {
				codes = append(codes, k.Code)
			}
		}
	}
	slices.Sort(codes)
	if len(codes) > 0 {
		c.say("fulltext", c.statements(codes, CodePhrase))
	}
}
