package shelf

import (
	"context"
	"database/sql"
	"database/sql/driver"
)

// keptStatements is how many statements each connection to a SQLite file keeps compiled.
const keptStatements = 128

// keeping opens connections that keep their statements compiled: compiling one takes SQLite longer than most of ours take to run.
type keeping struct {
	driver driver.Driver
	dsn    string
}

// openKeeping is a pool of such connections.
func openKeeping(dsn string) (*sql.DB, error) {
	plain, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, err
	}
	return sql.OpenDB(keeping{plain.Driver(), dsn}), plain.Close()
}

// Connect opens one connection.
func (k keeping) Connect(context.Context) (driver.Conn, error) {
	c, err := k.driver.Open(k.dsn)
	if err != nil {
		return nil, err
	}
	return &keepingConn{sqliteConn: c.(sqliteConn), kept: map[string]driver.Stmt{}}, nil
}

// Driver is the driver below.
func (k keeping) Driver() driver.Driver { return k.driver }

// sqliteConn is what a connection of the driver can do beside running statements by their text.
type sqliteConn interface {
	driver.Conn
	driver.ConnPrepareContext
	driver.ConnBeginTx
	driver.Pinger
	driver.SessionResetter
	driver.Validator
}

// keepingConn is a connection with the statements that are not in use. It does not run statements by their text, so that the
// standard library prepares each here.
type keepingConn struct {
	sqliteConn
	kept map[string]driver.Stmt
}

// PrepareContext takes a statement from those kept, or compiles it.
func (c *keepingConn) PrepareContext(ctx context.Context, query string) (driver.Stmt, error) {
	s, ok := c.kept[query]
	delete(c.kept, query)
	if !ok {
		var err error
		if s, err = c.sqliteConn.PrepareContext(ctx, query); err != nil {
			return nil, err
		}
	}
	return &keptStatement{sqliteStatement: s.(sqliteStatement), conn: c, query: query}, nil
}

// Prepare is PrepareContext without an end.
func (c *keepingConn) Prepare(query string) (driver.Stmt, error) {
	return c.PrepareContext(context.Background(), query)
}

// Close closes the statements and the connection.
func (c *keepingConn) Close() error {
	for query, s := range c.kept {
		delete(c.kept, query)
		s.Close() // the connection ends with it
	}
	return c.sqliteConn.Close()
}

// sqliteStatement is what a statement of the driver can do.
type sqliteStatement interface {
	driver.Stmt
	driver.StmtExecContext
	driver.StmtQueryContext
}

// keptStatement is a statement in use.
type keptStatement struct {
	sqliteStatement
	conn   *keepingConn
	query  string
	closed bool
}

// Close gives the statement back. One that is kept already, because it was in use twice at once, is closed, and so is any one
// when there are too many.
func (s *keptStatement) Close() error {
	if s.closed {
		return nil
	}
	s.closed = true
	kept := s.conn.kept
	if _, ok := kept[s.query]; ok {
		return s.sqliteStatement.Close()
	}
	if len(kept) >= keptStatements {
		for query, other := range kept {
			delete(kept, query)
			if err := other.Close(); err != nil {
				return err
			}
			break
		}
	}
	kept[s.query] = s.sqliteStatement
	return nil
}
