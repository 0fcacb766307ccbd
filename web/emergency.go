package web

import (
	"regexp"
	"strings"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// emergencyView is what to do when something went wrong, each case by itself.
type emergencyView struct {
	Product  string
	Link     string // to the product
	Number   string // to call first
	NumberOf string // whose number that is
	Own      string // whom this workshop calls
	Poison   string // the poison centre's telephone
	Spills   string // where the material for spills is
	Sheet    string // the sheet's emergency telephone
	Supplier string
	Aids     []aidView
	Symbols  []symbolView
	Signal   string
	SheetURL string
	ToTell   []pair // what the person on the telephone asks for
}

// aidView is one case: what to do in the words of the standard, and what the sheet says.
type aidView struct {
	ID, Title string
	First     []string // statements
	FirstWhy  string   // where they come from
	Sheet     []string // lines of the sheet
	Page      int      // where they stand
	Stricter  string   // what follows beyond the sheet, "" when nothing does
	Silent    string   // what to say when the sheet gives nothing
}

// aidCase says how the words for one case are found: by the statements' numbers, and by the words that begin a paragraph
// of section 4 in the languages carried.
type aidCase struct {
	id, title string
	prefixes  []string
	section   int
	begins    *regexp.Regexp
	standard  []ghs.Code // when the sheet gives none: the standard's first words for this case
	words     string     // when there is no such statement
}

func aidCases() []aidCase {
	line := func(words string) *regexp.Regexp {
		return regexp.MustCompile(`(?i)^[\W\d]*(?:(?:if|in case of|after|following|nach|bei|en cas de|après|en caso de|tras)\s+)?(?:\w+\s+){0,2}?(?:` + words + `)`)
	}
	return []aidCase{
		{id: "eye", title: "In the eye", prefixes: []string{"P305", "P337"}, section: 4, begins: line(`eyes?\b|augen|yeux|oculaire|ojos|ocular`), standard: []ghs.Code{"P305+P351+P338"}},
		{id: "skin", title: "On the skin or clothes", prefixes: []string{"P302", "P303", "P306", "P332", "P333", "P361", "P362", "P352"}, section: 4, begins: line(`skin|haut|peau|cutané|piel|cutáne`), standard: []ghs.Code{"P302+P352"}},
		{id: "breath", title: "Breathed in", prefixes: []string{"P304", "P340", "P341", "P342"}, section: 4, begins: line(`inhal|breath|einatm|respir`), standard: []ghs.Code{"P304+P340"}},
		{id: "swallow", title: "Swallowed", prefixes: []string{"P301", "P330", "P331"}, section: 4, begins: line(`ingest|swallow|verschluck|aval`),
			words: "Call a poison centre or a doctor at once and read them the name on this page. Do not make anybody vomit unless they tell you to (common practice)."},
		{id: "fire", title: "Fire", prefixes: []string{"P370", "P371", "P372", "P373", "P375", "P376", "P377", "P378", "P380", "P381"}, section: 5,
			words: "Get everybody out and call the fire brigade first. Tell them what is burning (common practice)."},
		{id: "spill", title: "Spilt", prefixes: []string{"P390", "P391"}, section: 6,
			words: "Get people away, open windows, put out flames, and keep it out of the drain (common practice)."},
	}
}

// emergencyNumber is the number to call first under a rule set: common knowledge of those places, from memory.
func emergencyNumber(rs ghs.RuleSet) (number, whose string) {
	switch rs {
	case ghs.USHCS2024, ghs.USHCS2012, ghs.CAHPR:
		return "911", "emergency call in the United States and Canada"
	case ghs.EUCLP:
		return "112", "emergency call in the European Union"
	case ghs.GBCLP:
		return "999", "emergency call in Great Britain"
	case ghs.AUWHS:
		return "000", "emergency call in Australia"
	}
	return "", ""
}

// emergencyOf collects what to do from a sheet.
func emergencyOf(j *judge.Judgement) emergencyView {
	s := j.Sheet
	v := emergencyView{Product: judge.Name(s), Signal: judge.SignalShown(s.Hazards)}
	v.Number, v.NumberOf = emergencyNumber(j.RuleSet)
	v.Sheet, v.Supplier = s.Identification.EmergencyPhone.Value, s.Identification.SupplierPhone.Value
	for _, p := range s.Hazards.Pictograms {
		if p.Known() && p.Value != ghs.NoPictogram {
			v.Symbols = append(v.Symbols, symbolOf(p.Value))
		}
	}
	stricter := burnsUnsaid(j)
	for _, c := range aidCases() {
		aid := aidOf(s, c)
		if stricter && (c.id == "eye" || c.id == "skin") {
			aid.Stricter = "By its ingredients it burns skin and eyes, though section 2 does not say so. Act on the stricter: rinse at once and for long, take off what is soaked, and get medical help at once."
		}
		v.Aids = append(v.Aids, aid)
	}
	v.ToTell = []pair{{"Product", v.Product}, {"Supplier", judge.Shown(s.Identification.Supplier)}}
	if s.Identification.UFI.Known() {
		v.ToTell = append(v.ToTell, pair{"UFI", s.Identification.UFI.Value})
	}
	for _, t := range s.Transport {
		if t.Known() && t.Value.UN != "" {
			v.ToTell = append(v.ToTell, pair{"UN number", t.Value.UN})
			break
		}
	}
	for _, i := range s.Composition.Ingredients {
		v.ToTell = append(v.ToTell, pair{"Contains", judge.IngredientShown(i) + ", " + judge.ShareShown(i)})
	}
	return v
}

// burnsUnsaid tells whether the ingredients make the product burn skin or eyes whatever their true shares are, while the
// sheet declares no such class.
func burnsUnsaid(j *judge.Judgement) bool {
	unsaid := false
	for _, c := range j.Conclusions.Classes {
		burns := c.Hazard.Class() == ghs.SkinCorrosion && strings.HasPrefix(c.Hazard.Category(), "1") || c.Hazard.Class() == ghs.EyeDamage && c.Hazard.Category() == "1"
		if burns && c.Declared {
			return false
		}
		unsaid = unsaid || burns && c.Verdict == "certain"
	}
	return unsaid
}

func aidOf(s *sheet.Sheet, c aidCase) aidView {
	v := aidView{ID: c.id, Title: c.title}
	for _, p := range s.Hazards.Precautions {
		if !p.Known() || !startsWithAny(string(p.Value.Code), c.prefixes) {
			continue
		}
		v.First = append(v.First, phraseOnly(p.Value))
		v.FirstWhy = "statements of this sheet"
	}
	for _, code := range c.standard {
		if text, ok := ghs.Phrase(code, ghs.English); ok && len(v.First) == 0 {
			v.First, v.FirstWhy = append(v.First, text), "words of the standard ("+code.Printed()+"): the sheet gives no statement for this"
		}
	}
	if len(v.First) == 0 {
		v.First, v.FirstWhy = []string{c.words}, "the sheet gives no statement for this"
	}
	v.Sheet, v.Page = paragraphOf(s.Sections[c.section], c, aidCases())
	if len(v.Sheet) == 0 {
		v.Silent = "No words for this were found in section " + judge.SectionTitle(c.section) + "."
	}
	return v
}

func startsWithAny(code string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(code, p) {
			return true
		}
	}
	return false
}

