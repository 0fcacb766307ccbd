package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"mime"
	"net/http"
	"net/url"
	"strings"
	"time"

	"sixteen/judge"
	"sixteen/shelf"
)

// Limits of one request.
const (
	maxUploadBytes = 2 << 30  // documents of one upload together
	maxFormBytes   = 2 << 20  // a form without documents
	maxPhotoBytes  = 40 << 20 // a form with one photograph
)

// Options of an App. Shelf and Desk are needed.
type Options struct {
	Shelf   *shelf.Shelf
	Desk    *judge.Desk
	Guard   Guard                                                      // nil: Alone, for a server that only this machine can reach
	Hosts   []string                                                   // names the server answers to besides those of loopback
	HTTPS   bool                                                       // readers reach the server by https
	Mount   map[string]http.Handler                                    // further handlers by path ("/api/"), behind the same middleware; they guard themselves
	Demo    func(ctx context.Context, s *shelf.Shelf, by string) error // fills the shelf with the demo workshop; nil: it is not offered
	Version string                                                     // of the program, shown under Settings
	Log     *slog.Logger                                               // what goes wrong on this side; nil for none
	Now     func() time.Time                                           // the clock; nil for time.Now
}

// App is the web application on one shelf.
type App struct {
	shelf   *shelf.Shelf
	desk    *judge.Desk
	guard   Guard
	demo    func(context.Context, *shelf.Shelf, string) error
	log     *slog.Logger
	now     func() time.Time
	hosts   []string
	https   bool
	mount   map[string]http.Handler
	batch   batch
	answers answers
	storage lasting[[]shelf.PlaceTotals]
	dues    lasting[[]dueView]
	choices lasting[shelfChoices]
	version string
}

// New makes the application.
func New(o Options) *App {
	a := &App{shelf: o.Shelf, desk: o.Desk, guard: o.Guard, demo: o.Demo, log: o.Log, now: o.Now, hosts: o.Hosts, https: o.HTTPS, mount: o.Mount, version: o.Version}
	if a.guard == nil {
		a.guard = Alone{}
	}
	if a.log == nil {
		a.log = slog.New(slog.DiscardHandler)
	}
	if a.now == nil {
		a.now = time.Now
	}
	return a
}

// Handler is everything the server answers.
func (a *App) Handler() http.Handler {
	mux := http.NewServeMux()
	for _, r := range Routes() {
		mux.Handle(r.Method+" "+r.Path, a.serve(r))
	}
	mux.Handle("GET /assets/", http.StripPrefix("/assets/", assetHandler()))
	mux.HandleFunc("GET /pictograms/{code}", showPictogram)
	for path, h := range a.mount {
		mux.Handle(path, h)
	}
	mux.Handle("/", a.serve(Route{Need: Anyone, Serve: func(*App, *visit) error {
		return missing("There is no page at this address. Go back to the shelf.")
	}}))
	return secured(a.https, named(a.hosts, http.NewCrossOriginProtection().Handler(mux)))
}

// visit is one request on its way to a screen.
type visit struct {
	w   http.ResponseWriter
	r   *http.Request
	who Person
}

func (v *visit) ctx() context.Context { return v.r.Context() }

// part tells whether only the changing part of a page is asked for.
func (v *visit) part() bool { return v.r.Header.Get("X-Part") != "" }

// by is the name that is kept with what the person does.
func (v *visit) by() string {
	if v.who.Name == "" {
		return "unnamed person"
	}
	return v.who.Name
}

// form is the value of a field, without blanks at its ends.
func (v *visit) form(name string) string { return strings.TrimSpace(v.r.FormValue(name)) }

// parseForm reads a form in either of the two forms that browsers send.
func (v *visit) parseForm() error {
	if err := v.r.ParseMultipartForm(maxFormBytes); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		return tooLarge(err, maxFormBytes)
	}
	return nil
}

// saidCookie keeps a sentence for the next page. It travels in a cookie and not in the address, so that a link from elsewhere
// cannot put words on a page.
const saidCookie = "said"

