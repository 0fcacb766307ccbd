package facts

import (
	"regexp"
	"strings"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// limitWord is what a wording near a value says about it.
type limitWord struct {
	kind      sheet.LimitKind
	authority string
	skin      bool
	sens      bool
	vacated   bool
	fraction  string
	skip      bool // the value is no exposure limit: IDLH, odour threshold, DNEL
}

// limitWords are the terms of exposure limit lists. Kinds: 29 CFR 1910.1000; ACGIH TLV; Directive 98/24/EC; EH40; TRGS 900;
// VLEP (Code du travail R4412-149); VLA (INSST).
var limitWords = func() *phrases[limitWord] {
	p := &phrases[limitWord]{}
	p.add(limitWord{kind: sheet.TWA}, `twa|time weighted average|8 hour twa|8 hr twa|twaev|tlv twa|twa value|long term exposure limit|long term|8 hours|8 hour|8 hr|8 h|8 hrs|8 heures|8 stunden|8 horas|valeur limite 8 heures|ltel|mak|lt|wel twa|oel twa|valor limite 8 horas|schichtmittelwert|moyenne ponderee|media ponderada en el tiempo|ponderado en el tiempo|tlv twa 8h|vlep 8 heures|langzeit|langzeitwert|tgg 8h|ppt|vle ppt|tmp`)
	p.add(limitWord{kind: sheet.STEL}, `stel|short term exposure limit|short term|15 minutes|15 minute|15 min|15 mins|stev|short time value|kurzzeitgrenzwert|kurzzeitwert|kurzzeit|courte duree|valeur de courte duree|ct|valeur limite court terme|corta duracion|exposicion de corta duracion|tlv stel|stel value|15 minuten|15 minutos|tgg 15 min|spitzenbegrenzung|vle ct|spitzenbegr|valeur courte duree`)
	p.add(limitWord{kind: sheet.Ceiling}, `ceiling|ceil|c|tlv c|ceiling limit|ceiling value|plafond|techo|valor techo|hochstwert|ceiling limit value|valeur plafond|momentanwert`)
	p.add(limitWord{kind: sheet.TWA, authority: "ES VLA"}, `vla ed`)
	p.add(limitWord{kind: sheet.STEL, authority: "ES VLA"}, `vla ec`)
	p.add(limitWord{kind: sheet.TWA, authority: "FR VLEP"}, `vlep 8h|vlep 8 h|vme`)
	p.add(limitWord{kind: sheet.STEL, authority: "FR VLEP"}, `vlct|vlep ct`)
	p.add(limitWord{kind: sheet.TWA, authority: "CA Quebec"}, `vemp`)
	p.add(limitWord{kind: sheet.STEL, authority: "CA Quebec"}, `vecd`)
	p.add(limitWord{authority: "OSHA PEL"}, `osha|pel|osha pel|osha pels|us osha|osha z 1|table z 1|osha table z 1|osha z1|osha z 2`)
	p.add(limitWord{authority: "ACGIH TLV"}, `acgih|tlv|acgih tlv|us acgih|tlvs|acgih tlvs`)
	p.add(limitWord{authority: "NIOSH REL"}, `niosh|rel|niosh rel|us niosh|niosh pel`)
	p.add(limitWord{authority: "Cal/OSHA PEL"}, `cal osha|california|cal pel|ca osha`)
	p.add(limitWord{authority: "AIHA WEEL"}, `aiha|weel`)
	p.add(limitWord{authority: "UK WEL"}, `wel|eh40|uk wel|uk eh40|gb wel|eh40 2005 wels`)
	p.add(limitWord{authority: "EU IOELV"}, `ioelv|eu oel|2000 39 ec|2000 39 eg|2000 39 ce|eu elv|eu ioelv|2006 15 ec|2009 161 eu|2017 164 eu|scoel`)
	p.add(limitWord{authority: "EU BOELV"}, `boelv|eu boelv`)
	p.add(limitWord{authority: "DE AGW"}, `agw|trgs 900|trgs|arbeitsplatzgrenzwert|arbeitsplatzgrenzwerte|dfg`)
	p.add(limitWord{authority: "FR VLEP"}, `vlep|inrs|vle`)
	p.add(limitWord{authority: "ES VLA"}, `vla|insst|inshbt`)
	p.add(limitWord{authority: "CA Quebec"}, `quebec|rsst|quebec twaev`)
	p.add(limitWord{authority: "CA Ontario"}, `ontario|ohsa can`)
	p.add(limitWord{authority: "CA Alberta"}, `alberta`)
	p.add(limitWord{authority: "CA British Columbia"}, `british columbia|worksafebc`)
	p.add(limitWord{authority: "MX OEL"}, `mexico|nom 010`)
	p.add(limitWord{authority: "BR OEL"}, `brazil`)
	p.add(limitWord{authority: "AU WES"}, `wes|safe work australia|nohsc|australia`)
	p.add(limitWord{authority: "BE limit"}, `belgique|belgium|belgie`)
	p.add(limitWord{authority: "manufacturer"}, `manufacturer|supplier|internal|dupont|recommended by manufacturer|cmrg|vendor guide|company guideline`)
	p.add(limitWord{skin: true}, `skin|sk|skin designation|skin notation|haut|peau|piel|via dermica|s skin|skin absorption|absorption cutanee|hautresorptiv|voie cutanee`)
	p.add(limitWord{sens: true}, `sen|dsen|rsen|sensitizer|sensitiser|sensibilisant|sensibilisierend`)
	p.add(limitWord{vacated: true}, `vacated|vacated pel|vac|osha vacated`)
	p.add(limitWord{fraction: "respirable"}, `respirable|respirable fraction|respirable dust|alveolengangig|alveolaire|alveolar|respirable particulate matter|fraction alveolaire|respirable particles|a staub`)
	p.add(limitWord{fraction: "inhalable"}, `inhalable|inhalable fraction|inhalable dust|einatembar|e staub|fraction inhalable|inhalable particulate matter|inhalable fraction and vapor|inhalable particles`)
	p.add(limitWord{fraction: "total dust"}, `total dust|total|poussieres totales|gesamtstaub|polvo total|as total dust`)
	p.add(limitWord{skip: true}, `idlh|dnel|dmel|pnec|derived no effect level|odor threshold|odour threshold|bei|bgw|biological limit|lel|lc50|ld50|teel|erpg|pac 1|pac 2|pac 3|action level`)
	return p
}()

// limitUnit tells whether a unit is one of air concentration.
func limitUnit(u number.Unit) bool {
	switch u.Name {
	case "ppm", "ppb", "mg/m3", "µg/m3", "ng/m3", "f/cm3", "mppcf", "g/m3":
		return true
	}
	return false
}

// limitEvent is a value or a word in a text, in order.
type limitEvent struct {
	start, end int
	found      *number.Found
	word       limitWord
}

// limitEvents finds values and words in a text.
func limitEvents(text string, style number.Style, unit number.Unit) []limitEvent {
	var events []limitEvent
	flat := strings.ReplaceAll(unglue(text, true), "\t", " ")
	found := number.Scan(flat, style)
	for i := range found {
		f := &found[i]
		if f.Unit.Zero() && !unit.Zero() {
			f.Unit = unit
		}
		if limitUnit(f.Unit) && !insideBracket(flat, f.Start) {
			events = append(events, limitEvent{start: f.Start, end: f.End, found: f})
		}
	}
	values := len(events)
	ts := tokenize(unglue(text, false))
	for i := 0; i < len(ts); i++ {
		w, n := limitWords.at(ts, i)
		if n == 0 || ts[i].text == "c" && !loneC(flat, ts[i]) {
			continue
		}
		inValue := false
		for _, e := range events[:values] {
			inValue = inValue || ts[i].start >= e.start && ts[i].start < e.end
		}
		if !inValue {
			events = append(events, limitEvent{start: ts[i].start, end: ts[i+n-1].end, word: w})
		}
		i += n - 1
	}
	for i := 1; i < len(events); i++ { // in order of place
		for k := i; k > 0 && events[k].start < events[k-1].start; k-- {
			events[k], events[k-1] = events[k-1], events[k]
		}
	}
	return events
}

// unglue sets words and numbers apart that run together ("TWA50 ppm", "Ceiling1400 ppm"): the last letter of the word
// (letters true) or the first digit of the number becomes a blank, so that no place moves.
func unglue(s string, letters bool) string {
	var b []byte
	for i := 1; i < len(s); i++ {
		if !isDigit(s[i]) || !isLetter(s[i-1]) {
			continue
		}
		k := i
		for k > 0 && isLetter(s[k-1]) {
			k--
		}
		switch strings.ToLower(s[k:i]) {
		case "twa", "stel", "ceiling", "ceil", "tlv", "pel", "stev", "twaev":
			if b == nil {
				b = []byte(s)
			}
			if letters {
				b[i-1] = ' '
			} else {
				b[i] = ' '
			}
		}
	}
	if b == nil {
		return s
	}
	return string(b)
}

// insideBracket tells whether byte i stands inside a bracket that holds words.
func insideBracket(s string, i int) bool {
	depth, open := 0, 0
	for k := 0; k < i; k++ {
		switch s[k] {
		case '(':
			if depth == 0 {
				open = k
			}
			depth++
		case ')':
			depth = max(0, depth-1)
		}
	}
	return depth > 0 && len(tokenize(s[open:i])) > 1
}

// loneC tells whether a C is the sign for a ceiling: capital, alone, beside a value.
func loneC(s string, t token) bool {
	if s[t.start] != 'C' {
		return false
	}
	before := t.start == 0 || s[t.start-1] == ' ' || s[t.start-1] == '('
	after := t.end >= len(s) || strings.IndexByte(" ):;,", s[t.end]) >= 0
	return before && after && (t.start == 0 || !strings.HasSuffix(strings.TrimRight(s[:t.start], " "), "°"))
}

// limitHead is the meaning of the columns of a limit table.
type limitHead struct {
	head  head
	words []limitWord
	units []number.Unit
	texts []string
	name  int // column of the substance, -1 when unknown
}

// limitHeadAt reads a line as the head of a limit table.
func limitHeadAt(l *layout.Line, style number.Style) (limitHead, bool) {
	h := limitHead{name: -1}
	if len(l.Cells) < 2 {
		return h, false
	}
	telling := 0
	for i, c := range l.Cells {
		events := limitEvents(c.Text, style, number.Unit{})
		var w limitWord
		for _, e := range events {
			if e.found != nil {
				return h, false
			}
			if e.word.skip {
				w.skip = true
			}
			if e.word.kind != "" {
				w.kind = e.word.kind
			}
			if e.word.authority != "" && w.authority == "" {
				w.authority = e.word.authority
			}
			w.vacated = w.vacated || e.word.vacated
		}
		role := headRole(c.Text)
		if role == colPercent && (w.kind != "" || w.authority != "") {
			role = colNone
		}
		if len(c.Text) > 70 || plainNumber(c.Text) {
			return h, false
		}
		if w.kind != "" || w.authority != "" {
			telling++
		}
		if role == colName && h.name < 0 {
			h.name = i
		}
		low := fold(c.Text)
		if low == "value" || low == "type" || low == "source" || low == "authority" || low == "limit" || low == "valeurs limites d exposition" || strings.HasPrefix(low, "exposure limit") || low == "value type" || strings.HasPrefix(low, "control param") {
			telling++
			role = colNone
		}
		h.push(c.Box, role, c.Col, w, unitIn(c.Text+" "), c.Text)
	}
	h.head.table = l.Table
	return h, telling > 0 && (h.name >= 0 || telling >= 2 || hasRole(h.head.roles, colCAS))
}

func hasRole(roles []column, want column) bool {
	for _, r := range roles {
		if r == want {
			return true
		}
	}
	return false
}

// more takes the second line of a head ("TWA", "STEL" under "ACGIH TLV-") into it. Where several of its cells stand under
// one head cell, the head cell is divided among them.
func (h *limitHead) more(l *layout.Line, style number.Style) bool {
	for _, c := range l.Cells {
		events := limitEvents(c.Text, style, number.Unit{})
		if len(events) == 0 && len(tokenize(c.Text)) > 2 || plainNumber(c.Text) {
			return false
		}
		for _, e := range events {
			if e.found != nil {
				return false
			}
		}
	}
	used := false
	for i := len(h.head.boxes) - 1; i >= 0; i-- {
		var under []layout.Cell
		for _, c := range l.Cells {
			if b := h.head.boxes[i]; min(b.X1, c.Box.X1) > max(b.X0, c.Box.X0) {
				under = append(under, c)
			}
		}
		if len(under) > 1 {
			h.divide(i, under, style)
		} else if len(under) == 0 {
			continue
		}
		for k, c := range under {
			w := &h.words[i+k]
			for _, e := range limitEvents(c.Text, style, number.Unit{}) {
				if e.word.kind != "" {
					w.kind, used = e.word.kind, true
				}
				if e.word.authority != "" && w.authority == "" {
					w.authority, used = e.word.authority, true
				}
			}
		}
	}
	return used
}

// divide puts one column for each cell in the place of head cell i; the authorities its text names go to them in order.
func (h *limitHead) divide(i int, under []layout.Cell, style number.Style) {
	var authorities []string
	for _, e := range limitEvents(h.texts[i], style, number.Unit{}) {
		if e.word.authority != "" {
			authorities = append(authorities, e.word.authority)
		}
	}
	old := h.words[i]
	boxes, roles, cols, words, units, texts := h.head.boxes, h.head.roles, h.head.cols, h.words, h.units, h.texts
	h.head.boxes, h.head.roles, h.head.cols, h.words, h.units, h.texts = nil, nil, nil, nil, nil, nil
	for k := range boxes {
		if k != i {
			h.push(boxes[k], roles[k], cols[k], words[k], units[k], texts[k])
			continue
		}
		for n, c := range under {
			w := old
			if len(authorities) == len(under) {
				w.authority = authorities[n]
			}
			h.push(c.Box, roles[k], c.Col, w, units[k], c.Text)
		}
	}
	if h.name > i {
		h.name += len(under) - 1
	}
}

func (h *limitHead) push(box sheet.Rect, role column, col int, w limitWord, u number.Unit, text string) {
	h.head.boxes = append(h.head.boxes, box)
	h.head.roles = append(h.head.roles, role)
	h.head.cols = append(h.head.cols, col)
	h.words = append(h.words, w)
	h.units = append(h.units, u)
	h.texts = append(h.texts, text)
}

// columnOf is the index of the head cell above a cell, -1 when none.
func (h *limitHead) columnOf(l *layout.Line, c layout.Cell) int {
	if l.Table >= 0 && l.Table == h.head.table {
		for i, col := range h.head.cols {
			if col == c.Col {
				return i
			}
		}
	}
	best, most := -1, -40.0
	for i, b := range h.head.boxes {
		overlap := min(b.X1, c.Box.X1) - max(b.X0, c.Box.X0)
		if overlap > most {
			best, most = i, overlap
		}
	}
	return best
}

// limitReader walks through the lines of a section.
type limitReader struct {
	*reader
	head      *limitHead
	substance string
	cas       string
	subjectAt stretch
	misread   string  // the CAS number as recognised, where it was repaired
	pending   stretch // a line that may be the name of a substance
	openName  bool    // the row before named a substance and gave no value
	skipping  bool    // within DNELs, PNECs, biological limits
	strict    bool    // outside of the block of limits: a value counts only with a word
	carry     limitWord
	out       []sheet.Fact[sheet.ExposureLimit]
}

// readLimits reads exposure limits from section 8 and, in older sheets, from the tables of sections 2 and 3.
func (r *reader) readLimits() {
	c := &r.sheet.Control
	for _, topic := range []int{8, 3, 2} {
		lr := &limitReader{reader: r, strict: topic != 8}
		body := r.part.body(topic)
		for k := 0; k < len(body); k++ {
			k += lr.line(body, k)
		}
		c.Limits = append(c.Limits, lr.out...)
	}
	r.soleSubject()
	if len(c.Limits) > 0 {
		c.LimitsState = sheet.Stated
		return
	}
	for _, i := range r.part.body(8) {
		if _, _, n := noLimits.find(tokenize(r.lines[i].Text)); n > 0 {
			c.LimitsState = sheet.NoneStated
			return
		}
	}
}

// soleSubject gives limits without a substance to the only ingredient of the sheet, where it has one only.
func (r *reader) soleSubject() {
	ins := r.sheet.Composition.Ingredients
	if len(ins) != 1 {
		return
	}
	for i := range r.sheet.Control.Limits {
		f := &r.sheet.Control.Limits[i]
		if f.Value.CAS == "" && f.Value.Authority != "" {
			f.Value.CAS, f.Value.Substance = ins[0].CAS.Value, ins[0].Name.Value
			f.Confidence = min(f.Confidence, inferred)
		}
	}
}

var noLimits = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `no exposure limits|no occupational exposure limits|none established|not established|no substances are listed|no components with workplace control parameters|contains no substances with occupational exposure limit|no exposure limit|no information found|no oel|no limit values|exposure limits have not been defined|no exposure standards|does not contain any relevant quantities|not listed|no established|no known occupational exposure|occupational exposure limits have not been defined|no data available|none known|
		aucune valeur limite|pas de valeur limite|aucune limite d exposition|keine grenzwerte|keine arbeitsplatzgrenzwerte|enthalt keine stoffe mit arbeitsplatzgrenzwerten|enthalt keine relevanten mengen|sin limites de exposicion|no hay limites|ningun limite|no contiene sustancias con valores limite|no contiene cantidades relevantes`)
	return p
}()

