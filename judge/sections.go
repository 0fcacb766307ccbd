package judge

import (
	"fmt"

	"sixteen/ghs"
	"sixteen/sheet"
)

// SectionOrder is the order to read a sheet in: first what it can do to people (2), what to wear (8) and how toxic it is
// to which organ (11), then the rest; 0 holds what belongs to no section.
func SectionOrder() []int {
	return []int{2, 8, 11, 1, 3, 4, 5, 6, 7, 9, 10, 12, 13, 14, 15, 16, 0}
}

// sectionTitles are short titles of the sixteen sections, after the standard's headings.
var sectionTitles = [17]string{
	"Anywhere in the sheet", "Identification", "Hazards", "Composition", "First aid", "Fire fighting", "Accidental release",
	"Handling and storage", "Exposure controls, personal protection", "Physical and chemical properties", "Stability and reactivity",
	"Toxicology", "Ecology", "Disposal", "Transport", "Regulation", "Other information",
}

// SectionTitle is the number and short title of section n; 0 is what belongs to no section.
func SectionTitle(n int) string {
	if n == 0 {
		return sectionTitles[0]
	}
	return fmt.Sprintf("%d %s", n, sectionTitles[n])
}

// ListedShown is the value of a listed fact, or its state in words, with a correction by a person told.
func ListedShown(f sheet.Listed) string {
	out := f.Text
	if f.State != sheet.Stated {
		out = StateShown(f.State)
	} else if code, ok := ghs.NormaliseCode(f.Text); ok && string(code) == f.Text {
		if phrase, ok := ghs.Phrase(code, ghs.English); ok {
			out += " (in the standard's words: " + phrase + ")"
		}
	}
	if n := len(f.Corrections); n > 0 {
		c := f.Corrections[n-1]
		did := "corrected"
		if c.Added {
			did = "added"
		}
		out += fmt.Sprintf(" (%s by %s: %s)", did, c.Who, c.Why)
	}
	return out
}
