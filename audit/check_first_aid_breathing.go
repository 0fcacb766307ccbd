package audit

import (
	"sixteen/ghs"
)

func checkFirstAidBreathing() Check {
	return mention{
		ID: "first-aid-breathing", Title: "First aid does not say what to do after breathing it in", Group: FirstAid, Sections: []int{4}, Harm: HarmDeath,
		Could: "Nobody knows that symptoms may come hours later.", What: "first aid after breathing it in",
		Words:   []string{"inhal", "breath", "fresh air", "air frais", "einatm", "frische luft", "frischluft", "aire fresco", "respir"},
		Clauses: contents("4(a)", "4.1 (from memory)", "item 4(a)", "section 4"),
		Example: "Section 4 speaks of skin and eyes only.", Do: "Bring the person into fresh air, keep them at rest, call the poison centre.",
		When: func(c *Case) (Side, bool) {
			return declaredClass(c, func(h ghs.Hazard) bool {
				return h.Class() == ghs.RespiratorySensitisation || h.Class() == ghs.AcuteToxicity && inhaled(h) || h.Class() == ghs.STOTSingleExposure
			})
		},
	}.check()
}
