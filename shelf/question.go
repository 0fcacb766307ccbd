package shelf

import (
	"context"
	"strings"
	"time"

	"sixteen/ghs"
)

// Question is an open question to a supplier: what is asked, from which findings, when it was sent, and the answer.
type Question struct {
	Record
	Product  string   `json:"product,omitempty"`  // ID
	Sheet    string   `json:"sheet,omitempty"`    // ID of the revision it is about
	Supplier string   `json:"supplier,omitempty"` // ID
	Findings []string `json:"findings,omitempty"` // IDs
	Language ghs.Lang `json:"language,omitempty"`
	Text     string   `json:"text"`
	Answer   string   `json:"answer,omitempty"`
	Sent     string   `json:"sent,omitempty"` // day
	Answered string   `json:"answered,omitempty"`
	Closed   string   `json:"closed,omitempty"`
}

func (p *Question) kind() Kind       { return QuestionKind }
func (p *Question) table() string    { return "questions" }
func (p *Question) title() string    { return firstLine(p.Text) }
func (p *Question) searched() string { return joined(p.Text, p.Answer) }
func (p *Question) columns() []column {
	return []column{
		{"product_id", ref{&p.Product}}, {"sheet_id", ref{&p.Sheet}}, {"supplier_id", ref{&p.Supplier}}, {"findings", list[string]{&p.Findings}},
		{"language", words[ghs.Lang]{&p.Language}}, {"question", text{&p.Text}}, {"answer", text{&p.Answer}}, {"sent", text{&p.Sent}},
		{"answered", text{&p.Answered}}, {"closed", text{&p.Closed}},
	}
}
func (p *Question) check() error {
	if strings.TrimSpace(p.Text) == "" {
		return &Invalid{What: "The question is empty.", Do: "Write what the supplier is asked."}
	}
	for what, d := range map[string]string{"The day of sending": p.Sent, "The day of the answer": p.Answered, "The day of closing": p.Closed} {
		if err := day(what, d); err != nil {
			return err
		}
	}
	if p.Answered != "" && strings.TrimSpace(p.Answer) == "" {
		return &Invalid{What: "The answer is empty.", Do: "Write what was answered, or leave the day of the answer out."}
	}
	return nil
}

// AddQuestion puts a question on the shelf.
func (s *Shelf) AddQuestion(ctx context.Context, by string, q Question) (Question, error) {
	return add(ctx, s, by, q)
}

// Question is one question. It fails with ErrNotFound.
func (s *Shelf) Question(ctx context.Context, id string) (Question, error) {
	return load[Question](ctx, s, id)
}

// EditQuestion keeps a changed question, the day it was sent, or the answer. It fails with ErrNotFound, *Conflict, *Invalid.
func (s *Shelf) EditQuestion(ctx context.Context, by string, q Question) (Question, error) {
	return edit(ctx, s, by, q, nil)
}

// QuestionFilter selects questions. Zero fields select all.
type QuestionFilter struct {
	Product  string
	Supplier string
	Open     bool   // not closed
	Unsent   bool   // open and not sent
	SentBy   string // day: sent on or before, and not answered
	Paging
}

// Questions lists questions, those waiting longest for an answer first.
func (s *Shelf) Questions(ctx context.Context, f QuestionFilter) (Page[Question], error) {
	w := conditions{}
	w.add("t.retired = ''")
	w.equal("t.product_id", f.Product)
	w.equal("t.supplier_id", f.Supplier)
	if f.Open || f.Unsent {
		w.add("t.closed = ''")
	}
	if f.Unsent {
		w.add("t.sent = ''")
	}
	if f.SentBy != "" {
		w.add("t.closed = '' AND t.answered = '' AND t.sent <> '' AND t.sent <= ?", f.SentBy)
	}
	page := Page[Question]{}
	if err := s.row(ctx, "SELECT COUNT(*) FROM questions t"+w.sql(), w.args...).Scan(&page.Total); err != nil {
		return page, err
	}
	limit, offset := f.bounds()
	var err error
	page.Items, err = loadAll[Question](ctx, s, w.sql()+" ORDER BY CASE t.sent WHEN '' THEN '9999' ELSE t.sent END, t.seq LIMIT ? OFFSET ?", append(w.args, limit, offset)...)
	return page, err
}

// Job is a piece of work in a room as it was planned: its description as YAML (exposure.ParseJob) and the result as JSON.
type Job struct {
	Record
	Name        string    `json:"name"`
	Place       string    `json:"place,omitempty"` // ID
	Products    []string  `json:"products,omitempty"`
	Description string    `json:"description"`
	Result      string    `json:"result,omitempty"`
	Computed    time.Time `json:"computed,omitzero"`
}

func (p *Job) kind() Kind       { return JobKind }
func (p *Job) table() string    { return "jobs" }
func (p *Job) title() string    { return p.Name }
func (p *Job) searched() string { return p.Description }
func (p *Job) columns() []column {
	return []column{
		{"name", text{&p.Name}}, {"place_id", ref{&p.Place}}, {"products", list[string]{&p.Products}}, {"description", text{&p.Description}},
		{"result", text{&p.Result}}, {"computed", moment{&p.Computed}},
	}
}
func (p *Job) check() error { return named("job", p.Name) }

// AddJob puts a planned job on the shelf.
func (s *Shelf) AddJob(ctx context.Context, by string, j Job) (Job, error) {
	return add(ctx, s, by, j)
}

// Job is one planned job. It fails with ErrNotFound.
func (s *Shelf) Job(ctx context.Context, id string) (Job, error) { return load[Job](ctx, s, id) }

// EditJob keeps a changed job or a new result. It fails with ErrNotFound, *Conflict and *Invalid.
func (s *Shelf) EditJob(ctx context.Context, by string, j Job) (Job, error) {
	return edit(ctx, s, by, j, nil)
}

// RetireJob takes a job off the lists, with the reason.
func (s *Shelf) RetireJob(ctx context.Context, by, id, why string) error {
	return retire[Job](ctx, s, by, id, why, exposureNote)
}

// Jobs lists the planned jobs, the last changed first; with product only those it is used in.
func (s *Shelf) Jobs(ctx context.Context, product string) ([]Job, error) {
	w := conditions{}
	w.add("t.retired = ''")
	w.has("t.products", product)
	return loadAll[Job](ctx, s, w.sql()+" ORDER BY t.seq DESC", w.args...)
}
