package audit

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

// contents are the clauses of a requirement of the sheet's contents: the item of Table D.1 (29 CFR 1910.1200 appendix
// D), the point of REACH Annex II, the item of schedule 1 of the Canadian regulations and the clause of schedule 7 of the
// Australian model regulations. An empty one means that the law does not ask for it.
func contents(us, eu, ca, au string) Clauses {
	c := Clauses{}
	if us != "" {
		c[ghs.USHCS2024] = "29 CFR 1910.1200 App. D, Table D.1, " + us + " (2024)"
		c[ghs.USHCS2012] = "29 CFR 1910.1200 App. D, Table D.1, " + us + " (2012 text: from memory)"
	}
	if eu != "" {
		c[ghs.EUCLP] = "REACH Annex II as amended by Regulation (EU) 2020/878, " + eu
		c[ghs.GBCLP] = "UK REACH Annex II, " + eu + " (kept law: from memory)"
		c[ghs.UNGHS] = "UN GHS Annex 4 and Table 1.5.2 (from memory)"
	}
	if ca != "" {
		c[ghs.CAHPR] = "Hazardous Products Regulations SOR/2015-17, schedule 1, " + ca
	}
	if au != "" {
		c[ghs.AUWHS] = "model WHS Regulations schedule 7, " + au + " (from memory)"
	}
	return c
}

// common are the clauses of a check that rests on what the trade knows and not on one text of law.
func common(why string) Clauses { return Clauses{"": "common practice: " + why} }

// item is one thing that a sheet must state. A check that only asks whether it is there is made from it.
type item struct {
	ID, Title string
	Section   int
	Harm      Harm
	Kind      Kind // Gap unless set; Contradiction cannot be chosen here
	Could     string
	What      string // "the sheet does not state …"
	Term      string // of the letter
	Clauses   Clauses
	Example   string
	Do        string
	When      func(*Case) bool // nil: always
	Present   func(*Case) bool
}

// check is the row of the catalogue for the item.
func (i item) check() Check {
	kind := max(i.Kind, Gap)
	return Check{
		ID: i.ID, Title: i.Title, Group: Paper, Kinds: []Kind{kind}, Harm: i.Harm, Could: i.Could,
		Compares: fmt.Sprintf("Section %d with what the law asks it to hold.", i.Section),
		Clauses:  i.Clauses, Example: i.Example, Do: i.Do,
		Run: func(c *Case, e *Emit) {
			if !c.has(e, i.Section) || (i.When != nil && !i.When(c)) || i.Present(c) {
				return
			}
			e.Report(Fault{
				Kind: kind, Section: i.Section, Title: i.Title, Says: []Side{silent(i.Section, i.What)},
				Ask: ask("state", i.Term, fmt.Sprint(i.Section)),
			})
		},
	}
}

// has tells whether a section is there to be judged. A section that the reader could not read is noted as unchecked; a
// section that is absent altogether is the business of section-missing.
func (c *Case) has(e *Emit, section int) bool {
	for _, p := range c.Sheet.Problems {
		if p.Section == section {
			e.Cannot(fmt.Sprintf("section %d could not be read: %s", section, p.What))
			return false
		}
	}
	return c.Sheet.Sections[section].Found
}

// answered tells whether the sheet says anything at all in reply to one question, be it that there is no data.
func answered[T any](f sheet.Fact[T]) bool { return f.State != sheet.NotStated }
