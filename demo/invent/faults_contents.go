package invent

import (
	"slices"
	"strings"

	"sixteen/demo/sheetprint"
	"sixteen/ghs"
	"sixteen/sheet"
)

// contentFaults are things that the sheet must say and leaves out, and advice that does not fit.
var contentFaults = []Fault{
	{"product-name-missing", "The sheet does not say of which product it is.", "It is filed with the wrong tin.", "product-name-missing",
		func(s *sheetprint.Spec) bool { return blank(&s.Product) }},
	{"uses-missing", "Section 1 names no use.", "Nobody knows whether spraying was thought of.", "uses-missing",
		func(s *sheetprint.Spec) bool { s.UseAgainst = ""; return blank(&s.Use) }},
	{"supplier-address-missing", "Section 1 gives no address.", "Nobody can be written to.", "supplier-address-missing",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Supplier.Address) > 0
			s.Supplier.Address = nil
			return ok
		}},
	{"supplier-phone-missing", "Section 1 gives no telephone number of the supplier.", "Nobody can be called.", "supplier-phone-missing",
		func(s *sheetprint.Spec) bool { return blank(&s.Supplier.Phone) }},
	{"email-missing", "Section 1 gives no e-mail address, which REACH asks for.", "Nobody answers for the sheet.", "email-missing",
		func(s *sheetprint.Spec) bool { return europe(s.Rules) && blank(&s.Supplier.Email) }},
	{"ufi-missing", "A hazardous mixture has no unique formula identifier.", "The poison centre cannot find it.", "ufi-missing",
		func(s *sheetprint.Spec) bool { return europe(s.Rules) && len(s.Classes) > 0 && blank(&s.UFI) }},
	{"language-of-another-country", "The sheet is in German in a country whose law asks for English.", "Nobody can read it.", "language",
		func(s *sheetprint.Spec) bool {
			ok := s.Rules == ghs.USHCS2024 && s.Lang == ghs.English
			s.Lang = ghs.German
			return ok
		}},
	{"statements-missing", "Classes are stated, and no hazard statement.", "The label has no warning.", "statements-missing class-without-statement",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Statements) > 0 && len(s.Classes) > 0
			s.Statements, s.Supplemental = nil, nil
			return ok
		}},
	{"denied-beside-statements", "Section 2 says not classified and prints hazard statements all the same.", "One of the two is wrong.", "not-classified-but",
		func(s *sheetprint.Spec) bool {
			ok := len(s.Statements) > 0 && len(s.Classes) > 0
			s.Classes = nil
			return ok
		}},
	{"signal-missing", "Classes ask for a signal word, and there is none.", "The product looks milder than it is.", "signal-missing",
		func(s *sheetprint.Spec) bool {
			if !slices.ContainsFunc(s.Classes, func(k sheetprint.Class) bool { e, ok := elementOf(k.Name, k.Route); return ok && !e.silent }) {
				return false
			}
			return blank(&s.SignalWord)
		}},
	{"precautions-for-nothing", "A grave hazard is stated with precautions that have nothing to do with it.", "Nobody is told what to do.", "precaution-for-hazard",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H314", "H318", "H334", "H350", "H340", "H304")
			s.Precautions = []ghs.Code{"P501"}
			return ok
		}},
	{"supplement-missing", "A supplemental statement that the ingredients ask for is left out.", "Those who are allergic are not warned.", "supplement-missing",
		func(s *sheetprint.Spec) bool {
			ok := europe(s.Rules) && slices.ContainsFunc(s.Supplemental, func(c ghs.Code) bool { return c == "EUH204" || c == "EUH205" })
			s.Supplemental, s.Contains = nil, nil
			return ok
		}},
	{"endocrine-silent", "Section 2 does not answer for PBT, vPvB and hormone disruptors.", "Silence is taken for none.", "endocrine-statement-missing",
		func(s *sheetprint.Spec) bool {
			sentence(s, "otherhazards.pbt", map[ghs.Lang]string{ghs.English: "None known.", ghs.French: "Aucun connu.", ghs.German: "Keine bekannt.", ghs.Spanish: "Ninguno conocido."}[s.Lang])
			return s.Rules == ghs.EUCLP
		}},
	{"eye-aid-missing", "First aid does not speak of the eyes although the product damages them.", "An eye is lost.", "first-aid-eyes",
		func(s *sheetprint.Spec) bool {
			sentence(s, "aid.eyes", "")
			sentence(s, "aid.eyes.damage", "")
			return hasCode(*s, "H314", "H318", "H319")
		}},
	{"extinguisher-missing", "Section 5 names no extinguishing medium for a flammable liquid.", "Water spreads the fire.", "extinguishing-missing",
		func(s *sheetprint.Spec) bool {
			sentence(s, "media.text", "")
			sentence(s, "unmedia.text", "")
			return hasCode(*s, "H225", "H226", "H242")
		}},
	{"flash-missing", "A flammable liquid has no flash point.", "Nobody knows how easily it lights.", "flash-missing",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H225", "H226") && measured(s, sheet.FlashPoint)
			delete(s.Properties, sheet.FlashPoint)
			return ok
		}},
	{"carcinogen-unlisted", "Section 11 does not mention that IARC lists an ingredient.", "Nobody guards against it.", "carcinogen-listing",
		func(s *sheetprint.Spec) bool {
			ok := !hasCode(*s, "H350", "H351") && len(s.Carcinogens) > 0 && !europe(s.Rules)
			s.Carcinogens = nil
			return ok
		}},
	{"acute-data-missing", "Section 2 states acute toxicity, section 11 gives no value.", "Nobody can check it.", "acute-data-missing",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H300", "H301", "H302", "H310", "H311", "H312", "H330", "H331", "H332") && len(s.Tox) > 0
			s.Tox = nil
			return ok
		}},
	{"effect-denied", "Section 2 states that the product sensitises, section 11 denies it.", "Gloves are left off.", "effect-against-class",
		func(s *sheetprint.Spec) bool {
			sentence(s, "says.e.sens", map[ghs.Lang]string{ghs.English: "Not a skin sensitiser.", ghs.French: "Non sensibilisant.", ghs.German: "Nicht sensibilisierend.", ghs.Spanish: "No es sensibilizante."}[s.Lang])
			return hasCode(*s, "H317")
		}},
	{"effect-unclassified", "Section 11 says that the product may cause cancer, section 2 has no such class.", "Nobody guards against it.", "effect-against-class",
		func(s *sheetprint.Spec) bool {
			said := *s
			sentence(s, "says.e.carc", said.Phrase("H350"))
			return !hasCode(*s, "H350", "H351")
		}},
	{"ingredient-dose-against-class", "Section 11 gives an ingredient a dose far graver than its class in section 3.", "It is more poisonous than it looks.", "ingredient-dose",
		func(s *sheetprint.Spec) bool {
			i := firstHazardous(s)
			if i < 0 || slices.ContainsFunc(s.Ingredients[i].Classes, func(k sheetprint.Class) bool { return strings.HasPrefix(k.Name, "Acute Tox.") && k.Route == "oral" }) {
				return false
			}
			in := s.Ingredients[i]
			s.Tox = append(s.Tox, sheetprint.Tox{Name: in.Name, CAS: in.CAS, Measure: "LD50", Route: "oral", Species: "rat", Value: 120, Unit: "mg/kg"})
			return true
		}},
	{"gloves-missing", "Section 8 says nothing of gloves although the product harms the skin.", "Bare hands.", "gloves-missing gloves-vague",
		func(s *sheetprint.Spec) bool {
			s.Gloves = sheetprint.Gloves{}
			sentence(s, "hands.vague", "")
			return hasCode(*s, "H314", "H315", "H317", "H311", "H312")
		}},
	{"eyes-missing", "Section 8 says nothing of the eyes although the product damages them.", "An eye is lost.", "eyes-missing",
		func(s *sheetprint.Spec) bool {
			sentence(s, "eyes.text", "")
			sentence(s, "eyes.tight", "")
			return hasCode(*s, "H314", "H318", "H319")
		}},
	{"particle-filter-for-vapour", "Section 8 names a dust mask for solvent vapour.", "The vapour goes through.", "respirator-particle",
		func(s *sheetprint.Spec) bool {
			s.Respirator = map[bool]string{true: "P2", false: "N95"}[europe(s.Rules)]
			return hasCode(*s, "H225", "H226") && volatileShare(*s) >= 10
		}},
	{"common-filter-for-low-boiler", "Section 8 names a filter of type A for a liquid that boils below 65 °C.", "It breaks through in minutes.", "respirator-low-boiling",
		func(s *sheetprint.Spec) bool {
			ok := s.Respirator == "AX"
			s.Respirator = "A2"
			return ok
		}},
	{"class8-without-corrosion", "Section 14 gives class 8, section 2 states nothing corrosive.", "Burns are not expected.", "transport-class8",
		func(s *sheetprint.Spec) bool {
			ok := !hasCode(*s, "H314", "H290") && s.Transport.UN == ""
			s.Transport = sheetprint.Transport{Modes: s.Transport.Modes, UN: "1760", ProperName: "CORROSIVE LIQUID, N.O.S.", Class: "8", PackingGroup: "III"}
			return ok
		}},
	{"class3-without-flammable", "Section 14 gives class 3, section 2 no flammable liquid.", "Sparks are not kept away.", "transport-class3",
		func(s *sheetprint.Spec) bool {
			ok := !hasCode(*s, "H224", "H225", "H226", "H242") && s.Transport.UN == ""
			s.Transport = sheetprint.Transport{Modes: s.Transport.Modes, UN: "1993", ProperName: "FLAMMABLE LIQUID, N.O.S.", Class: "3", PackingGroup: "III"}
			return ok
		}},
	{"rating-health-mild", "The health rating is 1 although the product burns the skin.", "Rescuers go in unprotected.", "rating-health",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H314") && (s.NFPA != nil || s.HMIS != nil)
			for _, r := range []*sheetprint.Ratings{s.NFPA, s.HMIS} {
				if r != nil {
					r.Health = 1
				}
			}
			return ok
		}},
	{"flash-beyond-ingredients", "The flash point is 95 °C although a fifth of the liquid lights below 23 °C.", "Sparks are not kept away.", "flash-against-ingredients",
		func(s *sheetprint.Spec) bool {
			ok := hasCode(*s, "H225") && volatileShare(*s) >= 20
			setFlash(s, 95)
			return ok
		}},
}

