package web

import (
	"fmt"
	"net/http"

	"sixteen/judge"
)

// tourView is the walk through the sixteen sections.
type tourView struct {
	Head  productHead
	Traps []string
	Strip []cellView
	Stops []stopView

	pageLink string
}

// PageLink is the address of a page of the sheet.
func (t tourView) PageLink(n int) string { return fmt.Sprintf(t.pageLink, n) }

type stopView struct {
	judge.Stop
	Findings []findingView
}

func showTour(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	view := tourView{Head: h.head("/tour")}
	if h.judged != nil {
		view.pageLink = "/products/" + h.product.ID + "/facts#page-%d"
		view.Traps = judge.Traps(h.judged.Sheet)
		view.Strip = stripOf(h.judged, "#section-%d")
		m := newMarks()
		for _, s := range judge.Tour(h.judged.Sheet) {
			stop := stopView{Stop: s}
			for _, f := range h.judged.Report.Open() {
				if f.Section == s.Section {
					stop.Findings = append(stop.Findings, findingOf(f, m))
				}
			}
			view.Stops = append(view.Stops, stop)
		}
	}
	return a.show(v, http.StatusOK, screen{title: h.product.Name + ": tour", here: "shelf", name: "tour", value: view})
}
