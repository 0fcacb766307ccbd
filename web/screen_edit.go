package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"sixteen/ghs"
	"sixteen/shelf"
)

// editView is what a person says of a product: its name, supplier and law, where it stands, when to look again.
type editView struct {
	Head                                                    productHead
	New, Gone                                               bool
	Action, Wrong                                           string
	Version                                                 int64
	Name, Code, Supplier, UsedFor, Rules, Months, Due, Note string
	RuleSets                                                []optionView
	Suppliers                                               []string
	Stock                                                   []stockView
	Places                                                  []optionView
	Units                                                   []string
}

func ruleSets() []optionView {
	out := []optionView{{"", "the law that its sheet is written for"}}
	for _, rs := range ghs.RuleSets() {
		out = append(out, optionView{string(rs), rs.Name()})
	}
	return out
}

func showNewProduct(a *App, v *visit) error {
	return a.showEditWith(v, http.StatusOK, held{}, shelf.Product{}, "", "")
}

func showEdit(a *App, v *visit) error {
	h, err := a.held(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	if len(h.product.Parts) > 0 {
		return v.see("/kits/"+h.product.ID+"/edit", "")
	}
	supplier, err := a.supplierName(v, h.product.Supplier)
	if err != nil {
		return err
	}
	return a.showEditWith(v, http.StatusOK, h, h.product, supplier, "")
}

func (a *App) supplierName(v *visit, id string) (string, error) {
	if id == "" {
		return "", nil
	}
	s, err := a.shelf.Supplier(v.ctx(), id)
	return s.Name, err
}

func (a *App) showEditWith(v *visit, status int, h held, p shelf.Product, supplier, wrong string) error {
	view := editView{New: h.product.ID == "", Action: "/products/new", Wrong: wrong, Version: p.Version, Name: p.Name, Code: p.Code, Supplier: supplier, UsedFor: p.UsedFor,
		Rules: string(p.RuleSet), Due: p.ReviewDue, Note: p.Note, RuleSets: ruleSets(), Units: shelf.Units()}
	if p.ReviewMonths > 0 {
		view.Months = strconv.Itoa(p.ReviewMonths)
	}
	suppliers, err := a.shelf.Suppliers(v.ctx())
	if err != nil {
		return err
	}
	for _, s := range suppliers {
		view.Suppliers = append(view.Suppliers, s.Name)
	}
	title := "A product without a sheet yet"
	if !view.New {
		title = h.product.Name + ": where it stands"
		view.Head, view.Gone, view.Action = h.head("/edit"), !h.product.Retired.IsZero(), "/products/"+h.product.ID+"/edit"
		if err := a.fillStock(v, &view, h.product.ID); err != nil {
			return err
		}
	}
	return a.show(v, status, screen{title: title, here: "shelf", name: "productedit", value: view})
}

func (a *App) fillStock(v *visit, view *editView, product string) error {
	places, err := a.shelf.Places(v.ctx())
	if err != nil {
		return err
	}
	names := map[string]string{}
	for _, p := range places {
		names[p.ID] = p.Name
		view.Places = append(view.Places, optionView{p.ID, p.Name})
	}
	stock, err := a.shelf.Stock(v.ctx(), shelf.StockFilter{Product: product})
	for _, s := range stock {
		view.Stock = append(view.Stock, stockView{ID: s.ID, Place: s.Place, PlaceName: names[s.Place], Amount: amountWords(s), Container: s.Container, Expires: s.Expires})
	}
	return err
}

// keepProduct keeps a new or a changed product. What cannot be kept comes back in the form.
func keepProduct(a *App, v *visit) error {
	h := held{}
	id := v.r.PathValue("id")
	if id != "" {
		var err error
		if h, err = a.held(v.ctx(), id); err != nil {
			return err
		}
	}
	p := h.product
	if id != "" {
		p.Version, _ = strconv.ParseInt(v.form("version"), 10, 64) // no number is version 0, a conflict
	}
	p.Name, p.Code, p.UsedFor, p.Note, p.RuleSet, p.ReviewDue = v.form("name"), v.form("code"), v.form("used"), v.form("note"), ghs.RuleSet(v.form("rules")), v.form("due")
	supplier := v.form("supplier")
	err := a.setProduct(v, &p, supplier)
	if err == nil && id == "" {
		p, err = a.shelf.AddProduct(v.ctx(), v.by(), p)
	} else if err == nil {
		p, err = a.shelf.EditProduct(v.ctx(), v.by(), p)
	}
	if err != nil {
		status, words := statusOf(err)
		if status >= 500 {
			return err
		}
		return a.showEditWith(v, status, h, p, supplier, words)
	}
	if id == "" {
		return v.see("/products/"+p.ID, p.Name+" is on the shelf. Put its sheet here as soon as you have it.")
	}
	return v.see("/products/"+p.ID+"/edit", "Kept.")
}

// setProduct sets what is not taken as typed: the months, and the supplier by name.
func (a *App) setProduct(v *visit, p *shelf.Product, supplier string) error {
	p.ReviewMonths = 0
	if m := v.form("months"); m != "" {
		n, err := strconv.Atoi(m)
		if err != nil {
			return refused(fmt.Sprintf("“%s” is no number of months.", m))
		}
		p.ReviewMonths = n
	}
	p.Supplier = ""
	if supplier == "" {
		return nil
	}
	all, err := a.shelf.Suppliers(v.ctx())
	if err != nil {
		return err
	}
	for _, s := range all {
		if strings.EqualFold(s.Name, supplier) {
			p.Supplier = s.ID
			return nil
		}
	}
	s, err := a.shelf.AddSupplier(v.ctx(), v.by(), shelf.Supplier{Name: supplier})
	p.Supplier = s.ID
	return err
}

func addStock(a *App, v *visit) error {
	s := shelf.Stock{Product: v.r.PathValue("id"), Place: v.form("place"), Unit: v.form("unit"), Container: v.form("container"), Batch: v.form("batch"), Opened: v.form("opened"), Expires: v.form("expires")}
	if amount := strings.ReplaceAll(v.form("amount"), ",", "."); amount != "" {
		n, err := strconv.ParseFloat(amount, 64)
		if err != nil {
			return refused(fmt.Sprintf("“%s” is no amount. Write it with digits, such as 2.5, or leave it empty when it is not known.", amount))
		}
		s.Amount = &n
	}
	if _, err := a.shelf.AddStock(v.ctx(), v.by(), s); err != nil {
		return err
	}
	return v.see("/products/"+s.Product+"/edit#stock", "The amount is kept.")
}

func stockGone(a *App, v *visit) error {
	if err := a.shelf.RetireStock(v.ctx(), v.by(), v.r.PathValue("stock"), v.form("why")); err != nil {
		return err
	}
	return v.see("/products/"+v.r.PathValue("id")+"/edit#stock", "It is on record as gone.")
}

func reviewed(a *App, v *visit) error {
	p, err := a.shelf.Reviewed(v.ctx(), v.by(), v.r.PathValue("id"), v.form("note"))
	if err != nil {
		return err
	}
	said := "Looked at today."
	if p.ReviewDue != "" {
		said += " The next look is due on " + p.ReviewDue + "."
	}
	return v.see("/products/"+p.ID+"/edit", said)
}

func offShelf(a *App, v *visit) error {
	if err := a.shelf.RetireProduct(v.ctx(), v.by(), v.r.PathValue("id"), v.form("why")); err != nil {
		return err
	}
	return v.see("/", "The product is off the shelf. It can be found under “Taken off the shelf” and put back.")
}

func backOnShelf(a *App, v *visit) error {
	if err := a.shelf.RestoreProduct(v.ctx(), v.by(), v.r.PathValue("id")); err != nil {
		return err
	}
	return v.see("/products/"+v.r.PathValue("id"), "The product is back on the shelf.")
}
