package shelf

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
)

// writeLock is the number of PostgreSQL's advisory lock that lets one writer in at a time, as SQLite does by itself. The
// numbers of the trail are then the order in which changes became visible, and a change may look before it writes.
const writeLock = 0x5_1e1f

// change is one transaction that writes. All it does is done together or not at all.
type change struct {
	tx      *sql.Tx
	dialect dialect
	now     time.Time
	by      string
	seq     int64           // of the last entry of the trail
	refind  map[string]bool // products whose words for the search, or row in the lists, changed
	tally   map[string]int  // what there is more or less of
}

// change runs f in a transaction that writes, in the name of a person.
func (s *Shelf) change(ctx context.Context, by string, f func(*change) error) error {
	if strings.TrimSpace(by) == "" {
		return &Invalid{What: "Nobody is named who makes this change.", Do: "Say who you are: every change is kept with a name."}
	}
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return s.explained(err)
	}
	defer tx.Rollback()
	x := &change{tx: tx, dialect: s.dialect, now: s.now().UTC().Truncate(time.Microsecond), by: by}
	if s.dialect.bound {
		if err := x.exec(ctx, "SELECT pg_advisory_xact_lock(?)", int64(writeLock)); err != nil {
			return s.explained(err)
		}
	}
	if err := x.row(ctx, "SELECT COALESCE(MAX(seq), 0) FROM trail").Scan(&x.seq); err != nil {
		return s.explained(err)
	}
	if err := f(x); err != nil {
		return s.explained(err)
	}
	if err := x.findMarked(ctx); err != nil {
		return s.explained(err)
	}
	if err := x.keepTally(ctx); err != nil {
		return s.explained(err)
	}
	if err := tx.Commit(); err != nil {
		return s.explained(err)
	}
	s.events.changed()
	return nil
}

func (x *change) exec(ctx context.Context, query string, args ...any) error {
	_, err := x.tx.ExecContext(ctx, x.dialect.bind(query), args...)
	return err
}

func (x *change) rows(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	return x.tx.QueryContext(ctx, x.dialect.bind(query), args...)
}

func (x *change) row(ctx context.Context, query string, args ...any) *sql.Row {
	return x.tx.QueryRowContext(ctx, x.dialect.bind(query), args...)
}

// explained says in a person's words what an engine's error means, where it is one of those a person can do something about.
func (s *Shelf) explained(err error) error {
	var invalid *Invalid
	if err == nil || errors.As(err, &invalid) {
		return err
	}
	m := err.Error()
	switch {
	case strings.Contains(m, "FOREIGN KEY") || strings.Contains(m, "SQLSTATE 23503"):
		return &Invalid{What: "It names something that is not on the shelf.", Do: "Choose a product, place, supplier or sheet that is on the shelf."}
	case strings.Contains(m, "disk is full") || strings.Contains(m, "(13)") && strings.Contains(m, "SQLITE_FULL") || strings.Contains(m, "SQLSTATE 53100") || strings.Contains(m, "no space left"):
		return fmt.Errorf("the disk is full, so nothing was changed: make room and do it again (%w)", err)
	case strings.Contains(m, "SQLITE_BUSY") || strings.Contains(m, "database is locked"):
		return fmt.Errorf("another program kept the shelf busy for too long, so nothing was changed: do it again (%w)", err)
	}
	return err
}
