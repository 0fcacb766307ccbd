package ghs

import (
	"fmt"
	"slices"
	"strings"
)

// Further qualifiers: the kind of a flammable gas of category 1A and the group of a gas under pressure.
const (
	Pyrophoric Qualifier = iota + Respiratory + 1
	UnstableA
	UnstableB
	Compressed
	Liquefied
	Refrigerated
	Dissolved
)

// qualifierNames holds, per qualifier, its name in files and its title in the order of Langs.
var qualifierNames = [...]struct {
	key   string
	title [4]string
}{
	NoQualifier:      {"", [4]string{}},
	Oral:             {"oral", [4]string{"oral", "voie orale", "oral", "oral"}},
	Dermal:           {"dermal", [4]string{"dermal", "voie cutanée", "dermal", "cutánea"}},
	InhalationGas:    {"inhalation_gas", [4]string{"inhalation, gas", "inhalation, gaz", "inhalativ, Gas", "inhalación, gas"}},
	InhalationVapour: {"inhalation_vapour", [4]string{"inhalation, vapour", "inhalation, vapeurs", "inhalativ, Dampf", "inhalación, vapores"}},
	InhalationDust:   {"inhalation_dust", [4]string{"inhalation, dust or mist", "inhalation, poussières ou brouillards", "inhalativ, Staub oder Nebel", "inhalación, polvo o niebla"}},
	Narcotic:         {"narcotic", [4]string{"narcotic effects", "effets narcotiques", "narkotisierende Wirkungen", "efecto narcótico"}},
	Respiratory:      {"respiratory", [4]string{"respiratory tract irritation", "irritation des voies respiratoires", "Atemwegsreizung", "irritación de las vías respiratorias"}},
	Pyrophoric:       {"pyrophoric", [4]string{"pyrophoric gas", "gaz pyrophorique", "pyrophores Gas", "gas pirofórico"}},
	UnstableA:        {"unstable_a", [4]string{"chemically unstable gas A", "gaz chimiquement instable A", "chemisch instabiles Gas A", "gas químicamente inestable A"}},
	UnstableB:        {"unstable_b", [4]string{"chemically unstable gas B", "gaz chimiquement instable B", "chemisch instabiles Gas B", "gas químicamente inestable B"}},
	Compressed:       {"compressed", [4]string{"compressed gas", "gaz comprimé", "verdichtetes Gas", "gas comprimido"}},
	Liquefied:        {"liquefied", [4]string{"liquefied gas", "gaz liquéfié", "verflüssigtes Gas", "gas licuado"}},
	Refrigerated:     {"refrigerated", [4]string{"refrigerated liquefied gas", "gaz liquéfié réfrigéré", "tiefgekühlt verflüssigtes Gas", "gas licuado refrigerado"}},
	Dissolved:        {"dissolved", [4]string{"dissolved gas", "gaz dissous", "gelöstes Gas", "gas disuelto"}},
}

func parseQualifier(s string) (Qualifier, bool) {
	for q, n := range qualifierNames {
		if n.key == s {
			return Qualifier(q), true
		}
	}
	return NoQualifier, false
}

// String is the name in files: "oral", "inhalation_vapour", "narcotic".
func (q Qualifier) String() string {
	if int(q) >= len(qualifierNames) {
		return ""
	}
	return qualifierNames[q].key
}

// Title is the route or effect in words.
func (q Qualifier) Title(l Lang) string {
	if int(q) >= len(qualifierNames) {
		return ""
	}
	return qualifierNames[q].title[langIndex(l)]
}

// MarshalText writes the name in files.
func (q Qualifier) MarshalText() ([]byte, error) { return []byte(q.String()), nil }

// UnmarshalText reads the name in files.
func (q *Qualifier) UnmarshalText(text []byte) error {
	v, ok := parseQualifier(string(text))
	if !ok {
		return fmt.Errorf("no route or effect is called %q: write oral, dermal, inhalation_gas, inhalation_vapour, inhalation_dust, narcotic or respiratory", text)
	}
	*q = v
	return nil
}

// langIndex is the place of l in Langs; a language not carried takes English's place.
func langIndex(l Lang) int { return max(0, slices.Index(Langs(), l)) }

var signalWords = [...]struct {
	key   string
	title [4]string
}{
	NoSignalWord: {"", [4]string{}},
	Warning:      {"Warning", [4]string{"Warning", "Attention", "Achtung", "Atención"}},
	Danger:       {"Danger", [4]string{"Danger", "Danger", "Gefahr", "Peligro"}},
}

// String is the English word, "" for none.
func (s SignalWord) String() string { return s.In(English) }

// In is the word in l.
func (s SignalWord) In(l Lang) string {
	if int(s) >= len(signalWords) {
		return ""
	}
	return signalWords[s].title[langIndex(l)]
}

