package audit

import (
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkClassWithoutStatement() Check {
	return Check{
		ID: "class-without-statement", Title: "A class of section 2 has no hazard statement", Group: Inside2, Kinds: []Kind{Contradiction, Gap}, Harm: HarmLasting,
		Compares: "The classes of section 2 with its hazard statements.",
		Clauses:  classCodeClauses(),
		Example:  "Skin Sens. 1 in 2.1; in 2.2 only H315 and H319.",
		Do:       "Read the class as if its statement stood there.",
		Run: func(c *Case, e *Emit) {
			codes := c.codes()
			if len(codes) == 0 {
				return // no statements at all: statements-missing
			}
			for _, f := range c.classesOf2() {
				h := f.Value.Hazard
				code := codeOf(h, c.RuleSet)
				if code == "" || omitted(h, c) {
					continue
				}
				kind, title := Contradiction, h.String()+" is stated, "+string(code)+" is not"
				switch {
				case c.onlyBeside(code):
					kind, title = Gap, string(code)+" stands beside its class only, not among the hazard statements"
				case c.states(code) || c.statesSeverer(h):
					continue
				}
				e.Report(Fault{
					Kind: kind, Hazard: h, Section: 2, Title: title,
					Says:    []Side{says(2, f.Value.Printed, f), {Section: 2, Text: "Statements: " + joinCodes(codes)}},
					Follows: []Side{follows(string(code) + ": " + phraseOf(code, ghs.English))},
					Ask:     ask("state", string(code), "2"), Key: []string{h.String()},
				})
			}
		},
	}
}

// onlyBeside tells whether a code stands nowhere but on the lines of the classification, and without its words, while the
// other hazard statements are written out, or at least two of them stand elsewhere as codes: then it is not among them.
func (c *Case) onlyBeside(code ghs.Code) bool {
	written, elsewhere, alone := 0, 0, false
	for _, f := range c.Sheet.Hazards.Statements {
		switch {
		case !f.Known() || !isHazardCode(f.Value.Code):
		case f.Value.Phrase != "":
			written++
			if slices.Contains(split(f.Value.Code), stem(code)) {
				return false
			}
		case slices.Contains(split(f.Value.Code), stem(code)):
			alone = c.besideOnly(f.Evidence, code)
		case !c.besideOnly(f.Evidence, f.Value.Code):
			elsewhere++
		}
	}
	return alone && (written > 0 || elsewhere > 1)
}

// besideOnly tells whether every place of a code is on the line of its class.
func (c *Case) besideOnly(places []sheet.Evidence, code ghs.Code) bool {
	return len(places) > 0 && !slices.ContainsFunc(places, func(v sheet.Evidence) bool { return !c.besideClass(v, code) })
}

// besideClass tells whether a place is on the line of a class that carries the code.
func (c *Case) besideClass(v sheet.Evidence, code ghs.Code) bool {
	return slices.ContainsFunc(c.Sheet.Hazards.Classification, func(f sheet.Fact[sheet.ClassStatement]) bool {
		return f.Value.Code == code && slices.ContainsFunc(f.Evidence, func(k sheet.Evidence) bool {
			return k.Page == v.Page && k.Box.Y1 > k.Box.Y0 && k.Box.Y0 < v.Box.Y1 && v.Box.Y0 < k.Box.Y1
		})
	})
}

// statesSeverer tells whether a stated code stands for a severer category of the same question.
func (c *Case) statesSeverer(h ghs.Hazard) bool {
	return slices.ContainsFunc(c.codes(), func(code ghs.Code) bool {
		return slices.ContainsFunc(split(code), func(s ghs.Code) bool {
			m := mildest(s, c.RuleSet)
			return m != ghs.NoHazard && covers(m, h)
		})
	})
}

// omitted tells whether the rules on precedence let the statement of a hazard be left off beside another.
func omitted(h ghs.Hazard, c *Case) bool {
	switch h {
	case ghs.EyeDam1:
		return c.states("H314")
	case ghs.AquaticAcute1:
		return c.states("H410")
	case ghs.AquaticAcute2:
		return c.states("H411")
	case ghs.AquaticAcute3:
		return c.states("H412")
	case ghs.STOTSE3Respiratory:
		return slices.Contains(c.codes(), "EUH071") || c.states("H314")
	}
	return c.environmentUnasked(h)
}

func joinCodes(codes []ghs.Code) string {
	var out []string
	for _, code := range codes {
		out = append(out, string(code))
	}
	return strings.Join(out, ", ")
}
