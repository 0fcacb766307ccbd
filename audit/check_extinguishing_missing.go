package audit

import (
	"sixteen/ghs"
)

func checkExtinguishingMissing() Check {
	return mention{
		ID: "extinguishing-missing", Title: "A flammable product, and no word on what puts it out", Group: Fire5, Sections: []int{5}, Harm: HarmDeath,
		Could: "Water spreads the fire.", What: "suitable extinguishing media",
		Words:   []string{"foam", "carbon dioxide", "co2", "co₂", "dry chemical", "powder", "water spray", "water fog", "sand", "mousse", "poudre", "dioxyde de carbone", "eau pulvérisée", "sable", "schaum", "pulver", "kohlendioxid", "kohlenstoffdioxid", "wassersprüh", "sprühwasser", "espuma", "polvo", "dióxido de carbono", "agua pulverizada", "arena"},
		Clauses: contents("5(a)", "5.1 (from memory)", "item 5(a)", "section 5"),
		Example: "“In case of fire call the fire brigade.”", Do: "Keep a foam, powder or carbon dioxide extinguisher at the bench; no water jet on burning solvent.",
		When: func(c *Case) (Side, bool) {
			return declaredClass(c, func(h ghs.Hazard) bool {
				switch h.Class() {
				case ghs.FlammableLiquids, ghs.FlammableSolids, ghs.Aerosols, ghs.OrganicPeroxides, ghs.FlammableGases:
					return true
				}
				return false
			})
		},
	}.check()
}
