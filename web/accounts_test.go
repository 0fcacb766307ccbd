package web_test

import (
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

// password is that of every user of these tests.
const password = "seven boats on a slip"

// office is a server on which people sign in.
type office struct {
	site
	clock *time.Time
	users map[web.Role]shelf.User
}

// newOffice serves a shelf with one user of each role, "read", "work" and "manage".
func newOffice(t *testing.T, o web.AccountsOptions) office {
	t.Helper()
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	f := office{clock: &now, users: map[web.Role]shelf.User{}}
	clock := func() time.Time { return *f.clock }
	s, err := shelf.Open(t.Context(), shelf.Options{URL: filepath.Join(t.TempDir(), "shelf.sqlite"), Now: clock})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	for _, role := range []web.Role{web.Manage, web.Work, web.Read} {
		u, err := s.AddUser(t.Context(), "test", shelf.User{Name: role.String(), Role: shelf.Role(role.String())}, password)
		if err != nil {
			t.Fatal(err)
		}
		f.users[role] = u
	}
	desk, err := judge.Open(t.Context(), judge.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	app := web.New(web.Options{Shelf: s, Desk: desk, Guard: web.NewAccounts(s, o), HTTPS: o.HTTPS, Now: clock})
	server := httptest.NewServer(app.Handler())
	t.Cleanup(server.Close)
	f.site = site{Server: server, shelf: s}
	return f
}

// straight follows no redirect, so that tests see the first answer.
func straight(t *testing.T, req *http.Request) (*http.Response, string) {
	t.Helper()
	res, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res, string(body)
}

// request makes a request with a session's cookie; a form when there is one.
func (f office) request(t *testing.T, method, path string, session *http.Cookie, form url.Values) *http.Request {
	t.Helper()
	var body io.Reader
	if form != nil {
		body = strings.NewReader(form.Encode())
	}
	req, err := http.NewRequestWithContext(t.Context(), method, f.URL+path, body)
	if err != nil {
		t.Fatal(err)
	}
	if form != nil {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	if session != nil {
		req.AddCookie(session)
	}
	return req
}

// signIn signs a user in and returns the session's cookie.
func (f office) signIn(t *testing.T, name string) *http.Cookie {
	t.Helper()
	res, body := straight(t, f.request(t, "POST", "/sign-in", nil, url.Values{"name": {name}, "password": {password}}))
	if res.StatusCode != http.StatusSeeOther {
		t.Fatalf("signing in as %s gave %d: %s", name, res.StatusCode, body)
	}
	return cookieOf(t, res)
}

// session opens a session without the page, for tests that need many.
func (f office) session(t *testing.T, name string) *http.Cookie {
	t.Helper()
	in, err := f.shelf.Login(t.Context(), name, password, "test", "")
	if err != nil {
		t.Fatal(err)
	}
	return &http.Cookie{Name: "session", Value: in.Token}
}

func cookieOf(t *testing.T, res *http.Response) *http.Cookie {
	t.Helper()
	for _, c := range slices.Backward(res.Cookies()) { // the last one counts
		if strings.Contains(c.Name, "session") && c.MaxAge > 0 {
			return c
		}
	}
	t.Fatal("the answer sets no session")
	return nil
}

var formTokenField = regexp.MustCompile(`name="form_token" value="([^"]+)"`)

// formToken is the token in the forms of a session's pages.
func (f office) formToken(t *testing.T, session *http.Cookie) string {
	t.Helper()
	_, body := straight(t, f.request(t, "GET", "/help", session, nil))
	m := formTokenField.FindStringSubmatch(body)
	if m == nil {
		t.Fatal("the page's forms carry no token")
	}
	return m[1]
}

// access says, independently of the routes, who may do what and what somebody who may is answered here, where the shelf
// is empty and forms are sent without fields.
func access() map[string]struct {
	need   web.Role
	answer int
} {
	type row = struct {
		need   web.Role
		answer int
	}
	return map[string]row{
		"GET /{$}":                               {web.Read, 200},
		"POST /welcome":                          {web.Manage, 303},
		"POST /theme":                            {web.Anyone, 303},
		"POST /upload":                           {web.Work, 400},
		"GET /reading":                           {web.Read, 303},
		"POST /reading/cancel":                   {web.Work, 303},
		"GET /sheets/{id}/document":              {web.Read, 404},
		"GET /sheets/{id}/pages/{page}":          {web.Read, 404},
		"POST /sheets/{id}/again":                {web.Work, 404},
		"GET /products/new":                      {web.Work, 200},
		"POST /products/new":                     {web.Work, 422},
		"GET /products/{id}":                     {web.Read, 404},
		"GET /products/{id}/emergency":           {web.Read, 404},
		"GET /products/{id}/facts":               {web.Read, 404},
		"GET /products/{id}/correct":             {web.Work, 404},
		"POST /products/{id}/corrections":        {web.Work, 404},
		"POST /products/{id}/corrections/back":   {web.Work, 404},
		"POST /products/{id}/overrulings":        {web.Work, 404},
		"POST /products/{id}/overrulings/back":   {web.Work, 404},
		"GET /products/{id}/tour":                {web.Read, 404},
		"GET /products/{id}/label":               {web.Read, 404},
		"POST /products/{id}/label":              {web.Read, 404},
		"GET /products/{id}/claims":              {web.Read, 404},
		"POST /products/{id}/claims":             {web.Read, 404},
		"GET /products/{id}/revisions":           {web.Read, 404},
		"GET /products/{id}/questions":           {web.Read, 404},
		"POST /products/{id}/questions":          {web.Work, 404},
		"GET /products/{id}/edit":                {web.Read, 404},
		"POST /products/{id}/edit":               {web.Work, 404},
		"POST /products/{id}/stock":              {web.Work, 422},
		"POST /products/{id}/stock/{stock}/gone": {web.Work, 422},
		"POST /products/{id}/reviewed":           {web.Work, 404},
		"POST /products/{id}/off":                {web.Manage, 422},
		"POST /products/{id}/back":               {web.Manage, 404},
		"GET /kits/new":                          {web.Work, 200},
		"POST /kits/new":                         {web.Work, 422},
		"GET /kits/{id}":                         {web.Read, 404},
		"GET /kits/{id}/edit":                    {web.Work, 404},
		"POST /kits/{id}/edit":                   {web.Work, 404},
		"GET /jobs":                              {web.Read, 200},
		"GET /jobs/new":                          {web.Read, 200},
		"POST /jobs/new":                         {web.Read, 200},
		"GET /jobs/{id}":                         {web.Read, 404},
		"POST /jobs/{id}":                        {web.Read, 404},
		"GET /questions":                         {web.Read, 200},
		"POST /questions/{id}/sent":              {web.Work, 404},
		"POST /questions/{id}/answer":            {web.Work, 404},
		"GET /places":                            {web.Read, 200},
		"POST /places":                           {web.Work, 422},
		"POST /places/{id}":                      {web.Work, 404},
		"GET /compare":                           {web.Read, 200},
		"GET /compare/{kind}":                    {web.Read, 422},
		"GET /jobs/{id}/plan/{kind}":             {web.Read, 404},
		"GET /products/{id}/papers":              {web.Read, 404},
		"POST /products/{id}/papers":             {web.Work, 404},
		"GET /papers":                            {web.Read, 200},
		"GET /papers/{id}":                       {web.Read, 404},
		"GET /papers/{id}/paper.pdf":             {web.Read, 404},
		"GET /papers/{id}/paper.svg":             {web.Read, 404},
		"POST /papers/{id}/read":                 {web.Work, 422},
		"POST /papers/{id}/gone":                 {web.Work, 422},
		"GET /settings/backup":                   {web.Manage, 200},
		"POST /settings/restore":                 {web.Manage, 422},
		"POST /sheets/{id}/off":                  {web.Work, 404},
		"GET /products/{id}/letter/{kind}":       {web.Read, 404},
		"GET /blends":                            {web.Read, 200},
		"POST /blends":                           {web.Read, 422},
		"POST /blends/draft/{kind}":              {web.Read, 422},
		"GET /register/{kind}":                   {web.Read, 200},
		"GET /export/{kind}":                     {web.Read, 404},
		"GET /settings":                          {web.Read, 200},
		"POST /settings":                         {web.Manage, 422},
		"POST /settings/name":                    {web.Read, 422},
		"GET /help":                              {web.Read, 200},
		"GET /sign-in":                           {web.Anyone, 303}, // somebody who is signed in goes on
		"POST /sign-in":                          {web.Anyone, 401},
		"POST /sign-out":                         {web.Read, 303},
		"POST /sign-out/everywhere":              {web.Read, 303},
		"GET /account":                           {web.Read, 200},
		"POST /account/password":                 {web.Read, 422},
		"POST /account/tokens":                   {web.Read, 422},
		"POST /account/tokens/{id}/off":          {web.Read, 404},
		"GET /users":                             {web.Manage, 200},
		"POST /users":                            {web.Manage, 422},
		"POST /users/{id}":                       {web.Manage, 404},
		"POST /users/{id}/password":              {web.Manage, 404},
		"POST /users/{id}/off":                   {web.Manage, 422},
	}
}

// Every address × every role × signed out gives exactly the status that the policy says: signed out, pages send to sign
// in and forms are refused with 401; a role that is too small gets 403; others get the screen's own answer.
func TestEveryRouteForEveryRole(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	table := access()
	sessions := map[web.Role]*http.Cookie{}
	for _, route := range web.Routes() {
		name := route.Method + " " + route.Path
		row, ok := table[name]
		if !ok {
			t.Errorf("%s stands in no row of access: say who may use it", name)
			continue
		}
		delete(table, name)
		path := strings.NewReplacer("{$}", "", "{id}", "nothing", "{page}", "1", "{stock}", "nothing", "{kind}", "pdf").Replace(route.Path)
		for _, role := range []web.Role{web.Anyone, web.Read, web.Work, web.Manage} {
			want := row.answer
			switch {
			case name == "GET /sign-in" && role == web.Anyone:
				want = http.StatusOK
			case row.need == web.Anyone:
			case role == web.Anyone && route.Method == "GET":
				want = http.StatusSeeOther
			case role == web.Anyone:
				want = http.StatusUnauthorized
			case role < row.need:
				want = http.StatusForbidden
			}
			var session *http.Cookie
			form := url.Values{}
			if role > web.Anyone {
				if sessions[role] == nil {
					sessions[role] = f.session(t, role.String())
				}
				session = sessions[role]
				if strings.HasPrefix(route.Path, "/sign-") {
					session = f.session(t, role.String()) // it ends
					delete(sessions, role)
				}
				form.Set(web.FormToken, f.formToken(t, session))
			}
			req := f.request(t, route.Method, path, session, nil)
			if route.Method == "POST" {
				req = f.request(t, route.Method, path, session, form)
			}
			res, body := straight(t, req)
			if res.StatusCode != want {
				t.Errorf("%s as %s gave %d, the policy says %d: %.200s", name, role, res.StatusCode, want, body)
			}
			if to := res.Header.Get("Location"); role == web.Anyone && row.need > web.Anyone && route.Method == "GET" && !strings.HasPrefix(to, "/sign-in") {
				t.Errorf("%s signed out leads to %s", name, to)
			}
		}
	}
	for name := range table {
		t.Errorf("%s is in access and no route", name)
	}
}

// The cookie of a session is out of reach of scripts and other sites; behind https it comes by https only and bound to the host.
func TestSessionCookie(t *testing.T) {
	for _, https := range []bool{false, true} {
		f := newOffice(t, web.AccountsOptions{HTTPS: https})
		c := f.signIn(t, "manage")
		if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || c.Domain != "" || c.Secure != https || strings.HasPrefix(c.Name, "__Host-") != https {
			t.Errorf("https %v: the cookie is %v", https, c)
		}
		if len(c.Value) < 40 {
			t.Errorf("the token has %d characters", len(c.Value))
		}
		res, _ := straight(t, f.request(t, "GET", "/help", c, nil))
		if got := res.Header.Get("Strict-Transport-Security"); (got != "") != https {
			t.Errorf("https %v: Strict-Transport-Security is %q", https, got)
		}
	}
}

// Forged, tampered, expired, idle and ended sessions open nothing.
func TestSessionsThatOpenNothing(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	open := func(c *http.Cookie) bool {
		res, _ := straight(t, f.request(t, "GET", "/help", c, nil))
		return res.StatusCode == http.StatusOK
	}
	good := f.signIn(t, "read")
	if !open(good) {
		t.Fatal("a good session opens nothing")
	}
	flipped := []byte(good.Value)
	flipped[3] ^= 1
	for name, value := range map[string]string{
		"tampered": string(flipped), "shortened": good.Value[:len(good.Value)-1], "lengthened": good.Value + "A", "empty": "", "another case": strings.ToLower(good.Value),
		"made up": "ABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZ", "SQL": "' OR 1=1 --", "a user's ID": f.users[web.Manage].ID, "huge": strings.Repeat("A", 8000),
	} {
		if open(&http.Cookie{Name: good.Name, Value: value}) {
			t.Errorf("a %s session opens the shelf", name)
		}
	}
	*f.clock = f.clock.Add(8 * 24 * time.Hour)
	if open(good) {
		t.Error("a session that was not used for eight days opens the shelf")
	}
	used := f.signIn(t, "read")
	for range 31 {
		*f.clock = f.clock.Add(24 * time.Hour)
		open(used)
	}
	if open(used) {
		t.Error("a session in daily use opens the shelf after 31 days")
	}
	a, b := f.signIn(t, "work"), f.signIn(t, "work")
	out := url.Values{web.FormToken: {f.formToken(t, a)}}
	straight(t, f.request(t, "POST", "/sign-out", a, out))
	if open(a) || !open(b) {
		t.Error("signing out ended the wrong session")
	}
	straight(t, f.request(t, "POST", "/sign-out/everywhere", b, url.Values{web.FormToken: {f.formToken(t, b)}}))
	if open(b) {
		t.Error("signing out everywhere left a session open")
	}
	c := f.signIn(t, "work")
	if err := f.shelf.RetireUser(t.Context(), "manage", f.users[web.Work].ID, "leaves"); err != nil {
		t.Fatal(err)
	}
	if open(c) {
		t.Error("the session of a closed account opens the shelf")
	}
}

// Signing in ends the session that the browser came with: nobody can plant one beforehand.
func TestSignInRotatesTheSession(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	before := f.signIn(t, "read")
	res, _ := straight(t, f.request(t, "POST", "/sign-in", before, url.Values{"name": {"manage"}, "password": {password}}))
	after := cookieOf(t, res)
	if after.Value == before.Value {
		t.Fatal("the session kept its token")
	}
	if res, _ := straight(t, f.request(t, "GET", "/help", before, nil)); res.StatusCode == http.StatusOK {
		t.Error("the session from before opens the shelf still")
	}
}

// A role that is taken away holds from the next request on.
func TestRoleChangesAtOnce(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	c := f.signIn(t, "work")
	if res, _ := straight(t, f.request(t, "GET", "/products/new", c, nil)); res.StatusCode != http.StatusOK {
		t.Fatalf("got %d", res.StatusCode)
	}
	u := f.users[web.Work]
	u.Role = shelf.MayRead
	if _, err := f.shelf.EditUser(t.Context(), "manage", u); err != nil {
		t.Fatal(err)
	}
	if res, _ := straight(t, f.request(t, "GET", "/products/new", c, nil)); res.StatusCode != http.StatusForbidden {
		t.Errorf("after the role was taken away: %d", res.StatusCode)
	}
}

// A form without the session's token, with another session's, or from another site changes nothing, in each of the two
// forms that browsers send; with it, it is taken, and documents after the token arrive whole.
func TestForgedForms(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	c, other := f.signIn(t, "work"), f.signIn(t, "manage")
	token, foreign := f.formToken(t, c), f.formToken(t, other)
	if token == foreign || strings.Contains(token, c.Value) {
		t.Fatal("form tokens are not of the session")
	}
	place := func(token string) url.Values {
		return url.Values{web.FormToken: {token}, "name": {"Slip"}, "sort": {"room"}, "version": {"0"}}
	}
	for name, given := range map[string]string{"without": "", "another session's": foreign, "cut": token[:10], "the session itself": c.Value} {
		if res, _ := straight(t, f.request(t, "POST", "/places", c, place(given))); res.StatusCode != http.StatusForbidden {
			t.Errorf("a form with %s token gave %d", name, res.StatusCode)
		}
		req := f.request(t, "POST", "/upload", c, nil)
		document(t, req, given, []byte("%PDF-1.7 "+name))
		if res, _ := straight(t, req); res.StatusCode != http.StatusForbidden {
			t.Errorf("an upload with %s token gave %d", name, res.StatusCode)
		}
	}
	for name, change := range map[string]func(*http.Request){
		"another origin":    func(r *http.Request) { r.Header.Set("Origin", "https://elsewhere.example") },
		"another site":      func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") },
		"a sister's origin": func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "same-site") },
		"no origin at all":  func(r *http.Request) { r.Header.Set("Origin", "null") },
	} {
		req := f.request(t, "POST", "/places", c, place(token))
		change(req)
		if res, _ := straight(t, req); res.StatusCode != http.StatusForbidden {
			t.Errorf("a form from %s gave %d", name, res.StatusCode)
		}
		req = f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"read"}, "password": {password}})
		change(req)
		if res, _ := straight(t, req); res.StatusCode != http.StatusForbidden {
			t.Errorf("signing in from %s gave %d", name, res.StatusCode)
		}
	}
	if places, err := f.shelf.Places(t.Context()); err != nil || len(places) != 0 {
		t.Fatalf("a forged form put %v on the shelf, %v", places, err)
	}
	if res, body := straight(t, f.request(t, "POST", "/places", c, place(token))); res.StatusCode != http.StatusSeeOther {
		t.Errorf("the session's own form gave %d: %.200s", res.StatusCode, body)
	}
	large := append([]byte("%PDF-1.7\n"), bytes.Repeat([]byte("slip and quay "), 50_000)...)
	req := f.request(t, "POST", "/upload", c, nil)
	document(t, req, token, large)
	if res, body := straight(t, req); res.StatusCode != http.StatusSeeOther {
		t.Fatalf("the session's own upload gave %d: %.200s", res.StatusCode, body)
	}
	sheets, err := f.shelf.Sheets(t.Context(), shelf.SheetFilter{})
	if err != nil || len(sheets.Items) != 1 {
		t.Fatalf("after one upload there are %d sheets, %v", len(sheets.Items), err)
	}
	if _, got, err := f.shelf.OpenDocument(t.Context(), sheets.Items[0].Document); err != nil || !bytes.Equal(got, large) {
		t.Errorf("the document did not arrive whole: %d of %d bytes, %v", len(got), len(large), err)
	}
}

