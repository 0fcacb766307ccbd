package shelf_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"sixteen/ghs"
	"sixteen/shelf"
)

func TestProductIsKeptChangedRetiredAndPutBack(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		u := must(s.AddSupplier(ctx, "ada", shelf.Supplier{Name: "Halyard & Keel Coatings", Language: ghs.English}))(t)
		a := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Deck varnish", Supplier: u.ID, UsedFor: "brightwork"}))(t)
		if a.Version != 1 || a.Seq != 2 || len(a.ID) != 20 || !a.Added.Equal(p.clock.at) {
			t.Errorf("added record is %+v", a.Record)
		}
		a.UsedFor = "brightwork and spars"
		p.clock.at = p.clock.at.Add(-48 * time.Hour) // the clock jumps back
		b := must(s.EditProduct(ctx, "ben", a))(t)
		if b.Version != 2 || b.Seq <= a.Seq {
			t.Errorf("edited record is %+v", b.Record)
		}
		got := must(s.Product(ctx, a.ID))(t)
		if got.UsedFor != "brightwork and spars" || got.Version != 2 {
			t.Errorf("kept %+v", got)
		}
		if err := s.RetireProduct(ctx, "ben", a.ID, ""); err == nil {
			t.Error("retired without a reason")
		}
		if err := s.RetireProduct(ctx, "ben", a.ID, "used up"); err != nil {
			t.Fatal(err)
		}
		if list := must(s.Products(ctx, shelf.ProductFilter{}))(t); list.Total != 0 {
			t.Errorf("the list still has %d", list.Total)
		}
		if list := must(s.Products(ctx, shelf.ProductFilter{Retired: true}))(t); list.Total != 1 {
			t.Errorf("the list of retired has %d", list.Total)
		}
		if err := s.RestoreProduct(ctx, "ben", a.ID); err != nil {
			t.Fatal(err)
		}
		trail := must(s.Trail(ctx, shelf.TrailFilter{Kind: shelf.ProductKind, Ref: a.ID}))(t)
		var what []string
		for _, e := range trail.Items {
			what = append(what, e.Who+" "+e.What)
		}
		if got := strings.Join(what, ", "); got != "ben put back, ben retired, ben changed, ada added" {
			t.Errorf("the trail, latest first, is %q", got)
		}
		if !strings.Contains(trail.Items[1].Note, "1910.1020(d)(1)(ii)") {
			t.Errorf("retiring a product is noted as %q", trail.Items[1].Note)
		}
		if !strings.Contains(string(trail.Items[2].Before), `"used_for":"brightwork"`) || !strings.Contains(string(trail.Items[2].After), "spars") {
			t.Errorf("the change is kept as %s → %s", trail.Items[2].Before, trail.Items[2].After)
		}
	})
}

func TestSecondEditorSeesBothVersions(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		a := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Hull primer"}))(t)
		first, second := a, a
		first.Note = "two coats"
		must(s.EditProduct(ctx, "ada", first))(t)
		second.Note = "three coats"
		_, err := s.EditProduct(ctx, "ben", second)
		var c *shelf.Conflict
		if !errors.As(err, &c) {
			t.Fatalf("the second edit gave %v", err)
		}
		if c.By != "ada" || c.Version != 2 || !strings.Contains(string(c.Yours), "three coats") || !strings.Contains(string(c.Theirs), "two coats") {
			t.Errorf("the conflict is %+v: %s, %s", c, c.Yours, c.Theirs)
		}
		if got := must(s.Product(ctx, a.ID))(t); got.Note != "two coats" {
			t.Errorf("kept %q", got.Note)
		}
	})
}

