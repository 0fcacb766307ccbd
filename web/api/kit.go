package api

import (
	"sixteen/classify"
	"sixteen/judge"
)

// kitBody is a kit worked out.
type kitBody struct {
	Parts  []kitPart `json:"parts"`
	Mix    any       `json:"mix" doc:"Classes of the fresh mix before anything reacts, as the conclusions of a judgement."`
	Reacts bool      `json:"reacts"`
	Rule   string    `json:"rule" doc:"What to act on from the moment the parts meet until the mix has cured."`
	ActOn  any       `json:"act_on" doc:"Hazards to act on."`
	Maybe  any       `json:"act_on_if_possible" doc:"Further hazards within the stated ranges."`
	Notes  []string  `json:"notes"`
}

type kitPart struct {
	Name    string `json:"name"`
	Share   any    `json:"share_percent" doc:"Share in the mix by mass, a range in percent."`
	Classes any    `json:"classes"`
}

func kitOf(k *classify.KitClassification) kitBody {
	out := kitBody{Mix: judge.ConclusionsOf(k.Mix, &k.Program.Mixture), Reacts: k.Rule.Reacts, Rule: k.Rule.Text, ActOn: k.Rule.Certain.All(),
		Maybe: k.Rule.Possible.Minus(k.Rule.Certain).All(), Notes: append([]string{}, k.Notes...)}
	for i, p := range k.Kit.Parts {
		out.Parts = append(out.Parts, kitPart{p.Name, k.Fractions[i], judge.ConclusionsOf(k.Parts[i], &p.Mixture)})
	}
	return out
}