// see sends the reader on to another page, with a sentence that is shown there once.
func (v *visit) see(path, said string) error {
	if said != "" {
		http.SetCookie(v.w, &http.Cookie{Name: saidCookie, Value: url.QueryEscape(said), Path: "/", MaxAge: 60, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	}
	http.Redirect(v.w, v.r, path, http.StatusSeeOther)
	return nil
}

// takeSaid is the sentence kept for this page, which is then forgotten; "" when there is none. A script that only passes the
// page on (X-Unseen) leaves it for the page that the reader sees.
func (v *visit) takeSaid() string {
	c, err := v.r.Cookie(saidCookie)
	if err != nil || v.r.Header.Get("X-Unseen") != "" {
		return ""
	}
	http.SetCookie(v.w, &http.Cookie{Name: saidCookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteStrictMode})
	said, err := url.QueryUnescape(c.Value)
	if err != nil || len(said) > 500 {
		return ""
	}
	return said
}

// serve answers a route: the guard first, then the screen, and a page for what went wrong.
func (a *App) serve(route Route) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		v := &visit{w: w, r: r}
		if r.Method == http.MethodPost {
			r.Body = http.MaxBytesReader(w, r.Body, route.bodyLimit())
		}
		form := formErr(r)
		if route.Need > Anyone {
			var ok bool
			if v.who, ok = a.guard.Admit(w, r, route.Need); !ok {
				return
			}
		}
		if form != nil {
			a.fail(v, form)
			return
		}
		if err := route.Serve(a, v); err != nil {
			a.fail(v, err)
		}
	})
}

// formErr reads a form without documents, so that one that is too large or broke off is said to be so: the fields that were
// not read would else be taken as left empty.
func formErr(r *http.Request) error {
	if kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type")); r.Method != http.MethodPost || kind != "application/x-www-form-urlencoded" {
		return nil
	}
	var m *http.MaxBytesError
	err := r.ParseForm()
	if errors.As(err, &m) {
		return tooLarge(err, m.Limit)
	}
	if err != nil {
		return refused("The form that was sent cannot be read. Go back, load the page again and send it from there.")
	}
	return nil
}

// fail shows what went wrong and what to do.
func (a *App) fail(v *visit, err error) {
	if v.ctx().Err() != nil {
		return // the reader went away
	}
	status, what := statusOf(err)
	if status >= 500 {
		a.log.Error("a page failed", "path", v.r.URL.Path, "error", err)
	}
	if v.part() {
		send(v.w, v.r, status, "text/plain; charset=utf-8", []byte(what))
		return
	}
	if err := a.show(v, status, screen{title: "This did not work", name: "failure", value: what}); err != nil {
		http.Error(v.w, what, status)
	}
}

// screen is what a page is made of: its title, the entry of the navigation it belongs to, its template and its value.
type screen struct {
	title, here, name string
	value             any
}

// show sends a page.
func (a *App) show(v *visit, status int, s screen) error {
	p := page{Title: s.title, V: s.value, Person: v.who, Token: a.guard.Token(v.r), Theme: themeOf(v.r), Find: v.r.URL.Query().Get("q"),
		Message: v.takeSaid(), Back: v.r.URL.RequestURI()}
	if v.r.Method != http.MethodGet {
		p.Back = "/"
	}
	if v.who.Role >= Read {
		p.Nav, p.Place = nav(s.here), a.placeName(v.ctx())
	}
	var buf bytes.Buffer
	if err := renderPage(&buf, p, s.name); err != nil {
		return err
	}
	send(v.w, v.r, status, "text/html; charset=utf-8", buf.Bytes())
	return nil
}

// showPart sends only a template, for a page that puts it in its place.
func (a *App) showPart(v *visit, name string, value any) error {
	var buf bytes.Buffer
	if err := templates.ExecuteTemplate(&buf, name, value); err != nil {
		return fmt.Errorf("part %s: %w", name, err)
	}
	send(v.w, v.r, http.StatusOK, "text/html; charset=utf-8", buf.Bytes())
	return nil
}

func themeOf(r *http.Request) string {
	c, err := r.Cookie("theme")
	if err == nil && (c.Value == "light" || c.Value == "dark") {
		return c.Value
	}
	return ""
}

// setTheme keeps light, dark, or as the machine is set.
func setTheme(_ *App, v *visit) error {
	theme := v.form("theme")
	c := &http.Cookie{Name: "theme", Value: theme, Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode}
	if theme != "light" && theme != "dark" {
		c.Value, c.MaxAge = "", -1
	}
	http.SetCookie(v.w, c)
	return v.see(inside(v.form("back")), "")
}

// inside is a path of this server, "/" when it is anything else. Browsers leave out control characters in an address, so
// that "/", a tab and "/" would lead elsewhere.
func inside(path string) string {
	control := func(r rune) bool { return r < ' ' || r == 0x7f }
	if !strings.HasPrefix(path, "/") || strings.HasPrefix(path, "//") || strings.Contains(path, "\\") || strings.ContainsFunc(path, control) {
		return "/"
	}
	return path
}

// tooLarge says in words that a body was larger than allowed.
func tooLarge(err error, limit int64) error {
	var m *http.MaxBytesError
	if errors.As(err, &m) {
		return &trouble{http.StatusRequestEntityTooLarge, fmt.Sprintf("What was sent is larger than %d MB. Send less at a time.", limit>>20)}
	}
	return refused("What was sent broke off before it was complete. Send it again.")
}
