package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"sixteen/ghs"
	"sixteen/shelf"
)

// hCode is an H code as a person writes it.
func hCode(s string) ghs.Code {
	if c, ok := ghs.NormaliseCode(s); ok {
		return c
	}
	return ghs.Code(strings.ToUpper(s))
}

type shelfPlace struct {
	Name   string   `arg:"" optional:"" help:"The place; without it, what stands where."`
	Sort   string   `enum:"room,cupboard,shelves,outdoors,vehicle" default:"room" help:"room, cupboard, shelves, outdoors or vehicle."`
	Within string   `help:"The place it is in."`
	Most   []string `sep:"none" help:"The most of a class, such as --most 'flammable liquids=50 l'; again for further classes."`
	Source string   `help:"Where these limits come from: the law or the insurer's letter."`
	USLaw  bool     `name:"us-law" help:"Take the limits of 29 CFR 1910.106 for this sort of place over."`
	Who    string   `help:"Who says so; this account's name when not given."`
	JSON   bool     `help:"Print JSON."`
}

// Run adds or changes a place, or shows what stands where.
func (c *shelfPlace) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		if c.Name == "" {
			return c.show(ctx, io, s)
		}
		p, err := pickPlace(ctx, s, c.Name)
		found := err == nil
		if !found {
			p = shelf.Place{Name: c.Name, Sort: shelf.PlaceSort(c.Sort)}
		}
		if c.Within != "" {
			around, err := pickPlace(ctx, s, c.Within)
			if err != nil {
				return err
			}
			p.Within = around.ID
		}
		if c.USLaw {
			p.Limits = shelf.LimitAt(p.Sort)
		}
		for _, most := range c.Most {
			l, err := limitOf(most, c.Source)
			if err != nil {
				return err
			}
			p.Limits = append(slices.DeleteFunc(p.Limits, func(have shelf.Limit) bool { return have.Class == l.Class }), l)
		}
		if found {
			p, err = s.EditPlace(ctx, orAccount(c.Who), p)
		} else {
			p, err = s.AddPlace(ctx, orAccount(c.Who), p)
		}
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s is on the shelf with %d limits.\n", p.Name, len(p.Limits))
		return err
	})
}

// limitOf understands "flammable liquids=50 l".
func limitOf(words, source string) (shelf.Limit, error) {
	class, most, _ := strings.Cut(words, "=")
	number, unit, _ := strings.Cut(strings.TrimSpace(most), " ")
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || !slices.Contains(shelf.StorageClasses(), shelf.StorageClass(class)) {
		var names []string
		for _, k := range shelf.StorageClasses() {
			names = append(names, string(k))
		}
		return shelf.Limit{}, fmt.Errorf("--most %q: write a class, =, a number and a unit, such as 'flammable liquids=50 l'; the classes are %s", words, strings.Join(names, "; "))
	}
	return shelf.Limit{Class: shelf.StorageClass(class), Most: n, Unit: unit, Source: source}, nil
}

func (c *shelfPlace) show(ctx context.Context, io streams, s *shelf.Shelf) error {
	totals, err := s.Storage(ctx)
	if err != nil {
		return err
	}
	if c.JSON {
		return encode(io, totals)
	}
	p := &printer{w: io.out}
	if len(totals) == 0 {
		p.line(0, 0, "There is no place yet. 'sixteen shelf place NAME' makes one.")
	}
	for _, t := range totals {
		p.heading(fmt.Sprintf("%s (%s)", t.Place.Name, t.Place.Sort))
		for _, h := range t.Held {
			p.pair(0, 40, string(h.Class), heldShown(h))
		}
		for _, n := range t.Neighbours {
			recalled := ""
			if n.Recalled {
				recalled = ", from memory"
			}
			p.line(0, 2, fmt.Sprintf("%s and %s: %s (%s). %s. %s%s.", n.NameA, n.NameB, n.Outcome, shelf.OutcomeMeans(n.Outcome), n.Why, n.Source, recalled))
		}
		if t.MoreNeighbours > 0 {
			p.line(0, 2, fmt.Sprintf("And %d pairs more: separate the ones above first, then look again.", t.MoreNeighbours))
		}
		if t.NoSheet > 0 {
			p.line(0, 2, fmt.Sprintf("%d products there have no sheet that was read, so their classes are not known.", t.NoSheet))
		}
	}
	return p.err
}

func heldShown(h shelf.Held) string {
	out := fmt.Sprintf("%.4g %s in %d products", h.Amount, h.Unit, h.Products)
	if unknown := h.Unknown + h.Unconverted; unknown > 0 {
		out = "at least " + out + fmt.Sprintf(", %d amounts not known in this unit", unknown)
	}
	if h.Limit == nil {
		return out
	}
	out += fmt.Sprintf("; at most %g %s", h.Limit.Most, h.Limit.Unit)
	if h.Limit.Source != "" {
		out += " (" + h.Limit.Source + ")"
	}
	switch {
	case h.Over:
		out += ": OVER THE LIMIT"
	case h.MayBeOver:
		out += ": may be over the limit"
	}
	return out
}

