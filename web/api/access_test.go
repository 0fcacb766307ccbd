package api_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"sixteen/shelf"
	"sixteen/web/api"
)

const password = "seven boats on a slip"

// members opens an account of each role and a token of each.
func members(t testing.TB, s *shelf.Shelf) map[string]string {
	t.Helper()
	tokens := map[string]string{}
	for _, role := range []shelf.Role{shelf.MayManage, shelf.MayWork, shelf.MayRead} {
		u, err := s.AddUser(t.Context(), "test", shelf.User{Name: string(role), Role: role}, password)
		if err != nil {
			t.Fatal(err)
		}
		_, secret, err := s.AddToken(t.Context(), "test", shelf.Token{User: u.ID, Name: "test", Role: role, Expires: time.Now().Add(time.Hour)})
		if err != nil {
			t.Fatal(err)
		}
		tokens[string(role)] = secret
	}
	return tokens
}

// managed and worked are the operations that need more than reading, written down apart from the code. Whatever else
// changes something is a what-if question that keeps nothing.
const (
	managed = `POST /api/products/{id}/retire, POST /api/products/{id}/restore, POST /api/places/{id}/retire, POST /api/suppliers/{id}/retire, PUT /api/settings, GET /api/backup`
	asked   = `POST /api/products/{id}/label-check, POST /api/products/{id}/claims, POST /api/plans, POST /api/comparisons, POST /api/blends, POST /api/blends/file`
)

func needed(operation string) string {
	in := func(list string) bool {
		for _, o := range strings.Split(list, ", ") {
			if o == operation {
				return true
			}
		}
		return false
	}
	switch {
	case in(managed):
		return "manage"
	case strings.HasPrefix(operation, "GET ") || in(asked):
		return "read"
	}
	return "work"
}

// Every operation × every role × signed out and with tokens that open nothing: 401 without, 403 with too small a role, and
// else neither.
func TestEveryOperationForEveryRole(t *testing.T) {
	s := newSite(t, true)
	tokens := members(t, s.shelf)
	raw, err := api.OpenAPI()
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Paths map[string]map[string]json.RawMessage
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		t.Fatal(err)
	}
	rank := map[string]int{"read": 1, "work": 2, "manage": 3}
	n := 0
	for path, methods := range doc.Paths {
		for method := range methods {
			method = strings.ToUpper(method)
			name, at := method+" "+path, strings.ReplaceAll(path, "{id}", "nothing")
			need := needed(name)
			body := ""
			if method != "GET" {
				body = "{}"
			}
			for who, token := range map[string]string{"nobody": "", "a made-up token": "sixteen_ABCDEFGHIJKLMNOPQRSTUVWXYZ", "a token of another kind": "abc"} {
				var headers []string
				if token != "" {
					headers = []string{"Authorization", "Bearer " + token}
				}
				r := s.call(t, method, at, body, headers...)
				isProblem(t, name+" as "+who, r, http.StatusUnauthorized)
				if r.Header.Get("WWW-Authenticate") == "" {
					t.Errorf("%s does not say how to sign in", name)
				}
			}
			for role, token := range tokens {
				n++
				r := s.call(t, method, at, body, "Authorization", "Bearer "+token)
				if rank[role] < rank[need] {
					isProblem(t, name+" as "+role, r, http.StatusForbidden)
				} else if r.StatusCode == http.StatusForbidden || r.StatusCode == http.StatusUnauthorized || r.StatusCode >= 500 {
					t.Errorf("%s as %s gave %d: %.200s", name, role, r.StatusCode, r.raw)
				}
			}
		}
	}
	if n < 150 {
		t.Errorf("only %d pairs of operation and role were tried", n)
	}
}

// A session with a cookie works too; what changes something carries the form token, and comes from no other origin.
func TestSessionsAtTheAPI(t *testing.T) {
	s := newSite(t, true)
	members(t, s.shelf)
	in, err := s.shelf.Login(t.Context(), "work", password, "test", "")
	if err != nil {
		t.Fatal(err)
	}
	cookie := "session=" + in.Token
	place := `{"name": "Slip", "sort": "room"}`
	if r := s.call(t, "GET", "/api/me", "", "Cookie", cookie); r.body["role"] != "work" {
		t.Errorf("a session is %s", r.raw)
	}
	isProblem(t, "without form token", s.call(t, "POST", "/api/places", place, "Cookie", cookie), http.StatusForbidden)
	isProblem(t, "with a made-up form token", s.call(t, "POST", "/api/places", place, "Cookie", cookie, "X-Form-Token", "AAAA"), http.StatusForbidden)
	page := s.call(t, "GET", "/help", "", "Cookie", cookie).raw
	_, rest, _ := strings.Cut(page, `name="form_token" value="`)
	token, _, _ := strings.Cut(rest, `"`)
	if r := s.call(t, "POST", "/api/places", place, "Cookie", cookie, "X-Form-Token", token, "Origin", "https://elsewhere.example"); r.StatusCode != http.StatusForbidden {
		t.Errorf("from another origin: %d", r.StatusCode)
	}
	if r := s.call(t, "POST", "/api/places", place, "Cookie", cookie, "X-Form-Token", token); r.StatusCode != http.StatusCreated {
		t.Errorf("with the form token: %d %s", r.StatusCode, r.raw)
	}
}

// Pages of other sites reach nothing of a server without users: neither by a form, nor by reading, nor by a name of theirs.
func TestForeignPagesReachNothing(t *testing.T) {
	s := newSite(t, false)
	place := `{"name": "Slip", "sort": "room"}`
	for name, headers := range map[string][]string{
		"another origin": {"Origin", "https://elsewhere.example"}, "another site": {"Sec-Fetch-Site", "cross-site"},
		"a plain form": {"Origin", "https://elsewhere.example", "Content-Type", "text/plain"},
	} {
		if r := s.call(t, "POST", "/api/places", place, headers...); r.StatusCode != http.StatusForbidden {
			t.Errorf("%s: %d", name, r.StatusCode)
		}
	}
	r := s.call(t, "GET", "/api/products", "", "Origin", "https://elsewhere.example")
	for _, h := range []string{"Access-Control-Allow-Origin", "Access-Control-Allow-Credentials"} {
		if r.Header.Get(h) != "" {
			t.Errorf("%s is %q", h, r.Header.Get(h))
		}
	}
	if r.Header.Get("Cross-Origin-Resource-Policy") != "same-origin" {
		t.Error("answers may be embedded elsewhere")
	}
	for _, host := range []string{"elsewhere.example", "127.0.0.1.elsewhere.example", "localhost.elsewhere.example", "0.0.0.0", "169.254.169.254", "[::2]"} {
		req, err := http.NewRequestWithContext(t.Context(), "GET", s.URL+"/api/products", nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Host = host
		if r := s.send(t, req); r.StatusCode != http.StatusForbidden {
			t.Errorf("a request for the host %s gave %d", host, r.StatusCode)
		}
	}
	if places, err := s.shelf.Places(t.Context()); err != nil || len(places) > 0 {
		t.Errorf("a foreign page put %v on the shelf", places)
	}
}
