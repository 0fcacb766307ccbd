package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
)

// downloadBackup sends everything on the shelf as one file. It is made whole first, so that a backup that fails is never
// half a file on somebody's disk.
func downloadBackup(a *App, v *visit) error {
	dir, err := os.MkdirTemp("", "sixteen-backup-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	f, err := os.CreateTemp(dir, "*.zip")
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err := a.shelf.Backup(v.ctx(), f); err != nil {
		return err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return err
	}
	name := "shelf-" + a.now().Format("2006-01-02") + ".zip"
	v.w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	v.w.Header().Set("Content-Type", "application/zip")
	http.ServeContent(v.w, v.r, name, a.now(), f)
	return nil
}

// restoreBackup fills an empty shelf from a backup.
func restoreBackup(a *App, v *visit) error {
	mr, err := v.r.MultipartReader()
	if err != nil {
		return refused("No backup came with the request. Choose its file and send it again.")
	}
	for {
		part, err := mr.NextPart()
		if err == io.EOF {
			return refused("No backup came with the request. Choose its file and send it again.")
		}
		if err != nil {
			return tooLarge(err, maxUploadBytes)
		}
		if part.FormName() == "backup" {
			words, err := a.restore(v.ctx(), part)
			if err != nil {
				return err
			}
			return v.see("/", words)
		}
	}
}

func (a *App) restore(ctx context.Context, r io.Reader) (string, error) {
	f, err := os.CreateTemp("", "sixteen-restore-*.zip")
	if err != nil {
		return "", err
	}
	defer os.Remove(f.Name())
	defer f.Close()
	size, err := io.Copy(f, r)
	if err != nil {
		return "", tooLarge(err, maxUploadBytes)
	}
	m, err := a.shelf.Restore(ctx, f, size)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("The backup of %s is restored; every file agreed with its checksum.", dayShown(m.Made)), nil
}
