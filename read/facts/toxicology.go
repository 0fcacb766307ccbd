package facts

import (
	"strings"

	"sixteen/ghs"
	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// measures are the measures of toxicity.
var measures = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("LD50", `ld50|ld 50|dl50|dl 50|ldlo`)
	p.add("LC50", `lc50|lc 50|cl50|cl 50|lclo`)
	p.add("ATE", `ate|ate mix|atemix|acute toxicity estimate|eta|estimation de la toxicite aigue|schatzwert akuter toxizitat|estimacion de toxicidad aguda|atemix oral`)
	p.add("EC50", `ec50|ec 50|ce50|ce 50|el50|eb50`)
	p.add("ErC50", `erc50|erc 50|ebc50|ic50|ic 50|ci50`)
	p.add("NOEC", `noec|csex|csoe|noelr|noael`)
	p.add("LL50", `ll50|ll 50`)
	return p
}()

// speciesWords are animals of tests.
var speciesWords = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("rat", `rat|rats|ratte|rata|ratten`)
	p.add("rabbit", `rabbit|rabbits|lapin|kaninchen|conejo|lapins`)
	p.add("mouse", `mouse|mice|souris|maus|raton|mause`)
	p.add("guinea pig", `guinea pig|guinea pigs|cobaye|meerschweinchen|cobaya|conejillo de indias`)
	p.add("human", `human|humans|humain|mensch|humano`)
	p.add("dog", `dog|chien|hund|perro`)
	return p
}()

// waterSpecies are groups of aquatic organisms.
var waterSpecies = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("fish", `fish|oncorhynchus|oncorhynchus mykiss|pimephales|pimephales promelas|brachydanio|danio|danio rerio|lepomis|lepomis macrochirus|leuciscus|leuciscus idus|cyprinus|salmo|oryzias|poecilia|trout|rainbow trout|fathead minnow|bluegill|zebrafish|poisson|poissons|fisch|fische|peces|pez|trucha|menidia|cyprinodon|carassius`)
	p.add("crustacea", `daphnia|daphnia magna|crustacea|crustaceans|ceriodaphnia|daphnie|daphnies|wasserfloh|water flea|mysid|shrimp|invertebrates|aquatic invertebrates|crustace|crustaces|crustaceos|krebstiere|acartia|artemia|daphnien|palaemonetes|mysidopsis`)
	p.add("algae", `algae|alga|algues|algen|algas|selenastrum|pseudokirchneriella|pseudokirchnerella|raphidocelis|scenedesmus|desmodesmus|chlorella|skeletonema|aquatic plants|green algae|algue|alge|lemna|scenedesmus subspicatus|pseudokirchneriella subcapitata`)
	p.add("bacteria", `bacteria|pseudomonas|photobacterium|activated sludge|bacteries|bakterien|microorganisms|belebtschlamm|bacterias|vibrio|micro organisms|boue activee`)
	return p
}()

type toxKey uint8

const (
	toxOther toxKey = iota
	toxSkin
	toxEye
	toxSkinSens
	toxRespSens
	toxMuta
	toxCarc
	toxRepr
	toxSTOTSE
	toxSTOTRE
	toxAsp
	toxAcute
)

var endpointNames = map[toxKey]string{
	toxSkin: "skin", toxEye: "eye", toxSkinSens: "skin_sens", toxRespSens: "resp_sens", toxMuta: "muta", toxCarc: "carc", toxRepr: "repr", toxSTOTSE: "stot_se", toxSTOTRE: "stot_re", toxAsp: "asp",
}

