package shelf

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
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
