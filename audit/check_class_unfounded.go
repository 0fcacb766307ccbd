package audit

import (
	"slices"

	"sixteen/ghs"
)

func checkClassUnfounded() Check {
	return Check{
		ID: "class-unfounded", Title: "Section 2 states a class that no listed ingredient leads to", Group: With3, Kinds: []Kind{Doubt, Note}, Harm: HarmPaper,
		Could:    "Something hazardous is in it that section 3 does not name.",
		Compares: "Each class of section 2 with every composition that section 3 allows.",
		Clauses:  common("a class that does not come from the listed ingredients comes from an unlisted one, from a test, or from caution"),
		Example:  "H334 and no respiratory sensitiser in section 3.",
		Do:       "Ask what it rests on; keep acting on the class.",
		Run: func(c *Case, e *Emit) {
			v := c.derived().strict
			if v.err != nil {
				e.Cannot("the classification cannot be worked out: " + v.err.Error())
				return
			}
			for _, h := range c.declares().All() {
				if !calculated(h) || slices.ContainsFunc(v.envelope.Possible.All(), func(p ghs.Hazard) bool { return kin(p, h) && base(p) == base(h) }) {
					continue
				}
				kind := Note
				if v.envelope.MaxRemainder == 0 {
					kind = Doubt
				}
				e.Report(Fault{
					Kind: kind, Section: 2, Title: h.String() + " does not follow from the ingredients of section 3",
					Says: append([]Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}}, c.blame(h)...),
					Ask:  ask("basis", h.String()), Key: []string{h.String()},
				})
			}
		},
	}
}

// calculated tells whether the rules give a class from the shares of classified ingredients.
func calculated(h ghs.Hazard) bool {
	switch h.Class() {
	case ghs.SkinCorrosion, ghs.EyeDamage, ghs.SkinSensitisation, ghs.RespiratorySensitisation, ghs.GermCellMutagenicity, ghs.Carcinogenicity,
		ghs.ReproductiveToxicity, ghs.STOTRepeatedExposure, ghs.STOTSingleExposure:
		return true
	}
	return false
}
