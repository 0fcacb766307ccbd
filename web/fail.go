package web

import (
	"errors"
	"net/http"

	"sixteen/judge"
	"sixteen/sheet"
	"sixteen/shelf"
)

// trouble is an error that a person can do something about: what happened and what to do.
type trouble struct {
	status int
	what   string
}

func (t *trouble) Error() string { return t.what }

// missing says that there is no such thing.
func missing(what string) error { return &trouble{http.StatusNotFound, what} }

// refused says that what was sent cannot be taken as it is.
func refused(what string) error { return &trouble{http.StatusUnprocessableEntity, what} }

// statusOf is the status and the words of an error for the person who sees it.
func statusOf(err error) (int, string) {
	var t *trouble
	var invalid *shelf.Invalid
	var conflict *shelf.Conflict
	switch {
	case errors.As(err, &t):
		return t.status, t.what
	case errors.As(err, &invalid):
		return http.StatusUnprocessableEntity, invalid.Error()
	case errors.As(err, &conflict):
		return http.StatusConflict, sentence(conflict.Error()) + " Nothing of yours was kept: go back, load the page again, and enter it anew where it still holds."
	case errors.Is(err, shelf.ErrNotFound):
		return http.StatusNotFound, "This is not on the shelf (any more). Go back to the shelf and look for it."
	case errors.Is(err, judge.ErrNotDecided), errors.Is(err, sheet.ErrNoFact), errors.Is(err, sheet.ErrValue), errors.Is(err, shelf.ErrCorrupted), errors.Is(err, shelf.ErrNewer):
		return http.StatusUnprocessableEntity, sentence(err.Error())
	}
	return http.StatusInternalServerError, "This could not be done: " + err.Error() + ". Nothing was changed. Try again; when it comes back, look at what the program printed where it was started."
}

// wordsOf is what an error says to the person who sees it.
func wordsOf(err error) string {
	_, words := statusOf(err)
	return words
}

// mayNot says that a person's role does not allow something.
func mayNot(need Role) error {
	return &trouble{http.StatusForbidden, "This needs somebody who may " + need.String() + "."}
}
