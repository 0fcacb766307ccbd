package facts

import (
	"strings"

	"sixteen/ghs"
	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/read/page"
	"sixteen/sheet"
)

// hazKey is a label of section 2.
type hazKey uint8

const (
	hazOther hazKey = iota
	hazClass
	hazSignal
	hazStatement
	hazPrecaution
	hazPictogram
	hazOtherHazards
	hazIngredients // what follows is about ingredients, not about the product
	hazUnknown
)

var hazLabels = func() *phrases[hazKey] {
	p := &phrases[hazKey]{}
	p.add(hazClass, `classification|classification of the substance or mixture|ghs classification|ghs us classification|hazard class|hazard classification|physical hazards|health hazards|environmental hazards|ghs hazard classifications|classification of the product|
		classification de la substance ou du melange|classification sgh|classification ghs|einstufung|einstufung des stoffs oder gemischs|clasificacion|clasificacion de la sustancia o de la mezcla|clasificacion sga|osha hcs classification`)
	p.add(hazSignal, `signal word|signal words|signalword|signal word ghs us|ghs signal word|mention d avertissement|mentions d avertissement|mot de signalement|mot signal|mot indicateur|signalwort|signalworter|gefahrensignalwort|palabra de advertencia|palabra de senal|palabra senal|palabras de advertencia`)
	p.add(hazStatement, `hazard statement|hazard statements|hazard statement s|hazards statements|ghs hazard statements|hazard phrases|hazard description|mention de danger|mentions de danger|mentions de danger sgh|mention s de danger|gefahrenhinweise|gefahrenhinweis|gefahrenerklarungen|indicaciones de peligro|indicacion de peligro|declaraciones de peligro|frases de peligro|consejos de peligro`)
	p.add(hazPrecaution, `precautionary statement|precautionary statements|precautionary statement s|ghs precaution phrases|precaution phrases|precautionary phrases|precautionary measures|conseils de prudence|conseil de prudence|sgh etiqueter les conseils de prudence|sicherheitshinweise|sicherheitshinweis|vorsorgliche erklarungen|consejos de prudencia|consejo de prudencia|declaraciones de precaucion|frases de precaucion|prevention|pravention|prevencion|response|reaktion|respuesta|intervention|storage|lagerung|stockage|almacenamiento|disposal|entsorgung|elimination|eliminacion`)
	p.add(hazPictogram, `pictogram|pictograms|hazard pictogram|hazard pictograms|hazard pictogram s|ghs pictograms|symbols|symbol|hazard symbols|hazard symbol|symbol s of product|ghs symbols|eu and ghs symbols|pictogrammes|pictogramme|pictogrammes de danger|symboles du produit|gefahrenpiktogramme|piktogramme|gefahrenpiktogramm|gefahrensymbole|pictogramas|pictogramas de peligro|pictograma|simbolos de peligro`)
	p.add(hazOtherHazards, `other hazards|other hazards which do not result in classification|hazards not otherwise classified|hazards not otherwise classified hnoc|other hazards not contributing to the classification|autres dangers|autres dangers qui ne donnent pas lieu a une classification|sonstige gefahren|otros peligros|peligros no clasificados de otra manera hnoc|peligros no clasificados de otra manera`)
	p.add(hazIngredients, `components contributing to classification|eu hazard classification of ingredients|hazard classification of ingredients|named chemicals on label|hazardous components which must be listed on the label|hazard determining components of labelling|hazardous ingredients|contains|contient|enthalt|contiene|gefahrbestimmende komponenten zur etikettierung|ingredients dangereux`)
	p.add(hazUnknown, `unknown acute toxicity|unknown toxicity|acute toxicity unknown|toxicite aigue inconnue|toxicidad aguda desconocida`)
	p.add(hazOther, `emergency overview|label elements|elements d etiquetage|kennzeichnungselemente|elementos de la etiqueta|supplemental information|other information|us dot symbols|potential health effects|target organs|appearance|odor|color|physical state`)
	return p
}()

