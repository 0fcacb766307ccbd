package facts

import (
	"regexp"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// column is what a column of a table holds.
type column uint8

const (
	colNone column = iota
	colName
	colCAS
	colEC
	colREACH
	colIndex
	colPercent
	colClass
	colCodes
	colMFactor
	colLimits
	colIdentifiers // several registry numbers in one cell
	colNote
	colExposure // exposure limits printed in the ingredient table
	colSymbol
)

// columnHeads are the heads of ingredient tables.
var columnHeads = func() *phrases[column] {
	p := &phrases[column]{}
	p.add(colName, `chemical name|component|components|ingredient|ingredients|name|substance|hazardous components|hazardous ingredients|product substance|chemical|material|common name|ingredient name|hazardous component|substance name|product ingredient name|chemical identity|constituent|chemical names|name of ingredient|impurities|description|chemical name of ingredient|ingredient description|
		nom chimique|composant|nom du produit composant|composants|ingredient|substance|nom|designation|nom de la substance|
		bestandteile|bezeichnung|stoffname|inhaltsstoff|chemische bezeichnung|chemischer name|stoff|inhaltsstoffe|name des produkts inhaltsstoffs|
		nombre quimico|componente|componentes|nombre|sustancia|ingrediente|nombre de la sustancia|denominacion|nombre del producto o ingrediente`)
	p.add(colCAS, `cas|cas no|cas number|cas nr|cas rn|n cas|no cas|numero cas|nummer cas|cas nummer|cas registry number|cas n|cas numbers|c a s|cas reg no|cas registry no`)
	p.add(colEC, `ec|ec no|ec number|einecs|einecs no|eg nr|ec nr|einecs elincs nummer|einecs elincs|numero ce|n ce|ce|no ce|eg nummer|elincs|numero ec|ec list no|einecs number|eu no|eg|einecs nr`)
	p.add(colREACH, `reach|reach no|reach registration number|reach nr|reach registration no|reach registriernr|reach registriern|registration number|numero d enregistrement reach|reach registrierungsnummer|numero de registro reach|registrierungsnummer|reach number`)
	p.add(colIndex, `index|index no|index number|index nr|numero index|indice|annex i index number|annex no|numero de indice`)
	p.add(colPercent, `percent|weight|wt|concentration|conc|amount|range|by weight|by wt|weight percent|content|composition|proportion|percentage|weight less than|w w|weight range|percent by weight|conc range|wt percent|concentration range|amount vol|percent range|concentration w w|concentration wt|approximate|approx|typical|
		teneur|poids|pourcentage|quantite|concentration|poids en|en poids|
		konzentration|gehalt|anteil|gew|massenanteil|menge|gewichtsprozent|konzentration volumenanteil|inhalt|
		concentracion|contenido|peso|porcentaje|cantidad|proporcion|en peso`)
	p.add(colClass, `classification|ghs classification|ghs us classification|hazard classification|hazard|hazards|classification according to regulation|clp classification|hazard class|classification clp|classes|hazard category|classification en application|
		einstufung|klassifizierung|klassifizierung clp|einstufung gemass|clasificacion|clasificacion sga`)
	p.add(colCodes, `ghs hazard statements|hazard statements|hazard statement|h statements|h codes|h code|phrases ghs|h phrases|ghs statements|gefahrenhinweise|indicaciones de peligro|mentions de danger`)
	p.add(colMFactor, `m factors|m factor|m faktor|facteur m|factor m`)
	p.add(colLimits, `specific concentration limits|specific conc limits|specific conc limits m factors and ates|scl|specific concentration limit|limites de concentration specifiques|concentration specifique limites|spezifische konzentrationsgrenzwerte|limites de concentracion especificos|concentration specifique limites facteurs m et eta|specific conc limit m factor|scl m factor ate`)
	p.add(colIdentifiers, `identifiers|product identifier|identifier|identifiants|produktidentifikator|identificadores|identificador del producto|identifikatoren|identificador|identification number|id`)
	p.add(colNote, `note|notes|remarks|type|nota|notas|anmerkung|remarques|comments|footnote|trade secret`)
	p.add(colExposure, `acgih|tlv|osha|pel|acgih tlv|osha pel|acgih tlv twa|acgih tlv stel|osha pel twa|osha pel ceiling|exposure limits|stel|vapor pressure|lel|exposure limit|niosh|ld50|lc50`)
	p.add(colSymbol, `symbols|ghs symbols|symbols ghs|symbol|pictograms|pictogrammes`)
	return p
}()

// head is the roles of the columns of a table: cells of rows are matched to head cells by their place.
type head struct {
	boxes []sheet.Rect
	roles []column
	cols  []int // table column of the head cell, to match rows of the same table
	table int
	lines int
	vol   bool // the percent column is by volume
	loose bool // a head cell names shares beside something else: columns whose heads ran together
	upper byte // the percent column gives upper bounds only: '<' or 'l' (≤)
}

// headRole finds what a head cell means.
func headRole(text string) column {
	ts := tokenize(text)
	if len(ts) == 0 {
		if strings.IndexByte(text, '%') >= 0 {
			return colPercent
		}
		return colNone
	}
	if len(ts) > 14 {
		return colNone
	}
	best, most := colNone, 0
	for i := range ts {
		if v, n := columnHeads.at(ts, i); n > 0 {
			score := n*10 - i
			if v != colName {
				score += 5 // "Ingredient percent" is a share
			}
			if score > most {
				best, most = v, score
			}
		}
	}
	if strings.IndexByte(text, '%') >= 0 && (best == colNone || best == colClass || best == colName || best == colNote) && len(ts) <= 6 {
		return colPercent
	}
	return best
}

// headAt reads a line as the head of an ingredient table; ok when it has at least two known columns, one of them telling.
func headAt(l *layout.Line) (head, bool) {
	h := head{table: l.Table, lines: 1}
	known, telling := 0, false
	for _, c := range headCells(l) {
		if len(c.Text) > 90 {
			return head{}, false
		}
		role := headRole(c.Text)
		if _, share := number.Interval(c.Text, number.Undecided); share || hasDigits(c.Text, 5) {
			return head{}, false // a row with numbers
		}
		if role != colNone {
			known++
		}
		h.loose = h.loose || role != colPercent && role != colNone && namesShare(c.Text)
		telling = telling || role == colCAS || role == colPercent || role == colIdentifiers || role == colEC || role == colCodes || role == colClass || role == colREACH
		h.boxes = append(h.boxes, c.Box)
		h.roles = append(h.roles, role)
		h.cols = append(h.cols, c.Col)
		if role == colPercent {
			low := strings.ToLower(c.Text)
			h.vol = h.vol || strings.Contains(low, "vol")
			h.upper = upperHead(fold(c.Text))
		}
	}
	return h, known >= 2 && telling
}

// headCells are the cells of a head. One in which the heads of shares and of classes ran together is two.
func headCells(l *layout.Line) []layout.Cell {
	var out []layout.Cell
	for _, c := range l.Cells {
		at, ok := classHead(c.Text)
		if !ok {
			out = append(out, c)
			continue
		}
		left, right := c, c
		left.End, right.Start = c.Start+at, c.Start+at
		left.Text, right.Text = l.Text[left.Start:left.End], l.Text[right.Start:right.End]
		left.Box, right.Box = l.BoxOf(left.Start, left.End), l.BoxOf(right.Start, right.End)
		right.Col = c.Col + max(1, c.Span-1)
		out = append(out, left, right)
	}
	return out
}

// classHead finds where the head of classes begins behind that of shares in one cell: "Concentration [%] Classification".
func classHead(text string) (int, bool) {
	ts := tokenize(text)
	for i := 1; i < len(ts); i++ {
		v, n := columnHeads.at(ts, i)
		if n > 0 && i+n == len(ts) && (v == colClass || v == colCodes) && sharesOnly(text[:ts[i].start], ts[:i]) {
			return ts[i].start, true
		}
	}
	return 0, false
}

// sharesOnly tells whether a text is a head of shares and nothing else: it has a percent sign or is one wording.
func sharesOnly(text string, ts []token) bool {
	if headRole(text) != colPercent {
		return false
	}
	_, n := columnHeads.at(ts, 0)
	return strings.IndexByte(text, '%') >= 0 || n == len(ts)
}

// namesShare tells whether a head cell also names shares.
func namesShare(text string) bool {
	ts := tokenize(text)
	for i := range ts {
		if v, n := columnHeads.at(ts, i); n > 0 && v == colPercent {
			return true
		}
	}
	return false
}

// upperHead tells whether the head of a share column says that its numbers are upper bounds.
func upperHead(low string) byte {
	for _, w := range []string{"less than", "moins de", "weniger als", "menos de"} {
		if strings.Contains(low, w) {
			return '<'
		}
	}
	for _, w := range []string{"maximum", "not more than", "up to", "upper bound", "max ", "hochstens", "hasta"} {
		if strings.Contains(low+" ", w) {
			return 'l'
		}
	}
	return 0
}

// roleOf is the role of a cell under the head: by table column, else by the head cell it overlaps most or stands nearest.
func (h *head) roleOf(l *layout.Line, c layout.Cell) column {
	if l.Table >= 0 && l.Table == h.table {
		for i, col := range h.cols {
			if col == c.Col {
				return h.roles[i]
			}
		}
	}
	best, most := -1, -1e9
	for i, b := range h.boxes {
		overlap := min(b.X1, c.Box.X1) - max(b.X0, c.Box.X0)
		if overlap < 0 {
			overlap *= 2
		}
		if overlap > most {
			best, most = i, overlap
		}
	}
	if best < 0 || most < -60 {
		return colNone
	}
	return h.roles[best]
}

// row is what one line of section 3 holds.
type row struct {
	line     *layout.Line
	at       int
	name     stretch
	cas      []number.Registry
	casAt    []stretch
	percent  sheet.Interval
	pctAt    stretch
	hasPct   bool
	pctUnit  string
	secret   stretch
	noCAS    stretch   // "-", "N/A", "Mixture" in the CAS column
	others   []stretch // cells with classes, codes, limits
	headed   bool
	withheld bool // the words of a trade secret stand in the place of the share
	noShare  bool // the head has no column for shares: a second table on the same ingredients
	strong   bool // the percent stands in its own column or has a percent sign
}

var secretWords = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `trade secret|proprietary|confidential|secret|withheld|proprietary ingredient|trade secret ingredient|business confidential|secret commercial|secret de fabrication|confidentiel|geschaftsgeheimnis|betriebsgeheimnis|vertraulich|secreto comercial|confidencial|secreto industrial|cbi`)
	return p
}()

