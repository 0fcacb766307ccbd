package audit

import (
	"slices"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

func checkDeclarationImpossible() Check {
	return Check{
		ID: "declaration-impossible", Title: "The declared classification fits no composition that the sheet allows", Group: With3, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmLasting,
		Could:    "Shares, ingredients or classes on the sheet are wrong; which of them cannot be told from the sheet.",
		Compares: "All classes of section 2 together with the shares of section 3: is there one composition that has exactly these classes?",
		Clauses:  common("the rules of each class are those named by the other checks; here they must hold together"),
		Example:  "Classes that each are possible, but only with shares that together exceed 100 %.",
		Do:       "Ask for the exact shares.",
		Run: func(c *Case, e *Emit) {
			if len(c.Sheet.Hazards.Classification) == 0 && len(c.Sheet.Hazards.Statements) == 0 && c.Sheet.Hazards.Classified != sheet.NoneStated {
				return
			}
			any := func(h ghs.Hazard) bool { return true }
			if c.derived().firm.err != nil || slices.ContainsFunc(c.lacks(any), func(l lack) bool { return l.certain }) {
				return // said by the other checks, or not to be worked out
			}
			p, err := c.Proof(e.ctx)
			if err != nil {
				e.Cannot("the proof was not finished: " + err.Error())
				return
			}
			if p.Status != classify.Contradicted {
				return
			}
			kind := Contradiction
			var sides []Side
			var key []string
			for _, s := range p.Clash {
				if s.Kind == classify.SaysDeclared || s.Kind == classify.SaysRemainder || s.Kind == classify.SaysWhole {
					kind = Doubt // the class may rest on a test
				}
				if s.Hazard != ghs.NoHazard && !calculated(s.Hazard) {
					kind = Doubt
				}
				sides = append(sides, Side{Section: map[bool]int{true: 3, false: 2}[s.Ingredient >= 0], Text: s.Text})
				key = append(key, s.Text)
			}
			e.Report(Fault{
				Kind: kind, Section: 2, Title: "These statements of sections 2 and 3 cannot all be true", Says: sides,
				Follows: []Side{follows("No composition fits", p.Words(&c.derived().firm.program.Mixture))}, Ask: ask("state", "@percent", "3"), Key: key,
			})
		},
	}
}
