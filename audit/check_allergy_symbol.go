package audit

import (
	"sixteen/ghs"
)

func checkAllergySymbol() Check {
	return Check{
		ID: "allergy-symbol", Title: "The exclamation mark here stands for an allergy for life", Group: Inside2, Kinds: []Kind{Note}, Harm: HarmLasting,
		Compares: "H317 with the pictogram that it shares with passing irritation.",
		Clauses:  Clauses{"": "UN GHS Annex 3 and Annex 1 (from memory): GHS07 covers irritation and skin sensitisation alike; common practice to warn of it"},
		Example:  "GHS07 with H315, H319 and H317.",
		Do:       "Keep every drop off the skin, from the first day on. An allergy does not heal.",
		Run: func(c *Case, e *Emit) {
			for _, h := range c.declares().All() {
				if h.Class() != ghs.SkinSensitisation {
					continue
				}
				e.Report(Fault{
					Kind: Note, Hazard: h, Section: 2, Title: "The exclamation mark looks mild; here it stands for a skin allergy that stays for life (H317)",
					Says: []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}}, Key: []string{"H317"},
				})
				return
			}
		},
	}
}