type shelfStock struct {
	Product   string `arg:"" optional:"" help:"ID, name, or words that find only one."`
	Place     string `arg:"" optional:"" help:"Where it stands."`
	Amount    string `arg:"" optional:"" help:"How much, such as '2.5 l'; not known when not given."`
	Container string `help:"What it is in, such as '6 tins of 0.75 l'."`
	Batch     string `help:"Batch number."`
	Opened    string `help:"Day it was opened (year-month-day)."`
	Expires   string `help:"Day it expires."`
	Gone      string `placeholder:"ID" help:"Say that an amount is used up or gone; 'shelf show' prints the IDs."`
	Why       string `help:"With --gone: the reason."`
	Who       string `help:"Who says so; this account's name when not given."`
}

// Run records an amount, or that it is gone.
func (c *shelfStock) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		if c.Gone != "" {
			if err := s.RetireStock(ctx, orAccount(c.Who), c.Gone, c.Why); err != nil {
				return err
			}
			_, err := fmt.Fprintln(io.out, "It is off the list of what stands there; the record is kept.")
			return err
		}
		if c.Product == "" || c.Place == "" {
			return fmt.Errorf("name the product and the place, such as: sixteen shelf stock 'Deck oil' Shed '2.5 l'")
		}
		product, err := pick(ctx, s, c.Product)
		if err != nil {
			return err
		}
		place, err := pickPlace(ctx, s, c.Place)
		if err != nil {
			return err
		}
		k := shelf.Stock{Product: product.ID, Place: place.ID, Unit: "l", Container: c.Container, Batch: c.Batch, Opened: c.Opened, Expires: c.Expires}
		if c.Amount != "" {
			number, unit, _ := strings.Cut(strings.TrimSpace(c.Amount), " ")
			n, err := strconv.ParseFloat(number, 64)
			if err != nil {
				return fmt.Errorf("%q is no amount: write a number and a unit, such as '2.5 l'", c.Amount)
			}
			k.Amount, k.Unit = &n, strings.TrimSpace(unit)
		}
		if k, err = s.AddStock(ctx, orAccount(c.Who), k); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s: %s in %s.\n", product.Name, amountShown(k), place.Name)
		return err
	})
}

type shelfQuestion struct {
	List   questionList   `cmd:"" default:"withargs" help:"List the open questions."`
	Add    questionAdd    `cmd:"" help:"Ask something about a product."`
	Sent   questionSent   `cmd:"" help:"Say that a question was sent today."`
	Answer questionAnswer `cmd:"" help:"Keep the answer, which closes the question."`
	Close  questionClose  `cmd:"" help:"Close a question without an answer."`
}

type questionList struct {
	All  bool `help:"The closed ones too."`
	JSON bool `help:"Print JSON."`
}

func questionShown(q shelf.Question) string {
	state := "not sent"
	switch {
	case q.Closed != "":
		state = "closed " + q.Closed
	case q.Sent != "":
		state = "sent " + q.Sent
	}
	out := fmt.Sprintf("[%s] %s (%s)", q.ID, q.Text, state)
	if q.Answer != "" {
		out += " Answer: " + q.Answer
	}
	return out
}

// Run lists questions.
func (c *questionList) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		page, err := s.Questions(ctx, shelf.QuestionFilter{Open: !c.All, Paging: shelf.Paging{Limit: 1000}})
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, page)
		}
		p := &printer{w: io.out}
		for _, q := range page.Items {
			p.line(0, 2, questionShown(q))
		}
		if page.Total == 0 {
			p.line(0, 0, "No question is open.")
		}
		return p.err
	})
}

type questionAdd struct {
	Product string `arg:"" help:"ID, name, or words that find only one."`
	Text    string `arg:"" help:"What is asked."`
	Who     string `help:"Who asks; this account's name when not given."`
}

// Run keeps a question.
func (c *questionAdd) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		p, err := pick(ctx, s, c.Product)
		if err != nil {
			return err
		}
		q, err := s.AddQuestion(ctx, orAccount(c.Who), shelf.Question{Product: p.ID, Sheet: p.Sheet, Supplier: p.Supplier, Text: c.Text})
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "The question is kept as %s.\n", q.ID)
		return err
	})
}