// line reads one line; it returns how many further lines it used up.
func (lr *limitReader) line(body []int, k int) int {
	l := &lr.lines[body[k]]
	low := fold(l.Text)
	switch {
	case strings.HasPrefix(low, "8.2 ") || strings.HasPrefix(low, "engineering") || strings.HasPrefix(low, "technische schutz"):
		lr.strict, lr.head, lr.skipping = true, nil, false
	case strings.Contains(low, "dnel") || strings.Contains(low, "pnec") || strings.Contains(low, "dmel") || strings.Contains(low, "derived no effect") || strings.HasPrefix(low, "biologi") || strings.Contains(low, "indices d exposition biologique"):
		lr.skipping, lr.head = true, nil
	case strings.Contains(low, "exposure limit") || strings.Contains(low, "exposure guidelines") || strings.Contains(low, "limites d exposition prof") || strings.Contains(low, "arbeitsplatzgrenzwert"):
		lr.skipping, lr.strict = false, false
	}
	if lr.skipping && !strings.Contains(low, "exposure limit") {
		return 0
	}
	if h, ok := limitHeadAt(l, lr.style); ok {
		lr.head, lr.carry = &h, limitWord{}
		lr.substance, lr.cas, lr.misread = "", "", ""
		used := 0
		for used < 2 && k+1+used < len(body) && h.more(&lr.lines[body[k+1+used]], lr.style) {
			used++
		}
		return used
	}
	if lr.head != nil && (len(l.Cells) > 1 || l.Table >= 0) && lr.inTable(l) {
		lr.tableRow(l)
		return 0
	}
	lr.plain(l)
	return 0
}

