package audit

import (
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
)

func checkOrgansMissing() Check {
	return Check{
		ID: "organs-missing", Title: "Organ damage without naming the organ", Group: Inside2, Kinds: []Kind{Gap}, Harm: HarmLasting,
		Compares: "H370 to H373 with the organs that their phrases ask to name.",
		Clauses:  classCodeClauses(),
		Example:  "“H373 May cause damage to organs.”",
		Do:       "Ask which organ, and tell the doctor.",
		Run: func(c *Case, e *Emit) {
			for _, f := range c.Sheet.Hazards.Statements {
				code := stem(f.Value.Code)
				if !f.Known() || !slices.Contains([]ghs.Code{"H370", "H371", "H372", "H373"}, code) || f.Value.Detail != "" || namesOrgan(f.Value.Phrase) {
					continue
				}
				if slices.ContainsFunc(c.classesOf2(), func(k sheet.Fact[sheet.ClassStatement]) bool {
					return codeOf(k.Value.Hazard, c.RuleSet) == code && (k.Value.Organs != "" || namesOrgan(k.Value.Printed))
				}) || c.organBeside(code) {
					continue
				}
				e.Report(Fault{
					Kind: Gap, Hazard: mildest(code, c.RuleSet), Section: 2, Title: string(code) + " does not say which organ",
					Says: []Side{says(2, strings.TrimSpace(string(code)+" "+f.Value.Phrase), f)}, Ask: ask("state", "@organs", "2"), Key: []string{string(code)},
				})
			}
		},
	}
}

// organBeside tells whether a line of section 2 that prints the code, or the line after it, names an organ.
func (c *Case) organBeside(code ghs.Code) bool {
	lines := c.Sheet.Sections[2].Text
	for i, l := range lines {
		if strings.Contains(l.Text, string(code)) && (namesOrgan(l.Text) || i+1 < len(lines) && namesOrgan(lines[i+1].Text)) {
			return true
		}
	}
	return false
}

// namesOrgan tells whether a text names an organ or system, in the languages carried.
func namesOrgan(text string) bool {
	return hasAny(strings.ToLower(text), "liver", "kidney", "lung", "respiratory", "nervous", "brain", "blood", "eye", "hearing", "ears", "auditory", "heart", "cardio",
		"thyroid", "bladder", "bone", "spleen", "immune", "skin", "testes", "reproductive", "hematopoietic", "gastro", "central", "cns", "optic",
		"foie", "rein", "poumon", "nerveux", "sang", "oreille", "auditif", "ouïe", "leber", "niere", "lunge", "nerven", "blut", "hör", "gehör",
		"hígado", "riñon", "pulmon", "nervioso", "sangre", "oído", "vías respiratorias")
}
