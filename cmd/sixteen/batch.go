package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"

	"golang.org/x/sync/errgroup"

	"sixteen/audit"
	"sixteen/judge"
	"sixteen/read"
)

// batch is what every command on many documents takes. One document is printed as it is. Several are worked on side by
// side, go on after any failure, and end with a summary.
//
//	files, folders ─► documents ─► as many at once as there are processors ─► results in order ─► output, summary
type batch struct {
	Files []string      `arg:"" name:"file" help:"Documents (PDF, HTML, DOCX, text; labels: JPEG, PNG, PDF), or folders, which are searched with all that is below them. Of a folder only the summary is printed, unless --json or --out is given."`
	JSON  bool          `help:"Print everything as JSON, one object per document, with evidence and its places."`
	Out   string        `help:"Write the result of each document into this folder, and the summary as summary.csv." placeholder:"FOLDER" type:"path"`
	Limit time.Duration `help:"The longest that one document may take; it is then given up and counted as failed." default:"10m"`
}

// document is one file to work on.
type document struct {
	path string // where it is
	name string // its place below the folder that was named, or its file name
	err  error  // why it cannot be reached, nil when it can
}

// tally is what one document adds to the summary.
type tally struct {
	product  string
	pages    int
	judged   bool
	findings [4]int // by audit.Kind
}

// count adds up the findings of a report that are not overruled.
func (t *tally) count(r audit.Report) {
	t.judged = true
	for _, f := range r.Open() {
		t.findings[f.Kind]++
	}
}

// work does a command's job on one document: it writes what is to be printed to w.
type work func(ctx context.Context, w io.Writer, d document, data []byte) (tally, error)

// outcome is how one document ended.
type outcome string

const (
	wasRead    outcome = "read"
	notSheet   outcome = "not a sheet"
	hasFailed  outcome = "failed"
	notReached outcome = "not reached"
)

// result is one document's outcome with its output.
type result struct {
	document
	tally
	outcome outcome
	why     error // nil when it was read
	took    time.Duration
	output  []byte
}

// run works on all documents. It ends with errSaid when any could not be read, errFindings when any has findings, and the
// context's error, after a partial summary, when it was stopped.
func (b *batch) run(ctx context.Context, streams streams, desk *judge.Desk, do work) error {
	docs, folders, passed, err := b.documents()
	if err != nil {
		return err
	}
	if b.Out != "" {
		if err := os.MkdirAll(b.Out, 0o755); err != nil {
			return fmt.Errorf("--out: the folder cannot be made: %w", err)
		}
	}
	s := &summary{total: len(docs), passed: passed, started: time.Now()}
	bar := newProgressBar(streams.err, len(docs))
	out := &outputs{batch: b, streams: streams, quiet: folders, several: len(docs) > 1}
	err = inOrder(ctx, docs, func(d document) result { return b.one(ctx, d, do) }, func(r result) error {
		bar.hide()
		defer bar.show(s)
		if r.outcome == notReached {
			s.add(r)
			return nil
		}
		if err := out.put(&r); err != nil {
			return err
		}
		s.add(r)
		return nil
	})
	bar.hide()
	if err != nil {
		return err
	}
	return b.finish(ctx, streams, s)
}

// finish prints the summary of several documents and chooses how the command ends.
func (b *batch) finish(ctx context.Context, streams streams, s *summary) error {
	if s.total > 1 || b.Out != "" {
		to := streams.out
		if b.JSON && b.Out == "" {
			to = streams.err
		}
		if err := s.print(to); err != nil {
			return err
		}
	}
	if b.Out != "" {
		if err := s.writeCSV(filepath.Join(b.Out, "summary.csv")); err != nil {
			return err
		}
	}
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case s.count[wasRead] < s.total:
		return errSaid
	case s.found > 0:
		return errFindings
	}
	return nil
}

// inOrder works on as many documents at once as there are processors and hands the results on in the documents' order.
// It stops at the first error of take. Only a few results wait for one before them, so that memory stays bounded.
func inOrder(ctx context.Context, docs []document, do func(document) result, take func(result) error) error {
	workers := runtime.GOMAXPROCS(0)
	waiting := make(chan chan result, 4*workers)
	group, ctx := errgroup.WithContext(ctx)
	group.Go(func() error {
		defer close(waiting)
		var running errgroup.Group
		running.SetLimit(workers)
		defer running.Wait() //nolint:errcheck // the workers return nil
		for _, d := range docs {
			place := make(chan result, 1)
			select {
			case waiting <- place:
			case <-ctx.Done():
				return nil
			}
			running.Go(func() error {
				place <- do(d)
				return nil
			})
		}
		return nil
	})
	group.Go(func() error {
		for place := range waiting {
			if err := take(<-place); err != nil {
				return err
			}
		}
		return nil
	})
	return group.Wait()
}

// errTooLong tells that a document took longer than the limit.
var errTooLong = errors.New("took too long")

