package web

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"

	"sixteen/judge"
	"sixteen/shelf"
)

// upload puts documents on the shelf and queues them for reading.
func upload(a *App, v *visit) error {
	product := v.r.URL.Query().Get("product")
	mr, err := v.r.MultipartReader()
	if err != nil {
		return a.showShelfWith(v, http.StatusBadRequest, []notice{{"Upload", "No document came with the request. Choose a file and send it again."}})
	}
	var notices []notice
	taken, known := 0, 0
	for {
		part, err := mr.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			notices = append(notices, notice{"Upload", wordsOf(tooLarge(err, maxUploadBytes))})
			break
		}
		new, old, n := a.receive(v, part, product)
		taken, known = taken+new, known+old
		notices = append(notices, n...)
	}
	switch {
	case len(notices) > 0:
		return a.showShelfWith(v, http.StatusUnprocessableEntity, notices)
	case taken+known == 0:
		return a.showShelfWith(v, http.StatusBadRequest, []notice{{"Upload", "No document came with the request. Choose a file and send it again."}})
	}
	said := plural(taken, "document is", "documents are") + " on the shelf and will be read."
	if known > 0 {
		said += " " + plural(known, "was", "were") + " there already."
	}
	if product != "" {
		return v.see("/products/"+product+"/revisions", said)
	}
	return v.see("/", said)
}

// receive takes one uploaded file: a document, or a ZIP of several.
func (a *App) receive(v *visit, part *multipart.Part, product string) (taken, known int, notices []notice) {
	if part.FileName() == "" {
		return 0, 0, nil
	}
	for _, t := range a.Take(v.ctx(), v.by(), part.FileName(), part, product) {
		switch {
		case t.Problem != "":
			notices = append(notices, notice{t.Name, t.Problem})
		case t.Added.Known:
			known++
		default:
			taken++
		}
	}
	return taken, known, notices
}

// Taken is what became of one document that was sent: it is on the shelf, or Problem says why not and what to do.
type Taken struct {
	Name    string       `json:"name"`
	Added   *shelf.Added `json:"added,omitempty"`
	Problem string       `json:"problem,omitempty"`
}

// Take puts a document on the shelf, or every document of a ZIP, and queues them for reading. product is the product it
// is a sheet of, "" when that is to be found. The same document is taken once.
func (a *App) Take(ctx context.Context, by, name string, r io.Reader, product string) []Taken {
	data, err := io.ReadAll(io.LimitReader(r, maxArchiveBytes+1))
	switch {
	case err != nil:
		return []Taken{{Name: name, Problem: "The upload broke off before it was complete. Nothing of this document was kept; send it again."}}
	case isArchive(name, data) && len(data) <= maxArchiveBytes:
		return a.takeArchive(ctx, by, name, data)
	case len(data) > judge.MaxDocumentBytes:
		return []Taken{{Name: name, Problem: fmt.Sprintf("The document is larger than %d MB. A safety data sheet is rarely over 5 MB: check that it is the right file, or print it to a smaller PDF.", judge.MaxDocumentBytes>>20)}}
	}
	return []Taken{a.take(ctx, by, name, data, product)}
}

func (a *App) take(ctx context.Context, by, name string, data []byte, product string) Taken {
	added, err := a.shelf.AddDocument(ctx, by, name, data, product)
	if err != nil {
		return Taken{Name: name, Problem: wordsOf(err)}
	}
	return Taken{Name: name, Added: &added}
}

// Bounds of a ZIP: its bytes, the documents in it, and their bytes together.
const (
	maxArchiveBytes  = 1 << 30
	maxArchived      = 5000
	maxUnzippedBytes = 4 << 30
)

