package audit

import (
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// mention is a check that a section speaks of something at all, by words in the languages carried.
type mention struct {
	ID, Title string
	Group     Group
	Sections  []int
	Harm      Harm
	Could     string
	What      string
	Words     []string // lower case, in any of the languages
	Beside    []string // one of these stands on the line of one of Words, or on the line below a label with it; none: Words alone are enough
	Clauses   Clauses
	Example   string
	Do        string
	When      func(*Case) (Side, bool) // why it is expected; nil: always
}

func (m mention) check() Check {
	return Check{
		ID: m.ID, Title: m.Title, Group: m.Group, Kinds: []Kind{Gap}, Harm: m.Harm, Could: m.Could,
		Compares: fmt.Sprintf("The text of section %d with what it has to speak of; looked for in English, French, German and Spanish.", m.Sections[0]),
		Clauses:  m.Clauses, Example: m.Example, Do: m.Do,
		Run: func(c *Case, e *Emit) {
			if !c.has(e, m.Sections[0]) || len(c.Sheet.Sections[m.Sections[0]].Text) == 0 || m.spoken(c) {
				return
			}
			if l := c.Sheet.Language; l.Known() && !slices.Contains(ghs.Langs(), l.Value) {
				e.Cannot("the sheet is in a language whose words are not carried")
				return
			}
			f := Fault{
				Kind: Gap, Section: m.Sections[0], Title: m.Title, Says: []Side{silent(m.Sections[0], m.What)},
				Ask: ask("state", "@content", fmt.Sprint(m.Sections[0])), Key: []string{m.ID},
			}
			if m.When != nil {
				why, expected := m.When(c)
				if !expected {
					return
				}
				f.Follows = []Side{why}
			}
			e.Report(f)
		},
	}
}

// spoken tells whether the sections speak of it.
func (m mention) spoken(c *Case) bool {
	text := c.text(m.Sections...)
	if len(m.Beside) == 0 {
		return hasAny(text, m.Words...)
	}
	const label = 40 // characters: a longer line is no label of the line below it
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if i+1 < len(lines) && len(l) < label {
			l += "\n" + lines[i+1]
		}
		if hasAny(lines[i], m.Words...) && hasAny(l, m.Beside...) {
			return true
		}
	}
	return false
}

// declaredClass is the gravest declared hazard that matches, as the reason why something is expected.
func declaredClass(c *Case, match func(ghs.Hazard) bool) (Side, bool) {
	h := c.worst(match)
	if h == ghs.NoHazard {
		return Side{}, false
	}
	return Side{Section: 2, Text: h.Title(ghs.English), Evidence: c.declaredAt(h)}, true
}
