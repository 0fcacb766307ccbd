package api

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"reflect"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"sixteen/judge"
	"sixteen/shelf"
	"sixteen/web"
)

// Options of New. All but Version and Now are needed.
type Options struct {
	App      *web.App
	Shelf    *shelf.Shelf
	Desk     *judge.Desk
	Entrance web.Entrance
	Now      func() time.Time // the clock; nil for time.Now
}

// Version is that of the API in its OpenAPI document: the second number grows with what is added, the first when something
// that was there changes its meaning.
const Version = "1.0"

// Limits of one request.
const (
	maxBody   = 1 << 20 // of JSON and YAML
	maxUpload = 2 << 30 // of the documents of one upload together
	bodyTime  = 30 * time.Second
)

// server is what the operations work with.
type server struct {
	app      *web.App
	shelf    *shelf.Shelf
	desk     *judge.Desk
	entrance web.Entrance
	now      func() time.Time
	huma     huma.API
}

// New is the handler of everything under /api/.
func New(o Options) http.Handler {
	mux, _ := build(o)
	return mux
}

// OpenAPI is the OpenAPI 3.1 document of the API as JSON.
func OpenAPI() ([]byte, error) {
	_, s := build(Options{})
	return s.huma.OpenAPI().MarshalJSON()
}

func build(o Options) (http.Handler, *server) {
	config := huma.DefaultConfig("sixteen", Version)
	config.Info.Description = "What the pages of sixteen do, for programs. Answers are help for a decision, not legal, medical or engineering advice; what is not known is not zero and is left out or said to be unknown."
	config.OpenAPIPath, config.DocsPath, config.SchemasPath, config.CreateHooks = "/api/openapi", "", "", nil
	config.Transformers = []huma.Transformer{sayWhatToDo}
	config.Components.SecuritySchemes = map[string]*huma.SecurityScheme{
		"token":   {Type: "http", Scheme: "bearer", Description: "A token made with 'sixteen user token', or on the page of one's account. Not needed where only this machine reaches the server and the shelf has no users."},
		"session": {Type: "apiKey", In: "cookie", Name: "session", Description: "The session of somebody who signed in with a browser; its name begins with __Host- behind https. What changes something carries the session's form token in the header " + web.FormTokenHeader + "."},
	}
	mux := http.NewServeMux()
	s := &server{app: o.App, shelf: o.Shelf, desk: o.Desk, entrance: o.Entrance, now: o.Now, huma: humago.New(mux, config)}
	if s.now == nil {
		s.now = time.Now
	}
	for _, add := range []func(*server){addProducts, addSheets, addPlaces, addQuestions, addJobs, addPapers, addShelf} {
		add(s)
	}
	truthful(s.huma.OpenAPI().Components.Schemas)
	mux.HandleFunc("/api/", func(w http.ResponseWriter, r *http.Request) {
		writeProblem(w, problem{Status: http.StatusNotFound, Detail: "There is nothing at this address, or not with this method.", Do: "/api/openapi.json lists what there is."})
	})
	return mux, s
}

// truthful puts right what reflection sees wrongly: lists of bytes that are written as words, JSON that is kept as bytes,
// and errors, which are problems with what to do.
func truthful(schemas huma.Registry) {
	for name, schema := range schemas.Map() {
		for field, p := range schema.Properties {
			switch {
			case p.ContentEncoding == "" && p.Format != "base64":
			case field == "pictograms":
				schema.Properties[field] = &huma.Schema{Type: huma.TypeArray, Items: &huma.Schema{Type: huma.TypeString}, Description: "GHS01 to GHS09."}
			default:
				schema.Properties[field] = &huma.Schema{Description: "Any JSON."}
			}
		}
		if name == "ErrorModel" {
			*schema = *huma.SchemaFromType(schemas, reflect.TypeFor[problem]())
		}
	}
}

// operation is one operation before it is registered.
type operation struct {
	method, path, id, tag, says string
	need                        web.Role
	status                      int // of success; 0 for 200
	body                        int64
	more                        string
}

func (s *server) described(o operation) huma.Operation {
	h := huma.Operation{Method: o.method, Path: "/api" + o.path, OperationID: o.id, Tags: []string{o.tag}, Summary: o.says, DefaultStatus: o.status, MaxBodyBytes: o.body, BodyReadTimeout: bodyTime,
		Description: o.more, Middlewares: huma.Middlewares{s.admit(o.need)}, RejectUnknownQueryParameters: true, Errors: []int{401, 403, 404, 422, 500}, Metadata: map[string]any{"role": o.need}}
	if h.MaxBodyBytes == 0 {
		h.MaxBodyBytes = maxBody
	}
	if h.Description != "" {
		h.Description += " "
	}
	h.Description += "Needs somebody who may " + o.need.String() + "."
	h.Security = []map[string][]string{{"token": {}}, {"session": {}}}
	if o.method == http.MethodPut {
		h.Errors = append(h.Errors, 412, 428)
	}
	return h
}

// register adds an operation. Its errors are those of the shelf and of package web.
func register[I, O any](s *server, o operation, handle func(context.Context, *I) (*O, error)) {
	huma.Register(s.huma, s.described(o), func(ctx context.Context, in *I) (*O, error) {
		out, err := handle(ctx, in)
		if err != nil {
			return nil, problemOf(err)
		}
		return out, nil
	})
}

// personKey is the key of the person in the context of an operation.
type personKey struct{}

// by is the name that is kept with what a request does.
func by(ctx context.Context) string {
	if p, ok := ctx.Value(personKey{}).(web.Person); ok && p.Name != "" {
		return p.Name
	}
	return "unnamed program"
}

// admit lets in who has the role, and says to others what to do.
func (s *server) admit(need web.Role) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		r, w := humago.Unwrap(ctx)
		p, err := s.entrance.Enter(r)
		switch {
		case errors.Is(err, web.ErrSignedOut):
			w.Header().Set("WWW-Authenticate", `Bearer realm="sixteen"`)
			writeProblem(w, problem{Status: http.StatusUnauthorized, Detail: "Nobody is signed in with this request.", Do: "Send a token that holds: Authorization: Bearer …. 'sixteen user token' makes one."})
		case errors.Is(err, web.ErrFormToken):
			writeProblem(w, problem{Status: http.StatusForbidden, Detail: "The request does not carry the form token of its session.", Do: "Send it in the header " + web.FormTokenHeader + ", or send a bearer token in place of the cookie."})
		case err != nil:
			writeProblem(w, problem{Status: http.StatusServiceUnavailable, Detail: "Who sends this request could not be looked up.", Do: "Send it again."})
		case p.Role < need:
			writeProblem(w, problem{Status: http.StatusForbidden, Detail: "This needs somebody who may " + need.String() + "; with this request one may " + p.Role.String() + ".", Do: "Use a token with that role, or ask somebody who may manage the shelf."})
		default:
			next(huma.WithValue(ctx, personKey{}, p))
		}
	}
}

// place is the address of a record that was made.
func place(kind, id string) string { return "/api/" + kind + "/" + url.PathEscape(id) }
