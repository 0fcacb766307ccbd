package classify_test

import (
	"fmt"
	"strings"
	"testing"

	"sixteen/classify"
	"sixteen/ghs"
	"sixteen/sheet"
)

// part is one ingredient of a test mixture: "5 Skin Corr. 1B, Skin Sens. 1" is 5 % of an ingredient of both classes.
// Words that are no hazard are options: "not toxic", "unknown oral", "oral=500", "M=10", "MC=1", "scl Skin Irrit. 2>=5",
// "prop ph=1".
func part(t testing.TB, s string) classify.Ingredient {
	t.Helper()
	head, rest, _ := strings.Cut(s, " ")
	var share float64
	if _, err := fmt.Sscanf(head, "%g", &share); err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	in := classify.Ingredient{Name: rest, Percent: sheet.Exactly(share), Properties: map[string]float64{}}
	for _, w := range strings.Split(rest, ", ") {
		option(t, &in, w)
	}
	return in
}

func option(t testing.TB, in *classify.Ingredient, w string) {
	t.Helper()
	routes := map[string]ghs.Qualifier{"oral": ghs.Oral, "dermal": ghs.Dermal, "gas": ghs.InhalationGas, "vapour": ghs.InhalationVapour, "dust": ghs.InhalationDust}
	key, value, has := strings.Cut(w, "=")
	var v float64
	if has {
		fmt.Sscanf(value, "%g", &v)
	}
	switch {
	case w == "" || w == "inert":
	case w == "not toxic":
		for _, q := range routes {
			in.ATE[q] = classify.ATE{Status: classify.ATENotToxic}
		}
	case strings.HasPrefix(w, "unknown "):
		in.ATE[routes[w[8:]]] = classify.ATE{Status: classify.ATEUnknown}
	case strings.HasPrefix(w, "scl "):
		name, lo, _ := strings.Cut(w[4:], ">=")
		from, to, ranged := strings.Cut(lo, "<")
		l := classify.SpecificLimit{Hazard: hazard(t, name), Percent: sheet.Interval{HasLo: true}}
		fmt.Sscanf(from, "%g", &l.Percent.Lo)
		if ranged {
			l.Percent.HasHi, l.Percent.HiOpen = true, true
			fmt.Sscanf(to, "%g", &l.Percent.Hi)
		}
		in.Limits = append(in.Limits, l)
	case strings.HasPrefix(w, "prop "):
		in.Properties[key[5:]] = v
	case strings.HasPrefix(w, "EUH"):
		in.Statements = append(in.Statements, ghs.Code(w))
	case key == "M":
		in.MAcute = v
	case key == "MC":
		in.MChronic = v
	case key == "oxygen":
		in.ActiveOxygenPct = v
	case key == "cas":
		in.CAS = value
	case has && routes[key] != ghs.NoQualifier:
		in.ATE[routes[key]] = classify.ATE{Status: classify.ATEValue, Value: v}
	default:
		in.Hazards.Add(hazard(t, w))
	}
}

func hazard(t testing.TB, name string) ghs.Hazard {
	t.Helper()
	for _, h := range ghs.AllHazards() {
		if h.String() == name {
			return h
		}
	}
	t.Fatalf("no hazard is called %q", name)
	return 0
}

// mix builds a complete mixture from parts separated by " / ". Parts that begin with "@" say something of the mixture:
// "@form gas", "@ph 2", "@flash 22.9", "@boil 80", "@visc 20.5", "@use paint", "@public", "@no reserve",
// "@does not sustain", "@no flash point", "@tested Skin Irrit. 2", "@tested not Skin Corr. 1", "@tested oral 300".
func mix(t testing.TB, s string) classify.Mixture {
	t.Helper()
	m := classify.Mixture{Name: "test", Complete: true}
	for _, p := range strings.Split(s, " / ") {
		if words, ok := strings.CutPrefix(p, "@"); ok {
			fact(t, &m, words)
		} else if p != "" {
			m.Ingredients = append(m.Ingredients, part(t, p))
		}
	}
	return m
}

func fact(t testing.TB, m *classify.Mixture, words string) {
	t.Helper()
	key, value, _ := strings.Cut(words, " ")
	var v float64
	fmt.Sscanf(value, "%g", &v)
	switch key {
	case "form":
		f, err := classify.ParseForm(value)
		if err != nil {
			t.Fatal(err)
		}
		m.Form = f
	case "ph":
		m.Tested.PH = &v
	case "flash":
		m.Tested.FlashPointC = &v
	case "boil":
		m.Tested.BoilingPointC = &v
	case "visc":
		m.Tested.Viscosity40MM2S = &v
	case "use":
		m.Use = append(m.Use, classify.Use(value))
	case "public":
		m.ForPublic = true
	case "incomplete":
		m.Complete = false
	case "no":
		m.Tested.NoFlashPoint = value == "flash point"
		if value == "reserve" {
			m.Tested.BufferReserveHigh = new(bool)
		}
	case "does":
		m.Tested.Sustains = new(bool)
	case "tested":
		testedFact(t, m, value)
	default:
		t.Fatalf("nothing is called @%s", words)
	}
}

func testedFact(t testing.TB, m *classify.Mixture, value string) {
	t.Helper()
	if name, ok := strings.CutPrefix(value, "not "); ok {
		m.Tested.NotHazards.Add(hazard(t, name))
		return
	}
	var route string
	var v float64
	if n, _ := fmt.Sscanf(value, "%s %g", &route, &v); n == 2 {
		var q ghs.Qualifier
		if q.UnmarshalText([]byte(route)) == nil {
			m.Tested.ATE[q] = &v
			return
		}
	}
	m.Tested.Hazards.Add(hazard(t, value))
}

// classes classifies and lists the classes, separated by ", ".
func classes(t testing.TB, m classify.Mixture, rs ghs.RuleSet) string {
	t.Helper()
	c := classification(t, m, rs)
	var names []string
	for _, h := range c.Hazards.All() {
		names = append(names, h.String())
	}
	return strings.Join(names, ", ")
}

func classification(t testing.TB, m classify.Mixture, rs ghs.RuleSet) classify.Classification {
	t.Helper()
	c, err := classify.Classify(m, rs)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
