package invent

import (
	"slices"
	"strings"

	"sixteen/demo/sheetprint"
	"sixteen/ghs"
)

// element is what the label of a hazard carries: statement, pictogram, signal word, and the precautionary statements
// that the invented suppliers print for it (a selection, as labels carry).
type element struct {
	hazard string // start of the hazard's short name
	route  string // of acute toxicity and single exposure, "" for all
	code   ghs.Code
	pict   ghs.Pictogram
	danger bool
	silent bool // no signal word
	p      string
}

// elements follows GHS annex 3 (class-to-label table; from memory where the copies read do not show it).
var elements = []element{
	{"Flam. Liq. 1", "", "H224", ghs.Flame, true, false, "P210 P233 P240 P370+P378 P403+P235"},
	{"Flam. Liq. 2", "", "H225", ghs.Flame, true, false, "P210 P233 P240 P370+P378 P403+P235"},
	{"Flam. Liq. 3", "", "H226", ghs.Flame, false, false, "P210 P233 P370+P378 P403+P235"},
	{"Flam. Liq. 4", "", "H227", ghs.NoPictogram, false, false, "P210 P370+P378"},
	{"Org. Perox. D", "", "H242", ghs.Flame, true, false, "P210 P220 P234 P280 P410 P420"},
	{"Met. Corr. 1", "", "H290", ghs.Corrosion, false, false, "P234 P390"},
	{"Acute Tox. 1", "oral", "H300", ghs.SkullCrossbones, true, false, "P264 P270 P301+P310 P330"},
	{"Acute Tox. 2", "oral", "H300", ghs.SkullCrossbones, true, false, "P264 P270 P301+P310 P330"},
	{"Acute Tox. 3", "oral", "H301", ghs.SkullCrossbones, true, false, "P264 P270 P301+P310 P330"},
	{"Acute Tox. 4", "oral", "H302", ghs.ExclamationMark, false, false, "P264 P270 P301+P312 P330"},
	{"Acute Tox. 1", "dermal", "H310", ghs.SkullCrossbones, true, false, "P280 P302+P352 P310"},
	{"Acute Tox. 2", "dermal", "H310", ghs.SkullCrossbones, true, false, "P280 P302+P352 P310"},
	{"Acute Tox. 3", "dermal", "H311", ghs.SkullCrossbones, true, false, "P280 P302+P352 P312"},
	{"Acute Tox. 4", "dermal", "H312", ghs.ExclamationMark, false, false, "P280 P302+P352 P312"},
	{"Acute Tox. 1", "inhalation", "H330", ghs.SkullCrossbones, true, false, "P260 P271 P284 P304+P340 P310"},
	{"Acute Tox. 2", "inhalation", "H330", ghs.SkullCrossbones, true, false, "P260 P271 P284 P304+P340 P310"},
	{"Acute Tox. 3", "inhalation", "H331", ghs.SkullCrossbones, true, false, "P261 P271 P304+P340 P311"},
	{"Acute Tox. 4", "inhalation", "H332", ghs.ExclamationMark, false, false, "P261 P271 P304+P340 P312"},
	{"Skin Corr. 1", "", "H314", ghs.Corrosion, true, false, "P260 P264 P280 P301+P330+P331 P303+P361+P353 P305+P351+P338 P310"},
	{"Skin Irrit. 2", "", "H315", ghs.ExclamationMark, false, false, "P264 P280 P302+P352 P332+P313"},
	{"Eye Dam. 1", "", "H318", ghs.Corrosion, true, false, "P280 P305+P351+P338 P310"},
	{"Eye Irrit. 2", "", "H319", ghs.ExclamationMark, false, false, "P264 P280 P305+P351+P338 P337+P313"},
	{"Resp. Sens. 1", "", "H334", ghs.HealthHazard, true, false, "P261 P284 P304+P340 P342+P311"},
	{"Skin Sens. 1", "", "H317", ghs.ExclamationMark, false, false, "P261 P272 P280 P302+P352 P333+P313"},
	{"Muta. 1", "", "H340", ghs.HealthHazard, true, false, "P201 P202 P280 P308+P313 P405"},
	{"Muta. 2", "", "H341", ghs.HealthHazard, false, false, "P201 P202 P280 P308+P313 P405"},
	{"Carc. 1", "", "H350", ghs.HealthHazard, true, false, "P201 P202 P280 P308+P313 P405"},
	{"Carc. 2", "", "H351", ghs.HealthHazard, false, false, "P201 P202 P280 P308+P313 P405"},
	{"Repr. 1", "", "H360", ghs.HealthHazard, true, false, "P201 P202 P280 P308+P313 P405"},
	{"Repr. 2", "", "H361", ghs.HealthHazard, false, false, "P201 P202 P280 P308+P313 P405"},
	{"STOT SE 1", "", "H370", ghs.HealthHazard, true, false, "P260 P264 P308+P311"},
	{"STOT SE 2", "", "H371", ghs.HealthHazard, false, false, "P260 P264 P308+P311"},
	{"STOT SE 3", "respiratory", "H335", ghs.ExclamationMark, false, false, "P261 P271 P304+P340 P312"},
	{"STOT SE 3", "narcotic", "H336", ghs.ExclamationMark, false, false, "P261 P271 P304+P340 P312"},
	{"STOT RE 1", "", "H372", ghs.HealthHazard, true, false, "P260 P264 P314"},
	{"STOT RE 2", "", "H373", ghs.HealthHazard, false, false, "P260 P314"},
	{"Asp. Tox. 1", "", "H304", ghs.HealthHazard, true, false, "P301+P310 P331 P405"},
	{"Aquatic Acute 1", "", "H400", ghs.Environment, false, false, "P273 P391"},
	{"Aquatic Chronic 1", "", "H410", ghs.Environment, false, false, "P273 P391"},
	{"Aquatic Chronic 2", "", "H411", ghs.Environment, false, true, "P273 P391"},
	{"Aquatic Chronic 3", "", "H412", ghs.NoPictogram, false, true, "P273"},
	{"Aquatic Chronic 4", "", "H413", ghs.NoPictogram, false, true, "P273"},
}

