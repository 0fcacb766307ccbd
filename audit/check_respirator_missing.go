package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkRespiratorMissing() Check {
	return Check{
		ID: "respirator-missing", Title: "Breathing hazard, and no usable word on breathing protection", Group: Protect8, Kinds: []Kind{Contradiction, Gap}, Harm: HarmLasting,
		Compares: "The breathing hazards of section 2 with what section 8 says of breathing protection.",
		Clauses:  protectClauses("REACH Annex II 8.2.2.2(c): type of device and filter"),
		Example:  "H334 and “respiratory protection: not required”; H336 and “use a suitable respirator”.",
		Do:       "Ask for type and filter; until then keep the vapour away by ventilation, or do not do the job.",
		Run: func(c *Case, e *Emit) {
			h, r := c.breathingHazard(), c.Sheet.Control.Respiratory
			if h == ghs.NoHazard || !c.has(e, 8) {
				return
			}
			kind, title := Gap, ""
			switch {
			case r.State == sheet.NoneStated || r.State == sheet.NotApplicable || (r.Known() && deniesNeed(r.Value.Text)):
				if HarmOf(h) != HarmPassing {
					kind = Contradiction
				}
				title = "Section 8 says that breathing protection is not needed"
			case !r.Known() && !hasAny(c.text(8), "respirat", "breathing", "atemschutz", "mask"):
				title = "Section 8 says nothing of breathing protection"
			case r.Known() && len(r.Value.Filters) == 0 && !r.Value.SuppliedAir && !hasAny(strings.ToLower(r.Value.Text), "cartridge", "filter type", "organic vap", "supplied", "self-contained", "breathing apparatus"):
				title = "Breathing protection without type or filter"
			default:
				return
			}
			e.Report(Fault{
				Kind: kind, Hazard: h, Section: 8, Title: title + "; section 2 states " + h.String(),
				Says: []Side{says(8, r.Value.Text, r), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Ask:  ask("state", "@filter", "8"), Key: []string{title},
			})
		},
	}
}
