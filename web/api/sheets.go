package api

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"sixteen/audit"
	"sixteen/sheet"
	"sixteen/shelf"
	"sixteen/web"
)

// uploaded is what became of each document of an upload.
type uploaded struct {
	Documents []web.Taken `json:"documents"`
}

// correctionBody is a fact as a person states it.
type correctionBody struct {
	Path  string `json:"path" minLength:"1" maxLength:"500" doc:"Path of the fact, as the facts of the sheet name it; that of a list with .+ at its end adds a row that was missed."`
	Value any    `json:"value" doc:"The value in the shape in which the fact has it; null when the sheet says nothing of it."`
	Why   string `json:"why" minLength:"1" maxLength:"2000" doc:"The reason; it is kept beside the value."`
	On    string `json:"on,omitempty" maxLength:"64" doc:"ID of the last correction of this fact that you saw. When there is a later one, yours is refused."`
}

func addSheets(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "sheets", says: says, need: need}
	}
	s.addUpload()
	register(s, op("GET", "/sheets", "list-sheets", "List sheets, the last changed first.", web.Read), func(ctx context.Context, q *struct {
		Paging
		Product string `query:"product" maxLength:"64" doc:"ID of a product."`
		SHA256  string `query:"sha256" pattern:"^[0-9a-f]{64}$" doc:"Of the document: tells whether it is on the shelf."`
		State   string `query:"state" enum:"waiting,reading,read,no-sheet,failed,cancelled"`
	}) (*page[shelf.Sheet], error) {
		f := shelf.SheetFilter{Product: q.Product, Document: q.SHA256, Paging: q.part()}
		if q.State != "" {
			f.States = []shelf.State{shelf.State(q.State)}
		}
		p, err := s.shelf.Sheets(ctx, f)
		return &page[shelf.Sheet]{p}, err
	})
	register(s, op("GET", "/sheets/{id}", "get-sheet", "One sheet: how far its reading is, and a summary of what was read.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Sheet], error) {
		t, err := s.shelf.Sheet(ctx, in.ID)
		return keep(t, t.Record, err)
	})
	register(s, op("GET", "/sheets/{id}/document", "get-document", "The document as it was put on the shelf, checked by its checksum.", web.Read), func(ctx context.Context, in *ByID) (*huma.StreamResponse, error) {
		t, err := s.shelf.Sheet(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		d, data, err := s.shelf.OpenDocument(ctx, t.Document)
		if err != nil {
			return nil, err
		}
		return file(d.Name, "application/octet-stream", data), nil
	})
	register(s, op("GET", "/sheets/{id}/judgement", "judge-sheet", "Facts with evidence, findings, and what follows from the ingredients, as last judged.", web.Read), func(ctx context.Context, in *ByID) (*answer, error) {
		j, _, err := s.shelf.JudgementOf(ctx, in.ID)
		return &answer{j}, err
	})
	register(s, op("GET", "/sheets/{id}/facts", "list-facts", "Every fact of the sheet with its path, value and state, as corrected, and the lists that take a row that was missed.", web.Read), func(ctx context.Context, in *ByID) (*answer, error) {
		facts, lists, err := s.facts(ctx, in.ID)
		return &answer{map[string]any{"facts": facts, "lists": lists}}, err
	})
	register(s, op("POST", "/sheets/{id}/read-again", "read-again", "Queue the document for reading again.", web.Work), func(ctx context.Context, in *ByID) (*one[shelf.Sheet], error) {
		t, err := s.shelf.ReadAgain(ctx, by(ctx), in.ID)
		return keep(t, t.Record, err)
	})
	register(s, op("POST", "/sheets/{id}/retire", "retire-sheet", "Take a revision off the lists; it is kept, and the one before is in force again.", web.Work), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetireSheet(ctx, by(ctx), in.ID, in.Body.Why)
	})
	addDecisions(s, op)
	register(s, op("GET", "/reading", "get-progress", "How far the reading in the background is.", web.Read), func(ctx context.Context, _ *struct{}) (*struct{ Body shelf.Progress }, error) {
		p, err := s.shelf.Progress(ctx)
		return &struct{ Body shelf.Progress }{p}, err
	})
	register(s, op("POST", "/reading/cancel", "cancel-reading", "Take sheets that wait out of the queue: those named, or all.", web.Work), func(ctx context.Context, in *struct {
		Body struct {
			Sheets []string `json:"sheets,omitempty" maxItems:"10000" doc:"IDs; none for all."`
		}
	}) (*answer, error) {
		n, err := s.shelf.CancelReading(ctx, by(ctx), in.Body.Sheets...)
		return &answer{map[string]int{"cancelled": n}}, err
	})
}

