package audit

import (
	"strings"
)

func checkRespiratorParticle() Check {
	return Check{
		ID: "respirator-particle", Title: "A dust mask named against vapour", Group: Protect8, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Could:    "The wearer breathes the vapour in full and believes to be protected.",
		Compares: "The filters named in section 8 with the ingredients that evaporate.",
		Clauses:  Clauses{"": "EN 143, EN 149, EN 14387; 42 CFR part 84 (summaries read): particle filters hold no gas or vapour"},
		Example:  "40 % toluene and “filter P2”.",
		Do:       "A particle filter does not help here; ventilate, or use a gas filter that fits.",
		Run: func(c *Case, e *Emit) {
			r := c.Sheet.Control.Respiratory
			if !r.Known() || len(r.Value.Filters) == 0 || r.Value.SuppliedAir {
				return
			}
			k := readFilters(r.Value.Filters)
			if !k.particles || k.organic || k.lowBoiling || k.other || hasAny(strings.ToLower(r.Value.Text), "vapour filter", "vapor filter", "organic vap", "gas filter", "cartridge", "sanding", "grinding") {
				return
			}
			vs := c.vapours(5)
			if len(vs) == 0 || vs[0].row.VapourPressurePa.V < 100 {
				return
			}
			e.Report(Fault{
				Kind: Contradiction, Section: 8, Title: "A particle filter against the vapour of " + nameOf(vs[0].ing),
				Says: []Side{says(8, strings.Join(r.Value.Filters, ", "), r)}, Follows: []Side{vs[0].side()},
				Ask: ask("state", "@filter", "8"), Key: append([]string{vs[0].ing.CAS.Value}, r.Value.Filters...),
			})
		},
	}
}
