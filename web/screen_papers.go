package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"sixteen/paper"
	"sixteen/shelf"
)

// productPapersView is the papers of one product: those that exist, and the forms that make further ones.
type productPapersView struct {
	Head   productHead
	Rows   []paperRow
	Wrong  string
	F      paperOptions
	Sort   string
	Sizes  []optionView
	Stocks []optionView
	Langs  []optionView
	Lang1  string
	Lang2  string
}

type paperRow struct {
	ID, Product, Title, How, Made, Outdated, Read string
	JobHref                                       string
}

func showProductPapers(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	settings, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	o := paperOptions{Size: "105x74"}
	for _, l := range settings.Languages {
		o.Langs = append(o.Langs, string(l))
	}
	return a.showPapersWith(v, http.StatusOK, h, string(shelf.WorkplaceLabel), o, "")
}

func (a *App) showPapersWith(v *visit, status int, h held, sort string, o paperOptions, wrong string) error {
	view := productPapersView{Head: h.head("/papers"), Wrong: wrong, F: o, Sort: sort, Langs: languages(), Stocks: []optionView{{"", "none: one label on a page of its own size"}}}
	if len(o.Langs) > 0 {
		view.Lang1 = o.Langs[0]
	}
	if len(o.Langs) > 1 {
		view.Lang2 = o.Langs[1]
	}
	for _, s := range paper.LabelSizes() {
		view.Sizes = append(view.Sizes, optionView{s.String(), s.String() + " mm"})
	}
	for _, s := range paper.Stocks() {
		view.Stocks = append(view.Stocks, optionView{s.Name, fmt.Sprintf("%s: %d labels of %s mm", s.Name, s.Columns*s.Rows, s.Label)})
	}
	page, err := a.shelf.Papers(v.ctx(), shelf.PaperFilter{Product: h.product.ID, Paging: shelf.Paging{Limit: 100}})
	if err != nil {
		return err
	}
	for _, p := range page.Items {
		row, err := a.paperRow(v, p)
		if err != nil {
			return err
		}
		view.Rows = append(view.Rows, row)
	}
	return a.show(v, status, screen{title: h.product.Name + ": papers", here: "papers", name: "productpapers", value: view})
}

func (a *App) paperRow(v *visit, p shelf.Paper) (paperRow, error) {
	o, err := optionsOf(p)
	if err != nil {
		return paperRow{}, err
	}
	row := paperRow{ID: p.ID, Product: p.Product, Title: p.Title, How: howMade(p, o), Made: dayShown(p.Added)}
	if !p.Outdated.IsZero() {
		row.Outdated = "outdated since " + dayShown(p.Outdated)
	}
	read, err := a.shelf.Acknowledgements(v.ctx(), p.ID)
	if err != nil {
		return row, err
	}
	var names []string
	for _, r := range read {
		names = append(names, r.Person)
	}
	row.Read = strings.Join(names, ", ")
	return row, nil
}