// inTable tells whether a line may be a row of the current table.
func (lr *limitReader) inTable(l *layout.Line) bool {
	return lr.head.head.table < 0 || l.Table < 0 || l.Table == lr.head.head.table || len(l.Cells) > 1
}

// tableRow reads a row under a head: the substance from its column, values with the meaning of theirs.
func (lr *limitReader) tableRow(l *layout.Line) {
	h := lr.head
	rowWord := limitWord{}
	type valueCell struct {
		c    layout.Cell
		col  int
		unit number.Unit
	}
	var values []valueCell
	named := false
	rowUnit := number.Unit{}
	for i := 0; i < len(l.Cells); i++ {
		c := l.Cells[i]
		if i+1 < len(l.Cells) && hasDigits(c.Text, 1) { // the unit in a cell of its own
			if u, ok := number.ParseUnit(l.Cells[i+1].Text); ok && limitUnit(u) {
				i++
				c.End, c.Text = l.Cells[i].End, l.Text[c.Start:l.Cells[i].End]
			}
		}
		col := h.columnOf(l, c)
		role := colNone
		if col >= 0 {
			role = h.head.roles[col]
		}
		if cas := number.CASNumbers(c.Text, lr.ocr); len(cas) > 0 {
			lr.setCAS(cas[0], stretch{l, c.Start + cas[0].Start, c.Start + cas[0].End})
			if before := nameBeforeCAS(c.Text[:cas[0].Start]); len(before) > 3 {
				lr.substance = before
			}
			named = true
			continue
		}
		unit := lr.unitOf(col)
		if unit.Zero() {
			unit = rowUnit
		}
		if !plainNumber(c.Text) {
			unit = number.Unit{}
		}
		events := limitEvents(c.Text, lr.style, unit)
		hasValue, words := false, 0
		for _, e := range events {
			if e.found != nil {
				hasValue = true
			} else {
				words++
			}
		}
		switch {
		case role == colPercent || role == colCAS || role == colEC:
		case (role == colName || h.name < 0 && i == 0 && !hasValue && words == 0) && hasName(c.Text) && !hasValue && !knownLabel(8, c.Text):
			if name := strings.TrimSpace(c.Text); i == 0 && lr.openName && firstRune(name) >= 'a' && firstRune(name) <= 'z' {
				lr.setName(lr.substance+" "+name, stretch{l, c.Start, c.End}) // a wrapped name
				named = true
			} else if i == 0 || role == colName {
				lr.setName(strings.TrimSpace(c.Text), stretch{l, c.Start, c.End})
				named = true
			}
		case hasValue:
			values = append(values, valueCell{c, col, unit})
		case words > 0:
			rowWord = merge(rowWord, events)
			if u := unitIn(c.Text + " "); limitUnit(u) {
				rowUnit = u
			}
		}
	}
	if named {
		lr.carry = limitWord{}
	}
	if rowWord.authority == "" && rowWord.kind == "" && !named {
		rowWord.authority = lr.carry.authority
	}
	for _, v := range values {
		base := rowWord
		if v.col >= 0 {
			w := h.words[v.col]
			if w.kind != "" {
				base.kind = w.kind
			}
			if w.authority != "" && base.authority == "" {
				base.authority = w.authority
			}
			base.skip = base.skip || w.skip
			base.vacated = base.vacated || w.vacated
		}
		lr.piece(l, v.c.Start, v.c.End, base, v.unit)
	}
	lr.openName = named && len(values) == 0
	if len(values) > 0 && rowWord.authority != "" {
		lr.carry.authority = rowWord.authority
	}
}