// editQuestion changes a question as f says.
func editQuestion(ctx context.Context, io streams, id, who string, f func(*shelf.Question, string)) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		q, err := s.Question(ctx, id)
		if err != nil {
			return err
		}
		f(&q, time.Now().Format(time.DateOnly))
		if q, err = s.EditQuestion(ctx, orAccount(who), q); err != nil {
			return err
		}
		_, err = fmt.Fprintln(io.out, questionShown(q))
		return err
	})
}

type questionSent struct {
	ID  string `arg:"" help:"The question."`
	Who string `help:"Who says so; this account's name when not given."`
}

// Run records that a question was sent.
func (c *questionSent) Run(ctx context.Context, io streams) error {
	return editQuestion(ctx, io, c.ID, c.Who, func(q *shelf.Question, today string) { q.Sent = today })
}

type questionAnswer struct {
	ID   string `arg:"" help:"The question."`
	Text string `arg:"" help:"What was answered."`
	Who  string `help:"Who says so; this account's name when not given."`
}

// Run keeps an answer.
func (c *questionAnswer) Run(ctx context.Context, io streams) error {
	return editQuestion(ctx, io, c.ID, c.Who, func(q *shelf.Question, today string) { q.Answer, q.Answered, q.Closed = c.Text, today, today })
}

type questionClose struct {
	ID  string `arg:"" help:"The question."`
	Who string `help:"Who says so; this account's name when not given."`
}

// Run closes a question.
func (c *questionClose) Run(ctx context.Context, io streams) error {
	return editQuestion(ctx, io, c.ID, c.Who, func(q *shelf.Question, today string) { q.Closed = today })
}

type shelfDue struct {
	JSON bool `help:"Print JSON."`
}

// Run lists what wants attention.
func (c *shelfDue) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		due, err := s.Due(ctx, time.Now())
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, due)
		}
		p := &printer{w: io.out}
		last := shelf.DueSort("")
		more := func() {
			if n := due.More(last); n > 0 {
				p.line(0, 0, fmt.Sprintf("and %d more", n))
			}
		}
		for _, d := range due.Items {
			if d.Sort != last {
				more()
				p.heading(string(d.Sort))
				p.line(0, 0, d.Do)
				last = d.Sort
			}
			p.pair(0, 36, fmt.Sprintf("%s %s", d.Kind, d.ID), strings.TrimSpace(d.Title+"  "+d.Day))
		}
		more()
		if len(due.Items) == 0 {
			p.line(0, 0, "Nothing wants attention.")
		}
		return p.err
	})
}

type shelfReviewed struct {
	Product string `arg:"" help:"ID, name, or words that find only one."`
	Note    string `help:"What was found."`
	Who     string `help:"Who looked; this account's name when not given."`
}

// Run records a review.
func (c *shelfReviewed) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		p, err := pick(ctx, s, c.Product)
		if err != nil {
			return err
		}
		if p, err = s.Reviewed(ctx, orAccount(c.Who), p.ID, c.Note); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s was looked at; the next review is due %s.\n", p.Name, firstNonEmpty(p.ReviewDue, "never, as the settings say"))
		return err
	})
}

type shelfRetire struct {
	Product string `arg:"" help:"ID, name, or words that find only one."`
	Why     string `required:"" help:"The reason; it is kept."`
	Who     string `help:"Who says so; this account's name when not given."`
}

// Run takes a product off the shelf.
func (c *shelfRetire) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		p, err := pick(ctx, s, c.Product)
		if err != nil {
			return err
		}
		if err := s.RetireProduct(ctx, orAccount(c.Who), p.ID, c.Why); err != nil {
			return err
		}
		_, err = fmt.Fprintf(io.out, "%s is off the shelf. Its record is kept: in the United States for at least 30 years after it was used (29 CFR 1910.1020(d)(1)(ii)(B)).\n", p.Name)
		return err
	})
}

type shelfTrail struct {
	Product string `arg:"" optional:"" help:"Only of this product."`
	Limit   int    `default:"30" help:"At most so many."`
	JSON    bool   `help:"Print JSON."`
}

// Run lists changes.
func (c *shelfTrail) Run(ctx context.Context, io streams) error {
	return onShelf(ctx, io, func(s *shelf.Shelf) error {
		f := shelf.TrailFilter{Paging: shelf.Paging{Limit: c.Limit}}
		if c.Product != "" {
			p, err := pick(ctx, s, c.Product)
			if err != nil {
				return err
			}
			f.Kind, f.Ref = shelf.ProductKind, p.ID
		}
		page, err := s.Trail(ctx, f)
		if err != nil {
			return err
		}
		if c.JSON {
			return encode(io, page)
		}
		p := &printer{w: io.out}
		for _, e := range page.Items {
			p.line(0, 2, fmt.Sprintf("%d  %s  %s: %s %s %q", e.Seq, e.At.Local().Format("2006-01-02 15:04"), e.Who, e.Kind, e.What, e.Title))
		}
		return p.err
	})
}
