package shelf

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Record is what everything on the shelf has in common. The shelf fills it; a caller only hands ID and Version back with an
// edit. Version counts from 1. Seq is the number of the last change in the trail: it orders records by change whatever the
// clock did. A retired record is kept and left out of lists.
type Record struct {
	ID         string    `json:"id"`
	Version    int64     `json:"version"`
	Seq        int64     `json:"seq"`
	Added      time.Time `json:"added"`
	Changed    time.Time `json:"changed"`
	Retired    time.Time `json:"retired,omitzero"`
	RetiredWhy string    `json:"retired_why,omitempty"`
}

func (r *Record) common() *Record { return r }

func (r *Record) own() []column {
	return []column{
		{"id", text{&r.ID}}, {"version", whole[int64]{&r.Version}}, {"seq", whole[int64]{&r.Seq}}, {"added", moment{&r.Added}},
		{"changed", moment{&r.Changed}}, {"retired", moment{&r.Retired}}, {"retired_why", text{&r.RetiredWhy}},
	}
}

// Kind names a kind of record in the trail, the search and the addresses of pages.
type Kind string

// Kinds of record.
const (
	ProductKind         Kind = "product"
	SupplierKind        Kind = "supplier"
	PlaceKind           Kind = "place"
	StockKind           Kind = "stock"
	SheetKind           Kind = "sheet"
	BlendKind           Kind = "blend"
	DocumentKind        Kind = "document"
	CorrectionKind      Kind = "correction"
	OverrulingKind      Kind = "overruling"
	QuestionKind        Kind = "question"
	JobKind             Kind = "job"
	PaperKind           Kind = "paper"
	AcknowledgementKind Kind = "acknowledgement"
	UserKind            Kind = "user"
	SettingsKind        Kind = "settings"
	SessionKind         Kind = "session"
	TokenKind           Kind = "token"
)

// row is a record that the store keeps in a table of its own.
type row interface {
	common() *Record
	kind() Kind
	table() string
	columns() []column // beside the common ones
	title() string     // its name for a person
	searched() string  // further words it is found by; "" with an empty title: not found
	check() error      // *Invalid when it cannot be kept
}

// rowOf is a pointer to T that is a row.
type rowOf[T any] interface {
	*T
	row
}

func all(r row) []column { return append(r.common().own(), r.columns()...) }

func names(columns []column) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.name
	}
	return out
}

func cells(columns []column) []any {
	out := make([]any, len(columns))
	for i, c := range columns {
		out[i] = c.value
	}
	return out
}

// selected lists the columns of a row for a SELECT, with the alias before each.
func selected(r row, alias string) string {
	return alias + "." + strings.Join(names(all(r)), ", "+alias+".")
}

