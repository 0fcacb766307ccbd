package paper

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"time"

	"sixteen/ghs"
	"sixteen/sheet"
)

// CardOptions are what a bench card needs to know beside the product.
type CardOptions struct {
	Lang    ghs.Lang
	Page    PageSize
	Where   string    // workplace, "" leaves it out
	Date    time.Time // of printing
	Poison  string    // telephone number of the poison centre, "" leaves a line to fill in
	Ask     string    // who answers questions in the workshop, "" leaves a line to fill in
	Letters float64   // largest letter size of the text in points, 0 for 12.5
}

// least and largest letter sizes of a card, pt.
const (
	cardLeast   = 8.5
	cardLargest = 12.5
)

// Card is the bench card: one page that says in big letters what the product does, what to wear, what to do and not to
// do, and what to do when something went wrong. The eye comes first, because there every second counts. The letters are
// as large as one page allows; when not even 8.5 pt fit, the error is a *TooLong.
func (p Product) Card(o CardOptions) (Document, error) {
	largest := cmp.Or(o.Letters, cardLargest)
	var err error
	for size := largest; size >= cardLeast; size -= 0.25 {
		d := p.card(o, size)
		if _, err = d.Pages(); err == nil {
			return d, nil
		}
		if tooLong := (*TooLong)(nil); !errors.As(err, &tooLong) {
			return Document{}, err
		}
	}
	return Document{}, err
}

func (p Product) card(o CardOptions, size float64) Document {
	l := o.Lang
	if l == "" {
		l = ghs.English
	}
	c := cardSetter{p: p, o: o, l: l}
	return Document{
		Title: word("card", l) + ": " + p.Name, Subject: p.Name, Lang: l, Date: o.Date, Page: o.Page, Size: size, MarginMM: 12, MaxPages: 1,
		Head: Running{Left: word("card", l), Right: o.Where},
		Foot: Running{Left: c.source(), Right: dateText(o.Date)},
		Blocks: []Block{
			Keep{c.top()},
			c.eye(),
			Columns{GapMM: 5, Parts: []Part{{Blocks: c.left()}, {Blocks: c.right()}}},
			c.call(),
		},
	}
}

// cardSetter writes the parts of a card.
type cardSetter struct {
	p Product
	o CardOptions
	l ghs.Lang
}

func (c cardSetter) w(key string, values ...string) string { return word(key, c.l, values...) }

// has tells whether the product has a hazard of one of the classes.
func (c cardSetter) has(classes ...ghs.Class) bool {
	return slices.ContainsFunc(c.p.Hazards.All(), func(h ghs.Hazard) bool { return slices.Contains(classes, h.Class()) })
}

// burns tells whether it destroys skin or eyes.
func (c cardSetter) burns() bool {
	return slices.ContainsFunc(c.p.Hazards.All(), func(h ghs.Hazard) bool {
		return (h.Class() == ghs.SkinCorrosion || h.Class() == ghs.EyeDamage) && strings.HasPrefix(h.Category(), "1")
	})
}

func (c cardSetter) flammable() bool {
	return c.has(ghs.FlammableLiquids, ghs.FlammableSolids, ghs.FlammableGases, ghs.Aerosols, ghs.SelfReactives, ghs.OrganicPeroxides, ghs.PyrophoricLiquids, ghs.PyrophoricSolids)
}

func (c cardSetter) top() []Block {
	name := []Block{Heading{1, c.p.Name}}
	if c.p.What != "" && c.p.WhatLang == c.l {
		name = append(name, Paragraph{Text: Plain(c.p.What)})
	}
	var out []Block
	signs := c.p.Elements.PrintedPictograms()
	if word := strings.ToUpper(c.p.Elements.SignalWord.Value.In(c.l)); word != "" {
		name = append(name, Paragraph{Text: Plain(word), Weight: Huge})
	}
	if len(signs) > 0 {
		out = append(out, Columns{GapMM: 4, Parts: []Part{{Width: 1, Blocks: name}, {Width: 1.1, Blocks: []Block{Pictograms{List: signs, SizeMM: max(min(25, 96/float64(len(signs))-2), 16)}}}}})
	} else {
		out = append(out, name...)
	}
	return append(append(out, Paragraph{Text: c.does(), Weight: Large}), c.beyond()...)
}

