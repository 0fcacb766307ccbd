package audit

import (
	"sixteen/ghs"
)

func checkFirstAidEyes() Check {
	return mention{
		ID: "first-aid-eyes", Title: "First aid does not say what to do about the eyes", Group: FirstAid, Sections: []int{4}, Harm: HarmLasting,
		Could: "Seconds are lost with a corrosive in the eye.", What: "first aid for the eyes",
		Words:   []string{"eye", "yeux", "œil", "auge", "ojo"},
		Beside:  []string{"rins", "flush", "wash", "irrigat", "rinc", "lav", "spül", "wasch", "wasser", "enjuag", "agua", " eau", "’eau", "'eau"},
		Clauses: contents("4(a)", "4.1 (from memory)", "item 4(a)", "section 4"),
		Example: "Section 4 speaks of swallowing only.", Do: "Rinse with running water for a quarter of an hour, lids open, lenses out; call a doctor.",
		When: func(c *Case) (Side, bool) {
			return declaredClass(c, func(h ghs.Hazard) bool {
				return h.Class() == ghs.EyeDamage || h.Class() == ghs.SkinCorrosion && base(h) == "1"
			})
		},
	}.check()
}
