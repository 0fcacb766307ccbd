package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkStatementMilder() Check {
	return Check{
		ID: "statement-milder", Title: "A hazard statement is milder than its class", Group: Inside2, Kinds: []Kind{Contradiction}, Harm: HarmLasting,
		Compares: "The category that each stated H code stands for with the category of the same class.",
		Clauses:  classCodeClauses(),
		Example:  "Acute Tox. 3 (oral) in 2.1, H302 in 2.2.",
		Do:       "Act on the class.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.classesOf2() {
				h := f.Value.Hazard
				code := codeOf(h, c.RuleSet)
				if code == "" || c.states(code) && !c.onlyBeside(code) {
					continue
				}
				for _, s := range c.Sheet.Hazards.Statements {
					for _, stated := range split(s.Value.Code) {
						m := mildest(stated, c.RuleSet)
						if !s.Known() || m == ghs.NoHazard || !kin(m, h) || covers(m, h) || c.hasClass(m) {
							continue
						}
						e.Report(Fault{
							Kind: Contradiction, Hazard: h, Section: 2, Title: fmt.Sprintf("%s asks for %s, the sheet states the milder %s", h, code, stated),
							Says:    []Side{says(2, f.Value.Printed, f), says(2, strings.TrimSpace(string(stated)+" "+s.Value.Phrase), s)},
							Follows: []Side{follows(string(code) + ": " + phraseOf(code, ghs.English))}, Ask: ask("print", string(code), string(stated)),
							Key: []string{h.String(), string(stated)},
						})
					}
				}
			}
		},
	}
}

// hasClass tells whether section 2 names exactly this hazard among its classes.
func (c *Case) hasClass(h ghs.Hazard) bool {
	return slices.ContainsFunc(c.classesOf2(), func(f sheet.Fact[sheet.ClassStatement]) bool { return f.Value.Hazard == h })
}
