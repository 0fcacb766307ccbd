package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"sixteen/ghs"
	"sixteen/sheet"
	"sixteen/shelf"
)

// listView is a list of a sheet that takes a further row.
type listView struct{ Path, Label string }

// addRowView is the form that adds a row which the reader missed.
type addRowView struct {
	ID, Product, Title string
	Path               string
	Fields             []fieldView
	Why, Wrong         string
	On, Last           string // the row that was added last: its correction, and what it says
	J                  judgementView
}

// rowForm is the empty form of a row of a list.
func (a *App) rowForm(v *visit, h held, path string) (addRowView, factForm, error) {
	view := addRowView{ID: h.product.ID, Product: h.product.Name, Path: path + ".+"}
	lists := h.judged.Sheet.Lists()
	i := slices.IndexFunc(lists, func(l sheet.List) bool { return l.Path == path })
	if i < 0 {
		return view, factForm{}, missing("Nothing can be added at this place of the sheet. Choose a section in the list of facts.")
	}
	form, err := parseFact(lists[i].Shape)
	if err != nil {
		return view, form, err
	}
	view.Title, view.Fields = "Add what was missed: "+lists[i].Label, form.fields()
	switch {
	case path == "hazards.pictograms" || strings.HasSuffix(path, ".hazards.pictograms"):
		view.Fields[0].Label = "Pictogram"
		view.Fields[0].Options = pictogramChoices()
	case form.scalar != nil:
		view.Fields[0].Long = true
	}
	view.J = judgementView{PageCount: len(h.judged.Sheet.Source.Pages), Pages: newMarks().pages(h.judged.Sheet.Source, pictureAddress(h.sheet), pageDPI)}
	all, err := a.shelf.Corrections(v.ctx(), h.sheet.Document)
	if err != nil {
		return view, form, err
	}
	for _, c := range all {
		if c.Path == view.Path {
			view.On, view.Last = c.ID, addedWords(h.judged.Sheet, c)
		}
	}
	return view, form, nil
}

// addedWords is what a row says that a person added: its facts in the order of the sheet.
func addedWords(s *sheet.Sheet, c shelf.Correction) string {
	var says []string
	for _, f := range s.Facts() {
		if strings.HasPrefix(f.Path, strings.TrimSuffix(c.Path, "+")) && len(f.Corrections) > 0 && f.Corrections[0].Added && f.Corrections[0].When.Equal(c.When) {
			says = append(says, f.Text)
		}
	}
	return fmt.Sprintf("%s (%s, %s)", strings.Join(says, ", "), c.Who, c.When.Format("2006-01-02"))
}

func pictogramChoices() []optionView {
	out := []optionView{{"", "choose"}}
	for _, p := range ghs.Pictograms() {
		out = append(out, optionView{p.String(), p.String() + ": " + p.Name(ghs.English)})
	}
	return out
}

// addRow keeps a row that the reader missed. A row that cannot be taken comes back with the form and what is wrong with it.
func (a *App) addRow(v *visit, h held, list string) error {
	view, form, err := a.rowForm(v, h, list)
	if err != nil {
		return err
	}
	value, err := form.filled(v.r.PostForm)
	if err == nil {
		_, err = a.shelf.Correct(v.ctx(), v.by(), h.sheet.Document, view.Path, value, v.form("why"), v.form("on"))
	}
	if err != nil {
		status, words := statusOf(err)
		if status >= http.StatusInternalServerError {
			return err
		}
		view.Wrong, view.Why = words, v.form("why")
		for i, f := range view.Fields {
			if v.r.PostForm.Has(f.Name) {
				view.Fields[i].Value = v.form(f.Name)
			}
		}
		return a.show(v, http.StatusUnprocessableEntity, screen{title: view.Title, here: "shelf", name: "addrow", value: view})
	}
	return v.see("/products/"+h.product.ID+"/facts#section-"+sectionOf(h.judged.Sheet, list), "Added, with your name and reason beside it. What follows was worked out again.")
}

// sectionOf is the number of the section that a list belongs to.
func sectionOf(s *sheet.Sheet, list string) string {
	for _, l := range s.Lists() {
		if l.Path == list {
			return fmt.Sprint(l.Section)
		}
	}
	return "0"
}
