package shelf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
)

// Difference is one row in which two shelves differ.
type Difference struct {
	Table string `json:"table"`
	Key   string `json:"key"`
	What  string `json:"what"`
}

// Move copies everything on a shelf to another, empty one, of the same engine or the other, with the documents, and compares
// the two row by row and document by document afterwards. The shelf it comes from is not changed; no one should write to it
// meanwhile, or the comparison fails. Sessions are not copied: everybody logs in again.
func Move(ctx context.Context, from, to *Shelf) (rows int, err error) {
	if err := to.empty(ctx); err != nil {
		return 0, err
	}
	view, err := from.snapshot(ctx)
	if err != nil {
		return 0, err
	}
	defer view.end()
	documents, err := documentsIn(ctx, view)
	if err != nil {
		return 0, err
	}
	for _, sum := range documents {
		_, data, err := from.OpenDocument(ctx, sum)
		if err != nil {
			return 0, err
		}
		if _, err := to.keep(ctx, data); err != nil {
			return 0, to.explained(err)
		}
	}
	err = to.fill(ctx, func(x *change) error {
		for _, t := range tables() {
			insert, err := x.tx.PrepareContext(ctx, x.dialect.bind(t.insertion()))
			if err != nil {
				return err
			}
			if err := t.each(ctx, view, func(row []any) error {
				rows++
				_, err := insert.ExecContext(ctx, row...)
				return err
			}); err != nil {
				return fmt.Errorf("table %s: %w", t.name, err)
			}
			if err := insert.Close(); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	differ, err := Compare(ctx, from, to)
	if err == nil && len(differ) > 0 {
		err = fmt.Errorf("%d rows are not the same after copying, the first is %s %s (%s): was somebody writing meanwhile? Move again to an empty shelf", len(differ), differ[0].Table, differ[0].Key, differ[0].What)
	}
	return rows, err
}

func documentsIn(ctx context.Context, q asker) ([]string, error) {
	var out []string
	for _, t := range tables() {
		if t.name != "documents" {
			continue
		}
		if err := t.each(ctx, q, func(row []any) error {
			out = append(out, row[0].(string))
			return nil
		}); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Compare lists the rows in which two shelves differ, and the documents that are damaged or missing on the second. Sessions are
// not compared.
func Compare(ctx context.Context, a, b *Shelf) ([]Difference, error) {
	viewA, err := a.snapshot(ctx)
	if err != nil {
		return nil, err
	}
	defer viewA.end()
	viewB, err := b.snapshot(ctx)
	if err != nil {
		return nil, err
	}
	defer viewB.end()
	var out []Difference
	for _, t := range tables() {
		found, err := compareTable(ctx, t, viewA, viewB)
		if err != nil {
			return nil, fmt.Errorf("table %s: %w", t.name, err)
		}
		out = append(out, found...)
	}
	damaged, err := b.Damaged(ctx)
	for _, d := range damaged {
		out = append(out, Difference{"documents", d.SHA256, "the file is damaged or missing"})
	}
	return out, err
}

// compareTable goes through both tables side by side in the order of their keys.
func compareTable(ctx context.Context, t table, a, b asker) (out []Difference, err error) {
	ca, err := t.cursor(ctx, a)
	if err != nil {
		return nil, err
	}
	defer ca.rows.Close()
	cb, err := t.cursor(ctx, b)
	if err != nil {
		return nil, err
	}
	defer cb.rows.Close()
	rowA, err1 := ca.next()
	rowB, err2 := cb.next()
	for err1 == nil && err2 == nil && (rowA != nil || rowB != nil) {
		switch order := t.order(rowA, rowB); {
		case order < 0:
			out = append(out, Difference{t.name, t.keyOf(rowA), "only on the first shelf"})
			rowA, err1 = ca.next()
		case order > 0:
			out = append(out, Difference{t.name, t.keyOf(rowB), "only on the second shelf"})
			rowB, err2 = cb.next()
		default:
			if column := t.differs(rowA, rowB); column != "" {
				out = append(out, Difference{t.name, t.keyOf(rowA), column + " differs"})
			}
			rowA, err1 = ca.next()
			rowB, err2 = cb.next()
		}
	}
	return out, errors.Join(err1, err2)
}

func (t table) keyValues(row []any) []any {
	var out []any
	for _, k := range t.key {
		for i, c := range t.columns {
			if c == k {
				out = append(out, row[i])
			}
		}
	}
	return out
}

func (t table) keyOf(row []any) string {
	s := fmt.Sprint(t.keyValues(row)...)
	return s[:min(len(s), 40)]
}

// order compares the keys of two rows; no row comes after every row.
func (t table) order(a, b []any) int {
	switch {
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	x, y := t.keyValues(a), t.keyValues(b)
	for i := range x {
		switch v := x[i].(type) {
		case int64:
			if w := y[i].(int64); v != w {
				return map[bool]int{true: -1, false: 1}[v < w]
			}
		case string:
			if w := y[i].(string); v != w {
				return map[bool]int{true: -1, false: 1}[v < w]
			}
		}
	}
	return 0
}

// differs is the first column in which two rows differ; "" when none does.
func (t table) differs(a, b []any) string {
	for i := range a {
		if x, ok := a[i].([]byte); ok {
			y, ok := b[i].([]byte)
			if !ok || !bytes.Equal(x, y) {
				return t.columns[i]
			}
			continue
		}
		if a[i] != b[i] {
			return t.columns[i]
		}
	}
	return ""
}