// readHazards reads section 2. Codes in lines that carry a CAS number belong to ingredients and are left out.
func (r *reader) readHazards() {
	h := &r.sheet.Hazards
	body := r.part.body(2)
	r.readPreGHS()
	fields := fieldsIn(r.lines, body, hazLabels, 40)
	r.readSignal(fields, body)
	ingredients := ingredientLines(fields)
	r.readStatements(body, ingredients)
	if !r.sheet.PreGHS.Value && !hasPhrases(h.Statements) {
		r.statementsFromPhrases(body)
	}
	r.readClasses(fields, body, ingredients)
	r.readRiskPhrases(body)
	r.readPictograms(fields, body)
	r.readUnknownShares(body)
	for _, f := range fields {
		if f.key == hazOtherHazards && h.OtherHazards.State == sheet.NotStated {
			if v := f.text(r.lines, 4); !v.empty() {
				h.OtherHazards = otherHazards(v)
			}
		}
	}
	r.classifiedState(fields, body)
}

// noneKnown are wordings that stand for "no data" elsewhere, and under "other hazards" say that there are none.
const noneKnown = "none known|none identified|no other hazards known|no other hazards identified|no known other hazards|aucun connu|aucun autre danger connu|pas d autres dangers connus|non connu|keine bekannt|keine weiteren gefahren bekannt|nicht bekannt|no se conocen|ninguno conocido|no se conocen otros peligros"

var noneKnownWords = func() *phrases[sheet.State] {
	p := &phrases[sheet.State]{}
	p.add(sheet.NoneStated, noneKnown)
	return p
}()

// otherHazards reads the text under "other hazards", where "none known" states that there are none.
func otherHazards(v stretch) sheet.Fact[string] {
	f := textFact(v)
	ts := tokenize(strings.Trim(v.text(), " \t:.;,*[]()"))
	if _, n := noneKnownWords.at(ts, 0); n > 0 && n == len(ts) {
		f.State = sheet.NoneStated
	}
	return f
}

// ingredientLines marks the lines that belong to a label about ingredients.
func ingredientLines(fields []field[hazKey]) map[int]bool {
	out := map[int]bool{}
	for _, f := range fields {
		if f.key != hazIngredients {
			continue
		}
		out[f.at] = true
		for _, b := range f.below {
			out[b] = true
		}
	}
	return out
}

// hasPhrases tells whether a hazard statement was read with its words. Where all codes stand alone, beside their classes
// for example, the words may stand elsewhere without a code.
func hasPhrases(ss []sheet.Fact[sheet.Statement]) bool {
	for _, s := range ss {
		if s.Value.Code.Kind() == ghs.HazardStatement && s.Value.Phrase != "" {
			return true
		}
	}
	return false
}

func hasHazardCodes(ss []sheet.Fact[sheet.Statement]) bool {
	for _, s := range ss {
		if s.Value.Code.Kind() == ghs.HazardStatement {
			return true
		}
	}
	return false
}

// signalWord reads the standard's two words, and words that sheets print instead.
func signalWord(s string) (word ghs.SignalWord, known bool) {
	t := strings.Trim(s, " \t!.:,;*\"'«»-–")
	if w, ok := ghs.ParseSignalWord(t); ok {
		return w, true
	}
	switch fold(t) {
	case "avertissement", "advertencia", "atencion", "warning", "mise en garde":
		return ghs.Warning, true
	case "caution", "prudence", "vorsicht", "precaucion", "cuidado", "notice", "poison":
		return ghs.NoSignalWord, true
	}
	return ghs.NoSignalWord, false
}

