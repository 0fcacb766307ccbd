package judge

import (
	"fmt"
	"strings"

	"sixteen/sheet"
)

// Stop is one section on the guided tour of a sheet: what the section is for, and what this sheet gives there.
type Stop struct {
	Section int    `json:"section"`
	Title   string `json:"title"`
	Look    string `json:"look"` // what to look for in any sheet
	Here    string `json:"here"` // what was found in this one
	Page    int    `json:"page"` // of the heading; 0 when it was not found
}

// tourLooks says what to look for in each section; common practice for newcomers. Section 0 has none.
var tourLooks = [17]string{
	1:  "Check that the name is the one on your tin, and that there is a telephone number for an emergency.",
	2:  "The hazards in the words of the law. Read it first; the later sections should bear it out.",
	3:  "What is in it. Only what must be disclosed, often as ranges; the rest is not known.",
	4:  "What to do when somebody is hurt. Read it before you begin, not after.",
	5:  "What puts a fire out, what must not be used, and what the smoke holds.",
	6:  "What to do when it is spilt: who leaves, what takes it up, what must stay out of the drain.",
	7:  "How to handle and store it, and what must not stand beside it.",
	8:  "Limits of what may be in the air, and what to wear. Gloves need a material, a thickness and a time.",
	9:  "Measured properties. The flash point tells how cold it may be and still catch fire; the vapour pressure how fast it fills a room.",
	10: "What it must not meet, and what heat, light or time do to it.",
	11: "How it acts on the body, by route and organ. “No data” here means that nobody measured, not that there is no effect.",
	12: "What it does to water and soil.",
	13: "How to get rid of it, the rags and the empty tin.",
	14: "How it travels. A UN number here should go with the hazards of section 2.",
	15: "Laws that name it. Often thin; what is missing here may still apply.",
	16: "When it was last revised and what changed. An old date is a reason to ask.",
}

// Tour goes through the sections of a sheet, first those that matter most to the person in the room.
func Tour(s *sheet.Sheet) []Stop {
	facts := s.Facts()
	var out []Stop
	for _, n := range SectionOrder() {
		if n == 0 {
			continue
		}
		stop := Stop{Section: n, Title: SectionTitle(n), Look: tourLooks[n]}
		if s.Sections[n].Found {
			stop.Page = s.Sections[n].Heading.Page
		}
		stop.Here = here(s.Sections[n], n, facts)
		out = append(out, stop)
	}
	return out
}

// here says in one sentence what the sheet gives in section n: its first facts, or how much text there is.
func here(section sheet.Section, n int, facts []sheet.Listed) string {
	if !section.Found {
		return "In this sheet the section was not found."
	}
	const most = 3
	var given []string
	more := 0
	for _, f := range facts {
		if f.Section != n || f.State != sheet.Stated {
			continue
		}
		if len(given) == most {
			more++
			continue
		}
		given = append(given, f.Label+": "+f.Text)
	}
	switch {
	case len(given) > 0 && more > 0:
		return fmt.Sprintf("In this sheet, page %d: %s; and %d facts more.", section.Heading.Page, strings.Join(given, "; "), more)
	case len(given) > 0:
		return fmt.Sprintf("In this sheet, page %d: %s.", section.Heading.Page, strings.Join(given, "; "))
	case len(section.Text) == 0:
		return fmt.Sprintf("In this sheet, page %d: the heading stands alone, with nothing under it.", section.Heading.Page)
	}
	return fmt.Sprintf("In this sheet, page %d: %d lines of text to read yourself.", section.Heading.Page, len(section.Text))
}
