package shelf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"sixteen/shelf"
)

func titles(found []shelf.Found) string {
	var out []string
	for _, f := range found {
		out = append(out, string(f.Kind)+" "+f.Title)
	}
	return strings.Join(out, "; ")
}

func TestSearchFindsByNamePartNumberAndMisspelling(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Tidemark Klarlack Größe 2", "2024-01-01"), ""))(t)
		must(s.AddDocument(ctx, "ada", "b.pdf", []byte("product: Foredeck epoxy\nsupplier: Lanyard Works\ningredient: bisphenol-A diglycidyl ether | 1675-54-3\n"), ""))(t)
		waitRead(t, s)
		must(s.AddPlace(ctx, "ada", shelf.Place{Name: "Steel cupboard", Sort: shelf.Cupboard}))(t)
		must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Peroxide paste", Code: "PX-40/2", Note: "for the tide tank 100% _sure"}))(t)
		for query, want := range map[string]string{
			"klarlack":         "product Tidemark Klarlack Größe 2",
			"GROSSE tidemark":  "product Tidemark Klarlack Größe 2",
			"größe":            "product Tidemark Klarlack Größe 2",
			"epoxy":            "product Foredeck epoxy",
			"1330-20-7":        "product Tidemark Klarlack Größe 2",
			"diglycidyl":       "product Foredeck epoxy",
			"lanyard":          "supplier Lanyard Works; product Foredeck epoxy",
			"px-40/2":          "product Peroxide paste",
			"foredek":          "product Foredeck epoxy", // a letter left out
			"eopxy":            "product Foredeck epoxy", // two letters swapped
			"perokside pasta":  "product Peroxide paste", // two words misspelt
			"klarlak tidemrak": "product Tidemark Klarlack Größe 2",
			"steel":            "place Steel cupboard",
			"h226":             "product Tidemark Klarlack Größe 2",
		} {
			if got := titles(must(s.Search(ctx, query, 10))(t)); !strings.HasPrefix(got, want) {
				t.Errorf("%q finds %q", query, got)
			}
		}
		for _, query := range []string{"", "   ", "%", "_", "zzzzqqqq", "'; DROP TABLE products; --", `"`, "\x00"} {
			if got := must(s.Search(ctx, query, 10))(t); len(got) != 0 {
				t.Errorf("%q finds %s", query, titles(got))
			}
		}
		if got := must(s.Products(ctx, shelf.ProductFilter{Text: "foredek"}))(t); got.Total != 1 || got.Items[0].Name != "Foredeck epoxy" {
			t.Errorf("the list filtered by a misspelt word has %d", got.Total)
		}
		paste := must(s.Products(ctx, shelf.ProductFilter{Text: "paste"}))(t).Items[0]
		if err := s.RetireProduct(ctx, "ada", paste.ID, "gone"); err != nil {
			t.Fatal(err)
		}
		if got := must(s.Search(ctx, "peroxide", 10))(t); len(got) != 0 {
			t.Errorf("a retired product is found: %s", titles(got))
		}
	})
}

func TestProductFilters(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		for i := range 5 {
			must(s.AddDocument(ctx, "ada", "a.pdf", tin(fmt.Sprintf("Varnish %d", i), fmt.Sprintf("202%d-01-01", i)), ""))(t)
		}
		must(s.AddDocument(ctx, "ada", "b.pdf", []byte("product: Soap\nrevised: 2018-01-01\n"), ""))(t)
		waitRead(t, s)
		must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Unknown goo"}))(t)
		count := func(f shelf.ProductFilter) int { return must(s.Products(ctx, f))(t).Total }
		for name, c := range map[string]struct {
			filter shelf.ProductFilter
			want   int
		}{
			"all":             {shelf.ProductFilter{}, 7},
			"signal word":     {shelf.ProductFilter{SignalWord: 1}, 5},
			"pictogram":       {shelf.ProductFilter{Pictogram: 2}, 5},
			"other pictogram": {shelf.ProductFilter{Pictogram: 1}, 0},
			"H code":          {shelf.ProductFilter{Statement: "H226"}, 5},
			"part of a code":  {shelf.ProductFilter{Statement: "H22"}, 0},
			"flammable":       {shelf.ProductFilter{Flammable: true}, 5},
			"no sheet":        {shelf.ProductFilter{State: "none"}, 1},
			"read":            {shelf.ProductFilter{State: shelf.Read}, 6},
			"due":             {shelf.ProductFilter{DueBy: "2030-01-01"}, 6},
			"kits":            {shelf.ProductFilter{Kits: true}, 0},
		} {
			if got := count(c.filter); got != c.want {
				t.Errorf("%s: %d in place of %d", name, got, c.want)
			}
		}
		page := must(s.Products(ctx, shelf.ProductFilter{Order: shelf.ByOldest, Paging: shelf.Paging{Limit: 2, Offset: 1}}))(t)
		if page.Total != 7 || len(page.Items) != 2 || page.Items[0].Name != "Soap" {
			t.Errorf("the second page by age is %+v", page.Items)
		}
	})
}

