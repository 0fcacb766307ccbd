package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"sixteen/ghs"
	"sixteen/shelf"
)

// shelfView is the list of products with what is due and what is being read.
type shelfView struct {
	Heading  string
	Notices  []notice
	Reading  readingView
	Plain    bool // the first page without any filter
	Due      []dueView
	Upload   uploadView
	Query    string
	Total    int
	Filtered bool
	Choices  []choiceView
	Ticks    []tickView
	Rows     []productRow
	Paging   pagingView
	Pending  []pendingView
}

// notice tells what went wrong with one document.
type notice struct{ Name, What string }

// uploadView is the field for documents; Product is where they belong, "" when that is to be found.
type uploadView struct{ Product, Title, Token string }

type dueView struct {
	Count       int
	Words, Href string
}

type choiceView struct {
	Label, Name, Value string
	Options            []optionView
}

type tickView struct {
	Label, Name string
	On          bool
}

type productRow struct {
	ID, Name, Supplier    string
	Kit, Comparable       bool
	Signal                string
	Symbols               []symbolView
	HazardsWords          string
	Contradictions        int
	Rest, State           string
	Questions             int
	Revised, RevisedWords string
	Review                string
	Overdue               bool
}

type pendingView struct{ ID, Name, State, Why string }

// pagingView leads to the parts of a list.
type pagingView struct {
	Page, Pages, Total int
	Before, After      string
}

const perPage = 50

// pagingOf is the paging of a list whose filter stands in the query.
func pagingOf(u *url.URL, total, offset int) pagingView {
	return pagingBy(u, total, offset, perPage)
}

// pagingBy is the paging of a list with so many on each page.
func pagingBy(u *url.URL, total, offset, per int) pagingView {
	v := pagingView{Page: offset/per + 1, Pages: max(1, (total+per-1)/per), Total: total}
	at := func(page int) string {
		q := u.Query()
		q.Set("page", strconv.Itoa(page))
		return u.Path + "?" + q.Encode()
	}
	if v.Page > 1 {
		v.Before = at(v.Page - 1)
	}
	if v.Page < v.Pages {
		v.After = at(v.Page + 1)
	}
	return v
}

// partOf is the part of a list that the query asks for.
func partOf(r *http.Request) shelf.Paging {
	n, err := strconv.Atoi(r.URL.Query().Get("page"))
	if err != nil || n < 1 || n > 1_000_000 {
		n = 1
	}
	return shelf.Paging{Limit: perPage, Offset: (n - 1) * perPage}
}

func showShelf(a *App, v *visit) error { return a.showShelfWith(v, http.StatusOK, nil) }

func (a *App) showShelfWith(v *visit, status int, notices []notice) error {
	ctx := v.ctx()
	if len(notices) == 0 && v.r.URL.RawQuery == "" {
		first, err := a.firstVisit(ctx)
		if err != nil {
			return err
		}
		if first {
			return a.showWelcome(v)
		}
	}
	f, filtered := shelfFilter(v.r.URL.Query())
	f.Paging = partOf(v.r)
	page, err := a.shelf.Products(ctx, f)
	if err != nil {
		return err
	}
	view := shelfView{Heading: "Shelf", Notices: notices, Query: f.Text, Total: page.Total, Filtered: filtered, Paging: pagingOf(v.r.URL, page.Total, f.Offset),
		Plain: !filtered && f.Offset == 0, Upload: uploadView{Title: "Drop safety data sheets here, or choose them", Token: a.guard.Token(v.r)}}
	if view.Choices, view.Ticks, err = a.shelfChoices(ctx, f); err != nil {
		return err
	}
	today := a.now().Format("2006-01-02")
	for _, p := range page.Items {
		view.Rows = append(view.Rows, rowOf(p, today))
	}
	if view.Reading, err = a.reading(ctx); err != nil {
		return err
	}
	if view.Plain {
		if view.Due, err = a.due(ctx); err != nil {
			return err
		}
		if view.Pending, err = a.pending(ctx); err != nil {
			return err
		}
	}
	return a.show(v, status, screen{title: "Shelf", here: "shelf", name: "shelf", value: view})
}

