package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sixteen/ghs"
)

// handles lists every fact of the sheet in the order of its sections. Paths are the names of the JSON form, list members
// by their index from 0: "hazards.statements.2", "composition.ingredients.0.percent", "parts.0.hazards.signal_word".
func (s *Sheet) handles() []handle {
	var l handleList
	l.add(handleOf("language", 0, "Language", &s.Language, func(v ghs.Lang) string { return string(v) }))
	l.add(handleOf("jurisdiction", 0, "Law", &s.Jurisdiction, func(v ghs.RuleSet) string { return string(v) }))
	l.add(handleOf("pre_ghs", 0, "Older than GHS", &s.PreGHS, yesNo))
	s.identificationHandles(&l)
	s.hazardHandles(&l)
	s.compositionHandles(&l)
	s.controlHandles(&l)
	s.physicalHandles(&l)
	s.toxicologyHandles(&l)
	for i := range s.Transport {
		l.add(handleOf(fmt.Sprintf("transport.%d", i), 14, "Transport", &s.Transport[i], Transport.String))
	}
	for i := range s.Ratings {
		l.add(handleOf(fmt.Sprintf("ratings.%d", i), 0, "0–4 rating", &s.Ratings[i], Rating.String))
	}
	for i, p := range s.Parts {
		for _, h := range p.handles() {
			h.path = fmt.Sprintf("parts.%d.%s", i, h.path)
			l.add(h)
		}
	}
	return l
}

type handleList []handle

func (l *handleList) add(h handle) { *l = append(*l, h) }

func (l *handleList) text(path string, section int, label string, f *Fact[string]) {
	l.add(handleOf(path, section, label, f, func(v string) string { return v }))
}

func (s *Sheet) identificationHandles(l *handleList) {
	id := &s.Identification
	for _, x := range []struct {
		name, label string
		f           *Fact[string]
	}{
		{"product_name", "Product name", &id.ProductName}, {"product_code", "Product code", &id.ProductCode}, {"ufi", "UFI", &id.UFI},
		{"uses", "Uses", &id.Uses}, {"uses_against", "Uses advised against", &id.UsesAgainst}, {"supplier", "Supplier", &id.Supplier},
		{"supplier_address", "Address", &id.SupplierAddress}, {"supplier_phone", "Telephone", &id.SupplierPhone},
		{"supplier_email", "E-mail", &id.SupplierEmail}, {"emergency_phone", "Emergency telephone", &id.EmergencyPhone},
		{"revision_date", "Revision date", &id.RevisionDate}, {"issue_date", "Issue date", &id.IssueDate}, {"print_date", "Print date", &id.PrintDate},
		{"supersedes_date", "Supersedes", &id.SupersedesDate}, {"version", "Version", &id.Version},
	} {
		l.text("identification."+x.name, 1, x.label, x.f)
	}
}

func (s *Sheet) hazardHandles(l *handleList) {
	h := &s.Hazards
	for i := range h.Classification {
		l.add(handleOf(fmt.Sprintf("hazards.classification.%d", i), 2, "Classification", &h.Classification[i], ClassStatement.String))
	}
	l.add(handleOf("hazards.signal_word", 2, "Signal word", &h.SignalWord, ghs.SignalWord.String))
	l.text("hazards.signal_printed", 2, "Signal word as printed", &h.SignalPrinted)
	for i := range h.Pictograms {
		l.add(handleOf(fmt.Sprintf("hazards.pictograms.%d", i), 2, "Pictogram", &h.Pictograms[i], ghs.Pictogram.String))
	}
	for _, x := range []struct {
		name, label string
		list        []Fact[Statement]
	}{{"statements", "Hazard statement", h.Statements}, {"precautions", "Precautionary statement", h.Precautions}, {"risk_phrases", "Risk phrase", h.RiskPhrases}} {
		for i := range x.list {
			l.add(handleOf(fmt.Sprintf("hazards.%s.%d", x.name, i), 2, x.label, &x.list[i], Statement.String))
		}
	}
	for i := range h.UnknownToxicity {
		l.add(handleOf(fmt.Sprintf("hazards.unknown_toxicity.%d", i), 2, "Share of unknown toxicity", &h.UnknownToxicity[i], UnknownShare.String))
	}
	l.text("hazards.other_hazards", 2, "Other hazards", &h.OtherHazards)
}

