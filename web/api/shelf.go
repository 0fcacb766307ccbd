package api

import (
	"context"
	"encoding/json"
	"io"
	"mime"
	"os"
	"reflect"

	"github.com/danielgtaylor/huma/v2"

	"sixteen/ghs"
	"sixteen/shelf"
	"sixteen/web"
)

func typeOf[T any]() reflect.Type { return reflect.TypeFor[T]() }

// settingsBody is what a workshop says about itself.
type settingsBody struct {
	Workshop     string      `json:"workshop" maxLength:"200"`
	Address      string      `json:"address,omitempty" maxLength:"1000"`
	CallWhom     string      `json:"call_whom,omitempty" maxLength:"500" doc:"Whom to call in an emergency."`
	PoisonCentre string      `json:"poison_centre,omitempty" maxLength:"200"`
	Spills       string      `json:"spills,omitempty" maxLength:"500" doc:"Where the material for spills is."`
	RuleSet      ghs.RuleSet `json:"rule_set,omitempty" maxLength:"32"`
	Languages    []ghs.Lang  `json:"languages,omitempty" maxItems:"2"`
	ReviewMonths int         `json:"review_months" minimum:"0" maximum:"1200"`
}

// person is who sends a request.
type person struct {
	Name string `json:"name"`
	Role string `json:"role"`
}

func addShelf(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "shelf", says: says, need: need}
	}
	register(s, op("GET", "/me", "get-me", "Who sends this request, and what they may do.", web.Read), func(ctx context.Context, _ *struct{}) (*struct{ Body person }, error) {
		p, _ := ctx.Value(personKey{}).(web.Person)
		return &struct{ Body person }{person{Name: p.Name, Role: p.Role.String()}}, nil
	})
	register(s, op("GET", "/search", "search", "Find products, sheets, suppliers, places, questions, jobs and papers; spelling mistakes are forgiven.", web.Read), func(ctx context.Context, q *struct {
		Q     string `query:"q" required:"true" minLength:"1" maxLength:"500"`
		Limit int    `query:"limit" minimum:"1" maximum:"200" default:"50"`
	}) (*list[shelf.Found], error) {
		all, err := s.shelf.Search(ctx, q.Q, q.Limit)
		return &list[shelf.Found]{append([]shelf.Found{}, all...)}, err
	})
	register(s, op("GET", "/due", "list-due", "What wants attention today, and what to do about it: of each reason the first 200, and how many there are.", web.Read), func(ctx context.Context, _ *struct{}) (*struct{ Body shelf.Attention }, error) {
		all, err := s.shelf.Due(ctx, s.now())
		return &struct{ Body shelf.Attention }{all}, err
	})
	register(s, op("GET", "/trail", "list-trail", "What was changed, by whom and when, the latest first.", web.Read), func(ctx context.Context, q *struct {
		Paging
		Kind  string `query:"kind" maxLength:"32"`
		Ref   string `query:"ref" maxLength:"64" doc:"ID of a record."`
		Who   string `query:"who" maxLength:"200"`
		Since int64  `query:"since" minimum:"0" doc:"Only entries with a greater number."`
	}) (*struct{ Body trailPage }, error) {
		p, err := s.shelf.Trail(ctx, shelf.TrailFilter{Kind: shelf.Kind(q.Kind), Ref: q.Ref, Who: q.Who, Since: q.Since, Paging: q.part()})
		return &struct{ Body trailPage }{trailOf(p)}, err
	})
	addSettings(s, op)
	addFiles(s, op)
}

// trailPage is part of the trail. Before and After are records as JSON.
type trailPage struct {
	Items []trailEntry `json:"items"`
	Total int          `json:"total"`
}

type trailEntry struct {
	shelf.Entry
	Before any `json:"before"`
	After  any `json:"after"`
}

func trailOf(p shelf.Page[shelf.Entry]) trailPage {
	out := trailPage{Items: []trailEntry{}, Total: p.Total}
	for _, e := range p.Items {
		out.Items = append(out.Items, trailEntry{e, json.RawMessage(e.Before), json.RawMessage(e.After)})
	}
	return out
}

func addSettings(s *server, op tagged) {
	answered := func(t shelf.Settings, err error) (*one[shelf.Settings], error) {
		return &one[shelf.Settings]{ETag: tagOf(t.Version), Body: t}, err
	}
	register(s, op("GET", "/settings", "get-settings", "What the workshop says about itself.", web.Read), func(ctx context.Context, _ *struct{}) (*one[shelf.Settings], error) {
		return answered(s.shelf.Settings(ctx))
	})
	register(s, op("PUT", "/settings", "edit-settings", "Change the settings.", web.Manage), func(ctx context.Context, in *struct {
		IfMatch string `header:"If-Match" doc:"The ETag of the settings that the change was made on."`
		Body    settingsBody
	}) (*one[shelf.Settings], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		t, err := s.shelf.Settings(ctx)
		if err != nil {
			return nil, err
		}
		b := in.Body
		t.Version, t.Workshop, t.Address, t.CallWhom, t.PoisonCentre, t.Spills, t.RuleSet, t.Languages, t.ReviewMonths = version, b.Workshop, b.Address, b.CallWhom, b.PoisonCentre, b.Spills, b.RuleSet, b.Languages, b.ReviewMonths
		return answered(s.shelf.EditSettings(ctx, by(ctx), t))
	})
}

// addFiles adds what is sent as a whole: the register in its forms, and the backup. Each is made whole on this side first,
// so that what fails is never half a file on somebody's disk.
func addFiles(s *server, op tagged) {
	forms := map[string]struct {
		media string
		write func(*shelf.Shelf, context.Context, io.Writer) error
	}{
		"json": {"application/json", (*shelf.Shelf).ExportJSON},
		"csv":  {"text/csv; charset=utf-8", (*shelf.Shelf).ExportCSV},
		"xlsx": {"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", (*shelf.Shelf).ExportXLSX},
		"ics":  {"text/calendar; charset=utf-8", (*shelf.Shelf).ExportCalendar},
	}
	register(s, op("GET", "/export", "export-register", "The register as a file: JSON, CSV, XLSX, or the review dates as a calendar.", web.Read), func(ctx context.Context, in *struct {
		Format string `query:"format" enum:"json,csv,xlsx,ics" default:"json"`
	}) (*huma.StreamResponse, error) {
		form := forms[in.Format]
		return s.sent("shelf-"+s.now().Format("2006-01-02")+"."+in.Format, form.media, func(w io.Writer) error { return form.write(s.shelf, ctx, w) })
	})
	register(s, op("GET", "/backup", "download-backup", "Everything on the shelf as one file, with the checksum of each part.", web.Manage), func(ctx context.Context, _ *struct{}) (*huma.StreamResponse, error) {
		return s.sent("shelf-"+s.now().Format("2006-01-02")+".zip", "application/zip", func(w io.Writer) error {
			_, err := s.shelf.Backup(ctx, w)
			return err
		})
	})
}

// sent is a file that is written to the disk and then sent from there, so that its size needs no memory.
func (s *server) sent(name, media string, write func(io.Writer) error) (*huma.StreamResponse, error) {
	f, err := os.CreateTemp("", "sixteen-file-")
	if err != nil {
		return nil, err
	}
	remove := func() {
		f.Close()
		os.Remove(f.Name())
	}
	if err := write(f); err != nil {
		remove()
		return nil, err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		remove()
		return nil, err
	}
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		defer remove()
		ctx.SetHeader("Content-Type", media)
		ctx.SetHeader("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
		_, _ = io.Copy(ctx.BodyWriter(), f) // the caller may have gone away; nothing is to be done then
	}}, nil
}
