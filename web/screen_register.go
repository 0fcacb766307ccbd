package web

import (
	"context"
	"fmt"
	"strings"

	"sixteen/judge"
	"sixteen/paper"
	"sixteen/shelf"
)

// mostRegistered is how many products one register holds; each is judged anew for it.
const mostRegistered = 500

// showRegister is the register of what is stored, as a file: one row per product and place.
func showRegister(a *App, v *visit) error {
	page, err := a.shelf.Products(v.ctx(), shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: mostRegistered}})
	if err != nil {
		return err
	}
	if page.Total > mostRegistered {
		return refused(fmt.Sprintf("The shelf holds %d products, and a register on paper up to %d. Export everything as a table under Settings.", page.Total, mostRegistered))
	}
	places, err := a.shelf.Places(v.ctx())
	if err != nil {
		return err
	}
	names := map[string]string{}
	for _, p := range places {
		names[p.ID] = p.Name
	}
	var rows []paper.RegisterRow
	for _, p := range page.Items {
		if len(p.Parts) > 0 {
			continue // its parts stand in the register themselves
		}
		more, err := a.registered(v.ctx(), p, names)
		if err != nil {
			return err
		}
		rows = append(rows, more...)
	}
	settings, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	d := paper.Register(rows, paper.RegisterOptions{Lang: firstLang(paperOptions{}), Workshop: settings.Workshop, Date: a.now(), Page: paper.A4})
	return sendDocument(v, d, "Register", v.r.PathValue("kind"))
}

// registered is the rows of one product: one per place where it stands.
func (a *App) registered(ctx context.Context, p shelf.ProductLine, places map[string]string) ([]paper.RegisterRow, error) {
	row := paper.RegisterRow{Product: paper.Product{Name: p.Name, Supplier: paper.Supplier{Name: p.SupplierName}}, Review: p.ReviewDue, Open: p.OpenQuestions}
	if p.Sheet != "" {
		j, err := a.shelf.Judge(ctx, p.Sheet, judge.Request{})
		if err != nil {
			return nil, err
		}
		row.Product = paper.ProductOf(j, paper.ProductOptions{})
		row.Product.Name, row.SheetFile = p.Name, j.Sheet.Source.Name
	}
	read, err := a.readBy(ctx, p.ID)
	if err != nil {
		return nil, err
	}
	row.Read = read
	stock, err := a.shelf.Stock(ctx, shelf.StockFilter{Product: p.ID})
	if err != nil || len(stock) == 0 {
		return []paper.RegisterRow{row}, err
	}
	var out []paper.RegisterRow
	for _, s := range stock {
		row.Place, row.Amount = places[s.Place], amountWords(s)
		out = append(out, row)
	}
	return out, nil
}

// readBy are the people who have read a card of the product that still holds.
func (a *App) readBy(ctx context.Context, product string) (string, error) {
	cards, err := a.shelf.Papers(ctx, shelf.PaperFilter{Product: product, Sort: shelf.BenchCard, Paging: shelf.Paging{Limit: 20}})
	if err != nil {
		return "", err
	}
	var names []string
	for _, c := range cards.Items {
		if !c.Outdated.IsZero() {
			continue
		}
		read, err := a.shelf.Acknowledgements(ctx, c.ID)
		if err != nil {
			return "", err
		}
		for _, r := range read {
			names = append(names, r.Person)
		}
	}
	return strings.Join(names, ", "), nil
}
