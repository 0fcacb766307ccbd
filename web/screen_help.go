package web

import (
	"net/http"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// helpView is how to read a sheet, and the words used here.
type helpView struct {
	Sections []judge.Stop
	States   []pair
	Kinds    []pair
	Verdicts []pair
	Symbols  []symbolView
}

func showHelp(a *App, v *visit) error {
	view := helpView{
		States: []pair{
			{"stated", "The sheet gives a value."},
			{judge.StateShown(sheet.NoData), "The sheet says that nobody measured it. That is not the same as no effect."},
			{judge.StateShown(sheet.NotApplicable), "The sheet says that the question does not apply."},
			{judge.StateShown(sheet.NoneStated), "The sheet says that there is none, such as “not classified”."},
			{judge.StateShown(sheet.NotStated), "The sheet is silent. Nothing follows from that."},
		},
		Verdicts: []pair{
			{"certain", "True of every composition that the stated ranges allow."},
			{"possible", "True of some compositions in the stated ranges, not of all."},
			{"ruled out", "True of none of them."},
		},
	}
	for _, k := range []audit.Kind{audit.Contradiction, audit.Gap, audit.Doubt, audit.Note} {
		view.Kinds = append(view.Kinds, pair{k.String(), kindWords(k)})
	}
	for _, p := range ghs.Pictograms() {
		view.Symbols = append(view.Symbols, symbolOf(p))
	}
	view.Sections = judge.Tour(&sheet.Sheet{})
	return a.show(v, http.StatusOK, screen{title: "Help", here: "help", name: "help", value: view})
}
