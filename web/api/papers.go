package api

import (
	"bytes"
	"context"
	"mime"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"sixteen/paper"
	"sixteen/shelf"
	"sixteen/web"
)

// paperBody is how a paper is made.
type paperBody struct {
	Sort        string   `json:"sort" enum:"label,supplier-label,card"`
	Size        string   `json:"size,omitempty" maxLength:"20" doc:"Of a label in millimetres, such as 105x74."`
	Stock       string   `json:"stock,omitempty" maxLength:"100" doc:"Sheet of blank labels by its name; without it one label on a page of its own size."`
	Start       int      `json:"start,omitempty" minimum:"1" maximum:"500" doc:"The first free place on that sheet."`
	Copies      int      `json:"copies,omitempty" minimum:"1" maximum:"500"`
	Languages   []string `json:"languages,omitempty" maxItems:"2" doc:"en, fr, de, es."`
	Millilitres float64  `json:"millilitres,omitempty" minimum:"0" maximum:"1e9" doc:"What the container holds."`
	Page        string   `json:"page,omitempty" enum:"a4,letter"`
	Where       string   `json:"where,omitempty" maxLength:"200" doc:"The workplace that the card is for."`
}

func (b paperBody) options() web.PaperOptions {
	return web.PaperOptions{Size: b.Size, Stock: b.Stock, Start: b.Start, Copies: max(b.Copies, 1), Langs: b.Languages, ML: b.Millilitres, Page: b.Page, Where: b.Where}
}

func addPapers(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "papers", says: says, need: need}
	}
	register(s, op("GET", "/papers", "list-papers", "List the papers in use, the last made first.", web.Read), func(ctx context.Context, q *struct {
		Paging
		Product  string `query:"product" maxLength:"64"`
		Sort     string `query:"sort" enum:"label,supplier-label,card,plan,comparison,register,letter,sheet"`
		Outdated bool   `query:"outdated" doc:"Only those that a newer revision made outdated."`
	}) (*page[shelf.Paper], error) {
		p, err := s.shelf.Papers(ctx, shelf.PaperFilter{Product: q.Product, Sort: shelf.PaperSort(q.Sort), Outdated: q.Outdated, Paging: q.part()})
		return &page[shelf.Paper]{p}, err
	})
	add := op("POST", "/products/{id}/papers", "make-paper", "Make a label or a bench card from the sheet in force, and keep that it was made.", web.Work)
	add.status = http.StatusCreated
	register(s, add, func(ctx context.Context, in *struct {
		ByID
		Body paperBody
	}) (*made[shelf.Paper], error) {
		p, err := s.app.MakePaper(ctx, by(ctx), in.ID, shelf.PaperSort(in.Body.Sort), in.Body.options())
		return create("papers", p, p.Record, err)
	})
	register(s, op("GET", "/papers/{id}", "get-paper", "One paper on record.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Paper], error) {
		p, err := s.shelf.Paper(ctx, in.ID)
		return keep(p, p.Record, err)
	})
	register(s, op("GET", "/papers/{id}/file", "print-paper", "The paper as a file, printed again from the revision it was made from.", web.Read), func(ctx context.Context, in *struct {
		ByID
		Format string `query:"format" enum:"pdf,html,docx,svg" default:"pdf"`
	}) (*huma.StreamResponse, error) {
		p, err := s.app.PrintPaper(ctx, in.ID, paper.Format(in.Format))
		if err != nil {
			return nil, err
		}
		return file(p.Name, p.Media, p.Data), nil
	})
	register(s, op("GET", "/papers/{id}/readers", "list-readers", "Who has read a paper.", web.Read), func(ctx context.Context, in *ByID) (*list[shelf.Acknowledgement], error) {
		all, err := s.shelf.Acknowledgements(ctx, in.ID)
		return &list[shelf.Acknowledgement]{all}, err
	})
	register(s, op("POST", "/papers/{id}/readers", "acknowledge-paper", "Record that a person has read a paper.", web.Work), func(ctx context.Context, in *struct {
		ByID
		Body struct {
			Person string `json:"person" minLength:"1" maxLength:"200"`
		}
	}) (*one[shelf.Acknowledgement], error) {
		a, err := s.shelf.Acknowledge(ctx, by(ctx), in.ID, in.Body.Person)
		return keep(a, a.Record, err)
	})
	register(s, op("POST", "/papers/{id}/retire", "retire-paper", "Record that a paper was thrown away or replaced.", web.Work), func(ctx context.Context, in *retiring) (*done, error) {
		return nil, s.shelf.RetirePaper(ctx, by(ctx), in.ID, in.Body.Why)
	})
	register(s, op("POST", "/blends/file", "print-draft", "The drafted sheet of an own product as a file.", web.Read), func(ctx context.Context, in *struct {
		Format string `query:"format" enum:"pdf,html,docx" default:"pdf"`
		Body   blendBody
	}) (*huma.StreamResponse, error) {
		m, d, err := s.app.Blend(ctx, in.Body.Recipe, in.Body.rules(), in.Body.lang())
		if err != nil {
			return nil, err
		}
		p, err := s.app.PrintDraft(d, "Draft "+m.Recipe.Product, paper.Format(in.Format))
		if err != nil {
			return nil, err
		}
		return file(p.Name, p.Media, p.Data), nil
	})
}

// file sends bytes as a file to be kept: nothing of it is ever shown as a page of this server.
func file(name, media string, data []byte) *huma.StreamResponse {
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		ctx.SetHeader("Content-Type", media)
		ctx.SetHeader("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
		_, _ = bytes.NewReader(data).WriteTo(ctx.BodyWriter()) // the caller may have gone away; nothing is to be done then
	}}
}
