package web

import (
	"net"
	"net/http"
	"net/url"
	"strings"
)

// Role is what a person may do. Each role includes those before it.
type Role uint8

// Roles.
const (
	Anyone Role = iota // no person needed: styles, the script, signing in
	Read               // look at everything and print it
	Work               // add sheets, correct, overrule, plan jobs, make papers
	Manage             // settings, users, backup, restore, taking away
)

// String is the role as a word.
func (r Role) String() string {
	return [...]string{"anyone", "read", "work", "manage"}[min(r, Manage)]
}

// Person is who acts in a request.
type Person struct {
	ID   string // "" on loopback, where there is one person without an account
	Name string // kept with everything the person does; "" when not asked for yet
	Role Role
}

// Guard decides who is behind a request.
type Guard interface {
	// Admit finds the person behind a request to a route that needs a role. When nobody may pass it has answered the
	// request itself, and ok is false. Requests that change something carry the value of Token in the field FormToken: of
	// the form, or of the address where the form carries documents, whose body Admit must not read. Parts of a page asked
	// for by the script send the form with its field.
	Admit(w http.ResponseWriter, r *http.Request, need Role) (p Person, ok bool)
	// Token is what this person's forms carry, "" when they need none.
	Token(r *http.Request) string
}

// FormToken is the name of the hidden field of every form, which Admit compares with Token.
const FormToken = "form_token"

// Alone is the guard of a server that only this machine can reach: one person who may do everything. The name that is
// kept with what the person does is what they gave on the welcome page or in the settings, else Account. Forms from
// foreign pages are refused by where they come from.
type Alone struct {
	Account string // of the operating system
}

// Admit lets everybody pass.
func (a Alone) Admit(_ http.ResponseWriter, r *http.Request, _ Role) (Person, bool) {
	p := Person{Name: a.Account, Role: Manage}
	if c, err := r.Cookie(nameCookie); err == nil {
		if name, err := url.QueryUnescape(c.Value); err == nil && name != "" {
			p.Name = name
		}
	}
	return p, true
}

// nameCookie keeps the name of the one person on loopback.
const nameCookie = "name"

// nameItself keeps the name that the one person on loopback gave.
func nameItself(w http.ResponseWriter, name string) {
	if len(name) > 80 {
		name = name[:80]
	}
	http.SetCookie(w, &http.Cookie{Name: nameCookie, Value: url.QueryEscape(name), Path: "/", MaxAge: 5 * 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}

// Token is "": the origin of the request decides.
func (Alone) Token(*http.Request) string { return "" }

// contentPolicy lets pages use nothing but what this server gives.
const contentPolicy = "default-src 'none'; img-src 'self' data:; style-src 'self'; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// secured sets the security headers on every answer; with https also that browsers come back by https only.
func secured(https bool, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		if https {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

// named refuses names that do not belong to this machine, so that a foreign page cannot reach the server by pointing its
// own name at it. hosts are the names allowed besides those of loopback and the address that the connection came in by,
// which no name can be pointed at without being one.
func named(hosts []string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host := r.Host
		if name, _, err := net.SplitHostPort(host); err == nil {
			host = name
		}
		host = strings.ToLower(strings.Trim(host, "[]"))
		ok := host == "localhost"
		if ip := net.ParseIP(host); ip != nil {
			local, _ := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr)
			ok = ip.IsLoopback() || local != nil && ip.Equal(local.IP)
		}
		for _, h := range hosts {
			ok = ok || host == strings.ToLower(h)
		}
		if !ok {
			http.Error(w, "This server does not answer to that name. Open it by the address that it printed when it started, or name the host with --host.", http.StatusForbidden)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// May tells whether a person may do what a role may, named by its word; pages leave out what the reader may not do.
func (p Person) May(role string) bool {
	for r := Anyone; r <= Manage; r++ {
		if r.String() == role {
			return p.Role >= r
		}
	}
	return false
}
