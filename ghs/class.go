package ghs

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// Group is the kind of harm a class stands for.
type Group string

// Groups.
const (
	PhysicalGroup    Group = "physical"
	HealthGroup      Group = "health"
	EnvironmentGroup Group = "environment"
)

func (h Hazard) row() hazardRow {
	if int(h) >= len(words.hazards) {
		return hazardRow{}
	}
	return words.hazards[h]
}

// AllHazards lists every hazard of the table, in its order.
func AllHazards() []Hazard {
	all := make([]Hazard, 0, len(words.hazards)-1)
	for i := range words.hazards[1:] {
		all = append(all, Hazard(i+1))
	}
	return all
}

// Class is the hazard's class.
func (h Hazard) Class() Class { return h.row().class }

// Category is the category, type, division or group within the class, "1B", "A", "1.4", or "" where the class has none.
func (h Hazard) Category() string { return h.row().category }

// Qualifier is the route or effect, or NoQualifier.
func (h Hazard) Qualifier() Qualifier { return h.row().qualifier }

// String is the short name: "Skin Corr. 1B", "Acute Tox. 4 inhalation_vapour", "STOT SE 3 narcotic". It is the name
// used in JSON and in files, and does not change between versions.
func (h Hazard) String() string { return h.row().name }

// Severer tells whether h is a severer category than other of the same class, and both of the same route or effect
// where both have one. An undivided category 1 ranks with 1B (below 1A, above 1C), an undivided 2 with 2A: neither is
// severer than the other.
func (h Hazard) Severer(other Hazard) bool {
	a, b := h.row(), other.row()
	if a.class == NoClass || a.class != b.class {
		return false
	}
	if a.qualifier != b.qualifier && a.qualifier != NoQualifier && b.qualifier != NoQualifier {
		return false
	}
	return a.rank < b.rank
}

// categoryWord is the word that goes before the category in a title, by kind of category.
var categoryWord = map[string]map[Lang]string{
	"":         {English: "category", French: "catégorie", German: "Kategorie", Spanish: "categoría"},
	"type":     {English: "type", French: "type", German: "Typ", Spanish: "tipo"},
	"division": {English: "division", French: "division", German: "Unterklasse", Spanish: "división"},
}

func categoryKind(r hazardRow) string {
	switch {
	case r.part == "self_react" || r.part == "org_perox":
		return "type"
	case r.part == "expl" && strings.Contains(r.category, "."):
		return "division"
	}
	return ""
}

// Title is the hazard's name in plain words: "Skin corrosion, category 1B", "Acute toxicity (oral), category 4". A
// language the tables do not carry gives the English title; the zero Hazard gives "".
func (h Hazard) Title(l Lang) string {
	r := h.row()
	if r.class == NoClass {
		return ""
	}
	if !slices.Contains(Langs(), l) {
		l = English
	}
	t := words.parts[r.part].title[l]
	if r.qualifier != NoQualifier {
		t += " (" + r.qualifier.Title(l) + ")"
	}
	if r.category != "" {
		t += ", " + categoryWord[categoryKind(r)][l] + " " + r.category
	}
	return t
}

// MarshalText writes the short name; the zero Hazard is the empty text.
func (h Hazard) MarshalText() ([]byte, error) { return []byte(h.String()), nil }

// UnmarshalText reads a name as ParseHazard does. The empty text is the zero Hazard.
func (h *Hazard) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*h = NoHazard
		return nil
	}
	v, ok := ParseHazard(string(text))
	if !ok {
		return fmt.Errorf("no hazard is called %q: write class and category as in %q or %q", text, SkinCorr1B, AcuteTox4Oral)
	}
	*h = v
	return nil
}

// MarshalJSON writes the set as a list of short names.
func (s HazardSet) MarshalJSON() ([]byte, error) { return json.Marshal(s.All()) }

// UnmarshalJSON reads a list of names.
func (s *HazardSet) UnmarshalJSON(data []byte) error {
	var list []Hazard
	if err := json.Unmarshal(data, &list); err != nil {
		return err
	}
	*s = SetOf(list...)
	return nil
}

// String lists the short names, separated by "; ".
func (s HazardSet) String() string {
	names := make([]string, 0, s.Len())
	for _, h := range s.All() {
		names = append(names, h.String())
	}
	return strings.Join(names, "; ")
}

func (c Class) row() classRow {
	if int(c) >= len(words.classes) {
		return classRow{}
	}
	return words.classes[c]
}

// AllClasses lists every class of the table.
func AllClasses() []Class {
	all := make([]Class, 0, len(words.classes)-1)
	for i := range words.classes[1:] {
		all = append(all, Class(i+1))
	}
	return all
}

// String is the class's English name: "Skin corrosion/irritation".
func (c Class) String() string { return c.row().title[English] }

// Title is the class's name in l, or in English when the tables do not carry l.
func (c Class) Title(l Lang) string {
	if t, ok := c.row().title[l]; ok {
		return t
	}
	return c.String()
}

// Short is the class's short name: "Skin Corr./Irrit.", "Acute Tox.".
func (c Class) Short() string { return c.row().short }

// Group tells whether the class is a physical, health or environmental hazard.
func (c Class) Group() Group { return c.row().group }

// Hazards lists the hazards of the class in table order.
func (c Class) Hazards() []Hazard {
	var out []Hazard
	for i, r := range words.hazards {
		if i > 0 && r.class == c {
			out = append(out, Hazard(i))
		}
	}
	return out
}

// MarshalText writes the short name.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.Short()), nil }

// UnmarshalText reads a class's short or long name.
func (c *Class) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*c = NoClass
		return nil
	}
	v, ok := ParseClass(string(text))
	if !ok {
		return fmt.Errorf("no hazard class is called %q: write a class as in %q or %q", text, SkinCorrosion.Short(), SkinCorrosion)
	}
	*c = v
	return nil
}