// does is what the product can do, in the standard's words.
func (c cardSetter) does() Text {
	switch {
	case c.p.Hazards.Empty() && c.p.State == sheet.NoneStated:
		return Plain(c.w("not-classified"))
	case c.p.Hazards.Empty():
		return Strong(c.w("hazards-unknown"))
	}
	text := Strong(strings.Join(c.p.say(c.p.Elements.PrintedStatements(), c.l), " "))
	if c.has(ghs.SkinSensitisation, ghs.RespiratorySensitisation) {
		text = append(text, Span{Text: " " + c.w("allergy")})
	}
	return text
}

// eye is what to do at once when it got into an eye.
func (c cardSetter) eye() Block {
	steps := []string{"eye-rinse", "eye-while", "eye-lenses", "eye-then"}
	if c.burns() {
		steps = []string{"eye-rinse", "eye-while-burn", "eye-lenses", "eye-then-burn"}
	}
	var items []Text
	for i, s := range steps {
		text := Plain(c.w(s, cmp.Or(emergencyNumber(c.p.RuleSet), c.w("emergency-line"))))
		if i == 0 {
			text[0].Bold = true
		}
		items = append(items, text)
	}
	return Box{Tone: Caution, Title: c.w("eye"), Blocks: []Block{List{Marker: Numbered, Items: items, Weight: Large}}}
}

// emergencyNumber is the number that calls help where a rule set is law; "" where it is law nowhere.
func emergencyNumber(rs ghs.RuleSet) string {
	switch rs {
	case ghs.USHCS2024, ghs.USHCS2012, ghs.CAHPR:
		return "911"
	case ghs.EUCLP:
		return "112"
	case ghs.GBCLP:
		return "999"
	case ghs.AUWHS:
		return "000"
	}
	return ""
}

// part is a heading with a list.
func (c cardSetter) part(key string, m Marker, items []string) []Block {
	if len(items) == 0 {
		return nil
	}
	list := List{Marker: m}
	for _, i := range items {
		list.Items = append(list.Items, Plain(i))
	}
	return []Block{Heading{3, c.w(key)}, list}
}

func (c cardSetter) left() []Block {
	out := c.part("wear", Bullet, c.wear())
	do := []string{c.w("do-ventilate"), c.w("do-wash"), c.w("do-lids")}
	if c.flammable() {
		do = append([]string{c.phrase("P210")}, do...)
	}
	out = append(out, c.part("do", Tick, slices.DeleteFunc(do, func(s string) bool { return s == "" }))...)
	dont := []string{c.phrase("P270")}
	if c.has(ghs.SkinSensitisation, ghs.SkinCorrosion) {
		dont = append(dont, c.w("dont-solvent"))
	}
	dont = append(dont, c.w("dont-drain"), c.w("dont-bottle"))
	out = append(out, c.part("do-not", Cross, dont)...)
	return append(out, c.part("waste", Bullet, []string{c.phrase("P501"), c.w("waste-rags")})...)
}

// phrase is the standard's words for a code.
func (c cardSetter) phrase(code ghs.Code) string {
	s, _ := c.p.Say(code, c.l)
	return s
}

// wear is what to put on, from the sheet where it says so.
func (c cardSetter) wear() []string {
	out := []string{c.gloves()}
	switch {
	case c.burns():
		out = append(out, c.w("wear-goggles"))
	default:
		out = append(out, c.w("wear-glasses"))
	}
	out = append(out, c.w("wear-clothes"))
	switch {
	case c.p.Supplied:
		out = append(out, c.w("wear-supplied"))
	case len(c.p.Filters) > 0:
		out = append(out, c.w("wear-filter", strings.Join(c.p.Filters, ", ")))
	default:
		out = append(out, c.w("wear-no-filter"))
	}
	return out
}

