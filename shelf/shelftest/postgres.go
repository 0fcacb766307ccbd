// Package shelftest opens shelves for tests: SQLite in a temporary folder, and PostgreSQL in a private cluster that is made for
// the test and thrown away. It also fills a shelf with many invented products without reading any document (Fill).
package shelftest

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver "pgx"
)

// ErrNoPostgres tells that PostgreSQL's programs are not installed here.
var ErrNoPostgres = errors.New("PostgreSQL's initdb and postgres are not installed (Debian: apt-get install postgresql)")

// Cluster is a running PostgreSQL of one test binary, reached by a socket in its own folder.
type Cluster struct {
	dir  string
	cmd  *exec.Cmd
	made int
}

// StartPostgres makes and starts a cluster. It fails with ErrNoPostgres where there are no binaries. PostgreSQL refuses to run
// as root, so root runs it as the account "postgres" or "nobody".
func StartPostgres() (*Cluster, error) {
	bin := postgresBinaries()
	if bin == "" {
		return nil, ErrNoPostgres
	}
	dir, err := os.MkdirTemp("", "pg")
	if err != nil {
		return nil, err
	}
	c := &Cluster{dir: dir}
	as, err := unprivileged(dir)
	if err != nil {
		return nil, errors.Join(err, c.Stop())
	}
	initdb := exec.Command(filepath.Join(bin, "initdb"), "-D", filepath.Join(dir, "data"), "-A", "trust", "-U", "shelf", "-E", "UTF8", "--locale=C", "--no-sync")
	initdb.SysProcAttr, initdb.Dir = as, dir
	if out, err := initdb.CombinedOutput(); err != nil {
		return nil, errors.Join(fmt.Errorf("initdb: %w: %s", err, out), c.Stop())
	}
	c.cmd = exec.Command(filepath.Join(bin, "postgres"), "-D", filepath.Join(dir, "data"), "-k", dir, "-c", "listen_addresses=", "-c", "max_connections=200", "-c", "shared_buffers=64MB")
	c.cmd.SysProcAttr, c.cmd.Dir = as, dir
	if err := c.cmd.Start(); err != nil {
		return nil, errors.Join(err, c.Stop())
	}
	if err := c.ready(); err != nil {
		return nil, errors.Join(err, c.Stop())
	}
	return c, nil
}

// postgresBinaries is the folder of the newest installed PostgreSQL; "" when there is none.
func postgresBinaries() string {
	if p, err := exec.LookPath("initdb"); err == nil {
		return filepath.Dir(p)
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	slices.Sort(found)
	if len(found) == 0 {
		return ""
	}
	return filepath.Dir(found[len(found)-1])
}

// unprivileged gives the folder to an account that PostgreSQL runs as, when this process is root.
func unprivileged(dir string) (*syscall.SysProcAttr, error) {
	if os.Getuid() != 0 {
		return &syscall.SysProcAttr{}, nil
	}
	account, err := user.Lookup("postgres")
	if err != nil {
		if account, err = user.Lookup("nobody"); err != nil {
			return nil, err
		}
	}
	uid, err1 := strconv.Atoi(account.Uid)
	gid, err2 := strconv.Atoi(account.Gid)
	if err := errors.Join(err1, err2, os.Chown(dir, uid, gid), os.Chmod(dir, 0o755)); err != nil {
		return nil, err
	}
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}, nil
}

func (c *Cluster) address(database string) string {
	return "postgres://shelf@/" + database + "?host=" + c.dir
}

func (c *Cluster) ready() error {
	db, err := sql.Open("pgx", c.address("postgres"))
	if err != nil {
		return err
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	defer cancel()
	for {
		if err = db.PingContext(ctx); err == nil {
			return nil
		}
		select {
		case <-ctx.Done():
			return fmt.Errorf("PostgreSQL did not start: %w", err)
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// Database makes an empty database and returns its address.
func (c *Cluster) Database() (string, error) {
	db, err := sql.Open("pgx", c.address("postgres"))
	if err != nil {
		return "", err
	}
	defer db.Close()
	c.made++
	name := "shelf" + strconv.Itoa(c.made)
	if _, err := db.Exec("CREATE DATABASE " + name); err != nil {
		return "", err
	}
	return c.address(name), nil
}

// Crash ends the cluster at once, as a power cut of its machine would.
func (c *Cluster) Crash() error {
	if err := c.cmd.Process.Signal(syscall.SIGQUIT); err != nil {
		return err
	}
	c.cmd.Wait() // its status says only that it was ended
	return nil
}

// Restart starts a cluster again that was ended.
func (c *Cluster) Restart() error {
	again := exec.Command(c.cmd.Path, c.cmd.Args[1:]...)
	again.SysProcAttr, again.Dir = c.cmd.SysProcAttr, c.cmd.Dir
	c.cmd = again
	if err := again.Start(); err != nil {
		return err
	}
	return c.ready()
}

// Stop ends the cluster and removes it.
func (c *Cluster) Stop() error {
	if c.cmd != nil && c.cmd.Process != nil {
		if err := c.cmd.Process.Signal(syscall.SIGINT); err == nil {
			c.cmd.Wait() // its status says only that it was ended
		}
	}
	if !strings.HasPrefix(filepath.Base(c.dir), "pg") {
		return nil
	}
	return os.RemoveAll(c.dir)
}
