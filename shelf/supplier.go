package shelf

import (
	"context"

	"sixteen/ghs"
)

// Supplier is who sells a product and answers questions about its sheet.
type Supplier struct {
	Record
	Name      string   `json:"name"`
	Contact   string   `json:"contact,omitempty"` // the person or office that answers
	Email     string   `json:"email,omitempty"`
	Phone     string   `json:"phone,omitempty"`
	Emergency string   `json:"emergency,omitempty"` // emergency telephone
	Address   string   `json:"address,omitempty"`
	Language  ghs.Lang `json:"language,omitempty"` // letters are written in it; "" not known
	Note      string   `json:"note,omitempty"`

	folded string // Name as it is compared
}

func (p *Supplier) kind() Kind    { return SupplierKind }
func (p *Supplier) table() string { return "suppliers" }
func (p *Supplier) title() string { return p.Name }
func (p *Supplier) searched() string {
	return joined(p.Contact, p.Email, p.Phone, p.Address, p.Note)
}
func (p *Supplier) columns() []column {
	return []column{
		{"name", text{&p.Name}}, {"folded", text{&p.folded}}, {"contact", text{&p.Contact}}, {"email", text{&p.Email}}, {"phone", text{&p.Phone}},
		{"emergency", text{&p.Emergency}}, {"address", text{&p.Address}}, {"language", words[ghs.Lang]{&p.Language}}, {"note", text{&p.Note}},
	}
}
func (p *Supplier) check() error {
	p.folded = folded(p.Name)
	return named("supplier", p.Name)
}

// AddSupplier puts a supplier on the shelf.
func (s *Shelf) AddSupplier(ctx context.Context, by string, p Supplier) (Supplier, error) {
	return add(ctx, s, by, p)
}

// Supplier is one supplier. It fails with ErrNotFound.
func (s *Shelf) Supplier(ctx context.Context, id string) (Supplier, error) {
	return load[Supplier](ctx, s, id)
}

// EditSupplier keeps a changed supplier. It fails with ErrNotFound, *Conflict and *Invalid.
func (s *Shelf) EditSupplier(ctx context.Context, by string, p Supplier) (Supplier, error) {
	return edit(ctx, s, by, p, nil)
}

// RetireSupplier takes a supplier off the lists, with the reason. Nothing is lost.
func (s *Shelf) RetireSupplier(ctx context.Context, by, id, why string) error {
	return retire[Supplier](ctx, s, by, id, why, "")
}

// Suppliers lists the suppliers by name.
func (s *Shelf) Suppliers(ctx context.Context) ([]Supplier, error) {
	return loadAll[Supplier](ctx, s, "WHERE t.retired = '' ORDER BY t.folded, t.id")
}
