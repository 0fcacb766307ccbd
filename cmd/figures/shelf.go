package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/shelf/shelftest"
)

// The size of the shelf that is measured.
const (
	manyProducts = 5_000
	manySheets   = 10_000
)

// shelving prints how long the questions take that pages ask of a shelf with many products, on each store that this machine has.
func shelving(ctx context.Context) error {
	fmt.Printf("Invented shelf: %d products, %d sheets. Times of one question after the other in one process, in milliseconds; processor time is that of this process, without PostgreSQL's own.\n\n", manyProducts, manySheets)
	fmt.Println("| question | store | median | p95 | goal p95 | processor time each |")
	fmt.Println("|---|---|---|---|---|---|")
	return onEachStore(ctx, measureShelf)
}

// onEachStore runs f with a new place for a shelf on each store that this machine has, and a desk to read with.
func onEachStore(ctx context.Context, f func(ctx context.Context, store string, o shelf.Options, desk *judge.Desk) error) error {
	dir, err := os.MkdirTemp("", "sixteen-figures-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	desk, err := judge.Open(ctx, judge.Options{})
	if err != nil {
		return err
	}
	defer desk.Close()
	if err := f(ctx, "SQLite", shelf.Options{URL: filepath.Join(dir, "shelf.sqlite")}, desk); err != nil {
		return err
	}
	cluster, err := shelftest.StartPostgres()
	if errors.Is(err, shelftest.ErrNoPostgres) {
		fmt.Println("\nPostgreSQL is not installed here and was not measured.")
		return nil
	}
	if err != nil {
		return err
	}
	defer cluster.Stop()
	address, err := cluster.Database()
	if err != nil {
		return err
	}
	return f(ctx, "PostgreSQL", shelf.Options{URL: address, Documents: filepath.Join(dir, "documents")}, desk)
}

// filledShelf opens a shelf and fills it with products of two sheets each.
func filledShelf(ctx context.Context, o shelf.Options, desk *judge.Desk, products int) (*shelf.Shelf, error) {
	patterns, err := patternSheets(ctx, desk, 24)
	if err != nil {
		return nil, err
	}
	s, err := shelf.Open(ctx, o)
	if err != nil {
		return nil, err
	}
	if err := fill(ctx, s, patterns, largeShelf{Products: products, Sheets: 2 * products, Places: 40, Seed: 1}); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// someProducts are the IDs of the first so many products.
func someProducts(ctx context.Context, s *shelf.Shelf, n int) ([]string, error) {
	page, err := s.Products(ctx, shelf.ProductFilter{Paging: shelf.Paging{Limit: n}})
	var ids []string
	for _, p := range page.Items {
		ids = append(ids, p.ID)
	}
	return ids, err
}

func measureShelf(ctx context.Context, store string, o shelf.Options, desk *judge.Desk) error {
	began := time.Now()
	s, err := filledShelf(ctx, o, desk, manyProducts)
	if err != nil {
		return err
	}
	filled := time.Since(began)
	for _, q := range shelfQuestions(s) {
		if err := timeQuestion(ctx, store, q); err != nil {
			return errors.Join(err, s.Close())
		}
	}
	if err := s.Close(); err != nil {
		return err
	}
	open := shelfQuestion{"open and close the shelf", 20, "", func(ctx context.Context, _ int) error {
		s, err := shelf.Open(ctx, o)
		if err != nil {
			return err
		}
		return s.Close()
	}}
	if err := timeQuestion(ctx, store, open); err != nil {
		return err
	}
	fmt.Printf("| fill it (%d sheets read before), seconds in all | %s | %.0f | | | |\n", manySheets, store, filled.Seconds())
	return nil
}

// shelfQuestion is one thing that pages ask, asked so many times with different details.
type shelfQuestion struct {
	name  string
	times int
	goal  string
	ask   func(ctx context.Context, i int) error
}

func shelfQuestions(s *shelf.Shelf) []shelfQuestion {
	list := func(f func(i int) shelf.ProductFilter) func(context.Context, int) error {
		return func(ctx context.Context, i int) error {
			page, err := s.Products(ctx, f(i))
			if err == nil && page.Total == 0 {
				err = fmt.Errorf("the filter %+v finds nothing", f(i))
			}
			return err
		}
	}
	search := func(words []string) func(context.Context, int) error {
		return func(ctx context.Context, i int) error {
			found, err := s.Search(ctx, words[i%len(words)], 20)
			if err == nil && len(found) == 0 {
				err = fmt.Errorf("%q finds nothing", words[i%len(words)])
			}
			return err
		}
	}
	orders := []shelf.ProductOrder{shelf.ByName, shelf.ByChange, shelf.ByWorst, shelf.ByReview, shelf.ByOldest, shelf.BySupplier}
	return []shelfQuestion{
		{"list, each order and page", 120, "100", list(func(i int) shelf.ProductFilter {
			return shelf.ProductFilter{Order: orders[i%len(orders)], Paging: shelf.Paging{Offset: i * 40 % manyProducts}}
		})},
		{"list, filtered by code and pictogram", 60, "100", list(func(i int) shelf.ProductFilter {
			return shelf.ProductFilter{Statement: []ghs.Code{"H226", "H315", "H317"}[i%3], Contradictory: i%2 == 0}
		})},
		{"list, filtered by words", 60, "100", list(func(i int) shelf.ProductFilter {
			return shelf.ProductFilter{Text: []string{"keelbond", "glycol", "resin"}[i%3]}
		})},
		{"search, words and numbers", 120, "30", search([]string{"keelbond", "resin", "100-42-5", "invented supplier 17", "tidemark varnish", "styrene keel", "h226", "rudder", "4711", "styrene resin"})},
		{"search, misspelt", 120, "30", search([]string{"kelbond", "rezin", "tidmark", "varnihs", "hardner", "antifuling", "rudderflwo", "styrne", "keelbond rezin", "catalist"})},
		{"one product with its judgement", 60, "100", askProduct(s)},
		{"what stands where, 40 places", 20, "100", func(ctx context.Context, _ int) error { _, err := s.Storage(ctx); return err }},
		{"what is due", 20, "100", func(ctx context.Context, _ int) error { _, err := s.Due(ctx, time.Now()); return err }},
		{"one change, with its trail", 60, "100", func(ctx context.Context, i int) error {
			_, err := s.AddProduct(ctx, "figures", shelf.Product{Name: fmt.Sprintf("Measured %d", i)})
			return err
		}},
	}
}

// askProduct asks for what the page of a product shows.
func askProduct(s *shelf.Shelf) func(context.Context, int) error {
	return func(ctx context.Context, i int) error {
		page, err := s.Products(ctx, shelf.ProductFilter{Order: shelf.ByName, Paging: shelf.Paging{Limit: 1, Offset: i * 71 % manyProducts}})
		if err != nil {
			return err
		}
		p := page.Items[0]
		_, err1 := s.Revisions(ctx, p.ID)
		_, _, err2 := s.JudgementOf(ctx, p.Sheet)
		_, err3 := s.Stock(ctx, shelf.StockFilter{Product: p.ID})
		_, err4 := s.Questions(ctx, shelf.QuestionFilter{Product: p.ID})
		_, err5 := s.Papers(ctx, shelf.PaperFilter{Product: p.ID})
		return errors.Join(err1, err2, err3, err4, err5)
	}
}

func timeQuestion(ctx context.Context, store string, q shelfQuestion) error {
	if err := q.ask(ctx, 0); err != nil { // warm
		return fmt.Errorf("%s: %w", q.name, err)
	}
	times := make([]time.Duration, q.times)
	before := ownCPU()
	for i := range times {
		began := time.Now()
		if err := q.ask(ctx, i+1); err != nil {
			return fmt.Errorf("%s: %w", q.name, err)
		}
		times[i] = time.Since(began)
	}
	each := (ownCPU() - before) / time.Duration(q.times)
	slices.Sort(times)
	fmt.Printf("| %s | %s | %.1f | %.1f | %s | %.1f |\n", q.name, store, ms(times[len(times)/2]), ms(times[len(times)*95/100]), q.goal, ms(each))
	return nil
}