// ParseSignalWord reads the word in any language carried, whatever its case and the marks around it.
func ParseSignalWord(s string) (SignalWord, bool) {
	s = fold(strings.Trim(s, " \t\r\n!:.*\"'"))
	if s == "" {
		return NoSignalWord, false
	}
	for w, n := range signalWords {
		for _, t := range n.title {
			if t != "" && fold(t) == s {
				return SignalWord(w), true
			}
		}
	}
	return NoSignalWord, false
}

// MarshalText writes the English word, or nothing for none.
func (s SignalWord) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the word in any language carried; the empty text is none.
func (s *SignalWord) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*s = NoSignalWord
		return nil
	}
	v, ok := ParseSignalWord(string(text))
	if !ok {
		return fmt.Errorf("no signal word is %q: write Danger or Warning", text)
	}
	*s = v
	return nil
}

var pictogramNames = [...][4]string{
	NoPictogram:     {},
	ExplodingBomb:   {"Exploding bomb", "Bombe explosant", "Explodierende Bombe", "Bomba explotando"},
	Flame:           {"Flame", "Flamme", "Flamme", "Llama"},
	FlameOverCircle: {"Flame over circle", "Flamme au-dessus d'un cercle", "Flamme über einem Kreis", "Llama sobre un círculo"},
	GasCylinder:     {"Gas cylinder", "Bouteille à gaz", "Gasflasche", "Bombona de gas"},
	Corrosion:       {"Corrosion", "Corrosion", "Ätzwirkung", "Corrosión"},
	SkullCrossbones: {"Skull and crossbones", "Tête de mort sur deux tibias", "Totenkopf mit gekreuzten Knochen", "Calavera y tibias cruzadas"},
	ExclamationMark: {"Exclamation mark", "Point d'exclamation", "Ausrufezeichen", "Signo de exclamación"},
	HealthHazard:    {"Health hazard", "Danger pour la santé", "Gesundheitsgefahr", "Peligro para la salud"},
	Environment:     {"Environment", "Environnement", "Umwelt", "Medio ambiente"},
}

// Pictograms lists the nine.
func Pictograms() []Pictogram {
	return []Pictogram{ExplodingBomb, Flame, FlameOverCircle, GasCylinder, Corrosion, SkullCrossbones, ExclamationMark, HealthHazard, Environment}
}

// String is the pictogram's number in the standard, "GHS05", or "" for none.
func (p Pictogram) String() string {
	if p == NoPictogram || int(p) >= len(pictogramNames) {
		return ""
	}
	return fmt.Sprintf("GHS%02d", uint8(p))
}

// Name is the symbol's name in l.
func (p Pictogram) Name(l Lang) string {
	if int(p) >= len(pictogramNames) {
		return ""
	}
	return pictogramNames[p][langIndex(l)]
}

// ParsePictogram reads a number ("GHS05", "GHS 5", "ghs-05") or a symbol's name in any language carried.
func ParsePictogram(s string) (Pictogram, bool) {
	t := fold(s)
	compact := strings.NewReplacer(" ", "", "-", "", "_", "").Replace(t)
	if n, ok := strings.CutPrefix(compact, "ghs"); ok {
		n = strings.TrimPrefix(n, "0")
		if len(n) == 1 && n[0] >= '1' && n[0] <= '9' {
			return Pictogram(n[0] - '0'), true
		}
	}
	for _, p := range Pictograms() {
		for _, l := range Langs() {
			if fold(p.Name(l)) == t {
				return p, true
			}
		}
	}
	if p, ok := pictogramAliases[t]; ok {
		return p, true
	}
	return NoPictogram, false
}

// pictogramAliases are names that sheets print for the symbols beside the standard's own (common practice).
var pictogramAliases = map[string]Pictogram{
	"bomb": ExplodingBomb, "explosive": ExplodingBomb, "exploding bomb symbol": ExplodingBomb,
	"flames": Flame, "flammable": Flame, "fire": Flame,
	"oxidizer": FlameOverCircle, "oxidiser": FlameOverCircle, "oxidizing": FlameOverCircle, "oxidising": FlameOverCircle,
	"gas under pressure": GasCylinder, "compressed gas": GasCylinder, "gas bottle": GasCylinder, "cylinder": GasCylinder,
	"corrosive": Corrosion,
	"skull":     SkullCrossbones, "skull and cross bones": SkullCrossbones, "skull & crossbones": SkullCrossbones, "toxic": SkullCrossbones,
	"exclamation": ExclamationMark, "exclamation point": ExclamationMark, "irritant": ExclamationMark,
	"health": HealthHazard, "serious health hazard": HealthHazard, "chronic health hazard": HealthHazard, "silhouette": HealthHazard,
	"environmental hazard": Environment, "dead tree and fish": Environment, "dangerous for the environment": Environment, "aquatic toxicity": Environment,
}

// MarshalText writes the number.
func (p Pictogram) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads a number or name; the empty text is none.
func (p *Pictogram) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*p = NoPictogram
		return nil
	}
	v, ok := ParsePictogram(string(text))
	if !ok {
		return fmt.Errorf("no pictogram is called %q: write GHS01 to GHS09", text)
	}
	*p = v
	return nil
}