// document makes the request an upload of one document with a form token before it.
func document(t *testing.T, req *http.Request, token string, data []byte) {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	if err := form.WriteField(web.FormToken, token); err != nil {
		t.Fatal(err)
	}
	part, err := form.CreateFormFile("document", "sheet.pdf")
	if err != nil {
		t.Fatal(err)
	}
	part.Write(data)
	form.Close()
	req.Body = io.NopCloser(&body)
	req.ContentLength = int64(body.Len())
	req.Header.Set("Content-Type", form.FormDataContentType())
}

// A wrong password and an unknown name get the same answer, to the byte where the name is not repeated.
func TestSameAnswerForUnknownUsers(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	answer := func(name string) (int, string) {
		res, body := straight(t, f.request(t, "POST", "/sign-in", nil, url.Values{"name": {name}, "password": {"guess guess guess"}}))
		return res.StatusCode, strings.ReplaceAll(body, name, "NAME")
	}
	if _, err := f.shelf.AddUser(t.Context(), "test", shelf.User{Name: "zebulon", Role: shelf.MayRead}, password); err != nil {
		t.Fatal(err)
	}
	s1, known := answer("zebulon")
	s2, unknown := answer("zebedee")
	if s1 != http.StatusUnauthorized || s2 != s1 || known != unknown {
		t.Errorf("answers differ: %d and %d", s1, s2)
	}
}

