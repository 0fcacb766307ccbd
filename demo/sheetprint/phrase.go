package sheetprint

import (
	"strings"

	"sixteen/ghs"
)

// phrase is the statement's wording in the sheet's language and the rule set's spelling, "" where the tables do not
// carry it; the code then stands alone.
func phrase(code ghs.Code, s Spec) string {
	text, _ := s.Rules.Phrase(code, s.Lang, ghs.Blanks{Substance: strings.Join(s.Contains, ", ")})
	return text
}