func TestBadInputIsRefusedWithAdvice(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		amount := -1.0
		a := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Resin A"}))(t)
		w := must(s.AddPlace(ctx, "ada", shelf.Place{Name: "Shed", Sort: shelf.Room}))(t)
		for name, do := range map[string]func() error{
			"no name": func() error { _, err := s.AddProduct(ctx, "ada", shelf.Product{Name: " "}); return err },
			"nobody":  func() error { _, err := s.AddProduct(ctx, " ", shelf.Product{Name: "x"}); return err },
			"unknown supplier": func() error {
				_, err := s.AddProduct(ctx, "ada", shelf.Product{Name: "x", Supplier: "none"})
				return err
			},
			"bad date": func() error {
				_, err := s.AddProduct(ctx, "ada", shelf.Product{Name: "x", ReviewDue: "soon"})
				return err
			},
			"kit of one part": func() error {
				_, err := s.AddProduct(ctx, "ada", shelf.Product{Name: "x", Parts: []shelf.Part{{a.ID, "resin", 100}}, PartsBy: "mass"})
				return err
			},
			"negative amount": func() error {
				_, err := s.AddStock(ctx, "ada", shelf.Stock{Product: a.ID, Place: w.ID, Amount: &amount, Unit: "l"})
				return err
			},
			"unknown unit": func() error {
				_, err := s.AddStock(ctx, "ada", shelf.Stock{Product: a.ID, Place: w.ID, Unit: "tins"})
				return err
			},
			"short password": func() error {
				_, err := s.AddUser(ctx, "ada", shelf.User{Name: "cy", Role: shelf.MayRead}, "short")
				return err
			},
			"unknown role": func() error {
				_, err := s.AddUser(ctx, "ada", shelf.User{Name: "cy", Role: "king"}, "long enough password")
				return err
			},
			"place within itself": func() error { x := w; x.Within = w.ID; _, err := s.EditPlace(ctx, "ada", x); return err },
			"empty document":      func() error { _, err := s.AddDocument(ctx, "ada", "x.pdf", nil, ""); return err },
		} {
			var invalid *shelf.Invalid
			if err := do(); !errors.As(err, &invalid) || invalid.What == "" || invalid.Do == "" {
				t.Errorf("%s: got %v", name, err)
			}
		}
	})
}

func TestLogin(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		u := must(s.AddUser(ctx, "ada", shelf.User{Name: "Ada", Role: shelf.MayManage}, "correct horse battery"))(t)
		if _, err := s.Login(ctx, "ada", "wrong horse battery", "127.0.0.1", "test"); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("a wrong password gave %v", err)
		}
		if _, err := s.Login(ctx, "eve", "correct horse battery", "127.0.0.1", "test"); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("an unknown name gave %v", err)
		}
		in := must(s.Login(ctx, "ADA", "correct horse battery", "127.0.0.1", "test"))(t)
		if got := must(s.SessionOf(ctx, in.Token))(t); got.User.ID != u.ID {
			t.Errorf("the session is of %+v", got.User)
		}
		if _, err := s.SessionOf(ctx, in.Token+"x"); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("a forged token gave %v", err)
		}
		p.clock.at = p.clock.at.Add(31 * 24 * time.Hour)
		if _, err := s.SessionOf(ctx, in.Token); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("an expired session gave %v", err)
		}
		for range 10 {
			if _, err := s.Login(ctx, "ada", "guess guess guess", "127.0.0.1", "test"); !errors.Is(err, shelf.ErrRefused) {
				t.Fatal(err)
			}
		}
		if _, err := s.Login(ctx, "ada", "correct horse battery", "127.0.0.1", "test"); err == nil || !strings.Contains(err.Error(), "wait 15 minutes") {
			t.Errorf("after ten wrong attempts the right one gave %v", err)
		}
		p.clock.at = p.clock.at.Add(16 * time.Minute)
		in = must(s.Login(ctx, "ada", "correct horse battery", "127.0.0.1", "test"))(t)
		if err := s.SetPassword(ctx, "ada", u.ID, "another long password"); err != nil {
			t.Fatal(err)
		}
		if _, err := s.SessionOf(ctx, in.Token); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("a session outlived the password: %v", err)
		}
		if err := s.RetireUser(ctx, "ada", u.ID, "leaves"); err == nil {
			t.Error("the last user who may manage was retired")
		}
		for _, e := range must(s.Trail(ctx, shelf.TrailFilter{}))(t).Items {
			if strings.Contains(string(e.After)+string(e.Before), "argon2") {
				t.Error("the trail holds a password's hash")
			}
		}
	})
}
