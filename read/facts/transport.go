package facts

import (
	"strings"

	"sixteen/read/layout"
	"sixteen/sheet"
)

// modes are the modes of transport and the names of their rules.
var modes = func() *phrases[string] {
	p := &phrases[string]{}
	p.add("ADR", `adr|rid|adr rid|adr rid adn|adn|land transport|road transport|transport terrestre|landtransport|transporte terrestre|inland transport|gefahrgutverordnung|strassen eisenbahnverkehr|transport im strassen eisenbahnverkehr|overland transport`)
	p.add("IMDG", `imdg|imo|imdg imo|imo imdg|sea transport|marine transport|transport maritime|seeschiffstransport|transport im seeverkehr|transporte maritimo|international imdg|ocean transportation|sea`)
	p.add("IATA", `iata|icao|icao iata|iata icao|iata dgr|icao ti|air transport|transport aerien|lufttransport|transport im luftverkehr|transporte aereo|air iata|air`)
	p.add("DOT", `dot|us dot|usdot|domestic usdot|49 cfr|department of transportation|ground|cfr|domestic surface transportation`)
	p.add("TDG", `tdg|tmd|canadian tdg|canada tdg|transport canada`)
	return p
}()

type trKey uint8

const (
	trOther trKey = iota
	trUN
	trName
	trClass
	trSub
	trGroup
	trMarine
	trLabels
)

var transportLabels = func() *phrases[trKey] {
	p := &phrases[trKey]{}
	p.add(trUN, `un number|un no|un id no|un na number|un number or id number|un id|un nummer|un id nr|numero onu|numero un|numero onu ou numero d identification|no onu|n onu|un nr|un identification number|numero onu o numero de identificacion|id number|un number id number|identification number|numero un na|un number s|numero de identificacion|un id number|dot numero un na|onu no|un na no|un id nummer|no un|un code|id no`)
	p.add(trName, `un proper shipping name|proper shipping name|shipping name|dot proper shipping name|imdg proper shipping name|proper shipping name s|iata proper shipping name|us dot proper shipping name|designation officielle de transport de l onu|designation officielle de transport|nom d expedition|approprie nom d expedition|nom d expedition des nations unies|
		ordnungsgemasse un versandbezeichnung|versandbezeichnung|bezeichnung des gutes|richtiger technischer name|designacion oficial de transporte de las naciones unidas|designacion oficial de transporte|nombre de envio|description|nombre apropiado para el transporte|designacion del transporte|un proper shipping name adr|designation officielle|designation|designacion|technical name dot`)
	p.add(trClass, `transport hazard class es|transport hazard class|hazard class|class|hazard class es|hazard class number and description|dot hazard class|imdg hazard class|class or division|icao class division|imdg class|primary hazard class|air class|classe s de danger pour le transport|classe de danger|classe|categorie de risque|classe de danger pour le transport|
		transportgefahrenklassen|transportgefahrenklasse|klasse|gefahrklasse|klasse oder sparte|gefahrenklasse|clase s de peligro para el transporte|clase|clase de peligro|clase de peligro para el transporte|clases de peligro para el transporte|adr rid class|adr class|iata class|un class|hazard classification|adn class|iata hazard class|tdg hazard class|us dot class|class es|classes de danger`)
	p.add(trSub, `subsidiary hazard class|subsidiary risk|subsidiary class|subsidiary shipping hazard|sub class|subsidiary hazard|subsidiary risks|risque subsidiaire|sous classe de danger|nebengefahr|nebengefahren|riesgo subsidiario|risques subsidiaires|peligro subsidiario|sub risk|subrisk|subsidiary`)
	p.add(trGroup, `packing group|packaging group|pg|packing group number|packing grp|groupe d emballage|verpackungsgruppe|grupo de embalaje|grupo embalaje|pkg group|packing|adr rid packing group|imdg packing group|iata packing group|dot packing group|packing group if applicable|adn packing group|icao packing group|grupo de empaque`)
	p.add(trMarine, `marine pollutant|environmental hazards|polluant marin|dangers pour l environnement|umweltgefahren|meeresschadstoff|peligros para el medio ambiente|contaminante marino|env|imdg marine pollutant|environmentally hazardous substance marine pollutant|umweltgefahrdend|dangereux pour l environnement`)
	p.add(trLabels, `label s|label|labels|transport labels|label s required|dot label s required|kennzeichnung en|etiquette s|etiquettes|gefahrzettel|etiqueta|hazard label|hazard label s|labels required`)
	p.add(trOther, `special precautions for user|special provisions|ems|ems no|ems number|tunnel restriction code|transport in bulk according to annex ii of marpol and the ibc code|limited quantity|limited quantities|technical name|erg number|emergency response guide|classification code|reportable quantity|additional information|adr transport category|hazard identification number|emergency action code|packaging label|precautions particulieres|besondere vorsichtsmassnahmen|precauciones particulares|excepted quantities|tunnelcode|packing instruction|segregation group|trennungsgruppe|remarks|erg code|transport category|environmental|nom technique|other information|informations complementaires|additional description`)
	return p
}()

