package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"sixteen/audit"
	"sixteen/shelf"
)

// revisionsView is the revisions of a product's sheet, what one of them changed in meaning, and what happened.
type revisionsView struct {
	Head     productHead
	Rows     []revisionView
	Compared string // which two, "" when none is asked for
	Changes  changesView
	Upload   uploadView
	Trail    []entryView
}

type revisionView struct {
	ID, Dated, File, Came, State string
	InForce, Before, Chosen      bool
}

type changesView struct {
	Mind    []string
	Changes []changeView
	Advice  []string
}

type changeView struct {
	Direction, Harm, What, Was, Is, Means string
	Section                               int
	Papers                                bool
}

type entryView struct{ When, Who, What, Note string }

func showRevisions(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	all, err := a.shelf.Revisions(v.ctx(), h.product.ID)
	if err != nil {
		return err
	}
	view := revisionsView{Head: h.head("/revisions"), Upload: uploadView{Token: a.guard.Token(v.r), Product: h.product.ID, Title: "Drop the new sheet of this product here"}}
	of := v.r.URL.Query().Get("of")
	if of == "" && h.judged != nil && h.sheet.Supersedes != "" {
		of = h.sheet.ID
	}
	for _, s := range all {
		view.Rows = append(view.Rows, revisionView{ID: s.ID, Dated: s.RevisionDate, File: s.FileName, Came: dayShown(s.Added), State: stateWords(s.State),
			InForce: s.ID == h.product.Sheet, Before: s.Supersedes != "", Chosen: s.ID == of})
		if s.ID == of && s.Supersedes != "" {
			if before := slices.IndexFunc(all, func(o shelf.Sheet) bool { return o.ID == s.Supersedes }); before >= 0 {
				view.Compared = fmt.Sprintf("revision of %s against revision of %s", orUndated(s.RevisionDate), orUndated(all[before].RevisionDate))
				view.Changes = changesOf(all[before], s)
			}
		}
	}
	trail, err := a.shelf.Trail(v.ctx(), shelf.TrailFilter{Kind: shelf.ProductKind, Ref: h.product.ID, Paging: shelf.Paging{Limit: 40}})
	if err != nil {
		return err
	}
	for _, e := range trail.Items {
		view.Trail = append(view.Trail, entryView{When: e.At.Local().Format("2006-01-02 15:04"), Who: e.Who, What: e.What, Note: e.Note})
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": revisions", here: "shelf", name: "revisions", value: view})
}

func orUndated(date string) string {
	if date == "" {
		return "no date"
	}
	return date
}

// stateWords is the state of a sheet's reading in words.
func stateWords(s shelf.State) string {
	switch s {
	case shelf.Waiting:
		return "waits to be read"
	case shelf.Reading:
		return "is being read"
	case shelf.Read:
		return "read"
	case shelf.NoSheet:
		return "is no safety data sheet"
	case shelf.Failed:
		return "could not be read"
	case shelf.Cancelled:
		return "reading was stopped"
	}
	return string(s)
}

// changesOf is what a revision changes against the one before.
func changesOf(before, s shelf.Sheet) changesView {
	var v changesView
	if before.Name != "" && !strings.EqualFold(before.Name, s.Name) {
		v.Mind = append(v.Mind, fmt.Sprintf("The older sheet is of “%s”, the newer one of “%s”: make sure that they are of one product.", before.Name, s.Name))
	}
	milder, papers := false, false
	for _, c := range s.Changes {
		v.Changes = append(v.Changes, changeView{Direction: string(c.Direction), Harm: c.Harm.String(), What: c.What, Was: c.Was.Text, Is: c.Is.Text, Means: c.Means, Section: c.Section, Papers: c.Papers})
		papers = papers || c.Papers
		milder = milder || c.Papers && c.Direction == audit.Milder
	}
	if papers {
		v.Advice = append(v.Advice, "Labels, cards and plans made from the older revision are marked as outdated. Take them back and make them anew.")
	}
	if milder {
		v.Advice = append(v.Advice, "Where the new sheet warns of less, see first which ingredient, share or measurement explains it; while none does, keep the older, stricter words.")
	}
	return v
}

// sheetOff takes a revision off a product, with the reason. The one before it is in force again.
func sheetOff(a *App, v *visit) error {
	s, err := a.shelf.Sheet(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	if err := a.shelf.RetireSheet(v.ctx(), v.by(), s.ID, v.form("why")); err != nil {
		return err
	}
	if s.Product == "" {
		return v.see("/", s.FileName+" is off the shelf.")
	}
	return v.see("/products/"+s.Product+"/revisions", s.FileName+" is off the shelf; the document is kept.")
}