// phraseOnly is a statement as printed, else the standard's phrase.
func phraseOnly(st sheet.Statement) string {
	if st.Phrase != "" {
		return st.Phrase
	}
	if text, ok := ghs.Phrase(st.Code, ghs.English); ok {
		return text
	}
	return string(st.Code)
}

// paragraphOf is the part of a section that belongs to a case: the whole section where it concerns no route, else the
// lines from the one that names the route to the one that names another.
func paragraphOf(section sheet.Section, c aidCase, all []aidCase) (lines []string, page int) {
	const most = 24
	inside := c.begins == nil
	for _, l := range section.Text {
		if c.begins != nil {
			if c.begins.MatchString(l.Text) {
				inside = true
			} else if beginsAnother(l.Text, c, all) {
				inside = false
			}
		}
		if inside && len(lines) < most {
			if page == 0 {
				page = l.Page
			}
			lines = append(lines, l.Text)
		}
	}
	return lines, page
}

var nextPart = regexp.MustCompile(`(?i)^\s*4\.[2-9]|^\W*(most important|indication of any|symptoms|notes? to|wichtigste|hinweise|principaux|indication des|principales|indicación)`)

func beginsAnother(line string, c aidCase, all []aidCase) bool {
	for _, other := range all {
		if other.id != c.id && other.begins != nil && other.begins.MatchString(line) {
			return true
		}
	}
	return nextPart.MatchString(line)
}

// aidWithout is what to do in a case when there is no sheet.
func aidWithout(c aidCase) aidView {
	v := aidView{ID: c.id, Title: c.title, FirstWhy: "no sheet of this product is on the shelf", Silent: "There is no sheet to read further in."}
	for _, code := range c.standard {
		if text, ok := ghs.Phrase(code, ghs.English); ok {
			v.First = append(v.First, text)
			v.FirstWhy = "words of the standard (" + code.Printed() + "); no sheet of this product is on the shelf"
		}
	}
	if len(v.First) == 0 {
		v.First = []string{c.words}
	}
	return v
}
