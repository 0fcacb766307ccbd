package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

// Direction tells what a change between two revisions means for those who work with the product.
type Direction string

// Directions.
const (
	Sterner Direction = "sterner" // the newer revision warns of more, or asks for more
	Milder  Direction = "milder"  // it warns of less, or asks for less
	Neutral Direction = "neutral"
)

// Change is one difference in meaning between two revisions of a sheet.
type Change struct {
	What      string    `json:"what"` // "classification", "share of xylene", "flash point"
	Section   int       `json:"section"`
	Direction Direction `json:"direction"`
	Harm      Harm      `json:"harm"`
	Was       Side      `json:"was"`
	Is        Side      `json:"is"`
	Means     string    `json:"means"`  // in plain words, for whom
	Papers    bool      `json:"papers"` // labels and bench cards made from the older revision are now wrong
}

// Revise compares two revisions of a sheet in meaning: classes, signal word, statements, ingredients and shares, limits,
// protection, flash point and transport; not wording or layout. rs is the rule set that codes are read by. Changes stand
// worst first.
func Revise(old, new *sheet.Sheet, rs ghs.RuleSet) []Change {
	a, b := &Case{Sheet: old, RuleSet: rs}, &Case{Sheet: new, RuleSet: rs}
	out := slices.Concat(reviseClasses(a, b), reviseSignal(a, b), reviseIngredients(a, b), reviseLimits(a, b), reviseProtection(a, b), reviseMeasures(a, b), reviseTransport(a, b))
	slices.SortStableFunc(out, func(x, y Change) int {
		return cmp.Or(cmp.Compare(x.Harm, y.Harm), cmp.Compare(x.Section, y.Section))
	})
	return out
}

func reviseClasses(a, b *Case) []Change {
	was, is := a.declares(), b.declares()
	var out []Change
	for _, h := range is.All() {
		if was.Has(h) || coversAny(was, h) {
			continue
		}
		before := Side{Section: 2, Text: "Section 2: " + a.summary(), Evidence: a.declaredAt(h)}
		out = append(out, Change{What: "classification", Section: 2, Direction: Sterner, Harm: HarmOf(h), Was: before,
			Is: Side{Section: 2, Text: h.Title(ghs.English), Evidence: b.declaredAt(h)}, Means: "New: " + CouldHappen(h), Papers: true})
	}
	for _, h := range was.All() {
		if is.Has(h) || coversAny(is, h) {
			continue
		}
		after := Side{Section: 2, Text: "Section 2: " + b.summary(), Evidence: b.declaredAt(h)}
		out = append(out, Change{What: "classification", Section: 2, Direction: Milder, Harm: HarmOf(h),
			Was: Side{Section: 2, Text: h.Title(ghs.English), Evidence: a.declaredAt(h)}, Is: after, Means: "No longer stated: " + CouldHappen(h), Papers: true})
	}
	return out
}

func reviseSignal(a, b *Case) []Change {
	x, y := a.Sheet.Hazards.SignalWord, b.Sheet.Hazards.SignalWord
	if x.Value == y.Value || !x.Known() && !y.Known() {
		return nil
	}
	d := Milder
	if y.Value > x.Value {
		d = Sterner
	}
	return []Change{{What: "signal word", Section: 2, Direction: d, Harm: HarmLasting, Was: says(2, orNone(x.Value.String()), x), Is: says(2, orNone(y.Value.String()), y),
		Means: "Every label made from the older revision shows another word.", Papers: true}}
}

// reviseIngredients pairs ingredients by number, else by name.
func reviseIngredients(a, b *Case) []Change {
	var out []Change
	find := func(list []sheet.Ingredient, ing sheet.Ingredient) int {
		return slices.IndexFunc(list, func(o sheet.Ingredient) bool { return namesIngredient(ing.Name.Value, ing.CAS.Value, o) })
	}
	for _, ing := range b.Sheet.Composition.Ingredients {
		i := find(a.Sheet.Composition.Ingredients, ing)
		if i < 0 {
			out = append(out, Change{What: "ingredient", Section: 3, Direction: Sterner, Harm: ingredientHarm(ing, b.RuleSet), Was: silent(3, nameOf(ing)),
				Is: says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Name, ing.CAS), Means: "A new ingredient: " + orNone(statedFor(ing, b.RuleSet).String()), Papers: true})
			continue
		}
		out = append(out, reviseIngredient(a.Sheet.Composition.Ingredients[i], ing, b.RuleSet)...)
	}
	for _, ing := range a.Sheet.Composition.Ingredients {
		if find(b.Sheet.Composition.Ingredients, ing) < 0 {
			out = append(out, Change{What: "ingredient", Section: 3, Direction: Milder, Harm: ingredientHarm(ing, a.RuleSet), Was: says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Name, ing.CAS),
				Is: silent(3, nameOf(ing)), Means: "No longer listed; it may have been taken out, or may only go unnamed."})
		}
	}
	return out
}

