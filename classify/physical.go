package classify

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// compileGases gives the classes of gas mixtures that the law lets one calculate (ISO 10156). With A the shares of
// flammable gases, Tc their limits in nitrogen, B the shares of inert gases and K their nitrogen equivalents, a mixture
// is flammable when ΣA'·100/Tc > 100 with A' = A/(ΣA + ΣKB), that is ΣA(100/Tc − 1) − ΣKB > 0; it oxidises more than
// air when ΣCA/(ΣA + ΣKB) exceeds the limit, that is ΣA(100C − limit) − limit·ΣKB > 0.
func (c *compiler) compileGases() {
	if r := c.t.first("gas-flammable", ""); r != nil {
		c.compileGas(r, PropFlammableTc, func(tc float64) float64 { return 100/tc - 1 }, 1)
	}
	if r := c.t.first("gas-oxidising", ""); r != nil {
		limit := r.limit()
		c.compileGas(r, PropOxygenC, func(oxygen float64) float64 { return 100*oxygen - limit }, limit)
	}
}

func (c *compiler) compileGas(r *RuleRow, prop string, weight func(float64) float64, inert float64) {
	w := c.m.evalWhen(r.When)
	if w.holds == no {
		return
	}
	var terms []Term
	active := false
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		if v, ok := in.property(prop); ok && v > 0 {
			active = true
			terms = append(terms, Term{Ingredient: i, Weight: weight(v), Because: "has " + prop + " " + number(v)})
		} else if k, ok := in.property(PropNitrogenK); ok {
			terms = append(terms, Term{Ingredient: i, Weight: -inert * k, Because: "has " + PropNitrogenK + " " + number(k)})
		}
	}
	if active {
		c.place(r, w, -1, alternative(r, Condition{Terms: terms, Cmp: MoreThan, Bound: 0, What: r.Note, Unit: "%"}))
	}
}

// compileAerosol gives the category of an aerosol from its flammable components and heat of combustion. Between the two
// pairs of limits tests decide; without them the severest category is taken.
func (c *compiler) compileAerosol() {
	if c.m.Form != Aerosol {
		return
	}
	row := c.t.first("limit", "aerosol.flammable")
	flammable := Condition{What: "flammable components", Unit: "%", Cmp: MoreThan, Bound: row.limit()}
	heat := Condition{What: "heat of combustion", Unit: "kJ/g", Cmp: AtLeast, Bound: c.t.first("limit", "aerosol.heat").limit()}
	var without []string
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		burns := !in.Hazards.Intersect(hazardGroups()["flammable components"]).Empty()
		if burns {
			flammable.Terms = append(flammable.Terms, Term{Ingredient: i, Weight: 1, Because: "is flammable"})
		}
		if v, ok := in.property(PropHeatKJG); ok {
			heat.Terms = append(heat.Terms, Term{Ingredient: i, Weight: v / 100, Because: fmt.Sprintf("has a heat of combustion of %s kJ/g", number(v))})
		} else if burns {
			without = append(without, in.Name)
		}
	}
	for _, cond := range []Condition{flammable, heat} {
		if len(cond.Terms) > 0 {
			a := alternative(row, cond)
			a.Facts = []string{"no flammability test of the aerosol is known: the severest category is taken"}
			c.give(ghs.Aerosol1, a)
		}
	}
	if !c.p.lawOf().Exists(ghs.Aerosol3) {
		return
	}
	flammable.Cmp, heat.Cmp = AtMost, LessThan
	a := alternative(row, flammable, heat)
	if len(without) > 0 {
		a.Needs = []string{"heat of combustion of " + strings.Join(without, ", ")}
		c.open(ghs.Aerosol3, a)
		return
	}
	c.give(ghs.Aerosol3, a)
}

// compilePeroxide gives the type of a mixture that holds an organic peroxide, unless its available oxygen (O) and its
// hydrogen peroxide (H) are within the limits: O ≤ 1 with H ≤ 1, or O ≤ 0.5 with H above 1 up to 7. What is not within
// them is O > 1, or O > 0.5 with H > 1, or H > 7. The type is that of the most dangerous peroxide in it.
func (c *compiler) compilePeroxide() {
	limit := func(name string) float64 { return c.t.first("limit", "peroxide."+name).limit() }
	row := c.t.first("limit", "peroxide.oxygen")
	var oxygen, hydrogen []Term
	var unknown []string
	for i := range c.m.Ingredients {
		in := &c.m.Ingredients[i]
		if in.is(PropHydrogenPeroxide) {
			hydrogen = append(hydrogen, Term{Ingredient: i, Weight: 1, Because: "is hydrogen peroxide"})
		}
		if peroxideType(in) == ghs.NoHazard {
			continue
		}
		if in.ActiveOxygenPct <= 0 {
			unknown = append(unknown, in.Name)
			continue
		}
		oxygen = append(oxygen, Term{Ingredient: i, Weight: in.ActiveOxygenPct / 100, Because: fmt.Sprintf("has %s %% available oxygen", number(in.ActiveOxygenPct))})
	}
	o := func(cmp Compare, b float64) Condition {
		return Condition{Terms: oxygen, Cmp: cmp, Bound: b, What: "available oxygen", Unit: "%"}
	}
	h := func(cmp Compare, b float64) Condition {
		return Condition{Terms: hydrogen, Cmp: cmp, Bound: b, What: "hydrogen peroxide", Unit: "%"}
	}
	for i := range c.m.Ingredients {
		kind := peroxideType(&c.m.Ingredients[i])
		if kind == ghs.NoHazard {
			continue
		}
		present := c.single(i, MoreThan, 0, "is "+kind.String())
		if slices.Contains(unknown, c.m.Ingredients[i].Name) {
			a := alternative(row, present)
			a.Needs = []string{"available oxygen of " + c.m.Ingredients[i].Name + " (above " + number(limit("oxygen")) + " % in the mixture)"}
			c.open(kind, a)
		}
		c.give(kind, alternative(row, present, o(MoreThan, limit("oxygen"))))
		if len(hydrogen) > 0 {
			c.give(kind, alternative(row, present, o(MoreThan, limit("oxygen.strict")), h(MoreThan, limit("h2o2"))))
			c.give(kind, alternative(row, present, h(MoreThan, limit("h2o2.most"))))
		}
	}
	if len(oxygen) > 0 {
		c.p.Quantities = append(c.p.Quantities, Quantity{Name: "available_oxygen_percent", Unit: "%", Terms: oxygen})
	}
}

func peroxideType(in *Ingredient) ghs.Hazard {
	for _, h := range in.Hazards.All() {
		if h.Class() == ghs.OrganicPeroxides {
			return h
		}
	}
	return ghs.NoHazard
}
