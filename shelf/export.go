package shelf

import (
	"bufio"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// registerColumns are the headings of the register as a table.
func registerColumns() []string {
	return []string{"Product", "Code", "Supplier", "Used for", "Where and how much", "Signal word", "Pictograms", "H codes", "Flash point (°C)", "Sheet of", "Language",
		"Rule set", "Contradictions", "Gaps", "Doubts", "Notes", "Review due", "Note", "ID"}
}

// register hands every product, by name, as a row of the register to f.
func (s *Shelf) register(ctx context.Context, f func(l ProductLine, row []string) error) error {
	where, err := s.whereAll(ctx)
	if err != nil {
		return err
	}
	for offset := 0; ; offset += 1000 {
		page, err := s.Products(ctx, ProductFilter{Order: ByName, Paging: Paging{Limit: 1000, Offset: offset}})
		if err != nil {
			return err
		}
		for _, l := range page.Items {
			if err := f(l, registerRow(l, where[l.ID])); err != nil {
				return err
			}
		}
		if offset+1000 >= page.Total {
			return nil
		}
	}
}

func registerRow(l ProductLine, where string) []string {
	row := []string{l.Name, l.Code, l.SupplierName, l.UsedFor, where, "", "", "", "", "", "", "", "", "", "", "", l.ReviewDue, l.Note, l.ID}
	h := l.InForce
	if h == nil {
		return row
	}
	var pictograms, codes []string
	for _, p := range h.Pictograms {
		pictograms = append(pictograms, p.String())
	}
	for _, c := range h.Statements {
		codes = append(codes, string(c))
	}
	row[5], row[6], row[7] = h.SignalWord.String(), strings.Join(pictograms, " "), strings.Join(codes, " ")
	if h.FlashC != nil {
		row[8] = fmt.Sprintf("%g", *h.FlashC)
	}
	row[9], row[10], row[11] = h.RevisionDate, string(h.Language), string(h.RuleSet)
	for i, n := range []int{h.Contradictions, h.Gaps, h.Doubts, h.Notes} {
		row[12+i] = fmt.Sprint(n)
	}
	return row
}

// whereAll says for each product where it stands and how much, in words.
func (s *Shelf) whereAll(ctx context.Context) (map[string]string, error) {
	rows, err := s.rows(ctx, "SELECT k.product_id, k.amount, k.unit, p.name FROM stock k JOIN places p ON p.id = k.place_id WHERE k.retired = '' ORDER BY p.name, k.seq")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[string]string{}
	for rows.Next() {
		var product, unit, place string
		var amount *float64
		if err := rows.Scan(&product, number{&amount}, &unit, &place); err != nil {
			return nil, err
		}
		if out[product] != "" {
			out[product] += "; "
		}
		out[product] += place + ": " + amountShown(amount, unit)
	}
	return out, rows.Err()
}

// harmless keeps a spreadsheet from taking a text for a formula: one that begins with =, +, -, @, a tab or a line end gets an
// apostrophe before it, unless it is a number.
func harmless(s string) string {
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	if s != "" && strings.ContainsRune("=+-@\t\r\n", rune(s[0])) {
		return "'" + s
	}
	return s
}

// ExportCSV writes the register as CSV (RFC 4180, UTF-8 with a byte order mark, so that spreadsheets see it).
func (s *Shelf) ExportCSV(ctx context.Context, w io.Writer) error {
	b := bufio.NewWriter(w)
	if _, err := b.WriteString("\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(b)
	out.UseCRLF = true
	if err := out.Write(registerColumns()); err != nil {
		return err
	}
	err := s.register(ctx, func(_ ProductLine, row []string) error {
		for i := range row {
			row[i] = harmless(row[i])
		}
		return out.Write(row)
	})
	out.Flush()
	return errors.Join(err, out.Error(), b.Flush())
}

// ExportXLSX writes the register as a spreadsheet. Texts are kept as texts, never as formulas.
func (s *Shelf) ExportXLSX(ctx context.Context, w io.Writer) error {
	f := excelize.NewFile()
	defer f.Close()
	const tab = "Register"
	if err := f.SetSheetName("Sheet1", tab); err != nil {
		return err
	}
	out, err := f.NewStreamWriter(tab)
	if err != nil {
		return err
	}
	line := 1
	put := func(row []string) error {
		values := make([]any, len(row))
		for i, v := range row {
			values[i] = harmless(v)
		}
		cell, err := excelize.CoordinatesToCellName(1, line)
		line++
		return errors.Join(err, out.SetRow(cell, values))
	}
	if err := out.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}); err != nil {
		return err
	}
	if err := put(registerColumns()); err != nil {
		return err
	}
	if err := s.register(ctx, func(_ ProductLine, row []string) error { return put(row) }); err != nil {
		return err
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return f.Write(w)
}

// ExportJSON writes the register as JSON: products with their summaries, places, amounts, suppliers, questions.
func (s *Shelf) ExportJSON(ctx context.Context, w io.Writer) error {
	products := []ProductLine{}
	if err := s.register(ctx, func(l ProductLine, _ []string) error {
		products = append(products, l)
		return nil
	}); err != nil {
		return err
	}
	suppliers, err1 := s.Suppliers(ctx)
	places, err2 := s.Places(ctx)
	stock, err3 := s.Stock(ctx, StockFilter{})
	questions, err4 := loadAll[Question](ctx, s, "WHERE t.retired = '' ORDER BY t.seq")
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return err
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	return enc.Encode(map[string]any{"products": products, "suppliers": suppliers, "places": places, "stock": stock, "questions": questions})
}

// ExportCalendar writes the review dates and days of expiry as an iCalendar file (RFC 5545), one all-day event each.
func (s *Shelf) ExportCalendar(ctx context.Context, w io.Writer) error {
	b := bufio.NewWriter(w)
	stampNow := s.now().UTC().Format("20060102T150405Z")
	line := func(l string) { b.WriteString(foldedLine(l)) }
	line("BEGIN:VCALENDAR")
	line("VERSION:2.0")
	line("PRODID:-//sixteen//shelf//EN")
	line("CALSCALE:GREGORIAN")
	event := func(id, day, summary, description string) error {
		from, err := time.Parse(time.DateOnly, day)
		if err != nil {
			return err
		}
		line("BEGIN:VEVENT")
		line("UID:" + id + "@sixteen.invalid")
		line("DTSTAMP:" + stampNow)
		line("DTSTART;VALUE=DATE:" + from.Format("20060102"))
		line("DTEND;VALUE=DATE:" + from.AddDate(0, 0, 1).Format("20060102"))
		line("SUMMARY:" + calendarText(summary))
		line("DESCRIPTION:" + calendarText(description))
		line("TRANSP:TRANSPARENT")
		line("END:VEVENT")
		return nil
	}
	products, err := loadAll[Product](ctx, s, "WHERE t.retired = '' AND t.review_due <> '' ORDER BY t.review_due, t.id")
	if err != nil {
		return err
	}
	names := map[string]string{}
	for _, p := range products {
		if err := event("review-"+p.ID, p.ReviewDue, "Review the sheet: "+p.Name, "Ask the supplier whether the sheet is the last revision, look at it, and set the next date."); err != nil {
			return err
		}
	}
	stock, err := loadAll[Stock](ctx, s, "WHERE t.retired = '' AND t.expires <> '' ORDER BY t.expires, t.id")
	if err != nil {
		return err
	}
	for _, k := range stock {
		if names[k.Product] == "" {
			p, err := s.Product(ctx, k.Product)
			if err != nil {
				return err
			}
			names[k.Product] = p.Name
		}
		if err := event("expiry-"+k.ID, k.Expires, "Expires: "+names[k.Product], k.title()+" "+k.Container); err != nil {
			return err
		}
	}
	line("END:VCALENDAR")
	return b.Flush()
}

// calendarText escapes a text (RFC 5545 section 3.3.11).
func calendarText(s string) string {
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`).Replace(s)
}

// foldedLine is a content line of at most 75 octets, continued on lines that begin with a space (RFC 5545 section 3.1).
func foldedLine(l string) string {
	var b strings.Builder
	room := 75
	for _, r := range l {
		n := len(string(r))
		if room < n {
			b.WriteString("\r\n ")
			room = 74
		}
		b.WriteRune(r)
		room -= n
	}
	return b.String() + "\r\n"
}
