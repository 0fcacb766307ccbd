package audit

import (
	"cmp"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// HalfPage is a sheet in plain language for somebody who has never read one: what it can do to you, what to wear, what
// would make you put it back on the shelf, and what nobody knows. Every sentence names the sides it rests on. It never
// says that something is safe.
type HalfPage struct {
	Product  string     `json:"product"`
	CanDo    []Sentence `json:"can_do"`
	Wear     []Sentence `json:"wear"`
	PutBack  []Sentence `json:"put_back"`
	NotKnown []Sentence `json:"not_known"`
}

// Sentence is one plain sentence and what it rests on.
type Sentence struct {
	Text string `json:"text"`
	From []Side `json:"from"`
}

// Plain writes the half page from a case and its report. It acts on the stricter of what section 2 declares and what
// follows from section 3.
func Plain(c *Case, r Report) HalfPage {
	p := HalfPage{Product: c.Sheet.Identification.ProductName.Value}
	p.CanDo = c.canDo(r)
	p.Wear = c.wear()
	p.PutBack = putBack(r)
	p.NotKnown = c.notKnown(r)
	return p
}

// canDo says what the declared hazards, and those the sheet fails to declare, can do; worst first, one sentence per harm.
func (c *Case) canDo(r Report) []Sentence {
	type told struct {
		harm Harm
		s    Sentence
	}
	var all []told
	add := func(h ghs.Hazard, side Side, before string) {
		text := CouldHappen(h)
		if text == "" || slices.ContainsFunc(all, func(t told) bool { return strings.HasSuffix(t.s.Text, text) }) {
			return
		}
		all = append(all, told{HarmOf(h), Sentence{before + text, []Side{side}}})
	}
	for _, h := range c.declares().All() {
		add(h, Side{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, "")
	}
	for _, l := range c.lacksIfKnown() {
		before := "Section 2 does not say so, but its ingredients do: "
		if !l.certain {
			before = "Possibly, as far as the stated shares tell: "
		}
		add(l.hazard, follows(l.hazard.Title(ghs.English), l.verdicts.reasons(cmp.Or(l.answer.OrSevererFor, l.answer.For), l.hazard)...), before)
	}
	slices.SortStableFunc(all, func(a, b told) int { return cmp.Compare(a.harm, b.harm) })
	var out []Sentence
	for _, t := range all {
		out = append(out, t.s)
	}
	switch {
	case len(out) > 0:
	case c.Sheet.Hazards.Classified == sheet.NoneStated:
		out = []Sentence{{"The supplier states that it is not classified. That is not the same as harmless.", []Side{{Section: 2, Text: "Not classified", Evidence: c.Sheet.Hazards.ClassifiedAt}}}}
	default:
		out = []Sentence{{"The sheet does not say what it can do to you. Treat it as unknown, not as harmless.", []Side{silent(2, "a classification")}}}
	}
	return out
}

func (c *Case) lacksIfKnown() []lack {
	if c.derived().strict.err != nil {
		return nil
	}
	return c.lacks(func(ghs.Hazard) bool { return true })
}

// wear says what the sheet asks to wear, and what its hazards ask for where the sheet is vague.
func (c *Case) wear() []Sentence {
	var out []Sentence
	k := c.Sheet.Control
	if h := c.skinHazard(); h != ghs.NoHazard || k.Hands.Known() {
		text := "Gloves: the sheet does not say which. Ask; thin disposable gloves are for splashes only."
		if g := k.Hands.Value; len(g.Materials) > 0 {
			text = "Gloves of " + strings.Join(g.Materials, " or ")
			if g.ThicknessMM.HasLo || g.ThicknessMM.HasHi {
				text += ", " + rangeText(g.ThicknessMM) + " mm thick"
			}
			if g.BreakthroughMin.HasLo || g.BreakthroughMin.HasHi {
				text += "; they hold " + rangeText(g.BreakthroughMin) + " minutes by the sheet, less when you move and sweat"
			}
			text += "."
		}
		out = append(out, Sentence{text, c.protectionSides(h, 8, k.Hands.Value.Text, k.Hands.Evidence)})
	}
	if h := c.eyeHazard(); h != ghs.NoHazard || k.Eyes.Known() {
		text := "Eyes: " + cmp.Or(k.Eyes.Value, "the sheet does not say; wear tight goggles.")
		if HarmOf(h) == HarmLasting && h != ghs.NoHazard {
			text = "Tight goggles, not open glasses, and water to rinse within ten seconds' reach."
		}
		out = append(out, Sentence{text, c.protectionSides(h, 8, k.Eyes.Value, k.Eyes.Evidence)})
	}
	if h := c.breathingHazard(); h != ghs.NoHazard || (k.Respiratory.Known() && len(k.Respiratory.Value.Filters) > 0) || len(c.vapours(1)) > 0 {
		text := "Air: ventilate first. The sheet names no filter; a dust mask does not hold vapour."
		switch r := k.Respiratory.Value; {
		case r.SuppliedAir:
			text = "Air: ventilate first; the sheet asks for supplied air."
		case len(r.Filters) > 0:
			text = "Air: ventilate first; where that is not enough the sheet names filter " + strings.Join(r.Filters, ", ") + ", fitted to a clean-shaven face."
		}
		sides := c.protectionSides(h, 8, k.Respiratory.Value.Text, k.Respiratory.Evidence)
		if vs := c.vapours(1); len(vs) > 0 {
			sides = append(sides, vs[0].side())
		}
		out = append(out, Sentence{text, sides})
	}
	return out
}

func (c *Case) protectionSides(h ghs.Hazard, section int, text string, at []sheet.Evidence) []Side {
	var out []Side
	if h != ghs.NoHazard {
		out = append(out, Side{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)})
	}
	if text == "" {
		return append(out, silent(section, "the protection"))
	}
	return append(out, Side{Section: section, Text: text, Evidence: at})
}

// putBack lists the reasons not to buy or use it before they are answered: contradictions of lasting harm or worse, and
// gaps about lethal ones, at most five.
func putBack(r Report) []Sentence {
	var out []Sentence
	for _, f := range r.Open() {
		grave := f.Kind == Contradiction && f.Harm <= HarmLasting || f.Kind == Gap && f.Harm == HarmDeath
		if !grave || strings.HasPrefix(f.Check, "claim") && f.Kind != Contradiction {
			continue
		}
		out = append(out, Sentence{f.Title + ".", append(slices.Clone(f.Says), f.Follows...)})
		if len(out) == 5 {
			break
		}
	}
	return out
}

// notKnown says what the sheet leaves unknown.
func (c *Case) notKnown(r Report) []Sentence {
	var out []Sentence
	for _, f := range r.Open() {
		switch f.Check {
		case "unknown-toxicity", "remainder", "unreadable", "composition-missing", "percent-missing", "classification-missing", "flash-missing", "secret-class-missing":
			out = append(out, Sentence{f.Title + ".", append(slices.Clone(f.Says), f.Follows...)})
		}
	}
	for _, u := range r.Unchecked {
		out = append(out, Sentence{"Not checked: " + u.Why + ".", []Side{{Text: u.Check}}})
	}
	return out
}
