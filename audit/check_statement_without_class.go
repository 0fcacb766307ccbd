package audit

import (
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkStatementWithoutClass() Check {
	return Check{
		ID: "statement-without-class", Title: "A hazard statement of section 2 has no class", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The hazard statements of section 2 with its classes.",
		Clauses:  classCodeClauses(),
		Example:  "H334 among the statements, no Resp. Sens. in the classification.",
		Do:       "Read the statement as if its class stood there.",
		Run: func(c *Case, e *Emit) {
			classes := c.classesOf2()
			if len(classes) == 0 || !c.understood() {
				return
			}
			for _, f := range c.Sheet.Hazards.Statements {
				if !f.Known() || f.Value.FromPhrase && f.Value.Code == "" {
					continue
				}
				for _, code := range split(f.Value.Code) {
					m := mildest(code, c.RuleSet)
					if m == ghs.NoHazard || slices.ContainsFunc(classes, func(k sheet.Fact[sheet.ClassStatement]) bool {
						return slices.ContainsFunc(hazardsOf(code, c.RuleSet), func(h ghs.Hazard) bool { return answers(k.Value.Hazard, h) })
					}) {
						continue
					}
					e.Report(Fault{
						Kind: Contradiction, Hazard: m, Section: 2, Title: string(code) + " is stated, its class " + m.Class().Short() + " is not",
						Says: []Side{says(2, strings.TrimSpace(string(code)+" "+f.Value.Phrase), f), {Section: 2, Text: "Classes: " + c.classText()}},
						Ask:  ask("clash", "2", string(code), "2", c.classText()), Key: []string{string(code)},
					})
				}
			}
		},
	}
}

// answers tells whether a declared class accounts for a statement: the same question, or burns for eye damage.
func answers(declared, h ghs.Hazard) bool {
	return kin(declared, h) || (declared.Class() == ghs.SkinCorrosion && base(declared) == "1" && h.Class() == ghs.EyeDamage) ||
		(declared.Class() == ghs.AquaticChronic && h.Class() == ghs.AquaticAcute)
}

func (c *Case) classText() string {
	var out []string
	for _, f := range c.classesOf2() {
		out = append(out, f.Value.Hazard.String())
	}
	return strings.Join(out, "; ")
}
