package invent

import (
	"slices"

	"sixteen/demo/sheetprint"
	"sixteen/sheet"
)

// dataFaults are faults of sections 8, 9, 11, 12 and 14 and of the ratings.
var dataFaults = []Fault{
	{"flash-below-class", "The flash point in section 9 is far below what section 2 states.", "Sparks are not kept away.", "flash-below-class",
		func(s *sheetprint.Spec) bool {
			if hasCode(*s, "H224", "H225") || !measured(s, sheet.FlashPoint) {
				return false
			}
			setFlash(s, 4)
			return true
		}},
	{"flash-above-class", "Section 2 says flammable, section 9 gives a flash point above the class.", "One of the two is wrong.", "flash-above-class",
		func(s *sheetprint.Spec) bool {
			if !hasCode(*s, "H224", "H225", "H226") {
				return false
			}
			setFlash(s, 68)
			return true
		}},
	{"ph-against-class", "The pH is that of a corrosive; section 2 names no corrosion.", "Skin and eyes are burnt.", "ph-against-corrosive",
		func(s *sheetprint.Spec) bool {
			if hasCode(*s, "H314", "H318") {
				return false
			}
			s.Properties[sheet.PH] = sheetprint.Value{Interval: sheet.Exactly(13.1)}
			return true
		}},
	{"dose-against-class", "The oral LD50 of the product in section 11 belongs to category 3; section 2 states none of it.", "A mouthful can kill.", "dose-against-class",
		func(s *sheetprint.Spec) bool {
			if hasCode(*s, "H300", "H301") {
				return false
			}
			dropProductDoses(s, "oral")
			s.Tox = slices.Insert(s.Tox, 0, sheetprint.Tox{Measure: "LD50", Route: "oral", Species: "rat", Value: 180, Unit: "mg/kg"}) // values of the product stand before those of ingredients
			return true
		}},
	{"voc-denied", "The VOC content is zero although solvents make up a good part.", "Vapour is not reckoned with.", "voc-against-ingredients",
		func(s *sheetprint.Spec) bool {
			v, ok := s.Properties[sheet.VOC]
			if !ok || !hasCode(*s, "H225", "H226") || v.Lo < 50 && v.Unit != "%" {
				return false
			}
			s.Properties[sheet.VOC] = sheetprint.Value{Interval: sheet.Exactly(0), Unit: "g/l"}
			return true
		}},
	{"boiling-below-flash", "The boiling point lies below the flash point.", "The data belong to different products.", "physical-order",
		func(s *sheetprint.Spec) bool {
			v, ok := s.Properties[sheet.FlashPoint]
			if !ok || v.NoData || v.Lo < 20 {
				return false
			}
			s.Properties[sheet.BoilingPoint] = sheetprint.Value{Interval: sheet.Exactly(v.Lo - 15)}
			return true
		}},
	{"ignition-below-flash", "The auto-ignition temperature lies below the flash point.", "The data belong to different products.", "physical-order",
		func(s *sheetprint.Spec) bool {
			v, ok := s.Properties[sheet.FlashPoint]
			if !ok || v.NoData || v.Lo < 20 {
				return false
			}
			s.Properties[sheet.AutoIgnition] = sheetprint.Value{Interval: sheet.Exactly(v.Lo - 8)}
			return true
		}},
	{"transport-denied", "Section 14 says not regulated although the flash point makes it class 3.", "It travels without any precaution.", "transport-flash transport-class3",
		func(s *sheetprint.Spec) bool {
			ok := s.Transport.Class == "3"
			s.Transport = sheetprint.Transport{Modes: s.Transport.Modes}
			return ok
		}},
	{"packing-group-too-mild", "Skin corrosion 1B calls for packing group II; section 14 says III.", "The package is too weak.", "transport-packing-group",
		func(s *sheetprint.Spec) bool {
			ok := s.Transport.Class == "8" && s.Transport.PackingGroup == "II" && hasClass(*s, "Skin Corr. 1B")
			if ok {
				s.Transport.PackingGroup = "III"
			}
			return ok
		}},
	{"transport-corrosive-denied", "Section 2 says corrosive, section 14 says not regulated.", "It travels without any precaution.", "transport-corrosive",
		func(s *sheetprint.Spec) bool {
			ok := s.Transport.Class == "8"
			s.Transport = sheetprint.Transport{Modes: s.Transport.Modes}
			return ok
		}},
	{"marine-pollutant-denied", "Section 2 says toxic to aquatic life, section 14 says no marine pollutant.", "A spill at sea is not reported.", "transport-environment",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H410", "H411") && s.Transport.UN != "" && s.Transport.UN != "3082"
			s.Transport.MarinePollutant = false
			return ok
		}},
	{"limit-missing", "A listed ingredient has a workplace limit that section 8 leaves out.", "Nobody measures it.", "limit-missing",
		func(s *sheetprint.Spec) bool {
			i := bindingLimit(s)
			return i >= 0 && dropLimits(s, s.Limits[i].CAS)
		}},
	{"limit-too-high", "The workplace limits are printed ten times too high.", "Exposure is thought to be within the limit.", "limit-differs",
		func(s *sheetprint.Spec) bool {
			ok := bindingLimit(s) >= 0
			for i := range s.Limits {
				s.Limits[i].PPM *= 10
				s.Limits[i].MgM3 *= 10
			}
			return ok
		}},
	{"gloves-vague", "Section 8 asks for suitable gloves without naming a material.", "Thin gloves let the product through.", "gloves-vague",
		func(s *sheetprint.Spec) bool {
			ok := s.Gloves.Material != "" && hasCode(*s, "H314", "H315", "H317", "H312", "H311")
			s.Gloves = sheetprint.Gloves{}
			return ok
		}},
	{"respirator-denied", "Section 8 needs no respirator although the vapour causes asthma.", "Workers breathe it.", "respirator-missing",
		func(s *sheetprint.Spec) bool {
			ok := s.Respirator != "" && hasCode(*s, "H334", "H331", "H330")
			s.Respirator = ""
			return ok
		}},
	{"rating-against-flash", "The fire rating is 0 although the flash point is below 60 °C.", "Fire crews see the wrong number.", "rating-flash",
		func(s *sheetprint.Spec) bool {
			v, ok := s.Properties[sheet.FlashPoint]
			if !ok || v.NoData || v.Lo > 60 || (s.NFPA == nil && s.HMIS == nil) {
				return false
			}
			for _, r := range []*sheetprint.Ratings{s.NFPA, s.HMIS} {
				if r != nil {
					r.Flammability = 0
				}
			}
			return true
		}},
	{"vomiting-advised", "First aid tells to make the person vomit although the product burns or floods the lungs.", "The advice kills.", "vomiting-advised",
		func(s *sheetprint.Spec) bool {
			if !hasCode(*s, "H314", "H304") || s.Lang != "en" {
				return false
			}
			sentence(s, "aid.ingestion", "Make the person vomit at once by giving salt water.")
			return true
		}},
}

