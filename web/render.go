package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"

	"sixteen/ghs"
)

//go:embed assets pages
var files embed.FS

// assetVersion changes when any asset does, so that browsers may keep assets for as long as they like.
var assetVersion = func() string {
	sum := sha256.New()
	err := fs.WalkDir(files, "assets", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		raw, err := files.ReadFile(path)
		sum.Write(raw)
		return err
	})
	if err != nil {
		panic(err) // the folder is embedded
	}
	return hex.EncodeToString(sum.Sum(nil)[:6])
}()

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"asset":     func(name string) string { return "/assets/" + name + "?v=" + assetVersion },
	"day":       dayShown,
	"pictogram": func(p ghs.Pictogram) template.HTML { return template.HTML(ghs.PictogramSVG(p)) },
	"plural":    plural,
	"join":      strings.Join,
	"seq":       func(a, b string) bool { return a == b },
	"number":    number,
	"query":     url.QueryEscape,
	"rows":      rows,
}).ParseFS(files, "pages/*.html"))

// rows pairs a value with the page it is shown on, for templates that need both.
func rows(v ...any) []any { return v }

func dayShown(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	return t.Format("2006-01-02")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// number is a figure with three digits that count.
func number(v float64) string {
	switch {
	case v == 0:
		return "0"
	case v >= 1000 || v <= -1000:
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	s := strconv.FormatFloat(v, 'g', 3, 64)
	if strings.Contains(s, "e") {
		s = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return s
}

// styleElement is a style inside a drawing. The content policy forbids it; pages give the drawing its ink instead.
var styleElement = regexp.MustCompile(`(?s)<style>.*?</style>`)

// drawing is an SVG made by this program, to be put into a page.
func drawing(svg []byte) template.HTML {
	s := string(styleElement.ReplaceAll(svg, nil))
	if i := strings.Index(s, "<svg"); i > 0 {
		s = s[i:] // no XML declaration inside a page
	}
	return template.HTML(s)
}

// page is everything a template sees: the frame, and V, the value of the screen.
type page struct {
	Title   string
	Place   string // of the shelf, shown beside the name
	Theme   string // "light", "dark" or "": as the machine is set
	Nav     []navEntry
	Token   string
	Person  Person
	Back    string // where to go after a small setting
	Find    string
	Message string // what was done, after a redirect
	Inline  bool
	CSS     template.CSS
	JS      template.JS
	Body    template.HTML
	V       any
}

// navEntry is one entry of the navigation.
type navEntry struct {
	Title, Href string
	Count       int
	Here, Apart bool
}

func renderPage(w io.Writer, p page, name string) error {
	var body bytes.Buffer
	if err := templates.ExecuteTemplate(&body, name, p); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	p.Body = template.HTML(body.String())
	return templates.ExecuteTemplate(w, "frame", p)
}

// send writes a finished answer, compressed when the reader takes that and it is worth it.
func send(w http.ResponseWriter, r *http.Request, status int, kind string, body []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Add("Vary", "Accept-Encoding")
	if len(body) < 2048 || !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		w.WriteHeader(status)
		_, _ = w.Write(body) // the reader may have gone away; nothing is to be done then
		return
	}
	w.Header().Set("Content-Encoding", "gzip")
	w.WriteHeader(status)
	z, err := gzip.NewWriterLevel(w, gzip.BestSpeed)
	if err != nil {
		panic(err) // the level is a constant
	}
	_, _ = z.Write(body) // as above
	_ = z.Close()
}

func assetHandler() http.Handler {
	sub, err := fs.Sub(files, "assets")
	if err != nil {
		panic(err) // the folder is embedded
	}
	serve := http.FileServerFS(sub)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
		serve.ServeHTTP(w, r)
	})
}

// showPictogram is one of the standard's pictograms as a picture, for lists that show many.
func showPictogram(w http.ResponseWriter, r *http.Request) {
	p, ok := ghs.ParsePictogram(strings.TrimSuffix(r.PathValue("code"), ".svg"))
	if !ok || p == ghs.NoPictogram {
		http.Error(w, "There is no such pictogram.", http.StatusNotFound)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=604800")
	send(w, r, http.StatusOK, "image/svg+xml", ghs.PictogramSVG(p))
}
