package paper

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"sixteen/audit"
	"sixteen/ghs"
	"sixteen/sheet"
)

// LetterOptions are what a letter needs to know beside its text.
type LetterOptions struct {
	From string    // sender: name and address, lines; "" leaves room for a printed head
	Date time.Time // of the letter
	Page PageSize
}

// SupplierLetter is the letter to the supplier as a document: address, date, subject, questions, signature, and an annex that
// shows for each question the words of the sheet with their place, and the clause.
func SupplierLetter(letter audit.Letter, report audit.Report, o LetterOptions) Document {
	l := letter.Lang
	head := Columns{Parts: []Part{{Width: 3, Blocks: []Block{Space{18}, Paragraph{Text: Plain(letter.To)}}}, {Width: 2, Blocks: []Block{Paragraph{Text: Plain(o.From)}, Space{6}, Paragraph{Text: Plain(dateText(o.Date))}}}}}
	d := Document{
		Title: letter.Subject, Lang: l, Date: o.Date, Page: o.Page, Size: 10.5, MarginMM: 22, Author: strings.SplitN(o.From, "\n", 2)[0],
		Foot:   Running{Left: letter.Subject, Right: "{page} / {pages}"},
		Blocks: []Block{head, Space{10}, Heading{2, letter.Subject}},
	}
	add := func(b ...Block) { d.Blocks = append(d.Blocks, b...) }
	for _, p := range letter.Opening {
		add(Space{1.5}, Paragraph{Text: Plain(p)})
	}
	questions := List{Marker: Numbered}
	for _, q := range letter.Questions {
		questions.Items = append(questions.Items, Plain(q.Text))
	}
	add(Space{1.5}, questions)
	var end []Block
	for _, p := range letter.Closing {
		end = append(end, Space{1.5}, Paragraph{Text: Plain(p)})
	}
	add(Keep{append(end, Signature{Labels: []string{word("signature", l)}})})
	if annex := evidence(letter, report); len(annex.Rows) > 0 {
		add(PageBreak{}, Heading{2, word("annex", l)}, Paragraph{Text: Plain(word("annex-note", l)), Weight: Small}, annex)
	}
	return d
}

// evidence is the table of what was read where, by question.
func evidence(letter audit.Letter, report audit.Report) Table {
	l := letter.Lang
	t := Table{Dense: true, Columns: []Column{{Title: word("number", l), Width: 0.5}, {Title: word("place", l), Width: 1.6}, {Title: word("words", l), Width: 4}, {Title: word("clause", l), Width: 2.6}}}
	for i, q := range letter.Questions {
		number := fmt.Sprint(i + 1)
		seen := map[string]bool{}
		for _, id := range q.Findings {
			at := slices.IndexFunc(report.Findings, func(f audit.Finding) bool { return f.ID == id })
			if at < 0 {
				continue
			}
			f := report.Findings[at]
			rows := 0
			for _, side := range append(slices.Clone(f.Says), f.Follows...) {
				for _, e := range side.Evidence {
					row := []Text{Plain(number), Plain(place(side, e, word("section", l), word("page", l))), Plain("“" + e.Words + "”"), Plain(f.Clause)}
					if key := row[1].String() + row[2].String() + f.Clause; e.Words != "" && !seen[key] {
						seen[key] = true
						t.Rows, rows = append(t.Rows, row), rows+1
					}
				}
			}
			if rows == 0 && !seen[f.Clause] {
				seen[f.Clause] = true
				t.Rows = append(t.Rows, []Text{Plain(number), Plain(section(f.Section, word("section", l))), Plain(word("not-stated", l)), Plain(f.Clause)})
			}
		}
	}
	return t
}

func section(n int, name string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d", name, n)
}

func place(side audit.Side, e sheet.Evidence, name, page string) string {
	out := []string{section(side.Section, name)}
	if e.Page > 0 {
		out = append(out, fmt.Sprintf("%s %d", page, e.Page))
	}
	return strings.Join(slices.DeleteFunc(out, func(s string) bool { return s == "" }), ", ")
}

// RegisterRow is one product in the register.
type RegisterRow struct {
	Product   Product
	Place     string
	Amount    string
	Review    string // date of the next review
	Open      int    // questions to the supplier that are open
	Read      string // who has read the card
	SheetFile string
}

// RegisterOptions are the frame of the register.
type RegisterOptions struct {
	Lang     ghs.Lang
	Workshop string
	Date     time.Time
	Page     PageSize
}

// Register is the list of what is stored, for the inspector and the insurer: one row per product, by place and name. The
// page lies on its side.
func Register(rows []RegisterRow, o RegisterOptions) Document {
	l := languageOf(string(o.Lang))
	page := cmp.Or(o.Page, A4)
	if page.WidthMM < page.HeightMM {
		page.WidthMM, page.HeightMM = page.HeightMM, page.WidthMM
	}
	t := Table{Dense: true, RowHeads: true, Columns: []Column{
		{Title: word("product", l), Width: 2.4}, {Title: word("supplier", l), Width: 1.8}, {Title: word("stored", l), Width: 1.5}, {Title: word("amount", l), Width: 1}, {Title: word("hazards", l), Width: 4.6},
		{Title: word("sheet-of", l), Width: 1.2}, {Title: word("review", l), Width: 1.2}, {Title: word("open-questions", l), Width: 1.25, Align: Right}, {Title: word("card-read", l), Width: 1.6},
	}}
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b RegisterRow) int {
		return cmp.Or(strings.Compare(a.Place, b.Place), strings.Compare(strings.ToLower(a.Product.Name), strings.ToLower(b.Product.Name)))
	})
	unknown := Plain(word("unknown", l))
	orUnknown := func(s string) Text {
		if s == "" {
			return unknown
		}
		return Plain(s)
	}
	for _, r := range rows {
		t.Rows = append(t.Rows, []Text{
			Plain(r.Product.Name), orUnknown(r.Product.Supplier.Name), orUnknown(r.Place), orUnknown(r.Amount), Plain(r.Product.short(l)),
			orUnknown(r.Product.SheetDate), orUnknown(r.Review), Plain(fmt.Sprint(r.Open)), orUnknown(r.Read),
		})
	}
	return Document{
		Title: word("register", l), Lang: l, Date: o.Date, Page: page, Size: 10, MarginMM: 15,
		Head: Running{Left: o.Workshop, Right: dateText(o.Date)}, Foot: Running{Left: word("register", l), Right: "{page} / {pages}"},
		Blocks: []Block{Heading{1, word("register", l)}, Paragraph{Text: Plain(word("register-note", l, fmt.Sprint(len(rows)))), Weight: Small}, t},
	}
}

// short is signal word and statements of a product on few lines.
func (p Product) short(l ghs.Lang) string {
	switch {
	case p.Hazards.Empty() && p.State == sheet.NoneStated:
		return word("not-classified", l)
	case p.Hazards.Empty():
		return word("hazards-unknown", l)
	}
	var out []string
	if w := p.Elements.SignalWord.Value.In(l); w != "" {
		out = append(out, w+".")
	}
	for _, c := range p.Elements.PrintedStatements() {
		if s, ok := p.Say(c, l); ok {
			out = append(out, strings.TrimSpace(c.Printed()+" "+s))
		}
	}
	return strings.Join(out, " ")
}
