package sheet

import (
	"fmt"
	"strconv"
	"strings"
)

// Properties lists the physical properties in the order of section 9.
func Properties() []Property {
	return []Property{MeltingPoint, BoilingPoint, FlashPoint, AutoIgnition, Decomposition, LowerFlammable, UpperFlammable, PH, KinematicViscosity, DynamicViscosity,
		WaterSolubility, LogKow, VapourPressure, Density, VapourDensity, EvaporationRate, VOC, SolidsContent}
}

// propertyNames are titles and normalised units.
var propertyNames = map[Property][2]string{
	FlashPoint: {"Flash point", "°C"}, BoilingPoint: {"Boiling point", "°C"}, MeltingPoint: {"Melting point", "°C"}, AutoIgnition: {"Auto-ignition temperature", "°C"},
	Decomposition: {"Decomposition temperature", "°C"}, LowerFlammable: {"Lower flammable limit", "% vol"}, UpperFlammable: {"Upper flammable limit", "% vol"},
	VapourPressure: {"Vapour pressure", "Pa"}, VapourDensity: {"Vapour density (air = 1)", "1"}, Density: {"Density", "kg/m3"}, PH: {"pH", "1"},
	KinematicViscosity: {"Kinematic viscosity", "mm2/s"}, DynamicViscosity: {"Dynamic viscosity", "mPa·s"}, VOC: {"Volatile organic compounds", "g/l"},
	LogKow: {"log Kow", "1"}, EvaporationRate: {"Evaporation rate", "1"}, WaterSolubility: {"Solubility in water", "g/l"}, SolidsContent: {"Solids content", "%"},
}

// Title is the property's name for a person.
func (p Property) Title() string {
	if n, ok := propertyNames[p]; ok {
		return n[0]
	}
	return string(p)
}

// Unit is the unit the property's quantities are normalised to.
func (p Property) Unit() string { return propertyNames[p][1] }

// String prints the interval as sheets do: "10 – 25", "≥ 10 – < 25", "< 1", "> 70", "ca. 5".
func (v Interval) String() string {
	var s string
	lo, hi := number(v.Lo), number(v.Hi)
	switch {
	case v.HasLo && v.HasHi && v.Lo == v.Hi && !v.LoOpen && !v.HiOpen:
		s = lo
	case v.HasLo && v.HasHi:
		if v.LoOpen {
			lo = "> " + lo
		}
		if v.HiOpen {
			hi = "< " + hi
		}
		s = lo + " – " + hi
	case v.HasLo && v.LoOpen:
		s = "> " + lo
	case v.HasLo:
		s = "≥ " + lo
	case v.HasHi && v.HiOpen:
		s = "< " + hi
	case v.HasHi:
		s = "≤ " + hi
	default:
		return ""
	}
	if v.Approx {
		s = "ca. " + s
	}
	return s
}

// String prints the quantity with its unit and conditions.
func (q Quantity) String() string {
	s := q.Interval.String()
	if q.Unit != "" && q.Unit != "1" {
		s += " " + q.Unit
	}
	if q.AtC != nil {
		s += " at " + number(*q.AtC) + " °C"
	}
	if q.Cup != "" {
		s += " (" + q.Cup + " cup)"
	}
	return strings.TrimSpace(s)
}

// String prints the class as understood, else as printed.
func (c ClassStatement) String() string {
	s := c.Hazard.String()
	if c.Hazard == 0 {
		s = c.Printed
	}
	if c.Code != "" {
		s += " (" + string(c.Code) + ")"
	}
	return s
}

// String prints code and phrase.
func (s Statement) String() string { return strings.TrimSpace(string(s.Code) + " " + s.Phrase) }

// String prints the share and its route.
func (u UnknownShare) String() string {
	s := number(u.Percent) + " %"
	if u.Aquatic {
		return s + " (aquatic)"
	}
	if r := u.Route.String(); r != "" {
		s += " (" + r + ")"
	}
	return s
}

// String prints the limit on one line.
func (x ExposureLimit) String() string {
	parts := []string{x.Substance}
	if x.Substance == "" {
		parts[0] = x.CAS
	}
	parts = append(parts, x.Authority, string(x.Kind), number(x.Value), x.Unit)
	if x.Fraction != "" {
		parts = append(parts, x.Fraction)
	}
	if x.Skin {
		parts = append(parts, "skin")
	}
	if x.Vacated {
		parts = append(parts, "vacated")
	}
	return strings.Join(strings.Fields(strings.Join(parts, " ")), " ")
}

// String prints the value on one line.
func (v ToxValue) String() string {
	s := fmt.Sprintf("%s %s %s %s %s", v.Ingredient, v.Measure, v.Route, v.Species, v.Quantity)
	if v.Hours > 0 {
		s += " (" + number(v.Hours) + " h)"
	}
	return strings.Join(strings.Fields(s), " ")
}

// String prints the value on one line.
func (v EcoValue) String() string {
	s := fmt.Sprintf("%s %s %s %s %s", v.Ingredient, v.Measure, v.Group, v.Species, v.Quantity)
	if v.Hours > 0 {
		s += " (" + number(v.Hours) + " h)"
	}
	return strings.Join(strings.Fields(s), " ")
}

// String prints the entry as a transport document does: "ADR: UN 1866, RESIN SOLUTION, 3, PG III".
func (t Transport) String() string {
	s := ""
	if t.Mode != "" {
		s = t.Mode + ": "
	}
	if !t.Regulated {
		return s + "not regulated"
	}
	var parts []string
	if t.UN != "" {
		parts = append(parts, "UN "+t.UN)
	}
	for _, p := range []string{t.ProperName, t.Class} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if len(t.Subsidiary) > 0 {
		parts = append(parts, "("+strings.Join(t.Subsidiary, ", ")+")")
	}
	if t.PackingGroup != "" {
		parts = append(parts, "PG "+t.PackingGroup)
	}
	return s + strings.Join(parts, ", ")
}

// String prints the rating: "HMIS health 2*, flammability 3, instability 0".
func (r Rating) String() string {
	digit := func(v int) string {
		if v < 0 {
			return "–"
		}
		return strconv.Itoa(v)
	}
	star := ""
	if r.Chronic {
		star = "*"
	}
	s := fmt.Sprintf("%s health %s%s, flammability %s, instability %s", r.System, digit(r.Health), star, digit(r.Flammability), digit(r.Instability))
	if r.Protection != "" {
		s += ", protection " + r.Protection
	}
	return strings.TrimSpace(s)
}