// readComposition reads section 3: rows of tables with or without rules, or blocks where name, number and share stand on
// lines of their own.
func (r *reader) readComposition() {
	out := &r.sheet.Composition
	body := r.part.body(3)
	rows, heads := r.rowsOf(body)
	r.collect(rows, heads)
	r.substanceState(body)
	if len(out.Ingredients) == 0 {
		for _, i := range body {
			l := &r.lines[i]
			ts := tokenize(l.Text)
			if _, _, n := noIngredients.find(ts); n > 0 {
				out.State = sheet.NoneStated
			}
		}
		return
	}
	out.State = sheet.Stated
}

var noIngredients = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `no hazardous ingredients|no hazardous components|contains no hazardous|does not contain hazardous|no ingredients are hazardous|no components need to be disclosed|none of the ingredients|no reportable hazardous|no hazardous substances|aucun ingredient dangereux|ne contient pas de substances dangereuses|aucun composant dangereux|keine gefahrlichen inhaltsstoffe|keine gefahrlichen bestandteile|enthalt keine gefahrlichen|no contiene componentes peligrosos|ningun componente peligroso|sin componentes peligrosos|no contiene sustancias peligrosas`)
	return p
}()

// rowsOf reads every line of the section as a row under the last head seen.
func (r *reader) rowsOf(body []int) (rows []row, heads int) {
	var h *head
	for k := 0; k < len(body); k++ {
		l := &r.lines[body[k]]
		if startsSubsection(l.Text) && len(l.Cells) == 1 && len(number.CASNumbers(l.Text, false)) == 0 {
			continue
		}
		if nh, ok := headAt(l); ok {
			if k+1 < len(body) { // a head of two lines
				n := &r.lines[body[k+1]]
				if len(number.CASNumbers(n.Text, r.ocr)) == 0 && len(n.Text) < 120 && !hasDigits(n.Text, 3) && !withheldRow(n) && headMore(&nh, n) {
					k++
				}
			}
			h = &nh
			heads++
			continue
		}
		row := r.rowOf(l, h)
		if (!row.hasPct || row.name.empty()) && len(row.cas) == 0 && h == nil && k+1 < len(body) && numberLine(r.lines[body[k+1]].Text) {
			r.nameWithShare(&row)
		}
		row.at = body[k]
		rows = append(rows, row)
	}
	return rows, heads
}

