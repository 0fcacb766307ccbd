package audit

import (
	"sixteen/ghs"
)

func checkPeroxideAccelerator() Check {
	return mention{
		ID: "peroxide-accelerator", Title: "An organic peroxide, and no warning of what makes it decompose", Group: Stability10, Sections: []int{10, 7}, Harm: HarmDeath,
		Could: "Catalyst and accelerator are poured together, and it explodes.", What: "that the peroxide must not meet accelerators, metals, amines or acids",
		Words:   []string{"accelerator", "promoter", "cobalt", "amine", "metal", "reducing", "accélérateur", "métaux", "réducteur", "beschleuniger", "metall", "reduktionsmittel", "acelerador", "metales", "reductor"},
		Clauses: contents("10(c) and 10(e)", "10.3 and 10.5 (from memory)", "items 10(c) and (e)", "section 10"),
		Example: "MEKP whose section 10 says “stable under normal conditions”.", Do: "Never mix catalyst and accelerator directly; keep them apart, cool and clean.",
		When: func(c *Case) (Side, bool) {
			return declaredClass(c, func(h ghs.Hazard) bool { return h.Class() == ghs.OrganicPeroxides })
		},
	}.check()
}