// readTransport reads section 14: labels beside values, one column per mode, or blocks under the name of a mode.
func (r *reader) readTransport() {
	body := r.part.body(14)
	if len(body) == 0 {
		body = r.shippingLines()
	}
	t := &transportReader{reader: r, entries: map[string]*transportEntry{}}
	for k, i := range body {
		t.line(body, k, &r.lines[i])
	}
	t.finish(body)
}

// shippingLines finds lines that describe a shipment in sheets without a section on transport.
func (r *reader) shippingLines() []int {
	var out []int
	for _, i := range r.all() {
		if un, _ := unNumber(r.lines[i].Text, false); un != "" {
			out = append(out, i)
		}
	}
	return out
}

// transportEntry is one mode's entry being put together.
type transportEntry struct {
	value     sheet.Transport
	from      []stretch
	seen      bool // anything of substance was read
	unState   sheet.State
	regulated sheet.State // NoneStated: says it is not regulated
	misread   string      // the strokes, as recognised, that were taken for the Roman number of the packing group
}

type transportReader struct {
	*reader
	entries  map[string]*transportEntry
	order    []string
	modes    []string     // of the block
	columns  []modeColumn // modes of columns
	key      trKey        // label whose values stand in rows below, per mode
	keyAt    int
	vertical []keyColumn // labels in a head row, modes in rows
	names    shippingName
}

type modeColumn struct {
	mode string
	box  sheet.Rect
	col  int
}

type keyColumn struct {
	key trKey
	box sheet.Rect
	col int
}

func (t *transportReader) entry(mode string) *transportEntry {
	e := t.entries[mode]
	if e == nil {
		e = &transportEntry{}
		e.value.Mode = mode
		t.entries[mode] = e
		t.order = append(t.order, mode)
	}
	return e
}

// modesOf finds the modes named in a text.
func modesOf(text string) []string {
	ts := tokenize(text)
	var out []string
	for i := 0; i < len(ts); i++ {
		m, n := modes.at(ts, i)
		if n == 0 {
			continue
		}
		i += n - 1
		known := false
		for _, o := range out {
			known = known || o == m
		}
		if !known {
			out = append(out, m)
		}
	}
	return out
}

func (t *transportReader) line(body []int, k int, l *layout.Line) {
	fields := labelsOf(l, transportLabels)
	if t.modeHead(l, fields, body[k]) || t.keyHead(l, fields) {
		return
	}
	if len(t.vertical) > 0 && len(l.Cells) > 1 {
		if ms := modesOf(l.Cells[0].Text); len(ms) == 1 && len(l.Cells[0].Text) < 30 {
			t.verticalRow(l, ms)
			return
		}
	}
	if len(fields) == 0 && t.moreName(l, body[k]) {
		return
	}
	t.names = shippingName{}
	if len(fields) == 0 {
		t.unlabelled(l, body, k)
		return
	}
	t.key = trOther
	for _, f := range fields {
		f.at = body[k]
		if f.key == trOther {
			continue
		}
		t.field(l, f, fields, body, k)
	}
}

