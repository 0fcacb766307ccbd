package ghs

import (
	"slices"
	"strings"
	"testing"
)

func codesFound(text string, l Lang) string {
	var out []string
	for _, m := range FindPhrase(text, l) {
		out = append(out, string(m.Code))
	}
	return strings.Join(out, " ")
}

// Every wording of the tables, printed alone, is found as its own code.
func TestFindPhraseFindsItsOwnTables(t *testing.T) {
	for _, l := range Langs() {
		for _, s := range AllStatements() {
			text, ok := Phrase(s.Code, l)
			if !ok {
				t.Errorf("%s has no wording in %s", s.Code, l)
				continue
			}
			var letters letters
			letters.read(text)
			if len(letters.key) < piece {
				continue
			}
			if got := codesFound(text, l); got != string(s.Code) && !sameWording(got, s.Code, l) {
				t.Errorf("%s in %s: %q is found as %q", s.Code, l, text, got)
			}
		}
	}
}

// sameWording tells whether two codes have the same words, so that either is right.
func sameWording(a string, b Code, l Lang) bool {
	x, _ := Phrase(Code(a), l)
	y, _ := Phrase(b, l)
	var p, q letters
	p.read(strings.NewReplacer("[", "", "]", "").Replace(x))
	q.read(y)
	return string(p.key) == string(q.key)
}

