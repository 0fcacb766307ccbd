package api

import (
	"context"

	"sixteen/shelf"
	"sixteen/web"
)

// questionBody is what became of a question.
type questionBody struct {
	Text     string `json:"text" minLength:"1" maxLength:"5000"`
	Sent     string `json:"sent,omitempty" maxLength:"10" doc:"Day, year-month-day."`
	Answer   string `json:"answer,omitempty" maxLength:"10000"`
	Answered string `json:"answered,omitempty" maxLength:"10"`
	Closed   string `json:"closed,omitempty" maxLength:"10"`
}

func addQuestions(s *server) {
	op := func(method, path, id, says string, need web.Role) operation {
		return operation{method: method, path: path, id: id, tag: "questions", says: says, need: need}
	}
	register(s, op("GET", "/questions", "list-questions", "List questions to suppliers, those waiting longest first.", web.Read), func(ctx context.Context, q *struct {
		Paging
		Product  string `query:"product" maxLength:"64"`
		Supplier string `query:"supplier" maxLength:"64"`
		Open     bool   `query:"open" doc:"Only those not closed."`
	}) (*page[shelf.Question], error) {
		p, err := s.shelf.Questions(ctx, shelf.QuestionFilter{Product: q.Product, Supplier: q.Supplier, Open: q.Open, Paging: q.part()})
		return &page[shelf.Question]{p}, err
	})
	register(s, op("GET", "/questions/{id}", "get-question", "One question.", web.Read), func(ctx context.Context, in *ByID) (*one[shelf.Question], error) {
		q, err := s.shelf.Question(ctx, in.ID)
		return keep(q, q.Record, err)
	})
	register(s, op("PUT", "/questions/{id}", "edit-question", "Record that a question was sent, answered or closed.", web.Work), func(ctx context.Context, in *edited[questionBody]) (*one[shelf.Question], error) {
		version, err := onVersion(in.IfMatch)
		if err != nil {
			return nil, err
		}
		q, err := s.shelf.Question(ctx, in.ID)
		if err != nil {
			return nil, err
		}
		q.Version, q.Text, q.Sent, q.Answer, q.Answered, q.Closed = version, in.Body.Text, in.Body.Sent, in.Body.Answer, in.Body.Answered, in.Body.Closed
		q, err = s.shelf.EditQuestion(ctx, by(ctx), q)
		return keep(q, q.Record, err)
	})
	type inLanguage struct {
		ByID
		Lang string `query:"lang" enum:"en,fr,de,es" doc:"Without it the language of the sheet."`
	}
	register(s, op("GET", "/products/{id}/letter", "write-letter", "The letter that asks the supplier about the findings.", web.Read), func(ctx context.Context, in *inLanguage) (*answer, error) {
		letter, err := s.app.Letter(ctx, in.ID, in.Lang)
		return &answer{map[string]any{"letter": letter, "text": letter.Text()}}, err
	})
	register(s, op("POST", "/products/{id}/questions", "ask-supplier", "Keep the questions of the letter as asked today, each once.", web.Work), func(ctx context.Context, in *inLanguage) (*list[shelf.Question], error) {
		kept, err := s.app.Ask(ctx, by(ctx), in.ID, in.Lang)
		return &list[shelf.Question]{kept}, err
	})
}
