package web

import (
	"context"
	"errors"
	"fmt"

	"sixteen/audit"
	"sixteen/judge"
	"sixteen/shelf"
)

// held is one product with the sheet in force and its judgement, as every screen about a product needs it.
type held struct {
	product shelf.Product
	sheet   shelf.Sheet
	judged  *judge.Judgement // nil while there is no sheet that was read
	newest  *shelf.Sheet     // the newest sheet when none is in force: it says why
	kits    []shelf.Product  // of which it is a part
}

// held takes a product off the shelf.
func (a *App) held(ctx context.Context, id string) (held, error) {
	var h held
	var err error
	if h.product, err = a.shelf.Product(ctx, id); err != nil {
		return h, onShelf(err, "There is no such product on this shelf. It may stand under another name: search for it.")
	}
	if h.kits, err = a.shelf.KitsWith(ctx, id); err != nil {
		return h, err
	}
	if h.product.Sheet == "" {
		all, err := a.shelf.Revisions(ctx, id)
		if err == nil && len(all) > 0 {
			h.newest = &all[0]
		}
		return h, err
	}
	h.judged, h.sheet, err = a.shelf.JudgementOf(ctx, h.product.Sheet)
	return h, err
}

// read is held for screens that need a judged sheet.
func (a *App) read(ctx context.Context, id string) (held, error) {
	h, err := a.held(ctx, id)
	if err == nil && h.judged == nil {
		err = refused("This product has no sheet that could be read yet. Put its sheet on the shelf first.")
	}
	return h, err
}

// aCase is the case of a judgement that was kept, for the papers of package audit.
func (a *App) aCase(j *judge.Judgement) *audit.Case {
	if c := j.Case(); c != nil {
		return c
	}
	return &audit.Case{Sheet: j.Sheet, RuleSet: j.RuleSet, Substances: a.desk.Substances(), Today: j.AsOf}
}

// onShelf replaces the error of something that is not there by words of the page.
func onShelf(err error, what string) error {
	if errors.Is(err, shelf.ErrNotFound) {
		return missing(what)
	}
	return err
}

// productHead is what every page about one product has at its top.
type productHead struct {
	ID, Name  string
	Head      []pair
	Gone      string
	Hurt      hurtView
	Tabs      []tabView
	Kits      []kitLink
	NoSheet   string // why there is nothing to show
	NoSheetDo string
}

type hurtView struct {
	Href string
	Aids []aidView
}

type kitLink struct{ ID, Name string }

type tabView struct {
	Title, Href string
	Here        bool
	Count       int
}

// head is the head of a product's page; here is the address of the tab that is shown.
func (h held) head(here string) productHead {
	base := "/products/" + h.product.ID
	v := productHead{ID: h.product.ID, Name: h.product.Name, Hurt: hurtView{Href: base + "/emergency"}}
	for _, c := range aidCases() {
		v.Hurt.Aids = append(v.Hurt.Aids, aidView{ID: c.id, Title: c.title})
	}
	for _, k := range h.kits {
		v.Kits = append(v.Kits, kitLink{k.ID, k.Name})
	}
	if !h.product.Retired.IsZero() {
		v.Gone = dayShown(h.product.Retired) + ": " + h.product.RetiredWhy
	}
	for _, t := range []tabView{{Title: "What it can do", Href: ""}, {Title: "Facts", Href: "/facts"}, {Title: "Tour", Href: "/tour"}, {Title: "Label", Href: "/label"},
		{Title: "Claims", Href: "/claims"}, {Title: "Revisions", Href: "/revisions"}, {Title: "Questions", Href: "/questions"}, {Title: "Papers", Href: "/papers"}, {Title: "Where it stands", Href: "/edit"}} {
		t.Here = t.Href == here
		t.Href = base + t.Href
		v.Tabs = append(v.Tabs, t)
	}
	if h.judged != nil {
		v.Head = headOf(h.judged)
	} else {
		v.NoSheet, v.NoSheetDo = h.without()
	}
	return v
}

// without says why there is no judgement, and what to do.
func (h held) without() (what, do string) {
	switch {
	case h.newest == nil:
		return "No sheet is on the shelf for this product", "That is not the same as no hazard. Ask the supplier for the safety data sheet and put it here."
	case h.newest.State == shelf.Waiting || h.newest.State == shelf.Reading:
		return "The sheet is being read", "Look again in a moment. Pictures of pages take longest."
	case h.newest.State == shelf.NoSheet:
		return "The document is no safety data sheet", fmt.Sprintf("%s was read and holds none of the sections of a sheet. Put the right document here.", h.newest.FileName)
	case h.newest.State == shelf.Cancelled:
		return "Reading the sheet was stopped", "Have it read again, or put it here anew."
	}
	return "The sheet could not be read", h.newest.Failure
}
