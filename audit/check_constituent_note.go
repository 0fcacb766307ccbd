package audit

import (
	"fmt"
	"regexp"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/substance"
)

func checkConstituentNote() Check {
	return Check{
		ID: "constituent-note", Title: "An ingredient is a carcinogen unless it is low in a constituent, and the sheet does not say how low", Group: Reference, Kinds: []Kind{Doubt, Note}, Harm: HarmDeath,
		Compares: "Ingredients whose published class depends on a constituent (notes J, K, L, M, N and P: benzene, butadiene, tar oils) with what the sheet says of that constituent.",
		Clauses: Clauses{
			ghs.EUCLP: "CLP Annex VI, part 1, 1.1.3.1, notes J, K, L, M, N and P (J and K as read in a draft amendment of 2019, the others from memory)",
			ghs.GBCLP: "GB CLP, notes J, K, L, M, N and P of the list of mandatory classifications (from memory)",
			"":        "common practice: the notes are law in the European Union and Great Britain only, but the constituent is the same everywhere",
		},
		Example: "Naphtha, CAS 64742-48-9, at 40 %, with H304 alone, and no word on benzene.",
		Do:      "Ask for the benzene content in writing; until then work as if the class applied.",
		Run: func(c *Case, e *Emit) {
			for _, ing := range c.Sheet.Composition.Ingredients {
				row := c.known(ing.CAS.Value)
				if row == nil || highest(ing.Percent.Value.Interval) < 0.1 { // 0.1 %: generic limit of Carc. 1B and Muta. 1B
					continue
				}
				for _, open := range openConditions(c, ing, row) {
					c.reportCondition(e, ing, open)
				}
			}
		},
	}
}

// condition is a note of Annex VI with the classes that depend on it.
type condition struct {
	note    string
	classes []substance.Classification
}

// openConditions lists, note by note, the classes of an ingredient that the sheet neither states nor rules out.
func openConditions(c *Case, ing sheet.Ingredient, row *substance.Substance) []condition {
	var out []condition
	stated, declared := statedFor(ing, c.RuleSet), c.declares()
	for _, x := range row.ForRuleSet(c.RuleSet).Conditional {
		if coversAny(stated, x.Hazard) || coversAny(declared, x.Hazard) || c.rulesOut(x.Note, ing) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].note == x.Note {
			out[n-1].classes = append(out[n-1].classes, x)
			continue
		}
		out = append(out, condition{x.Note, []substance.Classification{x}})
	}
	return out
}

func (c *Case) reportCondition(e *Emit, ing sheet.Ingredient, open condition) {
	kind := Note
	if c.european() {
		kind = Doubt
	}
	var names []string
	gravest := open.classes[0]
	for _, x := range open.classes {
		names = append(names, x.Hazard.String())
		if x.Hazard.Class() == ghs.Carcinogenicity {
			gravest = x
		}
	}
	classes := strings.Join(names, ", ")
	e.Report(Fault{
		Kind: kind, Hazard: gravest.Hazard, Section: 3, Title: fmt.Sprintf("%s is %s unless it is low in a constituent; the sheet does not say", nameOf(ing), classes),
		Says:    []Side{says(3, nameOf(ing)+" "+printed(ing.Percent.Value), ing.Percent), silent(3, "the constituent")},
		Follows: []Side{looked(classes+": "+substance.NoteText(open.note), gravest.Source)},
		Ask:     ask("constituent", nameOf(ing), ing.CAS.Value, classes, open.note), Key: []string{ing.CAS.Value, open.note},
	})
}

// noteConstituent is the CAS number of the constituent that a note names, its limit in percent of the ingredient, and its
// name as sheets in the languages carried print it. The figures are those of [substance.NoteText].
type noteConstituent struct {
	cas     string
	percent float64
	name    *regexp.Regexp // with its limit within one sentence, either way round
}

func constituentOf(note string) (noteConstituent, bool) {
	near := func(cas string, percent float64, names, limit string) (noteConstituent, bool) {
		name, limit := `(?:^|[^\p{L}-])(?:`+names+`)(?:[^\p{L}-]|$)`, limit+`(?:[^0-9]|$)`
		return noteConstituent{cas, percent, regexp.MustCompile(`(?s)` + name + `.{0,60}?` + limit + `|` + limit + `.{0,60}?` + name)}, true
	}
	switch note {
	case "J", "P":
		return near("71-43-2", 0.1, `benzene|benzène|benzol|benceno`, `0[.,]10?`)
	case "K":
		return near("106-99-0", 0.1, `1,3-butadiene|buta-1,3-diene|butadiene|butadiène|butadien|butadieno`, `0[.,]10?`)
	case "L":
		return near("", 3, `dmso|ip ?346`, `3`)
	case "M":
		return near("50-32-8", 0.005, `benzo\[a\]pyrene|benzo\(a\)pyrene|benzo\[a\]pyrène|benzo\[a\]pyren|benzo\[a\]pireno`, `0[.,]005`)
	}
	return noteConstituent{}, false
}

// rulesOut tells whether the sheet answers a note: by naming it, by a limit beside the constituent, or by a share of the
// constituent in section 3 that is small against the least share of the ingredient.
func (c *Case) rulesOut(note string, ing sheet.Ingredient) bool {
	text := strings.ReplaceAll(c.text(2, 3, 8, 9, 11, 15, 16), "yl benzene", "ylbenzene")
	if regexp.MustCompile(`(?:^|[^\p{L}])(?:note|nota|anm\.|anmerkung)[ :(]{1,3}` + strings.ToLower(note) + `(?:[^\p{L}]|$)`).MatchString(text) {
		return true
	}
	k, ok := constituentOf(note)
	if !ok {
		return false
	}
	if k.name.MatchString(text) {
		return true
	}
	for _, other := range c.Sheet.Composition.Ingredients {
		if k.cas != "" && other.CAS.Value == k.cas && highest(other.Percent.Value.Interval)*100 < k.percent*lowest(ing.Percent.Value.Interval) {
			return true
		}
	}
	return false
}
