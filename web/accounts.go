package web

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"io"
	"log/slog"
	"mime"
	"mime/multipart"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"sixteen/shelf"
)

// Errors of Entrance.Enter.
var (
	ErrSignedOut = errors.New("nobody is signed in")
	ErrFormToken = errors.New("the request does not carry the form token of the session")
)

// Entrance finds who is behind a request of a program, without answering it. Alone and *Accounts are entrances.
type Entrance interface {
	// Enter finds the person by a bearer token or a session. A request that changes something in a session carries the
	// form token in the header FormTokenHeader. It fails with ErrSignedOut and ErrFormToken.
	Enter(r *http.Request) (Person, error)
}

// FormTokenHeader carries the form token of requests that are no forms.
const FormTokenHeader = "X-Form-Token"

// Enter lets everybody pass.
func (a Alone) Enter(r *http.Request) (Person, error) {
	p, _ := a.Admit(nil, r, Manage)
	return p, nil
}

// AccountsOptions say where requests come from.
type AccountsOptions struct {
	HTTPS   bool         // readers reach the server by https
	Proxied bool         // all requests come through a proxy that says whose they are in X-Forwarded-For
	Log     *slog.Logger // what goes wrong on this side; nil for none
}

// Accounts is the guard of a server that several people use: each signs in with a password and has a role. A session is a
// random token in a cookie that scripts and other sites cannot read; the shelf keeps its hash. Every form carries a second
// token that is derived from the first, so that a form made elsewhere is refused even where the browser sends the cookie.
type Accounts struct {
	shelf   *shelf.Shelf
	https   bool
	proxied bool
	log     *slog.Logger
	pace    *pace
}

// NewAccounts makes the guard of a shelf with users.
func NewAccounts(s *shelf.Shelf, o AccountsOptions) *Accounts {
	g := &Accounts{shelf: s, https: o.HTTPS, proxied: o.Proxied, log: o.Log, pace: newPace()}
	if g.log == nil {
		g.log = slog.New(slog.DiscardHandler)
	}
	return g
}

// cookieName is that of the session. Behind https it has the prefix with which browsers take it from this host only.
func (g *Accounts) cookieName() string {
	if g.https {
		return "__Host-session"
	}
	return "session"
}

func (g *Accounts) cookie(value string, maxAge int) *http.Cookie {
	return &http.Cookie{Name: g.cookieName(), Value: value, Path: "/", MaxAge: maxAge, HttpOnly: true, Secure: g.https, SameSite: http.SameSiteStrictMode}
}

// secret is the token of the session a request names, "" when it names none.
func (g *Accounts) secret(r *http.Request) string {
	c, err := r.Cookie(g.cookieName())
	if err != nil || len(c.Value) > 200 {
		return ""
	}
	return c.Value
}

// session is the person of a request's session. It fails with ErrSignedOut.
func (g *Accounts) session(r *http.Request) (Person, error) {
	secret := g.secret(r)
	if secret == "" {
		return Person{}, ErrSignedOut
	}
	in, err := g.shelf.SessionOf(r.Context(), secret)
	if errors.Is(err, shelf.ErrRefused) {
		return Person{}, ErrSignedOut
	}
	return personOfUser(in.User), err
}

func personOfUser(u shelf.User) Person {
	p := Person{ID: u.ID, Name: u.Name}
	switch u.Role {
	case shelf.MayManage:
		p.Role = Manage
	case shelf.MayWork:
		p.Role = Work
	case shelf.MayRead:
		p.Role = Read
	}
	return p
}

// Token is the form token of the session: a keyed hash, so that neither gives the other away.
func (g *Accounts) Token(r *http.Request) string {
	secret := g.secret(r)
	if secret == "" {
		return ""
	}
	mac := hmac.New(sha256.New, []byte(secret))
	mac.Write([]byte(FormToken))
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil))
}

// changes tells whether a method is one that may change something (RFC 9110 §9.2.1).
func changes(method string) bool {
	return method != http.MethodGet && method != http.MethodHead && method != http.MethodOptions
}

func (g *Accounts) fits(r *http.Request, given string) bool {
	want := g.Token(r)
	return want != "" && subtle.ConstantTimeCompare([]byte(want), []byte(given)) == 1
}

// Enter finds the person by a bearer token, else by the session.
func (g *Accounts) Enter(r *http.Request) (Person, error) {
	if kind, secret, ok := strings.Cut(r.Header.Get("Authorization"), " "); ok && strings.EqualFold(kind, "Bearer") {
		u, _, err := g.shelf.Bearer(r.Context(), strings.TrimSpace(secret))
		if errors.Is(err, shelf.ErrRefused) {
			return Person{}, ErrSignedOut
		}
		return personOfUser(u), err
	}
	p, err := g.session(r)
	if err == nil && changes(r.Method) && !g.fits(r, r.Header.Get(FormTokenHeader)) {
		return Person{}, ErrFormToken
	}
	return p, err
}