// makeProductPaper makes a paper, keeps that it was made, and shows it.
func makeProductPaper(a *App, v *visit) error {
	h, err := a.read(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	o := paperOptions{Size: v.form("size"), Stock: v.form("stock"), Page: v.form("page"), Where: v.form("where")}
	for _, name := range []string{"lang1", "lang2"} {
		if l := v.form(name); l != "" && (len(o.Langs) == 0 || o.Langs[0] != l) {
			o.Langs = append(o.Langs, l)
		}
	}
	o.Start, _ = strconv.Atoi(v.form("start"))   // no number is the first place
	o.Copies, _ = strconv.Atoi(v.form("copies")) // no number is one
	o.Copies = min(max(o.Copies, 1), 500)
	if v.form("qr") != "" {
		o.Link = "http://" + v.r.Host + "/products/" + h.product.ID
	}
	sort := shelf.PaperSort(v.form("sort"))
	if ml := strings.ReplaceAll(v.form("ml"), ",", "."); ml != "" {
		if o.ML, err = strconv.ParseFloat(ml, 64); err != nil || o.ML <= 0 {
			return a.showPapersWith(v, http.StatusUnprocessableEntity, h, string(sort), o, fmt.Sprintf("The size of the container “%s” is no number of millilitres.", ml))
		}
	}
	p, err := a.keepPaper(v.ctx(), v.by(), h, sort, o)
	if err != nil {
		status, words := statusOf(err)
		if status >= 500 {
			return err
		}
		return a.showPapersWith(v, status, h, string(sort), o, words)
	}
	return v.see("/papers/"+p.ID, "The paper is made and on record.")
}

// keepPaper makes a paper of a product and keeps that it was made.
func (a *App) keepPaper(ctx context.Context, by string, h held, sort shelf.PaperSort, o paperOptions) (shelf.Paper, error) {
	made, err := a.makePaper(ctx, sort, h.product.Sheet, o)
	if err != nil {
		return shelf.Paper{}, err
	}
	raw, err := json.Marshal(o)
	if err != nil {
		return shelf.Paper{}, err
	}
	p := shelf.Paper{Sort: sort, Title: paperTitle(sort, h.product.Name), Product: h.product.ID, Sheet: h.product.Sheet, Size: o.Size, Copies: o.Copies, Options: raw, Language: firstLang(o)}
	if made.label != nil {
		p.Size = made.label.Size.String()
	}
	return a.shelf.AddPaper(ctx, by, p)
}

// paperView is one paper: what it looks like, whether it still holds, who has read it.
type paperView struct {
	ID, Title, How, Made, By string
	Product, ProductName     string
	Outdated, Gone           string
	Picture, PDF, HTML       string
	LeftOff                  []string
	Read                     []pair
	Wrong                    string
}

func showPaper(a *App, v *visit) error {
	p, o, err := a.paperOf(v)
	if err != nil {
		return err
	}
	view := paperView{ID: p.ID, Title: p.Title, How: howMade(p, o), Made: dayShown(p.Added), Product: p.Product}
	if p.Product != "" {
		product, err := a.shelf.Product(v.ctx(), p.Product)
		if err != nil {
			return err
		}
		view.ProductName = product.Name
	}
	if !p.Outdated.IsZero() {
		view.Outdated = dayShown(p.Outdated)
	}
	if !p.Retired.IsZero() {
		view.Gone = dayShown(p.Retired) + ": " + p.RetiredWhy
	}
	made, err := a.makePaper(v.ctx(), p.Sort, p.Sheet, o)
	if err != nil {
		status, words := statusOf(err)
		if status >= 500 {
			return err
		}
		view.Wrong = words
	} else {
		view.PDF = "/papers/" + p.ID + "/paper.pdf"
		if made.label != nil {
			view.Picture, view.LeftOff = "/papers/"+p.ID+"/paper.svg", made.label.LeftOff
		}
	}
	read, err := a.shelf.Acknowledgements(v.ctx(), p.ID)
	if err != nil {
		return err
	}
	for _, r := range read {
		view.Read = append(view.Read, pair{r.Person, r.When.Local().Format("2006-01-02 15:04")})
	}
	return a.show(v, http.StatusOK, screen{title: p.Title, here: "papers", name: "paper", value: view})
}

func (a *App) paperOf(v *visit) (shelf.Paper, paperOptions, error) {
	p, err := a.shelf.Paper(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return p, paperOptions{}, onShelf(err, "There is no such paper on this shelf.")
	}
	o, err := optionsOf(p)
	return p, o, err
}

// showPaperPDF prints a paper again, from the revision that it was made from.
func showPaperPDF(a *App, v *visit) error {
	p, o, err := a.paperOf(v)
	if err != nil {
		return err
	}
	made, err := a.makePaper(v.ctx(), p.Sort, p.Sheet, o)
	if err != nil {
		return err
	}
	raw, err := made.pdf(p.Added)
	if err != nil {
		return err
	}
	sendFile(v, strings.ReplaceAll(p.Title, ": ", " ")+".pdf", "application/pdf", raw)
	return nil
}

func showPaperSVG(a *App, v *visit) error {
	p, o, err := a.paperOf(v)
	if err != nil {
		return err
	}
	made, err := a.makePaper(v.ctx(), p.Sort, p.Sheet, o)
	if err != nil {
		return err
	}
	raw, err := made.svg()
	if err != nil {
		return err
	}
	send(v.w, v.r, http.StatusOK, "image/svg+xml", raw)
	return nil
}

// paperRead records that a person has read a paper.
func paperRead(a *App, v *visit) error {
	if _, err := a.shelf.Acknowledge(v.ctx(), v.by(), v.r.PathValue("id"), v.form("person")); err != nil {
		return err
	}
	return v.see("/papers/"+v.r.PathValue("id"), v.form("person")+" has read it; that is on record.")
}

// paperGone records that a paper was thrown away or replaced.
func paperGone(a *App, v *visit) error {
	if err := a.shelf.RetirePaper(v.ctx(), v.by(), v.r.PathValue("id"), v.form("why")); err != nil {
		return err
	}
	return v.see("/papers", "The paper is on record as gone.")
}

// papersView is every paper in use.
type papersView struct {
	Outdated bool
	Rows     []paperRow
	Paging   pagingView
}

func showPapers(a *App, v *visit) error {
	view := papersView{Outdated: v.r.URL.Query().Get("outdated") != ""}
	f := shelf.PaperFilter{Outdated: view.Outdated, Paging: partOf(v.r)}
	page, err := a.shelf.Papers(v.ctx(), f)
	if err != nil {
		return err
	}
	view.Paging = pagingOf(v.r.URL, page.Total, f.Offset)
	for _, p := range page.Items {
		row, err := a.paperRow(v, p)
		if err != nil {
			return err
		}
		view.Rows = append(view.Rows, row)
	}
	return a.show(v, http.StatusOK, screen{title: "Papers", here: "papers", name: "papers-list", value: view})
}
