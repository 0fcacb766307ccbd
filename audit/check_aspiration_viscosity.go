package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkAspirationViscosity() Check {
	return Check{
		ID: "aspiration-viscosity", Title: "The aspiration hazard does not fit the viscosity", Group: With9, Kinds: []Kind{Contradiction, Gap, Doubt}, Harm: HarmDeath,
		Compares: "H304 of section 2, the aspiration hazards of section 3 and the viscosity of section 9 at 40 °C.",
		Clauses: Clauses{
			ghs.USHCS2024: "29 CFR 1910.1200 App. A, A.10.3.3.1 to A.10.3.3.2.2",
			ghs.USHCS2012: "29 CFR 1910.1200 App. A, A.10.3.3.1 and A.10.3.3.2",
			ghs.EUCLP:     "CLP Annex I 3.10.3.3.1",
			ghs.GBCLP:     "GB CLP Annex I 3.10.3.3.1",
			ghs.CAHPR:     "Hazardous Products Regulations s. 8.10.5",
			ghs.AUWHS:     "GHS 3.10 as adopted (from memory)",
			ghs.UNGHS:     "UN GHS 3.10.3.3.1 (from memory)",
		},
		Example: "30 % white spirit with H304 in section 3, no H304 in section 2 and no viscosity in section 9.",
		Do:      "Keep the product away from children; never bring on vomiting.",
		Run: func(c *Case, e *Emit) {
			if c.notLiquid() {
				return
			}
			declared := coversAny(c.declares(), ghs.AspTox1)
			visc, known := c.viscosity40()
			sides, low, kind := c.aspirationParts()
			switch {
			case declared && known && allAbove(visc.Value.Interval, 20.5):
				e.Report(Fault{
					Kind: Doubt, Hazard: ghs.AspTox1, Section: 9, Title: "Aspiration hazard stated, the viscosity is above the limit",
					Says:    []Side{says(9, "Viscosity at 40 °C "+printed(visc.Value), visc), {Section: 2, Text: "H304", Evidence: c.declaredAt(ghs.AspTox1)}},
					Follows: []Side{follows("The class ends at 20.5 mm²/s at 40 °C")}, Ask: ask("clash", "2", "H304", "9", printed(visc.Value)), Key: []string{"above"},
				})
			case !declared && low >= 10 && known && allAtMost(visc.Value.Interval, 20.5):
				e.Report(Fault{
					Kind: kind, Hazard: ghs.AspTox1, Section: 2, Title: "Aspiration hazard is missing from section 2",
					Says:    append([]Side{says(9, "Viscosity at 40 °C "+printed(visc.Value), visc)}, sides...),
					Follows: []Side{follows("Asp. Tox. 1", fmt.Sprintf("at least %s %% ≥ 10 %% of aspiration hazards, viscosity ≤ 20.5 mm²/s", share(low)))},
					Ask:     ask("classify", ghs.AspTox1.String(), "H304"), Key: []string{"missing"},
				})
			case !declared && low >= 10 && !known:
				e.Report(Fault{
					Kind: max(kind, Gap), Hazard: ghs.AspTox1, Section: 9, Title: "The viscosity that decides on the aspiration hazard is not stated",
					Says:    append([]Side{silent(9, "the kinematic viscosity at 40 °C")}, sides...),
					Follows: []Side{follows("Asp. Tox. 1 if the viscosity is 20.5 mm²/s or less at 40 °C", fmt.Sprintf("at least %s %% ≥ 10 %% of aspiration hazards", share(low)))},
					Ask:     ask("state", "@viscosity", "9"), Key: []string{"unknown"},
				})
			}
		},
	}
}

// viscosity40 is the stated kinematic viscosity at 40 °C. A value at another temperature bounds it only from above.
func (c *Case) viscosity40() (sheet.Fact[sheet.Quantity], bool) {
	for _, f := range c.measured(sheet.KinematicViscosity) {
		if f.Value.AtC != nil && *f.Value.AtC > 39 && *f.Value.AtC < 41 {
			return f, true
		}
	}
	return sheet.Fact[sheet.Quantity]{}, false
}

// aspirationParts are the ingredients that are aspiration hazards, each from 1 %, the smallest share that they can have
// together, and what a product without the hazard is worth: a contradiction where those that section 3 itself or binding law
// marks make up 10 %, a doubt where it takes what others state.
func (c *Case) aspirationParts() ([]Side, float64, Kind) {
	var sides []Side
	low, firm := 0.0, 0.0
	for _, ch := range c.Choices() {
		ing := c.Sheet.Composition.Ingredients[ch.Ingredient]
		share := lowest(ing.Percent.Value.Interval)
		if ch.Hazard != ghs.AspTox1 || share < 1 {
			continue
		}
		low += share
		if ch.Firm() {
			firm += share
		}
		side := says(3, nameOf(ing)+" "+printed(ing.Percent.Value)+", H304 ("+ch.Why+")", ing.Percent)
		if ch.Basis == OfTable {
			side.Source, side.Memory = ch.Source.Text, ch.Source.Memory
		}
		sides = append(sides, side)
	}
	if firm >= 10 {
		return sides, low, c.against()
	}
	return sides, low, Doubt
}
