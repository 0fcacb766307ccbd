package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"sixteen/shelf"
)

// userCommand opens and closes accounts, for a shelf that others than this machine reach.
type userCommand struct {
	Add      userAdd      `cmd:"" help:"Open an account. The first must be one that may manage."`
	List     userList     `cmd:"" help:"List the users and what they may do."`
	Role     userRole     `cmd:"" help:"Give a user another role."`
	Password userPassword `cmd:"" help:"Give a user another password; all their sessions end."`
	Out      userOut      `cmd:"" help:"End all sessions of a user, on every machine."`
	Off      userOff      `cmd:"" help:"Close an account. What its user did stays in the trail."`
	Token    userToken    `cmd:"" help:"Make a token with which a program works through /api in a user's name."`
	Tokens   userTokens   `cmd:"" help:"List the tokens of a user, or take one back."`
}

// withShelf opens the shelf of the command line for f.
func withShelf(ctx context.Context, io streams, f func(*shelf.Shelf) error) error {
	s, err := shelf.Open(ctx, io.shelf)
	if err != nil {
		return err
	}
	return errors.Join(f(s), s.Close())
}

// userNamed is the user of a name.
func userNamed(ctx context.Context, s *shelf.Shelf, name string) (shelf.User, error) {
	users, err := s.Users(ctx)
	if err != nil {
		return shelf.User{}, err
	}
	for _, u := range users {
		if u.Name == strings.ToLower(strings.TrimSpace(name)) {
			return u, nil
		}
	}
	return shelf.User{}, fmt.Errorf("the shelf has no user %q: 'sixteen user list' names them", name)
}

type userAdd struct {
	Name string `arg:"" help:"Name to sign in with: letters a to z, digits, dots, hyphens and underscores."`
	Full string `help:"Full name."`
	Role string `help:"What the user may do: read, work or manage." enum:"read,work,manage" default:"read"`
}

// Run opens an account with a password from the terminal or the standard input.
func (c *userAdd) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		password, err := askPassword(io, "Password for "+c.Name)
		if err != nil {
			return err
		}
		u, err := s.AddUser(ctx, account(), shelf.User{Name: c.Name, FullName: c.Full, Role: shelf.Role(c.Role)}, password)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s may %s from now on. Where the shelf is served, signing in is needed from the next start on.\n", u.Name, u.Role)
		return err
	})
}

type userList struct {
	JSON bool `help:"As JSON."`
}

// Run lists the users.
func (c *userList) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		users, err := s.Users(ctx)
		if err != nil {
			return err
		}
		if c.JSON {
			enc := json.NewEncoder(io.out)
			enc.SetIndent("", "  ")
			return enc.Encode(users)
		}
		if len(users) == 0 {
			_, err := fmt.Fprintln(io.out, "The shelf has no users: only this machine can reach it, and whoever uses this account may do everything.")
			return err
		}
		p := &printer{w: io.out}
		for _, u := range users {
			p.printf("%-20s %-7s %s\n", u.Name, u.Role, u.FullName)
		}
		return p.err
	})
}

type userRole struct {
	Name string `arg:"" help:"The user."`
	Role string `arg:"" help:"read, work or manage." enum:"read,work,manage"`
}

// Run gives a user another role.
func (c *userRole) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		u.Role = shelf.Role(c.Role)
		if u, err = s.EditUser(ctx, account(), u); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s may %s from now on.\n", u.Name, u.Role)
		return err
	})
}

type userPassword struct {
	Name string `arg:"" help:"The user."`
}

// Run gives a user another password.
func (c *userPassword) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		password, err := askPassword(io, "New password for "+u.Name)
		if err != nil {
			return err
		}
		if err := s.SetPassword(ctx, account(), u.ID, password); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "The password of %s is changed, and all their sessions have ended.\n", u.Name)
		return err
	})
}

type userOut struct {
	Name string `arg:"" help:"The user."`
}