// numberLine tells whether a line holds nothing but the registry number of the substance named on the line before, or why
// there is none.
func numberLine(text string) bool {
	const labelWords = 3
	ts := tokenize(text)
	label := slices.IndexFunc(ts[:min(len(ts), labelWords)], func(t token) bool { return t.text == "cas" })
	if label < 0 || strings.Contains(text, "%") {
		return false
	}
	if _, _, n := secretWords.find(ts); n > 0 {
		return true
	}
	ns := number.CASNumbers(text, false)
	return len(ns) > 0 && len(tokenize(text[:ns[0].Start])) <= labelWords
}

// nameWithShare reads a line of a name with the share behind it, "2-butoxyethanol   10 - 20 %".
func (r *reader) nameWithShare(out *row) {
	const longest = 120 // bytes
	c := out.line.Cells[len(out.line.Cells)-1]
	s := stretch{out.line, out.line.Cells[0].Start, c.End}
	text := s.text()
	found := number.Scan(text, r.percentStyle())
	if len(text) > longest {
		return
	}
	if ts := tokenize(text); len(ts) > 0 { // "hardener base   trade secret"
		for i := 1; i < len(ts); i++ {
			if _, n := secretWords.at(ts, i); n > 0 && i+n == len(ts) && hasName(text[:ts[i].start]) {
				out.name, out.others = s.sub(0, ts[i].start).trim(" \t:;,*("), nil
				out.secret, out.withheld = s.sub(ts[i].start, ts[i+n-1].end), true
				return
			}
		}
	}
	if len(found) == 0 {
		return
	}
	f := found[len(found)-1]
	if f.Unit.Dim != number.Share || f.HasHi && f.Hi > 100 || f.HasLo && (f.Lo < 0 || f.Lo > 100) || strings.Trim(text[f.End:], " %") != "" {
		return
	}
	name := s.sub(0, f.Start).trim(" \t:;,*(")
	if !hasName(name.text()) {
		return
	}
	out.name, out.others = name, nil
	out.percent, out.hasPct, out.strong = f.Interval, true, true
	out.pctAt, out.pctUnit = s.sub(f.Start, f.End), "%"
	if f.Unit.Share == "volume" {
		out.pctUnit = "% vol"
	}
}

// withheldRow tells whether the last cell of a line says nothing but that something is a trade secret: such a line names an
// ingredient and is no second line of a head.
func withheldRow(l *layout.Line) bool {
	if len(l.Cells) < 2 {
		return false
	}
	ts := tokenize(l.Cells[len(l.Cells)-1].Text)
	if len(ts) == 0 {
		return false
	}
	_, n := secretWords.at(ts, 0)
	return n == len(ts)
}

// headMore adds the second line of a head; it is one when its cells stand under head cells and are words of heads.
func headMore(h *head, l *layout.Line) bool {
	known := 0
	for _, c := range l.Cells {
		role := headRole(c.Text)
		if role == colNone && len(tokenize(c.Text)) > 3 {
			return false
		}
		if role != colNone {
			known++
		}
	}
	if known == 0 || known*2 < len(l.Cells) || len(l.Cells) > len(h.boxes)+1 {
		return false
	}
	for _, c := range l.Cells {
		for i, b := range h.boxes {
			if min(b.X1, c.Box.X1) > max(b.X0, c.Box.X0) {
				h.boxes[i] = b.Union(c.Box)
				if h.roles[i] == colNone {
					h.roles[i] = headRole(c.Text)
				}
			}
		}
	}
	return true
}

// rowOf reads the cells of one line.
func (r *reader) rowOf(l *layout.Line, h *head) row {
	out := row{line: l, headed: h != nil, noShare: h != nil && !hasRole(h.roles, colPercent)}
	for ci, c := range l.Cells {
		if c.Start >= c.End {
			continue
		}
		s := stretch{l, c.Start, c.End}
		role := colNone
		if h != nil {
			role = h.roleOf(l, c)
		}
		if role == colExposure {
			continue
		}
		r.readCell(&out, s, role, ci, h)
	}
	out.joinBounds(h)
	return out
}

// joinBounds makes a range of two bare numbers in neighbouring cells, one of them in the column of shares: lower and upper
// bounds set in columns of their own.
func (w *row) joinBounds(h *head) {
	if w.hasPct && w.percent.HasLo != w.percent.HasHi && h != nil {
		w.joinOpenBounds()
		return
	}
	v, single := w.percent.Single()
	if !w.hasPct || !single || h == nil || h.upper != 0 {
		return
	}
	l := w.line
	for k, c := range l.Cells {
		if w.pctAt.start < c.Start || w.pctAt.start >= c.End {
			continue
		}
		bound := func(i int) (float64, bool) {
			if i < 0 || i >= len(l.Cells) {
				return 0, false
			}
			if role := h.roleOf(l, l.Cells[i]); role != colPercent && role != colNone && role != colCAS && role != colName {
				return 0, false
			}
			iv, ok := number.Interval(strings.TrimSpace(l.Cells[i].Text), number.DecimalComma)
			x, one := iv.Single()
			return x, ok && one && x >= 0 && x <= 100
		}
		if lo, ok := bound(k - 1); ok && lo < v {
			w.percent = sheet.Between(lo, v)
			w.pctAt = stretch{l, l.Cells[k-1].Start, c.End}
		} else if hi, ok := bound(k + 1); ok && hi > v {
			w.percent = sheet.Between(v, hi)
			w.pctAt = stretch{l, c.Start, l.Cells[k+1].End}
		}
		return
	}
}

// joinOpenBounds puts a lower and an upper bound together that stand in neighbouring cells, each with its sign: "≥ 10", "< 30".
// Recognition may have lost the dash between them.
func (w *row) joinOpenBounds() {
	l := w.line
	for k, c := range l.Cells {
		if w.pctAt.start < c.Start || w.pctAt.start >= c.End {
			continue
		}
		lo, hi := k, k+1
		if w.percent.HasHi {
			lo, hi = k-1, k
		}
		if lo < 0 || hi >= len(l.Cells) {
			return
		}
		a, okA := number.Interval(strings.TrimSpace(l.Cells[lo].Text), number.DecimalComma)
		b, okB := number.Interval(strings.TrimSpace(l.Cells[hi].Text), number.DecimalComma)
		if okA && okB && a.HasLo && !a.HasHi && b.HasHi && !b.HasLo && a.Lo < b.Hi && b.Hi <= 100 {
			w.percent = sheet.Interval{Lo: a.Lo, HasLo: true, LoOpen: a.LoOpen, Hi: b.Hi, HasHi: true, HiOpen: b.HiOpen}
			w.pctAt = stretch{l, l.Cells[lo].Start, l.Cells[hi].End}
		}
		return
	}
}