// asker runs a query: the pool, or one transaction.
type asker interface {
	rows(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	row(ctx context.Context, query string, args ...any) *sql.Row
}

// load reads one record. It fails with ErrNotFound.
func load[T any, P rowOf[T]](ctx context.Context, q asker, id string) (T, error) {
	var t T
	p := P(&t)
	err := q.row(ctx, "SELECT "+selected(p, "t")+" FROM "+p.table()+" t WHERE t.id = ?", id).Scan(cells(all(p))...)
	if errors.Is(err, sql.ErrNoRows) {
		return t, fmt.Errorf("%w: no %s has the ID %q", ErrNotFound, p.kind(), id)
	}
	return t, err
}

// loadAll reads the records that a condition names. The condition begins after FROM … t.
func loadAll[T any, P rowOf[T]](ctx context.Context, q asker, condition string, args ...any) ([]T, error) {
	var first T
	rows, err := q.rows(ctx, "SELECT "+selected(P(&first), "t")+" FROM "+P(&first).table()+" t "+condition, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := []T{}
	for rows.Next() {
		var t T
		if err := rows.Scan(cells(all(P(&t)))...); err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, rows.Err()
}

// insert keeps a new record, with its row in the trail and in the search.
func (x *change) insert(ctx context.Context, r row, note string) error {
	if err := r.check(); err != nil {
		return err
	}
	c := r.common()
	*c = Record{ID: newID(x.now), Version: 1, Added: x.now, Changed: x.now}
	if err := x.trail(ctx, "added", r, nil, note); err != nil {
		return err
	}
	columns := all(r)
	query := "INSERT INTO " + r.table() + " (" + strings.Join(names(columns), ", ") + ") VALUES (?" + strings.Repeat(", ?", len(columns)-1) + ")"
	if err := x.exec(ctx, query, cells(columns)...); err != nil {
		return err
	}
	x.counts(r, nil)
	return x.find(ctx, r)
}

// update keeps an edit that was made on the version it names. old is the record as it stands in this transaction.
func (x *change) update(ctx context.Context, what string, r, old row, note string) error {
	if err := r.check(); err != nil {
		return err
	}
	c, was := r.common(), old.common()
	if c.Version != was.Version {
		return x.conflict(ctx, r, old)
	}
	c.Version, c.Added, c.Changed = was.Version+1, was.Added, x.now
	if err := x.trail(ctx, what, r, old, note); err != nil {
		return err
	}
	columns := all(r)[1:]
	query := "UPDATE " + r.table() + " SET " + strings.Join(names(columns), " = ?, ") + " = ? WHERE id = ?"
	if err := x.exec(ctx, query, append(cells(columns), c.ID)...); err != nil {
		return err
	}
	x.counts(r, old)
	return x.find(ctx, r)
}

// conflict is the error of an edit that was made on an older version.
func (x *change) conflict(ctx context.Context, yours, theirs row) error {
	out := &Conflict{Kind: theirs.kind(), ID: theirs.common().ID, Version: theirs.common().Version, At: theirs.common().Changed}
	var err1, err2 error
	out.Yours, err1 = json.Marshal(yours)
	out.Theirs, err2 = json.Marshal(theirs)
	err3 := x.row(ctx, "SELECT who FROM trail WHERE seq = ?", theirs.common().Seq).Scan(&out.By)
	if err := errors.Join(err1, err2, err3); err != nil {
		return err
	}
	return out
}

// add keeps a new record.
func add[T any, P rowOf[T]](ctx context.Context, s *Shelf, by string, t T) (T, error) {
	err := s.change(ctx, by, func(x *change) error { return x.insert(ctx, P(&t), "") })
	return t, err
}

// edit keeps a changed record. It fails with ErrNotFound, *Conflict and *Invalid.
func edit[T any, P rowOf[T]](ctx context.Context, s *Shelf, by string, t T, prepare func(x *change, t, old P) error) (T, error) {
	given := t
	err := s.change(ctx, by, func(x *change) error {
		t = given
		old, err := load[T, P](ctx, x, P(&t).common().ID)
		if err != nil {
			return err
		}
		was := P(&old).common()
		P(&t).common().Retired, P(&t).common().RetiredWhy = was.Retired, was.RetiredWhy
		if prepare != nil {
			if err := prepare(x, P(&t), P(&old)); err != nil {
				return err
			}
		}
		return x.update(ctx, "changed", P(&t), P(&old), "")
	})
	return t, err
}

// retire takes a record out of the lists and keeps it. Bringing it back is the same with back true.
func retire[T any, P rowOf[T]](ctx context.Context, s *Shelf, by, id, why, note string) error {
	if strings.TrimSpace(why) == "" {
		return &Invalid{What: "There is no reason.", Do: "Say why it goes off the shelf: the reason is kept with it."}
	}
	return s.change(ctx, by, func(x *change) error {
		old, err := load[T, P](ctx, x, id)
		if err != nil {
			return err
		}
		t := old
		c := P(&t).common()
		if !c.Retired.IsZero() {
			return &Invalid{What: fmt.Sprintf("This %s is off the shelf already.", P(&t).kind()), Do: "Nothing needs to be done."}
		}
		c.Retired, c.RetiredWhy = x.now, why
		return x.update(ctx, "retired", P(&t), P(&old), note)
	})
}

// restore puts a retired record back.
func restore[T any, P rowOf[T]](ctx context.Context, s *Shelf, by, id string) error {
	return s.change(ctx, by, func(x *change) error {
		old, err := load[T, P](ctx, x, id)
		if err != nil {
			return err
		}
		t := old
		c := P(&t).common()
		if c.Retired.IsZero() {
			return &Invalid{What: fmt.Sprintf("This %s is on the shelf.", P(&t).kind()), Do: "Nothing needs to be done."}
		}
		c.Retired, c.RetiredWhy = time.Time{}, ""
		return x.update(ctx, "put back", P(&t), P(&old), "")
	})
}

// oneOf fails when a word is none of those allowed.
func oneOf[T ~string](what string, word T, allowed ...T) error {
	if slices.Contains(allowed, word) {
		return nil
	}
	list := make([]string, len(allowed))
	for i, a := range allowed {
		list[i] = string(a)
	}
	return &Invalid{What: fmt.Sprintf("%q is no %s.", word, what), Do: "Use one of: " + strings.Join(list, ", ") + "."}
}

// day fails when a day is neither empty nor YYYY-MM-DD.
func day(what, d string) error {
	if d == "" {
		return nil
	}
	if _, err := time.Parse(time.DateOnly, d); err != nil {
		return &Invalid{What: fmt.Sprintf("%s %q is no day.", what, d), Do: "Write it as year-month-day, such as 2026-03-31."}
	}
	return nil
}

// named fails when a name is blank.
func named(what, name string) error {
	if strings.TrimSpace(name) == "" {
		return &Invalid{What: "The " + what + " has no name.", Do: "Give it the name that people use for it."}
	}
	return nil
}
