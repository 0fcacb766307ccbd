package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkRatingDirection() Check {
	return Check{
		ID: "rating-direction", Title: "0–4 ratings and GHS categories run in opposite directions", Group: RatingsData, Kinds: []Kind{Note, Doubt}, Harm: HarmLasting,
		Could:    "Category 1, the worst, is read as rating 1, nearly harmless.",
		Compares: "The digits of a 0–4 rating with the categories of section 2.",
		Clauses:  Clauses{"": "NFPA 704 (4 is worst) beside GHS 1.1 (category 1 is worst): common practice to warn of it"},
		Example:  "Flam. Liq. 2 and flammability 2; Eye Dam. 1 and health 1.",
		Do:       "In a rating 4 is worst. In a GHS category 1 is worst.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Ratings {
				if !f.Known() || (f.Value.Health < 0 && f.Value.Flammability < 0) {
					continue
				}
				fault := Fault{
					Kind: Note, Section: 2, Title: "A 0–4 rating: there 4 is worst, in GHS categories 1 is worst",
					Says: []Side{says(0, fmt.Sprintf("%s health %d, flammability %d", f.Value.System, f.Value.Health, f.Value.Flammability), f)}, Key: []string{"direction"},
				}
				if h := c.copiedCategory(f.Value); h != ghs.NoHazard {
					fault.Kind, fault.Hazard, fault.Title = Doubt, h, "The rating repeats the digit of "+h.String()+", as if 1 were mild"
					fault.Says = append(fault.Says, Side{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)})
					fault.Key = []string{"copied", h.String()}
				}
				e.Report(fault)
				return
			}
		},
	}
}

// copiedCategory is a severe declared hazard of category 1 or 2 whose digit the rating repeats where the rating should be
// 3 or 4, NoHazard when there is none.
func (c *Case) copiedCategory(r sheet.Rating) ghs.Hazard {
	for _, h := range c.declares().All() {
		switch {
		case h.Class() == ghs.FlammableLiquids && (h == ghs.FlamLiq1 && r.Flammability == 1 || h == ghs.FlamLiq2 && r.Flammability == 2):
			return h
		case (h.Class() == ghs.SkinCorrosion || h.Class() == ghs.AcuteToxicity) && base(h) == "1" && r.Health == 1:
			return h
		case h.Class() == ghs.AcuteToxicity && base(h) == "2" && r.Health == 2:
			return h
		}
	}
	return ghs.NoHazard
}