func (r *reader) readSignal(fields []field[hazKey], body []int) {
	h := &r.sheet.Hazards
	set := func(v stretch, confidence float64) bool {
		v = v.trim(" \t!.:,;*\"'-–")
		if v.empty() {
			return false
		}
		w, ok := signalWord(v.text())
		if !ok {
			return false
		}
		h.SignalPrinted = fact(v.text(), confidence, v)
		if w != ghs.NoSignalWord {
			h.SignalWord = fact(w, confidence, v)
		}
		return true
	}
	for _, f := range fields {
		if f.key != hazSignal {
			continue
		}
		candidates := []stretch{f.value}
		for _, b := range f.below {
			for _, c := range r.lines[b].Cells {
				candidates = append(candidates, stretch{&r.lines[b], c.Start, c.End})
			}
			if len(candidates) > 6 {
				break
			}
		}
		for _, v := range candidates {
			if v.empty() {
				continue
			}
			if set(v, sureLabel) || set(firstWord(v), sureLabel) {
				return
			}
			if state, ok := stateOf(v.text()); ok {
				if state == sheet.NoData || state == sheet.NotApplicable {
					state = sheet.NoneStated
				}
				h.SignalWord = said[ghs.SignalWord](state, v)
				return
			}
			break
		}
	}
	for _, i := range body { // label and word within a longer text
		l := &r.lines[i]
		ts := tokenize(l.Text)
		for k := range ts {
			if v, n := hazLabels.at(ts, k); n > 0 && v == hazSignal && k+n < len(ts) {
				next := ts[k+n]
				if w, ok := signalWord(next.text); ok && w != ghs.NoSignalWord && set(stretch{l, next.start, next.end}, likely) {
					return
				}
			}
		}
	}
	for _, i := range body { // the word alone in a cell
		l := &r.lines[i]
		for _, c := range l.Cells {
			if len(c.Text) < 24 && set(stretch{l, c.Start, c.End}, likely) {
				return
			}
		}
	}
	if r.sheet.PreGHS.Value || !r.has(2) {
		r.signalOfOverview(body, set)
	}
}

// firstWord is the first word of a stretch.
func firstWord(v stretch) stretch {
	ts := tokenize(v.line.Text[v.start:v.end])
	if len(ts) == 0 {
		return v
	}
	return v.sub(ts[0].start, ts[0].end)
}

// signalOfOverview takes the word that opens the emergency overview of sheets before GHS: "DANGER!", "WARNING:".
func (r *reader) signalOfOverview(body []int, set func(stretch, float64) bool) {
	if len(body) == 0 {
		body = r.all()
	}
	for _, i := range body {
		l := &r.lines[i]
		for _, c := range l.Cells {
			ts := tokenize(c.Text)
			if len(ts) == 0 {
				continue
			}
			first := ts[0]
			if k := strings.IndexByte(c.Text, ':'); k > 0 && k < 30 && len(ts) > 2 && strings.Contains(fold(c.Text[:k]), "overview") {
				rest := tokenize(c.Text[k:])
				if len(rest) > 0 {
					first = token{rest[0].text, k + rest[0].start, k + rest[0].end}
				}
			}
			next := ""
			if first.end < len(c.Text) {
				next = c.Text[first.end : first.end+1]
			}
			if next != "!" && next != ":" && next != "." {
				continue
			}
			if w, ok := signalWord(first.text); !ok || w == ghs.NoSignalWord && next != "!" {
				continue
			}
			if set(stretch{l, c.Start + first.start, c.Start + first.end}, inferred) {
				return
			}
		}
	}
}

// readStatements reads the codes of section 2.
func (r *reader) readStatements(body []int, ingredients map[int]bool) {
	h := &r.sheet.Hazards
	index := map[ghs.Code]int{}
	for bi, i := range body {
		l := &r.lines[i]
		if !hasDigits(l.Text, 3) || ingredients[i] && !strings.Contains(l.Text, "EUH") {
			continue
		}
		hits := ghs.ParseCodes(l.Text)
		if len(hits) == 0 || len(number.CASNumbers(l.Text, false)) > 0 {
			continue
		}
		for k, hit := range hits {
			if !hit.Code.Known() && !allDigits(l.Text[hit.Start:hit.End]) {
				continue
			}
			where := stretch{l, hit.Start, hit.End}
			st := sheet.Statement{Code: hit.Code, Phrase: r.phraseOf(body, bi, hits, k)}
			list := &h.Statements
			if hit.Code.Kind() == ghs.PrecautionaryStatement {
				list = &h.Precautions
			}
			if at, ok := index[hit.Code]; ok {
				f := &(*list)[at]
				f.Evidence = append(f.Evidence, where.evidence()...)
				if f.Value.Phrase == "" {
					f.Value.Phrase = st.Phrase
				}
				continue
			}
			index[hit.Code] = len(*list)
			confidence := sureCode
			if !hit.Code.Known() {
				confidence = uncertain
			}
			*list = append(*list, fact(st, confidence, where))
		}
	}
}

// allDigits tells whether a code is printed with plain digits.
func allDigits(s string) bool { return hasDigits(s, 3) }

