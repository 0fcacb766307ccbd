package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkRemainder() Check {
	return Check{
		ID: "remainder", Title: "The undisclosed part is large enough to hide a hazard", Group: With3, Kinds: []Kind{Note, Doubt}, Harm: HarmLasting,
		Could:    "An ingredient nobody names makes you ill.",
		Compares: "The largest share that section 3 leaves undisclosed with the smallest shares at which the rules give a class.",
		Clauses:  common("the law lets harmless ingredients go unnamed, so that a remainder is no fault; its size is worth knowing"),
		Example:  "Ingredients of at most 45 % in all.",
		Do:       "Ask for a written statement that nothing of the named classes is in the rest.",
		Run: func(c *Case, e *Emit) {
			v := c.derived().strict
			if v.err != nil || v.envelope.MaxRemainder < 1 {
				return
			}
			hidden := c.hideable(v.envelope.MaxRemainder)
			if len(hidden) == 0 {
				return
			}
			kind := Note
			if v.envelope.MinRemainder >= 50 {
				kind = Doubt
			}
			text := strings.Join(hidden, ", ")
			e.Report(Fault{
				Kind: kind, Section: 3, Title: fmt.Sprintf("Up to %s %% of the product is not disclosed", share(v.envelope.MaxRemainder)),
				Says:    []Side{{Section: 3, Text: fmt.Sprintf("The listed shares leave %s to %s %% open", share(v.envelope.MinRemainder), share(v.envelope.MaxRemainder))}},
				Follows: []Side{follows("Enough for: "+text, "smallest share at which one ingredient makes the product so")},
				Ask:     ask("remainder", share(v.envelope.MaxRemainder), text), Key: []string{share(v.envelope.MaxRemainder)},
			})
		},
	}
}

// hideable lists undeclared hazards of lasting harm that one ingredient of the given share would bring, tried out with
// the compiled rules.
func (c *Case) hideable(percent float64) []string {
	declared := c.declares()
	var out []string
	for _, h := range []ghs.Hazard{ghs.SkinSens1, ghs.RespSens1, ghs.Carc1B, ghs.Muta1B, ghs.Repr1B, ghs.STOTRE1, ghs.SkinCorr1} {
		if coversAny(declared, h) || !c.RuleSet.Exists(h) {
			continue
		}
		m := classify.Mixture{Ingredients: []classify.Ingredient{{Name: "undisclosed", Percent: sheet.Exactly(percent), Hazards: ghs.SetOf(h)}}}
		p, err := classify.Compile(m, c.RuleSet)
		if err != nil {
			continue
		}
		at := p.At([]float64{percent})
		if slices.ContainsFunc(at.Hazards.All(), func(g ghs.Hazard) bool { return covers(g, h) }) {
			out = append(out, h.String())
		}
	}
	return out
}
