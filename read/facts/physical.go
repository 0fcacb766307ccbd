package facts

import (
	"math"
	"strings"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// property describes how a quantity of section 9 is printed.
type property struct {
	name  sheet.Property
	dims  []number.Dimension // dimensions its unit may have; None: a bare number counts
	unit  string             // normalised unit
	scale float64            // from the base unit of the dimension to the normalised unit
	min   float64            // least and greatest value anybody would print, in the normalised unit
	max   float64
	words string
}

// appearance keys share the label set with properties.
const (
	stateLabel  sheet.Property = "state"
	colourLabel sheet.Property = "colour"
	odourLabel  sheet.Property = "odour"
	methodLabel sheet.Property = "method"
	otherLabels sheet.Property = "other" // labels that only end the value of another
	dynOrKin    sheet.Property = "viscosity"
	bothLimits  sheet.Property = "flammable_limits" // lower and upper beside one label
)

// properties lists labels per property, in the wording of Regulation (EU) 2020/878, Annex II, 9.1 in four languages, of
// 29 CFR 1910.1200, Appendix D, section 9, of OSHA form 174, and variants common in practice.
var properties = []property{
	{name: sheet.FlashPoint, dims: []number.Dimension{number.Temperature}, unit: "°C", scale: 1, min: -200, max: 700, words: `flash point|flashpoint|flash pt|flash temperature|minimum flash point|lowest flash point|flash point method used|closed cup flash point|
		point d eclair|point eclair|flammpunkt|punto de inflamacion|punto de ignicion|punto de destello|temperatura de inflamacion|punto inflamacion|pt eclair|point d inflammation`},
	{name: sheet.BoilingPoint, dims: []number.Dimension{number.Temperature}, unit: "°C", scale: 1, min: -280, max: 4000, words: `boiling point|initial boiling point|boiling range|boiling point range|boiling point or initial boiling point and boiling range|initial boiling point and boiling range|initial boiling point and range|approx boiling range|initial boiling point boiling range|boiling pt|boiling point boiling range|boiling temperature|
		point d ebullition|point initial d ebullition|point d ebullition ou point initial d ebullition et intervalle d ebullition|point initial d ebullition et intervalle d ebullition|point intervalle d ebullition|temperature d ebullition|plage du point d ebullition|domaine d ebullition|
		siedepunkt|siedebeginn|siedebereich|siedebeginn und siedebereich|siedepunkt oder siedebeginn und siedebereich|siedepunkt siedebereich|siedetemperatur|punto de ebullicion|punto inicial de ebullicion|intervalo de ebullicion|punto inicial de ebullicion e intervalo de ebullicion|punto intervalo de ebullicion|rango de ebullicion|temperatura de ebullicion|punto de ebullicion inicial`},
	{name: sheet.MeltingPoint, dims: []number.Dimension{number.Temperature}, unit: "°C", scale: 1, min: -280, max: 4000, words: `melting point|melting point freezing point|freezing point|melting freezing point|freeze point|melting point range|melting range|approx freezing range|pour point|softening point|softening point range|point de fusion|point de fusion point de congelation|point de congelation|point d ecoulement|
		schmelzpunkt|schmelzpunkt gefrierpunkt|gefrierpunkt|schmelzpunkt schmelzbereich|punto de fusion|punto de fusion punto de congelacion|punto de congelacion`},
	{name: sheet.AutoIgnition, dims: []number.Dimension{number.Temperature}, unit: "°C", scale: 1, min: 0, max: 2000, words: `auto ignition temperature|autoignition temperature|ignition temperature|auto ignition point|autoignition|auto ignition|autoignition point|self ignition temperature|spontaneous ignition temperature|temperature d auto inflammation|temperature d auto inflammabilite|temperature d autoinflammation|temperature d auto ignition|temperature d autoignition|
		zundtemperatur|selbstentzundungstemperatur|selbstzundtemperatur|zundpunkt|selbstentzundlichkeit|temperatura de auto inflamacion|temperatura de autoignicion|temperatura de autoinflamacion|temperatura de ignicion espontanea|temperatura de ignicion|temperatura de auto ignicion`},
	{name: sheet.Decomposition, dims: []number.Dimension{number.Temperature}, unit: "°C", scale: 1, min: -50, max: 3000, words: `decomposition temperature|thermal decomposition temperature|temperature de decomposition|zersetzungstemperatur|temperatura de descomposicion|sadt|self accelerating decomposition temperature`},
	{name: sheet.LowerFlammable, dims: []number.Dimension{number.Share, number.None}, unit: "% vol", scale: 1, min: 0, max: 100, words: `lower explosive limit|lower explosion limit|lower flammability limit|lower flammable limit|lel|lfl|flammable limits lel|lower flammability or explosive limits|lower explosive limit lel|lower limit|lower|explosive limit lower|flammability limit lower|explosion limit lower|
		limite inferieure d explosivite|limite inferieure d explosion|limite inferieure d inflammabilite|lie|limite d explosivite inferieure|limite explosion inferieure|untere explosionsgrenze|ueg|limite inferior de explosividad|limite inferior de explosion|limite inferior de inflamabilidad|lie|limite de explosion inferior`},
	{name: sheet.UpperFlammable, dims: []number.Dimension{number.Share, number.None}, unit: "% vol", scale: 1, min: 0, max: 100, words: `upper explosive limit|upper explosion limit|upper flammability limit|upper flammable limit|uel|ufl|flammable limits uel|upper flammability or explosive limits|upper limit|upper|explosive limit upper|flammability limit upper|explosion limit upper|
		limite superieure d explosivite|limite superieure d explosion|limite superieure d inflammabilite|lse|obere explosionsgrenze|oeg|limite superior de explosividad|limite superior de explosion|limite superior de inflamabilidad|lse|limite de explosion superior`},
	{name: sheet.VapourPressure, dims: []number.Dimension{number.Pressure}, unit: "Pa", scale: 1, min: 0, max: 1e9, words: `vapor pressure|vapour pressure|vapor pressure of principal solvent|pression de vapeur|tension de vapeur|pression vapeur|dampfdruck|presion de vapor|vapour press|vapor press`},
	{name: sheet.VapourDensity, dims: []number.Dimension{number.None}, unit: "1", scale: 1, min: 0.05, max: 100, words: `vapor density|vapour density|relative vapour density|relative vapor density|vapor density air 1|relative steam density|vapor density of principal solvent|densite de vapeur|densite de vapeur relative|densite relative de vapeur|densite de la vapeur|dampfdichte|relative dampfdichte|densidad de vapor|densidad de vapor relativa|densidad relativa de vapor|densidad del vapor`},
	{name: sheet.Density, dims: []number.Dimension{number.MassPerVolume, number.None}, unit: "kg/m3", scale: 1, min: 0.05, max: 25000, words: `density|relative density|specific gravity|specific gravity water 1|bulk density|density and or relative density|specific weight|gallon weight|weight per gallon|density relative density|sp gr|product density|gravity|
		densite|densite relative|masse volumique|masse volumique et ou densite relative|densite et ou densite relative|poids specifique|gravite specifique|masse specifique|densite masse volumique|masse volumique densite|
		dichte|relative dichte|dichte und oder relative dichte|spezifisches gewicht|schuttdichte|densidad|densidad relativa|gravedad especifica|peso especifico|densidad y o densidad relativa|densidad aparente`},
	{name: sheet.PH, dims: []number.Dimension{number.None}, unit: "1", scale: 1, min: -2, max: 16, words: `ph|ph value|ph wert|valeur ph|valor ph|ph valeur|ph valor|valeur du ph|valor de ph|ph as supplied|ph of product`},
	{name: dynOrKin, dims: []number.Dimension{number.Kinematic, number.Dynamic}, scale: 1, min: 0, max: 1e10, words: `viscosity|kinematic viscosity|dynamic viscosity|viscosity kinematic|viscosity dynamic|viscosite|viscosite cinematique|viscosite dynamique|viscositat|kinematische viskositat|dynamische viskositat|viskositat|viskositat dynamisch|viskositat kinematisch|viscosidad|viscosidad cinematica|viscosidad dinamica|brookfield viscosity|dynamisch|kinematisch|dynamic|kinematic|dynamique|cinematique|dinamica|cinematica`},
	{name: sheet.VOC, dims: []number.Dimension{number.MassPerVolume, number.Share}, unit: "g/l", scale: 1, min: 0, max: 3000, words: `voc|voc content|volatile organic compounds|volatile organic compound|volatile organic compounds voc|voc less exempt|voc as packaged|voc less water|volatile organic compounds voc content|voc less h2o exempt solvents|voc less water and exempt solvents|actual voc|coating voc|material voc|regulatory voc|emission voc|volatile organic content|voc less water less exempt solvent|total voc|voc emission|voc eu|voc actual|voc regulatory|
		cov|composes organiques volatils|teneur en cov|teneur cov|cov du materiau|contenu en cov|composes organiques volatils cov|voc gehalt|fluchtige organische verbindungen|voc wert|compuestos organicos volatiles|contenido de cov|limite regulador de cov|contenido cov|compuestos organicos volatiles cov|contenido en cov`},
	{name: sheet.LogKow, dims: []number.Dimension{number.None}, unit: "1", scale: 1, min: -15, max: 20, words: `partition coefficient|partition coefficient n octanol water|log kow|log pow|log p|logpow|logkow|octanol water partition coefficient|partition coefficient n octanol water log value|partition coeff n octanol water|coefficient of water oil distribution|n octanol water coefficient|coefficient de partage|coefficient de partage n octanol eau|coefficient de partage n octanol eau valeur log|coefficient de partition n octanol eau|
		verteilungskoeffizient|verteilungskoeffizient n octanol wasser|verteilungskoeffizient n octanol wasser log wert|coeficiente de reparto|coeficiente de reparto n octanol agua|coeficiente de particion|coeficiente de reparto n octanol agua valor logaritmico`},
	{name: sheet.EvaporationRate, dims: []number.Dimension{number.None}, unit: "1", scale: 1, min: 0, max: 1000, words: `evaporation rate|relative evaporation rate|evapouration rate|vaporization rate|rate of evaporation|taux d evaporation|vitesse d evaporation|verdampfungsgeschwindigkeit|verdunstungsgeschwindigkeit|verdunstungszahl|tasa de evaporacion|indice de evaporacion|velocidad de evaporacion`},
	{name: sheet.WaterSolubility, dims: []number.Dimension{number.MassPerVolume, number.Share}, unit: "g/l", scale: 1, min: 0, max: 5000, words: `solubility in water|water solubility|solubility water|solubility in miscibility with water|solubilite dans l eau|hydrosolubilite|solubilite eau|wasserloslichkeit|loslichkeit in wasser|loslichkeit wasser|solubilidad en agua|solubilidad en el agua|hidrosolubilidad`},
	{name: sheet.SolidsContent, dims: []number.Dimension{number.Share, number.None}, unit: "%", scale: 1, min: 0, max: 100, words: `percent solids by weight|solids content|solids by weight|weight solids|solid content|weight percent solids|wt solids|wt solidos|non volatile by weight|nonvolatile content|extrait sec|teneur en solides|teneur en matieres solides|festkorpergehalt|feststoffgehalt|festkorper|contenido de solidos|contenido en solidos|solidos en peso`},
	{name: bothLimits, dims: []number.Dimension{number.Share, number.None}, words: `upper lower flammability or explosive limits|upper lower explosive limits|explosive limits|flammable limits|flammable limits in air|explosion limits|upper lower flammability limits|upper lower flammability or explosion limits|flammability limits|lower upper explosive limits|lower and upper explosion limit|lower and upper explosion limits|lower and upper explosion limit flammability limit|flammability or explosive limits|upper lower explosion limits|explosion limits in air|
		limites d explosivite|limites inferieure et superieure d explosion|limites d explosion|limites superieures inferieures d inflammabilite ou limites d explosivite|limites d inflammabilite|limite superieure inferieure d inflammabilite ou d explosivite|
		explosionsgrenzen|untere und obere explosionsgrenze|obere untere entzundbarkeits oder explosionsgrenzen|obere und untere explosionsgrenzen|
		limites de explosividad|limites de explosion|limite superior e inferior de explosividad|limites de inflamabilidad|limites inferior y superior de explosion|limite superior inferior de inflamabilidad o de explosividad`},
	{name: stateLabel, words: `physical state|physical form|form|general physical form|specific physical form|state|appearance physical state|aggregate state|state of matter|appearance|appearance form|etat physique|forme|etat|aspect|aspect etat physique|aggregatzustand|form|aussehen|physikalischer zustand|aggregatzustand farbe|estado fisico|forma|aspecto|estado|apariencia|apparence|caracteristiques`},
	{name: colourLabel, words: `color|colour|appearance and color|couleur|farbe|color`},
	{name: odourLabel, words: `odor|odour|smell|odeur|geruch|olor|odor odour`},
	{name: methodLabel, words: `flash method|method|test method|methode|metodo|flash point method|methode d essai`},
	{name: otherLabels, words: `odor threshold|odour threshold|threshold of odour|seuil olfactif|seuil de l odeur|geruchsschwelle|umbral olfativo|flammability|flammability solid gas|inflammabilite|entzundbarkeit|inflamabilidad|explosive properties|oxidizing properties|oxidising properties|molecular weight|molecular formula|solubility|solubilities|solubilite|loslichkeit|solubilidad|volatile by weight|volatile by volume|percent volatile|volatile|
		percent volatile by volume|percent volatile by weight|flammability limit in air|percent solids by volume|particle characteristics|hazardous air pollutants|refractive index|surface tension|vol solidos|vol volatiles|wt volatiles|other information|autres informations|sonstige angaben|otros datos|heat of combustion|solubility in fat|fat solubility|relative density of the vapour air mixture|specific volume|spezifisches volumen|critical temperature|taille des particules|particle size`},
}

var propertyLabels = func() *phrases[sheet.Property] {
	p := &phrases[sheet.Property]{}
	for _, d := range properties {
		p.add(d.name, d.words)
	}
	return p
}()

func propertyOf(name sheet.Property) property {
	for _, p := range properties {
		if p.name == name {
			return p
		}
	}
	return property{}
}

// readPhysical reads section 9, and from section 5 the properties that section 9 leaves out.
func (r *reader) readPhysical() {
	out := &r.sheet.Physical
	out.Quantities = map[sheet.Property][]sheet.Fact[sheet.Quantity]{}
	for _, topic := range []int{9, 5, 15, 16} {
		for _, f := range fieldsIn(r.lines, r.part.body(topic), propertyLabels, 3) {
			if topic != 9 && !(topic == 5 && fireProperty(f.key)) && f.key != sheet.VOC {
				continue
			}
			r.readProperty(f, topic)
		}
	}
	if !r.has(9) {
		for _, f := range fieldsIn(r.lines, r.all(), propertyLabels, 1) {
			if f.key != stateLabel && f.key != colourLabel && f.key != otherLabels {
				r.readProperty(f, 0)
			}
		}
	}
	for p, facts := range out.Quantities {
		out.Quantities[p] = tidyQuantities(facts)
	}
}

// fireProperty tells whether section 5 of older sheets is where a property is printed.
func fireProperty(p sheet.Property) bool {
	switch p {
	case sheet.FlashPoint, sheet.AutoIgnition, sheet.LowerFlammable, sheet.UpperFlammable, bothLimits, methodLabel:
		return true
	}
	return false
}

// tidyQuantities drops "no data" where a value is printed elsewhere, and values printed twice.
func tidyQuantities(facts []sheet.Fact[sheet.Quantity]) []sheet.Fact[sheet.Quantity] {
	var out []sheet.Fact[sheet.Quantity]
	known := false
	for _, f := range facts {
		known = known || f.Known()
	}
	for _, f := range facts {
		if known && !f.Known() || !known && len(out) > 0 {
			continue
		}
		twice := -1
		for i, o := range out {
			if sameValue(o.Value, f.Value) {
				twice = i
			}
		}
		if twice >= 0 && known {
			o := &out[twice]
			if o.Value.Cup == "" {
				o.Value.Cup, o.Value.Method = f.Value.Cup, f.Value.Method
			}
			o.Evidence = append(o.Evidence, f.Evidence...)
			continue
		}
		out = append(out, f)
	}
	return out
}

// sameValue tells whether two quantities are one value, perhaps converted and rounded by the sheet.
func sameValue(a, b sheet.Quantity) bool {
	near := func(x, y float64) bool {
		return math.Abs(x-y) <= 0.6 && a.Unit == "°C" || math.Abs(x-y) <= 0.011*math.Max(math.Abs(x), math.Abs(y))
	}
	return a.Unit == b.Unit && a.HasLo == b.HasLo && a.HasHi == b.HasHi && near(a.Lo, b.Lo) && near(a.Hi, b.Hi)
}

func (r *reader) readProperty(f field[sheet.Property], topic int) {
	out := &r.sheet.Physical
	switch f.key {
	case otherLabels:
		return
	case bothLimits:
		r.readBothLimits(f)
		return
	case methodLabel:
		r.flashMethod(f)
		return
	case stateLabel:
		r.appearance(f)
		return
	case colourLabel, odourLabel:
		v := f.text(r.lines, 0)
		if v.empty() {
			v = f.text(r.lines, 1)
		}
		target := &out.Colour
		if f.key == odourLabel {
			target = &out.Odour
		}
		if target.State == sheet.NotStated && !v.empty() {
			*target = textFact(v)
		}
		return
	}
	if f.key == sheet.LowerFlammable || f.key == sheet.UpperFlammable {
		if f.holdsBothLimits() {
			f.value.start = f.label.start
			r.readBothLimits(f)
			return
		}
	}
	p := propertyOf(f.key)
	for _, n := range []int{0, 1, 3} {
		v := f.text(r.lines, n)
		if v.empty() {
			continue
		}
		qs := r.quantities(p, f, v)
		if len(qs) > 0 {
			for _, q := range qs {
				out.Quantities[q.property] = append(out.Quantities[q.property], q.fact)
			}
			return
		}
		if state, ok := stateOf(v.text()); ok {
			key := p.name
			if key == dynOrKin {
				key = sheet.KinematicViscosity
				if strings.Contains(fold(f.label.text()), "dyn") {
					key = sheet.DynamicViscosity
				}
			}
			out.Quantities[key] = append(out.Quantities[key], said[sheet.Quantity](state, v))
			return
		}
		if n == 0 && len(strings.TrimSpace(v.text())) > 40 {
			return // prose
		}
	}
}

// limitEnds are the words for the lower and the upper flammable limit.
var limitEnds = func() *phrases[sheet.Property] {
	p := &phrases[sheet.Property]{}
	p.add(sheet.LowerFlammable, `lower|lel|lfl|lie|inferieure|inferieur|untere|unterer|ueg|inferior|min|minimum|unten|minimo|lower limit`)
	p.add(sheet.UpperFlammable, `upper|uel|ufl|lse|superieure|superieur|obere|oberer|oeg|superior|max|maximum|oben|maximo|upper limit`)
	return p
}()

// holdsBothLimits tells whether "lower 0.8 %, upper 8.5 %" stands where one limit is expected.
func (f field[K]) holdsBothLimits() bool {
	if f.value.empty() || f.value.line != f.label.line {
		return false
	}
	ts := tokenize(f.value.line.Text[f.label.start:f.value.end])
	var lower, upper bool
	for i := range ts {
		switch p, n := limitEnds.at(ts, i); {
		case n == 0:
		case p == sheet.LowerFlammable:
			lower = true
		default:
			upper = true
		}
	}
	return lower && upper
}

// readBothLimits reads "lower 0.8 %, upper 8.5 %", "LEL: 1 % UEL: 8 %" and "0.8 - 8.5 %" beside one label.
func (r *reader) readBothLimits(f field[sheet.Property]) {
	out := r.sheet.Physical.Quantities
	for _, n := range []int{0, 1, 2} {
		v := f.text(r.lines, n)
		if v.empty() {
			continue
		}
		flat := strings.ReplaceAll(v.line.Text[v.start:v.end], "\t", " ")
		ts := tokenize(flat)
		put := func(p sheet.Property, iv sheet.Interval, x number.Found) {
			q := sheet.Quantity{Interval: iv, Unit: "% vol", Printed: strings.TrimSpace(flat[x.Start:x.End])}
			if within(iv, 0, 100) {
				out[p] = append(out[p], fact(q, sureLabel, stretch{v.line, v.start + x.Start, v.start + x.End}))
			}
		}
		read := false
		for _, x := range number.Scan(flat, r.style) {
			if !x.Unit.Zero() && x.Unit.Dim != number.Share || codeLike(flat, x) {
				continue
			}
			if lo, single := x.Single(); !single && x.HasLo && x.HasHi {
				put(sheet.LowerFlammable, sheet.Exactly(lo), x)
				put(sheet.UpperFlammable, sheet.Exactly(x.Hi), x)
				return
			}
			which := sheet.Property("")
			for i := range ts {
				if p, m := limitEnds.at(ts, i); m > 0 && ts[i].start < x.Start {
					which = p
				}
			}
			if which != "" {
				put(which, x.Interval, x)
				read = true
			}
		}
		if read {
			return
		}
		if state, ok := stateOf(v.text()); ok {
			out[sheet.LowerFlammable] = append(out[sheet.LowerFlammable], said[sheet.Quantity](state, v))
			out[sheet.UpperFlammable] = append(out[sheet.UpperFlammable], said[sheet.Quantity](state, v))
			return
		}
	}
}

// textFact is a text value or the state that its words say.
func textFact(v stretch) sheet.Fact[string] {
	v = v.trim(" \t:;,")
	if v.empty() {
		return sheet.Fact[string]{}
	}
	if state, ok := stateAlone(v.text()); ok {
		return said[string](state, v)
	}
	return fact(plainText(v.text()), sureLabel, v)
}

// foundQuantity is one quantity read for a property.
type foundQuantity struct {
	property sheet.Property
	fact     sheet.Fact[sheet.Quantity]
}

// quantities reads the values of property p from the text of v.
func (r *reader) quantities(p property, f field[sheet.Property], v stretch) []foundQuantity {
	text := v.line.Text[v.start:v.end]
	flat := strings.ReplaceAll(text, "\t", " ")
	style := r.style
	all := number.Scan(flat, style)
	labelUnit := unitIn(f.tail + " ")
	if labelUnit.Zero() {
		labelUnit = unitIn(f.label.line.Text[f.label.start:max(f.value.start, f.label.end)])
	}
	var atC *float64
	if c, ok := conditionIn(f.tail, style); ok {
		atC = &c
	}
	kept := make([]number.Found, 0, len(all))
	for _, n := range all {
		if n.Condition && n.Unit.Dim == number.Temperature {
			if atC == nil && n.HasLo {
				t := n.Unit.To(n.Lo)
				atC = &t
			}
			continue
		}
		if n.Unit.Zero() && labelUnit.Zero() && !accepts(p, number.None) {
			continue
		}
		if n.Unit.Zero() && !accepts(p, number.None) && unitLess(flat, n) {
			continue
		}
		if !n.Unit.Zero() && !accepts(p, n.Unit.Dim) {
			if n.Unit.Dim == number.Temperature && len(kept) > 0 && atC == nil && n.HasLo && p.dims[0] != number.Temperature {
				t := n.Unit.To(n.Lo) // "1,464 g/cm3 (20 °C)"
				atC = &t
			}
			continue
		}
		if n.Unit.Zero() && !labelUnit.Zero() && accepts(p, labelUnit.Dim) {
			n.Unit, n.UnitText = labelUnit, labelUnit.Name
		}
		if n.Unit.Zero() && codeLike(flat, n) {
			continue
		}
		kept = append(kept, n)
	}
	var out []foundQuantity
	for i, n := range preferred(p, kept) {
		q, ok := r.quantity(p, n, flat)
		if !ok {
			continue
		}
		q.fact.Value.AtC = atC
		if p.name == sheet.FlashPoint {
			q.fact.Value.Cup, q.fact.Value.Method = cupOf(flat + " " + f.tail + " " + f.label.text())
		}
		place := stretch{v.line, v.start + n.Start, v.start + n.End}
		base := fact(q.fact.Value, sureLabel, place)
		if i > 0 {
			base.Confidence *= likely
		}
		if n.Unit.Zero() && p.dims[0] != number.None && p.name != sheet.Density {
			base.Confidence = min(base.Confidence, uncertain)
		}
		q.fact = base
		out = append(out, q)
		if single(p) {
			break
		}
	}
	return out
}

// single tells whether only the first value printed beside a label is the value.
func single(p property) bool {
	return p.name != sheet.VOC && p.name != dynOrKin
}

func accepts(p property, d number.Dimension) bool {
	for _, x := range p.dims {
		if x == d {
			return true
		}
	}
	return false
}

// unitLess tells whether a bare number is part of a standard's name or a year ("DIN 51794", "ISO 2431-1993").
func unitLess(s string, n number.Found) bool { return codeLike(s, n) }

// codeLike tells whether the word before a number makes it a name: "ASTM D 92", "DIN 51755", "ISO 2719", "Part 1".
func codeLike(s string, n number.Found) bool {
	before := strings.ToLower(strings.TrimRight(s[:n.Start], " -–"))
	for _, w := range []string{"astm", "din", "iso", "en", "astm d", "part", "oecd", "method", "epa", "rule", "section", "table", "note", "no.", "no", "eu a", "teil", "class", "cfr", " d", "cipac", "scaqmd"} {
		if strings.HasSuffix(before, w) && (len(before) == len(w) || before[len(before)-len(w)-1] == ' ' || before[len(before)-len(w)-1] == '(' || w[0] == ' ' || before[len(before)-len(w)-1] == '[') {
			return true
		}
	}
	return false
}

// preferred orders the values beside a label: for temperatures the one in °C first, as others are mostly conversions.
func preferred(p property, ns []number.Found) []number.Found {
	if p.dims[0] != number.Temperature {
		return ns
	}
	for i, n := range ns {
		if n.Unit.Name != "°C" || i == 0 {
			continue
		}
		first := ns[0]
		if first.Unit.Name == "°C" {
			return ns
		}
		// "> 200 °F (93 °C)": the sign belongs to both
		if n.HasLo && n.HasHi && n.Lo == n.Hi && first.HasLo != first.HasHi {
			n.HasLo, n.HasHi, n.LoOpen, n.HiOpen = first.HasLo, first.HasHi, first.LoOpen, first.HiOpen
			if !n.HasLo {
				n.Lo = 0
			}
			if !n.HasHi {
				n.Hi = 0
			}
		}
		return []number.Found{n}
	}
	return ns
}

// quantity normalises one number for its property.
func (r *reader) quantity(p property, n number.Found, text string) (foundQuantity, bool) {
	name, unit := p.name, p.unit
	iv := n.Interval
	method := ""
	switch {
	case !n.Unit.Zero():
		iv = n.Unit.Convert(iv)
	case p.name == sheet.Density:
		iv = scaled(iv, 1000) // relative to water
		method = "relative to water"
	}
	switch p.name {
	case dynOrKin:
		if n.Unit.Dim == number.Dynamic {
			name, unit = sheet.DynamicViscosity, "mPa·s"
		} else {
			name, unit = sheet.KinematicViscosity, "mm2/s"
		}
	case sheet.VOC:
		if n.Unit.Dim == number.Share {
			unit = "%"
		}
	case sheet.WaterSolubility:
		if n.Unit.Dim == number.Share {
			iv = scaled(iv, 10)
		}
	case sheet.Density:
		if d, ok := thousandfold(iv, n, p); ok {
			iv = d
		}
	}
	if !within(iv, p.min, p.max) {
		return foundQuantity{}, false
	}
	printed := strings.TrimSpace(text[n.Start:n.End])
	q := sheet.Quantity{Interval: iv, Unit: unit, Printed: printed, Method: method}
	return foundQuantity{name, sheet.Fact[sheet.Quantity]{State: sheet.Stated, Value: q}}, true
}

// thousandfold corrects "1,464 g/cm3" read as one thousand four hundred and sixty-four: no liquid or solid is that dense.
func thousandfold(iv sheet.Interval, n number.Found, p property) (sheet.Interval, bool) {
	if iv.HasHi && iv.Hi > p.max || iv.HasLo && iv.Lo > p.max {
		return scaled(iv, 0.001), true
	}
	return iv, false
}

func scaled(iv sheet.Interval, by float64) sheet.Interval {
	iv.Lo, iv.Hi = number.Round(iv.Lo*by, 10), number.Round(iv.Hi*by, 10)
	return iv
}

func within(iv sheet.Interval, lo, hi float64) bool {
	return (!iv.HasLo || iv.Lo >= lo && iv.Lo <= hi) && (!iv.HasHi || iv.Hi >= lo && iv.Hi <= hi)
}

// unitIn finds a unit in the words of a label: "(°F)", ", in mmHg", "g/l", "[kPa] @ 20 °C".
func unitIn(s string) number.Unit {
	for i := 0; i < len(s); i++ {
		if i > 0 && s[i-1] != ' ' && strings.IndexByte("([,;:/", s[i-1]) < 0 {
			continue
		}
		if s[i] == ' ' || isDigit(s[i]) {
			continue
		}
		end := i
		for end < len(s) && strings.IndexByte(")],;@", s[end]) < 0 {
			end++
		}
		word := s[i:end]
		if u, ok := number.ParseUnit(word); ok {
			return u
		}
		if k := strings.IndexByte(word, ' '); k > 0 {
			if u, ok := number.ParseUnit(word[:k]); ok {
				return u
			}
		}
	}
	return number.Unit{}
}

// conditionIn finds a temperature in the words of a label: "@ 20º C", "(20 °C)".
func conditionIn(s string, style number.Style) (float64, bool) {
	for _, n := range number.Scan(s, style) {
		if n.Unit.Dim == number.Temperature && n.HasLo {
			return n.Unit.To(n.Lo), true
		}
	}
	return 0, false
}

// cups are the names of flash point methods and whether their cup is closed or open.
var cups = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("closed", `closed cup|closed|tcc|pmcc|cc|c c|pensky martens|pensky|setaflash|seta flash|seta|tag|tagliabue|abel|vase clos|creuset ferme|coupe fermee|ferme|geschlossener tiegel|geschlossen|copa cerrada|vaso cerrado|crisol cerrado|t c c|p m c c|scc|din 51755|iso 3679|iso 2719|iso 13736|d93|d56|d3278|d 93|d 56|closed crucible|rapid equilibrium`)
	p.add("open", `open cup|open|coc|oc|o c|toc|cleveland|vase ouvert|creuset ouvert|coupe ouverte|offener tiegel|offen|copa abierta|vaso abierto|crisol abierto|d92|d 92|c o c|iso 2592`)
	return p
}()

