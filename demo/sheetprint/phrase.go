package sheetprint

import (
	"strings"

	"sixteen/ghs"
)

// phrase is the statement's wording in the sheet's language and the rule set's spelling with its open places filled,
// "" where the tables do not carry it; the code then stands alone.
func phrase(code ghs.Code, s Spec) string {
	text, _ := s.Rules.Phrase(code, s.Lang, ghs.Blanks{Substance: strings.Join(s.Contains, ", "), Organs: s.Organs[code]})
	if !strings.Contains(text, "…") {
		return text
	}
	return filled(text, code, s.Lang)
}

// Phrase is the statement as the sheet prints it.
func (s Spec) Phrase(code ghs.Code) string { return phrase(code, s) }

// fillings are the words that the invented houses put into the open places of precautionary statements.
var fillings = map[ghs.Lang]map[string]string{
	ghs.English: {"P264": "hands", "P378": "foam or dry powder", "P501": "a licensed waste collector", "P231": "dry gas"},
	ghs.French:  {"P264": "les mains", "P378": "de la mousse ou de la poudre", "P501": "une installation de traitement agréée", "P231": "gaz sec"},
	ghs.German:  {"P264": "Hände", "P378": "Schaum oder Löschpulver", "P501": "zugelassenem Entsorger", "P231": "trockenem Gas"},
	ghs.Spanish: {"P264": "las manos", "P378": "espuma o polvo seco", "P501": "una instalación autorizada", "P231": "gas seco"},
}

// filled closes the open places of a statement: alternatives that are not needed fall away, the rest is named.
func filled(text string, code ghs.Code, lang ghs.Lang) string {
	text = strings.NewReplacer("… °C/… °F", "25 °C/77 °F", "/ …", "", "/…", "").Replace(text)
	for _, part := range code.Parts() {
		if word := fillings[lang][string(part)]; word != "" {
			text = strings.ReplaceAll(text, "…", word)
		}
	}
	text = strings.TrimSpace(strings.ReplaceAll(text, "..", "."))
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "]") {
		text += "."
	}
	return text
}
