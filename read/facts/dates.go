package facts

import (
	"strings"

	"sixteen/read/facts/number"
	"sixteen/read/layout"
	"sixteen/sheet"
)

// dateKind is what a printed date means.
type dateKind uint8

const (
	noDate dateKind = iota
	someDate
	issueDate
	revisionDate
	currentDate // "date of current revision": counts before any other revision date
	printDate
	supersedesDate
	otherDate // dates of formulas, laws, lists
)

// dateLabels are the words before a date. "Last revision" beside "current revision" is the one before.
var dateLabels = func() *phrases[dateKind] {
	p := &phrases[dateKind]{}
	p.add(currentDate, `date of current revision|current revision date|current revision`)
	p.add(revisionDate, `revision date|date of revision|revised|revised on|rev date|rev|revision|date of last revision|last revision date|last revised|date revised|revised date|updated|last updated|date of last issue|reviewed on|sds revision date|revision dated|effective date|date effective|date of last update|review date|date of review|date reviewed|valid from|version date|date of this version|date of update|update date|
		date de revision|revise le|revision le|date de la revision|mise a jour|date de mise a jour|date de derniere revision|revisee le|date de la derniere revision|date de la mise a jour|date de la derniere mise a jour|version du|
		uberarbeitet am|uberarbeitungsdatum|revisionsdatum|uberarbeitet|datum der uberarbeitung|letzte uberarbeitung|geandert am|stand|bearbeitungsdatum|uberarbeitung|aktualisiert am|
		fecha de revision|revisado|fecha revision|revisado el|fecha de la revision|fecha de actualizacion|actualizado|ultima revision|fecha de la ultima revision|fecha de ultima revision|fecha de la version`)
	p.add(issueDate, `issue date|date of issue|issued|date issued|issuing date|date prepared|prepared|prepared on|preparation date|date of preparation|sds date|creation date|date created|compilation date|date of compilation|initial issue date|first issue|sds creation date|sds prepared|publication date|date of publication|sds date of preparation|sds issue date|date of first issue|msds date|date of msds preparation|
		date d edition|date d emission|date de creation|date de publication|emis le|date d etablissement|edition du|date de preparation|date de redaction|date de la fiche|date de parution|
		ausgabedatum|erstellt am|erstellungsdatum|ausgestellt am|druckausgabe|datum der ausgabe|ausgabe|datum der erstellung|
		fecha de emision|fecha de elaboracion|fecha de creacion|fecha de edicion|emitido el|fecha de preparacion|fecha emision|fecha de publicacion|fecha de expedicion`)
	p.add(printDate, `print date|printed|date printed|printing date|date of printing|date of print|printed on|date d impression|imprime le|druckdatum|gedruckt am|gedruckt|fecha de impresion|impreso el|impresion`)
	p.add(supersedesDate, `supersedes|supersedes date|date of previous issue|previous issue|previous revision|replaces|replaces version|replaces sds|supercedes date|supercedes|supersedes version|previous version|date of previous revision|date of previous version|replaces date|previous date|replaced version|supersedes revision|supersedes issue date|
		date de la precedente edition|date de la precedente|remplace|remplace la version|remplace la version du|annule et remplace|date de l edition precedente|version precedente|remplace la fiche|date de la version precedente|remplace edition|
		ersetzt|ersetzt version|ersetzt fassung|ersetzt ausgabe|ersetzt die version|ersetzt version vom|datum der vorherigen ausgabe|ersetzt fassung vom|vorherige version|datum der letzten ausgabe|
		sustituye|reemplaza|reemplaza la version|sustituye a|version anterior|sustituye a la version|fecha de la edicion anterior|fecha de la emision anterior|reemplaza a|sustituye version|fecha de emision anterior|reemplaza la fecha`)
	p.add(someDate, `date|datum|fecha|dated|le|vom`)
	p.add(otherDate, `formula date|expiry date|expiration date|federal register|regulation|regulations|directive|verordnung|reglement|reglamento|cfr|received|received date|compilation period|ordonnance|richtlinie|directiva|effective until|date of expiry|valid until|next review|next revision|amended by|as amended`)
	return p
}()

// foundDate is one date of the document with its meaning.
type foundDate struct {
	kind  dateKind
	date  number.Date
	where stretch
	run   bool // stands in a running head or foot
}

// orderHints are printed explanations of the order of a date.
var orderHints = func() *phrases[number.Order] {
	p := &phrases[number.Order]{}
	p.add(number.MonthFirst, `mm dd yyyy|mm jj aaaa|m d y|mm dd yy|mm dd aaaa|m d yyyy|month day year|mm dd yyyy format|m j a`)
	p.add(number.DayFirst, `dd mm yyyy|jj mm aaaa|d m y|dd mm yy|dd mm aaaa|tt mm jjjj|d m yyyy|day month year|j m a|dd mm jjjj`)
	return p
}()

