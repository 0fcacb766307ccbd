package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"sixteen/shelf"
)

// However many places there are, the page shows some of them, and keeping one leads to the page on which it stands.
func TestPlacesComeInPages(t *testing.T) {
	s := newSite(t)
	var last shelf.Place
	for i := range 40 {
		p, err := s.shelf.AddPlace(t.Context(), "Marit", shelf.Place{Name: fmt.Sprintf("Store %02d", i), Sort: shelf.Room, Limits: shelf.LimitAt(shelf.Room)})
		if err != nil {
			t.Fatal(err)
		}
		last = p
	}
	seen := map[string]bool{}
	for page := 1; page <= 3; page++ {
		_, body := s.get(t, fmt.Sprintf("/places?page=%d", page), nil)
		if !strings.Contains(body, fmt.Sprintf("Page %d of 3, 40 in all", page)) {
			t.Errorf("page %d does not say where it is", page)
		}
		if len(body) > 200<<10 {
			t.Errorf("page %d has %d KB", page, len(body)>>10)
		}
		for i := range 40 {
			if name := fmt.Sprintf("Store %02d", i); strings.Contains(body, ">"+name+" <span") {
				if seen[name] {
					t.Errorf("%s is on two pages", name)
				}
				seen[name] = true
			}
		}
	}
	if len(seen) != 40 {
		t.Errorf("%d places are shown", len(seen))
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.PostForm(s.URL+"/places/"+last.ID, url.Values{"name": {last.Name}, "sort": {string(last.Sort)}, "version": {fmt.Sprint(last.Version)}, "note": {"aired"}})
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	if got, want := res.Header.Get("Location"), "/places?page=3#p-"+last.ID; got != want {
		t.Errorf("keeping the last place leads to %q in place of %q", got, want)
	}
}
