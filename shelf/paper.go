package shelf

import (
	"context"
	"encoding/json"
	"strings"
	"time"

	"sixteen/ghs"
)

// PaperSort is what sort of paper was made.
type PaperSort string

// Sorts of papers.
const (
	WorkplaceLabel PaperSort = "label"
	SupplierLabel  PaperSort = "supplier-label"
	BenchCard      PaperSort = "card"
	PlanPaper      PaperSort = "plan"
	ComparePaper   PaperSort = "comparison"
	RegisterPaper  PaperSort = "register"
	LetterPaper    PaperSort = "letter"
	SheetPaper     PaperSort = "sheet" // a drafted one
)

// PaperSorts lists the sorts of papers.
func PaperSorts() []PaperSort {
	return []PaperSort{WorkplaceLabel, SupplierLabel, BenchCard, PlanPaper, ComparePaper, RegisterPaper, LetterPaper, SheetPaper}
}

// Paper records that a paper was made, from which revision, so that a newer revision marks it as outdated. Paper itself can be
// printed again from Options.
type Paper struct {
	Record
	Sort       PaperSort       `json:"sort"`
	Title      string          `json:"title"`
	Product    string          `json:"product,omitempty"` // ID
	Sheet      string          `json:"sheet,omitempty"`   // ID of the revision it was made from
	Job        string          `json:"job,omitempty"`     // ID
	Language   ghs.Lang        `json:"language,omitempty"`
	Size       string          `json:"size,omitempty"`
	Copies     int             `json:"copies,omitempty"`
	Options    json.RawMessage `json:"options,omitempty"`     // of whoever made it
	Outdated   time.Time       `json:"outdated,omitzero"`     // since when a newer revision is in force
	OutdatedBy string          `json:"outdated_by,omitempty"` // ID of that sheet
}

func (p *Paper) kind() Kind       { return PaperKind }
func (p *Paper) table() string    { return "papers" }
func (p *Paper) title() string    { return p.Title }
func (p *Paper) searched() string { return string(p.Sort) }
func (p *Paper) columns() []column {
	return []column{
		{"kind", words[PaperSort]{&p.Sort}}, {"title", text{&p.Title}}, {"product_id", ref{&p.Product}}, {"sheet_id", ref{&p.Sheet}}, {"job_id", ref{&p.Job}},
		{"language", words[ghs.Lang]{&p.Language}}, {"size", text{&p.Size}}, {"copies", whole[int]{&p.Copies}}, {"options", asJSON[json.RawMessage]{&p.Options}},
		{"outdated", moment{&p.Outdated}}, {"outdated_by", text{&p.OutdatedBy}},
	}
}
func (p *Paper) check() error {
	if err := named("paper", p.Title); err != nil {
		return err
	}
	return oneOf("sort of paper", p.Sort, PaperSorts()...)
}

// AddPaper records that a paper was made.
func (s *Shelf) AddPaper(ctx context.Context, by string, p Paper) (Paper, error) {
	p.Outdated, p.OutdatedBy = time.Time{}, ""
	return add(ctx, s, by, p)
}

// Paper is one paper. It fails with ErrNotFound.
func (s *Shelf) Paper(ctx context.Context, id string) (Paper, error) { return load[Paper](ctx, s, id) }

// RetirePaper records that a paper was thrown away or replaced, with the reason.
func (s *Shelf) RetirePaper(ctx context.Context, by, id, why string) error {
	return retire[Paper](ctx, s, by, id, why, "")
}

// PaperFilter selects papers. Zero fields select all in use.
type PaperFilter struct {
	Product  string
	Sheet    string
	Sort     PaperSort
	Outdated bool // only those a newer revision made outdated
	Paging
}

// Papers lists the papers made, the last first.
func (s *Shelf) Papers(ctx context.Context, f PaperFilter) (Page[Paper], error) {
	w := conditions{}
	w.add("t.retired = ''")
	w.equal("t.product_id", f.Product)
	w.equal("t.sheet_id", f.Sheet)
	w.equal("t.kind", string(f.Sort))
	if f.Outdated {
		w.add("t.outdated > ''")
	}
	page := Page[Paper]{}
	if err := s.row(ctx, "SELECT COUNT(*) FROM papers t"+w.sql(), w.args...).Scan(&page.Total); err != nil {
		return page, err
	}
	limit, offset := f.bounds()
	var err error
	page.Items, err = loadAll[Paper](ctx, s, w.sql()+" ORDER BY t.seq DESC LIMIT ? OFFSET ?", append(w.args, limit, offset)...)
	return page, err
}

// outdatePapers marks the papers of a product, and of the kits it is a part of, that were made from another revision.
func (x *change) outdatePapers(ctx context.Context, product, inForce string) error {
	papers, err := loadAll[Paper](ctx, x, `WHERE t.retired = '' AND t.outdated = '' AND COALESCE(t.sheet_id, '') <> ? AND (t.product_id = ? OR t.product_id IN
		(SELECT k.id FROM products k WHERE k.parts <> 'null' AND k.parts <> '[]' AND k.parts LIKE ? ESCAPE '\'))`, inForce, product, `%"product":"`+escapeLike(product)+`"%`)
	if err != nil {
		return err
	}
	for _, old := range papers {
		p := old
		p.Outdated, p.OutdatedBy = x.now, inForce
		if err := x.update(ctx, "outdated", &p, &old, ""); err != nil {
			return err
		}
	}
	return nil
}

// Acknowledgement is a person's word that they have read a paper.
type Acknowledgement struct {
	Record
	Paper  string    `json:"paper"`  // ID
	Person string    `json:"person"` // the user's name, or that of somebody without an account
	When   time.Time `json:"when"`
}

func (p *Acknowledgement) kind() Kind       { return AcknowledgementKind }
func (p *Acknowledgement) table() string    { return "acknowledgements" }
func (p *Acknowledgement) title() string    { return p.Person }
func (p *Acknowledgement) searched() string { return "" }
func (p *Acknowledgement) columns() []column {
	return []column{{"paper_id", ref{&p.Paper}}, {"person", text{&p.Person}}, {"at", moment{&p.When}}}
}
func (p *Acknowledgement) check() error {
	if strings.TrimSpace(p.Person) == "" {
		return &Invalid{What: "Nobody is named who has read it.", Do: "Give the person's name."}
	}
	return nil
}

// Acknowledge records that a person has read a paper. Doing it again changes nothing.
func (s *Shelf) Acknowledge(ctx context.Context, by, paper, person string) (Acknowledgement, error) {
	a := Acknowledgement{Paper: paper, Person: strings.TrimSpace(person)}
	err := s.change(ctx, by, func(x *change) error {
		have, err := loadAll[Acknowledgement](ctx, x, "WHERE t.paper_id = ? AND t.person = ? AND t.retired = ''", paper, a.Person)
		if err != nil {
			return err
		}
		if len(have) > 0 {
			a = have[0]
			return nil
		}
		a.When = x.now
		return x.insert(ctx, &a, "")
	})
	return a, err
}

// Acknowledgements lists who has read a paper, in that order.
func (s *Shelf) Acknowledgements(ctx context.Context, paper string) ([]Acknowledgement, error) {
	return loadAll[Acknowledgement](ctx, s, "WHERE t.paper_id = ? AND t.retired = '' ORDER BY t.seq", paper)
}
