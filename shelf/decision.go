package shelf

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/judge"
)

// Correction is a fact of a document as a person states it, kept beside what was read. It belongs to one file: another
// revision, and a copy that differs in a byte, is read afresh.
type Correction struct {
	Record
	Document string          `json:"document"` // SHA-256
	Path     string          `json:"path"`     // of sheet.Sheet.Facts
	Value    json.RawMessage `json:"value"`
	Who      string          `json:"who"`
	Why      string          `json:"why"`
	When     time.Time       `json:"when"`
}

func (p *Correction) kind() Kind       { return CorrectionKind }
func (p *Correction) table() string    { return "corrections" }
func (p *Correction) title() string    { return p.Path }
func (p *Correction) searched() string { return "" }
func (p *Correction) columns() []column {
	return []column{
		{"document", text{&p.Document}}, {"path", text{&p.Path}}, {"value", asJSON[json.RawMessage]{&p.Value}}, {"who", text{&p.Who}}, {"why", text{&p.Why}}, {"at", moment{&p.When}},
	}
}
func (p *Correction) check() error {
	if strings.TrimSpace(p.Why) == "" {
		return &Invalid{What: "There is no reason.", Do: "Say why the value is another: the reason is kept and shown with the fact."}
	}
	return nil
}

// Overruling is a person's decision that a finding about a document does not apply.
type Overruling struct {
	Record
	Document string    `json:"document"` // SHA-256
	Finding  string    `json:"finding"`  // ID
	Who      string    `json:"who"`
	Why      string    `json:"why"`
	When     time.Time `json:"when"`
}

func (p *Overruling) kind() Kind       { return OverrulingKind }
func (p *Overruling) table() string    { return "overrulings" }
func (p *Overruling) title() string    { return p.Finding }
func (p *Overruling) searched() string { return "" }
func (p *Overruling) columns() []column {
	return []column{{"document", text{&p.Document}}, {"finding", text{&p.Finding}}, {"who", text{&p.Who}}, {"why", text{&p.Why}}, {"at", moment{&p.When}}}
}
func (p *Overruling) check() error {
	if strings.TrimSpace(p.Why) == "" {
		return &Invalid{What: "There is no reason.", Do: "Say why the finding does not apply: the reason is kept and shown with it."}
	}
	return nil
}

// Decided is what was decided about a document; judge.Desk asks for it (judge.Options.Decided).
func (s *Shelf) Decided(ctx context.Context, document string) (judge.Decided, error) {
	return s.decided(ctx, s, document)
}

func (s *Shelf) decided(ctx context.Context, q asker, document string) (judge.Decided, error) {
	var out judge.Decided
	corrections, err := loadAll[Correction](ctx, q, "WHERE t.document = ? AND t.retired = '' ORDER BY t.seq", document)
	if err != nil {
		return out, err
	}
	for _, c := range corrections {
		out.Corrections = append(out.Corrections, judge.Correction{Path: c.Path, Value: c.Value, Who: c.Who, Why: c.Why, When: c.When})
	}
	overrulings, err := loadAll[Overruling](ctx, q, "WHERE t.document = ? AND t.retired = '' ORDER BY t.seq", document)
	if err != nil {
		return out, err
	}
	for _, o := range overrulings {
		if out.Overrulings == nil {
			out.Overrulings = map[string]audit.Overruling{}
		}
		out.Overrulings[o.Finding] = audit.Overruling{Who: o.Who, When: o.When.Format(time.RFC3339), Why: o.Why}
	}
	return out, nil
}

// Corrections lists the corrections of a document that hold, oldest first; the later one of a path counts.
func (s *Shelf) Corrections(ctx context.Context, document string) ([]Correction, error) {
	return loadAll[Correction](ctx, s, "WHERE t.document = ? AND t.retired = '' ORDER BY t.seq", document)
}

// Overrulings lists the overrulings of a document that hold, oldest first.
func (s *Shelf) Overrulings(ctx context.Context, document string) ([]Overruling, error) {
	return loadAll[Overruling](ctx, s, "WHERE t.document = ? AND t.retired = '' ORDER BY t.seq", document)
}

// Correct keeps a person's value of a fact and judges all sheets of the document again. value is JSON as sheet.Sheet.Correct
// takes it. on is the ID of the last correction of the same fact that the person saw, "" when they saw none: when somebody
// else corrected it since, Correct fails with *Conflict. A document that was not read on this shelf may be corrected too: the
// correction waits for it and whoever reads it tries it (judge.Desk). It fails with *Invalid and, for a path that is no fact of
// a read document, with sheet.ErrNoFact.
func (s *Shelf) Correct(ctx context.Context, by, document, path string, value []byte, why, on string) (Correction, error) {
	c := Correction{Document: document, Path: path, Value: value, Who: by, Why: why}
	err := s.change(ctx, by, func(x *change) error {
		last, err := loadAll[Correction](ctx, x, "WHERE t.document = ? AND t.path = ? AND t.retired = '' ORDER BY t.seq DESC LIMIT 1", document, path)
		if err != nil {
			return err
		}
		if len(last) > 0 && last[0].ID != on {
			return x.conflict(ctx, &c, &last[0])
		}
		c.When = x.now
		facts, err := s.facts(ctx, x, document)
		if err == nil {
			if err := facts.Correct(path, value, by, why, x.now); err != nil {
				return err
			}
		} else if !isNotFound(err) {
			return err
		}
		if err := x.insert(ctx, &c, ""); err != nil {
			return err
		}
		return s.rejudgeDocument(ctx, x, document)
	})
	return c, err
}

