package shelf_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"sixteen/shelf"
)

// A token opens the shelf in its user's name, with the lesser role, until it expires, is taken back, or the account closes.
func TestTokens(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		boss := must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
		u := must(s.AddUser(ctx, "ada", shelf.User{Name: "ben", Role: shelf.MayWork}, "seven boats on a slip"))(t)
		day := 24 * time.Hour
		in := func(d time.Duration) time.Time { return p.clock.at.Add(d) }
		for name, k := range map[string]shelf.Token{
			"more than the user may": {User: u.ID, Name: "scanner", Role: shelf.MayManage, Expires: in(day)},
			"no name":                {User: u.ID, Role: shelf.MayRead, Expires: in(day)},
			"expired":                {User: u.ID, Name: "scanner", Role: shelf.MayRead, Expires: in(-day)},
			"no end":                 {User: u.ID, Name: "scanner", Role: shelf.MayRead, Expires: in(4000 * day)},
			"unknown role":           {User: u.ID, Name: "scanner", Role: "owner", Expires: in(day)},
		} {
			var invalid *shelf.Invalid
			if _, _, err := s.AddToken(ctx, "ada", k); !errors.As(err, &invalid) {
				t.Errorf("%s: got %v", name, err)
			}
		}
		k, secret, err := s.AddToken(ctx, "ada", shelf.Token{User: u.ID, Name: "scanner", Role: shelf.MayRead, Expires: in(10 * day)})
		if err != nil {
			t.Fatal(err)
		}
		got, token, err := s.Bearer(ctx, secret)
		if err != nil || got.ID != u.ID || got.Role != shelf.MayRead || token.ID != k.ID {
			t.Errorf("the token is of %+v, %v", got, err)
		}
		refused := func(why, secret string) {
			t.Helper()
			if _, _, err := s.Bearer(ctx, secret); !errors.Is(err, shelf.ErrRefused) {
				t.Errorf("%s: got %v", why, err)
			}
		}
		refused("a forged secret", secret[:len(secret)-1]+"!")
		refused("no secret", "")
		refused("the hash for the secret", k.ID)
		for _, e := range must(s.Trail(ctx, shelf.TrailFilter{}))(t).Items {
			if strings.Contains(string(e.After)+string(e.Before)+e.Note, secret) {
				t.Error("the trail holds the secret")
			}
		}
		_, wide, err := s.AddToken(ctx, "ada", shelf.Token{User: boss.ID, Name: "backup", Role: shelf.MayManage, Expires: in(10 * day)})
		if err != nil {
			t.Fatal(err)
		}
		second := must(s.AddUser(ctx, "ada", shelf.User{Name: "cyd", Role: shelf.MayManage}, "anchor chain and paint"))(t)
		boss.Role = shelf.MayRead
		if boss, err = s.EditUser(ctx, "cyd", boss); err != nil {
			t.Fatal(err)
		}
		if got, _, err := s.Bearer(ctx, wide); err != nil || got.Role != shelf.MayRead {
			t.Errorf("a token kept the role %s that its user lost, %v", got.Role, err)
		}
		if err := s.RetireUser(ctx, second.Name, boss.ID, "leaves"); err != nil {
			t.Fatal(err)
		}
		refused("the token of a closed account", wide)
		if got := must(s.Tokens(ctx, u.ID))(t); len(got) != 1 || got[0].Name != "scanner" {
			t.Errorf("the tokens are %+v", got)
		}
		p.clock.at = p.clock.at.Add(10 * day)
		refused("an expired token", secret)
		p.clock.at = p.clock.at.Add(-5 * day)
		if err := s.RetireToken(ctx, "cyd", k.ID, "lost"); err != nil {
			t.Fatal(err)
		}
		refused("a token that was taken back", secret)
	})
}

