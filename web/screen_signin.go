package web

import (
	"errors"
	"net/http"

	"sixteen/shelf"
)

// signInView is the form for signing in.
type signInView struct {
	Name, Back, Wrong string
}

// accounts is the guard when there are accounts on this server.
func (a *App) accounts() (*Accounts, error) {
	g, ok := a.guard.(*Accounts)
	if !ok {
		return nil, missing("Nobody signs in on this server: only this machine can reach it, and the shelf has no users.")
	}
	return g, nil
}

func showSignIn(a *App, v *visit) error {
	g, err := a.accounts()
	if err != nil {
		return err
	}
	back := inside(v.r.URL.Query().Get("back"))
	if _, err := g.session(v.r); err == nil {
		return v.see(back, "")
	}
	return a.showSignInForm(v, http.StatusOK, signInView{Back: back})
}

func (a *App) showSignInForm(v *visit, status int, view signInView) error {
	return a.show(v, status, screen{title: "Sign in", name: "signin", value: view})
}

// signIn opens a session. A wrong name and a wrong password get the same answer.
func signIn(a *App, v *visit) error {
	g, err := a.accounts()
	if err != nil {
		return err
	}
	view := signInView{Name: v.form("name"), Back: inside(v.form("back"))}
	err = g.signIn(v.ctx(), v.w, v.r, view.Name, v.r.PostFormValue("password"))
	switch {
	case errors.Is(err, shelf.ErrTooMany):
		v.w.Header().Set("Retry-After", "900")
		view.Wrong = sentence(err.Error())
		return a.showSignInForm(v, http.StatusTooManyRequests, view)
	case errors.Is(err, shelf.ErrRefused):
		view.Wrong = "Name or password do not fit. Try again, or ask somebody who may manage the shelf for another password."
		return a.showSignInForm(v, http.StatusUnauthorized, view)
	case err != nil:
		return err
	}
	return v.see(view.Back, "")
}

func signOut(a *App, v *visit) error {
	g, err := a.accounts()
	if err != nil {
		return err
	}
	if err := g.signOut(v.w, v.r); err != nil {
		return err
	}
	return v.see("/sign-in", "You are signed out.")
}

// signOutEverywhere ends all sessions of the person, on every machine.
func signOutEverywhere(a *App, v *visit) error {
	g, err := a.accounts()
	if err != nil {
		return err
	}
	if err := a.shelf.LogoutEverywhere(v.ctx(), v.by(), v.who.ID); err != nil {
		return err
	}
	if err := g.signOut(v.w, v.r); err != nil {
		return err
	}
	return v.see("/sign-in", "You are signed out on every machine.")
}

// accountView is what somebody sees of their own account.
type accountView struct {
	User   shelf.User
	Role   string
	Tokens []tokenView
	Wrong  string
	Secret string // of a token just made, shown once
}

type tokenView struct{ ID, Name, Role, Ends, State string }

func showAccount(a *App, v *visit) error {
	return a.showAccountWith(v, http.StatusOK, "", "")
}

func (a *App) showAccountWith(v *visit, status int, wrong, secret string) error {
	if _, err := a.accounts(); err != nil {
		return err
	}
	u, err := a.shelf.User(v.ctx(), v.who.ID)
	if err != nil {
		return err
	}
	view := accountView{User: u, Role: v.who.Role.String(), Wrong: wrong, Secret: secret}
	tokens, err := a.shelf.Tokens(v.ctx(), u.ID)
	if err != nil {
		return err
	}
	for _, k := range tokens {
		t := tokenView{ID: k.ID, Name: k.Name, Role: string(k.Role), Ends: dayShown(k.Expires)}
		if !a.now().Before(k.Expires) {
			t.State = "ended"
		}
		view.Tokens = append(view.Tokens, t)
	}
	return a.show(v, status, screen{title: "Your account", here: "settings", name: "account", value: view})
}

// changePassword gives the person another password when they know the present one, and signs them in anew.
func changePassword(a *App, v *visit) error {
	g, err := a.accounts()
	if err != nil {
		return err
	}
	u, err := a.shelf.User(v.ctx(), v.who.ID)
	if err != nil {
		return err
	}
	fresh := v.r.PostFormValue("new")
	if fresh != v.r.PostFormValue("again") {
		return a.showAccountWith(v, http.StatusUnprocessableEntity, "The two new passwords differ. Write the new one twice.", "")
	}
	if err := g.signIn(v.ctx(), v.w, v.r, u.Name, v.r.PostFormValue("old")); errors.Is(err, shelf.ErrRefused) {
		return a.showAccountWith(v, http.StatusUnprocessableEntity, "The present password does not fit. Write it again.", "")
	} else if err != nil {
		return err
	}
	if err := a.shelf.SetPassword(v.ctx(), v.by(), u.ID, fresh); err != nil {
		return err
	}
	if err := g.signIn(v.ctx(), v.w, v.r, u.Name, fresh); err != nil {
		return err
	}
	return v.see("/account", "The password is changed; every other session has ended.")
}

// makeToken makes a token for a program of the person and shows its secret once.
func makeToken(a *App, v *visit) error {
	if _, err := a.accounts(); err != nil {
		return err
	}
	_, secret, err := a.shelf.AddToken(v.ctx(), v.by(), shelf.Token{User: v.who.ID, Name: v.form("name"), Role: shelf.Role(v.form("role")), Expires: a.now().Add(shelf.TokenUsual)})
	if err != nil {
		return a.showAccountWith(v, http.StatusUnprocessableEntity, wordsOf(err), "")
	}
	return a.showAccountWith(v, http.StatusOK, "", secret)
}

// dropToken takes a token of the person back.
func dropToken(a *App, v *visit) error {
	tokens, err := a.shelf.Tokens(v.ctx(), v.who.ID)
	if err != nil {
		return err
	}
	for _, k := range tokens {
		if k.ID == v.r.PathValue("id") {
			if err := a.shelf.RetireToken(v.ctx(), v.by(), k.ID, "taken back by its user"); err != nil {
				return err
			}
			return v.see("/account", "The token opens nothing any more.")
		}
	}
	return missing("There is no such token of yours.")
}
