package audit

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// derivation is what the rules make of the mixture, over every composition that the sheet allows: once with the hazards
// that are firm, which can convict the sheet, and once with every hazard that anybody states, which can only raise doubt.
type derivation struct {
	firm, strict verdicts
}

// verdicts are a compiled mixture and its envelope. err tells why there is none.
type verdicts struct {
	program  *classify.Program
	envelope *classify.Envelope
	err      error
}

func judge(m classify.Mixture, rs ghs.RuleSet) verdicts {
	if len(m.Ingredients) == 0 {
		return verdicts{err: fmt.Errorf("section 3 lists no ingredients")}
	}
	p, err := classify.Compile(m, rs)
	if err != nil {
		return verdicts{err: err}
	}
	e, err := p.Envelope()
	return verdicts{p, e, err}
}

// derived works out both envelopes, once.
func (c *Case) derived() derivation {
	c.once.classes.Do(func() {
		m := c.Mixture()
		c.classes.strict = judge(m, c.RuleSet)
		c.classes.firm = judge(firmOnly(m, c.Choices()), c.RuleSet)
	})
	return c.classes
}

// Program is the mixture compiled under the rule set, with the stricter of the sheet's and the table's hazards.
func (c *Case) Program() (*classify.Program, error) {
	v := c.derived().strict
	return v.program, v.err
}

// Envelope is the classification over all compositions that the sheet allows, with the stricter hazards. It fails when
// there are no ingredients or when no composition fits the shares.
func (c *Case) Envelope() (*classify.Envelope, error) {
	v := c.derived().strict
	return v.envelope, v.err
}

// Proof asks whether exactly the declared classification can be true of some composition that the sheet allows, by the
// sheet's own word and published entries on the ingredients.
func (c *Case) Proof(ctx context.Context) (*classify.Proof, error) {
	v := c.derived().firm
	if v.err != nil {
		return nil, v.err
	}
	declared := c.declares()
	if coversAny(declared, ghs.SkinCorr1) {
		declared.Add(ghs.EyeDam1) // burns include eye damage, whether it is printed or not
	}
	return v.program.Prove(ctx, declared.All(), classify.ProofOptions{MeantBy: meant(declared)})
}

// meant lists, per declared hazard, the subcategories and inhaled forms that fulfil it too.
func meant(declared ghs.HazardSet) map[ghs.Hazard][]ghs.Hazard {
	out := map[ghs.Hazard][]ghs.Hazard{}
	for _, h := range declared.All() {
		for _, k := range h.Class().Hazards() {
			if k != h && covers(k, h) && covers(h, k) {
				out[h] = append(out[h], k)
			}
		}
	}
	return out
}

// lack is a hazard that follows from section 3 and that section 2 does not state.
type lack struct {
	hazard   ghs.Hazard
	certain  bool // for every composition that the sheet allows
	firm     bool // by the sheet's own word and published entries
	verdicts verdicts
	answer   classify.Answer
}

// lacks lists, question by question, the gravest hazard that is certain or possible and that section 2 does not cover.
func (c *Case) lacks(concerns func(ghs.Hazard) bool) []lack {
	d := c.derived()
	declared := c.declares()
	var out []lack
	for _, h := range gravestFirst(d.strict.envelope) {
		if !concerns(h) || c.environmentUnasked(h) || leftOpen(h) || slices.ContainsFunc(out, func(l lack) bool { return kin(l.hazard, h) }) {
			continue
		}
		if l, ok := c.lackOf(d, declared, h); ok {
			out = append(out, l)
		}
	}
	if slices.ContainsFunc(out, func(l lack) bool { return l.hazard.Class() == ghs.SkinCorrosion && base(l.hazard) == "1" && l.certain }) {
		out = slices.DeleteFunc(out, func(l lack) bool { return l.hazard.Class() == ghs.EyeDamage })
	}
	return out
}

