package shelf

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"gocloud.dev/blob"
	"gocloud.dev/blob/fileblob"
	_ "gocloud.dev/blob/s3blob" // "s3://…"
	"gocloud.dev/gcerrors"
)

// Document is a file as it was put on the shelf. Its name is the SHA-256 of its bytes: the same file is kept once.
type Document struct {
	SHA256 string    `json:"sha256"`
	Name   string    `json:"name"`
	Bytes  int64     `json:"bytes"`
	Added  time.Time `json:"added"`
	By     string    `json:"by"`
}

// openDocuments opens the folder or bucket of the documents.
func (s *Shelf) openDocuments(ctx context.Context, where string, readOnly bool) error {
	if where == "" {
		if s.file == "" {
			return &Invalid{What: "It is not said where documents are kept.", Do: "With PostgreSQL, name a folder or a bucket for them, such as /srv/sheets or s3://name?region=…"}
		}
		where = filepath.Join(filepath.Dir(s.file), "documents")
	}
	var err error
	if strings.Contains(where, "://") && !strings.HasPrefix(where, "file://") {
		if s.documents, err = blob.OpenBucket(ctx, where); err != nil {
			return fmt.Errorf("the bucket of the documents cannot be opened: %w", err)
		}
		return nil
	}
	if u, err := url.Parse(where); err == nil && u.Scheme == "file" {
		where = filepath.FromSlash(u.Path)
	}
	if s.folder, err = filepath.Abs(where); err != nil {
		return err
	}
	s.documents, err = fileblob.OpenBucket(s.folder, &fileblob.Options{CreateDir: !readOnly, DirFileMode: 0o700, NoTempDir: true, Metadata: fileblob.MetadataDontWrite})
	if err != nil {
		return fmt.Errorf("the folder of the documents cannot be opened: %w", err)
	}
	return nil
}

// key is the name of a document in the bucket.
func key(sum string) string { return sum[:2] + "/" + sum }

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// keep writes a document and returns its SHA-256. A document that is there already is looked at, and written again when it is
// damaged. When keep returns, the bytes are on the disk.
func (s *Shelf) keep(ctx context.Context, data []byte) (string, error) {
	sum := sumOf(data)
	if have, err := s.documents.ReadAll(ctx, key(sum)); err == nil && sumOf(have) == sum {
		return sum, nil
	}
	if err := s.documents.WriteAll(ctx, key(sum), data, &blob.WriterOptions{ContentType: "application/octet-stream"}); err != nil {
		return "", fmt.Errorf("the document could not be kept: %w", err)
	}
	if s.folder == "" {
		return sum, nil
	}
	path := filepath.Join(s.folder, filepath.FromSlash(key(sum)))
	return sum, errors.Join(syncPath(path), syncPath(filepath.Dir(path)), syncPath(s.folder))
}

// syncPath waits until a file or folder is on the disk.
func syncPath(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		if info, statErr := f.Stat(); statErr == nil && info.IsDir() {
			return nil // some systems cannot sync folders
		}
		return err
	}
	return nil
}

// Document is what is known of a document. It fails with ErrNotFound.
func (s *Shelf) Document(ctx context.Context, sum string) (Document, error) {
	d := Document{SHA256: sum}
	rows, err := s.rows(ctx, "SELECT name, bytes, added, by_whom FROM documents WHERE sha256 = ?", sum)
	if err != nil {
		return d, err
	}
	defer rows.Close()
	if !rows.Next() {
		return d, errors.Join(rows.Err(), fmt.Errorf("%w: no document has the checksum %.12s", ErrNotFound, sum))
	}
	return d, rows.Scan(&d.Name, &d.Bytes, moment{&d.Added}, &d.By)
}

// s3Mismatch is what the S3 library says when an object is not what was uploaded: it keeps a sum too and compares first. The
// error has no type that can be asked for.
const s3Mismatch = "checksum did not match"

// OpenDocument reads the bytes of a document and compares them with its checksum. It fails with ErrNotFound, and with ErrCorrupted when
// the bytes are not those that were put on the shelf, or are gone.
func (s *Shelf) OpenDocument(ctx context.Context, sum string) (Document, []byte, error) {
	d, err := s.Document(ctx, sum)
	if err != nil {
		return d, nil, err
	}
	data, err := s.documents.ReadAll(ctx, key(sum))
	switch {
	case gcerrors.Code(err) == gcerrors.NotFound:
		return d, nil, fmt.Errorf("%w: the file of %s is missing: put the document on the shelf again, or restore a backup", ErrCorrupted, d.Name)
	case err != nil && !strings.Contains(err.Error(), s3Mismatch):
		return d, nil, err
	case err != nil || sumOf(data) != sum:
		return d, nil, fmt.Errorf("%w: %s changed on the disk since it was added: put the document on the shelf again, or restore a backup", ErrCorrupted, d.Name)
	}
	return d, data, nil
}

// Damaged reads every document and lists those that are not what was put on the shelf.
func (s *Shelf) Damaged(ctx context.Context) ([]Document, error) {
	rows, err := s.rows(ctx, "SELECT sha256 FROM documents ORDER BY sha256")
	if err != nil {
		return nil, err
	}
	var sums []string
	for rows.Next() {
		var sum string
		if err := rows.Scan(&sum); err != nil {
			rows.Close()
			return nil, err
		}
		sums = append(sums, sum)
	}
	if err := errors.Join(rows.Err(), rows.Close()); err != nil {
		return nil, err
	}
	var out []Document
	for _, sum := range sums {
		d, _, err := s.OpenDocument(ctx, sum)
		if errors.Is(err, ErrCorrupted) {
			out = append(out, d)
		} else if err != nil {
			return out, err
		}
	}
	return out, nil
}