// Uncorrect takes the last correction of a fact back, or the last row added to a list. It fails with judge.ErrNotDecided when
// there is none, and with *Invalid when another correction is of a row that would then be gone.
func (s *Shelf) Uncorrect(ctx context.Context, by, document, path string) error {
	return s.change(ctx, by, func(x *change) error {
		last, err := loadAll[Correction](ctx, x, "WHERE t.document = ? AND t.path = ? AND t.retired = '' ORDER BY t.seq DESC LIMIT 1", document, path)
		if err != nil {
			return err
		}
		if len(last) == 0 {
			return fmt.Errorf("%s: %w", path, judge.ErrNotDecided)
		}
		t := last[0]
		t.Retired, t.RetiredWhy = x.now, "taken back by "+by
		before, err := s.facts(ctx, x, document)
		if err != nil && !isNotFound(err) {
			return err
		}
		if err := x.update(ctx, "taken back", &t, &last[0], ""); err != nil {
			return err
		}
		if before != nil {
			after, err := s.facts(ctx, x, document)
			if err != nil {
				return err
			}
			if len(after.Problems) > len(before.Problems) {
				return &Invalid{What: "A later correction is of the row that was added.", Do: "Take that correction back first, then the row."}
			}
		}
		return s.rejudgeDocument(ctx, x, document)
	})
}

// Overrule decides that a finding about a document does not apply. Whether there is such a finding is the caller's to know.
// Overruling it again replaces the reason.
func (s *Shelf) Overrule(ctx context.Context, by, document, finding, why string) (Overruling, error) {
	o := Overruling{Document: document, Finding: finding, Who: by, Why: why}
	if strings.TrimSpace(finding) == "" {
		return o, &Invalid{What: "No finding is named.", Do: "Name the finding by its ID."}
	}
	err := s.change(ctx, by, func(x *change) error {
		if err := x.withdrawOverrulings(ctx, document, finding, "replaced by "+by); err != nil && !isNotDecided(err) {
			return err
		}
		o.When = x.now
		if err := x.insert(ctx, &o, ""); err != nil {
			return err
		}
		return s.recount(ctx, x, document)
	})
	return o, err
}

// Reinstate takes an overruling back. It fails with judge.ErrNotDecided when there is none.
func (s *Shelf) Reinstate(ctx context.Context, by, document, finding string) error {
	return s.change(ctx, by, func(x *change) error {
		if err := x.withdrawOverrulings(ctx, document, finding, "taken back by "+by); err != nil {
			return err
		}
		return s.recount(ctx, x, document)
	})
}

func (x *change) withdrawOverrulings(ctx context.Context, document, finding, why string) error {
	have, err := loadAll[Overruling](ctx, x, "WHERE t.document = ? AND t.finding = ? AND t.retired = ''", document, finding)
	if err != nil {
		return err
	}
	for _, old := range have {
		t := old
		t.Retired, t.RetiredWhy = x.now, why
		if err := x.update(ctx, "taken back", &t, &old, ""); err != nil {
			return err
		}
	}
	if len(have) == 0 {
		return fmt.Errorf("finding %s: %w", finding, judge.ErrNotDecided)
	}
	return nil
}

// rejudgeDocument judges every sheet of a document again after its facts were corrected.
func (s *Shelf) rejudgeDocument(ctx context.Context, x *change, document string) error {
	sheets, err := loadAll[Sheet](ctx, x, "WHERE t.document = ? AND t.retired = '' AND t.state = 'read'", document)
	if err != nil {
		return err
	}
	for _, old := range sheets {
		t := old
		if err := s.rejudge(ctx, x, &t, &old, "judged again"); err != nil {
			return err
		}
		if t.Product != "" {
			if err := x.chooseInForce(ctx, t.Product); err != nil {
				return err
			}
			if err := x.redoBlends(ctx, t.Product, "facts of the sheet "+t.title()+" were corrected"); err != nil {
				return err
			}
		}
	}
	return nil
}

// recount counts the findings of every sheet of a document again after one was overruled or reinstated.
func (s *Shelf) recount(ctx context.Context, x *change, document string) error {
	sheets, err := loadAll[Sheet](ctx, x, "WHERE t.document = ? AND t.retired = '' AND t.state = 'read'", document)
	if err != nil || len(sheets) == 0 {
		return err
	}
	about, err := s.decided(ctx, x, document)
	if err != nil {
		return err
	}
	for _, old := range sheets {
		var body []byte
		var kept struct {
			Report audit.Report `json:"report"`
		}
		if err := x.row(ctx, "SELECT body FROM judgements WHERE sheet_id = ?", old.ID).Scan(&body); err != nil {
			return err
		}
		if err := unpack(body, &kept); err != nil {
			return err
		}
		markOverruled(&kept.Report, about)
		t := old
		t.count(kept.Report)
		if err := x.update(ctx, "findings counted", &t, &old, ""); err != nil {
			return err
		}
	}
	return nil
}
