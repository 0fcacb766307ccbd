package classify

import "sixteen/ghs"

// UnknownToxicity is the statement that x % of the mixture consists of ingredients of unknown acute toxicity.
type UnknownToxicity struct {
	Route    ghs.Qualifier `json:"route"`
	Percent  float64       `json:"percent"`
	TellsHow bool          `json:"tells_route"` // the law wants the route named in the statement
	Clause   string        `json:"clause"`
	Memory   bool          `json:"memory,omitempty"`
}

// UnknownToxicity lists the statements of unknown acute toxicity that label and sheet need at this composition: one per
// route by which a relevant ingredient has no usable data, unless the mixture itself was tested by that route.
func (c *Classification) UnknownToxicity() []UnknownToxicity {
	var out []UnknownToxicity
	row := c.Program.rules.first("unknown-statement", "")
	if row == nil {
		return nil
	}
	for _, route := range routes {
		if c.Program.Mixture.Tested.ATE[route] != nil {
			continue
		}
		share := Condition{Cmp: MoreThan}
		for i := range c.Program.Mixture.Ingredients {
			in := &c.Program.Mixture.Ingredients[i]
			if in.ATE[route].Status == ATEUnknown && !acuteByRoute(in, route) {
				share.Terms = append(share.Terms, Term{Ingredient: i, Weight: 1, Cutoff: row.limit()})
			}
		}
		if share.Holds(c.X) {
			out = append(out, UnknownToxicity{Route: route, Percent: share.Value(c.X), TellsHow: row.Which == "route", Clause: row.Clause, Memory: row.Memory})
		}
	}
	return out
}

// acuteByRoute tells whether the ingredient is classified as acutely toxic by the route.
func acuteByRoute(in *Ingredient, route ghs.Qualifier) bool {
	for _, h := range in.Hazards.All() {
		if h.Class() == ghs.AcuteToxicity && h.Qualifier() == route {
			return true
		}
	}
	return false
}
