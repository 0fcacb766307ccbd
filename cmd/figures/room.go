package main

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/shelf"
)

// room prints what one sheet takes: bytes on each store and among the documents, and processor time from the upload to the
// judgement; and what that makes of a million sheets. Sheets are generated, put on an empty shelf and read as any others. The
// first half of them is left out of the figures, so that what a shelf takes without sheets is not in them.
func room(ctx context.Context, args []string) error {
	n := 400
	if len(args) > 0 {
		var err error
		if n, err = strconv.Atoi(args[0]); err != nil || n < 20 || n > 5000 {
			return fmt.Errorf("%q is no number of sheets from 20 to 5000", args[0])
		}
	}
	fmt.Printf("%d generated sheets with a text layer, the second half of them measured; per sheet, and for a million by multiplication.\n\n", n)
	fmt.Println("| store | what | per sheet | a million sheets |")
	fmt.Println("|---|---|---|---|")
	generated := demo.Generated{Seed: 23}
	sheets := make([][]byte, n)
	for i := range sheets {
		var err error
		if sheets[i], _, err = generated.Sheet(i); err != nil {
			return err
		}
	}
	return onEachStore(ctx, func(ctx context.Context, store string, o shelf.Options, desk *judge.Desk) error {
		return roomOn(ctx, store, o, desk, sheets)
	})
}

// taken is what a shelf has taken so far.
type taken struct {
	rows, documents int64 // bytes
	cpu             time.Duration
}

func roomOn(ctx context.Context, store string, o shelf.Options, desk *judge.Desk, sheets [][]byte) error {
	o.Desk = func(context.Context) (shelf.Desk, error) { return staying{desk}, nil }
	var err error
	if o.Documents, err = os.MkdirTemp("", "sixteen-figures-"); err != nil {
		return err
	}
	defer os.RemoveAll(o.Documents)
	n := len(sheets)
	var at [2]taken
	for half := range at {
		before := ownCPU()
		if err := readIn(ctx, o, half*n/2, sheets[half*n/2:(half+1)*n/2]); err != nil {
			return err
		}
		at[half].cpu = ownCPU() - before
		if at[half].rows, err = bytesOfRows(ctx, o.URL); err != nil {
			return err
		}
		if at[half].documents, err = bytesBelow(o.Documents); err != nil {
			return err
		}
	}
	per := func(b int64) float64 { return float64(b) / float64(n-n/2) }
	rows, documents := per(at[1].rows-at[0].rows), per(at[1].documents-at[0].documents)
	cpu := at[1].cpu.Seconds() / float64(n-n/2)
	fmt.Printf("| %s | rows and indexes | %.1f KB | %.0f GB |\n", store, rows/1e3, rows/1e3)
	fmt.Printf("| %s | documents | %.1f KB | %.0f GB |\n", store, documents/1e3, documents/1e3)
	fmt.Printf("| %s | processor time, upload to judgement (database server not counted) | %.0f ms | %.0f h of one processor |\n", store, cpu*1e3, cpu*1e6/3600)
	return nil
}

// readIn puts sheets on a shelf and waits until they are read.
func readIn(ctx context.Context, o shelf.Options, first int, sheets [][]byte) error {
	s, err := shelf.Open(ctx, o)
	if err != nil {
		return err
	}
	for i, data := range sheets {
		if _, err := s.AddDocument(ctx, "figures", fmt.Sprintf("sheet-%d.pdf", first+i), data, ""); err != nil {
			return errors.Join(err, s.Close())
		}
	}
	if err = s.StartReading(ctx, 0); err == nil {
		err = allRead(ctx, s)
	}
	return errors.Join(err, s.Close())
}

// allRead waits until nothing waits to be read. It fails when a sheet could not be.
func allRead(ctx context.Context, s *shelf.Shelf) error {
	read := errors.New("read")
	err := s.Watch(ctx, 0, func(shelf.Entry) error {
		p, err := s.Progress(ctx)
		switch {
		case err != nil:
			return err
		case p.Failed+p.NoSheet > 0:
			return fmt.Errorf("%d of the sheets were not read", p.Failed+p.NoSheet)
		case p.Waiting == 0 && len(p.Reading) == 0:
			return read
		}
		return nil
	})
	if errors.Is(err, read) {
		return nil
	}
	return err
}

// bytesOfRows is the size of a closed SQLite file with what belongs to it, or of a PostgreSQL database without its log.
func bytesOfRows(ctx context.Context, address string) (int64, error) {
	if !strings.HasPrefix(address, "postgres") {
		var sum int64
		files, err := filepath.Glob(address + "*")
		for _, file := range files {
			info, err := os.Stat(file)
			if err != nil {
				return 0, err
			}
			sum += info.Size()
		}
		return sum, err
	}
	db, err := sql.Open("pgx", address)
	if err != nil {
		return 0, err
	}
	defer db.Close()
	if _, err := db.ExecContext(ctx, "VACUUM"); err != nil {
		return 0, err
	}
	var n int64
	err = db.QueryRowContext(ctx, "SELECT pg_database_size(current_database())").Scan(&n)
	return n, err
}

// bytesBelow is the size of all files in a folder and below.
func bytesBelow(dir string) (sum int64, err error) {
	err = filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			sum += info.Size()
		}
		return err
	})
	return sum, err
}
