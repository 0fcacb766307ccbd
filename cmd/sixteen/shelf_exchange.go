package main

import (
	"context"
	"errors"
	"fmt"
	stdio "io"
	"os"
	"strings"

	"sixteen/shelf"
)

type shelfImport struct {
	File   string            `arg:"" help:"The list as CSV, with headings in the first line."`
	Column map[string]string `help:"What a column holds, by its heading, where that is not understood: --column Bezeichnung=name."`
	Who    string            `help:"Who adds them; this account's name when not given."`
	JSON   bool              `help:"Print the outcome as JSON lines."`
}

// Run takes a list over.
func (c *shelfImport) Run(ctx context.Context, io streams) error {
	raw, err := os.ReadFile(c.File)
	if err != nil {
		return err
	}
	columns, err := c.columns(raw)
	if err != nil {
		return err
	}
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		added, known, failed := 0, 0, 0
		err := s.ImportList(ctx, orAccount(c.Who), strings.NewReader(string(raw)), columns, func(i shelf.Imported) {
			switch {
			case i.Failure != "":
				failed++
				fmt.Fprintf(io.err, "sixteen: %s, %s: %s\n", c.File, i.Name, i.Failure)
			case i.Known:
				known++
			default:
				added++
			}
			if c.JSON {
				encode(io, i)
			}
		})
		if err != nil {
			return err
		}
		if !c.JSON {
			fmt.Fprintf(io.out, "%d products added, %d were there already, %d lines could not be taken.\n", added, known, failed)
		}
		if failed > 0 {
			return errSaid
		}
		return nil
	})
}

// columns are those of the headings, with what --column says in place of the guess; nil when it says nothing.
func (c *shelfImport) columns(raw []byte) ([]shelf.ListColumn, error) {
	if len(c.Column) == 0 {
		return nil, nil
	}
	headings, err := shelf.ListHeadings(raw)
	if err != nil {
		return nil, err
	}
	out := shelf.GuessColumns(headings)
	for heading, means := range c.Column {
		at := -1
		for i, h := range headings {
			if h == heading {
				at = i
			}
		}
		if at < 0 {
			return nil, fmt.Errorf("--column %s: the headings are %s", heading, strings.Join(headings, ", "))
		}
		for i := range out {
			if out[i] == shelf.ListColumn(means) {
				out[i] = ""
			}
		}
		out[at] = shelf.ListColumn(means)
	}
	return out, nil
}

type shelfExport struct {
	As  string `enum:"csv,xlsx,json,calendar" default:"csv" help:"csv, xlsx, json or calendar (iCalendar of review dates)."`
	Out string `short:"o" placeholder:"FILE" help:"The file to write; the output when not given."`
}

// Run writes the register.
func (c *shelfExport) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		export := map[string]func(context.Context, stdio.Writer) error{"csv": s.ExportCSV, "xlsx": s.ExportXLSX, "json": s.ExportJSON, "calendar": s.ExportCalendar}[c.As]
		if c.Out == "" {
			return export(ctx, io.out)
		}
		f, err := os.Create(c.Out)
		if err != nil {
			return err
		}
		return errors.Join(export(ctx, f), f.Close())
	})
}

type shelfBackup struct {
	File string `arg:"" help:"The file to write (.zip)."`
	JSON bool   `help:"Print what it holds as JSON."`
}

// Run writes a backup.
func (c *shelfBackup) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		m, err := s.BackupTo(ctx, c.File)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, m)
		}
		fmt.Fprintf(io.out, "%s holds %d products, %d sheets and %d documents, to change %d.\n", c.File, m.Rows["products"], m.Rows["sheets"], m.Rows["documents"]-len(m.Damaged), m.Seq)
		for _, d := range m.Damaged {
			fmt.Fprintf(io.err, "sixteen: %s is damaged on the shelf and not in the backup: add the document again\n", d.Name)
		}
		if len(m.Damaged) > 0 {
			return errSaid
		}
		return nil
	})
}

type shelfRestore struct {
	File string `arg:"" help:"A file that 'shelf backup' wrote."`
}

// Run restores a backup to an empty shelf.
func (c *shelfRestore) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		m, err := s.RestoreFrom(ctx, c.File)
		if err != nil {
			return err
		}
		where, _ := s.Where()
		_, err = fmt.Fprintf(io.out, "%d products, %d sheets and %d documents of %s are on the shelf at %s.\n", m.Rows["products"], m.Rows["sheets"], m.Rows["documents"], m.Made.Local().Format("2006-01-02 15:04"), where)
		return err
	})
}

type shelfMove struct {
	To          string `arg:"" help:"The other shelf: a SQLite file that does not exist yet, or postgres://…"`
	ToDocuments string `help:"Where its documents are to be; needed for PostgreSQL."`
}

// Run copies the shelf.
func (c *shelfMove) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		to, err := shelf.Open(ctx, shelf.Options{URL: c.To, Documents: c.ToDocuments})
		if err != nil {
			return err
		}
		n, err := shelf.Move(ctx, s, to)
		if err = errors.Join(err, to.Close()); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%d rows were copied and compared one by one. The shelf they come from is as it was; use the other from now on.\n", n)
		return err
	})
}

type shelfVerify struct{}

// Run compares every document with its checksum.
func (shelfVerify) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		damaged, err := s.Damaged(ctx)
		if err != nil {
			return err
		}
		for _, d := range damaged {
			fmt.Fprintf(io.out, "%s (%.12s) is damaged or missing: add it again, or restore a backup.\n", d.Name, d.SHA256)
		}
		if len(damaged) > 0 {
			return errSaid
		}
		_, err = fmt.Fprintln(io.out, "Every document is what was put on the shelf.")
		return err
	})
}