// phraseOf is the phrase printed with the k-th code of a line: behind it, or before it when the code stands in brackets.
func (r *reader) phraseOf(body []int, bi int, hits []ghs.CodeHit, k int) string {
	l := &r.lines[body[bi]]
	end := len(l.Text)
	if k+1 < len(hits) {
		end = hits[k+1].Start
	}
	if before := phraseBefore(l, hits, k); before != "" {
		return before
	}
	after := strings.Trim(strings.ReplaceAll(l.Text[hits[k].End:end], "\t", " "), " :;,-–)(")
	if len(classesOf(after)) > 0 {
		return "" // the next class of a list, no phrase
	}
	if len(after) < 4 || k+1 < len(hits) {
		return after
	}
	for _, j := range body[bi+1 : min(len(body), bi+4)] { // a wrapped phrase
		n := &r.lines[j]
		if strings.HasSuffix(after, ".") || len(ghs.ParseCodes(n.Text)) > 0 || len(labelsOf(n, hazLabels)) > 0 || startsSubsection(n.Text) || n.Page != l.Page {
			break
		}
		first := firstRune(strings.TrimSpace(n.Text))
		if first >= 'A' && first <= 'Z' && n.Box.X0 < l.BoxOf(hits[k].Start, hits[k].End).X0-2 {
			break
		}
		after += " " + strings.TrimSpace(strings.ReplaceAll(n.Text, "\t", " "))
	}
	return after
}

// phraseBefore is the phrase in front of the k-th code of a line whose codes stand in brackets behind their phrases, "" on
// other lines: "Causes skin irritation. (H315) Causes serious eye irritation. (H319)".
func phraseBefore(l *layout.Line, hits []ghs.CodeHit, k int) string {
	before := func(k int) string {
		at := hits[k].Start
		if at == 0 || l.Text[at-1] != '(' {
			return ""
		}
		from := strings.LastIndexByte(l.Text[:at], '\t') + 1
		if k > 0 {
			from = max(from, hits[k-1].End)
		}
		for _, f := range labelsOf(l, hazLabels) {
			if f.value.start <= at && f.label.end <= at {
				from = max(from, f.value.start)
			}
		}
		if from >= at {
			return ""
		}
		return strings.Trim(l.Text[from:at], " :;,-–)(")
	}
	text := before(k)
	if len(text) < 4 || len(before(0)) < 4 || len(classesOf(text)) > 0 {
		return ""
	}
	return text
}

// readPreGHS tells whether the sheet was written under law older than GHS.
func (r *reader) readPreGHS() {
	old, fresh := stretch{}, stretch{}
	look := func(l *layout.Line) {
		ts := tokenize(l.Text)
		if v, i, n := titles.find(ts); n > 0 && v && old.empty() {
			old = stretch{l, ts[i].start, ts[i+n-1].end}
		}
	}
	for i := range r.running {
		look(&r.running[i])
	}
	for _, i := range r.part.front() {
		look(&r.lines[i])
	}
	for _, i := range append(r.part.body(1), r.part.body(2)...) {
		l := &r.lines[i]
		if !fresh.empty() {
			break
		}
		for _, hit := range ghs.ParseCodes(l.Text) {
			if k := hit.Code.Kind(); hit.Code.Known() && k != "" {
				fresh = stretch{l, hit.Start, hit.End}
			}
		}
		for _, t := range tokenize(l.Text) {
			switch t.text {
			case "ghs", "sgh", "sga", "clp":
				fresh = stretch{l, t.start, t.end}
			}
		}
		if fresh.empty() {
			if k, _, n := hazLabels.find(tokenize(l.Text)); n > 0 && k == hazSignal {
				fresh = lineOf(l)
			}
		}
	}
	switch {
	case !fresh.empty():
		r.sheet.PreGHS = fact(false, likely, fresh)
	case !old.empty():
		r.sheet.PreGHS = fact(true, likely, old)
	case r.has(2) && !r.ordered():
		r.sheet.PreGHS = sheet.Fact[bool]{State: sheet.Stated, Value: true, Confidence: uncertain, Evidence: r.headingOf(2)}
	}
}

// ordered tells whether the sections stand in the standard's order.
func (r *reader) ordered() bool { return r.part.ordered() }

