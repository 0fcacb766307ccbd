package shelf

import (
	"context"
	"crypto/rand"
	"fmt"
	"strings"
	"time"
)

// Token lets a program work on the shelf in a user's name, until it expires and never with more than Role. The shelf keeps
// the hash of its secret only.
type Token struct {
	Record
	User    string    `json:"user"` // ID
	Name    string    `json:"name"` // what it is for
	Role    Role      `json:"role"`
	Expires time.Time `json:"expires"`

	hash string
}

func (k *Token) kind() Kind       { return TokenKind }
func (k *Token) table() string    { return "tokens" }
func (k *Token) title() string    { return k.Name }
func (k *Token) searched() string { return "" }
func (k *Token) columns() []column {
	return []column{
		{"user_id", text{&k.User}}, {"name", text{&k.Name}}, {"role", words[Role]{&k.Role}}, {"expires", moment{&k.Expires}}, {"hash", text{&k.hash}},
	}
}
func (k *Token) check() error {
	if err := named("token", k.Name); err != nil {
		return err
	}
	if len(k.Name) > 200 {
		return &Invalid{What: "The name of the token is too long.", Do: "Say in at most 200 characters what it is for."}
	}
	return oneOf("role", k.Role, Roles()...)
}

// Lifetimes of tokens.
const (
	TokenUsual   = 90 * 24 * time.Hour
	TokenLongest = 366 * 24 * time.Hour
)

// tokenMark begins every secret, so that one that leaked is recognised where it lies.
const tokenMark = "sixteen_"

// AddToken makes a token for a user and returns its secret, which cannot be had again. The role is at most the user's own.
// It fails with ErrNotFound and *Invalid.
func (s *Shelf) AddToken(ctx context.Context, by string, k Token) (Token, string, error) {
	secret := tokenMark + rand.Text() + rand.Text()
	err := s.change(ctx, by, func(x *change) error {
		u, err := load[User](ctx, x, k.User)
		if err != nil {
			return err
		}
		if !u.Retired.IsZero() || !u.Role.Allows(k.Role) {
			return &Invalid{What: fmt.Sprintf("%s may not %s.", u.Name, k.Role), Do: "Choose a role that the user has."}
		}
		if !k.Expires.After(x.now) || k.Expires.Sub(x.now) > TokenLongest {
			return &Invalid{What: "The token would not end within a year.", Do: "Let it end on a day within the next 366."}
		}
		k.Expires, k.hash = k.Expires.UTC().Truncate(time.Microsecond), tokenHash(secret)
		return x.insert(ctx, &k, "")
	})
	return k, secret, err
}

// Tokens lists the tokens of a user that were not taken back, those that expired included.
func (s *Shelf) Tokens(ctx context.Context, user string) ([]Token, error) {
	return loadAll[Token](ctx, s, "WHERE t.user_id = ? AND t.retired = '' ORDER BY t.seq", user)
}

// RetireToken takes a token back, with the reason: it opens nothing from now on.
func (s *Shelf) RetireToken(ctx context.Context, by, id, why string) error {
	return retire[Token](ctx, s, by, id, why, "")
}

// Bearer is the user in whose name a program works with a token; the role is the lesser of the token's and the user's. It
// fails with ErrRefused for a secret that is unknown, expired or taken back, and for the token of a closed account.
func (s *Shelf) Bearer(ctx context.Context, secret string) (User, Token, error) {
	if !strings.HasPrefix(secret, tokenMark) || len(secret) > 200 {
		return User{}, Token{}, ErrRefused
	}
	found, err := loadAll[Token](ctx, s, "WHERE t.hash = ? AND t.retired = ''", tokenHash(secret))
	if err != nil {
		return User{}, Token{}, err
	}
	if len(found) != 1 || !s.now().Before(found[0].Expires) {
		return User{}, Token{}, ErrRefused
	}
	u, err := load[User](ctx, s, found[0].User)
	if err != nil {
		return User{}, Token{}, err
	}
	if !u.Retired.IsZero() {
		return User{}, Token{}, ErrRefused
	}
	if !found[0].Role.Allows(u.Role) {
		u.Role = found[0].Role
	}
	return u, found[0], nil
}