// modeHead reads a row whose cells are names of modes: they head columns, or one name heads a block.
func (t *transportReader) modeHead(l *layout.Line, fields []field[trKey], at int) bool {
	var cols []modeColumn
	for _, c := range l.Cells {
		if len(c.Text) > 60 {
			continue
		}
		ms := modesOf(c.Text)
		if len(ms) == 0 {
			continue
		}
		for _, f := range fields {
			if f.key != trOther && f.label.start >= c.Start && f.label.end <= c.End {
				return false
			}
		}
		cols = append(cols, modeColumn{ms[0], c.Box, c.Col})
	}
	switch {
	case len(cols) >= 2 && len(cols) >= len(l.Cells)-1:
		different := map[string]bool{}
		for _, c := range cols {
			different[c.mode] = true
		}
		if len(different) < 2 {
			return false
		}
		t.columns, t.modes, t.vertical = cols, nil, nil
		return true
	case len(cols) == 1 && len(l.Cells) == 1 && len(l.Text) < 90 && len(tokenize(l.Text)) <= 12:
		ms := modesOf(l.Text)
		text := l.Text
		if k := strings.IndexByte(text, ':'); k > 0 && len(tokenize(text[k:])) > 0 {
			t.statement(ms, stretch{l, k + 1, len(l.Text)})
			t.modes = ms
			return true
		}
		if _, ok := notRegulated(text); ok {
			return false
		}
		t.modes, t.columns, t.vertical = ms, nil, nil
		return true
	case len(cols) == 1 && len(l.Cells) == 2 && cols[0].box == l.Cells[0].Box && len(fields) == 0:
		v := stretch{l, l.Cells[1].Start, l.Cells[1].End}
		ms := modesOf(l.Cells[0].Text)
		if t.key != trOther && at-t.keyAt <= 12 { // "ADR, IMDG: UN 1263" below "UN number"
			t.put(ms, t.key, v)
			return true
		}
		t.modes, t.columns, t.vertical = ms, nil, nil
		t.statement(ms, v)
		return true
	}
	return false
}

// keyHead reads a row whose cells are labels: modes stand in the rows below.
func (t *transportReader) keyHead(l *layout.Line, fields []field[trKey]) bool {
	if len(l.Cells) < 3 {
		return false
	}
	var cols []keyColumn
	for _, c := range l.Cells {
		for _, f := range fields {
			if f.label.start >= c.Start && f.label.end <= c.End && len(c.Text) < 40 && f.label.end-f.label.start+6 >= len(strings.Trim(c.Text, " *():"))-4 {
				cols = append(cols, keyColumn{f.key, c.Box, c.Col})
				break
			}
		}
	}
	telling := map[trKey]bool{}
	for _, c := range cols {
		if c.key != trOther {
			telling[c.key] = true
		}
	}
	if len(telling) >= 3 || len(telling) == 2 && len(cols) >= 3 {
		t.vertical, t.columns = cols, nil
		return true
	}
	return false
}

func (t *transportReader) verticalRow(l *layout.Line, ms []string) {
	if un, at := unNumber(l.Cells[0].Text, false); un != "" { // "TDG UN1263" in one cell
		t.put(ms, trUN, stretch{l, l.Cells[0].Start + at, l.Cells[0].End})
	}
	for _, c := range l.Cells[1:] {
		best, most := -1, -20.0
		for i, k := range t.vertical {
			overlap := min(k.box.X1, c.Box.X1) - max(k.box.X0, c.Box.X0)
			if overlap > most {
				best, most = i, overlap
			}
		}
		if best >= 0 {
			t.put(ms, t.vertical[best].key, stretch{l, c.Start, c.End})
		}
	}
}

// field puts the value of a label into the entry of its mode: of its column, named in the label, or of the block.
func (t *transportReader) field(l *layout.Line, f field[trKey], fields []field[trKey], body []int, k int) {
	labelModes := modesOf(l.Text[f.label.start:f.label.end] + " " + f.tail)
	if len(labelModes) == 0 && f.label.start > 0 {
		for _, c := range l.Cells {
			if c.Start <= f.label.start && f.label.end <= c.End {
				labelModes = modesOf(l.Text[c.Start:f.label.start])
			}
		}
	}
	if f.value.empty() {
		t.key, t.keyAt = f.key, body[k]
		if len(labelModes) > 0 {
			t.modes = labelModes
		}
		if k+1 < len(body) {
			nl := &t.lines[body[k+1]]
			another := len(labelsOf(nl, transportLabels)) > 0 || len(modesOf(nl.Text)) > 0 // modes in the rows below
			if !another && nl.Box.X0 >= l.Box.X0-3 && len(nl.Text) < 80 {
				t.put(t.current(labelModes), f.key, lineOf(nl))
			}
		}
		return
	}
	if f.key == trName {
		t.names = shippingName{line: l, at: body[k], value: f.value, modes: t.current(labelModes), comma: strings.HasSuffix(f.value.text(), ",")}
	}
	if len(t.columns) > 0 && len(labelModes) == 0 {
		used := false
		for _, c := range l.Cells {
			if c.Start < f.value.start-1 || c.End > f.value.end+1 {
				continue
			}
			if m, ok := t.columnMode(l, c); ok {
				t.put([]string{m}, f.key, stretch{l, c.Start, c.End})
				used = true
			}
		}
		if used {
			return
		}
	}
	t.put(t.current(labelModes), f.key, f.value)
}