// Wordings as sheets print them: the statements of GHS Annex 3 with what readers of pictures, North American spelling,
// older revisions and open places make of them.
func TestFindPhrase(t *testing.T) {
	for text, want := range map[string]string{
		"Causes skin irritation.":                                                         "H315",
		"Hazard statements\tFlammable liquid and vapor.":                                  "H226", // behind the cell of its label
		"H315 Causes skin irritation. H319 Causes serious eye irritation.":                "H315 H319",
		"CAUSES SERIOUS EYE DAMAGE":                                                       "H318",
		"Causes severe skin burns and eye darnage":                                        "H314",
		"May cause an al1ergic skin reaction":                                             "H317",
		"Maycauseanallergicskinreaction.":                                                 "H317",
		"Highly flammable liquid and vapor":                                               "H225",
		"Flamrnable liquid and vapour.":                                                   "H226",
		"Extremely flammable liquid and vapour":                                           "H224",
		"Toxic to aquatic life with long lasting effects":                                 "H411",
		"Very toxic to aquatic life with long-lasting effects.":                           "H410",
		"Harmful to aquatic life with long lasting effects":                               "H412",
		"Causes damage to organs (liver, kidneys) through prolonged or repeated exposure": "H372",
		"May cause damage to organs through prolonged or repeated exposure if inhaled.":   "H373",
		"May cause damage to the hearing organs through prolonged or repeated exposure":   "H373",
		"May cause damage to organs.":                                                     "H371",
		"Suspected of damaging fertility or the unborn child.":                            "H361",
		"May damage fertility. May damage the unborn child.":                              "H360FD",
		"May cause cancer by inhalation.":                                                 "H350i",
		"Suspected of causing cancer (inhalation).":                                       "H351",
		"May cause respiratory irritation; May cause drowsiness or dizziness":             "H335 H336",
		"Harmful if swallowed, in contact with skin or if inhaled":                        "H302+H312+H332",
		"Harmful if swallowed or if inhaled":                                              "H302+H332",
		"Wear protective gloves/ eye protection.":                                         "P280",
		"Wash hands thoroughly after handling.":                                           "P264",
		"Wash face, hands and any exposed skin thoroughly after handling":                 "P264",
		"Avoid breathing dust/fume/gas/mist/vapors/spray.":                                "P261",
		"Do not breathe vapours.":                                                         "P260",
		"Keep away from heat/sparks/open flames/hot surfaces. - No smoking.":              "P210",
		"IF IN EYES: Rinse cautiously with water for several minutes. Remove contact lenses, if present and easy to do. Continue rinsing.": "P305+P351+P338",
		"If on skin: Wash with plenty of soap and water.":                                      "P302+P352",
		"IF SWALLOWED: Immediately call a POISON CENTER or doctor/physician.":                  "P301+P310",
		"Dispose of contents/container in accordance with local regulations":                   "P501",
		"In case of fire: Use dry sand, dry chemical or alcohol-resistant foam to extinguish.": "P370+P378",
		"Verursacht schwere Augenschäden.":                                                     "H318",
		"Kann allergische Hautreaktionen verursachen":                                          "H317",
		"Verursacht schwere Ver\u00e4tzungen der Haut und schwere Augensch\u00e4den":           "H314",
		"Kann die Organe schädigen (Leber) bei längerer oder wiederholter Exposition":          "H373",
		"Peut provoquer une allergie cutanée.":                                                 "H317",
		"Provoque une sévère irritation des yeux":                                              "H319",
		"Liquide et vapeurs très inflammables.":                                                "H225",
		"Puede provocar una reacción alérgica en la piel":                                      "H317",
		"Provoca irritación ocular grave.":                                                     "H319",
		"Contains epoxy constituents. May produce an allergic reaction.":                       "EUH205",
		"Contains 2-octyl-2H-isothiazol-3-one. May produce an allergic reaction.":              "EUH208",
		"May form combustible dust concentrations in air":                                      "combustible-dust",
	} {
		if got := codesFound(text, ""); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// Sentences that resemble a statement and are none (our own sentences; the first words of some are those of statements).
func TestFindPhraseFalsePositives(t *testing.T) {
	for _, text := range []string{
		"Non-flammable gas", "Not toxic if swallowed.", "This product does not cause skin irritation in tests on rabbits.",
		"Flammable liquid", "Store in original container", "Causes", "Skin irritation", "Serious eye damage/eye irritation",
		"Harmful", "The gas is not an extremely flammable gas", "Aspiration hazard", "May cause", "Respiratory sensitisation",
		"No known significant effects or critical hazards.", "Eye contact may cause redness and pain",
		"Wear suitable gloves tested to EN 374", "Wash hands before breaks and after work", "Keep container in a dry place",
		"Specific target organ toxicity - repeated exposure", "Hazardous to the aquatic environment", "explosive limits",
		"Explosive Sensitivity to Static Discharge: No", "Health Hazards: May cause skin and eye irritation.", "Fire crews should wear eye protection.",
		"If inhaled, bring into fresh air", "If swallowed, call a physician",
		"Reproductive toxicity: based on available data, the classification criteria are not met.",
		"Rinse with plenty of water for at least 15 minutes", "Not classified as toxic to aquatic organisms", "Vapours may form explosive mixtures with air",
	} {
		if got := codesFound(text, ""); got != "" {
			t.Errorf("%q is read as %s", text, got)
		}
	}
}

func TestParseCodes(t *testing.T) {
	for text, want := range map[string]string{
		"H317":                       "H317",
		"H 317 May cause":            "H317",
		"H3l7":                       "H317",
		"P305 + P351+P338":           "P305+P351+P338",
		"P305+351+338":               "P305+P351+P338",
		"H302-312-319":               "H302 H312 H319",
		"H302/312":                   "H302 H312",
		"H360FD":                     "H360FD",
		"H361fd, H350i":              "H361fd H350i",
		"EUH 066":                    "EUH066",
		"EUHO66":                     "EUH066",
		"EUH-208":                    "EUH208",
		"EUH201A":                    "EUH201A",
		"H302 + H312 + H332 Harmful": "H302+H312+H332",
		"Skin Irrit. 2, H315; Eye Irrit. 2, H319; Skin Sens. 1, H317": "H315 H319 H317",
		"H399 does not exist": "H399",
		"Room 317, pH 310, PH3000, CH317, H2O, P100 filter, phase 300": "P100",
		"PAH 350 ppm; H 100":     "",
		"P210: Keep away - P233": "P210 P233",
	} {
		var got []string
		for _, h := range ParseCodes(text) {
			got = append(got, string(h.Code))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	hits := ParseCodes("see H302+H312, P280")
	if len(hits) != 2 || hits[0].Start != 4 || hits[0].End != 13 || hits[1].Start != 15 || hits[1].End != 19 {
		t.Errorf("places: %v", hits)
	}
	for s, want := range map[string]Code{"H 317": "H317", "P305 + P351+P338": "P305+P351+P338", "EUH O66.": "EUH066"} {
		if got, ok := NormaliseCode(s); !ok || got != want {
			t.Errorf("%q: %q %v", s, got, ok)
		}
	}
	for _, s := range []string{"H399", "H302-312", "H315 Causes", ""} {
		if got, ok := NormaliseCode(s); ok {
			t.Errorf("%q is %q", s, got)
		}
	}
}

// misread turns some letters into those that readers of pictures confuse them with, and loses some blanks, by a fixed
// sequence of pseudo-random numbers.
func misread(text string, share float64, seed *uint32) string {
	confused := map[byte]string{'l': "1", 'i': "l", 'o': "0", 'm': "rn", 's': "5", 'e': "c", 'a': "o", 't': "f", 'g': "q", 'h': "b", 'u': "v", ' ': ""}
	var b strings.Builder
	for i := range len(text) {
		*seed = *seed*1664525 + 1013904223
		if wrong, ok := confused[text[i]]; ok && float64(*seed>>8)/(1<<24) < share {
			b.WriteString(wrong)
			continue
		}
		b.WriteByte(text[i])
	}
	return b.String()
}

// Statements in pictures of text are still told when one letter in fifty is misread, and hardly ever taken for another.
// The shares are what this recogniser reached when it was written; they must not fall.
func TestFindPhraseMisread(t *testing.T) {
	seed := uint32(1)
	total, right, wrong := 0, 0, 0
	for range 20 {
		for _, s := range AllStatements() {
			if s.Kind != HazardStatement {
				continue
			}
			text, _ := Phrase(s.Code, English)
			got := codesFound(misread(text, 0.02, &seed), English)
			total++
			switch {
			case got == string(s.Code):
				right++
			case got != "" && !sameWording(got, s.Code, English):
				wrong++
			}
		}
	}
	t.Logf("%d statements with 2 %% of the letters misread: %d found, %d taken for another", total, right, wrong)
	if float64(right) < 0.985*float64(total) || float64(wrong) > 0.003*float64(total) {
		t.Errorf("of %d statements %d are found and %d taken for another", total, right, wrong)
	}
}

var sheetLines = strings.Split(strings.Repeat(`SECTION 2: Hazards identification
Skin Irrit. 2 H315 Causes skin irritation.
Eye Irrit. 2 H319 Causes serious eye irritation.
Skin Sens. 1 H317 May cause an allergic skin reaction.
P280 Wear protective gloves/protective clothing/eye protection/face protection.
Advice on safe handling: ensure good ventilation of the work place and avoid contact with skin and eyes.
Use personal protective equipment as required. Wash hands before breaks and at the end of work.
The product has not been tested. The statements on toxicology have been derived from the components.
Flash point > 100 °C (closed cup), density 1.12 g/cm3 at 20 °C, viscosity 900 mPa·s
Bisphenol A diglycidyl ether 1675-54-3 216-823-5 50 - 75 % Skin Irrit. 2 H315
`, 60), "\n")

func BenchmarkFindPhraseSheet(b *testing.B) {
	for b.Loop() {
		for _, line := range sheetLines {
			FindPhrase(line, English)
		}
	}
	b.ReportMetric(float64(len(sheetLines)), "lines/op")
}

// A long text of nothing but statements must not take time by the square of its length.
func BenchmarkFindPhraseLong(b *testing.B) {
	text := strings.Repeat("H315 Causes skin irritation. ", 4000)
	for b.Loop() {
		FindPhrase(text, English)
	}
}

// A statement is found whatever sentence stands before it, even one that ends with the letter that it begins with:
// "…cutanée. Explosif…" (the pieces of a word that are compared fold doubled letters).
func TestPhraseAfterAnySentence(t *testing.T) {
	before := map[Lang][]string{
		English: {"Danger\n", "Resin and hardener. ", "Causes skin irritation. ", "Peroxides: ", "Set on quay. "},
		French:  {"Danger\n", "Attention\n", "Provoque une irritation cutanée. ", "Peut irriter les voies respiratoires. ", "Nocif par inhalation. "},
		German:  {"Achtung\n", "Gefahr\n", "Verursacht Hautreizungen. ", "Kann die Atemwege reizen. "},
		Spanish: {"Peligro\n", "Atención\n", "Provoca irritación cutánea. ", "Puede irritar las vías respiratorias. ", "Mantener cerrado. "},
	}
	for _, l := range Langs() {
		for _, s := range AllStatements() {
			phrase := statements().phrases[l][s.Code].text
			if phrase == "" || strings.ContainsAny(phrase, "…{[") {
				continue
			}
			has := func(text string) bool {
				return slices.ContainsFunc(FindPhrase(text, l), func(m PhraseMatch) bool { return m.Code == s.Code })
			}
			if !has(phrase) {
				continue // only the beginning of combinations, or worded as another is
			}
			for _, b := range before[l] {
				if !has(b + phrase) {
					t.Errorf("%s: %s is not found in %q", l, s.Code, b+phrase)
				}
			}
		}
	}
}
