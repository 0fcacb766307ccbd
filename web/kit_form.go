package web

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"sixteen/shelf"
)

// kitFormView is the form that puts a kit together.
type kitFormView struct {
	Title, Action, Wrong, Name, By string
	Version                        int64
	Rows                           []kitFormRow
	Products                       []optionView
}

type kitFormRow struct {
	Index, Number        int
	Product, Role, Parts string
}

// kitRows is how many parts a kit's form offers.
const kitRows = 4

func showKitForm(a *App, v *visit) error {
	k := shelf.Product{PartsBy: "mass"}
	if id := v.r.PathValue("id"); id != "" {
		var err error
		if k, err = a.shelf.Product(v.ctx(), id); err != nil {
			return onShelf(err, "There is no such kit on this shelf.")
		}
	}
	return a.showKitFormWith(v, http.StatusOK, k, "")
}

func (a *App) showKitFormWith(v *visit, status int, k shelf.Product, wrong string) error {
	view := kitFormView{Title: "Put a kit together", Action: "/kits/new", Wrong: wrong, Name: k.Name, By: k.PartsBy, Version: k.Version}
	if k.ID != "" {
		view.Title, view.Action = "Change the kit", "/kits/"+k.ID+"/edit"
	}
	var chosen []string
	for i := range max(kitRows, len(k.Parts)) {
		row := kitFormRow{Index: i, Number: i + 1}
		if i < len(k.Parts) {
			row.Product, row.Role = k.Parts[i].Product, k.Parts[i].Role
			if k.Parts[i].Parts != 0 {
				row.Parts = strconv.FormatFloat(k.Parts[i].Parts, 'f', -1, 64)
			}
			chosen = append(chosen, row.Product)
		}
		view.Rows = append(view.Rows, row)
	}
	var err error
	if view.Products, err = a.productOptions(v.ctx(), chosen, v.form("find")); err != nil {
		return err
	}
	return a.show(v, status, screen{title: view.Title, here: "shelf", name: "kitform", value: view})
}

// productOptions are products to choose from: those chosen, and all of a small shelf; of a large one those that fit words,
// or the last changed.
func (a *App) productOptions(ctx context.Context, chosen []string, words string) ([]optionView, error) {
	out := []optionView{{"", "none"}}
	for _, id := range chosen {
		if id == "" || slices.ContainsFunc(out, func(o optionView) bool { return o.Value == id }) {
			continue
		}
		p, err := a.shelf.Product(ctx, id)
		if err != nil {
			return nil, onShelf(err, "One of the products is not on the shelf any more.")
		}
		out = append(out, optionView{p.ID, p.Name})
	}
	page, err := a.shelf.ProductNames(ctx, shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: few}})
	if err == nil && page.Total > few {
		f := shelf.ProductFilter{Text: words, Paging: shelf.Paging{Limit: 30}}
		if words == "" {
			f.Order = shelf.ByChange
		}
		page, err = a.shelf.ProductNames(ctx, f)
	}
	if err != nil {
		return nil, err
	}
	for _, p := range page.Items {
		if !p.Kit && !slices.ContainsFunc(out, func(o optionView) bool { return o.Value == p.ID }) {
			out = append(out, optionView{p.ID, p.Name})
		}
	}
	return out, nil
}

func keepKit(a *App, v *visit) error {
	k := shelf.Product{}
	id := v.r.PathValue("id")
	if id != "" {
		var err error
		if k, err = a.shelf.Product(v.ctx(), id); err != nil {
			return err
		}
		k.Version, _ = strconv.ParseInt(v.form("version"), 10, 64) // no number is version 0, a conflict
	}
	k.Name, k.PartsBy, k.Parts = v.form("name"), v.form("by"), nil
	err := readParts(v, &k)
	if v.form("look") != "" {
		return a.showKitFormWith(v, http.StatusOK, k, "")
	}
	if err == nil && id == "" {
		k, err = a.shelf.AddProduct(v.ctx(), v.by(), k)
	} else if err == nil {
		k, err = a.shelf.EditProduct(v.ctx(), v.by(), k)
	}
	if err != nil {
		status, words := statusOf(err)
		if status >= 500 {
			return err
		}
		return a.showKitFormWith(v, status, k, words)
	}
	return v.see("/kits/"+k.ID, "The kit is on the shelf.")
}

func readParts(v *visit, k *shelf.Product) error {
	for i := range 20 {
		product := v.form(fmt.Sprintf("part.%d.product", i))
		if product == "" {
			continue
		}
		text := strings.ReplaceAll(v.form(fmt.Sprintf("part.%d.parts", i)), ",", ".")
		n, err := strconv.ParseFloat(text, 64)
		k.Parts = append(k.Parts, shelf.Part{Product: product, Role: v.form(fmt.Sprintf("part.%d.role", i)), Parts: n})
		if err != nil {
			return refused(fmt.Sprintf("Part %d: “%s” is no number of parts. Write 100 and 45 for 100:45.", i+1, text))
		}
	}
	if len(k.Parts) < 2 {
		return refused("A kit has at least two parts. Choose the products in its tins.")
	}
	return nil
}