// takeArchive takes every document of a ZIP. What a file in it is called says nothing of where it goes: documents are kept
// by their checksum.
func (a *App) takeArchive(ctx context.Context, by, name string, data []byte) []Taken {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return []Taken{{Name: name, Problem: "The ZIP cannot be opened: it may not have been copied whole. Make it again, or send the documents themselves."}}
	}
	if len(z.File) > maxArchived {
		return []Taken{{Name: name, Problem: fmt.Sprintf("The ZIP holds %d files; %d are taken at a time. Make several.", len(z.File), maxArchived)}}
	}
	var out []Taken
	left := int64(maxUnzippedBytes)
	for _, f := range z.File {
		base := path.Base(strings.ReplaceAll(f.Name, `\`, "/"))
		if f.FileInfo().IsDir() || strings.HasPrefix(base, ".") || !slices.Contains(documentEndings(), strings.ToLower(path.Ext(base))) {
			continue
		}
		body, err := unzipped(f)
		if left -= int64(len(body)); err == nil && left < 0 {
			return append(out, Taken{Name: f.Name, Problem: fmt.Sprintf("The ZIP unpacks to more than %d MB; this document and those after it were not taken. Make several.", maxUnzippedBytes>>20)})
		}
		if err != nil {
			out = append(out, Taken{Name: f.Name, Problem: wordsOf(err)})
			continue
		}
		out = append(out, a.take(ctx, by, base, body, ""))
	}
	if len(out) == 0 {
		out = append(out, Taken{Name: name, Problem: "The ZIP holds no document of a kind that is read: PDF, HTML, Word or text."})
	}
	return out
}

func documentEndings() []string {
	return []string{".pdf", ".html", ".htm", ".docx", ".txt"}
}

// unzipped is one file of a ZIP, never more than the largest document.
func unzipped(f *zip.File) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, refused("It cannot be taken out of the ZIP: " + err.Error() + ".")
	}
	defer r.Close()
	body, err := io.ReadAll(io.LimitReader(r, judge.MaxDocumentBytes+1))
	if err != nil {
		return nil, refused("It is damaged inside the ZIP: " + err.Error() + ".")
	}
	return body, nil
}

func isArchive(name string, data []byte) bool {
	return strings.HasSuffix(strings.ToLower(name), ".zip") && strings.HasPrefix(string(data[:min(4, len(data))]), "PK")
}

// readingView is how far the reading in the background is.
type readingView struct {
	Open, Done, Failed, Settled, All, More int
	Lines                                  []readingLine
}

type readingLine struct{ Name, State string }

// batch remembers how many sheets were settled when the queue was last empty, so that the bar is of what was added since.
type batch struct {
	mu           sync.Mutex
	done, failed int
}

func (b *batch) since(done, failed, open int) (int, int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if open == 0 || done < b.done || failed < b.failed {
		b.done, b.failed = done, failed
	}
	return done - b.done, failed - b.failed
}

func (a *App) reading(ctx context.Context) (readingView, error) {
	p, err := a.shelf.Progress(ctx)
	if err != nil {
		return readingView{}, err
	}
	v := readingView{Open: p.Waiting + len(p.Reading)}
	v.Done, v.Failed = a.batch.since(p.Read, p.Failed+p.NoSheet, v.Open)
	v.Settled = v.Done + v.Failed
	v.All = v.Settled + v.Open
	for _, name := range p.Reading {
		v.Lines = append(v.Lines, readingLine{name, "is being read"})
	}
	v.More = p.Waiting
	return v, nil
}

// showReading is the part of the shelf's page that tells how far the reading is.
func showReading(a *App, v *visit) error {
	view, err := a.reading(v.ctx())
	if err != nil {
		return err
	}
	if !v.part() {
		return v.see("/", "")
	}
	v.w.Header().Set("X-Open", strconv.Itoa(view.Open))
	return a.showPart(v, "reading", view)
}

// cancelReading takes everything that waits out of the queue.
func cancelReading(a *App, v *visit) error {
	n, err := a.shelf.CancelReading(v.ctx(), v.by())
	if err != nil {
		return err
	}
	return v.see("/", plural(n, "document was", "documents were")+" taken out of the queue. They stay on the shelf and can be read again.")
}

// readAgain queues a document again.
func readAgain(a *App, v *visit) error {
	s, err := a.shelf.ReadAgain(v.ctx(), v.by(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	return v.see("/", s.FileName+" will be read again.")
}

// firstVisit tells whether nothing was ever put on the shelf or said about the workshop.
func (a *App) firstVisit(ctx context.Context) (bool, error) {
	seq, err := a.shelf.Seq(ctx)
	if err != nil {
		return false, err
	}
	if seq == 0 {
		return true, nil
	}
	settings, err := a.shelf.Settings(ctx)
	if err != nil || settings.Version > 0 {
		return false, err
	}
	return a.emptyShelf(ctx)
}

// emptyShelf tells whether neither a product nor a document is on the shelf.
func (a *App) emptyShelf(ctx context.Context) (bool, error) {
	products, err := a.shelf.Products(ctx, shelf.ProductFilter{Paging: shelf.Paging{Limit: 1}})
	if err != nil || products.Total > 0 {
		return false, err
	}
	p, err := a.shelf.Progress(ctx)
	return p.Waiting+len(p.Reading)+p.Read+p.NoSheet+p.Failed+p.Stopped == 0, err
}

type welcomeView struct {
	Who  string
	Demo bool
}

func (a *App) showWelcome(v *visit) error {
	return a.show(v, http.StatusOK, screen{title: "Welcome", here: "shelf", name: "welcome", value: welcomeView{Who: v.who.Name, Demo: a.demo != nil}})
}

// begin takes the answers of the welcome page.
func begin(a *App, v *visit) error {
	if v.who.ID == "" && v.form("who") != "" {
		v.who.Name = v.form("who")
		nameItself(v.w, v.who.Name)
	}
	settings, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	if name := v.form("workshop"); name != "" || settings.Version == 0 {
		settings.Workshop = name
		if settings, err = a.shelf.EditSettings(v.ctx(), v.by(), settings); err != nil {
			return err
		}
	}
	if v.form("begin") != "demo" || a.demo == nil {
		return v.see("/", "The shelf is yours. Drop the first sheet on it.")
	}
	if err := a.demo(v.ctx(), a.shelf, v.by()); err != nil {
		return err
	}
	return v.see("/", "The demo workshop is being put on the shelf. Everything in it is invented.")
}

// nav is the navigation; here is the part that is shown.
func nav(here string) []navEntry {
	entries := []navEntry{{Title: "Shelf", Href: "/"}, {Title: "Jobs", Href: "/jobs"}, {Title: "Compare", Href: "/compare"}, {Title: "Questions", Href: "/questions"},
		{Title: "Papers", Href: "/papers"}, {Title: "Places", Href: "/places"}, {Title: "Own blends", Href: "/blends"}, {Title: "Settings", Href: "/settings", Apart: true}, {Title: "Help", Href: "/help"}}
	for i := range entries {
		name := strings.TrimPrefix(entries[i].Href, "/")
		entries[i].Here = name == here || name == "" && here == "shelf"
	}
	return entries
}

// placeName is the name of the workshop, "" when none is said or it cannot be read.
func (a *App) placeName(ctx context.Context) string {
	s, err := a.shelf.Settings(ctx)
	if err != nil {
		a.log.Error("settings cannot be read", "error", err)
		return ""
	}
	return s.Workshop
}
