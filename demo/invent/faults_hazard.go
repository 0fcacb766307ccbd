package invent

import (
	"slices"
	"strings"

	"sixteen/demo/sheetprint"
	"sixteen/ghs"
)

// hazardFaults are faults of section 2.
var hazardFaults = []Fault{
	{"missed-skin-sensitiser", "An ingredient above its limit sensitises the skin; section 2 does not say so.", "Workers become allergic for life.", "sensitiser-hidden class-missing",
		func(s *sheetprint.Spec) bool { return drop(s, "Skin Sens.") }},
	{"missed-respiratory-sensitiser", "An ingredient above its limit causes asthma; section 2 does not say so.", "Workers get asthma for life.", "sensitiser-hidden class-missing",
		func(s *sheetprint.Spec) bool { return drop(s, "Resp. Sens.") }},
	{"missed-carcinogen", "An ingredient above its limit may cause cancer; section 2 does not say so.", "Nobody guards against the exposure.", "chronic-hidden class-missing",
		func(s *sheetprint.Spec) bool { return drop(s, "Carc.") }},
	{"missed-reproductive-toxicant", "An ingredient above its limit may harm the unborn child; section 2 does not say so.", "Pregnant workers are not warned.", "chronic-hidden class-missing",
		func(s *sheetprint.Spec) bool { return drop(s, "Repr.") }},
	{"missed-repeated-exposure", "An ingredient above its limit damages organs by repeated exposure; section 2 does not say so.", "Daily users are harmed slowly.", "chronic-hidden class-missing",
		func(s *sheetprint.Spec) bool { return drop(s, "STOT RE") }},
	{"missed-aspiration", "The ingredients make the thin liquid an aspiration hazard; section 2 does not say so.", "Vomiting after swallowing floods the lungs.", "class-missing chronic-hidden aspiration-viscosity acute-hidden",
		func(s *sheetprint.Spec) bool { return drop(s, "Asp. Tox.") }},
	{"missed-eye-damage", "The ingredients damage eyes; section 2 states no eye hazard.", "Goggles are left off.", "corrosive-hidden class-missing",
		func(s *sheetprint.Spec) bool { return !hasCode(*s, "H314") && drop(s, "Eye Dam.") }},
	{"corrosive-as-irritant", "The share of corrosives is above the limit, yet section 2 says irritating.", "Burns are taken for a rash.", "corrosive-hidden class-missing",
		func(s *sheetprint.Spec) bool { return weakenCorrosive(s) }},
	{"missed-aquatic", "The ingredients are hazardous to water; section 2 does not say so.", "Leftovers go down the drain.", "class-missing declaration-impossible",
		func(s *sheetprint.Spec) bool {
			return europe(s.Rules) && drop(s, "Aquatic Chronic 1", "Aquatic Chronic 2")
		}},
	{"signal-caution", "The signal word is Caution, which the standard does not have.", "The word of an older law says less than it should.", "signal-nonstandard",
		func(s *sheetprint.Spec) bool { return replaceSignal(s, "Caution") }},
	{"signal-too-weak", "The classes call for Danger; the sheet says Warning.", "The product looks milder than it is.", "signal-word",
		func(s *sheetprint.Spec) bool { return s.SignalWord == "Danger" && replaceSignal(s, "Warning") }},
	{"pictogram-missing", "A pictogram that the classes call for is not shown.", "Whoever looks at symbols only misses a hazard.", "pictogram-missing",
		func(s *sheetprint.Spec) bool {
			if len(s.Pictograms) == 0 {
				return false
			}
			s.Pictograms = s.Pictograms[:len(s.Pictograms)-1]
			return true
		}},
	{"pictogram-needless", "The skull is shown although no acute toxicity of category 1 to 3 is stated.", "Symbols lose their meaning.", "pictogram-extra",
		func(s *sheetprint.Spec) bool {
			if slices.Contains(s.Pictograms, ghs.SkullCrossbones) || len(s.Classes) == 0 {
				return false
			}
			s.Pictograms = append(s.Pictograms, ghs.SkullCrossbones)
			return true
		}},
	{"statement-missing", "A class is stated without its hazard statement.", "The label leaves out a hazard.", "class-without-statement",
		func(s *sheetprint.Spec) bool {
			i := slices.IndexFunc(s.Statements, func(c ghs.Code) bool { return c != "H318" })
			if len(s.Statements) < 2 || i < 0 {
				return false
			}
			s.Statements = slices.Delete(s.Statements, i, i+1)
			return true
		}},
	{"statement-without-class", "A statement on drowsiness stands there without its class.", "One of the two is wrong, nobody knows which.", "statement-without-class class-unfounded",
		func(s *sheetprint.Spec) bool {
			if s.PreGHS || len(s.Statements) == 0 || hasCode(*s, "H335", "H336") {
				return false
			}
			s.Statements = append(s.Statements, "H336")
			return true
		}},
	{"code-of-another-law", "A statement is printed that does not exist in the sheet's jurisdiction.", "Part of the sheet was copied from another country's.", "code-foreign",
		func(s *sheetprint.Spec) bool {
			switch {
			case s.PreGHS || len(s.Statements) == 0:
				return false
			case europe(s.Rules) && !slices.Contains(s.Statements, "H227"):
				s.Statements = append(s.Statements, "H227")
			case !europe(s.Rules) && !slices.Contains(s.Statements, "EUH066"):
				s.Statements = append(s.Statements, "EUH066")
			}
			slices.Sort(s.Statements)
			return true
		}},
	{"precautions-missing", "Hazards are stated without any precautionary statement.", "Nobody is told what to do.", "precautions-missing",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Precautions) > 0
			s.Precautions = nil
			return ok
		}},
	{"legacy-wording", "Danger symbols and risk phrases of a law that was repealed stand beside the present ones.", "Two systems are mixed and neither is complete.", "legacy-wording",
		func(s *sheetprint.Spec) bool {
			if s.PreGHS || len(s.Classes) == 0 {
				return false
			}
			s.ExtraPhrases = append(s.ExtraPhrases, "Xi - R36/38", "S24/25")
			return true
		}},
	{"unknown-share-missing", "Ingredients of unknown acute toxicity make up a good part of the mixture; the sheet does not state the share.", "Not known is taken for harmless.", "unknown-toxicity",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Unknown) > 0
			s.Unknown = nil
			dropProductDoses(s, "")
			return ok
		}},
	{"hazards-denied", "Section 2 says not classified although ingredients are above their limits.", "Everybody works without protection.", "not-classified-but class-missing corrosive-hidden chronic-hidden sensitiser-hidden acute-hidden",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Classes) > 0
			s.Classes, s.Statements, s.Pictograms, s.SignalWord, s.Precautions = nil, nil, nil, "", nil
			return ok
		}},
}