// Too many wrong attempts from one address are answered 429 whatever the password, also by a server that was started
// anew; another address still gets in.
func TestGuessingIsStopped(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{Proxied: true})
	try := func(from, password string) int {
		req := f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"manage"}, "password": {password}})
		req.Header.Set("X-Forwarded-For", "203.0.113.250, "+from)
		res, _ := straight(t, req)
		if res.StatusCode == http.StatusTooManyRequests && res.Header.Get("Retry-After") == "" {
			t.Error("the answer does not say when to come back")
		}
		return res.StatusCode
	}
	for i := range 10 {
		if got := try("198.51.100.7", "guess guess guess"); got != http.StatusUnauthorized {
			t.Fatalf("attempt %d gave %d", i+1, got)
		}
	}
	if got := try("198.51.100.7", password); got != http.StatusTooManyRequests {
		t.Errorf("the right password after ten wrong ones gave %d", got)
	}
	again := httptest.NewServer(web.New(web.Options{Shelf: f.shelf, Guard: web.NewAccounts(f.shelf, web.AccountsOptions{Proxied: true})}).Handler())
	defer again.Close()
	f.Server = again
	if got := try("198.51.100.7", password); got != http.StatusTooManyRequests {
		t.Errorf("after a restart the right password gave %d", got)
	}
	if got := try("198.51.100.8", password); got != http.StatusSeeOther {
		t.Errorf("another address gave %d", got)
	}
}