// readCell takes from one cell what its role and its words say.
func (r *reader) readCell(out *row, s stretch, role column, ci int, h *head) {
	text := s.text()
	cas := number.CASNumbers(text, r.ocr)
	rest := s
	for _, n := range cas {
		if !n.Valid && role != colCAS && role != colIdentifiers && !casNamed(text, n.Start) && !(role == colName && bracketed(text, n)) {
			continue
		}
		if role == colName && inName(text, n) {
			continue // a number inside a synonym
		}
		out.cas = append(out.cas, n)
		out.casAt = append(out.casAt, s.sub(n.Start, n.End))
	}
	if len(cas) > 0 {
		// what stands before the number may be the name, what stands behind it the share
		last := cas[len(cas)-1]
		before, after := s.sub(0, cas[0].Start), s.sub(last.End, len(text))
		before = stripLabel(before)
		if role == colNone || role == colName {
			if !before.trim(" :;,.-()").empty() && out.name.empty() && hasName(before.text()) {
				out.name = before.trim(" \t:;,-(*")
			}
		}
		if !out.hasPct && role != colIdentifiers {
			r.readPercent(out, after, role == colPercent, true, h)
		}
		rest = after
		if ecs := number.ECNumbers(text); len(ecs) > 0 || len(number.REACHNumbers(text)) > 0 {
			out.others = append(out.others, s)
		}
		if strings.Contains(text, "H2") || strings.Contains(text, "H3") || strings.Contains(text, "H4") {
			out.others = append(out.others, rest)
		}
		return
	}
	if w, i, n := secretWords.find(tokenize(text)); n > 0 && w && len(text) < 60 {
		ts := tokenize(text)
		out.secret = s.sub(ts[i].start, ts[i+n-1].end)
		out.withheld = out.withheld || role == colPercent || role == colCAS || role == colEC || role == colIdentifiers
		if role == colCAS || role == colIdentifiers {
			return
		}
	}
	switch role {
	case colPercent:
		if r.readPercent(out, s, true, false, h) {
			return
		}
	case colCAS, colIdentifiers:
		if _, ok := stateAlone(text); ok || fold(text) == "mixture" || fold(text) == "proprietary" {
			out.noCAS = s
			return
		}
		if role == colIdentifiers {
			out.others = append(out.others, s)
			return
		}
	case colEC, colREACH, colIndex:
		if h.loose && len(number.ECNumbers(text)) == 0 && len(number.REACHNumbers(text)) == 0 && !out.hasPct && r.readPercent(out, s, false, false, h) {
			return
		}
		out.others = append(out.others, s)
		return
	case colClass, colCodes, colMFactor, colLimits:
		out.others = append(out.others, s)
		return
	case colNote, colSymbol:
		return
	}
	if role != colName && !out.hasPct && r.readPercent(out, s, false, false, h) {
		return
	}
	if len(ghs.ParseCodes(text)) > 0 || len(number.ECNumbers(text)) > 0 || len(number.REACHNumbers(text)) > 0 {
		out.others = append(out.others, s)
		return
	}
	if out.name.empty() && hasName(text) && (role == colName || role == colNone && ci <= 1) {
		out.name = s.trim(" \t:;,*")
	} else if role == colNone {
		out.others = append(out.others, s)
	}
}

// casNamed tells whether the words "CAS" stand before a number.
func casNamed(text string, at int) bool {
	return strings.Contains(strings.ToUpper(text[:at]), "CAS")
}

// bracketed tells whether a number stands in brackets at the end of a name, where sheets put the CAS number.
func bracketed(text string, n number.Registry) bool {
	return n.Start > 0 && text[n.Start-1] == '(' && strings.TrimSpace(text[n.End:]) == ")"
}

// inName tells whether a CAS number inside a name cell belongs to a synonym: words follow it.
func inName(text string, n number.Registry) bool {
	if casNamed(text, n.Start) {
		return false
	}
	after := tokenize(text[n.End:])
	return len(after) > 2
}

// stripLabel drops "CAS number:" and the like from what stands before a CAS number.
func stripLabel(s stretch) stretch {
	t := s.text()
	up := strings.ToUpper(t)
	for _, w := range []string{"(CAS", "CAS", "N° CAS", "NO CAS", "Nº CAS"} {
		if k := strings.LastIndex(up, w); k >= 0 && len(tokenize(t[k:])) <= 4 {
			s = s.sub(0, k)
			t = s.text()
			up = strings.ToUpper(t)
		}
	}
	for _, n := range []string{" N.º", " N.°", " N°", " Nº", " No.", " No", " Nr.", " Nr", " N."} {
		if u := strings.TrimRight(s.text(), " :("); strings.HasSuffix(u, n) || u == strings.TrimLeft(n, " ") {
			s = s.sub(0, max(0, len(u)-len(n)))
			break
		}
	}
	return s
}

// hasName tells whether a text can be the name of a substance: letters, not only a state or a label.
func hasName(t string) bool {
	letters := 0
	for _, r := range t {
		if r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r > 0x7f {
			letters++
		}
	}
	if letters < 2 {
		return false
	}
	ts := tokenize(t)
	if len(ts) == 0 {
		return false
	}
	if v, n := columnHeads.at(ts, 0); n == len(ts) && v != colName {
		return false
	}
	_, alone := stateAlone(t)
	return !alone
}

