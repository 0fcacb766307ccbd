package shelf

import (
	"context"
	"fmt"
)

// Stock is how much of a product stands in a place, in containers of one sort.
type Stock struct {
	Record
	Product   string   `json:"product"`          // ID
	Place     string   `json:"place"`            // ID
	Amount    *float64 `json:"amount,omitempty"` // nil: not known
	Unit      string   `json:"unit"`             // one of Units
	Container string   `json:"container,omitempty"`
	Batch     string   `json:"batch,omitempty"`
	Opened    string   `json:"opened,omitempty"`  // day
	Expires   string   `json:"expires,omitempty"` // day
	Note      string   `json:"note,omitempty"`
}

// Units lists the units of amounts: litres, millilitres, kilograms, grams, and the gallons, quarts, fluid ounces, pounds and
// ounces of the United States.
func Units() []string { return []string{"l", "ml", "kg", "g", "gal", "qt", "fl oz", "lb", "oz"} }

// litres and kilograms per unit; the US units by their definitions (NIST Handbook 44, appendix C).
func unitOf(unit string) (factor float64, volume bool) {
	switch unit {
	case "l":
		return 1, true
	case "ml":
		return 1e-3, true
	case "gal":
		return 3.785411784, true
	case "qt":
		return 0.946352946, true
	case "fl oz":
		return 0.0295735295625, true
	case "kg":
		return 1, false
	case "g":
		return 1e-3, false
	case "lb":
		return 0.45359237, false
	case "oz":
		return 0.028349523125, false
	}
	return 0, false
}

func (p *Stock) kind() Kind       { return StockKind }
func (p *Stock) table() string    { return "stock" }
func (p *Stock) title() string    { return amountShown(p.Amount, p.Unit) }
func (p *Stock) searched() string { return "" }
func (p *Stock) columns() []column {
	return []column{
		{"product_id", ref{&p.Product}}, {"place_id", ref{&p.Place}}, {"amount", number{&p.Amount}}, {"unit", text{&p.Unit}}, {"container", text{&p.Container}},
		{"batch", text{&p.Batch}}, {"opened", text{&p.Opened}}, {"expires", text{&p.Expires}}, {"note", text{&p.Note}},
	}
}
func (p *Stock) check() error {
	if p.Product == "" || p.Place == "" {
		return &Invalid{What: "The product or the place is not named.", Do: "Choose a product and the place where it stands."}
	}
	if p.Amount != nil && !(*p.Amount >= 0 && *p.Amount < 1e9) {
		return &Invalid{What: fmt.Sprintf("%v is no amount.", *p.Amount), Do: "Give a number from 0 up, or leave it open when it is not known."}
	}
	if err := oneOf("unit", p.Unit, Units()...); err != nil {
		return err
	}
	if err := day("The day of opening", p.Opened); err != nil {
		return err
	}
	return day("The day of expiry", p.Expires)
}

func amountShown(amount *float64, unit string) string {
	if amount == nil {
		return "an unknown amount"
	}
	return fmt.Sprintf("%g %s", *amount, unit)
}

// AddStock records that an amount of a product stands in a place.
func (s *Shelf) AddStock(ctx context.Context, by string, p Stock) (Stock, error) {
	return add(ctx, s, by, p)
}

// StockOf is one amount. It fails with ErrNotFound.
func (s *Shelf) StockOf(ctx context.Context, id string) (Stock, error) {
	return load[Stock](ctx, s, id)
}

// EditStock keeps a changed amount, place or container. It fails with ErrNotFound, *Conflict and *Invalid.
func (s *Shelf) EditStock(ctx context.Context, by string, p Stock) (Stock, error) {
	return edit(ctx, s, by, p, nil)
}

// RetireStock records that it is used up or gone, with the reason.
func (s *Shelf) RetireStock(ctx context.Context, by, id, why string) error {
	return retire[Stock](ctx, s, by, id, why, exposureNote)
}

// StockFilter selects amounts. Zero fields select all that are there.
type StockFilter struct {
	Product string
	Place   string // exactly there, not in places within it
}

// Stock lists what stands where.
func (s *Shelf) Stock(ctx context.Context, f StockFilter) ([]Stock, error) {
	w := conditions{}
	w.add("t.retired = ''")
	w.equal("t.product_id", f.Product)
	w.equal("t.place_id", f.Place)
	return loadAll[Stock](ctx, s, w.sql()+" ORDER BY t.seq, t.id", w.args...)
}
