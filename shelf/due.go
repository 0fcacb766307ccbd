package shelf

import (
	"context"
	"slices"
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
	BlendOutdated    DueSort = "blend to be worked out again"
)

// DueSorts lists the reasons, the most pressing first.
func DueSorts() []DueSort {
	return []DueSort{StricterRevision, BlendOutdated, OutdatedPaper, StockExpired, ReviewDue, NotRead, NoSheetYet, NoAnswer, NotSent, OldSheet, OtherChecks}
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

// dueListed is how many things of one reason are listed; the others are counted.
const dueListed = 200

// Attention is what wants attention: of each reason the first ones by day and name, and how many there are in all.
type Attention struct {
	Items []Due           `json:"items"`
	Total map[DueSort]int `json:"total"` // by reason, those with none left out
}

// More is how many things of a reason are not listed.
func (a Attention) More(sort DueSort) int { return max(0, a.Total[sort]-dueListed) }

// dueQuery asks for one reason: the record, its product, its title and its day; by is the order.
type dueQuery struct {
	sort             DueSort
	kind             Kind
	do               string
	fields, from, by string
	args             []any
}

// Due lists what wants attention on a day: reviews, papers made from an older revision, expired stock, questions without
// an answer, sheets that are old, could not be read or are missing, and sheets judged by other checks than this program's.
// Days are those of the workshop's clock.
func (s *Shelf) Due(ctx context.Context, day time.Time) (Attention, error) {
	out := Attention{Items: []Due{}, Total: map[DueSort]int{}}
	queries := dueQueries(day)
	for _, sort := range DueSorts() {
		q := queries[slices.IndexFunc(queries, func(q dueQuery) bool { return q.sort == sort })]
		found, err := s.dueBy(ctx, q)
		if err != nil {
			return out, err
		}
		out.Items = append(out.Items, found...)
		total := len(found)
		if total == dueListed {
			if err := s.row(ctx, "SELECT COUNT(*) FROM "+q.from, q.args...).Scan(&total); err != nil {
				return out, err
			}
		}
		if total > 0 {
			out.Total[sort] = total
		}
	}
	return out, nil
}

func dueQueries(day time.Time) []dueQuery {
	today := day.Format(time.DateOnly)
	return []dueQuery{
		{ReviewDue, ProductKind, "Look at the sheet, ask the supplier whether it is the last, and set the next date.",
			"l.product_id, l.product_id, l.name, l.review_due", "listed l WHERE l.retired = 0 AND l.review_order <= ?", "l.review_order, l.folded, l.product_id", []any{today}},
		{OldSheet, SheetKind, "Ask the supplier for the last revision.",
			"l.sheet_id, l.product_id, l.name, l.revision_date", "listed l WHERE l.retired = 0 AND l.revision_date > '' AND l.revision_date < ?", "l.revision_date, l.folded, l.product_id", []any{day.AddDate(-oldYears, 0, 0).Format(time.DateOnly)}},
		{NoSheetYet, ProductKind, "Ask the supplier for the sheet, or add its file.",
			"l.product_id, l.product_id, l.name, ''", "listed l WHERE l.retired = 0 AND l.sheet_id = '' AND l.kit = 0 AND NOT EXISTS (SELECT 1 FROM sheets h WHERE h.product_id = l.product_id AND h.retired = '' AND h.state IN ('waiting', 'reading'))", "l.folded, l.product_id", nil},
		{NotRead, SheetKind, "Open it: the reason and what to do stand there.",
			"id, COALESCE(product_id, ''), file_name, ''", "sheets WHERE retired = '' AND state IN ('failed', 'no-sheet')", "file_name, id", nil},
		{OutdatedPaper, PaperKind, "Print it again from the revision in force, and throw the old one away.",
			"id, COALESCE(product_id, ''), title, substr(outdated, 1, 10)", "papers WHERE retired = '' AND outdated > ''", "substr(outdated, 1, 10), title, id", nil},
		{BlendOutdated, BlendKind, "Work it out again with the sheets in force, look at what changed, and draft its sheet and label anew.",
			"id, '', name, substr(redo, 1, 10)", "blends WHERE retired = '' AND redo > ''", "redo, name, id", nil},
		{NoAnswer, QuestionKind, "Remind the supplier.",
			"id, COALESCE(product_id, ''), question, sent", "questions WHERE retired = '' AND closed = '' AND answered = '' AND sent <> '' AND sent < ?", "sent, question, id", []any{day.AddDate(0, 0, -answerDays).Format(time.DateOnly)}},
		{NotSent, QuestionKind, "Send it, or close it.",
			"id, COALESCE(product_id, ''), question, substr(added, 1, 10)", "questions WHERE retired = '' AND closed = '' AND sent = ''", "substr(added, 1, 10), question, id", nil},
		{StockExpired, StockKind, "Take it out of use, or find out whether it may still be used.",
			"k.id, p.id, p.name, k.expires", "stock k JOIN products p ON p.id = k.product_id WHERE k.retired = '' AND k.expires <> '' AND k.expires < ?", "k.expires, p.folded, k.id", []any{today}},
		{OtherChecks, SheetKind, "Have it judged again.",
			"l.sheet_id, l.product_id, l.name, substr(l.judged, 1, 10)", "listed l WHERE l.retired = 0 AND (l.checks > '' AND l.checks < ? OR l.checks > ?)", "l.folded, l.product_id", []any{ChecksVersion(), ChecksVersion()}},
		{StricterRevision, SheetKind, "Read what changed, tell those who work with it, and print its papers again.",
			"l.sheet_id, l.product_id, l.name, substr(l.sheet_added, 1, 10)",
			"listed l WHERE l.retired = 0 AND l.sterner = 1 AND l.review_due <> '' AND NOT EXISTS (SELECT 1 FROM trail r WHERE r.kind = 'product' AND r.ref = l.product_id AND r.what = 'reviewed' AND r.seq > l.sheet_seq)", "substr(l.sheet_added, 1, 10), l.folded, l.product_id", nil},
	}
}

func (s *Shelf) dueBy(ctx context.Context, q dueQuery) ([]Due, error) {
	rows, err := s.rows(ctx, "SELECT "+q.fields+" FROM "+q.from+" ORDER BY "+q.by+" LIMIT ?", append(slices.Clone(q.args), dueListed)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Due
	for rows.Next() {
		d := Due{Sort: q.sort, Kind: q.kind, Do: q.do}
		if err := rows.Scan(&d.ID, &d.Product, &d.Title, &d.Day); err != nil {
			return nil, err
		}
		d.Title = firstLine(d.Title)
		out = append(out, d)
	}
	return out, rows.Err()
}