// readPercent reads a share. In the percent column any interval counts, elsewhere the text must be an interval and
// nothing else, or carry a percent sign; behind a CAS number (glued) it may stand before other words.
func (r *reader) readPercent(out *row, s stretch, inColumn, glued bool, h *head) bool {
	flat := strings.ReplaceAll(s.text(), "\t", " ")
	t := strings.Trim(flat, " ")
	if t == "" || len(t) > 200 {
		return false
	}
	if h != nil && !inColumn && !glued && hasRole(h.roles, colPercent) {
		return false // the head says where shares stand
	}
	found := number.Scan(flat, r.percentStyle())
	if len(found) == 0 {
		return false
	}
	f := found[0]
	signed := strings.IndexByte(flat[f.Start:], '%') >= 0 && strings.IndexByte(flat[f.Start:], '%') <= f.End-f.Start+2
	if len(found) > 1 && f.Unit.Zero() && inColumn { // "10 - 20 - - 5": take the widest
		for _, x := range found[1:] {
			if x.Unit.Name == "%" && !signed {
				f, signed = x, true
			}
		}
	}
	before := strings.Trim(flat[:f.Start], " :(–-*=")
	whole := strings.Trim(flat[f.End:], " )%.*wW/tvolby") == "" && before == ""
	words := len(tokenize(before))
	switch {
	case f.Unit.Dim != number.None && f.Unit.Dim != number.Share:
		return false
	case f.HasHi && f.Hi > 100.5 || f.HasLo && f.Lo < 0 || f.HasLo && f.Lo > 100.5:
		return false
	case inColumn:
		if words > 2 {
			return false
		}
	case whole && (signed || r.rangeLike(f) || h == nil || glued || h.loose):
		if !signed && !r.rangeLike(f) && f.HasLo && f.Lo == f.Hi && h == nil && !glued {
			return false
		}
	case glued && words == 0:
	case signed && words <= 3 && !strings.Contains(fold(flat), "scl") && !strings.ContainsAny(flat, "C") && len(t) < 40 && len(ghs.ParseCodes(flat)) == 0:
	default:
		return false
	}
	out.percent, out.hasPct = f.Interval, true
	if v, single := f.Single(); single && inColumn && h != nil && h.upper != 0 {
		out.percent = sheet.Interval{Hi: v, HasHi: true, HiOpen: h.upper == '<'}
	}
	out.strong = inColumn || signed
	out.pctAt = s.sub(f.Start, f.End)
	out.pctUnit = "%"
	if f.Unit.Share == "volume" || h != nil && h.vol {
		out.pctUnit = "% vol"
	}
	if f.Unit.Name == "ppm" || f.Unit.Name == "ppb" || f.Unit.Name == "‰" {
		out.percent = f.Unit.Convert(f.Interval)
	}
	return true
}

// rangeLike tells whether an interval is printed as a range or bound, not as a bare number.
func (r *reader) rangeLike(f number.Found) bool {
	v, ok := f.Single()
	_ = v
	return !ok
}

// percentStyle is the document's style; shares never have thousands, so an undecided comma is a decimal one.
func (r *reader) percentStyle() number.Style {
	if r.style == number.Undecided {
		return number.DecimalComma
	}
	return r.style
}

// collect joins rows to ingredients. A row opens an ingredient when it has a CAS number or a share that the open
// ingredient already has; rows without either go on with the open one.
func (r *reader) collect(rows []row, heads int) {
	var list []*draft
	var open *draft
	var pending []row // names waiting for their number or share
	for i := range rows {
		w := &rows[i]
		if open != nil && len(w.cas) > 1 && w.hasPct && open.row.hasPct && len(open.cas) == 0 && open.noCAS.empty() && w.at-open.last <= 2 {
			// rows that ran together at a page break: the first number belongs to the ingredient before
			open.cas, open.casAt = w.cas[:1], w.casAt[:1]
			w.cas, w.casAt = w.cas[1:], w.casAt[1:]
		}
		r.splitCAS(w)
		if d := again(list, w); d != nil {
			d.addOthers(w)
			open, pending = d, nil
			continue
		}
		switch {
		case len(w.cas) > 0 && w.hasPct:
			open = newDraft(w, pending)
			list = append(list, open)
		case len(w.cas) > 0:
			if open != nil && open.row.hasPct && len(open.cas) == 0 && w.at-open.last <= 4 && open.noCAS.empty() {
				open.addCAS(w)
				break
			}
			if open != nil && len(open.cas) > 0 && !open.row.hasPct && w.name.empty() && sameCAS(open.cas, w.cas) {
				break
			}
			if open != nil && open.row.hasPct && w.name.empty() && w.at-open.last <= 2 && len(open.cas) > 0 && !laterPercent(rows[i+1:]) {
				break // another number of the same ingredient
			}
			open = newDraft(w, pending)
			list = append(list, open)
		case w.withheld && !w.name.empty() && !w.hasPct:
			open = newDraft(w, pending)
			list = append(list, open)
		case w.hasPct:
			if open != nil && !open.row.hasPct && w.at-open.last <= 5 && (w.name.empty() || open.name.empty() || !w.strong) {
				open.addPercent(w)
				break
			}
			if !w.strong && w.name.empty() || w.name.empty() && len(pending) == 0 && w.secret.empty() && !w.headed {
				pending = nil
				continue
			}
			if w.name.empty() && len(pending) == 0 && w.secret.empty() && w.noCAS.empty() {
				continue
			}
			if !w.headed && !followsCAS(rows[i+1:]) && w.secret.empty() && w.noCAS.empty() {
				continue // prose with a percentage
			}
			open = newDraft(w, pending)
			list = append(list, open)
		default:
			next := i+1 < len(rows) && (len(rows[i+1].cas) > 0 || rows[i+1].hasPct) && beginsName(w, &rows[i+1])
			if open != nil && !next && r.continues(open, w) {
				open.add(w)
				continue
			}
			if open == nil || !w.name.empty() && len(w.others) == 0 {
				if !w.name.empty() && len(w.name.text()) < 90 {
					pending = append(pending, *w)
					if len(pending) > 2 {
						pending = pending[1:]
					}
				}
			}
			if open != nil && !next {
				open.addOthers(w)
			}
			continue
		}
		pending = nil
	}
	for _, d := range list {
		if in, ok := r.ingredient(d); ok {
			r.sheet.Composition.Ingredients = append(r.sheet.Composition.Ingredients, in)
		}
	}
}

// again finds the ingredient that a row of a second table, one without shares, tells more about.
func again(list []*draft, w *row) *draft {
	if !w.noShare || w.hasPct || len(list) == 0 {
		return nil
	}
	name := fold(w.name.text())
	for _, d := range list {
		switch {
		case len(w.cas) > 0:
			if sameCAS(d.cas, w.cas) {
				return d
			}
		case name != "" && name == fold(d.name.text()):
			return d
		}
	}
	return nil
}

// splitCAS keeps, of several numbers in one row, the first; the others are synonyms.
func (r *reader) splitCAS(w *row) {
	if len(w.cas) > 1 {
		w.cas, w.casAt = w.cas[:1], w.casAt[:1]
	}
}

func sameCAS(a, b []number.Registry) bool {
	return len(a) > 0 && len(b) > 0 && a[0].Number == b[0].Number
}

// followsCAS tells whether one of the next rows carries a CAS number and no share.
func followsCAS(rows []row) bool {
	for i := range rows {
		if i > 3 || rows[i].hasPct {
			return false
		}
		if len(rows[i].cas) > 0 || !rows[i].noCAS.empty() || !rows[i].secret.empty() {
			return true
		}
	}
	return false
}