var toxLabels = func() *phrases[toxKey] {
	p := &phrases[toxKey]{}
	p.add(toxSkin, `skin corrosion irritation|skin irritation|skin corrosion|corrosion cutanee irritation cutanee|irritation cutanee|atz reizwirkung auf die haut|corrosion o irritacion cutaneas|irritation corrosion|skin irritation corrosion|corrosion irritacion cutanea|irritacion de la piel`)
	p.add(toxEye, `serious eye damage irritation|serious eye damage eye irritation|eye damage irritation|eye irritation|eye damage|lesions oculaires graves irritation oculaire|irritation oculaire|schwere augenschadigung reizung|schwere augenschadigung augenreizung|lesiones oculares graves o irritacion ocular|irritacion ocular|lesiones irritacion ocular graves`)
	p.add(toxSkinSens, `respiratory or skin sensitisation|respiratory or skin sensitization|skin sensitisation|skin sensitization|sensitization|sensitisation|sensibilisation respiratoire ou cutanee|sensibilisation cutanee|sensibilisierung der atemwege haut|sensibilisierung der haut|sensibilisierung der atemwege oder der haut|sensibilizacion respiratoria o cutanea|sensibilizacion cutanea|sensibilisation|sensibilizacion|sensibilisierung`)
	p.add(toxRespSens, `respiratory sensitisation|respiratory sensitization|sensibilisation respiratoire|sensibilizacion respiratoria|sensibilisierung der atemwege`)
	p.add(toxMuta, `germ cell mutagenicity|mutagenicity|mutagenic effects|mutagenicite sur les cellules germinales|mutagenicite|keimzell mutagenitat|keimzellmutagenitat|mutagenitat|mutagenicidad en celulas germinales|mutagenicidad`)
	p.add(toxCarc, `carcinogenicity|carcinogenic effects|cancerogenicite|carcinogenicite|karzinogenitat|kanzerogenitat|carcinogenicidad|carcinogenic status`)
	p.add(toxRepr, `reproductive toxicity|toxicity for reproduction|reproductive effects|toxicite pour la reproduction|reproduktionstoxizitat|toxicidad para la reproduccion|teratogenicity|reproductive toxicity developmental toxicity`)
	p.add(toxSTOTSE, `stot single exposure|specific target organ toxicity single exposure|stot se|specific target organ toxicity stot single exposure|toxicite specifique pour certains organes cibles exposition unique|spezifische zielorgan toxizitat bei einmaliger exposition|spezifische zielorgan toxizitat einmalige exposition|toxicidad especifica en determinados organos exposicion unica|stot exposition unique|toxicite specifique pour certains organes cibles stot exposition unique`)
	p.add(toxSTOTRE, `stot repeated exposure|specific target organ toxicity repeated exposure|stot re|specific target organ toxicity stot repeated exposure|repeated dose toxicity|toxicite specifique pour certains organes cibles exposition repetee|spezifische zielorgan toxizitat bei wiederholter exposition|spezifische zielorgan toxizitat wiederholte exposition|toxicidad especifica en determinados organos exposicion repetida|chronic toxicity|toxicite specifique pour certains organes cibles stot exposition repetee`)
	p.add(toxAsp, `aspiration hazard|aspiration toxicity|danger par aspiration|danger d aspiration|aspirationsgefahr|peligro de aspiracion|peligro por aspiracion|toxicidad por aspiracion`)
	p.add(toxAcute, `acute toxicity|acute oral toxicity|acute dermal toxicity|acute inhalation toxicity|toxicite aigue|akute toxizitat|toxicidad aguda|oral|dermal|inhalation|orale|akute orale toxizitat`)
	p.add(toxOther, `information on likely routes of exposure|symptoms|additional information|other information|medical conditions|primary routes of entry|ingestion|eye contact|skin contact|target organs|numerical measures of toxicity|endocrine disrupting properties|neurological effects`)
	return p
}()

// readToxicology reads section 11.
func (r *reader) readToxicology() {
	t := &r.sheet.Toxicology
	t.Endpoints = map[string]sheet.Fact[string]{}
	body := r.part.body(11)
	for _, f := range fieldsIn(r.lines, body, toxLabels, 3) {
		name := endpointNames[f.key]
		if name == "" {
			continue
		}
		v := f.text(r.lines, 2)
		if f.value.empty() {
			v = f.text(r.lines, 1)
		}
		if v.empty() {
			continue
		}
		if have, ok := t.Endpoints[name]; ok && have.State != sheet.NoData {
			continue
		}
		t.Endpoints[name] = textFact(v)
	}
	r.walkDoses(body, func(d dose) {
		if d.measure != "LD50" && d.measure != "LC50" && d.measure != "ATE" {
			return
		}
		q := doseQuantity(d.found, d.text)
		if inAir := q.Unit == "ppm" || strings.HasPrefix(q.Unit, "mg/l") || strings.HasPrefix(q.Unit, "mg/m3"); inAir && (d.route == ghs.Oral || d.route == ghs.Dermal) {
			d.route = ghs.NoQualifier // a concentration in air is no oral or dermal dose: the route was carried over from a line above
		}
		v := sheet.ToxValue{Ingredient: d.name, CAS: d.cas, Measure: d.measure, Route: d.route, Species: d.species, Quantity: q, Hours: d.hours}
		f := fact(v, likely, d.at)
		f.Evidence = append(f.Evidence, d.subject.evidence()...)
		t.Values = append(t.Values, f)
	})
	r.readCarcinogens(body)
}