// Admit finds the person behind a request for a page. Who is not signed in is sent to sign in; who may not do something, or
// sends a form that is not of their session, is told so.
func (g *Accounts) Admit(w http.ResponseWriter, r *http.Request, need Role) (Person, bool) {
	p, err := g.session(r)
	switch {
	case errors.Is(err, ErrSignedOut):
		g.askToSignIn(w, r)
		return p, false
	case err != nil:
		g.log.Error("a session could not be looked up", "error", err)
		g.turnAway(w, r, p, http.StatusServiceUnavailable, "Who you are could not be looked up. Try again.")
		return p, false
	case changes(r.Method) && !g.fits(r, formToken(r)):
		g.refused(r, p, "form token missing or of another session")
		g.turnAway(w, r, p, http.StatusForbidden, "This form is not of your session, which may have ended meanwhile. Go back, load the page again and send it from there.")
		return p, false
	case p.Role < need:
		if changes(r.Method) {
			g.refused(r, p, "may not "+need.String())
		}
		g.turnAway(w, r, p, http.StatusForbidden, "This needs somebody who may "+need.String()+"; you may "+p.Role.String()+". Ask somebody who may manage the shelf.")
		return p, false
	}
	return p, true
}

// turnAway says why a request was not let in: as a page to a reader, as words alone to a script.
func (g *Accounts) turnAway(w http.ResponseWriter, r *http.Request, who Person, status int, words string) {
	p := page{Title: "Not let in", V: words, Person: who, Theme: themeOf(r), Back: "/"}
	if who.Role >= Read {
		p.Nav, p.Token = nav(""), g.Token(r)
	}
	var buf bytes.Buffer
	if err := renderPage(&buf, p, "failure"); err != nil || r.Header.Get("X-Part") != "" {
		http.Error(w, words, status)
		return
	}
	send(w, r, status, "text/html; charset=utf-8", buf.Bytes())
}

// refused keeps a refusal in the trail.
func (g *Accounts) refused(r *http.Request, p Person, why string) {
	u := shelf.User{Record: shelf.Record{ID: p.ID}, Name: p.Name}
	if err := g.shelf.Refused(r.Context(), u, r.Method+" "+r.URL.Path+": "+why); err != nil && r.Context().Err() == nil {
		g.log.Error("a refusal could not be written down", "error", err)
	}
}

// askToSignIn sends a reader to the page for signing in, and tells a program.
func (g *Accounts) askToSignIn(w http.ResponseWriter, r *http.Request) {
	if g.secret(r) != "" {
		http.SetCookie(w, g.cookie("", -1))
	}
	if changes(r.Method) || r.Header.Get("X-Part") != "" {
		g.turnAway(w, r, Person{}, http.StatusUnauthorized, "You are not signed in, or no longer. Sign in on another page and send this again.")
		return
	}
	to := "/sign-in"
	if back := inside(r.URL.RequestURI()); back != "/" {
		to += "?back=" + url.QueryEscape(back)
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// tokenWithin is how far into a form with documents the token is looked for: it stands before them.
const tokenWithin = 64 << 10

// formToken is the token that a form carries. A form with documents is read only as far as the token, which stands before
// them, and put together again, so that what follows can still be taken as it comes.
func formToken(r *http.Request) string {
	if t := r.Header.Get(FormTokenHeader); t != "" {
		return t
	}
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		return r.PostFormValue(FormToken)
	}
	var seen bytes.Buffer
	body := r.Body
	form := multipart.NewReader(io.TeeReader(io.LimitReader(body, tokenWithin), &seen), params["boundary"])
	found := ""
	for {
		part, err := form.NextPart()
		if err != nil || part.FileName() != "" {
			break
		}
		if part.FormName() == FormToken {
			value, err := io.ReadAll(io.LimitReader(part, 200))
			if err == nil {
				found = string(value)
			}
			break
		}
	}
	r.Body = struct {
		io.Reader
		io.Closer
	}{io.MultiReader(&seen, body), body}
	return found
}

// origin is the address a request comes from; addresses of IPv6 by their first half, which is what one household has.
func (g *Accounts) origin(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	if g.proxied {
		all := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
		if last := strings.TrimSpace(all[len(all)-1]); last != "" {
			host = last // the one that the own proxy wrote; those before it are what the caller claims
		}
	}
	ip, err := netip.ParseAddr(host)
	if err != nil {
		return "unknown"
	}
	ip = ip.Unmap().WithZone("")
	if ip.Is6() {
		if net, err := ip.Prefix(64); err == nil {
			return net.String()
		}
	}
	return ip.String()
}

// signIn opens a session and ends the one the browser had, so that nobody can hand a browser a session beforehand. It
// fails with shelf.ErrRefused and shelf.ErrTooMany.
func (g *Accounts) signIn(ctx context.Context, w http.ResponseWriter, r *http.Request, name, password string) error {
	origin := g.origin(r)
	release, err := g.pace.enter(ctx, origin, strings.ToLower(name))
	if err != nil {
		return err
	}
	defer release()
	in, err := g.shelf.Login(ctx, name, password, origin, cut(r.UserAgent(), 200))
	if err != nil {
		return err
	}
	if before := g.secret(r); before != "" {
		if err := g.shelf.Logout(ctx, before); err != nil {
			return err
		}
	}
	http.SetCookie(w, g.cookie(in.Token, int(in.Expires.Sub(in.Begun).Seconds())))
	return nil
}

// signOut ends the session of a request.
func (g *Accounts) signOut(w http.ResponseWriter, r *http.Request) error {
	http.SetCookie(w, g.cookie("", -1))
	return g.shelf.Logout(r.Context(), g.secret(r))
}

func cut(s string, n int) string {
	if len(s) > n {
		return s[:n]
	}
	return s
}
