package audit

import (
	"fmt"
	"strings"

	"sixteen/ghs"
)

func checkRatingHealth() Check {
	return Check{
		ID: "rating-health", Title: "The 0–4 health rating is milder than the classes", Group: RatingsData, Kinds: []Kind{Doubt}, Harm: HarmLasting,
		Could:    "Those who go by the diamond or the bar work without protection.",
		Compares: "The health digit with the severe classes of section 2.",
		Clauses:  Clauses{"": "NFPA 704 table B.1 (read in a public worksheet for corrosives; the rest from memory); bar ratings from memory"},
		Example:  "H314 and health 1.",
		Do:       "Go by section 2.",
		Run: func(c *Case, e *Emit) {
			h := c.worst(func(h ghs.Hazard) bool {
				return HarmOf(h) <= HarmLasting && h.Class().Group() == ghs.HealthGroup && h.Class() != ghs.AspirationHazard
			})
			if h == ghs.NoHazard {
				return
			}
			need := 2
			if (h.Class() == ghs.SkinCorrosion && base(h) == "1") || (h.Class() == ghs.AcuteToxicity && base(h) <= "2") {
				need = 3
			}
			for _, f := range c.Sheet.Ratings {
				r := f.Value
				if !f.Known() || r.Health < 0 || r.Health >= need || (r.Chronic && r.Health >= 1 && need == 2) || chronicOnly(h) && strings.HasPrefix(strings.ToUpper(r.System), "NFPA") {
					continue
				}
				e.Report(Fault{
					Kind: Doubt, Hazard: h, Section: 2, Title: fmt.Sprintf("Health rating %d beside %s", r.Health, h.String()),
					Says: []Side{says(0, fmt.Sprintf("%s health %d", r.System, r.Health), f), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
					Key:  []string{r.System, fmt.Sprint(r.Health), h.String()},
				})
			}
		},
	}
}

// chronicOnly tells whether a hazard is one of long exposure, which the diamond, made for emergencies, does not rate.
func chronicOnly(h ghs.Hazard) bool {
	switch h.Class() {
	case ghs.Carcinogenicity, ghs.GermCellMutagenicity, ghs.ReproductiveToxicity, ghs.ReproductiveToxicityLactation, ghs.STOTRepeatedExposure,
		ghs.SkinSensitisation, ghs.RespiratorySensitisation:
		return true
	}
	return false
}
