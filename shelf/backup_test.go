package shelf_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"sixteen/ghs"
	"sixteen/shelf"
)

// furnish puts something of every kind on a shelf.
func furnish(t testing.TB, s *shelf.Shelf) {
	t.Helper()
	ctx := t.Context()
	if err := s.StartReading(ctx, 2); err != nil {
		t.Fatal(err)
	}
	must(s.AddDocument(ctx, "ada", "old.pdf", tin("Keel paint", "2021-01-01"), ""))(t)
	waitRead(t, s)
	doc := must(s.AddDocument(ctx, "ada", "ümläut \u2028.pdf", tin("Keel paint", "2025-01-01", "class: Skin Sens. 1", "code: H317"), ""))(t).Sheet.Document
	must(s.AddDocument(ctx, "ada", "menu.pdf", []byte("leaflet"), ""))(t)
	waitRead(t, s)
	p := must(s.Products(ctx, shelf.ProductFilter{}))(t).Items[0]
	outer := must(s.AddPlace(ctx, "ada", shelf.Place{Name: "Slip shed", Sort: shelf.Room}))(t)
	inner := must(s.AddPlace(ctx, "ada", shelf.Place{Name: "Steel cupboard", Sort: shelf.Cupboard, Limits: shelf.LimitAt(shelf.Cupboard)}))(t)
	inner.Within = must(s.AddPlace(ctx, "ada", shelf.Place{Name: "Annex", Sort: shelf.Room, Within: outer.ID}))(t).ID
	must(s.EditPlace(ctx, "ada", inner))(t)
	amount := 2.5
	must(s.AddStock(ctx, "ada", shelf.Stock{Product: p.ID, Place: inner.ID, Amount: &amount, Unit: "l", Opened: "2026-01-01"}))(t)
	whole := 3.0
	must(s.AddStock(ctx, "ada", shelf.Stock{Product: p.ID, Place: inner.ID, Amount: &whole, Unit: "kg"}))(t)
	must(s.AddStock(ctx, "ada", shelf.Stock{Product: p.ID, Place: inner.ID, Unit: "kg"}))(t)
	must(s.Correct(ctx, "ada", doc, "identification.product_name", []byte(`"Keel paint <red> & \"blue\""`), "it says so", ""))(t)
	must(s.Overrule(ctx, "ada", doc, "some-finding-0123456789", "seen"))(t)
	must(s.AddQuestion(ctx, "ada", shelf.Question{Product: p.ID, Sheet: p.Sheet, Supplier: p.Supplier, Findings: []string{"a", "b"}, Language: ghs.French, Text: "Is it?", Sent: "2026-02-01"}))(t)
	j := must(s.AddJob(ctx, "ada", shelf.Job{Name: "Paint the keel", Place: outer.ID, Products: []string{p.ID}, Description: "job: x\n", Result: `{"a":1}`}))(t)
	card := must(s.AddPaper(ctx, "ada", shelf.Paper{Sort: shelf.BenchCard, Title: "Keel paint", Product: p.ID, Sheet: p.Sheet, Job: j.ID, Options: []byte(`{"size":"A4"}`)}))(t)
	must(s.Acknowledge(ctx, "ada", card.ID, "Ben"))(t)
	must(s.AddBlend(ctx, "ada", keelBlend, "first\u2028batch"))(t)
	must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
	must(s.Login(ctx, "ada", "correct horse battery", "127.0.0.1", "test"))(t)
	settings := must(s.Settings(ctx))(t)
	settings.Workshop = "The Slipway Co-operative"
	must(s.EditSettings(ctx, "ada", settings))(t)
}

// same fails when two shelves differ in a row or document.
func same(t testing.TB, a, b *shelf.Shelf) {
	t.Helper()
	for _, d := range must(shelf.Compare(t.Context(), a, b))(t) {
		t.Errorf("%s %s: %s", d.Table, d.Key, d.What)
	}
}