// shippingName is a proper shipping name that may go on in the next line.
type shippingName struct {
	line  *layout.Line
	at    int // index of its last line
	value stretch
	modes []string
	comma bool // it ended with a comma, which is not kept
}

// moreName adds a line to the shipping name that was read from the line before. It stands close below, where the name
// stands, or the name is visibly cut: it ends with a comma or within a bracket.
func (t *transportReader) moreName(l *layout.Line, at int) bool {
	n := &t.names
	if n.line == nil || at != n.at+1 || l.Page != n.line.Page || l.Gap > 0.8*max(l.Size, 8) || startsSubsection(l.Text) || otherLabel(l.Cells[0].Text) || len(l.Text) > 160 {
		return false
	}
	if un, _ := unNumber(l.Text, false); un != "" {
		return false
	}
	if _, none := notRegulated(l.Text); none {
		return false
	}
	x := n.line.BoxOf(n.value.start, n.value.end).X0
	label := n.line.Box.X0
	under := x-label > 12 && l.Box.X0 > x-4 && l.Box.X0 < x+12
	used := false
	for _, c := range l.Cells {
		ms := n.modes
		if len(t.columns) > 0 {
			m, ok := t.columnMode(l, c)
			if !ok {
				continue
			}
			ms = []string{m}
		}
		for _, m := range ms {
			e := t.entry(m)
			if e.value.ProperName == "" || !hasName(c.Text) || !under && !n.comma && !cutName(e.value.ProperName) || len(e.value.ProperName)+len(c.Text) > 200 {
				continue
			}
			if n.comma {
				e.value.ProperName += ","
			}
			e.value.ProperName += " " + strings.Trim(c.Text, " ,")
			e.from = append(e.from, stretch{l, c.Start, c.End})
			used = true
		}
	}
	if used {
		n.at, n.comma = at, strings.HasSuffix(strings.TrimSpace(l.Text), ",")
	}
	return used
}

// cutName tells whether a shipping name ends within a bracket.
func cutName(s string) bool {
	return strings.Count(s, "(") > strings.Count(s, ")")
}

// current is the modes that a value belongs to: those named with it, else those of the block.
func (t *transportReader) current(named []string) []string {
	switch {
	case len(named) > 0:
		return named
	case len(t.modes) > 0:
		return t.modes
	}
	return []string{""}
}

// columnMode is the mode whose head stands over a cell.
func (t *transportReader) columnMode(l *layout.Line, c layout.Cell) (string, bool) {
	best, most := -1, -25.0
	for i, m := range t.columns {
		overlap := min(m.box.X1, c.Box.X1) - max(m.box.X0, c.Box.X0)
		if overlap > most {
			best, most = i, overlap
		}
	}
	if best < 0 {
		return "", false
	}
	return t.columns[best].mode, true
}

// unlabelled reads a line without label: a mode with its value under a label, or a sentence.
func (t *transportReader) unlabelled(l *layout.Line, body []int, k int) {
	ms := modesOf(l.Text)
	if t.key != trOther && len(ms) > 0 && body[k]-t.keyAt <= 12 {
		if i := valueAfterMode(l); i > 0 {
			t.put(ms, t.key, stretch{l, i, len(l.Text)})
			return
		}
	}
	if len(t.columns) > 0 && len(l.Cells) >= 2 {
		for _, c := range l.Cells {
			if s, ok := notRegulated(c.Text); ok {
				if m, ok := t.columnMode(l, c); ok {
					t.entry(m).regulated = s
					t.entry(m).from = append(t.entry(m).from, stretch{l, c.Start, c.End})
				}
			}
		}
	}
	if un, at := unNumber(l.Text, false); un != "" { // "UN1263, PAINT, 3, III"
		t.shipping(l, un, at)
		return
	}
	if _, ok := notRegulated(l.Text); ok {
		t.statement(ms, lineOf(l))
	}
}