// readDates reads the document's own dates from its heads and feet, its first lines, sections 1 and 16 and its end.
func (r *reader) readDates() {
	var lines []*layout.Line
	var run []bool
	for i := range r.running {
		lines, run = append(lines, &r.running[i]), append(run, true)
	}
	seen := map[int]bool{}
	add := func(list []int) {
		for _, i := range list {
			if !seen[i] {
				seen[i] = true
				lines, run = append(lines, &r.lines[i]), append(run, false)
			}
		}
	}
	add(r.part.front())
	add(r.part.body(1))
	add(r.part.body(16))
	all := r.all()
	add(all[max(0, len(all)-30):])
	add(all[:min(len(all), 25)])
	hint := number.OrderUnknown
	for _, l := range lines {
		if strings.ContainsAny(l.Text, "/-.") && (strings.Contains(l.Text, "mm") || strings.Contains(l.Text, "MM") || strings.Contains(l.Text, "day") || strings.Contains(l.Text, "/j/") || strings.Contains(l.Text, "/d/")) {
			if o, _, n := orderHints.find(tokenize(l.Text)); n > 0 {
				hint = o
			}
		}
	}
	var found []foundDate
	for k, l := range lines {
		var above *layout.Line
		if k > 0 && run[k] == run[k-1] && lines[k-1].Page == l.Page {
			above = lines[k-1]
		}
		found = append(found, datesOf(l, above, run[k])...)
	}
	r.order = r.dayMonthOrder(found, hint)
	r.assignDates(found, hint)
	r.readVersion(lines)
}

// datesOf finds the dates of a line and their labels.
func datesOf(l, above *layout.Line, run bool) []foundDate {
	if !hasDigits(l.Text, 2) {
		return nil
	}
	ds := number.Dates(l.Text, number.OrderUnknown)
	if len(ds) == 0 {
		return nil
	}
	ts := tokenize(l.Text)
	var out []foundDate
	last := 0
	for _, d := range ds {
		kind := labelBefore(ts, last, d.Start, l.Text)
		if kind == noDate && above != nil {
			kind = labelAbove(l, above, d)
		}
		out = append(out, foundDate{kind, d, stretch{l, d.Start, d.End}, run})
		last = d.End
	}
	return out
}

func hasDigits(s string, n int) bool {
	for i := 0; i < len(s); i++ {
		if isDigit(s[i]) {
			if n--; n == 0 {
				return true
			}
		}
	}
	return false
}

// labelBefore finds the label that ends nearest before byte at, not before byte from.
func labelBefore(ts []token, from, at int, text string) dateKind {
	kind := noDate
	far := 0
	for i := 0; i < len(ts); i++ {
		if ts[i].start < from || ts[i].start >= at {
			continue
		}
		k, n := dateLabels.at(ts, i)
		if n == 0 || ts[i+n-1].end > at {
			continue
		}
		if k == someDate && kind != noDate && far == i { // "revision date" already found
			continue
		}
		if k == someDate && kind > someDate && ts[i].start-ts[far-1].end < 12 {
			far = i + n
			continue
		}
		kind, far = k, i+n
		i += n - 1
	}
	if kind != noDate {
		// between label and date at most a few words
		words := 0
		for i := far; i < len(ts) && ts[i].start < at; i++ {
			words++
		}
		if words > 4 {
			return noDate
		}
	}
	return kind
}

// labelAbove finds a label in the cell above a date.
func labelAbove(l, above *layout.Line, d number.Date) dateKind {
	box := l.BoxOf(d.Start, d.End)
	if above.Box.Y1 < box.Y0-30 || above.Box.Y0 > box.Y0 {
		return noDate
	}
	for _, c := range above.Cells {
		if c.Box.X1 < box.X0-5 || c.Box.X0 > box.X1+5 || len(c.Text) > 50 {
			continue
		}
		if k, _, n := dateLabels.find(tokenize(c.Text)); n > 0 {
			return k
		}
	}
	return noDate
}

// dayMonthOrder decides how ambiguous dates of the document are read.
func (r *reader) dayMonthOrder(found []foundDate, hint number.Order) number.Order {
	if hint != number.OrderUnknown {
		return hint
	}
	var day, month int
	for _, f := range found {
		if f.kind == otherDate {
			continue
		}
		switch f.date.Shows {
		case number.DayFirst:
			day++
		case number.MonthFirst:
			month++
		}
	}
	switch {
	case day > 0 && month == 0 && !r.monthFirstCountry():
		return number.DayFirst
	case month > 0 && day == 0:
		return number.MonthFirst
	case day > 0 && month == 0:
		return number.OrderUnknown // a country that writes the month first and a date that does not: label by label
	case r.monthFirstCountry() || r.northAmerican():
		return number.MonthFirst
	case len(found) > 0:
		return number.DayFirst
	}
	return number.OrderUnknown
}