// wordingFaults are classes, codes and phrases of section 2 and 3 that do not belong together.
var wordingFaults = []Fault{
	{"statement-milder", "The statement of a class is that of a milder category.", "The label warns of less.", "statement-milder class-without-statement",
		func(s *sheetprint.Spec) bool {
			milder := map[ghs.Code]ghs.Code{"H225": "H226", "H314": "H315", "H318": "H319", "H301": "H302", "H311": "H312", "H331": "H332", "H350": "H351", "H360": "H361", "H372": "H373", "H340": "H341", "H410": "H411"}
			for i, c := range s.Statements {
				if m := milder[c]; m != "" && !slices.Contains(s.Statements, m) && c != "H314" && c != "H318" {
					s.Statements[i] = m
					return true
				}
			}
			return false
		}},
	{"code-of-another-class", "A class carries the code of another one.", "One of the two is wrong.", "class-code",
		func(s *sheetprint.Spec) bool { return miscode(s.Classes) }},
	{"ingredient-code-of-another-class", "An ingredient's class carries the code of another one.", "One of the two is wrong.", "ingredient-code",
		func(s *sheetprint.Spec) bool {
			return slices.ContainsFunc(s.Ingredients, func(in sheetprint.Ingredient) bool { return miscode(in.Classes) })
		}},
	{"categories-clash", "Two categories of one class are stated.", "Nobody knows which holds.", "categories-clash",
		func(s *sheetprint.Spec) bool {
			i := slices.IndexFunc(s.Classes, func(k sheetprint.Class) bool { return k.Name == "Flam. Liq. 2" })
			if i < 0 {
				return false
			}
			s.Classes = slices.Insert(s.Classes, i+1, sheetprint.Class{Name: "Flam. Liq. 3", Code: "H226"})
			return true
		}},
	{"category-of-another-law", "A category is stated that the law of the place does not have.", "Part of the sheet was copied.", "category-foreign",
		func(s *sheetprint.Spec) bool {
			ok := europe(s.Rules) && !hasCode(*s, "H225", "H226", "H224") && len(s.Classes) > 0
			s.Classes = append(s.Classes, sheetprint.Class{Name: "Flam. Liq. 4", Code: "H227"})
			return ok
		}},
	{"phrase-of-another-code", "A code is printed with the words of another one.", "One of the two is wrong.", "phrase-of-other-code",
		func(s *sheetprint.Spec) bool {
			return reword(s, "H317", func(p sheetprint.Spec) string { return p.Phrase("H319") })
		}},
	{"phrase-reworded", "A hazard statement is softened in words of the supplier's own.", "The warning is taken lightly.", "phrase-reworded",
		func(s *sheetprint.Spec) bool {
			soft := map[ghs.Lang]string{ghs.English: "Sensitive persons may notice some redness.", ghs.French: "Les personnes sensibles peuvent observer une rougeur.", ghs.German: "Empfindliche Personen bemerken vielleicht eine Rötung.", ghs.Spanish: "Las personas sensibles pueden notar un enrojecimiento."}
			return reword(s, "H317", func(p sheetprint.Spec) string { return soft[p.Lang] })
		}},
	{"secret-named-without-class", "An ingredient is a trade secret by number and share and carries no class.", "Nobody can check it.", "secret-class-missing identity-missing percent-missing ingredient-class-missing",
		func(s *sheetprint.Spec) bool {
			i := firstHazardous(s)
			if i < 0 {
				return false
			}
			in := &s.Ingredients[i]
			dropLimits(s, in.CAS)
			in.CAS, in.EC, in.Secret, in.Classes = "", "", true, nil
			return true
		}},
}

