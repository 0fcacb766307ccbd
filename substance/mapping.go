package substance

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"sixteen/ghs"
)

// TableKind tells what an imported table is about.
type TableKind string

// Kinds of tables.
const (
	ClassificationTable TableKind = "classification"
	LimitTable          TableKind = "limits"
)

// Field is one column of meaning in an imported table.
type Field string

// Fields of both kinds, then of classifications, then of limits.
const (
	FieldIndex Field = "index" // index number of the table
	FieldEC    Field = "ec"
	FieldCAS   Field = "cas"
	FieldName  Field = "name"

	FieldClass      Field = "class"      // hazard class and category
	FieldCode       Field = "code"       // hazard statement code
	FieldSupplement Field = "supplement" // supplemental statement code
	FieldDetails    Field = "details"    // specific limits, M-factors, acute toxicity estimates
	FieldNotes      Field = "notes"      // letters of notes that condition the entry

	FieldTWAPPM      Field = "twa ppm"
	FieldTWAMgM3     Field = "twa mg/m3"
	FieldSTELPPM     Field = "stel ppm"
	FieldSTELMgM3    Field = "stel mg/m3"
	FieldCeilingPPM  Field = "ceiling ppm"
	FieldCeilingMgM3 Field = "ceiling mg/m3"
	FieldNotation    Field = "notation" // skin, sensitiser
)

// Mapping says which column of a table means what. Columns count from 0, FirstLine is the line of the file with the first
// row of data. Edition names the table and its date and becomes the source of every value ("Annex VI, consolidated text of
// 1 September 2025"). RuleSets says where a classification table is law; Authority whose limits a limit table holds, in
// the words that Limit.Authority uses ("UK WEL"). Complete states that the table is the whole list: what it does not
// name is then no longer taken as official.
type Mapping struct {
	Kind      TableKind     `json:"kind"`
	Sheet     string        `json:"sheet,omitempty"`
	FirstLine int           `json:"first_line"`
	Columns   map[Field]int `json:"columns"`
	Edition   string        `json:"edition"`
	RuleSets  []ghs.RuleSet `json:"rule_sets,omitempty"`
	Authority string        `json:"authority,omitempty"`
	Complete  bool          `json:"complete,omitempty"`
}

// check tells what a mapping lacks.
func (m Mapping) check() error {
	var missing []string
	_, cas := m.Columns[FieldCAS]
	_, ec := m.Columns[FieldEC]
	if !cas && !ec {
		missing = append(missing, "a column with CAS or EC numbers")
	}
	switch m.Kind {
	case ClassificationTable:
		if _, ok := m.Columns[FieldClass]; !ok {
			missing = append(missing, "a column with hazard classes")
		}
		if len(m.RuleSets) == 0 {
			missing = append(missing, "the rule sets under which the table is law")
		}
	case LimitTable:
		if !slices.ContainsFunc(limitFields, func(f limitField) bool { _, ok := m.Columns[f.field]; return ok }) {
			missing = append(missing, "a column with limit values")
		}
		if m.Authority == "" {
			missing = append(missing, "the authority whose limits these are")
		}
	default:
		return fmt.Errorf("table kind %q: want %q or %q", m.Kind, ClassificationTable, LimitTable)
	}
	if strings.TrimSpace(m.Edition) == "" {
		missing = append(missing, "the edition: name and date of the table, shown as the source of every value")
	}
	if len(missing) > 0 {
		return errors.New("the mapping lacks " + strings.Join(missing, "; "))
	}
	return nil
}

// clue recognises a field by the folded words of its header. Any of has must be there, none of not.
type clue struct {
	field Field
	has   []string
	not   []string
}

// headerClues are tried in order; the first clue that fits a column takes it, the first column that a field finds keeps
// it. Words of English, French, German and Spanish tables, folded.
var headerClues = []clue{
	{FieldCAS, []string{"cas"}, nil},
	{FieldIndex, []string{"index"}, nil},
	{FieldEC, []string{"ec no", "ec number", "ec list", "ec nr", "eg nr", "ce no", "n ce", "no ce", "numero ce", "einecs", "ec"}, []string{"cas"}},
	{FieldSupplement, []string{"suppl", "erganz", "complement"}, nil},
	{FieldDetails, []string{"specific conc", "conc limits", "m factor", "spezifische konz", "limites de concentration", "limites especificos", "limites de conc"}, nil},
	{FieldClass, []string{"hazard class", "class and category", "gefahrenklasse", "classe de danger", "classes de danger", "clase y categoria", "clases y categorias"}, []string{"label", "kennzeichnung", "etiquet"}},
	{FieldCode, []string{"hazard statement", "h statement", "h code", "gefahrenhinweis", "mention de danger", "mentions de danger", "indicacion de peligro", "indicaciones de peligro"}, []string{"label", "kennzeichnung", "etiquet", "pictogram"}},
	{FieldClass, []string{"classification", "einstufung", "clasificacion"}, []string{"label", "kennzeichnung", "etiquet", "code"}},
	{FieldName, []string{"chemical identification", "identification chimique", "chemische bezeichnung", "chemical name", "substance name", "name of", "agent", "stoffname", "bezeichnung", "stoffidentitat", "denomination", "identificacion quimica", "substance", "stoff", "nom", "nombre", "name"}, []string{"cas", "index"}},
	{FieldNotation, []string{"notation", "hinweis", "skin", "comments", "bemerkung", "remarque", "notacion", "mention", "notes"}, []string{"label"}},
}

