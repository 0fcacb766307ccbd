package web

import (
	"net/http"

	"sixteen/shelf"
)

// usersView is who may sign in.
type usersView struct {
	Users []userView
	Roles []optionView
	Alone bool // nobody signs in on this server yet
	First bool // there is no user
	Wrong string
}

type userView struct {
	ID, Name, FullName string
	Role               string
	Version            int64
	Self               bool
}

func roleOptions() []optionView {
	return []optionView{{"read", "read: look and print"}, {"work", "work: also add, correct, plan"}, {"manage", "manage: also users, settings, backups"}}
}

func showUsers(a *App, v *visit) error { return a.showUsersWith(v, http.StatusOK, "") }

func (a *App) showUsersWith(v *visit, status int, wrong string) error {
	users, err := a.shelf.Users(v.ctx())
	if err != nil {
		return err
	}
	view := usersView{Roles: roleOptions(), First: len(users) == 0, Wrong: wrong}
	_, alone := a.guard.(*Accounts)
	view.Alone = !alone
	for _, u := range users {
		view.Users = append(view.Users, userView{ID: u.ID, Name: u.Name, FullName: u.FullName, Role: string(u.Role), Version: u.Version, Self: u.ID == v.who.ID})
	}
	return a.show(v, status, screen{title: "Users", here: "settings", name: "users", value: view})
}

// afterUsers goes back to the users, or shows what a person can put right.
func (a *App) afterUsers(v *visit, err error, said string) error {
	if err == nil {
		return v.see("/users", said)
	}
	status, words := statusOf(err)
	if status >= 500 {
		return err
	}
	return a.showUsersWith(v, status, words)
}

func addUser(a *App, v *visit) error {
	_, err := a.shelf.AddUser(v.ctx(), v.by(), shelf.User{Name: v.form("name"), FullName: v.form("full"), Role: shelf.Role(v.form("role"))}, v.r.PostFormValue("password"))
	return a.afterUsers(v, err, "The account is open.")
}

func editUser(a *App, v *visit) error {
	u, err := a.shelf.User(v.ctx(), v.r.PathValue("id"))
	if err != nil {
		return err
	}
	u.FullName, u.Role = v.form("full"), shelf.Role(v.form("role"))
	_, err = a.shelf.EditUser(v.ctx(), v.by(), u)
	return a.afterUsers(v, err, "Kept. It holds from the next click on.")
}

func resetPassword(a *App, v *visit) error {
	err := a.shelf.SetPassword(v.ctx(), v.by(), v.r.PathValue("id"), v.r.PostFormValue("password"))
	return a.afterUsers(v, err, "The password is changed; the sessions of this user have ended.")
}

func closeAccount(a *App, v *visit) error {
	err := a.shelf.RetireUser(v.ctx(), v.by(), v.r.PathValue("id"), v.form("why"))
	return a.afterUsers(v, err, "The account is closed. What its user did stays in the trail.")
}