// gloves is the gloves as the sheet names them; the names of the common materials are known in all languages.
func (c cardSetter) gloves() string {
	g := c.p.Gloves
	if c.p.GlovesSay != sheet.Stated || len(g.Materials) == 0 {
		return c.w("wear-gloves-unknown")
	}
	var names []string
	for _, m := range g.Materials {
		key := "material-" + strings.ReplaceAll(strings.ToLower(m), " ", "-")
		if hasWord(key) {
			m = c.w(key)
		}
		names = append(names, m)
	}
	text := c.w("wear-gloves", strings.Join(names, " / "))
	if g.ThicknessMM.HasLo || g.ThicknessMM.HasHi {
		text += ", " + c.w("thick", g.ThicknessMM.String())
	}
	if g.BreakthroughMin.HasLo || g.BreakthroughMin.HasHi {
		text += ", " + c.w("minutes", g.BreakthroughMin.String())
	}
	return text + ". " + c.w("gloves-change")
}

// firstOf is the words of the first of the codes that the product's label has, else of the last.
func (c cardSetter) firstOf(codes ...ghs.Code) string {
	for _, code := range codes {
		for _, e := range c.p.Elements.Precautionary {
			if e.Value == code {
				return c.phrase(code)
			}
		}
	}
	return c.phrase(codes[len(codes)-1])
}

func (c cardSetter) right() []Block {
	aid := []string{c.firstOf("P303+P361+P353", "P302+P361+P354", "P302+P352"), c.firstOf("P304+P340", "P304+P341", "P304+P340")}
	if c.burns() || c.has(ghs.AspirationHazard) {
		aid = append(aid, c.phrase("P301+P330+P331"))
	} else {
		aid = append(aid, c.firstOf("P301+P330+P331", "P301+P310", "P301+P312", "P301+P330+P331"))
	}
	if c.has(ghs.SkinSensitisation) {
		aid = append(aid, c.phrase("P333+P313"))
	}
	out := c.part("first-aid", Bullet, aid)
	spill := []string{c.w("spill-people")}
	if c.flammable() {
		spill = append(spill, c.w("spill-flames"))
	}
	out = append(out, c.part("spill", Bullet, append(spill, c.w("spill-take-up")))...)
	fire := []string{c.w("fire-leave", cmp.Or(emergencyNumber(c.p.RuleSet), c.w("emergency-line")))}
	if c.has(ghs.WaterReactives) {
		fire = append([]string{c.w("fire-no-water")}, fire...)
	} else {
		fire = append([]string{c.w("fire-small")}, fire...)
	}
	return append(out, c.part("fire", Bullet, fire)...)
}

// call is whom to call.
func (c cardSetter) call() Block {
	line := "____________"
	rows := []Pair{
		{c.w("call-help"), Strong(cmp.Or(emergencyNumber(c.p.RuleSet), line))},
		{c.w("call-poison"), Strong(cmp.Or(c.o.Poison, line))},
	}
	if n := cmp.Or(c.p.Emergency, c.p.Supplier.Phone); n != "" {
		rows = append(rows, Pair{c.w("call-supplier"), Strong(n)})
	}
	rows = append(rows, Pair{c.w("call-here"), Strong(cmp.Or(c.o.Ask, line))})
	words := []Block{Pairs{Rows: rows, Width: 0.5}}
	if c.p.Link == "" {
		return Box{Tone: Inverse, Title: c.w("call"), Blocks: words}
	}
	return Box{Tone: Inverse, Title: c.w("call"), Blocks: []Block{Columns{GapMM: 4, Parts: []Part{{Width: 5, Blocks: words}, {Width: 1, Blocks: []Block{QR{Content: c.p.Link, SizeMM: 24, Label: c.w("qr-sheet")}}}}}}}
}

// source says what the card was made from.
func (c cardSetter) source() string {
	s := c.w("card-source", cmp.Or(c.p.SheetDate, c.w("no-date")), c.p.RuleSet.Name())
	return s
}

// beyond is what the ingredients show and the sheet does not say; nothing when there is no such hazard.
func (c cardSetter) beyond() []Block {
	var names []string
	for _, h := range c.p.Beyond {
		names = append(names, h.Title(c.l))
	}
	if len(names) == 0 {
		return nil
	}
	return []Block{Paragraph{Text: Plain(c.w("beyond", strings.Join(names, "; "))), Weight: Small}}
}
