package web_test

import (
	"fmt"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"sixteen/web"
)

// looked checks the page that is shown as TestEveryScreen checks screens: axe-core in both themes and at the width of a
// phone, nothing wider than the screen.
func (b *tab) looked(where string) {
	b.t.Helper()
	for _, theme := range []string{"light", "dark"} {
		b.theme(theme)
		for _, width := range []int64{1360, 360} {
			b.must(chromedp.EmulateViewport(width, 740))
			b.axe(fmt.Sprintf("%s, %s, %d px", where, theme, width))
			if wide := value(b, chromedp.Evaluate[int64](`document.documentElement.scrollWidth`)); wide > width {
				b.t.Errorf("%s is %d px wide on a screen of %d px", where, wide, width)
			}
			if width == 360 && theme == "light" && slices.Contains([]string{"empty-shelf", "unreadable", "too-large", "account", "not-allowed"}, where) {
				b.picture(where + "-phone")
			}
		}
	}
	b.theme("light")
}

// Screens with nothing on them say what would stand there and how to begin.
func TestEmptyScreens(t *testing.T) {
	s, b := newSite(t), newTab(t)
	b.must(chromedp.Navigate(s.URL))
	b.press("main", "Begin with an empty shelf")
	b.see("The shelf is empty")
	b.looked("empty-shelf")
	for _, path := range []string{"/jobs", "/compare", "/questions", "/papers", "/papers?outdated=1", "/places", "/blends", "/settings", "/products/new", "/kits/new"} {
		b.must(chromedp.Navigate(s.URL + path))
		b.see("sixteen")
		if n := value(b, chromedp.Evaluate[int](`document.querySelector("main").innerText.trim().length`)); n < 60 {
			t.Errorf("%s says nothing", path)
		}
		b.looked("empty" + strings.NewReplacer("/", "-", "?", "-", "=", "-").Replace(path))
	}
	b.quiet("the empty screens")
}

// What goes wrong is a page that says so: a document that is no sheet, an upload of nothing, a body that is too large, and a
// fault on this side.
func TestFailedScreens(t *testing.T) {
	s, b := newSite(t), newTab(t)
	s.upload(t, "note.txt", []byte(strings.Repeat("The slipway will be closed on Tuesday for painting.\n", 30)), nil)
	s.upload(t, "broken.pdf", []byte("\x00\x01\x02nonsense"), nil)
	s.settle(t)
	b.must(chromedp.Navigate(s.URL))
	b.see("is no safety data sheet")
	b.looked("unreadable")

	b.must(chromedp.Navigate(s.URL + "/products/new"))
	b.set("input[name=name]", "Thinner")
	b.set("input[name=months]", "often")
	b.press("main form", "Keep")
	b.see("is no number of months")
	b.looked("refused-form")
	b.answered("422")

	b.must(chromedp.Navigate(s.URL + "/products/new"))
	b.must(chromedp.Evaluate[chromedp.Void](`(() => { const f = document.querySelector("main form"); f.querySelector("[name=name]").value = "x".repeat(3 << 20); f.noValidate = true; f.requestSubmit(); })()`))
	b.see("larger than 2 MB")
	b.looked("too-large")
	b.answered("413")
	b.quiet("what fails")

	if err := s.shelf.Close(); err != nil {
		t.Fatal(err)
	}
	b.must(chromedp.Navigate(s.URL + "/papers"))
	b.see("This did not work")
	b.looked("fault")
	b.answered("500")
}

// With users: signing in, refused, one's account, the users, settings, and what a reader may not open.
func TestScreensOfUsers(t *testing.T) {
	f, b := newOffice(t, web.AccountsOptions{}), newTab(t)
	app := httptest.NewServer(web.New(web.Options{Shelf: f.shelf, Desk: f.desk, Guard: web.NewAccounts(f.shelf, web.AccountsOptions{})}).Handler())
	t.Cleanup(app.Close)
	b.must(chromedp.Navigate(app.URL + "/sign-in"))
	b.see("Sign in")
	b.looked("sign-in")
	enter := func(name, word string) {
		b.set("input[name=name]", name)
		b.set("input[name=password]", word)
		b.press("main form", "Sign in")
	}
	enter("manage", "not this one")
	b.see("do not fit")
	b.looked("sign-in-refused")
	b.answered("401")
	enter("manage", password)
	b.see("Sign out")
	for _, screen := range []struct{ name, path, says string }{
		{"account", "/account", "password"}, {"users", "/users", "manage"}, {"settings-users", "/settings", "signed in as"}, {"shelf-users", "/", "Sign out"},
	} {
		b.must(chromedp.Navigate(app.URL + screen.path))
		b.see(screen.says)
		b.looked(screen.name)
	}
	b.press("header", "Sign out")
	b.see("Password")
	b.must(chromedp.Navigate(app.URL + "/sign-in"))
	enter("read", password)
	b.see("Sign out")
	b.quiet("the screens of users")
	b.must(chromedp.Navigate(app.URL + "/users"))
	b.see("This needs somebody who may manage")
	b.looked("not-allowed")
	b.answered("403")
	b.quiet("what a reader may not open")
}