// laterPercent tells whether a share follows before the next CAS number.
func laterPercent(rows []row) bool {
	for i := range rows {
		if i > 4 || len(rows[i].cas) > 0 {
			return false
		}
		if rows[i].hasPct {
			return true
		}
	}
	return false
}

// draft is an ingredient being put together.
type draft struct {
	row    row
	name   stretch
	cas    []number.Registry
	casAt  []stretch
	noCAS  stretch
	secret stretch
	others []stretch
	above  []stretch // lines of the name above that of the row
	names  []stretch // further lines of the name
	last   int
}

func newDraft(w *row, pending []row) *draft {
	d := &draft{row: *w, name: w.name, cas: w.cas, casAt: w.casAt, noCAS: w.noCAS, secret: w.secret, others: w.others, last: w.at}
	if d.name.empty() && len(pending) > 0 {
		p := pending[len(pending)-1]
		if w.at-p.at <= 3 {
			d.name = p.name
		}
	} else if len(pending) > 0 && beginsName(&pending[len(pending)-1], w) {
		d.above = []stretch{pending[len(pending)-1].name}
	}
	return d
}

// beginsName tells whether a row holds the first line of a name that goes on in the row below, which has the number and the
// share: it ends with a comma or hyphen or inside a bracket, and the next stands right below it at the same place.
func beginsName(above, w *row) bool {
	if above.name.empty() || w.name.empty() || w.at-above.at != 1 || len(above.line.Cells) != 1 || above.line.Page != w.line.Page {
		return false
	}
	t := above.name.withComma().text()
	if !strings.HasSuffix(t, ",") && !strings.HasSuffix(t, "-") && strings.Count(t, "(") <= strings.Count(t, ")") {
		return false
	}
	a, b := above.line.BoxOf(above.name.start, above.name.end), w.line.BoxOf(w.name.start, w.name.end)
	return b.X0 > a.X0-3 && b.X0 < a.X0+12 && b.Y0-a.Y1 < 1.2*max(w.line.Size, 8)
}

func (d *draft) addCAS(w *row) {
	d.cas, d.casAt = w.cas, w.casAt
	if !w.name.empty() && !d.name.empty() {
		d.names = append(d.names, w.name)
	}
	if d.name.empty() {
		d.name = w.name
	}
	d.others = append(d.others, w.others...)
	d.last = w.at
}

func (d *draft) addPercent(w *row) {
	d.row.percent, d.row.hasPct, d.row.pctAt, d.row.pctUnit = w.percent, true, w.pctAt, w.pctUnit
	if d.name.empty() {
		d.name = w.name
	}
	d.others = append(d.others, w.others...)
	d.last = w.at
}

func (d *draft) add(w *row) {
	if !w.name.empty() {
		d.names = append(d.names, w.name)
	}
	d.addOthers(w)
	d.last = w.at
}

func (d *draft) addOthers(w *row) {
	d.others = append(d.others, w.others...)
	if !w.secret.empty() && d.secret.empty() && len(d.cas) == 0 {
		d.secret = w.secret
	}
}

// continues tells whether a row without number and share goes on with the name of the open ingredient: it stands right
// below, at the same place, and is short.
func (r *reader) continues(d *draft, w *row) bool {
	if w.name.empty() || d.name.empty() || w.at-d.last > 1 || len(w.name.text()) > 60 {
		return false
	}
	if w.line.Page != d.name.line.Page {
		return false
	}
	a, b := d.name.line.BoxOf(d.name.start, d.name.end), w.line.BoxOf(w.name.start, w.name.end)
	if b.X0 < a.X0-3 || b.X0 > a.X0+12 || b.Y0-d.row.line.Box.Y1 > 1.2*max(w.line.Size, 8) {
		return false
	}
	t := w.name.text()
	if strings.HasSuffix(t, ":") || strings.HasSuffix(t, ".") && len(t) > 25 || startsSubsection(t) {
		return false
	}
	if len(classesOf(t)) > 0 {
		return false
	}
	if k, n := compositionLabels.at(tokenize(t), 0); n > 0 && k {
		return false
	}
	return len(w.line.Cells) == 1 && (d.row.headed || firstRune(t) >= 'a' && firstRune(t) <= 'z' || firstRune(t) >= '0' && firstRune(t) <= '9')
}

// compositionLabels are words that begin lines that are no names.
var compositionLabels = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `classification|note|any concentration|the exact|see section|full text|additional information|other information|where the concentration|balance|all|this product|wortlaut|siehe|texte|voir|le texte|ver|el texto|the specific|there are no|occupational|m factor|specific|non regulated|non hazardous|osha|conc|legend|key|symbols|as per|in accordance|if|the following|remaining|hazard|ingredients|mixture|substance|non classified|m acute|trade secret|chemical`)
	return p
}()

// ingredient turns a draft into facts.
func (r *reader) ingredient(d *draft) (sheet.Ingredient, bool) {
	var in sheet.Ingredient
	base := sureTable
	if !d.row.headed {
		base = likely
	}
	if !d.name.empty() {
		var name string
		at := append(slices.Clone(d.above), d.name)
		at = append(at, d.names...)
		for i, n := range at {
			n = n.withComma()
			at[i] = n
			if text := strings.Join(strings.Fields(n.text()), " "); i == 0 {
				name = text
			} else {
				name = joinName(name, text)
			}
		}
		name = withoutFootnote(strings.Trim(name, " *:;,"))
		in.Name = fact(name, base, at...)
	}
	if len(d.cas) > 0 {
		c := d.cas[0]
		confidence := sureCode
		if !c.Valid {
			confidence = uncertain
		}
		in.CAS = fact(c.Number, confidence, d.casAt[0])
		if c.Repaired {
			in.CASRepaired = c.Printed
			in.CAS.Confidence *= likely
			in.CAS = repaired(in.CAS, c.Printed)
		}
	} else if !d.noCAS.empty() {
		state := sheet.NoData
		if s, ok := stateAlone(d.noCAS.text()); ok {
			state = s
		}
		in.CAS = said[string](state, d.noCAS)
	}
	if d.row.hasPct {
		q := sheet.Quantity{Interval: d.row.percent, Unit: d.row.pctUnit, Printed: strings.TrimSpace(d.row.pctAt.text())}
		in.Percent = fact(q, base, d.row.pctAt)
	}
	if !d.secret.empty() {
		in.Secret = fact(true, sureLabel, d.secret)
	}
	if !in.CAS.Known() && !in.Percent.Known() && !(d.row.withheld && in.Name.Known()) {
		return in, false
	}
	if in.CAS.Known() && in.Name.State == sheet.NotStated && !in.Percent.Known() {
		return in, false // a number in prose
	}
	r.ingredientDetails(&in, d)
	return in, true
}

