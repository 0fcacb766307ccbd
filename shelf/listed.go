package shelf

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"slices"
	"strings"
)

// What is counted as it changes: products on the shelf, those taken off it, and sheets by state (see sheetTally).
const (
	productTally = "product"
	retiredTally = "product retired"
)

func sheetTally(s State) string { return "sheet " + string(s) }

// tallyOf is what a record counts as; "" for nothing.
func tallyOf(r row) string {
	switch r := r.(type) {
	case *Product:
		if r.Retired.IsZero() {
			return productTally
		}
		return retiredTally
	case *Sheet:
		if r.Retired.IsZero() {
			return sheetTally(r.State)
		}
	}
	return ""
}

// counts notes that a record is there now, in place of an older form of it or of none.
func (x *change) counts(now, before row) {
	to, from := tallyOf(now), ""
	if before != nil {
		from = tallyOf(before)
	}
	if to == from {
		return
	}
	if x.tally == nil {
		x.tally = map[string]int{}
	}
	x.tally[to]++
	x.tally[from]--
}

// keepTally keeps what was counted in this transaction.
func (x *change) keepTally(ctx context.Context) error {
	for _, what := range slices.Sorted(maps.Keys(x.tally)) {
		n := x.tally[what]
		if what == "" || n == 0 {
			continue
		}
		if err := x.exec(ctx, "INSERT INTO tally (what, n) VALUES (?, ?) ON CONFLICT (what) DO UPDATE SET n = tally.n + excluded.n", what, n); err != nil {
			return err
		}
	}
	return nil
}

// tallied is how many there are of something.
func (s *Shelf) tallied(ctx context.Context, what string) (n int, err error) {
	err = s.row(ctx, "SELECT n FROM tally WHERE what = ?", what).Scan(&n)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return n, err
}

// list makes the rows of listed anew for these products.
func (x *change) list(ctx context.Context, products []string) error {
	for part := range slices.Chunk(products, 200) {
		_, args := numbered(part)
		of := " WHERE product_id IN (?" + strings.Repeat(", ?", len(part)-1) + ")"
		if err := x.exec(ctx, "DELETE FROM listed"+of, args...); err != nil {
			return err
		}
		if err := x.exec(ctx, "INSERT INTO listed SELECT * FROM listed_now"+of, args...); err != nil {
			return err
		}
	}
	return nil
}

// listAll makes everything anew that is worked out from other tables.
func (x *change) listAll(ctx context.Context) error {
	for _, query := range []string{"DELETE FROM listed", "INSERT INTO listed SELECT * FROM listed_now", "DELETE FROM tally", "INSERT INTO tally SELECT * FROM tally_now"} {
		if err := x.exec(ctx, query); err != nil {
			return err
		}
	}
	return nil
}
