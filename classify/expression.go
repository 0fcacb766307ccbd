package classify

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"sixteen/ghs"
)

// piece is one summand of a row's input: "10M Aquatic Chronic 1 | Aquatic Acute 1" or "[lead_pct]".
type piece struct {
	weight   float64
	timesM   bool
	hazards  ghs.HazardSet
	property string // the weight is this property over 100
	words    string
}

// parseSum reads "10 Skin Corr. * | Eye Dam. 1 + Eye Irrit. *".
func parseSum(input string) ([]piece, error) {
	var pieces []piece
	for _, s := range strings.Split(input, " + ") {
		p, err := parsePiece(strings.TrimSpace(s))
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, p)
	}
	return pieces, nil
}

func parsePiece(s string) (piece, error) {
	p := piece{weight: 1, words: s}
	if name, ok := strings.CutPrefix(s, "["); ok {
		p.property = strings.TrimSuffix(name, "]")
		p.words = strings.TrimSuffix(p.property, "_pct")
		return p, nil
	}
	if head, rest, ok := strings.Cut(s, " "); ok {
		digits := strings.TrimSuffix(head, "M")
		if v, err := strconv.ParseFloat(digits, 64); err == nil || digits == "" {
			p.timesM = strings.HasSuffix(head, "M")
			if err == nil {
				p.weight = v
			}
			s = rest
		}
	}
	p.words = s
	for _, name := range strings.Split(s, " | ") {
		set, err := hazardGroup(strings.TrimSpace(name))
		if err != nil {
			return p, err
		}
		p.hazards = p.hazards.Union(set)
	}
	return p, nil
}

// hazardGroup reads one name of a row: a hazard, all categories of a class ("Skin Corr. *"), a group of classes, or "*"
// for every ingredient whatever its hazards (an empty set).
func hazardGroup(name string) (ghs.HazardSet, error) {
	groups := hazardGroups()
	if set, ok := groups[name]; ok {
		return set, nil
	}
	return ghs.HazardSet{}, fmt.Errorf("no hazard or group is called %q", name)
}

// hazardGroups maps every name that rows use to its hazards.
var hazardGroups = sync.OnceValue(func() map[string]ghs.HazardSet {
	groups := map[string]ghs.HazardSet{"*": {}}
	add := func(name string, h ghs.Hazard) {
		s := groups[name]
		s.Add(h)
		groups[name] = s
	}
	for _, h := range ghs.AllHazards() {
		add(h.String(), h)
		if short, _, ok := strings.Cut(h.String(), " "+h.Category()); ok && h.Category() != "" {
			add(short+" *", h)
		}
		switch h.Class().Group() {
		case ghs.HealthGroup, ghs.EnvironmentGroup:
			add("health or environment", h)
		}
		if strings.HasPrefix(h.String(), "Flam. ") {
			add("flammable components", h)
		}
	}
	return groups
})

// hazardNamed is the hazard of a row's result. The names of all rows are checked by TestTablesAreWellFormed.
func hazardNamed(name string) ghs.Hazard {
	set := hazardGroups()[name]
	if set.Len() != 1 {
		panic(fmt.Sprintf("classify: no single hazard is called %q", name))
	}
	return set.All()[0]
}

// truth is a value of three-valued logic: facts about a mixture may be unknown.
type truth uint8

const (
	no truth = iota
	yes
	unknown
)

func truthOf(b bool) truth {
	if b {
		return yes
	}
	return no
}

// ruledWhen is a row's condition on the mixture with its facts filled in.
type ruledWhen struct {
	holds    truth
	facts    []string // in words, those that hold
	needs    []string // in words, those not known
	fails    string   // the first that does not hold, in words
	measured int      // how many measured facts are known to hold
}

// evalWhen reads the conditions of a row against the mixture.
func (m *Mixture) evalWhen(conditions string) ruledWhen {
	w := ruledWhen{holds: yes}
	if conditions == "" {
		return w
	}
	for _, c := range strings.Split(conditions, ";") {
		v, words, measured := m.evalFact(strings.TrimSpace(c))
		switch v {
		case yes:
			if words != "" {
				w.facts = append(w.facts, words)
			}
			if measured {
				w.measured++
			}
		case unknown:
			w.needs = append(w.needs, words)
			if w.holds == yes {
				w.holds = unknown
			}
		case no:
			if w.fails == "" {
				w.fails = words
			}
			w.holds = no
		}
	}
	return w
}