// blank empties a text, and tells whether there was one.
func blank(text *string) bool {
	ok := *text != ""
	*text = ""
	return ok
}

// miscode gives the first class whose code is not that of passing skin irritation this code.
func miscode(classes []sheetprint.Class) bool {
	for i, k := range classes {
		if k.Code == "H317" || k.Code == "H225" || k.Code == "H226" || k.Code == "H319" {
			classes[i].Code = "H335"
			return true
		}
	}
	return false
}

// reword replaces a statement by its code with other words.
func reword(s *sheetprint.Spec, code ghs.Code, words func(sheetprint.Spec) string) bool {
	n := len(s.Statements)
	if n < 2 {
		return false
	}
	s.Statements = slices.DeleteFunc(s.Statements, func(c ghs.Code) bool { return c == code })
	s.ExtraPhrases = append(s.ExtraPhrases, string(code)+" "+words(*s))
	return len(s.Statements) < n
}

// volatileShare is the smallest share (percent) that the listed ingredients with H225 make up together.
func volatileShare(s sheetprint.Spec) float64 {
	sum := 0.0
	for _, in := range s.Ingredients {
		if slices.ContainsFunc(in.Classes, func(k sheetprint.Class) bool { return k.Code == "H225" }) && in.Percent.HasLo {
			sum = max(sum, in.Percent.Lo)
		}
	}
	return sum
}
