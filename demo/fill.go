package demo

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"sixteen/exposure"
	"sixteen/ghs"
	"sixteen/plan"
	"sixteen/shelf"
)

// Fill puts the workshop on a shelf, through the same queue as everything else: its settings, places and documents. What their
// sheets say appears as they are read. Its files must stand in dir (see Write).
func Fill(ctx context.Context, s *shelf.Shelf, by, dir string) error {
	w := Workshop()
	settings, err := s.Settings(ctx)
	if err != nil {
		return err
	}
	settings.Workshop, settings.Address, settings.Demo, settings.Languages = w.Name, w.Where, true, []ghs.Lang{ghs.English, "de"}
	if settings, err = s.EditSettings(ctx, by, settings); err != nil {
		return err
	}
	if err := fillPlaces(ctx, s, by, w); err != nil {
		return err
	}
	described := Described().Products
	for _, item := range described {
		supplier, err := fillSupplier(ctx, s, by, item)
		if err != nil {
			return err
		}
		product, err := s.AddProduct(ctx, by, shelf.Product{Name: item.Name, RuleSet: item.Rules, Supplier: supplier})
		if err != nil {
			return err
		}
		for _, file := range []string{item.Before, item.Sheet} {
			if file == "" {
				continue
			}
			raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(file)))
			if err != nil {
				return err
			}
			if _, err := s.AddDocument(ctx, by, filepath.Base(file), raw, product.ID); err != nil {
				return err
			}
		}
		if err := fillStock(ctx, s, by, product.ID, item); err != nil {
			return err
		}
	}
	products, err := fillKits(ctx, s, by, w)
	if err != nil {
		return err
	}
	return fillJob(ctx, s, by, dir, products)
}

// fillJob adds the Saturday job, with its products from the shelf.
func fillJob(ctx context.Context, s *shelf.Shelf, by, dir string, products map[string]string) error {
	raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(JobFiles()[0])))
	if err != nil {
		return err
	}
	text := string(raw)
	var used []string
	for _, item := range Workshop().Products {
		file := "../sheets/" + item.ID + ".pdf"
		if strings.Contains(text, file) {
			text = strings.ReplaceAll(text, file, plan.ShelfFile+products[item.ID])
			used = append(used, products[item.ID])
		}
	}
	job, err := exposure.ParseJob([]byte(text))
	if err != nil {
		return err
	}
	_, err = s.AddJob(ctx, by, shelf.Job{Name: job.Name, Products: used, Description: text})
	return err
}

// fillSupplier adds the supplier of a product, once.
func fillSupplier(ctx context.Context, s *shelf.Shelf, by string, item Item) (string, error) {
	spec, err := item.Spec()
	if err != nil {
		return "", err
	}
	all, err := s.Suppliers(ctx)
	if err != nil {
		return "", err
	}
	for _, u := range all {
		if u.Name == spec.Supplier.Name {
			return u.ID, nil
		}
	}
	u, err := s.AddSupplier(ctx, by, shelf.Supplier{Name: spec.Supplier.Name, Address: strings.Join(spec.Supplier.Address, ", "), Phone: spec.Supplier.Phone, Email: spec.Supplier.Email, Language: item.Lang})
	return u.ID, err
}

// fillPlaces adds the rooms and the cupboards that products stand in. The limits are invented.
func fillPlaces(ctx context.Context, s *shelf.Shelf, by string, w Place) error {
	rooms := map[string]string{}
	for _, r := range w.Rooms {
		p, err := s.AddPlace(ctx, by, shelf.Place{Name: r.Name, Sort: shelf.Room, Note: r.Notes})
		if err != nil {
			return err
		}
		rooms[r.Name] = p.ID
	}
	invented := "invented letter of the insurer"
	cupboards := []shelf.Place{
		{Name: "flammables cabinet", Sort: shelf.Cupboard, Within: rooms["hull bay"], Limits: []shelf.Limit{{Class: shelf.FlammableLiquids, Most: 50, Unit: "l", Source: invented}}},
		{Name: "peroxide cupboard", Sort: shelf.Cupboard, Within: rooms["hull bay"], Limits: []shelf.Limit{{Class: shelf.OrganicPeroxides, Most: 2, Unit: "l", Source: invented}}},
	}
	for _, c := range cupboards {
		if _, err := s.AddPlace(ctx, by, c); err != nil {
			return err
		}
	}
	return nil
}

func fillStock(ctx context.Context, s *shelf.Shelf, by, product string, item Item) error {
	places, err := s.Places(ctx)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(places, func(p shelf.Place) bool { return p.Name == item.Where })
	number, unit, ok := strings.Cut(item.Amount, " ")
	if i < 0 || !ok {
		return fmt.Errorf("%s stands in %q with %q: no such place or amount", item.Name, item.Where, item.Amount)
	}
	amount, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return fmt.Errorf("%s: the amount %q is no number", item.Name, item.Amount)
	}
	_, err = s.AddStock(ctx, by, shelf.Stock{Product: product, Place: places[i].ID, Amount: &amount, Unit: unit})
	return err
}

// fillKits adds the kits, and tells which product of the shelf is which of the workshop.
func fillKits(ctx context.Context, s *shelf.Shelf, by string, w Place) (map[string]string, error) {
	page, err := s.Products(ctx, shelf.ProductFilter{Paging: shelf.Paging{Limit: 100}})
	if err != nil {
		return nil, err
	}
	byID := map[string]string{} // of the workshop
	for _, item := range w.Products {
		for _, p := range page.Items {
			if p.Name == item.Name {
				byID[item.ID] = p.ID
			}
		}
	}
	for _, k := range w.Kits {
		kit := shelf.Product{Name: k.Name, PartsBy: "mass"}
		for i, part := range k.Parts {
			kit.Parts = append(kit.Parts, shelf.Part{Product: byID[part.Product], Role: "part " + string(rune('A'+i)), Parts: part.Percent})
		}
		if _, err := s.AddProduct(ctx, by, kit); err != nil {
			return nil, err
		}
	}
	return byID, nil
}
