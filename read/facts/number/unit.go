package number

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"sixteen/sheet"
)

// Dimension is what a unit measures.
type Dimension uint8

// Dimensions.
const (
	None Dimension = iota
	Temperature
	Pressure
	MassPerVolume // density, VOC content, solubility, air concentration
	Kinematic     // kinematic viscosity
	Dynamic       // dynamic viscosity
	Share         // percent and parts per million
	Dose          // mass per body mass
	Time
	Length
	Fibres // fibres per volume of air
	Particles
	Energy
)

// Unit is a unit of measure. A value in it times Factor plus Offset is the value in the base unit of its dimension:
// °C, Pa, kg/m3 (= g/l), mm2/s, mPa·s, % , mg/kg, h, mm, f/cm3.
type Unit struct {
	Name   string
	Dim    Dimension
	Factor float64
	Offset float64
	Share  string // for shares: "mass", "volume" or "" when the unit does not say
}

// Zero tells whether u is no unit.
func (u Unit) Zero() bool { return u.Name == "" }

type unitText struct {
	text string
	unit Unit
}

// units lists how units are printed, in lower case, without blanks, superscripts as plain digits. Factors: NIST Special
// Publication 811 (2008), appendix B: 1 mmHg = 133.3224 Pa, 1 inHg = 3386.389 Pa, 1 psi = 6894.757 Pa, 1 lb = 0.45359237 kg,
// 1 US gallon = 3.785411784 l, 1 UK gallon = 4.54609 l, 1 ft3 = 0.02831685 m3.
var units = buildUnits()

