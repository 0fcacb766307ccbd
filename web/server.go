package web

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"image/png"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"sixteen/judge"
)

// Limits of one running server. Documents live in memory only.
const (
	maxDocumentBytes = judge.MaxDocumentBytes
	maxUploadBytes   = 200 << 20 // one request
	maxHeldBytes     = 1 << 30   // all documents together
	pageDPI          = 110
)

// Server shows the judgements of documents that it was given or that were dropped on its page. It keeps them in memory
// until it ends.
type Server struct {
	desk *judge.Desk

	reading atomic.Int64 // documents announced and not yet judged

	mu      sync.Mutex
	entries []*entry // in the order they came
	held    int64
}

// entry is one document on the bench with its judgement, or the reason why there is none.
type entry struct {
	id        string
	name      string
	data      []byte
	judgement *judge.Judgement
	failure   string

	pages sync.Map // page number → PNG bytes
}

// NewServer makes a server that judges documents at desk.
func NewServer(desk *judge.Desk) *Server { return &Server{desk: desk} }

// Expect announces n documents that will be added, so that the list can say that they are still being read.
func (s *Server) Expect(n int) { s.reading.Add(int64(n)) }

// Arrived takes one announced document off, whether it could be added or not.
func (s *Server) Arrived() { s.reading.Add(-1) }

// Add judges one document and puts it on the bench. A document that could not be read is kept in the list with the
// reason. Adding the same bytes again changes nothing.
func (s *Server) Add(ctx context.Context, name string, data []byte) (id string, err error) {
	sum := sha256.Sum256(data)
	id = hex.EncodeToString(sum[:8])
	if s.find(id) != nil {
		return id, nil
	}
	e := &entry{id: id, name: filepath.Base(name), data: data}
	e.judgement, err = s.desk.Judge(ctx, e.name, data, judge.Request{})
	if err != nil {
		if ctx.Err() != nil {
			return "", ctx.Err()
		}
		e.failure, e.data = err.Error(), nil
	}
	return id, s.put(e)
}

// AddJudged puts a document on the bench that was judged before.
func (s *Server) AddJudged(name string, data []byte, j *judge.Judgement) error {
	sum := sha256.Sum256(data)
	return s.put(&entry{id: hex.EncodeToString(sum[:8]), name: filepath.Base(name), data: data, judgement: j})
}

func (s *Server) put(e *entry) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.held+int64(len(e.data)) > maxHeldBytes {
		return fmt.Errorf("the bench holds %d MB of documents, which is its limit: end the program and start it again with fewer", s.held>>20)
	}
	for _, have := range s.entries {
		if have.id == e.id {
			return nil
		}
	}
	s.entries = append(s.entries, e)
	s.held += int64(len(e.data))
	return nil
}

func (s *Server) find(id string) *entry {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, e := range s.entries {
		if e.id == id {
			return e
		}
	}
	return nil
}

func (s *Server) list() []*entry {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]*entry(nil), s.entries...)
}

// Handler is the web application: the list, one judgement, page pictures, and the upload.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.showList)
	mux.HandleFunc("POST /sheets", s.upload)
	mux.HandleFunc("GET /sheets/{id}", s.showJudgement)
	mux.HandleFunc("GET /sheets/{id}/json", s.showJSON)
	mux.HandleFunc("GET /sheets/{id}/pages/{page}", s.showPage)
	mux.Handle("GET /assets/", http.StripPrefix("/assets/", assetHandler()))
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, http.StatusNotFound, "There is no page at this address. Go back to the list of sheets.")
	})
	return guard(http.NewCrossOriginProtection().Handler(mux))
}

// guard sets the security headers and refuses names that do not belong to this machine, so that a foreign page cannot
// reach the server by pointing its own name at the loopback address.
func guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		host := r.Host
		if name, _, err := net.SplitHostPort(host); err == nil {
			host = name
		}
		if ip := net.ParseIP(strings.Trim(host, "[]")); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			http.Error(w, "This server answers only to the name of this machine's loopback address.", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *Server) showList(w http.ResponseWriter, r *http.Request) {
	s.renderList(w, http.StatusOK, nil)
}

func (s *Server) renderList(w http.ResponseWriter, status int, notices []notice) {
	writePage(w, status, "All sheets", "", "list", listView(s.list(), notices, int(s.reading.Load())))
}