func (s *Sheet) compositionHandles(l *handleList) {
	c := &s.Composition
	l.add(handleOf("composition.substance", 3, "One substance", &c.Substance, yesNo))
	for i := range c.Ingredients {
		in := &c.Ingredients[i]
		p := fmt.Sprintf("composition.ingredients.%d.", i)
		l.text(p+"name", 3, "Ingredient", &in.Name)
		l.text(p+"cas", 3, "CAS number", &in.CAS)
		l.text(p+"ec", 3, "EC number", &in.EC)
		l.text(p+"index", 3, "Index number", &in.Index)
		l.text(p+"reach", 3, "REACH number", &in.REACH)
		l.add(handleOf(p+"percent", 3, "Share", &in.Percent, Quantity.String))
		l.add(handleOf(p+"secret", 3, "Withheld", &in.Secret, yesNo))
		for k := range in.Hazards {
			l.add(handleOf(fmt.Sprintf("%shazards.%d", p, k), 3, "Ingredient's classification", &in.Hazards[k], ClassStatement.String))
		}
		for k := range in.Statements {
			l.add(handleOf(fmt.Sprintf("%sstatements.%d", p, k), 3, "Ingredient's hazard statement", &in.Statements[k], Statement.String))
		}
		for k := range in.Limits {
			l.add(handleOf(fmt.Sprintf("%slimits.%d", p, k), 3, "Specific concentration limit", &in.Limits[k], func(v SpecificLimit) string {
				return strings.TrimSpace(v.Hazard.String() + " " + v.Percent.String() + " %")
			}))
		}
		l.add(handleOf(p+"m_acute", 3, "M factor, acute", &in.MAcute, number))
		l.add(handleOf(p+"m_chronic", 3, "M factor, chronic", &in.MChronic, number))
		for k := range in.ATE {
			l.add(handleOf(fmt.Sprintf("%sate.%d", p, k), 3, "Acute toxicity estimate", &in.ATE[k], ToxValue.String))
		}
	}
}

func (s *Sheet) controlHandles(l *handleList) {
	c := &s.Control
	for i := range c.Limits {
		l.add(handleOf(fmt.Sprintf("control.limits.%d", i), 8, "Exposure limit", &c.Limits[i], ExposureLimit.String))
	}
	l.text("control.engineering", 8, "Ventilation", &c.Engineering)
	l.text("control.eyes", 8, "Eye protection", &c.Eyes)
	l.add(handleOf("control.hands", 8, "Gloves", &c.Hands, func(v Gloves) string { return v.Text }))
	l.text("control.skin", 8, "Skin protection", &c.Skin)
	l.add(handleOf("control.respiratory", 8, "Breathing protection", &c.Respiratory, func(v Respirator) string { return v.Text }))
}

func (s *Sheet) physicalHandles(l *handleList) {
	p := &s.Physical
	l.text("physical.state", 9, "Physical state", &p.State)
	l.text("physical.colour", 9, "Colour", &p.Colour)
	l.text("physical.odour", 9, "Odour", &p.Odour)
	for _, name := range Properties() {
		list := p.Quantities[name]
		for i := range list {
			l.add(handleOf(fmt.Sprintf("physical.quantities.%s.%d", name, i), 9, name.Title(), &list[i], Quantity.String))
		}
	}
}

// endpointLabel is an effect of section 11 in plain words.
func endpointLabel(name string) string {
	words := map[string]string{"skin": "Skin burns and irritation", "eye": "Eye damage and irritation", "skin_sens": "Allergy by skin contact", "resp_sens": "Allergy by breathing in",
		"muta": "Genetic defects", "carc": "Cancer", "repr": "Fertility and the unborn child", "stot_se": "Organs, after one exposure", "stot_re": "Organs, after repeated exposure", "asp": "Harm to lungs when swallowed"}
	if w, ok := words[name]; ok {
		return w
	}
	return name
}

func (s *Sheet) toxicologyHandles(l *handleList) {
	t := &s.Toxicology
	for i := range t.Values {
		l.add(handleOf(fmt.Sprintf("toxicology.values.%d", i), 11, "Acute toxicity", &t.Values[i], ToxValue.String))
	}
	names := make([]string, 0, len(t.Endpoints))
	for n := range t.Endpoints {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		f := t.Endpoints[n] // a copy: map members have no place of their own
		h := handleOf("toxicology.endpoints."+n, 11, endpointLabel(n), &f, func(v string) string { return v })
		set := h.set
		h.set = func(b []byte) error {
			err := set(b)
			t.Endpoints[n] = f
			return err
		}
		h.store = func() { t.Endpoints[n] = f }
		l.add(h)
	}
	for i := range t.Carcinogens {
		l.add(handleOf(fmt.Sprintf("toxicology.carcinogens.%d", i), 11, "Cancer listing", &t.Carcinogens[i], func(v CancerListing) string {
			return strings.TrimSpace(v.Ingredient + " " + v.Agency + " " + v.Group)
		}))
	}
	for i := range s.Ecology.Values {
		l.add(handleOf(fmt.Sprintf("ecology.values.%d", i), 12, "Aquatic toxicity", &s.Ecology.Values[i], EcoValue.String))
	}
	l.text("ecology.biodegradability", 12, "Degradability", &s.Ecology.Biodegradability)
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