// factLine is one fact with its place in the sheet.
type factLine struct {
	Path    string `json:"path"`
	Label   string `json:"label"`
	Section int    `json:"section"`
	State   string `json:"state"`
	Value   any    `json:"value"`
}

func (s *server) facts(ctx context.Context, id string) ([]factLine, []sheet.List, error) {
	j, _, err := s.shelf.JudgementOf(ctx, id)
	if err != nil {
		return nil, nil, err
	}
	out := []factLine{}
	for _, f := range j.Sheet.Facts() {
		raw, err := j.Sheet.Value(f.Path)
		if err != nil {
			return nil, nil, err
		}
		out = append(out, factLine{f.Path, f.Label, f.Section, f.State.String(), json.RawMessage(raw)})
	}
	return out, j.Sheet.Lists(), nil
}

// addDecisions adds corrections of facts and overrulings of findings.
func addDecisions(s *server, op func(method, path, id, says string, need web.Role) operation) {
	document := func(ctx context.Context, id string) (string, error) {
		t, err := s.shelf.Sheet(ctx, id)
		return t.Document, err
	}
	register(s, op("GET", "/sheets/{id}/corrections", "list-corrections", "The corrections of the document that hold, oldest first.", web.Read), func(ctx context.Context, in *ByID) (*list[shelf.Correction], error) {
		sum, err := document(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		all, err := s.shelf.Corrections(ctx, sum)
		return &list[shelf.Correction]{all}, err
	})
	add := op("POST", "/sheets/{id}/corrections", "correct-fact", "Correct a fact that was read wrongly, or add a row that was missed; the value as read stays beside it, and what follows is worked out again.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct {
		ByID
		Body correctionBody
	}) (*one[shelf.Correction], error) {
		sum, err := document(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(in.Body.Value)
		if err != nil {
			return nil, err
		}
		c, err := s.shelf.Correct(ctx, by(ctx), sum, in.Body.Path, value, in.Body.Why, in.Body.On)
		return keep(c, c.Record, err)
	})
	register(s, op("POST", "/sheets/{id}/corrections/take-back", "take-back-correction", "Take the last correction of a fact back.", web.Work), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Path string `json:"path" maxLength:"500"`
		}
	}) (*done, error) {
		sum, err := document(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		return nil, s.shelf.Uncorrect(ctx, by(ctx), sum, in.Body.Path)
	})
	register(s, op("GET", "/sheets/{id}/overrulings", "list-overrulings", "The overrulings of findings about the document that hold.", web.Read), func(ctx context.Context, in *ByID) (*list[shelf.Overruling], error) {
		sum, err := document(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		all, err := s.shelf.Overrulings(ctx, sum)
		return &list[shelf.Overruling]{all}, err
	})
	add = op("POST", "/sheets/{id}/overrulings", "overrule-finding", "Decide that a finding does not apply; it is kept and shown with the reason.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Finding string `json:"finding" minLength:"1" maxLength:"200" doc:"ID of the finding."`
			Why     string `json:"why" minLength:"1" maxLength:"2000"`
		}
	}) (*one[shelf.Overruling], error) {
		j, t, err := s.shelf.JudgementOf(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(j.Report.Findings, func(f audit.Finding) bool { return f.ID == in.Body.Finding }) {
			return nil, wrong("There is no such finding about this sheet.", "Take the ID of a finding from the sheet's judgement.")
		}
		o, err := s.shelf.Overrule(ctx, by(ctx), t.Document, in.Body.Finding, in.Body.Why)
		return keep(o, o.Record, err)
	})
	register(s, op("POST", "/sheets/{id}/overrulings/take-back", "take-back-overruling", "Let a finding stand again.", web.Work), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Finding string `json:"finding" maxLength:"200"`
		}
	}) (*done, error) {
		sum, err := document(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		return nil, s.shelf.Reinstate(ctx, by(ctx), sum, in.Body.Finding)
	})
}

