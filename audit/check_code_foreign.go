package audit

import (
	"strings"

	"sixteen/ghs"
)

func checkCodeForeign() Check {
	return Check{
		ID: "code-foreign", Title: "A code that the jurisdiction does not have", Group: Inside2, Kinds: []Kind{Gap, Note}, Harm: HarmPaper,
		Could:    "The sheet was written for another law; its other classes may be too mild for this one.",
		Compares: "Each H code of section 2 with the codes of the rule set.",
		Clauses:  classCodeClauses(),
		Example:  "H227 on a sheet for the European Union.",
		Do:       "Ask for a sheet under your law.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Statements {
				code := f.Value.Code
				if !f.Known() || code == "" || strings.HasPrefix(string(code), "P") {
					continue
				}
				for _, single := range split(code) {
					if codeExists(single, c.RuleSet) {
						continue
					}
					kind, title := Gap, string(single)+" does not exist under "+c.RuleSet.Law()
					switch {
					case !codeKnown(single):
						title = string(single) + " is no code of the standard"
					case c.voluntary(single):
						kind = Note
					}
					e.Report(Fault{
						Kind: kind, Section: 2, Title: title, Says: []Side{says(2, strings.TrimSpace(string(code)+" "+f.Value.Phrase), f)},
						Ask: ask("remove", string(single), "2"), Key: []string{string(single)},
					})
				}
			}
		},
	}
}

// voluntary tells whether a code of another law may be added for information: aquatic codes on workplace sheets of the
// United States, Canada and Australia, and European supplemental statements anywhere.
func (c *Case) voluntary(code ghs.Code) bool {
	return strings.HasPrefix(string(code), "H4") || strings.HasPrefix(string(code), "EUH") || strings.HasPrefix(string(code), "AUH")
}
