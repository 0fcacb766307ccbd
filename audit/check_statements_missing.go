package audit

import (
	"slices"

	"sixteen/sheet"
)

func checkStatementsMissing() Check {
	return item{
		ID: "statements-missing", Title: "No hazard statement for a classified product", Section: 2, Harm: HarmLasting,
		Could: "The class names mean nothing to those who work with it.", What: "a hazard statement", Term: "@hstatements",
		Clauses: contents("2(b)", "2.2 (from memory)", "item 2(b)", "section 2"),
		Example: "Classes in 2.1, and 2.2 empty.", Do: "Read the statements off the classes.",
		When: func(c *Case) bool {
			return slices.ContainsFunc(c.classesOf2(), func(f sheet.Fact[sheet.ClassStatement]) bool { return codeOf(f.Value.Hazard, c.RuleSet) != "" })
		},
		Present: func(c *Case) bool { return len(c.Sheet.Hazards.Statements) > 0 && !c.allBeside() },
	}.check()
}

// allBeside tells whether all hazard statements are bare codes on the lines of the classes, so that the label elements have
// none.
func (c *Case) allBeside() bool {
	for _, f := range c.Sheet.Hazards.Statements {
		if !f.Known() || !isHazardCode(f.Value.Code) {
			continue
		}
		if f.Value.Phrase != "" || slices.ContainsFunc(f.Evidence, func(v sheet.Evidence) bool { return !c.besideClass(v, f.Value.Code) }) {
			return false
		}
	}
	return true
}
