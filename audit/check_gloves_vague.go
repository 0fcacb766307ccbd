package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkGlovesVague() Check {
	return Check{
		ID: "gloves-vague", Title: "Gloves without material, thickness or breakthrough time", Group: Protect8, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Compares: "What section 8 says of gloves with the skin hazards of section 2.",
		Clauses:  protectClauses("REACH Annex II 8.2.2.2(b)(i): material, thickness and breakthrough time"),
		Example:  "“Wear suitable protective gloves.”",
		Do:       "Ask; until then take gloves whose maker states a time against the worst ingredient, and change them at half that time.",
		Run: func(c *Case, e *Emit) {
			h, hands := c.skinHazard(), c.Sheet.Control.Hands
			if h == ghs.NoHazard || !hands.Known() {
				return
			}
			g := hands.Value
			var lacks []string
			if len(g.Materials) == 0 {
				lacks = append(lacks, "material")
			}
			if c.european() || len(g.Materials) == 0 {
				if !g.ThicknessMM.HasLo && !g.ThicknessMM.HasHi {
					lacks = append(lacks, "thickness")
				}
				if !g.BreakthroughMin.HasLo && !g.BreakthroughMin.HasHi {
					lacks = append(lacks, "breakthrough time")
				}
			}
			if len(lacks) == 0 {
				return
			}
			e.Report(Fault{
				Kind: Gap, Hazard: h, Section: 8, Title: "Gloves: " + strings.Join(lacks, ", ") + " not stated",
				Says: []Side{says(8, g.Text, hands), {Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
				Ask:  ask("state", "@gloves", "8"), Key: lacks,
			})
		},
	}
}

// protectClauses are the clauses of what section 8 must say of personal protection.
func protectClauses(eu string) Clauses {
	c := contents("8(c)", "8.2.2.2", "item 8(c)", "section 8")
	c[ghs.EUCLP] = eu
	c[ghs.GBCLP] = "UK REACH Annex II, as kept: " + eu
	return c
}
