package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"time"

	"sixteen/demo"
	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

// largeShelf says how much fill puts on a shelf.
type largeShelf struct {
	Products int
	Sheets   int // at least as many as products; the further ones are older and newer revisions
	Places   int
	Seed     uint64
}

// Words of invented names.
var (
	first  = []string{"Tide", "Keel", "Halyard", "Rudder", "Cleat", "Capstan", "Bilge", "Spar", "Mizzen", "Fender", "Anchor", "Gunwale", "Oakum", "Tiller", "Sextant", "Lanyard", "Bowsprit", "Cutter", "Dinghy", "Ebb"}
	second = []string{"guard", "mark", "coat", "seal", "bond", "shine", "flow", "fast", "proof", "line", "gel", "tex", "film", "core", "dur", "clean"}
	third  = []string{"varnish", "resin", "hardener", "thinner", "primer", "filler", "adhesive", "antifouling", "topcoat", "cleaner", "wax", "catalyst", "sealant", "oil", "stripper", "gelcoat"}
)

// inventedName is the name of invented product i, different for each.
func inventedName(i int) string {
	return fmt.Sprintf("%s%s %s %d", first[i%len(first)], second[i/len(first)%len(second)], third[i/len(first)/len(second)%len(third)], i)
}

// patternSheets are so many generated sheets, read and judged by a desk.
func patternSheets(ctx context.Context, desk *judge.Desk, n int) ([]*judge.Judgement, error) {
	var out []*judge.Judgement
	generated := demo.Generated{Seed: 11}
	for i := 0; len(out) < n; i++ {
		raw, _, err := generated.Sheet(i)
		if err != nil {
			return nil, err
		}
		j, err := desk.Judge(ctx, fmt.Sprintf("pattern-%d.pdf", i), raw, judge.Request{Now: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
		if err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	return out, nil
}

// fill puts invented products with sheets, places, amounts, questions and papers on a shelf, the same for the same seed, without
// reading a document: each sheet is one of the patterns with another name, supplier and date. It is for measuring with many.
func fill(ctx context.Context, s *shelf.Shelf, patterns []*judge.Judgement, l largeShelf) error {
	random := rand.New(rand.NewPCG(l.Seed, 16))
	const batch = 250
	for from := 0; from < l.Sheets; from += batch {
		var documents []shelf.ReadDocument
		for i := from; i < min(from+batch, l.Sheets); i++ {
			documents = append(documents, document(i, l.Products, patterns[i%l.Products%len(patterns)], random))
		}
		if _, err := s.AddRead(ctx, "load", documents); err != nil {
			return err
		}
	}
	return furnish(ctx, s, l, random)
}

// document is sheet i: of product i modulo the number of products.
func document(i, products int, pattern *judge.Judgement, random *rand.Rand) shelf.ReadDocument {
	j := *pattern
	facts := *pattern.Sheet
	text := func(v string) sheet.Fact[string] { return sheet.Fact[string]{State: sheet.Stated, Value: v} }
	facts.Identification.ProductName = text(inventedName(i % products))
	facts.Identification.Supplier = text("Invented supplier " + fmt.Sprint(i%products%211))
	facts.Identification.RevisionDate = text(time.Date(2015+i/products*3+random.IntN(3), time.Month(1+random.IntN(12)), 1+random.IntN(28), 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
	j.Sheet = &facts
	return shelf.ReadDocument{Name: fmt.Sprintf("sheet-%d.pdf", i), Data: fmt.Appendf(nil, "invented sheet %d", i), Facts: &facts, Judgement: &j}
}

// furnish puts places, amounts, questions and papers on a shelf with products.
func furnish(ctx context.Context, s *shelf.Shelf, l largeShelf, random *rand.Rand) error {
	var places []shelf.Place
	for i := range l.Places {
		p := shelf.Place{Name: fmt.Sprintf("Place %d", i), Sort: shelf.Cupboard, Limits: shelf.LimitAt(shelf.Cupboard)}
		if i%5 == 0 {
			p.Sort, p.Limits = shelf.Room, shelf.LimitAt(shelf.Room)
		} else {
			p.Within = places[i/5*5].ID
		}
		p, err := s.AddPlace(ctx, "load", p)
		if err != nil {
			return err
		}
		places = append(places, p)
	}
	for offset := 0; offset < l.Products; offset += 1000 {
		page, err := s.Products(ctx, shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: 1000, Offset: offset}})
		if err != nil {
			return err
		}
		for _, p := range page.Items {
			if err := furnishOne(ctx, s, p, places, random); err != nil {
				return err
			}
		}
	}
	return nil
}

func furnishOne(ctx context.Context, s *shelf.Shelf, p shelf.ProductLine, places []shelf.Place, random *rand.Rand) error {
	if len(places) > 0 {
		amount := float64(random.IntN(400)) / 20
		if _, err := s.AddStock(ctx, "load", shelf.Stock{Product: p.ID, Place: places[random.IntN(len(places))].ID, Amount: &amount, Unit: []string{"l", "kg"}[random.IntN(2)]}); err != nil {
			return err
		}
	}
	if random.IntN(10) == 0 {
		if _, err := s.AddQuestion(ctx, "load", shelf.Question{Product: p.ID, Sheet: p.Sheet, Supplier: p.Supplier, Text: "Which share is it exactly?"}); err != nil {
			return err
		}
	}
	if random.IntN(5) == 0 {
		if _, err := s.AddPaper(ctx, "load", shelf.Paper{Sort: shelf.WorkplaceLabel, Title: p.Name, Product: p.ID, Sheet: p.Sheet, Options: json.RawMessage(`{}`)}); err != nil {
			return err
		}
	}
	return nil
}
