package audit

import (
	"fmt"
	"strings"

	"sixteen/classify"
	"sixteen/ghs"
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
			hidden, err := c.hideable(v.program)
			if err != nil || len(hidden) == 0 {
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

// hideable lists the undeclared hazards of lasting harm that an undisclosed ingredient could bring, each with the share
// from which it could.
func (c *Case) hideable(p *classify.Program) ([]string, error) {
	hidden, err := p.RemainderCouldHide()
	if err != nil {
		return nil, err
	}
	declared := c.declares()
	var out []string
	for _, h := range hidden {
		if HarmOf(h.Hazard) > HarmLasting || coversAny(declared, h.Hazard) || h.Hazard.Class().Group() != ghs.HealthGroup || len(h.Hazard.Category()) > 1 || h.Hazard.Class() == ghs.AcuteToxicity || h.Hazard.Class() == ghs.AspirationHazard {
			continue
		}
		out = append(out, fmt.Sprintf("%s from %s %%", h.Hazard, number(h.Limit)))
	}
	return out, nil
}