// plainNumber tells whether a cell is a number (or range) and little else, so that a unit in its head belongs to it.
func plainNumber(s string) bool {
	t := strings.TrimLeft(s, " <>≤≥=:-")
	return t != "" && (isDigit(t[0]) || t[0] == '.') && len(tokenize(s)) <= 6
}

func (lr *limitReader) unitOf(col int) number.Unit {
	if col < 0 || !limitUnit(lr.head.units[col]) {
		return number.Unit{}
	}
	return lr.head.units[col]
}

// merge puts the words of a cell together.
func merge(w limitWord, events []limitEvent) limitWord {
	for _, e := range events {
		if e.found != nil {
			continue
		}
		if e.word.kind != "" {
			w.kind = e.word.kind
		}
		if e.word.authority != "" {
			w.authority = e.word.authority
		}
		w.skin = w.skin || e.word.skin
		w.sens = w.sens || e.word.sens
		w.vacated = w.vacated || e.word.vacated
		w.skip = w.skip || e.word.skip
		if e.word.fraction != "" {
			w.fraction = e.word.fraction
		}
	}
	return w
}

// plain reads a line that is no table row: a substance's name, or words and values.
func (lr *limitReader) plain(l *layout.Line) {
	if len(l.Text) > 80 && !namesConcentration(l.Text) {
		lr.pending = stretch{}
		return
	}
	unit := unitBefore(l)
	events := limitEvents(l.Text, lr.style, unit)
	values, telling := 0, false
	for _, e := range events {
		if e.found != nil {
			values++
		} else if e.word.kind != "" || e.word.authority != "" {
			telling = true
		}
	}
	cas := number.CASNumbers(l.Text, lr.ocr)
	if len(cas) > 0 && cas[0].Valid {
		lr.setCAS(cas[0], stretch{l, cas[0].Start, cas[0].End})
		if before := nameBeforeCAS(l.Text[:cas[0].Start]); before != "" && len(before) < 90 {
			lr.substance = before
		}
		lr.carry, lr.pending = limitWord{}, stretch{}
	} else if name, at, ok := lr.ingredientAtStart(l); ok {
		lr.setName(name, at)
		lr.carry, lr.pending = limitWord{}, stretch{}
	} else if values == 0 && len(l.Cells) == 1 && len(l.Text) < 70 && hasName(l.Text) && !strings.ContainsAny(l.Text, ":") && !telling && !startsSubsection(l.Text) && !strings.HasSuffix(l.Text, ".") && namesSubstance(l.Text) {
		lr.pending = lineOf(l)
		return
	}
	if values == 0 {
		if telling && len(l.Text) < 80 {
			lr.carry = merge(limitWord{}, events)
		}
		return
	}
	if lr.strict && !telling {
		return
	}
	if words := len(tokenize(l.Text)); !telling && (words > 15 || words > 8 && lr.carry == (limitWord{}) && len(l.Cells) == 1) {
		return // a number in prose
	}
	if lr.substance == "" && lr.cas == "" && !lr.pending.empty() || !lr.pending.empty() && lr.pending.line.Page == l.Page && l.Box.Y0-lr.pending.line.Box.Y1 < 20 {
		lr.setName(strings.TrimSpace(lr.pending.text()), lr.pending)
	}
	lr.pending = stretch{}
	lr.piece(l, 0, len(l.Text), lr.carry, unit)
}

