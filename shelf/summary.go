package shelf

import (
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// Summary is what lists show and totals count of a sheet, kept beside it so that neither has to be read again. Counts are of
// findings that are not overruled. Checks names the version of the checks that made it: see ChecksVersion.
type Summary struct {
	Name           string          `json:"name"` // of the product as the sheet prints it
	Supplier       string          `json:"supplier"`
	Language       ghs.Lang        `json:"language"`
	RuleSet        ghs.RuleSet     `json:"rule_set"` // it was judged by
	RevisionDate   string          `json:"revision_date"`
	Revision       string          `json:"revision"` // version as printed
	SignalWord     ghs.SignalWord  `json:"signal_word"`
	Pictograms     []ghs.Pictogram `json:"pictograms"`
	Statements     []ghs.Code      `json:"statements"` // H codes
	Hazards        []ghs.Hazard    `json:"hazards"`    // declared by the sheet
	Groups         []StorageGroup  `json:"groups"`     // it is stored with or apart by
	Flammable      ghs.Hazard      `json:"flammable"`  // the class by which it burns: as declared, else by its flash point
	FlashC         *float64        `json:"flash_c,omitempty"`
	Density        *float64        `json:"density,omitempty"` // kg/m3
	Contradictions int             `json:"contradictions"`
	Gaps           int             `json:"gaps"`
	Doubts         int             `json:"doubts"`
	Notes          int             `json:"notes"`
	Overruled      int             `json:"overruled"`
	Checks         string          `json:"checks"`
	Judged         time.Time       `json:"judged,omitzero"`

	words string // by which the product is found
}

func (s *Summary) columns() []column {
	return []column{
		{"name", text{&s.Name}}, {"supplier", text{&s.Supplier}}, {"language", words[ghs.Lang]{&s.Language}}, {"rule_set", words[ghs.RuleSet]{&s.RuleSet}},
		{"revision_date", text{&s.RevisionDate}}, {"revision", text{&s.Revision}},
		{"signal_word", coded[ghs.SignalWord]{&s.SignalWord, ghs.ParseSignalWord}}, {"pictograms", codedList[ghs.Pictogram]{&s.Pictograms, ghs.ParsePictogram}},
		{"statements", list[ghs.Code]{&s.Statements}}, {"hazards", codedList[ghs.Hazard]{&s.Hazards, ghs.ParseHazard}}, {"groups", list[StorageGroup]{&s.Groups}},
		{"flammable", coded[ghs.Hazard]{&s.Flammable, ghs.ParseHazard}}, {"flash_c", number{&s.FlashC}}, {"density", number{&s.Density}}, {"found_by", text{&s.words}},
		{"contradictions", whole[int]{&s.Contradictions}}, {"gaps", whole[int]{&s.Gaps}}, {"doubts", whole[int]{&s.Doubts}}, {"notes", whole[int]{&s.Notes}},
		{"overruled", whole[int]{&s.Overruled}}, {"checks", text{&s.Checks}}, {"judged", moment{&s.Judged}},
	}
}

// selected lists the columns for a SELECT in which the sheet may be missing: absent values become those of an empty summary.
func (s *Summary) selected(alias string) string {
	var out []string
	for _, c := range s.columns() {
		absent := ", '')"
		switch c.value.(type) {
		case number:
			out = append(out, alias+"."+c.name)
			continue
		case whole[int]:
			absent = ", 0)"
		}
		out = append(out, "COALESCE("+alias+"."+c.name+absent)
	}
	return strings.Join(out, ", ")
}

// Summarise is the summary of a judgement.
func Summarise(j *judge.Judgement) Summary {
	s := j.Sheet
	id := s.Identification
	out := Summary{
		Name: strings.TrimSpace(id.ProductName.Value), Supplier: strings.TrimSpace(id.Supplier.Value), Language: s.Language.Value, RuleSet: j.RuleSet,
		RevisionDate: firstNonEmpty(id.RevisionDate.Value, id.IssueDate.Value), Revision: id.Version.Value,
		SignalWord: s.Hazards.SignalWord.Value, Checks: ChecksVersion(), Judged: j.AsOf,
	}
	for _, p := range s.Hazards.Pictograms {
		out.Pictograms = appendNew(out.Pictograms, p.Value)
	}
	for _, h := range s.Hazards.Statements {
		if h.Value.Code != "" {
			out.Statements = appendNew(out.Statements, h.Value.Code)
		}
	}
	out.Hazards = declared(j)
	out.FlashC = lowestOf(s, sheet.FlashPoint)
	if out.Flammable = flammableClass(out.Hazards); out.Flammable == ghs.NoHazard {
		out.Flammable = flammableByFlash(out.FlashC, lowestOf(s, sheet.BoilingPoint))
	}
	out.Density = lowestOf(s, sheet.Density)
	out.Groups = groupsOf(s, out.Hazards)
	out.count(j.Report)
	out.words = sheetWords(s)
	return out
}

// count counts the findings of a report.
func (s *Summary) count(r audit.Report) {
	s.Contradictions, s.Gaps, s.Doubts, s.Notes, s.Overruled = 0, 0, 0, 0, 0
	for _, f := range r.Findings {
		if f.Overruled != nil {
			s.Overruled++
			continue
		}
		switch f.Kind {
		case audit.Contradiction:
			s.Contradictions++
		case audit.Gap:
			s.Gaps++
		case audit.Doubt:
			s.Doubts++
		case audit.Note:
			s.Notes++
		}
	}
}

// declared are the hazards that the sheet declares of the product.
func declared(j *judge.Judgement) []ghs.Hazard {
	if c := j.Case(); c != nil {
		return c.Declared().All()
	}
	var out []ghs.Hazard
	for _, c := range j.Conclusions.Classes {
		if c.Declared {
			out = append(out, c.Hazard)
		}
	}
	return out
}

// sheetWords are the words by which the product of a sheet is found: its names, ingredients, numbers and codes.
func sheetWords(s *sheet.Sheet) string {
	var all []string
	for _, part := range append([]*sheet.Sheet{s}, s.Parts...) {
		all = append(all, part.Identification.ProductName.Value, part.Identification.Supplier.Value)
		for _, h := range part.Hazards.Statements {
			all = append(all, string(h.Value.Code))
		}
		for _, i := range part.Composition.Ingredients {
			all = append(all, i.Name.Value, i.CAS.Value, i.EC.Value)
		}
		for _, t := range part.Transport {
			if t.Value.UN != "" {
				all = append(all, "UN"+t.Value.UN)
			}
		}
	}
	return joined(all...)
}

// lowestOf is the lowest stated value of a property; nil when none is stated.
func lowestOf(s *sheet.Sheet, p sheet.Property) *float64 {
	var out *float64
	for _, f := range s.Physical.Quantities[p] {
		if !f.Known() {
			continue
		}
		v := f.Value.Lo
		if !f.Value.HasLo {
			if !f.Value.HasHi {
				continue
			}
			v = f.Value.Hi
		}
		if out == nil || v < *out {
			out = &v
		}
	}
	return out
}

func firstNonEmpty(all ...string) string {
	for _, s := range all {
		if s != "" {
			return s
		}
	}
	return ""
}

func appendNew[T comparable](list []T, v T) []T {
	for _, have := range list {
		if have == v {
			return list
		}
	}
	return append(list, v)
}
