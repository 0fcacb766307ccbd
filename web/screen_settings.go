package web

import (
	"fmt"
	"net/http"
	"strconv"

	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/shelf"
)

// settingsView is what a workshop says about itself, and what this program is.
type settingsView struct {
	S            shelf.Settings
	Rules        string
	RuleSets     []optionView
	Langs        []optionView
	Lang1, Lang2 string
	Themes       []optionView
	Tables       []pair
	MayRestore   bool
	About        []pair
	Trail        []entryView
}

func showSettings(a *App, v *visit) error {
	s, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	view := settingsView{S: s, Rules: string(s.RuleSet), RuleSets: ruleSets(), Langs: languages(), Themes: []optionView{{"", "As this machine is set"}, {"light", "Light"}, {"dark", "Dark"}}}
	view.RuleSets[0].Title = "as each sheet appears to be written"
	if len(s.Languages) > 0 {
		view.Lang1 = string(s.Languages[0])
	}
	if len(s.Languages) > 1 {
		view.Lang2 = string(s.Languages[1])
	}
	where, documents := a.shelf.Where()
	view.About = []pair{{"Shelf", where}, {"Documents", documents}, {"Checks", fmt.Sprintf("version %s", shelf.ChecksVersion())}, {"Program", a.version},
		{"Licence", "Apache-2.0; the PDF engine is PDFium (BSD and Apache licences)"}}
	if view.Tables, err = tables(); err != nil {
		return err
	}
	if view.MayRestore, err = a.emptyShelf(v.ctx()); err != nil {
		return err
	}
	trail, err := a.shelf.Trail(v.ctx(), shelf.TrailFilter{Paging: shelf.Paging{Limit: 30}})
	if err != nil {
		return err
	}
	for _, e := range trail.Items {
		view.Trail = append(view.Trail, entryOf(e))
	}
	return a.show(v, http.StatusOK, screen{title: "Settings", here: "settings", name: "settings", value: view})
}

// entryOf is an entry of the trail in words.
func entryOf(e shelf.Entry) entryView {
	what := string(e.Kind) + " " + e.What
	if e.Title != "" {
		what += ": " + e.Title
	}
	return entryView{When: e.At.Local().Format("2006-01-02 15:04"), Who: e.Who, What: what, Note: e.Note}
}

// keepSettings keeps what the workshop says about itself.
func keepSettings(a *App, v *visit) error {
	s, err := a.shelf.Settings(v.ctx())
	if err != nil {
		return err
	}
	s.Version, _ = strconv.ParseInt(v.form("version"), 10, 64) // no number is version 0, a conflict once there are settings
	s.Workshop, s.Address, s.CallWhom, s.PoisonCentre, s.Spills, s.RuleSet = v.form("workshop"), v.form("address"), v.form("call"), v.form("poison"), v.form("spills"), ghs.RuleSet(v.form("rules"))
	s.Languages = nil
	for _, name := range []string{"lang1", "lang2"} {
		for _, l := range ghs.Langs() {
			if string(l) == v.form(name) && (len(s.Languages) == 0 || s.Languages[0] != l) {
				s.Languages = append(s.Languages, l)
			}
		}
	}
	if s.ReviewMonths, err = strconv.Atoi(v.form("months")); err != nil {
		return refused(fmt.Sprintf("“%s” is no number of months. Write it with digits, such as 36, or 0 for never.", v.form("months")))
	}
	if _, err := a.shelf.EditSettings(v.ctx(), v.by(), s); err != nil {
		return err
	}
	return v.see("/settings", "The settings are kept.")
}

// keepName keeps the name of the one person on loopback.
func keepName(a *App, v *visit) error {
	if v.who.ID != "" {
		return refused("You are signed in; your name is that of your account.")
	}
	nameItself(v.w, v.form("who"))
	return v.see("/settings", "Your name is kept in this browser.")
}

// tables are the tables that this user imported.
func tables() ([]pair, error) {
	file, err := judge.TablesFile()
	if err != nil {
		return nil, nil // an account without such a folder has imported none
	}
	o, err := judge.ReadTables(file)
	if err != nil {
		return nil, err
	}
	var out []pair
	for _, l := range o.Layers {
		out = append(out, pair{l.Edition, fmt.Sprintf("%s, %s. %s", l.Kind, plural(len(l.Entries), "entry", "entries"), l.Applied)})
	}
	return out, nil
}