// valueAfterMode is the byte where the value begins in "ADR/RID : UN 1263" or "IMDG\tPAINT", 0 when there is none.
func valueAfterMode(l *layout.Line) int {
	if len(l.Cells) > 1 {
		return l.Cells[1].Start
	}
	if i := strings.IndexByte(l.Text, ':'); i > 0 && i+1 < len(l.Text) {
		return i + 1
	}
	return 0
}

// shipping reads a description in one line: "UN1263, Paint, 3, PG III".
func (t *transportReader) shipping(l *layout.Line, un string, at int) {
	for _, mode := range t.current(modesOf(l.Text)) {
		t.ship(mode, l, un, at)
	}
}

func (t *transportReader) ship(mode string, l *layout.Line, un string, at int) {
	e := t.entry(mode)
	if e.value.UN == "" {
		e.value.UN, e.value.Regulated, e.seen = un, true, true
		e.from = append(e.from, stretch{l, at, min(len(l.Text), at+8)})
	}
	parts := strings.Split(l.Text[at:], ",")
	if len(l.Cells) >= 3 {
		parts = strings.Split(l.Text[at:], "\t")
	}
	for i, p := range parts[1:] {
		p = strings.TrimSpace(p)
		switch {
		case e.value.Class == "" && classIn(p) != "" && len(p) < 12:
			e.value.Class = classIn(p)
		case e.value.PackingGroup == "" && groupIn(p) != "" && len(p) < 12:
			e.value.PackingGroup = groupIn(p)
		case i == 0 && e.value.ProperName == "" && hasName(p):
			e.value.ProperName = p
		}
	}
}

// put stores one value for each of the modes.
func (t *transportReader) put(ms []string, key trKey, v stretch) {
	for _, m := range ms {
		t.putOne(m, key, v)
	}
}

func (t *transportReader) putOne(mode string, key trKey, v stretch) {
	v = v.trim(" \t:;,")
	if v.empty() || key == trOther || key == trLabels {
		return
	}
	text := v.text()
	e := t.entry(mode)
	state, none := stateOf(text)
	if nr, ok := notRegulated(text); ok {
		e.regulated = nr
		e.from = append(e.from, v)
		if key != trMarine {
			return
		}
	}
	used := true
	switch key {
	case trUN:
		if un, _ := unNumber(text, true); un != "" {
			if e.value.UN == "" {
				e.value.UN, e.seen = un, true
			}
		} else if none {
			e.unState = state
		} else {
			used = false
		}
	case trName:
		if e.value.ProperName == "" && !none && hasName(text) && len(text) < 160 {
			e.value.ProperName = properName(text)
			e.seen = e.seen || len(text) > 2
		} else {
			used = false
		}
	case trClass:
		if c := classIn(text); c != "" && !none {
			if e.value.Class == "" {
				e.value.Class, e.seen = c, true
				e.value.Subsidiary = append(e.value.Subsidiary, subsidiaryIn(text)...)
			}
		} else {
			used = false
		}
	case trSub:
		if c := classIn(text); c != "" && !none {
			e.value.Subsidiary = append(e.value.Subsidiary, c)
		}
	case trGroup:
		if g := groupIn(text); g != "" && !none {
			if e.value.PackingGroup == "" {
				e.value.PackingGroup, e.seen = g, true
				if misreadGroup(text) {
					e.misread = text
				}
			}
		} else {
			used = false
		}
	case trMarine:
		if e.value.MarinePollutant == sheet.NotStated {
			e.value.MarinePollutant = yesNo(text)
		}
	}
	if used {
		e.from = append(e.from, v)
	}
}

// properName is a shipping name without the number that some sheets print before it.
func properName(s string) string {
	s = strings.TrimSpace(s)
	if un, at := unNumber(s, true); un != "" && at == 0 {
		k := strings.Index(s, un) + 4
		if rest := strings.TrimLeft(s[k:], " ,:-"); hasName(rest) {
			return rest
		}
	}
	return s
}

