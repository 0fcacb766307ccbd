package shelf_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"sixteen/shelf"
)

// unlisted fails when a row of the lists, or a count, is not what it is worked out from.
func unlisted(t testing.TB, s *shelf.Shelf) {
	t.Helper()
	for _, problem := range must(shelf.Unlisted(t.Context(), s))(t) {
		t.Error(problem)
	}
}

// Whatever is done in whatever order, the rows by which products are listed and the counts are those that the tables give.
func TestListsAndCountsAreWhatTheTablesGive(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 2); err != nil {
			t.Fatal(err)
		}
		random := rand.New(rand.NewPCG(16, 4))
		some := func() shelf.Product {
			all := must(s.Products(ctx, shelf.ProductFilter{Order: shelf.ByName, Retired: random.IntN(4) == 0, Paging: shelf.Paging{Limit: 1000}}))(t).Items
			if len(all) == 0 {
				return shelf.Product{}
			}
			return all[random.IntN(len(all))].Product
		}
		done := map[string]int{}
		for i := range 200 {
			q := some()
			var err error
			what := []string{"document", "document", "product", "edit", "supplier", "retire", "restore", "correct", "retire sheet", "kit", "again", "review", "rejudge"}[random.IntN(13)]
			switch what {
			case "document":
				lines := []string{"class: Skin Sens. 1", "code: H317", "class: Flam. Liq. 2", "code: H225", "class: Carc. 1B", "code: H350"}
				from := random.IntN(3) * 2
				_, err = s.AddDocument(ctx, "ada", fmt.Sprintf("%d.pdf", i), tin(fmt.Sprintf("Paint %d", random.IntN(12)), fmt.Sprintf("20%d-01-01", 18+random.IntN(9)), lines[from:from+2]...), "")
				if random.IntN(3) == 0 {
					waitRead(t, s)
				}
			case "product":
				_, err = s.AddProduct(ctx, "ada", shelf.Product{Name: fmt.Sprintf("Thing %d", i)})
			case "edit":
				q.Name, q.Note = q.Name+"x", fmt.Sprint(i)
				_, err = s.EditProduct(ctx, "ada", q)
			case "supplier":
				for _, u := range must(s.Suppliers(ctx))(t) {
					u.Name += "y"
					_, err = s.EditSupplier(ctx, "ada", u)
				}
			case "retire":
				err = s.RetireProduct(ctx, "ada", q.ID, "empty")
			case "restore":
				err = s.RestoreProduct(ctx, "ada", q.ID)
			case "correct":
				if q.Sheet != "" {
					h := must(s.Sheet(ctx, q.Sheet))(t)
					_, err = s.Correct(ctx, "ada", h.Document, "identification.revision_date", fmt.Appendf(nil, `"20%d-02-02"`, 17+random.IntN(9)), "it says so", "")
				}
			case "retire sheet":
				err = s.RetireSheet(ctx, "ada", q.Sheet, "wrong one")
			case "kit":
				other := some()
				_, err = s.AddProduct(ctx, "ada", shelf.Product{Name: fmt.Sprintf("Kit %d", i), Parts: []shelf.Part{{Product: q.ID, Parts: 2}, {Product: other.ID, Parts: 1}}, PartsBy: "mass"})
			case "again":
				_, err = s.ReadAgain(ctx, "ada", q.Sheet)
			case "review":
				_, err = s.Reviewed(ctx, "ada", q.ID, "seen")
			case "rejudge":
				_, err = s.Rejudge(ctx, "ada", q.Sheet)
			}
			if err == nil {
				done[what]++ // others were refused, such as what is off the shelf being taken off again
			}
			if i%20 == 19 {
				unlisted(t, s)
			}
		}
		waitRead(t, s)
		unlisted(t, s)
		if len(done) != 12 {
			t.Errorf("of the kinds of change only %v were made", done)
		}
		to := sqlitePlace(t).open(t)
		must(shelf.Move(ctx, s, to))(t)
		unlisted(t, to)
	})
}
