package shelf

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"time"
)

// Entry is one change in the trail. Seq counts from 1 without gaps in the order in which the changes were made. Before and
// After are the record as JSON, null where there was none. Entries are never changed or removed.
type Entry struct {
	Seq    int64           `json:"seq"`
	At     time.Time       `json:"at"`
	Who    string          `json:"who"`
	What   string          `json:"what"` // added, changed, retired, put back, read, …
	Kind   Kind            `json:"kind"`
	Ref    string          `json:"ref"` // ID of the record
	Title  string          `json:"title"`
	Before json.RawMessage `json:"before"`
	After  json.RawMessage `json:"after"`
	Note   string          `json:"note,omitempty"`
}

// TrailFilter selects entries of the trail. Zero fields select all.
type TrailFilter struct {
	Kind  Kind
	Ref   string
	Who   string
	Since int64 // entries with a greater Seq
	Paging
}

// Trail lists entries of the trail, the latest first.
func (s *Shelf) Trail(ctx context.Context, f TrailFilter) (Page[Entry], error) {
	where := conditions{}
	where.equal("kind", string(f.Kind))
	where.equal("ref", f.Ref)
	where.equal("who", f.Who)
	if f.Since > 0 {
		where.add("seq > ?", f.Since)
	}
	page := Page[Entry]{Items: []Entry{}}
	if err := s.row(ctx, "SELECT COUNT(*) FROM trail"+where.sql(), where.args...).Scan(&page.Total); err != nil {
		return page, err
	}
	limit, offset := f.bounds()
	var err error
	page.Items, err = s.entries(ctx, where.sql()+" ORDER BY seq DESC LIMIT ? OFFSET ?", append(where.args, limit, offset)...)
	return page, err
}

// entriesAfter lists entries in the order of the changes.
func (s *Shelf) entriesAfter(ctx context.Context, since int64, limit int) ([]Entry, error) {
	return s.entries(ctx, " WHERE seq > ? ORDER BY seq LIMIT ?", since, limit)
}

func (s *Shelf) entries(ctx context.Context, condition string, args ...any) ([]Entry, error) {
	rows, err := s.rows(ctx, "SELECT seq, at, who, what, kind, ref, title, before, after, note FROM trail"+condition, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := []Entry{}
	for rows.Next() {
		var e Entry
		var before, after string
		if err := rows.Scan(&e.Seq, moment{&e.At}, &e.Who, &e.What, words[Kind]{&e.Kind}, &e.Ref, &e.Title, &before, &after, &e.Note); err != nil {
			return nil, err
		}
		e.Before, e.After = json.RawMessage(before), json.RawMessage(after)
		out = append(out, e)
	}
	return out, rows.Err()
}

// Seq is the number of the last change on the shelf; 0 when nothing was ever changed. Pages that show what happened since
// ask for the entries after the number they last saw.
func (s *Shelf) Seq(ctx context.Context) (int64, error) {
	var n int64
	err := s.row(ctx, "SELECT COALESCE(MAX(seq), 0) FROM trail").Scan(&n)
	return n, err
}

// trail writes the entry of a change to r and gives r its number.
func (x *change) trail(ctx context.Context, what string, r, old row, note string) error {
	x.seq++
	r.common().Seq = x.seq
	before := []byte("null")
	if old != nil {
		var err error
		if before, err = marshal(old); err != nil {
			return err
		}
	}
	after, err := marshal(r)
	if err != nil {
		return err
	}
	return x.entry(ctx, Entry{Seq: x.seq, What: what, Kind: r.kind(), Ref: r.common().ID, Title: r.title(), Before: before, After: after, Note: note})
}

// note writes an entry about something that is no record of its own.
func (x *change) note(ctx context.Context, what string, kind Kind, ref, title, note string) error {
	x.seq++
	return x.entry(ctx, Entry{Seq: x.seq, What: what, Kind: kind, Ref: ref, Title: title, Before: []byte("null"), After: []byte("null"), Note: note})
}

func (x *change) entry(ctx context.Context, e Entry) error {
	return x.exec(ctx, "INSERT INTO trail (seq, at, who, what, kind, ref, title, before, after, note) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
		e.Seq, stamped(x.now), storable(x.by), e.What, string(e.Kind), storable(e.Ref), storable(e.Title), storable(string(e.Before)), storable(string(e.After)), storable(e.Note))
}

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// conditions collects the parts of a WHERE.
type conditions struct {
	parts []string
	args  []any
}

func (c *conditions) add(part string, args ...any) {
	c.parts = append(c.parts, part)
	c.args = append(c.args, args...)
}

// equal asks for a column's value; "" asks for nothing.
func (c *conditions) equal(column, value string) {
	if value != "" {
		c.add(column+" = ?", value)
	}
}

// has asks for one of the words of a list column.
func (c *conditions) has(column, word string) {
	if word != "" {
		c.add(column+` LIKE ? ESCAPE '\'`, "%|"+escapeLike(word)+"|%")
	}
}

func (c *conditions) sql() string {
	if len(c.parts) == 0 {
		return ""
	}
	return " WHERE " + strings.Join(c.parts, " AND ")
}

func escapeLike(s string) string {
	return strings.NewReplacer(`\`, `\\`, "%", `\%`, "_", `\_`).Replace(s)
}

// Paging is which part of a list is wanted: Limit items (50 when 0, at most 1000) after the first Offset.
type Paging struct {
	Limit  int
	Offset int
}

func (p Paging) bounds() (limit, offset int) {
	limit = p.Limit
	if limit <= 0 {
		limit = 50
	}
	return min(limit, 1000), max(p.Offset, 0)
}

// Page is part of a list, and how many items the whole list has.
type Page[T any] struct {
	Items []T `json:"items"`
	Total int `json:"total"`
}
