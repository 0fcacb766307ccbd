package shelf

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"sixteen/ghs"
)

// exposureNote goes with what shows that a product was used: it has to be kept long.
const exposureNote = "Kept at least 30 years: a record of what was used, where and when, in place of its sheet (29 CFR 1910.1020(d)(1)(ii)(B))."

// Part is one part of a kit and its share in the mix.
type Part struct {
	Product string  `json:"product"` // ID
	Role    string  `json:"role"`    // "resin", "hardener", "part A"
	Parts   float64 `json:"parts"`   // of the mix, greater than 0: 100 and 45 for 100:45
}

// Product is one product on the shelf: a tin as it is bought, or, with Kit parts, a product that comes in parts which are
// mixed at a ratio.
type Product struct {
	Record
	Name         string      `json:"name"`
	Code         string      `json:"code,omitempty"`     // article number
	Supplier     string      `json:"supplier,omitempty"` // ID
	UsedFor      string      `json:"used_for,omitempty"`
	Note         string      `json:"note,omitempty"`
	RuleSet      ghs.RuleSet `json:"rule_set,omitempty"`      // to judge its sheets by; "" as the sheet appears to be written
	ReviewMonths int         `json:"review_months,omitempty"` // how often its sheet is looked at again; 0 as the settings say
	ReviewDue    string      `json:"review_due,omitempty"`    // day; "" when none is set
	Parts        []Part      `json:"parts,omitempty"`         // of a kit; empty for a product in one tin
	PartsBy      string      `json:"parts_by,omitempty"`      // "mass" or "volume"
	Sheet        string      `json:"sheet,omitempty"`         // ID of the revision in force; "" when it has no sheet. Set by the shelf

	folded string
}

func (p *Product) kind() Kind       { return ProductKind }
func (p *Product) table() string    { return "products" }
func (p *Product) title() string    { return p.Name }
func (p *Product) searched() string { return joined(p.Code, p.UsedFor, p.Note) }
func (p *Product) columns() []column {
	return []column{
		{"name", text{&p.Name}}, {"folded", text{&p.folded}}, {"code", text{&p.Code}}, {"supplier_id", ref{&p.Supplier}}, {"used_for", text{&p.UsedFor}},
		{"note", text{&p.Note}}, {"rule_set", words[ghs.RuleSet]{&p.RuleSet}}, {"review_months", whole[int]{&p.ReviewMonths}},
		{"review_due", text{&p.ReviewDue}}, {"parts", asJSON[[]Part]{&p.Parts}}, {"parts_by", text{&p.PartsBy}}, {"sheet_id", ref{&p.Sheet}},
	}
}
func (p *Product) check() error {
	p.folded = folded(p.Name)
	if err := named("product", p.Name); err != nil {
		return err
	}
	if p.RuleSet != "" && !p.RuleSet.Known() {
		return &Invalid{What: fmt.Sprintf("%q is no rule set.", p.RuleSet), Do: "Choose one of the rule sets this program knows, or none."}
	}
	if p.ReviewMonths < 0 || p.ReviewMonths > 1200 {
		return &Invalid{What: fmt.Sprintf("A review every %d months cannot be planned.", p.ReviewMonths), Do: "Give a number of months from 1 to 1200, or 0 for the usual one."}
	}
	if err := day("The review date", p.ReviewDue); err != nil {
		return err
	}
	if len(p.Parts) == 0 {
		p.PartsBy = ""
		return nil
	}
	if len(p.Parts) == 1 {
		return &Invalid{What: "A kit has one part only.", Do: "Name at least two parts, or none for a product in one tin."}
	}
	for _, part := range p.Parts {
		if part.Product == p.ID && p.ID != "" {
			return &Invalid{What: "The kit would be a part of itself.", Do: "Choose the products in its tins as parts."}
		}
		if !(part.Parts > 0 && part.Parts < 1e6) {
			return &Invalid{What: fmt.Sprintf("%v is no share of a mix.", part.Parts), Do: "Give each part a number greater than 0, such as 100 and 45."}
		}
	}
	return oneOf("way to measure a mix", p.PartsBy, "mass", "volume")
}