func (r *reader) headingOf(topic int) []sheet.Evidence {
	for _, s := range r.part.sections {
		if s.topic == topic {
			return s.head.where.evidence()
		}
	}
	return nil
}

// readRiskPhrases reads R-phrases ("R36/38") of section 2.
func (r *reader) readRiskPhrases(body []int) {
	h := &r.sheet.Hazards
	seen := map[string]bool{}
	for _, i := range body {
		l := &r.lines[i]
		for k := 0; k+1 < len(l.Text); k++ {
			if l.Text[k] != 'R' || k > 0 && (isLetter(l.Text[k-1]) || isDigit(l.Text[k-1]) || l.Text[k-1] == '-') {
				continue
			}
			j := k + 1
			for j < len(l.Text) && (isDigit(l.Text[j]) || (l.Text[j] == '/' || l.Text[j] == '-') && j+1 < len(l.Text) && isDigit(l.Text[j+1])) {
				j++
			}
			p, ok := ghs.Legacy(l.Text[k:j])
			if !ok || seen[p.Code] || j < len(l.Text) && isLetter(l.Text[j]) {
				continue
			}
			seen[p.Code] = true
			phrase := strings.Trim(strings.ReplaceAll(l.Text[j:], "\t", " "), " :;,-–)(")
			h.RiskPhrases = append(h.RiskPhrases, fact(sheet.Statement{Code: ghs.Code(p.Code), Phrase: phrase}, likely, stretch{l, k, j}))
		}
	}
}

// readPictograms reads pictograms by number ("GHS07"), by name beside their label, and by picture.
func (r *reader) readPictograms(fields []field[hazKey], body []int) {
	h := &r.sheet.Hazards
	seen := map[ghs.Pictogram]bool{}
	add := func(f sheet.Fact[ghs.Pictogram]) {
		if f.Value != ghs.NoPictogram && !seen[f.Value] {
			seen[f.Value] = true
			h.Pictograms = append(h.Pictograms, f)
		}
	}
	for _, i := range body {
		l := &r.lines[i]
		if len(number.CASNumbers(l.Text, false)) > 0 {
			continue
		}
		for k := 0; k+4 < len(l.Text); k++ {
			if l.Text[k] != 'G' || !strings.HasPrefix(l.Text[k:], "GHS") {
				continue
			}
			j := k + 3
			for j < len(l.Text) && (l.Text[j] == ' ' || l.Text[j] == '-') && j < k+5 {
				j++
			}
			if j+1 < len(l.Text) && l.Text[j] == '0' && isDigit(l.Text[j+1]) && (j+2 == len(l.Text) || !isDigit(l.Text[j+2])) {
				if p, ok := ghs.ParsePictogram("GHS0" + l.Text[j+1:j+2]); ok {
					add(fact(p, sureCode, stretch{l, k, j + 2}))
				}
			}
		}
	}
	for _, f := range fields {
		if f.key != hazPictogram {
			continue
		}
		v := f.text(r.lines, 0)
		if len(f.below) > 0 && (v.empty() || strings.HasSuffix(v.text(), ",")) {
			v = f.text(r.lines, 1)
		}
		if v.empty() {
			continue
		}
		r.namedPictograms(v, add)
		for _, b := range f.below { // a list, one name a line
			text := strings.Trim(r.lines[b].Text, " .•-–")
			if _, n := pictogramAt(text); n == 0 || n < len(text) {
				break
			}
			r.namedPictograms(lineOf(&r.lines[b]), add)
		}
		if state, ok := stateAlone(v.text()); ok && len(seen) == 0 && h.PictogramState == sheet.NotStated {
			h.PictogramState = sheet.NoneStated
			_ = state
		}
	}
	if r.picture != nil {
		for _, f := range r.picturesOf(2, false) {
			add(f)
		}
		if len(h.Pictograms) == 0 && h.PictogramState != sheet.NoneStated && len(h.Statements) > 0 && !r.sheet.PreGHS.Value {
			// Hazards without a pictogram: it may be part of a larger drawing, or of lines that are no picture of their own.
			for _, f := range r.picturesOf(2, true) {
				add(f)
			}
		}
	}
	if len(h.Pictograms) > 0 {
		h.PictogramState = sheet.Stated
	}
}

