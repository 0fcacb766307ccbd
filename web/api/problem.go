package api

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"sixteen/shelf"
	"sixteen/web"
)

// problem is a problem document (RFC 9457): what happened, and what to do.
type problem struct {
	Title  string              `json:"title"`
	Status int                 `json:"status"`
	Detail string              `json:"detail"`
	Do     string              `json:"do,omitempty" doc:"What to do about it."`
	Errors []*huma.ErrorDetail `json:"errors,omitempty" doc:"Each field that does not fit, and why."`

	// Of a record that somebody else changed meanwhile.
	Version int64           `json:"version,omitempty" doc:"The version that is on the shelf."`
	Theirs  json.RawMessage `json:"theirs,omitempty" doc:"The record that is on the shelf."`
}

// Error is what happened and what to do.
func (p *problem) Error() string { return strings.TrimSpace(p.Detail + " " + p.Do) }

// GetStatus is the HTTP status.
func (p *problem) GetStatus() int { return p.Status }

// ContentType is that of problem documents.
func (p *problem) ContentType(string) string { return problemMedia }

const problemMedia = "application/problem+json"

func (p problem) titled() problem {
	if p.Title == "" {
		p.Title = http.StatusText(p.Status)
	}
	return p
}

// writeProblem answers with a problem.
func writeProblem(w http.ResponseWriter, p problem) {
	w.Header().Set("Content-Type", problemMedia)
	w.WriteHeader(p.Status)
	_ = json.NewEncoder(w).Encode(p.titled()) // the caller may have gone away; nothing is to be done then
}

// wrong is a problem with what was sent.
func wrong(detail, do string) error {
	p := problem{Status: http.StatusUnprocessableEntity, Detail: detail, Do: do}.titled()
	return &p
}

// problemOf is the problem of an error.
func problemOf(err error) error {
	var own *problem
	var status huma.StatusError
	var conflict *shelf.Conflict
	var invalid *shelf.Invalid
	var p problem
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &status):
		return status
	case errors.As(err, &conflict):
		p = problem{Status: http.StatusPreconditionFailed, Detail: fmt.Sprintf("%s changed this %s meanwhile. Nothing of yours was kept.", conflict.By, conflict.Kind),
			Do: "Look at theirs, make your change on it, and send it with If-Match: " + tagOf(conflict.Version) + ".", Version: conflict.Version, Theirs: conflict.Theirs}
	case errors.As(err, &invalid):
		p = problem{Status: http.StatusUnprocessableEntity, Detail: invalid.What, Do: invalid.Do}
	default:
		p.Status, p.Detail = web.Explain(err)
	}
	p = p.titled()
	return &p
}

// sayWhatToDo makes the errors that are found before an operation begins into the same problems.
func sayWhatToDo(_ huma.Context, _ string, v any) (any, error) {
	e, ok := v.(*huma.ErrorModel)
	if !ok {
		return v, nil
	}
	p := problem{Title: e.Title, Status: e.Status, Detail: e.Detail, Errors: e.Errors, Do: "Correct what errors lists; /api/openapi.json describes every field."}
	switch e.Status {
	case http.StatusRequestEntityTooLarge:
		p.Do = "Send less at a time."
	case http.StatusUnsupportedMediaType:
		p.Do = "Send JSON, with Content-Type: application/json."
	case http.StatusRequestTimeout:
		p.Do = "Send it again; the body has to arrive within half a minute."
	}
	p = p.titled()
	return &p, nil
}

// tagOf is the ETag of a version.
func tagOf(version int64) string { return `"` + strconv.FormatInt(version, 10) + `"` }

// onVersion is the version that an edit was made on, from If-Match.
func onVersion(tag string) (int64, error) {
	if tag == "" {
		p := problem{Status: http.StatusPreconditionRequired, Detail: "The request does not say which version it changes.", Do: "Get the record, and send its ETag in the header If-Match."}.titled()
		return 0, &p
	}
	n, err := strconv.ParseInt(strings.Trim(tag, `"`), 10, 64)
	if err != nil || tagOf(n) != tag {
		p := problem{Status: http.StatusPreconditionFailed, Detail: fmt.Sprintf("%q is no version of a record.", tag), Do: `Send the ETag of the record as it came, such as "3" with its quotation marks.`}.titled()
		return 0, &p
	}
	return n, nil
}