func buildUnits() []unitText {
	const lb, gal, ft3, oz = 0.45359237, 3.785411784, 28.316846592, 0.028349523125
	var out []unitText
	add := func(u Unit, texts ...string) {
		for _, t := range texts {
			out = append(out, unitText{t, u})
		}
	}
	c := Unit{Name: "°C", Dim: Temperature, Factor: 1}
	f := Unit{Name: "°F", Dim: Temperature, Factor: 5.0 / 9, Offset: -160.0 / 9}
	k := Unit{Name: "K", Dim: Temperature, Factor: 1, Offset: -273.15}
	add(c, "°c", "ºc", "oc", "◦c", "(°c)", "(ºc)", "(◦c)", "(℃)", "c°", "°.c", "℃", "degc", "deg.c", "degreesc", "degreec", "degreescelsius", "degreecelsius", "celsius", "(c)", "˚c", "0c", "grados c", "gradosc", "°celsius", "c", "ᵒc", "ْc", "degreescentigrade", "° c", "degrésc", "gradc", "°(c)", "⁰c")
	add(f, "°f", "ºf", "of", "◦f", "(°f)", "(ºf)", "(◦f)", "(℉)", "f°", "℉", "degf", "deg.f", "degreesf", "degreef", "degreesfahrenheit", "degreefahrenheit", "fahrenheit", "(f)", "˚f", "°.f", "gradosf", "f", "ᵒf", "°fahrenheit", "degrésf", "°(f)", "⁰f", "0f")
	add(k, "k", "kelvin", "°k")
	p := func(name string, factor float64, texts ...string) {
		add(Unit{Name: name, Dim: Pressure, Factor: factor}, texts...)
	}
	p("Pa", 1, "pa", "pascal", "pascals")
	p("hPa", 100, "hpa", "mbar", "mbars", "millibar", "hectopascal", "mb")
	p("kPa", 1000, "kpa")
	p("MPa", 1e6, "mpa")
	p("bar", 1e5, "bar", "bars", "bar(a)", "bara")
	p("mmHg", 133.3224, "mmhg", "mmofhg", "torr", "mmhg.", "mm.hg", "mmdehg", "millimetersofmercury", "mmmercury")
	p("inHg", 3386.389, "inhg", "inchhg", "inches hg")
	p("psi", 6894.757, "psi", "psia", "psig", "lb/in2", "lbs/sqin", "psi(a)")
	p("atm", 101325, "atm", "atmosphere", "atmospheres")
	m := func(name string, factor float64, texts ...string) {
		add(Unit{Name: name, Dim: MassPerVolume, Factor: factor}, texts...)
	}
	m("kg/m3", 1, "kg/m3", "kg/m^3", "kgm-3", "kg/cbm")
	m("g/l", 1, "g/l", "gr/l", "gm/l", "grams/liter", "grams/litre", "g/liter", "g/litre", "gramsperliter", "gramsperlitre", "gl-1", "grams/l", "gperl", "g/ltr", "gr/ltr", "gms/l", "g/dm3")
	m("mg/l", 1e-3, "mg/l", "mgl-1", "mg/liter", "mg/litre", "mg/dm3")
	m("µg/l", 1e-6, "µg/l", "μg/l", "ug/l")
	m("g/100ml", 10, "g/100ml", "g/100g", "g/100cc", "g/100cm3")
	m("g/cm3", 1000, "g/cm3", "g/cm^3", "g/cc", "g/ml", "gm/cc", "gm/ml", "gm/cm3", "g/mL", "kg/l", "kg/dm3", "gcm-3", "g/ccm", "g/c.c.", "gr/cm3", "gr/ml", "g/㎝3", "kg/litre", "kg/liter", "g/㎤", "gms/cc", "g/c", "gm/cu.cm", "kg/ltr", "g./ml", "t/m3")
	m("g/m3", 1e-3, "g/m3")
	m("mg/m3", 1e-6, "mg/m3", "mg/m^3", "mg/cum", "mg/cu.m", "mg/cu.m.", "mg/m", "mg/m³.", "mgm-3", "mgm3", "mg/㎥", "mg/cubicmeter", "mg/cbm")
	m("µg/m3", 1e-9, "µg/m3", "μg/m3", "ug/m3", "mcg/m3", "µg/m^3")
	m("ng/m3", 1e-12, "ng/m3")
	m("lb/gal", lb/gal*1000, "lb/gal", "lbs/gal", "ib/gal", "ibs/gal", "1b/gal", "lb/usgal", "lbs/usgal", "lb/us gal", "lbs./gal", "lbs./gal.", "lbs/gal.", "lb/gal.", "lb./gal", "lb./gal.", "#/gal", "pounds/gallon", "lbs/gallon", "lb/gallon", "ppg", "poundspergallon", "lbspergallon", "lbpergallon", "lbs/usg", "lb/usg", "lb/usgallon", "lb/gl", "lb/galon", "lb/galón", "lbs/galón", "libras/galón", "lbs.pergallon", "lb/gal(us)", "lbs/gal(us)", "#/gallon", "lbs.pergal")
	m("lb/impgal", lb/4.54609*1000, "lb/impgal", "lb/ukgal", "lb/igal")
	m("lb/ft3", lb/ft3*1000, "lb/ft3", "lbs/ft3", "lb/cuft", "lb/cu.ft", "lbs/cu.ft.", "lb/cu.ft.", "pcf", "lbs/cuft")
	m("oz/gal", oz/gal*1000, "oz/gal")
	v := func(d Dimension, name string, factor float64, texts ...string) {
		add(Unit{Name: name, Dim: d, Factor: factor}, texts...)
	}
	v(Kinematic, "mm2/s", 1, "mm2/s", "mm2/sec", "mm^2/s", "cst", "cts", "centistokes", "centistoke", "cst.", "mm²/sec", "㎟/s", "mm2s-1", "csts")
	v(Kinematic, "cm2/s", 100, "cm2/s", "st", "stokes")
	v(Kinematic, "m2/s", 1e6, "m2/s")
	v(Dynamic, "mPa·s", 1, "mpa.s", "mpa·s", "mpas", "mpa*s", "mpa-s", "mpasec", "mpa.sec", "mpaxs", "mpa∙s", "mpa•s", "cp", "cps", "cpoise", "centipoise", "cp.", "centipoises", "cps.", "mpa⋅s")
	v(Dynamic, "Pa·s", 1000, "pa.s", "pa·s", "pas", "pa-s", "pa*s", "pa∙s")
	v(Dynamic, "P", 100, "poise", "poises")
	s := func(name string, factor float64, share string, texts ...string) {
		add(Unit{Name: name, Dim: Share, Factor: factor, Share: share}, texts...)
	}
	s("%", 1, "", "%", "percent", "prozent", "pourcent", "porciento", "％", "pct")
	s("% mass", 1, "mass", "%w/w", "%(w/w)", "%byweight", "wt%", "wt.%", "%wt", "%wt.", "%(wt)", "w/w%", "%(weight)", "%weight", "gew.-%", "gew%", "gew-%", "masse-%", "ma.-%", "massen-%", "%enpoids", "%p/p", "%(p/p)", "%m/m", "%(m/m)", "m/m%", "%enpeso", "%peso", "wt-%", "percentbyweight", "%bywt", "%bywt.", "weight%", "(w/w)%", "%poids", "%(mass)", "%bymass", "%massique", "%w")
	s("% vol", 1, "volume", "%v/v", "%(v/v)", "%vol", "%vol.", "vol%", "vol.%", "vol-%", "vol.-%", "%byvolume", "%(vol)", "%(vol.)", "%(v)", "v/v%", "%volume", "%envolume", "%envolumen", "%byvol", "%byvol.", "%(byvolume)", "%v", "volume%", "%(volume)", "%(v/v)")
	s("ppm", 1e-4, "", "ppm", "p.p.m.", "ppmv", "ppm(v)", "ppmw", "ml/m3", "cm3/m3", "μl/l", "µl/l", "cc/m3")
	s("ppb", 1e-7, "", "ppb")
	s("‰", 0.1, "", "‰")
	v(Dose, "mg/kg", 1, "mg/kg", "mg/kgbw", "mg/kgbodyweight", "mg/kg/day", "mg/kgbw/day", "mg/kg/d", "mgkg-1", "mg/kgpc", "mg/kgkg", "ppmbw")
	v(Dose, "g/kg", 1000, "g/kg", "gm/kg")
	v(Dose, "µg/kg", 1e-3, "µg/kg", "μg/kg", "ug/kg")
	v(Dose, "ml/kg", 1000, "ml/kg") // taken as 1 g/ml; the unit stays named
	v(Time, "h", 1, "h", "hr", "hrs", "hr.", "hrs.", "hour", "hours", "heures", "heure", "stunden", "stunde", "std", "std.", "horas", "hora")
	v(Time, "min", 1.0/60, "min", "min.", "mins", "minutes", "minute", "minuten", "minutos", "minuto")
	v(Time, "d", 24, "d", "days", "day", "tage", "jours", "días", "dias", "tag", "jour")
	v(Time, "s", 1.0/3600, "s", "sec", "secs", "sec.", "seconds", "sekunden", "secondes", "segundos")
	v(Length, "mm", 1, "mm", "millimeter", "millimeters", "millimètre", "milímetros")
	v(Length, "mil", 0.0254, "mil", "mils")
	v(Length, "µm", 1e-3, "µm", "μm", "um", "micron", "microns")
	v(Fibres, "f/cm3", 1, "f/cm3", "f/cc", "fibers/cc", "fibres/cm3", "f/ml", "fibers/cm3", "fiber/cc", "fibres/cc", "fibres/ml")
	v(Particles, "mppcf", 1, "mppcf")
	v(Energy, "kJ/kg", 1, "kj/kg", "kj/g", "kj/mol", "btu/lb", "kcal/kg", "cal/g")
	return out
}

