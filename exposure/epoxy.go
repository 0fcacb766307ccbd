package exposure

// BlendEquivalentWeight is the epoxide (or amine hydrogen) equivalent weight in g/eq of a blend: total mass over
// Σ(mass/equivalent weight). inertMass, in the unit of masses, only adds mass (fillers). Reference: trade technical notes.
func BlendEquivalentWeight(masses, weights []float64, inertMass float64) float64 {
	total := inertMass
	for _, m := range masses {
		total += m
	}
	return total / AdditiveIndex(masses, weights)
}

// AmineHydrogenWeight is molar mass (g/mol) over active hydrogens: g/eq. Reference: coatings handbooks.
func AmineHydrogenWeight(molarMass, activeHydrogens float64) float64 {
	return molarMass / activeHydrogens
}

// HardenerPHR is the grams of hardener per 100 g of resin that match their groups: AHEW·100/EEW. Reference: trade notes.
func HardenerPHR(ahew, eew float64) float64 { return ahew * 100 / eew }

// CureHeat is the heat in J per gram of mixed resin and hardener that full cure sets free: heatKJMol per epoxide group
// (90–110 for amines, from memory) ·1000/(EEW·(1+phr/100)).
func CureHeat(heatKJMol, eew, phr float64) float64 { return heatKJMol * 1000 / (eew * (1 + phr/100)) }

// AdiabaticRise is the temperature rise in kelvin when heatJG joules per gram stay in a mass of heat capacity cp J/(g·K):
// the ceiling that a deep pour approaches.
func AdiabaticRise(heatJG, cp float64) float64 { return heatJG / cp }
