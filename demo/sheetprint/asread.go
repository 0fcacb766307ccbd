package sheetprint

import (
	"fmt"
	"reflect"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// AsRead is the sheet that a reader without fault makes of the printed Spec: every fact with the words it came from, all
// on page 1 without places. It lets the audit be tried without any reading.
func AsRead(s Spec, l Layout) (*sheet.Sheet, error) {
	sections, truth, err := compose(s, l)
	if err != nil {
		return nil, err
	}
	out := &sheet.Sheet{Source: sheet.Source{Name: s.Product + ".pdf", Format: "pdf", Kind: "text"}}
	for _, sec := range sections {
		out.Sections[sec.means] = sheet.Section{Found: true, Heading: on(sec.title), Text: sectionLines(sec)}
	}
	out.Language, out.Jurisdiction = stated(s.Lang, string(s.Lang)), stated(s.Rules, string(s.Rules))
	if s.PreGHS {
		out.PreGHS = stated(true, strings.Join(s.RiskPhrases, " "))
	}
	s.readIdentification(out)
	s.readHazards(out, *truth)
	s.readComposition(out, l)
	s.readControl(out, l)
	s.readProperties(out)
	s.readToxicology(out)
	s.readEffects(out, l)
	s.readTransport(out)
	for _, r := range []struct {
		system string
		r      *Ratings
	}{{"NFPA", s.NFPA}, {"HMIS", s.HMIS}} {
		if r.r != nil {
			out.Ratings = append(out.Ratings, stated(sheet.Rating{System: r.system, Health: r.r.Health, Flammability: r.r.Flammability,
				Instability: r.r.Instability, Chronic: r.r.Chronic, Protection: r.r.PPE}, r.system))
		}
	}
	return out, nil
}

func on(words string) sheet.Evidence { return sheet.Evidence{Page: 1, Words: words, How: sheet.ByText} }

func stated[T any](v T, words string) sheet.Fact[T] {
	return sheet.Fact[T]{State: sheet.Stated, Value: v, Evidence: []sheet.Evidence{on(words)}, Confidence: 1}
}

// text is a stated text, or nothing when it is empty.
func text(s string) sheet.Fact[string] {
	if s == "" {
		return sheet.Fact[string]{}
	}
	return stated(s, s)
}

func sectionLines(sec section) []sheet.Line {
	var out []sheet.Line
	add := func(s string) {
		for _, line := range strings.Split(s, "\n") {
			out = append(out, sheet.Line{Text: line, Page: 1})
		}
	}
	for _, b := range sec.blocks {
		switch b := b.(type) {
		case field:
			add(b.label + ": " + b.value)
		case para:
			add(b.text)
		case subhead:
			add(b.title)
		case table:
			add(strings.Join(b.head, " "))
			for _, r := range b.rows {
				add(strings.Join(r, " "))
			}
		}
	}
	return out
}

func (s Spec) readIdentification(out *sheet.Sheet) {
	id := &out.Identification
	id.ProductName, id.ProductCode, id.UFI = text(s.Product), text(s.Code), text(s.UFI)
	id.Uses, id.UsesAgainst = text(s.Use), text(s.UseAgainst)
	id.Supplier, id.SupplierAddress = text(s.Supplier.Name), text(strings.Join(s.Supplier.Address, ", "))
	id.SupplierPhone, id.SupplierEmail, id.EmergencyPhone = text(s.Supplier.Phone), text(s.Supplier.Email), text(s.Emergency)
	id.RevisionDate, id.SupersedesDate, id.PrintDate, id.Version = text(s.Revision), text(s.Supersedes), text(s.Printed), text(s.Version)
}

func (s Spec) readHazards(out *sheet.Sheet, t Truth) {
	h := &out.Hazards
	if s.PreGHS {
		for _, r := range s.RiskPhrases {
			h.RiskPhrases = append(h.RiskPhrases, stated(sheet.Statement{Code: ghs.Code(r)}, r))
		}
		return
	}
	h.Classified = sheet.Stated
	if len(s.Classes) == 0 {
		h.Classified, h.ClassifiedAt = sheet.NoneStated, []sheet.Evidence{on("not classified")}
	}
	for _, k := range s.Classes {
		h.Classification = append(h.Classification, stated(sheet.ClassStatement{Hazard: k.Hazard(), Printed: k.String(), Code: k.Code}, k.String()))
	}
	for _, c := range append(append([]ghs.Code(nil), s.Statements...), s.Supplemental...) {
		h.Statements = append(h.Statements, stated(sheet.Statement{Code: c, Phrase: phrase(c, s), Detail: s.Organs[c]}, string(c)))
	}
	for _, c := range s.Precautions {
		h.Precautions = append(h.Precautions, stated(sheet.Statement{Code: c, Phrase: phrase(c, s)}, string(c)))
	}
	switch s.SignalWord {
	case "Danger":
		h.SignalWord = stated(ghs.Danger, t.SignalPrinted)
	case "Warning":
		h.SignalWord = stated(ghs.Warning, t.SignalPrinted)
	case "":
		h.SignalWord.State = sheet.NoneStated
	}
	h.SignalPrinted = text(t.SignalPrinted)
	h.PictogramState = sheet.Stated
	if len(s.Pictograms) == 0 {
		h.PictogramState = sheet.NoneStated
	}
	for _, p := range s.Pictograms {
		h.Pictograms = append(h.Pictograms, stated(p, p.String()))
	}
	for _, p := range s.ExtraPhrases {
		if code, words, ok := strings.Cut(p, " "); ok && ghs.Code(code).Known() {
			h.Statements = append(h.Statements, stated(sheet.Statement{Code: ghs.Code(code), Phrase: words}, p))
		}
		if strings.Contains(p, "R3") || strings.Contains(p, "R4") {
			h.RiskPhrases = append(h.RiskPhrases, stated(sheet.Statement{Code: ghs.Code(p)}, p))
		}
	}
	routes := map[string]ghs.Qualifier{"oral": ghs.Oral, "dermal": ghs.Dermal}
	for _, u := range s.Unknown {
		h.UnknownToxicity = append(h.UnknownToxicity, stated(sheet.UnknownShare{Percent: u.Percent, Route: routes[u.Route]}, "unknown acute toxicity"))
	}
	h.OtherHazards = text(s.OtherHazards)
}

func (s Spec) readComposition(out *sheet.Sheet, l Layout) {
	for _, in := range s.Ingredients {
		row := sheet.Ingredient{Name: text(in.Name), CAS: text(in.CAS), EC: text(in.EC)}
		if in.Secret {
			row.Secret = stated(true, "trade secret")
		} else if in.Percent.HasLo || in.Percent.HasHi {
			row.Percent = stated(sheet.Quantity{Interval: in.Percent, Unit: "%"}, fmt.Sprintf("%v - %v", in.Percent.Lo, in.Percent.Hi))
		}
		for _, k := range in.printed(l) {
			row.Hazards = append(row.Hazards, stated(sheet.ClassStatement{Hazard: k.Hazard(), Printed: k.String(), Code: k.Code}, k.String()))
			row.Statements = append(row.Statements, stated(sheet.Statement{Code: k.Code}, string(k.Code)))
		}
		out.Composition.Ingredients = append(out.Composition.Ingredients, row)
	}
	if len(s.Ingredients) > 0 {
		out.Composition.State = sheet.Stated
	}
}

// printed are the classes of an ingredient that the layout prints beside it.
func (in Ingredient) printed(l Layout) []Class {
	if !l.IngredientH {
		return nil
	}
	return in.Classes
}

// Differ tells whether two sheets differ in what a layout prints of them.
func Differ(a, b Spec, l Layout) (bool, error) {
	x, _, err := compose(a, l)
	if err != nil {
		return false, err
	}
	y, _, err := compose(b, l)
	if err != nil {
		return false, err
	}
	return !reflect.DeepEqual(x, y), nil
}

func (s Spec) readControl(out *sheet.Sheet, l Layout) {
	c := &out.Control
	for _, x := range s.Limits {
		for _, v := range []struct {
			value float64
			unit  string
		}{{x.PPM, "ppm"}, {x.MgM3, "mg/m3"}} {
			if v.value > 0 {
				words := fmt.Sprintf("%s %v %s", x.Authority, v.value, v.unit)
				c.Limits = append(c.Limits, stated(sheet.ExposureLimit{Substance: x.Name, CAS: x.CAS, Authority: x.Authority, Kind: x.Kind,
					Value: v.value, Unit: v.unit, Skin: x.Skin, Printed: words}, words))
			}
		}
	}
	c.LimitsState = sheet.Stated
	if len(s.Limits) == 0 {
		c.LimitsState = sheet.NoneStated
	}
	d, err := loadWords(s.Lang)
	if err != nil {
		return
	}
	say := func(key string, fill ...string) string {
		return (&composer{spec: s, l: l, d: d}).sentence(key, fill...)
	}
	c.Engineering, c.Eyes, c.Skin = text(say("engineering.text")), text(say("eyes.text")), text(say("skin.text"))
	hands := sheet.Gloves{Text: say("hands.vague")}
	if g := s.Gloves; g.Material != "" {
		hands = sheet.Gloves{Text: say("hands.text", "m", say("mat."+g.Material), "t", fmt.Sprint(g.ThicknessMM), "b", fmt.Sprint(g.MinutesOver), "s", g.Standard),
			Materials: []string{g.Material}, ThicknessMM: sheet.Interval{Lo: g.ThicknessMM, HasLo: true},
			BreakthroughMin: sheet.Interval{Lo: float64(g.MinutesOver), HasLo: true, LoOpen: true}, Standard: g.Standard}
	}
	if hands.Text != "" {
		c.Hands = stated(hands, hands.Text)
	}
	resp := sheet.Respirator{Text: say("resp.normal")}
	switch s.Respirator {
	case "":
	case "supplied":
		resp = sheet.Respirator{Text: say("resp.supplied"), SuppliedAir: true}
	default:
		resp = sheet.Respirator{Text: say("resp.filter", "f", s.Respirator), Filters: []string{s.Respirator}}
	}
	c.Respiratory = stated(resp, resp.Text)
}

func (s Spec) readProperties(out *sheet.Sheet) {
	p := &out.Physical
	p.State, p.Colour, p.Odour = text(s.State), text(s.Colour), text(s.Odour)
	p.Quantities = map[sheet.Property][]sheet.Fact[sheet.Quantity]{}
	units := map[sheet.Property]string{sheet.VapourPressure: "Pa", sheet.Density: "kg/m3", sheet.LowerFlammable: "% vol", sheet.UpperFlammable: "% vol",
		sheet.PH: "1", sheet.KinematicViscosity: "mm2/s", sheet.DynamicViscosity: "mPa·s"}
	for name, v := range s.Properties {
		f := sheet.Fact[sheet.Quantity]{State: sheet.NoData, Evidence: []sheet.Evidence{on("no data")}}
		if !v.NoData {
			unit := units[name]
			switch {
			case v.Unit != "":
				unit = v.Unit
			case name == sheet.VOC:
				unit = "g/l"
			case unit == "":
				unit = "°C"
			}
			q := sheet.Quantity{Interval: v.Interval, Unit: unit, Cup: v.Cup, Method: v.Method, Printed: fmt.Sprint(v.Lo, " ", unit)}
			if at := v.AtC; at != 0 {
				q.AtC = &at
			}
			if name == sheet.KinematicViscosity {
				at := 40.0
				q.AtC = &at
			}
			f = stated(q, q.Printed)
		}
		p.Quantities[name] = append(p.Quantities[name], f)
	}
}

func (s Spec) readToxicology(out *sheet.Sheet) {
	routes := map[string]ghs.Qualifier{"oral": ghs.Oral, "dermal": ghs.Dermal, "inhalation": ghs.InhalationVapour, "vapour": ghs.InhalationVapour,
		"dust": ghs.InhalationDust, "gas": ghs.InhalationGas}
	for _, t := range s.Tox {
		v := sheet.Interval{Lo: t.Value, HasLo: true, LoOpen: t.MoreThan, Hi: t.Value, HasHi: !t.MoreThan}
		words := fmt.Sprintf("%s %s %v %s", t.Measure, t.Route, t.Value, t.Unit)
		out.Toxicology.Values = append(out.Toxicology.Values, stated(sheet.ToxValue{Ingredient: t.Name, CAS: t.CAS, Measure: t.Measure,
			Route: routes[t.Route], Species: t.Species, Quantity: sheet.Quantity{Interval: v, Unit: t.Unit, Printed: words}, Hours: t.Hours}, words))
	}
	for _, k := range s.Carcinogens {
		out.Toxicology.Carcinogens = append(out.Toxicology.Carcinogens, stated(sheet.CancerListing{Ingredient: k.Name, CAS: k.CAS, Agency: k.Agency,
			Group: k.Group}, k.Agency+" "+k.Group))
	}
	for _, e := range s.Eco {
		words := fmt.Sprintf("%s %v mg/l", e.Measure, e.Value)
		out.Ecology.Values = append(out.Ecology.Values, stated(sheet.EcoValue{Ingredient: e.Name, CAS: e.CAS, Measure: e.Measure, Group: e.Group,
			Quantity: sheet.Quantity{Interval: sheet.Exactly(e.Value), Unit: "mg/l", Printed: words}, Hours: e.Hours}, words))
	}
}

// readEffects takes over what section 11 says of each effect, under the names that package sheet has for them.
func (s Spec) readEffects(out *sheet.Sheet, l Layout) {
	d, err := loadWords(s.Lang)
	if err != nil {
		return
	}
	c := &composer{spec: s, l: l, d: d}
	out.Toxicology.Endpoints = map[string]sheet.Fact[string]{}
	for _, e := range effects {
		if name := e.name; name != "" {
			out.Toxicology.Endpoints[name] = text(c.says(e.key, e.classes))
		}
	}
}

func (s Spec) readTransport(out *sheet.Sheet) {
	t := s.Transport
	modes := t.Modes
	if len(modes) == 0 {
		modes = []string{""}
	}
	marine := sheet.NoneStated
	if t.MarinePollutant {
		marine = sheet.Stated
	}
	for _, m := range modes {
		entry := sheet.Transport{Mode: m, Regulated: t.UN != "", UN: t.UN, ProperName: t.ProperName, Class: t.Class, PackingGroup: t.PackingGroup,
			MarinePollutant: marine}
		f := stated(entry, m+" "+t.UN)
		if t.UN == "" {
			f.State, f.Value.MarinePollutant = sheet.NoneStated, sheet.NotStated
		}
		out.Transport = append(out.Transport, f)
	}
}