func TestBackupIsRestoredRowByRowOnEitherStore(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		furnish(t, s)
		var file bytes.Buffer
		m := must(s.Backup(ctx, &file))(t)
		if m.Rows["products"] != 1 || m.Rows["sheets"] != 3 || m.Rows["acknowledgements"] != 1 || len(m.Damaged) != 0 {
			t.Errorf("the manifest says %+v", m.Rows)
		}
		for name, q := range map[string]place{"SQLite": sqlitePlace(t), "PostgreSQL": postgresPlace(t)} {
			to := q.open(t)
			must(to.Restore(ctx, bytes.NewReader(file.Bytes()), int64(file.Len())))(t)
			same(t, s, to)
			if found := must(to.Search(ctx, "keel", 10))(t); len(found) == 0 {
				t.Errorf("nothing is found on the restored shelf on %s", name)
			}
			if _, err := to.Login(ctx, "ada", "correct horse battery", "127.0.0.1", "test"); err != nil {
				t.Errorf("login on the restored shelf: %v", err)
			}
			if _, err := to.Restore(ctx, bytes.NewReader(file.Bytes()), int64(file.Len())); err == nil {
				t.Error("restored over a shelf that is not empty")
			}
		}
	})
}

func TestCompareSeesEveryDifference(t *testing.T) {
	ctx := t.Context()
	a, b := sqlitePlace(t).open(t), sqlitePlace(t).open(t)
	must(a.AddProduct(ctx, "ada", shelf.Product{Name: "x"}))(t)
	tables := map[string]bool{}
	for _, d := range must(shelf.Compare(ctx, a, b))(t) {
		tables[d.Table] = true
	}
	if !tables["products"] || !tables["found"] || !tables["trail"] {
		t.Errorf("differences in %v", tables)
	}
	if got := must(shelf.Compare(ctx, a, a))(t); len(got) != 0 {
		t.Errorf("a shelf differs from itself: %+v", got)
	}
}

func TestDamagedBackupIsRefusedWhole(t *testing.T) {
	ctx, s := t.Context(), sqlitePlace(t).open(t)
	furnish(t, s)
	var file bytes.Buffer
	must(s.Backup(ctx, &file))(t)
	for name, damage := range map[string]func() []byte{
		"cut off": func() []byte { return file.Bytes()[:file.Len()/2] },
		"no zip":  func() []byte { return []byte("hello") },
		"a table changed": func() []byte {
			return rewrite(t, file.Bytes(), func(n string, b []byte) []byte {
				if n == "tables/products.jsonl" {
					return bytes.Replace(b, []byte("Keel"), []byte("Reel"), 1)
				}
				return b
			})
		},
		"a document gone": func() []byte {
			gone := false
			return rewrite(t, file.Bytes(), func(n string, b []byte) []byte {
				if strings.HasPrefix(n, "documents/") && !gone {
					gone = true
					return nil
				}
				return b
			})
		},
	} {
		to := sqlitePlace(t).open(t)
		raw := damage()
		var invalid *shelf.Invalid
		if _, err := to.Restore(ctx, bytes.NewReader(raw), int64(len(raw))); !errors.As(err, &invalid) {
			t.Errorf("%s: %v", name, err)
		}
		if n := must(to.Seq(ctx))(t); n != 0 {
			t.Errorf("%s: something was restored", name)
		}
	}
}

// rewrite copies a ZIP file with its files changed; nil leaves one out.
func rewrite(t testing.TB, raw []byte, f func(name string, data []byte) []byte) []byte {
	t.Helper()
	r := must(zip.NewReader(bytes.NewReader(raw), int64(len(raw))))(t)
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, file := range r.File {
		in := must(file.Open())(t)
		data := f(file.Name, must(io.ReadAll(in))(t))
		if data == nil {
			continue
		}
		to := must(w.Create(file.Name))(t)
		must(to.Write(data))(t)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestMoveToTheOtherStoreAndBackLosesNothing(t *testing.T) {
	ctx := t.Context()
	first := sqlitePlace(t).open(t)
	furnish(t, first)
	middle := postgresPlace(t).open(t)
	n := must(shelf.Move(ctx, first, middle))(t)
	back := sqlitePlace(t).open(t)
	if m := must(shelf.Move(ctx, middle, back))(t); m != n || n < 50 {
		t.Errorf("%d rows there, %d back", n, m)
	}
	same(t, first, back)
	// What waited is still read.
	waiting := sqlitePlace(t).open(t)
	must(waiting.AddDocument(ctx, "ada", "a.pdf", tin("Late paint", "2024-01-01"), ""))(t)
	other := postgresPlace(t).open(t)
	must(shelf.Move(ctx, waiting, other))(t)
	if err := other.StartReading(ctx, 1); err != nil {
		t.Fatal(err)
	}
	if got := waitRead(t, other); got.Read != 1 {
		t.Errorf("%+v", got)
	}
}