// subject is where a repaired CAS number of the substance stands, and what was recognised there.
type subject struct {
	at      stretch
	misread string
}

// of notes where a CAS number was read from if it is a repair.
func (s *subject) of(l *layout.Line, c number.Registry) {
	*s = subject{stretch{l, c.Start, c.End}, misreadCAS(c)}
}

// evidence is that of a repaired number; a number read as it is adds none.
func (s subject) evidence() []sheet.Evidence {
	if s.misread == "" {
		return nil
	}
	return s.at.recognised(s.misread)
}

// dose is one value with the words around it.
type dose struct {
	measure, species, name, cas string
	route                       ghs.Qualifier
	hours                       float64
	found                       number.Found
	text                        string
	at                          stretch
	words                       string
	subject                     subject
}

// walkDoses finds measures with values line by line; the ingredient is the one named last, in the line or above.
func (r *reader) walkDoses(body []int, yield func(dose)) {
	name, cas := "", ""
	var about subject
	route := ghs.NoQualifier
	measure := ""
	var heads []doseHead
	for _, i := range body {
		l := &r.lines[i]
		flat := strings.ReplaceAll(l.Text, "\t", " ")
		low := fold(flat)
		if startsSubsection(l.Text) {
			name, cas, route, measure = "", "", ghs.NoQualifier, ""
			about = subject{}
		}
		if c := number.CASNumbers(l.Text, r.ocr); len(c) > 0 && c[0].Valid {
			cas = c[0].Number
			about.of(l, c[0])
			name = r.nameOf(cas)
			if before := strings.Trim(flat[:c[0].Start], " (:"); name == "" && hasName(before) {
				name = before
			}
		} else if in, ok := r.ingredientNamed(l); ok {
			name, cas = in.Name.Value, in.CAS.Value
			about = subject{}
		}
		ts := tokenize(flat)
		var marks []int
		var kinds []string
		for k := range ts {
			if m, n := measures.at(ts, k); n > 0 && (m != "ATE" || flat[ts[k].start] >= 'A' && flat[ts[k].start] <= 'Z') {
				marks = append(marks, ts[k].start)
				kinds = append(kinds, m)
			}
		}
		if h := doseHeads(l); len(h) > 1 {
			heads = h
			continue
		}
		if len(heads) > 0 && len(l.Cells) > 1 && r.dosesUnder(l, heads, yield) {
			continue
		}
		if len(l.Cells) == 1 {
			heads = nil
		}
		if strings.Contains(low, "product information") || strings.Contains(low, "atemix") || strings.Contains(low, "ate mix") {
			name, cas = "", ""
		}
		if rt := routeOf(low); rt != ghs.NoQualifier {
			route = rt
		}
		if len(marks) == 0 {
			if len(l.Text) < 60 && !hasDigits(l.Text, 1) {
				measure = ""
			}
			continue
		}
		measure = kinds[0]
		r.dosesOfLine(l, flat, marks, kinds, route, name, cas, func(d dose) {
			if d.cas == cas {
				d.subject = about
			}
			yield(d)
		})
	}
	_ = measure
}

// doseHead is a column of a table of doses: "Oral LD50".
type doseHead struct {
	measure string
	route   ghs.Qualifier
	box     sheet.Rect
	unit    number.Unit
}

// doseHeads reads a line as the head of a table with one measure per column.
func doseHeads(l *layout.Line) []doseHead {
	var out []doseHead
	for _, c := range l.Cells {
		m, _, n := measures.find(tokenize(c.Text))
		if n == 0 || len(c.Text) > 40 {
			continue
		}
		unit := unitIn(c.Text + " ")
		for _, f := range number.Scan(c.Text, number.Undecided) {
			if f.Unit.Dim == number.Dose || f.Unit.Dim == number.MassPerVolume {
				return nil // a value, no head
			}
		}
		out = append(out, doseHead{measure: m, route: routeOf(fold(c.Text)), box: c.Box, unit: unit})
	}
	return out
}