// casLabel matches what announces a CAS number at the end of a text: "(CAS", "CAS-No.:", "n° CAS", "[CAS RN".
var casLabel = regexp.MustCompile(`(?i)[ \t(\[,;/–-]*\b(?:(?:no|n[°ºo]|nr|num(?:é|e)ro|número)\.?\s*)?CAS(?:[ -]*(?:no|nr|n[°ºo]|number|nummer|rn|registry number)\.?)*[ .:#=(\t]*$`)

// nameBeforeCAS is the name of a substance in what stands before its CAS number, without a label before it ("Exposure
// limits: ") and the words that announce the number. It is "" when there is none.
func nameBeforeCAS(s string) string {
	s = strings.TrimRight(casLabel.ReplaceAllString(s, ""), " \t:(,[;–-")
	if i := strings.LastIndex(s, ": "); i >= 0 {
		s = s[i+2:]
	}
	s = strings.TrimLeft(strings.ReplaceAll(s, "\t", " "), " -–•*·")
	if !hasName(s) || strings.EqualFold(s, "CAS") || len(limitEvents(s, number.Style(0), number.Unit{})) > 0 {
		return ""
	}
	return s
}

// namesSubstance tells whether a short line may be the name of a substance: it is no unit and no head of a table.
func namesSubstance(s string) bool {
	if _, unit := number.ParseUnit(s); unit {
		return false
	}
	return headRole(s) == colNone && !knownLabel(8, s)
}

