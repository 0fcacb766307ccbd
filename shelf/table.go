package shelf

import (
	"context"
	"database/sql"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// form is what a column holds.
type form uint8

const (
	aText form = iota
	aWhole
	aNumber
	someBytes
)

// table is one table as backups, copies and comparisons see it: its columns, and those that order and identify its rows.
type table struct {
	name    string
	key     []string
	columns []string
	forms   []form
}

// tables lists every table of the shelf that a backup holds, those referred to first. Sessions are left out, so that an old
// cookie opens nothing, and so are the marks of running processes.
func tables() []table {
	return []table{
		plain("settings", "name", "name value"),
		recordTable(&Supplier{}), recordTable(&Product{}), recordTable(&Place{}), recordTable(&Stock{}),
		plain("documents", "sha256", "sha256 name bytes# added by_whom"),
		recordTable(&Sheet{}),
		plain("readings", "document", "document reader at body%"),
		plain("judgements", "sheet_id", "sheet_id checks at body%"),
		recordTable(&Correction{}), recordTable(&Overruling{}), recordTable(&Question{}), recordTable(&Job{}), recordTable(&Paper{}), recordTable(&Acknowledgement{}), recordTable(&Blend{}),
		recordTable(&User{}), recordTable(&Token{}),
		plain("logins", "seq", "seq# at name origin accepted#"),
		plain("found", "kind ref", "kind ref title folded body"),
		plain("vocabulary", "word", "word seq#"),
		plain("trail", "seq", "seq# at who what kind ref title before after note"),
	}
}

// plain describes a table without records; # marks whole numbers, % bytes.
func plain(name, key, columns string) table {
	t := table{name: name, key: strings.Fields(key)}
	for _, c := range strings.Fields(columns) {
		f := aText
		switch c[len(c)-1] {
		case '#':
			f = aWhole
		case '%':
			f = someBytes
		}
		t.columns = append(t.columns, strings.TrimRight(c, "#%"))
		t.forms = append(t.forms, f)
	}
	return t
}

// recordTable describes the table of a record.
func recordTable(r row) table {
	t := table{name: r.table(), key: []string{"id"}}
	for _, c := range all(r) {
		f := aText
		switch c.value.(type) {
		case whole[int], whole[int64]:
			f = aWhole
		case number:
			f = aNumber
		}
		t.columns = append(t.columns, c.name)
		t.forms = append(t.forms, f)
	}
	return t
}

// snapshot is a transaction that reads the shelf as it stands at one moment.
type snapshot struct {
	tx      *sql.Tx
	dialect dialect
}

func (s *Shelf) snapshot(ctx context.Context) (*snapshot, error) {
	options := &sql.TxOptions{ReadOnly: true}
	if s.dialect.bound {
		options.Isolation = sql.LevelRepeatableRead
	}
	tx, err := s.readers.BeginTx(ctx, options)
	return &snapshot{tx, s.dialect}, err
}

func (v *snapshot) rows(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	return v.tx.QueryContext(ctx, v.dialect.bind(query), args...)
}

func (v *snapshot) row(ctx context.Context, query string, args ...any) *sql.Row {
	return v.tx.QueryRowContext(ctx, v.dialect.bind(query), args...)
}

func (v *snapshot) end() error { return v.tx.Rollback() }

// each hands the rows of a table, in the order of its key, to f. The values are nil, string, int64, float64 or []byte.
func (t table) each(ctx context.Context, q asker, f func([]any) error) error {
	c, err := t.cursor(ctx, q)
	if err != nil {
		return err
	}
	defer c.rows.Close()
	for {
		row, err := c.next()
		if err != nil || row == nil {
			return err
		}
		if err := f(row); err != nil {
			return err
		}
	}
}

// cursor goes through the rows of a table.
type cursor struct {
	table table
	rows  *sql.Rows
}

func (t table) cursor(ctx context.Context, q asker) (*cursor, error) {
	rows, err := q.rows(ctx, "SELECT "+strings.Join(t.columns, ", ")+" FROM "+t.name+" ORDER BY "+strings.Join(t.key, ", "))
	return &cursor{t, rows}, err
}

// next is the next row; nil after the last.
func (c *cursor) next() ([]any, error) {
	if !c.rows.Next() {
		return nil, c.rows.Err()
	}
	values := make([]any, len(c.table.columns))
	into := make([]any, len(values))
	for i := range values {
		into[i] = &values[i]
	}
	if err := c.rows.Scan(into...); err != nil {
		return nil, err
	}
	for i, v := range values {
		if b, ok := v.([]byte); ok && c.table.forms[i] != someBytes {
			values[i] = string(b)
		}
		if n, ok := v.(int64); ok && c.table.forms[i] == aNumber {
			values[i] = float64(n)
		}
	}
	return values, nil
}

// insertion is the statement that puts a row of the table in.
func (t table) insertion() string {
	return "INSERT INTO " + t.name + " (" + strings.Join(t.columns, ", ") + ") VALUES (?" + strings.Repeat(", ?", len(t.columns)-1) + ")"
}

// line is a row as one line of JSON: numbers with fractions as their shortest exact text, bytes in base 64.
func (t table) line(row []any) ([]byte, error) {
	out := make([]any, len(row))
	for i, v := range row {
		switch v := v.(type) {
		case float64:
			out[i] = strconv.FormatFloat(v, 'g', -1, 64)
		case []byte:
			out[i] = base64.StdEncoding.EncodeToString(v)
		default:
			out[i] = v
		}
	}
	return marshal(out)
}

// parse is the row of a line.
func (t table) parse(line []byte) ([]any, error) {
	var raw []json.RawMessage
	if err := json.Unmarshal(line, &raw); err != nil {
		return nil, err
	}
	if len(raw) != len(t.columns) {
		return nil, fmt.Errorf("a row of %s has %d values in place of %d", t.name, len(raw), len(t.columns))
	}
	out := make([]any, len(raw))
	for i, r := range raw {
		if string(r) == "null" {
			continue
		}
		if t.forms[i] == aWhole {
			n, err := strconv.ParseInt(string(r), 10, 64)
			if err != nil {
				return nil, fmt.Errorf("%s.%s: %w", t.name, t.columns[i], err)
			}
			out[i] = n
			continue
		}
		var s string
		if err := json.Unmarshal(r, &s); err != nil {
			return nil, fmt.Errorf("%s.%s: %w", t.name, t.columns[i], err)
		}
		var err error
		switch t.forms[i] {
		case aNumber:
			out[i], err = strconv.ParseFloat(s, 64)
		case someBytes:
			out[i], err = base64.StdEncoding.DecodeString(s)
		default:
			out[i] = s
		}
		if err != nil {
			return nil, fmt.Errorf("%s.%s: %w", t.name, t.columns[i], err)
		}
	}
	return out, nil
}