// statement reads a sentence that tells whether modes are regulated.
func (t *transportReader) statement(ms []string, v stretch) {
	s, ok := notRegulated(v.text())
	if !ok {
		if un, at := unNumber(v.text(), false); un != "" {
			for _, m := range t.current(ms) {
				t.ship(m, v.line, un, v.start+at)
			}
		}
		return
	}
	for _, m := range t.current(ms) {
		e := t.entry(m)
		e.regulated = s
		e.from = append(e.from, v.trim(" \t"))
	}
}

// unregulated are the wordings by which goods are not dangerous in transport.
var unregulated = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `not regulated|not dangerous goods|not a dangerous good|non regulated|not classified as dangerous goods|not classified as dangerous|not subject to|not restricted|not hazardous|no dangerous good|not classified as a hazardous|not considered dangerous|is not classified|not dangerous|not regulated for transport|unregulated|not a regulated material|not a hazardous material|not classified as hazardous for transport|
		non reglemente|non soumis|non dangereux|pas regle|pas reglemente|n est pas classe|n est pas reglemente|non classe comme dangereux|kein gefahrgut|nicht eingestuft|nicht reguliert|unterliegt nicht|keine gefahrguter|nicht als gefahrgut eingestuft|kein gefahrliches gut|
		no regulado|no esta regulado|no esta clasificado|no es mercancia peligrosa|no peligroso|no clasificado|mercancia no peligrosa|no reglamentado|no sujeto|no regulada`)
	return p
}()

func notRegulated(text string) (sheet.State, bool) {
	ts := tokenize(text)
	if _, _, n := unregulated.find(ts); n > 0 {
		return sheet.NoneStated, true
	}
	return sheet.NotStated, false
}

// unNumber finds "UN 1263", "UN1263", "ID 8000", or with bare a four-digit number that opens the text.
func unNumber(s string, bare bool) (string, int) {
	for i := 0; i+4 <= len(s); i++ {
		if !isDigit(s[i]) || i > 0 && isDigit(s[i-1]) || i+4 < len(s) && isDigit(s[i+4]) || !isDigit(s[i+1]) || !isDigit(s[i+2]) || !isDigit(s[i+3]) {
			continue
		}
		before := strings.ToUpper(strings.TrimRight(s[:i], " .:-#"))
		at := i
		for at > 0 && (s[at-1] == ' ' || isLetter(s[at-1])) && i-at < 4 {
			at--
		}
		prefixed := strings.HasSuffix(before, "UN") || strings.HasSuffix(before, "NA") || strings.HasSuffix(before, "ONU") || strings.HasSuffix(before, "UN NO") || strings.HasSuffix(before, "UN N°")
		if prefixed || bare && len(tokenize(s[:i])) == 0 && s[i] <= '3' {
			if s[i:i+4] <= "3600" && s[i:i+4] >= "0004" || strings.HasSuffix(before, "NA") || s[i:i+4] >= "8000" && s[i:i+4] <= "8001" {
				return s[i : i+4], at
			}
		}
	}
	return "", 0
}

// classIn finds a transport class at the start of a text: "3", "2.1", "Class 8 – Corrosive", "1.4S", "ORM-D".
func classIn(s string) string {
	t := strings.TrimLeft(s, " :")
	for _, w := range []string{"class", "klasse", "classe", "clase"} {
		if len(t) > len(w) && strings.EqualFold(t[:len(w)], w) {
			t = strings.TrimLeft(t[len(w):], " :.")
		}
	}
	if len(t) == 0 || t[0] < '1' || t[0] > '9' {
		return ""
	}
	n := 1
	if len(t) > 2 && t[1] == '.' && t[2] >= '1' && t[2] <= '6' {
		n = 3
		if t[0] == '1' && len(t) > 3 && t[3] >= 'A' && t[3] <= 'S' && (len(t) == 4 || !isLetter(t[4])) {
			n = 4
		}
	}
	if n < len(t) && (isDigit(t[n]) || t[n] == '.' && n+1 < len(t) && isDigit(t[n+1])) {
		return ""
	}
	if n < len(t) && isLetter(t[n]) {
		return ""
	}
	return t[:n]
}