// Guessing is stopped per name and address, per address and per name, for names that exist and names that do not alike, and
// by another process too; one address does not lock a user out elsewhere.
func TestGuessing(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
		for range 10 {
			for _, name := range []string{"ada", "nobody.here"} {
				if _, err := s.Login(ctx, name, "guess guess guess", "192.0.2.1", ""); !errors.Is(err, shelf.ErrRefused) || errors.Is(err, shelf.ErrTooMany) {
					t.Fatalf("%s: %v", name, err)
				}
			}
		}
		again := p.open(t) // as after a restart
		for _, name := range []string{"ada", "nobody.here"} {
			if _, err := again.Login(ctx, name, "correct horse battery", "192.0.2.1", ""); !errors.Is(err, shelf.ErrTooMany) {
				t.Errorf("the eleventh attempt with %s gave %v", name, err)
			}
		}
		must(s.Login(ctx, "ada", "correct horse battery", "192.0.2.2", ""))(t)
		for i := range 10 {
			if _, err := s.Login(ctx, "spray"+strings.Repeat("x", i), "guess guess guess", "192.0.2.1", ""); !errors.Is(err, shelf.ErrRefused) {
				t.Fatal(err)
			}
		}
		if _, err := s.Login(ctx, "another", "guess guess guess", "192.0.2.1", ""); !errors.Is(err, shelf.ErrTooMany) {
			t.Errorf("after thirty wrong attempts an address gave %v", err)
		}
		for _, e := range must(s.Trail(ctx, shelf.TrailFilter{Kind: shelf.SessionKind, Paging: shelf.Paging{Limit: 1000}}))(t).Items {
			if strings.Contains(e.Title+e.Who, "spray") || e.What != "login refused" && e.What != "logged in" {
				t.Errorf("the trail holds %+v", e)
			}
		}
	})
}

// Passwords that are tried first are refused with what to do; the same words in another composition of accents are the same.
func TestPasswords(t *testing.T) {
	ctx, s := t.Context(), sqlitePlace(t).open(t)
	must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
	for _, bad := range []string{"short", "Password2026", "p@ssw0rd!!", "passwordpassword", "1234567890", "qwertyuiop", "aaaaaaaaaaaa", "abababababab", "Willkommen1", "rosalind99", "abcdefghijkl", "Summer2026!!", "qazwsxedc123", strings.Repeat("x7!k", 300)} {
		var invalid *shelf.Invalid
		if _, err := s.AddUser(ctx, "ada", shelf.User{Name: "rosalind", Role: shelf.MayRead}, bad); !errors.As(err, &invalid) || invalid.Do == "" {
			t.Errorf("%q was taken: %v", bad, err)
		}
	}
	for i, good := range []string{"correct horse battery", "seven boats on a slip", "Ölzeug hängt trocken", "tK4-9vLm2x"} {
		name := "user" + string(rune('a'+i))
		must(s.AddUser(ctx, "ada", shelf.User{Name: name, Role: shelf.MayRead}, good))(t)
		must(s.Login(ctx, name, good, "", ""))(t)
	}
	must(s.Login(ctx, "userc", "O\u0308lzeug ha\u0308ngt trocken", "", ""))(t)
}

// Signing out everywhere ends the sessions on every machine.
func TestLogoutEverywhere(t *testing.T) {
	onBoth(t, func(t *testing.T, p place) {
		ctx, s := t.Context(), p.open(t)
		u := must(s.AddUser(ctx, "ada", shelf.User{Name: "ada", Role: shelf.MayManage}, "correct horse battery"))(t)
		a, b := must(s.Login(ctx, "ada", "correct horse battery", "a", ""))(t), must(s.Login(ctx, "ada", "correct horse battery", "b", ""))(t)
		if a.Token == b.Token {
			t.Fatal("two sessions have one token")
		}
		if err := s.LogoutEverywhere(ctx, "ada", u.ID); err != nil {
			t.Fatal(err)
		}
		for _, in := range []shelf.Session{a, b} {
			if _, err := s.SessionOf(ctx, in.Token); !errors.Is(err, shelf.ErrRefused) {
				t.Errorf("a session is open still: %v", err)
			}
		}
	})
}
