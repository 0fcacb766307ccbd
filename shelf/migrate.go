package shelf

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/riverqueue/river/riverdriver"
	"github.com/riverqueue/river/riverdriver/riverdatabasesql"
	"github.com/riverqueue/river/riverdriver/riversqlite"
	"github.com/riverqueue/river/rivermigrate"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

// migration is one step of the schema: NNNN_name.sql for both engines, or NNNN_name.sqlite.sql and NNNN_name.postgres.sql.
type migration struct {
	version int
	name    string
	script  string
}

// migrations lists the steps of one engine in order.
func migrations(files fs.FS, d dialect) ([]migration, error) {
	list, err := fs.Glob(files, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	var out []migration
	for _, file := range list {
		name := strings.TrimSuffix(path.Base(file), ".sql")
		if base, engine, ok := strings.Cut(name, "."); ok {
			if engine != d.name {
				continue
			}
			name = base
		}
		number, _, _ := strings.Cut(name, "_")
		version, err := strconv.Atoi(number)
		if err != nil {
			return nil, fmt.Errorf("%s: the name begins with no number", file)
		}
		script, err := fs.ReadFile(files, file)
		if err != nil {
			return nil, err
		}
		out = append(out, migration{version, name, d.schema(string(script))})
	}
	slices.SortFunc(out, func(a, b migration) int { return a.version - b.version })
	for i, m := range out {
		if m.version != i+1 {
			return nil, fmt.Errorf("migration %d is missing or twice", i+1)
		}
	}
	return out, nil
}

// version is the version of the schema; 0 when there is none.
func (s *Shelf) version(ctx context.Context, q asker) (int, error) {
	query := "SELECT COUNT(*) FROM sqlite_master WHERE type = 'table' AND name = 'schema_versions'"
	if s.dialect.bound {
		query = "SELECT COUNT(*) FROM information_schema.tables WHERE table_schema = current_schema() AND table_name = 'schema_versions'"
	}
	var n int
	if err := q.row(ctx, query).Scan(&n); err != nil || n == 0 {
		return 0, err
	}
	err := q.row(ctx, "SELECT COALESCE(MAX(version), 0) FROM schema_versions").Scan(&n)
	return n, err
}

// decisionsSince is the version of the schema from which on corrections and overrulings stand where they stand now.
const decisionsSince = 1

// checkVersion fails when the schema is not the one this program works with; older allows those whose decisions can be read.
func (s *Shelf) checkVersion(ctx context.Context, older bool) error {
	steps, err := migrations(migrationFiles, s.dialect)
	if err != nil {
		return err
	}
	have, err := s.version(ctx, s)
	switch {
	case err != nil:
		return err
	case have > len(steps):
		return fmt.Errorf("%w (its schema is %d, this program knows %d): use the newer version", ErrNewer, have, len(steps))
	case have < len(steps) && !(older && have >= decisionsSince):
		return ErrOlder
	}
	return nil
}

// migrate brings the schema up to date. Before an existing SQLite file is changed, a copy of it is put beside it.
func (s *Shelf) migrate(ctx context.Context) error {
	steps, err := migrations(migrationFiles, s.dialect)
	if err != nil {
		return err
	}
	have, err := s.version(ctx, s)
	if err != nil {
		return fmt.Errorf("the shelf cannot be read: %w", err)
	}
	switch {
	case have > len(steps):
		return fmt.Errorf("%w (its schema is %d, this program knows %d): use the newer version", ErrNewer, have, len(steps))
	case have == len(steps):
		return nil
	case have > 0 && s.file != "":
		if err := s.copyBefore(ctx, have); err != nil {
			return err
		}
	}
	release, err := s.alone(ctx)
	if err != nil {
		return err
	}
	defer release()
	if err := s.migrateQueue(ctx); err != nil {
		return err
	}
	if err := s.runMigrations(ctx, steps); err != nil {
		return fmt.Errorf("the shelf could not be brought up to date, and is as it was: %w", err)
	}
	return nil
}

// alone waits until no other process migrates the same PostgreSQL database.
func (s *Shelf) alone(ctx context.Context) (release func(), err error) {
	if !s.dialect.bound {
		return func() {}, nil
	}
	conn, err := s.writer.Conn(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := conn.ExecContext(ctx, "SELECT pg_advisory_lock($1)", int64(writeLock+1)); err != nil {
		conn.Close()
		return nil, err
	}
	return func() {
		conn.ExecContext(context.WithoutCancel(ctx), "SELECT pg_advisory_unlock($1)", int64(writeLock+1))
		conn.Close()
	}, nil
}

// copyBefore copies the SQLite file as it stands, whole and consistent, to a name that says which schema it has.
func (s *Shelf) copyBefore(ctx context.Context, version int) error {
	target := fmt.Sprintf("%s.schema-%d.copy", s.file, version)
	partial := target + ".partial"
	if err := os.Remove(partial); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if _, err := s.writer.ExecContext(ctx, "VACUUM INTO ?", partial); err != nil {
		return fmt.Errorf("no copy of the shelf could be made before changing its schema, so nothing was changed: %w", err)
	}
	return os.Rename(partial, target)
}

// runMigrations takes all missing steps in one transaction.
func (s *Shelf) runMigrations(ctx context.Context, steps []migration) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	x := &change{tx: tx, dialect: s.dialect}
	if s.dialect.bound {
		if err := x.exec(ctx, "SELECT pg_advisory_xact_lock(?)", int64(writeLock)); err != nil {
			return err
		}
	}
	if err := x.exec(ctx, "CREATE TABLE IF NOT EXISTS schema_versions (version BIGINT PRIMARY KEY, name "+s.dialect.text+" NOT NULL, at "+s.dialect.text+" NOT NULL)"); err != nil {
		return err
	}
	have, err := s.version(ctx, x) // another process may have been faster
	if err != nil {
		return err
	}
	for _, m := range steps[min(have, len(steps)):] {
		if _, err := tx.ExecContext(ctx, m.script); err != nil {
			return fmt.Errorf("step %s: %w", m.name, err)
		}
		if err := x.exec(ctx, "INSERT INTO schema_versions (version, name, at) VALUES (?, ?, ?)", m.version, m.name, stamped(s.now().UTC().Truncate(time.Microsecond))); err != nil {
			return err
		}
	}
	return tx.Commit()
}

// driver is River's driver for the engine. Both work in transactions of database/sql.
func (s *Shelf) driver() riverdriver.Driver[*sql.Tx] {
	if s.dialect.bound {
		return riverdatabasesql.NewWithPgxListener(s.writer, s.listeners)
	}
	return riversqlite.New(s.writer)
}

// migrateQueue brings the tables of the job queue up to date. It goes before the own steps: a process that ends between the
// two does both again.
func (s *Shelf) migrateQueue(ctx context.Context) error {
	m, err := rivermigrate.New(s.driver(), &rivermigrate.Config{Logger: s.log})
	if err != nil {
		return err
	}
	if _, err := m.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
		return fmt.Errorf("the tables of the job queue could not be made: %w", err)
	}
	return nil
}