// namedPictograms reads names of symbols separated by commas, slashes or wide gaps.
func (r *reader) namedPictograms(v stretch, add func(sheet.Fact[ghs.Pictogram])) {
	t := v.line.Text
	from := v.start
	for i := v.start; i <= v.end; i++ {
		if i < v.end && strings.IndexByte(",;/\t•", t[i]) < 0 {
			continue
		}
		piece := stretch{v.line, from, i}.trim(" .:")
		if p, n := pictogramAt(piece.text()); n > 0 {
			add(fact(p, likely, piece.sub(0, n)))
		}
		from = i + 1
	}
}

// pictogramAt is the symbol whose name begins the text, the longest of several, and how long the name is; 0 is none.
func pictogramAt(text string) (ghs.Pictogram, int) {
	const most = 7 // words of the longest name
	ts := tokenize(text)
	for n := min(len(ts), most); n > 0; n-- {
		if p, ok := ghs.ParsePictogram(text[:ts[n-1].end]); ok {
			return p, ts[n-1].end
		}
	}
	return ghs.NoPictogram, 0
}

// picturesOf asks the picture reader for the pictograms among the pictures that stand within a section, or with whole for
// those anywhere on its pages that lie within it.
func (r *reader) picturesOf(topic int, whole bool) []sheet.Fact[ghs.Pictogram] {
	var out []sheet.Fact[ghs.Pictogram]
	for _, s := range r.part.sections {
		if s.topic != topic || s.head.at >= len(r.lines) {
			continue
		}
		first := r.lines[s.head.at]
		lastPage, lastY := 1<<30, 1e9
		if s.to < len(r.lines) {
			lastPage, lastY = r.lines[s.to].Page, r.lines[s.to].Box.Y0
		}
		for _, p := range r.pages {
			if p.Number < first.Page || p.Number > lastPage {
				continue
			}
			inside := func(at sheet.Rect) bool {
				above := p.Number == first.Page && at.Y1 < first.Box.Y0
				below := p.Number == lastPage && at.Y0 > lastY
				line := r.lineAbove(p.Number, at)
				return !above && !below || line >= s.head.at && line < s.to
			}
			var images []page.Image
			for _, im := range p.Images {
				if inside(im.Box) {
					images = append(images, im)
				}
			}
			if whole {
				images = []page.Image{{Box: sheet.Rect{X1: p.Width, Y1: p.Height}}}
			}
			if len(images) == 0 {
				continue
			}
			for _, f := range r.picture.Pictograms(p, images) { // a picture may be larger than the section
				at := f.Where().Box
				if middle := (at.Y0 + at.Y1) / 2; inside(sheet.Rect{X0: at.X0, Y0: middle, X1: at.X1, Y1: middle}) {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// lineAbove is the index of the line that a picture stands below in its column, -1 when there is none.
func (r *reader) lineAbove(number int, at sheet.Rect) int {
	best := -1
	for i := range r.lines {
		b := r.lines[i].Box
		if r.lines[i].Page == number && b.Y1 <= at.Y0+2 && b.X0 < at.X1 && b.X1 > at.X0 && (best < 0 || b.Y0 >= r.lines[best].Box.Y0) {
			best = i
		}
	}
	return best
}

// readUnknownShares reads "x % of the mixture consists of ingredients of unknown acute toxicity".
func (r *reader) readUnknownShares(body []int) {
	h := &r.sheet.Hazards
	for bi, i := range body {
		l := &r.lines[i]
		low := fold(l.Text)
		if !strings.Contains(low, "unknown") && !strings.Contains(low, "inconnu") && !strings.Contains(low, "unbekannt") && !strings.Contains(low, "desconocid") {
			continue
		}
		from, to := bi, min(len(body), bi+3)
		if bi > 0 && !strings.Contains(l.Text, "%") && strings.Contains(r.lines[body[bi-1]].Text, "%") {
			from--
		}
		for _, j := range body[from:to] {
			n := &r.lines[j]
			f, ok := firstPercent(n.Text, r.style)
			if !ok {
				continue
			}
			v, single := f.Single()
			if !single {
				continue
			}
			share := sheet.UnknownShare{Percent: v, Route: routeOf(low + " " + fold(n.Text))}
			share.Aquatic = strings.Contains(low, "aquatic") || strings.Contains(low, "aquatique") || strings.Contains(low, "gewasser") || strings.Contains(low, "acuatic")
			known := false
			for _, u := range h.UnknownToxicity {
				if u.Value == share {
					known = true
				}
			}
			if known {
				break
			}
			h.UnknownToxicity = append(h.UnknownToxicity, fact(share, likely, stretch{n, f.Start, f.End}))
			break
		}
	}
}

// firstPercent finds the first number with a percent sign.
func firstPercent(s string, style number.Style) (number.Found, bool) {
	if strings.IndexByte(s, '%') < 0 {
		return number.Found{}, false
	}
	for _, f := range number.Scan(s, style) {
		if f.Unit.Dim == number.Share && f.Unit.Name[0] == '%' {
			return f, true
		}
	}
	return number.Found{}, false
}

// routeOf finds the route of exposure in folded text.
func routeOf(folded string) ghs.Qualifier {
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(folded, w) {
				return true
			}
		}
		return false
	}
	switch {
	case has("oral", "ingestion", "swallow", "verschlucken", "voie orale", "ingesti"):
		return ghs.Oral
	case has("dermal", "skin", "cutane", "haut", "piel", "percutan", "peau"):
		return ghs.Dermal
	case has("inhal", "einatmen"):
		switch {
		case has("vapo", "vapeur", "dampf"):
			return ghs.InhalationVapour
		case has("dust", "mist", "staub", "nebel", "poussiere", "brouillard", "polvo", "niebla"):
			return ghs.InhalationDust
		case has("gas", "gaz"):
			return ghs.InhalationGas
		}
		return ghs.InhalationVapour
	}
	return ghs.NoQualifier
}

// notClassified are the wordings by which a sheet says that the product has no classification.
var notClassified = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `not classified|not a hazardous substance or mixture|not hazardous|not classified as hazardous|not a dangerous substance|does not meet the criteria for classification|no hazard classification|not a hazardous substance|not considered hazardous|not hazardous according to|this product is not classified|is not classified|not classified as dangerous|does not meet the criteria|ne repond pas aux criteres de classification|erfullt die kriterien fur eine einstufung nicht|no cumple los criterios de clasificacion|
		non classe|non classee|n est pas classe|n est pas classee|pas classe comme dangereux|nicht eingestuft|keine gefahrliche substanz|kein gefahrlicher stoff|ist nicht eingestuft|nicht als gefahrlich eingestuft|no clasificado|no clasificada|no esta clasificado|no es una sustancia o mezcla peligrosa|no peligroso`)
	return p
}()

// transportLaw are words that show that a sentence speaks of dangerous goods in transport, not of classification.
var transportLaw = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `adr|rid|adn|imdg|imo|iata|icao|dot|tdg|transport|transportation|shipping|carriage|dangerous goods|transporte|beforderung|gefahrgut|transportvorschriften|mercancia|mercancias|marchandises`)
	return p
}()