// shelfFilter is the filter that a query asks for, and whether it leaves anything out.
func shelfFilter(q url.Values) (shelf.ProductFilter, bool) {
	f := shelf.ProductFilter{Text: q.Get("q"), Supplier: q.Get("supplier"), Place: q.Get("place"), State: shelf.State(q.Get("state")), DueBy: q.Get("due"),
		Flammable: q.Get("flammable") != "", Contradictory: q.Get("contradictory") != "", Kits: q.Get("kits") != "", Retired: q.Get("retired") != "",
		RuleSet: ghs.RuleSet(q.Get("rules")), Order: shelf.ProductOrder(q.Get("order"))}
	f.SignalWord, _ = ghs.ParseSignalWord(q.Get("signal")) // anything else asks for none
	f.Pictogram, _ = ghs.ParsePictogram(q.Get("pictogram"))
	filtered := false
	for _, name := range []string{"q", "supplier", "place", "state", "due", "flammable", "contradictory", "kits", "retired", "rules", "signal", "pictogram"} {
		filtered = filtered || q.Get(name) != ""
	}
	return f, filtered
}

// mostChoices is how many suppliers and places a filter offers; the search finds products by the names of the others.
const mostChoices = 300

// shelfChoices are the suppliers and places that a list can be filtered by.
type shelfChoices struct {
	suppliers []shelf.Supplier
	places    []shelf.Place
}

func (a *App) shelfChoices(ctx context.Context, f shelf.ProductFilter) ([]choiceView, []tickView, error) {
	seq, err := a.shelf.Seq(ctx)
	if err != nil {
		return nil, nil, err
	}
	all, err := a.choices.of(seq, "", func() (shelfChoices, error) {
		suppliers, err := a.shelf.Suppliers(ctx)
		if err != nil {
			return shelfChoices{}, err
		}
		places, err := a.shelf.Places(ctx)
		return shelfChoices{suppliers, places}, err
	})
	if err != nil {
		return nil, nil, err
	}
	any := optionView{"", "any"}
	bySupplier, byPlace, byPictogram := []optionView{any}, []optionView{any}, []optionView{any}
	for i, s := range all.suppliers {
		if i < mostChoices || s.ID == f.Supplier {
			bySupplier = append(bySupplier, optionView{s.ID, s.Name})
		}
	}
	for i, p := range all.places {
		if i < mostChoices || p.ID == f.Place {
			byPlace = append(byPlace, optionView{p.ID, p.Name})
		}
	}
	for _, p := range ghs.Pictograms() {
		byPictogram = append(byPictogram, optionView{p.String(), p.Name(ghs.English)})
	}
	word := func(v fmt.Stringer, none bool) string {
		if none {
			return ""
		}
		return v.String()
	}
	choices := []choiceView{
		{"Order", "order", string(f.Order), []optionView{{"", "best fit, else name"}, {"name", "name"}, {"worst", "most contradictions first"}, {"change", "last changed first"}, {"review", "due for a look first"}, {"oldest", "oldest sheet first"}, {"supplier", "supplier"}}},
		{"Signal word", "signal", word(f.SignalWord, f.SignalWord == ghs.NoSignalWord), []optionView{any, {"Danger", "Danger"}, {"Warning", "Warning"}}},
		{"Symbol", "pictogram", word(f.Pictogram, f.Pictogram == ghs.NoPictogram), byPictogram},
		{"Supplier", "supplier", f.Supplier, bySupplier},
		{"Place", "place", f.Place, byPlace},
		{"Sheet", "state", string(f.State), []optionView{any, {"none", "none on the shelf"}, {"read", "read"}, {"waiting", "waits to be read"}, {"failed", "could not be read"}}},
	}
	ticks := []tickView{{"Burns", "flammable", f.Flammable}, {"With contradictions", "contradictory", f.Contradictory}, {"Kits", "kits", f.Kits}, {"Taken off the shelf", "retired", f.Retired}}
	return choices, ticks, nil
}