// limitField is a column of limit values: its kind and unit.
type limitField struct {
	field Field
	kind  string
	ppm   bool
}

var limitFields = []limitField{
	{FieldTWAPPM, TWA, true}, {FieldTWAMgM3, TWA, false}, {FieldSTELPPM, STEL, true}, {FieldSTELMgM3, STEL, false},
	{FieldCeilingPPM, Ceiling, true}, {FieldCeilingMgM3, Ceiling, false},
}

var kindClues = []struct {
	kind string
	has  []string
}{
	{Ceiling, []string{"ceiling", "plafond", "techo", "momentanwert"}},
	{STEL, []string{"stel", "short", "15 min", "kurzzeit", "court terme", "vlct", "corta", "vla ec", "spitzen"}},
	{TWA, []string{"twa", "8 h", "8h", "long", "schicht", "langzeit", "8 stunden", "8 heures", "8 horas", "vlep", "vla ed", "tages", "agw", "wel", "oel", "pel", "limit value", "valeur limite", "grenzwert"}},
}

// headerField tells what a header means; ok is false for columns that mean nothing here.
func headerField(header string) (Field, bool) {
	h := strings.ReplaceAll(fold(strings.NewReplacer("m³", "m3", "®", "").Replace(header)), "mg m 3", "mg m3")
	has := func(words []string) bool {
		return slices.ContainsFunc(words, func(w string) bool {
			if len(w) <= 3 {
				return slices.Contains(strings.Fields(h), w)
			}
			return strings.Contains(h, w)
		})
	}
	ppm := has([]string{"ppm", "ml m3"})
	if mg := has([]string{"mg m3"}); ppm || mg {
		for _, k := range kindClues {
			if has(k.has) {
				return fieldOf(k.kind, ppm), true
			}
		}
		return fieldOf(TWA, ppm), true
	}
	for _, c := range headerClues {
		if has(c.has) && !has(c.not) {
			return c.field, true
		}
	}
	return "", false
}

func fieldOf(kind string, ppm bool) Field {
	for _, f := range limitFields {
		if f.kind == kind && f.ppm == ppm {
			return f.field
		}
	}
	return ""
}

// GuessMapping finds the header of a table in its first rows, also a header of up to three rows with group titles above
// several columns, and what its columns mean. The guess is to be shown to a person before it is used: Edition, RuleSets
// and Authority are left empty, since no header states them. The error says what was not found.
func GuessMapping(g Grid) (Mapping, error) {
	best, most := Mapping{}, 0
	for top := 0; top < min(len(g.Rows), 25); top++ {
		for height := 1; height <= 3 && top+height < len(g.Rows); height++ {
			if slices.ContainsFunc(g.Rows[top+height-1], ValidCAS) {
				break // a row of data
			}
			m := guessAt(g, top, height)
			if n := len(m.Columns); n > most {
				best, most = m, n
			}
		}
	}
	_, cas := best.Columns[FieldCAS]
	_, ec := best.Columns[FieldEC]
	if !cas && !ec {
		return best, errors.New("no header with a CAS or EC column was found in the first 25 rows; give the columns by hand")
	}
	if best.Kind == "" {
		return best, errors.New("the header names neither hazard classes nor limit values (ppm, mg/m³); give the columns by hand")
	}
	return best, nil
}

func guessAt(g Grid, top, height int) Mapping {
	m := Mapping{Sheet: g.Sheet, FirstLine: g.Lines[top+height], Columns: map[Field]int{}}
	for col, header := range joinHeader(g.Rows[top : top+height]) {
		if f, ok := headerField(header); ok {
			if _, taken := m.Columns[f]; !taken {
				m.Columns[f] = col
			}
		}
	}
	if _, ok := m.Columns[FieldClass]; ok {
		m.Kind = ClassificationTable
		for _, f := range limitFields {
			delete(m.Columns, f.field)
		}
		if col, ok := m.Columns[FieldNotation]; ok {
			delete(m.Columns, FieldNotation)
			m.Columns[FieldNotes] = col
		}
		return m
	}
	for _, f := range limitFields {
		if _, ok := m.Columns[f.field]; ok {
			m.Kind = LimitTable
		}
	}
	if m.Kind == LimitTable {
		for _, f := range []Field{FieldCode, FieldSupplement, FieldDetails} {
			delete(m.Columns, f)
		}
	}
	return m
}

// joinHeader joins the cells of a header of several rows, one text per column. A title above several columns stands in
// the first of them only, so the upper rows are carried to the right.
func joinHeader(rows [][]string) []string {
	width := 0
	for _, r := range rows {
		width = max(width, len(r))
	}
	out := make([]string, width)
	for i, r := range rows {
		carried := ""
		for col := range width {
			cell := ""
			if col < len(r) {
				cell = r[col]
			}
			if cell != "" {
				carried = cell
			} else if i < len(rows)-1 && anyBelow(rows[i+1:], col) {
				cell = carried
			}
			out[col] = strings.TrimSpace(out[col] + " " + cell)
		}
	}
	return out
}

func anyBelow(rows [][]string, col int) bool {
	return slices.ContainsFunc(rows, func(r []string) bool { return col < len(r) && r[col] != "" })
}