// partsExist fails when a part is not on the shelf or is itself a kit.
func (x *change) partsExist(ctx context.Context, p *Product) error {
	for _, part := range p.Parts {
		of, err := load[Product](ctx, x, part.Product)
		if err != nil {
			return err
		}
		if len(of.Parts) > 0 {
			return &Invalid{What: of.Name + " is a kit itself.", Do: "Choose the products in its tins as parts."}
		}
	}
	return nil
}

// AddProduct puts a product or a kit on the shelf.
func (s *Shelf) AddProduct(ctx context.Context, by string, p Product) (Product, error) {
	p.Sheet = ""
	err := s.change(ctx, by, func(x *change) error {
		if err := x.partsExist(ctx, &p); err != nil {
			return err
		}
		return x.insert(ctx, &p, "")
	})
	return p, err
}

// Product is one product. It fails with ErrNotFound.
func (s *Shelf) Product(ctx context.Context, id string) (Product, error) {
	return load[Product](ctx, s, id)
}

// EditProduct keeps a changed product. It fails with ErrNotFound, *Conflict and *Invalid.
func (s *Shelf) EditProduct(ctx context.Context, by string, p Product) (Product, error) {
	return edit(ctx, s, by, p, func(x *change, t, old *Product) error {
		t.Sheet = old.Sheet
		return x.partsExist(ctx, t)
	})
}

// RetireProduct takes a product off the lists, with the reason. The product, its sheets and where it stood stay on the shelf.
func (s *Shelf) RetireProduct(ctx context.Context, by, id, why string) error {
	return retire[Product](ctx, s, by, id, why, exposureNote)
}

// RestoreProduct puts a retired product back on the lists.
func (s *Shelf) RestoreProduct(ctx context.Context, by, id string) error {
	return restore[Product](ctx, s, by, id)
}

// Reviewed records that a person looked at the product's sheet today and sets the next date.
func (s *Shelf) Reviewed(ctx context.Context, by, id, note string) (Product, error) {
	settings, err := s.Settings(ctx)
	if err != nil {
		return Product{}, err
	}
	var p Product
	err = s.change(ctx, by, func(x *change) error {
		old, err := load[Product](ctx, x, id)
		if err != nil {
			return err
		}
		p = old
		p.ReviewDue = nextReview(x.now, p.ReviewMonths, settings.ReviewMonths)
		return x.update(ctx, "reviewed", &p, &old, note)
	})
	return p, err
}

func nextReview(from time.Time, months, usual int) string {
	if months == 0 {
		months = usual
	}
	if months == 0 {
		return ""
	}
	return from.AddDate(0, months, 0).Format(time.DateOnly)
}

// KitsWith lists the kits that a product is a part of.
func (s *Shelf) KitsWith(ctx context.Context, product string) ([]Product, error) {
	return loadAll[Product](ctx, s, `WHERE t.retired = '' AND t.id IN (SELECT l.product_id FROM listed l WHERE l.kit = 1) AND t.parts LIKE ? ESCAPE '\' ORDER BY t.folded, t.id`, `%"product":"`+escapeLike(product)+`"%`)
}

// ProductOrder is the order of a list of products.
type ProductOrder string

// Orders of products.
const (
	ByName     ProductOrder = "name"
	ByChange   ProductOrder = "change" // last changed first
	ByWorst    ProductOrder = "worst"  // most contradictions first, then gaps
	ByReview   ProductOrder = "review" // due first
	ByOldest   ProductOrder = "oldest" // oldest sheet first
	BySupplier ProductOrder = "supplier"
)

// ProductFilter selects products for a list. Zero fields select all that are not retired.
type ProductFilter struct {
	Text          string // words of the name, code, supplier or sheet; spelling mistakes are forgiven. The best come first when Order is ""
	Supplier      string // ID
	Place         string // ID: products that stand there
	SignalWord    ghs.SignalWord
	Pictogram     ghs.Pictogram
	Statement     ghs.Code // H code of the sheet in force
	Flammable     bool     // liquids, gases, solids and aerosols that burn
	RuleSet       ghs.RuleSet
	State         State  // of the newest sheet: waiting, reading, failed, …; "none" for products in one tin without any sheet
	Contradictory bool   // the sheet in force has contradictions
	DueBy         string // day: review due on or before
	Kits          bool   // kits only
	Retired       bool   // the retired ones in place of the others
	Order         ProductOrder
	Paging
}

