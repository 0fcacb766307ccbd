package paper

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// Product is what the papers say of one product. It comes from a judged sheet (ProductOf) or from an own blend.
type Product struct {
	Name     string // the product identifier of sheet and label
	Code     string
	What     string // what it is or is for, in the words of the sheet
	WhatLang ghs.Lang
	RuleSet  ghs.RuleSet

	Hazards  ghs.HazardSet // acted on: declared or certain
	Beyond   []ghs.Hazard  // of these, the ones that the sheet does not declare
	State    sheet.State   // of the classification: Stated, NoneStated, NotStated
	Elements classify.LabelElements
	Phrases  map[ghs.Code]string // wording of the sheet for statements with open places
	Lang     ghs.Lang            // of Phrases

	Contains  []string // substances that the label names
	Unknown   []classify.UnknownToxicity
	Supplier  Supplier
	Emergency string // telephone number
	UFI       string
	Quantity  string // nominal quantity, for the public
	SheetDate string
	Gloves    sheet.Gloves
	GlovesSay sheet.State
	Filters   []string
	Supplied  bool // the sheet asks for supplied air
	Link      string
}

// Supplier is who answers for a product.
type Supplier struct {
	Name, Address, Phone string
}

// ProductOptions are what a sheet does not tell.
type ProductOptions struct {
	Label classify.LabelOptions
	Link  string // address that the QR code leads to, "" for none
}

// ProductOf is what the papers say of the product of a judged sheet. Hazards that follow from the ingredients whatever
// their true shares are, are acted on beside those that the sheet declares; Beyond lists them.
func ProductOf(j *judge.Judgement, o ProductOptions) Product {
	s, c := j.Sheet, j.Case()
	id := s.Identification
	p := Product{
		Name: judge.Name(s), Code: id.ProductCode.Value, What: id.Uses.Value, RuleSet: j.RuleSet, Lang: s.Language.Value, WhatLang: s.Language.Value,
		Hazards: c.Declared(), State: s.Hazards.Classified, Phrases: map[ghs.Code]string{},
		Supplier:  Supplier{id.Supplier.Value, id.SupplierAddress.Value, id.SupplierPhone.Value},
		Emergency: id.EmergencyPhone.Value, UFI: id.UFI.Value, SheetDate: cmp.Or(id.RevisionDate.Value, id.IssueDate.Value),
		Gloves: s.Control.Hands.Value, GlovesSay: s.Control.Hands.State,
		Filters: s.Control.Respiratory.Value.Filters, Supplied: s.Control.Respiratory.Value.SuppliedAir, Link: o.Link,
	}
	if e, err := c.Envelope(); err == nil {
		for _, conclusion := range judge.ConclusionsOf(e, mixtureOf(c.Mixture())) {
			if h := conclusion.Hazard; conclusion.Verdict == "certain" && !covered(p.Hazards, h) {
				p.Beyond = append(p.Beyond, h)
			}
		}
	}
	for _, h := range p.Beyond {
		for _, d := range p.Hazards.All() {
			if d.Class() == h.Class() && d.Qualifier() == h.Qualifier() && h.Severer(d) {
				p.Hazards.Remove(d) // the label says the graver of the two
			}
		}
		p.Hazards.Add(h)
	}
	p.Elements = classify.Label(p.Hazards, j.RuleSet, o.Label)
	for _, f := range append(slices.Clone(s.Hazards.Statements), s.Hazards.Precautions...) {
		if f.Known() && f.Value.Phrase != "" {
			p.Phrases[f.Value.Code] = f.Value.Phrase
		}
	}
	p.Contains = named(c.Mixture(), p.Hazards)
	return p
}

func mixtureOf(m classify.Mixture) *classify.Mixture { return &m }

// covered tells whether a set holds the hazard or a severer category of the same class.
func covered(set ghs.HazardSet, h ghs.Hazard) bool {
	for _, d := range set.All() {
		if d == h || d.Class() == h.Class() && !h.Severer(d) && d.Qualifier() == h.Qualifier() {
			return true
		}
	}
	return false
}

