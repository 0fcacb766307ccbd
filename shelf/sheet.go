package shelf

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"sync"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/judge"
	"sixteen/sheet"
)

// State is how far the reading of a sheet is.
type State string

// States of a sheet.
const (
	Waiting   State = "waiting"
	Reading   State = "reading"
	Read      State = "read"
	NoSheet   State = "no-sheet" // read, and it is no safety data sheet
	Failed    State = "failed"   // Failure says why
	Cancelled State = "cancelled"
)

// Sheet is one revision of a product's sheet: the document, how far its reading is, and a summary of what was read. The facts
// themselves come from Judgement. Supersedes is the revision that was in force before, Changes what this one means otherwise.
type Sheet struct {
	Record
	Product    string         `json:"product,omitempty"` // ID; "" until the document is read and its product known
	Document   string         `json:"document"`          // SHA-256
	FileName   string         `json:"file_name"`
	State      State          `json:"state"`
	Failure    string         `json:"failure,omitempty"`
	Attempts   int            `json:"attempts,omitempty"`
	Supersedes string         `json:"supersedes,omitempty"` // ID of a sheet
	Changes    []audit.Change `json:"changes,omitempty"`
	Summary

	worker string // the process that reads it
}

func (p *Sheet) kind() Kind    { return SheetKind }
func (p *Sheet) table() string { return "sheets" }
func (p *Sheet) title() string { return firstNonEmpty(p.Name, p.FileName) }
func (p *Sheet) searched() string {
	return joined(p.FileName, p.Revision, p.RevisionDate)
}
func (p *Sheet) columns() []column {
	return append([]column{
		{"product_id", ref{&p.Product}}, {"document", text{&p.Document}}, {"file_name", text{&p.FileName}}, {"state", words[State]{&p.State}}, {"failure", text{&p.Failure}},
		{"attempts", whole[int]{&p.Attempts}}, {"worker", text{&p.worker}}, {"supersedes", ref{&p.Supersedes}}, {"changes", asJSON[[]audit.Change]{&p.Changes}},
	}, p.Summary.columns()...)
}
func (p *Sheet) check() error { return nil }