// ProductLine is one line of a list of products.
type ProductLine struct {
	Product
	SupplierName  string   `json:"supplier_name,omitempty"`
	InForce       *Summary `json:"in_force,omitempty"` // of the sheet in force; nil when there is none
	OpenQuestions int      `json:"open_questions"`
	Waiting       int      `json:"waiting"` // sheets being read or waiting to be
}

// Products lists products with what a list shows of their sheets. Which ones, and in which order, comes from the narrow rows of
// listed; only those of the page are read whole.
func (s *Shelf) Products(ctx context.Context, f ProductFilter) (Page[ProductLine], error) {
	page := Page[ProductLine]{Items: []ProductLine{}}
	ids, total, err := s.productIDs(ctx, f)
	if err != nil {
		return page, err
	}
	page.Total = total
	page.Items, err = s.productLines(ctx, ids)
	return page, err
}

// productIDs are the products of one page in its order, and how many there are on all pages.
func (s *Shelf) productIDs(ctx context.Context, f ProductFilter) (ids []string, total int, err error) {
	where, rank, err := s.productConditions(ctx, f)
	if err != nil {
		return nil, 0, err
	}
	limit, offset := f.bounds()
	if f.Order == "" && rank != nil { // all that was found is at most a few pages
		if ids, err = s.column(ctx, "SELECT t.product_id FROM listed t"+where.sql(), where.args...); err != nil {
			return nil, 0, err
		}
		place, _ := numbered(rank)
		slices.SortFunc(ids, func(a, b string) int { return place[a] - place[b] })
		return ids[min(offset, len(ids)):min(offset+limit, len(ids))], len(ids), nil
	}
	if total, err = s.countProducts(ctx, where); err != nil || total <= offset {
		return nil, total, err
	}
	ids, err = s.column(ctx, "SELECT t.product_id FROM listed t"+where.sql()+" ORDER BY "+productOrder(f.Order)+" LIMIT ? OFFSET ?", append(where.args, limit, offset)...)
	return ids, total, err
}

// countProducts is how many products fit. How many there are in all is kept, so that an unfiltered list counts nothing.
func (s *Shelf) countProducts(ctx context.Context, where conditions) (n int, err error) {
	switch where.sql() {
	case " WHERE t.retired = 0":
		return s.tallied(ctx, productTally)
	case " WHERE t.retired = 1":
		return s.tallied(ctx, retiredTally)
	}
	err = s.row(ctx, "SELECT COUNT(*) FROM listed t"+where.sql(), where.args...).Scan(&n)
	return n, err
}

// ProductName is a product by its name, to choose from.
type ProductName struct {
	ID, Name string
	Kit      bool
}

// ProductNames lists the products that Products would, by their names only.
func (s *Shelf) ProductNames(ctx context.Context, f ProductFilter) (Page[ProductName], error) {
	page := Page[ProductName]{Items: []ProductName{}}
	ids, total, err := s.productIDs(ctx, f)
	page.Total = total
	if err != nil || len(ids) == 0 {
		return page, err
	}
	at, args := numbered(ids)
	rows, err := s.rows(ctx, "SELECT product_id, name, kit FROM listed WHERE product_id IN (?"+strings.Repeat(", ?", len(ids)-1)+")", args...)
	if err != nil {
		return page, err
	}
	defer rows.Close()
	page.Items = make([]ProductName, len(ids))
	for rows.Next() {
		var p ProductName
		var kit int
		if err := rows.Scan(&p.ID, &p.Name, &kit); err != nil {
			return page, err
		}
		p.Kit = kit == 1
		page.Items[at[p.ID]] = p
	}
	return page, rows.Err()
}

// numbered are IDs with the place of each, and as the values of a query.
func numbered(ids []string) (at map[string]int, args []any) {
	at, args = map[string]int{}, make([]any, len(ids))
	for i, id := range ids {
		at[id], args[i] = i, id
	}
	return at, args
}