// dosesUnder reads a row below a head: the substance in its first cell, one dose per column. It is false when the row
// holds none.
func (r *reader) dosesUnder(l *layout.Line, heads []doseHead, yield func(dose)) bool {
	first := l.Cells[0]
	name, cas := strings.TrimSpace(first.Text), ""
	var about subject
	if c := number.CASNumbers(l.Text, r.ocr); len(c) > 0 && c[0].Valid {
		cas = c[0].Number
		about.of(l, c[0])
		if n := r.nameOf(cas); n != "" {
			name = n
		}
	} else if in, ok := r.byName(name); ok {
		name, cas = in.Name.Value, in.CAS.Value
	}
	read := false
	for _, c := range l.Cells[1:] {
		best, most := -1, 0.0
		for i, h := range heads {
			if overlap := min(h.box.X1, c.Box.X1) - max(h.box.X0, c.Box.X0); overlap > most {
				best, most = i, overlap
			}
		}
		if best < 0 {
			continue
		}
		flat := strings.ReplaceAll(c.Text, "\t", " ")
		d := dose{measure: heads[best].measure, route: heads[best].route, name: name, cas: cas, subject: about, text: flat, words: flat}
		d.species, _, _ = speciesWords.find(tokenize(flat))
		found := number.Scan(flat, r.style)
		for _, f := range found {
			if f.Unit.Dim == number.Time && f.HasLo {
				d.hours = f.Unit.To(f.Lo)
			}
		}
		for _, f := range found {
			if f.Unit.Zero() {
				f.Unit = heads[best].unit
			}
			if f.Unit.Dim != number.Dose && f.Unit.Dim != number.MassPerVolume && f.Unit.Name != "ppm" {
				continue
			}
			d.found, d.at = f, stretch{l, c.Start + f.Start, c.Start + f.End}
			yield(d)
			read = true
			break
		}
	}
	return read
}

// dosesOfLine pairs each value with the measure named nearest before it, or after it when none stands before.
func (r *reader) dosesOfLine(l *layout.Line, flat string, marks []int, kinds []string, route ghs.Qualifier, name, cas string, yield func(dose)) {
	labelUnit := number.Unit{}
	found := number.Scan(flat, r.style)
	for k, m := range marks {
		end := len(flat)
		if k+1 < len(marks) {
			end = marks[k+1]
		}
		for _, f := range found {
			if f.Start < m || f.Start >= end {
				continue
			}
			if f.Unit.Zero() {
				if labelUnit = unitIn(flat[m:f.Start] + " "); labelUnit.Zero() {
					continue
				}
				f.Unit = labelUnit
			}
			if f.Unit.Dim != number.Dose && f.Unit.Dim != number.MassPerVolume && f.Unit.Name != "ppm" && f.Unit.Name != "ppb" {
				continue
			}
			words := flat[m:end]
			from := 0
			if k > 0 {
				from = marks[k-1]
			}
			if in, ok := r.namedBefore(flat[from:m]); ok {
				name, cas = in.Name.Value, in.CAS.Value
			}
			d := dose{measure: kinds[k], name: name, cas: cas, found: f, text: flat, at: stretch{l, f.Start, f.End}, route: route, words: words}
			if rt := routeOf(fold(words)); rt != ghs.NoQualifier {
				d.route = rt
			}
			var named int
			if d.species, _, named = speciesWords.find(tokenize(words)); named == 0 {
				d.species, _, _ = speciesWords.find(tokenize(flat))
			}
			for _, h := range found {
				if h.Unit.Dim == number.Time && h.HasLo && h.Start >= m && h.Start < end {
					d.hours = h.Unit.To(h.Lo)
					break
				}
			}
			yield(d)
			break
		}
	}
}

// namedBefore finds the ingredient named last in a text.
func (r *reader) namedBefore(text string) (in sheet.Ingredient, ok bool) {
	low := " " + fold(text) + " "
	best := -1
	for _, x := range r.sheet.Composition.Ingredients {
		have := fold(x.Name.Value)
		if len(have) < 4 {
			continue
		}
		if at := strings.LastIndex(low, " "+have+" "); at > best || at == best && at >= 0 && len(have) > len(fold(in.Name.Value)) {
			in, ok, best = x, true, at
		}
	}
	return in, ok
}

func (r *reader) nameOf(cas string) string {
	for _, in := range r.sheet.Composition.Ingredients {
		if in.CAS.Value == cas {
			return in.Name.Value
		}
	}
	return ""
}