// addUpload adds the upload of documents. They are taken as they come, one after the other, so that 500 sheets need no
// more memory than one. The same document is known by its SHA-256 and taken once, so an upload may be repeated.
func (s *server) addUpload() {
	o := s.described(operation{method: "POST", path: "/sheets", id: "add-sheets", tag: "sheets", says: "Put documents on the shelf and queue them for reading.", need: web.Work, status: http.StatusCreated,
		more: "Multipart form with any number of files: PDF, HTML, Word, text, or ZIP files of these. 201 when at least one is new, 200 when all were there already, 422 when none could be taken; the answer says what became of each."})
	o.Parameters = []*huma.Param{{Name: "product", In: "query", Description: "ID of the product they are sheets of; without it the product is found or made when a sheet was read.", Schema: &huma.Schema{Type: "string"}}}
	o.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"multipart/form-data": {Schema: &huma.Schema{Type: "object",
		Properties: map[string]*huma.Schema{"document": {Type: "array", Items: &huma.Schema{Type: "string", Format: "binary"}}}}}}}
	answers := &huma.Response{Description: "What became of each document.", Content: map[string]*huma.MediaType{"application/json": {Schema: huma.SchemaFromType(s.huma.OpenAPI().Components.Schemas, typeOf[uploaded]())}}}
	problems := &huma.Response{Description: "A problem.", Content: map[string]*huma.MediaType{problemMedia: {Schema: &huma.Schema{Ref: "#/components/schemas/ErrorModel"}}}}
	o.Responses = map[string]*huma.Response{"200": answers, "201": answers, "422": answers, "default": problems}
	s.huma.OpenAPI().AddOperation(&o)
	admit := s.admit(web.Work)
	s.huma.Adapter().Handle(&o, func(ctx huma.Context) {
		admit(ctx, func(ctx huma.Context) {
			r, w := humago.Unwrap(ctx)
			s.upload(ctx.Context(), w, r)
		})
	})
}

func (s *server) upload(ctx context.Context, w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, maxUpload)
	form, err := r.MultipartReader()
	if err != nil {
		writeProblem(w, problem{Status: http.StatusUnsupportedMediaType, Detail: "No documents came with the request.", Do: "Send a multipart form with at least one file."})
		return
	}
	out := uploaded{Documents: []web.Taken{}}
	for {
		part, err := form.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		var large *http.MaxBytesError
		switch {
		case errors.As(err, &large):
			writeProblem(w, problem{Status: http.StatusRequestEntityTooLarge, Detail: "The upload is larger than 2 GB.", Do: "Send the documents in several requests; what had arrived is kept once."})
			return
		case err != nil:
			writeProblem(w, problem{Status: http.StatusBadRequest, Detail: "The form broke off or is not a multipart form.", Do: "Send it again; documents that had arrived are kept once."})
			return
		case part.FileName() != "":
			out.Documents = append(out.Documents, s.app.Take(ctx, by(ctx), part.FileName(), part, r.URL.Query().Get("product"))...)
		}
	}
	if len(out.Documents) == 0 {
		writeProblem(w, problem{Status: http.StatusUnprocessableEntity, Detail: "The form holds no file.", Do: "Add the documents as files: curl -F document=@sheet.pdf."})
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(out.status())
	_ = json.NewEncoder(w).Encode(out) // the caller may have gone away; nothing is to be done then
}

func (u uploaded) status() int {
	status := http.StatusUnprocessableEntity
	for _, t := range u.Documents {
		switch {
		case t.Added != nil && !t.Added.Known:
			return http.StatusCreated
		case t.Added != nil:
			status = http.StatusOK
		}
	}
	return status
}