// elementOf finds the label element of a hazard by its name and route.
func elementOf(name, route string) (element, bool) {
	if route == "gas" || route == "vapour" || route == "dust" {
		route = "inhalation"
	}
	for _, e := range elements {
		if strings.HasPrefix(name, e.hazard) && (e.route == "" || e.route == route) {
			return e, true
		}
	}
	return element{}, false
}

// shortName is class and category without route or effect: "Acute Tox. 4".
func shortName(h ghs.Hazard) string {
	return strings.TrimSuffix(h.String(), " "+h.Qualifier().String())
}

// classOf is a hazard as a sheet states it.
func classOf(h ghs.Hazard) (sheetprint.Class, bool) {
	name, route := shortName(h), ""
	switch h.Qualifier() {
	case ghs.Oral:
		route = "oral"
	case ghs.Dermal:
		route = "dermal"
	case ghs.InhalationGas:
		route = "gas"
	case ghs.InhalationVapour:
		route = "vapour"
	case ghs.InhalationDust:
		route = "dust"
	case ghs.Narcotic:
		route = "narcotic"
	case ghs.Respiratory:
		route = "respiratory"
	}
	e, ok := elementOf(name, route)
	if !ok {
		return sheetprint.Class{}, false
	}
	return sheetprint.Class{Name: name, Route: route, Code: e.code}, true
}

// label fills statements, pictograms, signal word and precautions from the classes, with the precedence of the standard.
func label(s *sheetprint.Spec) {
	s.Statements, s.Pictograms, s.Precautions, s.SignalWord = nil, nil, nil, ""
	has := func(code ghs.Code) bool {
		return slices.ContainsFunc(s.Classes, func(k sheetprint.Class) bool { return k.Code == code })
	}
	for _, k := range s.Classes {
		e, ok := elementOf(k.Name, k.Route)
		if !ok {
			continue
		}
		covered := k.Code == "H318" && has("H314") && s.Rules != ghs.USHCS2012 && s.Rules != ghs.USHCS2024 // no US clause drops it
		if covered || (k.Code == "H400" && has("H410")) {
			continue
		}
		if !slices.Contains(s.Statements, k.Code) {
			s.Statements = append(s.Statements, k.Code)
		}
		if e.pict != ghs.NoPictogram && !slices.Contains(s.Pictograms, e.pict) {
			s.Pictograms = append(s.Pictograms, e.pict)
		}
		switch {
		case e.danger:
			s.SignalWord = "Danger"
		case s.SignalWord == "" && !e.silent:
			s.SignalWord = "Warning"
		}
		for _, p := range strings.Fields(e.p) {
			if !slices.Contains(s.Precautions, ghs.Code(p)) {
				s.Precautions = append(s.Precautions, ghs.Code(p))
			}
		}
	}
	if len(s.Classes) > 0 {
		s.Precautions = append(s.Precautions, "P501")
	}
	slices.Sort(s.Statements)
	slices.Sort(s.Precautions)
	slices.Sort(s.Pictograms)
	s.Pictograms = withoutExclamation(*s)
}

// withoutExclamation drops the exclamation mark where a graver symbol speaks for every hazard that asks for it.
func withoutExclamation(s sheetprint.Spec) []ghs.Pictogram {
	skull, corrosion := slices.Contains(s.Pictograms, ghs.SkullCrossbones), slices.Contains(s.Pictograms, ghs.Corrosion)
	asthma := slices.Contains(s.Statements, "H334")
	europe := s.Rules == ghs.EUCLP || s.Rules == ghs.GBCLP || s.Rules == ghs.UNGHS
	needed := false
	for _, k := range s.Classes {
		switch k.Code {
		case "H302", "H312", "H332":
			needed = needed || !skull
		case "H315", "H319":
			needed = needed || !(corrosion && slices.ContainsFunc(s.Classes, func(c sheetprint.Class) bool { return c.Code == "H314" || c.Code == "H318" })) && !asthma && !(europe && skull)
		case "H317":
			needed = needed || !asthma && !(europe && skull)
		case "H335", "H336":
			needed = needed || !(europe && skull)
		}
	}
	if needed {
		return s.Pictograms
	}
	return slices.DeleteFunc(slices.Clone(s.Pictograms), func(p ghs.Pictogram) bool { return p == ghs.ExclamationMark })
}