// denial finds the words of at least the given count by which a line says that the product has no classification: the first
// of its tokens and how many, 0 for none. A sentence about transport denies nothing of the classification.
func denial(text string, ts []token, least int) (at, n int) {
	for i := 0; i < len(ts); i++ {
		_, n := notClassified.at(ts, i)
		if n == 0 {
			continue
		}
		if n >= least {
			from, to := i, i+n
			for from > 0 && !endsSentence(text[ts[from-1].end:ts[from].start]) {
				from--
			}
			for to < len(ts) && !endsSentence(text[ts[to-1].end:ts[to].start]) {
				to++
			}
			if _, _, about := transportLaw.find(ts[from:to]); about == 0 {
				return i, n
			}
		}
		i += n - 1
	}
	return 0, 0
}

// endsSentence tells whether what stands between two words parts two sentences.
func endsSentence(between string) bool {
	return strings.Contains(between, ". ") || strings.ContainsAny(between, "!;\t")
}

// classifiedState says whether the product is classified, stated not to be, or neither.
func (r *reader) classifiedState(fields []field[hazKey], body []int) {
	h := &r.sheet.Hazards
	if len(h.Classification) > 0 && r.sheet.PreGHS.State == sheet.NotStated {
		r.sheet.PreGHS = sheet.Fact[bool]{State: sheet.Stated, Confidence: likely, Evidence: h.Classification[0].Evidence}
	}
	if len(h.Classification) == 0 && r.deniedInASentence(body) {
		return // beside statements: whoever compares the two must see both
	}
	if len(h.Classification) > 0 || hasHazardCodes(h.Statements) {
		h.Classified = sheet.Stated
		if len(h.Classification) > 0 {
			h.ClassifiedAt = h.Classification[0].Evidence
		} else {
			h.ClassifiedAt = h.Statements[0].Evidence
		}
		return
	}
	for _, i := range body {
		l := &r.lines[i]
		ts := tokenize(l.Text)
		if k, n := denial(l.Text, ts, 1); n > 0 {
			h.Classified = sheet.NoneStated
			h.ClassifiedAt = stretch{l, ts[k].start, ts[k+n-1].end}.evidence()
			return
		}
	}
}

