package shelf

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"sixteen/judge"
)

// Errors that callers tell apart with errors.Is.
var (
	ErrNotFound  = errors.New("not on the shelf")
	ErrNewer     = errors.New("the shelf was made by a newer version of this program")
	ErrOlder     = errors.New("the shelf is of an older version of this program: \"sixteen shelf list\" brings it forward and keeps a copy of it beside it")
	ErrCorrupted = errors.New("the document is not what was put on the shelf")
	ErrRefused   = errors.New("name or password do not fit")
	ErrTooMany   = fmt.Errorf("%w for the moment", ErrRefused) // also ErrRefused
)

// Invalid says what is wrong with something a person gave, and what to do. Web pages show both sentences beside the form.
type Invalid struct{ What, Do string }

// Error is both sentences.
func (e *Invalid) Error() string { return e.What + " " + e.Do }

// Conflict is the error of an edit that was made on an older version than the one on the shelf: somebody else was faster.
// Nothing was changed. Yours and Theirs are the two records as JSON, to be shown side by side.
type Conflict struct {
	Kind    Kind            `json:"kind"`
	ID      string          `json:"id"`
	Version int64           `json:"version"` // of theirs; an edit that is to prevail names this version
	By      string          `json:"by"`
	At      time.Time       `json:"at"`
	Yours   json.RawMessage `json:"yours"`
	Theirs  json.RawMessage `json:"theirs"`
}

// Error says who was faster.
func (e *Conflict) Error() string {
	return fmt.Sprintf("%s changed this %s at %s, after you opened it: look at both and decide", e.By, e.Kind, e.At.Format("2006-01-02 15:04 MST"))
}

func isNotFound(err error) bool { return errors.Is(err, ErrNotFound) }

func isNotDecided(err error) bool { return errors.Is(err, judge.ErrNotDecided) }
