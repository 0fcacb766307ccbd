package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"sixteen/audit"
	"sixteen/judge"
	"sixteen/sheet"
)

// factsView is the list of facts beside the pages.
type factsView struct {
	Head productHead
	J    judgementView
}

func showFacts(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	view := factsView{Head: h.head("/facts")}
	if h.judged != nil {
		m := newMarks()
		view.J = factsOnly(h, m)
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": facts", here: "shelf", name: "facts", value: view})
}

// factsOnly is the part of a judgement's view that lists what was read and what follows from the ingredients.
func factsOnly(h held, m *marks) judgementView {
	j := judgementView{PageCount: len(h.judged.Sheet.Source.Pages)}
	j.conclusions(h.judged, m)
	j.sections(h.judged.Sheet, m)
	j.Strip = stripOf(h.judged, "#section-%d")
	j.Pages = m.pages(h.judged.Sheet.Source, pictureAddress(h.sheet), pageDPI)
	return j
}

// correctView is the form that corrects one fact, or the choice of a fact that was not read.
type correctView struct {
	ID, Product, Title string
	Path               string
	Fact               factView
	Fields             []fieldView
	Why, Wrong         string
	On                 string // the correction that the reader saw last
	Chooser            bool   // the choice of a fact, not its form
	Choose             []factView
	Lists              []listView // that take a further row, where the choice or the form of one is shown
	J                  judgementView
}

func showCorrect(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	q := v.r.URL.Query()
	if list := q.Get("add"); list != "" {
		view, _, err := a.rowForm(v, h, list)
		if err != nil {
			return err
		}
		return a.show(v, http.StatusOK, screen{title: view.Title, here: "shelf", name: "addrow", value: view})
	}
	if n, err := strconv.Atoi(q.Get("section")); err == nil {
		return a.show(v, http.StatusOK, screen{title: "Add what was not read", here: "shelf", name: "correct", value: chooseFact(h, n)})
	}
	view, err := a.correctForm(v, h, q.Get("path"))
	if err != nil {
		return err
	}
	return a.show(v, http.StatusOK, screen{title: view.Title, here: "shelf", name: "correct", value: view})
}

// chooseFact lists the facts of a section that the reader found nothing for.
func chooseFact(h held, n int) correctView {
	view := correctView{ID: h.product.ID, Product: h.product.Name, Title: "What was not read in section " + judge.SectionTitle(n), Chooser: true}
	for _, f := range h.judged.Sheet.Facts() {
		if f.Section == n && f.State == sheet.NotStated {
			view.Choose = append(view.Choose, factView{Path: f.Path, Label: f.Label, State: judge.StateShown(f.State)})
		}
	}
	for _, l := range h.judged.Sheet.Lists() {
		if l.Section == n {
			view.Lists = append(view.Lists, listView{l.Path, l.Label})
		}
	}
	return view
}

func (a *App) correctForm(v *visit, h held, path string) (correctView, error) {
	view := correctView{ID: h.product.ID, Product: h.product.Name, Path: path}
	m := newMarks()
	found := false
	for _, f := range h.judged.Sheet.Facts() {
		if f.Path == path {
			view.Fact, found = factOf(f, m), true
			view.Title = "Correct: " + f.Label
		}
	}
	if !found {
		return view, missing("There is no such fact in this sheet. Choose one in the list of facts.")
	}
	raw, err := h.judged.Sheet.Value(path)
	if err != nil {
		return view, err
	}
	form, err := parseFact(raw)
	if err != nil {
		return view, err
	}
	view.Fields = form.fields()
	view.J = judgementView{PageCount: len(h.judged.Sheet.Source.Pages), Pages: m.pages(h.judged.Sheet.Source, pictureAddress(h.sheet), pageDPI)}
	for i := range view.J.Pages {
		for k := range view.J.Pages[i].Marks {
			view.J.Pages[i].Marks[k].On = true
		}
	}
	view.On, err = a.lastCorrection(v, h, path)
	return view, err
}

// lastCorrection is the ID of the last correction of a fact that holds, "" when there is none.
func (a *App) lastCorrection(v *visit, h held, path string) (string, error) {
	all, err := a.shelf.Corrections(v.ctx(), h.sheet.Document)
	last := ""
	for _, c := range all {
		if c.Path == path {
			last = c.ID
		}
	}
	return last, err
}

// correct keeps a correction. A value that cannot be taken comes back with the form and what is wrong with it.
func correct(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	path, why := v.form("path"), v.form("why")
	if list, ok := strings.CutSuffix(path, ".+"); ok {
		return a.addRow(v, h, list)
	}
	view, err := a.correctForm(v, h, path)
	if err != nil {
		return err
	}
	raw, err := h.judged.Sheet.Value(path)
	if err != nil {
		return err
	}
	form, err := parseFact(raw)
	if err != nil {
		return err
	}
	value := []byte("null")
	if v.form("silent") == "" {
		value, err = form.filled(v.r.PostForm)
	}
	if err == nil {
		_, err = a.shelf.Correct(v.ctx(), v.by(), h.sheet.Document, path, value, why, v.form("on"))
	}
	if err != nil {
		view.Wrong, view.Why = wordsOf(err), why
		for i, f := range view.Fields {
			if v.r.PostForm.Has(f.Name) {
				view.Fields[i].Value = v.form(f.Name)
			}
		}
		return a.show(v, http.StatusUnprocessableEntity, screen{title: view.Title, here: "shelf", name: "correct", value: view})
	}
	return v.see(fmt.Sprintf("/products/%s/facts#fact-%s", h.product.ID, path), "Corrected. The value as read stays beside it, and what follows was worked out again.")
}

// uncorrect takes the last correction of a fact back.
func uncorrect(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	path := v.form("path")
	if err := a.shelf.Uncorrect(v.ctx(), v.by(), h.sheet.Document, path); err != nil {
		return err
	}
	if _, ok := strings.CutSuffix(path, ".+"); ok {
		return v.see("/products/"+h.product.ID+"/facts", "The row that was added last was taken back, and what follows was worked out again.")
	}
	return v.see(fmt.Sprintf("/products/%s/facts#fact-%s", h.product.ID, path), "The last correction was taken back.")
}

// overrule sets a finding aside with a reason.
func overrule(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	id := v.form("finding")
	if !slices.ContainsFunc(h.judged.Report.Findings, func(f audit.Finding) bool { return f.ID == id }) {
		return missing("There is no such finding in this sheet any more. Go back to the product and look again.")
	}
	if _, err := a.shelf.Overrule(v.ctx(), v.by(), h.sheet.Document, id, v.form("why")); err != nil {
		return err
	}
	return v.see("/products/"+h.product.ID+"#f-"+id, "Set aside, with your name and reason beside it.")
}

// reinstate takes an overruling back.
func reinstate(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	id := v.form("finding")
	if err := a.shelf.Reinstate(v.ctx(), v.by(), h.sheet.Document, id); err != nil {
		return err
	}
	return v.see("/products/"+h.product.ID+"#f-"+id, "The finding stands again.")
}