// The limits of one storage cabinet are 60 gal of categories 1 to 3 (29 CFR 1910.106(d)(3)(i)); a gallon is 3.785411784 l
// (NIST Handbook 44, appendix C).
func TestStorageTotalsAgainstLimits(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Thinner", "2024-01-01"), ""))(t)
		must(s.AddDocument(ctx, "ada", "b.pdf", []byte("product: Catalyst\nclass: Org. Perox. D\ncode: H242\n"), ""))(t)
		waitRead(t, s)
		ids := map[string]string{}
		for _, l := range must(s.Products(ctx, shelf.ProductFilter{}))(t).Items {
			ids[l.Name] = l.ID
		}
		goo := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Goo"}))(t)
		room := must(s.AddPlace(ctx, "ada", shelf.Place{Name: "A shed", Sort: shelf.Room}))(t)
		cupboard := must(s.AddPlace(ctx, "ada", shelf.Place{Name: "B cupboard", Sort: shelf.Cupboard, Within: room.ID, Limits: shelf.LimitAt(shelf.Cupboard)}))(t)
		put := func(product, place, unit string, amount float64) {
			t.Helper()
			must(s.AddStock(ctx, "ada", shelf.Stock{Product: product, Place: place, Unit: unit, Amount: &amount}))(t)
		}
		put(ids["Thinner"], cupboard.ID, "gal", 50)
		put(ids["Thinner"], cupboard.ID, "ml", 37_854.11784) // 10 gal
		put(ids["Catalyst"], cupboard.ID, "kg", 2)
		put(goo.ID, room.ID, "kg", 1)
		totals := must(s.Storage(ctx))(t)
		b := totals[1]
		if b.Held[0].Limit == nil || math.Abs(b.Held[0].Amount-60) > 1e-9 || b.Held[0].Unit != "gal" || b.Held[0].MayBeOver {
			t.Errorf("the cupboard holds %+v", b.Held[0])
		}
		if len(b.Neighbours) != 1 || b.Neighbours[0].Outcome != "isolate" || !strings.Contains(b.Neighbours[0].Source, "HSG71") || !b.Neighbours[0].Recalled {
			t.Errorf("neighbours %+v", b.Neighbours)
		}
		if len(totals[0].Neighbours) != 0 || totals[0].NoSheet != 1 || len(totals[0].Held) < 2 {
			t.Errorf("the shed holds %+v", totals[0])
		}
		put(ids["Thinner"], cupboard.ID, "kg", 1) // no density: cannot be converted
		if h := must(s.Storage(ctx))(t)[1].Held[0]; h.Over || !h.MayBeOver || h.Unconverted != 1 {
			t.Errorf("with an amount in kg: %+v", h)
		}
		put(ids["Thinner"], cupboard.ID, "fl oz", 1)
		if h := must(s.Storage(ctx))(t)[1].Held[0]; !h.Over {
			t.Errorf("over the limit by an ounce: %+v", h)
		}
		if err := s.RetirePlace(ctx, "ada", cupboard.ID, "sold"); err == nil {
			t.Error("a place was retired while products stand there")
		}
	})
}

func TestSegregationTableIsWhole(t *testing.T) {
	rows := must(shelf.Separations())(t)
	known := map[shelf.StorageGroup]bool{}
	for _, g := range shelf.StorageGroups() {
		known[g] = true
	}
	if len(rows) < 10 {
		t.Errorf("%d rows", len(rows))
	}
	for _, r := range rows {
		if !known[r.A] || !known[r.B] || r.Source == "" || r.Why == "" || shelf.OutcomeMeans(r.Outcome) == "" {
			t.Errorf("row %+v", r)
		}
	}
}

func TestDue(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		furnish(t, s)
		must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Goo", ReviewDue: "2026-01-01"}))(t)
		must(s.AddDocument(ctx, "ada", "newest.pdf", tin("Keel paint <red> & \"blue\"", "2026-01-01", "class: Carc. 1B", "code: H350"), ""))(t)
		waitRead(t, s)
		found := map[shelf.DueSort]int{}
		for _, d := range must(s.Due(ctx, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)))(t).Items {
			found[d.Sort]++
			if d.Do == "" || d.ID == "" || d.Title == "" {
				t.Errorf("%+v", d)
			}
		}
		for sort, want := range map[shelf.DueSort]int{shelf.ReviewDue: 1, shelf.NoSheetYet: 1, shelf.NotRead: 1, shelf.NoAnswer: 1} {
			if found[sort] != want {
				t.Errorf("%s: %d in place of %d", sort, found[sort], want)
			}
		}
	})
}
