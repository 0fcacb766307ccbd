package audit

import (
	"sixteen/ghs"
)

func checkKitMixed() Check {
	return kitCheck(Check{
		ID: "kit-mixed", Title: "The fresh mix has a hazard that this part has not", Kinds: []Kind{Note}, Harm: HarmLasting,
		Compares: "The classes of this part's sheet with those of all parts and of the fresh mix.",
		Clauses:  Clauses{"": "common practice: from the moment the parts meet until the mix has cured, the strictest of the parts and the mix holds"},
		Example:  "Resin that irritates, hardener that burns: so does the mix.",
		Do:       "From mixing on, protect yourself as the strictest part asks.",
	}, func(c *Case, k *Kit, e *Emit) {
		mix, err := k.Classify(c.RuleSet, c.Substances)
		if err != nil {
			e.Cannot("the kit cannot be worked out: " + err.Error())
			return
		}
		declared := c.declares()
		for _, h := range mix.Rule.Certain.All() {
			if coversAny(declared, h) || HarmOf(h) > HarmLasting || leftOpen(h) || h.Class() == ghs.EyeDamage && coversAny(mix.Rule.Certain, ghs.SkinCorr1) {
				continue
			}
			e.Report(Fault{
				Kind: Note, Hazard: h, Section: 2, Title: "Once mixed: " + h.String(), Says: []Side{{Section: 2, Text: "This part: " + c.summary()}},
				Follows: []Side{follows(h.Title(ghs.English)+" holds for a part or for the fresh mix of "+k.Name, mix.Rule.Text)}, Key: []string{k.Name, h.String()},
			})
		}
	})
}
