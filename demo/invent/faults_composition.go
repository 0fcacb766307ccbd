package invent

import (
	"slices"
	"strings"

	"sixteen/demo/sheetprint"
	"sixteen/sheet"
)

// compositionFaults are faults of section 3.
var compositionFaults = []Fault{
	{"cas-check-digit", "One digit of a CAS number is wrong, so that its check digit fails.", "The substance cannot be looked up.", "cas-check-digit",
		func(s *sheetprint.Spec) bool {
			i := firstCAS(s)
			if i < 0 {
				return false
			}
			cas := []byte(s.Ingredients[i].CAS)
			last := len(cas) - 1
			cas[last] = '0' + (cas[last]-'0'+3)%10
			renumber(s, i, string(cas))
			return true
		}},
	{"cas-of-another-substance", "An ingredient carries the valid CAS number of a different substance.", "The wrong substance is looked up.", "cas-name",
		func(s *sheetprint.Spec) bool {
			i := firstCAS(s)
			if i < 0 || s.Ingredients[i].CAS == "57-55-6" {
				return false
			}
			renumber(s, i, "57-55-6")
			return true
		}},
	{"range-over-wide", "A hazardous ingredient is given from 1 to 80 percent.", "Harmless and hazardous mixtures both fit.", "range-wide",
		func(s *sheetprint.Spec) bool {
			i := firstHazardous(s)
			if i < 0 {
				return false
			}
			s.Ingredients[i].Percent = sheet.Between(1, 80)
			s.Ingredients[i].Secret = false
			return true
		}},
	{"sum-over-100", "The lower ends of the ranges add up to more than 100 percent.", "The composition is not to be trusted.", "sum-over-100",
		func(s *sheetprint.Spec) bool {
			if len(s.Ingredients) < 2 {
				return false
			}
			s.Ingredients[0].Percent, s.Ingredients[1].Percent = sheet.Between(70, 90), sheet.Between(40, 60)
			return true
		}},
	{"secret-without-class", "A hazardous ingredient is withheld by name, number and share.", "Nobody can check the classification.", "identity-missing percent-missing ingredient-class-missing secret-range",
		func(s *sheetprint.Spec) bool {
			i := firstHazardous(s)
			if i < 0 {
				return false
			}
			in := &s.Ingredients[i]
			dropLimits(s, in.CAS)
			in.Name, in.CAS, in.EC, in.Secret, in.Classes = "confidential ingredient", "", "", true, nil
			return true
		}},
	{"ingredient-class-missing", "An ingredient's sensitising class is left out of its row.", "The mixture looks harmless by its own table.", "ingredient-class-missing ingredient-stricter",
		func(s *sheetprint.Spec) bool {
			for i := range s.Ingredients {
				in := &s.Ingredients[i]
				n := len(in.Classes)
				in.Classes = slices.DeleteFunc(in.Classes, func(k sheetprint.Class) bool { return strings.HasPrefix(k.Name, "Skin Sens.") })
				if len(in.Classes) < n {
					return true
				}
			}
			return false
		}},
	{"ingredient-twice", "The same substance is listed twice with different shares.", "One of the shares is wrong.", "ingredient-twice",
		func(s *sheetprint.Spec) bool {
			i := firstCAS(s)
			if i < 0 {
				return false
			}
			again := s.Ingredients[i]
			again.Percent = sheet.Between(1, 2)
			s.Ingredients = append(s.Ingredients, again)
			return true
		}},
	{"composition-empty", "Section 3 lists no ingredient although hazards are stated.", "Nothing can be checked.", "composition-missing",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Classes) > 0 && len(s.Ingredients) > 0
			s.Ingredients, s.Limits, s.Tox, s.Carcinogens = nil, nil, nil, nil
			return ok
		}},
	{"percent-missing", "An ingredient is listed without a share and without the words trade secret.", "The classification cannot be checked.", "percent-missing",
		func(s *sheetprint.Spec) bool {
			i := firstHazardous(s)
			if i < 0 {
				return false
			}
			s.Ingredients[i].Percent, s.Ingredients[i].Secret = sheet.Interval{}, false
			return true
		}},
}

func firstCAS(s *sheetprint.Spec) int {
	return slices.IndexFunc(s.Ingredients, func(in sheetprint.Ingredient) bool { return in.CAS != "" && !in.Secret })
}

// firstHazardous is the first ingredient whose class carries over to the product.
func firstHazardous(s *sheetprint.Spec) int {
	return slices.IndexFunc(s.Ingredients, func(in sheetprint.Ingredient) bool { return len(in.Classes) > 0 && in.CAS != "" })
}

// renumber gives an ingredient another CAS number everywhere in the sheet.
func renumber(s *sheetprint.Spec, i int, cas string) {
	old := s.Ingredients[i].CAS
	s.Ingredients[i].CAS = cas
	for k := range s.Limits {
		if s.Limits[k].CAS == old {
			s.Limits[k].CAS = cas
		}
	}
	for k := range s.Carcinogens {
		if s.Carcinogens[k].CAS == old {
			s.Carcinogens[k].CAS = cas
		}
	}
	for k := range s.Tox {
		if s.Tox[k].CAS == old {
			s.Tox[k].CAS = cas
		}
	}
}

func dropLimits(s *sheetprint.Spec, cas string) bool {
	n := len(s.Limits)
	s.Limits = slices.DeleteFunc(s.Limits, func(l sheetprint.Limit) bool { return l.CAS == cas })
	return len(s.Limits) < n
}