// namedClasses are the classes whose substances a label names (Regulation (EC) No 1272/2008 Art. 18(3)(b)).
func namedClass(c ghs.Class) bool {
	switch c {
	case ghs.AcuteToxicity, ghs.SkinCorrosion, ghs.EyeDamage, ghs.GermCellMutagenicity, ghs.Carcinogenicity, ghs.ReproductiveToxicity,
		ghs.RespiratorySensitisation, ghs.SkinSensitisation, ghs.STOTSingleExposure, ghs.STOTRepeatedExposure, ghs.AspirationHazard:
		return true
	}
	return false
}

// severeEnough leaves out irritation, which Art. 18(3)(b) does not name.
func severeEnough(h ghs.Hazard) bool {
	switch h.Class() {
	case ghs.SkinCorrosion, ghs.EyeDamage:
		return strings.HasPrefix(h.Category(), "1")
	}
	return namedClass(h.Class())
}

// mostNamed is how many names usually suffice (Art. 18(3)(b)).
const mostNamed = 4

// named lists the ingredients whose hazards are among those of the product, the largest shares first.
func named(m classify.Mixture, hazards ghs.HazardSet) []string {
	ingredients := slices.Clone(m.Ingredients)
	slices.SortStableFunc(ingredients, func(a, b classify.Ingredient) int { return cmp.Compare(b.Percent.Hi, a.Percent.Hi) })
	var out []string
	for _, i := range ingredients {
		for _, h := range i.Hazards.All() {
			same := slices.ContainsFunc(hazards.All(), func(p ghs.Hazard) bool { return p.Class() == h.Class() && severeEnough(p) })
			if severeEnough(h) && same && i.Name != "" && !slices.Contains(out, i.Name) && len(out) < mostNamed {
				out = append(out, i.Name)
			}
		}
	}
	return out
}

// Say is the wording of a statement in a language, its open places filled from the sheet where it has the same language,
// else with general words. ok is false when a place stays open that only the supplier can fill.
func (p Product) Say(c ghs.Code, l ghs.Lang) (text string, ok bool) {
	text, ok = p.RuleSet.Phrase(c, l, ghs.Blanks{})
	if !ok {
		return "", false
	}
	if strings.ContainsAny(text, "…[<") && l == p.Lang && p.Phrases[c] != "" {
		return strings.TrimRight(p.Phrases[c], " .") + ".", true
	}
	return closed(c, text, l)
}

// closed closes the open places of the standard's wording.
func closed(c ghs.Code, text string, l ghs.Lang) (string, bool) {
	for _, part := range c.Parts() {
		key := "fill-" + strings.ToLower(string(part))
		if strings.Contains(text, "…") && hasWord(key) {
			text = strings.Replace(strings.Replace(text, "/…", "", 1), "…", word(key, l), 1)
		}
	}
	text = strings.NewReplacer("/…", "", "/ …", "", "…/", "", "[", "", "]", "", "....", ".").Replace(text)
	text = strings.ReplaceAll(text, "..", ".")
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, ")") {
		text += "."
	}
	return text, !strings.Contains(text, "…")
}

// say is the wording of several statements; those that cannot be printed whole are left out.
func (p Product) say(codes []ghs.Code, l ghs.Lang) []string {
	var out []string
	for _, c := range codes {
		if text, ok := p.Say(c, l); ok && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}

// protective is the order in which protective points are chosen for a label with room for two: what keeps the product
// off the body, out of the lungs, and from catching fire. Common practice.
func protective() []ghs.Code {
	return []ghs.Code{"P280", "P284", "P260", "P261", "P210", "P271", "P262", "P201", "P202", "P222", "P223", "P231+P232", "P231", "P220", "P234", "P264", "P270", "P273", "P240"}
}

// firstTwo are the two protective points that come first.
func (p Product) firstTwo() []ghs.Code {
	have := append(p.Elements.PrintedPrecautions(), p.Elements.Short...)
	for _, e := range p.Elements.Precautionary {
		have = append(have, e.Value)
	}
	var out []ghs.Code
	for _, c := range protective() {
		if slices.Contains(have, c) && len(out) < 2 {
			out = append(out, c)
		}
	}
	return out
}

// dateText is a day as printed: the same form in all languages (ISO 8601).
func dateText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2006-01-02")
}
