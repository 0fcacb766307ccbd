package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"sixteen/judge"
	"sixteen/read/ocr"
	"sixteen/read/pdf"
	"sixteen/shelf"
	"sixteen/substance"
)

// doctorCommand looks at what the program needs from this machine.
type doctorCommand struct {
	JSON bool `name:"json" help:"Print the answers as JSON."`
}

// The states of one examination.
const (
	wellState    = "well"
	missingState = "missing" // a part of the work cannot be done, the rest can
	brokenState  = "broken"  // nothing can be done until it is mended
)

// examined is the answer to one question about this machine.
type examined struct {
	What   string `json:"what"`
	State  string `json:"state"` // well, missing or broken
	Found  string `json:"found"`
	Remedy string `json:"remedy,omitempty"` // what to do; "" when it is well
}

// Run examines this machine, prints the answers, and ends with status 2 when something is broken, 1 when a part is missing.
func (c *doctorCommand) Run(ctx context.Context, io streams) error {
	var answers []examined
	examineShelf := func(ctx context.Context) examined { return examineShelf(ctx, io.shelf) }
	for _, examine := range []func(context.Context) examined{examineVersion, examinePDF, examineRecognition, examineTables, examineFolders, examineShelf} {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		answers = append(answers, examine(ctx))
	}
	if c.JSON {
		enc := json.NewEncoder(io.out)
		enc.SetIndent("", "  ")
		if err := enc.Encode(answers); err != nil {
			return err
		}
	} else {
		writeExamined(io, answers)
	}
	return worstOf(answers)
}

func writeExamined(io streams, answers []examined) {
	for _, a := range answers {
		fmt.Fprintf(io.out, "%-8s %-24s %s\n", a.State, a.What, a.Found)
		if a.Remedy != "" {
			fmt.Fprintf(io.out, "%-8s %-24s → %s\n", "", "", a.Remedy)
		}
	}
}

func worstOf(answers []examined) error {
	missing := false
	for _, a := range answers {
		switch a.State {
		case brokenState:
			return errSaid
		case missingState:
			missing = true
		}
	}
	if missing {
		return errFindings
	}
	return nil
}

func examineVersion(context.Context) examined {
	return examined{What: "program", State: wellState, Found: fmt.Sprintf("%s, %s on %s/%s", versionWords(), runtime.Version(), runtime.GOOS, runtime.GOARCH)}
}

// examinePDF makes the PDF reader ready as reading a document would.
func examinePDF(ctx context.Context) examined {
	a := examined{What: "PDF reader", State: wellState, Found: "built in and ready"}
	var said []string
	engine, err := pdf.NewEngine(ctx, pdf.Options{Progress: func(s string) { said = append(said, s) }})
	if err != nil {
		a.State, a.Found = brokenState, err.Error()
		a.Remedy = "check that the cache folder can be written and has 50 MB of room, or name another with XDG_CACHE_HOME"
		return a
	}
	engine.Close()
	if len(said) > 0 {
		a.Found += " (" + strings.Join(said, " ") + ")"
	}
	return a
}

// examineRecognition looks for Tesseract and its four languages.
func examineRecognition(ctx context.Context) examined {
	a := examined{What: "scans and photographs"}
	r, err := ocr.New(ctx)
	if err != nil {
		a.State, a.Found, a.Remedy = missingState, "scanned sheets and label photographs cannot be read", err.Error()
		return a
	}
	if missing := r.MissingLanguages(); len(missing) > 0 {
		a.State, a.Found = missingState, "Tesseract lacks the languages "+strings.Join(missing, ", ")
		a.Remedy = "on Debian or Ubuntu: sudo apt-get install tesseract-ocr-" + strings.Join(missing, " tesseract-ocr-")
		return a
	}
	a.State, a.Found = wellState, "Tesseract reads English, German, French and Spanish"
	return a
}

// examineTables opens the substance table, with what the user imported.
func examineTables(context.Context) examined {
	a := examined{What: "substance table", State: wellState, Found: fmt.Sprintf("%d substances built in", substance.Embedded().Len())}
	file, err := judge.TablesFile()
	if err != nil {
		return a
	}
	switch kept, err := judge.ReadTables(file); {
	case err != nil:
		a.State, a.Found, a.Remedy = brokenState, err.Error(), "mend the file, or move it away to work without your own tables"
	case len(kept.Layers) > 0:
		a.Found += fmt.Sprintf(", and %d tables of your own in %s", len(kept.Layers), file)
	}
	return a
}

// examineShelf opens the shelf without changing it.
func examineShelf(ctx context.Context, o shelf.Options) examined {
	a := examined{What: "shelf", State: wellState}
	o.ReadOnly = true
	where := o.URL
	if where == "" {
		var err error
		if where, err = shelf.DefaultPath(); err != nil {
			a.State, a.Found, a.Remedy = brokenState, err.Error(), "name the shelf with --shelf FILE"
			return a
		}
		if _, err := os.Stat(where); errors.Is(err, fs.ErrNotExist) {
			a.Found = "none yet; the first command that keeps something makes it in " + where
			return a
		}
	}
	s, err := shelf.Open(ctx, o)
	if errors.Is(err, shelf.ErrOlder) {
		a.Found = withoutPassword(where) + " is of an older version; the next command that keeps something copies it and brings it up to date"
		return a
	}
	if err != nil {
		a.State, a.Found = brokenState, err.Error()
		a.Remedy = "check the address, or restore the last backup (sixteen shelf restore)"
		return a
	}
	defer s.Close()
	p, err := s.Progress(ctx)
	if err != nil {
		a.State, a.Found, a.Remedy = brokenState, err.Error(), "restore the last backup (sixteen shelf restore)"
		return a
	}
	a.Found = withoutPassword(where) + fmt.Sprintf(" opens; %d documents wait to be read", p.Waiting+len(p.Reading))
	return a
}

// withoutPassword is the address of a shelf that may be shown.
func withoutPassword(address string) string {
	if u, err := url.Parse(address); err == nil && u.User != nil {
		return u.Redacted()
	}
	return address
}

// examineFolders tries to write where the program keeps things.
func examineFolders(context.Context) examined {
	a := examined{What: "folders", State: wellState}
	var found []string
	for _, ask := range []func() (string, error){os.UserConfigDir, os.UserCacheDir} {
		dir, err := ask()
		if err == nil {
			err = writable(filepath.Join(dir, "sixteen"))
		}
		if err != nil {
			a.State, a.Found = brokenState, err.Error()
			a.Remedy = "set HOME (or XDG_CONFIG_HOME, XDG_CACHE_HOME) to a folder that you may write to"
			return a
		}
		found = append(found, filepath.Join(dir, "sixteen"))
	}
	a.Found = strings.Join(found, ", ") + " can be written"
	return a
}

// writable tells whether a file can be made in the folder, which is made when it is not there.
func writable(dir string) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, "doctor-*")
	if err != nil {
		return err
	}
	return errors.Join(f.Close(), os.Remove(f.Name()))
}