// evalFact judges one condition, such as "flash_point < 23", "form = gas" or "boiling_point > 35?". The question mark
// means: taken to hold when it is not known.
func (m *Mixture) evalFact(c string) (v truth, words string, measured bool) {
	c, presumed := strings.CutSuffix(c, "?")
	f := strings.SplitN(c, " ", 3)
	if len(f) != 3 {
		panic(fmt.Sprintf("classify: condition %q of a rule row is not understood", c))
	}
	subject, op, object := f[0], f[1], f[2]
	switch subject {
	case "form":
		return m.evalForm(op, object, presumed), "form " + signWord(op) + " " + object, false
	case "use":
		for _, u := range m.Use {
			if string(u) == object {
				return yes, "product: " + object, false
			}
		}
		return no, "it is not a " + object, false
	case "tested":
		for _, h := range m.Tested.Hazards.All() {
			if strings.HasPrefix(h.String(), object) {
				return yes, "tested on the mixture: " + h.String(), true
			}
		}
		return no, "not found by test to be " + object, false
	case "public":
		return truthOf(m.ForPublic == (object == "yes")), map[bool]string{true: "sold to the public", false: "not sold to the public"}[m.ForPublic], false
	case "reserve":
		low := m.Tested.BufferReserveHigh != nil && !*m.Tested.BufferReserveHigh
		return truthOf(!low), map[bool]string{true: "tests show that the acid or alkaline reserve is low"}[low], false
	case "sustains":
		none := m.Tested.Sustains != nil && !*m.Tested.Sustains
		return truthOf(!none), map[bool]string{true: "it does not sustain combustion (test L.2)"}[none], false
	}
	return m.evalMeasured(subject, op, object, presumed)
}

func (m *Mixture) evalForm(op, object string, presumed bool) truth {
	if m.Form == FormUnknown {
		switch {
		case presumed || op == "!=":
			return yes
		case object == "gas" || object == "aerosol" || object == "chemical under pressure":
			return no // nobody leaves these out
		}
		return unknown
	}
	is := false
	for _, f := range strings.Split(object, "|") {
		is = is || m.Form.String() == f
	}
	return truthOf(is == (op == "="))
}

// measuredFact names a measured property and its unit.
var measuredFacts = map[string]struct{ words, unit string }{
	"flash_point":   {"flash point", " °C"},
	"boiling_point": {"initial boiling point", " °C"},
	"ph":            {"pH", ""},
	"viscosity":     {"kinematic viscosity at 40 °C", " mm²/s"},
}

func (m *Mixture) evalMeasured(subject, op, object string, presumed bool) (truth, string, bool) {
	about, ok := measuredFacts[subject]
	if !ok {
		panic(fmt.Sprintf("classify: no fact is called %q in rule rows", subject))
	}
	value := map[string]*float64{
		"flash_point": m.Tested.FlashPointC, "boiling_point": m.Tested.BoilingPointC, "ph": m.Tested.PH, "viscosity": m.Tested.Viscosity40MM2S,
	}[subject]
	if object == "none" {
		return truthOf(m.Tested.NoFlashPoint), map[bool]string{true: "no flash point"}[m.Tested.NoFlashPoint], m.Tested.NoFlashPoint
	}
	bound, err := strconv.ParseFloat(object, 64)
	if err != nil {
		panic(fmt.Sprintf("classify: %q in a rule row is not a number", object))
	}
	sign := compareOf(op).String()
	if value == nil && subject == "flash_point" && m.Tested.NoFlashPoint {
		return no, "no flash point was found by test", true
	}
	if value == nil {
		if presumed {
			return yes, fmt.Sprintf("%s not known, taken as %s %s%s", about.words, sign, object, about.unit), false
		}
		return unknown, fmt.Sprintf("%s %s %s%s", about.words, sign, object, about.unit), false
	}
	one := Condition{Cmp: compareOf(op), Bound: bound}
	if one.compare(*value, 0) {
		return yes, fmt.Sprintf("%s %s%s %s %s%s", about.words, number(*value), about.unit, sign, object, about.unit), true
	}
	return no, fmt.Sprintf("%s %s%s is not %s %s%s", about.words, number(*value), about.unit, sign, object, about.unit), true
}

func signWord(op string) string {
	if op == "!=" {
		return "is not"
	}
	return "is"
}