// deniedInASentence notes that section 2 says of the product, in three words or more, that it is not classified. A bare "not
// classified" may speak of one class only.
func (r *reader) deniedInASentence(body []int) bool {
	for _, i := range body {
		l := &r.lines[i]
		ts := tokenize(l.Text)
		if k, n := denial(l.Text, ts, 3); n > 0 {
			r.sheet.Hazards.Classified = sheet.NoneStated
			r.sheet.Hazards.ClassifiedAt = stretch{l, ts[k].start, ts[k+n-1].end}.evidence()
			return true
		}
	}
	return false
}

// statementsFromPhrases concludes codes from the wording of statements, for sheets that print no codes with the words of
// section 2. A code that was read without words, beside its class for example, is given them.
func (r *reader) statementsFromPhrases(body []int) {
	h := &r.sheet.Hazards
	seen := map[ghs.Code]bool{}
	bare := map[ghs.Code]int{} // indexes of statements without words
	for i, s := range h.Statements {
		if seen[s.Value.Code] = true; s.Value.Phrase == "" {
			bare[s.Value.Code] = i
		}
	}
	for _, s := range h.Precautions {
		seen[s.Value.Code] = true
	}
	add := func(m ghs.PhraseMatch, l *layout.Line) {
		where := stretch{l, m.Start, min(m.End, len(l.Text))}
		if i, ok := bare[m.Code]; ok {
			f := &h.Statements[i]
			f.Value.Phrase = strings.Join(strings.Fields(where.text()), " ")
			f.Evidence = append(f.Evidence, where.evidence()...)
			delete(bare, m.Code)
		}
		if seen[m.Code] {
			return
		}
		seen[m.Code] = true
		st := sheet.Statement{Code: m.Code, Phrase: strings.Join(strings.Fields(where.text()), " "), FromPhrase: true}
		f := fact(st, likely*min(1, max(m.Score, 0.5)), where)
		for i := range f.Evidence {
			f.Evidence[i].How = sheet.ByInference
		}
		if m.Code.Kind() == ghs.PrecautionaryStatement {
			h.Precautions = append(h.Precautions, f)
		} else {
			h.Statements = append(h.Statements, f)
		}
	}
	const most = 60 // lines looked at together, so that wrapped phrases are found
	for from := 0; from < len(body); from += most {
		run := body[from:min(len(body), from+most+2)]
		lines := make([]layout.Line, len(run))
		for k, i := range run {
			lines[k] = r.lines[i]
		}
		joined := layout.Join(lines...)
		matches := ghs.FindPhrase(joined.Text, "")
		for _, m := range matches {
			add(m, &joined)
		}
		at := 0
		for k, i := range run { // a short phrase may be lost between its neighbours: each line that holds none by itself
			l := &r.lines[i]
			if !overlaps(matches, at, at+len(lines[k].Text)) && len(l.Text) < 120 {
				for _, m := range ghs.FindPhrase(l.Text, "") {
					if m.Score == 1 {
						add(m, l)
					}
				}
			}
			at += len(lines[k].Text) + 1
		}
	}
}

// overlaps tells whether a match touches the bytes from up to to.
func overlaps(ms []ghs.PhraseMatch, from, to int) bool {
	for _, m := range ms {
		if m.Start < to && m.End > from {
			return true
		}
	}
	return false
}