// drop takes classes out of section 2 and writes the label anew, as a supplier does who overlooked them.
func drop(s *sheetprint.Spec, prefixes ...string) bool {
	n := len(s.Classes)
	s.Classes = slices.DeleteFunc(s.Classes, func(k sheetprint.Class) bool {
		return slices.ContainsFunc(prefixes, func(p string) bool { return strings.HasPrefix(k.Name, p) })
	})
	if len(s.Classes) == n {
		return false
	}
	label(s)
	return true
}

func weakenCorrosive(s *sheetprint.Spec) bool {
	if !drop(s, "Skin Corr.") {
		return false
	}
	drop(s, "Eye Dam.", "Skin Irrit.", "Eye Irrit.")
	s.Classes = append(s.Classes, sheetprint.Class{Name: "Skin Irrit. 2", Code: "H315"}, sheetprint.Class{Name: irritantEye(s.Rules), Code: "H319"})
	label(s)
	return true
}

// irritantEye is what the rule set calls the category of reversible eye irritation.
func irritantEye(rules ghs.RuleSet) string {
	if europe(rules) {
		return "Eye Irrit. 2"
	}
	return "Eye Irrit. 2A"
}

func replaceSignal(s *sheetprint.Spec, word string) bool {
	ok := s.SignalWord != "" && s.SignalWord != word
	s.SignalWord = word
	return ok
}