// ChecksVersion is the version of the checks and rule sets this program judges by: a hash of the catalogue. A sheet whose
// Summary has another was judged by other checks and can be judged again with Rejudge.
var ChecksVersion = sync.OnceValue(func() string {
	h := sha256.New()
	for _, c := range audit.Catalogue() {
		fmt.Fprintf(h, "%s\n%s\n%v\n", c.ID, c.Compares, c.Clauses)
	}
	for _, rs := range ghs.RuleSets() {
		fmt.Fprintln(h, rs)
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
})

// Sheet is one revision. It fails with ErrNotFound.
func (s *Shelf) Sheet(ctx context.Context, id string) (Sheet, error) { return load[Sheet](ctx, s, id) }

// Revisions lists the sheets of a product, the newest change first. The one in force is Product.Sheet.
func (s *Shelf) Revisions(ctx context.Context, product string) ([]Sheet, error) {
	return loadAll[Sheet](ctx, s, "WHERE t.product_id = ? AND t.retired = '' ORDER BY t.revision_date DESC, t.seq DESC", product)
}

// SheetFilter selects sheets. Zero fields select all that are not retired.
type SheetFilter struct {
	States   []State
	Document string // SHA-256
	Product  string
	Outdated bool // judged by other checks than this program's
	Paging
}

// Sheets lists sheets, the last changed first.
func (s *Shelf) Sheets(ctx context.Context, f SheetFilter) (Page[Sheet], error) {
	w := conditions{}
	w.add("t.retired = ''")
	w.equal("t.document", f.Document)
	w.equal("t.product_id", f.Product)
	if len(f.States) > 0 {
		args := make([]any, len(f.States))
		for i, state := range f.States {
			args[i] = string(state)
		}
		w.add("t.state IN (?"+strings.Repeat(", ?", len(f.States)-1)+")", args...)
	}
	if f.Outdated {
		w.add("t.state = 'read' AND t.checks <> ?", ChecksVersion())
	}
	page := Page[Sheet]{}
	if err := s.row(ctx, "SELECT COUNT(*) FROM sheets t"+w.sql(), w.args...).Scan(&page.Total); err != nil {
		return page, err
	}
	limit, offset := f.bounds()
	var err error
	page.Items, err = loadAll[Sheet](ctx, s, w.sql()+" ORDER BY t.seq DESC LIMIT ? OFFSET ?", append(w.args, limit, offset)...)
	return page, err
}

// RetireSheet takes a revision off the shelf's lists, with the reason; the document and what was read are kept. When it was
// in force, the revision before it is in force again.
func (s *Shelf) RetireSheet(ctx context.Context, by, id, why string) error {
	if strings.TrimSpace(why) == "" {
		return &Invalid{What: "There is no reason.", Do: "Say why it goes off the shelf: the reason is kept with it."}
	}
	return s.change(ctx, by, func(x *change) error {
		old, err := load[Sheet](ctx, x, id)
		if err != nil {
			return err
		}
		t := old
		t.Retired, t.RetiredWhy = x.now, why
		if err := x.update(ctx, "retired", &t, &old, exposureNote); err != nil || t.Product == "" {
			return err
		}
		return x.chooseInForce(ctx, t.Product)
	})
}

// JudgementOf is a sheet's facts with the corrections, and the judgement as it was last made, with the overrulings: what a page
// shows. It is read from the shelf; nothing is computed, so its Case is nil. It fails with ErrNotFound for a sheet that was
// never read.
func (s *Shelf) JudgementOf(ctx context.Context, id string) (*judge.Judgement, Sheet, error) {
	t, err := s.Sheet(ctx, id)
	if err != nil {
		return nil, t, err
	}
	var body []byte
	err = s.row(ctx, "SELECT body FROM judgements WHERE sheet_id = ?", id).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, t, fmt.Errorf("%w: the sheet %s is %s, so there is no judgement of it", ErrNotFound, t.title(), t.State)
	}
	if err != nil {
		return nil, t, err
	}
	var j judge.Judgement
	if err := unpack(body, &j); err != nil {
		return nil, t, err
	}
	if j.Sheet, err = s.facts(ctx, s, t.Document); err != nil {
		return nil, t, err
	}
	about, err := s.decided(ctx, s, t.Document)
	if err != nil {
		return nil, t, err
	}
	markOverruled(&j.Report, about)
	return &j, t, nil
}

// Facts is what was read from a document, with the corrections. It fails with ErrNotFound when it was never read.
func (s *Shelf) Facts(ctx context.Context, document string) (*sheet.Sheet, error) {
	return s.facts(ctx, s, document)
}

func (s *Shelf) facts(ctx context.Context, q asker, document string) (*sheet.Sheet, error) {
	out, err := factsAsRead(ctx, q, document)
	if err != nil {
		return nil, err
	}
	about, err := s.decided(ctx, q, document)
	if err != nil {
		return nil, err
	}
	about.Apply(out)
	return out, nil
}

func factsAsRead(ctx context.Context, q asker, document string) (*sheet.Sheet, error) {
	var body []byte
	err := q.row(ctx, "SELECT body FROM readings WHERE document = ?", document).Scan(&body)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("%w: the document %.12s was not read", ErrNotFound, document)
	}
	if err != nil {
		return nil, err
	}
	var out sheet.Sheet
	return &out, unpack(body, &out)
}

// Judge judges a sheet now, as the request says, with the corrections, overrulings, the product's rule set and the revision
// before. Nothing is kept. Its Case serves the papers of package audit.
func (s *Shelf) Judge(ctx context.Context, id string, req judge.Request) (*judge.Judgement, error) {
	t, err := s.Sheet(ctx, id)
	if err != nil {
		return nil, err
	}
	return s.judge(ctx, s, t, req)
}

func (s *Shelf) judge(ctx context.Context, q asker, t Sheet, req judge.Request) (*judge.Judgement, error) {
	facts, err := s.facts(ctx, q, t.Document)
	if err != nil {
		return nil, err
	}
	about, err := s.decided(ctx, q, t.Document)
	if err != nil {
		return nil, err
	}
	if req.Rules == "" && t.Product != "" {
		p, err := load[Product](ctx, q, t.Product)
		if err != nil {
			return nil, err
		}
		req.Rules = p.RuleSet
	}
	if req.Previous == nil && t.Supersedes != "" {
		before, err := load[Sheet](ctx, q, t.Supersedes)
		if err != nil {
			return nil, err
		}
		if before.Document != t.Document {
			if req.Previous, err = s.facts(ctx, q, before.Document); err != nil && !errors.Is(err, ErrNotFound) {
				return nil, err
			}
		}
	}
	if req.Now.IsZero() {
		req.Now = s.now()
	}
	req.Overrulings = about.Together(req.Overrulings)
	table, err := s.substances()
	if err != nil {
		return nil, err
	}
	return judge.JudgeSheet(ctx, facts, table, req)
}

