package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"sixteen/blend"
	"sixteen/shelf"
)

// Every paper and export opens as the file that its address names.
func TestFiles(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b", "kelphull")
	at := s.product(t, "Murrelam Hardener B")
	two := "?id=" + strings.TrimPrefix(at, "/products/") + "&id=" + strings.TrimPrefix(s.product(t, "Kelphull Layup Resin"), "/products/")
	for path, begins := range map[string]string{
		"/compare/pdf" + two: "%PDF-", "/compare/docx" + two: "PK", "/register/pdf": "%PDF-", "/register/docx": "PK", at + "/letter/pdf?lang=de": "%PDF-", at + "/letter/docx": "PK",
		"/export/csv": "\ufeff", "/export/json": "{", "/export/ics": "BEGIN:VCALENDAR", "/export/xlsx": "PK", "/settings/backup": "PK",
	} {
		res, body := s.get(t, path, nil)
		if res.StatusCode != http.StatusOK || !strings.HasPrefix(body, begins) {
			t.Errorf("%s: status %d, begins %.12q", path, res.StatusCode, body)
		}
		if how := res.Header.Get("Content-Disposition"); !strings.Contains(how, "filename=") {
			t.Errorf("%s has no file name: %q", path, how)
		}
	}
	if res, _ := s.get(t, "/export/exe", nil); res.StatusCode != http.StatusNotFound {
		t.Errorf("an unknown form of export got %d", res.StatusCode)
	}
}

// A product without a sheet says so on every tab: that is not the same as no hazard.
func TestProductWithoutASheet(t *testing.T) {
	s := newSite(t)
	p, err := s.shelf.AddProduct(t.Context(), "Marit", shelf.Product{Name: "Varnish from the tin in the attic"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tab := range []string{"", "/facts", "/tour", "/label", "/claims", "/revisions", "/questions", "/papers"} {
		res, body := s.get(t, "/products/"+p.ID+tab, nil)
		if res.StatusCode != http.StatusOK || !strings.Contains(body, "No sheet is on the shelf for this product") {
			t.Errorf("%s: status %d, and no word that there is no sheet", tab, res.StatusCode)
		}
	}
	_, body := s.get(t, "/products/"+p.ID+"/emergency", nil)
	if !strings.Contains(body, "IF IN EYES") || !strings.Contains(body, "no sheet of this product") {
		t.Error("first aid without a sheet does not give the standard's words and say why")
	}
	if res, body := s.post(t, "/products/"+p.ID+"/papers", url.Values{"sort": {"card"}}, nil); res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "no sheet") {
		t.Errorf("a card without a sheet got %d", res.StatusCode)
	}
}

// A label that has no room for what it must say is not made; the answer names a size that has.
func TestLabelWithoutRoomNamesTheNextSize(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b")
	at := s.product(t, "Murrelam Hardener B")
	res, body := s.post(t, at+"/papers", url.Values{"sort": {"label"}, "size": {"60x30"}, "lang1": {"en"}, "lang2": {"de"}, "ml": {"500"}}, nil)
	if res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, "no room") || !strings.Contains(body, "take 1") {
		t.Errorf("status %d: %.300s", res.StatusCode, body[strings.Index(body, "<main"):])
	}
	page, err := s.shelf.Papers(t.Context(), shelf.PaperFilter{})
	if err != nil || page.Total != 0 {
		t.Errorf("%d papers on record for a label that was not made, %v", page.Total, err)
	}
}

// A recipe comes back with classes, label and open questions; a wrong one with what is wrong.
func TestBlend(t *testing.T) {
	s := newSite(t)
	form := url.Values{"recipe": {blend.Example}, "rules": {"eu-clp"}, "lang": {"en"}, "target": {"no H317"}}
	res, body := s.post(t, "/blends", form, nil)
	for _, want := range []string{"Open questions of the draft", "H226", "What would reach it"} {
		if res.StatusCode != http.StatusOK || !strings.Contains(body, want) {
			t.Errorf("status %d; the blend's page does not say %q", res.StatusCode, want)
		}
	}
	if _, body := s.post(t, "/blends/draft/pdf", form, nil); !strings.HasPrefix(body, "%PDF-") {
		t.Error("the drafted sheet is no PDF")
	}
	form.Set("recipe", "product: x\ningredients:\n  - cas: 64742-82-1\n    percnt: 28\n")
	if res, body := s.post(t, "/blends", form, nil); res.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(body, `role="alert"`) {
		t.Errorf("a recipe with a mistyped field got %d", res.StatusCode)
	}
}

// A job that cannot be worked out asks for what is missing, in words that name the field; nothing typed is lost.
func TestJobAsksForWhatIsMissing(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b")
	form := url.Values{"name": {"Saturday"}, "place": {"eu"}, "task.0.name": {"brush"}, "task.0.kind": {"brush"}, "task.0.product": {"Murrelam Hardener B"}, "task.0.room": {"shed"},
		"task.0.start": {"0"}, "task.0.lasts": {"45"}, "task.0.surface": {"film"}, "task.0.amount": {"many"}, "task.0.area": {"1"}, "room.0.name": {"shed"}, "room.0.volume": {"40"}, "room.0.air": {"0.3-1"},
		"person.0.name": {"Ines"}, "person.0.age": {"adult"}, "person.0.stays": {"in the shed all day"}}
	_, body := s.post(t, "/jobs/new", form, nil)
	for _, want := range []string{"Step 1, amount", "many", "Ines: “in the shed all day” is no stay"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	form.Set("task.0.amount", "300")
	form.Set("person.0.stays", "shed 0-45 near")
	if _, body = s.post(t, "/jobs/new", form, nil); !strings.Contains(body, "air around the work") {
		t.Error("the page does not ask for the air around the work")
	}
	form.Set("room.0.near", "0.8")
	if _, body = s.post(t, "/jobs/new", form, nil); !strings.Contains(body, "First of all") || !strings.Contains(body, "<svg") {
		t.Error("the mended job is not worked out")
	}
	form.Set("change", "add room")
	if _, body = s.post(t, "/jobs/new", form, nil); !strings.Contains(body, `name="room.1.name"`) || !strings.Contains(body, "shed 0-45 near") {
		t.Error("another room is not there, or what was typed is gone")
	}
	form.Set("change", "keep")
	res, body := s.post(t, "/jobs/new", form, nil)
	if res.StatusCode != http.StatusOK || !strings.Contains(body, "The job is kept") {
		t.Fatalf("keeping the job got %d", res.StatusCode)
	}
	if _, pdf := s.get(t, res.Request.URL.Path+"/plan/pdf", nil); !strings.HasPrefix(pdf, "%PDF-") {
		t.Errorf("the plan is no PDF: %.80q", pdf)
	}
}

// Revisions that come in the wrong order, as out of a ZIP, are compared all the same.
func TestOlderRevisionThatComesLater(t *testing.T) {
	s := newSite(t)
	s.put(t, "murrelam-b")
	at := s.product(t, "Murrelam Hardener B")
	if _, err := s.shelf.AddDocument(t.Context(), "Marit", "before.pdf", previousOf(t, "murrelam-b"), strings.TrimPrefix(at, "/products/")); err != nil {
		t.Fatal(err)
	}
	s.settle(t)
	if _, body := s.get(t, at+"/revisions", nil); !strings.Contains(body, "revision of 2025-11-04 against revision of 2023-02-10") {
		t.Error("the older revision that came later is not compared")
	}
}