var unitIndex = indexUnits(units)

// indexUnits groups the units by their first byte, longest text first, so that a look-up compares few strings.
func indexUnits(all []unitText) map[rune][]unitText {
	index := map[rune][]unitText{}
	for _, u := range all {
		u.text = strings.ReplaceAll(strings.ToLower(u.text), " ", "")
		r, _ := utf8.DecodeRuneInString(u.text)
		list := index[r]
		i := 0
		for i < len(list) && len(list[i].text) >= len(u.text) {
			i++
		}
		list = append(list, unitText{})
		copy(list[i+1:], list[i:])
		list[i] = u
		index[r] = list
	}
	return index
}

// unitAt reads the unit at the start of s and returns the bytes it takes. Blanks inside a unit ("mm Hg", "g / cm³",
// "° F") are allowed.
func unitAt(s string) (Unit, int) {
	if s == "" {
		return Unit{}, 0
	}
	plain, ends := plainUnit(s)
	r, _ := utf8.DecodeRuneInString(plain)
	for _, u := range unitIndex[r] {
		if !strings.HasPrefix(plain, u.text) {
			continue
		}
		next, _ := utf8.DecodeRuneInString(plain[len(u.text):])
		size := ends[len(u.text)-1]
		if letterEnd(u.text) && len(plain) > len(u.text) && unicode.IsLetter(next) && !blankAt(s, size) {
			continue
		}
		if ambiguous(u.text) && !standsAlone(s, size) {
			continue
		}
		return u.unit, size
	}
	return Unit{}, 0
}

