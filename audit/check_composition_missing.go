package audit

import (
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkCompositionMissing() Check {
	return Check{
		ID: "composition-missing", Title: "Classified for health, and no ingredient is named", Group: With3, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Could:    "Nobody can tell what harms, nor check it.",
		Compares: "The health classes of section 2 with the ingredients of section 3.",
		Clauses:  contents("3, mixture a", "3.2 (from memory)", "item 3(2)", "section 3"),
		Example:  "H317 in section 2, “mixture of polymers” in section 3.",
		Do:       "Ask for the ingredients; work as with the worst that section 2 allows.",
		Run: func(c *Case, e *Emit) {
			if len(c.Sheet.Composition.Ingredients) > 0 || !c.listsNothing() && !c.has(e, 3) {
				return
			}
			h := c.worst(func(h ghs.Hazard) bool { return h.Class().Group() == ghs.HealthGroup })
			if h == ghs.NoHazard {
				return
			}
			e.Report(Fault{
				Kind: Gap, Hazard: h, Section: 3, Title: "Section 2 states " + h.String() + ", section 3 names nothing",
				Says: []Side{{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, silent(3, "a hazardous ingredient")},
				Ask:  ask("state", "@ingredients", "3"), Key: []string{"none"},
			})
		},
	}
}

// listsNothing tells whether section 3 was read and holds nothing that could be an ingredient: no number at all, so neither
// a share nor a CAS or EC number. Then it is the sheet that lists none, and not the reader that found none.
func (c *Case) listsNothing() bool {
	s := c.Sheet
	lost := slices.ContainsFunc(s.Problems, func(p sheet.ReadProblem) bool { return p.Page != 0 && (p.Section == 0 || p.Section == 3) })
	return s.Sections[3].Found && len(s.Sections[3].Text) > 0 && !lost && !strings.ContainsAny(references.ReplaceAllString(c.text(3), ""), "0123456789")
}

// references are mentions of sections and of their parts, whose numbers belong to no ingredient.
var references = regexp.MustCompile(`(sections?|abschnitte?|abschnitts|rubriques?|secci[oó]n(es)?)\s*\d+|\b3\.[12]\b`)
