package shelf

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"gocloud.dev/blob"
	"gocloud.dev/blob/driver"
	"gocloud.dev/gcerrors"
)

// LimitPages lets the SQLite file grow by so many pages only, as a disk that is nearly full would.
func LimitPages(t testing.TB, s *Shelf, more int) {
	t.Helper()
	var have int
	if err := s.writer.QueryRow("PRAGMA page_count").Scan(&have); err != nil {
		t.Fatal(err)
	}
	if _, err := s.writer.Exec(fmt.Sprintf("PRAGMA max_page_count = %d", have+more)); err != nil {
		t.Fatal(err)
	}
}

// TableProblems lists tables and columns of the database that tables() does not know, and the other way round.
func TableProblems(ctx context.Context, s *Shelf) ([]string, error) {
	var out []string
	known := []string{"sessions", "workers", "schema_versions", "listed", "listed_now", "tally", "tally_now"} // left out with reason, see tables
	for _, t := range tables() {
		known = append(known, t.name)
		rows, err := s.rows(ctx, "SELECT * FROM "+t.name+" LIMIT 0")
		if err != nil {
			return nil, err
		}
		have, err := rows.Columns()
		rows.Close()
		if err != nil {
			return nil, err
		}
		for _, c := range have {
			if !slices.Contains(t.columns, c) {
				out = append(out, t.name+"."+c+" is in no backup")
			}
		}
		if len(have) != len(t.columns) {
			out = append(out, fmt.Sprintf("%s has %d columns, a backup %d", t.name, len(have), len(t.columns)))
		}
	}
	query := "SELECT name FROM sqlite_master WHERE type = 'table'"
	if s.dialect.bound {
		query = "SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()"
	}
	rows, err := s.rows(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return nil, err
		}
		if !slices.Contains(known, name) && !strings.HasPrefix(name, "river_") && !strings.HasPrefix(name, "found_text") && !strings.HasPrefix(name, "sqlite_") {
			out = append(out, "table "+name+" is in no backup")
		}
	}
	return out, rows.Err()
}

// Unlisted lists rows of the lists and counts that are not what they are worked out from.
func Unlisted(ctx context.Context, s *Shelf) ([]string, error) {
	var out []string
	for _, q := range []string{
		"SELECT 'in listed only: ' || product_id FROM (SELECT * FROM listed EXCEPT SELECT * FROM listed_now) x",
		"SELECT 'not in listed: ' || product_id FROM (SELECT * FROM listed_now EXCEPT SELECT * FROM listed) x",
		"SELECT 'in tally only: ' || what FROM (SELECT * FROM tally WHERE n <> 0 EXCEPT SELECT * FROM tally_now) x",
		"SELECT 'not in tally: ' || what FROM (SELECT * FROM tally_now EXCEPT SELECT * FROM tally) x",
	} {
		found, err := s.column(ctx, q)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	return out, nil
}

// CheckSearch compares the full text index of a SQLite shelf with the rows it was made of.
func CheckSearch(ctx context.Context, s *Shelf) error {
	if s.dialect.bound {
		return nil // an index of PostgreSQL's own, kept with its rows
	}
	_, err := s.writer.ExecContext(ctx, "INSERT INTO found_text (found_text, rank) VALUES ('integrity-check', 1)")
	return err
}

// FirstSchema makes a PostgreSQL database with the schema and the rows of a SQLite file of the second step of the schema,
// which is that of the first version of the program.
func FirstSchema(t testing.TB, o Options, file string) {
	t.Helper()
	ctx := t.Context()
	s := &Shelf{now: time.Now}
	if err := s.openPostgres(ctx, o.URL); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	steps, err := migrations(migrationFiles, s.dialect)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.runMigrations(ctx, steps[:2]); err != nil {
		t.Fatal(err)
	}
	from, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	if err := s.fillFrom(ctx, from); err != nil {
		t.Fatal(err)
	}
}

// fillFrom copies every table of an older shelf, with the columns that it has there.
func (s *Shelf) fillFrom(ctx context.Context, from *sql.DB) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.ExecContext(ctx, "SET CONSTRAINTS ALL DEFERRED"); err != nil {
		return err
	}
	names, err := strs(ctx, from, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'river%' AND name NOT LIKE 'found_text%' AND name NOT LIKE 'sqlite%' AND name <> 'schema_versions'")
	if err != nil {
		return err
	}
	for _, name := range names {
		columns, err := strs(ctx, from, "SELECT name FROM pragma_table_info('"+name+"')")
		if err != nil {
			return err
		}
		insert := s.dialect.bind("INSERT INTO " + name + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.TrimSuffix(strings.Repeat("?, ", len(columns)), ", ") + ")")
		rows, err := from.QueryContext(ctx, "SELECT "+strings.Join(columns, ", ")+" FROM "+name)
		if err != nil {
			return err
		}
		defer rows.Close()
		for rows.Next() {
			values, places := make([]any, len(columns)), make([]any, len(columns))
			for i := range values {
				places[i] = &values[i]
			}
			if err := rows.Scan(places...); err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, insert, values...); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
		if err := rows.Err(); err != nil {
			return err
		}
	}
	return tx.Commit()
}

func strs(ctx context.Context, db *sql.DB, query string) ([]string, error) {
	rows, err := db.QueryContext(ctx, query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var v string
		if err := rows.Scan(&v); err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}

// QueuedLater moves the times of the waiting jobs into the future, as they are after the clock was put back.
func QueuedLater(t testing.TB, s *Shelf, days int) {
	t.Helper()
	query := fmt.Sprintf("UPDATE river_job SET created_at = strftime('%%Y-%%m-%%d %%H:%%M:%%f', created_at, '%+d days'), scheduled_at = strftime('%%Y-%%m-%%d %%H:%%M:%%f', scheduled_at, '%+[1]d days')", days)
	if s.dialect.bound {
		query = fmt.Sprintf("UPDATE river_job SET created_at = created_at + interval '%d days', scheduled_at = scheduled_at + interval '%[1]d days'", days)
	}
	done, err := s.writer.Exec(query)
	if err != nil {
		t.Fatal(err)
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		t.Fatalf("%d jobs wait: %v", n, err)
	}
}

// FillDisk makes the store of the documents one whose disk is full, until the returned function makes room.
func FillDisk(s *Shelf) (makeRoom func()) {
	kept := s.documents
	s.documents = blob.NewBucket(fullDisk{})
	return func() { s.documents = kept }
}

// fullDisk is a store that holds nothing and takes nothing.
type fullDisk struct{ driver.Bucket }

func (fullDisk) ErrorCode(err error) gcerrors.ErrorCode {
	if err == errNothing {
		return gcerrors.NotFound
	}
	return gcerrors.Unknown
}

var errNothing = fmt.Errorf("there is nothing")

func (fullDisk) NewRangeReader(context.Context, string, int64, int64, *driver.ReaderOptions) (driver.Reader, error) {
	return nil, errNothing
}

func (fullDisk) NewTypedWriter(context.Context, string, string, *driver.WriterOptions) (driver.Writer, error) {
	return fullWriter{}, nil
}

func (fullDisk) Close() error { return nil }

type fullWriter struct{}

func (fullWriter) Write([]byte) (int, error) { return 0, syscall.ENOSPC }
func (fullWriter) Close() error              { return syscall.ENOSPC }
