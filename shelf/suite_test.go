package shelf_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"sixteen/shelf"
	"sixteen/shelf/shelftest"
)

// cluster is the PostgreSQL of this test binary; nil where it is not installed.
var cluster *shelftest.Cluster

func TestMain(m *testing.M) {
	os.Exit(func() int {
		if child := os.Getenv("SHELF_CHILD"); child != "" {
			return runChild(child)
		}
		c, err := shelftest.StartPostgres()
		if err != nil && !(errors.Is(err, shelftest.ErrNoPostgres) && os.Getenv("CI") == "") {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		if cluster = c; c != nil {
			defer c.Stop()
		}
		return m.Run()
	}())
}

// clock is a clock that a test moves.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

// place is where a test's shelf is; it can be opened again.
type place struct {
	options shelf.Options
	clock   *clock
}

func (p place) open(t testing.TB) *shelf.Shelf {
	t.Helper()
	s, err := shelf.Open(t.Context(), p.options)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// sqlitePlace is a new place for a SQLite shelf.
func sqlitePlace(t testing.TB) place {
	c := &clock{time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	return place{shelf.Options{URL: filepath.Join(t.TempDir(), "shelf.sqlite"), Now: c.now, Desk: fakeDesk}, c}
}

// postgresPlace is a new place for a PostgreSQL shelf.
func postgresPlace(t testing.TB) place {
	t.Helper()
	if cluster == nil {
		t.Skip("PostgreSQL is not installed on this machine; where tests run for everybody it has to be")
	}
	address, err := cluster.Database()
	if err != nil {
		t.Fatal(err)
	}
	c := &clock{time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}
	return place{shelf.Options{URL: address, Documents: t.TempDir(), Now: c.now, Desk: fakeDesk}, c}
}

// onBoth runs a test on both stores.
func onBoth(t *testing.T, test func(t *testing.T, p place)) {
	t.Run("SQLite", func(t *testing.T) { test(t, sqlitePlace(t)) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, postgresPlace(t)) })
}

// must is v, or the end of the test.
func must[T any](v T, err error) func(t testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