func reviseIngredient(was, is sheet.Ingredient, rs ghs.RuleSet) []Change {
	var out []Change
	p, q := was.Percent.Value.Interval, is.Percent.Value.Interval
	if p != q {
		d := Neutral
		switch {
		case highest(q) > highest(p):
			d = Sterner
		case highest(q) < highest(p):
			d = Milder
		}
		out = append(out, Change{What: "share of " + nameOf(is), Section: 3, Direction: d, Harm: ingredientHarm(is, rs),
			Was: says(3, printed(was.Percent.Value), was.Percent), Is: says(3, printed(is.Percent.Value), is.Percent), Means: "What is worked out from the share (class, vapour, ventilation) changes with it."})
	}
	before, after := statedFor(was, rs), statedFor(is, rs)
	if len(before.All()) == 0 && len(was.Hazards) == 0 {
		if len(after.All()) == 0 {
			return out
		}
		return append(out, Change{What: "class of " + nameOf(is), Section: 3, Direction: Neutral, Harm: ingredientHarm(is, rs), Was: silent(3, "a class of "+nameOf(is)),
			Is: says(3, after.String(), is.Hazards...), Means: "The older revision gave no class of this ingredient, so whether it changed is not known."})
	}
	for _, h := range after.Minus(before).All() {
		if !coversAny(before, h) {
			out = append(out, Change{What: "class of " + nameOf(is), Section: 3, Direction: Sterner, Harm: HarmOf(h), Was: Side{Section: 3, Text: orNone(before.String())},
				Is: says(3, h.String(), is.Hazards...), Means: CouldHappen(h), Papers: true})
		}
	}
	return out
}

func ingredientHarm(ing sheet.Ingredient, rs ghs.RuleSet) Harm {
	all := statedFor(ing, rs).All()
	if len(all) == 0 {
		return HarmPaper
	}
	return HarmOf(gravest(all))
}

func reviseLimits(a, b *Case) []Change {
	var out []Change
	for _, y := range b.Sheet.Control.Limits {
		for _, x := range a.Sheet.Control.Limits {
			l, m := x.Value, y.Value
			if l.CAS != m.CAS || !strings.EqualFold(l.Substance, m.Substance) || l.Authority != m.Authority || l.Kind != m.Kind || l.Unit != m.Unit || l.Fraction != m.Fraction || l.Value == m.Value {
				continue
			}
			d := Milder
			if m.Value < l.Value {
				d = Sterner
			}
			out = append(out, Change{What: "exposure limit of " + m.Substance, Section: 8, Direction: d, Harm: HarmLasting, Was: says(8, fmt.Sprintf("%s %s %s %s", l.Authority, l.Kind, number(l.Value), l.Unit), x),
				Is: says(8, fmt.Sprintf("%s %s %s %s", m.Authority, m.Kind, number(m.Value), m.Unit), y), Means: "Ventilation planned by the older figure has to be worked out anew.", Papers: true})
		}
	}
	return out
}

func reviseProtection(a, b *Case) []Change {
	var out []Change
	x, y := a.Sheet.Control.Hands, b.Sheet.Control.Hands
	if !slices.Equal(x.Value.Materials, y.Value.Materials) || x.Value.ThicknessMM != y.Value.ThicknessMM || x.Value.BreakthroughMin != y.Value.BreakthroughMin {
		out = append(out, Change{What: "gloves", Section: 8, Direction: Neutral, Harm: HarmLasting, Was: says(8, orNone(x.Value.Text), x), Is: says(8, orNone(y.Value.Text), y), Means: "Bench cards name other gloves.", Papers: true})
	}
	r, s := a.Sheet.Control.Respiratory, b.Sheet.Control.Respiratory
	if !slices.Equal(r.Value.Filters, s.Value.Filters) || r.Value.SuppliedAir != s.Value.SuppliedAir {
		d := Neutral
		if s.Value.SuppliedAir && !r.Value.SuppliedAir {
			d = Sterner
		}
		out = append(out, Change{What: "breathing protection", Section: 8, Direction: d, Harm: HarmLasting, Was: says(8, orNone(r.Value.Text), r), Is: says(8, orNone(s.Value.Text), s), Means: "Bench cards name another filter or device.", Papers: true})
	}
	return out
}

func reviseMeasures(a, b *Case) []Change {
	var out []Change
	for _, p := range []struct {
		property sheet.Property
		name     string
		lower    Direction // what a lower figure means
		harm     Harm
	}{
		{sheet.FlashPoint, "flash point", Sterner, HarmDeath}, {sheet.BoilingPoint, "boiling point", Sterner, HarmDeath},
		{sheet.VapourPressure, "vapour pressure", Milder, HarmLasting}, {sheet.VOC, "VOC content", Milder, HarmLasting}, {sheet.PH, "pH", Neutral, HarmLasting},
	} {
		x, ok1 := a.only(p.property)
		y, ok2 := b.only(p.property)
		if !ok1 && !ok2 || ok1 == ok2 && x.Value.Interval == y.Value.Interval {
			continue
		}
		d := Neutral
		if ok1 && ok2 && p.lower != Neutral {
			d = map[bool]Direction{true: p.lower, false: map[Direction]Direction{Sterner: Milder, Milder: Sterner}[p.lower]}[lowest(y.Value.Interval) < lowest(x.Value.Interval)]
		}
		out = append(out, Change{What: p.name, Section: 9, Direction: d, Harm: p.harm, Was: says(9, textOr(ok1, x), x), Is: says(9, textOr(ok2, y), y), Means: "Plans that rest on the older figure have to be worked out anew."})
	}
	return out
}

func textOr(ok bool, f sheet.Fact[sheet.Quantity]) string {
	if !ok {
		return "not stated"
	}
	return printed(f.Value)
}

func reviseTransport(a, b *Case) []Change {
	var out []Change
	for _, y := range b.Sheet.Transport {
		for _, x := range a.Sheet.Transport {
			if x.Value.Mode != y.Value.Mode || transportText(x.Value) == transportText(y.Value) {
				continue
			}
			d := Neutral
			if x.Value.Regulated != y.Value.Regulated {
				d = map[bool]Direction{true: Sterner, false: Milder}[y.Value.Regulated]
			}
			out = append(out, Change{What: "transport", Section: 14, Direction: d, Harm: HarmPaper, Was: says(14, transportText(x.Value), x), Is: says(14, transportText(y.Value), y), Means: "Parcels are declared otherwise."})
		}
	}
	return out
}
