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
			if slices.ContainsFunc(c.declares().All(), func(h ghs.Hazard) bool { return !c.derivable(h) }) {
				return // said by class-unfounded
			}
			p, err := c.Proof(e.ctx)
			if err != nil {
				e.Cannot("the proof was not finished: " + err.Error())
				return
			}
			if p.Status != classify.Contradicted && p.Status != classify.NeedsRemainder {
				return
			}
			if slices.ContainsFunc(p.Clash, func(s classify.Statement) bool { return leftOpen(s.Hazard) || c.environmentUnasked(s.Hazard) }) {
				return // a category that countries need not adopt
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

// derivable tells whether some composition gives a declared hazard, or the rules do not derive its class from ingredients.
func (c *Case) derivable(h ghs.Hazard) bool {
	if !calculated(h) && h.Class() != ghs.AcuteToxicity {
		return true
	}
	possible := c.derived().firm.envelope.Possible.All()
	return slices.ContainsFunc(possible, func(p ghs.Hazard) bool { return covers(p, h) && covers(h, p) })
}