// withoutFootnote drops the mark of a footnote at the end of a name: " (1)", " [2]".
func withoutFootnote(name string) string {
	n := len(name)
	if n > 4 && (name[n-1] == ')' || name[n-1] == ']') && isDigit(name[n-2]) && (name[n-3] == '(' || name[n-3] == '[') && name[n-4] == ' ' {
		return strings.TrimRight(name[:n-4], " ")
	}
	return name
}

// joinName joins a wrapped name: without blank after a hyphen inside a word.
func joinName(a, b string) string {
	if strings.HasSuffix(a, "-") && b != "" {
		return a + b
	}
	return a + " " + b
}

// ingredientDetails reads registry numbers, classes, codes, limits, M-factors and ATEs of an ingredient.
func (r *reader) ingredientDetails(in *sheet.Ingredient, d *draft) {
	for _, s := range d.others {
		text := strings.ReplaceAll(s.text(), "\t", " ")
		for _, n := range number.ECNumbers(text) {
			if in.EC.State == sheet.NotStated && n.Valid {
				in.EC = fact(n.Number, sureCode, s.sub(n.Start, n.End))
			}
		}
		for _, n := range number.REACHNumbers(text) {
			if in.REACH.State == sheet.NotStated {
				in.REACH = fact(n.Number, sureCode, s.sub(n.Start, n.End))
			}
		}
		for _, n := range number.IndexNumbers(text) {
			if in.Index.State == sheet.NotStated {
				in.Index = fact(n.Number, likely, s.sub(n.Start, n.End))
			}
		}
		for _, hit := range ghs.ParseCodes(text) {
			if k := hit.Code.Kind(); k != ghs.PrecautionaryStatement && hit.Code.Known() {
				in.Statements = append(in.Statements, fact(sheet.Statement{Code: hit.Code}, sureCode, s.sub(hit.Start, hit.End)))
			}
		}
		r.readSpecificLimits(in, s, text)
		r.readMFactors(in, s, text)
		r.readIngredientATE(in, s, text)
	}
	for _, run := range classRuns(d.others) {
		run.read(in)
	}
}

// classRun is cells of one ingredient whose texts go on with one another, as lines of a wrapped cell do: a class may begin
// in one and its category or code stand in the next.
type classRun struct {
	text  string
	cells []stretch
	at    []int // where each cell begins in text
}

// classRuns joins the cells of an ingredient for reading classes; those with registry numbers stand alone.
func classRuns(cells []stretch) []classRun {
	var out []classRun
	open := false
	for _, s := range cells {
		text := strings.ReplaceAll(s.text(), "\t", " ")
		numbers := len(number.ECNumbers(text)) > 0 || len(number.REACHNumbers(text)) > 0 || len(number.IndexNumbers(text)) > 0
		if numbers || !open {
			out = append(out, classRun{})
		}
		w := &out[len(out)-1]
		if w.text != "" {
			w.text += " "
		}
		w.at = append(w.at, len(w.text))
		w.cells = append(w.cells, s)
		w.text += text
		open = !numbers
	}
	return out
}

// bandFollows finds a specific limit with two ends behind a class: "; H314: 2 % ≤ C < 5 %".
var bandFollows = regexp.MustCompile(`^[\s;:,(]*(?:H\d{3}[A-Za-z]{0,2})?[\s;:,)]*\d+(?:[.,]\d+)?\s*%?\s*(?:≤|<=|<)\s*C\s*(?:≤|<=|<)`)

// read adds the classes of the run to the ingredient, each with the parts of the cells that it stands in.
func (w classRun) read(in *sheet.Ingredient) {
	if !hasDigits(w.text, 1) {
		return
	}
	for _, hit := range classesOf(w.text) {
		if bandFollows.MatchString(w.text[hit.end:]) {
			continue // a class of mixtures with so much of it, not one of the substance
		}
		var where []stretch
		for i, s := range w.cells {
			from, to := max(hit.start-w.at[i], 0), min(hit.end-w.at[i], s.end-s.start)
			if from < to {
				where = append(where, s.sub(from, to))
			}
		}
		printed := strings.Join(strings.Fields(w.text[hit.start:hit.end]), " ")
		in.Hazards = append(in.Hazards, fact(sheet.ClassStatement{Hazard: hit.hazard, Possible: hit.possible, Printed: printed, Code: hit.code}, sureTable, where...))
	}
}

// readSpecificLimits reads "Skin Corr. 1B; H314: C ≥ 5 %", "15 % ≤ C < 20 %" and "H315 (SCL: 0.06 %)".
func (r *reader) readSpecificLimits(in *sheet.Ingredient, s stretch, text string) {
	if strings.IndexByte(text, '%') < 0 {
		return
	}
	classes := classesOf(text)
	codes := ghs.ParseCodes(text)
	for i := 0; i < len(text); i++ {
		iv, from, to, ok := limitAt(text, i, r.percentStyle())
		if !ok {
			continue
		}
		limit := sheet.SpecificLimit{Percent: iv, Printed: strings.TrimSpace(text[from:to])}
		best := -1
		for k, c := range classes {
			if c.end <= from {
				best = k
			}
		}
		if best >= 0 && classes[best].hazard != 0 {
			limit.Hazard = classes[best].hazard
		} else {
			for _, c := range codes {
				if c.End <= from {
					if st, ok := ghs.StatementOf(c.Code); ok && len(st.Hazards) == 1 {
						limit.Hazard = st.Hazards[0]
					}
				}
			}
		}
		in.Limits = append(in.Limits, fact(limit, likely, s.sub(from, to)))
		i = to - 1
	}
}