// Rejudge judges a sheet again by this program's checks and keeps the judgement.
func (s *Shelf) Rejudge(ctx context.Context, by, id string) (Sheet, error) {
	var t Sheet
	err := s.change(ctx, by, func(x *change) error {
		old, err := load[Sheet](ctx, x, id)
		if err != nil {
			return err
		}
		t = old
		return s.rejudge(ctx, x, &t, &old, "judged again")
	})
	return t, err
}

// rejudge makes and keeps the judgement of a sheet within a transaction.
func (s *Shelf) rejudge(ctx context.Context, x *change, t, old *Sheet, what string) error {
	j, err := s.judge(ctx, x, *t, judge.Request{Now: x.now})
	if err != nil {
		return err
	}
	return x.keepJudged(ctx, t, old, j, what)
}

// keepJudged keeps a sheet with its judgement and the summary of it.
func (x *change) keepJudged(ctx context.Context, t, old *Sheet, j *judge.Judgement, what string) error {
	t.Summary = Summarise(j)
	if err := x.update(ctx, what, t, old, ""); err != nil {
		return err
	}
	return x.keepJudgement(ctx, t.ID, j)
}

// keepJudgement keeps a judgement without its facts, which are kept once per document.
func (x *change) keepJudgement(ctx context.Context, id string, j *judge.Judgement) error {
	kept := *j
	kept.Sheet = nil
	body, err := pack(&kept)
	if err != nil {
		return err
	}
	return x.exec(ctx, "INSERT INTO judgements (sheet_id, checks, at, body) VALUES (?, ?, ?, ?) ON CONFLICT (sheet_id) DO UPDATE SET checks = excluded.checks, at = excluded.at, body = excluded.body",
		id, ChecksVersion(), stamped(x.now), body)
}

// chooseInForce sets which revision of a product is in force: of those read, the one with the latest revision date, and among
// equal or unknown dates the last one that was put on the shelf. Papers made from another revision become outdated.
func (x *change) chooseInForce(ctx context.Context, product string) error {
	old, err := load[Product](ctx, x, product)
	if err != nil {
		return err
	}
	var best string
	err = x.row(ctx, "SELECT id FROM sheets WHERE product_id = ? AND state = 'read' AND retired = '' ORDER BY revision_date DESC, added DESC, id DESC LIMIT 1", product).Scan(&best)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if best != old.Sheet {
		p := old
		p.Sheet = best
		if err := x.update(ctx, "sheet in force", &p, &old, ""); err != nil {
			return err
		}
		if err := x.outdatePapers(ctx, product, best); err != nil {
			return err
		}
		if err := x.redoBlends(ctx, product, "another sheet of "+p.Name+" is in force"); err != nil {
			return err
		}
	}
	x.findProduct(product)
	return nil
}

// markOverruled sets on each finding whether it is overruled now.
func markOverruled(r *audit.Report, about judge.Decided) {
	for i, f := range r.Findings {
		r.Findings[i].Overruled = nil
		if o, ok := about.Overrulings[f.ID]; ok {
			r.Findings[i].Overruled = &o
		}
	}
}

// pack is a value as compressed JSON.
func pack(v any) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if err := json.NewEncoder(z).Encode(v); err != nil {
		return nil, err
	}
	err = z.Close()
	return b.Bytes(), err
}

func unpack(body []byte, v any) error {
	z, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		return fmt.Errorf("what was read is damaged on the shelf (%w): have the document read again", err)
	}
	raw, err := io.ReadAll(z)
	if err != nil {
		return fmt.Errorf("what was read is damaged on the shelf (%w): have the document read again", err)
	}
	return json.Unmarshal(raw, v)
}

// later tells whether revision date a is after b; an unknown date is not.
func later(a, b string) bool { return a != "" && b != "" && a > b }