// Run ends all sessions of a user.
func (c *userOut) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		if err := s.LogoutEverywhere(ctx, account(), u.ID); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s is signed out on every machine. Tokens of programs still hold: 'sixteen user tokens %s' lists them.\n", u.Name, u.Name)
		return err
	})
}

type userOff struct {
	Name string `arg:"" help:"The user."`
	Why  string `required:"" help:"The reason; it is kept."`
}

// Run closes an account.
func (c *userOff) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		if err := s.RetireUser(ctx, account(), u.ID, c.Why); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "The account of %s is closed; its sessions and tokens open nothing any more.\n", u.Name)
		return err
	})
}

type userToken struct {
	Name string `arg:"" help:"The user in whose name the program works."`
	For  string `required:"" help:"What it is for."`
	Role string `help:"What it may do, at most what the user may." enum:"read,work,manage" default:"read"`
	Days int    `help:"How many days it holds, at most 366." default:"90"`
}

// Run makes a token and prints its secret, which cannot be had again.
func (c *userToken) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		k, secret, err := s.AddToken(ctx, account(), shelf.Token{User: u.ID, Name: c.For, Role: shelf.Role(c.Role), Expires: time.Now().AddDate(0, 0, c.Days)})
		if err != nil {
			return err
		}
		fmt.Fprintf(io.err, "sixteen: token %s for %q may %s until %s; it is shown this once\n", k.ID, k.Name, k.Role, k.Expires.Format(time.DateOnly))
		_, err = fmt.Fprintln(io.out, secret)
		return err
	})
}

type userTokens struct {
	Name string `arg:"" help:"The user."`
	Off  string `help:"Take this token back." placeholder:"ID"`
	Why  string `help:"Why it is taken back." default:"not needed any more"`
}

// Run lists the tokens of a user, or takes one back.
func (c *userTokens) Run(ctx context.Context, io streams) error {
	return withShelf(ctx, io, func(s *shelf.Shelf) error {
		u, err := userNamed(ctx, s, c.Name)
		if err != nil {
			return err
		}
		tokens, err := s.Tokens(ctx, u.ID)
		if err != nil {
			return err
		}
		p := &printer{w: io.out}
		for _, k := range tokens {
			if c.Off == k.ID {
				p.printf("The token %q opens nothing any more.\n", k.Name)
				return errors.Join(s.RetireToken(ctx, account(), k.ID, c.Why), p.err)
			}
			if c.Off == "" {
				p.printf("%s  %-7s until %s  %s\n", k.ID, k.Role, k.Expires.Format(time.DateOnly), k.Name)
			}
		}
		if c.Off != "" {
			return fmt.Errorf("%s has no token %s: 'sixteen user tokens %s' lists them", u.Name, c.Off, u.Name)
		}
		return p.err
	})
}

// askPassword reads a password: twice and unseen from a terminal, else one line of the standard input.
func askPassword(io streams, what string) (string, error) {
	f, ok := io.in.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return passwordLine(io)
	}
	ask := func(prompt string) (string, error) {
		fmt.Fprint(io.err, prompt+": ")
		raw, err := term.ReadPassword(int(f.Fd()))
		fmt.Fprintln(io.err)
		return string(raw), err
	}
	first, err := ask(what)
	if err != nil {
		return "", err
	}
	second, err := ask("The same again")
	if err != nil {
		return "", err
	}
	if first != second {
		return "", errors.New("the two passwords differ: run the command again and write the same twice")
	}
	return first, nil
}

func passwordLine(io streams) (string, error) {
	if io.in == nil {
		return "", errors.New("there is no password: write it on the terminal, or as one line on the standard input")
	}
	in := bufio.NewScanner(io.in)
	if !in.Scan() {
		return "", errors.Join(errors.New("there is no password: write it on the terminal, or as one line on the standard input"), in.Err())
	}
	return strings.TrimRight(in.Text(), "\r"), nil
}