// subsidiaryIn finds subsidiary hazards in brackets: "2.3 (5.1, 8)".
func subsidiaryIn(s string) []string {
	open := strings.IndexByte(s, '(')
	if open < 0 {
		return nil
	}
	end := strings.IndexByte(s[open:], ')')
	if end < 0 {
		return nil
	}
	var out []string
	for _, p := range strings.FieldsFunc(s[open+1:open+end], func(r rune) bool { return r == ',' || r == '+' || r == ';' || r == ' ' || r == '/' }) {
		c := classIn(p)
		if c == "" || c != p {
			return nil
		}
		out = append(out, c)
	}
	return out
}

// groupIn finds a packing group: "II", "PG III", "2", "11" (a misread II).
func groupIn(s string) string {
	for _, t := range tokenize(s) {
		switch t.text {
		case "i", "ii", "iii":
			return strings.ToUpper(t.text)
		case "1", "2", "3":
			if len(strings.TrimSpace(s)) == 1 {
				return []string{"I", "II", "III"}[t.text[0]-'1']
			}
		case "11", "ll", "il", "li":
			return "II"
		case "111", "lll", "iil", "ill", "lii":
			return "III"
		}
	}
	return ""
}

// misreadGroup tells whether groupIn takes other characters for the strokes of a Roman number.
func misreadGroup(s string) bool {
	for _, t := range tokenize(s) {
		switch t.text {
		case "i", "ii", "iii":
			return false
		case "11", "ll", "il", "li", "111", "lll", "iil", "ill", "lii":
			return true
		}
	}
	return false
}

func yesNo(s string) sheet.State {
	ts := tokenize(s)
	if len(ts) == 0 {
		return sheet.NotStated
	}
	switch ts[0].text {
	case "yes", "oui", "ja", "si", "marine", "polluant", "p", "y":
		return sheet.Stated
	case "no", "non", "nein", "not", "none", "kein", "keine", "aucun", "ninguno":
		if s, ok := stateOf(s); ok && s != sheet.NoneStated {
			return s
		}
		return sheet.NoneStated
	}
	if s, ok := stateOf(s); ok {
		return s
	}
	low := fold(s)
	if strings.Contains(low, "environmentally hazardous") || strings.Contains(low, "marine pollutant") || strings.Contains(low, "umweltgefahrdend") || strings.Contains(low, "dangereux pour l environnement") {
		return sheet.Stated
	}
	return sheet.NotStated
}

// finish turns the entries into facts. A mode without values takes those printed for all modes.
func (t *transportReader) finish(body []int) {
	var common *transportEntry
	if e := t.entries[""]; e != nil && e.seen {
		common = e
	}
	for _, m := range t.order {
		e := t.entries[m]
		if !e.seen && e.regulated == sheet.NotStated && !(e.unState != sheet.NotStated) {
			continue
		}
		if m != "" && common != nil && e.seen {
			inherit(&e.value, common.value)
		}
		e.value.Regulated = e.seen && (e.value.UN != "" || e.value.Class != "")
		if e.regulated == sheet.NoneStated && e.value.UN == "" {
			e.value.Regulated = false
		}
		if m == "" && !e.seen && len(t.order) > 1 && e.regulated == sheet.NotStated {
			continue
		}
		confidence := sureTable
		if m == "" {
			confidence = likely
		}
		f := fact(e.value, confidence, e.from...)
		for i, at := range f.Evidence {
			if e.misread != "" && at.Words == e.misread && at.Recognised == "" {
				f.Evidence[i].Recognised = at.Words
			}
		}
		if !e.value.Regulated && e.value.UN == "" && e.value.Class == "" {
			f.State = sheet.NoneStated
			if e.regulated == sheet.NotStated && e.unState == sheet.NoData {
				f.State = sheet.NoData
			} else if e.regulated == sheet.NotStated && e.unState == sheet.NotApplicable {
				f.State = sheet.NotApplicable
			}
		}
		t.sheet.Transport = append(t.sheet.Transport, f)
	}
}

func inherit(v *sheet.Transport, from sheet.Transport) {
	if v.UN == "" {
		v.UN = from.UN
	}
	if v.ProperName == "" {
		v.ProperName = from.ProperName
	}
	if v.Class == "" {
		v.Class = from.Class
	}
	if v.PackingGroup == "" {
		v.PackingGroup = from.PackingGroup
	}
}