// effectOpen tells whether h is one of the two passing effects of a single exposure, section 2 declares the other, and an
// ingredient of section 3 leaves open which of them it has.
func (c *Case) effectOpen(declared ghs.HazardSet, h ghs.Hazard) bool {
	if h.Class() != ghs.STOTSingleExposure || base(h) != "3" || !(declared.Has(ghs.STOTSE3Narcotic) || declared.Has(ghs.STOTSE3Respiratory)) {
		return false
	}
	return slices.ContainsFunc(c.Choices(), func(ch Choice) bool { return ch.Hazard == ghs.STOTSE3 })
}

// leftOpen tells whether the model regulation leaves it to each country to adopt a category, so that a sheet may pass over
// it: acute toxicity 5, skin irritation 3, aspiration 2, aquatic acute 2 and 3 (UN GHS 1.1.3.1.5, from memory).
func leftOpen(h ghs.Hazard) bool {
	switch h {
	case ghs.SkinIrrit3, ghs.AspTox2, ghs.AquaticAcute2, ghs.AquaticAcute3:
		return true
	}
	return h.Class() == ghs.AcuteToxicity && h.Category() == "5"
}

// lackOf judges one question, that of h and its kin.
func (c *Case) lackOf(d derivation, declared ghs.HazardSet, h ghs.Hazard) (lack, bool) {
	if c.effectOpen(declared, h) {
		return lack{}, false
	}
	for _, v := range []verdicts{d.firm, d.strict} {
		if v.err != nil {
			continue
		}
		for _, k := range gravestFirst(v.envelope) {
			a := v.envelope.Of(k)
			if kin(k, h) && a.OrSeverer == classify.Certain && !coversAny(declared, k) && !leftOpen(k) {
				return lack{k, true, v.program == d.firm.program, v, a}, true
			}
		}
	}
	a := d.strict.envelope.Of(h)
	if a.Verdict == classify.RuledOut || coversAny(declared, h) {
		return lack{}, false
	}
	firm := d.firm.err == nil && d.firm.envelope.Of(h).Verdict != classify.RuledOut
	return lack{h, false, firm, d.strict, a}, true
}

// gravestFirst lists the hazards an envelope holds possible, severer categories of a class first.
func gravestFirst(e *classify.Envelope) []ghs.Hazard {
	if e == nil {
		return nil
	}
	out := e.Possible.All()
	slices.SortStableFunc(out, func(a, b ghs.Hazard) int {
		switch {
		case a.Severer(b):
			return -1
		case b.Severer(a):
			return 1
		}
		return 0
	})
	return out
}

// reasons is the arithmetic by which one composition has a hazard.
func (v verdicts) reasons(x *classify.Composition, h ghs.Hazard) []string {
	if x == nil {
		return nil
	}
	at := v.program.At(x.Percent)
	var out []string
	for _, r := range at.Results() {
		if r.Class != h.Class() || (r.Qualifier != h.Qualifier() && h.Qualifier() != ghs.NoQualifier) {
			continue
		}
		for _, w := range r.Why {
			out = append(out, w.Text+" ("+w.Clause+")")
		}
	}
	return out
}

// blame lists the choices by which ingredients carry hazards of the same class, to show where they come from.
func (c *Case) blame(h ghs.Hazard) []Side {
	var out []Side
	for _, ch := range c.Choices() {
		if ch.Hazard.Class() != h.Class() && !(h.Class() == ghs.EyeDamage && ch.Hazard.Class() == ghs.SkinCorrosion) {
			continue
		}
		if h.Class() == ghs.AcuteToxicity && !kin(ch.Hazard, h) {
			continue
		}
		ing := c.Sheet.Composition.Ingredients[ch.Ingredient]
		s := says(3, fmt.Sprintf("%s %s: %s (%s)", ch.Name, printed(ing.Percent.Value), ch.Hazard, ch.Why), ing.Percent)
		if ch.Basis == OfTable {
			s.Source, s.Memory = ch.Source.Text, ch.Source.Memory
		}
		out = append(out, s)
	}
	return out
}