// limitAt reads a concentration limit at byte i: "C ≥ 5 %", "5 % ≤ C < 10 %", "SCL: 0.06 %", "≥ 0.0015 %" after "SCL".
func limitAt(text string, i int, style number.Style) (iv sheet.Interval, from, to int, ok bool) {
	rest := text[i:]
	switch {
	case strings.HasPrefix(rest, "SCL"):
		if found := number.Scan(rest[:min(len(rest), 40)], style); len(found) > 0 {
			f := found[0]
			iv = f.Interval
			if v, single := iv.Single(); single { // a bare limit is a lower bound
				iv = sheet.Interval{Lo: v, HasLo: true}
			}
			return iv, i, i + f.End, true
		}
	case rest[0] == 'C' && (i == 0 || !isLetter(text[i-1]) && text[i-1] != '-') && len(rest) > 2 && !isLetter(rest[1]) && !isDigit(rest[1]) && rest[1] != '-':
		t := rest[1:]
		pad := len(t) - len(strings.TrimLeft(t, " "))
		f, good := oneInterval(t[pad:], style)
		if !good || f.HasLo == f.HasHi && f.Lo == f.Hi {
			return iv, 0, 0, false
		}
		iv, from, to = f.Interval, i, i+1+pad+f.End
		// "5 % ≤ C < 10 %": a bound stands before
		before := strings.TrimRight(text[max(0, i-16):i], " ")
		for _, sign := range []string{"≤", "<=", "<"} {
			if strings.HasSuffix(before, sign) {
				nums := number.Scan(strings.TrimSuffix(before, sign), style)
				if len(nums) > 0 {
					last := nums[len(nums)-1]
					iv.Lo, iv.HasLo, iv.LoOpen = last.Lo, true, sign == "<"
					from = max(0, i-16) + last.Start
				}
				break
			}
		}
		return iv, from, to, true
	}
	return iv, 0, 0, false
}

func oneInterval(s string, style number.Style) (number.Found, bool) {
	fs := number.Scan(s[:min(len(s), 40)], style)
	if len(fs) == 0 || fs[0].Start != 0 {
		return number.Found{}, false
	}
	return fs[0], true
}

// readMFactors reads "M = 10", "M-Factor (acute) = 1", "M(chronic): 10", "Acute M = 100".
func (r *reader) readMFactors(in *sheet.Ingredient, s stretch, text string) {
	for i := 0; i < len(text); i++ {
		if text[i] != 'M' || i > 0 && isLetter(text[i-1]) || i+1 < len(text) && isLetter(text[i+1]) {
			continue
		}
		end := min(len(text), i+45)
		fs := number.Scan(text[i:end], number.DecimalPoint)
		if len(fs) == 0 {
			continue
		}
		v, ok := fs[0].Single()
		between := fold(text[i+1 : i+fs[0].Start])
		if !ok || !(strings.ContainsAny(text[i+1:i+fs[0].Start], "=:") || strings.Contains(between, "fact") || strings.Contains(between, "fakt")) || v < 1 || v > 1e7 {
			continue
		}
		context := between + " " + fold(text[max(0, i-12):i]) + " " + fold(text[i+fs[0].End:min(len(text), i+fs[0].End+14)])
		f := fact(v, likely, s.sub(i, i+fs[0].End))
		chronic := strings.Contains(context, "chron") || strings.Contains(context, "langfrist")
		acute := strings.Contains(context, "acute") || strings.Contains(context, "aigu") || strings.Contains(context, "akut") || strings.Contains(context, "agud")
		if chronic && !acute || chronic && in.MAcute.Known() {
			in.MChronic = f
		} else if !in.MAcute.Known() {
			in.MAcute = f
		}
		i += fs[0].End - 1
	}
}

// readIngredientATE reads "ATE (oral) = 500 mg/kg".
func (r *reader) readIngredientATE(in *sheet.Ingredient, s stretch, text string) {
	for _, mark := range []string{"ATE", "ETA"} {
		for i := 0; ; {
			k := strings.Index(text[i:], mark)
			if k < 0 {
				break
			}
			at := i + k
			i = at + 3
			end := min(len(text), at+70)
			if next := strings.Index(text[i:end], mark); next >= 0 {
				end = i + next
			}
			for _, f := range number.Scan(text[at:end], r.style) {
				if f.Unit.Dim != number.Dose && f.Unit.Dim != number.MassPerVolume && f.Unit.Name != "ppm" {
					continue
				}
				q := doseQuantity(f, text[at:end])
				route := routeOf(fold(text[at:end]))
				in.ATE = append(in.ATE, fact(sheet.ToxValue{Measure: "ATE", Route: route, Quantity: q}, likely, s.sub(at+f.Start, at+f.End)))
				break
			}
		}
	}
}

// doseQuantity normalises a dose to mg/kg, an air concentration to mg/l or ppm.
func doseQuantity(f number.Found, text string) sheet.Quantity {
	q := sheet.Quantity{Interval: f.Interval, Unit: f.Unit.Name, Printed: strings.TrimSpace(text[f.Start:f.End])}
	switch f.Unit.Dim {
	case number.Dose:
		q.Interval, q.Unit = f.Unit.Convert(f.Interval), "mg/kg"
	case number.MassPerVolume:
		q.Interval, q.Unit = scaled(f.Unit.Convert(f.Interval), 1000), "mg/l"
	}
	return q
}

// substanceState says whether the sheet calls the product one substance.
func (r *reader) substanceState(body []int) {
	out := &r.sheet.Composition
	set := func(v bool, where stretch, confidence float64) {
		if out.Substance.State == sheet.NotStated {
			out.Substance = fact(v, confidence, where)
		}
	}
	for bi, i := range body {
		l := &r.lines[i]
		low := fold(l.Text)
		next := ""
		if bi+1 < len(body) {
			next = fold(r.lines[body[bi+1]].Text)
		}
		switch {
		case strings.HasPrefix(low, "3.2 ") && mixtureWord(low):
			if !strings.Contains(low, "not applicable") && !strings.HasPrefix(next, "not applicable") && !strings.HasPrefix(next, "nicht anwendbar") {
				set(false, lineOf(l), likely)
			}
		case strings.HasPrefix(low, "3.1 ") && (strings.Contains(low, "substan") || strings.Contains(low, "stoff") || strings.Contains(low, "sustanc")):
			if s, ok := stateOf(next); !(ok && s != sheet.NoneStated) && !strings.Contains(low, "not applicable") && !strings.HasPrefix(next, "3.2") {
				set(true, lineOf(l), likely)
			}
		}
	}
	for _, i := range body {
		l := &r.lines[i]
		low := fold(l.Text)
		if len(low) < 80 && (strings.HasPrefix(low, "mixture") || strings.HasPrefix(low, "melange") || strings.HasPrefix(low, "gemisch") || strings.HasPrefix(low, "mezcla")) {
			set(false, lineOf(l), inferred)
		}
	}
}

func mixtureWord(low string) bool {
	return strings.Contains(low, "mixture") || strings.Contains(low, "melange") || strings.Contains(low, "gemisch") || strings.Contains(low, "mezcla")
}