// What a caller writes into X-Forwarded-For counts only behind a proxy, and there only what the proxy itself wrote last.
func TestForgedOrigins(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	last := 0
	for i := range 12 {
		req := f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"read"}, "password": {"guess guess guess"}})
		req.Header.Set("X-Forwarded-For", fmt.Sprintf("198.51.100.%d", i))
		res, _ := straight(t, req)
		last = res.StatusCode
	}
	if last != http.StatusTooManyRequests {
		t.Errorf("with another forged address each time the twelfth attempt gave %d", last)
	}
}

// Sign-ins, refused ones, refusals and changes of roles stand in the trail with who and where, and no password does.
func TestTrailOfAccess(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	c := f.signIn(t, "read")
	straight(t, f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"work"}, "password": {"guess guess guess"}}))
	straight(t, f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"my secret words"}, "password": {""}}))
	straight(t, f.request(t, "POST", "/places", c, url.Values{web.FormToken: {f.formToken(t, c)}}))
	straight(t, f.request(t, "POST", "/settings/name", c, nil))
	boss := f.signIn(t, "manage")
	token := f.formToken(t, boss)
	u := f.users[web.Read]
	res, body := straight(t, f.request(t, "POST", "/users/"+u.ID, boss, url.Values{web.FormToken: {token}, "role": {"work"}, "full": {"Rea D."}}))
	if res.StatusCode != http.StatusSeeOther {
		t.Fatalf("the role was not changed: %d %.300s", res.StatusCode, body)
	}
	page, err := f.shelf.Trail(t.Context(), shelf.TrailFilter{Paging: shelf.Paging{Limit: 100}})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range page.Items {
		all = append(all, fmt.Sprintf("%s %s %s %s %s %s", e.Who, e.What, e.Kind, e.Title, e.Note, e.After))
	}
	text := strings.Join(all, "\n")
	for _, want := range []string{"read logged in session", "work login refused session", "nobody login refused session", "read refused session read POST /places: may not work", "read refused session read POST /settings/name: form token", `manage changed user read`, `"role":"work"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the trail does not hold %q:\n%s", want, text)
		}
	}
	for _, never := range []string{"guess", "my secret words", password, c.Value, "argon2"} {
		if strings.Contains(text, never) {
			t.Errorf("the trail holds %q", never)
		}
	}
}

// Accounts are opened, changed and closed in the browser; the last who may manage stays.
func TestUsersScreen(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	boss := f.signIn(t, "manage")
	token := f.formToken(t, boss)
	post := func(path string, form url.Values) (int, string) {
		form.Set(web.FormToken, token)
		res, body := straight(t, f.request(t, "POST", path, boss, form))
		return res.StatusCode, body
	}
	if status, body := post("/users", url.Values{"name": {"tide"}, "role": {"read"}, "password": {"password1234"}}); status != http.StatusUnprocessableEntity || !strings.Contains(body, "tried first") {
		t.Errorf("a common password gave %d", status)
	}
	if status, _ := post("/users", url.Values{"name": {"tide"}, "full": {"T. <b>Ide</b>"}, "role": {"read"}, "password": {password}}); status != http.StatusSeeOther {
		t.Errorf("a good account gave %d", status)
	}
	_, body := straight(t, f.request(t, "GET", "/users", boss, nil))
	if !strings.Contains(body, "T. &lt;b&gt;Ide&lt;/b&gt;") || strings.Contains(body, "<b>Ide") {
		t.Error("the name of a user is not shown as it was written")
	}
	f.signIn(t, "tide")
	id := f.users[web.Manage].ID
	if status, body := post("/users/"+id, url.Values{"role": {"read"}}); status != http.StatusUnprocessableEntity || !strings.Contains(body, "Nobody else may manage") {
		t.Errorf("taking the role from the last who may manage gave %d", status)
	}
	if status, _ := post("/users/"+id+"/off", url.Values{"why": {"x"}}); status != http.StatusUnprocessableEntity {
		t.Errorf("closing the last account that may manage gave %d", status)
	}
}

// One's own account: another password only with the present one, tokens that are shown once.
func TestOwnAccount(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	c := f.signIn(t, "work")
	other := f.signIn(t, "work")
	token := f.formToken(t, c)
	fresh := "a kettle under the stairs"
	res, body := straight(t, f.request(t, "POST", "/account/password", c, url.Values{web.FormToken: {token}, "old": {"guess guess guess"}, "new": {fresh}, "again": {fresh}}))
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "present password") {
		t.Errorf("a wrong present password gave %d", res.StatusCode)
	}
	res, body = straight(t, f.request(t, "POST", "/account/tokens", c, url.Values{web.FormToken: {token}, "name": {"scanner"}, "role": {"manage"}}))
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "may not manage") {
		t.Errorf("a token with more than the own role gave %d", res.StatusCode)
	}
	res, body = straight(t, f.request(t, "POST", "/account/tokens", c, url.Values{web.FormToken: {token}, "name": {"scanner"}, "role": {"read"}}))
	secret := regexp.MustCompile(`sixteen_[A-Z2-7]+`).FindString(body)
	if res.StatusCode != http.StatusOK || secret == "" {
		t.Fatalf("a token gave %d", res.StatusCode)
	}
	if _, _, err := f.shelf.Bearer(t.Context(), secret); err != nil {
		t.Errorf("the token opens nothing: %v", err)
	}
	if _, body := straight(t, f.request(t, "GET", "/account", c, nil)); strings.Contains(body, secret) || !strings.Contains(body, "scanner") {
		t.Error("the token is shown twice, or its name is not")
	}
	res, _ = straight(t, f.request(t, "POST", "/account/password", c, url.Values{web.FormToken: {token}, "old": {password}, "new": {fresh}, "again": {fresh}}))
	if res.StatusCode != http.StatusSeeOther {
		t.Fatalf("changing the password gave %d", res.StatusCode)
	}
	now := cookieOf(t, res)
	if res, _ := straight(t, f.request(t, "GET", "/help", now, nil)); res.StatusCode != http.StatusOK {
		t.Error("whoever changed the password is signed out")
	}
	for _, old := range []*http.Cookie{c, other} {
		if res, _ := straight(t, f.request(t, "GET", "/help", old, nil)); res.StatusCode == http.StatusOK {
			t.Error("a session from before the change opens the shelf")
		}
	}
}

// Where to go after signing in is a page of this server and nothing else.
func TestSignInLeadsInside(t *testing.T) {
	f := newOffice(t, web.AccountsOptions{})
	for back, want := range map[string]string{"/places": "/places", "//elsewhere.example/": "/", "https://elsewhere.example/": "/", `/\elsewhere.example`: "/", "javascript:alert(1)": "/", "/\t/elsewhere.example": "/"} {
		res, _ := straight(t, f.request(t, "POST", "/sign-in", nil, url.Values{"name": {"read"}, "password": {password}, "back": {back}}))
		if got := res.Header.Get("Location"); got != want {
			t.Errorf("back %q leads to %q", back, got)
		}
	}
}