// ingredientNamed finds an ingredient named at the start of a line.
func (r *reader) ingredientNamed(l *layout.Line) (sheet.Ingredient, bool) {
	low := fold(l.Cells[0].Text)
	for _, in := range r.sheet.Composition.Ingredients {
		have := fold(in.Name.Value)
		if len(have) >= 4 && (low == have || strings.HasPrefix(low, have+" ")) {
			return in, true
		}
	}
	return sheet.Ingredient{}, false
}

// readCarcinogens reads listings by IARC, NTP and OSHA.
func (r *reader) readCarcinogens(body []int) {
	t := &r.sheet.Toxicology
	name, cas := "", ""
	for _, i := range body {
		l := &r.lines[i]
		if c := number.CASNumbers(l.Text, r.ocr); len(c) > 0 && c[0].Valid {
			cas = c[0].Number
			name = r.nameOf(cas)
		} else if in, ok := r.ingredientNamed(l); ok {
			name, cas = in.Name.Value, in.CAS.Value
		}
		for _, agency := range []string{"IARC", "NTP"} {
			at := strings.Index(l.Text, agency)
			if at < 0 {
				continue
			}
			rest := l.Text[at+len(agency):]
			group := cancerGroup(agency, rest)
			if group == "" {
				continue
			}
			v := sheet.CancerListing{Ingredient: name, CAS: cas, Agency: agency, Group: group}
			t.Carcinogens = append(t.Carcinogens, fact(v, likely, stretch{l, at, len(l.Text)}))
		}
	}
}

func cancerGroup(agency, rest string) string {
	low := fold(rest)
	if agency == "NTP" {
		switch {
		case strings.Contains(low, "known no"):
		case strings.Contains(low, "reasonably anticipated"):
			return "reasonably anticipated"
		case strings.Contains(low, "known to be") || strings.HasPrefix(low, "known"):
			return "known"
		}
		return ""
	}
	i := strings.Index(low, "group")
	if i < 0 {
		if i = strings.Index(low, "gruppe"); i < 0 {
			i = strings.Index(low, "grupo")
		}
	}
	if i < 0 {
		return ""
	}
	ts := strings.Fields(low[i:])
	if len(ts) > 1 {
		switch ts[1] {
		case "1", "2a", "2b", "3":
			if len(ts) > 2 && ts[2] == "no" {
				return ""
			}
			return strings.ToUpper(ts[1])
		}
	}
	return ""
}

type ecoKey uint8

const (
	ecoOther ecoKey = iota
	ecoDegradation
)

var ecoLabels = func() *phrases[ecoKey] {
	p := &phrases[ecoKey]{}
	p.add(ecoDegradation, `persistence and degradability|biodegradability|biodegradation|persistance et degradabilite|biodegradabilite|persistenz und abbaubarkeit|biologische abbaubarkeit|persistencia y degradabilidad|biodegradabilidad|persistence degradability`)
	p.add(ecoOther, `bioaccumulative potential|mobility in soil|results of pbt and vpvb assessment|other adverse effects|potentiel de bioaccumulation|bioakkumulationspotenzial|potencial de bioacumulacion|ecotoxicity|toxicity|mobility|bioaccumulation|mobilitat im boden|mobilite dans le sol|movilidad en el suelo`)
	return p
}()

// readEcology reads section 12.
func (r *reader) readEcology() {
	e := &r.sheet.Ecology
	body := r.part.body(12)
	for _, f := range fieldsIn(r.lines, body, ecoLabels, 3) {
		if f.key == ecoDegradation && e.Biodegradability.State == sheet.NotStated {
			if v := f.text(r.lines, 2); !v.empty() {
				e.Biodegradability = textFact(v)
			}
		}
	}
	r.walkDoses(body, func(d dose) {
		if d.measure == "LD50" || d.measure == "ATE" || d.found.Unit.Dim == number.Dose {
			return
		}
		ts := tokenize(d.text)
		group, at, n := waterSpecies.find(ts)
		species := ""
		if n > 0 {
			species = d.text[ts[at].start:ts[at+n-1].end]
			if n == 1 && at+1 < len(ts) && group != "" && ts[at].text != group && len(ts[at].text) > 5 && isLetter(d.text[ts[at+1].start]) && ts[at+1].start-ts[at].end == 1 {
				species = d.text[ts[at].start:ts[at+1].end]
			}
		}
		q := doseQuantity(d.found, d.text)
		v := sheet.EcoValue{Ingredient: d.name, CAS: d.cas, Measure: d.measure, Group: group, Species: species, Quantity: q, Hours: d.hours}
		e.Values = append(e.Values, fact(v, likely, d.at))
	})
}