// namesConcentration tells whether a text holds a unit of air concentration or a CAS number.
func namesConcentration(s string) bool {
	for _, u := range []string{"pp", "PP", "mg", "Mg", "MG", "g/m", "f/c", "iber", "ibre", "mppcf", "-"} {
		if strings.Contains(s, u) {
			return true
		}
	}
	return false
}

// unitBefore is the unit named in a label of the line when its last cell is a bare number: "OSHA PEL (mg/m3)", "54000".
func unitBefore(l *layout.Line) number.Unit {
	n := len(l.Cells)
	if n < 2 || !plainNumber(l.Cells[n-1].Text) || len(tokenize(l.Cells[n-1].Text)) != 1 {
		return number.Unit{}
	}
	for _, c := range l.Cells[:n-1] {
		if u := unitIn(c.Text + " "); limitUnit(u) {
			return u
		}
	}
	return number.Unit{}
}

func (lr *limitReader) setCAS(cas number.Registry, at stretch) {
	lr.cas, lr.subjectAt, lr.misread = cas.Number, at, misreadCAS(cas)
	lr.substance = ""
	for _, in := range lr.sheet.Composition.Ingredients {
		if in.CAS.Value == cas.Number && in.Name.Known() {
			lr.substance = in.Name.Value
			return
		}
	}
}