// dropProductDoses takes out what section 11 says of the product itself by a route; "" is every route.
func dropProductDoses(s *sheetprint.Spec, route string) {
	s.Tox = slices.DeleteFunc(s.Tox, func(t sheetprint.Tox) bool { return t.Name == "" && (route == "" || t.Route == route) })
}

// hasClass tells whether section 2 states a class by its short name.
func hasClass(s sheetprint.Spec, name string) bool {
	return slices.ContainsFunc(s.Classes, func(k sheetprint.Class) bool { return k.Name == name })
}

// bindingLimit is the first limit of a vapour that the law of the sheet's own place sets, -1 when there is none.
func bindingLimit(s *sheetprint.Spec) int {
	return slices.IndexFunc(s.Limits, func(l sheetprint.Limit) bool {
		own := map[string]bool{"OSHA PEL": !europe(s.Rules), "Ontario OEL": true, "EU IOELV": true, "EU BOELV": true}
		return own[l.Authority] && l.PPM > 0
	})
}

func measured(s *sheetprint.Spec, p sheet.Property) bool {
	v, ok := s.Properties[p]
	return ok && !v.NoData
}

func setFlash(s *sheetprint.Spec, c float64) {
	v := s.Properties[sheet.FlashPoint]
	v.Interval = sheet.Exactly(c)
	s.Properties[sheet.FlashPoint] = v
}

func sentence(s *sheetprint.Spec, key, text string) {
	if s.Sentences == nil {
		s.Sentences = map[string]string{}
	}
	s.Sentences[key] = text
}