func (s *Server) upload(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, maxUploadBytes)
	mr, err := r.MultipartReader()
	if err != nil {
		s.renderList(w, http.StatusBadRequest, []notice{{"Upload", "No document came with the request. Choose a file and send it again."}})
		return
	}
	var notices []notice
	last, count := "", 0
	for {
		part, err := mr.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			notices = append(notices, notice{"Upload", uploadError(err)})
			break
		}
		id, n := s.receive(r.Context(), part)
		notices = append(notices, n...)
		if id != "" {
			last, count = id, count+1
		}
	}
	switch {
	case len(notices) > 0:
		s.renderList(w, http.StatusUnprocessableEntity, notices)
	case count == 0:
		s.renderList(w, http.StatusBadRequest, []notice{{"Upload", "No document came with the request. Choose a file and send it again."}})
	case count == 1:
		http.Redirect(w, r, "/sheets/"+last, http.StatusSeeOther)
	default:
		http.Redirect(w, r, "/", http.StatusSeeOther)
	}
}

// receive reads and judges one uploaded document. It returns the entry's id, or notices that say what is wrong.
func (s *Server) receive(ctx context.Context, part *multipart.Part) (string, []notice) {
	name := part.FileName()
	if name == "" {
		return "", nil
	}
	data, err := io.ReadAll(io.LimitReader(part, maxDocumentBytes+1))
	if err != nil {
		return "", []notice{{name, uploadError(err)}}
	}
	if len(data) > maxDocumentBytes {
		return "", []notice{{name, fmt.Sprintf("The document is larger than %d MB. A safety data sheet is rarely over 5 MB: check that it is the right file, or print it to a smaller PDF.", maxDocumentBytes>>20)}}
	}
	id, err := s.Add(ctx, name, data)
	if err != nil {
		return "", []notice{{name, err.Error()}}
	}
	if e := s.find(id); e != nil && e.failure != "" {
		return "", []notice{{name, e.failure}}
	}
	return id, nil
}

func uploadError(err error) string {
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		return fmt.Sprintf("One upload may hold %d MB at most. Send fewer documents at a time.", maxUploadBytes>>20)
	}
	return "The upload broke off before it was complete. Nothing of this document was kept; send it again."
}

func (s *Server) showJudgement(w http.ResponseWriter, r *http.Request) {
	e := s.find(r.PathValue("id"))
	if e == nil {
		s.fail(w, http.StatusNotFound, "This sheet is not on the bench (any more). Drop it again on the list of sheets.")
		return
	}
	if e.judgement == nil {
		s.fail(w, http.StatusUnprocessableEntity, e.failure)
		return
	}
	v := judgementView(e.judgement, func(n int) string { return fmt.Sprintf("/sheets/%s/pages/%d.png", e.id, n) }, pageDPI)
	writePage(w, http.StatusOK, v.Product, e.name, "judgement", v)
}

func (s *Server) showJSON(w http.ResponseWriter, r *http.Request) {
	e := s.find(r.PathValue("id"))
	if e == nil || e.judgement == nil {
		s.fail(w, http.StatusNotFound, "This sheet is not on the bench (any more). Drop it again on the list of sheets.")
		return
	}
	w.Header().Set("Content-Type", "application/json")
	if err := e.judgement.WriteJSON(w); err != nil {
		return // the reader went away
	}
}

func (s *Server) showPage(w http.ResponseWriter, r *http.Request) {
	e := s.find(r.PathValue("id"))
	n, err := strconv.Atoi(strings.TrimSuffix(r.PathValue("page"), ".png"))
	if e == nil || err != nil || e.judgement == nil || n < 1 || n > len(e.judgement.Sheet.Source.Pages) {
		s.fail(w, http.StatusNotFound, "There is no such page.")
		return
	}
	picture, ok := e.pages.Load(n)
	if !ok {
		img, err := s.desk.RenderPage(r.Context(), e.data, n, pageDPI)
		if err != nil {
			s.fail(w, http.StatusInternalServerError, "This page could not be drawn: "+err.Error())
			return
		}
		var buf bytes.Buffer
		if err := png.Encode(&buf, img); err != nil {
			s.fail(w, http.StatusInternalServerError, "This page could not be drawn: "+err.Error())
			return
		}
		picture = buf.Bytes()
		e.pages.Store(n, picture)
	}
	w.Header().Set("Content-Type", "image/png")
	w.Header().Set("Cache-Control", "private, max-age=3600")
	_, _ = w.Write(picture.([]byte)) // the reader may have gone away; nothing is to be done then
}

func (s *Server) fail(w http.ResponseWriter, status int, what string) {
	writePage(w, status, http.StatusText(status), "", "failure", what)
}

// frameView is what every page shares.
type frameView struct {
	Title, Crumb string
	Inline       bool
	CSS          template.CSS
	JS           template.JS
	Body         template.HTML
}

func writePage(w http.ResponseWriter, status int, title, crumb, name string, view any) {
	var buf bytes.Buffer
	if err := renderPage(&buf, frameView{Title: title, Crumb: crumb}, name, view); err != nil {
		http.Error(w, "This page could not be made: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(buf.Bytes()) // the reader may have gone away; nothing is to be done then
}