// cupOf finds the cup and the method printed with a flash point.
func cupOf(s string) (cup, method string) {
	ts := tokenize(s)
	for i := range ts {
		c, n := cups.at(ts, i)
		if n == 0 {
			continue
		}
		if cup == "" {
			cup = c
			method = strings.TrimSpace(s[ts[i].start:ts[i+n-1].end])
		} else {
			method += " " + strings.TrimSpace(s[ts[i].start:ts[i+n-1].end])
		}
	}
	return cup, method
}

// flashMethod puts a method printed on a line of its own beside the flash point read before.
func (r *reader) flashMethod(f field[sheet.Property]) {
	v := f.text(r.lines, 0)
	if v.empty() {
		return
	}
	facts := r.sheet.Physical.Quantities[sheet.FlashPoint]
	if len(facts) == 0 {
		return
	}
	last := &facts[len(facts)-1]
	if cup, method := cupOf(v.text()); cup != "" && last.Known() && last.Value.Cup == "" {
		last.Value.Cup, last.Value.Method = cup, method
	}
}

// forms are words for physical states.
var forms = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("aerosol", `aerosol|aerosolized|spray|aerosole|aerosoles|aerosolized mist|gas aerosol`)
	p.add("liquid", `liquid|liquide|flussig|flussigkeit|liquido|fluid|liquids`)
	p.add("paste", `paste|pate|pasty|pastos|pasta|gel|putty|viscous paste|pateux|pastoso`)
	p.add("powder", `powder|poudre|pulver|polvo|dust|powdered`)
	p.add("solid", `solid|solide|fest|feststoff|solido|stick|crystals|pellets|granules|film`)
	p.add("gas", `gas|gaz|gasformig|gaseous|liquefied gas|compressed gas|verflussigtes gas|gaseoso|gazeux|gas liquefied`)
	return p
}()

// appearance reads the physical state; where a sheet prints several, the words "physical state" count most.
func (r *reader) appearance(f field[sheet.Property]) {
	v := f.text(r.lines, 0)
	if v.empty() {
		v = f.text(r.lines, 1)
	}
	if v.empty() {
		return
	}
	strong := strings.Contains(fold(f.label.text()), "stat") || strings.Contains(fold(f.label.text()), "etat") || strings.Contains(fold(f.label.text()), "zustand") || strings.Contains(fold(f.label.text()), "estado")
	out := &r.sheet.Physical.State
	if out.Known() && !(strong && out.Confidence < sureLabel) {
		return
	}
	form, i, n := forms.find(tokenize(v.text()))
	if n == 0 {
		if out.State == sheet.NotStated {
			if state, ok := stateAlone(v.text()); ok {
				*out = said[string](state, v)
			}
		}
		return
	}
	_ = i
	confidence := likely
	if strong {
		confidence = sureLabel
	}
	*out = fact(form, confidence, v)
}

// lineOf is the whole of a line as a stretch.
func lineOf(l *layout.Line) stretch { return stretch{l, 0, len(l.Text)} }