func (lr *limitReader) setName(name string, at stretch) {
	lr.substance, lr.subjectAt, lr.cas, lr.misread = name, at, "", ""
	if in, ok := lr.byName(name); ok {
		lr.cas = in.CAS.Value
	}
}

// except are words by which a name sets itself apart from the name it begins with: "hexane (isomers other than n-hexane)".
func except(rest string) bool {
	return strings.Contains(rest, "isomer") || strings.Contains(rest, "other than") || strings.Contains(rest, "except") || strings.Contains(rest, "ausser") || strings.Contains(rest, "autres que")
}

// byName finds the ingredient that a name means: the same words, or one name within the other.
func (r *reader) byName(name string) (sheet.Ingredient, bool) {
	want := fold(name)
	if len(want) < 3 {
		return sheet.Ingredient{}, false
	}
	best, most := -1, 0.0
	for i, in := range r.sheet.Composition.Ingredients {
		have := fold(in.Name.Value)
		if have == "" {
			continue
		}
		score := 0.0
		switch {
		case have == want:
			score = 2
		case strings.HasPrefix(want, have+" ") && except(want[len(have):]):
		case strings.HasPrefix(want, have+" ") || strings.HasPrefix(have, want+" "):
			score = 1 + float64(min(len(have), len(want)))/float64(max(len(have), len(want)))
		case strings.Contains(" "+want+" ", " "+have+" ") || strings.Contains(" "+have+" ", " "+want+" "):
			score = float64(min(len(have), len(want))) / float64(max(len(have), len(want)))
		default:
			score = wordOverlap(have, want) - 0.3
		}
		if score > most && score > 0.4 {
			best, most = i, score
		}
	}
	if best < 0 {
		return sheet.Ingredient{}, false
	}
	return r.sheet.Composition.Ingredients[best], true
}

// wordOverlap is the share of words two folded names have in common.
func wordOverlap(a, b string) float64 {
	return dice(strings.Fields(a), strings.Fields(b))
}