// rowOf is one product in the list.
func rowOf(p shelf.ProductLine, today string) productRow {
	r := productRow{ID: p.ID, Name: p.Name, Supplier: p.SupplierName, Kit: len(p.Parts) > 0, Questions: p.OpenQuestions, Review: p.ReviewDue, Overdue: p.ReviewDue != "" && p.ReviewDue <= today}
	switch s := p.InForce; {
	case s != nil:
		r.Comparable = true
		if s.SignalWord != ghs.NoSignalWord {
			r.Signal = s.SignalWord.String()
		}
		for _, g := range s.Pictograms {
			if g != ghs.NoPictogram {
				r.Symbols = append(r.Symbols, symbolOf(g))
			}
		}
		if r.Signal == "" && len(r.Symbols) == 0 {
			r.HazardsWords = "none stated"
		}
		if r.Supplier == "" {
			r.Supplier = s.Supplier
		}
		r.Contradictions, r.Rest = s.Contradictions, restOf(*s)
		r.Revised, r.RevisedWords = s.RevisionDate, "no date stated"
	case r.Kit:
		r.HazardsWords, r.State, r.RevisedWords = "see its parts", "worked out on its page", "see its parts"
	case p.Waiting > 0:
		r.HazardsWords, r.State, r.RevisedWords = "not known yet", "being read", "being read"
	default:
		r.HazardsWords, r.State, r.RevisedWords = "not known: no sheet", "nothing to check", "no sheet"
	}
	return r
}

// restOf are the findings besides contradictions, in words.
func restOf(s shelf.Summary) string {
	var out []string
	for _, c := range []struct {
		n         int
		one, many string
	}{{s.Gaps, "gap", "gaps"}, {s.Doubts, "doubt", "doubts"}, {s.Notes, "note", "notes"}} {
		if c.n > 0 {
			out = append(out, plural(c.n, c.one, c.many))
		}
	}
	if len(out) == 0 && s.Contradictions == 0 {
		return "nothing found to ask about"
	}
	return join(out)
}

func join(words []string) string {
	out := ""
	for i, w := range words {
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}

// pending are the documents that belong to no product: those that could not be read, and those that are no sheet.
func (a *App) pending(ctx context.Context) ([]pendingView, error) {
	page, err := a.shelf.Sheets(ctx, shelf.SheetFilter{States: []shelf.State{shelf.Failed, shelf.NoSheet, shelf.Cancelled}, Paging: shelf.Paging{Limit: 20}})
	if err != nil {
		return nil, err
	}
	var out []pendingView
	for _, s := range page.Items {
		p := pendingView{ID: s.ID, Name: s.FileName, State: stateWords(s.State), Why: s.Failure}
		if s.State == shelf.NoSheet && p.Why == "" {
			p.Why = "It holds none of the sections of a sheet. Put the right document here."
		}
		out = append(out, p)
	}
	return out, nil
}

// due is what waits for a person.
func (a *App) due(ctx context.Context) ([]dueView, error) {
	seq, err := a.shelf.Seq(ctx)
	if err != nil {
		return nil, err
	}
	today := a.now().Format("2006-01-02")
	return a.dues.of(seq, today, func() ([]dueView, error) { return a.dueOn(ctx, today) })
}

func (a *App) dueOn(ctx context.Context, today string) ([]dueView, error) {
	count := func(f shelf.ProductFilter) (int, error) {
		f.Paging = shelf.Paging{Limit: 1}
		p, err := a.shelf.Products(ctx, f)
		return p.Total, err
	}
	reviews, err1 := count(shelf.ProductFilter{DueBy: today})
	wrong, err2 := count(shelf.ProductFilter{Contradictory: true})
	none, err3 := count(shelf.ProductFilter{State: "none"})
	questions, err4 := a.shelf.Questions(ctx, shelf.QuestionFilter{Open: true, Paging: shelf.Paging{Limit: 1}})
	papers, err5 := a.shelf.Papers(ctx, shelf.PaperFilter{Outdated: true, Paging: shelf.Paging{Limit: 1}})
	for _, err := range []error{err1, err2, err3, err4, err5} {
		if err != nil {
			return nil, err
		}
	}
	out := []dueView{
		{wrong, "with contradictions in the sheet", "/?contradictory=1&order=worst"},
		{papers.Total, "papers made from an older revision", "/papers?outdated=1"},
		{questions.Total, "open questions to suppliers", "/questions"},
		{reviews, "due for another look", "/?due=" + today + "&order=review"},
		{none, "without a sheet", "/?state=none"},
	}
	return slices.DeleteFunc(out, func(d dueView) bool { return d.Count == 0 }), nil
}