// one works on one document. A crash of the reader costs only this document; so does one that runs on beyond the limit,
// which is left behind.
func (b *batch) one(ctx context.Context, d document, do work) result {
	r := result{document: d}
	if ctx.Err() != nil {
		r.outcome, r.why = notReached, ctx.Err()
		return r
	}
	started := time.Now()
	limited, cancel := context.WithTimeoutCause(ctx, b.Limit, errTooLong)
	defer cancel()
	done := make(chan result, 1)
	go func() {
		inner := result{document: d}
		defer func() { done <- inner }()
		defer func() {
			if p := recover(); p != nil {
				inner.why = fmt.Errorf("the reader itself broke on it (%v): report this with the document if you may pass it on", p)
			}
		}()
		var buf bytes.Buffer
		inner.tally, inner.why = workOn(limited, &buf, d, do)
		inner.output = buf.Bytes()
	}()
	select {
	case r = <-done:
	case <-limited.Done():
		select { // give it a moment to end in order
		case r = <-done:
		case <-time.After(2 * time.Second):
			r.why = context.Cause(limited)
		}
	}
	r.took = time.Since(started)
	switch {
	case r.why == nil:
		r.outcome = wasRead
	case ctx.Err() != nil:
		r.outcome, r.why = notReached, ctx.Err()
	case limited.Err() != nil:
		r.outcome = hasFailed
		r.why = fmt.Errorf("it took more than %v and was given up: try it alone with a longer --limit", b.Limit)
	case errors.Is(r.why, read.ErrNotSheet):
		r.outcome = notSheet
	default:
		r.outcome = hasFailed
	}
	return r
}

func workOn(ctx context.Context, w io.Writer, d document, do work) (tally, error) {
	if d.err != nil {
		return tally{}, d.err
	}
	data, err := readFile(d.path)
	if err != nil {
		return tally{}, err
	}
	return do(ctx, w, d, data)
}

// endings are those of files that are taken from a folder; a file that is named is taken whatever its ending.
var endings = []string{".pdf", ".html", ".htm", ".xhtml", ".docx", ".txt", ".jpg", ".jpeg", ".png", ""}

// documents lists the files, those in folders sorted by name. Folders tells whether a folder was named; passed counts the
// files in folders that were passed over by their ending.
func (b *batch) documents() (docs []document, folders bool, passed int, err error) {
	for _, file := range b.Files {
		info, err := os.Stat(file)
		if err != nil || !info.IsDir() {
			docs = append(docs, document{path: file, name: filepath.Base(file)})
			continue
		}
		folders = true
		below, n := inFolder(file)
		if len(below) == 0 {
			return nil, true, n, fmt.Errorf("%s: the folder holds no document (%s): name the folder where the sheets are", file, strings.Join(endings[:len(endings)-1], " "))
		}
		docs, passed = append(docs, below...), passed+n
	}
	return docs, folders, passed, nil
}

// inFolder lists the documents in and below a folder. What begins with a dot is left alone; links to folders are not
// followed. A folder that cannot be opened counts as one document that failed.
func inFolder(folder string) (docs []document, passed int) {
	filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error { //nolint:errcheck // every error becomes a document
		name, relErr := filepath.Rel(folder, path)
		if relErr != nil {
			name = path
		}
		switch {
		case err != nil:
			docs = append(docs, document{path: path, name: name, err: fmt.Errorf("it cannot be opened: %w", err)})
			return nil
		case path != folder && strings.HasPrefix(e.Name(), "."):
			if e.IsDir() {
				return fs.SkipDir
			}
			return nil
		case e.IsDir():
			return nil
		}
		if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
			return nil
		}
		if !slices.Contains(endings, strings.ToLower(filepath.Ext(path))) {
			passed++
			return nil
		}
		docs = append(docs, document{path: path, name: name})
		return nil
	})
	return docs, passed
}

// outputs puts the results where they are wanted.
type outputs struct {
	*batch
	streams
	quiet   bool // nothing but the summary goes to the terminal
	several bool
	printed int
	names   map[string]bool // files written
}

// put prints or writes one result, and says on the error stream why a document could not be read.
func (o *outputs) put(r *result) error {
	if r.why != nil {
		if _, err := fmt.Fprintf(o.err, "sixteen: %s: %v\n", r.path, r.why); err != nil {
			return err
		}
		if !o.JSON || !o.several && o.Out == "" {
			return nil
		}
		line, err := json.Marshal(map[string]string{"file": r.path, "outcome": string(r.outcome), "why": r.why.Error()})
		if err != nil {
			return err
		}
		r.output = append(line, '\n')
	}
	defer func() { r.output = nil }()
	switch {
	case o.Out != "":
		return o.write(r)
	case o.quiet && !o.JSON:
		return nil
	}
	if o.printed > 0 && !o.JSON {
		fmt.Fprintln(o.out)
	}
	o.printed++
	_, err := o.out.Write(r.output)
	return err
}

// write writes a result to a file of its own, whole or not at all.
func (o *outputs) write(r *result) error {
	ending := ".txt"
	if o.JSON {
		ending = ".json"
	}
	base := strings.TrimSuffix(r.name, filepath.Ext(r.name))
	name := base + ending
	for n := 2; o.names[name]; n++ {
		name = fmt.Sprintf("%s-%d%s", base, n, ending)
	}
	if o.names == nil {
		o.names = map[string]bool{}
	}
	o.names[name] = true
	target := filepath.Join(o.Out, name)
	if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
		return err
	}
	return writeWhole(target, func(w io.Writer) error {
		_, err := w.Write(bytes.TrimLeft(r.output, "\n"))
		return err
	})
}

// encodeTo writes one value as one line of JSON.
func encodeTo(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
