package shelf

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"
)

// DueSort is why something wants attention.
type DueSort string

// Reasons.
const (
	ReviewDue        DueSort = "review due"
	OldSheet         DueSort = "old sheet"
	NoSheetYet       DueSort = "no sheet"
	NotRead          DueSort = "could not be read"
	OutdatedPaper    DueSort = "outdated paper"
	NoAnswer         DueSort = "no answer"
	NotSent          DueSort = "question not sent"
	StockExpired     DueSort = "expired"
	OtherChecks      DueSort = "judged by other checks"
	StricterRevision DueSort = "stricter revision"
)

// DueSorts lists the reasons, the most pressing first.
func DueSorts() []DueSort {
	return []DueSort{StricterRevision, OutdatedPaper, StockExpired, ReviewDue, NotRead, NoSheetYet, NoAnswer, NotSent, OldSheet, OtherChecks}
}

// Due is one thing that wants attention, and what to do about it.
type Due struct {
	Sort    DueSort `json:"sort"`
	Kind    Kind    `json:"kind"` // of the record to open
	ID      string  `json:"id"`
	Product string  `json:"product,omitempty"` // ID
	Title   string  `json:"title"`
	Day     string  `json:"day,omitempty"` // since when, or by when
	Do      string  `json:"do"`
}

// How long is long: common practice, no law.
const (
	oldYears   = 5  // a sheet: Australia and New Zealand want a review at least every five years (model WHS Regulations r. 330(3))
	answerDays = 21 // an answer
)

// Due lists what wants attention on a day: reviews, papers made from an older revision, expired stock, questions without
// an answer, sheets that are old, could not be read or are missing, and sheets judged by other checks than this program's.
// Days are those of the workshop's clock.
func (s *Shelf) Due(ctx context.Context, day time.Time) ([]Due, error) {
	today := day.Format(time.DateOnly)
	type query struct {
		sort DueSort
		kind Kind
		do   string
		sql  string
		args []any
	}
	var out []Due
	for _, q := range []query{
		{ReviewDue, ProductKind, "Look at the sheet, ask the supplier whether it is the last, and set the next date.",
			"SELECT id, id, name, review_due FROM products WHERE retired = '' AND review_due <> '' AND review_due <= ?", []any{today}},
		{OldSheet, SheetKind, "Ask the supplier for the last revision.",
			"SELECT h.id, p.id, p.name, h.revision_date FROM products p JOIN sheets h ON h.id = p.sheet_id WHERE p.retired = '' AND h.revision_date <> '' AND h.revision_date < ?", []any{day.AddDate(-oldYears, 0, 0).Format(time.DateOnly)}},
		{NoSheetYet, ProductKind, "Ask the supplier for the sheet, or add its file.",
			"SELECT id, id, name, '' FROM products p WHERE p.retired = '' AND p.sheet_id IS NULL AND p.parts IN ('null', '[]') AND NOT EXISTS (SELECT 1 FROM sheets h WHERE h.product_id = p.id AND h.retired = '' AND h.state IN ('waiting', 'reading'))", nil},
		{NotRead, SheetKind, "Open it: the reason and what to do stand there.",
			"SELECT id, COALESCE(product_id, ''), file_name, '' FROM sheets WHERE retired = '' AND state IN ('failed', 'no-sheet')", nil},
		{OutdatedPaper, PaperKind, "Print it again from the revision in force, and throw the old one away.",
			"SELECT id, COALESCE(product_id, ''), title, substr(outdated, 1, 10) FROM papers WHERE retired = '' AND outdated <> ''", nil},
		{NoAnswer, QuestionKind, "Remind the supplier.",
			"SELECT id, COALESCE(product_id, ''), question, sent FROM questions WHERE retired = '' AND closed = '' AND answered = '' AND sent <> '' AND sent < ?", []any{day.AddDate(0, 0, -answerDays).Format(time.DateOnly)}},
		{NotSent, QuestionKind, "Send it, or close it.",
			"SELECT id, COALESCE(product_id, ''), question, substr(added, 1, 10) FROM questions WHERE retired = '' AND closed = '' AND sent = ''", nil},
		{StockExpired, StockKind, "Take it out of use, or find out whether it may still be used.",
			"SELECT k.id, p.id, p.name, k.expires FROM stock k JOIN products p ON p.id = k.product_id WHERE k.retired = '' AND k.expires <> '' AND k.expires < ?", []any{today}},
		{OtherChecks, SheetKind, "Have it judged again.",
			"SELECT h.id, p.id, p.name, substr(h.judged, 1, 10) FROM products p JOIN sheets h ON h.id = p.sheet_id WHERE p.retired = '' AND h.checks <> ?", []any{ChecksVersion()}},
		{StricterRevision, SheetKind, "Read what changed, tell those who work with it, and print its papers again.",
			`SELECT h.id, p.id, p.name, substr(h.added, 1, 10) FROM products p JOIN sheets h ON h.id = p.sheet_id WHERE p.retired = '' AND h.changes LIKE '%"direction":"sterner"%' AND p.review_due <> '' AND NOT EXISTS (SELECT 1 FROM trail r WHERE r.kind = 'product' AND r.ref = p.id AND r.what = 'reviewed' AND r.seq > h.seq)`, nil},
	} {
		found, err := s.dueBy(ctx, q.sort, q.kind, q.do, q.sql, q.args)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
	}
	rank := DueSorts()
	slices.SortStableFunc(out, func(a, b Due) int {
		return cmp.Or(slices.Index(rank, a.Sort)-slices.Index(rank, b.Sort), strings.Compare(a.Day, b.Day), strings.Compare(a.Title, b.Title), strings.Compare(a.ID, b.ID))
	})
	return out, nil
}

func (s *Shelf) dueBy(ctx context.Context, sort DueSort, kind Kind, do, query string, args []any) ([]Due, error) {
	rows, err := s.rows(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Due
	for rows.Next() {
		d := Due{Sort: sort, Kind: kind, Do: do}
		if err := rows.Scan(&d.ID, &d.Product, &d.Title, &d.Day); err != nil {
			return nil, err
		}
		d.Title = firstLine(d.Title)
		out = append(out, d)
	}
	return out, rows.Err()
}
