package audit

import (
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkVomitingAdvised() Check {
	return Check{
		ID: "vomiting-advised", Title: "First aid tells to bring on vomiting", Group: FirstAid, Kinds: []Kind{Contradiction, Doubt}, Harm: HarmDeath,
		Could:    "What burns burns twice, and what floods the lungs gets there: the advice can kill.",
		Compares: "The first aid of section 4 after swallowing with H304 and H314 of section 2.",
		Clauses: Clauses{
			"": "UN GHS Annex 3: P331 (do not induce vomiting) belongs to aspiration hazard and skin corrosion (assignment from memory)",
		},
		Example: "H314 and “if swallowed, induce vomiting”.",
		Do:      "Never bring on vomiting; call the poison centre.",
		Run: func(c *Case, e *Emit) {
			h := c.worst(func(h ghs.Hazard) bool {
				return h.Class() == ghs.AspirationHazard || h.Class() == ghs.SkinCorrosion && base(h) == "1"
			})
			if h == ghs.NoHazard {
				return
			}
			before := ""
			for _, l := range c.Sheet.Sections[4].Text {
				text := strings.ToLower(l.Text)
				said := before + " " + text // the word that forbids it may stand at the end of the line before
				before = text[strings.LastIndexByte(text, ' ')+1:]
				if !advisesVomiting(text) || !advisesVomiting(said) {
					continue
				}
				e.Report(Fault{
					Kind: Contradiction, Hazard: ghs.AspTox1, Section: 4, Title: "Section 4 tells to bring on vomiting; section 2 states " + h.String(),
					Says: []Side{{Section: 4, Text: l.Text, Evidence: []sheet.Evidence{{Page: l.Page, Box: l.Box, Words: l.Text, How: sheet.ByText}}},
						{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}},
					Follows: []Side{follows("P331: " + phraseOf("P331", ghs.English))}, Ask: ask("clash", "2", h.String(), "4", l.Text), Key: []string{h.Class().Short()},
				})
				return
			}
		},
	}
}

// advisesVomiting tells whether a line of first aid tells to bring on vomiting, in the languages carried, and does not
// forbid it.
func advisesVomiting(text string) bool {
	if !hasAny(text, "induce vomiting", "make the person vomit", "make vomit", "provoke vomiting", "cause vomiting", "bring on vomiting",
		"faire vomir", "erbrechen herbeiführen", "erbrechen auslösen", "provocar el vómito", "inducir el vómito") {
		return false
	}
	return !hasAny(text, "not ", "n't", "never", "without", "ne pas", "ne jamais", "kein", "nicht", "nunca", "no ")
}