// ingredientAtStart tells whether a line begins with the name of an ingredient.
func (lr *limitReader) ingredientAtStart(l *layout.Line) (string, stretch, bool) {
	c := l.Cells[0]
	text := c.Text
	low := fold(text)
	for _, in := range lr.sheet.Composition.Ingredients {
		have := fold(in.Name.Value)
		if len(have) < 4 {
			continue
		}
		if low == have || strings.HasPrefix(low, have+" ") && !except(low[len(have):]) {
			end := c.End
			if low != have {
				end = c.Start + min(len(text), len(in.Name.Value))
			}
			return in.Name.Value, stretch{l, c.Start, end}, true
		}
	}
	return "", stretch{}, false
}

// piece reads the values of text[from:to] of a line. When a kind stands before the first value, kinds stand before their
// values throughout; else they stand behind.
func (lr *limitReader) piece(l *layout.Line, from, to int, base limitWord, unit number.Unit) {
	text := l.Text[from:to]
	events := limitEvents(text, lr.style, unit)
	before := base.kind != "" && !anyKind(events)
	for _, e := range events {
		if e.found != nil {
			break
		}
		if e.word.kind != "" {
			before = true
		}
	}
	current := base
	if anyKind(events) {
		current.skip = false // the cell says itself what its values are
	}
	for i, e := range events {
		if e.found == nil {
			if e.word.authority != "" {
				current.authority = e.word.authority
				current.vacated = base.vacated
			}
			if e.word.kind != "" && before {
				current.kind = e.word.kind
				current.vacated = base.vacated
			}
			if e.word.vacated {
				current.vacated = true
			}
			continue
		}
		w := current
		next := len(events)
		for k := i + 1; k < len(events); k++ {
			if events[k].found != nil {
				next = k
				break
			}
		}
		w = lr.behind(events[i+1:next], w, before)
		skip := w.skip
		if i > 0 && events[i-1].found == nil && events[i-1].word.skip {
			skip = true
		}
		if !skip {
			lr.add(l, from, e, w, text)
		}
	}
}

func anyKind(events []limitEvent) bool {
	for _, e := range events {
		if e.found == nil && e.word.kind != "" {
			return true
		}
	}
	return false
}

// behind takes the words that stand behind a value, up to the next value.
func (lr *limitReader) behind(events []limitEvent, w limitWord, before bool) limitWord {
	kindTaken := false
	for _, x := range events {
		if x.word.kind != "" && !before && !kindTaken {
			w.kind, kindTaken = x.word.kind, true
		}
		if x.word.fraction != "" && w.fraction == "" {
			w.fraction = x.word.fraction
		}
		w.skin = w.skin || x.word.skin
		w.sens = w.sens || x.word.sens
		w.vacated = w.vacated || x.word.vacated
		if x.word.skip {
			w.skip = true
		}
		if x.word.authority != "" && !before && w.authority == "" {
			w.authority = x.word.authority
		}
	}
	return w
}

func (lr *limitReader) add(l *layout.Line, from int, e limitEvent, w limitWord, text string) {
	v, ok := e.found.Single()
	if !ok {
		if !e.found.HasHi {
			return
		}
		v = e.found.Hi
	}
	if v <= 0 {
		return
	}
	unit := e.found.Unit.Name
	switch unit {
	case "µg/m3", "ng/m3", "g/m3":
		v, unit = number.Round(e.found.Unit.To(v)*1e6, 10), "mg/m3"
	case "ppb":
		v, unit = number.Round(v/1000, 10), "ppm"
	}
	kind := w.kind
	if kind == "" {
		kind = sheet.TWA
	}
	limit := sheet.ExposureLimit{Substance: lr.substance, CAS: lr.cas, Authority: w.authority, Kind: kind, Value: v, Unit: unit,
		Skin: w.skin, Sensitiser: w.sens, Fraction: w.fraction, Vacated: w.vacated, Printed: strings.TrimSpace(strings.ReplaceAll(text[e.start:min(e.end, len(text))], "\t", " "))}
	confidence := sureTable
	if w.kind == "" {
		confidence = likely
	}
	if limit.Substance == "" && limit.CAS == "" {
		confidence = uncertain
	}
	f := fact(limit, confidence, stretch{l, from + e.start, from + e.end})
	if !lr.subjectAt.empty() {
		f.Evidence = append(f.Evidence, lr.subjectAt.recognised(lr.misread)...)
	}
	lr.out = append(lr.out, f)
}
