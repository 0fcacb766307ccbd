package shelf_test

import (
	"errors"
	"strings"
	"testing"

	"sixteen/shelf"
)

// A document that was queued before the clock was put back by two days is read now, not in two days.
func TestReadingAfterTheClockWasPutBack(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t)
		shelf.QueuedLater(t, s, 2)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		if got := waitRead(t, s); got.Read != 1 {
			t.Errorf("%+v", got)
		}
	})
}

// A document that was queued long before is read when the clock has jumped forward, and once.
func TestReadingAfterTheClockJumpedForward(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		must(s.AddDocument(ctx, "ada", "a.pdf", tin("Bilge paint", "2024-01-01"), ""))(t)
		shelf.QueuedLater(t, s, -400)
		p.clock.at = p.clock.at.AddDate(0, 0, 400)
		if err := s.StartReading(ctx, 1); err != nil {
			t.Fatal(err)
		}
		if got := waitRead(t, s); got.Read != 1 {
			t.Errorf("%+v", got)
		}
		reads := 0
		for _, e := range must(s.Trail(ctx, shelf.TrailFilter{Kind: shelf.SheetKind}))(t).Items {
			if e.What == "read" {
				reads++
			}
		}
		if reads != 1 {
			t.Errorf("read %d times", reads)
		}
	})
}

// Sessions and the bound on guessing when the clock jumps: an open session stays open when it goes back and has ended when it
// goes far forward; whoever was stopped for guessing is not stopped for days because the clock went back.
func TestSessionsWhenTheClockJumps(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
		in := must(s.Login(ctx, "ada", "correct horse battery", "192.0.2.1", ""))(t)
		p.clock.at = p.clock.at.AddDate(0, 0, -2)
		if _, err := s.SessionOf(ctx, in.Token); err != nil {
			t.Errorf("the clock went back and ended a session: %v", err)
		}
		earlier := must(s.Login(ctx, "ada", "correct horse battery", "192.0.2.1", ""))(t)
		p.clock.at = p.clock.at.AddDate(0, 0, 8)
		for _, token := range []string{in.Token, earlier.Token} {
			if _, err := s.SessionOf(ctx, token); token == earlier.Token && !errors.Is(err, shelf.ErrRefused) {
				t.Errorf("a session without use for eight days is open: %v", err)
			}
		}
		p.clock.at = p.clock.at.AddDate(0, 0, 40)
		if _, err := s.SessionOf(ctx, in.Token); !errors.Is(err, shelf.ErrRefused) {
			t.Errorf("a session outlived its end: %v", err)
		}
		for range 10 {
			if _, err := s.Login(ctx, "ada", "guess guess guess", "192.0.2.1", ""); !errors.Is(err, shelf.ErrRefused) {
				t.Fatal(err)
			}
		}
		if _, err := s.Login(ctx, "ada", "correct horse battery", "192.0.2.1", ""); !errors.Is(err, shelf.ErrTooMany) {
			t.Errorf("after ten wrong attempts: %v", err)
		}
		p.clock.at = p.clock.at.AddDate(0, 0, -3)
		if _, err := s.Login(ctx, "ada", "correct horse battery", "192.0.2.1", ""); err != nil {
			t.Errorf("attempts that lie three days ahead stop a login: %v", err)
		}
	})
}

// Reviews are due by the day that is asked for; a clock that goes back changes no date that was set.
func TestReviewsWhenTheClockJumps(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		product := must(s.AddProduct(ctx, "ada", shelf.Product{Name: "Keel paint", ReviewDue: "2026-06-01"}))(t)
		due := func() bool {
			t.Helper()
			for _, d := range must(s.Due(ctx, p.clock.at))(t).Items {
				if d.Sort == shelf.ReviewDue {
					return true
				}
			}
			return false
		}
		if due() {
			t.Error("a review of June is due in March")
		}
		p.clock.at = p.clock.at.AddDate(1, 0, 0)
		if !due() {
			t.Error("a review of last June is not due")
		}
		product.Note = "moved"
		must(s.EditProduct(ctx, "ada", product))(t)
		p.clock.at = p.clock.at.AddDate(-2, 0, 0)
		if due() {
			t.Error("after the clock went back the review is due still")
		}
		product = must(s.Product(ctx, product.ID))(t)
		product.Note = "moved again"
		product = must(s.EditProduct(ctx, "ada", product))(t)
		if product.ReviewDue != "2026-06-01" {
			t.Errorf("the review is due on %s", product.ReviewDue)
		}
		// The order of the trail is that of the changes, whatever the clock said.
		var notes []string
		for _, e := range must(s.Trail(ctx, shelf.TrailFilter{Kind: shelf.ProductKind}))(t).Items {
			notes = append(notes, string(e.After))
		}
		if len(notes) != 3 || !strings.Contains(notes[0], "moved again") {
			t.Errorf("the trail is %v", notes)
		}
	})
}