// ParseUnit reads a text that is one unit, such as a column head: "mg/m³", "(°F)", "lbs/gal".
func ParseUnit(s string) (Unit, bool) {
	s = strings.Trim(s, " ()[]:,;")
	u, n := unitAt(s)
	return u, n > 0 && strings.Trim(s[n:], " ()[].:") == ""
}

func letterEnd(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsLetter(r)
}

func blankAt(s string, i int) bool {
	r, _ := utf8.DecodeRuneInString(s[i:])
	return i >= len(s) || unicode.IsSpace(r)
}

// ambiguous tells whether a unit text is so short that it must stand alone.
func ambiguous(t string) bool {
	switch t {
	case "c", "f", "k", "h", "d", "s", "st", "mb", "p", "of", "oc", "0c", "0f", "min", "cp", "mil", "g/c", "mg/m", "cts", "pa", "bar", "day", "mm", "um", "days", "sec":
		return true
	}
	return false
}

func standsAlone(s string, size int) bool {
	if size >= len(s) {
		return true
	}
	r, _ := utf8.DecodeRuneInString(s[size:])
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-'
}

// plainUnit lowers the first bytes of s, drops blanks and turns superscripts into digits. ends[i] is the byte of s after
// the character that produced plain byte i.
func plainUnit(s string) (plain string, ends []int) {
	const most = 28
	b := make([]byte, 0, most)
	ends = make([]int, 0, most)
	space := 0
	for i, r := range s {
		if len(b) >= most {
			break
		}
		w := utf8.RuneLen(r)
		if w < 0 {
			w = 1
		}
		switch {
		case unicode.IsSpace(r):
			if space++; space > 6 {
				return string(b), ends
			}
			continue
		case r == '³':
			r = '3'
		case r == '²':
			r = '2'
		case r == '⁻':
			r = '-'
		case r == '∕' || r == '⁄':
			r = '/'
		default:
			r = unicode.ToLower(r)
		}
		at := len(b)
		b = utf8.AppendRune(b, r)
		for ; at < len(b); at++ {
			ends = append(ends, min(i+w, len(s)))
		}
	}
	return string(b), ends
}

// To converts a value in u to the base unit of its dimension, rounded to ten significant digits so that conversion
// leaves no binary dust.
func (u Unit) To(v float64) float64 { return Round(v*u.Factor+u.Offset, 10) }

// Round rounds v to the given count of significant digits.
func Round(v float64, digits int) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(v))))
	if math.IsInf(scale, 0) || scale == 0 {
		return v
	}
	return math.Round(v*scale) / scale
}

// Convert turns both ends of an interval in u into the base unit of its dimension.
func (u Unit) Convert(iv sheet.Interval) sheet.Interval {
	if iv.HasLo {
		iv.Lo = u.To(iv.Lo)
	}
	if iv.HasHi {
		iv.Hi = u.To(iv.Hi)
	}
	return iv
}