// productLines reads the lines of products in the given order.
func (s *Shelf) productLines(ctx context.Context, ids []string) ([]ProductLine, error) {
	lines := make([]ProductLine, len(ids))
	if len(ids) == 0 {
		return lines, nil
	}
	at, args := numbered(ids)
	var head ProductLine
	var sum Summary
	rows, err := s.rows(ctx, "SELECT "+selected(&head.Product, "t")+", COALESCE(u.name, ''), COALESCE(h.id, ''), "+sum.selected("h")+
		", (SELECT COUNT(*) FROM questions q WHERE q.product_id = t.id AND q.closed = '' AND q.retired = '')"+
		", (SELECT COUNT(*) FROM sheets w WHERE w.product_id = t.id AND w.retired = '' AND w.state IN ('waiting', 'reading'))"+
		" FROM products t LEFT JOIN sheets h ON h.id = t.sheet_id LEFT JOIN suppliers u ON u.id = t.supplier_id WHERE t.id IN (?"+strings.Repeat(", ?", len(ids)-1)+")", args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var l ProductLine
		var sum Summary
		var sheet string
		into := append(cells(all(&l.Product)), &l.SupplierName, &sheet)
		into = append(append(into, cells(sum.columns())...), &l.OpenQuestions, &l.Waiting)
		if err := rows.Scan(into...); err != nil {
			return nil, err
		}
		if sheet != "" {
			l.InForce = &sum
		}
		lines[at[l.ID]] = l
	}
	return lines, rows.Err()
}

// column reads the texts of a query with one column.
func (s *Shelf) column(ctx context.Context, query string, args ...any) ([]string, error) {
	rows, err := s.rows(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var v string
		if err := rows.Scan(&v); err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}

// productConditions are the conditions of a filter, and the order of what was found by its text.
func (s *Shelf) productConditions(ctx context.Context, f ProductFilter) (conditions, []string, error) {
	var w conditions
	if f.Retired {
		w.add("t.retired = 1")
	} else {
		w.add("t.retired = 0")
	}
	w.equal("t.supplier_id", f.Supplier)
	if f.SignalWord != ghs.NoSignalWord {
		w.equal("t.signal_word", f.SignalWord.String())
	}
	if f.Pictogram != ghs.NoPictogram {
		w.has("t.pictograms", f.Pictogram.String())
	}
	w.has("t.statements", string(f.Statement))
	w.equal("t.rule_set", string(f.RuleSet))
	if f.Place != "" {
		w.add("t.product_id IN (SELECT k.product_id FROM stock k WHERE k.place_id = ? AND k.retired = '')", f.Place)
	}
	if f.Flammable {
		w.add("t.flammable <> ''")
	}
	switch f.State {
	case "":
	case "none": // a product with a sheet in force has one
		w.add("t.kit = 0 AND t.sheet_id = '' AND NOT EXISTS (SELECT 1 FROM sheets n WHERE n.product_id = t.product_id AND n.retired = '')")
	default:
		w.add("t.product_id IN (SELECT n.product_id FROM sheets n WHERE n.state = ? AND n.retired = '')", string(f.State))
	}
	if f.Contradictory {
		w.add("t.contradictions > 0")
	}
	if f.DueBy != "" {
		w.add("t.review_order <= ?", f.DueBy)
	}
	if f.Kits {
		w.add("t.kit = 1")
	}
	if strings.TrimSpace(f.Text) == "" {
		return w, nil, nil
	}
	ids, err := s.productsFound(ctx, f.Text)
	if err != nil {
		return w, nil, err
	}
	_, args := numbered(ids)
	w.add("t.product_id IN (''"+strings.Repeat(", ?", len(ids))+")", args...)
	return w, ids, nil
}

func productOrder(order ProductOrder) string {
	switch order {
	case ByChange:
		return "t.seq DESC"
	case ByWorst:
		return "t.contradictions DESC, t.gaps DESC, t.folded, t.product_id"
	case ByReview:
		return "t.review_order, t.folded, t.product_id"
	case ByOldest:
		return "t.revision_date, t.folded, t.product_id"
	case BySupplier:
		return "t.supplier, t.folded, t.product_id"
	}
	return "t.folded, t.product_id"
}