// reportLack reports one hazard that section 2 lacks: a contradiction when it is certain and firm, a doubt with a
// composition for and against it otherwise.
func (c *Case) reportLack(e *Emit, l lack) {
	code := codeOf(l.hazard, c.RuleSet)
	f := Fault{
		Hazard: l.hazard, Section: 2, Says: append([]Side{{Section: 2, Text: "Section 2: " + c.summary(), Evidence: c.declaredAt(l.hazard)}}, c.blame(l.hazard)...),
		Key: append([]string{l.hazard.String()}, c.shareKeys(l.hazard)...),
	}
	m := &l.verdicts.program.Mixture
	silent := declaredNothing(c)
	switch {
	case l.certain && silent:
		f.Kind, f.Title = Gap, "By section 3 the product is "+l.hazard.String()+"; section 2 classifies nothing"
		f.Follows = []Side{follows("Every composition within the stated shares is "+l.hazard.Title(ghs.English), l.verdicts.reasons(cmp.Or(l.answer.OrSevererFor, l.answer.For), l.hazard)...)}
		f.Ask = ask("state", "@class", "2")
	case l.certain:
		f.Kind, f.Title = Contradiction, "By section 3 the product is "+l.hazard.String()+"; section 2 does not say so"
		if !l.firm {
			f.Kind, f.Title = Doubt, "By what others state of its ingredients the product is "+l.hazard.String()+"; section 2 does not say so"
		}
		f.Follows = []Side{follows("Every composition within the stated shares is "+l.hazard.Title(ghs.English), l.verdicts.reasons(cmp.Or(l.answer.OrSevererFor, l.answer.For), l.hazard)...)}
		f.Ask = ask("classify", l.hazard.String(), string(code))
	default:
		f.Kind, f.Title = Doubt, "Within the shares of section 3 the product may be "+l.hazard.String()+"; section 2 does not say so"
		f.Follows = []Side{follows("It is, for example, with "+l.answer.For.Words(m), l.verdicts.reasons(l.answer.For, l.hazard)...)}
		if l.answer.Against != nil {
			f.Follows = append(f.Follows, follows("It is not, for example, with "+l.answer.Against.Words(m)))
		}
		f.Ask = ask("possible", l.hazard.String(), string(code))
	}
	e.Report(f)
}

// declaredNothing tells whether section 2 is silent on classification, neither classifying nor denying.
func declaredNothing(c *Case) bool {
	return c.declares().Empty() && c.Sheet.Hazards.Classified != sheet.NoneStated
}

// against is the kind of a finding that section 2 falls short of other sections: a contradiction where section 2
// classifies or denies, a gap where it is silent.
func (c *Case) against() Kind {
	if declaredNothing(c) {
		return Gap
	}
	return Contradiction
}

// shareKeys are the ingredients and shares that a hazard of the product rests on.
func (c *Case) shareKeys(h ghs.Hazard) []string {
	var out []string
	for _, ch := range c.Choices() {
		if ch.Hazard.Class() == h.Class() {
			out = append(out, ch.CAS+ch.Name+"="+rangeText(c.Sheet.Composition.Ingredients[ch.Ingredient].Percent.Value.Interval))
		}
	}
	return out
}

// lackCheck is the row of a check that looks for hazards which follow from section 3 and which section 2 lacks.
func lackCheck(row Check, concerns func(ghs.Hazard) bool) Check {
	row.Group, row.Kinds = With3, []Kind{Contradiction, Gap, Doubt}
	row.Compares = "Every composition that the shares of section 3 allow, classified by the rules of the rule set, with section 2."
	row.Run = func(c *Case, e *Emit) {
		if err := c.derived().strict.err; err != nil {
			e.Cannot("the classification cannot be worked out: " + err.Error())
			return
		}
		for _, l := range c.lacks(concerns) {
			c.reportLack(e, l)
		}
	}
	return row
}