// northAmerican tells whether the sheet names authorities or telephone numbers of North America and none of Europe.
func (r *reader) northAmerican() bool {
	for _, i := range r.all() {
		t := r.lines[i].Text
		if strings.Contains(t, "OSHA") || strings.Contains(t, "CHEMTREC") || strings.Contains(t, "CANUTEC") || strings.Contains(t, "1-800-") {
			return true
		}
	}
	return false
}

// assignDates fills the dates of the identification. Of several revision dates the latest counts.
func (r *reader) assignDates(found []foundDate, hint number.Order) {
	id := &r.sheet.Identification
	orderOf := map[dateKind]number.Order{}
	for _, f := range found {
		if f.date.Shows != number.OrderUnknown {
			orderOf[f.kind] = f.date.Shows
		}
	}
	put := func(target *sheet.Fact[string], f foundDate, confidence float64) {
		iso := f.date.ISO
		if f.date.Ambiguous {
			order := r.order
			if o := orderOf[f.kind]; o != number.OrderUnknown && hint == number.OrderUnknown {
				order = o
			}
			if order == number.OrderUnknown {
				order = number.DayFirst
				if r.monthFirstCountry() || r.northAmerican() {
					order = number.MonthFirst
				}
			}
			if ds := number.Dates(f.where.text(), order); len(ds) > 0 {
				iso = ds[0].ISO
			}
			if hint == number.OrderUnknown && orderOf[f.kind] == number.OrderUnknown {
				confidence = min(confidence, inferred)
			}
		}
		if target.Known() {
			if target.Value == iso {
				return
			}
			if target.Value > iso {
				return
			}
		}
		*target = fact(iso, confidence, f.where)
	}
	var current sheet.Fact[string]
	plain := map[string]foundDate{}
	for _, f := range found {
		switch f.kind {
		case revisionDate:
			put(&id.RevisionDate, f, sureLabel)
		case currentDate:
			put(&current, f, sureLabel)
		case issueDate:
			put(&id.IssueDate, f, sureLabel)
		case printDate:
			put(&id.PrintDate, f, sureLabel)
		case supersedesDate:
			put(&id.SupersedesDate, f, sureLabel)
		case someDate:
			if _, ok := plain["date"]; !ok {
				plain["date"] = f
			}
		case noDate:
			if f.run || f.where.line.Page <= 1 {
				if _, ok := plain[f.date.ISO]; !ok && len(f.date.ISO) == 10 {
					plain[f.date.ISO] = f
				}
			}
		}
	}
	if current.Known() {
		if id.RevisionDate.Known() && !id.SupersedesDate.Known() {
			id.SupersedesDate = id.RevisionDate
		}
		id.RevisionDate = current
	}
	if id.RevisionDate.Known() || id.IssueDate.Known() {
		return
	}
	if f, ok := plain["date"]; ok {
		put(&id.IssueDate, f, likely)
		return
	}
	if len(plain) == 1 && !id.PrintDate.Known() && !id.SupersedesDate.Known() {
		for _, f := range plain {
			put(&id.IssueDate, f, uncertain)
		}
	}
}

// versionLabels are the words before a version.
var versionLabels = func() *phrases[bool] {
	p := &phrases[bool]{}
	p.add(true, `version|version number|revision number|version no|revision no|sds version|sds revision number|rev no|numero de version|numero de revision|versionsnummer|version nr|fassung|numero de la version|revision|issue number`)
	return p
}()

// readVersion reads the version from the lines that may hold the dates.
func (r *reader) readVersion(lines []*layout.Line) {
	for k, l := range lines {
		ts := tokenize(l.Text)
		if _, n := versionLabels.start(ts); n == len(ts) && n > 0 && k+1 < len(lines) && len(lines[k+1].Text) < 12 { // the value below
			j := layout.Join(*l, *lines[k+1])
			l = &j
			ts = tokenize(l.Text)
		}
		for i := range ts {
			_, n := versionLabels.at(ts, i)
			if n == 0 || i+n >= len(ts) {
				continue
			}
			v := ts[i+n]
			between := l.Text[ts[i+n-1].end:v.start]
			if strings.Trim(between, " \t:.#-") != "" || !isDigit(v.text[0]) && len(v.text) > 3 || len(v.text) > 6 || !hasDigits(v.text, 1) {
				continue
			}
			if len(number.Dates(l.Text[v.start:], number.OrderUnknown)) > 0 && number.Dates(l.Text[v.start:], number.OrderUnknown)[0].Start == 0 {
				continue
			}
			end := v.end
			for end < len(l.Text) && (l.Text[end] == '-' || l.Text[end] == '.' || isDigit(l.Text[end])) && l.Text[end-1] != ' ' {
				end++
			}
			w := stretch{l, v.start, end}.trim(".-")
			r.sheet.Identification.Version = fact(w.text(), likely, w)
			return
		}
	}
}
