package shelf

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

// backupFormat is the version of the form of backups.
const backupFormat = 1

// mostLine is the longest line of a table in a backup.
const mostLine = 256 << 20

// Manifest lists what a backup holds.
type Manifest struct {
	Format  int            `json:"format"`
	Schema  int            `json:"schema"` // version of the shelf's schema
	Made    time.Time      `json:"made"`
	Seq     int64          `json:"seq"`  // of the last change it holds
	Rows    map[string]int `json:"rows"` // by table
	Files   []ManifestFile `json:"files"`
	Damaged []Document     `json:"damaged,omitempty"` // documents that were damaged on the shelf, so are not in the backup
}

// ManifestFile is one file of a backup with its checksum.
type ManifestFile struct {
	Name   string `json:"name"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// BackupTo writes a backup to a file, which is there whole or not at all.
func (s *Shelf) BackupTo(ctx context.Context, file string) (m Manifest, err error) {
	f, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+".*.partial")
	if err != nil {
		return m, fmt.Errorf("the backup cannot be written there: %w", err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if m, err = s.Backup(ctx, f); err != nil {
		return m, err
	}
	if err = errors.Join(f.Sync(), f.Close()); err != nil {
		return m, err
	}
	if err = os.Rename(f.Name(), file); err != nil {
		return m, err
	}
	return m, syncPath(filepath.Dir(file))
}

// Backup writes everything on the shelf as one ZIP file: the rows of every table, the documents, and a manifest with the
// checksum of each file. It is the shelf as it stands when Backup begins, whatever is changed meanwhile. Sessions are left out.
// Documents that are damaged are left out and listed.
func (s *Shelf) Backup(ctx context.Context, w io.Writer) (Manifest, error) {
	m := Manifest{Format: backupFormat, Made: s.now().UTC().Truncate(time.Second), Rows: map[string]int{}, Files: []ManifestFile{}}
	view, err := s.snapshot(ctx)
	if err != nil {
		return m, err
	}
	defer view.end()
	if m.Schema, err = s.version(ctx, view); err != nil {
		return m, err
	}
	if err := view.row(ctx, "SELECT COALESCE(MAX(seq), 0) FROM trail").Scan(&m.Seq); err != nil {
		return m, err
	}
	z := zip.NewWriter(w)
	var documents []string
	for _, t := range tables() {
		if err := m.put(z, "tables/"+t.name+".jsonl", func(w io.Writer) error {
			return t.each(ctx, view, func(row []any) error {
				m.Rows[t.name]++
				if t.name == "documents" {
					documents = append(documents, row[0].(string))
				}
				line, err := t.line(row)
				if err != nil {
					return err
				}
				_, err = w.Write(append(line, '\n'))
				return err
			})
		}); err != nil {
			return m, fmt.Errorf("table %s: %w", t.name, err)
		}
	}
	for _, sum := range documents {
		d, data, err := s.OpenDocument(ctx, sum)
		if errors.Is(err, ErrCorrupted) {
			m.Damaged = append(m.Damaged, d)
			continue
		}
		if err != nil {
			return m, err
		}
		if err := m.put(z, "documents/"+sum, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		}); err != nil {
			return m, err
		}
	}
	last, err := z.Create("manifest.json")
	if err != nil {
		return m, err
	}
	enc := json.NewEncoder(last)
	enc.SetIndent("", " ")
	return m, errors.Join(enc.Encode(m), z.Close())
}

// put writes one file of a backup and its line of the manifest.
func (m *Manifest) put(z *zip.Writer, name string, write func(io.Writer) error) error {
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: m.Made})
	if err != nil {
		return err
	}
	c := &counted{w: w, hash: sha256.New()}
	b := bufio.NewWriterSize(c, 1<<16)
	if err := errors.Join(write(b), b.Flush()); err != nil {
		return err
	}
	m.Files = append(m.Files, ManifestFile{name, c.n, hex.EncodeToString(c.hash.Sum(nil))})
	return nil
}

type counted struct {
	w    io.Writer
	hash hash.Hash
	n    int64
}

func (c *counted) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.hash.Write(p[:n])
	c.n += int64(n)
	return n, err
}

// RestoreFrom restores a backup file, see Restore.
func (s *Shelf) RestoreFrom(ctx context.Context, file string) (Manifest, error) {
	f, err := os.Open(file)
	if err != nil {
		return Manifest{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return Manifest{}, err
	}
	return s.Restore(ctx, f, info.Size())
}

// Restore fills an empty shelf from a backup. Every file of the backup is compared with its checksum before anything is
// written, and the rows come in one transaction: the shelf holds all of the backup or nothing. It fails with *Invalid when the
// shelf is not empty or the backup is damaged.
func (s *Shelf) Restore(ctx context.Context, r io.ReaderAt, size int64) (Manifest, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Manifest{}, &Invalid{What: "This is no backup: it is no ZIP file, or not all of it.", Do: "Choose a file that 'sixteen shelf backup' wrote, or an older one."}
	}
	m, files, err := checkBackup(z)
	if err != nil {
		return m, err
	}
	steps, err := migrations(migrationFiles, s.dialect)
	if err != nil {
		return m, err
	}
	if m.Schema > len(steps) {
		return m, fmt.Errorf("%w (its schema is %d, this program knows %d): use the newer version to restore it", ErrNewer, m.Schema, len(steps))
	}
	if err := s.empty(ctx); err != nil {
		return m, err
	}
	for name, f := range files {
		if !strings.HasPrefix(name, "documents/") {
			continue
		}
		data, err := readAll(f)
		if err != nil {
			return m, err
		}
		if _, err := s.keep(ctx, data); err != nil {
			return m, s.explained(err)
		}
	}
	err = s.fill(ctx, func(x *change) error {
		for _, t := range tables() {
			f, ok := files["tables/"+t.name+".jsonl"]
			if !ok {
				continue // a table that came later than the backup
			}
			if err := x.restoreTable(ctx, t, f); err != nil {
				return fmt.Errorf("table %s: %w", t.name, err)
			}
		}
		return nil
	})
	return m, err
}

// fill runs f in a transaction that puts rows in as they are, without the trail, and queues the sheets that wait.
func (s *Shelf) fill(ctx context.Context, f func(*change) error) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return s.explained(err)
	}
	defer tx.Rollback()
	x := &change{tx: tx, dialect: s.dialect, now: s.now().UTC()}
	later := "PRAGMA defer_foreign_keys = 1"
	if s.dialect.bound {
		if err := x.exec(ctx, "SELECT pg_advisory_xact_lock(?)", int64(writeLock)); err != nil {
			return err
		}
		later = "SET CONSTRAINTS ALL DEFERRED"
	}
	if err := x.exec(ctx, later); err != nil {
		return err
	}
	var n int
	if err := x.row(ctx, "SELECT COUNT(*) FROM trail").Scan(&n); err != nil {
		return err
	}
	if n > 0 {
		return notEmpty()
	}
	if err := f(x); err != nil {
		return s.explained(err)
	}
	if err := x.listAll(ctx); err != nil {
		return s.explained(err)
	}
	waiting, err := loadAll[Sheet](ctx, x, "WHERE t.state = 'waiting' AND t.retired = ''")
	if err != nil {
		return err
	}
	for _, t := range waiting {
		if err := s.enqueue(ctx, x, t.ID); err != nil {
			return err
		}
	}
	if err := tx.Commit(); err != nil {
		return s.explained(err)
	}
	s.events.changed()
	return nil
}

func notEmpty() error {
	return &Invalid{What: "There is something on this shelf already.", Do: "Restore to a new place: name a file that does not exist yet with --shelf, or an empty database."}
}

func (s *Shelf) empty(ctx context.Context) error {
	n, err := s.Seq(ctx)
	if err == nil && n > 0 {
		err = notEmpty()
	}
	return err
}

// checkBackup reads a backup's manifest and compares every file with its checksum.
func checkBackup(z *zip.Reader) (Manifest, map[string]*zip.File, error) {
	var m Manifest
	damaged := func(why string) error {
		return &Invalid{What: "The backup is damaged: " + why + ".", Do: "Nothing was restored. Use an older backup, or a copy of this one from another disk."}
	}
	files := map[string]*zip.File{}
	for _, f := range z.File {
		files[f.Name] = f
	}
	f, ok := files["manifest.json"]
	if !ok {
		return m, nil, &Invalid{What: "This is no backup: it has no manifest.", Do: "Choose a file that 'sixteen shelf backup' wrote."}
	}
	raw, err := readAll(f)
	if err != nil || json.Unmarshal(raw, &m) != nil {
		return m, nil, damaged("its manifest cannot be read")
	}
	if m.Format != backupFormat {
		return m, nil, fmt.Errorf("%w (its form is %d, this program knows %d)", ErrNewer, m.Format, backupFormat)
	}
	named := map[string]bool{"manifest.json": true}
	for _, want := range m.Files {
		f, ok := files[want.Name]
		if !ok {
			return m, nil, damaged(want.Name + " is missing")
		}
		named[want.Name] = true
		sum, n, err := sumOfFile(f)
		if err != nil || sum != want.SHA256 || n != want.Bytes {
			return m, nil, damaged(want.Name + " is not what was written")
		}
		if doc, ok := strings.CutPrefix(want.Name, "documents/"); ok && doc != sum {
			return m, nil, damaged(want.Name + " is another document")
		}
	}
	for name := range files {
		if !named[name] {
			return m, nil, damaged(path.Base(name) + " is not in its manifest")
		}
	}
	return m, files, nil
}

func sumOfFile(f *zip.File) (string, int64, error) {
	r, err := f.Open()
	if err != nil {
		return "", 0, err
	}
	defer r.Close()
	h := sha256.New()
	n, err := io.Copy(h, r)
	return hex.EncodeToString(h.Sum(nil)), n, err
}

func readAll(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(r)
}

// restoreTable puts the rows of a table in.
func (x *change) restoreTable(ctx context.Context, t table, f *zip.File) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	insert, err := x.tx.PrepareContext(ctx, x.dialect.bind(t.insertion()))
	if err != nil {
		return err
	}
	defer insert.Close()
	lines := bufio.NewScanner(r)
	lines.Buffer(make([]byte, 1<<16), mostLine)
	for lines.Scan() {
		if len(bytes.TrimSpace(lines.Bytes())) == 0 {
			continue
		}
		row, err := t.parse(lines.Bytes())
		if err != nil {
			return err
		}
		if _, err := insert.ExecContext(ctx, row...); err != nil {
			return err
		}
	}
	return lines.Err()
}
